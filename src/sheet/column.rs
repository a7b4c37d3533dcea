//! Notes beside a drawing: sections of short rows that flow down columns of the sheet's grid.

use super::ComposeFault;
use super::document::{self, Figure};
use super::mark::{level, moved};
use super::model::{Anchor, Mark};
use super::pen;
use super::table::{Cell, Kind, Table};
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::units::Length;

/// White between two columns.
pub const GUTTER: Length = Length::mm(6);
/// White above a section that is not the first of its column.
const BEFORE: Length = Length::mm(3);
/// From a section's rule to the top of its capitals.
const UNDER_RULE: Length = Length::micrometres(1_900);
/// White between two rows.
const BETWEEN: Length = Length::micrometres(500);

/// A section: a heading and its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// The heading.
    pub title: String,
    /// The rows; a section without any is left out.
    pub rows: Vec<Row>,
    /// The title of the sheet of the set on which the rows stand as well, if there is one: then they may be left out
    /// here.
    pub elsewhere: Option<&'static str>,
}

/// A row of a section; it is never broken over two columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// Running text over the whole width.
    Text(String),
    /// A short key and its words.
    Pair(String, String),
    /// Cells in the places that [`Columns`] gives; the last but one column takes what is left.
    Cells(Columns, Vec<String>),
    /// Marks of a given height, with their origin at the row's top left.
    Marks(Length, Vec<Mark>),
}

/// The widths of the cells of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Columns {
    /// Width of the first cell: a label.
    pub first: Length,
    /// Width of the last cell: a figure, set to the right.
    pub last: Length,
}

/// The narrowest and the widest key of a [`Row::Pair`].
const KEY: (Length, Length) = (Length::mm(8), Length::mm(17));
/// White between a key and its words.
const AFTER_KEY: Length = Length::micrometres(2_500);

impl Section {
    /// An empty section.
    pub fn new(title: impl Into<String>) -> Self {
        Section { title: title.into(), rows: Vec::new(), elsewhere: None }
    }

    /// The width of its keys: that of the longest, so that words have the room that is left.
    fn key(&self) -> Result<Length, ComposeFault> {
        let mut width = KEY.0;
        for row in &self.rows {
            if let Row::Pair(key, _) = row {
                width = width.max(text::measure(key, Style::STRONG)? + AFTER_KEY);
            }
        }
        Ok(width.min(KEY.1))
    }

    /// Adds a row of running text.
    pub fn text(&mut self, text: impl Into<String>) {
        self.rows.push(Row::Text(text.into()));
    }

    /// Adds a key and its words.
    pub fn pair(&mut self, key: impl Into<String>, words: impl Into<String>) {
        self.rows.push(Row::Pair(key.into(), words.into()));
    }
}

impl Section {
    /// The section as one of a document, its rows as tables.
    pub fn listed(self) -> document::Section {
        let mut section = document::Section::new(self.title);
        let mut pairs = Table::new(&[("", Kind::Words), ("", Kind::Prose)]);
        let mut cells = Table::new(&[("", Kind::Words), ("", Kind::Words), ("", Kind::Figures)]);
        let (mut height, mut drawn) = (Length::ZERO, Vec::new());
        for row in self.rows {
            match row {
                Row::Text(text) => section.paragraph(text),
                Row::Pair(key, words) => pairs.row(vec![Cell::strong(key), Cell::new(words)]),
                Row::Cells(_, all) => cells.row(all.into_iter().map(Cell::new).collect()),
                Row::Marks(tall, marks) => {
                    drawn.extend(moved(marks, Length::ZERO, height));
                    height += tall;
                }
            }
        }
        section.table(pairs);
        section.table(cells);
        if height > Length::ZERO {
            section.figure(Figure { width: Length::mm(60), height, marks: drawn });
        }
        section
    }
}

/// A row that was set: its height and its marks from its top left corner.
struct Set {
    height: Length,
    marks: Vec<Mark>,
}

/// How sections go into columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Break {
    /// A section goes on in the next column where it must.
    Anywhere,
    /// Every section stands whole in one column.
    BetweenSections,
}

/// Sets `sections` into `columns` one after the other. Returns the marks and what found no room,
/// its first section marked as continued when part of it was set.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn flow(
    sections: &[Section],
    columns: &[Rect],
    at: Break,
) -> Result<(Vec<Mark>, Vec<Section>), ComposeFault> {
    let mut marks = Vec::new();
    let mut columns = columns.iter().copied();
    let Some(mut column) = columns.next() else {
        return Ok((marks, sections.to_vec()));
    };
    let mut y = column.y0;
    for (n, section) in sections.iter().enumerate() {
        let (mut open, mut alone) = (false, false);
        let key = section.key()?;
        for (r, row) in section.rows.iter().enumerate() {
            let title = if r == 0 { section.title.clone() } else { continued(&section.title) };
            // Beside a column that holds nothing else, under one rule with it, nobody asks what a column goes on from.
            let mut level_with = false;
            loop {
                // A heading never stands alone at the foot of a column.
                let needed = match (open, at) {
                    (true, _) => set_row(row, key, column.width())?.height,
                    (false, Break::Anywhere) => {
                        head(&title, column.width())?.height + set_row(row, key, column.width())?.height
                    }
                    (false, Break::BetweenSections) => {
                        height(std::slice::from_ref(section), column.width())? - BETWEEN
                    }
                };
                let before = if open || y == column.y0 { Length::ZERO } else { BEFORE };
                if y + before + needed <= column.y1 {
                    break;
                }
                let Some(next) = columns.next() else {
                    let mut rest = sections[n..].to_vec();
                    rest[0].rows.drain(..r);
                    rest[0].title = title;
                    return Ok((marks, rest));
                };
                level_with = alone && next.y0 == column.y0;
                column = next;
                y = column.y0;
                open = false;
            }
            if !open {
                let head = if level_with { rule(column.width()) } else { head(&title, column.width())? };
                alone = y == column.y0;
                if !alone {
                    y += BEFORE;
                }
                marks.extend(moved(head.marks, column.x0, y));
                y += head.height;
                open = true;
            }
            let set = set_row(row, key, column.width())?;
            marks.extend(moved(set.marks, column.x0, y));
            y += set.height + BETWEEN;
        }
    }
    Ok((marks, Vec::new()))
}

/// The title of a section that goes on in another column.
fn continued(title: &str) -> String {
    const WORD: &str = " (continued)";
    if title.ends_with(WORD) { title.to_owned() } else { format!("{title}{WORD}") }
}

/// How high the sections stand in one column of `width`.
///
/// # Errors
/// `missing-glyph` when the font lacks a character.
pub fn height(sections: &[Section], width: Length) -> Result<Length, ComposeFault> {
    let mut y = Length::ZERO;
    for section in sections.iter().filter(|section| !section.rows.is_empty()) {
        let key = section.key()?;
        y += head(&section.title, width)?.height + if y > Length::ZERO { BEFORE } else { Length::ZERO };
        for row in &section.rows {
            y += set_row(row, key, width)?.height + BETWEEN;
        }
    }
    Ok(y)
}

/// The rule of a head without its words.
fn rule(width: Length) -> Set {
    let marks = vec![level(Length::ZERO, width, Length::ZERO, pen::HAIRLINE)];
    Set { height: UNDER_RULE + Style::STRONG.leading(), marks }
}

/// The rule over a section and its heading.
fn head(title: &str, width: Length) -> Result<Set, ComposeFault> {
    let mut marks = vec![level(Length::ZERO, width, Length::ZERO, pen::HAIRLINE)];
    let (lines, count) = paragraph(title, Length::ZERO, width, Style::STRONG)?;
    marks.extend(moved(lines, Length::ZERO, UNDER_RULE));
    Ok(Set { height: UNDER_RULE + Style::STRONG.leading() * count, marks })
}

/// Sets a row whose keys are `pairs` wide.
fn set_row(row: &Row, pairs: Length, width: Length) -> Result<Set, ComposeFault> {
    match row {
        Row::Text(words) => {
            let (marks, lines) = paragraph(words, Length::ZERO, width, Style::BODY)?;
            Ok(Set { height: Style::BODY.leading() * lines, marks })
        }
        Row::Pair(key, words) => {
            let (mut marks, keys) = paragraph(key, Length::ZERO, pairs - Length::mm(1), Style::STRONG)?;
            let (more, lines) = paragraph(words, pairs, width - pairs, Style::BODY)?;
            marks.extend(more);
            Ok(Set { height: Style::BODY.leading() * keys.max(lines), marks })
        }
        Row::Cells(columns, cells) => {
            let middle = width - columns.first - columns.last - Length::mm(2);
            let mut marks = Vec::new();
            let mut rows = 1;
            for (n, cell) in cells.iter().enumerate() {
                let lines = if n + 1 == cells.len() && n > 0 {
                    let at = Point::new(width, Style::BODY.caps.height());
                    marks.push(Mark::Text(text::set(cell.as_str(), at, Anchor::End, Style::BODY)?));
                    1
                } else {
                    let (x, room, style) = if n == 0 {
                        (Length::ZERO, columns.first - Length::mm(1), Style::STRONG)
                    } else {
                        (columns.first, middle, Style::BODY)
                    };
                    let (more, lines) = paragraph(cell, x, room, style)?;
                    marks.extend(more);
                    lines
                };
                rows = rows.max(lines);
            }
            Ok(Set { height: Style::BODY.leading() * rows, marks })
        }
        Row::Marks(height, marks) => Ok(Set { height: *height, marks: marks.clone() }),
    }
}

/// Wrapped lines from the top of a row; returns the marks and how many lines.
fn paragraph(words: &str, x: Length, width: Length, style: Style) -> Result<(Vec<Mark>, i64), ComposeFault> {
    let lines = text::wrap(words, width, style)?;
    let mut marks = Vec::with_capacity(lines.len());
    for (n, line) in lines.iter().enumerate() {
        let baseline = style.caps.height() + style.leading() * n as i64;
        marks.push(Mark::Text(text::set(line.as_str(), Point::new(x, baseline), Anchor::Start, style)?));
    }
    Ok((marks, lines.len() as i64))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sections() -> Vec<Section> {
        let mut a = Section::new("First");
        let mut b = Section::new("Second");
        for n in 0..6 {
            a.pair(format!("K{n}"), "some words that are long enough to need two lines of a narrow column");
            b.text(format!("row {n}"));
        }
        vec![a, b]
    }

    fn texts(marks: &[Mark]) -> Vec<Rect> {
        let text = |mark: &Mark| match mark {
            Mark::Text(text) => Some(text::area(text)),
            _ => None,
        };
        marks.iter().filter_map(text).collect()
    }

    #[test]
    fn rows_stay_in_their_columns_and_do_not_overlap() {
        let column = |x| Rect::new(Length::mm(x), Length::ZERO, Length::mm(x + 50), Length::mm(45));
        let (marks, rest) =
            flow(&sections(), &[column(0), column(56), column(112), column(168)], Break::Anywhere)
                .expect("plain text");
        assert!(rest.is_empty(), "{rest:?}");
        let areas = texts(&marks);
        for (i, a) in areas.iter().enumerate() {
            assert!([0, 56, 112, 168].iter().any(|&x| column(x).grown(Length::mm(1)).contains(a)), "{a:?}");
            assert!(areas[i + 1..].iter().all(|b| !a.overlaps(b)));
        }
    }

    #[test]
    fn what_finds_no_room_is_handed_back() {
        let column = Rect::new(Length::ZERO, Length::ZERO, Length::mm(50), Length::mm(45));
        let (_, rest) = flow(&sections(), &[column], Break::Anywhere).expect("plain text");
        assert_eq!(rest[0].title, "First (continued)");
        assert_eq!(rest[1].rows.len(), 6);
    }
}
