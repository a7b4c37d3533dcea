//! Which pieces share a lay.
//!
//! Whole widths lie alone. The others are laid one after the other where the whole bolt grows
//! least, in a few orders; the best of these is then improved by taking lays apart and laying their
//! pieces anew, until the proved bound is met or the budget is spent. The budget counts plans
//! measured, not seconds, so that every machine finds the same plan.

use super::cutting::{Cutting, Goods};
use super::lay::Lay;
use super::sequence::{self, Item};

/// Lays and the length they use in their best order.
#[derive(Clone, Debug, Default)]
pub struct Packed {
    /// The lays, in no order.
    pub lays: Vec<Lay>,
    /// The length of bolt that they use.
    pub length: i64,
}

/// How many of the lays that a piece lengthens least are tried in full.
const TRIED: usize = 3;

/// An order in which pieces are laid; the largest first.
type Rank = fn(&Cutting) -> (i64, i64);

const RANKS: [Rank; 3] =
    [|c| (c.length, c.width), |c| (c.width, c.length), |c| (c.width / 1_000 * (c.length / 1_000), 0)];

/// Packs pieces quickly: for comparing one choice of seams with another.
pub fn quick(goods: &Goods, cuttings: &[Cutting]) -> Packed {
    let (whole, mut parts) = parted(goods, cuttings);
    parts.sort_by_key(|c| std::cmp::Reverse(RANKS[0](c)));
    shortest_first(goods, whole, &parts)
}

/// Packs pieces as well as `budget` allows; stops early when `target`, a proved bound, is met.
pub fn thorough(goods: &Goods, cuttings: &[Cutting], target: i64, budget: usize) -> Packed {
    let mut search = Search { goods, budget };
    let (whole, mut parts) = parted(goods, cuttings);
    let mut best: Option<Packed> = None;
    for rank in RANKS {
        parts.sort_by_key(|c| std::cmp::Reverse(rank(c)));
        for by_lay in [true, false] {
            let other = if by_lay {
                shortest_first(goods, whole.clone(), &parts)
            } else {
                search.greedy(whole.clone(), &parts)
            };
            if best.as_ref().is_none_or(|b| other.length < b.length) {
                best = Some(other);
            }
            if best.as_ref().is_some_and(|b| b.length <= target) {
                break;
            }
        }
    }
    let mut best = search.improve(best.unwrap_or_default(), cuttings, target);
    parts.sort_by_key(|c| std::cmp::Reverse(RANKS[2](c)));
    search.branch(&mut whole.clone(), &parts, &mut best, target);
    let lays: Vec<Lay> = best.lays.into_iter().flat_map(|lay| lay.parted(goods.turn)).collect();
    let length = measure(goods, &lays);
    Packed { lays, length }
}

/// Lays `parts` one after the other where they lengthen a lay least; into a lay of their own when
/// that takes no more.
fn shortest_first(goods: &Goods, mut lays: Vec<Lay>, parts: &[&Cutting]) -> Packed {
    for piece in parts {
        let mut best: Option<(i64, usize, Lay)> = None;
        for (index, lay) in lays.iter().enumerate() {
            let Some(with) = lay.with(piece, goods) else { continue };
            let more = with.length - lay.length;
            if more < piece.length && best.as_ref().is_none_or(|b| more < b.0) {
                best = Some((more, index, with));
            }
        }
        match best {
            Some((_, index, lay)) => lays[index] = lay,
            None => lays.extend(Lay::alone(piece).into_iter().next()),
        }
    }
    let length = measure(goods, &lays);
    Packed { lays, length }
}

/// Lays of the whole widths, and the other pieces.
fn parted<'a>(goods: &Goods, cuttings: &'a [Cutting]) -> (Vec<Lay>, Vec<&'a Cutting>) {
    let (whole, parts): (Vec<&Cutting>, Vec<&Cutting>) = cuttings.iter().partition(|c| c.is_whole(goods));
    (whole.into_iter().flat_map(Lay::alone).collect(), parts)
}

/// The length of bolt that lays use in their best order. Lays without a phase are counted whole.
pub fn measure(goods: &Goods, lays: &[Lay]) -> i64 {
    let items: Vec<Item> = lays.iter().filter_map(item).collect();
    let free: i64 = lays.iter().filter(|l| l.phase.is_none()).map(|l| l.length).sum();
    sequence::least_length(&items, goods.turn) + free
}

/// A lay as the order of lays sees it; `None` when it has no phase.
pub fn item(lay: &Lay) -> Option<Item> {
    lay.phase.map(|start| Item { start, length: lay.length })
}

struct Search<'a> {
    goods: &'a Goods,
    budget: usize,
}

impl Search<'_> {
    fn measure(&mut self, lays: &[Lay]) -> i64 {
        self.budget = self.budget.saturating_sub(1);
        measure(self.goods, lays)
    }

    /// Lays `parts` one after the other where the bolt grows least.
    fn greedy(&mut self, mut lays: Vec<Lay>, parts: &[&Cutting]) -> Packed {
        for piece in parts {
            let mut joined: Vec<(i64, usize, Lay)> = Vec::new();
            for (index, lay) in lays.iter().enumerate() {
                if let Some(with) = lay.with(piece, self.goods) {
                    joined.push((with.length - lay.length, index, with));
                }
            }
            joined.sort_by_key(|j| (j.0, j.1));
            joined.truncate(TRIED);
            let mut best: Option<(i64, usize, Lay)> = None;
            // A lay of its own comes first: of equals it leaves the most room for the pieces to come.
            let after = lays.len();
            let fresh = Lay::alone(piece).into_iter().map(|lay| (0, after, lay));
            for (_, index, lay) in fresh.chain(joined) {
                let kept = swap(&mut lays, index, lay);
                let length = self.measure(&lays);
                let lay = unswap(&mut lays, index, kept);
                if best.as_ref().is_none_or(|b| length < b.0) {
                    best = Some((length, index, lay));
                }
            }
            if let Some((_, index, lay)) = best {
                swap(&mut lays, index, lay);
            }
        }
        let length = self.measure(&lays);
        Packed { lays, length }
    }

    /// Takes one lay or two apart and lays their pieces anew, as long as that helps.
    fn improve(&mut self, mut best: Packed, cuttings: &[Cutting], target: i64) -> Packed {
        let mut again = true;
        while again {
            again = false;
            let shared: Vec<usize> =
                (0..best.lays.len()).filter(|&i| !self.is_whole(&best.lays[i])).collect();
            let pairs =
                shared.iter().flat_map(|&a| shared.iter().filter(move |&&b| b > a).map(move |&b| [a, b]));
            let singles = shared.iter().map(|&a| [a, a]);
            for [a, b] in singles.chain(pairs) {
                if self.budget == 0 || best.length <= target {
                    return best;
                }
                let mut lays = best.lays.clone();
                let mut taken = lays.swap_remove(b);
                if a != b {
                    taken.placed.extend(lays.swap_remove(a).placed);
                }
                let mut pieces: Vec<&Cutting> =
                    cuttings.iter().filter(|c| taken.placed.iter().any(|p| p.id == c.id)).collect();
                pieces.sort_by_key(|c| std::cmp::Reverse(i128::from(c.width) * i128::from(c.length)));
                let other = self.greedy(lays, &pieces);
                if other.length < best.length {
                    best = other;
                    again = true;
                    break;
                }
            }
        }
        best
    }

    /// Tries every lay and every phase for the next piece, the least growth first, and gives up a
    /// branch that is already no shorter than the best: a further piece never shortens a bolt.
    fn branch(&mut self, lays: &mut Vec<Lay>, parts: &[&Cutting], best: &mut Packed, target: i64) {
        let Some((piece, rest)) = parts.split_first() else {
            let length = measure(self.goods, lays);
            if length < best.length {
                *best = Packed { lays: lays.clone(), length };
            }
            return;
        };
        let after = lays.len();
        let fresh = Lay::alone(piece).into_iter().map(|lay| (after, lay));
        let joined = lays.iter().enumerate().filter_map(|(i, lay)| Some((i, lay.with(piece, self.goods)?)));
        let ways: Vec<(usize, Lay)> = fresh.chain(joined).collect();
        let mut measured: Vec<(i64, usize, Lay)> = Vec::new();
        for (index, lay) in ways {
            let kept = swap(lays, index, lay);
            let length = self.measure(lays);
            let lay = unswap(lays, index, kept);
            measured.push((length, index, lay));
        }
        measured.sort_by_key(|m| m.0);
        for (length, index, lay) in measured {
            if self.budget == 0 || best.length <= target || length >= best.length {
                return;
            }
            let kept = swap(lays, index, lay);
            self.branch(lays, rest, best, target);
            unswap(lays, index, kept);
        }
    }

    fn is_whole(&self, lay: &Lay) -> bool {
        lay.placed.iter().any(|p| p.width >= self.goods.width)
    }
}

/// Puts a lay in its place, or after the last; returns the one that stood there.
fn swap(lays: &mut Vec<Lay>, index: usize, lay: Lay) -> Option<Lay> {
    if index < lays.len() {
        return Some(std::mem::replace(&mut lays[index], lay));
    }
    lays.push(lay);
    None
}

/// Undoes [`swap`] and returns the lay that it had put there.
fn unswap(lays: &mut Vec<Lay>, index: usize, kept: Option<Lay>) -> Lay {
    match kept {
        Some(kept) => std::mem::replace(&mut lays[index], kept),
        None => lays.swap_remove(index),
    }
}
