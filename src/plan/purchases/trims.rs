//! Bought trim, and cord for welts.

use super::{ByLength, runs};
use crate::job::model::{Goods, Trim, TrimKind};
use crate::plan::model::{Plan, Purchase, TrimPlace};
use crate::plan::trim::{is_welt, trim_at};
use crate::plan::words::{capital, counted, fine, sold, unit};
use crate::units::Length;

const PLACES: [TrimPlace; 4] = [TrimPlace::Corner, TrimPlace::Opening, TrimPlace::Bottom, TrimPlace::Top];

/// Bought trim by name, and cord for welts by diameter; places that share a trim are bought together.
pub(super) fn trims(plan: &Plan) -> Vec<Purchase> {
    let mut needs: Vec<Need> = Vec::new();
    for place in PLACES {
        let trim = trim_at(&plan.job, place);
        // A double welt has two cords, each as long as the run.
        let cords = if trim.kind == TrimKind::DoubleWelt { 2 } else { 1 };
        let of_place = runs(plan).filter(|r| r.place == place);
        let runs: Vec<Run> = of_place
            .flat_map(|r| {
                std::iter::repeat_n(Run { net: r.length, extra: r.extra, whole: trim.unbroken }, cords)
            })
            .collect();
        if runs.is_empty() {
            continue;
        }
        let item = item_of(plan, trim);
        match needs.iter_mut().find(|n| n.item == item && n.trim.each == trim.each) {
            Some(same) => same.runs.extend(runs),
            None => needs.push(Need { item, trim, runs }),
        }
    }
    needs.into_iter().map(Need::purchase).collect()
}

/// A length that one run takes.
#[derive(Clone)]
struct Run {
    net: Length,
    /// For ends and joints.
    extra: Length,
    /// Wanted in one piece.
    whole: bool,
}

impl Run {
    fn length(&self) -> Length {
        self.net + self.extra
    }
}

struct Need<'a> {
    item: String,
    trim: &'a Trim,
    runs: Vec<Run>,
}

impl Need<'_> {
    fn purchase(self) -> Purchase {
        let trim = self.trim;
        let told = |length| sold(length, trim.sold_in);
        let (net, extra): (Length, Length) = (self.sum(|r| r.net), self.sum(|r| r.extra));
        let rolled = trim.each != trim.sold_in.length();
        let count = if rolled { self.rolls() } else { (net + extra).div_ceil(trim.each) };
        let mut reason =
            format!("{}; {} of it for ends and joints", counted(self.runs.len() as i64, "run"), told(extra));
        let whole = self.runs.iter().filter(|r| r.whole).map(Run::length).max();
        if let Some(longest) = whole {
            reason += &format!("; the longest run is one piece of {}: have it cut so", told(longest));
        }
        ByLength {
            goods: if is_welt(trim) { Goods::Cord } else { Goods::Trim(trim.name.clone()) },
            item: if rolled { format!("{}, roll of {}", self.item, told(trim.each)) } else { self.item },
            unit: if rolled { "roll" } else { unit(trim.sold_in) },
            need: net + extra,
            each: trim.each,
            count,
            sold_in: trim.sold_in,
            reason,
        }
        .purchase()
    }

    fn sum(&self, part: impl Fn(&Run) -> Length) -> Length {
        self.runs.iter().map(part).sum()
    }

    /// How many rolls: each run from the first that has enough left, the longest first; a run longer
    /// than a roll takes whole rolls and a rest.
    fn rolls(&self) -> i64 {
        let each = self.trim.each;
        let mut lengths: Vec<Length> = self.runs.iter().map(Run::length).collect();
        lengths.sort_by_key(|length| std::cmp::Reverse(*length));
        let (mut whole, mut left): (i64, Vec<Length>) = (0, Vec::new());
        for length in lengths {
            whole += length.div_floor(each);
            let rest = length.rem_euclid(each);
            match left.iter_mut().find(|l| **l >= rest) {
                Some(l) => *l -= rest,
                None if rest > Length::ZERO => left.push(each - rest),
                None => {}
            }
        }
        whole + left.len() as i64
    }
}

fn item_of(plan: &Plan, trim: &Trim) -> String {
    if is_welt(trim) { format!("Welt cord, {}", fine(&plan.job, trim.cord)) } else { capital(&trim.name) }
}
