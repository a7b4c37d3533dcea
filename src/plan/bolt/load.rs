//! Which lays come from which bolt, and where on it.
//!
//! All on one bolt if one is long enough. Otherwise walls are given to bolts in ribbon order, as
//! many as a bolt holds, so that each wall comes from one piece of cloth and so from one dye lot.

use std::collections::BTreeMap;

use super::super::model::{PieceId, WallRef};
use super::bound::bound;
use super::cutting::{Cutting, Goods};
use super::lay::Lay;
use super::pack::{self, Packed, item};
use super::sequence::{self, Item};

/// Plans measured for each piece that shares a lay, at most.
const BUDGET: usize = 40;

/// Lays in cutting order on one bolt, each with its start from the first cut.
#[derive(Clone, Debug)]
pub struct Run {
    /// Phase of the first cut.
    pub start: i64,
    /// Start and lay.
    pub lays: Vec<(i64, Lay)>,
}

/// The bolts of one cloth. `wall` says which wall a piece lies on.
pub fn bolts(goods: &Goods, cuttings: &[Cutting], wall: impl Fn(PieceId) -> WallRef) -> Vec<Run> {
    if cuttings.is_empty() {
        return Vec::new();
    }
    let least = bound(goods, cuttings, 1);
    if least <= goods.longest {
        let all = best(goods, cuttings, least);
        if all.length <= goods.longest {
            return vec![in_order(goods, all.lays)];
        }
    }
    let mut walls: BTreeMap<WallRef, Vec<Cutting>> = BTreeMap::new();
    for cutting in cuttings {
        walls.entry(wall(cutting.id)).or_default().push(cutting.clone());
    }
    let mut loads: Vec<Vec<Cutting>> = Vec::new();
    for pieces in walls.into_values() {
        let fits = |load: &[Cutting]| pack::quick(goods, load).length <= goods.longest;
        if let Some(load) = loads.last_mut() {
            let before = load.len();
            load.extend(pieces.iter().cloned());
            if fits(load) {
                continue;
            }
            load.truncate(before);
        }
        if fits(&pieces) {
            loads.push(pieces);
        } else {
            loads.extend(split(goods, &pieces));
        }
    }
    loads.iter().map(|load| run(goods, load)).collect()
}

/// The pieces of one bolt in their lays and in order.
pub fn run(goods: &Goods, load: &[Cutting]) -> Run {
    let packed = best(goods, load, bound(goods, load, 1));
    in_order(goods, packed.lays)
}

fn best(goods: &Goods, cuttings: &[Cutting], target: i64) -> Packed {
    let shared = cuttings.iter().filter(|c| !c.is_whole(goods)).count();
    pack::thorough(goods, cuttings, target, BUDGET * (10 + shared))
}

/// The pieces of a wall that no bolt holds, on as many as it takes.
fn split(goods: &Goods, pieces: &[Cutting]) -> Vec<Vec<Cutting>> {
    let mut loads: Vec<Vec<Cutting>> = Vec::new();
    for piece in pieces {
        if let Some(load) = loads.last_mut() {
            load.push(piece.clone());
            if pack::quick(goods, load).length <= goods.longest {
                continue;
            }
            load.pop();
        }
        loads.push(vec![piece.clone()]);
    }
    loads
}

/// The best order. Lays without a phase go into the gaps between the others where they fit, the
/// longest first, and after the last where they do not.
fn in_order(goods: &Goods, lays: Vec<Lay>) -> Run {
    let (mut phased, mut free): (Vec<Lay>, Vec<Lay>) = lays.into_iter().partition(|l| l.phase.is_some());
    // The order in which lays were found means nothing; that of their pieces is the walls'.
    phased.sort_by_key(first_piece);
    free.sort_by_key(|l| (std::cmp::Reverse(l.length), first_piece(l)));
    let items: Vec<Item> = phased.iter().filter_map(item).collect();
    let (order, _) = sequence::best_order(&items, goods.turn);
    let start = order.first().map_or(0, |&i| items[i].start);
    let mut run = Run { start, lays: Vec::new() };
    let mut at = 0;
    for &i in &order {
        let v = at + (items[i].start - start - at).rem_euclid(goods.turn);
        free.retain(|lay| {
            let fits = at + lay.length <= v;
            if fits {
                run.lays.push((at, lay.clone()));
                at += lay.length;
            }
            !fits
        });
        run.lays.push((v, phased[i].clone()));
        at = v + items[i].length;
    }
    for lay in free {
        let length = lay.length;
        run.lays.push((at, lay));
        at += length;
    }
    run
}

fn first_piece(lay: &Lay) -> Option<PieceId> {
    lay.placed.iter().map(|p| p.id).min()
}
