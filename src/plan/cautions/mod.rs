//! The cautions that a job raises.
//!
//! A rule is a heading, a text, a source and a test that says what in the job raises it. All of them
//! defer to local codes and licensed practice, which is said once wherever they are told.

mod fire;
mod health;
mod services;
mod site;

use super::model::{Caution, Plan};

/// The cautions of a plan whose staples, corners and trim are made.
pub fn cautions(plan: &Plan) -> Vec<Caution> {
    let rules = site::RULES.iter().chain(&health::RULES).chain(&fire::RULES);
    rules
        .filter_map(|rule| {
            (rule.because)(plan).map(|because| Caution {
                code: rule.code,
                title: rule.title.to_owned(),
                text: rule.text.to_owned(),
                source: rule.source.to_owned(),
                because,
            })
        })
        .collect()
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
