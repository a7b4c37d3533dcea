//! Batting pieces on the walls of a room.
//!
//! Walls that meet at outside corners make one chain: pieces follow one another along it from the
//! left, so that one that reaches a corner is carried round it and the next butts to its edge.
//! Pieces meet edge to edge. Upright joints keep clear of seams and of outside corners.

mod chain;
mod lying;
mod rolls;
mod upright;

use super::field::letter;
use super::model::{BattingJoint, BattingPiece, RoomPlan};
use super::words::print;
use crate::geom::{Hole, Rect};
use crate::job::model::{BattingHang, Job, Substrate, Wall};
use crate::units::Length;
use chain::Chain;

pub(crate) use rolls::rolls;

/// Lays the batting of a room whose panels are planned: fills `batting` and `batting_joints` of
/// every clothed wall.
pub fn lay(job: &Job, room: usize, plan: &mut RoomPlan) {
    for chain in Chain::all(&job.rooms[room]) {
        let laid = match job.batting.hang {
            BattingHang::Upright => upright::lay(job, room, &chain, plan),
            BattingHang::Lying => lying::lay(job, room, &chain, plan),
            BattingHang::Least => {
                let (upright, lying) =
                    (upright::lay(job, room, &chain, plan), lying::lay(job, room, &chain, plan));
                // Upright when equal: its joints never cross a seam.
                if lying.cost(job) < upright.cost(job) { lying } else { upright }
            }
        };
        for (wall, mut piece) in laid.pieces {
            let there = &mut plan.walls[wall].batting;
            piece.label = format!("{}{}", job.mark(room, wall), letter(there.len()));
            there.push(piece);
        }
        for (wall, joint) in laid.joints {
            plan.walls[wall].batting_joints.push(joint);
        }
    }
}

/// The pieces and joints of a chain, each with its wall; pieces not yet labelled.
struct Laid {
    pieces: Vec<(usize, BattingPiece)>,
    joints: Vec<(usize, BattingJoint)>,
}

impl Laid {
    /// What is to be kept small: the length of roll that the pieces take, then the length of joints.
    fn cost(&self, job: &Job) -> (Length, Length) {
        let pieces: Vec<&BattingPiece> = self.pieces.iter().map(|(_, p)| p).collect();
        let joints = self.joints.iter().map(|(_, j)| super::field::length_of(&[j.from, j.to])).sum();
        (rolls::roll_length(job, &pieces), joints)
    }
}

/// Upright joints of batting that could not be kept clear of a seam, one sentence for each.
pub fn watch(job: &Job, room: usize, plan: &RoomPlan) -> Vec<String> {
    let mut said = Vec::new();
    for (wall, planned) in plan.walls.iter().enumerate() {
        let upright = planned.batting_joints.iter().filter(|j| j.from.x == j.to.x);
        let mut joints: Vec<Length> = upright.map(|j| j.from.x).collect();
        joints.dedup();
        for seam in planned.panel.iter().flat_map(|p| &p.seams) {
            for x in &joints {
                let apart = (*x - seam.x).abs();
                if apart < job.house.joint_clearance {
                    said.push(format!(
                        "Wall {}: the batting joint at {} is only {} from seam {}: no place within the roll's width \
                         is farther from every seam.",
                        job.rooms[room].walls[wall].label,
                        print(job, *x),
                        print(job, apart),
                        seam.label
                    ));
                }
            }
        }
    }
    said
}

/// How far batting, and battens where the wall needs them, bring the surface out from the wall.
pub(crate) fn forward(job: &Job, wall: &Wall) -> Length {
    match wall.substrate {
        Substrate::Masonry => job.batting.loft + job.house.batten_thickness,
        Substrate::Drywall | Substrate::Plaster | Substrate::Panelling => job.batting.loft,
    }
}

/// What is cut out of a piece for a hole, if it lies in it: the part of a rectangle that they share, or an
/// arched hole whole, for what lies beyond the piece is cut out of the next.
fn cut_out(hole: &Hole, piece: &Rect) -> Option<Hole> {
    let rect = hole.rect;
    let shared = Rect {
        x0: rect.x0.max(piece.x0),
        y0: rect.y0.max(piece.y0),
        x1: rect.x1.min(piece.x1),
        y1: rect.y1.min(piece.y1),
    };
    hole.overlaps(piece).then(|| if hole.is_arched() { *hole } else { shared.into() })
}
