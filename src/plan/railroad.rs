//! Whether a wall can be covered by cloth whose length runs along it.

use super::lattice::Laid;
use super::model::{Piece, WallRef, Way};
use super::panels;
use super::seams::Layout;
use super::{PlanFault, words};
use crate::job::model::Job;
use crate::units::Length;

/// Proves that each piece of a wall fits across the cloth when that is railroaded; `at` is where the
/// wall's left end stands on the ribbon. Upright cloth has been proved when its seams were found.
///
/// # Errors
/// `too-high-to-railroad`, with the width or the start of the pattern that would do.
pub fn fits(job: &Job, wall: WallRef, at: Length, laid: &Laid, layouts: &[Layout]) -> Result<(), PlanFault> {
    let (Way::Railroaded, Some(layout)) = (laid.way, layouts.first()) else { return Ok(()) };
    let mut pieces = Vec::new();
    panels::panel(job, wall, at, laid, layout, &mut pieces);
    match pieces.iter().find(|piece| !laid.fits(&piece.gross, piece.face)) {
        None => Ok(()),
        Some(piece) => Err(too_high(job, wall, laid, piece)),
    }
}

fn too_high(job: &Job, wall: WallRef, laid: &Laid, piece: &Piece) -> PlanFault {
    let print = |length: Length| words::print(job, length);
    let (room, cloth) = (&job.rooms[wall.room], laid.cloth);
    let needed = needed(laid, piece);
    let message = format!(
        "{} takes {} of the width of {} when it is railroaded, {} for the wall and the rest for its allowances \
         and the selvages",
        words::wall_of(job, wall),
        print(needed),
        cloth.name,
        print(piece.net.height()),
    );
    let (message, help) = match shift(laid, piece) {
        _ if needed > cloth.width => (
            format!("{message}; it is {} wide", print(cloth.width)),
            format!("hang it upright, or find cloth at least {} wide", print(needed)),
        ),
        Some(shift) => {
            let below = room.registration.below_crown - shift;
            (
                format!("{message}; it is wide enough, but not at this level of the pattern"),
                format!(
                    "for this wall the first motif must stand {} {}: give pattern below-crown=\"{}\", or hang the \
                     cloth upright",
                    print(shift.abs()),
                    if shift > Length::ZERO { "higher" } else { "lower" },
                    job.print.format.exact().print(below),
                ),
            )
        }
        None => (message, "hang it upright".into()),
    };
    PlanFault { code: "too-high-to-railroad", message, wall: Some(wall), help }
}

/// The width of cloth that holds a piece with its allowances, and keeps what shows off the selvages.
fn needed(laid: &Laid, piece: &Piece) -> Length {
    let (from, to) = laid.across(&piece.gross);
    let selvage = laid.cloth.selvage;
    (piece.face.0 - from).max(selvage) + (piece.face.1 - piece.face.0) + (to - piece.face.1).max(selvage)
}

/// How much higher the pattern must start for a piece that is narrow enough; the least of two.
fn shift(laid: &Laid, piece: &Piece) -> Option<Length> {
    let repeat = laid.cloth.pattern?.horizontal;
    let (least, most) = laid.cut_range(&piece.gross, piece.face);
    let at_zero = laid.across(&piece.gross).0 + laid.cloth.left_match - laid.match_line;
    // A pattern that starts higher puts the piece nearer to the left edge of the cloth.
    let down = (at_zero - most).rem_euclid(repeat);
    let up = (least - at_zero).rem_euclid(repeat);
    (least <= most).then_some(if down <= up { down } else { -up })
}
