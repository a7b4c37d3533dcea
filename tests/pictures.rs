//! The picture of one repeat on the designer's elevations: in phase, to scale, and nowhere else.

use clothwright::diag::Diags;
use clothwright::geom::Point;
use clothwright::parse::{FetchFault, Shelf};
use clothwright::plan::model::Plan;
use clothwright::sheet::model::{Mark, Reader, Sheet};
use clothwright::source::Sources;
use clothwright::units::Length;
use clothwright::{job, parse, plan, sheet};

struct Jobs;

impl Shelf for Jobs {
    fn fetch(&self, path: &str, _most: usize) -> Result<Vec<u8>, FetchFault> {
        std::fs::read(format!("jobs/{path}")).map_err(|_| FetchFault::Missing)
    }
}

fn planned() -> Plan {
    let mut sources = Sources::default();
    let mut diags = Diags::default();
    let text = std::fs::read_to_string("jobs/lantern-row-bay.kdl").unwrap();
    let file = sources.add("lantern-row-bay.kdl", text);
    let parsed = parse::with_shared(&mut sources, file, &Jobs, &mut diags).unwrap();
    let (job, _) = job::check(&parsed, &mut diags).unwrap();
    assert!(diags.is_empty(), "{:?}", diags.sorted());
    plan::make(job).unwrap()
}

/// All tiles of a sheet: their size and the places of their top left corners.
fn tiles(marks: &[Mark], into: &mut Vec<(Length, Length, Vec<Point>)>) {
    for mark in marks {
        match mark {
            Mark::Tiles { width, height, places, .. } => into.push((*width, *height, places.clone())),
            Mark::Clip { marks, .. } | Mark::Stamp { marks, .. } => tiles(marks, into),
            Mark::Group(group) => tiles(&group.marks, into),
            _ => {}
        }
    }
}

fn of(sheet: &Sheet) -> Vec<(Length, Length, Vec<Point>)> {
    let mut all = Vec::new();
    tiles(&sheet.marks, &mut all);
    all
}

#[test]
fn only_the_designer_sees_the_picture() {
    let plan = planned();
    for set in sheet::compose(&plan, None, &Reader::ALL).unwrap() {
        let pictured = set.sheets.iter().filter(|sheet| !of(sheet).is_empty()).count();
        assert_eq!(pictured > 0, set.reader == Reader::Approval, "{:?}", set.reader);
    }
}

/// Distances between tiles on paper are those between motifs in the room: whole repeats across, each
/// with its drop (a half), whole repeats up.
#[test]
fn tiles_stand_in_phase_and_to_scale() {
    let plan = planned();
    let pattern = plan.job.cloths[0].pattern.unwrap();
    let sets = sheet::compose(&plan, None, &[Reader::Approval]).unwrap();
    let mut seen = 0;
    for sheet in sets[0].sheets.iter().filter(|sheet| sheet.key.starts_with("elevation")) {
        let all = of(sheet);
        let Some((width, height, first)) = all.first() else { continue };
        // One scale on a sheet, to the rounding of a nanometre on paper.
        let scale = pattern.horizontal.nm() / width.nm();
        assert!((pattern.vertical.nm() - height.nm() * scale).abs() <= scale, "{scale}");
        let origin = first[0];
        for place in all.iter().flat_map(|(_, _, places)| places) {
            let across = (place.x - origin.x).nm() * scale;
            let down = (place.y - origin.y).nm() * scale;
            let columns = (across as f64 / pattern.horizontal.nm() as f64).round() as i64;
            let close = |a: i64, b: i64| (a - b).abs() <= 2 * scale;
            assert!(close(across, pattern.horizontal.nm() * columns), "{place:?}");
            let rest = (down - pattern.drop.nm() * columns).rem_euclid(pattern.vertical.nm());
            assert!(close(rest, 0) || close(rest, pattern.vertical.nm()), "{place:?}: {rest}");
            seen += 1;
        }
    }
    assert!(seen > 40, "{seen}");
}

/// The middle of a tile is a motif, where the crew's sheets draw one.
#[test]
fn the_picture_hangs_where_the_crew_finds_the_motifs() {
    let plan = planned();
    let mut without = plan.clone();
    without.job.cloths[0].picture = None;
    let approval = |plan: &Plan| sheet::compose(plan, None, &[Reader::Approval]).unwrap().remove(0);
    fn stamps(marks: &[Mark], into: &mut Vec<Point>) {
        for mark in marks {
            match mark {
                Mark::Stamp { places, .. } => into.extend(places),
                Mark::Clip { marks, .. } => stamps(marks, into),
                Mark::Group(group) if group.id.starts_with("strip-") => stamps(&group.marks, into),
                _ => {}
            }
        }
    }
    let (pictured, plain) = (approval(&plan), approval(&without));
    let mut seen = 0;
    for (sheet, other) in pictured.sheets.iter().zip(&plain.sheets).filter(|(s, _)| !of(s).is_empty()) {
        let mut motifs = Vec::new();
        other.marks.iter().for_each(|mark| {
            if let Mark::Group(group) = mark {
                let inner: &[Mark] =
                    if group.id.starts_with("strip-") { std::slice::from_ref(mark) } else { &group.marks };
                stamps(inner, &mut motifs);
            }
        });
        for (width, height, places) in of(sheet) {
            for place in places {
                let middle = Point::new(place.x + width / 2, place.y + height / 2);
                assert!(motifs.contains(&middle), "{middle:?} on {}", sheet.key);
                seen += 1;
            }
        }
    }
    assert!(seen > 40, "{seen}");
}
