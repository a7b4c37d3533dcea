//! Documents of headings, paragraphs, tables and drawings, set on as many sheets as they need.

use super::flow::{self, Bond, Placed, Run, Slab};
use super::mark::moved;
use super::model::{Anchor, Group, Layer, Mark};
use super::table::Table;
use super::text::{self, Style};
use super::{ComposeFault, Draft, Part, frame, words};
use crate::geom::Point;
use crate::job::model::Paper;
use crate::units::Length;

/// White space between two columns of a sheet.
const GUTTER: Length = Length::mm(12);
/// White space above a section.
const SECTION_SPACE: Length = Length::mm(7);
/// White space above a paragraph or a table within a section.
const BLOCK_SPACE: Length = Length::mm(2);
/// Lines longer than this tire the eye.
const LONGEST_LINE: Length = Length::mm(150);
/// A column of paragraphs is not made narrower than this.
const LEAST_LINE: Length = Length::mm(100);
/// A column of short lines is not made narrower than this.
const LEAST_SHORT_LINE: Length = Length::mm(72);
/// From the top of the free space to the baseline of a sheet's title.
const TITLE_SPACE: Length = Length::mm(7);
/// The height of a sheet's title with the space under it.
pub const HEADING: Length = Length::mm(14);

/// A document, such as a cut list.
#[derive(Clone, Debug)]
pub struct Document {
    /// The key of its first sheet; those that follow add their number.
    pub key: String,
    /// Its title in the index and the title block.
    pub title: String,
    /// What stands over its sheets: mostly the title again.
    pub heading: String,
    /// The bookmark that it lies under.
    pub under: String,
    /// What it shows, in one or two sentences.
    pub description: String,
    /// The document type of the title block.
    pub kind: &'static str,
    /// The scale of its drawings in words; empty when it has none.
    pub scale: String,
    /// What it holds.
    pub sections: Vec<Section>,
}

/// A heading and what stands under it.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// The heading; may be empty.
    pub heading: String,
    /// Paragraphs, tables and drawings.
    pub blocks: Vec<Block>,
    /// Whether it is kept in one column at any cost in paper, unless it is taller than a sheet.
    pub whole: bool,
    /// The most columns that a sheet has for it; `None` for as many as it can be read in.
    pub most_columns: Option<usize>,
    /// Whether all its lines are short, so that it can be read in narrower columns than others.
    pub short_lines: bool,
}

impl Section {
    /// A section without blocks.
    pub fn new(heading: impl Into<String>) -> Self {
        Section { heading: heading.into(), ..Section::default() }
    }

    /// Adds a paragraph.
    pub fn paragraph(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    /// Adds a paragraph, if there is one.
    pub fn paragraph_if(&mut self, text: Option<String>) {
        self.blocks.extend(text.map(Block::Paragraph));
    }

    /// Adds a drawing.
    pub fn figure(&mut self, figure: Figure) {
        self.blocks.push(Block::Figure(figure));
    }

    /// Adds a table, unless it has no rows.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blocks.push(Block::Table(table));
        }
    }
}

/// A part of a section.
#[derive(Clone, Debug)]
pub enum Block {
    /// Running text.
    Paragraph(String),
    /// A table.
    Table(Table),
    /// A drawing.
    Figure(Figure),
}

/// A drawing that stands in a document, its marks placed from its top left corner.
#[derive(Clone, Debug)]
pub struct Figure {
    /// How much of a column's width it takes.
    pub width: Length,
    /// How much of its height.
    pub height: Length,
    /// The marks.
    pub marks: Vec<Mark>,
}

impl Document {
    /// The sheets of the document: none when no section has a block. An only section is not headed
    /// with the document's own title again.
    ///
    /// # Errors
    /// `missing-glyph` when the font lacks a character of the document.
    pub fn drafts(self, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
        let free = frame::free(paper);
        let mut sections: Vec<Section> =
            self.sections.into_iter().filter(|section| !section.blocks.is_empty()).collect();
        if let [only] = sections.as_mut_slice()
            && only.heading == self.heading
        {
            only.heading.clear();
        }
        let top = free.y0 + HEADING;
        let mut runs = self::runs(&sections, free.width())?;
        let mut pages = flow::pour(&runs, free.y1 - top, SECTION_SPACE);
        if pages.len() > 1 {
            // Narrower columns are read less well, but better than another sheet.
            sections.iter_mut().for_each(|section| section.short_lines = true);
            let narrow = self::runs(&sections, free.width())?;
            let fewer = flow::pour(&narrow, free.y1 - top, SECTION_SPACE);
            if fewer.len() < pages.len() {
                (runs, pages) = (narrow, fewer);
            }
        }
        let counts: Vec<usize> = runs.iter().map(|run| run.columns).collect();
        let count = pages.len();
        let mut drafts = Vec::new();
        for (i, page) in pages.into_iter().enumerate() {
            let key = if i == 0 { self.key.clone() } else { format!("{}-{}", self.key, i + 1) };
            let part = Part { number: i + 1, count };
            let mut marks = vec![heading(&part.of(&self.heading), paper)?];
            for Placed { run, column, marks: content } in page {
                let step = column_width(free.width(), counts[run]) + GUTTER;
                marks.extend(moved(content, free.x0 + step * column as i64, top));
            }
            let title = part.of(&self.title);
            drafts.push(Draft {
                key,
                title: self.title.clone(),
                part,
                under: self.under.clone(),
                description: self.description.clone(),
                kind: self.kind,
                scale: self.scale.clone(),
                also: Vec::new(),
                marks: vec![Mark::Group(Group {
                    layer: Layer::Sheet,
                    id: "content".to_owned(),
                    title,
                    marks,
                })]
                .into(),
            });
        }
        Ok(drafts)
    }
}

/// No more sheets than this are shared by several documents; larger ones stand by themselves.
const SHARED: usize = 6;

/// The sheets of several documents, in order, of which neighbours that are small share sheets,
/// under all their titles: on as few sheets as can be, and then as evenly shared.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a document.
pub fn together(documents: &[Document], paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let held = |document: &&Document| document.sections.iter().any(|section| !section.blocks.is_empty());
    let documents: Vec<Document> = documents.iter().filter(held).cloned().collect();
    // The best way for the first n documents: its sheets, and how unevenly they are shared.
    let mut best: Vec<(Vec<Draft>, usize)> = vec![(Vec::new(), 0)];
    for end in 1..=documents.len() {
        let mut ways = Vec::new();
        for start in (0..end).rev() {
            let set = joined(&documents[start..end]).drafts(paper)?;
            if end - start > 1 && set.len() > SHARED {
                break;
            }
            let (before, uneven) = &best[start];
            ways.push((before.iter().cloned().chain(set).collect(), uneven + (end - start).pow(2)));
        }
        ways.sort_by_key(|(sheets, uneven): &(Vec<Draft>, usize)| (sheets.len(), *uneven));
        best.push(ways.swap_remove(0));
    }
    Ok(best.pop().map(|(sheets, _)| sheets).unwrap_or_default())
}

/// Several documents as one; a single one as it is.
fn joined(documents: &[Document]) -> Document {
    if let [only] = documents {
        return only.clone();
    }
    let titles: Vec<String> = documents.iter().map(|document| document.title.to_lowercase()).collect();
    let title = words::capital(&words::list(&titles));
    let descriptions: Vec<&str> = documents.iter().map(|document| document.description.as_str()).collect();
    let first = documents.first();
    // What one of them must wait for stands over the sheets of all.
    let waits = documents.iter().find_map(|document| {
        document.heading.strip_prefix(&document.title).filter(|waits| !waits.is_empty())
    });
    Document {
        key: first.map(|first| first.key.clone()).unwrap_or_default(),
        heading: format!("{title}{}", waits.unwrap_or_default()),
        title,
        under: first.map(|first| first.under.clone()).unwrap_or_default(),
        description: descriptions.join(" "),
        kind: first.map_or("", |first| first.kind),
        scale: String::new(),
        sections: documents.iter().flat_map(|document| document.sections.clone()).collect(),
    }
}

/// The title of a sheet, at the top left of its free space, in the largest letters in which it fits.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the title.
pub fn heading(title: &str, paper: Paper) -> Result<Mark, ComposeFault> {
    let free = frame::free(paper);
    let at = Point::new(free.x0, free.y0 + TITLE_SPACE);
    for style in [Style::TITLE, Style::HEAD] {
        let set = text::set(title, at, Anchor::Start, style)?;
        if set.width <= free.width() {
            return Ok(Mark::Text(set));
        }
    }
    Ok(Mark::Text(text::set(title, at, Anchor::Start, Style::STRONG)?))
}

/// How high a section stands in one column of `width`.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the section.
pub fn section_height(section: &Section, width: Length) -> Result<Length, ComposeFault> {
    Ok(flow::extent(&section_slabs(section, width)?))
}

/// Paragraphs one under the other in `width`, from their top left corner, and how high they stand.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of them.
pub fn paragraphs(paragraphs: &[String], width: Length) -> Result<(Vec<Mark>, Length), ComposeFault> {
    let mut section = Section::default();
    paragraphs.iter().for_each(|words| section.paragraph(words));
    let slabs = section_slabs(&section, width)?;
    Ok((flow::stacked(&slabs), flow::extent(&slabs)))
}

/// Sections on paper so wide, with neighbours that take equally many columns together.
fn runs(sections: &[Section], width: Length) -> Result<Vec<Run>, ComposeFault> {
    let mut runs: Vec<Run> = Vec::new();
    for section in sections {
        let columns = column_count(section, width)?;
        let slabs = section_slabs(section, column_width(width, columns))?;
        match runs.last_mut() {
            Some(run) if run.columns == columns => run.sections.push(slabs),
            _ => runs.push(Run { sections: vec![slabs], columns }),
        }
    }
    Ok(runs)
}

/// As many columns as every block of a section can be read in.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the section.
pub fn column_count(section: &Section, width: Length) -> Result<usize, ComposeFault> {
    let mut least = if section.short_lines { LEAST_SHORT_LINE } else { LEAST_LINE };
    for block in &section.blocks {
        least = least.max(match block {
            Block::Paragraph(_) => Length::ZERO,
            Block::Table(table) => table.least_width()?,
            Block::Figure(figure) => figure.width,
        });
    }
    let readable = (width + GUTTER).div_floor(least + GUTTER).max(1) as usize;
    Ok(section.most_columns.map_or(readable, |most| readable.min(most)))
}

/// The width of each of so many columns of a sheet whose free space is `width` wide.
pub fn column_width(width: Length, columns: usize) -> Length {
    let columns = columns as i64;
    (width - GUTTER * (columns - 1)) / columns
}

fn section_slabs(section: &Section, width: Length) -> Result<Vec<Slab>, ComposeFault> {
    let mut slabs: Vec<Slab> = Vec::new();
    if !section.heading.is_empty() {
        slabs.extend(lines(&section.heading, width, Style::HEAD)?);
        // A drawing that is too tall for the rest of its section still has its heading over it.
        let bond =
            if matches!(section.blocks.first(), Some(Block::Figure(_))) { Bond::Firm } else { Bond::Near };
        for slab in &mut slabs {
            slab.bond = bond;
        }
    }
    for (index, block) in section.blocks.iter().enumerate() {
        let mut part = match block {
            Block::Paragraph(words) => lines(words, width.min(LONGEST_LINE), Style::BODY)?,
            Block::Table(table) => table.slabs(width)?,
            Block::Figure(figure) => {
                vec![Slab { bond: Bond::Near, ..Slab::new(figure.height, figure.marks.clone()) }]
            }
        };
        if let (Some(first), false) = (part.first_mut(), slabs.is_empty()) {
            first.before = BLOCK_SPACE;
        }
        // What is said before a table stands over it.
        if let (Block::Paragraph(_), Some(Block::Table(_)), Some(last)) =
            (block, section.blocks.get(index + 1), part.last_mut())
        {
            last.bond = Bond::Near;
        }
        slabs.extend(part);
    }
    if section.whole
        && let [bound @ .., _] = slabs.as_mut_slice()
    {
        bound.iter_mut().for_each(|slab| slab.bond = slab.bond.max(Bond::Near));
    }
    if let Some(first) = slabs.first_mut() {
        first.before = SECTION_SPACE;
    }
    Ok(slabs)
}

/// A paragraph as one slab a line, all of which stay together.
fn lines(words: &str, width: Length, style: Style) -> Result<Vec<Slab>, ComposeFault> {
    let lines = text::wrap(words, width, style)?;
    let count = lines.len();
    let baseline = (style.leading() + style.caps.height()) / 2;
    let slabs = lines.into_iter().enumerate().map(|(i, line)| {
        let set = text::set(line, Point::new(Length::ZERO, baseline), Anchor::Start, style)?;
        Ok(Slab {
            bond: if i + 1 < count { Bond::Firm } else { Bond::Free },
            ..Slab::new(style.leading(), vec![Mark::Text(set)])
        })
    });
    slabs.collect()
}
