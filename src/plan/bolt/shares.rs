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

/// The shares of `parts`, for each set and phase of start the shortest. Each of `parts`
/// [can be listed](can_list), and there are [`MOST`] at most. Lays that are tried are taken off `budget`.
///
/// # Errors
/// [`TooMany`] when the budget is spent.
pub fn list(goods: &Goods, parts: &[&Cutting], budget: &mut usize) -> Result<Vec<Share>, TooMany> {
    let shortest = parts.iter().map(|p| p.length).min().unwrap_or(0);
    let (steps, states) = (Vec::new(), Vec::new());
    let last = vec![0; parts.len()];
    let mut finder = Finder { goods, parts, shortest, budget, last, steps, states };
    finder.all().ok_or(TooMany { last: finder.last })
}

/// There are too many ways to share a lay.
pub struct TooMany {
    /// As in [`Finder`].
    last: Vec<usize>,
}

impl TooMany {
    /// The first `count` pieces alone take this many lays to be tried, or more.
    pub fn tried(&self, count: usize) -> usize {
        self.last.iter().take(count).sum()
    }
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
    /// Whether it is tried whatever other pieces there are.
    sure: bool,
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
    /// For each piece, of how many of the lays tried it is the last in the order of the pieces; only lays that
    /// are tried without the pieces after it too.
    last: Vec<usize>,
    steps: Vec<Step>,
    /// Lays with one piece more than those that are extended.
    states: Vec<State>,
}

impl Finder<'_> {
    /// The shares of all pieces; `None` when the budget is spent.
    fn all(&mut self) -> Option<Vec<Share>> {
        let mut shares = Vec::new();
        let (mut before, mut begun) = (1, *self.budget);
        self.begin()?;
        while !self.states.is_empty() {
            let tried = begun - *self.budget;
            begun = *self.budget;
            let states = undominated(std::mem::take(&mut self.states), self.goods.turn == 1);
            shares.extend(self.shares(&states));
            // Each lay is extended in so many ways as those before, or in half as many at least.
            if before > 1 && states.len() * tried / before / 2 > *self.budget {
                return None;
            }
            before = states.len().max(1);
            for state in states {
                self.extend(state)?;
            }
        }
        Some(shares)
    }

    /// Lays of one piece, from each phase that it can have.
    fn begin(&mut self) -> Option<()> {
        let phases = |piece: &&Cutting| match &piece.places {
            Places::Matched(places) => places.iter().map(|place| place.phase).collect(),
            Places::Free(..) => vec![0],
        };
        let mut starts: Vec<i64> = self.parts.iter().flat_map(phases).collect();
        starts.sort_unstable();
        starts.dedup();
        let empty = State {
            set: 0,
            start: 0,
            length: 0,
            edge: 0,
            left: 0,
            right: 0,
            end: 0,
            reach: i64::MAX,
            sure: true,
            step: usize::MAX,
        };
        starts.into_iter().try_for_each(|start| {
            let of_start = |piece: &&Cutting| match &piece.places {
                Places::Matched(places) => places.iter().filter(|p| p.phase == start).map(|p| p.u).max(),
                Places::Free(..) => None,
            };
            let reach = self.parts.iter().filter_map(of_start).max().unwrap_or(i64::MAX);
            self.extend(State { start, reach, ..empty })
        })
    }

    /// All lays with one piece more.
    fn extend(&mut self, state: State) -> Option<()> {
        let parts = self.parts;
        for piece in (0..parts.len()).filter(|p| state.set >> p & 1 == 0) {
            match &parts[piece].places {
                Places::Matched(places) => {
                    places.iter().try_for_each(|place| self.matched(state, piece, place))?
                }
                Places::Free(..) => self.free(state, piece)?,
            }
        }
        Some(())
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
            let sure = state.sure && !beside;
            let column = State { left, right, end: after + cutting.length, sure, ..state };
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
        if state.sure {
            self.last[63 - set.leading_zeros() as usize] += 1;
        }
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
fn undominated(mut states: Vec<State>, plain: bool) -> Vec<State> {
    states.sort_unstable_by_key(|s| (s.set, s.start, s.length, s.right, s.end, s.edge, s.step));
    let mut kept: Vec<State> = Vec::new();
    let mut group = 0;
    for state in states {
        if kept.get(group).is_none_or(|first| (first.set, first.start) != (state.set, state.start)) {
            group = kept.len();
        }
        if !kept[group..].iter().any(|other| other.beats(&state, plain)) {
            kept.push(state);
        }
    }
    kept
}
