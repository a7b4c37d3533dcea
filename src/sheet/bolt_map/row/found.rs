//! What was found or done before: cuts already made, those made in vain, and flaws.

use super::{PAD, Row};
use crate::geom::{Point, Rect};
use crate::job::model::{Flaw, OnHand};
use crate::plan::model::{Piece, Plan};
use crate::sheet::drawing::group;
use crate::sheet::hatch::hatch;
use crate::sheet::mark::{filled, line, outline, rect_path};
use crate::sheet::model::{Anchor, Ink, Layer, Mark};
use crate::sheet::scale::Scale;
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, pen};
use crate::units::Length;

/// From line to line of hatching.
const HATCH: Length = Length::mm(2);
/// The least side of the box of a flaw, however small the flaw.
const FLAW: Length = Length::micrometres(2_400);

impl Row<'_> {
    /// The bolt on hand that the row is of.
    fn there<'p>(&self, plan: &'p Plan) -> Option<&'p OnHand> {
        plan.job.cloths[self.cloth].on_hand.get(self.bolt.on_hand?)
    }

    /// Whether places on the bolt are told from its start, where the pattern's place is known.
    pub(super) fn measured(&self, plan: &Plan) -> bool {
        self.there(plan).is_some_and(|there| there.first_motif.is_some())
    }

    /// Flaws as crossed boxes; those that are cut over as open ones.
    pub(super) fn flaws(&self, plan: &Plan, scale: Scale, band: Rect) -> Option<Mark> {
        let there = self.there(plan)?;
        let cloth = &plan.job.cloths[self.cloth];
        let here = |flaw: &&Flaw| flaw.v < self.v1 && flaw.v + flaw.length > self.v0;
        let mut marks = Vec::new();
        for flaw in there.flaws.iter().filter(here) {
            let (from, to) = (scale.paper(flaw.v - self.v0), scale.paper(flaw.v + flaw.length - self.v0));
            let (low, high) = (-scale.paper(flaw.u), -scale.paper(flaw.u + flaw.width));
            let (x0, x1) = stretched(from.max(band.x0), to.min(band.x1), band.x0, band.x1);
            let (y0, y1) = stretched(high, low, band.y0, band.y1);
            let area = Rect { x0, y0, x1, y1 };
            if cloth.is_cut_over(flaw) {
                marks.push(outline(area, pen::DETAIL));
                continue;
            }
            marks.push(filled(area, Ink::WHITE));
            marks.push(outline(area, pen::OPENING));
            for (left, right) in [(y0, y1), (y1, y0)] {
                marks.push(line(Point::new(x0, left), Point::new(x1, right), pen::DETAIL));
            }
        }
        (!marks.is_empty()).then(|| group(Layer::Cloth, "", "flaws", marks))
    }

    /// The cuts that were made in vain, each with its label where it has room.
    pub(super) fn in_vain(&self, plan: &Plan, scale: Scale) -> Result<Option<Mark>, ComposeFault> {
        let Some(there) = self.there(plan) else { return Ok(None) };
        let mut marks = Vec::new();
        for (cut, made) in there.cuts.iter().zip(&self.bolt.made) {
            if made.serves.is_some() || cut.v < self.v0 || cut.v >= self.v1 {
                continue;
            }
            let (x, y) = (scale.paper(cut.v - self.v0), -scale.paper(cut.u));
            let area = Rect::new(x, y - scale.paper(cut.width), x + scale.paper(cut.length), y);
            let pieces = self.lays.iter().flat_map(|lay| &lay.pieces).filter_map(|id| plan.pieces.get(id.0));
            let within = |p: &Piece| {
                let apart = p.cut.v + p.cut.length <= cut.v || cut.v + cut.length <= p.cut.v;
                !apart && p.cut.u < cut.u + cut.width && cut.u < p.cut.u + p.cut.width
            };
            if pieces.into_iter().any(within) {
                // What is cut from it is drawn and numbered.
                marks.push(outline(area, pen::HIDDEN));
                continue;
            }
            marks.push(hatched(area, false));
            marks.push(outline(area, pen::HIDDEN));
            let words = format!("{} cut in vain", cut.label);
            let fits = text::measure(&words, Style::BODY)? + PAD * 2 < area.width();
            if fits && area.height() > Style::BODY.leading() {
                let middle = Point::new((area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2);
                let set = text::set(words, middle, Anchor::Middle, Style::BODY)?;
                marks.push(filled(text::area(&set).grown(Length::micrometres(400)), Ink::WHITE));
                marks.push(Mark::Text(set));
            }
        }
        Ok((!marks.is_empty()).then(|| group(Layer::Cloth, "", "cuts made in vain", marks)))
    }
}

/// From and to, at least a flaw's least side apart about their middle, and within bounds.
fn stretched(from: Length, to: Length, least: Length, most: Length) -> (Length, Length) {
    let lacks = (FLAW - (to - from)).max(Length::ZERO);
    let from = (from - lacks / 2).min(most - FLAW).max(least);
    (from, (to + lacks / 2).max(from + FLAW).min(most))
}

/// Hatching within an area: what is cut already; falling, what is cut in vain.
pub(super) fn hatched(area: Rect, rising: bool) -> Mark {
    Mark::Clip { path: rect_path(area), marks: hatch(area, HATCH, rising) }
}
