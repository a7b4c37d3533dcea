//! The plan: the border between the rooms that compute and the rooms that draw.
//!
//! Every number on any sheet stands here, and two sheets that show one number read it from the
//! same field. Three spaces:
//!
//! * **wall**: origin at the wall's left end on the level datum, x right, y up;
//! * **ribbon**: the walls of a room unrolled left to right from the kill corner; x right along
//!   the ribbon, y up from the same datum, so ribbon y equals wall y;
//! * **bolt**: u right from the left edge of the cloth, face up; v along the cloth from the first
//!   cut. The top of every upright drop has the smaller v, so v runs against wall y.

mod change;
mod costs;
mod cutting;
mod options;
mod told;
mod work;

use serde::Serialize;

use crate::geom::{Point, Rect};
use crate::job::model::{Assumption, Job, SurveyCheck};
use crate::units::{Angle, Length};

pub use change::*;
pub use costs::*;
pub use cutting::*;
pub use options::*;
pub use work::*;

/// A complete plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Plan {
    /// The job it was made from.
    pub job: Job,
    /// One for each room of the job, in its order.
    pub rooms: Vec<RoomPlan>,
    /// Every piece of cloth; a [`PieceId`] is an index into this list.
    pub pieces: Vec<Piece>,
    /// One for each cloth of the job, in its order.
    pub cloths: Vec<ClothPlan>,
    /// The cloth that comes back when covered openings are cut free.
    pub cut_outs: Vec<CutOut>,
    /// The starts that each pattern could have, compared; empty until [`super::options::offer`] has
    /// added them.
    pub options: Vec<RoomOptions>,
    /// Openings treated the other way, by room; empty until [`super::pieced::compare`] has filled it.
    pub opening_trials: Vec<OpeningTrial>,
    /// What to buy.
    pub purchases: Vec<Purchase>,
    /// What it all costs; `None` when the job gives no prices.
    pub costs: Option<Costs>,
    /// What to bring.
    pub tools: Vec<String>,
    /// The order of work.
    pub steps: Vec<Step>,
    /// Working days that the crew needs for the steps, begun ones included.
    pub days: i64,
    /// Battens as they are cut from what is bought, one entry for each bought length.
    pub batten_stock: Vec<BattenStock>,
    /// The survey checked by itself: see [`crate::job::survey`].
    pub survey: Vec<SurveyCheck>,
    /// The cautions that this job raises.
    pub cautions: Vec<Caution>,
    /// What the plan found that every reader must know, in sentences: run-off at a crown, a broken
    /// preference, the corner that will not match.
    pub watch: Vec<String>,
    /// The same of what concerns those who buy, cut and hang, and not the designer: a joint of batting
    /// where it should not be, a survey that does not agree with itself.
    pub work_watch: Vec<String>,
    /// What only those who buy and cut the cloth must watch: its flaws, and what to claim from the mill.
    pub mill_watch: Vec<String>,
    /// Everything assumed: the job's list and what planning added.
    pub assumptions: Vec<Assumption>,
    /// What was really done, where the job notes it; see [`super::record`].
    pub built: Vec<BuiltEntry>,
    /// What has changed since another issue of the job; `None` until a caller has compared the two: see
    /// [`super::compare`].
    pub change: Option<Change>,
}

impl Plan {
    /// Everything to watch, what concerns every reader first.
    pub fn all_to_watch(&self) -> impl Iterator<Item = &String> {
        self.watch.iter().chain(&self.mill_watch).chain(&self.work_watch)
    }

    /// Which way a cloth of the job hangs.
    pub fn way(&self, cloth: usize) -> Way {
        let mut rooms = self.job.rooms.iter().zip(&self.rooms);
        rooms.find(|(room, _)| room.cloth == cloth).map_or(Way::Upright, |(_, plan)| plan.registration.way)
    }
}

/// An index into [`Plan::pieces`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct PieceId(pub usize);

/// A wall of the job: its room and its place in the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct WallRef {
    /// Index into the rooms.
    pub room: usize,
    /// Index into the room's walls.
    pub wall: usize,
}

/// The plan of one room.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RoomPlan {
    /// Wall indices in ribbon order, from the kill corner.
    pub ribbon: Vec<usize>,
    /// The ribbon's whole length: the perimeter of a closed room.
    pub length: Length,
    /// Where the pattern lies on the ribbon.
    pub registration: Registration,
    /// The corner where the pattern does not meet; `None` for an open run, for plain cloth, when
    /// it meets exactly, or when a wall beside the corner has no cloth.
    pub kill: Option<Kill>,
    /// One for each corner of the room.
    pub corners: Vec<CornerPlan>,
    /// One for each wall of the room.
    pub walls: Vec<WallPlan>,
    /// The trim runs of the room, in the order they are fitted.
    pub trim: Vec<TrimRun>,
    /// The room seen from above, for the key plan.
    pub outline: Outline,
}

/// A room seen from above, drawn from wall widths and corner angles; see [`super::outline`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Outline {
    /// The room's corners in order, with any error of closing spread over the walls: x right, y up,
    /// the first corner at the origin and the first wall running to the right.
    pub points: Vec<Point>,
    /// How far the survey's end misses its start after the angles were balanced; zero for an open run.
    pub miss: Length,
    /// How far the turns at the corners, together, exceed a full turn; zero for an open run.
    pub angle_miss: Angle,
}

/// Which way the cloth of a room hangs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// The bolt's length runs up the walls, the top of each piece nearer to the bolt's first cut.
    Upright,
    /// The bolt's length runs along the walls: the left end of each piece nearer to the bolt's first
    /// cut, the bolt's left edge below.
    Railroaded,
}

/// The pattern's origin on the ribbon: the centre of a motif stands at (`x0`, `y0`).
///
/// How motifs and match lines go with one another is told in [`crate::plan::lattice`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Registration {
    /// Along the ribbon.
    pub x0: Length,
    /// Above the datum.
    pub y0: Length,
    /// Which way the cloth hangs.
    pub way: Way,
    /// Where the match line of column 0 stands: along the ribbon, half a horizontal repeat to the
    /// left of `x0`; or, railroaded, above the datum, half a horizontal repeat below `y0`. Column j
    /// stands j horizontal repeats to its right, or above it.
    pub match_line: Length,
    /// Why there, in words.
    pub why: String,
}

/// How the pattern fails to meet at the end of a closed ribbon.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Kill {
    /// Index of the corner.
    pub corner: usize,
    /// How far the pattern that arrives is ahead of the pattern that begins, across; at most
    /// half a repeat along the wall either way.
    pub miss_across: Length,
    /// The same up the wall (positive: the arriving motif stands higher), for that shift across.
    pub miss_up: Length,
    /// Why this corner, in words.
    pub why: String,
}

/// What happens at a corner.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CornerPlan {
    /// Its place on the ribbon, from the left; the kill corner stands at 0 and at the end.
    pub x: Length,
    /// The cloth width that the match consumes at this corner beyond the allowances, when the
    /// next panel is begun from what is left of the width, or of the railroaded length, that ended the
    /// last one; always less than one horizontal repeat, or one vertical repeat when railroaded. Zero for plain cloth and where cloth meets no cloth.
    pub consumed: Length,
    /// The treatment, each a sentence the crew can follow, in order.
    pub treatment: Vec<String>,
    /// Hem tape needed at the folded edge; zero at an inside corner.
    pub hem_tape: Length,
    /// Adhesive bead needed; zero at an inside corner.
    pub adhesive: Length,
    /// The corner's height of cloth.
    pub height: Length,
}

/// What happens on one wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WallPlan {
    /// Where the wall's left end stands on the ribbon.
    pub x: Length,
    /// The height, above the datum, at which places along the wall are taped from its left corner: within
    /// the field all along the wall where one level is, and near the height of the eyes or, where corners
    /// lean, near mid height.
    pub tape_height: Length,
    /// Where the plumb line stands that the panel is hung to, in wall coordinates.
    pub plumb: Length,
    /// What of the panel is held to it.
    pub plumb_mark: PlumbMark,
    /// The centre of a motif that the height of the panel is set by, in wall coordinates: of those whose repeat
    /// is whole in sight the one nearest the plumb line, and of these the highest; where none is whole, of those
    /// whose centre is in sight. `None` for plain cloth and where there is none.
    pub hang_motif: Option<Point>,
    /// The edge of the field that cloth covers, counter-clockwise from the lower left, in wall
    /// coordinates.
    pub field: Vec<Point>,
    /// The panel; `None` on a wall without cloth.
    pub panel: Option<Panel>,
    /// Joints between pieces of batting, each on the wall where it is stapled.
    pub batting_joints: Vec<BattingJoint>,
    /// Battens, where the wall needs them.
    pub battens: Vec<Batten>,
    /// Batting pieces, left to right.
    pub batting: Vec<BattingPiece>,
    /// Staple lines, in the order they are driven.
    pub staples: Vec<StapleLine>,
    /// How far the top of the field departs from level over the wall, where the pattern runs off
    /// against it; zero when it is level to within a quarter inch, raked, or the cloth plain.
    pub run_off_top: Length,
    /// The same at the bottom.
    pub run_off_bottom: Length,
    /// How far the top of the field rises over the wall where it is meant to slope; zero otherwise.
    pub rake_top: Length,
    /// The same at the bottom.
    pub rake_bottom: Length,
}

/// What of a panel is held to the plumb line, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PlumbMark {
    /// A seam.
    Seam,
    /// The centres of a column of motifs.
    Motifs,
    /// A mark made at the panel's top and bottom for it.
    Mark,
}

/// The cloth of one wall, sewn in one piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Panel {
    /// The strips, left to right; at least one.
    pub strips: Vec<Strip>,
    /// The seams, left to right; one fewer than strips, plus the joints of pieced openings.
    pub seams: Vec<Seam>,
    /// Cloth beyond the wall's left end.
    pub left: PanelEdge,
    /// Cloth beyond the wall's right end.
    pub right: PanelEdge,
    /// The sewn panel before hanging, in wall coordinates: from its left cut edge to its right.
    pub gross: Rect,
}

impl Panel {
    /// The labels of the pairs of strips that are sewn together, in the order of [`Panel::joined`].
    pub fn joints(&self) -> Vec<String> {
        self.joined().into_iter().map(|(a, b)| format!("{}-{}", a.label, b.label)).collect()
    }

    /// The pairs of strips that are sewn together, left and right, from the left and from above: more than
    /// there are seams where pieces over and under an opening lie in one of them.
    pub fn joined(&self) -> Vec<(&Strip, &Strip)> {
        let mut pairs = Vec::new();
        for seam in &self.seams {
            let left = self.strips.iter().filter(|strip| strip.net.x1 == seam.x);
            for (a, b) in left.flat_map(|a| self.strips.iter().map(move |b| (a, b))) {
                if b.net.x0 == seam.x && a.net.y0 < b.net.y1 && b.net.y0 < a.net.y1 {
                    pairs.push((a, b));
                }
            }
        }
        pairs
    }
}

/// An end of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct PanelEdge {
    /// What becomes of it.
    pub finish: EdgeFinish,
    /// Cloth beyond the corner, lean included.
    pub allowance: Length,
}

/// What becomes of an end of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum EdgeFinish {
    /// Pulled into an inside corner, stapled, trimmed.
    Pulled,
    /// Stapled and trimmed at a free end.
    Ended,
    /// Carried round an outside corner and stapled on the next wall.
    Wrapped,
    /// Folded under and glued over the wrap.
    Folded,
}

/// One width of cloth, or part of one, on a wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Strip {
    /// Its label, such as "3B": the wall's label and a letter from the left.
    pub label: String,
    /// The piece that it is cut from.
    pub piece: PieceId,
    /// What it covers, from seam to seam or to the wall's end, in wall coordinates; y spans the
    /// field over that width.
    pub net: Rect,
    /// Where a left match line of the cloth stands for it, in wall coordinates: on its left seam,
    /// or one match width before its right seam; may lie outside the wall. Of a railroaded piece a
    /// height: that of a match line at or under its lower edge. A part strip may be
    /// cut from another place of the width (see [`Piece::column`]).
    pub match_line: Length,
}

/// A vertical seam.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Seam {
    /// Its label: the two strips, such as "3A-3B".
    pub label: String,
    /// Its place, in wall coordinates.
    pub x: Length,
    /// Lower end.
    pub y0: Length,
    /// Upper end.
    pub y1: Length,
    /// The parts in sight, between openings: pairs of lower and upper end, from below.
    pub in_sight: Vec<(Length, Length)>,
    /// The nearest casing or corner, measured across; which tells a sliver.
    pub clearance: Length,
}

/// What a piece of cloth is cut for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// A wall that it lies on.
    Wall(WallRef),
    /// A sample: index into [`crate::job::model::Cloth::samples`].
    Sample(usize),
}

impl Purpose {
    /// The wall; `None` for a sample.
    pub const fn wall(self) -> Option<WallRef> {
        match self {
            Purpose::Wall(wall) => Some(wall),
            Purpose::Sample(_) => None,
        }
    }
}

/// A rectangle of cloth with a required place in the pattern.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Piece {
    /// What it is for.
    pub kind: PieceKind,
    /// Its label, unique in the plan: a strip's label, or such as "T4" for a trim strip.
    pub label: String,
    /// Index of its cloth.
    pub cloth: usize,
    /// The wall it lies on, or the sample that it is.
    #[serde(flatten)]
    pub purpose: Purpose,
    /// What shows or is covered when hung, on the ribbon. A sample has a space of its own: x across the cloth,
    /// y against the order of cutting, and its middle, where the centre of a motif stands if one is asked
    /// for, at the origin.
    pub net: Rect,
    /// What is cut, in the same space: the net rectangle and all allowances.
    pub gross: Rect,
    /// What may show across the cloth, and so must keep off the selvages: from left to right on the
    /// ribbon, the net width, and at an end of a wall the lean of the corner too; or, railroaded, from
    /// below to above the net height.
    pub face: (Length, Length),
    /// Whether its pattern must meet the pattern of the wall. False for plain cloth and for trim
    /// that needs no match; `phase` and `column` are then zero and mean nothing.
    pub matched: bool,
    /// How far past a motif row along the bolt the cut begins, `0..vertical`, when the piece is laid
    /// as `cut` says: see [`crate::plan::lattice`].
    pub phase: Length,
    /// Which match line of the room ([`Registration::match_line`] plus this many horizontal
    /// repeats) lies on the left match line of the cloth, when the piece is laid as `cut` says.
    pub column: i64,
    /// Its place on a bolt.
    pub cut: Cut,
}

impl Piece {
    /// The wall that it lies on; `None` for a sample.
    pub fn wall(&self) -> Option<WallRef> {
        self.purpose.wall()
    }

    /// A piece that has no place on a bolt yet.
    #[expect(clippy::too_many_arguments, reason = "each is a field")]
    pub fn unplaced(
        kind: PieceKind,
        label: String,
        cloth: usize,
        purpose: Purpose,
        net: Rect,
        gross: Rect,
        face: (Length, Length),
        matched: bool,
    ) -> Self {
        let (phase, column, cut) = (Length::ZERO, 0, Cut::default());
        Piece { kind, label, cloth, purpose, net, gross, face, matched, phase, column, cut }
    }
}

/// Cloth that a covered opening gives back when it is cut free after stapling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct CutOut {
    /// The wall.
    pub wall: WallRef,
    /// The opening: index into the wall's openings.
    pub opening: usize,
    /// The piece of which it is a part; its pattern is therefore known.
    pub piece: PieceId,
    /// What can be used of it, on the ribbon: inside the casing's outer edge, from seam to seam.
    pub usable: Rect,
}

/// Kinds of piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PieceKind {
    /// A drop that uses the whole width of the cloth.
    Drop,
    /// A drop narrower than the cloth, at an end of a wall.
    PartDrop,
    /// A piece whose length runs along the wall, as high as the cloth on it.
    Railroaded,
    /// A piece over or under a pieced opening.
    OpeningPiece,
    /// A strip for trim that runs up the wall: cut up the bolt, or across it when the cloth is
    /// railroaded.
    UprightStrip,
    /// A strip for trim that runs along the wall: cut across the bolt, or along it when the cloth is
    /// railroaded.
    LevelStrip,
    /// A sample, which no wall needs.
    Sample,
}
