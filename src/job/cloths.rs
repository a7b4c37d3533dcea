//! Cloths: width, match lines and the lattice, made exact.

use super::ctx::{Ctx, Range, inches};
use super::defaults::{self, COMMON};
use super::facts::{optional, short};
use super::hanging;
use super::model::{Cloth, Lattice, SoldIn};
use super::received;
use super::samples;
use crate::diag::Diag;
use crate::parse::{Given, Node};
use crate::picture::Picture;
use crate::source::Spanned;
use crate::units::Length;

/// Widths that cloth has.
pub const WIDTH: Range = inches(6 * 64, 200);
/// Repeats that patterns have.
pub const REPEAT: Range = inches(16, 200);
const BOLT: Range = Range { least: Length::yards(1), most: Length::yards(1000) };

/// Reads a cloth; `seam` is the house's seam allowance.
pub fn cloth(ctx: &mut Ctx, node: &Node, seam: Option<Length>) -> Option<Cloth> {
    let name = node.arg::<String>(0).ok().and_then(|name| short(ctx, name, "the cloth's name", 40));
    let width = node.child_arg::<Length>("width").ok().and_then(|width| {
        ctx.ranged(width, "the cloth's width", WIDTH).map(|length| Spanned::new(length, width.span))
    });
    let selvage = ctx.length_or(
        node.child_arg("selvage"),
        "the selvage",
        Range { least: Length::ZERO, most: Length::inches(6) },
        &defaults::SELVAGE,
    );
    let sold_in = sold_in(ctx, node.child_arg("sold-in"), "Cloth");
    let spare = match node.child_arg("spare") {
        Given::Absent => {
            ctx.note("No spare cloth is ordered beyond the plan.", COMMON);
            Some(Length::ZERO)
        }
        Given::Bad => None,
        Given::Is(spare) => {
            ctx.ranged(spare, "the spare", Range { least: Length::ZERO, most: Length::yards(200) })
        }
    };
    let on_hand = received::on_hand(ctx, node);
    let most_points = received::most_points(ctx, node);
    let longest = on_hand.iter().flatten().map(|bolt| bolt.length).max();
    let bolt = match longest {
        Some(longest) => Some(longest),
        None => ctx.length_or(node.child_arg("bolt"), "the bolt", BOLT, &defaults::BOLT),
    };
    let fire_class = optional(ctx, node.child_arg("fire-class"), "the fire class");
    let shrinkage = hanging::shrinkage(ctx, node);
    let called = name.clone().unwrap_or_default();
    let direction = hanging::direction(ctx, node, &called);
    let (width, selvage, seam) = (width?, selvage?, seam?);
    let edge = selvage.max(seam);
    let usable = width.value - edge * 2;
    if usable < Length::inches(2) {
        let message = format!(
            "cloth {} wide leaves nothing between its selvages and seam allowances",
            ctx.show_cloth(width.value)
        );
        ctx.error(
            "cloth-too-narrow",
            width.span,
            message,
            "check the width, the selvage and the seam allowance",
        );
        return None;
    }
    let (match_width, pattern) = matching(ctx, node, &called, width, usable, edge)?;
    let left_match = left_match(ctx, node, width.value, match_width, edge)?;
    let shrinkage = shrinkage?;
    let bolt = shrinkage.along.left_of(bolt?);
    let on_hand = on_hand?.into_iter().map(|bolt| received::relaxed(bolt, shrinkage)).collect();
    let (direction, nap) = direction?;
    let picture = picture(ctx, node, pattern);
    let hang = hanging::hang(ctx, node, &called, direction)?;
    let mut cloth = Cloth {
        name: name?,
        width: width.value,
        selvage,
        left_match,
        match_width,
        pattern,
        label: None,
        hang,
        direction,
        nap,
        sold_in: sold_in?,
        spare: spare?,
        shrinkage,
        on_hand,
        most_points: most_points?,
        samples: Vec::new(),
        bolt_length: bolt,
        metallic: node.child("metallic").is_some(),
        fire_class: fire_class?,
        picture,
    };
    received::judge(ctx, node, &mut cloth, edge)?;
    if let Some(lattice) = cloth.pattern.filter(|lattice| lattice.vertical >= bolt) {
        repeat_too_long(ctx, node, lattice.vertical, bolt);
        return None;
    }
    cloth.samples = samples::read(ctx, node, &cloth)?;
    Some(cloth)
}

/// The picture of one repeat; one that could not be read has been told.
fn picture(ctx: &mut Ctx, node: &Node, pattern: Option<Lattice>) -> Option<Picture> {
    let path = node.child_arg::<String>("picture").ok()?;
    let Some(lattice) = pattern else {
        let help = "take this line out, or add the repeat: repeat horizontal=\"13 1/2in\" vertical=\"18in\"";
        ctx.error("picture-without-repeat", path.span, "plain cloth has no repeat to be pictured", help);
        return None;
    };
    let picture = ctx.picture(path.span)?;
    let (wide, high) = (i64::from(picture.width()), i64::from(picture.height()));
    let as_high = lattice.vertical.scale(wide, lattice.horizontal.nm());
    if (as_high.nm() - high).abs() * 100 > high * 3 {
        let message = format!(
            "the picture has {wide} × {high} pixels, which is not the shape of a repeat {} across and {} up",
            ctx.show_cloth(lattice.horizontal),
            ctx.show_cloth(lattice.vertical)
        );
        let diag = Diag::warning("picture-out-of-shape", path.span, message);
        ctx.diags.push(diag.help("cut the picture to one repeat, from match line to match line"));
    }
    Some(picture)
}

/// A bolt starts anywhere in the pattern, so that up to one repeat of it is lost: one no longer than
/// its repeat may give nothing.
fn repeat_too_long(ctx: &mut Ctx, node: &Node, vertical: Length, bolt: Length) {
    let message = format!(
        "the vertical repeat {} leaves nothing of a bolt of {}, which starts anywhere in the pattern",
        ctx.show_cloth(vertical),
        ctx.show_cloth(bolt)
    );
    let span = node.child("repeat").map_or(node.head, |repeat| repeat.head);
    ctx.error("repeat-longer-than-bolt", span, message, "check the repeat, and the length of a bolt");
}

/// What cloth, trim or cord is sold in.
pub fn sold_in(ctx: &mut Ctx, given: Given<Spanned<&'static str>>, what: &str) -> Option<SoldIn> {
    Some(match given {
        Given::Bad => return None,
        Given::Is(Spanned { value: "metre", .. }) => SoldIn::Metre,
        Given::Is(_) => SoldIn::Yard,
        Given::Absent if ctx.metric => {
            ctx.note(format!("{what} is sold by the whole metre."), COMMON);
            SoldIn::Metre
        }
        Given::Absent => {
            ctx.note(format!("{what} is sold by the whole yard."), COMMON);
            SoldIn::Yard
        }
    })
}

/// The match width and the lattice.
///
/// The lattice is made exact: the match width becomes a multiple of the repeat's count and the
/// vertical repeat a multiple of the drop's denominator. Either moves by less than one nanometre
/// for each repeat across or part of the drop, which is beneath any loom.
fn matching(
    ctx: &mut Ctx,
    node: &Node,
    name: &str,
    width: Spanned<Length>,
    usable: Length,
    edge: Length,
) -> Option<(Length, Option<Lattice>)> {
    let given = match node.child_arg::<Length>("match-width") {
        Given::Bad => return None,
        Given::Absent => None,
        Given::Is(length) => {
            ctx.ranged(length, "the match width", inches(64, 200))?;
            if length.value > usable {
                let message = format!(
                    "the match width {} leaves less than {} at each edge of cloth {} wide",
                    ctx.show_cloth(length.value),
                    ctx.show_cloth(edge),
                    ctx.show_cloth(width.value)
                );
                let help = format!(
                    "the seam allowance and the selvage need {} at each edge: give at most {}",
                    ctx.show_cloth(edge),
                    ctx.show_cloth(usable)
                );
                ctx.diags.push(
                    Diag::error("match-width-too-wide", length.span, message)
                        .also(width.span, "the cloth's width")
                        .help(help),
                );
                return None;
            }
            Some(length)
        }
    };
    let free = node.child_arg::<&'static str>("match");
    let Some(repeat) = node.child("repeat") else {
        if free.is_absent() && !node.partial {
            ctx.note(format!("Cloth “{name}” is plain: its match is free."), "the job file gives no repeat");
        }
        let match_width = given.map_or_else(
            || {
                let text =
                    format!("Match lines of plain cloth stand {} from its edges.", ctx.show_cloth(edge));
                ctx.note(text, "derived from the selvage and the seam allowance");
                usable
            },
            |length| length.value,
        );
        return Some((match_width, None));
    };
    if let Given::Is(free) = free {
        ctx.diags.push(
            Diag::error("two-answers", free.span, "the match is free, and there is a repeat to match")
                .also(repeat.head, "here")
                .help("keep match free or the repeat, not both"),
        );
        return None;
    }
    let vertical = ctx.ranged(repeat.prop("vertical").ok()?, "the vertical repeat", REPEAT)?;
    let (match_width, horizontal) = across(ctx, repeat, given, usable)?;
    let (vertical, drop) = drop(ctx, repeat, vertical)?;
    Some((match_width, Some(Lattice { horizontal, vertical, drop })))
}

/// The match width as a whole number of horizontal repeats, and the repeat.
fn across(
    ctx: &mut Ctx,
    repeat: &Node,
    given: Option<Spanned<Length>>,
    usable: Length,
) -> Option<(Length, Length)> {
    match (repeat.prop::<Length>("horizontal"), repeat.prop::<u32>("across")) {
        (Given::Bad, _) | (_, Given::Bad) => None,
        (Given::Is(one), Given::Is(other)) => {
            ctx.diags.push(
                Diag::error("two-answers", other.span, "the horizontal repeat is given twice over")
                    .also(one.span, "here as a length")
                    .help("keep horizontal= or across=, not both"),
            );
            None
        }
        (Given::Absent, Given::Absent) if repeat.partial => None,
        (Given::Absent, Given::Absent) => {
            ctx.error(
                "missing-repeat",
                repeat.head,
                "repeat lacks the horizontal repeat",
                "add horizontal=\"13 1/2in\", or across=4 for four repeats in the match width",
            );
            None
        }
        (Given::Is(horizontal), Given::Absent) => {
            ctx.ranged(horizontal, "the horizontal repeat", REPEAT)?;
            let h = horizontal.value;
            let Some(match_width) = given else {
                let count = usable.div_floor(h);
                if count == 0 {
                    let message = format!(
                        "the horizontal repeat {} is wider than the {} that a width of cloth can show",
                        ctx.show_cloth(h),
                        ctx.show_cloth(usable)
                    );
                    ctx.error(
                        "repeat-too-wide",
                        horizontal.span,
                        message,
                        "check the repeat and the cloth's width",
                    );
                    return None;
                }
                let match_width = h * count;
                let text = format!(
                    "The match width is {}, {count} horizontal repeats.",
                    ctx.show_cloth(match_width)
                );
                ctx.note(text, "derived: the most whole repeats between the selvages and seam allowances");
                return Some((match_width, h));
            };
            if match_width.value.nm() % h.nm() != 0 {
                let count = match_width.value.div_floor(h).max(1);
                let message = format!(
                    "the match width {} is not a whole number of repeats of {}",
                    ctx.show_cloth(match_width.value),
                    ctx.show_cloth(h)
                );
                ctx.diags.push(
                    Diag::error("repeat-does-not-divide", match_width.span, message)
                        .also(horizontal.span, "the horizontal repeat")
                        .help(format!(
                            "{count} repeats are {}; measure both again, or give across={count} instead of horizontal=",
                            ctx.show_cloth(h * count)
                        )),
                );
                return None;
            }
            Some((match_width.value, h))
        }
        (Given::Absent, Given::Is(count)) => {
            let Some(match_width) = given else {
                ctx.error(
                    "missing-match-width",
                    count.span,
                    "across counts repeats in the match width, which is not given",
                    "add a line to the cloth: match-width \"52in\"",
                );
                return None;
            };
            if count.value == 0 || count.value > 200 {
                let message = format!("{} repeats across is not possible", count.value);
                ctx.error(
                    "odd-count",
                    count.span,
                    message,
                    "count the repeats from match line to match line",
                );
                return None;
            }
            let count = i64::from(count.value);
            let h = match_width.value / count;
            Some((h * count, h))
        }
    }
}

/// The vertical repeat and the drop.
fn drop(ctx: &mut Ctx, repeat: &Node, vertical: Length) -> Option<(Length, Length)> {
    match (repeat.prop::<(u32, u32)>("drop"), repeat.prop::<Length>("shift")) {
        (Given::Bad, _) | (_, Given::Bad) => None,
        (Given::Is(one), Given::Is(other)) => {
            ctx.diags.push(
                Diag::error("two-answers", other.span, "the drop is given twice over")
                    .also(one.span, "here as a fraction")
                    .help("keep drop= or shift=, not both"),
            );
            None
        }
        (Given::Is(Spanned { value: (n, d), .. }), Given::Absent) => {
            let (n, d) = (i64::from(n), i64::from(d));
            let part = vertical.scale(1, d);
            Some((part * d, part * n))
        }
        (Given::Absent, Given::Is(shift)) => {
            let most = Range { least: Length::ZERO, most: vertical };
            let shift = ctx.ranged(shift, "the shift", most)?;
            Some((vertical, shift.rem_euclid(vertical)))
        }
        (Given::Absent, Given::Absent) => {
            ctx.note("The pattern matches straight across: no drop.", COMMON);
            Some((vertical, Length::ZERO))
        }
    }
}

fn left_match(
    ctx: &mut Ctx,
    node: &Node,
    width: Length,
    match_width: Length,
    edge: Length,
) -> Option<Length> {
    match node.child_arg::<Length>("left-match") {
        Given::Bad => None,
        Given::Absent => {
            let left = (width - match_width) / 2;
            if left > edge {
                // Without a figure: a bolt that is measured may be narrower than its label says.
                let text = "The match lines stand equally far in from both edges of the cloth.".to_owned();
                ctx.note(text, "derived: the match width in the middle of the cloth");
            }
            Some(left)
        }
        Given::Is(left) => {
            let most = width - match_width - edge;
            if left.value < edge || left.value > most {
                let message = format!(
                    "a left match line {} in leaves less than {} at one edge",
                    ctx.show_cloth(left.value),
                    ctx.show_cloth(edge)
                );
                let help = format!("give from {} to {}", ctx.show_cloth(edge), ctx.show_cloth(most));
                ctx.error("match-line-off-cloth", left.span, message, help);
                return None;
            }
            Some(left.value)
        }
    }
}
