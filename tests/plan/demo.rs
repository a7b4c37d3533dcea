//! The demonstration jobs, from their text to a plan that the checker accepts.

use std::path::PathBuf;

use clothwright::diag::Diags;
use clothwright::export::json;
use clothwright::plan::model::Plan;
use clothwright::source::Sources;
use clothwright::{job, parse, plan};

use crate::checker::problems;

/// What a demo job names lies beside it.
struct Jobs;

impl parse::Shelf for Jobs {
    fn fetch(&self, path: &str, most: usize) -> Result<Vec<u8>, parse::FetchFault> {
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("jobs").join(path);
        let mut bytes = std::fs::read(path).map_err(|_| parse::FetchFault::Missing)?;
        bytes.truncate(most + 1);
        Ok(bytes)
    }
}

/// The plans of every job under `jobs/`, by file name.
pub fn plans() -> Vec<(String, Plan)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("jobs");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the jobs folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "kdl"))
        .collect();
    files.sort();
    let plan_of = |path: &PathBuf| {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let bytes = std::fs::read(path).expect("a readable file");
        let (mut sources, mut diags) = (Sources::default(), Diags::default());
        let file = parse::text(&name, &bytes, &mut sources, &mut diags).expect("text");
        let parsed = parse::with_shared(&mut sources, file, &Jobs, &mut diags).expect("a job that parses");
        let (job, _) = job::check(&parsed, &mut diags).expect("a job that passes");
        (name, plan::make(job).expect("a plan"))
    };
    files.iter().map(plan_of).collect()
}

#[test]
fn demo_jobs_pass_the_checker() {
    let plans = plans();
    assert!(plans.len() >= 3);
    for (name, plan) in plans {
        let found = problems(&json::plan(&plan));
        assert!(found.is_empty(), "{name}: {found:#?}");
    }
}
