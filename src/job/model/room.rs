//! A room of a checked job: corners, walls, openings, fixings.

use serde::Serialize;

use super::CrossChecks;
use crate::geom::{Hole, Point, Profile, Rect};
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
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
    /// A motif on the middle of an opening.
    MotifOnOpening {
        /// Its wall (index).
        wall: usize,
        /// Its place among the wall's openings.
        opening: usize,
    },
    /// A match line at the left corner of a wall (index).
    FromCorner(usize),
    /// A match line at a place of a wall.
    LineOn {
        /// The wall (index).
        wall: usize,
        /// From its left end.
        from_left: Length,
    },
    /// Wherever the room takes the least cloth; planning finds the place.
    LeastCloth,
}

impl AcrossWish {
    /// The wall that the pattern is centred on, if it is.
    pub const fn centred(self) -> Option<usize> {
        match self {
            AcrossWish::MotifCentred(wall) | AcrossWish::SeamCentred(wall) => Some(wall),
            _ => None,
        }
    }

    /// The wall that the pattern is placed on, if the wish names one.
    pub const fn wall(self) -> Option<usize> {
        match self {
            AcrossWish::MotifCentred(wall)
            | AcrossWish::SeamCentred(wall)
            | AcrossWish::MotifOnOpening { wall, .. }
            | AcrossWish::FromCorner(wall)
            | AcrossWish::LineOn { wall, .. } => Some(wall),
            AcrossWish::LeastCloth => None,
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
    /// How far, by the diagonals, an end lies beyond its place at mid height; zero when none were taken.
    pub lean: Length,
    /// The ceiling, or whatever the wall ends at, over 0..width; y up from the datum.
    pub ceiling: Profile,
    /// The floor over 0..width; y up from the datum.
    pub floor: Profile,
    /// The moulding at the top; zero height when there is none.
    pub crown: Moulding,
    /// The moulding at the bottom; zero height when there is none.
    pub base: Moulding,
    /// The top of a dado or wainscot that the cloth begins on, y up from the datum; `None` where the
    /// cloth begins at the base.
    pub dado: Option<Profile>,
    /// The underside of a picture rail or frieze that the cloth ends under, y up from the datum; `None`
    /// where the cloth ends at the crown.
    pub rail: Option<Profile>,
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
    /// What else was measured, to check the survey by.
    pub cross_checks: CrossChecks,
}

/// A floor that lies higher all along its wall is a landing: nobody tapes from below it.
const LANDING: Length = Length::inches(6);

/// A floor that goes farther below the datum belongs to another storey: nobody tapes from above it.
const FAR_BELOW: Length = Length::feet(2);

impl Wall {
    /// The underside of the crown; the ceiling where there is none.
    pub fn crown_line(&self) -> Profile {
        self.ceiling.raised(-self.crown.height)
    }

    /// The top of the base; the floor where there is none.
    pub fn base_line(&self) -> Profile {
        self.floor.raised(self.base.height)
    }

    /// The upper edge of the field that cloth covers: the underside of the rail or, where there is none
    /// or it lies lower, as at a beam, that of the crown.
    pub fn field_top(&self) -> Profile {
        let crown = self.crown_line();
        self.rail.as_ref().map_or(crown.clone(), |rail| rail.lower_of(&crown))
    }

    /// The lower edge of the field: the top of the dado or of the base, whichever is higher.
    pub fn field_bottom(&self) -> Profile {
        let base = self.base_line();
        self.dado.as_ref().map_or(base.clone(), |dado| dado.higher_of(&base))
    }

    /// What heights on the wall are told from: the level datum, or, on a landing above it or far below it, the
    /// lowest floor of the wall.
    pub fn heights_from(&self) -> Length {
        let lowest = self.floor.min_between(Length::ZERO, self.width);
        if lowest > LANDING || lowest < -FAR_BELOW { lowest } else { Length::ZERO }
    }

    /// What the cloth ends at: "rail", "crown" or "top edge".
    pub fn top_word(&self) -> &'static str {
        match (&self.rail, self.crown.height > Length::ZERO) {
            (Some(_), _) => "rail",
            (None, true) => "crown",
            (None, false) => "top edge",
        }
    }

    /// What the cloth begins at: "dado", "base" or "bottom edge".
    pub fn bottom_word(&self) -> &'static str {
        match (&self.dado, self.base.height > Length::ZERO) {
            (Some(_), _) => "dado",
            (None, true) => "base",
            (None, false) => "bottom edge",
        }
    }

    /// Whether any of a rectangle lies between the edges of the field: a box in a dado does not.
    pub fn in_field(&self, rect: &Rect) -> bool {
        rect.y1 > self.field_bottom().min_between(rect.x0, rect.x1)
            && rect.y0 < self.field_top().max_between(rect.x0, rect.x1)
    }

    /// The boxes and fittings that the cloth has to do with.
    pub fn fixings_in_field(&self) -> impl Iterator<Item = &Fixing> {
        self.fixings.iter().filter(|fixing| self.in_field(&fixing.rect))
    }

    /// The labels of the openings and of the boxes and fittings that an upright line at `x` crosses.
    pub fn crossed(&self, x: Length) -> impl Iterator<Item = &str> {
        let in_field = self.openings.iter().filter(|opening| self.in_field(&opening.outer));
        let openings = in_field.map(|o| (o.outer, o.label.as_str()));
        let fixings = self.fixings_in_field().map(|f| (f.rect, f.label.as_str()));
        openings.chain(fixings).filter(move |(r, _)| r.x0 < x && x < r.x1).map(|(_, label)| label)
    }

    /// By how much the corners lean beyond the wall's ends on the ribbon: what the wall is wider at its
    /// widest, or what its diagonals tell, whichever is more.
    pub fn lean(&self) -> Length {
        (self.width_top.max(self.width_bottom).max(self.width) - self.width).max(self.lean)
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
    /// Its head.
    pub head: Head,
    /// What the cloth does here.
    pub cloth: OpeningCloth,
}

impl Opening {
    /// The outline of the clear opening.
    pub fn clear_hole(&self) -> Hole {
        Hole { rect: self.clear, rise: self.head.clear_rise }
    }

    /// The outline of its casing: what the cloth is cut along.
    pub fn hole(&self) -> Hole {
        Hole { rect: self.outer, rise: self.head.outer_rise }
    }
}

/// The head of an opening: how far the crown of its arch stands above the springing. The casing's
/// arch has the same centre as the clear opening's.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Head {
    /// Of the clear opening; zero for a square head, half the width for a round one.
    pub clear_rise: Length,
    /// Of the outside of the casing.
    pub outer_rise: Length,
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

impl OpeningKind {
    /// Whether people go through it.
    pub fn is_way(self) -> bool {
        matches!(self, OpeningKind::Door | OpeningKind::Archway)
    }
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

impl OpeningCloth {
    /// The other of the two.
    pub const fn other(self) -> Self {
        match self {
            Self::CoveredThrough => Self::Pieced,
            Self::Pieced => Self::CoveredThrough,
        }
    }
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
