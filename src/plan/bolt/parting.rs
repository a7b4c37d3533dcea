//! Which walls come from which bolt, where one bolt does not hold them all.
//!
//! Each bolt costs what its pieces use on it and the repeat that its unknown start may cost. Of all ways to
//! part a few walls into loads the cheapest is found by dynamic programming over sets of walls, first
//! with what each load must use at least; the loads of the cheapest way are then laid out in full, which
//! makes them dearer or shows that no bolt holds them, until the cheapest way is one that is laid out.
//! What it costs with every load at its proved least is a bound on all ways. Where walls are many they
//! are parted in ribbon order and then anew by neighbouring bolts, without a bound of its own.

use std::collections::BTreeMap;

use super::area::by_area;
use super::cutting::{Cutting, Goods};
use super::pack::{self, Packed};
use super::slots::by_slots;

/// Most walls that are parted in all ways.
const MOST: usize = 12;

/// Lays tried, nodes searched and plans measured for one cloth.
const WORK: usize = 250_000;

/// Ways of which the loads are laid out before the cheapest are looked for again.
const TRIED: usize = 8;

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
            let packed = lay_out(goods, &pieces(walls, load.iter().copied()), goods.longest + 1);
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
    pack::quick(goods, pieces) <= goods.longest
        || lay_out(goods, pieces, goods.longest + 1).length <= goods.longest
}

/// Lays pieces out as one of many loads that there may be.
fn lay_out(goods: &Goods, pieces: &[Cutting], ceiling: i64) -> Packed {
    pack::under(goods, pieces, ceiling, pack::BRIEF)
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
        let unknown = Load { least: 0, length: i64::MAX, closed: false };
        let mut ways = Ways { goods, walls, loads: vec![unknown; 1 << walls.len()], packed: BTreeMap::new() };
        for set in 1..ways.loads.len() {
            // A wall more never takes less.
            let less = members(set).map(|wall| ways.loads[set & !(1 << wall)].least).max().unwrap_or(0);
            let least =
                if less > goods.longest { less } else { less.max(quick_least(goods, &ways.pieces(set))) };
            ways.loads[set].least = least;
        }
        ways
    }

    fn pieces(&self, set: Set) -> Vec<Cutting> {
        pieces(self.walls, members(set))
    }

    /// The loads of the cheapest way found, and what every way costs at least.
    fn best(&mut self, work: &mut usize) -> (Vec<Set>, i64) {
        let (mut least_of, mut length) = (1, 1);
        for load in in_order(self.goods, self.walls) {
            let set: Set = load.iter().map(|wall| 1 << wall).sum();
            least_of += i128::from(self.loads[set].least);
            self.lay_out(set, i64::MAX, work);
            length += i128::from(self.loads[set].length);
        }
        // A good way first, as loads are likely to turn out, spares laying out many that are worse.
        let likely = |least: i64| i64::try_from(i128::from(least) * length / least_of).unwrap_or(i64::MAX);
        while *work > 0 {
            let likely =
                self.cheapest(|load| if load.length < i64::MAX { load.length } else { likely(load.least) });
            let Some(set) = likely.loads().into_iter().find(|set| self.loads[*set].length == i64::MAX) else {
                break;
            };
            self.lay_out(set, i64::MAX, work);
        }
        loop {
            let known = self.cheapest(|load| load.length);
            let hoped = self.cheapest(|load| if load.closed { load.length } else { load.least });
            let mut open: Vec<(i64, Set)> = Vec::new();
            for (cost, loads) in hoped.by_first_load(TRIED) {
                let fresh = |set: &Set| !self.loads[*set].closed && open.iter().all(|o| o.1 != *set);
                if cost < known.cost() {
                    let fresh: Vec<Set> = loads.into_iter().filter(fresh).collect();
                    open.extend(fresh.into_iter().map(|set| (cost, set)));
                }
            }
            if open.is_empty() || *work == 0 {
                let least = self.cheapest(|load| load.least).cost();
                return (known.loads(), least.min(known.cost()));
            }
            for (cost, set) in open {
                self.lay_out(set, self.loads[set].least.saturating_add(known.cost() - cost), work);
            }
        }
    }

    /// Lays a load out, if it can be shorter than `ceiling` and a bolt may hold it.
    fn lay_out(&mut self, set: Set, ceiling: i64, work: &mut usize) {
        let ceiling = ceiling.min(self.goods.longest + 1);
        let pieces = self.pieces(set);
        let packed = lay_out(self.goods, &pieces, ceiling);
        *work = work.saturating_sub(packed.work);
        let load = &mut self.loads[set];
        load.least = load.least.max(packed.least);
        if load.least < packed.length.min(ceiling) {
            load.least = load.least.max(by_slots(self.goods, &pieces, 1));
        }
        load.closed = load.least < ceiling || load.least >= packed.length;
        if packed.length < load.length {
            load.length = packed.length;
            self.packed.insert(set, packed);
        }
    }

    /// The repeat that the unknown start of a bolt may cost.
    fn repeat(&self) -> i64 {
        if self.goods.turn > 1 { self.goods.turn } else { 0 }
    }

    /// The cheapest ways when each load uses so much.
    fn cheapest(&self, uses: impl Fn(&Load) -> i64) -> Cheapest {
        let (all, longest) = (self.loads.len() - 1, self.goods.longest);
        let cost = |load: &Load| match uses(load) {
            uses if uses <= longest => (uses + self.repeat()) * BOLTS + 1,
            _ => NONE,
        };
        let costs: Vec<i64> = self.loads.iter().map(cost).collect();
        let mut best = vec![(NONE, 0); self.loads.len()];
        best[0] = (0, 0);
        // Of equals the way whose first bolts hold most, so that what is left over is on the last.
        let key = |way: &(i64, Set)| (way.0, std::cmp::Reverse(way.1.count_ones()), way.1);
        // The first wall is in the first load, so that it is never among those that are left.
        for set in (2..=all).step_by(2) {
            let ways = loads_of_first(set).map(|load| (costs[load] + best[set ^ load].0, load));
            best[set] = ways.min_by_key(key).filter(|way| way.0 < NONE).unwrap_or((NONE, 0));
        }
        let ways = loads_of_first(all).map(|load| (costs[load] + best[all ^ load].0, load));
        let mut ways: Vec<(i64, Set)> = ways.filter(|way| way.0 < NONE).collect();
        ways.sort_unstable_by_key(key);
        Cheapest { all, ways, best }
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
struct Cheapest {
    all: Set,
    /// For each load of the first wall the cost of its cheapest way, rising.
    ways: Vec<(i64, Set)>,
    /// For each set without the first wall the least cost, and the load of its first wall.
    best: Vec<(i64, Set)>,
}

impl Cheapest {
    /// The least cost, in nanometres.
    fn cost(&self) -> i64 {
        self.ways.first().map_or(i64::MAX, |way| way.0 / BOLTS)
    }

    /// The loads of the cheapest way, by their first walls.
    fn loads(&self) -> Vec<Set> {
        self.by_first_load(1).flat_map(|way| way.1).collect()
    }

    /// The cost in nanometres and the loads of the cheapest ways with different loads of the first wall.
    fn by_first_load(&self, count: usize) -> impl Iterator<Item = (i64, Vec<Set>)> {
        self.ways.iter().take(count).map(|&(cost, first)| {
            let mut loads = vec![first];
            let mut left = self.all ^ first;
            while left > 0 {
                loads.push(self.best[left].1);
                left ^= self.best[left].1;
            }
            (cost / BOLTS, loads)
        })
    }
}

/// A quick bound on what pieces use on one bolt.
fn quick_least(goods: &Goods, pieces: &[Cutting]) -> i64 {
    by_area(goods, pieces).max(pack::least_of_whole(goods, pieces))
}

fn members(set: Set) -> impl Iterator<Item = usize> {
    (0..Set::BITS as usize).filter(move |wall| set >> wall & 1 == 1)
}
