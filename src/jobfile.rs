//! Single files on the disk: job files read, made and replaced, forms written.

use std::fmt;
use std::fs::{self, File, Permissions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use clothwright::parse::MOST_BYTES;
use tempfile::{Builder, NamedTempFile};

/// Why a job file cannot be read or written.
#[derive(Debug)]
pub struct FileFault {
    /// The file's name as messages show it.
    name: String,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    Read(io::Error),
    Write(io::Error),
    Folder,
    FolderInTheWay,
    NotPlain,
    Exists,
}

impl fmt::Display for FileFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = &self.name;
        match &self.kind {
            Kind::Read(error) if error.kind() == io::ErrorKind::NotFound => {
                write!(f, "there is no file {name}")
            }
            Kind::Read(error) => write!(f, "cannot read {name}: {error}"),
            Kind::Write(error) if error.kind() == io::ErrorKind::NotFound => {
                write!(f, "cannot write {name}: there is no such folder")
            }
            Kind::Write(error) => write!(f, "cannot write {name}: {error}"),
            Kind::Folder => write!(f, "{name} is a folder; name the job file in it"),
            Kind::FolderInTheWay => write!(f, "{name} is a folder; name the file to write in it"),
            Kind::NotPlain => {
                write!(f, "{name} is not a plain file; to read from a pipe, give - as the file")
            }
            Kind::Exists => write!(f, "{name} is there already, and was left alone; give another name"),
        }
    }
}

/// The name that messages show for a path.
pub fn shown(path: &Path) -> String {
    if is_standard_stream(path) { "standard input".into() } else { path.display().to_string() }
}

/// Whether a path stands for standard input, or standard output.
pub fn is_standard_stream(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Reads a job file; `-` is standard input. Of a file larger than the parser reads, no more is read
/// than shows it.
///
/// # Errors
/// A [`FileFault`] when the path leads to no plain file.
pub fn read(path: &Path) -> Result<Vec<u8>, FileFault> {
    let fault = |kind| FileFault { name: shown(path), kind };
    let bytes = if is_standard_stream(path) {
        limited(io::stdin().lock(), MOST_BYTES)
    } else {
        // Asked before it is opened: to open a pipe that nobody writes to would wait for ever.
        let found = fs::metadata(path).map_err(|error| fault(Kind::Read(error)))?;
        if found.is_dir() {
            return Err(fault(Kind::Folder));
        }
        if !found.is_file() {
            return Err(fault(Kind::NotPlain));
        }
        File::open(path).and_then(|file| limited(file, MOST_BYTES))
    };
    bytes.map_err(|error| fault(Kind::Read(error)))
}

/// At most so many bytes of a file, and one more where there are more.
pub fn limited(file: impl Read, most: usize) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.take(most as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Writes a file that is not there yet: whole, or not at all.
///
/// # Errors
/// A [`FileFault`] when something is there, or the file cannot be written.
pub fn create(path: &Path, text: &str) -> Result<(), FileFault> {
    let fault = |kind| FileFault { name: shown(path), kind };
    let written = beside(path, text.as_bytes()).map_err(|error| fault(Kind::Write(error)))?;
    written.persist_noclobber(path).map(drop).map_err(|refused| match refused.error.kind() {
        io::ErrorKind::AlreadyExists => fault(Kind::Exists),
        _ => fault(Kind::Write(refused.error)),
    })
}

/// Puts a text in the place of a file's own; the file keeps its permissions, and a link stays one.
///
/// # Errors
/// A [`FileFault`] when it cannot be written; the file is then as it was.
pub fn replace(path: &Path, text: &str) -> Result<(), FileFault> {
    let put = || {
        let place: PathBuf = fs::canonicalize(path)?;
        let written = beside(&place, text.as_bytes())?;
        fs::set_permissions(written.path(), fs::metadata(&place)?.permissions())?;
        written.persist(&place).map(drop).map_err(|refused| refused.error)
    };
    put().map_err(|error| FileFault { name: shown(path), kind: Kind::Write(error) })
}

/// Writes a file that is not read again, in the place of one that is there or as a new one: whole, or not
/// at all.
///
/// # Errors
/// A [`FileFault`] when it cannot be written; what was there is then as it was.
pub fn put(path: &Path, bytes: &[u8]) -> Result<(), FileFault> {
    let fault = |kind| FileFault { name: shown(path), kind };
    if path.is_dir() {
        return Err(fault(Kind::FolderInTheWay));
    }
    let written = beside(path, bytes).map_err(|error| fault(Kind::Write(error)))?;
    written.persist(path).map(drop).map_err(|refused| fault(Kind::Write(refused.error)))
}

/// The bytes under a name of this run's own in the folder of `path`, on the disk to its last byte.
fn beside(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = Builder::new();
    builder.prefix(".clothwright-");
    #[cfg(unix)]
    builder.permissions(<Permissions as std::os::unix::fs::PermissionsExt>::from_mode(0o666));
    // The kind alone: the rest of this error names the file of work, which nobody asked for.
    let mut file = builder.tempfile_in(folder).map_err(|error| error.kind())?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}
