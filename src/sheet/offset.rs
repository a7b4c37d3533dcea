//! Lines drawn beside an edge: staples and trim lie on the edge itself and would hide it, so a
//! drawing sets them off by a fixed distance on paper.

use crate::geom::{Point, Rect};
use crate::units::Length;

/// Whether `p` lies inside the polygon (even-odd; a point on the edge may fall on either side).
pub fn inside(polygon: &[Point], p: Point) -> bool {
    let mut inside = false;
    for (i, &a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        if (a.y > p.y) != (b.y > p.y) {
            let x = a.x + (b.x - a.x).scale((p.y - a.y).nm(), (b.y - a.y).nm());
            if p.x < x {
                inside = !inside;
            }
        }
    }
    inside
}

/// The line through `points` moved by `by` to the side that `wanted` accepts, with its corners
/// kept sharp. A line whose first and last point are one is closed. When both sides or neither are
/// accepted, the line stays where it is.
pub fn beside(points: &[Point], by: Length, wanted: impl Fn(Point) -> bool) -> Vec<Point> {
    let mut points = points.to_vec();
    points.dedup();
    if points.len() < 2 {
        return points;
    }
    let longest = (0..points.len() - 1)
        .max_by_key(|&i| ((length(points[i], points[i + 1]) * 1e3) as i64, std::cmp::Reverse(i)))
        .unwrap_or(0);
    let (a, b) = (points[longest], points[longest + 1]);
    let middle = Point::new((a.x + b.x) / 2, (a.y + b.y) / 2);
    let (nx, ny) = normal(a, b);
    let probe = |sign: i64| {
        let by = by * sign;
        Point::new(middle.x + part(by, nx), middle.y + part(by, ny))
    };
    match (wanted(probe(1)), wanted(probe(-1))) {
        (true, false) => shifted(&points, by),
        (false, true) => shifted(&points, -by),
        _ => points,
    }
}

/// The line moved by `by` to its right on paper, seen along it (to the left when negative), with its
/// corners kept sharp; closed when its first and last point are one.
pub fn shifted(points: &[Point], by: Length) -> Vec<Point> {
    let closed = points.len() > 2 && points.first() == points.last();
    let last = points.len() - 1;
    let mut moved = Vec::with_capacity(points.len());
    for i in 0..points.len() {
        let before = if i > 0 {
            Some(normal(points[i - 1], points[i]))
        } else if closed {
            Some(normal(points[last - 1], points[last]))
        } else {
            None
        };
        let after = if i < last {
            Some(normal(points[i], points[i + 1]))
        } else if closed {
            Some(normal(points[0], points[1]))
        } else {
            None
        };
        let (nx, ny) = match (before, after) {
            (Some(a), Some(b)) => mitre(a, b),
            (Some(n), None) | (None, Some(n)) => n,
            (None, None) => (0.0, 0.0),
        };
        moved.push(Point::new(points[i].x + part(by, nx), points[i].y + part(by, ny)));
    }
    moved
}

/// The vector from a corner to its moved place, for a shift of one.
fn mitre(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    let sum = (a.0 + b.0, a.1 + b.1);
    let dot = 1.0 + a.0 * b.0 + a.1 * b.1;
    // A line that turns back on itself has no mitre: the end is squared off.
    if dot < 0.2 { a } else { (sum.0 / dot, sum.1 / dot) }
}

/// `count` places spread evenly over the line, ends included (a closed line has one end only).
pub fn spread(points: &[Point], count: i64) -> Vec<Point> {
    let total: f64 = points.windows(2).map(|pair| length(pair[0], pair[1])).sum();
    if count < 1 || points.len() < 2 || total <= 0.0 {
        return Vec::new();
    }
    let closed = points.len() > 2 && points.first() == points.last();
    let gaps = if closed { count } else { (count - 1).max(1) };
    let mut places = Vec::with_capacity(count as usize);
    let (mut segment, mut done) = (0, 0.0);
    for n in 0..count {
        let target = if count == 1 { total / 2.0 } else { total * n as f64 / gaps as f64 };
        while segment + 2 < points.len() && done + length(points[segment], points[segment + 1]) < target {
            done += length(points[segment], points[segment + 1]);
            segment += 1;
        }
        let (a, b) = (points[segment], points[segment + 1]);
        let t = ((target - done) / length(a, b).max(1e-9)).clamp(0.0, 1.0);
        places.push(Point::new(a.x + part(b.x - a.x, t), a.y + part(b.y - a.y, t)));
    }
    places
}

/// The rectangle's corners, to be drawn or tested as a polygon.
pub fn corners(r: Rect) -> [Point; 4] {
    [Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)]
}

fn normal(a: Point, b: Point) -> (f64, f64) {
    let (dx, dy) = ((b.x - a.x).to_mm_f64(), (b.y - a.y).to_mm_f64());
    let long = dx.hypot(dy).max(1e-9);
    (-dy / long, dx / long)
}

fn length(a: Point, b: Point) -> f64 {
    (b.x - a.x).to_mm_f64().hypot((b.y - a.y).to_mm_f64())
}

fn part(of: Length, share: f64) -> Length {
    Length::nanometres((of.nm() as f64 * share).round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::mm(x), Length::mm(y))
    }

    #[test]
    fn a_closed_line_is_set_off_with_sharp_corners() {
        let square = [at(0, 0), at(10, 0), at(10, 10), at(0, 10), at(0, 0)];
        let outwards = |p: Point| !inside(&square, p);
        let moved = beside(&square, Length::mm(1), outwards);
        assert_eq!(moved, [at(-1, -1), at(11, -1), at(11, 11), at(-1, 11), at(-1, -1)]);
    }

    #[test]
    fn staples_stand_evenly_from_end_to_end() {
        let bent = [at(0, 0), at(6, 0), at(6, 4)];
        assert_eq!(spread(&bent, 6), [at(0, 0), at(2, 0), at(4, 0), at(6, 0), at(6, 2), at(6, 4)]);
        let closed = [at(0, 0), at(4, 0), at(4, 4), at(0, 4), at(0, 0)];
        assert_eq!(spread(&closed, 4), [at(0, 0), at(4, 0), at(4, 4), at(0, 4)]);
    }
}
