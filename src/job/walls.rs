//! Walls: widths, heights and mouldings, as profiles over the wall.

use super::ctx::{Ctx, Range, inches};
use super::defaults::{self, COMMON};
use super::facts::short;
use super::model::{CrossChecks, Moulding, Substrate, Wall};
use super::openings;
use super::places::WallPlaces;
use super::{services, square, stretches};
use crate::diag::Diag;
use crate::geom::{Point, Profile};
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

const WIDTH: Range = inches(2 * 64, 200 * 12);
const HEIGHT: Range = inches(6 * 64, 60 * 12);
const FLOOR: Range = Range { least: Length::inches(-24), most: Length::inches(24) };
/// A floor that a stair climbs or goes down along the wall.
const STAIR: Range = Range { least: Length::feet(-30), most: Length::feet(30) };
const EDGE: Range = Range { least: Length::ZERO, most: Length::inches(60 * 12) };
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
            Profile::level(width, Length::ZERO)
        }
        Some(floor) if floor.prop::<bool>("stair").ok().is_some_and(|stair| stair.value) => {
            profile(ctx, floor, width, "the stair", STAIR)
        }
        Some(floor) => of_storey(ctx, floor, width),
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
    let rail = edge(ctx, room, node, width, "rail");
    let dado = edge(ctx, room, node, width, "dado");
    let soffits = stretches::raised(ctx, node, width, "soffit");
    let platforms = stretches::raised(ctx, node, width, "platform");
    let (rail, dado, soffits, platforms) = (rail?, dado?, soffits?, platforms?);
    if !soffits.is_empty() && crown.height > Length::ZERO {
        ctx.note("The crown runs on along the underside of a soffit.", COMMON);
    }
    // All heights are taken from the floor beside a platform; a dado follows it, a rail does not.
    let rail = rail.map(|rail| floor.plus(&rail));
    let ceiling = soffits.iter().fold(floor.plus(&heights), |line, (span, by)| line.stepped(*span, -*by));
    let floor = platforms.iter().fold(floor, |line, (span, by)| line.stepped(*span, *by));
    let dado = dado.map(|dado| floor.plus(&dado));
    let no_seam = stretches::no_seam(ctx, node, width, clothed)?;
    let mut wall = Wall {
        label: label?,
        name: name?,
        clothed,
        width,
        width_top,
        width_bottom,
        lean: Length::ZERO,
        ceiling,
        floor,
        crown,
        base,
        dado,
        rail,
        substrate: substrate?,
        openings: Vec::new(),
        fixings: Vec::new(),
        services: Vec::new(),
        no_seam,
        cross_checks: CrossChecks::default(),
    };
    let at = node.name;
    let edge_place = |name: &str| node.child(name).or_else(|| room.child(name)).map_or(at, |edge| edge.head);
    if !has_field(ctx, &wall, at, edge_place) {
        return None;
    }
    wall.lean = square::lean(ctx, node, &wall)?;
    wall.services = services::services(ctx, node, &wall)?;
    let (wall, openings, fixings) = openings::fill(ctx, room, node, wall, labels)?;
    let place = |node: Option<&Node>| node.map_or(at, |node| node.head);
    let height = place(node.child("height").or_else(|| room.child("height")));
    let (width, floor) = (place(node.child("width")), place(node.child("floor")));
    Some((wall, WallPlaces { name: at, width, height, floor, openings, fixings }))
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

/// A floor that lies near the datum, as all do but stairs and landings.
fn of_storey(ctx: &mut Ctx, floor: &Node, width: Length) -> Option<Profile> {
    let line = profile(ctx, floor, width, "the floor", STAIR)?;
    let far = line.points().iter().find(|p| !(FLOOR.least..=FLOOR.most).contains(&p.y));
    let Some(far) = far else { return Some(line) };
    let message = format!("the floor lies {} from the datum", ctx.show(far.y.abs()));
    let help = "if it belongs to a stair or a landing, add stair=yes; else check the figure and its unit";
    ctx.error("absurd-length", floor.head, message, help);
    None
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
            return Profile::level(width, y);
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

/// The height of a dado or a rail above the floor, a wall's own or its room's: `Some(None)` where there is
/// none, or the wall says 0.
fn edge(ctx: &mut Ctx, room: &Node, wall: &Node, width: Length, name: &str) -> Option<Option<Profile>> {
    let Some(node) = wall.child(name).or_else(|| room.child(name)) else { return Some(None) };
    let line = profile(ctx, node, width, &format!("the height of the {name}"), EDGE)?;
    let none = line.points().iter().all(|p| p.y == Length::ZERO);
    Some((!none).then_some(line))
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

/// Whether there is wall left between floor and ceiling, and on it a field for the cloth; `edge` gives the
/// place of a dado or a rail.
fn has_field(ctx: &mut Ctx, wall: &Wall, place: Span, edge: impl Fn(&str) -> Span) -> bool {
    let (top, bottom) = (wall.field_top(), wall.field_bottom());
    let lost = |edge: &Option<Profile>, none: Profile, field: &Profile| edge.is_some() && *field == none;
    if lost(&wall.rail, wall.crown_line(), &top) {
        let help = "check the height and the rail; a wall without one says rail 0";
        let message = "the rail lies nowhere below the underside of the crown";
        ctx.error("edge-in-moulding", edge("rail"), message, help);
        return false;
    }
    if lost(&wall.dado, wall.base_line(), &bottom) {
        let help = "check the base and the dado; a wall without one says dado 0";
        let message = "the top of the dado lies nowhere above the top of the base";
        ctx.error("edge-in-moulding", edge("dado"), message, help);
        return false;
    }
    let (least, what) = if wall.clothed {
        (top.least_above(&bottom), "the edges of the cloth")
    } else {
        (wall.ceiling.least_above(&wall.floor), "floor and ceiling")
    };
    if least >= LEAST_FIELD {
        return true;
    }
    let plain = wall.rail.is_none() && wall.dado.is_none();
    let what = if wall.clothed && plain { "crown and base" } else { what };
    let message = format!("{what} leave less than {} of wall between them", ctx.show(LEAST_FIELD));
    ctx.error("no-field", place, message, "check the height, the crown and the base");
    false
}
