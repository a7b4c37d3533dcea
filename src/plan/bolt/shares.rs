//! Every way in which pieces can share a lay.
//!
//! A *share* is a set of pieces and the shortest lay that holds them from a given phase on. All are
//! listed, those of one piece, of two, and so on: each further piece goes, in one of its places across
//! the cloth, as near the start of the lay as its column and its phase let it. Of lays that hold the
//! same pieces, those are forgotten whose columns leave no more room than another's anywhere. Pieces
//! that one cut across the whole width would part make two lays, and are not listed as one.

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
    let (columns, filled) = (Vec::new(), Vec::new());
    let (steps, states) = (Vec::new(), Vec::new());
    let last = vec![0; parts.len()];
    let mut finder = Finder { goods, parts, shortest, budget, last, steps, columns, states, filled };
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

/// A stretch across the cloth in which pieces lie one after the other.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Column {
    left: i64,
    right: i64,
    end: i64,
}

/// A lay that is being filled.
#[derive(Clone, Copy)]
struct State {
    set: u64,
    start: i64,
    length: i64,
    /// Whether it is tried whatever other pieces there are.
    sure: bool,
    /// Where its columns begin and end among those of its finder: from the left; on plain cloth by
    /// width, each as if it lay at the left edge.
    columns: (usize, usize),
    /// How its last piece was laid.
    step: usize,
}

impl State {
    /// Its columns among all.
    fn of<'c>(&self, columns: &'c [Column]) -> &'c [Column] {
        &columns[self.columns.0..self.columns.1]
    }
}

/// A piece laid after others.
struct Step {
    before: Option<usize>,
    piece: usize,
    place: Place,
    v: i64,
    /// The first piece of its column.
    head: usize,
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
    /// The columns of the lays that are extended, which stand in one list since they are many and small.
    columns: Vec<Column>,
    /// Lays with one piece more than those.
    states: Vec<State>,
    /// Their columns.
    filled: Vec<Column>,
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
            std::mem::swap(&mut self.columns, &mut self.filled);
            self.filled.clear();
            let states = undominated(std::mem::take(&mut self.states), &self.columns);
            shares.extend(self.shares(&states));
            // Each lay is extended in so many ways as those before, or in half as many at least.
            if states.len() * tried / before / 2 > *self.budget {
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
        let empty =
            State { set: 0, start: 0, length: i64::MAX, sure: true, columns: (0, 0), step: usize::MAX };
        for piece in 0..self.parts.len() {
            match &self.parts[piece].places {
                Places::Matched(places) => {
                    for place in places {
                        let from = State { start: place.phase, ..empty };
                        self.matched(from, piece, place, None, 0)?;
                    }
                }
                Places::Free(..) => self.free(empty, piece)?,
            }
        }
        Some(())
    }

    /// All lays with one piece more.
    fn extend(&mut self, state: State) -> Option<()> {
        let parts = self.parts;
        for piece in (0..parts.len()).filter(|p| state.set >> p & 1 == 0) {
            match &parts[piece].places {
                Places::Matched(places) => {
                    for place in places {
                        self.beside(state, piece, place)?;
                    }
                }
                Places::Free(..) => self.free(state, piece)?,
            }
        }
        Some(())
    }

    /// Lays a piece in the column that it touches, in one of its own, or after a column beside it, so
    /// that a wider piece can follow both.
    fn beside(&mut self, state: State, piece: usize, place: &Place) -> Option<()> {
        let cutting = self.parts[piece];
        let right = place.u + cutting.width;
        let columns = state.of(&self.columns);
        let first = columns.partition_point(|c| c.right <= place.u);
        let touched = columns[first..].iter().take_while(|c| c.left < right).count();
        match touched {
            0 => {
                let beside = [first.checked_sub(1), (first < columns.len()).then_some(first)];
                self.matched(state, piece, place, None, first)?;
                for near in beside.into_iter().flatten() {
                    let end = state.of(&self.columns)[near].end;
                    if end + cutting.length + self.shortest <= self.goods.lay {
                        let state = State { sure: false, ..state };
                        self.matched(state, piece, place, Some(near), near)?;
                    }
                }
                Some(())
            }
            1 => self.matched(state, piece, place, Some(first), first),
            _ => Some(()),
        }
    }

    /// Lays a piece after a column, or as a new one before column `at`.
    fn matched(
        &mut self,
        state: State,
        piece: usize,
        place: &Place,
        after: Option<usize>,
        at: usize,
    ) -> Option<()> {
        let cutting = self.parts[piece];
        let from = after.map_or(0, |column| state.of(&self.columns)[column].end);
        let v = from + (place.phase - state.start - from).rem_euclid(self.goods.turn);
        let end = v + cutting.length;
        if v >= state.length || end > self.goods.lay {
            return Some(());
        }
        let first = self.copy(state);
        let own = Column { left: place.u, right: place.u + cutting.width, end };
        match after {
            Some(column) => {
                let before = &mut self.filled[first + column];
                *before = Column { left: own.left.min(before.left), right: own.right.max(before.right), end };
            }
            None => self.filled.insert(first + at, own),
        }
        self.add(state, first, Step { before: None, piece, place: *place, v, head: piece })
    }

    /// Begins the columns of a lay with those of `state`, and says where they begin.
    fn copy(&mut self, state: State) -> usize {
        let first = self.filled.len();
        self.filled.extend_from_slice(state.of(&self.columns));
        first
    }

    /// Lays a piece of plain cloth: in a new column, or in the column of a wider one.
    fn free(&mut self, state: State, piece: usize) -> Option<()> {
        let Cutting { width, length, .. } = *self.parts[piece];
        let place = Place { u: 0, phase: 0, column: 0 };
        let across: i64 = state.of(&self.columns).iter().map(|c| c.right).sum();
        if across + width <= self.goods.width && length <= self.goods.lay {
            let first = self.copy(state);
            self.filled.push(Column { left: 0, right: width, end: length });
            self.add(state, first, Step { before: None, piece, place, v: 0, head: piece })?;
        }
        for at in state.columns.0..state.columns.1 {
            let column = self.columns[at];
            let end = column.end + length;
            if width <= column.right && end <= self.goods.lay && column.end < state.length {
                let first = self.copy(state);
                self.filled[first + at - state.columns.0].end = end;
                let head = self.head(state, column);
                self.add(state, first, Step { before: None, piece, place, v: column.end, head })?;
            }
        }
        Some(())
    }

    /// The first piece of a column on plain cloth: the column is as wide, and as long with all that
    /// follows it.
    fn head(&self, state: State, column: Column) -> usize {
        let steps: Vec<&Step> = self.steps_of(state.step).collect();
        let long = |head: usize| -> i64 {
            steps.iter().filter(|s| s.head == head).map(|s| self.parts[s.piece].length).sum()
        };
        let heads = steps.iter().map(|s| s.head);
        let mut fitting = heads.filter(|&h| self.parts[h].width == column.right && long(h) == column.end);
        fitting.next().unwrap_or(0)
    }

    /// Adds a lay whose columns are those filled from `first` on.
    fn add(&mut self, state: State, first: usize, step: Step) -> Option<()> {
        *self.budget = self.budget.checked_sub(1)?;
        if self.goods.turn == 1 {
            self.filled[first..].sort_unstable_by_key(|c| std::cmp::Reverse(*c));
        }
        let before = (state.set != 0).then_some(state.step);
        let set = state.set | 1 << step.piece;
        if state.sure {
            self.last[63 - set.leading_zeros() as usize] += 1;
        }
        let length = self.filled[first..].iter().map(|c| c.end).max().unwrap_or(0);
        let columns = (first, self.filled.len());
        self.steps.push(Step { before, ..step });
        let step = self.steps.len() - 1;
        self.states.push(State { set, length, columns, step, ..state });
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
            shares.extend(shortest.iter().filter(kept).map(|state| self.share(state)));
        }
        shares
    }

    fn share(&self, state: &State) -> Share {
        let patterned = self.goods.turn > 1;
        let mut steps: Vec<&Step> = self.steps_of(state.step).collect();
        steps.reverse();
        let mut placed: Vec<Placed> = Vec::new();
        let mut edge = 0;
        for step in &steps {
            let Cutting { id, width, length, .. } = *self.parts[step.piece];
            let column = steps.iter().position(|s| s.piece == step.head && s.piece != step.piece);
            let u = match column.and_then(|head| placed.get(head)) {
                _ if patterned => step.place.u,
                Some(head) => head.u,
                None => edge,
            };
            edge = edge.max(u + width);
            let (v, column) = (step.v, step.place.column);
            placed.push(Placed { id, u, v, width, length, column, matched: patterned });
        }
        Share {
            set: state.set,
            lay: Lay { placed, phase: patterned.then_some(state.start), length: state.length },
        }
    }
}

/// The lays to which no other of the same pieces and start is to be preferred, whatever is added: one
/// whose columns each lie within another column of the other, and end no later.
fn undominated(mut states: Vec<State>, columns: &[Column]) -> Vec<State> {
    let key = |state: &State| (state.set, state.start, state.length);
    states.sort_by(|a, b| key(a).cmp(&key(b)).then_with(|| a.of(columns).cmp(b.of(columns))));
    let mut kept: Vec<State> = Vec::new();
    let mut group = 0;
    for state in states {
        if kept.get(group).is_none_or(|first| (first.set, first.start) != (state.set, state.start)) {
            group = kept.len();
        }
        if !kept[group..].iter().any(|other| within(other.of(columns), state.of(columns))) {
            kept.push(state);
        }
    }
    kept
}

/// Whether each of some columns lies within one of the others, no two within the same.
fn within(columns: &[Column], others: &[Column]) -> bool {
    let mut others = others.iter();
    columns.iter().all(|c| others.any(|o| o.left <= c.left && c.right <= o.right && c.end <= o.end))
}
