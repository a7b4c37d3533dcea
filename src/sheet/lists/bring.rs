//! What the crew brings: the sewn cloth, tools and materials, to be ticked before the van leaves.

use crate::job::model::Goods;
use crate::plan::model::{Plan, WallRef};
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::{schedules, wall_cell};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::words;

/// The lists of what to bring.
pub fn document(plan: &Plan) -> Document {
    Document {
        key: "bring".to_owned(),
        title: "To bring".to_owned(),
        heading: "To bring".to_owned(),
        under: String::new(),
        description: "The sewn cloth, the materials and the tools to bring, to be ticked.".to_owned(),
        kind: "List",
        scale: String::new(),
        sections: vec![cloth(plan), tools(plan), materials(plan)],
    }
}

/// What the workroom hands over: a panel for each wall, and the welt.
fn cloth(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Have", Kind::Tick),
        ("Panel of wall", Kind::Words),
        ("Strips", Kind::Words),
        ("Width", Kind::Figures),
        ("Height", Kind::Figures),
    ]);
    for at in schedules::walls(plan) {
        let WallRef { room, wall } = at;
        let Some(panel) = &plan.rooms[room].walls[wall].panel else { continue };
        let strips: Vec<&str> = panel.strips.iter().map(|strip| strip.label.as_str()).collect();
        table.row(vec![
            Cell::new(""),
            wall_cell(plan, at),
            Cell::new(words::list(&strips)),
            Cell::new(words::cloth_length(plan, panel.gross.width())),
            Cell::new(words::cloth_length(plan, panel.gross.height())),
        ]);
    }
    let runs = plan.rooms.iter().flat_map(|room| &room.trim);
    let sewn: Vec<&str> = runs.filter(|run| !run.strips.is_empty()).map(|run| run.label.as_str()).collect();
    let mut section = Section::new("Cloth to bring, as the workroom hands it over");
    section.table(table);
    section.paragraph_if(
        (!sewn.is_empty()).then(|| format!("Sewn welt, marked by its run: {}.", words::list(&sewn))),
    );
    section
}

/// The materials to bring: what was bought for the job, but for the cloth, which the workroom sews.
fn materials(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Have", Kind::Tick),
        ("Count", Kind::Figures),
        ("Unit", Kind::Words),
        ("Material", Kind::Words),
    ]);
    for purchase in plan.purchases.iter().filter(|purchase| !matches!(purchase.goods, Goods::Cloth(_))) {
        table.row(vec![
            Cell::new(""),
            Cell::strong(purchase.count.to_string()),
            Cell::new(&purchase.unit),
            Cell::new(&purchase.item),
        ]);
    }
    let mut section = Section::new("Materials to bring");
    section.table(table);
    section
}

/// The tools to bring.
fn tools(plan: &Plan) -> Section {
    let mut table = Table::new(&[("Have", Kind::Tick), ("Tool", Kind::Words)]);
    for tool in &plan.tools {
        table.row(vec![Cell::new(""), Cell::new(tool)]);
    }
    let mut section = Section::new("Tools to bring");
    section.table(table);
    section
}
