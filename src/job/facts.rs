//! The title block and the printing wishes.

use super::ctx::Ctx;
use super::defaults::COMMON;
use super::model::{Facts, Paper, PrintWish, Revision, SetWish};
use crate::parse::{Given, Node, ParsedJob};
use crate::source::Spanned;
use crate::units::{Length, LengthFormat, Unit, UnitSystem};
use crate::unseen::unseen;

/// The unit that the file declares for bare figures.
pub fn declared(parsed: &ParsedJob) -> Option<Unit> {
    let node = parsed.nodes.iter().find(|node| node.spec.name == "units")?;
    node.arg::<&'static str>(0).ok().and_then(|word| Unit::from_word(word.value))
}

/// The format that the job asks for or that follows from its units, and whether it is metric.
pub fn format(parsed: &ParsedJob, job: Option<&Node>) -> (LengthFormat, bool) {
    let metric = declared(parsed).is_some_and(Unit::metric);
    let print = job.and_then(|job| job.child("print"));
    let system = match print.and_then(|print| print.arg::<&'static str>(0).ok()).map(|word| word.value) {
        Some("mm") => UnitSystem::Millimetres,
        Some("inches") => UnitSystem::Inches,
        Some("feet-inches") => UnitSystem::FeetInches,
        _ if metric => UnitSystem::Millimetres,
        _ => UnitSystem::FeetInches,
    };
    let step = match system {
        UnitSystem::Millimetres => Length::mm(1),
        UnitSystem::FeetInches | UnitSystem::Inches => Length::inch_64ths(4),
    };
    (LengthFormat { system, step }, system == UnitSystem::Millimetres)
}

/// How to print; steps that the figures cannot show are refused.
pub fn print_wish(ctx: &mut Ctx, job: &Node) -> Option<PrintWish> {
    let mut format = ctx.format;
    let print = job.child("print");
    match print.map_or(Given::Absent, |print| print.prop::<Length>("to")) {
        Given::Absent => {
            let text = format!("Lengths are printed to the nearest {}.", ctx.show(format.step));
            ctx.note(text, COMMON);
        }
        Given::Bad => return None,
        Given::Is(step) => {
            let shown = match format.system {
                UnitSystem::Millimetres => [1, 5, 10].map(Length::mm).contains(&step.value),
                UnitSystem::FeetInches | UnitSystem::Inches => {
                    [1, 2, 4, 8, 16, 32, 64].map(Length::inch_64ths).contains(&step.value)
                }
            };
            if !shown {
                ctx.error(
                    "odd-precision",
                    step.span,
                    "lengths cannot be printed in that step",
                    "write a binary fraction of an inch such as \"1/16in\", or 1, 5 or 10 mm",
                );
                return None;
            }
            format.step = step.value;
        }
    }
    let wish = job.child_arg::<&'static str>("paper").or(|| Spanned::new("", job.name))?;
    let paper = match paper(wish.value) {
        Some(paper) => paper,
        None if ctx.metric => {
            ctx.note("Sheets are A3.", COMMON);
            Paper::A3
        }
        None => {
            ctx.note("Sheets are tabloid, 11 by 17 in.", COMMON);
            Paper::Tabloid
        }
    };
    Some(PrintWish { paper, format })
}

/// The sheet size of a word of the language.
pub fn paper(word: &str) -> Option<Paper> {
    Some(match word {
        "letter" => Paper::Letter,
        "tabloid" => Paper::Tabloid,
        "arch-b" => Paper::ArchB,
        "a4" => Paper::A4,
        "a3" => Paper::A3,
        _ => return None,
    })
}

/// The facts of the title block; roles that the job leaves out are the house's.
pub fn facts(ctx: &mut Ctx, job: &Node, house: Option<&Node>) -> Option<Facts> {
    let number = job.arg::<String>(0).ok().and_then(|text| short(ctx, text, "the job's number", 16));
    let title = job.prop::<String>("title").ok().and_then(|text| short(ctx, text, "the job's title", 40));
    let mut line = |name: &str| {
        let given = match (job.child_arg(name), house) {
            (Given::Absent, Some(house)) => house.child_arg(name),
            (given, _) => given,
        };
        optional(ctx, given, name)
    };
    let (place, installer) = (line("place"), line("installer"));
    let (workroom, designer, date) = (line("workroom"), line("designer"), line("date"));
    let mut revisions = Vec::new();
    for node in job.children.iter().filter(|node| node.spec.name == "revision") {
        let index = node.arg::<String>(0).ok().and_then(|index| short(ctx, index, "the revision's index", 2));
        let text = node.arg::<String>(1).ok().and_then(|text| short(ctx, text, "the revision's text", 60));
        let date = node.prop::<String>("date").or(|| Spanned::new(String::new(), node.name));
        revisions.push(Revision { index: index?, date: date?.value, text: text? });
    }
    if revisions.is_empty() {
        let date = date.clone().unwrap_or_default();
        revisions.push(Revision { index: "A".to_owned(), date, text: "First issue".to_owned() });
    }
    let notes = job.children.iter().filter(|node| node.spec.name == "note");
    let notes = notes.filter_map(|node| node.arg::<String>(0).ok().map(|text| text.value)).collect();
    let sets = job.children.iter().filter(|node| node.spec.name == "set");
    let mut sets: Vec<SetWish> =
        sets.filter_map(|node| set_wish(node.arg::<&'static str>(0).ok()?.value)).collect();
    sets.sort();
    sets.dedup();
    Some(Facts {
        number: number?,
        title: title?,
        place: place?,
        installer: installer?,
        workroom: workroom?,
        designer: designer?,
        date: date?,
        revisions,
        notes,
        sets,
    })
}

fn set_wish(word: &str) -> Option<SetWish> {
    Some(match word {
        "crew" => SetWish::Crew,
        "workroom" => SetWish::Workroom,
        "approval" => SetWish::Approval,
        "costs" => SetWish::Costs,
        "record" => SetWish::Record,
        _ => return None,
    })
}

/// A text that may be left out; empty then.
pub fn optional(ctx: &mut Ctx, given: Given<Spanned<String>>, what: &str) -> Option<String> {
    match given {
        Given::Is(text) => short(ctx, text, what, 40),
        Given::Absent => Some(String::new()),
        Given::Bad => None,
    }
}

/// The text if it fits its place on the sheets.
pub fn short(ctx: &mut Ctx, text: Spanned<String>, what: &str, most: usize) -> Option<String> {
    let length = text.value.chars().count();
    if let Some(c) = text.value.chars().find(|c| unseen(*c)) {
        let message =
            format!("{what} holds the character U+{:04X}, which cannot be seen on a sheet", c as u32);
        ctx.error("control-character", text.span, message, "take it out, and write the text on one line");
        return None;
    }
    if length > most {
        let message = format!("{what} has {length} characters; its place on the sheets holds {most}");
        ctx.error("text-too-long", text.span, message, "shorten it");
        return None;
    }
    if text.value.trim().is_empty() {
        ctx.error("empty-text", text.span, format!("{what} is empty"), "write it, or leave the line out");
        return None;
    }
    Some(text.value)
}
