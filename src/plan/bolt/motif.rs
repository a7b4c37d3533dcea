//! The motif by which a cutter finds the place of a cut.

use super::super::model::{CutMotif, Piece};
use super::LaidOut;
use crate::job::model::{Cloth, Lattice};
use crate::units::Length;

/// Notes on every matched piece of a cloth the first motif centre that lies on it.
pub(super) fn mark(cloth: &Cloth, laid_out: &LaidOut, pieces: &mut [Piece]) {
    let Some(lattice) = &cloth.pattern else { return };
    for bolt in &laid_out.bolts {
        for id in bolt.lays.iter().flat_map(|lay| &lay.pieces) {
            let piece = &mut pieces[id.0];
            piece.cut.motif =
                if piece.matched { first(cloth.left_match, lattice, bolt.start, piece) } else { None };
        }
    }
}

/// Of the motif centres on a cut the one nearest to its beginning, and of these the one nearest to its left
/// edge. The centres of column i stand at `left_match + H/2 + i*H` across the bolt, and along it where
/// v + start is congruent to `i*drop` modulo V: see [`crate::plan::lattice`].
fn first(left_match: Length, lattice: &Lattice, start: Length, piece: &Piece) -> Option<CutMotif> {
    let cut = &piece.cut;
    let column = |i: i64| left_match + lattice.horizontal / 2 + lattice.horizontal * i;
    let from = (cut.u - column(0)).div_ceil(lattice.horizontal);
    let to = (cut.u + cut.width - column(0)).div_floor(lattice.horizontal);
    let on = |i: i64| {
        let fall = i128::from(lattice.drop.nm()) * i128::from(i);
        let fall = Length::nanometres(fall.rem_euclid(i128::from(lattice.vertical.nm())) as i64);
        CutMotif { along: (fall - start - cut.v).rem_euclid(lattice.vertical), across: column(i) - cut.u }
    };
    let motifs = (from..=to).map(on).filter(|motif| motif.along <= cut.length);
    motifs.min_by_key(|motif| (motif.along, motif.across))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Rect;
    use crate::plan::model::{Cut, PieceKind, WallRef};

    fn piece(u: i64, v: i64, width: i64, length: i64) -> Piece {
        let rect = Rect::new(Length::ZERO, Length::ZERO, Length::mm(width), Length::mm(length));
        let wall = WallRef { room: 0, wall: 0 };
        let whole = (Length::ZERO, rect.x1);
        let mut piece = Piece::unplaced(PieceKind::Drop, "1A".into(), 0, wall, rect, rect, whole, true);
        let (u, v) = (Length::mm(u), Length::mm(v));
        piece.cut = Cut { u, v, width: rect.width(), length: rect.height(), ..Cut::default() };
        piece
    }

    /// Worked by hand: H 680, V 640, half drop 320, the left match line at 20, so columns stand at 360 and
    /// 1040. The bolt's first cut is 100 below a motif of the first column: its motifs stand at 540, 1180 and
    /// so on, those of the second at 220, 860 and 1500.
    #[test]
    fn the_first_motif_by_hand() {
        let mm = Length::mm;
        let lattice = Lattice { horizontal: mm(680), vertical: mm(640), drop: mm(320) };
        let found = |piece: &Piece| {
            first(mm(20), &lattice, mm(100), piece)
                .map(|m| (m.along.nm() / 1_000_000, m.across.nm() / 1_000_000))
        };
        assert_eq!(found(&piece(0, 0, 1400, 2700)), Some((220, 1040)));
        assert_eq!(found(&piece(0, 300, 1400, 2700)), Some((240, 360)));
        assert_eq!(found(&piece(20, 0, 680, 2700)), Some((540, 340)));
        // A strip between the columns, and one too short, have none.
        assert_eq!(found(&piece(400, 0, 600, 2700)), None);
        assert_eq!(found(&piece(0, 550, 1400, 300)), None);
    }
}
