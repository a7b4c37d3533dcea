//! Bolts that there are, as they were received.

use serde::Serialize;

use super::{Cloth, Job, Lattice};
use crate::units::Length;

/// A bolt that there is or that is on its way.
///
/// Places on it are told as on its plan: v along the cloth from its start, u from its left edge. All
/// measures are of relaxed cloth, unless another thing is said.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OnHand {
    /// Its length, once relaxed.
    pub length: Length,
    /// Its dye lot: no wall is cut from two.
    pub lot: String,
    /// Its length as delivered.
    pub delivered: Length,
    /// What was measured of it besides.
    pub measured: Measured,
    /// From its start to the first centre of a motif in the column next to the left match line, less than
    /// one vertical repeat; zero for plain cloth. `None` where it is not known: then cutting begins
    /// somewhere in the first repeat, and that is where v is told from. A bolt that has cuts or flaws has one.
    pub first_motif: Option<Length>,
    /// What is cut from it already, in the order of the file. None lies off the bolt, and no two overlap
    /// by more than the step that lengths are printed in.
    pub cuts: Vec<CutMade>,
    /// Its flaws, in the order of the file; each begins on the bolt.
    pub flaws: Vec<Flaw>,
    /// Its four-point count.
    pub points: Points,
    /// What can be claimed from the mill.
    pub claims: Vec<Claim>,
}

/// What was measured of a bolt; `None` for what was not.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Measured {
    /// Its whole width.
    pub width: Option<Length>,
    /// Its horizontal repeat.
    pub horizontal: Option<Length>,
    /// Its vertical repeat.
    pub vertical: Option<Length>,
}

/// What a cloth's label says, where a bolt of it has been measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Label {
    /// The whole width.
    pub width: Length,
    /// Between the match lines.
    pub match_width: Length,
    /// The pattern.
    pub pattern: Option<Lattice>,
}

impl OnHand {
    /// A bolt of which no more is known, and which does not shrink.
    pub fn new(length: Length, lot: impl Into<String>) -> Self {
        OnHand {
            length,
            lot: lot.into(),
            delivered: length,
            measured: Measured::default(),
            first_motif: None,
            cuts: Vec::new(),
            flaws: Vec::new(),
            points: Points::default(),
            claims: Vec::new(),
        }
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

/// A flaw: the rectangle (u, v) to (u + width, v + length) of its bolt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Flaw {
    /// What it is; may be empty.
    pub what: String,
    /// From the left edge.
    pub u: Length,
    /// From the bolt's start.
    pub v: Length,
    /// Across.
    pub width: Length,
    /// Along.
    pub length: Length,
    /// Its points, 1 to 4.
    pub points: u32,
    /// Whether it is cut over as if it were not there.
    pub accepted: bool,
}

impl Cloth {
    /// Whether a flaw of the cloth is no hindrance to a cut: it is accepted, or lies within a selvage, which is
    /// in no seam and shows nowhere.
    pub fn is_cut_over(&self, flaw: &Flaw) -> bool {
        flaw.accepted || flaw.u + flaw.width <= self.selvage || flaw.u >= self.width - self.selvage
    }
}

/// The four-point count of a bolt, of cloth as delivered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Points {
    /// The sum, no yard with more than 4.
    pub total: u32,
    /// Hundredths of a point in 100 square yards between the selvages.
    pub per_100_square_yards: i64,
}

/// What can be claimed of a bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Claim {
    /// Its length as delivered is less than its label says.
    Short {
        /// By the label.
        said: Length,
        /// As measured.
        found: Length,
    },
    /// It is narrower than its label says.
    Narrow {
        /// By the label.
        said: Length,
        /// As measured.
        found: Length,
    },
    /// Its horizontal repeat is another than its label says.
    RepeatAcross {
        /// By the label.
        said: Length,
        /// As measured.
        found: Length,
    },
    /// Its vertical repeat is another than its label says.
    RepeatAlong {
        /// By the label.
        said: Length,
        /// As measured.
        found: Length,
    },
    /// It has more points in 100 square yards than are accepted; in hundredths.
    Points {
        /// As many are accepted.
        most: i64,
        /// As many were counted.
        found: i64,
    },
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
