//! The laws of bolts that there are: lots, cuts already made, flaws.

use std::collections::BTreeMap;

use serde_json::Value;

use super::{Check, int, list, repeat, text};

impl Check<'_> {
    /// No cut, allowances and all, meets a flaw between the selvages that is not accepted.
    pub fn clear_of_flaws(&mut self, cloth: &Value, bolt: &Value, there: &Value) {
        let (selvage, width) = (int(cloth, "selvage"), int(cloth, "width"));
        for flaw in list(there, "flaws").iter().filter(|flaw| flaw["accepted"] == false) {
            let (u0, v0) = (int(flaw, "u"), int(flaw, "v"));
            let (u1, v1) = ((u0 + int(flaw, "width")).min(width - selvage), v0 + int(flaw, "length"));
            let u0 = u0.max(selvage);
            let ids = list(bolt, "lays").iter().flat_map(|lay| list(lay, "pieces"));
            for piece in ids.map(|id| &list(self.plan, "pieces")[id.as_u64().expect("an index") as usize]) {
                let cut = &piece["cut"];
                let (u, v) = (int(cut, "u"), int(cut, "v"));
                let across = u0 < u1 && u < u1 && u0 < u + int(cut, "width");
                let along = v < v1 && v0 < v + int(cut, "length");
                self.say(!(across && along), || format!("piece {} has a flaw in it", text(piece, "label")));
            }
        }
    }

    /// Cuts already made stay in their places: each serves the piece that is said to lie in it and no other,
    /// and what is new is cut behind them all.
    pub fn made(&mut self, cloth: &Value, b: usize, bolt: &Value, there: &Value, step: i128) {
        let cuts = list(there, "cuts");
        let told = list(bolt, "made");
        self.say(told.len() == cuts.len(), || format!("bolt {b}: not every cut made is told"));
        if let (Some((_, v, _)), false) = (repeat(cloth), there["first_motif"].is_null()) {
            let first = int(there, "first_motif");
            self.say((int(bolt, "start") + first) % v == 0, || format!("bolt {b}: starts elsewhere"));
        }
        let all = list(self.plan, "pieces");
        let rect = |cut: &Value| (int(cut, "u"), int(cut, "v"), int(cut, "width"), int(cut, "length"));
        let own: Vec<&Value> = list(bolt, "lays")
            .iter()
            .flat_map(|lay| list(lay, "pieces"))
            .map(|id| &all[id.as_u64().expect("an index") as usize])
            .collect();
        for (at, (cut, made)) in cuts.iter().zip(told).enumerate() {
            let label = text(cut, "label");
            let r = rect(cut);
            let inside = |p: &Value| int(&p["cut"], "made") == at as i128;
            let served = own.iter().filter(|p| !p["cut"]["made"].is_null() && inside(p)).copied();
            let served: Vec<&Value> = served.collect();
            self.say(served.len() == usize::from(!made["serves"].is_null()), || {
                format!("cut {label}: {} pieces lie in it", served.len())
            });
            self.say(made["serves"].is_null() != text(made, "why").is_empty(), || {
                format!("cut {label}: no word on why it serves none")
            });
            for piece in &served {
                let p = rect(&piece["cut"]);
                let holds = r.0 - step <= p.0
                    && p.0 + p.2 <= r.0 + r.2 + step
                    && r.1 - step <= p.1
                    && p.1 + p.3 <= r.1 + r.3 + step;
                let its = std::ptr::eq(*piece, &all[int(made, "serves") as usize]);
                self.say(holds && its && text(piece, "label") == label && cut["spoiled"] == false, || {
                    format!("cut {label} cannot serve its piece")
                });
            }
            if !served.is_empty() || cut["spoiled"] == true {
                for piece in own.iter().filter(|p| p["cut"]["made"].is_null() || !inside(p)) {
                    self.say(apart(&[r, rect(&piece["cut"])], 2 * step), || {
                        format!("piece {} is cut from where {label} is gone", text(piece, "label"))
                    });
                }
            }
            for lay in list(bolt, "lays").iter().filter(|lay| lay["made"] == false) {
                self.say(int(lay, "v0") >= r.1 + r.3, || format!("a lay lies before the end of cut {label}"));
            }
        }
    }

    /// Bolts that there are: each used once, none beyond its length and the repeat that its start may
    /// cost, and no wall from two dye lots.
    pub fn shelf(&mut self, cloth: &Value, on_hand: &[Value]) {
        let name = text(cloth, "name");
        let bolts = list(cloth, "bolts");
        let mut taken: Vec<usize> = bolts.iter().map(|b| int(b, "on_hand") as usize).collect();
        for bolt in bolts {
            let there = &on_hand[int(bolt, "on_hand") as usize];
            let lost = if there["first_motif"].is_null() { repeat(cloth).map_or(0, |r| r.1) } else { 0 };
            self.say(int(bolt, "used") + lost <= int(there, "length"), || {
                format!("{name}: more is cut than the bolt has")
            });
        }
        taken.sort_unstable();
        let bolts_taken = taken.len();
        taken.dedup();
        self.say(taken.len() == bolts_taken, || format!("{name}: a bolt is cut twice"));
        let mut lots: BTreeMap<(i128, i128), &str> = BTreeMap::new();
        for piece in list(self.plan, "pieces")
            .iter()
            .filter(|p| text(&list(self.plan, "cloths")[int(p, "cloth") as usize], "name") == name)
        {
            let wall = (int(&piece["wall"], "room"), int(&piece["wall"], "wall"));
            let bolt = &bolts[int(&piece["cut"], "bolt") as usize];
            let lot = text(&on_hand[int(bolt, "on_hand") as usize], "lot");
            let first = *lots.entry(wall).or_insert(lot);
            self.say(first == lot, || format!("{name}: wall {wall:?} is cut from two dye lots"));
        }
    }
}

/// Whether rectangles (u, v, width, length) overlap by no more than `slack`.
pub fn apart(rects: &[(i128, i128, i128, i128)], slack: i128) -> bool {
    let meet = |a: i128, to: i128, b: i128, end: i128| to.min(end) - a.max(b) > slack;
    let overlap = |r: &(i128, i128, i128, i128), s: &(i128, i128, i128, i128)| {
        meet(r.0, r.0 + r.2, s.0, s.0 + s.2) && meet(r.1, r.1 + r.3, s.1, s.1 + s.3)
    };
    (1..rects.len()).all(|i| rects[..i].iter().all(|other| !overlap(&rects[i], other)))
}
