//! A room of a checked job: corners, walls, openings, fixings.

use serde::Serialize;

use crate::geom::{Point, Profile, Rect};
use crate::units::{Angle, Length};

/// A room: walls and corners, alternating.
///
/// A closed room has as many corners as walls: `corners[i]` stands at the left of `walls[i]`, and
/// `corners[0]` also at the right of the last wall. An open run has one corner more than walls.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// Index into [`super::Job::cloths`].
    pub cloth: usize,
    /// Whether the last wall meets the first.
    pub closed: bool,
    /// The corners, left to right.
    pub corners: Vec<Corner>,
    /// The walls, left to right; at least one is clothed.
    pub walls: Vec<Wall>,
    /// The year the building was built; 0 when not known (then the cautions say so).
    pub year: u16,
    /// Whether the public enters: fire classes matter more.
    pub public: bool,
    /// Whether wall or ceiling carries sprayed or trowelled texture.
    pub textured: bool,
    /// Where the pattern starts.
    pub registration: RegistrationWish,
    /// The corner where the pattern may fail to meet, as an index into `corners`; the ribbon is
    /// unrolled from there. Only used in a closed room.
    pub kill_corner: usize,
    /// Wishes for the order of work: the first wall, an index into `walls`, is hung before the second.
    pub hang_order: Vec<(usize, usize)>,
}

impl Room {
    /// The index of the corner at the right end of wall `wall`.
    pub fn right_corner(&self, wall: usize) -> usize {
        if self.closed { (wall + 1) % self.corners.len() } else { wall + 1 }
    }
}

/// Where two walls meet, or where a run ends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Corner {
    /// Its letter or name.
    pub name: String,
    /// What it is.
    pub kind: CornerKind,
    /// The angle between the walls, measured inside the room: 90 inside, 270 outside.
    pub angle: Angle,
    /// A metal bead that turns staples: sewn or glued instead.
    pub metal_bead: bool,
    /// At an outside corner: which wall's panel is carried round. The other wall's panel is folded.
    pub wraps: Side,
}

/// Kinds of corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CornerKind {
    /// Less than 180 degrees inside the room.
    Inside,
    /// More than 180 degrees inside the room.
    Outside,
    /// The cloth ends on the wall.
    FreeEnd,
}

/// Left or right, seen from inside the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Side {
    /// The other side.
    pub fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }
}

/// Where the pattern's origin (the centre of a motif) is placed across the room.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RegistrationWish {
    /// Across.
    pub across: AcrossWish,
    /// From the highest point of the field, on any clothed wall of the room, down to the centre
    /// of the first whole motif.
    pub below_crown: Length,
}

/// Choices for the pattern across.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum AcrossWish {
    /// A motif on the middle of a wall (index).
    MotifCentred(usize),
    /// A seam on the middle of a wall (index): a match line stands there.
    SeamCentred(usize),
    /// A match line at the left corner of a wall (index).
    FromCorner(usize),
}

impl AcrossWish {
    /// The wall that the pattern is centred on, if it is.
    pub const fn centred(self) -> Option<usize> {
        match self {
            AcrossWish::MotifCentred(wall) | AcrossWish::SeamCentred(wall) => Some(wall),
            AcrossWish::FromCorner(_) => None,
        }
    }
}

/// What a wall is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Substrate {
    /// Gypsum board.
    Drywall,
    /// Plaster on lath.
    Plaster,
    /// Wooden panelling.
    Panelling,
    /// Brick, block or stone: needs battens.
    Masonry,
}

/// A wall, seen from inside the room.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Wall {
    /// Its short label, unique in the room, such as "3".
    pub label: String,
    /// Its name, such as "chimney breast"; may be empty.
    pub name: String,
    /// Whether cloth goes on it.
    pub clothed: bool,
    /// The width on the ribbon: at mid height.
    pub width: Length,
    /// The width at the top.
    pub width_top: Length,
    /// The width at the bottom.
    pub width_bottom: Length,
    /// The ceiling, or whatever the wall ends at, over 0..width; y up from the datum.
    pub ceiling: Profile,
    /// The floor over 0..width; y up from the datum.
    pub floor: Profile,
    /// The moulding at the top; zero height when there is none.
    pub crown: Moulding,
    /// The moulding at the bottom; zero height when there is none.
    pub base: Moulding,
    /// What it is made of.
    pub substrate: Substrate,
    /// Openings and built-ins, left to right.
    pub openings: Vec<Opening>,
    /// Boxes, switches, vents, sconces, left to right.
    pub fixings: Vec<Fixing>,
    /// Pipes and cables that are known to run behind the wall.
    pub services: Vec<Service>,
    /// Stretches, from and to along x, in which no seam may stand; both ends are allowed to it.
    pub no_seam: Vec<(Length, Length)>,
}

impl Wall {
    /// The upper edge of the field that cloth covers: the underside of the crown.
    pub fn field_top(&self) -> Profile {
        self.ceiling.raised(-self.crown.height)
    }

    /// The lower edge of the field: the top of the base.
    pub fn field_bottom(&self) -> Profile {
        self.floor.raised(self.base.height)
    }

    /// How much wider the wall is at its widest than on the ribbon: the corners lean by up to this.
    pub fn lean(&self) -> Length {
        self.width_top.max(self.width_bottom).max(self.width) - self.width
    }
}

/// A moulding along the top or the bottom of a wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Moulding {
    /// Along the wall, vertically.
    pub height: Length,
    /// Out from the wall.
    pub projection: Length,
}

/// A pipe or a cable that runs behind a wall, from end to end of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Service {
    /// What it is.
    pub kind: ServiceKind,
    /// Its lower or left end, in wall coordinates.
    pub from: Point,
    /// Its upper or right end.
    pub to: Point,
}

/// Kinds of service.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ServiceKind {
    /// Water, gas or heating.
    Pipe,
    /// Electricity or signals.
    Cable,
}

impl ServiceKind {
    /// "pipe" or "cable".
    pub const fn word(self) -> &'static str {
        match self {
            ServiceKind::Pipe => "pipe",
            ServiceKind::Cable => "cable",
        }
    }
}

/// An opening or a built-in in a wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Opening {
    /// Its label, unique in the room, such as "W1".
    pub label: String,
    /// What it is.
    pub kind: OpeningKind,
    /// The clear opening, without casing, in wall coordinates.
    pub clear: Rect,
    /// The face width of the casing at left, right and top (and at the bottom of a window).
    pub casing: Length,
    /// The outside of the casing: where the cloth ends.
    pub outer: Rect,
    /// What the cloth does here.
    pub cloth: OpeningCloth,
}

/// Kinds of opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum OpeningKind {
    /// A door.
    Door,
    /// A window.
    Window,
    /// An opening without a door.
    Archway,
    /// A recess.
    Niche,
    /// A fireplace with its surround.
    Fireplace,
    /// A mantel shelf and its legs.
    Mantel,
    /// A bookcase, a cupboard.
    BuiltIn,
}

/// What the cloth does at an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum OpeningCloth {
    /// The panel covers it whole and is cut free after stapling.
    CoveredThrough,
    /// Matched pieces over and under.
    Pieced,
}

/// A box or a fitting on a wall.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fixing {
    /// Its label, unique in the room, such as "X3".
    pub label: String,
    /// What it is.
    pub kind: FixingKind,
    /// The box itself, in wall coordinates.
    pub rect: Rect,
}

impl Fixing {
    /// The middle of the box.
    pub fn centre(&self) -> Point {
        Point::new((self.rect.x0 + self.rect.x1) / 2, (self.rect.y0 + self.rect.y1) / 2)
    }
}

/// Kinds of fixing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FixingKind {
    /// A light switch.
    Switch,
    /// A socket outlet or another box.
    Box,
    /// A wall light.
    Sconce,
    /// A vent or grille.
    Vent,
    /// A thermostat.
    Thermostat,
}

impl FixingKind {
    /// Whether a licensed electrician's cautions apply.
    pub fn electrical(self) -> bool {
        !matches!(self, FixingKind::Vent)
    }
}
