//! What differs between two issues of one job: the one model that the terminal, `change.json` and the
//! change sheet are rendered from.
//!
//! Everything is told twice, as it was in the old issue and as it is in the new one, so that the change
//! back is the same model with both exchanged.

mod value;

use serde::Serialize;

use super::{Amount, PieceKind, Stage, TrimPlace, WallRef};
use crate::geom::Rect;
use crate::job::model::{Revision, SetWish, SoldIn};
use crate::money::Money;
use crate::units::Length;

pub use value::{Line, Station, Value};

/// Something in the old issue and in the new one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Pair<T> {
    /// In the old issue.
    pub was: T,
    /// In the new issue.
    pub now: T,
}

impl<T> Pair<T> {
    /// What was, and what is.
    pub const fn new(was: T, now: T) -> Self {
        Pair { was, now }
    }

    /// Both changed by `f`.
    pub fn map<U>(self, f: impl Fn(T) -> U) -> Pair<U> {
        Pair { was: f(self.was), now: f(self.now) }
    }

    /// Both by reference.
    pub const fn as_ref(&self) -> Pair<&T> {
        Pair { was: &self.was, now: &self.now }
    }
}

impl<T: PartialEq> Pair<T> {
    /// Whether both are alike.
    pub fn same(&self) -> bool {
        self.was == self.now
    }
}

/// The change from one issue of a job to another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Change {
    /// The last row of either revision table.
    pub revision: Pair<Revision>,
    /// The row of the revision table that the new sheets stand under: the new job's last, or, where that
    /// is the old job's too, one made up for this change.
    pub row: Revision,
    /// Whether that row was made up: the job file does not have it yet.
    pub row_made_up: bool,
    /// In what the job says, in the order of a job file.
    pub job: Vec<Difference>,
    /// In its prices: for the contractor alone, as the costs are.
    #[serde(skip)]
    pub prices: Vec<Difference>,
    /// In the pieces of cloth.
    pub pieces: Vec<PieceChange>,
    /// In the seams.
    pub seams: Vec<SeamChange>,
    /// In where the pattern stands on a wall.
    pub pattern: Vec<PatternShift>,
    /// In the corners where a pattern does not meet.
    pub kills: Vec<KillChange>,
    /// The cloths, each used and ordered, also those of which it is as much as before.
    pub cloths: Vec<ClothChange>,
    /// In the finished lengths of trim.
    pub trims: Vec<TrimChange>,
    /// In what to buy.
    pub purchases: Vec<PurchaseChange>,
    /// What becomes of the cuts already made, for each cloth of which any is; also where all still serve.
    pub cuts: Vec<CutsChange>,
    /// The work, also where it takes as long as before.
    pub work: WorkChange,
    /// The costs, for the contractor alone: no file for other programs tells them. `None` when one of the
    /// issues gives no prices.
    #[serde(skip)]
    pub costs: Option<CostChange>,
    /// In what a reader must know: sentences that are only in one of the issues.
    pub watch: Pair<Vec<String>>,
    /// The walls that both issues have.
    pub walls: Vec<Pair<WallRef>>,
    /// The changed places of walls.
    pub places: Vec<ChangedPlace>,
    /// On paper.
    pub sheets: Vec<SheetChange>,
}

impl Change {
    /// Whether both issues mean the same.
    pub fn is_empty(&self) -> bool {
        let Change { job, prices, pieces, seams, pattern, kills, trims, purchases, .. } = self;
        job.is_empty()
            && prices.is_empty()
            && pieces.is_empty()
            && seams.is_empty()
            && pattern.is_empty()
            && kills.is_empty()
            && trims.is_empty()
            && purchases.is_empty()
            && !self.cloths.iter().any(ClothChange::is_any)
            && !self.cuts.iter().any(CutsChange::is_any)
            && !self.work.is_any()
            && !self.costs.as_ref().is_some_and(CostChange::is_any)
            && self.watch == Pair::default()
            && self.sheets.is_empty()
    }
}

/// Something that a job says of one of its parts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// The kind of part.
    pub part: JobPart,
    /// What the part is called in either issue; empty where there is none.
    pub name: Pair<String>,
    /// What is said of it, such as "width"; empty when the part itself came or went.
    pub what: String,
    /// What it is; `None` where nothing is said, or where there is no such part.
    pub value: Pair<Option<Value>>,
}

/// The parts of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum JobPart {
    /// The title block, the printing, the notes.
    Job,
    /// A cloth.
    Cloth,
    /// The batting.
    Batting,
    /// A trim.
    Trim,
    /// Allowances and spacings of the house.
    House,
    /// How fast the work goes.
    Rates,
    /// What things cost.
    Prices,
    /// A room.
    Room,
    /// A corner.
    Corner,
    /// A wall.
    Wall,
    /// An opening or a built-in.
    Opening,
    /// A box or a fitting.
    Fixing,
    /// What was really done.
    AsBuilt,
    /// What is assumed because the file does not say it.
    Assumption,
}

/// A wall and what it is called in its issue.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct WallName {
    /// The wall.
    #[serde(flatten)]
    pub at: WallRef,
    /// "wall 3", and its room where there are several.
    pub name: String,
}

/// A change of a piece of cloth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PieceChange {
    /// The wall.
    pub wall: Pair<Option<WallName>>,
    /// The piece; `None` where there is none.
    pub piece: Pair<Option<PieceFacts>>,
}

/// What is told of a piece.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct PieceFacts {
    /// What it is for.
    pub kind: PieceKind,
    /// Its label.
    pub label: String,
    /// Cut along the bolt.
    pub length: Length,
    /// Cut across it.
    pub width: Length,
    /// Where in the pattern its upper left corner lies as it hangs: past a match line and below a motif, each
    /// less than a repeat. `None` when it may lie anywhere.
    pub start: Option<(Length, Length)>,
}

/// A change of a seam.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SeamChange {
    /// The wall.
    pub wall: Pair<Option<WallName>>,
    /// Its label; empty where there is no such seam.
    pub label: Pair<String>,
    /// Its place, from the wall's left end; `None` where there is none.
    pub x: Pair<Option<Length>>,
}

/// A move of the pattern on a wall, by less than one repeat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PatternShift {
    /// The wall.
    pub wall: Pair<WallName>,
    /// To the right.
    pub right: Length,
    /// Up.
    pub up: Length,
}

/// A change of the corner where the pattern of a room does not meet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct KillChange {
    /// What the room is called.
    pub room: Pair<String>,
    /// The corner's name, and by how much it misses across and up; `None` when the pattern meets all round.
    pub kill: Pair<Option<(String, Length, Length)>>,
}

/// A change of a cloth's cutting.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ClothChange {
    /// Its name; empty where there is none.
    pub name: Pair<String>,
    /// What it is sold in.
    pub sold_in: SoldIn,
    /// Length used over all bolts.
    pub used: Pair<Length>,
    /// What to order, counted in what it is sold in; 0 for a cloth that is on hand.
    pub order_units: Pair<i64>,
    /// Whether it is on hand, and nothing ordered.
    pub on_hand: Pair<bool>,
    /// Drops and part drops.
    pub widths: Pair<usize>,
}

impl ClothChange {
    /// Whether there is any.
    pub fn is_any(&self) -> bool {
        let ClothChange { name: _, sold_in: _, used, order_units, on_hand, widths } = self;
        !(used.same() && order_units.same() && on_hand.same() && widths.same())
    }
}

/// What becomes of the cuts already made from a cloth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CutsChange {
    /// The cloth's name; empty where there is none.
    pub name: Pair<String>,
    /// What it is sold in.
    pub sold_in: SoldIn,
    /// Each cut that either issue knows of.
    pub cuts: Vec<CutFate>,
    /// Labels of the pieces that are still to be cut, in cutting order.
    pub to_cut: Pair<Vec<String>>,
    /// What is left on the bolts when all is cut.
    pub left: Pair<Length>,
}

impl CutsChange {
    /// Whether there is any.
    pub fn is_any(&self) -> bool {
        let CutsChange { name: _, sold_in: _, cuts, to_cut, left } = self;
        cuts.iter().any(|cut| !cut.fate.same()) || !to_cut.same() || !left.same()
    }

    /// The cuts that serve no piece of the new issue.
    pub fn in_vain(&self) -> impl Iterator<Item = (&CutFate, &str)> {
        self.cuts.iter().filter_map(|cut| match &cut.fate.now {
            Some(Fate::InVain(why)) => Some((cut, why.as_str())),
            _ => None,
        })
    }
}

/// A cut already made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CutFate {
    /// The label that it was cut by.
    pub label: String,
    /// What becomes of it; `None` in an issue that does not know of it.
    pub fate: Pair<Option<Fate>>,
}

/// What becomes of a cut already made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fate {
    /// It serves the piece of its label.
    Serves,
    /// It serves none, and why.
    InVain(String),
}

/// A change of the trim at one kind of edge.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TrimChange {
    /// Which of the job's trims.
    pub place: TrimPlace,
    /// What it is called.
    pub name: Pair<String>,
    /// The finished length of all its runs.
    pub length: Pair<Length>,
}

/// A change of something to buy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PurchaseChange {
    /// What it is called in the shop.
    pub item: Pair<String>,
    /// What it is sold in; empty where none is bought.
    pub unit: Pair<String>,
    /// How many; 0 where none is bought.
    pub count: Pair<i64>,
    /// What the work takes; `None` where none is bought.
    pub need: Pair<Option<Amount>>,
}

/// A change of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkChange {
    /// Minutes of one person for all of it.
    pub minutes: Pair<i64>,
    /// Working days that the crew needs.
    pub days: Pair<i64>,
    /// Minutes of one person for the parts of the work that take more or less.
    pub stages: Vec<(Stage, Pair<i64>)>,
}

impl WorkChange {
    /// Whether there is any.
    pub fn is_any(&self) -> bool {
        !self.stages.is_empty() || !self.days.same()
    }
}

/// A change of the costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CostChange {
    /// The currency as it is printed.
    pub currency: Pair<String>,
    /// The materials.
    pub materials: Pair<Money>,
    /// The work; nothing where the job gives no price of an hour.
    pub labour: Pair<Money>,
    /// Both.
    pub total: Pair<Money>,
}

impl CostChange {
    /// Whether there is any.
    pub fn is_any(&self) -> bool {
        let CostChange { currency, materials, labour, total } = self;
        !(currency.same() && materials.same() && labour.same() && total.same())
    }
}

/// A place of a wall of the new issue where something has changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ChangedPlace {
    /// The wall.
    pub wall: WallRef,
    /// What has changed there.
    pub what: String,
    /// The place, in wall coordinates: a point or a line has no extent one way.
    pub area: Rect,
}

/// A sheet that changes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct SheetChange {
    /// Whose set it belongs to.
    pub set: SetWish,
    /// Its title; empty where there is no such sheet.
    pub title: Pair<String>,
    /// Its key in the new set; empty where it is gone.
    pub key: String,
}
