//! Laws of batting, staples, trim and order that hold in every room.

use std::collections::BTreeSet;

use clothwright::geom::{Point, Rect};
use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::*;
use clothwright::units::Length;

use crate::generate::random_job;
use crate::rooms::{braid, inch};

/// How many rooms are tried; `CLOTHWRIGHT_ROOMS=1000 cargo test --test plan laws` tries more.
fn rooms() -> u64 {
    std::env::var("CLOTHWRIGHT_ROOMS").ok().and_then(|rooms| rooms.parse().ok()).unwrap_or(120)
}

/// Room number `seed`, with masonry, metal beads, braid and narrower rolls in some.
fn some_job(seed: u64) -> Job {
    let mut job = random_job(seed);
    let room = &mut job.rooms[0];
    for (i, wall) in room.walls.iter_mut().enumerate() {
        if (seed + i as u64).is_multiple_of(5) {
            wall.substrate = Substrate::Masonry;
        }
    }
    for (i, corner) in room.corners.iter_mut().enumerate() {
        corner.metal_bead = (seed + i as u64).is_multiple_of(7);
    }
    job.trims.top = braid(seed.is_multiple_of(2));
    job.batting.hang = match seed % 3 {
        0 => BattingHang::Upright,
        1 => BattingHang::Lying,
        _ => BattingHang::Least,
    };
    job.batting.roll_width = inch(24 + (seed % 37) as i64);
    job
}

/// Every room is tried against every law, and the laws that must find something to judge did.
#[test]
fn laws_hold_in_every_room() {
    let rooms = rooms();
    let mut closed_braids = 0;
    let mut impossible = 0;
    let (mut hung, mut ways) = (0, 0);
    for seed in 0..rooms {
        let plan = match make(some_job(seed)) {
            Ok(plan) => plan,
            Err(fault) => {
                assert_ne!(fault.code, "not-built");
                impossible += 1;
                continue;
            }
        };
        counts_follow_length_over_spacing(&plan, seed);
        staples_keep_off_boxes(&plan, seed);
        tapes_lie_on_the_cloth(&plan, seed);
        batting_covers_what_cloth_covers(&plan, seed);
        batting_lies_edge_to_edge(&plan, seed);
        batting_joints_keep_clear(&plan, seed);
        shared_edges_are_joints(&plan, seed);
        closed_braids += closed_runs_equal_the_perimeter(&plan, seed);
        order_respects_every_constraint(&plan, seed);
        hung += motifs_to_hang_by_are_motifs(&plan, seed);
        ways += ways_are_freed_at_once(&plan, seed);
        plumb_lines_can_be_struck(&plan, seed);
    }
    assert!(ways > rooms / 2, "{ways} doors and archways of {rooms} rooms are freed");
    assert!(hung > rooms, "{hung} walls of {rooms} rooms are hung by a motif");
    assert!(closed_braids > rooms / 20, "{closed_braids} closed braids among {rooms} rooms");
    assert!(impossible < rooms / 20, "{impossible} of {rooms} rooms had no plan");
}

/// Whether a place on a wall lies in a piece of batting, also one carried on from walls before it.
fn batted(plan: &Plan, wall: usize, x: Length, y: Length) -> bool {
    let room = &plan.job.rooms[0];
    let n = room.walls.len();
    let (mut at, mut x) = (wall, x);
    for _ in 0..=n {
        let over = plan.rooms[0].walls[at]
            .batting
            .iter()
            .any(|b| b.rect.x0 <= x && x <= b.rect.x1 && b.rect.y0 <= y && y <= b.rect.y1);
        if over {
            return true;
        }
        at = (at + n - 1) % n;
        x += room.walls[at].width;
    }
    false
}

/// One staple more than the spaces on an open line, as many on a closed one, none farther apart
/// than the spacing, and none of them needless.
fn counts_follow_length_over_spacing(plan: &Plan, seed: u64) {
    for line in plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.staples) {
        let closed = line.path.len() > 3 && line.path.first() == line.path.last();
        let spaces = line.count - i64::from(!closed);
        assert!(line.spacing * spaces >= line.length, "room {seed}: {line:?}");
        assert!(line.spacing * (spaces - 1) < line.length, "room {seed}: {line:?}");
    }
}

/// The tape begins on the cloth at its left corner and, where a level can, lies on it all along the wall.
fn tapes_lie_on_the_cloth(plan: &Plan, seed: u64) {
    let room = &plan.job.rooms[0];
    for (wall, planned) in room.walls.iter().zip(&plan.rooms[0].walls).filter(|(wall, _)| wall.clothed) {
        let (bottom, top) = (wall.field_bottom(), wall.field_top());
        let (none, height) = (Length::ZERO, planned.tape_height);
        assert!(bottom.most_at(none) <= height && height <= top.least_at(none), "room {seed}");
        let (low, high) = (bottom.max_between(none, wall.width), top.min_between(none, wall.width));
        assert!(low >= high || (low <= height && height <= high), "room {seed}: {height} of {low} to {high}");
    }
}

/// No row of staples comes nearer to an electrical box than a hand's breadth.
fn staples_keep_off_boxes(plan: &Plan, seed: u64) {
    let hand = inch(4);
    for (wall, planned) in plan.job.rooms[0].walls.iter().zip(&plan.rooms[0].walls) {
        for fixing in wall.fixings_in_field().filter(|f| f.kind.electrical()) {
            let near = fixing.rect.grown(hand);
            for line in planned.staples.iter().filter(|l| l.kind != StapleKind::Wrap) {
                for leg in line.path.windows(2) {
                    let (a, b) = (leg[0], leg[1]);
                    // Of a raked leg only its ends are looked at.
                    let level = a.x == b.x || a.y == b.y;
                    let inside = |p: Point| near.x0 < p.x && p.x < near.x1 && near.y0 < p.y && p.y < near.y1;
                    let crossed = level
                        && a.x.min(b.x) < near.x1
                        && near.x0 < a.x.max(b.x)
                        && a.y.min(b.y) < near.y1
                        && near.y0 < a.y.max(b.y);
                    assert!(
                        !inside(a) && !inside(b) && !crossed,
                        "room {seed}: {line:?} near {}",
                        fixing.label
                    );
                }
            }
        }
    }
}

/// Where cloth goes there is batting: every place of the field at least the gap from its edges
/// and from openings.
fn batting_covers_what_cloth_covers(plan: &Plan, seed: u64) {
    let gap = plan.job.batting.gap;
    for (index, wall) in plan.job.rooms[0].walls.iter().enumerate().filter(|(_, w)| w.clothed) {
        let (top, bottom) = (wall.field_top(), wall.field_bottom());
        for i in 0..40_i64 {
            let x = gap + (wall.width - gap * 2) * i / 39;
            for j in 0..20_i64 {
                let (low, high) = (bottom.at(x) + gap, top.at(x) - gap);
                let y = low + (high - low) * j / 19;
                let open = |o: &Opening| within(&o.outer.grown(gap), x, y);
                if low < high && !wall.openings.iter().any(open) {
                    assert!(batted(plan, index, x, y), "room {seed}, wall {index} at {x}, {y}");
                }
            }
        }
    }
}

/// Pieces of one wall do not overlap, and none is wider or longer than the roll.
fn batting_lies_edge_to_edge(plan: &Plan, seed: u64) {
    for wall in &plan.rooms[0].walls {
        for (i, piece) in wall.batting.iter().enumerate() {
            assert!(piece.cut_width <= plan.job.batting.roll_width, "room {seed}");
            assert!(piece.cut_length <= plan.job.batting.roll_length, "room {seed}");
            assert!(
                wall.batting[i + 1..].iter().all(|other| !piece.rect.overlaps(&other.rect)),
                "room {seed}"
            );
        }
    }
}

/// An upright joint of batting stands clear of every seam, or the plan says that it could not.
fn batting_joints_keep_clear(plan: &Plan, seed: u64) {
    let house = &plan.job.house;
    for wall in &plan.rooms[0].walls {
        for joint in wall.batting_joints.iter().filter(|j| j.from.x == j.to.x) {
            for seam in wall.panel.iter().flat_map(|p| &p.seams) {
                let clear = (joint.from.x - seam.x).abs() >= house.joint_clearance;
                let told = plan.work_watch.iter().any(|w| w.contains(&format!("from seam {}:", seam.label)));
                assert!(clear || told, "room {seed}: a joint at seam {}", seam.label);
            }
        }
    }
}

/// Where two pieces of one wall share an edge there is a joint, unless an opening lies all along it.
fn shared_edges_are_joints(plan: &Plan, seed: u64) {
    for (wall, shape) in plan.rooms[0].walls.iter().zip(&plan.job.rooms[0].walls) {
        for a in &wall.batting {
            for b in wall.batting.iter().filter(|b| b.rect.x0 == a.rect.x1) {
                let (y0, y1) = (a.rect.y0.max(b.rect.y0), a.rect.y1.min(b.rect.y1));
                let x = b.rect.x0;
                let middle = y0 + (y1 - y0) / 2;
                let gap = plan.job.batting.gap;
                let open = shape.openings.iter().any(|o| {
                    let hole = o.outer.grown(gap);
                    hole.x0 <= x && x <= hole.x1 && hole.y0 <= middle && middle <= hole.y1
                });
                let low = shape.field_bottom().at(x) + gap;
                let high = shape.field_top().at(x) - gap;
                if y0 < y1 && !open && low < middle && middle < high {
                    let joined = |j: &BattingJoint| j.from.x == x && j.from.y <= middle && middle <= j.to.y;
                    assert!(
                        wall.batting_joints.iter().any(joined),
                        "room {seed}: {} and {}",
                        a.label,
                        b.label
                    );
                }
            }
        }
    }
}

/// An unbroken braid in a closed room whose walls all have cloth and whose openings stay below the
/// crown is one closed run, as long as the edge is round the room. 1 when this is such a room.
fn closed_runs_equal_the_perimeter(plan: &Plan, seed: u64) -> u64 {
    let room = &plan.job.rooms[0];
    let clear = |w: &Wall| {
        let below = |o: &Opening| o.outer.y1 < w.field_top().min_between(o.outer.x0, o.outer.x1);
        w.clothed && w.openings.iter().all(below)
    };
    // Braid does not jump at a corner where one edge ends more than half a foot above the other.
    let mut turns = room.walls.iter().zip(room.walls.iter().cycle().skip(1));
    let level = turns.all(|(left, right)| {
        (left.field_top().at(left.width) - right.field_top().at(Length::ZERO)).abs() <= Length::inches(6)
    });
    if !plan.job.trims.top.unbroken || !room.closed || !level || !room.walls.iter().all(clear) {
        return 0;
    }
    let runs: Vec<&TrimRun> = plan.rooms[0].trim.iter().filter(|t| t.place == TrimPlace::Top).collect();
    assert_eq!((runs.len(), runs[0].ends.0.as_str()), (1, "closed"), "room {seed}");
    let sloped = |p: &[Point]| {
        let (dx, dy) = ((p[1].x - p[0].x).to_mm_f64(), (p[1].y - p[0].y).to_mm_f64());
        dx.hypot(dy)
    };
    let edge = |w: &Wall| w.field_top().points().windows(2).map(sloped).sum::<f64>();
    let round: f64 = room.walls.iter().map(edge).sum();
    assert!((runs[0].length.to_mm_f64() - round).abs() < 0.001, "room {seed}");
    1
}

/// The order keeps what it must: every need comes before; wraps before folds; edges stapled before
/// an opening is cut; both walls hung before their corner is glued; upright trim before level.
fn order_respects_every_constraint(plan: &Plan, seed: u64) {
    let numbers: BTreeSet<usize> = plan.steps.iter().map(|s| s.number).collect();
    assert_eq!(numbers.len(), plan.steps.len(), "room {seed}");
    for step in &plan.steps {
        assert!(step.after.iter().all(|a| *a < step.number && numbers.contains(a)), "room {seed}");
    }
    let number = |stage: Stage, wall: usize| {
        let of = |s: &&Step| s.stage == stage && s.wall == Some(WallRef { room: 0, wall });
        plan.steps.iter().find(of).map(|s| s.number)
    };
    let room = &plan.job.rooms[0];
    let n = room.walls.len();
    for (c, corner) in room.corners.iter().enumerate() {
        let (left, right) = ((c + n - 1) % n, c);
        if corner.kind != CornerKind::Outside
            || c == n
            || !room.walls[left].clothed
            || !room.walls[right].clothed
        {
            continue;
        }
        let (wrap, fold) = if corner.wraps == Side::Left { (left, right) } else { (right, left) };
        assert!(number(Stage::Hang, wrap) < number(Stage::Hang, fold), "room {seed}");
        assert!(number(Stage::Batting, fold) < number(Stage::Hang, wrap), "room {seed}");
    }
    for wall in (0..n).filter(|w| room.walls[*w].clothed) {
        let hung = number(Stage::Hang, wall);
        assert!(number(Stage::Batting, wall) < hung && number(Stage::Sew, wall) < hung, "room {seed}");
        for later in [Stage::Open, Stage::Corners, Stage::Trim] {
            if let Some(done) = number(later, wall) {
                assert!(hung < Some(done), "room {seed}");
            }
        }
    }
}

/// What people go through is cut free before the next panel is begun: nobody is shut in. How many there are.
fn ways_are_freed_at_once(plan: &Plan, seed: u64) -> u64 {
    let mut found = 0;
    for (wall, shape) in plan.job.rooms[0].walls.iter().enumerate().filter(|(_, w)| w.clothed) {
        let ways = shape.openings.iter().filter(|o| o.kind.is_way() && shape.in_field(&o.outer)).count();
        let there = Some(WallRef { room: 0, wall });
        let of_wall = |s: &&Step| s.stage == Stage::Hang && s.wall == there;
        let numbers: Vec<usize> = plan.steps.iter().filter(of_wall).map(|s| s.number).collect();
        assert_eq!(numbers.len(), 1 + ways, "room {seed}: wall {wall} is hung and its ways are freed");
        assert!(numbers.windows(2).all(|pair| pair[1] == pair[0] + 1), "room {seed}: {numbers:?}");
        found += ways as u64;
    }
    found
}

/// The plumb line of a panel lies on its wall, on what the plan says, and its ends in no opening where any
/// place on the wall is free from top to bottom.
fn plumb_lines_can_be_struck(plan: &Plan, seed: u64) {
    let (room, planned) = (&plan.job.rooms[0], &plan.rooms[0]);
    for (wall, place) in room.walls.iter().zip(&planned.walls) {
        let Some(panel) = &place.panel else { continue };
        let x = place.plumb;
        assert!(Length::ZERO < x && x < wall.width, "room {seed}");
        if place.plumb_mark == PlumbMark::Seam {
            assert!(panel.seams.iter().any(|s| s.x == x), "room {seed}: no seam at the plumb line");
        }
        let taken = |x: Length, y: Length| {
            let holes = wall.openings.iter().map(|o| o.outer);
            holes.into_iter().any(|r| r.x0 <= x && x <= r.x1 && r.y0 <= y && y <= r.y1)
        };
        let ends = |x: Length| [wall.field_bottom().most_at(x), wall.field_top().least_at(x)];
        let free = |x: Length| !ends(x).iter().any(|y| taken(x, *y));
        // Any of 200 places will do for saying that there is one.
        let widest = (1..200).map(|n| wall.width.scale(n, 200)).any(free);
        assert!(free(x) || !widest, "room {seed}: the plumb line at {x} ends in an opening");
    }
}

/// A motif that a panel is hung by stands on the lattice, on its wall and in sight. How many there are.
fn motifs_to_hang_by_are_motifs(plan: &Plan, seed: u64) -> u64 {
    let (room, planned) = (&plan.job.rooms[0], &plan.rooms[0]);
    let mut found = 0;
    for (wall, place) in room.walls.iter().zip(&planned.walls) {
        let Some(motif) = place.hang_motif else { continue };
        let pattern = plan.job.cloths[0].pattern.expect("a pattern has motifs");
        let (across, at) = (place.x + motif.x - planned.registration.x0, &planned.registration);
        let off = across.rem_euclid(pattern.horizontal);
        assert!(off == Length::ZERO, "room {seed}: {off} off its column");
        let column = across.div_floor(pattern.horizontal);
        let up = motif.y - (at.y0 - pattern.drop * column);
        assert_eq!(up.rem_euclid(pattern.vertical), Length::ZERO, "room {seed}");
        assert!(motif.y < wall.field_top().at(motif.x) && motif.y > wall.field_bottom().at(motif.x));
        assert!(wall.openings.iter().all(|o| !within(&o.outer, motif.x, motif.y)), "room {seed}");
        // One that the top cuts is only told where it and the next below it are the only ones in their column.
        let upright = planned.registration.way == Way::Upright;
        let (across, up) = (pattern.horizontal / 2, pattern.vertical / 2);
        if upright && motif.y + up > wall.field_top().min_between(motif.x - across, motif.x + across) {
            let below = motif.y - pattern.vertical;
            let cell = Rect::new(motif.x - across, below - up, motif.x + across, below + up);
            let mut taken = wall.openings.iter().map(|o| o.outer).chain(wall.fixings.iter().map(|f| f.rect));
            let whole = cell.x0.nm() >= 0
                && cell.x1 <= wall.width
                && cell.y0 >= wall.field_bottom().max_between(cell.x0, cell.x1)
                && cell.y1 <= wall.field_top().min_between(cell.x0, cell.x1)
                && !taken.any(|r| r.overlaps(&cell));
            assert!(!whole, "room {seed}: the motif at {motif:?} is cut, and the next below is not");
        }
        found += 1;
    }
    found
}

fn within(rect: &Rect, x: Length, y: Length) -> bool {
    rect.x0 < x && x < rect.x1 && rect.y0 < y && y < rect.y1
}
