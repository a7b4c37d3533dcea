//! The motif that the height of a panel is set by.

use super::lattice::Laid;
use crate::geom::Point;
use crate::job::model::Wall;
use crate::units::Length;

/// How many columns, and how many motifs of each, are looked at: enough for any pattern that a
/// person could hang a panel by.
const MOST: i64 = 400;

/// The centre, in wall coordinates, of the motif nearest the plumb line, and of those in its column
/// the highest, that is in sight on a wall whose left end stands at `at` on the ribbon. `None` for
/// plain cloth and where none is in sight.
pub(super) fn motif(laid: &Laid, wall: &Wall, at: Length, plumb: Length) -> Option<Point> {
    let lattice = laid.cloth.pattern.as_ref()?;
    let half = lattice.horizontal / 2;
    // Motifs stand half a repeat to the right of the match lines.
    let column = |j: i64| laid.match_line(lattice, j) + half - at;
    let last = (plumb - column(0)).div_floor(lattice.horizontal);
    let mut near: Vec<i64> = (last - MOST / 2..=last + MOST / 2).collect();
    near.sort_by_key(|j| ((column(*j) - plumb).abs(), *j));
    let columns = near.into_iter().filter(|j| (Length::ZERO..=wall.width).contains(&column(*j)));
    columns.into_iter().find_map(|j| highest(laid, wall, j, column(j)))
}

/// The highest motif in sight of the column `j`, which stands at `x` on the wall.
fn highest(laid: &Laid, wall: &Wall, j: i64, x: Length) -> Option<Point> {
    let lattice = laid.cloth.pattern.as_ref()?;
    let (top, bottom) = (wall.field_top().least_at(x), wall.field_bottom().most_at(x));
    // The top falls a phase below one motif, so the next one down stands a repeat below that.
    let first = top + laid.phase(lattice, j, top) - lattice.vertical;
    let heights = (0..MOST).map(|k| first - lattice.vertical * k).take_while(|y| *y > bottom);
    let hidden = |y: Length| {
        let taken = wall.openings.iter().map(|o| o.outer).chain(wall.fixings.iter().map(|f| f.rect));
        taken.into_iter().any(|r| r.x0 <= x && x <= r.x1 && r.y0 <= y && y <= r.y1)
    };
    heights.map(|y| Point::new(x, y)).find(|p| !hidden(p.y))
}
