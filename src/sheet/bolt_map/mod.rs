//! The bolt map: every cut in its place on the bolt, to scale.
//!
//! The bolt lies face up with its first cut at the left and its left edge below: v runs to the
//! right and u up the sheet, so that nothing is mirrored and the pattern's top points left. It is
//! drawn in rows, each of whole lays.

mod row;

use super::frame;
use super::mark::moved;
use super::model::{Anchor, Layer, Mark};
use super::scale::{self, Scale};
use super::text::{self, Style};
use super::{ComposeFault, Draft, Part, document, drawing, scale_bar, sets, words};
use crate::geom::{Point, Rect};
use crate::job::model::{Nap, Paper};
use crate::plan::model::{Plan, Way};
use crate::units::Length;

/// The map is drawn at the largest scale 1:n at which a cloth takes no more than n divided by this
/// many sheets: a bolt is spread over several only where it would else be too small to read.
const SHEET_STEP: i64 = 12;
/// Sheets that are filled less than this part of their height make way for the next smaller scale, if that
/// takes fewer.
const WELL_FILLED: (i64, i64) = (2, 3);
/// But a map is not drawn smaller than 1 to this when another sheet is the price.
const LEAST: i64 = 64;
/// The row at the foot of a sheet with the scale, and one line on what the signs mean.
const FOOT: Length = Length::mm(11);
/// The longest that the scale bar is, and white space at either side of it.
const BAR: Length = Length::mm(60);
const BESIDE_BAR: Length = Length::mm(7);
/// White space between two rows of the map.
const SPACE: Length = Length::mm(4);

/// The bolt maps of all cloths.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut drafts = Vec::new();
    for cloth in 0..plan.cloths.len() {
        drafts.extend(of_cloth(plan, cloth, paper)?);
    }
    Ok(drafts)
}

/// The key of the first sheet of a cloth's map.
pub fn key(cloth: usize) -> String {
    format!("bolt-map-{}", cloth + 1)
}

/// A row of the map, set, with its height.
struct Set {
    height: Length,
    marks: Vec<Mark>,
}

fn of_cloth(plan: &Plan, cloth: usize, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let signs = signs(plan, cloth, free.width())?;
    let foot = FOOT + Style::BODY.leading() * (signs.len() as i64 - 1);
    let area = Rect { y0: free.y0 + document::HEADING, y1: free.y1 - foot, ..free };
    let mut best: Option<(Scale, Vec<Vec<Set>>)> = None;
    for &scale in scale::standard(plan.job.print.format.system) {
        let Some(rows) = row::rows(plan, cloth, scale, area.width()) else { continue };
        let sets =
            rows.iter().map(|row| row.set(plan, scale, area.width())).collect::<Result<Vec<_>, _>>()?;
        if sets.iter().any(|row| row.height > area.height()) {
            continue;
        }
        let used: Length = sets.iter().map(|row| row.height).sum();
        let pages = paged(sets, area.height());
        let few = |scale: Scale, sheets: usize| sheets as i64 <= scale.den / SHEET_STEP;
        let count = pages.len();
        match &best {
            Some((larger, sheets)) if few(*larger, sheets.len()) => {
                if count < sheets.len() && scale.den <= LEAST {
                    best = Some((scale, pages));
                }
                break;
            }
            _ => best = Some((scale, pages)),
        }
        let whole = area.height() * count as i64;
        if few(scale, count) && used >= whole.scale(WELL_FILLED.0, WELL_FILLED.1) {
            break;
        }
    }
    let Some((scale, pages)) = best else { return Ok(Vec::new()) };
    let count = pages.len();
    let sheets = pages.into_iter().enumerate().map(|(i, page)| {
        let part = Part { number: i + 1, count };
        sheet(plan, cloth, paper, part, (scale, &signs), page)
    });
    sheets.collect()
}

/// Rows on as few pages of `height` as can be, and these as evenly filled as whole rows allow.
fn paged(rows: Vec<Set>, height: Length) -> Vec<Vec<Set>> {
    let count = |height: Length| pages_of(&rows, height).len();
    let highest = rows.iter().map(|row| row.height).max().unwrap_or_default();
    let step = Length::mm(1);
    let fewest = count(height);
    let even = (highest.div_ceil(step)..).map(|steps| step * steps).take_while(|&even| even < height);
    let even = even.into_iter().find(|&even| count(even) == fewest).unwrap_or(height);
    let pages = pages_of(&rows, even);
    // A first sheet that holds less than those behind it looks as if something were missing.
    let falls = pages.windows(2).all(|pair| pair[0] >= pair[1]);
    filled(rows, if falls { even } else { height })
}

/// How many rows each page holds, when each is filled up to `height` before the next.
fn pages_of(rows: &[Set], height: Length) -> Vec<usize> {
    let mut pages: Vec<usize> = Vec::new();
    let mut free = Length::ZERO;
    for row in rows {
        let needed = row.height + SPACE;
        match pages.last_mut() {
            Some(page) if needed <= free => *page += 1,
            _ => {
                free = height + SPACE;
                pages.push(1);
            }
        }
        free -= needed;
    }
    pages
}

/// Rows on pages, each page filled before the next.
fn filled(rows: Vec<Set>, height: Length) -> Vec<Vec<Set>> {
    let pages = pages_of(&rows, height);
    let mut rows = rows.into_iter();
    pages.into_iter().map(|count| rows.by_ref().take(count).collect()).collect()
}

fn sheet(
    plan: &Plan,
    cloth: usize,
    paper: Paper,
    part: Part,
    (scale, signs): (Scale, &[String]),
    rows: Vec<Set>,
) -> Result<Draft, ComposeFault> {
    let free = frame::free(paper);
    let name = &plan.job.cloths[cloth].name;
    let title = format!("Bolt map, {name}");
    let mut marks = vec![document::heading(&sets::to_cut_by(plan, &part.of(&title)), paper)?];
    let mut y = free.y0 + document::HEADING;
    for row in rows {
        marks.extend(moved(row.marks, free.x0, y));
        y += row.height + SPACE;
    }
    marks.push(foot(plan, cloth, scale, free, signs)?);
    let first = key(cloth);
    Ok(Draft {
        key: if part.number == 1 { first } else { format!("{first}-{}", part.number) },
        title,
        part,
        under: String::new(),
        description: format!("Every cut of {name} in its place on the bolt, to scale."),
        kind: "Bolt map",
        scale: scale.name.to_owned(),
        also: Vec::new(),
        marks: marks.into(),
    })
}

/// What the signs of a cloth's map mean, in lines of the width that the scale bar leaves.
fn signs(plan: &Plan, index: usize, width: Length) -> Result<Vec<String>, ComposeFault> {
    let cloth = &plan.job.cloths[index];
    let mut signs = "Circled: number of the cut. Under the values: lays. Grey: not used.".to_owned();
    let made = || plan.cloths[index].bolts.iter().flat_map(|bolt| &bolt.made);
    if made().any(|made| made.serves.is_some()) {
        signs += " Hatched, rising: cut already.";
    }
    if made().any(|made| made.serves.is_none()) {
        signs += " Dashed: cut in vain.";
    }
    let flaws = || cloth.on_hand.iter().flat_map(|bolt| &bolt.flaws);
    if flaws().any(|flaw| !cloth.is_cut_over(flaw)) {
        signs += " Crossed box: flaw.";
    }
    if flaws().any(|flaw| cloth.is_cut_over(flaw)) {
        signs += " Open box: flaw that is cut over.";
    }
    if cloth.pattern.is_some() {
        signs += " Kite: centre of a motif, long point to its top.";
        let lines = row::match_lines(cloth);
        let lines: Vec<String> = lines.into_iter().map(|u| words::cloth_length(plan, u)).collect();
        signs += &format!(" Dashed along: match lines, {} from the left edge.", words::list(&lines));
    }
    signs += match plan.way(index) {
        Way::Railroaded => " Pieces lie as they hang.",
        Way::Upright => "",
    };
    signs += match cloth.nap {
        Nap::None => "",
        Nap::Down => " Nap runs right.",
        Nap::Up => " Nap runs left.",
    };
    text::wrap(&signs, width - BAR - BESIDE_BAR * 2, Style::BODY)
}

/// How to read the map, with what its signs mean, and the scale bar.
fn foot(plan: &Plan, cloth: usize, scale: Scale, free: Rect, signs: &[String]) -> Result<Mark, ComposeFault> {
    let measured = plan.job.cloths[cloth].on_hand.iter().any(|bolt| bolt.first_motif.is_some());
    let from = if measured { "start" } else { "first cut" };
    let how = format!(
        "Face up, left edge below; values run from the bolt's {from}, ends between them stand in the cut list. {}",
        scale.name
    );
    let foot = free.y1 - Length::micrometres(600);
    let mut marks = Vec::new();
    for (up, line) in signs.iter().rev().chain([&how]).enumerate() {
        let at = Point::new(free.x0, foot - Style::BODY.leading() * up as i64);
        marks.push(Mark::Text(text::set(line.as_str(), at, Anchor::Start, Style::BODY)?));
    }
    let end = Point::new(free.x1 - BESIDE_BAR, foot);
    marks.extend(scale_bar::marks(scale, plan.job.print.format.system, BAR, end)?);
    Ok(drawing::group(Layer::Sheet, "reading", words::sentence("how to read the map"), marks))
}
