//! Reading job files.

use std::fmt;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// The largest job file read: a room takes about four kilobytes, so this is a street of houses.
const LARGEST: u64 = 8 << 20;

/// Why a job file cannot be read.
#[derive(Debug)]
pub struct ReadFault {
    /// The file's name as messages show it.
    name: String,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    Io(io::Error),
    Folder,
    NotPlain,
    TooLarge,
    NotText { byte: usize, line: usize, column: usize },
}

impl fmt::Display for ReadFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = &self.name;
        match &self.kind {
            Kind::Io(error) if error.kind() == io::ErrorKind::NotFound => {
                write!(f, "there is no file {name}")
            }
            Kind::Io(error) => write!(f, "cannot read {name}: {error}"),
            Kind::Folder => write!(f, "{name} is a folder; name the job file in it"),
            Kind::NotPlain => {
                write!(f, "{name} is not a plain file; to read from a pipe, give - as the file")
            }
            Kind::TooLarge => {
                write!(f, "{name} is larger than {} MB, too large for a job file", LARGEST >> 20)
            }
            Kind::NotText { byte, line, column } => write!(
                f,
                "{name}:{line}:{column}: not UTF-8 text (byte {byte}); save the job file as plain text in UTF-8"
            ),
        }
    }
}

/// The name that messages show for a path.
pub fn shown(path: &Path) -> String {
    if is_standard_input(path) { "standard input".into() } else { path.display().to_string() }
}

fn is_standard_input(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Reads the whole text of a job file; `-` is standard input.
///
/// # Errors
/// A [`ReadFault`] when the path leads to no plain file of a sensible size, or to one that is not
/// UTF-8 text.
pub fn read(path: &PathBuf) -> Result<String, ReadFault> {
    let fault = |kind| ReadFault { name: shown(path), kind };
    let bytes = if is_standard_input(path) {
        limited(io::stdin().lock())
    } else {
        // Asked before it is opened: to open a pipe that nobody writes to would wait for ever.
        let found = fs::metadata(path).map_err(|error| fault(Kind::Io(error)))?;
        if found.is_dir() {
            return Err(fault(Kind::Folder));
        }
        if !found.is_file() {
            return Err(fault(Kind::NotPlain));
        }
        File::open(path).and_then(limited)
    };
    let bytes = bytes.map_err(|error| fault(Kind::Io(error)))?;
    if bytes.len() as u64 > LARGEST {
        return Err(fault(Kind::TooLarge));
    }
    String::from_utf8(bytes).map_err(|error| {
        let byte = error.utf8_error().valid_up_to();
        let before = &error.as_bytes()[..byte];
        let line_start = before.iter().rposition(|b| *b == b'\n').map_or(0, |at| at + 1);
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let column = String::from_utf8_lossy(&before[line_start..]).chars().count() + 1;
        fault(Kind::NotText { byte, line, column })
    })
}

fn limited(file: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
