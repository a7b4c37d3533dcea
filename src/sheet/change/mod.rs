//! What a change does to paper: which sheets change, and the sheet that tells it.

pub mod sheet;

use super::model::Reader;
use super::{ComposeFault, Draft, Part, drafts, elevation, sets, words};
use crate::job::model::Paper;
use crate::plan::model::{Change, Pair, Plan, SheetChange};

/// The sheets of some readers that change from one plan to the other, on the jobs' own papers or on `paper`.
/// A sheet of several parts counts as one; frame and title block, which tell of every issue, do not count.
///
/// # Errors
/// A [`ComposeFault`] when a sheet of either plan cannot be set.
pub fn sheets(
    plans: Pair<&Plan>,
    change: &Change,
    paper: Option<Paper>,
    readers: &[Reader],
) -> Result<Vec<SheetChange>, ComposeFault> {
    let mut told = Vec::new();
    for &reader in readers {
        let was = documents(plans.was, paper, reader, &|key| renamed(plans, change, key))?;
        let mut left = documents(plans.now, paper, reader, &|key| key.to_owned())?;
        let mut gone = Vec::new();
        let mut of = |title, key| told.push(SheetChange { set: reader.set(), title, key });
        for was in was {
            match left.iter().position(|now| now.key == was.key) {
                Some(at) => {
                    let now = left.remove(at);
                    if now.sheets != was.sheets {
                        of(Pair::new(was.title, now.title), now.key);
                    }
                }
                None => gone.push(was),
            }
        }
        left.into_iter().for_each(|now| of(Pair::new(String::new(), now.title), now.key));
        gone.into_iter().for_each(|was| of(Pair::new(was.title, String::new()), String::new()));
    }
    Ok(told)
}

/// Sheets of one title, which follow one another.
struct Doc {
    key: String,
    title: String,
    sheets: Vec<Draft>,
}

fn documents(
    plan: &Plan,
    paper: Option<Paper>,
    reader: Reader,
    key: &dyn Fn(&str) -> String,
) -> Result<Vec<Doc>, ComposeFault> {
    if !sets::has_any(plan, reader) {
        return Ok(Vec::new());
    }
    let mut all: Vec<Doc> = Vec::new();
    for draft in drafts(plan, paper.unwrap_or(plan.job.print.paper), reader)? {
        let own = key(&draft.key);
        match all.last_mut() {
            Some(last) if draft.part.number > 1 => last.sheets.push(Draft { key: own, ..draft }),
            _ => {
                let title = match draft.under.as_str() {
                    under if !under.is_empty() && plan.job.rooms.len() > 1 => {
                        format!("{}: {}", words::capital(under), draft.title)
                    }
                    _ => draft.title.clone(),
                };
                all.push(Doc { key: own.clone(), title, sheets: vec![Draft { key: own, ..draft }] });
            }
        }
    }
    // How many parts a document has is seen by its sheets, so the numbers of parts need not differ too.
    all.iter_mut().flat_map(|doc| &mut doc.sheets).for_each(|sheet| sheet.part = Part::WHOLE);
    Ok(all)
}

/// The key that a sheet of the old plan has in the new one: elevations follow their walls.
fn renamed(plans: Pair<&Plan>, change: &Change, key: &str) -> String {
    for wall in &change.walls {
        let (was, now) = (elevation::key(plans.was, wall.was), elevation::key(plans.now, wall.now));
        if key == was {
            return now;
        }
        if let Some(rest) = key.strip_prefix(&format!("{was}-from-")) {
            return format!("{now}-from-{rest}");
        }
    }
    key.to_owned()
}
