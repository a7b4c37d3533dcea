//! What must hold for any bytes at all. Each function is a fuzz target; it panics when it does not hold.
//!
//! `DEVELOPERS.md` says how to run them.

#[allow(dead_code, reason = "the tests of the plan use what the targets do not")]
#[path = "../../plan/checker.rs"]
mod checker;
#[allow(dead_code, reason = "the tests of the plan use what the targets do not")]
#[path = "../../plan/generate.rs"]
mod generate;
#[allow(dead_code, reason = "the tests of the plan use what the targets do not")]
#[path = "../../plan/rooms.rs"]
pub mod rooms;

use clothwright::binder::{Binder, BinderFault, Format, Wish};
use clothwright::diag::{Diag, Diags, MOST_TOLD, Severity};
use clothwright::export::json;
use clothwright::job::model::Job;
use clothwright::parse::{FetchFault, ParsedJob, Shelf};
use clothwright::report::{self, Look};
use clothwright::sheet::model::Reader;
use clothwright::source::{FileId, Sources};
use clothwright::{job, parse, plan as planning};

/// The parts of the input beyond its first NUL, as the files `1.kdl`, `2.kdl` and so on.
struct Parts<'d>(Vec<&'d [u8]>);

impl Shelf for Parts<'_> {
    fn fetch(&self, path: &str, _most: usize) -> Result<Vec<u8>, FetchFault> {
        let number = path.strip_suffix(".kdl").and_then(|number| number.parse::<usize>().ok());
        let part = number.and_then(|number| self.0.get(number));
        part.map(|part| part.to_vec()).ok_or(FetchFault::Missing)
    }
}

fn read(data: &[u8], sources: &mut Sources, diags: &mut Diags) -> Option<(FileId, ParsedJob)> {
    let parts = Parts(data.split(|byte| *byte == 0).collect());
    let file = parse::text("0.kdl", parts.0[0], sources, diags)?;
    let parsed = parse::with_shared(sources, file, &parts, diags)?;
    Some((file, parsed))
}

/// The parser: it answers, says why when it gives up, and what it reads survives being tidied.
pub fn parser(data: &[u8]) {
    let (mut sources, mut diags) = (Sources::default(), Diags::default());
    let read = read(data, &mut sources, &mut diags);
    let sound = !diags.has_errors();
    shown(&sources, diags.sorted());
    let Some((file, parsed)) = read else {
        assert!(!sound, "nothing read, and no word why");
        return;
    };
    assert!(!(sound && parsed.partial), "a part is missing, and no word why");
    if sound {
        let text = &sources.get(file).expect("it was added").text;
        let tidied = parse::tidy(text, file, &mut Diags::default()).expect("a sound file can be tidied");
        let twice = parse::tidy(&tidied, file, &mut Diags::default());
        assert_eq!(twice.as_ref(), Some(&tidied), "what is tidy stays as it is");
    }
}

/// The whole of `check`: it answers, with a job or with the reason why there is none.
pub fn check(data: &[u8]) {
    judged(data);
}

fn judged(data: &[u8]) -> Option<Job> {
    let (mut sources, mut diags) = (Sources::default(), Diags::default());
    let job = read(data, &mut sources, &mut diags).and_then(|(_, parsed)| job::check(&parsed, &mut diags));
    assert_eq!(job.is_none(), diags.has_errors(), "errors and a job exclude each other");
    shown(&sources, diags.sorted());
    job.map(|(job, _)| job)
}

/// Every renderer shows every problem, at a place that is in its file.
fn shown(sources: &Sources, diags: Vec<Diag>) {
    assert!(diags.len() <= MOST_TOLD + 1);
    for label in diags.iter().flat_map(|diag| &diag.labels) {
        let file = sources.get(label.span.file).expect("a file of this run");
        assert!(label.span.start <= label.span.end && label.span.end <= file.text.len(), "{diags:?}");
    }
    let errors = diags.iter().filter(|diag| diag.severity == Severity::Error).count();
    let short = report::short(sources, &diags);
    assert_eq!(short.lines().count(), diags.len());
    assert_eq!(short.matches(": error[").count().min(errors), errors);
    for width in [40, 100] {
        let human = report::human(sources, &diags, Look { width, colour: false });
        assert!(diags.iter().all(|diag| human.contains(diag.code)));
    }
    report::json(sources, &diags);
}

/// A plan of any valid room keeps the laws of `plan.json`, or is refused with a reason.
pub fn plan(data: &[u8]) {
    let job = generate::job_of(&mut generate::Random::from_bytes(data), "fuzzed room".to_owned());
    match planning::make(job) {
        Ok(plan) => {
            let broken = checker::problems(&json::plan(&plan));
            assert!(broken.is_empty(), "{broken:#?}");
        }
        Err(fault) => assert!(!fault.message.is_empty() && !fault.help.is_empty()),
    }
}

/// Text to the bytes of every file of a binder.
pub fn run(data: &[u8]) {
    bound(data);
}

/// The same, and whether a binder was made.
pub fn bound(data: &[u8]) -> bool {
    let Some(job) = judged(data) else { return false };
    let Ok(plan) = planning::make(job) else { return false };
    let wish = Wish { readers: Reader::ALL.to_vec(), formats: Format::ALL.to_vec(), paper: None };
    let put = |path: &str, bytes: &[u8]| {
        assert!(!bytes.is_empty(), "{path}");
        Ok(())
    };
    match Binder::make(&plan, &wish, &put) {
        Ok(_) => true,
        Err(BinderFault::Compose(fault)) => {
            assert!(!fault.message.is_empty() && !fault.help.is_empty());
            false
        }
        Err(fault) => panic!("a sheet that no file can hold: {fault}"),
    }
}
