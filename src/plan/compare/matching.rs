//! Which room, wall, corner, opening and cloth of the new issue is which of the old one.
//!
//! Names decide first. Walls are then matched in their order, by label, name, width and all else that is
//! measured of them, so that a wall put in between shifts the numbers of the others and nothing more.

use std::collections::BTreeMap;

use super::super::model::Pair;
use super::facts::{self, Fact, likeness};
use super::sequence::{Matched, matched, matched_between, matched_rings};
use crate::job::model::{Fixing, Job, Opening, Room, Wall};
use crate::units::Length;

/// Rooms of other names are one room only where at least so much is alike, in thousandths.
const SAME_ROOM: i64 = 600;
/// A closed room of more walls is taken to start where it did.
const MOST_TURNED: usize = 64;
/// Walls that neither label nor name says are one are only where they are as alike as this.
const SAME_WALL: i64 = 1_500;

/// What is what in two issues of a job; members of a list that only one issue has stand in it too.
#[derive(Clone, Debug)]
pub struct Matching {
    /// The cloths.
    pub cloths: Matched,
    /// The rooms, and what is in those that both issues have.
    pub rooms: Vec<(Pair<Option<usize>>, Option<Inside>)>,
}

/// What is what in a room.
#[derive(Clone, Debug)]
pub struct Inside {
    /// The walls, and what is on those that both issues have.
    pub walls: Vec<(Pair<Option<usize>>, OnWall)>,
    /// The corners.
    pub corners: Matched,
}

/// What is what on a wall.
#[derive(Clone, Debug, Default)]
pub struct OnWall {
    /// The openings.
    pub openings: Matched,
    /// The boxes and fittings.
    pub fixings: Matched,
}

/// Finds what is what.
pub fn matching(jobs: Pair<&Job>) -> Matching {
    let cloths = cloths(jobs);
    let rooms = rooms(jobs).into_iter().map(|pair| {
        let inside = match (pair.was, pair.now) {
            (Some(was), Some(now)) => Some(inside(Pair::new(&jobs.was.rooms[was], &jobs.now.rooms[now]))),
            _ => None,
        };
        (pair, inside)
    });
    Matching { rooms: rooms.collect(), cloths }
}

/// Members matched by name, whatever their order; then those left by `alike`, in order.
fn by_name(names: Pair<&[String]>, alike: impl Fn(usize, usize) -> bool) -> Matched {
    let mut pairs: Matched = Vec::new();
    let mut gone = Vec::new();
    let mut left: Vec<usize> = (0..names.now.len()).collect();
    for (i, name) in names.was.iter().enumerate() {
        match left.iter().position(|&j| names.now[j] == *name) {
            Some(at) => pairs.push(Pair::new(Some(i), Some(left.remove(at)))),
            None => gone.push(i),
        }
    }
    for i in gone {
        let at = left.iter().position(|&j| alike(i, j));
        pairs.push(Pair::new(Some(i), at.map(|at| left.remove(at))));
    }
    pairs.extend(left.into_iter().map(|j| Pair::new(None, Some(j))));
    // In the order of the old issue, what is new behind.
    pairs.sort_by_key(|pair| (pair.was.is_none(), pair.was, pair.now));
    pairs
}

fn cloths(jobs: Pair<&Job>) -> Matched {
    let names = jobs.map(|job| job.cloths.iter().map(|cloth| cloth.name.clone()).collect::<Vec<_>>());
    let only = jobs.was.cloths.len() == 1 && jobs.now.cloths.len() == 1;
    let alike = |i: usize, j: usize| {
        only || facts::goods::cloth(&jobs.was.cloths[i]) == facts::goods::cloth(&jobs.now.cloths[j])
    };
    by_name(Pair::new(&names.was, &names.now), alike)
}

fn rooms(jobs: Pair<&Job>) -> Matched {
    let names = jobs.map(|job| job.rooms.iter().map(|room| room.name.clone()).collect::<Vec<_>>());
    let alike = |i: usize, j: usize| {
        let rooms = Pair::new(&jobs.was.rooms[i], &jobs.now.rooms[j]);
        // Rooms of which not even the widths agree are soon told apart.
        let widths = rooms.was.walls.iter().zip(&rooms.now.walls).filter(|(was, now)| was.width == now.width);
        if rooms.was.walls.len() != rooms.now.walls.len() || widths.count() * 2 < rooms.was.walls.len() {
            return false;
        }
        let walls = walls(rooms).1;
        let both = walls.iter().filter(|pair| pair.was.is_some() && pair.now.is_some());
        let alike: i64 = both.map(|pair| wall_alike(rooms, pair)).sum();
        alike >= SAME_ROOM * walls.len() as i64
    };
    by_name(Pair::new(&names.was, &names.now), alike)
}

/// How alike two matched walls are, in thousandths.
fn wall_alike(rooms: Pair<&Room>, pair: &Pair<Option<usize>>) -> i64 {
    let wall =
        |room: &Room, index: Option<usize>| index.map_or(Vec::new(), |index| all_facts(&room.walls[index]));
    likeness(&wall(rooms.was, pair.was), &wall(rooms.now, pair.now))
}

/// Everything that is measured of a wall and of what is on it.
fn all_facts(wall: &Wall) -> Vec<Fact> {
    let mut all = facts::wall::wall(wall);
    all.extend(wall.openings.iter().flat_map(|opening| facts::wall::opening(opening, wall)));
    all.extend(wall.fixings.iter().flat_map(|fixing| facts::wall::fixing(fixing, wall)));
    all
}

/// The walls of a room, and the new wall that it is taken to start at.
fn walls(rooms: Pair<&Room>) -> (usize, Matched) {
    let told = rooms.map(|room| room.walls.iter().map(all_facts).collect::<Vec<_>>());
    let alike = |i: usize, j: usize| {
        let (was, now) = (&rooms.was.walls[i], &rooms.now.walls[j]);
        let label = was.label == now.label;
        let name = !was.name.is_empty() && was.name == now.name;
        let (narrow, wide) = (was.width.min(now.width), was.width.max(now.width));
        let measured = likeness(&told.was[i], &told.now[j])
            + narrow.scale(800, wide.max(Length::nanometres(1)).nm()).nm();
        let sum = measured + if label { 300 } else { 0 } + if name { 500 } else { 0 };
        if label || name || measured >= SAME_WALL { sum } else { 0 }
    };
    let names = rooms.map(|room| room.walls.iter().map(|wall| wall.label.clone()).collect::<Vec<_>>());
    let names = Pair::new(names.was.as_slice(), names.now.as_slice());
    let same = |i: usize, j: usize| {
        let (was, now) = (&rooms.was.walls[i], &rooms.now.walls[j]);
        was.label == now.label && was.name == now.name && told.was[i] == told.now[j]
    };
    let ends = (0..told.was.len().min(told.now.len())).any(|n| same(n, n));
    let few = told.was.len().max(told.now.len()) <= MOST_TURNED;
    if rooms.was.closed && rooms.now.closed && few && !ends {
        let sums: Vec<Vec<i64>> =
            (0..told.was.len()).map(|i| (0..told.now.len()).map(|j| alike(i, j)).collect()).collect();
        matched_rings(names, |i, j| sums[i][j])
    } else {
        (0, matched_between(names, same, alike))
    }
}

fn inside(rooms: Pair<&Room>) -> Inside {
    let (start, walls) = walls(rooms);
    let corners = corners(rooms, &walls, start);
    let on_wall = |pair: Pair<Option<usize>>| match (pair.was, pair.now) {
        (Some(was), Some(now)) => on_wall(Pair::new(&rooms.was.walls[was], &rooms.now.walls[now])),
        _ => OnWall::default(),
    };
    Inside { walls: walls.into_iter().map(|pair| (pair, on_wall(pair))).collect(), corners }
}

/// The corners, by their names and the walls beside them.
fn corners(rooms: Pair<&Room>, walls: &Matched, start: usize) -> Matched {
    let found: BTreeMap<usize, usize> =
        walls.iter().filter_map(|pair| Some((pair.was?, pair.now?))).collect();
    let same = |was: usize, now: usize| found.get(&was) == Some(&now);
    let count = rooms.now.corners.len().max(1);
    let turned = |j: usize| if rooms.now.closed { (j + start) % count } else { j };
    let beside = |room: &Room, corner: usize| {
        let before = if room.closed {
            (corner + room.walls.len() - 1) % room.walls.len()
        } else {
            corner.wrapping_sub(1)
        };
        (before, corner)
    };
    let alike = |i: usize, j: usize| {
        let j = turned(j);
        let (was, now) = (&rooms.was.corners[i], &rooms.now.corners[j]);
        let (was_at, now_at) = (beside(rooms.was, i), beside(rooms.now, j));
        let left = same(was_at.0, now_at.0);
        let right = same(was_at.1, now_at.1);
        let name = was.name == now.name;
        let kind = was.kind == now.kind;
        if !(name || left || right) {
            return 0;
        }
        i64::from(name) * 3 + i64::from(kind) + i64::from(left) * 2 + i64::from(right) * 2
    };
    let was: Vec<String> = rooms.was.corners.iter().map(|corner| corner.name.clone()).collect();
    let now: Vec<String> =
        (0..rooms.now.corners.len()).map(|j| rooms.now.corners[turned(j)].name.clone()).collect();
    // All that can be alike of two corners.
    let pairs = matched_between(Pair::new(&was, &now), |i, j| alike(i, j) == 8, alike);
    pairs.into_iter().map(|pair| Pair { now: pair.now.map(turned), ..pair }).collect()
}

fn on_wall(walls: Pair<&Wall>) -> OnWall {
    let openings = walls.map(|wall| wall.openings.as_slice());
    let fixings = walls.map(|wall| wall.fixings.as_slice());
    let opening_like = |i: usize, j: usize| {
        let (was, now): (&Opening, &Opening) = (&openings.was[i], &openings.now[j]);
        let facts = likeness(&facts::wall::opening(was, walls.was), &facts::wall::opening(now, walls.now));
        alike(was.label == now.label, was.kind == now.kind, facts)
    };
    let fixing_like = |i: usize, j: usize| {
        let (was, now): (&Fixing, &Fixing) = (&fixings.was[i], &fixings.now[j]);
        let facts = likeness(&facts::wall::fixing(was, walls.was), &facts::wall::fixing(now, walls.now));
        alike(was.label == now.label, was.kind == now.kind, facts)
    };
    let labels = openings.map(|all| all.iter().map(|opening| opening.label.clone()).collect::<Vec<_>>());
    let openings = matched(Pair::new(&labels.was, &labels.now), opening_like);
    let labels = fixings.map(|all| all.iter().map(|fixing| fixing.label.clone()).collect::<Vec<_>>());
    OnWall { openings, fixings: matched(Pair::new(&labels.was, &labels.now), fixing_like) }
}

/// How alike two things on a wall are, given how much of what is measured of them is, in thousandths.
/// Things of two kinds are never one.
fn alike(label: bool, kind: bool, facts: i64) -> i64 {
    let enough = kind && (label || facts >= 600);
    if enough { facts + if label { 500 } else { 0 } } else { 0 }
}

/// Numbers for the parts of one issue, which are equal in both exactly where the parts are the same.
#[derive(Clone, Debug, Default)]
pub struct Ids {
    cloths: BTreeMap<usize, String>,
    walls: BTreeMap<(usize, usize), String>,
    corners: BTreeMap<(usize, usize), String>,
    openings: BTreeMap<(usize, usize, usize), String>,
}

impl Ids {
    /// The numbers of either issue.
    pub fn of(matching: &Matching, jobs: Pair<&Job>) -> Pair<Ids> {
        Pair::new(
            Ids::side(matching, jobs.was, |pair| pair.was),
            Ids::side(matching, jobs.now, |pair| pair.now),
        )
    }

    fn side(matching: &Matching, job: &Job, side: impl Fn(&Pair<Option<usize>>) -> Option<usize>) -> Ids {
        let mut ids = Ids::default();
        for (n, pair) in matching.cloths.iter().enumerate() {
            ids.cloths.extend(side(pair).map(|cloth| (cloth, n.to_string())));
        }
        for (number, (rooms, inside)) in matching.rooms.iter().enumerate() {
            let Some(room) = side(rooms) else { continue };
            let Some(inside) = inside else {
                // All of it is of this issue only.
                let walls = 0..job.rooms[room].walls.len();
                ids.walls.extend(walls.map(|wall| ((room, wall), format!("{number}, alone, {wall}"))));
                continue;
            };
            for (n, (pair, on_wall)) in inside.walls.iter().enumerate() {
                let Some(wall) = side(pair) else { continue };
                ids.walls.insert((room, wall), format!("{number}, wall {n}"));
                let openings = on_wall.openings.iter().enumerate();
                ids.openings.extend(
                    openings.filter_map(|(m, pair)| Some(((room, wall, side(pair)?), m.to_string()))),
                );
            }
            for (n, pair) in inside.corners.iter().enumerate() {
                ids.corners
                    .extend(side(pair).map(|corner| ((room, corner), format!("{number}, corner {n}"))));
            }
        }
        ids
    }

    /// Of a cloth.
    pub fn cloth(&self, cloth: usize) -> String {
        self.cloths.get(&cloth).cloned().unwrap_or_default()
    }

    /// Of a wall.
    pub fn wall(&self, room: usize, wall: usize) -> String {
        self.walls.get(&(room, wall)).cloned().unwrap_or_default()
    }

    /// Of a corner.
    pub fn corner(&self, room: usize, corner: usize) -> String {
        self.corners.get(&(room, corner)).cloned().unwrap_or_default()
    }

    /// Of an opening on its wall.
    pub fn opening(&self, room: usize, wall: usize, opening: usize) -> String {
        self.openings.get(&(room, wall, opening)).cloned().unwrap_or_default()
    }
}
