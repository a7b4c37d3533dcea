//! What the job costs: for the contractor alone.

use crate::plan::model::{Costs, Labour, Plan};
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::words;

/// The cost sheet; `None` when the job gives no prices.
pub fn document(plan: &Plan) -> Option<Document> {
    let costs = plan.costs.as_ref()?;
    let mut sections = vec![materials(plan, costs)];
    sections.extend(unpriced(plan, costs));
    sections.extend(costs.labour.as_ref().map(|labour| work(costs, labour)));
    sections.push(total(costs));
    Some(Document {
        key: "costs".to_owned(),
        title: "Costs".to_owned(),
        heading: "Costs".to_owned(),
        under: String::new(),
        description: "What the materials and the work cost. For the contractor alone.".to_owned(),
        kind: "Costs",
        scale: String::new(),
        sections,
    })
}

fn materials(plan: &Plan, costs: &Costs) -> Section {
    let mut table = Table::new(&[
        ("Buy", Kind::Figures),
        ("Unit", Kind::Words),
        ("What", Kind::Prose),
        ("Price of one", Kind::Figures),
        ("Sum", Kind::Figures),
        ("Left over", Kind::Amounts),
        ("Why so much", Kind::Prose),
    ]);
    for line in &costs.lines {
        let Some(purchase) = plan.purchases.get(line.purchase) else { continue };
        table.row(vec![
            Cell::strong(purchase.count.to_string()),
            Cell::new(&purchase.unit),
            Cell::strong(&purchase.item),
            Cell::new(line.price.print()),
            Cell::new(line.sum.print()),
            Cell::new(words::left(purchase)),
            Cell::new(&purchase.reason),
        ]);
    }
    let mut section = Section::new("Materials");
    section.paragraph(format!(
        "All amounts in {}, without tax and carriage. Each need is rounded up once, to what it is sold in.",
        costs.currency
    ));
    section.table(table);
    section
}

/// What has no price, so that the sum is not taken for the whole; `None` when all has.
fn unpriced(plan: &Plan, costs: &Costs) -> Option<Section> {
    let mut table = Table::new(&[("Buy", Kind::Figures), ("Unit", Kind::Words), ("What", Kind::Words)]);
    for purchase in costs.unpriced.iter().filter_map(|index| plan.purchases.get(*index)) {
        table.row(vec![
            Cell::strong(purchase.count.to_string()),
            Cell::new(&purchase.unit),
            Cell::strong(&purchase.item),
        ]);
    }
    let mut section = Section::new("Not in the sum: no price is given");
    section.table(table);
    (!costs.unpriced.is_empty()).then_some(section)
}

fn work(costs: &Costs, labour: &Labour) -> Section {
    let mut table = Table::new(&[("Part of the work", Kind::Words), ("Hours of one person", Kind::Amounts)]);
    for (stage, minutes) in &labour.stages {
        table.row(vec![Cell::new(words::stage(*stage)), Cell::new(words::hours(*minutes))]);
    }
    table.row(vec![Cell::strong("All"), Cell::strong(words::hours(labour.minutes))]);
    let mut section = Section::new("Work");
    section.paragraph(format!(
        "An hour of one person at {} {}. The hours are estimates by the rates of the job; waiting for glue is not in them.",
        costs.currency,
        labour.hour.print()
    ));
    section.table(table);
    section
}

fn total(costs: &Costs) -> Section {
    let mut table = Table::new(&[("", Kind::Words), ("", Kind::Figures)]);
    table.row(vec![Cell::new("Materials"), Cell::new(costs.materials.print())]);
    if let Some(labour) = &costs.labour {
        table.row(vec![Cell::new("Work"), Cell::new(labour.sum.print())]);
    }
    table.row(vec![Cell::strong(format!("All, in {}", costs.currency)), Cell::strong(costs.total.print())]);
    let mut section = Section::new("Sum");
    section.whole = true;
    section.table(table);
    section
}
