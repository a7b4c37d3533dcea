//! The plan view of a room, from wall widths and corner angles.
//!
//! A surveyed room never closes exactly. As in a land traverse the angles are balanced first, evenly
//! over the corners ([`traverse`]), and the gap that is left is then spread along the walls in
//! proportion to their widths (the compass rule). The result is for drawing only: no cut is made from it.

use super::model::Outline;
use crate::geom::Point;
use crate::job::model::Room;
use crate::job::survey::traverse::{self, rounded};

/// The outline of a room as the survey draws it: the first wall runs to the right (the room lies
/// below it), the next ones clockwise, x right and y up, origin at the first corner.
pub fn of(room: &Room) -> Outline {
    let walk = traverse::walk(room);
    let (miss_x, miss_y) = if room.closed { walk.miss() } else { (0.0, 0.0) };
    let whole: f64 = room.walls.iter().map(|wall| wall.width.nm() as f64).sum::<f64>().max(1.0);
    let mut run = 0.0;
    let mut points = Vec::with_capacity(walk.points.len());
    for (i, &(x, y)) in walk.points.iter().enumerate() {
        let part = run / whole;
        points.push(Point::new(rounded(x - miss_x * part), rounded(y - miss_y * part)));
        run += room.walls.get(i).map_or(0.0, |wall| wall.width.nm() as f64);
    }
    if room.closed {
        points.pop();
    }
    Outline { points, miss: rounded(miss_x.hypot(miss_y)), angle_miss: walk.angle_miss }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Profile;
    use crate::job::model::*;
    use crate::units::{Angle, Length};

    fn wall(inches: i64) -> Wall {
        let width = Length::inches(inches);
        let level =
            |y| Profile::new(vec![Point::new(Length::ZERO, y), Point::new(width, y)]).expect("two points");
        Wall {
            label: inches.to_string(),
            name: String::new(),
            clothed: true,
            width,
            width_top: width,
            width_bottom: width,
            lean: Length::ZERO,
            ceiling: level(Length::feet(9)),
            floor: level(Length::ZERO),
            crown: Moulding::default(),
            base: Moulding::default(),
            dado: None,
            rail: None,
            substrate: Substrate::Drywall,
            openings: Vec::new(),
            fixings: Vec::new(),
            services: Vec::new(),
            no_seam: Vec::new(),
            cross_checks: CrossChecks::default(),
        }
    }

    fn room(closed: bool, walls: &[i64], angles: &[i64]) -> Room {
        let corner = |&degrees: &i64| Corner {
            name: "A".into(),
            kind: if degrees < 180 { CornerKind::Inside } else { CornerKind::Outside },
            angle: Angle::degrees(degrees),
            metal_bead: false,
            wraps: Side::Left,
        };
        Room {
            name: "Parlour".into(),
            cloth: 0,
            closed,
            corners: angles.iter().map(corner).collect(),
            walls: walls.iter().copied().map(wall).collect(),
            year: 0,
            public: false,
            textured: false,
            registration: RegistrationWish { across: AcrossWish::FromCorner(0), below_crown: Length::ZERO },
            kill_corner: 0,
            hang_order: Vec::new(),
        }
    }

    fn inches(x: i64, y: i64) -> Point {
        Point::new(Length::inches(x), Length::inches(y))
    }

    /// Derived: a chimney breast 50 wide and 20 deep on a wall of 150, drawn by hand.
    #[test]
    fn a_room_that_closes_is_drawn_as_it_is() {
        let walls = [50, 20, 50, 20, 50, 100, 150, 100];
        let outline = of(&room(true, &walls, &[90, 90, 270, 270, 90, 90, 90, 90]));
        assert_eq!((outline.miss, outline.angle_miss), (Length::ZERO, Angle::degrees(0)));
        let expected = [(0, 0), (50, 0), (50, -20), (100, -20), (100, 0), (150, 0), (150, -100), (0, -100)];
        assert_eq!(outline.points, expected.map(|(x, y)| inches(x, y)));
    }

    /// Derived: a rectangle whose last wall was taped 4 in short misses by 4 in.
    #[test]
    fn an_error_of_closing_is_stated_and_spread() {
        let outline = of(&room(true, &[100, 50, 100, 46], &[90, 90, 90, 90]));
        assert_eq!(outline.miss, Length::inches(4));
        let spread = outline.points[1].y;
        assert!(Length::ZERO < spread.abs() && spread.abs() < Length::inches(2), "{spread}");
    }

    #[test]
    fn turns_that_do_not_add_up_are_balanced() {
        let outline = of(&room(true, &[100, 50, 100, 50], &[90, 90, 90, 88]));
        assert_eq!(outline.angle_miss, Angle::degrees(2));
        assert_eq!(outline.points[0], inches(0, 0));
    }

    #[test]
    fn an_open_run_closes_nowhere() {
        let outline = of(&room(false, &[100], &[90, 90]));
        assert_eq!(outline.points, [inches(0, 0), inches(100, 0)]);
        assert_eq!(outline.miss, Length::ZERO);
    }
}
