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
use crate::sheet::{ComposeFault, Draft, Part, extent, frame, offset, pen, words};
use crate::units::Length;

/// At least so much of each wall is shown, where it is so wide.
const LEAST: Length = Length::feet(4);
/// From the floor to the frame of the corner's letter, and to the names of the walls.
const BELOW: Length = Length::mm(4);
/// At least so much about the centre of the motif lies on cloth.
const ARM: Length = Length::mm(4);
/// From the sign of a motif to what is said of it.
const AFTER: Length = Length::mm(3);

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

/// A motif of the wall that arrives, and where the pattern of the other would have it.
struct Miss {
    motif: Point,
    ghost: Point,
}

/// The first motif of the wall that arrives that lies on its cloth together with that place; where none does, of
/// those whose centres do.
fn shown(last: &View, (across, up): (Length, Length)) -> Option<Miss> {
    let cloth = last.cloth();
    // The pattern that arrives stands ahead of the one that begins.
    let ghost = |motif: Point| Point::new(motif.x - across, motif.y - up);
    let on_cloth = |miss: &Miss, arm: Length| {
        [miss.motif, miss.ghost].map(|place| last.map.point(place)).iter().all(|p| {
            let arms = offset::corners(Rect::new(p.x - arm, p.y - arm, p.x + arm, p.y + arm));
            last.map.x(last.window.0) < p.x - arm && arms.iter().all(|&arm| cloth.holds(arm))
        })
    };
    let all = || repeat::seen(last).into_iter().map(|motif| Miss { motif, ghost: ghost(motif) });
    [ARM, Length::ZERO].into_iter().find_map(|arm| all().find(|miss| on_cloth(miss, arm)))
}

/// By how much the pattern misses: a motif that arrives, where it would meet, dashed, and how far apart the two are.
fn miss(pair: &[View; 2], drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let [last, first] = pair;
    let Some(kill) = &first.room_plan().kill else { return Ok(()) };
    let Some(Miss { motif, ghost }) = shown(last, (kill.miss_across, kill.miss_up)) else { return Ok(()) };
    let view = last;
    let (own, other) = (view.map.point(motif), view.map.point(ghost));
    let (left, right) = (last.map.x(last.window.0), first.map.x(first.window.1));
    let top = pair.iter().map(|view| view.map.y(view.top())).min().unwrap_or(Length::ZERO);
    if kill.miss_across != Length::ZERO {
        let stops = [motif.x.min(ghost.x), motif.x.max(ghost.x)];
        let paper = |x| view.map.x(x);
        let chain = Dimension::chain(Run::Level, &stops, paper, (left, right), view.format())?;
        drawing.marks.push(chain.draw(top - Length::mm(4), top, "miss-across", "how far apart across")?);
        let lines = [own, other].map(|p| mark::upright(p.x, p.y, top - Length::mm(1), pen::DIMENSION));
        drawing.group(Layer::Dimensions, "miss-across-lines", "from the motifs to the value", lines.into());
    }
    if kill.miss_up != Length::ZERO {
        let stops = [motif.y.min(ghost.y), motif.y.max(ghost.y)];
        let bounds = (top, view.map.y(view.bottom()));
        let chain = Dimension::chain(Run::Upright, &stops, |y| view.map.y(y), bounds, view.format())?;
        drawing.marks.push(chain.draw(left - Length::mm(4), left, "miss-up", "how far apart up the wall")?);
        let lines = [own, other].map(|p| mark::level(left - Length::mm(1), p.x, p.y, pen::DIMENSION));
        drawing.group(Layer::Dimensions, "miss-up-lines", "from the motifs to the value", lines.into());
    }
    let (height, lies) = cloth::approved_sign(view).unwrap_or_default();
    let pictured = cloth::is_pictured(view);
    let (arrives, would) = (sign::motif(own, height, lies), sign::motif(other, height, lies));
    let mut areas = Vec::new();
    let mut marks = Vec::new();
    for (outline, pen) in [(&arrives, pen::SEAM), (&would, pen::HIDDEN)] {
        if pictured {
            marks.extend(sign::drawn_with(outline, pen::SEAM_GROUND));
        }
        marks.extend(sign::drawn_with(outline, pen));
        areas.extend(extent::of(outline));
    }
    drawing.group(Layer::Dimensions, "miss", "the motif that arrives, and where it would meet", marks);
    drawing.signs.insert(Sign::Missed);
    areas.iter().for_each(|&area| drawing.take(area));
    let right = last.map.x(last.window.1);
    let middle = (own.y + other.y) / 2 - height / 2;
    for (area, words) in areas.into_iter().zip(["arrives", "would meet"]) {
        let half = text::measure(words, Style::STRONG)? / 2 + AFTER / 3;
        let (x, y) = ((area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2);
        let mut places = Vec::new();
        for step in 0..4 {
            let (down, aside) = (AFTER + AFTER * step, half + AFTER * (step + 1) / 2);
            // Beyond the other first.
            let mut beyond = [area.y1 + down, area.y0 - down];
            if area.y0 < middle {
                beyond.reverse();
            }
            let [below, above] = beyond;
            places.extend([(x, below), (x, above), (area.x1 + aside, y), (area.x0 - aside, y)]);
            places.extend([(x + half, below), (x - half, below), (x + half, above), (x - half, above)]);
        }
        let mut places: Vec<Point> = places.into_iter().map(|(x, y)| Point::new(x, y)).collect();
        places.retain(|p| left < p.x - half && p.x + half < right && top < p.y - AFTER);
        drawing.tag_at(Layer::Dimensions, words, Ends::None, &places)?;
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
        View { plan, at, reader: Reader::Approval, map, window, places_motif: false, fans: false }
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
