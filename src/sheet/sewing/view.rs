//! A panel drawn twice, from the face and from the back; of one piece, which nobody sews, from the face alone.

use super::CAPTION;
use crate::geom::{Point, Rect};
use crate::plan::model::{Panel, Plan, WallRef};
use crate::sheet::document::Figure;
use crate::sheet::drawing::group;
use crate::sheet::mark::{filled, line, moved, ring, through};
use crate::sheet::model::{Anchor, Ink, Layer, Mark, Path};
use crate::sheet::offset::corners;
use crate::sheet::scale::Scale;
use crate::sheet::slots::{Want, place};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, lattice, panel_edges, pen, sign, words};
use crate::units::Length;

/// White space between the two views, where an arrow shows the way up.
const BETWEEN: Length = Length::mm(20);
/// White space between two views, one over the other.
const BELOW: Length = Length::mm(3);
/// From a view to the words beside it.
const BESIDE: Length = Length::micrometres(1_500);
/// Room beside a view for the words at its edge.
const EDGE: Length = Length::mm(5);
/// Half the width of the arrowhead at the top of a strip.
const HEAD: Length = Length::micrometres(1_100);
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

    /// The strips as they are cut.
    fn shapes(&self, plan: &Plan) -> Vec<Shape<'_>> {
        let on_paper = |area: Rect| {
            let (a, b) = (self.point(Point::new(area.x0, area.y1)), self.point(Point::new(area.x1, area.y0)));
            Rect::new(a.x.min(b.x), a.y, a.x.max(b.x), b.y)
        };
        let areas = panel_edges::areas(plan, self.panel).into_iter().map(on_paper);
        let shapes = areas.zip(&self.panel.strips);
        shapes.map(|(area, strip)| Shape { label: strip.label.as_str(), area }).collect()
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

/// The motifs of the cloth, clipped to the strips; and an arrowhead at the top of each strip.
fn pattern(plan: &Plan, at: WallRef, side: Side, shapes: &[Shape]) -> Vec<Mark> {
    let mut marks = Vec::new();
    let cloth = plan.job.rooms[at.room].cloth;
    if let Some(lattice) = &plan.job.cloths[cloth].pattern {
        let room = &plan.rooms[at.room];
        let (across, up) = (side.scale.paper(lattice.horizontal), side.scale.paper(lattice.vertical));
        let height = (across.min(up) / 3).clamp(Length::micrometres(1_200), Length::mm(4));
        // Seen from the back, a motif that lies points the other way.
        let height = if side.back { -height } else { height };
        let lies = lattice::lies(plan, cloth);
        let stamp = sign::motif(Point::default(), if lies { height } else { height.abs() }, lies);
        let centres = lattice::centres(lattice, &room.registration, room.walls[at.wall].x, side.panel.gross);
        let places = centres.into_iter().map(|p| side.point(p)).collect();
        let clip = Path(shapes.iter().flat_map(|shape| ring(&corners(shape.area)).0).collect());
        marks.push(Mark::Clip { path: clip, marks: vec![Mark::Stamp { marks: stamp, places }] });
    }
    for Shape { area, .. } in shapes {
        let half = HEAD.min(area.width() / 4).min(area.height() / 4);
        let tip = Point::new((area.x0 + area.x1) / 2, area.y0 + half);
        let foot = tip.y + half * 2;
        let path = through(&[Point::new(tip.x - half, foot), tip, Point::new(tip.x + half, foot)]);
        marks.push(Mark::Stroke { pen: pen::DETAIL, path });
    }
    marks
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
    let back = match panel.strips.len() {
        0 | 1 => None,
        _ => Some(side(plan, at, Side { panel, scale, back: true })?),
    };
    let views = || [Some(&face), back.as_ref()].into_iter().flatten();
    let one = views().map(|view| view.width).max().unwrap_or_default();
    let top = views().map(|view| view.top).min().unwrap_or_default();
    let beside = back.is_some() && one * 2 + BETWEEN <= width;
    let step = match (&back, beside) {
        (None, _) => Point::default(),
        (Some(_), true) => Point::new(one + BETWEEN, Length::ZERO),
        (Some(_), false) => Point::new(Length::ZERO, CAPTION - top + BELOW),
    };
    let left = one / 2 - scale.paper(panel.gross.width()) / 2;
    let mut marks = moved(face.marks, left, -top);
    if let Some(back) = back {
        marks.extend(moved(back.marks, left + step.x, step.y - top));
    }
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
    let areas: Vec<Rect> = shapes.iter().map(|shape| shape.area).collect();
    let (cut, sewn) = panel_edges::edges(&areas);
    let lines = |lines: panel_edges::Lines, pen| lines.into_iter().map(move |(a, b)| line(a, b, pen));
    let mut cloth = pattern(plan, at, side, &shapes);
    cloth.extend(lines(cut, pen::OPENING));
    let seams = lines(sewn, pen::SEAM).collect();
    cloth.push(Mark::Stroke { pen: pen::HIDDEN, path: ring(&field) });
    let name = format!("panel of {} {}", words::named_wall(plan, at), caption.text.to_lowercase());
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
            let label = text::set(shape.label, foot, Anchor::Middle, Style::STRONG)?;
            marks.push(filled(text::area(&label).grown(Length::micrometres(300)), Ink::WHITE));
            marks.push(Mark::Text(label));
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
