//! One wall as it is drawn: where it stands on paper and what its reader sees.

use crate::geom::{Hole, Point, Rect};
use crate::job::model::{Corner, Room, Wall};
use crate::plan::model::{Plan, RoomPlan, WallPlan, WallRef};
use crate::plan::words;
use crate::sheet::drawing::Drawing;
use crate::sheet::hole::hole_ring;
use crate::sheet::mark::ring;
use crate::sheet::model::{Mark, Path, Reader};
use crate::sheet::offset::{corners, inside};
use crate::sheet::scale::Mapping;
use crate::units::{Length, LengthFormat};

/// A wall, or the part of a long wall between two match lines, for one reader.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The wall.
    pub at: WallRef,
    /// Who reads it.
    pub reader: Reader,
    /// Wall to paper.
    pub map: Mapping,
    /// The part of the wall that is drawn, in wall coordinates: its left and right end.
    pub window: (Length, Length),
    /// Whether the framed motif has dimensions; where they would cost a scale, the notes tell its place.
    pub places_motif: bool,
    /// Whether crowded heights are fanned out, one under another; where that would cost a scale, they stand in rows.
    pub fans: bool,
}

impl<'a> View<'a> {
    /// The room.
    pub fn room(&self) -> &'a Room {
        &self.plan.job.rooms[self.at.room]
    }

    /// The room's plan.
    pub fn room_plan(&self) -> &'a RoomPlan {
        &self.plan.rooms[self.at.room]
    }

    /// The wall.
    pub fn wall(&self) -> &'a Wall {
        &self.room().walls[self.at.wall]
    }

    /// The wall's plan.
    pub fn wall_plan(&self) -> &'a WallPlan {
        &self.room_plan().walls[self.at.wall]
    }

    /// The id of a group that every wall has: several walls may stand on one sheet.
    pub fn id(&self, name: &str) -> String {
        format!("{name}-wall-{}", self.wall().label)
    }

    /// How lengths are printed.
    pub fn format(&self) -> &'a LengthFormat {
        &self.plan.job.print.format
    }

    /// The corner at the left end of the wall.
    pub fn left_corner(&self) -> &'a Corner {
        &self.room().corners[self.at.wall]
    }

    /// The corner at the right end of the wall.
    pub fn right_corner(&self) -> &'a Corner {
        let room = self.room();
        &room.corners[room.right_corner(self.at.wall)]
    }

    /// Whether the drawing shows the wall from end to end.
    pub fn is_whole(&self) -> bool {
        self.window == (Length::ZERO, self.wall().width)
    }

    /// Whether a place along the wall is drawn.
    pub fn shows(&self, x: Length) -> bool {
        self.window.0 <= x && x <= self.window.1
    }

    /// Whether a seam there is drawn: one that stands in the lean of a corner is, with the end of the wall.
    pub fn shows_seam(&self, x: Length) -> bool {
        let (from, to) = self.leaning();
        from <= x && x <= to
    }

    /// The part of an interval along the wall whose cloth is drawn: with an end of the wall, what its corner
    /// leans beyond it.
    pub fn clip_cloth(&self, x0: Length, x1: Length) -> Option<(Length, Length)> {
        overlap((x0, x1), self.leaning())
    }

    /// The part of the wall that is drawn, with what the corners at its ends lean beyond them.
    fn leaning(&self) -> (Length, Length) {
        let (width, lean) = (self.wall().width, self.wall().lean());
        let from = if self.window.0 == Length::ZERO { -lean } else { self.window.0 };
        let to = if self.window.1 == width { width + lean } else { self.window.1 };
        (from, to)
    }

    /// The part of an interval along the wall that is drawn.
    pub fn clip(&self, x0: Length, x1: Length) -> Option<(Length, Length)> {
        let part = (x0.max(self.window.0), x1.min(self.window.1));
        (part.0 < part.1).then_some(part)
    }

    /// The highest point of the ceiling that is drawn.
    pub fn top(&self) -> Length {
        self.wall().ceiling.max_between(self.window.0, self.window.1)
    }

    /// The lowest point of the floor that is drawn.
    pub fn bottom(&self) -> Length {
        self.wall().floor.min_between(self.window.0, self.window.1)
    }

    /// What heights on the drawing are measured from: the level datum, or, on a landing above it or far below
    /// it, the lowest floor of the wall.
    pub fn datum(&self) -> Length {
        self.wall().heights_from()
    }

    /// What [`View::datum`] is, in words.
    pub fn datum_words(&self) -> &'static str {
        if self.datum() == Length::ZERO { "the datum" } else { "the floor" }
    }

    /// A height above the datum, in words, also from the wall's own floor where its heights are told from that.
    pub fn above(&self, height: Length) -> String {
        words::above(&self.plan.job, self.wall(), height)
    }

    /// The field between two places along the wall, on paper, counter-clockwise from below left.
    pub fn field_between(&self, x0: Length, x1: Length) -> Vec<Point> {
        let below = self.wall().field_bottom().between(x0, x1);
        let above = self.wall().field_top().between(x0, x1);
        below.into_iter().chain(above.into_iter().rev()).map(|p| self.map.point(p)).collect()
    }

    /// The outline, even-odd, of the cloth in sight between two places along the wall: the field
    /// without what openings take.
    pub fn cloth_between(&self, x0: Length, x1: Length) -> Path {
        let mut path = ring(&self.field_between(x0, x1));
        for opening in &self.wall().openings {
            let hole = opening.hole();
            let Some((left, right)) = overlap((x0, x1), (hole.rect.x0, hole.rect.x1)) else {
                continue;
            };
            let low = hole.rect.y0.max(self.wall().field_bottom().min_between(left, right));
            let high = hole.rect.y1.min(self.wall().field_top().max_between(left, right));
            if low < high {
                path.0.extend(hole_ring(&self.map, &hole, (left, right), (low, high)).0);
            }
        }
        path
    }

    /// The cloth of the whole wall, to ask of many points.
    pub fn cloth(&self) -> ClothOnPaper {
        let field = self.field_between(Length::ZERO, self.wall().width);
        let holes = self.wall().openings.iter().map(|opening| opening.hole());
        let openings = holes.map(|hole| (self.map.rect(hole.rect), hole)).collect();
        ClothOnPaper { map: self.map, field, openings }
    }

    /// Marks of a broken wall, kept to the part that is drawn; a whole wall needs no clip.
    pub fn kept(&self, marks: Vec<Mark>) -> Vec<Mark> {
        if self.is_whole() || marks.is_empty() {
            return marks;
        }
        let reach = Length::mm(40);
        let area = Rect::new(
            self.map.x(self.window.0) - if self.window.0 == Length::ZERO { reach } else { Length::ZERO },
            self.map.y(self.top()) - reach,
            self.map.x(self.window.1) + if self.window.1 == self.wall().width { reach } else { Length::ZERO },
            self.map.y(self.bottom()) + reach,
        );
        vec![Mark::Clip { path: ring(&corners(area)), marks }]
    }
}

/// Where there is cloth on paper.
pub struct ClothOnPaper {
    map: Mapping,
    field: Vec<Point>,
    openings: Vec<(Rect, Hole)>,
}

impl ClothOnPaper {
    /// Whether a point on paper lies on cloth, on any part of the wall: in the field and in no opening.
    pub fn holds(&self, p: Point) -> bool {
        let covered = self.openings.iter().any(|(outer, hole)| {
            let within = outer.x0 <= p.x && p.x <= outer.x1 && outer.y0 <= p.y && p.y <= outer.y1;
            within && (!hole.is_arched() || hole.holds(self.map.back(p)))
        });
        !covered && inside(&self.field, p)
    }
}

/// The common part of two intervals.
pub fn overlap(a: (Length, Length), b: (Length, Length)) -> Option<(Length, Length)> {
    let part = (a.0.max(b.0), a.1.min(b.1));
    (part.0 < part.1).then_some(part)
}

/// Draws the wall with its dimensions, about the mapping's origin.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn draw(view: &View) -> Result<Drawing, crate::sheet::ComposeFault> {
    let mut drawing = Drawing::default();
    super::cloth::strips(view, &mut drawing);
    super::repeat::frame_one(view, &mut drawing);
    super::room::edges(view, &mut drawing);
    let labels_of_openings = super::room::openings(view, &mut drawing);
    // After the openings, whose white would cover the dashes of a seam behind them.
    super::cloth::seams(view, &mut drawing);
    super::room::opening_labels(&labels_of_openings, &mut drawing)?;
    super::room::fixings(view, &mut drawing);
    if matches!(view.reader, Reader::Crew | Reader::Record) {
        super::services::lines(view, &mut drawing);
    }
    let mut labels = Vec::new();
    if view.reader != Reader::Workroom {
        let runs = super::rows::trim(view, &mut drawing);
        // The designer is told what trims each edge among the materials, not run by run.
        if matches!(view.reader, Reader::Crew | Reader::Record) {
            labels.extend(runs);
        }
    }
    if view.reader == Reader::Crew {
        labels.extend(super::rows::staples(view, &mut drawing));
    }
    super::room::fixing_labels(view, &mut drawing)?;
    if view.reader == Reader::Approval {
        super::cloth::strip_names(view, &mut drawing)?;
    }
    let beside = super::rows::labels(view, &labels, &mut drawing)?;
    super::dims::all(view, &mut drawing, beside)?;
    super::clouds::draw(view, &mut drawing)?;
    if view.reader == Reader::Record {
        super::built::tags(view, &mut drawing)?;
    }
    Ok(drawing.finish())
}
