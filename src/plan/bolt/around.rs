//! Lays placed on a bolt that begins at a known place of the pattern, behind what is cut off already and
//! clear of its flaws.
//!
//! Each lay goes to the first place where its pattern is right, nothing lies yet, and none of its pieces
//! meets a flaw; a piece that has a lay to itself may move across the cloth for that. This is done in
//! several orders, of which the shortest is kept: that of least gaps, that of falling length, and
//! always the lay that can begin soonest.

use super::cutting::{Cutting, Goods, Places};
use super::lay::{Lay, Placed};
use super::load::first_piece;
use super::pack::item;
use super::sequence::{self, Item};
use super::stock::{Area, Stock};

/// The lays in their places, by rising start, and where the last ends; `None` when the bolt ends before.
pub fn place(goods: &Goods, stock: &Stock, lays: &[Lay], load: &[Cutting]) -> Option<(Vec<(i64, Lay)>, i64)> {
    let lays: Vec<Vec<Lay>> = lays.iter().map(|lay| variants(stock, lay, load)).collect();
    let lays = lays.as_slice();
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
fn by_gaps(goods: &Goods, lays: &[Vec<Lay>]) -> Vec<usize> {
    let phased: Vec<usize> = (0..lays.len()).filter(|&i| lays[i][0].phase.is_some()).collect();
    let items: Vec<Item> = phased.iter().filter_map(|&i| item(&lays[i][0])).collect();
    let (order, _) = sequence::best_order(&items, goods.turn);
    let mut order: Vec<usize> = order.into_iter().map(|i| phased[i]).collect();
    let free = by_length(lays).into_iter().filter(|&i| lays[i][0].phase.is_none());
    order.extend(free);
    order
}

fn by_length(lays: &[Vec<Lay>]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..lays.len()).collect();
    order.sort_by_key(|&i| (std::cmp::Reverse(lays[i][0].length), first_piece(&lays[i][0])));
    order
}

/// Always the lay that can begin soonest behind the last, the longest of equals.
fn soonest(goods: &Goods, stock: &Stock, lays: &[Vec<Lay>]) -> Option<Vec<(i64, Lay)>> {
    let mut left = by_length(lays);
    let mut shelf = Shelf { goods, stock, placed: Vec::new() };
    let mut at = stock.from;
    while !left.is_empty() {
        let places = left.iter().enumerate().filter_map(|(i, &lay)| {
            let (v, variant) = shelf.first(&lays[lay], at)?;
            Some((v, i, variant))
        });
        let (v, i, variant) = places.min()?;
        let lay = lays[left.remove(i)][variant].clone();
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
    fn add(&mut self, variants: &[Lay]) -> Option<()> {
        let (v, variant) = self.first(variants, self.stock.from)?;
        self.placed.push((v, variants[variant].clone()));
        Some(())
    }

    /// The first place of a lay at or behind `from`, and which variant lies there.
    fn first(&self, variants: &[Lay], from: i64) -> Option<(i64, usize)> {
        let places = variants.iter().enumerate().filter_map(|(i, lay)| Some((self.place(lay, from)?, i)));
        places.min()
    }

    /// The first place of a lay as it is; `None` when the bolt ends before.
    fn place(&self, lay: &Lay, from: i64) -> Option<i64> {
        let start = self.stock.start.unwrap_or(0);
        let mut v = from;
        loop {
            v += lay.phase.map_or(0, |phase| (phase - start - v).rem_euclid(self.goods.turn));
            let end = v + lay.length;
            if end > self.stock.end {
                return None;
            }
            let others = self.placed.iter().map(|(at, lay)| (*at, at + lay.length));
            let behind = others.filter(|(a, b)| *a < end && v < *b).map(|(_, b)| b);
            // Behind a flaw that a piece meets, so much of the lay as comes before the piece does no harm.
            let pieces = lay.placed.iter();
            let past = pieces.flat_map(|piece| {
                let area = Area::of_placed(piece, v);
                let met = self.stock.flaws.iter().filter(move |flaw| area.meets(flaw));
                met.map(|flaw| flaw.v1 - piece.v)
            });
            match behind.chain(past).max() {
                Some(past) => v = past,
                None => return Some(v),
            }
        }
    }
}

/// A lay, and, where flaws are to be kept clear of, the other places across the cloth of a piece that has it
/// to itself.
fn variants(stock: &Stock, lay: &Lay, load: &[Cutting]) -> Vec<Lay> {
    let mut variants = vec![lay.clone()];
    let [only] = lay.placed.as_slice() else { return variants };
    let Some(piece) = load.iter().find(|piece| piece.id == only.id).filter(|_| !stock.flaws.is_empty())
    else {
        return variants;
    };
    let moved = |u, column, phase| Lay { placed: vec![Placed { u, column, ..*only }], phase, ..lay.clone() };
    match &piece.places {
        Places::Matched(places) => {
            variants.extend(places.iter().map(|p| moved(p.u, p.column, Some(p.phase))))
        }
        &Places::Free(least, most) => variants.extend([least, most].map(|u| moved(u, 0, None))),
    }
    variants
}
