//! A drawing being made: its marks, the signs it used, and the paper its labels take.

use std::collections::BTreeSet;

use super::ComposeFault;
use super::extent;
use super::mark::filled;
use super::model::{Group, Ink, Layer, Mark, Text};
use super::sign::{Ends, Sign, tag};
use super::text;
use crate::geom::{Point, Rect};
use crate::units::Length;

/// White kept round a label.
const CLEAR: Length = Length::micrometres(600);

/// What takes no more than this one way is a line.
const LINE: Length = Length::micrometres(700);

/// A drawing being made.
#[derive(Clone, Debug, Default)]
pub struct Drawing {
    /// The marks, in drawing order.
    pub marks: Vec<Mark>,
    /// The signs that the legend must explain.
    pub signs: BTreeSet<Sign>,
    /// Labels, drawn over everything else when the drawing is done.
    labels: Vec<Mark>,
    /// Paper that no label may cover: other labels, and what must be seen whole.
    taken: Vec<Rect>,
    /// Paper that a label covers only when there is no other place: lines of staples and trim.
    crossed: Vec<Rect>,
    /// Paper that a label covers rather than those, though it looks better off it: motifs.
    shunned: Vec<Rect>,
}

impl Drawing {
    /// Adds a group of marks.
    pub fn group(&mut self, layer: Layer, id: impl Into<String>, title: impl Into<String>, marks: Vec<Mark>) {
        if !marks.is_empty() {
            self.marks.push(group(layer, id, title, marks));
        }
    }

    /// Keeps `area` free of labels.
    pub fn take(&mut self, area: Rect) {
        self.taken.push(area);
    }

    /// Keeps labels off `area` where there is another place for them that covers nothing.
    pub fn shun(&mut self, area: Rect) {
        self.shunned.push(area);
    }

    /// Keeps labels off the lines through `points` where that is possible.
    pub fn keep_clear(&mut self, points: &[Point]) {
        for pair in points.windows(2) {
            // A slope is kept clear in short steps, a level or upright line in one.
            let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
            let steps = if dx == Length::ZERO || dy == Length::ZERO {
                1
            } else {
                dx.abs().max(dy.abs()).div_ceil(Length::mm(2)).clamp(1, 200)
            };
            for n in 0..steps {
                let at = |n: i64| Point::new(pair[0].x + dx * n / steps, pair[0].y + dy * n / steps);
                let (a, b) = (at(n), at(n + 1));
                self.crossed.push(Rect::new(a.x, a.y, b.x, b.y));
            }
        }
    }

    /// Whether a label over `area` would cover nothing that must be seen; lines only if `strict`.
    pub fn is_free(&self, area: Rect, strict: bool) -> bool {
        let grown = area.grown(CLEAR);
        self.taken.iter().all(|taken| !taken.overlaps(&grown))
            && (!strict || self.crossed.iter().all(|line| !line.grown(CLEAR).overlaps(&area)))
    }

    /// Whether a label over `area` would cover no motif.
    pub fn is_bare(&self, area: Rect) -> bool {
        !self.shunned.iter().any(|shunned| shunned.overlaps(&area))
    }

    /// Whether a leader between two points would cross nothing that must be seen but lines, such as seams.
    pub fn leads(&self, from: Point, to: Point) -> bool {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let steps = dx.abs().max(dy.abs()).div_ceil(Length::mm(1)).max(1);
        let dot = Length::micrometres(100);
        (1..steps).all(|n| {
            let p = Point::new(from.x + dx * n / steps, from.y + dy * n / steps);
            let area = Rect::new(p.x - dot, p.y - dot, p.x + dot, p.y + dot);
            let mut taken = self.taken.iter().filter(|taken| taken.width().min(taken.height()) > LINE);
            taken.all(|taken| !taken.overlaps(&area))
        })
    }

    /// Whether any text lies over `area`, also one that keeps no paper free.
    pub fn has_text(&self, area: Rect) -> bool {
        fn any(marks: &[Mark], area: &Rect) -> bool {
            marks.iter().any(|mark| match mark {
                Mark::Text(text) => text::area(text).overlaps(area),
                Mark::Group(group) => any(&group.marks, area),
                Mark::Clip { marks, .. } => any(marks, area),
                _ => false,
            })
        }
        any(&self.marks, &area) || any(&self.labels, &area)
    }

    /// Sets a short label at the first of `places` where it covers nothing, else at the first where it
    /// covers only a motif, else only a line. Returns the place, or `None` when there is none.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character.
    pub fn tag_at(
        &mut self,
        layer: Layer,
        label: &str,
        ends: Ends,
        places: &[Point],
    ) -> Result<Option<Point>, ComposeFault> {
        for (strict, bare) in [(true, true), (true, false), (false, false)] {
            for &place in places {
                let (marks, area) = tag(place, label, ends, false)?;
                let is_bare = !bare || self.is_bare(area);
                if is_bare && self.is_free(area, strict) {
                    self.take(area);
                    self.labels.push(group(layer, "", label, marks));
                    return Ok(Some(place));
                }
            }
        }
        Ok(None)
    }

    /// Lays a group over the drawing when it is done.
    pub fn label(&mut self, label: Mark) {
        self.labels.push(label);
    }

    /// Adds a text on white and keeps its paper free.
    pub fn text(&mut self, layer: Layer, text: Text) {
        let area = text::area(&text);
        self.take(area);
        let title = text.text.clone();
        let back = filled(area.grown(Length::micrometres(400)), Ink::WHITE);
        self.labels.push(group(layer, "", title, vec![back, Mark::Text(text)]));
    }

    /// Ends the drawing: the labels are laid over it.
    pub fn finish(mut self) -> Self {
        let labels = std::mem::take(&mut self.labels);
        self.marks.extend(labels);
        self
    }

    /// The paper that the drawing takes.
    pub fn extent(&self) -> Rect {
        extent::of(&self.marks).unwrap_or_default()
    }
}

/// A group of marks on a layer.
pub fn group(layer: Layer, id: impl Into<String>, title: impl Into<String>, marks: Vec<Mark>) -> Mark {
    Mark::Group(Group { layer, id: id.into(), title: title.into(), marks })
}
