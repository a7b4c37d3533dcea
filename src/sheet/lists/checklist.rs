//! The order of work on site: steps to tick, each caution right before the step that needs it.

use crate::plan::cautions::DEFER;
use crate::plan::model::{Plan, Stage, Step};
use crate::plan::steps::last_day;
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::{cautions, label_cell};
use crate::sheet::table::{Cell, Kind, Row, Table};
use crate::sheet::words;
use crate::units::Length;

/// The least height of a step, so that initials can be written beside it.
const ROW: Length = Length::mm(7);

/// The checklist.
pub fn document(plan: &Plan) -> Document {
    let mut table = Table::new(&[
        ("Step", Kind::Figures),
        ("Done", Kind::Tick),
        ("Wall", Kind::Words),
        ("What to do", Kind::Prose),
        ("People × min.", Kind::Amounts),
        ("Day", Kind::Words),
        ("Time", Kind::Write(Length::mm(14))),
        ("Initials", Kind::Write(Length::mm(14))),
    ]);
    table.row_height = ROW;
    let mut part = None;
    let mut warned = vec![Told::Never; plan.cautions.len()];
    for step in &plan.steps {
        let room = step.room.filter(|_| plan.job.rooms.len() > 1 && step.stage > Stage::Prepare);
        if part != Some((step.stage, room)) {
            part = Some((step.stage, room));
            let of = room.map_or(String::new(), |room| format!(", {}", plan.job.rooms[room].name));
            table.group(format!("{}{of}", words::stage(step.stage)));
        }
        table.rows.extend(warnings(plan, step, &mut warned));
        let after = Cell::new(told("After", &step.after));
        let mut cautions: Vec<usize> = step.cautions.iter().map(|index| index + 1).collect();
        cautions.sort_unstable();
        let cautions = Cell::strong(told("Caution", &cautions)).to(cautions::KEY);
        table.row(vec![
            Cell::strong(step.number.to_string()),
            Cell::new(""),
            step.wall.map_or(Cell::new(""), |wall| label_cell(plan, wall)),
            Cell::new(&step.text).and(after).and(cautions),
            Cell::new(if step.day == 0 {
                String::new()
            } else {
                format!("{} × {}", step.people, step.minutes)
            }),
            Cell::new(days(plan, step)),
        ]);
    }
    let mut steps = Section::new("Steps");
    steps.paragraph(format!(
        "About {} for a crew of {}. 2 × 30 is two people for 30 minutes, by the rates among the assumptions. A step may \
         begin when those that it comes after are done. No panel, fold or run of trim is begun that cannot be finished the same day. {}",
        if plan.days == 1 { "one working day".to_owned() } else { format!("{} working days", plan.days) },
        plan.job.house.crew,
        DEFER,
    ));
    steps.table(table);
    Document {
        key: "checklist".to_owned(),
        title: "Order of work".to_owned(),
        heading: "Order of work".to_owned(),
        under: String::new(),
        description: "Every step in order, to be ticked and initialled, with the cautions in their places."
            .to_owned(),
        kind: "Checklist",
        scale: String::new(),
        sections: vec![steps],
    }
}

/// The days of a step: "2", "2–3" where it goes on over an evening, "before" where it is done before the crew comes.
fn days(plan: &Plan, step: &Step) -> String {
    match (step.day, last_day(plan, step)) {
        (0, _) => "before".to_owned(),
        (first, last) if first < last => format!("{first}–{last}"),
        (first, _) => first.to_string(),
    }
}

/// Rising numbers told in a sentence, such as "After 3, 22, 35–43."; nothing where there are none.
fn told(word: &str, numbers: &[usize]) -> String {
    if numbers.is_empty() { String::new() } else { format!("{word} {}.", ranges(numbers)) }
}

/// Rising numbers, with those that follow one another taken together: "3, 22, 35–43".
fn ranges(numbers: &[usize]) -> String {
    let mut found: Vec<(usize, usize)> = Vec::new();
    for &number in numbers {
        match found.last_mut() {
            Some(last) if last.1 + 1 == number => last.1 = number,
            _ => found.push((number, number)),
        }
    }
    let shown = |&(from, to): &(usize, usize)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from}–{to}"),
    };
    found.iter().map(shown).collect::<Vec<_>>().join(", ")
}

/// How far the checklist has told a caution.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Told {
    Never,
    /// Last in this part of the work.
    In(Stage),
}

/// The cautions before a step: in full the first time, by number and title when another part of
/// the work needs them again. Each step also names its own by number.
fn warnings(plan: &Plan, step: &Step, told: &mut [Told]) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut again = Vec::new();
    for &index in &step.cautions {
        let Some(caution) = plan.cautions.get(index) else { continue };
        let title = cautions::title(index, caution);
        match told[index] {
            Told::Never => rows.push(Row::Warning(title, caution.text.clone())),
            Told::In(stage) if stage != step.stage => again.push(title),
            Told::In(_) => continue,
        }
        told[index] = Told::In(step.stage);
    }
    if !again.is_empty() {
        rows.push(Row::Warning(again.join(". "), String::new()));
    }
    rows
}
