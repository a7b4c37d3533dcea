//! A change on paper: clouds where something changed and nowhere else, and change sheets that keep to
//! what their reader is to know.

#[path = "common/marks.rs"]
mod marks;

use std::fs;

use clothwright::diag::Diags;
use clothwright::job::model::Paper;
use clothwright::plan::compare::{compare, in_order_of, mark};
use clothwright::plan::model::{Pair, Plan};
use clothwright::sheet::model::{Layer, Mark, Reader, Sheet, SheetSet};
use clothwright::sheet::{change, compose, paper, text};
use clothwright::source::FileId;
use clothwright::{job, parse, plan};
use marks::{each, texts};

const PAPERS: [Paper; 2] = [Paper::Letter, Paper::A4];

fn planned(name: &str, like: Option<&Plan>) -> Plan {
    let path = format!("{}/tests/change/{name}.kdl", env!("CARGO_MANIFEST_DIR"));
    let source = fs::read_to_string(path).expect("the file is there");
    let mut diags = Diags::default();
    let parsed = parse::parse(&source, FileId(0), &mut diags).expect("a sound file");
    let (job, _) = job::check(&parsed, &mut diags).expect("a sound job");
    plan::make(like.map_or(job.clone(), |like| in_order_of(&like.job, job))).expect("a plan")
}

/// The new issue of that name, marked with its change since the base.
fn marked(name: &str) -> Plan {
    let mut now = planned(name, None);
    let was = planned("base", Some(&now));
    let mut found = compare(Pair::new(&was, &now));
    found.sheets = change::sheets(Pair::new(&was, &now), &found, None, &Reader::ALL).expect("sheets");
    mark(&mut now, found);
    now
}

/// The titles of what is clouded on a sheet, and how many triangles it has.
fn clouds(sheet: &Sheet) -> (Vec<String>, usize) {
    let (mut titles, mut triangles) = (Vec::new(), 0);
    each(&sheet.marks, &mut |mark| match mark {
        Mark::Group(group) if group.layer == Layer::Changes && group.title.starts_with("changed: ") => {
            titles.push(group.title["changed: ".len()..].to_owned());
        }
        Mark::Group(group) if group.layer == Layer::Changes => triangles += 1,
        _ => {}
    });
    (titles, triangles)
}

fn sound(set: &SheetSet, size: Paper) {
    for sheet in &set.sheets {
        let areas: Vec<_> =
            texts(sheet).into_iter().map(|text| (text.text.clone(), text::area(text))).collect();
        for (i, (words, area)) in areas.iter().enumerate() {
            assert!(paper::frame(size).contains(area), "{words} hangs out of {}", sheet.title);
            let over = areas[..i].iter().find(|(_, other)| other.overlaps(area));
            assert!(over.is_none(), "{words} lies over {over:?} on {}", sheet.title);
        }
    }
}

fn elevations(set: &SheetSet) -> impl Iterator<Item = &Sheet> {
    set.sheets.iter().filter(|sheet| sheet.key.starts_with("elevation-"))
}

#[test]
fn what_changed_is_clouded_and_nothing_else() {
    let plan = marked("window-moved");
    for size in PAPERS {
        for set in compose(&plan, Some(size), &Reader::ALL).expect("sheets") {
            sound(&set, size);
            for sheet in elevations(&set) {
                let (titles, triangles) = clouds(sheet);
                let expected: &[&str] = if sheet.title.starts_with("Wall 2") { &["W1"] } else { &[] };
                // The designer's walls may share a sheet.
                if sheet.title.starts_with("Wall ") {
                    assert_eq!(titles, expected, "{:?}: {}", set.reader, sheet.title);
                }
                assert_eq!(titles.len(), triangles, "{:?}: {}", set.reader, sheet.title);
            }
        }
    }
}

#[test]
fn every_change_can_be_set_and_every_cloud_has_its_triangle() {
    for name in ["wall-inserted", "wall-higher", "door-new"] {
        let plan = marked(name);
        let change = plan.change.as_ref().expect("a change");
        for set in compose(&plan, Some(Paper::Letter), &Reader::ALL).expect("sheets") {
            sound(&set, Paper::Letter);
            let mut clouded = 0;
            for sheet in &set.sheets {
                let (titles, triangles) = clouds(sheet);
                assert_eq!(titles.len(), triangles, "{name}, {:?}: {}", set.reader, sheet.title);
                clouded += titles.len();
            }
            // Clouds that would run into one another are one.
            assert!(
                set.reader == Reader::Costs || (1..=change.places.len()).contains(&clouded),
                "{name}: {clouded}"
            );
        }
    }
}

#[test]
fn an_issue_that_changes_nothing_is_not_marked() {
    let plan = marked("same-meaning");
    let own = planned("same-meaning", None);
    assert_eq!(
        compose(&plan, None, &Reader::ALL).expect("sheets"),
        compose(&own, None, &Reader::ALL).expect("sheets")
    );
}

#[test]
fn change_sheets_keep_to_what_their_reader_is_to_know() {
    let plan = marked("wall-higher");
    let costs = plan.costs.as_ref().expect("the job gives prices").total.print();
    for set in compose(&plan, None, &Reader::ALL).expect("sheets") {
        let own = set.sheets.iter().filter(|sheet| sheet.key.starts_with("change"));
        let said: Vec<String> = own.flat_map(texts).map(|text| text.text.clone()).collect();
        let says = |words: &str| said.iter().any(|text| text.contains(words));
        assert!(says("Change sheet: revision B"), "{:?}: {said:?}", set.reader);
        assert!(says("8′ 3″ right"), "{:?}: the height is told", set.reader);
        let contractor = set.reader == Reader::Costs;
        assert_eq!((says("USD"), says(&costs)), (contractor, contractor), "{:?}: {said:?}", set.reader);
        if set.reader == Reader::Approval {
            assert!(!says("Pieces") && !says("Hours") && !says("taple") && !says("To buy"), "{said:?}");
        }
        // The revision table of every sheet has the row.
        assert!(
            set.sheets.iter().all(|sheet| texts(sheet).iter().any(|text| text.text == "B")),
            "{:?}",
            set.reader
        );
    }
}
