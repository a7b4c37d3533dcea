//! Staple rows and trim runs on an elevation, drawn a little inside the edge that they lie on.

use super::view::{ClothOnPaper, View};
use crate::geom::{Point, Rect};
use crate::plan::model::{StapleKind, StapleLine};
use crate::sheet::drawing::Drawing;
use crate::sheet::mark::through;
use crate::sheet::model::{Layer, Mark};
use crate::sheet::offset::{beside, corners, spread};
use crate::sheet::pen;
use crate::sheet::sign::{self, Ends, Sign};
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
/// Closer than this, staples would merge on paper: a row is drawn dotted instead.
const CLOSEST: Length = Length::micrometres(800);

/// A label of a row or run, with the places where it may stand, the best first.
pub struct RowLabel {
    layer: Layer,
    sign: Sign,
    label: String,
    places: Vec<Point>,
}

/// Sets the labels once all lines are drawn.
pub fn labels(labels: &[RowLabel], drawing: &mut Drawing) -> Result<(), ComposeFault> {
    for label in labels {
        if drawing.tag_at(label.layer, &label.label, Ends::None, &label.places)?.is_some() {
            drawing.signs.insert(label.sign);
        }
    }
    Ok(())
}

/// The trim runs that lie on this wall.
pub fn trim(view: &View, drawing: &mut Drawing) -> Vec<RowLabel> {
    let (mut labels, cloth) = (Vec::new(), view.cloth());
    for run in &view.room_plan().trim {
        let paths = run.path.iter().filter(|path| path.wall == view.at.wall);
        let mut marks = Vec::new();
        let mut places = Vec::new();
        for path in paths {
            let points: Vec<Point> = path.points.iter().map(|&p| view.map.point(p)).collect();
            let line = beside(&points, TRIM_OFF, |p| cloth.holds(p));
            drawing.keep_clear(&line);
            marks.push(Mark::Stroke { pen: pen::TRIM, path: through(&line) });
            places.extend(label_places(view, &cloth, &points));
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
        labels.push(RowLabel { layer: Layer::Trim, sign: Sign::TrimTag, label: run.label.clone(), places });
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
        labels.push(RowLabel { layer: Layer::Staples, sign: Sign::StapleTag, label, places });
    }
    labels
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
