//! The signs of the drawings, and the legend that explains those a sheet uses.
//!
//! Signs are our own, made of lines that differ in shape, so that none needs colour or grey. A
//! legend shows the very marks of the drawing.

mod legend;

use super::ComposeFault;
use super::dimension::circle_path;
use super::hatch::hatch;
use super::mark::{filled, level, line, outline, ring, through, upright};
use super::model::{Anchor, Ink, Mark, Pen};
use super::pen;
use super::revision;
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::job::model::{CornerKind, FixingKind};
use crate::units::Length;
pub use legend::{legend_height, legend_row};

/// Everything on a drawing that a legend explains, in the order that legends list it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// Edge of the wall.
    WallEdge,
    /// A wall without cloth on a key plan.
    BareWall,
    /// A seam between strips.
    Seam,
    /// A seam that an opening interrupts.
    HiddenSeam,
    /// The line that the panel is hung to.
    Plumb,
    /// The centre of a motif, its long point up.
    Motif,
    /// The centre of a motif that lies on its side, its long point to the left.
    LyingMotif,
    /// One repeat of the pattern about a motif.
    Repeat,
    /// Cloth beyond the wall or the field.
    Beyond,
    /// The number of a cut.
    CutNumber,
    /// Staples that hold cloth.
    Staples,
    /// Temporary tacks.
    Tacks,
    /// Staples that hold batting.
    BattingStaples,
    /// A piece of batting.
    Batting,
    /// What is cut out of a piece of batting for a box.
    CutOut,
    /// What goes round an outside corner.
    RoundCorner,
    /// A row of staples in the list.
    StapleTag,
    /// A trim run.
    Trim,
    /// A trim run in the list.
    TrimTag,
    /// A light switch.
    Switch,
    /// A socket outlet or another box.
    Outlet,
    /// A wall light.
    Sconce,
    /// A vent.
    Vent,
    /// A thermostat.
    Thermostat,
    /// A pipe or a cable behind the wall.
    Service,
    /// An inside corner.
    InsideCorner,
    /// An outside corner.
    OutsideCorner,
    /// A free end.
    FreeEnd,
    /// The corner where the ribbon starts and the pattern may not meet.
    StartCorner,
    /// The corner where the pattern does not meet.
    KillCorner,
    /// A motif, and where the pattern of the other wall would have it.
    Missed,
    /// Which wall's panel goes round an outside corner.
    WrapArrow,
    /// Which way the room was surveyed.
    SurveyArrow,
    /// Where a drawing goes on.
    MatchLine,
    /// What has changed since another issue.
    Cloud,
    /// What was done otherwise than planned, in the list.
    BuiltTag,
}

impl Sign {
    /// The sign of a kind of fixing.
    pub const fn of_fixing(kind: FixingKind) -> Sign {
        match kind {
            FixingKind::Switch => Sign::Switch,
            FixingKind::Box => Sign::Outlet,
            FixingKind::Sconce => Sign::Sconce,
            FixingKind::Vent => Sign::Vent,
            FixingKind::Thermostat => Sign::Thermostat,
        }
    }

    /// The sign of a motif that lies or stands.
    pub const fn of_motif(lies: bool) -> Sign {
        if lies { Sign::LyingMotif } else { Sign::Motif }
    }

    /// The sign of a kind of corner.
    pub const fn of_corner(kind: CornerKind) -> Sign {
        match kind {
            CornerKind::Inside => Sign::InsideCorner,
            CornerKind::Outside => Sign::OutsideCorner,
            CornerKind::FreeEnd => Sign::FreeEnd,
        }
    }

    /// The sign whose sample shows this one as well, so that a legend with it needs no row for this one.
    pub const fn shown_by(self) -> Option<Sign> {
        match self {
            Sign::Staples => Some(Sign::StapleTag),
            Sign::Trim => Some(Sign::TrimTag),
            _ => None,
        }
    }

    /// What the sign means.
    pub const fn meaning(self) -> &'static str {
        match self {
            Sign::WallEdge => "edge of a clothed wall",
            Sign::BareWall => "wall without cloth",
            Sign::Seam => "seam",
            Sign::HiddenSeam => "seam behind an opening",
            Sign::Plumb => "plumb line to hang to",
            Sign::Motif | Sign::LyingMotif => "motif, point to its top",
            Sign::Repeat => "one repeat",
            Sign::Beyond => "cloth beyond the edge",
            Sign::CutNumber => "number of the cut",
            Sign::Staples => "staples",
            Sign::Tacks => "temporary tacks",
            Sign::BattingStaples => "batting staples",
            Sign::Batting => "batting, edge to edge",
            Sign::CutOut => "cut out for a box",
            Sign::RoundCorner => "carried round the corner",
            Sign::StapleTag => "staples, see Staples",
            Sign::Trim => "trim",
            Sign::TrimTag => "trim, see Trim",
            Sign::Switch => "switch",
            Sign::Outlet => "box or outlet",
            Sign::Sconce => "wall light",
            Sign::Vent => "vent",
            Sign::Thermostat => "thermostat",
            Sign::Service => "pipe or cable behind",
            Sign::InsideCorner => "inside corner",
            Sign::OutsideCorner => "outside corner",
            Sign::FreeEnd => "free end",
            Sign::StartCorner => "walls are counted from here",
            Sign::KillCorner => "pattern does not meet here",
            Sign::Missed => "motif; dashed: other wall's",
            Sign::WrapArrow => "panel goes round this way",
            Sign::SurveyArrow => "walls run this way",
            Sign::MatchLine => "drawing goes on at this line",
            Sign::Cloud => "changed in this revision",
            Sign::BuiltTag => "as built, see list",
        }
    }

    /// A sample for the legend, in a cell 12 mm wide about `centre`.
    fn sample(self, centre: Point) -> Result<Vec<Mark>, ComposeFault> {
        let half = Length::micrometres(5_500);
        let stroke = |pen: Pen| vec![level(centre.x - half, centre.x + half, centre.y, pen)];
        Ok(match self {
            Sign::WallEdge => stroke(pen::OUTLINE),
            Sign::BareWall => stroke(pen::DETAIL),
            Sign::Seam => stroke(pen::SEAM),
            Sign::HiddenSeam | Sign::Beyond => {
                stroke(if self == Sign::Beyond { pen::CUT } else { pen::HIDDEN })
            }
            Sign::Plumb => {
                let mut marks = stroke(pen::PLUMB);
                marks.push(bob(Point::new(centre.x, centre.y + Length::micrometres(1_500))));
                marks
            }
            Sign::Motif | Sign::LyingMotif => motif(centre, Length::mm(3), self == Sign::LyingMotif),
            Sign::Repeat => {
                let by = Length::micrometres(2_100);
                let area = Rect::new(centre.x - by, centre.y - by, centre.x + by, centre.y + by);
                [motif(centre, Length::mm(3), false), vec![outline(area, pen::HAIRLINE)]].concat()
            }
            Sign::CutNumber => tag(centre, "7", Ends::Round, false)?.0,
            Sign::Staples => staples(centre, half, Length::micrometres(1_000)),
            Sign::Tacks => staples(centre, half, Length::micrometres(3_600)),
            Sign::BattingStaples => staples(centre, half, Length::micrometres(1_800)),
            Sign::Batting => {
                let area = Rect::new(
                    centre.x - half,
                    centre.y - Length::mm(2),
                    centre.x + half,
                    centre.y + Length::mm(2),
                );
                let clip = super::mark::rect_path(area);
                let lines = hatch(area, Length::mm(2), true);
                vec![Mark::Clip { path: clip, marks: lines }, outline(area, pen::DETAIL)]
            }
            Sign::CutOut => cut_out(sample_box(centre)),
            Sign::RoundCorner => stroke(pen::HIDDEN),
            Sign::StapleTag => {
                let mut marks = Sign::Staples.sample(centre)?;
                marks.extend(tag(centre, "s1", Ends::None, false)?.0);
                marks
            }
            Sign::Trim => stroke(pen::TRIM),
            Sign::TrimTag => {
                let mut marks = Sign::Trim.sample(centre)?;
                marks.extend(tag(centre, "T1", Ends::None, false)?.0);
                marks
            }
            Sign::Switch => fixing(FixingKind::Switch, sample_box(centre)),
            Sign::Outlet => fixing(FixingKind::Box, sample_box(centre)),
            Sign::Sconce => fixing(FixingKind::Sconce, sample_box(centre)),
            Sign::Vent => fixing(FixingKind::Vent, sample_box(centre)),
            Sign::Thermostat => fixing(FixingKind::Thermostat, sample_box(centre)),
            Sign::Service => {
                service(Point::new(centre.x - half, centre.y), Point::new(centre.x + half, centre.y))
            }
            Sign::InsideCorner => tag(centre, "A", Ends::Round, false)?.0,
            Sign::OutsideCorner => tag(centre, "B", Ends::Square, false)?.0,
            Sign::FreeEnd => tag(centre, "C", Ends::Pointed, false)?.0,
            Sign::KillCorner => tag(centre, "A", Ends::Round, true)?.0,
            Sign::Missed => {
                let r = Length::micrometres(1_800);
                let cross = |x: Length, pen| {
                    [level(x - r, x + r, centre.y, pen), upright(x, centre.y - r, centre.y + r, pen)]
                };
                [cross(centre.x - r * 2, pen::DETAIL), cross(centre.x + r * 2, pen::HIDDEN)].concat()
            }
            Sign::StartCorner => vec![start_flag(centre)],
            Sign::WrapArrow => {
                let r = Length::micrometres(1_800);
                let at = |dx: Length, dy: Length| Point::new(centre.x + dx, centre.y + dy);
                bent_arrow(at(-r * 2, -r), at(r, -r), at(r, r))
            }
            Sign::SurveyArrow => {
                let half = Length::mm(5);
                arrow(Point::new(centre.x - half, centre.y), Point::new(centre.x + half, centre.y))
            }
            Sign::MatchLine => stroke(pen::PLUMB),
            Sign::BuiltTag => tag(centre, "b1", Ends::Square, false)?.0,
            Sign::Cloud => {
                let (w, h) = (Length::mm(4), Length::micrometres(900));
                vec![revision::cloud(Rect::new(centre.x - w, centre.y - h, centre.x + w, centre.y + h))]
            }
        })
    }
}

/// A pipe or a cable: a fine line with a cross at every 8 mm.
pub fn service(from: Point, to: Point) -> Vec<Mark> {
    let r = Length::micrometres(900);
    let cross = [(-r, -r, r, r), (-r, r, r, -r)]
        .map(|(x0, y0, x1, y1)| line(Point::new(x0, y0), Point::new(x1, y1), pen::DETAIL));
    let length = (to.x - from.x).abs().max((to.y - from.y).abs());
    let count = length.div_floor(Length::mm(8)).max(1);
    let at = |n: i64| {
        let part = |a: Length, b: Length| a + (b - a).scale(n * 2 + 1, count * 2);
        Point::new(part(from.x, to.x), part(from.y, to.y))
    };
    let places = (0..count).map(at).collect();
    vec![line(from, to, pen::SERVICE), Mark::Stamp { marks: cross.to_vec(), places }]
}

/// What is cut out of batting for a box.
pub fn cut_out(rect: Rect) -> Vec<Mark> {
    let corner = |x, y| Point::new(x, y);
    vec![
        outline(rect, pen::HAIRLINE),
        line(corner(rect.x0, rect.y0), corner(rect.x1, rect.y1), pen::HAIRLINE),
        line(corner(rect.x0, rect.y1), corner(rect.x1, rect.y0), pen::HAIRLINE),
    ]
}

fn sample_box(c: Point) -> Rect {
    let (w, h) = (Length::micrometres(1_100), Length::micrometres(1_700));
    Rect::new(c.x - w, c.y - h, c.x + w, c.y + h)
}

/// The ends of the frame round a short label.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// No frame, only white behind.
    None,
    /// Round: an inside corner, the number of a cut.
    Round,
    /// Square: an outside corner.
    Square,
    /// Pointed: a free end.
    Pointed,
}

impl Ends {
    /// The frame of a kind of corner.
    pub const fn of_corner(kind: CornerKind) -> Ends {
        match kind {
            CornerKind::Inside => Ends::Round,
            CornerKind::Outside => Ends::Square,
            CornerKind::FreeEnd => Ends::Pointed,
        }
    }
}

/// Half the height of a framed label.
pub const TAG_HALF: Length = Length::micrometres(2_400);

/// A short label in a frame on white, centred; the frame doubled when `double`. Returns the marks
/// and the paper they take.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the label.
pub fn tag(centre: Point, label: &str, ends: Ends, double: bool) -> Result<(Vec<Mark>, Rect), ComposeFault> {
    let style = Style::STRONG;
    let baseline = Point::new(centre.x, centre.y + style.caps.height() / 2);
    let set = text::set(label, baseline, Anchor::Middle, style)?;
    if ends == Ends::None {
        let area = text::area(&set).grown(Length::micrometres(400));
        return Ok((vec![filled(area, Ink::WHITE), Mark::Text(set)], area));
    }
    let half = (set.width / 2 + Length::micrometres(900)).max(TAG_HALF);
    let frame = Rect::new(centre.x - half, centre.y - TAG_HALF, centre.x + half, centre.y + TAG_HALF);
    let mut marks = vec![
        Mark::Fill { ink: Ink::WHITE, path: framed(frame, ends) },
        Mark::Stroke { pen: pen::DETAIL, path: framed(frame, ends) },
    ];
    let mut taken = frame;
    if double {
        taken = frame.grown(Length::micrometres(800));
        marks.push(Mark::Stroke { pen: pen::DETAIL, path: framed(taken, ends) });
    }
    marks.push(Mark::Text(set));
    Ok((marks, taken))
}

fn framed(r: Rect, ends: Ends) -> super::model::Path {
    let middle = (r.y0 + r.y1) / 2;
    let half = r.height() / 2;
    match ends {
        Ends::None | Ends::Square => super::mark::rect_path(r),
        Ends::Pointed => {
            let reach = half / 2;
            ring(&[
                Point::new(r.x0 - reach, middle),
                Point::new(r.x0 + reach, r.y0),
                Point::new(r.x1 - reach, r.y0),
                Point::new(r.x1 + reach, middle),
                Point::new(r.x1 - reach, r.y1),
                Point::new(r.x0 + reach, r.y1),
            ])
        }
        Ends::Round => round_ended(r),
    }
}

/// A rectangle whose left and right ends are half circles.
fn round_ended(r: Rect) -> super::model::Path {
    use super::model::{Path, Seg};
    let radius = r.height() / 2;
    let middle = (r.y0 + r.y1) / 2;
    let k = radius.scale(5_523, 10_000);
    let (left, right) = (r.x0 + radius, r.x1 - radius);
    let p = Point::new;
    Path(vec![
        Seg::Move(p(left, r.y0)),
        Seg::Line(p(right, r.y0)),
        Seg::Cubic(p(right + k, r.y0), p(r.x1, middle - k), p(r.x1, middle)),
        Seg::Cubic(p(r.x1, middle + k), p(right + k, r.y1), p(right, r.y1)),
        Seg::Line(p(left, r.y1)),
        Seg::Cubic(p(left - k, r.y1), p(r.x0, middle + k), p(r.x0, middle)),
        Seg::Cubic(p(r.x0, middle - k), p(left - k, r.y0), p(left, r.y0)),
        Seg::Close,
    ])
}

/// The motif's mark: a kite whose long point shows where its top is, up or, of a motif that lies, to
/// the left; `height` from its foot to its top about its centre.
pub fn motif(centre: Point, height: Length, lies: bool) -> Vec<Mark> {
    let (up, down, side) = (height.scale(3, 5), height.scale(2, 5), height.scale(3, 10));
    let corners = [(Length::ZERO, -up), (side, Length::ZERO), (Length::ZERO, down), (-side, Length::ZERO)];
    let placed = corners.map(|(x, y)| {
        let (x, y) = if lies { (y, -x) } else { (x, y) };
        Point::new(centre.x + x, centre.y + y)
    });
    vec![Mark::Stroke { pen: pen::PATTERN, path: ring(&placed) }]
}

/// The plumb line's bob, its tip `at`.
pub fn bob(tip: Point) -> Mark {
    let (w, h) = (Length::micrometres(1_100), Length::micrometres(3_000));
    Mark::Fill {
        ink: Ink::BLACK,
        path: ring(&[tip, Point::new(tip.x - w, tip.y - h), Point::new(tip.x + w, tip.y - h)]),
    }
}

/// One staple as a short stroke along a level line.
fn staples(centre: Point, half: Length, spacing: Length) -> Vec<Mark> {
    let count = (half * 2).div_floor(spacing);
    let start = centre.x - spacing * count / 2;
    let places = (0..=count).map(|n| Point::new(start + spacing * n, centre.y)).collect();
    vec![Mark::Stamp { marks: vec![staple()], places }]
}

/// A staple seen on the wall, about its middle: a dot that a poor printer keeps.
pub fn staple() -> Mark {
    let r = Length::micrometres(260);
    filled(Rect::new(-r, -r, r, r), Ink::BLACK)
}

/// The sign of a fixing in `rect`: its outline, and a mark of its kind.
pub fn fixing(kind: FixingKind, rect: Rect) -> Vec<Mark> {
    let centre = Point::new((rect.x0 + rect.x1) / 2, (rect.y0 + rect.y1) / 2);
    let p = Point::new;
    let mut marks = vec![filled(rect, Ink::WHITE), outline(rect, pen::DETAIL)];
    match kind {
        FixingKind::Box => {
            marks.push(line(p(rect.x0, rect.y0), p(rect.x1, rect.y1), pen::HAIRLINE));
            marks.push(line(p(rect.x0, rect.y1), p(rect.x1, rect.y0), pen::HAIRLINE));
        }
        FixingKind::Switch => marks.push(line(p(rect.x0, rect.y1), p(rect.x1, rect.y0), pen::HAIRLINE)),
        FixingKind::Vent => {
            for n in 1..4 {
                let y = rect.y0 + rect.height() * n / 4;
                marks.push(level(rect.x0, rect.x1, y, pen::HAIRLINE));
            }
        }
        FixingKind::Sconce => {
            let r = rect.width().min(rect.height()) / 2;
            let reach = r + Length::micrometres(900);
            marks = vec![
                Mark::Fill { ink: Ink::WHITE, path: circle_path(centre, r) },
                Mark::Stroke { pen: pen::DETAIL, path: circle_path(centre, r) },
                level(centre.x - reach, centre.x + reach, centre.y, pen::HAIRLINE),
                upright(centre.x, centre.y - reach, centre.y + reach, pen::HAIRLINE),
            ];
        }
        FixingKind::Thermostat => {
            let r = rect.width().min(rect.height()) / 4;
            marks.push(Mark::Fill { ink: Ink::BLACK, path: circle_path(centre, r) });
        }
    }
    marks
}

/// The paper that a start flag takes.
pub fn flag_area(centre: Point) -> Rect {
    let r = Length::micrometres(1_700);
    Rect::new(centre.x - r, centre.y - r, centre.x + r, centre.y + r)
}

/// The flag at the corner where the survey starts: a filled triangle pointing right.
pub fn start_flag(centre: Point) -> Mark {
    let r = Length::micrometres(1_700);
    let points = [
        Point::new(centre.x - r, centre.y - r),
        Point::new(centre.x + r, centre.y),
        Point::new(centre.x - r, centre.y + r),
    ];
    Mark::Fill { ink: Ink::BLACK, path: ring(&points) }
}

/// An arrow that turns once, at `bend`.
pub fn bent_arrow(tail: Point, bend: Point, tip: Point) -> Vec<Mark> {
    let mut marks = vec![line(tail, bend, pen::DETAIL)];
    marks.extend(arrow(bend, tip));
    marks
}

/// A straight arrow with a filled head.
pub fn arrow(tail: Point, tip: Point) -> Vec<Mark> {
    let (dx, dy) = ((tip.x - tail.x).to_mm_f64(), (tip.y - tail.y).to_mm_f64());
    let long = dx.hypot(dy).max(1e-6);
    let (ux, uy) = (dx / long, dy / long);
    let at = |back: f64, side: f64| {
        let um = |mm: f64| Length::micrometres((mm * 1e3).round() as i64);
        Point::new(tip.x + um(-ux * back - uy * side), tip.y + um(-uy * back + ux * side))
    };
    vec![
        Mark::Stroke { pen: pen::DETAIL, path: through(&[tail, at(1.5, 0.0)]) },
        Mark::Fill { ink: Ink::BLACK, path: ring(&[tip, at(2.4, 0.8), at(2.4, -0.8)]) },
    ]
}
