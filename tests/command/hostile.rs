//! Files that nobody writes in earnest: the real program answers shortly and with the right code.
//! How fast it does in a release build stands in `DEVELOPERS.md`.

use std::fs;

use super::{path, run, run_with, said};

const HEAD: &str = "units in\njob J title=\"t\"\ncloth \"c\" {\n    width 54\n}\n";

/// Checking `text` from standard input is refused for `code`; what is said is returned.
fn refused(text: &str, code: &str) -> String {
    let output = run_with(text.as_bytes(), &["check", "-", "--report", "short"]);
    assert_eq!(output.status.code(), Some(1), "{code}: {}", clipped(&said(&output)));
    let told = said(&output);
    assert!(told.contains(&format!("error[{code}]")), "{code}: {}", clipped(&told));
    assert!(told.len() < 100_000 && told.lines().count() <= 101, "{code}: {} bytes", told.len());
    told
}

fn clipped(text: &str) -> String {
    text.chars().take(2000).collect()
}

#[test]
fn what_is_far_too_large_is_not_read() {
    // A pipe of 100 MB: the program takes what it needs to know and goes.
    refused(&"{".repeat(100_000_000), "file-too-large");
    refused(&format!("{HEAD}room \"{}\"", "x".repeat(10_000_000)), "file-too-large");
    let wall = "corner A inside\nwall 1 {\n width 100\n height 96\n}\n";
    refused(&format!("{HEAD}room \"r\" {{\n{}}}\n", wall.repeat(1_000_000)), "file-too-large");
}

#[test]
fn a_great_many_problems_are_counted_and_few_are_told() {
    let told = refused(&format!("{HEAD}{}", "crwon 3\n".repeat(20_000)), "unknown-node");
    assert!(told.contains("more problems follow"), "{}", clipped(&told));
    let told = refused(&"a 1mm\n".repeat(40_000), "unquoted-length");
    assert!(told.contains("more problems follow"), "{}", clipped(&told));
}

#[test]
fn nesting_and_numbers_have_their_bounds() {
    refused(&format!("{}{}", "a {\n".repeat(40_000), "}\n".repeat(40_000)), "too-deep");
    let wall = |width: &str| {
        format!(
            "{HEAD}room \"r\" {{\n corner A free\n wall 1 {{\n  width {width}\n  height 96\n }}\n corner B free\n}}\n"
        )
    };
    refused(&wall(&"9".repeat(25)), "length-too-large");
    refused(&wall(&"9".repeat(30)), "length-too-large");
    // KDL's reader takes 38 figures.
    for figures in [31, 39, 1000, 250_000] {
        let told = refused(&wall(&"9".repeat(figures)), "number-too-long");
        assert_eq!(told.lines().count(), 1, "{told}");
        let words =
            format!("standard input:9:9: error[number-too-long]: this number has {figures} characters");
        assert!(told.starts_with(&words), "{told}");
    }
    refused(&wall("\"99999999999999999999999999999999999999999999ft\""), "length-too-large");
    refused(&wall("1e400"), "length-unreadable");
    refused(&wall("-100"), "negative-length");
    refused(&wall("#inf"), "wrong-kind");
}

#[test]
fn a_file_that_includes_itself_is_read_once() {
    let room = tempfile::tempdir().unwrap();
    let (one, other) = (path(&room, "one.kdl"), path(&room, "other.kdl"));
    fs::write(&one, format!("include \"one.kdl\"\ninclude \"other.kdl\"\n{HEAD}")).unwrap();
    fs::write(&other, "include \"one.kdl\"\ninclude \"other.kdl\"\n").unwrap();
    let output = run(&["check", &one, "--report", "short"]);
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(said(&output).matches("include-loop").count(), 3, "{}", said(&output));
}
