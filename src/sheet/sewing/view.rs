//! A panel drawn twice, from the face and from the back.

use super::CAPTION;
use crate::geom::{Point, Rect};
use crate::plan::model::{Panel, Plan, Strip, WallRef};
use crate::sheet::document::Figure;
use crate::sheet::drawing::group;
use crate::sheet::mark::{level, line, moved, ring, upright};
use crate::sheet::model::{Anchor, Layer, Mark};
use crate::sheet::scale::Scale;
use crate::sheet::slots::{Want, place};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, pen, sign, words};
use crate::units::Length;

/// White space between the two views, where an arrow shows the way up.
const BETWEEN: Length = Length::mm(20);
/// White space between two views, one over the other.
const BELOW: Length = Length::mm(3);
/// From a view to the words beside it.
const BESIDE: Length = Length::micrometres(1_500);
/// Room beside a view for the words at its edge.
const EDGE: Length = Length::mm(5);
/// From one row of labels over a view to the next.
const LANE: Length = Length::micrometres(4_600);

/// One side of a panel on paper: wall coordinates to the view's own, whose lower left corner is
/// the origin, x right and y down.
#[derive(Clone, Copy)]
struct Side<'a> {
    panel: &'a Panel,
    scale: Scale,
    back: bool,
}

impl Side<'_> {
    fn x(&self, x: Length) -> Length {
        let gross = self.panel.gross;
        self.scale.paper(if self.back { gross.x1 - x } else { x - gross.x0 })
    }

    fn point(&self, p: Point) -> Point {
        Point::new(self.x(p.x), -self.scale.paper(p.y - self.panel.gross.y0))
    }

    /// The strips as they are cut, each from seam to seam or to the edge of the panel.
    fn shapes(&self, plan: &Plan) -> Vec<Shape<'_>> {
        let Panel { strips, gross, .. } = self.panel;
        let ends = || strips.iter().map(|strip| strip.net);
        let (first, last) = (ends().map(|net| net.x0).min(), ends().map(|net| net.x1).max());
        let shape = |strip: &'_ Strip| {
            let cut = plan.pieces.get(strip.piece.0).map_or(*gross, |piece| piece.gross);
            let x0 = if Some(strip.net.x0) == first { gross.x0 } else { strip.net.x0 };
            let x1 = if Some(strip.net.x1) == last { gross.x1 } else { strip.net.x1 };
            let (a, b) = (self.point(Point::new(x0, cut.y1)), self.point(Point::new(x1, cut.y0)));
            Rect::new(a.x.min(b.x), a.y, a.x.max(b.x), b.y)
        };
        strips.iter().map(|strip| Shape { label: strip.label.as_str(), area: shape(strip) }).collect()
    }

    fn area(&self) -> Rect {
        let gross = self.panel.gross;
        Rect::new(
            Length::ZERO,
            -self.scale.paper(gross.height()),
            self.scale.paper(gross.width()),
            Length::ZERO,
        )
    }
}

/// A strip of a view on paper.
struct Shape<'a> {
    label: &'a str,
    area: Rect,
}

/// The edges of the cloth, and the seams: where two strips lie side by side. What one of them has beyond the
/// other is an edge.
fn edges(shapes: &[Shape]) -> (Vec<Mark>, Vec<Mark>) {
    let (mut cut, mut sewn) = (Vec::new(), Vec::new());
    for shape in shapes {
        let Rect { x0, y0, x1, y1 } = shape.area;
        cut.extend([level(x0, x1, y0, pen::OPENING), level(x0, x1, y1, pen::OPENING)]);
    }
    let mut places: Vec<Length> = shapes.iter().flat_map(|s| [s.area.x0, s.area.x1]).collect();
    places.sort_unstable();
    places.dedup();
    for x in places {
        let beside: Vec<&Rect> =
            shapes.iter().map(|s| &s.area).filter(|area| area.x0 == x || area.x1 == x).collect();
        let mut heights: Vec<Length> = beside.iter().flat_map(|area| [area.y0, area.y1]).collect();
        heights.sort_unstable();
        heights.dedup();
        for pair in heights.windows(2) {
            let covers = |area: &&&Rect| area.y0 <= pair[0] && pair[1] <= area.y1;
            match beside.iter().filter(covers).count() {
                0 => {}
                1 => cut.push(upright(x, pair[0], pair[1], pen::OPENING)),
                _ => sewn.push(upright(x, pair[0], pair[1], pen::SEAM)),
            }
        }
    }
    (cut, sewn)
}

/// The two views of a panel: side by side where `width` allows it, or else one over the other.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn figure(
    plan: &Plan,
    at: WallRef,
    panel: &Panel,
    scale: Scale,
    width: Length,
) -> Result<Figure, ComposeFault> {
    let face = side(plan, at, Side { panel, scale, back: false })?;
    let back = side(plan, at, Side { panel, scale, back: true })?;
    let (one, top) = (face.width.max(back.width), face.top.min(back.top));
    let beside = one * 2 + BETWEEN <= width;
    let step = if beside {
        Point::new(one + BETWEEN, Length::ZERO)
    } else {
        Point::new(Length::ZERO, CAPTION - top + BELOW)
    };
    let left = one / 2 - scale.paper(panel.gross.width()) / 2;
    let mut marks = moved(face.marks, left, -top);
    marks.extend(moved(back.marks, left + step.x, step.y - top));
    let foot = Point::new(one + Length::mm(4), -top);
    let reach = Length::mm(9).min(scale.paper(panel.gross.height()));
    let mut way = sign::arrow(foot, Point::new(foot.x, foot.y - reach));
    let up = Point::new(foot.x + Length::mm(1), foot.y - Length::mm(1));
    way.push(Mark::Text(text::set("up", up, Anchor::Start, Style::BODY)?));
    marks.push(group(Layer::Sheet, "", "the way up", way));
    let width = if beside { step.x + one } else { one + BETWEEN / 2 };
    Ok(Figure { width, height: step.y + CAPTION - top, marks })
}

/// One view, set.
struct View {
    /// What it takes across, its words included.
    width: Length,
    /// Its highest point.
    top: Length,
    marks: Vec<Mark>,
}

fn side(plan: &Plan, at: WallRef, side: Side) -> Result<View, ComposeFault> {
    let area = side.area();
    let middle = area.width() / 2;
    let caption = if side.back { "From the back" } else { "From the face" };
    let caption =
        text::set(caption, Point::new(middle, CAPTION - Length::mm(1)), Anchor::Middle, Style::BODY)?;
    let width = (area.width() + EDGE * 2).max(caption.width);
    let field: Vec<Point> = plan.rooms[at.room].walls[at.wall].field.iter().map(|&p| side.point(p)).collect();
    let shapes = side.shapes(plan);
    let (mut cloth, seams) = edges(&shapes);
    cloth.push(Mark::Stroke { pen: pen::HIDDEN, path: ring(&field) });
    let name = format!("panel of wall {} {}", words::wall(plan, at), caption.text.to_lowercase());
    let (labels, top) = labels(side, &shapes, (middle - width / 2, middle + width / 2))?;
    let mut marks = vec![
        group(Layer::Cloth, "", name, cloth),
        group(Layer::Seams, "", "seams", seams),
        group(Layer::Cloth, "", "labels of strips", labels),
        Mark::Text(caption),
    ];
    marks.extend(edge_words(side)?);
    Ok(View { width, top, marks })
}

/// What becomes of the panel's left and right edge, beside it, where there is height enough.
fn edge_words(side: Side) -> Result<Vec<Mark>, ComposeFault> {
    let area = side.area();
    let (mut left, mut right) = (side.panel.left.finish, side.panel.right.finish);
    if side.back {
        std::mem::swap(&mut left, &mut right);
    }
    let middle = (area.y0 + area.y1) / 2;
    let caps = Style::BODY.caps.height();
    let places = [(left, area.x0 - BESIDE), (right, area.x1 + BESIDE + caps)];
    let mut marks = Vec::new();
    for (finish, x) in places {
        let words =
            text::set_upward(words::edge_word(finish), Point::new(x, middle), Anchor::Middle, Style::BODY)?;
        if words.width <= area.height() {
            marks.push(Mark::Text(words));
        }
    }
    Ok(marks)
}

/// The labels of the strips: of one that lies under another within it where it has room; of the others over
/// the view, each over its strip or, where that is too narrow, in a further row with a leader. And the highest
/// point that they take.
fn labels(
    side: Side,
    shapes: &[Shape],
    bounds: (Length, Length),
) -> Result<(Vec<Mark>, Length), ComposeFault> {
    let area = side.area();
    let mut marks = Vec::new();
    let mut over: Vec<(Length, Length, &str)> = Vec::new();
    for shape in shapes {
        let Rect { x0, y0, x1, y1 } = shape.area;
        let above = |other: &Shape| other.area.x0 < x1 && x0 < other.area.x1 && other.area.y0 < y0;
        let room = text::measure(shape.label, Style::STRONG)? + Length::mm(1) <= x1 - x0
            && Style::STRONG.caps.height() + Length::mm(1) <= y1 - y0;
        if room && shapes.iter().any(above) {
            let foot = Point::new((x0 + x1) / 2, (y0 + y1) / 2 + Style::STRONG.caps.height() / 2);
            marks.push(Mark::Text(text::set(shape.label, foot, Anchor::Middle, Style::STRONG)?));
        } else {
            over.push((x0, x1, shape.label));
        }
    }
    over.sort();
    let mut wants: Vec<Want> = Vec::new();
    let mut taken = bounds.0;
    for &(low, high, label) in &over {
        let width = text::measure(label, Style::STRONG)?;
        let start = (low + high) / 2 - width / 2;
        let fits = width + Length::mm(1) <= high - low && start >= taken;
        if fits {
            taken = start + width + Length::mm(1);
        }
        wants.push(Want { at: (low + high) / 2, width, home: fits.then_some(start) });
    }
    let mut top = area.y0;
    let slots = place(&wants, bounds);
    for ((&(_, _, label), want), slot) in over.iter().zip(&wants).zip(slots) {
        let y = area.y0 - BESIDE - LANE * slot.row as i64;
        let middle = slot.start + want.width / 2;
        if slot.row > 0 {
            let foot = Point::new(middle, y + Length::micrometres(800));
            marks.push(line(Point::new(want.at, area.y0), foot, pen::DIMENSION));
        }
        marks.push(Mark::Text(text::set(label, Point::new(middle, y), Anchor::Middle, Style::STRONG)?));
        top = top.min(y - Style::STRONG.caps.height());
    }
    Ok((marks, top))
}
