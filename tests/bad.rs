//! Every wrong file under `tests/bad/` is told exactly as the text beside it says.
//!
//! `<code>.<n>.kdl` has one cause, whose code is in its name. `<code>.<n>.txt` holds what
//! `--report short` prints. After a wording has been changed on purpose,
//! `CLOTHWRIGHT_REFRESH=1 cargo test --test bad` writes those texts anew: read the difference.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use clothwright::diag::{CODES, Diag, Diags};
use clothwright::source::Sources;
use clothwright::{job, parse, plan, report};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

/// The wrong files, in order.
fn files() -> Vec<PathBuf> {
    let entries = fs::read_dir(folder()).expect("tests/bad is there");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("it can be listed").path()).collect();
    files.retain(|path| path.extension().is_some_and(|ext| ext == "kdl"));
    files.sort();
    files
}

fn name(path: &Path) -> String {
    path.file_name().expect("a file has a name").to_string_lossy().into_owned()
}

/// The wrong files may include those of `tests/bad/shared/` and each other.
struct Here;

impl parse::Shelf for Here {
    fn fetch(&self, path: &str, _most: usize) -> Result<Vec<u8>, parse::FetchFault> {
        if path.starts_with("..") {
            return Err(parse::FetchFault::Outside);
        }
        if folder().join(path).is_dir() {
            return Err(parse::FetchFault::Unreadable("it is a folder".to_owned()));
        }
        fs::read(folder().join(path)).map_err(|_| parse::FetchFault::Missing)
    }
}

/// What reading, judging and planning a file tells, and whether a plan was made.
fn told(name: &str, bytes: &[u8]) -> (Sources, Vec<Diag>, bool) {
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let file = parse::text(name, bytes, &mut sources, &mut diags);
    let parsed = file.and_then(|file| parse::with_shared(&mut sources, file, &Here, &mut diags));
    let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
    let plan = job.and_then(|(job, places)| {
        let plan = plan::make(job).map_err(|fault| diags.push(fault.diag(&places))).ok()?;
        let faults = plan::record::faults(&plan, &places);
        let sound = faults.is_empty();
        faults.into_iter().for_each(|fault| diags.push(fault));
        sound.then_some(plan)
    });
    (sources, diags.sorted(), plan.is_some())
}

#[test]
fn every_wrong_file_is_told_as_written() {
    let refresh = std::env::var_os("CLOTHWRIGHT_REFRESH").is_some();
    let mut wrong = Vec::new();
    for path in files() {
        let name = name(&path);
        let bytes = fs::read(&path).expect("it can be read");
        let (sources, diags, planned) = told(&name, &bytes);
        let short = report::short(&sources, &diags);
        let beside = path.with_extension("txt");
        if refresh {
            fs::write(&beside, &short).expect("it can be written");
        }
        let expected = fs::read_to_string(&beside).unwrap_or_default();
        if short != expected || short.is_empty() {
            wrong.push(format!("{name}:\n  told     {short}  expected {expected}"));
        }
        let code = name.split('.').next().unwrap_or_default();
        if !diags.iter().any(|diag| diag.code == code) {
            wrong.push(format!("{name}: {code} is not told, but {short}"));
        }
        if diags.iter().any(|diag| diag.severity == clothwright::diag::Severity::Error) && planned {
            wrong.push(format!("{name}: an error, and a plan all the same"));
        }
        // The other renderers must show it too.
        for width in [40, 100] {
            let human = report::human(&sources, &diags, report::Look { width, colour: false });
            assert!(diags.iter().all(|diag| human.contains(diag.code)), "{name}");
            assert!(!human.contains('\u{1b}'), "{name}: colour where there is none");
        }
        let json: serde_json::Value = serde_json::from_str(&report::json(&sources, &diags)).expect("JSON");
        assert_eq!(json.as_array().map(Vec::len), Some(diags.len()), "{name}");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_code_is_shown_and_every_shown_code_is_listed() {
    let mut shown = BTreeSet::new();
    for path in files() {
        let (_, diags, _) = told(&name(&path), &fs::read(&path).expect("it can be read"));
        shown.extend(diags.iter().map(|diag| diag.code));
    }
    let listed: BTreeSet<&str> = CODES.iter().map(|(code, _)| *code).collect();
    assert_eq!(listed.len(), CODES.len(), "a code is listed twice");
    assert!(CODES.is_sorted_by_key(|(code, _)| *code));
    let unshown: Vec<_> = listed.difference(&shown).collect();
    assert!(unshown.is_empty(), "no wrong file shows {unshown:?}");
    let unlisted: Vec<_> = shown.difference(&listed).collect();
    assert!(unlisted.is_empty(), "not in the list of codes: {unlisted:?}");
}

/// A code that is written in the source and not listed would escape the test above.
#[test]
fn every_code_in_the_source_is_listed() {
    fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).expect("the source is there") {
            let path = entry.expect("it can be listed").path();
            if path.is_dir() { sources(&path, into) } else { into.push(path) }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    for folder in ["job", "parse", "plan", "units"] {
        sources(&root.join(folder), &mut paths);
    }
    // The cautions on the sheets have codes of their own, which are no problems of a file.
    paths.retain(|path| !path.components().any(|part| part.as_os_str() == "cautions"));
    let starts =
        ["Diag::error(", "Diag::warning(", "ctx.error(", "self.slip(", "fault(", "code: ", "ctx.warn("];
    let mut found = 0;
    for path in paths {
        let text = fs::read_to_string(&path).expect("it can be read");
        for start in starts {
            for part in text.split(start).skip(1) {
                let Some(literal) = part.trim_start().strip_prefix('"') else { continue };
                let code = literal.split('"').next().unwrap_or_default();
                found += 1;
                assert!(CODES.iter().any(|(known, _)| *known == code), "{code} in {path:?} is not listed");
            }
        }
    }
    assert!(found > 80, "the source is searched in vain: {found}");
}
