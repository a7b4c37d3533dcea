//! The pattern lattice on a drawing: where the centres of motifs stand, exactly.

use crate::geom::{Point, Rect};
use crate::job::model::Lattice;
use crate::plan::model::Registration;
use crate::units::Length;

/// More motifs than this are not drawn one by one: they would merge on paper.
const MOST: i64 = 20_000;

/// The centres of motifs that stand in `area` or within one repeat of it, column by column from
/// the left and from below, in the coordinates of a wall whose left end stands at `wall_x` on the
/// ribbon.
///
/// Motif (i, j) stands at ribbon (x0 + i·H, y0 − i·d + j·V): the design falls by the drop `d`
/// for each horizontal repeat H to the right.
pub fn centres(lattice: &Lattice, registration: &Registration, wall_x: Length, area: Rect) -> Vec<Point> {
    grid(lattice, Point::new(registration.x0 - wall_x, registration.y0), area)
}

/// The same for any plane whose y grows up the pattern and where one motif stands at `origin`.
pub fn grid(lattice: &Lattice, origin: Point, area: Rect) -> Vec<Point> {
    let (h, v) = (lattice.horizontal, lattice.vertical);
    let first = (area.x0 - origin.x).div_floor(h);
    let last = (area.x1 - origin.x).div_ceil(h);
    let rows = area.height().div_ceil(v) + 2;
    if (last - first + 1).saturating_mul(rows) > MOST {
        return Vec::new();
    }
    let mut centres = Vec::new();
    for i in first..=last {
        let x = origin.x + h * i;
        let foot = origin.y - lattice.drop * i;
        let lowest = (area.y0 - foot).div_floor(v);
        let highest = (area.y1 - foot).div_ceil(v);
        centres.extend((lowest..=highest).map(|j| Point::new(x, foot + v * j)));
    }
    centres
}

#[cfg(test)]
mod tests {
    use super::*;

    fn registration(x0: i64, y0: i64) -> Registration {
        Registration {
            x0: Length::mm(x0),
            y0: Length::mm(y0),
            match_x: Length::mm(x0 - 150),
            why: String::new(),
        }
    }

    /// Derived by hand: H 300, V 400, half drop 200; a wall that starts at ribbon 100.
    #[test]
    fn a_half_drop_falls_by_half_from_column_to_column() {
        let lattice =
            Lattice { horizontal: Length::mm(300), vertical: Length::mm(400), drop: Length::mm(200) };
        let area = Rect::new(Length::ZERO, Length::ZERO, Length::mm(500), Length::mm(400));
        let centres = centres(&lattice, &registration(250, 350), Length::mm(100), area);
        let at = |x, y| Point::new(Length::mm(x), Length::mm(y));
        for expected in [at(150, 350), at(450, 150), at(-150, 150)] {
            assert!(centres.contains(&expected), "{expected:?} in {centres:?}");
        }
        assert!(!centres.contains(&at(450, 350)));
    }

    #[test]
    fn a_repeat_too_small_to_draw_is_left_out() {
        let tiny = Length::micrometres(10);
        let lattice = Lattice { horizontal: tiny, vertical: tiny, drop: Length::ZERO };
        let area = Rect::new(Length::ZERO, Length::ZERO, Length::mm(5000), Length::mm(3000));
        assert!(centres(&lattice, &registration(0, 0), Length::ZERO, area).is_empty());
    }
}
