//! What a job says of itself: the title block, the printing, notes.

use super::{Fact, Facts};
use crate::job::model::{Facts as JobFacts, Paper, PrintWish};
use crate::units::{LengthFormat, UnitSystem};

/// The facts of the title block and the printing wishes. The number is not among them: two jobs of
/// different numbers are never compared.
pub fn facts(facts: &JobFacts, print: &PrintWish) -> Vec<Fact> {
    let JobFacts { number: _, title, place, installer, workroom, designer, date, revisions, notes, sets } =
        facts;
    let mut told = Facts::default();
    told.add("title", title.as_str());
    for (what, text) in [
        ("place", place),
        ("installer", installer),
        ("workroom", workroom),
        ("designer", designer),
        ("date", date),
    ] {
        told.add_text(what, text);
    }
    for revision in revisions {
        let dated = if revision.date.is_empty() { String::new() } else { format!(", {}", revision.date) };
        told.add(format!("revision {}", revision.index), format!("{}{dated}", revision.text));
    }
    for note in notes {
        told.add("note", note.as_str());
    }
    if !sets.is_empty() {
        told.add("sets of sheets", sets.iter().map(|set| set.word()).collect::<Vec<_>>().join(", "));
    }
    let PrintWish { paper, format: LengthFormat { system, step } } = print;
    told.add("paper", paper_word(*paper));
    told.add("lengths are printed in", system_words(*system));
    told.add("to the nearest", *step);
    told.0
}

const fn paper_word(paper: Paper) -> &'static str {
    match paper {
        Paper::Letter => "letter",
        Paper::Tabloid => "tabloid",
        Paper::ArchB => "arch-b",
        Paper::A4 => "a4",
        Paper::A3 => "a3",
    }
}

const fn system_words(system: UnitSystem) -> &'static str {
    match system {
        UnitSystem::FeetInches => "feet and inches",
        UnitSystem::Inches => "inches",
        UnitSystem::Millimetres => "millimetres",
    }
}
