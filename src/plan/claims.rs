//! What bolts were found to be, against what the mill said: in sentences, for the workroom and the mill.

use super::model::ClothPlan;
use super::words::{cloth_length, sold};
use crate::job::model::{Claim, Cloth, Job, Label, Lattice};
use crate::units::Length;

/// What is claimed, by how much: "it is 1 yd 3″ short of the 28 yd that its label says".
pub(crate) fn claim(job: &Job, cloth: &Cloth, claim: &Claim) -> String {
    let goods = |length| sold(length, cloth.sold_in);
    let fine = |length| cloth_length(job, length);
    match *claim {
        Claim::Short { said, found } => {
            format!("it is {} short of the {} that its label says", goods(said - found), goods(said))
        }
        Claim::Narrow { said, found } => {
            format!("it is {} wide, {} less than the {} said", fine(found), fine(said - found), fine(said))
        }
        Claim::RepeatAcross { said, found } => {
            format!("its horizontal repeat is {}, and {} was said", fine(found), fine(said))
        }
        Claim::RepeatAlong { said, found } => {
            format!("its vertical repeat is {}, and {} was said", fine(found), fine(said))
        }
        Claim::Points { most, found } => format!(
            "it has {} points in 100 square yards, and {} are accepted",
            hundredths(found),
            hundredths(most)
        ),
    }
}

/// Hundredths as a decimal figure: "12", "14.67".
pub(crate) fn hundredths(value: i64) -> String {
    match value % 100 {
        0 => (value / 100).to_string(),
        part => format!("{}.{part:02}", value / 100),
    }
}

/// What a reader must know of bolts that are not as they were sold.
pub fn watch(job: &Job, cloths: &[ClothPlan]) -> Vec<String> {
    let mut told = Vec::new();
    for (cloth, plan) in job.cloths.iter().zip(cloths) {
        for (at, bolt) in cloth.on_hand.iter().enumerate().filter(|(_, bolt)| !bolt.claims.is_empty()) {
            let claims: Vec<String> = bolt.claims.iter().map(|found| claim(job, cloth, found)).collect();
            told.push(format!(
                "To claim from the mill for bolt {} of “{}”, dye lot {}: {}.",
                at + 1,
                cloth.name,
                bolt.lot,
                claims.join("; ")
            ));
        }
        if plan.round_flaws > Length::ZERO {
            told.push(format!(
                "Cutting “{}” clear of its flaws takes {} more than sound cloth would.",
                cloth.name,
                sold(plan.round_flaws, cloth.sold_in)
            ));
        }
        let counts = |label: &Label| {
            let step = |pattern: Option<Lattice>| pattern.map(|lattice| lattice.horizontal);
            Some((
                label.match_width.div_floor(step(label.pattern)?),
                cloth.match_width.div_floor(step(cloth.pattern)?),
            ))
        };
        if let Some((said, found)) =
            cloth.label.as_ref().and_then(counts).filter(|(said, found)| found < said)
        {
            told.push(format!(
                "“{}” as measured shows {found} repeats in a width, and {said} by its label: its match width is {}.",
                cloth.name,
                cloth_length(job, cloth.match_width)
            ));
        }
    }
    told
}
