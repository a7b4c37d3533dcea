//! The pieces that strips for trim are cut from, upright runs up the bolt and level runs across it.

use super::lattice::{Laid, letter};
use super::model::{Piece, PieceKind, RoomPlan, WallRef};
use crate::geom::Rect;
use crate::job::model::Job;
use crate::units::Length;

/// A strip for trim: where it runs and how it is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripWish {
    /// The wall that it lies on.
    pub wall: WallRef,
    /// Label of the piece; a letter is added where a run needs several.
    pub label: String,
    /// Width of the strip, across its run.
    pub width: Length,
    /// Cloth wanted beyond each end of the run.
    pub ends: Length,
    /// Cloth beyond each joint between two pieces of one run.
    pub joints: Length,
    /// Whether its pattern meets the pattern of the wall.
    pub matched: bool,
}

impl StripWish {
    /// How much of the strip, at each side of its run, is sewn in and never shows: the joint's
    /// allowance, but at most a third of the strip.
    fn hidden(&self) -> Length {
        self.joints.min(self.width / 3)
    }
}

/// The pieces for a strip that runs up the wall from `y0` to `y1` with its middle at `x`, all in
/// wall coordinates: one, cut up the bolt.
pub fn upright_strip(
    job: &Job,
    plan: &RoomPlan,
    wish: &StripWish,
    x: Length,
    (y0, y1): (Length, Length),
) -> Vec<Piece> {
    let left = plan.walls[wish.wall.wall].x + x - wish.width / 2;
    let (right, hidden) = (left + wish.width, wish.hidden());
    let net = Rect::new(left + hidden, y0, right - hidden, y1);
    let gross = Rect { x0: left, y0: net.y0 - wish.ends, x1: right, y1: net.y1 + wish.ends };
    vec![piece(job, wish, wish.label.clone(), PieceKind::UprightStrip, net, gross)]
}

/// The pieces for a strip that runs along the wall from `x0` to `x1` with its middle at `y`, all
/// in wall coordinates: cut across the bolt, each as long as the cloth and the match allow. Where
/// the match leaves less than is wanted beyond an end, the end has what there is.
pub fn level_strip(
    job: &Job,
    plan: &RoomPlan,
    wish: &StripWish,
    y: Length,
    (x0, x1): (Length, Length),
) -> Vec<Piece> {
    let laid = Laid::of(job, wish.wall.room, plan);
    let start = plan.walls[wish.wall.wall].x;
    let (end, bottom, hidden) = (start + x1, y - wish.width / 2, wish.hidden());
    let top = bottom + wish.width;
    let mut cuts = Vec::new();
    let mut from = start + x0;
    while from < end {
        let head = if cuts.is_empty() { wish.ends } else { wish.joints };
        let (cut, to) = reach(&laid, wish, from, head, end);
        cuts.push((cut, from, to));
        from = to;
    }
    let many = cuts.len() > 1;
    let pieces = cuts.iter().enumerate().map(|(i, &(cut, from, to))| {
        let label = if many { format!("{}{}", wish.label, letter(i)) } else { wish.label.clone() };
        let net = Rect { x0: from, y0: bottom + hidden, x1: to, y1: top - hidden };
        let gross = Rect { x0: cut.0, y0: bottom, x1: cut.1, y1: top };
        piece(job, wish, label, PieceKind::LevelStrip, net, gross)
    });
    pieces.collect()
}

/// No piece of a level run is planned shorter than this, so that every run comes to its end.
const SHORTEST: Length = Length::mm(10);

/// The cut (left and right on the ribbon) of a level piece that shows from `from`, and how far it
/// shows: on the leftmost column that keeps its face off the left selvage, with `head` of cloth
/// before it if that column has as much.
fn reach(
    laid: &Laid,
    wish: &StripWish,
    from: Length,
    head: Length,
    end: Length,
) -> ((Length, Length), Length) {
    let cloth = laid.cloth;
    let u = match (&cloth.pattern, wish.matched) {
        (Some(lattice), true) => {
            let off = from + cloth.left_match - laid.match_x - cloth.selvage;
            cloth.selvage + off.rem_euclid(lattice.horizontal)
        }
        _ => cloth.selvage.max(head),
    };
    let cut_start = from - head.min(u);
    let cloth_until = from + cloth.width - u;
    let shows_until = cloth_until - cloth.selvage;
    if end <= shows_until {
        return ((cut_start, (end + wish.ends).min(cloth_until)), end);
    }
    let to = shows_until.min(cloth_until - wish.joints).max(from + SHORTEST).min(end);
    ((cut_start, to + wish.joints), to)
}

fn piece(job: &Job, wish: &StripWish, label: String, kind: PieceKind, net: Rect, gross: Rect) -> Piece {
    let cloth = job.rooms[wish.wall.room].cloth;
    let matched = wish.matched && job.cloths[cloth].pattern.is_some();
    Piece::unplaced(kind, label, cloth, wish.wall, net, gross, (net.x0, net.x1), matched)
}
