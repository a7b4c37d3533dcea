//! Which of the seams that the rules allow take the least cloth.
//!
//! Rules come first, then the number of strips; among the choices left for each wall, the room's
//! pieces are laid out for one choice after the other, the best of these once more with care, and the least
//! length wins; of equals the least seam in sight, then the fewest cuts. A wall that the pattern is centred
//! on keeps its even seams.

use std::collections::BTreeMap;

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

/// Choices for a whole room that are laid out with care, of those tried quickly.
const LAID_OUT: usize = 3;

/// Length of seam in sight, pieces to cut, and how uneven the ends of panels are; the least is best.
type Looks = (Length, usize, Length);

/// The length used, and looks where that is the same.
type Worth = (Length, Looks);

/// No length is nearer to another.
const NANOMETRE: Length = Length::nanometres(1);

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
    let cuttings = |chosen: &[usize]| -> Vec<bolt::Cutting> {
        choices.iter().zip(chosen).flat_map(|(c, &i)| c[i].iter().cloned()).collect()
    };
    // What shows comes before what is cut, and both after the length.
    let looks = |chosen: &[usize]| -> Looks {
        let score = |(i, &choice): (usize, &usize)| &draft.layouts[walls[i]][allowed[i][choice]].score;
        let scores = || chosen.iter().enumerate().map(score);
        let cuts = choices.iter().zip(chosen).map(|(c, &choice)| c[choice].len()).sum();
        (scores().map(|s| s.in_sight).sum(), cuts, scores().map(|s| s.lopsided).sum())
    };
    let counts: Vec<usize> = choices.iter().map(Vec::len).collect();
    let best = quickly(&counts, |chosen| (bolt::quick_length(laid.cloth, cuttings(chosen)), looks(chosen)));
    let length = |chosen: &[usize], most| bolt::careful_length(laid.cloth, cuttings(chosen), most);
    let (mut chosen, mut least) = carefully(best, length);
    let uneven = |chosen: &[usize], i: usize| {
        let layouts = &draft.layouts[walls[i]];
        let (own, even) = (&layouts[allowed[i][chosen[i]]].score, &layouts[0].score);
        allowed[i][0] == 0 && (own.in_sight, own.lopsided) > (even.in_sight, even.lopsided)
    };
    let mut told = Vec::new();
    let mut at = 0;
    while at < walls.len() {
        let i = at;
        at += 1;
        if !uneven(&chosen, i) {
            continue;
        }
        let mut other = chosen.clone();
        other[i] = 0;
        let Some(length) = length(&other, None) else { continue };
        if length > least {
            told.push(told_of(job, &room.walls[walls[i]].label, length - least));
        } else {
            // What was told of the other walls was told beside the choice that now gives way.
            (chosen, least, at) = (other, length, 0);
            told.clear();
        }
    }
    let mut result = vec![0; room.walls.len()];
    for ((&wall, allowed), choice) in walls.iter().zip(&allowed).zip(chosen) {
        result[wall] = allowed[choice];
    }
    (result, told)
}

/// Choices tried, one for each wall that has any, with their quick length and looks, the best first.
///
/// From the most even choice of each wall one wall after the other is changed, as long as that helps.
fn quickly(counts: &[usize], worth: impl Fn(&[usize]) -> Worth) -> Vec<(Worth, Vec<usize>)> {
    let mut chosen = vec![0; counts.len()];
    let mut best = worth(&chosen);
    let mut tried = BTreeMap::from([(chosen.clone(), best)]);
    let mut again = counts.iter().any(|&count| count > 1);
    while again {
        again = false;
        for (wall, &count) in counts.iter().enumerate() {
            for choice in 0..count {
                let before = std::mem::replace(&mut chosen[wall], choice);
                let now = *tried.entry(chosen.clone()).or_insert_with(|| worth(&chosen));
                if now < best {
                    (best, again) = (now, true);
                } else {
                    chosen[wall] = before;
                }
            }
        }
    }
    let mut tried: Vec<(Worth, Vec<usize>)> =
        tried.into_iter().map(|(chosen, worth)| (worth, chosen)).collect();
    tried.sort();
    tried
}

/// The best of choices once the first [`LAID_OUT`] of them are laid out with care, and its length.
fn carefully(
    choices: Vec<(Worth, Vec<usize>)>,
    length: impl Fn(&[usize], Option<Length>) -> Option<Length>,
) -> (Vec<usize>, Length) {
    let one = choices.len() == 1;
    let mut best: Option<(Worth, Vec<usize>)> = None;
    for ((quick, looks), chosen) in choices.into_iter().take(LAID_OUT) {
        let most =
            best.as_ref().map(|((least, has), _)| if looks < *has { *least + NANOMETRE } else { *least });
        // Where nothing can be chosen nothing is compared.
        let length = if one { Some(quick) } else { length(&chosen, most) };
        if let Some(length) = length
            && best.as_ref().is_none_or(|(worth, _)| (length, looks) < *worth)
        {
            best = Some(((length, looks), chosen));
        }
    }
    best.map_or((Vec::new(), Length::ZERO), |((length, _), chosen)| (chosen, length))
}

fn told_of(job: &Job, label: &str, saved: Length) -> String {
    format!(
        "Wall {label}: the seams stand where the room takes least cloth; evener or less seen ones would take {} more \
         with the pattern where it is.",
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
