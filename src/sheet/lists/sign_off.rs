//! The walk round at the end, and the signatures.

use crate::plan::model::{Plan, WallRef};
use crate::plan::words::list;
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::wall_cell;
use crate::sheet::table::{Cell, Kind, Table};
use crate::units::Length;

/// The height of a line to sign on.
const SIGN_ROW: Length = Length::mm(12);

/// Lines for what is left open.
const OPEN_POINTS: usize = 8;

/// The sign-off sheet.
pub fn document(plan: &Plan) -> Document {
    Document {
        key: "sign-off".to_owned(),
        title: "Sign-off".to_owned(),
        heading: "Sign-off".to_owned(),
        under: String::new(),
        description: "What is looked at when the work is done, and who signs for it.".to_owned(),
        kind: "Sign-off",
        scale: String::new(),
        sections: vec![inspection(plan), open_points(), signatures(plan)],
    }
}

fn inspection(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Good", Kind::Tick),
        ("Wall", Kind::Words),
        ("Remarks", Kind::Write(Length::mm(40))),
        ("Initials", Kind::Write(Length::mm(16))),
    ]);
    table.row_height = Length::mm(8);
    for (r, room) in plan.job.rooms.iter().enumerate() {
        for (w, _) in room.walls.iter().enumerate().filter(|(_, wall)| wall.clothed) {
            let at = WallRef { room: r, wall: w };
            table.row(vec![Cell::new(""), wall_cell(plan, at)]);
        }
    }
    let mut section = Section::new("Walk round");
    section.paragraph(format!(
        "On each wall: {}no staple or batting edge to be seen or felt, trim tight, plates seated, cloth clean.",
        pattern_and_seams(plan)
    ));
    section.paragraph_if(unmet(plan));
    section.table(table);
    section
}

/// What is looked at of a pattern and of seams, as far as there are any.
fn pattern_and_seams(plan: &Plan) -> &'static str {
    let patterned = plan.job.rooms.iter().any(|room| plan.job.cloths[room.cloth].pattern.is_some());
    let panels = plan.rooms.iter().flat_map(|room| &room.walls).filter_map(|wall| wall.panel.as_ref());
    let seams = panels.flat_map(|panel| &panel.seams).next().is_some();
    match (patterned, seams) {
        (true, true) => "pattern upright and met at every seam, seams plumb, ",
        (true, false) => "pattern upright, ",
        (false, true) => "seams plumb, ",
        (false, false) => "",
    }
}

/// Where a pattern cannot meet, so that nobody looks for it there.
fn unmet(plan: &Plan) -> Option<String> {
    let rooms = plan.rooms.iter().zip(&plan.job.rooms);
    let corners = rooms.filter_map(|(room, shape)| {
        let kill = room.kill.as_ref()?;
        let of = if plan.rooms.len() > 1 { format!(" of {}", shape.name) } else { String::new() };
        Some(format!("corner {}{of}", shape.corners[kill.corner].name))
    });
    let corners: Vec<String> = corners.collect();
    (!corners.is_empty()).then(|| format!("At {} the pattern does not meet, as drawn.", list(&corners)))
}

fn open_points() -> Section {
    let mut table = Table::new(&[
        ("Open point", Kind::Write(Length::mm(60))),
        ("By whom and when", Kind::Write(Length::mm(40))),
    ]);
    table.row_height = Length::mm(9);
    for _ in 0..OPEN_POINTS {
        table.row(Vec::new());
    }
    let mut section = Section::new("Open points");
    section.whole = true;
    section.table(table);
    section
}

fn signatures(plan: &Plan) -> Section {
    let facts = &plan.job.facts;
    signature_section(
        "Signatures",
        &[("Installer", &facts.installer), ("Designer or client", &facts.designer)],
    )
}

/// Lines to sign on: a role and a name each.
pub fn signature_section(heading: &str, people: &[(&str, &str)]) -> Section {
    let mut table = Table::new(&[
        ("", Kind::Words),
        ("Name", Kind::Write(Length::mm(40))),
        ("Signature", Kind::Write(Length::mm(50))),
        ("Date", Kind::Write(Length::mm(24))),
    ]);
    table.row_height = SIGN_ROW;
    for &(role, name) in people {
        table.row(vec![Cell::strong(role), Cell::new(name)]);
    }
    let mut section = Section::new(heading);
    section.whole = true;
    section.table(table);
    section
}
