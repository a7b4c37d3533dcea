//! Pieces as the bolt sees them: how large, and where across the cloth they may lie.

use super::super::lattice::Laid;
use super::super::model::{Piece, PieceId};
use crate::job::model::Cloth;
use crate::units::Length;

/// The figures of a cloth that its cutting depends on, in nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Goods {
    /// The whole width.
    pub width: i64,
    /// The vertical repeat; 1 for plain cloth.
    pub turn: i64,
    /// From one column to the next; the whole width for plain cloth.
    pub step: i64,
    /// The drop from one column to the next.
    pub drop: i64,
    /// The most that a bolt is loaded with: the longest piece of bolt less the repeat that its unknown
    /// start may cost.
    pub longest: i64,
    /// The longest lay: see [`BEYOND`].
    pub lay: i64,
}

/// A lay is at most this much longer than the longest piece of its cloth, or one repeat if that is more:
/// so that it lies on the table that the longest piece needs. Common practice, no source.
pub const BEYOND: Length = Length::yards(1);

impl Goods {
    /// The figures of `cloth` for these pieces.
    pub fn of(cloth: &Cloth, cuttings: &[Cutting]) -> Self {
        let turn = cloth.pattern.map_or(0, |lattice| lattice.vertical.nm());
        let longest = cuttings.iter().map(|c| c.length).max().unwrap_or(0);
        let bolt = cloth.bolt_length.nm() - turn;
        Goods {
            width: cloth.width.nm(),
            turn: turn.max(1),
            step: cloth.pattern.map_or(cloth.width.nm(), |lattice| lattice.horizontal.nm()),
            drop: cloth.pattern.map_or(0, |lattice| lattice.drop.nm()),
            longest: bolt,
            lay: (longest + turn.max(BEYOND.nm())).min(bolt),
        }
    }
}

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
    /// At one of these, by rising u.
    Matched(Vec<Place>),
    /// Anywhere with its left edge between two u, at any phase.
    Free(i64, i64),
}

/// A place where the pattern of a piece is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Left edge, from the left edge of the cloth.
    pub u: i64,
    /// How far past a motif row it begins, `0..turn`.
    pub phase: i64,
    /// The column on the cloth's left match line.
    pub column: i64,
}

impl Cutting {
    /// `piece` on the cloth that `laid` lays on its room's ribbon.
    pub fn of(laid: &Laid, id: PieceId, piece: &Piece) -> Self {
        let places = if piece.matched {
            let spots = laid.spots(&piece.gross, piece.face);
            let place = |s: &super::super::lattice::Spot| Place {
                u: s.u.nm(),
                phase: s.phase.nm(),
                column: s.column,
            };
            Places::Matched(spots.iter().map(place).collect())
        } else {
            let (least, most) = laid.cut_range(&piece.gross, piece.face);
            Places::Free(least.nm(), most.nm())
        };
        let (width, length) = (laid.width(&piece.gross).nm(), laid.length(&piece.gross).nm());
        Cutting { id, width, length, places }
    }

    /// Whether it has a place at all.
    pub fn fits(&self) -> bool {
        match &self.places {
            Places::Matched(places) => !places.is_empty(),
            Places::Free(least, most) => least <= most,
        }
    }

    /// Turns the circle of phases so that the first place has phase 0, and tells by how much. What is cut from a
    /// bolt whose start nobody knows depends on how phases differ, never on where they are counted from; and
    /// pieces that lie higher in the pattern by one measure must come to the same cuts, ties included.
    pub fn turn_to_first(cuttings: &mut [Cutting], goods: &Goods) -> i64 {
        let first = cuttings.iter().find_map(|cutting| match &cutting.places {
            Places::Matched(places) => places.first().map(|place| place.phase),
            Places::Free(..) => None,
        });
        let by = first.unwrap_or(0);
        for cutting in cuttings {
            if let Places::Matched(places) = &mut cutting.places {
                places.iter_mut().for_each(|place| place.phase = (place.phase - by).rem_euclid(goods.turn));
            }
        }
        by
    }

    /// Whether it takes the whole width.
    pub fn is_whole(&self, goods: &Goods) -> bool {
        self.width >= goods.width
    }
}
