//! The record set: what was really done, in its true place, and the other sets as planned.

#[path = "common/marks.rs"]
mod marks;

use std::fs;

use clothwright::diag::Diags;
use clothwright::job::model::Paper;
use clothwright::plan::model::Plan;
use clothwright::plan::record;
use clothwright::sheet::model::{Mark, Path, Reader, Seg, SheetSet};
use clothwright::sheet::{compose, paper, sets, text};
use clothwright::source::FileId;
use clothwright::units::Length;
use clothwright::{job, parse, plan};
use marks::{each, texts};

const BUILT: &str = r#"
as-built "2026-06-20" {
    seam "1B-1C" at="5ft 8in" "eased past a bow in the wall"
    piece "2C" "a pulled thread" recut=yes lot=L9
    note "Damp was sealed here." wall=2 from-left="1ft" above-floor="9in"
}
"#;

fn planned(built: &str) -> Plan {
    let path = format!("{}/tests/change/base.kdl", env!("CARGO_MANIFEST_DIR"));
    let source = format!("{}{built}", fs::read_to_string(path).expect("the base job"));
    let mut diags = Diags::default();
    let parsed = parse::parse(&source, FileId(0), &mut diags).expect("a sound file");
    let (job, places) = job::check(&parsed, &mut diags).expect("a sound job");
    let plan = plan::make(job).expect("a plan");
    assert_eq!(record::faults(&plan, &places), []);
    plan
}

/// Where the upright line of a seam stands on the first sheet that draws it.
fn seam(set: &SheetSet, label: &str) -> Length {
    let mut found = None;
    for sheet in &set.sheets {
        each(&sheet.marks, &mut |mark| {
            let Mark::Group(group) = mark else { return };
            if found.is_none()
                && group.id == format!("seam-{label}")
                && let Some(Mark::Stroke { path: Path(segs), .. }) = group.marks.first()
                && let Some(Seg::Move(from)) = segs.first()
            {
                found = Some(from.x);
            }
        });
    }
    found.expect("the seam is drawn")
}

#[test]
fn the_record_shows_the_seam_where_it_stands_and_tells_what_was_done() {
    let plan = planned(BUILT);
    for size in [Paper::Letter, Paper::A4] {
        let set = compose(&plan, Some(size), &[Reader::Record]).expect("sheets").remove(0);
        for sheet in &set.sheets {
            let all = texts(sheet);
            assert!(all.iter().any(|text| text.text == "As built"), "the status of {}", sheet.title);
            assert!(all.iter().any(|text| text.text == "2026-06-20"), "the date of {}", sheet.title);
            let areas: Vec<_> = all.iter().map(|text| (text.text.as_str(), text::area(text))).collect();
            for (i, (words, area)) in areas.iter().enumerate() {
                assert!(paper::frame(size).contains(area), "{words} hangs out of {}", sheet.title);
                let over = areas[..i].iter().find(|(_, other)| other.overlaps(area));
                assert!(over.is_none(), "{words} lies over {over:?} on {}", sheet.title);
            }
        }
        // The three seams of wall 1 are planned at equal distances; the middle one stands 1¼ in off.
        let [a, b, c] = ["1A-1B", "1B-1C", "1C-1D"].map(|label| seam(&set, label));
        let planned = plan.rooms[0].walls[0].panel.as_ref().expect("a panel");
        let x = |n: usize| planned.seams[n].x;
        assert_eq!(x(1) - x(0), x(2) - x(1));
        let (built, whole) = (Length::inches(68) - x(0), x(2) - x(0));
        assert_ne!(built * 2, whole);
        let drawn = (c - a).scale(built.nm(), whole.nm());
        assert!((b - a - drawn).abs() <= Length::micrometres(2), "{} {}", b - a, drawn);
        let said: Vec<&str> = set.sheets.iter().flat_map(texts).map(|text| text.text.as_str()).collect();
        for words in ["Seam 1B-1C", "cut again, dye lot L9", "Damp was sealed here.", "5′ 8″"] {
            assert!(said.iter().any(|text| text.contains(words)), "{words} is not told");
        }
    }
}

#[test]
fn the_other_sets_are_as_planned() {
    let (with, without) = (planned(BUILT), planned(""));
    let readers = [Reader::Crew, Reader::Workroom, Reader::Approval, Reader::Costs];
    let sets = |plan: &Plan| compose(plan, None, &readers).expect("sheets");
    assert_eq!(sets(&with), sets(&without));
    assert!(sets::has_any(&with, Reader::Record) && !sets::has_any(&without, Reader::Record));
    assert!(compose(&without, None, &[Reader::Record]).expect("nothing to set").is_empty());
}

#[test]
fn a_record_of_a_record_is_the_same() {
    let once = record::recorded(&planned(BUILT));
    assert_eq!(record::recorded(&once), once);
    assert_eq!(once.built, planned(BUILT).built);
}
