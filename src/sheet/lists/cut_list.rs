//! The cut list, in cutting order.

use crate::job::model::Cloth;
use crate::plan::model::{Piece, Plan, Way};
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::wall_cell;
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{bolt_map, words};

/// The key of its first sheet.
pub const KEY: &str = "cut-list";

/// The cut list of all cloths.
pub fn document(plan: &Plan) -> Document {
    let sections = plan.job.cloths.iter().enumerate();
    Document {
        key: KEY.to_owned(),
        title: "Cut list".to_owned(),
        heading: "Cut list".to_owned(),
        under: String::new(),
        description: "Every cut of every cloth, in the order of cutting, with its place on the bolt."
            .to_owned(),
        kind: "Cut list",
        scale: String::new(),
        sections: sections.map(|(i, cloth)| section(plan, i, cloth)).collect(),
    }
}

fn section(plan: &Plan, index: usize, cloth: &Cloth) -> Section {
    let mut pieces: Vec<&Piece> = plan.pieces.iter().filter(|piece| piece.cloth == index).collect();
    pieces.sort_by_key(|piece| piece.cut.number);
    let mut columns = vec![
        ("No.", Kind::Figures),
        ("Cut", Kind::Tick),
        ("Piece", Kind::Words),
        ("Kind", Kind::Words),
        ("Wall", Kind::Words),
        ("Lay", Kind::Figures),
        ("Length", Kind::Figures),
        ("Width", Kind::Figures),
        ("From bolt start", Kind::Figures),
        ("From left edge", Kind::Figures),
    ];
    if cloth.pattern.is_some() {
        columns.push((words::phase_head(plan.way(index)), Kind::Figures));
    }
    let mut table = Table::new(&columns);
    let bolts = plan.cloths.get(index).map_or(0, |cloth| cloth.bolts.len());
    let mut bolt = None;
    for piece in pieces {
        if bolts > 1 && bolt != Some(piece.cut.bolt) {
            bolt = Some(piece.cut.bolt);
            table.group(words::bolt(plan, index, piece.cut.bolt));
        }
        let mut row = vec![
            Cell::strong(piece.cut.number.to_string()).to(bolt_map::key(index)),
            Cell::new(if piece.cut.made.is_some() { "cut" } else { "" }),
            Cell::strong(&piece.label),
            Cell::new(kind(piece)),
            wall_cell(plan, piece.wall),
            Cell::new((piece.cut.lay + 1).to_string()),
            Cell::new(words::cloth_length(plan, piece.cut.length)),
            Cell::new(words::cloth_length(plan, piece.cut.width)),
            Cell::new(words::cloth_length(plan, piece.cut.v)),
            Cell::new(words::cloth_length(plan, piece.cut.u)),
        ];
        if cloth.pattern.is_some() {
            row.push(Cell::new(words::below_motif(plan, piece)));
        }
        table.row(row);
    }
    let mut section = Section::new(words::capital(&cloth.name));
    if !table.rows.is_empty() {
        section.paragraph(how_to_read(cloth, plan.way(index)));
    }
    section.table(table);
    section
}

/// What kind of piece, and whether it is cut already.
fn kind(piece: &Piece) -> String {
    let made = if piece.cut.made.is_some() { ", cut already" } else { "" };
    format!("{}{made}", words::piece_kind(piece.kind))
}

/// How the cutter finds the place of a cut.
fn how_to_read(cloth: &Cloth, way: Way) -> String {
    let lies = match way {
        Way::Upright if cloth.pattern.is_some() => "Face up, the top of the pattern at the bolt's first cut.",
        Way::Upright => "Face up.",
        Way::Railroaded => {
            "Railroaded. Face up, the left edge at the foot of the walls and the bolt's first cut at their left ends."
        }
    };
    let mut how =
        format!("{lies} Cut across the full width at the end of each lay, then cut its pieces lengthwise.");
    if !cloth.on_hand.is_empty() {
        how += " Cut from the bolts on hand, each lot by itself.";
    }
    if cloth.shrinkage.any() {
        how += &format!(" All measures are of relaxed cloth, which has lost {}.", cloth.shrinkage.words());
    }
    if cloth.pattern.is_some() {
        let end = match way {
            Way::Upright => "The top of each cut is measured down the cloth",
            Way::Railroaded => "The left end of each cut is measured along the cloth",
        };
        how += &format!(" {end} from the centre of a motif in the column next to the left match line.");
    }
    match words::way_up(cloth, way) {
        Some(way) => format!("{how} All pieces hang {way}: turn none end for end."),
        None => how,
    }
}
