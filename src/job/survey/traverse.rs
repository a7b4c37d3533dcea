//! A room walked round as surveyed: wall by wall, turning at each corner.
//!
//! The angles of a closed room are balanced first, evenly over its corners, as in a land traverse. The
//! sines and cosines only place a drawing and judge the survey; no cut is made from them.

use crate::job::model::Room;
use crate::units::{Angle, Length};

/// A walk round a room: x right, y up, in nanometres; the first corner at the origin, the first wall
/// running to the right, the next ones clockwise.
#[derive(Clone, Debug)]
pub struct Traverse {
    /// One point more than walls: where each wall starts, and where the last one ends.
    pub points: Vec<(f64, f64)>,
    /// How far the turns at the corners, together, exceed a full turn; zero for an open run.
    pub angle_miss: Angle,
}

impl Traverse {
    /// From the start to the end of the walk: what a closed room fails to close by.
    pub fn miss(&self) -> (f64, f64) {
        self.points.last().copied().unwrap_or_default()
    }
}

/// Walks round a room.
pub fn walk(room: &Room) -> Traverse {
    let corners = room.corners.len();
    let full_turn = Angle::degrees(360).udeg();
    let half_turn = Angle::degrees(180).udeg();
    let turn = |corner: usize| half_turn - room.corners[corner].angle.udeg();
    let angle_miss = if room.closed { (0..corners).map(turn).sum::<i64>() - full_turn } else { 0 };
    // Balance: each corner gives back its share of the angles' error, exactly in whole microdegrees.
    let share = |corner: usize| {
        let (n, miss) = (corners as i64, angle_miss);
        let (i, before) = (corner as i64 + 1, corner as i64);
        miss * i / n - miss * before / n
    };
    let mut heading = 0;
    let mut at = (0.0, 0.0);
    let mut points = vec![at];
    for (i, wall) in room.walls.iter().enumerate() {
        if i > 0 {
            heading += turn(i) - if room.closed { share(i) } else { 0 };
        }
        let radians = (heading as f64 / 1e6).to_radians();
        let width = wall.width.nm() as f64;
        at = (at.0 + width * radians.cos(), at.1 - width * radians.sin());
        points.push(at);
    }
    Traverse { points, angle_miss: Angle::microdegrees(angle_miss) }
}

/// A length that was reckoned in real numbers.
pub fn rounded(nm: f64) -> Length {
    Length::nanometres(nm.round() as i64)
}
