//! Options that are no worse than the drawn one in anything counted and better in something: whoever approves must
//! not have to find them.

use crate::plan::model::{Plan, RegistrationOption};
use crate::plan::words::list;
use crate::sheet::words;

/// What is counted of an option, the less the better, with the words for less of each.
const BETTER: [&str; 5] = [
    "takes less cloth",
    "has fewer seams",
    "shows less of its seams",
    "breaks fewer rules",
    "keeps its seams farther from corners and casings",
];

/// A sentence for each such option.
pub fn sentences(plan: &Plan) -> Vec<String> {
    let several = plan.rooms.len() > 1;
    let mut told = Vec::new();
    for compared in plan.options.iter().filter(|compared| compared.options.len() > 1) {
        let Some(chosen) = compared.options.iter().find(|option| option.chosen) else { continue };
        let room = &plan.job.rooms[compared.room];
        // Of cloth that is there nothing is ordered.
        let on_hand = !plan.job.cloths[room.cloth].on_hand.is_empty();
        let own = figures(chosen, on_hand);
        let of_room = if several { format!("{}: ", words::capital(&room.name)) } else { String::new() };
        for option in &compared.options {
            let other = figures(option, on_hand);
            let gains = BETTER.iter().zip(other.iter().zip(&own)).filter(|(_, (other, own))| other < own);
            let gains: Vec<&str> = gains.map(|(words, _)| *words).collect();
            if gains.is_empty() || other.iter().zip(&own).any(|(other, own)| other > own) {
                continue;
            }
            told.push(format!(
                "{of_room}Option {} is drawn because the job asks for it; option {} {} and is no worse in the rest.",
                chosen.letter,
                option.letter,
                list(&gains)
            ));
        }
    }
    told
}

fn figures(option: &RegistrationOption, on_hand: bool) -> [i64; 5] {
    let cloth = if on_hand { option.used.nm() } else { option.order_units };
    // The farther from an edge the better; without a seam there is none near an edge.
    let near = option.nearest.map_or(i64::MIN, |nearest| -nearest.nm());
    [cloth, option.seams as i64, option.in_sight.nm(), option.broken.len() as i64, near]
}
