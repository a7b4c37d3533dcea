//! What comes out does not depend on how many threads there are.

#[path = "../common/street.rs"]
pub mod street;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Every file under a folder by its path.
fn files(folder: &Path, into: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            files(&path, into);
        } else {
            into.insert(path.to_string_lossy().into_owned(), fs::read(&path).expect("a file"));
        }
    }
}

/// Two rooms, which are few enough to be compared by their starts side by side.
#[test]
fn one_thread_and_several_write_the_same_bytes() {
    let here = tempfile::tempdir().expect("a folder");
    let job = here.path().join("street.kdl");
    fs::write(&job, street::street(2)).expect("a job file");
    let drawn = |threads: &str| {
        let folder = here.path().join(threads);
        let mut command = Command::new(env!("CARGO_BIN_EXE_clothwright"));
        command.env("RAYON_NUM_THREADS", threads).arg("draw").arg(&job).arg("--out").arg(&folder);
        let output = command.output().expect("the program runs");
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        assert!(output.stderr.is_empty(), "nothing is told of progress where nobody looks");
        let mut found = BTreeMap::new();
        files(&folder, &mut found);
        let inside = |(path, bytes): (String, Vec<u8>)| (path.replace(&*folder.to_string_lossy(), ""), bytes);
        found.into_iter().map(inside).collect::<BTreeMap<_, _>>()
    };
    let one = drawn("1");
    assert!(one.len() > 30, "a whole binder");
    let four = drawn("4");
    assert!(one.keys().eq(four.keys()));
    assert!(one.iter().all(|(path, bytes)| four[path] == *bytes));
}
