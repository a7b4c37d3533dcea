//! The cautions that a job raises.
//!
//! A rule is a heading, a text, a source and a test that says what in the job raises it. All of them
//! defer to local codes and licensed practice, which is said once wherever they are told.

mod fire;
mod health;
mod services;
mod site;

pub(super) use site::climbs;

use super::model::{Caution, Plan};
use super::staples::hand;
use super::words::print;
use crate::units::UnitSystem;

/// The cautions of a plan whose staples, corners and trim are made.
pub fn cautions(plan: &Plan) -> Vec<Caution> {
    let rules = site::RULES.iter().chain(&health::RULES).chain(&fire::RULES);
    rules
        .filter_map(|rule| {
            (rule.because)(plan).map(|because| Caution {
                code: rule.code,
                title: told(plan, rule.title),
                text: told(plan, rule.text),
                source: source(plan, rule),
                because,
            })
        })
        .collect()
}

/// The figures of the American rules, and what a metric job is told: never more lax than the rule.
const FIGURES: [(&str, &str); 6] = [
    ("1/4 in", "6 mm"),
    ("1-3/4 in", "44 mm"),
    ("3 ft", "1 m"),
    ("8 ft", "2.4 m"),
    ("6 sq ft", "0.5 sq m"),
    ("100 psi", "6.8 bar"),
];

/// A text with its figures, which stand in braces, in the job's units.
fn told(plan: &Plan, text: &str) -> String {
    let metric = plan.job.print.format.system == UnitSystem::Millimetres;
    let with_hand = text.replace("{hand}", &print(&plan.job, hand(&plan.job)));
    FIGURES.iter().fold(with_hand, |text, (inches, mm)| {
        text.replace(&format!("{{{inches}}}"), if metric { mm } else { inches })
    })
}

/// Where a rule comes from, with its own figures where the text gives others.
fn source(plan: &Plan, rule: &Rule) -> String {
    let used = FIGURES.iter().map(|(inches, _)| *inches);
    let used: Vec<&str> = used.filter(|f| rule.text.contains(&format!("{{{f}}}"))).collect();
    if used.is_empty() || plan.job.print.format.system != UnitSystem::Millimetres {
        return rule.source.to_owned();
    }
    format!("{}; in the source {}", rule.source, super::words::list(&used))
}

/// What holds for every caution.
pub const DEFER: &str = "Over every caution, local codes and licensed practice decide.";

/// A caution and what raises it.
struct Rule {
    code: &'static str,
    title: &'static str,
    /// What to do.
    text: &'static str,
    source: &'static str,
    /// What in the plan raises it; `None` when nothing does.
    because: fn(&Plan) -> Option<String>,
}

/// "the parlour" or "the parlour and the hall": the rooms that a test holds for, or `None`.
fn rooms_where(plan: &Plan, test: impl Fn(usize) -> bool) -> Option<String> {
    let rooms = (0..plan.job.rooms.len()).filter(|r| test(*r));
    let names: Vec<String> = rooms.map(|r| super::words::room(plan, r)).collect();
    (!names.is_empty()).then(|| super::words::list(&names))
}

/// The clothed walls that a test holds for, in words, or `None`.
fn walls_where(plan: &Plan, test: impl Fn(&crate::job::model::Wall) -> bool) -> Option<String> {
    let mut some = Vec::new();
    for (room, shape) in plan.job.rooms.iter().enumerate() {
        for (wall, shape) in shape.walls.iter().enumerate() {
            if shape.clothed && test(shape) {
                some.push(super::model::WallRef { room, wall });
            }
        }
    }
    (!some.is_empty()).then(|| super::words::walls(plan, &some))
}
