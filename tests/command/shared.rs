//! Shared files on the disk: from which folders they may come.

use std::fs;

use super::{path, run, said};

const JOB: &str = "units in\ninclude \"../shop/cloth.kdl\"\njob J-1 title=\"Shared\"\n\
    room \"study\" {\n corner A free\n wall 1 {\n  width 120\n  height 96\n }\n corner B free\n}\n";

#[test]
fn a_file_outside_the_jobs_folder_must_be_allowed() {
    let room = tempfile::tempdir().unwrap();
    fs::create_dir_all(room.path().join("jobs/cloths")).unwrap();
    fs::create_dir(room.path().join("shop")).unwrap();
    let job = path(&room, "jobs/job.kdl");
    fs::write(&job, JOB).unwrap();
    fs::write(room.path().join("shop/cloth.kdl"), "cloth \"c\" {\n    width \"54in\"\n}\n").unwrap();
    let (shop, cloths) = (path(&room, "shop"), path(&room, "jobs/cloths"));

    for refused in [vec!["check", &job], vec!["check", &job, "--shared", &cloths]] {
        let output = run(&refused);
        assert_eq!(output.status.code(), Some(1), "{}", said(&output));
        assert!(said(&output).contains("include-outside") && said(&output).contains("--shared FOLDER"));
    }
    for command in ["check", "draw"] {
        let out = path(&room, "binder");
        let mut arguments = vec![command, &job, "--shared", &cloths, "--shared", &shop];
        arguments.extend(if command == "draw" { vec!["--out", &out] } else { vec![] });
        let output = run(&arguments);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    }
    // What is not there is told as such only where one may look.
    fs::remove_file(room.path().join("shop/cloth.kdl")).unwrap();
    assert!(said(&run(&["check", &job])).contains("include-outside"));
    assert!(said(&run(&["check", &job, "--shared", &shop])).contains("include-missing"));
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_followed_before_it_is_judged() {
    let room = tempfile::tempdir().unwrap();
    fs::create_dir(room.path().join("jobs")).unwrap();
    fs::write(room.path().join("cloth.kdl"), "cloth \"c\" {\n    width \"54in\"\n}\n").unwrap();
    std::os::unix::fs::symlink("../cloth.kdl", room.path().join("jobs/cloth.kdl")).unwrap();
    let job = path(&room, "jobs/job.kdl");
    fs::write(&job, JOB.replace("../shop/", "")).unwrap();
    let output = run(&["check", &job]);
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("include-outside"), "{}", said(&output));
    let output = run(&["check", &job, "--shared", room.path().to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
}

#[cfg(unix)]
#[test]
fn a_pipe_is_not_included() {
    let room = tempfile::tempdir().unwrap();
    let pipe = path(&room, "cloth.kdl");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let job = path(&room, "job.kdl");
    fs::write(&job, JOB.replace("../shop/", "")).unwrap();
    let output = run(&["check", &job]);
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("not a plain file"), "{}", said(&output));
}
