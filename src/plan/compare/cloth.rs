//! What becomes of the cloth: pieces, seams, the pattern, its cutting.

use super::super::lattice::Laid;
use super::super::model::{
    ClothChange, KillChange, Pair, PatternShift, Piece, PieceChange, PieceFacts, PieceKind, Plan, Seam,
    SeamChange, WallName, WallRef, Way,
};
use super::super::words;
use super::matching::Matching;
use super::sequence::matched;
use crate::job::model::{Job, Lattice};
use crate::units::Length;

/// Walls that are matched, and those that only one issue has.
pub fn walls(matching: &Matching, plans: Pair<&Plan>) -> Vec<Pair<Option<WallRef>>> {
    let mut all = Vec::new();
    for (rooms, inside) in &matching.rooms {
        let at = |room: Option<usize>, wall: Option<usize>| Some(WallRef { room: room?, wall: wall? });
        match inside {
            Some(inside) => all.extend(
                inside
                    .walls
                    .iter()
                    .map(|(pair, _)| Pair::new(at(rooms.was, pair.was), at(rooms.now, pair.now))),
            ),
            None => {
                let count = |plan: &Plan, room: Option<usize>| {
                    room.map_or(0, |room| plan.job.rooms[room].walls.len())
                };
                let was =
                    (0..count(plans.was, rooms.was)).map(|wall| Pair::new(at(rooms.was, Some(wall)), None));
                let now =
                    (0..count(plans.now, rooms.now)).map(|wall| Pair::new(None, at(rooms.now, Some(wall))));
                all.extend(was.chain(now));
            }
        }
    }
    all
}

fn called(job: &Job, at: WallRef) -> WallName {
    WallName { at, name: words::wall_of(job, at) }
}

fn names(plans: Pair<&Plan>, wall: Pair<Option<WallRef>>) -> Pair<Option<WallName>> {
    let name = |job: &Job, at: Option<WallRef>| at.map(|at| called(job, at));
    Pair::new(name(&plans.was.job, wall.was), name(&plans.now.job, wall.now))
}

/// The pieces of one kind of use on a wall, left to right and from below.
fn pieces_on(plan: &Plan, at: Option<WallRef>, strips: bool) -> Vec<PieceFacts> {
    let is_strip = |kind| matches!(kind, PieceKind::UprightStrip | PieceKind::LevelStrip);
    let mut found: Vec<&Piece> = plan
        .pieces
        .iter()
        .filter(|piece| at.is_some() && piece.wall() == at && is_strip(piece.kind) == strips)
        .collect();
    found.sort_by_key(|piece| (piece.net.x0, piece.net.y0, piece.kind));
    found.into_iter().map(|piece| facts(plan, piece)).collect()
}

fn facts(plan: &Plan, piece: &Piece) -> PieceFacts {
    PieceFacts {
        kind: piece.kind,
        label: piece.label.clone(),
        length: piece.cut.length,
        width: piece.cut.width,
        start: start(plan, piece),
    }
}

/// Where in the pattern a piece begins, wherever on the bolt it is cut.
fn start(plan: &Plan, piece: &Piece) -> Option<(Length, Length)> {
    let lattice = plan.job.cloths[piece.cloth].pattern.as_ref().filter(|_| piece.matched)?;
    let laid = Laid::of_piece(&plan.job, &plan.rooms, piece);
    let (across, along) = (laid.across(&piece.gross).0, laid.along(&piece.gross).0);
    let past = across - laid.match_line;
    let column = past.div_floor(lattice.horizontal);
    Some((past.rem_euclid(lattice.horizontal), laid.phase(lattice, column, along)))
}

/// The pieces that are cut otherwise, came or went. Where the room's walls are renumbered, labels change
/// without more: that is told of the wall.
pub fn pieces(plans: Pair<&Plan>, walls: &[Pair<Option<WallRef>>]) -> Vec<PieceChange> {
    let mut told = Vec::new();
    for strips in [false, true] {
        for &wall in walls {
            let was = pieces_on(plans.was, wall.was, strips);
            let now = pieces_on(plans.now, wall.now, strips);
            let labels = Pair::new(&was, &now)
                .map(|all| all.iter().map(|piece| piece.label.clone()).collect::<Vec<_>>());
            let end = |label: &str| label.chars().last();
            let alike = |i: usize, j: usize| {
                let facts = Pair::new(&was[i], &now[j]);
                1 + 2 * i64::from(facts.was.kind == facts.now.kind)
                    + 3 * i64::from(
                        facts.was.length == facts.now.length && facts.was.width == facts.now.width,
                    )
                    + 2 * i64::from(facts.was.start == facts.now.start)
                    + 2 * i64::from(end(&facts.was.label) == end(&facts.now.label))
            };
            for pair in matched(Pair::new(&labels.was, &labels.now), alike) {
                let piece = Pair::new(pair.was.map(|i| was[i].clone()), pair.now.map(|j| now[j].clone()));
                if differ(&piece) {
                    told.push(PieceChange { wall: names(plans, wall), piece });
                }
            }
        }
    }
    told
}

fn differ(piece: &Pair<Option<PieceFacts>>) -> bool {
    match (&piece.was, &piece.now) {
        (Some(was), Some(now)) => PieceFacts { label: now.label.clone(), ..was.clone() } != *now,
        _ => true,
    }
}

/// The seams that moved, came or went.
pub fn seams(plans: Pair<&Plan>, walls: &[Pair<Option<WallRef>>]) -> Vec<SeamChange> {
    let mut told = Vec::new();
    for &wall in walls {
        let (was, now) = (seams_on(plans.was, wall.was), seams_on(plans.now, wall.now));
        let labels =
            Pair::new(&was, &now).map(|all| all.iter().map(|seam| seam.label.clone()).collect::<Vec<_>>());
        let alike = |i: usize, j: usize| {
            let apart = (was[i].x - now[j].x).abs();
            // A seam is the one nearest to it, and of two at the same distance the one of its place.
            let near = Length::feet(100).nm() - apart.nm();
            near.max(1) * 2 + i64::from(i == j)
        };
        for pair in matched(Pair::new(&labels.was, &labels.now), alike) {
            let (was, now) = (pair.was.map(|i| was[i]), pair.now.map(|j| now[j]));
            let x = Pair::new(was, now).map(|seam| seam.map(|seam| seam.x));
            if !x.same() {
                let label =
                    Pair::new(was, now).map(|seam| seam.map_or(String::new(), |seam| seam.label.clone()));
                told.push(SeamChange { wall: names(plans, wall), label, x });
            }
        }
    }
    told
}

fn seams_on(plan: &Plan, at: Option<WallRef>) -> Vec<&Seam> {
    let wall = at.and_then(|at| plan.rooms[at.room].walls[at.wall].panel.as_ref());
    wall.map_or(Vec::new(), |panel| panel.seams.iter().collect())
}

/// Where the pattern stands otherwise on a wall of the same cloth, hung the same way.
pub fn pattern(plans: Pair<&Plan>, walls: &[Pair<Option<WallRef>>]) -> Vec<PatternShift> {
    let both = walls.iter().filter_map(|pair| Some(Pair::new(pair.was?, pair.now?)));
    both.filter_map(|wall| shift(plans, wall)).collect()
}

fn shift(plans: Pair<&Plan>, wall: Pair<WallRef>) -> Option<PatternShift> {
    let on = |plan: &Plan, at: WallRef| -> Option<(Lattice, Way, Length, Length)> {
        let room = &plan.rooms[at.room];
        room.walls[at.wall].panel.as_ref()?;
        let lattice = plan.job.cloths[plan.job.rooms[at.room].cloth].pattern?;
        let registration = &room.registration;
        Some((lattice, registration.way, registration.x0 - room.walls[at.wall].x, registration.y0))
    };
    let (lattice, way, x, y) = on(plans.was, wall.was)?;
    let (now_lattice, now_way, now_x, now_y) = on(plans.now, wall.now)?;
    if lattice != now_lattice || way != now_way {
        return None;
    }
    let (right, up) = least(&lattice, way, now_x - x, now_y - y);
    let wall = Pair::new(called(&plans.was.job, wall.was), called(&plans.now.job, wall.now));
    (right != Length::ZERO || up != Length::ZERO).then_some(PatternShift { wall, right, up })
}

/// The same move less whole repeats: at most half a repeat either way.
fn least(lattice: &Lattice, way: Way, right: Length, up: Length) -> (Length, Length) {
    let Lattice { horizontal, vertical, drop } = *lattice;
    let centred = |length: Length, repeat: Length| {
        let rest = length.rem_euclid(repeat);
        if rest * 2 > repeat { rest - repeat } else { rest }
    };
    // See [`crate::plan::lattice`]: motifs stand at x0 + j H, y0 - j drop + k V; railroaded at
    // x0 + j drop + k V, y0 + j H.
    let (across, along) = match way {
        Way::Upright => (right, up),
        Way::Railroaded => (up, right),
    };
    // The columns on either side: where both are as near, the one whose motif then moves less.
    let first = across.div_floor(horizontal);
    let moves = [first, first + 1].map(|columns| {
        let fall = i128::from(drop.nm()) * i128::from(columns);
        let fall = Length::nanometres(fall.rem_euclid(i128::from(vertical.nm())) as i64);
        let along = match way {
            Way::Upright => along + fall,
            Way::Railroaded => along - fall,
        };
        (across - horizontal * columns, centred(along, vertical))
    });
    let [low, high] = moves;
    let size = |(across, along): (Length, Length)| (across.abs(), along.abs());
    let (across, along) = if size(low) <= size(high) { low } else { high };
    match way {
        Way::Upright => (across, along),
        Way::Railroaded => (along, across),
    }
}

/// The corners where a pattern no longer misses as it did.
pub fn kills(plans: Pair<&Plan>, matching: &Matching) -> Vec<KillChange> {
    let both = matching.rooms.iter().filter_map(|(pair, _)| Some(Pair::new(pair.was?, pair.now?)));
    let told = both.filter_map(|room| {
        let of = |plan: &Plan, room: usize| {
            let kill = plan.rooms[room].kill.as_ref()?;
            Some((plan.job.rooms[room].corners[kill.corner].name.clone(), kill.miss_across, kill.miss_up))
        };
        let kill = Pair::new(of(plans.was, room.was), of(plans.now, room.now));
        let name =
            Pair::new(words::room_of(&plans.was.job, room.was), words::room_of(&plans.now.job, room.now));
        (!kill.same()).then_some(KillChange { room: name, kill })
    });
    told.collect()
}

/// What is used and ordered of every cloth.
pub fn cloths(plans: Pair<&Plan>, matching: &Matching) -> Vec<ClothChange> {
    let told = matching.cloths.iter().filter_map(|pair| {
        let was = pair.was.map(|index| (&plans.was.job.cloths[index], &plans.was.cloths[index]));
        let now = pair.now.map(|index| (&plans.now.job.cloths[index], &plans.now.cloths[index]));
        let sold_in = now.or(was)?.0.sold_in;
        let both = Pair::new(was, now);
        Some(ClothChange {
            name: both.map(|cloth| cloth.map_or(String::new(), |(cloth, _)| cloth.name.clone())),
            sold_in,
            used: both.map(|cloth| cloth.map_or(Length::ZERO, |(_, cut)| cut.used)),
            order_units: both.map(|cloth| cloth.map_or(0, |(_, cut)| cut.order_units)),
            on_hand: both.map(|cloth| cloth.is_some_and(|(cloth, _)| !cloth.on_hand.is_empty())),
            widths: both.map(|cloth| cloth.map_or(0, |(_, cut)| cut.widths)),
        })
    });
    told.collect()
}
