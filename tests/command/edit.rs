//! `new` and `tidy`: the two commands that write job files.

use std::fs;
use std::path::Path;

use super::{PARLOUR, names, path, run, run_with, said};

#[test]
fn a_new_job_passes_the_check_and_can_be_drawn() {
    let room = tempfile::tempdir().unwrap();
    let file = path(&room, "first.kdl");
    let output = run(&["new", &file]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(said(&output).contains(&format!("clothwright check {file}")), "{}", said(&output));
    let output = run(&["check", &file]);
    assert_eq!(String::from_utf8_lossy(&output.stdout), "No problems found.\n");
    let output = run(&["tidy", "--check", &file]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let output = run(&["draw", &file, "--out", &path(&room, "binder")]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));

    let output = run(&["new", "-"]);
    assert_eq!(output.stdout, fs::read(&file).unwrap());
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn a_new_job_never_takes_the_place_of_a_file() {
    let room = tempfile::tempdir().unwrap();
    let file = path(&room, "mine.kdl");
    fs::write(&file, "mine").unwrap();
    for (target, words) in [
        (file.clone(), "is there already"),
        (path(&room, ""), "is there already"),
        (path(&room, "no/folder.kdl"), "there is no such folder"),
    ] {
        let output = run(&["new", &target]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains(words), "{}", said(&output));
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
    assert_eq!(names(room.path()), ["mine.kdl"], "nothing else is left");
}

/// The parlour with spacing that nobody would want.
fn untidy() -> String {
    let text = fs::read_to_string(PARLOUR).unwrap();
    let untidy = text.replace("\n    ", "\n\t").replace(" {\n", "   {  \n\n\n");
    assert_ne!(untidy, text);
    untidy
}

#[test]
fn tidying_changes_blanks_and_nothing_else() {
    let room = tempfile::tempdir().unwrap();
    let file = path(&room, "job.kdl");
    let before = untidy();
    fs::write(&file, &before).unwrap();

    let output = run(&["tidy", "--check", &file]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert_eq!(said(&output), format!("{file} is not tidy\n"));
    assert_eq!(fs::read_to_string(&file).unwrap(), before, "a check writes nothing");

    let output = run(&["tidy", &file]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let after = fs::read_to_string(&file).unwrap();
    let without_blanks = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
    assert_eq!(without_blanks(&after), without_blanks(&before));
    assert!(!after.contains('\t') && after.lines().all(|line| line.trim_end() == line), "{after}");
    assert_eq!(names(room.path()), ["job.kdl"]);

    // Both say the same, to the last byte of the plan.
    let plan = |text: &str, name: &str| {
        let out = path(&room, name);
        let output = run_with(text.as_bytes(), &["draw", "-", "--out", &out, "--format", "json"]);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        fs::read(Path::new(&out).join("plan.json")).unwrap()
    };
    assert_eq!(plan(&before, "before"), plan(&after, "after"));

    let output = run_with(before.as_bytes(), &["tidy", "-"]);
    assert_eq!(String::from_utf8(output.stdout).unwrap(), after);
    assert_eq!(run(&["tidy", &file]).stdout, b"", "a tidy file is not written again");
}

#[test]
fn a_file_with_slips_is_not_tidied() {
    let room = tempfile::tempdir().unwrap();
    let (good, bad) = (path(&room, "good.kdl"), path(&room, "bad.kdl"));
    let slip = untidy().replace("\"parlour\"", "\"parlour");
    fs::write(&bad, &slip).unwrap();
    fs::write(&good, untidy()).unwrap();
    let output = run(&["tidy", &bad, &good, "--report", "short"]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert!(String::from_utf8_lossy(&output.stderr).starts_with(&format!("{bad}:")), "{}", said(&output));
    assert_eq!(fs::read_to_string(&bad).unwrap(), slip);
    assert_ne!(fs::read_to_string(&good).unwrap(), untidy(), "the other file is tidied");
    assert_eq!(run(&["tidy", &path(&room, "none.kdl")]).status.code(), Some(2));
    assert_eq!(run(&["tidy", &path(&room, "")]).status.code(), Some(2));
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_permissions_stay() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let room = tempfile::tempdir().unwrap();
    let (file, link) = (room.path().join("job.kdl"), room.path().join("link.kdl"));
    fs::write(&file, untidy()).unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("job.kdl", &link).unwrap();
    let output = run(&["tidy", link.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);
    assert_ne!(fs::read_to_string(&file).unwrap(), untidy());
}
