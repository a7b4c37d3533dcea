//! What is cut from a bolt already.

use super::super::ctx::{Ctx, Range};
use super::super::facts::short;
use super::super::model::{Cloth, ClothHang, CutMade, Job, OnHand};
use crate::diag::{Diag, Diags};
use crate::parse::{Given, Node};
use crate::source::{Span, Spanned};
use crate::units::Length;

/// The lines of the cuts made from a bolt.
pub fn lines(bolt: &Node) -> impl Iterator<Item = &Node> {
    bolt.children.iter().filter(|line| line.spec.name == "cut")
}

/// A piece that is cut already from a bolt so wide.
pub fn read(ctx: &mut Ctx, wide: Length, line: &Node) -> Option<CutMade> {
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
    let spoiled = line.prop::<bool>("spoiled").or(|| Spanned::new(false, line.head))?.value;
    let u = u?.unwrap_or(Length::ZERO);
    let width = width?.unwrap_or(wide - u);
    Some(CutMade { label: label?, u, v: v??, width, length: length??, spoiled })
}

/// Whether it is settled which way cloth hangs that is cut already.
pub fn way_is_decided(ctx: &mut Ctx, node: &Node, cloth: &Cloth) -> bool {
    let cut = super::lines(node).find_map(|line| lines(line).next());
    let (Some(cut), Given::Is(hang), ClothHang::Least) = (cut, node.child_arg::<&str>("hang"), cloth.hang)
    else {
        return true;
    };
    ctx.diags.push(
        Diag::error("way-undecided", hang.span, "which way this cloth hangs is settled once it is cut")
            .also(cut.head, "here")
            .help("say hang upright or hang railroaded, as it was cut"),
    );
    false
}

/// Whether the cuts made from a bolt lie on it, and apart. Figures copied off a sheet are rounded: two ends may
/// be out by half a step each.
pub fn judge(ctx: &mut Ctx, line: &Node, cloth: &Cloth, bolt: &OnHand) -> bool {
    let mut sound = true;
    let wide = bolt.measured.width.unwrap_or_else(|| cloth.label.map_or(cloth.width, |label| label.width));
    let mut before: Vec<(&CutMade, Span)> = Vec::new();
    for (cut, line) in bolt.cuts.iter().zip(lines(line)) {
        sound &= on_bolt(ctx, line.head, cut, (wide, bolt.length)).is_some();
        let slack = ctx.format.step;
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
    sound
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

/// Tells cuts of pieces that no plan of the job can have from cloth `index`, and pieces that are cut twice.
pub fn known(job: &Job, index: usize, node: &Node, diags: &mut Diags) {
    let mut before: Vec<(&str, Span)> = Vec::new();
    let bolts = job.cloths[index].on_hand.iter().zip(super::lines(node));
    for (cut, line) in bolts.flat_map(|(bolt, line)| bolt.cuts.iter().zip(lines(line))) {
        if !can_be(job, index, &cut.label) {
            diags.push(
                Diag::error("unknown-cut", line.head, format!("no piece can be called {}", cut.label)).help(
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

/// Whether some plan of the job has a piece of that label from that cloth: labels of drops are their
/// wall's and a letter, those of strips for trim a T and a number.
fn can_be(job: &Job, cloth: usize, label: &str) -> bool {
    let letters = |rest: &str| !rest.is_empty() && rest.bytes().all(|b| b.is_ascii_uppercase());
    let rooms = job.rooms.iter().enumerate().filter(|(_, room)| room.cloth == cloth);
    let mut walls = rooms.flat_map(|(at, room)| (0..room.walls.len()).map(move |wall| (at, wall)));
    let of_sample = job.cloths[cloth].samples.iter().any(|sample| sample.label == label);
    let of_wall = walls.any(|(room, wall)| label.strip_prefix(&job.mark(room, wall)).is_some_and(letters));
    let strip = label.strip_prefix('T').is_some_and(|rest| {
        rest.starts_with(|c: char| c.is_ascii_digit())
            && rest.bytes().all(|b| b.is_ascii_digit() || b.is_ascii_uppercase() || b == b'.')
    });
    of_sample || of_wall || strip
}
