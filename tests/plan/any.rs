//! Rooms of every shape, for laws that hold in all of them.

use clothwright::geom::{Point, Profile, Rect};
use clothwright::job::model::*;
use clothwright::units::Length;
use proptest::prelude::*;

use crate::rooms::*;

/// The measures of one wall, in sixty-fourths of an inch and in parts of the width.
#[derive(Clone, Debug)]
struct Shape {
    width: i64,
    heights: [i64; 3],
    base: i64,
    crown: i64,
    clothed: bool,
    hole: Option<(OpeningKind, i64, i64, i64)>,
    box_at: Option<(i64, i64)>,
    substrate: Substrate,
}

prop_compose! {
    fn shape()(
        width in 12 * 64..260 * 64_i64,
        heights in prop::array::uniform3(84 * 64..140 * 64_i64),
        base in 0..8 * 64_i64,
        crown in 0..6 * 64_i64,
        clothed in prop::bool::weighted(0.85),
        hole in prop::option::of((
            prop::sample::select(vec![OpeningKind::Door, OpeningKind::Window, OpeningKind::Fireplace]),
            5..40_i64, 45..95_i64, 40..80_i64,
        )),
        box_at in prop::option::of((10..90_i64, 10..70_i64)),
        substrate in prop::sample::select(vec![Substrate::Drywall, Substrate::Plaster, Substrate::Masonry]),
    ) -> Shape {
        Shape { width, heights, base, crown, clothed, hole, box_at, substrate }
    }
}

fn wall_of(index: usize, shape: &Shape) -> Wall {
    let width = sixty_fourths(shape.width);
    let mut built = wall(&(index + 1).to_string(), width, inch(100));
    let at = |i: usize| Point::new(width * i as i64 / 2, sixty_fourths(shape.heights[i]));
    built.ceiling = Profile::new(vec![at(0), at(1), at(2)]).expect("three places");
    built.base.height = sixty_fourths(shape.base);
    built.crown.height = sixty_fourths(shape.crown);
    built.clothed = shape.clothed;
    built.substrate = shape.substrate;
    if let Some((kind, from, to, top)) = shape.hole {
        let foot = if kind == OpeningKind::Window { inch(20) } else { Length::ZERO };
        let outer = Rect::new(width * from / 100, foot, width * to / 100, inch(top));
        built.openings.push(opening(&format!("O{}", index + 1), kind, outer, OpeningCloth::CoveredThrough));
    }
    if let Some((x, y)) = shape.box_at {
        let (x, y) = (width * x / 100, inch(y));
        let rect = Rect::new(x, y, x + inch(2), y + inch(3));
        built.fixings.push(Fixing { label: format!("X{}", index + 1), kind: FixingKind::Box, rect });
    }
    built
}

prop_compose! {
    /// A closed room of three to nine walls, of mixed corners and uneven heights, in plain cloth.
    pub fn any_job()(
        shapes in prop::collection::vec(shape(), 3..9),
        outside in prop::collection::vec((prop::bool::weighted(0.3), prop::bool::ANY, prop::bool::weighted(0.2)), 9),
        unbroken in prop::bool::ANY,
        roll in 24..60_i64,
    ) -> Job {
        let mut walls: Vec<Wall> = shapes.iter().enumerate().map(|(i, s)| wall_of(i, s)).collect();
        walls[0].clothed = true;
        let angles: Vec<Option<i64>> =
            (0..walls.len()).map(|i| Some(if outside[i].0 { 270 } else { 90 })).collect();
        let mut room = room(walls, &angles, AcrossWish::FromCorner(0));
        for (corner, (_, left, bead)) in room.corners.iter_mut().zip(&outside) {
            corner.wraps = if *left { Side::Left } else { Side::Right };
            corner.metal_bead = *bead;
        }
        let mut job = job(cloth(None), vec![room]);
        job.batting.roll_width = inch(roll);
        job.trims.corner = welt(true);
        job.trims.opening = welt(false);
        job.trims.bottom = welt(true);
        job.trims.top = braid(unbroken);
        job
    }
}
