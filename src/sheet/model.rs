//! Sheets: the border between the room that draws and the rooms that write files.
//!
//! A sheet is a display list: marks at fixed places. Origin at the top left corner of the sheet,
//! x right, y **down**, lengths on paper (a [`Length`] of 25.4 mm is one inch of paper). Every
//! exporter draws the same list in the same order, later marks over earlier ones.

use crate::geom::{Point, Rect};
use crate::job::model::SetWish;
use crate::picture::Picture;
use crate::units::Length;

/// The sheets for one reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetSet {
    /// Who reads it.
    pub reader: Reader,
    /// The document's title.
    pub title: String,
    /// The document's author (who installs).
    pub author: String,
    /// The date of issue, ISO 8601; empty when the job gives none.
    pub date: String,
    /// The sheets, in order.
    pub sheets: Vec<Sheet>,
}

/// The readers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reader {
    /// The crew: a binder on the scaffold.
    Crew,
    /// The workroom: cutting and sewing.
    Workroom,
    /// The designer who approves.
    Approval,
    /// The contractor, who alone sees what it costs. Only a job with prices has this set.
    Costs,
    /// Whoever repairs the room later: it is shown as built. Only a job that notes what was really done has
    /// this set.
    Record,
}

impl Reader {
    /// All readers, in the order that sets are written.
    pub const ALL: [Reader; 5] =
        [Reader::Crew, Reader::Workroom, Reader::Approval, Reader::Costs, Reader::Record];

    /// The reader of a set that a job wishes for.
    pub const fn of(set: SetWish) -> Reader {
        match set {
            SetWish::Crew => Reader::Crew,
            SetWish::Workroom => Reader::Workroom,
            SetWish::Approval => Reader::Approval,
            SetWish::Costs => Reader::Costs,
            SetWish::Record => Reader::Record,
        }
    }

    /// The set of sheets that it reads.
    pub const fn set(self) -> SetWish {
        match self {
            Reader::Crew => SetWish::Crew,
            Reader::Workroom => SetWish::Workroom,
            Reader::Approval => SetWish::Approval,
            Reader::Costs => SetWish::Costs,
            Reader::Record => SetWish::Record,
        }
    }

    /// The word used in file names and on the command line.
    pub const fn word(self) -> &'static str {
        self.set().word()
    }
}

/// One sheet of paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// A short name for files and links, unique in its set, such as `elevation-parlour-3`.
    pub key: String,
    /// The sheet's title, for bookmarks and the index.
    pub title: String,
    /// Bookmark that this one lies under, such as the room's name; empty at the top level.
    pub under: String,
    /// One or two sentences on what is shown, for readers who cannot see it.
    pub description: String,
    /// Paper width.
    pub width: Length,
    /// Paper height.
    pub height: Length,
    /// The marks.
    pub marks: Vec<Mark>,
}

/// One mark on paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A line or an outline.
    Stroke {
        /// How.
        pen: Pen,
        /// Where.
        path: Path,
    },
    /// A filled area, even-odd.
    Fill {
        /// Ink.
        ink: Ink,
        /// Where.
        path: Path,
    },
    /// A line of text.
    Text(Text),
    /// Marks seen only inside an outline.
    Clip {
        /// The outline, even-odd.
        path: Path,
        /// The marks.
        marks: Vec<Mark>,
    },
    /// The same marks at many places: a motif, a sign.
    Stamp {
        /// The marks, about their own origin.
        marks: Vec<Mark>,
        /// Where that origin goes.
        places: Vec<Point>,
    },
    /// A picture, the same size at many places: the repeats of a cloth.
    Tiles {
        /// The picture.
        picture: Picture,
        /// How wide it is on paper.
        width: Length,
        /// How high it is on paper.
        height: Length,
        /// Where its top left corner goes.
        places: Vec<Point>,
    },
    /// A place that leads to another sheet of the set.
    Link {
        /// The area.
        area: Rect,
        /// The key of the sheet.
        to: String,
    },
    /// Marks that belong together.
    Group(Group),
}

/// Marks that belong together: one thing drawn, on one layer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// The layer that viewers can switch.
    pub layer: Layer,
    /// An id, unique on the sheet when not empty, such as `strip-3B`.
    pub id: String,
    /// What it is, in words.
    pub title: String,
    /// The marks.
    pub marks: Vec<Mark>,
}

/// Layers that viewers can switch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// Frame, title block, tables, text.
    Sheet,
    /// Walls, openings, fixings, mouldings.
    Room,
    /// Strips and pattern.
    Cloth,
    /// Seams and their marks.
    Seams,
    /// Batting.
    Batting,
    /// Staple lines.
    Staples,
    /// Trim.
    Trim,
    /// Dimensions.
    Dimensions,
    /// Clouds round what has changed since another issue.
    Changes,
}

impl Layer {
    /// All layers, in the order that viewers list them.
    pub const ALL: [Layer; 9] = [
        Layer::Sheet,
        Layer::Room,
        Layer::Cloth,
        Layer::Seams,
        Layer::Batting,
        Layer::Staples,
        Layer::Trim,
        Layer::Dimensions,
        Layer::Changes,
    ];

    /// Its name in a viewer.
    pub const fn name(self) -> &'static str {
        match self {
            Layer::Sheet => "Sheet",
            Layer::Room => "Room",
            Layer::Cloth => "Cloth",
            Layer::Seams => "Seams",
            Layer::Batting => "Batting",
            Layer::Staples => "Staples",
            Layer::Trim => "Trim",
            Layer::Dimensions => "Dimensions",
            Layer::Changes => "Changes",
        }
    }
}

/// Lines and curves; each ring starts with a [`Seg::Move`].
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Path(pub Vec<Seg>);

/// A segment of a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seg {
    /// Start a ring.
    Move(Point),
    /// Straight to.
    Line(Point),
    /// Cubic Bézier with two control points, to the third.
    Cubic(Point, Point, Point),
    /// Back to the ring's start.
    Close,
}

/// A pen: width by meaning, grey and dashes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pen {
    /// Width.
    pub width: Length,
    /// Ink.
    pub ink: Ink,
    /// On and off lengths; empty for a full line.
    pub dash: &'static [Length],
}

/// An ink: its darkness in percent; everything prints in grey.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(pub u8);

impl Ink {
    /// Black.
    pub const BLACK: Ink = Ink(100);
    /// White, to knock out what lies beneath.
    pub const WHITE: Ink = Ink(0);
}

/// A line of text. Its characters are all in the font: that is checked when it is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// The characters.
    pub text: String,
    /// The baseline point that `anchor` names.
    pub at: Point,
    /// Which part of the line stands at `at`.
    pub anchor: Anchor,
    /// Weight.
    pub face: Face,
    /// Type size (the em), on paper.
    pub size: Length,
    /// Its measured width at that size.
    pub width: Length,
    /// Reads from the right: turned a quarter counter-clockwise about `at`.
    pub upward: bool,
    /// Ink.
    pub ink: Ink,
}

/// Where a text hangs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// The weights of the font.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Regular.
    Regular,
    /// Semi-bold.
    SemiBold,
}
