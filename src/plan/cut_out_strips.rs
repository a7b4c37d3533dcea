//! Strips for trim from the cloth that openings give back, where a job wishes it.
//!
//! A cut-out is a part of a panel, so its pattern is known on the ribbon: a matched strip can be cut
//! from it wherever the same part of the pattern comes again, which is a whole number of columns
//! across the cloth and of repeats along it. Strips that find no place are cut from the bolt as ever.

use super::cut_outs::of_room;
use super::model::{CutOut, CutOutStrip, Piece, RoomPlan, Way};
use crate::geom::Rect;
use crate::job::model::{Job, Lattice};
use crate::units::Length;

/// Places that are tried in one cut-out: more than any strip finds in a real one.
const MOST_TRIED: usize = 2_000;

/// The cut-outs of a room, and what has been taken from each.
pub(super) struct Stock {
    pattern: Option<Lattice>,
    way: Way,
    left: Vec<(CutOut, Vec<Rect>)>,
}

impl Stock {
    /// All cut-outs of a room whose panels are planned, whole.
    pub fn of(job: &Job, room: usize, plan: &RoomPlan, pieces: &[Piece]) -> Stock {
        let cut_outs = of_room(job, room, plan, pieces);
        Stock {
            pattern: job.cloths[job.rooms[room].cloth].pattern,
            way: plan.registration.way,
            left: cut_outs.into_iter().map(|cut_out| (cut_out, Vec::new())).collect(),
        }
    }

    /// Takes the cloth for a strip from the first cut-out that has it; `None` when none has.
    pub fn take(&mut self, strip: &Piece) -> Option<CutOutStrip> {
        let pattern = self.pattern.filter(|_| strip.matched);
        for (cut_out, taken) in &mut self.left {
            let free = |place: &Rect| !taken.iter().any(|other| other.overlaps(place));
            let places = match &pattern {
                Some(lattice) => match self.way {
                    Way::Upright => congruent(lattice, &strip.gross, &cut_out.usable),
                    Way::Railroaded => {
                        let places = congruent(lattice, &turned(&strip.gross), &turned(&cut_out.usable));
                        places.iter().map(turned_back).collect()
                    }
                },
                None => anywhere(&strip.gross, &cut_out.usable, taken),
            };
            if let Some(place) = places.into_iter().find(free) {
                taken.push(place);
                return Some(CutOutStrip {
                    kind: strip.kind,
                    label: strip.label.clone(),
                    net: strip.net,
                    matched: strip.matched,
                    cut_out: *cut_out,
                    gross: strip.gross,
                    place,
                });
            }
        }
        None
    }
}

/// A rectangle of railroaded cloth as it lies with the bolt's first cut above: x across the cloth.
fn turned(rect: &Rect) -> Rect {
    Rect { x0: rect.y0, y0: -rect.x1, x1: rect.y1, y1: -rect.x0 }
}

/// The same rectangle on the wall again.
fn turned_back(rect: &Rect) -> Rect {
    Rect { x0: -rect.y1, y0: rect.x0, x1: -rect.y0, y1: rect.x1 }
}

/// The places within `usable` where the pattern is that of `gross`, from the left and from above, on
/// cloth that hangs upright.
fn congruent(lattice: &Lattice, gross: &Rect, usable: &Rect) -> Vec<Rect> {
    let columns = (
        (usable.x0 - gross.x0).div_ceil(lattice.horizontal),
        (usable.x1 - gross.x1).div_floor(lattice.horizontal),
    );
    let mut places = Vec::new();
    for column in columns.0..=columns.1 {
        let (across, fall) = (lattice.horizontal * column, lattice.drop * column);
        let repeats = (
            (usable.y0 - gross.y0 + fall).div_ceil(lattice.vertical),
            (usable.y1 - gross.y1 + fall).div_floor(lattice.vertical),
        );
        for repeat in (repeats.0..=repeats.1).rev() {
            if places.len() >= MOST_TRIED {
                return places;
            }
            places.push(moved(gross, across, lattice.vertical * repeat - fall));
        }
    }
    places
}

/// The places within `usable` beside or under what has been taken, from the left and from above.
fn anywhere(gross: &Rect, usable: &Rect, taken: &[Rect]) -> Vec<Rect> {
    let mut lefts: Vec<Length> = taken.iter().map(|r| r.x1).chain([usable.x0]).collect();
    let mut tops: Vec<Length> = taken.iter().map(|r| r.y0).chain([usable.y1]).collect();
    lefts.sort();
    tops.sort_by_key(|top| std::cmp::Reverse(*top));
    let at = |left: Length, top: Length| moved(gross, left - gross.x0, top - gross.y1);
    let all = lefts.iter().flat_map(|left| tops.iter().map(move |top| at(*left, *top)));
    all.filter(|place| usable.contains(place)).take(MOST_TRIED).collect()
}

fn moved(rect: &Rect, across: Length, up: Length) -> Rect {
    Rect { x0: rect.x0 + across, y0: rect.y0 + up, x1: rect.x1 + across, y1: rect.y1 + up }
}
