//! What to order and bring: the cloth with its reckoning, all purchases with their reasons, tools.

use crate::job::model::{Cloth, OpeningCloth};
use crate::plan::model::{Bolt, ClothPlan, PieceKind, Plan, RoomOptions};
use crate::sheet::document::{Document, Section};
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::words;
use crate::units::Length;

/// The order sheet.
pub fn document(plan: &Plan) -> Document {
    let cloths = plan.cloths.iter().enumerate();
    let of_cloth = |(index, cut)| {
        let turned = ways(plan, index, cut);
        [Some(reckoning(plan, index, cut)), turned, Some(comparison(plan, index, cut))].into_iter().flatten()
    };
    let mut sections: Vec<Section> = cloths.flat_map(of_cloth).collect();
    sections.push(purchases(plan));
    sections.extend(starts(plan));
    sections.extend(openings(plan));
    Document {
        key: "order".to_owned(),
        title: "Order".to_owned(),
        heading: "Order".to_owned(),
        under: String::new(),
        description: "The cloth to order and how it was reckoned, and everything else to buy.".to_owned(),
        kind: "Order",
        scale: String::new(),
        sections,
    }
}

/// What is ordered of a cloth, and of what it is made up.
fn reckoning(plan: &Plan, index: usize, cut: &ClothPlan) -> Section {
    let cloth = &plan.job.cloths[index];
    let goods = |length| words::sold(length, cloth.sold_in);
    let mut table = Table::new(&[("", Kind::Words), ("", Kind::Amounts)]);
    table.row(vec![Cell::new(format!("Used: {}", made_up_of(plan, index))), Cell::new(goods(cut.used))]);
    // What the drops leave beside them gives strips for nothing.
    for (less, more, text) in [
        (
            cut.drops_alone,
            cut.without_samples,
            "Of this for strips of trim, beyond those that find room beside the drops",
        ),
        (cut.without_samples, cut.used, "Of this for samples, beyond those that find room beside the rest"),
    ] {
        if more > less && cloth.on_hand.is_empty() {
            let beyond = words::sold_apart(less, more, cloth.sold_in);
            table.row(vec![Cell::new(text), Cell::new(goods(beyond))]);
        }
    }
    if cut.phase_allowance > Length::ZERO {
        let known = |at: usize| cloth.on_hand[at].first_motif.is_some();
        let unknown = cut.bolts.iter().filter(|bolt| !bolt.on_hand.is_some_and(known));
        let text = match unknown.count() {
            1 => "One repeat, since a bolt starts anywhere in the pattern".to_owned(),
            bolts => {
                format!("One repeat for each of {bolts} bolts, since they start anywhere in the pattern")
            }
        };
        table.row(vec![Cell::new(text), Cell::new(goods(cut.phase_allowance))]);
    }
    if cut.spare > Length::ZERO {
        table.row(vec![Cell::new("Spare"), Cell::new(goods(cut.spare))]);
    }
    // Bolts on hand are told below as they are once relaxed.
    if cut.shrinks > Length::ZERO && cloth.on_hand.is_empty() {
        let text = format!("Lost when the cloth is relaxed, {} of its length", cloth.shrinkage.along.print());
        table.row(vec![Cell::new(text), Cell::new(goods(cut.shrinks))]);
    }
    let order = if cloth.on_hand.is_empty() {
        let order = words::goods_units(cloth.sold_in, cut.order_units);
        table.row(vec![Cell::strong("To order, rounded up"), Cell::strong(&order)]);
        order
    } else {
        for (index_of, bolt) in cut.bolts.iter().enumerate() {
            let Some(there) = bolt.on_hand.and_then(|at| cloth.on_hand.get(at)) else { continue };
            let name = words::bolt(plan, index, index_of);
            let relaxed = if cloth.shrinkage.any() { " relaxed" } else { "" };
            let words = format!("{name}: {} of {}{relaxed}", goods(bolt.used), goods(there.length));
            table.row(vec![
                Cell::strong(words),
                Cell::strong(format!("{} left", words::sold_whole(there.length - bolt.used, cloth.sold_in))),
            ]);
        }
        "on hand".to_owned()
    };
    let mut section = Section::new(format!("{}: {order}", words::capital(&cloth.name)));
    section.table(table);
    if cloth.on_hand.is_empty() {
        section.paragraph(pieces_to_ask_for(cloth, cut));
    }
    if let Some(most) = cloth.most_points {
        section.paragraph(format!(
            "A bolt is accepted with at most {most} points in 100 square yards, by the four-point count of ASTM D5430."
        ));
    }
    section
}

/// What the mill must know beside the length: how long each piece is at least, and that all are of one lot.
fn pieces_to_ask_for(cloth: &Cloth, cut: &ClothPlan) -> String {
    let unit = cloth.sold_in.length();
    let each = cut.bolts.len().max(1) as i64;
    // What is ordered beyond the need may come with any of them, so each is told with its own share alone.
    let share = (cut.phase_allowance + cut.spare + cut.shrinks) / each;
    let least = |bolt: &Bolt| words::goods_units(cloth.sold_in, (bolt.used + share).div_ceil(unit));
    match cut.bolts.as_slice() {
        [] | [_] => "To ask for: one piece without a join, of one dye lot.".to_owned(),
        bolts => {
            let least: Vec<String> = bolts.iter().map(least).collect();
            format!(
                "To ask for: {} pieces of one dye lot, of at least {}; other lengths do not hold the panels.",
                bolts.len(),
                words::list(&least)
            )
        }
    }
}

/// How many pieces of each kind are cut of a cloth.
fn made_up_of(plan: &Plan, index: usize) -> String {
    let kinds = [
        PieceKind::Drop,
        PieceKind::PartDrop,
        PieceKind::Railroaded,
        PieceKind::OpeningPiece,
        PieceKind::UprightStrip,
        PieceKind::LevelStrip,
        PieceKind::Sample,
    ];
    let count = |kind| plan.pieces.iter().filter(|piece| piece.cloth == index && piece.kind == kind).count();
    let parts =
        kinds.into_iter().map(|kind| (count(kind), words::piece_kind(kind))).filter(|&(count, _)| count > 0);
    parts.map(|(count, kind)| words::counted(count as i64, kind)).collect::<Vec<_>>().join(", ")
}

/// What a cloth that may be turned takes upright and railroaded.
fn ways(plan: &Plan, index: usize, cut: &ClothPlan) -> Option<Section> {
    if cut.compared.is_empty() {
        return None;
    }
    let sold_in = plan.job.cloths[index].sold_in;
    let mut section = Section::new("Upright or railroaded");
    let mut table = Table::new(&[
        ("Way", Kind::Words),
        ("Used", Kind::Amounts),
        ("To order", Kind::Amounts),
        ("Seams", Kind::Figures),
    ]);
    for trial in cut.compared.iter().filter(|trial| trial.why_not.is_empty()) {
        let name = words::capital(words::way(trial.way));
        let way = if trial.way == plan.way(index) {
            Cell::strong(format!("{name}: this plan"))
        } else {
            Cell::new(name)
        };
        table.row(vec![
            way,
            Cell::new(words::sold(trial.used, sold_in)),
            Cell::new(words::goods_units(sold_in, trial.order_units)),
            Cell::new(trial.seams.to_string()),
        ]);
    }
    section.table(table);
    for trial in cut.compared.iter().filter(|trial| !trial.why_not.is_empty()) {
        let way = words::capital(words::way(trial.way));
        section.paragraph(format!("{way} it cannot hang: {}.", trial.why_not));
    }
    Some(section)
}

/// The plan beside the least that is possible and beside the published hand rules.
fn comparison(plan: &Plan, index: usize, cut: &ClothPlan) -> Section {
    let goods = |length| words::sold(length, plan.job.cloths[index].sold_in);
    // What is proved is not rounded up to more than that, unless it is what is used, which is told so.
    let bound = match cut.used == cut.bound {
        true => goods(cut.used),
        false => words::sold_whole(cut.bound, plan.job.cloths[index].sold_in),
    };
    let mut section = Section::new("How near the least");
    let cloth = &plan.job.cloths[index];
    let begun = cloth.on_hand.iter().any(|bolt| !bolt.cuts.is_empty());
    let whatever = match (begun, cut.round_flaws > Length::ZERO) {
        (true, _) => "what is cut already and the size of the other pieces take at least",
        (false, true) => {
            "no way of cutting these pieces from sound cloth, in lays as assumed, uses less than"
        }
        (false, false) => "no way of cutting these pieces, from lays as assumed, uses less than",
    };
    section.paragraph(format!("{}: {whatever} {}.", words::capital(&cut.nearness()), bound));
    // The hand rules reckon with a repeat, which plain cloth has not.
    if cloth.pattern.is_none() {
        return section;
    }
    let mut table = Table::new(&[
        ("The same drops, without trim and samples", Kind::Words),
        ("Length", Kind::Amounts),
        ("Against this plan", Kind::Amounts),
    ]);
    table.row(vec![
        Cell::strong("This plan, each drop in its place in the pattern"),
        Cell::strong(goods(cut.drops_alone)),
    ]);
    for rule in &cut.hand_rules {
        let name = match rule.name.as_str() {
            "round-up" => "Hand rule round-up: each drop to the next whole repeat".to_owned(),
            "add-one" => "Hand rule add-one: each drop and one repeat more".to_owned(),
            other => words::capital(other),
        };
        let saved = words::sold_apart(cut.drops_alone, rule.length, cloth.sold_in);
        let against = against(saved.nm(), goods(saved.abs()));
        table.row(vec![Cell::new(name), Cell::new(goods(rule.length)), Cell::new(against)]);
    }
    section.table(table);
    if cut.hand_rules.iter().any(|rule| rule.saved < Length::ZERO) {
        section.paragraph(
            "A hand rule counts drops one by one and knows nothing of the match at the corners: where it asks \
             for less, it can come short of what the room needs.",
        );
    }
    section
}

/// The starts that the designer may choose from, with what the job file says for each.
fn starts(plan: &Plan) -> Vec<Section> {
    let several = plan.rooms.len() > 1;
    let compared = plan.options.iter().filter(|compared| compared.options.len() > 1);
    let section = |compared: &RoomOptions| {
        let name = &plan.job.rooms[compared.room].name;
        let mut table = Table::new(&[
            ("Option", Kind::Words),
            ("Line of the job file", Kind::Prose),
            ("Used", Kind::Amounts),
        ]);
        for option in &compared.options {
            let letter = if option.chosen { Cell::strong(&option.letter) } else { Cell::new(&option.letter) };
            let sold_in = plan.job.cloths[plan.job.rooms[compared.room].cloth].sold_in;
            table.row(vec![letter, Cell::new(&option.line), Cell::new(words::sold(option.used, sold_in))]);
        }
        let of = if several { format!(", {name}") } else { String::new() };
        let mut section = Section::new(format!("If the designer ticks another option{of}"));
        section.table(table);
        section
    };
    compared.map(section).collect()
}

/// What each opening would take and show, were it pieced where it is covered or covered where it is pieced.
fn openings(plan: &Plan) -> Option<Section> {
    let first = plan.opening_trials.first()?;
    let mut table = Table::new(&[
        ("Opening", Kind::Words),
        ("Wall", Kind::Words),
        ("Cut-out", Kind::Amounts),
        ("Way", Kind::Words),
        ("Used", Kind::Amounts),
        ("To order", Kind::Amounts),
        ("Seams in sight", Kind::Amounts),
        ("Their length", Kind::Amounts),
    ]);
    let mut cannot = Vec::new();
    for trial in &plan.opening_trials {
        let room = &plan.job.rooms[trial.wall.room];
        let opening = &room.walls[trial.wall.wall].openings[trial.opening];
        let sold_in = plan.job.cloths[room.cloth].sold_in;
        let (own, other) = match opening.cloth {
            OpeningCloth::CoveredThrough => ("covered", "pieced"),
            OpeningCloth::Pieced => ("pieced", "covered"),
        };
        let Some(compared) = trial.other else {
            cannot.push(format!("{} cannot be {other}: {}.", opening.label, trial.why_not));
            continue;
        };
        let size = [opening.outer.width(), opening.outer.height()].map(|l| words::cloth_length(plan, l));
        let cloth = |length| words::sold(length, sold_in);
        table.row(vec![
            Cell::strong(&opening.label),
            Cell::new(words::wall(plan, trial.wall)),
            Cell::new(size.join(" × ")),
            Cell::new(format!("{other}, not {own}")),
            Cell::new(against(compared.more_used.nm(), cloth(compared.more_used.abs()))),
            Cell::new(against(compared.more_units, words::goods_units(sold_in, compared.more_units.abs()))),
            Cell::new(against(compared.more_seams, compared.more_seams.abs().to_string())),
            Cell::new(against(
                compared.more_in_sight.nm(),
                words::length(plan, compared.more_in_sight.abs()),
            )),
        ]);
    }
    let mut section = Section::new("Openings pieced over and under, or covered and cut free");
    let alone = if first.shared { " Rooms of one cloth are compared each cut by itself." } else { "" };
    section.paragraph(format!(
        "What the plan would take and show if one opening went the other way, with the pattern where it is. What a \
         covered opening gives back for trim is counted. Write cloth=pieced or cloth=covered at the \
         opening to have it so.{alone}",
    ));
    section.table(table);
    cannot.into_iter().for_each(|why| section.paragraph(why));
    Some(section)
}

/// How much more or less, of what is written without its sign.
fn against(more: i64, written: String) -> String {
    match more {
        0 => "the same".to_owned(),
        1.. => format!("{written} more"),
        _ => format!("{written} less"),
    }
}

fn purchases(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Have", Kind::Tick),
        ("Buy", Kind::Figures),
        ("Unit", Kind::Words),
        ("What", Kind::Prose),
        ("Needed", Kind::Amounts),
        ("Left over", Kind::Amounts),
        ("Why so much", Kind::Prose),
    ]);
    for purchase in &plan.purchases {
        table.row(vec![
            Cell::new(""),
            Cell::strong(purchase.count.to_string()),
            Cell::new(&purchase.unit),
            Cell::strong(&purchase.item),
            Cell::new(words::amount(purchase.need)),
            Cell::new(words::left(purchase)),
            Cell::new(&purchase.reason),
        ]);
    }
    let mut section = Section::new("Everything to buy");
    section.table(table);
    section
}
