//! Batting, trims, allowances and spacings.

use super::cloths::sold_in;
use super::ctx::{Ctx, Range, inches};
use super::defaults::{self, COMMON, MEMORY};
use super::facts::short;
use super::model::{Batting, House, Trim, TrimKind, Trims};
use crate::diag::Diag;
use crate::parse::{Given, Node, ParsedJob};
use crate::source::Spanned;
use crate::units::Length;

const UP_TO_A_FOOT: Range = Range { least: Length::ZERO, most: Length::inches(12) };

/// The batting.
pub fn batting(ctx: &mut Ctx, parsed: &ParsedJob) -> Option<Batting> {
    let node = parsed.nodes.iter().find(|node| node.spec.name == "batting");
    let prop = |name: &str| node.map_or(Given::Absent, |node| node.prop::<Length>(name));
    let loft = ctx.length_or(prop("loft"), "the loft", inches(4, 4), &defaults::LOFT);
    let width =
        ctx.length_or(prop("roll-width"), "the roll's width", inches(6 * 64, 200), &defaults::ROLL_WIDTH);
    let long = Range { least: Length::yards(1), most: Length::yards(500) };
    let length = ctx.length_or(prop("roll-length"), "the roll's length", long, &defaults::ROLL_LENGTH);
    let gap = ctx.length_or(prop("gap"), "the gap", UP_TO_A_FOOT, &defaults::GAP);
    Some(Batting { loft: loft?, roll_width: width?, roll_length: length?, gap: gap? })
}

/// The four trims; an edge that the file does not name gets the customary one.
pub fn trims(ctx: &mut Ctx, parsed: &ParsedJob) -> Option<Trims> {
    let nodes: Vec<&Node> = parsed.nodes.iter().filter(|node| node.spec.name == "trim").collect();
    let mut find = |place: &str| {
        let mut these = nodes
            .iter()
            .filter(|node| node.arg::<&'static str>(0).ok().is_some_and(|given| given.value == place));
        let first = these.next().copied();
        for again in these {
            let message = format!("the trim for {place} is given twice");
            let mut diag = Diag::error("repeated-trim", again.head, message).help("keep one of them");
            if let Some(first) = first {
                diag = diag.also(first.head, "first here");
            }
            ctx.diags.push(diag);
        }
        first
    };
    let (corner, opening, top, bottom) = (find("corner"), find("opening"), find("top"), find("bottom"));
    let corner = trim(ctx, corner, "inside corners and free ends", TrimKind::SingleWelt);
    let opening = trim(ctx, opening, "openings", TrimKind::SingleWelt);
    let top = trim(ctx, top, "the top edge", TrimKind::Braid);
    let bottom = trim(ctx, bottom, "the bottom edge", TrimKind::SingleWelt);
    Some(Trims { corner: corner?, opening: opening?, top: top?, bottom: bottom? })
}

fn trim(ctx: &mut Ctx, node: Option<&Node>, edge: &str, customary: TrimKind) -> Option<Trim> {
    let kind = match node.map_or(Given::Absent, |node| node.arg::<&'static str>(1)) {
        Given::Bad => return None,
        Given::Is(word) => kind_of(word.value),
        Given::Absent => {
            ctx.note(format!("Trim at {edge}: {}.", words(customary)), COMMON);
            customary
        }
    };
    let name = match node.map_or(Given::Absent, |node| node.prop::<String>("name")) {
        Given::Bad => return None,
        Given::Is(name) => short(ctx, name, "the trim's name", 30)?,
        Given::Absent => words(kind).to_owned(),
    };
    let welt = matches!(kind, TrimKind::SingleWelt | TrimKind::DoubleWelt);
    let strip = match (node.map_or(Given::Absent, |node| node.prop::<Length>("strip")), kind) {
        (Given::Bad, _) => return None,
        (Given::Is(strip), _) if !welt => {
            let message = format!("{} is bought: no strip is cut for it", words(kind));
            ctx.error("strip-of-bought-trim", strip.span, message, "leave strip= out, or make it a welt");
            return None;
        }
        (strip, TrimKind::SingleWelt) => {
            ctx.length_or(strip, "the strip", inches(32, 12), &defaults::SINGLE_STRIP)?
        }
        (strip, TrimKind::DoubleWelt) => {
            ctx.length_or(strip, "the strip", inches(64, 12), &defaults::DOUBLE_STRIP)?
        }
        _ => Length::ZERO,
    };
    let mut flag = |name: &str, customary: bool, text: &str| match node
        .map_or(Given::Absent, |node| node.prop::<bool>(name))
    {
        Given::Bad => None,
        Given::Is(flag) => Some(flag.value),
        Given::Absent => {
            if customary {
                ctx.note(text, COMMON);
            }
            Some(customary)
        }
    };
    let matched = flag("matched", welt, "The pattern of a welt's strips meets that of the wall.")?;
    let whole = kind == TrimKind::Braid && customary == TrimKind::Braid;
    let unbroken = flag("unbroken", whole, "Braid at the top edge is one length round the room.")?;
    let bought = match kind {
        TrimKind::SingleWelt | TrimKind::DoubleWelt => "Cord for welts",
        TrimKind::Braid | TrimKind::Gimp | TrimKind::FlatBand => "Bought trim",
        TrimKind::None => "",
    };
    let sold_in = if kind == TrimKind::None {
        crate::job::model::SoldIn::Yard
    } else {
        sold_in(ctx, node.map_or(Given::Absent, |node| node.prop("sold-in")), bought)?
    };
    Some(Trim { kind, name, strip, matched: matched && welt, unbroken, sold_in })
}

fn kind_of(word: &str) -> TrimKind {
    match word {
        "single-welt" => TrimKind::SingleWelt,
        "double-welt" => TrimKind::DoubleWelt,
        "braid" => TrimKind::Braid,
        "gimp" => TrimKind::Gimp,
        "flat-band" => TrimKind::FlatBand,
        _ => TrimKind::None,
    }
}

fn words(kind: TrimKind) -> &'static str {
    match kind {
        TrimKind::SingleWelt => "single welt",
        TrimKind::DoubleWelt => "double welt",
        TrimKind::Braid => "braid",
        TrimKind::Gimp => "gimp",
        TrimKind::FlatBand => "flat band",
        TrimKind::None => "no trim",
    }
}

/// The allowances and spacings.
pub fn house(ctx: &mut Ctx, parsed: &ParsedJob) -> Option<House> {
    let node = parsed.nodes.iter().find(|node| node.spec.name == "house");
    let outside = has_outside_corner(parsed);
    let mut length = |name: &str, range: Range, default: &defaults::Default| {
        let given = node.map_or(Given::Absent, |node| node.child_arg::<Length>(name));
        // Figures for outside corners are no assumption of a job that has none.
        let idle = !outside && matches!(name, "wrap-allowance" | "fold-allowance" | "wrap-staples");
        if idle && given.is_absent() {
            return Some(ctx.figure(default));
        }
        ctx.length_or(given, &name.replace('-', " "), range, default)
    };
    let spacing = inches(16, 48);
    let seam_allowance = length("seam-allowance", inches(8, 4), &defaults::SEAM);
    let top_allowance = length("top-allowance", UP_TO_A_FOOT, &defaults::TOP);
    let bottom_allowance = length("bottom-allowance", UP_TO_A_FOOT, &defaults::BOTTOM);
    let pull_allowance = length("pull-allowance", UP_TO_A_FOOT, &defaults::PULL);
    let wrap_allowance = length("wrap-allowance", inches(32, 12), &defaults::WRAP);
    let fold_allowance = length("fold-allowance", inches(16, 12), &defaults::FOLD);
    let smallest_sliver = length("smallest-sliver", UP_TO_A_FOOT, &defaults::SLIVER);
    let edge_staples = length("edge-staples", spacing, &defaults::EDGE_STAPLES);
    let wrap_staples = length("wrap-staples", spacing, &defaults::WRAP_STAPLES);
    let tack_staples = length("tack-staples", spacing, &defaults::TACKS);
    let batting_edge_staples = length("batting-edge-staples", spacing, &defaults::BATTING_EDGE);
    let batting_butt_staples = length("batting-butt-staples", spacing, &defaults::BATTING_BUTT);
    let staple_leg = length("staple-leg", inches(8, 3), &defaults::STAPLE_LEG);
    let joint_clearance = length("joint-clearance", UP_TO_A_FOOT, &defaults::JOINT_CLEARANCE);
    let given = |name: &str| node.map_or(Given::Absent, |node| node.child_arg::<u32>(name));
    let staples_per_box =
        count(ctx, given("staples-per-box"), 100..=100_000, 5000, "A box holds 5000 staples.", MEMORY);
    let crew = count(ctx, given("crew"), 1..=20, 2, "Two people do the work.", COMMON);
    Some(House {
        seam_allowance: seam_allowance?,
        top_allowance: top_allowance?,
        bottom_allowance: bottom_allowance?,
        pull_allowance: pull_allowance?,
        wrap_allowance: wrap_allowance?,
        fold_allowance: fold_allowance?,
        smallest_sliver: smallest_sliver?,
        edge_staples: edge_staples?,
        wrap_staples: wrap_staples?,
        tack_staples: tack_staples?,
        batting_edge_staples: batting_edge_staples?,
        batting_butt_staples: batting_butt_staples?,
        staple_leg: staple_leg?,
        staples_per_box: staples_per_box?,
        joint_clearance: joint_clearance?,
        crew: crew?,
    })
}

fn has_outside_corner(parsed: &ParsedJob) -> bool {
    let rooms = parsed.nodes.iter().filter(|node| node.spec.name == "room");
    let mut corners = rooms.flat_map(|room| &room.children).filter(|node| node.spec.name == "corner");
    corners.any(|corner| corner.arg::<&'static str>(1).ok().is_some_and(|kind| kind.value == "outside"))
}

fn count(
    ctx: &mut Ctx,
    given: Given<Spanned<u32>>,
    range: std::ops::RangeInclusive<u32>,
    default: u32,
    text: &str,
    source: &str,
) -> Option<u32> {
    match given {
        Given::Bad => None,
        Given::Absent => {
            ctx.note(text, source);
            Some(default)
        }
        Given::Is(count) if range.contains(&count.value) => Some(count.value),
        Given::Is(count) => {
            let message = format!("{} is not possible here", count.value);
            let help = format!("give from {} to {}", range.start(), range.end());
            ctx.error("odd-count", count.span, message, help);
            None
        }
    }
}
