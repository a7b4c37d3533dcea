//! Measures of a survey that check one another, and what the checks come to.

use serde::Serialize;

use crate::units::{Angle, Length, LengthFormat};

/// Measures of a wall that the plan does not need and the survey is checked by.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct CrossChecks {
    /// Places that were taped from both ends of the wall.
    pub both_ends: Vec<BothEnds>,
    /// The wall of another room, or of this one, whose other side this wall is, as wide as this one:
    /// indices of the room and of its wall.
    pub back_of: Option<(usize, usize)>,
}

/// An opening or a box with its distances from both ends of its wall: together they are as wide as
/// the wall, if all are right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BothEnds {
    /// Its label.
    pub label: String,
    /// From the wall's left end; what the plan uses.
    pub from_left: Length,
    /// Its clear width; zero for a box, which is taped to its middle.
    pub width: Length,
    /// From the wall's right end.
    pub from_right: Length,
}

/// How far measures that check one another may differ. All are common practice without a source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SurveyLimits {
    /// By how much a closed room may fail to close. Default 2 in, or 50 mm.
    pub closing: Length,
    /// It may also fail to close by one part in so many of the way round. Default 200.
    pub closing_part: u32,
    /// By how much the corners of a closed room together may miss a full turn. Default 2 degrees.
    pub angles: Angle,
    /// How far the widths of a wall at top, middle and bottom may differ. Default 3 in, or 75 mm.
    pub widths: Length,
    /// How far a middle height may be out of line with the ends. Default 3 in, or 75 mm.
    pub heights: Length,
    /// How far the heights of two walls at their common corner, or their floors, may differ. Default 3/4 in, or 20 mm.
    pub corner: Length,
    /// How far what was taped from both ends may miss the wall's width. Default 1/2 in, or 12 mm.
    pub both_ends: Length,
    /// How far the widths of a wall's two sides may differ. Default 1 in, or 25 mm.
    pub back: Length,
}

/// Kinds of check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CheckKind {
    /// A closed room's walls come back to where they start.
    Closing,
    /// Its corners turn once round.
    Turning,
    /// A wall is as wide at the top as at the bottom.
    Widths,
    /// A wall is square by its diagonals.
    Square,
    /// A ceiling's middle lies in line with its ends.
    Heights,
    /// Two walls are equally high at their corner.
    Corner,
    /// The floors of two walls come to one level at their corner.
    Floor,
    /// An opening or a box and its distances from both ends make up the wall.
    BothEnds,
    /// A wall is as wide as its other side in another room.
    Back,
}

/// An amount by which a survey can be out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Amiss {
    /// In nanometres; never negative.
    Length(Length),
    /// In microdegrees; never negative.
    Angle(Angle),
}

impl Amiss {
    /// In words, in a job's way of printing lengths.
    pub fn words(self, format: &LengthFormat) -> String {
        match self {
            Amiss::Length(length) => format.print(length),
            Amiss::Angle(angle) => angle.words(),
        }
    }
}

/// Two or more measures that ought to agree, and how far they do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SurveyCheck {
    /// What was compared.
    pub kind: CheckKind,
    /// Index of the room.
    pub room: usize,
    /// Indices of the room's walls that it concerns; none for a check of the whole room.
    pub walls: Vec<usize>,
    /// Index of the corner that it concerns.
    pub corner: Option<usize>,
    /// The figures that were compared, in one sentence without a full stop.
    pub text: String,
    /// How far they disagree.
    pub out_by: Amiss,
    /// How far they may.
    pub limit: Amiss,
    /// What to measure again if that is too far.
    pub again: String,
}

impl SurveyCheck {
    /// Whether the measures disagree by more than they may.
    pub fn fails(&self) -> bool {
        match (self.out_by, self.limit) {
            (Amiss::Length(out), Amiss::Length(limit)) => out > limit,
            (Amiss::Angle(out), Amiss::Angle(limit)) => out > limit,
            _ => false,
        }
    }
}
