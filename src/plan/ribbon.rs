//! The ribbon of a room, where the pattern starts on it, and how it fails to meet at its end.

use super::model::{Kill, Registration, Way};
use crate::job::model::{AcrossWish, CornerKind, Job, Lattice, Room};
use crate::units::Length;

/// The walls of a room unrolled left to right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ribbon {
    /// Wall indices, left to right.
    pub order: Vec<usize>,
    /// For each wall of the room, by its index, where its left end stands.
    pub at: Vec<Length>,
    /// The whole length.
    pub length: Length,
}

/// Unrolls a room: a closed one from its kill corner, an open one from its left end.
pub fn unroll(room: &Room) -> Ribbon {
    let count = room.walls.len();
    let first = if room.closed { room.kill_corner % count.max(1) } else { 0 };
    let order: Vec<usize> = (0..count).map(|i| (first + i) % count).collect();
    let mut at = vec![Length::ZERO; count];
    let mut length = Length::ZERO;
    for &wall in &order {
        at[wall] = length;
        length += room.walls[wall].width;
    }
    Ribbon { order, at, length }
}

/// The repeat along the walls: across the bolt when the cloth hangs upright, along it when railroaded.
pub fn along_walls(lattice: &Lattice, way: Way) -> Length {
    match way {
        Way::Upright => lattice.horizontal,
        Way::Railroaded => lattice.vertical,
    }
}

/// The repeat up the walls: along the bolt when the cloth hangs upright, across it when railroaded.
pub fn up_walls(lattice: &Lattice, way: Way) -> Length {
    match way {
        Way::Upright => lattice.vertical,
        Way::Railroaded => lattice.horizontal,
    }
}

/// Where the pattern of room `room` lies, by its wish, when its cloth hangs that way.
///
/// A motif stands half a repeat to the right of a line midway between two motifs. Upright, that line
/// is a match line, where a seam can stand; railroaded, there is no seam, and a wish for one or for a
/// start at a corner puts the line itself there.
pub fn register(job: &Job, room: &Room, ribbon: &Ribbon, way: Way) -> Registration {
    let cloth = &job.cloths[room.cloth];
    // Plain cloth has no motifs; half its match width keeps a strip on the middle of a wall.
    let half_across = cloth.pattern.map_or(cloth.match_width, |lattice| lattice.horizontal) / 2;
    let half = match (way, cloth.pattern) {
        (Way::Upright, _) => half_across,
        (Way::Railroaded, Some(lattice)) => lattice.vertical / 2,
        (Way::Railroaded, None) => Length::ZERO,
    };
    let middle = |wall: usize| ribbon.at[wall] + room.walls[wall].width / 2;
    let label = |wall: usize| &room.walls[wall].label;
    let (seam, line) = match way {
        Way::Upright => ("a seam", "a match line"),
        Way::Railroaded => ("the line midway between two motifs", "the line midway between two motifs"),
    };
    let (line_x, across) = match room.registration.across {
        AcrossWish::MotifCentred(wall) => {
            (middle(wall) - half, format!("a motif on the middle of wall {}", label(wall)))
        }
        AcrossWish::SeamCentred(wall) => {
            (middle(wall), format!("{seam} on the middle of wall {}", label(wall)))
        }
        AcrossWish::MotifOnOpening { wall, opening } => {
            let opening = &room.walls[wall].openings[opening];
            let middle = ribbon.at[wall] + (opening.outer.x0 + opening.outer.x1) / 2;
            (middle - half, format!("a motif on the middle of {}", opening.label))
        }
        AcrossWish::FromCorner(wall) => {
            (ribbon.at[wall], format!("{line} at the left corner of wall {}", label(wall)))
        }
        AcrossWish::LineOn { wall, from_left } => {
            let place = job.print.format.print(from_left);
            (ribbon.at[wall] + from_left, format!("{line} {place} from the left end of wall {}", label(wall)))
        }
        // Settled before the pattern is laid: see `registration`.
        AcrossWish::LeastCloth => (Length::ZERO, "a match line at the corner where it begins".to_owned()),
    };
    let tops =
        room.walls.iter().filter(|w| w.clothed).map(|w| w.field_top().max_between(Length::ZERO, w.width));
    let highest = tops.max().unwrap_or(Length::ZERO);
    let below = room.registration.below_crown;
    // A motif is taken to fill its repeat.
    let up = cloth.pattern.map_or(Length::ZERO, |lattice| up_walls(&lattice, way));
    let motif = if below * 2 >= up && below * 2 < up * 3 { "first whole motif" } else { "a motif" };
    let why = format!(
        "{across}; {motif} centred {} below the highest point of the cloth",
        job.print.format.print(below)
    );
    let (x0, y0) = (line_x + half, highest - below);
    let match_line = match way {
        Way::Upright => line_x,
        Way::Railroaded => y0 - half_across,
    };
    Registration { x0, y0, way, match_line, why }
}

/// How the pattern misses at the corner where a closed ribbon ends.
///
/// Upright, the pattern that arrives can be shifted up a drop at a time as it is shifted across.
/// Railroaded, a shift along the wall by whole repeats leaves its height alone.
pub fn kill(job: &Job, room: &Room, ribbon: &Ribbon, way: Way) -> Option<Kill> {
    let lattice = job.cloths[room.cloth].pattern?;
    let (&first, &last) = (ribbon.order.first()?, ribbon.order.last()?);
    if !room.closed || !room.walls[first].clothed || !room.walls[last].clothed {
        return None;
    }
    let along = along_walls(&lattice, way);
    let miss_across = centred(-ribbon.length, along);
    let repeats = (ribbon.length + miss_across).div_floor(along);
    let miss_up = match way {
        Way::Upright => {
            let fall = i128::from(repeats) * i128::from(lattice.drop.nm());
            let fall = fall.rem_euclid(i128::from(lattice.vertical.nm()));
            centred(-Length::nanometres(fall as i64), lattice.vertical)
        }
        Way::Railroaded => Length::ZERO,
    };
    if miss_across == Length::ZERO && miss_up == Length::ZERO {
        return None;
    }
    let corner = &room.corners[room.kill_corner];
    let kind = match corner.kind {
        CornerKind::Inside => "inside",
        CornerKind::Outside => "outside",
        CornerKind::FreeEnd => "open",
    };
    let (round, repeat) = (job.print.format.print(ribbon.length), job.print.format.print(along));
    let left_over = if miss_across == Length::ZERO {
        format!("{round} of wall is {repeats} repeats of {repeat}, whose drops do not come to a whole repeat")
    } else {
        format!("{round} of wall is not a whole number of {repeat} repeats")
    };
    let why =
        format!("the pattern is carried round the room from {kind} corner {}; {left_over}", corner.name);
    Some(Kill { corner: room.kill_corner, miss_across, miss_up, why })
}

/// `length` modulo `modulus`, from just over minus half of it to half of it.
fn centred(length: Length, modulus: Length) -> Length {
    let rest = length.rem_euclid(modulus);
    if rest * 2 > modulus { rest - modulus } else { rest }
}

/// The width that the match consumes between two panels, one ending `end` on the ribbon with its
/// allowance and the next beginning at `begin`: on to the next place congruent to its beginning.
pub fn consumed(repeat: Length, end: Length, begin: Length) -> Length {
    (begin - end).rem_euclid(repeat)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_miss_is_at_most_half_a_repeat() {
        let mm = Length::mm;
        assert_eq!(centred(mm(-100), mm(640)), mm(-100));
        assert_eq!(centred(mm(-320), mm(640)), mm(320));
        assert_eq!(centred(mm(330), mm(640)), mm(-310));
    }

    /// Allowances of 2 in at both sides of a corner, repeat 20 in: the cloth goes on 16 in later,
    /// the figure that the trade calls normal (common practice, no source).
    #[test]
    fn sixteen_inches_at_one_corner() {
        let inch = Length::inches;
        assert_eq!(consumed(inch(20), inch(100 + 2), inch(100 - 2)), inch(16));
    }
}
