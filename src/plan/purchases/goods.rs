//! Goods by length: cloth, batting, thread, tape, adhesive.

use super::{ByLength, runs, sold_in};
use crate::job::model::{Cloth, Goods, Job};
use crate::plan::batting::rolls;
use crate::plan::model::{Plan, Purchase};
use crate::plan::staples::open_length;
use crate::plan::trim::{is_welt, trim_at};
use crate::plan::words::{cloth_length, counted, fine, list, print, sold, unit};
use crate::share::Share;
use crate::units::Length;

pub(super) fn cloths(plan: &Plan) -> Vec<Purchase> {
    let each = plan.job.cloths.iter().zip(&plan.cloths).enumerate();
    each.filter(|(_, (_, cut))| cut.order_units > 0)
        .map(|(index, (cloth, cut))| {
            let mut more = Vec::new();
            if cut.phase_allowance > Length::ZERO {
                more.push(format!(
                    "{} of it because where the pattern starts on a bolt is not known",
                    sold(cut.phase_allowance, cloth.sold_in)
                ));
            }
            if cut.spare > Length::ZERO {
                more.push(format!("{} spare", sold(cut.spare, cloth.sold_in)));
            }
            if cut.shrinks > Length::ZERO {
                more.push(format!("{} of it lost when it is relaxed", sold(cut.shrinks, cloth.sold_in)));
            }
            let covers = cut.use_thousandths / 10;
            let trim = if cloth.samples.is_empty() { "trim" } else { "trim, samples" };
            more.push(format!(
                "of what is cut {covers} % covers the walls, the rest is match, allowances, {trim} and offcuts"
            ));
            ByLength {
                goods: Goods::Cloth(index),
                item: format!("Cloth “{}”, {}", cloth.name, width(&plan.job, cloth)),
                unit: unit(cloth.sold_in),
                need: cut.used + cut.phase_allowance + cut.shrinks,
                each: cloth.sold_in.length(),
                count: cut.order_units,
                sold_in: cloth.sold_in,
                reason: more.join("; "),
            }
            .purchase()
        })
        .collect()
}

/// "54″ wide"; or, as cloth must be that is relaxed, "at least 54 9/16″ wide as delivered".
fn width(job: &Job, cloth: &Cloth) -> String {
    match cloth.shrinkage.across {
        Share::NONE => format!("{} wide", cloth_length(job, cloth.width)),
        share => {
            let step = job.print.format.step;
            // Rounded up, so that what is bought is wide enough.
            let least = step * share.whole_for(cloth.width).div_ceil(step);
            format!("at least {} wide as delivered", cloth_length(job, least))
        }
    }
}

pub(super) fn batting(plan: &Plan) -> Option<Purchase> {
    let pieces: Vec<_> = plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.batting).collect();
    if pieces.is_empty() {
        return None;
    }
    let (batting, unit) = (&plan.job.batting, sold_in(plan));
    let rolls = rolls(&plan.job, &pieces);
    let mut reason = counted(pieces.len() as i64, "piece");
    if rolls.beside > 0 {
        reason += &format!(", {} of them cut from what is left beside others", rolls.beside);
    }
    reason += "; what a roll has left is too short for another piece, or not needed";
    let purchase = ByLength {
        goods: Goods::Batting,
        item: format!(
            "Batting, {} loft, roll {} by {}",
            fine(&plan.job, batting.loft),
            print(&plan.job, batting.roll_width),
            sold(batting.roll_length, unit)
        ),
        unit: "roll",
        need: rolls.length,
        each: batting.roll_length,
        count: rolls.count,
        sold_in: unit,
        reason,
    };
    Some(purchase.purchase())
}

/// Thread for seams and welt.
pub(super) fn thread(plan: &Plan) -> Option<Purchase> {
    let (house, unit) = (&plan.job.house, sold_in(plan));
    let panels = plan.rooms.iter().flat_map(|r| &r.walls).filter_map(|w| w.panel.as_ref());
    let seams: Length = panels.flat_map(|p| &p.seams).map(|s| s.y1 - s.y0).sum();
    let welts = runs(plan).filter(|r| is_welt(trim_at(&plan.job, r.place)));
    let welt: Length = welts.map(|r| r.length + r.extra).sum();
    let sewn = seams + welt;
    let need = sewn * i64::from(house.thread_times);
    (sewn > Length::ZERO).then(|| {
        ByLength {
            goods: Goods::Thread,
            item: format!("Thread to match the cloth, spool of {}", sold(house.thread_spool, unit)),
            unit: "spool",
            need,
            each: house.thread_spool,
            count: need.div_ceil(house.thread_spool),
            sold_in: unit,
            reason: format!(
                "{} of stitching, seams and welt, each length taking {} of thread",
                sold(sewn, unit),
                house.thread_times
            ),
        }
        .purchase()
    })
}

/// Hem tape and adhesive.
pub(super) fn corner_supplies(plan: &Plan) -> Vec<Purchase> {
    let (house, unit) = (&plan.job.house, sold_in(plan));
    let corners = || plan.rooms.iter().flat_map(|r| &r.corners);
    let mut bought = Vec::new();
    let tape: Length = corners().map(|c| c.hem_tape).sum();
    if tape > Length::ZERO {
        let folded = counted(corners().filter(|c| c.hem_tape > Length::ZERO).count() as i64, "corner");
        bought.push(ByLength {
            goods: Goods::HemTape,
            item: format!(
                "Paper-backed hem tape, not wider than the fold of {}, roll of {}",
                fine(&plan.job, house.fold_allowance),
                sold(house.hem_tape_roll, unit)
            ),
            unit: "roll",
            need: tape,
            each: house.hem_tape_roll,
            count: tape.div_ceil(house.hem_tape_roll),
            sold_in: unit,
            reason: format!("along the fold of {folded}"),
        });
    }
    let corner_bead: Length = corners().map(|c| c.adhesive).sum();
    let trim_bead: Length = runs(plan).map(|r| r.length).sum();
    let walls =
        plan.rooms.iter().zip(&plan.job.rooms).flat_map(|(r, shape)| r.walls.iter().zip(&shape.walls));
    let open: Length = walls.map(|(planned, wall)| open_length(&plan.job, wall, planned)).sum();
    let bead = corner_bead + trim_bead + open;
    if bead > Length::ZERO {
        let part = |length: Length, what: &str| {
            (length > Length::ZERO).then(|| format!("{} {what}", sold(length, unit)))
        };
        let at_corners = part(corner_bead, "at corners");
        let parts: Vec<String> = at_corners
            .into_iter()
            .chain(part(trim_bead, "under trim"))
            .chain(part(open, "where no staples go"))
            .collect();
        bought.push(ByLength {
            goods: Goods::Adhesive,
            item: format!(
                "Fabric adhesive that dries clear, tube that lays {} of bead",
                sold(house.tube_bead, unit)
            ),
            unit: "tube",
            need: bead,
            each: house.tube_bead,
            count: bead.div_ceil(house.tube_bead),
            sold_in: unit,
            reason: format!("a bead of {}", list(&parts)),
        });
    }
    bought.into_iter().map(ByLength::purchase).collect()
}
