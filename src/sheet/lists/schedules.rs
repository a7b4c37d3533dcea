//! Schedules of corners, trim, staples and batting.

use crate::job::model::{Paper, Trim};
use crate::plan::model::{Plan, RoomPlan, TrimPlace, WallRef};
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::order;
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{ComposeFault, Draft, words};

/// The crew's schedules: corners, trim, staples, batting, tools.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a schedule.
pub fn crew(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut drafts = corners(plan, paper)?;
    drafts.extend(
        Document {
            key: "trim-schedule".to_owned(),
            title: "Trim schedule".to_owned(),
            heading: "Trim schedule".to_owned(),
            under: String::new(),
            description: "Every run of trim, its length and how its ends are made.".to_owned(),
            kind: "Schedule",
            sections: trim(plan),
        }
        .drafts(paper)?,
    );
    drafts.extend(
        Document {
            key: "staple-schedule".to_owned(),
            title: "Staples, batting and tools".to_owned(),
            heading: "Staples, batting and tools".to_owned(),
            under: String::new(),
            description: "Every staple line with its spacing and count, the batting pieces, the tools."
                .to_owned(),
            kind: "Schedule",
            sections: [staples(plan), batting(plan), vec![order::tools(plan)]].concat(),
        }
        .drafts(paper)?,
    );
    Ok(drafts)
}

/// The workroom's schedules: trim strips and batting to cut.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a schedule.
pub fn workroom(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let document = Document {
        key: "trim-and-batting".to_owned(),
        title: "Trim and batting to make".to_owned(),
        heading: "Trim and batting to make".to_owned(),
        under: String::new(),
        description: "Every run of trim with the strips it is sewn from, and the batting pieces.".to_owned(),
        kind: "Schedule",
        sections: [trim(plan), batting(plan)].concat(),
    };
    document.drafts(paper)
}

fn corners(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let sections = plan.rooms.iter().enumerate().map(|(index, room)| {
        let mut table = Table::new(&[
            ("Corner", Kind::Words),
            ("Kind", Kind::Words),
            ("Height of cloth", Kind::Figures),
            ("Lost to match", Kind::Figures),
            ("How it is made", Kind::Prose),
        ]);
        for (corner, made) in plan.job.rooms[index].corners.iter().zip(&room.corners) {
            table.row(vec![
                Cell::strong(&corner.name),
                Cell::new(words::corner_kind(corner.kind)),
                Cell::new(words::length(plan, made.height)),
                Cell::new(words::cloth_length(plan, made.consumed)),
                Cell::new(made.treatment.join("\n")),
            ]);
        }
        let mut section = Section::new(&plan.job.rooms[index].name);
        section.table(table);
        section
    });
    let document = Document {
        key: "corner-schedule".to_owned(),
        title: "Corner schedule".to_owned(),
        heading: "Corner schedule".to_owned(),
        under: String::new(),
        description: "Every corner and how it is made.".to_owned(),
        kind: "Schedule",
        sections: sections.collect(),
    };
    document.drafts(paper)
}

/// The trim that the job wants at a place.
fn trim_of(plan: &Plan, place: TrimPlace) -> &Trim {
    let trims = &plan.job.trims;
    match place {
        TrimPlace::Corner => &trims.corner,
        TrimPlace::Opening => &trims.opening,
        TrimPlace::Top => &trims.top,
        TrimPlace::Bottom => &trims.bottom,
    }
}

fn trim(plan: &Plan) -> Vec<Section> {
    let sections = plan.rooms.iter().enumerate().map(|(index, room)| {
        let mut section = Section::new(format!("Trim, {}", plan.job.rooms[index].name));
        section.table(trim_table(plan, room));
        section
    });
    sections.collect()
}

fn trim_table(plan: &Plan, room: &RoomPlan) -> Table {
    let mut table = Table::new(&[
        ("Run", Kind::Words),
        ("Trim", Kind::Words),
        ("Where", Kind::Words),
        ("Finished length", Kind::Figures),
        ("For ends and joints", Kind::Figures),
        ("Ends", Kind::Words),
        ("Strips", Kind::Words),
    ]);
    for run in &room.trim {
        let strips: Vec<&str> = run
            .strips
            .iter()
            .filter_map(|id| plan.pieces.get(id.0))
            .map(|piece| piece.label.as_str())
            .collect();
        let (first, last) = &run.ends;
        let ends = if first == last { first.clone() } else { format!("{first}, {last}") };
        let strips = if strips.is_empty() { "bought".to_owned() } else { strips.join(", ") };
        table.row(vec![
            Cell::strong(&run.label),
            Cell::new(&trim_of(plan, run.place).name),
            Cell::new(&run.what),
            Cell::new(words::length(plan, run.length)),
            Cell::new(words::length(plan, run.extra)),
            Cell::new(ends),
            Cell::new(strips),
        ]);
    }
    table
}

fn staples(plan: &Plan) -> Vec<Section> {
    let mut table = Table::new(&[
        ("Line", Kind::Words),
        ("Where", Kind::Words),
        ("Length", Kind::Figures),
        ("Spacing at most", Kind::Figures),
        ("Staples", Kind::Figures),
    ]);
    for at in walls(plan) {
        let wall = &plan.rooms[at.room].walls[at.wall];
        if !wall.staples.is_empty() {
            table.group(format!("Wall {}", words::wall(plan, at)));
        }
        for line in &wall.staples {
            table.row(vec![
                Cell::new(words::staple_kind(line.kind)),
                Cell::new(&line.place),
                Cell::new(words::length(plan, line.length)),
                Cell::new(words::length(plan, line.spacing)),
                Cell::new(line.count.to_string()),
            ]);
        }
    }
    let mut section = Section::new("Staple lines, in the order they are driven");
    section.table(table);
    vec![section]
}

fn batting(plan: &Plan) -> Vec<Section> {
    let mut table = Table::new(&[
        ("Cut", Kind::Tick),
        ("Piece", Kind::Words),
        ("Wall", Kind::Words),
        ("Width", Kind::Figures),
        ("Height", Kind::Figures),
        ("Cut length", Kind::Figures),
        ("Cut-outs", Kind::Figures),
    ]);
    for at in walls(plan) {
        for piece in &plan.rooms[at.room].walls[at.wall].batting {
            table.row(vec![
                Cell::new(""),
                Cell::strong(&piece.label),
                Cell::new(words::wall(plan, at)),
                Cell::new(words::length(plan, piece.rect.width())),
                Cell::new(words::length(plan, piece.rect.height())),
                Cell::new(words::length(plan, piece.cut_length)),
                Cell::new(piece.cut_outs.len().to_string()),
            ]);
        }
    }
    let mut section = Section::new("Batting pieces");
    section.table(table);
    vec![section]
}

/// All walls, in the order of the job.
fn walls(plan: &Plan) -> impl Iterator<Item = WallRef> + '_ {
    plan.rooms
        .iter()
        .enumerate()
        .flat_map(|(room, planned)| (0..planned.walls.len()).map(move |wall| WallRef { room, wall }))
}
