//! The outline of an opening on paper, its arch included.

use super::mark::ring;
use super::model::{Path, Seg};
use super::offset::corners;
use super::scale::Mapping;
use crate::geom::{Hole, Point, Rect};
use crate::units::Length;

/// The whole outline of a hole, on paper.
pub fn hole_path(map: &Mapping, hole: &Hole) -> Path {
    let Rect { x0, y0, x1, y1 } = hole.rect;
    hole_ring(map, hole, (x0, x1), (y0, y1))
}

/// The ring round the part of a hole between two places and two heights, on paper.
pub fn hole_ring(map: &Mapping, hole: &Hole, (x0, x1): (Length, Length), (y0, y1): (Length, Length)) -> Path {
    if !hole.is_arched() {
        return ring(&corners(map.rect(Rect::new(x0, y0, x1, y1))));
    }
    let to = |x, y| map.point(Point::new(x, y));
    let arc = |from: Length, until: Length| {
        let curves = hole.arc_curves(from, until).into_iter();
        curves.map(|c| Seg::Cubic(map.point(c[0]), map.point(c[1]), map.point(c[2])))
    };
    let start = Seg::Move(to(x0, y0));
    // Where the arch goes on above the part, its edge is level there.
    let cut = hole.span_at(y1).filter(|_| y1 < hole.rect.y1).map(|(a, b)| (a.max(x0), b.min(x1)));
    let mut segs = vec![start, Seg::Line(to(x0, hole.top_at(x0).min(y1)))];
    match cut.filter(|(a, b)| a < b) {
        Some((a, b)) => {
            if x0 < a {
                segs.extend(arc(x0, a));
            }
            segs.push(Seg::Line(to(b, y1)));
            if b < x1 {
                segs.extend(arc(b, x1));
            }
        }
        None => segs.extend(arc(x0, x1)),
    }
    segs.extend([Seg::Line(to(x1, y0)), Seg::Close]);
    Path(segs)
}
