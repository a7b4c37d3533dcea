//! The run of a room: corners and walls by turns, closed or open.

use super::ctx::Ctx;
use super::defaults::COMMON;
use super::facts::short;
use super::model::{Corner, CornerKind, Side, Wall};
use crate::diag::Diag;
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Angle;

/// The corners and walls of a room in order, proven to alternate.
pub struct Run<'n> {
    /// The corners.
    pub corners: Vec<&'n Node>,
    /// Whether the last wall meets the first corner.
    pub closed: bool,
}

/// Sorts a room's children into a run; `partial` tells that some line of the file could not be used.
pub fn run<'n>(ctx: &mut Ctx, room: &'n Node, partial: bool) -> Option<Run<'n>> {
    let parts: Vec<&Node> =
        room.children.iter().filter(|node| matches!(node.spec.name, "corner" | "wall")).collect();
    let is_wall = |node: &Node| node.spec.name == "wall";
    let name = |node: &Node| node.arg::<String>(0).ok().map_or_else(String::new, |name| name.value);
    let (first, last) = (parts.first()?, parts.last()?);
    let corners: Vec<&Node> = parts.iter().copied().filter(|node| !is_wall(node)).collect();
    if partial || room.partial || corners.is_empty() {
        // A corner or a wall may stand in a line that could not be used, or its lack has been told.
        return None;
    }
    let mut sound = true;
    if is_wall(first) {
        sound = false;
        ctx.error(
            "run-starts-with-wall",
            first.name,
            format!("wall {} has no corner at its left", name(first)),
            "start the room at a corner: corner A inside",
        );
    }
    for pair in parts.windows(2) {
        if is_wall(pair[0]) != is_wall(pair[1]) {
            continue;
        }
        sound = false;
        let (before, after) = (name(pair[0]), name(pair[1]));
        let diag = if is_wall(pair[0]) {
            Diag::error(
                "missing-corner",
                pair[1].name,
                format!("wall {after} follows wall {before} with no corner between"),
            )
            .help("add the corner between them: corner B inside")
        } else {
            Diag::error(
                "missing-wall",
                pair[1].name,
                format!("corner {after} follows corner {before} with no wall between"),
            )
            .help("add the wall between them, or take one corner away")
        };
        ctx.diags.push(diag.also(pair[0].name, "this one"));
    }
    if !sound {
        return None;
    }
    let closed = is_wall(last);
    let walls = parts.len() - corners.len();
    if closed && walls < 3 {
        let message = format!("the run ends with wall {} and no corner", name(last));
        let help = "end it with a corner, such as corner C free; a closed room has three walls or more";
        ctx.error("open-end", last.name, message, help);
        return None;
    }
    Some(Run { corners, closed })
}

/// The corners, with the names proven unique and the ends proven possible.
pub fn corners(ctx: &mut Ctx, run: &Run) -> Option<Vec<Corner>> {
    let mut out: Vec<Option<Corner>> = Vec::new();
    let mut names: Vec<Spanned<String>> = Vec::new();
    let last = run.corners.len() - 1;
    for (i, node) in run.corners.iter().enumerate() {
        let name = node.arg::<String>(0).ok();
        if let Some(name) = &name {
            if let Some(before) = names.iter().find(|before| before.value == name.value) {
                let mut diag = Diag::error(
                    "repeated-corner",
                    name.span,
                    format!("corner {} is there already", name.value),
                )
                .also(before.span, "here");
                diag = if i == last && before.span == names[0].span {
                    diag.help("leave this one out: the last wall meets the first corner by itself")
                } else {
                    diag.help("give it another letter")
                };
                ctx.diags.push(diag);
            }
            names.push(name.clone());
        }
        let end = !run.closed && (i == 0 || i == last);
        out.push(corner(ctx, node, name, end));
    }
    out.into_iter().collect()
}

fn corner(ctx: &mut Ctx, node: &Node, name: Option<Spanned<String>>, end: bool) -> Option<Corner> {
    let name = name.and_then(|name| short(ctx, name, "the corner's name", 4));
    let word = node.arg::<&'static str>(1).ok()?;
    let (kind, square) = match word.value {
        "inside" => (CornerKind::Inside, Angle::degrees(90)),
        "outside" => (CornerKind::Outside, Angle::degrees(270)),
        _ => (CornerKind::FreeEnd, Angle::degrees(180)),
    };
    match kind {
        CornerKind::FreeEnd if !end => {
            ctx.error(
                "free-end-in-run",
                word.span,
                "a free end stands only at the start or the end of an open run",
                "make it inside or outside, or start another room there",
            );
            return None;
        }
        CornerKind::Outside if end => {
            ctx.error(
                "outside-corner-at-end",
                word.span,
                "the cloth of an outside corner is carried onto the next wall, and the run ends here",
                "make it free, or survey the wall beyond it, with bare=yes if it gets no cloth",
            );
            return None;
        }
        _ => {}
    }
    let angle = match node.prop::<Angle>("angle") {
        Given::Bad => None,
        Given::Absent => {
            if kind != CornerKind::FreeEnd {
                ctx.note("Corners whose angle is not given are square.", COMMON);
            }
            Some(square)
        }
        Given::Is(angle) => proven(ctx, angle, kind),
    };
    let bead = node.prop::<bool>("metal-bead").or(|| Spanned::new(false, node.name));
    Some(Corner { name: name?, kind, angle: angle?, metal_bead: bead?.value, wraps: Side::Left })
}

fn proven(ctx: &mut Ctx, angle: Spanned<Angle>, kind: CornerKind) -> Option<Angle> {
    let degrees = angle.value.to_degrees_f64();
    let (least, most, what) = match kind {
        CornerKind::Inside => (15, 179, "an inside corner"),
        CornerKind::Outside => (181, 345, "an outside corner"),
        CornerKind::FreeEnd => (180, 180, "a free end"),
    };
    if (Angle::degrees(least)..=Angle::degrees(most)).contains(&angle.value) {
        return Some(angle.value);
    }
    let help = match kind {
        CornerKind::FreeEnd => "leave the angle out".to_owned(),
        _ => format!("measured inside the room, it is from {least} to {most} degrees"),
    };
    ctx.error("odd-angle", angle.span, format!("{what} cannot measure {degrees} degrees"), help);
    None
}

/// Chooses at each outside corner which wall's panel is carried round.
pub fn choose_wraps(ctx: &mut Ctx, run: &Run, corners: &mut [Corner], walls: &[Wall]) -> Option<()> {
    let count = walls.len();
    let mut sound = Some(());
    for (i, corner) in corners.iter_mut().enumerate() {
        let given = run.corners[i].prop::<&'static str>("wraps");
        if corner.kind != CornerKind::Outside {
            if let Given::Is(side) = given {
                ctx.error(
                    "wraps-elsewhere",
                    side.span,
                    "only at an outside corner is a panel carried round",
                    "leave wraps= out",
                );
                sound = None;
            }
            continue;
        }
        let (left, right) = (&walls[(i + count - 1) % count], &walls[i % count]);
        corner.wraps = match given {
            Given::Bad => return None,
            Given::Is(side) => {
                let side_value = if side.value == "left" { Side::Left } else { Side::Right };
                let wall = if side_value == Side::Left { left } else { right };
                if !wall.clothed {
                    let message = format!("wall {} has no cloth to carry round", wall.label);
                    ctx.error(
                        "wraps-bare-wall",
                        side.span,
                        message,
                        "leave wraps= out, or name the other side",
                    );
                    sound = None;
                }
                side_value
            }
            Given::Absent if left.clothed != right.clothed => {
                if left.clothed {
                    Side::Left
                } else {
                    Side::Right
                }
            }
            Given::Absent => {
                let text = "At outside corners the wider wall's panel is carried round, so that the fold lies on the narrower face.";
                ctx.note(text, COMMON);
                if left.width >= right.width { Side::Left } else { Side::Right }
            }
        };
    }
    sound
}

/// The greatest error in the sum of a room's angles that passes for careless measuring.
const ANGLE_SLACK: i64 = 20;

/// Proves that the corners of a closed room turn once round.
pub fn turns_once(ctx: &mut Ctx, corners: &[Corner], place: Span) -> Option<()> {
    let sum: i64 = corners.iter().map(|corner| corner.angle.udeg()).sum();
    let need = 180_000_000 * (corners.len() as i64 - 2);
    if (sum - need).abs() <= ANGLE_SLACK * 1_000_000 {
        return Some(());
    }
    let count = |kind| corners.iter().filter(|corner| corner.kind == kind).count();
    let (inside, outside) = (count(CornerKind::Inside), count(CornerKind::Outside));
    let message = format!(
        "these {inside} inside and {outside} outside corners do not turn once round a closed room: their angles add up to {} degrees, not {}",
        sum / 1_000_000,
        need / 1_000_000
    );
    let help = "with square corners there are four more inside than outside: check each corner, or end an open run with a corner";
    ctx.error("room-does-not-turn", place, message, help);
    None
}
