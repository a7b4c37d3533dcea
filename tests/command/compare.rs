//! Two issues of a job compared by the program.

use std::fs;

use crate::{PARLOUR, path, run, run_with, said};

const OLD: &str = "tests/change/base.kdl";
const NEW: &str = "tests/change/wall-wider.kdl";

#[test]
fn the_change_is_told_and_nothing_is_written() {
    let output = run(&["compare", OLD, NEW]);
    let told = said(&output);
    assert_eq!(output.status.code(), Some(0), "{told}");
    assert!(told.contains("wall 2, width: 10′ 3″, was 10′ 0″ (3″ more)"), "{told}");
    assert!(told.contains("crew: ") && told.contains("Wall 2, window wall"), "{told}");
    assert_eq!(said(&run(&["compare", OLD, OLD])), "Back bedroom (J-014): no change\n\n");
    // One of the files may come from a pipe.
    let piped = run_with(&fs::read(NEW).expect("the new issue"), &["compare", OLD, "-"]);
    assert_eq!(said(&piped), told);
}

#[test]
fn the_change_is_told_as_json_beside_a_binder() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let output = run(&["compare", OLD, NEW, "--json", "--out", &out, "--set", "costs", "--format", "pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON alone");
    assert_eq!((&told["format"], &told["same"]), (&"clothwright-change".into(), &false.into()));
    assert!(fs::read(room.path().join("binder/costs.pdf")).is_ok_and(|bytes| bytes.starts_with(b"%PDF-")));
}

#[test]
fn what_cannot_be_compared_is_told_with_its_places() {
    let output = run(&["compare", OLD, PARLOUR, "--report", "short"]);
    let told = said(&output);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains("different-jobs") && told.contains("J-014 and T-0417"), "{told}");
    let human = said(&run(&["compare", OLD, PARLOUR]));
    assert!(human.contains(OLD) && human.contains(PARLOUR), "{human}");
    // Problems of both files are told in one run.
    let bad = "tests/bad/absurd-length.1.kdl";
    let output = run(&["compare", bad, bad, "--report", "short"]);
    assert_eq!((output.status.code(), said(&output).matches("absurd-length").count() >= 2), (Some(1), true));
    for arguments in [&["compare", "-", "-"][..], &["compare", OLD, "none.kdl"], &["compare", OLD]] {
        assert_eq!(run(arguments).status.code(), Some(2), "{arguments:?}");
    }
}

/// With too little cloth left there is no plan of the new issue: how much is lacking is told at its wall.
#[test]
fn cloth_that_does_not_last_is_told_with_what_to_get() {
    let room = tempfile::tempdir().unwrap();
    let short = |name: &str| {
        let text = fs::read_to_string(format!("tests/change/{name}.kdl")).expect("the pair");
        let path = path(&room, name);
        fs::write(&path, text.replace("32yd", "24yd 20in")).expect("a shorter bolt");
        path
    };
    let (old, new) = (short("cuts-begun.old"), short("cuts-begun"));
    let output = run(&["compare", &old, &new, "--report", "short"]);
    let told = said(&output);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(told.contains("cloth-on-hand-too-short") && told.contains("wall 3"), "{told}");
    assert!(told.contains("get another bolt of at least"), "{told}");
}
