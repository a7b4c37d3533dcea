//! The cover: the index of the set, the facts of the job and what to watch.

use std::cmp::Ordering;

use crate::job::model::{Lattice, Paper};
use crate::plan::model::{Plan, Way};
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::{assumptions, better};
use crate::sheet::model::Reader;
use crate::sheet::scale::{self, Scale};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{ComposeFault, Draft, frame, key_plan, sets, words};
use crate::units::Length;

/// The document type of a cover.
const KIND: &str = "Cover and index";
/// A key plan 1:n with a greater n than this is too small to find a wall on.
const SMALLEST_KEY_PLAN: i64 = 64;

/// A whole set: a cover with its index, then `drafts`, and what the job assumes. The key plan of the
/// only room and the assumptions stand on the cover where that saves sheets, or else on their own. The
/// designer is spared the assumptions, as they tell of staples, and the contractor has them in the
/// other sets.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the job.
pub fn before(
    plan: &Plan,
    paper: Paper,
    reader: Reader,
    drafts: Vec<Draft>,
) -> Result<Vec<Draft>, ComposeFault> {
    // The band of every sheet shows the revisions; the cover lists them where that has no room.
    let listed = !frame::shows_all(paper, &plan.job.facts.revisions)?;
    let mut best: Option<Vec<Draft>> = None;
    let scales: Vec<Option<Scale>> =
        key_plan_scales(plan, reader).into_iter().map(Some).chain([None]).collect();
    // A long index takes more columns than the rest of the cover, where that saves a sheet.
    for (short_lines, &scale) in [false, true].into_iter().flat_map(|s| scales.iter().map(move |k| (s, k))) {
        let seen = match scale {
            Some(scale) => key_plan::cover::sections(plan, 0, scale, frame::free(paper))?,
            None => Some(Vec::new()),
        };
        let Some(seen) = seen else { continue };
        let plain = |index: Section| {
            let mut cover = document(plan, reader, Section { short_lines, ..index }, listed);
            cover.scale = scale.map_or(String::new(), |scale| scale.name.to_owned());
            cover.sections.extend(seen.iter().cloned());
            cover
        };
        let own = |draft: &&Draft| scale.is_none() || draft.kind != key_plan::KIND;
        let behind: Vec<Draft> = drafts.iter().filter(own).cloned().collect();
        let set = with_assumptions(plan, paper, reader, &behind, plain)?;
        let covers = set.iter().filter(|draft| draft.kind == KIND).count();
        let fits = scale.is_none() || covers == 1;
        if fits && best.as_ref().is_none_or(|best| set.len() < best.len()) {
            best = Some(set);
        }
    }
    Ok(best.unwrap_or_default())
}

/// The scales at which the key plan may stand on the cover, largest first; none for a job of several
/// rooms, nor for the workroom, which finds the plan beside its elevations, nor with the costs.
fn key_plan_scales(plan: &Plan, reader: Reader) -> Vec<Scale> {
    if plan.rooms.len() > 1 || matches!(reader, Reader::Workroom | Reader::Costs) {
        return Vec::new();
    }
    let all = scale::standard(plan.job.print.format.system).iter().copied();
    all.filter(|scale| scale.den <= SMALLEST_KEY_PLAN).collect()
}

/// A set with what the job assumes: on the cover where it makes that no longer, or else on sheets at
/// the end.
fn with_assumptions(
    plan: &Plan,
    paper: Paper,
    reader: Reader,
    drafts: &[Draft],
    cover: impl Fn(Section) -> Document,
) -> Result<Vec<Draft>, ComposeFault> {
    if matches!(reader, Reader::Approval | Reader::Costs) {
        return Ok([indexed(paper, drafts, cover)?, drafts.to_vec()].concat());
    }
    let assumed = assumptions::document(plan);
    let joined = indexed(paper, drafts, |index| {
        let mut cover = cover(index);
        cover.sections.extend(assumed.sections.iter().cloned());
        cover
    })?;
    let all = [drafts.to_vec(), assumed.drafts(paper)?].concat();
    let apart = indexed(paper, &all, cover)?;
    Ok(if joined.len() <= apart.len() { [joined, drafts.to_vec()].concat() } else { [apart, all].concat() })
}

/// The sheets of a cover with an index, which tells the numbers of the sheets behind the cover: the
/// cover may itself take several, and longer numbers may make it longer.
fn indexed(
    paper: Paper,
    drafts: &[Draft],
    cover: impl Fn(Section) -> Document,
) -> Result<Vec<Draft>, ComposeFault> {
    let mut length = 1;
    loop {
        let sheets = cover(index(drafts, length)).drafts(paper)?;
        match sheets.len().cmp(&length) {
            Ordering::Equal => return Ok(sheets),
            Ordering::Greater => length = sheets.len(),
            Ordering::Less => return Err(ComposeFault::unsettled_index()),
        }
    }
}

/// The cover; `listed` when the revisions are listed on it.
fn document(plan: &Plan, reader: Reader, index: Section, listed: bool) -> Document {
    let mut sections = vec![index, facts(plan)];
    if listed {
        sections.push(revisions(plan));
    }
    // A record is read when the work is done.
    if reader != Reader::Record {
        sections.push(watch(plan, reader));
    }
    sections.push(notes(plan));
    Document {
        key: "cover".to_owned(),
        title: "Cover".to_owned(),
        heading: format!("{}: {}", sets::title(reader), plan.job.facts.title),
        under: String::new(),
        description: "The sheets of this set, the facts of the job and what to watch.".to_owned(),
        kind: KIND,
        scale: String::new(),
        sections,
    }
}

fn index(drafts: &[Draft], length: usize) -> Section {
    let mut table = Table::new(&[("Sheet", Kind::Words), ("Title", Kind::Words)]);
    for (i, draft) in drafts.iter().enumerate().filter(|(_, draft)| draft.part.number == 1) {
        let title = match draft.under.as_str() {
            "" => draft.title.clone(),
            under => format!("{}: {}", words::capital(under), draft.title),
        };
        let first = length + 1 + i;
        let numbers = match draft.part.count {
            1 => first.to_string(),
            count => format!("{first}–{}", first + count - 1),
        };
        table.row(vec![Cell::new(numbers).to(&draft.key), Cell::new(title).to(&draft.key)]);
    }
    let mut section = Section::new("Sheets of this set");
    section.table(table);
    section
}

fn facts(plan: &Plan) -> Section {
    let facts = &plan.job.facts;
    let mut table = Table::new(&[("", Kind::Words), ("", Kind::Words)]);
    let mut fact = |name: &str, value: String| {
        if !value.is_empty() {
            table.row(vec![Cell::new(name), Cell::strong(value)]);
        }
    };
    fact("Job", format!("{} {}", facts.number, facts.title));
    fact("Place", facts.place.clone());
    fact("Installer", facts.installer.clone());
    fact("Workroom", facts.workroom.clone());
    fact("Designer", facts.designer.clone());
    fact("Date of issue", facts.date.clone());
    for room in &plan.job.rooms {
        let clothed = room.walls.iter().filter(|wall| wall.clothed).count() as i64;
        let closed = if room.closed { "closed room" } else { "open run" };
        fact(
            "Room",
            format!("{}: {}, {closed}", words::capital(&room.name), words::counted(clothed, "clothed wall")),
        );
    }
    for (index, cloth) in plan.job.cloths.iter().enumerate() {
        let pattern =
            cloth.pattern.map_or("plain, free match".to_owned(), |lattice| repeat(plan, index, lattice));
        let way = plan.way(index);
        let up = words::way_up(cloth, way).map_or("may be turned".to_owned(), |up| format!("hangs {up}"));
        let way = if way == Way::Railroaded { format!(", railroaded, {up}") } else { format!(", {up}") };
        fact(
            "Cloth",
            format!("{}: {}, {pattern}{way}", words::capital(&cloth.name), words::widths(plan, index)),
        );
    }
    let mut section = Section::new("The job");
    section.table(table);
    section
}

/// The repeat and the match of the pattern of a cloth; where it is railroaded, the repeat as it lies on the wall too.
pub fn repeat(plan: &Plan, cloth: usize, lattice: Lattice) -> String {
    let match_words = if lattice.drop == Length::ZERO {
        "straight match".to_owned()
    } else if lattice.drop * 2 == lattice.vertical {
        "half-drop match".to_owned()
    } else {
        format!("drop match of {}", words::cloth_length(plan, lattice.drop))
    };
    let across = words::cloth_length(plan, lattice.horizontal);
    let along = words::cloth_length(plan, lattice.vertical);
    match plan.way(cloth) {
        Way::Upright => format!("repeat {across} across and {along} up, {match_words}"),
        Way::Railroaded => format!(
            "repeat {across} across the bolt and {along} along it, which is {along} along the wall and {across} up it, \
             {match_words}"
        ),
    }
}

fn revisions(plan: &Plan) -> Section {
    let mut table = Table::new(&[("Rev.", Kind::Words), ("Date", Kind::Words), ("Change", Kind::Prose)]);
    for revision in &plan.job.facts.revisions {
        let date = if revision.date.is_empty() { "not given" } else { &revision.date };
        table.row(vec![Cell::strong(&revision.index), Cell::new(date), Cell::new(&revision.text)]);
    }
    let mut section = Section::new("Revisions");
    section.table(table);
    section
}

fn watch(plan: &Plan, reader: Reader) -> Section {
    let work = if reader == Reader::Approval { &[][..] } else { &plan.work_watch[..] };
    let mill = if matches!(reader, Reader::Workroom | Reader::Costs) { &plan.mill_watch[..] } else { &[] };
    let mut table = Table::new(&[("", Kind::Figures), ("", Kind::Prose)]);
    let better = if reader == Reader::Approval { better::sentences(plan) } else { Vec::new() };
    for (i, sentence) in plan.watch.iter().chain(&better).chain(mill).chain(work).enumerate() {
        table.row(vec![Cell::strong((i + 1).to_string()), Cell::new(words::capital(sentence))]);
    }
    let mut section = Section::new("What to watch");
    section.table(table);
    section
}

fn notes(plan: &Plan) -> Section {
    let mut section = Section::new("Notes");
    for note in &plan.job.facts.notes {
        section.paragraph(note);
    }
    section
}
