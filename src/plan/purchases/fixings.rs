//! What is driven, screwed or fitted: staples, battens and their screws, box extenders.

use std::collections::BTreeMap;

use super::{ByLength, boxes_by_depth, lines, sold_in, whole};
use crate::job::model::Goods;
use crate::plan::battens as stock;
use crate::plan::model::{Amount, Plan, Purchase, StapleKind};
use crate::plan::staples::count;
use crate::plan::words::{counted, fine, list, print};
use crate::units::Length;

/// A need by number and the boxes of `each` that hold it, with `spare` beyond it.
fn in_boxes(goods: Goods, item: String, need: i64, spare: i64, each: u32, reason: String) -> Purchase {
    let each = i64::from(each.max(1));
    let count = whole(need + spare, each);
    let (need, bought) = (Amount::Count(need), Amount::Count(count * each));
    Purchase { goods, item, count, unit: "box".to_owned(), need, bought, reason }
}

/// Boxes of staples, by leg.
pub(super) fn staples(plan: &Plan) -> Vec<Purchase> {
    let house = &plan.job.house;
    let mut by_leg: BTreeMap<Length, (i64, i64)> = BTreeMap::new();
    for line in lines(plan) {
        let (cloth, batting) = by_leg.entry(line.leg).or_default();
        match line.kind {
            StapleKind::BattingEdge | StapleKind::BattingButt => *batting += line.count,
            _ => *cloth += line.count,
        }
    }
    let purchase = |(leg, (cloth, batting)): (Length, (i64, i64))| {
        let driven = cloth + batting;
        let spare = whole(driven * i64::from(house.staple_waste), 100);
        in_boxes(
            Goods::Staples,
            format!(
                "Staples to fit the staplers, {} leg, box of {}",
                fine(&plan.job, leg),
                house.staples_per_box
            ),
            driven,
            spare,
            house.staples_per_box,
            format!(
                "{cloth} in cloth and {batting} in batting; {} in a hundred more for misfires",
                house.staple_waste
            ),
        )
    };
    by_leg.into_iter().map(purchase).collect()
}

/// Battens as they are sold, and their screws.
pub(super) fn battens(plan: &Plan) -> Vec<Purchase> {
    let house = &plan.job.house;
    let pieces: Vec<Length> = stock::all(plan).map(|b| b.length).collect();
    if pieces.is_empty() {
        return Vec::new();
    }
    let cuts = plan.batten_stock.iter().flat_map(|s| &s.cuts);
    let screws: i64 = cuts.map(|(_, cut)| count(*cut, house.batten_screws, false)).sum();
    let battens = ByLength {
        goods: Goods::Battens,
        item: format!(
            "Battens, {} by {}, {} long",
            fine(&plan.job, house.batten_width),
            fine(&plan.job, house.batten_thickness),
            print(&plan.job, house.batten_length)
        ),
        unit: "piece",
        need: pieces.iter().copied().sum(),
        each: house.batten_length,
        count: plan.batten_stock.len() as i64,
        sold_in: sold_in(plan),
        reason: format!(
            "{}; what is left over is too short for another",
            counted(pieces.len() as i64, "batten")
        ),
    };
    let screws = in_boxes(
        Goods::Screws,
        format!(
            "Screws for battens with plugs for masonry, {} long, box of {}",
            fine(&plan.job, house.screw_length),
            house.screws_per_box
        ),
        screws,
        0,
        house.screws_per_box,
        format!("one at each end and at least every {}", print(&plan.job, house.batten_screws)),
    );
    vec![battens.purchase(), screws]
}

/// One for each box with live parts, as deep as the surface comes forward there.
pub(super) fn extenders(plan: &Plan) -> Vec<Purchase> {
    let purchase = |(depth, boxes): (Length, Vec<&str>)| {
        let count = boxes.len() as i64;
        Purchase {
            goods: Goods::Extenders,
            item: format!("Listed box extenders, to bring a box {} forward", fine(&plan.job, depth)),
            count,
            unit: "piece".to_owned(),
            need: Amount::Count(count),
            bought: Amount::Count(count),
            reason: format!("one for each of {}, as the electrician decides", list(&boxes)),
        }
    };
    boxes_by_depth(plan, |_| true).into_iter().map(purchase).collect()
}
