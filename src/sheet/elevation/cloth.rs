//! The cloth on an elevation: strips with the pattern in phase, seams, the plumb line.

use super::view::View;
use crate::geom::{Point, Rect};
use crate::job::model::Lattice;
use crate::plan::model::{PlumbMark, Way};
use crate::sheet::ComposeFault;
use crate::sheet::drawing::Drawing;
use crate::sheet::extent;
use crate::sheet::lattice;
use crate::sheet::mark::{line, upright};
use crate::sheet::model::{Layer, Mark, Reader};
use crate::sheet::panel_edges;
use crate::sheet::pen;
use crate::sheet::sign::{self, Ends, Sign};
use crate::sheet::text::{self, Style};
use crate::sheet::tiles;
use crate::units::Length;

/// The strips, each a group with the pattern clipped to it.
pub fn strips(view: &View, drawing: &mut Drawing) {
    let Some(panel) = &view.wall_plan().panel else { return };
    for strip in &panel.strips {
        let Some((x0, x1)) = view.clip_cloth(strip.net.x0, strip.net.x1) else { continue };
        let marks = pattern(view, Rect { x0, x1, ..strip.net }, drawing);
        let title = format!("strip {}", strip.label);
        drawing.group(Layer::Cloth, format!("strip-{}", strip.label), title, marks);
    }
    if view.reader == Reader::Workroom {
        let (cut, _) = panel_edges::edges(&panel_edges::areas(view.plan, panel));
        let marks =
            cut.into_iter().map(|(a, b)| line(view.map.point(a), view.map.point(b), pen::CUT)).collect();
        drawing.group(Layer::Cloth, view.id("panel-cut"), "cut edge of the sewn panel", view.kept(marks));
        drawing.signs.insert(Sign::Beyond);
    }
}

/// The motifs of one strip, clipped to the cloth in sight.
fn pattern(view: &View, area: Rect, drawing: &mut Drawing) -> Vec<Mark> {
    let clip = view.cloth_between(area.x0, area.x1);
    let cloth = &view.plan.job.cloths[view.room().cloth];
    let mut marks = Vec::new();
    if let (Some(lattice), Some(picture), Reader::Approval) = (&cloth.pattern, &cloth.picture, view.reader) {
        let registration = &view.room_plan().registration;
        marks.extend(tiles::marks(picture, lattice, registration, view.wall_plan().x, &view.map, area));
    } else if let Some(lattice) = &cloth.pattern {
        let centres = lattice::centres(lattice, &view.room_plan().registration, view.wall_plan().x, area);
        let (across, up) = sign_repeat(view, lattice);
        let lies = lattice::lies(view.plan, view.room().cloth);
        let mark = match view.reader {
            Reader::Approval | Reader::Costs => {
                let height = approved_height(across, up);
                let inner = sign::motif(Point::default(), height.scale(11, 20), lies);
                sign::motif(Point::default(), height, lies).into_iter().chain(inner).collect()
            }
            Reader::Crew | Reader::Workroom | Reader::Record => {
                let height = (across.min(up) / 3).clamp(Length::micrometres(1_200), Length::mm(5));
                sign::motif(Point::default(), height, lies)
            }
        };
        let places: Vec<Point> = centres.into_iter().map(|p| view.map.point(p)).collect();
        if let Some(extent) = extent::of(&mark) {
            let at =
                |p: &Point| Rect::new(p.x + extent.x0, p.y + extent.y0, p.x + extent.x1, p.y + extent.y1);
            places.iter().for_each(|place| drawing.shun(at(place)));
        }
        if !places.is_empty() {
            drawing.signs.insert(Sign::of_motif(lies));
            marks.push(Mark::Stamp { marks: mark, places });
        }
    }
    // The clip stands even without a pattern: the strip's own outline is what a viewer selects.
    vec![Mark::Clip { path: clip, marks }]
}

/// A repeat on paper, across the sign of a motif and up it.
fn sign_repeat(view: &View, lattice: &Lattice) -> (Length, Length) {
    let (across, up) = (view.map.scale.paper(lattice.horizontal), view.map.scale.paper(lattice.vertical));
    // A motif that stands on railroaded cloth has the repeat across the bolt above it.
    let way = view.room_plan().registration.way;
    if way == Way::Railroaded && !lattice::lies(view.plan, view.room().cloth) {
        (up, across)
    } else {
        (across, up)
    }
}

/// How high the designer's sign of a motif is on paper, and whether it lies; `None` for plain cloth.
pub fn approved_sign(view: &View) -> Option<(Length, bool)> {
    let lattice = view.plan.job.cloths[view.room().cloth].pattern?;
    let lies = lattice::lies(view.plan, view.room().cloth);
    let (across, up) = sign_repeat(view, &lattice);
    Some((approved_height(across, up), lies))
}

/// How high the designer's sign of a motif is, from its repeat on paper across and up the sign: as large as a motif
/// may be, half the repeat up, without touching its neighbours.
pub fn approved_height(across: Length, up: Length) -> Length {
    (up / 2).min(across.scale(4, 5))
}

/// The strips' names at their feet, which the names of the seams are made of; none where one strip covers the wall.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a name.
pub fn strip_names(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let Some(panel) = view.wall_plan().panel.as_ref().filter(|panel| panel.strips.len() > 1) else {
        return Ok(());
    };
    let cloth = view.cloth();
    for strip in &panel.strips {
        let Some((x0, x1)) = view.clip(strip.net.x0, strip.net.x1) else { continue };
        let half = text::measure(&strip.label, Style::STRONG)? / 2;
        let (left, right) = (view.map.x(x0), view.map.x(x1));
        let middle = (left + right) / 2;
        let foot = view.map.y(view.wall().field_bottom().max_between(x0, x1).max(strip.net.y0));
        let aside = ((right - left) / 2 - half - Length::mm(1)).max(Length::ZERO);
        let mut places = Vec::new();
        for row in 1..12 {
            let y = foot - Length::micrometres(3_200) * row;
            places.extend([0, 1, -1].map(|side| Point::new(middle + aside * side, y)));
        }
        let ends = |p: &Point| [Point::new(p.x - half, p.y), Point::new(p.x + half, p.y)];
        places.retain(|p| ends(p).iter().all(|&end| cloth.holds(end)));
        drawing.tag_at(Layer::Cloth, &strip.label, Ends::None, &places)?;
    }
    Ok(())
}

/// Whether the cloth of a view is shown by its picture.
pub fn is_pictured(view: &View) -> bool {
    let cloth = &view.plan.job.cloths[view.room().cloth];
    view.reader == Reader::Approval && cloth.picture.is_some()
}

/// The seams and the plumb line.
pub fn seams(view: &View, drawing: &mut Drawing) {
    let Some(panel) = &view.wall_plan().panel else { return };
    for seam in panel.seams.iter().filter(|seam| view.shows_seam(seam.x)) {
        let x = view.map.x(seam.x);
        let mut marks = Vec::new();
        for &(low, high) in &seam.in_sight {
            let (top, foot) = (view.map.y(high), view.map.y(low));
            if is_pictured(view) {
                marks.push(upright(x, top, foot, pen::SEAM_GROUND));
            }
            marks.push(upright(x, top, foot, pen::SEAM));
        }
        if view.reader != Reader::Approval {
            let mut from = seam.y0;
            let ends = seam.in_sight.iter().copied().chain([(seam.y1, seam.y1)]);
            for (low, high) in ends {
                if from < low {
                    marks.push(upright(x, view.map.y(low), view.map.y(from), pen::HIDDEN));
                    drawing.signs.insert(Sign::HiddenSeam);
                }
                from = high;
            }
        }
        drawing.signs.insert(if is_pictured(view) { Sign::PicturedSeam } else { Sign::Seam });
        drawing
            .take(Rect::new(x, view.map.y(seam.y1), x, view.map.y(seam.y0)).grown(Length::micrometres(300)));
        drawing.group(Layer::Seams, format!("seam-{}", seam.label), format!("seam {}", seam.label), marks);
    }
    let plumb = view.wall_plan().plumb;
    if view.reader == Reader::Crew && view.shows(plumb) {
        let x = view.map.x(plumb);
        let tip = Point::new(x, view.map.y(view.bottom()) + super::dims::BOB_ROOM);
        let top = if view.wall_plan().plumb_mark == PlumbMark::Seam {
            view.map.y(view.bottom())
        } else {
            view.map.y(view.top())
        };
        let marks = vec![upright(x, top, tip.y, pen::PLUMB), sign::bob(tip)];
        drawing.signs.insert(Sign::Plumb);
        drawing.group(Layer::Seams, view.id("plumb-line"), "plumb line to hang the panel to", marks);
    }
}
