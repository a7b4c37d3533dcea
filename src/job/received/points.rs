//! The four-point count of flaws.
//!
//! ASTM D5430 (as quoted by several sources, its text not seen): a flaw counts by its greater measure, a
//! hole by another scale; no yard counts more than four; the sum is told for 100 square yards of the
//! width that can be cut.

use crate::units::Length;

/// The most that a flaw, or a yard, counts.
pub const MOST: u32 = 4;

/// The points of a flaw of that size.
pub fn of_flaw(size: Length, hole: bool) -> u32 {
    let steps: &[(i64, u32)] = if hole { &[(1, 2)] } else { &[(3, 1), (6, 2), (9, 3)] };
    let step = steps.iter().find(|(inches, _)| size <= Length::inches(*inches));
    step.map_or(MOST, |(_, points)| *points)
}

/// The points of a bolt of that length, of flaws told by their start, length and points. A flaw counts in
/// the yard in which it starts, and one longer than a yard four in each that it touches.
pub fn of_bolt(flaws: &[(Length, Length, u32)], length: Length) -> u32 {
    let yard = Length::yards(1);
    let mut yards: Vec<(i64, u32)> = Vec::new();
    for &(from, along, points) in flaws {
        let first = from.div_floor(yard);
        if along > yard {
            let last = (from + along).min(length).div_ceil(yard);
            yards.extend((first..last).map(|at| (at, MOST)));
        } else {
            yards.push((first, points));
        }
    }
    yards.sort_unstable();
    let in_yard = |same: &[(i64, u32)]| same.iter().map(|(_, points)| points).sum::<u32>().min(MOST);
    yards.chunk_by(|a, b| a.0 == b.0).map(in_yard).sum()
}

/// Hundredths of a point in 100 square yards, when a bolt so long and so wide has so many.
pub fn per_100_square_yards(total: u32, length: Length, width: Length) -> i64 {
    let yard = i128::from(Length::yards(1).nm());
    let area = i128::from(length.nm()) * i128::from(width.nm());
    let points = i128::from(total) * 100 * 100 * yard * yard;
    i64::try_from((points + area / 2) / area.max(1)).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published, with the sizes told in inches: apparelscience.com, "Four point Fabric Inspection" (150 yd
    /// of 56 in; 6 flaws up to 3 in, 4 up to 6, 2 up to 9, 1 beyond, 1 hole over 1 in: 28 points, 12.0);
    /// scribd.com document 694684578, "Fabric 4 Point Inspection" (22 points, 120 yd of 45 in: 14.66, where
    /// the quotient is 14.667 and is rounded here).
    #[test]
    fn published_counts() {
        let sizes = [2, 3, 1, 3, 2, 3, 4, 6, 5, 6, 7, 9, 10];
        let mut flaws: Vec<(Length, Length, u32)> = sizes
            .iter()
            .zip(0..)
            .map(|(&size, at)| {
                let size = Length::inches(size);
                (Length::yards(at * 5), size, of_flaw(size, false))
            })
            .collect();
        flaws.push((Length::yards(149), Length::inches(2), of_flaw(Length::inches(2), true)));
        let long = Length::yards(150);
        let total = of_bolt(&flaws, long);
        assert_eq!((total, per_100_square_yards(total, long, Length::inches(56))), (28, 1200));
        assert_eq!(per_100_square_yards(22, Length::yards(120), Length::inches(45)), 1467);
    }

    /// The steps at their ends; holes by apparelscience.com as above: 1 in or less 2, over 1 in 4.
    #[test]
    fn steps() {
        let of = |sixty_fourths, hole| of_flaw(Length::inch_64ths(sixty_fourths), hole);
        let at = [1, 192, 193, 384, 385, 576, 577].map(|size| of(size, false));
        assert_eq!(at, [1, 1, 2, 2, 3, 3, 4]);
        assert_eq!([1, 64, 65].map(|size| of(size, true)), [2, 2, 4]);
    }

    /// No yard counts more than four (the same source); a continuous flaw counts four in each yard in which
    /// it occurs (deli-qc.com, "Four-Point System").
    #[test]
    fn no_yard_counts_more_than_four() {
        let inch = Length::inches;
        let flaws = [(inch(1), inch(5), 2), (inch(30), inch(8), 3), (inch(36), inch(1), 1)];
        assert_eq!(of_bolt(&flaws, Length::yards(100)), 5);
        // From 1 ft to 8 ft: in yards 1, 2 and 3.
        let running = [(inch(12), inch(84), 4)];
        assert_eq!(of_bolt(&running, Length::yards(100)), 12);
        // To the bolt's end, which cuts the last yard short.
        assert_eq!(of_bolt(&running, inch(40)), 8);
    }
}
