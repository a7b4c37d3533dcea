//! Bolts that there are, and what is cut from them already.

use super::ctx::{Ctx, Range};
use super::facts::short;
use super::model::{Cloth, ClothHang, CutMade, Job, OnHand};
use crate::diag::{Diag, Diags};
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

/// The bolts of the cloth of `node` that there are; none when they are to be ordered.
pub fn on_hand(ctx: &mut Ctx, node: &Node) -> Option<Vec<OnHand>> {
    let range = Range { least: Length::feet(1), most: Length::yards(1000) };
    if let Some(first) = lines(node).next() {
        for (name, why) in
            [("bolt", "how long a bolt to order is"), ("spare", "what to order beyond the plan")]
        {
            if let Some(line) = node.child(name) {
                ctx.diags.push(
                    Diag::error(
                        "two-answers",
                        line.head,
                        format!("{name} says {why}, and the bolts are there already"),
                    )
                    .also(first.head, "here")
                    .help(format!("leave {name} out, or the lines on-hand")),
                );
                return None;
            }
        }
    }
    let read = |line: &Node| {
        let length = line.arg::<Length>(0).ok().and_then(|given| ctx.ranged(given, "the bolt", range));
        let lot = line.prop::<String>("lot").ok().and_then(|lot| short(ctx, lot, "the dye lot", 16));
        let first_motif = line.prop::<Length>("first-motif").ok().map(|first| first.value);
        let cuts: Vec<Option<CutMade>> = cut_lines(line).map(|line| cut(ctx, node, line)).collect();
        let cuts = cuts.into_iter().collect::<Option<_>>();
        Some(OnHand { first_motif, cuts: cuts?, ..OnHand::new(length?, lot?) })
    };
    let bolts: Vec<Option<OnHand>> = lines(node).map(read).collect();
    bolts.into_iter().collect()
}

fn lines(cloth: &Node) -> impl Iterator<Item = &Node> {
    cloth.children.iter().filter(|line| line.spec.name == "on-hand")
}

fn cut_lines(bolt: &Node) -> impl Iterator<Item = &Node> {
    bolt.children.iter().filter(|line| line.spec.name == "cut")
}

/// A piece that is cut already from cloth `cloth`.
fn cut(ctx: &mut Ctx, cloth: &Node, line: &Node) -> Option<CutMade> {
    let label = line.arg::<String>(0).ok().and_then(|label| short(ctx, label, "the label", 16));
    let long = |least| Range { least, most: Length::yards(1000) };
    let mut measure = |name: &str, what: &str, least| match line.prop::<Length>(name) {
        Given::Bad => None,
        Given::Absent => Some(None),
        Given::Is(given) => ctx.ranged(given, what, long(least)).map(Some),
    };
    let thin = Length::inch_64ths(1);
    let v = measure("from-start", "the distance from the bolt's start", Length::ZERO);
    let u = measure("from-left", "the distance from the left edge", Length::ZERO);
    let length = measure("length", "the length of the cut", thin);
    let width = measure("width", "the width of the cut", thin);
    let whole = cloth.child_arg::<Length>("width").ok()?.value;
    let spoiled = line.prop::<bool>("spoiled").or(|| Spanned::new(false, line.head))?.value;
    let u = u?.unwrap_or(Length::ZERO);
    let width = width?.unwrap_or(whole - u);
    Some(CutMade { label: label?, u, v: v??, width, length: length??, spoiled })
}

/// Judges what is said of the bolts of a cloth that is sound by itself. Figures copied off a sheet are
/// rounded: two ends may be out by half a step each.
pub fn judge(ctx: &mut Ctx, node: &Node, cloth: &mut Cloth) -> Option<()> {
    let slack = ctx.format.step;
    let mut sound = true;
    let cut = lines(node).find_map(|line| cut_lines(line).next());
    if let (Some(cut), Given::Is(hang), ClothHang::Least) = (cut, node.child_arg::<&str>("hang"), cloth.hang)
    {
        ctx.diags.push(
            Diag::error("way-undecided", hang.span, "which way this cloth hangs is settled once it is cut")
                .also(cut.head, "here")
                .help("say hang upright or hang railroaded, as it was cut"),
        );
        sound = false;
    }
    for (bolt, line) in cloth.on_hand.iter_mut().zip(lines(node)) {
        sound &= first_motif(ctx, line, bolt, cloth.pattern.map(|lattice| lattice.vertical)).is_some();
        let mut before: Vec<(&CutMade, Span)> = Vec::new();
        for (cut, line) in bolt.cuts.iter().zip(cut_lines(line)) {
            sound &= on_bolt(ctx, line.head, cut, (cloth.width, bolt.length)).is_some();
            if let Some((other, span)) = before.iter().find(|(other, _)| overlap(cut, other, slack)) {
                sound = false;
                ctx.diags.push(
                    Diag::error(
                        "overlapping-cuts",
                        line.head,
                        format!("cut {} lies where cut {} has been taken", cut.label, other.label),
                    )
                    .also(*span, "here")
                    .help("measure both places again; they are told from the bolt's start and its left edge"),
                );
            }
            before.push((cut, line.head));
        }
    }
    sound.then_some(())
}

/// Proves the place of the pattern on a bolt, and that it is known where it must be.
fn first_motif(ctx: &mut Ctx, line: &Node, bolt: &mut OnHand, vertical: Option<Length>) -> Option<()> {
    match (line.prop::<Length>("first-motif"), vertical) {
        (Given::Bad, _) => None,
        (Given::Is(first), None) => {
            let help = "take first-motif= out, or give the cloth its repeat";
            ctx.error("no-pattern", first.span, "plain cloth has no motif", help);
            None
        }
        (Given::Is(first), Some(vertical)) => {
            let most = Range { least: Length::ZERO, most: vertical };
            let first = ctx.ranged(first, "the distance to the first motif", most)?;
            bolt.first_motif = Some(first.rem_euclid(vertical));
            Some(())
        }
        (Given::Absent, Some(_)) if !bolt.cuts.is_empty() => {
            ctx.error(
                "missing-first-motif",
                line.head,
                "where the pattern lies on this bolt is not said, and places on it are",
                "measure from the bolt's start to the first centre of a motif in the column next to the left \
                 match line, and add first-motif=\"9 1/2in\"",
            );
            None
        }
        (Given::Absent, None) if !bolt.cuts.is_empty() => {
            bolt.first_motif = Some(Length::ZERO);
            Some(())
        }
        (Given::Absent, _) => Some(()),
    }
}

/// Whether a cut lies within `(width, length)`.
fn on_bolt(ctx: &mut Ctx, span: Span, cut: &CutMade, (width, length): (Length, Length)) -> Option<()> {
    let past = [
        (cut.u + cut.width - width, "the right edge of the cloth"),
        (cut.v + cut.length - length, "the end of the bolt"),
    ];
    let Some((by, what)) = past.into_iter().find(|(by, _)| *by > ctx.format.step) else { return Some(()) };
    let message = format!("cut {} goes {} past {what}", cut.label, ctx.show_cloth(by));
    let help = "check its place and its size against the cut list, and the bolt's own measures";
    ctx.error("cut-off-bolt", span, message, help);
    None
}

fn overlap(one: &CutMade, other: &CutMade, slack: Length) -> bool {
    let meet = |a: Length, along: Length, b: Length, as_long: Length| {
        (a + along).min(b + as_long) - a.max(b) > slack
    };
    meet(one.u, one.width, other.u, other.width) && meet(one.v, one.length, other.v, other.length)
}

/// Tells cuts of pieces that no plan of the job can have, and pieces that are cut twice.
pub fn known(job: &Job, cloths: &[&Node], diags: &mut Diags) {
    for (index, node) in cloths.iter().enumerate() {
        let mut before: Vec<(&str, Span)> = Vec::new();
        let bolts = job.cloths[index].on_hand.iter().zip(lines(node));
        for (cut, line) in bolts.flat_map(|(bolt, line)| bolt.cuts.iter().zip(cut_lines(line))) {
            if !can_be(job, index, &cut.label) {
                diags.push(
                    Diag::error("unknown-cut", line.head, format!("no piece can be called {}", cut.label))
                        .help(
                            "name it as the cut list does: the wall's label and a letter, such as 3B, or a strip for \
                             trim, such as T4",
                        ),
                );
            }
            match before.iter().find(|(label, _)| *label == cut.label) {
                Some((_, span)) if !cut.spoiled => diags.push(
                    Diag::error("repeated-cut", line.head, format!("piece {} is cut already", cut.label))
                        .also(*span, "here")
                        .help("check the label; or, if one of them is no good, add spoiled=yes to it"),
                ),
                _ if !cut.spoiled => before.push((&cut.label, line.head)),
                _ => {}
            }
        }
    }
}

/// Whether some plan of the job has a piece of that label from that cloth: labels of drops are their
/// wall's and a letter, those of strips for trim a T and a number.
fn can_be(job: &Job, cloth: usize, label: &str) -> bool {
    let letters = |rest: &str| !rest.is_empty() && rest.bytes().all(|b| b.is_ascii_uppercase());
    let rooms = job.rooms.iter().enumerate().filter(|(_, room)| room.cloth == cloth);
    let mut walls = rooms.flat_map(|(at, room)| (0..room.walls.len()).map(move |wall| (at, wall)));
    let of_wall = walls.any(|(room, wall)| label.strip_prefix(&job.mark(room, wall)).is_some_and(letters));
    let strip = label.strip_prefix('T').is_some_and(|rest| {
        rest.starts_with(|c: char| c.is_ascii_digit())
            && rest.bytes().all(|b| b.is_ascii_digit() || b.is_ascii_uppercase() || b == b'.')
    });
    of_wall || strip
}
