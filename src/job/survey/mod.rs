//! The survey checked by itself, before cloth is cut: measures that ought to agree.
//!
//! A check compares what was taped, tells the figures, and names what to measure again where they
//! differ by more than [`SurveyLimits`] allow.

mod closing;
pub(super) mod limits;
mod tell;
pub mod traverse;

pub(super) use tell::tell;

use super::model::{Amiss, BothEnds, CheckKind, CornerKind, Job, Room, SurveyCheck, SurveyLimits, Wall};
use super::square::LEANS;
use crate::units::{Length, LengthFormat};

/// A middle height further out of line than this is no slip of the tape but a gable.
const GABLE: Length = Length::inches(18);

/// Every check of a job's survey: room by room, then wall by wall between rooms.
pub fn checks(job: &Job) -> Vec<SurveyCheck> {
    let format = job.print.format;
    let rooms = job.rooms.iter().enumerate();
    let mut all: Vec<SurveyCheck> =
        rooms.flat_map(|(index, room)| of_room(room, index, &job.house.survey, format)).collect();
    all.extend(between_rooms(&job.rooms, &job.house.survey, format));
    all
}

/// The checks of one room, of its index in the job.
pub(super) fn of_room(
    room: &Room,
    index: usize,
    limits: &SurveyLimits,
    format: LengthFormat,
) -> Vec<SurveyCheck> {
    let check = RoomCheck { room, index, limits, format, exact: format.exact() };
    let mut found = Vec::new();
    if room.closed {
        found.extend(check.turning());
        found.push(check.closing());
    }
    for wall in 0..room.walls.len() {
        found.extend(check.widths(wall));
        found.extend(check.square(wall));
        found.extend(check.heights(wall));
        let both_ends = room.walls[wall].cross_checks.both_ends.iter();
        found.extend(both_ends.map(|measures| check.both_ends(wall, measures)));
    }
    for corner in 0..room.corners.len() {
        found.extend(check.corner(corner));
        found.extend(check.floor(corner));
    }
    found
}

/// The checks of walls that are two sides of one.
pub(super) fn between_rooms(rooms: &[Room], limits: &SurveyLimits, format: LengthFormat) -> Vec<SurveyCheck> {
    let mut found = Vec::new();
    for (index, room) in rooms.iter().enumerate() {
        for (wall, this) in room.walls.iter().enumerate() {
            let Some((other_room, other_wall)) = this.cross_checks.back_of else { continue };
            let Some(other) = rooms.get(other_room).and_then(|room| room.walls.get(other_wall)) else {
                continue;
            };
            let told_twice = other.cross_checks.back_of == Some((index, wall));
            if told_twice && (other_room, other_wall) < (index, wall) {
                continue;
            }
            let print = |length| format.exact().print(length);
            let beyond = &rooms[other_room].name;
            found.push(SurveyCheck {
                kind: CheckKind::Back,
                room: index,
                walls: vec![wall],
                corner: None,
                text: format!(
                    "wall {} is {} wide, and its other side, wall {} of {beyond}, {}",
                    this.label,
                    print(this.width),
                    other.label,
                    print(other.width)
                ),
                out_by: Amiss::Length((this.width - other.width).abs()),
                limit: Amiss::Length(limits.back),
                again: format!("measure wall {} here and wall {} of {beyond} again", this.label, other.label),
            });
        }
    }
    found
}

/// One room being checked.
struct RoomCheck<'r> {
    room: &'r Room,
    index: usize,
    limits: &'r SurveyLimits,
    format: LengthFormat,
    /// Measures are told as they were taken.
    exact: LengthFormat,
}

impl RoomCheck<'_> {
    fn check(
        &self,
        kind: CheckKind,
        out_by: Amiss,
        limit: Amiss,
        text: String,
        again: String,
    ) -> SurveyCheck {
        SurveyCheck { kind, room: self.index, walls: Vec::new(), corner: None, text, out_by, limit, again }
    }

    /// Widths at top, middle and bottom; nothing to compare where all are one figure.
    fn widths(&self, index: usize) -> Option<SurveyCheck> {
        let Wall { label, width, width_top: top, width_bottom: bottom, .. } = &self.room.walls[index];
        let (most, least) = ((*width).max(*top).max(*bottom), (*width).min(*top).min(*bottom));
        let print = |length: &Length| self.exact.print(*length);
        let text = format!(
            "wall {label} is {} wide at the top, {} at mid height and {} at the bottom",
            print(top),
            print(width),
            print(bottom)
        );
        let again = format!("measure top, middle and bottom of wall {label} again");
        let (out, limit) = (Amiss::Length(most - least), Amiss::Length(self.limits.widths));
        let check = self.check(CheckKind::Widths, out, limit, text, again);
        (most > least).then(|| SurveyCheck { walls: vec![index], ..check })
    }

    /// How far an end leans by the diagonals, where they were taken and tell any.
    fn square(&self, index: usize) -> Option<SurveyCheck> {
        let wall = &self.room.walls[index];
        let leans = wall.lean * 2;
        let text = format!(
            "by its diagonals an end of wall {} leans {} from bottom to top",
            wall.label,
            self.format.print(leans)
        );
        let again =
            format!("measure the diagonals of wall {} again, and hold a plumb line to both ends", wall.label);
        let check = self.check(CheckKind::Square, Amiss::Length(leans), Amiss::Length(LEANS), text, again);
        (leans > Length::ZERO).then(|| SurveyCheck { walls: vec![index], ..check })
    }

    /// A ceiling's middle against the line of its ends: a slope or a gable departs by more than a slip.
    fn heights(&self, index: usize) -> Option<SurveyCheck> {
        let wall = &self.room.walls[index];
        let [left, middle, right] = wall.ceiling.points() else { return None };
        let departs = (middle.y - (left.y + right.y) / 2).abs();
        if middle.x != wall.width / 2 || departs >= GABLE {
            return None;
        }
        let height = |at: &crate::geom::Point| self.exact.print(at.y - wall.floor.at(at.x));
        let label = &wall.label;
        let text = format!(
            "wall {label} is {} high at the left, {} in the middle and {} at the right",
            height(left),
            height(middle),
            height(right)
        );
        let again = format!("measure left, middle and right of wall {label} again");
        let (out, limit) = (Amiss::Length(departs), Amiss::Length(self.limits.heights));
        let check = self.check(CheckKind::Heights, out, limit, text, again);
        Some(SurveyCheck { walls: vec![index], ..check })
    }

    /// What was taped from both ends, against the width of the wall.
    fn both_ends(&self, index: usize, measures: &BothEnds) -> SurveyCheck {
        let wall = &self.room.walls[index];
        let BothEnds { label, from_left, width, from_right } = measures;
        let sum = *from_left + *width + *from_right;
        let print = |length| self.exact.print(length);
        let own = if *width > Length::ZERO { format!(" + {}", print(*width)) } else { String::new() };
        let text = format!(
            "{label}: {}{own} + {} = {}, and wall {} is {} wide",
            print(*from_left),
            print(*from_right),
            print(sum),
            wall.label,
            print(wall.width)
        );
        let again = format!("measure {label} from both ends again, then wall {}", wall.label);
        let out = Amiss::Length((sum - wall.width).abs());
        let check = self.check(CheckKind::BothEnds, out, Amiss::Length(self.limits.both_ends), text, again);
        SurveyCheck { walls: vec![index], ..check }
    }

    /// The two walls that meet at a corner, left and right of it, unless one of them ends there.
    fn meeting(&self, index: usize) -> Option<(usize, usize)> {
        let Room { closed, walls, corners, .. } = self.room;
        let count = walls.len();
        let inner = *closed || (0 < index && index < count);
        (inner && corners[index].kind != CornerKind::FreeEnd)
            .then(|| ((index + count - 1) % count, index % count))
    }

    /// The heights of two walls at the corner where they meet.
    fn corner(&self, index: usize) -> Option<SurveyCheck> {
        let (l, r) = self.meeting(index)?;
        let (left, right) = (&self.room.walls[l], &self.room.walls[r]);
        let corner = &self.room.corners[index].name;
        let height = |wall: &Wall, x: Length| wall.ceiling.at(x) - wall.floor.at(x);
        let (one, other) = (height(left, left.width), height(right, Length::ZERO));
        let text = format!(
            "corner {corner} is {} high on wall {} and {} on wall {}",
            self.exact.print(one),
            left.label,
            self.exact.print(other),
            right.label
        );
        let again = format!("one corner has one height: measure corner {corner} again");
        let (out, limit) = (Amiss::Length((one - other).abs()), Amiss::Length(self.limits.corner));
        let check = self.check(CheckKind::Corner, out, limit, text, again);
        Some(SurveyCheck { walls: vec![l, r], corner: Some(index), ..check })
    }

    /// The floors of two walls at the corner where they meet; nothing to compare where both lie on the datum.
    fn floor(&self, index: usize) -> Option<SurveyCheck> {
        let (l, r) = self.meeting(index)?;
        let (left, right) = (&self.room.walls[l], &self.room.walls[r]);
        let corner = &self.room.corners[index].name;
        let (one, other) = (left.floor.at(left.width), right.floor.at(Length::ZERO));
        if one == Length::ZERO && other == Length::ZERO {
            return None;
        }
        let text = format!(
            "the floor at corner {corner} is {} above the datum on wall {} and {} on wall {}",
            self.exact.print(one),
            left.label,
            self.exact.print(other),
            right.label
        );
        let again = format!(
            "all floors of a room are taken from one datum: measure the floor at corner {corner} again, on both walls"
        );
        let (out, limit) = (Amiss::Length((one - other).abs()), Amiss::Length(self.limits.corner));
        let check = self.check(CheckKind::Floor, out, limit, text, again);
        Some(SurveyCheck { walls: vec![l, r], corner: Some(index), ..check })
    }
}
