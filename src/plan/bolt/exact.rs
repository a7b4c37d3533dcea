//! The shares that use least cloth together, by branch and bound.
//!
//! A set of shares that holds each piece once is a plan; its length is that of the best order of its
//! lays. The surplus of each share over what its pieces are worth ([`super::prices`]) adds to the
//! proved least length, so only shares of small surplus can be in a plan shorter than some ceiling,
//! and few of them together. The ceiling is raised step by step: when no plan is found under it, it
//! is itself proved.

use super::prices::{FINE, Prices, Task, members};
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
        least: prices.least,
        ceiling: 0,
        budget,
        options: Vec::new(),
        path: Vec::new(),
        best: None,
    };
    let slack = known - prices.least;
    let ceilings = std::iter::once(prices.least + 1).chain(STEPS.map(|part| prices.least + slack / part));
    let mut proved = prices.least;
    for ceiling in ceilings.filter(|&c| prices.least < c && c <= known) {
        search.ceiling = ceiling;
        search.options = vec![Vec::new(); count];
        for &(over, i) in surplus.iter().take_while(|s| s.0 < (ceiling - prices.least).saturating_mul(FINE)) {
            members(shares[i].set).for_each(|piece| search.options[piece].push((over, i)));
        }
        let all = if count == 64 { u64::MAX } else { (1 << count) - 1 };
        let complete = search.node(all, 0).is_some();
        if complete {
            proved = search.ceiling;
        }
        if search.best.is_some() || !complete {
            break;
        }
    }
    let length = if search.best.is_some() { search.ceiling } else { known };
    Chosen { shares: search.best, length, least: proved.min(known), nodes: budget - search.budget }
}

struct Search<'a> {
    task: &'a Task<'a>,
    /// What the prices prove.
    least: i64,
    /// Plans must be shorter than this.
    ceiling: i64,
    budget: usize,
    /// For each piece the shares that hold it, with their surplus, rising.
    options: Vec<Vec<(i64, usize)>>,
    path: Vec<usize>,
    best: Option<Vec<usize>>,
}

impl Search<'_> {
    /// Lays the pieces `left`, when the shares of the path have this surplus; `None` when the budget is
    /// spent.
    fn node(&mut self, left: u64, surplus: i64) -> Option<()> {
        self.budget = self.budget.checked_sub(1)?;
        if left == 0 {
            let lay = |&i: &usize| Item {
                start: self.task.shares[i].start(),
                length: self.task.shares[i].lay.length,
            };
            let items: Vec<Item> = self.task.whole.iter().copied().chain(self.path.iter().map(lay)).collect();
            // To put many lays in order is as much work as many nodes.
            self.budget = self.budget.saturating_sub(items.len() / 4);
            let turn = self.task.goods.turn;
            if let Some(length) = sequence::least_length_under(&items, turn, self.ceiling) {
                self.ceiling = length;
                self.best = Some(self.path.clone());
            }
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
        let Some((ways, piece)) = fewest else { return Some(()) };
        if ways == 0 {
            return Some(());
        }
        let ways: Vec<(i64, usize)> = self.ways(piece, left, surplus).collect();
        for (over, share) in ways {
            if surplus + over < self.room() {
                self.path.push(share);
                self.node(left & !self.task.shares[share].set, surplus + over)?;
                self.path.pop();
            }
        }
        Some(())
    }

    /// The shares of pieces that are all left which can be in a plan under the ceiling.
    fn ways(&self, piece: usize, left: u64, surplus: i64) -> impl Iterator<Item = (i64, usize)> {
        let room = self.room() - surplus;
        let under = self.options[piece].iter().copied().take_while(move |way| way.0 < room);
        under.filter(move |way| self.task.shares[way.1].set & !left == 0)
    }

    /// The surplus that no plan under the ceiling reaches.
    fn room(&self) -> i64 {
        (self.ceiling - self.least).saturating_mul(FINE)
    }
}
