//! What to buy and what to bring. Each need is summed exactly and rounded once, at the end.

use std::collections::BTreeMap;

use super::battens;
use super::batting::{forward, rolls};
use super::model::{Piece, Plan, Purchase, StapleKind, StapleLine, TrimPlace, TrimRun};
use super::staples::count;
use super::trim::{is_welt, trim_at};
use super::words::{capital, counted, fine, list, print, sold, unit};
use crate::job::model::{SoldIn, Substrate, Trim, TrimKind};
use crate::units::Length;

/// Everything to buy, rounded once to what it is sold in.
pub fn purchases(plan: &Plan) -> Vec<Purchase> {
    let mut list = cloths(plan);
    list.extend(batting(plan));
    list.extend(battens(plan));
    list.extend(staples(plan));
    list.extend(thread(plan));
    list.extend(extenders(plan));
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

/// Boxes of staples, by leg.
fn staples(plan: &Plan) -> Vec<Purchase> {
    let house = &plan.job.house;
    let mut by_leg: BTreeMap<Length, (i64, i64)> = BTreeMap::new();
    for line in lines(plan) {
        let (cloth, batting) = by_leg.entry(line.leg).or_default();
        match line.kind {
            StapleKind::BattingEdge | StapleKind::BattingButt => *batting += line.count,
            _ => *cloth += line.count,
        }
    }
    let purchase = |(leg, (cloth, batting)): (Length, (i64, i64))| {
        let driven = cloth + batting;
        let bought = whole(driven * (100 + i64::from(house.staple_waste)), 100);
        Purchase {
            item: format!("Staples, {} leg, box of {}", fine(&plan.job, leg), house.staples_per_box),
            count: whole(bought, i64::from(house.staples_per_box.max(1))),
            unit: "box".to_owned(),
            reason: format!(
                "{driven} driven, {cloth} in cloth and {batting} in batting, and {} in a hundred for misfires",
                house.staple_waste
            ),
        }
    };
    by_leg.into_iter().map(purchase).collect()
}

/// Battens as they are sold, and their screws.
fn battens(plan: &Plan) -> Vec<Purchase> {
    let house = &plan.job.house;
    let pieces: Vec<Length> = battens::all(plan).map(|b| b.length).collect();
    if pieces.is_empty() {
        return Vec::new();
    }
    let length: Length = pieces.iter().copied().sum();
    let rest: Length = plan.batten_stock.iter().map(|s| s.rest).sum();
    let cuts = plan.batten_stock.iter().flat_map(|s| &s.cuts);
    let screws: i64 = cuts.map(|(_, cut)| count(*cut, house.batten_screws, false)).sum();
    vec![
        Purchase {
            item: format!(
                "Battens, {} by {}, {} long",
                fine(&plan.job, house.batten_width),
                fine(&plan.job, house.batten_thickness),
                print(&plan.job, house.batten_length)
            ),
            count: plan.batten_stock.len() as i64,
            unit: "piece".to_owned(),
            reason: format!(
                "{}, {} in all; {} left over",
                counted(pieces.len() as i64, "batten"),
                print(&plan.job, length),
                print(&plan.job, rest)
            ),
        },
        Purchase {
            item: "Screws and plugs for battens".to_owned(),
            count: screws,
            unit: "piece".to_owned(),
            reason: format!("one at each end and at least every {}", print(&plan.job, house.batten_screws)),
        },
    ]
}

/// Thread for seams and welt.
fn thread(plan: &Plan) -> Option<Purchase> {
    let house = &plan.job.house;
    let panels = plan.rooms.iter().flat_map(|r| &r.walls).filter_map(|w| w.panel.as_ref());
    let seams: Length = panels.flat_map(|p| &p.seams).map(|s| s.y1 - s.y0).sum();
    let welts = runs(plan).filter(|r| is_welt(trim_at(&plan.job, r.place)));
    let welt: Length = welts.map(|r| r.length + r.extra).sum();
    let sewn = seams + welt;
    (sewn > Length::ZERO).then(|| Purchase {
        item: format!("Thread to match the cloth, spool of {}", sold(house.thread_spool, sold_in(plan))),
        count: (sewn * i64::from(house.thread_times)).div_ceil(house.thread_spool),
        unit: "spool".to_owned(),
        reason: format!(
            "{} of stitching, seams and welt, each length taking {} of thread",
            sold(sewn, sold_in(plan)),
            house.thread_times
        ),
    })
}

/// How many times `each` is needed to reach at least `count`.
fn whole(count: i64, each: i64) -> i64 {
    (count + each - 1) / each
}

/// One for each box with live parts, as deep as the surface comes forward there.
fn extenders(plan: &Plan) -> Vec<Purchase> {
    let depths = boxes_by_depth(plan, |_| true);
    let purchase = |(depth, boxes): (Length, Vec<&str>)| Purchase {
        item: format!("Listed box extenders, to bring a box {} forward", fine(&plan.job, depth)),
        count: boxes.len() as i64,
        unit: "piece".to_owned(),
        reason: format!("one for each of {}, as the electrician decides", list(&boxes)),
    };
    depths.into_iter().map(purchase).collect()
}

/// Boxes with live parts on the clothed walls of some rooms, by how far the surface comes forward.
pub(crate) fn boxes_by_depth(plan: &Plan, of: impl Fn(usize) -> bool) -> Vec<(Length, Vec<&str>)> {
    let mut depths: BTreeMap<Length, Vec<&str>> = BTreeMap::new();
    let rooms = plan.job.rooms.iter().enumerate().filter(|(i, _)| of(*i));
    for wall in rooms.flat_map(|(_, r)| &r.walls).filter(|w| w.clothed) {
        for fixing in wall.fixings.iter().filter(|f| f.kind.electrical()) {
            depths.entry(forward(&plan.job, wall)).or_default().push(&fixing.label);
        }
    }
    depths.into_iter().collect()
}

/// Labels of the boxes with live parts on clothed walls.
pub(crate) fn electrical(plan: &Plan) -> Vec<&str> {
    let walls = plan.job.rooms.iter().flat_map(|r| &r.walls).filter(|w| w.clothed);
    walls.flat_map(|w| &w.fixings).filter(|f| f.kind.electrical()).map(|f| f.label.as_str()).collect()
}

fn corner_supplies(plan: &Plan) -> Vec<Purchase> {
    let house = &plan.job.house;
    let corners = || plan.rooms.iter().flat_map(|r| &r.corners);
    let mut bought = Vec::new();
    let tape: Length = corners().map(|c| c.hem_tape).sum();
    if tape > Length::ZERO {
        bought.push(Purchase {
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
        let part = |length: Length, what: &str| {
            (length > Length::ZERO).then(|| format!("{} {what}", sold(length, sold_in(plan))))
        };
        let at_corners = part(corner_bead, "at corners");
        let parts: Vec<String> = at_corners.into_iter().chain(part(trim_bead, "under trim")).collect();
        bought.push(Purchase {
            item: "Fabric adhesive, tube".to_owned(),
            count: bead.div_ceil(house.tube_bead),
            unit: "tube".to_owned(),
            reason: format!(
                "{} of bead, {}; a tube lays {}",
                sold(bead, sold_in(plan)),
                list(&parts),
                sold(house.tube_bead, sold_in(plan))
            ),
        });
    }
    bought
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
    let clothed = || job.rooms.iter().flat_map(|r| &r.walls).filter(|w| w.clothed);
    let panels = plan.rooms.iter().flat_map(|r| &r.walls).filter_map(|w| w.panel.as_ref());
    let seams: usize = panels.map(|p| p.seams.len()).sum();
    let folds = plan.rooms.iter().flat_map(|r| &r.corners).any(|c| c.hem_tape > Length::ZERO);
    let welt = plan.pieces.iter().any(is_strip);
    let mut tools = vec![
        "Laser level or spirit level, plumb line, tape, low-tack tape".to_owned(),
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
        tools.push("Iron with a dry setting, pressing cloth, ironing board".to_owned());
    }
    if lines(plan).any(|l| matches!(l.kind, StapleKind::Top)) {
        tools.push("A platform as long as a wall for work at the top, step ladder".to_owned());
    }
    if folds || runs(plan).next().is_some() {
        tools.push("Gun for adhesive tubes, damp cloths, pins to hold".to_owned());
    }
    tools.push("Dust sheets, vacuum cleaner, soft brush, waste sacks".to_owned());
    tools
}

fn is_strip(piece: &Piece) -> bool {
    use super::model::PieceKind::{LevelStrip, UprightStrip};
    matches!(piece.kind, UprightStrip | LevelStrip)
}
