//! Batting hung upright: lengths side by side.

use super::chain::{Chain, joints};
use super::{Laid, cut_out};
use crate::geom::Rect;
use crate::job::model::{Job, Room};
use crate::plan::field::Field;
use crate::plan::model::{BattingPiece, RoomPlan};
use crate::units::Length;

/// The upright pieces of a chain.
pub(super) fn lay(job: &Job, room: usize, chain: &Chain, plan: &RoomPlan) -> Laid {
    let room = &job.rooms[room];
    let places = places(job, room, chain, plan);
    let mut laid = Laid { pieces: Vec::new(), joints: Vec::new() };
    for (i, pair) in places.windows(2).enumerate() {
        if i > 0
            && let Some((wall, x)) = chain.on_wall(pair[0])
        {
            let field = Field::of(&room.walls[wall]).inset(job.batting.gap);
            laid.joints.extend(joints(wall, field.upright_runs(x)));
        }
        pieces(job, room, chain, pair[0], pair[1], &mut laid);
    }
    laid
}

/// Where pieces begin and end along the chain; at least two places.
fn places(job: &Job, room: &Room, chain: &Chain, plan: &RoomPlan) -> Vec<Length> {
    let (roll, smallest) = (job.batting.roll_width, job.house.smallest_batting);
    let (mut at, end) = chain.ends(job, room);
    let mut places = vec![at];
    while end - at > roll {
        // Where seams or corners stand too close to leave a place, the whole width is used.
        let clear = |from, least| chain.clear(job, room, plan, from, least);
        let mut next = clear(at + roll, at + smallest.min(roll / 2)).unwrap_or(at + roll);
        if end - next < smallest
            && let Some(shorter) = clear(end - smallest, at).filter(|shorter| *shorter < next)
        {
            next = shorter;
        }
        places.push(next);
        at = next;
    }
    places.push(end);
    places
}

/// The piece from `from` to `to`, or what is left of it over and under an opening that takes its
/// whole width: as long as its part of the walls is high.
fn pieces(job: &Job, room: &Room, chain: &Chain, from: Length, to: Length, laid: &mut Laid) {
    let passed = chain.passed(room, from, to);
    let (Some(first), Some(last)) = (passed.first(), passed.last()) else { return };
    let (x0, x1) = (first.part.0, last.part.1 + last.shift);
    let field = |wall: usize| Field::of(&room.walls[wall]).inset(job.batting.gap);
    let tops = passed.iter().map(|p| field(p.wall).top.max_between(p.part.0, p.part.1));
    let bottoms = passed.iter().map(|p| field(p.wall).bottom.min_between(p.part.0, p.part.1));
    let (Some(top), Some(bottom)) = (tops.max(), bottoms.min()) else { return };
    let holes = chain.cut_outs(job, room, &passed);
    let mut left = vec![(bottom, top)];
    for hole in holes.iter().filter(|h| h.rect.x0 <= x0 && x1 <= h.rect.x1) {
        // Over an arch a piece comes down to where the arch is lowest.
        let over = hole.top_at(x0).min(hole.top_at(x1));
        let split = |(y0, y1): (Length, Length)| [(y0, y1.min(hole.rect.y0)), (y0.max(over), y1)];
        left = left.into_iter().flat_map(split).filter(|(y0, y1)| y0 < y1).collect();
    }
    for (y0, y1) in left {
        // A wall higher than the roll is long takes pieces one over another.
        let parts = (y1 - y0).div_ceil(job.batting.roll_length).max(1);
        for part in 0..parts {
            let (a, b) = (y0 + (y1 - y0).scale(part, parts), y0 + (y1 - y0).scale(part + 1, parts));
            let rect = Rect::new(x0, a, x1, b);
            if part > 0 {
                for at in &passed {
                    let runs = field(at.wall).level_runs(a, at.part);
                    laid.joints.extend(joints(at.wall, runs));
                }
            }
            let cut_outs = holes.iter().filter_map(|h| cut_out(h, &rect)).collect();
            let (cut_length, cut_width) = (b - a, x1 - x0);
            let piece = BattingPiece { label: String::new(), rect, cut_length, cut_width, cut_outs };
            laid.pieces.push((first.wall, piece));
        }
    }
}
