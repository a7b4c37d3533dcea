//! Where the pattern starts: every wish puts it where it says, and the options are true plans.

use clothwright::job::model::{AcrossWish, Job};
use clothwright::plan;
use clothwright::plan::model::Plan;
use clothwright::units::Length;

use crate::generate::random_job;
use crate::rooms::*;

fn planned(job: &Job, across: AcrossWish) -> Option<Plan> {
    let mut job = job.clone();
    job.rooms[0].registration.across = across;
    plan::make(job).ok()
}

/// Whether motif centres of the plan's pattern stand at `x` of wall `wall`.
fn motif_at(plan: &Plan, wall: usize, x: Length) -> bool {
    let lattice = plan.job.cloths[0].pattern.expect("a pattern");
    let room = &plan.rooms[0];
    // Halves are rounded down to the nanometre, of the wall as of the repeat.
    let off = (room.walls[wall].x + x - room.registration.x0).rem_euclid(lattice.horizontal);
    off.min(lattice.horizontal - off) <= Length::nanometres(1)
}

#[test]
fn a_motif_stands_on_the_opening_and_a_line_where_it_is_wished() {
    let (mut openings, mut lines) = (0, 0);
    for seed in 0..12 {
        let job = random_job(seed);
        if job.cloths[0].pattern.is_none() {
            continue;
        }
        for (wall, shape) in job.rooms[0].walls.iter().enumerate().filter(|(_, wall)| wall.clothed) {
            for (opening, hole) in shape.openings.iter().enumerate() {
                let plan = planned(&job, AcrossWish::MotifOnOpening { wall, opening }).expect("a plan");
                assert!(
                    motif_at(&plan, wall, (hole.outer.x0 + hole.outer.x1) / 2),
                    "room {seed}, wall {wall}"
                );
                openings += 1;
            }
        }
        let Some(wall) = job.rooms[0].walls.iter().position(|wall| wall.clothed) else { continue };
        let plan = planned(&job, AcrossWish::LineOn { wall, from_left: inch(7) }).expect("a plan");
        let repeat = plan.job.cloths[0].pattern.expect("a pattern").horizontal;
        let line = plan.rooms[0].walls[wall].x + inch(7) - plan.rooms[0].registration.match_line;
        assert_eq!(line.rem_euclid(repeat), Length::ZERO, "room {seed}");
        lines += 1;
    }
    assert!(openings > 5 && lines > 5, "{openings} openings, {lines} lines");
}

/// The chosen option is the plan itself, in every figure that both have; no option claims a shorter
/// order than the least; and what an option says can be had by asking for it.
#[test]
fn options_are_what_the_job_would_get() {
    let mut compared = 0;
    for seed in [0, 4, 8, 12] {
        let mut plan = plan::make(random_job(seed)).expect("a plan");
        plan::options::offer(&mut plan);
        let [room] = plan.options.as_slice() else { panic!("room {seed} has no options") };
        let cloth = &plan.cloths[0];
        let chosen = &room.options[0];
        assert!(chosen.chosen && room.options[1..].iter().all(|option| !option.chosen), "room {seed}");
        assert_eq!((chosen.used, chosen.order), (cloth.used, cloth.order), "room {seed}");
        assert_eq!(chosen.registration, plan.rooms[0].registration, "room {seed}");
        assert_eq!(chosen.kill, plan.rooms[0].kill, "room {seed}");
        for (wall, seams) in plan.rooms[0].walls.iter().zip(&chosen.walls) {
            assert!(wall.panel.iter().flat_map(|panel| &panel.seams).eq(seams), "room {seed}");
        }
        let shortest = room.options.iter().map(|option| option.order).min();
        for option in &room.options {
            assert_eq!(option.least, Some(option.order) == shortest, "room {seed}");
            let sight: Length =
                option.walls.iter().flatten().flat_map(|s| &s.in_sight).map(|(low, high)| *high - *low).sum();
            assert_eq!(option.in_sight, sight, "room {seed}");
            assert_eq!(option.kill, chosen.kill, "room {seed}: a miss depends on the girth alone");
        }
        let least = planned(&plan.job, AcrossWish::LeastCloth).expect("a plan");
        assert!(room.options.iter().any(|option| option.used == least.cloths[0].used), "room {seed}");
        compared += room.options.len();
    }
    assert!(compared >= 12, "only {compared} options");
}

/// Where the pattern starts up the wall is a matter of looks, and takes no cloth: of every length told not a
/// nanometre changes, whatever ties are met in laying out, and no strip or piece comes to another place.
#[test]
fn the_height_of_the_start_changes_no_length() {
    let mut moved = 0;
    for seed in 0..60 {
        let (low, mut high) = (random_job(seed), random_job(seed));
        let repeat = high.cloths[0].pattern.map_or(Length::ZERO, |lattice| lattice.vertical);
        // By no round part of any repeat.
        let by = Length::inch_64ths(64 * 3 + 17 + 5 * seed as i64);
        high.rooms[0].registration.below_crown += by;
        let planned = |job: Job| {
            let plan = plan::make(job).ok()?;
            let cloth = &plan.cloths[0];
            let cuts: Vec<_> =
                plan.pieces.iter().map(|p| (p.cut.bolt, p.cut.lay, p.cut.u, p.cut.v)).collect();
            let lengths = [cloth.used, cloth.bound, cloth.drops_alone, cloth.order];
            Some((lengths, cuts, cloth.bolts.iter().map(|bolt| bolt.start).collect::<Vec<_>>()))
        };
        let (low, high) = (planned(low), planned(high));
        let told = |found: &Option<([Length; 4], Vec<_>, Vec<Length>)>| {
            found.as_ref().map(|(lengths, cuts, _)| (*lengths, cuts.clone()))
        };
        assert_eq!(told(&low), told(&high), "room {seed}");
        let starts = low.into_iter().zip(high).flat_map(|(low, high)| low.2.into_iter().zip(high.2));
        for (low, high) in starts.filter(|_| repeat > Length::ZERO) {
            assert_eq!((low - high - by).rem_euclid(repeat), Length::ZERO, "room {seed}");
            moved += 1;
        }
    }
    assert!(moved > 30, "only {moved} bolts");
}
