//! How a cloth may hang: whether it can be turned, which way its pile lies.

use super::ctx::Ctx;
use super::defaults::COMMON;
use super::model::{Direction, Nap};
use crate::diag::Diag;
use crate::parse::{Given, Node};

/// Whether the cloth of `node` may be turned, and its nap.
pub fn direction(ctx: &mut Ctx, node: &Node, name: &str) -> Option<(Direction, Nap)> {
    let Some(line) = node.child("direction") else {
        ctx.note(format!("Cloth “{name}” has a top: all its pieces hang the same way up."), COMMON);
        return Some((Direction::OneWay, Nap::None));
    };
    let word = line.arg::<&'static str>(0).ok()?;
    let direction = if word.value == "either" { Direction::Either } else { Direction::OneWay };
    let nap = match line.prop::<&'static str>("nap") {
        Given::Bad => return None,
        Given::Absent => Nap::None,
        Given::Is(nap) if direction == Direction::Either => {
            ctx.diags.push(
                Diag::error("nap-of-either-cloth", nap.span, "a cloth with a nap cannot be turned")
                    .also(word.span, "here it may hang either way")
                    .help("give direction one-way, or leave nap= out"),
            );
            return None;
        }
        Given::Is(nap) if nap.value == "up" => Nap::Up,
        Given::Is(_) => Nap::Down,
    };
    Some((direction, nap))
}
