//! The rows of a legend.

use super::Sign;
use crate::geom::Point;
use crate::sheet::ComposeFault;
use crate::sheet::model::{Anchor, Group, Layer, Mark};
use crate::sheet::text::{self, Style};
use crate::units::Length;

/// The height of a sign's row in a legend.
pub const fn legend_height(sign: Sign) -> Length {
    match sign {
        Sign::KillCorner => Length::micrometres(7_000),
        _ => Length::micrometres(4_700),
    }
}

/// From the left of a legend to its words.
pub const LEGEND_TEXT: Length = Length::mm(14);

/// A row of a legend: the sign and what it means, from the row's top left corner.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn legend_row(sign: Sign) -> Result<Vec<Mark>, ComposeFault> {
    let middle = Length::nanometres(legend_height(sign).nm() / 2);
    let mut row = sign.sample(Point::new(Length::mm(6), middle))?;
    let baseline = Point::new(LEGEND_TEXT, middle + Style::BODY.caps.height() / 2);
    row.push(Mark::Text(text::set(sign.meaning(), baseline, Anchor::Start, Style::BODY)?));
    let title = format!("sign: {}", sign.meaning());
    Ok(vec![Mark::Group(Group { layer: Layer::Sheet, id: String::new(), title, marks: row })])
}
