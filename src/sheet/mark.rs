//! Short constructors for the marks that every sheet uses.

use std::collections::BTreeMap;

use super::model::{Ink, Mark, Path, Pen, Seg, Text};
use crate::geom::{Point, Rect};
use crate::units::Length;

/// A straight line.
pub fn line(from: Point, to: Point, pen: Pen) -> Mark {
    Mark::Stroke { pen, path: Path(vec![Seg::Move(from), Seg::Line(to)]) }
}

/// A level line at `y` from `x0` to `x1`.
pub fn level(x0: Length, x1: Length, y: Length, pen: Pen) -> Mark {
    line(Point::new(x0, y), Point::new(x1, y), pen)
}

/// An upright line at `x` from `y0` to `y1`.
pub fn upright(x: Length, y0: Length, y1: Length, pen: Pen) -> Mark {
    line(Point::new(x, y0), Point::new(x, y1), pen)
}

/// The outline of a rectangle.
pub fn outline(rect: Rect, pen: Pen) -> Mark {
    Mark::Stroke { pen, path: rect_path(rect) }
}

/// A filled rectangle.
pub fn filled(rect: Rect, ink: Ink) -> Mark {
    Mark::Fill { ink, path: rect_path(rect) }
}

/// An open line through points; empty when there are none.
pub fn through(points: &[Point]) -> Path {
    let segs = points.iter().enumerate().map(|(i, &p)| if i == 0 { Seg::Move(p) } else { Seg::Line(p) });
    Path(segs.collect())
}

/// A closed ring through points; empty when there are none.
pub fn ring(points: &[Point]) -> Path {
    let mut path = through(points);
    if !path.0.is_empty() {
        path.0.push(Seg::Close);
    }
    path
}

/// A rectangle as a ring.
pub fn rect_path(r: Rect) -> Path {
    ring(&[Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)])
}

/// Lets every link that leads to one of `keys` lead to the sheet that shows it.
pub fn relink(marks: &mut [Mark], keys: &BTreeMap<String, String>) {
    for mark in marks {
        match mark {
            Mark::Link { to, .. } => {
                if let Some(key) = keys.get(to) {
                    to.clone_from(key);
                }
            }
            Mark::Group(group) => relink(&mut group.marks, keys),
            Mark::Clip { marks, .. } | Mark::Stamp { marks, .. } => relink(marks, keys),
            Mark::Stroke { .. } | Mark::Fill { .. } | Mark::Text(_) | Mark::Tiles { .. } => {}
        }
    }
}

/// The same marks moved right by `dx` and down by `dy`.
pub fn moved(marks: Vec<Mark>, dx: Length, dy: Length) -> Vec<Mark> {
    marks.into_iter().map(|mark| moved_one(mark, dx, dy)).collect()
}

fn moved_one(mark: Mark, dx: Length, dy: Length) -> Mark {
    let to = |p: Point| Point::new(p.x + dx, p.y + dy);
    let path_to = |path: Path| {
        let segs = path.0.into_iter().map(|seg| match seg {
            Seg::Move(p) => Seg::Move(to(p)),
            Seg::Line(p) => Seg::Line(to(p)),
            Seg::Cubic(a, b, c) => Seg::Cubic(to(a), to(b), to(c)),
            Seg::Close => Seg::Close,
        });
        Path(segs.collect())
    };
    match mark {
        Mark::Stroke { pen, path } => Mark::Stroke { pen, path: path_to(path) },
        Mark::Fill { ink, path } => Mark::Fill { ink, path: path_to(path) },
        Mark::Text(text) => Mark::Text(Text { at: to(text.at), ..text }),
        Mark::Clip { path, marks } => Mark::Clip { path: path_to(path), marks: moved(marks, dx, dy) },
        Mark::Stamp { marks, places } => Mark::Stamp { marks, places: places.into_iter().map(to).collect() },
        Mark::Tiles { picture, width, height, places } => {
            Mark::Tiles { picture, width, height, places: places.into_iter().map(to).collect() }
        }
        Mark::Link { area, to } => {
            Mark::Link { area: Rect::new(area.x0 + dx, area.y0 + dy, area.x1 + dx, area.y1 + dy), to }
        }
        Mark::Group(mut group) => {
            group.marks = moved(group.marks, dx, dy);
            Mark::Group(group)
        }
    }
}
