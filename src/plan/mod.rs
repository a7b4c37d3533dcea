//! A [`crate::job::model::Job`] to a [`model::Plan`]: ribbon, lattice, pieces, bolt, and the rest.

pub mod batting;
pub mod cautions;
pub mod corners;
pub mod model;
pub mod outline;
pub mod purchases;
pub mod staples;
pub mod steps;
pub mod trim;

use crate::job::model::Job;
use model::{Plan, WallRef};

/// Why no plan can be made of a valid job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanFault {
    /// A stable code in words, such as `no-place-for-a-seam`.
    pub code: &'static str,
    /// One sentence in the words of the trade, naming the rule.
    pub message: String,
    /// The wall it concerns, so that the caller can show its place in the file.
    pub wall: Option<WallRef>,
    /// What would make it possible.
    pub help: String,
}

/// Plans a job.
///
/// # Errors
/// A [`PlanFault`] when a rule cannot be kept.
pub fn make(job: Job) -> Result<Plan, PlanFault> {
    let _ = job;
    Err(PlanFault { code: "not-built", message: "no planner yet".into(), wall: None, help: String::new() })
}
