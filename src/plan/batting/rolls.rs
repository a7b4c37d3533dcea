//! Rolls of batting for given pieces.

use crate::job::model::Job;
use crate::plan::model::BattingPiece;
use crate::units::Length;

/// A length cut across the roll, and what is left of its width.
struct Cross {
    length: Length,
    width_left: Length,
}

/// The lengths cut across the roll: a piece narrower than what is left beside another of at least its
/// length is cut from that (first fit, longest pieces first). Also how many pieces are so saved.
fn crosses(job: &Job, pieces: &[&BattingPiece]) -> (Vec<Cross>, usize) {
    let mut sorted: Vec<(Length, Length)> = pieces.iter().map(|p| (p.cut_length, p.cut_width)).collect();
    sorted.sort_by(|a, b| b.cmp(a));
    let (mut cuts, mut beside): (Vec<Cross>, usize) = (Vec::new(), 0);
    for (length, width) in sorted {
        match cuts.iter_mut().find(|c| c.length >= length && c.width_left >= width) {
            Some(cut) => {
                cut.width_left -= width;
                beside += 1;
            }
            None => cuts.push(Cross { length, width_left: job.batting.roll_width - width }),
        }
    }
    (cuts, beside)
}

/// What some pieces take of the rolls.
pub(crate) struct Rolls {
    /// How many rolls.
    pub count: i64,
    /// The length cut off them.
    pub length: Length,
    /// How many pieces come out of what is left beside others.
    pub beside: usize,
}

/// The rolls that the pieces take: each length is cut from the first roll that has enough left.
pub(crate) fn rolls(job: &Job, pieces: &[&BattingPiece]) -> Rolls {
    let (cuts, beside) = crosses(job, pieces);
    let length = cuts.iter().map(|cut| cut.length).sum();
    let mut left: Vec<Length> = Vec::new();
    for cut in cuts {
        match left.iter_mut().find(|rest| **rest >= cut.length) {
            Some(rest) => *rest -= cut.length,
            None => left.push(job.batting.roll_length - cut.length),
        }
    }
    Rolls { count: left.len() as i64, length, beside }
}

/// The length of roll that the pieces take.
pub(super) fn roll_length(job: &Job, pieces: &[&BattingPiece]) -> Length {
    crosses(job, pieces).0.iter().map(|cut| cut.length).sum()
}
