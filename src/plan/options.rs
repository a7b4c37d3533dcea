//! Several starts of a room's pattern side by side, for the designer to choose from.

use rayon::prelude::*;

use super::model::{Panel, Plan, RegistrationOption, RoomOptions, WallRef, Way};
use super::registration::{alone, best, candidates, in_sight, widest};
use super::ribbon::up_walls;
use super::rooms::RAKE_LIMIT;
use super::starts::{Start, Starts, Takes};
use super::words::print;
use super::{PlanFault, lattice, panels, ribbon, seam_rules};
use crate::geom::Profile;
use crate::job::model::{AcrossWish, Job, Lattice, Opening, OpeningKind, RegistrationWish, Room, Wall};
use crate::job::whole_at;
use crate::units::Length;

/// A job of more rooms gets no options: each of them takes as long as several plans of the room.
pub const MOST_ROOMS: usize = 24;

/// Adds to a plan the starts that each of its patterns could have.
///
/// This is a stage of its own, since it plans every room several times over.
pub fn offer(plan: &mut Plan) {
    let rooms = plan.job.rooms.len();
    if rooms > MOST_ROOMS {
        let told = format!(
            "Where the patterns could start, and openings covered with openings pieced, are compared in jobs of up to {MOST_ROOMS} rooms, and this has {rooms}."
        );
        // Offered once more, a plan stays as it is.
        if !plan.work_watch.contains(&told) {
            plan.work_watch.push(told);
        }
        return;
    }
    plan.options = (0..rooms).into_par_iter().filter_map(|room| of_room(plan, room)).collect();
}

/// A start to compare.
struct Wish {
    name: String,
    wish: RegistrationWish,
    /// What a job file says for it.
    line: String,
}

/// The options of one room; `None` when its cloth has no pattern or nothing can be planned.
fn of_room(plan: &Plan, index: usize) -> Option<RoomOptions> {
    let (job, room) = (&plan.job, &plan.job.rooms[index]);
    let lattice = job.cloths[room.cloth].pattern?;
    let way = plan.rooms[index].registration.way;
    let wall = main_wall(room)?;
    let shared = job.rooms.iter().filter(|other| other.cloth == room.cloth).count() > 1;
    let alone = alone(job, index);
    let compared = compared(plan, index, (wall, &lattice), shared, &alone)?;
    let planned =
        compared.into_iter().map(|(wish, start)| (wish, start.map(|s| option(&alone, s, wall, &lattice))));
    let (options, impossible) = (Vec::new(), Vec::new());
    let mut found = RoomOptions { room: index, wall, shared, options, impossible };
    for (i, (Wish { name, line, .. }, option)) in planned.enumerate() {
        match option {
            Ok(option) => match found.options.iter_mut().find(|other| same(other, &option, &lattice, way)) {
                Some(same) => same.names.push(name),
                None => found.options.push(RegistrationOption {
                    names: vec![name],
                    line,
                    chosen: i == 0,
                    ..option
                }),
            },
            Err(fault) => found.impossible.push((name, fault.message)),
        }
    }
    // Of cloth that is there nothing is ordered, and what is used decides.
    let on_hand = !plan.job.cloths[plan.job.rooms[index].cloth].on_hand.is_empty();
    let takes =
        |option: &RegistrationOption| (option.order_units, if on_hand { option.used } else { Length::ZERO });
    let least = found.options.iter().map(takes).min()?;
    for (i, option) in found.options.iter_mut().enumerate() {
        option.letter = lattice::letter(i);
        option.least = takes(option) == least;
    }
    Some(found)
}

/// The wall that the job places the pattern on, or the first of the widest.
fn main_wall(room: &Room) -> Option<usize> {
    let widest = widest(room)?;
    match room.registration.across {
        AcrossWish::FromCorner(_) | AcrossWish::LeastCloth => Some(widest),
        across => across.wall().or(Some(widest)),
    }
}

/// The starts of room `index`, planned: the job's own first, then those that somebody might prefer to it.
fn compared(
    plan: &Plan,
    index: usize,
    (wall, lattice): (usize, &Lattice),
    shared: bool,
    alone: &Job,
) -> Option<Vec<(Wish, Result<Start, PlanFault>)>> {
    let (job, room) = (&plan.job, &alone.rooms[0]);
    let (own, way) = (room.registration, plan.rooms[index].registration.way);
    let height = format!("below-crown=\"{}\"", job.print.format.exact().print(own.below_crown));
    let asked = |across| {
        let (name, line) = told(job, room, across, way);
        Wish { name, wish: RegistrationWish { across, ..own }, line: format!("pattern {line} {height}") }
    };
    let whole = |across, line: &str| Wish {
        name: format!("motif whole at the crown of wall {}", room.walls[wall].label),
        wish: RegistrationWish { across, below_crown: whole_at(&room.walls, wall, up_walls(lattice, way)) },
        line: format!("pattern {line} whole-on={}", room.walls[wall].label),
    };
    let mut across = vec![AcrossWish::MotifCentred(wall), AcrossWish::SeamCentred(wall)];
    across.extend(main_opening(room).map(|(wall, opening)| AcrossWish::MotifOnOpening { wall, opening }));
    across.extend(first_corner(room).map(AcrossWish::FromCorner));
    across.retain(|&across| across != own.across);
    let least = candidates(alone, way);
    let least_named = |across| Wish {
        name: format!("least cloth, of {} places tried", least.tried),
        wish: RegistrationWish { across, ..own },
        line: format!("pattern least-cloth=yes {height}"),
    };
    // Along a crown that slopes motifs are cut all the way.
    let level = is_level(&room.walls[wall].field_top(), room.walls[wall].width);
    let free = own.across == AcrossWish::LeastCloth;
    // Railroaded cloth has no seams, and wherever its pattern starts along the walls all cuts shift alike.
    let saves = way == Way::Upright;
    let mut wishes: Vec<Wish> = Vec::new();
    if !free {
        wishes.push(asked(own.across));
        wishes.extend(level.then(|| whole(own.across, &told(job, room, own.across, way).1)));
    }
    wishes.extend(across.into_iter().map(asked));
    let mut starts = Starts::new(alone, way);
    if !shared {
        // The job's own start is what the plan has.
        let cloth = &plan.cloths[plan.job.rooms[index].cloth];
        let (takes, has) = (Takes::of(cloth), &plan.rooms[index].registration);
        let settled = |wish: &&RegistrationWish| {
            let lies = starts.lies(**wish);
            (lies.x0, lies.y0) == (has.x0, has.y0)
        };
        let own = if free { least.wishes.iter().find(settled).copied() } else { Some(own) };
        own.into_iter().for_each(|own| starts.note(own, takes));
    }
    let all: Vec<RegistrationWish> =
        wishes.iter().map(|asked| asked.wish).chain(least.wishes.clone()).collect();
    let mut planned = starts.plan(&all);
    let mut tried = planned.split_off(wishes.len());
    let least = best(alone, &tried).map(|at| (least_named(least.wishes[at].across), tried.swap_remove(at)));
    let mut compared: Vec<(Wish, Result<Start, PlanFault>)> = wishes.into_iter().zip(planned).collect();
    if free {
        let least = least?;
        let whole = level.then(|| whole(least.0.wish.across, "least-cloth=yes"));
        let whole = whole.and_then(|whole| starts.plan(&[whole.wish]).pop().map(|start| (whole, start)));
        compared.splice(0..0, std::iter::once(least).chain(whole));
    } else {
        compared.splice(1..1, least.filter(|_| saves));
    }
    Some(compared)
}

/// What a wish is called, and what the job file says for it.
fn told(job: &Job, room: &Room, across: AcrossWish, way: Way) -> (String, String) {
    let label = |wall: usize| &room.walls[wall].label;
    let (seam, line) = match way {
        Way::Upright => ("seam", "match line"),
        Way::Railroaded => ("line between motifs", "line between motifs"),
    };
    match across {
        AcrossWish::MotifCentred(wall) => {
            (format!("motif on the middle of wall {}", label(wall)), format!("motif-on={}", label(wall)))
        }
        AcrossWish::SeamCentred(wall) => {
            (format!("{seam} on the middle of wall {}", label(wall)), format!("seam-on={}", label(wall)))
        }
        AcrossWish::MotifOnOpening { wall, opening } => {
            let opening = &room.walls[wall].openings[opening].label;
            (format!("motif on the middle of {opening}"), format!("motif-at={opening}"))
        }
        AcrossWish::FromCorner(wall) => {
            let corner = &room.corners[wall].name;
            (format!("{line} at corner {corner}"), format!("from-corner={corner}"))
        }
        AcrossWish::LineOn { wall, from_left } => {
            let place = job.print.format.exact().print(from_left);
            let asks = format!("line-on={} from-left=\"{place}\"", label(wall));
            (format!("{line} {} from the left end of wall {}", print(job, from_left), label(wall)), asks)
        }
        AcrossWish::LeastCloth => ("least cloth".to_owned(), "least-cloth=yes".to_owned()),
    }
}

/// The opening that a room is looked at by: a fireplace or a mantel, else the widest; with its wall.
fn main_opening(room: &Room) -> Option<(usize, usize)> {
    let walls = room.walls.iter().enumerate().filter(|(_, wall)| wall.clothed);
    let all = walls
        .flat_map(|(w, wall)| wall.openings.iter().enumerate().map(move |(o, opening)| ((w, o), opening)));
    let hearth = |kind| matches!(kind, OpeningKind::Fireplace | OpeningKind::Mantel);
    let rank = |(_, opening): &(_, &Opening)| (hearth(opening.kind), opening.outer.width());
    // The first of equals: `max_by_key` would take the last.
    let all: Vec<_> = all.collect();
    all.iter().rev().max_by_key(|at| rank(at)).map(|(at, _)| *at)
}

/// The first corner of the ribbon at which cloth starts, as the wall at its right.
fn first_corner(room: &Room) -> Option<usize> {
    ribbon::unroll(room).order.into_iter().find(|&wall| room.walls[wall].clothed)
}

/// The only room of a job with one start, as an option; it is named by the caller.
fn option(alone: &Job, start: Start, wall: usize, lattice: &Lattice) -> RegistrationOption {
    let Start { room, takes: Takes { used, order_units, .. } } = start;
    let panels =
        || room.walls.iter().enumerate().filter_map(|(w, planned)| Some((w, planned.panel.as_ref()?)));
    let seams = || panels().flat_map(|(_, panel)| &panel.seams);
    let broken =
        panels().flat_map(|(wall, panel)| seam_rules::broken_words(alone, WallRef { room: 0, wall }, panel));
    let shape = &alone.rooms[0].walls[wall];
    let (top, bottom) = (shape.field_top(), shape.field_bottom());
    let repeat = up_walls(lattice, room.registration.way);
    let half = repeat / 2;
    let (low, high) =
        (bottom.min_between(Length::ZERO, shape.width), top.max_between(Length::ZERO, shape.width));
    let cut = |edge: &Profile, by: Length| is_level(edge, shape.width).then(|| by.rem_euclid(repeat));
    let y0 = room.registration.y0;
    let all = panels().filter_map(|(wall, panel)| Some((nearest(&alone.rooms[0].walls[wall], panel)?, wall)));
    let near = all.min();
    RegistrationOption {
        letter: String::new(),
        names: Vec::new(),
        line: String::new(),
        chosen: false,
        least: false,
        used,
        order: alone.cloths[0].sold_in.length() * order_units,
        order_units,
        seams: seams().filter(|seam| !seam.in_sight.is_empty()).count(),
        in_sight: panels().map(|(_, panel)| in_sight(panel)).sum(),
        broken: broken.collect(),
        nearest: near.map(|(by, _)| by),
        nearest_wall: near.map(|(_, wall)| wall),
        crown_cut: cut(&top, y0 + half - high),
        base_cut: cut(&bottom, low - y0 + half),
        walls: room.walls.iter().map(|w| w.panel.iter().flat_map(|p| p.seams.clone()).collect()).collect(),
        kill: room.kill,
        registration: room.registration,
    }
}

/// Whether an edge of a wall of that width is as good as level, so that it cuts all columns of motifs alike.
fn is_level(edge: &Profile, width: Length) -> bool {
    edge.max_between(Length::ZERO, width) - edge.min_between(Length::ZERO, width) <= RAKE_LIMIT
}

/// How near a seam of a panel comes to a corner or a casing; the joints over and under a pieced opening,
/// which go with its casing, are not counted.
fn nearest(wall: &Wall, panel: &Panel) -> Option<Length> {
    let joints = panels::pieced_edges(wall);
    panel.seams.iter().filter(|seam| !joints.contains(&seam.x)).map(|seam| seam.clearance).min()
}

/// Whether two options come to the same: one lattice (see [`crate::plan::lattice`]), and the same seams in it.
fn same(a: &RegistrationOption, b: &RegistrationOption, lattice: &Lattice, way: Way) -> bool {
    let (right, up) = (b.registration.x0 - a.registration.x0, b.registration.y0 - a.registration.y0);
    let (across, along) = match way {
        Way::Upright => (right, up),
        Way::Railroaded => (up, -right),
    };
    let columns = i128::from(across.div_floor(lattice.horizontal));
    let fall = i128::from(along.nm()) + columns * i128::from(lattice.drop.nm());
    across.rem_euclid(lattice.horizontal) == Length::ZERO
        && fall.rem_euclid(i128::from(lattice.vertical.nm())) == 0
        && (a.used, &a.walls) == (b.used, &b.walls)
}
