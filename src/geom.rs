//! Points, rectangles and height profiles in exact lengths.
//!
//! The axis directions are those of the space a value lies in: on a wall and on the ribbon x grows
//! to the right (seen from inside the room) and y grows **up** from the level datum; on a bolt u
//! grows from the left selvage and v from the cut end; on paper x grows to the right and y grows
//! **down** from the top left corner of the sheet.

use serde::Serialize;

use crate::units::Length;

/// A point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Point {
    /// Across, to the right.
    pub x: Length,
    /// Up on a wall, down on paper.
    pub y: Length,
}

impl Point {
    /// The point at (`x`, `y`).
    pub const fn new(x: Length, y: Length) -> Self {
        Point { x, y }
    }
}

/// A rectangle with sides along the axes; `x0 <= x1` and `y0 <= y1`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Rect {
    /// Least x.
    pub x0: Length,
    /// Least y.
    pub y0: Length,
    /// Greatest x.
    pub x1: Length,
    /// Greatest y.
    pub y1: Length,
}

impl Rect {
    /// The rectangle between two opposite corners, given in any order.
    pub fn new(x0: Length, y0: Length, x1: Length, y1: Length) -> Self {
        Rect { x0: x0.min(x1), y0: y0.min(y1), x1: x0.max(x1), y1: y0.max(y1) }
    }

    /// The extent along x.
    pub fn width(&self) -> Length {
        self.x1 - self.x0
    }

    /// The extent along y.
    pub fn height(&self) -> Length {
        self.y1 - self.y0
    }

    /// Whether the two rectangles share more than an edge.
    pub fn overlaps(&self, other: &Rect) -> bool {
        self.x0 < other.x1 && other.x0 < self.x1 && self.y0 < other.y1 && other.y0 < self.y1
    }

    /// Whether `other` lies within this rectangle, edges included.
    pub fn contains(&self, other: &Rect) -> bool {
        self.x0 <= other.x0 && self.y0 <= other.y0 && other.x1 <= self.x1 && other.y1 <= self.y1
    }

    /// The rectangle grown by `by` on every side.
    pub fn grown(&self, by: Length) -> Rect {
        Rect { x0: self.x0 - by, y0: self.y0 - by, x1: self.x1 + by, y1: self.y1 + by }
    }
}

/// A line over the width of a wall, such as the underside of the crown: points with strictly
/// growing x, the first at x = 0 and the last at the wall's width, straight between them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Profile {
    points: Vec<Point>,
}

impl Profile {
    /// A profile through `points`; at least two, with strictly growing x. `None` otherwise.
    pub fn new(points: Vec<Point>) -> Option<Self> {
        let growing = points.len() >= 2 && points.windows(2).all(|p| p[0].x < p[1].x);
        growing.then_some(Profile { points })
    }

    /// The points, left to right.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The height at `x`, rounded to the nanometre; beyond either end, the height at that end.
    pub fn at(&self, x: Length) -> Length {
        let first = self.points[0];
        if x <= first.x {
            return first.y;
        }
        for pair in self.points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            if x <= b.x {
                return a.y + (b.y - a.y).scale((x - a.x).nm(), (b.x - a.x).nm());
            }
        }
        self.points[self.points.len() - 1].y
    }

    /// The greatest height between `x0` and `x1`.
    pub fn max_between(&self, x0: Length, x1: Length) -> Length {
        self.heights_between(x0, x1).fold(self.at(x0), Length::max)
    }

    /// The least height between `x0` and `x1`.
    pub fn min_between(&self, x0: Length, x1: Length) -> Length {
        self.heights_between(x0, x1).fold(self.at(x0), Length::min)
    }

    /// The part between `x0` and `x1` as points, both ends included.
    pub fn between(&self, x0: Length, x1: Length) -> Vec<Point> {
        let mut part = vec![Point::new(x0, self.at(x0))];
        part.extend(self.points.iter().copied().filter(|p| x0 < p.x && p.x < x1));
        part.push(Point::new(x1, self.at(x1)));
        part
    }

    /// The same line moved up by `by`.
    pub fn raised(&self, by: Length) -> Profile {
        Profile { points: self.points.iter().map(|p| Point::new(p.x, p.y + by)).collect() }
    }

    fn heights_between(&self, x0: Length, x1: Length) -> impl Iterator<Item = Length> + '_ {
        let inner = self.points.iter().filter(move |p| x0 < p.x && p.x < x1).map(|p| p.y);
        inner.chain([self.at(x1)])
    }
}
