//! The form to survey with: blank, or with what a job file says and what it still lacks.

use super::document::{Document, Section};
use super::model::{Reader, SheetSet};
use super::table::{Cell, Kind, Table};
use super::{ComposeFault, finish, words};
use crate::job::form::{self, Filled, Form, Line, List, Part};
use crate::job::model::Paper;
use crate::units::Length;

/// A row that a pencil can write in.
const ROW: Length = Length::mm(8);
/// How many values stand in a row.
const ACROSS: usize = 4;
/// Room for a value's caption and a measure such as 13′ 4¹¹⁄₁₆″ in handwriting.
const MEASURE: Length = Length::mm(32);
/// The same in a table of many columns.
const NARROW: Length = Length::mm(17);

/// The sheets of a form.
///
/// # Errors
/// A [`ComposeFault`] when the font lacks a character of the job file.
pub fn compose(form: &Form, paper: Paper) -> Result<SheetSet, ComposeFault> {
    let drafts = document(form).drafts(paper)?;
    let count = drafts.len();
    let numbered = drafts.into_iter().enumerate();
    let sheets = numbered.map(|(i, draft)| finish(&form.facts, paper, "For survey", draft, i + 1, count));
    let title = match form.facts.title.as_str() {
        "" => "Survey".to_owned(),
        title => format!("{title}: survey"),
    };
    Ok(SheetSet {
        reader: Reader::Crew,
        title,
        author: form.facts.installer.clone(),
        date: form.facts.date.clone(),
        sheets: sheets.collect::<Result<_, _>>()?,
    })
}

fn document(form: &Form) -> Document {
    let missing = form.parts.iter().flat_map(Part::values).filter(|filled| filled.missing).count();
    let mut how = Section::new("How to measure");
    how.paragraph(
        "Stand inside and go round to the right: corner, wall, corner, wall. Measure each wall from its own left \
         end and from the floor. The words here are those of the job file, in its order. What is left blank is \
         left out of the file. An opening or a box that is taped from both ends checks the width of its wall.",
    );
    if missing > 0 {
        how.paragraph(format!("Still missing, and marked so: {}.", words::counted(missing as i64, "value")));
    }
    let mut choice = Table::new(&[("Value", Kind::Words), ("One of", Kind::Words)]);
    for form::Choice { value, words } in form::choices() {
        choice.row(vec![Cell::strong(value), Cell::new(words)]);
    }
    let mut chosen = Section::new("Values that are words");
    chosen.table(choice);
    let parts = form.parts.iter().flat_map(sections);
    Document {
        key: "survey".to_owned(),
        title: "Survey".to_owned(),
        heading: "Survey".to_owned(),
        under: String::new(),
        description: "What to measure, in the order of the job file, with room to write.".to_owned(),
        kind: "Survey",
        scale: String::new(),
        sections: [how, chosen].into_iter().chain(parts).collect(),
    }
}

/// The lines of a part, then its tables.
fn sections(part: &Part) -> Vec<Section> {
    let mut lines = Section::new(&part.heading);
    lines.table(table(&part.lines));
    lines.whole = true;
    let mut all = vec![lines];
    for list in &part.lists {
        let mut section = Section::new(format!("{}: {}", part.heading, list.names.join(", ")));
        section.table(list_table(list));
        section.whole = true;
        all.push(section);
    }
    all
}

/// The lines of a part: the name of each, then its values, some to a row.
fn table(lines: &[Line]) -> Table {
    let columns: Vec<(&'static str, Kind)> =
        std::iter::once(("", Kind::Words)).chain([("", Kind::Write(MEASURE)); ACROSS]).collect();
    let mut table = Table::new(&columns);
    table.row_height = ROW;
    for line in lines {
        if line.values.is_empty() {
            let answer = if line.there { "yes" } else { "yes or no:" };
            table.row(vec![Cell::strong(line.name), Cell::new(answer)]);
        }
        for (i, values) in line.values.chunks(ACROSS).enumerate() {
            let name = Cell::strong(if i == 0 { line.name } else { "" });
            table.row(std::iter::once(name).chain(values.iter().map(cell)).collect());
        }
    }
    table
}

fn cell(filled: &Filled) -> Cell {
    if filled.missing {
        Cell::strong(format!("{} missing", filled.caption))
    } else {
        Cell::new(format!("{} {}", filled.caption, filled.value).trim_end())
    }
}

fn list_table(list: &List) -> Table {
    let columns = list.columns.iter().map(|column| (*column, Kind::Write(NARROW)));
    let columns: Vec<(&'static str, Kind)> =
        std::iter::once(("Line", Kind::Write(NARROW))).chain(columns).collect();
    let mut table = Table::new(&columns);
    table.row_height = ROW;
    for row in &list.rows {
        let cell = |filled: &Filled| match filled.missing {
            true => Cell::strong("missing"),
            false => Cell::new(&filled.value),
        };
        table.row(row.iter().map(cell).collect());
    }
    for _ in 0..list.blank {
        table.row(columns.iter().map(|_| Cell::new("")).collect());
    }
    table
}
