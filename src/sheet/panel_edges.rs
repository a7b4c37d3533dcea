//! The edges of a panel as it is sewn: its strips are cut to lengths of their own, so that it steps from
//! strip to strip.

use crate::geom::{Point, Rect};
use crate::plan::model::{Panel, Plan, Strip};
use crate::units::Length;

/// The strips as they are cut, each from seam to seam or to the edge of the panel, in wall coordinates.
pub fn areas(plan: &Plan, panel: &Panel) -> Vec<Rect> {
    let Panel { strips, gross, .. } = panel;
    let first = strips.iter().map(|strip| strip.net.x0).min();
    let last = strips.iter().map(|strip| strip.net.x1).max();
    let area = |strip: &Strip| {
        let cut = plan.pieces.get(strip.piece.0).map_or(*gross, |piece| piece.gross);
        let x0 = if Some(strip.net.x0) == first { gross.x0 } else { strip.net.x0 };
        let x1 = if Some(strip.net.x1) == last { gross.x1 } else { strip.net.x1 };
        Rect::new(x0, cut.y0, x1, cut.y1)
    };
    strips.iter().map(area).collect()
}

/// Lines, each from end to end.
pub type Lines = Vec<(Point, Point)>;

/// The edges of the cloth, and the seams: where two strips lie side by side. What one of them has beyond the
/// other is an edge.
pub fn edges(areas: &[Rect]) -> (Lines, Lines) {
    let (mut cut, mut sewn) = (Vec::new(), Vec::new());
    for &Rect { x0, y0, x1, y1 } in areas {
        cut.extend([y0, y1].map(|y| (Point::new(x0, y), Point::new(x1, y))));
    }
    let mut places: Vec<Length> = areas.iter().flat_map(|area| [area.x0, area.x1]).collect();
    places.sort_unstable();
    places.dedup();
    for x in places {
        let beside: Vec<&Rect> = areas.iter().filter(|area| area.x0 == x || area.x1 == x).collect();
        let mut heights: Vec<Length> = beside.iter().flat_map(|area| [area.y0, area.y1]).collect();
        heights.sort_unstable();
        heights.dedup();
        for pair in heights.windows(2) {
            let covers = |area: &&&Rect| area.y0 <= pair[0] && pair[1] <= area.y1;
            let line = (Point::new(x, pair[0]), Point::new(x, pair[1]));
            match beside.iter().filter(covers).count() {
                0 => {}
                1 => cut.push(line),
                _ => sewn.push(line),
            }
        }
    }
    (cut, sewn)
}
