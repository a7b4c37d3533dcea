//! The change sheet of a set: what its reader must know of a change, with what was beside what is.

use crate::job::model::{Paper, SetWish};
use crate::plan::compare::told::{Row, Topic, rows};
use crate::plan::model::{Change, Plan};
use crate::sheet::document::{Document, Section};
use crate::sheet::model::Reader;
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{ComposeFault, Draft, words};

/// The change sheets for a reader; none where nothing has changed, or nothing was compared.
///
/// # Errors
/// A [`ComposeFault`] when a character cannot be set.
pub fn drafts(plan: &Plan, paper: Paper, reader: Reader) -> Result<Vec<Draft>, ComposeFault> {
    match plan.change.as_ref().filter(|change| !change.is_empty()) {
        Some(change) => document(plan, change, reader.set()).drafts(paper),
        None => Ok(Vec::new()),
    }
}

fn document(plan: &Plan, change: &Change, set: SetWish) -> Document {
    let mut sections = vec![issue(change, set)];
    let topics = Topic::ALL.into_iter().filter(|topic| topic.is_for(set));
    sections.extend(topics.filter_map(|topic| section(plan, change, topic, set)));
    Document {
        key: "change".to_owned(),
        title: format!("Change sheet, revision {}", change.row.index),
        heading: format!("Change sheet: revision {}", change.row.index),
        under: String::new(),
        description: "What this revision changes: what was and what is.".to_owned(),
        kind: "Change sheet",
        scale: String::new(),
        sections,
    }
}

/// Which issue is compared with which.
fn issue(change: &Change, set: SetWish) -> Section {
    let dated = |index: &str, date: &str| match date {
        "" => format!("revision {index}"),
        date => format!("revision {index} of {date}"),
    };
    let was = dated(&change.revision.was.index, &change.revision.was.date);
    let now = dated(&change.row.index, &change.row.date);
    let mut section = Section::new("What is compared");
    section.paragraph(format!("{} takes the place of {was}. {}.", words::capital(&now), change.row.text));
    if !change.places.is_empty() && set != SetWish::Costs {
        section.paragraph(format!(
            "On the elevations the changed places are clouded and marked with {} in a triangle. Sheets that are \
             not listed here are as before.",
            change.row.index
        ));
    }
    section
}

fn section(plan: &Plan, change: &Change, topic: Topic, set: SetWish) -> Option<Section> {
    let told = rows(change, &plan.job, topic, set);
    let mut section = Section::new(heading(topic));
    let plain = told.iter().all(|row| row.was.is_empty() && row.now.is_empty());
    section.table(if plain { plain_table(&told, topic) } else { full_table(&told) });
    (!told.is_empty()).then_some(section)
}

/// What was, what is and by how much.
fn full_table(told: &[Row]) -> Table {
    let mut table =
        Table::new(&[("", Kind::Words), ("Was", Kind::Words), ("Is", Kind::Words), ("Change", Kind::Words)]);
    // Rows of one thing stand under its name, and those that belong to nothing before them.
    let (grouped, alone): (Vec<&Row>, Vec<&Row>) =
        told.iter().partition(|row| !row.of.is_empty() && !row.what.is_empty());
    let mut of = "";
    for row in alone.into_iter().chain(grouped) {
        if of != row.of && !row.what.is_empty() {
            table.group(words::capital(&row.of));
            of = &row.of;
        }
        let what = if row.what.is_empty() { &row.of } else { &row.what };
        table.row(vec![
            Cell::new(words::capital(what)),
            Cell::new(&row.was),
            Cell::strong(&row.now),
            Cell::new(if row.is_as_before() { "as before" } else { &row.by }),
        ]);
    }
    table
}

/// Only what has changed: sentences, sheets.
fn plain_table(told: &[Row], topic: Topic) -> Table {
    let prose = if matches!(topic, Topic::Watch | Topic::Job) { Kind::Prose } else { Kind::Words };
    let mut table = Table::new(&[("", Kind::Words), ("Change", prose)]);
    for row in told {
        table.row(vec![Cell::new(words::capital(&row.name())), Cell::new(words::capital(&row.by))]);
    }
    table
}

const fn heading(topic: Topic) -> &'static str {
    match topic {
        Topic::Cloth => "Cloth",
        Topic::Cuts => "Cuts already made",
        Topic::Costs => "Costs",
        Topic::Work => "Work",
        Topic::Room => "In the room",
        Topic::Job => "In the job",
        Topic::Pattern => "The pattern",
        Topic::Seams => "Seams, from the wall's left end",
        Topic::Pieces => "Pieces, width × length as cut",
        Topic::Trim => "Trim, finished lengths",
        Topic::Buy => "To buy",
        Topic::Watch => "What to watch",
        Topic::Sheets => "Sheets of this set that change",
    }
}
