//! Batting pieces on the walls of a room.
//!
//! Walls that meet at outside corners make one chain: pieces follow one another along it from the
//! left, so that one that reaches a corner is carried round it and the next butts to its edge.
//! Pieces hang upright, edge to edge. Joints keep clear of seams and of outside corners.

use super::field::{Field, letter};
use super::model::{BattingPiece, RoomPlan};
use super::words::print;
use crate::geom::Rect;
use crate::job::model::{CornerKind, Job, Room, Substrate, Wall};
use crate::units::Length;

/// Lays the batting of a room whose panels are planned: fills `batting` of every clothed wall.
pub fn lay(job: &Job, room: usize, plan: &mut RoomPlan) {
    let walls = &job.rooms[room];
    for chain in chains(walls) {
        let joints = chain.joints(job, walls, plan);
        let mut letters = vec![0; walls.walls.len()];
        for pair in joints.windows(2) {
            for (wall, mut piece) in chain.pieces(job, walls, pair[0], pair[1]) {
                piece.label = format!("{}{}", walls.walls[wall].label, letter(letters[wall]));
                letters[wall] += 1;
                plan.walls[wall].batting.push(piece);
            }
        }
    }
}

/// Joints of batting that could not be kept clear of a seam, one sentence for each.
pub fn watch(job: &Job, room: usize, plan: &RoomPlan) -> Vec<String> {
    let mut said = Vec::new();
    for (wall, planned) in plan.walls.iter().enumerate() {
        let joints = planned.batting.iter().filter(|b| b.rect.x0 > job.batting.gap);
        let mut joints: Vec<(Length, &str)> = joints.map(|b| (b.rect.x0, b.label.as_str())).collect();
        joints.dedup_by_key(|j| j.0);
        for seam in planned.panel.iter().flat_map(|p| &p.seams) {
            for (x, label) in &joints {
                let apart = (*x - seam.x).abs();
                if apart < job.house.joint_clearance {
                    said.push(format!(
                        "Wall {}: the batting joint at the left of {label} is only {} from seam {}: no place \
                         within the roll's width is farther from every seam.",
                        job.rooms[room].walls[wall].label,
                        print(job, apart),
                        seam.label
                    ));
                }
            }
        }
    }
    said
}

/// Clothed walls that meet at outside corners, left to right.
struct Chain {
    walls: Vec<usize>,
    /// Where each wall starts along the chain.
    starts: Vec<Length>,
    length: Length,
    /// Every corner is an outside corner of a closed room, as round a pier: there is no end.
    endless: bool,
}

/// Whether batting and cloth go round the corner at the right of wall `wall`.
fn goes_round(room: &Room, wall: usize) -> bool {
    let last = wall + 1 == room.walls.len();
    let corner = &room.corners[room.right_corner(wall)];
    let next = (wall + 1) % room.walls.len();
    corner.kind == CornerKind::Outside
        && (room.closed || !last)
        && room.walls[wall].clothed
        && room.walls[next].clothed
}

fn chains(room: &Room) -> Vec<Chain> {
    let n = room.walls.len();
    let left_of = |wall: usize| (wall + n - 1) % n;
    let begins = |wall: usize| room.walls[wall].clothed && !goes_round(room, left_of(wall));
    let mut firsts: Vec<usize> = (0..n).filter(|w| begins(*w)).collect();
    let endless = firsts.is_empty();
    if endless {
        firsts.extend((0..n).find(|w| room.walls[*w].clothed));
    }
    let mut chains = Vec::new();
    for first in firsts {
        let (mut walls, mut wall) = (vec![first], first);
        while walls.len() < n && goes_round(room, wall) {
            wall = (wall + 1) % n;
            walls.push(wall);
        }
        let mut at = Length::ZERO;
        let mut starts = Vec::new();
        for wall in &walls {
            starts.push(at);
            at += room.walls[*wall].width;
        }
        chains.push(Chain { walls, starts, length: at, endless });
    }
    chains
}

impl Chain {
    /// Where pieces begin and end along the chain; at least two places.
    fn joints(&self, job: &Job, room: &Room, plan: &RoomPlan) -> Vec<Length> {
        let roll = job.batting.roll_width;
        let kept_clear = self.kept_clear(job, plan);
        let allowed = |mut at: Length| {
            while let Some(zone) = kept_clear.iter().find(|z| z.0 < at && at < z.1) {
                at = zone.0;
            }
            at
        };
        let (mut at, end) = self.ends(job, room);
        if self.endless {
            at = kept_clear.iter().filter(|z| z.0 < at && at < z.1).map(|z| z.1).max().unwrap_or(at);
        }
        let end = if self.endless { at + self.length } else { end };
        let mut joints = vec![at];
        while end - at > roll {
            // Where seams or corners stand too close to leave a place, the whole width is used.
            let mut next = at + roll;
            let shifted = allowed(next);
            if shifted > at + job.house.smallest_batting.min(roll / 2) {
                next = shifted;
            }
            let shorter = allowed(end - job.house.smallest_batting);
            if end - next < job.house.smallest_batting && at < shorter && shorter < next {
                next = shorter;
            }
            joints.push(next);
            at = next;
        }
        joints.push(end);
        joints
    }

    /// The ends of the chain: a free end is kept clear like a moulding, an inside corner is not.
    fn ends(&self, job: &Job, room: &Room) -> (Length, Length) {
        let gap = |corner: usize| match room.corners[corner].kind {
            CornerKind::Inside => Length::ZERO,
            CornerKind::FreeEnd | CornerKind::Outside => job.batting.gap,
        };
        let last = self.walls[self.walls.len() - 1];
        if self.endless {
            return (Length::ZERO, self.length);
        }
        (gap(self.walls[0]), self.length - gap(room.right_corner(last)))
    }

    /// Where no joint may stand: beside the seams of the cloth, and near an outside corner.
    fn kept_clear(&self, job: &Job, plan: &RoomPlan) -> Vec<(Length, Length)> {
        let mut zones = Vec::new();
        let mut zone = |at: Length, by: Length| {
            for at in [at, at + self.length] {
                zones.push((at - by, at + by));
                if !self.endless {
                    break;
                }
            }
        };
        for (wall, start) in self.walls.iter().zip(&self.starts) {
            if *start > Length::ZERO || self.endless {
                zone(*start, job.batting.carry);
            }
            for seam in plan.walls[*wall].panel.iter().flat_map(|p| &p.seams) {
                zone(*start + seam.x, job.house.joint_clearance);
            }
        }
        zones
    }

    /// The walls that the chain passes between `from` and `to`, with the part of each in its own
    /// coordinates.
    fn passes(&self, room: &Room, from: Length, to: Length) -> Vec<(usize, Length, Length)> {
        let mut passed = Vec::new();
        for lap in [Length::ZERO, self.length] {
            for (wall, start) in self.walls.iter().zip(&self.starts) {
                let (a, b) = (from - *start - lap, to - *start - lap);
                let (a, b) = (a.max(Length::ZERO), b.min(room.walls[*wall].width));
                if a < b {
                    passed.push((*wall, a, b));
                }
            }
            if !self.endless {
                break;
            }
        }
        passed
    }

    /// The piece from `from` to `to`, or what is left of it over and under an opening that takes
    /// its whole width; each with its wall, not yet labelled.
    fn pieces(&self, job: &Job, room: &Room, from: Length, to: Length) -> Vec<(usize, BattingPiece)> {
        let passed = self.passes(room, from, to);
        let Some((first, x0, _)) = passed.first().copied() else { return Vec::new() };
        let gap = job.batting.gap;
        let (mut top, mut bottom) = (None::<Length>, None::<Length>);
        let mut holes = Vec::new();
        let mut along = Length::ZERO;
        for (wall, a, b) in &passed {
            let field = Field::of(&room.walls[*wall]).inset(gap);
            let (high, low) = (field.top.max_between(*a, *b), field.bottom.min_between(*a, *b));
            top = Some(top.map_or(high, |t| t.max(high)));
            bottom = Some(bottom.map_or(low, |t| t.min(low)));
            let shift = x0 + along - *a;
            holes.extend(cut_outs(&room.walls[*wall], &field).map(|h| moved(h, shift)));
            along += *b - *a;
        }
        let (Some(top), Some(bottom)) = (top, bottom) else { return Vec::new() };
        let x1 = x0 + along;
        let mut left = vec![(bottom, top)];
        for hole in holes.iter().filter(|h| h.x0 <= x0 && x1 <= h.x1) {
            left = left
                .into_iter()
                .flat_map(|(y0, y1)| [(y0, y1.min(hole.y0)), (y0.max(hole.y1), y1)])
                .collect();
            left.retain(|(y0, y1)| y0 < y1);
        }
        let roll = job.batting.roll_length;
        let mut pieces = Vec::new();
        for (y0, y1) in left {
            // A wall higher than the roll is long takes pieces one over another.
            let parts = (y1 - y0).div_ceil(roll).max(1);
            for part in 0..parts {
                let (a, b) = (y0 + (y1 - y0).scale(part, parts), y0 + (y1 - y0).scale(part + 1, parts));
                let rect = Rect::new(x0, a, x1, b);
                let cut_outs = holes.iter().filter_map(|h| common(h, &rect)).collect();
                let piece = BattingPiece { label: String::new(), rect, cut_length: b - a, cut_outs };
                pieces.push((first, piece));
            }
        }
        pieces
    }
}

/// What is cut out of the batting of a wall: openings with the gap, then boxes.
fn cut_outs(wall: &Wall, inset: &Field) -> impl Iterator<Item = Rect> {
    inset.holes.clone().into_iter().chain(wall.fixings.iter().map(|f| f.rect))
}

fn moved(rect: Rect, by: Length) -> Rect {
    Rect { x0: rect.x0 + by, x1: rect.x1 + by, ..rect }
}

fn common(a: &Rect, b: &Rect) -> Option<Rect> {
    a.overlaps(b).then(|| Rect {
        x0: a.x0.max(b.x0),
        y0: a.y0.max(b.y0),
        x1: a.x1.min(b.x1),
        y1: a.y1.min(b.y1),
    })
}

/// How far batting, and battens where the wall needs them, bring the surface out from the wall.
pub(crate) fn forward(job: &Job, wall: &Wall) -> Length {
    match wall.substrate {
        Substrate::Masonry => job.batting.loft + job.house.batten_thickness,
        Substrate::Drywall | Substrate::Plaster | Substrate::Panelling => job.batting.loft,
    }
}

/// How many rolls the pieces take, and how many pieces come out of offcuts.
///
/// Each roll is cut across into lengths; a piece narrower than what is left beside another of at
/// least its length is cut from that (first fit, longest pieces first). Never fewer than needed.
pub(crate) fn rolls(job: &Job, pieces: &[&BattingPiece]) -> (i64, usize) {
    /// A length cut across the roll, and what is left of its width.
    struct Cross {
        length: Length,
        width_left: Length,
    }
    let mut sorted: Vec<(Length, Length)> = pieces.iter().map(|p| (p.cut_length, p.rect.width())).collect();
    sorted.sort_by(|a, b| b.cmp(a));
    let (mut cuts, mut left, mut beside): (Vec<Cross>, Vec<Length>, usize) = (Vec::new(), Vec::new(), 0);
    for (length, width) in sorted {
        if let Some(cut) = cuts.iter_mut().find(|c| c.length >= length && c.width_left >= width) {
            cut.width_left -= width;
            beside += 1;
            continue;
        }
        match left.iter_mut().find(|rest| **rest >= length) {
            Some(rest) => *rest -= length,
            None => left.push(job.batting.roll_length - length),
        }
        cuts.push(Cross { length, width_left: job.batting.roll_width - width });
    }
    (left.len() as i64, beside)
}
