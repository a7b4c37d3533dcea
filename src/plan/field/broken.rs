//! A line along an edge without what lies in places that it must leave open.

use super::Run;
use super::line::{Part, distance};
use crate::geom::{Point, Rect};
use crate::units::Length;

/// A part of a line between places that it leaves open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Left {
    /// The part.
    pub run: Run,
    /// Which place it begins at, as an index; `None` where the whole line begins.
    pub after: Option<usize>,
    /// Which place it ends at.
    pub before: Option<usize>,
}

/// What of `run` lies in none of the `places`, along it; a closed line that is broken anywhere becomes open.
/// Where it only touches the edge of a place it goes on.
pub(crate) fn broken(run: &Run, places: &[Rect]) -> Vec<Left> {
    let mut left: Vec<(Vec<Part>, Option<usize>, Option<usize>)> = Vec::new();
    let mut part: Vec<Part> = Vec::new();
    let mut after = None;
    for (leg, ends) in run.path.windows(2).enumerate() {
        let (a, b) = (ends[0], ends[1]);
        let inside = |(i, place): (usize, &Rect)| within(a, b, place).map(|(from, to)| (from, to, i));
        let mut taken: Vec<(Length, Length, usize)> = places.iter().enumerate().filter_map(inside).collect();
        taken.sort_unstable();
        let mut at = Length::ZERO;
        for (from, to, place) in taken {
            if at < from {
                part.push(Part { leg, from: along(a, b, at), to: along(a, b, from) });
            }
            if !part.is_empty() {
                left.push((std::mem::take(&mut part), after, Some(place)));
            }
            if at < to {
                (at, after) = (to, Some(place));
            }
        }
        if at < reach(a, b) {
            part.push(Part { leg, from: along(a, b, at), to: b });
        }
    }
    if !part.is_empty() {
        left.push((part, after, None));
    }
    // A closed line goes on from its end to its start.
    if run.closed()
        && left.len() > 1
        && left.first().is_some_and(|first| first.1.is_none())
        && left.last().is_some_and(|last| last.2.is_none())
        && let Some(mut last) = left.pop()
    {
        last.0.append(&mut left[0].0);
        left[0].0 = last.0;
        left[0].1 = last.1;
    }
    left.into_iter().map(|(parts, after, before)| Left { run: run.of_parts(&parts), after, before }).collect()
}

/// How far a leg reaches along the axis that it runs along most.
fn reach(a: Point, b: Point) -> Length {
    (b.x - a.x).abs().max((b.y - a.y).abs())
}

/// The point of a leg that lies so far along it.
fn along(a: Point, b: Point, at: Length) -> Point {
    let whole = reach(a, b).nm();
    Point::new(a.x + (b.x - a.x).scale(at.nm(), whole), a.y + (b.y - a.y).scale(at.nm(), whole))
}

/// From where to where a leg lies inside a rectangle.
fn within(a: Point, b: Point, place: &Rect) -> Option<(Length, Length)> {
    let whole = reach(a, b);
    let (mut from, mut to) = (Length::ZERO, whole);
    for (start, end, low, high) in [(a.x, b.x, place.x0, place.x1), (a.y, b.y, place.y0, place.y1)] {
        let d = end - start;
        if d == Length::ZERO {
            if start <= low || high <= start {
                return None;
            }
            continue;
        }
        let (p, q) = (whole.scale((low - start).nm(), d.nm()), whole.scale((high - start).nm(), d.nm()));
        from = from.max(p.min(q));
        to = to.min(p.max(q));
    }
    (from < to).then_some((from, to))
}

/// The share of a round part that some of its chords are, by their lengths.
pub(super) fn share(length: Length, kept: &[Part], chords: &[Point]) -> Length {
    let some: Length = kept.iter().map(|part| distance(part.from, part.to)).sum();
    let all: Length = chords.windows(2).map(|pair| distance(pair[0], pair[1])).sum();
    length.scale(some.nm(), all.nm().max(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::mm(x), Length::mm(y))
    }

    fn rect(x0: i64, y0: i64, x1: i64, y1: i64) -> Rect {
        Rect::new(Length::mm(x0), Length::mm(y0), Length::mm(x1), Length::mm(y1))
    }

    fn paths(run: &Run, places: &[Rect]) -> Vec<Vec<Point>> {
        broken(run, places).into_iter().map(|left| left.run.path).collect()
    }

    #[test]
    fn a_line_is_open_where_a_place_takes_it() {
        let run = Run::new(vec![at(0, 0), at(100, 0), at(100, 50)]);
        assert_eq!(paths(&run, &[]), vec![run.path.clone()]);
        assert_eq!(
            paths(&run, &[rect(20, -5, 30, 5)]),
            [vec![at(0, 0), at(20, 0)], vec![at(30, 0), at(100, 0), at(100, 50)]]
        );
        // Over the bend, and over the start.
        assert_eq!(
            paths(&run, &[rect(90, -5, 110, 10), rect(-5, -5, 5, 5)]),
            [vec![at(5, 0), at(90, 0)], vec![at(100, 10), at(100, 50)]]
        );
        assert!(paths(&run, &[rect(-5, -5, 105, 55)]).is_empty());
        // Along an edge of a place the line goes on.
        assert_eq!(paths(&run, &[rect(20, 0, 30, 5)]).len(), 1);
    }

    #[test]
    fn a_closed_line_goes_on_over_its_start() {
        let run = Run::new(vec![at(0, 0), at(0, 40), at(40, 40), at(40, 0), at(0, 0)]);
        let left = broken(&run, &[rect(30, 30, 50, 50)]);
        assert_eq!(left.len(), 1);
        assert_eq!(left[0].run.path, [at(40, 30), at(40, 0), at(0, 0), at(0, 40), at(30, 40)]);
        assert_eq!((left[0].after, left[0].before), (Some(0), Some(0)));
    }

    #[test]
    fn a_round_part_keeps_its_share_of_its_length() {
        let chords = vec![at(0, 0), at(10, 0), at(20, 0)];
        let run = Run::round(chords, Length::mm(22));
        let left = broken(&run, &[rect(10, -1, 15, 1)]);
        let lengths: Vec<Length> = left.iter().map(|left| left.run.length()).collect();
        assert_eq!(lengths, [Length::mm(11), Length::micrometres(5_500)]);
    }
}
