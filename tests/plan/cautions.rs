//! Every caution has a job that raises it and one that does not.

use std::collections::BTreeSet;

use clothwright::geom::{Point, Profile, Rect};
use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::Stage;
use clothwright::units::{Length, LengthFormat, UnitSystem};

use crate::rooms::*;

fn codes(job: Job) -> BTreeSet<&'static str> {
    make(job).expect("a plan").cautions.iter().map(|c| c.code).collect()
}

/// A dado of plain cloth 4 ft high and 3 ft wide, one width, on sound panelling of 1990, no trim, no
/// boxes, in a dwelling: as quiet as a job can be.
fn quiet() -> Job {
    let mut job = feature_wall(cloth(None), inch(36), inch(48));
    job.rooms[0].walls[0].substrate = Substrate::Panelling;
    job
}

fn with(change: impl Fn(&mut Job)) -> BTreeSet<&'static str> {
    let mut job = quiet();
    change(&mut job);
    codes(job)
}

fn add_box(job: &mut Job, from_left: Length) {
    let rect = Rect::new(from_left, inch(20), from_left + inch(2), inch(23));
    job.rooms[0].walls[0].fixings.push(Fixing { label: "X1".into(), kind: FixingKind::Box, rect });
}

fn add_pipe(job: &mut Job, x: Length) {
    let (from, to) = (Point::new(x, Length::ZERO), Point::new(x, inch(48)));
    job.rooms[0].walls[0].services.push(Service { kind: ServiceKind::Pipe, from, to });
}

/// A pipe up the middle of a wall 36 in wide meets the rows at top and bottom, in batting and in cloth; one up
/// its left edge meets those of the left side as well.
#[test]
fn a_known_pipe_is_told_with_the_rows_that_meet_it() {
    let because = |x: Length| {
        let mut job = quiet();
        add_pipe(&mut job, x);
        let plan = make(job).expect("a plan");
        let caution = plan.cautions.iter().position(|c| c.code == "known-services").expect("the caution");
        let steps = plan.steps.iter().filter(|s| s.cautions.contains(&caution));
        let stages: BTreeSet<_> = steps.map(|s| s.stage).collect();
        assert!([Stage::Prepare, Stage::Batting, Stage::Hang].iter().all(|s| stages.contains(s)));
        plan.cautions[caution].because.clone()
    };
    assert_eq!(
        because(inch(17)),
        "A pipe runs up wall 1, 1′ 5″ from corner A; 8 rows of staples stop 4″ from it."
    );
    assert_eq!(
        because(inch(2)),
        "A pipe runs up wall 1, 2″ from corner A; 4 rows of staples stop 4″ from it."
    );
}

/// The cautions that nothing but what the job always has can raise.
#[test]
fn a_quiet_job_raises_little() {
    assert_eq!(codes(quiet()), BTreeSet::from(["stapler", "fire-dwelling"]));
}

#[test]
fn each_caution_comes_with_its_cause() {
    let raised: Vec<(&str, BTreeSet<&str>)> = vec![
        ("power-off", with(|j| add_box(j, inch(17)))),
        ("box-extender", with(|j| add_box(j, inch(17)))),
        ("hidden-services", with(|j| j.rooms[0].walls[0].substrate = Substrate::Drywall)),
        ("staples-near-boxes", with(|j| add_box(j, inch(3)))),
        ("known-services", with(|j| add_pipe(j, inch(17)))),
        ("metallic-cloth", with(|j| j.cloths[0].metallic = true)),
        ("stapler-pressure", with(|j| j.house.stapler_psi = 101)),
        ("iron", codes(feature_wall(cloth(None), inch(72), inch(48)))),
        ("stairwell", with(|j| j.rooms[0].walls[0].floor = rising(inch(36), inch(7)))),
        ("fireplace", codes(chimney_breast(cloth(None)))),
        ("ladder", codes(feature_wall(cloth(None), inch(36), inch(73)))),
        ("platform", codes(feature_wall(cloth(None), inch(49), inch(73)))),
        ("lead", with(|j| j.rooms[0].year = 1977)),
        ("asbestos", with(|j| (j.rooms[0].textured, j.rooms[0].year) = (true, 1980))),
        ("dust", with(|j| j.rooms[0].walls[0].substrate = Substrate::Plaster)),
        ("adhesive", with(|j| j.trims.top = braid(false))),
        ("fire-public", with(|j| j.rooms[0].public = true)),
        ("fire-data-missing", with(|j| j.rooms[0].public = true)),
        ("fire-foam", with(|j| j.batting.foamed = true)),
        ("fire-battens", with(|j| j.rooms[0].walls[0].substrate = Substrate::Masonry)),
        ("outside-us", with(metric)),
    ];
    let quiet = codes(quiet());
    for (code, codes) in &raised {
        assert!(codes.contains(code), "{code} is not raised: {codes:?}");
        assert!(!quiet.contains(code), "{code} is raised without cause");
    }
}

/// A floor that rises along a wall.
fn rising(width: Length, by: Length) -> Profile {
    Profile::new(vec![Point::new(Length::ZERO, Length::ZERO), Point::new(width, by)]).expect("a profile")
}

fn metric(job: &mut Job) {
    job.print.format = LengthFormat { system: UnitSystem::Millimetres, step: Length::mm(1) };
}

/// The other side of the causes: just short of them, or answered.
#[test]
fn no_caution_without_its_cause() {
    assert!(!with(|j| j.house.stapler_psi = 100).contains("stapler-pressure"));
    assert!(!with(|j| j.rooms[0].year = 1978).contains("lead"));
    assert!(!with(|j| (j.rooms[0].textured, j.rooms[0].year) = (true, 1981)).contains("asbestos"));
    assert!(!with(|j| add_box(j, inch(17))).contains("staples-near-boxes"));
    assert!(!with(|j| j.rooms[0].public = true).contains("fire-dwelling"));
    assert!(!codes(feature_wall(cloth(None), inch(48), inch(73))).contains("platform"));
    let with_data = |job: &mut Job| {
        job.rooms[0].public = true;
        job.cloths[0].fire_class = "class A, ASTM E84".into();
        job.batting.fire_class = "class A, ASTM E84".into();
    };
    assert!(!with(with_data).contains("fire-data-missing"));
    let vent_only = |job: &mut Job| {
        add_box(job, inch(17));
        job.rooms[0].walls[0].fixings[0].kind = FixingKind::Vent;
    };
    assert!(!with(vent_only).contains("power-off"));
    assert!(!with(|j| j.rooms[0].walls[0].floor = rising(inch(36), inch(6))).contains("stairwell"));
}

/// A year that nobody gave is no proof that a house is young.
#[test]
fn an_unknown_year_is_told() {
    assert!(with(|j| j.rooms[0].year = 0).contains("lead"));
    let plan = make({
        let mut job = quiet();
        job.rooms[0].year = 0;
        job
    });
    let lead = plan.expect("a plan").cautions.into_iter().find(|c| c.code == "lead");
    assert!(lead.is_some_and(|c| c.because.contains("not known")));
}

/// Nothing staples, nothing to warn of: a plan whose staple lines are taken out raises no stapler.
#[test]
fn no_staples_no_stapler() {
    let mut plan = make(quiet()).expect("a plan");
    plan.rooms[0].walls[0].staples.clear();
    let codes: Vec<&str> = clothwright::plan::cautions::cautions(&plan).iter().map(|c| c.code).collect();
    assert!(!codes.contains(&"stapler"));
}

/// Every caution names a source and a cause, and the steps that quote it point at it.
#[test]
fn cautions_name_their_source() {
    let plan = make(chimney_breast(cloth(None))).expect("a plan");
    for caution in &plan.cautions {
        assert!(!caution.source.is_empty() && !caution.because.is_empty(), "{}", caution.code);
    }
    for step in &plan.steps {
        assert!(step.cautions.iter().all(|c| *c < plan.cautions.len()));
    }
}

/// Each caution is read before some step: none stands only on the front page.
#[test]
fn every_caution_has_its_step() {
    let mut job = chimney_breast(cloth(None));
    metric(&mut job);
    add_box(&mut job, inch(3));
    job.cloths[0].metallic = true;
    job.batting.foamed = true;
    job.house.stapler_psi = 110;
    job.trims.top = braid(true);
    job.rooms[0].year = 1900;
    job.rooms[0].textured = true;
    job.rooms[0].public = true;
    job.rooms[0].walls[0].substrate = Substrate::Masonry;
    job.rooms[0].walls[0].floor = rising(job.rooms[0].walls[0].width, inch(7));
    add_pipe(&mut job, inch(17));
    let plan = make(job).expect("a plan");
    for (index, caution) in plan.cautions.iter().enumerate() {
        assert!(plan.steps.iter().any(|s| s.cautions.contains(&index)), "{} has no step", caution.code);
    }
    assert_eq!(plan.cautions.len(), 22);
}
