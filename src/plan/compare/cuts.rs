//! What becomes of the cuts already made.

use super::super::model::{CutFate, CutsChange, Fate, Pair, Plan};
use super::matching::Matching;
use crate::units::Length;

/// The cloths of which either issue knows a cut.
pub fn cuts(plans: Pair<&Plan>, matching: &Matching) -> Vec<CutsChange> {
    let told = matching.cloths.iter().filter_map(|pair| {
        let side = |plan: &Plan, index: Option<usize>| {
            index.map_or_else(Side::default, |index| Side::of(plan, index))
        };
        let (was, now) = (side(plans.was, pair.was), side(plans.now, pair.now));
        if was.fates.is_empty() && now.fates.is_empty() {
            return None;
        }
        let sold_in = match (pair.was, pair.now) {
            (_, Some(now)) => plans.now.job.cloths[now].sold_in,
            (Some(was), None) => plans.was.job.cloths[was].sold_in,
            (None, None) => return None,
        };
        Some(CutsChange {
            name: Pair::new(was.name, now.name),
            sold_in,
            cuts: paired(was.fates, now.fates),
            to_cut: Pair::new(was.to_cut, now.to_cut),
            left: Pair::new(was.left, now.left),
        })
    });
    told.collect()
}

/// One issue of a cloth.
#[derive(Default)]
struct Side {
    name: String,
    /// By label.
    fates: Vec<(String, Fate)>,
    to_cut: Vec<String>,
    left: Length,
}

impl Side {
    fn of(plan: &Plan, index: usize) -> Side {
        let (cloth, cut) = (&plan.job.cloths[index], &plan.cloths[index]);
        let mut fates = Vec::new();
        for bolt in &cut.bolts {
            let Some(there) = bolt.on_hand.and_then(|at| cloth.on_hand.get(at)) else { continue };
            for (made, fate) in there.cuts.iter().zip(&bolt.made) {
                let fate = if fate.serves.is_some() { Fate::Serves } else { Fate::InVain(fate.why.clone()) };
                fates.push((made.label.clone(), fate));
            }
        }
        let mut to_cut: Vec<_> =
            plan.pieces.iter().filter(|piece| piece.cloth == index && piece.cut.made.is_none()).collect();
        to_cut.sort_by_key(|piece| piece.cut.number);
        let there: Length = cloth.on_hand.iter().map(|bolt| bolt.length).sum();
        Side {
            name: cloth.name.clone(),
            fates,
            to_cut: to_cut.into_iter().map(|piece| piece.label.clone()).collect(),
            left: (there - cut.used).max(Length::ZERO),
        }
    }
}

/// The cuts of both issues by their labels, those of the new one first.
fn paired(mut was: Vec<(String, Fate)>, now: Vec<(String, Fate)>) -> Vec<CutFate> {
    let mut all = Vec::new();
    for (label, fate) in now {
        let before = was.iter().position(|(other, _)| *other == label).map(|at| was.remove(at).1);
        all.push(CutFate { label, fate: Pair::new(before, Some(fate)) });
    }
    all.extend(was.into_iter().map(|(label, fate)| CutFate { label, fate: Pair::new(Some(fate), None) }));
    all
}
