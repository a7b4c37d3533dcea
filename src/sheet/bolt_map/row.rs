//! One row of a bolt map: a stretch of bolt with its lays and cuts, the numbers of cuts too small
//! to hold theirs in lanes above, the ends of the lays below.

mod found;
mod numbers;

use found::hatched;
use numbers::{inside, outside};

use super::Set;
use crate::geom::{Point, Rect};
use crate::job::model::Cloth;
use crate::plan::model::{Bolt, Lay, Piece, PieceId, Plan, Way};
use crate::sheet::dimension::{Dimension, Run};
use crate::sheet::drawing::group;
use crate::sheet::mark::{filled, level, moved, outline, rect_path, ring, upright};
use crate::sheet::model::{Anchor, Ink, Layer, Mark};
use crate::sheet::scale::Scale;
use crate::sheet::sign;
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, lattice, pen, words};
use crate::units::{Length, LengthFormat, UnitSystem};

/// White space round words inside a cut.
const PAD: Length = Length::mm(1);
/// From the bolt down to the values below it, over which they stand.
const BELOW: Length = Length::mm(2);
/// What is not cut.
const UNUSED: Ink = Ink(18);
/// The height of a motif's kite.
const KITE: Length = Length::micrometres(2_600);
/// White kept between a kite and words.
const CLEAR: Length = Length::micrometres(300);
/// From what stands outside the bolt up to the words over it.
const TO_HEAD: Length = Length::micrometres(2_200);
/// From the words over a row to the arrow beside them, the arrow's length, and from it to its own words.
const TO_ARROW: Length = Length::mm(9);
const ARROW: Length = Length::mm(7);
const FROM_ARROW: Length = Length::micrometres(1_500);
/// From the line of values down to the numbers of the lays.
const TO_LAYS: Length = Length::micrometres(1_200);

/// A stretch of one bolt.
pub struct Row<'a> {
    cloth: usize,
    number: usize,
    bolt: &'a Bolt,
    /// Whole lays, at least one.
    lays: &'a [Lay],
    /// The place of the first of them among all lays of the bolt.
    first: usize,
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
        rows.push(Row { cloth, number, bolt, lays, first: from, v0, v1 });
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
        let (mut labelled, mut unlabelled, mut taken) = (Vec::new(), Vec::new(), Vec::new());
        for shape in &shapes {
            match inside(plan, shape)? {
                Some((marks, area)) => {
                    labelled.push(group(Layer::Cloth, "", format!("cut {}", shape.piece.cut.number), marks));
                    taken.extend(area);
                }
                None => unlabelled.push(shape),
            }
        }
        let mut marks = vec![filled(band, UNUSED)];
        marks.extend(shapes.iter().map(|shape| filled(shape.area, Ink::WHITE)));
        marks.extend(self.motifs(plan, scale, band, &taken));
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
        cut.extend(labelled);
        // Each number stands on the side that its cut lies nearer to.
        let middle = (band.y0 + band.y1) / 2;
        let (upper, lower): (Vec<&Shape>, Vec<&Shape>) =
            unlabelled.into_iter().partition(|shape| (shape.area.y0 + shape.area.y1) / 2 < middle);
        let room = Rect { x1: width.max(band.x1), ..band };
        let (above, top) = outside(&upper, room, room.y0)?;
        let (below, under) = outside(&lower, room, room.y1)?;
        let (dimension, bottom) = self.ends(plan, scale, Rect { y1: under, ..room })?;
        cut.extend(dimension);
        cut.push(group(Layer::Cloth, "", "numbers of small cuts", [above, below].concat()));
        let (head, top) = self.head(plan, top - TO_HEAD, width)?;
        cut.extend(head);
        Ok(Set { height: bottom - top, marks: moved(cut, Length::ZERO, -top) })
    }

    /// The words over the row, on the baseline `foot`, with the arrow to the tops of its pieces: beside them where
    /// `width` allows it, else under them. And the highest point.
    fn head(&self, plan: &Plan, foot: Length, width: Length) -> Result<(Vec<Mark>, Length), ComposeFault> {
        let words = self.words(plan);
        let railroaded = plan.way(self.cloth) == Way::Railroaded;
        let stands = plan.job.cloths[self.cloth].pattern.is_some() && !lattice::lies(plan, self.cloth);
        let tops = if stands { "tops of the pattern and of all pieces" } else { "tops of all pieces" };
        let caps = Style::BODY.caps.height();
        let arrow = if railroaded { Length::mm(2) } else { ARROW };
        let beside = text::measure(&words, Style::STRONG)? + TO_ARROW;
        let fits = beside + arrow + FROM_ARROW + text::measure(tops, Style::BODY)? <= width;
        let (x, baseline) =
            if fits { (beside, foot) } else { (Length::ZERO, foot - Style::STRONG.leading()) };
        let middle = foot - caps / 2;
        let mut marks = match railroaded {
            true => {
                let x = x + arrow / 2;
                sign::arrow(Point::new(x, foot + Length::mm(1)), Point::new(x, foot - caps - Length::mm(1)))
            }
            false => sign::arrow(Point::new(x + arrow, middle), Point::new(x, middle)),
        };
        let at = Point::new(x + arrow + FROM_ARROW, foot);
        marks.push(Mark::Text(text::set(tops, at, Anchor::Start, Style::BODY)?));
        let words = text::set(words, Point::new(Length::ZERO, baseline), Anchor::Start, Style::STRONG)?;
        let over = if fits && railroaded { Length::mm(1) } else { Length::ZERO };
        let top = baseline - Style::STRONG.caps.height() - over;
        Ok((vec![Mark::Text(words), group(Layer::Cloth, "", "the way up", marks)], top))
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
    /// cloth made to be railroaded, at the right edge of the cloth. None is drawn where words have `taken` the place.
    fn motifs(&self, plan: &Plan, scale: Scale, band: Rect, taken: &[Rect]) -> Option<Mark> {
        let cloth = &plan.job.cloths[self.cloth];
        let pattern = cloth.pattern?;
        // A plane with x across the cloth and y up the pattern, against v.
        let origin = Point::new(cloth.left_match + pattern.horizontal / 2, self.bolt.start);
        let area = Rect::new(Length::ZERO, -self.v1, cloth.width, -self.v0);
        let centres = lattice::grid(&pattern, origin, area);
        let stands = plan.way(self.cloth) == Way::Railroaded && !lattice::lies(plan, self.cloth);
        let places = centres.into_iter().map(|p| Point::new(scale.paper(-p.y - self.v0), -scale.paper(p.x)));
        let touched = |p: &Point| {
            let kite = Rect::new(p.x, p.y, p.x, p.y).grown(KITE.scale(3, 5) + CLEAR);
            taken.iter().any(|words| words.overlaps(&kite))
        };
        let places = places.filter(|place| !touched(place)).collect();
        let marks = vec![Mark::Stamp { marks: vec![kite(stands)], places }];
        Some(Mark::Clip { path: rect_path(band), marks })
    }

    /// The lays, by their places in the row, whose ends have values that stand clear of one another, the row's last
    /// among them: a strip's lay is narrower than its value, and the cut list tells the place of every cut.
    fn readable_ends(&self, scale: Scale, format: &LengthFormat) -> Result<Vec<usize>, ComposeFault> {
        let mut ends: Vec<usize> = Vec::new();
        for (at, lay) in self.lays.iter().enumerate() {
            let value = text::measure(&format.print(lay.v1), Style::BODY)?;
            let clear = |before: Option<usize>| {
                let (from, next) = before.map_or((self.v0, 0), |end| (self.lays[end].v1, end + 1));
                let numbers = text::measure(&self.numbers(next, at), Style::BODY)?;
                Ok::<_, ComposeFault>(scale.paper(lay.v1 - from) >= value.max(numbers) + PAD * 2)
            };
            if at + 1 == self.lays.len() {
                while let Some(&end) = ends.last()
                    && !clear(Some(end))?
                {
                    ends.pop();
                }
                ends.push(at);
            } else if clear(ends.last().copied())? {
                ends.push(at);
            }
        }
        Ok(ends)
    }

    /// The numbers of lays, given by their places in the row, as the cut list has them.
    fn numbers(&self, from: usize, to: usize) -> String {
        let number = |at: usize| self.first + at + 1;
        if from == to { number(to).to_string() } else { format!("{}–{}", number(from), number(to)) }
    }

    /// The ends of the lays, by their distance from the bolt's first cut, under `room`, with the numbers of the lays
    /// under them; and the lowest point.
    fn ends(&self, plan: &Plan, scale: Scale, room: Rect) -> Result<(Vec<Mark>, Length), ComposeFault> {
        let format = plan.job.print.format;
        let system = match format.system {
            UnitSystem::FeetInches => UnitSystem::Inches,
            system => system,
        };
        let format = LengthFormat { system, ..format };
        let ends = self.readable_ends(scale, &format)?;
        let stops: Vec<_> = ends.iter().map(|&end| (self.lays[end].v1, String::new())).collect();
        let paper = |v| scale.paper(v - self.v0);
        let bounds = (room.x0, room.x1);
        let run = Dimension::running(Run::Level, Length::ZERO, self.v0, &stops, paper, bounds, &format)?;
        let at = room.y1 + BELOW + run.depth();
        let id = format!("lays-{}-{}", self.number + 1, self.v0.div_floor(Length::mm(1)));
        let dimension = run.draw(at, room.y1, &id, "ends of the lays")?;
        let baseline = at + TO_LAYS + Style::BODY.caps.height();
        let mut numbers = Vec::new();
        let (mut next, mut from) = (0, Length::ZERO);
        for end in ends {
            let to = paper(self.lays[end].v1);
            let short = self.numbers(next, end);
            let long = format!("{} {short}", if next == end { "lay" } else { "lays" });
            let fits = text::measure(&long, Style::BODY)? + PAD * 2 <= to - from;
            let words = if fits { long } else { short };
            let half = text::measure(&words, Style::BODY)? / 2;
            let middle = ((from + to) / 2).min(room.x1 - half).max(room.x0 + half);
            let words = text::set(words, Point::new(middle, baseline), Anchor::Middle, Style::BODY)?;
            numbers.push(Mark::Text(words));
            (next, from) = (end + 1, to);
        }
        let numbers = group(Layer::Dimensions, "", "numbers of the lays", numbers);
        Ok((vec![dimension, numbers], baseline + PAD))
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
