//! The corner where the pattern of a room does not meet, with a part of both its walls side by side: no
//! elevation shows it, for the two walls stand at the ends of the set.

use super::notes::kill_words;
use super::view::View;
use super::{cloth, notes, repeat, room, rows};
use crate::geom::{Point, Rect};
use crate::job::model::Paper;
use crate::plan::model::{Plan, WallRef};
use crate::sheet::column::Section;
use crate::sheet::dimension::{Dimension, Run};
use crate::sheet::drawing::Drawing;
use crate::sheet::mark;
use crate::sheet::model::{Anchor, Layer, Mark, Reader};
use crate::sheet::plate::{self, Plate};
use crate::sheet::scale::{Mapping, Scale, largest};
use crate::sheet::sign::{self, Ends, Sign};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, Draft, Part, frame, offset, pen, words};
use crate::units::Length;

/// At least so much of each wall is shown, where it is so wide.
const LEAST: Length = Length::feet(4);
/// From the floor to the frame of the corner's letter, and to the names of the walls.
const BELOW: Length = Length::mm(4);
/// Half the cross on a motif.
const ARM: Length = Length::mm(4);

/// A sheet for each room whose pattern does not meet somewhere.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let rooms = (0..plan.rooms.len()).filter_map(|room| of_room(plan, paper, room).transpose());
    rooms.collect()
}

fn of_room(plan: &Plan, paper: Paper, room: usize) -> Result<Option<Draft>, ComposeFault> {
    let (shape, planned) = (&plan.job.rooms[room], &plan.rooms[room]);
    let (Some(kill), Some(&first), Some(&last)) =
        (&planned.kill, planned.ribbon.first(), planned.ribbon.last())
    else {
        return Ok(None);
    };
    let free = frame::free(paper);
    let area = plate::drawing_area(free, 1);
    let at = |scale| views(plan, WallRef { room, wall: last }, WallRef { room, wall: first }, scale);
    let system = plan.job.print.format.system;
    let scale = largest(system, |scale| {
        let extent = drawn(&at(scale))?.extent();
        Ok::<_, ComposeFault>(extent.width() <= area.width() && extent.height() <= area.height())
    })?;
    let pair = at(scale);
    let corner = &shape.corners[kill.corner].name;
    let several = plan.rooms.len() > 1;
    let title = format!("Corner {corner}, where the pattern does not meet");
    let mut section = Section::new("Cloth and pattern");
    section.pair("Cloth", plan.job.cloths[shape.cloth].name.as_str());
    if let Some(words) = kill_words(&pair[0]) {
        section.text(words);
    }
    section.text(words::sentence(&kill.why));
    section.text("The walls are drawn as if the corner were opened flat.");
    let composed = Plate {
        rest_in: None,
        drawing: drawn(&pair)?,
        sections: &[section],
        reading: &[notes::rounding(&plan.job.print.format)],
        title: (&title, &format!("Seen from inside, {}", scale.name)),
        scale: (scale, system),
    }
    .compose(free)?;
    Ok(Some(Draft {
        key: if several { format!("meeting-{}", room + 1) } else { "meeting".to_owned() },
        title,
        part: Part::WHOLE,
        under: shape.name.clone(),
        description: format!(
            "The end of wall {} and the beginning of wall {} side by side at {}, with the pattern of each.",
            shape.walls[last].label, shape.walls[first].label, scale.name
        ),
        kind: "Detail",
        scale: scale.name.to_owned(),
        also: Vec::new(),
        marks: composed.marks.into(),
    }))
}

/// A motif of one of the two walls, and where the pattern of the other would have it.
struct Miss<'a> {
    view: &'a View<'a>,
    motif: Point,
    ghost: Point,
}

/// The first motif, best of the first wall, that lies on cloth together with that place.
fn shown<'a>(pair: &'a [View<'a>; 2], (across, up): (Length, Length)) -> Option<Miss<'a>> {
    let [last, first] = pair;
    let cloths = [last.cloth(), first.cloth()];
    // The pattern that arrives stands ahead of the one that begins.
    let ways = [(first, across, up), (last, -across, -up)];
    let all = ways.into_iter().flat_map(|(view, dx, dy)| {
        let ghost = move |motif: Point| Point::new(motif.x + dx, motif.y + dy);
        repeat::seen(view).into_iter().map(move |motif| Miss { view, motif, ghost: ghost(motif) })
    });
    let mut on_cloth = all.filter(|miss| {
        [miss.motif, miss.ghost].map(|place| miss.view.map.point(place)).iter().all(|p| {
            let arms = offset::corners(Rect::new(p.x - ARM, p.y - ARM, p.x + ARM, p.y + ARM));
            let within = last.map.x(last.window.0) < p.x - ARM && p.x + ARM < first.map.x(first.window.1);
            within && cloths.iter().any(|cloth| arms.iter().all(|&arm| cloth.holds(arm)))
        })
    });
    on_cloth.next()
}

/// By how much the pattern misses: a motif, where the pattern of the other wall would have it, dashed, and how far
/// apart the two are.
fn miss(pair: &[View; 2], drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let [last, first] = pair;
    let Some(kill) = &first.room_plan().kill else { return Ok(()) };
    let Some(Miss { view, motif, ghost }) = shown(pair, (kill.miss_across, kill.miss_up)) else {
        return Ok(());
    };
    let crossed = |p: Point, pen| {
        vec![mark::level(p.x - ARM, p.x + ARM, p.y, pen), mark::upright(p.x, p.y - ARM, p.y + ARM, pen)]
    };
    let (own, other) = (view.map.point(motif), view.map.point(ghost));
    let marks = [crossed(own, pen::DETAIL), crossed(other, pen::HIDDEN)].concat();
    drawing.group(Layer::Dimensions, "miss", "a motif, and where the other pattern has it", marks);
    drawing.signs.insert(Sign::Missed);
    let (left, right) = (last.map.x(last.window.0), first.map.x(first.window.1));
    let top = pair.iter().map(|view| view.map.y(view.top())).min().unwrap_or(Length::ZERO);
    if kill.miss_across != Length::ZERO {
        let stops = [motif.x.min(ghost.x), motif.x.max(ghost.x)];
        let paper = |x| view.map.x(x);
        let chain = Dimension::chain(Run::Level, &stops, paper, (left, right), view.format())?;
        drawing.marks.push(chain.draw(top - Length::mm(4), top, "miss-across", "how far apart across")?);
    }
    if kill.miss_up != Length::ZERO {
        let stops = [motif.y.min(ghost.y), motif.y.max(ghost.y)];
        let bounds = (top, view.map.y(view.bottom()));
        let chain = Dimension::chain(Run::Upright, &stops, |y| view.map.y(y), bounds, view.format())?;
        // At the end of the wall that has the motif.
        let (at, object) = if std::ptr::eq(view, first) {
            (right + Length::mm(4) + chain.depth(), right)
        } else {
            (left - Length::mm(4), left)
        };
        drawing.marks.push(chain.draw(at, object, "miss-up", "how far apart up the wall")?);
    }
    Ok(())
}

/// The end of the last wall and the beginning of the first; on paper the corner stands at x = 0.
fn views(plan: &Plan, last: WallRef, first: WallRef, scale: Scale) -> [View<'_>; 2] {
    let cloth = &plan.job.cloths[plan.job.rooms[last.room].cloth];
    let two = cloth.pattern.map_or(LEAST, |lattice| lattice.horizontal.max(lattice.vertical) * 2);
    let view = |at: WallRef, ends: bool| {
        let width = plan.job.rooms[at.room].walls[at.wall].width;
        let shown = two.max(LEAST).min(width);
        let (window, x) = if ends {
            ((width - shown, width), -scale.paper(width))
        } else {
            ((Length::ZERO, shown), Length::ZERO)
        };
        let map = Mapping { scale, origin: Point::new(x, Length::ZERO) };
        View { plan, at, reader: Reader::Approval, map, window, places_motif: false }
    };
    [view(last, true), view(first, false)]
}

fn drawn(pair: &[View; 2]) -> Result<Drawing, ComposeFault> {
    let mut drawing = Drawing::default();
    for view in pair {
        cloth::strips(view, &mut drawing);
        room::edges(view, &mut drawing);
        cloth::seams(view, &mut drawing);
        let labels = room::openings(view, &mut drawing);
        room::opening_labels(&labels, &mut drawing)?;
        room::fixings(view, &mut drawing);
        rows::trim(view, &mut drawing);
    }
    let floor = pair.iter().map(|view| view.map.y(view.bottom())).max().unwrap_or(Length::ZERO);
    let corner = pair[1].left_corner();
    let centre = Point::new(Length::ZERO, floor + BELOW + sign::TAG_HALF);
    let stalk = Point::new(Length::ZERO, floor + BELOW);
    let mut marks = vec![mark::line(Point::new(Length::ZERO, floor), stalk, pen::DIMENSION)];
    marks.extend(sign::tag(centre, &corner.name, Ends::of_corner(corner.kind), true)?.0);
    drawing.group(Layer::Dimensions, "", format!("corner {}", corner.name), marks);
    drawing.signs.insert(Sign::KillCorner);
    for view in pair {
        let middle = view.map.x((view.window.0 + view.window.1) / 2);
        let under = Point::new(middle, centre.y + Style::STRONG.caps.height() / 2);
        let name = text::set(format!("Wall {}", view.wall().label), under, Anchor::Middle, Style::STRONG)?;
        drawing.group(Layer::Sheet, "", "the name of the wall", vec![Mark::Text(name)]);
    }
    miss(pair, &mut drawing)?;
    Ok(drawing.finish())
}
