//! The signs of the drawings, and the legend that explains those a sheet uses.
//!
//! Signs are our own, made of lines that differ in shape, so that none needs colour or grey. A
//! legend shows the very marks of the drawing.

mod legend;
mod sample;

use super::ComposeFault;
use super::dimension::circle_path;
use super::mark::{filled, level, line, outline, ring, through, upright};
use super::model::{Anchor, Ink, Mark, Pen};
use super::pen;
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::job::model::{CornerKind, FixingKind};
use crate::units::Length;
pub use legend::{LEGEND_TEXT, legend_height, legend_row};

/// Everything on a drawing that a legend explains, in the order that legends list it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// Edge of the wall.
    WallEdge,
    /// A wall without cloth on a key plan.
    BareWall,
    /// A seam between strips.
    Seam,
    /// The same on a picture of the cloth.
    PicturedSeam,
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
    /// The same on a picture of the cloth.
    PicturedRepeat,
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
            Sign::Seam | Sign::PicturedSeam => "seam",
            Sign::HiddenSeam => "seam behind an opening",
            Sign::Plumb => "plumb line to hang to",
            Sign::Motif | Sign::LyingMotif => "motif, point to its top",
            Sign::Repeat | Sign::PicturedRepeat => "corners of one repeat",
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
            Sign::StartCorner => "walls counted from here",
            Sign::KillCorner => "pattern does not meet here",
            Sign::Missed => "arrives; would meet",
            Sign::WrapArrow => "panel goes round this way",
            Sign::SurveyArrow => "walls run this way",
            Sign::MatchLine => "drawing goes on at this line",
            Sign::Cloud => "changed in this revision",
            Sign::BuiltTag => "as built, see list",
        }
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

/// The corners of a repeat, each a short angle that points outwards; on white where they lie on a picture.
pub fn repeat(area: Rect, pictured: bool) -> Vec<Mark> {
    let leg = leg_of_repeat(area);
    let ends = [
        (area.x0, area.y0, leg, leg),
        (area.x1, area.y0, -leg, leg),
        (area.x1, area.y1, -leg, -leg),
        (area.x0, area.y1, leg, -leg),
    ];
    let pens = if pictured { &[pen::SEAM_GROUND, pen::DETAIL][..] } else { &[pen::DETAIL] };
    let angle = |pen: Pen| {
        ends.map(|(x, y, dx, dy)| {
            let path = through(&[Point::new(x + dx, y), Point::new(x, y), Point::new(x, y + dy)]);
            Mark::Stroke { pen, path }
        })
    };
    pens.iter().flat_map(|&pen| angle(pen)).collect()
}

/// The paper that those corners take.
pub fn corners_of_repeat(area: Rect) -> [Rect; 4] {
    let leg = leg_of_repeat(area);
    [(area.x0, area.y0), (area.x1 - leg, area.y0), (area.x1 - leg, area.y1 - leg), (area.x0, area.y1 - leg)]
        .map(|(x, y)| Rect::new(x, y, x + leg, y + leg))
}

fn leg_of_repeat(area: Rect) -> Length {
    (area.width().min(area.height()) / 4).min(Length::mm(2))
}

/// The lines of a sign, drawn with another pen.
pub fn drawn_with(marks: &[Mark], pen: Pen) -> impl Iterator<Item = Mark> {
    marks.iter().filter_map(move |mark| match mark {
        Mark::Stroke { path, .. } => Some(Mark::Stroke { pen, path: path.clone() }),
        _ => None,
    })
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
