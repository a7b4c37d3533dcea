//! Pictures of a cloth on the disk: found, bounded, refused.

use std::fs;
use std::path::Path;
#[cfg(unix)]
use std::process::Command;

#[cfg(unix)]
use super::run_within;
use super::{found, path, run, said};

const JOB: &str = "jobs/lantern-row-bay.kdl";
const PICTURE: &str = "jobs/fern-trellis.png";

/// What a picture within the bounds takes is less than half of both, in a build without optimisation.
#[cfg(unix)]
const MEMORY: u32 = 1_000;
#[cfg(unix)]
const SECONDS: u32 = 20;

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

/// What checking the demo job says when its picture has this name and `make` has filled its folder: the exit code,
/// the words, and the place of the line that names the picture. The program has to do with as much memory and
/// work as small files need.
#[cfg(unix)]
fn bounded(named: &str, shared: &[&str], make: impl FnOnce(&Path)) -> (Option<i32>, String, String) {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("job");
    fs::create_dir(&folder).unwrap();
    let text = fs::read_to_string(JOB).unwrap().replace("fern-trellis.png", named);
    let job = path(&room, "job/job.kdl");
    fs::write(&job, &text).unwrap();
    make(&folder);
    let line = 1 + text.lines().position(|line| line.contains("picture \"")).unwrap();
    let output = run_within(MEMORY, SECONDS, &[&["check", &job, "--report", "short"], shared].concat());
    (output.status.code(), said(&output), format!("{job}:{line}:13: "))
}

/// It is refused for `code`, with these words, at the line that names it.
#[cfg(unix)]
fn refused(named: &str, code: &str, words: &str, shared: &[&str], make: impl FnOnce(&Path)) {
    let (status, told, place) = bounded(named, shared, make);
    assert_eq!(status, Some(1), "{named}: {told}");
    let found = told.lines().any(|line| {
        line.starts_with(&place) && line.contains(&format!("error[{code}]")) && line.contains(words)
    });
    assert!(found, "{named}: {told}");
}

/// Nothing but a plain file in the job's folder is opened: each of these would be read for ever or lead out.
#[cfg(unix)]
#[test]
fn what_is_no_plain_file_beside_the_job_is_no_picture() {
    use std::os::unix::fs::symlink;
    let pipe = |file: &Path| assert!(Command::new("mkfifo").arg(file).status().unwrap().success());
    let (unreadable, outside) = ("picture-unreadable", "picture-outside");
    refused("a.png", unreadable, "not a plain file", &[], |folder| pipe(&folder.join("a.png")));
    refused("a.png", unreadable, "not a plain file", &[], |folder| {
        fs::create_dir(folder.join("a.png")).unwrap();
    });
    refused("a.png", unreadable, "a.png", &[], |folder| {
        symlink("b.png", folder.join("a.png")).unwrap();
        symlink("a.png", folder.join("b.png")).unwrap();
    });
    refused("a.png", outside, "a.png", &[], |folder| {
        symlink("/dev/zero", folder.join("a.png")).unwrap();
    });
    // Also where its folder is allowed.
    refused("a.png", unreadable, "not a plain file", &["--shared", "/dev"], |folder| {
        symlink("/dev/zero", folder.join("a.png")).unwrap();
    });
    refused("/dev/zero", outside, "/dev/zero", &["--shared", "/dev"], |_| {});
    for up in ["../a.png", "../job/../a.png", "b/../../a.png"] {
        refused(up, outside, up, &[], |folder| {
            fs::create_dir(folder.join("b")).unwrap();
            fs::copy(PICTURE, folder.join("../a.png")).unwrap();
        });
    }
    refused("a.png", outside, "a.png", &[], |folder| {
        fs::copy(PICTURE, folder.join("../a.png")).unwrap();
        symlink("../a.png", folder.join("a.png")).unwrap();
    });
}

/// A compressed stream of so many megabytes of zeros, a thousandth as large, which never ends.
#[cfg(unix)]
fn zeros(megabytes: usize) -> Vec<u8> {
    let mut one = Vec::with_capacity(1 << 16);
    flate2::Compress::new(flate2::Compression::best(), false)
        .compress_vec(&[0; 1 << 20], &mut one, flate2::FlushCompress::Full)
        .unwrap();
    // The header of RFC 1950; blocks after a full flush may follow each other in any number.
    [&[0x78, 0xda][..], &one.repeat(megabytes)].concat()
}

/// A PNG file with a sound header of 8-bit grey, of so many pixels, and these chunks.
#[cfg(unix)]
fn png(across: u32, up: u32, chunks: &[(&[u8; 4], &[u8])]) -> Vec<u8> {
    let header = [&across.to_be_bytes()[..], &up.to_be_bytes(), &[8, 0, 0, 0, 0]].concat();
    let mut bytes = b"\x89PNG\r\n\x1a\n".to_vec();
    for (name, data) in [(b"IHDR", &header[..])].iter().chain(chunks).chain(&[(b"IEND", &[][..])]) {
        let body = [&name[..], data].concat();
        let mut sum = flate2::Crc::new();
        sum.update(&body);
        bytes.extend((data.len() as u32).to_be_bytes());
        bytes.extend(&body);
        bytes.extend(sum.sum().to_be_bytes());
    }
    bytes
}

/// Data that unpacks to 30 GB, or to 100 MB, behind a header that promises a small picture: what goes beyond the
/// picture is neither kept nor unpacked.
#[cfg(unix)]
#[test]
fn a_picture_that_unpacks_to_far_more_than_it_says_is_refused() {
    let (small, large) = (zeros(100), zeros(30_000));
    assert!(small.len() < 200_000 && (29 << 20..32 << 20).contains(&large.len()), "{}", large.len());
    for bomb in [&small, &large] {
        for file in [
            png(51, 54, &[(b"IDAT", bomb)]),
            png(51, 54, &[(b"IDAT", &bomb[..100]), (b"IDAT", &bomb[100..])]),
            png(2040, 2160, &[(b"IDAT", bomb)]),
        ] {
            refused("a.png", "picture-unreadable", "goes on far behind the last of its", &[], |folder| {
                fs::write(folder.join("a.png"), file).unwrap();
            });
        }
    }
}

/// What a PNG file may hold beside its picture is not unpacked at all.
#[cfg(unix)]
#[test]
fn what_unpacks_to_much_beside_a_picture_is_passed_over() {
    use std::io::Write;
    let bomb = [b"Title\0\0", &zeros(30_000)[..]].concat();
    let mut grey = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::fast());
    grey.write_all(&[0; 54 * (1 + 51)]).unwrap();
    let grey = grey.finish().unwrap();
    for name in [b"zTXt", b"iCCP", b"iTXt", b"abCd"] {
        let (status, told, _) = bounded("a.png", &[], |folder| {
            fs::write(folder.join("a.png"), png(51, 54, &[(name, &bomb), (b"IDAT", &grey)])).unwrap();
        });
        assert_eq!((status, told.contains("error")), (Some(0), false), "{name:?}: {told}");
    }
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
