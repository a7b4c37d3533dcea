//! What the plan tells of its own figures.

use super::{ClothPlan, Kill};
use crate::units::{Length, LengthFormat};

impl Kill {
    /// By how much the pattern misses, without direction: `11½″ across and 1′ 0¾″ up`.
    pub fn words(&self, format: &LengthFormat) -> String {
        let parts = [(self.miss_across, "across"), (self.miss_up, "up")];
        let told = parts.iter().filter(|(miss, _)| *miss != Length::ZERO);
        let told: Vec<String> =
            told.map(|(miss, way)| format!("{} {way}", format.print(miss.abs()))).collect();
        told.join(" and ")
    }
}

impl ClothPlan {
    /// How near the least the plan is proved to be, in words. The proof is of the pieces as they are, cut
    /// from lays as the assumptions have them.
    pub fn nearness(&self) -> String {
        nearness(self.used, self.bound)
    }
}

fn nearness(used: Length, bound: Length) -> String {
    let gap = used - bound;
    if gap <= Length::ZERO {
        return "least possible, proved".to_owned();
    }
    // Tenths of a per cent of the bound, rounded up, so that the plan is never told nearer than it is.
    let bound = i128::from(bound.nm().max(1));
    let tenths = (i128::from(gap.nm()) * 1000 + bound - 1).div_euclid(bound);
    format!("within {}.{} % of the proved bound", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_plan_is_never_told_nearer_than_it_is() {
        let told = |used: i64, bound: i64| nearness(Length::mm(used), Length::mm(bound));
        assert_eq!(told(50_000, 50_000), "least possible, proved");
        assert_eq!(told(50_000, 49_749), "within 0.6 % of the proved bound");
        assert_eq!(told(50_000, 49_999), "within 0.1 % of the proved bound");
        assert_eq!(told(50_000, 25_000), "within 100.0 % of the proved bound");
    }
}
