//! The survey checked by itself: what to measure again before cloth is cut, and what agrees.

use crate::job::model::{CheckKind, SurveyCheck};
use crate::plan::model::Plan;
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::words;
use crate::units::Length;

/// The survey check; without sections where the survey holds nothing that checks itself.
pub fn document(plan: &Plan) -> Document {
    let (fail, agree): (Vec<&SurveyCheck>, Vec<&SurveyCheck>) =
        plan.survey.iter().partition(|check| check.fails());
    Document {
        key: "survey-check".to_owned(),
        title: "Survey check".to_owned(),
        heading: "Survey check".to_owned(),
        under: String::new(),
        description:
            "Measures of the survey that ought to agree, how far they do, and what to measure again."
                .to_owned(),
        kind: "Survey check",
        scale: String::new(),
        sections: vec![again(plan, &fail), agreed(plan, &agree)],
    }
}

/// Whether anything is to be measured again.
pub fn doubtful(plan: &Plan) -> bool {
    plan.survey.iter().any(SurveyCheck::fails)
}

/// What is to be measured again, with room to write.
fn again(plan: &Plan, checks: &[&SurveyCheck]) -> Section {
    let mut table = Table::new(&[
        ("Done", Kind::Tick),
        ("Found", Kind::Prose),
        ("Out by", Kind::Amounts),
        ("Limit", Kind::Amounts),
        ("Measure again", Kind::Prose),
        ("New measures", Kind::Write(Length::mm(45))),
    ]);
    table.row_height = Length::mm(12);
    for check in checks {
        let [out, limit] = amounts(plan, check);
        table.row(vec![
            Cell::new(""),
            Cell::new(words::sentence(&found(plan, check))),
            Cell::strong(out),
            Cell::new(limit),
            Cell::new(words::sentence(&check.again)),
            Cell::new(""),
        ]);
    }
    let mut section = Section::new("Measure again before cloth is cut");
    if !table.rows.is_empty() {
        section.paragraph(
            "These measures do not agree with one another. Measure again, write the new figures here and into the \
             job file, and make the plan anew.",
        );
    }
    section.table(table);
    section
}

/// What agrees within the limits.
fn agreed(plan: &Plan, checks: &[&SurveyCheck]) -> Section {
    let mut table =
        Table::new(&[("Found", Kind::Prose), ("Out by", Kind::Amounts), ("Limit", Kind::Amounts)]);
    let mut kinds: Vec<CheckKind> = checks.iter().map(|check| check.kind).collect();
    kinds.sort();
    kinds.dedup();
    for kind in kinds {
        table.group(heading(kind));
        for check in checks.iter().filter(|check| check.kind == kind) {
            let [out, limit] = amounts(plan, check);
            table.row(vec![
                Cell::new(words::sentence(&found(plan, check))),
                Cell::new(out),
                Cell::new(limit),
            ]);
        }
    }
    let mut section = Section::new("Agrees within the limits");
    section.table(table);
    section
}

fn found(plan: &Plan, check: &SurveyCheck) -> String {
    if plan.job.rooms.len() > 1 {
        format!("{}: {}", plan.job.rooms[check.room].name, check.text)
    } else {
        check.text.clone()
    }
}

fn amounts(plan: &Plan, check: &SurveyCheck) -> [String; 2] {
    let format = match check.kind {
        CheckKind::Closing | CheckKind::Square => plan.job.print.format,
        _ => plan.job.print.format.exact(),
    };
    [check.out_by, check.limit].map(|amount| amount.words(&format))
}

const fn heading(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::Closing => "Round the room",
        CheckKind::Turning => "Angles of the corners",
        CheckKind::Widths => "Widths at top, middle and bottom",
        CheckKind::Square => "Square by the diagonals",
        CheckKind::Heights => "Heights along a wall",
        CheckKind::Corner => "Heights at a corner",
        CheckKind::Floor => "Floors at a corner",
        CheckKind::BothEnds => "Taped from both ends",
        CheckKind::Back => "Two sides of one wall",
    }
}
