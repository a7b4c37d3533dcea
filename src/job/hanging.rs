//! How a cloth may hang: whether it can be turned, which way its pile lies, which way round it
//! hangs; and what it loses before.

use super::ctx::Ctx;
use super::defaults::COMMON;
use super::model::{ClothHang, Direction, Nap, Shrinkage};
use crate::diag::Diag;
use crate::parse::{Given, Node};
use crate::share::Share;

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

/// Which way the cloth of `node` hangs, with what is known of its direction.
pub fn hang(ctx: &mut Ctx, node: &Node, name: &str, direction: Direction) -> Option<ClothHang> {
    let word = match node.child_arg::<&'static str>("hang") {
        Given::Bad => return None,
        Given::Absent => {
            if direction == Direction::Either {
                ctx.note(format!("Cloth “{name}” hangs upright, its length up the walls."), COMMON);
            }
            return Some(ClothHang::Upright);
        }
        Given::Is(word) => word,
    };
    match word.value {
        "railroaded" => Some(ClothHang::Railroaded),
        "least" if direction == Direction::OneWay => {
            let mut diag =
                Diag::error("one-way-cloth", word.span, "a one-way cloth cannot be turned to save cloth");
            if let Some(line) = node.child("direction") {
                diag = diag.also(line.head, "here");
            }
            let help =
                "say hang upright or hang railroaded; or, if it looks the same every way, direction either";
            ctx.diags.push(diag.help(help));
            None
        }
        "least" => Some(ClothHang::Least),
        _ => Some(ClothHang::Upright),
    }
}

/// Cloth that loses more is not hung on walls.
const MOST_LOST: u32 = 2_000;

/// What the cloth of `node` loses when it is relaxed; nothing when the file is silent.
pub fn shrinkage(ctx: &mut Ctx, node: &Node) -> Option<Shrinkage> {
    let Some(line) = node.child("shrinkage") else {
        if !node.partial {
            ctx.note("Cloth keeps its measures: it is not relaxed before cutting.", COMMON);
        }
        return Some(Shrinkage::default());
    };
    let mut share = |name: &str| match line.prop::<Share>(name) {
        Given::Bad => None,
        Given::Absent => Some(Share::NONE),
        Given::Is(share) if share.value.ten_thousandths() > MOST_LOST => {
            let message = format!("cloth that loses {} is not hung on walls", share.value.print());
            ctx.error("odd-shrinkage", share.span, message, "check the figure: it must be at most 20%");
            None
        }
        Given::Is(share) => Some(share.value),
    };
    let (along, across) = (share("along"), share("across"));
    let shrinkage = Shrinkage { along: along?, across: across? };
    if !shrinkage.any() {
        let help = "give along=\"3%\", across=\"1%\" or both, or leave the line out";
        ctx.error("odd-shrinkage", line.head, "this shrinkage says nothing", help);
        return None;
    }
    Some(shrinkage)
}
