//! What the job file did not say, the value used instead, and where that comes from.

use crate::plan::model::Plan;
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};

/// The list of assumptions; none when nothing was assumed.
pub fn document(plan: &Plan) -> Document {
    let mut table = Table::new(&[("Assumed", Kind::Prose)]);
    for source in sources(plan) {
        table.group(format!("Source: {source}"));
        for assumption in plan.assumptions.iter().filter(|assumption| assumption.source == source) {
            table.row(vec![Cell::new(&assumption.text)]);
        }
    }
    let mut section = Section::new("Assumptions");
    if !table.rows.is_empty() {
        section.paragraph(
            "The job file does not say the following. Check each on site; a value given in the job file replaces it.",
        );
    }
    section.table(table);
    Document {
        key: "assumptions".to_owned(),
        title: "Assumptions".to_owned(),
        heading: "Assumptions".to_owned(),
        under: String::new(),
        description: "Every value that the job file did not give, with its source.".to_owned(),
        kind: "Assumptions",
        scale: String::new(),
        sections: vec![section],
    }
}

/// The sources, each once, in the order in which they first come.
fn sources(plan: &Plan) -> Vec<&str> {
    let mut sources: Vec<&str> = Vec::new();
    for assumption in &plan.assumptions {
        if !sources.contains(&assumption.source.as_str()) {
            sources.push(&assumption.source);
        }
    }
    sources
}
