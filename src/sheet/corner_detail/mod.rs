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
use crate::job::model::{Corner, CornerKind, Job, Paper, Side, TrimKind};
use crate::plan::model::Plan;
use crate::units::Length;
use sketch::{PartOf, Sketch};

/// A detail is not drawn smaller than 1 to this when another sheet is the price.
const LEAST_SIZE: i64 = 2;

/// The kinds of corner that are made differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Inside,
    Outside { wraps_right: bool, bead: bool },
    FreeEnd { at_left: bool },
}

impl Kind {
    fn of(corner: &Corner, first: bool) -> Kind {
        match corner.kind {
            CornerKind::Inside => Kind::Inside,
            CornerKind::Outside => {
                Kind::Outside { wraps_right: corner.wraps == Side::Right, bead: corner.metal_bead }
            }
            CornerKind::FreeEnd => Kind::FreeEnd { at_left: first },
        }
    }

    fn title(self) -> &'static str {
        match self {
            Kind::Inside => "Inside corner",
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
    let kinds = kinds(&plan.job);
    let free = frame::free(paper);
    let system = plan.job.print.format.system;
    let (scale, pages) = laid(plan, &kinds, plate::drawing_area(free, 1).grown(-Length::mm(2)))?;
    let under = format!("Seen from above, {}", scale.name);
    let count = pages.len();
    let mut drafts = Vec::new();
    for (n, page) in pages.into_iter().enumerate() {
        let sections = sections(plan, page.members.iter().map(|&member| kinds[member].0));
        let composed = Plate {
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
        for (kind, names) in kinds {
            items.push(Item::new(drawn(plan, *kind, names, scale)?));
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
fn kinds(job: &Job) -> Vec<(Kind, Vec<String>)> {
    let mut kinds: Vec<(Kind, Vec<String>)> = Vec::new();
    for room in &job.rooms {
        for (index, corner) in room.corners.iter().enumerate() {
            let count = room.walls.len();
            let clothed = |wall: usize| room.walls.get(wall).is_some_and(|wall| wall.clothed);
            let before = if index > 0 { clothed(index - 1) } else { room.closed && clothed(count - 1) };
            if !before && !clothed(index) {
                continue;
            }
            let kind = Kind::of(corner, index == 0);
            let name = if job.rooms.len() > 1 {
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

fn drawn(plan: &Plan, kind: Kind, names: &[String], scale: Scale) -> Result<Drawing, ComposeFault> {
    let mirrored = matches!(kind, Kind::Outside { wraps_right: true, .. });
    let mut sketch = Sketch { job: &plan.job, scale, drawing: Drawing::default() };
    match kind {
        Kind::Inside => section::inside(&mut sketch)?,
        Kind::Outside { bead, .. } => section::outside(plan, &mut sketch, mirrored, bead)?,
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
            Kind::Inside => used.extend([PartOf::OtherPanel, PartOf::Trim]),
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
