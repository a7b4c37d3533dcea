//! What is bought for rooms small enough to work out by hand; the arithmetic is ours.

use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::*;
use clothwright::units::Length;

use crate::parts::{breast, raked, square};
use crate::rooms::inch;

/// Need, and how many are bought, of one kind of goods.
fn bought(plan: &Plan, goods: &Goods) -> (Amount, i64) {
    let found: Vec<&Purchase> = plan.purchases.iter().filter(|p| p.goods == *goods).collect();
    let [only] = found.as_slice() else { panic!("{goods:?} is bought {} times", found.len()) };
    (only.need, only.count)
}

fn length(length: Length) -> Amount {
    Amount::Length(length, SoldIn::Yard)
}

#[test]
fn square_room() {
    let plan = make(square()).expect("a plan");
    // Cord: four corners of 98 in and 600 in of base are 992 in. For ends: a corner strip has 2 in at each end,
    // 16 in for four. Along a wall of 156 in three strips are joined: 2 + 1/2, 1/2 + 1/2 and 1/2 + 2 in beyond
    // what shows, 6 in, and 6 in on a wall of 144; 24 in for four walls. 1032 in are 28.7 yd.
    assert_eq!(bought(&plan, &Goods::Cord), (length(inch(1032)), 29));
    // Thread: two seams on each wall, 98 in high, are 784 in; with 1032 in of welt 1816 in, three times.
    assert_eq!(bought(&plan, &Goods::Thread), (length(inch(1816 * 3)), 1));
    // Adhesive: 392 in of corner welt, 600 of base and 600 of braid; a tube lays 360 in: 4.4.
    assert_eq!(bought(&plan, &Goods::Adhesive), (length(inch(1592)), 5));
}

#[test]
fn chimney_breast() {
    let plan = make(breast()).expect("a plan");
    // Two folds of 98 in: one roll of 360.
    assert_eq!(bought(&plan, &Goods::HemTape), (length(inch(196)), 1));
    // Adhesive: 196 in at the folds; six inside corners of 98 in; 116 + 192 + 194 in round the openings; base and
    // crown are 636 in round, the base without 40 and 38 in: 2480 in, 6.9 tubes of 360.
    let bead = 196 + 6 * 98 + 502 + (636 - 78) + 636;
    assert_eq!(bought(&plan, &Goods::Adhesive), (length(inch(bead)), 7));
}

#[test]
fn raked_wall() {
    let plan = make(raked()).expect("a plan");
    // Braid: 120 in along the rake and 2 in at each end, 3.4 yd.
    assert_eq!(bought(&plan, &Goods::Trim("braid".into())), (length(inch(124)), 4));
    assert_eq!(bought(&plan, &Goods::Adhesive), (length(inch(120)), 1));
    // Cloth: 11 tacks at 12 in on 120, 121 at the top, 97 at the bottom, 61 and 133 at the sides.
    let staples = plan.purchases.iter().find(|p| p.goods == Goods::Staples).expect("staples");
    let in_cloth = 11 + 121 + 97 + 61 + 133;
    assert!(staples.reason.starts_with(&format!("{in_cloth} in cloth")), "{}", staples.reason);
}
