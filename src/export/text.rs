//! A change as a terminal shows it: what it costs first, then what brings it about.

use crate::job::model::{Job, SetWish};
use crate::page::Page;
use crate::plan::compare::told::{Row, Topic, rows};
use crate::plan::model::Change;
use crate::plan::words;

/// The report of a change, for the contractor, who runs the comparison: prices are in it. Lines are broken
/// at `width`, or left whole.
pub fn change(change: &Change, job: &Job, width: Option<usize>) -> String {
    let mut page = Page::new(width);
    let facts = &job.facts;
    if change.is_empty() {
        page.head(&format!("{} ({}): no change", facts.title, facts.number));
        return page.text();
    }
    let revision = &change.revision;
    let issues = match (revision.was.index.as_str(), revision.now.index.as_str()) {
        (was, now) if was == now => format!("since revision {was}"),
        (was, now) => format!("revision {was} to {now}"),
    };
    page.head(&format!("{} ({}): {issues}", facts.title, facts.number));
    let mut part = 0;
    for topic in Topic::ALL {
        let told = sentences(change, job, topic);
        if told.is_empty() {
            continue;
        }
        // What it comes to stands apart from what brings it about, and that from what follows.
        let next = group(topic);
        if next > part {
            page.space();
        }
        part = next.max(part);
        for (n, sentence) in told.iter().enumerate() {
            page.fact(if n == 0 { topic.word() } else { "" }, sentence);
        }
    }
    if change.row_made_up {
        page.space();
        let row = &change.row;
        page.fact(
            "Revision",
            &format!(
                "the new file has no row for this, and its sheets stand under {}; give it one: revision {} \"what changed\"",
                row.index, row.index
            ),
        );
    }
    page.text()
}

const fn group(topic: Topic) -> u8 {
    match topic {
        Topic::Cloth | Topic::Cuts | Topic::Costs | Topic::Work => 0,
        Topic::Room | Topic::Job => 1,
        Topic::Pattern | Topic::Seams | Topic::Pieces | Topic::Trim | Topic::Buy | Topic::Watch => 2,
        Topic::Sheets => 3,
    }
}

fn sentences(change: &Change, job: &Job, topic: Topic) -> Vec<String> {
    if topic == Topic::Sheets {
        return SetWish::ALL.into_iter().filter_map(|set| sheets(change, job, set)).collect();
    }
    let told = rows(change, job, topic, SetWish::Costs);
    match topic {
        Topic::Work => {
            // The parts of the work in one line.
            let (whole, parts) = told.split_at(told.len().min(2));
            let parts: Vec<String> = parts.iter().map(|row| format!("{} {}", row.what, row.by)).collect();
            let parts = (!parts.is_empty()).then(|| parts.join(", "));
            whole.iter().map(Row::sentence).chain(parts).collect()
        }
        Topic::Seams | Topic::Pieces => together(&told),
        Topic::Job => {
            let (assumed, said): (Vec<Row>, Vec<Row>) = told.into_iter().partition(|row| row.assumed);
            said.iter().map(Row::sentence).chain(assumptions(&assumed)).collect()
        }
        _ => told.iter().map(Row::sentence).collect(),
    }
}

/// How many values are assumed that were not, or no more: the sheets list them.
fn assumptions(rows: &[Row]) -> Option<String> {
    let of: Vec<&str> = rows.iter().map(|row| row.of.as_str()).collect();
    let kinds = of.chunk_by(|a, b| a == b).map(|kind| format!("{} {}", kind.len(), kind[0]));
    let kinds: Vec<String> = kinds.collect();
    (!kinds.is_empty()).then(|| format!("values of the house: {}, as the sheets list", kinds.join(", ")))
}

/// Rows that tell the same of several things of one wall, in one sentence.
fn together(told: &[Row]) -> Vec<String> {
    let alike = |a: &Row, b: &Row| a.of == b.of && a.by == b.by && !a.was.is_empty() && !b.was.is_empty();
    let groups = told.chunk_by(alike).map(|group| match group {
        [first, _, ..] => {
            let what: Vec<&str> = group.iter().map(|row| row.what.as_str()).collect();
            format!("{}, {}: {}", first.of, words::list(&what), first.by)
        }
        group => group.iter().map(Row::sentence).collect(),
    });
    groups.collect()
}

/// The sheets of one set that change: "crew: Wall 3, Staples; new: Wall 4".
fn sheets(change: &Change, job: &Job, set: SetWish) -> Option<String> {
    let told = rows(change, job, Topic::Sheets, set);
    let mut parts: Vec<String> = Vec::new();
    for by in ["changed", "new", "gone"] {
        let titles: Vec<&str> = told.iter().filter(|row| row.by == by).map(|row| row.what.as_str()).collect();
        if !titles.is_empty() {
            let by = if by == "changed" { String::new() } else { format!("{by}: ") };
            parts.push(format!("{by}{}", titles.join("; ")));
        }
    }
    (!parts.is_empty()).then(|| format!("{}: {}", set.word(), parts.join(". ")))
}
