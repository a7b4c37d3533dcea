//! Pictures of a cloth on the disk: found, bounded, refused.

use std::fs;
use std::path::Path;

use super::{found, path, run, said};

const JOB: &str = "jobs/lantern-row-bay.kdl";
const PICTURE: &str = "jobs/fern-trellis.png";

/// What checking the demo job says when its picture is a file with these bytes.
fn checked(picture: &[u8]) -> String {
    let room = tempfile::tempdir().unwrap();
    let job = path(&room, "job.kdl");
    fs::copy(JOB, &job).unwrap();
    fs::write(room.path().join("fern-trellis.png"), picture).unwrap();
    let output = run(&["check", &job]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    said(&output)
}

#[test]
fn what_is_no_usable_picture_is_refused() {
    let whole = fs::read(PICTURE).unwrap();
    let mut wide = whole.clone();
    // The width and the height stand behind the signature and the name of the first chunk.
    wide[16..24].copy_from_slice(&[0, 0, 0xc3, 0x50, 0, 0, 0xc3, 0x50]);
    let mut broken = whole.clone();
    broken[whole.len() / 2] ^= 0x55;
    for (bytes, words) in [
        (&whole[..whole.len() / 2], "damaged or cut short"),
        (&whole[..20], "damaged or cut short"),
        (&broken, "damaged or cut short"),
        (&wide, "50000 × 50000 pixels"),
        (b"GIF89a", "not a PNG file"),
        (b"", "not a PNG file"),
    ] {
        let told = checked(bytes);
        assert!(told.contains("picture-unreadable") && told.contains(words), "{told}");
    }
    let large = vec![0; (32 << 20) + 1];
    assert!(checked(&large).contains("larger than 32 MB"));
}

#[cfg(unix)]
#[test]
fn a_pipe_is_no_picture() {
    let room = tempfile::tempdir().unwrap();
    let job = path(&room, "job.kdl");
    fs::copy(JOB, &job).unwrap();
    let pipe = room.path().join("fern-trellis.png");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let output = run(&["check", &job]);
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("not a plain file"), "{}", said(&output));
}

#[test]
fn a_picture_may_lie_with_the_shared_cloth_that_names_it() {
    let room = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(JOB).unwrap();
    let start = text.find("cloth \"").unwrap();
    let end = start + text[start..].find("\n}\n").unwrap() + 3;
    fs::create_dir_all(room.path().join("jobs")).unwrap();
    fs::create_dir_all(room.path().join("cloths/pictures")).unwrap();
    let cloth = format!("units in\n{}", text[start..end].replace("fern-", "pictures/fern-"));
    fs::write(room.path().join("cloths/fern.kdl"), cloth).unwrap();
    fs::copy(PICTURE, room.path().join("cloths/pictures/fern-trellis.png")).unwrap();
    let job = path(&room, "jobs/job.kdl");
    fs::write(&job, format!("include \"../cloths/fern.kdl\"\n{}{}", &text[..start], &text[end..])).unwrap();
    let (cloths, out) = (path(&room, "cloths"), path(&room, "binder"));
    let ask = ["--set", "approval", "--format", "svg", "--format", "pdf"];
    let output = run(&[&["draw", &job, "--out", &out, "--shared", &cloths], &ask[..]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let pictured = |bytes: &[u8]| bytes.windows(21).any(|part| part == b"data:image/png;base64");
    let all = found(Path::new(&out));
    let count = all.iter().filter(|(name, bytes)| name.contains("elevation") && pictured(bytes)).count();
    assert_eq!(count, 2, "each wall is pictured");
    for (name, bytes) in all {
        // About twice what the same sheets take without.
        assert!(bytes.len() < 200_000, "{name} has {} bytes", bytes.len());
    }
}
