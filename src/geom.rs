//! Points, rectangles and height profiles in exact lengths.
//!
//! The axis directions are those of the space a value lies in: on a wall and on the ribbon x grows
//! to the right (seen from inside the room) and y grows **up** from the level datum; on a bolt u
//! grows from the left selvage and v from the cut end; on paper x grows to the right and y grows
//! **down** from the top left corner of the sheet.

use serde::Serialize;

use crate::units::Length;

mod hole;
mod profile;

pub use hole::Hole;
pub use profile::{Profile, Step};

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

    /// Whether the straight line from `a` to `b` meets the rectangle, edges included; by its bounds, which
    /// is exact for upright and level lines and errs to the side of meeting for raked ones.
    pub fn meets(&self, a: Point, b: Point) -> bool {
        a.x.max(b.x) >= self.x0
            && a.x.min(b.x) <= self.x1
            && a.y.max(b.y) >= self.y0
            && a.y.min(b.y) <= self.y1
    }

    /// The rectangle grown by `by` on every side.
    pub fn grown(&self, by: Length) -> Rect {
        Rect { x0: self.x0 - by, y0: self.y0 - by, x1: self.x1 + by, y1: self.y1 + by }
    }
}
