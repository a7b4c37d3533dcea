//! Where the parts of a job stand in its file.

use crate::source::Span;

/// Where the walls of a job stand in its file, so that a later room can name one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Places {
    /// The job line.
    pub(super) job: Span,
    /// The rooms.
    pub(super) rooms: Vec<RoomPlaces>,
    /// What was really done.
    pub(super) built: BuiltPlaces,
}

/// Where the entries of what was really done stand in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct BuiltPlaces {
    /// The seams.
    pub seams: Vec<Span>,
    /// The pieces.
    pub pieces: Vec<Span>,
}

/// Where a room and what is in it stand in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RoomPlaces {
    /// The word `room`.
    pub name: Span,
    /// The names of its corners.
    pub corners: Vec<Span>,
    /// Its walls.
    pub walls: Vec<WallPlaces>,
    /// The wishes for its order of work: the walls that each names, as indices into the room's, and its line.
    pub hangs: Vec<((usize, usize), Span)>,
}

/// Where a wall and what is on it stand in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct WallPlaces {
    /// The word `wall`.
    pub name: Span,
    /// Its width.
    pub width: Span,
    /// Its height, or the room's.
    pub height: Span,
    /// Its floor, or the word `wall`.
    pub floor: Span,
    /// Its openings, in the wall's order.
    pub openings: Vec<Span>,
    /// Its fixings, in the wall's order.
    pub fixings: Vec<Span>,
}

impl Places {
    /// The place of the job line.
    pub fn job(&self) -> Span {
        self.job
    }

    /// The place of the entry of seam `index`; the job line when there is none.
    pub fn built_seam(&self, index: usize) -> Span {
        self.built.seams.get(index).copied().unwrap_or(self.job)
    }

    /// The place of the entry of piece `index`; the job line when there is none.
    pub fn built_piece(&self, index: usize) -> Span {
        self.built.pieces.get(index).copied().unwrap_or(self.job)
    }

    /// The place of wall `wall` of room `room`, both as indices into the job; the job line when
    /// there is no such wall.
    pub fn wall(&self, room: usize, wall: usize) -> Span {
        self.rooms.get(room).and_then(|room| room.walls.get(wall)).map_or(self.job, |places| places.name)
    }

    /// The places of the wishes for the order of work that name wall `wall` of room `room`, both as indices
    /// into the job, in the order of the file.
    pub fn wishes(&self, room: usize, wall: usize) -> impl Iterator<Item = Span> {
        let all = self.rooms.get(room).into_iter().flat_map(|room| &room.hangs);
        all.filter(move |((first, then), _)| [first, then].contains(&&wall)).map(|(_, span)| *span)
    }
}
