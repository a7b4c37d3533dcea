//! The folder before and after, also when something goes wrong.

use super::super::BinderFile;
use super::*;
use crate::sheet::model::Reader;

/// A binder whose files hold `words`, staged for a folder.
fn staged(words: &str, paths: &[&str], folder: &Path) -> Result<(Staging, Binder), WriteFault> {
    let staging = Staging::open(folder, Arc::default())?;
    for path in paths {
        staging.put(path, format!("{words} {path}").as_bytes())?;
    }
    let file = |path: &&str| BinderFile { path: (*path).to_owned(), sheets: 0 };
    let binder = Binder {
        files: paths.iter().map(file).collect(),
        svg_readers: vec![Reader::Crew],
        none: vec!["costs.pdf".to_owned()],
    };
    Ok((staging, binder))
}

fn write(words: &str, paths: &[&str], folder: &Path) -> Result<(), WriteFault> {
    let (staging, binder) = staged(words, paths, folder)?;
    staging.commit(&binder)
}

const FULL: [&str; 3] = ["crew.pdf", "svg/crew-01-cover.svg", "svg/crew-02-key.svg"];

/// Every file under a folder, with its text, in order.
fn found(folder: &Path) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        if entry.path().is_dir() {
            all.extend(
                found(&entry.path()).into_iter().map(|(below, text)| (format!("{name}/{below}"), text)),
            );
        } else {
            all.push((name, fs::read_to_string(entry.path()).unwrap()));
        }
    }
    all.sort();
    all
}

fn whole(words: &str) -> Vec<(String, String)> {
    FULL.iter().map(|path| ((*path).to_owned(), format!("{words} {path}"))).collect()
}

#[test]
fn a_folder_appears_with_the_folders_above_it() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("a/b/binder");
    write("first", &FULL, &folder).unwrap();
    assert_eq!(found(&folder), whole("first"));
    assert_eq!(found(room.path()).len(), FULL.len(), "nothing is left beside the folder");
}

#[test]
fn an_old_binder_is_replaced_and_other_files_stay() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("binder");
    write("first", &[&FULL[..], &["svg/crew-03-wall-1.svg"]].concat(), &folder).unwrap();
    let others =
        ["notes.txt", "workroom.pdf", "svg/photo.svg", "svg/workroom-03-old.svg", "svg/crew-x-3.svg"];
    others.iter().for_each(|other| fs::write(folder.join(other), "mine").unwrap());
    fs::create_dir(folder.join(format!("{OWN}left-behind"))).unwrap();
    fs::write(folder.join("costs.pdf"), "of another plan").unwrap();

    write("second", &FULL, &folder).unwrap();
    let mut expected = whole("second");
    expected.extend(others.map(|other| (other.to_owned(), "mine".to_owned())));
    expected.sort();
    assert_eq!(found(&folder), expected);
}

#[test]
fn what_is_in_the_way_is_named_and_nothing_changes() {
    let room = tempfile::tempdir().unwrap();
    let file = room.path().join("file");
    fs::write(&file, "mine").unwrap();
    let fault = write("new", &FULL, &file).unwrap_err();
    assert!(matches!(fault, WriteFault::NotAFolder(path) if path == file));

    let folder = room.path().join("binder");
    write("old", &FULL, &folder).unwrap();
    fs::create_dir_all(folder.join("plan.json/inside")).unwrap();
    let fault = write("new", &[&FULL[..], &["plan.json"]].concat(), &folder).unwrap_err();
    assert!(matches!(fault, WriteFault::FolderInTheWay(path) if path == folder.join("plan.json")));
    assert_eq!(found(&folder), whole("old"));
    assert!(folder.join("plan.json/inside").is_dir());

    let other = room.path().join("other");
    fs::create_dir(&other).unwrap();
    fs::write(other.join("svg"), "mine").unwrap();
    let fault = write("new", &FULL, &other).unwrap_err();
    assert!(matches!(fault, WriteFault::NotAFolder(path) if path == other.join("svg")));
    assert_eq!(found(&other), [("svg".to_owned(), "mine".to_owned())]);
}

#[test]
fn a_failure_half_way_is_taken_back() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("binder");
    write("old", &[&FULL[..], &["svg/crew-03-wall-1.svg"]].concat(), &folder).unwrap();
    fs::write(folder.join("costs.pdf"), "of another plan").unwrap();
    let before = found(&folder);

    let paths = ["plan.json", "crew.pdf", "svg/crew-01-cover.svg", "svg/crew-02-key.svg"];
    let (staging, new) = staged("new", &paths, &folder).unwrap();
    // The disk loses a file between writing and renaming.
    fs::remove_file(staging.staged.join("svg/crew-02-key.svg")).unwrap();
    let mut change = Change { kept: room.path().join("kept"), undo: Vec::new() };
    fs::create_dir(&change.kept).unwrap();
    assert!(new.put_in_place(&folder, &staging.staged, &mut change).is_err());
    drop(staging);
    assert_ne!(found(&folder), before, "the failure came half way");
    change.take_back();
    assert_eq!(found(&folder), before);
}

/// Somebody else may empty the folder at any moment: what is gone is not missed, and what cannot be done is taken
/// back as far as it can be.
#[test]
fn a_file_that_is_gone_meanwhile_is_not_missed() {
    let room = tempfile::tempdir().unwrap();
    let (place, new) = (room.path().join("crew.pdf"), room.path().join("new"));
    let mut change = Change { kept: room.path().join("kept"), undo: Vec::new() };
    fs::create_dir(&change.kept).unwrap();
    change.remove(&place).unwrap();
    assert!(change.undo.is_empty());
    fs::write(&new, "new").unwrap();
    change.replace(&new, &place).unwrap();
    assert_eq!(fs::read_to_string(&place).unwrap(), "new");
    change.take_back();
    assert!(!place.exists(), "there was none before");
    // Without the folder of this run's own, nothing is given away for lost.
    fs::write(&place, "old").unwrap();
    fs::remove_dir_all(&change.kept).unwrap();
    assert!(change.remove(&place).is_err() && change.replace(&new, &place).is_err());
    assert_eq!(fs::read_to_string(&place).unwrap(), "old");
}

#[test]
fn a_stop_in_time_changes_nothing() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("above/binder");
    let (staging, binder) = staged("new", &FULL, &folder).unwrap();
    assert_eq!(found(room.path()).len(), FULL.len(), "files wait in a folder of ours");
    staging.stop.store(true, Ordering::Relaxed);
    assert!(matches!(staging.put("plan.json", b"new"), Err(WriteFault::Stopped(_))));
    assert!(matches!(staging.commit(&binder), Err(WriteFault::Stopped(_))));
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 0);
}

/// Two runs that make their files at the same time: neither takes the other's for what a dead run left.
#[test]
fn files_of_runs_at_once_wait_side_by_side() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("binder");
    let (first, of_first) = staged("first", &FULL, &folder).unwrap();
    let (second, of_second) = staged("second", &FULL, &folder).unwrap();
    first.commit(&of_first).unwrap();
    assert_eq!(found(&folder), whole("first"));
    // The folder was not there when the second run began.
    let (third, of_third) = staged("third", &FULL, &folder).unwrap();
    second.commit(&of_second).unwrap();
    assert!(found(&folder).iter().filter(|(name, _)| !name.starts_with(OWN)).eq(&whole("second")));
    third.commit(&of_third).unwrap();
    assert_eq!(found(&folder), whole("third"));
    assert_eq!(found(room.path()).len(), FULL.len());
}

#[test]
fn runs_into_one_folder_do_not_mix() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("binder");
    std::thread::scope(|scope| {
        for run in 0..8 {
            let folder = &folder;
            scope.spawn(move || {
                for turn in 0..10 {
                    write(&format!("{run}.{turn}"), &FULL, folder).unwrap();
                }
            });
        }
    });
    let (_, text) = found(&folder).remove(0);
    let words = text.split(' ').next().unwrap();
    assert_eq!(found(&folder), whole(words));
}

#[test]
fn only_names_of_our_own_are_taken_for_sheets() {
    assert!(is_sheet_of("crew-07-elevation-parlour-3.svg", "crew"));
    assert!(is_sheet_of("crew-107-key-plan.svg", "crew"));
    for other in ["crew-7-x.svg", "crew-07.svg", "crew-07-x.png", "crewel-07-x.svg", "workroom-07-x.svg"] {
        assert!(!is_sheet_of(other, "crew"), "{other}");
    }
}
