//! The strip that a welt is made from.

use super::ctx::Ctx;
use super::model::TrimKind;
use crate::units::Length;

/// The width of the strip for a welt: once round the cord (3.1416 times its diameter) and half an
/// inch at each side of it, up to the next eighth of an inch or whole millimetre; for a double welt
/// twice that, before it is rounded. The figure is listed as an assumption.
///
/// It gives the published widths: 1-1/2 in for single welt of 5/32 in cord, 3 in for double.
pub fn strip(ctx: &mut Ctx, kind: TrimKind, cord: Length) -> Length {
    let (cords, name) = if kind == TrimKind::DoubleWelt { (2, "Double") } else { (1, "Single") };
    let (step, beside) = if ctx.metric {
        (Length::mm(1), Length::micrometres(12_500))
    } else {
        (Length::inch_64ths(8), Length::inch_64ths(32))
    };
    let exact = (round(cord) + beside * 2) * cords;
    let strip = step * exact.div_ceil(step);
    let text = format!(
        "{name} welt of {} cord is made from strips {} wide: round the cord, and {} at each side.",
        ctx.show(cord),
        ctx.show(strip),
        ctx.show(beside)
    );
    ctx.note(
        text,
        "published: 5/32 in cord in a 1-1/2 in strip, and 3 in for double; the rule between is derived",
    );
    strip
}

/// Once round a cord: 355/113 is pi to seven figures.
fn round(cord: Length) -> Length {
    cord.scale(355, 113)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Diags;
    use crate::parse::ParsedJob;
    use crate::units::{LengthFormat, UnitSystem};

    fn wide(kind: TrimKind, cord: Length, metric: bool) -> Length {
        let format = LengthFormat { system: UnitSystem::Inches, step: Length::inch_64ths(4) };
        let parsed = ParsedJob::default();
        strip(&mut Ctx::new(&parsed, &mut Diags::default(), format, metric), kind, cord)
    }

    /// Published: 5/32 in cord in a 1-1/2 in strip; double welt from 3 in strips (others 2-1/2 to 4).
    #[test]
    fn the_published_strips() {
        let cord = Length::inch_64ths(10);
        assert_eq!(wide(TrimKind::SingleWelt, cord, false), Length::inch_64ths(96));
        assert_eq!(wide(TrimKind::DoubleWelt, cord, false), Length::inches(3));
    }

    /// By hand: 4 mm cord, 12.57 + 25 = 37.57 mm; 1/4 in cord, 0.785 + 1 = 1.785 in.
    #[test]
    fn other_cords() {
        assert_eq!(wide(TrimKind::SingleWelt, Length::mm(4), true), Length::mm(38));
        assert_eq!(wide(TrimKind::SingleWelt, Length::inch_64ths(16), false), Length::inch_64ths(120));
    }
}
