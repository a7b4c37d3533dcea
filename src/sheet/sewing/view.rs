//! A panel drawn twice, from the face and from the back.

use super::CAPTION;
use crate::geom::{Point, Rect};
use crate::plan::model::{Panel, Plan, WallRef};
use crate::sheet::document::Figure;
use crate::sheet::drawing::group;
use crate::sheet::mark::{line, moved, outline, ring, upright};
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
    let mut cloth = vec![outline(area, pen::OPENING)];
    cloth.push(Mark::Stroke { pen: pen::HIDDEN, path: ring(&field) });
    // Seams of a panel of whole drops run through its allowances; joints over and under a pieced
    // opening end at it.
    let through = side.panel.strips.len() == side.panel.seams.len() + 1;
    let seams = side.panel.seams.iter().map(|seam| {
        let (low, high) = (side.point(Point::new(seam.x, seam.y0)), side.point(Point::new(seam.x, seam.y1)));
        let (y0, y1) = if through { (area.y0, area.y1) } else { (high.y, low.y) };
        upright(low.x, y0, y1, pen::SEAM)
    });
    let name = format!("panel of wall {} {}", words::wall(plan, at), caption.text.to_lowercase());
    let (labels, top) = labels(side, (middle - width / 2, middle + width / 2))?;
    let mut marks = vec![
        group(Layer::Cloth, "", name, cloth),
        group(Layer::Seams, "", "seams", seams.collect()),
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

/// The labels of the strips over the view, each over its strip or, where that is too narrow, in a
/// further row with a leader; and the highest point that they take.
fn labels(side: Side, bounds: (Length, Length)) -> Result<(Vec<Mark>, Length), ComposeFault> {
    let area = side.area();
    let mut strips: Vec<(Length, Length, &str)> = side
        .panel
        .strips
        .iter()
        .map(|strip| {
            let (a, b) = (side.x(strip.net.x0), side.x(strip.net.x1));
            (a.min(b), a.max(b), strip.label.as_str())
        })
        .collect();
    strips.sort();
    let mut wants: Vec<Want> = Vec::new();
    let mut taken = bounds.0;
    for &(low, high, label) in &strips {
        let width = text::measure(label, Style::STRONG)?;
        let start = (low + high) / 2 - width / 2;
        let fits = width + Length::mm(1) <= high - low && start >= taken;
        if fits {
            taken = start + width + Length::mm(1);
        }
        wants.push(Want { at: (low + high) / 2, width, home: fits.then_some(start) });
    }
    let mut marks = Vec::new();
    let mut top = area.y0;
    let slots = place(&wants, bounds);
    for ((&(_, _, label), want), slot) in strips.iter().zip(&wants).zip(slots) {
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
