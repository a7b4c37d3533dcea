//! What a job says, as a change tells it.

use serde::Serialize;

use super::Pair;
use crate::geom::Point;
use crate::money::Money;
use crate::units::{Angle, Length, LengthFormat, UnitSystem};

/// What a job says.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Value {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// A number.
    Count(i64),
    /// An amount of money, which only the contractor is told.
    Money(Money),
    /// Words.
    Words(String),
    /// A measure along a wall.
    Line(Line),
    /// A width at the top, in the middle and at the bottom.
    Widths([Length; 3]),
    /// From so far from the left end of a wall to so far.
    Stretch(Length, Length),
    /// From a point of a wall to another.
    Run(Point, Point),
    /// A cut on a bolt, as in [`Cut`](crate::plan::model::Cut).
    Cut {
        /// From the left edge.
        u: Length,
        /// From the bolt's start.
        v: Length,
        /// Across.
        width: Length,
        /// Along.
        length: Length,
    },
}

/// A measure that may differ along a wall, such as its height.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Line {
    /// At the left end.
    pub left: Length,
    /// Between the ends, left to right.
    pub inside: Vec<(Station, Length)>,
    /// At the right end.
    pub right: Length,
}

/// A place along a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Station {
    /// Half way.
    Middle,
    /// So far from the left end.
    At(Length),
}

impl Value {
    /// The value in words, in a job's way of printing lengths.
    pub fn words(&self, format: &LengthFormat) -> String {
        match self {
            Value::Length(length) => format.print(*length),
            Value::Angle(angle) => angle.words(),
            Value::Count(count) => count.to_string(),
            Value::Money(money) => money.print(),
            Value::Words(words) => words.clone(),
            Value::Line(line) => line.words(format),
            Value::Widths([top, middle, bottom]) if top == middle && middle == bottom => {
                format.print(*middle)
            }
            Value::Widths([top, middle, bottom]) => {
                let [top, middle, bottom] = [top, middle, bottom].map(|width| format.print(*width));
                format!("{top} top, {middle} middle, {bottom} bottom")
            }
            Value::Stretch(from, to) => format!("{} to {}", format.print(*from), format.print(*to)),
            Value::Cut { u, v, width, length } => {
                let [u, v, width, length] = [u, v, width, length].map(|length| format.print(*length));
                format!("{width} × {length}, {v} from the bolt's start and {u} from its left edge")
            }
            Value::Run(from, to) => {
                let point =
                    |point: &Point| format!("{}, {} up", format.print(point.x), format.print(point.y));
                format!("from {} to {}", point(from), point(to))
            }
        }
    }

    /// By how much `now` is more than `self`, where both are lengths, or measures that have all grown by
    /// the same.
    pub fn grown_to(&self, now: &Value) -> Option<Length> {
        let (was, now) = (self.lengths(), now.lengths());
        let by = *now.first()? - *was.first()?;
        let all = was.len() == now.len() && was.iter().zip(&now).all(|(was, now)| *now - *was == by);
        (all && by != Length::ZERO).then_some(by)
    }

    /// The one measure that stands for all: the middle width, the height at the left.
    pub fn brief(&self) -> Value {
        match self {
            Value::Line(Line { left, .. }) => Value::Length(*left),
            Value::Widths([_, middle, _]) => Value::Length(*middle),
            other => other.clone(),
        }
    }

    fn lengths(&self) -> Vec<Length> {
        match self {
            Value::Length(length) => vec![*length],
            Value::Line(Line { left, inside, right }) => {
                let inside = inside.iter().map(|(_, height)| *height);
                std::iter::once(*left).chain(inside).chain([*right]).collect()
            }
            Value::Widths(widths) => widths.to_vec(),
            _ => Vec::new(),
        }
    }
}

impl Line {
    fn words(&self, format: &LengthFormat) -> String {
        if self.inside.is_empty() && self.left == self.right {
            return format.print(self.left);
        }
        let inside = self.inside.iter().map(|(station, height)| match station {
            Station::Middle => format!("{} in the middle", format.print(*height)),
            Station::At(x) => format!("{} at {}", format.print(*height), format.print(*x)),
        });
        let left = format!("{} left", format.print(self.left));
        let right = format!("{} right", format.print(self.right));
        let all: Vec<String> = std::iter::once(left).chain(inside).chain([right]).collect();
        all.join(", ")
    }
}

impl Pair<&Value> {
    /// Both in words, printed as finely as is needed to tell them apart.
    pub fn words(self, format: &LengthFormat) -> Pair<String> {
        let finest = LengthFormat { step: Length::nanometres(1), system: UnitSystem::Millimetres };
        let metric = LengthFormat { system: UnitSystem::Millimetres, ..*format };
        let tries = [*format, format.exact(), metric.exact(), finest];
        let mut told = tries.iter().map(|format| self.map(|value| value.words(format)));
        told.clone().find(|pair| !pair.same()).or(told.next_back()).unwrap_or_default()
    }
}
