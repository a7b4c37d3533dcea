//! The plumb line that a panel is hung to.

use super::field::Field;
use super::lattice::Laid;
use super::model::{Panel, PlumbMark, Way};
use crate::job::model::Wall;
use crate::units::Length;

/// How many columns of motifs are looked at: enough for any pattern that a panel could be hung by.
const MOST: usize = 400;

/// No line is struck so close to the end of a wall, where a ruler and the eye have no room.
const BESIDE_END: Length = Length::inches(2);

/// Where the plumb line stands in wall coordinates, and what of the panel goes on it.
///
/// A line is of use where its ends can be struck on the wall and the panel has something to hold to it. So, of
/// the lines whose ends stand in no opening: a seam, else a column of motifs, else a mark made on the panel;
/// of these one that no opening, box or fitting breaks, the nearest to the middle of the wall. Common practice, no source.
/// `at` is the ribbon place of the wall's left end.
pub(super) fn line(wall: &Wall, panel: Option<&Panel>, laid: &Laid, at: Length) -> (Length, PlumbMark) {
    let middle = wall.width / 2;
    let field = Field::of(wall);
    // A seam in the lean of a corner is on the wall only where the wall is widest.
    let on_wall = |x: Length| Length::ZERO < x && x < wall.width;
    let seams = panel.iter().flat_map(|p| &p.seams).filter(|s| on_wall(s.x)).map(|s| (s.x, PlumbMark::Seam));
    let motifs = columns(wall, laid, at).into_iter().map(|x| (x, PlumbMark::Motifs));
    let marks = places(wall, &field).into_iter().map(|x| (x, PlumbMark::Mark));
    // A line away from a box is no better where it crowds a corner instead.
    let beside_end = |x: Length| x < BESIDE_END || x > wall.width - BESIDE_END;
    let key = |&(x, mark): &(Length, PlumbMark)| {
        let free = Free::at(&field, x);
        (
            !free.ends,
            mark,
            !free.whole,
            wall.crossed(x).next().is_some() || beside_end(x),
            (x - middle).abs(),
            x,
        )
    };
    seams.chain(motifs).chain(marks).min_by_key(key).unwrap_or((middle, PlumbMark::Mark))
}

/// The columns of motifs that stand on the wall, of cloth that hangs upright.
fn columns(wall: &Wall, laid: &Laid, at: Length) -> Vec<Length> {
    let (Some(lattice), Way::Upright) = (&laid.cloth.pattern, laid.way) else { return Vec::new() };
    let column = |j: i64| laid.motif_across(lattice, j) - at;
    let first = (Length::ZERO - column(0)).div_ceil(lattice.horizontal);
    let clear = |x: &Length| (BESIDE_END..=wall.width - BESIDE_END).contains(x);
    (first..).map(column).take(MOST).take_while(|x| *x < wall.width).filter(clear).collect()
}

/// Where a mark may be made: the middle of the wall, or midway between openings.
fn places(wall: &Wall, field: &Field) -> Vec<Length> {
    let mut edges: Vec<Length> = field.holes.iter().flat_map(|h| [h.rect.x0, h.rect.x1]).collect();
    edges.extend([Length::ZERO, wall.width]);
    edges.retain(|x| (Length::ZERO..=wall.width).contains(x));
    edges.sort_unstable();
    let between = edges.windows(2).map(|pair| pair[0] + (pair[1] - pair[0]) / 2);
    std::iter::once(wall.width / 2).chain(between).collect()
}

/// What the openings of a field leave of an upright line.
struct Free {
    /// Both ends.
    ends: bool,
    /// All of it.
    whole: bool,
}

impl Free {
    fn at(field: &Field, x: Length) -> Free {
        let runs = field.upright_runs(x);
        let foot = runs.first().and_then(|run| run.path.first());
        let head = runs.last().and_then(|run| run.path.last());
        let ends = foot.is_some_and(|p| p.y == field.bottom.most_at(x))
            && head.is_some_and(|p| p.y == field.top.least_at(x));
        Free { ends, whole: ends && runs.len() == 1 }
    }
}
