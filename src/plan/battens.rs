//! Battens on walls that do not hold a staple, and how they are cut from what is sold.
//!
//! Along top, bottom and both sides of the field, so that every inside corner has two and every
//! outside corner one on each face, and round every opening (published: Stephenson, Cutting and
//! Draping); beside every box and behind every joint of batting (derived: both are stapled or need
//! a firm edge there).

use super::field::{Field, length_of};
use super::model::{Batten, BattenStock, BattingJoint, Plan, RoomPlan};
use crate::geom::{Point, Rect};
use crate::job::model::{Job, Substrate, Wall};
use crate::units::Length;

/// Sets the battens of a room whose batting is laid: fills `battens` of every clothed wall of masonry.
pub fn fix(job: &Job, room: usize, plan: &mut RoomPlan) {
    for (wall, shape) in job.rooms[room].walls.iter().enumerate() {
        if shape.clothed && shape.substrate == Substrate::Masonry {
            let joints = &plan.walls[wall].batting_joints;
            plan.walls[wall].battens = on_wall(job, shape, joints);
        }
    }
}

fn on_wall(job: &Job, wall: &Wall, joints: &[BattingJoint]) -> Vec<Batten> {
    let width = job.house.batten_width;
    let half = width / 2;
    let field = Field::of(wall);
    let mut lines: Vec<(String, Point, Point)> = Vec::new();
    // Level battens lie inside the field with their outer edge on its edge.
    for (place, runs) in [("top", field.inset(half).top_runs()), ("bottom", field.inset(half).bottom_runs())]
    {
        for pair in runs.iter().flat_map(|run| run.path.windows(2)) {
            lines.push((place.to_owned(), pair[0], pair[1]));
        }
    }
    // Uprights stand between them.
    let between = field.inset(width);
    for (place, x) in [("left side", half), ("right side", wall.width - half)] {
        for run in between.upright_runs(x) {
            lines.push((place.to_owned(), run.path[0], run.path[1]));
        }
    }
    // Round an arch they are short straight lengths that the line of its staples does not leave.
    let round = Field { within: width / 4, ..field.inset(half) };
    for (index, opening) in wall.openings.iter().enumerate() {
        for pair in round.hole_runs(index).iter().flat_map(|run| run.path.windows(2)) {
            lines.push((format!("round {}", opening.label), pair[0], pair[1]));
        }
    }
    for fixing in wall.fixings_in_field() {
        let Rect { x0, y0, x1, y1 } = fixing.rect.grown(half);
        for x in [x0, x1] {
            lines.push((format!("beside {}", fixing.label), Point::new(x, y0), Point::new(x, y1)));
        }
    }
    for joint in joints {
        let runs = if joint.from.x == joint.to.x {
            between.upright_runs_between(joint.from.x, (joint.from.y, joint.to.y))
        } else {
            between.level_runs(joint.from.y, (joint.from.x, joint.to.x))
        };
        for run in runs {
            lines.push(("behind a joint of batting".to_owned(), run.path[0], run.path[1]));
        }
    }
    let batten = |(i, (place, from, to)): (usize, (String, Point, Point))| Batten {
        label: format!("{}-{}", wall.label, i + 1),
        place,
        from,
        to,
        length: length_of(&[from, to]),
    };
    lines.into_iter().enumerate().map(batten).collect()
}

/// Every batten of a plan.
pub(crate) fn all(plan: &Plan) -> impl Iterator<Item = &Batten> {
    plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.battens)
}

/// The bought lengths and what is cut from each: longest first, each from the first length that has
/// enough left. A batten longer than what is sold is pieced from whole lengths and a rest.
pub fn stock(plan: &Plan) -> Vec<BattenStock> {
    let sold = plan.job.house.batten_length;
    let mut cuts: Vec<(Length, &str)> = Vec::new();
    for batten in all(plan) {
        let whole = batten.length.div_floor(sold);
        cuts.extend((0..whole).map(|_| (sold, batten.label.as_str())));
        let rest = batten.length - sold * whole;
        if rest > Length::ZERO {
            cuts.push((rest, &batten.label));
        }
    }
    // A stable sort keeps battens of one length in the order of the walls.
    cuts.sort_by_key(|cut| std::cmp::Reverse(cut.0));
    let mut stock: Vec<BattenStock> = Vec::new();
    for (length, label) in cuts {
        let cut = (label.to_owned(), length);
        match stock.iter_mut().find(|s| s.rest >= length) {
            Some(from) => {
                from.rest -= length;
                from.cuts.push(cut);
            }
            None => stock.push(BattenStock { cuts: vec![cut], rest: sold - length }),
        }
    }
    stock
}
