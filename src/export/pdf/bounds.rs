//! The box round a stamp.

use crate::geom::{Point, Rect};
use crate::sheet::model::Mark;
use crate::units::Length;

use super::super::check::points;
use super::pt;

/// A box round everything that marks draw about their origin, in points with y up: left, bottom,
/// right, top. It may be larger than the drawing, never smaller.
pub fn bounds(marks: &[Mark]) -> [f32; 4] {
    let mut round = Rect::default();
    marks.iter().for_each(|mark| grow(&mut round, mark));
    [pt(round.x0), pt(-round.y1), pt(round.x1), pt(-round.y0)]
}

fn grow(round: &mut Rect, mark: &Mark) {
    match mark {
        // A mitre may reach ten times half the pen's width (the default mitre limit).
        Mark::Stroke { pen, path } => {
            path.0.iter().flat_map(points).flatten().for_each(|p| include(round, p, pen.width * 5));
        }
        Mark::Fill { path, .. } => {
            path.0.iter().flat_map(points).flatten().for_each(|p| include(round, p, Length::ZERO));
        }
        Mark::Text(text) => include(round, text.at, text.width + text.size * 2),
        Mark::Tiles { width, height, places, .. } => {
            for place in places {
                include(round, *place, Length::ZERO);
                include(round, Point::new(place.x + *width, place.y + *height), Length::ZERO);
            }
        }
        Mark::Link { .. } => {}
        Mark::Clip { marks, .. } => marks.iter().for_each(|mark| grow(round, mark)),
        Mark::Group(group) => group.marks.iter().for_each(|mark| grow(round, mark)),
        Mark::Stamp { marks, places } => {
            let mut inner = Rect::default();
            marks.iter().for_each(|mark| grow(&mut inner, mark));
            for place in places {
                include(round, Point::new(place.x + inner.x0, place.y + inner.y0), Length::ZERO);
                include(round, Point::new(place.x + inner.x1, place.y + inner.y1), Length::ZERO);
            }
        }
    }
}

fn include(round: &mut Rect, point: Point, by: Length) {
    let around = Rect::new(point.x, point.y, point.x, point.y).grown(by);
    *round = Rect::new(
        round.x0.min(around.x0),
        round.y0.min(around.y0),
        round.x1.max(around.x1),
        round.y1.max(around.y1),
    );
}
