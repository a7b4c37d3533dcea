//! What is done at each corner.

use super::field::{Field, length_of};
use super::model::{EdgeFinish, Plan, RoomPlan, StapleKind, WallRef};
use super::words::print;
use crate::job::model::{Corner, CornerKind, Job, Room, Side, TrimKind};
use crate::units::Length;

/// Fills in treatment, tape, adhesive and height of every corner of a room whose panels and staple
/// lines are planned.
pub fn treat(job: &Job, room: usize, plan: &mut RoomPlan) {
    let shape = &job.rooms[room];
    for corner in 0..shape.corners.len() {
        let meeting = Meeting::at(shape, corner);
        plan.corners[corner].height = meeting.height(shape);
        let treatment = match shape.corners[corner].kind {
            CornerKind::Inside => inside(job, shape, plan, &meeting),
            CornerKind::FreeEnd => free_end(job, shape, plan, &meeting),
            CornerKind::Outside => outside(job, shape, plan, &meeting),
        };
        let (mut said, hem_tape, adhesive) = treatment;
        if let Some(kill) = plan.kill.as_ref().filter(|k| k.corner == corner) {
            said.push(format!(
                "The pattern does not meet here: it is out by {}.",
                kill.words(&job.print.format)
            ));
        }
        let fixed = &mut plan.corners[corner];
        (fixed.treatment, fixed.hem_tape, fixed.adhesive) = (said, hem_tape, adhesive);
    }
}

/// The clothed walls that meet at a corner.
pub(crate) struct Meeting<'a> {
    /// The corner.
    pub corner: &'a Corner,
    /// The wall that ends there: its right end.
    pub left: Option<usize>,
    /// The wall that begins there: its left end.
    pub right: Option<usize>,
}

impl<'a> Meeting<'a> {
    /// What meets at corner `corner` of a room.
    pub fn at(room: &'a Room, corner: usize) -> Self {
        let n = room.walls.len();
        let clothed = |wall: usize| room.walls[wall].clothed.then_some(wall);
        let left = if corner > 0 || room.closed { clothed((corner + n - 1) % n) } else { None };
        let right = if corner < n { clothed(corner) } else { None };
        Meeting { corner: &room.corners[corner], left, right }
    }

    /// The wall whose panel is carried round an outside corner, and the wall whose panel is folded.
    pub fn wrap_and_fold(&self) -> Option<(usize, usize)> {
        match (self.corner.kind, self.left, self.right, self.corner.wraps) {
            (CornerKind::Outside, Some(left), Some(right), Side::Left) => Some((left, right)),
            (CornerKind::Outside, Some(left), Some(right), Side::Right) => Some((right, left)),
            _ => None,
        }
    }

    /// The height of the face that wraps; nothing where none does.
    pub fn wrap_height(&self, room: &Room) -> Length {
        self.wrap_and_fold()
            .map_or(Length::ZERO, |(wrap, _)| face_height(room, wrap, self.corner.wraps.other()))
    }

    /// The height of cloth at the corner: the higher of the two faces.
    fn height(&self, room: &Room) -> Length {
        let left = self.left.map_or(Length::ZERO, |w| face_height(room, w, Side::Right));
        let right = self.right.map_or(Length::ZERO, |w| face_height(room, w, Side::Left));
        left.max(right)
    }
}

/// The adhesive that holds the panel of a wall round corners with a metal bead, which turns staples.
pub(crate) fn glued_wraps(plan: &Plan, at: WallRef) -> Length {
    let room = &plan.job.rooms[at.room];
    let glued = (0..room.corners.len())
        .map(|corner| Meeting::at(room, corner))
        .filter(|m| m.corner.metal_bead && m.wrap_and_fold().is_some_and(|(wrap, _)| wrap == at.wall));
    glued.map(|meeting| meeting.wrap_height(room)).sum()
}

/// The height of cloth at one end of a wall, without what a casing takes in the corner.
fn face_height(room: &Room, wall: usize, end: Side) -> Length {
    let shape = &room.walls[wall];
    let x = match end {
        Side::Left => Length::ZERO,
        Side::Right => shape.width,
    };
    Field::of(shape).upright_runs(x).iter().map(|run| length_of(&run.path)).sum()
}

type Treatment = (Vec<String>, Length, Length);

fn names(room: &Room, wall: usize) -> String {
    format!("wall {}", room.walls[wall].label)
}

fn staples_at(plan: &RoomPlan, wall: usize, kind: StapleKind, x: impl Fn(Length) -> bool) -> (i64, Length) {
    let lines = plan.walls[wall].staples.iter();
    let there: Vec<_> = lines.filter(|l| l.kind == kind && l.path.first().is_some_and(|p| x(p.x))).collect();
    (there.iter().map(|l| l.count).sum(), there.first().map_or(Length::ZERO, |l| l.spacing))
}

/// "112 staples at 1½″", at the end of a wall that is stapled on its own face.
fn side_staples(job: &Job, room: &Room, plan: &RoomPlan, wall: usize, end: Side) -> String {
    let width = room.walls[wall].width;
    let (count, spacing) = staples_at(plan, wall, StapleKind::Side, |x| match end {
        Side::Left => x <= Length::ZERO,
        Side::Right => x >= width,
    });
    match count {
        // All of the end lies beside a box or a known pipe or cable.
        0 => "no staples, a box, a pipe or a cable is there; hold it with adhesive".to_owned(),
        _ => format!("{count} staples at {}", print(job, spacing)),
    }
}

fn inside(job: &Job, room: &Room, plan: &RoomPlan, at: &Meeting) -> Treatment {
    let mut said = Vec::new();
    for (wall, end) in [(at.left, Side::Right), (at.right, Side::Left)] {
        let Some(wall) = wall else { continue };
        let staples = side_staples(job, room, plan, wall, end);
        said.push(format!(
            "Staple {} into the corner on its own face over the full height: {staples}.",
            names(room, wall)
        ));
    }
    if said.len() == 2 {
        said.insert(0, "Either wall may be hung first.".to_owned());
    }
    said.push("Trim close to the staples.".to_owned());
    if job.trims.corner.kind != TrimKind::None {
        let rows = if at.left.is_some() && at.right.is_some() { "both rows" } else { "the row" };
        said.push(format!("The {} covers {rows}.", job.trims.corner.name));
    }
    (said, Length::ZERO, Length::ZERO)
}

fn free_end(job: &Job, room: &Room, plan: &RoomPlan, at: &Meeting) -> Treatment {
    let mut said = Vec::new();
    for (wall, end) in [(at.left, Side::Right), (at.right, Side::Left)] {
        let Some(wall) = wall else { continue };
        let staples = side_staples(job, room, plan, wall, end);
        said.push(format!("Staple {} along its end over the full height: {staples}.", names(room, wall)));
        said.push("Trim the cloth to the line of the end.".to_owned());
    }
    if job.trims.corner.kind != TrimKind::None {
        said.push(format!("The {} covers the edge.", job.trims.corner.name));
    }
    (said, Length::ZERO, Length::ZERO)
}

fn outside(job: &Job, room: &Room, plan: &RoomPlan, at: &Meeting) -> Treatment {
    let Some((wrap, fold)) = at.wrap_and_fold() else {
        return free_end(job, room, plan, at);
    };
    let print = |length: Length| print(job, length);
    let (wrapping, folding) = (names(room, wrap), names(room, fold));
    let (wrap_end, fold_end) = match at.corner.wraps {
        Side::Left => (Side::Right, Side::Left),
        Side::Right => (Side::Left, Side::Right),
    };
    let tape = face_height(room, fold, fold_end);
    let panel_edge = |wall: usize, end: Side| {
        let panel = plan.walls[wall].panel.as_ref()?;
        Some(match end {
            Side::Left => panel.left,
            Side::Right => panel.right,
        })
    };
    let carried = panel_edge(wrap, wrap_end).map_or(job.house.wrap_allowance, |e| e.allowance);
    let turned = panel_edge(fold, fold_end).filter(|e| e.finish == EdgeFinish::Folded);
    let turned = turned.map_or(job.house.fold_allowance, |e| e.allowance);
    let mut adhesive = tape;
    let mut said = vec![
        format!("Hang {wrapping} first, then {folding}."),
        format!("Carry the panel of {wrapping} round the corner, {} onto {folding}.", print(carried)),
    ];
    if at.corner.metal_bead {
        adhesive += face_height(room, wrap, wrap_end);
        said.push(format!(
            "The corner has a metal bead, which turns staples: glue the wrap to the face of {folding} with \
             {} of adhesive and hold it until it grips. Do not staple it.",
            print(face_height(room, wrap, wrap_end))
        ));
    } else {
        let width = room.walls[wrap].width;
        let (count, spacing) = staples_at(plan, wrap, StapleKind::Wrap, |x| match wrap_end {
            Side::Left => x < Length::ZERO,
            Side::Right => x > width,
        });
        said.push(format!("Staple it on the face of {folding}: {count} staples at {}.", print(spacing)));
    }
    said.push(format!(
        "Fold the panel of {folding} under along the matching line, {} turned in, and crease it with steam. \
         Let it dry.",
        print(turned)
    ));
    said.push(format!(
        "Fix the turned edge with {} of hem tape under a dry iron: steam stops that adhesive setting.",
        print(tape)
    ));
    said.push(format!(
        "Run a bead of adhesive {} long over the wrap, press the fold on at the corner from the top down and \
         hold it until it grips.",
        print(tape)
    ));
    (said, tape, adhesive)
}
