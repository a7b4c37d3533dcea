//! The cautions of the job, each whole, with its source and why this job raises it.

use crate::plan::cautions::DEFER;
use crate::plan::model::{Caution, Plan};
use crate::sheet::document::{Document, Section};
use crate::sheet::words;

/// The key of the first sheet of cautions.
pub const KEY: &str = "cautions";

/// The title of the caution at `index`, with its number on these sheets.
pub fn title(index: usize, caution: &Caution) -> String {
    format!("Caution {}: {}", index + 1, caution.title)
}

/// The sheets of cautions; none when the job raises none.
pub fn document(plan: &Plan) -> Document {
    let mut first = Section::new("");
    if !plan.cautions.is_empty() {
        first.paragraph(DEFER);
    }
    let sections = plan.cautions.iter().enumerate().map(|(i, caution)| {
        let mut section = Section::new(title(i, caution));
        section.whole = true;
        section.paragraph(&caution.text);
        let (because, source) = (words::sentence(&caution.because), words::sentence(&caution.source));
        section.paragraph(format!("Why here: {because} Source: {source}"));
        section
    });
    Document {
        key: KEY.to_owned(),
        title: "Cautions: read before work".to_owned(),
        heading: "Cautions: read before work".to_owned(),
        under: String::new(),
        description: "What can hurt people or the house on this job, and what to do about it.".to_owned(),
        kind: "Cautions",
        scale: String::new(),
        sections: std::iter::once(first).chain(sections).collect(),
    }
}
