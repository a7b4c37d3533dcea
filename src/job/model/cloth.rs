//! How a cloth may hang.

use serde::Serialize;

/// Whether a cloth looks the same when it is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// It has a top, by its design, its weave or its nap: all its pieces hang the same way up.
    OneWay,
    /// It may be turned any way, and so be railroaded too.
    Either,
}

/// How the job wants a cloth to hang.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClothHang {
    /// The bolt's length runs up the walls, width beside width.
    Upright,
    /// The bolt's length runs along the walls: one width is as high as the wall.
    Railroaded,
    /// Whichever takes less cloth; only for a cloth that may be turned.
    Least,
}

/// Which way the pile of a one-way cloth lies: the way in which it strokes smooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Nap {
    /// It has none.
    None,
    /// Away from the bolt's first cut: down the wall when the cloth hangs upright.
    Down,
    /// Towards the bolt's first cut: up the wall when the cloth hangs upright.
    Up,
}
