//! The folders that a job may take shared files from.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use clothwright::parse::{FetchFault, Shelf};

use crate::jobfile::limited;

/// The job's own folder, and the others that the command line allows; with all folders in them.
#[derive(Debug)]
pub struct Shelves {
    own: PathBuf,
    others: Vec<PathBuf>,
}

impl Shelves {
    /// The folder of a job file (the current one for standard input) and others besides.
    pub fn of(job: &Path, others: &[PathBuf]) -> Shelves {
        let own = job.parent().filter(|folder| !folder.as_os_str().is_empty());
        Shelves { own: own.unwrap_or(Path::new(".")).to_owned(), others: others.to_vec() }
    }
}

impl Shelf for Shelves {
    fn fetch(&self, path: &str, most: usize) -> Result<Vec<u8>, FetchFault> {
        let unreadable = |error: io::Error| match error.kind() {
            io::ErrorKind::NotFound => FetchFault::Missing,
            _ => FetchFault::Unreadable(error.to_string()),
        };
        // Nothing outside is even looked for unless some folder outside is allowed.
        if path.starts_with("..") && self.others.is_empty() {
            return Err(FetchFault::Outside);
        }
        let own = fs::canonicalize(&self.own).map_err(unreadable)?;
        let file = fs::canonicalize(own.join(path)).map_err(unreadable)?;
        // Links are followed before this is judged: one may lead out of a folder.
        let within = |folder: &Path| file.starts_with(folder);
        let allowed = |folder: &PathBuf| fs::canonicalize(folder).is_ok_and(|folder| within(&folder));
        if !within(&own) && !self.others.iter().any(allowed) {
            return Err(FetchFault::Outside);
        }
        if !fs::metadata(&file).map_err(unreadable)?.is_file() {
            return Err(FetchFault::Unreadable("it is not a plain file".to_owned()));
        }
        File::open(&file).and_then(|file| limited(file, most)).map_err(unreadable)
    }
}
