//! The sewing sheets: each panel from the face and from the back, its strips, its seams in the
//! order of sewing, and what becomes of its edges.

mod view;

use super::document::{self, Document, Figure, Section};
use super::frame;
use super::scale::{self, Scale};
use super::table::{Cell, Kind, Row, Table};
use super::{ComposeFault, words};
use crate::job::model::Paper;
use crate::plan::model::{Panel, PanelEdge, Plan, WallRef, Way};
use crate::units::{Length, UnitSystem};

/// The sewing sheets of all panels, each at the largest standard scale at which it leaves room for
/// its words.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn document(plan: &Plan, paper: Paper) -> Result<Document, ComposeFault> {
    let mut sections = Vec::new();
    let mut scales: Vec<&str> = Vec::new();
    for (at, panel) in panels(plan) {
        let (scale, whole, figure) = drawn(plan, at, panel, paper)?;
        scales.push(scale.name);
        sections.push(section(plan, at, panel, (scale, whole), figure));
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
            let section = section(plan, at, panel, (scale, true), figure);
            let whole = document::section_height(&section, width);
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

fn section(
    plan: &Plan,
    at: WallRef,
    panel: &Panel,
    (scale, whole): (Scale, bool),
    figure: Figure,
) -> Section {
    let mut section = Section::new(format!("Panel of wall {}", words::wall(plan, at)));
    section.whole = true;
    section.most_columns = Some(2);
    section.figure(figure);
    section.paragraph(format!("{} Drawn at {}.", edges(plan, at, panel), scale.name));
    let mut table = strips(plan, at, panel);
    if !whole {
        // On the sheet where it goes on, nothing else tells which panel it is of.
        table.rows.insert(0, Row::Group(format!("Wall {}, strips", words::wall(plan, at))));
    }
    section.table(table);
    let cloth = plan.job.rooms[at.room].cloth;
    section.paragraph(seams(plan, plan.way(cloth), panel));
    if let Some(way) = words::way_up(&plan.job.cloths[cloth], plan.way(cloth)) {
        section.paragraph(format!("All pieces {way}."));
    }
    section
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
        let finish = words::edge_finish(edge.finish);
        format!("{side}, corner {corner}: {finish}, {} beyond the wall.", size(edge.allowance))
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
        }
        if patterned {
            row.extend(words::motif_cells(plan, piece).map(Cell::new));
        }
        table.row(row);
    }
    table
}

/// The seams in the order of sewing; empty for a panel of one piece.
fn seams(plan: &Plan, way: Way, panel: &Panel) -> String {
    let labels = panel.joints();
    let allowance = words::cloth_length(plan, plan.job.house.seam_allowance);
    // A whole width has more cloth beyond them than the allowance.
    let cloth =
        panel.strips.first().and_then(|strip| plan.pieces.get(strip.piece.0)).map(|piece| piece.cloth);
    let patterned = cloth.is_some_and(|cloth| plan.job.cloths[cloth].pattern.is_some());
    let lines = if patterned { "match lines" } else { "seam lines" };
    match labels.len() {
        0 => match way {
            Way::Upright => "One piece: nothing to sew. Mark its top on the back.".to_owned(),
            Way::Railroaded => "One piece, railroaded: nothing to sew. Mark its top, the right edge of the \
                                cloth, on the back."
                .to_owned(),
        },
        1 => format!(
            "Mark the top of each strip on the back. Sew {} on the {lines}, trimmed to {allowance} beyond them; press open.",
            labels[0]
        ),
        _ => format!(
            "Mark the top of each strip on the back. Sew on the {lines}, trimmed to {allowance} beyond them, in this order, and press open: {}.",
            labels.join(", ")
        ),
    }
}

/// The height that a figure keeps for the words over and under a view.
const CAPTION: Length = Length::mm(6);
