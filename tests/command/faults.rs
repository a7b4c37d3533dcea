//! What goes wrong outside the program: folders that cannot be written, full disks, readers that
//! go away, signals, and runs at the same time.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::{found, names, path, program, run, said};

/// A job that is soon planned, since it is only the writing that matters here.
const WALL: &str = "jobs/feature-wall.kdl";

#[test]
fn a_folder_that_cannot_be_written_is_told_with_code_2() {
    let room = tempfile::tempdir().unwrap();
    let file = path(&room, "file");
    fs::write(&file, "mine").unwrap();
    let output = run(&["draw", WALL, "--out", &file]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("is a file, not a folder"), "{}", said(&output));

    let below = path(&room, "file/binder");
    let output = run(&["draw", WALL, "--out", &below]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");

    let binder = room.path().join("binder");
    fs::create_dir_all(binder.join("plan.json")).unwrap();
    let output = run(&["draw", WALL, "--out", binder.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("where a file of the binder belongs"), "{}", said(&output));
    assert!(names(&binder).is_empty());
}

/// A folder without the right to write, also for a superuser: the program then runs as nobody.
#[cfg(unix)]
#[test]
fn a_read_only_folder_stays_as_it_is() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    const NOBODY: u32 = 65_534;

    let room = tempfile::tempdir().unwrap();
    let superuser = fs::metadata(room.path()).unwrap().uid() == 0;
    // What nobody needs to reach: the program, the job, the folder.
    let binary = room.path().join("clothwright");
    fs::copy(env!("CARGO_BIN_EXE_clothwright"), &binary).unwrap();
    let job = room.path().join("job.kdl");
    fs::copy(WALL, &job).unwrap();
    let folder = room.path().join("shelf");
    fs::create_dir(&folder).unwrap();
    fs::write(folder.join("crew.pdf"), "old").unwrap();
    let may = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    may(room.path(), 0o755);
    may(&folder, 0o555);

    for out in [folder.clone(), folder.join("binder")] {
        let mut command = Command::new(&binary);
        command.args([Path::new("draw"), &job, Path::new("--out"), &out]).current_dir("/");
        if superuser {
            command.uid(NOBODY).gid(NOBODY);
        }
        let output = command.output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains("cannot write"), "{}", said(&output));
        assert_eq!(found(&folder), [("crew.pdf".to_owned(), b"old".to_vec())]);
    }
    may(&folder, 0o755);
}

/// A full disk: the largest file a process may write is set below the size of a binder.
#[cfg(unix)]
#[test]
fn a_write_that_fails_leaves_the_old_binder() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    assert!(run(&["draw", WALL, "--out", &out]).status.success());
    fs::write(Path::new(&out).join("crew.pdf"), "old").unwrap();
    let before = found(Path::new(&out));
    // `ulimit -f` counts blocks of 512 or 1024 bytes; ignoring SIGXFSZ makes the write fail.
    let script = "trap '' XFSZ; ulimit -f 8; exec \"$0\" draw \"$1\" --out \"$2\"";
    let output = Command::new("sh")
        .args(["-c", script, env!("CARGO_BIN_EXE_clothwright"), WALL, &out])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("cannot write"), "{}", said(&output));
    assert_eq!(found(Path::new(&out)), before);
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_concern_of_the_binder() {
    let room = tempfile::tempdir().unwrap();
    let out = path(&room, "binder");
    let mut child = program()
        .args(["draw", WALL, "--out", &out])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(output.stderr.is_empty(), "{}", said(&output));
    assert!(names(Path::new(&out)).len() > 5);
}

#[test]
fn runs_into_one_folder_at_once_do_not_mix() {
    let room = tempfile::tempdir().unwrap();
    let jobs: Vec<PathBuf> = ["A-1", "B-2", "C-3"]
        .iter()
        .map(|number| {
            let file = room.path().join(format!("{number}.kdl"));
            fs::write(&file, fs::read_to_string(WALL).unwrap().replace("F-0012", number)).unwrap();
            file
        })
        .collect();
    let out = path(&room, "binder");
    let draw = |job: &Path, out: &Path| {
        program()
            .args([Path::new("draw"), job, Path::new("--out"), out])
            .stdout(Stdio::null())
            .spawn()
            .unwrap()
    };
    let alone: Vec<Vec<(String, Vec<u8>)>> = jobs
        .iter()
        .map(|job| {
            let out = job.with_extension("alone");
            assert!(draw(job, &out).wait().unwrap().success());
            found(&out)
        })
        .collect();
    for _ in 0..3 {
        let children: Vec<_> = jobs.iter().map(|job| draw(job, Path::new(&out))).collect();
        for mut child in children {
            assert!(child.wait().unwrap().success());
        }
        let now = found(Path::new(&out));
        assert!(alone.contains(&now), "the binder of one run, whole");
    }
}

/// A signal at any moment of a run that makes all files: the old binder is there, whole, or the new one; and
/// what the program says of it is true.
#[cfg(unix)]
#[test]
fn a_signal_leaves_one_binder_whole() {
    use std::os::unix::process::ExitStatusExt;
    const SIGINT: i32 = 2;

    let room = tempfile::tempdir().unwrap();
    let jobs = ["A-1", "B-2"].map(|number| {
        let file = room.path().join(format!("{number}.kdl"));
        fs::write(&file, fs::read_to_string(WALL).unwrap().replace("F-0012", number)).unwrap();
        file
    });
    let out = room.path().join("binder");
    let draw = |job: &Path, out: &Path| {
        let mut command = program();
        command.args([Path::new("draw"), job, Path::new("--out"), out]);
        command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
    };
    let alone = jobs.each_ref().map(|job| {
        let out = job.with_extension("alone");
        assert!(draw(job, &out).wait().unwrap().success());
        found(&out)
    });
    assert!(alone[0].len() > 8, "SVG, PDF, CSV and JSON");
    // Only when the signals are sent depends on this.
    let start = std::time::Instant::now();
    assert!(draw(&jobs[0], &out).wait().unwrap().success());
    let whole_run = start.elapsed();
    // Forty moments, all over the run and closer together towards its end, where the files are written.
    let moments = (0..10).map(|k| 9 * k).chain((0..30).map(|k| 90 + k));
    let mut outcomes = [0; 3];
    let mut holds = 0;
    for (index, moment) in moments.enumerate() {
        let next = (index + 1) % 2;
        let child = draw(&jobs[next], &out);
        std::thread::sleep(whole_run * moment / 100);
        // A process that has ended is not there to be told.
        let _ = Command::new("kill").args(["-INT", &child.id().to_string()]).stderr(Stdio::null()).status();
        let output = child.wait_with_output().unwrap();
        let now = found(&out);
        match (output.status.code(), output.status.signal()) {
            // It was done, or came to be done.
            (Some(0), _) => {
                assert!(now == alone[next], "at {moment}: done, but not there");
                assert!(said(&output).contains("Written"), "{}", said(&output));
                (holds, outcomes[0]) = (next, outcomes[0] + 1);
            }
            // While the files were written.
            (Some(130), _) => {
                assert!(now == alone[holds], "at {moment}: stopped, but changed");
                assert!(said(&output).contains("stopped before"), "{}", said(&output));
                outcomes[1] += 1;
            }
            // Before: the system ends it, without a word.
            (None, Some(SIGINT)) => {
                // Behind its last write it may be ended too.
                let whole = alone.iter().position(|whole| *whole == now);
                holds = whole.unwrap_or_else(|| panic!("at {moment}: neither binder"));
                outcomes[2] += 1;
            }
            status => panic!("at {moment}: {status:?}: {}", said(&output)),
        }
    }
    eprintln!("{} runs were done, {} were stopped, {} were ended", outcomes[0], outcomes[1], outcomes[2]);
    // However they fell, a run that nobody stops makes its binder whole.
    assert!(draw(&jobs[0], &out).wait().unwrap().success() && found(&out) == alone[0]);
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 5, "nothing is left beside the binders");
}

/// Somebody removes files of the binder, or all of it, again and again while runs write it: each run says that
/// it is done, or what it could not write; and no file is ever half a file.
#[cfg(unix)]
#[test]
fn files_that_go_while_a_run_writes_do_no_harm() {
    use std::sync::atomic::{AtomicBool, Ordering};
    let room = tempfile::tempdir().unwrap();
    let (out, alone) = (path(&room, "binder"), path(&room, "alone"));
    assert!(run(&["draw", WALL, "--out", &alone]).status.success());
    let whole = found(Path::new(&alone));
    let folder = Path::new(&out);
    for all in [false, true] {
        let done = AtomicBool::new(false);
        let outputs: Vec<_> = std::thread::scope(|scope| {
            scope.spawn(|| {
                while !done.load(Ordering::Relaxed) {
                    if all {
                        let _ = fs::remove_dir_all(folder);
                    }
                    for (name, _) in &whole {
                        let _ = fs::remove_file(folder.join(name));
                    }
                    std::thread::yield_now();
                }
            });
            let outputs = (0..6).map(|_| run(&["draw", WALL, "--out", &out])).collect();
            done.store(true, Ordering::Relaxed);
            outputs
        });
        // Judged when nobody removes any more: a test that fails ends.
        for output in outputs {
            match output.status.code() {
                Some(0) => assert!(said(&output).contains("Written"), "{}", said(&output)),
                Some(2) if all => assert!(said(&output).contains("cannot write"), "{}", said(&output)),
                code => panic!("{code:?}: {}", said(&output)),
            }
        }
        for one in if folder.exists() { found(folder) } else { Vec::new() } {
            assert!(whole.contains(&one) || one.0.starts_with(".clothwright-"), "{}", one.0);
        }
        let output = run(&["draw", WALL, "--out", &out]);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        assert!(found(folder) == whole, "the next run makes it whole");
    }
}

/// A file system that is really full: one in memory, of a few kilobytes, that only the program and its shell see.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_the_old_binder() {
    let room = tempfile::tempdir().unwrap();
    let disk = path(&room, "disk");
    fs::create_dir(&disk).unwrap();
    let inside = |script: &str| {
        let script = format!("mount -t tmpfs -o size=64k none \"$2\" || exit 77\n{script}");
        let arguments = ["-r", "-m", "sh", "-c", &script, env!("CARGO_BIN_EXE_clothwright"), WALL, &disk];
        Command::new("unshare").args(arguments).output()
    };
    match inside("exit 78") {
        Ok(output) if output.status.code() == Some(78) => {}
        other => {
            eprintln!("NOT TESTED: this machine lets no test mount a file system: {other:?}");
            return;
        }
    }
    let words = "cannot write";
    // A binder that is there already.
    let output = inside(
        "mkdir \"$2/binder\" && echo old >\"$2/binder/crew.pdf\" && echo mine >\"$2/binder/notes\"
        \"$0\" draw \"$1\" --out \"$2/binder\"; echo code $?
        cd \"$2/binder\" && find . | sort && cat crew.pdf notes",
    );
    let told = said(&output.unwrap());
    assert!(told.contains("code 2\n.\n./crew.pdf\n./notes\nold\nmine\n"), "{told}");
    assert!(told.contains(words) && told.contains("No space left"), "{told}");
    // One that would be new, in folders that would be new.
    let output = inside("\"$0\" draw \"$1\" --out \"$2/shelf/binder\"; echo code $?; cd \"$2\" && find .");
    let told = said(&output.unwrap());
    assert!(told.contains("code 2\n.\n") && !told.contains("./"), "{told}");
    assert!(told.contains(words) && told.contains("No space left"), "{told}");
}
