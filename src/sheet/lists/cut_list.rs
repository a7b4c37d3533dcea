//! The cut list, in cutting order.

use crate::job::model::{Cloth, CutMade};
use crate::plan::model::{Piece, PieceKind, Plan, Purpose, Way};
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::wall_cell;
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{bolt_map, sets, words};
use crate::units::Length;

/// The key of its first sheet.
pub const KEY: &str = "cut-list";

/// The height of a row in which a measure is written.
const FOUND: Length = Length::mm(7);

/// The cut list of all cloths.
pub fn document(plan: &Plan) -> Document {
    let sections = plan.job.cloths.iter().enumerate();
    Document {
        key: KEY.to_owned(),
        title: "Cut list".to_owned(),
        heading: sets::to_cut_by(plan, "Cut list"),
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
        ("Lay ends at", Kind::Figures),
        ("Length", Kind::Figures),
        ("Width", Kind::Figures),
        ("From bolt start", Kind::Figures),
        ("From left edge", Kind::Figures),
    ];
    if cloth.pattern.is_some() {
        columns.extend(words::motif_heads(plan.way(index)).map(|head| (head, Kind::Figures)));
    }
    let mut table = Table::new(&columns);
    let bolts = plan.cloths.get(index).map_or(0, |cloth| cloth.bolts.len());
    let (mut bolt, mut across) = (None, None);
    for &piece in &pieces {
        if bolts > 1 && bolt != Some(piece.cut.bolt) {
            bolt = Some(piece.cut.bolt);
            table.group(words::bolt(plan, index, piece.cut.bolt));
        }
        // The scissors go across once, before the first piece of a lay is cut.
        let here = (piece.cut.bolt, piece.cut.lay);
        let lay = plan.cloths[index].bolts.get(here.0).and_then(|bolt| bolt.lays.get(here.1));
        let end = lay
            .filter(|_| across != Some(here))
            .map_or(String::new(), |lay| words::cloth_length(plan, lay.v1));
        across = Some(here);
        let mut row = vec![
            Cell::strong(piece.cut.number.to_string()).to(bolt_map::key(index)),
            Cell::new(if piece.cut.made.is_some() { "cut" } else { "" }),
            Cell::strong(&piece.label),
            Cell::new(kind(plan, piece)),
            for_what(plan, piece),
            Cell::new((piece.cut.lay + 1).to_string()),
            Cell::new(end),
            Cell::new(words::cloth_length(plan, piece.cut.length)),
            Cell::new(words::cloth_length(plan, piece.cut.width)),
            Cell::new(words::cloth_length(plan, piece.cut.v)),
            Cell::new(words::cloth_length(plan, piece.cut.u)),
        ];
        if cloth.pattern.is_some() {
            row.extend(words::motif_cells(plan, piece).map(Cell::new));
        }
        table.row(row);
    }
    let mut section = Section::new(words::capital(&cloth.name));
    if !table.rows.is_empty() {
        section.paragraph(how_to_read(cloth, plan.way(index), &pieces));
        section.table(to_prove(plan, cloth));
    }
    section.table(table);
    section.paragraph_if(given_back(plan, index));
    section
}

/// The strips for trim that are not on this list, because they are cut from what openings give back.
fn given_back(plan: &Plan, cloth: usize) -> Option<String> {
    let rooms = plan.job.rooms.iter().zip(&plan.rooms).filter(|(room, _)| room.cloth == cloth);
    let runs = rooms.flat_map(|(_, planned)| &planned.trim);
    let labels: Vec<&str> =
        runs.flat_map(|run| &run.cut_out_strips).map(|strip| strip.label.as_str()).collect();
    (!labels.is_empty()).then(|| {
        format!(
            "Not cut from the bolt: {}, which the crew cuts and sews on site from cut-outs, when the openings have been cut \
             free. The trim schedule tells their places.",
            words::list(&labels)
        )
    })
}

/// Heads of what a bolt is measured by when it comes.
const EDGE_TO_EDGE: &str = "Edge to edge";
const REPEAT_ACROSS: &str = "Repeat across";
const REPEAT_ALONG: &str = "Repeat along";

/// What the cloth must measure before it is cut, with space to write what it does.
fn to_prove(plan: &Plan, cloth: &Cloth) -> Table {
    let mut measures = vec![(EDGE_TO_EDGE, cloth.width)];
    if let Some(lattice) = &cloth.pattern {
        measures.extend([
            ("Left edge to match line", cloth.left_match),
            ("Match line to match line", cloth.match_width),
            ("Left edge to first motifs", cloth.left_match + lattice.horizontal / 2),
            (REPEAT_ACROSS, lattice.horizontal),
            (REPEAT_ALONG, lattice.vertical),
        ]);
        if lattice.drop > Length::ZERO {
            measures.push(("Fall to next column", lattice.drop));
        }
    }
    let heads = measures.iter().map(|(what, _)| (*what, Kind::Amounts));
    let columns: Vec<(&'static str, Kind)> =
        std::iter::once(("Measure before the first cut", Kind::Words)).chain(heads).collect();
    let mut table = Table::new(&columns);
    table.row_height = FOUND;
    let planned = measures.iter().map(|(_, length)| Cell::new(words::cloth_length(plan, *length)));
    table.row(std::iter::once(Cell::strong("Planned")).chain(planned).collect());
    // Bolts differ: each is measured by itself, and what was found when it came stands beside it.
    let bolts = if cloth.on_hand.len() > 1 { &cloth.on_hand[..] } else { &[] };
    for (at, bolt) in bolts.iter().enumerate() {
        let measured = bolt.measured;
        let came = measures.iter().map(|(what, _)| match *what {
            EDGE_TO_EDGE => measured.width,
            REPEAT_ACROSS => measured.horizontal,
            REPEAT_ALONG => measured.vertical,
            _ => None,
        });
        let came =
            came.map(|length| Cell::new(length.map_or(String::new(), |l| words::cloth_length(plan, l))));
        let head = |what: &str| Cell::strong(format!("{what}, bolt {}", at + 1));
        table.row(std::iter::once(head("As it came")).chain(came).collect());
        table.row(std::iter::once(head("Found")).chain(measures.iter().map(|_| Cell::new(""))).collect());
    }
    if bolts.is_empty() {
        let blank = measures.iter().map(|_| Cell::new(""));
        table.row(std::iter::once(Cell::strong("Found")).chain(blank).collect());
    }
    table
}

/// The wall of a piece, or whom a sample is for.
fn for_what(plan: &Plan, piece: &Piece) -> Cell {
    match piece.purpose {
        Purpose::Wall(wall) => wall_cell(plan, wall),
        Purpose::Sample(at) => {
            let purpose = &plan.job.cloths[piece.cloth].samples[at].purpose;
            Cell::new(if purpose.is_empty() { String::new() } else { format!("for {purpose}") })
        }
    }
}

/// What kind of piece, whether it is cut already, and out of which cut made in vain it comes.
fn kind(plan: &Plan, piece: &Piece) -> String {
    let kind = words::piece_kind(piece.kind);
    if piece.cut.made.is_some() {
        return format!("{kind}, cut already");
    }
    let Some(loose) = out_of(plan, piece) else { return kind.to_owned() };
    let size = |length| words::cloth_length(plan, length);
    format!(
        "{kind}, out of {} cut in vain: {} below its top, {} from its left edge",
        loose.label,
        size(piece.cut.v - loose.v),
        size(piece.cut.u - loose.u)
    )
}

/// The cut made in vain that a piece is cut out of, which lies loose: its place on the bolt is of no help then.
fn out_of<'a>(plan: &'a Plan, piece: &Piece) -> Option<&'a CutMade> {
    let cut = &piece.cut;
    let bolt = plan.cloths[piece.cloth].bolts.get(cut.bolt)?;
    let there = plan.job.cloths[piece.cloth].on_hand.get(bolt.on_hand?)?;
    let loose =
        there.cuts.iter().zip(&bolt.made).filter(|(_, made)| made.serves.is_none()).map(|(cut, _)| cut);
    let mut holds = loose.filter(|loose| {
        loose.v <= cut.v
            && cut.v + cut.length <= loose.v + loose.length
            && loose.u <= cut.u
            && cut.u + cut.width <= loose.u + loose.width
    });
    holds.next()
}

/// How the cutter finds the place of a cut.
fn how_to_read(cloth: &Cloth, way: Way, pieces: &[&Piece]) -> String {
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
        let from = match way {
            Way::Upright => "down from its top and in from its left edge",
            Way::Railroaded => "along from its left end and up from its lower edge",
        };
        how += &format!(
            " Of each cut the place of the first motif centre on it is told, {from}.{} Where the motif and the distance from \
             the bolt's start do not agree, stop and measure the repeats again; then cut by the motif.",
            words::motif_signs(way, pieces)
        );
    }
    if let Some(way) = words::way_up(cloth, way) {
        how += &format!(" All pieces hang {way}: turn none end for end.");
    }
    let sample = |piece: &&&Piece| piece.kind == PieceKind::Sample && piece.cut.made.is_none();
    let last = pieces.iter().filter(sample).map(|piece| piece.cut.lay).max();
    // Of several bolts each has a first lay, and the list tells which lay is on which.
    if let Some(last) = last.filter(|_| pieces.iter().all(|piece| piece.cut.bolt == pieces[0].cut.bolt)) {
        how += &format!(
            " To have the samples before the walls are cut: cut across at the ends of the lays up to lay {}, put those \
             without samples aside as they are, and cut the samples out of the others.",
            last + 1
        );
    }
    how
}
