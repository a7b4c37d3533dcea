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
//! The best
//! prices are the dual values of a linear programme, which covers the pieces with lays: the relaxation
//! of P. C. Gilmore and R. E. Gomory, "A linear programming approach to the cutting-stock problem",
//! Operations Research 9 (1961) 849-859, with one more row for each phase. It is solved in floating
//! point; the prices are then made whole numbers and every lay is checked against them, so that the
//! bound holds whatever was rounded.

use super::cutting::Goods;
use super::sequence::Item;
use super::shares::Share;
use super::simplex::Basis;

/// Prices are counted in this part of a nanometre.
pub const FINE: i64 = 1 << 20;

/// Exchanges of the simplex method at most.
const EXCHANGES: usize = 2000;

/// Shares and gaps that the simplex method is given at a time, the most promising of all.
const OFFERED: usize = 64;

/// How often threes are looked for, and how many are taken each time.
const ROUNDS: usize = 12;
const THREES: usize = 12;

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
    turn: i64,
    /// Where lays may start and end, rising.
    phases: Vec<i64>,
    /// What the phases before each of `phases` are charged, and all together at the end.
    sums: Vec<i64>,
    /// What each piece is worth.
    pieces: Vec<i64>,
    /// Threes of pieces, and the toll for a lay that holds two of them.
    tolls: Vec<(u64, i64)>,
    /// No plan uses less than this, in nanometres.
    pub least: i64,
    /// What all pieces and whole widths are charged and worth.
    base: i64,
    /// The gaps that can close the plan: their lengths, and what they are charged.
    gaps: Vec<(i64, i64)>,
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

    /// The least length for which there is [room](Self::room).
    fn least_with_room(&self) -> i64 {
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
        let (start, length) = (share.start(), share.lay.length);
        let node = |phase: i64| self.phases.partition_point(|&n| n < phase);
        let (from, to) = (node(start), node((start + length).rem_euclid(self.turn)));
        let all = self.sums[self.phases.len()];
        let charge = length / self.turn * all + part(&self.sums, from, to);
        charge + toll(&self.tolls, share.set) - worth(&self.pieces, share.set)
    }
}

/// What the phases from one node forward to another are charged.
fn part<T>(sums: &[T], from: usize, to: usize) -> T
where
    T: Copy + std::ops::Add<Output = T> + std::ops::Sub<Output = T>,
{
    let all = sums[sums.len() - 1];
    if from <= to { sums[to] - sums[from] } else { all - sums[from] + sums[to] }
}

fn worth<T: Copy + std::iter::Sum>(pieces: &[T], set: u64) -> T {
    members(set).filter_map(|i| pieces.get(i).copied()).sum()
}

/// What a lay of these pieces pays in tolls.
fn toll<T: Copy + std::iter::Sum>(tolls: &[(u64, T)], set: u64) -> T {
    tolls.iter().filter(|(three, _)| holds_two(*three, set)).map(|t| t.1).sum()
}

fn holds_two(three: u64, set: u64) -> bool {
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
    from: usize,
    to: usize,
    turns: i64,
}

impl Arc {
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
    /// The shares and gaps that the simplex method looks at.
    offered: Vec<Entering>,
    /// The shares laid in the last solution, and which part of each.
    laid: Vec<(usize, f64)>,
}

/// What the rows are worth: the sums of the phases before each, and the tolls.
struct Worth {
    dual: Vec<f64>,
    sums: Vec<f64>,
    tolls: Vec<(u64, f64)>,
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
        let (threes, offered, laid) = (Vec::new(), Vec::new(), Vec::new());
        Programme { task, phases, arcs, base, gaps, threes, offered, laid }
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
                    let tolls = (0..self.threes.len()).filter(|&t| holds_two(self.threes[t], set));
                    let tolls = tolls.map(|t| (last + 1 + t, 1.0));
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
        let tolls = self.threes.iter().copied().zip(dual[last + 1..].iter().map(|d| -d));
        Worth { tolls: tolls.filter(|toll| toll.1 != 0.0).collect(), sums, dual: dual.to_vec() }
    }

    /// How much more something is charged than it is worth.
    fn surplus(&self, worth: &Worth, entering: Entering) -> f64 {
        let (count, last) = (self.task.count, self.gap_row());
        match entering {
            Entering::Share(i) => {
                let (arc, set) = (&self.arcs[i], self.task.shares[i].set);
                let charge =
                    arc.turns as f64 * worth.sums[self.phases.len()] + part(&worth.sums, arc.from, arc.to);
                charge + toll(&worth.tolls, set) - self::worth(&worth.dual[..count], set)
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
        let mut broken: Vec<(f64, u64)> = Vec::new();
        for a in 0..self.task.count {
            for b in a + 1..self.task.count {
                for c in b + 1..self.task.count {
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
        self.threes.len() > before
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
        let tolls = dual[self.gap_row() + 1..].iter().map(|&d| whole(-d));
        let tolls: Vec<(u64, i64)> = self.threes.iter().copied().zip(tolls).filter(|t| t.1 > 0).collect();
        let phases = self.phases.clone();
        let mut exact = Prices { turn, phases, sums, pieces, tolls, least: 0, base: 0, gaps: vec![(0, 0)] };
        for share in self.task.shares {
            let mut over = -exact.surplus(share);
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
