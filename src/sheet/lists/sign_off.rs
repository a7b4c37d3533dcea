//! The walk round at the end, and the signatures.

use crate::plan::model::{Plan, WallRef};
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
    section.paragraph(
        "On each wall: pattern upright and met at every seam, seams plumb, no staple or batting edge to be seen or \
         felt, trim tight, plates seated, cloth clean.",
    );
    section.table(table);
    section
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
