//! The sections through each kind of corner.

use super::Turned;
use super::sketch::{LAYER, LEG, PartOf, Sketch, WALL, quarter, welt};
use crate::geom::Point;
use crate::job::model::TrimKind;
use crate::sheet::ComposeFault;
use crate::sheet::dimension::{Dimension, Run, circle_path};
use crate::sheet::mark::{line, through};
use crate::sheet::model::{Ink, Layer, Mark, Path, Seg};
use crate::sheet::pen;
use crate::units::Length;

/// What a section shows of a wall beyond what happens at the corner.
const MORE: Length = Length::inches(1);
/// How far a number stands from what it names.
const OUT: Length = Length::mm(9);
const ZERO: Length = Length::ZERO;

/// Two walls that meet in the room: the left one runs down, the right one to the right. At least one is
/// clothed.
pub fn inside(sketch: &mut Sketch, left: bool, right: bool) -> Result<(), ComposeFault> {
    let scale = sketch.scale;
    let p = |x, y| Point::new(scale.paper(x), scale.paper(y));
    let loft = sketch.job.batting.loft;
    let reach = MORE * 3 + loft * 3;
    let end = scale.paper(reach);
    let body = [
        Point::new(-WALL, end),
        Point::new(-WALL, -WALL),
        Point::new(end, -WALL),
        p(reach, ZERO),
        p(ZERO, ZERO),
        p(ZERO, reach),
    ];
    sketch.wall(&body, &[p(ZERO, reach), p(ZERO, ZERO), p(reach, ZERO)]);
    // Each panel follows its batting, which is pressed flat towards the corner, and dips to the staples on its own
    // face, which the trim covers.
    let (held, near) = (staple_in_corner(sketch), scale.paper(loft) / 8);
    let mut crowns = Vec::new();
    for flip in [false, true].into_iter().filter(|flip| if *flip { right } else { left }) {
        let q = |along: Length, off: Length| if flip { p(along, off) } else { p(off, along) };
        let on =
            |along: Length, off: Length| if flip { Point::new(along, off) } else { Point::new(off, along) };
        let slope = [
            q(reach, ZERO),
            q(reach, loft),
            q(loft * 3, loft),
            on(held, near),
            on(ZERO, near),
            on(ZERO, ZERO),
        ];
        sketch.batting(&slope, &[(q(loft * 3, loft / 2), q(reach, loft / 2))]);
        let over = near + LAYER / 2;
        sketch.cloth(Path(vec![
            Seg::Move(q(reach, loft)),
            Seg::Line(q(loft * 3, loft)),
            Seg::Cubic(q(loft * 2, loft), on(held * 2, over), on(held / 2, over)),
        ]));
        let crown = on(held, over);
        let tip = if flip { Point::new(crown.x, crown.y - LEG) } else { Point::new(crown.x - LEG, crown.y) };
        sketch.staple(crown, tip);
        crowns.push(tip);
    }
    let trim = corner_trim(sketch);
    let (along, flat) = (reach.scale(3, 5), loft / 2);
    let (panel, other) = (p(loft, reach.scale(4, 5)), p(reach.scale(4, 5), loft));
    sketch.number(PartOf::Wall, Point::new(-WALL / 2, end.scale(4, 5)), (-WALL - OUT / 2, ZERO))?;
    if right {
        sketch.number(PartOf::Batting, p(along, flat), (ZERO, -WALL - OUT))?;
        sketch.number(if left { PartOf::OtherPanel } else { PartOf::Panel }, other, (ZERO, OUT))?;
    } else {
        sketch.number(PartOf::Batting, p(flat, along), (-WALL - OUT, ZERO))?;
    }
    if left {
        sketch.number(PartOf::Panel, panel, (OUT, ZERO))?;
        sketch.number(PartOf::Staple, crowns[0], (-WALL - OUT / 2, ZERO))?;
    } else {
        sketch.number(PartOf::Staple, crowns[0], (ZERO, -WALL - OUT / 2))?;
    }
    match trim {
        Some(trim) => sketch.number(PartOf::Trim, trim, (OUT, OUT)),
        None => Ok(()),
    }
}

/// How far from an inside corner the staples stand on paper: under the middle of the trim, which covers both rows.
fn staple_in_corner(sketch: &Sketch) -> Length {
    let trim = &sketch.job.trims.corner;
    let (_, around) = sketch.cord(trim.cord);
    let near = sketch.scale.paper(sketch.job.batting.loft) / 4;
    match trim.kind {
        TrimKind::SingleWelt => near + around,
        TrimKind::DoubleWelt => near + around * 2,
        TrimKind::None | TrimKind::Braid | TrimKind::Gimp | TrimKind::FlatBand => near + Length::mm(2),
    }
}

/// The trim that lies in an inside corner; returns its middle.
fn corner_trim(sketch: &mut Sketch) -> Option<Point> {
    let trim = &sketch.job.trims.corner;
    let (cord, around) = sketch.cord(trim.cord);
    let near = sketch.scale.paper(sketch.job.batting.loft) / 4;
    let centres = match trim.kind {
        TrimKind::None => return None,
        TrimKind::SingleWelt => vec![Point::new(near + around, near + around)],
        TrimKind::DoubleWelt => {
            vec![Point::new(near + around, near + around * 3), Point::new(near + around * 3, near + around)]
        }
        TrimKind::Braid | TrimKind::Gimp | TrimKind::FlatBand => {
            let far = near + Length::mm(4);
            let band = [Point::new(near, far), Point::new(near, near), Point::new(far, near)];
            sketch.add(Layer::Trim, "trim", vec![Mark::Stroke { pen: pen::OUTLINE, path: through(&band) }]);
            return Some(band[1]);
        }
    };
    let first = centres.first().copied();
    let marks = centres.into_iter().flat_map(|centre| welt(centre, cord, around)).collect();
    sketch.add(Layer::Trim, "trim", marks);
    first
}

/// Two walls with the room outside them: the left one runs up, the right one to the right. The
/// batting comes round from the left. Where the panel at the right goes round (`mirrored`), the two
/// panels change places about the corner's own axis. `number` tells it from the other details.
pub fn outside(
    sketch: &mut Sketch,
    mirrored: bool,
    (bead, turned): (bool, Turned),
    number: usize,
) -> Result<(), ComposeFault> {
    let scale = sketch.scale;
    let p = |x, y| Point::new(scale.paper(x), scale.paper(y));
    let (loft, carry) = (sketch.job.batting.loft, sketch.job.batting.carry);
    let reach = carry.max(turned.round).max(turned.fold) + MORE;
    let (end, thick) = (scale.paper(reach), scale.paper(loft));
    let body = [
        Point::new(ZERO, -end),
        Point::new(ZERO, ZERO),
        Point::new(end, ZERO),
        Point::new(end, -WALL),
        Point::new(WALL, -WALL),
        Point::new(WALL, -end),
    ];
    sketch.wall(&body, &body[..3]);
    let round = Path(vec![
        Seg::Move(Point::new(ZERO, -end)),
        Seg::Line(Point::new(-thick, -end)),
        Seg::Line(Point::new(-thick, ZERO)),
        quarter(thick, |q| q),
        Seg::Line(p(carry, loft)),
        Seg::Line(p(carry, ZERO)),
        Seg::Line(Point::new(ZERO, ZERO)),
        Seg::Close,
    ]);
    let half = thick / 2;
    sketch.fibre(Point::new(-half, ZERO), Point::new(-half, -end));
    sketch.fibre(Point::new(ZERO, half), p(carry, loft / 2));
    sketch.batting(
        &[p(carry, ZERO), p(carry, loft), p(reach, loft), p(reach, ZERO)],
        &[(p(carry, loft / 2), p(reach, loft / 2))],
    );
    sketch.add(Layer::Batting, "batting", vec![Mark::Stroke { pen: pen::DETAIL, path: round }]);
    sketch.number(PartOf::Wall, Point::new(WALL / 2, -end.scale(9, 10)), (WALL + OUT, ZERO))?;
    sketch.number(PartOf::Batting, Point::new(-half, -end.scale(7, 10)), (WALL + OUT + half, ZERO))?;
    if bead {
        let leg = scale.paper(MORE).min(end / 3);
        let shape = [Point::new(ZERO, -leg), Point::new(ZERO, ZERO), Point::new(leg, ZERO)];
        let off = shape.map(|q| Point::new(q.x - LAYER / 2, q.y + LAYER / 2));
        sketch.add(Layer::Room, "metal bead", vec![Mark::Stroke { pen: pen::SEAM, path: through(&off) }]);
        sketch.number(PartOf::Bead, off[1], (-OUT, OUT))?;
    }
    panels(sketch, mirrored, turned, (end, thick))?;
    allowances(sketch, mirrored, turned, number, thick + LAYER * 3 + OUT + Length::mm(4))
}

/// The two panels at an outside corner: the one that goes round, on the batting, and on that the
/// folded one, with hem tape and adhesive between.
fn panels(
    sketch: &mut Sketch,
    mirrored: bool,
    turned: Turned,
    (end, thick): (Length, Length),
) -> Result<(), ComposeFault> {
    let scale = sketch.scale;
    let flip = |q: Point| if mirrored { Point::new(-q.y, -q.x) } else { q };
    let at = |x: Length, y: Length| flip(Point::new(x, y));
    let to_flip = |(dx, dy): (Length, Length)| if mirrored { (-dy, -dx) } else { (dx, dy) };
    let (first, under, over) = (thick + LAYER, thick + LAYER * 2, thick + LAYER * 3);
    let (wrap, fold) = (scale.paper(turned.round), scale.paper(turned.fold));
    sketch.cloth(Path(vec![
        Seg::Move(at(-first, -end)),
        Seg::Line(at(-first, ZERO)),
        quarter(first, flip),
        Seg::Line(at(wrap, first)),
    ]));
    let tuck = LAYER / 2;
    sketch.cloth(Path(vec![
        Seg::Move(at(fold, under)),
        Seg::Line(at(tuck, under)),
        Seg::Cubic(at(-tuck, under), at(-tuck, over), at(tuck, over)),
        Seg::Line(at(end, over)),
    ]));
    let between = (first + under) / 2;
    let tape = [at(fold / 3, between), at(fold, between)];
    sketch.add(Layer::Cloth, "hem tape", vec![Mark::Stroke { pen: pen::HIDDEN, path: through(&tape) }]);
    let drop = at(LAYER, between);
    let bead = Mark::Fill { ink: Ink::BLACK, path: circle_path(drop, LAYER.scale(2, 5)) };
    sketch.add(Layer::Cloth, "adhesive", vec![bead]);
    let staple = wrap.scale(7, 8);
    sketch.staple(at(staple, first), at(staple, -LEG));
    sketch.number(PartOf::Staple, at(staple, -LEG), to_flip((OUT / 2, -OUT)))?;
    sketch.number(PartOf::Panel, at(-first, -end.scale(2, 5)), to_flip((-OUT, ZERO)))?;
    sketch.number(PartOf::OtherPanel, at(end.scale(9, 10), over), to_flip((ZERO, OUT)))?;
    sketch.number(PartOf::Tape, tape[1], to_flip((OUT / 2, OUT + LAYER)))?;
    sketch.number(PartOf::Adhesive, drop, to_flip((-OUT / 2, OUT + LAYER)))
}

/// Running dimensions from the corner: what is folded under, what goes round, and how far the
/// batting is carried (which always comes from the left).
fn allowances(
    sketch: &mut Sketch,
    mirrored: bool,
    turned: Turned,
    number: usize,
    off: Length,
) -> Result<(), ComposeFault> {
    let scale = sketch.scale;
    let mut stops = vec![(turned.fold, "fold"), (turned.round, "round")];
    if !mirrored {
        stops.push((sketch.job.batting.carry, "batting, at least"));
    }
    stops.retain(|&(length, _)| length > ZERO);
    stops.sort();
    let stops: Vec<(Length, String)> =
        stops.into_iter().map(|(length, name)| (length, name.to_owned())).collect();
    let far = Length::mm(400);
    let (run, sign) = if mirrored { (Run::Upright, -1) } else { (Run::Level, 1) };
    let paper = |x: Length| scale.paper(x) * sign;
    let line = Dimension::running(run, ZERO, ZERO, &stops, paper, (-far, far), &sketch.job.print.format)?;
    let object = off * sign;
    let at = if mirrored { object } else { object + line.depth() };
    sketch.drawing.marks.push(line.draw(
        at,
        object,
        &format!("allowances-{number}"),
        "allowances at the corner",
    )?);
    Ok(())
}

/// A wall on which the cloth ends, its end at x = 0; the cloth lies to the right when the end is
/// the wall's left one.
pub fn free_end(sketch: &mut Sketch, at_left: bool) -> Result<(), ComposeFault> {
    let scale = sketch.scale;
    let loft = sketch.job.batting.loft;
    let reach = MORE * 4 + loft;
    let way = if at_left { 1 } else { -1 };
    let q = |x: Length, y: Length| Point::new(scale.paper(x) * way, scale.paper(y));
    let (near, far) = (q(-MORE, ZERO), q(reach, ZERO));
    let body = [near, far, Point::new(far.x, -WALL), Point::new(near.x, -WALL)];
    sketch.wall(&body, &[near, far]);
    let start = sketch.job.batting.gap.max(loft / 2);
    let layer = [q(start, ZERO), q(start + loft, loft), q(reach, loft), far];
    sketch.batting(&layer, &[(q(start + loft, loft / 2), q(reach, loft / 2))]);
    sketch.cloth(Path(vec![
        Seg::Move(q(reach, loft)),
        Seg::Line(q(start + loft, loft)),
        Seg::Cubic(q(start + loft / 2, loft), q(start, loft / 5), q(ZERO, loft / 8)),
    ]));
    let crown = q(loft / 4, loft / 5);
    let tip = Point::new(crown.x, crown.y - LEG);
    sketch.staple(crown, tip);
    let trim = &sketch.job.trims.corner;
    let (cord, around) = sketch.cord(trim.cord);
    let centre = Point::new(ZERO, around + Length::micrometres(500));
    let marks = match trim.kind {
        TrimKind::None => Vec::new(),
        TrimKind::SingleWelt | TrimKind::DoubleWelt => welt(centre, cord, around).to_vec(),
        TrimKind::Braid | TrimKind::Gimp | TrimKind::FlatBand => {
            let at = |dx: i64| Point::new(Length::mm(dx), Length::mm(1));
            vec![line(at(-2), at(2), pen::OUTLINE)]
        }
    };
    if !marks.is_empty() {
        sketch.add(Layer::Trim, "trim", marks);
        sketch.number(PartOf::Trim, centre, (-OUT * way, OUT))?;
    }
    sketch.number(PartOf::Wall, Point::new(far.x.scale(4, 5), -WALL / 2), (ZERO, -OUT))?;
    sketch.number(PartOf::Batting, q(reach - MORE / 2, loft / 2), (ZERO, OUT))?;
    sketch.number(PartOf::Panel, q(start + loft * 2, loft), (ZERO, OUT))?;
    sketch.number(PartOf::Staple, tip, (OUT * way / 2, -OUT))
}
