//! The scale bar: it stays true when a sheet is printed larger or smaller than it was made.

use super::ComposeFault;
use super::mark::{filled, outline};
use super::model::{Anchor, Ink, Mark};
use super::pen;
use super::scale::Scale;
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::units::{Length, UnitSystem};

/// The height of the bar itself.
const BAR: Length = Length::micrometres(1_200);
/// White space between two values.
const CLEAR: Length = Length::micrometres(1_200);

/// A bar of alternating divisions, at most `longest` on paper, with its lower right end at `end` and
/// its values above.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn marks(
    scale: Scale,
    system: UnitSystem,
    longest: Length,
    end: Point,
) -> Result<Vec<Mark>, ComposeFault> {
    let divisions = scale.bar(system, longest);
    let whole = divisions[divisions.len() - 1];
    let start = end.x - scale.paper(whole);
    let x = |real: Length| start + scale.paper(real);
    let mut marks = Vec::new();
    for (n, pair) in divisions.windows(2).enumerate() {
        let cell = Rect::new(x(pair[0]), end.y - BAR, x(pair[1]), end.y);
        if n % 2 == 0 {
            marks.push(filled(cell, Ink::BLACK));
        }
        marks.push(outline(cell, pen::HAIRLINE));
    }
    let baseline = end.y - BAR - Length::micrometres(1_000);
    let half =
        |division: Length| Ok::<_, ComposeFault>(text::measure(&label(division, system), Style::BODY)? / 2);
    let last = x(whole) - half(whole)? - CLEAR;
    let mut taken = x(Length::ZERO) - half(Length::ZERO)?;
    for &division in &divisions {
        let text = label(division, system);
        let half = half(division)?;
        // On a short bar the divisions between its ends have no value where it would touch another.
        let between = division != whole && division != Length::ZERO;
        if between && (x(division) - half < taken || x(division) + half > last) {
            continue;
        }
        // The figure stands over its division. The unit is told once, at the zero, where it widens nothing.
        let unit = if division == Length::ZERO && system == UnitSystem::Millimetres { " mm" } else { "" };
        let at = Point::new(x(division) - half, baseline);
        let set = text::set(text + unit, at, Anchor::Start, Style::BODY)?;
        taken = at.x + set.width + CLEAR;
        marks.push(Mark::Text(set));
    }
    Ok(marks)
}

fn label(length: Length, system: UnitSystem) -> String {
    let foot = Length::feet(1);
    match system {
        UnitSystem::Millimetres => length.div_floor(Length::mm(1)).to_string(),
        _ if length == Length::ZERO => "0".to_owned(),
        _ if length.rem_euclid(foot) == Length::ZERO => format!("{}′", length.div_floor(foot)),
        _ => format!("{}″", length.div_floor(Length::inches(1))),
    }
}
