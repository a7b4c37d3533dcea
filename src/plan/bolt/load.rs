//! Which lays come from which bolt, and where on it.
//!
//! All on one bolt if one is long enough. Otherwise walls are parted between bolts, so that each wall
//! comes from one piece of cloth and so from one dye lot.

use std::collections::BTreeMap;

use super::super::model::{PieceId, Purpose};
use super::area::by_area;
use super::cutting::{Cutting, Goods};
use super::lay::Lay;
use super::pack::{self, item};
use super::parting;
use super::sequence::{self, Item};
use super::slots::by_slots;

/// Lays in cutting order on one bolt, each with its start from the first cut.
#[derive(Clone, Debug)]
pub struct Run {
    /// Phase of the first cut.
    pub start: i64,
    /// How many of the first lays are cut off already.
    pub made: usize,
    /// Start and lay.
    pub lays: Vec<(i64, Lay)>,
}

/// The bolts of one cloth, and what laying them out has proved: a length that no plan of the same pieces
/// on as many bolts goes below which cuts each wall from one bolt that one bolt holds. `wall` says which wall a piece lies on.
pub fn bolts(
    goods: &Goods,
    cuttings: &[Cutting],
    wall: impl Fn(PieceId) -> Purpose,
) -> (Vec<Run>, Option<i64>) {
    if cuttings.is_empty() {
        return (Vec::new(), Some(0));
    }
    if by_area(goods, cuttings).max(by_slots(goods, cuttings, 1, goods.longest)) <= goods.longest {
        let all = pack::thorough(goods, cuttings);
        if all.length <= goods.longest {
            return (vec![in_order(goods, all.lays)], Some(all.least));
        }
    }
    let mut walls: BTreeMap<Purpose, Vec<Cutting>> = BTreeMap::new();
    for cutting in cuttings {
        walls.entry(wall(cutting.id)).or_default().push(cutting.clone());
    }
    // A wall that no bolt holds is cut from several, piece by piece.
    let mut whole: Vec<Vec<Cutting>> = Vec::new();
    for pieces in walls.into_values() {
        if parting::holds(goods, &pieces) {
            whole.push(pieces);
        } else {
            whole.extend(pieces.into_iter().map(|piece| vec![piece]));
        }
    }
    let parted = parting::part(goods, &whole);
    (parted.loads.into_iter().map(|load| in_order(goods, load.lays)).collect(), Some(parted.least))
}

/// The length that the bolts use.
pub fn used<'a>(runs: impl IntoIterator<Item = &'a Run>) -> i64 {
    runs.into_iter().filter_map(|run| run.lays.last()).map(|(v, lay)| v + lay.length).sum()
}

/// The best order. Lays without a phase go into the gaps between the others where they fit, the
/// longest first, and after the last where they do not.
pub fn in_order(goods: &Goods, lays: Vec<Lay>) -> Run {
    let (mut phased, mut free): (Vec<Lay>, Vec<Lay>) = lays.into_iter().partition(|l| l.phase.is_some());
    // The order in which lays were found means nothing; that of their pieces is the walls'.
    phased.sort_by_key(first_piece);
    free.sort_by_key(|l| (std::cmp::Reverse(l.length), first_piece(l)));
    let items: Vec<Item> = phased.iter().filter_map(item).collect();
    let (order, _) = sequence::best_order(&items, goods.turn);
    let start = order.first().map_or(0, |&i| items[i].start);
    let mut run = Run { start, made: 0, lays: Vec::new() };
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

/// The first of the pieces of a lay.
pub fn first_piece(lay: &Lay) -> Option<PieceId> {
    lay.placed.iter().map(|p| p.id).min()
}
