//! What each stage costs on the demo jobs and on a street of 500 rooms: `cargo bench`.
//!
//! Times are the best of several runs, in milliseconds of one thread, from values in memory to
//! values in memory; nothing is read from or written to a disk.

use std::hint::black_box;
use std::time::{Duration, Instant};

use clothwright::diag::Diags;
use clothwright::export::{csv, json, pdf, svg};
use clothwright::sheet::model::Reader;
use clothwright::source::FileId;
use clothwright::{job, parse, plan, sheet};

const STAGES: [&str; 8] = ["parse", "check", "plan", "compose", "pdf", "svg", "csv", "json"];

/// How long a stage is run again and again.
const PATIENCE: Duration = Duration::from_millis(400);

fn main() {
    print!("{:<20}", "");
    STAGES.iter().for_each(|stage| print!("{stage:>10}"));
    println!("{:>10}{:>10}{:>10}", "all", "kB pdf", "kB svg");
    for name in ["feature-wall", "metric-attic-study", "tern-inn-parlour"] {
        let text = std::fs::read_to_string(format!("jobs/{name}.kdl")).expect("a demo job");
        row(name, &text);
    }
    row("500 rooms", &street(500));
}

/// A job with as many rooms as asked for, each the parlour under another name.
fn street(rooms: usize) -> String {
    let text = std::fs::read_to_string("jobs/tern-inn-parlour.kdl").expect("a demo job");
    let (head, room) = text.split_once("room \"parlour\"").expect("the parlour");
    let rooms = (1..=rooms).map(|number| format!("room \"parlour {number}\"{room}\n"));
    rooms.fold(head.to_owned(), |street, room| street + &room)
}

fn row(name: &str, text: &str) {
    let mut times = Vec::new();
    let mut diags = Diags::default();
    let parsed =
        timed(&mut times, || parse::parse(text, FileId(0), &mut Diags::default())).expect("a job file");
    let job = timed(&mut times, || job::check(&parsed, &mut diags)).expect("a valid job").0;
    let plan = timed(&mut times, || plan::make(job.clone())).expect("a plan");
    let sets = timed(&mut times, || sheet::compose(&plan, None, &Reader::ALL)).expect("sheets");
    let pdfs = timed(&mut times, || sets.iter().map(pdf::write).collect::<Result<Vec<_>, _>>()).expect("PDF");
    let svgs = timed(&mut times, || sets.iter().map(svg::write).collect::<Result<Vec<_>, _>>()).expect("SVG");
    timed(&mut times, || csv::write(&plan)).expect("CSV");
    timed(&mut times, || json::plan(&plan));

    print!("{name:<20}");
    let all: Duration = times.iter().sum();
    times.iter().chain([&all]).for_each(|time| print!("{:>10.2}", time.as_secs_f64() * 1e3));
    let pdf_bytes: usize = pdfs.iter().map(Vec::len).sum();
    let svg_bytes: usize = svgs.iter().flatten().map(|file| file.text.len()).sum();
    println!("{:>10}{:>10}", pdf_bytes / 1000, svg_bytes / 1000);
}

/// Runs a stage until patience is out, notes its best time and returns its last value.
fn timed<T>(times: &mut Vec<Duration>, mut stage: impl FnMut() -> T) -> T {
    let begun = Instant::now();
    let mut best = Duration::MAX;
    loop {
        let start = Instant::now();
        let value = black_box(stage());
        best = best.min(start.elapsed());
        if begun.elapsed() > PATIENCE {
            times.push(best);
            return value;
        }
    }
}
