//! The real program: what it writes, what it says, and its exit code.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

mod compare;
mod edit;
mod faults;
mod hostile;
mod names;
mod pictures;
mod shared;
#[cfg(unix)]
mod street;
mod threads;

const PARLOUR: &str = "jobs/tern-inn-parlour.kdl";

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_clothwright"))
}

fn run(arguments: &[&str]) -> Output {
    program().args(arguments).output().expect("the program starts")
}

/// Runs the program with at most so many megabytes of address space and seconds of work, by the system's own
/// count: what needs more fails, on however slow or busy a machine.
#[cfg(unix)]
fn run_within(megabytes: u32, seconds: u32, arguments: &[&str]) -> Output {
    let script = format!("ulimit -v {}; ulimit -t {seconds}; exec \"$0\" \"$@\"", megabytes * 1024);
    let binary = env!("CARGO_BIN_EXE_clothwright");
    // Every thread has address space that it hardly touches: two of them on any machine.
    let mut shell = Command::new("sh");
    shell.args(["-c", &script, binary]).args(arguments).env("RAYON_NUM_THREADS", "2");
    shell.output().expect("a shell starts")
}

/// Runs the program with these bytes on its standard input.
fn run_with(input: &[u8], arguments: &[&str]) -> Output {
    let mut child = program()
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut pipe = child.stdin.take().expect("its input is a pipe");
    std::thread::scope(|scope| {
        // A program that has read enough closes its end.
        scope.spawn(move || drop(pipe.write_all(input)));
        child.wait_with_output().expect("the program ends")
    })
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

fn path(room: &TempDir, name: &str) -> String {
    room.path().join(name).into_os_string().into_string().expect("a path in UTF-8")
}

/// Every file under a folder, with its bytes, in order.
fn found(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        if entry.path().is_dir() {
            all.extend(
                found(&entry.path()).into_iter().map(|(below, bytes)| (format!("{name}/{below}"), bytes)),
            );
        } else {
            all.push((name, fs::read(entry.path()).unwrap()));
        }
    }
    all.sort();
    all
}

fn names(folder: &Path) -> Vec<String> {
    found(folder).into_iter().map(|(name, _)| name).collect()
}

/// The job of `file` is refused with `code`, the words are said, and no folder appears.
fn refused(file: &str, code: i32, words: &[&str]) {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    for arguments in [vec!["draw", file, "--out", &out], vec!["check", file]] {
        let output = run(&arguments);
        assert_eq!(output.status.code(), Some(code), "{arguments:?}: {}", said(&output));
        for word in words {
            assert!(said(&output).contains(word), "{word:?} is not in {:?}", said(&output));
        }
    }
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 0, "nothing is written");
}

/// A file with these bytes is refused.
fn refused_text(bytes: &[u8], code: i32, words: &[&str]) {
    let room = tempfile::tempdir().unwrap();
    let file = path(&room, "job.kdl");
    fs::write(&file, bytes).unwrap();
    refused(&file, code, words);
}

#[test]
fn a_binder_holds_what_the_readme_says() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let output = run(&["draw", PARLOUR, "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(output.stderr.is_empty(), "{}", said(&output));

    let all = names(Path::new(&out));
    let (sheets, files): (Vec<&String>, Vec<&String>) = all.iter().partition(|name| name.starts_with("svg/"));
    assert_eq!(files, ["approval.pdf", "costs.pdf", "crew.pdf", "cut-list.csv", "plan.json", "workroom.pdf"]);

    // One SVG for each page of each PDF.
    let pages = |reader: &str| {
        let file = Path::new(&out).join(format!("{reader}.pdf"));
        lopdf::Document::load(file).unwrap().get_pages().len()
    };
    for reader in ["crew", "workroom", "approval", "costs"] {
        let own = sheets.iter().filter(|name| name.starts_with(&format!("svg/{reader}-"))).count();
        assert_eq!(own, pages(reader), "{reader}");
    }

    let summary = String::from_utf8(output.stdout).unwrap();
    for words in ["Order", "yd of", "does not meet", "Assumed", "Written", "crew.pdf"] {
        assert!(summary.contains(words), "{words:?} is not in {summary}");
    }
    assert!(!summary.contains('\u{1b}'), "plain when piped");
}

/// That every demo job fits its papers is for `tests/readback/`.
#[test]
fn every_paper_has_its_size() {
    // Landscape, in points: ASME Y14.1 and ISO 216 (trade rules, section 5); ARCH B from memory.
    for (paper, expected) in [
        ("letter", [792.0, 612.0]),
        ("tabloid", [1224.0, 792.0]),
        ("arch-b", [1296.0, 864.0]),
        ("a4", [841.89, 595.28]),
        ("a3", [1190.55, 841.89]),
    ] {
        let room = tempfile::tempdir().unwrap();
        let out = path(&room, "binder");
        let output =
            run(&["draw", "jobs/feature-wall.kdl", "--out", &out, "--paper", paper, "--format", "pdf"]);
        assert_eq!(output.status.code(), Some(0), "{paper}: {}", said(&output));
        let crew = lopdf::Document::load(Path::new(&out).join("crew.pdf")).unwrap();
        let page = crew.get_dictionary(crew.get_pages()[&1]).unwrap();
        let sides = page.get(b"MediaBox").unwrap().as_array().unwrap();
        let sides: Vec<f32> = sides.iter().map(|side| side.as_float().unwrap()).collect();
        assert_eq!(sides[2..], expected, "{paper}");
    }
}

#[test]
fn less_can_be_asked_for() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let output =
        run(&["draw", PARLOUR, "--out", &out, "--set", "crew", "--set", "workroom", "--format", "pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(names(Path::new(&out)), ["crew.pdf", "workroom.pdf"]);

    let output = run(&["draw", PARLOUR, "--out", &out, "--format", "csv", "--format", "json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(names(Path::new(&out)), ["crew.pdf", "cut-list.csv", "plan.json", "workroom.pdf"]);
}

#[test]
fn a_job_may_wish_for_its_sets_and_the_command_line_has_the_last_word() {
    let room = tempfile::tempdir().unwrap();
    let (job, out) = (path(&room, "job.kdl"), path(&room, "binder"));
    let text = fs::read_to_string("jobs/feature-wall.kdl").unwrap();
    let (head, rest) = text.split_once("date ").expect("a line of the job's facts");
    fs::write(&job, format!("{head}set crew\n    set approval\n    date {rest}")).unwrap();
    let output = run(&["draw", &job, "--out", &out, "--format", "pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(names(Path::new(&out)), ["approval.pdf", "crew.pdf"]);
    let other = path(&room, "other");
    let output = run(&["draw", &job, "--out", &other, "--format", "pdf", "--set", "workroom"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(names(Path::new(&other)), ["workroom.pdf"]);
}

/// Lists that go on over several sheets beside drawings of several rooms: every sheet has its own name.
#[test]
fn a_job_of_many_rooms_is_drawn() {
    let room = tempfile::tempdir().unwrap();
    let (job, out) = (path(&room, "job.kdl"), path(&room, "binder"));
    let mut text = String::from(
        "units in\njob \"J\" title=\"Rooms\" {\n paper letter\n}\ncloth \"c\" {\n width 54\n}\n",
    );
    for number in 1..=6 {
        text.push_str(&format!("room \"room {number}\" {{\n"));
        for (wall, corner) in ["A", "B", "C", "D"].iter().enumerate() {
            let lines = format!(" corner {corner} inside\n wall {wall} {{\n  width 147\n  height 97\n }}\n");
            text.push_str(&lines);
        }
        text.push_str("}\n");
    }
    fs::write(&job, text).unwrap();
    let output = run(&["draw", &job, "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
}

#[test]
fn the_date_of_issue_can_be_given() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let arguments =
        ["draw", PARLOUR, "--out", &out, "--set", "approval", "--format", "pdf", "--date", "2031-12-24"];
    assert_eq!(run(&arguments).status.code(), Some(0));
    let document = lopdf::Document::load(Path::new(&out).join("approval.pdf")).unwrap();
    assert!(document.extract_text(&[1]).unwrap().contains("2031-12-24"));
}

#[test]
fn a_job_can_come_from_standard_input() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let job = fs::read(PARLOUR).unwrap();
    let output = run_with(&job, &["draw", "-", "--out", &out, "--format", "csv"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(names(Path::new(&out)), ["cut-list.csv"]);
}

#[test]
fn equal_jobs_give_equal_bytes_everywhere() {
    let room = tempfile::tempdir().unwrap();
    let job = fs::canonicalize(PARLOUR).unwrap();
    let draw = |name: &str, folder: &Path, job: &Path, environment: &[(&str, &str)]| {
        let out = room.path().join(name);
        let output = program()
            .args([Path::new("draw"), job, Path::new("--out"), &out])
            .current_dir(folder)
            .env_clear()
            .envs(environment.iter().copied())
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", said(&output));
        found(&out)
    };
    let first = draw("first", Path::new("."), Path::new(PARLOUR), &[("RAYON_NUM_THREADS", "1")]);
    let tokyo = [
        ("TZ", "Asia/Tokyo"),
        ("LC_ALL", "tr_TR.UTF-8"),
        ("LANG", "tr_TR.UTF-8"),
        ("RAYON_NUM_THREADS", "2"),
        ("SOURCE_DATE_EPOCH", "1"),
    ];
    // Turkish has an i of its own, and Persian figures, a calendar and a direction.
    let tehran = [
        ("TZ", "Asia/Tehran"),
        ("LC_ALL", "fa_IR.UTF-8"),
        ("RAYON_NUM_THREADS", "3"),
        ("COLUMNS", "40"),
        ("HOME", "/nowhere"),
        ("USER", "somebody"),
    ];
    let again = [
        draw("tokyo", room.path(), &job, &tokyo),
        draw("tehran", Path::new("/"), &job, &tehran),
        // Over the binder of the first run.
        draw("first", Path::new("."), &job, &[("RAYON_NUM_THREADS", "2")]),
    ];
    for second in again {
        for ((name, bytes), (other, others)) in first.iter().zip(&second) {
            assert_eq!(name, other);
            assert!(bytes == others, "{name} differs");
        }
        assert_eq!(first.len(), second.len());
    }
}

#[test]
fn an_old_binder_is_replaced_and_other_files_stay() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let notes = Path::new(&out).join("notes from the site.txt");
    fs::create_dir(&out).unwrap();
    fs::write(&notes, "mine").unwrap();
    fs::write(Path::new(&out).join("crew.pdf"), "old").unwrap();
    assert!(run(&["draw", PARLOUR, "--out", &out]).status.success());
    assert_eq!(fs::read_to_string(&notes).unwrap(), "mine");
    assert!(fs::read(Path::new(&out).join("crew.pdf")).unwrap().starts_with(b"%PDF-"));
    assert!(names(Path::new(&out)).iter().all(|name| !name.starts_with('.')), "no files of work are left");
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 1);
}

#[test]
fn a_job_with_problems_leaves_an_old_binder_alone() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    assert!(run(&["draw", PARLOUR, "--out", &out]).status.success());
    let before = found(Path::new(&out));
    let bad = path(&room, "bad.kdl");
    fs::write(&bad, "job \"X-1\" title=\"No rooms\"\n").unwrap();
    assert_eq!(run(&["draw", &bad, "--out", &out]).status.code(), Some(1));
    assert_eq!(found(Path::new(&out)), before);
}

#[test]
fn wrong_usage_is_told_with_code_2() {
    for arguments in [
        &[][..],
        &["draw"],
        &["draw", PARLOUR],
        &["draw", PARLOUR, "--out", "x", "--paper", "b5"],
        &["draw", PARLOUR, "--out", "x", "--set", "electrician"],
        &["draw", PARLOUR, "--out", "x", "--date", "2026-02-30"],
        &["check"],
        &["paint"],
    ] {
        let output = run(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(
            String::from_utf8_lossy(&output.stderr).contains("--help"),
            "{arguments:?}: {}",
            said(&output)
        );
    }
    assert_eq!(run(&["--help"]).status.code(), Some(0));
    assert_eq!(run(&["--version"]).status.code(), Some(0));
}

#[test]
fn what_cannot_be_read_is_told_with_code_2() {
    refused("no-such-job.kdl", 2, &["there is no file no-such-job.kdl"]);
    refused("jobs", 2, &["jobs is a folder"]);
}

#[cfg(unix)]
#[test]
fn a_pipe_without_a_writer_does_not_hang() {
    let room = tempfile::tempdir().unwrap();
    let pipe = path(&room, "pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    refused(&pipe, 2, &["is not a plain file"]);
}

#[test]
fn problems_in_the_job_are_told_with_code_1_and_their_place() {
    refused_text(b"", 1, &["empty-file"]);
    refused_text(b"job \"T-1\" {\n", 1, &["job.kdl:1"]);
    refused_text(b"units in\njob \"T-1\" title=\"x\"\nsofa 3\n", 1, &["job.kdl:3:1", "sofa"]);
    refused_text(b"units in\njob \"caf\xe9\"\n", 1, &["not-utf8", "job.kdl:2:9"]);
}

#[test]
fn several_files_are_checked_in_one_run() {
    let room = tempfile::tempdir().unwrap();
    let bad = path(&room, "bad.kdl");
    fs::write(&bad, "units in\nsofa 3\n").unwrap();
    let output = run(&["check", PARLOUR, &bad, "--report", "short"]);
    assert_eq!(output.status.code(), Some(1));
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.lines().all(|line| line.starts_with(&bad)) && text.contains("sofa"), "{text}");

    let output = run(&["check", &bad, "--report", "json"]);
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(report.as_array().is_some_and(|problems| !problems.is_empty()));

    let output = run(&["check", PARLOUR, "no-such-job.kdl"]);
    assert_eq!(output.status.code(), Some(2));
}

#[test]
fn names_from_a_job_cannot_break_out() {
    let room = tempfile::tempdir().unwrap();
    let job = fs::read_to_string(PARLOUR).unwrap();
    let hostile = job.replace("\"parlour\"", "\"../../<script>&amp;</script>'\"");
    assert_ne!(job, hostile);
    let hostile = hostile.replace("T-0417", "=cmd|' /C x'!A0");
    let file = path(&room, "job.kdl");
    fs::write(&file, hostile).unwrap();
    let out = path(&room, "a/binder");
    let output = run(&["draw", &file, "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 2, "nothing beside the binder");
    for (name, bytes) in found(Path::new(&out)) {
        if name.ends_with(".svg") {
            assert!(
                name["svg/".len()..].bytes().all(|b| b.is_ascii_alphanumeric() || b"-.".contains(&b)),
                "{name}"
            );
            let text = String::from_utf8(bytes).unwrap();
            assert!(!text.contains("<script"), "{name}");
        } else if name == "cut-list.csv" {
            let mut rows = csv::Reader::from_reader(&bytes[..]);
            for row in rows.records() {
                for cell in &row.unwrap() {
                    assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{cell}");
                }
            }
        }
    }
}

#[test]
fn the_first_job_of_the_readme_works_as_it_stands() {
    let readme = fs::read_to_string("README.md").unwrap();
    let job = readme.split("```kdl\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let room = tempfile::tempdir().unwrap();
    let file = path(&room, "bedroom.kdl");
    fs::write(&file, job).unwrap();
    let output = run(&["check", &file]);
    assert_eq!(String::from_utf8_lossy(&output.stdout), "No problems found.\n");
    let output = run(&["draw", &file, "--out", &path(&room, "bedroom")]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
}

/// A job without prices has no costs to draw; with them, the contractor's set alone can be had.
#[test]
fn costs_need_prices() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let output = run(&["draw", "jobs/feature-wall.kdl", "--out", &out, "--set", "costs"]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert!(said(&output).contains("no-prices"), "{}", said(&output));
    assert!(!Path::new(&out).exists());

    let output = run(&["draw", PARLOUR, "--out", &out, "--set", "costs", "--format", "pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(names(Path::new(&out)), ["costs.pdf"]);
}
