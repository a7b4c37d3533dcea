//! What was really done.

use serde::Serialize;

use crate::geom::Point;
use crate::units::Length;

/// What was done otherwise than planned, for the record set. Whether seams and pieces of these labels are
/// planned, and stand so, is judged by [`crate::plan::record::faults`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AsBuilt {
    /// The day of the last entry, ISO 8601; empty when not given.
    pub date: String,
    /// Seams that stand at another place; no label twice.
    pub seams: Vec<BuiltSeam>,
    /// Pieces that were made otherwise; no label twice.
    pub pieces: Vec<BuiltPiece>,
    /// Notes, in the order of the file.
    pub notes: Vec<BuiltNote>,
}

/// A seam that stands at another place than planned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BuiltSeam {
    /// Its label in the plan.
    pub label: String,
    /// Where it stands, from the wall's left end.
    pub x: Length,
    /// Why; may be empty.
    pub why: String,
}

/// A piece that was cut again, or from another dye lot: one of the two at least.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BuiltPiece {
    /// Its label in the plan.
    pub label: String,
    /// Whether it was cut a second time.
    pub recut: bool,
    /// The dye lot that it is from; empty when that is as planned.
    pub lot: String,
    /// Why; may be empty.
    pub why: String,
}

/// A note about a wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BuiltNote {
    /// Index of the room.
    pub room: usize,
    /// Index of the wall.
    pub wall: usize,
    /// The place that it is about, in wall coordinates, on the wall.
    pub at: Option<Point>,
    /// The note.
    pub text: String,
}
