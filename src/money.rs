//! Money: exact amounts, counted in hundredths of the currency's unit.

use std::iter::Sum;
use std::ops::Add;

use serde::Serialize;

/// An amount of money in hundredths of the currency's unit: cents, pence.
///
/// ```
/// use clothwright::money::Money;
/// let price = Money::read("84.5").unwrap();
/// assert_eq!(price.times(3).print(), "253.50");
/// assert_eq!(Money::read("84.505"), None);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct Money(i64);

/// Figures before the point at most: no price list goes beyond a million.
const MOST_FIGURES: usize = 7;

impl Money {
    /// Nothing.
    pub const ZERO: Money = Money(0);

    /// An amount of so many hundredths.
    pub const fn hundredths(count: i64) -> Money {
        Money(count)
    }

    /// An amount as a person writes it: figures, and after a point one or two more. `None` for anything
    /// else, below nothing or beyond ten million.
    pub fn read(text: &str) -> Option<Money> {
        let (whole, part) = text.split_once('.').unwrap_or((text, "00"));
        let figures = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
        let in_range = (1..=MOST_FIGURES).contains(&whole.len()) && (1..=2).contains(&part.len());
        if !in_range || !figures(whole) || !figures(part) {
            return None;
        }
        let part: i64 = format!("{part:0<2}").parse().ok()?;
        Some(Money(whole.parse::<i64>().ok()? * 100 + part))
    }

    /// So many times the amount. Saturates far beyond any sum that a job can come to.
    pub fn times(self, count: i64) -> Money {
        Money(self.0.saturating_mul(count))
    }

    /// What is left of it when another amount is taken away; may be below nothing.
    pub fn minus(self, other: Money) -> Money {
        Money(self.0.saturating_sub(other.0))
    }

    /// The price of `minutes` at this price an hour, rounded up to a hundredth once.
    pub fn for_minutes(self, minutes: i64) -> Money {
        let exact = i128::from(self.0) * i128::from(minutes);
        Money(i64::try_from((exact + 59).div_euclid(60)).unwrap_or(i64::MAX))
    }

    /// The amount with two figures after the point, without a currency: `253.50`.
    pub fn print(self) -> String {
        let sign = if self.0 < 0 { "−" } else { "" };
        let magnitude = self.0.unsigned_abs();
        format!("{sign}{}.{:02}", magnitude / 100, magnitude % 100)
    }
}

impl Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0.saturating_add(other.0))
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Money>>(amounts: I) -> Money {
        amounts.fold(Money::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_as_people_write_them() {
        for (text, hundredths) in [("84.50", 8450), ("84.5", 8450), ("3", 300), ("0.05", 5), ("0", 0)] {
            assert_eq!(Money::read(text), Some(Money(hundredths)), "{text}");
        }
        for text in ["", ".5", "5.", "1.234", "-3", "+3", "1,5", "1e3", "84.50 ", "12345678", "٣"] {
            assert_eq!(Money::read(text), None, "{text}");
        }
    }

    /// By hand: 50 minutes of 42.00 are 35.00; 1 minute of 0.01 is a part of a hundredth, and costs one.
    #[test]
    fn time_is_rounded_up_once() {
        assert_eq!(Money(4200).for_minutes(50), Money(3500));
        assert_eq!(Money(1).for_minutes(1), Money(1));
        assert_eq!(Money(4200).for_minutes(0), Money::ZERO);
    }

    /// By hand.
    #[test]
    fn sums_and_differences_are_exact() {
        assert_eq!(Money(8450).times(3), Money(25_350));
        assert_eq!(Money(8450).times(0), Money::ZERO);
        assert_eq!(Money(8450).times(-1), Money(-8450));
        assert_eq!(Money(8450).minus(Money(450)), Money(8000));
        assert_eq!(Money(450).minus(Money(8450)), Money(-8000));
        assert_eq!(Money(8450) + Money(55), Money(8505));
        assert_eq!([Money(8450), Money(55), Money(-5)].into_iter().sum::<Money>(), Money(8500));
        assert_eq!([].into_iter().sum::<Money>(), Money::ZERO);
    }

    #[test]
    fn what_is_far_too_much_stays_at_the_most() {
        let most = Money(i64::MAX);
        assert_eq!(most.times(2), most);
        assert_eq!(most + Money(1), most);
        assert_eq!(Money(i64::MIN).minus(Money(1)), Money(i64::MIN));
        assert_eq!(most.for_minutes(61), most);
    }

    #[test]
    fn an_amount_is_printed_with_two_figures_after_the_point() {
        for (hundredths, text) in
            [(0, "0.00"), (5, "0.05"), (50, "0.50"), (99, "0.99"), (100, "1.00"), (25_350, "253.50")]
        {
            assert_eq!(Money(hundredths).print(), text);
        }
        for (hundredths, text) in [(-1, "−0.01"), (-99, "−0.99"), (-100, "−1.00"), (-25_350, "−253.50")]
        {
            assert_eq!(Money(hundredths).print(), text);
        }
        assert_eq!(Money(i64::MIN).print(), "−92233720368547758.08");
    }
}
