//! Doubts about a sound room: what can be so, and seldom is. Each is a warning.
//!
//! The limits are common practice without a source, unless a line says otherwise.

use super::ctx::Ctx;
use super::model::{CornerKind, OpeningKind, Room};
use super::places::WallPlaces;
use crate::diag::Diag;
use crate::source::Span;
use crate::units::Length;

/// Corner heights taken on two walls that differ by more were not taken at one corner.
const CORNER_HEIGHTS: Length = Length::inch_64ths(48);
/// Walls whose corners lean by more are rare.
const LEAN: Length = Length::inches(3);
/// From where to where the middle of a ceiling departs from its ends by a slip.
const MIDDLE: (Length, Length) = (Length::inches(3), Length::inches(18));
/// Rooms lower than this at their highest point.
const LOW: Length = Length::inches(78);
/// Rooms higher than this.
const HIGH: Length = Length::feet(20);
/// Walls longer than this.
const LONG: Length = Length::feet(60);
/// Between a casing and a corner there is room for trim from here on.
const TRIM_ROOM: Length = Length::inches(1);
/// A survey that fails to close by less is a good one; see also [`closing_share`].
const CLOSING: Length = Length::inches(2);

/// The part of a room's perimeter that its survey may fail to close by: a two-hundredth.
fn closing_share(perimeter: Length) -> Length {
    perimeter / 200
}

/// Tells every doubt about a room whose walls stand at `walls` and whose corners at `corners`.
pub(super) fn tell(ctx: &mut Ctx, room: &Room, name: Span, walls: &[WallPlaces], corners: &[Span]) {
    heights(ctx, room, walls);
    for (wall, places) in room.walls.iter().zip(walls) {
        wall_itself(ctx, wall, places);
        middle_height(ctx, wall, places);
        openings(ctx, wall, places);
        fixings(ctx, wall, places);
    }
    corner_heights(ctx, room, walls, corners);
    if room.closed {
        closing(ctx, room, name);
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
    let widths = [wall.width, wall.width_top, wall.width_bottom];
    let lean =
        widths.iter().max().zip(widths.iter().min()).map_or(Length::ZERO, |(most, least)| *most - *least);
    if lean > LEAN {
        let message = format!("the widths of wall {} differ by {}", wall.label, ctx.show(lean));
        warn(ctx, "widths-differ", places.width, message, "measure top, middle and bottom again");
    }
}

/// Ends and middle of a ceiling that lie in no line, by little enough to be a slip of the tape: a slope
/// or a gable departs by more.
fn middle_height(ctx: &mut Ctx, wall: &super::model::Wall, places: &WallPlaces) {
    let [left, middle, right] = wall.ceiling.points() else { return };
    let departs = (middle.y - (left.y + right.y) / 2).abs();
    if middle.x == wall.width / 2 && departs > MIDDLE.0 && departs < MIDDLE.1 {
        let message = format!(
            "the middle height of wall {} is {} out of line with its ends",
            wall.label,
            ctx.show(departs)
        );
        warn(ctx, "middle-out-of-line", places.height, message, "measure left, middle and right again");
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

fn corner_heights(ctx: &mut Ctx, room: &Room, walls: &[WallPlaces], corners: &[Span]) {
    let count = room.walls.len();
    for (i, corner) in room.corners.iter().enumerate() {
        let inner = room.closed || (0 < i && i < count);
        if !inner || corner.kind == CornerKind::FreeEnd {
            continue;
        }
        let (l, r) = ((i + count - 1) % count, i % count);
        let (left, right) = (&room.walls[l], &room.walls[r]);
        let height = |wall: &super::model::Wall, x: Length| wall.ceiling.at(x) - wall.floor.at(x);
        let (one, other) = (height(left, left.width), height(right, Length::ZERO));
        if (one - other).abs() <= CORNER_HEIGHTS {
            continue;
        }
        let message = format!(
            "corner {} is {} high on wall {} and {} on wall {}",
            corner.name,
            ctx.show(one),
            left.label,
            ctx.show(other),
            right.label
        );
        let diag = Diag::warning("corner-heights-differ", corners[i], message)
            .also(walls[l].height, format!("{} at the right end", ctx.show(one)))
            .also(walls[r].height, format!("{} at the left end", ctx.show(other)))
            .help("one corner has one height: measure it again");
        ctx.diags.push(diag);
    }
}

/// A closed room whose walls do not come back to where they started. The sines and cosines only
/// decide whether to warn; no figure of the plan passes through them.
fn closing(ctx: &mut Ctx, room: &Room, name: Span) {
    let (mut x, mut y, mut heading) = (0.0f64, 0.0f64, 0.0f64);
    for (i, wall) in room.walls.iter().enumerate() {
        x += wall.width.to_mm_f64() * heading.cos();
        y += wall.width.to_mm_f64() * heading.sin();
        let corner = &room.corners[room.right_corner(i)];
        heading += (180.0 - corner.angle.to_degrees_f64()).to_radians();
    }
    let gap = Length::mm(x.hypot(y).round() as i64);
    let perimeter: Length = room.walls.iter().map(|wall| wall.width).sum();
    if gap > CLOSING.max(closing_share(perimeter)) {
        let shown = if ctx.metric { ctx.show(gap) } else { ctx.show(gap.round_to(Length::inches(1))) };
        let message =
            format!("the walls as measured do not close: they end about {shown} from where they start");
        warn(
            ctx,
            "room-does-not-close",
            name,
            message,
            "measure facing walls again, or give the angle= of a corner that is not square",
        );
    }
}
