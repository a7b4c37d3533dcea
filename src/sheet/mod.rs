//! A [`crate::plan::model::Plan`] to [`model::SheetSet`]s: paper, pens, text, scales, tables.
//!
//! Sheets are first made as [`Draft`]s, without numbers. When all sheets of a set are there they
//! are numbered, the cover is made with its index, and every draft gets its frame and title block.

pub mod bolt_map;
pub mod change;
pub mod column;
pub mod columns;
pub mod corner_detail;
pub mod dimension;
pub mod document;
pub mod drawing;
pub mod elevation;
pub mod extent;
pub mod flow;
pub mod frame;
pub mod hatch;
pub mod hole;
pub mod key_plan;
pub mod labels;
pub mod lattice;
pub mod lists;
pub mod mark;
pub mod model;
pub mod offset;
pub mod onward;
pub mod options;
pub mod pack;
pub mod panel_edges;
pub mod paper;
pub mod pen;
pub mod plate;
pub mod revision;
pub mod scale;
pub mod scale_bar;
pub mod sets;
pub mod sewing;
pub mod sign;
pub mod slots;
pub mod survey_form;
pub mod table;
pub mod text;
pub mod tiles;
pub mod words;

use std::collections::BTreeMap;
use std::sync::Arc;

use std::borrow::Cow;

use rayon::prelude::*;

use crate::job::model::{Facts, Paper};
use crate::plan::model::Plan;
use crate::plan::record;
use model::{Group, Layer, Mark, Reader, Sheet, SheetSet};

/// Why a sheet cannot be made of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ComposeFault {
    /// A stable code in words, such as `missing-glyph`.
    pub code: &'static str,
    /// One sentence that says what cannot be set.
    pub message: String,
    /// What would make it possible.
    pub help: String,
}

impl ComposeFault {
    fn unsettled_index() -> Self {
        ComposeFault {
            code: "unsettled-index",
            message: "the index of the cover does not settle: its numbers change its own length".to_owned(),
            help: "choose another paper".to_owned(),
        }
    }

    fn missing_glyph(character: char, text: &str) -> Self {
        ComposeFault {
            code: "missing-glyph",
            message: format!(
                "the font has no sign for {character:?} (U+{:04X}) in {text:?}",
                u32::from(character)
            ),
            help: "write it with letters and signs of the Latin script".to_owned(),
        }
    }
}

/// Which sheet of how many that show one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// From 1.
    pub number: usize,
    /// How many there are.
    pub count: usize,
}

impl Part {
    /// The only sheet.
    pub const WHOLE: Part = Part { number: 1, count: 1 };

    /// The title of this sheet, given the title of all.
    pub fn of(self, title: &str) -> String {
        match self.count {
            1 => title.to_owned(),
            count => format!("{title}, part {} of {count}", self.number),
        }
    }
}

/// A sheet before it has a number, a frame and a title block.
///
/// Its marks keep to [`frame::free`] of its paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// A short name for files and links, unique in its set.
    pub key: String,
    /// The title of the document that it is a sheet of.
    pub title: String,
    /// Which of that document's sheets it is.
    pub part: Part,
    /// The bookmark that it lies under; empty at the top level.
    pub under: String,
    /// What is shown, in one or two sentences.
    pub description: String,
    /// The document type of its title block, such as "Elevation".
    pub kind: &'static str,
    /// The scale of its drawings in words; empty when nothing is to scale.
    pub scale: String,
    /// Further keys under which links of the set lead to it, for what it shows beside the first.
    pub also: Vec<String>,
    /// The marks, shared by the ways to put a set together that are compared.
    pub marks: Arc<Vec<Mark>>,
}

/// The sets of `readers`, on the paper that the job wishes or on `paper` instead. A reader for whom the
/// plan has nothing, as [`Reader::Costs`] of a job without prices, gets no set.
///
/// # Errors
/// A [`ComposeFault`] when the font lacks a character of the job.
pub fn compose(plan: &Plan, paper: Option<Paper>, readers: &[Reader]) -> Result<Vec<SheetSet>, ComposeFault> {
    let paper = paper.unwrap_or(plan.job.print.paper);
    let readers = readers.iter().filter(|reader| sets::has_any(plan, **reader));
    readers.map(|&reader| set(plan, paper, reader)).collect()
}

fn set(plan: &Plan, paper: Paper, reader: Reader) -> Result<SheetSet, ComposeFault> {
    let plan = &*shown(plan, reader);
    let mut all = drafts_as_shown(plan, paper, reader)?;
    let (count, status) = (all.len(), sets::status(plan, reader));
    let keys: Vec<String> = all.iter().map(|draft| draft.key.clone()).collect();
    let beside = |i: usize| keys.get(i).map(|key| (i + 1, key.as_str()));
    for (i, draft) in all.iter_mut().enumerate() {
        let before = i.checked_sub(1).and_then(beside);
        onward::tell(Arc::<Vec<Mark>>::make_mut(&mut draft.marks), before, beside(i + 1))?;
    }
    let numbered = all.into_par_iter().enumerate();
    let sheets: Vec<Result<Sheet, ComposeFault>> =
        numbered.map(|(i, draft)| finish(&plan.job.facts, paper, status, draft, i + 1, count)).collect();
    Ok(SheetSet {
        reader,
        title: format!("{}: {}", plan.job.facts.title, sets::title(reader)),
        author: plan.job.facts.installer.clone(),
        date: plan.job.facts.date.clone(),
        sheets: sheets.into_iter().collect::<Result<_, _>>()?,
    })
}

/// The plan as a reader is to see it: of a record set, as built.
fn shown(plan: &Plan, reader: Reader) -> Cow<'_, Plan> {
    match reader {
        Reader::Record => Cow::Owned(record::recorded(plan)),
        _ => Cow::Borrowed(plan),
    }
}

/// All sheets of a set, cover and all, before they are numbered.
fn drafts(plan: &Plan, paper: Paper, reader: Reader) -> Result<Vec<Draft>, ComposeFault> {
    drafts_as_shown(&shown(plan, reader), paper, reader)
}

fn drafts_as_shown(plan: &Plan, paper: Paper, reader: Reader) -> Result<Vec<Draft>, ComposeFault> {
    let mut all = lists::cover::before(plan, paper, reader, sets::drafts(plan, paper, reader)?)?;
    let keys: BTreeMap<String, String> = all
        .iter()
        .flat_map(|draft| draft.also.iter().map(|also| (also.clone(), draft.key.clone())))
        .collect();
    if !keys.is_empty() {
        for draft in &mut all {
            mark::relink(Arc::<Vec<Mark>>::make_mut(&mut draft.marks), &keys);
        }
    }
    Ok(all)
}

/// Gives a draft its frame, title block and number.
fn finish(
    facts: &Facts,
    paper: Paper,
    status: &str,
    draft: Draft,
    number: usize,
    count: usize,
) -> Result<Sheet, ComposeFault> {
    let Draft { key, title, part, under, description, kind, scale, also: _, marks } = draft;
    let title = part.of(&title);
    let block = frame::TitleBlock { status, title: &title, kind, scale: &scale, number, count };
    let frame = frame::marks(paper, facts, &block)?;
    let frame = Group {
        layer: Layer::Sheet,
        id: "frame".to_owned(),
        title: "Frame and title block".to_owned(),
        marks: frame,
    };
    let (width, height) = paper::size(paper);
    let marks = [Mark::Group(frame)].into_iter().chain(Arc::unwrap_or_clone(marks)).collect();
    Ok(Sheet { key, title, under, description, width, height, marks })
}
