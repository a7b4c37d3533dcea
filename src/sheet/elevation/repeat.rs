//! One repeat of the pattern, its corners marked about the centre of a motif; and where the pattern stands: how
//! far that motif is from the left corner and above the datum. Not a whole frame: that reads as a patch sewn in.

use super::cloth::is_pictured;
use super::view::{View, overlap};
use crate::geom::{Point, Rect};
use crate::job::model::Lattice;
use crate::plan::model::Way;
use crate::sheet::dimension::{Dimension, Run};
use crate::sheet::drawing::Drawing;
use crate::sheet::lattice;
use crate::sheet::model::{Layer, Reader};
use crate::sheet::sign::{self, Sign};
use crate::units::Length;

/// What the motif is called beside its distances.
pub const MOTIF: &str = "motif";

/// White kept round the framed motif.
const ROUND: Length = Length::micrometres(800);

/// The motif whose repeat is framed, in wall coordinates: that which the panel is hung by, or else, and for whoever
/// approves, the first from the left, and of its column the highest, whose repeat is whole in the part that is
/// drawn, if may be without an edge on a seam. `None` for plain cloth, and where no repeat is whole.
pub fn motif(view: &View) -> Option<Point> {
    let pattern = pattern(view)?;
    view.wall_plan().panel.as_ref()?;
    let whole = |p: &Point| is_whole(view, &frame(view, pattern, *p));
    let hung = view.wall_plan().hang_motif.filter(|p| view.reader != Reader::Approval && whole(p));
    hung.or_else(|| {
        let area = Rect::new(view.window.0, view.bottom(), view.window.1, view.top());
        let centres = lattice::centres(pattern, &view.room_plan().registration, view.wall_plan().x, area);
        let round = |p: Point| frame(view, pattern, p).grown(view.map.scale.real(ROUND));
        // Of a pattern with few repeats to a width every one ends at a seam; it can still keep off all else.
        let (apart, off) = (|p| is_whole(view, &round(p)), |p| keeps_off(view, &round(p)));
        centres.into_iter().filter(whole).min_by_key(|&p| (!apart(p), !off(p), p.x, -p.y))
    })
}

/// The motifs whose centres are in sight on the part that is drawn, from the left, those of a column from the highest
/// down; none for plain cloth.
pub fn seen(view: &View) -> Vec<Point> {
    let Some(pattern) = pattern(view) else { return Vec::new() };
    let cloth = view.cloth();
    let area = Rect::new(view.window.0, view.bottom(), view.window.1, view.top());
    let centres = lattice::centres(pattern, &view.room_plan().registration, view.wall_plan().x, area);
    let seen = centres.into_iter().filter(|p| view.shows(p.x) && cloth.holds(view.map.point(*p)));
    let mut seen: Vec<Point> = seen.collect();
    seen.sort_by_key(|p| (p.x, -p.y));
    seen
}

/// That motif, where it has dimensions.
pub fn placed(view: &View) -> Option<Point> {
    motif(view).filter(|_| view.places_motif)
}

/// Frames one repeat.
pub fn frame_one(view: &View, drawing: &mut Drawing) {
    let (Some(at), Some(pattern)) = (motif(view), pattern(view)) else { return };
    let framed = frame(view, pattern, at);
    let area = view.map.rect(framed);
    let (across, up) = sizes(view, pattern);
    let print = |length| view.format().print(length);
    let pictured = is_pictured(view);
    let marks = sign::repeat(area, pictured);
    // The crew hangs by it: no label or leader covers it or one of the corners.
    let centre = view.map.point(at);
    let half = Point::new(area.width() / 4, area.height() / 4);
    drawing.take(
        Rect::new(centre.x - half.x, centre.y - half.y, centre.x + half.x, centre.y + half.y).grown(ROUND),
    );
    for corner in sign::corners_of_repeat(area) {
        drawing.take(corner);
    }
    drawing.signs.insert(if pictured { Sign::PicturedRepeat } else { Sign::Repeat });
    drawing.group(
        Layer::Cloth,
        view.id("repeat"),
        format!("one repeat, {} × {}", print(across), print(up)),
        marks,
    );
}

/// How wide and how high the framed repeat is; `None` where none is framed.
pub fn words(view: &View) -> Option<String> {
    motif(view)?;
    let (across, up) = sizes(view, pattern(view)?);
    Some(format!("{} across × {} up", view.format().print(across), view.format().print(up)))
}

/// The motif's distance from the left corner, below the drawing.
pub fn across(
    view: &View,
    bounds: (Length, Length),
) -> Result<Option<Dimension>, crate::sheet::ComposeFault> {
    let Some(at) = placed(view) else { return Ok(None) };
    let stops = [(at.x, MOTIF.to_owned())];
    let from = view.window.0;
    let paper = |x| view.map.x(x);
    Dimension::running(Run::Level, Length::ZERO, from, &stops, paper, bounds, view.format()).map(Some)
}

/// One repeat about the centre of a motif.
fn frame(view: &View, pattern: &Lattice, centre: Point) -> Rect {
    let (across, up) = sizes(view, pattern);
    let (left, below) = (centre.x - across / 2, centre.y - up / 2);
    Rect::new(left, below, left + across, below + up)
}

/// A repeat as it lies on the wall: how wide and how high.
fn sizes(view: &View, pattern: &Lattice) -> (Length, Length) {
    match view.room_plan().registration.way {
        Way::Upright => (pattern.horizontal, pattern.vertical),
        Way::Railroaded => (pattern.vertical, pattern.horizontal),
    }
}

fn pattern<'a>(view: &View<'a>) -> Option<&'a Lattice> {
    view.plan.job.cloths[view.room().cloth].pattern.as_ref()
}

/// Whether no seam lies in `r`.
fn seams_off(view: &View, r: &Rect) -> bool {
    let seams = view.wall_plan().panel.iter().flat_map(|panel| &panel.seams);
    let mut within = seams.filter(|seam| r.x0 < seam.x && seam.x < r.x1);
    !within.any(|seam| seam.in_sight.iter().any(|&span| overlap(span, (r.y0, r.y1)).is_some()))
}

/// Whether all of a repeat lies on the cloth that is drawn, clear of openings and boxes and parted by no seam.
fn is_whole(view: &View, r: &Rect) -> bool {
    keeps_off(view, r) && seams_off(view, r)
}

/// The same but for seams.
fn keeps_off(view: &View, r: &Rect) -> bool {
    let wall = view.wall();
    let mut taken = wall.openings.iter().map(|o| o.outer).chain(wall.fixings.iter().map(|f| f.rect));
    view.window.0 <= r.x0
        && r.x1 <= view.window.1
        && wall.field_bottom().max_between(r.x0, r.x1) <= r.y0
        && r.y1 <= wall.field_top().min_between(r.x0, r.x1)
        && !taken.any(|other| other.overlaps(r))
}
