//! What a job notes of what was really done.

use super::super::matching::Ids;
use super::{Fact, Facts};
use crate::job::model::{AsBuilt, BuiltNote, BuiltPiece, BuiltSeam, Job};
use crate::plan::model::WallRef;
use crate::plan::words;

/// The entries of a job; none when it notes none.
pub fn as_built(job: &Job, ids: &Ids) -> Vec<Fact> {
    let mut told = Facts::default();
    let Some(AsBuilt { date, seams, pieces, notes }) = &job.as_built else { return told.0 };
    told.add_text("date", date);
    for BuiltSeam { label, x, why } in seams {
        told.add(format!("seam {label}"), *x);
        told.add_text(&format!("why seam {label}"), why);
    }
    for BuiltPiece { label, recut, lot, why } in pieces {
        let recut = if *recut { "cut again" } else { "cut once" };
        let lot = if lot.is_empty() { String::new() } else { format!(", dye lot {lot}") };
        told.add(format!("piece {label}"), format!("{recut}{lot}"));
        told.add_text(&format!("why piece {label}"), why);
    }
    for BuiltNote { room, wall, at, text } in notes {
        let name = words::wall_of(job, WallRef { room: *room, wall: *wall });
        let meaning = format!("{} {at:?} {text}", ids.wall(*room, *wall));
        told.add_meaning("note", format!("{name}: {text}"), meaning);
    }
    told.0
}
