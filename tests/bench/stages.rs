//! What each stage costs on the demo jobs and on jobs of many rooms: `cargo bench --bench stages`.
//!
//! Times are the best of several runs, in milliseconds, from values in memory to values in memory; nothing is
//! written to a disk. `RAYON_NUM_THREADS=1` before the command keeps it to one core. Numbers after
//! `--` are how many rooms the generated jobs have. The last two are the floor, of one thread: what the streams of
//! the PDFs take to be compressed and nothing else, and what the bytes of all files take to be written.

#[path = "../common/street.rs"]
mod street;

use std::hint::black_box;
use std::io::Write;
use std::time::{Duration, Instant};

use clothwright::diag::Diags;
use clothwright::export::{csv, json, pdf, svg};
use clothwright::parse::{FetchFault, Shelf};
use clothwright::sheet::model::Reader;
use clothwright::source::Sources;
use clothwright::{job, parse, plan, sheet};

const STAGES: [&str; 9] = ["parse", "check", "plan", "options", "compose", "pdf", "svg", "csv", "json"];

/// How long a stage is run again and again.
const PATIENCE: Duration = Duration::from_millis(400);

/// The folder of the demo jobs, where their pictures are.
struct Jobs;

impl Shelf for Jobs {
    fn fetch(&self, path: &str, _: usize) -> Result<Vec<u8>, FetchFault> {
        std::fs::read(format!("jobs/{path}")).map_err(|_| FetchFault::Missing)
    }
}

fn main() {
    print!("{:<20}", "");
    STAGES.iter().for_each(|stage| print!("{stage:>10}"));
    println!("{:>10}{:>10}{:>10}{:>10}{:>10}", "all", "kB pdf", "kB svg", "deflate", "write");
    let mut jobs: Vec<String> = std::fs::read_dir("jobs")
        .expect("the demo jobs")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter_map(|name| Some(name.strip_suffix(".kdl")?.to_owned()))
        .collect();
    jobs.sort();
    for name in jobs {
        let text = std::fs::read_to_string(format!("jobs/{name}.kdl")).expect("a demo job");
        row(&name, &text);
    }
    let rooms: Vec<usize> = std::env::args().filter_map(|a| a.parse().ok()).collect();
    for rooms in if rooms.is_empty() { vec![10, 100] } else { rooms } {
        row(&format!("{rooms} rooms"), &street::street(rooms));
    }
}

fn row(name: &str, text: &str) {
    let mut times = Vec::new();
    let mut diags = Diags::default();
    let parsed = timed(&mut times, || {
        let (mut sources, mut diags) = (Sources::default(), Diags::default());
        let file = parse::text("job.kdl", text.as_bytes(), &mut sources, &mut diags).expect("text");
        parse::with_shared(&mut sources, file, &Jobs, &mut diags)
    })
    .expect("a job file");
    let job = timed(&mut times, || job::check(&parsed, &mut diags)).expect("a valid job").0;
    let mut plan = timed(&mut times, || plan::make(job.clone())).expect("a plan");
    timed(&mut times, || plan::options::offer(&mut plan));
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
    print!("{:>10}{:>10}", pdf_bytes / 1000, svg_bytes / 1000);

    let streams: Vec<Vec<u8>> = pdfs.iter().flat_map(|pdf| streams(pdf)).collect();
    let mut floor = Vec::new();
    timed(&mut floor, || streams.iter().map(|stream| compressed(stream)).sum::<usize>());
    let folder = tempfile::tempdir().expect("a folder");
    let files: Vec<&[u8]> = pdfs
        .iter()
        .map(Vec::as_slice)
        .chain(svgs.iter().flatten().map(|file| file.text.as_bytes()))
        .collect();
    timed(&mut floor, || {
        for (i, file) in files.iter().enumerate() {
            std::fs::write(folder.path().join(i.to_string()), file).expect("a file");
        }
    });
    floor.iter().for_each(|time| print!("{:>10.2}", time.as_secs_f64() * 1e3));
    println!();
}

/// What the streams of a PDF hold before they are compressed.
fn streams(pdf: &[u8]) -> Vec<Vec<u8>> {
    let document = lopdf::Document::load_mem(pdf).expect("a PDF");
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    streams.filter_map(|stream| stream.decompressed_content().ok()).collect()
}

/// How many bytes are left of a stream.
fn compressed(stream: &[u8]) -> usize {
    let mut encoder = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::default());
    encoder.write_all(stream).and_then(|()| encoder.finish()).expect("memory").len()
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
