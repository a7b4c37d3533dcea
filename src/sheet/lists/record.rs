//! What was done otherwise than planned, for the record set.

use crate::plan::model::Plan;
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::wall_cell;
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::words;

/// The list of entries.
pub fn document(plan: &Plan) -> Document {
    let mut table = Table::new(&[
        ("Wall", Kind::Words),
        ("What", Kind::Words),
        ("Planned", Kind::Words),
        ("As built", Kind::Prose),
        ("Why", Kind::Prose),
    ]);
    for entry in &plan.built {
        table.row(vec![
            wall_cell(plan, entry.wall),
            Cell::new(&entry.what),
            Cell::new(&entry.planned),
            Cell::strong(&entry.built),
            Cell::new(words::capital(&entry.why)),
        ]);
    }
    let mut section = Section::new("As built");
    section.paragraph(
        "Only what is listed here was done otherwise than planned. The elevations show seams where they stand; \
         cuts are listed as they were planned.",
    );
    section.table(table);
    Document {
        key: "as-built".to_owned(),
        title: "As built".to_owned(),
        heading: "As built".to_owned(),
        under: String::new(),
        description: "What was done otherwise than planned, wall by wall.".to_owned(),
        kind: "As built",
        scale: String::new(),
        sections: vec![section],
    }
}
