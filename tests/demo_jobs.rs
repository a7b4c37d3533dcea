//! The demo jobs pass the check without a word.

use clothwright::diag::Diags;
use clothwright::job;
use clothwright::parse;
use clothwright::report;
use clothwright::source::Sources;
use clothwright::units::Length;

fn checked(name: &str) -> job::model::Job {
    let path = format!("{}/jobs/{name}.kdl", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the demo job is there");
    let mut sources = Sources::default();
    let file = sources.add(format!("jobs/{name}.kdl"), text.as_str());
    let mut diags = Diags::default();
    let parsed = parse::parse(&text, file, &mut diags);
    let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
    let told = report::short(&sources, &diags.sorted());
    assert_eq!(told, "", "{name}");
    job.expect("a job without problems is a job").0
}

#[test]
fn tern_inn_parlour() {
    let job = checked("tern-inn-parlour");
    let room = &job.rooms[0];
    assert!(room.closed);
    assert_eq!(room.walls.len(), 8);
    let outside = room.corners.iter().filter(|c| c.kind == job::model::CornerKind::Outside).count();
    assert_eq!(outside, 2);
    let lattice = job.cloths[0].pattern.expect("damask has a pattern");
    assert_eq!(job.cloths[0].match_width, lattice.horizontal * 2);
    assert_eq!(lattice.drop * 2, lattice.vertical);
}

#[test]
fn feature_wall() {
    let job = checked("feature-wall");
    assert!(!job.rooms[0].closed);
    assert!(job.cloths[0].pattern.is_none());
}

#[test]
fn plover_house_stair() {
    let job = checked("plover-house-stair");
    let [hall, stair] = job.rooms.as_slice() else { panic!("two rooms") };
    // The rail steps down under the beam, the dado climbs with the stair.
    assert_eq!(hall.walls[0].field_top().steps().count(), 2);
    assert!(hall.walls[0].openings[0].hole().is_arched());
    let dado = stair.walls[0].field_bottom();
    assert_eq!(dado.at(stair.walls[0].width) - dado.at(Length::ZERO), Length::inches(99));
}

#[test]
fn metric_attic_study() {
    let job = checked("metric-attic-study");
    assert_eq!(job.rooms[0].walls[0].ceiling.points().len(), 3);
}

#[test]
fn sluice_house_landing() {
    let job = checked("sluice-house-landing");
    assert_eq!(job.cloths[0].hang, job::model::ClothHang::Railroaded);
    assert_eq!(job.cloths[1].nap, job::model::Nap::Down);
}

/// A bolt short and narrow, its repeat another than its label's, a hole in it, and a wall cut.
#[test]
fn otter_lodge_study() {
    let job = checked("otter-lodge-study");
    let cloth = &job.cloths[0];
    let label = cloth.label.expect("it was measured");
    assert_eq!((label.width, cloth.width), (Length::inches(54), Length::inch_64ths(53 * 64 + 48)));
    let repeat = cloth.pattern.expect("reeds and herons");
    assert_eq!((repeat.vertical, repeat.drop * 2), (Length::inch_64ths(25 * 64 + 24), repeat.vertical));
    let plan = clothwright::plan::make(job).expect("there is cloth enough");
    let made = || plan.cloths[0].bolts.iter().flat_map(|bolt| &bolt.made);
    assert_eq!((made().count(), made().filter(|made| made.serves.is_none()).count()), (11, 1));
    assert!(plan.cloths[0].round_flaws > Length::ZERO);
}
