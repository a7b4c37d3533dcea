//! Worked examples of the trade, through the real planner. Each carries its source.

use clothwright::plan;

use crate::rooms::*;

/// A wall 13 ft wide and 12 ft high in cloth with 52 in usable: exactly 3 widths, 12 yd.
/// Published: Home Decorating For Dummies (the widths); the 12 yd are derived.
#[test]
fn thirteen_foot_wall_takes_three_widths() {
    let mut job = feature_wall(cloth(None), inch(156), inch(144));
    job.house.top_allowance = inch(0);
    job.house.bottom_allowance = inch(0);
    let plan = plan::make(job).expect("a plan");
    assert_eq!(plan.cloths[0].widths, 3);
    assert_eq!(plan.cloths[0].order_units, 12);
}
