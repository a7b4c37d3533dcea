//! What the job file did not say, the value used instead, and where that comes from.

use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{ComposeFault, Draft};

/// The list of assumptions; none when nothing was assumed.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the list.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut table = Table::new(&[("No.", Kind::Figures), ("Assumed", Kind::Prose), ("Source", Kind::Words)]);
    for (i, assumption) in plan.assumptions.iter().enumerate() {
        table.row(vec![
            Cell::new((i + 1).to_string()),
            Cell::new(&assumption.text),
            Cell::new(&assumption.source),
        ]);
    }
    let mut section = Section::new("");
    if !table.rows.is_empty() {
        section.paragraph("The job file does not say the following. Check each on site; a value given in the job file replaces it.");
    }
    section.table(table);
    let document = Document {
        key: "assumptions".to_owned(),
        title: "Assumptions".to_owned(),
        heading: "Assumptions".to_owned(),
        under: String::new(),
        description: "Every value that the job file did not give, with its source.".to_owned(),
        kind: "Assumptions",
        sections: vec![section],
    };
    document.drafts(paper)
}
