//! The border, the title block and the revision table of a sheet.
//!
//! The title block holds the data fields of ISO 7200, 180 mm wide at the lower right; the revision
//! table stands at its left with the newest row lowest. The arrangement is our own.

use super::ComposeFault;
use super::mark::{level, outline, upright};
use super::model::{Anchor, Mark};
use super::paper;
use super::pen;
use super::text::{self, Style};
use crate::geom::{Point, Rect};
use crate::job::model::{Facts, Paper, Revision};
use crate::units::Length;

/// The height of the band with the revision table and the title block.
pub const BAND: Length = Length::mm(24);
/// The width of the title block (ISO 7200).
const BLOCK_WIDTH: Length = Length::mm(180);
/// White space between the frame and what is drawn in it.
const PADDING: Length = Length::mm(5);
/// From a rule of the title block to the letters beside it.
const INSET: Length = Length::micrometres(1_500);
/// From the top of a field to the baseline of its name.
const NAME_DROP: Length = Length::micrometres(3_100);
/// From the foot of a field up to the baseline of its value.
const VALUE_RISE: Length = Length::micrometres(1_000);
/// The height of a row of the title block.
const ROW: Length = Length::mm(8);
/// From the foot of a line of the revision table up to its baseline.
const REVISION_RISE: Length = Length::micrometres(1_300);
/// Where the columns of the revision table start.
const REVISION_COLUMNS: [Length; 3] = [Length::ZERO, Length::mm(10), Length::mm(32)];
/// What stands for words that find no room.
const SEE_COVER: &str = "see cover";
/// The height of a line of the revision table.
const REVISION_LINE: Length = Length::micrometres(4_800);

/// What the title block of one sheet says beside the facts of the job.
#[derive(Clone, Debug)]
pub struct TitleBlock<'a> {
    /// What the set is for, such as "For cutting".
    pub status: &'a str,
    /// The sheet's title.
    pub title: &'a str,
    /// The document type, such as "Elevation".
    pub kind: &'a str,
    /// The scale in words, or empty when nothing is to scale.
    pub scale: &'a str,
    /// The sheet's number, from 1.
    pub number: usize,
    /// How many sheets the set has.
    pub count: usize,
}

/// The free part of a sheet: inside the frame, above the band, with white space round it.
pub fn free(paper: Paper) -> Rect {
    let frame = paper::frame(paper);
    Rect { y1: frame.y1 - BAND, ..frame }.grown(-PADDING)
}

/// The border, the title block and the revision table.
///
/// # Errors
/// `missing-glyph` when a fact holds a character that the font lacks.
pub fn marks(paper: Paper, facts: &Facts, block: &TitleBlock) -> Result<Vec<Mark>, ComposeFault> {
    let frame = paper::frame(paper);
    let top = frame.y1 - BAND;
    let left = frame.x1 - BLOCK_WIDTH;
    let mut marks = vec![
        outline(frame, pen::OUTLINE),
        level(frame.x0, frame.x1, top, pen::TABLE_RULE),
        upright(left, top, frame.y1, pen::TABLE_RULE),
    ];
    title_block(&mut marks, Rect::new(left, top, frame.x1, frame.y1), facts, block)?;
    revision_table(&mut marks, revision_area(paper), &facts.revisions)?;
    Ok(marks)
}

fn title_block(
    marks: &mut Vec<Mark>,
    area: Rect,
    facts: &Facts,
    block: &TitleBlock,
) -> Result<(), ComposeFault> {
    let revision = facts.revisions.last().map_or("", |r| r.index.as_str());
    let scale = if block.scale.is_empty() { "none" } else { block.scale };
    let sheet = format!("{} of {}", block.number, block.count);
    // Fields as (name, value, left edge, width), in millimetres from the block's left edge.
    let rows: [&[(&str, &str, i64, i64)]; 3] = [
        &[
            ("Legal owner", &facts.installer, 0, 50),
            ("Identification number", &facts.number, 120, 42),
            ("Rev.", revision, 162, 18),
        ],
        &[
            ("Creator", &facts.workroom, 0, 50),
            ("Date of issue", &facts.date, 120, 30),
            ("Status", block.status, 150, 30),
        ],
        &[
            ("Approval person", &facts.designer, 0, 50),
            ("Document type", block.kind, 50, 70),
            ("Scale", scale, 120, 30),
            ("Sheet", &sheet, 150, 30),
        ],
    ];
    for (row, fields) in rows.into_iter().enumerate() {
        let y0 = area.y0 + ROW * row as i64;
        for &(name, value, x, width) in fields {
            let x0 = area.x0 + Length::mm(x);
            let cell = Rect::new(x0, y0, x0 + Length::mm(width), y0 + ROW);
            if x > 0 {
                marks.push(upright(cell.x0, cell.y0, cell.y1, pen::HAIRLINE));
            }
            if row > 0 {
                marks.push(level(cell.x0, cell.x1, cell.y0, pen::HAIRLINE));
            }
            let name_at = Point::new(cell.x0 + INSET, cell.y0 + NAME_DROP);
            marks.push(Mark::Text(text::set(name, name_at, Anchor::Start, Style::BODY)?));
            let y = cell.y1 - VALUE_RISE;
            if value.is_empty() {
                marks.push(level(cell.x0 + INSET, cell.x1 - INSET, y, pen::HAIRLINE));
                continue;
            }
            let value = shortened(value, cell.width() - INSET * 2, Style::STRONG)?;
            let value_at = Point::new(cell.x0 + INSET, y);
            marks.push(Mark::Text(text::set(value, value_at, Anchor::Start, Style::STRONG)?));
        }
    }
    let x0 = area.x0 + Length::mm(50);
    let cell = Rect::new(x0, area.y0, x0 + Length::mm(70), area.y0 + ROW * 2);
    marks.push(upright(cell.x0, cell.y0, cell.y1, pen::HAIRLINE));
    titles(marks, cell, &facts.title, block.title)
}

/// The job's title and under it the sheet's title, the only larger letters of the block.
fn titles(marks: &mut Vec<Mark>, cell: Rect, job: &str, sheet: &str) -> Result<(), ComposeFault> {
    let x = cell.x0 + INSET;
    let room = cell.width() - INSET * 2;
    marks.push(Mark::Text(text::set(
        "Title",
        Point::new(x, cell.y0 + NAME_DROP),
        Anchor::Start,
        Style::BODY,
    )?));
    for (title, rise) in [(job, Length::micrometres(6_800)), (sheet, Length::micrometres(1_500))] {
        let style = if text::measure(title, Style::HEAD)? <= room { Style::HEAD } else { Style::STRONG };
        let title = shortened(title, room, style)?;
        marks.push(Mark::Text(text::set(title, Point::new(x, cell.y1 - rise), Anchor::Start, style)?));
    }
    Ok(())
}

/// A value cut to its field; one that would lose a figure is left to the cover, which shows it whole.
fn shortened(value: &str, room: Length, style: Style) -> Result<String, ComposeFault> {
    Ok(text::shorten(value, room, style)?.unwrap_or_else(|| SEE_COVER.to_owned()))
}

/// The revision table's part of the band.
fn revision_area(paper: Paper) -> Rect {
    let frame = paper::frame(paper);
    Rect { x1: frame.x1 - BLOCK_WIDTH, y0: frame.y1 - BAND, ..frame }
}

/// Whether the revision table of every sheet shows all revisions, each with all its words.
///
/// # Errors
/// `missing-glyph` when a revision holds a character that the font lacks.
pub fn shows_all(paper: Paper, revisions: &[Revision]) -> Result<bool, ComposeFault> {
    let rows = shown(revision_area(paper), revisions)?;
    Ok(rows.len() == revisions.len() && rows.iter().all(|(_, change)| change.concat() != SEE_COVER))
}

/// The newest revisions that fit `area`, newest first, with the lines of what changed.
fn shown(area: Rect, revisions: &[Revision]) -> Result<Vec<(&Revision, Vec<String>)>, ComposeFault> {
    let room = area.width() - REVISION_COLUMNS[2] - INSET * 2;
    let mut lines_left = area.height().div_floor(REVISION_LINE) as usize - 1;
    let mut rows = Vec::new();
    for revision in revisions.iter().rev() {
        let mut change = text::wrap(&revision.text, room, Style::BODY)?;
        if change.len() > lines_left && rows.is_empty() {
            change = vec![SEE_COVER.to_owned()];
        }
        if change.len() > lines_left {
            break;
        }
        lines_left -= change.len();
        rows.push((revision, change));
    }
    Ok(rows)
}

/// The newest revisions that fit, the newest lowest; the cover lists them all when some do not.
fn revision_table(marks: &mut Vec<Mark>, area: Rect, revisions: &[Revision]) -> Result<(), ComposeFault> {
    let rows = shown(area, revisions)?;
    let mut y = area.y0;
    let mut line = |cells: [&str; 3], style, y: Length| -> Result<(), ComposeFault> {
        for (cell, x) in cells.into_iter().zip(REVISION_COLUMNS).filter(|(cell, _)| !cell.is_empty()) {
            let at = Point::new(area.x0 + x + INSET, y + REVISION_LINE - REVISION_RISE);
            marks.push(Mark::Text(text::set(cell, at, Anchor::Start, style)?));
        }
        Ok(())
    };
    line(["Rev.", "Date", "Change"], Style::STRONG, y)?;
    let mut rules = Vec::new();
    for (revision, change) in rows.into_iter().rev() {
        y += REVISION_LINE;
        rules.push(y);
        for (i, words) in change.iter().enumerate() {
            let (index, date) =
                if i == 0 { (revision.index.as_str(), revision.date.as_str()) } else { ("", "") };
            line([index, date, words], Style::BODY, y + REVISION_LINE * i as i64)?;
        }
        y += REVISION_LINE * (change.len() as i64 - 1);
    }
    rules.push(y + REVISION_LINE);
    for (i, &y) in rules.iter().enumerate().filter(|&(_, &y)| y < area.y1) {
        let pen = if i == 0 { pen::TABLE_RULE } else { pen::HAIRLINE };
        marks.push(level(area.x0, area.x1, y, pen));
    }
    Ok(())
}
