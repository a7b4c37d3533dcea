//! A detail being drawn, and the parts that details number.

use crate::geom::Point;
use crate::job::model::Job;
use crate::plan::model::Plan;
use crate::sheet::dimension::circle_path;
use crate::sheet::drawing::{Drawing, group};
use crate::sheet::hatch::hatch;
use crate::sheet::mark::{line, ring, through};
use crate::sheet::model::{Ink, Layer, Mark, Path, Seg};
use crate::sheet::scale::Scale;
use crate::sheet::sign::{self, Ends};
use crate::sheet::{ComposeFault, extent, pen, words};
use crate::units::Length;

/// The parts that a detail numbers, in the order of the key.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartOf {
    /// The wall.
    Wall,
    /// The batting.
    Batting,
    /// The panel that is stapled first.
    Panel,
    /// The panel that is hung after it.
    OtherPanel,
    /// A staple.
    Staple,
    /// The trim in a corner or at an end.
    Trim,
    /// Hem tape under a fold.
    Tape,
    /// Adhesive at a fold's edge.
    Adhesive,
    /// A metal bead.
    Bead,
}

impl PartOf {
    const ALL: [PartOf; 9] = [
        PartOf::Wall,
        PartOf::Batting,
        PartOf::Panel,
        PartOf::OtherPanel,
        PartOf::Staple,
        PartOf::Trim,
        PartOf::Tape,
        PartOf::Adhesive,
        PartOf::Bead,
    ];

    /// Its number in the key.
    pub fn number(self) -> String {
        Self::ALL.iter().position(|&part| part == self).map_or(0, |n| n + 1).to_string()
    }

    /// What it is.
    pub fn words(self, plan: &Plan) -> String {
        let job = &plan.job;
        let print = |length| words::length(plan, length);
        match self {
            PartOf::Wall => "wall, not to scale".to_owned(),
            PartOf::Batting => format!("batting, {} loft", print(job.batting.loft)),
            PartOf::Panel => "the panel hung first".to_owned(),
            PartOf::OtherPanel => "the panel hung after it".to_owned(),
            PartOf::Staple => "staple, not to scale".to_owned(),
            PartOf::Trim => job.trims.corner.name.clone(),
            PartOf::Tape => "hem tape, pressed dry".to_owned(),
            PartOf::Adhesive => "adhesive".to_owned(),
            PartOf::Bead => "metal bead: no staples in it".to_owned(),
        }
    }
}

/// How thick walls are drawn, on paper: it is not surveyed.
pub const WALL: Length = Length::mm(9);
/// How far staples reach into the wall, on paper: their legs depend on the wall.
pub const LEG: Length = Length::mm(6);
/// How far layers of cloth are drawn apart, on paper.
pub const LAYER: Length = Length::micrometres(1_200);

/// A detail being drawn about its corner, on paper, x right and y down.
pub struct Sketch<'a> {
    /// The job.
    pub job: &'a Job,
    /// The scale.
    pub scale: Scale,
    /// What is drawn.
    pub drawing: Drawing,
}

impl Sketch<'_> {
    /// Adds marks of one part.
    pub fn add(&mut self, layer: Layer, title: &str, marks: Vec<Mark>) {
        self.drawing.group(layer, "", title, marks);
    }

    /// A wall's body, hatched, with its faces strong and its cut ends open.
    pub fn wall(&mut self, body: &[Point], face: &[Point]) {
        let path = ring(body);
        let area = extent::of_path(&path).unwrap_or_default();
        let hatching = Mark::Clip { path, marks: hatch(area, Length::mm(2), true) };
        let face = Mark::Stroke { pen: pen::OUTLINE, path: through(face) };
        self.add(Layer::Room, "wall", vec![hatching, face]);
    }

    /// A piece of batting: its outline, and fibre along its middle lines.
    pub fn batting(&mut self, outline: &[Point], middles: &[(Point, Point)]) {
        for &(from, to) in middles {
            self.fibre(from, to);
        }
        let outline = Mark::Stroke { pen: pen::DETAIL, path: ring(outline) };
        self.add(Layer::Batting, "batting", vec![outline]);
    }

    /// The zigzag that stands for fibre, about a middle line of the batting.
    pub fn fibre(&mut self, from: Point, to: Point) {
        let path = zigzag(from, to, self.scale.paper(self.job.batting.loft));
        self.add(Layer::Batting, "batting", vec![Mark::Stroke { pen: pen::PATTERN, path }]);
    }

    /// Cloth, cut through.
    pub fn cloth(&mut self, path: Path) {
        self.add(Layer::Cloth, "cloth", vec![Mark::Stroke { pen: pen::OPENING, path }]);
    }

    /// A staple from its crown into the wall, to `tip`; level or upright.
    pub fn staple(&mut self, crown: Point, tip: Point) {
        let half = Length::micrometres(1_200);
        let (dx, dy) = if crown.y == tip.y { (Length::ZERO, half) } else { (half, Length::ZERO) };
        let (a, b) = (Point::new(crown.x - dx, crown.y - dy), Point::new(crown.x + dx, crown.y + dy));
        self.add(Layer::Staples, "staple", vec![line(a, b, pen::OPENING), line(crown, tip, pen::SEAM)]);
    }

    /// The radius of a cord on paper, and that of its cover.
    pub fn cord(&self, diameter: Length) -> (Length, Length) {
        let cord = self.scale.paper(diameter / 2).max(Length::micrometres(900));
        (cord, cord + Length::micrometres(500))
    }

    /// A part's number, off by (`dx`, `dy`) from what it names, with a leader.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a figure.
    pub fn number(
        &mut self,
        part: PartOf,
        to: Point,
        (dx, dy): (Length, Length),
    ) -> Result<(), ComposeFault> {
        let at = Point::new(to.x + dx, to.y + dy);
        let (marks, _) = sign::tag(at, &part.number(), Ends::Round, false)?;
        let dot = Mark::Fill { ink: Ink::BLACK, path: circle_path(to, Length::micrometres(450)) };
        self.drawing.label(group(Layer::Sheet, "", "leader", vec![line(to, at, pen::DIMENSION), dot]));
        self.drawing.label(group(Layer::Sheet, "", "number", marks));
        Ok(())
    }
}

/// A quarter turn of radius `r` about the corner, from the left of it to below it, and then changed
/// by `flip`.
pub fn quarter(r: Length, flip: impl Fn(Point) -> Point) -> Seg {
    // The usual handle length for a quarter circle: 0.5523 of the radius.
    let k = r.scale(5_523, 10_000);
    Seg::Cubic(flip(Point::new(-r, k)), flip(Point::new(-k, r)), flip(Point::new(Length::ZERO, r)))
}

/// A cord in its cover, cut through.
pub fn welt(centre: Point, cord: Length, around: Length) -> [Mark; 3] {
    [
        Mark::Fill { ink: Ink::WHITE, path: circle_path(centre, around) },
        Mark::Stroke { pen: pen::OPENING, path: circle_path(centre, around) },
        Mark::Stroke { pen: pen::HAIRLINE, path: circle_path(centre, cord) },
    ]
}

/// A zigzag between two parallel lines `wide` apart, about the line from `from` to `to`, which is
/// level or upright.
fn zigzag(from: Point, to: Point, wide: Length) -> Path {
    let level = from.y == to.y;
    let long = (to.x - from.x).abs().max((to.y - from.y).abs());
    let steps = long.div_ceil(Length::micrometres(1_600)).clamp(2, 200);
    let points: Vec<Point> = (0..=steps)
        .map(|n| {
            let side = wide.scale(if n % 2 == 0 { 2 } else { -2 }, 5);
            let x = from.x + (to.x - from.x).scale(n, steps);
            let y = from.y + (to.y - from.y).scale(n, steps);
            if level { Point::new(x, y + side) } else { Point::new(x + side, y) }
        })
        .collect();
    through(&points)
}
