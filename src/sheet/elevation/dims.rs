//! What stands round an elevation: strip headings, dimensions, corners and panel edges.
//!
//! Above: a heading for each strip and running dimensions to the seams. Below: a chain over the
//! openings, running dimensions to the fixings, the width, the corners. Left: the heights at the
//! left end. Right: levels of openings and fixings, and the heights at the right end when they
//! differ. Outermost, what becomes of the panel's edge.

use std::collections::BTreeMap;

use super::repeat;
use super::view::View;
use crate::geom::Point;
use crate::job::model::{CornerKind, Side};
use crate::plan::model::{EdgeFinish, PanelEdge, Stage, WallRef};
use crate::sheet::ComposeFault;
use crate::sheet::dimension::{Dimension, Run};
use crate::sheet::drawing::{Drawing, group};
use crate::sheet::mark::{self, filled, line};
use crate::sheet::model::{Anchor, Ink, Layer, Mark, Reader};
use crate::sheet::onward;
use crate::sheet::pen;
use crate::sheet::sign::{self, Ends, Sign};
use crate::sheet::slots::{Want, place};
use crate::sheet::text::{self, Style};
use crate::units::Length;

/// Room below the floor for the bob of the plumb line.
pub const BOB_ROOM: Length = Length::micrometres(4_000);
/// From the drawing to the first values.
const FIRST: Length = Length::mm(4);
/// From a dimension line to the values of the next.
const NEXT: Length = Length::micrometres(1_800);
/// How far a level value may hang past the wall's ends.
const HANG: Length = Length::mm(16);
/// Height of a row of strip headings.
const HEADING_ROW: Length = Length::micrometres(6_200);

/// Everything round the wall; labels take the paper `beside` its right end.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn all(view: &View, drawing: &mut Drawing, beside: Length) -> Result<(), ComposeFault> {
    above(view, drawing)?;
    below(view, drawing)?;
    left(view, drawing)?;
    right(view, drawing, beside)
}

fn above(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let Some(panel) = &view.wall_plan().panel else { return Ok(()) };
    // The workroom sees the cloth beyond the top edge as well.
    let cloth = if view.reader == Reader::Workroom { panel.gross.y1 } else { view.top() };
    let top = view.map.y(view.top().max(cloth));
    let mut y = top;
    if view.reader != Reader::Approval {
        y = headings(view, drawing, top)?;
    }
    let stops: Vec<(Length, String)> =
        panel.seams.iter().filter(|s| view.shows(s.x)).map(|s| (s.x, String::new())).collect();
    if stops.is_empty() {
        return Ok(());
    }
    let bounds = (view.map.x(view.window.0) - HANG, view.map.x(view.window.1) + HANG);
    let zero = view.window.0;
    let running =
        Dimension::running(Run::Level, Length::ZERO, zero, &stops, |x| view.map.x(x), bounds, view.format())?;
    let at = y - Length::mm(2);
    drawing.marks.push(running.draw(at, top, &view.id("seams"), "seams from the left corner")?);
    let mut caption = format!("Seams from corner {}", view.left_corner().name);
    // Whoever approves tapes nothing.
    if !matches!(view.reader, Reader::Approval | Reader::Costs) {
        caption += &format!(", taped {}", view.above(view.wall_plan().tape_height));
    }
    let baseline = Point::new(view.map.x(view.window.0), at - running.depth() - NEXT);
    drawing.text(Layer::Dimensions, text::set(caption, baseline, Anchor::Start, Style::BODY)?);
    Ok(())
}

/// The strips' labels with the numbers of their cuts; returns the y above them.
fn headings(view: &View, drawing: &mut Drawing, top: Length) -> Result<Length, ComposeFault> {
    let Some(panel) = &view.wall_plan().panel else { return Ok(top) };
    let mut wants = Vec::new();
    let mut labels = Vec::new();
    for strip in &panel.strips {
        let Some((x0, x1)) = view.clip_cloth(strip.net.x0, strip.net.x1) else { continue };
        let cut = view.plan.pieces.get(strip.piece.0).map_or(0, |piece| piece.cut.number);
        let name = text::measure(&strip.label, Style::HEAD)?;
        let number = cut.to_string();
        let tag =
            (text::measure(&number, Style::STRONG)? + Length::micrometres(1_800)).max(sign::TAG_HALF * 2);
        let width = name + Length::micrometres(1_500) + tag;
        let (low, high) = (view.map.x(x0), view.map.x(x1));
        let at = (low + high) / 2;
        // What lies under a pieced opening has its heading over that of the piece above it.
        let alone = wants.iter().all(|want: &Want| want.at != at);
        let home = (alone && width + Length::mm(2) <= high - low).then(|| at - width / 2);
        wants.push(Want { at, width, home });
        labels.push((strip.label.as_str(), number, name, tag));
    }
    let bounds = (view.map.x(view.window.0) - HANG, view.map.x(view.window.1) + HANG);
    let mut rows = 0;
    for ((want, slot), (label, number, name, tag)) in wants.iter().zip(place(&wants, bounds)).zip(labels) {
        rows = rows.max(slot.row as i64);
        let middle = top - Length::micrometres(3_400) - HEADING_ROW * slot.row as i64;
        let baseline = Point::new(slot.start, middle + Style::HEAD.caps.height() / 2);
        let mut marks = Vec::new();
        if slot.row > 0 {
            let foot = Point::new(slot.start + want.width / 2, middle + Length::mm(2));
            marks.push(line(foot, Point::new(want.at, top), pen::DIMENSION));
        }
        let name_set = text::set(label, baseline, Anchor::Start, Style::HEAD)?;
        marks.push(filled(text::area(&name_set).grown(Length::micrometres(500)), Ink::WHITE));
        marks.push(Mark::Text(name_set));
        let centre = Point::new(slot.start + name + Length::micrometres(1_500) + tag / 2, middle);
        marks.extend(sign::tag(centre, &number, Ends::Round, false)?.0);
        drawing.signs.insert(Sign::CutNumber);
        let title = format!("strip {label}, cut {number}");
        drawing.label(group(Layer::Cloth, format!("heading-{label}"), title, marks));
    }
    Ok(top - Length::micrometres(6_000) - HEADING_ROW * rows)
}

fn below(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let wall = view.wall();
    let floor = view.map.y(view.bottom());
    let (from, to) = view.window;
    let bounds = (view.map.x(from) - HANG, view.map.x(to) + HANG);
    let mut lines: Vec<(Dimension, &str, &str)> = Vec::new();
    let mut stops: Vec<Length> = vec![from, to];
    stops.extend(wall.openings.iter().flat_map(|o| [o.outer.x0, o.outer.x1]).filter(|&x| view.shows(x)));
    stops.sort();
    stops.dedup();
    if stops.len() > 2 && view.reader != Reader::Approval {
        let chain = Dimension::chain(Run::Level, &stops, |x| view.map.x(x), bounds, view.format())?;
        lines.push((chain, "openings", "openings, outside of casings"));
    }
    if view.reader == Reader::Crew {
        let mut by_x: BTreeMap<Length, Vec<&str>> = BTreeMap::new();
        for fixing in wall.fixings_in_field().filter(|f| view.shows(f.centre().x)) {
            by_x.entry(fixing.centre().x).or_default().push(&fixing.label);
        }
        for service in wall.services.iter().filter(|s| s.from.x == s.to.x && view.shows(s.from.x)) {
            by_x.entry(service.from.x).or_default().push(service.kind.word());
        }
        if let Some(motif) = repeat::placed(view) {
            by_x.entry(motif.x).or_default().push(repeat::MOTIF);
        }
        let stops: Vec<(Length, String)> =
            by_x.into_iter().map(|(x, labels)| (x, labels.join(" "))).collect();
        if !stops.is_empty() {
            let running = Dimension::running(
                Run::Level,
                Length::ZERO,
                from,
                &stops,
                |x| view.map.x(x),
                bounds,
                view.format(),
            )?;
            lines.push((
                running,
                "fixings",
                "centres of fixings, pipes, cables and the framed motif from the left corner",
            ));
        }
    }
    if view.reader == Reader::Approval
        && let Some(across) = repeat::across(view, bounds)?
    {
        lines.push((across, "motif", "the framed motif from the left corner"));
    }
    let steps = steps(view);
    if !steps.is_empty() && view.reader != Reader::Approval {
        let zero = Length::ZERO;
        let running =
            Dimension::running(Run::Level, zero, from, &steps, |x| view.map.x(x), bounds, view.format())?;
        lines.push((running, "steps", "steps of top and bottom edge from the left corner"));
    }
    let whole = Dimension::chain(Run::Level, &[from, to], |x| view.map.x(x), bounds, view.format())?;
    lines.push((whole, "width", "width of the wall"));
    let mut y = floor + if view.reader == Reader::Crew { BOB_ROOM + Length::mm(1) } else { Length::mm(2) };
    let mut marks = Vec::new();
    for n in 0..lines.len() {
        let (line, id, title) = &lines[n];
        let farther: Vec<Length> =
            lines[n + 1..].iter().flat_map(|(line, ..)| line.stops()).copied().collect();
        let line = line.clone().clear_of(&farther, bounds);
        y += line.depth();
        marks.push(line.draw(y, floor, &view.id(id), title)?);
        y += NEXT;
    }
    // The farthest first, so that nearer values knock out the extension lines that cross them.
    drawing.marks.extend(marks.into_iter().rev());
    corners(view, drawing, y - NEXT)
}

/// Where the upper or the lower edge of the cloth steps, left to right.
fn steps(view: &View) -> Vec<(Length, String)> {
    let mut named: BTreeMap<Length, Vec<&str>> = BTreeMap::new();
    for (edge, word) in [(view.wall().field_top(), "step"), (view.wall().field_bottom(), "floor step")] {
        for step in edge.steps().filter(|step| view.shows(step.x)) {
            named.entry(step.x).or_default().push(word);
        }
    }
    named.into_iter().map(|(x, words)| (x, words.join(" "))).collect()
}

/// The corners' letters below the last dimension line, at the ends of the wall.
fn corners(view: &View, drawing: &mut Drawing, line: Length) -> Result<(), ComposeFault> {
    let kill = view.room_plan().kill.as_ref().map(|kill| kill.corner);
    let room = view.room();
    let ends = [
        (Length::ZERO, view.at.wall, view.left_corner()),
        (view.wall().width, room.right_corner(view.at.wall), view.right_corner()),
    ];
    // On a wall narrower than the frames of two letters, they stand apart, led to their corners.
    let aside = ((sign::TAG_HALF * 2 + FIRST - view.map.x(view.wall().width) + view.map.x(Length::ZERO)) / 2)
        .max(Length::ZERO);
    for (x, index, corner) in ends {
        if !view.shows(x) {
            continue;
        }
        let double = kill == Some(index);
        let stalk = Length::mm(3);
        let foot = Point::new(view.map.x(x), line);
        let side = if x == Length::ZERO { -aside } else { aside };
        let centre = Point::new(foot.x + side, line + stalk + sign::TAG_HALF);
        let stalk = Point::new(centre.x, line + stalk);
        let mut marks = vec![mark::line(foot, stalk, pen::DIMENSION)];
        marks.extend(sign::tag(centre, &corner.name, Ends::of_corner(corner.kind), double)?.0);
        drawing.signs.insert(if double { Sign::KillCorner } else { Sign::of_corner(corner.kind) });
        let id =
            view.id(&format!("corner-{}-{}", corner.name, if x == Length::ZERO { "left" } else { "right" }));
        drawing.group(Layer::Room, id, format!("corner {}", corner.name), marks);
    }
    edge_notes(view, drawing, line + Length::mm(3) + sign::TAG_HALF)
}

/// The heights at one end of the wall: floor, base, crown, ceiling, without empty parts.
fn heights(view: &View, x: Length) -> Vec<Length> {
    let wall = view.wall();
    let mut stops =
        [&wall.floor, &wall.field_bottom(), &wall.field_top(), &wall.ceiling].map(|p| p.at(x)).to_vec();
    stops.dedup();
    stops
}

/// The heights at the left end.
fn left(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let x = view.map.x(view.window.0);
    let stops = heights(view, view.window.0);
    let edge = x - if view.window.0 == Length::ZERO { overhang(view, Side::Left) } else { Length::ZERO };
    height_lines(view, drawing, &stops, (x, edge - FIRST), "left", -1)
}

/// Levels, and the heights at the right end when they differ.
fn right(view: &View, drawing: &mut Drawing, beside: Length) -> Result<(), ComposeFault> {
    let x = view.map.x(view.window.1);
    let ends = view.window.1 == view.wall().width;
    let mut at = x + FIRST + beside + if ends { overhang(view, Side::Right) } else { Length::ZERO };
    let differ = heights(view, view.window.1) != heights(view, view.window.0);
    let mut marks = Vec::new();
    if matches!(view.reader, Reader::Crew | Reader::Approval) {
        let stops = levels(view);
        if !stops.is_empty() {
            let bounds = (view.map.y(view.top()), view.map.y(view.bottom()));
            let zero = view.datum();
            let running = Dimension::running(
                Run::Upright,
                zero,
                zero,
                &stops,
                |y| view.map.y(y),
                bounds,
                view.format(),
            )?;
            let farther: Vec<Length> = if differ {
                heights(view, view.window.1).iter().map(|&y| view.map.y(y)).collect()
            } else {
                Vec::new()
            };
            let running = if view.fans { running.fanned(bounds) } else { running }.clear_of(&farther, bounds);
            at += running.depth();
            let title = format!("heights above {}", view.datum_words());
            marks.push(running.draw(at, x, &view.id("levels"), &title)?);
            at += NEXT + running.beyond();
        }
    }
    if differ {
        let stops = heights(view, view.window.1);
        height_lines(view, drawing, &stops, (x, at), "right", 1)?;
    }
    drawing.marks.extend(marks);
    Ok(())
}

/// A chain of heights and the whole height, going outwards from `at`; `(object, at)` are the wall's
/// edge and where the first values may begin.
fn height_lines(
    view: &View,
    drawing: &mut Drawing,
    stops: &[Length],
    (object, mut at): (Length, Length),
    id: &str,
    way: i64,
) -> Result<(), ComposeFault> {
    let bounds = (view.map.y(view.top()), view.map.y(view.bottom()));
    let mut chains = Vec::new();
    if stops.len() > 2 && view.reader != Reader::Approval {
        chains.push((stops.to_vec(), "heights"));
    }
    if let (Some(&low), Some(&high)) = (stops.first(), stops.last())
        && low < high
    {
        chains.push((vec![low, high], "height"));
    }
    let mut marks = Vec::new();
    for (stops, name) in chains {
        let chain = Dimension::chain(Run::Upright, &stops, |y| view.map.y(y), bounds, view.format())?;
        if way > 0 {
            at += chain.depth();
        }
        marks.push(chain.draw(
            at,
            object,
            &view.id(&format!("{name}-{id}")),
            &format!("{name} at the {id} end"),
        )?);
        at += if way > 0 { NEXT } else { -chain.depth() - NEXT };
    }
    drawing.marks.extend(marks.into_iter().rev());
    Ok(())
}

/// The levels worth a value: sills and heads of openings, centres of fixings, level pipes and cables, the framed
/// motif; from below. Whoever approves is told of the motif alone.
fn levels(view: &View) -> Vec<(Length, String)> {
    let wall = view.wall();
    let mut named: BTreeMap<Length, Vec<&str>> = BTreeMap::new();
    if let Some(motif) = repeat::placed(view) {
        named.entry(motif.y).or_default().push(repeat::MOTIF);
    }
    if view.reader == Reader::Approval {
        return above_datum(view, named);
    }
    for service in wall.services.iter().filter(|service| service.from.y == service.to.y) {
        named.entry(service.from.y).or_default().push(service.kind.word());
    }
    for opening in wall.openings.iter().filter(|o| view.clip(o.outer.x0, o.outer.x1).is_some()) {
        let floor = wall.field_bottom().max_between(opening.outer.x0, opening.outer.x1);
        if opening.outer.y0 > floor {
            named.entry(opening.outer.y0).or_default().push(&opening.label);
        }
        named.entry(opening.outer.y1).or_default().push(&opening.label);
        if opening.hole().is_arched() {
            named.entry(opening.hole().springing()).or_default().push(&opening.label);
        }
    }
    let (top, bottom) = (wall.field_top(), wall.field_bottom());
    let lower = top.steps().map(|step| (step.x, step.left.min(step.right)));
    let upper = bottom.steps().map(|step| (step.x, step.left.max(step.right)));
    for (_, y) in lower.chain(upper).filter(|(x, _)| view.shows(*x)) {
        let there = named.entry(y).or_default();
        if !there.contains(&"step") {
            there.push("step");
        }
    }
    for fixing in wall.fixings_in_field().filter(|f| view.shows(f.centre().x)) {
        named.entry(fixing.centre().y).or_default().push(&fixing.label);
    }
    above_datum(view, named)
}

fn above_datum(view: &View, named: BTreeMap<Length, Vec<&str>>) -> Vec<(Length, String)> {
    named.into_iter().filter(|(y, _)| *y > view.datum()).map(|(y, labels)| (y, labels.join(" "))).collect()
}

/// How far the drawn cloth reaches past an end of the wall on paper.
fn overhang(view: &View, side: Side) -> Length {
    let Some(panel) = &view.wall_plan().panel else { return Length::ZERO };
    if view.reader != Reader::Workroom {
        return Length::ZERO;
    }
    let past = match side {
        Side::Left => -panel.gross.x0,
        Side::Right => panel.gross.x1 - view.wall().width,
    };
    view.map.scale.paper(past.max(Length::ZERO))
}

/// What becomes of the panel's edges: beside the corners' letters when there is room between them,
/// else on lines of their own below.
fn edge_notes(view: &View, drawing: &mut Drawing, middle: Length) -> Result<(), ComposeFault> {
    let style = Style::BODY;
    let (left, right) = (view.map.x(view.window.0), view.map.x(view.window.1));
    let beside = sign::TAG_HALF + Length::micrometres(2_000);
    let mut notes = Vec::new();
    if let Some(panel) = view.wall_plan().panel.as_ref().filter(|_| view.reader != Reader::Approval) {
        for (side, edge, corner, shown) in [
            (Side::Left, panel.left, view.left_corner(), view.window.0 == Length::ZERO),
            (Side::Right, panel.right, view.right_corner(), view.window.1 == view.wall().width),
        ] {
            if shown {
                notes.push((side, corner.name.as_str(), edge_words(view, side, edge)));
            }
        }
    }
    // The parts of a broken wall follow one another.
    for (side, open, words) in [
        (Side::Left, view.window.0 > Length::ZERO, onward::BEFORE),
        (Side::Right, view.window.1 < view.wall().width, onward::NEXT),
    ] {
        if open {
            notes.push((side, "", words.to_owned()));
        }
    }
    let mut needed = (beside + Length::mm(2)) * 2;
    for (_, _, words) in &notes {
        needed += text::measure(words, style)?;
    }
    for (n, (side, corner, words)) in notes.into_iter().enumerate() {
        let note = if needed <= right - left {
            let baseline = middle + style.caps.height() / 2;
            let (x, anchor) = match side {
                Side::Left if corner.is_empty() => (left, Anchor::Start),
                Side::Right if corner.is_empty() => (right, Anchor::End),
                Side::Left => (left + beside, Anchor::Start),
                Side::Right => (right - beside, Anchor::End),
            };
            text::set(words.as_str(), Point::new(x, baseline), anchor, style)?
        } else {
            let baseline = middle + sign::TAG_HALF + style.leading() * (n as i64 + 1);
            let at = Point::new((left + right) / 2, baseline);
            let words = if corner.is_empty() { words.clone() } else { format!("{corner}: {words}") };
            text::set(words, at, Anchor::Middle, style)?
        };
        let id = if side == Side::Left { "edge-left" } else { "edge-right" };
        drawing.group(Layer::Cloth, view.id(id), words, vec![Mark::Text(note)]);
    }
    Ok(())
}

/// What becomes of an edge, and the wall beyond it.
pub fn edge_words(view: &View, side: Side, edge: PanelEdge) -> String {
    let allowance = view.format().print(edge.allowance);
    let done = match edge.finish {
        EdgeFinish::Pulled => format!("pulled in {allowance}"),
        EdgeFinish::Ended => format!("ends, {allowance} beyond"),
        EdgeFinish::Wrapped => format!("carried round {allowance}"),
        EdgeFinish::Folded => format!("folded under {allowance}"),
    };
    match neighbour(view, side) {
        Some(next) => format!("{done}; meets {}", met(view, next)),
        None => done,
    }
}

/// The wall beyond a corner, and whether its panel hangs already when this one is hung.
fn met(view: &View, next: usize) -> String {
    let label = &view.room().walls[next].label;
    // Of the steps at hanging, the first of a wall hangs its panel.
    let hung = |wall| {
        let at = Some(WallRef { room: view.at.room, wall });
        view.plan.steps.iter().find(|step| step.stage == Stage::Hang && step.wall == at).map(|s| s.number)
    };
    match (hung(next), hung(view.at.wall)) {
        (None, _) => format!("bare wall {label}"),
        (Some(other), Some(own)) if other < own => format!("wall {label}, hung before"),
        (Some(_), Some(_)) => format!("wall {label}, hung after"),
        (Some(_), None) => format!("wall {label}"),
    }
}

/// The wall beyond an end of this one.
fn neighbour(view: &View, side: Side) -> Option<usize> {
    let room = view.room();
    let (count, wall) = (room.walls.len(), view.at.wall);
    let corner = match side {
        Side::Left => view.left_corner(),
        Side::Right => view.right_corner(),
    };
    if corner.kind == CornerKind::FreeEnd {
        return None;
    }
    let next = match side {
        Side::Left if wall > 0 => wall - 1,
        Side::Left if room.closed => count - 1,
        Side::Right if wall + 1 < count => wall + 1,
        Side::Right if room.closed => 0,
        _ => return None,
    };
    (next != wall).then_some(next)
}
