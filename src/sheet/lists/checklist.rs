//! The order of work on site: steps to tick, each caution right before the step that needs it.

use crate::job::model::Paper;
use crate::plan::model::{Plan, Step};
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Row, Table};
use crate::sheet::{ComposeFault, Draft, lists::cautions, words};
use crate::units::Length;

/// The least height of a step, so that initials can be written beside it.
const ROW: Length = Length::mm(8);

/// The checklist.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a step.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut table = Table::new(&[
        ("Step", Kind::Figures),
        ("Done", Kind::Tick),
        ("Wall", Kind::Words),
        ("What to do", Kind::Words),
        ("After step", Kind::Words),
        ("People", Kind::Figures),
        ("Time", Kind::Write(Length::mm(14))),
        ("Initials", Kind::Write(Length::mm(14))),
    ]);
    table.row_height = ROW;
    let mut stage = None;
    let mut told = vec![false; plan.cautions.len()];
    for step in &plan.steps {
        if stage != Some(step.stage) {
            stage = Some(step.stage);
            table.group(words::stage(step.stage));
        }
        table.rows.extend(warnings(plan, step, &mut told));
        let after: Vec<String> = step.after.iter().map(usize::to_string).collect();
        table.row(vec![
            Cell::strong(step.number.to_string()),
            Cell::new(""),
            Cell::new(step.wall.map_or(String::new(), |wall| words::wall(plan, wall))),
            Cell::new(&step.text),
            Cell::new(after.join(", ")),
            Cell::new(step.people.to_string()),
        ]);
    }
    let mut section = Section::new("");
    section.table(table);
    let document = Document {
        key: "checklist".to_owned(),
        title: "Order of work".to_owned(),
        under: String::new(),
        description: "Every step in order, to be ticked and initialled, with the cautions in their places."
            .to_owned(),
        kind: "Checklist",
        sections: vec![section],
    };
    document.drafts(paper)
}

/// The cautions before a step: in full the first time, then by number and title.
fn warnings(plan: &Plan, step: &Step, told: &mut [bool]) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut again = Vec::new();
    for &index in &step.cautions {
        let Some(caution) = plan.cautions.get(index) else { continue };
        let title = cautions::title(index, caution);
        if told[index] {
            again.push(title);
        } else {
            told[index] = true;
            rows.push(Row::Warning(title, caution.text.clone()));
        }
    }
    if !again.is_empty() {
        rows.push(Row::Warning(again.join(". "), String::new()));
    }
    rows
}
