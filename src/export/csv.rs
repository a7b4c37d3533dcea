//! The cut list of a [`Plan`] as a CSV file, in cutting order.
//!
//! RFC 4180 with a byte order mark, without which a spreadsheet takes the signs of feet, inches
//! and fractions for another alphabet. Every length stands twice: as it is printed on the sheets,
//! and exactly, in nanometres. The last column is the line that tells the job file that a piece is cut,
//! with its exact place.

use crate::plan::model::{Cut, Piece, PieceKind, Plan, Purpose, Way};
use crate::units::Length;

use super::ExportFault;

/// The columns, in order.
const HEAD: [&str; 20] = [
    "job",
    "cut",
    "piece",
    "kind",
    "room",
    "wall",
    "cloth",
    "bolt",
    "length",
    "width",
    "from bolt start",
    "from left edge",
    "start past motif",
    "length nm",
    "width nm",
    "from bolt start nm",
    "from left edge nm",
    "start past motif nm",
    "cut already",
    "line for the job file",
];

/// Writes the cut list: cloth by cloth, in the order of cutting.
///
/// # Errors
/// When the plan contradicts itself: a piece of a cloth, room or wall that it does not hold.
pub fn write(plan: &Plan) -> Result<Vec<u8>, ExportFault> {
    let fault = |message: String| ExportFault::of("cut list", message);
    let mut pieces: Vec<&Piece> = plan.pieces.iter().collect();
    pieces.sort_by_key(|piece| (piece.cloth, piece.cut.number));
    let mut file = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    file.write_record(HEAD).map_err(|e| fault(e.to_string()))?;
    for piece in pieces {
        let row = row(plan, piece)
            .ok_or_else(|| fault(format!("piece {} has no place in the job", piece.label)))?;
        file.write_record(row).map_err(|e| fault(e.to_string()))?;
    }
    let rows = file.into_inner().map_err(|e| fault(e.to_string()))?;
    Ok(["\u{feff}".as_bytes(), &rows].concat())
}

fn row(plan: &Plan, piece: &Piece) -> Option<[String; HEAD.len()]> {
    let job = &plan.job;
    let cloth = job.cloths.get(piece.cloth)?;
    let (room, wall) = match piece.purpose {
        Purpose::Wall(at) => {
            let room = job.rooms.get(at.room)?;
            (room.name.as_str(), room.walls.get(at.wall)?.label.as_str())
        }
        Purpose::Sample(_) => ("", ""),
    };
    let way = plan.way(piece.cloth);
    let bolt = plan.cloths.get(piece.cloth)?.bolts.get(piece.cut.bolt)?;
    let cut = &piece.cut;
    let printed = |length: Length| job.print.format.print(length);
    let exact = |length: Length| length.nm().to_string();
    let matched = |text: String| if piece.matched { text } else { String::new() };
    Some([
        plain(&job.facts.number),
        cut.number.to_string(),
        plain(&piece.label),
        kind(piece.kind, way).to_owned(),
        plain(room),
        plain(wall),
        plain(&cloth.name),
        bolt.number(cut.bolt).to_string(),
        printed(cut.length),
        printed(cut.width),
        printed(cut.v),
        printed(cut.u),
        matched(printed(piece.phase)),
        exact(cut.length),
        exact(cut.width),
        exact(cut.v),
        exact(cut.u),
        matched(exact(piece.phase)),
        if cut.made.is_some() { "yes".to_owned() } else { String::new() },
        line(piece),
    ])
}

/// The line of a job file that tells that a piece is cut, with exact measures.
fn line(piece: &Piece) -> String {
    let Cut { u, v, width, length, .. } = piece.cut;
    let [v, u, length, width] = [v, u, length, width].map(millimetres);
    format!(
        "cut \"{}\" from-start=\"{v}\" from-left=\"{u}\" length=\"{length}\" width=\"{width}\"",
        piece.label
    )
}

/// Millimetres to the nanometre, as a job file reads them: "2489.2mm".
fn millimetres(length: Length) -> String {
    let (whole, part) = (length.nm() / 1_000_000, length.nm() % 1_000_000);
    match part {
        0 => format!("{whole}mm"),
        part => format!("{whole}.{}mm", format!("{part:06}").trim_end_matches('0')),
    }
}

const fn kind(kind: PieceKind, way: Way) -> &'static str {
    match kind {
        PieceKind::Drop => "drop",
        PieceKind::PartDrop => "part drop",
        PieceKind::Railroaded => "railroaded piece",
        PieceKind::OpeningPiece => "piece at an opening",
        PieceKind::Sample => "sample",
        PieceKind::UprightStrip | PieceKind::LevelStrip => match (kind, way) {
            (PieceKind::UprightStrip, Way::Upright) | (PieceKind::LevelStrip, Way::Railroaded) => {
                "trim strip up the bolt"
            }
            _ => "trim strip across the bolt",
        },
    }
}

/// Text that no spreadsheet takes for a formula: one that begins like a formula gets an
/// apostrophe before it, which spreadsheets hide.
fn plain(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}
