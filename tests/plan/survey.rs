//! What a surveyor writes of a single wall, followed through the plan by hand.

use clothwright::export::json;
use clothwright::job::model::{AcrossWish, Job};
use clothwright::plan;
use clothwright::plan::model::Plan;
use clothwright::units::Length;

use crate::checker::problems;
use crate::rooms::*;

fn planned(job: Job) -> Plan {
    let plan = plan::make(job).expect("a plan");
    let found = problems(&json::plan(&plan));
    assert!(found.is_empty(), "{found:#?}");
    plan
}

fn seams(plan: &Plan) -> Vec<Length> {
    let panel = plan.rooms[0].walls[0].panel.as_ref().expect("a panel");
    panel.seams.iter().map(|seam| seam.x).collect()
}

/// Cloth that covers 52 in with two repeats of 26, on a wall of 130 in whose left end has a match line:
/// the seams can stand at 26 and 78, or at 52 and 104.
fn two_starts() -> Job {
    let mut job = feature_wall(cloth(lattice(inch(26), inch(25), Length::ZERO)), inch(130), inch(96));
    job.rooms[0].registration.across = AcrossWish::FromCorner(0);
    job
}

/// Whichever start is free to choose, a stretch on its first seam forces the other one.
#[test]
fn a_stretch_without_seams_forces_the_other_start() {
    let free = seams(&planned(two_starts()));
    assert!(free == [inch(26), inch(78)] || free == [inch(52), inch(104)], "{free:?}");
    let other = if free[0] == inch(26) { [inch(52), inch(104)] } else { [inch(26), inch(78)] };
    let mut job = two_starts();
    job.rooms[0].walls[0].no_seam = vec![(free[0] - inch(3), free[0] + inch(3))];
    assert_eq!(seams(&planned(job)), other);
    // A seam may stand on the end of a stretch.
    let mut job = two_starts();
    job.rooms[0].walls[0].no_seam = vec![(free[0], free[0] + inch(6))];
    assert_eq!(seams(&planned(job)), free);
}

/// From 20 to 84 in stand seams of both starts: 26 and 78, or 52. Between 26 and 78 nothing stands with
/// the first, which is the widest that can be kept clear.
#[test]
fn a_stretch_that_no_start_keeps_clear_is_refused_with_one_that_can_be_had() {
    let mut job = two_starts();
    job.rooms[0].walls[0].no_seam = vec![(inch(20), inch(84))];
    let fault = plan::make(job).expect_err("every start has a seam there");
    assert_eq!(fault.code, "seam-not-avoidable");
    assert!(fault.message.contains("from 1′ 8″ to 7′"), "{}", fault.message);
    assert!(fault.help.contains("from 2′ 2″ to 6′ 6″ is possible"), "{}", fault.help);
}

/// Plain cloth can start anywhere, and does: 100 in of wall need one seam, and 48 to 90 in are kept clear.
#[test]
fn plain_cloth_starts_beside_the_stretch() {
    let mut job = feature_wall(cloth(None), inch(100), inch(96));
    job.rooms[0].walls[0].no_seam = vec![(inch(48), inch(90))];
    assert_eq!(seams(&planned(job)), [inch(48)]);
}
