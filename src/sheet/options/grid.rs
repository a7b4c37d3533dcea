//! The columns and rows of a sheet of options.

use std::collections::BTreeSet;

use super::view;
use crate::geom::{Point, Rect};
use crate::plan::model::{Plan, RegistrationOption, RoomOptions};
use crate::plan::words::list;
use crate::sheet::drawing::group;
use crate::sheet::mark::{moved, outline};
use crate::sheet::model::{Anchor, Layer, Mark};
use crate::sheet::scale::Scale;
use crate::sheet::sign::{self, Sign};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, lattice, pen, scale_bar, words};
use crate::units::Length;

/// The column with the names of the rows.
const NAMES: Length = Length::mm(34);
/// The narrowest column of an option.
const NARROWEST: Length = Length::mm(48);
/// White space between two columns.
const GUTTER: Length = Length::mm(4);
/// White space over and under the words of a row.
const PAD: Length = Length::micrometres(900);
/// The side of the box for the designer's mark.
const BOX: Length = Length::mm(5);
/// White space round the drawings.
const ROUND: Length = Length::mm(3);
/// The height of the row with the signs and the scale bar.
const SIGNS: Length = Length::mm(8);
/// White under a band that another follows.
const BAND: Length = Length::mm(5);
/// White after a sign of the legend.
const SIGN_APART: Length = Length::mm(3);

/// The lines of the notes.
fn wrapped(notes: &[String], area: Rect) -> Result<Vec<String>, ComposeFault> {
    let mut lines = Vec::new();
    for note in notes {
        lines.extend(text::wrap(note, area.width().min(Length::mm(240)), Style::BODY)?);
    }
    Ok(lines)
}

/// A row of figures.
pub struct Row {
    /// What the figures are.
    pub label: String,
    /// One for each option.
    pub cells: Vec<String>,
}

/// One band of options on a sheet.
pub struct Grid<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The room.
    pub compared: &'a RoomOptions,
    /// The options of this sheet.
    pub options: &'a [RegistrationOption],
    /// Their figures.
    pub rows: Vec<Row>,
    /// How many columns this room's sheets have.
    pub columns: usize,
    /// What stands at the foot.
    pub notes: &'a [String],
    /// Whether the signs and the scale bar stand under it.
    pub last: bool,
    /// Its place on the sheet.
    pub area: Rect,
}

impl Grid<'_> {
    /// As many options as stand side by side in an area.
    pub fn most_columns(area: Rect) -> usize {
        (area.width() - NAMES).div_floor(NARROWEST + GUTTER).max(1) as usize
    }

    fn column_width(&self) -> Length {
        (self.area.width() - NAMES) / self.columns.max(1) as i64 - GUTTER
    }

    fn column_x(&self, column: usize) -> Length {
        self.area.x0 + NAMES + GUTTER + (self.column_width() + GUTTER) * column as i64
    }

    /// The walls drawn, at that scale.
    fn run(&self, scale: Scale) -> view::Run {
        view::Run::new(self.plan, self.compared, scale.real(self.column_width()))
    }

    /// Whether the drawings at that scale leave room for all words.
    pub fn fits(&self, scale: Scale) -> Result<bool, ComposeFault> {
        let size = self.run(scale).size(scale);
        let drawing = size.y + view::LABEL_DROP + ROUND * 2;
        let words = self.head_height()?
            + self.rows_height()?
            + self.foot_height()?
            + if self.last { SIGNS } else { BAND };
        Ok(size.x <= self.column_width() && drawing <= self.area.height() - words)
    }

    /// What stands over an option: its letter, and what asks for it.
    fn head(&self, option: &RegistrationOption) -> Result<Vec<(String, Style)>, ComposeFault> {
        let width = self.column_width();
        let cloth = &self.plan.job.cloths[self.plan.job.rooms[self.compared.room].cloth];
        let least = if cloth.on_hand.is_empty() { "shortest order" } else { "least cloth" };
        // What holds for all of them is no reason to take one.
        let least_of_all = option.least && self.compared.options.iter().any(|option| !option.least);
        let tag = match (option.chosen, least_of_all) {
            (true, true) => format!("as the sheets show it; {least}"),
            (true, false) => "as the sheets show it".to_owned(),
            (false, true) => least.to_owned(),
            (false, false) => String::new(),
        };
        let mut lines = Vec::new();
        for (words, style) in
            [(&tag, Style::STRONG), (&words::sentence(&option.names.join("; ")), Style::BODY)]
        {
            if !words.is_empty() {
                lines.extend(text::wrap(words, width, style)?.into_iter().map(|line| (line, style)));
            }
        }
        Ok(lines)
    }

    fn head_height(&self) -> Result<Length, ComposeFault> {
        let mut most = 0;
        for option in self.options {
            most = most.max(self.head(option)?.len());
        }
        Ok(PAD * 3 + BOX + Style::BODY.leading() * most as i64)
    }

    /// The lines of a row's name and cells.
    fn lines(&self, row: &Row) -> Result<(Vec<String>, Vec<Vec<String>>), ComposeFault> {
        let width = self.column_width();
        let cells = row.cells.iter().map(|cell| text::wrap(cell, width, Style::BODY));
        Ok((text::wrap(&row.label, NAMES, Style::STRONG)?, cells.collect::<Result<_, _>>()?))
    }

    fn row_height(&self, row: &Row) -> Result<Length, ComposeFault> {
        let (name, cells) = self.lines(row)?;
        let most = cells.iter().map(Vec::len).chain([name.len()]).max().unwrap_or(1);
        Ok(PAD * 2 + Style::BODY.leading() * most as i64)
    }

    fn rows_height(&self) -> Result<Length, ComposeFault> {
        self.rows.iter().map(|row| self.row_height(row)).sum()
    }

    fn foot(&self) -> Result<Vec<String>, ComposeFault> {
        wrapped(self.notes, self.area)
    }

    /// What notes, signs and scale bar take under the last band of a sheet.
    pub fn foot_of(notes: &[String], area: Rect) -> Result<Length, ComposeFault> {
        Ok(PAD * 2 + Style::BODY.leading() * wrapped(notes, area)?.len() as i64 + SIGNS)
    }

    fn foot_height(&self) -> Result<Length, ComposeFault> {
        Ok(PAD * 2 + Style::BODY.leading() * self.foot()?.len() as i64)
    }

    /// Everything on the sheet under its heading.
    pub fn marks(&self, scale: Scale) -> Result<Vec<Mark>, ComposeFault> {
        let run = self.run(scale);
        let size = run.size(scale);
        let (top, x0, x1) = (self.area.y0, self.area.x0, self.area.x1);
        let mut marks = vec![view::rule(x0, x1, top, true)];
        let drawn_from = top + self.head_height()? + ROUND;
        for (i, option) in self.options.iter().enumerate() {
            marks.push(self.option_head(i, option, top)?);
            let left = self.column_x(i) + (self.column_width() - size.x) / 2;
            let drawn = view::marks(self.plan, self.compared, option, &run, scale)?;
            marks.extend(moved(drawn, left, drawn_from));
        }
        let caption = self.caption(&run, scale);
        marks.extend(self.column(&text::wrap(&caption, NAMES, Style::BODY)?, x0, drawn_from, Style::BODY)?);
        let mut y = drawn_from + size.y + view::LABEL_DROP + ROUND;
        for row in &self.rows {
            marks.push(view::rule(x0, x1, y, false));
            let (name, cells) = self.lines(row)?;
            marks.extend(self.column(&name, x0, y + PAD, Style::STRONG)?);
            for (i, lines) in cells.iter().enumerate() {
                marks.extend(self.column(lines, self.column_x(i), y + PAD, Style::BODY)?);
            }
            y += self.row_height(row)?;
        }
        marks.push(view::rule(x0, x1, y, true));
        if let Some(chosen) = self.options.iter().position(|option| option.chosen) {
            let x = self.column_x(chosen);
            let beside = GUTTER / 2;
            let column = Rect::new(x - beside, top, x + self.column_width() + beside, y);
            marks.push(outline(column, pen::OUTLINE));
        }
        marks.extend(self.column(&self.foot()?, x0, y + PAD * 2, Style::BODY)?);
        if self.last {
            marks.extend(self.signs(scale)?);
        }
        let first = self.options.first().map_or("", |option| option.letter.as_str());
        Ok(vec![group(Layer::Sheet, format!("options-from-{first}"), "the options side by side", marks)])
    }

    /// The box for a mark, the letter, and what asks for the option.
    fn option_head(
        &self,
        column: usize,
        option: &RegistrationOption,
        top: Length,
    ) -> Result<Mark, ComposeFault> {
        let x = self.column_x(column);
        let tick = Rect::new(x, top + PAD, x + BOX, top + PAD + BOX);
        let baseline = Point::new(x + BOX + Length::mm(2), tick.y1 - (BOX - Style::HEAD.caps.height()) / 2);
        let name = format!("Option {}", option.letter);
        let mut marks = vec![
            outline(tick, pen::DETAIL),
            Mark::Text(text::set(name.as_str(), baseline, Anchor::Start, Style::HEAD)?),
        ];
        let mut y = tick.y1 + PAD;
        for (line, style) in self.head(option)? {
            marks.extend(self.column(&[line], x, y, style)?);
            y += style.leading();
        }
        Ok(group(Layer::Sheet, format!("option-{}", option.letter), name, marks))
    }

    /// What the drawings show.
    fn caption(&self, run: &view::Run, scale: Scale) -> String {
        let label = |wall: usize| &self.plan.job.rooms[self.compared.room].walls[wall].label;
        match run.walls.as_slice() {
            [_, _, ..] => {
                let labels: Vec<&str> = run.walls.iter().map(|wall| label(*wall).as_str()).collect();
                format!("Walls {}, at {}", list(&labels), scale.name)
            }
            _ => format!("Wall {}, at {}", label(self.compared.wall), scale.name),
        }
    }

    /// Lines under one another, the first in a line's height that starts at `y`.
    fn column(
        &self,
        lines: &[String],
        x: Length,
        y: Length,
        style: Style,
    ) -> Result<Vec<Mark>, ComposeFault> {
        let first = y + (style.leading() + style.caps.height()) / 2;
        let line = |(i, line): (usize, &String)| {
            let at = Point::new(x, first + style.leading() * i as i64);
            Ok(Mark::Text(text::set(line.as_str(), at, Anchor::Start, style)?))
        };
        lines.iter().enumerate().map(line).collect()
    }

    /// The signs and the scale bar, at the foot of the sheet.
    fn signs(&self, scale: Scale) -> Result<Vec<Mark>, ComposeFault> {
        let foot = self.area.y1;
        let mut marks = Vec::new();
        let index = self.plan.job.rooms[self.compared.room].cloth;
        let motif = Sign::of_motif(lattice::lies(self.plan, index));
        let pictured = self.plan.job.cloths[index].picture.is_some();
        let seams = self.options.iter().any(|option| option.seams > 0);
        let seam = if pictured { Sign::PicturedSeam } else { Sign::Seam };
        let mut signs: Vec<Sign> =
            [(!pictured).then_some(motif), seams.then_some(seam)].into_iter().flatten().collect();
        let walls = &self.plan.job.rooms[self.compared.room].walls;
        let shown = self.run(scale).walls.into_iter().flat_map(|wall| &walls[wall].fixings);
        let kinds: BTreeSet<Sign> = shown.map(|fixing| Sign::of_fixing(fixing.kind)).collect();
        signs.extend(kinds);
        let mut x = self.area.x0;
        for sign in signs {
            let y = foot - sign::legend_height(sign);
            marks.extend(moved(sign::legend_row(sign)?, x, y));
            x += sign::LEGEND_TEXT + text::measure(sign.meaning(), Style::BODY)? + SIGN_APART;
        }
        let system = self.plan.job.print.format.system;
        let end = Point::new(self.area.x1 - Length::mm(7), foot - Length::micrometres(900));
        marks.extend(scale_bar::marks(scale, system, Length::mm(60), end)?);
        Ok(marks)
    }
}
