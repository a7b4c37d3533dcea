//! Costs, worked out by hand: whole units at the job's prices, and nobody but the contractor told.

use clothwright::export::json;
use clothwright::job::model::*;
use clothwright::money::Money;
use clothwright::plan::make;
use clothwright::sheet::model::Reader;
use clothwright::sheet::{compose, sets};

use crate::rooms::*;

fn coins(hundredths: i64) -> Money {
    Money::hundredths(hundredths)
}

/// One wall of 104 by 96 in, plain cloth, braid at the top: two drops of 96 + 4 in, 200 in, 6 yd.
fn priced() -> Job {
    let mut job = feature_wall(cloth(None), inch(104), inch(96));
    job.trims.top = braid(false);
    job.prices = Some(Prices {
        currency: "crowns".into(),
        goods: vec![
            (Goods::Cloth(0), coins(77_713)),
            (Goods::Staples, coins(999)),
            (Goods::Trim("braid".into()), coins(125)),
        ],
        hour: Some(coins(6_100)),
    });
    job
}

#[test]
fn sums_are_exact() {
    let plan = make(priced()).expect("a plan");
    let costs = plan.costs.as_ref().expect("prices are given");
    let sums: Vec<(&str, i64, Money)> = costs
        .lines
        .iter()
        .map(|line| (&plan.purchases[line.purchase], line.sum))
        .map(|(bought, sum)| (bought.unit.as_str(), bought.count, sum))
        .collect();
    // Cloth: 6 x 777.13. Staples: one box. Braid: 104 + 2 x 2 in = 108 in, exactly 3 yd at 1.25.
    assert_eq!(sums, [("yard", 6, coins(466_278)), ("box", 1, coins(999)), ("yard", 3, coins(375))]);
    assert_eq!(costs.materials, coins(466_278 + 999 + 375));
    // Work: the minutes of every step, once for each person, at 61.00 an hour.
    let minutes: i64 = plan.steps.iter().map(|step| step.minutes * i64::from(step.people)).sum();
    let labour = costs.labour.as_ref().expect("an hour has a price");
    assert_eq!(labour.minutes, minutes);
    assert_eq!(labour.stages.iter().map(|(_, minutes)| minutes).sum::<i64>(), minutes);
    assert_eq!(labour.sum, coins((minutes * 6_100 + 59) / 60));
    assert_eq!(costs.total, costs.materials + labour.sum);
    // What has no price is named, not counted as free.
    let unpriced: Vec<&Goods> = costs.unpriced.iter().map(|i| &plan.purchases[*i].goods).collect();
    assert_eq!(unpriced, [&Goods::Batting, &Goods::Thread, &Goods::Adhesive]);
}

#[test]
fn without_prices_there_is_no_cost_sheet() {
    let mut job = priced();
    job.prices = None;
    let plan = make(job).expect("a plan");
    assert_eq!(plan.costs, None);
    let told: Vec<Reader> =
        compose(&plan, None, &Reader::ALL).expect("sheets").iter().map(|set| set.reader).collect();
    assert_eq!(told, [Reader::Crew, Reader::Workroom, Reader::Approval]);
    assert!(!sets::has_any(&plan, Reader::Costs));
}

/// The currency and the price of the cloth stand in the contractor's set and nowhere else.
#[test]
fn nobody_else_is_told_a_price() {
    let plan = make(priced()).expect("a plan");
    for set in compose(&plan, None, &Reader::ALL).expect("sheets") {
        let told = format!("{:?}", set.sheets);
        for words in ["crowns", "777.13"] {
            assert_eq!(told.contains(words), set.reader == Reader::Costs, "{words} in {:?}", set.reader);
        }
    }
    let file = json::plan(&plan);
    assert!(
        !file.contains("crowns") && !file.contains("77713") && !file.contains("price"),
        "a price in plan.json"
    );
}
