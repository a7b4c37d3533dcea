//! Batting pieces on the walls of a room.

use super::model::RoomPlan;
use crate::job::model::Job;

/// Lays the batting of a room whose panels are planned: fills `batting` of every clothed wall.
pub fn lay(job: &Job, room: usize, plan: &mut RoomPlan) {
    let _ = (job, room, plan);
}
