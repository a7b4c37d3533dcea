//! What a job says of a room and its corners.

use super::super::matching::Ids;
use super::{Fact, Facts};
use crate::job::model::{AcrossWish, Corner, CornerKind, Job, RegistrationWish, Room, Side, Wall};
use crate::plan::words;

/// The facts of a room but its name, without its corners and walls.
pub fn room(job: &Job, index: usize, ids: &Ids) -> Vec<Fact> {
    let Room {
        name: _,
        cloth,
        closed,
        corners,
        walls,
        year,
        public,
        textured,
        registration: RegistrationWish { across, below_crown },
        kill_corner,
        hang_order,
    } = &job.rooms[index];
    let mut told = Facts::default();
    let name = job.cloths.get(*cloth).map_or("", |cloth| cloth.name.as_str());
    told.add_meaning("cloth", name, ids.cloth(*cloth));
    told.add("run", if *closed { "closed" } else { "open" });
    if *year > 0 {
        told.add("year", year.to_string());
    }
    told.add_whether("public", *public);
    told.add_whether("textured", *textured);
    let (wish, meaning) = across_words(*across, walls, corners, index, ids);
    told.add_meaning("the pattern has", wish, meaning);
    if let AcrossWish::LineOn { wall: _, from_left } = across {
        told.add("match line from the wall's left end", *from_left);
    }
    // What is left open is found by planning, and no place is measured for it.
    told.add("first motif below the crown", *below_crown);
    if let Some(corner) = corners.get(*kill_corner).filter(|_| *closed) {
        told.add_meaning("kill corner", corner.name.as_str(), ids.corner(index, *kill_corner));
    }
    let label = |wall: usize| walls.get(wall).map_or("", |wall| wall.label.as_str());
    for &(first, then) in hang_order {
        let meaning = format!("{} {}", ids.wall(index, first), ids.wall(index, then));
        told.add_meaning("hung first", format!("{} before {}", label(first), label(then)), meaning);
    }
    told.0
}

fn across_words(
    across: AcrossWish,
    walls: &[Wall],
    corners: &[Corner],
    room: usize,
    ids: &Ids,
) -> (String, String) {
    let label = |wall: usize| walls.get(wall).map_or("", |wall| wall.label.as_str());
    let id = |wall: usize| ids.wall(room, wall);
    match across {
        AcrossWish::MotifCentred(wall) => {
            (format!("a motif on the middle of wall {}", label(wall)), format!("motif {}", id(wall)))
        }
        AcrossWish::SeamCentred(wall) => {
            (format!("a seam on the middle of wall {}", label(wall)), format!("seam {}", id(wall)))
        }
        AcrossWish::MotifOnOpening { wall, opening } => {
            let name = walls.get(wall).and_then(|wall| wall.openings.get(opening));
            let name = name.map_or("", |opening| opening.label.as_str());
            (
                format!("a motif on the middle of {name}"),
                format!("opening {} {}", id(wall), ids.opening(room, wall, opening)),
            )
        }
        AcrossWish::FromCorner(wall) => {
            let name = corners.get(wall).map_or("", |corner| corner.name.as_str());
            (format!("a match line at corner {name}"), format!("corner {}", id(wall)))
        }
        AcrossWish::LineOn { wall, from_left: _ } => {
            (format!("a match line on wall {}", label(wall)), format!("line {}", id(wall)))
        }
        AcrossWish::LeastCloth => ("its place where the room takes least cloth".into(), "least".into()),
    }
}

/// The facts of a corner but its name.
pub fn corner(corner: &Corner) -> Vec<Fact> {
    let Corner { name: _, kind, angle, metal_bead, wraps } = corner;
    let mut told = Facts::default();
    told.add("kind", words::corner_kind(*kind));
    told.add("angle", *angle);
    told.add_whether("metal bead", *metal_bead);
    if *kind == CornerKind::Outside {
        told.add("wraps", if *wraps == Side::Left { "left" } else { "right" });
    }
    told.0
}

/// That a wall is the other side of another one.
pub fn back(job: &Job, wall: &Wall, ids: &Ids) -> Vec<Fact> {
    let mut told = Facts::default();
    if let Some((room, other)) = wall.cross_checks.back_of {
        let label = &job.rooms[room].walls[other].label;
        let words = format!("wall {label} of {}", words::room_of(job, room));
        told.add_meaning("back of", words, ids.wall(room, other));
    }
    told.0
}
