//! Walls given to the bolts that there are, so that no wall is cut from two dye lots.
//!
//! One lot for everything is tried first, the smallest that may do: all on one bolt, or, of whole bolts, as
//! on bolts that are ordered, so that what was received as it was ordered is cut as it was planned. Otherwise walls are given out one
//! by one, each to the lot that it leaves fullest, and a wall that finds no room is given out before
//! all others in the next round. That finds a way in practice, and is no proof that there is none.

use std::collections::{BTreeMap, BTreeSet};

use super::super::model::{PieceId, Purpose};
use super::area::by_area;
use super::around;
use super::cutting::{Cutting, Goods};
use super::load::{self, Run};
use super::pack;
use super::stock::Stock;

/// A wall, or a sample, that found no room.
pub struct NoRoom {
    /// What is cut for it.
    pub purpose: Purpose,
    /// What it takes of one bolt, in nanometres.
    pub needs: i64,
    /// The most that a lot had left for it on one bolt, in nanometres.
    pub left: i64,
    /// The wall that takes least of those without which all the others find room; `None` when no one wall
    /// makes room, or there is no other.
    pub instead: Option<Purpose>,
}

/// Walls that are left out in turn to see what would do.
const LEFT_OUT: usize = 24;

/// The bolts on hand and what is to be cut from each.
#[derive(Clone)]
struct Shelf<'a> {
    goods: &'a Goods,
    stocks: Vec<Stock<'a>>,
    loads: Vec<Vec<Cutting>>,
}

/// What is cut from which bolt on hand: its index and its lays, in the order of the file. A wall of
/// which a part is cut already, as `begun` says, comes from the bolts of that lot.
///
/// # Errors
/// [`NoRoom`] when no way was found.
pub fn bolts(
    goods: &Goods,
    cuttings: &[Cutting],
    stocks: Vec<Stock>,
    wall: impl Fn(PieceId) -> Purpose,
    begun: &BTreeMap<Purpose, String>,
) -> Result<Vec<(usize, Run)>, NoRoom> {
    let mut walls: BTreeMap<Purpose, Vec<Cutting>> = BTreeMap::new();
    for cutting in cuttings {
        walls.entry(wall(cutting.id)).or_default().push(cutting.clone());
    }
    let mut order: Vec<(Purpose, Vec<Cutting>)> = walls.into_iter().collect();
    // A stable sort: equally long walls stay in the order of the job; those that are begun have no choice.
    order.sort_by_key(|(wall, pieces)| {
        (!begun.contains_key(wall), std::cmp::Reverse(pack::quick(goods, pieces)))
    });
    let mut lots: Vec<&str> = stocks.iter().map(|bolt| bolt.lot).collect();
    lots.sort_by_key(|lot| (left_of_lot(&stocks, lot), *lot));
    lots.dedup();
    let empty = Shelf { goods, loads: vec![Vec::new(); stocks.len()], stocks };
    let begun_in = |lot: &str| begun.values().all(|begun| begun == lot);
    for lot in lots.iter().filter(|lot| begun_in(lot)) {
        let alone = empty.on_one(lot, cuttings);
        if let Some(runs) = alone.or_else(|| empty.as_ordered(lot, cuttings, &wall)) {
            return Ok(runs);
        }
        if let Ok(runs) = empty.cut_from(&[lot], &order, begun) {
            return Ok(runs);
        }
    }
    let mut tried = BTreeSet::new();
    loop {
        match empty.cut_from(&lots, &order, begun) {
            Ok(runs) => return Ok(runs),
            Err(no_room) if tried.contains(&no_room.purpose) => {
                return Err(NoRoom { instead: empty.least_loss(&lots, &order, begun), ..no_room });
            }
            Err(no_room) => {
                tried.insert(no_room.purpose);
                let at = order.iter().position(|(wall, _)| *wall == no_room.purpose).unwrap_or_default();
                let first = order.remove(at);
                order.insert(0, first);
            }
        }
    }
}

/// All cloth of a lot, in nanometres.
fn left_of_lot(stocks: &[Stock], lot: &str) -> i64 {
    stocks.iter().filter(|bolt| bolt.lot == lot).map(|bolt| bolt.end - bolt.from).sum()
}

impl<'a> Shelf<'a> {
    /// The walls given out to bolts of these lots, and cut.
    fn cut_from(
        &self,
        lots: &[&str],
        order: &[(Purpose, Vec<Cutting>)],
        begun: &BTreeMap<Purpose, String>,
    ) -> Result<Vec<(usize, Run)>, NoRoom> {
        let shelf = self.given_out(lots, order, begun)?;
        // What was given out was found to have room; were it otherwise, nothing must be left uncut.
        let last = order.last().map_or(Purpose::Sample(0), |(wall, _)| *wall);
        shelf.runs().ok_or(NoRoom { purpose: last, needs: 0, left: 0, instead: None })
    }

    fn given_out(
        &self,
        lots: &[&str],
        order: &[(Purpose, Vec<Cutting>)],
        begun: &BTreeMap<Purpose, String>,
    ) -> Result<Shelf<'a>, NoRoom> {
        let mut shelf = self.clone();
        for (wall, pieces) in order {
            let open = lots.iter().filter(|lot| begun.get(wall).is_none_or(|begun| begun == *lot));
            let choices = open.filter_map(|lot| shelf.with(lot, pieces));
            let Some(best) = choices.min_by_key(|(left, _)| *left) else {
                let needs = pack::quick(self.goods, pieces);
                let open = |bolt: &usize| {
                    begun.get(wall).is_none_or(|begun| begun.as_str() == shelf.stocks[*bolt].lot)
                };
                let all = (0..shelf.stocks.len()).filter(open);
                let left = all.filter_map(|bolt| shelf.left(bolt, &shelf.loads[bolt])).max().unwrap_or(0);
                return Err(NoRoom { purpose: *wall, needs, left, instead: None });
            };
            shelf = best.1;
        }
        Ok(shelf)
    }

    /// The wall that takes least, of those of which nothing is cut yet and without which all others find room.
    fn least_loss(
        &self,
        lots: &[&str],
        order: &[(Purpose, Vec<Cutting>)],
        begun: &BTreeMap<Purpose, String>,
    ) -> Option<Purpose> {
        let mut walls: Vec<(i64, Purpose)> = order
            .iter()
            .filter(|(wall, _)| !begun.contains_key(wall))
            .map(|(wall, pieces)| (pack::quick(self.goods, pieces), *wall))
            .collect();
        walls.sort_unstable();
        let does = |out: &Purpose| {
            let rest: Vec<_> = order.iter().filter(|(wall, _)| wall != out).cloned().collect();
            self.given_out(lots, &rest, begun).is_ok()
        };
        let mut walls = walls.into_iter().map(|(_, wall)| wall).take(LEFT_OUT);
        if order.len() > 1 { walls.find(does) } else { None }
    }

    /// Everything on one bolt of a lot, the first that has room.
    fn on_one(&self, lot: &str, cuttings: &[Cutting]) -> Option<Vec<(usize, Run)>> {
        let bolts = (0..self.stocks.len()).filter(|&bolt| self.stocks[bolt].lot == lot);
        let on = |bolt: usize| {
            let mut shelf = self.clone();
            shelf.loads[bolt] = shelf.beside_loose(&[bolt], cuttings);
            shelf.runs()
        };
        bolts.filter(|&bolt| by_area(self.goods, cuttings) <= self.stocks[bolt].end).find_map(on)
    }

    /// Everything on the bolts of a lot as if they were ordered, when nothing is known of them but their
    /// lengths.
    fn as_ordered(
        &self,
        lot: &str,
        cuttings: &[Cutting],
        wall: impl Fn(PieceId) -> Purpose,
    ) -> Option<Vec<(usize, Run)>> {
        if !self.stocks.iter().all(Stock::is_whole) {
            return None;
        }
        let bolts: Vec<usize> = (0..self.stocks.len()).filter(|&bolt| self.stocks[bolt].lot == lot).collect();
        let (runs, _) = load::bolts(self.goods, cuttings, wall);
        let room = |(bolt, run): &(usize, Run)| self.end(*bolt, load::used([run])) <= self.stocks[*bolt].end;
        let enough = runs.len() <= bolts.len();
        let cut: Vec<(usize, Run)> = bolts.into_iter().zip(runs).collect();
        (enough && cut.iter().all(room)).then_some(cut)
    }

    /// Where a whole bolt ends at worst of which so much is used: its start may cost a repeat.
    fn end(&self, bolt: usize, used: i64) -> i64 {
        let unknown = self.stocks[bolt].is_whole() && self.goods.turn > 1;
        used + if unknown { self.goods.turn } else { 0 }
    }

    /// What a load leaves of a bolt, less the repeat that an unknown start may cost; `None` when it has
    /// no room.
    fn left(&self, bolt: usize, load: &[Cutting]) -> Option<i64> {
        let stock = &self.stocks[bolt];
        let end = if stock.is_whole() {
            self.end(bolt, pack::quick(self.goods, load))
        } else {
            around::place(self.goods, stock, &pack::quick_lays(self.goods, load).lays, load)?.1
        };
        (end <= stock.end).then_some(stock.end - end)
    }

    /// The shelf with a wall on the bolts of one lot, and what that leaves of the lot: on one bolt where
    /// one has room, else piece by piece. What lies loose is cut first.
    fn with(&self, lot: &str, pieces: &[Cutting]) -> Option<(i64, Shelf<'a>)> {
        let bolts: Vec<usize> = (0..self.stocks.len()).filter(|&bolt| self.stocks[bolt].lot == lot).collect();
        let mut shelf = self.clone();
        let pieces = shelf.beside_loose(&bolts, pieces);
        let added = |load: &[Cutting], more: &[Cutting]| [load, more].concat();
        let fits = |shelf: &Shelf, bolt: usize, more: &[Cutting]| {
            shelf.left(bolt, &added(&shelf.loads[bolt], more)).is_some()
        };
        if let Some(&bolt) = bolts.iter().find(|&&bolt| fits(&shelf, bolt, &pieces)) {
            shelf.loads[bolt].extend(pieces);
        } else {
            for piece in pieces {
                let one = std::slice::from_ref(&piece);
                let &bolt = bolts.iter().find(|&&bolt| fits(&shelf, bolt, one))?;
                shelf.loads[bolt].push(piece);
            }
        }
        let left = bolts.iter().filter_map(|&bolt| shelf.left(bolt, &shelf.loads[bolt])).sum();
        Some((left, shelf))
    }

    /// Cuts pieces from what lies loose of some bolts, and returns the others.
    fn beside_loose(&mut self, bolts: &[usize], pieces: &[Cutting]) -> Vec<Cutting> {
        let goods = self.goods;
        let on_bolt = |piece: &&Cutting| !bolts.iter().any(|&b| self.stocks[b].cut_loose(goods, piece));
        pieces.iter().filter(on_bolt).cloned().collect()
    }

    /// The bolts that something is cut from; `None` when one has no room for its load.
    fn runs(self) -> Option<Vec<(usize, Run)>> {
        let cut = |bolt: &usize| !self.loads[*bolt].is_empty() || !self.stocks[*bolt].made.is_empty();
        (0..self.stocks.len()).filter(cut).map(|bolt| Some((bolt, self.run(bolt)?))).collect()
    }

    /// The pieces of one bolt in their lays and in order, behind what is cut off already.
    fn run(&self, bolt: usize) -> Option<Run> {
        let (stock, load) = (&self.stocks[bolt], &self.loads[bolt]);
        let ways = [pack::thorough(self.goods, load).lays, pack::quick_lays(self.goods, load).lays];
        if stock.is_whole() {
            let mut ways = ways.into_iter().map(|lays| load::in_order(self.goods, lays));
            return ways.find(|run| self.end(bolt, load::used([run])) <= stock.end);
        }
        let placed = ways.iter().filter_map(|lays| around::place(self.goods, stock, lays, load));
        let (lays, _) = placed.min_by_key(|(_, end)| *end)?;
        let made = stock.made.len();
        let lays = stock.made.iter().cloned().chain(lays).collect();
        Some(Run { start: stock.start.unwrap_or(0), made, lays })
    }
}
