//! The command that tells what changed from one issue of a job to another.

use std::path::{Path, PathBuf};

use clothwright::binder::Wish;
use clothwright::diag::{Diag, Diags};
use clothwright::export::{json, text};
use clothwright::job::Places;
use clothwright::job::model::Job;
use clothwright::plan::compare::{compare, in_order_of, mark};
use clothwright::plan::model::Pair;
use clothwright::sheet::change;
use clothwright::source::Sources;

use crate::cli::Report;
use crate::console::{PROBLEMS, problems, unusable};
use crate::progress::Progress;
use crate::run::{Made, bound, checked, failed, planned, unset};
use crate::{console, jobfile, summary};

/// Two job files of one job.
pub struct Issues<'a> {
    /// The old issue.
    pub old: &'a Path,
    /// The new issue.
    pub new: &'a Path,
    /// Another date of issue than the new job's.
    pub date: Option<&'a str>,
    /// Folders that shared files may come from, besides the jobs' own.
    pub shared: &'a [PathBuf],
}

/// Compares two issues and tells the change; with a folder, writes the new issue's binder too.
pub fn tell_change(issues: &Issues, out: Option<&Path>, wish: &Wish, as_json: bool, style: Report) -> u8 {
    if [issues.old, issues.new].into_iter().all(jobfile::is_standard_stream) {
        return unusable(&"only one of the two files can be standard input");
    }
    let bytes = Pair::new(issues.old, issues.new).map(jobfile::read);
    let (was, now) = match (bytes.was, bytes.now) {
        (Ok(was), Ok(now)) => (was, now),
        (Err(fault), _) | (_, Err(fault)) => return unusable(&fault),
    };
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let made = make(&mut sources, issues, Pair::new(&was, &now), (wish, out), &mut diags);
    problems(&diags.sorted(), &sources, style);
    let (plan, staged) = match made {
        Made::Whole(plan, staged) => (plan, staged),
        Made::Problems => return PROBLEMS,
        Made::Fault(fault) => return failed(&fault),
    };
    let Some(change) = &plan.change else { return PROBLEMS };
    let report = if as_json {
        json::change(change, &plan.job)
    } else {
        text::change(change, &plan.job, console::width())
    };
    staged.commit(|binder| match out {
        Some(out) if !as_json => format!("{report}\nWritten {}\n", summary::written(binder, out)),
        _ => report,
    })
}

/// The new issue's plan with the change, and its binder, which is empty when none is wanted.
fn make(
    sources: &mut Sources,
    issues: &Issues,
    bytes: Pair<&[u8]>,
    (wish, out): (&Wish, Option<&Path>),
    diags: &mut Diags,
) -> Made {
    let was = checked(sources, (issues.old, bytes.was), issues.shared, None, diags);
    let now = checked(sources, (issues.new, bytes.now), issues.shared, issues.date, diags);
    let (Some((was, was_places)), Some((now, places))) = (was, now) else { return Made::Problems };
    if let Err(diag) = one_job(Pair::new(&was, &now), Pair::new(&was_places, &places)) {
        diags.push(diag);
        return Made::Problems;
    }
    let was = in_order_of(&now, was);
    let progress = Progress::begin();
    progress.planning();
    let (was, now) = (planned(was, &was_places, diags), planned(now, &places, diags));
    let (Some(was), Some(mut now)) = (was, now) else { return Made::Problems };
    let mut change = compare(Pair::new(&was, &now));
    match change::sheets(Pair::new(&was, &now), &change, wish.paper, &wish.readers_of(&now)) {
        Ok(sheets) => change.sheets = sheets,
        Err(fault) => {
            diags.push(unset(fault, &places));
            return Made::Problems;
        }
    }
    mark(&mut now, change);
    let formats = if out.is_some() { wish.formats.clone() } else { Vec::new() };
    bound(now, (&Wish { formats, ..wish.clone() }, out), &places, diags, &progress)
}

/// Refuses two jobs: only issues of one job can be compared.
fn one_job(jobs: Pair<&Job>, places: Pair<&Places>) -> Result<(), Diag> {
    let number = jobs.map(|job| job.facts.number.as_str());
    if number.same() {
        return Ok(());
    }
    let message = format!("two jobs cannot be compared: {} and {}", number.was, number.now);
    let diag = Diag::error("different-jobs", places.now.job(), message).label("the new file's");
    Err(diag.also(places.was.job(), "the old file's").help("give two issues of one job, with one number"))
}
