//! Flaws found on inspection.

use super::super::ctx::{Ctx, Range};
use super::super::facts::short;
use super::super::model::{Cloth, Flaw, OnHand};
use super::points;
use crate::parse::{Given, Node};
use crate::units::Length;

/// A bolt of more flaws is not planned round them.
const MOST: usize = 200;

/// The lines of the flaws of a bolt.
pub fn lines(bolt: &Node) -> impl Iterator<Item = &Node> {
    bolt.children.iter().filter(|line| line.spec.name == "flaw")
}

/// A flaw of a bolt so wide, as delivered.
pub fn read(ctx: &mut Ctx, wide: Length, line: &Node) -> Option<Flaw> {
    let what = match line.arg::<String>(0) {
        Given::Bad => None,
        Given::Absent => Some(String::new()),
        Given::Is(what) => short(ctx, what, "what the flaw is", 40),
    };
    let mut measure = |name: &str, what: &str, least| match line.prop::<Length>(name) {
        Given::Bad => None,
        Given::Absent => Some(None),
        Given::Is(given) => ctx.ranged(given, what, Range { least, most: Length::yards(1000) }).map(Some),
    };
    let thin = Length::nanometres(1);
    let v = measure("from-start", "the distance from the bolt's start", Length::ZERO);
    let length = measure("length", "the length of the flaw", thin);
    let u = measure("from-left", "the distance from the left edge", Length::ZERO);
    let width = measure("width", "the width of the flaw", thin);
    let (u, width) = match (u?, width?) {
        (Some(u), Some(width)) => (u, width),
        (None, None) => (Length::ZERO, wide),
        (u, _) => {
            let lacks = if u.is_some() { "width" } else { "from-left" };
            let message = format!("this flaw says one of its measures across, and lacks {lacks}=");
            let help = "give from-left= and width=, or neither when it goes right across";
            ctx.error("missing-property", line.head, message, help);
            return None;
        }
    };
    let hole = flag(line, "hole")?;
    let (v, length) = (v??, length??);
    let points = match line.prop::<u32>("points") {
        Given::Bad => return None,
        Given::Absent => points::of_flaw(length.max(width), hole),
        Given::Is(points) if (1..=points::MOST).contains(&points.value) => points.value,
        Given::Is(points) => {
            let message = format!("a flaw counts 1 to {} points, not {}", points::MOST, points.value);
            ctx.error("odd-count", points.span, message, "leave points= out to have it counted by its size");
            return None;
        }
    };
    Some(Flaw { what: what?, u, v, width, length, points, accepted: flag(line, "accepted")? })
}

fn flag(line: &Node, name: &str) -> Option<bool> {
    match line.prop::<bool>(name) {
        Given::Bad => None,
        Given::Absent => Some(false),
        Given::Is(flag) => Some(flag.value),
    }
}

/// Whether the flaws of a bolt lie on it.
pub fn judge(ctx: &mut Ctx, line: &Node, cloth: &Cloth, bolt: &OnHand) -> bool {
    let wide = bolt.measured.width.unwrap_or_else(|| cloth.label.map_or(cloth.width, |label| label.width));
    let mut sound = true;
    if let Some(beyond) = lines(line).nth(MOST) {
        let message = format!("more than {MOST} flaws are told of this bolt");
        let help = "a bolt like that goes back; or tell flaws that lie together as one";
        ctx.error("too-many", beyond.head, message, help);
        return false;
    }
    for (flaw, line) in bolt.flaws.iter().zip(lines(line)) {
        let past = [
            (flaw.v + flaw.length - bolt.length, "the end of the bolt"),
            (flaw.u + flaw.width - wide, "the right edge of the cloth"),
        ];
        let Some((by, what)) = past.into_iter().find(|(by, _)| *by > ctx.format.step) else { continue };
        sound = false;
        let message = format!("this flaw goes {} past {what}", ctx.show_cloth(by));
        let help =
            "flaws are measured from the bolt's start and from its left edge, face up: check the place";
        ctx.error("flaw-off-bolt", line.head, message, help);
    }
    sound
}

/// The points in 100 square yards with which a bolt is accepted; `None` inside when the job sets no limit.
pub fn most_points(ctx: &mut Ctx, cloth: &Node) -> Option<Option<u32>> {
    match cloth.child_arg::<u32>("most-points") {
        Given::Bad => None,
        Given::Absent => Some(None),
        Given::Is(most) if most.value <= 1000 => Some(Some(most.value)),
        Given::Is(most) => {
            let message = format!("{} points in 100 square yards refuse nothing", most.value);
            ctx.error("odd-count", most.span, message, "give the limit that was agreed, such as 20");
            None
        }
    }
}
