//! The seeds of the fuzz targets, each judged by the law of its target: what once broke a law and was added to
//! them stays mended, and a run of a fuzzer starts from inputs that reach every room.

use std::fs;
use std::path::Path;

#[path = "fuzz/src/lib.rs"]
mod targets;

// The targets share modules with the tests of the plan, which name them from the root.
use targets::rooms;

/// The seeds of a target, by name.
fn seeds(target: &str) -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus").join(target);
    let files = fs::read_dir(folder).expect("every target has seeds").map(|file| file.expect("it is listed"));
    let mut all: Vec<_> = files
        .map(|file| {
            (file.file_name().to_string_lossy().into_owned(), fs::read(file.path()).expect("it is read"))
        })
        .collect();
    all.sort();
    all
}

fn hold(target: &str, law: fn(&[u8]), least: usize) {
    let seeds = seeds(target);
    assert!(seeds.len() >= least, "{target} has {} seeds", seeds.len());
    for (name, data) in seeds {
        eprintln!("{target}/{name}");
        law(&data);
    }
}

#[test]
fn the_parser_answers() {
    hold("parser", targets::parser, 9);
}

#[test]
fn check_answers() {
    hold("check", targets::check, 9);
}

#[test]
fn plans_keep_their_laws() {
    hold("plan", targets::plan, 16);
}

/// They are not only survived: every one comes to a binder.
#[test]
fn runs_come_to_binders() {
    hold("run", targets::run, 7);
    for (name, data) in seeds("run") {
        assert!(targets::bound(&data), "{name} comes to no binder");
    }
}
