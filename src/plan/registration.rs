//! Where a pattern can start, and which start takes the least cloth.
//!
//! Up the wall the start is a matter of looks: it shifts the place of every cut in the pattern alike,
//! and so changes no length. Across, two starts a horizontal repeat apart are one. The places tried
//! are those that somebody would ask for, and those at which a panel just begins or just ends with an
//! edge of the cloth, where the number of widths changes.

use std::borrow::Cow;

use rayon::prelude::*;

use super::lattice::Laid;
use super::model::{Panel, WallRef, Way};
use super::rooms::Draft;
use super::starts::{Start, Starts};
use super::{PlanFault, bolt, choice, edges, panels, ribbon, rooms, seam_rules};
use crate::job::model::{AcrossWish, Job, RegistrationWish, Room, Side};
use crate::units::Length;

/// Places tried for one room at most, in the order of its walls.
const MOST_PLACES: usize = 96;

/// Of the places tried, as many as this get the seams that would be chosen for them: those that take
/// least with even ones, laid out quickly.
const SEAMED: usize = 8;

/// Of those, as many as this are planned in full: those that then take least.
const PLANNED: usize = 3;

/// The start that takes the least cloth.
struct Least {
    /// The start.
    across: AcrossWish,
    /// How many places were tried.
    tried: usize,
}

/// The starts that may take the least cloth.
pub(super) struct Candidates {
    /// Those to plan in full; none for a room without cloth.
    pub wishes: Vec<RegistrationWish>,
    /// How many places were tried.
    pub tried: usize,
    /// The fault of the first place tried that gives no plan.
    fault: Option<PlanFault>,
}

/// The job with a place for each pattern that may start wherever it takes the least cloth, and how
/// many places were tried for it, room by room.
///
/// # Errors
/// The fault of the first place tried, when no place gives a plan.
pub(super) fn settle<'j>(
    job: &'j Job,
    ways: &[Way],
) -> Result<(Cow<'j, Job>, Vec<Option<usize>>), PlanFault> {
    let wished = |(index, room): (usize, &Room)| {
        let wished = room.registration.across == AcrossWish::LeastCloth;
        wished.then(|| least(job, index, ways[room.cloth])).transpose()
    };
    let found: Vec<Result<Option<Least>, PlanFault>> = job.rooms.par_iter().enumerate().map(wished).collect();
    let mut settled = Cow::Borrowed(job);
    let mut tried = Vec::new();
    for (index, least) in found.into_iter().enumerate() {
        let least = least?;
        if let Some(least) = &least {
            settled.to_mut().rooms[index].registration.across = least.across;
        }
        tried.push(least.map(|least| least.tried));
    }
    Ok((settled, tried))
}

/// The start of room `index` that takes the least cloth.
///
/// # Errors
/// The fault of the first place tried, when no place gives a plan.
fn least(job: &Job, index: usize, way: Way) -> Result<Least, PlanFault> {
    let alone = alone(job, index);
    let Candidates { wishes, tried, fault } = candidates(&alone, way);
    let starts = Starts::new(&alone, way).plan(&wishes);
    if let Some(best) = best(&alone, &starts) {
        return Ok(Least { across: wishes[best].across, tried });
    }
    match fault.or(starts.into_iter().find_map(Result::err)) {
        Some(fault) => Err(in_job(fault, index)),
        // A room without cloth takes none wherever its pattern starts.
        None => Ok(Least { across: AcrossWish::FromCorner(0), tried: 0 }),
    }
}

/// The starts that may take the least cloth for the only room of `alone`: laid out quickly, first with even
/// seams and then with those that would be chosen.
pub(super) fn candidates(alone: &Job, way: Way) -> Candidates {
    let room = &alone.rooms[0];
    let places = places(alone, room);
    let wish = |across| RegistrationWish { across, ..room.registration };
    let draft = |job: &mut Job, &across: &AcrossWish| {
        job.rooms[0].registration.across = across;
        let draft = rooms::draft(job, 0, way)?;
        let even = vec![0; draft.layouts.len()];
        Ok((quick_length(job, &draft, &even), across, draft))
    };
    let drafted: Vec<Result<(Length, AcrossWish, Draft), PlanFault>> =
        places.par_iter().map_with(alone.clone(), draft).collect();
    let mut fault = None;
    let mut drafts = Vec::new();
    for drafted in drafted {
        match drafted {
            Ok(draft) => drafts.push(draft),
            Err(first) => fault = fault.or(Some(first)),
        }
    }
    // Stable sorts: of equals the first place stays first.
    drafts.sort_by_key(|(length, ..)| *length);
    drafts.truncate(SEAMED);
    let seamed = |job: &mut Job, (_, across, draft): &(Length, AcrossWish, Draft)| {
        job.rooms[0].registration.across = *across;
        let (chosen, _) = choice::choose(job, 0, draft);
        (quick_length(job, draft, &chosen), *across)
    };
    let mut seamed: Vec<(Length, AcrossWish)> = drafts.par_iter().map_with(alone.clone(), seamed).collect();
    seamed.sort_by_key(|(length, _)| *length);
    let wishes = seamed.iter().take(PLANNED).map(|&(_, across)| wish(across)).collect();
    Candidates { wishes, tried: places.len(), fault }
}

/// The best of starts: the shortest order when the room is cut by itself, after the fewest cuts in vain, then
/// the fewest broken preferences, then the least seam in sight, then the least used; of equals the first.
pub(super) fn best(alone: &Job, starts: &[Result<Start, PlanFault>]) -> Option<usize> {
    let planned = starts.iter().enumerate().filter_map(|(i, start)| Some((i, start.as_ref().ok()?)));
    planned.min_by_key(|(_, start)| worth(alone, start)).map(|(i, _)| i)
}

/// The fault of a room planned by itself, as one of the job.
fn in_job(mut fault: PlanFault, index: usize) -> PlanFault {
    if let Some(wall) = &mut fault.wall {
        wall.room = index;
    }
    fault
}

/// Cuts made in vain, what to order, broken preferences, seam in sight, what is used.
type Worth = (usize, i64, usize, Length, Length);

/// What a start is worth, the least being best.
fn worth(job: &Job, start: &Start) -> Worth {
    let walls = start.room.walls.iter().enumerate();
    let panels = || walls.clone().filter_map(|(wall, planned)| Some((wall, planned.panel.as_ref()?)));
    let broken =
        panels().map(|(wall, panel)| seam_rules::broken(job, WallRef { room: 0, wall }, panel).len());
    let in_sight = panels().map(|(_, panel)| in_sight(panel)).sum();
    let takes = &start.takes;
    (takes.in_vain, takes.order_units, broken.sum(), in_sight, takes.used)
}

/// The length of seam in sight on a panel.
pub(super) fn in_sight(panel: &Panel) -> Length {
    panel.seams.iter().flat_map(|seam| &seam.in_sight).map(|(low, high)| *high - *low).sum()
}

/// A room with its cloth as a job of its own, in which cuts already made are called as they are there.
pub(super) fn alone(job: &Job, index: usize) -> Job {
    let room = &job.rooms[index];
    let mut cloth = job.cloths[room.cloth].clone();
    let marked = format!("R{}-", index + 1);
    for cut in cloth.on_hand.iter_mut().flat_map(|bolt| &mut bolt.cuts) {
        if let Some(label) = cut.label.strip_prefix(&marked) {
            cut.label = label.to_owned();
        }
    }
    // What the cloth of several rooms gives besides belongs to none of them.
    if job.rooms.iter().filter(|other| other.cloth == room.cloth).count() > 1 {
        cloth.samples.clear();
    }
    Job {
        facts: job.facts.clone(),
        print: job.print,
        cloths: vec![cloth],
        batting: job.batting.clone(),
        trims: job.trims.clone(),
        house: job.house.clone(),
        rates: job.rates.clone(),
        prices: None,
        rooms: vec![Room { cloth: 0, ..room.clone() }],
        as_built: None,
        assumptions: Vec::new(),
    }
}

/// The length that a room's drops take with the seams `chosen` for each wall, laid out quickly.
fn quick_length(job: &Job, draft: &Draft, chosen: &[usize]) -> Length {
    let room = &job.rooms[0];
    let laid: Laid = draft.laid(&job.cloths[room.cloth]);
    let mut pieces = Vec::new();
    for (wall, layouts) in draft.layouts.iter().enumerate() {
        if let Some(layout) = layouts.get(chosen[wall]) {
            panels::panel(job, WallRef { room: 0, wall }, draft.ribbon.at[wall], &laid, layout, &mut pieces);
        }
    }
    bolt::quick_length(laid.cloth, bolt::to_cut(job, &laid, &pieces))
}

/// The distinct starts that are tried for a room: each as a match line on its widest wall.
fn places(job: &Job, room: &Room) -> Vec<AcrossWish> {
    let cloth = &job.cloths[room.cloth];
    let repeat = cloth.pattern.map_or(cloth.match_width, |lattice| lattice.horizontal);
    let half = repeat / 2;
    let ribbon = ribbon::unroll(room);
    let clothed = || room.walls.iter().enumerate().filter(|(_, wall)| wall.clothed);
    let Some(widest) = widest(room) else { return Vec::new() };
    let mut lines: Vec<Length> = Vec::new();
    for (index, wall) in clothed() {
        let at = ribbon.at[index];
        let middle = at + wall.width / 2;
        lines.extend([middle - half, middle, at, at + wall.width]);
        let openings = wall.openings.iter().map(|o| at + (o.outer.x0 + o.outer.x1) / 2 - half);
        lines.extend(openings);
        let beyond = |side| edges::edge(&job.house, room, index, side).allowance;
        lines.push(at - beyond(Side::Left) + cloth.left_match);
        lines.push(at + wall.width + beyond(Side::Right) - (cloth.width - cloth.left_match));
    }
    let mut places: Vec<Length> = Vec::new();
    for line in lines {
        let from_left = (line - ribbon.at[widest]).rem_euclid(repeat);
        if !places.contains(&from_left) {
            places.push(from_left);
        }
    }
    places.truncate(MOST_PLACES);
    places.into_iter().map(|from_left| AcrossWish::LineOn { wall: widest, from_left }).collect()
}

/// The first of the widest walls with cloth.
pub(super) fn widest(room: &Room) -> Option<usize> {
    let clothed = room.walls.iter().enumerate().filter(|(_, wall)| wall.clothed);
    clothed.rev().max_by_key(|(_, wall)| wall.width).map(|(wall, _)| wall)
}
