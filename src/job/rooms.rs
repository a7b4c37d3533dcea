//! Rooms: the run, the cloth, and where the pattern may fail to meet.

use super::corners::{self, Run};
use super::ctx::Ctx;
use super::defaults::COMMON;
use super::doubts;
use super::facts::short;
use super::model::{Cloth, Corner, CornerKind, OpeningKind, Room, Wall};
use super::openings::Labels;
use super::places::{RoomPlaces, WallPlaces};
use super::registration;
use super::walls;
use crate::diag::Diag;
use crate::parse::{Given, Node, nearest};
use crate::source::{Span, Spanned};
use crate::units::Length;

/// A room and where it stands in the file.
pub(super) struct Surveyed {
    /// The room.
    pub room: Room,
    /// Its places.
    pub places: RoomPlaces,
}

/// The cloths that the file defines: their names always, their rest when it is sound.
pub type Cloths = [(Option<Spanned<String>>, Option<Cloth>)];

/// Reads a room; `partial` tells that some line of the file could not be used.
pub(super) fn room(ctx: &mut Ctx, node: &Node, cloths: &Cloths, partial: bool) -> Option<Surveyed> {
    let name = node.arg::<String>(0).ok().and_then(|name| short(ctx, name, "the room's name", 30));
    let cloth = which_cloth(ctx, node, cloths);
    let year = year(ctx, node);
    let mut labels = Labels::of(ctx, node);
    let run = corners::run(ctx, node, partial);
    let corners = run.as_ref().and_then(|run| corners::corners(ctx, run));
    // Walls are judged even when the run is broken, so that one run tells everything.
    let nodes = node.children.iter().filter(|child| child.spec.name == "wall");
    let walls: Vec<Option<(Wall, WallPlaces)>> =
        nodes.map(|wall| walls::wall(ctx, node, wall, &mut labels)).collect();
    unique_walls(ctx, node)?;
    let public = said(ctx, node, "public", "The public does not enter the room.");
    let textured = said(ctx, node, "textured", "Walls and ceiling carry no sprayed or trowelled texture.");
    let run = run?;
    let mut corners = corners?;
    if run.closed {
        corners::turns_once(ctx, &corners, node.name)?;
    }
    let walls: Vec<(Wall, WallPlaces)> = walls.into_iter().collect::<Option<_>>()?;
    let (walls, places): (Vec<Wall>, Vec<WallPlaces>) = walls.into_iter().unzip();
    if !walls.iter().any(|wall| wall.clothed) {
        ctx.error(
            "no-clothed-wall",
            node.name,
            "no wall of the room gets cloth",
            "take bare=yes off at least one wall",
        );
        return None;
    }
    corners::choose_wraps(ctx, &run, &mut corners, &walls)?;
    let cloth = cloth?;
    let hung = cloths.get(cloth).and_then(|(_, cloth)| cloth.as_ref());
    let registration = registration::wish(ctx, node, &walls, &corners, hung);
    let kill_corner = kill_corner(ctx, node, &run, &walls, &corners, hung);
    let hangs = hang_order(ctx, node, &walls)?;

    let room = Room {
        name: name?,
        cloth,
        closed: run.closed,
        corners,
        walls,
        year: year?,
        public,
        textured,
        registration: registration?,
        kill_corner: kill_corner?,
        hang_order: hangs.iter().map(|(walls, _)| *walls).collect(),
    };
    let corners: Vec<_> = run.corners.iter().map(|corner| corner.name).collect();
    doubts::tell(ctx, &room, &places);
    Some(Surveyed { room, places: RoomPlaces { name: node.name, corners, walls: places, hangs } })
}

/// A bare line of the room; its absence is an assumption that somebody should see.
fn said(ctx: &mut Ctx, room: &Node, name: &str, otherwise: &str) -> bool {
    let said = room.child(name).is_some();
    if !said {
        ctx.note(otherwise, "the job file does not say");
    }
    said
}

/// The wishes for the order in which walls are hung, each with its place.
fn hang_order(ctx: &mut Ctx, room: &Node, walls: &[Wall]) -> Option<Vec<((usize, usize), Span)>> {
    let wishes = room.children.iter().filter(|child| child.spec.name == "hang");
    wishes
        .map(|wish| {
            let first = wish.arg::<String>(0).ok()?;
            let then = wish.prop::<String>("before").ok()?;
            let named = clothed_wall(ctx, walls, &first).zip(clothed_wall(ctx, walls, &then))?;
            Some((named, wish.head))
        })
        .collect()
}

fn which_cloth(ctx: &mut Ctx, room: &Node, cloths: &Cloths) -> Option<usize> {
    match room.prop::<String>("cloth") {
        Given::Bad => None,
        Given::Absent if one_name(cloths) => Some(0),
        Given::Absent => {
            if cloths.len() > 1 {
                ctx.error(
                    "which-cloth",
                    room.name,
                    "the file has several cloths, and the room names none",
                    "add cloth=\"the cloth's name\" to the room",
                );
            }
            None
        }
        Given::Is(name) => {
            let names =
                || cloths.iter().filter_map(|(name, _)| name.as_ref().map(|name| name.value.as_str()));
            let found =
                cloths.iter().position(|(cloth, _)| cloth.as_ref().is_some_and(|c| c.value == name.value));
            if found.is_none() {
                unknown(ctx, "unknown-cloth", &name, "cloth", names());
            }
            found
        }
    }
}

/// Whether the file has one cloth, or several of one name, which is told elsewhere.
fn one_name(cloths: &Cloths) -> bool {
    let name =
        |cloth: &(Option<Spanned<String>>, Option<Cloth>)| cloth.0.as_ref().map(|name| name.value.clone());
    cloths.first().is_some_and(|first| cloths.iter().all(|cloth| name(cloth) == name(first)))
}

/// Tells a name that nothing has.
pub(super) fn unknown<'n>(
    ctx: &mut Ctx,
    code: &'static str,
    name: &Spanned<String>,
    what: &str,
    known: impl Iterator<Item = &'n str> + Clone,
) {
    let help = match nearest(&name.value, known.clone()) {
        Some(near) => format!("write {near}"),
        None => format!("it is one of {}", known.collect::<Vec<_>>().join(", ")),
    };
    ctx.error(code, name.span, format!("there is no {what} {}", name.value), help);
}

fn year(ctx: &mut Ctx, room: &Node) -> Option<u16> {
    match room.child_arg::<u32>("year") {
        Given::Bad => None,
        Given::Absent => {
            ctx.note(
                "The building's year is not known: old paint and texture are to be tested.",
                "the job file does not say",
            );
            Some(0)
        }
        Given::Is(year) if (1000..=2200).contains(&year.value) => Some(year.value as u16),
        Given::Is(year) => {
            ctx.error(
                "odd-year",
                year.span,
                format!("{} is no year of a building", year.value),
                "write four figures, such as 1921",
            );
            None
        }
    }
}

fn unique_walls(ctx: &mut Ctx, room: &Node) -> Option<()> {
    let mut seen: Vec<Spanned<String>> = Vec::new();
    let mut sound = Some(());
    for wall in room.children.iter().filter(|child| child.spec.name == "wall") {
        // A line that stands there twice, the first time with its brace never closed: that has been told.
        if wall.partial && wall.children.is_empty() {
            continue;
        }
        let Some(label) = wall.arg::<String>(0).ok() else { continue };
        if let Some(before) = seen.iter().find(|before| before.value == label.value) {
            sound = None;
            ctx.diags.push(
                Diag::error("repeated-wall", label.span, format!("wall {} is there already", label.value))
                    .also(before.span, "here")
                    .help("number the walls left to right"),
            );
        }
        seen.push(label);
    }
    sound
}

pub(super) fn clothed_wall(ctx: &mut Ctx, walls: &[Wall], label: &Spanned<String>) -> Option<usize> {
    let Some(index) = walls.iter().position(|wall| wall.label == label.value) else {
        unknown(ctx, "unknown-wall", label, "wall", walls.iter().map(|wall| wall.label.as_str()));
        return None;
    };
    if !walls[index].clothed {
        let message = format!("wall {} gets no cloth", label.value);
        ctx.error("no-cloth-there", label.span, message, "name a wall that gets cloth");
        return None;
    }
    Some(index)
}

pub(super) fn named_corner(ctx: &mut Ctx, corners: &[Corner], name: &Spanned<String>) -> Option<usize> {
    let found = corners.iter().position(|corner| corner.name == name.value);
    if found.is_none() {
        unknown(ctx, "unknown-corner", name, "corner", corners.iter().map(|corner| corner.name.as_str()));
    }
    found
}

/// The corner where the pattern may fail to meet: the one named; else beside a bare wall, where
/// nothing has to meet; else the inside corner nearest to a door; else the lowest inside corner.
fn kill_corner(
    ctx: &mut Ctx,
    room: &Node,
    run: &Run,
    walls: &[Wall],
    corners: &[Corner],
    cloth: Option<&Cloth>,
) -> Option<usize> {
    match room.child_arg::<String>("kill-corner") {
        Given::Bad => return None,
        Given::Is(name) if !run.closed => {
            ctx.error(
                "kill-corner-of-open-run",
                name.span,
                "an open run has no corner where the pattern must meet itself",
                "leave kill-corner out",
            );
            return None;
        }
        Given::Is(name) => return named_corner(ctx, corners, &name),
        Given::Absent => {}
    }
    if !run.closed {
        return Some(0);
    }
    let count = walls.len();
    let (corner, why, source) = match after_bare_wall(walls) {
        Some(corner) => (corner, "beside a wall without cloth", "derived: nothing has to meet there"),
        None => match nearest_to_door(walls, corners) {
            Some(corner) => (
                corner,
                "the corner nearest to a door",
                "published guides: behind a door is where a mismatch is least seen",
            ),
            None => {
                let height = |i: usize| walls[i % count].ceiling.at(Length::ZERO);
                let inside = (0..count).filter(|&i| corners[i].kind == CornerKind::Inside);
                let lowest = inside.min_by_key(|&i| height(i)).unwrap_or(0);
                (lowest, "the lowest corner", COMMON)
            }
        },
    };
    if cloth.is_some_and(|cloth| cloth.pattern.is_some()) {
        let name = &corners[corner].name;
        ctx.note(format!("Where the pattern fails to meet, it does so at corner {name}: {why}."), source);
    }
    Some(corner)
}

fn after_bare_wall(walls: &[Wall]) -> Option<usize> {
    let count = walls.len();
    (0..count).find(|&i| walls[i].clothed && !walls[(i + count - 1) % count].clothed)
}

fn nearest_to_door(walls: &[Wall], corners: &[Corner]) -> Option<usize> {
    let mut best: Option<(Length, usize)> = None;
    for (i, wall) in walls.iter().enumerate() {
        for door in wall.openings.iter().filter(|opening| opening.kind == OpeningKind::Door) {
            let right = (i + 1) % walls.len();
            for (distance, corner) in [(door.outer.x0, i), (wall.width - door.outer.x1, right)] {
                let inside = corners[corner].kind == CornerKind::Inside;
                if inside && best.is_none_or(|(least, _)| distance < least) {
                    best = Some((distance, corner));
                }
            }
        }
    }
    best.map(|(_, corner)| corner)
}
