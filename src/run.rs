//! One run: read, check, plan, draw, write, tell.

use std::io::{self, IsTerminal};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clothwright::binder::{Binder, BinderFault, Format, Staging, Wish, WriteFault};
use clothwright::diag::{Diag, Diags};
use clothwright::job::Places;
use clothwright::job::model::Job;
use clothwright::plan::model::Plan;
use clothwright::sheet::ComposeFault;
use clothwright::sheet::model::Reader;
use clothwright::source::Sources;
use clothwright::{job, parse, plan};

use crate::cli::{Config, Report};
use crate::console::{DONE, PROBLEMS, STOPPED, problems, rendered, tell, unusable};
use crate::progress::Progress;
use crate::shelf::Shelves;
use crate::signals::Signals;
use crate::{compare, edit, jobfile, summary, survey};

/// Does what the command line asks and says how it went.
pub fn run(config: &Config) -> ExitCode {
    let code = match config {
        Config::Draw { file, out, wish, date, shared, report } => {
            draw(file, out, wish, date.as_deref(), shared, *report)
        }
        Config::Check { files, shared, report } => check(files, shared, *report),
        Config::Compare { old, new, out, wish, date, json, shared, report } => {
            let issues = compare::Issues { old, new, date: date.as_deref(), shared };
            compare::tell_change(&issues, out.as_deref(), wish, *json, *report)
        }
        Config::Survey { form, out, paper, shared, report } => {
            survey::write(form, out, *paper, shared, *report)
        }
        Config::New { file } => edit::new(file),
        Config::Tidy { files, only_check, report } => edit::tidy(files, *only_check, *report),
    };
    ExitCode::from(code)
}

fn draw(file: &Path, out: &Path, wish: &Wish, date: Option<&str>, shared: &[PathBuf], style: Report) -> u8 {
    let bytes = match jobfile::read(file) {
        Ok(bytes) => bytes,
        Err(fault) => return unusable(&fault),
    };
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let made = make(&mut sources, (file, &bytes), shared, (wish, Some(out)), date, &mut diags);
    problems(&diags.sorted(), &sources, style);
    match made {
        Made::Whole(plan, staged) => staged.commit(|binder| summary::tell(&plan, binder, out)),
        Made::Problems => PROBLEMS,
        Made::Fault(fault) => failed(&fault),
    }
}

fn check(files: &[PathBuf], shared: &[PathBuf], style: Report) -> u8 {
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let mut code = DONE;
    let everything = Wish { readers: Reader::ALL.to_vec(), formats: Format::ALL.to_vec(), paper: None };
    for file in files {
        match jobfile::read(file) {
            Ok(bytes) => {
                let job = (file.as_path(), bytes.as_slice());
                let made = make(&mut sources, job, shared, (&everything, None), None, &mut diags);
                if let Made::Fault(fault) = made {
                    code = failed(&fault);
                }
            }
            Err(fault) => code = unusable(&fault),
        }
    }
    if code == DONE && diags.has_errors() {
        code = PROBLEMS;
    }
    let problems = diags.sorted();
    let mut told = rendered(&problems, &sources, style, io::stdout().is_terminal());
    if style == Report::Human && code == DONE && problems.is_empty() {
        told = "No problems found.\n".into();
    }
    tell(&mut io::stdout(), &told);
    code
}

/// What became of a job.
pub enum Made {
    /// All of it; the files stand beside their places.
    Whole(Box<Plan>, Staged),
    /// The problems are among the diagnostics.
    Problems,
    /// A fault of this program, or of the folder.
    Fault(BinderFault),
}

/// The files of a binder, made and not yet in their places.
pub struct Staged {
    binder: Binder,
    /// Where they are; nowhere when only problems were looked for.
    desk: Option<Desk>,
}

/// Where files wait, while signals wait too.
struct Desk {
    staging: Staging,
    signals: Signals,
}

/// Says why there is no binder; the exit code.
pub fn failed(fault: &BinderFault) -> u8 {
    let code = unusable(fault);
    if matches!(fault, BinderFault::Write(WriteFault::Stopped(_))) { STOPPED } else { code }
}

/// The five stages of a job file and its bytes.
fn make(
    sources: &mut Sources,
    (file, bytes): (&Path, &[u8]),
    shared: &[PathBuf],
    (wish, out): (&Wish, Option<&Path>),
    date: Option<&str>,
    diags: &mut Diags,
) -> Made {
    let Some((job, places)) = checked(sources, (file, bytes), shared, date, diags) else {
        return Made::Problems;
    };
    // Ends before anything else is told.
    let progress = Progress::begin();
    progress.planning();
    let Some(plan) = planned(job, &places, diags) else { return Made::Problems };
    bound(plan, (wish, out), &places, diags, &progress)
}

/// The job of a job file, read and judged.
pub fn checked(
    sources: &mut Sources,
    (file, bytes): (&Path, &[u8]),
    shared: &[PathBuf],
    date: Option<&str>,
    diags: &mut Diags,
) -> Option<(Job, Places)> {
    let id = parse::text(&jobfile::shown(file), bytes, sources, diags)?;
    let shelf = Shelves::of(file, shared);
    let parsed = parse::with_shared(sources, id, &shelf, diags)?;
    let (mut job, places) = job::check(&parsed, diags)?;
    if let Some(date) = date {
        job.facts.date = date.to_owned();
    }
    Some((job, places))
}

/// The plan of a job, with the starts that its patterns could have and its openings treated the other way.
pub fn planned(job: Job, places: &Places, diags: &mut Diags) -> Option<Plan> {
    match plan::make(job) {
        Ok(mut plan) => {
            let faults = plan::record::faults(&plan, places);
            if !faults.is_empty() {
                faults.into_iter().for_each(|fault| diags.push(fault));
                return None;
            }
            plan::options::offer(&mut plan);
            plan::pieced::compare(&mut plan);
            Some(plan)
        }
        Err(fault) => {
            diags.push(fault.diag(places));
            None
        }
    }
}

/// The binder of a plan, written beside its place in a folder; without one, only its problems are wanted.
pub fn bound(
    plan: Plan,
    (wish, out): (&Wish, Option<&Path>),
    places: &Places,
    diags: &mut Diags,
    progress: &Progress,
) -> Made {
    let lacking = match wish.readers_of(&plan).as_slice() {
        [Reader::Costs] if plan.costs.is_none() => Some((
            "no-prices",
            "the job gives no prices to reckon costs from",
            "add prices \"USD\" { } with a price in it, or ask for another set",
        )),
        [Reader::Record] if plan.job.as_built.is_none() => Some((
            "no-record",
            "the job notes nothing of what was really done",
            "add as-built { } with what was done otherwise in it, or ask for another set",
        )),
        _ => None,
    };
    if let Some((code, message, help)) = lacking {
        diags.push(Diag::error(code, places.job(), message).help(help));
        return Made::Problems;
    }
    progress.drawing();
    match Staged::make(&plan, wish, out, progress) {
        Ok(staged) => Made::Whole(Box::new(plan), staged),
        Err(BinderFault::Compose(fault)) => {
            diags.push(unset(fault, places));
            Made::Problems
        }
        Err(fault) => Made::Fault(fault),
    }
}

/// A sheet that cannot be set, told of the job.
pub fn unset(fault: ComposeFault, places: &Places) -> Diag {
    Diag::error(fault.code, places.job(), fault.message).help(fault.help)
}

impl Staged {
    fn make(
        plan: &Plan,
        wish: &Wish,
        out: Option<&Path>,
        progress: &Progress,
    ) -> Result<Staged, BinderFault> {
        let Some(out) = out else {
            return Ok(Staged { binder: Binder::make(plan, wish, &|_, _| Ok(()))?, desk: None });
        };
        // From here on a signal would leave files behind.
        let signals = Signals::listen().map_err(|error| WriteFault::Io { path: out.to_owned(), error })?;
        let made =
            Staging::open(out, Arc::clone(&signals.stop)).map_err(BinderFault::from).and_then(|staging| {
                let put = |path: &str, bytes: &[u8]| staging.put(path, bytes).inspect(|()| progress.file());
                let binder = Binder::make(plan, wish, &put)?;
                Ok((binder, staging))
            });
        match made {
            Ok((binder, staging)) => Ok(Staged { binder, desk: Some(Desk { staging, signals }) }),
            Err(fault) => {
                signals.obey();
                Err(fault)
            }
        }
    }

    /// Puts the files in their places, unless a signal came first, and tells `told` when it is done.
    pub fn commit(self, told: impl FnOnce(&Binder) -> String) -> u8 {
        let Staged { binder, desk } = self;
        if let Some(Desk { staging, signals }) = desk {
            let written = staging.commit(&binder);
            signals.obey();
            if let Err(fault) = written {
                return failed(&fault.into());
            }
        }
        tell(&mut io::stdout(), &told(&binder));
        DONE
    }
}
