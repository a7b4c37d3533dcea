//! Staple lines on the walls of a room.
//!
//! A row is open where a known pipe or cable runs behind it or an electrical box stands beside it, for a hand's
//! breadth on either side, and where it would go through a vent.

use std::collections::BTreeSet;

use super::field::{Field, Left, Run, between_words, broken, side_words};
use super::model::{EdgeFinish, Panel, RoomPlan, StapleKind, StapleLine, WallPlan, WallRef};
use super::words::{by_system, fine, print};
use crate::geom::Rect;
use crate::job::model::{CornerKind, Fixing, Job, Room, Wall};
use crate::units::Length;

/// Sets the staple lines of a room whose panels and batting are planned, in the order they are
/// driven: fills `staples` of every clothed wall.
pub fn drive(job: &Job, room: usize, plan: &mut RoomPlan) {
    for wall in 0..job.rooms[room].walls.len() {
        if job.rooms[room].walls[wall].clothed {
            let mut lines = batting_lines(job, &job.rooms[room], wall, &plan.walls[wall]);
            lines.extend(cloth_lines(job, &job.rooms[room], wall, plan));
            let leg = job.house.legs.on(job.rooms[room].walls[wall].substrate);
            lines.iter_mut().for_each(|line| line.leg = leg);
            plan.walls[wall].staples = lines;
        }
    }
}

/// Staples on a line of `length` that are nowhere farther apart than `spacing`: one more than the
/// spaces on an open line, as many as the spaces on a closed one.
pub(crate) fn count(length: Length, spacing: Length, closed: bool) -> i64 {
    let spaces = length.div_ceil(spacing);
    if closed { spaces } else { spaces + 1 }
}

fn line(kind: StapleKind, place: String, run: Run, spacing: Length) -> StapleLine {
    let length = run.length();
    let count = count(length, spacing, run.closed());
    StapleLine { kind, place, path: run.path, length, spacing, leg: Length::ZERO, count }
}

/// The leg that a clothed wall takes, as it is sold, where the walls of the job do not all take the same.
pub(crate) fn leg_told(job: &Job, at: WallRef) -> Option<String> {
    let clothed = job.rooms.iter().flat_map(|room| &room.walls).filter(|wall| wall.clothed);
    let legs: BTreeSet<Length> = clothed.map(|wall| job.house.legs.on(wall.substrate)).collect();
    let leg = job.house.legs.on(job.rooms[at.room].walls[at.wall].substrate);
    (legs.len() > 1).then(|| format!("{} leg", fine(job, leg)))
}

/// How far staples keep from an electrical box, whose cables leave it any way, and from a pipe or a cable that is
/// known, a hand's breadth: common practice, no source.
pub(crate) fn hand(job: &Job) -> Length {
    by_system(job, Length::inches(4), Length::mm(100))
}

/// Where round a box or a fitting no staple is driven.
fn kept_off(job: &Job, fixing: &Fixing) -> Rect {
    if fixing.kind.electrical() { fixing.rect.grown(hand(job)) } else { fixing.rect }
}

/// The edges of the cloth that rows of staples hold on the wall's own face.
fn stapled_edges(wall: &Wall, panel: &Panel) -> Vec<Run> {
    let field = Field::of(wall);
    let ends = [(Length::ZERO, panel.left.finish), (wall.width, panel.right.finish)];
    let stapled = ends.into_iter().filter(|(_, f)| matches!(f, EdgeFinish::Pulled | EdgeFinish::Ended));
    let mut edges: Vec<Run> = stapled.flat_map(|(x, _)| field.upright_runs(x)).collect();
    edges.extend(field.top_runs());
    edges.extend(field.bottom_runs());
    edges.extend((0..wall.openings.len()).flat_map(|index| field.hole_runs(index)));
    edges
}

/// How much of the edges lies in places where rows are open.
fn open_in(edges: &[Run], places: &[Rect]) -> Length {
    let left = |run: &Run| broken(run, places).iter().map(|left| left.run.length()).sum::<Length>();
    edges.iter().map(|run| run.length() - left(run)).sum()
}

/// The electrical boxes of a wall at which a row along the cloth's edge is open.
pub(crate) fn open_at<'a>(job: &Job, wall: &'a Wall, planned: &WallPlan) -> Vec<&'a str> {
    let edges = planned.panel.as_ref().map_or(Vec::new(), |panel| stapled_edges(wall, panel));
    let boxes = wall.fixings_in_field().filter(|fixing| fixing.kind.electrical());
    let opened = boxes.filter(|fixing| open_in(&edges, &[kept_off(job, fixing)]) > Length::ZERO);
    opened.map(|fixing| fixing.label.as_str()).collect()
}

/// How much of the cloth's edges on a wall no staple holds, beside boxes, pipes and cables.
pub(crate) fn open_length(job: &Job, wall: &Wall, planned: &WallPlan) -> Length {
    let edges = planned.panel.as_ref().map_or(Vec::new(), |panel| stapled_edges(wall, panel));
    open_in(&edges, &Open::on(job, wall).places)
}

/// What is left of a row between open places is worth no staple if it is shorter.
const SHORTEST: Length = Length::inches(1);

/// Where rows on a wall are left open, with what is there, in words.
struct Open {
    places: Vec<Rect>,
    names: Vec<String>,
}

impl Open {
    fn on(job: &Job, wall: &Wall) -> Open {
        let known = wall.services.iter().map(|service| {
            let line = Rect::new(service.from.x, service.from.y, service.to.x, service.to.y);
            (line.grown(hand(job)), format!("the {}", service.kind.word()))
        });
        let boxes = wall.fixings_in_field().map(|fixing| (kept_off(job, fixing), fixing.label.clone()));
        let (places, names) = known.chain(boxes).unzip();
        Open { places, names }
    }

    /// The same on the wall beyond a corner, whose left end lies at `from`.
    fn beside(job: &Job, wall: &Wall, from: Length) -> Open {
        let mut open = Open::on(job, wall);
        for place in &mut open.places {
            (place.x0, place.x1) = (place.x0 + from, place.x1 + from);
        }
        open
    }

    /// The rows that a run makes, and what their places are called.
    fn rows(&self, kind: StapleKind, place: &str, run: Run, spacing: Length) -> Vec<StapleLine> {
        let parts = broken(&run, &self.places).into_iter();
        let worth =
            |part: &Left| (part.after.is_none() && part.before.is_none()) || part.run.length() >= SHORTEST;
        let row = |part: Left| {
            let name = |end: Option<usize>| end.and_then(|i| self.names.get(i)).map(String::as_str);
            let words = match (name(part.after), name(part.before)) {
                (None, None) => String::new(),
                (None, Some(before)) => format!("as far as {before}"),
                (Some(after), None) => format!("on from {after}"),
                (Some(after), Some(before)) if after == before => {
                    format!("on from {after} to {before} again")
                }
                (Some(after), Some(before)) => format!("from {after} to {before}"),
            };
            line(kind, with_words(place, &words), part.run, spacing)
        };
        parts.filter(worth).map(row).collect()
    }
}

fn with_words(edge: &str, words: &str) -> String {
    if words.is_empty() { edge.to_owned() } else { format!("{edge}, {words}") }
}

fn batting_lines(job: &Job, room: &Room, wall: usize, plan: &WallPlan) -> Vec<StapleLine> {
    let shape = &room.walls[wall];
    let (field, open) = (Field::of(shape).inset(job.batting.gap), Open::on(job, shape));
    let (edge, butt) = (job.house.batting_edge_staples, job.house.batting_butt_staples);
    let mut lines = Vec::new();
    for (name, runs) in [("batting, top", field.top_runs()), ("batting, bottom", field.bottom_runs())] {
        for run in runs {
            let place = with_words(name, &between_words(shape, &run));
            lines.extend(open.rows(StapleKind::BattingEdge, &place, run, edge));
        }
    }
    let right = room.right_corner(wall);
    for (name, x, corner, inward) in [
        ("batting, left side", Length::ZERO, wall, job.batting.gap),
        ("batting, right side", shape.width, right, -job.batting.gap),
    ] {
        let x = match room.corners[corner].kind {
            CornerKind::Outside => continue,
            CornerKind::Inside => x,
            CornerKind::FreeEnd => x + inward,
        };
        for run in field.upright_runs(x) {
            lines.extend(open.rows(StapleKind::BattingEdge, name, run, edge));
        }
    }
    for (index, opening) in shape.openings.iter().enumerate() {
        for run in field.hole_runs(index) {
            let hole = opening.outer.grown(job.batting.gap);
            let place = with_words(&format!("batting, round {}", opening.label), side_words(&run, &hole));
            lines.extend(open.rows(StapleKind::BattingEdge, &place, run, edge));
        }
    }
    for joint in &plan.batting_joints {
        let at = if joint.from.x == joint.to.x { joint.from.x } else { joint.from.y };
        let way = if joint.from.x == joint.to.x { "upright" } else { "level" };
        let place = format!("batting, {way} joint at {}", print(job, at));
        let run = Run::new(vec![joint.from, joint.to]);
        lines.extend(open.rows(StapleKind::BattingButt, &place, run, butt));
    }
    lines
}

fn cloth_lines(job: &Job, room: &Room, wall: usize, plan: &RoomPlan) -> Vec<StapleLine> {
    let Some(panel) = &plan.walls[wall].panel else { return Vec::new() };
    let shape = &room.walls[wall];
    let (field, open) = (Field::of(shape), Open::on(job, shape));
    let house = &job.house;
    let mut lines = Vec::new();
    let edges = [
        (StapleKind::Tack, "tacks along the top", field.top_runs(), house.tack_staples),
        (StapleKind::Top, "top, from the centre out", field.top_runs(), house.edge_staples),
        (StapleKind::Bottom, "bottom, from the centre out", field.bottom_runs(), house.edge_staples),
    ];
    for (kind, name, runs, spacing) in edges {
        for run in runs {
            let place = with_words(name, &between_words(shape, &run));
            lines.extend(open.rows(kind, &place, run, spacing));
        }
    }
    let corners = [(wall, Length::ZERO, &panel.left), (room.right_corner(wall), shape.width, &panel.right)];
    for (side, (corner, x, edge)) in ["left", "right"].into_iter().zip(corners) {
        let name = &room.corners[corner].name;
        match edge.finish {
            EdgeFinish::Pulled | EdgeFinish::Ended => {
                for run in field.upright_runs(x) {
                    let place = format!("{side} side, at corner {name}");
                    lines.extend(open.rows(StapleKind::Side, &place, run, house.edge_staples));
                }
            }
            EdgeFinish::Wrapped if !room.corners[corner].metal_bead => {
                let past = house.wrap_allowance / 2;
                let n = room.walls.len();
                let (beyond, open) = if side == "left" {
                    let next = &room.walls[(wall + n - 1) % n];
                    (-past, Open::beside(job, next, -next.width))
                } else {
                    (past, Open::beside(job, &room.walls[(wall + 1) % n], shape.width))
                };
                for mut run in field.upright_runs(x) {
                    run.path.iter_mut().for_each(|p| p.x += beyond);
                    let place = format!("wrap round corner {name}, on the next wall's face");
                    lines.extend(open.rows(StapleKind::Wrap, &place, run, house.wrap_staples));
                }
            }
            // A metal bead turns staples, and a folded edge is glued.
            EdgeFinish::Wrapped | EdgeFinish::Folded => {}
        }
    }
    for (index, opening) in shape.openings.iter().enumerate() {
        for run in field.hole_runs(index) {
            let place = with_words(&format!("round {}", opening.label), side_words(&run, &opening.outer));
            lines.extend(open.rows(StapleKind::Casing, &place, run, house.edge_staples));
        }
    }
    lines
}
