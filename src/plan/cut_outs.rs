//! The cloth that comes back when openings covered by a panel are cut free.

use super::model::{CutOut, Piece, PieceId, RoomPlan, WallRef};
use crate::geom::Rect;
use crate::job::model::{Job, Opening, OpeningCloth};

/// The cut-outs of all covered openings, by wall and opening, and from the left where a seam parts one.
pub fn cut_outs(job: &Job, rooms: &[RoomPlan], pieces: &[Piece]) -> Vec<CutOut> {
    let each = rooms.iter().enumerate();
    each.flat_map(|(room, planned)| of_room(job, room, planned, pieces)).collect()
}

/// The cut-outs of one room, in the same order.
pub(super) fn of_room(job: &Job, room: usize, plan: &RoomPlan, pieces: &[Piece]) -> Vec<CutOut> {
    let mut found = Vec::new();
    for (wall, planned) in plan.walls.iter().enumerate() {
        let Some(panel) = &planned.panel else { continue };
        let place = &job.rooms[room].walls[wall];
        let covered = |o: &Opening| o.cloth == OpeningCloth::CoveredThrough && place.in_field(&o.outer);
        for (opening, shape) in place.openings.iter().enumerate().filter(|(_, o)| covered(o)) {
            // Of an arch, what lies below its springing: nobody cuts strips from the round of it.
            let outer = Rect {
                x0: shape.outer.x0 + planned.x,
                x1: shape.outer.x1 + planned.x,
                y1: shape.hole().springing(),
                ..shape.outer
            };
            let wall = WallRef { room, wall };
            let out = |piece: PieceId| Some((piece, usable(&outer, pieces.get(piece.0)?)?));
            let parts = panel.strips.iter().filter_map(|strip| out(strip.piece));
            found.extend(parts.map(|(piece, usable)| CutOut { wall, opening, piece, usable }));
        }
    }
    found
}

/// What an opening gives back of a piece: across from stitching to stitching, since an allowance in
/// a seam is not unpicked; up as far as the cloth goes.
fn usable(outer: &Rect, piece: &Piece) -> Option<Rect> {
    let part = Rect {
        x0: outer.x0.max(piece.net.x0),
        y0: outer.y0.max(piece.gross.y0),
        x1: outer.x1.min(piece.net.x1),
        y1: outer.y1.min(piece.gross.y1),
    };
    (part.x0 < part.x1 && part.y0 < part.y1).then_some(part)
}
