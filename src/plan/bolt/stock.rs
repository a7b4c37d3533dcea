//! A bolt on hand as it can still be cut: what of it is gone, and what lies loose.

use super::cutting::{Cutting, Goods, Places};
use super::lay::{Lay, Placed};
use crate::job::model::{Cloth, CutMade, OnHand};
use crate::units::Length;

/// A rectangle of a bolt, in nanometres: u across it, v along it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Area {
    /// From the bolt's start.
    pub v0: i64,
    /// Its far end.
    pub v1: i64,
    /// From the left edge.
    pub u0: i64,
    /// Its right side.
    pub u1: i64,
}

impl Area {
    /// What a cut takes.
    pub fn of(cut: &CutMade) -> Self {
        let (u0, v0) = (cut.u.nm(), cut.v.nm());
        Area { v0, v1: v0 + cut.length.nm(), u0, u1: u0 + cut.width.nm() }
    }

    /// What a piece takes that lies in a lay which begins at `start`.
    pub fn of_placed(placed: &Placed, start: i64) -> Self {
        let v0 = start + placed.v;
        Area { v0, v1: v0 + placed.length, u0: placed.u, u1: placed.u + placed.width }
    }

    /// In square nanometres.
    fn size(&self) -> i128 {
        i128::from(self.u1 - self.u0) * i128::from(self.v1 - self.v0)
    }

    /// Whether two areas have cloth in common.
    pub fn meets(&self, other: &Area) -> bool {
        self.v0 < other.v1 && other.v0 < self.v1 && self.u0 < other.u1 && other.u0 < self.u1
    }
}

/// What every cut keeps clear of on a bolt: flaws that are not cut over, between the selvages.
pub fn flaws(cloth: &Cloth, bolt: &OnHand) -> Vec<Area> {
    let (left, right) = (cloth.selvage.nm(), (cloth.width - cloth.selvage).nm());
    let met = bolt.flaws.iter().filter(|flaw| !cloth.is_cut_over(flaw));
    let areas = met.map(|flaw| {
        let (u0, v0) = (flaw.u.nm(), flaw.v.nm());
        let (u1, v1) = (u0 + flaw.width.nm(), v0 + flaw.length.nm());
        Area { v0, v1, u0: u0.max(left), u1: u1.min(right) }
    });
    areas.collect()
}

/// A piece that a cut already made serves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Served {
    /// The bolt on hand and its cut, as indices.
    pub at: (usize, usize),
    /// Where the piece lies, v from the bolt's start.
    pub placed: Placed,
}

/// A piece within an area, where the pattern is right, clear of `flaws` and as near to the area's corner
/// as can be; it may stick out by `slack`. `start` is the phase at the bolt's start.
pub fn within(
    goods: &Goods,
    cutting: &Cutting,
    (area, slack): (&Area, i64),
    start: i64,
    flaws: &[Area],
) -> Option<Placed> {
    let room = Area { v0: area.v0 - slack, v1: area.v1 + slack, u0: area.u0 - slack, u1: area.u1 + slack };
    let (id, width, length) = (cutting.id, cutting.width, cutting.length);
    let mut found: Vec<Placed> = Vec::new();
    let mut place = |u: i64, phase: Option<i64>, column: i64| {
        if u < room.u0 || u + width > room.u1 {
            return;
        }
        let mut v = phase.map_or(area.v0, |_| room.v0);
        loop {
            v += phase.map_or(0, |phase| (phase - start - v).rem_euclid(goods.turn));
            let placed = Placed { id, u, v, width, length, column, matched: phase.is_some() };
            if v + length > room.v1 {
                return;
            }
            match flaws.iter().filter(|flaw| Area::of_placed(&placed, 0).meets(flaw)).map(|f| f.v1).max() {
                Some(past) => v = past,
                None => return found.push(placed),
            }
        }
    };
    match &cutting.places {
        Places::Matched(places) => places.iter().for_each(|p| place(p.u, Some(p.phase), p.column)),
        &Places::Free(least, most) if least <= most => {
            let right = (area.u1 - width).max(least);
            [area.u0.min(right), right].into_iter().for_each(|u| place(u.clamp(least, most), None, 0));
        }
        Places::Free(..) => {}
    }
    found.into_iter().min_by_key(|p| ((p.u - area.u0).abs() + (p.v - area.v0).abs(), p.v))
}

/// A bolt on hand as it can still be cut.
#[derive(Clone, Debug)]
pub struct Stock<'a> {
    /// Its dye lot.
    pub lot: &'a str,
    /// Where it ends.
    pub end: i64,
    /// The phase at its start, where that is known.
    pub start: Option<i64>,
    /// It is cut off up to here.
    pub from: i64,
    /// What its pieces keep clear of.
    pub flaws: Vec<Area>,
    /// How much of it the cuts made are said to take: up to the end of the last.
    pub off: i64,
    /// The lays that are cut off already, each with its start; their pieces are the served ones.
    pub made: Vec<(i64, Lay)>,
    /// What of these can be cut still: what lies beside the cuts made, and cuts made in vain.
    pub loose: Vec<Loose>,
}

/// An area that can be cut still.
#[derive(Clone, Copy, Debug)]
pub struct Loose {
    /// The area.
    pub area: Area,
    /// How far a piece may seem to stick out of it, as its figures are rounded.
    pub slack: i64,
}

impl<'a> Stock<'a> {
    /// Bolt `index`, whose cuts serve these pieces.
    pub fn of(goods: &Goods, cloth: &'a Cloth, index: usize, served: &[Served], slack: i64) -> Self {
        let bolt = &cloth.on_hand[index];
        let start = bolt.start(Length::nanometres(goods.turn)).map(Length::nm);
        let own: Vec<&Served> = served.iter().filter(|s| s.at.0 == index).collect();
        let placed_in = |cut: usize| own.iter().find(|s| s.at.1 == cut).map(|s| s.placed);
        let mut order: Vec<usize> = (0..bolt.cuts.len()).collect();
        order.sort_by_key(|&cut| (Area::of(&bolt.cuts[cut]), cut));
        let mut stock = Stock {
            lot: &bolt.lot,
            end: bolt.length.nm(),
            start,
            from: 0,
            flaws: flaws(cloth, bolt),
            off: 0,
            made: Vec::new(),
            loose: Vec::new(),
        };
        let mut lays: Vec<(i64, i64, Vec<usize>)> = Vec::new();
        for cut in order {
            let Area { v0, v1, .. } = Area::of(&bolt.cuts[cut]);
            match lays.last_mut() {
                Some((_, to, cuts)) if v1.min(*to) - v0 > SHARED => {
                    *to = v1.max(*to);
                    cuts.push(cut);
                }
                _ => lays.push((v0, v1, vec![cut])),
            }
        }
        for (v0, v1, cuts) in lays {
            let placed: Vec<Placed> =
                cuts.iter().filter_map(|&cut| placed_in(cut)).map(|p| Placed { v: p.v - v0, ..p }).collect();
            let taken = cuts.iter().map(|&cut| Area::of(&bolt.cuts[cut]));
            let taken: Vec<Area> = taken.chain(placed.iter().map(|p| Area::of_placed(p, v0))).collect();
            stock.off = stock.off.max(v1);
            let after = stock.from.max(v0);
            stock.loose.extend(
                beside(&taken, goods.width)
                    .filter(|_| after < v1)
                    .map(|(u0, u1)| Loose { area: Area { v0: after, v1, u0, u1 }, slack: 0 }),
            );
            stock.from = taken.iter().map(|area| area.v1).fold(stock.from.max(v1), i64::max);
            let phase = start.map(|start| (start + v0).rem_euclid(goods.turn));
            stock.made.push((v0, Lay { placed, phase, length: v1 - v0 }));
        }
        let vain =
            bolt.cuts.iter().enumerate().filter(|(cut, made)| !made.spoiled && placed_in(*cut).is_none());
        stock.loose.extend(vain.map(|(_, cut)| Loose { area: Area::of(cut), slack }));
        stock
    }

    /// Whether it is a whole bolt of which no more than its length is known.
    pub fn is_whole(&self) -> bool {
        self.start.is_none()
    }

    /// Cuts a piece from what lies loose, from the smallest area that holds it.
    pub fn cut_loose(&mut self, goods: &Goods, cutting: &Cutting) -> bool {
        let Some(start) = self.start else { return false };
        let found = self.loose.iter().enumerate().filter_map(|(i, loose)| {
            let placed = within(goods, cutting, (&loose.area, loose.slack), start, &self.flaws)?;
            Some((loose.area.size(), i, placed))
        });
        let Some((_, i, placed)) = found.min_by_key(|(size, i, _)| (*size, *i)) else { return false };
        let Loose { area, .. } = self.loose.swap_remove(i);
        let taken = Area::of_placed(&placed, 0);
        let parts = [
            Area { u1: taken.u0, ..area },
            Area { u0: taken.u1, ..area },
            Area { u0: taken.u0, u1: taken.u1, v1: taken.v0, ..area },
            Area { u0: taken.u0, u1: taken.u1, v0: taken.v1, ..area },
        ];
        let parts = parts.into_iter().filter(|part| part.u0 < part.u1 && part.v0 < part.v1);
        self.loose.extend(parts.map(|area| Loose { area, slack: 0 }));
        let lay = self.made.iter_mut().find(|(v0, lay)| *v0 <= area.v0 && area.v1 <= v0 + lay.length);
        if let Some((v0, lay)) = lay {
            lay.placed.push(Placed { v: placed.v - *v0, ..placed });
        }
        true
    }

    /// What lies loose, in square nanometres.
    pub fn loose_size(&self) -> i128 {
        self.loose.iter().map(|loose| loose.area.size()).sum()
    }
}

/// Two cuts share a lay when they lie side by side over more than this: 1/2 in (derived: more than
/// figures copied off a sheet can be out by, less than any piece is long).
const SHARED: i64 = Length::inch_64ths(32).nm();

/// The stretches across the cloth that no area touches, from and to.
fn beside(taken: &[Area], width: i64) -> impl Iterator<Item = (i64, i64)> {
    let mut sides: Vec<(i64, i64)> = taken.iter().map(|area| (area.u0, area.u1)).collect();
    sides.sort_unstable();
    let mut free = Vec::new();
    let mut at = 0;
    for (from, to) in sides {
        if at < from {
            free.push((at, from));
        }
        at = at.max(to);
    }
    if at < width {
        free.push((at, width));
    }
    free.into_iter()
}
