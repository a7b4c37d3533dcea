//! One lay: a length of bolt between two cuts across the full width, and how pieces share it.
//!
//! A cutter first shears across the whole width, then cuts lengthwise. So the pieces of a lay form
//! columns: two pieces that overlap across the cloth lie in one column, and must then lie one
//! after the other along it.

use super::super::model::PieceId;

/// A piece to lay: its size and where it may lie. Lengths in nanometres.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cutting {
    /// The piece.
    pub id: PieceId,
    /// Across.
    pub width: i64,
    /// Along.
    pub length: i64,
    /// Where it may lie.
    pub places: Places,
}

/// Where a piece may lie across the cloth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Places {
    /// At one of these: (u, phase of its top, column), by rising u.
    Matched(Vec<(i64, i64, i64)>),
    /// Anywhere with its left edge between two u, at any phase.
    Free(i64, i64),
}

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
    /// Every lay that holds this one's pieces where they are, relative to each other, and the new
    /// one too, no longer than `longest`; the shortest of them, leftmost of equals.
    pub fn with(&self, piece: &Cutting, repeat: i64, longest: i64) -> Option<Lay> {
        let mut best: Option<Lay> = None;
        for (u, column, phase, v) in self.candidates(piece, repeat) {
            let start = v.min(0);
            let length = (self.length - start).max(v - start + piece.length);
            if length > longest || best.as_ref().is_some_and(|b| b.length <= length) {
                continue;
            }
            let new =
                Placed { id: piece.id, u, v: v - start, width: piece.width, length: piece.length, column };
            let mut placed: Vec<Placed> =
                self.placed.iter().map(|p| Placed { v: p.v - start, ..*p }).collect();
            placed.push(new);
            if !cuttable(&placed) {
                continue;
            }
            let phase = match (self.phase, phase) {
                (Some(own), _) => Some((own + start).rem_euclid(repeat)),
                (None, Some(top)) => Some((top - (v - start)).rem_euclid(repeat)),
                (None, None) => None,
            };
            best = Some(Lay { placed, phase, length });
        }
        best
    }

    /// Places to try: (u, column, phase of the piece's top, v from the present start of the lay).
    fn candidates(&self, piece: &Cutting, repeat: i64) -> Vec<(i64, i64, Option<i64>, i64)> {
        let mut found = Vec::new();
        match &piece.places {
            Places::Matched(spots) => {
                for &(u, phase, column) in spots {
                    // The least v at or after `from` where the pattern is right.
                    let fit = |from: i64| match self.phase {
                        Some(own) => from + (phase - own - from).rem_euclid(repeat),
                        None => from,
                    };
                    let mut froms = vec![0];
                    froms.extend(self.placed.iter().map(|p| p.v + p.length));
                    for from in froms {
                        let v = fit(from);
                        found.push((u, column, Some(phase), v));
                        if from == 0 && self.phase.is_some() {
                            found.push((u, column, Some(phase), v - repeat));
                        }
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
                    found.extend(us.iter().map(|&u| (u, 0, None, v)));
                }
            }
        }
        found
    }

    /// A lay of one piece in the leftmost of its places; `None` if it has none.
    pub fn of(piece: &Cutting) -> Option<Lay> {
        let (u, phase, column) = match &piece.places {
            Places::Matched(spots) => {
                let &(u, phase, column) = spots.first()?;
                (u, Some(phase), column)
            }
            &Places::Free(least, most) => (least <= most).then_some((least, None, 0))?,
        };
        let placed = vec![Placed { id: piece.id, u, v: 0, width: piece.width, length: piece.length, column }];
        Some(Lay { placed, phase, length: piece.length })
    }
}

/// Whether lengthwise cuts part the pieces into columns in which they lie one after the other.
fn cuttable(placed: &[Placed]) -> bool {
    let mut by_u: Vec<&Placed> = placed.iter().collect();
    by_u.sort_by_key(|p| p.u);
    let mut from = 0;
    while from < by_u.len() {
        let mut right = by_u[from].u + by_u[from].width;
        let mut to = from + 1;
        while to < by_u.len() && by_u[to].u < right {
            right = right.max(by_u[to].u + by_u[to].width);
            to += 1;
        }
        let mut column: Vec<&Placed> = by_u[from..to].to_vec();
        column.sort_by_key(|p| p.v);
        if column.windows(2).any(|p| p[0].v + p[0].length > p[1].v) {
            return false;
        }
        from = to;
    }
    true
}
