//! Which pieces share a lay, and which lays share a bolt.

use super::super::model::Piece;
use super::lay::{Cutting, Lay};
use super::sequence::{self, Item};

/// Puts pieces into lays no longer than `longest`: whole widths each alone; then the rest, the
/// longest first, each where it lengthens a lay least, and into a lay of its own when that would
/// take no more.
pub fn lays(cuttings: &[Cutting], pieces: &[Piece], repeat: i64, longest: i64) -> Vec<Lay> {
    let place = |c: &Cutting| (pieces[c.id.0].wall, c.id);
    let mut order: Vec<&Cutting> = cuttings.iter().collect();
    order.sort_by_key(|c| (std::cmp::Reverse(c.length), std::cmp::Reverse(c.width), place(c)));
    let mut lays: Vec<Lay> = Vec::new();
    for piece in order {
        let mut best: Option<(i64, usize, Lay)> = None;
        for (index, lay) in lays.iter().enumerate() {
            let Some(with) = lay.with(piece, repeat, longest) else { continue };
            let more = with.length - lay.length;
            if more < piece.length && best.as_ref().is_none_or(|(least, ..)| more < *least) {
                best = Some((more, index, with));
            }
        }
        match best {
            Some((_, index, lay)) => lays[index] = lay,
            None => lays.extend(Lay::of(piece)),
        }
    }
    lays.sort_by_key(|l| l.placed.iter().map(|p| (pieces[p.id.0].wall, p.id)).min());
    lays
}

/// The lays of one bolt.
#[derive(Clone, Debug, Default)]
pub struct Load {
    lays: Vec<Lay>,
}

/// Lays in cutting order, each with its start from the first cut.
pub struct Run {
    /// Phase of the first cut.
    pub start: i64,
    /// Start and lay.
    pub lays: Vec<(i64, Lay)>,
}

/// Loads bolts one after the other, in the order of the walls, each as full as `longest` allows.
pub fn bolts(lays: Vec<Lay>, repeat: i64, longest: i64) -> Vec<Load> {
    let mut loads: Vec<Load> = Vec::new();
    for lay in lays {
        match loads.last_mut() {
            Some(load) if load.length_with(&lay, repeat) <= longest => load.lays.push(lay),
            _ => loads.push(Load { lays: vec![lay] }),
        }
    }
    loads
}

impl Load {
    fn items(&self) -> Vec<Item> {
        self.lays.iter().filter_map(item).collect()
    }

    fn length_with(&self, lay: &Lay, repeat: i64) -> i64 {
        let mut items = self.items();
        items.extend(item(lay));
        let free = self.lays.iter().chain([lay]).filter(|l| l.phase.is_none());
        sequence::least_length(&items, repeat) + free.map(|l| l.length).sum::<i64>()
    }

    /// The best order. Lays without a phase go into the gaps between the others where they fit,
    /// the longest first, and after the last where they do not.
    pub fn in_order(self, repeat: i64) -> Run {
        let (phased, mut free): (Vec<Lay>, Vec<Lay>) = self.lays.into_iter().partition(|l| l.phase.is_some());
        free.sort_by_key(|l| std::cmp::Reverse(l.length));
        let items: Vec<Item> = phased.iter().filter_map(item).collect();
        let (order, _) = sequence::best_order(&items, repeat);
        let start = order.first().map_or(0, |&i| items[i].start);
        let mut run = Run { start, lays: Vec::new() };
        let mut at = 0;
        for &i in &order {
            let v = at + (items[i].start - start - at).rem_euclid(repeat);
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
            run.lays.push((at, lay.clone()));
            at += lay.length;
        }
        run
    }
}

fn item(lay: &Lay) -> Option<Item> {
    lay.phase.map(|start| Item { start, length: lay.length })
}
