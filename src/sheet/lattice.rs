//! The pattern lattice on a drawing: where the centres of motifs stand, exactly.

use crate::geom::{Point, Rect};
use crate::job::model::{Direction, Lattice};
use crate::plan::model::{Plan, Registration, Way};
use crate::units::Length;

/// More motifs than this are not drawn one by one: they would merge on paper.
const MOST: i64 = 20_000;

/// The centres of motifs that stand in `area` or within one repeat of it, column by column from
/// the bolt's left edge and along it, in the coordinates of a wall whose left end stands at `wall_x`
/// on the ribbon.
///
/// Motif (i, j) stands at ribbon (x0 + i·H, y0 − i·d + j·V): the design falls by the drop `d`
/// for each horizontal repeat H to the right. Railroaded, at (x0 + i·d − j·V, y0 + i·H): the same
/// turned a quarter anticlockwise.
pub fn centres(lattice: &Lattice, registration: &Registration, wall_x: Length, area: Rect) -> Vec<Point> {
    let origin = Point::new(registration.x0 - wall_x, registration.y0);
    match registration.way {
        Way::Upright => grid(lattice, origin, area),
        Way::Railroaded => {
            let area = Rect { x0: area.y0, x1: area.y1, y0: -area.x1, y1: -area.x0 };
            let turned = grid(lattice, Point::new(origin.y, -origin.x), area);
            turned.into_iter().map(|p| Point::new(-p.y, p.x)).collect()
        }
    }
}

/// Whether the motifs of a cloth lie on their sides on the wall. A one-way cloth that is railroaded was
/// designed for it, and its motifs stand.
pub fn lies(plan: &Plan, cloth: usize) -> bool {
    plan.way(cloth) == Way::Railroaded && plan.job.cloths[cloth].direction == Direction::Either
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
            way: Way::Upright,
            match_line: Length::mm(x0 - 150),
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

    /// Derived by hand, railroaded: a row of motifs stands at 350 and at every 300 above and below, and
    /// from row to row up the wall the motifs stand half of 400 further right.
    #[test]
    fn railroaded_rows_step_to_the_right() {
        let lattice =
            Lattice { horizontal: Length::mm(300), vertical: Length::mm(400), drop: Length::mm(200) };
        let area = Rect::new(Length::ZERO, Length::ZERO, Length::mm(500), Length::mm(700));
        let turned = Registration { way: Way::Railroaded, ..registration(250, 350) };
        let centres = centres(&lattice, &turned, Length::mm(100), area);
        let at = |x, y| Point::new(Length::mm(x), Length::mm(y));
        for expected in [at(150, 350), at(550, 350), at(350, 650), at(350, 50)] {
            assert!(centres.contains(&expected), "{expected:?} in {centres:?}");
        }
        assert!(!centres.contains(&at(150, 650)));
    }

    #[test]
    fn a_repeat_too_small_to_draw_is_left_out() {
        let tiny = Length::micrometres(10);
        let lattice = Lattice { horizontal: tiny, vertical: tiny, drop: Length::ZERO };
        let area = Rect::new(Length::ZERO, Length::ZERO, Length::mm(5000), Length::mm(3000));
        assert!(centres(&lattice, &registration(0, 0), Length::ZERO, area).is_empty());
    }
}
