//! Standard scales, the largest that fits, and the exact mapping from a wall to paper.
//!
//! Jobs in feet and inches use the architectural scales of the United States (1/4 in = 1 ft is
//! 1:48 and so on, exact); metric jobs use those of ISO 5455 and 1:25. A drawing never has a scale
//! between two of these: a reader lays a scale rule on it.

use crate::geom::{Point, Rect};
use crate::units::{Length, UnitSystem};

/// A standard scale: one length on paper stands for `den` lengths in the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// The denominator of 1:n.
    pub den: i64,
    /// How a drawing office writes it: `½″ = 1′-0″ (1:24)`, `1:20`; at most 20 characters, for the
    /// title block.
    pub name: &'static str,
}

/// Architectural scales for rooms, largest first.
const ARCHITECTURAL: [Scale; 10] = [
    Scale { den: 12, name: "1″ = 1′-0″ (1:12)" },
    Scale { den: 16, name: "¾″ = 1′-0″ (1:16)" },
    Scale { den: 24, name: "½″ = 1′-0″ (1:24)" },
    Scale { den: 32, name: "⅜″ = 1′-0″ (1:32)" },
    Scale { den: 48, name: "¼″ = 1′-0″ (1:48)" },
    Scale { den: 64, name: "³⁄₁₆″ = 1′-0″ (1:64)" },
    Scale { den: 96, name: "⅛″ = 1′-0″ (1:96)" },
    // 3/32 in = 1 ft, with too many signs for its field.
    Scale { den: 128, name: "1:128" },
    Scale { den: 192, name: "1:192" },
    Scale { den: 384, name: "1:384" },
];

/// Reductions of ISO 5455 for rooms, largest first, and 1:25, which every metric scale rule carries
/// (common practice, no source): the step from 1:20 to 1:50 would leave most walls small.
const METRIC: [Scale; 8] = [
    Scale { den: 5, name: "1:5" },
    Scale { den: 10, name: "1:10" },
    Scale { den: 20, name: "1:20" },
    Scale { den: 25, name: "1:25" },
    Scale { den: 50, name: "1:50" },
    Scale { den: 100, name: "1:100" },
    Scale { den: 200, name: "1:200" },
    Scale { den: 500, name: "1:500" },
];

/// Scales for details, largest first: full size, half and quarter size (the last is 3 in = 1 ft).
const ARCHITECTURAL_DETAIL: [Scale; 4] = [
    Scale { den: 1, name: "full size (1:1)" },
    Scale { den: 2, name: "half size (1:2)" },
    Scale { den: 4, name: "3″ = 1′-0″ (1:4)" },
    Scale { den: 8, name: "1½″ = 1′-0″ (1:8)" },
];

/// Scales of ISO 5455 for details, largest first.
const METRIC_DETAIL: [Scale; 4] = [
    Scale { den: 1, name: "1:1" },
    Scale { den: 2, name: "1:2" },
    Scale { den: 5, name: "1:5" },
    Scale { den: 10, name: "1:10" },
];

/// The standard scales for details of a unit system, largest first; never empty.
pub fn detail(system: UnitSystem) -> &'static [Scale] {
    match system {
        UnitSystem::FeetInches | UnitSystem::Inches => &ARCHITECTURAL_DETAIL,
        UnitSystem::Millimetres => &METRIC_DETAIL,
    }
}

/// The standard scales for rooms of a unit system, largest first; never empty.
pub fn standard(system: UnitSystem) -> &'static [Scale] {
    match system {
        UnitSystem::FeetInches | UnitSystem::Inches => &ARCHITECTURAL,
        UnitSystem::Millimetres => &METRIC,
    }
}

/// The largest standard scale that `fits`, or the smallest of all when none does.
///
/// # Errors
/// What keeps `fits` from an answer.
pub fn largest<E>(system: UnitSystem, mut fits: impl FnMut(Scale) -> Result<bool, E>) -> Result<Scale, E> {
    let all = standard(system);
    for &scale in all {
        if fits(scale)? {
            return Ok(scale);
        }
    }
    Ok(all[all.len() - 1])
}

impl Scale {
    /// A length of the room on paper, rounded to the nanometre.
    pub fn paper(self, real: Length) -> Length {
        real.scale(1, self.den)
    }

    /// The length of the room that a length on paper stands for.
    pub fn real(self, paper: Length) -> Length {
        paper * self.den
    }

    /// The divisions of a scale bar, in room lengths from 0: even steps, the last being the whole.
    /// The bar is at most `longest` on paper and has two to five steps.
    pub fn bar(self, system: UnitSystem, longest: Length) -> Vec<Length> {
        let longest = self.real(longest);
        let steps: &[Length] = match system {
            UnitSystem::Millimetres => &[
                Length::mm(10_000),
                Length::mm(5_000),
                Length::mm(2_000),
                Length::mm(1_000),
                Length::mm(500),
                Length::mm(200),
                Length::mm(100),
                Length::mm(50),
                Length::mm(20),
            ],
            UnitSystem::FeetInches | UnitSystem::Inches => &[
                Length::feet(20),
                Length::feet(10),
                Length::feet(5),
                Length::feet(2),
                Length::feet(1),
                Length::inches(6),
                Length::inches(3),
                Length::inches(1),
            ],
        };
        let least = steps[steps.len() - 1];
        let step = steps.iter().copied().find(|&step| step * 3 <= longest).unwrap_or(least);
        let count = longest.div_floor(step).clamp(2, 5);
        (0..=count).map(|n| step * n).collect()
    }
}

/// Where a wall lies on paper: wall coordinates (x right, y up) to paper (x right, y down).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mapping {
    /// The scale.
    pub scale: Scale,
    /// The wall's origin on paper.
    pub origin: Point,
}

impl Mapping {
    /// A wall's x on paper.
    pub fn x(&self, x: Length) -> Length {
        self.origin.x + self.scale.paper(x)
    }

    /// A wall's y on paper.
    pub fn y(&self, y: Length) -> Length {
        self.origin.y - self.scale.paper(y)
    }

    /// A wall's point on paper.
    pub fn point(&self, p: Point) -> Point {
        Point::new(self.x(p.x), self.y(p.y))
    }

    /// The place on the wall that a point on paper shows.
    pub fn back(&self, p: Point) -> Point {
        Point::new(self.scale.real(p.x - self.origin.x), self.scale.real(self.origin.y - p.y))
    }

    /// A wall's rectangle on paper.
    pub fn rect(&self, r: Rect) -> Rect {
        Rect::new(self.x(r.x0), self.y(r.y0), self.x(r.x1), self.y(r.y1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the definition, 1/4 in on paper for 12 in of room.
    #[test]
    fn a_quarter_inch_is_a_foot_at_1_to_48() {
        let scale = standard(UnitSystem::FeetInches).iter().find(|s| s.den == 48).expect("a standard scale");
        assert_eq!(scale.paper(Length::feet(1)), Length::inch_64ths(16));
        assert!(scale.name.starts_with("¼″"));
    }

    #[test]
    fn the_largest_that_fits_is_chosen_and_the_smallest_when_none_fits() {
        let wall = Length::feet(13);
        let largest = |system, room: Length| {
            let fits = |scale: Scale| Ok::<_, ()>(scale.paper(wall) <= room);
            super::largest(system, fits).expect("an answer for every scale").den
        };
        assert_eq!(largest(UnitSystem::FeetInches, Length::mm(170)), 24);
        assert_eq!(largest(UnitSystem::FeetInches, Length::mm(160)), 32);
        assert_eq!(largest(UnitSystem::Millimetres, Length::mm(170)), 25);
        assert_eq!(largest(UnitSystem::Millimetres, Length::ZERO), 500);
        assert_eq!(super::largest(UnitSystem::Inches, |_| Err("no font")), Err("no font"));
    }

    #[test]
    fn up_on_the_wall_is_up_on_paper() {
        let map = Mapping {
            scale: standard(UnitSystem::Millimetres)[2],
            origin: Point::new(Length::mm(40), Length::mm(150)),
        };
        assert_eq!(
            map.point(Point::new(Length::mm(1000), Length::mm(2000))),
            Point::new(Length::mm(90), Length::mm(50))
        );
    }

    #[test]
    fn a_scale_bar_has_even_steps_and_fits_60_mm() {
        for system in [UnitSystem::FeetInches, UnitSystem::Millimetres] {
            for scale in standard(system) {
                let bar = scale.bar(system, Length::mm(60));
                assert!((3..=6).contains(&bar.len()));
                assert!(scale.paper(bar[bar.len() - 1]) <= Length::mm(60), "{}", scale.name);
                assert!(bar.windows(2).all(|pair| pair[1] - pair[0] == bar[1]));
            }
        }
    }
}
