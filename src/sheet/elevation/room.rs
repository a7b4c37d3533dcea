//! The room on an elevation: edges, mouldings, openings, fixings.

use super::view::View;
use crate::geom::{Point, Profile, Rect};
use crate::job::model::{Fixing, FixingKind, Moulding, Opening, OpeningKind};
use crate::sheet::ComposeFault;
use crate::sheet::drawing::Drawing;
use crate::sheet::hole::hole_path;
use crate::sheet::mark::{filled, level, line, ring, through, upright};
use crate::sheet::model::{Anchor, Ink, Layer, Mark};
use crate::sheet::pen;
use crate::sheet::sign::{self, Sign};
use crate::sheet::text::{self, Style};
use crate::sheet::words;
use crate::units::Length;

/// The outline of the wall and its mouldings.
pub fn edges(view: &View, drawing: &mut Drawing) {
    let wall = view.wall();
    let (x0, x1) = view.window;
    let profile =
        |p: &Profile| -> Vec<Point> { p.between(x0, x1).into_iter().map(|p| view.map.point(p)).collect() };
    let ceiling = profile(&wall.ceiling);
    let floor = profile(&wall.floor);
    for (id, title, moulding, line) in [
        ("crown", "underside of the crown", wall.crown, wall.crown_line()),
        ("base", "top of the base", wall.base, wall.base_line()),
    ] {
        if moulding.height > Length::ZERO {
            let marks = moulding_marks(view, moulding, &line, id == "crown");
            drawing.group(Layer::Room, format!("{id}-{}", wall.label), title, marks);
        }
    }
    for (id, title, there, line) in [
        ("rail", "underside of the rail", wall.rail.is_some(), wall.field_top()),
        ("dado", "top of the dado", wall.dado.is_some(), wall.field_bottom()),
    ] {
        if there {
            let stroke = Mark::Stroke { pen: pen::DETAIL, path: through(&profile(&line)) };
            drawing.group(Layer::Room, format!("{id}-{}", wall.label), title, vec![stroke]);
        }
    }
    let mut marks = Vec::new();
    if view.is_whole() {
        let outline: Vec<Point> = floor.iter().copied().chain(ceiling.iter().rev().copied()).collect();
        marks.push(Mark::Stroke { pen: pen::OUTLINE, path: ring(&outline) });
    } else {
        marks.push(Mark::Stroke { pen: pen::OUTLINE, path: through(&ceiling) });
        marks.push(Mark::Stroke { pen: pen::OUTLINE, path: through(&floor) });
        for (x, end) in [(x0, Length::ZERO), (x1, wall.width)] {
            let (top, bottom) = (view.map.y(wall.ceiling.at(x)), view.map.y(wall.floor.at(x)));
            let at = view.map.x(x);
            if x == end {
                marks.push(upright(at, top, bottom, pen::OUTLINE));
            } else {
                let past = Length::mm(3);
                marks.push(upright(at, top - past, bottom + past, pen::PLUMB));
                drawing.signs.insert(Sign::MatchLine);
            }
        }
    }
    drawing.signs.insert(Sign::WallEdge);
    drawing.group(Layer::Room, format!("wall-{}", wall.label), format!("wall {}", wall.label), marks);
}

/// A moulding: the edge of the cloth, and one finer line for its profile when there is room.
fn moulding_marks(view: &View, moulding: Moulding, edge: &Profile, up: bool) -> Vec<Mark> {
    let (x0, x1) = view.window;
    let stroke = |by: Length, pen| {
        let line = edge.raised(by);
        let points: Vec<Point> = line.between(x0, x1).into_iter().map(|p| view.map.point(p)).collect();
        Mark::Stroke { pen, path: through(&points) }
    };
    let mut marks = vec![stroke(Length::ZERO, pen::DETAIL)];
    if view.map.scale.paper(moulding.height) >= Length::mm(2) {
        let third = moulding.height / 3;
        marks.push(stroke(if up { third * 2 } else { -third }, pen::HAIRLINE));
    }
    marks
}

/// The label of an opening, with the places where it may stand, the best first.
pub struct OpeningLabel<'a> {
    label: &'a str,
    places: Vec<(Point, Style)>,
}

/// The openings, each on white, with its casing and its kind's sign; and their labels, to be set later.
pub fn openings<'a>(view: &View<'a>, drawing: &mut Drawing) -> Vec<OpeningLabel<'a>> {
    // A mantel stands in front of its fireplace: the larger are drawn first.
    let mut openings: Vec<&Opening> =
        view.wall().openings.iter().filter(|o| view.clip(o.outer.x0, o.outer.x1).is_some()).collect();
    openings.sort_by_key(|o| std::cmp::Reverse((o.outer.width(), o.outer.height())));
    let mut labels = Vec::new();
    for opening in &openings {
        let outer = view.map.rect(opening.outer);
        let clear = view.map.rect(opening.clear);
        let (around, inner) =
            (hole_path(&view.map, &opening.hole()), hole_path(&view.map, &opening.clear_hole()));
        let mut marks = vec![
            Mark::Fill { ink: Ink::WHITE, path: around.clone() },
            Mark::Stroke { pen: pen::OPENING, path: around },
        ];
        if clear != outer {
            marks.push(Mark::Stroke { pen: pen::DETAIL, path: inner });
        }
        marks.extend(kind_marks(view, opening, clear));
        drawing.take(outer.grown(Length::micrometres(300)));
        let id = format!("opening-{}", opening.label);
        drawing.group(
            Layer::Room,
            id,
            format!("{} {}", words::opening_kind(opening.kind), opening.label),
            view.kept(marks),
        );
        labels.push(OpeningLabel { label: &opening.label, places: opening_label_places(view, opening) });
    }
    labels
}

/// Sets the labels of openings, each on white.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn opening_labels(labels: &[OpeningLabel], drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let mut set: Vec<Rect> = Vec::new();
    for OpeningLabel { label, places } in labels {
        for &(place, style) in places {
            let baseline = Point::new(place.x, place.y + style.caps.height() / 2);
            let text = text::set(*label, baseline, Anchor::Middle, style)?;
            let area = text::area(&text).grown(Length::micrometres(400));
            if set.iter().all(|other| !other.overlaps(&area)) {
                set.push(area);
                let marks = vec![filled(area, Ink::WHITE), Mark::Text(text)];
                drawing.group(Layer::Room, "", *label, marks);
                break;
            }
        }
    }
    Ok(())
}

/// Where the label of an opening may stand: in its middle, else higher or lower in it; in a head's
/// size when it fits.
fn opening_label_places(view: &View, opening: &Opening) -> Vec<(Point, Style)> {
    let (x0, x1) = view.clip(opening.clear.x0, opening.clear.x1).unwrap_or(view.window);
    let clear = view.map.rect(Rect { x0, x1, ..opening.clear });
    let x = (clear.x0 + clear.x1) / 2;
    let style = if clear.width() >= Length::mm(12) { Style::HEAD } else { Style::STRONG };
    let at = |tenth: i64| (Point::new(x, clear.y0 + clear.height() * tenth / 10), style);
    [5, 3, 7, 2, 8, 1, 9, 4, 6].into_iter().map(at).collect()
}

/// What tells one kind of opening from another, within its clear outline, whose rectangle on paper is `r`.
fn kind_marks(view: &View, opening: &Opening, r: Rect) -> Vec<Mark> {
    let thin = pen::HAIRLINE;
    let p = Point::new;
    let clear = opening.clear_hole();
    let springing = view.map.y(clear.springing());
    let inset = |by: Length| {
        if r.width() > by * 3 && r.height() > by * 3 {
            let path = hole_path(&view.map, &clear.grown(-view.map.scale.real(by)));
            vec![Mark::Stroke { pen: thin, path }]
        } else {
            Vec::new()
        }
    };
    match opening.kind {
        // The hinge side of a door is not surveyed, so a door has only its panel.
        OpeningKind::Door => inset((r.width() / 8).min(Length::mm(4))),
        OpeningKind::Window => {
            let middle = if clear.is_arched() { springing } else { (r.y0 + r.y1) / 2 };
            vec![level(r.x0, r.x1, middle, thin), upright((r.x0 + r.x1) / 2, r.y0, r.y1, thin)]
        }
        OpeningKind::Archway => {
            vec![line(p(r.x0, springing), p(r.x1, r.y1), thin), line(p(r.x0, r.y1), p(r.x1, springing), thin)]
        }
        OpeningKind::Niche | OpeningKind::Fireplace => inset(Length::micrometres(1_200)),
        OpeningKind::Mantel => {
            let shelf = (r.height() / 6).min(Length::mm(2));
            vec![level(r.x0, r.x1, r.y0 + shelf, thin)]
        }
        OpeningKind::BuiltIn => (1..4).map(|n| level(r.x0, r.x1, r.y0 + r.height() * n / 4, thin)).collect(),
    }
}

/// The word for a kind of fixing.
pub const fn fixing_word(kind: FixingKind) -> &'static str {
    match kind {
        FixingKind::Switch => "switch",
        FixingKind::Box => "box",
        FixingKind::Sconce => "wall light",
        FixingKind::Vent => "vent",
        FixingKind::Thermostat => "thermostat",
    }
}

/// The fixings, to scale but never too small to tell apart.
pub fn fixings(view: &View, drawing: &mut Drawing) {
    for fixing in shown_fixings(view) {
        let rect = sign_rect(view, fixing);
        drawing.take(rect.grown(Length::micrometres(300)));
        drawing.signs.insert(Sign::of_fixing(fixing.kind));
        let id = format!("fixing-{}", fixing.label);
        let title = format!("{} {}", fixing_word(fixing.kind), fixing.label);
        drawing.group(Layer::Room, id, title, sign::fixing(fixing.kind, rect));
    }
}

fn shown_fixings<'a>(view: &View<'a>) -> impl Iterator<Item = &'a Fixing> {
    let window = view.window;
    let shows = move |x: Length| window.0 <= x && x <= window.1;
    view.wall().fixings.iter().filter(move |fixing| shows(fixing.centre().x))
}

/// The labels of the fixings, beside them on the cloth.
pub fn fixing_labels(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let (left, right) = (view.map.x(view.window.0), view.map.x(view.window.1));
    let cloth = view.cloth();
    for fixing in shown_fixings(view) {
        let rect = sign_rect(view, fixing);
        let centre = Point::new((rect.x0 + rect.x1) / 2, (rect.y0 + rect.y1) / 2);
        let half = text::measure(&fixing.label, Style::STRONG)? / 2;
        let reach = Length::micrometres(1_700);
        let (across, up) = (rect.width() / 2 + half + reach, rect.height() / 2 + Length::micrometres(2_900));
        let in_cloth = view.wall().in_field(&fixing.rect);
        let mut places = Vec::new();
        // Close by first; then further off, led back to the box.
        for ring in 0..4 {
            let (dx, dy) = (across + Length::mm(4) * ring, up + Length::mm(3) * ring);
            for y in [Length::ZERO, -dy, dy] {
                for x in [dx, -dx, Length::ZERO] {
                    places.push((Point::new(centre.x + x, centre.y + y), ring > 0));
                }
            }
        }
        places.retain(|&(p, _)| {
            let ends = [Point::new(p.x - half, p.y), Point::new(p.x + half, p.y)];
            // What is in a dado or a frieze has its name there.
            let there = |end| in_cloth == cloth.holds(end);
            p != centre && ends.iter().all(|&end| left < end.x && end.x < right && there(end))
        });
        let only: Vec<Point> = places.iter().map(|&(place, _)| place).collect();
        if let Some(at) = drawing.tag_at(Layer::Room, &fixing.label, sign::Ends::None, &only)?
            && places.iter().any(|&(place, led)| place == at && led)
        {
            drawing.group(Layer::Room, "", "leader", vec![line(centre, at, pen::DIMENSION)]);
            drawing.group(Layer::Room, "", fixing.label.as_str(), sign::fixing(fixing.kind, rect));
        }
    }
    Ok(())
}

/// The fixing on paper, about its true centre, at least 2.2 mm wide and high.
fn sign_rect(view: &View, fixing: &Fixing) -> Rect {
    let centre = view.map.point(fixing.centre());
    let least = Length::micrometres(1_100);
    let half_w = (view.map.scale.paper(fixing.rect.width()) / 2).max(least);
    let half_h = (view.map.scale.paper(fixing.rect.height()) / 2).max(least);
    Rect::new(centre.x - half_w, centre.y - half_h, centre.x + half_w, centre.y + half_h)
}
