//! The marks of a revision on drawings: the cloud round a changed place, and the triangle with the
//! revision's index (common drawing practice, no source).

use super::ComposeFault;
use super::mark::ring;
use super::model::{Anchor, Ink, Mark, Path, Seg};
use super::pen;
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::units::Length;

/// The arcs of a cloud span about this much of its outline.
const ARC: Length = Length::micrometres(4_500);
/// How far an arc bulges beyond the outline.
const BULGE: Length = Length::micrometres(1_000);
/// How far the outline of a cloud keeps off what it is drawn round.
const OFF: Length = Length::micrometres(1_800);
/// No cloud is narrower or lower than this.
const LEAST: Length = Length::micrometres(5_400);
/// Half the foot of a triangle that holds one letter.
const HALF_FOOT: Length = Length::micrometres(4_600);
/// What a further letter adds to that.
const LETTER: Length = Length::micrometres(1_600);

/// The outline that the cloud of an area is drawn on.
pub fn outline_of(area: Rect) -> Rect {
    let widened = |from: Length, to: Length| {
        let (from, to) = (from - OFF, to + OFF);
        let lacks = (LEAST - (to - from)).max(Length::ZERO) / 2;
        (from - lacks, to + lacks)
    };
    let ((x0, x1), (y0, y1)) = (widened(area.x0, area.x1), widened(area.y0, area.y1));
    Rect { x0, y0, x1, y1 }
}

/// The paper that a cloud on an outline takes.
pub fn extent(outline: Rect) -> Rect {
    outline.grown(BULGE)
}

/// A cloud on an outline: arcs that bulge outward, clockwise from the upper left corner.
pub fn cloud(outline: Rect) -> Mark {
    let Rect { x0, y0, x1, y1 } = outline;
    let corners =
        [Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1), Point::new(x0, y0)];
    let mut segs = vec![Seg::Move(corners[0])];
    // The control points of an arc that bulges by b stand 4/3 b off its chord.
    let off = BULGE * 4 / 3;
    for side in corners.windows(2) {
        let (from, to) = (side[0], side[1]);
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let count = ((dx.abs() + dy.abs()).nm() / ARC.nm()).max(1);
        let at = |n: i64| Point::new(from.x + dx * n / count, from.y + dy * n / count);
        // Outward is to the left of the way, on paper with y down.
        let sign = |length: Length| length.nm().signum();
        let out = |p: Point| Point::new(p.x + off * sign(dy), p.y - off * sign(dx));
        for n in 0..count {
            let (a, b) = (at(n), at(n + 1));
            segs.push(Seg::Cubic(out(a), out(b), b));
        }
    }
    segs.push(Seg::Close);
    Mark::Stroke { pen: pen::CLOUD, path: Path(segs) }
}

/// The paper that a triangle about `centre` takes.
pub fn triangle_area(centre: Point, index: &str) -> Rect {
    let half = half_foot(index);
    let rise = half.scale(866, 1_000);
    Rect::new(centre.x - half, centre.y - rise, centre.x + half, centre.y + rise)
}

fn half_foot(index: &str) -> Length {
    HALF_FOOT + LETTER * (index.chars().count() as i64 - 1).max(0)
}

/// A triangle on white with the index of a revision.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the index.
pub fn triangle(centre: Point, index: &str) -> Result<Vec<Mark>, ComposeFault> {
    let Rect { x0, y0, x1, y1 } = triangle_area(centre, index);
    let path = ring(&[Point::new(centre.x, y0), Point::new(x1, y1), Point::new(x0, y1)]);
    let foot = Point::new(centre.x, y1 - Length::micrometres(1_000));
    Ok(vec![
        Mark::Fill { ink: Ink::WHITE, path: path.clone() },
        Mark::Stroke { pen: pen::CLOUD, path },
        Mark::Text(text::set(index, foot, Anchor::Middle, Style::STRONG)?),
    ])
}
