//! Openings and fixings of a wall, each proven to lie on it and clear of the others.

use std::collections::BTreeMap;

use super::ctx::{Ctx, Range, inches};
use super::defaults;
use super::facts::short;
use super::model::{BothEnds, Fixing, FixingKind, Head, Opening, OpeningCloth, OpeningKind, Wall};
use crate::diag::Diag;
use crate::geom::{Hole, Rect};
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

const SIZE: Range = inches(64, 60 * 12);
const PLACE: Range = Range { least: Length::ZERO, most: Length::inches(200 * 12) };
const CASING: Range = inches(0, 24);

/// The labels of openings and fixings in one room, each with its place.
#[derive(Debug, Default)]
pub struct Labels {
    taken: BTreeMap<String, Span>,
    /// The last number given behind each letter.
    numbers: BTreeMap<char, usize>,
}

impl Labels {
    /// The labels that the file itself gives in a room.
    pub fn of(ctx: &mut Ctx, room: &Node) -> Labels {
        let mut labels = Labels::default();
        let walls = room.children.iter().filter(|node| node.spec.name == "wall");
        for node in walls.flat_map(|wall| &wall.children) {
            if opening_kind(node).is_none() && fixing_kind(node).is_none() {
                continue;
            }
            let Some(label) = node.arg::<String>(0).ok() else { continue };
            match labels.taken.get(&label.value) {
                Some(&before) => ctx.diags.push(
                    Diag::error(
                        "repeated-label",
                        label.span,
                        format!("{} is taken in this room", label.value),
                    )
                    .also(before, "by this one")
                    .help("give it another label, or leave the label out"),
                ),
                None => {
                    labels.taken.insert(label.value, label.span);
                }
            }
        }
        labels
    }

    /// The given label, or the next free number behind the kind's letter.
    fn label(&mut self, ctx: &mut Ctx, node: &Node, letter: char) -> Option<String> {
        match node.arg::<String>(0) {
            Given::Bad => None,
            Given::Is(label) => short(ctx, label, "the label", 4),
            Given::Absent => {
                let number = self.numbers.entry(letter).or_default();
                let label = loop {
                    *number += 1;
                    let label = format!("{letter}{number}");
                    if !self.taken.contains_key(&label) {
                        break label;
                    }
                };
                self.taken.insert(label.clone(), node.name);
                Some(label)
            }
        }
    }
}

fn opening_kind(node: &Node) -> Option<(OpeningKind, char)> {
    Some(match node.spec.name {
        "door" => (OpeningKind::Door, 'D'),
        "window" => (OpeningKind::Window, 'W'),
        "archway" => (OpeningKind::Archway, 'A'),
        "niche" => (OpeningKind::Niche, 'N'),
        "fireplace" => (OpeningKind::Fireplace, 'F'),
        "mantel" => (OpeningKind::Mantel, 'M'),
        "built-in" => (OpeningKind::BuiltIn, 'B'),
        _ => return None,
    })
}

fn fixing_kind(node: &Node) -> Option<(FixingKind, char)> {
    Some(match node.spec.name {
        "switch" => (FixingKind::Switch, 'S'),
        "box" => (FixingKind::Box, 'X'),
        "sconce" => (FixingKind::Sconce, 'L'),
        "vent" => (FixingKind::Vent, 'V'),
        "thermostat" => (FixingKind::Thermostat, 'T'),
        _ => return None,
    })
}

/// The wall with its openings and fixings, left to right, and their places in the file.
pub fn fill(
    ctx: &mut Ctx,
    room: &Node,
    node: &Node,
    mut wall: Wall,
    labels: &mut Labels,
) -> Option<(Wall, Vec<Span>, Vec<Span>)> {
    let mut openings: Vec<(Opening, Span)> = Vec::new();
    let mut fixings: Vec<(Fixing, Span)> = Vec::new();
    let mut both_ends = Vec::new();
    let mut sound = true;
    for child in &node.children {
        if let Some((kind, letter)) = opening_kind(child) {
            let label = labels.label(ctx, child, letter);
            match opening(ctx, room, child, &wall, kind, label, &mut both_ends) {
                Some(opening) => openings.push((opening, child.head)),
                None => sound = false,
            }
        } else if let Some((kind, letter)) = fixing_kind(child) {
            let label = labels.label(ctx, child, letter);
            match fixing(ctx, child, &wall, kind, label, &mut both_ends) {
                Some(fixing) => fixings.push((fixing, child.head)),
                None => sound = false,
            }
        }
    }
    sound &= clear_of_each_other(ctx, &openings, &fixings);
    openings.sort_by_key(|(opening, span)| (opening.outer.x0, opening.outer.y0, span.start));
    fixings.sort_by_key(|(fixing, span)| (fixing.rect.x0, fixing.rect.y0, span.start));
    both_ends.sort_by(|a, b| (a.from_left, &a.label).cmp(&(b.from_left, &b.label)));
    wall.cross_checks.both_ends = both_ends;
    let (opening_places, fixing_places);
    (wall.openings, opening_places) = openings.into_iter().unzip();
    (wall.fixings, fixing_places) = fixings.into_iter().unzip();
    sound.then_some((wall, opening_places, fixing_places))
}

fn opening(
    ctx: &mut Ctx,
    room: &Node,
    node: &Node,
    wall: &Wall,
    kind: OpeningKind,
    label: Option<String>,
    both_ends: &mut Vec<BothEnds>,
) -> Option<Opening> {
    let name = node.spec.name;
    let width = node.prop("width").ok().and_then(|w| ctx.ranged(w, &format!("the {name}'s width"), SIZE));
    let height = node.prop("height").ok().and_then(|h| ctx.ranged(h, &format!("the {name}'s height"), SIZE));
    let sill = match node.prop::<Length>("sill") {
        Given::Absent => Some(Length::ZERO),
        Given::Bad => None,
        Given::Is(sill) => ctx.ranged(sill, "the sill", PLACE),
    };
    let cased = matches!(kind, OpeningKind::Door | OpeningKind::Window | OpeningKind::Archway);
    let given = match node.prop::<Length>("casing") {
        Given::Absent if cased => room.child_arg::<Length>("casing"),
        given => given,
    };
    let casing = match given {
        Given::Absent => {
            let unused = node.partial || room.partial;
            if matches!(kind, OpeningKind::Door | OpeningKind::Window) && !unused {
                let message = format!("the {name} has no casing: the cloth ends at the clear opening");
                let diag = Diag::warning("no-casing", node.head, message);
                ctx.diags.push(diag.help("add casing=\"3 1/2in\", or casing=0 if there is none"));
            }
            Some(Length::ZERO)
        }
        Given::Bad => None,
        Given::Is(casing) => ctx.ranged(casing, "the casing", CASING),
    };
    let cloth = match node.prop::<&'static str>("cloth") {
        Given::Bad => None,
        Given::Is(Spanned { value: "pieced", .. }) => Some(OpeningCloth::Pieced),
        Given::Is(_) => Some(OpeningCloth::CoveredThrough),
        Given::Absent => {
            ctx.note("Panels cover openings whole and are cut free after stapling.", defaults::COMMON);
            Some(OpeningCloth::CoveredThrough)
        }
    };
    let (width, rise) = (width?, head(ctx, node, width, height));
    let (x0, from_right) = from_ends(ctx, node, wall.width, width)?;
    let (height, sill, casing) = (height?, sill?, casing?);
    let foot = wall.floor.at(x0 + width / 2);
    let clear = Rect::new(x0, foot + sill, x0 + width, foot + sill + height);
    let all_round = matches!(kind, OpeningKind::Window | OpeningKind::Niche | OpeningKind::BuiltIn)
        && sill > Length::ZERO
        || kind == OpeningKind::Mantel;
    let clear_rise = rise?;
    let Hole { rect: mut outer, rise: outer_rise } = Hole { rect: clear, rise: clear_rise }.grown(casing);
    if !all_round {
        outer.y0 = clear.y0;
    }
    let head = Head { clear_rise, outer_rise };
    let label = label?;
    if !lies_on(ctx, wall, &outer, node.head, &format!("{name} {label}"), casing > Length::ZERO) {
        return None;
    }
    if let Some(from_right) = from_right {
        both_ends.push(BothEnds { label: label.clone(), from_left: x0, width, from_right });
    }
    Some(Opening { label, kind, clear, casing, outer, head, cloth: cloth? })
}

/// The rise of an opening's head: zero when it is square.
fn head(ctx: &mut Ctx, node: &Node, width: Option<Length>, height: Option<Length>) -> Option<Length> {
    let given = node.prop::<&'static str>("head");
    let rise = node.prop::<Length>("rise");
    let kind = match &given {
        Given::Bad => return None,
        Given::Absent => "square",
        Given::Is(kind) => kind.value,
    };
    let (rise, place) = match (kind, rise) {
        (_, Given::Bad) => return None,
        ("segment", Given::Is(rise)) => (ctx.ranged(rise, "the rise of the arch", SIZE)?, rise.span),
        ("segment", Given::Absent) => {
            let help = "add rise=, from the springing up to the crown of the arch";
            ctx.error("missing-property", node.head, "the segment head has no rise=", help);
            return None;
        }
        (_, Given::Is(rise)) => {
            let message = if kind == "round" {
                "a round head rises by half its width; another rise makes it a segment"
            } else {
                "a square head has no rise"
            };
            ctx.error("odd-rise", rise.span, message, "write head=segment, or take rise= out");
            return None;
        }
        ("round", Given::Absent) => (width? / 2, node.head),
        (_, Given::Absent) => return Some(Length::ZERO),
    };
    let (width, height) = (width?, height?);
    let label = node.spec.name;
    let problem = if rise > width / 2 {
        Some((
            format!(
                "an arch {} wide rises by {} at most, which is a half circle",
                ctx.show(width),
                ctx.show(width / 2)
            ),
            "measure the rise from the springing, or write head=round",
        ))
    } else if rise >= height {
        let (rise, height) = (ctx.show(rise), ctx.show(height));
        Some((
            format!("the arch rises by {rise}, and the {label} is {height} high to its crown"),
            "height= runs to the crown of the arch: measure it again",
        ))
    } else {
        None
    };
    let Some((message, help)) = problem else { return Some(rise) };
    ctx.error("odd-rise", place, message, help);
    None
}

/// The left edge, from either end of the wall but not from both.
pub(super) fn from_left(ctx: &mut Ctx, node: &Node, wall: Length, width: Length) -> Option<Length> {
    let (left, right) = from_ends(ctx, node, wall, width)?;
    if right.is_some() {
        ctx.error(
            "two-answers",
            node.head,
            "the place across is given twice over",
            "keep from-left= or from-right=, not both",
        );
        return None;
    }
    Some(left)
}

/// The left edge, from either end of the wall; and the distance from the right end where both were
/// taped, for [`super::survey`].
fn from_ends(ctx: &mut Ctx, node: &Node, wall: Length, width: Length) -> Option<(Length, Option<Length>)> {
    let mut ranged = |given, end| match given {
        Given::Bad => None,
        Given::Absent => Some(None),
        Given::Is(place) => ctx.ranged(place, &format!("the distance from the {end} end"), PLACE).map(Some),
    };
    let left = ranged(node.prop("from-left"), "left");
    let right = ranged(node.prop("from-right"), "right");
    match (left?, right?) {
        (Some(left), right) => Some((left, right)),
        (None, Some(right)) => Some((wall - right - width, None)),
        (None, None) if node.partial => None,
        (None, None) => {
            let message = format!("{} has no place across the wall", node.spec.name);
            ctx.error(
                "missing-place",
                node.head,
                message,
                "add from-left=, measured from the wall's left end",
            );
            None
        }
    }
}

/// Whether a rectangle lies on the wall, below its crown (but perhaps in a frieze); told otherwise, with
/// the excess.
fn lies_on(ctx: &mut Ctx, wall: &Wall, rect: &Rect, place: Span, what: &str, cased: bool) -> bool {
    let with = if cased { ", casing included," } else { "" };
    let top = wall.crown_line().min_between(rect.x0, rect.x1);
    let foot = wall.floor.min_between(rect.x0, rect.x1);
    let name = &wall.label;
    let wide = |ctx: &Ctx| {
        format!("wall {name} is {} wide: check the place, the width and the casing", ctx.show(wall.width))
    };
    let high = |ctx: &Ctx| {
        format!(
            "{} lie between its floor and the underside of its crown: check the heights and the casing",
            ctx.show(top - foot)
        )
    };
    let (excess, edge, help) = if rect.x0 < Length::ZERO {
        (-rect.x0, format!("past the left end of wall {name}"), wide(ctx))
    } else if rect.x1 > wall.width {
        (rect.x1 - wall.width, format!("past the right end of wall {name}"), wide(ctx))
    } else if rect.y1 > top {
        (rect.y1 - top, format!("above the field of wall {name}"), high(ctx))
    } else if rect.y0 < foot {
        (foot - rect.y0, format!("below the floor at wall {name}"), high(ctx))
    } else {
        return true;
    };
    let message = format!("{what}{with} goes {} {edge}", ctx.show(excess));
    ctx.error("opening-outside-wall", place, message, help);
    false
}

fn fixing(
    ctx: &mut Ctx,
    node: &Node,
    wall: &Wall,
    kind: FixingKind,
    label: Option<String>,
    both_ends: &mut Vec<BothEnds>,
) -> Option<Fixing> {
    let name = node.spec.name;
    let (default_width, default_height) = match kind {
        FixingKind::Switch | FixingKind::Box | FixingKind::Thermostat => {
            (&defaults::BOX_WIDTH, &defaults::BOX_HEIGHT)
        }
        FixingKind::Sconce => (&defaults::SCONCE_BOX, &defaults::SCONCE_BOX),
        FixingKind::Vent => (&defaults::VENT_WIDTH, &defaults::VENT_HEIGHT),
    };
    let size = inches(32, 96);
    let width = ctx.length_or(node.prop("width"), &format!("the {name}'s width"), size, default_width);
    let height = ctx.length_or(node.prop("height"), &format!("the {name}'s height"), size, default_height);
    let up = node.prop("above-floor").ok();
    let up = up.and_then(|up| ctx.ranged(up, "the height above the floor", PLACE));
    // Boxes are taped to their middle, so a box has no width of its own here.
    let (x, from_right) = from_ends(ctx, node, wall.width, Length::ZERO)?;
    let (width, height, up, label) = (width?, height?, up?, label?);
    let y = wall.floor.at(x) + up;
    let (x0, y0) = (x - width / 2, y - height / 2);
    let rect = Rect::new(x0, y0, x0 + width, y0 + height);
    if !lies_on(ctx, wall, &rect, node.head, &format!("{name} {label}"), false) {
        return None;
    }
    if let Some(from_right) = from_right {
        let (label, width) = (label.clone(), Length::ZERO);
        both_ends.push(BothEnds { label, from_left: x, width, from_right });
    }
    Some(Fixing { label, kind, rect })
}

fn clear_of_each_other(ctx: &mut Ctx, openings: &[(Opening, Span)], fixings: &[(Fixing, Span)]) -> bool {
    let things: Vec<(&str, Hole, Span)> = openings
        .iter()
        .map(|(opening, span)| (opening.label.as_str(), opening.hole(), *span))
        .chain(fixings.iter().map(|(fixing, span)| (fixing.label.as_str(), fixing.rect.into(), *span)))
        .collect();
    let mut sound = true;
    for (i, (label, hole, span)) in things.iter().enumerate() {
        let meets = |other: &Hole| other.overlaps(&hole.rect) && hole.overlaps(&other.rect);
        let Some((other, over, first)) = things[..i].iter().find(|(_, other, _)| meets(other)) else {
            continue;
        };
        let (rect, over) = (hole.rect, over.rect);
        sound = false;
        let across = rect.x1.min(over.x1) - rect.x0.max(over.x0);
        let up = rect.y1.min(over.y1) - rect.y0.max(over.y0);
        let message =
            format!("{label} and {other} overlap by {} across and {} up", ctx.show(across), ctx.show(up));
        ctx.diags.push(
            Diag::error("overlap", *span, message)
                .also(*first, format!("{other} stands here"))
                .help("casings count: check from-left, width and casing of both"),
        );
    }
    sound
}
