//! The binder: the files of one run, each handed on as soon as it is made, and put in their folder all or
//! nothing.

mod write;

use std::fmt;

use rayon::prelude::*;

use crate::export::{ExportFault, csv, json, pdf, svg};
use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::sheet::model::Reader;
use crate::sheet::sets::has_any;
use crate::sheet::{ComposeFault, compose};

pub use write::{Staging, WriteFault};

/// The files that a binder can hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Format {
    /// One PDF for each reader.
    Pdf,
    /// One SVG for each sheet, in a folder `svg`.
    Svg,
    /// The cut list, `cut-list.csv`.
    Csv,
    /// The plan, `plan.json`, and `change.json` where it was compared with another issue.
    Json,
}

impl Format {
    /// All formats, in the order that they are told.
    pub const ALL: [Format; 4] = [Format::Pdf, Format::Svg, Format::Csv, Format::Json];
}

/// What to put in a binder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wish {
    /// For whom, without doubles; empty for those that the job wishes for.
    pub readers: Vec<Reader>,
    /// Which files, without doubles.
    pub formats: Vec<Format>,
    /// Another paper than the job's.
    pub paper: Option<Paper>,
}

/// Takes the bytes of a file under its path in the binder; called from several threads at once.
pub type Put<'a> = &'a (dyn Fn(&str, &[u8]) -> Result<(), WriteFault> + Sync);

/// One file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BinderFile {
    /// Its path in the binder, with `/` between folders.
    pub path: String,
    /// How many sheets it holds; zero for a file that is not paper.
    pub sheets: usize,
}

/// What the files of one run are; their bytes are where they were put.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Binder {
    /// The files, in the order that they are told.
    pub files: Vec<BinderFile>,
    /// The readers whose SVG sheets are among them.
    svg_readers: Vec<Reader>,
    /// Files that this run was asked for and that its plan does not give, such as the costs of a job
    /// without prices: those of an earlier run would tell of another plan.
    none: Vec<String>,
}

/// Why no binder can be made of a plan.
#[derive(Debug)]
pub enum BinderFault {
    /// A sheet cannot be set, as a rule because the font lacks a character of the job.
    Compose(ComposeFault),
    /// A file cannot hold a sheet: a fault of this program.
    Export(ExportFault),
    /// A file was not taken.
    Write(WriteFault),
}

impl fmt::Display for BinderFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BinderFault::Compose(fault) => f.write_str(&fault.message),
            BinderFault::Export(fault) => write!(f, "{fault}"),
            BinderFault::Write(fault) => write!(f, "{fault}"),
        }
    }
}

impl std::error::Error for BinderFault {}

impl From<ComposeFault> for BinderFault {
    fn from(fault: ComposeFault) -> Self {
        BinderFault::Compose(fault)
    }
}

impl From<ExportFault> for BinderFault {
    fn from(fault: ExportFault) -> Self {
        BinderFault::Export(fault)
    }
}

impl From<WriteFault> for BinderFault {
    fn from(fault: WriteFault) -> Self {
        BinderFault::Write(fault)
    }
}

impl Wish {
    /// For whom this wish is, in a job: those named here, or else by the job, or else all.
    pub fn readers_of(&self, plan: &Plan) -> Vec<Reader> {
        let sets = &plan.job.facts.sets;
        match (self.readers.is_empty(), sets.is_empty()) {
            (false, _) => self.readers.clone(),
            (true, false) => sets.iter().copied().map(Reader::of).collect(),
            (true, true) => Reader::ALL.to_vec(),
        }
    }
}

impl Binder {
    /// Makes the files that are wished for and hands each to `put`, in no order.
    ///
    /// The readers' sets are made at the same time; what comes out does not depend on it.
    ///
    /// # Errors
    /// A [`BinderFault`] when a sheet or a file cannot be made, or is not taken.
    pub fn make(plan: &Plan, wish: &Wish, put: Put) -> Result<Binder, BinderFault> {
        let wants = |format: Format| wish.formats.contains(&format);
        let paper = wants(Format::Pdf) || wants(Format::Svg);
        let wished = wish.readers_of(plan);
        let (some, none): (Vec<Reader>, Vec<Reader>) =
            wished.iter().partition(|reader| has_any(plan, **reader));
        let readers: Vec<Reader> = some.iter().copied().filter(|_| paper).collect();
        let set = |reader: Reader| SetFiles::make(plan, wish, reader, put);
        let sets: Result<Vec<SetFiles>, BinderFault> = if plan.rooms.len() > AT_ONCE {
            readers.into_iter().map(set).collect()
        } else {
            readers.into_par_iter().map(set).collect()
        };
        let sets = sets?;
        let mut none: Vec<String> =
            if wants(Format::Pdf) { none.into_iter().map(pdf_name).collect() } else { Vec::new() };
        let (mut files, mut drawings) = (Vec::new(), Vec::new());
        for set in sets {
            files.extend(set.pdf);
            drawings.extend(set.svg);
        }
        files.append(&mut drawings);
        let mut other = |path: &str, bytes: &[u8]| {
            put(path, bytes)?;
            files.push(BinderFile { path: path.to_owned(), sheets: 0 });
            Ok::<(), WriteFault>(())
        };
        if wants(Format::Csv) {
            other("cut-list.csv", &csv::write(plan)?)?;
        }
        if wants(Format::Json) {
            other("plan.json", json::plan(plan).as_bytes())?;
            match &plan.change {
                Some(change) => other("change.json", json::change(change, &plan.job).as_bytes())?,
                None => none.push("change.json".into()),
            }
        }
        let svg_readers = if wants(Format::Svg) { wished } else { Vec::new() };
        Ok(Binder { files, svg_readers, none })
    }
}

/// Of a job with more rooms than this the sets are made one after the other, so that the sheets of only one
/// are in memory; those of a set are still written side by side.
const AT_ONCE: usize = 24;

/// The files of one reader's sheets.
struct SetFiles {
    pdf: Option<BinderFile>,
    svg: Vec<BinderFile>,
}

impl SetFiles {
    fn make(plan: &Plan, wish: &Wish, reader: Reader, put: Put) -> Result<SetFiles, BinderFault> {
        let sets = compose(plan, wish.paper, &[reader])?;
        let set = sets.first().ok_or_else(|| ExportFault::of(reader.word(), "the set was not composed"))?;
        let wants = |format: Format| wish.formats.contains(&format);
        let made = |path: String, sheets: usize, bytes: &[u8]| -> Result<BinderFile, BinderFault> {
            put(&path, bytes)?;
            Ok(BinderFile { path, sheets })
        };
        let pdf = || made(pdf_name(reader), set.sheets.len(), &pdf::write(set)?);
        let svg = || {
            svg::write_each(set, |file| made(format!("{SVG_FOLDER}/{}", file.name), 1, file.text.as_bytes()))
        };
        let (pdf, svg) = rayon::join(
            || wants(Format::Pdf).then(pdf).transpose(),
            || wants(Format::Svg).then(svg).transpose(),
        );
        Ok(SetFiles { pdf: pdf?, svg: svg?.unwrap_or_default() })
    }
}

fn pdf_name(reader: Reader) -> String {
    format!("{}.pdf", reader.word())
}

/// The folder of the SVG sheets.
const SVG_FOLDER: &str = "svg";
