//! Numbers in figures, as both drawing formats write them: rounded before, without needless figures.

/// Room for a sign, twenty figures and a point.
const MOST: usize = 24;

/// A number of tenths, hundredths or smaller parts, in figures.
pub struct Decimal {
    /// Filled from the end.
    figures: [u8; MOST],
    first: usize,
}

impl Decimal {
    /// `number` parts, of which ten to the power of `places` are one; at most eighteen places.
    pub fn new(number: i64, places: usize) -> Decimal {
        let mut decimal = Decimal { figures: [0; MOST], first: MOST };
        let mut rest = number.unsigned_abs();
        for _ in 0..places {
            // Zeros at the end say nothing.
            if !rest.is_multiple_of(10) || decimal.first < MOST {
                decimal.put_before(b'0' + (rest % 10) as u8);
            }
            rest /= 10;
        }
        if decimal.first < MOST {
            decimal.put_before(b'.');
        }
        loop {
            decimal.put_before(b'0' + (rest % 10) as u8);
            rest /= 10;
            if rest == 0 {
                break;
            }
        }
        if number < 0 {
            decimal.put_before(b'-');
        }
        decimal
    }

    /// The figures.
    pub fn as_str(&self) -> &str {
        // Nothing but ASCII is put in.
        std::str::from_utf8(&self.figures[self.first..]).unwrap_or_default()
    }

    fn put_before(&mut self, figure: u8) {
        self.first -= 1;
        self.figures[self.first] = figure;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_as_few_as_can_be() {
        for (number, places, figures) in [
            (0, 3, "0"),
            (0, 0, "0"),
            (7, 0, "7"),
            (1_000, 3, "1"),
            (-1_000, 3, "-1"),
            (1_050, 3, "1.05"),
            (-5, 3, "-0.005"),
            (120_300, 2, "1203"),
            (120_345, 5, "1.20345"),
            (i64::MAX, 3, "9223372036854775.807"),
            (i64::MIN, 18, "-9.223372036854775808"),
        ] {
            assert_eq!(Decimal::new(number, places).as_str(), figures);
        }
    }
}
