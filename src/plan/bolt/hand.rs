//! The published hand rules, so that the saving named on a sheet is an honest one.

use super::super::model::HandRule;
use crate::job::model::Cloth;
use crate::units::Length;

/// What each hand rule orders for these drop lengths, before rounding to what the cloth is sold in.
///
/// ROUND-UP cuts each drop to the next whole repeat (published: cut 135, repeat 27, 4 widths makes
/// 540); ADD-ONE adds one repeat to each (648). Both say the same of plain cloth. `alone` is what
/// the plan of the same drops uses instead.
pub fn rules(cloth: &Cloth, drops: &[Length], alone: Length) -> Vec<HandRule> {
    let (round_up, add_one) = match &cloth.pattern {
        None => (drops.iter().copied().sum(), drops.iter().copied().sum()),
        Some(lattice) => {
            let vertical = lattice.vertical;
            let up = drops.iter().map(|d| vertical * d.div_ceil(vertical)).sum();
            (up, drops.iter().map(|&d| d + vertical).sum())
        }
    };
    let rule = |name: &str, length: Length| HandRule { name: name.into(), length, saved: length - alone };
    vec![rule("round-up", round_up), rule("add-one", add_one)]
}
