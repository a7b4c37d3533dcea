//! What must be true of every plan, whatever the room.

use clothwright::geom::{Point, Profile, Rect};
use clothwright::job::model::{AcrossWish, Firmness, Job, Opening, OpeningCloth, Side, Wall};
use clothwright::plan;
use clothwright::plan::model::{ClothPlan, Plan};
use clothwright::units::Length;

use crate::generate::random_job;
use crate::rooms::*;

const ROOMS: u64 = 40;

fn cloth_of(job: Job) -> Option<ClothPlan> {
    plan::make(job).ok().map(|mut plan| plan.cloths.remove(0))
}

/// A room of one long bolt without trim, so that nothing but the lattice decides.
fn bare_job(seed: u64) -> Job {
    let mut job = random_job(seed);
    without_trim(&mut job);
    job.cloths[0].bolt_length = Length::yards(500);
    job
}

fn proved(cloth: &ClothPlan) -> bool {
    cloth.used == cloth.bound
}

/// What the house forbids is in no plan; where it only prefers to do without, the same rooms all have
/// a plan, and each broken rule is named with its wall.
#[test]
fn forbidden_seams_are_in_no_plan_and_avoided_ones_are_named() {
    let (mut strict_plans, mut told) = (0, 0);
    for seed in 0..ROOMS * 2 {
        let mut job = bare_job(seed);
        // Wide boxes, so that seams meet some.
        for fixing in job.rooms[0].walls.iter_mut().flat_map(|w| &mut w.fixings) {
            fixing.rect = fixing.rect.grown(inch(8));
        }
        let plan = plan::make(job.clone()).expect("a preference never stops a plan");
        for (wall, planned) in job.rooms[0].walls.iter().zip(&plan.rooms[0].walls) {
            for seam in planned.panel.iter().flat_map(|p| &p.seams).filter(|s| boxed(wall, s.x)) {
                let named = format!("Wall {}: the seam at {}", wall.label, job.print.format.print(seam.x));
                assert!(plan.watch.iter().any(|w| w.starts_with(&named)), "room {seed}: {}", seam.label);
                told += 1;
            }
        }
        job.house.seam_rules.through_box = Firmness::Never;
        match plan::make(job.clone()) {
            Ok(plan) => {
                strict_plans += 1;
                for (wall, planned) in job.rooms[0].walls.iter().zip(&plan.rooms[0].walls) {
                    let seams = planned.panel.iter().flat_map(|p| &p.seams);
                    assert!(!seams.clone().any(|s| boxed(wall, s.x)), "room {seed}");
                }
            }
            Err(fault) => {
                assert_eq!(fault.code, "no-place-for-a-seam", "room {seed}");
                assert!(fault.wall.is_some() && fault.help.contains("box=avoid"), "room {seed}: {fault:?}");
            }
        }
    }
    assert!(strict_plans > 10 && told > 3, "{strict_plans} strict plans, {told} seams through boxes");
}

/// Whether a seam runs through a box; the joints of a pieced opening stand where the opening does.
fn boxed(wall: &Wall, x: Length) -> bool {
    let joint = |o: &Opening| o.cloth == OpeningCloth::Pieced && (o.outer.x0 == x || o.outer.x1 == x);
    !wall.openings.iter().any(joint) && wall.fixings.iter().any(|f| f.rect.x0 <= x && x <= f.rect.x1)
}

/// Moves everything in a room up by one length: floor, ceiling, openings, boxes.
fn raised(mut job: Job, by: Length) -> Job {
    for wall in job.rooms.iter_mut().flat_map(|r| &mut r.walls) {
        wall.ceiling = wall.ceiling.raised(by);
        wall.floor = wall.floor.raised(by);
        let up = |r: Rect| Rect { y0: r.y0 + by, y1: r.y1 + by, ..r };
        for opening in &mut wall.openings {
            (opening.clear, opening.outer) = (up(opening.clear), up(opening.outer));
        }
        for fixing in &mut wall.fixings {
            fixing.rect = up(fixing.rect);
        }
    }
    job
}

/// Where the level datum stands is nobody's business but the surveyor's.
#[test]
fn shifting_the_datum_changes_no_length() {
    for seed in 0..ROOMS {
        let job = bare_job(seed);
        let by = sixty_fourths(1 + seed as i64 * 37);
        let lengths = |job| cloth_of(job).map(|c| (c.used, c.bound, c.order));
        assert_eq!(lengths(raised(job.clone(), by)), lengths(job), "room {seed}");
    }
}

pub fn mirrored_wall(wall: &Wall) -> Wall {
    let width = wall.width;
    let flip = |r: Rect| Rect { x0: width - r.x1, x1: width - r.x0, ..r };
    let turn = |p: &Profile| {
        let points = p.points().iter().rev().map(|q| Point::new(width - q.x, q.y)).collect();
        Profile::new(points).expect("rising x")
    };
    let mut wall = Wall {
        ceiling: turn(&wall.ceiling),
        floor: turn(&wall.floor),
        dado: wall.dado.as_ref().map(turn),
        rail: wall.rail.as_ref().map(turn),
        ..wall.clone()
    };
    for opening in &mut wall.openings {
        (opening.clear, opening.outer) = (flip(opening.clear), flip(opening.outer));
    }
    for fixing in &mut wall.fixings {
        fixing.rect = flip(fixing.rect);
    }
    wall.openings.reverse();
    wall.fixings.reverse();
    wall
}

/// The room seen in a mirror, in the same cloth seen in it: its pattern climbs where it fell.
fn mirrored(mut job: Job) -> Job {
    let lattice = job.cloths[0].pattern.as_mut().expect("a pattern");
    lattice.drop = (lattice.vertical - lattice.drop).rem_euclid(lattice.vertical);
    let room = &mut job.rooms[0];
    room.walls = room.walls.iter().rev().map(mirrored_wall).collect();
    room.corners.reverse();
    for corner in &mut room.corners {
        corner.wraps = match corner.wraps {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        };
    }
    let count = room.walls.len();
    if let AcrossWish::SeamCentred(wall) = room.registration.across {
        room.registration.across = AcrossWish::SeamCentred(count - 1 - wall);
    }
    job
}

/// A room and its mirror image take the same cloth where both plans are proved least. One repeat
/// covers a width, so the seams are given; one stands on the middle of a wall, where a mirror leaves it.
#[test]
fn a_mirrored_room_takes_as_much() {
    let mut compared = 0;
    for seed in 0..200 {
        let mut job = bare_job(seed);
        let room = &mut job.rooms[0];
        if room.closed || job.cloths[0].pattern.is_none() {
            continue;
        }
        room.walls.truncate(3);
        // A middle that is a whole nanometre is the same from both sides.
        if room.walls[1].width.nm() % 2 != 0 {
            continue;
        }
        let match_width = job.cloths[0].match_width;
        if let Some(lattice) = job.cloths[0].pattern.as_mut() {
            lattice.horizontal = match_width;
        }
        room.corners.truncate(4);
        let free = room.corners[0].clone();
        if let Some(last) = room.corners.last_mut() {
            *last = free;
        }
        for wall in &mut room.walls {
            wall.clothed = true;
        }
        room.registration.across = AcrossWish::SeamCentred(1);
        let (Some(one), Some(two)) = (cloth_of(job.clone()), cloth_of(mirrored(job))) else { continue };
        assert!(one.bound <= two.used && two.bound <= one.used, "room {seed}");
        if proved(&one) && proved(&two) {
            assert_eq!(one.used, two.used, "room {seed}");
            compared += 1;
        }
    }
    assert!(compared >= 3, "only {compared} mirrored rooms were proved least");
}

/// One more wall at the end of a run never takes less cloth than the run was proved to need.
#[test]
fn a_further_wall_never_shrinks_the_order() {
    for seed in 0..ROOMS {
        let mut job = bare_job(seed);
        let room = &mut job.rooms[0];
        if room.closed {
            continue;
        }
        room.walls.iter_mut().for_each(|w| w.clothed = true);
        room.registration.across = AcrossWish::FromCorner(0);
        // Measured from the same height with and without the last wall.
        let highest =
            |walls: &[Wall]| walls.iter().map(|w| w.field_top().max_between(Length::ZERO, w.width)).max();
        let all = highest(&room.walls);
        let longer = job.clone();
        let room = &mut job.rooms[0];
        room.walls.pop();
        let last = room.corners.pop().expect("corners");
        if let Some(end) = room.corners.last_mut() {
            *end = last;
        }
        if highest(&room.walls) != all {
            continue;
        }
        let (Some(short), Some(long)) = (cloth_of(job), cloth_of(longer)) else { continue };
        if proved(&short) {
            // The last wall of the shorter run ends free instead of in a corner: an allowance of its
            // own, at most one repeat of length in all.
            let slack = job_repeat(seed);
            assert!(long.used + slack >= short.used, "room {seed}: {} {}", long.used, short.used);
        }
    }
}

fn job_repeat(seed: u64) -> Length {
    random_job(seed).cloths[0].pattern.map_or(Length::ZERO, |p| p.vertical)
}

/// A pattern that repeats twice as often up the cloth contains the coarser one, and takes no more.
#[test]
fn a_finer_lattice_never_costs_more() {
    let mut compared = 0;
    for seed in 0..120 {
        let mut job = bare_job(seed);
        let Some(lattice) = job.cloths[0].pattern.as_mut() else { continue };
        if lattice.vertical.nm() % 2 != 0 {
            continue;
        }
        lattice.drop = Length::ZERO;
        let mut finer = job.clone();
        let lattice = finer.cloths[0].pattern.as_mut().expect("a pattern");
        lattice.vertical = lattice.vertical / 2;
        let (Ok(coarse), Ok(fine)) = (plan::make(job), plan::make(finer)) else { continue };
        // Seams are chosen by what they take, so the finer lattice may have others.
        let cuts = |plan: &Plan| plan.pieces.iter().map(|p| p.gross).collect::<Vec<_>>();
        if cuts(&coarse) != cuts(&fine) {
            continue;
        }
        let (coarse, fine) = (&coarse.cloths[0], &fine.cloths[0]);
        // The coarse plan is a fine plan too.
        assert!(fine.bound <= coarse.used, "room {seed}");
        if proved(fine) && proved(coarse) {
            assert!(fine.used <= coarse.used, "room {seed}");
            compared += 1;
        }
    }
    assert!(compared >= 30, "only {compared} lattices were proved least");
}
