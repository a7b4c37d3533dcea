//! Walls that are the other sides of walls of other rooms.

use super::ctx::Ctx;
use super::rooms::{Surveyed, unknown};
use crate::parse::Node;
use crate::source::Spanned;

/// Finds the wall that each `back-of` line names; `nodes` are the nodes of `rooms`.
pub(super) fn resolve(ctx: &mut Ctx, nodes: &[&Node], rooms: &mut [Option<Surveyed>]) {
    let names: Vec<Option<Spanned<String>>> = nodes.iter().map(|room| room.arg::<String>(0).ok()).collect();
    for (index, room) in nodes.iter().enumerate() {
        let walls = room.children.iter().filter(|node| node.spec.name == "wall");
        for (wall, node) in walls.enumerate() {
            let Some(line) = node.child("back-of") else { continue };
            let (Some(label), Some(name)) = (line.arg::<String>(0).ok(), line.prop::<String>("room").ok())
            else {
                continue;
            };
            let there = names.iter().position(|known| known.as_ref().is_some_and(|k| k.value == name.value));
            let Some(there) = there else {
                let known = names.iter().flatten().map(|name| name.value.as_str());
                unknown(ctx, "unknown-room", &name, "room", known);
                continue;
            };
            // A room that is not sound has been told of, and its walls are not known.
            let Some(Surveyed { room: other, .. }) = &rooms[there] else { continue };
            let Some(found) = other.walls.iter().position(|wall| wall.label == label.value) else {
                unknown(
                    ctx,
                    "unknown-wall",
                    &label,
                    "wall",
                    other.walls.iter().map(|wall| wall.label.as_str()),
                );
                continue;
            };
            if (there, found) == (index, wall) {
                let message = format!("wall {} cannot be its own other side", label.value);
                ctx.error("back-of-itself", line.head, message, "name the wall beyond it, and its room");
                continue;
            }
            if let Some(surveyed) = &mut rooms[index] {
                surveyed.room.walls[wall].cross_checks.back_of = Some((there, found));
            }
        }
    }
}
