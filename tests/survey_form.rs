//! The form to survey with: it asks for all that the language has, in its order, and shows what a file says.

use std::fs;
use std::process::{Command, Output};

use clothwright::diag::Diags;
use clothwright::job::form::{self, Form};
use clothwright::job::model::Paper;
use clothwright::parse::{self, spec::Count, table};
use clothwright::sheet::model::{Mark, SheetSet, Text};
use clothwright::sheet::{paper, survey_form, text};
use clothwright::source::FileId;
use tempfile::TempDir;

const PAPERS: [Paper; 5] = [Paper::Letter, Paper::Tabloid, Paper::ArchB, Paper::A4, Paper::A3];
const JOB: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/jobs/tern-inn-parlour.kdl");

fn form_of(text: &str) -> Form {
    let parsed = parse::parse(text, FileId(0), &mut Diags::default()).expect("KDL");
    form::of(&parsed)
}

/// The names of the lines of a wall's part, and of its tables.
fn names(form: &Form, part: &str) -> Vec<&'static str> {
    let part = form.parts.iter().find(|other| other.heading.contains(part)).expect("the part");
    let lists = part.lists.iter().flat_map(|list| &list.names).copied();
    part.lines.iter().map(|line| line.name).chain(lists).collect()
}

/// To type it is to copy it: nothing is left out, and nothing stands in another order.
#[test]
fn a_blank_form_asks_for_every_line_of_a_wall_in_the_order_of_the_language() {
    let form = form::blank(2);
    let single = table::within("wall").filter(|spec| spec.count != Count::Any).map(|spec| spec.name);
    let expected: Vec<&str> = ["corner", "wall"].into_iter().chain(single).collect();
    let found = names(&form, "wall 1");
    assert_eq!(found[..expected.len()], expected);
    let mut many: Vec<&str> =
        table::within("wall").filter(|spec| spec.count == Count::Any).map(|spec| spec.name).collect();
    let mut listed = found[expected.len()..].to_vec();
    many.sort_unstable();
    listed.sort_unstable();
    assert_eq!(listed, many);
    assert_eq!(
        form.parts.iter().filter(|part| part.heading.contains("wall ")).count(),
        3,
        "two, and the last corner"
    );
    assert!(
        form.parts
            .iter()
            .flat_map(|part| part.values())
            .all(|filled| filled.value.is_empty() && !filled.missing)
    );
}

#[test]
fn a_form_shows_what_a_file_says_and_no_price() {
    let form = form_of(&fs::read_to_string(JOB).expect("the demo job"));
    let all: Vec<&str> =
        form.parts.iter().flat_map(|part| part.values()).map(|filled| filled.value.as_str()).collect();
    // 15ft 2 1/4in at the top of wall 1, 16 3/4in to the fireplace, 25 1/2in of repeat.
    for value in ["15′ 2¼″", "1′ 4¾″", "2′ 1½″", "reedbed damask", "plaster", "D1"] {
        assert!(all.contains(&value), "{value} is not on the form");
    }
    assert!(form.parts.iter().flat_map(|part| part.values()).all(|filled| !filled.missing));
    assert_eq!((form.facts.number.as_str(), form.paper), ("T-0417", Some(Paper::Tabloid)));
}

#[test]
fn what_must_be_there_and_is_not_is_marked() {
    let form = form_of(
        r#"units in
        job "J-1"
        cloth "linen" { width 54; repeat horizontal=27; }
        room "study" {
            corner A free
            wall 1 { width top="9ft"; window from-left=12 width=30 height=40; }
            corner B
        }"#,
    );
    let mut missing: Vec<String> = Vec::new();
    for part in &form.parts {
        let these = part.values().filter(|filled| filled.missing);
        missing.extend(these.map(|filled| format!("{}: {}", part.heading, filled.caption)));
    }
    let expected = [
        "Job: title=",
        "Cloth linen: vertical=",
        "Corner A, wall 1: length:",
        "Corner A, wall 1: sill",
        "Corner B: kind:",
    ];
    assert_eq!(missing, expected);
}

fn texts(marks: &[Mark]) -> Vec<&Text> {
    let mut all = Vec::new();
    for mark in marks {
        match mark {
            Mark::Text(text) => all.push(text),
            Mark::Group(group) => all.extend(texts(&group.marks)),
            _ => {}
        }
    }
    all
}

fn sound(set: &SheetSet, size: Paper) {
    for sheet in &set.sheets {
        let areas: Vec<_> =
            texts(&sheet.marks).iter().map(|text| (text.text.clone(), text::area(text))).collect();
        for (i, (words, area)) in areas.iter().enumerate() {
            assert!(paper::frame(size).contains(area), "{words} hangs out of {}", sheet.title);
            let over = areas[..i].iter().find(|(_, other)| other.overlaps(area));
            assert!(over.is_none(), "{words} lies over {over:?} on {}", sheet.title);
        }
    }
}

#[test]
fn a_form_is_set_on_every_paper() {
    let job = form_of(&fs::read_to_string(JOB).expect("the demo job"));
    for size in PAPERS {
        for form in [&form::blank(1), &form::blank(5), &job] {
            sound(&survey_form::compose(form, size).expect("sheets"), size);
        }
    }
}

fn run(folder: &TempDir, args: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_clothwright");
    Command::new(program).current_dir(folder).args(args).output().expect("it runs")
}

#[test]
fn the_command_writes_one_file_and_the_same_each_time() {
    let folder = TempDir::new().expect("a folder");
    let bytes = || fs::read(folder.path().join("form.pdf")).expect("the form");
    assert_eq!(run(&folder, &["survey", "--walls", "4", "--out", "form.pdf"]).status.code(), Some(0));
    let first = bytes();
    assert!(first.starts_with(b"%PDF-"));
    assert_eq!(run(&folder, &["survey", "--walls", "4", "--out", "form.pdf"]).status.code(), Some(0));
    assert_eq!(bytes(), first);
    assert_eq!(run(&folder, &["survey", JOB, "--out", "form.pdf"]).status.code(), Some(0));
    assert_ne!(bytes(), first);
    assert_eq!(fs::read_dir(&folder).expect("the folder").count(), 1);
}

#[test]
fn the_command_refuses_what_it_cannot_do() {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("bad.kdl"), [0xff, 0xfe]).expect("a file");
    fs::write(folder.path().join("slip.kdl"), "job \"J-1\" title=\"Slip\"\nroof 7\n").expect("a file");
    let told = |args: &[&str]| {
        let output = run(&folder, args);
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    for args in [
        &["survey", "--out", "f.pdf"][..],
        &["survey", "--walls", "0", "--out", "f.pdf"],
        &["survey", "--walls", "201", "--out", "f.pdf"],
        &["survey", JOB, "--walls", "3", "--out", "f.pdf"],
        &["survey", "none.kdl", "--out", "f.pdf"],
        &["survey", "--walls", "3", "--out", "no/such/folder/f.pdf"],
    ] {
        let (code, words) = told(args);
        assert_eq!(code, Some(2), "{args:?}");
        assert!(!words.is_empty() && !words.contains("panicked"), "{args:?}: {words}");
    }
    let (code, words) = told(&["survey", "bad.kdl", "--out", "f.pdf"]);
    assert_eq!(code, Some(1), "{words}");
    // What is missing is marked on the form; what cannot be read is told, and the form written.
    let (code, words) = told(&["survey", "slip.kdl", "--out", "slip.pdf"]);
    assert_eq!(code, Some(0), "{words}");
    assert!(words.contains("unknown-node") && !words.contains("missing"), "{words}");
    let (code, words) = told(&["survey", "--walls", "3", "--out", "."]);
    assert_eq!((code, words.contains("is a folder; name the file")), (Some(2), true), "{words}");
    assert!(!folder.path().join("f.pdf").exists());
}
