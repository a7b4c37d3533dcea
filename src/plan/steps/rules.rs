//! What must come before what.

use std::collections::BTreeMap;

use super::Key;
use crate::job::model::{CornerKind, Room};
use crate::plan::corners::Meeting;
use crate::plan::model::{CutOutStrip, Plan, TrimPlace, TrimRun, WallRef};
use crate::units::Length;

/// Pairs of indices into `keys`: the first must be done before the second. A rule about a step that
/// this job does not have says nothing.
pub(super) fn befores(plan: &Plan, keys: &[Key]) -> Vec<(usize, usize)> {
    let mut by_room: BTreeMap<Option<usize>, Vec<usize>> = BTreeMap::new();
    for (i, key) in keys.iter().enumerate() {
        by_room.entry(room_of(*key)).or_default().push(i);
    }
    let of = |room: Option<usize>| by_room.get(&room).into_iter().flatten().copied();
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (i, first) in keys.iter().enumerate() {
        // No rule binds the work of one room to that of another, but that walls are searched before any power is off.
        let others: Vec<usize> = match (first, room_of(*first)) {
            (Key::Find(_), _) | (_, None) => (0..keys.len()).collect(),
            (_, room) => of(room).chain(of(None)).collect(),
        };
        let thens = others.into_iter().filter(|&j| i != j && comes_before(plan, *first, keys[j]));
        found.extend(thens.map(|j| (i, j)));
    }
    found
}

/// The room that a step belongs to; `None` for work that serves several.
pub(super) fn room_of(key: Key) -> Option<usize> {
    match key {
        Key::Answer(_) | Key::Cut(_) | Key::SewWelt => None,
        Key::Measure(room)
        | Key::Tests(room)
        | Key::FireData(room)
        | Key::Power(room)
        | Key::Clear(room)
        | Key::Find(room)
        | Key::Extend(room)
        | Key::Mark(room)
        | Key::SewCutOuts(room)
        | Key::Corner(room, _)
        | Key::Trim(room, _)
        | Key::Plates(room)
        | Key::Clean(room)
        | Key::Walk(room) => Some(room),
        Key::Battens(at)
        | Key::Batting(at)
        | Key::Sew(at)
        | Key::Hang(at)
        | Key::Open(at, _)
        | Key::Boxes(at) => Some(at.room),
    }
}

fn comes_before(plan: &Plan, first: Key, then: Key) -> bool {
    let room = |r: usize| &plan.job.rooms[r];
    match (first, then) {
        // Nothing is fixed to a wall before it is tested, dead, clear and searched.
        // A detector finds cables best while they are live, those of the next room too.
        (Key::Find(_), Key::Power(_)) => true,
        (Key::Find(a), Key::Clear(b)) => a == b,
        (Key::Tests(a) | Key::Power(a), Key::Clear(b)) => a == b,
        (Key::Clear(a), Key::Battens(b) | Key::Batting(b)) => a == b.room,
        (Key::Clear(a), Key::Mark(b) | Key::Extend(b)) => a == b,
        // Batting and cloth are cut out round the box as it will stay.
        (Key::Battens(a), Key::Extend(b)) => a.room == b,
        (Key::Extend(a), Key::Batting(b)) => a == b.room,
        (Key::Battens(a), Key::Batting(b)) => a == b,
        (Key::Battens(a), Key::Mark(b)) => a.room == b,
        // Widths and heights are checked with the plumb lines, before anything is cut to them.
        (Key::Mark(a), Key::Batting(b)) => a == b.room,
        (Key::Measure(a), Key::Clear(b) | Key::Mark(b)) => a == b,
        (Key::Measure(a), Key::Cut(cloth)) => room(a).cloth == cloth,
        (Key::Mark(a), Key::Cut(cloth)) => room(a).cloth == cloth,
        // Cloth that the authority may refuse is neither cut nor hung.
        (Key::FireData(a), Key::Cut(cloth)) => room(a).cloth == cloth,
        (Key::FireData(a), Key::Batting(b)) => a == b.room,
        // What the mill has to answer for is not cut before it has.
        (Key::Answer(a), Key::Cut(b)) => a == b,
        // A piece of batting butts to the edge of the one that is carried round the corner.
        (Key::Batting(a), Key::Batting(b)) => a.room == b.room && carries_on(plan, a, b),
        (Key::Cut(cloth), Key::Sew(w)) => room(w.room).cloth == cloth,
        (Key::Cut(_), Key::SewWelt) => true,
        // A panel is hung to its plumb line, on its batting, and round a corner on the next wall's.
        (Key::Mark(a), Key::Hang(b)) => a == b.room,
        (Key::Sew(a), Key::Hang(b)) => a == b,
        (Key::Batting(a), Key::Hang(b)) => a == b || wraps(room(a.room), b, a),
        (Key::Hang(a), Key::Hang(b)) => {
            let wished = a.room == b.room && room(a.room).hang_order.contains(&(a.wall, b.wall));
            wraps(room(a.room), a, b) || wished
        }
        // An opening is cut only after the edges round it are stapled.
        (Key::Hang(a), Key::Open(b, _) | Key::Boxes(b)) => a == b,
        (Key::Hang(a), Key::Corner(r, c)) => a.room == r && meets(room(r), c, a.wall),
        // Trim covers what is stapled, glued and cut.
        // A cut-out is there only when its opening is cut; welt with strips of one is joined after that.
        (Key::Open(a, index), Key::SewCutOuts(r)) => {
            a.room == r && cut_out_strips(plan, r).any(|s| (s.cut_out.wall, s.cut_out.opening) == (a, index))
        }
        (Key::SewWelt, Key::SewCutOuts(r)) => {
            let runs = &plan.rooms[r].trim;
            runs.iter().any(|run| !run.strips.is_empty() && !run.cut_out_strips.is_empty())
        }
        (Key::SewCutOuts(a), Key::Trim(r, t)) => a == r && !plan.rooms[r].trim[t].cut_out_strips.is_empty(),
        (Key::SewWelt, Key::Trim(r, t)) => !plan.rooms[r].trim[t].strips.is_empty(),
        (Key::Hang(a), Key::Trim(r, t)) => a.room == r && covers(plan, r, t, a.wall),
        (Key::Open(a, index), Key::Trim(r, t)) => {
            let run = &plan.rooms[r].trim[t];
            let borders = || run.place == TrimPlace::Bottom || goes_round(plan, r, run, index);
            a.room == r && on_wall(run, a.wall) && borders()
        }
        (Key::Corner(a, c), Key::Trim(r, t)) => {
            let run = &plan.rooms[r].trim[t];
            let level = matches!(run.place, TrimPlace::Top | TrimPlace::Bottom);
            a == r && level && run.path.iter().any(|p| meets(room(r), c, p.wall))
        }
        (Key::Trim(a, s), Key::Trim(b, t)) => a == b && fitted_first(plan, a, s, t),
        // Plates go on over finished edges; then clean, then look.
        (Key::Boxes(a), Key::Plates(b)) => a.room == b,
        (Key::Trim(a, _) | Key::Corner(a, _), Key::Plates(b) | Key::Clean(b)) => a == b,
        (Key::Open(a, _) | Key::Boxes(a) | Key::Hang(a), Key::Clean(b)) => a.room == b,
        (Key::Plates(a), Key::Clean(b)) => a == b,
        (Key::Clean(a), Key::Walk(b)) => a == b,
        _ => false,
    }
}

/// The strips of a room that come from cut-outs.
pub(super) fn cut_out_strips(plan: &Plan, room: usize) -> impl Iterator<Item = &CutOutStrip> {
    plan.rooms[room].trim.iter().flat_map(|run| &run.cut_out_strips)
}

/// Whether the panel of `a` is carried round a corner that it shares with `b`.
fn wraps(room: &Room, a: WallRef, b: WallRef) -> bool {
    a.room == b.room
        && (0..room.corners.len()).any(|c| Meeting::at(room, c).wrap_and_fold() == Some((a.wall, b.wall)))
}

fn meets(room: &Room, corner: usize, wall: usize) -> bool {
    let at = Meeting::at(room, corner);
    at.left == Some(wall) || at.right == Some(wall)
}

/// Whether `b` follows `a` round an outside corner.
fn carries_on(plan: &Plan, a: WallRef, b: WallRef) -> bool {
    let room = &plan.job.rooms[a.room];
    let at = Meeting::at(room, room.right_corner(a.wall));
    at.left == Some(a.wall) && at.right == Some(b.wall) && at.corner.kind == CornerKind::Outside
}

fn on_wall(run: &TrimRun, wall: usize) -> bool {
    run.path.iter().any(|p| p.wall == wall)
}

/// Whether the run lies on the wall, or in a corner of it.
fn covers(plan: &Plan, room: usize, trim: usize, wall: usize) -> bool {
    let run = &plan.rooms[room].trim[trim];
    on_wall(run, wall)
        || in_corner(&plan.job.rooms[room], run).is_some_and(|c| meets(&plan.job.rooms[room], c, wall))
}

/// The corner that a corner run stands in: at the left or the right end of its wall.
fn in_corner(room: &Room, run: &TrimRun) -> Option<usize> {
    let part = run.path.first().filter(|_| run.place == TrimPlace::Corner)?;
    let at_left = part.points.iter().all(|p| p.x <= Length::ZERO);
    Some(if at_left { part.wall } else { room.right_corner(part.wall) })
}

/// Whether the run goes round opening `index` of the wall it lies on.
fn goes_round(plan: &Plan, room: usize, run: &TrimRun, index: usize) -> bool {
    run.place == TrimPlace::Opening
        && run.path.first().is_some_and(|part| {
            let hole = plan.job.rooms[room].walls[part.wall].openings[index].outer;
            part.points.iter().all(|p| hole.x0 <= p.x && p.x <= hole.x1 && hole.y0 <= p.y && p.y <= hole.y1)
        })
}

/// Upright runs before the level ones that cover their ends, where they share a wall; or, if the job
/// says so, after them.
fn fitted_first(plan: &Plan, room: usize, s: usize, t: usize) -> bool {
    let upright = |run: &TrimRun| matches!(run.place, TrimPlace::Corner | TrimPlace::Opening);
    let trim = &plan.rooms[room].trim;
    let (upright_run, level_run) = if plan.job.house.level_trim_first { (t, s) } else { (s, t) };
    upright(&trim[upright_run])
        && !upright(&trim[level_run])
        && trim[level_run].path.iter().any(|p| covers(plan, room, upright_run, p.wall))
}
