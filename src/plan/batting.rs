//! Batting pieces on a wall.

use super::model::{BattingPiece, WallPlan, WallRef};
use crate::job::model::Job;

/// The batting of a wall whose panel is planned.
pub fn pieces(job: &Job, wall: WallRef, plan: &WallPlan) -> Vec<BattingPiece> {
    let _ = (job, wall, plan);
    Vec::new()
}
