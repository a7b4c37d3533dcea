//! Openings covered through or pieced over and under: what each way takes of cloth, and what it shows of
//! seams.

use rayon::prelude::*;

use super::PlanFault;
use super::model::{Compared, OpeningTrial, Panel, Plan, RoomPlan, WallRef};
use super::options::MOST_ROOMS;
use super::registration::{alone, in_sight, widest};
use super::starts::{Start, Starts, Takes};
use crate::job::model::{AcrossWish, Job, Opening, RegistrationWish, Room};
use crate::units::Length;

/// Openings of a room compared at most: those whose cut-outs are largest.
const MOST_OPENINGS: usize = 6;

/// Adds to a plan what the room would take if one opening were treated the other way.
///
/// This is a stage of its own, since it plans a room once more for each of its openings. The pattern stays
/// where it is. Cloth of which some is cut already is not compared, nor is a job of more rooms than
/// [`MOST_ROOMS`].
pub fn compare(plan: &mut Plan) {
    if plan.job.rooms.len() > MOST_ROOMS {
        return;
    }
    let rooms: Vec<usize> = (0..plan.job.rooms.len()).collect();
    plan.opening_trials = rooms.into_par_iter().flat_map_iter(|room| of_room(plan, room)).collect();
}

fn of_room(plan: &Plan, index: usize) -> Vec<OpeningTrial> {
    let (job, room) = (&plan.job, &plan.job.rooms[index]);
    let begun = job.cloths[room.cloth].on_hand.iter().any(|bolt| !bolt.cuts.is_empty());
    let openings = openings(room);
    if begun || openings.is_empty() {
        return Vec::new();
    }
    let alone = alone(job, index);
    let shared = job.rooms.iter().filter(|other| other.cloth == room.cloth).count() > 1;
    let wish = own_start(&alone, &plan.rooms[index]);
    let way = plan.rooms[index].registration.way;
    let planned = |job: &Job| Starts::new(job, way).plan(&[wish]).pop();
    let own = match shared {
        false => (Takes::of(&plan.cloths[room.cloth]), plan.rooms[index].clone()),
        true => match planned(&alone) {
            Some(Ok(Start { room, takes })) => (takes, room),
            _ => return Vec::new(),
        },
    };
    let trial = |&(wall, opening): &(usize, usize)| {
        let mut other = alone.clone();
        let treated = &mut other.rooms[0].walls[wall].openings[opening].cloth;
        *treated = treated.other();
        let start = planned(&other)?;
        Some(told(start, &own, (WallRef { room: index, wall }, opening, shared)))
    };
    openings.par_iter().filter_map(trial).collect()
}

/// The openings that the cloth can cover or not, by wall and opening.
fn openings(room: &Room) -> Vec<(usize, usize)> {
    let clothed = room.walls.iter().enumerate().filter(|(_, wall)| wall.clothed);
    let mut all: Vec<(&Opening, (usize, usize))> = clothed
        .flat_map(|(w, wall)| {
            let openings = wall.openings.iter().enumerate().filter(|(_, o)| wall.in_field(&o.outer));
            openings.map(move |(o, opening)| (opening, (w, o)))
        })
        .collect();
    let size = |o: &Opening| i128::from(o.outer.width().nm()) * i128::from(o.outer.height().nm());
    // A stable sort: of equals the first stays first.
    all.sort_by_key(|(opening, _)| std::cmp::Reverse(size(opening)));
    let mut largest: Vec<(usize, usize)> = all.into_iter().take(MOST_OPENINGS).map(|(_, at)| at).collect();
    largest.sort_unstable();
    largest
}

/// The wish that puts the pattern of the only room of `alone` where the plan has it.
fn own_start(alone: &Job, plan: &RoomPlan) -> RegistrationWish {
    let own = alone.rooms[0].registration;
    match (own.across, widest(&alone.rooms[0])) {
        (AcrossWish::LeastCloth, Some(wall)) => {
            let line = |from_left| RegistrationWish { across: AcrossWish::LineOn { wall, from_left }, ..own };
            let at_corner = Starts::new(alone, plan.registration.way).lies(line(Length::ZERO));
            line(plan.registration.x0 - at_corner.x0)
        }
        _ => own,
    }
}

/// One trial beside what the plan has.
fn told(
    start: Result<Start, PlanFault>,
    (takes, room): &(Takes, RoomPlan),
    (wall, opening, shared): (WallRef, usize, bool),
) -> OpeningTrial {
    let compared = start.map(|Start { room: other, takes: other_takes }| {
        let ((own_seams, own_sight), (seams, sight)) = (seams(room), seams(&other));
        Compared {
            more_used: other_takes.used - takes.used,
            more_units: other_takes.order_units - takes.order_units,
            more_seams: seams - own_seams,
            more_in_sight: sight - own_sight,
        }
    });
    let (other, why_not) = match compared {
        Ok(compared) => (Some(compared), String::new()),
        Err(fault) => (None, format!("{}; {}", fault.message, fault.help)),
    };
    OpeningTrial { wall, opening, shared, other, why_not }
}

/// How many seams of a room are in sight, and how much of them.
fn seams(room: &RoomPlan) -> (i64, Length) {
    let panels = || room.walls.iter().filter_map(|wall| wall.panel.as_ref());
    let seen = |panel: &Panel| panel.seams.iter().filter(|seam| !seam.in_sight.is_empty()).count() as i64;
    (panels().map(seen).sum(), panels().map(in_sight).sum())
}
