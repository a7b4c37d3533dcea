//! Cuts already made: which piece each still serves, and what is cut in vain.
//!
//! A cut serves the piece of its label where that lies within it with its pattern right, to within the
//! step that lengths are printed in: figures that were copied off a sheet are rounded.

use std::collections::BTreeMap;

use super::super::model::{ClothPlan, Made, Piece, Purpose, WallRef};
use super::super::words::{capital, cloth_length, list, wall_of};
use super::cutting::{Cutting, Goods};
use super::stock::{Area, Served, Stock, flaws, within};
use crate::job::model::{Cloth, CutMade, Job, OnHand};
use crate::units::Length;

/// The pieces that cuts already made serve.
pub fn served(job: &Job, cloth: &Cloth, cuttings: &[Cutting], pieces: &[Piece]) -> Vec<Served> {
    let goods = Goods::of(cloth, cuttings);
    let slack = job.print.format.step.nm();
    let mut served: Vec<Served> = Vec::new();
    for (bolt, there) in cloth.on_hand.iter().enumerate() {
        let Some(start) = there.start(Length::nanometres(goods.turn)) else { continue };
        let flaws = flaws(cloth, there);
        for (cut, made) in there.cuts.iter().enumerate().filter(|(_, made)| !made.spoiled) {
            let piece = cuttings.iter().find(|c| pieces[c.id.0].label == made.label);
            let placed =
                piece.and_then(|piece| within(&goods, piece, (&Area::of(made), slack), start.nm(), &flaws));
            served.extend(placed.map(|placed| Served { at: (bolt, cut), placed }));
        }
    }
    served
}

/// The pieces that are still to be cut, when those of `cuttings` that cuts already made serve are taken out.
pub fn to_cut(cuttings: &[Cutting], served: &[Served]) -> Vec<Cutting> {
    cuttings.iter().filter(|c| !served.iter().any(|s| s.placed.id == c.id)).cloned().collect()
}

/// The bolts on hand as they can still be cut.
pub struct Shelf<'a> {
    /// The bolts.
    pub stocks: Vec<Stock<'a>>,
    /// What is to be cut from them.
    pub to_cut: Vec<Cutting>,
    /// The walls of which a part is cut, and the lot that it was cut from.
    pub begun: BTreeMap<Purpose, String>,
}

impl<'a> Shelf<'a> {
    /// The bolts of `cloth`.
    pub fn new(
        job: &Job,
        cloth: &'a Cloth,
        goods: &Goods,
        cuttings: &[Cutting],
        served: &[Served],
        pieces: &[Piece],
    ) -> Self {
        let slack = job.print.format.step.nm();
        let stock = |index| Stock::of(goods, cloth, index, served, slack);
        let mut begun = BTreeMap::new();
        for served in served {
            let purpose = pieces[served.placed.id.0].purpose;
            begun.entry(purpose).or_insert_with(|| cloth.on_hand[served.at.0].lot.clone());
        }
        let stocks = (0..cloth.on_hand.len()).map(stock).collect();
        Shelf { stocks, to_cut: to_cut(cuttings, served), begun }
    }

    /// The bolts as if they had no flaws; `None` when they have none.
    pub fn without_flaws(&self) -> Option<Vec<Stock<'a>>> {
        let flawed = self.stocks.iter().any(|stock| !stock.flaws.is_empty());
        let sound = |stock: &Stock<'a>| Stock { flaws: Vec::new(), ..stock.clone() };
        flawed.then(|| self.stocks.iter().map(sound).collect())
    }

    /// A length that no plan goes below which leaves the cuts made where they are: what is cut off, and
    /// the area of the rest less what lies loose. `None` when nothing is cut yet.
    pub fn least(&self, goods: &Goods) -> Option<i64> {
        if self.stocks.iter().all(|stock| stock.made.is_empty()) {
            return None;
        }
        let gone: i64 = self.stocks.iter().map(|stock| stock.off).sum();
        let area: i128 = self.to_cut.iter().map(|c| i128::from(c.width) * i128::from(c.length)).sum();
        let loose: i128 = self.stocks.iter().map(Stock::loose_size).sum();
        let width = i128::from(goods.width);
        let more = ((area - loose).max(0) + width - 1) / width;
        Some(gone + i64::try_from(more).unwrap_or(i64::MAX - gone))
    }
}

/// What has become of the cuts made from bolt `index`.
pub fn told(job: &Job, cloth: &Cloth, index: usize, served: &[Served], pieces: &[Piece]) -> Vec<Made> {
    let bolt = &cloth.on_hand[index];
    let made = |(cut, made): (usize, &CutMade)| {
        let serves = served.iter().find(|s| s.at == (index, cut)).map(|s| s.placed.id);
        let why = if serves.is_some() { String::new() } else { why(job, cloth, bolt, made, pieces) };
        Made { serves, why }
    };
    bolt.cuts.iter().enumerate().map(made).collect()
}

/// Why a cut serves no piece.
fn why(job: &Job, cloth: &Cloth, bolt: &OnHand, cut: &CutMade, pieces: &[Piece]) -> String {
    if cut.spoiled {
        return "it is spoiled".to_owned();
    }
    let Some(piece) = pieces.iter().find(|piece| piece.label == cut.label) else {
        return format!("there is no piece {} any more", cut.label);
    };
    let short = piece.cut.length - cut.length;
    let narrow = piece.cut.width - cut.width;
    let slack = job.print.format.step;
    if flaws(cloth, bolt).iter().any(|flaw| Area::of(cut).meets(flaw)) {
        return "a flaw lies in it".to_owned();
    }
    match (short > slack, narrow > slack) {
        (true, _) => format!("it is {} too short", cloth_length(job, short)),
        (_, true) => format!("it is {} too narrow", cloth_length(job, narrow)),
        _ => "the piece lies at another place of the pattern".to_owned(),
    }
}

/// Names the cuts made in vain, and the walls of which pieces of two dye lots are cut.
pub fn watch(
    job: &Job,
    cloths: &[ClothPlan],
    pieces: &[Piece],
    watch: &mut Vec<String>,
    work_watch: &mut Vec<String>,
) {
    for (cloth, plan) in job.cloths.iter().zip(cloths) {
        let bolts = plan.bolts.iter().filter_map(|bolt| Some((cloth.on_hand.get(bolt.on_hand?)?, bolt)));
        let mut lots: BTreeMap<WallRef, Vec<String>> = BTreeMap::new();
        for (index, (there, bolt)) in bolts.enumerate() {
            let cuts = there.cuts.iter().zip(&bolt.made);
            let vain: Vec<String> = cuts
                .filter(|(_, made)| made.serves.is_none())
                .map(|(cut, made)| format!("{} ({})", cut.label, made.why))
                .collect();
            if !vain.is_empty() {
                work_watch.push(format!(
                    "Cut in vain from bolt {} of “{}”: {}. The cloth is kept for smaller pieces.",
                    bolt.number(index),
                    cloth.name,
                    list(&vain)
                ));
            }
            for wall in bolt.made.iter().filter_map(|made| pieces[made.serves?.0].wall()) {
                let lots = lots.entry(wall).or_default();
                if !lots.contains(&there.lot) {
                    lots.push(there.lot.clone());
                }
            }
        }
        for (wall, lots) in lots.into_iter().filter(|(_, lots)| lots.len() > 1) {
            watch.push(format!(
                "{} is cut from dye lots {} already: lay them side by side in daylight before it is sewn.",
                capital(&wall_of(job, wall)),
                list(&lots)
            ));
        }
    }
}
