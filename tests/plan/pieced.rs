//! Openings compared the other way: what a trial tells is what the job gives when it asks for that way.

use clothwright::job::model::{AcrossWish, Job};
use clothwright::plan;
use clothwright::plan::model::Plan;
use clothwright::units::Length;

use crate::demo;
use crate::generate::random_job;

fn seams(plan: &Plan) -> (i64, Length) {
    let panels = plan.rooms.iter().flat_map(|room| &room.walls).filter_map(|wall| wall.panel.as_ref());
    let seen: Vec<_> = panels.flat_map(|p| &p.seams).filter(|seam| !seam.in_sight.is_empty()).collect();
    let length = seen.iter().flat_map(|seam| &seam.in_sight).map(|(low, high)| *high - *low).sum();
    (seen.len() as i64, length)
}

/// How many trials of a job of one room were found to hold, of those that could be planned and those that
/// could not.
fn hold(name: &str, job: &Job) -> (usize, usize) {
    let Ok(mut plan) = plan::make(job.clone()) else { return (0, 0) };
    plan::pieced::compare(&mut plan);
    let (mut could, mut could_not) = (0, 0);
    for trial in &plan.opening_trials {
        let mut other = job.clone();
        let opening = &mut other.rooms[0].walls[trial.wall.wall].openings[trial.opening];
        opening.cloth = opening.cloth.other();
        match (plan::make(other), trial.other) {
            (Ok(other), Some(told)) => {
                let (was, now) = (&plan.cloths[0], &other.cloths[0]);
                assert_eq!(told.more_used, now.used - was.used, "{name}: {trial:?}");
                assert_eq!(told.more_units, now.order_units - was.order_units, "{name}: {trial:?}");
                let ((seen, sight), (seen_now, sight_now)) = (seams(&plan), seams(&other));
                assert_eq!(told.more_seams, seen_now - seen, "{name}: {trial:?}");
                assert_eq!(told.more_in_sight, sight_now - sight, "{name}: {trial:?}");
                could += 1;
            }
            (Err(fault), None) => {
                assert!(trial.why_not.starts_with(&fault.message), "{name}: {trial:?}");
                could_not += 1;
            }
            (other, _) => panic!("{name}: {trial:?} and {:?}", other.err()),
        }
    }
    (could, could_not)
}

#[test]
fn an_opening_the_other_way_takes_what_its_trial_tells() {
    let one_room = |job: &Job| job.rooms.len() == 1;
    let placed = |job: &Job| job.rooms[0].registration.across != AcrossWish::LeastCloth;
    let demos = demo::plans().into_iter().map(|(name, plan)| (name, plan.job));
    let made = (0..24).map(|seed| (format!("room {seed}"), random_job(seed)));
    let jobs = demos.chain(made).filter(|(_, job)| one_room(job) && placed(job));
    let found: Vec<(usize, usize)> = jobs.map(|(name, job)| hold(&name, &job)).collect();
    let could: usize = found.iter().map(|f| f.0).sum();
    println!("{could} could be, {} could not", found.iter().map(|f| f.1).sum::<usize>());
    assert!(could >= 30, "{could}");
}

#[test]
fn the_pattern_stays_where_it_is_when_it_was_placed_for_least_cloth() {
    let mut compared = 0;
    for seed in 0..24 {
        let mut job = random_job(seed);
        if job.cloths[0].pattern.is_none() {
            continue;
        }
        job.rooms[0].registration.across = AcrossWish::LeastCloth;
        let Ok(mut plan) = plan::make(job.clone()) else { continue };
        plan::pieced::compare(&mut plan);
        // The same place asked for by its line gives the same trials.
        let wall = plan.opening_trials.first().map_or(0, |trial| trial.wall.wall);
        let (has, half) =
            (&plan.rooms[0].registration, job.cloths[0].pattern.map_or(Length::ZERO, |p| p.horizontal) / 2);
        let from_left = has.x0 - half - plan.rooms[0].walls[wall].x;
        job.rooms[0].registration.across = AcrossWish::LineOn { wall, from_left };
        let mut lined = plan::make(job).expect("a plan");
        plan::pieced::compare(&mut lined);
        assert_eq!((lined.rooms[0].registration.x0, lined.rooms[0].registration.y0), (has.x0, has.y0));
        if lined.cloths[0].used == plan.cloths[0].used {
            assert_eq!(lined.opening_trials, plan.opening_trials, "room {seed}");
            compared += plan.opening_trials.len();
        }
    }
    println!("{compared} compared");
    assert!(compared >= 10, "{compared}");
}
