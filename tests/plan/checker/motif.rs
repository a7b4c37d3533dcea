//! The motif by which a cutter finds the place of a piece.

use serde_json::Value;

use super::{Check, Repeat, int, text};

impl Check<'_> {
    /// The motif that a cutter finds a piece by: of the centres on it, by where the wall wants them, the first;
    /// where none is, of those that the bolt has the nearest, along and across together.
    pub fn first_motif(&mut self, piece: &Value, start: &Value, (h, v, drop): Repeat) {
        let (gross, cut) = (&piece["gross"], &piece["cut"]);
        let turned = text(start, "way") == "railroaded";
        let (x0, y0) = (int(start, "x0"), int(start, "y0"));
        let (left, right) = if turned { ("y0", "y1") } else { ("x0", "x1") };
        let column = if turned { y0 } else { x0 };
        let (width, length) = (int(gross, right) - int(gross, left), int(cut, "length"));
        let cloth = int(&self.plan["cloths"][int(piece, "cloth") as usize], "width");
        let first = (int(gross, left) - int(cut, "u") - column).div_euclid(h);
        let off = |at: i128, size: i128| (-at).max(at - size).max(0);
        let mut found = None;
        for j in first..=first + cloth / h + 2 {
            let from =
                if turned { x0 + j * drop - int(gross, "x0") } else { int(gross, "y1") - (y0 - j * drop) };
            let across = column + j * h - int(gross, left);
            for along in [from.rem_euclid(v), from.rem_euclid(v) - v] {
                let on_bolt = (0..=cloth).contains(&(int(cut, "u") + across)) && int(cut, "v") + along >= 0;
                let rank = (off(along, length) + off(across, width), along, across);
                if on_bolt && found.is_none_or(|best| rank < best) {
                    found = Some(rank);
                }
            }
        }
        let found = found.map(|(_, along, across)| (along, across));
        let told =
            cut["motif"].is_object().then(|| (int(&cut["motif"], "along"), int(&cut["motif"], "across")));
        let label = text(piece, "label");
        self.say(told == found, || {
            format!("{label}: the motif to cut by is told at {told:?}, not {found:?}")
        });
    }
}
