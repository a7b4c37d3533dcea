//! How fast the work goes.

use super::ctx::{Ctx, Range};
use super::model::Rates;
use crate::parse::{Given, ParsedJob};
use crate::source::Spanned;
use crate::units::Length;

/// What the assumption says of its source.
const ESTIMATE: &str = "an estimate, no source: give your own";

/// The rates of the file, and estimates for what it leaves out, all in one assumption.
pub fn rates(ctx: &mut Ctx, parsed: &ParsedJob) -> Option<Rates> {
    let node = parsed.nodes.iter().find(|node| node.spec.name == "rates");
    let mut assumed: Vec<String> = Vec::new();
    let mut count_from = |ctx: &mut Ctx, name: &str, least: u32, default: u32, text: &str| {
        let given: Given<Spanned<u32>> = node.map_or(Given::Absent, |node| node.child_arg(name));
        match given {
            Given::Bad => None,
            Given::Absent => {
                assumed.push(format!("{default} {text}"));
                Some(default)
            }
            Given::Is(count) if (least..=10_000).contains(&count.value) => Some(count.value),
            Given::Is(count) => {
                let message = format!("{} is not possible for {}", count.value, name.replace('-', " "));
                ctx.error("odd-count", count.span, message, format!("give from {least} to 10000"));
                None
            }
        }
    };
    let mut count =
        |ctx: &mut Ctx, name: &str, default: u32, text: &str| count_from(ctx, name, 1, default, text);
    let staples_per_hour = count(ctx, "staples-per-hour", 240, "staples an hour in cloth");
    let cut_minutes = count(ctx, "cut-minutes", 4, "minutes to cut a piece");
    let opening_minutes = count(ctx, "opening-minutes", 15, "to cut an opening free");
    let box_minutes = count(ctx, "box-minutes", 5, "for each round of work on a box");
    let fold_minutes = count(ctx, "fold-minutes", 45, "to fold and glue a corner");
    let hold_minutes = count(ctx, "hold-minutes", 30, "to leave it alone");
    let step_minutes = count(ctx, "step-minutes", 30, "for a step with no rate of its own");
    let day_minutes = count(ctx, "day-minutes", 420, "minutes of work in a day");
    let meal_minutes = count_from(ctx, "meal-minutes", 0, 30, "for a meal in the middle of it");
    let mut length = |ctx: &mut Ctx, name: &str, yards: i64, text: &str| {
        let given: Given<Spanned<Length>> = node.map_or(Given::Absent, |node| node.child_arg(name));
        let an_hour = Range { least: Length::inches(1), most: Length::yards(1000) };
        match given {
            Given::Bad => None,
            Given::Is(length) => ctx.ranged(length, &name.replace('-', " "), an_hour),
            Given::Absent => {
                let unit = if ctx.metric { Length::mm(1000) } else { Length::yards(1) };
                assumed.push(format!("{yards} {} of {text}", if ctx.metric { "m" } else { "yd" }));
                Some(unit * yards)
            }
        }
    };
    let batting_per_hour = length(ctx, "batting-per-hour", 12, "batting an hour");
    let battens_per_hour = length(ctx, "battens-per-hour", 8, "battens");
    let seam_per_hour = length(ctx, "seam-per-hour", 5, "seam");
    let welt_per_hour = length(ctx, "welt-per-hour", 15, "welt sewn");
    let trim_per_hour = length(ctx, "trim-per-hour", 8, "trim glued");
    if !assumed.is_empty() {
        ctx.note(format!("Times, for one person: {}.", assumed.join(", ")), ESTIMATE);
    }
    Some(Rates {
        staples_per_hour: staples_per_hour?,
        batting_per_hour: batting_per_hour?,
        battens_per_hour: battens_per_hour?,
        seam_per_hour: seam_per_hour?,
        welt_per_hour: welt_per_hour?,
        trim_per_hour: trim_per_hour?,
        cut_minutes: cut_minutes?,
        opening_minutes: opening_minutes?,
        box_minutes: box_minutes?,
        fold_minutes: fold_minutes?,
        hold_minutes: hold_minutes?,
        step_minutes: step_minutes?,
        day_minutes: day_minutes?,
        meal_minutes: meal_minutes?,
    })
}
