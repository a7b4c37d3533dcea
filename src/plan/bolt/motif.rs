//! The motif by which a cutter finds the place of a cut.

use super::super::model::{Cut, CutMotif, Piece};
use super::LaidOut;
use crate::job::model::{Cloth, Lattice};
use crate::units::Length;

/// Notes on every matched piece of a cloth the motif centre that it is found by.
pub(super) fn mark(cloth: &Cloth, laid_out: &LaidOut, pieces: &mut [Piece]) {
    let Some(lattice) = &cloth.pattern else { return };
    let across = (cloth.left_match, cloth.width);
    for bolt in &laid_out.bolts {
        for id in bolt.lays.iter().flat_map(|lay| &lay.pieces) {
            let piece = &mut pieces[id.0];
            piece.cut.motif =
                if piece.matched { first(across, lattice, bolt.start, &piece.cut) } else { None };
        }
    }
}

/// Of the motif centres on a cut the one nearest to its beginning, and of these the one nearest to its left
/// edge; where none lies on it, the nearest beside it on the bolt, past its first cut. The centres of column i
/// stand at `left_match + H/2 + i*H` across the bolt, and along it where v + start is congruent to `i*drop`
/// modulo V: see [`crate::plan::lattice`].
fn first(
    (left_match, width): (Length, Length),
    lattice: &Lattice,
    start: Length,
    cut: &Cut,
) -> Option<CutMotif> {
    let column = |i: i64| left_match + lattice.horizontal / 2 + lattice.horizontal * i;
    let from = (-column(0)).div_ceil(lattice.horizontal);
    let to = (width - column(0)).div_floor(lattice.horizontal);
    let near = |i: i64| {
        let fall = i128::from(lattice.drop.nm()) * i128::from(i);
        let fall = Length::nanometres(fall.rem_euclid(i128::from(lattice.vertical.nm())) as i64);
        let along = (fall - start - cut.v).rem_euclid(lattice.vertical);
        [along, along - lattice.vertical].map(|along| CutMotif { along, across: column(i) - cut.u })
    };
    let there = (from..=to).flat_map(near).filter(|motif| cut.v + motif.along >= Length::ZERO);
    there.min_by_key(|motif| (motif.off(cut), motif.along, motif.across))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: H 680, V 640, half drop 320, the left match line at 20, so columns stand at 360 and
    /// 1040. The bolt's first cut is 100 below a motif of the first column: its motifs stand at 540, 1180 and
    /// so on, those of the second at 220, 860 and 1500.
    #[test]
    fn the_first_motif_by_hand() {
        let mm = Length::mm;
        let lattice = Lattice { horizontal: mm(680), vertical: mm(640), drop: mm(320) };
        let found = |u: i64, v: i64, width: i64, length: i64| {
            let cut = Cut { u: mm(u), v: mm(v), width: mm(width), length: mm(length), ..Cut::default() };
            first((mm(20), mm(1400)), &lattice, mm(100), &cut)
                .map(|m| (m.along.nm() / 1_000_000, m.across.nm() / 1_000_000))
        };
        assert_eq!(found(0, 0, 1400, 2700), Some((220, 1040)));
        assert_eq!(found(0, 300, 1400, 2700), Some((240, 360)));
        assert_eq!(found(20, 0, 680, 2700), Some((540, 340)));
        // Of a strip between the columns, 40 from either, the one whose motif comes first.
        assert_eq!(found(400, 0, 600, 2700), Some((220, 640)));
        // Of one too short the motif 10 above its top; not before the bolt's first cut.
        assert_eq!(found(0, 550, 1400, 300), Some((-10, 360)));
        assert_eq!(found(0, 0, 1400, 200), Some((220, 1040)));
    }
}
