//! Which walls come from which bolt, where one bolt does not hold them all.
//!
//! Each bolt costs what its pieces use on it and the repeat that its unknown start may cost. Of all ways to
//! part a few walls into loads the cheapest is found by dynamic programming over sets of walls, first
//! with what each load must use at least by figures that add up over walls; the loads of the cheapest way
//! then get the bound of their own slots, and if they stay in it they are laid out in full. Both make them
//! dearer or show that no bolt holds them, until the cheapest way is one that is laid out.
//! What it costs with every load at its proved least is a bound on all ways. Where walls are many they
//! are parted in ribbon order and then anew by neighbouring bolts, without a bound of its own.

use std::collections::BTreeMap;

use super::area;
use super::cutting::{Cutting, Goods};
use super::pack::{self, Effort, Packed};
use super::slots::{by_slots, of_sets};

/// Most walls that are parted in all ways.
const MOST: usize = 12;

/// Lays tried, nodes searched and plans measured for one cloth.
const WORK: usize = 150_000;

/// Ways of which the loads are laid out before the cheapest are looked for again.
const TRIED: usize = 8;

/// So much of it is left for what the other ways cost at least, when a first good way is looked for.
const KEPT: usize = 50_000;

/// Ways compared that are as much work as a lay tried.
const COMPARED: usize = 200;

/// The loads of bolts, laid out.
pub struct Parted {
    /// One for each bolt.
    pub loads: Vec<Packed>,
    /// No plan of these walls, each from one bolt, takes less than this beside one repeat for each bolt;
    /// 0 if nothing is proved.
    pub least: i64,
}

/// Parts walls, each of which one bolt [holds], into the loads of bolts.
pub fn part(goods: &Goods, walls: &[Vec<Cutting>]) -> Parted {
    let mut work = WORK;
    if walls.len() <= MOST {
        let mut ways = Ways::new(goods, walls);
        let (sets, least) = ways.best(&mut work);
        let least = least - sets.len() as i64 * ways.repeat();
        return Parted { loads: sets.iter().filter_map(|set| ways.packed.remove(set)).collect(), least };
    }
    let mut loads: Vec<(Vec<usize>, Packed)> = in_order(goods, walls)
        .into_iter()
        .map(|load| {
            let packed = lay_out(goods, &pieces(walls, load.iter().copied()));
            (load, packed)
        })
        .collect();
    let mut first = 0;
    while first + 1 < loads.len() && work > 0 {
        let count = |to: usize| loads[first..=to].iter().map(|load| load.0.len()).sum::<usize>();
        if let Some(last) = (first + 1..loads.len()).take_while(|&to| count(to) <= MOST).last() {
            let own: Vec<usize> =
                loads[first..=last].iter().flat_map(|load| load.0.iter().copied()).collect();
            let few: Vec<Vec<Cutting>> = own.iter().map(|&wall| walls[wall].clone()).collect();
            let mut ways = Ways::new(goods, &few);
            let (sets, _) = ways.best(&mut work);
            let load = |set: Set| {
                let packed = ways.packed.remove(&set)?;
                Some((members(set).map(|i| own[i]).collect(), packed))
            };
            let better: Vec<(Vec<usize>, Packed)> = sets.into_iter().filter_map(load).collect();
            loads.splice(first..=last, better);
        }
        first += 1;
    }
    Parted { loads: loads.into_iter().map(|load| load.1).collect(), least: 0 }
}

/// Whether a bolt is known to hold pieces.
pub fn holds(goods: &Goods, pieces: &[Cutting]) -> bool {
    pack::quick(goods, pieces) <= goods.longest || lay_out(goods, pieces).length <= goods.longest
}

/// Lays pieces out as one of many loads that there may be, if a bolt may hold them.
fn lay_out(goods: &Goods, pieces: &[Cutting]) -> Packed {
    pack::under(goods, pieces, goods.longest + 1, pack::BRIEF)
}

/// The pieces of some walls.
fn pieces(walls: &[Vec<Cutting>], some: impl Iterator<Item = usize>) -> Vec<Cutting> {
    some.flat_map(|wall| walls[wall].iter().cloned()).collect()
}

/// Walls in ribbon order, as many to a bolt as it holds.
fn in_order(goods: &Goods, walls: &[Vec<Cutting>]) -> Vec<Vec<usize>> {
    let mut loads: Vec<Vec<usize>> = Vec::new();
    let mut pieces: Vec<Cutting> = Vec::new();
    for (index, wall) in walls.iter().enumerate() {
        pieces.extend(wall.iter().cloned());
        match loads.last_mut() {
            Some(load) if pack::quick(goods, &pieces) <= goods.longest => load.push(index),
            _ => {
                loads.push(vec![index]);
                pieces.clone_from(wall);
            }
        }
    }
    loads
}

/// What is known of a set of walls on one bolt.
#[derive(Clone, Copy)]
struct Load {
    /// What it uses at least.
    least: i64,
    /// The quick bounds of its own are in `least`.
    weighed: bool,
    /// What it uses as it was laid out; more than any bolt holds as long as it was not.
    length: i64,
    /// No more is to be found out.
    closed: bool,
}

/// A set of walls, one bit each.
type Set = usize;

/// All ways to part a few walls.
struct Ways<'a> {
    goods: &'a Goods,
    walls: &'a [Vec<Cutting>],
    /// By set.
    loads: Vec<Load>,
    /// Those laid out.
    packed: BTreeMap<Set, Packed>,
}

impl<'a> Ways<'a> {
    fn new(goods: &'a Goods, walls: &'a [Vec<Cutting>]) -> Self {
        let unknown = Load { least: 0, weighed: false, length: i64::MAX, closed: false };
        let mut loads = vec![unknown; 1 << walls.len()];
        for threshold in area::thresholds(goods, &pieces(walls, 0..walls.len())) {
            let own: Vec<i128> = walls.iter().map(|wall| area::total(goods, wall, threshold)).collect();
            let mut totals = vec![0; loads.len()];
            for set in 1..loads.len() {
                totals[set] = totals[set & (set - 1)] + own[set.trailing_zeros() as usize];
                loads[set].least = loads[set].least.max(area::length(goods, totals[set]));
            }
        }
        for (load, least) in loads.iter_mut().zip(of_sets(goods, walls)) {
            load.least = load.least.max(least);
        }
        Ways { goods, walls, loads, packed: BTreeMap::new() }
    }

    fn pieces(&self, set: Set) -> Vec<Cutting> {
        pieces(self.walls, members(set))
    }

    /// The loads of the cheapest way found, and what every way costs at least.
    fn best(&mut self, work: &mut usize) -> (Vec<Set>, i64) {
        // What loads are likely to turn out at, before their own bounds are known and after.
        let (mut guessed, mut weighed, mut length) = (1, 1, 1);
        for load in in_order(self.goods, self.walls) {
            let set: Set = load.iter().map(|wall| 1 << wall).sum();
            guessed += i128::from(self.loads[set].least);
            self.weigh(&[set], work);
            weighed += i128::from(self.loads[set].least);
            self.lay_out(set, i64::MAX, pack::FIRST, work);
            length += i128::from(self.loads[set].length);
        }
        // A good way first, as loads are likely to turn out, spares laying out many that are worse.
        let likely = |load: &Load| {
            let known = if load.weighed { weighed } else { guessed };
            i64::try_from(i128::from(load.least) * length / known).unwrap_or(i64::MAX)
        };
        let mut ways = Cheapest::default();
        while *work > KEPT {
            ways =
                self.cheapest(ways, |load| if load.length < i64::MAX { load.length } else { likely(load) });
            *work = work.saturating_sub(ways.work());
            let loads = ways.loads();
            if self.weigh(&loads, work) {
                continue;
            }
            let Some(set) = loads.into_iter().find(|set| self.loads[*set].length == i64::MAX) else {
                break;
            };
            self.lay_out(set, i64::MAX, pack::FIRST, work);
        }
        let mut known = self.cheapest(Cheapest::default(), |load| load.length);
        let mut hoped = Cheapest::default();
        loop {
            hoped = self.cheapest(hoped, |load| if load.closed { load.length } else { load.least });
            *work = work.saturating_sub(hoped.work());
            let mut open: Vec<(i64, Set)> = Vec::new();
            for (cost, loads) in hoped.by_first_load() {
                let fresh = |set: &Set| !self.loads[*set].closed && open.iter().all(|o| o.1 != *set);
                if cost < known.cost() {
                    let fresh: Vec<Set> = loads.into_iter().filter(fresh).collect();
                    open.extend(fresh.into_iter().map(|set| (cost, set)));
                }
            }
            if open.is_empty() || *work == 0 {
                let least = self.cheapest(hoped, |load| load.least).cost();
                return (known.loads(), least.min(known.cost()));
            }
            let sets: Vec<Set> = open.iter().map(|load| load.1).collect();
            if self.weigh(&sets, work) {
                continue;
            }
            for (cost, set) in open {
                let ceiling = self.loads[set].least.saturating_add(known.cost() - cost);
                self.lay_out(set, ceiling, pack::BRIEF, work);
            }
            known = self.cheapest(known, |load| load.length);
            *work = work.saturating_sub(known.work());
        }
    }

    /// Finds the quick bounds of loads; whether there were any to be found.
    fn weigh(&mut self, sets: &[Set], work: &mut usize) -> bool {
        let mut any = false;
        for &set in sets {
            if !self.loads[set].weighed {
                let pieces = self.pieces(set);
                *work = work.saturating_sub(pieces.len() * pieces.len() / 4);
                let least = by_slots(self.goods, &pieces, 1, self.goods.longest)
                    .max(pack::least_of_whole(self.goods, &pieces));
                let load = &mut self.loads[set];
                load.least = load.least.max(least);
                load.weighed = true;
                any = true;
            }
        }
        any
    }

    /// Lays a load out, if it can be shorter than `ceiling` and a bolt may hold it.
    fn lay_out(&mut self, set: Set, ceiling: i64, effort: Effort, work: &mut usize) {
        self.weigh(&[set], work);
        let ceiling = ceiling.min(self.goods.longest + 1).min(self.loads[set].length);
        if self.loads[set].least >= ceiling {
            return;
        }
        let packed = pack::under(self.goods, &self.pieces(set), ceiling, effort);
        *work = work.saturating_sub(packed.work);
        let load = &mut self.loads[set];
        load.least = load.least.max(packed.least);
        if packed.length < load.length {
            load.length = packed.length;
            self.packed.insert(set, packed);
        }
        let tried = effort == pack::BRIEF && load.least < ceiling;
        load.closed = tried || load.least >= load.length;
    }

    /// The repeat that the unknown start of a bolt may cost.
    fn repeat(&self) -> i64 {
        if self.goods.turn > 1 { self.goods.turn } else { 0 }
    }

    /// The cheapest ways when each load uses so much; `before` were those when loads used something else.
    fn cheapest(&self, before: Cheapest, uses: impl Fn(&Load) -> i64) -> Cheapest {
        let longest = self.goods.longest;
        let cost = |load: &Load| match uses(load) {
            uses if uses <= longest => (uses + self.repeat()) * BOLTS + 1,
            _ => NONE,
        };
        before.with(self.loads.iter().map(cost).collect())
    }
}

/// More than any way costs, and small enough that a few of it can be added.
const NONE: i64 = i64::MAX / 64;

/// Costs are counted in this part of a nanometre, and each bolt costs one: of equals the way of fewer
/// bolts is the cheapest.
const BOLTS: i64 = 64;

/// The sets of these walls that hold the first of them.
fn loads_of_first(walls: Set) -> impl Iterator<Item = Set> {
    let first = walls & walls.wrapping_neg();
    let rest = walls ^ first;
    std::iter::successors(Some(rest), move |&others| (others > 0).then(|| (others - 1) & rest))
        .map(move |others| others | first)
}

/// The cheapest ways to part all walls.
#[derive(Default)]
struct Cheapest {
    /// What each load costs.
    costs: Vec<i64>,
    /// For each load of the first wall the cost of its cheapest way: the cheapest of them, rising.
    ways: Vec<(i64, Set)>,
    /// For each set without the first wall the least cost, and the load of its first wall.
    best: Vec<(i64, Set)>,
    /// How many ways were compared for it.
    compared: usize,
}

impl Cheapest {
    /// The same when the loads cost so much.
    fn with(self, costs: Vec<i64>) -> Self {
        let Cheapest { costs: before, mut best, mut compared, .. } = self;
        // As long as costs rise only, a way that costs what it did is still the cheapest.
        let rising = before.len() == costs.len() && before.iter().zip(&costs).all(|(was, is)| was <= is);
        if !rising {
            best = vec![(NONE, 0); costs.len()];
            best[0] = (0, 0);
        }
        let all = costs.len() - 1;
        // Of equals the way whose first bolts hold most, so that what is left over is on the last.
        let key = |way: &(i64, Set)| (way.0, std::cmp::Reverse(way.1.count_ones()), way.1);
        // The first wall is in the first load, so that it is never among those that are left.
        for set in (2..=all).step_by(2) {
            let (cost, load) = best[set];
            if rising && (cost >= NONE || cost == costs[load] + best[set ^ load].0) {
                continue;
            }
            // By hand, since nearly all ways are dearer: only of equals the whole key is compared.
            let mut least = (NONE, 0);
            for load in loads_of_first(set) {
                let way = (costs[load] + best[set ^ load].0, load);
                if way.0 < least.0 || way.0 == least.0 && way.0 < NONE && key(&way) < key(&least) {
                    least = way;
                }
            }
            best[set] = least;
            compared += 1 << (set.count_ones() - 1);
        }
        let ways = loads_of_first(all).map(|load| (costs[load] + best[all ^ load].0, load));
        let mut ways: Vec<(i64, Set)> = ways.filter(|way| way.0 < NONE).collect();
        compared += costs.len();
        if ways.len() > TRIED {
            ways.select_nth_unstable_by_key(TRIED, key);
            ways.truncate(TRIED);
        }
        ways.sort_unstable_by_key(key);
        Cheapest { costs, ways, best, compared }
    }

    /// The least cost, in nanometres.
    fn cost(&self) -> i64 {
        self.ways.first().map_or(i64::MAX, |way| way.0 / BOLTS)
    }

    /// The loads of the cheapest way, by their first walls.
    fn loads(&self) -> Vec<Set> {
        self.by_first_load().next().map_or(Vec::new(), |way| way.1)
    }

    /// The cost in nanometres and the loads of the cheapest ways with different loads of the first wall.
    fn by_first_load(&self) -> impl Iterator<Item = (i64, Vec<Set>)> {
        self.ways.iter().map(|&(cost, first)| {
            let mut loads = vec![first];
            let mut left = (self.costs.len() - 1) ^ first;
            while left > 0 {
                loads.push(self.best[left].1);
                left ^= self.best[left].1;
            }
            (cost / BOLTS, loads)
        })
    }

    /// The work that it was.
    fn work(&mut self) -> usize {
        let work = self.compared / COMPARED;
        self.compared %= COMPARED;
        work
    }
}

fn members(set: Set) -> impl Iterator<Item = usize> {
    (0..Set::BITS as usize).filter(move |wall| set >> wall & 1 == 1)
}
