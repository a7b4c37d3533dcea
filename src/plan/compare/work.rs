//! What becomes of all else: trim, purchases, hours, costs, what to watch.

use super::super::costs::by_stage;
use super::super::model::{
    CostChange, Pair, Plan, Purchase, PurchaseChange, Stage, TrimChange, TrimPlace, WorkChange,
};
use crate::job::model::{Goods, Trim};
use crate::money::Money;
use crate::units::Length;

/// The edges whose trim is longer or shorter.
pub fn trims(plans: Pair<&Plan>) -> Vec<TrimChange> {
    let all = [TrimPlace::Corner, TrimPlace::Opening, TrimPlace::Top, TrimPlace::Bottom];
    let told = all.into_iter().map(|place| TrimChange {
        place,
        name: plans.map(|plan| name(trim(plan, place))),
        length: plans.map(|plan| {
            let runs = plan.rooms.iter().flat_map(|room| &room.trim);
            runs.filter(|run| run.place == place).map(|run| run.length).sum::<Length>()
        }),
    });
    told.filter(|change| !change.length.same()).collect()
}

fn trim(plan: &Plan, place: TrimPlace) -> &Trim {
    match place {
        TrimPlace::Corner => &plan.job.trims.corner,
        TrimPlace::Opening => &plan.job.trims.opening,
        TrimPlace::Top => &plan.job.trims.top,
        TrimPlace::Bottom => &plan.job.trims.bottom,
    }
}

fn name(trim: &Trim) -> String {
    if trim.name.is_empty() { trim.kind.words().to_owned() } else { trim.name.clone() }
}

/// What is bought more or less of. Cloth is not among it: that is told by itself.
pub fn purchases(plans: Pair<&Plan>) -> Vec<PurchaseChange> {
    let of = |plan: &Plan| -> Vec<Purchase> {
        let others = plan.purchases.iter().filter(|purchase| !matches!(purchase.goods, Goods::Cloth(_)));
        others.cloned().collect()
    };
    let bought = plans.map(of);
    let mut left: Vec<&Purchase> = bought.now.iter().collect();
    let mut told = Vec::new();
    let mut tell = |was: Option<&Purchase>, now: Option<&Purchase>| {
        let both = Pair::new(was, now);
        let change = PurchaseChange {
            item: both.map(|purchase| purchase.map_or(String::new(), |purchase| purchase.item.clone())),
            unit: both.map(|purchase| purchase.map_or(String::new(), |purchase| purchase.unit.clone())),
            count: both.map(|purchase| purchase.map_or(0, |purchase| purchase.count)),
            need: both.map(|purchase| purchase.map(|purchase| purchase.need)),
        };
        if !(change.count.same() && change.unit.same() && change.need.same()) {
            told.push(change);
        }
    };
    let same = |was: &Purchase, now: &Purchase| was.goods == now.goods && was.item == now.item;
    for was in &bought.was {
        let now = left.iter().position(|now| same(was, now)).map(|at| left.remove(at));
        tell(Some(was), now);
    }
    left.into_iter().for_each(|now| tell(None, Some(now)));
    told
}

/// The work.
pub fn work(plans: Pair<&Plan>) -> WorkChange {
    let stages = plans.map(by_stage);
    let minutes = stages.as_ref().map(|stages| stages.iter().map(|(_, minutes)| *minutes).sum::<i64>());
    let of = |stages: &[(Stage, i64)], stage: Stage| {
        stages.iter().find(|(of, _)| *of == stage).map_or(0, |(_, m)| *m)
    };
    let mut all: Vec<Stage> = stages.was.iter().chain(&stages.now).map(|(stage, _)| *stage).collect();
    all.sort();
    all.dedup();
    let changed =
        all.into_iter().map(|stage| (stage, Pair::new(of(&stages.was, stage), of(&stages.now, stage))));
    WorkChange {
        minutes,
        days: plans.map(|plan| plan.days),
        stages: changed.filter(|(_, minutes)| !minutes.same()).collect(),
    }
}

/// The costs, where both issues reckon them.
pub fn costs(plans: Pair<&Plan>) -> Option<CostChange> {
    let costs = Pair::new(plans.was.costs.as_ref()?, plans.now.costs.as_ref()?);
    Some(CostChange {
        currency: costs.map(|costs| costs.currency.clone()),
        materials: costs.map(|costs| costs.materials),
        labour: costs.map(|costs| costs.labour.as_ref().map_or(Money::ZERO, |labour| labour.sum)),
        total: costs.map(|costs| costs.total),
    })
}

/// What is to be watched in one issue only.
pub fn watch(plans: Pair<&Plan>) -> Pair<Vec<String>> {
    let only = |of: &Plan, other: &Plan| -> Vec<String> {
        let is_new = |sentence: &&String| !other.all_to_watch().any(|there| there == *sentence);
        of.all_to_watch().filter(is_new).cloned().collect()
    };
    Pair::new(only(plans.was, plans.now), only(plans.now, plans.was))
}
