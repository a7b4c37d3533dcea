//! Which sheets each reader gets, in order: the crew no prices, the designer no staples, the
//! workroom no list for the site.

use rayon::prelude::*;

use super::document::{Document, together};
use super::lists::{
    approval, bring, cautions, checklist, costs, cut_list, order, received, record, schedules, sign_off,
    survey,
};
use super::model::Reader;
use super::{
    ComposeFault, Draft, bolt_map, change, corner_detail, elevation, key_plan, labels, options, sewing,
};
use crate::job::model::{OnHand, Paper};
use crate::plan::model::Plan;

/// The sheets of a reader after the cover, in order.
///
/// # Errors
/// A [`ComposeFault`] when a sheet cannot be set.
pub fn drafts(plan: &Plan, paper: Paper, reader: Reader) -> Result<Vec<Draft>, ComposeFault> {
    let parts = match reader {
        Reader::Crew => {
            let (elevations, notes) = elevation::drafts(plan, paper, reader)?;
            side_by_side(&[
                &|| key_plan::drafts(plan, paper),
                &|| survey_again(plan, paper),
                &|| together(&[cautions::document(plan), bring::document(plan)], paper),
                &|| Ok(elevations.clone()),
                &|| elevation::batting::drafts(plan, paper),
                &|| corner_detail::drafts(plan, paper),
                &|| crew_schedules(plan, notes.clone(), paper),
                &|| checklist::document(plan).drafts(paper),
                &|| sign_off::document(plan).drafts(paper),
            ])?
        }
        Reader::Workroom => {
            let (elevations, notes) = elevation::drafts(plan, paper, reader)?;
            side_by_side(&[
                &|| together(&workroom_lists(plan), paper),
                &|| bolt_map::drafts(plan, paper),
                &|| {
                    together(&[cut_list::document(plan), schedules::trim(plan, reader), notes.clone()], paper)
                },
                &|| sewing::document(plan, paper)?.drafts(paper),
                &|| key_plan::drafts(plan, paper),
                &|| Ok(elevations.clone()),
                &|| labels::drafts(plan, paper),
            ])?
        }
        Reader::Approval => {
            let (elevations, notes) = elevation::drafts(plan, paper, reader)?;
            let materials = approval::materials_document(plan);
            side_by_side(&[
                &|| key_plan::drafts(plan, paper),
                &|| options::drafts(plan, paper),
                &|| Ok(elevations.clone()),
                &|| elevation::meeting::drafts(plan, paper),
                &|| answered(plan, paper, &[notes.clone(), materials.clone()]),
            ])?
        }
        Reader::Record => {
            let (elevations, notes) = elevation::drafts(plan, paper, reader)?;
            let trim = schedules::trim(plan, reader);
            let lists = [cut_list::document(plan), trim, schedules::batting(plan), notes];
            side_by_side(&[
                &|| record::document(plan).drafts(paper),
                &|| key_plan::drafts(plan, paper),
                &|| Ok(elevations.clone()),
                &|| corner_detail::drafts(plan, paper),
                &|| bolt_map::drafts(plan, paper),
                &|| together(&lists, paper),
            ])?
        }
        Reader::Costs => {
            costs::document(plan).map(|costs| costs.drafts(paper)).transpose()?.unwrap_or_default()
        }
    };
    let changes = change::sheet::drafts(plan, paper, reader)?;
    Ok(changes.into_iter().chain(parts).collect())
}

/// A part of a set.
type Part<'a> = &'a (dyn Fn() -> Result<Vec<Draft>, ComposeFault> + Sync);

/// The sheets of parts, in their order, made at the same time.
fn side_by_side(parts: &[Part]) -> Result<Vec<Draft>, ComposeFault> {
    let made: Vec<Result<Vec<Draft>, ComposeFault>> = parts.par_iter().map(|part| part()).collect();
    let mut all = Vec::new();
    for part in made {
        all.extend(part?);
    }
    Ok(all)
}

/// Lines for notes beside an answer, and how many will do where that saves a sheet.
const NOTE_LINES: [usize; 2] = [5, 3];

/// Documents to approve, and the answer.
fn answered(plan: &Plan, paper: Paper, documents: &[Document]) -> Result<Vec<Draft>, ComposeFault> {
    let with = |lines| together(&[documents, &[approval::answer_document(plan, lines)]].concat(), paper);
    let [full, brief] = NOTE_LINES;
    let (full, brief) = (with(full)?, with(brief)?);
    Ok(if brief.len() < full.len() { brief } else { full })
}

/// What the workroom reads before it cuts.
fn workroom_lists(plan: &Plan) -> [Document; 4] {
    [order::document(plan), schedules::batting(plan), survey::document(plan), received::document(plan)]
}

/// The survey check for those who can measure again: only where something is to be.
fn survey_again(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    if survey::doubtful(plan) { survey::document(plan).drafts(paper) } else { Ok(Vec::new()) }
}

fn crew_schedules(plan: &Plan, notes: Document, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut documents = vec![
        notes,
        schedules::corners(plan),
        schedules::trim(plan, Reader::Crew),
        schedules::staples(plan),
        schedules::batting(plan),
    ];
    documents.extend(schedules::battens(plan));
    together(&documents, paper)
}

/// Whether a plan has anything for a reader: costs are only for a job that gives prices, a record for one
/// that notes what was really done.
pub fn has_any(plan: &Plan, reader: Reader) -> bool {
    match reader {
        Reader::Costs => plan.costs.is_some(),
        Reader::Record => plan.job.as_built.is_some(),
        Reader::Crew | Reader::Workroom | Reader::Approval => true,
    }
}

/// The title of a reader's set.
pub const fn title(reader: Reader) -> &'static str {
    match reader {
        Reader::Crew => "Crew binder",
        Reader::Workroom => "Workroom file",
        Reader::Approval => "Approval set",
        Reader::Costs => "Costs",
        Reader::Record => "Record set",
    }
}

/// The heading of a sheet to cut by: what cutting must wait for stands over the sheet, not in the title block alone.
pub fn to_cut_by(plan: &Plan, heading: &str) -> String {
    match hold(plan) {
        Some(hold) => format!("{heading}. HOLD: {}", hold.words()),
        None => heading.to_owned(),
    }
}

/// What the work must wait for before the next piece is cut.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// The survey does not agree with itself.
    Measure,
    /// There is something to claim from the mill.
    Mill,
}

impl Hold {
    /// What is to be done first.
    const fn words(self) -> &'static str {
        match self {
            Hold::Measure => "measure again",
            Hold::Mill => "ask the mill",
        }
    }
}

/// What the work on a plan must wait for, the most pressing first.
pub fn hold(plan: &Plan) -> Option<Hold> {
    let claimed = |bolt: &OnHand| !bolt.claims.is_empty();
    if survey::doubtful(plan) {
        Some(Hold::Measure)
    } else {
        let mill = plan.job.cloths.iter().any(|cloth| cloth.on_hand.iter().any(claimed));
        mill.then_some(Hold::Mill)
    }
}

/// What a reader's set is for, as the title block says it; or what it must wait for.
pub fn status(plan: &Plan, reader: Reader) -> &'static str {
    let at_work = matches!(reader, Reader::Crew | Reader::Workroom);
    match hold(plan).filter(|_| at_work) {
        Some(Hold::Measure) => return "Hold: measure again",
        Some(Hold::Mill) => return "Hold: ask the mill",
        None => {}
    }
    match reader {
        Reader::Crew => "For installation",
        Reader::Workroom => "For cutting",
        Reader::Approval => "For approval",
        Reader::Costs => "Contractor only",
        Reader::Record => "As built",
    }
}
