//! Which pieces share a lay.
//!
//! Whole widths lie alone. For the others all ways to share a lay are listed ([`super::shares`]), prices
//! prove how much cloth there must be ([`super::prices`]), and a search finds the shares that take least
//! ([`super::exact`]). Where pieces are too many for that, the largest of them are laid so; the small
//! ones follow where the bolt grows least, and the whole is improved by taking lays apart and laying
//! their pieces anew. Budgets count lays and plans, not seconds, so that every machine finds the same.

use super::area::by_area;
use super::cutting::{Cutting, Goods};
use super::exact;
use super::lay::{Fit, Lay};
use super::prices::Task;
use super::programme::Programme;
use super::sequence::{self, Item};
use super::shares::{self, Share};

/// Lays and the length they use in their best order.
#[derive(Clone, Debug, Default)]
pub struct Packed {
    /// The lays, in no order.
    pub lays: Vec<Lay>,
    /// The length of bolt that they use.
    pub length: i64,
    /// No plan of the same pieces on one bolt uses less.
    pub least: i64,
    /// Lays tried, nodes searched and plans measured for it.
    pub work: usize,
}

/// How many of the lays that a piece lengthens least are tried in full.
const TRIED: usize = 3;

/// What is spent on the pieces of one bolt.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Lays tried in listing the shares of pieces.
    lays: usize,
    /// Nodes of the search for the best shares, with the better prices.
    nodes: usize,
}

/// On a bolt that is to be cut.
pub const FULL: Effort = Effort { lays: 100_000, nodes: 200_000 };

/// On one of many loads that bolts may have.
pub const BRIEF: Effort = Effort { lays: 10_000, nodes: 10_000 };

/// On one of the loads of a first good way, which is looked for only so that the others can be compared with it.
pub const FIRST: Effort = Effort { lays: 5_000, nodes: 2_000 };

/// On one of the few best choices of seams.
pub const SLIGHT: Effort = Effort { lays: 1_000, nodes: 200 };

/// Nodes of the search with the first prices.
const FIRST_NODES: usize = 3_000;

/// Of more pieces that share lays than these the shares of some only can be listed, since those of all are too many.
const MANY: usize = 40;

/// Lays tried for listing the shares of so many pieces.
const OF_MANY: usize = 30_000;

/// Plans measured for each piece that shares a lay, where that is not enough.
const PLANS: usize = 15;

/// An order in which pieces are laid; the largest first.
type Rank = fn(&Cutting) -> (i64, i64);

const RANKS: [Rank; 3] = [|c| (c.length, c.width), |c| (c.width, c.length), |c| (size(c), 0)];

/// In square micrometres.
fn size(piece: &Cutting) -> i64 {
    piece.width / 1_000 * (piece.length / 1_000)
}

/// The length that pieces take when they are laid out quickly, in several orders: for comparing one choice
/// with another.
pub fn quick(goods: &Goods, cuttings: &[Cutting]) -> i64 {
    let (whole, parts) = parted(goods, cuttings);
    ranked(goods, &whole, &parts).0
}

/// Pieces laid out quickly; nothing is proved of it.
pub fn quick_lays(goods: &Goods, cuttings: &[Cutting]) -> Packed {
    let (whole, mut parts) = parted(goods, cuttings);
    parts.sort_by_key(|c| std::cmp::Reverse(RANKS[0](c)));
    beside(goods, whole, shortest_first(goods, &parts))
}

/// Packs pieces as well as the budgets allow, and proves how good it is.
pub fn thorough(goods: &Goods, cuttings: &[Cutting]) -> Packed {
    under(goods, cuttings, i64::MAX, FULL)
}

/// The same for who wants only a plan shorter than `ceiling`: where it is proved that there is none, any
/// plan is given, or none.
pub fn under(goods: &Goods, cuttings: &[Cutting], ceiling: i64, effort: Effort) -> Packed {
    let area = by_area(goods, cuttings);
    if area >= ceiling {
        return Packed { length: i64::MAX, least: area, ..Packed::default() };
    }
    let (whole, free, parts) = sorted(goods, cuttings);
    let mut work = 0;
    let many = parts.len() > MANY;
    let lays = if many { effort.lays.min(OF_MANY) } else { effort.lays };
    let (core, shares) = core(goods, &parts, lays, &mut work);
    let (core, rest) = parts.split_at(core);
    // What is proved of some of the pieces only is left to those who want a proof.
    let nodes = if many && !rest.is_empty() { 0 } else { effort.nodes };
    let mut best = best_of(goods, &whole, core, &shares, (ceiling, nodes));
    work += best.work;
    let least = best.least.max(area);
    let no_free = free.is_empty();
    best.lays.extend(free);
    best.length = measure(goods, &best.lays);
    let mut search = Search { goods, budget: PLANS * (10 + parts.len()) };
    work += search.budget;
    if !rest.is_empty() {
        best = search.greedy(best.lays, rest);
    }
    if least < ceiling {
        best = search.improve(best, cuttings, least);
    }
    // Where the core is all there is, it was laid so already.
    if !(rest.is_empty() && no_free) {
        let hasty = beside(goods, parted(goods, cuttings).0, shortest_first(goods, &parts));
        if hasty.length < best.length {
            best = hasty;
        }
    }
    let lays: Vec<Lay> = best.lays.into_iter().flat_map(|lay| lay.parted(goods.turn)).collect();
    let length = measure(goods, &lays);
    // Plans that the proof knows nothing of have shown faults of it.
    debug_assert!(least.min(ceiling) <= length, "{least} is proved, and {length} was found");
    Packed { lays, length, least, work: work - search.budget }
}

/// No plan of these pieces on one bolt uses less: what [`thorough`] does not look for where the shares of some of
/// them only can be listed. `known` is proved otherwise.
pub fn least_on_one(goods: &Goods, cuttings: &[Cutting], known: i64) -> i64 {
    let (whole, _, parts) = sorted(goods, cuttings);
    let (count, shares) = core(goods, &parts, FULL.lays, &mut 0);
    let core = &parts[..count];
    // No more can be proved than what these pieces take in some plan.
    if count == parts.len() || ranked(goods, &whole, core).0 <= known {
        return known;
    }
    best_of(goods, &whole, core, &shares, (i64::MAX, FULL.nodes)).least.max(known)
}

/// No plan of these pieces on this many bolts uses less.
pub fn least(goods: &Goods, cuttings: &[Cutting], bolts: usize, known: i64) -> i64 {
    let (whole, _, parts) = sorted(goods, cuttings);
    let (count, shares) = core(goods, &parts, FULL.lays, &mut 0);
    let whole: Vec<Item> = whole.iter().map(item_of).collect();
    let task = Task { goods, whole: &whole, shares: &shares, count, bolts };
    let mut programme = Programme::new(&task);
    let prices = programme.prices();
    programme.with_tolls(prices, known).least.max(by_area(goods, cuttings))
}

/// No plan on one bolt uses less than the whole widths of these pieces by themselves.
pub fn least_of_whole(goods: &Goods, cuttings: &[Cutting]) -> i64 {
    measure(goods, &parted(goods, cuttings).0)
}

/// Lays of whole widths, such lays without a phase where the cloth has phases, and the other pieces:
/// those whose shares can be listed first, and the largest.
fn sorted<'a>(goods: &Goods, cuttings: &'a [Cutting]) -> (Vec<Lay>, Vec<Lay>, Vec<&'a Cutting>) {
    let (whole, mut parts) = parted(goods, cuttings);
    // A strip without a match fills a gap or lengthens the bolt, wherever it lies.
    let (whole, free) = whole.into_iter().partition(|lay| lay.phase.is_some() || goods.turn == 1);
    parts.sort_by_key(|c| (!shares::can_list(c, goods), std::cmp::Reverse(size(c)), c.id));
    (whole, free, parts)
}

/// How many of `parts` make the core, whose shares are all listed, and these.
/// Lays tried are added to `work`.
fn core(goods: &Goods, parts: &[&Cutting], lays: usize, work: &mut usize) -> (usize, Vec<Share>) {
    let count = parts.iter().take(shares::MOST).take_while(|c| shares::can_list(c, goods)).count();
    let mut budget = lays;
    let core = shares::list(goods, &parts[..count], &mut budget);
    *work += lays - budget;
    core
}

/// The best plan of the pieces of the core beside lays of whole widths, if one is shorter than `ceiling`.
fn best_of(
    goods: &Goods,
    whole: &[Lay],
    core: &[&Cutting],
    shares: &[Share],
    (ceiling, nodes): (i64, usize),
) -> Packed {
    let mut known = beside(goods, whole.to_vec(), ranked(goods, whole, core).1);
    let items: Vec<Item> = whole.iter().map(item_of).collect();
    let task = Task { goods, whole: &items, shares, count: core.len(), bolts: 1 };
    let mut programme = Programme::new(&task);
    let prices = programme.prices();
    let wanted = known.length.min(ceiling);
    let mut chosen = exact::choose(&task, &prices, wanted, FIRST_NODES);
    if chosen.least < chosen.length && nodes > 0 {
        let prices = programme.with_tolls(prices, chosen.length);
        let again = exact::choose(&task, &prices, wanted, nodes);
        chosen.least = chosen.least.max(again.least);
        chosen.nodes += again.nodes;
        if again.length < chosen.length || chosen.shares.is_none() {
            (chosen.shares, chosen.length) = (again.shares, again.length);
        }
    }
    if let Some(best) = chosen.shares {
        known.lays = whole.iter().cloned().chain(best.into_iter().map(|i| shares[i].lay.clone())).collect();
        known.length = measure(goods, &known.lays);
    }
    Packed { least: chosen.least, work: chosen.nodes, ..known }
}

/// Lays `parts` in each order of [`RANKS`]: the least length that they take beside whole widths, and their lays.
fn ranked(goods: &Goods, whole: &[Lay], parts: &[&Cutting]) -> (i64, Vec<Lay>) {
    let laid = RANKS.map(|rank| {
        let mut parts = parts.to_vec();
        parts.sort_by_key(|c| std::cmp::Reverse(rank(c)));
        let lays = shortest_first(goods, &parts);
        (length(goods, whole.iter().chain(&lays)), lays)
    });
    laid.into_iter().min_by_key(|(length, _)| *length).unwrap_or_default()
}

/// Lays of whole widths and others.
fn beside(goods: &Goods, mut whole: Vec<Lay>, lays: Vec<Lay>) -> Packed {
    whole.extend(lays);
    let length = measure(goods, &whole);
    Packed { lays: whole, length, ..Packed::default() }
}

/// Lays `parts` one after the other where they lengthen a lay least; into a lay of their own when
/// that takes no more.
fn shortest_first(goods: &Goods, parts: &[&Cutting]) -> Vec<Lay> {
    let mut lays: Vec<Lay> = Vec::new();
    for piece in parts {
        let mut best: Option<(i64, usize, Fit)> = None;
        for (index, lay) in lays.iter().enumerate() {
            // Only what lengthens the lay by less than what is known is of use.
            let most = best.as_ref().map_or(piece.length, |b| b.0) - 1;
            if let Some(fit) = lay.fit(piece, goods, lay.length + most) {
                best = Some((fit.length - lay.length, index, fit));
            }
        }
        match best {
            Some((_, index, fit)) => lays[index] = lays[index].with(piece, goods, fit),
            None => lays.extend(Lay::alone(piece).into_iter().next()),
        }
    }
    lays
}

/// Lays of the whole widths, and the other pieces.
fn parted<'a>(goods: &Goods, cuttings: &'a [Cutting]) -> (Vec<Lay>, Vec<&'a Cutting>) {
    let (whole, parts): (Vec<&Cutting>, Vec<&Cutting>) = cuttings.iter().partition(|c| c.is_whole(goods));
    (whole.into_iter().flat_map(Lay::alone).collect(), parts)
}

/// The length of bolt that lays use in their best order. Lays without a phase are counted whole.
pub fn measure(goods: &Goods, lays: &[Lay]) -> i64 {
    length(goods, lays.iter())
}

fn length<'a>(goods: &Goods, lays: impl Iterator<Item = &'a Lay> + Clone) -> i64 {
    let items: Vec<Item> = lays.clone().filter_map(item).collect();
    let free: i64 = lays.filter(|l| l.phase.is_none()).map(|l| l.length).sum();
    sequence::least_length(&items, goods.turn) + free
}

/// A lay as the order of lays sees it; `None` when it has no phase.
pub fn item(lay: &Lay) -> Option<Item> {
    lay.phase.map(|start| Item { start, length: lay.length })
}

/// A lay where the cloth is plain, or its phase is known.
fn item_of(lay: &Lay) -> Item {
    Item { start: lay.phase.unwrap_or(0), length: lay.length }
}

/// The length of lays without what lies between them. Where less is filled, more room is left for pieces to come
/// though the bolt be as long.
fn filled(lays: &[Lay]) -> i64 {
    lays.iter().map(|lay| lay.length).sum()
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

    /// Lays `parts` one after the other where the bolt grows least, and of equals where lays fill least of it.
    fn greedy(&mut self, mut lays: Vec<Lay>, parts: &[&Cutting]) -> Packed {
        for piece in parts {
            let mut joined: Vec<(i64, usize, Fit)> = Vec::new();
            for (index, lay) in lays.iter().enumerate() {
                if let Some(fit) = lay.fit(piece, self.goods, i64::MAX) {
                    joined.push((fit.length - lay.length, index, fit));
                }
            }
            joined.sort_by_key(|j| (j.0, j.1));
            joined.truncate(TRIED);
            let mut best: Option<((i64, i64), usize, Lay)> = None;
            // A lay of its own comes first: of equals it leaves the most room for the pieces to come.
            let after = lays.len();
            let mut tried: Vec<(usize, Lay)> =
                Lay::alone(piece).into_iter().map(|lay| (after, lay)).collect();
            tried.extend(joined.into_iter().map(|(_, i, fit)| (i, lays[i].with(piece, self.goods, fit))));
            for (index, lay) in tried {
                let kept = swap(&mut lays, index, lay);
                let length = (self.measure(&lays), filled(&lays));
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
        Packed { lays, length, ..Packed::default() }
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
                if (other.length, filled(&other.lays)) < (best.length, filled(&best.lays)) {
                    best = other;
                    again = true;
                    break;
                }
            }
        }
        best
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
