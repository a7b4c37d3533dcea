//! Trim runs and the strips that are cut for them.
//!
//! Upright runs come first, then level ones: a welt in a corner or beside an opening is fitted
//! before the base welt and the crown braid that cover its ends.

use super::corners::Meeting;
use super::cut_out_strips::Stock;
use super::field::{Field, Run, between_words, length_along, side_words};
use super::model::{CutOutStrip, Piece, PieceKind, RoomPlan, Round, TrimPath, TrimPlace, TrimRun, WallRef};
use super::strips::{StripWish, level_strip, upright_strip};
use crate::job::model::{CornerKind, Job, Room, Side, Trim, TrimKind};
use crate::units::Length;

/// Adds the trim runs of a room whose panels are planned to `plan.trim`, and the strips of cloth that
/// they need to `pieces`, with their place in the pattern and not yet on a bolt.
///
/// `first` is the number of the first run, so that labels are unique over all rooms.
pub fn run(job: &Job, room: usize, first: usize, plan: &mut RoomPlan, pieces: &mut Vec<Piece>) {
    let shape = &job.rooms[room];
    let mut drafts: Vec<Draft> = Vec::new();
    if job.trims.corner.kind != TrimKind::None {
        drafts.extend(corner_runs(shape));
    }
    if job.trims.opening.kind != TrimKind::None {
        drafts.extend(opening_runs(shape));
    }
    for (place, trim) in [(TrimPlace::Bottom, &job.trims.bottom), (TrimPlace::Top, &job.trims.top)] {
        if trim.kind != TrimKind::None {
            drafts.extend(level_runs(shape, &plan.ribbon, place, trim.unbroken));
        }
    }
    let mut stock = Stock::of(job, room, plan, pieces);
    for (i, draft) in drafts.into_iter().enumerate() {
        let label = format!("T{}", first + i);
        let trim = trim_at(job, draft.place);
        let from = pieces.len();
        if is_welt(trim) {
            cut_strips(job, room, plan, trim, &label, &draft, pieces);
        }
        let count = pieces.len() - from;
        let extra =
            if count == 0 { job.house.trim_end * 2 } else { pieces[from..].iter().map(beyond_net).sum() };
        let cut_out_strips =
            if trim.from_cut_outs { given_back(&mut stock, from, pieces) } else { Vec::new() };
        let strips: Vec<_> = (from..pieces.len()).map(super::model::PieceId).collect();
        let length = draft.path.iter().map(|p| length_along(&p.points, &p.rounds)).sum();
        let ends = (draft.ends.0.to_owned(), draft.ends.1.to_owned());
        let parts: usize = draft.path.iter().map(|p| straight_parts(p).len()).sum();
        let joins = count.saturating_sub(parts) as i64;
        plan.trim.push(TrimRun {
            label,
            place: draft.place,
            what: draft.what,
            path: draft.path,
            length,
            extra,
            joins,
            ends,
            strips,
            cut_out_strips,
        });
    }
}

/// Takes those strips, of the pieces that begin at `from`, that a cut-out can give out of the pieces.
fn given_back(stock: &mut Stock, from: usize, pieces: &mut Vec<Piece>) -> Vec<CutOutStrip> {
    let mut found = Vec::new();
    for strip in pieces.split_off(from) {
        match stock.take(&strip) {
            Some(strip) => found.push(strip),
            None => pieces.push(strip),
        }
    }
    found
}

/// The trim that a job puts at a place.
pub(crate) fn trim_at(job: &Job, place: TrimPlace) -> &Trim {
    match place {
        TrimPlace::Corner => &job.trims.corner,
        TrimPlace::Opening => &job.trims.opening,
        TrimPlace::Top => &job.trims.top,
        TrimPlace::Bottom => &job.trims.bottom,
    }
}

/// Whether a trim is sewn from strips of the room's cloth.
pub(crate) fn is_welt(trim: &Trim) -> bool {
    matches!(trim.kind, TrimKind::SingleWelt | TrimKind::DoubleWelt)
}

fn beyond_net(piece: &Piece) -> Length {
    match piece.kind {
        PieceKind::UprightStrip => piece.gross.height() - piece.net.height(),
        _ => piece.gross.width() - piece.net.width(),
    }
}

/// A run before it has a label and strips.
struct Draft {
    place: TrimPlace,
    what: String,
    path: Vec<TrimPath>,
    ends: (&'static str, &'static str),
}

/// One upright run in each inside corner and at each free end, on the higher of the walls that
/// meet there.
fn corner_runs(room: &Room) -> Vec<Draft> {
    let mut drafts = Vec::new();
    for (corner, fixed) in room.corners.iter().enumerate() {
        let at = Meeting::at(room, corner);
        if fixed.kind == CornerKind::Outside && at.wrap_and_fold().is_some() {
            continue;
        }
        let runs_on = |wall: Option<usize>, right_end: bool| {
            let wall = wall?;
            let shape = &room.walls[wall];
            let runs = Field::of(shape).upright_runs(if right_end { shape.width } else { Length::ZERO });
            let height: Length = runs.iter().map(Run::length).sum();
            Some((height, wall, runs))
        };
        let (left, right) = (runs_on(at.left, true), runs_on(at.right, false));
        let chosen = match (left, right) {
            (Some(left), Some(right)) if right.0 > left.0 => Some(right),
            (Some(left), _) => Some(left),
            (None, right) => right,
        };
        let Some((_, wall, runs)) = chosen else { continue };
        for run in runs {
            let words = between_words(&room.walls[wall], &run);
            let beside =
                if words.is_empty() { String::new() } else { format!(", {}", upright_words(&words)) };
            drafts.push(Draft {
                place: TrimPlace::Corner,
                what: format!("corner {}{beside}", fixed.name),
                path: vec![TrimPath { wall, points: run.path, rounds: run.rounds }],
                ends: ("butt", "butt"),
            });
        }
    }
    drafts
}

/// On an upright line, left is below and right is above.
fn upright_words(words: &str) -> String {
    words.replace("left of", "under").replace("right of", "over")
}

fn opening_runs(room: &Room) -> Vec<Draft> {
    let mut drafts = Vec::new();
    for (wall, shape) in room.walls.iter().enumerate().filter(|(_, w)| w.clothed) {
        let field = Field::of(shape);
        for (index, opening) in shape.openings.iter().enumerate() {
            for run in field.hole_runs(index) {
                let ends = if run.closed() { ("closed", "closed") } else { ("butt", "butt") };
                drafts.push(Draft {
                    place: TrimPlace::Opening,
                    what: match side_words(&run, &opening.outer) {
                        "" => format!("round {}", opening.label),
                        side => format!("{}, {side}", opening.label),
                    },
                    path: vec![TrimPath { wall, points: run.path, rounds: run.rounds }],
                    ends,
                });
            }
        }
    }
    drafts
}

/// Where two edges end at a corner at heights further apart than this, as a crown that is set out anew does,
/// trim does not go from one to the other. Common practice, no source.
const MOST_STEP: Length = Length::inches(6);

/// Runs along the top or the bottom edge: one for each stretch of a wall, or, unbroken, one for each
/// chain of stretches that follow one another round the room.
fn level_runs(room: &Room, ribbon: &[usize], place: TrimPlace, unbroken: bool) -> Vec<Draft> {
    let mut chains: Vec<Vec<(usize, Run)>> = Vec::new();
    let reaches = |stretch: &(usize, Run)| stretch.1.to.is_none();
    let starts = |stretch: &(usize, Run)| stretch.1.from.is_none();
    // A run does not jump from one edge to another that ends higher or lower at the corner.
    let is_level = |left: &(usize, Run), right: &(usize, Run)| {
        let ends = (left.1.path.last(), right.1.path.first());
        matches!(ends, (Some(left), Some(right)) if (left.y - right.y).abs() <= MOST_STEP)
    };
    let mut clothed_before = None;
    for wall in ribbon.iter().copied() {
        let shape = &room.walls[wall];
        if !shape.clothed {
            clothed_before = None;
            continue;
        }
        let field = Field::of(shape);
        let runs = if place == TrimPlace::Top { field.top_runs() } else { field.bottom_runs() };
        for run in runs {
            let stretch = (wall, run);
            let follows = unbroken
                && starts(&stretch)
                && clothed_before.is_some_and(|before| before != wall)
                && chains.last().and_then(|c| c.last()).is_some_and(|last| {
                    Some(last.0) == clothed_before && reaches(last) && is_level(last, &stretch)
                });
            match chains.last_mut() {
                Some(chain) if follows => chain.push(stretch),
                _ => chains.push(vec![stretch]),
            }
        }
        clothed_before = Some(wall);
    }
    let mut closed = false;
    if unbroken && room.closed {
        let meets = match (chains.first().and_then(|c| c.first()), chains.last().and_then(|c| c.last())) {
            (Some(first), Some(last)) => {
                Some(&first.0) == ribbon.first()
                    && Some(&last.0) == ribbon.last()
                    && starts(first)
                    && reaches(last)
                    && is_level(last, first)
            }
            _ => false,
        };
        closed = meets && chains.len() == 1;
        if meets
            && !closed
            && let Some(mut last) = chains.pop()
        {
            last.append(&mut chains[0]);
            chains[0] = last;
        }
    }
    let word = |wall: usize| match place {
        TrimPlace::Top => room.walls[wall].top_word(),
        _ => room.walls[wall].bottom_word(),
    };
    // One word for the run, if it has one on all its walls.
    let edge = |chain: &[(usize, Run)]| {
        let first = chain.first().map(|(wall, _)| word(*wall));
        let other = if place == TrimPlace::Top { "top edge" } else { "bottom edge" };
        first.filter(|first| chain.iter().all(|(wall, _)| word(*wall) == *first)).unwrap_or(other)
    };
    let draft = |chain: Vec<(usize, Run)>| {
        let name = edge(&chain);
        let label = |stretch: Option<&(usize, Run)>| {
            stretch.map_or(String::new(), |(w, _)| room.walls[*w].label.clone())
        };
        let what = if closed {
            format!("{name}, whole room, starting at corner {}", room.corners[chain[0].0].name)
        } else if chain.len() == 1 {
            let words = between_words(&room.walls[chain[0].0], &chain[0].1);
            let words = if words.is_empty() { words } else { format!(", {words}") };
            format!("{name}, wall {}{words}", label(chain.first()))
        } else {
            format!("{name}, walls {} to {}", label(chain.first()), label(chain.last()))
        };
        let ends = match (chain.first(), chain.last()) {
            _ if closed => ("closed", "closed"),
            (Some(first), Some(last)) => (
                end(room, first.0, starts(first).then_some(Side::Left)),
                end(room, last.0, reaches(last).then_some(Side::Right)),
            ),
            _ => ("butt", "butt"),
        };
        let path = chain
            .into_iter()
            .map(|(wall, run)| TrimPath { wall, points: run.path, rounds: run.rounds })
            .collect();
        Draft { place, what, path, ends }
    };
    chains.into_iter().map(draft).collect()
}

/// How a level run ends on a wall: at its corner on that side, or, with no side, at an opening. Round an
/// outside corner, where another run meets it edge to edge, it is mitred; everywhere else it is butted.
fn end(room: &Room, wall: usize, side: Option<Side>) -> &'static str {
    let corner = match side {
        None => return "butt",
        Some(Side::Left) => wall,
        Some(Side::Right) => room.right_corner(wall),
    };
    if Meeting::at(room, corner).wrap_and_fold().is_some() { "mitre" } else { "butt" }
}

/// The steepest edge along which a strip can still follow the wall's pattern: 1 in 20.
const STEEPEST_MATCH: i64 = 20;

/// Strips for a welt, part by part of the path.
fn cut_strips(
    job: &Job,
    room: usize,
    plan: &RoomPlan,
    trim: &Trim,
    label: &str,
    draft: &Draft,
    pieces: &mut Vec<Piece>,
) {
    let parts: Vec<(usize, Run)> = draft.path.iter().flat_map(straight_parts).collect();
    let many = parts.len() > 1;
    for (i, (wall, part)) in parts.into_iter().enumerate() {
        let label = if many { format!("{label}.{}", i + 1) } else { label.to_owned() };
        let (first, last) = (part.path[0], part.path[part.path.len() - 1]);
        let (length, round) = (part.length(), !part.rounds.is_empty());
        let steep = (last.y - first.y).abs() * STEEPEST_MATCH > length;
        let upright = first.x == last.x;
        let wish = StripWish {
            wall: WallRef { room, wall },
            label,
            width: trim.strip,
            ends: job.house.trim_end,
            joints: job.house.seam_allowance,
            matched: trim.matched && !round && (upright || !steep),
        };
        if upright {
            let (low, high) = (first.y.min(last.y), first.y.max(last.y));
            pieces.extend(upright_strip(job, plan, &wish, first.x, (low, high)));
        } else {
            // Along a raked edge or an arch the strip is as long as the edge, not as its shadow on the level.
            let x = first.x.min(last.x);
            let y = first.y + (last.y - first.y) / 2;
            pieces.extend(level_strip(job, plan, &wish, y, (x, x + length)));
        }
    }
}

/// A path cut where it turns from upright to level, as at the corners of a casing, and where it begins
/// or ends to be round.
fn straight_parts(path: &TrimPath) -> Vec<(usize, Run)> {
    #[derive(Clone, Copy, PartialEq)]
    enum Way {
        Upright,
        Along,
        Round(usize),
    }
    let way = |i: usize| match path.rounds.iter().position(|r| r.from <= i && i < r.to) {
        Some(round) => Way::Round(round),
        None if path.points[i].x == path.points[i + 1].x => Way::Upright,
        None => Way::Along,
    };
    let mut parts: Vec<(Way, Run)> = Vec::new();
    for (i, leg) in path.points.windows(2).enumerate() {
        let here = way(i);
        match parts.last_mut() {
            Some((before, run)) if *before == here && here != Way::Upright => run.path.push(leg[1]),
            _ => parts.push((here, Run::new(leg.to_vec()))),
        }
    }
    for (way, run) in &mut parts {
        if let Way::Round(round) = way {
            run.rounds.push(Round { from: 0, to: run.path.len() - 1, ..path.rounds[*round] });
        }
    }
    parts.into_iter().map(|(_, run)| (path.wall, run)).collect()
}
