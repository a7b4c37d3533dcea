//! What a run says and how it ends: streams, exit codes, and the look of a report.

use std::fmt::Display;
use std::io::{self, IsTerminal, Write};

use clothwright::diag::Diag;
use clothwright::report;
use clothwright::source::Sources;

use crate::cli::Report;

/// Done, as asked.
pub const DONE: u8 = 0;
/// The job has problems; nothing was written.
pub const PROBLEMS: u8 = 1;
/// Wrong usage, or a file that cannot be read or written.
pub const UNUSABLE: u8 = 2;
/// Stopped by a signal, by the custom of shells for SIGINT.
pub const STOPPED: u8 = 130;

/// The problems in the wished style; for a person, with colours where the stream is a terminal.
pub fn rendered(problems: &[Diag], sources: &Sources, style: Report, terminal: bool) -> String {
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

/// Tells problems, if there are any, on standard error.
pub fn problems(problems: &[Diag], sources: &Sources, style: Report) {
    if !problems.is_empty() {
        let told = rendered(problems, sources, style, io::stderr().is_terminal());
        tell(&mut io::stderr(), &told);
    }
}

/// Tells why nothing could be done, on standard error.
pub fn unusable(fault: &dyn Display) -> u8 {
    tell(&mut io::stderr(), &format!("clothwright: {fault}\n"));
    UNUSABLE
}

/// Writes to a stream; when nobody reads it any more, that is no concern of the run's.
pub fn tell(stream: &mut dyn Write, text: &str) {
    let _ = stream.write_all(text.as_bytes()).and_then(|()| stream.flush());
}

/// Where standard output is a terminal, its width, within reason; otherwise lines are left whole.
pub fn width() -> Option<usize> {
    io::stdout().is_terminal().then(|| textwrap::termwidth().clamp(40, 110))
}
