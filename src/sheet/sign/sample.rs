//! The samples of a legend: the very marks of the drawing.

use super::{
    Ends, Sign, arrow, bent_arrow, bob, cut_out, drawn_with, fixing, motif, repeat, service, staples,
    start_flag, tag,
};
use crate::geom::{Point, Rect};
use crate::job::model::FixingKind;
use crate::sheet::ComposeFault;
use crate::sheet::hatch::hatch;
use crate::sheet::mark::{filled, level, outline, rect_path};
use crate::sheet::model::{Ink, Mark, Pen};
use crate::sheet::{pen, revision};
use crate::units::Length;

impl Sign {
    /// A sample for the legend, in a cell 12 mm wide about `centre`.
    pub(super) fn sample(self, centre: Point) -> Result<Vec<Mark>, ComposeFault> {
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
                [motif(centre, Length::mm(3), false), repeat(area, false)].concat()
            }
            Sign::PicturedSeam => {
                let mut marks = vec![filled(sample_cloth(centre), PICTURE)];
                marks.extend(stroke(pen::SEAM_GROUND));
                marks.extend(stroke(pen::SEAM));
                marks
            }
            Sign::PicturedRepeat => {
                let cloth = sample_cloth(centre);
                let mut marks = vec![filled(cloth, PICTURE)];
                marks.extend(repeat(cloth.grown(-Length::micrometres(700)), true));
                marks
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
                let clip = rect_path(area);
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
                let of = |x: Length| motif(Point::new(x, centre.y), Length::micrometres(4_200), false);
                let (arrives, would) = (of(centre.x - Length::mm(3)), of(centre.x + Length::mm(3)));
                drawn_with(&arrives, pen::SEAM).chain(drawn_with(&would, pen::HIDDEN)).collect()
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

/// The grey of a picture in a legend.
const PICTURE: Ink = Ink(60);

/// A piece of pictured cloth in a legend.
fn sample_cloth(c: Point) -> Rect {
    let (w, h) = (Length::micrometres(5_500), Length::micrometres(2_100));
    Rect::new(c.x - w, c.y - h, c.x + w, c.y + h)
}

fn sample_box(c: Point) -> Rect {
    let (w, h) = (Length::micrometres(1_100), Length::micrometres(1_700));
    Rect::new(c.x - w, c.y - h, c.x + w, c.y + h)
}
