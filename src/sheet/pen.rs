//! The pens, by meaning: widths from ISO 128, thin to thick about 1:2 to 1:4.
//!
//! All ink is black or grey, and a grey never carries meaning by itself: every kind of line also
//! differs in width or dashes.

use super::model::{Ink, Pen};
use crate::units::Length;

const fn full(um: i64) -> Pen {
    Pen { width: Length::micrometres(um), ink: Ink::BLACK, dash: &[] }
}

const fn dashed(um: i64, dash: &'static [Length]) -> Pen {
    Pen { width: Length::micrometres(um), ink: Ink::BLACK, dash }
}

/// The outline of a wall, and the frame of the sheet.
pub const OUTLINE: Pen = full(700);
/// Openings and casings.
pub const OPENING: Pen = full(500);
/// Seams.
pub const SEAM: Pen = full(350);
/// White on both sides of a seam, so that it is seen on a picture of dark cloth: half the seam's pen at each side,
/// since to scale more would be a stripe of inches.
pub const SEAM_GROUND: Pen = Pen { width: Length::micrometres(700), ink: Ink::WHITE, dash: &[] };
/// The first and the last rule of a table, and the rule under its head.
pub const TABLE_RULE: Pen = full(350);
/// Rules between the rows of a table.
pub const HAIRLINE: Pen = full(180);
/// Fixings, mouldings, tick boxes and boxes round text.
pub const DETAIL: Pen = full(250);
/// Dimension lines, ticks and leaders.
pub const DIMENSION: Pen = full(180);
/// Pattern and hatching: thin and grey, so that it lies behind.
pub const PATTERN: Pen = Pen { width: Length::micrometres(180), ink: Ink(55), dash: &[] };
/// Staple lines: dotted.
pub const STAPLE: Pen = dashed(350, &[Length::micrometres(350), Length::micrometres(1_050)]);
/// Trim: dash-dot.
pub const TRIM: Pen = dashed(
    500,
    &[Length::mm(4), Length::micrometres(1_200), Length::micrometres(500), Length::micrometres(1_200)],
);
/// White on both sides of trim, for the same reason as at a seam.
pub const TRIM_GROUND: Pen = Pen { width: Length::micrometres(850), ink: Ink::WHITE, dash: &[] };
/// A plumb line or a centre line: long and short.
pub const PLUMB: Pen =
    dashed(250, &[Length::mm(7), Length::micrometres(1_200), Length::mm(2), Length::micrometres(1_200)]);
/// The cloud round a changed place, and the triangle of a revision.
pub const CLOUD: Pen = full(500);
/// What lies hidden: short dashes.
pub const HIDDEN: Pen = dashed(250, &[Length::mm(2), Length::mm(1)]);
/// A pipe or a cable behind the wall: a fine line. The crosses that stand along it tell it from every other line,
/// also on a poor printer.
pub const SERVICE: Pen = full(180);
/// Where a pair of scissors goes: cut lines of labels and of openings.
pub const CUT: Pen = dashed(250, &[Length::mm(4), Length::mm(2)]);
