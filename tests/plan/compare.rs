//! What must be true of every comparison, whatever the rooms.

use clothwright::geom::Profile;
use clothwright::job::model::Job;
use clothwright::plan;
use clothwright::plan::compare::{compare, in_order_of};
use clothwright::plan::model::{Change, Pair, Piece, PieceKind, Plan};

use crate::generate::random_job;
use crate::rooms::*;

const ROOMS: u64 = 12;

/// A room whose drops alone are cut, and the same room with one wall made wider.
fn pair(seed: u64) -> Option<Pair<Plan>> {
    let mut was = random_job(seed);
    without_trim(&mut was);
    let mut now = was.clone();
    let count = now.rooms[0].walls.len();
    widen(&mut now, seed as usize % count)?;
    Some(Pair::new(plan::make(was).ok()?, plan::make(now).ok()?))
}

/// Makes a wall 3 in wider at its right end; `None` where its edges are not straight.
fn widen(job: &mut Job, wall: usize) -> Option<()> {
    let wall = &mut job.rooms[0].walls[wall];
    let width = wall.width + inch(3);
    let wider = |profile: &Profile| match profile.points() {
        [a, b] if a.y == b.y => Profile::level(width, a.y),
        _ => None,
    };
    (wall.ceiling, wall.floor) = (wider(&wall.ceiling)?, wider(&wall.floor)?);
    for edge in [&mut wall.dado, &mut wall.rail].into_iter().flatten() {
        *edge = wider(edge)?;
    }
    for measured in [&mut wall.width, &mut wall.width_top, &mut wall.width_bottom] {
        *measured += inch(3);
    }
    Some(())
}

fn sewn(plan: &Plan) -> impl Iterator<Item = &Piece> {
    let strip = |kind| matches!(kind, PieceKind::UprightStrip | PieceKind::LevelStrip);
    plan.pieces.iter().filter(move |piece| !strip(piece.kind))
}

#[test]
fn a_plan_does_not_differ_from_itself_and_a_job_is_in_its_own_order() {
    for seed in 0..ROOMS {
        let job = random_job(seed);
        assert_eq!(in_order_of(&job, job.clone()), job, "room {seed}");
        let Some(plans) = pair(seed) else { continue };
        let change = compare(Pair::new(&plans.now, &plans.now));
        assert!(change.is_empty() && change.places.is_empty(), "room {seed}: {change:?}");
    }
}

/// Each side of a change, as sorted lines.
fn sides(change: &Change) -> Pair<Vec<String>> {
    let mut sides = Pair::new(Vec::new(), Vec::new());
    let mut add = |was: String, now: String| {
        sides.was.push(was);
        sides.now.push(now);
    };
    for d in &change.job {
        add(
            format!("{} {} {:?}", d.name.was, d.what, d.value.was),
            format!("{} {} {:?}", d.name.now, d.what, d.value.now),
        );
    }
    for p in &change.pieces {
        add(format!("{:?}", p.piece.was), format!("{:?}", p.piece.now));
    }
    for s in &change.seams {
        add(format!("{} {:?}", s.label.was, s.x.was), format!("{} {:?}", s.label.now, s.x.now));
    }
    for c in &change.cloths {
        add(format!("{} {}", c.used.was, c.order_units.was), format!("{} {}", c.used.now, c.order_units.now));
    }
    sides.was.sort();
    sides.now.sort();
    sides
}

#[test]
fn every_piece_that_is_not_told_is_as_it_was_and_the_way_back_is_the_same() {
    let mut compared = 0;
    for seed in 0..ROOMS * 2 {
        let Some(plans) = pair(seed) else { continue };
        compared += 1;
        let change = compare(plans.as_ref());
        assert!(change.job.iter().any(|difference| difference.what == "width"), "room {seed}");
        let there = sides(&change);
        let back = sides(&compare(Pair::new(&plans.now, &plans.was)));
        assert_eq!((&there.was, &there.now), (&back.now, &back.was), "room {seed}");
        // What is told to be new and gone makes up the difference in number.
        let new = change.pieces.iter().filter(|piece| piece.piece.was.is_none()).count();
        let gone = change.pieces.iter().filter(|piece| piece.piece.now.is_none()).count();
        assert_eq!(sewn(&plans.was).count() + new, sewn(&plans.now).count() + gone, "room {seed}");
        // What is not told is cut as large from both plans.
        let told: Vec<&str> = change
            .pieces
            .iter()
            .filter_map(|change| Some(change.piece.now.as_ref()?.label.as_str()))
            .collect();
        for piece in sewn(&plans.now).filter(|piece| !told.contains(&piece.label.as_str())) {
            let alike = |old: &Piece| {
                old.purpose == piece.purpose
                    && (old.cut.length, old.cut.width) == (piece.cut.length, piece.cut.width)
            };
            assert!(sewn(&plans.was).any(alike), "room {seed}: {} is not told", piece.label);
        }
    }
    assert!(compared > 8, "{compared} rooms were compared");
}
