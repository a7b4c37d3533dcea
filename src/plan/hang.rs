//! The motif that the height of a panel is set by.

use std::cmp::Reverse;

use super::lattice::Laid;
use super::model::Way;
use crate::geom::{Point, Rect};
use crate::job::model::{Lattice, Wall};
use crate::units::Length;

/// How many columns, and how many motifs of each, are looked at: enough for any pattern that a
/// person could hang a panel by.
const MOST: i64 = 400;

/// How many motifs of a level column of railroaded cloth are looked at, on each side of the plumb line.
const BESIDE: i64 = 5;

/// The centre, in wall coordinates, of the motif nearest the plumb line, and of those as near the
/// highest, that is whole in sight on a wall whose left end stands at `at` on the ribbon; where none is whole,
/// of those whose centre is in sight. `None` for plain cloth and where none is. A job knows no size of a motif: it
/// is whole where its repeat is.
pub(super) fn motif(laid: &Laid, wall: &Wall, at: Length, plumb: Length) -> Option<Point> {
    let lattice = laid.cloth.pattern.as_ref()?;
    let (across, up) = match laid.way {
        Way::Upright => (lattice.horizontal / 2, lattice.vertical / 2),
        Way::Railroaded => (lattice.vertical / 2, lattice.horizontal / 2),
    };
    let whole = |p: Point| is_whole(wall, &Rect::new(p.x - across, p.y - up, p.x + across, p.y + up));
    let shown = |p: Point| shows(wall, p);
    let field = Field { laid, lattice, wall, at, plumb };
    let find = |test: &dyn Fn(Point) -> bool| match laid.way {
        Way::Upright => upright(&field, test),
        Way::Railroaded => railroaded(&field, test),
    };
    find(&whole).or_else(|| find(&shown))
}

/// A wall's pattern, and the plumb line that its panel hangs by.
struct Field<'a> {
    laid: &'a Laid<'a>,
    lattice: &'a Lattice,
    wall: &'a Wall,
    /// Where the wall's left end stands on the ribbon.
    at: Length,
    /// From the wall's left end.
    plumb: Length,
}

fn upright(field: &Field, test: &dyn Fn(Point) -> bool) -> Option<Point> {
    let &Field { laid, lattice, wall, at, plumb } = field;
    let column = |j: i64| laid.motif_across(lattice, j) - at;
    let last = (plumb - column(0)).div_floor(lattice.horizontal);
    let mut near: Vec<i64> = (last - MOST / 2..=last + MOST / 2).collect();
    near.sort_by_key(|j| ((column(*j) - plumb).abs(), *j));
    let columns = near.into_iter().filter(|j| (Length::ZERO..=wall.width).contains(&column(*j)));
    columns.into_iter().find_map(|j| highest(field, (j, column(j)), test))
}

/// The highest motif of the column `j`, which stands at `x` on the wall, that passes the test.
fn highest(field: &Field, (j, x): (i64, Length), test: &dyn Fn(Point) -> bool) -> Option<Point> {
    let &Field { laid, lattice, wall, .. } = field;
    let (top, bottom) = (wall.field_top().least_at(x), wall.field_bottom().most_at(x));
    // The top falls a phase below one motif, so the next one down stands a repeat below that.
    let first = top + laid.phase(lattice, j, -top) - lattice.vertical;
    let heights = (0..MOST).map(|k| first - lattice.vertical * k);
    heights.map(|y| Point::new(x, y)).take_while(|p| p.y > bottom).find(|p| test(*p))
}

/// The nearest to the plumb line over all level columns, from the highest down.
fn railroaded(field: &Field, test: &dyn Fn(Point) -> bool) -> Option<Point> {
    let &Field { laid, lattice, wall, at, plumb } = field;
    let top = wall.field_top().max_between(Length::ZERO, wall.width);
    let highest = (top - laid.motif_across(lattice, 0)).div_floor(lattice.horizontal);
    let beside = |j: i64| {
        let y = laid.motif_across(lattice, j);
        // The plumb line stands this much past a motif.
        let before = laid.phase(lattice, j, at + plumb);
        (-BESIDE..=BESIDE).map(move |k| Point::new(plumb - before + lattice.vertical * k, y))
    };
    let motifs = (highest - MOST..=highest).flat_map(beside);
    motifs.filter(|p| test(*p)).min_by_key(|p| ((p.x - plumb).abs(), Reverse(p.y)))
}

/// Whether all of a repeat lies in the field of a wall and no opening or box takes any of it.
fn is_whole(wall: &Wall, r: &Rect) -> bool {
    let mut taken = wall.openings.iter().map(|o| o.outer).chain(wall.fixings.iter().map(|f| f.rect));
    Length::ZERO <= r.x0
        && r.x1 <= wall.width
        && wall.field_bottom().max_between(r.x0, r.x1) <= r.y0
        && r.y1 <= wall.field_top().min_between(r.x0, r.x1)
        && !taken.any(|other| other.overlaps(r))
}

/// Whether a place lies in the field of a wall and no opening or box takes it.
fn shows(wall: &Wall, p: Point) -> bool {
    let taken = wall.openings.iter().map(|o| o.outer).chain(wall.fixings.iter().map(|f| f.rect));
    let hidden = taken.into_iter().any(|r| r.x0 <= p.x && p.x <= r.x1 && r.y0 <= p.y && p.y <= r.y1);
    let on_wall = (Length::ZERO..=wall.width).contains(&p.x);
    on_wall && wall.field_bottom().most_at(p.x) < p.y && p.y < wall.field_top().least_at(p.x) && !hidden
}
