//! Dimension lines: chains that close, and running dimensions from one end.
//!
//! Oblique ticks end the parts of a chain; a running dimension starts at a small circle and has
//! an arrowhead at each place (both of ISO 129-1). Values stand over the line and read from below
//! or from the right. A value too wide for its part is led out to a further row, so that no two
//! values ever overlap.

use super::ComposeFault;
use super::mark::{filled, level, line, ring, through, upright};
use super::model::{Anchor, Group, Ink, Layer, Mark, Path, Seg};
use super::pen;
use super::slots::{Slot, Want, in_one_row, place};
use super::text::{Style, area, measure, set, set_upward};
use crate::geom::Point;
use crate::units::{Length, LengthFormat, UnitSystem};

/// From the line to the baseline of the first row of values.
const LIFT: Length = Length::micrometres(1_100);
/// From row to row of values.
const ROW: Length = Length::micrometres(4_200);
/// White between a value and the ticks beside it.
const PAD: Length = Length::mm(1);
/// How far extension lines run past the dimension line.
const PAST: Length = Length::micrometres(1_500);
/// How far a running line that counts from off the drawing is drawn beyond where the drawing begins.
const BREAK: Length = Length::mm(3);
/// From the end of an extension line to a value that is fanned out from it.
const FAN: Length = Length::mm(4);
/// Half the extent of an oblique tick.
const TICK: Length = Length::micrometres(900);

/// Rounds the parts of a chain to whole steps so that they add up to the rounded whole.
///
/// Every part is rounded down, and the steps still missing go to the parts that lost most (of
/// equals, to the leftmost): the method of the largest remainder. Each value is less than one step
/// off. Parts must not be negative.
pub fn closing(parts: &[Length], step: Length) -> Vec<Length> {
    let whole: Length = parts.iter().copied().sum();
    let total = whole.scale(1, step.nm()).nm();
    let mut steps: Vec<i64> = parts.iter().map(|part| part.div_floor(step)).collect();
    let missing = usize::try_from(total - steps.iter().sum::<i64>()).unwrap_or(0);
    let mut by_loss: Vec<usize> = (0..parts.len()).collect();
    by_loss.sort_by_key(|&i| (-parts[i].rem_euclid(step), i));
    for &i in by_loss.iter().take(missing) {
        steps[i] += 1;
    }
    steps.into_iter().map(|count| step * count).collect()
}

/// A length as a dimension value. Metric drawings say once that all values are millimetres.
pub fn value(format: &LengthFormat, length: Length) -> String {
    let text = format.print(length);
    match format.system {
        UnitSystem::Millimetres => text.trim_end_matches(" mm").to_owned(),
        UnitSystem::FeetInches | UnitSystem::Inches => text,
    }
}

/// Which way a dimension line runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// From left to right; values read from below.
    Level,
    /// From below to above; values read from the right.
    Upright,
}

impl Run {
    /// A point by its place along the line and its distance over it.
    ///
    /// Along grows right on a level line and down (with paper y) on an upright one; over grows up
    /// from a level line and left from an upright one.
    fn point(self, at: Length, along: Length, over: Length) -> Point {
        match self {
            Run::Level => Point::new(along, at - over),
            Run::Upright => Point::new(at - over, along),
        }
    }
}

/// One value of a dimension, with its place.
#[derive(Clone, Debug)]
struct Value {
    text: String,
    /// The ends on paper, along the line.
    ends: (Length, Length),
    /// The point a leader runs to.
    at: Length,
    width: Length,
    /// The part of the line that a value next to it may take.
    stretch: (Length, Length),
    slot: Slot,
}

/// A laid-out dimension: a chain or a run of dimensions from one end.
#[derive(Clone, Debug)]
pub struct Dimension {
    run: Run,
    running: bool,
    /// Whether the first stop is the zero of running dimensions.
    zero: bool,
    /// Where extension lines stand, along the line.
    stops: Vec<Length>,
    values: Vec<Value>,
    /// Whether extension lines cross the rows of values, which then keep off them.
    crossed: bool,
    /// Whether the values stand beyond the line, level and one under another, led to their places.
    fanned: bool,
}

impl Dimension {
    /// A chain through `stops`, given in the room, growing; `paper` maps them along the line.
    ///
    /// `bounds` are the ends that no value may pass, along the line on paper. On a level line the
    /// first and the last value may stand outside the outer ticks when there is room.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character of a value.
    pub fn chain(
        run: Run,
        stops: &[Length],
        paper: impl Fn(Length) -> Length,
        bounds: (Length, Length),
        format: &LengthFormat,
    ) -> Result<Dimension, ComposeFault> {
        let parts: Vec<Length> = stops.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let rounded = closing(&parts, format.step);
        let places: Vec<Length> = stops.iter().map(|&stop| paper(stop)).collect();
        let (first, last) = (places.iter().min().copied(), places.iter().max().copied());
        let mut values = Vec::new();
        let mut wants = Vec::new();
        for (pair, length) in places.windows(2).zip(rounded) {
            let text = value(format, length);
            let width = measure(&text, Style::BODY)?;
            let (low, high) = (pair[0].min(pair[1]), pair[0].max(pair[1]));
            let at = (low + high) / 2;
            let outside_low = run == Run::Level && Some(low) == first && low - PAD - width >= bounds.0;
            let outside_high = run == Run::Level && Some(high) == last && high + PAD + width <= bounds.1;
            let home = if width + PAD * 2 <= high - low {
                Some(at - width / 2)
            } else if outside_low && !outside_high {
                Some(low - PAD - width)
            } else if outside_high {
                Some(high + PAD)
            } else {
                None
            };
            wants.push(Want { at, width, home });
            values.push(Value {
                text,
                ends: (pair[0], pair[1]),
                at,
                width,
                stretch: (low + PAD, high - PAD),
                slot: Slot { row: 0, start: low },
            });
        }
        for (value, slot) in values.iter_mut().zip(place(&wants, bounds)) {
            value.slot = slot;
        }
        let (running, zero, crossed, fanned) = (false, false, false, false);
        Ok(Dimension { run, running, zero, stops: places, values, crossed, fanned })
    }

    /// Running dimensions from `zero` to each of `stops`, which grow along the line; each value
    /// may carry a label before it. Zero itself is not among the stops. The line is drawn from
    /// `from`, which is zero unless the drawing begins further along, at a match line.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character of a value or label.
    pub fn running(
        run: Run,
        zero: Length,
        from: Length,
        stops: &[(Length, String)],
        paper: impl Fn(Length) -> Length,
        bounds: (Length, Length),
        format: &LengthFormat,
    ) -> Result<Dimension, ComposeFault> {
        let start = paper(from);
        let mut before = start;
        let mut places = vec![start];
        let mut values = Vec::new();
        let mut wants = Vec::new();
        for (stop, label) in stops {
            let figure = value(format, *stop - zero);
            let text = if label.is_empty() { figure } else { format!("{label} {figure}") };
            let width = measure(&text, Style::BODY)?;
            let at = paper(*stop);
            let (low, high) = (before.min(at), before.max(at));
            let fits = width + PAD * 2 <= high - low;
            let home = fits.then(|| if at >= before { at - PAD - width } else { at + PAD });
            wants.push(Want { at, width, home });
            let stretch = (low + PAD, high - PAD);
            let slot = Slot { row: 0, start: low };
            values.push(Value { text, ends: (start, at), at, width, stretch, slot });
            places.push(at);
            before = at;
        }
        for (value, slot) in values.iter_mut().zip(place(&wants, bounds)) {
            value.slot = slot;
        }
        let (zero, crossed, fanned) = (from == zero, false, false);
        Ok(Dimension { run, running: true, zero, stops: places, values, crossed, fanned })
    }

    /// Where its extension lines stand, along the line on paper.
    pub fn stops(&self) -> &[Length] {
        &self.stops
    }

    /// The same with its values moved off extension lines: its own, which cross the rows between the drawing and the
    /// line, and those of `farther` dimensions. A value stays where it is when there is no such place near it.
    pub fn clear_of(mut self, farther: &[Length], bounds: (Length, Length)) -> Self {
        self.crossed = !self.fanned;
        if self.fanned {
            return self;
        }
        let lines: Vec<Length> = self.stops.iter().chain(farther).copied().collect();
        for n in 0..self.values.len() {
            let Value { width, slot, stretch, .. } = self.values[n];
            let (low, high) = if slot.row == 0 {
                stretch
            } else {
                (bounds.0.max(slot.start - width), bounds.1.min(slot.start + width * 2))
            };
            let beside = self.values.iter().enumerate().filter(|&(m, v)| m != n && v.slot.row == slot.row);
            let beside: Vec<(Length, Length)> =
                beside.map(|(_, v)| (v.slot.start - PAD * 2, v.slot.start + v.width + PAD * 2)).collect();
            let parts = lines.iter().map(|&line| (line - PAD, line + PAD)).chain(beside);
            let parts: Vec<(Length, Length)> = parts.collect();
            let is_clear =
                |start: Length| parts.iter().all(|&(from, to)| start + width <= from || to <= start);
            // A chain's value that stands outside its ticks has been given its place.
            if is_clear(slot.start) || slot.start < low || high < slot.start + width {
                continue;
            }
            let places = parts.iter().flat_map(|&(from, to)| [from - width, to]);
            let places = places.filter(|&start| low <= start && start + width <= high && is_clear(start));
            if let Some(start) = places.min_by_key(|&start| ((start - slot.start).abs(), start)) {
                self.values[n].slot.start = start;
            }
        }
        self
    }

    /// The same with its values beyond the line, level and one under another in the order of their places, where they
    /// would else stand in several rows. For an upright line at the right of a drawing.
    pub fn fanned(mut self, bounds: (Length, Length)) -> Self {
        if self.run == Run::Level || self.values.iter().all(|value| value.slot.row == 0) {
            return self;
        }
        let mut order: Vec<usize> = (0..self.values.len()).collect();
        order.sort_by_key(|&n| self.values[n].at);
        let width = Style::BODY.caps.height() + PAD / 5;
        let wants: Vec<Want> =
            order.iter().map(|&n| Want { at: self.values[n].at, width, home: None }).collect();
        let Some(slots) = in_one_row(&wants, bounds) else { return self };
        for (n, slot) in order.into_iter().zip(slots) {
            self.values[n].slot = slot;
        }
        self.fanned = true;
        self
    }

    /// How far the values stand beyond the line.
    pub fn beyond(&self) -> Length {
        let widest = self.values.iter().map(|value| value.width).max().unwrap_or(Length::ZERO);
        if self.fanned { PAST + FAN + PAD + widest } else { Length::ZERO }
    }

    /// How far the values reach over the line; the extension lines reach past it by as much as
    /// the ticks at least.
    pub fn depth(&self) -> Length {
        if self.fanned {
            return PAST;
        }
        let rows = self.values.iter().map(|value| value.slot.row as i64).max().unwrap_or(0);
        LIFT + Style::BODY.caps.height() + ROW * rows + PAD / 2
    }

    /// The marks, with the line at `at` (its y when level, its x when upright) and extension
    /// lines from `object`, the edge of the drawing that they start beside.
    ///
    /// `id` names the group and, numbered, each value's group; the first mark of a value's group is
    /// the stretch of dimension line that the value states.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character of a value.
    pub fn draw(&self, at: Length, object: Length, id: &str, title: &str) -> Result<Mark, ComposeFault> {
        let mut marks = Vec::new();
        for &stop in &self.stops {
            marks.extend(self.extension(stop, at, object));
        }
        let mut values = Vec::new();
        for (n, value) in self.values.iter().enumerate() {
            let group = Group {
                layer: Layer::Dimensions,
                id: if id.is_empty() { String::new() } else { format!("value-{}-of-{id}", n + 1) },
                title: value.text.clone(),
                marks: self.one(value, at)?,
            };
            values.push(Mark::Group(group));
        }
        marks.extend(values);
        if self.zero
            && let Some(&zero) = self.stops.first()
        {
            marks.push(circle(self.run.point(at, zero, Length::ZERO), Length::micrometres(800)));
        }
        if self.running
            && !self.zero
            && let Some(&start) = self.stops.first()
        {
            marks.push(self.broken_off(start, at));
        }
        Ok(Mark::Group(Group { layer: Layer::Dimensions, id: id.to_owned(), title: title.to_owned(), marks }))
    }

    /// The line beyond the drawing's beginning, with the zigzag of a line that is broken off.
    fn broken_off(&self, start: Length, at: Length) -> Mark {
        let to = |along: i64, over: i64| {
            self.run.point(at, start - BREAK.scale(along, 9), Length::micrometres(1_300) * over)
        };
        let path = through(&[to(9, 0), to(6, 0), to(5, 1), to(3, -1), to(2, 0), to(0, 0)]);
        let marks = vec![Mark::Stroke { pen: pen::DIMENSION, path }];
        let title = "counts from beyond this line".to_owned();
        Mark::Group(Group { layer: Layer::Dimensions, id: String::new(), title, marks })
    }

    fn extension(&self, stop: Length, at: Length, object: Length) -> Option<Mark> {
        let side = at - object;
        if side == Length::ZERO {
            return None;
        }
        let sign = if side > Length::ZERO { 1 } else { -1 };
        let from = object + Length::mm(1) * sign;
        let to = at + PAST * sign;
        Some(match self.run {
            Run::Level => upright(stop, from, to, pen::DIMENSION),
            Run::Upright => level(from, to, stop, pen::DIMENSION),
        })
    }

    fn one(&self, value: &Value, at: Length) -> Result<Vec<Mark>, ComposeFault> {
        let run = self.run;
        let point = |along, over| run.point(at, along, over);
        let (from, to) = value.ends;
        let mut marks = vec![line(point(from, Length::ZERO), point(to, Length::ZERO), pen::DIMENSION)];
        if self.running {
            marks.push(arrow(run, at, from, to));
        } else {
            marks.push(tick(point(from, Length::ZERO)));
            marks.push(tick(point(to, Length::ZERO)));
        }
        if self.fanned {
            let middle = value.slot.start + Style::BODY.caps.height() / 2;
            let tip = Point::new(at + PAST + FAN, middle);
            marks.push(line(Point::new(at + PAST, value.at), tip, pen::DIMENSION));
            let base = Point::new(tip.x + PAD, middle + Style::BODY.caps.height() / 2);
            marks.push(Mark::Text(set(value.text.clone(), base, Anchor::Start, Style::BODY)?));
            return Ok(marks);
        }
        let (start, end) = (value.slot.start, value.slot.start + value.width);
        let over = LIFT + ROW * value.slot.row as i64;
        let middle = (start + end) / 2;
        if value.slot.row > 0 && self.crossed {
            // Its own extension line passes the row: a short line leads from there to a value farther beside it.
            let near = if value.at < start { start - PAD / 2 } else { end + PAD / 2 };
            let height = over + Style::BODY.caps.height() / 2;
            // Not where another value hides it, from which a line would lead.
            let hidden = self.values.iter().any(|other| {
                let Slot { row, start } = other.slot;
                row == value.slot.row && start <= value.at && value.at <= start + other.width
            });
            if !hidden && (value.at + PAD < start || end + PAD < value.at) {
                marks.push(line(point(value.at, height), point(near, height), pen::DIMENSION));
            }
        } else if value.slot.row > 0 {
            let foot = over - Length::micrometres(700);
            marks.push(line(point(value.at, Length::ZERO), point(middle, foot), pen::DIMENSION));
        } else if value.slot.row == 0 && (start < from.min(to) || end > from.max(to)) {
            // The value stands outside its ticks: the line runs on under it.
            let near = if start < from.min(to) { from.min(to) } else { from.max(to) };
            let far = if start < from.min(to) { start } else { end };
            marks.push(line(point(near, Length::ZERO), point(far, Length::ZERO), pen::DIMENSION));
        }
        let base = point(middle, over);
        let text = match run {
            Run::Level => set(value.text.clone(), base, Anchor::Middle, Style::BODY)?,
            Run::Upright => set_upward(value.text.clone(), base, Anchor::Middle, Style::BODY)?,
        };
        // White behind, because an extension line of a farther dimension may pass here.
        marks.push(filled(area(&text).grown(Length::micrometres(300)), Ink::WHITE));
        marks.push(Mark::Text(text));
        Ok(marks)
    }
}

/// An oblique tick, rising to the right as on every drawing of the set.
fn tick(at: Point) -> Mark {
    line(Point::new(at.x - TICK, at.y + TICK), Point::new(at.x + TICK, at.y - TICK), pen::SEAM)
}

/// A filled arrowhead at `to`, pointing away from `from`.
fn arrow(run: Run, at: Length, from: Length, to: Length) -> Mark {
    let back = if to >= from { -Length::mm(2) } else { Length::mm(2) };
    let half = Length::micrometres(450);
    let points =
        [run.point(at, to, Length::ZERO), run.point(at, to + back, half), run.point(at, to + back, -half)];
    Mark::Fill { ink: Ink::BLACK, path: ring(&points) }
}

/// A small white circle, the zero of running dimensions.
fn circle(centre: Point, radius: Length) -> Mark {
    Mark::Group(Group {
        layer: Layer::Dimensions,
        id: String::new(),
        title: "zero".to_owned(),
        marks: vec![
            Mark::Fill { ink: Ink::WHITE, path: circle_path(centre, radius) },
            Mark::Stroke { pen: pen::DIMENSION, path: circle_path(centre, radius) },
        ],
    })
}

/// A circle as four Bézier quarters.
pub fn circle_path(c: Point, r: Length) -> Path {
    // The usual handle length for a quarter circle: 0.5523 of the radius.
    let k = r.scale(5_523, 10_000);
    let at = |dx: Length, dy: Length| Point::new(c.x + dx, c.y + dy);
    let o = Length::ZERO;
    Path(vec![
        Seg::Move(at(r, o)),
        Seg::Cubic(at(r, k), at(k, r), at(o, r)),
        Seg::Cubic(at(-k, r), at(-r, k), at(-r, o)),
        Seg::Cubic(at(-r, -k), at(-k, -r), at(o, -r)),
        Seg::Cubic(at(k, -r), at(r, -k), at(r, o)),
        Seg::Close,
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIXTEENTH: LengthFormat =
        LengthFormat { system: UnitSystem::FeetInches, step: Length::inch_64ths(4) };

    #[test]
    fn a_chain_closes_exactly() {
        let third = Length::nanometres(25_400_000 / 3);
        let step = Length::inch_64ths(4);
        let parts = [third, third, third, third, third];
        let rounded = closing(&parts, step);
        let whole: Length = parts.iter().copied().sum();
        assert_eq!(rounded.iter().copied().sum::<Length>(), step * whole.scale(1, step.nm()).nm());
        for (value, part) in rounded.iter().zip(parts) {
            assert!((*value - part).abs() < step);
        }
    }

    #[test]
    fn the_part_that_lost_most_is_rounded_up() {
        let mm = |um| Length::micrometres(um);
        let rounded = closing(&[mm(10_300), mm(10_700), mm(10_300)], Length::mm(1));
        assert_eq!(rounded, [Length::mm(10), Length::mm(11), Length::mm(10)]);
        let rounded = closing(&[mm(10_400), mm(10_400), mm(10_400)], Length::mm(1));
        assert_eq!(rounded, [Length::mm(11), Length::mm(10), Length::mm(10)]);
    }

    #[test]
    fn a_narrow_part_is_led_out_and_costs_depth() {
        let stops = [0, 60, 64, 120].map(Length::inches);
        let paper = |x: Length| x.scale(1, 48);
        let bounds = (-Length::mm(20), Length::mm(90));
        let plain =
            Dimension::chain(Run::Level, &stops[..2], paper, bounds, &SIXTEENTH).expect("plain figures");
        let led = Dimension::chain(Run::Level, &stops, paper, bounds, &SIXTEENTH).expect("plain figures");
        assert_eq!(led.values[1].slot.row, 1);
        assert_eq!(led.depth(), plain.depth() + ROW);
    }

    #[test]
    fn metric_values_leave_the_unit_to_the_notes() {
        let format = LengthFormat { system: UnitSystem::Millimetres, step: Length::mm(1) };
        assert_eq!(value(&format, Length::mm(2750)), "2750");
        assert_eq!(value(&SIXTEENTH, Length::inch_64ths(64 * 30 + 32)), "2′ 6½″");
    }
}
