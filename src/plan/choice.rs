//! Which of the seams that the rules allow take the least cloth.
//!
//! Rules come first, then the number of strips; among the choices left for each wall, the room's
//! pieces are laid out for one choice after the other and the least length wins. A wall that the
//! pattern is centred on keeps its even seams.

use super::bolt;
use super::lattice::Laid;
use super::model::WallRef;
use super::panels;
use super::rooms::Draft;
use super::seams::Layout;
use crate::job::model::Job;
use crate::units::Length;

/// Choices tried for one wall, the most even first; plain cloth has dozens.
const TRIED: usize = 6;

/// For each wall of the room, the index of the layout chosen; and sentences on what it cost in looks.
pub fn choose(job: &Job, index: usize, draft: &Draft) -> (Vec<usize>, Vec<String>) {
    let room = &job.rooms[index];
    let laid = draft.laid(&job.cloths[room.cloth]);
    let centred = room.registration.across.centred();
    let cut = |wall: usize, choice: usize| cuttings(job, index, draft, &laid, wall, choice);
    let begun = laid.cloth.on_hand.iter().any(|bolt| !bolt.cuts.is_empty());
    let allowed = |wall: usize| -> Vec<usize> {
        let layouts = &draft.layouts[wall];
        let as_good = |l: &&Layout| {
            let (own, best) = (&l.score, &layouts[0].score);
            (own.broken, own.short, own.strips) == (best.broken, best.short, best.strips)
        };
        let as_cut = if begun { as_cut(layouts.len(), |choice| cut(wall, choice).1) } else { Vec::new() };
        match as_cut.is_empty() {
            false => as_cut,
            true if centred == Some(wall) => vec![0],
            true => (0..layouts.iter().take_while(as_good).take(TRIED).count()).collect(),
        }
    };
    let walls: Vec<usize> = (0..room.walls.len()).filter(|&w| !draft.layouts[w].is_empty()).collect();
    let allowed: Vec<Vec<usize>> = walls.iter().map(|&wall| allowed(wall)).collect();
    let cuttings = |(&wall, allowed): (&usize, &Vec<usize>)| -> Vec<Vec<bolt::Cutting>> {
        allowed.iter().map(|&choice| cut(wall, choice).0).collect()
    };
    let choices: Vec<Vec<Vec<bolt::Cutting>>> = walls.iter().zip(&allowed).map(cuttings).collect();
    let mut chosen = vec![0; walls.len()];
    let length = |chosen: &[usize]| {
        let pieces: Vec<bolt::Cutting> =
            choices.iter().zip(chosen).flat_map(|(c, &i)| c[i].iter().cloned()).collect();
        bolt::quick_length(laid.cloth, pieces)
    };
    let mut least = length(&chosen);
    let mut again = choices.iter().any(|c| c.len() > 1);
    while again {
        again = false;
        for wall in 0..walls.len() {
            for choice in 0..choices[wall].len() {
                let before = std::mem::replace(&mut chosen[wall], choice);
                let now = if choice == before { least } else { length(&chosen) };
                if now < least {
                    (least, again) = (now, true);
                } else {
                    chosen[wall] = before;
                }
            }
        }
    }
    let mut told = Vec::new();
    let mut result = vec![0; room.walls.len()];
    for (i, &wall) in walls.iter().enumerate() {
        result[wall] = allowed[i][chosen[i]];
        let (own, even) = (&draft.layouts[wall][result[wall]].score, &draft.layouts[wall][0].score);
        if allowed[i][0] == 0 && (own.in_sight, own.lopsided) > (even.in_sight, even.lopsided) {
            let mut other = chosen.clone();
            other[i] = 0;
            told.push(told_of(job, &room.walls[wall].label, length(&other) - least));
        }
    }
    (result, told)
}

fn told_of(job: &Job, label: &str, saved: Length) -> String {
    format!(
        "Wall {label}: the seams stand where the room takes least cloth; evener or less seen ones would take {} more.",
        job.print.format.print(saved)
    )
}

/// Of so many layouts of a wall those of which most is cut already, as `made` counts it; none when nothing is.
fn as_cut(layouts: usize, made: impl Fn(usize) -> usize) -> Vec<usize> {
    let counts: Vec<usize> = (0..layouts).map(made).collect();
    let most = counts.iter().copied().max().filter(|&most| most > 0);
    (0..layouts).filter(|&choice| Some(counts[choice]) == most).take(TRIED).collect()
}

/// The pieces of a wall with a layout that are still to be cut, and how many are cut already.
fn cuttings(
    job: &Job,
    room: usize,
    draft: &Draft,
    laid: &Laid,
    wall: usize,
    choice: usize,
) -> (Vec<bolt::Cutting>, usize) {
    let mut pieces = Vec::new();
    let at = draft.ribbon.at[wall];
    panels::panel(job, WallRef { room, wall }, at, laid, &draft.layouts[wall][choice], &mut pieces);
    let to_cut = bolt::to_cut(job, laid, &pieces);
    let made = pieces.len() - to_cut.len();
    (to_cut, made)
}
