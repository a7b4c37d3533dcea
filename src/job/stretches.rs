//! Stretches of a wall, from one distance to another from its left end.

use super::ctx::{Ctx, Range};
use crate::diag::Diag;
use crate::parse::Node;
use crate::units::Length;

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
