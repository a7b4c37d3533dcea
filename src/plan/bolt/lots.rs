//! Walls given to the bolts that there are, so that no wall is cut from two dye lots.
//!
//! One lot for everything is tried first, the smallest that may do. Otherwise walls are given out one
//! by one, each to the lot that it leaves fullest, and a wall that finds no room is given out before
//! all others in the next round. That finds a way in practice, and is no proof that there is none.

use std::collections::{BTreeMap, BTreeSet};

use super::super::model::{PieceId, WallRef};
use super::cutting::{Cutting, Goods};
use super::load::{self, Run};
use super::pack;
use crate::job::model::OnHand;

/// A wall that found no room.
pub struct NoRoom {
    /// The wall.
    pub wall: WallRef,
    /// What it takes of one bolt, in nanometres.
    pub needs: i64,
    /// The most that a lot had left for it on one bolt, in nanometres.
    pub left: i64,
}

/// The loads of all bolts on hand.
struct Shelf<'a> {
    goods: &'a Goods,
    on_hand: &'a [OnHand],
    loads: Vec<Vec<Cutting>>,
}

/// What is cut from which bolt on hand: its index and its lays, in the order of the file.
///
/// # Errors
/// [`NoRoom`] when no way was found.
pub fn bolts(
    goods: &Goods,
    cuttings: &[Cutting],
    on_hand: &[OnHand],
    wall: impl Fn(PieceId) -> WallRef,
) -> Result<Vec<(usize, Run)>, NoRoom> {
    let mut walls: BTreeMap<WallRef, Vec<Cutting>> = BTreeMap::new();
    for cutting in cuttings {
        walls.entry(wall(cutting.id)).or_default().push(cutting.clone());
    }
    let mut order: Vec<(WallRef, Vec<Cutting>)> = walls.into_iter().collect();
    // A stable sort: equally long walls stay in the order of the job.
    order.sort_by_key(|(_, pieces)| std::cmp::Reverse(pack::quick(goods, pieces)));
    let mut lots: Vec<&str> = on_hand.iter().map(|bolt| bolt.lot.as_str()).collect();
    lots.sort_by_key(|lot| (stock(on_hand, lot), *lot));
    lots.dedup();
    for lot in &lots {
        if let Ok(shelf) = given_out(goods, on_hand, &[lot], &order) {
            return Ok(shelf.runs());
        }
    }
    let mut tried = BTreeSet::new();
    loop {
        match given_out(goods, on_hand, &lots, &order) {
            Ok(shelf) => return Ok(shelf.runs()),
            Err(no_room) if tried.contains(&no_room.wall) => return Err(no_room),
            Err(no_room) => {
                tried.insert(no_room.wall);
                let at = order.iter().position(|(wall, _)| *wall == no_room.wall).unwrap_or_default();
                let first = order.remove(at);
                order.insert(0, first);
            }
        }
    }
}

/// All cloth of a lot, in nanometres.
fn stock(on_hand: &[OnHand], lot: &str) -> i64 {
    on_hand.iter().filter(|bolt| bolt.lot == lot).map(|bolt| bolt.length.nm()).sum()
}

fn given_out<'a>(
    goods: &'a Goods,
    on_hand: &'a [OnHand],
    lots: &[&str],
    order: &[(WallRef, Vec<Cutting>)],
) -> Result<Shelf<'a>, NoRoom> {
    let mut shelf = Shelf { goods, on_hand, loads: vec![Vec::new(); on_hand.len()] };
    for (wall, pieces) in order {
        let choices = lots.iter().filter_map(|lot| shelf.with(lot, pieces));
        let Some(best) = choices.min_by_key(|(left, _)| *left) else {
            let needs = pack::quick(goods, pieces);
            let all = 0..on_hand.len();
            let left = all.map(|bolt| shelf.room(bolt) - shelf.length(&shelf.loads[bolt])).max().unwrap_or(0);
            return Err(NoRoom { wall: *wall, needs, left });
        };
        shelf.loads = best.1;
    }
    Ok(shelf)
}

impl Shelf<'_> {
    /// What a bolt may be loaded with: its length less the repeat that its unknown start may cost.
    fn room(&self, bolt: usize) -> i64 {
        self.on_hand[bolt].length.nm() - if self.goods.turn > 1 { self.goods.turn } else { 0 }
    }

    fn length(&self, load: &[Cutting]) -> i64 {
        pack::quick(self.goods, load)
    }

    /// The loads with a wall on the bolts of one lot, and what that leaves of the lot: on one bolt where
    /// one has room, else piece by piece.
    fn with(&self, lot: &str, pieces: &[Cutting]) -> Option<(i64, Vec<Vec<Cutting>>)> {
        let bolts: Vec<usize> =
            (0..self.on_hand.len()).filter(|&bolt| self.on_hand[bolt].lot == lot).collect();
        let mut loads = self.loads.clone();
        let added = |load: &[Cutting], more: &[Cutting]| [load, more].concat();
        let whole = bolts.iter().find(|&&bolt| self.length(&added(&loads[bolt], pieces)) <= self.room(bolt));
        if let Some(&bolt) = whole {
            loads[bolt].extend_from_slice(pieces);
        } else {
            for piece in pieces {
                let one = std::slice::from_ref(piece);
                let fits = |bolt: &&usize| self.length(&added(&loads[**bolt], one)) <= self.room(**bolt);
                let &bolt = bolts.iter().find(fits)?;
                loads[bolt].push(piece.clone());
            }
        }
        let left = bolts.iter().map(|&bolt| self.room(bolt) - self.length(&loads[bolt])).sum();
        Some((left, loads))
    }

    fn runs(&self) -> Vec<(usize, Run)> {
        let loaded = self.loads.iter().enumerate().filter(|(_, load)| !load.is_empty());
        loaded.map(|(bolt, load)| (bolt, load::run(self.goods, load))).collect()
    }
}
