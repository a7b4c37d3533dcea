//! Cloth as it was received: what was measured, the flaws, what to claim, what is cut already in vain.

use crate::job::model::{Cloth, Flaw, OnHand};
use crate::plan::claims;
use crate::plan::model::{Bolt, Plan};
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::{bolt_map, words};
use crate::units::Length;

/// The key of its first sheet.
pub const KEY: &str = "received";

/// The sheet of the cloths of which more is known than lengths and lots; without sections where none is.
pub fn document(plan: &Plan) -> Document {
    let known = |(_, cloth): &(usize, &Cloth)| cloth.on_hand.iter().any(is_known);
    let cloths = plan.job.cloths.iter().enumerate().filter(known);
    let several = cloths.clone().count() > 1;
    let of_cloth = |(index, cloth): (usize, &Cloth)| {
        let mut parts = [
            before_cutting(cloth),
            flaws(plan, index, cloth),
            to_claim(plan, index, cloth),
            in_vain(plan, index, cloth),
        ];
        for part in parts.iter_mut().filter(|_| several) {
            part.heading = format!("{}, {}", part.heading, cloth.name);
        }
        std::iter::once(bolts(plan, index, cloth)).chain(parts)
    };
    let sections = cloths.flat_map(of_cloth).collect();
    Document {
        key: KEY.to_owned(),
        title: "Cloth as received".to_owned(),
        heading: "Cloth as received".to_owned(),
        under: String::new(),
        description: "The bolts as measured, their flaws and points, what to claim, and what is cut already."
            .to_owned(),
        kind: "Cloth received",
        scale: String::new(),
        sections,
    }
}

/// Whether anything is known of a bolt that the order does not tell.
fn is_known(bolt: &OnHand) -> bool {
    let OnHand { first_motif, cuts, flaws, claims, measured, .. } = bolt;
    let nothing = first_motif.is_none() && cuts.is_empty() && flaws.is_empty() && claims.is_empty();
    !nothing || [measured.width, measured.horizontal, measured.vertical].iter().any(Option::is_some)
}

/// What is planned of a bolt, when something is cut from it.
fn planned(plan: &Plan, index: usize, at: usize) -> Option<&Bolt> {
    plan.cloths[index].bolts.iter().find(|bolt| bolt.on_hand == Some(at))
}

fn bolts(plan: &Plan, index: usize, cloth: &Cloth) -> Section {
    let goods = |length| words::sold(length, cloth.sold_in);
    let measure = |length: Option<Length>| {
        Cell::new(length.map_or("as said".to_owned(), |length| words::cloth_length(plan, length)))
    };
    let mut columns = vec![
        ("Bolt", Kind::Figures),
        ("Dye lot", Kind::Words),
        ("Delivered", Kind::Amounts),
        ("Width", Kind::Amounts),
    ];
    if cloth.pattern.is_some() {
        columns.extend([
            ("Repeat across", Kind::Amounts),
            ("Repeat along", Kind::Amounts),
            ("First motif", Kind::Amounts),
        ]);
    }
    columns.extend([
        ("Points", Kind::Figures),
        ("In 100 sq yd", Kind::Figures),
        ("Used to", Kind::Amounts),
        ("Left", Kind::Amounts),
    ]);
    let mut table = Table::new(&columns);
    for (at, bolt) in cloth.on_hand.iter().enumerate() {
        let used = planned(plan, index, at).map_or(Length::ZERO, |bolt| bolt.used);
        let mut row = vec![
            Cell::strong((at + 1).to_string()).to(bolt_map::key(index)),
            Cell::new(&bolt.lot),
            Cell::new(goods(bolt.delivered)),
            measure(bolt.measured.width),
        ];
        if cloth.pattern.is_some() {
            row.push(measure(bolt.measured.horizontal));
            row.push(measure(bolt.measured.vertical));
            let first = bolt.first_motif.map(|first| words::cloth_length(plan, first));
            row.push(Cell::new(first.unwrap_or_else(|| "not known".to_owned())));
        }
        row.extend([
            Cell::new(bolt.points.total.to_string()),
            Cell::new(claims::hundredths(bolt.points.per_100_square_yards)),
            Cell::new(goods(used)),
            Cell::strong(words::sold_whole(bolt.length - used, cloth.sold_in)),
        ]);
        table.row(row);
    }
    let mut section = Section::new(words::capital(&cloth.name));
    section.paragraph(format!("{}.", planned_as(plan, cloth)));
    section.table(table);
    section.paragraph(
        "Points by the four-point count of ASTM D5430: a flaw up to 3 in counts 1, up to 6 in 2, up to 9 in 3, \
         longer ones 4; a hole up to 1 in 2, larger ones 4; no yard counts more than 4. In 100 square yards: points \
         × 3600, divided by the yards delivered and by the inches between the selvages.",
    );
    section
}

/// By what the cloth is planned.
fn planned_as(plan: &Plan, cloth: &Cloth) -> String {
    let length = |length| words::cloth_length(plan, length);
    let mut told =
        format!("Planned as {} wide, {} between match lines", length(cloth.width), length(cloth.match_width));
    if let Some(lattice) = cloth.pattern {
        told += &format!(
            ", a repeat of {} across the bolt and {} along it",
            length(lattice.horizontal),
            length(lattice.vertical)
        );
    }
    let Some(label) = cloth.label else { return told };
    told += &format!("; the label says {}, {}", length(label.width), length(label.match_width));
    if let Some(lattice) = label.pattern {
        told += &format!(", {} and {}", length(lattice.horizontal), length(lattice.vertical));
    }
    told
}

/// What is to be done before the first cut, to be ticked.
fn before_cutting(cloth: &Cloth) -> Section {
    let any = |has: fn(&OnHand) -> bool| cloth.on_hand.iter().any(has);
    let mut checks = Vec::new();
    if any(|bolt| bolt.cuts.is_empty() && bolt.first_motif.is_some()) && cloth.pattern.is_some() {
        checks.push(
            "From the start of each bolt to the first centre of a motif, in the column next to the left match line, \
             it is as the table says.",
        );
    }
    if any(|bolt| !bolt.flaws.is_empty()) {
        checks.push(
            "Each flaw is marked with a thread at the left selvage, at its distance from the bolt's start.",
        );
    }
    if any(|bolt| !bolt.cuts.is_empty()) {
        checks.push("The pieces cut already are counted and labelled, and lie flat.");
    }
    if any(|bolt| !bolt.claims.is_empty()) {
        checks.push(
            "The mill has been told of the claims, and has answered: cloth once cut is seldom taken back.",
        );
    }
    let mut lots: Vec<&str> = cloth.on_hand.iter().map(|bolt| bolt.lot.as_str()).collect();
    lots.sort_unstable();
    lots.dedup();
    if lots.len() > 1 {
        checks.push("The dye lots have been laid side by side in daylight.");
    }
    let mut table = Table::new(&[("Done", Kind::Tick), ("Before the next cut", Kind::Prose)]);
    for check in checks {
        table.row(vec![Cell::new(""), Cell::new(check)]);
    }
    let mut section = Section::new("Before cutting");
    section.table(table);
    section
}

fn flaws(plan: &Plan, index: usize, cloth: &Cloth) -> Section {
    let mut table = Table::new(&[
        ("Bolt", Kind::Figures),
        ("Flaw", Kind::Words),
        ("From bolt start", Kind::Figures),
        ("From left edge", Kind::Figures),
        ("Length", Kind::Figures),
        ("Width", Kind::Figures),
        ("Points", Kind::Figures),
        ("In the plan", Kind::Words),
    ]);
    let length = |length| Cell::new(words::cloth_length(plan, length));
    for (at, bolt) in cloth.on_hand.iter().enumerate() {
        let used = planned(plan, index, at).map_or(Length::ZERO, |bolt| bolt.used);
        for flaw in &bolt.flaws {
            table.row(vec![
                Cell::strong((at + 1).to_string()),
                Cell::new(if flaw.what.is_empty() { "flaw" } else { flaw.what.as_str() }),
                length(flaw.v),
                length(flaw.u),
                length(flaw.length),
                length(flaw.width),
                Cell::new(flaw.points.to_string()),
                Cell::new(fate(cloth, flaw, used)),
            ]);
        }
    }
    let mut section = Section::new("Flaws");
    if !table.rows.is_empty() {
        section.paragraph(
            "Every cut keeps clear of a flaw, its allowances too. Flaws are crossed boxes on the bolt map.",
        );
    }
    section.table(table);
    section
}

/// What the plan makes of a flaw of a bolt that is used so far.
fn fate(cloth: &Cloth, flaw: &Flaw, used: Length) -> &'static str {
    match (flaw.accepted, cloth.is_cut_over(flaw)) {
        (true, _) => "accepted",
        (_, true) => "within the selvage",
        _ if flaw.v >= used => "beyond the last cut",
        _ => "kept clear of",
    }
}

fn to_claim(plan: &Plan, index: usize, cloth: &Cloth) -> Section {
    let mut table = Table::new(&[
        ("Bolt", Kind::Figures),
        ("Dye lot", Kind::Words),
        ("To claim from the mill", Kind::Prose),
    ]);
    for (at, bolt) in cloth.on_hand.iter().enumerate() {
        for claim in &bolt.claims {
            table.row(vec![
                Cell::strong((at + 1).to_string()),
                Cell::new(&bolt.lot),
                Cell::new(words::sentence(&claims::claim(&plan.job, cloth, claim))),
            ]);
        }
    }
    let lost = plan.cloths[index].round_flaws;
    if lost > Length::ZERO {
        let words = format!(
            "Cutting clear of the flaws takes {} more than sound cloth would.",
            words::sold(lost, cloth.sold_in)
        );
        table.row(vec![Cell::new(""), Cell::new(""), Cell::new(words)]);
    }
    let mut section = Section::new("Claims");
    section.table(table);
    section
}

/// Cuts that serve no piece any more, and what is cut from each instead.
fn in_vain(plan: &Plan, index: usize, cloth: &Cloth) -> Section {
    let mut table = Table::new(&[
        ("Bolt", Kind::Figures),
        ("Cut", Kind::Words),
        ("From bolt start", Kind::Figures),
        ("Length", Kind::Figures),
        ("Width", Kind::Figures),
        ("Why in vain", Kind::Prose),
        ("Cut from it now", Kind::Words),
    ]);
    for (at, bolt) in cloth.on_hand.iter().enumerate() {
        let Some(done) = planned(plan, index, at) else { continue };
        for (cut, made) in bolt.cuts.iter().zip(&done.made).filter(|(_, made)| made.serves.is_none()) {
            let ids = done.lays.iter().filter(|lay| lay.made).flat_map(|lay| &lay.pieces);
            let pieces = ids.filter_map(|id| plan.pieces.get(id.0)).filter(|piece| {
                let place = piece.cut;
                let along = place.v < cut.v + cut.length && cut.v < place.v + place.length;
                place.made.is_none() && along && place.u < cut.u + cut.width && cut.u < place.u + place.width
            });
            let pieces: Vec<&str> = pieces.map(|piece| piece.label.as_str()).collect();
            table.row(vec![
                Cell::strong((at + 1).to_string()),
                Cell::strong(&cut.label),
                Cell::new(words::cloth_length(plan, cut.v)),
                Cell::new(words::cloth_length(plan, cut.length)),
                Cell::new(words::cloth_length(plan, cut.width)),
                Cell::new(words::sentence(&made.why)),
                Cell::new(if pieces.is_empty() { "nothing".to_owned() } else { words::list(&pieces) }),
            ]);
        }
    }
    let mut section = Section::new("Cut in vain");
    section.table(table);
    section
}
