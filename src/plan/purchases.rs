//! What to buy and what to bring.

use super::model::{Plan, Purchase};

/// Everything to buy, rounded once to what it is sold in.
pub fn purchases(plan: &Plan) -> Vec<Purchase> {
    let _ = plan;
    Vec::new()
}

/// The tools to bring.
pub fn tools(plan: &Plan) -> Vec<String> {
    let _ = plan;
    Vec::new()
}
