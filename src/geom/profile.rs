//! Lines over the width of a wall.

use serde::Serialize;

use super::Point;
use crate::units::Length;

/// A line over the width of a wall, such as the underside of the crown: points with growing x, the
/// first at x = 0 and the last at the wall's width, straight between them. Two points at one x are a
/// step, as at the side of a soffit; there is none at either end.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Profile {
    points: Vec<Point>,
}

/// A step of a [`Profile`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Where it stands.
    pub x: Length,
    /// The height at its left.
    pub left: Length,
    /// The height at its right.
    pub right: Length,
}

impl Profile {
    /// A profile through `points`; at least two, with growing x, at most two of them at one x, and
    /// one at either end. `None` otherwise.
    pub fn new(points: Vec<Point>) -> Option<Self> {
        let growing = points.windows(2).all(|p| p[0].x < p[1].x || (p[0].x == p[1].x && p[0].y != p[1].y));
        let single = points.windows(3).all(|p| p[0].x < p[2].x);
        let ends = match points.as_slice() {
            [a, b] => a.x < b.x,
            [a, b, .., c, d] => a.x < b.x && c.x < d.x,
            [a, b, c] => a.x < b.x && b.x < c.x,
            _ => false,
        };
        (growing && single && ends).then_some(Profile { points })
    }

    /// The level line at `y` over a wall of `width`; `None` for a wall of no width.
    pub fn level(width: Length, y: Length) -> Option<Self> {
        Profile::new(vec![Point::new(Length::ZERO, y), Point::new(width, y)])
    }

    /// The points, left to right.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The steps, left to right.
    pub fn steps(&self) -> impl Iterator<Item = Step> + '_ {
        let step = |p: &[Point]| Step { x: p[0].x, left: p[0].y, right: p[1].y };
        self.points.windows(2).filter(|p| p[0].x == p[1].x).map(step)
    }

    /// The parts between steps, left to right.
    pub fn stretches(&self) -> impl Iterator<Item = &[Point]> {
        self.points.chunk_by(|a, b| a.x < b.x)
    }

    /// The height at `x`, rounded to the nanometre; at a step, the height at its left; beyond either
    /// end, the height at that end.
    pub fn at(&self, x: Length) -> Length {
        let first = self.points[0];
        if x <= first.x {
            return first.y;
        }
        match self.points.windows(2).find(|p| x <= p[1].x) {
            Some(pair) => between(pair[0], pair[1], x),
            None => self.points[self.points.len() - 1].y,
        }
    }

    /// The height just to the right of `x`: at a step, the height at its right.
    pub fn after(&self, x: Length) -> Length {
        match self.points.windows(2).find(|p| p[0].x <= x && x < p[1].x) {
            Some(pair) => between(pair[0], pair[1], x),
            None => self.at(x),
        }
    }

    /// The height at `x`; at a step, the lower one.
    pub fn least_at(&self, x: Length) -> Length {
        self.at(x).min(self.after(x))
    }

    /// The height at `x`; at a step, the higher one.
    pub fn most_at(&self, x: Length) -> Length {
        self.at(x).max(self.after(x))
    }

    /// The greatest height between `x0` and `x1`.
    pub fn max_between(&self, x0: Length, x1: Length) -> Length {
        self.heights_between(x0, x1).fold(self.after(x0), Length::max)
    }

    /// The least height between `x0` and `x1`.
    pub fn min_between(&self, x0: Length, x1: Length) -> Length {
        self.heights_between(x0, x1).fold(self.after(x0), Length::min)
    }

    /// The part between `x0` and `x1` as points, both ends included; a step at an end is no part of it.
    pub fn between(&self, x0: Length, x1: Length) -> Vec<Point> {
        let mut part = vec![Point::new(x0, self.after(x0))];
        part.extend(self.points.iter().copied().filter(|p| x0 < p.x && p.x < x1));
        part.push(Point::new(x1, self.at(x1)));
        part
    }

    /// The same line moved up by `by`.
    pub fn raised(&self, by: Length) -> Profile {
        Profile { points: self.points.iter().map(|p| Point::new(p.x, p.y + by)).collect() }
    }

    /// The same line raised by `by` (lowered when negative) between `x0` and `x1`.
    pub fn stepped(&self, (x0, x1): (Length, Length), by: Length) -> Profile {
        let (left, right) = (self.points[0].x, self.points[self.points.len() - 1].x);
        let xs = self.places([x0, x1].into_iter().filter(|x| left < *x && *x < right));
        let lift = |a: Length, b: Length| if x0 <= a && b <= x1 { by } else { Length::ZERO };
        over(&xs, |a, b| (self.after(a) + lift(a, b), self.at(b) + lift(a, b)))
    }

    /// The line that lies as high above this one as `heights` says.
    pub fn plus(&self, heights: &Profile) -> Profile {
        let xs = self.places(heights.points.iter().map(|p| p.x));
        over(&xs, |a, b| (self.after(a) + heights.after(a), self.at(b) + heights.at(b)))
    }

    /// The lower of two lines, place by place.
    pub fn lower_of(&self, other: &Profile) -> Profile {
        let mut xs = self.places(other.points.iter().map(|p| p.x));
        let crossings: Vec<Length> = xs
            .windows(2)
            .filter_map(|p| {
                let (from, to) = (self.after(p[0]) - other.after(p[0]), self.at(p[1]) - other.at(p[1]));
                let crosses =
                    (from < Length::ZERO && to > Length::ZERO) || (from > Length::ZERO && to < Length::ZERO);
                crosses.then(|| p[0] + (p[1] - p[0]).scale((-from).nm(), (to - from).nm()))
            })
            .collect();
        xs.extend(crossings);
        xs.sort();
        xs.dedup();
        over(&xs, |a, b| (self.after(a).min(other.after(a)), self.at(b).min(other.at(b))))
    }

    /// The higher of two lines, place by place.
    pub fn higher_of(&self, other: &Profile) -> Profile {
        self.upside_down().lower_of(&other.upside_down()).upside_down()
    }

    /// The least that this line lies above `other`, anywhere; negative where it lies below.
    pub fn least_above(&self, other: &Profile) -> Length {
        let xs = self.places(other.points.iter().map(|p| p.x));
        let gaps = xs.iter().flat_map(|&x| [self.at(x) - other.at(x), self.after(x) - other.after(x)]);
        gaps.min().unwrap_or(Length::ZERO)
    }

    /// The upper edge of a field kept `by` from this one: below it, and beside its steps.
    pub fn kept_below(&self, by: Length) -> Profile {
        let lower = self.raised(-by);
        let (left, right) = (self.points[0].x, self.points[self.points.len() - 1].x);
        // Beside the lower side of a step the line goes on level for `by`.
        let caps: Vec<(Length, Length, Length)> = lower
            .steps()
            .map(|step| {
                if step.right < step.left {
                    ((step.x - by).max(left), step.x, step.right)
                } else {
                    (step.x, (step.x + by).min(right), step.left)
                }
            })
            .collect();
        let mut xs = lower.places(caps.iter().flat_map(|cap| [cap.0, cap.1]));
        let cap = |a: Length, b: Length| caps.iter().filter(|c| c.0 <= a && b <= c.1).map(|c| c.2).min();
        // Where a slope crosses the level part, the line bends.
        let crossings: Vec<Length> = xs
            .windows(2)
            .filter_map(|p| {
                let (y, from, to) = (cap(p[0], p[1])?, lower.after(p[0]), lower.at(p[1]));
                let crosses = (from < y && y < to) || (to < y && y < from);
                crosses.then(|| p[0] + (p[1] - p[0]).scale((y - from).nm(), (to - from).nm()))
            })
            .collect();
        xs.extend(crossings);
        xs.sort();
        xs.dedup();
        over(&xs, |a, b| {
            let (from, to) = (lower.after(a), lower.at(b));
            cap(a, b).map_or((from, to), |y| (from.min(y), to.min(y)))
        })
    }

    /// The lower edge of a field kept `by` from this one: above it, and beside its steps.
    pub fn kept_above(&self, by: Length) -> Profile {
        self.upside_down().kept_below(by).upside_down()
    }

    fn upside_down(&self) -> Profile {
        Profile { points: self.points.iter().map(|p| Point::new(p.x, -p.y)).collect() }
    }

    /// The places of this line's points and some more, in order.
    fn places(&self, more: impl Iterator<Item = Length>) -> Vec<Length> {
        let mut xs: Vec<Length> = self.points.iter().map(|p| p.x).chain(more).collect();
        xs.sort();
        xs.dedup();
        xs
    }

    fn heights_between(&self, x0: Length, x1: Length) -> impl Iterator<Item = Length> + '_ {
        let inner = self.points.iter().filter(move |p| x0 < p.x && p.x < x1).map(|p| p.y);
        inner.chain([self.at(x1)])
    }
}

fn between(a: Point, b: Point, x: Length) -> Length {
    if a.x == b.x { a.y } else { a.y + (b.y - a.y).scale((x - a.x).nm(), (b.x - a.x).nm()) }
}

/// The line over places `xs` that is straight between each two of them, from and to the heights that
/// `ends` gives.
fn over(xs: &[Length], ends: impl Fn(Length, Length) -> (Length, Length)) -> Profile {
    let mut points: Vec<Point> = Vec::new();
    for pair in xs.windows(2) {
        let (from, to) = ends(pair[0], pair[1]);
        let start = Point::new(pair[0], from);
        if points.last() != Some(&start) {
            points.push(start);
        }
        points.push(Point::new(pair[1], to));
    }
    Profile { points }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::mm(x), Length::mm(y))
    }

    fn profile(points: &[(i64, i64)]) -> Profile {
        Profile::new(points.iter().map(|&(x, y)| at(x, y)).collect()).expect("a profile")
    }

    /// A soffit from 1000 to 1600 under a ceiling of 2400, 300 down.
    fn soffit() -> Profile {
        profile(&[(0, 2400), (3000, 2400)]).stepped((Length::mm(1000), Length::mm(1600)), Length::mm(-300))
    }

    #[test]
    fn a_soffit_is_two_steps() {
        let soffit = soffit();
        assert_eq!(
            soffit.points(),
            [at(0, 2400), at(1000, 2400), at(1000, 2100), at(1600, 2100), at(1600, 2400), at(3000, 2400)]
        );
        let mm = Length::mm;
        assert_eq!((soffit.at(mm(1000)), soffit.after(mm(1000))), (mm(2400), mm(2100)));
        assert_eq!((soffit.at(mm(1600)), soffit.after(mm(1600))), (mm(2100), mm(2400)));
        // What lies beside an end of a stretch is no part of it.
        assert_eq!(soffit.max_between(mm(1000), mm(1600)), mm(2100));
        assert_eq!(soffit.min_between(mm(0), mm(1000)), mm(2400));
        assert_eq!(soffit.between(mm(1000), mm(1600)), [at(1000, 2100), at(1600, 2100)]);
        assert_eq!(soffit.stretches().count(), 3);
    }

    #[test]
    fn a_soffit_at_the_end_of_a_wall_has_one_step() {
        let level = profile(&[(0, 2400), (3000, 2400)]);
        let end = level.stepped((Length::ZERO, Length::mm(600)), Length::mm(-300));
        assert_eq!(end.points(), [at(0, 2100), at(600, 2100), at(600, 2400), at(3000, 2400)]);
        let whole = level.stepped((Length::ZERO, Length::mm(3000)), Length::mm(-300));
        assert_eq!(whole.points(), [at(0, 2100), at(3000, 2100)]);
    }

    /// Kept 10 from the soffit: 10 below every level part, and 10 beside each of its sides.
    #[test]
    fn a_field_is_kept_from_the_sides_of_a_soffit_too() {
        assert_eq!(
            soffit().kept_below(Length::mm(10)).points(),
            [
                at(0, 2390),
                at(990, 2390),
                at(990, 2090),
                at(1000, 2090),
                at(1600, 2090),
                at(1610, 2090),
                at(1610, 2390),
                at(3000, 2390)
            ]
        );
        // A recess narrower than both gaps is lost.
        let recess =
            profile(&[(0, 2100), (1000, 2100), (1000, 2400), (1015, 2400), (1015, 2100), (3000, 2100)]);
        let kept = recess.kept_below(Length::mm(10));
        assert_eq!(kept.max_between(Length::ZERO, Length::mm(3000)), Length::mm(2090));
    }

    /// A platform 200 high: the lower edge goes up 10 before it.
    #[test]
    fn a_field_is_kept_from_a_platform() {
        let floor =
            profile(&[(0, 0), (3000, 0)]).stepped((Length::mm(2000), Length::mm(3000)), Length::mm(200));
        assert_eq!(
            floor.kept_above(Length::mm(10)).points(),
            [at(0, 10), at(1990, 10), at(1990, 210), at(2000, 210), at(3000, 210)]
        );
    }

    /// A rail at 2000 under a ceiling that comes down to 1800 on the right: they cross where the ceiling,
    /// 600 lower over 3000, has come down 400.
    #[test]
    fn the_lower_of_two_lines_bends_where_they_cross() {
        let (rail, ceiling) = (profile(&[(0, 2000), (3000, 2000)]), profile(&[(0, 2400), (3000, 1800)]));
        assert_eq!(rail.lower_of(&ceiling).points(), [at(0, 2000), at(2000, 2000), at(3000, 1800)]);
        assert_eq!(rail.higher_of(&ceiling).points(), [at(0, 2400), at(2000, 2000), at(3000, 2000)]);
        // A beam that comes below the rail.
        let under = rail.lower_of(&soffit().raised(Length::mm(-200)));
        assert_eq!(
            under.points(),
            [at(0, 2000), at(1000, 2000), at(1000, 1900), at(1600, 1900), at(1600, 2000), at(3000, 2000)]
        );
    }

    #[test]
    fn points_out_of_order_are_no_profile() {
        let new = |points: &[(i64, i64)]| Profile::new(points.iter().map(|&(x, y)| at(x, y)).collect());
        assert!(new(&[(0, 1)]).is_none());
        assert!(new(&[(0, 1), (0, 2), (5, 2)]).is_none());
        assert!(new(&[(0, 1), (5, 2), (5, 3)]).is_none());
        assert!(new(&[(0, 1), (2, 1), (2, 2), (2, 3), (5, 3)]).is_none());
        assert!(new(&[(0, 1), (5, 1), (4, 1)]).is_none());
        assert!(new(&[(0, 1), (2, 1), (2, 3), (5, 3)]).is_some());
    }
}
