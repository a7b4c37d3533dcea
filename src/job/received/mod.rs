//! Bolts that there are: as they were measured, their flaws, and what is cut from them already.

mod cuts;
mod flaws;
mod measures;
mod points;

pub use flaws::most_points;

use super::ctx::{Ctx, Range};
use super::facts::short;
use super::model::{Cloth, CutMade, Flaw, Job, OnHand, Points, Shrinkage};
use crate::diag::{Diag, Diags};
use crate::parse::{Given, Node};
use crate::units::Length;

/// The bolts of the cloth of `node` that there are, as delivered; none when they are to be ordered.
pub fn on_hand(ctx: &mut Ctx, node: &Node) -> Option<Vec<OnHand>> {
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
    let bolts: Vec<Option<OnHand>> = lines(node).map(|line| bolt(ctx, node, line)).collect();
    bolts.into_iter().collect()
}

/// A bolt that there is. Where it has places, plain cloth needs no first motif.
fn bolt(ctx: &mut Ctx, cloth: &Node, line: &Node) -> Option<OnHand> {
    let range = Range { least: Length::feet(1), most: Length::yards(1000) };
    let length = line.arg::<Length>(0).ok().and_then(|given| ctx.ranged(given, "the bolt", range));
    let lot = line.prop::<String>("lot").ok().and_then(|lot| short(ctx, lot, "the dye lot", 16));
    let first_motif = line.prop::<Length>("first-motif").ok().map(|first| first.value);
    if let Given::Is(labelled) = line.prop::<Length>("labelled") {
        ctx.ranged(labelled, "the length on the label", range)?;
    }
    let measured = measures::read(ctx, line);
    let wide = match line.prop::<Length>("width") {
        Given::Is(width) => width.value,
        _ => cloth.child_arg::<Length>("width").ok()?.value,
    };
    let cuts: Vec<Option<CutMade>> = cuts::lines(line).map(|cut| cuts::read(ctx, wide, cut)).collect();
    let flaws: Vec<Option<Flaw>> = flaws::lines(line).map(|flaw| flaws::read(ctx, wide, flaw)).collect();
    let (length, flaws) = (length?, flaws.into_iter().collect::<Option<Vec<Flaw>>>()?);
    let counted: Vec<_> = flaws.iter().map(|flaw| (flaw.v, flaw.length, flaw.points)).collect();
    Some(OnHand {
        first_motif,
        measured: measured?,
        cuts: cuts.into_iter().collect::<Option<_>>()?,
        points: Points { total: points::of_bolt(&counted, length), ..Points::default() },
        flaws,
        ..OnHand::new(length, lot?)
    })
}

fn lines(cloth: &Node) -> impl Iterator<Item = &Node> {
    cloth.children.iter().filter(|line| line.spec.name == "on-hand")
}

/// A bolt once it is relaxed: flaws are told of it as delivered, all else as it is then.
pub fn relaxed(bolt: OnHand, shrinkage: Shrinkage) -> OnHand {
    let Shrinkage { along, across } = shrinkage;
    let flaws = bolt.flaws.into_iter().map(|flaw| {
        let (v, u) = (along.left_of(flaw.v), across.left_of(flaw.u));
        let length = along.left_of(flaw.v + flaw.length) - v;
        let width = across.left_of(flaw.u + flaw.width) - u;
        Flaw { u, v, width, length, ..flaw }
    });
    OnHand { length: along.left_of(bolt.length), flaws: flaws.collect(), ..bolt }
}

/// Judges what is said of the bolts of a cloth that is sound by its label, makes it the cloth that was
/// measured, and counts what there is to claim. `edge` is what no match line stands nearer to an edge.
pub fn judge(ctx: &mut Ctx, node: &Node, cloth: &mut Cloth, edge: Length) -> Option<()> {
    measures::apply(ctx, node, cloth, edge)?;
    let mut sound = cuts::way_is_decided(ctx, node, cloth);
    for at in 0..cloth.on_hand.len() {
        let Some(line) = lines(node).nth(at) else { continue };
        let vertical = cloth.pattern.map(|lattice| lattice.vertical);
        sound &= first_motif(ctx, line, &mut cloth.on_hand[at], vertical).is_some();
        sound &= cuts::judge(ctx, line, cloth, &cloth.on_hand[at]);
        sound &= flaws::judge(ctx, line, cloth, &cloth.on_hand[at]);
    }
    sound.then_some(())?;
    for (at, line) in lines(node).enumerate().take(cloth.on_hand.len()) {
        measures::claim(cloth, at, line);
    }
    Some(())
}

/// Proves the place of the pattern on a bolt, and that it is known where it must be.
fn first_motif(ctx: &mut Ctx, line: &Node, bolt: &mut OnHand, vertical: Option<Length>) -> Option<()> {
    let has_places = !bolt.cuts.is_empty() || !bolt.flaws.is_empty();
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
        (Given::Absent, Some(_)) if has_places => {
            ctx.error(
                "missing-first-motif",
                line.head,
                "where the pattern lies on this bolt is not said, and places on it are",
                "measure from the bolt's start to the first centre of a motif in the column next to the left \
                 match line, and add first-motif=\"9 1/2in\"",
            );
            None
        }
        (Given::Absent, None) if has_places => {
            bolt.first_motif = Some(Length::ZERO);
            Some(())
        }
        (Given::Absent, _) => Some(()),
    }
}

/// Tells what only the whole job shows: cuts of pieces that no plan can have, pieces that are cut twice, and
/// bolts of one cloth whose patterns do not go together.
pub fn known(job: &Job, cloths: &[&Node], diags: &mut Diags) {
    for (index, node) in cloths.iter().enumerate() {
        cuts::known(job, index, node, diags);
        measures::go_together(job, index, node, diags);
    }
}
