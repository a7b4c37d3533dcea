//! Exact lengths and angles.
//!
//! A [`Length`] is a whole number of nanometres. One inch is exactly 25.4 mm (National Bureau of
//! Standards Circular 572, addendum of 1 July 1959), so 1/64 in is exactly 396,875 nm and sums of
//! taped fractions never drift.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use serde::Serialize;

mod read;
mod tokens;

pub use read::{ReadFault, Unit, read_angle, read_length};

/// A signed length in nanometres.
///
/// Room lengths, cloth lengths and places on paper all use this one type. Which axis a value lies
/// on and which way it grows is said where the value is held.
///
/// ```
/// use clothwright::units::Length;
/// assert_eq!(Length::inches(54).nm(), 1_371_600_000);
/// assert_eq!(Length::inch_64ths(1).nm(), 396_875);
/// assert_eq!(Length::yards(1), Length::inches(36));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);

    /// A length of `nm` nanometres.
    pub const fn nanometres(nm: i64) -> Self {
        Length(nm)
    }

    /// A length of `um` micrometres.
    pub const fn micrometres(um: i64) -> Self {
        Length(um * 1_000)
    }

    /// A length of `mm` millimetres.
    pub const fn mm(mm: i64) -> Self {
        Length(mm * 1_000_000)
    }

    /// A length of `inches` inches of exactly 25.4 mm.
    pub const fn inches(inches: i64) -> Self {
        Length(inches * 25_400_000)
    }

    /// A length of `n` sixty-fourths of an inch.
    pub const fn inch_64ths(n: i64) -> Self {
        Length(n * 396_875)
    }

    /// A length of `feet` feet of twelve inches.
    pub const fn feet(feet: i64) -> Self {
        Length::inches(feet * 12)
    }

    /// A length of `yards` yards of 36 inches.
    pub const fn yards(yards: i64) -> Self {
        Length::inches(yards * 36)
    }

    /// The whole number of nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// The length in millimetres, for a file format that wants a real number.
    pub fn to_mm_f64(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The length without its sign.
    pub const fn abs(self) -> Self {
        Length(self.0.abs())
    }

    /// The remainder in `0..modulus`, also for a negative length: where a length falls within a
    /// repeat.
    ///
    /// # Panics
    /// If `modulus` is not positive; repeats are proven positive before a plan is made.
    pub const fn rem_euclid(self, modulus: Length) -> Self {
        Length(self.0.rem_euclid(modulus.0))
    }

    /// How many whole times `step` goes into the length, rounded down, also for a negative length.
    ///
    /// # Panics
    /// If `step` is not positive.
    pub const fn div_floor(self, step: Length) -> i64 {
        self.0.div_euclid(step.0)
    }

    /// How many times `step` is needed to reach at least the length.
    ///
    /// # Panics
    /// If `step` is not positive.
    pub const fn div_ceil(self, step: Length) -> i64 {
        -(-self.0).div_euclid(step.0)
    }

    /// The nearest whole multiple of `step`, half away from zero.
    ///
    /// # Panics
    /// If `step` is zero.
    pub fn round_to(self, step: Length) -> Self {
        step * self.scale(1, step.0).0
    }

    /// `self * num / den`, rounded half away from zero, without overflow on the way.
    ///
    /// # Panics
    /// If `den` is zero.
    pub fn scale(self, num: i64, den: i64) -> Self {
        let product = i128::from(self.0) * i128::from(num);
        let den = i128::from(den);
        let (product, den) = if den < 0 { (-product, -den) } else { (product, den) };
        let half = den / 2;
        let rounded = if product >= 0 { (product + half) / den } else { (product - half) / den };
        Length(i64::try_from(rounded).unwrap_or(if rounded > 0 { i64::MAX } else { i64::MIN }))
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0 * times)
    }
}

/// Division by a count truncates towards zero; use [`Length::scale`] where the rounding matters.
impl Div<i64> for Length {
    type Output = Length;
    fn div(self, by: i64) -> Length {
        Length(self.0 / by)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(iter: I) -> Length {
        iter.fold(Length::ZERO, Add::add)
    }
}

/// An angle in whole microdegrees.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct Angle(i64);

impl Angle {
    /// An angle of `deg` degrees.
    pub const fn degrees(deg: i64) -> Self {
        Angle(deg * 1_000_000)
    }

    /// An angle of `udeg` microdegrees.
    pub const fn microdegrees(udeg: i64) -> Self {
        Angle(udeg)
    }

    /// The whole number of microdegrees.
    pub const fn udeg(self) -> i64 {
        self.0
    }

    /// The angle without its sign.
    pub const fn abs(self) -> Self {
        Angle(self.0.abs())
    }

    /// In degrees and hundredths, without idle zeros: `90°`, `87.5°`.
    pub fn words(self) -> String {
        let hundredths = (self.0 + 5_000).div_euclid(10_000);
        let sign = if hundredths < 0 { "−" } else { "" };
        let (whole, part) = (hundredths.abs() / 100, hundredths.abs() % 100);
        if part == 0 {
            format!("{sign}{whole}°")
        } else {
            format!("{sign}{whole}.{}°", format!("{part:02}").trim_end_matches('0'))
        }
    }

    /// The angle in degrees, for drawing.
    pub fn to_degrees_f64(self) -> f64 {
        self.0 as f64 / 1e6
    }
}

/// How lengths are printed on sheets and in messages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitSystem {
    /// Feet, inches and binary fractions of an inch.
    FeetInches,
    /// Whole inches and binary fractions, no feet.
    Inches,
    /// Millimetres.
    Millimetres,
}

/// A printing rule for lengths: the system, and the step that values are rounded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct LengthFormat {
    /// The unit system.
    pub system: UnitSystem,
    /// The step printed: 1/16 in is `Length::inch_64ths(4)`, 1 mm is `Length::mm(1)`.
    pub step: Length,
}

impl LengthFormat {
    /// The same system, printed as fine as it goes: 1/64 in or a thousandth of a millimetre.
    ///
    /// For materials, whose sizes are finer than a tape shows: a cord of 5/32 in.
    pub const fn exact(self) -> LengthFormat {
        let step = match self.system {
            UnitSystem::Millimetres => Length::micrometres(1),
            UnitSystem::FeetInches | UnitSystem::Inches => Length::inch_64ths(1),
        };
        LengthFormat { step, ..self }
    }

    /// Prints `length` rounded to the step, half away from zero: `9′ 0½″`, `108½″`, `½″`, `2750 mm`.
    ///
    /// Prime signs and real fraction characters are used; a fraction with no character of its own
    /// is written with superior and inferior figures round U+2044.
    pub fn print(&self, length: Length) -> String {
        let rounded = length.round_to(self.step);
        let sign = if rounded.nm() < 0 { "−" } else { "" };
        let magnitude = rounded.abs();
        match self.system {
            UnitSystem::Millimetres => {
                let um = magnitude.nm() / 1_000;
                let whole = um / 1_000;
                let part = um % 1_000;
                if part == 0 {
                    format!("{sign}{whole} mm")
                } else {
                    let digits = format!("{part:03}");
                    format!("{sign}{whole}.{} mm", digits.trim_end_matches('0'))
                }
            }
            UnitSystem::Inches => format!("{sign}{}″", inches_and_fraction(magnitude, false)),
            UnitSystem::FeetInches => {
                let feet = magnitude.div_floor(Length::feet(1));
                let rest = magnitude - Length::feet(feet);
                match (feet, rest == Length::ZERO) {
                    (0, _) => format!("{sign}{}″", inches_and_fraction(rest, false)),
                    (_, true) => format!("{sign}{feet}′ 0″"),
                    (_, false) => format!("{sign}{feet}′ {}″", inches_and_fraction(rest, true)),
                }
            }
        }
    }
}

/// Whole inches and a reduced fraction of 64ths, such as `3⅜`; `lead_zero` keeps the `0` of `0½`.
fn inches_and_fraction(magnitude: Length, lead_zero: bool) -> String {
    let whole = magnitude.div_floor(Length::inches(1));
    let part = magnitude - Length::inches(whole);
    let mut num = part.scale(64, 25_400_000).nm();
    let mut den = 64;
    if num == 0 {
        return whole.to_string();
    }
    while num % 2 == 0 {
        num /= 2;
        den /= 2;
    }
    let fraction = match (num, den) {
        (1, 2) => "½".to_owned(),
        (1, 4) => "¼".to_owned(),
        (3, 4) => "¾".to_owned(),
        (1, 8) => "⅛".to_owned(),
        (3, 8) => "⅜".to_owned(),
        (5, 8) => "⅝".to_owned(),
        (7, 8) => "⅞".to_owned(),
        _ => format!("{}⁄{}", raised(num), lowered(den)),
    };
    if whole == 0 && !lead_zero {
        fraction
    } else if whole == 0 {
        format!("0{fraction}")
    } else {
        format!("{whole}{fraction}")
    }
}

fn raised(n: i64) -> String {
    n.to_string().chars().map(|c| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(c as usize - '0' as usize).unwrap_or(c)).collect()
}

fn lowered(n: i64) -> String {
    n.to_string().chars().map(|c| "₀₁₂₃₄₅₆₇₈₉".chars().nth(c as usize - '0' as usize).unwrap_or(c)).collect()
}

/// The nanometre form, for debugging and for files that keep exact values.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} nm", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn printed(system: UnitSystem, step: Length, length: Length) -> String {
        LengthFormat { system, step }.print(length)
    }

    /// By hand, from 25.4 mm to the inch.
    #[test]
    fn units_are_their_parts() {
        assert_eq!(Length::yards(2).nm(), 2 * 914_400_000);
        assert_eq!(Length::feet(3), Length::yards(1));
        let mut length = Length::mm(7);
        length += Length::mm(5);
        length -= Length::mm(2);
        assert_eq!(length, Length::mm(10));
        assert_eq!([1, 2, 4].map(Length::mm).into_iter().sum::<Length>(), Length::mm(7));
        assert_eq!(Length::nanometres(-17).to_string(), "-17 nm");
    }

    #[test]
    fn scaling_rounds_half_away_from_zero() {
        let scale = |nm: i64, num: i64, den: i64| Length::nanometres(nm).scale(num, den).nm();
        assert_eq!(
            [scale(5, 1, 2), scale(-5, 1, 2), scale(5, 1, -2), scale(7, 1, 3), scale(8, 1, 3)],
            [3, -3, -3, 2, 3]
        );
        // Half of an odd divisor is no whole number, and nothing lies half way.
        assert_eq!([scale(4, 1, 9), scale(5, 1, 9), scale(-4, 1, 9), scale(-5, 1, 9)], [0, 1, 0, -1]);
        assert_eq!(scale(i64::MAX, 3, 3), i64::MAX, "no overflow on the way");
        assert_eq!([scale(i64::MAX, 2, 1), scale(i64::MIN, 2, 1)], [i64::MAX, i64::MIN]);
    }

    #[test]
    fn angles_are_told_in_degrees_and_hundredths() {
        assert_eq!(Angle::degrees(90).udeg(), 90_000_000);
        assert_eq!(Angle::degrees(-30).abs(), Angle::degrees(30));
        assert_eq!(Angle::microdegrees(22_500_000).to_degrees_f64().to_string(), "22.5");
        let words = |udeg: i64| Angle::microdegrees(udeg).words();
        assert_eq!(
            [90_000_000, 87_500_000, 87_504_999, 87_505_000, 1_070_000, 0, -12_250_000, -4_999].map(words),
            ["90°", "87.5°", "87.5°", "87.51°", "1.07°", "0°", "−12.25°", "0°"]
        );
    }

    /// Every fraction that has a character of its own, and two that have none.
    #[test]
    fn fractions_have_their_characters() {
        let print = |n: i64| printed(UnitSystem::Inches, Length::inch_64ths(1), Length::inch_64ths(n));
        assert_eq!(
            [8, 16, 24, 32, 40, 48, 56, 64 + 32, 4, 64 * 12 + 63, 0].map(print),
            ["⅛″", "¼″", "⅜″", "½″", "⅝″", "¾″", "⅞″", "1½″", "¹⁄₁₆″", "12⁶³⁄₆₄″", "0″"]
        );
        let print = |n: i64| printed(UnitSystem::FeetInches, Length::inch_64ths(4), Length::inch_64ths(n));
        assert_eq!(
            [64 * 108 + 32, 64 * 12, 64 * 11, 32, -64 * 13 - 8, 1, 2, 64 * 12 - 1].map(print),
            ["9′ 0½″", "1′ 0″", "11″", "½″", "−1′ 1⅛″", "0″", "¹⁄₁₆″", "1′ 0″"]
        );
    }

    #[test]
    fn millimetres_are_told_as_fine_as_the_step() {
        let um = Length::micrometres;
        let print = |length: Length| printed(UnitSystem::Millimetres, um(1), length);
        assert_eq!(
            [um(2_750_000), um(2_750_500), um(1_005), um(-20), Length::ZERO].map(print),
            ["2750 mm", "2750.5 mm", "1.005 mm", "−0.02 mm", "0 mm"]
        );
        let coarse = LengthFormat { system: UnitSystem::Millimetres, step: Length::mm(1) };
        assert_eq!(
            (coarse.print(um(1_005)), coarse.exact().print(um(1_005))),
            ("1 mm".into(), "1.005 mm".into())
        );
        let inches = LengthFormat { system: UnitSystem::Inches, step: Length::inches(1) };
        assert_eq!(inches.exact().print(Length::inch_64ths(8)), "⅛″");
    }
}
