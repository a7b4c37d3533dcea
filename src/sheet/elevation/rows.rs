//! Staple rows and trim runs on an elevation, drawn a little inside the edge that they lie on.

use super::cloth::is_pictured;
use super::view::{ClothOnPaper, View};
use crate::geom::{Point, Rect};
use crate::plan::model::{StapleKind, StapleLine};
use crate::sheet::drawing::{Drawing, group};
use crate::sheet::mark::{line, through};
use crate::sheet::model::{Layer, Mark};
use crate::sheet::offset::{beside, corners, spread};
use crate::sheet::pen;
use crate::sheet::sign::{self, Ends, Sign};
use crate::sheet::slots::{Want, in_one_row};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, words};
use crate::units::Length;

/// How far inside the edge trim is drawn.
const TRIM_OFF: Length = Length::micrometres(1_000);
/// How far inside the edge staples are drawn.
const STAPLES_OFF: Length = Length::micrometres(2_100);
/// How far inside the edge tacks are drawn.
const TACKS_OFF: Length = Length::micrometres(3_000);
/// How far inside the edge the label of a row may stand, the best first.
const LABEL_OFF: [Length; 3] = [Length::micrometres(5_600), Length::micrometres(4_600), Length::mm(8)];
/// From an edge to the middle of a label that is led to its row.
const IN_OPENING: Length = Length::micrometres(3_500);
/// From place to place that is tried for such a label.
const LEAD_STEP: Length = Length::mm(3);
/// From a narrow wall to the labels beside it.
const BESIDE: Length = Length::mm(6);
/// The longest leader, across and up together.
const LONGEST_LEAD: Length = Length::mm(60);
/// Closer than this, staples would merge on paper: a row is drawn dotted instead.
const CLOSEST: Length = Length::micrometres(800);

/// A label of a row or run, with the places where it may stand, the best first.
pub struct RowLabel {
    layer: Layer,
    sign: Sign,
    label: String,
    places: Vec<Point>,
    /// Where on what it names a leader may end, the best first.
    ends: Vec<Point>,
}

/// Sets the labels once all lines are drawn. One that has no room beside its row is led to it, from the right of the
/// wall where the wall has none: returns how much paper those take there.
pub fn labels(view: &View, labels: &[RowLabel], drawing: &mut Drawing) -> Result<Length, ComposeFault> {
    let mut led = Vec::new();
    for label in labels {
        match drawing.tag_at(label.layer, &label.label, Ends::None, &label.places)? {
            Some(_) => {
                drawing.signs.insert(label.sign);
            }
            None => led.push(label),
        }
    }
    let mut outside = Vec::new();
    for label in led {
        if lead(view, label, drawing)? {
            drawing.signs.insert(label.sign);
        } else if let Some(&end) = label.ends.first() {
            outside.push((label, end));
        }
    }
    beside_wall(view, outside, drawing)
}

/// Sets labels one under another at the right of a narrow wall, led to their rows; returns how much paper they take.
fn beside_wall(
    view: &View,
    mut outside: Vec<(&RowLabel, Point)>,
    drawing: &mut Drawing,
) -> Result<Length, ComposeFault> {
    outside.sort_by_key(|(_, end)| (end.y, -end.x));
    let tall = Style::STRONG.caps.height();
    let wants: Vec<Want> =
        outside.iter().map(|(_, end)| Want { at: end.y, width: tall, home: None }).collect();
    let bounds = (view.map.y(view.top()), view.map.y(view.bottom()));
    let Some(slots) = in_one_row(&wants, bounds) else { return Ok(Length::ZERO) };
    let left = view.map.x(view.window.1) + BESIDE;
    let mut beyond = Length::ZERO;
    for ((label, end), slot) in outside.into_iter().zip(slots) {
        let width = text::measure(&label.label, Style::STRONG)?;
        let centre = Point::new(left + width / 2, slot.start + tall / 2);
        let (marks, area) = sign::tag(centre, &label.label, Ends::None, false)?;
        drawing.take(area);
        let foot = Point::new(area.x0, centre.y);
        drawing.label(group(label.layer, "", "leader", vec![line(end, foot, pen::DIMENSION)]));
        drawing.label(group(label.layer, "", label.label.as_str(), marks));
        drawing.signs.insert(label.sign);
        beyond = beyond.max(BESIDE + width);
    }
    Ok(beyond)
}

/// Sets a label at the nearest place on bare cloth or in an opening, led to its row; whether it has room.
fn lead(view: &View, label: &RowLabel, drawing: &mut Drawing) -> Result<bool, ComposeFault> {
    let cloth = view.cloth();
    let (x0, x1) = view.window;
    let wall = view.map.rect(Rect::new(x0, view.bottom(), x1, view.top()));
    let mut places = grid(wall.grown(-IN_OPENING));
    for opening in &view.wall().openings {
        if let Some((x0, x1)) = view.clip(opening.clear.x0, opening.clear.x1) {
            places.extend(grid(view.map.rect(Rect { x0, x1, ..opening.clear }).grown(-IN_OPENING)));
        }
    }
    let in_opening = |area: Rect| {
        let clear = view.wall().openings.iter().map(|opening| view.map.rect(opening.clear));
        let inner = area.grown(Length::mm(1));
        clear.into_iter().any(|c| c.x0 < inner.x0 && inner.x1 < c.x1 && c.y0 < inner.y0 && inner.y1 < c.y1)
    };
    let far = |from: &Point, p: &Point| (p.x - from.x).abs() + (p.y - from.y).abs();
    // On a motif only where there is no other place.
    let tries = [true, false].into_iter().flat_map(|bare| label.ends.iter().map(move |from| (bare, *from)));
    for (bare, from) in tries {
        places.sort_by_key(|p| (far(&from, p), p.x, p.y));
        for &place in places.iter().take_while(|place| far(&from, place) <= LONGEST_LEAD) {
            let (marks, area) = sign::tag(place, &label.label, Ends::None, false)?;
            let on_cloth = drawing.is_free(area, true)
                && (!bare || drawing.is_bare(area))
                && drawing.leads(from, place)
                && corners(area).iter().all(|&p| cloth.holds(p));
            if (on_cloth || in_opening(area)) && !drawing.has_text(area.grown(Length::mm(1))) {
                drawing.take(area);
                drawing.label(group(label.layer, "", "leader", vec![line(from, place, pen::DIMENSION)]));
                drawing.label(group(label.layer, "", label.label.as_str(), marks));
                return Ok(true);
            }
        }
    }
    Ok(false)
}

/// Places in an area, evenly apart.
fn grid(area: Rect) -> Vec<Point> {
    if area.x1 < area.x0 || area.y1 < area.y0 {
        return Vec::new();
    }
    let (across, down) = (area.width().div_floor(LEAD_STEP), area.height().div_floor(LEAD_STEP));
    let row =
        |n: i64| (0..=across).map(move |m| Point::new(area.x0 + LEAD_STEP * m, area.y0 + LEAD_STEP * n));
    (0..=down).flat_map(row).collect()
}

/// The trim runs that lie on this wall.
pub fn trim(view: &View, drawing: &mut Drawing) -> Vec<RowLabel> {
    let (mut labels, cloth) = (Vec::new(), view.cloth());
    for run in &view.room_plan().trim {
        let paths = run.path.iter().filter(|path| path.wall == view.at.wall);
        let mut marks = Vec::new();
        let (mut places, mut ends) = (Vec::new(), Vec::new());
        for path in paths {
            let points: Vec<Point> = path.points.iter().map(|&p| view.map.point(p)).collect();
            let line = beside(&points, TRIM_OFF, |p| cloth.holds(p));
            drawing.keep_clear(&line);
            if is_pictured(view) {
                marks.push(Mark::Stroke { pen: pen::TRIM_GROUND, path: through(&line) });
            }
            marks.push(Mark::Stroke { pen: pen::TRIM, path: through(&line) });
            places.extend(label_places(view, &cloth, &points));
            ends.extend(ends_of(view, &line));
        }
        if marks.is_empty() {
            continue;
        }
        drawing.signs.insert(Sign::Trim);
        drawing.group(
            Layer::Trim,
            view.id(&format!("trim-{}", run.label)),
            run.what.clone(),
            view.kept(marks),
        );
        let (sign, label) = (Sign::TrimTag, run.label.clone());
        labels.push(RowLabel { layer: Layer::Trim, sign, label, places, ends });
    }
    labels
}

/// The rows of staples that hold cloth on this wall, in the order that they are driven.
pub fn cloth_rows<'a>(view: &View<'a>) -> Vec<(String, &'a StapleLine)> {
    let wall = view.wall_plan();
    words::staple_labels(wall).into_iter().zip(&wall.staples).filter(|(label, _)| !label.is_empty()).collect()
}

/// The staples that hold the cloth.
pub fn staples(view: &View, drawing: &mut Drawing) -> Vec<RowLabel> {
    let (mut labels, cloth) = (Vec::new(), view.cloth());
    for (label, row) in cloth_rows(view) {
        let tack = row.kind == StapleKind::Tack;
        let off = if tack { TACKS_OFF } else { STAPLES_OFF };
        let points: Vec<Point> = row.path.iter().map(|&p| view.map.point(p)).collect();
        // A wrap is stapled beyond its corner, on the next wall's face.
        let line = match row.kind {
            StapleKind::Wrap => points.clone(),
            _ => beside(&points, off, |p| cloth.holds(p)),
        };
        drawing.keep_clear(&line);
        let close = view.map.scale.paper(row.spacing) < CLOSEST;
        let marks = if close {
            vec![Mark::Stroke { pen: pen::STAPLE, path: through(&line) }]
        } else {
            vec![Mark::Stamp { marks: vec![sign::staple()], places: spread(&line, row.count) }]
        };
        drawing.signs.insert(if tack { Sign::Tacks } else { Sign::Staples });
        drawing.group(
            Layer::Staples,
            view.id(&format!("staples-{label}")),
            row.place.clone(),
            view.kept(marks),
        );
        let places = label_places(view, &cloth, &points);
        let ends = ends_of(view, &line);
        labels.push(RowLabel { layer: Layer::Staples, sign: Sign::StapleTag, label, places, ends });
    }
    labels
}

/// Where on a row a leader may end: at its middle, or else a quarter from its ends, as far as it is drawn.
fn ends_of(view: &View, line: &[Point]) -> Vec<Point> {
    let along = spread(line, 5);
    let (left, right) = (view.map.x(view.window.0), view.map.x(view.window.1));
    let places = [2, 1, 3].into_iter().filter_map(|n| along.get(n).copied());
    places.filter(|p| left <= p.x && p.x <= right).collect()
}

/// Where the label of a row may stand: beside it on the cloth, first near its middle.
fn label_places(view: &View, cloth: &ClothOnPaper, points: &[Point]) -> Vec<Point> {
    let (left, right) = (view.map.x(view.window.0), view.map.x(view.window.1));
    let inset = Length::mm(4);
    let mut places = Vec::new();
    for off in LABEL_OFF {
        let moved = beside(points, off, |p| cloth.holds(p));
        if moved.first() == points.first() {
            // There is no cloth that far off, on either side.
            continue;
        }
        let along = spread(&moved, 41);
        let order = (0..=20).flat_map(|n| if n == 0 { vec![20] } else { vec![20 - n, 20 + n] });
        let beside = order.filter_map(|n| along.get(n).copied());
        let (half, tall) = (Length::mm(2), Length::micrometres(1_700));
        places.extend(beside.filter(|p| {
            let area = Rect::new(p.x - half, p.y - tall, p.x + half, p.y + tall);
            corners(area).iter().all(|&p| cloth.holds(p)) && left + inset < p.x && p.x < right - inset
        }));
    }
    places
}
