//! What a run tells when it is done: the few facts that a person wants before opening the paper.

use std::path::Path;

use clothwright::binder::Binder;
use clothwright::job::model::{OpeningCloth, SoldIn};
use clothwright::page::Page;
use clothwright::plan::model::{
    ClothPlan, OpeningTrial, PieceKind, Plan, RegistrationOption, RoomOptions, Way,
};
use clothwright::plan::words;
use clothwright::units::Length;

use crate::console;

/// How many assumptions are told before the rest is left to the sheets.
const TOLD: usize = 5;

/// The summary of a binder, one fact a paragraph.
pub fn tell(plan: &Plan, binder: &Binder, folder: &Path) -> String {
    let mut page = Page::new(console::width());
    let facts = &plan.job.facts;
    page.head(&format!("{} ({})", facts.title, facts.number));
    for (index, cloth) in plan.cloths.iter().enumerate() {
        page.fact("Order", &order(plan, index, cloth));
        page.fact("Cut", &cut(plan, index, cloth));
        page.fact("Least", &format!("{}, for these pieces", cloth.nearness()));
        if !cloth.compared.is_empty() {
            page.fact("Hangs", &hangs(plan, index, cloth));
        }
    }
    if let Some(costs) = &plan.costs {
        page.fact("Costs", &format!("{} {}, told in no set but costs", costs.currency, costs.total.print()));
    }
    plan.options.iter().for_each(|compared| page.fact("Options", &options(plan, compared)));
    if let Some(told) = openings(plan) {
        page.fact("Openings", &told);
    }
    plan.all_to_watch().for_each(|watch| page.fact("Watch", watch));
    page.fact("Assumed", &assumed(plan));
    page.fact("Written", &written(binder, folder));
    page.text()
}

fn order(plan: &Plan, index: usize, cloth: &ClothPlan) -> String {
    let Some(goods) = plan.job.cloths.get(index) else { return String::new() };
    let print = |length: Length| words::sold(length, goods.sold_in);
    let unit = unit(goods.sold_in);
    let mut parts = vec![format!("{} used", print(cloth.used))];
    if cloth.phase_allowance > Length::ZERO {
        parts.push(format!(
            "{} because the bolt starts anywhere in the pattern",
            print(cloth.phase_allowance)
        ));
    }
    if cloth.spare > Length::ZERO {
        parts.push(format!("{} spare", print(cloth.spare)));
    }
    if cloth.shrinks > Length::ZERO && goods.on_hand.is_empty() {
        parts.push(format!("{} lost when it is relaxed", print(cloth.shrinks)));
    }
    match goods.on_hand.len() {
        0 => format!("{} {unit} of {} ({})", cloth.order_units, goods.name, parts.join(", ")),
        all => format!(
            "no {}: {} of {} on hand are cut ({})",
            goods.name,
            cloth.bolts.len(),
            words::counted(all as i64, "bolt"),
            parts.join(", ")
        ),
    }
}

const fn unit(sold_in: SoldIn) -> &'static str {
    match sold_in {
        SoldIn::Yard => "yd",
        SoldIn::Metre => "m",
    }
}

fn cut(plan: &Plan, index: usize, cloth: &ClothPlan) -> String {
    let count = |wanted: &[PieceKind]| {
        plan.pieces.iter().filter(|piece| piece.cloth == index && wanted.contains(&piece.kind)).count()
    };
    let (whole, part) = (count(&[PieceKind::Drop]), count(&[PieceKind::PartDrop]));
    let strips = count(&[PieceKind::UprightStrip, PieceKind::LevelStrip]);
    let openings = count(&[PieceKind::OpeningPiece]);
    let railroaded = count(&[PieceKind::Railroaded]);
    let parts = [
        (whole, "whole width"),
        (part, "part width"),
        (railroaded, "railroaded piece"),
        (openings, "opening piece"),
        (strips, "trim strip"),
        (count(&[PieceKind::Sample]), "sample"),
    ];
    let parts = parts.into_iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> = parts.map(|(count, one)| words::counted(count as i64, one)).collect();
    match plan.way(index) {
        Way::Upright => format!("{}: {}", words::counted(cloth.widths as i64, "drop"), parts.join(", ")),
        Way::Railroaded => parts.join(", "),
    }
}

/// What a cloth takes each way.
fn hangs(plan: &Plan, index: usize, cloth: &ClothPlan) -> String {
    let sold_in = plan.job.cloths.get(index).map_or(SoldIn::Yard, |goods| goods.sold_in);
    let trials = cloth.compared.iter().map(|trial| match trial.why_not.as_str() {
        "" => {
            let seams = words::counted(trial.seams as i64, "seam");
            format!("{} takes {} and {seams}", words::way(trial.way), words::sold(trial.used, sold_in))
        }
        why_not => format!("{} it cannot: {why_not}", words::way(trial.way)),
    });
    let told: Vec<String> = trials.collect();
    format!("{}; {}", words::way(plan.way(index)), told.join("; "))
}

/// The starts that a room's pattern could have, with what each would order, or use of what is there.
fn options(plan: &Plan, compared: &RoomOptions) -> String {
    let room = &plan.job.rooms[compared.room];
    let cloth = &plan.job.cloths[room.cloth];
    let takes = |option: &RegistrationOption| match cloth.on_hand.is_empty() {
        true => format!("{} {}", option.order_units, unit(cloth.sold_in)),
        false => words::sold(option.used, cloth.sold_in),
    };
    let told = compared.options.iter().map(|option| {
        let name = option.names.first().map_or("", String::as_str);
        let now = if option.chosen { "now " } else { "" };
        format!("{} {name}, {now}{}", option.letter, takes(option))
    });
    let alone = if compared.shared { ", cut by itself" } else { "" };
    format!("{}{alone}: {}", room.name, told.collect::<Vec<_>>().join("; "))
}

/// The openings that would take less cloth the other way.
fn openings(plan: &Plan) -> Option<String> {
    let told = |trial: &OpeningTrial| {
        let other = trial.other.filter(|other| other.more_used < Length::ZERO)?;
        let room = plan.job.rooms.get(trial.wall.room)?;
        let opening = room.walls.get(trial.wall.wall)?.openings.get(trial.opening)?;
        let way = match opening.cloth {
            OpeningCloth::CoveredThrough => "pieced",
            OpeningCloth::Pieced => "covered",
        };
        let less = words::sold(-other.more_used, plan.job.cloths.get(room.cloth)?.sold_in);
        let seams = match other.more_seams {
            0 => "as many seams".to_owned(),
            more => {
                format!("{} {}", words::counted(more.abs(), "seam"), if more > 0 { "more" } else { "less" })
            }
        };
        Some(format!("{} {way} would take {less} less and show {seams}", opening.label))
    };
    let told: Vec<String> = plan.opening_trials.iter().filter_map(told).collect();
    (!told.is_empty()).then(|| told.join("; "))
}

fn assumed(plan: &Plan) -> String {
    let all = &plan.assumptions;
    if all.is_empty() {
        return "nothing: the job file says it all".into();
    }
    let told: Vec<&str> = all.iter().take(TOLD).map(|one| one.text.trim_end_matches('.')).collect();
    let rest = match all.len().saturating_sub(TOLD) {
        0 => String::new(),
        more => format!("; and {more} more, all listed on the sheets"),
    };
    format!("{}{rest}", told.join("; "))
}

/// The files of a binder and where they are.
pub fn written(binder: &Binder, folder: &Path) -> String {
    let mut parts = Vec::new();
    let mut loose = 0;
    for file in &binder.files {
        match (file.path.split_once('/'), file.sheets) {
            (Some(_), sheets) => loose += sheets,
            (None, 0) => parts.push(file.path.clone()),
            (None, 1) => parts.push(format!("{} (1 sheet)", file.path)),
            (None, sheets) => parts.push(format!("{} ({sheets} sheets)", file.path)),
        }
    }
    if loose > 0 {
        parts.push(format!("svg/ ({loose} sheets)"));
    }
    format!("{} in {}", parts.join(", "), folder.display())
}
