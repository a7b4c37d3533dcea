//! Names that nobody gives in earnest: refused at their place, or harmless wherever they are written.

use std::fs;
use std::path::Path;

use super::{found, path, run, run_with, said};

/// A job of one wall, with each name in its place: job, title, cloth, room, wall.
fn job([number, title, cloth, room, wall]: [&str; 5]) -> String {
    format!(
        "units in\njob \"{number}\" title=\"{title}\"\ncloth \"{cloth}\" {{\n width 54\n}}\nroom \"{room}\" {{\n \
         corner A free\n wall \"{wall}\" {{\n  width 130\n  height 96\n }}\n corner B free\n}}\n"
    )
}

const NAMES: [&str; 5] = ["J-1", "Title", "linen", "study", "1"];

/// Where each name stands in the file of [`job`], and what it is called.
const PLACES: [(&str, &str); 5] = [
    ("2:5", "the job's number"),
    ("2:", "the job's title"),
    ("3:7", "the cloth's name"),
    ("6:6", "the room's name"),
    ("8:7", "the wall's label"),
];

/// Each name in turn is refused as `name`, alone, for `code` and with these words, for people and programs;
/// and nothing that a terminal would obey is said.
fn refused(name: &str, code: &str, words: &str) {
    refused_in(&[0, 1, 2, 3, 4], name, code, words);
}

fn refused_in(which: &[usize], name: &str, code: &str, words: &str) {
    for &index in which {
        let (place, what) = PLACES[index];
        let mut names = NAMES;
        names[index] = name;
        let text = job(names);
        // What cannot even stand in the file is told where it stands.
        let place = if words.ends_with("cannot stand in a job file") { &place[..2] } else { place };
        for form in ["short", "human"] {
            let output = run_with(text.as_bytes(), &["check", "-", "--report", form]);
            let told = said(&output);
            assert_eq!(output.status.code(), Some(1), "{what}: {told}");
            assert!(
                told.contains(code) && told.contains(&format!("standard input:{place}")),
                "{what}: {told}"
            );
            let orders = |c: &char| (c.is_control() && *c != '\n') || ('\u{202a}'..='\u{202e}').contains(c);
            assert_eq!(told.chars().find(orders), None, "{what}: {told:?}");
            assert!(told.len() < 5_000, "{what}: {} bytes", told.len());
            if form == "short" {
                assert!(told.contains(words), "{what}: {told}");
                assert_eq!(told.lines().count(), 1, "{what}: {told}");
            }
        }
        let output = run_with(text.as_bytes(), &["check", "-", "--report", "json"]);
        let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert_eq!((told.as_array().map(Vec::len), &told[0]["code"]), (Some(1), &code.into()), "{told}");
    }
}

#[test]
fn a_nul_is_in_no_name() {
    refused("a\0b", "control-character", "the character U+0000 cannot stand in a job file");
    refused("a\\u{0}b", "control-character", "the character U+0000");
}

#[test]
fn a_control_character_is_in_no_name() {
    refused("\u{1b}[2J", "control-character", "the character U+001B cannot stand in a job file");
    for (escape, number) in
        [("\\u{1b}", "U+001B"), ("\\u{9b}", "U+009B"), ("\\n", "U+000A"), ("\\u{7f}", "U+007F")]
    {
        refused(&format!("a{escape}b"), "control-character", &format!("the character {number}"));
    }
}

#[test]
fn nothing_in_a_name_turns_the_direction_of_writing() {
    for number in ["202e", "202d", "2067", "200f", "61c"] {
        let code = u32::from_str_radix(number, 16).unwrap();
        let words = format!("the character U+{code:04X}");
        refused(&format!("a\\u{{{number}}}b"), "control-character", &words);
        // KDL allows the last one as it is.
        let words = if number == "61c" { words } else { format!("{words} cannot stand in a job file") };
        refused(&format!("a{}b", char::from_u32(code).unwrap()), "control-character", &words);
    }
}

#[test]
fn nothing_in_a_name_is_without_width() {
    for number in ["200b", "2060", "feff", "ad", "e0041"] {
        let words = format!("the character U+{:04X}", u32::from_str_radix(number, 16).unwrap());
        refused(&format!("a\\u{{{number}}}b"), "control-character", &words);
    }
}

#[test]
fn a_name_is_not_all_blanks() {
    for blanks in ["", "   ", "\u{a0}\u{2003}", "\\s\\s"] {
        refused_in(&[0, 1, 2, 3], blanks, "empty-text", "is empty");
    }
    // A wall may have a name behind its label, which blanks rather are.
    refused_in(&[4], "", "empty-text", "is empty");
    refused_in(&[4], "   ", "missing-value", "wall lacks its label");
}

#[test]
fn a_name_of_ten_thousand_characters_is_too_long() {
    refused(&"x".repeat(10_000), "text-too-long", "has 10000 characters");
    refused(&"½".repeat(10_000), "text-too-long", "has 10000 characters");
}

/// A character that no sheet can print is told, and nothing is written.
#[test]
fn a_character_that_the_font_lacks_is_told() {
    let room = tempfile::tempdir().unwrap();
    let (file, out) = (path(&room, "job.kdl"), path(&room, "binder"));
    fs::write(&file, job(["J-1", "Title", "linen", "書斎", "1"])).unwrap();
    let output = run(&["draw", &file, "--out", &out, "--report", "short"]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert!(
        said(&output).contains("job.kdl:2:") && said(&output).contains("missing-glyph"),
        "{}",
        said(&output)
    );
    assert!(!Path::new(&out).exists());
}

/// What says of one of these files that it holds a name as text, and not as a part of its own language.
fn sound(name: &str, bytes: &[u8]) {
    match Path::new(name).extension().and_then(|end| end.to_str()) {
        Some("svg") => {
            let text = std::str::from_utf8(bytes).unwrap();
            let tree = roxmltree::Document::parse(text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
            let tags = |tag: &str| tree.descendants().filter(|node| node.has_tag_name(tag)).count();
            assert_eq!(tags("script") + tags("image"), 0, "{name}");
        }
        Some("pdf") => {
            drop(lopdf::Document::load_mem(bytes).unwrap_or_else(|fault| panic!("{name}: {fault}")))
        }
        Some("json") => drop(serde_json::from_slice::<serde_json::Value>(bytes).unwrap()),
        Some("csv") => {
            let mut rows = csv::Reader::from_reader(bytes);
            let cells: Vec<_> = rows.records().map(|row| row.expect("as many cells as the head")).collect();
            let formula = |cell: &str| cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
            assert!(!cells.is_empty() && !cells.iter().flatten().any(formula), "{cells:?}");
        }
        _ => panic!("{name} is no file of a binder"),
    }
}

/// Names that mean something to a file system, to XML, to PDF and to spreadsheets.
#[test]
fn names_that_other_languages_know_are_only_names() {
    for names in [
        ["../../up", "</svg><script>alert(1)</script>", "..\\\\..\\\\up", "../../../etc/passwd", ".."],
        ["=1+1", "=HYPERLINK(\\\"//a\\\")", "@SUM(A1)", "-2+3", "=1"],
        [")) Tj", "(( \\\\) endobj", "<</A(b>>", "]]>&amp;<!--", "a/b"],
        ["CON", "nul.pdf", "a,b\\\";c", "/", "*?"],
        ["%s%n", "${HOME}", "`id`", "~", "-"],
    ] {
        let room = tempfile::tempdir().unwrap();
        let (file, out) = (path(&room, "job.kdl"), path(&room, "shelf/binder"));
        fs::write(&file, job(names)).unwrap();
        let output = run(&["draw", &file, "--out", &out]);
        assert_eq!(output.status.code(), Some(0), "{names:?}: {}", said(&output));
        let all = found(room.path());
        assert!(all.len() > 8, "{names:?}");
        for (name, bytes) in all.iter().filter(|(name, _)| name != "job.kdl") {
            let plain =
                |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '.' | '/');
            assert!(name.starts_with("shelf/binder/") && name.chars().all(plain), "{name}");
            assert!(!name.contains("..") && !name.contains("//") && name.len() < 100, "{name}");
            sound(name, bytes);
        }
    }
}

/// Two rooms whose names differ in what no file name holds have files of their own.
#[test]
fn rooms_of_like_names_have_sheets_of_their_own() {
    let room = tempfile::tempdir().unwrap();
    let (file, out) = (path(&room, "job.kdl"), path(&room, "binder"));
    let text = job(["J-1", "Title", "linen", "a b", "1"]);
    let (_, other) = text.split_once("room ").unwrap();
    let others = ["a-b", "a/b", "A B"].map(|name| format!("room {}", other.replace("a b", name)));
    fs::write(&file, format!("{text}{}", others.concat())).unwrap();
    let output = run(&["draw", &file, "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    for (name, bytes) in found(Path::new(&out)) {
        sound(&name, &bytes);
    }
}

/// What a message repeats of a job is as harmless as what a sheet prints.
#[test]
fn no_message_holds_what_a_terminal_obeys() {
    let sound = job(NAMES);
    for (from, to) in [
        ("corner A free", "corner A free\n hang \"\\u{1b}]0;x\\u{7}\" before=1"),
        ("corner A free", "corner A free\n hang \"\\u{202e}1\" before=1"),
        ("width 54", "width \"5\\u{1b}[2J4\""),
        ("width 54", "width 54\n picture \"\\u{1b}[2J.png\""),
        ("units in", "units \"\\u{1b}[2J\""),
        ("units in", "units in // \u{1b}[2J\u{202e}\n include \"\\u{9b}2J.kdl\""),
        ("room \"study\"", "room \"study\" cloth=\"\\u{1b}[2J\""),
        ("free\n}", "free\n \u{1b}[2J\n}"),
        ("free\n}", "free\n \"\\u{1b}[2J\" 3\n}"),
        ("title=\"Title\"", "title=\"Title\" \"\\u{1b}[2J\"=3"),
    ] {
        let text = sound.replace(from, to);
        assert_ne!(text, sound);
        for form in ["short", "human"] {
            let output = run_with(text.as_bytes(), &["check", "-", "--report", form]);
            let told = said(&output);
            assert_eq!(output.status.code(), Some(1), "{to}: {told}");
            let orders = |c: &char| (c.is_control() && *c != '\n') || ('\u{202a}'..='\u{202e}').contains(c);
            assert_eq!(told.chars().find(orders), None, "{to}: {told:?}");
        }
    }
}
