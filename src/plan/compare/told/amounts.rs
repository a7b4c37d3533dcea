//! What a change comes to in words: cloth, costs, hours, trim, purchases.

use std::cmp::Ordering;

use super::super::super::model::{ClothChange, CutsChange, Pair, TrimPlace};
use super::super::super::words;
use super::{Row, Told, counted_by, name};
use crate::money::Money;
use crate::units::Length;

/// What is ordered and used of a cloth.
pub fn cloth(cloth: &ClothChange) -> Vec<Row> {
    let called = name(cloth.name.as_ref().map(String::as_str));
    let unit = words::unit(cloth.sold_in);
    let there = cloth.name.as_ref().map(|name| !name.is_empty());
    let ordered = |there: bool, on_hand: bool, units: i64| match (there, on_hand) {
        (false, _) => String::new(),
        (_, true) => "none, cut from what is on hand".to_owned(),
        _ => words::counted(units, unit),
    };
    let ordered = Pair::new(
        ordered(there.was, cloth.on_hand.was, cloth.order_units.was),
        ordered(there.now, cloth.on_hand.now, cloth.order_units.now),
    );
    if !(there.was && there.now) {
        let by = if there.now { "new" } else { "gone" };
        return vec![Row::of(called, "to order").pair(ordered).by(by)];
    }
    let mut rows = vec![Row::of(&called, "to order").pair(ordered).by(counted_by(cloth.order_units, unit))];
    if !cloth.used.same() {
        let by = cloth.used.now - cloth.used.was;
        let by = format!(
            "{} {}",
            words::sold(by.abs(), cloth.sold_in),
            if by > Length::ZERO { "more" } else { "less" }
        );
        rows.push(
            Row::of(&called, "used").pair(cloth.used.map(|used| words::sold(used, cloth.sold_in))).by(by),
        );
    }
    if !cloth.widths.same() {
        let widths = cloth.widths.map(|widths| widths as i64);
        let drops = widths.map(|widths| words::counted(widths, "drop"));
        rows.push(Row::of(called, "cut").pair(drops).by(counted_by(widths, "")));
    }
    rows
}

/// What becomes of the cuts already made from a cloth.
pub fn cuts(cuts: &CutsChange) -> Vec<Row> {
    let called = name(cuts.name.as_ref().map(String::as_str));
    let made = cuts.cuts.iter().filter(|cut| cut.fate.now.is_some()).count() as i64;
    let vain: Vec<(&str, &str)> = cuts.in_vain().map(|(cut, why)| (cut.label.as_str(), why)).collect();
    let lost = vain.len() as i64;
    let fates = match (made, lost) {
        (0, _) => "none that the new file knows of".to_owned(),
        (_, 0) => format!("{made} made, all serve"),
        _ => format!("{made} made, {} serve, {lost} lost", made - lost),
    };
    let mut rows = vec![Row::of(&called, "cuts").by(fates)];
    rows.extend(vain.iter().map(|(label, why)| Row::of(&called, *label).by(format!("lost, {why}"))));
    let again: Vec<&str> = vain
        .iter()
        .map(|(label, _)| *label)
        .filter(|label| cuts.to_cut.now.iter().any(|other| other == label))
        .collect();
    if !again.is_empty() {
        rows.push(Row::of(&called, "to cut again").by(words::list(&again)));
    }
    let count = cuts.to_cut.as_ref().map(|labels| labels.len() as i64);
    let pieces = count.map(|count| words::counted(count, "piece"));
    rows.push(Row::of(&called, "still to cut").pair(pieces).by(counted_by(count, "")));
    let by = cuts.left.now - cuts.left.was;
    let more = if by > Length::ZERO { "more" } else { "less" };
    let by = if by == Length::ZERO {
        String::new()
    } else {
        format!("{} {more}", words::sold(by.abs(), cuts.sold_in))
    };
    // Rounded down: no more is promised than is there.
    let left = cuts.left.map(|left| words::sold_whole(left, cuts.sold_in));
    rows.push(Row::of(called, "left on the bolts").pair(left).by(by));
    rows
}

impl Told<'_> {
    pub(super) fn costs(&self) -> Vec<Row> {
        let mut rows: Vec<Row> = Vec::new();
        if let Some(costs) = &self.change.costs {
            let money = |what: &str, pair: Pair<Money>| {
                let by = match pair.now.cmp(&pair.was) {
                    Ordering::Equal => String::new(),
                    Ordering::Greater => format!("{} more", pair.now.minus(pair.was).print()),
                    Ordering::Less => format!("{} less", pair.was.minus(pair.now).print()),
                };
                let printed = |currency: &str, money: Money| format!("{currency} {}", money.print());
                let printed =
                    Pair::new(printed(&costs.currency.was, pair.was), printed(&costs.currency.now, pair.now));
                Row::of("", what).pair(printed).by(by)
            };
            rows.push(money("all", costs.total));
            if !costs.materials.same() || !costs.labour.same() {
                rows.extend([money("materials", costs.materials), money("work", costs.labour)]);
            }
        }
        rows.extend(self.change.prices.iter().map(|difference| self.difference(difference)));
        rows
    }

    /// The hours, the days, and then the hours of the parts of the work that change.
    pub(super) fn work(&self) -> Vec<Row> {
        let work = &self.change.work;
        let timed = |what: String, minutes: Pair<i64>| {
            let by = minutes.now - minutes.was;
            let more = if by > 0 { "more" } else { "less" };
            let by = if by == 0 { String::new() } else { format!("{} {more}", words::hours(by.abs())) };
            Row::of("", what).pair(minutes.map(words::hours)).by(by)
        };
        let days = work.days.map(|days| words::counted(days, "day"));
        let whole = [
            timed("hours of one person".to_owned(), work.minutes),
            Row::of("", "with the whole crew").pair(days).by(counted_by(work.days, "")),
        ];
        let parts =
            work.stages.iter().map(|(stage, minutes)| timed(words::stage(*stage).to_lowercase(), *minutes));
        whole.into_iter().chain(parts).collect()
    }

    pub(super) fn trim(&self) -> Vec<Row> {
        let rows = self.change.trims.iter().map(|trim| {
            let by = self.more(trim.length.now - trim.length.was, ["more", "less"]);
            let length = trim.length.map(|length| self.print(length));
            Row::of(place_words(trim.place), name(trim.name.as_ref().map(String::as_str))).pair(length).by(by)
        });
        rows.collect()
    }

    pub(super) fn buy(&self) -> Vec<Row> {
        let changed =
            self.change.purchases.iter().filter(|bought| !bought.count.same() || !bought.unit.same());
        let rows = changed.map(|bought| {
            let words = |count: i64, unit: &str| {
                if unit.is_empty() { "none".to_owned() } else { words::counted(count, unit) }
            };
            let count = Pair::new(
                words(bought.count.was, &bought.unit.was),
                words(bought.count.now, &bought.unit.now),
            );
            Row::of("", name(bought.item.as_ref().map(String::as_str)))
                .pair(count)
                .by(counted_by(bought.count, ""))
        });
        rows.collect()
    }
}

const fn place_words(place: TrimPlace) -> &'static str {
    match place {
        TrimPlace::Corner => "in corners",
        TrimPlace::Opening => "at openings",
        TrimPlace::Top => "at the top",
        TrimPlace::Bottom => "at the bottom",
    }
}
