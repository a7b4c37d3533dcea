//! The job file's folder, from which it may include other files.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use clothwright::parse::{FetchFault, Shelf};

/// The largest file included.
const LARGEST: u64 = 1 << 20;

/// A folder whose files, and those of the folders in it, may be included.
#[derive(Debug)]
pub struct Folder(PathBuf);

impl Folder {
    /// The folder of a job file; the current one for standard input.
    pub fn of(job: &Path) -> Folder {
        let folder = job.parent().filter(|folder| !folder.as_os_str().is_empty());
        Folder(folder.unwrap_or(Path::new(".")).to_owned())
    }
}

impl Shelf for Folder {
    fn fetch(&self, path: &str) -> Result<Vec<u8>, FetchFault> {
        let unreadable = |error: io::Error| match error.kind() {
            io::ErrorKind::NotFound => FetchFault::Missing,
            _ => FetchFault::Unreadable(error.to_string()),
        };
        if path.starts_with("..") {
            return Err(FetchFault::Outside);
        }
        // A link may lead out of the folder too.
        let folder = fs::canonicalize(&self.0).map_err(unreadable)?;
        let file = fs::canonicalize(folder.join(path)).map_err(unreadable)?;
        if !file.starts_with(&folder) {
            return Err(FetchFault::Outside);
        }
        if !fs::metadata(&file).map_err(unreadable)?.is_file() {
            return Err(FetchFault::Unreadable("it is not a plain file".to_owned()));
        }
        let mut bytes = Vec::new();
        let reader = File::open(&file).map_err(unreadable)?;
        reader.take(LARGEST + 1).read_to_end(&mut bytes).map_err(unreadable)?;
        if bytes.len() as u64 > LARGEST {
            return Err(FetchFault::Unreadable("it is larger than 1 MB".to_owned()));
        }
        Ok(bytes)
    }
}
