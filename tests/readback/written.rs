//! A binder as the program wrote it.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use crate::svg::Sheet;

/// The demo jobs, and rooms made up to be awkward.
pub const JOBS: [&str; 10] = [
    "jobs/tern-inn-parlour.kdl",
    "jobs/feature-wall.kdl",
    "jobs/lantern-row-bay.kdl",
    "jobs/sluice-house-landing.kdl",
    "jobs/metric-attic-study.kdl",
    "jobs/plover-house-stair.kdl",
    "jobs/otter-lodge-study.kdl",
    "tests/rooms/corridor.kdl",
    "tests/rooms/stair-hall.kdl",
    "tests/rooms/closet.kdl",
];
pub const PAPERS: [&str; 5] = ["letter", "tabloid", "arch-b", "a4", "a3"];

/// What is drawn: every job on every paper.
pub fn pairs() -> Vec<(&'static str, &'static str)> {
    JOBS.into_iter().flat_map(|job| PAPERS.map(|paper| (job, paper))).collect()
}

#[test]
fn no_demo_job_is_left_out() {
    let demos = files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("jobs")).into_iter();
    for demo in demos.filter(|file| file.extension().is_some_and(|kind| kind == "kdl")) {
        let name = format!("jobs/{}", demo.file_name().expect("a name").to_string_lossy());
        assert!(JOBS.contains(&name.as_str()), "{name} is not read back");
    }
}

/// What one run wrote.
pub struct Binder {
    /// The job and the paper, for messages.
    pub name: String,
    /// `plan.json`.
    pub plan: Value,
    /// All sheets, by file name.
    pub sheets: Vec<Sheet>,
    folder: tempfile::TempDir,
}

impl Binder {
    /// Runs the program.
    pub fn draw(job: &str, paper: &str) -> Binder {
        let folder = tempfile::tempdir().expect("a folder");
        let out = folder.path().join("binder");
        let run = Command::new(env!("CARGO_BIN_EXE_clothwright"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .args(["draw", job, "--paper", paper, "--out"])
            .arg(&out)
            .output()
            .expect("the program runs");
        assert!(run.status.success(), "{job} {paper}: {}", String::from_utf8_lossy(&run.stderr));
        Binder::read(format!("{job} {paper}"), folder)
    }

    /// Reads what was written to the folder `binder` in `folder`.
    pub fn read(name: String, folder: tempfile::TempDir) -> Binder {
        let out = folder.path().join("binder");
        let sheets = files(&out.join("svg")).iter().map(|file| Sheet::read(file, &name)).collect();
        let plan = serde_json::from_str(&read(&out.join("plan.json"))).expect("JSON");
        Binder { name, plan, sheets, folder }
    }

    /// A PDF file of the binder.
    pub fn pdf(&self, reader: &str) -> Vec<u8> {
        std::fs::read(self.folder.path().join(format!("binder/{reader}.pdf"))).expect("a PDF")
    }

    /// The sheets of one reader, in order.
    pub fn of(&self, reader: &str) -> impl Iterator<Item = &Sheet> {
        let start = format!("{reader}-");
        self.sheets.iter().filter(move |sheet| sheet.file.starts_with(&start))
    }

    /// A field of the plan that is a list.
    pub fn list(&self, name: &str) -> &[Value] {
        self.plan[name].as_array().expect("a list")
    }
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let all = std::fs::read_dir(folder).expect("a folder");
    let mut files: Vec<PathBuf> = all.map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    files
}

/// The text of a file.
pub fn read(file: &Path) -> String {
    std::fs::read_to_string(file).expect("a text file")
}

/// A length of `plan.json`, which are whole nanometres, in millimetres.
pub fn mm(value: &Value) -> f64 {
    value.as_i64().expect("whole nanometres") as f64 / 1e6
}
