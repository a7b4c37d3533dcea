//! What was really done, as far as a job can judge it without its plan.

use super::ctx::Ctx;
use super::facts::short;
use super::model::{AsBuilt, BuiltNote, BuiltPiece, BuiltSeam, Room};
use super::places::BuiltPlaces;
use super::rooms::unknown;
use crate::diag::Diag;
use crate::geom::Point;
use crate::parse::{Given, Node, ParsedJob};
use crate::source::Spanned;
use crate::units::Length;

/// The longest text of an entry.
const LONGEST: usize = 120;

/// The entries with their places; `None` when the file has none. `rooms` are all sound.
pub fn as_built(ctx: &mut Ctx, parsed: &ParsedJob, rooms: &[Room]) -> (Option<AsBuilt>, BuiltPlaces) {
    let mut places = BuiltPlaces::default();
    let Some(node) = parsed.nodes.iter().find(|node| node.spec.name == "as-built") else {
        return (None, places);
    };
    let date = match node.arg::<String>(0) {
        Given::Is(date) => date.value,
        Given::Absent | Given::Bad => String::new(),
    };
    let mut built = AsBuilt { date, seams: Vec::new(), pieces: Vec::new(), notes: Vec::new() };
    once(ctx, node);
    for line in &node.children {
        match line.spec.name {
            "seam" => {
                if let Some(seam) = seam(ctx, line) {
                    built.seams.push(seam);
                    places.seams.push(line.head);
                }
            }
            "piece" => {
                if let Some(piece) = piece(ctx, line) {
                    built.pieces.push(piece);
                    places.pieces.push(line.head);
                }
            }
            _ => built.notes.extend(note(ctx, line, rooms)),
        }
    }
    (Some(built), places)
}

/// Tells a seam or a piece that two lines are about.
fn once(ctx: &mut Ctx, node: &Node) {
    let label = |line: &Node| Some((line.spec.name, line.arg::<String>(0).ok()?));
    let lines: Vec<(&str, Spanned<String>)> =
        node.children.iter().filter(|line| line.spec.name != "note").filter_map(label).collect();
    for (n, (kind, name)) in lines.iter().enumerate() {
        let before = lines[..n].iter().find(|(other, before)| other == kind && before.value == name.value);
        if let Some((_, before)) = before {
            ctx.diags.push(
                Diag::error("built-twice", name.span, format!("{kind} {} has an entry already", name.value))
                    .also(before.span, "here")
                    .help("say all of it in one line"),
            );
        }
    }
}

fn text(ctx: &mut Ctx, given: Given<Spanned<String>>, what: &str) -> Option<String> {
    match given {
        Given::Is(text) => short(ctx, text, what, LONGEST),
        Given::Absent => Some(String::new()),
        Given::Bad => None,
    }
}

fn seam(ctx: &mut Ctx, line: &Node) -> Option<BuiltSeam> {
    let label = line.arg::<String>(0).ok();
    let why = text(ctx, line.arg(1), "why");
    let x = line.prop::<Length>("at").ok();
    Some(BuiltSeam { label: label?.value, x: x?.value, why: why? })
}

fn piece(ctx: &mut Ctx, line: &Node) -> Option<BuiltPiece> {
    let label = line.arg::<String>(0).ok();
    let why = text(ctx, line.arg(1), "why");
    let recut = match line.prop::<bool>("recut") {
        Given::Is(recut) => Some(recut.value),
        Given::Absent => Some(false),
        Given::Bad => None,
    };
    let lot = match line.prop::<String>("lot") {
        Given::Is(lot) => short(ctx, lot, "the dye lot", 16),
        Given::Absent => Some(String::new()),
        Given::Bad => None,
    };
    let (label, why, recut, lot) = (label?, why?, recut?, lot?);
    if !recut && lot.is_empty() {
        let message = format!("what was done otherwise with piece {} is not said", label.value);
        ctx.error("nothing-built", line.head, message, "add recut=yes, or lot= with its dye lot");
        return None;
    }
    Some(BuiltPiece { label: label.value, recut, lot, why })
}

fn note(ctx: &mut Ctx, line: &Node, rooms: &[Room]) -> Option<BuiltNote> {
    let text = line.arg::<String>(0).ok().and_then(|text| short(ctx, text, "the note", LONGEST));
    let room = room(ctx, line, rooms);
    let label = line.prop::<String>("wall").ok();
    let (room, label) = (room?, label?);
    let walls = &rooms[room].walls;
    let Some(wall) = walls.iter().position(|wall| wall.label == label.value) else {
        unknown(ctx, "unknown-wall", &label, "wall", walls.iter().map(|wall| wall.label.as_str()));
        return None;
    };
    let at = match (line.prop::<Length>("from-left"), line.prop::<Length>("above-floor")) {
        (Given::Absent, Given::Absent) => None,
        (Given::Is(x), Given::Is(up)) => {
            let on = &walls[wall];
            let within = x.value >= Length::ZERO && x.value <= on.width;
            let y = if within { on.floor.at(x.value) + up.value } else { up.value };
            if !within || up.value < Length::ZERO || y > on.ceiling.at(x.value) {
                let span = if within { up.span } else { x.span };
                let message = format!("the place of the note lies off wall {}", label.value);
                let (width, height) =
                    (ctx.show(on.width), ctx.show(on.ceiling.at(on.width / 2) - on.floor.at(on.width / 2)));
                ctx.error(
                    "note-off-wall",
                    span,
                    message,
                    format!("the wall is {width} wide and about {height} high"),
                );
                return None;
            }
            Some(Point::new(x.value, y))
        }
        (Given::Bad, _) | (_, Given::Bad) => return None,
        _ => {
            let message = "a place on a wall needs both its measures";
            ctx.error("half-a-place", line.head, message, "give from-left= and above-floor=, or neither");
            return None;
        }
    };
    Some(BuiltNote { room, wall, at, text: text? })
}

/// The room of a note: the only one, or the one that it names.
fn room(ctx: &mut Ctx, line: &Node, rooms: &[Room]) -> Option<usize> {
    match line.prop::<String>("room") {
        Given::Is(name) => {
            let found = rooms.iter().position(|room| room.name == name.value);
            if found.is_none() {
                unknown(ctx, "unknown-room", &name, "room", rooms.iter().map(|room| room.name.as_str()));
            }
            found
        }
        Given::Absent if rooms.len() == 1 => Some(0),
        Given::Absent => {
            ctx.error("which-room", line.head, "which room the wall is in is not said", "add room=");
            None
        }
        Given::Bad => None,
    }
}
