//! What a job costs.

use serde::Serialize;

use super::Stage;
use crate::money::Money;

/// The costs of a job, for the contractor alone: no other reader's sheets and no file for other
/// programs tells them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Costs {
    /// The currency as it is printed.
    pub currency: String,
    /// One for each purchase that has a price, in the order of the purchases.
    pub lines: Vec<CostLine>,
    /// Purchases without a price: indices into [`Plan::purchases`](super::Plan::purchases).
    pub unpriced: Vec<usize>,
    /// The sum of the lines.
    pub materials: Money,
    /// The work; `None` when the job gives no price of an hour.
    pub labour: Option<Labour>,
    /// Materials and labour.
    pub total: Money,
}

/// The cost of one purchase.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct CostLine {
    /// Index into [`Plan::purchases`](super::Plan::purchases).
    pub purchase: usize,
    /// Of one unit as it is sold.
    pub price: Money,
    /// The price times the count.
    pub sum: Money,
}

/// The cost of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Labour {
    /// Minutes of one person for each part of the work.
    pub stages: Vec<(Stage, i64)>,
    /// Their sum.
    pub minutes: i64,
    /// The price of an hour.
    pub hour: Money,
    /// The price of all minutes, rounded up once.
    pub sum: Money,
}
