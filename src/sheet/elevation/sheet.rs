//! The sheets of a room's elevations: walls that follow one another stand side by side where their
//! drawings and all their notes fit one sheet, so that a binder is thin and the pattern is seen to run on
//! round the corners.

use std::cmp::Reverse;

use super::notes;
use super::view::View;
use crate::geom::{Point, Rect};
use crate::job::model::Paper;
use crate::sheet::column::Section;
use crate::sheet::drawing::Drawing;
use crate::sheet::model::{Anchor, Layer, Mark, Reader};
use crate::sheet::pack::{self, Item};
use crate::sheet::plate::{self, Composed, Plate};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, Draft, Part, extent, frame, words};
use crate::units::Length;

/// From a wall's lowest mark to the baseline of its name.
const NAME_DROP: Length = Length::micrometres(6_500);
/// Walls share a sheet beside at most so many columns of notes.
const MOST_COLUMNS: i64 = 3;
/// So many walls are named one by one in a title.
const NAMED: usize = 4;

/// The sheets of a room's views, and the notes that found no room on them.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(paper: Paper, views: &[View]) -> Result<(Vec<Draft>, Vec<Section>), ComposeFault> {
    let free = frame::free(paper);
    let mut drafts = Vec::new();
    let mut rest = Vec::new();
    let mut left = views;
    while !left.is_empty() {
        let (count, composed) = sheet(left, free)?;
        let (members, others) = left.split_at(count);
        drafts.push(draft(members, part(views, members), composed.marks));
        for section in composed.rest {
            let title = match members {
                [only] => of_wall(only, &section.title),
                _ => section.title.clone(),
            };
            rest.push(Section { title, ..section });
        }
        left = others;
    }
    Ok((drafts, rest))
}

/// The first views on one sheet, as many as share it without loss, and how many they are. Heights are not fanned out
/// where that would cost a sheet or notes their place.
fn sheet(views: &[View], free: Rect) -> Result<(usize, Composed), ComposeFault> {
    let fanned = together(views, free)?;
    if views.first().is_none_or(|first| !first.fans) {
        return Ok(fanned);
    }
    let plain: Vec<View> = views.iter().map(|view| View { fans: false, ..*view }).collect();
    let plain = together(&plain, free)?;
    let loss = |(count, composed): &(usize, Composed)| {
        let rest: usize = composed.rest.iter().map(|section| section.rows.len()).sum();
        (Reverse(*count), rest, composed.left_out.len())
    };
    Ok(if loss(&fanned) <= loss(&plain) { fanned } else { plain })
}

/// The first views on one sheet as they are.
fn together(views: &[View], free: Rect) -> Result<(usize, Composed), ComposeFault> {
    let [first, others @ ..] = views else {
        return Ok((0, Composed { marks: Vec::new(), rest: Vec::new(), left_out: Vec::new() }));
    };
    let mut best = (1, composed(&[*first], super::drawn(first)?, free)?);
    let mut items = vec![named(first)?];
    for (n, view) in others.iter().enumerate().filter(|_| first.is_whole()) {
        if !view.is_whole() {
            break;
        }
        items.push(named(view)?);
        match shared(&views[..n + 2], &items, free)? {
            Some(shared) => best = (n + 2, shared),
            None => break,
        }
    }
    Ok(best)
}

/// Views on one sheet, if they fit it with all their notes; on small paper, lists that stand elsewhere
/// as well are no reason for another sheet.
fn shared(views: &[View], items: &[Item], free: Rect) -> Result<Option<Composed>, ComposeFault> {
    for columns in 1..=MOST_COLUMNS {
        let mut pages = pack::pages(items, plate::drawing_area(free, columns), items.len());
        if let (Some(page), true) = (pages.pop(), pages.is_empty()) {
            let composed = composed(views, page.drawing, free)?;
            if composed.rest.is_empty() && (composed.left_out.is_empty() || plate::is_small(free)) {
                return Ok(Some(composed));
            }
        }
    }
    Ok(None)
}

fn composed(views: &[View], drawing: Drawing, free: Rect) -> Result<Composed, ComposeFault> {
    let Some(first) = views.first() else {
        return Ok(Composed { marks: Vec::new(), rest: Vec::new(), left_out: Vec::new() });
    };
    let heading = match views {
        [only] => format!("{}{}", title(views), part_words(only)),
        _ => title(views),
    };
    Plate {
        rest_in: Some(super::NOTES),
        drawing,
        sections: &sections(views),
        reading: &notes::reading(views),
        title: (&heading, &format!("Seen from inside, {}", first.map.scale.name)),
        scale: (first.map.scale, first.format().system),
    }
    .compose(free)
}

/// The notes of views that stand on one sheet; those of several say of which wall they are.
fn sections(views: &[View]) -> Vec<Section> {
    match views {
        [first, ..] if matches!(first.reader, Reader::Approval | Reader::Costs) => {
            super::approval::sections(views)
        }
        [only] => notes::sections(only),
        _ => {
            let named = |view: &View| {
                let sections = notes::sections(view).into_iter();
                let own = sections.map(|section| Section { title: of_wall(view, &section.title), ..section });
                own.collect::<Vec<_>>()
            };
            views.iter().flat_map(named).collect()
        }
    }
}

/// A heading that says of which wall it is.
fn of_wall(view: &View, heading: &str) -> String {
    format!("Wall {}: {}", view.wall().label, heading.to_lowercase())
}

/// A wall's drawing with its name below.
fn named(view: &View) -> Result<Item, ComposeFault> {
    let mut drawing = super::drawn(view)?;
    let below = extent::of(&drawing.marks).map_or(Length::ZERO, |extent| extent.y1);
    let middle = view.map.x((view.window.0 + view.window.1) / 2);
    let name = format!("Wall {}", view.wall().label);
    let at = Point::new(middle, below + NAME_DROP);
    let set = text::set(name.as_str(), at, Anchor::Middle, Style::STRONG)?;
    drawing.group(Layer::Sheet, "", name, vec![Mark::Text(set)]);
    Ok(Item::new(drawing))
}

/// The sheet of views that stand on it together.
fn draft(views: &[View], part: Part, marks: Vec<Mark>) -> Draft {
    let keys: Vec<String> = views.iter().map(key).collect();
    let (first, also) =
        keys.split_first().map_or((String::new(), Vec::new()), |(f, a)| (f.clone(), a.to_vec()));
    Draft {
        key: first,
        title: title(views),
        part,
        under: views.first().map_or(String::new(), |view| view.room().name.clone()),
        description: views.iter().map(describe).collect::<Vec<_>>().join(" "),
        kind: "Elevation",
        scale: views.first().map_or(String::new(), |view| view.map.scale.name.to_owned()),
        also,
        marks: marks.into(),
    }
}

/// Which part of its wall a sheet shows.
fn part(views: &[View], members: &[View]) -> Part {
    let [only] = members else { return Part::WHOLE };
    let parts = views.iter().filter(|view| view.at == only.at);
    let before = parts.clone().filter(|view| view.window.0 < only.window.0).count();
    Part { number: before + 1, count: parts.count() }
}

/// The title of a sheet: one wall with its name, several by their labels.
fn title(views: &[View]) -> String {
    match views {
        [] => String::new(),
        [only] => {
            let wall = only.wall();
            let name = if wall.name.is_empty() { String::new() } else { format!(", {}", wall.name) };
            format!("Wall {}{name}", wall.label)
        }
        [first, .., last] if views.len() > NAMED => {
            format!("Walls {} to {}", first.wall().label, last.wall().label)
        }
        _ => {
            let labels: Vec<&str> = views.iter().map(|view| view.wall().label.as_str()).collect();
            format!("Walls {}", words::list(&labels))
        }
    }
}

/// Which part of a broken wall this is, in words; empty for a whole wall.
fn part_words(view: &View) -> String {
    if view.is_whole() {
        return String::new();
    }
    let print = |x| view.format().print(x);
    format!(", from {} to {}", print(view.window.0), print(view.window.1))
}

/// The key of a view's sheet: of the first of a wall, the wall's own.
fn key(view: &View) -> String {
    let own = super::key(view.plan, view.at);
    match view.window.0 {
        Length::ZERO => own,
        from => format!("{own}-from-{}", from.div_floor(Length::mm(1))),
    }
}

/// What is shown, for readers who cannot see it.
fn describe(view: &View) -> String {
    let wall = view.wall();
    let panel = view.wall_plan().panel.as_ref();
    let strips = panel.map_or(0, |panel| panel.strips.len()) as i64;
    let what = match view.reader {
        Reader::Crew => "strips, seams, openings, fixings, staples and trim",
        Reader::Workroom => "strips, seams and allowances",
        Reader::Record => "strips and seams as built, openings, fixings and trim",
        Reader::Approval | Reader::Costs => "cloth, pattern, seams and trim",
    };
    format!(
        "Elevation of wall {}{} at {}: {what}. The wall is {} wide and carries {}.",
        wall.label,
        part_words(view),
        view.map.scale.name,
        view.format().print(wall.width),
        words::counted(strips, "strip")
    )
}
