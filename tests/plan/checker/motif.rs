//! The motif by which a cutter finds the place of a piece.

use serde_json::Value;

use super::{Check, Repeat, int, text};

impl Check<'_> {
    /// The motif that a cutter finds a piece by: of the centres on it, by where the wall wants them, the first.
    pub fn first_motif(&mut self, piece: &Value, start: &Value, (h, v, drop): Repeat) {
        let (gross, cut) = (&piece["gross"], &piece["cut"]);
        let turned = text(start, "way") == "railroaded";
        let (x0, y0) = (int(start, "x0"), int(start, "y0"));
        let (left, right) = if turned { ("y0", "y1") } else { ("x0", "x1") };
        let column = if turned { y0 } else { x0 };
        let first = (int(gross, left) - column).div_euclid(h);
        let on = |j: i128| {
            let along =
                if turned { x0 + j * drop - int(gross, "x0") } else { int(gross, "y1") - (y0 - j * drop) };
            (along.rem_euclid(v), column + j * h - int(gross, left))
        };
        let width = int(gross, right) - int(gross, left);
        let centres = (first..=first + width / h + 2).map(on);
        let found = centres.filter(|m| (0..=width).contains(&m.1) && m.0 <= int(cut, "length")).min();
        let told =
            cut["motif"].is_object().then(|| (int(&cut["motif"], "along"), int(&cut["motif"], "across")));
        let label = text(piece, "label");
        self.say(told == found, || format!("{label}: the first motif is told at {told:?}, not {found:?}"));
    }
}
