//! Stretches of a wall, from one distance to another from its left end.

use super::ctx::{Ctx, Range, inches};
use super::openings::from_left;
use crate::diag::Diag;
use crate::parse::Node;
use crate::source::Span;
use crate::units::Length;

/// How far a soffit comes down, or a platform goes up.
const STEP: Range = inches(16, 30 * 12);
const WIDTH: Range = inches(64, 200 * 12);

/// A stretch and by how much the ceiling comes down, or the floor goes up, over it.
pub(super) type Raised = ((Length, Length), Length);

/// The soffits or the platforms of a wall, left to right; `None` when a line about them is wrong.
pub(super) fn raised(ctx: &mut Ctx, wall: &Node, width: Length, name: &str) -> Option<Vec<Raised>> {
    let lines: Vec<&Node> = wall.children.iter().filter(|child| child.spec.name == name).collect();
    let mut found: Vec<(Raised, Span)> = Vec::new();
    let mut sound = true;
    for node in lines {
        match one(ctx, node, width) {
            Some(raised) => found.push((raised, node.head)),
            None => sound = false,
        }
    }
    found.sort_by_key(|((span, _), place)| (*span, place.start));
    for pair in found.windows(2) {
        let ((first, _), (second, _)) = (pair[0].0, pair[1].0);
        if second.0 < first.1 {
            sound = false;
            let message = format!("two {name}s overlap by {}", ctx.show(first.1 - second.0));
            ctx.diags.push(
                Diag::error("overlap", pair[1].1, message)
                    .also(pair[0].1, "the other stands here")
                    .help("check from-left and width of both"),
            );
        }
    }
    sound.then(|| found.into_iter().map(|(raised, _)| raised).collect())
}

fn one(ctx: &mut Ctx, node: &Node, wall: Length) -> Option<Raised> {
    let name = node.spec.name;
    let (step, what) = if name == "soffit" { ("drop", "the drop") } else { ("rise", "the rise") };
    let width = node.prop("width").ok().and_then(|w| ctx.ranged(w, &format!("the {name}'s width"), WIDTH));
    let by = node.prop(step).ok().and_then(|by| ctx.ranged(by, &format!("{what} of the {name}"), STEP));
    let (width, by) = (width?, by?);
    let x0 = from_left(ctx, node, wall, width)?;
    let x1 = x0 + width;
    let past = (-x0).max(x1 - wall);
    if past > Length::ZERO {
        let message = format!("the {name} goes {} past an end of the wall", ctx.show(past));
        let help = format!("the wall is {} wide: check the place and the width", ctx.show(wall));
        ctx.error("opening-outside-wall", node.head, message, help);
        return None;
    }
    Some(((x0, x1), by))
}

/// Where no seam may stand; `None` when a line about it is wrong.
pub(super) fn no_seam(
    ctx: &mut Ctx,
    wall: &Node,
    width: Length,
    clothed: bool,
) -> Option<Vec<(Length, Length)>> {
    let lines = wall.children.iter().filter(|child| child.spec.name == "no-seam");
    let stretch = |node: &Node| {
        if !clothed {
            let message = "the wall gets no cloth, and so no seam";
            ctx.error("no-cloth-there", node.head, message, "take the line out, or bare off the wall");
            return None;
        }
        from_to(ctx, node, width)
    };
    lines.map(stretch).collect::<Vec<_>>().into_iter().collect()
}

/// The `from-left=` and `to=` of a line, proven to lie on the wall.
fn from_to(ctx: &mut Ctx, node: &Node, width: Length) -> Option<(Length, Length)> {
    let on_wall = Range { least: Length::ZERO, most: width };
    let from = node.prop("from-left").ok();
    let to = node.prop("to").ok();
    let (from, to) = (from?, to?);
    let start = ctx.ranged(from, "the distance from the left end", on_wall)?;
    let end = ctx.ranged(to, "the distance from the left end", on_wall)?;
    if start < end {
        return Some((start, end));
    }
    ctx.diags.push(
        Diag::error("odd-stretch", to.span, "the stretch ends where it starts, or before")
            .also(from.span, "it starts here")
            .help("both are measured from the wall's left end: give the smaller first"),
    );
    None
}
