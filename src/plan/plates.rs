//! Boxes whose plates will hardly sit flat: beside a casing, in a corner, at a moulding, on a seam.

use super::model::{RoomPlan, WallPlan, WallRef};
use super::words::{by_system, list, print, wall_of};
use crate::geom::Rect;
use crate::job::model::{Job, Wall};
use crate::units::Length;

/// How far a plate reaches beyond its box, with a little air: common practice, no source.
fn reach(job: &Job) -> Length {
    by_system(job, Length::inches(3) / 4, Length::mm(20))
}

/// What a reader must know of boxes that stand closer than a plate to something.
pub fn watch(job: &Job, index: usize, room: &RoomPlan) -> Vec<String> {
    let mut told = Vec::new();
    for (wall, (shape, planned)) in job.rooms[index].walls.iter().zip(&room.walls).enumerate() {
        for (label, near) in near(job, shape, planned) {
            told.push(format!(
                "The box of {label} on {} stands {near}: {TO_DO}.",
                wall_of(job, WallRef { room: index, wall })
            ));
        }
    }
    told
}

/// What is done about such a box.
pub(crate) const TO_DO: &str = "see that its plate sits flat, or have the box moved before batting";

/// The boxes of a wall that stand closer than a plate to something: label, and from what and how far.
pub(crate) fn near<'a>(
    job: &'a Job,
    shape: &'a Wall,
    planned: &'a WallPlan,
) -> impl Iterator<Item = (&'a str, String)> {
    let fixings = shape.fixings_in_field().filter(|fixing| fixing.kind.electrical());
    fixings.filter_map(move |fixing| {
        let mut near = beside(job, shape, fixing.rect);
        for seam in &planned.panel.as_ref()?.seams {
            let away = (fixing.rect.x0 - seam.x).max(seam.x - fixing.rect.x1);
            if Length::ZERO <= away && away < reach(job) {
                near.push(format!("{} from seam {}", print(job, away), seam.label));
            }
        }
        (!near.is_empty()).then(|| (fixing.label.as_str(), list(&near)))
    })
}

/// What stands beside a box closer than its plate: the ends of the wall, casings, the edges of the field.
fn beside(job: &Job, shape: &Wall, rect: Rect) -> Vec<String> {
    let mut near = Vec::new();
    let mut tell = |away: Length, what: &str| {
        if away < reach(job) {
            near.push(format!("{} from {what}", print(job, away.max(Length::ZERO))));
        }
    };
    tell(rect.x0, "the left corner");
    tell(shape.width - rect.x1, "the right corner");
    for opening in &shape.openings {
        let outer = opening.outer;
        let aside = (outer.x0 - rect.x1).max(rect.x0 - outer.x1);
        let above = (outer.y0 - rect.y1).max(rect.y0 - outer.y1);
        tell(aside.max(above), &format!("the edge of {}", opening.label));
    }
    let (top, bottom) = (format!("the {}", shape.top_word()), format!("the {}", shape.bottom_word()));
    tell(shape.field_top().min_between(rect.x0, rect.x1) - rect.y1, &top);
    tell(rect.y0 - shape.field_bottom().max_between(rect.x0, rect.x1), &bottom);
    near
}
