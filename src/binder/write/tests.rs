//! The folder before and after, also when something goes wrong.

use super::super::BinderFile;
use super::*;
use crate::sheet::model::Reader;

static RUN: AtomicBool = AtomicBool::new(false);

fn binder(words: &str, paths: &[&str]) -> Binder {
    let file = |path: &&str| BinderFile {
        path: (*path).to_owned(),
        bytes: format!("{words} {path}").into_bytes(),
        sheets: 0,
    };
    Binder {
        files: paths.iter().map(file).collect(),
        svg_readers: vec![Reader::Crew],
        none: vec!["costs.pdf".to_owned()],
    }
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
    binder("first", &FULL).write_to(&folder, &RUN).unwrap();
    assert_eq!(found(&folder), whole("first"));
    assert_eq!(found(room.path()).len(), FULL.len(), "nothing is left beside the folder");
}

#[test]
fn an_old_binder_is_replaced_and_other_files_stay() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("binder");
    binder("first", &[&FULL[..], &["svg/crew-03-wall-1.svg"]].concat()).write_to(&folder, &RUN).unwrap();
    let others =
        ["notes.txt", "workroom.pdf", "svg/photo.svg", "svg/workroom-03-old.svg", "svg/crew-x-3.svg"];
    others.iter().for_each(|other| fs::write(folder.join(other), "mine").unwrap());
    fs::create_dir(folder.join(format!("{OWN}left-behind"))).unwrap();
    fs::write(folder.join("costs.pdf"), "of another plan").unwrap();

    binder("second", &FULL).write_to(&folder, &RUN).unwrap();
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
    let fault = binder("new", &FULL).write_to(&file, &RUN).unwrap_err();
    assert!(matches!(fault, WriteFault::NotAFolder(path) if path == file));

    let folder = room.path().join("binder");
    binder("old", &FULL).write_to(&folder, &RUN).unwrap();
    fs::create_dir_all(folder.join("plan.json/inside")).unwrap();
    let fault = binder("new", &[&FULL[..], &["plan.json"]].concat()).write_to(&folder, &RUN).unwrap_err();
    assert!(matches!(fault, WriteFault::FolderInTheWay(path) if path == folder.join("plan.json")));
    assert_eq!(found(&folder), whole("old"));
    assert!(folder.join("plan.json/inside").is_dir());

    let other = room.path().join("other");
    fs::create_dir(&other).unwrap();
    fs::write(other.join("svg"), "mine").unwrap();
    let fault = binder("new", &FULL).write_to(&other, &RUN).unwrap_err();
    assert!(matches!(fault, WriteFault::NotAFolder(path) if path == other.join("svg")));
    assert_eq!(found(&other), [("svg".to_owned(), "mine".to_owned())]);
}

#[test]
fn a_failure_half_way_is_taken_back() {
    let room = tempfile::tempdir().unwrap();
    let folder = room.path().join("binder");
    binder("old", &[&FULL[..], &["svg/crew-03-wall-1.svg"]].concat()).write_to(&folder, &RUN).unwrap();
    fs::write(folder.join("costs.pdf"), "of another plan").unwrap();
    let before = found(&folder);

    let staged = room.path().join("new");
    let new = binder("new", &["plan.json", "crew.pdf", "svg/crew-01-cover.svg", "svg/crew-02-key.svg"]);
    new.stage(&staged, &folder, &RUN).unwrap();
    // The disk loses a file between writing and renaming.
    fs::remove_file(staged.join("svg/crew-02-key.svg")).unwrap();
    let mut change = Change { kept: room.path().join("kept"), undo: Vec::new() };
    fs::create_dir(&change.kept).unwrap();
    assert!(new.put_in_place(&folder, &staged, &mut change).is_err());
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
    let stop = AtomicBool::new(true);
    let fault = binder("new", &FULL).write_to(&folder, &stop).unwrap_err();
    assert!(matches!(fault, WriteFault::Stopped(_)));
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 0);
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
                    binder(&format!("{run}.{turn}"), &FULL).write_to(folder, &RUN).unwrap();
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
