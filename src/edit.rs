//! The two commands that write job files: a new one, and the spacing of one that is there.

use std::io;
use std::path::{Path, PathBuf};

use clothwright::diag::Diags;
use clothwright::parse;
use clothwright::source::Sources;

use crate::cli::Report;
use crate::console::{DONE, PROBLEMS, problems, tell, unusable};
use crate::jobfile::{self, FileFault, is_standard_stream, shown};
use crate::signals::Signals;

/// Writes the starter job to a file that is not there yet; `-` is standard output.
pub fn new(file: &Path) -> u8 {
    if is_standard_stream(file) {
        tell(&mut io::stdout(), parse::STARTER);
        return DONE;
    }
    let done = format!("Written {0}; try: clothwright check {0}\n", shown(file));
    written(|| jobfile::create(file, parse::STARTER), &done)
}

/// Rewrites the spacing of files, each by itself; with `only_check`, only tells which would change.
pub fn tidy(files: &[PathBuf], only_check: bool, style: Report) -> u8 {
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let mut code = DONE;
    for file in files {
        code = code.max(one(file, only_check, &mut sources, &mut diags));
    }
    problems(&diags.sorted(), &sources, style);
    code
}

fn one(file: &Path, only_check: bool, sources: &mut Sources, diags: &mut Diags) -> u8 {
    let name = shown(file);
    let bytes = match jobfile::read(file) {
        Ok(bytes) => bytes,
        Err(fault) => return unusable(&fault),
    };
    let Some(id) = parse::text(&name, &bytes, sources, diags) else { return PROBLEMS };
    let text = sources.get(id).map(|source| source.text.clone()).unwrap_or_default();
    let mut own = Diags::default();
    let tidied = parse::tidy(&text, id, &mut own);
    let slips = own.has_errors();
    diags.extend(own);
    let Some(tidied) = tidied else {
        let why = "it cannot be tidied without a change of meaning, and was left as it is";
        return if slips { PROBLEMS } else { unusable(&format!("{name}: {why}")) };
    };
    let tidy = tidied.as_bytes() == bytes;
    if only_check {
        if !tidy {
            tell(&mut io::stdout(), &format!("{name} is not tidy\n"));
        }
        return if tidy { DONE } else { PROBLEMS };
    }
    if is_standard_stream(file) {
        tell(&mut io::stdout(), &tidied);
        return DONE;
    }
    if tidy {
        return DONE;
    }
    written(|| jobfile::replace(file, &tidied), &format!("Tidied {name}\n"))
}

/// Does what a signal must not leave half done, and tells how it went.
fn written(write: impl FnOnce() -> Result<(), FileFault>, done: &str) -> u8 {
    let signals = match Signals::listen() {
        Ok(signals) => signals,
        Err(error) => return unusable(&error),
    };
    let outcome = write();
    signals.obey();
    match outcome {
        Ok(()) => {
            tell(&mut io::stdout(), done);
            DONE
        }
        Err(fault) => unusable(&fault),
    }
}
