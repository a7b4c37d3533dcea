//! Hatching: thin parallel lines at 45 degrees.

use super::mark::line;
use super::model::Mark;
use super::pen;
use crate::geom::{Point, Rect};
use crate::units::Length;

/// Lines at 45 degrees over `area`, `apart` along x, `rising` to the right or falling; they reach past
/// the area and are meant to be clipped. They start on a grid of the whole sheet's axis, so that
/// neighbours of one direction join.
pub fn hatch(area: Rect, apart: Length, rising: bool) -> Vec<Mark> {
    let tall = area.height();
    let first = (area.x0 - tall).div_floor(apart);
    let last = area.x1.div_ceil(apart);
    (first..=last)
        .map(|n| {
            let x = apart * n;
            let (from, to) = if rising { (area.y1, area.y0) } else { (area.y0, area.y1) };
            line(Point::new(x, from), Point::new(x + tall, to), pen::PATTERN)
        })
        .collect()
}
