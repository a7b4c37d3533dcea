//! The grid of a drawn sheet: the drawing's area, the row with its title and scale bar, the columns
//! of notes at the right.

use super::column::{self, Break, GUTTER, Row, Section};
use super::drawing::{Drawing, group};
use super::mark::moved;
use super::model::{Anchor, Layer, Mark};
use super::scale::Scale;
use super::sign::{self, Sign};
use super::text::{self, Style};
use super::{ComposeFault, scale_bar, words};
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

/// White between the legend and how the drawing is read.
const BEFORE_READING: Length = Length::micrometres(1_200);
/// Columns of notes under a drawing are not lower than so many millimetres.
const LEAST_UNDER: i64 = 12;
/// The narrowest column of notes.
const NARROWEST: Length = Length::mm(54);

/// Whether a sheet with the free part `free` is one of the small ones, letter or A4.
pub fn is_small(free: Rect) -> bool {
    free.width() < Length::mm(300)
}

/// The width of a column of notes on a sheet with the free part `free`.
pub fn notes_width(free: Rect) -> Length {
    if is_small(free) { NARROWEST } else { Length::mm(70) }
}

/// Where a drawing may stand beside `columns` columns of notes.
pub fn drawing_area(free: Rect, columns: i64) -> Rect {
    Rect { x1: free.x1 - (notes_width(free) + GUTTER) * columns, y1: free.y1 - TITLE_ROW, ..free }
}

/// A drawing with what stands round it on its sheet.
pub struct Plate<'a> {
    /// The drawing.
    pub drawing: Drawing,
    /// The notes, the most needed first.
    pub sections: &'a [Section],
    /// The title of the sheet where notes go on that find no room here, if they do on one that is not the next.
    pub rest_in: Option<&'static str>,
    /// How the drawing is read, in sentences under the legend of its signs.
    pub reading: &'a [String],
    /// The drawing's name, and what stands under it.
    pub title: (&'a str, &'a str),
    /// The scale, and the units of its bar.
    pub scale: (Scale, UnitSystem),
}

/// A plate set on a sheet.
pub struct Composed {
    /// The marks.
    pub marks: Vec<Mark>,
    /// The notes that found no room.
    pub rest: Vec<Section>,
    /// The sheets on which notes stand that were left out here, in the order of the notes.
    pub left_out: Vec<&'static str>,
}

impl Plate<'_> {
    /// The drawing centred in its area, the notes at its right in as many columns as they need and the
    /// drawing leaves room for, then under it, and the legend at the foot of the last column. Where all
    /// that is not enough, sections that stand elsewhere as well are left out, the last first.
    ///
    /// # Errors
    /// `missing-glyph` when a text holds a character that the font lacks.
    pub fn compose(self, free: Rect) -> Result<Composed, ComposeFault> {
        let alone = self.set(free, None)?;
        let mut left_out = alone.left_out.clone();
        left_out.extend(self.rest_in.filter(|_| !alone.rest.is_empty()));
        if left_out.is_empty() {
            return Ok(alone);
        }
        let first =
            |(at, title): &(usize, &&str)| left_out.iter().position(|other| other == *title) == Some(*at);
        let named = left_out.iter().enumerate().filter(first).map(|(_, title)| *title);
        let named: Vec<String> = named.map(|title| format!("“{title}”")).collect();
        let told = self.set(free, Some(format!("More in {}.", words::list(&named))))?;
        // Where it costs notes that had room, the index of the set is pointer enough.
        let costs = told.rest.len() > alone.rest.len() || told.left_out != alone.left_out;
        Ok(if costs && alone.rest.is_empty() { alone } else { told })
    }

    /// The same with words under the legend that tell where more is to be found.
    fn set(&self, free: Rect, more: Option<String>) -> Result<Composed, ComposeFault> {
        let mut legend = legend(&self.drawing)?;
        if let Some(signs) = legend.last_mut() {
            if !self.reading.is_empty() || more.is_some() {
                signs.rows.push(Row::Marks(BEFORE_READING, Vec::new()));
            }
            signs.rows.extend(self.reading.iter().cloned().chain(more).map(Row::Text));
        }
        let extent = self.drawing.extent();
        let mut sections = self.sections.to_vec();
        let mut left_out: Vec<&'static str> = Vec::new();
        let (Places { columns, places, .. }, notes, rest) = loop {
            let places = arranged(&sections, extent, free, &legend)?;
            let (notes, rest) = column::flow(&sections, &places.places, places.at)?;
            let optional = sections.iter().rposition(|section| section.elsewhere.is_some());
            match optional.map(|at| (at, sections[at].elsewhere)) {
                Some((at, Some(title))) if !rest.is_empty() => {
                    sections.remove(at);
                    left_out.insert(0, title);
                }
                _ => break (places, notes, rest),
            }
        };
        let mut notes = notes;
        if let Some(last) = places.get(columns - 1) {
            let foot = Rect { y0: free.y1 - column::height(&legend, last.width())?, y1: free.y1, ..*last };
            notes.extend(column::flow(&legend, &[foot.grown(Length::nanometres(1))], Break::Anywhere)?.0);
        }
        let whole = drawing_area(free, columns as i64);
        let area = Rect { y1: places.get(columns).map_or(whole.y1, |under| under.y0 - GUTTER), ..whole };
        let dx = area.x0 + (area.width() - extent.width()) / 2 - extent.x0;
        let dy = area.y0 + (area.height() - extent.height()) / 2 - extent.y0;
        let mut marks = moved(self.drawing.marks.clone(), dx, dy);
        let (title, under) = self.title;
        let (scale, system) = self.scale;
        marks.push(title_row(title, under, scale, system, Rect { y0: whole.y1, y1: free.y1, ..whole })?);
        marks.push(group(Layer::Sheet, "notes", "notes and legend", notes));
        Ok(Composed { marks, rest, left_out })
    }
}

/// The columns for notes beside and under a drawing, in the order that they are filled.
struct Places {
    /// How many stand beside the drawing.
    columns: usize,
    places: Vec<Rect>,
    at: Break,
}

/// The fewest columns that hold all sections, whole if they can be; else as many as there are.
fn arranged(
    sections: &[Section],
    extent: Rect,
    free: Rect,
    legend: &[Section],
) -> Result<Places, ComposeFault> {
    let hold = |places: &[Rect], at| Ok(column::flow(sections, places, at)?.1.is_empty());
    let mut columns = 1;
    loop {
        let places = note_columns(free, columns, legend)?;
        for at in [Break::BetweenSections, Break::Anywhere] {
            if hold(&places, at)? {
                return Ok(Places { columns: columns as usize, places, at });
            }
        }
        if extent.width() > drawing_area(free, columns + 1).width() {
            break;
        }
        columns += 1;
    }
    let beside = note_columns(free, columns, legend)?;
    let area = drawing_area(free, columns);
    let with_under = |mm: i64| [beside.clone(), columns_under(area, Length::mm(mm))].concat();
    let highest = (area.height() - extent.height() - GUTTER).div_floor(Length::mm(1));
    if highest < LEAST_UNDER {
        return Ok(Places { columns: columns as usize, places: beside, at: Break::Anywhere });
    }
    for at in [Break::BetweenSections, Break::Anywhere] {
        if hold(&with_under(highest), at)? {
            let (mut low, mut high) = (LEAST_UNDER, highest);
            while low < high {
                let middle = (low + high) / 2;
                if hold(&with_under(middle), at)? {
                    high = middle;
                } else {
                    low = middle + 1;
                }
            }
            return Ok(Places { columns: columns as usize, places: with_under(low), at });
        }
    }
    Ok(Places { columns: columns as usize, places: with_under(highest), at: Break::Anywhere })
}

/// Columns of notes at the foot of a drawing's area.
fn columns_under(area: Rect, height: Length) -> Vec<Rect> {
    let count = (area.width() + GUTTER).div_floor(NARROWEST + GUTTER).max(1);
    let wide = (area.width() - GUTTER * (count - 1)) / count;
    let place = |n: i64| {
        let x0 = area.x0 + (wide + GUTTER) * n;
        Rect::new(x0, area.y1 - height, x0 + wide, area.y1)
    };
    (0..count).map(place).collect()
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
    let shown = |sign: &&Sign| sign.shown_by().is_some_and(|other| drawing.signs.contains(&other));
    for &sign in drawing.signs.iter().filter(|sign| !shown(sign)) {
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
        let (marks, over) = column::flow(&rest, &columns, Break::Anywhere)?;
        // A row taller than a whole column can never be set: the sheet's other rows still are.
        if rows(&over) >= rows(&rest) {
            break;
        }
        rest = over;
        sheets.push(vec![group(Layer::Sheet, "notes", "notes", marks)]);
    }
    Ok(sheets)
}
