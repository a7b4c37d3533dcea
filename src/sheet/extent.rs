//! How much paper marks take.

use super::model::{Mark, Path, Seg};
use super::text::area;
use crate::geom::{Point, Rect};

/// The least rectangle round all marks, without the width of pens; `None` when nothing is drawn.
pub fn of(marks: &[Mark]) -> Option<Rect> {
    let mut all: Option<Rect> = None;
    for mark in marks {
        if let Some(one) = of_one(mark) {
            all = Some(all.map_or(one, |sum| union(sum, one)));
        }
    }
    all
}

fn of_one(mark: &Mark) -> Option<Rect> {
    match mark {
        Mark::Stroke { path, .. } | Mark::Fill { path, .. } => of_path(path),
        Mark::Clip { path, marks } => clipped(of_path(path)?, of(marks)),
        Mark::Text(text) => Some(area(text)),
        Mark::Stamp { marks, places } => {
            let stamp = of(marks)?;
            let moved = places
                .iter()
                .map(|p| Rect::new(stamp.x0 + p.x, stamp.y0 + p.y, stamp.x1 + p.x, stamp.y1 + p.y));
            moved.reduce(union)
        }
        Mark::Tiles { width, height, places, .. } => {
            places.iter().map(|p| Rect::new(p.x, p.y, p.x + *width, p.y + *height)).reduce(union)
        }
        Mark::Link { area, .. } => Some(*area),
        Mark::Group(group) => of(&group.marks),
    }
}

/// What is left of marks that take `drawn` within a clip that takes `clip`; of no marks the clip itself, which
/// keeps its place.
fn clipped(clip: Rect, drawn: Option<Rect>) -> Option<Rect> {
    let Some(drawn) = drawn else { return Some(clip) };
    let (x0, y0) = (clip.x0.max(drawn.x0), clip.y0.max(drawn.y0));
    let (x1, y1) = (clip.x1.min(drawn.x1), clip.y1.min(drawn.y1));
    (x0 <= x1 && y0 <= y1).then(|| Rect::new(x0, y0, x1, y1))
}

/// The least rectangle round the points of a path, control points included.
pub fn of_path(path: &Path) -> Option<Rect> {
    let mut all: Option<Rect> = None;
    let mut take = |p: Point| {
        let one = Rect::new(p.x, p.y, p.x, p.y);
        all = Some(all.map_or(one, |sum| union(sum, one)));
    };
    for seg in &path.0 {
        match *seg {
            Seg::Move(p) | Seg::Line(p) => take(p),
            Seg::Cubic(a, b, c) => [a, b, c].into_iter().for_each(&mut take),
            Seg::Close => {}
        }
    }
    all
}

/// The least rectangle round both.
pub fn union(a: Rect, b: Rect) -> Rect {
    Rect { x0: a.x0.min(b.x0), y0: a.y0.min(b.y0), x1: a.x1.max(b.x1), y1: a.y1.max(b.y1) }
}
