//! Walls that are no plain rectangles, followed through the plan by hand: a dado and a rail, a soffit, a
//! platform, an arch. Each figure is worked out beside its check.

use clothwright::export::json;
use clothwright::geom::{Hole, Point, Profile, Rect};
use clothwright::job::model::{AcrossWish, Head, Job, Opening, OpeningCloth, OpeningKind, Wall};
use clothwright::plan;
use clothwright::plan::model::{PieceKind, Plan, StapleKind, TrimPlace, WallPlan};
use clothwright::units::Length;

use crate::checker::problems;
use crate::generate::{Random, random_job};
use crate::props::mirrored_wall;
use crate::rooms::*;

/// A wall 120 in by 96 in in plain cloth that covers 52 in, a seam at 52 and at 104.
fn wall_job() -> Job {
    let mut job = feature_wall(cloth(lattice(inch(52), inch(25), Length::ZERO)), inch(120), inch(96));
    job.rooms[0].registration.across = AcrossWish::FromCorner(0);
    job
}

fn the_wall(job: &mut Job) -> &mut Wall {
    &mut job.rooms[0].walls[0]
}

fn planned(job: Job) -> Plan {
    let plan = plan::make(job).expect("a plan");
    let found = problems(&json::plan(&plan));
    assert!(found.is_empty(), "{found:#?}");
    plan
}

fn of(plan: &Plan) -> &WallPlan {
    &plan.rooms[0].walls[0]
}

/// Length and count of each row of a kind.
fn rows(plan: &Plan, kind: StapleKind) -> Vec<(Length, i64)> {
    of(plan).staples.iter().filter(|l| l.kind == kind).map(|l| (l.length, l.count)).collect()
}

fn level(y: i64) -> Profile {
    Profile::level(inch(120), inch(y)).expect("a width")
}

/// The cloth hangs from 36 to 84 in, whatever base and crown are; batting keeps 1/8 in inside that.
#[test]
fn cloth_between_a_dado_and_a_rail() {
    let mut job = moulded(wall_job());
    the_wall(&mut job).dado = Some(level(36));
    the_wall(&mut job).rail = Some(level(84));
    job.trims.bottom = braid(false);
    job.trims.top = braid(false);
    let plan = planned(job);
    let panel = of(&plan).panel.as_ref().expect("a panel");
    for strip in &panel.strips {
        assert_eq!((strip.net.y0, strip.net.y1), (inch(36), inch(84)));
    }
    // 2 in beyond both edges.
    assert_eq!((panel.gross.y0, panel.gross.y1), (inch(34), inch(86)));
    // A side is 48 in high: 48 spaces of 1 in, 49 staples.
    assert_eq!(rows(&plan, StapleKind::Side), [(inch(48), 49), (inch(48), 49)]);
    let eighth = sixty_fourths(8);
    for piece in &of(&plan).batting {
        assert_eq!((piece.rect.y0, piece.rect.y1), (inch(36) + eighth, inch(84) - eighth));
    }
    let what: Vec<&str> = plan.rooms[0].trim.iter().map(|run| run.what.as_str()).collect();
    assert_eq!(what, ["dado, wall 1", "rail, wall 1"]);
}

/// On a floor that rises 12 in over the wall the dado rises with it, and the cloth is cut along it.
#[test]
fn a_dado_follows_the_floor() {
    let mut job = wall_job();
    let rising = |y: i64| {
        Profile::new(vec![Point::new(Length::ZERO, inch(y)), Point::new(inch(120), inch(y + 12))])
            .expect("a line")
    };
    the_wall(&mut job).floor = rising(0);
    the_wall(&mut job).dado = Some(rising(30));
    let plan = planned(job);
    // 120 across and 12 up: √(14400 + 144) = 120.598507… in.
    let length = Length::nanometres((25_400_000.0 * 14_544f64.sqrt()).round() as i64);
    assert_eq!(rows(&plan, StapleKind::Bottom), [(length, 122)]);
    assert_eq!(of(&plan).rake_bottom, inch(12));
}

/// A soffit from 40 to 110 in, 12 down: the middle strip, 52 to 104, lies wholly under it and is 12 shorter;
/// the outer ones reach the ceiling. The top row goes down and up its sides: 120 + 2 · 12 = 144 in.
#[test]
fn under_a_soffit_every_strip_is_as_long_as_its_own_part() {
    let mut job = wall_job();
    the_wall(&mut job).ceiling = level(96).stepped((inch(40), inch(110)), inch(-12));
    job.trims.top = welt(true);
    let plan = planned(job);
    let panel = of(&plan).panel.as_ref().expect("a panel");
    let tops: Vec<Length> = panel.strips.iter().map(|s| s.net.y1).collect();
    assert_eq!(tops, [inch(96), inch(84), inch(96)]);
    assert_eq!(rows(&plan, StapleKind::Top), [(inch(144), 145)]);
    // It is a step and no slope: nothing runs off level.
    assert_eq!((of(&plan).rake_top, of(&plan).run_off_top), (Length::ZERO, Length::ZERO));
    assert!(plan.watch.iter().any(|w| w.contains("steps at 3′ 4″ and 9′ 2″")), "{:?}", plan.watch);
    // The welt: level for 40, 70 and 10 in, upright for 12 at both sides of the soffit.
    let run = plan.rooms[0].trim.iter().find(|r| r.place == TrimPlace::Top).expect("a run");
    assert_eq!(run.length, inch(144));
    let uprights = run.strips.iter().filter(|id| plan.pieces[id.0].kind == PieceKind::UprightStrip);
    let heights: Vec<Length> = uprights.map(|id| plan.pieces[id.0].net.height()).collect();
    assert_eq!(heights, [inch(12), inch(12)]);
    // Batting stays 1/8 in off its side too: the top row of batting staples turns at 39 7/8 in.
    let batting = of(&plan).staples.iter().find(|l| l.place == "batting, top").expect("a row");
    assert!(batting.path.iter().any(|p| p.x == inch(40) - sixty_fourths(8)), "{:?}", batting.path);
}

/// A seam 1 in beside the soffit would leave a sliver: it counts as one beside a corner does.
#[test]
fn a_seam_beside_a_step_is_told() {
    let mut job = wall_job();
    the_wall(&mut job).ceiling = level(96).stepped((inch(53), inch(110)), inch(-12));
    let plan = planned(job);
    assert!(plan.watch.iter().any(|w| w.contains("a step of the edge")), "{:?}", plan.watch);
}

/// A platform 8 in high under the last 20 in: the bottom row climbs it, 120 + 8 in.
#[test]
fn a_platform_raises_the_bottom() {
    let mut job = wall_job();
    the_wall(&mut job).floor = level(0).stepped((inch(100), inch(120)), inch(8));
    let plan = planned(job);
    assert_eq!(rows(&plan, StapleKind::Bottom), [(inch(128), 129)]);
    let panel = of(&plan).panel.as_ref().expect("a panel");
    let feet: Vec<Length> = panel.strips.iter().map(|s| s.net.y0).collect();
    assert_eq!(feet, [inch(0), inch(0), inch(8)]);
    assert_eq!(rows(&plan, StapleKind::Side), [(inch(96), 97), (inch(88), 89)]);
}

/// An archway whose casing's outside is 40 in wide, from 20 to 60, 84 high with a half circle of 20 on top.
fn arched(cloth: OpeningCloth) -> Job {
    let mut job = wall_job();
    let outer = Rect::new(inch(20), Length::ZERO, inch(60), inch(84));
    let clear = Rect { x0: outer.x0 + inch(3), x1: outer.x1 - inch(3), y1: outer.y1 - inch(3), ..outer };
    the_wall(&mut job).openings.push(Opening {
        label: "A1".into(),
        kind: OpeningKind::Archway,
        clear,
        casing: inch(3),
        outer,
        head: Head { clear_rise: inch(17), outer_rise: inch(20) },
        cloth,
    });
    job
}

/// π · 20 in to the nanometre.
fn half_circle() -> Length {
    Length::nanometres((std::f64::consts::PI * 508_000_000.0).round() as i64)
}

/// Two sides of 64 in and half a circle. The seam at 52 in stands 12 from the middle, where the arch of radius 20
/// is 16 over its springing at 64 (12-16-20 is 3-4-5): it is in sight from 80 in up.
#[test]
fn an_arch_by_hand() {
    let mut job = arched(OpeningCloth::CoveredThrough);
    job.trims.opening = welt(true);
    let plan = planned(job);
    let edge = inch(128) + half_circle();
    // 128 + 62.83… in: 191 spaces.
    assert_eq!(rows(&plan, StapleKind::Casing), [(edge, 192)]);
    let panel = of(&plan).panel.as_ref().expect("a panel");
    let seam = panel.seams.iter().find(|s| s.x == inch(52)).expect("a seam over the arch");
    assert_eq!(seam.in_sight, [(inch(80), inch(96))]);
    // The welt is one run of the same length; its round part is a strip of its own, which cannot match.
    let run = plan.rooms[0].trim.iter().find(|r| r.place == TrimPlace::Opening).expect("a run");
    assert_eq!(run.length, edge);
    let strips: Vec<_> = run.strips.iter().map(|id| &plan.pieces[id.0]).collect();
    let upright = |k: PieceKind| k == PieceKind::UprightStrip;
    let round: Length = strips.iter().filter(|p| !upright(p.kind)).map(|p| p.net.width()).sum();
    assert_eq!(round, half_circle());
    assert!(strips.iter().all(|p| upright(p.kind) == p.matched));
    let step = plan.steps.iter().find(|s| s.text.contains("the casing of A1")).expect("a step");
    assert!(step.text.contains("slit the cloth up its middle to the crown"), "{}", step.text);
    // Nobody mitres a welt where it runs smoothly into a half circle.
    let glue =
        plan.steps.iter().find(|s| s.text.starts_with("Glue") && s.text.contains("A1")).expect("a step");
    assert!(!glue.text.contains("mitre"), "{}", glue.text);
    // Batting is cut 1/8 in clear of the arch all round, about the same centre.
    let eighth = sixty_fourths(8);
    let cut = Hole {
        rect: Rect::new(inch(20) - eighth, -eighth, inch(60) + eighth, inch(84) + eighth),
        rise: inch(20) + eighth,
    };
    assert!(of(&plan).batting.iter().any(|piece| piece.cut_outs.contains(&cut)));
}

/// Pieces over a pieced arch come down to the springing at 64 in, and are cut along it on the wall.
#[test]
fn pieces_over_an_arch_reach_its_springing() {
    let plan = planned(arched(OpeningCloth::Pieced));
    let over = plan.pieces.iter().filter(|p| p.kind == PieceKind::OpeningPiece);
    let spans: Vec<_> = over.map(|p| (p.net.x0, p.net.x1, p.net.y0, p.net.y1)).collect();
    // The seam at 52 in parts them.
    assert_eq!(spans, [(inch(20), inch(52), inch(64), inch(96)), (inch(52), inch(60), inch(64), inch(96))]);
}

/// Under a rail at 80 in the arch is cut off where it is 16 over its springing: 12 in on both sides of the
/// middle. What borders on the cloth is two arcs from the springing, each asin(4/5) of the radius.
#[test]
fn an_arch_that_a_rail_cuts() {
    let mut job = arched(OpeningCloth::CoveredThrough);
    the_wall(&mut job).rail = Some(level(80));
    let plan = planned(job);
    // From the springing to a height of 4/5 of the radius.
    let arc = Length::nanometres((508_000_000.0 * 0.8f64.asin()).round() as i64);
    let found = rows(&plan, StapleKind::Casing);
    assert_eq!(found.len(), 2);
    for (length, _) in found {
        assert!((length - (inch(64) + arc)).abs() <= Length::nanometres(2), "{length}");
    }
    // The top row is broken over it: 28 in at its left, 120 - 52 at its right.
    let top: Vec<Length> = rows(&plan, StapleKind::Top).into_iter().map(|(length, _)| length).collect();
    assert_eq!(top, [inch(28), inch(68)]);
}

/// What the diagonals tell of a lean is cloth beyond the corners.
#[test]
fn a_lean_goes_into_the_allowances() {
    let allowances = |lean: Length| {
        let mut job = wall_job();
        the_wall(&mut job).lean = lean;
        let plan = planned(job);
        let panel = of(&plan).panel.as_ref().expect("a panel");
        (panel.left.allowance, panel.right.allowance)
    };
    let (left, right) = allowances(Length::ZERO);
    assert_eq!(allowances(inch(1)), (left + inch(1), right + inch(1)));
}

/// A generated room with a dado, a rail, soffits, platforms and arches where they fit.
fn shaped(seed: u64) -> Job {
    let mut job = random_job(seed);
    let mut random = Random::new(seed ^ 0x5ead);
    for wall in job.rooms.iter_mut().flat_map(|r| &mut r.walls) {
        if random.once_in(2) {
            wall.dado = Some(wall.floor.raised(inch(random.between(20, 40))));
        }
        if random.once_in(4) {
            let up = wall.ceiling.least_above(&wall.floor) - inch(random.between(6, 20));
            wall.rail = Some(wall.floor.raised(up));
        }
        let stretch = |random: &mut Random| {
            let (x0, x1) = (random.between(0, 1000), random.between(0, 1000));
            (wall.width.scale(x0.min(x1), 1000), wall.width.scale(x0.max(x1), 1000))
        };
        let (soffit, platform) = (stretch(&mut random), stretch(&mut random));
        if random.once_in(2) && soffit.0 < soffit.1 {
            wall.ceiling = wall.ceiling.stepped(soffit, -inch(random.between(1, 20)));
        }
        if random.once_in(3) && platform.0 < platform.1 {
            wall.floor = wall.floor.stepped(platform, inch(random.between(1, 12)));
        }
        for opening in &mut wall.openings {
            let most = opening.clear.width().min(opening.clear.height()) / 2;
            if random.once_in(2) && most > inch(1) {
                let rise = most.scale(random.between(100, 1000), 1000);
                let outer = Hole { rect: opening.clear, rise }.grown(opening.casing);
                opening.head = Head { clear_rise: rise, outer_rise: outer.rise };
            }
        }
    }
    job
}

/// Whatever shape its walls have, a plan keeps the laws, and the mirror image of each wall has rows of staples
/// as long as the wall.
#[test]
fn shaped_rooms_are_planned_and_mirrored() {
    let mut planned = 0;
    for seed in 0..80 {
        let job = shaped(seed);
        let sound = |wall: &Wall| wall.field_top().least_above(&wall.field_bottom()) > inch(8);
        if !job.rooms[0].walls.iter().all(sound) {
            continue;
        }
        let Ok(plan) = plan::make(job.clone()) else { continue };
        let found = problems(&json::plan(&plan));
        assert!(found.is_empty(), "room {seed}: {found:#?}");
        planned += 1;
        for wall in job.rooms[0].walls.iter().filter(|wall| wall.clothed) {
            let alone = |wall: Wall| {
                let mut alone = wall_job();
                alone.cloths[0].pattern = None;
                alone.rooms[0].walls[0] = Wall { no_seam: Vec::new(), ..wall };
                plan::make(alone).ok()
            };
            let (Some(one), Some(other)) = (alone(wall.clone()), alone(mirrored_wall(wall))) else {
                continue;
            };
            for kind in [StapleKind::Top, StapleKind::Bottom, StapleKind::Side, StapleKind::Casing] {
                let sum =
                    |plan: &Plan| rows(plan, kind).into_iter().map(|(length, _)| length).sum::<Length>();
                let apart = (sum(&one) - sum(&other)).abs();
                assert!(apart <= Length::micrometres(1), "room {seed} wall {}: {kind:?} {apart}", wall.label);
            }
        }
    }
    assert!(planned > 20, "only {planned} rooms were planned");
}
