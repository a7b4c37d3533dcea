//! The command that writes a form to survey with.

use std::io;
use std::path::{Path, PathBuf};

use clothwright::diag::Diags;
use clothwright::export::pdf;
use clothwright::job::form::{self, Form};
use clothwright::job::model::Paper;
use clothwright::parse;
use clothwright::sheet::survey_form;
use clothwright::source::Sources;

use crate::cli::{Report, SurveyOf};
use crate::console::{DONE, PROBLEMS, problems, tell, unusable};
use crate::jobfile;
use crate::shelf::Shelves;
use crate::signals::Signals;

/// Writes a form, blank or with what a job file says. What the file lacks is no problem here: it is
/// marked on the form. What cannot be read in it is told, and left blank.
pub fn write(of: &SurveyOf, out: &Path, paper: Option<Paper>, shared: &[PathBuf], style: Report) -> u8 {
    let form = match of {
        SurveyOf::Walls(walls) => form::blank(*walls),
        SurveyOf::File(file) => match read(file, shared, style) {
            Ok(form) => form,
            Err(code) => return code,
        },
    };
    let paper = paper.or(form.paper).unwrap_or(Paper::Letter);
    let set = match survey_form::compose(&form, paper) {
        Ok(set) => set,
        Err(fault) => return unusable(&format!("{}; {}", fault.message, fault.help)),
    };
    let bytes = match pdf::write(&set) {
        Ok(bytes) => bytes,
        Err(fault) => return unusable(&fault),
    };
    let signals = match Signals::listen() {
        Ok(signals) => signals,
        Err(error) => return unusable(&error),
    };
    let written = jobfile::put(out, &bytes);
    signals.obey();
    match written {
        Ok(()) => {
            let sheets = if set.sheets.len() == 1 { "sheet" } else { "sheets" };
            tell(&mut io::stdout(), &format!("Written {} ({} {sheets})\n", out.display(), set.sheets.len()));
            DONE
        }
        Err(fault) => unusable(&fault),
    }
}

/// The form of a job file; the exit code when the file cannot be read at all.
fn read(file: &Path, shared: &[PathBuf], style: Report) -> Result<Form, u8> {
    let bytes = jobfile::read(file).map_err(|fault| unusable(&fault))?;
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let id = parse::text(&jobfile::shown(file), &bytes, &mut sources, &mut diags);
    let parsed =
        id.and_then(|id| parse::with_shared(&mut sources, id, &Shelves::of(file, shared), &mut diags));
    let mut told = diags.sorted();
    if parsed.is_some() {
        told.retain(|diag| !diag.code.starts_with("missing-"));
    }
    problems(&told, &sources, style);
    parsed.map(|parsed| form::of(&parsed)).ok_or(PROBLEMS)
}
