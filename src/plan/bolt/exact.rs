//! The shares that use least cloth together, by branch and bound.
//!
//! A set of shares that holds each piece once is a plan; its length is that of the best order of its
//! lays. The surplus of each share over what its pieces are worth ([`super::prices`]) adds to the
//! proved least length, so only shares of small surplus can be in a plan shorter than some ceiling,
//! and few of them together; and no phase is covered more often than such a plan goes round. The ceiling is
//! raised step by step: when no plan is found under it, it is itself proved.

use std::collections::BTreeMap;

use super::prices::{Arc, Prices, Task, members};
use super::sequence::{self, Item};

/// What the search came to.
#[derive(Clone, Debug)]
pub struct Chosen {
    /// The shares of the shortest plan found, if one is shorter than what was known.
    pub shares: Option<Vec<usize>>,
    /// The length of that plan, or what was known.
    pub length: i64,
    /// No plan of these shares is shorter than this.
    pub least: i64,
    /// Nodes searched.
    pub nodes: usize,
}

/// Steps by which the ceiling rises from the proved least length to the length known.
const STEPS: [i64; 4] = [64, 16, 4, 1];

/// Looks for the shortest plan on one bolt, shorter than `known`, in `budget` nodes.
pub fn choose(task: &Task, prices: &Prices, known: i64, budget: usize) -> Chosen {
    let Task { shares, count, .. } = *task;
    let mut surplus: Vec<(i64, usize)> = shares.iter().map(|s| prices.surplus(s)).zip(0..).collect();
    // Of equal surplus the share with most pieces first: it leaves the fewest cuts.
    surplus.sort_unstable_by_key(|&(s, i)| (s, std::cmp::Reverse(shares[i].set.count_ones()), i));
    let mut search = Search {
        task,
        prices,
        ceiling: known,
        room: 0,
        turns: 0,
        arcs: shares.iter().map(|s| prices.arc(s.start(), s.lay.length)).collect(),
        ends: task.whole.iter().map(|lay| prices.arc(lay.start, lay.length).to).collect(),
        cover: prices.cover(task.whole),
        budget,
        options: Vec::new(),
        path: Vec::new(),
        leaves: 0,
        barren: BTreeMap::new(),
        best: None,
    };
    let slack = known - prices.least;
    let ceilings = std::iter::once(prices.least + 1).chain(STEPS.map(|part| prices.least + slack / part));
    let (mut proved, mut searched) = (prices.least, None);
    for ceiling in ceilings {
        let ceiling = ceiling.min(search.ceiling);
        let limits = (prices.room(ceiling - 1), prices.turns(ceiling - 1));
        // Within the limits of the ceiling before all plans were measured.
        if proved < ceiling && searched != Some(limits) {
            (search.room, search.turns) = limits;
            search.options = vec![Vec::new(); count];
            for &(over, i) in surplus.iter().take_while(|s| s.0 <= limits.0) {
                let way = Way { over, set: shares[i].set, share: i };
                members(way.set).for_each(|piece| search.options[piece].push(way));
            }
            let all = if count == 64 { u64::MAX } else { (1 << count) - 1 };
            if search.node(all, 0).is_none() {
                break;
            }
            searched = Some(limits);
        }
        proved = proved.max(ceiling.min(search.ceiling));
        if proved >= search.ceiling {
            break;
        }
    }
    let (length, nodes) = (search.ceiling, budget - search.budget);
    Chosen { shares: search.best, length, least: proved.min(length), nodes }
}

/// A share that a piece can be laid in, with what a search asks of it most.
#[derive(Clone, Copy)]
struct Way {
    /// Its surplus.
    over: i64,
    set: u64,
    share: usize,
}

struct Search<'a> {
    task: &'a Task<'a>,
    prices: &'a Prices,
    /// Plans must be shorter than this.
    ceiling: i64,
    /// The most that the surplus of a plan under the ceiling can be.
    room: i64,
    /// How often such a plan can go round the circle of phases.
    turns: i64,
    /// Where each share lies on that circle.
    arcs: Vec<Arc>,
    /// Where whole widths end on it.
    ends: Vec<usize>,
    /// How often whole widths and the shares of the path lie over each phase.
    cover: Vec<i64>,
    budget: usize,
    /// For each piece the shares that hold it, by rising surplus.
    options: Vec<Vec<Way>>,
    path: Vec<usize>,
    /// How many plans were measured.
    leaves: usize,
    /// Sets of pieces that no shares of so much surplus make up.
    barren: BTreeMap<u64, i64>,
    best: Option<Vec<usize>>,
}

impl Search<'_> {
    /// Lays the pieces `left`, when the shares of the path have this surplus; `None` when the budget is
    /// spent.
    fn node(&mut self, left: u64, surplus: i64) -> Option<()> {
        self.budget = self.budget.checked_sub(1)?;
        if left == 0 {
            self.leaves += 1;
            if let Some(length) = self.length() {
                self.ceiling = length;
                self.room = self.room.min(self.prices.room(length - 1));
                self.turns = self.turns.min(self.prices.turns(length - 1));
                self.best = Some(self.path.clone());
            }
            return Some(());
        }
        let (room, leaves) = (self.room - surplus, self.leaves);
        if self.barren.get(&left).is_some_and(|barren| room <= *barren) {
            return Some(());
        }
        // The piece with fewest ways to be laid.
        let mut fewest: Option<(usize, usize)> = None;
        for piece in members(left) {
            let most = fewest.map_or(usize::MAX, |f| f.0);
            let ways = self.ways(piece, left, surplus).take(most).count();
            if ways < most {
                fewest = Some((ways, piece));
            }
        }
        let Some((_, piece)) = fewest else { return Some(()) };
        let ways: Vec<Way> = self.ways(piece, left, surplus).collect();
        for Way { over, set, share } in ways {
            if surplus + over <= self.room {
                let arc = self.arcs[share];
                self.path.push(share);
                arc.count(&mut self.cover, 1);
                // Whether a plan can still go round often enough.
                if self.cover.iter().all(|&cover| cover <= self.turns) {
                    self.node(left & !set, surplus + over)?;
                } else {
                    self.leaves += 1;
                }
                arc.count(&mut self.cover, -1);
                self.path.pop();
            }
        }
        if self.leaves == leaves {
            self.barren.insert(left, room);
        }
        Some(())
    }

    /// The length of the plan that the path makes, if it is under the ceiling.
    fn length(&mut self) -> Option<i64> {
        let ends = self.path.iter().map(|&share| self.arcs[share].to).chain(self.ends.iter().copied());
        // Most plans are so ruled out without being put in order.
        if self.prices.least_around(&self.cover, ends) >= self.ceiling {
            return None;
        }
        let Task { shares, whole, goods, .. } = *self.task;
        let lay = |&i: &usize| Item { start: shares[i].start(), length: shares[i].lay.length };
        let items: Vec<Item> = whole.iter().copied().chain(self.path.iter().map(lay)).collect();
        // To put many lays in order is as much work as many nodes.
        self.budget = self.budget.saturating_sub(items.len() / 4);
        sequence::least_length_under(&items, goods.turn, self.ceiling)
    }

    /// The shares of pieces that are all left which can be in a plan under the ceiling.
    fn ways(&self, piece: usize, left: u64, surplus: i64) -> impl Iterator<Item = Way> {
        let room = self.room - surplus;
        let under = self.options[piece].iter().copied().take_while(move |way| way.over <= room);
        under.filter(move |way| way.set & !left == 0)
    }
}
