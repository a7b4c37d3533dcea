//! Laws of batting, staples, trim and order that hold in every room.

use std::collections::BTreeSet;

use clothwright::geom::Rect;
use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::*;
use clothwright::units::Length;
use proptest::prelude::*;

use crate::any::any_job;

/// A plan, or `None` where the walls' wishes go round in a circle (a pier of which every wall wraps).
fn planned(job: Job) -> Option<Plan> {
    match make(job) {
        Ok(plan) => Some(plan),
        Err(fault) => {
            assert_eq!(fault.code, "order-impossible", "{}", fault.message);
            None
        }
    }
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

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    /// One staple more than the spaces on an open line, as many on a closed one, none farther apart
    /// than the spacing, and none of them needless.
    #[test]
    fn counts_follow_length_over_spacing(job in any_job()) {
        let Some(plan) = planned(job) else { return Ok(()) };
        for line in plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.staples) {
            let closed = line.path.len() > 3 && line.path.first() == line.path.last();
            let spaces = line.count - i64::from(!closed);
            prop_assert!(line.spacing * spaces >= line.length, "{line:?}");
            prop_assert!(line.spacing * (spaces - 1) < line.length, "{line:?}");
        }
    }

    /// Where cloth goes there is batting: every place of the field at least the gap from its edges
    /// and from openings.
    #[test]
    fn batting_covers_what_cloth_covers(job in any_job()) {
        let Some(plan) = planned(job) else { return Ok(()) };
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
                        prop_assert!(batted(&plan, index, x, y), "wall {index} at {x}, {y}");
                    }
                }
            }
        }
    }

    /// Pieces of one wall do not overlap, and none is wider or longer than the roll.
    #[test]
    fn batting_lies_edge_to_edge(job in any_job()) {
        let Some(plan) = planned(job) else { return Ok(()) };
        for wall in &plan.rooms[0].walls {
            for (i, piece) in wall.batting.iter().enumerate() {
                prop_assert!(piece.rect.width() <= plan.job.batting.roll_width);
                prop_assert!(piece.cut_length <= plan.job.batting.roll_length);
                prop_assert!(wall.batting[i + 1..].iter().all(|other| !piece.rect.overlaps(&other.rect)));
            }
        }
    }

    /// An unbroken braid in a room whose walls all have cloth and whose openings stay below the
    /// crown is one closed run, as long as the edge is round the room.
    #[test]
    fn closed_runs_equal_the_perimeter(job in any_job()) {
        let mut job = job;
        job.trims.top.unbroken = true;
        job.rooms[0].walls.iter_mut().for_each(|w| w.clothed = true);
        let Some(plan) = planned(job) else { return Ok(()) };
        let clear = |w: &Wall| {
            w.openings.iter().all(|o| o.outer.y1 < w.field_top().min_between(o.outer.x0, o.outer.x1))
        };
        let runs: Vec<&TrimRun> = plan.rooms[0].trim.iter().filter(|t| t.place == TrimPlace::Top).collect();
        if plan.job.rooms[0].walls.iter().all(clear) {
            prop_assert_eq!(runs.len(), 1);
            prop_assert_eq!(&runs[0].ends.0, "closed");
            let round: f64 = plan.job.rooms[0].walls.iter().map(|w| {
                let points = w.field_top();
                points.points().windows(2).map(|p| {
                    let (dx, dy) = ((p[1].x - p[0].x).to_mm_f64(), (p[1].y - p[0].y).to_mm_f64());
                    dx.hypot(dy)
                }).sum::<f64>()
            }).sum();
            prop_assert!((runs[0].length.to_mm_f64() - round).abs() < 0.001);
        }
    }

    /// The order keeps what it must: every need comes before; wraps before folds; edges stapled before
    /// an opening is cut; both walls hung before their corner is glued; upright trim before level.
    #[test]
    fn order_respects_every_constraint(job in any_job()) {
        let Some(plan) = planned(job) else { return Ok(()) };
        let numbers: BTreeSet<usize> = plan.steps.iter().map(|s| s.number).collect();
        prop_assert_eq!(numbers.len(), plan.steps.len());
        for step in &plan.steps {
            prop_assert!(step.after.iter().all(|a| *a < step.number && numbers.contains(a)));
        }
        let number = |stage: Stage, wall: usize| {
            let of = |s: &&Step| s.stage == stage && s.wall == Some(WallRef { room: 0, wall });
            plan.steps.iter().find(of).map(|s| s.number)
        };
        let room = &plan.job.rooms[0];
        let n = room.walls.len();
        for (c, corner) in room.corners.iter().enumerate() {
            let (left, right) = ((c + n - 1) % n, c);
            if corner.kind != CornerKind::Outside || !room.walls[left].clothed || !room.walls[right].clothed {
                continue;
            }
            let (wrap, fold) = if corner.wraps == Side::Left { (left, right) } else { (right, left) };
            prop_assert!(number(Stage::Hang, wrap) < number(Stage::Hang, fold));
            prop_assert!(number(Stage::Batting, fold) < number(Stage::Hang, wrap));
        }
        for wall in (0..n).filter(|w| room.walls[*w].clothed) {
            let hung = number(Stage::Hang, wall);
            prop_assert!(number(Stage::Batting, wall) < hung && number(Stage::Sew, wall) < hung);
            for later in [Stage::Open, Stage::Corners, Stage::Trim] {
                if let Some(done) = number(later, wall) {
                    prop_assert!(hung < Some(done));
                }
            }
        }
    }
}

fn within(rect: &Rect, x: Length, y: Length) -> bool {
    rect.x0 < x && x < rect.x1 && rect.y0 < y && y < rect.y1
}
