//! The survey checked by itself: closing errors worked by hand, and the other measures that agree or do not.

use clothwright::export::json;
use clothwright::job::model::{Amiss, BothEnds, CheckKind, Job, SurveyCheck};
use clothwright::job::survey::checks;
use clothwright::plan;
use clothwright::units::{Angle, Length, UnitSystem};

use crate::rooms::*;

/// A closed room of these walls, in inches, and these inside angles.
fn closed(widths: &[i64], angles: &[i64]) -> Job {
    let mut job = rectangle(cloth(None));
    let room = &mut job.rooms[0];
    let named = widths.iter().enumerate();
    room.walls = named.map(|(i, width)| wall(&(i + 1).to_string(), inch(*width), inch(96))).collect();
    room.corners = corners(&angles.iter().copied().map(Some).collect::<Vec<_>>());
    job
}

fn only(job: &Job, kind: CheckKind) -> SurveyCheck {
    let mut found: Vec<SurveyCheck> = checks(job).into_iter().filter(|check| check.kind == kind).collect();
    assert_eq!(found.len(), 1, "{found:#?}");
    found.remove(0)
}

fn failing(job: &Job) -> Vec<CheckKind> {
    checks(job).iter().filter(|check| check.fails()).map(|check| check.kind).collect()
}

/// Derived: four square corners; the third wall is 10 in longer than the first, so the walk ends 10 in
/// beyond its start along both.
#[test]
fn a_wall_ten_inches_long_is_suspected_with_the_one_that_faces_it() {
    let check = only(&closed(&[144, 120, 154, 120], &[90; 4]), CheckKind::Closing);
    assert_eq!(check.out_by, Amiss::Length(inch(10)));
    // A two-hundredth of 538 in is 2.69 in, more than the 2 in that any room may miss by.
    assert_eq!(check.limit, Amiss::Length(inch(538) / 200));
    assert!(check.fails());
    assert_eq!(check.walls, [0, 2]);
    assert!(
        check.again.starts_with("most likely wall 3 taken too long, or wall 1 taken too short"),
        "{}",
        check.again
    );
}

/// Derived: 3 in along one pair of walls and 4 in along the other are 5 in apart, 53 and 37 degrees off
/// either pair: more than one wall is wrong.
#[test]
fn an_error_askew_to_every_wall_is_no_single_walls() {
    let check = only(&closed(&[144, 120, 147, 124], &[90; 4]), CheckKind::Closing);
    assert_eq!(check.out_by, Amiss::Length(inch(5)));
    assert!(check.walls.is_empty());
    assert!(check.again.starts_with("no single width explains it"), "{}", check.again);
}

/// Derived: a right-angled triangle of 3, 4 and 5 closes; its corners are 90, and atan 4/3 = 53.130102 and
/// atan 3/4 = 36.869898 degrees. Its longest wall taken 6 in short fails by 6 in, along that wall alone.
#[test]
fn a_triangle_closes_and_names_its_slanting_wall() {
    let mut job = closed(&[90, 120, 150], &[90, 90, 90]);
    // Corner A lies between walls 3 and 1, B between 1 and 2, C between 2 and 3.
    for (corner, udeg) in [(0, 53_130_102), (1, 90_000_000), (2, 36_869_898)] {
        job.rooms[0].corners[corner].angle = Angle::microdegrees(udeg);
    }
    let sound = only(&job, CheckKind::Closing);
    let Amiss::Length(out) = sound.out_by else { panic!("{sound:?}") };
    assert!(out < Length::micrometres(1), "{out}");
    job.rooms[0].walls[2] = wall("3", inch(144), inch(96));
    let short = only(&job, CheckKind::Closing);
    let Amiss::Length(out) = short.out_by else { panic!("{short:?}") };
    assert!((out - inch(6)).abs() < Length::micrometres(1), "{out}");
    assert_eq!(short.walls, [2]);
    assert!(short.again.starts_with("most likely wall 3 taken too short"), "{}", short.again);
}

/// Derived: a chimney breast whose return was taped 20 in where it is 17, beside its twin of 17. The error
/// is 3 in along the returns and the side walls.
#[test]
fn every_wall_of_the_direction_is_suspect() {
    let widths = [50, 20, 50, 17, 50, 100, 150, 100];
    let check = only(&closed(&widths, &[90, 90, 270, 270, 90, 90, 90, 90]), CheckKind::Closing);
    assert_eq!(check.out_by, Amiss::Length(inch(3)));
    assert_eq!(check.walls, [1, 3, 5, 7]);
}

/// Derived: 90 + 90 + 90 + 94 is 4 degrees over 360.
#[test]
fn angles_are_settled_before_widths() {
    let job = closed(&[144, 120, 144, 120], &[90, 94, 90, 90]);
    let check = only(&job, CheckKind::Turning);
    assert_eq!((check.out_by, check.fails()), (Amiss::Angle(Angle::degrees(4)), true));
    assert!(only(&job, CheckKind::Closing).again.starts_with("settle the angles"));
    let square = closed(&[144, 120, 144, 120], &[90; 4]);
    assert!(checks(&square).iter().all(|check| check.kind != CheckKind::Turning));
}

/// Derived: 30 + 40 + 66 is 136; half an inch is allowed and 5/8 in is not.
#[test]
fn what_is_taped_from_both_ends_makes_up_the_wall() {
    let mut job = feature_wall(cloth(None), inch(136), inch(96));
    let both = |from_right| BothEnds { label: "W1".into(), from_left: inch(30), width: inch(40), from_right };
    let mut told = |from_right| {
        job.rooms[0].walls[0].cross_checks.both_ends = vec![both(from_right)];
        failing(&job)
    };
    assert!(told(inch(66)).is_empty());
    assert!(told(inch(66) + sixty_fourths(32)).is_empty());
    assert_eq!(told(inch(66) + sixty_fourths(40)), [CheckKind::BothEnds]);
    assert_eq!(told(inch(66) - sixty_fourths(40)), [CheckKind::BothEnds]);
}

/// Derived: widths 120, 121 and 124 differ by 4; a ceiling 96, 100, 98 has its middle 3 above 97.
#[test]
fn widths_and_heights_of_one_wall_agree() {
    let mut job = feature_wall(cloth(None), inch(121), inch(96));
    let wall = &mut job.rooms[0].walls[0];
    (wall.width_top, wall.width_bottom) = (inch(120), inch(124));
    assert_eq!(only(&job, CheckKind::Widths).out_by, Amiss::Length(inch(4)));
    assert_eq!(failing(&job), [CheckKind::Widths]);
    job.house.survey.widths = inch(4);
    assert!(failing(&job).is_empty());
}

/// A lean of half an inch either way of mid height is an inch from bottom to top.
#[test]
fn what_the_diagonals_tell_is_among_the_checks() {
    let mut job = feature_wall(cloth(None), inch(121), inch(96));
    assert!(checks(&job).iter().all(|check| check.kind != CheckKind::Square));
    job.rooms[0].walls[0].lean = sixty_fourths(32);
    assert_eq!(only(&job, CheckKind::Square).out_by, Amiss::Length(inch(1)));
}

/// Two rooms whose walls are two sides of one: told once, although both say so.
#[test]
fn two_sides_of_a_wall_are_compared_once() {
    let mut job = feature_wall(cloth(None), inch(144), inch(96));
    let mut other = job.rooms[0].clone();
    other.name = "other".into();
    other.walls[0] = wall("1", inch(146), inch(96));
    job.rooms.push(other);
    job.rooms[0].walls[0].cross_checks.back_of = Some((1, 0));
    job.rooms[1].walls[0].cross_checks.back_of = Some((0, 0));
    let check = only(&job, CheckKind::Back);
    assert_eq!((check.room, check.out_by), (0, Amiss::Length(inch(2))));
    assert!(check.fails());
}

/// What fails stands in the plan and is watched for; a metric job tells it in millimetres.
#[test]
fn the_plan_holds_the_checks_and_names_what_fails() {
    let mut job = closed(&[144, 120, 154, 120], &[90; 4]);
    job.print.format.system = UnitSystem::Millimetres;
    job.print.format.step = Length::mm(1);
    let plan = plan::make(job.clone()).expect("a plan");
    assert_eq!(plan.survey, checks(&job));
    assert!(
        plan.work_watch.iter().any(|watch| watch.contains("end 254 mm from where they start")),
        "{:?}",
        plan.work_watch
    );
    let file: serde_json::Value = serde_json::from_str(&json::plan(&plan)).expect("JSON");
    assert_eq!(file["survey"][0]["kind"], "closing");
    assert_eq!(file["survey"][0]["out_by"]["length"], 254_000_000);
}
