//! Sheet sizes, all lying landscape, and the frame drawn on them.

use crate::geom::Rect;
use crate::job::model::Paper;
use crate::units::Length;

/// Margin on the left, where the sheets are bound (ISO 5457).
pub const FILING_MARGIN: Length = Length::mm(20);
/// Margin on the other three sides (ISO 5457).
pub const MARGIN: Length = Length::mm(10);

/// The width and height of a sheet lying landscape: letter and tabloid are ASME Y14.1 A and B,
/// A4 and A3 are ISO 216, 12 by 18 in is architectural size B (from memory).
pub const fn size(paper: Paper) -> (Length, Length) {
    match paper {
        Paper::Letter => (Length::inches(11), Length::inch_64ths(17 * 32)),
        Paper::Tabloid => (Length::inches(17), Length::inches(11)),
        Paper::ArchB => (Length::inches(18), Length::inches(12)),
        Paper::A4 => (Length::mm(297), Length::mm(210)),
        Paper::A3 => (Length::mm(420), Length::mm(297)),
    }
}

/// The frame: the sheet without its margins.
pub fn frame(paper: Paper) -> Rect {
    let (width, height) = size(paper);
    Rect::new(FILING_MARGIN, MARGIN, width - MARGIN, height - MARGIN)
}
