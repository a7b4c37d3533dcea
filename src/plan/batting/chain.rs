//! Walls that batting goes round, as one line.

use crate::geom::{Hole, Point};
use crate::job::model::{CornerKind, Fixing, Job, Room};
use crate::plan::field::{Field, Run};
use crate::plan::model::{BattingJoint, RoomPlan};
use crate::plan::staples::hand;
use crate::units::Length;

/// Clothed walls that meet at outside corners, left to right.
pub(super) struct Chain {
    pub walls: Vec<usize>,
    /// Where each wall starts along the chain.
    pub starts: Vec<Length>,
    pub length: Length,
}

/// A part of a wall that a stretch of a chain passes.
pub(super) struct Passed {
    pub wall: usize,
    /// Its left and right end, in wall coordinates.
    pub part: (Length, Length),
    /// What is added to a place on this wall to give it in the coordinates of the first wall passed.
    pub shift: Length,
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

impl Chain {
    /// The chains of a room. Each begins somewhere: a closed room turns once, so that not all its
    /// corners are outside corners.
    pub fn all(room: &Room) -> Vec<Chain> {
        let n = room.walls.len();
        let begins = |wall: usize| room.walls[wall].clothed && !goes_round(room, (wall + n - 1) % n);
        let mut chains = Vec::new();
        for first in (0..n).filter(|wall| begins(*wall)) {
            let (mut walls, mut wall) = (vec![first], first);
            while walls.len() < n && goes_round(room, wall) {
                wall = (wall + 1) % n;
                walls.push(wall);
            }
            let mut length = Length::ZERO;
            let mut starts = Vec::new();
            for wall in &walls {
                starts.push(length);
                length += room.walls[*wall].width;
            }
            chains.push(Chain { walls, starts, length });
        }
        chains
    }

    /// The ends of the batting: a free end is kept clear like a moulding, an inside corner is not.
    pub fn ends(&self, job: &Job, room: &Room) -> (Length, Length) {
        let gap = |corner: usize| match room.corners[corner].kind {
            CornerKind::Inside => Length::ZERO,
            CornerKind::FreeEnd | CornerKind::Outside => job.batting.gap,
        };
        let last = self.walls[self.walls.len() - 1];
        (gap(self.walls[0]), self.length - gap(room.right_corner(last)))
    }

    /// The rightmost place for an upright joint, not right of `at` and right of `least`, that is clear of
    /// the seams of the cloth, of outside corners and, where it can be, of boxes and of known pipes and cables, and
    /// leaves no sliver beside a casing; `None` where no place is.
    pub fn clear(
        &self,
        job: &Job,
        room: &Room,
        plan: &RoomPlan,
        at: Length,
        least: Length,
    ) -> Option<Length> {
        let mut zones = self.seams_and_corners(job, plan);
        let few = zones.len();
        zones.extend(self.obstacles(job, room));
        let more = zones.len();
        zones.extend(self.slivers(job, room));
        let tries = [zones.as_slice(), &zones[..more], &zones[..few]];
        tries.into_iter().map(|z| left_of(z, at)).find(|place| *place > least)
    }

    /// What the cloth demands of upright joints.
    fn seams_and_corners(&self, job: &Job, plan: &RoomPlan) -> Vec<(Length, Length)> {
        let corners = self.starts.iter().skip(1).map(|start| (*start, job.batting.carry));
        let seams = self.walls.iter().zip(&self.starts).flat_map(|(wall, start)| {
            let seams = plan.walls[*wall].panel.iter().flat_map(|p| &p.seams);
            seams.map(move |seam| (*start + seam.x, job.house.joint_clearance))
        });
        corners.chain(seams).map(|(x, by)| (x - by, x + by)).collect()
    }

    /// Where a row of staples would pass too near a box or a known pipe or cable.
    fn obstacles(&self, job: &Job, room: &Room) -> Vec<(Length, Length)> {
        let walls = || self.walls.iter().zip(&self.starts).map(|(wall, start)| (&room.walls[*wall], *start));
        let boxes = walls().flat_map(|(wall, start)| {
            let fixings = wall.fixings_in_field();
            let by = |f: &Fixing| if f.kind.electrical() { hand(job) } else { Length::ZERO };
            let clear = move |f: &Fixing| job.house.joint_clearance.max(by(f));
            fixings.map(move |f| (start + f.rect.x0, start + f.rect.x1, clear(f)))
        });
        let hand = hand(job);
        let upright = walls().flat_map(|(wall, start)| {
            let runs = wall.services.iter().filter(|s| s.from.x == s.to.x);
            runs.map(move |s| (start + s.from.x, start + s.from.x, hand))
        });
        boxes.chain(upright).map(|(a, b, by)| (a - by, b + by)).collect()
    }

    /// Where a joint would leave a sliver beside a casing. On the edge of the batting there, and as far off as the
    /// smallest piece is wide, it leaves none. Common practice, no source.
    fn slivers(&self, job: &Job, room: &Room) -> Vec<(Length, Length)> {
        let walls = self.walls.iter().zip(&self.starts);
        let beside = walls.flat_map(|(wall, start)| {
            let holes = Field::of(&room.walls[*wall]).inset(job.batting.gap).holes;
            let least = job.house.smallest_batting;
            holes.into_iter().flat_map(move |hole| {
                let (x0, x1) = (*start + hole.rect.x0, *start + hole.rect.x1);
                [(x0 - least, x0), (x1, x1 + least)]
            })
        });
        beside.collect()
    }

    /// The parts of walls between two places along the chain.
    pub fn passed(&self, room: &Room, from: Length, to: Length) -> Vec<Passed> {
        let mut passed: Vec<Passed> = Vec::new();
        let mut origin = Length::ZERO;
        for (wall, start) in self.walls.iter().zip(&self.starts) {
            let a = (from - *start).max(Length::ZERO);
            let b = (to - *start).min(room.walls[*wall].width);
            if a < b {
                if passed.is_empty() {
                    origin = *start;
                }
                passed.push(Passed { wall: *wall, part: (a, b), shift: *start - origin });
            }
        }
        passed
    }

    /// Where the batting of the chain has holes between two places, in the coordinates of the first
    /// wall passed: openings with the gap round them, then boxes.
    pub fn cut_outs(&self, job: &Job, room: &Room, passed: &[Passed]) -> Vec<Hole> {
        let of_wall = |at: &Passed| {
            let wall = &room.walls[at.wall];
            let openings = Field::of(wall).inset(job.batting.gap).holes;
            let boxes = wall.fixings.iter().map(|f| Hole::from(f.rect));
            let moved = |h: Hole| h.moved(at.shift);
            openings.into_iter().chain(boxes).map(moved).collect::<Vec<_>>()
        };
        passed.iter().flat_map(of_wall).collect()
    }

    /// The wall on which a place of the chain lies, and where; a corner belongs to the wall at its right.
    pub fn on_wall(&self, at: Length) -> Option<(usize, Length)> {
        let index = self.starts.iter().rposition(|start| *start <= at)?;
        Some((self.walls[index], at - self.starts[index]))
    }
}

/// The rightmost place not right of `at` that lies in no zone.
fn left_of(zones: &[(Length, Length)], mut at: Length) -> Length {
    while let Some(zone) = zones.iter().find(|z| z.0 < at && at < z.1) {
        at = zone.0;
    }
    at
}

/// The joints along some runs of one wall.
pub(super) fn joints(wall: usize, runs: Vec<Run>) -> impl Iterator<Item = (usize, BattingJoint)> {
    let ends = |run: Run| -> Option<(Point, Point)> { Some((*run.path.first()?, *run.path.last()?)) };
    runs.into_iter().filter_map(ends).map(move |(from, to)| (wall, BattingJoint { from, to }))
}
