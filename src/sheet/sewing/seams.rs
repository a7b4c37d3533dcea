//! What is told of the seams of a panel: their order, where they are sewn, and how the strips stand to one
//! another there.

use crate::plan::model::{Panel, Piece, PieceKind, Plan, Strip, Way};
use crate::sheet::words;
use crate::units::Length;

/// How a panel is sewn, in sentences.
pub(super) fn words(plan: &Plan, way: Way, panel: &Panel) -> String {
    let labels = panel.joints();
    let order = match labels.as_slice() {
        [] => {
            return match way {
                Way::Upright => "One piece: nothing to sew. Mark its top on the back.".to_owned(),
                Way::Railroaded => {
                    "One piece, railroaded: nothing to sew. Mark its top, the right edge of the \
                                    cloth, on the back."
                        .to_owned()
                }
            };
        }
        [one] => format!("Sew {one} and press open."),
        several => format!("Sew in this order, and press open: {}.", several.join(", ")),
    };
    let standing = standing(plan, panel).map_or(String::new(), |standing| format!(" {standing}"));
    format!("Mark the top of each strip on the back. {order} {}{standing}", edges(plan, panel))
}

/// Where the edges at seams are sewn. A whole width has its selvage beyond the match line; a part of one is
/// cut to the allowance and has no line there.
fn edges(plan: &Plan, panel: &Panel) -> String {
    let allowance = plan.job.house.seam_allowance;
    let said = words::cloth_length(plan, allowance);
    let piece = |strip: &Strip| plan.pieces.get(strip.piece.0);
    let patterned =
        panel.strips.first().and_then(piece).is_some_and(|piece| {
            plan.job.cloths.get(piece.cloth).is_some_and(|cloth| cloth.pattern.is_some())
        });
    let line = if patterned { "match line" } else { "seam line" };
    let beyond = panel.joined().into_iter().flat_map(|(a, b)| {
        let right = piece(a).map(|piece| piece.gross.x1 - piece.net.x1);
        [right, piece(b).map(|piece| piece.net.x0 - piece.gross.x0)]
    });
    let beyond: Vec<Length> = beyond.flatten().collect();
    let (cut, uncut) = (beyond.contains(&allowance), beyond.iter().any(|&length| length != allowance));
    let trimmed = format!("sew on its {line}, so far in, and trim to {said}");
    match (cut, uncut) {
        (true, false) => format!("Each edge at a seam is cut already: sew {said} in."),
        (false, _) => format!("Each edge at a seam: {trimmed}."),
        (true, true) => format!(
            "An edge with {said} beyond the seam is cut already: sew {said} in. One with another length beyond: {trimmed}. \
             Lay line on line: cut edges need not meet."
        ),
    }
}

/// Whether the tops and the feet of strips that are sewn together are level; `None` where only openings part
/// them.
fn standing(plan: &Plan, panel: &Panel) -> Option<String> {
    let over_or_under = |piece: &Piece| piece.kind == PieceKind::OpeningPiece;
    let mut pairs = pairs(plan, panel);
    pairs.retain(|(a, b)| !over_or_under(a) && !over_or_under(b));
    let level = |end: fn(&Piece) -> Length| pairs.iter().all(|(a, b)| is_level(plan, end(a), end(b)));
    let first = pairs.first()?;
    let by = match plan.job.cloths.get(first.0.cloth).is_some_and(|cloth| cloth.pattern.is_some()) {
        true => "match on the motif",
        false => "keep to the measures under Top and Foot",
    };
    Some(match (level(|piece| piece.gross.y1), level(|piece| piece.gross.y0)) {
        (true, true) => "Tops and feet are level.".to_owned(),
        (true, false) => "Tops are level, feet are not.".to_owned(),
        (false, true) => "Feet are level, tops are not.".to_owned(),
        (false, false) => format!("Neither tops nor feet are level: {by}."),
    })
}

/// Whether two heights differ by less than is printed.
fn is_level(plan: &Plan, a: Length, b: Length) -> bool {
    words::cloth_length(plan, (a - b).abs()) == words::cloth_length(plan, Length::ZERO)
}

/// The pieces that are sewn together, left and right.
fn pairs<'a>(plan: &'a Plan, panel: &Panel) -> Vec<(&'a Piece, &'a Piece)> {
    let piece = |strip: &Strip| plan.pieces.get(strip.piece.0);
    panel.joined().into_iter().filter_map(|(a, b)| Some((piece(a)?, piece(b)?))).collect()
}

/// How the top and the foot of a strip stand to those of the strip that it is sewn to at its left: of several
/// to the highest top and the lowest foot.
pub(super) fn against_the_left(plan: &Plan, panel: &Panel, strip: &Strip) -> [String; 2] {
    let Some(own) = plan.pieces.get(strip.piece.0) else { return [String::new(), String::new()] };
    let left: Vec<&Piece> = pairs(plan, panel)
        .into_iter()
        .filter(|(_, right)| right.label == own.label)
        .map(|(a, _)| a)
        .collect();
    let told = |own: Length, other: Option<(Length, &str)>| match other {
        None => "–".to_owned(),
        Some((level, label)) if is_level(plan, level, own) => format!("level with {label}"),
        Some((level, label)) => {
            let side = if own > level { "above" } else { "below" };
            format!("{} {side} {label}", words::cloth_length(plan, (own - level).abs()))
        }
    };
    let top = left.iter().map(|piece| (piece.gross.y1, piece.label.as_str())).max();
    let foot = left.iter().map(|piece| (piece.gross.y0, piece.label.as_str())).min();
    [told(own.gross.y1, top), told(own.gross.y0, foot)]
}
