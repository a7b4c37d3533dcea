//! The changed places of the walls of the new issue, which its elevations cloud.

use super::super::model::{ChangedPlace, Pair, PatternShift, Plan, SeamChange, WallRef};
use super::facts;
use super::matching::{Inside, Matching, OnWall};
use crate::geom::{Profile, Rect};
use crate::job::model::{Corner, Wall};
use crate::units::Length;

/// The places on every wall with cloth, in the order of the job.
pub fn places(
    plans: Pair<&Plan>,
    matching: &Matching,
    seams: &[SeamChange],
    pattern: &[PatternShift],
) -> Vec<ChangedPlace> {
    let mut told = Vec::new();
    for (rooms, inside) in &matching.rooms {
        let Some(now) = rooms.now else { continue };
        match (rooms.was, inside) {
            (Some(was), Some(inside)) => room(&mut told, plans, Pair::new(was, now), inside),
            _ => {
                let walls = 0..plans.now.job.rooms[now].walls.len();
                told.extend(walls.map(|wall| whole(plans.now, WallRef { room: now, wall }, "new room")));
            }
        }
    }
    for seam in seams {
        let Some(at) = seam.wall.now.as_ref().map(|wall| wall.at) else { continue };
        let Some(x) = seam.x.now.or(seam.x.was) else { continue };
        let wall = &plans.now.job.rooms[at.room].walls[at.wall];
        let x = x.clamp(Length::ZERO, wall.width);
        let label = if seam.label.now.is_empty() { &seam.label.was } else { &seam.label.now };
        let seams = plans.now.rooms[at.room].walls[at.wall].panel.iter().flat_map(|panel| &panel.seams);
        // What an opening hides of a seam needs no cloud.
        let in_sight =
            seams.filter(|other| seam.x.now == Some(other.x)).flat_map(|seam| seam.in_sight.clone());
        let mut stretches: Vec<(Length, Length)> = in_sight.collect();
        if stretches.is_empty() {
            stretches.push((wall.field_bottom().at(x), wall.field_top().at(x)));
        }
        told.extend(stretches.into_iter().map(|(low, high)| ChangedPlace {
            wall: at,
            what: format!("seam {label}"),
            area: Rect::new(x, low, x, high),
        }));
    }
    for shift in pattern {
        let at = shift.wall.now.at;
        let no_seam =
            plans.now.rooms[at.room].walls[at.wall].panel.as_ref().is_none_or(|panel| panel.seams.is_empty());
        if no_seam {
            told.push(whole(plans.now, at, "pattern"));
        }
    }
    told.retain(|place| plans.now.job.rooms[place.wall.room].walls[place.wall.wall].clothed);
    told.sort_by_key(|place| (place.wall, place.area));
    // What lies in another place of its wall is clouded with it.
    let all = told.clone();
    let swallowed = |place: &ChangedPlace| {
        all.iter().any(|other| {
            other.wall == place.wall && other.area != place.area && other.area.contains(&place.area)
        })
    };
    told.retain(|place| !swallowed(place));
    told
}

/// The whole field of a wall.
fn whole(plan: &Plan, at: WallRef, what: &str) -> ChangedPlace {
    let wall = &plan.job.rooms[at.room].walls[at.wall];
    let bottom = wall.field_bottom().min_between(Length::ZERO, wall.width);
    let top = wall.field_top().max_between(Length::ZERO, wall.width);
    ChangedPlace { wall: at, what: what.to_owned(), area: Rect::new(Length::ZERO, bottom, wall.width, top) }
}

fn room(told: &mut Vec<ChangedPlace>, plans: Pair<&Plan>, rooms: Pair<usize>, inside: &Inside) {
    let (was, now) = (&plans.was.job.rooms[rooms.was], &plans.now.job.rooms[rooms.now]);
    let cloth = (&plans.was.job.cloths[was.cloth], &plans.now.job.cloths[now.cloth]);
    let other_cloth =
        cloth.0.name != cloth.1.name || facts::goods::cloth(cloth.0) != facts::goods::cloth(cloth.1);
    for (pair, on_wall) in &inside.walls {
        let Some(index) = pair.now else { continue };
        let at = WallRef { room: rooms.now, wall: index };
        let Some(old) = pair.was else {
            told.push(whole(plans.now, at, "new wall"));
            continue;
        };
        if other_cloth {
            told.push(whole(plans.now, at, "cloth"));
            continue;
        }
        let walls = Pair::new(&was.walls[old], &now.walls[index]);
        let mut tell = |what: String, area: Rect| told.push(ChangedPlace { wall: at, what, area });
        edges(walls, &mut tell);
        things(walls, on_wall, &mut tell);
        let beside = [
            (now.corners.get(index), Length::ZERO),
            (now.corners.get(now.right_corner(index)), walls.now.width),
        ];
        for (corner, x) in beside {
            let Some(corner) = corner else { continue };
            if corner_changed(corner, &was.corners, &now.corners, inside) {
                tell(format!("corner {}", corner.name), upright(walls.now, x));
            }
        }
    }
}

fn corner_changed(corner: &Corner, was: &[Corner], now: &[Corner], inside: &Inside) -> bool {
    let pair = inside.corners.iter().find(|pair| pair.now.is_some_and(|at| now[at].name == corner.name));
    let before = pair.and_then(|pair| pair.was).map(|at| facts::room::corner(&was[at]));
    before.is_some_and(|before| before != facts::room::corner(corner))
}

/// The height of the wall at a place along it.
fn upright(wall: &Wall, x: Length) -> Rect {
    Rect::new(x, wall.floor.at(x), x, wall.ceiling.at(x))
}

/// From end to end of the wall along a line.
fn along(wall: &Wall, line: &Profile) -> Rect {
    let (low, high) =
        (line.min_between(Length::ZERO, wall.width), line.max_between(Length::ZERO, wall.width));
    Rect::new(Length::ZERO, low, wall.width, high)
}

fn edges(walls: Pair<&Wall>, tell: &mut impl FnMut(String, Rect)) {
    let Pair { was, now } = walls;
    let widths = |wall: &Wall| (wall.width, wall.width_top, wall.width_bottom, wall.lean);
    if widths(was) != widths(now) {
        tell("width".into(), upright(now, now.width));
    }
    // A wall that is only wider has the same height all the same, if it is level.
    let same = |a: &Profile, b: &Profile| {
        a == b
            || (a.points().len() == 2
                && b.points().len() == 2
                && a.points()[0].y == b.points()[0].y
                && a.points()[1].y == b.points()[1].y)
    };
    let same_or_none = |a: Option<&Profile>, b: Option<&Profile>| match (a, b) {
        (Some(a), Some(b)) => same(a, b),
        (None, None) => true,
        _ => false,
    };
    if !same(&was.ceiling, &now.ceiling) || was.crown != now.crown {
        tell("top".into(), along(now, &now.ceiling));
    }
    if !same(&was.floor, &now.floor) || was.base != now.base {
        tell("bottom".into(), along(now, &now.floor));
    }
    if !same_or_none(was.dado.as_ref(), now.dado.as_ref()) {
        tell("dado".into(), along(now, &now.field_bottom()));
    }
    if !same_or_none(was.rail.as_ref(), now.rail.as_ref()) {
        tell("rail".into(), along(now, &now.field_top()));
    }
    if was.clothed != now.clothed || was.substrate != now.substrate {
        let area = Rect { x1: now.width, ..upright(now, Length::ZERO) };
        tell("wall".into(), area);
    }
    for service in now.services.iter().filter(|service| !was.services.contains(service)) {
        tell(
            service.kind.word().to_owned(),
            Rect::new(service.from.x, service.from.y, service.to.x, service.to.y),
        );
    }
    for stretch in now.no_seam.iter().filter(|stretch| !was.no_seam.contains(stretch)) {
        let (from, to) = *stretch;
        tell("no seam".into(), Rect::new(from, now.field_bottom().at(from), to, now.field_top().at(to)));
    }
}

fn things(walls: Pair<&Wall>, on_wall: &OnWall, tell: &mut impl FnMut(String, Rect)) {
    let within = |area: Rect| {
        let width = walls.now.width;
        Rect { x0: area.x0.min(width), x1: area.x1.min(width), ..area }
    };
    for pair in &on_wall.openings {
        let was = pair.was.map(|at| &walls.was.openings[at]);
        let now = pair.now.map(|at| &walls.now.openings[at]);
        let told = |wall: &Wall, opening| facts::wall::opening(opening, wall);
        match (was, now) {
            (Some(was), Some(now)) if told(walls.was, was) == told(walls.now, now) => {}
            (_, Some(now)) => tell(now.label.clone(), now.outer),
            (Some(was), None) => tell(was.label.clone(), within(was.outer)),
            (None, None) => {}
        }
    }
    for pair in &on_wall.fixings {
        let was = pair.was.map(|at| &walls.was.fixings[at]);
        let now = pair.now.map(|at| &walls.now.fixings[at]);
        let told = |wall: &Wall, fixing| facts::wall::fixing(fixing, wall);
        match (was, now) {
            (Some(was), Some(now)) if told(walls.was, was) == told(walls.now, now) => {}
            (_, Some(now)) => tell(now.label.clone(), now.rect),
            (Some(was), None) => tell(was.label.clone(), within(was.rect)),
            (None, None) => {}
        }
    }
}
