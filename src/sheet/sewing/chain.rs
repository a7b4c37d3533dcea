//! The widths of a panel from its left cut edge to its right, so told that they add up to the whole.

use crate::plan::model::{Panel, Piece, Plan, Strip};
use crate::sheet::dimension::closing;
use crate::units::Length;

/// The places across a panel where an edge or a seam stands, in wall coordinates, each with the distance from the
/// first that is told for it: the parts are rounded so that the chain closes.
pub(super) struct Chain {
    places: Vec<(Length, Length)>,
}

impl Chain {
    /// The chain of a panel: its left cut edge, the ends of what its strips show, its right cut edge.
    pub(super) fn of(plan: &Plan, panel: &Panel) -> Chain {
        let mut stops = vec![panel.gross.x0, panel.gross.x1];
        stops.extend(panel.strips.iter().flat_map(|strip| [strip.net.x0, strip.net.x1]));
        stops.sort();
        stops.dedup();
        let parts: Vec<Length> = stops.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let mut at = Length::ZERO;
        let mut places = vec![(stops[0], at)];
        for (&stop, part) in stops[1..].iter().zip(closing(&parts, plan.job.print.format.step)) {
            at += part;
            places.push((stop, at));
        }
        Chain { places }
    }

    /// What is told for the stretch between two places of the chain; as it is where one is none of them.
    pub(super) fn between(&self, from: Length, to: Length) -> Length {
        let told = |at: Length| self.places.iter().find(|(place, _)| *place == at).map(|(_, told)| *told);
        match (told(from), told(to)) {
            (Some(low), Some(high)) => high - low,
            _ => to - from,
        }
    }

    /// The cloth of a strip beyond what it shows, left and right: at the ends of the panel as the chain has it.
    pub(super) fn beyond(&self, strip: &Strip, piece: &Piece) -> [Length; 2] {
        let (left, right) = (piece.net.x0 - piece.gross.x0, piece.gross.x1 - piece.net.x1);
        [self.between(strip.net.x0 - left, strip.net.x0), self.between(strip.net.x1, strip.net.x1 + right)]
    }
}
