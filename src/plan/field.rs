//! The edges of a field: what staples, batting and trim follow.
//!
//! A field is the part of a wall between two height profiles, with holes where openings stand, whose
//! heads may be arches. Holes may touch or overlap one another, the ends and the profiles (a door reaches the
//! base, a mantel stands on a fireplace); an edge is only what borders on the field.

mod broken;
mod line;

use crate::geom::{Hole, Point, Profile};
use crate::job::model::Wall;
use crate::units::Length;

pub(crate) use broken::{Left, broken};
pub(crate) use line::{Run, between_words, length_along, length_of, letter, side_words};

/// How far the chords by which an arch is drawn may depart from it.
const FINE: Length = Length::micrometres(100);

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
    pub holes: Vec<Hole>,
    /// How far the chords of a round part of a run may depart from it.
    pub within: Length,
}

impl Field {
    /// The field of a wall: from its lower edge to its upper one, with the outside of each casing as a
    /// hole.
    pub fn of(wall: &Wall) -> Field {
        Field {
            x0: Length::ZERO,
            x1: wall.width,
            top: wall.field_top(),
            bottom: wall.field_bottom(),
            holes: wall.openings.iter().map(|o| o.hole()).collect(),
            within: FINE,
        }
    }

    /// The same field kept `gap` from top, bottom and holes, as batting is.
    pub fn inset(&self, gap: Length) -> Field {
        Field {
            top: self.top.kept_below(gap),
            bottom: self.bottom.kept_above(gap),
            holes: self.holes.iter().map(|h| h.grown(gap)).collect(),
            ..self.clone()
        }
    }

    /// The upper edge, left to right, without the parts where a hole reaches it.
    pub fn top_runs(&self) -> Vec<Run> {
        self.along(&self.top, true)
    }

    /// The lower edge, left to right, without the parts where a hole reaches it.
    pub fn bottom_runs(&self) -> Vec<Run> {
        self.along(&self.bottom, false)
    }

    /// The parts of a profile that no hole takes, the sides of its steps included; `upper` tells that
    /// the field lies below it.
    fn along(&self, profile: &Profile, upper: bool) -> Vec<Run> {
        let mut edge = Edge::default();
        for leg in profile.between(self.x0, self.x1).windows(2) {
            let (a, b) = (leg[0], leg[1]);
            if a.x < b.x {
                let mut blocked: Vec<(Length, Length, usize)> = Vec::new();
                for (i, hole) in self.holes.iter().enumerate() {
                    blocked.extend(met(a, b, hole).into_iter().map(|(from, to)| (from, to, i)));
                }
                blocked.sort();
                let at = |x: Length| Point::new(x, on_line(a, b, x));
                let mut x = a.x;
                for (from, to, hole) in blocked {
                    if x < from {
                        edge.free(at(x), at(from));
                    }
                    if x < to {
                        edge.block(hole);
                        x = to;
                    }
                }
                if x < b.x {
                    edge.free(at(x), b);
                }
            } else {
                self.beside_step(a, b, upper, &mut edge);
            }
        }
        edge.runs
    }

    /// The side of a step from `a` to `b`, without what a hole that stands against it takes.
    fn beside_step(&self, a: Point, b: Point, upper: bool, edge: &mut Edge) {
        // The field lies at the left of a step down of its upper edge, and of a step up of its lower.
        let at_left = (b.y < a.y) == upper;
        let mut blocked: Vec<(Length, Length, usize)> = Vec::new();
        for (i, hole) in self.holes.iter().enumerate() {
            let (x0, x1) = (hole.rect.x0, hole.rect.x1);
            if if at_left { x0 < a.x && a.x <= x1 } else { x0 <= a.x && a.x < x1 } {
                blocked.push((hole.rect.y0, hole.top_at(a.x), i));
            }
        }
        // Along the step, which may go down: its measure grows from `a` to `b`.
        let down = b.y < a.y;
        let along = |y: Length| if down { a.y - y } else { y - a.y };
        let mut blocked: Vec<(Length, Length, usize)> = blocked
            .into_iter()
            .map(|(y0, y1, i)| (along(y0).min(along(y1)), along(y0).max(along(y1)), i))
            .collect();
        blocked.sort();
        let end = along(b.y);
        let at = |t: Length| Point::new(a.x, if down { a.y - t } else { a.y + t });
        let mut t = Length::ZERO;
        for (from, to, hole) in blocked.into_iter().filter(|(from, to, _)| *from < end && *to > Length::ZERO)
        {
            if t < from {
                edge.free(at(t), at(from));
            }
            if t < to {
                edge.block(hole);
                t = to;
            }
        }
        if t < end {
            edge.free(at(t), b);
        }
    }

    /// The upright line at `x`, from below, without the parts in or on a hole.
    pub fn upright_runs(&self, x: Length) -> Vec<Run> {
        let mut blocked: Vec<(Length, Length, usize)> = self
            .holes
            .iter()
            .enumerate()
            .filter(|(_, h)| h.rect.x0 <= x && x <= h.rect.x1)
            .map(|(i, h)| (h.rect.y0, h.top_at(x), i))
            .collect();
        blocked.sort();
        let top = self.top.least_at(x);
        let (mut y, mut from) = (self.bottom.most_at(x), None);
        let mut runs = Vec::new();
        let mut close = |y: Length, end: Length, from: Option<usize>, to: Option<usize>| {
            if y < end {
                runs.push(Run { from, to, ..Run::new(vec![Point::new(x, y), Point::new(x, end)]) });
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
        blocked.extend(self.holes.iter().filter_map(|h| h.span_at(y)));
        let run = |(a, b)| Run::new(vec![Point::new(a, y), Point::new(b, y)]);
        without(span, blocked).into_iter().map(run).collect()
    }

    /// The stretches, left to right, where the field reaches into a band of heights and no hole takes
    /// the whole height of the band.
    pub fn stretches(&self, band: (Length, Length)) -> Vec<(Length, Length)> {
        let span = (self.x0, self.x1);
        let mut blocked = self.outside(span, band);
        let whole = self.holes.iter().filter(|h| h.rect.y0 <= band.0);
        blocked.extend(whole.filter_map(|h| h.span_at(band.1)));
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
        let rect = hole.rect;
        let upright = |x: Length, left: bool| -> Vec<(Length, Length)> {
            if x <= self.x0 || x >= self.x1 {
                return Vec::new();
            }
            // At a step the field beside the hole counts, not that behind it.
            let (low, high) = if left {
                (self.bottom.at(x), self.top.at(x))
            } else {
                (self.bottom.after(x), self.top.after(x))
            };
            let span = (rect.y0.max(low), hole.springing().min(high));
            let covers = self.others(index).filter(|(i, h)| {
                let (x0, x1) = (h.rect.x0, h.rect.x1);
                let beyond = if left { x0 < x && x <= x1 } else { x0 <= x && x < x1 };
                let same_edge = *i < index && (if left { x0 == x } else { x1 == x });
                beyond || same_edge
            });
            without(span, covers.map(|(_, h)| (h.rect.y0, h.top_at(x))).collect())
        };
        let level = |y: Length, over: bool| -> Vec<(Length, Length)> {
            let span = (rect.x0.max(self.x0), rect.x1.min(self.x1));
            let mut blocked: Vec<(Length, Length)> = self
                .others(index)
                .filter(|(i, h)| {
                    let (y0, y1) = (h.rect.y0, h.rect.y1);
                    let beyond = if over { y0 <= y && y < y1 } else { y0 < y && y <= y1 };
                    let same_edge = *i < index && (if over { y1 == y } else { y0 == y });
                    beyond || same_edge
                })
                .filter_map(|(_, h)| h.span_at(y))
                .collect();
            blocked.extend(self.outside(span, (y, y)));
            without(span, blocked)
        };
        let line = |a: (Length, Length), b: (Length, Length)| {
            Run::new(vec![Point::new(a.0, a.1), Point::new(b.0, b.1)])
        };
        let mut parts: Vec<Run> = Vec::new();
        parts.extend(upright(rect.x0, true).into_iter().map(|(a, b)| line((rect.x0, a), (rect.x0, b))));
        if hole.is_arched() {
            parts.extend(self.arch_runs(index));
        } else {
            parts.extend(level(rect.y1, true).into_iter().map(|(a, b)| line((a, rect.y1), (b, rect.y1))));
        }
        let down = upright(rect.x1, false).into_iter().rev();
        parts.extend(down.map(|(a, b)| line((rect.x1, b), (rect.x1, a))));
        let back = level(rect.y0, false).into_iter().rev();
        parts.extend(back.map(|(a, b)| line((b, rect.y0), (a, rect.y0))));
        chain(parts)
    }

    /// The parts of the arch of hole `index` that border on the field, left to right.
    fn arch_runs(&self, index: usize) -> Vec<Run> {
        let hole = self.holes[index];
        let (x0, x1) = (hole.rect.x0.max(self.x0), hole.rect.x1.min(self.x1));
        if x0 >= x1 {
            return Vec::new();
        }
        let borders = |x: Length| {
            let p = Point::new(x, hole.top_at(x));
            self.bottom.most_at(x) < p.y
                && p.y < self.top.least_at(x)
                && !self.others(index).any(|(_, other)| other.holds(p))
        };
        // Where the edge begins and ends, found by halving to the nanometre between points of the arch.
        let places: Vec<Length> = hole.arc_points(x0, x1, self.within).iter().map(|p| p.x).collect();
        let mut spans: Vec<(Length, Length)> = Vec::new();
        for pair in places.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let span = match (borders(a), borders(b)) {
                (false, false) if !borders(a + (b - a) / 2) => continue,
                (false, false) => (a, b),
                (true, true) => (a, b),
                (true, false) => (a, turn(a, b, &borders)),
                (false, true) => (turn(b, a, &borders), b),
            };
            match spans.last_mut() {
                Some(last) if last.1 == span.0 => last.1 = span.1,
                _ => spans.push(span),
            }
        }
        let run =
            |(a, b): (Length, Length)| Run::round(hole.arc_points(a, b, self.within), hole.arc_length(a, b));
        spans.into_iter().filter(|(a, b)| a < b).map(run).collect()
    }

    fn others(&self, index: usize) -> impl Iterator<Item = (usize, &Hole)> {
        self.holes.iter().enumerate().filter(move |(i, _)| *i != index)
    }
}

/// The place farthest from `yes`, towards `no`, that still passes the test.
fn turn(yes: Length, no: Length, test: &impl Fn(Length) -> bool) -> Length {
    let (mut yes, mut no) = (yes, no);
    while (no - yes).abs() > Length::nanometres(1) {
        let middle = yes + (no - yes) / 2;
        if test(middle) { yes = middle } else { no = middle }
    }
    yes
}

/// The runs of an edge as it is gone along, left to right.
#[derive(Default)]
struct Edge {
    runs: Vec<Run>,
    /// The hole passed last.
    passed: Option<usize>,
}

impl Edge {
    fn free(&mut self, a: Point, b: Point) {
        match self.runs.last_mut() {
            Some(run) if run.to.is_none() && run.path.last() == Some(&a) => run.path.push(b),
            _ => self.runs.push(Run { from: self.passed, ..Run::new(vec![a, b]) }),
        }
    }

    fn block(&mut self, hole: usize) {
        if let Some(run) = self.runs.last_mut()
            && run.to.is_none()
        {
            run.to = Some(hole);
        }
        self.passed = Some(hole);
    }
}

/// Joins parts that follow one another, the last to the first included.
fn chain(parts: Vec<Run>) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for part in parts {
        match runs.last_mut() {
            Some(last) if last.path.last() == part.path.first() => last.extend(part),
            _ => runs.push(part),
        }
    }
    let meets = match (runs.first(), runs.last()) {
        (Some(first), Some(last)) => runs.len() > 1 && last.path.last() == first.path.first(),
        _ => false,
    };
    if meets && let Some(mut last) = runs.pop() {
        last.extend(std::mem::replace(&mut runs[0], Run::new(Vec::new())));
        runs[0] = last;
    }
    runs
}

/// Where the line from `a` to `b`, which runs to the right, lies in or on a hole, left to right.
fn met(a: Point, b: Point, hole: &Hole) -> Vec<(Length, Length)> {
    let Some(line) = Profile::new(vec![a, b]) else { return Vec::new() };
    let rect = hole.rect;
    let straight = within_heights(&line, rect.x0, rect.x1, rect.y0, hole.springing());
    if !hole.is_arched() {
        return straight;
    }
    // Over the springing: where the line lies below the arch, which is one part, for an arch is round.
    let mut found = straight;
    for (from, to) in within_heights(&line, rect.x0, rect.x1, hole.springing(), rect.y1) {
        let under = |x: Length| on_line(a, b, x) <= hole.top_at(x);
        let most = highest(from, to, |x| hole.top_at(x) - on_line(a, b, x));
        if under(most) {
            let left = if under(from) { from } else { turn(most, from, &under) };
            let right = if under(to) { to } else { turn(most, to, &under) };
            if left < right {
                found.push((left, right));
            }
        }
    }
    found
}

/// The place between `from` and `to` where a measure that rises and then falls is greatest.
fn highest(mut from: Length, mut to: Length, measure: impl Fn(Length) -> Length) -> Length {
    while to - from > Length::nanometres(2) {
        let third = (to - from) / 3;
        let (a, b) = (from + third, to - third);
        if measure(a) < measure(b) { from = a } else { to = b }
    }
    from
}

/// The height of the line from `a` to `b` at `x`.
fn on_line(a: Point, b: Point, x: Length) -> Length {
    if x == b.x { b.y } else { a.y + (b.y - a.y).scale((x - a.x).nm(), (b.x - a.x).nm()) }
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
