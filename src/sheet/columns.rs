//! How wide the columns of a table are and where they stand.

use super::ComposeFault;
use super::table::{Kind, Place, Row, TICK, Table};
use super::text::{self, Style};
use crate::units::Length;

/// White space between two columns.
const GAP: Length = Length::mm(4);
/// White space between two columns at most, where paper is left over.
const WIDEST_GAP: Length = Length::mm(10);
/// A column of words is not made narrower than this if its words are longer.
const LEAST_WORDS: Length = Length::mm(28);
/// A column of sentences is not made narrower than this if its sentences are longer.
const LEAST_PROSE: Length = Length::mm(65);
/// A column of sentences has no need to be wider than this while words beside it are squeezed.
const GOOD_PROSE: Length = Length::mm(110);

/// What a column needs.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The lines of its head.
    pub head: Vec<String>,
    /// The least width at which it reads well and no word is broken.
    pub least: Length,
    /// The width below which it is not readable, even with its words broken.
    pub hard: Length,
    /// The width at which nothing wraps.
    pub natural: Length,
    /// Of figures: the greatest width behind the units' digit.
    pub after: Length,
    /// Whether it takes what paper is left over.
    pub grows: bool,
    /// Whether it holds sentences.
    pub prose: bool,
}

/// Measures the columns of a table.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the table.
pub fn measured(table: &Table) -> Result<Vec<Measured>, ComposeFault> {
    (0..table.columns.len()).map(|index| measure_column(table, index)).collect()
}

fn measure_column(table: &Table, index: usize) -> Result<Measured, ComposeFault> {
    let column = &table.columns[index];
    let (mut before, mut after) = (Length::ZERO, Length::ZERO);
    let (mut natural, mut word) = (Length::ZERO, Length::ZERO);
    for row in &table.rows {
        let Row::Cells(cells) = row else { continue };
        let Some(cell) = cells.get(index) else { continue };
        if column.kind == Kind::Figures {
            let head = before_point(&cell.text, cell.style)?;
            before = before.max(head);
            after = after.max(text::measure(&cell.text, cell.style)? - head);
        } else {
            let more = cell.more.iter().map(|more| (more.text.as_str(), more.style));
            for (paragraph, style) in cell.text.split('\n').map(|own| (own, cell.style)).chain(more) {
                natural = natural.max(text::measure(paragraph, style)?);
                for part in paragraph.split(' ') {
                    word = word.max(text::measure(part, style)?);
                }
            }
        }
    }
    let (hard, least, natural) = match column.kind {
        Kind::Words => (natural.min(LEAST_WORDS), natural.min(LEAST_WORDS).max(word), natural),
        Kind::Numbers => (word, word, natural),
        Kind::Prose => (natural.min(LEAST_WORDS), natural.min(LEAST_PROSE).max(word), natural),
        Kind::Amounts => (natural, natural, natural),
        Kind::Figures => (before + after, before + after, before + after),
        Kind::Tick => (TICK, TICK, TICK),
        Kind::Write(width) => (width, width, width),
    };
    let (head, head_width) = head_lines(column.head, natural)?;
    Ok(Measured {
        head,
        hard: hard.max(head_width),
        least: least.max(head_width),
        natural: natural.max(head_width),
        after,
        grows: matches!(column.kind, Kind::Write(_)),
        prose: column.kind == Kind::Prose,
    })
}

/// The head wrapped to the column or, where that takes more than two lines, to a width at which
/// it takes two: its lines and their width.
fn head_lines(head: &str, natural: Length) -> Result<(Vec<String>, Length), ComposeFault> {
    if head.is_empty() {
        return Ok((Vec::new(), Length::ZERO));
    }
    let mut room = natural;
    for word in head.split(' ') {
        room = room.max(text::measure(word, Style::STRONG)?);
    }
    let mut lines = text::wrap(head, room, Style::STRONG)?;
    while lines.len() > 2 {
        room += Length::mm(1);
        lines = text::wrap(head, room, Style::STRONG)?;
    }
    let mut width = Length::ZERO;
    for line in &lines {
        width = width.max(text::measure(line, Style::STRONG)?);
    }
    Ok((lines, width))
}

/// The width of a figure up to and with its units' digit: `9′ 0` of `9′ 0½″`, `1234` of
/// `1234.5 mm`. Of a text without digits, its whole width.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the figure.
pub fn before_point(figure: &str, style: Style) -> Result<Length, ComposeFault> {
    let point = figure.find('.').filter(|&i| figure[i + 1..].starts_with(|c: char| c.is_ascii_digit()));
    let end = match point {
        Some(at) => at,
        None => figure.rfind(|c: char| c.is_ascii_digit()).map_or(figure.len(), |at| at + 1),
    };
    text::measure(&figure[..end], style)
}

/// The least width of a table of these columns.
pub fn least_width(columns: &[Measured]) -> Length {
    columns.iter().map(|column| column.least).sum::<Length>() + gaps(columns, GAP)
}

fn gaps(columns: &[Measured], gap: Length) -> Length {
    gap * columns.len().saturating_sub(1) as i64
}

/// Places columns in `width`, and says how much of it the table takes.
///
/// What does not fit is taken from the columns of words, the widest first, until sentences have
/// room to run, and then from the sentences; if even that is not enough, words are broken. What is
/// left over goes to the space to write in, or widens the gaps a little.
pub fn placed(columns: &[Measured], width: Length) -> (Vec<Place>, Length) {
    let breaking: Vec<Measured>;
    let columns = if least_width(columns) <= width {
        columns
    } else {
        breaking = columns.iter().map(|column| Measured { least: column.hard, ..column.clone() }).collect();
        &breaking
    };
    let room = width - gaps(columns, GAP);
    let natural: Length = columns.iter().map(|column| column.natural).sum();
    let mut widths: Vec<Length> = columns.iter().map(|column| column.natural).collect();
    let mut gap = GAP;
    if natural > room {
        let good = |column: &Measured| column.natural.min(GOOD_PROSE.max(column.least));
        let sentences = columns.iter().filter(|c| c.prose).map(good).sum();
        let words: Vec<&Measured> = columns.iter().filter(|c| !c.prose).collect();
        let word_cap = cap(&words, room - sentences);
        let taken: Length = words.iter().map(|c| capped(c, word_cap)).sum();
        let prose: Vec<&Measured> = columns.iter().filter(|c| c.prose).collect();
        let prose_cap = cap(&prose, room - taken);
        for (width, column) in widths.iter_mut().zip(columns) {
            *width = capped(column, if column.prose { prose_cap } else { word_cap });
        }
    } else {
        let growing = columns.iter().filter(|column| column.grows).count() as i64;
        if growing > 0 {
            for (width, column) in widths.iter_mut().zip(columns) {
                if column.grows {
                    *width += (room - natural) / growing;
                }
            }
        } else if columns.len() > 1 {
            gap = (GAP + (room - natural) / (columns.len() as i64 - 1)).min(WIDEST_GAP);
        }
    }
    let mut x = Length::ZERO;
    let mut places = Vec::new();
    for width in widths {
        places.push((x, width));
        x += width + gap;
    }
    (places, (x - gap).max(Length::ZERO))
}

/// The width of a column that is not made wider than `cap`, nor narrower than its least.
fn capped(column: &Measured, cap: Length) -> Length {
    column.natural.min(cap.max(column.least))
}

/// The greatest cap under which the columns fit in `room`; zero when none does.
fn cap(columns: &[&Measured], room: Length) -> Length {
    let step = Length::micrometres(100);
    let taken = |cap: Length| columns.iter().map(|column| capped(column, cap)).sum::<Length>();
    let (mut low, mut high) = (0, room.div_ceil(step).max(1));
    while low + 1 < high {
        let middle = (low + high) / 2;
        if taken(step * middle) <= room {
            low = middle;
        } else {
            high = middle;
        }
    }
    step * low
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::table::Cell;

    #[test]
    fn figures_are_split_behind_the_units_digit() {
        let width = |s: &str| text::measure(s, Style::BODY).unwrap();
        let before = |s: &str| before_point(s, Style::BODY).unwrap();
        assert_eq!(before("9′ 0½″"), width("9′ 0"));
        assert_eq!(before("1234.5 mm"), width("1234"));
        assert_eq!(before("2750 mm"), width("2750"));
        assert_eq!(before("0³⁄₁₆″"), width("0"));
        assert_eq!(before("none"), width("none"));
    }

    #[test]
    fn a_table_fits_the_width_it_is_given() {
        let mut table = Table::new(&[
            ("No.", Kind::Figures),
            ("What to do", Kind::Words),
            ("Initials", Kind::Write(Length::mm(20))),
        ]);
        for n in 1..40 {
            table.row(vec![
                Cell::new(n.to_string()),
                Cell::new("staple the top from the centre out ".repeat(n)),
            ]);
        }
        let columns = measured(&table).unwrap();
        for width in [90, 120, 240, 400] {
            let (places, taken) = placed(&columns, Length::mm(width));
            assert!(taken <= Length::mm(width), "{taken} in {width} mm");
            assert!(places.windows(2).all(|p| p[0].0 + p[0].1 + GAP <= p[1].0));
        }
    }
}
