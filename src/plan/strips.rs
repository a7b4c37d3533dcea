//! The pieces that strips for trim are cut from: runs that go with the bolt's length along it, the
//! others across it.

use super::lattice::{Laid, letter};
use super::model::{Piece, PieceKind, Purpose, RoomPlan, WallRef, Way};
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
/// wall coordinates. Cut up the bolt it is one piece; when the cloth is railroaded, across it.
pub fn upright_strip(
    job: &Job,
    plan: &RoomPlan,
    wish: &StripWish,
    x: Length,
    (y0, y1): (Length, Length),
) -> Vec<Piece> {
    let start = plan.walls[wish.wall.wall].x;
    let run = Run { upright: true, from: y0, to: y1, middle: start + x };
    match plan.registration.way {
        Way::Upright => along(job, plan, wish, &run),
        Way::Railroaded => across(job, plan, wish, &run),
    }
}

/// The pieces for a strip that runs along the wall from `x0` to `x1` with its middle at `y`, all
/// in wall coordinates. Cut across the bolt; when the cloth is railroaded, one piece along it.
pub fn level_strip(
    job: &Job,
    plan: &RoomPlan,
    wish: &StripWish,
    y: Length,
    (x0, x1): (Length, Length),
) -> Vec<Piece> {
    let start = plan.walls[wish.wall.wall].x;
    let run = Run { upright: false, from: start + x0, to: start + x1, middle: y };
    match plan.registration.way {
        Way::Upright => across(job, plan, wish, &run),
        Way::Railroaded => along(job, plan, wish, &run),
    }
}

/// Where a strip runs on the ribbon.
struct Run {
    /// Up the wall, or along it.
    upright: bool,
    /// Where it starts: its lower or its left end.
    from: Length,
    /// Where it ends.
    to: Length,
    /// The middle of its width.
    middle: Length,
}

impl Run {
    /// A stretch of the run, so much to each side of its middle line.
    fn stretch(&self, (from, to): (Length, Length), (before, after): (Length, Length)) -> Rect {
        if self.upright {
            Rect { x0: before, y0: from, x1: after, y1: to }
        } else {
            Rect { x0: from, y0: before, x1: to, y1: after }
        }
    }

    /// The piece that shows over `net` and is cut from `gross`, along the run.
    fn piece(
        &self,
        job: &Job,
        laid: &Laid,
        wish: &StripWish,
        label: String,
        net: (Length, Length),
        gross: (Length, Length),
    ) -> Piece {
        let hidden = wish.hidden();
        let before = self.middle - wish.width / 2;
        let after = before + wish.width;
        let net = self.stretch(net, (before + hidden, after - hidden));
        let gross = self.stretch(gross, (before, after));
        let kind = if self.upright { PieceKind::UprightStrip } else { PieceKind::LevelStrip };
        let matched = wish.matched && laid.cloth.pattern.is_some();
        let cloth = job.rooms[wish.wall.room].cloth;
        Piece::unplaced(kind, label, cloth, Purpose::Wall(wish.wall), net, gross, laid.across(&net), matched)
    }
}

/// One piece, cut along the bolt.
fn along(job: &Job, plan: &RoomPlan, wish: &StripWish, run: &Run) -> Vec<Piece> {
    let laid = Laid::of(job, wish.wall.room, plan);
    let gross = (run.from - wish.ends, run.to + wish.ends);
    vec![run.piece(job, &laid, wish, wish.label.clone(), (run.from, run.to), gross)]
}

/// Pieces cut across the bolt, each as long as the cloth and the match allow. Where the match leaves
/// less than is wanted beyond an end, the end has what there is.
fn across(job: &Job, plan: &RoomPlan, wish: &StripWish, run: &Run) -> Vec<Piece> {
    let laid = Laid::of(job, wish.wall.room, plan);
    let mut cuts = Vec::new();
    let mut from = run.from;
    while from < run.to {
        let head = if cuts.is_empty() { wish.ends } else { wish.joints };
        let (cut, to) = reach(&laid, wish, from, head, run.to);
        cuts.push((cut, from, to));
        from = to;
    }
    let many = cuts.len() > 1;
    let pieces = cuts.iter().enumerate().map(|(i, &(cut, from, to))| {
        let label = if many { format!("{}{}", wish.label, letter(i)) } else { wish.label.clone() };
        run.piece(job, &laid, wish, label, (from, to), cut)
    });
    pieces.collect()
}

/// No piece of a run across the bolt is planned shorter than this, so that every run comes to its end.
const SHORTEST: Length = Length::mm(10);

/// The cut (from and to, along the run) of a piece across the bolt that shows from `from`, and how far
/// it shows: on the leftmost column that keeps its face off the left selvage, with `head` of cloth
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
            let off = from + cloth.left_match - laid.match_line - cloth.selvage;
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
