//! Which sheets each reader gets, in order: the crew no prices, the designer no staples, the
//! workroom no list for the site.

use super::elevation;
use super::lists::{approval, assumptions, cautions, checklist, cut_list, order, schedules, sign_off};
use super::model::Reader;
use super::{ComposeFault, Draft};
use crate::job::model::Paper;
use crate::plan::model::Plan;

/// The sheets of a reader after the cover, in order.
///
/// # Errors
/// A [`ComposeFault`] when a sheet cannot be set.
pub fn drafts(plan: &Plan, paper: Paper, reader: Reader) -> Result<Vec<Draft>, ComposeFault> {
    let parts = match reader {
        Reader::Crew => vec![
            cautions::drafts(plan, paper)?,
            checklist::drafts(plan, paper)?,
            elevation::drafts(plan, paper, reader)?,
            schedules::crew(plan, paper)?,
            assumptions::drafts(plan, paper)?,
            sign_off::drafts(plan, paper)?,
        ],
        Reader::Workroom => vec![
            order::drafts(plan, paper)?,
            cut_list::drafts(plan, paper)?,
            elevation::drafts(plan, paper, reader)?,
            schedules::workroom(plan, paper)?,
            assumptions::drafts(plan, paper)?,
        ],
        Reader::Approval => vec![elevation::drafts(plan, paper, reader)?, approval::drafts(plan, paper)?],
    };
    Ok(parts.concat())
}

/// The title of a reader's set.
pub const fn title(reader: Reader) -> &'static str {
    match reader {
        Reader::Crew => "Crew binder",
        Reader::Workroom => "Workroom file",
        Reader::Approval => "Approval set",
    }
}
