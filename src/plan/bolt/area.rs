//! A bound on the length that knows nothing of the pattern.
//!
//! Whatever the phases, the lengths of pieces weighed by a dual feasible function of their widths add up
//! to no more than the length used. The area itself is the plainest of these; others count wide
//! pieces whole and leave out narrow ones. See S. Martello and P. Toth, "Lower bounds and reduction
//! procedures for the bin packing problem", Discrete Applied Mathematics 28 (1990) 59-70.

use super::cutting::{Cutting, Goods};

/// The best bound that a threshold gives: pieces wider than the width less the threshold count as
/// whole widths, narrower than the threshold not at all.
pub fn by_area(goods: &Goods, cuttings: &[Cutting]) -> i64 {
    let totals = thresholds(goods, cuttings).into_iter().map(|threshold| total(goods, cuttings, threshold));
    length(goods, totals.max().unwrap_or(0))
}

/// The thresholds that can be best for some of these pieces, in nanometres.
pub fn thresholds(goods: &Goods, cuttings: &[Cutting]) -> Vec<i64> {
    let mut thresholds: Vec<i64> =
        cuttings.iter().map(|c| c.width).filter(|w| w * 2 <= goods.width).collect();
    thresholds.extend([0, goods.width / 2 + 1]);
    thresholds.sort_unstable();
    thresholds.dedup();
    thresholds
}

/// The weighed area of pieces under a threshold, in square nanometres: those of several lots of pieces add up.
pub fn total(goods: &Goods, cuttings: &[Cutting], threshold: i64) -> i128 {
    let weight = |c: &Cutting| -> i64 {
        if c.width > goods.width - threshold {
            goods.width
        } else if c.width >= threshold {
            c.width
        } else {
            0
        }
    };
    cuttings.iter().map(|c| i128::from(weight(c)) * i128::from(c.length)).sum()
}

/// The least length of cloth that has a weighed area.
pub fn length(goods: &Goods, total: i128) -> i64 {
    let width = i128::from(goods.width);
    i64::try_from((total + width - 1) / width).unwrap_or(i64::MAX)
}
