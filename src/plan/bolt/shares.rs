//! Every way in which pieces can share a lay.
//!
//! A *share* is a set of pieces and the shortest lay that holds them from a given phase on. All are
//! listed, those of one piece, of two, and so on. A lay is filled column by column from the left: each
//! further piece goes, in one of its places across the cloth, into the last column, as soon as its phase
//! comes behind what lies there, or begins a column at its right. What lies further left no longer
//! matters; so of lays that hold the same pieces those are forgotten whose last column leaves no more
//! room than another's. On plain cloth columns stand by falling width. Pieces that one cut across the
//! whole width would part make two lays, and are not listed as one.

use super::cutting::{Cutting, Goods, Place, Places};
use super::lay::{Lay, Placed};

/// Pieces that share a lay, as a set of their indices, and the lay.
#[derive(Clone, Debug)]
pub struct Share {
    /// The pieces, one bit each.
    pub set: u64,
    /// The lay; its phase is known unless the cloth is plain.
    pub lay: Lay,
}

impl Share {
    /// The phase of its start; 0 on plain cloth.
    pub fn start(&self) -> i64 {
        self.lay.phase.unwrap_or(0)
    }
}

/// Most pieces whose shares are listed.
pub const MOST: usize = 64;

/// Whether the shares of `piece` can be listed: on patterned cloth a matched piece, on plain cloth one
/// that may lie anywhere across it.
pub fn can_list(piece: &Cutting, goods: &Goods) -> bool {
    match &piece.places {
        Places::Matched(places) => !places.is_empty(),
        &Places::Free(least, most) => {
            goods.turn == 1 && least == 0 && most == goods.width - piece.width && most >= 0
        }
    }
}

/// Lays tried that are worth while for some of the pieces even if those of all will be too many.
const SOME: usize = 20_000;

/// How many times what is left of the budget those of all may seem to take before they are given up.
const HOPE: f64 = 4.0;

/// The shares of the first of `parts`, for each set and phase of start the shortest, and of how many: all, or
/// as many as `budget` lays can be tried for. Each of `parts` [can be listed](can_list), and there are
/// [`MOST`] at most.
pub fn list(goods: &Goods, parts: &[&Cutting], budget: &mut usize) -> (usize, Vec<Share>) {
    let shortest = parts.iter().map(|p| p.length).min().unwrap_or(0);
    let (starts, all) = (Vec::new(), Vec::new());
    let (steps, states) = (Vec::new(), Vec::new());
    let mut finder = Finder { goods, parts, shortest, budget, starts, all, steps, states };
    let mut shares = Vec::new();
    let (begun, mut before) = (*finder.budget, [1; 3]);
    for piece in 0..parts.len() {
        let left = *finder.budget;
        // What the pieces to come will take if they go on growing as the last did.
        let growth = before[2] as f64 / before[0] as f64;
        // Multiplied one by one: a power is not rounded alike on all machines.
        let step = growth.max(1.0).sqrt();
        let more = (piece..parts.len()).fold(before[2] as f64, |more, _| more * step);
        if begun - left > SOME && more > left as f64 * HOPE {
            return (piece, shares);
        }
        if finder.take(piece, &mut shares).is_none() {
            return (piece, shares);
        }
        before = [before[1], before[2], (left - *finder.budget).max(1)];
    }
    (parts.len(), shares)
}

/// A lay that is being filled.
#[derive(Clone, Copy)]
struct State {
    set: u64,
    start: i64,
    length: i64,
    /// Where its last column may begin: the right edge of what lies left of that.
    edge: i64,
    /// The left edge of the pieces in the last column.
    left: i64,
    /// Where the next column may begin: on plain cloth the width of all columns.
    right: i64,
    /// Where the last column ends.
    end: i64,
    /// As long as no piece begins where it does, how far left the column of one that does must begin.
    reach: i64,
    /// How its last piece was laid.
    step: usize,
}

impl State {
    /// Whatever can be added to `other` can be added to this as well.
    fn beats(&self, other: &State, plain: bool) -> bool {
        let edge = if plain { self.right - other.right } else { 0 };
        self.reach >= other.reach
            && self.length <= other.length
            && self.right <= other.right
            && self.edge <= other.edge + edge
            && self.end <= other.end
    }
}

/// A piece laid after others.
struct Step {
    before: Option<usize>,
    piece: usize,
    place: Place,
    v: i64,
}

struct Finder<'a> {
    goods: &'a Goods,
    parts: &'a [&'a Cutting],
    /// The length of the shortest piece.
    shortest: i64,
    budget: &'a mut usize,
    /// The empty lays from which the pieces taken so far are laid, by their starts.
    starts: Vec<State>,
    /// The lays of those pieces, by how many they hold.
    all: Vec<Vec<State>>,
    steps: Vec<Step>,
    /// Lays that have just been tried.
    states: Vec<State>,
}

impl Finder<'_> {
    /// Takes in the next piece: adds all shares that hold it and none that is still to come; `None` when the
    /// budget is spent.
    fn take(&mut self, piece: usize, shares: &mut Vec<Share>) -> Option<()> {
        let known = self.starts.len();
        self.add_starts(piece);
        let mut fresh: Vec<State> = self.starts[known..].to_vec();
        let mut old: Vec<State> = self.starts[..known].to_vec();
        let (mut levels, mut found) = (Vec::new(), Vec::new());
        loop {
            for &state in &old {
                self.extend(state, piece)?;
            }
            for &state in &fresh {
                // Lays that begin as this piece would may hold it in a column to come.
                (0..=piece).filter(|p| state.set >> p & 1 == 0).try_for_each(|p| self.extend(state, p))?;
            }
            if let Some(level) = levels.len().checked_sub(1) {
                // Put back what was borrowed to be extended, and what came of it one level below.
                if let Some(all) = self.all.get_mut(level) {
                    *all = old;
                }
                levels[level] = fresh;
            }
            fresh = undominated(&mut self.states, self.goods.turn == 1);
            old = self.all.get_mut(levels.len()).map(std::mem::take).unwrap_or_default();
            if old.is_empty() && fresh.is_empty() {
                break;
            }
            let own: Vec<State> = fresh.iter().copied().filter(|state| state.set >> piece & 1 == 1).collect();
            found.extend(self.shares(&own));
            levels.push(Vec::new());
        }
        self.all.resize(self.all.len().max(levels.len()), Vec::new());
        self.all.iter_mut().zip(levels).for_each(|(all, level)| all.extend(level));
        shares.extend(found);
        Some(())
    }

    /// Adds the empty lays that begin as a piece may, where there is none yet.
    fn add_starts(&mut self, piece: usize) {
        let begin = |start: i64, reach: i64| {
            let (set, length, edge, left, right, end) = (0, 0, 0, 0, 0, 0);
            State { set, start, length, edge, left, right, end, reach, step: usize::MAX }
        };
        let Places::Matched(places) = &self.parts[piece].places else {
            if self.starts.is_empty() {
                self.starts.push(begin(0, i64::MAX));
            }
            return;
        };
        for place in places {
            let of_start = |part: &&Cutting| match &part.places {
                Places::Matched(spots) => spots.iter().filter(|p| p.phase == place.phase).map(|p| p.u).max(),
                Places::Free(..) => None,
            };
            if self.starts.iter().all(|state| state.start != place.phase) {
                let reach = self.parts.iter().filter_map(of_start).max().unwrap_or(0);
                self.starts.push(begin(place.phase, reach));
            }
        }
    }

    /// All ways to lay a piece after others.
    fn extend(&mut self, state: State, piece: usize) -> Option<()> {
        let parts = self.parts;
        match &parts[piece].places {
            Places::Matched(places) => places.iter().try_for_each(|place| self.matched(state, piece, place)),
            Places::Free(..) => self.free(state, piece),
        }
    }

    /// Lays a piece in the last column, and in one of its own.
    fn matched(&mut self, state: State, piece: usize, place: &Place) -> Option<()> {
        let cutting = self.parts[piece];
        let (left, right) = (place.u, place.u + cutting.width);
        let wait = |from: i64| from + (place.phase - state.start - from).rem_euclid(self.goods.turn);
        let own = wait(0);
        let reach = if own == 0 { i64::MAX } else { state.reach };
        if left >= state.right && right <= reach && own + cutting.length <= self.goods.lay {
            let column = State { edge: state.right, left, right, end: own + cutting.length, reach, ..state };
            self.add(column, piece, *place, own)?;
        }
        let after = wait(state.end);
        // Beside the pieces of the column it lies there only so that a wider piece can follow both.
        let beside = right <= state.left || state.right <= left;
        let needed = after + cutting.length + if beside { self.shortest } else { 0 };
        if left >= state.edge && state.set != 0 && needed <= self.goods.lay {
            let (left, right) = (left.min(state.left), right.max(state.right));
            let column = State { left, right, end: after + cutting.length, ..state };
            self.add(column, piece, *place, after)?;
        }
        Some(())
    }

    /// Lays a piece of plain cloth: in the last column, if it is no wider, and in one of its own.
    fn free(&mut self, state: State, piece: usize) -> Option<()> {
        let Cutting { width, length, .. } = *self.parts[piece];
        let column = state.right - state.edge;
        if state.set != 0 && width > column {
            return Some(());
        }
        let place = |u: i64| Place { u, phase: 0, column: 0 };
        if state.right + width <= self.goods.width && length <= self.goods.lay {
            let right = state.right + width;
            let own = State { edge: state.right, left: state.right, right, end: length, ..state };
            self.add(own, piece, place(state.right), 0)?;
        }
        let end = state.end + length;
        if state.set != 0 && end <= self.goods.lay {
            self.add(State { end, ..state }, piece, place(state.edge), state.end)?;
        }
        Some(())
    }

    /// Adds a lay with its last piece at `v`.
    fn add(&mut self, state: State, piece: usize, place: Place, v: i64) -> Option<()> {
        *self.budget = self.budget.checked_sub(1)?;
        let before = (state.set != 0).then_some(state.step);
        let set = state.set | 1 << piece;
        self.steps.push(Step { before, piece, place, v });
        let (length, step) = (state.length.max(state.end), self.steps.len() - 1);
        self.states.push(State { set, length, step, ..state });
        Some(())
    }

    /// The steps that made a lay, the last first.
    fn steps_of(&self, last: usize) -> impl Iterator<Item = &Step> {
        std::iter::successors(self.steps.get(last), |step| step.before.and_then(|b| self.steps.get(b)))
    }

    /// The shortest lay of each set and start, without those that another start's lies within.
    fn shares(&self, states: &[State]) -> Vec<Share> {
        let turn = self.goods.turn;
        let within = |a: &State, b: &State| (a.start - b.start).rem_euclid(turn) + a.length <= b.length;
        let mut shares = Vec::new();
        for same in states.chunk_by(|a, b| a.set == b.set) {
            let shortest: Vec<&State> = same
                .chunk_by(|a, b| a.start == b.start)
                .filter_map(|s| s.iter().min_by_key(|s| s.length))
                .collect();
            // Two starts never lie within each other, as they differ.
            let kept = |f: &&&State| !shortest.iter().any(|o| o.start != f.start && within(o, f));
            shares.extend(shortest.iter().filter(kept).filter_map(|state| self.share(state)));
        }
        shares
    }

    /// The share of a lay; `None` if a cut across the whole width would part it.
    fn share(&self, state: &State) -> Option<Share> {
        let patterned = self.goods.turn > 1;
        let mut runs: Vec<(i64, i64)> = Vec::new();
        let mut placed: Vec<Placed> = Vec::new();
        for step in self.steps_of(state.step) {
            let Cutting { id, width, length, .. } = *self.parts[step.piece];
            let (u, v, column) = (step.place.u, step.v, step.place.column);
            placed.push(Placed { id, u, v, width, length, column, matched: patterned });
            runs.push((v, v + length));
        }
        placed.reverse();
        runs.sort_unstable();
        let mut end = 0;
        let whole = runs.iter().enumerate().all(|(i, run)| {
            let meets = run.0 < end || i == 0 && run.0 == 0;
            end = end.max(run.1);
            meets
        });
        let lay = Lay { placed, phase: patterned.then_some(state.start), length: state.length };
        whole.then_some(Share { set: state.set, lay })
    }
}

/// The lays to which no other of the same pieces and start is to be preferred, whatever is added.
/// `states` is left empty.
fn undominated(states: &mut Vec<State>, plain: bool) -> Vec<State> {
    states.sort_unstable_by_key(|s| (s.set, s.start, s.length, s.right, s.end, s.edge, s.step));
    let mut kept: Vec<State> = Vec::new();
    let mut group = 0;
    for state in states.drain(..) {
        if kept.get(group).is_none_or(|first| (first.set, first.start) != (state.set, state.start)) {
            group = kept.len();
        }
        if !kept[group..].iter().any(|other| other.beats(&state, plain)) {
            kept.push(state);
        }
    }
    kept
}
