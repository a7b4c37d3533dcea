//! The sewing sheets: each panel from the face and from the back, its strips, its seams in the
//! order of sewing, and what becomes of its edges.

mod seams;
mod view;

use super::document::{self, Block, Document, Figure, Section};
use super::frame;
use super::mark::moved;
use super::scale::{self, Scale};
use super::table::{Cell, Kind, Row, Table};
use super::{ComposeFault, words};
use crate::job::model::Paper;
use crate::plan::model::{Panel, PanelEdge, Plan, WallRef, Way};
use crate::units::{Length, UnitSystem};

/// The sewing sheets of all panels, those of one piece last, each at the largest standard scale at which it leaves room for
/// its words.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn document(plan: &Plan, paper: Paper) -> Result<Document, ComposeFault> {
    let mut sections = Vec::new();
    let mut scales: Vec<&str> = Vec::new();
    // What is to be sewn first; panels of one piece, which are small on paper, share sheets behind it.
    let mut all: Vec<(WallRef, &Panel)> = panels(plan).collect();
    all.sort_by_key(|(_, panel)| panel.strips.len() <= 1);
    for (at, panel) in all {
        let (scale, whole, figure) = drawn(plan, at, panel, paper)?;
        scales.push(scale.name);
        sections.push(section(plan, at, panel, paper, (scale, whole), figure)?.0);
    }
    scales.dedup();
    let scale = if let [one] = scales.as_slice() { one } else { "as noted" };
    Ok(Document {
        key: "sewing".to_owned(),
        title: "Sewing".to_owned(),
        heading: "Sewing".to_owned(),
        under: String::new(),
        description: "Every panel from the face and from the back, with its strips, seams and edges."
            .to_owned(),
        kind: "Sewing sheet",
        scale: scale.to_owned(),
        sections,
    })
}

/// All panels with their walls, in the order of the job.
fn panels(plan: &Plan) -> impl Iterator<Item = (WallRef, &Panel)> {
    plan.rooms.iter().enumerate().flat_map(|(room, planned)| {
        let walls = planned.walls.iter().enumerate();
        walls.filter_map(move |(wall, planned)| Some((WallRef { room, wall }, planned.panel.as_ref()?)))
    })
}

/// A panel at the largest standard scale at which its two views leave room for their words: in half the width
/// of a sheet where that is no smaller than [`least_half`], else in all of it.
/// And whether all that is told of it stands on one sheet with it.
fn drawn(
    plan: &Plan,
    at: WallRef,
    panel: &Panel,
    paper: Paper,
) -> Result<(Scale, bool, Figure), ComposeFault> {
    let free = frame::free(paper);
    let system = plan.job.print.format.system;
    let largest = |width, all: bool| {
        scale::largest(system, |scale| {
            let figure = view::figure(plan, at, panel, scale, width)?;
            let (across, high) = (figure.width, figure.height);
            if !all || across > width {
                return Ok(across <= width && high * 2 <= free.height());
            }
            let (section, column) = section(plan, at, panel, paper, (scale, true), figure)?;
            let whole = document::section_height(&section, column);
            Ok::<_, ComposeFault>(whole.is_ok_and(|whole| whole <= free.height() - document::HEADING))
        })
    };
    let half = document::column_width(free.width(), 2);
    for all in [true, false] {
        let (in_half, in_full) = (largest(half, all)?, largest(free.width(), all)?);
        let (scale, width) =
            if in_half.den <= least_half(system) { (in_half, half) } else { (in_full, free.width()) };
        // A long list of strips would leave no room for its panel: then it goes on behind it.
        if !all || scale.den <= least_whole(system) {
            return Ok((scale, all, view::figure(plan, at, panel, scale, width)?));
        }
    }
    let smallest = largest(free.width(), false)?;
    Ok((smallest, false, view::figure(plan, at, panel, smallest, free.width())?))
}

/// The smallest scale at which a panel is drawn so that all that is told of it stands on one sheet.
const fn least_whole(system: UnitSystem) -> i64 {
    match system {
        UnitSystem::FeetInches | UnitSystem::Inches => 96,
        UnitSystem::Millimetres => 100,
    }
}

/// The smallest scale at which a panel is drawn in half the width of a sheet.
const fn least_half(system: UnitSystem) -> i64 {
    match system {
        UnitSystem::FeetInches | UnitSystem::Inches => 48,
        UnitSystem::Millimetres => 50,
    }
}

/// All that is told of a panel, and the width of the column that it is set in. Where it takes the whole width of a
/// sheet and its drawing does not, the sentences stand beside the drawing.
fn section(
    plan: &Plan,
    at: WallRef,
    panel: &Panel,
    paper: Paper,
    (scale, whole): (Scale, bool),
    mut figure: Figure,
) -> Result<(Section, Length), ComposeFault> {
    let mut section = Section::new(format!("Panel of {}", words::named_wall(plan, at)));
    section.whole = true;
    section.most_columns = Some(2);
    let mut table = strips(plan, at, panel);
    if !whole {
        // On the sheet where it goes on, nothing else tells which panel it is of.
        table.rows.insert(0, Row::Group(format!("{}, strips", words::capital(&words::named_wall(plan, at)))));
    }
    section.table(table);
    let free = frame::free(paper).width();
    let columns = document::column_count(&section, free)?;
    let sentences = sentences(plan, at, panel, scale);
    let left = figure.width + BESIDE;
    if columns == 1 && free - left >= LEAST_BESIDE {
        let (marks, height) = document::paragraphs(&sentences, free - left)?;
        figure.marks.extend(moved(marks, left, Length::ZERO));
        figure.height = figure.height.max(height);
        section.blocks.insert(0, Block::Figure(figure));
    } else {
        // Before the strips: a long list of them goes on elsewhere, and what is to be done stays with the drawing.
        let before = sentences.into_iter().map(Block::Paragraph);
        section.blocks.splice(0..0, std::iter::once(Block::Figure(figure)).chain(before));
    }
    let columns = document::column_count(&section, free)?;
    Ok((section, document::column_width(free, columns)))
}

/// What is told of a panel in words.
fn sentences(plan: &Plan, at: WallRef, panel: &Panel, scale: Scale) -> Vec<String> {
    let cloth = plan.job.rooms[at.room].cloth;
    let way = plan.way(cloth);
    let mut sentences = vec![format!("{} Drawn at {}.", edges(plan, at, panel), scale.name)];
    sentences.push(seams::words(plan, way, panel));
    // Sums are not forced to close: a strip's own measures and its allowances are what is cut and sewn by.
    sentences.extend((panel.strips.len() > 1).then(|| {
        let step = words::cloth_length(plan, plan.job.print.format.step);
        format!("Each measure is rounded by itself, to {step}: sums may be out by as much.")
    }));
    sentences.extend(words::way_up(&plan.job.cloths[cloth], way).map(|way| format!("All pieces {way}.")));
    if plan.job.cloths[cloth].pattern.is_some() {
        let pieces = panel.strips.iter().filter_map(|strip| plan.pieces.get(strip.piece.0));
        let signs = words::motif_signs(way, &pieces.collect::<Vec<_>>());
        sentences.extend((!signs.is_empty()).then(|| signs.trim_start().to_owned()));
    }
    sentences
}

/// The size of the sewn panel and what becomes of its four edges.
fn edges(plan: &Plan, at: WallRef, panel: &Panel) -> String {
    let room = &plan.job.rooms[at.room];
    let house = &plan.job.house;
    let cloth = &plan.job.cloths[room.cloth];
    let of = if plan.job.cloths.len() > 1 { format!(", of {}", cloth.name) } else { String::new() };
    let kites = if cloth.pattern.is_some() { " Kites: centres of motifs." } else { "" };
    let size = |length| words::length(plan, length);
    let corner = |index: usize| room.corners.get(index).map_or("", |corner| corner.name.as_str());
    let edge = |side: &str, corner: &str, edge: PanelEdge| {
        let finish = words::edge_finish(edge.finish, corner);
        format!("{side}: {finish}, {} beyond the wall.", size(edge.allowance))
    };
    format!(
        "Sewn {} wide and {} high{of}. {} {} Top: {} beyond the field. Bottom: {}. Dashed: the edge of the field. \
         Arrowheads: tops of strips.{kites}",
        size(panel.gross.width()),
        size(panel.gross.height()),
        edge("Left", corner(at.wall), panel.left),
        edge("Right", corner(room.right_corner(at.wall)), panel.right),
        size(house.top_allowance),
        size(house.bottom_allowance),
    )
}

/// The strips of a panel, left to right from the face.
fn strips(plan: &Plan, at: WallRef, panel: &Panel) -> Table {
    let patterned = plan.job.cloths[plan.job.rooms[at.room].cloth].pattern.is_some();
    let mut columns = vec![
        ("Strip", Kind::Words),
        ("Cut", Kind::Figures),
        ("Length", Kind::Figures),
        ("Width", Kind::Figures),
        ("Shows", Kind::Figures),
    ];
    let way = plan.rooms[at.room].registration.way;
    if panel.strips.len() > 1 {
        let [before, after] = match way {
            Way::Upright => ["Beyond left", "Beyond right"],
            Way::Railroaded => ["Beyond foot", "Beyond head"],
        };
        columns.extend([(before, Kind::Figures), (after, Kind::Figures)]);
        columns.extend([("Top", Kind::Words), ("Foot", Kind::Words)]);
    }
    if patterned {
        columns.extend(words::motif_heads(way).map(|head| (head, Kind::Figures)));
    }
    let mut table = Table::new(&columns);
    for strip in &panel.strips {
        let Some(piece) = plan.pieces.get(strip.piece.0) else { continue };
        let mut row = vec![
            Cell::strong(&strip.label),
            Cell::new(piece.cut.number.to_string()),
            Cell::new(words::cloth_length(plan, piece.cut.length)),
            Cell::new(words::cloth_length(plan, piece.cut.width)),
            Cell::new(words::cloth_length(plan, strip.net.width())),
        ];
        if panel.strips.len() > 1 {
            let beyond = match way {
                Way::Upright => [piece.net.x0 - piece.gross.x0, piece.gross.x1 - piece.net.x1],
                Way::Railroaded => [piece.net.y0 - piece.gross.y0, piece.gross.y1 - piece.net.y1],
            };
            row.extend(beyond.map(|length| Cell::new(words::cloth_length(plan, length))));
            row.extend(seams::against_the_left(plan, panel, strip).map(Cell::new));
        }
        if patterned {
            row.extend(words::motif_cells(plan, piece).map(Cell::new));
        }
        table.row(row);
    }
    table
}

/// White space between a drawing and the sentences beside it.
const BESIDE: Length = Length::mm(10);
/// Sentences are not set beside a drawing in less width.
const LEAST_BESIDE: Length = Length::mm(72);
/// The height that a figure keeps for the words over and under a view.
const CAPTION: Length = Length::mm(6);
