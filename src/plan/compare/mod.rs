//! Two issues of one job compared: what changed in what the job says, and what comes of it for the plan.
//!
//! A stage of its own, which works on jobs and [`Plan`]s and never on text: what is written in another
//! unit, spacing or order means the same. What changes on paper is found by [`crate::sheet::change`].
//!
//! [`in_order_of`] goes before the old job is planned, [`compare`] after both are.

mod cloth;
mod cuts;
mod facts;
mod job;
mod matching;
mod order;
mod places;
mod sequence;
pub mod told;
mod work;

use super::model::{Change, Difference, JobPart, Pair, Plan, WallRef};
use super::words::{capital, list};
use crate::job::model::{Facts, Revision};
use matching::{Ids, Matching, matching};

pub use order::in_order_of;

/// What has changed from one plan to the other, but for the sheets. The plans are best made of jobs that
/// [`in_order_of`] has put in one order.
pub fn compare(plans: Pair<&Plan>) -> Change {
    let jobs = plans.map(|plan| &plan.job);
    let found = matching(jobs);
    let ids = Ids::of(&found, jobs);
    let walls = cloth::walls(&found, plans);
    let facts = jobs.map(|job| &job.facts);
    let seams = cloth::seams(plans, &walls);
    let pattern = cloth::pattern(plans, &walls);
    let places = places::places(plans, &found, &seams, &pattern);
    let job = job::told(jobs, &found, &ids);
    let (row, row_made_up) = row(facts, &job);
    Change {
        revision: facts.map(last),
        row,
        row_made_up,
        job,
        prices: job::prices(jobs),
        pieces: cloth::pieces(plans, &walls),
        seams,
        pattern,
        kills: cloth::kills(plans, &found),
        cloths: cloth::cloths(plans, &found),
        cuts: cuts::cuts(plans, &found),
        trims: work::trims(plans),
        purchases: work::purchases(plans),
        work: work::work(plans),
        costs: work::costs(plans),
        watch: work::watch(plans),
        places,
        sheets: Vec::new(),
        walls: both(&found),
    }
}

/// Marks the new plan with a change: its sheets then stand under the change's revision, with clouds round
/// the changed places and a change sheet. An empty change leaves the plan as it is.
pub fn mark(plan: &mut Plan, change: Change) {
    if change.row_made_up && !change.is_empty() {
        plan.job.facts.revisions.push(change.row.clone());
    }
    plan.change = Some(change);
}

/// The walls that both issues have.
fn both(found: &Matching) -> Vec<Pair<WallRef>> {
    let rooms =
        found.rooms.iter().filter_map(|(pair, inside)| Some((pair.was?, pair.now?, inside.as_ref()?)));
    let walls = rooms.flat_map(|(was, now, inside)| {
        inside.walls.iter().filter_map(move |(pair, _)| {
            Some(Pair::new(WallRef { room: was, wall: pair.was? }, WallRef { room: now, wall: pair.now? }))
        })
    });
    walls.collect()
}

fn last(facts: &Facts) -> Revision {
    let none = || Revision { index: String::new(), date: String::new(), text: String::new() };
    facts.revisions.last().cloned().unwrap_or_else(none)
}

/// A line of the revision table has room for so many characters.
const ROW_TEXT: usize = 60;

/// The row of the revision table for this change, and whether it is made up.
fn row(facts: Pair<&Facts>, told: &[Difference]) -> (Revision, bool) {
    let row = facts.map(last);
    if row.was.index != row.now.index {
        return (row.now, false);
    }
    let index = next_index(&row.now.index);
    (Revision { index, date: facts.now.date.clone(), text: row_text(told) }, true)
}

/// What stands in the table of a revision that nobody has written down: what has changed in the rooms, as
/// far as there is room.
fn row_text(told: &[Difference]) -> String {
    let of_rooms = |part| {
        matches!(part, JobPart::Room | JobPart::Wall | JobPart::Opening | JobPart::Fixing | JobPart::Cloth)
    };
    let mut names: Vec<&str> = Vec::new();
    for difference in told.iter().filter(|difference| of_rooms(difference.part)) {
        let name = if difference.name.now.is_empty() { &difference.name.was } else { &difference.name.now };
        if !names.contains(&name.as_str()) {
            names.push(name);
        }
    }
    let text = format!("{}: see change sheet", capital(&list(&names)));
    if names.is_empty() || text.chars().count() > ROW_TEXT { "See change sheet".to_owned() } else { text }
}

/// The index after one: `B` after `A`, `AA` after `Z`, `8` after `7`; of a mixed one the last sign is
/// counted on, and what has none left starts with `A`.
fn next_index(index: &str) -> String {
    if let Ok(number) = index.parse::<u32>() {
        return (number + 1).to_string();
    }
    let mut signs: Vec<char> = index.chars().collect();
    match signs.last().copied() {
        Some('Z') if signs.len() == 1 => "AA".to_owned(),
        Some('Z') => {
            let first = signs.first().copied().filter(char::is_ascii_uppercase).filter(|&c| c != 'Z');
            first.map_or("A".to_owned(), |c| format!("{}A", char::from(c as u8 + 1)))
        }
        Some(c) if c.is_ascii_alphanumeric() && c != '9' && c != 'z' => {
            signs.pop();
            signs.push(char::from(c as u8 + 1));
            signs.into_iter().collect()
        }
        _ => "A".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::next_index;

    #[test]
    fn indices_are_counted_on() {
        for (index, next) in [
            ("A", "B"),
            ("Z", "AA"),
            ("AZ", "BA"),
            ("AB", "AC"),
            ("7", "8"),
            ("99", "100"),
            ("B1", "B2"),
            ("", "A"),
        ] {
            assert_eq!(next_index(index), next);
        }
    }
}
