//! What a job costs, for the contractor alone: exact sums of whole units at the job's prices.

use super::model::{CostLine, Costs, Labour, Plan, Stage};
use crate::money::Money;

/// The costs of a plan whose purchases and steps are made; `None` when the job gives no prices.
pub fn costs(plan: &Plan) -> Option<Costs> {
    let prices = plan.job.prices.as_ref()?;
    let (mut lines, mut unpriced) = (Vec::new(), Vec::new());
    for (index, purchase) in plan.purchases.iter().enumerate() {
        match prices.of(&purchase.goods) {
            Some(price) => {
                lines.push(CostLine { purchase: index, price, sum: price.times(purchase.count) });
            }
            None => unpriced.push(index),
        }
    }
    let materials: Money = lines.iter().map(|line| line.sum).sum();
    let labour = prices.hour.map(|hour| {
        let stages = by_stage(plan);
        let minutes = stages.iter().map(|(_, minutes)| minutes).sum();
        Labour { stages, minutes, hour, sum: hour.for_minutes(minutes) }
    });
    let total = materials + labour.as_ref().map_or(Money::ZERO, |labour| labour.sum);
    Some(Costs { currency: prices.currency.clone(), lines, unpriced, materials, labour, total })
}

/// Minutes of one person, by the part of the work, in the order in which they begin.
pub(super) fn by_stage(plan: &Plan) -> Vec<(Stage, i64)> {
    let mut stages: Vec<(Stage, i64)> = Vec::new();
    for step in &plan.steps {
        let minutes = step.minutes * i64::from(step.people);
        match stages.iter_mut().find(|(stage, _)| *stage == step.stage) {
            Some((_, sum)) => *sum += minutes,
            None => stages.push((step.stage, minutes)),
        }
    }
    stages
}
