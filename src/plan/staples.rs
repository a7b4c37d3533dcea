//! Staple lines on a wall.

use super::model::{StapleLine, WallPlan, WallRef};
use crate::job::model::Job;

/// The staple lines of a wall whose panel and batting are planned, in the order they are driven.
pub fn lines(job: &Job, wall: WallRef, plan: &WallPlan) -> Vec<StapleLine> {
    let _ = (job, wall, plan);
    Vec::new()
}
