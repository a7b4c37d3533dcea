//! The grid of a drawn sheet: the drawing's area, the row with its title and scale bar, the columns
//! of notes at the right.

use super::column::{self, GUTTER, Row, Section};
use super::drawing::{Drawing, group};
use super::mark::moved;
use super::model::{Anchor, Layer, Mark};
use super::scale::Scale;
use super::sign;
use super::text::{self, Style};
use super::{ComposeFault, scale_bar};
use crate::geom::{Point, Rect};
use crate::units::{Length, UnitSystem};

/// The height of the row with a drawing's title and scale bar.
pub const TITLE_ROW: Length = Length::mm(11);
/// Room right of a scale bar for half of its last value and the unit.
const LAST_VALUE: Length = Length::mm(7);
/// Room beside a scale bar: to the title at its left, and for its last value.
const BAR_SPACE: Length = Length::mm(13);
/// A shorter scale bar has no room for its values.
const SHORTEST_BAR: Length = Length::mm(30);
/// The longest scale bar.
const LONGEST_BAR: Length = Length::mm(60);

/// The width of a column of notes on a sheet with the free part `free`.
pub fn notes_width(free: Rect) -> Length {
    if free.width() < Length::mm(300) { Length::mm(54) } else { Length::mm(70) }
}

/// Where a drawing may stand beside `columns` columns of notes.
pub fn drawing_area(free: Rect, columns: i64) -> Rect {
    Rect { x1: free.x1 - (notes_width(free) + GUTTER) * columns, y1: free.y1 - TITLE_ROW, ..free }
}

/// A sheet's drawing, centred in its area, with its notes and legend; what found no room is handed
/// back. As many columns of notes are set as they need and the drawing leaves room for.
///
/// `title` and `under` name the drawing on the row at its foot.
///
/// # Errors
/// `missing-glyph` when a text holds a character that the font lacks.
pub fn compose(
    drawing: Drawing,
    sections: &[Section],
    (title, under): (&str, &str),
    (scale, system): (Scale, UnitSystem),
    free: Rect,
) -> Result<(Vec<Mark>, Vec<Section>), ComposeFault> {
    let legend = legend(&drawing)?;
    let extent = drawing.extent();
    let mut columns = 1;
    loop {
        let (_, rest) = column::flow(sections, &note_columns(free, columns, &legend)?)?;
        if rest.is_empty() || extent.width() > drawing_area(free, columns + 1).width() {
            break;
        }
        columns += 1;
    }
    let places = note_columns(free, columns, &legend)?;
    let (mut notes, rest) = column::flow(sections, &places)?;
    if let Some(last) = places.last() {
        let foot = Rect { y0: free.y1 - column::height(&legend, last.width())?, y1: free.y1, ..*last };
        notes.extend(column::flow(&legend, &[foot.grown(Length::nanometres(1))])?.0);
    }
    let area = drawing_area(free, columns);
    let dx = area.x0 + (area.width() - extent.width()) / 2 - extent.x0;
    let dy = area.y0 + (area.height() - extent.height()) / 2 - extent.y0;
    let mut marks = moved(drawing.marks, dx, dy);
    marks.push(title_row(title, under, scale, system, Rect { y0: area.y1, y1: free.y1, ..area })?);
    marks.push(group(Layer::Sheet, "notes", "notes and legend", notes));
    Ok((marks, rest))
}

/// The columns of notes, the last shortened by the legend at its foot.
fn note_columns(free: Rect, columns: i64, legend: &[Section]) -> Result<Vec<Rect>, ComposeFault> {
    let width = notes_width(free);
    let mut places = Vec::new();
    for n in (0..columns).rev() {
        let x1 = free.x1 - (width + GUTTER) * n;
        places.push(Rect::new(x1 - width, free.y0, x1, free.y1));
    }
    if let Some(last) = places.last_mut() {
        last.y1 -= column::height(legend, width)? + Length::mm(3);
    }
    Ok(places)
}

/// The legend of the signs that a drawing used.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn legend(drawing: &Drawing) -> Result<Vec<Section>, ComposeFault> {
    let mut section = Section::new("Signs on this sheet");
    for &sign in &drawing.signs {
        section.rows.push(Row::Marks(sign::legend_height(sign), sign::legend_row(sign)?));
    }
    Ok(vec![section])
}

/// The title of a drawing at the left and its scale bar at the right, on the foot of `row`.
fn title_row(
    head: &str,
    under: &str,
    scale: Scale,
    system: UnitSystem,
    row: Rect,
) -> Result<Mark, ComposeFault> {
    let foot = row.y1 - Length::micrometres(900);
    let at = |up: Length| Point::new(row.x0, foot - up);
    let room = row.width() - SHORTEST_BAR - BAR_SPACE;
    let style = if text::measure(head, Style::HEAD)? <= room { Style::HEAD } else { Style::STRONG };
    // The title block shows the title once more, and the cover shows it whole.
    let head = text::shorten(head, room, style)?.unwrap_or_default();
    let head = text::set(head, at(Length::micrometres(4_700)), Anchor::Start, style)?;
    let under = text::set(under, at(Length::ZERO), Anchor::Start, Style::BODY)?;
    let end = Point::new(row.x1 - LAST_VALUE, foot);
    let longest = (row.width() - BAR_SPACE - head.width.max(under.width)).min(LONGEST_BAR);
    let mut marks = vec![Mark::Text(head), Mark::Text(under)];
    marks.extend(scale_bar::marks(scale, system, longest, end)?);
    Ok(group(Layer::Sheet, "drawing-title", "title and scale bar", marks))
}

/// Sheets full of columns for notes that found no room beside their drawings.
///
/// # Errors
/// `missing-glyph` when a text holds a character that the font lacks.
pub fn overflow(mut rest: Vec<Section>, free: Rect) -> Result<Vec<Vec<Mark>>, ComposeFault> {
    let count = (free.width() + GUTTER).div_floor(notes_width(free) + GUTTER).max(1);
    let wide = (free.width() - GUTTER * (count - 1)) / count;
    let place = |n: i64| {
        let x0 = free.x0 + (wide + GUTTER) * n;
        Rect::new(x0, free.y0, x0 + wide, free.y1)
    };
    let columns: Vec<Rect> = (0..count).map(place).collect();
    let rows = |sections: &[Section]| sections.iter().map(|section| section.rows.len()).sum::<usize>();
    let mut sheets = Vec::new();
    while !rest.is_empty() {
        let (marks, over) = column::flow(&rest, &columns)?;
        // A row taller than a whole column can never be set: the sheet's other rows still are.
        if rows(&over) >= rows(&rest) {
            break;
        }
        rest = over;
        sheets.push(vec![group(Layer::Sheet, "notes", "notes", marks)]);
    }
    Ok(sheets)
}
