//! What to bring.

use super::{electrical, lines, runs};
use crate::job::model::Substrate;
use crate::plan::cautions::climbs;
use crate::plan::model::{Plan, StapleKind};
use crate::plan::trim::{is_welt, trim_at};
use crate::units::Length;

/// The tools to bring.
pub fn tools(plan: &Plan) -> Vec<String> {
    let job = &plan.job;
    let clothed = || job.rooms.iter().flat_map(|r| &r.walls).filter(|w| w.clothed);
    let panels = plan.rooms.iter().flat_map(|r| &r.walls).filter_map(|w| w.panel.as_ref());
    let seams: usize = panels.map(|p| p.seams.len()).sum();
    let folds = plan.rooms.iter().flat_map(|r| &r.corners).any(|c| c.hem_tape > Length::ZERO);
    let welt = runs(plan).any(|run| is_welt(trim_at(job, run.place)));
    let mut tools = vec![
        "Laser level or spirit level, plumb line, tape measure, pencils, low-tack tape".to_owned(),
        "Detector for pipes and cables".to_owned(),
        "Eye protection, hearing protection, dust masks".to_owned(),
    ];
    if !electrical(plan).is_empty() {
        tools.push("Approved voltage tester, lock and tag for the panel board, screwdrivers".to_owned());
    }
    if clothed().any(|w| w.substrate == Substrate::Masonry) {
        tools.push("Hammer drill, driver, saw for battens, packers".to_owned());
    }
    tools.push(match job.house.stapler_psi {
        0 => "Electric staplers, a hand stapler for tacking".to_owned(),
        psi => format!("Air staplers, compressor set to {psi} psi, hoses, a hand stapler for tacking"),
    });
    tools.push("Staple lifter and pliers".to_owned());
    tools.push("Shears, trimming knife and a box of blades, a wide filling knife to trim against".to_owned());
    if seams > 0 || welt {
        let foot = if welt { " with a zipper foot" } else { "" };
        tools.push(format!("Sewing machine{foot}, pins, thread to match the cloth"));
    }
    if seams > 0 || folds {
        tools.push("Steam iron with a dry setting, pressing cloth, ironing board".to_owned());
    }
    if lines(plan).any(|l| matches!(l.kind, StapleKind::Top)) {
        tools.push("A platform as long as a wall for work at the top, step ladder".to_owned());
    }
    if clothed().any(climbs) {
        tools.push(
            "A platform for the stair that stands level, with guard rails and toe boards on its open sides"
                .to_owned(),
        );
    }
    if folds || runs(plan).next().is_some() {
        tools.push("Gun for adhesive tubes, damp cloths, pins to hold".to_owned());
    }
    tools.push(
        "Work lights, extension leads, dust sheets, vacuum cleaner, soft brush, waste sacks".to_owned(),
    );
    tools
}
