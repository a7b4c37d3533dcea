//! Tests within bounds of work and memory that ask no clock.

use std::process::Command;

/// What a test may take.
#[derive(Clone, Copy, Debug)]
pub struct Bounds {
    /// Seconds of work of all its threads together, as the system counts them: a busy machine takes longer, and
    /// counts the same.
    pub seconds: u32,
    /// Megabytes of address space.
    pub megabytes: u32,
}

/// Set in the process that does the work.
const WITHIN: &str = "CLOTHWRIGHT_WITHIN_BOUNDS";

/// Does the work of the test of this name in a process of its own, which the system ends beyond the bounds.
/// Elsewhere than on Unix it is done without bounds.
pub fn within(bounds: Bounds, test: &str, work: fn()) {
    if !cfg!(unix) || std::env::var_os(WITHIN).is_some() {
        return work();
    }
    let Bounds { seconds, megabytes } = bounds;
    let script = format!("ulimit -t {seconds} && ulimit -v {} && exec \"$0\" \"$@\"", megabytes * 1024);
    let this = std::env::current_exe().expect("this test has a file");
    let output = Command::new("sh")
        .args(["-c", &script])
        .arg(this)
        .args(["--exact", test, "--nocapture"])
        .env(WITHIN, "yes")
        .output()
        .expect("a shell starts");
    let told =
        [output.stdout, output.stderr].map(|text| String::from_utf8_lossy(&text).into_owned()).concat();
    eprintln!("{told}");
    let ended = output.status.success() && told.contains("1 passed");
    assert!(ended, "{test} failed or passed {bounds:?}: {}", output.status);
}
