//! Shares of a whole, exact: what cloth loses when it is relaxed.

use serde::Serialize;

use crate::units::Length;

/// A share of a whole in ten-thousandths: 2.5 % is 250.
///
/// ```
/// use clothwright::share::Share;
/// use clothwright::units::Length;
/// let share = Share::read("2.5%").unwrap();
/// assert_eq!(share.print(), "2.5 %");
/// // 975 mm are what 1000 mm become; 1000 mm are left of 1025.641026 mm.
/// assert_eq!(share.left_of(Length::mm(1000)), Length::mm(975));
/// assert_eq!(share.whole_for(Length::mm(1000)), Length::nanometres(1_025_641_026));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Share(u32);

/// The whole.
const WHOLE: i128 = 10_000;

impl Share {
    /// Nothing.
    pub const NONE: Share = Share(0);

    /// A share as a person writes it: `3%`, `2.5 %`, with at most two figures after the point. `None`
    /// for anything else, and from one half on.
    pub fn read(text: &str) -> Option<Share> {
        let figures = text.trim().strip_suffix('%')?.trim_end();
        let (whole, part) = figures.split_once('.').unwrap_or((figures, "0"));
        let plain = |text: &str, most: usize| {
            (1..=most).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit())
        };
        if !plain(whole, 2) || !plain(part, 2) {
            return None;
        }
        let share = whole.parse::<u32>().ok()? * 100 + format!("{part:0<2}").parse::<u32>().ok()?;
        (share < 5_000).then_some(Share(share))
    }

    /// The share in ten-thousandths.
    pub const fn ten_thousandths(self) -> u32 {
        self.0
    }

    /// As it is read: `2.5 %`.
    pub fn print(self) -> String {
        let part = format!("{:02}", self.0 % 100);
        match part.trim_end_matches('0') {
            "" => format!("{} %", self.0 / 100),
            part => format!("{}.{part} %", self.0 / 100),
        }
    }

    /// What is left of a length that loses this share, rounded down.
    pub fn left_of(self, whole: Length) -> Length {
        let left = i128::from(whole.nm()) * (WHOLE - i128::from(self.0));
        Length::nanometres(i64::try_from(left.div_euclid(WHOLE)).unwrap_or(i64::MAX))
    }

    /// The least length of which at least `left` is left.
    pub fn whole_for(self, left: Length) -> Length {
        let kept = WHOLE - i128::from(self.0);
        let whole = -(-i128::from(left.nm()) * WHOLE).div_euclid(kept);
        Length::nanometres(i64::try_from(whole).unwrap_or(i64::MAX))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_a_label_says_is_read() {
        for (text, share) in [("3%", 300), ("0.25 %", 25), ("12.5%", 1250), ("0%", 0), ("49.99%", 4999)] {
            assert_eq!(Share::read(text), Some(Share(share)), "{text}");
            assert_eq!(Share::read(&Share(share).print()), Some(Share(share)));
        }
        for text in ["", "%", "3", "3.%", ".5%", "1.234%", "-1%", "50%", "100%", "3 %%", "1,5%", "٣%"] {
            assert_eq!(Share::read(text), None, "{text}");
        }
    }

    /// The whole is the least of which enough is left.
    #[test]
    fn the_whole_is_least() {
        for share in [0, 1, 25, 300, 333, 4999].map(Share) {
            for nm in [0, 1, 2, 9_999, 10_000, 1_371_600_000, 91_440_000_001] {
                let (left, one) = (Length::nanometres(nm), Length::nanometres(1));
                let whole = share.whole_for(left);
                assert!(share.left_of(whole) >= left);
                assert!(whole == Length::ZERO || share.left_of(whole - one) < left, "{share:?} {nm}");
            }
        }
    }
}
