//! Bolts that there are, as they were received.

use serde::Serialize;

use super::Job;
use crate::units::Length;

/// A bolt that there is or that is on its way.
///
/// Places on it are told as on its plan: v along the cloth from its start, u from its left edge.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OnHand {
    /// Its length, once relaxed.
    pub length: Length,
    /// Its dye lot: no wall is cut from two.
    pub lot: String,
    /// From its start to the first centre of a motif in the column next to the left match line, less than
    /// one vertical repeat; zero for plain cloth. `None` where it is not known: then cutting begins
    /// somewhere in the first repeat, and that is where v is told from. A bolt that has cuts has one.
    pub first_motif: Option<Length>,
    /// What is cut from it already, in the order of the file. None lies off the bolt, and no two overlap
    /// by more than the step that lengths are printed in.
    pub cuts: Vec<CutMade>,
}

impl OnHand {
    /// A bolt of which no more is known.
    pub fn new(length: Length, lot: impl Into<String>) -> Self {
        OnHand { length, lot: lot.into(), first_motif: None, cuts: Vec::new() }
    }

    /// How far past a motif row the bolt starts, `0..vertical`, where that is known.
    pub fn start(&self, vertical: Length) -> Option<Length> {
        self.first_motif.map(|first| (-first).rem_euclid(vertical))
    }
}

/// A piece that is cut already: the rectangle (u, v) to (u + width, v + length) of its bolt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CutMade {
    /// The label that it was cut by.
    pub label: String,
    /// From the left edge.
    pub u: Length,
    /// From the bolt's start.
    pub v: Length,
    /// Across.
    pub width: Length,
    /// Along.
    pub length: Length,
    /// Whether it is of no use any more.
    pub spoiled: bool,
}

impl Job {
    /// What the labels of all that is cut for a wall begin with: the wall's label, and before it the number
    /// of its room where another room has a wall of that label: "3", or "R2-3". `room` and `wall` are
    /// indices.
    pub fn mark(&self, room: usize, wall: usize) -> String {
        let label = &self.rooms[room].walls[wall].label;
        let others = self.rooms.iter().enumerate().filter(|(other, _)| *other != room);
        let shared =
            others.flat_map(|(_, room)| &room.walls).any(|wall| wall.label.eq_ignore_ascii_case(label));
        if shared { format!("R{}-{label}", room + 1) } else { label.clone() }
    }
}
