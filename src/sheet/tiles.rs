//! The picture of one repeat, laid in phase over a part of a wall.

use super::lattice;
use super::mark::filled;
use super::model::{Ink, Mark};
use super::scale::Mapping;
use crate::geom::{Point, Rect};
use crate::job::model::Lattice;
use crate::picture::Picture;
use crate::plan::model::{Registration, Way};
use crate::units::Length;

/// The repeats that a part of a wall shows, on a ground of the picture's own lightness; to be clipped
/// by the caller. `area` is in the wall's coordinates, whose left end stands at `wall_x` on the ribbon.
/// None where a repeat is too small to draw.
pub fn marks(
    picture: &Picture,
    lattice: &Lattice,
    registration: &Registration,
    wall_x: Length,
    map: &Mapping,
    area: Rect,
) -> Vec<Mark> {
    let (across, along) = (map.scale.paper(lattice.horizontal), map.scale.paper(lattice.vertical));
    let (picture, width, height) = match registration.way {
        Way::Upright => (picture.clone(), across, along),
        Way::Railroaded => (picture.turned(), along, across),
    };
    let corner = |centre: Point| {
        let centre = map.point(centre);
        Point::new(centre.x - width / 2, centre.y - height / 2)
    };
    let places: Vec<Point> =
        lattice::centres(lattice, registration, wall_x, area).into_iter().map(corner).collect();
    if places.is_empty() || width <= Length::ZERO || height <= Length::ZERO {
        return Vec::new();
    }
    // Viewers soften the edge of every tile: what shines through there is then no lighter than the cloth.
    let ground = Ink(((255 - u32::from(picture.lightness())) * 100 / 255) as u8);
    vec![filled(map.rect(area), ground), Mark::Tiles { picture, width, height, places }]
}
