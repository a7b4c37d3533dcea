//! Staple legs by loft and substrate.

use super::ctx::{Ctx, inches};
use super::defaults::COMMON;
use super::model::Legs;
use crate::parse::{Given, Node};
use crate::units::Length;

/// Legs that staples are sold with, in sixty-fourths of an inch and in millimetres; from memory.
const SOLD: [(i64, i64); 7] = [(16, 6), (20, 8), (24, 10), (32, 12), (36, 14), (40, 16), (48, 20)];

/// The given leg for all substrates, or for each the shortest leg sold that goes through the
/// batting, which the staple draws down to a quarter of its loft, and bites enough: 1/4 in into
/// wood, 3/8 in into board, 1/2 in into plaster and its lath.
pub fn legs(ctx: &mut Ctx, house: Option<&Node>, loft: Length) -> Option<Legs> {
    match house.map_or(Given::Absent, |node| node.child_arg::<Length>("staple-leg")) {
        Given::Bad => None,
        Given::Is(leg) => {
            let leg = ctx.ranged(leg, "staple leg", inches(8, 3))?;
            Some(Legs { drywall: leg, plaster: leg, wood: leg })
        }
        Given::Absent => {
            let metric = ctx.metric;
            let sold = move |(in_64ths, mm): (i64, i64)| {
                if metric { Length::mm(mm) } else { Length::inch_64ths(in_64ths) }
            };
            let leg = |bite: (i64, i64)| {
                let need = loft / 4 + sold(bite);
                let enough = SOLD.into_iter().map(sold).find(|leg| *leg >= need);
                enough.unwrap_or(sold(SOLD[SOLD.len() - 1]))
            };
            let legs = Legs { drywall: leg(SOLD[2]), plaster: leg(SOLD[3]), wood: leg(SOLD[0]) };
            let text = format!(
                "Staple legs for this batting: {} into board, {} into plaster, {} into wood.",
                ctx.show(legs.drywall),
                ctx.show(legs.plaster),
                ctx.show(legs.wood)
            );
            ctx.note(text, COMMON);
            Some(legs)
        }
    }
}
