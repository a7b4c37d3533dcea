//! Starts of one room's pattern, each planned with the room cut by itself, side by side.
//!
//! Starts that come to the same cuts are cut once: such are a motif on the middle of a wall and one on the
//! fireplace that stands there, two places a repeat apart, or two heights of one place where no bolt is
//! there whose pattern is known.

use rayon::prelude::*;

use super::lattice::Laid;
use super::model::{Bolt, ClothPlan, Piece, PieceKind, Purpose, Registration, RoomPlan, Way};
use super::{OnWalls, PlanFault, bolt, on_walls, ribbon};
use crate::job::model::{Job, RegistrationWish};
use crate::units::Length;

/// A room with one start of its pattern, and what it takes.
pub(super) struct Start {
    /// The room; its pieces are not told.
    pub room: RoomPlan,
    /// What its pieces take.
    pub takes: Takes,
}

/// What a room takes that is cut by itself.
#[derive(Clone, Copy)]
pub(super) struct Takes {
    /// Cuts made already that serve no piece.
    pub in_vain: usize,
    /// The order, counted in what the cloth is sold in.
    pub order_units: i64,
    /// Length of cloth used.
    pub used: Length,
}

impl Takes {
    /// What the plan of a cloth takes.
    pub fn of(cloth: &ClothPlan) -> Takes {
        Takes { in_vain: in_vain(&cloth.bolts), order_units: cloth.order_units, used: cloth.used }
    }
}

fn in_vain<'b>(bolts: impl IntoIterator<Item = &'b Bolt>) -> usize {
    bolts.into_iter().flat_map(|bolt| &bolt.made).filter(|made| made.serves.is_none()).count()
}

/// The starts of the only room of a job.
pub(super) struct Starts<'a> {
    alone: &'a Job,
    way: Way,
    /// What cuts come to, each list of them once.
    known: Vec<(Vec<Shape>, Result<Takes, PlanFault>)>,
}

/// A piece as laying out sees it: equal lists of them come to equal plans of the bolts.
#[derive(PartialEq, Eq)]
struct Shape {
    purpose: Purpose,
    kind: PieceKind,
    label: String,
    width: Length,
    length: Length,
    /// Whether it must lie at one of the `places`.
    matched: bool,
    /// Places across the cloth and their phases; counted from the first of all where they may be
    /// counted from anywhere.
    places: Vec<(Length, Length)>,
    /// Between which places across the cloth it lies.
    range: (Length, Length),
}

/// A start with its cuts.
struct Hung {
    walls: OnWalls,
    shapes: Vec<Shape>,
}

impl<'a> Starts<'a> {
    /// Starts of the only room of `alone`, whose cloth hangs that way.
    pub fn new(alone: &'a Job, way: Way) -> Self {
        Starts { alone, way, known: Vec::new() }
    }

    /// Notes what a start takes that has been planned before.
    pub fn note(&mut self, wish: RegistrationWish, takes: Takes) {
        if let Ok(hung) = self.hang(wish) {
            self.known.push((hung.shapes, Ok(takes)));
        }
    }

    /// Plans starts and tells of them in their order.
    pub fn plan(&mut self, wishes: &[RegistrationWish]) -> Vec<Result<Start, PlanFault>> {
        let hung: Vec<Result<Hung, PlanFault>> = wishes.par_iter().map(|wish| self.hang(*wish)).collect();
        // Which starts are cut is settled before any is, so that it depends on no thread.
        let mut fresh: Vec<Hung> = Vec::new();
        let mut starts: Vec<Result<(RoomPlan, usize), PlanFault>> = Vec::new();
        for hung in hung {
            starts.push(hung.map(|mut hung| {
                let room = hung.walls.rooms.swap_remove(0);
                let known = self.known.iter().map(|known| &known.0);
                let mut lists = known.chain(fresh.iter().map(|other| &other.shapes));
                let at = lists.position(|shapes| *shapes == hung.shapes);
                let new = self.known.len() + fresh.len();
                if at.is_none() {
                    hung.walls.rooms.push(room.clone());
                    fresh.push(hung);
                }
                (room, at.unwrap_or(new))
            }));
        }
        let takes: Vec<_> = fresh.par_iter().map(|hung| self.cut(&hung.walls)).collect();
        self.known.extend(fresh.into_iter().map(|hung| hung.shapes).zip(takes));
        let told = |start: Result<(RoomPlan, usize), PlanFault>| {
            let (room, at) = start?;
            self.known[at].1.clone().map(|takes| Start { room, takes })
        };
        starts.into_iter().map(told).collect()
    }

    /// The room's job with that start.
    fn job(&self, wish: RegistrationWish) -> Job {
        let mut job = self.alone.clone();
        job.rooms[0].registration = wish;
        job
    }

    /// Where the pattern lies with that start.
    pub fn lies(&self, wish: RegistrationWish) -> Registration {
        let job = self.job(wish);
        ribbon::register(&job, &job.rooms[0], &ribbon::unroll(&job.rooms[0]), self.way)
    }

    fn hang(&self, wish: RegistrationWish) -> Result<Hung, PlanFault> {
        let job = self.job(wish);
        let walls = on_walls(&job, &[self.way])?;
        let cloth = &job.cloths[job.rooms[0].cloth];
        let shape = |piece: &Piece| {
            let laid = Laid::of_piece(&job, &walls.rooms, piece);
            let spots = laid.spots(&piece.gross, piece.face);
            Shape {
                purpose: piece.purpose,
                kind: piece.kind,
                label: piece.label.clone(),
                width: laid.width(&piece.gross),
                length: laid.length(&piece.gross),
                matched: piece.matched,
                places: spots.iter().map(|spot| (spot.u, spot.phase)).collect(),
                range: laid.cut_range(&piece.gross, piece.face),
            }
        };
        let mut shapes: Vec<Shape> = walls.pieces.iter().map(shape).collect();
        if let (Some(lattice), true) = (cloth.pattern, bolt::counts_from_anywhere(cloth)) {
            let first = shapes.iter().filter(|s| s.matched).find_map(|s| Some(s.places.first()?.1));
            let by = first.unwrap_or(Length::ZERO);
            let places = shapes.iter_mut().flat_map(|shape| &mut shape.places);
            places.for_each(|place| place.1 = (place.1 - by).rem_euclid(lattice.vertical));
        }
        Ok(Hung { walls, shapes })
    }

    fn cut(&self, walls: &OnWalls) -> Result<Takes, PlanFault> {
        let mut pieces = walls.pieces.clone();
        let cloths = bolt::cut(self.alone, &walls.rooms, &mut pieces, &mut Vec::new())?;
        Ok(Takes {
            in_vain: in_vain(cloths.iter().flat_map(|cloth| &cloth.bolts)),
            order_units: cloths.iter().map(|cloth| cloth.order_units).sum(),
            used: cloths.iter().map(|cloth| cloth.used).sum(),
        })
    }
}
