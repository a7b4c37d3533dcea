//! One run: read, check, plan, draw, write, tell.

use std::fmt::Display;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use clothwright::binder::{Binder, BinderFault, Format, Wish, WriteFault};
use clothwright::diag::{Diag, Diags};
use clothwright::plan::model::Plan;
use clothwright::sheet::model::Reader;
use clothwright::source::{FileId, Sources};
use clothwright::{job, parse, plan, report};

use crate::cli::{Config, Report};
use crate::shelf::Folder;
use crate::{jobfile, summary};

/// Done, as asked.
const DONE: u8 = 0;
/// The job has problems; nothing was written.
const PROBLEMS: u8 = 1;
/// Wrong usage, or a file that cannot be read or written.
const UNUSABLE: u8 = 2;
/// Stopped by a signal, by the custom of shells for SIGINT.
const STOPPED: u8 = 130;

/// Does what the command line asks and says how it went.
pub fn run(config: &Config) -> ExitCode {
    let code = match config {
        Config::Draw { file, out, wish, date, report } => draw(file, out, wish, date.as_deref(), *report),
        Config::Check { files, report } => check(files, *report),
    };
    ExitCode::from(code)
}

fn draw(file: &PathBuf, out: &Path, wish: &Wish, date: Option<&str>, style: Report) -> u8 {
    let text = match jobfile::read(file) {
        Ok(text) => text,
        Err(fault) => return unusable(&fault),
    };
    let mut sources = Sources::default();
    let id = sources.add(jobfile::shown(file), text);
    let mut diags = Diags::default();
    let made = make(&mut sources, id, &Folder::of(file), wish, date, &mut diags);
    let problems = diags.sorted();
    if !problems.is_empty() {
        tell(&mut io::stderr(), &rendered(&problems, &sources, style, io::stderr().is_terminal()));
    }
    let (plan, binder) = match made {
        Made::Whole(plan, binder) => (plan, binder),
        Made::Problems => return PROBLEMS,
        Made::Fault(fault) => return unusable(&fault),
    };
    let signals = match Signals::listen() {
        Ok(signals) => signals,
        Err(error) => return unusable(&error),
    };
    let written = binder.write_to(out, &signals.stop);
    signals.obey();
    match written {
        Ok(()) => {
            tell(&mut io::stdout(), &summary::tell(&plan, &binder, out));
            DONE
        }
        Err(fault @ WriteFault::Stopped(_)) => {
            unusable(&fault);
            STOPPED
        }
        Err(fault) => unusable(&fault),
    }
}

fn check(files: &[PathBuf], style: Report) -> u8 {
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let mut code = DONE;
    let everything = Wish { readers: Reader::ALL.to_vec(), formats: Format::ALL.to_vec(), paper: None };
    for file in files {
        match jobfile::read(file) {
            Ok(text) => {
                let id = sources.add(jobfile::shown(file), text);
                let shelf = Folder::of(file);
                if let Made::Fault(fault) = make(&mut sources, id, &shelf, &everything, None, &mut diags) {
                    code = unusable(&fault);
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
enum Made {
    Whole(Box<Plan>, Binder),
    /// The problems are among the diagnostics.
    Problems,
    /// A fault of this program.
    Fault(BinderFault),
}

/// The five stages, in memory.
fn make(
    sources: &mut Sources,
    id: FileId,
    shelf: &Folder,
    wish: &Wish,
    date: Option<&str>,
    diags: &mut Diags,
) -> Made {
    let Some(parsed) = parse::with_shared(sources, id, shelf, diags) else { return Made::Problems };
    let Some((mut job, places)) = job::check(&parsed, diags) else { return Made::Problems };
    if let Some(date) = date {
        job.facts.date = date.to_owned();
    }
    let plan = match plan::make(job) {
        Ok(plan) => plan,
        Err(fault) => {
            let span = fault.wall.map_or(places.job(), |wall| places.wall(wall.room, wall.wall));
            diags.push(Diag::error(fault.code, span, fault.message).help(fault.help));
            return Made::Problems;
        }
    };
    match Binder::make(&plan, wish) {
        Ok(binder) => Made::Whole(Box::new(plan), binder),
        Err(BinderFault::Compose(fault)) => {
            diags.push(Diag::error(fault.code, places.job(), fault.message).help(fault.help));
            Made::Problems
        }
        Err(fault) => Made::Fault(fault),
    }
}

/// The problems in the wished style; for a person, with colours where the stream is a terminal.
fn rendered(problems: &[Diag], sources: &Sources, style: Report, terminal: bool) -> String {
    match style {
        Report::Human => {
            let width = if terminal { textwrap::termwidth().min(110) } else { 100 };
            let colour = terminal && std::env::var_os("NO_COLOR").is_none();
            report::human(sources, problems, report::Look { width, colour })
        }
        Report::Short => report::short(sources, problems),
        Report::Json => report::json(sources, problems),
    }
}

/// Tells why nothing could be done, on standard error.
fn unusable(fault: &dyn Display) -> u8 {
    tell(&mut io::stderr(), &format!("clothwright: {fault}\n"));
    UNUSABLE
}

/// Writes to a stream; when nobody reads it any more, that is no concern of the binder's.
fn tell(stream: &mut dyn Write, text: &str) {
    let _ = stream.write_all(text.as_bytes()).and_then(|()| stream.flush());
}

/// Signals that end a program, heard instead of obeyed while a binder is written.
struct Signals {
    /// Whether one came.
    stop: Arc<AtomicBool>,
    /// Whether they are obeyed again.
    obeyed: Arc<AtomicBool>,
}

impl Signals {
    fn listen() -> io::Result<Signals> {
        use signal_hook::{consts, flag};
        let signals = Signals { stop: Arc::default(), obeyed: Arc::default() };
        for signal in [consts::SIGINT, consts::SIGTERM, consts::SIGHUP] {
            flag::register_conditional_default(signal, Arc::clone(&signals.obeyed))?;
            flag::register(signal, Arc::clone(&signals.stop))?;
        }
        Ok(signals)
    }

    fn obey(&self) {
        self.obeyed.store(true, Ordering::Relaxed);
    }
}
