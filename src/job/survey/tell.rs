//! Checks that fail, told at their places in the file.

use super::limits;
use crate::diag::Diag;
use crate::job::ctx::Ctx;
use crate::job::model::{CheckKind, Room, SurveyCheck};
use crate::job::places::RoomPlaces;
use crate::parse::Node;

/// Tells what `checks` of a room came to: a warning for each that fails, and by which customary limits
/// they were judged.
pub fn tell(ctx: &mut Ctx, house: Option<&Node>, room: &Room, places: &RoomPlaces, checks: &[SurveyCheck]) {
    for check in checks {
        limits::assume(ctx, house, check.kind);
        // What diagonals tell is told where they are read: see [`super::super::square`].
        if check.fails() && check.kind != CheckKind::Square {
            let diag = diag(ctx, room, places, check);
            ctx.diags.push(diag);
        }
    }
}

fn diag(ctx: &Ctx, room: &Room, places: &RoomPlaces, check: &SurveyCheck) -> Diag {
    let wall = |n: usize| check.walls.get(n).and_then(|&wall| places.walls.get(wall));
    let (code, span) = match check.kind {
        CheckKind::Closing => ("room-does-not-close", Some(places.name)),
        CheckKind::Turning => ("angles-do-not-add-up", Some(places.name)),
        CheckKind::Widths => ("widths-differ", wall(0).map(|wall| wall.width)),
        CheckKind::Square => ("out-of-square", wall(0).map(|wall| wall.width)),
        CheckKind::Heights => ("middle-out-of-line", wall(0).map(|wall| wall.height)),
        CheckKind::Corner => {
            ("corner-heights-differ", check.corner.and_then(|corner| places.corners.get(corner).copied()))
        }
        CheckKind::Floor => {
            ("corner-floors-differ", check.corner.and_then(|corner| places.corners.get(corner).copied()))
        }
        CheckKind::BothEnds => ("gaps-do-not-add-up", wall(0).map(|wall| wall.name)),
        CheckKind::Back => ("backs-differ", wall(0).map(|wall| wall.width)),
    };
    let (exact, text) = (ctx.format.exact(), &check.text);
    let (out, limit) = (check.out_by.words(&exact), check.limit.words(&exact));
    let message = match check.kind {
        // Its limit may be a part of the way round, which is on no tape.
        CheckKind::Closing => {
            format!("{text}, and {} is the limit", check.limit.words(&ctx.format))
        }
        CheckKind::Heights => format!("{text}: {out} out of line, and {limit} is the limit"),
        _ => format!("{text}: {out} apart, and {limit} is the limit"),
    };
    let mut diag = Diag::warning(code, span.unwrap_or(places.name), message).help(check.again.as_str());
    if matches!(check.kind, CheckKind::Corner | CheckKind::Floor) {
        for (n, end) in [(0, "right"), (1, "left")] {
            if let Some(wall) = wall(n) {
                let place = if check.kind == CheckKind::Floor { wall.floor } else { wall.height };
                diag = diag.also(place, format!("wall {}, {end} end", room.walls[check.walls[n]].label));
            }
        }
    }
    diag
}
