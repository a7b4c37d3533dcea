//! What to order and bring: the cloth with its reckoning, all purchases with their reasons, tools.

use crate::job::model::Paper;
use crate::plan::model::{ClothPlan, Plan};
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{ComposeFault, Draft, words};
use crate::units::Length;

/// The order sheet.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the sheet.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut sections: Vec<Section> =
        (0..plan.cloths.len()).map(|i| cloth(plan, i, &plan.cloths[i])).collect();
    sections.push(purchases(plan));
    let document = Document {
        key: "order".to_owned(),
        title: "Order".to_owned(),
        heading: "Order".to_owned(),
        under: String::new(),
        description: "The cloth to order and how it was reckoned, and everything else to buy.".to_owned(),
        kind: "Order",
        sections,
    };
    document.drafts(paper)
}

fn cloth(plan: &Plan, index: usize, cut: &ClothPlan) -> Section {
    let cloth = &plan.job.cloths[index];
    let goods = |length| words::goods_length(plan, cloth.sold_in, length);
    let mut table = Table::new(&[("", Kind::Words), ("", Kind::Figures)]);
    let mut line = |name: &str, value: String, strong: bool| {
        let cell = if strong { Cell::strong } else { Cell::new };
        table.row(vec![cell(name.to_owned()), cell(value)]);
    };
    line("Used by this plan", goods(cut.used), false);
    if cut.phase_allowance > Length::ZERO {
        let text = format!(
            "One repeat a bolt, as its start is not known ({})",
            words::counted(cut.bolts.len() as i64, "bolt")
        );
        line(&text, goods(cut.phase_allowance), false);
    }
    line("Spare", goods(cut.spare), false);
    line("Order", words::goods_units(cloth.sold_in, cut.order_units), true);
    let mut section =
        Section::new(format!("{}: order {}", cloth.name, words::goods_units(cloth.sold_in, cut.order_units)));
    section.table(table);
    section.paragraph(bound(plan, index, cut));
    section.table(hand_rules(plan, index, cut));
    section
}

/// How near the plan is to the least that any cutting could use.
fn bound(plan: &Plan, index: usize, cut: &ClothPlan) -> String {
    let goods = |length| words::goods_length(plan, plan.job.cloths[index].sold_in, length);
    if cut.bound >= cut.used {
        return "No cutting order can use less: this one is proved the shortest.".to_owned();
    }
    format!("It is proved that no cutting order can use less than {}.", goods(cut.bound))
}

/// The published hand rules beside the plan.
fn hand_rules(plan: &Plan, index: usize, cut: &ClothPlan) -> Table {
    let goods = |length| words::goods_length(plan, plan.job.cloths[index].sold_in, length);
    let mut table =
        Table::new(&[("For comparison, before rounding", Kind::Words), ("Length", Kind::Figures)]);
    for rule in &cut.hand_rules {
        let name = match rule.name.as_str() {
            "round-up" => "Hand rule round-up: each drop cut to the next whole repeat".to_owned(),
            "add-one" => "Hand rule add-one: each drop cut with one repeat more".to_owned(),
            other => format!("Hand rule {other}"),
        };
        table.row(vec![Cell::new(name), Cell::new(goods(rule.length))]);
    }
    table
}

fn purchases(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Have", Kind::Tick),
        ("Buy", Kind::Figures),
        ("Unit", Kind::Words),
        ("What", Kind::Words),
        ("Why so much", Kind::Words),
    ]);
    for purchase in &plan.purchases {
        table.row(vec![
            Cell::new(""),
            Cell::strong(purchase.count.to_string()),
            Cell::new(&purchase.unit),
            Cell::strong(&purchase.item),
            Cell::new(&purchase.reason),
        ]);
    }
    let mut section = Section::new("Everything to buy");
    section.table(table);
    section
}

/// The tools, as a section for the crew and the workroom.
pub fn tools(plan: &Plan) -> Section {
    let mut table = Table::new(&[("Have", Kind::Tick), ("Tool", Kind::Words)]);
    for tool in &plan.tools {
        table.row(vec![Cell::new(""), Cell::new(tool)]);
    }
    let mut section = Section::new("Tools");
    section.table(table);
    section
}
