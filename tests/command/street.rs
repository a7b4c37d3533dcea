//! Jobs of many rooms, within a bound of memory.

use std::fs;

use crate::threads::street::street;
use crate::{path, run_within, said};

/// Of address space: half as much again as such a run takes.
const MEGABYTES: u32 = 500;

/// Of work, by all threads together, in a build that is hardly optimised.
const SECONDS: u32 = 400;

/// Sixty rooms in all sets and formats.
#[test]
fn sixty_rooms_are_drawn_within_bounds() {
    let here = tempfile::tempdir().expect("a folder");
    let job = path(&here, "street.kdl");
    fs::write(&job, street(60)).expect("a job file");
    let out = path(&here, "binder");
    let output = run_within(MEGABYTES, SECONDS, &["draw", &job, "--out", &out]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(output.stderr.is_empty(), "nothing is told of progress where nobody looks: {}", said(&output));
    for set in ["crew", "workroom", "approval"] {
        assert!(fs::metadata(format!("{out}/{set}.pdf")).is_ok_and(|file| file.len() > 100_000), "{set}");
    }
    let sheets = fs::read_dir(format!("{out}/svg")).expect("the sheets").count();
    assert!(sheets > 1_000, "{sheets} sheets");
}
