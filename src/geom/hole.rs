//! The outline of an opening: a rectangle whose head may be an arch.

use serde::Serialize;

use super::{Point, Rect};
use crate::units::Length;

/// A rectangle whose upper edge may be an arch of one circle, in wall coordinates.
///
/// The arch springs from both sides at one height and has its crown in the middle of the upper edge.
/// Heights on it, places on it and its length are each rounded to the nanometre once, from double
/// precision, whose error over any room is far below that.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Hole {
    /// The rectangle round it.
    pub rect: Rect,
    /// From the springing up to the crown: zero for a square head, at most half the width.
    pub rise: Length,
}

impl From<Rect> for Hole {
    fn from(rect: Rect) -> Hole {
        Hole { rect, rise: Length::ZERO }
    }
}

fn rounded(nm: f64) -> Length {
    Length::nanometres(nm.round() as i64)
}

impl Hole {
    /// Whether its head is an arch.
    pub fn is_arched(&self) -> bool {
        self.rise > Length::ZERO
    }

    /// Where its sides end and its arch begins: the upper edge of a square head.
    pub fn springing(&self) -> Length {
        self.rect.y1 - self.rise
    }

    /// The radius of the arch, unrounded: (a² + r²) / 2r over half the width a and the rise r.
    fn radius(&self) -> f64 {
        let (a, r) = (self.rect.width().nm() as f64 / 2.0, self.rise.nm() as f64);
        (a * a + r * r) / (2.0 * r)
    }

    fn centre(&self) -> (f64, f64) {
        let x = (self.rect.x0.nm() as f64 + self.rect.x1.nm() as f64) / 2.0;
        (x, self.rect.y1.nm() as f64 - self.radius())
    }

    /// How far its outline is turned from the crown at `x`, to the right, in radians.
    fn angle(&self, x: Length) -> f64 {
        ((x.nm() as f64 - self.centre().0) / self.radius()).clamp(-1.0, 1.0).asin()
    }

    /// The height of its upper edge at `x`, which lies between its sides.
    pub fn top_at(&self, x: Length) -> Length {
        if !self.is_arched() {
            return self.rect.y1;
        }
        if x <= self.rect.x0 || x >= self.rect.x1 {
            return self.springing();
        }
        let ((cx, cy), radius) = (self.centre(), self.radius());
        let off = x.nm() as f64 - cx;
        rounded(cy + (radius * radius - off * off).max(0.0).sqrt()).clamp(self.springing(), self.rect.y1)
    }

    /// From where to where it reaches at the height `y`; `None` above it and below it.
    pub fn span_at(&self, y: Length) -> Option<(Length, Length)> {
        if y < self.rect.y0 || y > self.rect.y1 {
            return None;
        }
        if y <= self.springing() {
            return Some((self.rect.x0, self.rect.x1));
        }
        let ((cx, cy), radius) = (self.centre(), self.radius());
        let up = y.nm() as f64 - cy;
        let half = (radius * radius - up * up).max(0.0).sqrt();
        Some((rounded(cx - half).max(self.rect.x0), rounded(cx + half).min(self.rect.x1)))
    }

    /// Whether the point lies in it or on its edge.
    pub fn holds(&self, p: Point) -> bool {
        self.span_at(p.y).is_some_and(|(a, b)| a <= p.x && p.x <= b)
    }

    /// Whether it shares more than an edge with a rectangle. What stands in the corner between the
    /// arch and the rectangle round it does not.
    pub fn overlaps(&self, other: &Rect) -> bool {
        if !self.rect.overlaps(other) || !self.is_arched() {
            return self.rect.overlaps(other);
        }
        // The arch is highest over the part of the other nearest to the crown.
        let middle = (self.rect.x0 + self.rect.x1) / 2;
        self.top_at(middle.clamp(other.x0, other.x1)) > other.y0
    }

    /// The hole grown by `by` on every side, its arch about the same centre.
    pub fn grown(&self, by: Length) -> Hole {
        let rect = self.rect.grown(by);
        if !self.is_arched() {
            return Hole { rect, rise: Length::ZERO };
        }
        let (radius, half) =
            (self.radius() + by.nm() as f64, self.rect.width().nm() as f64 / 2.0 + by.nm() as f64);
        let rise = rounded(radius - (radius * radius - half * half).max(0.0).sqrt());
        Hole { rect, rise: rise.clamp(Length::ZERO, rect.width() / 2) }
    }

    /// The same hole moved to the right by `by`.
    pub fn moved(&self, by: Length) -> Hole {
        Hole { rect: Rect { x0: self.rect.x0 + by, x1: self.rect.x1 + by, ..self.rect }, ..*self }
    }

    /// The true length of its arch between two places.
    pub fn arc_length(&self, x0: Length, x1: Length) -> Length {
        rounded(self.radius() * (self.angle(x1) - self.angle(x0)).abs())
    }

    /// Its arch between two places, left to right, as points so close together that no chord departs
    /// from it by more than `within`.
    pub fn arc_points(&self, x0: Length, x1: Length, within: Length) -> Vec<Point> {
        let (from, to, radius) = (self.angle(x0), self.angle(x1), self.radius());
        let widest = 2.0 * (1.0 - (within.nm() as f64 / radius).min(1.0)).acos();
        let chords = ((to - from) / widest).ceil().clamp(1.0, 720.0) as i64;
        let mut points = vec![Point::new(x0, self.top_at(x0))];
        let (cx, cy) = self.centre();
        for n in 1..chords {
            let angle = from + (to - from) * n as f64 / chords as f64;
            points.push(Point::new(rounded(cx + radius * angle.sin()), rounded(cy + radius * angle.cos())));
        }
        points.push(Point::new(x1, self.top_at(x1)));
        points
    }

    /// Its arch between two places, left to right, as cubic Béziers, one for each side of the crown: for
    /// each, two control points and its end. None is over more than a quarter of a circle, so that they
    /// depart from the arch by less than three parts in ten thousand of its radius, and no control point
    /// lies above the crown.
    pub fn arc_curves(&self, x0: Length, x1: Length) -> Vec<[Point; 3]> {
        let ((cx, cy), radius) = (self.centre(), self.radius());
        let (from, to) = (self.angle(x0), self.angle(x1));
        let mut turns = vec![from];
        turns.extend((from < 0.0 && 0.0 < to).then_some(0.0));
        turns.push(to);
        let on = |angle: f64| (cx + radius * angle.sin(), cy + radius * angle.cos());
        let point = |(x, y): (f64, f64)| Point::new(rounded(x), rounded(y));
        let curve = |pair: &[f64]| {
            let (a, b) = (pair[0], pair[1]);
            let pull = 4.0 / 3.0 * ((b - a) / 4.0).tan() * radius;
            let ((ax, ay), (bx, by)) = (on(a), on(b));
            let first = point((ax + pull * a.cos(), ay - pull * a.sin()));
            let second = point((bx - pull * b.cos(), by + pull * b.sin()));
            let end = if b == to { Point::new(x1, self.top_at(x1)) } else { point((bx, by)) };
            [first, second, end]
        };
        turns.windows(2).map(curve).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MM: fn(i64) -> Length = Length::mm;

    fn hole(x0: i64, y0: i64, x1: i64, y1: i64, rise: i64) -> Hole {
        Hole { rect: Rect::new(MM(x0), MM(y0), MM(x1), MM(y1)), rise: MM(rise) }
    }

    /// A half circle over 1000: π · 500, to the nanometre by hand: 1 570 796 326.79… nm.
    #[test]
    fn a_round_head_is_half_a_circle() {
        let round = hole(0, 0, 1000, 2000, 500);
        assert_eq!(round.springing(), MM(1500));
        assert_eq!(round.arc_length(MM(0), MM(1000)), Length::nanometres(1_570_796_327));
        // 3-4-5: 300 from the middle it stands 400 over the springing.
        assert_eq!(round.top_at(MM(200)), MM(1900));
        assert_eq!(round.top_at(MM(800)), MM(1900));
        assert_eq!(round.span_at(MM(1900)), Some((MM(200), MM(800))));
        assert_eq!(round.span_at(MM(2001)), None);
    }

    /// Half the width 800, rise 400: radius (640000 + 160000) / 800 = 1000, centre 600 below the
    /// springing. The half angle has sine 0.8: the arch is 2 · 1000 · asin 0.8. Huygens' formula, which
    /// knows nothing of angles, gives it from the chord c of the whole and b of its half: (8b - c) / 3,
    /// here within 0.4 percent.
    #[test]
    fn a_segment_by_hand_and_by_chords() {
        let segment = hole(0, 0, 1600, 2400, 400);
        let length = segment.arc_length(MM(0), MM(1600));
        assert_eq!(length, Length::nanometres((2e9 * 0.8f64.asin()).round() as i64));
        let (c, b) = (1600.0, 800f64.hypot(400.0));
        let huygens = (8.0 * b - c) / 3.0;
        assert!((length.to_mm_f64() / huygens - 1.0).abs() < 0.004, "{length} {huygens}");
        // 600 from the middle the height over the centre is 800, so over the springing 200.
        assert_eq!(segment.top_at(MM(200)), MM(2200));
        // Parts add up.
        let parts = segment.arc_length(MM(0), MM(300)) + segment.arc_length(MM(300), MM(1600));
        assert!((parts - length).abs() <= Length::nanometres(1));
    }

    /// The casing of the segment, 100 wide, about the same centre: radius 1100, half the width 900, so
    /// its springing lies √(1100² - 900²) = 632.455532… over the centre, and its rise is 467.544468….
    #[test]
    fn a_casing_follows_its_arch() {
        let segment = hole(0, 0, 1600, 2400, 400).grown(MM(100));
        assert_eq!(segment.rect.y1, MM(2500));
        assert_eq!(segment.rise, Length::nanometres(467_544_468));
        let round = hole(0, 0, 1000, 2000, 500).grown(MM(100));
        assert_eq!((round.rise, round.springing()), (MM(600), MM(1500)));
    }

    /// The chain of chords is nearly as long as the arch, and never longer.
    #[test]
    fn points_and_curves_lie_on_the_arch() {
        let segment = hole(0, 0, 1600, 2400, 400);
        let points = segment.arc_points(MM(100), MM(1600), Length::micrometres(100));
        let chords: f64 = points
            .windows(2)
            .map(|p| (p[1].x - p[0].x).to_mm_f64().hypot((p[1].y - p[0].y).to_mm_f64()))
            .sum();
        let arc = segment.arc_length(MM(100), MM(1600)).to_mm_f64();
        assert!(chords <= arc && arc - chords < 0.5, "{chords} {arc}");
        for curve in [segment, hole(0, 0, 1000, 2000, 500)].iter().flat_map(|h| {
            let mut start = Point::new(h.rect.x0, h.springing());
            let curves = h.arc_curves(h.rect.x0, h.rect.x1);
            curves.into_iter().map(move |c| (*h, std::mem::replace(&mut start, c[2]), c)).collect::<Vec<_>>()
        }) {
            let (hole, a, [b, c, d]) = curve;
            let mid = |f: fn(&Point) -> Length| (f(&a) + f(&b) * 3 + f(&c) * 3 + f(&d)) / 8;
            let (x, y) = (mid(|p| p.x), mid(|p| p.y));
            assert!((hole.top_at(x) - y).abs() < MM(1), "{x} {y}");
        }
    }

    #[test]
    fn a_box_beside_an_arch_is_not_in_it() {
        let round = hole(0, 0, 1000, 2000, 500);
        assert!(!round.overlaps(&Rect::new(MM(0), MM(1900), MM(80), MM(1980))));
        assert!(round.overlaps(&Rect::new(MM(0), MM(1900), MM(300), MM(1980))));
        assert!(round.overlaps(&Rect::new(MM(480), MM(1990), MM(520), MM(2100))));
        assert!(round.holds(Point::new(MM(500), MM(2000))) && !round.holds(Point::new(MM(10), MM(1990))));
    }
}
