//! Numbers as the operators of a page write them: points, rounded, without needless figures.

use crate::units::Length;

use super::super::decimal::Decimal;

/// A paper length in points, rounded to the hundredth: 3.5 micrometres, under any pen. After a blank.
pub fn points(length: Length, into: &mut Vec<u8>) {
    hundredths(parts_of_point(length, 100), into);
}

/// A dash's length in points, rounded to the hundred thousandth: a long line has hundreds of dashes,
/// and their errors add up. After a blank.
pub fn dash(length: Length, into: &mut Vec<u8>) {
    decimal(parts_of_point(length, 100_000), 5, into);
}

/// A number of hundredths, after a blank.
pub fn hundredths(number: i64, into: &mut Vec<u8>) {
    decimal(number, 2, into);
}

/// The nearest number of parts of a point that a length is, halves away from zero.
fn parts_of_point(length: Length, parts: i64) -> i64 {
    // A point is 25.4 mm / 72.
    let (scaled, inch) = (i128::from(length.nm()) * i128::from(72 * parts), 25_400_000);
    let half = if scaled < 0 { -inch / 2 } else { inch / 2 };
    i64::try_from((scaled + half) / inch).unwrap_or(0)
}

fn decimal(number: i64, places: usize, into: &mut Vec<u8>) {
    into.push(b' ');
    into.extend_from_slice(Decimal::new(number, places).as_str().as_bytes());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_rounded() {
        let points = |nm| {
            let mut into = Vec::new();
            points(Length::nanometres(nm), &mut into);
            String::from_utf8(into).unwrap()
        };
        assert_eq!(points(0), " 0");
        assert_eq!(points(25_400_000), " 72");
        assert_eq!(points(-12_700_000), " -36");
        assert_eq!(points(352_778), " 1");
        // 3527.78 nm are a hundredth of a point.
        assert_eq!(points(3_528), " 0.01");
        assert_eq!(points(-3_528), " -0.01");
        assert_eq!((points(1_700).as_str(), points(1_800).as_str()), (" 0", " 0.01"));
        assert_eq!(points(-1_700), " 0");
        assert_eq!(points(35_277_778 + 3_528 * 50), " 100.5");
        let mut into = Vec::new();
        dash(Length::mm(1), &mut into);
        hundredths(100, &mut into);
        hundredths(7, &mut into);
        assert_eq!(String::from_utf8(into).unwrap(), " 2.83465 1 0.07");
    }
}
