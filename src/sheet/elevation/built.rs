//! What was really done on a wall, on its elevation of the record set.

use super::view::View;
use crate::geom::Point;
use crate::plan::model::BuiltEntry;
use crate::sheet::ComposeFault;
use crate::sheet::column::Section;
use crate::sheet::drawing::Drawing;
use crate::sheet::model::Layer;
use crate::sheet::sign::{self, Ends, Sign};
use crate::sheet::words;
use crate::units::Length;

/// How far from its place the tag of an entry may stand, the nearest first.
const AWAY: [i64; 6] = [5, 8, 11, 15, 20, 26];

/// The entries of the wall with their tags.
fn entries<'a>(view: &View<'a>) -> Vec<(String, &'a BuiltEntry)> {
    let own = view.plan.built.iter().filter(|entry| entry.wall == view.at);
    own.enumerate().map(|(n, entry)| (format!("b{}", n + 1), entry)).collect()
}

/// Tags at the places of the entries.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn tags(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    for (tag, entry) in entries(view) {
        let Some(at) = entry.at.filter(|at| view.shows(at.x)) else { continue };
        let at = view.map.point(at);
        let near = AWAY.into_iter().flat_map(|away| {
            let ways = [(1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1)];
            ways.map(|(x, y)| Point::new(at.x + Length::mm(away * x), at.y + Length::mm(away * y)))
        });
        let mut places = Vec::new();
        for place in std::iter::once(at).chain(near) {
            let (_, area) = sign::tag(place, &tag, Ends::Square, false)?;
            if !drawing.has_text(area) {
                places.push(place);
            }
        }
        if drawing.tag_at(Layer::Changes, &tag, Ends::Square, &places)?.is_some() {
            drawing.signs.insert(Sign::BuiltTag);
        }
    }
    Ok(())
}

/// The entries in words.
pub fn section(view: &View) -> Section {
    let mut section = Section::new("As built");
    for (tag, entry) in entries(view) {
        let planned =
            if entry.planned.is_empty() { String::new() } else { format!("; planned: {}", entry.planned) };
        let why =
            if entry.why.is_empty() { String::new() } else { format!(". {}", words::sentence(&entry.why)) };
        section.pair(tag, format!("{}: {}{planned}{why}", entry.what, entry.built));
    }
    section
}
