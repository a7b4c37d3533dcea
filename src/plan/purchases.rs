//! What to buy and what to bring. Each need is summed exactly and rounded once, at the end.

use super::batting::rolls;
use super::model::{Piece, Plan, Purchase, StapleKind, StapleLine, TrimPlace, TrimRun};
use super::trim::{is_welt, trim_at};
use super::words::{capital, counted, fine, print, sold, unit};
use crate::job::model::{SoldIn, Trim, TrimKind};
use crate::units::Length;

/// Everything to buy, rounded once to what it is sold in.
pub fn purchases(plan: &Plan) -> Vec<Purchase> {
    let mut list = cloths(plan);
    list.extend(batting(plan));
    list.extend(staples(plan));
    list.extend(corner_supplies(plan));
    list.extend(trims(plan));
    list
}

fn cloths(plan: &Plan) -> Vec<Purchase> {
    let each = plan.job.cloths.iter().zip(&plan.cloths).filter(|(_, cut)| cut.order_units > 0);
    each.map(|(cloth, cut)| {
        let mut reason = format!("{} used", sold(cut.used, cloth.sold_in));
        if cut.phase_allowance > Length::ZERO {
            reason += &format!(
                ", {} because where the pattern starts on a bolt is not known",
                sold(cut.phase_allowance, cloth.sold_in)
            );
        }
        if cut.spare > Length::ZERO {
            reason += &format!(", {} spare", sold(cut.spare, cloth.sold_in));
        }
        Purchase {
            item: format!("Cloth “{}”", cloth.name),
            count: cut.order_units,
            unit: unit(cloth.sold_in).to_owned(),
            reason,
        }
    })
    .collect()
}

fn batting(plan: &Plan) -> Option<Purchase> {
    let pieces: Vec<_> = plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.batting).collect();
    if pieces.is_empty() {
        return None;
    }
    let batting = &plan.job.batting;
    let (count, beside) = rolls(&plan.job, &pieces);
    let total: Length = pieces.iter().map(|p| p.cut_length).sum();
    let mut reason =
        format!("{}, {} in all", counted(pieces.len() as i64, "piece"), sold(total, sold_in(plan)));
    if beside > 0 {
        reason += &format!("; {beside} of them narrow enough to be cut from what is left beside others");
    }
    Some(Purchase {
        item: format!(
            "Batting, {} loft, roll {} by {}",
            fine(&plan.job, batting.loft),
            print(&plan.job, batting.roll_width),
            sold(batting.roll_length, sold_in(plan))
        ),
        count,
        unit: "roll".to_owned(),
        reason,
    })
}

/// The unit in which lengths are summed on the list when what is bought has none of its own.
fn sold_in(plan: &Plan) -> SoldIn {
    plan.job.cloths.first().map_or(SoldIn::Yard, |c| c.sold_in)
}

pub(crate) fn lines(plan: &Plan) -> impl Iterator<Item = &StapleLine> {
    plan.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.staples)
}

fn staples(plan: &Plan) -> Option<Purchase> {
    let house = &plan.job.house;
    let sum = |batting: bool| -> i64 {
        let of_batting =
            |l: &&StapleLine| matches!(l.kind, StapleKind::BattingEdge | StapleKind::BattingButt) == batting;
        lines(plan).filter(of_batting).map(|l| l.count).sum()
    };
    let (cloth, batting) = (sum(false), sum(true));
    let driven = cloth + batting;
    if driven == 0 {
        return None;
    }
    let bought = whole(driven * (100 + i64::from(house.staple_waste)), 100);
    Some(Purchase {
        item: format!("Staples, {} leg, box of {}", fine(&plan.job, house.staple_leg), house.staples_per_box),
        count: whole(bought, i64::from(house.staples_per_box.max(1))),
        unit: "box".to_owned(),
        reason: format!(
            "{driven} driven, {cloth} in cloth and {batting} in batting, and {} in a hundred for misfires",
            house.staple_waste
        ),
    })
}

/// How many times `each` is needed to reach at least `count`.
fn whole(count: i64, each: i64) -> i64 {
    (count + each - 1) / each
}

fn corner_supplies(plan: &Plan) -> Vec<Purchase> {
    let house = &plan.job.house;
    let corners = || plan.rooms.iter().flat_map(|r| &r.corners);
    let mut list = Vec::new();
    let tape: Length = corners().map(|c| c.hem_tape).sum();
    if tape > Length::ZERO {
        list.push(Purchase {
            item: format!("Paper-backed hem tape, roll of {}", sold(house.hem_tape_roll, sold_in(plan))),
            count: tape.div_ceil(house.hem_tape_roll),
            unit: "roll".to_owned(),
            reason: format!("{} at folded corners", sold(tape, sold_in(plan))),
        });
    }
    let corner_bead: Length = corners().map(|c| c.adhesive).sum();
    let trim_bead: Length = runs(plan).map(|r| r.length).sum();
    let bead = corner_bead + trim_bead;
    if bead > Length::ZERO {
        list.push(Purchase {
            item: "Fabric adhesive, 10 fl oz (300 ml) tube".to_owned(),
            count: bead.div_ceil(house.tube_bead),
            unit: "tube".to_owned(),
            reason: format!(
                "{} of bead: {} at corners, {} under trim; a tube lays {}",
                sold(bead, sold_in(plan)),
                sold(corner_bead, sold_in(plan)),
                sold(trim_bead, sold_in(plan)),
                sold(house.tube_bead, sold_in(plan))
            ),
        });
    }
    list
}

fn runs(plan: &Plan) -> impl Iterator<Item = &TrimRun> {
    plan.rooms.iter().flat_map(|r| &r.trim)
}

const PLACES: [TrimPlace; 4] = [TrimPlace::Corner, TrimPlace::Opening, TrimPlace::Bottom, TrimPlace::Top];

/// Bought trim by name, and cord for welts by diameter; places that share a trim are bought together.
fn trims(plan: &Plan) -> Vec<Purchase> {
    let mut needs: Vec<Need> = Vec::new();
    for place in PLACES {
        let trim = trim_at(&plan.job, place);
        let of_place = || runs(plan).filter(move |r| r.place == place);
        if of_place().next().is_none() {
            continue;
        }
        let cords = match trim.kind {
            TrimKind::SingleWelt => 1,
            TrimKind::DoubleWelt => 2,
            TrimKind::Braid | TrimKind::Gimp | TrimKind::FlatBand | TrimKind::None => 0,
        };
        let net: Length = of_place().map(|r| r.length).sum();
        let extra: Length = of_place().map(|r| r.extra).sum();
        let need = Need {
            item: item_of(plan, trim),
            unit: trim.sold_in,
            net: net * cords.max(1),
            extra: extra * cords.max(1),
            runs: of_place().count() as i64,
        };
        match needs.iter_mut().find(|n| n.item == need.item && n.unit == need.unit) {
            Some(same) => {
                same.net += need.net;
                same.extra += need.extra;
                same.runs += need.runs;
            }
            None => needs.push(need),
        }
    }
    needs.into_iter().map(Need::purchase).collect()
}

struct Need {
    item: String,
    unit: SoldIn,
    net: Length,
    extra: Length,
    runs: i64,
}

impl Need {
    fn purchase(self) -> Purchase {
        let reason = format!(
            "{} in {}, {} for ends and joints",
            sold(self.net, self.unit),
            counted(self.runs, "run"),
            sold(self.extra, self.unit)
        );
        let count = (self.net + self.extra).div_ceil(self.unit.length());
        Purchase { item: self.item, count, unit: unit(self.unit).to_owned(), reason }
    }
}

fn item_of(plan: &Plan, trim: &Trim) -> String {
    if is_welt(trim) { format!("Welt cord, {}", fine(&plan.job, trim.cord)) } else { capital(&trim.name) }
}

/// The tools to bring.
pub fn tools(plan: &Plan) -> Vec<String> {
    let job = &plan.job;
    let any_wall = |test: fn(&crate::job::model::Wall) -> bool| {
        job.rooms.iter().flat_map(|r| &r.walls).any(|w| w.clothed && test(w))
    };
    let mut tools: Vec<String> = vec![
        "Laser level or spirit level, plumb line, tape, chalk line".into(),
        "Eye protection, hearing protection, dust masks".into(),
    ];
    tools.push(if job.house.stapler_psi > 0 {
        format!(
            "Air staplers, compressor set to {} psi, hoses, a hand stapler for tacking",
            job.house.stapler_psi
        )
    } else {
        "Electric staplers, a hand stapler for tacking".into()
    });
    tools.push("Staple lifter and pliers".into());
    tools.push("Shears, trimming knife and a box of blades, a wide filling knife to trim against".into());
    if plan.rooms.iter().flat_map(|r| &r.corners).any(|c| c.hem_tape > Length::ZERO) {
        tools.push("Iron with a dry setting, pressing cloth, ironing board".into());
    }
    if lines(plan).any(|l| matches!(l.kind, StapleKind::Top)) {
        tools.push("A platform as long as a wall for work at the top, step ladder".into());
    }
    if runs(plan).next().is_some() {
        tools.push("Caulking gun or glue bottle, damp cloths, low-tack pins".into());
    }
    if plan.pieces.iter().any(is_strip) {
        tools.push("Sewing machine with a zipper foot, thread to match the cloth".into());
    } else if plan
        .rooms
        .iter()
        .flat_map(|r| &r.walls)
        .filter_map(|w| w.panel.as_ref())
        .any(|p| !p.seams.is_empty())
    {
        tools.push("Sewing machine, thread to match the cloth".into());
    }
    if any_wall(|w| w.fixings.iter().any(|f| f.kind.electrical())) {
        tools.push("Approved voltage tester, lock and tag for the panel board, screwdrivers".into());
    }
    tools.push("Dust sheets, vacuum cleaner, soft brush, waste sacks".into());
    tools
}

fn is_strip(piece: &Piece) -> bool {
    use super::model::PieceKind::{LevelStrip, UprightStrip};
    matches!(piece.kind, UprightStrip | LevelStrip)
}
