//! Shared files: what a job says itself is kept, and what it leaves out is taken from them.

use std::collections::BTreeMap;

use clothwright::diag::Diags;
use clothwright::job::model::{Goods, Job, TrimKind};
use clothwright::money::Money;
use clothwright::parse::{FetchFault, Shelf};
use clothwright::source::Sources;
use clothwright::units::Length;
use clothwright::{job, parse, report};

struct Memory(BTreeMap<&'static str, &'static str>);

impl Shelf for Memory {
    fn fetch(&self, path: &str, _most: usize) -> Result<Vec<u8>, FetchFault> {
        self.0.get(path).map(|text| text.as_bytes().to_vec()).ok_or(FetchFault::Missing)
    }
}

const JOB: &str = r#"
units in
include "shop/standards.kdl"
include "./cloths/../cloths/damask.kdl"
job J-1 title="Shared" {
    workroom "The other workroom"
}
house {
    crew 3
}
trim top gimp
room "study" {
    corner A free
    wall 1 {
        width 120
        height 96
    }
    corner B free
}
"#;

const STANDARDS: &str = r#"
units mm
include "staples.kdl"
house {
    installer "The shop"
    workroom "The workroom"
    seam-allowance 20
    crew 2
}
trim top braid
trim bottom flat-band
"#;

const STAPLES: &str = r#"
house {
    seam-allowance "1/2in"
    edge-staples "2in"
}
"#;

const DAMASK: &str = r#"
include "../shop/staples.kdl"
cloth "damask" {
    width "54in"
    repeat horizontal="26in" vertical="25in" drop=half
}
"#;

fn checked(files: &[(&'static str, &'static str)]) -> (Option<Job>, String) {
    read(JOB, files)
}

fn read(text: &str, files: &[(&'static str, &'static str)]) -> (Option<Job>, String) {
    let shelf = Memory(files.iter().copied().collect());
    let mut sources = Sources::default();
    let file = sources.add("jobs/study.kdl", text);
    let mut diags = Diags::default();
    let parsed = parse::with_shared(&mut sources, file, &shelf, &mut diags);
    let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
    (job.map(|(job, _)| job), report::short(&sources, &diags.sorted()))
}

#[test]
fn the_nearest_file_has_the_last_word() {
    let files =
        [("shop/standards.kdl", STANDARDS), ("shop/staples.kdl", STAPLES), ("cloths/damask.kdl", DAMASK)];
    let (job, told) = checked(&files);
    assert_eq!(told, "");
    let job = job.expect("a job");
    assert_eq!((job.house.crew, job.facts.workroom.as_str()), (3, "The other workroom"));
    assert_eq!(job.facts.installer, "The shop");
    assert_eq!(job.house.seam_allowance, Length::mm(20));
    assert_eq!(job.house.edge_staples, Length::inches(2));
    assert_eq!((job.trims.top.kind, job.trims.bottom.kind), (TrimKind::Gimp, TrimKind::FlatBand));
    assert_eq!(job.cloths[0].width, Length::inches(54));
    let assumed = |words: &str| job.assumptions.iter().any(|a| a.text.contains(words));
    assert!(!assumed("Seam allowance") && !assumed("along edges") && assumed("Temporary tacks"));
}

#[test]
fn a_problem_in_a_shared_file_is_told_there() {
    let files = [("shop/standards.kdl", "house {\n    crew 0\n}\n"), ("cloths/damask.kdl", DAMASK)];
    let (job, told) = checked(&files);
    assert!(job.is_none());
    let expected = "jobs/study.kdl:3:9: error[include-missing]: ";
    assert!(!told.contains(expected), "{told}");
    // The job's own crew is kept, so the shared one is never judged; the missing file is told where it is named.
    let missing = "jobs/cloths/damask.kdl:2:9: error[include-missing]: there is no file ../shop/staples.kdl";
    assert!(told.starts_with(missing), "{told}");
    assert_eq!(told.lines().count(), 1, "{told}");
}

#[test]
fn a_cloth_that_no_file_gives_is_missed_once() {
    let alone = JOB.lines().filter(|line| !line.starts_with("include")).collect::<Vec<_>>().join("\n");
    let staples_only = JOB
        .replace("shop/standards.kdl", "shop/staples.kdl")
        .replace("./cloths/../cloths/damask.kdl", "shop/staples.kdl");
    for text in [alone, staples_only] {
        let (job, told) = read(&text, &[("shop/staples.kdl", STAPLES)]);
        assert!(job.is_none());
        assert_eq!(told.matches("has no cloth").count(), 1, "{told}");
    }
}

/// A price list that many jobs share: the job's own price has the last word, line by line, and what the
/// job does not have is no mistake of the list.
#[test]
fn a_shared_price_list_is_completed_line_by_line() {
    let job = r#"
        include "prices.kdl"
        job J-1 title="Priced"
        cloth "damask" {
            width "54in"
        }
        prices "EUR" {
            price cloth 80.25 of="damask"
        }
        room "study" {
            corner A free
            wall 1 {
                width "10ft"
                height "8ft"
            }
            corner B free
        }
    "#;
    let list = r#"
        prices "USD" {
            price cloth 96 of="damask"
            price cloth 70 of="oat linen"
            price cloth 60
            price staples 11.25
            price trim 4
        }
    "#;
    let (job, told) = read(job, &[("prices.kdl", list)]);
    assert_eq!(told, "");
    let prices = job.and_then(|job| job.prices).expect("prices");
    assert_eq!(prices.currency, "EUR");
    assert_eq!(prices.of(&Goods::Cloth(0)), Some(Money::hundredths(8025)));
    assert_eq!(prices.of(&Goods::Staples), Some(Money::hundredths(1125)));
    assert_eq!(prices.of(&Goods::Trim("braid".into())), Some(Money::hundredths(400)));
    assert_eq!((prices.of(&Goods::Thread), prices.hour), (None, None));
}
