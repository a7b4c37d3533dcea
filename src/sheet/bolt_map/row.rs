//! One row of a bolt map: a stretch of bolt with its lays and cuts, the numbers of cuts too small
//! to hold theirs in lanes above, the ends of the lays below.

mod found;

use found::hatched;

use super::Set;
use crate::geom::{Point, Rect};
use crate::job::model::Cloth;
use crate::plan::model::{Bolt, Lay, Piece, PieceId, Plan, Way};
use crate::sheet::dimension::{Dimension, Run};
use crate::sheet::drawing::group;
use crate::sheet::mark::{filled, level, line, moved, outline, rect_path, ring, upright};
use crate::sheet::model::{Anchor, Ink, Layer, Mark};
use crate::sheet::scale::Scale;
use crate::sheet::sign::{self, Ends, TAG_HALF};
use crate::sheet::slots::{Want, place};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, lattice, pen, words};
use crate::units::{Length, LengthFormat, UnitSystem};

/// From lane to lane of numbers above the bolt.
const LANE: Length = Length::micrometres(5_800);
/// White space round words inside a cut.
const PAD: Length = Length::mm(1);
/// From the bolt down to the values below it, over which they stand.
const BELOW: Length = Length::mm(2);
/// What is not cut.
const UNUSED: Ink = Ink(18);
/// Half the width of the dot at the end of a leader.
const DOT: Length = Length::micrometres(450);
/// The height of a motif's kite.
const KITE: Length = Length::micrometres(2_600);

/// A stretch of one bolt.
pub struct Row<'a> {
    cloth: usize,
    number: usize,
    bolt: &'a Bolt,
    /// Whole lays, at least one.
    lays: &'a [Lay],
    v0: Length,
    v1: Length,
}

/// The bolts of a cloth in rows that take no more than `width` of paper, as even as they can be;
/// `None` when a lay is longer than that.
pub fn rows(plan: &Plan, cloth: usize, scale: Scale, width: Length) -> Option<Vec<Row<'_>>> {
    let most = scale.real(width);
    let mut rows = Vec::new();
    for (number, bolt) in plan.cloths[cloth].bolts.iter().enumerate() {
        let cut = |most| of_bolt(cloth, number, bolt, most);
        let fewest = cut(most)?;
        let even = (1..100).map(|n| cut(most.scale(n, 100)));
        let even = even.flatten().find(|rows| rows.len() == fewest.len());
        rows.extend(even.unwrap_or(fewest));
    }
    Some(rows)
}

/// A bolt in rows of whole lays, each no longer than `most` of it. A stretch that no row can bridge, as where
/// flaws lie close, is left out.
fn of_bolt(cloth: usize, number: usize, bolt: &Bolt, most: Length) -> Option<Vec<Row<'_>>> {
    let mut rows = Vec::new();
    let (mut from, mut v0) = (0, Length::ZERO);
    while from < bolt.lays.len() {
        let next = &bolt.lays[from];
        if next.v1 - v0 > most {
            v0 = next.v0;
        }
        let fitting = bolt.lays[from..].iter().take_while(|lay| lay.v1 - v0 <= most).count();
        if fitting == 0 {
            return None;
        }
        let lays = &bolt.lays[from..from + fitting];
        let v1 = lays[fitting - 1].v1;
        rows.push(Row { cloth, number, bolt, lays, v0, v1 });
        from += fitting;
        v0 = v1;
    }
    Some(rows)
}

/// A cut on paper, in the row's own place: the bolt's lower left corner at the origin.
struct Shape<'a> {
    piece: &'a Piece,
    area: Rect,
}

impl Row<'_> {
    /// The row on paper, from its top left corner. Numbers and values may take the whole `width` of
    /// the paper, however short the stretch of bolt: many small lays need it.
    pub fn set(&self, plan: &Plan, scale: Scale, width: Length) -> Result<Set, ComposeFault> {
        let cloth = &plan.job.cloths[self.cloth];
        let length = scale.paper(self.v1 - self.v0);
        let band = Rect::new(Length::ZERO, -scale.paper(cloth.width), length, Length::ZERO);
        let shapes: Vec<Shape> = self.shapes(plan, scale).collect();
        let mut marks = vec![filled(band, UNUSED)];
        marks.extend(shapes.iter().map(|shape| filled(shape.area, Ink::WHITE)));
        marks.extend(self.motifs(plan, scale, band));
        let made = shapes.iter().filter(|shape| shape.piece.cut.made.is_some());
        marks.extend(made.map(|shape| hatched(shape.area, true)));
        for shape in &shapes {
            let number = shape.piece.cut.number;
            let edge = vec![outline(shape.area, pen::DETAIL)];
            marks.push(group(Layer::Cloth, format!("cut-{number}"), format!("edge of cut {number}"), edge));
        }
        for u in match_lines(cloth) {
            marks.push(level(band.x0, band.x1, -scale.paper(u), pen::HIDDEN));
        }
        for lay in self.lays {
            let x = scale.paper(lay.v1 - self.v0);
            marks.push(upright(x, band.y0, band.y1, pen::SEAM));
        }
        marks.push(outline(band, pen::SEAM));
        let mut cut = vec![group(Layer::Cloth, "", "the bolt and its cuts", marks)];
        cut.extend(self.in_vain(plan, scale)?);
        cut.extend(self.flaws(plan, scale, band));
        let mut outside = Vec::new();
        for shape in &shapes {
            match inside(plan, shape)? {
                Some(marks) => {
                    cut.push(group(Layer::Cloth, "", format!("cut {}", shape.piece.cut.number), marks))
                }
                None => outside.push(shape),
            }
        }
        // Each number stands on the side that its cut lies nearer to.
        let middle = (band.y0 + band.y1) / 2;
        let (upper, lower): (Vec<&Shape>, Vec<&Shape>) =
            outside.into_iter().partition(|shape| (shape.area.y0 + shape.area.y1) / 2 < middle);
        let room = Rect { x1: width.max(band.x1), ..band };
        let (above, top) = outside_numbers(&upper, room, room.y0)?;
        let (below, under) = outside_numbers(&lower, room, room.y1)?;
        let (dimension, bottom) = self.ends(plan, scale, Rect { y1: under, ..room })?;
        cut.push(dimension);
        cut.push(group(Layer::Cloth, "", "numbers of small cuts", [above, below].concat()));
        let head = top - Length::mm(1);
        let words =
            text::set(self.words(plan), Point::new(Length::ZERO, head), Anchor::Start, Style::STRONG)?;
        cut.push(Mark::Text(words));
        let top = head - Style::STRONG.caps.height();
        Ok(Set { height: bottom - top, marks: moved(cut, Length::ZERO, -top) })
    }

    fn words(&self, plan: &Plan) -> String {
        let bolt = words::bolt(plan, self.cloth, self.number);
        if self.v0 > Length::ZERO {
            return format!("{bolt}, continued from {}", words::cloth_length(plan, self.v0));
        }
        let used = words::sold(self.bolt.used, plan.job.cloths[self.cloth].sold_in);
        match plan.job.cloths[self.cloth].pattern {
            None => format!("{bolt}: {used} used"),
            Some(_) if self.measured(plan) => format!("{bolt}: {used} used; values run from its start"),
            Some(pattern) => {
                let place = match self.bolt.start {
                    Length::ZERO => "on".to_owned(),
                    start => {
                        format!("{} {}", words::cloth_length(plan, start), words::past(plan.way(self.cloth)))
                    }
                };
                let cloth = &plan.job.cloths[self.cloth];
                let column = words::cloth_length(plan, cloth.left_match + pattern.horizontal / 2);
                format!(
                    "{bolt}: {used} used; make the first cut {place} a motif of the column {column} from the left edge"
                )
            }
        }
    }

    fn shapes<'p>(&'p self, plan: &'p Plan, scale: Scale) -> impl Iterator<Item = Shape<'p>> {
        let ids = self.lays.iter().flat_map(|lay| &lay.pieces);
        ids.filter_map(|&PieceId(id)| plan.pieces.get(id)).map(move |piece| {
            let cut = piece.cut;
            let x = |v: Length| scale.paper(v - self.v0);
            let area = Rect::new(
                x(cut.v),
                -scale.paper(cut.u + cut.width),
                x(cut.v + cut.length),
                -scale.paper(cut.u),
            );
            Shape { piece, area }
        })
    }

    /// The centres of motifs, as kites whose long point shows where their tops are: to the left, or, on
    /// cloth made to be railroaded, at the right edge of the cloth.
    fn motifs(&self, plan: &Plan, scale: Scale, band: Rect) -> Option<Mark> {
        let cloth = &plan.job.cloths[self.cloth];
        let pattern = cloth.pattern?;
        // A plane with x across the cloth and y up the pattern, against v.
        let origin = Point::new(cloth.left_match + pattern.horizontal / 2, self.bolt.start);
        let area = Rect::new(Length::ZERO, -self.v1, cloth.width, -self.v0);
        let centres = lattice::grid(&pattern, origin, area);
        let stands = plan.way(self.cloth) == Way::Railroaded && !lattice::lies(plan, self.cloth);
        let places = centres.into_iter().map(|p| Point::new(scale.paper(-p.y - self.v0), -scale.paper(p.x)));
        let marks = vec![Mark::Stamp { marks: vec![kite(stands)], places: places.collect() }];
        Some(Mark::Clip { path: rect_path(band), marks })
    }

    /// The ends of lays whose values stand clear of one another, and the row's end: a strip's lay is
    /// narrower than its value, and the cut list tells the place of every cut.
    fn readable_ends(
        &self,
        scale: Scale,
        format: &LengthFormat,
    ) -> Result<Vec<(Length, String)>, ComposeFault> {
        let mut ends: Vec<Length> = Vec::new();
        for lay in self.lays {
            let value = text::measure(&format.print(lay.v1), Style::BODY)? + PAD * 2;
            let clear = |from: Length| scale.paper(lay.v1 - from) >= value;
            if lay.v1 == self.v1 {
                while ends.last().is_some_and(|&end| !clear(end)) {
                    ends.pop();
                }
                ends.push(lay.v1);
            } else if clear(ends.last().copied().unwrap_or(self.v0)) {
                ends.push(lay.v1);
            }
        }
        Ok(ends.into_iter().map(|end| (end, String::new())).collect())
    }

    /// The ends of the lays, by their distance from the bolt's first cut, under `room`; and the lowest
    /// point.
    fn ends(&self, plan: &Plan, scale: Scale, room: Rect) -> Result<(Mark, Length), ComposeFault> {
        let format = plan.job.print.format;
        let system = match format.system {
            UnitSystem::FeetInches => UnitSystem::Inches,
            system => system,
        };
        let format = LengthFormat { system, ..format };
        let stops = self.readable_ends(scale, &format)?;
        let run = Dimension::running(
            Run::Level,
            Length::ZERO,
            self.v0,
            &stops,
            |v| scale.paper(v - self.v0),
            (room.x0, room.x1),
            &format,
        )?;
        let at = room.y1 + BELOW + run.depth();
        let id = format!("lays-{}-{}", self.number + 1, self.v0.div_floor(Length::mm(1)));
        Ok((run.draw(at, room.y1, &id, "ends of the lays")?, at + Length::mm(2)))
    }
}

/// The match lines of a patterned cloth, from its left edge.
pub fn match_lines(cloth: &Cloth) -> Vec<Length> {
    match cloth.pattern {
        Some(_) => vec![cloth.left_match, cloth.left_match + cloth.match_width],
        None => Vec::new(),
    }
}

fn kite(stands: bool) -> Mark {
    let (long, short, side) = (KITE.scale(3, 5), KITE.scale(2, 5), KITE.scale(3, 10));
    let corners = [(-long, Length::ZERO), (Length::ZERO, side), (short, Length::ZERO), (Length::ZERO, -side)];
    let corners = corners.map(|(x, y)| if stands { Point::new(-y, x) } else { Point::new(x, y) });
    Mark::Stroke { pen: pen::PATTERN, path: ring(&corners) }
}

/// A number with as many words as its cut has room for: label, size and mark; `None` when not
/// even the number fits.
fn inside(plan: &Plan, shape: &Shape) -> Result<Option<Vec<Mark>>, ComposeFault> {
    let Shape { piece, area } = shape;
    let room = Rect { x0: area.x0 + PAD, y0: area.y0 + PAD, x1: area.x1 - PAD, y1: area.y1 - PAD };
    let (marks, tag) = sign::tag(Point::default(), &piece.cut.number.to_string(), Ends::Round, false)?;
    if tag.width() > area.width() - PAD || tag.height() > area.height() - PAD {
        return Ok(None);
    }
    let size = |length| words::cloth_length(plan, length);
    let made = if piece.cut.made.is_some() { ", cut" } else { "" };
    let lines = [
        Some((format!("{}{made}", piece.label), Style::STRONG)),
        Some((format!("{} × {}", size(piece.cut.length), size(piece.cut.width)), Style::BODY)),
        words::motif(plan, piece).map(|motif| (motif, Style::BODY)),
    ];
    let leading = Style::BODY.leading();
    let mut fitting = Vec::new();
    for (line, style) in lines.into_iter().flatten() {
        let height = tag.height() + PAD / 2 + leading * (fitting.len() as i64 + 1);
        if text::measure(&line, style)? > room.width() || height > room.height() {
            break;
        }
        fitting.push((line, style));
    }
    let height = tag.height() + leading * fitting.len() as i64;
    let middle = (area.x0 + area.x1) / 2;
    let top = (area.y0 + area.y1) / 2 - height / 2;
    let mut set = moved(marks, middle, top + tag.height() / 2);
    for (i, (line, style)) in fitting.into_iter().enumerate() {
        let y = top + tag.height() + leading * (i as i64 + 1) - Length::micrometres(600);
        let line = text::set(line, Point::new(middle, y), Anchor::Middle, style)?;
        set.push(filled(text::area(&line).grown(Length::micrometres(200)), Ink::WHITE));
        set.push(Mark::Text(line));
    }
    Ok(Some(set))
}

/// The numbers of cuts too small to hold theirs, in lanes outside the `edge` of the bolt, which is
/// the upper or the lower one of `room`, each with a leader to a dot on its cut; and the point farthest out.
fn outside_numbers(shapes: &[&Shape], room: Rect, edge: Length) -> Result<(Vec<Mark>, Length), ComposeFault> {
    let mut shapes: Vec<&Shape> = shapes.to_vec();
    shapes.sort_by_key(|shape| (shape.area.x0, shape.area.y0, shape.piece.cut.number));
    let mut tags = Vec::new();
    let mut wants = Vec::new();
    let mut cursor = room.x0;
    for shape in &shapes {
        let number = shape.piece.cut.number.to_string();
        let (marks, tag) = sign::tag(Point::default(), &number, Ends::Round, false)?;
        // Along strips that lie side by side, each number takes the next place.
        let low = shape.area.x0 + DOT;
        let high = (shape.area.x1 - DOT).max(low);
        let at = (cursor + tag.width() / 2).clamp(low, high);
        cursor = at + tag.width() / 2 + PAD * 2;
        wants.push(Want { at, width: tag.width(), home: None });
        tags.push(marks);
    }
    let out = if edge == room.y0 { -1 } else { 1 };
    let (mut leaders, mut numbers) = (Vec::new(), Vec::new());
    let mut reach = edge;
    let slots = place(&wants, (room.x0, room.x1));
    for (((shape, want), slot), tag) in shapes.iter().zip(&wants).zip(slots).zip(tags) {
        // `place` keeps row 0 for values at home, of which there are none here.
        let lane = slot.row.max(1) as i64 - 1;
        let away = LANE * lane + LANE / 2 + Length::mm(1);
        let centre = Point::new(slot.start + want.width / 2, edge + away * out);
        let dot = Point::new(want.at, (shape.area.y0 + shape.area.y1) / 2);
        let crossing = Point::new(want.at, edge);
        leaders.push(line(dot, crossing, pen::DIMENSION));
        leaders.push(line(crossing, centre, pen::DIMENSION));
        leaders.push(filled(Rect::new(dot.x, dot.y, dot.x, dot.y).grown(DOT), Ink::BLACK));
        numbers.extend(moved(tag, centre.x, centre.y));
        let end = centre.y + TAG_HALF * out;
        reach = if out < 0 { reach.min(end) } else { reach.max(end) };
    }
    leaders.extend(numbers);
    Ok((leaders, reach))
}
