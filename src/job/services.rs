//! Known pipes and cables behind a wall.

use super::ctx::{Ctx, Range};
use super::model::{Service, ServiceKind, Wall};
use crate::diag::Diag;
use crate::geom::Point;
use crate::parse::{Given, Node};
use crate::source::Spanned;
use crate::units::Length;

/// The pipes and cables of a wall, in the order of the file.
pub fn services(ctx: &mut Ctx, node: &Node, wall: &Wall) -> Option<Vec<Service>> {
    let kind = |child: &Node| match child.spec.name {
        "pipe" => Some(ServiceKind::Pipe),
        "cable" => Some(ServiceKind::Cable),
        _ => None,
    };
    let lines: Vec<(&Node, ServiceKind)> =
        node.children.iter().filter_map(|child| Some((child, kind(child)?))).collect();
    let read: Vec<Option<Service>> =
        lines.into_iter().map(|(line, kind)| service(ctx, line, kind, wall)).collect();
    read.into_iter().collect()
}

fn service(ctx: &mut Ctx, node: &Node, kind: ServiceKind, wall: &Wall) -> Option<Service> {
    let places = ["from-left", "from-right", "above-floor"].map(|name| (name, node.prop::<Length>(name)));
    if places.iter().any(|(_, place)| matches!(place, Given::Bad)) {
        return None;
    }
    let given: Vec<(&str, Spanned<Length>)> =
        places.into_iter().filter_map(|(name, place)| Some((name, place.ok()?))).collect();
    let (name, place) = match given.as_slice() {
        [one] => *one,
        [first, second, ..] => {
            let message = format!("the place of the {} is given twice over", node.spec.name);
            ctx.diags.push(
                Diag::error("two-answers", second.1.span, message).also(first.1.span, "first here").help(
                    "keep from-left= or from-right= where it runs up, above-floor= where it runs level",
                ),
            );
            return None;
        }
        [] if node.partial => return None,
        [] => {
            let message = format!("{} has no place on the wall", node.spec.name);
            let help = "add from-left= where it runs up the wall, or above-floor= where it runs level";
            ctx.error("missing-place", node.head, message, help);
            return None;
        }
    };
    let upright = name != "above-floor";
    let highest = wall.ceiling.max_between(Length::ZERO, wall.width);
    let most = if upright { wall.width } else { highest };
    let place = within(ctx, node, place, most, wall)?;
    if !upright {
        let at = |x: Length| Point::new(x, wall.floor.at(x) + place);
        return Some(Service { kind, from: at(Length::ZERO), to: at(wall.width) });
    }
    let x = if name == "from-right" { wall.width - place } else { place };
    Some(Service { kind, from: Point::new(x, wall.floor.at(x)), to: Point::new(x, wall.ceiling.at(x)) })
}

/// A place on the wall; told when it lies beyond.
fn within(ctx: &mut Ctx, node: &Node, place: Spanned<Length>, most: Length, wall: &Wall) -> Option<Length> {
    let value = ctx.ranged(place, "the place", Range { least: Length::ZERO, most: Length::feet(1000) })?;
    if value > most {
        let message = format!(
            "the {} lies {} past the edge of wall {}",
            node.spec.name,
            ctx.show(value - most),
            wall.label
        );
        ctx.error("opening-outside-wall", place.span, message, "check the place and the size of the wall");
        return None;
    }
    Some(value)
}
