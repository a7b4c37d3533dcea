//! The composition of an elevation's sheet: the drawing centred in its area over a row with its
//! title and scale bar, the notes in columns of one grid at the right, the legend at their foot.

use super::notes;
use super::view::View;
use crate::geom::{Point, Rect};
use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::sheet::column::{self, GUTTER, Row, Section};
use crate::sheet::drawing::{Drawing, group};
use crate::sheet::mark::moved;
use crate::sheet::model::{Anchor, Layer, Mark, Reader};
use crate::sheet::sign::{self, LEGEND_ROW};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, Draft, Part, frame, scale_bar};
use crate::units::Length;

/// The height of the row with a drawing's title and scale bar.
const TITLE_ROW: Length = Length::mm(11);

/// The width of a column of notes.
fn notes_width(free: Rect) -> Length {
    if free.width() < Length::mm(300) { Length::mm(54) } else { Length::mm(74) }
}

/// Where a drawing may stand when one column of notes stands beside it.
pub fn drawing_area(free: Rect) -> Rect {
    area_beside(free, 1)
}

fn area_beside(free: Rect, columns: i64) -> Rect {
    Rect { x1: free.x1 - (notes_width(free) + GUTTER) * columns, y1: free.y1 - TITLE_ROW, ..free }
}

/// The sheets of a room's views, and at the end those of the notes that found no room beside them.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper, views: &[View]) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let mut drafts = Vec::new();
    let mut rest = Vec::new();
    for (n, view) in views.iter().enumerate() {
        let same = |other: &&View| other.at == view.at;
        let part = Part {
            number: views[..=n].iter().filter(same).count(),
            count: views.iter().filter(same).count(),
        };
        let (draft, over) = one(view, part, free)?;
        for mut section in over {
            section.title = format!("Wall {}: {}", view.wall().label, section.title.to_lowercase());
            rest.push(section);
        }
        drafts.push(draft);
    }
    if let Some(view) = views.first() {
        drafts.extend(overflow(plan, view, free, rest)?);
    }
    Ok(drafts)
}

fn one(view: &View, part: Part, free: Rect) -> Result<(Draft, Vec<Section>), ComposeFault> {
    let drawing = super::drawn(view)?;
    let sections = notes::sections(view);
    let legend = legend(&drawing)?;
    // As many columns as the notes need and the drawing leaves room for.
    let mut columns = 1;
    loop {
        let (_, rest) = column::flow(&sections, &note_columns(free, columns, &legend)?)?;
        let narrower = area_beside(free, columns + 1);
        if rest.is_empty() || drawing.extent().width() > narrower.width() {
            break;
        }
        columns += 1;
    }
    let places = note_columns(free, columns, &legend)?;
    let (mut text, rest) = column::flow(&sections, &places)?;
    if let Some(last) = places.last() {
        let foot = Rect { y0: free.y1 - legend_height(&legend, last.width())?, y1: free.y1, ..*last };
        text.extend(column::flow(&legend, &[foot.grown(Length::nanometres(1))])?.0);
    }
    let area = area_beside(free, columns);
    let extent = drawing.extent();
    let dx = area.x0 + (area.width() - extent.width()) / 2 - extent.x0;
    let dy = area.y0 + (area.height() - extent.height()) / 2 - extent.y0;
    let mut marks = moved(drawing.marks, dx, dy);
    marks.push(title_row(view, Rect { y0: area.y1, y1: free.y1, ..area })?);
    marks.push(group(Layer::Sheet, "notes", "notes and legend", text));
    let room = view.room();
    Ok((
        Draft {
            key: key(view),
            title: format!("Wall {}", titled(view)),
            part,
            under: room.name.clone(),
            description: describe(view),
            kind: "Elevation",
            scale: view.map.scale.name.to_owned(),
            marks,
        },
        rest,
    ))
}

fn note_columns(free: Rect, columns: i64, legend: &[Section]) -> Result<Vec<Rect>, ComposeFault> {
    let width = notes_width(free);
    let mut places = Vec::new();
    for n in (0..columns).rev() {
        let x1 = free.x1 - (width + GUTTER) * n;
        places.push(Rect::new(x1 - width, free.y0, x1, free.y1));
    }
    if let Some(last) = places.last_mut() {
        last.y1 -= legend_height(legend, width)? + Length::mm(3);
    }
    Ok(places)
}

fn legend(drawing: &Drawing) -> Result<Vec<Section>, ComposeFault> {
    let mut section = Section::new("Signs on this sheet");
    for &sign in &drawing.signs {
        let row = sign::legend(&[sign].into(), Point::default())?;
        section.rows.push(Row::Marks(LEGEND_ROW, row));
    }
    Ok(vec![section])
}

fn legend_height(legend: &[Section], width: Length) -> Result<Length, ComposeFault> {
    column::height(legend, width)
}

/// The title of the drawing at the left and its scale bar at the right, on the foot of the area.
fn title_row(view: &View, row: Rect) -> Result<Mark, ComposeFault> {
    let head = format!("Wall {}{}", titled(view), part_words(view));
    let under = format!("Elevation seen from inside, {}", view.map.scale.name);
    let foot = row.y1 - Length::micrometres(600);
    let at = |up: Length| Point::new(row.x0, foot - up);
    let mut marks = vec![
        Mark::Text(text::set(head, at(Length::micrometres(4_900)), Anchor::Start, Style::HEAD)?),
        Mark::Text(text::set(under, at(Length::ZERO), Anchor::Start, Style::BODY)?),
    ];
    let end = Point::new(row.x1 - Length::mm(7), foot);
    marks.extend(scale_bar::marks(view.map.scale, view.format().system, end)?);
    Ok(group(Layer::Sheet, "drawing-title", "title and scale bar", marks))
}

/// The wall's label with its name.
fn titled(view: &View) -> String {
    let wall = view.wall();
    if wall.name.is_empty() { wall.label.clone() } else { format!("{}, {}", wall.label, wall.name) }
}

/// Which part of a broken wall this is, in words; empty for a whole wall.
fn part_words(view: &View) -> String {
    if view.is_whole() {
        return String::new();
    }
    let print = |x| view.format().print(x);
    format!(", from {} to {}", print(view.window.0), print(view.window.1))
}

/// The key of a view's sheet, unique in the set.
fn key(view: &View) -> String {
    let slug = |text: &str| -> String {
        text.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect()
    };
    let base = format!("elevation-{}-{}", slug(&view.room().name), slug(&view.wall().label));
    if view.is_whole() { base } else { format!("{base}-from-{}", view.window.0.div_floor(Length::mm(1))) }
}

/// What is shown, for readers who cannot see it.
fn describe(view: &View) -> String {
    let wall = view.wall();
    let panel = view.wall_plan().panel.as_ref();
    let strips = panel.map_or(0, |panel| panel.strips.len());
    let what = match view.reader {
        Reader::Crew => "strips, seams, openings, fixings, staples and trim",
        Reader::Workroom => "strips, seams and allowances",
        Reader::Approval => "cloth, pattern, seams and trim",
    };
    format!(
        "Elevation of wall {} at {}: {what}. The wall is {} wide and carries {strips} strips.",
        wall.label,
        view.map.scale.name,
        view.format().print(wall.width)
    )
}

/// Sheets for the notes that found no room beside their drawings.
fn overflow(plan: &Plan, first: &View, free: Rect, rest: Vec<Section>) -> Result<Vec<Draft>, ComposeFault> {
    let room = &plan.job.rooms[first.at.room];
    let width = notes_width(free);
    let count = (free.width() + GUTTER).div_floor(width + GUTTER);
    let wide = (free.width() - GUTTER * (count - 1)) / count;
    let columns: Vec<Rect> = (0..count)
        .map(|n| {
            let x0 = free.x0 + (wide + GUTTER) * n;
            Rect::new(x0, free.y0, x0 + wide, free.y1)
        })
        .collect();
    let mut drafts = Vec::new();
    let mut rest = rest;
    while !rest.is_empty() {
        let before = rest.iter().map(|section| section.rows.len()).sum::<usize>();
        let (marks, over) = column::flow(&rest, &columns)?;
        let after = over.iter().map(|section| section.rows.len()).sum::<usize>();
        if after >= before {
            break;
        }
        rest = over;
        let number = drafts.len() + 1;
        drafts.push(Draft {
            key: format!("wall-notes-{}-{number}", first.at.room + 1),
            title: format!("Wall notes {number}"),
            part: Part::WHOLE,
            under: room.name.clone(),
            description: "Notes to the elevations that found no room beside their drawings.".to_owned(),
            kind: "Notes",
            scale: String::new(),
            marks: vec![group(Layer::Sheet, "notes", "notes", marks)],
        });
    }
    Ok(drafts)
}
