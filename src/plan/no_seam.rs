//! Stretches of a wall in which no seam may stand: a hard rule, unlike all that a score weighs.

use super::PlanFault;
use super::model::WallRef;
use super::panels::pieced_edges;
use super::seams::Layout;
use crate::job::model::{Job, Wall};
use crate::units::Length;

/// The layouts of a wall that keep its stretches clear, in their order.
///
/// # Errors
/// `seam-not-avoidable` when none does, with the stretch that could be kept clear; also when the
/// joints of a pieced opening stand in a stretch.
pub fn keep_clear(job: &Job, at: WallRef, layouts: Vec<Layout>) -> Result<Vec<Layout>, PlanFault> {
    let wall = &job.rooms[at.room].walls[at.wall];
    if wall.no_seam.is_empty() {
        return Ok(layouts);
    }
    if let Some((stretch, edge)) = wall.no_seam.iter().find_map(|&stretch| {
        let edge = pieced_edges(wall).into_iter().find(|&edge| within(stretch, edge));
        edge.map(|edge| (stretch, edge))
    }) {
        return Err(PlanFault {
            code: "seam-not-avoidable",
            message: format!(
                "wall {} of {}: no seam may stand {}, but a joint of a pieced opening does, at {}",
                wall.label,
                job.rooms[at.room].name,
                words(job, stretch),
                job.print.format.print(edge),
            ),
            wall: Some(at),
            help: "let the panel cover that opening with cloth=covered, or end the stretch there".into(),
        });
    }
    let (kept, lost): (Vec<Layout>, Vec<Layout>) =
        layouts.into_iter().partition(|layout| first_broken(wall, layout).is_none());
    match nearest(wall, &lost) {
        Some((stretch, clear)) if kept.is_empty() => Err(PlanFault {
            code: "seam-not-avoidable",
            message: format!(
                "wall {} of {}: no seam may stand {}, but every start of the pattern puts one there",
                wall.label,
                job.rooms[at.room].name,
                words(job, stretch),
            ),
            wall: Some(at),
            help: format!(
                "start the pattern elsewhere with pattern, or keep a smaller stretch clear: {} is possible",
                words(job, clear),
            ),
        }),
        _ => Ok(kept),
    }
}

fn within((from, to): (Length, Length), x: Length) -> bool {
    from < x && x < to
}

fn words(job: &Job, (from, to): (Length, Length)) -> String {
    format!("from {} to {}", job.print.format.print(from), job.print.format.print(to))
}

/// The first stretch that a layout has a seam in.
fn first_broken(wall: &Wall, layout: &Layout) -> Option<(Length, Length)> {
    wall.no_seam.iter().copied().find(|&stretch| layout.seams.iter().any(|&x| within(stretch, x)))
}

/// Of layouts that all break a stretch, the largest part of one that a layout keeps clear: the
/// stretch and that part.
fn nearest(wall: &Wall, lost: &[Layout]) -> Option<((Length, Length), (Length, Length))> {
    let parts = |layout: &Layout| {
        let stretch = first_broken(wall, layout)?;
        let mut ends = vec![stretch.0];
        ends.extend(layout.seams.iter().copied().filter(|&x| within(stretch, x)));
        ends.push(stretch.1);
        let widest = ends.windows(2).max_by_key(|pair| (pair[1] - pair[0], std::cmp::Reverse(pair[0])))?;
        Some((stretch, (widest[0], widest[1])))
    };
    lost.iter().filter_map(parts).max_by_key(|(_, (from, to))| (*to - *from, std::cmp::Reverse(*from)))
}
