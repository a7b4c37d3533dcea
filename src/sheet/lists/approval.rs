//! What the designer approves: materials, every seam in sight, where the pattern does not meet.

use std::collections::BTreeSet;

use crate::geom::{Point, Rect};
use crate::job::model::{Cloth, CornerKind, Room, TrimKind};
use crate::plan::model::{EdgeFinish, Piece, PieceKind, Plan, RoomPlan, TrimPlace, WallRef};
use crate::plan::words::datum;
use crate::sheet::document::{Document, Figure, Section};
use crate::sheet::lists::better;
use crate::sheet::lists::cover::repeat;
use crate::sheet::lists::sign_off::signature_section;
use crate::sheet::mark::outline;
use crate::sheet::model::{Anchor, Mark};
use crate::sheet::pen;
use crate::sheet::sets::{Hold, hold};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::text::{self, Style};
use crate::sheet::words;
use crate::units::Length;

/// Materials, seams and pattern.
pub fn materials_document(plan: &Plan) -> Document {
    Document {
        key: "materials".to_owned(),
        title: "Materials".to_owned(),
        heading: "Materials, seams and pattern".to_owned(),
        under: String::new(),
        description:
            "The materials, every seam that will be seen, and the corner where the pattern does not meet."
                .to_owned(),
        kind: "Schedule",
        scale: String::new(),
        sections: [vec![materials(plan)], meeting(plan), vec![seams(plan)]].concat(),
    }
}

/// The answer of the person who approves, with so many lines for notes.
pub fn answer_document(plan: &Plan, lines: usize) -> Document {
    Document {
        key: "approval".to_owned(),
        title: "Approval".to_owned(),
        heading: "Approval".to_owned(),
        under: String::new(),
        description: "The answer of the person who approves, with signatures.".to_owned(),
        kind: "Approval",
        scale: String::new(),
        sections: [Some(decision(plan)), start(plan), Some(notes(lines)), Some(signatures(plan))]
            .into_iter()
            .flatten()
            .collect(),
    }
}

fn materials(plan: &Plan) -> Section {
    let mut table = Table::new(&[("Where", Kind::Words), ("Material", Kind::Words)]);
    let mut told = BTreeSet::new();
    for room in &plan.job.rooms {
        if let Some(cloth) = plan.job.cloths.get(room.cloth) {
            table.row(vec![
                Cell::new(format!("{}, walls", words::capital(&room.name))),
                Cell::strong(format!("{}, {}", cloth.name, words::widths(plan, room.cloth))),
            ]);
            if !told.insert(room.cloth) {
                continue;
            }
            let pattern = cloth
                .pattern
                .map_or("plain, free match".to_owned(), |lattice| repeat(plan, room.cloth, lattice));
            table.row(vec![Cell::new("Pattern"), Cell::new(pattern)]);
            let way = plan.way(room.cloth);
            let up = words::way_up(cloth, way).map_or("may be turned".to_owned(), |up| format!("hangs {up}"));
            table.row(vec![Cell::new("Direction"), Cell::new(up)]);
            if !cloth.on_hand.is_empty() {
                table.row(vec![Cell::new("On hand"), Cell::new(on_hand(cloth))]);
            }
            for sample in &cloth.samples {
                let size = [sample.width, sample.length].map(|length| words::cloth_length(plan, length));
                let of = if sample.purpose.is_empty() {
                    String::new()
                } else {
                    format!(" for {}", sample.purpose)
                };
                let words = format!("{}{of}, {} × {}", sample.label, size[0], size[1]);
                table.row(vec![Cell::new("Cut with it"), Cell::new(words)]);
            }
        }
    }
    let trims = &plan.job.trims;
    let places = [
        (corner_words(plan), TrimPlace::Corner, &trims.corner),
        ("Openings", TrimPlace::Opening, &trims.opening),
        ("Top edge", TrimPlace::Top, &trims.top),
        ("Bottom edge", TrimPlace::Bottom, &trims.bottom),
    ];
    // Where the job has no such place, nothing is to be approved.
    let runs = |place| plan.rooms.iter().flat_map(|room| &room.trim).any(|run| run.place == place);
    for (place, at, trim) in places {
        if trim.kind != TrimKind::None && !runs(at) {
            continue;
        }
        let text = match trim.kind.words() {
            kind if trim.kind == TrimKind::None => kind.to_owned(),
            kind if trim.name.contains(kind) => trim.name.clone(),
            kind => format!("{}, {kind}", trim.name),
        };
        // Strips are as wide as they are cut; a bought trim's width is its maker's.
        let text = if trim.strip > Length::ZERO {
            let strip = words::length(plan, trim.strip);
            format!("{text}, of the room's cloth in strips {strip} wide")
        } else {
            text
        };
        table.row(vec![Cell::new(place), Cell::strong(text)]);
    }
    let mut section = Section::new("Materials");
    section.table(table);
    section.paragraph_if(accepted(plan));
    section.figure(cutting());
    section
}

/// A framed space for a piece of the cloth that is approved.
fn cutting() -> Figure {
    let (width, height) = (Length::mm(60), Length::mm(32));
    let frame = outline(Rect::new(Length::ZERO, Length::ZERO, width, height), pen::DETAIL);
    let mut marks = vec![frame];
    let words = ["Cutting for approval", "Lot: ________  Date: ________"];
    for (n, words) in words.into_iter().enumerate() {
        let at = Point::new(Length::mm(2), Length::mm(5) + Style::BODY.leading() * n as i64);
        // Plain words, which the font has.
        marks.extend(text::set(words, at, Anchor::Start, Style::BODY).ok().map(Mark::Text));
    }
    Figure { width, height, marks }
}

/// The flaws that were accepted and so may be seen on a wall; `None` where there are none.
fn accepted(plan: &Plan) -> Option<String> {
    let mut told = Vec::new();
    for (index, cloth) in plan.job.cloths.iter().enumerate() {
        for (at, bolt) in cloth.on_hand.iter().enumerate() {
            for flaw in bolt.flaws.iter().filter(|flaw| flaw.accepted) {
                let on = |piece: &&Piece| {
                    let cut = &piece.cut;
                    let planned = plan.cloths[index].bolts.get(cut.bolt);
                    planned.is_some_and(|bolt| bolt.on_hand == Some(at))
                        && piece.cloth == index
                        && flaw.v < cut.v + cut.length
                        && cut.v < flaw.v + flaw.length
                        && flaw.u < cut.u + cut.width
                        && cut.u < flaw.u + flaw.width
                };
                let what = if flaw.what.is_empty() { "flaw" } else { &flaw.what };
                let size = |length| words::cloth_length(plan, length);
                let (long, wide) = (size(flaw.length), size(flaw.width));
                told.extend(plan.pieces.iter().filter(on).map(|piece| {
                    let of = piece.wall().map(|wall| format!(" of {}", words::named_wall(plan, wall)));
                    let of = of.unwrap_or_default();
                    // The designer's drawings name strips, not pieces of trim.
                    let strip = matches!(piece.kind, PieceKind::UprightStrip | PieceKind::LevelStrip);
                    let part = if strip { "trim".to_owned() } else { format!("strip {}", piece.label) };
                    format!("{what}, {long} long and {wide} wide, in {part}{of}")
                }));
            }
        }
    }
    (!told.is_empty()).then(|| format!("Accepted in the cloth: {}.", told.join("; ")))
}

/// The cloth that is there already: the bolts with their lots, and how many pieces are cut from them.
fn on_hand(cloth: &Cloth) -> String {
    let bolts: Vec<String> = cloth
        .on_hand
        .iter()
        .map(|bolt| {
            let length = words::sold_whole(bolt.length, cloth.sold_in);
            if bolt.lot.is_empty() { length } else { format!("{length} of lot {}", bolt.lot) }
        })
        .collect();
    let cut = cloth.on_hand.iter().map(|bolt| bolt.cuts.len()).sum::<usize>();
    let cut = match cut {
        0 => String::new(),
        n => format!("; {} cut already", words::counted(n as i64, "piece")),
    };
    let bolts: Vec<&str> = bolts.iter().map(String::as_str).collect();
    format!("{} of {}{cut}", words::list(&bolts), cloth.name)
}

/// What trim of the corners finishes: inside corners, free ends or both.
fn corner_words(plan: &Plan) -> &'static str {
    let has = |kind| plan.job.rooms.iter().flat_map(|room| &room.corners).any(|corner| corner.kind == kind);
    match (has(CornerKind::Inside), has(CornerKind::FreeEnd)) {
        (true, true) => "Inside corners and free ends",
        (false, true) => "Free ends",
        _ => "Inside corners",
    }
}

/// For each room, where the pattern was placed and where it does not meet.
fn meeting(plan: &Plan) -> Vec<Section> {
    let many = plan.rooms.len() > 1;
    // Plain cloth has no pattern to place.
    let patterned = |room: &Room| plan.job.cloths[room.cloth].pattern.is_some();
    let rooms = plan.rooms.iter().zip(&plan.job.rooms).filter(|(_, room)| patterned(room));
    let sections = rooms.map(|(planned, room)| {
        let mut section =
            Section::new(if many { format!("The pattern, {}", room.name) } else { "The pattern".to_owned() });
        section.paragraph(words::sentence(&planned.registration.why));
        if let Some(kill) = &planned.kill {
            let corner = room.corners.get(kill.corner).map_or("", |corner| corner.name.as_str());
            section.paragraph(format!(
                "At corner {corner} the pattern does not meet: it misses by {}. {}",
                kill.words(&plan.job.print.format),
                words::sentence(&kill.why)
            ));
        }
        section.paragraph_if(unseen(planned, room));
        section
    });
    sections.collect()
}

/// Where the pattern comes round to where it began, if that is at a wall without cloth.
fn unseen(planned: &RoomPlan, room: &Room) -> Option<String> {
    let bare = |wall: &usize| !room.walls[*wall].clothed;
    let ends = [planned.ribbon.last(), planned.ribbon.first()];
    let wall = ends.into_iter().flatten().find(|wall| bare(wall)).filter(|_| room.closed)?;
    Some(format!(
        "The pattern comes round to where it began at wall {}, which is bare: there nobody sees whether it meets.",
        room.walls[*wall].label
    ))
}

fn seams(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Seam", Kind::Words),
        ("From left corner", Kind::Figures),
        ("In sight, from and to", Kind::Words),
    ]);
    for (r, room) in plan.rooms.iter().enumerate() {
        for (w, wall) in room.walls.iter().enumerate() {
            let Some(panel) = &wall.panel else { continue };
            if panel.seams.is_empty() {
                continue;
            }
            // As on the wall's elevation.
            let from = plan.job.rooms[r].walls[w].heights_from();
            let floor = if from == Length::ZERO { "" } else { ": heights above its floor" };
            table.group(format!(
                "{}{floor}",
                words::capital(&words::named_wall(plan, WallRef { room: r, wall: w }))
            ));
            for seam in &panel.seams {
                let spans: Vec<String> = seam
                    .in_sight
                    .iter()
                    .map(|&(low, high)| {
                        format!("{} to {}", words::length(plan, low - from), words::length(plan, high - from))
                    })
                    .collect();
                let mut spans = if spans.is_empty() { "hidden".to_owned() } else { spans.join("; ") };
                if seam.x < Length::ZERO || seam.x > plan.job.rooms[r].walls[w].width {
                    spans += ", where the corner leans out";
                }
                table.row(vec![
                    Cell::strong(&seam.label),
                    Cell::new(words::length(plan, seam.x)),
                    Cell::new(spans),
                ]);
            }
        }
        folded(plan, r, &mut table);
    }
    let mut section = Section::new("Seams");
    if table.rows.is_empty() {
        section.paragraph("There is no seam on any wall.");
        return section;
    }
    let several = plan.rooms.len() > 1;
    for (r, room) in plan.job.rooms.iter().enumerate() {
        let of_room =
            if several { format!("{}: heights", words::capital(&room.name)) } else { "Heights".into() };
        let landing = room.walls.iter().any(|wall| wall.clothed && wall.heights_from() != Length::ZERO);
        let unless = if landing { ", unless a wall says otherwise" } else { "" };
        section.paragraph(format!("{of_room} are above {}{unless}.", datum(plan, r)));
    }
    section.table(table);
    section
}

/// The folded edges at outside corners, which are seen as seams are.
fn folded(plan: &Plan, r: usize, table: &mut Table) {
    let (room, planned) = (&plan.job.rooms[r], &plan.rooms[r]);
    let mut rows = Vec::new();
    for (w, (wall, shape)) in planned.walls.iter().zip(&room.walls).enumerate() {
        let Some(panel) = &wall.panel else { continue };
        let ends = [(panel.left, w, Length::ZERO), (panel.right, room.right_corner(w), shape.width)];
        for (edge, corner, x) in ends {
            let at = &room.corners[corner];
            if edge.finish != EdgeFinish::Folded || at.kind != CornerKind::Outside {
                continue;
            }
            let from = shape.heights_from();
            let (low, high) = (shape.field_bottom().at(x) - from, shape.field_top().at(x) - from);
            let kill = planned.kill.as_ref().is_some_and(|kill| kill.corner == corner);
            let patterned = plan.job.cloths[room.cloth].pattern.is_some();
            let meets = match (patterned, kill) {
                (false, _) => "",
                (true, false) => "; the pattern meets",
                (true, true) => "; the pattern does not meet",
            };
            let span = format!("{} to {}{meets}", words::length(plan, low), words::length(plan, high));
            rows.push(vec![
                Cell::strong(format!("Corner {}", at.name)),
                Cell::new(words::length(plan, x)),
                Cell::new(format!("wall {}: {span}", words::wall_label(plan, WallRef { room: r, wall: w }))),
            ]);
        }
    }
    if !rows.is_empty() {
        table.group("Folded edges at outside corners".to_owned());
        rows.into_iter().for_each(|row| table.row(row));
    }
}

fn decision(plan: &Plan) -> Section {
    let once = match hold(plan) {
        Some(Hold::Measure) => ", once the room is measured again",
        Some(Hold::Mill) => ", once the mill has answered",
        None => "",
    };
    let mut choices = Table::new(&[("", Kind::Tick), ("", Kind::Words)]);
    choices.row_height = Length::mm(9);
    for (choice, meaning) in [
        ("Approved", format!("cut and install as drawn{once}")),
        ("Approved as noted", format!("cut and install with the notes on this sheet{once}; no new drawings")),
        ("Revise and resubmit", "do not cut; send new drawings".to_owned()),
    ] {
        choices.row(vec![Cell::new(""), Cell::new(format!("{choice}: {meaning}"))]);
    }
    let mut section = Section::new("Answer: tick one");
    section.whole = true;
    section.table(choices);
    section
}

/// Which of the compared starts is approved, where there are several: another than the one drawn needs new
/// drawings, whatever else is ticked.
fn start(plan: &Plan) -> Option<Section> {
    let several = plan.rooms.len() > 1;
    let each = if several { ", for each room" } else { "" };
    let mut section = Section::new(format!("Where the pattern starts: tick one{each}"));
    section.whole = true;
    let mut table = Table::new(&[("", Kind::Tick), ("", Kind::Words)]);
    table.row_height = Length::mm(9);
    for compared in plan.options.iter().filter(|compared| compared.options.len() > 1) {
        let Some(chosen) = compared.options.iter().find(|option| option.chosen) else { continue };
        let room = &plan.job.rooms[compared.room].name;
        // One answer for each room.
        let of_room = if several { format!("{}, ", words::capital(room)) } else { String::new() };
        table.row(vec![
            Cell::new(""),
            Cell::new(words::capital(&format!("{of_room}as drawn: {}", chosen.letter))),
        ]);
        let another = format!("{of_room}another: ____. Do not cut; send new drawings");
        table.row(vec![Cell::new(""), Cell::new(words::capital(&another))]);
    }
    if table.rows.is_empty() {
        return None;
    }
    better::sentences(plan).into_iter().for_each(|told| section.paragraph(told));
    section.table(table);
    Some(section)
}

/// Lines for the notes of an approval as noted.
fn notes(lines: usize) -> Section {
    let mut table =
        Table::new(&[("Sheet", Kind::Write(Length::mm(16))), ("Note", Kind::Write(Length::mm(60)))]);
    table.row_height = Length::mm(9);
    for _ in 0..lines {
        table.row(Vec::new());
    }
    let mut section = Section::new("Notes");
    section.whole = true;
    section.table(table);
    section
}

fn signatures(plan: &Plan) -> Section {
    let facts = &plan.job.facts;
    signature_section("Signatures", &[("Approved by", &facts.designer), ("Received by", &facts.installer)])
}
