//! How square a wall is, by its diagonals.
//!
//! A wall is taken as a figure of four corners with level widths and upright heights. Each diagonal then
//! tells, with the widths and heights, how far the left end leans from bottom to top; two diagonals tell it
//! twice over, and must agree. The limits are common practice without a source.

use super::ctx::{Ctx, Range, inches};
use super::model::Wall;
use crate::diag::Diag;
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

const DIAGONAL: Range = inches(2 * 64, 220 * 12);
/// Two diagonals that tell leans which differ by more were not both measured rightly.
const AGREE: Length = Length::inch_64ths(32);
/// An end that leans by more is told.
pub(super) const LEANS: Length = Length::inch_64ths(48);
/// No end leans by more: a slip of the tape.
const MOST: Length = Length::inches(6);

/// A diagonal, and how far the left end leans by it: to the right when positive.
struct Told {
    name: &'static str,
    place: Span,
    lean: Length,
}

/// How far the ends of `wall` lie beyond their place at mid height, by the diagonals that its line gives;
/// zero when it gives none. Tells what is doubtful, and `None` for what cannot be.
pub(super) fn lean(ctx: &mut Ctx, node: &Node, wall: &Wall) -> Option<Length> {
    let Some(line) = node.child("diagonal") else { return Some(Length::ZERO) };
    let right = wall.width;
    let (rising, falling) = (line.prop::<Length>("rising"), line.prop::<Length>("falling"));
    if matches!((&rising, &falling), (Given::Absent, Given::Absent)) && !line.partial {
        let help = "add rising=, from the bottom left to the top right, and falling=, from the top left down";
        ctx.error("missing-property", line.head, "no diagonal is given", help);
        return None;
    }
    let up = wall.ceiling.at(right) - wall.floor.at(Length::ZERO);
    let down = wall.ceiling.at(Length::ZERO) - wall.floor.at(right);
    let rising = told(ctx, rising, "rising", up, |across| across - wall.width_top)?;
    let falling = told(ctx, falling, "falling", down, |across| wall.width_bottom - across)?;
    let lean = match (rising, falling) {
        (Some(one), Some(other)) => agreed(ctx, wall, line.head, one, other),
        (Some(only), None) | (None, Some(only)) => only.lean,
        (None, None) => return Some(Length::ZERO),
    };
    let other = lean + wall.width_top - wall.width_bottom;
    if lean.abs().max(other.abs()) > LEANS {
        let message = format!(
            "wall {} is out of square: from bottom to top its left end leans {}, its right end {}",
            wall.label,
            way(ctx, lean),
            way(ctx, other)
        );
        let diag = Diag::warning("out-of-square", line.head, message);
        ctx.diags.push(diag.help("hold a plumb line to both ends; the allowances there take the lean up"));
    }
    Some(lean.abs().max(other.abs()) / 2)
}

/// What a diagonal tells: `rise` is how far it goes up, and `leans` what its reach across tells.
fn told(
    ctx: &mut Ctx,
    given: Given<Spanned<Length>>,
    name: &'static str,
    rise: Length,
    leans: impl Fn(Length) -> Length,
) -> Option<Option<Told>> {
    let diagonal = match given {
        Given::Absent => return Some(None),
        Given::Bad => return None,
        Given::Is(diagonal) => diagonal,
    };
    let length = ctx.ranged(diagonal, &format!("the {name} diagonal"), DIAGONAL)?;
    let square = |l: Length| i128::from(l.nm()) * i128::from(l.nm());
    let across = square(length) - square(rise);
    let lean = (across >= 0).then(|| leans(Length::nanometres(across.unsigned_abs().isqrt() as i64)));
    match lean.filter(|lean| lean.abs() <= MOST) {
        Some(lean) => Some(Some(Told { name, place: diagonal.span, lean })),
        None => {
            let message = match lean {
                Some(lean) => format!(
                    "by its {name} diagonal of {} the wall's left end would lean {}",
                    ctx.show(length),
                    way(ctx, lean)
                ),
                None => format!(
                    "the {name} diagonal of {} is shorter than the {} that it rises",
                    ctx.show(length),
                    ctx.show(rise.abs())
                ),
            };
            let help = "measure it again, from corner to corner: rising= starts at the bottom left, falling= at the top left";
            ctx.error("odd-diagonal", diagonal.span, message, help);
            None
        }
    }
}

/// The lean that two diagonals tell: their mean where they agree, else the lesser, and which one to doubt.
fn agreed(ctx: &mut Ctx, wall: &Wall, place: Span, one: Told, other: Told) -> Length {
    if (one.lean - other.lean).abs() <= AGREE {
        return (one.lean + other.lean) / 2;
    }
    let (kept, doubted) = if one.lean.abs() <= other.lean.abs() { (&one, &other) } else { (&other, &one) };
    let message = format!(
        "the diagonals of wall {} do not fit its widths and heights: by the {} one its left end leans {}, by the \
         {} one {}",
        wall.label,
        kept.name,
        way(ctx, kept.lean),
        doubted.name,
        way(ctx, doubted.lean)
    );
    ctx.diags.push(
        Diag::warning("diagonals-disagree", place, message)
            .also(doubted.place, "the less likely one")
            .help(format!("measure the {} diagonal again, then the widths at top and bottom", doubted.name)),
    );
    kept.lean
}

/// "1/2″ to the right", "not at all".
fn way(ctx: &Ctx, lean: Length) -> String {
    // What the tape cannot show is told to the nearest sixteenth or millimetre.
    let step = if ctx.metric { Length::mm(1) } else { Length::inch_64ths(4) };
    let shown = lean.abs().round_to(step);
    match lean {
        _ if shown == Length::ZERO => "not at all".to_owned(),
        lean if lean > Length::ZERO => format!("{} to the right", ctx.show(shown)),
        _ => format!("{} to the left", ctx.show(shown)),
    }
}
