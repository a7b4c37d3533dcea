//! Writing a binder to its folder: the old binder stays whole, or the new one is whole.
//!
//! All files are first written beside their places, in a folder of this run's own. Only when every
//! byte is there are they renamed into place, one after the other; when one cannot be, those
//! before it are put back. A folder that does not exist yet appears by a single rename. Runs into
//! one folder take turns.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use tempfile::TempDir;
use thiserror::Error;

use super::{Binder, SVG_FOLDER};

/// The start of the names of this module's own folders, which no other file has.
const OWN: &str = ".clothwright-";

/// How often, and how long apart, a run asks for its turn: half a minute in all.
const TURNS: (u32, Duration) = (600, Duration::from_millis(50));

/// Why a binder was not written. The folder is as it was before.
#[derive(Debug, Error)]
pub enum WriteFault {
    /// The folder's path leads to something that is not a folder.
    #[error("{0} is a file, not a folder")]
    NotAFolder(PathBuf),
    /// A folder stands where a file of the binder belongs.
    #[error("{0} is a folder, where a file of the binder belongs")]
    FolderInTheWay(PathBuf),
    /// Another run has been writing there for too long.
    #[error("another run is still writing into {0}")]
    Busy(PathBuf),
    /// The caller asked to stop.
    #[error("stopped before {0} was changed")]
    Stopped(PathBuf),
    /// The file system said no.
    #[error("cannot write {path}: {error}")]
    Io {
        /// Where.
        path: PathBuf,
        /// What it said.
        error: io::Error,
    },
}

fn at(path: &Path) -> impl FnOnce(io::Error) -> WriteFault + use<'_> {
    move |error| WriteFault::Io { path: path.to_owned(), error }
}

impl Binder {
    /// Writes the files under `folder`, which is made if it is not there.
    ///
    /// Files of an earlier run that this binder replaces are replaced, among them all SVG sheets
    /// of its readers, and files that it was asked for and has not go; every other file in the
    /// folder is left alone.
    ///
    /// When `stop` becomes true before the first file is put in place, nothing is changed; after
    /// that it comes too late and the binder is finished.
    ///
    /// # Errors
    /// A [`WriteFault`]; the folder is then as it was before.
    pub fn write_to(&self, folder: &Path, stop: &AtomicBool) -> Result<(), WriteFault> {
        // A second round is needed only when the folder appears while this run makes it.
        loop {
            match fs::metadata(folder) {
                Ok(found) if found.is_dir() => return self.replace_in(folder, stop),
                Ok(_) => return Err(WriteFault::NotAFolder(folder.to_owned())),
                Err(error) if error.kind() == io::ErrorKind::NotFound => {
                    if self.appear_as(folder, stop)? {
                        return Ok(());
                    }
                }
                Err(error) => return Err(at(folder)(error)),
            }
        }
    }

    /// Makes the folder whole under another name and renames it; false when somebody else made
    /// the folder meanwhile.
    fn appear_as(&self, folder: &Path, stop: &AtomicBool) -> Result<bool, WriteFault> {
        let parent = match folder.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        let missing: Vec<&Path> = parent.ancestors().take_while(|above| !above.exists()).collect();
        let outcome = fs::create_dir_all(parent).map_err(at(parent)).and_then(|()| {
            let turn = Turn::take(parent)?;
            let own = turn.own_folder(parent)?;
            let staged = own.path().join("binder");
            self.stage(&staged, folder, stop)?;
            match fs::rename(&staged, folder) {
                Ok(()) => Ok(true),
                Err(_) if folder.exists() => Ok(false),
                Err(error) => Err(at(folder)(error)),
            }
        });
        if outcome.is_err() {
            // Folders above that were made for nothing go again; one in use by now stays.
            missing.into_iter().for_each(|above| drop(fs::remove_dir(above)));
        }
        outcome
    }

    /// Replaces the files in a folder that is there.
    fn replace_in(&self, folder: &Path, stop: &AtomicBool) -> Result<(), WriteFault> {
        let turn = Turn::take(folder)?;
        let sheets = folder.join(SVG_FOLDER);
        if !self.svg_readers.is_empty() && sheets.exists() && !sheets.is_dir() {
            return Err(WriteFault::NotAFolder(sheets));
        }
        for file in &self.files {
            let place = folder.join(&file.path);
            if place.is_dir() {
                return Err(WriteFault::FolderInTheWay(place));
            }
        }
        let own = turn.own_folder(folder)?;
        let staged = own.path().join("new");
        self.stage(&staged, folder, stop)?;
        let mut change = Change { kept: own.path().join("old"), undo: Vec::new() };
        fs::create_dir(&change.kept).map_err(at(&change.kept))?;
        let outcome = self.put_in_place(folder, &staged, &mut change);
        if outcome.is_err() {
            change.take_back();
        }
        outcome
    }

    fn put_in_place(&self, folder: &Path, staged: &Path, change: &mut Change) -> Result<(), WriteFault> {
        let sheets = folder.join(SVG_FOLDER);
        if !self.svg_readers.is_empty() {
            if !sheets.exists() {
                change.make_folder(&sheets)?;
            }
            for old in self.outdated_sheets(&sheets)? {
                change.remove(&old)?;
            }
        }
        for none in &self.none {
            let old = folder.join(none);
            if old.symlink_metadata().is_ok_and(|found| !found.is_dir()) {
                change.remove(&old)?;
            }
        }
        for file in &self.files {
            change.replace(&staged.join(&file.path), &folder.join(&file.path))?;
        }
        Ok(())
    }

    /// The SVG sheets of an earlier run, of readers that this binder has sheets for, that this
    /// binder does not replace.
    fn outdated_sheets(&self, sheets: &Path) -> Result<Vec<PathBuf>, WriteFault> {
        let mut outdated = Vec::new();
        for entry in fs::read_dir(sheets).map_err(at(sheets))? {
            let entry = entry.map_err(at(sheets))?;
            let name = entry.file_name();
            let Some(name) = name.to_str() else { continue };
            let ours = self.svg_readers.iter().any(|reader| is_sheet_of(name, reader.word()));
            let replaced = self.files.iter().any(|file| file.path == format!("{SVG_FOLDER}/{name}"));
            if ours && !replaced && entry.file_type().is_ok_and(|kind| kind.is_file()) {
                outdated.push(entry.path());
            }
        }
        outdated.sort();
        Ok(outdated)
    }

    /// Writes all files under a folder that is not there yet.
    fn stage(&self, staged: &Path, folder: &Path, stop: &AtomicBool) -> Result<(), WriteFault> {
        fs::create_dir(staged).map_err(at(staged))?;
        if !self.svg_readers.is_empty() {
            let sheets = staged.join(SVG_FOLDER);
            fs::create_dir(&sheets).map_err(at(&sheets))?;
        }
        for file in &self.files {
            if stop.load(Ordering::Relaxed) {
                return Err(WriteFault::Stopped(folder.to_owned()));
            }
            let place = staged.join(&file.path);
            // What fails is told by the name that the reader knows.
            fs::write(&place, &file.bytes).map_err(at(&folder.join(&file.path)))?;
        }
        Ok(())
    }
}

/// Whether a name is one that this program gives to an SVG sheet of a reader:
/// `crew-07-elevation-parlour-3.svg`.
fn is_sheet_of(name: &str, reader: &str) -> bool {
    let Some(rest) = name.strip_prefix(reader).and_then(|rest| rest.strip_prefix('-')) else { return false };
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    digits >= 2 && rest[digits..].starts_with('-') && rest.ends_with(".svg")
}

/// The right to change a folder: a lock on the folder itself, which leaves no file behind and ends
/// with the process.
struct Turn {
    lock: Option<File>,
}

impl Turn {
    fn take(folder: &Path) -> Result<Turn, WriteFault> {
        // Only Unix systems open folders as files; elsewhere runs do not take turns.
        if !cfg!(unix) {
            return Ok(Turn { lock: None });
        }
        let lock = File::open(folder).map_err(at(folder))?;
        for _ in 0..TURNS.0 {
            match lock.try_lock() {
                Ok(()) => return Ok(Turn { lock: Some(lock) }),
                Err(fs::TryLockError::WouldBlock) => std::thread::sleep(TURNS.1),
                // Some file systems have no locks.
                Err(fs::TryLockError::Error(_)) => return Ok(Turn { lock: None }),
            }
        }
        Err(WriteFault::Busy(folder.to_owned()))
    }

    /// A folder of this run's own, removed with everything in it when the run is done with it.
    fn own_folder(&self, parent: &Path) -> Result<TempDir, WriteFault> {
        // Whoever has the turn may remove what a run left that was killed.
        if self.lock.is_some() {
            for entry in fs::read_dir(parent).map_err(at(parent))?.flatten() {
                if entry.file_name().to_str().is_some_and(|name| name.starts_with(OWN)) {
                    // One that cannot be removed does no harm: names do not come twice.
                    let _ = fs::remove_dir_all(entry.path());
                }
            }
        }
        tempfile::Builder::new().prefix(OWN).tempdir_in(parent).map_err(at(parent))
    }
}

/// What was changed so far, to be taken back when the rest cannot be done.
struct Change {
    /// Where the old files are kept.
    kept: PathBuf,
    undo: Vec<Undo>,
}

enum Undo {
    PutBack { kept: PathBuf, place: PathBuf },
    RemoveFile(PathBuf),
    RemoveFolder(PathBuf),
}

impl Change {
    fn make_folder(&mut self, place: &Path) -> Result<(), WriteFault> {
        fs::create_dir(place).map_err(at(place))?;
        self.undo.push(Undo::RemoveFolder(place.to_owned()));
        Ok(())
    }

    /// Takes a file away; one that somebody else has taken away meanwhile is no more to be replaced or put back.
    fn remove(&mut self, place: &Path) -> Result<(), WriteFault> {
        let kept = self.kept.join(self.undo.len().to_string());
        match fs::rename(place, &kept) {
            Ok(()) => self.undo.push(Undo::PutBack { kept, place: place.to_owned() }),
            Err(error) if error.kind() == io::ErrorKind::NotFound && self.kept.is_dir() => {}
            Err(error) => return Err(at(place)(error)),
        }
        Ok(())
    }

    /// Renames `new` to `place`. The old file is kept by a second name where the file system has
    /// such, so that there is never a moment without a file.
    fn replace(&mut self, new: &Path, place: &Path) -> Result<(), WriteFault> {
        let kept = self.kept.join(self.undo.len().to_string());
        let linked = fs::hard_link(place, &kept).is_ok();
        let before = self.undo.len();
        if !linked {
            // There is no old file, or no second name.
            self.remove(place)?;
        }
        fs::rename(new, place).map_err(at(place))?;
        if linked {
            self.undo.push(Undo::PutBack { kept, place: place.to_owned() });
        } else if self.undo.len() == before {
            self.undo.push(Undo::RemoveFile(place.to_owned()));
        }
        Ok(())
    }

    /// Puts everything back, the last change first. What cannot be put back stays kept out of the
    /// way of the rest.
    fn take_back(&mut self) {
        for undo in self.undo.drain(..).rev() {
            let _ = match undo {
                Undo::PutBack { kept, place } => fs::rename(kept, place),
                Undo::RemoveFile(place) => fs::remove_file(place),
                Undo::RemoveFolder(place) => fs::remove_dir(place),
            };
        }
    }
}

#[cfg(test)]
mod tests;
