//! What things cost: only for the contractor's own sheets.

use serde::Serialize;

use crate::money::Money;

/// Kinds of thing to buy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Goods {
    /// A cloth: index into the job's cloths.
    Cloth(usize),
    /// Rolls of batting.
    Batting,
    /// Battens.
    Battens,
    /// Screws for battens.
    Screws,
    /// Staples of one leg.
    Staples,
    /// Thread.
    Thread,
    /// Box extenders.
    Extenders,
    /// Hem tape.
    HemTape,
    /// Adhesive.
    Adhesive,
    /// Cord for welts.
    Cord,
    /// Bought trim of this name.
    Trim(String),
}

/// A price list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Prices {
    /// The currency as it is to be printed, at most 8 characters.
    pub currency: String,
    /// The price of one unit as it is sold (a yard, a roll, a box), for some of what a job may need; each
    /// kind of goods stands here once at most.
    pub goods: Vec<(Goods, Money)>,
    /// The price of an hour of one person; `None` when work is not to be reckoned.
    pub hour: Option<Money>,
}

impl Prices {
    /// The price of one unit of some goods, if the list has it.
    pub fn of(&self, goods: &Goods) -> Option<Money> {
        self.goods.iter().find(|(listed, _)| listed == goods).map(|(_, price)| *price)
    }
}
