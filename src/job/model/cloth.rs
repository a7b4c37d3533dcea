//! How a cloth may hang.

use serde::Serialize;

use crate::share::Share;
use crate::units::Length;

/// Whether a cloth looks the same when it is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// It has a top, by its design, its weave or its nap: all its pieces hang the same way up.
    OneWay,
    /// It may be turned any way, and so be railroaded too.
    Either,
}

/// What a cloth loses when it is relaxed, before anything is cut from it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Shrinkage {
    /// Of its length.
    pub along: Share,
    /// Of its width.
    pub across: Share,
}

impl Shrinkage {
    /// Whether there is any.
    pub fn any(self) -> bool {
        self != Shrinkage::default()
    }

    /// "3 % along and 1 % across", without what there is none of.
    pub fn words(self) -> String {
        let parts = [(self.along, "along"), (self.across, "across")];
        let told = parts.iter().filter(|(share, _)| *share != Share::NONE);
        told.map(|(share, way)| format!("{} {way}", share.print())).collect::<Vec<_>>().join(" and ")
    }
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

/// A piece of cloth that no wall needs: for approval, for a fire test, to keep for repairs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sample {
    /// Its label, unique in the job, such as "Sample 2".
    pub label: String,
    /// Whom or what it is for, such as "the fire test"; may be empty.
    pub purpose: String,
    /// Across the bolt, as it is cut; the whole width has its selvages.
    pub width: Length,
    /// Along the bolt, as it is cut.
    pub length: Length,
    /// Whether the centre of a motif stands in its middle; else it is cut from anywhere.
    pub motif: bool,
}
