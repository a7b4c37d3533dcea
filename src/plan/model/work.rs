//! What lies under and over the cloth, what is bought for it, and the order of the work.

use serde::Serialize;

use super::{CutOut, PieceId, PieceKind, WallRef};
use crate::geom::{Hole, Point, Rect};
use crate::job::model::{Goods, SoldIn};
use crate::units::Length;

/// A batten on a wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Batten {
    /// Its label, unique in the plan, such as "3-b4".
    pub label: String,
    /// Where, in words: "top", "beside D1".
    pub place: String,
    /// Its middle line, in wall coordinates, from the left or from below.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// How long it is; longer than is sold where it is pieced from several lengths.
    pub length: Length,
}

/// A batten as it is bought, and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BattenStock {
    /// What is cut from it, in order: the batten's label and the length.
    pub cuts: Vec<(String, Length)>,
    /// What is left.
    pub rest: Length,
}

/// A piece of batting on a wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BattingPiece {
    /// Its label, such as "3b".
    pub label: String,
    /// What it covers, in wall coordinates, before openings are cut out; may reach past the
    /// right end of the wall where it is carried round an outside corner.
    pub rect: Rect,
    /// The length cut from the roll: its height when it hangs upright, its width when it lies.
    pub cut_length: Length,
    /// What it takes of the roll's width.
    pub cut_width: Length,
    /// What is cut out of it for openings, each with the gap to its casing, and for boxes. An arched one
    /// is given whole, though a part of it may lie in a neighbouring piece.
    pub cut_outs: Vec<Hole>,
}

/// A joint between two pieces of batting, without the parts in openings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct BattingJoint {
    /// One end, in wall coordinates: the left or the lower.
    pub from: Point,
    /// The other end; straight above or level with it.
    pub to: Point,
}

/// A row of staples.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StapleLine {
    /// What it holds.
    pub kind: StapleKind,
    /// Where, in words: "top, from the centre out".
    pub place: String,
    /// The line, in wall coordinates; the line of a wrap stands past the end of its wall, on the
    /// face of the next. A closed line ends on the point where it starts, and a round part is a chain of
    /// chords (see [`Round`]).
    pub path: Vec<Point>,
    /// Its true length along the path.
    pub length: Length,
    /// Greatest spacing.
    pub spacing: Length,
    /// The staple's leg.
    pub leg: Length,
    /// How many staples.
    pub count: i64,
}

/// Kinds of staple line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StapleKind {
    /// Batting at an edge.
    BattingEdge,
    /// Batting along a butt joint.
    BattingButt,
    /// Temporary tacks.
    Tack,
    /// Cloth at the top.
    Top,
    /// Cloth at the bottom.
    Bottom,
    /// Cloth at a side in an inside corner or at a free end.
    Side,
    /// Cloth carried round an outside corner.
    Wrap,
    /// Cloth round a casing.
    Casing,
}

/// A run of trim.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TrimRun {
    /// Its label, such as "T4".
    pub label: String,
    /// Which trim of the job.
    pub place: TrimPlace,
    /// Where, in words: "corner B", "round W1", "crown, whole room".
    pub what: String,
    /// The parts of its path, each on one wall, in wall coordinates.
    pub path: Vec<TrimPath>,
    /// The finished length: the sum over the path.
    pub length: Length,
    /// Added for ends and joints.
    pub extra: Length,
    /// Joints between strips of cloth, the mitres at a casing's corners not counted.
    pub joins: i64,
    /// How each end is made: "mitre", "butt", "closed".
    pub ends: (String, String),
    /// The strips cut for it from the bolt; empty for bought trim.
    pub strips: Vec<PieceId>,
    /// The strips cut for it from cut-outs, where the job wishes that.
    pub cut_out_strips: Vec<CutOutStrip>,
}

/// A strip for trim that is cut from the cloth that an opening gives back, not from the bolt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CutOutStrip {
    /// An upright or a level strip.
    pub kind: PieceKind,
    /// Its label, unique among all pieces.
    pub label: String,
    /// What shows or is covered when fitted, on the ribbon.
    pub net: Rect,
    /// What is cut, on the ribbon, where its pattern belongs.
    pub gross: Rect,
    /// Whether its pattern meets the pattern of the wall.
    pub matched: bool,
    /// What it is cut from.
    pub cut_out: CutOut,
    /// The part of the cut-out, on the ribbon: within `cut_out.usable`, as large as `gross`, and where
    /// the strip is matched with the same pattern.
    pub place: Rect,
}

impl CutOutStrip {
    /// How long it is cut.
    pub fn cut_length(&self) -> Length {
        self.place.width().max(self.place.height())
    }
}

/// A part of a trim run on one wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TrimPath {
    /// Index of the wall in its room.
    pub wall: usize,
    /// The line, in wall coordinates; a round part is a chain of chords.
    pub points: Vec<Point>,
    /// The round parts of the line, in its order.
    pub rounds: Vec<Round>,
}

/// A round part of a line: the chain of its points from `from` to `to`, which are so close together
/// that no chord departs from the arch by more than 0.1 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Round {
    /// Index of its first point.
    pub from: usize,
    /// Index of its last point.
    pub to: usize,
    /// Its true length, along the arch.
    pub length: Length,
}

/// Which of the job's trims.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum TrimPlace {
    /// Inside corners and free ends.
    Corner,
    /// Openings.
    Opening,
    /// Top edge.
    Top,
    /// Bottom edge.
    Bottom,
}

/// Something to buy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Purchase {
    /// What it is, for whoever reckons with it.
    pub goods: Goods,
    /// What it is called in the shop.
    pub item: String,
    /// How many, in `unit`: the need rounded up once.
    pub count: i64,
    /// What it is sold in: "yard", "metre", "roll", "box", "tube".
    pub unit: String,
    /// What the work takes.
    pub need: Amount,
    /// What `count` units hold; never less than `need`.
    pub bought: Amount,
    /// What the need is made up of, and why more than that is bought.
    pub reason: String,
}

impl Purchase {
    /// What is left when the work is done: what was bought less the need.
    pub fn left(&self) -> Amount {
        match (self.bought, self.need) {
            (Amount::Length(bought, sold_in), Amount::Length(need, _)) => {
                Amount::Length(bought - need, sold_in)
            }
            (Amount::Count(bought), Amount::Count(need)) => Amount::Count(bought - need),
            (bought, _) => bought,
        }
    }
}

/// How much of something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amount {
    /// A length, told in this unit.
    Length(Length, SoldIn),
    /// A number of pieces.
    Count(i64),
}

/// What was done otherwise than planned, or must be known for a repair.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BuiltEntry {
    /// The wall.
    pub wall: WallRef,
    /// What it is about: "Seam 1A-1B", "Piece 2C", "Note".
    pub what: String,
    /// What was planned; empty for a note.
    pub planned: String,
    /// What was done, or the note.
    pub built: String,
    /// Why; may be empty.
    pub why: String,
    /// The place that it is about, in wall coordinates.
    pub at: Option<Point>,
}

/// A step in the order of work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Step {
    /// From 1.
    pub number: usize,
    /// The part of the work it belongs to.
    pub stage: Stage,
    /// The room that it is done in (its index), if one.
    pub room: Option<usize>,
    /// The wall it is done on, if one.
    pub wall: Option<WallRef>,
    /// What to do, in one or two sentences.
    pub text: String,
    /// Numbers of the cautions to read before it (indices into [`Plan::cautions`](super::Plan::cautions)).
    pub cautions: Vec<usize>,
    /// Steps (by number) that must be done before it, without those that they need themselves.
    pub after: Vec<usize>,
    /// How many people.
    pub people: u32,
    /// How many minutes it takes them, by the job's rates.
    pub minutes: i64,
    /// How many minutes it is then left alone, as glue is, before a step that needs it.
    pub hold: i64,
    /// When it starts, in working minutes from the start of the work, with the job's crew.
    pub start: i64,
    /// The working day on which it starts, from 1; 0 for what is to be there before the crew comes.
    pub day: i64,
}

/// Parts of the work, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// What is waited for, or measured, before the crew comes.
    Before,
    /// Fixings off, tests, battens.
    Prepare,
    /// Batting up.
    Batting,
    /// Cutting and sewing.
    Sew,
    /// Panels hung and stapled.
    Hang,
    /// Openings cut free.
    Open,
    /// Outside corners folded and glued.
    Corners,
    /// Welt and braid.
    Trim,
    /// Plates back, clean, walk round.
    Finish,
}

/// A caution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// A stable code in words, such as "power-off".
    pub code: &'static str,
    /// A few words for a heading.
    pub title: String,
    /// What to do, in sentences. Local codes and licensed practice decide; that holds for all and is said
    /// once wherever cautions are told ([`crate::plan::cautions::DEFER`]).
    pub text: String,
    /// Where the rule comes from.
    pub source: String,
    /// Why this job raises it.
    pub because: String,
}
