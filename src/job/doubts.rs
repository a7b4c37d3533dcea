//! Doubts about a sound room: what can be so, and seldom is. Each is a warning. Measures that ought to
//! agree with one another are for [`super::survey`].
//!
//! The limits are common practice without a source, unless a line says otherwise.

use super::ctx::Ctx;
use super::model::{OpeningKind, Room};
use super::places::WallPlaces;
use crate::diag::Diag;
use crate::source::Span;
use crate::units::Length;

/// Rooms lower than this at their highest point.
const LOW: Length = Length::inches(78);
/// Rooms higher than this.
const HIGH: Length = Length::feet(20);
/// Walls longer than this.
const LONG: Length = Length::feet(60);
/// Between a casing and a corner there is room for trim from here on.
const TRIM_ROOM: Length = Length::inches(1);

/// Tells every doubt about a room; `walls` says where each wall stands in the file.
pub(super) fn tell(ctx: &mut Ctx, room: &Room, walls: &[WallPlaces]) {
    heights(ctx, room, walls);
    for (wall, places) in room.walls.iter().zip(walls) {
        wall_itself(ctx, wall, places);
        openings(ctx, wall, places);
        fixings(ctx, wall, places);
    }
}

fn warn(ctx: &mut Ctx, code: &'static str, span: Span, message: String, help: &str) {
    ctx.diags.push(Diag::warning(code, span, message).help(help));
}

fn heights(ctx: &mut Ctx, room: &Room, walls: &[WallPlaces]) {
    let tallest = |wall: &super::model::Wall| {
        wall.ceiling.points().iter().map(|p| p.y - wall.floor.at(p.x)).max().unwrap_or(Length::ZERO)
    };
    let Some((highest, places)) = room.walls.iter().map(tallest).zip(walls).max_by_key(|(height, _)| *height)
    else {
        return;
    };
    if highest < LOW || highest > HIGH {
        let message = format!("the room's greatest height is {}", ctx.show(highest));
        warn(ctx, "implausible-height", places.height, message, "check the figures and their unit");
    }
}

fn wall_itself(ctx: &mut Ctx, wall: &super::model::Wall, places: &WallPlaces) {
    if wall.width > LONG {
        let message = format!("wall {} is {} wide", wall.label, ctx.show(wall.width));
        warn(ctx, "implausible-width", places.width, message, "check the figure and its unit");
    }
}

fn openings(ctx: &mut Ctx, wall: &super::model::Wall, places: &WallPlaces) {
    for (opening, &span) in wall.openings.iter().zip(&places.openings) {
        if opening.kind == OpeningKind::Door {
            let (width, height) = (opening.clear.width(), opening.clear.height());
            if width < Length::inches(16) || height < Length::inches(60) {
                let message = format!(
                    "door {} is {} wide and {} high",
                    opening.label,
                    ctx.show(width),
                    ctx.show(height)
                );
                warn(
                    ctx,
                    "implausible-door",
                    span,
                    message,
                    "check the figures: the clear width, then the clear height",
                );
            }
        }
        for (distance, end) in [(opening.outer.x0, "left"), (wall.width - opening.outer.x1, "right")] {
            if wall.clothed && distance > Length::ZERO && distance < TRIM_ROOM {
                let message = format!(
                    "only {} lie between {} and the {end} end of wall {}: trim has no room there",
                    ctx.show(distance),
                    opening.label,
                    wall.label
                );
                warn(
                    ctx,
                    "no-room-for-trim",
                    span,
                    message,
                    "measure again; if it is so, plan that trim by hand",
                );
            }
        }
    }
}

fn fixings(ctx: &mut Ctx, wall: &super::model::Wall, places: &WallPlaces) {
    for (fixing, &span) in wall.fixings.iter().zip(&places.fixings) {
        let (x0, x1) = (fixing.rect.x0, fixing.rect.x1);
        let (bottom, top) = (wall.field_bottom().max_between(x0, x1), wall.field_top().min_between(x0, x1));
        // A box wholly in the base or the dado is no concern of the cloth's.
        let half = |edge: Length| wall.clothed && fixing.rect.y0 < edge && edge < fixing.rect.y1;
        let message = if half(bottom) {
            format!("{} stands half in the {}", fixing.label, wall.bottom_word())
        } else if half(top) {
            format!("{} stands half over the {}", fixing.label, wall.top_word())
        } else {
            continue;
        };
        let help = "check above-floor=, which runs to the middle of the box";
        warn(ctx, "box-in-base", span, message, help);
    }
}
