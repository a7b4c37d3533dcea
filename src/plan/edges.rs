//! What becomes of the ends of a panel, and how much cloth each end is given.

use super::model::{EdgeFinish, PanelEdge};
use crate::job::model::{CornerKind, House, Room, Side};
use crate::units::Length;

/// The wall at the other side of wall `wall`'s corner at `side`, if the room has one there.
pub fn neighbour(room: &Room, wall: usize, side: Side) -> Option<usize> {
    let count = room.walls.len();
    match side {
        Side::Left if wall > 0 => Some(wall - 1),
        Side::Right if wall + 1 < count => Some(wall + 1),
        Side::Left if room.closed => Some(count - 1),
        Side::Right if room.closed => Some(0),
        _ => None,
    }
}

/// The end of wall `wall`'s panel at `side`, with the allowance that the house wants there: its
/// finish decides how much, and the lean of the wall is added.
pub fn edge(house: &House, room: &Room, wall: usize, side: Side) -> PanelEdge {
    let corner = match side {
        Side::Left => &room.corners[wall],
        Side::Right => &room.corners[room.right_corner(wall)],
    };
    let meets_cloth = neighbour(room, wall, side).is_some_and(|next| room.walls[next].clothed);
    let finish = match corner.kind {
        CornerKind::FreeEnd => EdgeFinish::Ended,
        CornerKind::Inside => EdgeFinish::Pulled,
        CornerKind::Outside if !meets_cloth => EdgeFinish::Ended,
        // Seen from its own corner, the wall at the left of the corner has it at its right end.
        CornerKind::Outside if corner.wraps == side.other() => EdgeFinish::Wrapped,
        CornerKind::Outside => EdgeFinish::Folded,
    };
    let allowance = match finish {
        EdgeFinish::Pulled | EdgeFinish::Ended => house.pull_allowance,
        EdgeFinish::Wrapped => house.wrap_allowance,
        EdgeFinish::Folded => house.fold_allowance,
    };
    PanelEdge { finish, allowance: allowance + room.walls[wall].lean() }
}

/// The least that an end can do with when the match leaves no more: the lean, and as much as a
/// seam would have to be held by (common practice, no source).
pub fn least_allowance(house: &House, lean: Length, wanted: &PanelEdge) -> Length {
    (lean + house.seam_allowance).min(wanted.allowance)
}
