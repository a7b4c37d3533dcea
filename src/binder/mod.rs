//! The binder: every file of one run, made whole in memory and then written all or nothing.

mod write;

use std::fmt;

use rayon::prelude::*;

use crate::export::svg::{self, SvgFile};
use crate::export::{ExportFault, csv, json, pdf};
use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::sheet::model::Reader;
use crate::sheet::sets::has_any;
use crate::sheet::{ComposeFault, compose};

pub use write::WriteFault;

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

/// One file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BinderFile {
    /// Its path in the binder, with `/` between folders.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// How many sheets it holds; zero for a file that is not paper.
    pub sheets: usize,
}

/// The files of one run.
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
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BinderFault {
    /// A sheet cannot be set, as a rule because the font lacks a character of the job.
    Compose(ComposeFault),
    /// A file cannot hold a sheet: a fault of this program.
    Export(ExportFault),
}

impl fmt::Display for BinderFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BinderFault::Compose(fault) => f.write_str(&fault.message),
            BinderFault::Export(fault) => write!(f, "{fault}"),
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
    /// Makes the files that are wished for. Nothing is written.
    ///
    /// The readers' sets are made at the same time; what comes out does not depend on it.
    ///
    /// # Errors
    /// A [`BinderFault`] when a sheet or a file cannot be made.
    pub fn make(plan: &Plan, wish: &Wish) -> Result<Binder, BinderFault> {
        let wants = |format: Format| wish.formats.contains(&format);
        let paper = wants(Format::Pdf) || wants(Format::Svg);
        let wished = wish.readers_of(plan);
        let (some, none): (Vec<Reader>, Vec<Reader>) =
            wished.iter().partition(|reader| has_any(plan, **reader));
        let readers: Vec<Reader> = some.iter().copied().filter(|_| paper).collect();
        let set = |reader: Reader| SetFiles::make(plan, wish, reader);
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
        if wants(Format::Csv) {
            files.push(BinderFile { path: "cut-list.csv".into(), bytes: csv::write(plan)?, sheets: 0 });
        }
        if wants(Format::Json) {
            let bytes = json::plan(plan).into_bytes();
            files.push(BinderFile { path: "plan.json".into(), bytes, sheets: 0 });
            match &plan.change {
                Some(change) => {
                    let bytes = json::change(change, &plan.job).into_bytes();
                    files.push(BinderFile { path: "change.json".into(), bytes, sheets: 0 });
                }
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
    fn make(plan: &Plan, wish: &Wish, reader: Reader) -> Result<SetFiles, BinderFault> {
        let sets = compose(plan, wish.paper, &[reader])?;
        let set = sets.first().ok_or_else(|| ExportFault::of(reader.word(), "the set was not composed"))?;
        let wants = |format: Format| wish.formats.contains(&format);
        let (pdf, svg) = rayon::join(
            || wants(Format::Pdf).then(|| pdf::write(set)).transpose(),
            || if wants(Format::Svg) { svg::write(set) } else { Ok(Vec::new()) },
        );
        let pdf = pdf?.map(|bytes| BinderFile { path: pdf_name(reader), bytes, sheets: set.sheets.len() });
        Ok(SetFiles { pdf, svg: svg?.into_iter().map(svg_file).collect() })
    }
}

fn pdf_name(reader: Reader) -> String {
    format!("{}.pdf", reader.word())
}

fn svg_file(file: SvgFile) -> BinderFile {
    BinderFile { path: format!("{SVG_FOLDER}/{}", file.name), bytes: file.text.into_bytes(), sheets: 1 }
}

/// The folder of the SVG sheets.
const SVG_FOLDER: &str = "svg";
