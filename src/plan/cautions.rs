//! The cautions that a job raises.

use super::model::{Caution, Plan};

/// The cautions of a plan whose staples, corners and trim are made.
pub fn cautions(plan: &Plan) -> Vec<Caution> {
    let _ = plan;
    Vec::new()
}
