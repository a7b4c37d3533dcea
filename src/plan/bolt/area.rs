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
    let width = i128::from(goods.width);
    let mut thresholds: Vec<i64> =
        cuttings.iter().map(|c| c.width).filter(|w| w * 2 <= goods.width).collect();
    thresholds.extend([0, goods.width / 2 + 1]);
    thresholds.sort_unstable();
    thresholds.dedup();
    let weight = |c: &Cutting, threshold: i64| -> i128 {
        if c.width > goods.width - threshold {
            width
        } else if c.width >= threshold {
            c.width.into()
        } else {
            0
        }
    };
    let total = |threshold: i64| -> i128 {
        cuttings.iter().map(|c| weight(c, threshold) * i128::from(c.length)).sum()
    };
    let most = thresholds.into_iter().map(total).max().unwrap_or(0);
    i64::try_from((most + width - 1) / width).unwrap_or(i64::MAX)
}
