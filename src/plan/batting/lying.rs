//! Batting hung lying: the roll runs along the walls, one course over another.

use super::chain::{Chain, joints};
use super::{Laid, cut_out};
use crate::geom::Rect;
use crate::job::model::{Job, Room};
use crate::plan::field::Field;
use crate::plan::model::{BattingPiece, RoomPlan};
use crate::units::Length;

/// The lying pieces of a chain, from the lowest course up. Level joints cross the seams of the cloth,
/// which cannot be helped; an upright joint, where a course is longer than the roll, keeps clear of them.
pub(super) fn lay(job: &Job, room: usize, chain: &Chain, plan: &RoomPlan) -> Laid {
    let room = &job.rooms[room];
    let mut laid = Laid { pieces: Vec::new(), joints: Vec::new() };
    let courses = courses(job, room, chain);
    for (i, course) in courses.windows(2).enumerate() {
        let (y0, y1) = (course[0], course[1]);
        if i > 0 {
            for wall in &chain.walls {
                let field = Field::of(&room.walls[*wall]).inset(job.batting.gap);
                laid.joints.extend(joints(*wall, field.level_runs(y0, (field.x0, field.x1))));
            }
        }
        for (from, to) in stretches(job, room, chain, (y0, y1)) {
            let places = places(job, room, chain, plan, from, to);
            for (i, pair) in places.windows(2).enumerate() {
                if i > 0
                    && let Some((wall, x)) = chain.on_wall(pair[0])
                {
                    let field = Field::of(&room.walls[wall]).inset(job.batting.gap);
                    laid.joints.extend(joints(wall, field.upright_runs_between(x, (y0, y1))));
                }
                laid.pieces.extend(piece(job, room, chain, (pair[0], pair[1]), (y0, y1)));
            }
        }
    }
    laid
}

/// The heights between courses, from below: as many whole widths as fit, and a last course that is
/// not narrower than the smallest piece.
fn courses(job: &Job, room: &Room, chain: &Chain) -> Vec<Length> {
    let (roll, smallest) = (job.batting.roll_width, job.house.smallest_batting);
    let fields = || chain.walls.iter().map(|w| Field::of(&room.walls[*w]).inset(job.batting.gap));
    let tops = fields().map(|f| f.top.max_between(f.x0, f.x1)).max();
    let bottoms = fields().map(|f| f.bottom.min_between(f.x0, f.x1)).min();
    let (Some(mut at), Some(top)) = (bottoms, tops) else { return Vec::new() };
    let mut heights = vec![at];
    while top - at > roll {
        let rest = top - (at + roll);
        let next = if rest < smallest && roll > smallest * 2 { top - smallest } else { at + roll };
        heights.push(next);
        at = next;
    }
    heights.push(top);
    heights
}

/// The stretches of the chain where a course has anything to cover: where the field reaches into it
/// and no opening takes its whole height.
fn stretches(job: &Job, room: &Room, chain: &Chain, course: (Length, Length)) -> Vec<(Length, Length)> {
    let (start, end) = chain.ends(job, room);
    let mut found: Vec<(Length, Length)> = Vec::new();
    for (wall, at) in chain.walls.iter().zip(&chain.starts) {
        let field = Field::of(&room.walls[*wall]).inset(job.batting.gap);
        for (a, b) in field.stretches(course) {
            let (a, b) = ((a + *at).max(start), (b + *at).min(end));
            match found.last_mut() {
                // Round an outside corner the course goes on.
                Some(last) if last.1 == a => last.1 = b,
                _ if a < b => found.push((a, b)),
                _ => {}
            }
        }
    }
    found
}

/// Where pieces of a stretch begin and end.
fn places(job: &Job, room: &Room, chain: &Chain, plan: &RoomPlan, from: Length, to: Length) -> Vec<Length> {
    let roll = job.batting.roll_length;
    let (mut at, mut places) = (from, vec![from]);
    while to - at > roll {
        at = chain.clear(job, room, plan, at + roll, at + roll / 2).unwrap_or(at + roll);
        places.push(at);
    }
    places.push(to);
    places
}

fn piece(
    job: &Job,
    room: &Room,
    chain: &Chain,
    (from, to): (Length, Length),
    (y0, y1): (Length, Length),
) -> Option<(usize, BattingPiece)> {
    let passed = chain.passed(room, from, to);
    let (first, last) = (passed.first()?, passed.last()?);
    let rect = Rect::new(first.part.0, y0, last.part.1 + last.shift, y1);
    let holes = chain.cut_outs(job, room, &passed);
    let cut_outs = holes.iter().filter_map(|h| cut_out(h, &rect)).collect();
    let (cut_length, cut_width) = (rect.width(), rect.height());
    Some((first.wall, BattingPiece { label: String::new(), rect, cut_length, cut_width, cut_outs }))
}
