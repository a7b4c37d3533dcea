//! Whether a closed room comes back to where it starts, and which wall is the likeliest to be wrong.
//!
//! A single wall taped too long or too short shifts the end of the walk along that wall, by as much.
//! So the wall whose direction the error is most nearly parallel to is the suspect, with every wall
//! that runs in that direction too.

use super::RoomCheck;
use super::traverse::{self, rounded};
use crate::job::model::{Amiss, CheckKind, SurveyCheck};
use crate::units::{Angle, Length};

/// An error further than this from the direction of every wall is no single wall's.
const MOST_ASIDE: f64 = 20.0;
/// Walls whose directions differ by less than this are equally suspect.
const ALIKE: f64 = 5.0;

impl RoomCheck<'_> {
    /// The turns at the corners against a full turn; nothing to tell where every corner is square.
    pub(super) fn turning(&self) -> Option<SurveyCheck> {
        let corners = &self.room.corners;
        let square = |angle: Angle| angle.udeg().rem_euclid(Angle::degrees(90).udeg()) == 0;
        if corners.iter().all(|corner| square(corner.angle)) {
            return None;
        }
        let sum: i64 = corners.iter().map(|corner| corner.angle.udeg()).sum();
        let need = Angle::degrees(180 * (corners.len() as i64 - 2));
        let text = format!(
            "the angles of the corners add up to {}, and {} corners make {}",
            Angle::microdegrees(sum).words(),
            corners.len(),
            need.words()
        );
        let named = corners.iter().filter(|corner| !square(corner.angle));
        let named: Vec<&str> = named.map(|corner| corner.name.as_str()).collect();
        let again = format!(
            "measure the angle of corner {} again, and of those taken to be square",
            named.join(", ")
        );
        let out = Amiss::Angle(Angle::microdegrees(sum - need.udeg()).abs());
        Some(self.check(CheckKind::Turning, out, Amiss::Angle(self.limits.angles), text, again))
    }

    /// The end of the walk round the room against its start.
    pub(super) fn closing(&self) -> SurveyCheck {
        let walk = traverse::walk(self.room);
        let (x, y) = walk.miss();
        let gap = rounded(x.hypot(y));
        let perimeter: Length = self.room.walls.iter().map(|wall| wall.width).sum();
        let limit = self.limits.closing.max(perimeter / i64::from(self.limits.closing_part));
        let (walls, likely) = self.suspects(&walk.points, (x, y));
        let text = format!("the walls as measured end {} from where they start", self.format.print(gap));
        let again = match likely {
            _ if self.turning().is_some_and(|turning| turning.fails()) => {
                "settle the angles of the corners first, then see whether the widths close".to_owned()
            }
            Some(likely) => format!(
                "{likely}: measure there again; if the widths are right, give the angle= of corners that are not square"
            ),
            None => "no single width explains it: measure every wall again, and give the angle= of corners that are not square"
                .to_owned(),
        };
        let check = self.check(CheckKind::Closing, Amiss::Length(gap), Amiss::Length(limit), text, again);
        let walls = if check.fails() { walls } else { Vec::new() };
        SurveyCheck { walls, ..check }
    }

    /// The walls that a miss lies along, and what would be wrong with each.
    fn suspects(&self, points: &[(f64, f64)], miss: (f64, f64)) -> (Vec<usize>, Option<String>) {
        let size = miss.0.hypot(miss.1);
        if size < 1.0 {
            return (Vec::new(), None);
        }
        // For each wall, how far the miss lies aside of its direction, in degrees, and whether it points
        // the way the wall was walked: then the wall was taped too long.
        let legs = points.windows(2).map(|ends| {
            let (dx, dy) = (ends[1].0 - ends[0].0, ends[1].1 - ends[0].1);
            let along = (dx * miss.0 + dy * miss.1) / (dx.hypot(dy).max(1.0) * size);
            (along.abs().clamp(0.0, 1.0).acos().to_degrees(), along > 0.0)
        });
        let legs: Vec<(f64, bool)> = legs.collect();
        let least = legs.iter().map(|(aside, _)| *aside).fold(f64::INFINITY, f64::min);
        if least > MOST_ASIDE {
            return (Vec::new(), None);
        }
        let suspect = |wall: &usize| legs[*wall].0 <= least + ALIKE;
        let walls: Vec<usize> = (0..legs.len()).filter(suspect).collect();
        let group = |too_long: bool, words: &str| {
            let these = walls.iter().filter(|&&wall| legs[wall].1 == too_long);
            let labels: Vec<&str> = these.map(|&wall| self.room.walls[wall].label.as_str()).collect();
            (!labels.is_empty()).then(|| format!("wall {} {words}", any_of(&labels)))
        };
        let told: Vec<String> =
            [group(true, "taken too long"), group(false, "taken too short")].into_iter().flatten().collect();
        (walls.clone(), Some(format!("most likely {}", told.join(", or "))))
    }
}

/// "a", "a or b", "a, b or c".
fn any_of(items: &[&str]) -> String {
    match items {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        _ => items.concat(),
    }
}
