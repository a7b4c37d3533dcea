//! What the designer approves: materials, every seam in sight, where the pattern does not meet.

use crate::job::model::{Room, TrimKind};
use crate::plan::model::{Plan, RegistrationOption, RoomOptions, WallRef};
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::sign_off::signature_section;
use crate::sheet::table::{Cell, Kind, Table};
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

/// The answer of the person who approves.
pub fn answer_document(plan: &Plan) -> Document {
    Document {
        key: "approval".to_owned(),
        title: "Approval".to_owned(),
        heading: "Approval".to_owned(),
        under: String::new(),
        description: "The answer of the person who approves, with signatures.".to_owned(),
        kind: "Approval",
        scale: String::new(),
        sections: [vec![decision()], start(plan), vec![notes(), signatures(plan)]].concat(),
    }
}

fn materials(plan: &Plan) -> Section {
    let mut table = Table::new(&[("Where", Kind::Words), ("Material", Kind::Words)]);
    for room in &plan.job.rooms {
        if let Some(cloth) = plan.job.cloths.get(room.cloth) {
            let width = words::cloth_length(plan, cloth.width);
            table.row(vec![
                Cell::new(format!("{}, walls", words::capital(&room.name))),
                Cell::strong(format!("{}, {width} wide", cloth.name)),
            ]);
        }
    }
    let trims = &plan.job.trims;
    let places = [
        ("Inside corners", &trims.corner),
        ("Openings", &trims.opening),
        ("Top edge", &trims.top),
        ("Bottom edge", &trims.bottom),
    ];
    for (place, trim) in places {
        let text = match trim.kind.words() {
            kind if trim.kind == TrimKind::None => kind.to_owned(),
            kind if trim.name.contains(kind) => trim.name.clone(),
            kind => format!("{}, {kind}", trim.name),
        };
        table.row(vec![Cell::new(place), Cell::strong(text)]);
    }
    let mut section = Section::new("Materials");
    section.table(table);
    section
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
        section
    });
    sections.collect()
}

fn seams(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Seam", Kind::Words),
        ("From left corner", Kind::Figures),
        ("In sight, heights above the datum", Kind::Words),
    ]);
    for (r, room) in plan.rooms.iter().enumerate() {
        for (w, wall) in room.walls.iter().enumerate() {
            let Some(panel) = &wall.panel else { continue };
            if panel.seams.is_empty() {
                continue;
            }
            table.group(format!("Wall {}", words::wall(plan, WallRef { room: r, wall: w })));
            for seam in &panel.seams {
                let spans: Vec<String> = seam
                    .in_sight
                    .iter()
                    .map(|&(low, high)| {
                        format!("{} to {}", words::length(plan, low), words::length(plan, high))
                    })
                    .collect();
                let spans = if spans.is_empty() { "hidden".to_owned() } else { spans.join("; ") };
                table.row(vec![
                    Cell::strong(&seam.label),
                    Cell::new(words::length(plan, seam.x)),
                    Cell::new(spans),
                ]);
            }
        }
    }
    let mut section = Section::new("Seams");
    if table.rows.is_empty() {
        section.paragraph("There is no seam on any wall.");
    }
    section.table(table);
    section
}

fn decision() -> Section {
    let mut choices = Table::new(&[("", Kind::Tick), ("", Kind::Words)]);
    choices.row_height = Length::mm(9);
    for (choice, meaning) in [
        ("Approved", "cut and install as drawn"),
        ("Approved as noted", "cut and install with the notes below; no new drawings"),
        ("Revise and resubmit", "do not cut; send new drawings"),
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
fn start(plan: &Plan) -> Vec<Section> {
    let compared = plan.options.iter().filter(|compared| compared.options.len() > 1);
    let mut table = Table::new(&[("", Kind::Tick), ("", Kind::Words)]);
    table.row_height = Length::mm(9);
    for rooms in compared {
        let Some(chosen) = rooms.options.iter().find(|option| option.chosen) else { continue };
        let room = match plan.rooms.len() {
            1 => String::new(),
            _ => format!("{}, ", plan.job.rooms[rooms.room].name),
        };
        let option = format!("{room}option {}", chosen.letter);
        table.row(vec![Cell::new(""), Cell::new(words::capital(&format!("{option}: as drawn")))]);
        let others: Vec<String> = rooms
            .options
            .iter()
            .filter(|option| !option.chosen)
            .map(|option| option.letter.clone())
            .collect();
        let other = format!("{room}another, of {}: ____. Do not cut; new drawings follow", others.join(", "));
        table.row(vec![Cell::new(""), Cell::new(words::capital(&other))]);
    }
    if table.rows.is_empty() {
        return Vec::new();
    }
    let mut section = Section::new("Where the pattern starts: tick one");
    section.whole = true;
    for compared in plan.options.iter().filter(|compared| compared.options.len() > 1) {
        for told in beside_chosen(plan, compared) {
            section.paragraph(told);
        }
    }
    section.table(table);
    vec![section]
}

/// Most options that are told to be better than the chosen one.
const BETTER: usize = 2;

/// Which option is drawn, and those that are worse in nothing that is counted here and better in something:
/// whoever approves must not have to find them.
fn beside_chosen(plan: &Plan, compared: &RoomOptions) -> Vec<String> {
    let Some(chosen) = compared.options.iter().find(|option| option.chosen) else { return Vec::new() };
    let room = match plan.rooms.len() {
        1 => String::new(),
        _ => format!("{}: ", plan.job.rooms[compared.room].name),
    };
    let goods = |o: &RegistrationOption| {
        if plan.job.cloths[plan.job.rooms[compared.room].cloth].on_hand.is_empty() {
            (o.order_units, Length::ZERO)
        } else {
            (0, o.used)
        }
    };
    let mut notes =
        vec![format!("{room}Option {} is drawn in this set, as the job asks for it.", chosen.letter)];
    let better = compared.options.iter().filter_map(|other| {
        // Without a seam there is none near an edge.
        let apart = |o: &RegistrationOption| (o.nearest.is_none(), o.nearest);
        let gains = [
            (goods(other).cmp(&goods(chosen)), "takes less cloth"),
            (other.in_sight.cmp(&chosen.in_sight), "shows less seam"),
            (other.broken.len().cmp(&chosen.broken.len()), "keeps more rules"),
            (apart(chosen).cmp(&apart(other)), "keeps seams further from edges"),
        ];
        let worse = gains.iter().any(|(order, _)| order.is_gt());
        let told: Vec<&str> =
            gains.iter().filter(|(order, _)| order.is_lt()).map(|(_, gain)| *gain).collect();
        (!worse && !told.is_empty()).then(|| {
            format!(
                "{room}Option {} {}, and is worse in no figure of cloth, seams or rules.",
                other.letter,
                told.join(" and ")
            )
        })
    });
    notes.extend(better.take(BETTER));
    notes
}

/// Lines for the notes of an approval as noted.
fn notes() -> Section {
    let mut table =
        Table::new(&[("Sheet", Kind::Write(Length::mm(16))), ("Note", Kind::Write(Length::mm(60)))]);
    table.row_height = Length::mm(9);
    for _ in 0..6 {
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
