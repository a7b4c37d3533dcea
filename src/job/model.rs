//! The checked job: the border between the rooms that read and the rooms that plan.
//!
//! What stands here is resolved and proven in range. There is no `Option` that means "default":
//! a value the file left out has been filled in and listed in [`Job::assumptions`].
//!
//! Lengths on a wall: origin at the wall's left end (seen from inside the room) on the room's
//! level datum, x to the right, y up.

use serde::Serialize;

use crate::picture::Picture;
use crate::units::{Length, LengthFormat};

mod bolt;
mod built;
mod cloth;
mod prices;
mod room;
mod survey;

pub use bolt::{Claim, CutMade, Flaw, Label, Measured, OnHand, Points};
pub use built::{AsBuilt, BuiltNote, BuiltPiece, BuiltSeam};
pub use cloth::{ClothHang, Direction, Nap, Sample, Shrinkage};
pub use prices::{Goods, Prices};
pub use room::{
    AcrossWish, Corner, CornerKind, Fixing, FixingKind, Head, Moulding, Opening, OpeningCloth, OpeningKind,
    RegistrationWish, Room, Service, ServiceKind, Side, Substrate, Wall,
};
pub use survey::{Amiss, BothEnds, CheckKind, CrossChecks, SurveyCheck, SurveyLimits};

/// A whole job, ready to be planned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Job {
    /// Number, title, people, dates.
    pub facts: Facts,
    /// How lengths are printed and on which paper.
    pub print: PrintWish,
    /// The cloths; rooms refer to them by index.
    pub cloths: Vec<Cloth>,
    /// The batting under the cloth.
    pub batting: Batting,
    /// What covers the edges.
    pub trims: Trims,
    /// Allowances and spacings of the house.
    pub house: House,
    /// How fast the work goes.
    pub rates: Rates,
    /// What things cost; `None` when the costs are not to be reckoned.
    pub prices: Option<Prices>,
    /// The rooms, in the order of the file; at least one.
    pub rooms: Vec<Room>,
    /// What was done otherwise than planned; `None` until the file notes it.
    pub as_built: Option<AsBuilt>,
    /// Every value that the file did not give.
    pub assumptions: Vec<Assumption>,
}

/// A value that was not in the job file, and where the value used instead comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Assumption {
    /// What was assumed, in one sentence with its figure.
    pub text: String,
    /// Where the figure comes from: a publication, "common practice, no source", or "from memory".
    pub source: String,
}

/// The facts of the title block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Facts {
    /// The job's number, at most 16 characters.
    pub number: String,
    /// The job's title, at most 40 characters.
    pub title: String,
    /// Where the work is; may be empty.
    pub place: String,
    /// Who installs (the legal owner of the drawings); may be empty.
    pub installer: String,
    /// Who cuts and sews; may be empty.
    pub workroom: String,
    /// Who approves; may be empty.
    pub designer: String,
    /// Date of issue, ISO 8601; empty when the file gives none (then the sheets leave a blank to fill).
    pub date: String,
    /// The revisions, oldest first; never empty.
    pub revisions: Vec<Revision>,
    /// Free notes for the cover.
    pub notes: Vec<String>,
    /// The sets of sheets that the job wishes for, without doubles; empty for all.
    pub sets: Vec<SetWish>,
}

/// A set of sheets that a job may wish for, by its reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum SetWish {
    /// The crew's.
    Crew,
    /// The workroom's.
    Workroom,
    /// The designer's.
    Approval,
    /// The contractor's.
    Costs,
    /// Whoever repairs the room later.
    Record,
}

impl SetWish {
    /// All sets, in the order that they are written.
    pub const ALL: [SetWish; 5] =
        [SetWish::Crew, SetWish::Workroom, SetWish::Approval, SetWish::Costs, SetWish::Record];

    /// The word used in job files, in file names and on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            SetWish::Crew => "crew",
            SetWish::Workroom => "workroom",
            SetWish::Approval => "approval",
            SetWish::Costs => "costs",
            SetWish::Record => "record",
        }
    }
}

/// One row of the revision table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Revision {
    /// One or two letters.
    pub index: String,
    /// ISO 8601, or empty.
    pub date: String,
    /// What changed.
    pub text: String,
}

/// Sheet sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// 8.5 x 11 in (ASME Y14.1 A).
    Letter,
    /// 11 x 17 in (ASME Y14.1 B).
    Tabloid,
    /// 12 x 18 in (architectural size B; from memory).
    #[serde(rename = "arch-b")]
    ArchB,
    /// 210 x 297 mm (ISO 216).
    A4,
    /// 297 x 420 mm (ISO 216).
    A3,
}

/// How to print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct PrintWish {
    /// The sheet size.
    pub paper: Paper,
    /// How lengths are printed.
    pub format: LengthFormat,
}

/// The unit that cloth and trim are sold in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum SoldIn {
    /// Whole yards.
    Yard,
    /// Whole metres.
    Metre,
}

impl SoldIn {
    /// One unit.
    pub const fn length(self) -> Length {
        match self {
            SoldIn::Yard => Length::yards(1),
            SoldIn::Metre => Length::mm(1000),
        }
    }
}

/// A cloth.
///
/// Across the cloth, with its face up and the top of the pattern away from the reader: u = 0 at
/// the left edge. Two match lines stand at `left_match` and `left_match + match_width`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Cloth {
    /// The name that rooms use.
    pub name: String,
    /// The whole width, selvages included.
    pub width: Length,
    /// The selvage at each edge, which may lie in a seam allowance but never shows.
    pub selvage: Length,
    /// From the left edge to the left match line.
    pub left_match: Length,
    /// Between the match lines: what one width covers on the wall. A whole number of horizontal
    /// repeats when there is a pattern. Beyond either line lie at least the selvage and a seam allowance.
    pub match_width: Length,
    /// The pattern; `None` is a free match (plain cloth).
    pub pattern: Option<Lattice>,
    /// What its label says of the three above and the width, where bolts were measured, which decides;
    /// `None` where none was.
    pub label: Option<Label>,
    /// Which way it hangs.
    pub hang: ClothHang,
    /// Whether it may be turned.
    pub direction: Direction,
    /// Which way its pile lies; only a one-way cloth has one.
    pub nap: Nap,
    /// What it is sold in.
    pub sold_in: SoldIn,
    /// Extra length ordered beyond the plan.
    pub spare: Length,
    /// What it loses when it is relaxed before cutting. All its other measures are what is left then.
    pub shrinkage: Shrinkage,
    /// The bolts that there are, when the job says so: then nothing is ordered.
    pub on_hand: Vec<OnHand>,
    /// The most points in 100 square yards with which a bolt is accepted; `None` when none are agreed.
    pub most_points: Option<u32>,
    /// Samples that are cut with the pieces of the walls, in the order of the file, one for each piece.
    pub samples: Vec<Sample>,
    /// Longest piece that a supplier delivers, or the longest on hand, as it is once relaxed; cuts never cross from one piece to the next.
    pub bolt_length: Length,
    /// Whether metal is woven into it or printed on it: it must keep clear of live parts.
    pub metallic: bool,
    /// The fire class and test that the maker states; empty when not known.
    pub fire_class: String,
    /// One repeat of the pattern as it hangs upright: `horizontal` wide, from match line to match line,
    /// and `vertical` high, with the centre of the motif in its middle. `None` when the job has none.
    pub picture: Option<Picture>,
}

/// The pattern: it repeats by (0, `vertical`) and by (`horizontal`, down `drop`).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Lattice {
    /// Horizontal repeat H, across the bolt however the cloth hangs; positive, divides the match width exactly.
    pub horizontal: Length,
    /// Vertical repeat V, along the bolt however the cloth hangs; positive.
    pub vertical: Length,
    /// How far the design falls for each horizontal repeat to the right; `0 <= drop < vertical`.
    /// Zero is a straight match, half the vertical repeat a half drop.
    pub drop: Length,
}

/// Batting on the roll.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Batting {
    /// Thickness.
    pub loft: Length,
    /// Width of the roll.
    pub roll_width: Length,
    /// Length of the roll.
    pub roll_length: Length,
    /// Space left to crown, base and casings.
    pub gap: Length,
    /// How far a piece is carried past an outside corner onto the next wall. Default 4 in (common
    /// practice, no source).
    pub carry: Length,
    /// Which way it hangs.
    pub hang: BattingHang,
    /// Whether it is foamed plastic, which has fire limits of its own.
    pub foamed: bool,
    /// The fire class and test that the maker states; empty when not known.
    pub fire_class: String,
}

/// Which way batting hangs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BattingHang {
    /// Lengths side by side: its joints keep clear of the seams of the cloth.
    Upright,
    /// The roll along the walls, course over course: its joints cross the seams.
    Lying,
    /// Whichever takes less of the roll, and then has the shorter joints; upright when equal.
    Least,
}

/// The trims of the job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Trims {
    /// In inside corners and at free ends.
    pub corner: Trim,
    /// Beside and over openings.
    pub opening: Trim,
    /// At the crown or the top edge.
    pub top: Trim,
    /// At the base or the bottom edge.
    pub bottom: Trim,
}

/// A trim and how it is made or bought.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Trim {
    /// What it is.
    pub kind: TrimKind,
    /// What it is called in this job, such as "crown braid".
    pub name: String,
    /// The width of the strip cut from the room's cloth; zero for bought trim.
    pub strip: Length,
    /// The diameter of the cord in a welt; zero for bought trim. Default 5/32 in (published: a
    /// single welt of 5/32 in cord in a 1-1/2 in strip).
    pub cord: Length,
    /// Whether a strip's pattern must meet the pattern of the wall it lies on.
    pub matched: bool,
    /// One unbroken length round the room.
    pub unbroken: bool,
    /// Whether a welt's strips are cut from what openings give back, where pattern and size allow.
    pub from_cut_outs: bool,
    /// The unit in which bought trim (or the cord of a welt) is told.
    pub sold_in: SoldIn,
    /// What one of it holds as it is sold: one `sold_in`, or a whole roll.
    pub each: Length,
}

/// Kinds of trim.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TrimKind {
    /// One cord sewn in a strip of the cloth.
    SingleWelt,
    /// Two cords sewn in a strip of the cloth.
    DoubleWelt,
    /// Bought braid.
    Braid,
    /// Bought gimp.
    Gimp,
    /// Bought flat band.
    FlatBand,
    /// The edge stays without trim.
    None,
}

impl TrimKind {
    /// What the trade calls it.
    pub const fn words(self) -> &'static str {
        match self {
            TrimKind::SingleWelt => "single welt",
            TrimKind::DoubleWelt => "double welt",
            TrimKind::Braid => "braid",
            TrimKind::Gimp => "gimp",
            TrimKind::FlatBand => "flat band",
            TrimKind::None => "no trim",
        }
    }
}

/// Allowances, spacings and limits; every one has a default with a source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct House {
    /// Cloth beyond a match line at each seam.
    pub seam_allowance: Length,
    /// Cloth beyond the field at the top, to pull and trim.
    pub top_allowance: Length,
    /// Cloth beyond the field at the bottom.
    pub bottom_allowance: Length,
    /// Cloth beyond the wall at an inside corner or a free end, to pull and trim.
    pub pull_allowance: Length,
    /// Cloth carried round an outside corner onto the next wall.
    pub wrap_allowance: Length,
    /// Cloth turned under at the folded edge of an outside corner.
    pub fold_allowance: Length,
    /// Narrowest bit of cloth allowed between a seam and a corner or casing.
    pub smallest_sliver: Length,
    /// How firmly the rules for seams are kept.
    pub seam_rules: SeamRules,
    /// How far measures of the survey that check one another may differ.
    pub survey: SurveyLimits,
    /// Cloth staples along top, bottom, inside corners and casings.
    pub edge_staples: Length,
    /// Cloth staples along the wrap of an outside corner.
    pub wrap_staples: Length,
    /// Temporary tacks.
    pub tack_staples: Length,
    /// Batting staples at the edges.
    pub batting_edge_staples: Length,
    /// Batting staples along a butt joint.
    pub batting_butt_staples: Length,
    /// Staple legs, by what they are driven into through cloth and batting.
    pub legs: Legs,
    /// Staples in a box.
    pub staples_per_box: u32,
    /// Least distance from a batting joint to a cloth seam.
    pub joint_clearance: Length,
    /// Narrowest piece of batting hung at the end of a wall. Default 6 in (common practice, no
    /// source).
    pub smallest_batting: Length,
    /// Added at each end and each joint of a trim run. Default 2 in (common practice, no source).
    pub trim_end: Length,
    /// Staples bought beyond the count, in hundredths of it, for misfires and staples drawn again.
    /// Default 10 (common practice, no source).
    pub staple_waste: u32,
    /// A roll of paper-backed hem tape. Default 10 yd, or 10 m (from memory).
    pub hem_tape_roll: Length,
    /// The bead that one tube of adhesive lays. Default 30 ft (derived: 10 fl oz, 18 cu in, in a bead
    /// 1/4 in across).
    pub tube_bead: Length,
    /// Air pressure at the stapler, in pounds per square inch; 0 for a stapler without air.
    /// Default 80 (common practice, no source).
    pub stapler_psi: u32,
    /// A batten as it is sold: its length. Default 8 ft, or 2400 mm (common practice, no source).
    pub batten_length: Length,
    /// A batten's face width. Default 1-1/2 in (common practice, no source).
    pub batten_width: Length,
    /// A batten's thickness out from the wall. Default 3/4 in (common practice, no source).
    pub batten_thickness: Length,
    /// Greatest distance between the screws of a batten.
    pub batten_screws: Length,
    /// How long those screws are. Default 2 in, or 50 mm (common practice, no source: a batten of 3/4 in
    /// and 1-1/4 in of wall).
    pub screw_length: Length,
    /// Screws in a box. Default 100 (from memory).
    pub screws_per_box: u32,
    /// Lengths of thread that go into one length of seam, both threads of the machine together.
    pub thread_times: u32,
    /// Thread on a spool.
    pub thread_spool: Length,
    /// Whether trim at top and bottom is fitted before trim in corners and round openings.
    pub level_trim_first: bool,
    /// How many people.
    pub crew: u32,
}

/// How firmly a house keeps its rules for seams; see [`crate::plan`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SeamRules {
    /// No seam runs through a box.
    pub through_box: Firmness,
    /// No seam stands nearer a corner or a casing than [`House::smallest_sliver`].
    pub sliver: Firmness,
}

/// How firmly a rule is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Firmness {
    /// A hard rule: where it cannot be kept, no plan is made.
    Never,
    /// A preference: kept where the match leaves such a place, and named where it does not.
    Avoid,
}

/// Staple legs by substrate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Legs {
    /// Into gypsum board.
    pub drywall: Length,
    /// Into plaster on lath.
    pub plaster: Length,
    /// Into wooden panelling, and into battens.
    pub wood: Length,
}

impl Legs {
    /// The leg for a wall of this substrate; masonry is stapled in its battens.
    pub const fn on(&self, substrate: Substrate) -> Length {
        match substrate {
            Substrate::Drywall => self.drywall,
            Substrate::Plaster => self.plaster,
            Substrate::Panelling | Substrate::Masonry => self.wood,
        }
    }
}

/// How fast one person works, and how long a day is. All are estimates until a job gives its own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Rates {
    /// Staples in cloth driven in an hour, pulling and smoothing included.
    pub staples_per_hour: u32,
    /// Batting hung in an hour, stapling and cutting out included: length off the roll.
    pub batting_per_hour: Length,
    /// Battens fixed in an hour.
    pub battens_per_hour: Length,
    /// Seam pinned to the match, sewn and pressed in an hour.
    pub seam_per_hour: Length,
    /// Welt sewn in an hour.
    pub welt_per_hour: Length,
    /// Trim glued in an hour.
    pub trim_per_hour: Length,
    /// Minutes to cut and label a piece of cloth.
    pub cut_minutes: u32,
    /// Minutes to cut an opening free.
    pub opening_minutes: u32,
    /// Minutes for one round of work on a box: its plate off, its cloth cut, its plate back.
    pub box_minutes: u32,
    /// Minutes to crease, tape and glue an outside corner.
    pub fold_minutes: u32,
    /// Minutes that a glued fold is left alone before anything else is done to it.
    pub hold_minutes: u32,
    /// Minutes for a step that has no rate of its own.
    pub step_minutes: u32,
    /// Working minutes in a day.
    pub day_minutes: u32,
    /// Minutes for a meal in the middle of it, in which glue goes on holding; may be 0.
    pub meal_minutes: u32,
}
