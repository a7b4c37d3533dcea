//! The edges of a field: what staples, batting and trim follow.
//!
//! A field is the part of a wall between two height profiles, with rectangular holes where openings
//! stand. Holes may touch or overlap one another, the ends and the profiles (a door reaches the
//! base, a mantel stands on a fireplace); an edge is only what borders on the field.

use crate::geom::{Point, Profile, Rect};
use crate::job::model::Wall;
use crate::units::Length;

/// A field with its holes, in wall coordinates.
#[derive(Clone, Debug)]
pub(crate) struct Field {
    /// The left end.
    pub x0: Length,
    /// The right end.
    pub x1: Length,
    /// The upper edge.
    pub top: Profile,
    /// The lower edge.
    pub bottom: Profile,
    /// One for each opening of the wall, in its order.
    pub holes: Vec<Rect>,
}

/// A line along an edge; closed when it ends on the point where it starts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Run {
    /// The line.
    pub path: Vec<Point>,
    /// The hole that ends it at the left (or below), if one does.
    pub from: Option<usize>,
    /// The hole that ends it at the right (or above), if one does.
    pub to: Option<usize>,
}

impl Run {
    fn new(path: Vec<Point>) -> Self {
        Run { path, from: None, to: None }
    }

    /// Whether it ends on the point where it starts.
    pub fn closed(&self) -> bool {
        self.path.len() > 3 && self.path.first() == self.path.last()
    }
}

/// The length of a line, each part rounded to the nanometre.
pub(crate) fn length_of(path: &[Point]) -> Length {
    path.windows(2).map(|p| distance(p[0], p[1])).sum()
}

fn distance(a: Point, b: Point) -> Length {
    let (dx, dy) = (i128::from((b.x - a.x).nm()), i128::from((b.y - a.y).nm()));
    // Rounded: the root of four times the square is twice the distance.
    let doubled = (4 * (dx * dx + dy * dy).unsigned_abs()).isqrt();
    Length::nanometres(i64::try_from(doubled.div_ceil(2)).unwrap_or(i64::MAX))
}

impl Field {
    /// The field of a wall: from base to crown, with the outside of each casing as a hole.
    pub fn of(wall: &Wall) -> Field {
        Field {
            x0: Length::ZERO,
            x1: wall.width,
            top: wall.field_top(),
            bottom: wall.field_bottom(),
            holes: wall.openings.iter().map(|o| o.outer).collect(),
        }
    }

    /// The same field kept `gap` from top, bottom and holes, as batting is.
    pub fn inset(&self, gap: Length) -> Field {
        Field {
            top: self.top.raised(-gap),
            bottom: self.bottom.raised(gap),
            holes: self.holes.iter().map(|h| h.grown(gap)).collect(),
            ..self.clone()
        }
    }

    /// The upper edge, left to right, without the parts where a hole reaches it.
    pub fn top_runs(&self) -> Vec<Run> {
        self.along(&self.top)
    }

    /// The lower edge, left to right, without the parts where a hole reaches it.
    pub fn bottom_runs(&self) -> Vec<Run> {
        self.along(&self.bottom)
    }

    fn along(&self, profile: &Profile) -> Vec<Run> {
        let mut blocked: Vec<(Length, Length, usize)> = Vec::new();
        for (i, hole) in self.holes.iter().enumerate() {
            for (a, b) in within_heights(profile, hole.x0, hole.x1, hole.y0, hole.y1) {
                blocked.push((a, b, i));
            }
        }
        blocked.sort();
        let mut runs = Vec::new();
        let (mut x, mut from) = (self.x0, None);
        let mut close = |x: Length, end: Length, from: Option<usize>, to: Option<usize>| {
            if x < end {
                runs.push(Run { path: profile.between(x, end), from, to });
            }
        };
        for (a, b, hole) in blocked {
            close(x, a.min(self.x1), from, Some(hole));
            if b > x {
                (x, from) = (b, Some(hole));
            }
        }
        close(x, self.x1, from, None);
        runs
    }

    /// The upright line at `x`, from below, without the parts in or on a hole.
    pub fn upright_runs(&self, x: Length) -> Vec<Run> {
        let mut blocked: Vec<(Length, Length, usize)> = self
            .holes
            .iter()
            .enumerate()
            .filter(|(_, h)| h.x0 <= x && x <= h.x1)
            .map(|(i, h)| (h.y0, h.y1, i))
            .collect();
        blocked.sort();
        let top = self.top.at(x);
        let (mut y, mut from) = (self.bottom.at(x), None);
        let mut runs = Vec::new();
        let mut close = |y: Length, end: Length, from: Option<usize>, to: Option<usize>| {
            if y < end {
                runs.push(Run { path: vec![Point::new(x, y), Point::new(x, end)], from, to });
            }
        };
        for (a, b, hole) in blocked {
            close(y, a.min(top), from, Some(hole));
            if b > y {
                (y, from) = (b, Some(hole));
            }
        }
        close(y, top, from, None);
        runs
    }

    /// The part of the upright line at `x` between two heights, without the parts in or on a hole.
    pub fn upright_runs_between(&self, x: Length, (y0, y1): (Length, Length)) -> Vec<Run> {
        let mut runs = self.upright_runs(x);
        for run in &mut runs {
            run.path.iter_mut().for_each(|p| p.y = p.y.clamp(y0, y1));
        }
        runs.retain(|run| run.path.first() != run.path.last());
        runs
    }

    /// The level line at `y` between two places, left to right, where it lies in the field and not in
    /// or on a hole.
    pub fn level_runs(&self, y: Length, span: (Length, Length)) -> Vec<Run> {
        let mut blocked = self.outside(span, (y, y));
        blocked.extend(self.holes.iter().filter(|h| h.y0 <= y && y <= h.y1).map(|h| (h.x0, h.x1)));
        let run = |(a, b)| Run::new(vec![Point::new(a, y), Point::new(b, y)]);
        without(span, blocked).into_iter().map(run).collect()
    }

    /// The stretches, left to right, where the field reaches into a band of heights and no hole takes
    /// the whole height of the band.
    pub fn stretches(&self, band: (Length, Length)) -> Vec<(Length, Length)> {
        let span = (self.x0, self.x1);
        let mut blocked = self.outside(span, band);
        blocked.extend(self.holes.iter().filter(|h| h.y0 <= band.0 && band.1 <= h.y1).map(|h| (h.x0, h.x1)));
        without(span, blocked)
    }

    /// Where the whole band of heights lies above the top or below the bottom.
    fn outside(&self, span: (Length, Length), (low, high): (Length, Length)) -> Vec<(Length, Length)> {
        let lowest = self.top.min_between(span.0, span.1).min(low);
        let highest = self.bottom.max_between(span.0, span.1).max(high);
        let mut outside = within_heights(&self.top, span.0, span.1, lowest, low);
        outside.extend(within_heights(&self.bottom, span.0, span.1, high, highest));
        outside
    }

    /// The edge of hole `index`, clockwise from its lower left corner: up, over, down and, where
    /// the field lies below it, back. A door gives one open line of three sides, a window one
    /// closed line; where another hole adjoins, the shared part is left out.
    pub fn hole_runs(&self, index: usize) -> Vec<Run> {
        let hole = self.holes[index];
        let mut parts: Vec<Vec<Point>> = Vec::new();
        let upright = |x: Length, left: bool| -> Vec<(Length, Length)> {
            if x <= self.x0 || x >= self.x1 {
                return Vec::new();
            }
            let span = (hole.y0.max(self.bottom.at(x)), hole.y1.min(self.top.at(x)));
            let covers = self.others(index).filter(|(i, h)| {
                let beyond = if left { h.x0 < x && x <= h.x1 } else { h.x0 <= x && x < h.x1 };
                let same_edge = *i < index && (if left { h.x0 == x } else { h.x1 == x });
                beyond || same_edge
            });
            without(span, covers.map(|(_, h)| (h.y0, h.y1)).collect())
        };
        let level = |y: Length, over: bool| -> Vec<(Length, Length)> {
            let span = (hole.x0.max(self.x0), hole.x1.min(self.x1));
            let mut blocked: Vec<(Length, Length)> = self
                .others(index)
                .filter(|(i, h)| {
                    let beyond = if over { h.y0 <= y && y < h.y1 } else { h.y0 < y && y <= h.y1 };
                    let same_edge = *i < index && (if over { h.y1 == y } else { h.y0 == y });
                    beyond || same_edge
                })
                .map(|(_, h)| (h.x0, h.x1))
                .collect();
            blocked.extend(self.outside(span, (y, y)));
            without(span, blocked)
        };
        for (a, b) in upright(hole.x0, true) {
            parts.push(vec![Point::new(hole.x0, a), Point::new(hole.x0, b)]);
        }
        for (a, b) in level(hole.y1, true) {
            parts.push(vec![Point::new(a, hole.y1), Point::new(b, hole.y1)]);
        }
        for (a, b) in upright(hole.x1, false).into_iter().rev() {
            parts.push(vec![Point::new(hole.x1, b), Point::new(hole.x1, a)]);
        }
        for (a, b) in level(hole.y0, false).into_iter().rev() {
            parts.push(vec![Point::new(b, hole.y0), Point::new(a, hole.y0)]);
        }
        chain(parts)
    }

    fn others(&self, index: usize) -> impl Iterator<Item = (usize, &Rect)> {
        self.holes.iter().enumerate().filter(move |(i, _)| *i != index)
    }
}

/// Joins parts that follow one another, the last to the first included.
fn chain(parts: Vec<Vec<Point>>) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for part in parts {
        match runs.last_mut() {
            Some(last) if last.path.last() == part.first() => last.path.extend(&part[1..]),
            _ => runs.push(Run::new(part)),
        }
    }
    let meets = match (runs.first(), runs.last()) {
        (Some(first), Some(last)) => runs.len() > 1 && last.path.last() == first.path.first(),
        _ => false,
    };
    if meets && let Some(mut last) = runs.pop() {
        last.path.extend(&runs[0].path[1..]);
        runs[0] = last;
    }
    runs
}

/// `span` without the `blocked` parts; only parts of some length.
fn without(span: (Length, Length), mut blocked: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
    blocked.sort();
    let mut free = Vec::new();
    let mut at = span.0;
    for (a, b) in blocked {
        if at < a.min(span.1) {
            free.push((at, a.min(span.1)));
        }
        at = at.max(b);
    }
    if at < span.1 {
        free.push((at, span.1));
    }
    free
}

/// Where between `x0` and `x1` the profile stands at heights `y0..=y1`, left to right.
fn within_heights(
    profile: &Profile,
    x0: Length,
    x1: Length,
    y0: Length,
    y1: Length,
) -> Vec<(Length, Length)> {
    let mut found: Vec<(Length, Length)> = Vec::new();
    let first = profile.points()[0].x;
    let last = profile.points()[profile.points().len() - 1].x;
    let (x0, x1) = (x0.max(first), x1.min(last));
    if x0 >= x1 || y0 > y1 {
        return found;
    }
    for pair in profile.between(x0, x1).windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let (low, high) = (a.y.min(b.y), a.y.max(b.y));
        if high < y0 || low > y1 {
            continue;
        }
        let at = |y: Length| {
            if a.y == b.y { a.x } else { a.x + (b.x - a.x).scale((y - a.y).nm(), (b.y - a.y).nm()) }
        };
        let (mut from, mut to) = (a.x, b.x);
        if low < y0 {
            if a.y < b.y { from = at(y0) } else { to = at(y0) }
        }
        if high > y1 {
            if a.y < b.y { to = at(y1) } else { from = at(y1) }
        }
        if from < to {
            match found.last_mut() {
                Some(last) if last.1 == from => last.1 = to,
                _ => found.push((from, to)),
            }
        }
    }
    found
}

/// How the crew names a stretch of an edge between two openings: "left of D1", "between D1 and W2",
/// or nothing when it runs from corner to corner.
pub(crate) fn between_words(wall: &Wall, run: &Run) -> String {
    let label = |hole: usize| wall.openings[hole].label.as_str();
    match (run.from, run.to) {
        (None, None) => String::new(),
        (None, Some(to)) => format!("left of {}", label(to)),
        (Some(from), None) => format!("right of {}", label(from)),
        (Some(from), Some(to)) if from == to => format!("beside {}", label(from)),
        (Some(from), Some(to)) => format!("between {} and {}", label(from), label(to)),
    }
}

/// What part of an opening's edge a run is: nothing when it goes round it, else "left side",
/// "right side", "over" or "under".
pub(crate) fn side_words(run: &Run, hole: &Rect) -> &'static str {
    match run.path.as_slice() {
        [a, b] if a.x == b.x => {
            if a.x == hole.x0 {
                "left side"
            } else {
                "right side"
            }
        }
        [a, _] => {
            if a.y == hole.y1 {
                "over"
            } else {
                "under"
            }
        }
        _ => "",
    }
}

/// The letter of the `index`-th of a row, from 0: a to z, then aa.
pub(crate) fn letter(index: usize) -> String {
    let last = char::from(b'a' + (index % 26) as u8);
    if index < 26 { last.to_string() } else { format!("{}{last}", letter(index / 26 - 1)) }
}
