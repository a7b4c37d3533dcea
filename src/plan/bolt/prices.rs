//! Prices for phases and pieces that prove how much cloth there must be.
//!
//! Close the plan of one bolt with one gap, from the end of its last lay to the start of its first.
//! Lays and gaps then go round the circle of phases K times, and the length used is K repeats less
//! that last gap. Give each phase a price, one repeat's length in all, and charge each lay for the
//! phases it lies over: K repeats are worth at least what all lays and the last gap are charged.
//! Give each piece a price too, such that the pieces of no lay are worth more than the lay is
//! charged. Then, whatever the plan,
//!
//! ```text
//! used >= charge of whole widths + prices of all pieces - greatest(gap - its charge)
//! ```
//!
//! the greatest being taken over all gaps from a possible end to a possible start. Several bolts have
//! such a gap each. On one bolt K is a whole number, and with a given gap the length is rounded up to
//! whole turns less that gap.
//!
//! *Threes* make the prices stronger: of any three pieces at most one lay holds two or more. A lay that
//! does may be charged a toll for it, and all tolls are taken off the bound once. See M. Jepsen, B.
//! Petersen, S. Spoorendonk and D. Pisinger, "Subset-row inequalities applied to the vehicle-routing
//! problem with time windows", Operations Research 56 (2008) 497-511.
//!
//! A linear programme ([`super::programme`]) proposes the prices in floating point; they are then made whole
//! numbers and every lay is checked against them, so that the bound holds whatever was rounded.

use super::cutting::Goods;
use super::sequence::Item;
use super::shares::Share;

/// Prices are counted in this part of a nanometre.
pub const FINE: i64 = 1 << 20;

/// What is to be laid.
#[derive(Clone, Copy)]
pub struct Task<'a> {
    /// The cloth.
    pub goods: &'a Goods,
    /// Lays of whole widths.
    pub whole: &'a [Item],
    /// The ways in which the pieces can share lays. Each piece has a share of its own.
    pub shares: &'a [Share],
    /// How many pieces there are.
    pub count: usize,
    /// On how many bolts.
    pub bolts: usize,
}

/// The prices.
pub struct Prices {
    pub(super) turn: i64,
    /// Where lays may start and end, rising.
    pub(super) phases: Vec<i64>,
    /// What the phases before each of `phases` are charged, and all together at the end.
    pub(super) sums: Vec<i64>,
    /// What each piece is worth.
    pub(super) pieces: Vec<i64>,
    /// Threes of pieces, and the toll for a lay that holds two of them.
    pub(super) tolls: Vec<(u64, i64)>,
    /// No plan uses less than this, in nanometres.
    pub least: i64,
    /// What all pieces and whole widths are charged and worth.
    pub(super) base: i64,
    /// The gaps that can close the plan: their lengths, and what they are charged.
    pub(super) gaps: Vec<(i64, i64)>,
}

impl Prices {
    /// The most by which the surplus of all shares can add up in a plan of one bolt that uses no more than
    /// `length`; negative if there is none.
    pub fn room(&self, length: i64) -> i64 {
        let of = |&(gap, charge): &(i64, i64)| {
            let turns = (length.saturating_add(gap)).div_euclid(self.turn);
            (turns * self.turn).saturating_mul(FINE).saturating_sub(charge) - self.base
        };
        self.gaps.iter().map(of).max().unwrap_or(-1)
    }

    /// How often a plan of one bolt that uses no more than `length` can go round the circle of phases.
    pub fn turns(&self, length: i64) -> i64 {
        let of = |&(gap, charge): &(i64, i64)| {
            let turns = length.saturating_add(gap).div_euclid(self.turn);
            ((turns * self.turn).saturating_mul(FINE).saturating_sub(charge) >= self.base).then_some(turns)
        };
        self.gaps.iter().filter_map(of).max().unwrap_or(0)
    }

    /// Where a lay that starts at phase `start` lies on the circle.
    pub fn arc(&self, start: i64, length: i64) -> Arc {
        let node = |phase: i64| self.phases.partition_point(|&n| n < phase);
        Arc { from: node(start), to: node((start + length).rem_euclid(self.turn)), turns: length / self.turn }
    }

    /// How often lays lie over the phases from each node to the next.
    pub fn cover(&self, lays: &[Item]) -> Vec<i64> {
        let arcs: Vec<Arc> = lays.iter().map(|lay| self.arc(lay.start, lay.length)).collect();
        (0..self.phases.len()).map(|node| arcs.iter().map(|arc| arc.cover(node)).sum()).collect()
    }

    /// No plan on one bolt uses less whose lays lie over the circle so often and end at these nodes: that often
    /// round, less the longest gap from an end forward to where no more may be left out.
    pub fn least_around(&self, cover: &[i64], ends: impl Iterator<Item = usize>) -> i64 {
        let most = cover.iter().copied().max().unwrap_or(0);
        let (mut full, mut next) = (vec![0; cover.len()], 0);
        for node in (0..cover.len()).rev().chain((0..cover.len()).rev()) {
            if cover[node] == most {
                next = node;
            }
            full[node] = next;
        }
        let gap = |end: usize| (self.phases[full[end]] - self.phases[end]).rem_euclid(self.turn);
        most * self.turn - ends.map(gap).max().unwrap_or(0)
    }

    /// The least length for which there is [room](Self::room).
    pub(super) fn least_with_room(&self) -> i64 {
        let turn = self.turn.saturating_mul(FINE);
        let of = |&(gap, charge): &(i64, i64)| {
            let turns =
                (self.base + charge).div_euclid(turn) + i64::from((self.base + charge).rem_euclid(turn) > 0);
            turns * self.turn - gap
        };
        self.gaps.iter().map(of).min().unwrap_or(0)
    }

    /// How much more a share is charged than its pieces are worth.
    pub fn surplus(&self, share: &Share) -> i64 {
        self.over(&self.arc(share.start(), share.lay.length), toll(&self.tolls, share.set), share.set)
    }

    /// The same of a lay of these pieces that lies there and pays so much toll.
    pub(super) fn over(&self, arc: &Arc, toll: i64, set: u64) -> i64 {
        let all = self.sums[self.phases.len()];
        let charge = arc.turns * all + part(&self.sums, arc.from, arc.to);
        charge + toll - worth_of(&self.pieces, set)
    }
}

/// What the phases from one node forward to another are charged.
pub(super) fn part<T>(sums: &[T], from: usize, to: usize) -> T
where
    T: Copy + std::ops::Add<Output = T> + std::ops::Sub<Output = T>,
{
    let all = sums[sums.len() - 1];
    if from <= to { sums[to] - sums[from] } else { all - sums[from] + sums[to] }
}

pub(super) fn worth_of<T: Copy + std::iter::Sum>(pieces: &[T], set: u64) -> T {
    members(set).filter_map(|i| pieces.get(i).copied()).sum()
}

/// What a lay of these pieces pays in tolls.
fn toll(tolls: &[(u64, i64)], set: u64) -> i64 {
    tolls.iter().filter(|(three, _)| holds_two(*three, set)).map(|t| t.1).sum()
}

pub(super) fn holds_two(three: u64, set: u64) -> bool {
    (three & set).count_ones() >= 2
}

/// The indices in a set.
pub fn members(set: u64) -> impl Iterator<Item = usize> {
    std::iter::successors((set != 0).then_some(set), |s| Some(s & (s - 1)).filter(|&s| s != 0))
        .map(|s| s.trailing_zeros() as usize)
}

/// An arc of the circle of phases: the nodes where it starts and ends, and whole turns.
#[derive(Clone, Copy)]
pub struct Arc {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) turns: i64,
}

impl Arc {
    /// Counts it so many times in how often lays lie over the phases from each node to the next.
    pub fn count(&self, cover: &mut [i64], times: i64) {
        let last = cover.len();
        let mut add = |from: usize, to: usize, by: i64| cover[from..to].iter_mut().for_each(|c| *c += by);
        if self.turns != 0 {
            add(0, last, times * self.turns);
        }
        if self.from <= self.to {
            add(self.from, self.to, times);
        } else {
            add(0, self.to, times);
            add(self.from, last, times);
        }
    }

    fn covers(&self, node: usize) -> bool {
        if self.from <= self.to {
            self.from <= node && node < self.to
        } else {
            self.from <= node || node < self.to
        }
    }

    /// How often it lies over the phases from a node to the next.
    pub fn cover(&self, node: usize) -> i64 {
        self.turns + i64::from(self.covers(node))
    }
}
