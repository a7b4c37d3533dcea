//! Where the pattern starts in a room.

use super::ctx::{Ctx, Range};
use super::defaults::COMMON;
use super::model::{AcrossWish, Cloth, ClothHang, Corner, RegistrationWish, Wall};
use super::rooms::{clothed_wall, named_corner, unknown};
use crate::diag::Diag;
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

/// The properties that place the pattern across; one of them at most.
const ACROSS: [&str; 5] = ["motif-on", "seam-on", "motif-at", "from-corner", "line-on"];

/// The wish of a room's `pattern` line, or the customary one.
pub(super) fn wish(
    ctx: &mut Ctx,
    room: &Node,
    walls: &[Wall],
    corners: &[Corner],
    cloth: Option<&Cloth>,
) -> Option<RegistrationWish> {
    let node = room.child("pattern");
    let across = match node {
        Some(node) => across(ctx, node, walls, corners, cloth)?,
        None => None,
    };
    let patterned = cloth.is_some_and(|cloth| cloth.pattern.is_some());
    let across = across.unwrap_or_else(|| widest(ctx, walls, patterned));
    let below_crown = below_crown(ctx, node, walls, cloth)?;
    Some(RegistrationWish { across, below_crown })
}

/// A motif on the widest wall, the first of the widest.
fn widest(ctx: &mut Ctx, walls: &[Wall], patterned: bool) -> AcrossWish {
    let clothed = walls.iter().enumerate().filter(|(_, wall)| wall.clothed);
    // `max_by_key` would take the last.
    let widest = clothed.rev().max_by_key(|(_, wall)| wall.width).map_or(0, |(i, _)| i);
    if patterned {
        ctx.note(format!("A motif is centred on wall {}, the widest.", walls[widest].label), COMMON);
    }
    AcrossWish::MotifCentred(widest)
}

/// What the line says of the pattern across: `Some(None)` when nothing.
fn across(
    ctx: &mut Ctx,
    node: &Node,
    walls: &[Wall],
    corners: &[Corner],
    cloth: Option<&Cloth>,
) -> Option<Option<AcrossWish>> {
    let mut said: Vec<(&str, Span)> = Vec::new();
    let mut label = None;
    for name in ACROSS {
        match node.prop::<String>(name) {
            Given::Bad => return None,
            Given::Absent => {}
            Given::Is(given) => {
                said.push((name, given.span));
                label = label.or(Some(given));
            }
        }
    }
    match node.prop::<bool>("least-cloth") {
        Given::Bad => return None,
        Given::Is(Spanned { value: true, span }) => said.push(("least-cloth", span)),
        Given::Is(_) | Given::Absent => {}
    }
    if let [(_, first), (_, second), ..] = said[..] {
        ctx.diags.push(
            Diag::error("two-answers", second, "the pattern's start is given twice over")
                .also(first, "first here")
                .help("keep one of motif-on=, seam-on=, motif-at=, from-corner=, line-on= and least-cloth="),
        );
        return None;
    }
    let from_left = match node.prop::<Length>("from-left") {
        Given::Bad => return None,
        Given::Is(place) => Some(place),
        Given::Absent => None,
    };
    let name = said.first().map(|(name, _)| *name);
    if let (Some(place), false) = (from_left, name == Some("line-on")) {
        ctx.error(
            "missing-property",
            place.span,
            "from-left says where a match line stands, and no wall is named for it",
            "add line-on= with the wall's label, or take from-left= out",
        );
        return None;
    }
    Some(Some(match (name, label) {
        (Some("least-cloth"), _) => {
            has_pattern(ctx, cloth, said[0].1, "least-cloth=")?;
            AcrossWish::LeastCloth
        }
        (Some("motif-on"), Some(wall)) => AcrossWish::MotifCentred(clothed_wall(ctx, walls, &wall)?),
        (Some("seam-on"), Some(wall)) => AcrossWish::SeamCentred(clothed_wall(ctx, walls, &wall)?),
        (Some("motif-at"), Some(opening)) => {
            has_pattern(ctx, cloth, opening.span, "motif-at=")?;
            on_opening(ctx, walls, &opening)?
        }
        (Some("from-corner"), Some(corner)) => from_corner(ctx, walls, corners, &corner)?,
        (Some("line-on"), Some(wall)) => line_on(ctx, walls, &wall, from_left)?,
        _ => return Some(None),
    }))
}

fn on_opening(ctx: &mut Ctx, walls: &[Wall], label: &Spanned<String>) -> Option<AcrossWish> {
    for (wall, shape) in walls.iter().enumerate() {
        let Some(opening) = shape.openings.iter().position(|o| o.label == label.value) else { continue };
        if !shape.clothed {
            let message = format!("{} is in wall {}, which gets no cloth", label.value, shape.label);
            ctx.error("no-cloth-there", label.span, message, "name an opening in a wall that gets cloth");
            return None;
        }
        return Some(AcrossWish::MotifOnOpening { wall, opening });
    }
    let known = walls.iter().flat_map(|wall| &wall.openings).map(|opening| opening.label.as_str());
    unknown(ctx, "unknown-opening", label, "opening", known);
    None
}

fn from_corner(
    ctx: &mut Ctx,
    walls: &[Wall],
    corners: &[Corner],
    corner: &Spanned<String>,
) -> Option<AcrossWish> {
    let index = named_corner(ctx, corners, corner)?;
    if walls.get(index).is_some_and(|wall| wall.clothed) {
        return Some(AcrossWish::FromCorner(index));
    }
    let message = format!("no cloth starts at corner {}", corner.value);
    ctx.error("no-cloth-there", corner.span, message, "name a corner that has a clothed wall at its right");
    None
}

fn line_on(
    ctx: &mut Ctx,
    walls: &[Wall],
    label: &Spanned<String>,
    from_left: Option<Spanned<Length>>,
) -> Option<AcrossWish> {
    let wall = clothed_wall(ctx, walls, label)?;
    let Some(place) = from_left else {
        ctx.error(
            "missing-property",
            label.span,
            "line-on does not say where on the wall the match line stands",
            "add from-left= with the distance from the wall's left end",
        );
        return None;
    };
    let on_wall = Range { least: Length::ZERO, most: walls[wall].width };
    let from_left = ctx.ranged(place, "the distance from the left end", on_wall)?;
    Some(AcrossWish::LineOn { wall, from_left })
}

/// From the highest point of the room's field down to the centre of the first whole motif.
///
/// A motif is taken to fill its repeat, from half a vertical repeat above its centre to half below,
/// since a job tells no more of it. So it is whole at a crown when its centre stands half a repeat
/// below the highest point of the field there.
fn below_crown(ctx: &mut Ctx, node: Option<&Node>, walls: &[Wall], cloth: Option<&Cloth>) -> Option<Length> {
    let below = node.map_or(Given::Absent, |node| node.prop::<Length>("below-crown"));
    let whole = node.map_or(Given::Absent, |node| node.prop::<String>("whole-on"));
    match (below, whole, cloth.and_then(up_the_wall)) {
        (Given::Bad, ..) | (_, Given::Bad, _) => None,
        (Given::Is(below), Given::Is(whole), _) => {
            ctx.diags.push(
                Diag::error("two-answers", whole.span, "the pattern's height is given twice over")
                    .also(below.span, "first here")
                    .help("keep below-crown= or whole-on=, not both"),
            );
            None
        }
        (Given::Is(below), ..) => ctx.ranged(
            below,
            "the distance below the crown",
            Range { least: Length::ZERO, most: Length::feet(60) },
        ),
        (_, Given::Is(label), up) => {
            has_pattern(ctx, cloth, label.span, "whole-on=")?;
            let wall = clothed_wall(ctx, walls, &label)?;
            Some(up.map_or(Length::ZERO, |(repeat, _)| whole_at(walls, wall, repeat)))
        }
        (_, _, Some((repeat, which))) => {
            let half = repeat / 2;
            let text =
                format!("The first motif's centre stands {} below the crown, {which}.", ctx.show(half));
            ctx.note(text, COMMON);
            Some(half)
        }
        (_, _, None) => Some(Length::ZERO),
    }
}

/// The repeat up the wall, and half of it in words; the larger when it is not decided yet which way
/// the cloth hangs. `None` for plain cloth.
fn up_the_wall(cloth: &Cloth) -> Option<(Length, &'static str)> {
    let lattice = cloth.pattern?;
    Some(match cloth.hang {
        ClothHang::Upright => (lattice.vertical, "half a repeat"),
        ClothHang::Railroaded => (lattice.horizontal, "half the repeat across the bolt"),
        ClothHang::Least => (lattice.horizontal.max(lattice.vertical), "half the larger repeat"),
    })
}

/// The distance below the highest crown of the room at which a motif is whole at the crown of `wall`;
/// `repeat` is that up the wall.
pub(crate) fn whole_at(walls: &[Wall], wall: usize, repeat: Length) -> Length {
    let top = |wall: &Wall| wall.field_top().max_between(Length::ZERO, wall.width);
    let highest = walls.iter().filter(|wall| wall.clothed).map(top).max().unwrap_or(Length::ZERO);
    (highest - top(&walls[wall]) + repeat / 2).rem_euclid(repeat)
}

/// Whether the room's cloth has a pattern, for a wish that means nothing without one.
fn has_pattern(ctx: &mut Ctx, cloth: Option<&Cloth>, span: Span, wish: &str) -> Option<()> {
    if cloth.is_some_and(|cloth| cloth.pattern.is_none()) {
        let message = format!("{wish} places a pattern, and the cloth has none");
        ctx.error("no-pattern", span, message, "leave it out, or give the cloth its repeat");
        return None;
    }
    Some(())
}
