//! The main wall and its neighbours with the pattern of one option, small.

use crate::geom::{Point, Profile, Rect};
use crate::job::model::{Cloth, Lattice, Wall};
use crate::plan::model::{Plan, Registration, RegistrationOption, RoomOptions, Way};
use crate::plan::ribbon::{along_walls, up_walls};
use crate::sheet::drawing::group;
use crate::sheet::hole::hole_path;
use crate::sheet::mark::{level, ring, through, upright};
use crate::sheet::model::{Anchor, Ink, Layer, Mark};
use crate::sheet::scale::{Mapping, Scale};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, lattice, pen, sign, tiles};
use crate::units::Length;

/// From the foot of a run to the baseline of the labels under it.
pub const LABEL_DROP: Length = Length::micrometres(3_800);

/// A box is drawn no smaller than this.
const LEAST_BOX: Length = Length::micrometres(1_600);

/// The walls that an option is drawn on, side by side as on the ribbon.
#[derive(Clone, Debug)]
pub struct Run {
    /// Their indices, left to right.
    pub walls: Vec<usize>,
    /// Where the first begins and the last ends on the ribbon.
    pub ends: (Length, Length),
    /// Their lowest and their highest point.
    pub heights: (Length, Length),
}

impl Run {
    /// The wall of the comparison, with as many of its neighbours at both sides as a width holds.
    pub fn new(plan: &Plan, compared: &RoomOptions, width: Length) -> Self {
        let (room, planned) = (&plan.job.rooms[compared.room], &plan.rooms[compared.room]);
        let order = &planned.ribbon;
        let main = order.iter().position(|&wall| wall == compared.wall).unwrap_or(0);
        let (mut first, mut last) = (main, main);
        let wide = |first: usize, last: usize| -> Length {
            order[first..=last].iter().map(|&wall| room.walls[wall].width).sum()
        };
        loop {
            // Evenly to both sides, as far as there are walls.
            let both = (first > 0 && last + 1 < order.len()).then(|| (first - 1, last + 1));
            let one = match (first, last + 1 < order.len()) {
                (0, true) => Some((first, last + 1)),
                (1.., false) => Some((first - 1, last)),
                _ => None,
            };
            match both.or(one).filter(|&(first, last)| wide(first, last) <= width) {
                Some(more) => (first, last) = more,
                None => break,
            }
        }
        let walls = order[first..=last].to_vec();
        let start = walls.first().map_or(Length::ZERO, |&wall| planned.walls[wall].x);
        let shapes = || walls.iter().map(|&wall| &room.walls[wall]);
        let low = shapes().map(|wall| wall.floor.min_between(Length::ZERO, wall.width)).min();
        let high = shapes().map(|wall| wall.ceiling.max_between(Length::ZERO, wall.width)).max();
        let heights = (low.unwrap_or(Length::ZERO), high.unwrap_or(Length::ZERO));
        Run { ends: (start, start + wide(first, last)), walls, heights }
    }

    /// What it takes on paper, without the labels under it.
    pub fn size(&self, scale: Scale) -> Point {
        Point::new(scale.paper(self.ends.1 - self.ends.0), scale.paper(self.heights.1 - self.heights.0))
    }
}

/// The walls of a run with their openings, the motifs and the seams in sight, and their labels under
/// them; the upper left corner of the run at the origin.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn marks(
    plan: &Plan,
    compared: &RoomOptions,
    option: &RegistrationOption,
    run: &Run,
    scale: Scale,
) -> Result<Vec<Mark>, ComposeFault> {
    let room = &plan.job.rooms[compared.room];
    let id = |what: &str, label: &str| format!("{what}-{}-{label}", option.letter);
    let mut marks = Vec::new();
    for &index in &run.walls {
        let (wall, x) = (&room.walls[index], plan.rooms[compared.room].walls[index].x);
        let origin = Point::new(scale.paper(x - run.ends.0), scale.paper(run.heights.1));
        let map = Mapping { scale, origin };
        let cloth = &plan.job.cloths[room.cloth];
        if wall.clothed {
            let title = format!("pattern of option {} on wall {}", option.letter, wall.label);
            let motifs = pattern(wall, x, option, cloth, &map);
            marks.push(group(Layer::Cloth, id("pattern", &wall.label), title, motifs));
        }
        // White on both sides lets a seam be seen on a picture.
        let pens = if cloth.picture.is_some() { &[pen::SEAM_GROUND, pen::SEAM][..] } else { &[pen::SEAM] };
        let seams = option.walls.get(index).into_iter().flatten().flat_map(|seam| {
            let x = map.x(seam.x);
            seam.in_sight.iter().flat_map(move |&(low, high)| {
                pens.iter().map(move |&pen| upright(x, map.y(high), map.y(low), pen))
            })
        });
        let title = format!("seams of option {} on wall {}", option.letter, wall.label);
        marks.push(group(Layer::Seams, id("seams", &wall.label), title, seams.collect()));
        let title = format!("wall {}", wall.label);
        marks.push(group(Layer::Room, id("wall", &wall.label), title, outlines(wall, &map)));
        let under = Point::new(map.x(wall.width / 2), run.size(scale).y + LABEL_DROP);
        let label = text::set(wall.label.as_str(), under, Anchor::Middle, Style::BODY)?;
        if label.width + Length::mm(1) < scale.paper(wall.width) {
            marks.push(Mark::Text(label));
        }
    }
    Ok(marks)
}

/// The picture of the cloth in its place, or its motifs where there is none, kept to the field.
fn pattern(
    wall: &Wall,
    wall_x: Length,
    option: &RegistrationOption,
    cloth: &Cloth,
    map: &Mapping,
) -> Vec<Mark> {
    let Some(lattice) = &cloth.pattern else { return Vec::new() };
    let (top, bottom) = (wall.field_top(), wall.field_bottom());
    let points = |line: &Profile| line.between(Length::ZERO, wall.width).into_iter().map(|p| map.point(p));
    let field: Vec<Point> = points(&bottom).chain(points(&top).rev()).collect();
    let low = bottom.min_between(Length::ZERO, wall.width);
    let area = Rect::new(Length::ZERO, low, wall.width, top.max_between(Length::ZERO, wall.width));
    let marks = match &cloth.picture {
        Some(picture) => tiles::marks(picture, lattice, &option.registration, wall_x, map, area),
        None => motifs(lattice, &option.registration, wall_x, map, area),
    };
    if marks.is_empty() { marks } else { vec![Mark::Clip { path: ring(&field), marks }] }
}

fn motifs(
    lattice: &Lattice,
    registration: &Registration,
    wall_x: Length,
    map: &Mapping,
    area: Rect,
) -> Vec<Mark> {
    let centres = lattice::centres(lattice, registration, wall_x, area);
    let places: Vec<Point> = centres.into_iter().map(|p| map.point(p)).collect();
    if places.is_empty() {
        return Vec::new();
    }
    let way = registration.way;
    let (across, up) = (map.scale.paper(along_walls(lattice, way)), map.scale.paper(up_walls(lattice, way)));
    // As large as a motif may be: half the repeat up, without touching its neighbours.
    let marks = sign::motif(Point::default(), (up / 2).min(across.scale(4, 5)), way == Way::Railroaded);
    vec![Mark::Stamp { marks, places }]
}

/// Outline, edges of the field, openings, boxes.
fn outlines(wall: &Wall, map: &Mapping) -> Vec<Mark> {
    let points = |line: &Profile| -> Vec<Point> {
        line.between(Length::ZERO, wall.width).into_iter().map(|p| map.point(p)).collect()
    };
    let top = (wall.crown.height > Length::ZERO || wall.rail.is_some()).then(|| wall.field_top());
    let bottom = (wall.base.height > Length::ZERO || wall.dado.is_some()).then(|| wall.field_bottom());
    let edges = [top, bottom].into_iter().flatten();
    let mut marks: Vec<Mark> =
        edges.map(|edge| Mark::Stroke { pen: pen::HAIRLINE, path: through(&points(&edge)) }).collect();
    for opening in &wall.openings {
        let path = hole_path(map, &opening.hole());
        marks.push(Mark::Fill { ink: Ink::WHITE, path: path.clone() });
        marks.push(Mark::Stroke { pen: pen::DETAIL, path });
    }
    for fixing in &wall.fixings {
        let rect = map.rect(fixing.rect);
        let small = LEAST_BOX - rect.width().min(rect.height());
        let rect = if small > Length::ZERO { rect.grown(small / 2) } else { rect };
        marks.extend(sign::fixing(fixing.kind, rect));
    }
    let around: Vec<Point> =
        points(&wall.floor).into_iter().chain(points(&wall.ceiling).into_iter().rev()).collect();
    marks.push(Mark::Stroke { pen: pen::OPENING, path: ring(&around) });
    marks
}

/// A line over all columns of the sheet.
pub fn rule(x0: Length, x1: Length, y: Length, strong: bool) -> Mark {
    level(x0, x1, y, if strong { pen::TABLE_RULE } else { pen::HAIRLINE })
}
