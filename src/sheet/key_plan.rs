//! The key plan: a room seen from above, its walls and corners named, so that every other sheet can
//! be found in the room.

pub mod cover;
mod notes;
mod together;

use super::drawing::Drawing;
use super::mark::{line, ring, through};
use super::model::{Anchor, Ink, Layer, Mark, Path};
use super::offset::{corners, inside, shifted};
use super::plate::{self, Plate};
use super::scale::{Scale, largest};
use super::sign::{self, Ends, Sign};
use super::text::{self, Style};
use super::{ComposeFault, Draft, Part, frame, pen, words};
use crate::geom::{Point, Rect};
use crate::job::model::{CornerKind, Opening, OpeningKind, Paper, Room, Side};
use crate::plan::model::{Plan, RoomPlan};
use crate::units::Length;

/// The thickness that walls are drawn with, on paper: it is not surveyed.
const THICK: Length = Length::micrometres(2_200);
/// How far a mantel or a built-in is drawn into the room, on paper.
const INTO_ROOM: Length = Length::micrometres(1_600);

/// White between the plan and the edges of its area.
const BREATH: Length = Length::mm(4);
/// The document type of a key plan.
pub const KIND: &str = "Key plan";
/// As many columns of notes as a plan makes room for.
const MOST_COLUMNS: i64 = 2;

/// The key plans of all rooms: on one sheet where they fit it, or else a sheet for each.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    if let Some(all) = together::draft(plan, paper)? {
        return Ok(vec![all]);
    }
    let mut drafts = Vec::new();
    for index in 0..plan.rooms.len() {
        drafts.extend(of_room(plan, paper, index)?);
    }
    Ok(drafts)
}

fn of_room(plan: &Plan, paper: Paper, index: usize) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let room = &plan.job.rooms[index];
    let system = plan.job.print.format.system;
    let sections = notes::sections(plan, index);
    let title = format!("Key plan, {}", room.name);
    let mut columns = 1;
    let (scale, marks, rest) = loop {
        let scale = fitting(plan, index, plate::drawing_area(free, columns).grown(-BREATH))?;
        let under = format!("Seen from above, {}", scale.name);
        let drawing = drawn(plan, index, scale)?;
        let composed = Plate {
            rest_in: None,
            drawing,
            sections: &sections,
            reading: &[],
            title: (&title, &under),
            scale: (scale, system),
        }
        .compose(free)?;
        // A smaller plan is no loss where it saves a sheet of notes.
        if composed.rest.is_empty() || columns == MOST_COLUMNS {
            break (scale, composed.marks, composed.rest);
        }
        columns += 1;
    };
    let more = plate::overflow(rest, free)?;
    let count = more.len() + 1;
    let draft = |(n, marks): (usize, Vec<Mark>)| Draft {
        key: if n == 0 {
            format!("key-plan-{}", index + 1)
        } else {
            format!("key-plan-{}-{}", index + 1, n + 1)
        },
        title: if plan.rooms.len() > 1 { title.clone() } else { "Key plan".to_owned() },
        part: Part { number: n + 1, count },
        under: room.name.clone(),
        description: format!(
            "{} seen from above: {} walls from left to right, their corners, openings and the order of panels at outside corners.",
            room.name,
            room.walls.len()
        ),
        kind: KIND,
        scale: scale.name.to_owned(),
        also: Vec::new(),
        marks: marks.into(),
    };
    Ok([marks].into_iter().chain(more).enumerate().map(draft).collect())
}

/// The largest standard scale at which the plan fits `area`.
fn fitting(plan: &Plan, index: usize, area: Rect) -> Result<Scale, ComposeFault> {
    largest(plan.job.print.format.system, |scale| {
        let extent = drawn(plan, index, scale)?.extent();
        Ok(extent.width() <= area.width() && extent.height() <= area.height())
    })
}

/// The room on paper at a scale.
struct View<'a> {
    room: &'a Room,
    plan: &'a RoomPlan,
    /// Its corners on paper, in order; the room lies on the right of the line through them.
    corners: Vec<Point>,
}

impl View<'_> {
    /// The ends of a wall.
    fn ends(&self, wall: usize) -> (Point, Point) {
        (self.corners[wall], self.corners[(wall + 1) % self.corners.len()])
    }

    /// A point by its place along a wall (0 to 1) and its distance into the room.
    fn at(&self, wall: usize, along: f64, into: Length) -> Point {
        let (a, b) = self.ends(wall);
        let (dx, dy) = ((b.x - a.x).nm() as f64, (b.y - a.y).nm() as f64);
        let long = dx.hypot(dy).max(1.0);
        let into = into.nm() as f64;
        let x = a.x.nm() as f64 + dx * along - dy / long * into;
        let y = a.y.nm() as f64 + dy * along + dx / long * into;
        Point::new(Length::nanometres(x.round() as i64), Length::nanometres(y.round() as i64))
    }

    /// A place along a wall as a share of its width.
    fn share(&self, wall: usize, x: Length) -> f64 {
        x.nm() as f64 / self.room.walls[wall].width.nm().max(1) as f64
    }

    /// The direction into the room at a corner: the sum of the walls' normals, about one long.
    fn inward(&self, corner: usize) -> (f64, f64) {
        let count = self.room.walls.len();
        let before = if corner > 0 { Some(corner - 1) } else { self.room.closed.then(|| count - 1) };
        let after = (corner < count).then_some(corner);
        let (mut x, mut y) = (0.0, 0.0);
        for wall in before.into_iter().chain(after) {
            let (a, b) = self.ends(wall);
            let (dx, dy) = ((b.x - a.x).nm() as f64, (b.y - a.y).nm() as f64);
            let long = dx.hypot(dy).max(1.0);
            x -= dy / long;
            y += dx / long;
        }
        let long = x.hypot(y).max(0.2);
        (x / long, y / long)
    }

    /// At an end of an open run: the direction back along its wall, one long.
    fn end_direction(&self, corner: usize) -> Option<(f64, f64)> {
        let count = self.room.walls.len();
        let (wall, sign) = match corner {
            _ if self.room.closed => return None,
            0 => (0, 1.0),
            last if last == count => (count - 1, -1.0),
            _ => return None,
        };
        let (a, b) = self.ends(wall);
        let (dx, dy) = ((b.x - a.x).nm() as f64, (b.y - a.y).nm() as f64);
        let long = dx.hypot(dy).max(1.0);
        Some((dx / long * sign, dy / long * sign))
    }

    /// Whether a point lies in the room; for an open run, on the room's side of all walls nearby.
    fn within(&self, p: Point) -> bool {
        if self.room.closed {
            return inside(&self.corners, p);
        }
        let deep = shifted(&self.corners, Length::mm(40));
        let strip: Vec<Point> = self.corners.iter().copied().chain(deep.into_iter().rev()).collect();
        inside(&strip, p)
    }

    fn line(&self) -> Vec<Point> {
        let mut points = self.corners.clone();
        if self.room.closed {
            points.extend(self.corners.first().copied());
        }
        points
    }
}

fn drawn(plan: &Plan, index: usize, scale: Scale) -> Result<Drawing, ComposeFault> {
    let room_plan = &plan.rooms[index];
    let corners = room_plan.outline.points.iter();
    let corners = corners.map(|p| Point::new(scale.paper(p.x), -scale.paper(p.y))).collect();
    let view = View { room: &plan.job.rooms[index], plan: room_plan, corners };
    let mut drawing = Drawing::default();
    walls(&view, &mut drawing);
    let openings = openings(&view, &mut drawing);
    wraps(&view, &mut drawing);
    corner_tags(&view, &mut drawing)?;
    wall_labels(&view, &mut drawing)?;
    for (label, places) in openings {
        drawing.tag_at(Layer::Room, &label, Ends::None, &places)?;
    }
    Ok(drawing.finish())
}

/// The inner faces of the walls, strong where cloth goes, and their outer faces.
fn walls(view: &View, drawing: &mut Drawing) {
    let outer = shifted(&view.line(), -THICK);
    let path = if view.room.closed { ring(&outer) } else { through(&outer) };
    drawing.group(Layer::Room, "outer-faces", "outer faces", vec![Mark::Stroke { pen: pen::HAIRLINE, path }]);
    for (index, wall) in view.room.walls.iter().enumerate() {
        let (a, b) = view.ends(index);
        let pen = if wall.clothed { pen::OUTLINE } else { pen::DETAIL };
        drawing.signs.insert(if wall.clothed { Sign::WallEdge } else { Sign::BareWall });
        let title = format!("wall {}", wall.label);
        drawing.group(Layer::Room, format!("wall-{}", wall.label), title, vec![line(a, b, pen)]);
        drawing.keep_clear(&[a, b]);
    }
}

/// The openings; returns their labels with the places where each may stand.
fn openings(view: &View, drawing: &mut Drawing) -> Vec<(String, Vec<Point>)> {
    let mut labels = Vec::new();
    for (index, wall) in view.room.walls.iter().enumerate() {
        for opening in &wall.openings {
            let marks = opening_marks(view, index, opening);
            let title = format!("{} {}", words::opening_kind(opening.kind), opening.label);
            drawing.group(Layer::Room, format!("opening-{}", opening.label), title, marks);
            let middle = view.share(index, (opening.clear.x0 + opening.clear.x1) / 2);
            let places =
                [-5, -7, -10, -12, -15, 4, 6, 8, 11].map(|mm| view.at(index, middle, Length::mm(mm)));
            labels.push((opening.label.clone(), places.to_vec()));
        }
    }
    labels
}

/// An opening in plan: a gap through the wall, a recess, or a body that stands in the room.
fn opening_marks(view: &View, wall: usize, opening: &Opening) -> Vec<Mark> {
    let (from, to) = (view.share(wall, opening.clear.x0), view.share(wall, opening.clear.x1));
    let quad = |low: Length, high: Length| -> [Point; 4] {
        [view.at(wall, from, low), view.at(wall, to, low), view.at(wall, to, high), view.at(wall, from, high)]
    };
    let out = |share: i64| -THICK * share / 4;
    // A little beyond both faces, so that their lines are covered.
    let gap = Mark::Fill {
        ink: Ink::WHITE,
        path: ring(&quad(Length::micrometres(400), -THICK - Length::micrometres(150))),
    };
    let through_wall = quad(Length::ZERO, -THICK);
    let jambs = [
        line(through_wall[0], through_wall[3], pen::OPENING),
        line(through_wall[1], through_wall[2], pen::OPENING),
    ];
    let across = |depth: Length, pen| line(view.at(wall, from, depth), view.at(wall, to, depth), pen);
    match opening.kind {
        OpeningKind::Door => {
            let mut marks = vec![gap];
            marks.extend(jambs);
            marks.push(across(out(2), pen::DETAIL));
            marks
        }
        OpeningKind::Window => {
            let mut marks = vec![gap];
            marks.extend(jambs);
            marks.extend([0, 2, 4].map(|share| across(out(share), pen::HAIRLINE)));
            marks
        }
        OpeningKind::Archway => {
            let mut marks = vec![gap];
            marks.extend(jambs);
            marks.extend([0, 4].map(|share| across(out(share), pen::HIDDEN)));
            marks
        }
        OpeningKind::Niche | OpeningKind::Fireplace => {
            let mut marks = vec![gap];
            let recess: Path = through(&[through_wall[0], through_wall[3], through_wall[2], through_wall[1]]);
            marks.push(Mark::Stroke { pen: pen::OPENING, path: recess });
            marks
        }
        OpeningKind::Mantel | OpeningKind::BuiltIn => {
            vec![Mark::Stroke { pen: pen::DETAIL, path: ring(&quad(Length::ZERO, INTO_ROOM)) }]
        }
    }
}

/// At outside corners: an arrow from the wall whose panel is carried round, onto the other.
fn wraps(view: &View, drawing: &mut Drawing) {
    let count = view.room.walls.len();
    for (index, corner) in view.room.corners.iter().enumerate() {
        let (Some(left), true) = (
            if index > 0 { Some(index - 1) } else { view.room.closed.then(|| count - 1) },
            corner.kind == CornerKind::Outside && index < count,
        ) else {
            continue;
        };
        let off = Length::micrometres(1_700);
        let (from, to) = match corner.wraps {
            Side::Left => (left, index),
            Side::Right => (index, left),
        };
        // Along the carried wall towards the corner, then along the other wall for a little.
        let toward = |wall: usize, mm: f64| {
            let (a, b) = view.ends(wall);
            let long = (b.x - a.x).to_mm_f64().hypot((b.y - a.y).to_mm_f64()).max(0.1);
            let share = (mm / long).min(0.45);
            view.at(wall, if wall == left { 1.0 - share } else { share }, off)
        };
        let (dx, dy) = view.inward(index);
        let reach = off.nm() as f64 * std::f64::consts::SQRT_2;
        let at = view.corners[index];
        let bend = Point::new(
            at.x + Length::nanometres((dx * reach).round() as i64),
            at.y + Length::nanometres((dy * reach).round() as i64),
        );
        let (tail, tip) = (toward(from, 5.0), toward(to, 4.0));
        drawing.signs.insert(Sign::WrapArrow);
        drawing.keep_clear(&[tail, bend, tip]);
        let id = format!("wrap-{}", corner.name);
        let title = format!("panel carried round corner {}", corner.name);
        drawing.group(Layer::Cloth, id, title, sign::bent_arrow(tail, bend, tip));
    }
}

/// The corners' letters, outside the room where there is space, and the flag where the walls begin.
fn corner_tags(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let kill = view.plan.kill.as_ref().map(|kill| kill.corner);
    for (index, corner) in view.room.corners.iter().enumerate() {
        let double = kill == Some(index);
        let at = view.corners[index % view.corners.len()];
        // A letter stands behind its corner; that of a free end beyond the end, in line with the wall.
        let (dx, dy) = view.end_direction(index).unwrap_or_else(|| view.inward(index));
        let along = |mm: f64| {
            let um = |share: f64| Length::micrometres((share * mm * 1e3).round() as i64);
            Point::new(at.x + um(dx), at.y + um(dy))
        };
        let first = if double { -7.5 } else { -6.5 };
        let ends = Ends::of_corner(corner.kind);
        // Behind the corner, further back where another letter stands there, else in the room.
        let mut chosen = None;
        for off in [first, first - 3.0, first - 6.0, first - 9.0, -first, 3.0 - first] {
            let tag = sign::tag(along(off), &corner.name, ends, double)?;
            let free = drawing.is_free(tag.1, false);
            if free || chosen.is_none() {
                chosen = Some((tag, off));
            }
            if free {
                break;
            }
        }
        let Some(((mut marks, area), off)) = chosen else { continue };
        let centre = along(off);
        drawing.take(area);
        drawing.signs.insert(if double { Sign::KillCorner } else { Sign::of_corner(corner.kind) });
        if index == 0 {
            let flag = Point::new(area.x0 - Length::micrometres(2_600), centre.y);
            marks.push(sign::start_flag(flag));
            drawing.take(sign::flag_area(flag));
            drawing.signs.insert(Sign::StartCorner);
        }
        let id = format!("corner-{}", corner.name);
        drawing.group(Layer::Room, id, format!("corner {}", corner.name), marks);
    }
    Ok(())
}

/// The walls' labels on the room's side, or behind the wall where the room is too narrow, and along
/// the first wall an arrow that shows which way the walls run.
fn wall_labels(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    for (index, wall) in view.room.walls.iter().enumerate() {
        let half = text::measure(&wall.label, Style::HEAD)? / 2;
        let mut places = Vec::new();
        for off in [4_300, 5_500, 7_000, 9_000, 12_000, -6_500, -9_000, -12_000, -15_000] {
            for along in [0.5, 0.35, 0.65, 0.2, 0.8] {
                let off = Length::micrometres(off);
                let off = if off > Length::ZERO { off + half / 2 } else { off - half / 2 };
                places.push((view.at(index, along, off), off > Length::ZERO));
            }
        }
        for (place, within) in places {
            let baseline = Point::new(place.x, place.y + Style::HEAD.caps.height() / 2);
            let label = text::set(wall.label.as_str(), baseline, Anchor::Middle, Style::HEAD)?;
            let area = text::area(&label);
            let own_side = corners(area.grown(Length::mm(1))).iter().all(|&p| view.within(p) == within);
            if own_side && drawing.is_free(area, true) {
                drawing.text(Layer::Room, label);
                break;
            }
        }
    }
    survey_arrow(view, drawing);
    Ok(())
}

/// The arrow along the first wall: in the room where it covers nothing, else behind the wall.
fn survey_arrow(view: &View, drawing: &mut Drawing) {
    for off in [13, 10, 17, 22, -9, -12, -15, -18] {
        let (tail, tip) = (view.at(0, 0.3, Length::mm(off)), view.at(0, 0.7, Length::mm(off)));
        let area = Rect::new(tail.x, tail.y, tip.x, tip.y).grown(Length::mm(1));
        let own_side = corners(area).iter().all(|&p| view.within(p) == (off > 0));
        if own_side && drawing.is_free(area, true) {
            drawing.take(area);
            drawing.signs.insert(Sign::SurveyArrow);
            let marks = sign::arrow(tail, tip);
            drawing.group(Layer::Room, "survey-direction", "walls run this way, seen from inside", marks);
            return;
        }
    }
}
