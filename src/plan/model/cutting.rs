//! How the cloths are cut: bolts, lays, and the place of each piece.

use serde::Serialize;

use super::{PieceId, Way};
use crate::job::model::Cloth;
use crate::units::Length;

/// A place on a bolt; the rectangle is (u, v) to (u + width, v + length).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// Index into the cloth's bolts.
    pub bolt: usize,
    /// The lay that it is cut from: index into the bolt's lays.
    pub lay: usize,
    /// Number in cutting order, from 1, over the whole job: those of a further cloth run on.
    pub number: usize,
    /// From the left edge.
    pub u: Length,
    /// From the bolt's first cut.
    pub v: Length,
    /// Across.
    pub width: Length,
    /// Along.
    pub length: Length,
    /// The cut already made that it lies in, to within the step that lengths are printed in: an index
    /// into [`OnHand::cuts`](crate::job::model::OnHand::cuts) of its bolt. `None` for one still to be made.
    pub made: Option<usize>,
    /// The first motif centre on it, or where none lies on it the nearest one of the bolt; `None` on plain cloth,
    /// for a piece that needs no match, and where the bolt has none past its first cut.
    pub motif: Option<CutMotif>,
}

/// Where a motif's centre lies on a cut, or beside it: then a place is negative or beyond the cut's other end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct CutMotif {
    /// Along the bolt, from where the cut begins: its top, or its left end when it is railroaded.
    pub along: Length,
    /// Across the bolt, from the cut's left edge, which is its lower edge when it is railroaded.
    pub across: Length,
}

impl CutMotif {
    /// How far off the cut it lies, along and across together; zero on it.
    pub fn off(&self, cut: &Cut) -> Length {
        let beyond = |at: Length, size: Length| (-at).max(at - size).max(Length::ZERO);
        beyond(self.along, cut.length) + beyond(self.across, cut.width)
    }
}

/// The cutting of one cloth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ClothPlan {
    /// The bolts, in cutting order.
    pub bolts: Vec<Bolt>,
    /// Length used over all bolts.
    pub used: Length,
    /// Allowance because the pattern's phase at a bolt's start is not known: one vertical repeat
    /// for each bolt whose first motif has no known place; zero for plain cloth.
    pub phase_allowance: Length,
    /// The stated spare.
    pub spare: Length,
    /// What the three above lose when the cloth is relaxed: so much more is delivered.
    pub shrinks: Length,
    /// What to order: the four above, rounded up once to what it is sold in; nothing when the job says
    /// what bolts there are.
    pub order: Length,
    /// `order` counted in what it is sold in.
    pub order_units: i64,
    /// A proved lower bound on `used`: for these pieces on as many bolts, each wall that one bolt holds on one, cut
    /// straight across into lays at most a yard or a repeat longer than the longest piece, and then lengthwise.
    pub bound: Length,
    /// Whole widths among the drops (drops and part drops each counted once).
    pub widths: usize,
    /// What would be used if no samples were cut; as much as is used where none are.
    pub without_samples: Length,
    /// What the drops, part drops and opening pieces would use if no strips for trim and no samples were cut: what
    /// the hand rules, which know nothing of trim, are fairly compared with.
    pub drops_alone: Length,
    /// What the published hand rules would order for the same drops, before rounding, for comparison.
    pub hand_rules: Vec<HandRule>,
    /// So much more is used than if the bolts had no flaws; nothing when they have none, or none but accepted.
    pub round_flaws: Length,
    /// Cloth covering the walls divided by cloth used, in thousandths.
    pub use_thousandths: i64,
    /// What it takes upright and railroaded, in this order; empty for a cloth that cannot be turned.
    pub compared: Vec<Trial>,
}

/// What a cloth takes when it hangs one way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Trial {
    /// The way.
    pub way: Way,
    /// The length used over all bolts; zero when it cannot hang so.
    pub used: Length,
    /// What would be ordered, counted in what the cloth is sold in.
    pub order_units: i64,
    /// Seams and joints in all its panels.
    pub seams: usize,
    /// Why it cannot hang so, in words; empty when it can.
    pub why_not: String,
}

/// What a hand rule says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct HandRule {
    /// Its name: "round-up" (each cut to the next whole repeat) or "add-one" (each cut plus one repeat).
    pub name: String,
    /// The length by that rule.
    pub length: Length,
    /// What the plan uses less than the rule: `length` minus [`ClothPlan::drops_alone`]. Negative
    /// when the rule comes short of what the match needs.
    pub saved: Length,
}

/// One bolt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Bolt {
    /// Which of the bolts that there are, as an index into [`Cloth::on_hand`];
    /// `None` for one that is ordered.
    pub on_hand: Option<usize>,
    /// Length used.
    pub used: Length,
    /// How far past a motif row the first cut is made, `0..vertical`; zero for plain cloth.
    pub start: Length,
    /// The cuts across the full width, in order along the bolt.
    pub lays: Vec<Lay>,
    /// What has become of the cuts already made from it, in the order of
    /// [`OnHand::cuts`](crate::job::model::OnHand::cuts).
    pub made: Vec<Made>,
}

/// What a cut already made is good for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Made {
    /// The piece that it serves; `None` when it was made in vain.
    pub serves: Option<PieceId>,
    /// Why it serves none, in words; empty when it does.
    pub why: String,
}

impl Bolt {
    /// Its number on the sheets, when it is the bolt `index` of its cloth's plan: of bolts on hand their
    /// place in the job file, from 1.
    pub fn number(&self, index: usize) -> usize {
        self.on_hand.unwrap_or(index) + 1
    }

    /// How much of what is used is still to be cut off: from the last lay that is off it already to the end of the
    /// last.
    pub fn to_come(&self) -> Length {
        let done = self.lays.iter().filter(|lay| lay.made).map(|lay| lay.v1).max();
        self.used - done.unwrap_or_default()
    }

    /// Its dye lot, where the job says so.
    pub fn lot<'a>(&self, cloth: &'a Cloth) -> Option<&'a str> {
        let bolt = cloth.on_hand.get(self.on_hand?)?;
        Some(&bolt.lot)
    }
}

/// A length of bolt between two cuts across its full width; its pieces are then cut lengthwise.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Lay {
    /// Where it starts.
    pub v0: Length,
    /// Where it ends.
    pub v1: Length,
    /// Its pieces, left to right, then from the bolt's start.
    pub pieces: Vec<PieceId>,
    /// Whether it is off the bolt already. Then it is as long as the cuts made from it, its pieces need
    /// not lie in columns, and it may hold none.
    pub made: bool,
}
