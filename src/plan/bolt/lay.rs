//! One lay: a length of bolt between two cuts across the full width, and how pieces share it.
//!
//! A cutter first shears across the whole width, then cuts lengthwise. So the pieces of a lay form
//! columns: two pieces that overlap across the cloth lie in one column, and must then lie one
//! after the other along it.

use super::super::model::PieceId;
use super::cutting::{Cutting, Goods, Place, Places};

/// A piece in a lay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// The piece.
    pub id: PieceId,
    /// From the left edge of the cloth.
    pub u: i64,
    /// From the start of the lay.
    pub v: i64,
    /// Across.
    pub width: i64,
    /// Along.
    pub length: i64,
    /// The column on the cloth's left match line; 0 for a free piece.
    pub column: i64,
    /// Whether its phase matters.
    pub matched: bool,
}

/// A lay.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lay {
    /// Its pieces, in the order they were added.
    pub placed: Vec<Placed>,
    /// The phase of its start; `None` while only free pieces lie in it.
    pub phase: Option<i64>,
    /// Its length.
    pub length: i64,
}

impl Lay {
    /// Where a piece lengthens this lay least beside its pieces, which stay where they are, relative to each
    /// other; leftmost of equals. `None` when no such lay is of at most `longest`, or lies on the table.
    pub fn fit(&self, piece: &Cutting, goods: &Goods, longest: i64) -> Option<Fit> {
        let (repeat, longest) = (goods.turn, goods.lay.min(longest));
        if longest < self.length.max(piece.length) {
            return None;
        }
        let mut best: Option<Fit> = None;
        self.candidates(piece, repeat, |at| {
            let start = at.v.min(0);
            let length = (self.length - start).max(at.v - start + piece.length);
            let worse = length > longest || best.as_ref().is_some_and(|b| b.length <= length);
            if !worse && self.cuttable(&at, piece) {
                best = Some(Fit { length, at });
            }
        });
        best
    }

    /// This lay and a piece where it fits.
    pub fn with(&self, piece: &Cutting, goods: &Goods, fit: Fit) -> Lay {
        let Fit { length, at: Candidate { u, v, phase, column } } = fit;
        let start = v.min(0);
        let (id, width, matched) = (piece.id, piece.width, phase.is_some());
        let mut placed: Vec<Placed> = self.placed.iter().map(|p| Placed { v: p.v - start, ..*p }).collect();
        placed.push(Placed { id, u, v: v - start, width, length: piece.length, column, matched });
        let phase = match (self.phase, phase) {
            (Some(own), _) => Some((own + start).rem_euclid(goods.turn)),
            (None, Some(top)) => Some((top - (v - start)).rem_euclid(goods.turn)),
            (None, None) => None,
        };
        Lay { placed, phase, length }
    }

    /// Tells of each place to try.
    fn candidates(&self, piece: &Cutting, repeat: i64, mut tell: impl FnMut(Candidate)) {
        match &piece.places {
            Places::Matched(spots) => {
                for &Place { u, phase, column } in spots {
                    // The least v at or after `from` where the pattern is right.
                    let fit = |from: i64| match self.phase {
                        Some(own) => from + (phase - own - from).rem_euclid(repeat),
                        None => from,
                    };
                    let (phase, first) = (Some(phase), fit(0));
                    tell(Candidate { u, v: first, phase, column });
                    if self.phase.is_some() {
                        tell(Candidate { u, v: first - repeat, phase, column });
                    }
                    for p in &self.placed {
                        tell(Candidate { u, v: fit(p.v + p.length), phase, column });
                    }
                }
            }
            &Places::Free(least, most) => {
                let mut us = vec![least];
                us.extend(self.placed.iter().map(|p| p.u + p.width).filter(|&u| least <= u && u <= most));
                us.extend(self.placed.iter().map(|p| p.u).filter(|&u| least <= u && u <= most));
                us.sort_unstable();
                us.dedup();
                let mut vs: Vec<i64> = self.placed.iter().map(|p| p.v + p.length).collect();
                vs.push(0);
                vs.sort_unstable();
                vs.dedup();
                for &v in &vs {
                    us.iter().for_each(|&u| tell(Candidate { u, v, phase: None, column: 0 }));
                }
            }
        }
    }

    /// Whether lengthwise cuts still part the pieces into columns in which they lie one after the other, with
    /// one more piece there.
    fn cuttable(&self, at: &Candidate, piece: &Cutting) -> bool {
        let beside = |p: &Placed, (left, right): (i64, i64)| p.u + p.width <= left || right <= p.u;
        let apart = |a: (i64, i64), b: (i64, i64)| a.1 <= b.0 || b.1 <= a.0;
        let own = (at.v, at.v + piece.length);
        let run = |p: &Placed| (p.v, p.v + p.length);
        let mut column = (at.u, at.u + piece.width);
        // The piece makes one column of all that it touches, and of what these touch.
        loop {
            let before = column;
            for p in self.placed.iter().filter(|p| !beside(p, before)) {
                if !apart(run(p), own) {
                    return false;
                }
                column = (column.0.min(p.u), column.1.max(p.u + p.width));
            }
            if column == before {
                break;
            }
        }
        let within = || self.placed.iter().filter(|p| !beside(p, column));
        within().enumerate().all(|(i, a)| within().take(i).all(|b| apart(run(a), run(b))))
    }

    /// The lays that straight cuts across the whole width part this one into: wherever no piece is in
    /// the way.
    pub fn parted(self, repeat: i64) -> Vec<Lay> {
        let mut placed = self.placed;
        placed.sort_by_key(|p| (p.v, p.id));
        let mut lays: Vec<Lay> = Vec::new();
        let (mut start, mut end) = (0, 0);
        for p in placed {
            if lays.is_empty() || p.v >= end {
                (start, end) = (p.v, p.v);
                lays.push(Lay::default());
            }
            end = end.max(p.v + p.length);
            if let Some(lay) = lays.last_mut() {
                let matched = self.phase.filter(|_| p.matched);
                lay.phase = lay.phase.or(matched.map(|own| (own + start).rem_euclid(repeat)));
                lay.length = end - start;
                lay.placed.push(Placed { v: p.v - start, ..p });
            }
        }
        lays
    }

    /// The lays of one piece alone: one for each phase that its places give, leftmost first. Empty if
    /// it has no place.
    pub fn alone(piece: &Cutting) -> Vec<Lay> {
        let lay = |u: i64, phase: Option<i64>, column: i64| {
            let (id, width, length, matched) = (piece.id, piece.width, piece.length, phase.is_some());
            let placed = vec![Placed { id, u, v: 0, width, length, column, matched }];
            Lay { placed, phase, length }
        };
        let mut lays: Vec<Lay> = Vec::new();
        match &piece.places {
            Places::Matched(places) => {
                for place in places {
                    if !lays.iter().any(|l| l.phase == Some(place.phase)) {
                        lays.push(lay(place.u, Some(place.phase), place.column));
                    }
                }
            }
            &Places::Free(least, most) if least <= most => lays.push(lay(least, None, 0)),
            Places::Free(..) => {}
        }
        lays
    }
}

/// A place for a further piece in a lay.
pub struct Fit {
    /// The length of the lay with it.
    pub length: i64,
    at: Candidate,
}

/// A place to try for a further piece: `v` from the present start of the lay, `phase` of its top.
struct Candidate {
    u: i64,
    v: i64,
    phase: Option<i64>,
    column: i64,
}
