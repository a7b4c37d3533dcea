//! Samples as pieces: cut with those of the walls, and lying on none.

use super::model::{Piece, PieceKind, Purpose};
use crate::geom::Rect;
use crate::job::model::{Job, Sample};
use crate::units::Length;

/// Adds the samples of all cloths.
pub fn add(job: &Job, pieces: &mut Vec<Piece>) {
    for (index, cloth) in job.cloths.iter().enumerate() {
        for (at, sample) in cloth.samples.iter().enumerate() {
            let cut = lying(sample);
            pieces.push(Piece::unplaced(
                PieceKind::Sample,
                sample.label.clone(),
                index,
                Purpose::Sample(at),
                cut,
                cut,
                face(sample, &cut),
                sample.motif,
            ));
        }
    }
}

/// The sample about the centre of a motif, or about nothing, as it lies on the bolt.
fn lying(sample: &Sample) -> Rect {
    let (left, below) = (-(sample.width / 2), -(sample.length / 2));
    Rect { x0: left, y0: below, x1: left + sample.width, y1: below + sample.length }
}

/// What must keep off the selvages, across the cloth: all of a sample about a motif. An edge of another may be a
/// selvage, so that it finds room wherever its size does.
fn face(sample: &Sample, cut: &Rect) -> (Length, Length) {
    if sample.motif { (cut.x0, cut.x1) } else { (Length::ZERO, Length::ZERO) }
}
