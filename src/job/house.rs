//! Batting, trims, allowances and spacings.

use super::cloths::sold_in;
use super::ctx::{Ctx, Range, inches};
use super::defaults::{self, COMMON, MEMORY};
use super::facts::{optional, short};
use super::legs;
use super::model::{Batting, BattingHang, Firmness, House, SeamRules, Trim, TrimKind, Trims};
use super::survey::limits;
use super::welts;
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
    let carry = match prop("carry") {
        Given::Absent if !has_outside_corner(parsed) => Some(ctx.figure(&defaults::CARRY)),
        carry => ctx.length_or(carry, "the carry", UP_TO_A_FOOT, &defaults::CARRY),
    };
    let foamed = match node.map_or(Given::Absent, |node| node.prop::<bool>("foamed")) {
        Given::Bad => None,
        Given::Is(foamed) => Some(foamed.value),
        Given::Absent => {
            ctx.note("The batting is not foamed plastic.", "the job file does not say");
            Some(false)
        }
    };
    let hang = match node.map_or(Given::Absent, |node| node.prop::<&'static str>("hang")) {
        Given::Bad => None,
        Given::Is(word) => Some(hang_of(word.value)),
        Given::Absent => {
            ctx.note("Batting hangs upright.", COMMON);
            Some(BattingHang::Upright)
        }
    };
    let fire = node.map_or(Given::Absent, |node| node.prop::<String>("fire-class"));
    let fire_class = optional(ctx, fire, "the fire class");
    Some(Batting {
        loft: loft?,
        roll_width: width?,
        roll_length: length?,
        gap: gap?,
        carry: carry?,
        hang: hang?,
        foamed: foamed?,
        fire_class: fire_class?,
    })
}

fn hang_of(word: &str) -> BattingHang {
    match word {
        "lying" => BattingHang::Lying,
        "least" => BattingHang::Least,
        _ => BattingHang::Upright,
    }
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
            ctx.note(format!("Trim at {edge}: {}.", customary.words()), COMMON);
            customary
        }
    };
    let name = match node.map_or(Given::Absent, |node| node.prop::<String>("name")) {
        Given::Bad => return None,
        Given::Is(name) => short(ctx, name, "the trim's name", 30)?,
        Given::Absent => kind.words().to_owned(),
    };
    let welt = matches!(kind, TrimKind::SingleWelt | TrimKind::DoubleWelt);
    let cord = match node.map_or(Given::Absent, |node| node.prop::<Length>("cord")) {
        Given::Bad => return None,
        Given::Is(cord) if !welt => {
            let message = format!("{} has no cord", kind.words());
            ctx.error("cord-without-welt", cord.span, message, "leave cord= out, or make it a welt");
            return None;
        }
        Given::Absent if !welt => Length::ZERO,
        cord => ctx.length_or(cord, "the cord", inches(4, 2), &defaults::CORD)?,
    };
    let strip = match node.map_or(Given::Absent, |node| node.prop::<Length>("strip")) {
        Given::Bad => return None,
        Given::Is(strip) if !welt => {
            let message = format!("{} is bought: no strip is cut for it", kind.words());
            ctx.error("strip-of-bought-trim", strip.span, message, "leave strip= out, or make it a welt");
            return None;
        }
        Given::Is(strip) => ctx.ranged(strip, "the strip", inches(32, 12))?,
        Given::Absent if welt => welts::strip(ctx, kind, cord),
        Given::Absent => Length::ZERO,
    };
    if welt && strip < cord * 3 {
        let span = node.map(|node| node.head)?;
        let message =
            format!("a strip {} wide does not go round a cord of {}", ctx.show(strip), ctx.show(cord));
        ctx.error("strip-too-narrow", span, message, "make the strip wider, or the cord thinner");
        return None;
    }
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
    let from_cut_outs = match node.map_or(Given::Absent, |node| node.prop::<bool>("from-cut-outs")) {
        Given::Bad => return None,
        Given::Is(wish) if !welt => {
            let message = format!("{} is bought: no strip is cut for it", kind.words());
            ctx.error(
                "strip-of-bought-trim",
                wish.span,
                message,
                "leave from-cut-outs= out, or make it a welt",
            );
            return None;
        }
        Given::Is(wish) => wish.value,
        Given::Absent => false,
    };
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
    let rolls = Range { least: Length::feet(1), most: Length::yards(1000) };
    let each = match node.map_or(Given::Absent, |node| node.prop::<Length>("roll")) {
        Given::Bad => return None,
        Given::Is(roll) if kind == TrimKind::None => {
            ctx.error("roll-of-no-trim", roll.span, "no trim is bought for this edge", "leave roll= out");
            return None;
        }
        Given::Is(roll) => ctx.ranged(roll, "the roll", rolls)?,
        Given::Absent => sold_in.length(),
    };
    Some(Trim { kind, name, strip, cord, matched: matched && welt, unbroken, sold_in, each, from_cut_outs })
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

/// The allowances and spacings; `loft` is the batting's.
pub fn house(ctx: &mut Ctx, parsed: &ParsedJob, loft: Length) -> Option<House> {
    let node = parsed.nodes.iter().find(|node| node.spec.name == "house");
    let (outside, masonry) = (has_outside_corner(parsed), has_masonry(parsed));
    let mut length = |name: &str, range: Range, default: &defaults::Default| {
        let given = node.map_or(Given::Absent, |node| node.child_arg::<Length>(name));
        // Figures for outside corners or for battens are no assumption of a job that has none.
        let idle = match name {
            "wrap-allowance" | "fold-allowance" | "wrap-staples" | "hem-tape-roll" | "tube-bead" => !outside,
            "batten-length" | "batten-width" | "batten-thickness" | "batten-screws" | "screw-length" => {
                !masonry
            }
            _ => false,
        };
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
    let joint_clearance = length("joint-clearance", UP_TO_A_FOOT, &defaults::JOINT_CLEARANCE);
    let smallest_batting = length("smallest-batting", UP_TO_A_FOOT, &defaults::SMALLEST_BATTING);
    let trim_end = length("trim-end", UP_TO_A_FOOT, &defaults::TRIM_END);
    let sold = Range { least: Length::feet(1), most: Length::yards(1000) };
    let hem_tape_roll = length("hem-tape-roll", sold, &defaults::HEM_TAPE);
    let tube_bead = length("tube-bead", sold, &defaults::TUBE_BEAD);
    let batten_length = length("batten-length", sold, &defaults::BATTEN_LENGTH);
    let batten_width = length("batten-width", inches(32, 6), &defaults::BATTEN_WIDTH);
    let batten_thickness = length("batten-thickness", inches(16, 3), &defaults::BATTEN_THICKNESS);
    let batten_screws = length("batten-screws", inches(64, 48), &defaults::BATTEN_SCREWS);
    let screw_length = length("screw-length", inches(32, 6), &defaults::SCREW_LENGTH);
    let thread_spool =
        length("thread-spool", Range { most: Length::yards(20_000), ..sold }, &defaults::SPOOL);
    let legs = legs::legs(ctx, node, loft);
    let given = |name: &'static str| (name, node.map_or(Given::Absent, |node| node.child_arg::<u32>(name)));
    let staples_per_box =
        count(ctx, given("staples-per-box"), 100..=100_000, 5000, "A box holds 5000 staples.", MEMORY);
    let screws_per_box = match given("screws-per-box") {
        (_, Given::Absent) if !masonry => Some(100),
        given => count(ctx, given, 1..=10_000, 100, "A box holds 100 screws for battens.", MEMORY),
    };
    let staple_waste = count(
        ctx,
        given("staple-waste"),
        0..=100,
        10,
        "Staples are bought with 10 in the hundred to spare.",
        COMMON,
    );
    let stapler_psi = count(
        ctx,
        given("stapler-psi"),
        0..=200,
        80,
        "The stapler works at 80 pounds per square inch.",
        COMMON,
    );
    let thread_times =
        count(ctx, given("thread-times"), 1..=20, 3, "A length of seam takes 3 lengths of thread.", MEMORY);
    let level_trim_first =
        match node.map_or(Given::Absent, |node| node.child_arg::<&'static str>("trim-order")) {
            Given::Bad => None,
            Given::Is(order) => Some(order.value == "level-first"),
            Given::Absent => Some(false),
        };
    let seam_rules = seam_rules(ctx, node);
    let survey = limits::limits(ctx, node);
    let crew = count(ctx, given("crew"), 1..=20, 2, "Two people do the work.", COMMON);
    Some(House {
        seam_allowance: seam_allowance?,
        top_allowance: top_allowance?,
        bottom_allowance: bottom_allowance?,
        pull_allowance: pull_allowance?,
        wrap_allowance: wrap_allowance?,
        fold_allowance: fold_allowance?,
        smallest_sliver: smallest_sliver?,
        seam_rules: seam_rules?,
        survey: survey?,
        edge_staples: edge_staples?,
        wrap_staples: wrap_staples?,
        tack_staples: tack_staples?,
        batting_edge_staples: batting_edge_staples?,
        batting_butt_staples: batting_butt_staples?,
        legs: legs?,
        staples_per_box: staples_per_box?,
        joint_clearance: joint_clearance?,
        smallest_batting: smallest_batting?,
        trim_end: trim_end?,
        staple_waste: staple_waste?,
        hem_tape_roll: hem_tape_roll?,
        tube_bead: tube_bead?,
        stapler_psi: stapler_psi?,
        batten_length: batten_length?,
        batten_width: batten_width?,
        batten_thickness: batten_thickness?,
        batten_screws: batten_screws?,
        screw_length: screw_length?,
        screws_per_box: screws_per_box?,
        thread_times: thread_times?,
        thread_spool: thread_spool?,
        level_trim_first: level_trim_first?,
        crew: crew?,
    })
}

/// How firmly the rules for seams are kept. A plan that breaks a preference is better than none.
fn seam_rules(ctx: &mut Ctx, house: Option<&Node>) -> Option<SeamRules> {
    let node = house.and_then(|house| house.child("seam-rules"));
    let mut rule =
        |name: &str, text: &str| match node.map_or(Given::Absent, |node| node.prop::<&'static str>(name)) {
            Given::Bad => None,
            Given::Is(word) if word.value == "never" => Some(Firmness::Never),
            Given::Is(_) => Some(Firmness::Avoid),
            Given::Absent => {
                ctx.note(text, COMMON);
                Some(Firmness::Avoid)
            }
        };
    let through_box = rule(
        "box",
        "A seam through a box is avoided where the match leaves another place, and told where not.",
    );
    let sliver = rule("sliver", "A seam too near a corner or a casing is avoided and told in the same way.");
    Some(SeamRules { through_box: through_box?, sliver: sliver? })
}

fn has_outside_corner(parsed: &ParsedJob) -> bool {
    let rooms = parsed.nodes.iter().filter(|node| node.spec.name == "room");
    let mut corners = rooms.flat_map(|room| &room.children).filter(|node| node.spec.name == "corner");
    corners.any(|corner| corner.arg::<&'static str>(1).ok().is_some_and(|kind| kind.value == "outside"))
}

fn has_masonry(parsed: &ParsedJob) -> bool {
    let masonry = |word: Given<Spanned<&'static str>>| word.ok().is_some_and(|word| word.value == "masonry");
    let mut rooms = parsed.nodes.iter().filter(|node| node.spec.name == "room");
    rooms.any(|room| {
        masonry(room.child_arg("substrate"))
            || room.children.iter().any(|node| masonry(node.prop("substrate")))
    })
}

fn count(
    ctx: &mut Ctx,
    (name, given): (&str, Given<Spanned<u32>>),
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
            let message = format!("{} is not possible for {}", count.value, name.replace('-', " "));
            let help = format!("give from {} to {}", range.start(), range.end());
            ctx.error("odd-count", count.span, message, help);
            None
        }
    }
}
