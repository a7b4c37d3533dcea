//! The height at which places along a wall are taped.

use super::model::Panel;
use super::staples::hand;
use super::words::by_system;
use crate::job::model::{Job, Wall};
use crate::units::Length;

/// The height above the datum of the level along which the tape lies from the wall's left corner.
///
/// Where one level lies in the field all along the wall it is one of these, and else one that lies in the field
/// at the left corner and at as many seams, one after another, as it can. Of these it is near the height of the
/// eyes, since it is read there; where the corners lean it is near mid height, since there the wall has
/// the width that places are counted on. Common practice, no source.
pub(super) fn height(job: &Job, wall: &Wall, panel: Option<&Panel>) -> Length {
    let (bottom, top) = (wall.field_bottom(), wall.field_top());
    let ends = (Length::ZERO, wall.width);
    let wanted = if wall.lean() > Length::ZERO {
        let (low, high) = (bottom.min_between(ends.0, ends.1), top.max_between(ends.0, ends.1));
        low + (high - low) / 2
    } else {
        wall.floor.after(ends.0) + by_system(job, Length::inches(60), Length::mm(1500))
    };
    let mut within = (bottom.max_between(ends.0, ends.1), top.min_between(ends.0, ends.1));
    if within.0 >= within.1 {
        let span = |x: Length| (bottom.most_at(x), top.least_at(x));
        within = span(ends.0);
        for seam in panel.iter().flat_map(|panel| &panel.seams) {
            let there = span(seam.x);
            let both = (within.0.max(there.0), within.1.min(there.1));
            if both.0 < both.1 {
                within = both;
            }
        }
    }
    // Clear of the mouldings, where a ruler has room.
    let clear = hand(job).min((within.1 - within.0) / 2);
    wanted.max(within.0 + clear).min(within.1 - clear)
}
