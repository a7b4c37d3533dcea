//! Bolts as measured: they, not the label, say what is planned.
//!
//! All bolts of a cloth are cut by one plan. So the narrowest decides the width, and the repeat must be
//! one: a wall cut to another repeat meets its neighbours at one height only, and is further out with
//! every repeat above and below.

use super::super::cloths::{REPEAT, WIDTH};
use super::super::ctx::Ctx;
use super::super::model::{Claim, Cloth, Job, Label, Lattice, Measured, OnHand};
use super::points;
use crate::diag::{Diag, Diags};
use crate::parse::{Given, Node};
use crate::source::Span;
use crate::units::{Length, LengthFormat, UnitSystem};

/// How far the pattern of two bolts may part over the highest wall, or over the longest, for them to count
/// as one. Common practice, no source.
const APART: Length = Length::inch_64ths(8);

/// The measures that are read from a bolt's line, with what they are called.
const PROPS: [(&str, &str); 3] =
    [("width", "the width"), ("horizontal", "the horizontal repeat"), ("vertical", "the vertical repeat")];

/// What was measured of a bolt.
pub fn read(ctx: &mut Ctx, line: &Node) -> Option<Measured> {
    let read = PROPS.map(|(name, what)| match line.prop::<Length>(name) {
        Given::Bad => None,
        Given::Absent => Some(None),
        Given::Is(given) => ctx.ranged(given, what, if name == "width" { WIDTH } else { REPEAT }).map(Some),
    });
    let [width, horizontal, vertical] = read;
    Some(Measured { width: width?, horizontal: horizontal?, vertical: vertical? })
}

/// Makes a cloth by its label the cloth that was measured.
pub fn apply(ctx: &mut Ctx, node: &Node, cloth: &mut Cloth, edge: Length) -> Option<()> {
    let label = Label { width: cloth.width, match_width: cloth.match_width, pattern: cloth.pattern };
    let mut sound = true;
    for line in super::lines(node) {
        let said = [
            Some(label.width),
            label.pattern.map(|lattice| lattice.horizontal),
            label.pattern.map(|lattice| lattice.vertical),
        ];
        for ((name, what), said) in PROPS.into_iter().zip(said) {
            let Given::Is(found) = line.prop::<Length>(name) else { continue };
            sound &= plausible(ctx, found.value, found.span, what, said);
        }
    }
    sound.then_some(())?;
    if cloth.on_hand.iter().all(|bolt| bolt.measured == Measured::default()) {
        return Some(());
    }
    cloth.label = Some(label);
    let widths = cloth.on_hand.iter().map(|bolt| bolt.measured.width.unwrap_or(label.width));
    cloth.width = widths.min().unwrap_or(label.width);
    cloth.pattern = label.pattern.map(|lattice| repeat(longest(cloth), lattice));
    let left = node.child("left-match").is_some().then_some(cloth.left_match);
    let usable = cloth.width - edge - left.unwrap_or(edge);
    let within = |step: Length, count: i64| step * count.min(usable.div_floor(step));
    cloth.match_width = match (cloth.pattern, label.pattern) {
        (Some(found), Some(said)) => within(found.horizontal, label.match_width.div_floor(said.horizontal)),
        _ if node.child("match-width").is_some() => label.match_width.min(usable),
        _ => usable,
    };
    if cloth.match_width < Length::inches(2) {
        let narrowest = super::lines(node).filter_map(|line| line.prop::<Length>("width").ok());
        let span = narrowest.min_by_key(|width| width.value).map_or(node.head, |width| width.span);
        let message = format!(
            "a bolt {} wide leaves no match width between its selvages and seam allowances",
            ctx.show_cloth(cloth.width)
        );
        let help = "measure the width again; if it is right, this bolt cannot be used";
        ctx.error("cloth-too-narrow", span, message, help);
        return None;
    }
    cloth.left_match = left.unwrap_or((cloth.width - cloth.match_width) / 2);
    Some(())
}

/// The bolt by whose repeat the plan is made: all others agree with it.
fn longest(cloth: &Cloth) -> Measured {
    let longest = cloth.on_hand.iter().rev().max_by_key(|bolt| bolt.length);
    longest.map_or(Measured::default(), |bolt| bolt.measured)
}

/// Whether a measure can be one of that cloth; a tenth more or less is a slip of the tape.
fn plausible(ctx: &mut Ctx, found: Length, span: Span, what: &str, said: Option<Length>) -> bool {
    let Some(said) = said else {
        let help = "take it out, or give the cloth its repeat";
        ctx.error("no-pattern", span, "plain cloth has no repeat to be measured", help);
        return false;
    };
    if (found - said).abs() * 10 <= said {
        return true;
    }
    let (found, label) = (ctx.show_cloth(found), ctx.show_cloth(said));
    let message = format!("{what} is measured as {found}, and the label says {label}");
    let help = "measure it again, over several repeats, or see whether it is this cloth at all";
    ctx.error("odd-measure", span, message, help);
    false
}

/// A label's pattern with the repeats that were measured; the drop keeps its part of the vertical repeat.
fn repeat(measured: Measured, said: Lattice) -> Lattice {
    let parts = said.vertical.nm() / gcd(said.vertical.nm(), said.drop.nm());
    let part = measured.vertical.unwrap_or(said.vertical).scale(1, parts);
    let fallen = said.drop.nm() / (said.vertical.nm() / parts);
    let horizontal = measured.horizontal.unwrap_or(said.horizontal);
    Lattice { horizontal, vertical: part * parts, drop: part * fallen }
}

/// The greatest common divisor; of a number and 0 the number.
fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// Tells bolts of cloth `index` whose patterns part by more than [`APART`] over the job's walls.
pub fn go_together(job: &Job, index: usize, node: &Node, diags: &mut Diags) {
    let cloth = &job.cloths[index];
    let Some(label) = cloth.label.and_then(|label| label.pattern) else { return };
    let walls = || job.rooms.iter().filter(|room| room.cloth == index).flat_map(|room| &room.walls);
    let clothed = || walls().filter(|wall| wall.clothed);
    let tall = clothed().map(|wall| {
        let top = wall.field_top().max_between(Length::ZERO, wall.width);
        top - wall.field_bottom().min_between(Length::ZERO, wall.width)
    });
    let (tall, wide) = (tall.max(), clothed().map(|wall| wall.width).max());
    let print = |length| job.print.format.print(length);
    let system = match job.print.format.system {
        UnitSystem::FeetInches => UnitSystem::Inches,
        system => system,
    };
    let exact = |length| LengthFormat { system, ..job.print.format }.exact().print(length);
    let bolts: Vec<Lattice> = cloth.on_hand.iter().map(|bolt| repeat(bolt.measured, label)).collect();
    let longest = cloth.on_hand.iter().enumerate().rev().max_by_key(|(_, bolt)| bolt.length);
    let Some((main, _)) = longest else { return };
    for (at, line) in super::lines(node).enumerate().take(bolts.len()) {
        let along = (bolts[at].vertical, bolts[main].vertical, tall, "repeats", "height");
        let across = (bolts[at].horizontal, bolts[main].horizontal, wide, "horizontal repeats", "width");
        for (own, other, over, repeats, what) in [along, across] {
            let Some(over) = over else { continue };
            // So many repeats of the one, set against as many of the other.
            let count = over.div_ceil(other);
            let out = (own - other).abs() * count;
            if out <= APART {
                continue;
            }
            let message = format!(
                "bolt {} repeats every {}, bolt {} every {}: over {count} {repeats}, the {what} of a wall of {}, \
                 their patterns part by {}",
                at + 1,
                exact(own),
                main + 1,
                exact(other),
                print(over),
                exact(out)
            );
            let help = format!(
                "walls cut from one cannot match walls cut from the other: claim one of them; or make them two \
                 cloths, each for rooms of its own; or, to accept {} at the worst corner, give both one measure",
                exact(out)
            );
            diags.push(Diag::error("bolts-part", line.head, message).help(help));
            return;
        }
    }
}

/// Counts what there is to claim of bolt `at`.
pub fn claim(cloth: &mut Cloth, at: usize, line: &Node) {
    let (label, selvage, across) = (cloth.label, cloth.selvage, cloth.shrinkage.across);
    let said = label.map_or(cloth.width, |label| label.width);
    let pattern = label.and_then(|label| label.pattern);
    let bolt: &mut OnHand = &mut cloth.on_hand[at];
    let wide = across.whole_for(bolt.measured.width.unwrap_or(said) - selvage * 2);
    bolt.points.per_100_square_yards = points::per_100_square_yards(bolt.points.total, bolt.delivered, wide);
    let short = line.prop::<Length>("labelled").ok().map(|said| (said.value, bolt.delivered));
    let short = short.filter(|(said, found)| found < said).map(|(said, found)| Claim::Short { said, found });
    let narrow = bolt.measured.width.filter(|found| *found < said);
    let narrow = narrow.map(|found| Claim::Narrow { said, found });
    let found = bolt.measured.horizontal.zip(pattern.map(|lattice| lattice.horizontal));
    let wide = found.filter(|(a, b)| a != b).map(|(found, said)| Claim::RepeatAcross { said, found });
    let found = bolt.measured.vertical.zip(pattern.map(|lattice| lattice.vertical));
    let long = found.filter(|(a, b)| a != b).map(|(found, said)| Claim::RepeatAlong { said, found });
    let found = bolt.points.per_100_square_yards;
    let over = cloth.most_points.map(|most| i64::from(most) * 100).filter(|most| found > *most);
    let over = over.map(|most| Claim::Points { most, found });
    bolt.claims = [short, narrow, wide, long, over].into_iter().flatten().collect();
}
