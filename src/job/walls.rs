//! Walls: widths, heights and mouldings, as profiles over the wall.

use super::ctx::{Ctx, Range, inches};
use super::defaults::{self, COMMON};
use super::facts::short;
use super::model::{Moulding, Substrate, Wall};
use super::openings;
use super::places::WallPlaces;
use super::services;
use super::stretches;
use crate::diag::Diag;
use crate::geom::{Point, Profile};
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

const WIDTH: Range = inches(2 * 64, 200 * 12);
const HEIGHT: Range = inches(6 * 64, 60 * 12);
const FLOOR: Range = Range { least: Length::inches(-24), most: Length::inches(24) };
const MOULDING: Range = inches(0, 48);

/// The lowest field that cloth can be hung on.
const LEAST_FIELD: Length = Length::inches(1);

/// Reads a wall of `room`; `labels` are the labels of openings and fixings taken so far.
pub(super) fn wall(
    ctx: &mut Ctx,
    room: &Node,
    node: &Node,
    labels: &mut openings::Labels,
) -> Option<(Wall, WallPlaces)> {
    let label = node.arg::<String>(0).ok().and_then(|label| short(ctx, label, "the wall's label", 4));
    let name = match node.arg::<String>(1) {
        Given::Absent => Some(String::new()),
        Given::Bad => None,
        Given::Is(name) => short(ctx, name, "the wall's name", 30),
    };
    let widths = node.child("width").and_then(|width| widths(ctx, width));
    let crown = moulding(ctx, room, node, "crown");
    let base = moulding(ctx, room, node, "base");
    let substrate = substrate(ctx, room, node);
    let clothed = !node.prop::<bool>("bare").or(|| Spanned::new(false, node.name))?.value;
    let (width, width_top, width_bottom) = widths?;
    let floor = match node.child("floor") {
        None => {
            ctx.note("Floors are level.", COMMON);
            level(width, Length::ZERO)
        }
        Some(floor) => profile(ctx, floor, width, "the floor", FLOOR),
    };
    let heights = match node.child("height").or_else(|| room.child("height")) {
        Some(height) => profile(ctx, height, width, "the height", HEIGHT),
        None if node.partial || room.partial => None,
        None => {
            ctx.error(
                "missing-height",
                node.head,
                "the wall has no height, and the room gives none",
                "add a line: height left=\"8ft 11in\" middle=\"9ft\" right=\"9ft\"",
            );
            None
        }
    };
    let (floor, heights) = (floor?, heights?);
    let (crown, base) = (crown?, base?);
    let ceiling = stacked(&floor, &heights)?;
    let no_seam = stretches::no_seam(ctx, node, width, clothed)?;
    let mut wall = Wall {
        label: label?,
        name: name?,
        clothed,
        width,
        width_top,
        width_bottom,
        ceiling,
        floor,
        crown,
        base,
        substrate: substrate?,
        openings: Vec::new(),
        fixings: Vec::new(),
        services: Vec::new(),
        no_seam,
    };
    let at = node.name;
    if !has_field(ctx, &wall, at) {
        return None;
    }
    wall.services = services::services(ctx, node, &wall)?;
    let (wall, openings, fixings) = openings::fill(ctx, room, node, wall, labels)?;
    let place = |node: Option<&Node>| node.map_or(at, |node| node.head);
    let height = place(node.child("height").or_else(|| room.child("height")));
    Some((wall, WallPlaces { name: at, width: place(node.child("width")), height, openings, fixings }))
}

/// The width on the ribbon, at the top and at the bottom.
fn widths(ctx: &mut Ctx, node: &Node) -> Option<(Length, Length, Length)> {
    let mut ranged = |given: Given<Spanned<Length>>, what: &str| match given {
        Given::Absent => Ok(None),
        Given::Bad => Err(()),
        Given::Is(length) => ctx.ranged(length, what, WIDTH).map(|_| Some(length)).ok_or(()),
    };
    let all = ranged(node.arg(0), "the wall's width");
    let top = ranged(node.prop("top"), "the wall's width at the top");
    let middle = ranged(node.prop("middle"), "the wall's width at mid height");
    let bottom = ranged(node.prop("bottom"), "the wall's width at the bottom");
    let (all, top, middle, bottom) = (all.ok()?, top.ok()?, middle.ok()?, bottom.ok()?);
    if let Some(all) = all {
        if let Some(other) = top.or(middle).or(bottom) {
            ctx.diags.push(
                Diag::error("two-answers", other.span, "the wall's width is given twice over")
                    .also(all.span, "here for every height")
                    .help("give one width, or top=, middle= and bottom="),
            );
            return None;
        }
        return Some((all.value, all.value, all.value));
    }
    let width = match (middle, top, bottom) {
        (Some(middle), _, _) => middle.value,
        (None, Some(top), Some(bottom)) => {
            let mean = (top.value + bottom.value) / 2;
            ctx.note("A width not taken at mid height is the mean of top and bottom.", COMMON);
            mean
        }
        _ if node.partial => return None,
        _ => {
            ctx.error(
                "missing-width",
                node.head,
                "the wall's width at mid height is not given",
                "write width \"12ft 3in\", or give top=, middle= and bottom=",
            );
            return None;
        }
    };
    let or = |given: Option<Spanned<Length>>| given.map_or(width, |given| given.value);
    Some((width, or(top), or(bottom)))
}

fn level(width: Length, y: Length) -> Option<Profile> {
    Profile::new(vec![Point::new(Length::ZERO, y), Point::new(width, y)])
}

/// The measures of a `height` or a `floor` node as a line over the wall.
fn profile(ctx: &mut Ctx, node: &Node, width: Length, what: &str, range: Range) -> Option<Profile> {
    let mut taken: Vec<(Length, Length, Span)> = Vec::new();
    let mut sound = true;
    let ends = [("left", Length::ZERO), ("middle", width / 2), ("right", width)];
    for (name, x) in ends {
        match node.prop::<Length>(name) {
            Given::Absent => {}
            Given::Bad => sound = false,
            Given::Is(y) => match ctx.ranged(y, &format!("{what} at the {name}"), range) {
                Some(value) => taken.push((x, value, y.span)),
                None => sound = false,
            },
        }
    }
    for at in node.children.iter().filter(|child| child.spec.name == "at") {
        let (Some(x), Some(y)) = (at.arg::<Length>(0).ok(), at.arg::<Length>(1).ok()) else {
            sound = false;
            continue;
        };
        let within = Range { least: Length::ZERO, most: width };
        match (ctx.ranged(x, "the distance from the left end", within), ctx.ranged(y, what, range)) {
            (Some(x), Some(y)) => taken.push((x, y, at.head)),
            _ => sound = false,
        }
    }
    match node.arg::<Length>(0) {
        Given::Bad => return None,
        Given::Is(all) => {
            if let Some((_, _, other)) = taken.first() {
                ctx.diags.push(
                    Diag::error("two-answers", *other, format!("{what} is given twice over"))
                        .also(all.span, "here for the whole wall")
                        .help("give one height, or several places and no height for all"),
                );
                return None;
            }
            let y = ctx.ranged(all, what, range)?;
            return level(width, y);
        }
        Given::Absent => {}
    }
    if !sound || (node.partial && taken.len() < 2) {
        return None;
    }
    taken.sort_by_key(|(x, _, _)| *x);
    if let Some(pair) = taken.windows(2).find(|pair| pair[0].0 == pair[1].0) {
        ctx.diags.push(
            Diag::error("two-answers", pair[1].2, format!("{what} is given twice at one distance"))
                .also(pair[0].2, "first here")
                .help("keep one of them"),
        );
        return None;
    }
    let ends = taken.first().is_some_and(|(x, _, _)| *x == Length::ZERO)
        && taken.last().is_some_and(|(x, _, _)| *x == width);
    if !ends {
        ctx.error(
            "missing-height-at-end",
            node.head,
            format!("{what} is not given at both ends of the wall"),
            "give one height for the whole wall, or at least left= and right=",
        );
        return None;
    }
    Profile::new(taken.into_iter().map(|(x, y, _)| Point::new(x, y)).collect())
}

/// The line that lies `heights` above `floor`, with the break points of both.
fn stacked(floor: &Profile, heights: &Profile) -> Option<Profile> {
    let mut xs: Vec<Length> = floor.points().iter().chain(heights.points()).map(|p| p.x).collect();
    xs.sort();
    xs.dedup();
    Profile::new(xs.into_iter().map(|x| Point::new(x, floor.at(x) + heights.at(x))).collect())
}

/// A wall's own moulding or its room's; none when neither gives one.
fn moulding(ctx: &mut Ctx, room: &Node, wall: &Node, name: &str) -> Option<Moulding> {
    let Some(node) = wall.child(name).or_else(|| room.child(name)) else {
        return Some(Moulding::default());
    };
    let height = ctx.ranged(node.arg(0).ok()?, &format!("the {name}"), MOULDING);
    let projection = match node.prop::<Length>("projection") {
        Given::Bad => None,
        Given::Is(out) => ctx.ranged(out, &format!("the projection of the {name}"), MOULDING),
        Given::Absent if name == "base" => Some(ctx.assume(&defaults::BASE_PROJECTION)),
        Given::Absent => {
            ctx.note("A crown stands out from the wall as far as it comes down.", defaults::MEMORY);
            height
        }
    };
    Some(Moulding { height: height?, projection: projection? })
}

fn substrate(ctx: &mut Ctx, room: &Node, wall: &Node) -> Option<Substrate> {
    let given = match wall.prop::<&'static str>("substrate") {
        Given::Absent => room.child_arg::<&'static str>("substrate"),
        given => given,
    };
    Some(match given {
        Given::Bad => return None,
        Given::Is(Spanned { value: "plaster", .. }) => Substrate::Plaster,
        Given::Is(Spanned { value: "panelling", .. }) => Substrate::Panelling,
        Given::Is(Spanned { value: "masonry", .. }) => Substrate::Masonry,
        Given::Is(_) => Substrate::Drywall,
        Given::Absent => {
            ctx.note("Walls are drywall.", COMMON);
            Substrate::Drywall
        }
    })
}

fn has_field(ctx: &mut Ctx, wall: &Wall, place: Span) -> bool {
    let (top, bottom) = (wall.field_top(), wall.field_bottom());
    let least = top.points().iter().map(|p| p.y - bottom.at(p.x)).min().unwrap_or(Length::ZERO);
    if least >= LEAST_FIELD || !wall.clothed {
        return true;
    }
    let message = format!("crown and base leave less than {} of wall between them", ctx.show(LEAST_FIELD));
    ctx.error("no-field", place, message, "check the height, the crown and the base");
    false
}
