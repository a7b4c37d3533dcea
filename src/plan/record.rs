//! What was really done, set against the plan: judged, told, and put in its true place for a record set.
//!
//! The plan itself stays as planned, as the cloth was cut by it. A stage of its own, after
//! [`super::make`].

use super::model::{BuiltEntry, Panel, Piece, Plan, Seam, WallRef};
use super::words;
use crate::diag::Diag;
use crate::geom::Point;
use crate::job::Places;
use crate::job::model::{BuiltPiece, BuiltSeam, Wall};
use crate::units::Length;

/// Entries that the plan contradicts: seams and pieces that it does not have, seams off their wall or past
/// the seams beside them.
pub fn faults(plan: &Plan, places: &Places) -> Vec<Diag> {
    let Some(built) = &plan.job.as_built else { return Vec::new() };
    let seams = built.seams.iter().enumerate();
    let seams = seams.filter_map(|(n, entry)| {
        let fault = seam_fault(plan, entry)?;
        Some(Diag::error(fault.code, places.built_seam(n), fault.message).help(fault.help))
    });
    let pieces = built.pieces.iter().enumerate();
    let pieces = pieces.filter_map(|(n, entry)| {
        let fault = piece_fault(plan, entry)?;
        Some(Diag::error(fault.code, places.built_piece(n), fault.message).help(fault.help))
    });
    seams.chain(pieces).collect()
}

struct Fault {
    code: &'static str,
    message: String,
    help: String,
}

fn seam_fault(plan: &Plan, entry: &BuiltSeam) -> Option<Fault> {
    let Some((at, index)) = find_seam(plan, &entry.label) else {
        let message = format!("the plan has no seam {}", entry.label);
        let help = match labels_of(plan, &entry.label) {
            known if known.is_empty() => "write its label as on the elevation".to_owned(),
            known => format!("it has {}", words::list(&known)),
        };
        return Some(Fault { code: "unknown-seam", message, help });
    };
    let width = plan.job.rooms[at.room].walls[at.wall].width;
    let print = |length: Length| words::print(&plan.job, length);
    if entry.x <= Length::ZERO || entry.x >= width {
        let message = format!(
            "seam {} cannot stand {} along a wall {} wide",
            entry.label,
            print(entry.x),
            print(width)
        );
        return Some(Fault {
            code: "seam-off-wall",
            message,
            help: "tape it again, from the wall's left end".into(),
        });
    }
    // The seams beside it, each where it really stands.
    let panel = plan.rooms[at.room].walls[at.wall].panel.as_ref()?;
    let planned = panel.seams[index].x;
    let beside = panel.seams.iter().enumerate().filter(|(other, seam)| *other != index && seam.x != planned);
    let crossed = beside
        .map(|(_, seam)| (seam, true_x(plan, seam)))
        .find(|(seam, x)| (seam.x < planned && *x >= entry.x) || (seam.x > planned && *x <= entry.x));
    crossed.map(|(seam, x)| Fault {
        code: "seam-past-another",
        message: format!(
            "seam {} at {} lies past seam {} at {}",
            entry.label,
            print(entry.x),
            seam.label,
            print(x)
        ),
        help: "tape both again, from the wall's left end".into(),
    })
}

fn piece_fault(plan: &Plan, entry: &BuiltPiece) -> Option<Fault> {
    find_piece(plan, &entry.label).is_none().then(|| Fault {
        code: "unknown-piece",
        message: format!("the plan has no piece {}", entry.label),
        help: "write its label as on the cut list".into(),
    })
}

fn panels(plan: &Plan) -> impl Iterator<Item = (WallRef, &Panel)> {
    plan.rooms.iter().enumerate().flat_map(|(room, planned)| {
        let walls = planned.walls.iter().enumerate();
        walls.filter_map(move |(wall, planned)| Some((WallRef { room, wall }, planned.panel.as_ref()?)))
    })
}

fn find_seam(plan: &Plan, label: &str) -> Option<(WallRef, usize)> {
    panels(plan).find_map(|(at, panel)| Some((at, panel.seams.iter().position(|seam| seam.label == label)?)))
}

/// The seams of the wall whose label starts as this one does; all seams where none does.
fn labels_of(plan: &Plan, label: &str) -> Vec<String> {
    let start: String = label.chars().take_while(|c| !c.is_alphabetic()).collect();
    let all = panels(plan).flat_map(|(_, panel)| panel.seams.iter().map(|seam| seam.label.clone()));
    all.filter(|other| !start.is_empty() && other.starts_with(&start)).collect()
}

fn find_piece<'a>(plan: &'a Plan, label: &str) -> Option<&'a Piece> {
    plan.pieces.iter().find(|piece| piece.label == label && piece.wall().is_some())
}

fn entry_of<'a>(plan: &'a Plan, seam: &Seam) -> Option<&'a BuiltSeam> {
    plan.job.as_built.as_ref()?.seams.iter().find(|entry| entry.label == seam.label)
}

/// Where a seam really stands.
fn true_x(plan: &Plan, seam: &Seam) -> Length {
    entry_of(plan, seam).map_or(seam.x, |entry| entry.x)
}

/// The plan with its seams where they really stand, for drawing a record. Strips end at those; what was
/// cut is as planned.
pub fn recorded(plan: &Plan) -> Plan {
    let mut record = plan.clone();
    // A record shows what is there, and not what an issue before it was.
    record.change = None;
    if let Some(built) = plan.job.as_built.as_ref().filter(|built| !built.date.is_empty()) {
        record.job.facts.date = built.date.clone();
    }
    for (at, panel) in panels(plan) {
        let Some(drawn) = &mut record.rooms[at.room].walls[at.wall].panel else { continue };
        let wall = &plan.job.rooms[at.room].walls[at.wall];
        for (seam, drawn_seam) in panel.seams.iter().zip(&mut drawn.seams) {
            let x = true_x(plan, seam);
            if x == seam.x {
                continue;
            }
            drawn_seam.x = x;
            drawn_seam.clearance = clearance(wall, x);
            for (strip, drawn_strip) in panel.strips.iter().zip(&mut drawn.strips) {
                if strip.net.x0 == seam.x {
                    drawn_strip.net.x0 = x;
                }
                if strip.net.x1 == seam.x {
                    drawn_strip.net.x1 = x;
                }
            }
        }
    }
    record
}

/// From a place along a wall to the nearest corner or casing.
fn clearance(wall: &Wall, x: Length) -> Length {
    let edges = wall.openings.iter().flat_map(|opening| [opening.outer.x0, opening.outer.x1]);
    let edges = edges.chain([Length::ZERO, wall.width]);
    edges.map(|edge| (edge - x).abs()).min().unwrap_or(Length::ZERO)
}

/// The entries of a plan's job, wall by wall; entries that the plan contradicts are left out.
pub fn entries(plan: &Plan) -> Vec<BuiltEntry> {
    let Some(built) = &plan.job.as_built else { return Vec::new() };
    let mut told: Vec<BuiltEntry> = Vec::new();
    told.extend(built.seams.iter().filter_map(|entry| seam_entry(plan, entry)));
    told.extend(built.pieces.iter().filter_map(|entry| piece_entry(plan, entry)));
    told.extend(built.notes.iter().map(|note| BuiltEntry {
        wall: WallRef { room: note.room, wall: note.wall },
        what: "Note".to_owned(),
        planned: String::new(),
        built: note.text.clone(),
        why: String::new(),
        at: note.at,
    }));
    told.sort_by_key(|entry| entry.wall);
    told
}

fn seam_entry(plan: &Plan, entry: &BuiltSeam) -> Option<BuiltEntry> {
    let (wall, index) = find_seam(plan, &entry.label)?;
    let seam = &plan.rooms[wall.room].walls[wall.wall].panel.as_ref()?.seams[index];
    let print = |length: Length| words::print(&plan.job, length);
    let (low, high) = seam.in_sight.last().copied().unwrap_or((seam.y0, seam.y1));
    let by = entry.x - seam.x;
    let moved = match by {
        Length::ZERO => "as planned".to_owned(),
        by if by > Length::ZERO => format!("{}, {} to the right", print(entry.x), print(by)),
        by => format!("{}, {} to the left", print(entry.x), print(by.abs())),
    };
    Some(BuiltEntry {
        wall,
        what: format!("Seam {}", entry.label),
        planned: print(seam.x),
        built: moved,
        why: entry.why.clone(),
        at: Some(Point::new(entry.x, (low + high) / 2)),
    })
}

fn piece_entry(plan: &Plan, entry: &BuiltPiece) -> Option<BuiltEntry> {
    let piece = find_piece(plan, &entry.label)?;
    let cloth = &plan.job.cloths[piece.cloth];
    let lot = plan.cloths[piece.cloth].bolts.get(piece.cut.bolt).and_then(|bolt| bolt.lot(cloth));
    let planned = lot.map_or("cut once".to_owned(), |lot| format!("dye lot {lot}"));
    let mut parts = Vec::new();
    if entry.recut {
        parts.push("cut again".to_owned());
    }
    if !entry.lot.is_empty() {
        parts.push(format!("dye lot {}", entry.lot));
    }
    let wall = piece.wall()?;
    let wall_x = plan.rooms[wall.room].walls[wall.wall].x;
    let middle = (piece.net.x0 + piece.net.x1) / 2 - wall_x;
    Some(BuiltEntry {
        wall,
        what: format!("Piece {}", entry.label),
        planned,
        built: parts.join(", "),
        why: entry.why.clone(),
        at: Some(Point::new(middle, (piece.net.y0 + piece.net.y1) / 2)),
    })
}
