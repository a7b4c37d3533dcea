//! The sheets made of text and tables.

pub mod approval;
pub mod assumptions;
pub mod better;
pub mod bring;
pub mod cautions;
pub mod checklist;
pub mod costs;
pub mod cover;
pub mod cut_list;
pub mod order;
pub mod received;
pub mod record;
pub mod schedules;
pub mod sign_off;
pub mod survey;

use crate::plan::model::{Plan, WallRef};
use crate::sheet::table::Cell;
use crate::sheet::{elevation, words};

/// A cell that names a wall and leads to its elevation.
fn wall_cell(plan: &Plan, at: WallRef) -> Cell {
    linked(plan, at, words::wall(plan, at))
}

/// The same where the words beside it tell enough of the wall: its label alone.
fn label_cell(plan: &Plan, at: WallRef) -> Cell {
    linked(plan, at, words::wall_label(plan, at))
}

fn linked(plan: &Plan, at: WallRef, words: String) -> Cell {
    let cell = Cell::new(words);
    if plan.job.rooms[at.room].walls[at.wall].clothed { cell.to(elevation::key(plan, at)) } else { cell }
}
