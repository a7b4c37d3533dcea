//! Corner details: sections in plan through the kinds of corner that a room has, as this job makes
//! them, at a large standard scale.
//!
//! Loft, cord, carry, wrap and fold are to scale. Cloth is a line, and layers that lie on one
//! another are drawn a little apart, or they would be one line.

mod section;
mod sketch;

use super::column::Section;
use super::drawing::Drawing;
use super::model::{Anchor, Layer, Mark};
use super::pack::{self, Item, Page};
use super::plate::{self, Plate};
use super::scale::{Scale, detail};
use super::text::{self, Style};
use super::{ComposeFault, Draft, Part, frame};
use crate::geom::{Point, Rect};
use crate::job::model::{CornerKind, Paper, Side, TrimKind};
use crate::plan::corners::Meeting;
use crate::plan::model::{PanelEdge, Plan};
use crate::units::Length;
use sketch::{PartOf, Sketch};

/// A detail is not drawn smaller than 1 to this when another sheet is the price.
const LEAST_SIZE: i64 = 2;

/// How far the panels of an outside corner go beyond it, lean included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Turned {
    /// The one that goes round.
    round: Length,
    /// What is folded under of the other.
    fold: Length,
}

/// The kinds of corner that are made differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    /// The walls that are clothed: that at its left, that at its right.
    Inside {
        left: bool,
        right: bool,
    },
    Outside {
        wraps_right: bool,
        bead: bool,
        turned: Turned,
    },
    FreeEnd {
        at_left: bool,
    },
}

impl Kind {
    /// How a corner of a room is made; `None` where neither of its walls is clothed.
    fn of(plan: &Plan, room: usize, corner: usize) -> Option<Kind> {
        let at = Meeting::at(&plan.job.rooms[room], corner);
        let panel = |wall: Option<usize>| plan.rooms[room].walls[wall?].panel.as_ref();
        let beyond = |edge: Option<PanelEdge>| edge.map_or(Length::ZERO, |edge| edge.allowance);
        let left_end = beyond(panel(at.left).map(|panel| panel.right));
        let right_end = beyond(panel(at.right).map(|panel| panel.left));
        let corner = at.corner;
        let (left, right) = (at.left.is_some(), at.right.is_some());
        Some(match (corner.kind, left, right) {
            (_, false, false) => return None,
            (CornerKind::Inside, ..) => Kind::Inside { left, right },
            (CornerKind::Outside, true, true) => {
                let (round, fold) = match corner.wraps {
                    Side::Left => (left_end, right_end),
                    Side::Right => (right_end, left_end),
                };
                let wraps_right = corner.wraps == Side::Right;
                Kind::Outside { wraps_right, bead: corner.metal_bead, turned: Turned { round, fold } }
            }
            (CornerKind::Outside | CornerKind::FreeEnd, ..) => Kind::FreeEnd { at_left: right },
        })
    }

    fn title(self) -> &'static str {
        match self {
            Kind::Inside { left: true, right: true } => "Inside corner",
            Kind::Inside { left: true, .. } => "Inside corner, the right wall bare",
            Kind::Inside { .. } => "Inside corner, the left wall bare",
            Kind::Outside { wraps_right: false, .. } => "Outside corner, left panel goes round",
            Kind::Outside { wraps_right: true, .. } => "Outside corner, right panel goes round",
            Kind::FreeEnd { at_left: true } => "Free end at the left",
            Kind::FreeEnd { at_left: false } => "Free end at the right",
        }
    }
}

/// The corner details of the job.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let kinds = kinds(plan);
    let free = frame::free(paper);
    let system = plan.job.print.format.system;
    let (scale, pages) = laid(plan, &kinds, plate::drawing_area(free, 1).grown(-Length::mm(2)))?;
    let under = format!("Seen from above, {}", scale.name);
    let count = pages.len();
    let mut drafts = Vec::new();
    for (n, page) in pages.into_iter().enumerate() {
        let sections = sections(plan, page.members.iter().map(|&member| kinds[member].0));
        let composed = Plate {
            rest_in: None,
            drawing: page.drawing,
            sections: &sections,
            reading: &[],
            title: ("Corner details", &under),
            scale: (scale, system),
        }
        .compose(free)?;
        drafts.push(Draft {
            key: if n == 0 { "corner-details".to_owned() } else { format!("corner-details-{}", n + 1) },
            title: "Corner details".to_owned(),
            part: Part { number: n + 1, count },
            under: String::new(),
            description: "Sections through the kinds of corner, with batting, cloth, staples and trim."
                .to_owned(),
            kind: "Detail",
            scale: scale.name.to_owned(),
            also: Vec::new(),
            marks: composed.marks.into(),
        });
    }
    Ok(drafts)
}

/// The details on the fewest sheets at half size or larger, at the largest such scale; or else at the
/// largest at which each fits.
fn laid(plan: &Plan, kinds: &[(Kind, Vec<String>)], area: Rect) -> Result<(Scale, Vec<Page>), ComposeFault> {
    let scales = detail(plan.job.print.format.system);
    let mut best: Option<(Scale, Vec<Page>)> = None;
    for &scale in scales {
        let mut items = Vec::new();
        for (n, (kind, names)) in kinds.iter().enumerate() {
            items.push(Item::new(drawn(plan, n + 1, *kind, names, scale)?));
        }
        if !items.iter().all(|item| item.fits(area)) {
            continue;
        }
        let pages = pack::pages(&items, area, items.len().max(1));
        match &best {
            Some((_, fewest)) if scale.den > LEAST_SIZE || pages.len() >= fewest.len() => {}
            _ => best = Some((scale, pages)),
        }
    }
    Ok(best.unwrap_or((scales[scales.len() - 1], Vec::new())))
}

/// The kinds of corner of the job where cloth meets or ends, each with the names of its corners.
fn kinds(plan: &Plan) -> Vec<(Kind, Vec<String>)> {
    let mut kinds: Vec<(Kind, Vec<String>)> = Vec::new();
    for (at, room) in plan.job.rooms.iter().enumerate() {
        for (index, corner) in room.corners.iter().enumerate() {
            let Some(kind) = Kind::of(plan, at, index) else { continue };
            let name = if plan.job.rooms.len() > 1 {
                format!("{} {}", room.name, corner.name)
            } else {
                corner.name.clone()
            };
            match kinds.iter_mut().find(|(other, _)| *other == kind) {
                Some((_, names)) => names.push(name),
                None => kinds.push((kind, vec![name])),
            }
        }
    }
    kinds.sort_by_key(|(kind, _)| *kind);
    kinds
}

fn drawn(
    plan: &Plan,
    number: usize,
    kind: Kind,
    names: &[String],
    scale: Scale,
) -> Result<Drawing, ComposeFault> {
    let mirrored = matches!(kind, Kind::Outside { wraps_right: true, .. });
    let mut sketch = Sketch { job: &plan.job, scale, drawing: Drawing::default() };
    match kind {
        Kind::Inside { left, right } => section::inside(&mut sketch, left, right)?,
        Kind::Outside { bead, turned, .. } => {
            section::outside(&mut sketch, mirrored, (bead, turned), number)?
        }
        Kind::FreeEnd { at_left } => section::free_end(&mut sketch, at_left)?,
    }
    let mut drawing = sketch.drawing.finish();
    let extent = drawing.extent();
    let middle = (extent.x0 + extent.x1) / 2;
    let mut y = extent.y1 + Length::mm(6);
    let title = text::set(kind.title(), Point::new(middle, y), Anchor::Middle, Style::STRONG)?;
    let mut lines = vec![Mark::Text(title)];
    let heading = if names.len() == 1 { "Corner" } else { "Corners" };
    let listed = format!("{heading} {}", names.join(", "));
    for words in text::wrap(&listed, extent.width().max(Length::mm(50)), Style::BODY)? {
        y += Style::BODY.leading();
        lines.push(Mark::Text(text::set(words, Point::new(middle, y), Anchor::Middle, Style::BODY)?));
    }
    drawing.group(Layer::Sheet, "", kind.title(), lines);
    Ok(drawing)
}

/// The key of the numbers, and what the sections leave out.
fn sections(plan: &Plan, kinds: impl Iterator<Item = Kind>) -> Vec<Section> {
    let mut used = vec![PartOf::Wall, PartOf::Batting, PartOf::Panel, PartOf::Staple];
    let mut bead_used = false;
    let mut folds = false;
    for kind in kinds {
        match kind {
            Kind::Inside { left, right } => {
                used.push(PartOf::Trim);
                if left && right {
                    used.push(PartOf::OtherPanel);
                }
            }
            Kind::Outside { bead, .. } => {
                used.extend([PartOf::OtherPanel, PartOf::Tape, PartOf::Adhesive]);
                folds = true;
                bead_used |= bead;
            }
            Kind::FreeEnd { .. } => used.push(PartOf::Trim),
        }
    }
    if bead_used {
        used.push(PartOf::Bead);
    }
    if plan.job.trims.corner.kind == TrimKind::None {
        used.retain(|&part| part != PartOf::Trim);
    }
    used.sort();
    used.dedup();
    let mut key = Section::new("Parts");
    for part in used {
        key.pair(part.number(), part.words(plan));
    }
    let mut notes = Section::new("Notes");
    notes.text("Each step, with its staples, stands in the corner schedule.");
    if folds {
        notes.text("Layers of cloth are drawn apart; on the wall they lie on one another.");
    }
    vec![key, notes]
}
