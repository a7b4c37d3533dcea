//! Tables: figures aligned at their point, words wrapped, heads repeated, hairlines between rows.

use std::rc::Rc;

use super::ComposeFault;
use super::columns::{self, Measured};
use super::flow::{Bond, Head, Slab};
use super::mark::{filled, level, line, outline};
use super::model::{Anchor, Ink, Mark, Text};
use super::pen;
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::units::Length;

/// White space above and below the lines of a row.
const PAD: Length = Length::micrometres(600);
/// From the top of a line to its baseline: capitals stand in its middle.
const BASELINE: Length = Length::micrometres(3_500);
/// The side of a tick box.
pub const TICK: Length = Length::micrometres(3_200);
/// White space above a group's name.
const GROUP_SPACE: Length = Length::micrometres(2_500);

/// White space between what a cell says and what it says further.
const SENTENCE_SPACE: Length = Length::micrometres(1_500);

/// A table of no more rows than this is not torn apart.
const SMALL: usize = 8;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A few words: at the left, wrapped.
    Words,
    /// Numbers with commas between: at the left, wrapped as narrow as their longest.
    Numbers,
    /// Sentences: like words, but never squeezed into a narrow column.
    Prose,
    /// Figures: never wrapped, their units' digits under one another.
    Figures,
    /// Amounts in mixed units, such as `57 yd 15″`: never wrapped, at the right.
    Amounts,
    /// A box to tick; crossed already where the cell says anything.
    Tick,
    /// Space to write in, at least this wide.
    Write(Length),
}

/// A column.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its head; may be empty.
    pub head: &'static str,
    /// What it holds.
    pub kind: Kind,
}

/// A cell.
#[derive(Clone, Debug)]
pub struct Cell {
    /// What it says; paragraphs are parted by line feeds.
    pub text: String,
    /// How it looks.
    pub style: Style,
    /// The key of the sheet that it leads to.
    pub link: Option<String>,
    /// What it says further, on its last line where that has room: each in a style and with a link of its
    /// own. Only a cell of words or sentences has any.
    pub more: Vec<Cell>,
}

impl Cell {
    /// A cell in running type.
    pub fn new(text: impl Into<String>) -> Self {
        Cell { text: text.into(), style: Style::BODY, link: None, more: Vec::new() }
    }

    /// A cell in strong type.
    pub fn strong(text: impl Into<String>) -> Self {
        Cell { style: Style::STRONG, ..Cell::new(text) }
    }

    /// The cell leading to the sheet `key`.
    pub fn to(self, key: impl Into<String>) -> Self {
        Cell { link: Some(key.into()), ..self }
    }

    /// The cell saying `more` behind what it says, if that is anything.
    pub fn and(mut self, more: Cell) -> Self {
        if !more.text.is_empty() {
            self.more.push(more);
        }
        self
    }
}

/// A row.
#[derive(Clone, Debug)]
pub enum Row {
    /// The name of the rows that follow; said again when they go on in the next column.
    Group(String),
    /// One cell for each column.
    Cells(Vec<Cell>),
    /// A boxed warning over the whole width, the last of several kept with the next row: a title and what it
    /// says.
    Warning(String, String),
}

/// A table.
#[derive(Clone, Debug)]
pub struct Table {
    /// The columns, left to right.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Row>,
    /// The least height of a row; more than the type needs where people write.
    pub row_height: Length,
}

impl Table {
    /// An empty table of these columns.
    pub fn new(columns: &[(&'static str, Kind)]) -> Self {
        let columns = columns.iter().map(|&(head, kind)| Column { head, kind }).collect();
        Table { columns, rows: Vec::new(), row_height: Length::ZERO }
    }

    /// Adds a row of cells.
    pub fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(Row::Cells(cells));
    }

    /// Adds the name of the rows that follow.
    pub fn group(&mut self, name: impl Into<String>) {
        self.rows.push(Row::Group(name.into()));
    }

    /// The least width at which the table reads well.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character of the table.
    pub fn least_width(&self) -> Result<Length, ComposeFault> {
        Ok(columns::least_width(&columns::measured(self)?))
    }

    /// The table as slices of a column of `width`.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character of the table.
    pub fn slabs(&self, width: Length) -> Result<Vec<Slab>, ComposeFault> {
        let measured = columns::measured(self)?;
        let (places, width) = columns::placed(&measured, width);
        let setter = Setter { table: self, measured: &measured, places: &places, width };
        setter.slabs()
    }
}

/// A text of a cell: the line that it stands on, from 0, and the key of the sheet that it leads to.
type Line<'a> = (usize, Text, Option<&'a str>);

/// A column's place: its left edge and its width.
pub type Place = (Length, Length);

/// A table with its columns placed.
struct Setter<'a> {
    table: &'a Table,
    measured: &'a [Measured],
    places: &'a [Place],
    width: Length,
}

impl Setter<'_> {
    fn slabs(&self) -> Result<Vec<Slab>, ComposeFault> {
        let mut slabs = Vec::new();
        let head = self.head()?;
        slabs.push(Slab { bond: Bond::Near, ..Slab::new(head.height, head.marks.clone()) });
        let plain = Rc::new(head);
        let mut current = Rc::clone(&plain);
        let rows = &self.table.rows;
        let small = rows.len() <= SMALL;
        for (i, row) in rows.iter().enumerate() {
            let next_is_last = i + 2 == rows.len();
            let first = i == 0 || matches!(rows[i - 1], Row::Group(_));
            let starts_group = matches!(rows.get(i + 1), None | Some(Row::Group(_)));
            match row {
                Row::Group(name) => {
                    slabs.push(Slab { head: Some(Rc::clone(&plain)), ..self.group(name, i > 0)? });
                    current = Rc::new(self.continued(&plain, name)?);
                }
                Row::Cells(cells) => {
                    let keep = (small && i + 1 < rows.len()) || next_is_last || (first && !starts_group);
                    let set = self.cells(cells, i + 1 == rows.len())?;
                    push_row(&mut slabs, set, &current, if keep { Bond::Near } else { Bond::Free });
                }
                Row::Warning(title, text) => {
                    // Read before the row that it warns of; where several are taller than a column, the last
                    // at least.
                    let bond = if matches!(rows.get(i + 1), Some(Row::Warning(..))) {
                        Bond::Near
                    } else {
                        Bond::Firm
                    };
                    push_row(&mut slabs, self.warning(title, text)?, &current, bond);
                }
            }
        }
        Ok(slabs)
    }

    /// The head of the table, between two rules; without any name, only the first rule.
    fn head(&self) -> Result<Head, ComposeFault> {
        let mut marks = vec![level(Length::ZERO, self.width, Length::ZERO, pen::TABLE_RULE)];
        let lines = self.measured.iter().map(|column| column.head.len()).max().unwrap_or(0);
        if lines == 0 {
            return Ok(Head { height: Length::ZERO, marks });
        }
        for (column, (measured, place)) in
            self.table.columns.iter().zip(self.measured.iter().zip(self.places))
        {
            for (i, line) in measured.head.iter().enumerate() {
                let down = (lines - measured.head.len() + i) as i64;
                let y = PAD + Style::STRONG.leading() * down + BASELINE;
                let (x, anchor) = match column.kind {
                    Kind::Figures | Kind::Amounts => (place.0 + place.1, Anchor::End),
                    _ => (place.0, Anchor::Start),
                };
                marks.push(Mark::Text(text::set(line.as_str(), Point::new(x, y), anchor, Style::STRONG)?));
            }
        }
        let height = PAD * 2 + Style::STRONG.leading() * lines as i64;
        marks.push(level(Length::ZERO, self.width, height, pen::TABLE_RULE));
        Ok(Head { height, marks })
    }

    /// The head with the group's name under it, for a column that starts within the group.
    fn continued(&self, head: &Head, name: &str) -> Result<Head, ComposeFault> {
        let group = self.group(&format!("{name}, continued"), false)?;
        let mut marks = head.marks.clone();
        marks.extend(super::mark::moved(group.marks, Length::ZERO, head.height));
        Ok(Head { height: head.height + group.height, marks })
    }

    fn group(&self, name: &str, spaced: bool) -> Result<Slab, ComposeFault> {
        let lines = text::wrap(name, self.width, Style::STRONG)?;
        let top = if spaced { GROUP_SPACE } else { Length::ZERO };
        let mut marks = Vec::new();
        for (i, line) in lines.iter().enumerate() {
            let y = top + PAD + Style::STRONG.leading() * i as i64 + BASELINE;
            marks.push(Mark::Text(text::set(
                line.as_str(),
                Point::new(Length::ZERO, y),
                Anchor::Start,
                Style::STRONG,
            )?));
        }
        let height = top + PAD * 2 + Style::STRONG.leading() * lines.len() as i64;
        marks.push(level(Length::ZERO, self.width, height, pen::HAIRLINE));
        Ok(Slab { bond: Bond::Near, ..Slab::new(height, marks) })
    }

    /// One slab for each line of a row, so that a row taller than a sheet can still be parted.
    fn cells(&self, cells: &[Cell], last: bool) -> Result<Vec<Slab>, ComposeFault> {
        let mut lines: Vec<Vec<Mark>> = vec![Vec::new()];
        let leading = Style::BODY.leading();
        for (index, column) in self.table.columns.iter().enumerate() {
            let place = self.places[index];
            if column.kind == Kind::Tick {
                let y = PAD + BASELINE - Style::BODY.caps.height() / 2 - TICK / 2;
                let side = Rect::new(place.0, y, place.0 + TICK, y + TICK);
                lines[0].push(outline(side, pen::DETAIL));
                if cells.get(index).is_some_and(|cell| !cell.text.is_empty()) {
                    for (from, to) in [(side.y0, side.y1), (side.y1, side.y0)] {
                        lines[0].push(line(Point::new(side.x0, from), Point::new(side.x1, to), pen::DETAIL));
                    }
                }
                continue;
            }
            let Some(cell) = cells.get(index) else { continue };
            let texts = self.cell(cell, index, place)?;
            for (i, set, link) in texts {
                while lines.len() <= i {
                    lines.push(Vec::new());
                }
                if let Some(to) = link {
                    lines[i].push(Mark::Link { area: text::area(&set), to: to.to_owned() });
                }
                lines[i].push(Mark::Text(set));
            }
        }
        let count = lines.len();
        let set_height = PAD * 2 + leading * count as i64;
        let foot = PAD + (self.table.row_height - set_height).max(Length::ZERO);
        let rule = if last { pen::TABLE_RULE } else { pen::HAIRLINE };
        let slabs = lines.into_iter().enumerate().map(|(i, marks)| {
            let top = if i == 0 { PAD } else { Length::ZERO };
            let down = if i == 0 { Length::ZERO } else { -PAD };
            let mut marks = super::mark::moved(marks, Length::ZERO, down);
            let height = top + leading + if i + 1 == count { foot } else { Length::ZERO };
            if i + 1 == count {
                marks.push(level(Length::ZERO, self.width, height, rule));
            }
            Slab { bond: if i + 1 < count { Bond::Firm } else { Bond::Free }, ..Slab::new(height, marks) }
        });
        Ok(slabs.collect())
    }

    /// The texts of a cell with the line that each stands on and where it leads, on the baseline of a
    /// row's first line.
    fn cell<'c>(&self, cell: &'c Cell, index: usize, place: Place) -> Result<Vec<Line<'c>>, ComposeFault> {
        let y = PAD + BASELINE;
        let right = place.0 + place.1;
        let figure = match self.table.columns[index].kind {
            Kind::Figures => {
                let before = columns::before_point(&cell.text, cell.style)?;
                Some((right - self.measured[index].after - before, Anchor::Start))
            }
            Kind::Amounts => Some((right, Anchor::End)),
            Kind::Words | Kind::Numbers | Kind::Prose | Kind::Tick | Kind::Write(_) => None,
        };
        let link = cell.link.as_deref();
        if let Some((x, anchor)) = figure {
            return match cell.text.as_str() {
                "" => Ok(Vec::new()),
                figure => Ok(vec![(0, text::set(figure, Point::new(x, y), anchor, cell.style)?, link)]),
            };
        }
        let mut lines: Vec<Line> = Vec::new();
        for paragraph in cell.text.split('\n').filter(|paragraph| !paragraph.is_empty()) {
            for line in text::wrap(paragraph, place.1, cell.style)? {
                let at = Point::new(place.0, y);
                lines.push((lines.len(), text::set(line, at, Anchor::Start, cell.style)?, link));
            }
        }
        for more in &cell.more {
            let link = more.link.as_deref();
            if let Some((line, last, _)) = lines.last() {
                let at = Point::new(last.at.x + last.width + SENTENCE_SPACE, y);
                let set = text::set(&more.text, at, Anchor::Start, more.style)?;
                if at.x + set.width <= right {
                    lines.push((*line, set, link));
                    continue;
                }
            }
            let next = lines.last().map_or(0, |(line, _, _)| line + 1);
            for (i, line) in text::wrap(&more.text, place.1, more.style)?.into_iter().enumerate() {
                let set = text::set(line, Point::new(place.0, y), Anchor::Start, more.style)?;
                lines.push((next + i, set, link));
            }
        }
        Ok(lines)
    }

    /// A warning: the general warning sign's triangle, a strong title and the text, in a box.
    fn warning(&self, title: &str, text: &str) -> Result<Vec<Slab>, ComposeFault> {
        let inset = Length::mm(2);
        let left = inset + Length::mm(7);
        let room = self.width - left - inset;
        let mut lines = Vec::new();
        for (words, style) in [(title, Style::STRONG), (text, Style::BODY)] {
            if !words.is_empty() {
                lines.extend(text::wrap(words, room, style)?.into_iter().map(|line| (line, style)));
            }
        }
        let leading = Style::BODY.leading();
        let height = PAD * 4 + leading * lines.len() as i64;
        let area = Rect::new(Length::ZERO, PAD, self.width, height - PAD);
        let mut marks = vec![filled(area, Ink(8)), outline(area, pen::DETAIL)];
        marks.extend(warning_sign(Point::new(inset, PAD * 2 + Length::micrometres(400)))?);
        for (i, (line, style)) in lines.into_iter().enumerate() {
            let at = Point::new(left, PAD * 2 + leading * i as i64 + BASELINE);
            marks.push(Mark::Text(text::set(line, at, Anchor::Start, style)?));
        }
        Ok(vec![Slab::new(height, marks)])
    }
}

/// A triangle with an exclamation mark (the general warning sign of ISO 7010, W001, in outline),
/// with its box's top left corner at `at`: 5 mm wide, 4.4 mm high.
pub fn warning_sign(at: Point) -> Result<Vec<Mark>, ComposeFault> {
    let um = Length::micrometres;
    let corner = |x: i64, y: i64| Point::new(at.x + um(x), at.y + um(y));
    let path = super::mark::ring(&[corner(0, 4_400), corner(2_500, 0), corner(5_000, 4_400)]);
    let sign = text::set("!", corner(2_500, 3_900), Anchor::Middle, Style::STRONG)?;
    Ok(vec![Mark::Stroke { pen: pen::SEAM, path }, Mark::Text(sign)])
}

/// Adds the slabs of a row under `head`; `bond` is between its last slab and the next row.
fn push_row(slabs: &mut Vec<Slab>, row: Vec<Slab>, head: &Rc<Head>, bond: Bond) {
    let count = row.len();
    slabs.extend(row.into_iter().enumerate().map(|(i, slab)| Slab {
        head: Some(Rc::clone(head)),
        bond: if i + 1 == count { slab.bond.max(bond) } else { slab.bond },
        ..slab
    }));
}
