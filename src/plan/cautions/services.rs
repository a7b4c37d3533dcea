//! Pipes and cables that are known to run behind the walls.

use super::super::model::{Plan, StapleKind, WallRef};
use super::super::staples::hand;
use super::super::words::{counted, print, wall};
use crate::geom::Rect;
use crate::job::model::Service;

/// Each pipe or cable behind cloth, where it runs and how many rows of staples would meet it; `None` when
/// none is known.
pub(super) fn known(plan: &Plan) -> Option<String> {
    let mut told = Vec::new();
    for (room, shape) in plan.job.rooms.iter().enumerate() {
        for (index, _) in shape.walls.iter().enumerate().filter(|(_, wall)| wall.clothed) {
            let at = WallRef { room, wall: index };
            told.extend(shape.walls[index].services.iter().map(|service| sentence(plan, at, service)));
        }
    }
    (!told.is_empty()).then(|| told.join(" "))
}

fn sentence(plan: &Plan, at: WallRef, service: &Service) -> String {
    let room = &plan.job.rooms[at.room];
    let shape = &room.walls[at.wall];
    let place = if service.from.x == service.to.x {
        let corner = &room.corners[at.wall].name;
        format!("up {}, {} from corner {corner}", wall(plan, at), print(&plan.job, service.from.x))
    } else {
        let above = service.from.y - shape.floor.at(service.from.x);
        format!("along {}, {} above the floor", wall(plan, at), print(&plan.job, above))
    };
    let hand = print(&plan.job, hand(&plan.job));
    let rows = match met(plan, at, service) {
        0 => String::new(),
        1 => format!("; 1 row of staples stops {hand} from it"),
        rows => format!("; {} of staples stop {hand} from it", counted(rows, "row")),
    };
    format!("A {} runs {place}{rows}.", service.kind.word())
}

/// How many rows of staples on a wall begin or end a hand's breadth from a service.
fn met(plan: &Plan, at: WallRef, service: &Service) -> i64 {
    let around = Rect::new(service.from.x, service.from.y, service.to.x, service.to.y).grown(hand(&plan.job));
    let rows = plan.rooms[at.room].walls[at.wall].staples.iter().filter(|l| l.kind != StapleKind::Tack);
    rows.filter(|l| l.path.windows(2).any(|p| around.meets(p[0], p[1]))).count() as i64
}
