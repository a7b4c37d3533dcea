//! What to buy and what to bring. Each need is summed exactly and rounded once, at the end.

mod fixings;
mod goods;
mod tools;
mod trims;

use std::collections::BTreeMap;

use super::batting::forward;
use super::model::{Amount, Plan, Purchase, StapleLine, TrimRun};
use crate::job::model::{Goods, SoldIn};
use crate::units::Length;

pub use tools::tools;

/// Everything to buy, rounded once to what it is sold in.
pub fn purchases(plan: &Plan) -> Vec<Purchase> {
    let mut list = goods::cloths(plan);
    list.extend(goods::batting(plan));
    list.extend(fixings::battens(plan));
    list.extend(fixings::staples(plan));
    list.extend(goods::thread(plan));
    list.extend(fixings::extenders(plan));
    list.extend(goods::corner_supplies(plan));
    list.extend(trims::trims(plan));
    list
}

/// A need by length and what holds it: `count` units of `each`.
struct ByLength {
    goods: Goods,
    item: String,
    unit: &'static str,
    need: Length,
    each: Length,
    count: i64,
    sold_in: SoldIn,
    reason: String,
}

impl ByLength {
    fn purchase(self) -> Purchase {
        Purchase {
            goods: self.goods,
            item: self.item,
            count: self.count,
            unit: self.unit.to_owned(),
            need: Amount::Length(self.need, self.sold_in),
            bought: Amount::Length(self.each * self.count, self.sold_in),
            reason: self.reason,
        }
    }
}

/// The unit in which lengths are summed on the list when what is bought has none of its own.
fn sold_in(plan: &Plan) -> SoldIn {
    plan.job.cloths.first().map_or(SoldIn::Yard, |c| c.sold_in)
}

/// How many times `each` is needed to reach at least `count`.
fn whole(count: i64, each: i64) -> i64 {
    (count + each - 1) / each
}

pub(crate) fn lines(plan: &Plan) -> impl Iterator<Item = &StapleLine> {
    plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.staples)
}

fn runs(plan: &Plan) -> impl Iterator<Item = &TrimRun> {
    plan.rooms.iter().flat_map(|r| &r.trim)
}

/// Boxes with live parts on the clothed walls of some rooms, by how far the surface comes forward.
pub(crate) fn boxes_by_depth(plan: &Plan, of: impl Fn(usize) -> bool) -> Vec<(Length, Vec<&str>)> {
    let mut depths: BTreeMap<Length, Vec<&str>> = BTreeMap::new();
    let rooms = plan.job.rooms.iter().enumerate().filter(|(i, _)| of(*i));
    for wall in rooms.flat_map(|(_, r)| &r.walls).filter(|w| w.clothed) {
        for fixing in wall.fixings_in_field().filter(|f| f.kind.electrical()) {
            depths.entry(forward(&plan.job, wall)).or_default().push(&fixing.label);
        }
    }
    depths.into_iter().collect()
}

/// Labels of the boxes with live parts on clothed walls.
pub(crate) fn electrical(plan: &Plan) -> Vec<&str> {
    let walls = plan.job.rooms.iter().flat_map(|r| &r.walls).filter(|w| w.clothed);
    walls
        .flat_map(|w| w.fixings_in_field())
        .filter(|f| f.kind.electrical())
        .map(|f| f.label.as_str())
        .collect()
}
