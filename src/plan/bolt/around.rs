//! Lays placed on a bolt that begins at a known place of the pattern, behind what is cut off already.
//!
//! Each lay goes to the first place where its pattern is right and nothing lies yet. That is done in
//! several orders, of which the shortest is kept: that of least gaps, that of falling length, and
//! always the lay that can begin soonest.

use super::cutting::Goods;
use super::lay::Lay;
use super::load::first_piece;
use super::pack::item;
use super::sequence::{self, Item};
use super::stock::Stock;

/// The lays in their places, by rising start, and where the last ends; `None` when the bolt ends before.
pub fn place(goods: &Goods, stock: &Stock, lays: &[Lay]) -> Option<(Vec<(i64, Lay)>, i64)> {
    let orders = [by_gaps(goods, lays), by_length(lays)];
    let ordered = orders.into_iter().filter_map(|order| {
        let mut shelf = Shelf { goods, stock, placed: Vec::new() };
        order.into_iter().try_for_each(|lay| shelf.add(&lays[lay]))?;
        Some(shelf.placed)
    });
    let ends =
        |placed: &Vec<(i64, Lay)>| placed.iter().map(|(v, lay)| v + lay.length).max().unwrap_or(stock.from);
    let all = ordered.chain(soonest(goods, stock, lays));
    let mut best = all.min_by_key(ends)?;
    best.sort_by_key(|(v, _)| *v);
    let end = ends(&best);
    Some((best, end))
}

/// The order that leaves the least gaps, and then the lays without a phase.
fn by_gaps(goods: &Goods, lays: &[Lay]) -> Vec<usize> {
    let phased: Vec<usize> = (0..lays.len()).filter(|&i| lays[i].phase.is_some()).collect();
    let items: Vec<Item> = phased.iter().filter_map(|&i| item(&lays[i])).collect();
    let (order, _) = sequence::best_order(&items, goods.turn);
    let mut order: Vec<usize> = order.into_iter().map(|i| phased[i]).collect();
    let free = by_length(lays).into_iter().filter(|&i| lays[i].phase.is_none());
    order.extend(free);
    order
}

fn by_length(lays: &[Lay]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..lays.len()).collect();
    order.sort_by_key(|&i| (std::cmp::Reverse(lays[i].length), first_piece(&lays[i])));
    order
}

/// Always the lay that can begin soonest behind the last, the longest of equals.
fn soonest(goods: &Goods, stock: &Stock, lays: &[Lay]) -> Option<Vec<(i64, Lay)>> {
    let mut left = by_length(lays);
    let mut shelf = Shelf { goods, stock, placed: Vec::new() };
    let mut at = stock.from;
    while !left.is_empty() {
        let places = left.iter().enumerate().filter_map(|(i, &lay)| Some((shelf.first(&lays[lay], at)?, i)));
        let (v, i) = places.min()?;
        let lay = lays[left.remove(i)].clone();
        at = v + lay.length;
        shelf.placed.push((v, lay));
    }
    Some(shelf.placed)
}

struct Shelf<'a> {
    goods: &'a Goods,
    stock: &'a Stock<'a>,
    placed: Vec<(i64, Lay)>,
}

impl Shelf<'_> {
    /// Puts a lay at its first place.
    fn add(&mut self, lay: &Lay) -> Option<()> {
        let v = self.first(lay, self.stock.from)?;
        self.placed.push((v, lay.clone()));
        Some(())
    }

    /// The first place of a lay at or behind `from`; `None` when the bolt ends before.
    fn first(&self, lay: &Lay, from: i64) -> Option<i64> {
        let start = self.stock.start.unwrap_or(0);
        let mut v = from;
        loop {
            v += lay.phase.map_or(0, |phase| (phase - start - v).rem_euclid(self.goods.turn));
            let end = v + lay.length;
            if end > self.stock.end {
                return None;
            }
            let others = self.placed.iter().map(|(at, lay)| (*at, at + lay.length));
            match others.filter(|(a, b)| *a < end && v < *b).map(|(_, b)| b).max() {
                Some(past) => v = past,
                None => return Some(v),
            }
        }
    }
}
