//! A line along an edge of a field: its length, and how the crew names it.

use super::broken::share;
use crate::geom::{Point, Rect};
use crate::job::model::Wall;
use crate::plan::model::Round;
use crate::units::Length;

/// A line along an edge; closed when it ends on the point where it starts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Run {
    /// The line; a round part is a chain of chords.
    pub path: Vec<Point>,
    /// The round parts of the line, in its order.
    pub rounds: Vec<Round>,
    /// The hole that ends it at the left (or below), if one does.
    pub from: Option<usize>,
    /// The hole that ends it at the right (or above), if one does.
    pub to: Option<usize>,
}

/// A part of one leg of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Part {
    /// Which leg of the whole line.
    pub leg: usize,
    /// Where the part begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

impl Run {
    /// A line of straight parts.
    pub fn new(path: Vec<Point>) -> Self {
        Run { path, rounds: Vec::new(), from: None, to: None }
    }

    /// A round line.
    pub(super) fn round(path: Vec<Point>, length: Length) -> Self {
        let rounds = vec![Round { from: 0, to: path.len() - 1, length }];
        Run { rounds, ..Run::new(path) }
    }

    /// The line goes on with one that starts where it ends.
    pub(super) fn extend(&mut self, next: Run) {
        let shift = self.path.len() - 1;
        self.path.extend(next.path.into_iter().skip(1));
        let moved = |r: Round| Round { from: r.from + shift, to: r.to + shift, ..r };
        self.rounds.extend(next.rounds.into_iter().map(moved));
    }

    /// The line of parts of this one's legs that follow each other.
    pub(super) fn of_parts(&self, parts: &[Part]) -> Run {
        let mut path: Vec<Point> = parts.iter().map(|part| part.from).collect();
        path.extend(parts.last().map(|part| part.to));
        let mut rounds = Vec::new();
        for whole in &self.rounds {
            let round = |part: &Part| whole.from <= part.leg && part.leg < whole.to;
            let Some(from) = parts.iter().position(round) else { continue };
            let to = from + parts[from..].iter().take_while(|part| round(part)).count();
            let chords = &self.path[whole.from..=whole.to];
            rounds.push(Round { from, to, length: share(whole.length, &parts[from..to], chords) });
        }
        Run { rounds, ..Run::new(path) }
    }

    /// Its true length.
    pub fn length(&self) -> Length {
        length_along(&self.path, &self.rounds)
    }

    /// Whether it ends on the point where it starts.
    pub fn closed(&self) -> bool {
        self.path.len() > 3 && self.path.first() == self.path.last()
    }
}

/// The length of a line with round parts, each part rounded to the nanometre.
pub(crate) fn length_along(path: &[Point], rounds: &[Round]) -> Length {
    let mut length: Length = rounds.iter().map(|r| r.length).sum();
    for (i, leg) in path.windows(2).enumerate() {
        if !rounds.iter().any(|r| r.from <= i && i < r.to) {
            length += distance(leg[0], leg[1]);
        }
    }
    length
}

/// The length of a line of straight parts, each part rounded to the nanometre.
pub(crate) fn length_of(path: &[Point]) -> Length {
    path.windows(2).map(|p| distance(p[0], p[1])).sum()
}

pub(super) fn distance(a: Point, b: Point) -> Length {
    let (dx, dy) = (i128::from((b.x - a.x).nm()), i128::from((b.y - a.y).nm()));
    // Rounded: the root of four times the square is twice the distance.
    let doubled = (4 * (dx * dx + dy * dy).unsigned_abs()).isqrt();
    Length::nanometres(i64::try_from(doubled.div_ceil(2)).unwrap_or(i64::MAX))
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
