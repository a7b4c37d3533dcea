//! Which sheets each reader gets, in order: the crew no prices, the designer no staples, the
//! workroom no list for the site.

use super::model::Reader;
use super::{ComposeFault, Draft};
use crate::job::model::Paper;
use crate::plan::model::Plan;

/// The sheets of a reader after the cover, in order.
///
/// # Errors
/// A [`ComposeFault`] when a sheet cannot be set.
pub fn drafts(plan: &Plan, paper: Paper, reader: Reader) -> Result<Vec<Draft>, ComposeFault> {
    let _ = (plan, paper, reader);
    Ok(Vec::new())
}

/// The title of a reader's set.
pub const fn title(reader: Reader) -> &'static str {
    match reader {
        Reader::Crew => "Crew binder",
        Reader::Workroom => "Workroom file",
        Reader::Approval => "Approval set",
    }
}
