//! The words, properties and values that rows of the table share.

use super::spec::{Count, Field, Kind, Spec, may, must};

pub(super) const PAPERS: Kind = Kind::Word(&["letter", "tabloid", "arch-b", "a4", "a3"]);
pub(super) const SETS: Kind = Kind::Word(&["crew", "workroom", "approval", "costs", "record"]);
pub(super) const SYSTEMS: Kind = Kind::Word(&["feet-inches", "inches", "mm"]);
pub(super) const SOLD_IN: Kind = Kind::Word(&["yard", "metre"]);
pub(super) const PLACES: Kind = Kind::Word(&["corner", "opening", "top", "bottom"]);
pub(super) const TRIMS: Kind =
    Kind::Word(&["single-welt", "double-welt", "braid", "gimp", "flat-band", "none"]);
pub(super) const CORNERS: Kind = Kind::Word(&["inside", "outside", "free"]);
pub(super) const SIDES: Kind = Kind::Word(&["left", "right"]);
pub(super) const SUBSTRATES: Kind = Kind::Word(&["drywall", "plaster", "panelling", "masonry"]);
pub(super) const FIRMNESS: Kind = Kind::Word(&["never", "avoid"]);
pub(super) const FREE: Kind = Kind::Word(&["free"]);
pub(super) const HANGS: Kind = Kind::Word(&["upright", "railroaded", "least"]);
pub(super) const DIRECTIONS: Kind = Kind::Word(&["one-way", "either"]);
pub(super) const NAPS: Kind = Kind::Word(&["down", "up"]);
pub(super) const PRICED: Kind = Kind::Word(&[
    "cloth", "trim", "batting", "staples", "batten", "screws", "thread", "cord", "hem-tape", "adhesive",
    "extender", "hour",
]);
pub(super) const OPENING_CLOTH: Kind = Kind::Word(&["covered", "pieced"]);

/// A node with one argument that must be there.
pub(super) const fn line(
    name: &'static str,
    within: &'static [&'static str],
    args: &'static [Field],
    doc: &'static str,
) -> Spec {
    Spec { name, within, count: Count::Maybe, args, props: &[], doc }
}

pub(super) const A_LENGTH: &[Field] = &[must("length", Kind::Length, "how much")];
pub(super) const A_TEXT: &[Field] = &[must("text", Kind::Text, "the text")];
pub(super) const A_NAME: &[Field] = &[must("name", Kind::Label, "the name")];
pub(super) const A_COUNT: &[Field] = &[must("number", Kind::Count, "how many")];

pub(super) const MOULDING: &[Field] =
    &[may("projection", Kind::Length, "how far it stands out from the wall")];

/// A crown or a base, on one wall or on all walls of a room.
pub(super) const fn moulding(name: &'static str, doc: &'static str) -> Spec {
    Spec { name, within: &["room", "wall"], count: Count::Maybe, args: A_LENGTH, props: MOULDING, doc }
}

pub(super) const FROM_LEFT: Field =
    may("from-left", Kind::Length, "from the wall's left end to the clear opening");
pub(super) const FROM_RIGHT: Field = may(
    "from-right",
    Kind::Length,
    "from the wall's right end: instead of from-left, or beside it to check the wall's width by",
);
pub(super) const WIDTH: Field = must("width", Kind::Length, "the clear width");
pub(super) const HEIGHT: Field = must("height", Kind::Length, "the clear height");
pub(super) const CASING: Field = may("casing", Kind::Length, "the face width of the casing");
pub(super) const CLOTH: Field =
    may("cloth", OPENING_CLOTH, "covered: the panel covers it and is cut free; pieced: matched pieces");
pub(super) const HEADS: Kind = Kind::Word(&["square", "round", "segment"]);
pub(super) const HEAD: Field = may("head", HEADS, "its head; the height of an arch is measured to its crown");
pub(super) const RISE: Field =
    may("rise", Kind::Length, "of a segment head, from the springing up to the crown");
pub(super) const SILL: Field = may("sill", Kind::Length, "from the floor up to the clear opening");

pub(super) const TO_FLOOR: &[Field] = &[FROM_LEFT, FROM_RIGHT, WIDTH, HEIGHT, HEAD, RISE, CASING, CLOTH];
pub(super) const A_SILL: Field = must("sill", Kind::Length, "from the floor up to the clear opening");
pub(super) const ABOVE_FLOOR: &[Field] =
    &[FROM_LEFT, FROM_RIGHT, A_SILL, WIDTH, HEIGHT, HEAD, RISE, CASING, CLOTH];
pub(super) const SQUARE_ABOVE_FLOOR: &[Field] =
    &[FROM_LEFT, FROM_RIGHT, A_SILL, WIDTH, HEIGHT, CASING, CLOTH];
pub(super) const ANY_SILL: &[Field] =
    &[FROM_LEFT, FROM_RIGHT, SILL, WIDTH, HEIGHT, HEAD, RISE, CASING, CLOTH];
pub(super) const SQUARE_ANY_SILL: &[Field] = &[FROM_LEFT, FROM_RIGHT, SILL, WIDTH, HEIGHT, CASING, CLOTH];

pub(super) const LABEL: &[Field] =
    &[may("label", Kind::Label, "its label on the sheets; numbered when left out")];

pub(super) const fn opening(name: &'static str, props: &'static [Field], doc: &'static str) -> Spec {
    Spec { name, within: &["wall"], count: Count::Any, args: LABEL, props, doc }
}

pub(super) const BOX: &[Field] = &[
    may("from-left", Kind::Length, "from the wall's left end to the middle of the box"),
    FROM_RIGHT,
    must("above-floor", Kind::Length, "from the floor up to the middle of the box"),
    may("width", Kind::Length, "the width of the box"),
    may("height", Kind::Length, "the height of the box"),
];

pub(super) const fn fixing(name: &'static str, doc: &'static str) -> Spec {
    Spec { name, within: &["wall"], count: Count::Any, args: LABEL, props: BOX, doc }
}

pub(super) const SERVICE: &[Field] = &[
    may("from-left", Kind::Length, "where it runs up the wall, from the wall's left end"),
    may("from-right", Kind::Length, "or from the wall's right end"),
    may("above-floor", Kind::Length, "or where it runs level, from the floor"),
];

pub(super) const fn service(name: &'static str, doc: &'static str) -> Spec {
    Spec { name, within: &["wall"], count: Count::Any, args: &[], props: SERVICE, doc }
}

pub(super) const fn allowance(name: &'static str, doc: &'static str) -> Spec {
    line(name, &["house"], A_LENGTH, doc)
}

pub(super) const fn rate(name: &'static str, value: &'static [Field], doc: &'static str) -> Spec {
    line(name, &["rates"], value, doc)
}

pub(super) const STRETCH: &[Field] = &[
    must("from-left", Kind::Length, "where it starts, from the wall's left end"),
    must("to", Kind::Length, "where it ends, from the wall's left end"),
];

pub(super) const SURVEY_LIMITS: &[Field] = &[
    may("closing", Kind::Length, "by how much a closed room may fail to close"),
    may("closing-part", Kind::Count, "or by one part in so many of the way round"),
    may("angles", Kind::Angle, "by how much the corners of a closed room may miss a full turn"),
    may("widths", Kind::Length, "between the widths of a wall"),
    may("heights", Kind::Length, "from a middle height to the line of the ends"),
    may("corner", Kind::Length, "between the heights of two walls at their corner"),
    may("both-ends", Kind::Length, "between the wall's width and what is taped from both ends"),
    may("back", Kind::Length, "between the widths of a wall's two sides"),
];

pub(super) const LEVELS: &[Field] = &[
    may("left", Kind::Length, "at the left end"),
    may("middle", Kind::Length, "in the middle"),
    may("right", Kind::Length, "at the right end"),
];

pub(super) const EDGE: &[Field] =
    &[may("length", Kind::Length, "the height, when it is the same everywhere")];

/// The height of an edge of the cloth above the floor, on one wall or on all walls of a room.
pub(super) const fn edge(name: &'static str, doc: &'static str) -> Spec {
    Spec { name, within: &["room", "wall"], count: Count::Maybe, args: EDGE, props: LEVELS, doc }
}

pub(super) const RAISED_FROM_LEFT: Field =
    may("from-left", Kind::Length, "from the wall's left end to its near side");
pub(super) const RAISED_WIDTH: Field = must("width", Kind::Length, "how much of the wall it takes");
pub(super) const SOFFIT: &[Field] = &[
    RAISED_FROM_LEFT,
    FROM_RIGHT,
    RAISED_WIDTH,
    must("drop", Kind::Length, "from the ceiling down to its underside"),
];
pub(super) const PLATFORM: &[Field] =
    &[RAISED_FROM_LEFT, FROM_RIGHT, RAISED_WIDTH, must("rise", Kind::Length, "from the floor up to its top")];

pub(super) const fn raised(name: &'static str, props: &'static [Field], doc: &'static str) -> Spec {
    Spec { name, within: &["wall"], count: Count::Any, args: &[], props, doc }
}
