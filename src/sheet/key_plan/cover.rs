//! The key plan as part of a cover: where the one room of a job finds room there, at a smaller scale,
//! it takes no sheet of its own.

use super::{drawn, notes};
use crate::geom::{Point, Rect};
use crate::plan::model::Plan;
use crate::sheet::document::{Figure, Section};
use crate::sheet::mark::moved;
use crate::sheet::scale::Scale;
use crate::sheet::{ComposeFault, plate, scale_bar};
use crate::units::Length;

/// Room under the plan for its scale bar.
const BAR_ROOM: Length = Length::mm(11);
/// The longest scale bar.
const LONGEST_BAR: Length = Length::mm(45);
/// Room for the words over and under the plan.
const WORDS: Length = Length::mm(25);
/// Room right of a scale bar for half of its last value.
const LAST_VALUE: Length = Length::mm(7);

/// The key plan of room `index` at a scale, its signs, and its notes as tables; `None` when it is larger
/// than `free`.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn sections(
    plan: &Plan,
    index: usize,
    scale: Scale,
    free: Rect,
) -> Result<Option<Vec<Section>>, ComposeFault> {
    let drawing = drawn(plan, index, scale)?;
    let signs = plate::legend(&drawing)?;
    let area = drawing.extent();
    if area.width() > free.width() || area.height() + BAR_ROOM + WORDS > free.height() {
        return Ok(None);
    }
    let system = plan.job.print.format.system;
    let mut marks = moved(drawing.marks, -area.x0, -area.y0);
    let end = Point::new(LONGEST_BAR, area.height() + BAR_ROOM - Length::mm(1));
    marks.extend(scale_bar::marks(scale, system, LONGEST_BAR - LAST_VALUE, end)?);
    let mut seen = Section::new(format!("Key plan, {}", plan.job.rooms[index].name));
    seen.whole = true;
    seen.figure(Figure {
        width: area.width().max(LONGEST_BAR + LAST_VALUE),
        height: area.height() + BAR_ROOM,
        marks,
    });
    seen.paragraph(format!("Seen from above, {}.", scale.name));
    let mut all = vec![seen];
    for section in notes::sections(plan, index).into_iter().chain(signs) {
        all.push(section.listed());
    }
    Ok(Some(all))
}
