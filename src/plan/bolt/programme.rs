//! The linear programme whose dual values are the best [prices](super::prices).
//!
//! It covers the pieces with lays: the relaxation of P. C. Gilmore and R. E. Gomory, "A linear programming
//! approach to the cutting-stock problem", Operations Research 9 (1961) 849-859, with one more row for each
//! phase. It is solved in floating point.

use super::prices::{Arc, FINE, Prices, Task, holds_two, members, part, worth_of};
use super::sequence::Item;
use super::simplex::Basis;

/// Exchanges of the simplex method at most.
const EXCHANGES: usize = 2000;

/// Shares and gaps that the simplex method is given at a time, the most promising of all.
const OFFERED: usize = 64;

/// How often threes are looked for, and how many are taken each time.
const ROUNDS: usize = 12;
const THREES: usize = 12;

/// The linear programme: cover each piece; lie over no phase more than K times, with one gap to close
/// the plan; least K repeats less that gap. Its rows are the pieces, the phases, the gap, and threes.
pub struct Programme<'a> {
    task: &'a Task<'a>,
    phases: Vec<i64>,
    arcs: Vec<Arc>,
    /// How often whole widths lie over each phase.
    base: Vec<i64>,
    /// The gaps that can close the plan, with their lengths.
    gaps: Vec<(Arc, i64)>,
    threes: Vec<u64>,
    /// Of which threes each share holds two.
    twos: Vec<Vec<u16>>,
    /// The shares and gaps that the simplex method looks at.
    offered: Vec<Entering>,
    /// The shares laid in the last solution, and which part of each.
    laid: Vec<(usize, f64)>,
}

/// What the rows are worth: the sums of the phases before each, and the tolls of the threes.
struct Worth {
    dual: Vec<f64>,
    sums: Vec<f64>,
    tolls: Vec<f64>,
}

/// What the simplex method came to.
struct Solved {
    /// What the rows are worth.
    dual: Vec<f64>,
    /// The shares laid, and which part of each.
    laid: Vec<(usize, f64)>,
}

impl<'a> Programme<'a> {
    /// The programme of a task.
    pub fn new(task: &'a Task) -> Self {
        let Task { whole, shares, .. } = *task;
        let turn = task.goods.turn;
        let lays: Vec<Item> = whole
            .iter()
            .copied()
            .chain(shares.iter().map(|s| Item { start: s.start(), length: s.lay.length }))
            .collect();
        let ends = |i: &Item| [i.start, (i.start + i.length).rem_euclid(turn)];
        let mut phases: Vec<i64> = lays.iter().flat_map(ends).collect();
        phases.sort_unstable();
        phases.dedup();
        let node = |phase: i64| phases.partition_point(|&n| n < phase);
        let arcs: Vec<Arc> = lays
            .iter()
            .map(|i| {
                let [start, end] = ends(i);
                Arc { from: node(start), to: node(end), turns: i.length / turn }
            })
            .collect();
        let (whole, arcs) = arcs.split_at(whole.len());
        let base = (0..phases.len()).map(|n| whole.iter().map(|arc| arc.cover(n)).sum()).collect();
        let (mut starts, mut stops) = (vec![false; phases.len()], vec![false; phases.len()]);
        for arc in whole.iter().chain(arcs) {
            (starts[arc.from], stops[arc.to]) = (true, true);
        }
        let mut gaps = Vec::new();
        for from in (0..phases.len()).filter(|&n| stops[n]) {
            for to in (0..phases.len()).filter(|&n| starts[n] && n != from) {
                let length = (phases[to] - phases[from]).rem_euclid(turn);
                gaps.push((Arc { from, to, turns: 0 }, length));
            }
        }
        let arcs = arcs.to_vec();
        let twos = vec![Vec::new(); shares.len()];
        let (threes, offered, laid) = (Vec::new(), Vec::new(), Vec::new());
        Programme { task, phases, arcs, base, gaps, threes, twos, offered, laid }
    }

    /// The row of the gap; those of threes follow.
    fn gap_row(&self) -> usize {
        self.task.count + self.phases.len()
    }

    /// The best prices without tolls.
    pub fn prices(&mut self) -> Prices {
        let solved = self.solve();
        let prices = self.exact(&solved.dual);
        self.laid = solved.laid;
        prices
    }

    /// The prices with tolls, as long as they raise the bound and it is less than `known`: better ones than
    /// `best`, if there are any.
    pub fn with_tolls(&mut self, mut best: Prices, known: i64) -> Prices {
        for _ in 0..ROUNDS {
            if best.least >= known || !self.add_threes() {
                break;
            }
            let prices = self.prices();
            if prices.least > best.least {
                best = prices;
            }
        }
        best
    }

    /// The best solution, as far as the simplex method came. It looks for what enters among a few of the
    /// shares and gaps only, to which the most promising of all are added when those are of no more use.
    fn solve(&mut self) -> Solved {
        let last = self.gap_row();
        // Less than this is a fault of rounding.
        let small = self.task.shares.iter().map(|s| s.lay.length).max().unwrap_or(0) as f64 * 1e-9;
        let (mut basis, mut names) = self.first_basis();
        let mut offered = std::mem::take(&mut self.offered);
        for _ in 0..EXCHANGES {
            let worth = self.worth(&basis.dual);
            let surplus = |entering: &Entering| (self.surplus(&worth, *entering), *entering);
            let best = |offered: &[Entering]| {
                let rows = (0..basis.dual.len()).map(Entering::Slack);
                let all = offered.iter().copied().chain(rows).map(|entering| surplus(&entering));
                all.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|best| best.0 < -small)
            };
            let mut found = best(&offered);
            if found.is_none() {
                let shares = (0..self.task.shares.len()).map(Entering::Share);
                let all = shares.chain((0..self.gaps.len()).map(Entering::Gap));
                let mut fresh: Vec<(f64, Entering)> =
                    all.map(|entering| surplus(&entering)).filter(|fresh| fresh.0 < -small).collect();
                fresh.sort_by(|a, b| a.0.total_cmp(&b.0));
                offered.extend(fresh.iter().take(OFFERED).map(|fresh| fresh.1));
                found = fresh.first().copied();
            }
            let Some((surplus, entering)) = found else { break };
            let column: Vec<(usize, f64)> = match entering {
                Entering::Share(i) => {
                    let set = self.task.shares[i].set;
                    let rows = members(set).map(|piece| (piece, 1.0));
                    let tolls = self.twos[i].iter().map(|&t| (last + 1 + usize::from(t), 1.0));
                    rows.chain(self.charged(&self.arcs[i])).chain(tolls).collect()
                }
                Entering::Gap(i) => self.charged(&self.gaps[i].0).chain([(last, 1.0)]).collect(),
                Entering::Slack(row) => vec![(row, if row >= last { 1.0 } else { -1.0 })],
            };
            let Some(left) = basis.exchange(&column, -surplus) else { break };
            names[left] = if let Entering::Share(i) = entering { Some(i) } else { None };
        }
        self.offered = offered;
        let laid = names.iter().zip(&basis.held).filter_map(|(name, &held)| Some(((*name)?, held)));
        Solved { laid: laid.collect(), dual: basis.dual }
    }

    /// What rows are worth, in the shape in which surpluses are reckoned from it.
    fn worth(&self, dual: &[f64]) -> Worth {
        let (count, last) = (self.task.count, self.gap_row());
        let mut sums = vec![0.0; self.phases.len() + 1];
        for (n, price) in dual[count..last].iter().enumerate() {
            sums[n + 1] = sums[n] + price;
        }
        Worth { tolls: dual[last + 1..].iter().map(|d| -d).collect(), sums, dual: dual.to_vec() }
    }

    /// How much more something is charged than it is worth.
    fn surplus(&self, worth: &Worth, entering: Entering) -> f64 {
        let (count, last) = (self.task.count, self.gap_row());
        match entering {
            Entering::Share(i) => {
                let (arc, set) = (&self.arcs[i], self.task.shares[i].set);
                let charge =
                    arc.turns as f64 * worth.sums[self.phases.len()] + part(&worth.sums, arc.from, arc.to);
                let toll: f64 = self.twos[i].iter().map(|&t| worth.tolls[usize::from(t)]).sum();
                charge + toll - worth_of(&worth.dual[..count], set)
            }
            Entering::Gap(i) => {
                let (arc, length) = &self.gaps[i];
                part(&worth.sums, arc.from, arc.to) - *length as f64 - worth.dual[last]
            }
            Entering::Slack(row) if row >= last => -worth.dual[row],
            Entering::Slack(row) => worth.dual[row],
        }
    }

    /// Adds the threes that the last solution breaks most; false when it breaks none.
    fn add_threes(&mut self) -> bool {
        let sets: Vec<(u64, f64)> = self
            .laid
            .iter()
            .map(|&(i, part)| (self.task.shares[i].set, part))
            .filter(|(set, part)| set.count_ones() >= 2 && *part > 1e-6)
            .collect();
        // How much of lays holds each two. Of three no more is laid than of the twos among them together, a little
        // rounding apart, so that few threes are looked at closely.
        let count = self.task.count;
        let mut of_two = vec![0.0; count * count];
        for (set, part) in &sets {
            for a in members(*set) {
                members(*set).for_each(|b| of_two[a * count + b] += part);
            }
        }
        let mut broken: Vec<(f64, u64)> = Vec::new();
        for a in 0..count {
            for b in a + 1..count {
                for c in b + 1..count {
                    if of_two[a * count + b] + of_two[a * count + c] + of_two[b * count + c] < 1.0 {
                        continue;
                    }
                    let three = 1 << a | 1 << b | 1 << c;
                    let twos = sets.iter().filter(|(set, _)| holds_two(three, *set));
                    let over = twos.map(|t| t.1).sum::<f64>() - 1.0;
                    if over > 1e-3 {
                        broken.push((over, three));
                    }
                }
            }
        }
        broken.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let before = self.threes.len();
        broken.retain(|(_, three)| !self.threes.contains(three));
        self.threes.extend(broken.iter().take(THREES).map(|b| b.1));
        let fresh = &self.threes[before..];
        for (share, twos) in self.task.shares.iter().zip(&mut self.twos) {
            let held = fresh.iter().zip(before as u16..).filter(|(three, _)| holds_two(**three, share.set));
            twos.extend(held.map(|(_, index)| index));
        }
        !fresh.is_empty()
    }

    /// The rows of the phases that an arc lies over.
    fn charged(&self, arc: &Arc) -> impl Iterator<Item = (usize, f64)> {
        let covers = (0..self.phases.len()).map(|n| (self.task.count + n, -(arc.cover(n) as f64)));
        covers.filter(|(_, a)| *a != 0.0)
    }

    /// Each piece alone in its shortest lay, no gap, and K as the phase in most need has it.
    fn first_basis(&self) -> (Basis, Vec<Option<usize>>) {
        let (count, phases) = (self.task.count, self.phases.len());
        let size = self.gap_row() + 1 + self.threes.len();
        let mut alone = vec![0; count];
        for (i, share) in self.task.shares.iter().enumerate().filter(|(_, s)| s.set.is_power_of_two()) {
            alone[share.set.trailing_zeros() as usize] = i;
        }
        let mut names: Vec<Option<usize>> = alone.iter().copied().map(Some).collect();
        names.resize(size, None);
        let alone: Vec<&Arc> = alone.into_iter().map(|i| &self.arcs[i]).collect();
        // A little more need here and there, never twice the same, so that no two ways are equal.
        let more = |n: usize| (n * 7919 % 101) as f64 * 1e-8;
        let need =
            |n: usize| (self.base[n] + alone.iter().map(|arc| arc.cover(n)).sum::<i64>()) as f64 + more(n);
        let needs: Vec<f64> = (0..phases).map(need).collect();
        let most = (0..phases).max_by(|&a, &b| needs[a].total_cmp(&needs[b])).unwrap_or(0);
        let mut inverse = vec![0.0; size * size];
        let mut held = vec![1.0; size];
        held[self.gap_row()] = self.task.bolts as f64;
        let mut costs = vec![0.0; size];
        for i in 0..count {
            inverse[i * size + i] = 1.0;
        }
        for n in 0..phases {
            let row = (count + n) * size;
            let of_most = n == most;
            for (i, arc) in alone.iter().enumerate() {
                let own = if of_most { 0 } else { arc.cover(n) };
                inverse[row + i] = (arc.cover(most) - own) as f64;
            }
            inverse[row + count + most] = 1.0;
            if !of_most {
                inverse[row + count + n] = -1.0;
            }
            held[count + n] = if of_most { needs[n] } else { needs[most] - needs[n] };
        }
        for row in self.gap_row()..size {
            inverse[row * size + row] = 1.0;
        }
        costs[count + most] = self.task.goods.turn as f64;
        (Basis::new(inverse, held, &costs), names)
    }

    /// Whole prices from these, and the bound that they prove.
    fn exact(&self, dual: &[f64]) -> Prices {
        let (turn, nodes) = (self.task.goods.turn, self.phases.len());
        let whole = |price: f64| (price.max(0.0) * FINE as f64) as i64;
        let mut prices: Vec<i64> =
            dual[self.task.count..self.task.count + nodes].iter().map(|&p| whole(p)).collect();
        // They must make one repeat in all: the dearest phase takes what was lost in rounding.
        let lost = turn * FINE - prices.iter().sum::<i64>();
        if let Some(dearest) = (0..nodes).max_by_key(|&n| (prices[n], self.base[n])) {
            prices[dearest] += lost;
        }
        let mut sums = vec![0; nodes + 1];
        for n in 0..nodes {
            sums[n + 1] = sums[n] + prices[n];
        }
        let pieces = dual[..self.task.count].iter().map(|&p| whole(p)).collect();
        let of_threes: Vec<i64> = dual[self.gap_row() + 1..].iter().map(|&d| whole(-d)).collect();
        let tolls = self.threes.iter().copied().zip(of_threes.iter().copied()).filter(|t| t.1 > 0).collect();
        let phases = self.phases.clone();
        let mut exact = Prices { turn, phases, sums, pieces, tolls, least: 0, base: 0, gaps: vec![(0, 0)] };
        for (share, (arc, twos)) in self.task.shares.iter().zip(self.arcs.iter().zip(&self.twos)) {
            let toll: i64 = twos.iter().map(|&two| of_threes[usize::from(two)]).sum();
            let mut over = -exact.over(arc, toll, share.set);
            for piece in members(share.set) {
                let less = over.clamp(0, exact.pieces[piece]);
                exact.pieces[piece] -= less;
                over -= less;
            }
        }
        exact
            .gaps
            .extend(self.gaps.iter().map(|(arc, length)| (*length, part(&exact.sums, arc.from, arc.to))));
        // Of gaps of one length the cheapest.
        exact.gaps.sort_unstable();
        exact.gaps.dedup_by_key(|gap| gap.0);
        let charge: i128 = prices.iter().zip(&self.base).map(|(&p, &n)| i128::from(p) * i128::from(n)).sum();
        let worth: i128 = exact.pieces.iter().map(|&p| i128::from(p)).sum();
        let tolls: i128 = exact.tolls.iter().map(|t| i128::from(t.1)).sum();
        exact.base = i64::try_from(charge + worth - tolls).unwrap_or(0);
        exact.least = if self.task.bolts > 1 {
            let gap = exact.gaps.iter().map(|(gap, charge)| gap * FINE - charge).max().unwrap_or(0);
            let gaps = i128::from(gap) * self.task.bolts as i128;
            let fine = i128::from(FINE);
            let least = (i128::from(exact.base) - gaps + fine - 1).div_euclid(fine);
            i64::try_from(least).unwrap_or(0).max(0)
        } else {
            exact.least_with_room().max(0)
        };
        exact
    }
}

/// What enters the basis.
#[derive(Clone, Copy)]
enum Entering {
    Share(usize),
    Gap(usize),
    Slack(usize),
}
