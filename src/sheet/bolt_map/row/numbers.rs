//! The numbers of cuts on a bolt map: inside their cuts with what has room beside them, or outside the bolt with
//! leaders.

use super::{PAD, Shape};
use crate::geom::{Point, Rect};
use crate::plan::model::Plan;
use crate::sheet::mark::{filled, line, moved};
use crate::sheet::model::{Anchor, Ink, Mark};
use crate::sheet::sign::{self, Ends, TAG_HALF};
use crate::sheet::slots::{Slot, Want, in_one_row, place};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, pen, words};
use crate::units::Length;

/// From lane to lane of numbers outside the bolt, where one lane does not hold them.
const LANE: Length = Length::micrometres(5_800);
/// Half the width of the dot at the end of a leader.
const DOT: Length = Length::micrometres(450);
/// From the bolt to the numbers: so much at least, and so much at most where leaders lean far.
const LEAST_AWAY: Length = Length::micrometres(1_800);
const MOST_AWAY: Length = Length::mm(7);
/// The farthest that a number with its label is moved along the bolt; one that must go farther is told alone.
const MOST_ASIDE: Length = Length::mm(32);

/// A number inside its cut: its marks, and the places that its words take.
type Inside = (Vec<Mark>, Vec<Rect>);

/// A cut's number and label with as many words as it has room for, size and mark, under one another or else on
/// one line; `None` when not even the label fits.
pub(super) fn inside(plan: &Plan, shape: &Shape) -> Result<Option<Inside>, ComposeFault> {
    let Shape { piece, area } = shape;
    let room = Rect { x0: area.x0 + PAD, y0: area.y0 + PAD, x1: area.x1 - PAD, y1: area.y1 - PAD };
    let (tag, tag_area) = sign::tag(Point::default(), &piece.cut.number.to_string(), Ends::Round, false)?;
    if tag_area.width() > area.width() - PAD || tag_area.height() > area.height() - PAD {
        return Ok(None);
    }
    let size = |length| words::cloth_length(plan, length);
    let made = if piece.cut.made.is_some() { ", cut" } else { "" };
    let lines = [
        Some((format!("{}{made}", piece.label), Style::STRONG)),
        Some((format!("{} × {}", size(piece.cut.length), size(piece.cut.width)), Style::BODY)),
        words::motif(plan, piece).map(|motif| (motif, Style::BODY)),
    ];
    let lines: Vec<(String, Style)> = lines.into_iter().flatten().collect();
    let widths: Result<Vec<Length>, _> =
        lines.iter().map(|(line, style)| text::measure(line, *style)).collect();
    let widths = widths?;
    let leading = Style::BODY.leading();
    let fits_under = |n: usize| {
        widths[n - 1] <= room.width() && tag_area.height() + PAD / 2 + leading * n as i64 <= room.height()
    };
    let apart =
        |n: usize| tag_area.width() + widths[..n].iter().map(|&width| width + PAD * 2).sum::<Length>();
    let under = (1..=lines.len()).take_while(|&n| fits_under(n)).count();
    let beside = (1..=lines.len()).take_while(|&n| apart(n) <= room.width()).count();
    let centre = Point::new((area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2);
    let places: Vec<Point>;
    let tag_at: Point;
    if under >= beside && under > 0 {
        let top = centre.y - (tag_area.height() + leading * under as i64) / 2;
        tag_at = Point::new(centre.x, top + tag_area.height() / 2);
        let foot = |n: usize| top + tag_area.height() + leading * (n as i64 + 1) - Length::micrometres(600);
        places = (0..under).map(|n| Point::new(centre.x, foot(n))).collect();
    } else if beside > 0 {
        let left = centre.x - apart(beside) / 2;
        tag_at = Point::new(left + tag_area.width() / 2, centre.y);
        let foot = centre.y + Style::BODY.caps.height() / 2;
        places = (0..beside).map(|n| Point::new(left + apart(n) + PAD * 2 + widths[n] / 2, foot)).collect();
    } else {
        return Ok(None);
    }
    let mut set = moved(tag, tag_at.x, tag_at.y);
    let (x, y) = (tag_at.x, tag_at.y);
    let ground = Rect { x0: tag_area.x0 + x, y0: tag_area.y0 + y, x1: tag_area.x1 + x, y1: tag_area.y1 + y };
    let mut taken = vec![ground];
    for ((line, style), at) in lines.into_iter().zip(places) {
        let line = text::set(line, at, Anchor::Middle, style)?;
        let ground = text::area(&line).grown(Length::micrometres(200));
        taken.push(ground);
        set.push(filled(ground, Ink::WHITE));
        set.push(Mark::Text(line));
    }
    Ok(Some((set, taken)))
}

/// The numbers of cuts too small to hold theirs outside the `edge` of the bolt, which is the upper or the lower one
/// of `room`, each with its label and a leader to a dot on its cut; and the point farthest out. Side by side in the
/// order of their cuts, so that no leader crosses another; where there is no room for that, without labels and then in
/// lanes.
pub(super) fn outside(
    shapes: &[&Shape],
    room: Rect,
    edge: Length,
) -> Result<(Vec<Mark>, Length), ComposeFault> {
    let mut shapes: Vec<&Shape> = shapes.to_vec();
    shapes.sort_by_key(|shape| (shape.area.x0, shape.area.y0, shape.piece.cut.number));
    let (mut tags, mut alone, mut labelled) = (Vec::new(), Vec::new(), Vec::new());
    let mut cursor = room.x0;
    for shape in &shapes {
        let number = shape.piece.cut.number.to_string();
        let (marks, tag) = sign::tag(Point::default(), &number, Ends::Round, false)?;
        // Along strips that lie side by side, each leader takes the next place.
        let low = shape.area.x0 + DOT;
        let high = (shape.area.x1 - DOT).max(low);
        let at = (cursor + tag.width() / 2).clamp(low, high);
        cursor = at + tag.width() / 2 + PAD * 2;
        let label = text::measure(&shape.piece.label, Style::BODY)?;
        alone.push(Want { at, width: tag.width(), home: None });
        labelled.push(Want { at, width: tag.width().max(label), home: None });
        tags.push(marks);
    }
    let bounds = (room.x0, room.x1);
    let aside = |wants: &[Want], slots: &[Slot]| {
        let moves = wants.iter().zip(slots).map(|(want, slot)| (slot.start + want.width / 2 - want.at).abs());
        moves.max().unwrap_or_default()
    };
    let with_labels = in_one_row(&labelled, bounds).filter(|slots| aside(&labelled, slots) <= MOST_ASIDE);
    let told = with_labels.is_some();
    let wants = if told { labelled } else { alone };
    let slots = with_labels.or_else(|| in_one_row(&wants, bounds));
    // `place` keeps row 0 for values at home, of which there are none here.
    let slots = slots.unwrap_or_else(|| place(&wants, bounds));
    let first = slots.iter().map(|slot| slot.row).min().unwrap_or_default();
    let away = (aside(&wants, &slots) / 4).clamp(LEAST_AWAY, MOST_AWAY);
    let out = if edge == room.y0 { -1 } else { 1 };
    let (mut leaders, mut numbers) = (Vec::new(), Vec::new());
    let mut reach = edge;
    for (((shape, want), slot), tag) in shapes.iter().zip(&wants).zip(slots).zip(tags) {
        let near = edge + (away + LANE * (slot.row - first) as i64) * out;
        let centre = Point::new(slot.start + want.width / 2, near + TAG_HALF * out);
        let dot = Point::new(want.at, (shape.area.y0 + shape.area.y1) / 2);
        let crossing = Point::new(want.at, edge);
        leaders.push(line(dot, crossing, pen::DIMENSION));
        leaders.push(line(crossing, Point::new(centre.x, near), pen::DIMENSION));
        leaders.push(filled(Rect::new(dot.x, dot.y, dot.x, dot.y).grown(DOT), Ink::BLACK));
        numbers.extend(moved(tag, centre.x, centre.y));
        let mut end = centre.y + TAG_HALF * out;
        if told {
            let caps = Style::BODY.caps.height();
            let foot = if out < 0 { end - PAD } else { end + PAD + caps };
            let label = Point::new(centre.x, foot);
            numbers.push(Mark::Text(text::set(&shape.piece.label, label, Anchor::Middle, Style::BODY)?));
            end += (PAD + caps) * out;
        }
        reach = if out < 0 { reach.min(end) } else { reach.max(end) };
    }
    leaders.extend(numbers);
    Ok((leaders, reach))
}
