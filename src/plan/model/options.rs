//! The starts that a room's pattern could have, side by side.

use serde::Serialize;

use super::{Kill, Registration, Seam, WallRef};
use crate::units::Length;

/// The starts compared for one room, each planned in full with this room cut by itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RoomOptions {
    /// Index of the room.
    pub room: usize,
    /// The wall whose crown and base are told of, and that the drawing has in its middle: the one
    /// that the job places the pattern on, or else the widest.
    pub wall: usize,
    /// Whether other rooms are cut from the same cloth: then the lengths are not parts of the job's
    /// order, which shares widths between rooms.
    pub shared: bool,
    /// The starts; the job's own first.
    pub options: Vec<RegistrationOption>,
    /// Starts that give no plan: what was asked for, and why not.
    pub impossible: Vec<(String, String)>,
}

/// One start of a pattern, and what comes of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RegistrationOption {
    /// "A", "B" and so on.
    pub letter: String,
    /// What asks for it, in words; several where they come to the same.
    pub names: Vec<String>,
    /// The line of the job file that asks for it.
    pub line: String,
    /// Whether the job asks for it.
    pub chosen: bool,
    /// Whether none of these options takes a shorter order; of cloth on hand, whether none uses less.
    pub least: bool,
    /// Where the pattern lies.
    pub registration: Registration,
    /// Length of cloth used.
    pub used: Length,
    /// Length to order, with what the unknown start of the bolts and the spare take.
    pub order: Length,
    /// The order, counted in what the cloth is sold in.
    pub order_units: i64,
    /// Seams of which some part is in sight.
    pub seams: usize,
    /// The length of seam in sight.
    pub in_sight: Length,
    /// The preferences for seams that it breaks, in sentences.
    pub broken: Vec<String>,
    /// The nearest that a seam comes to a corner or a casing; `None` without seams.
    pub nearest: Option<Length>,
    /// Index of the wall on which that seam is, of equals the first; `None` without seams.
    pub nearest_wall: Option<usize>,
    /// The corner where the pattern does not meet; it depends on the room's girth, not on the start.
    pub kill: Option<Kill>,
    /// How much of the topmost motif the crown of the wall cuts off, `0..vertical`: zero when it is
    /// whole. A motif is taken to fill its repeat. `None` where the edge slopes or steps by more than a run-off:
    /// then each column is cut elsewhere.
    pub crown_cut: Option<Length>,
    /// How much of the lowest motif the base of the wall cuts off, in the same way.
    pub base_cut: Option<Length>,
    /// The seams of each wall of the room.
    pub walls: Vec<Vec<Seam>>,
}

/// One opening treated the other way, pieced where the plan covers it through or covered where it pieces it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpeningTrial {
    /// The wall of the opening.
    pub wall: WallRef,
    /// Index into the wall's openings.
    pub opening: usize,
    /// Whether other rooms are cut from the same cloth: then the lengths compared are those of the room cut
    /// by itself.
    pub shared: bool,
    /// What comes of it; `None` where it cannot be.
    pub other: Option<Compared>,
    /// Why it cannot be, in words; empty where it can.
    pub why_not: String,
}

/// What another way takes and shows more than the plan; less where it is negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Compared {
    /// Length of cloth used.
    pub more_used: Length,
    /// Of the order, counted in what the cloth is sold in.
    pub more_units: i64,
    /// Seams of which some part is in sight.
    pub more_seams: i64,
    /// The length of seam in sight.
    pub more_in_sight: Length,
}
