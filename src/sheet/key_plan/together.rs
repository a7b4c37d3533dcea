//! The key plans of a job's rooms on one sheet, at one scale, where all their notes find room beside them: a sheet
//! for each small room would be nearly empty.

use super::{BREATH, KIND, drawn, notes};
use crate::geom::Point;
use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::sheet::column::Section;
use crate::sheet::model::{Anchor, Layer, Mark};
use crate::sheet::pack::{self, Item};
use crate::sheet::plate::{self, Plate};
use crate::sheet::scale::standard;
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, Draft, Part, frame, words};
use crate::units::Length;

/// So many rooms may share a sheet.
const MOST_ROOMS: usize = 4;
/// Plans at 1:n with a greater n than this are too small to find a wall on.
const SMALLEST: i64 = 64;
/// The notes stand in at most so many columns.
const MOST_COLUMNS: i64 = 3;
/// From a plan's lowest mark to the baseline of its room's name.
const NAME_DROP: Length = Length::micrometres(8_000);

/// The key plans of all rooms on one sheet; `None` for a single room, and where they do not fit.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn draft(plan: &Plan, paper: Paper) -> Result<Option<Draft>, ComposeFault> {
    let rooms = plan.rooms.len();
    if !(2..=MOST_ROOMS).contains(&rooms) {
        return Ok(None);
    }
    let free = frame::free(paper);
    let system = plan.job.print.format.system;
    let sections = sections(plan);
    for &scale in standard(system).iter().filter(|scale| scale.den <= SMALLEST) {
        let items: Vec<Item> =
            (0..rooms).map(|index| item(plan, index, scale)).collect::<Result<_, ComposeFault>>()?;
        for columns in 1..=MOST_COLUMNS {
            let area = plate::drawing_area(free, columns).grown(-BREATH);
            if !items.iter().all(|item| item.fits(area)) {
                break;
            }
            let mut pages = pack::pages(&items, area, rooms);
            let (Some(page), true) = (pages.pop(), pages.is_empty()) else { continue };
            let composed = Plate {
                rest_in: None,
                drawing: page.drawing,
                sections: &sections,
                reading: &[],
                title: ("Key plans", &format!("Seen from above, {}", scale.name)),
                scale: (scale, system),
            }
            .compose(free)?;
            if composed.rest.is_empty() {
                let names: Vec<&str> = plan.job.rooms.iter().map(|room| room.name.as_str()).collect();
                return Ok(Some(Draft {
                    key: "key-plan-1".to_owned(),
                    title: "Key plans".to_owned(),
                    part: Part::WHOLE,
                    under: String::new(),
                    description: format!(
                        "{} seen from above: walls from left to right, corners, openings and the order of panels at \
                         outside corners.",
                        words::capital(&words::list(&names))
                    ),
                    kind: KIND,
                    scale: scale.name.to_owned(),
                    also: (1..rooms).map(|index| format!("key-plan-{}", index + 1)).collect(),
                    marks: composed.marks.into(),
                }));
            }
        }
    }
    Ok(None)
}

/// A room's plan with its name under it.
fn item(plan: &Plan, index: usize, scale: crate::sheet::scale::Scale) -> Result<Item, ComposeFault> {
    let mut drawing = drawn(plan, index, scale)?;
    // Walls and corners of two rooms may have the same names.
    own_ids(&mut drawing.marks, index + 1);
    let extent = drawing.extent();
    let name = words::capital(&plan.job.rooms[index].name);
    let at = Point::new((extent.x0 + extent.x1) / 2, extent.y1 + NAME_DROP);
    let set = text::set(name.as_str(), at, Anchor::Middle, Style::HEAD)?;
    drawing.group(Layer::Sheet, "", name, vec![Mark::Text(set)]);
    Ok(Item::new(drawing))
}

/// Lets the ids of groups tell the room as well.
fn own_ids(marks: &mut [Mark], room: usize) {
    for mark in marks {
        match mark {
            Mark::Group(group) => {
                if !group.id.is_empty() {
                    group.id = format!("{}-room-{room}", group.id);
                }
                own_ids(&mut group.marks, room);
            }
            Mark::Clip { marks, .. } => own_ids(marks, room),
            _ => {}
        }
    }
}

/// The notes of all rooms, each headed by its room.
fn sections(plan: &Plan) -> Vec<Section> {
    let of_room = |index: usize| {
        let name = words::capital(&plan.job.rooms[index].name);
        notes::sections(plan, index).into_iter().enumerate().map(move |(n, section)| Section {
            title: if n == 0 { name.clone() } else { format!("{name}: {}", section.title.to_lowercase()) },
            ..section
        })
    };
    (0..plan.rooms.len()).flat_map(of_room).collect()
}
