//! A proved lower bound on the length, from how many lines across the cloth each phase needs.
//!
//! It holds for lays of any length, and for any number of pieces: where there are too many to price all
//! their shares, such as strips for trim by the dozen, it is often the best bound there is.
//!
//! Close the plan of one bolt with one empty gap: lays and gaps then go round the
//! circle of phases K times, so each phase has K *slots*, lines across the cloth, and a piece that
//! is L long crosses a given phase L/V times, rounded down or up as it starts. Pieces that cross
//! one slot lie side by side, so the slots of a phase are at least as many as bins are needed to
//! pack the widths of all crossings. A piece may lie on another column, which shifts its phase by
//! the drop; over a group of phases that differ by whole drops that changes nothing, so whole groups
//! are counted. Columns stand whole repeats apart, so pieces cannot slide to fit: each line along the
//! cloth through a place of the repeat is crossed by so many pieces at least, whichever columns they
//! take, and a slot has only so many such places. The closing gap fills slots too, which tells how long it can be: the bound is K
//! turns less the longest gap.

use super::cutting::{Cutting, Goods, Places};
use super::weights::{Breadth, Rows};

/// A matched piece, with its phases and its left edges.
struct Crossing {
    width: i64,
    length: i64,
    starts: Vec<i64>,
    lefts: Vec<i64>,
}

impl Crossing {
    /// How often the piece crosses the phases of a group, on the column where that is least.
    fn count(&self, group: &[i64], turn: i64) -> i64 {
        let (turns, rest) = (self.length / turn, self.length % turn);
        // Both are phases, so that no more than one turn parts them: a division would cost the most here.
        let ahead = |start: i64, phase: i64| if phase < start { phase + turn - start } else { phase - start };
        let on = |start: i64| -> i64 {
            group.iter().map(|&phase| turns + i64::from(ahead(start, phase) < rest)).sum()
        };
        self.starts.iter().map(|&s| on(s)).min().unwrap_or(0)
    }
}

/// A group of phases that differ by whole drops, and the slots it needs.
struct Group {
    phases: Vec<i64>,
    /// How often each piece crosses it.
    counts: Vec<i64>,
    need: i64,
}

/// No plan of these pieces on `bolts` bolts uses less than this, in nanometres. What is more than `enough` is
/// proved no further.
pub fn by_slots(goods: &Goods, cuttings: &[Cutting], bolts: usize, enough: i64) -> i64 {
    let turn = goods.turn;
    let mut pieces: Vec<Crossing> = cuttings.iter().filter_map(crossing).collect();
    if pieces.is_empty() || turn <= 1 {
        return 0;
    }
    pieces.sort_by_key(|p| std::cmp::Reverse(p.width));
    let steps = order_of_drop(goods);
    let lines = lines(goods, &pieces);
    let mut groups = groups(goods, &pieces, &lines, steps);
    let ends: Vec<i64> = phases(&pieces, |p, s| (s + p.length).rem_euclid(turn));
    let starts: Vec<i64> = phases(&pieces, |_, s| s);
    let quick = closed(&groups, &ends, &starts, (steps, turn, bolts));
    if quick > enough || !weigh(&pieces, &mut groups) {
        return quick;
    }
    closed(&groups, &ends, &starts, (steps, turn, bolts))
}

/// The bound that the needs of groups prove: the plan closed with the longest gap that there can be.
fn closed(groups: &[Group], ends: &[i64], starts: &[i64], (steps, turn, bolts): (i64, i64, usize)) -> i64 {
    let most = groups.iter().map(|g| (g.need + steps - 1) / steps).max().unwrap_or(0);
    for turns in [most, most + 1] {
        if let Some(gap) = longest_gap(groups, ends, starts, turns * steps, turn) {
            // Each further bolt begins after a gap that the closed plan counts and the bolt does not.
            let saved = (bolts.max(1) as i64 - 1) * (turn - 1);
            return turns * turn - gap - saved;
        }
    }
    // With one turn to spare any gap shorter than a turn can close the plan.
    (most + 1) * turn - (turn - 1) * bolts.max(1) as i64
}

/// The same for each set of lots of pieces (one bit for each lot) on one bolt, at once and not as well: lines
/// that tell most of all pieces together are counted, which add up, and the closing gap is taken as long as
/// it can be.
pub fn of_sets(goods: &Goods, lots: &[Vec<Cutting>]) -> Vec<i64> {
    let turn = goods.turn;
    let mut least = vec![0; 1 << lots.len()];
    let of_lot = |(lot, cuttings): (usize, &Vec<Cutting>)| -> Vec<(usize, Crossing)> {
        cuttings.iter().filter_map(crossing).map(|crossing| (lot, crossing)).collect()
    };
    let mut of_lots: Vec<(usize, Crossing)> = lots.iter().enumerate().flat_map(of_lot).collect();
    if of_lots.is_empty() || turn <= 1 {
        return least;
    }
    of_lots.sort_by_key(|(_, p)| std::cmp::Reverse(p.width));
    let (lot_of, pieces): (Vec<usize>, Vec<Crossing>) = of_lots.into_iter().unzip();
    let steps = order_of_drop(goods);
    let lines = lines(goods, &pieces);
    for group in groups(goods, &pieces, &lines, steps) {
        let crossed = |l: &Lines| -> i64 { group.counts.iter().zip(&l.covered).map(|(n, c)| n * c).sum() };
        // The greatest part of its places: compared by cross products.
        let most =
            lines.iter().map(|l| (crossed(l), l)).max_by(|a, b| (a.0 * b.1.places).cmp(&(b.0 * a.1.places)));
        let Some((_, line)) = most.filter(|most| most.1.places > 0) else { continue };
        let mut own = vec![0; lots.len()];
        for ((lot, count), covered) in lot_of.iter().zip(&group.counts).zip(&line.covered) {
            own[*lot] += count * covered;
        }
        let mut sums = vec![0; least.len()];
        for set in 1..least.len() {
            sums[set] = sums[set & (set - 1)] + own[set.trailing_zeros() as usize];
            let slots = (sums[set] + line.places - 1) / line.places;
            let turns = (slots + steps - 1) / steps;
            least[set] = least[set].max(turns * turn - (turn - 1));
        }
    }
    least
}

fn crossing(c: &Cutting) -> Option<Crossing> {
    match &c.places {
        Places::Matched(spots) => {
            let mut starts: Vec<i64> = spots.iter().map(|s| s.phase).collect();
            starts.sort_unstable();
            starts.dedup();
            let lefts = spots.iter().map(|s| s.u).collect();
            Some(Crossing { width: c.width, length: c.length, starts, lefts })
        }
        Places::Free(..) => None,
    }
}

fn phases(pieces: &[Crossing], phase: impl Fn(&Crossing, i64) -> i64) -> Vec<i64> {
    let phase = &phase;
    let mut all: Vec<i64> = pieces.iter().flat_map(|p| p.starts.iter().map(move |&s| phase(p, s))).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// After how many columns the drop comes round, give or take a nanometre of rounding a column; 1 when
/// it does not within a dozen, which only makes the bound weaker.
fn order_of_drop(goods: &Goods) -> i64 {
    let comes_round = |n: &i64| {
        let rest = (goods.drop * n).rem_euclid(goods.turn);
        rest.min(goods.turn - rest) <= *n
    };
    (1..=12).find(comes_round).unwrap_or(1)
}

/// The lines along the cloth through one place of the horizontal repeat.
struct Lines {
    /// How many there are across the cloth.
    places: i64,
    /// How many of them each piece covers, on the column where that is least.
    covered: Vec<i64>,
}

/// Lines between each two neighbouring places of the repeat where a piece has an edge; those that
/// tell nothing new are left out.
fn lines(goods: &Goods, pieces: &[Crossing]) -> Vec<Lines> {
    let step = goods.step;
    let edges = |p: &Crossing| -> Vec<i64> { p.lefts.iter().flat_map(|&u| [u, u + p.width]).collect() };
    let mut breaks: Vec<i64> = pieces.iter().flat_map(edges).map(|u| u.rem_euclid(step)).collect();
    breaks.extend([0, goods.width.rem_euclid(step), step]);
    breaks.sort_unstable();
    breaks.dedup();
    // How many of the lines at `place` and whole steps beyond it lie left of u.
    let before = |place: i64, u: i64| (u - 1 - place).div_euclid(step) + 1;
    let mut all: Vec<Lines> = Vec::new();
    for pair in breaks.windows(2) {
        let place = pair[0] + (pair[1] - pair[0]) / 2;
        let on = |p: &Crossing, u: i64| before(place, u + p.width) - before(place, u);
        let least = |p: &Crossing| p.lefts.iter().map(|&u| on(p, u)).min().unwrap_or(0);
        let lines = Lines { places: before(place, goods.width), covered: pieces.iter().map(least).collect() };
        let beaten = |other: &Lines| {
            other.places <= lines.places && other.covered.iter().zip(&lines.covered).all(|(a, b)| a >= b)
        };
        if !all.iter().any(beaten) {
            all.push(lines);
        }
    }
    all
}

/// One group between each two neighbouring phases where a piece starts or ends.
fn groups(goods: &Goods, pieces: &[Crossing], lines: &[Lines], steps: i64) -> Vec<Group> {
    let turn = goods.turn;
    let part = turn / steps + 1;
    let mut breaks: Vec<i64> = pieces
        .iter()
        .flat_map(|p| p.starts.iter().flat_map(|&s| [s, s + p.length]))
        .flat_map(|b| (0..steps).map(move |k| (b + k * goods.drop).rem_euclid(turn)))
        .filter(|&b| b <= part)
        .collect();
    breaks.extend([0, part]);
    breaks.sort_unstable();
    breaks.dedup();
    let middle = |pair: &[i64]| pair[0] + (pair[1] - pair[0]) / 2;
    let group = |middle: i64| {
        let phases: Vec<i64> = (0..steps).map(|k| (middle + k * goods.drop).rem_euclid(turn)).collect();
        let counts: Vec<i64> = pieces.iter().map(|p| p.count(&phases, turn)).collect();
        let crossed = |l: &Lines| -> i64 {
            let sum: i64 = counts.iter().zip(&l.covered).map(|(count, covered)| count * covered).sum();
            (sum + l.places - 1) / l.places.max(1)
        };
        let widths: Vec<(i64, i64)> = pieces.iter().map(|p| p.width).zip(counts.iter().copied()).collect();
        let by_lines = lines.iter().map(crossed).max().unwrap_or(0);
        Group { need: bins(&widths, goods.width).max(by_lines), phases, counts }
    };
    breaks.windows(2).map(middle).map(group).collect()
}

/// How often the group in most need is weighed again.
const WEIGHED: usize = 3;

/// Raises the slots that groups need by weights that know which pieces can share a slot; the weights
/// are made for the group in most need and hold for all. Whether any was raised.
fn weigh(pieces: &[Crossing], groups: &mut [Group]) -> bool {
    let breadths: Vec<Breadth> = pieces.iter().map(|p| Breadth { lefts: &p.lefts, width: p.width }).collect();
    let Some(rows) = Rows::of(&breadths) else { return false };
    let mut any = false;
    for _ in 0..WEIGHED {
        let Some(worst) = groups.iter().max_by_key(|g| g.need) else { break };
        let (weights, limit) = rows.weights(&worst.counts);
        let mut raised = false;
        for group in groups.iter_mut() {
            let sum: i128 =
                group.counts.iter().zip(&weights).map(|(c, w)| i128::from(*c) * i128::from(*w)).sum();
            let need = i64::try_from((sum + i128::from(limit) - 1) / i128::from(limit)).unwrap_or(0);
            raised |= need > group.need;
            group.need = group.need.max(need);
        }
        any |= raised;
        if !raised {
            break;
        }
    }
    any
}

/// A lower bound on the bins of this width that hold `counts` (width, how many), widest first.
fn bins(counts: &[(i64, i64)], width: i64) -> i64 {
    let mut best = 0;
    let narrow = counts.iter().map(|c| c.0).filter(|w| w * 2 <= width);
    for threshold in narrow.chain([width / 2 + 1]) {
        let (mut whole, mut wide, mut wide_sum, mut narrow_sum) = (0, 0, 0_i128, 0_i128);
        for &(w, n) in counts {
            if w > width - threshold {
                whole += n;
            } else if w * 2 > width {
                wide += n;
                wide_sum += i128::from(w) * i128::from(n);
            } else if w >= threshold {
                narrow_sum += i128::from(w) * i128::from(n);
            }
        }
        let left = narrow_sum - (i128::from(width) * i128::from(wide) - wide_sum);
        let more = if left > 0 { (left + i128::from(width) - 1) / i128::from(width) } else { 0 };
        best = best.max(whole + wide + i64::try_from(more).unwrap_or(0));
    }
    best
}

/// The longest gap from an end to a start that leaves every group the slots it needs when it has
/// `slots`; `None` when there is none.
fn longest_gap(groups: &[Group], ends: &[i64], starts: &[i64], slots: i64, turn: i64) -> Option<i64> {
    let mut best = None;
    for &end in ends {
        let mut limit = turn - 1;
        for group in groups {
            let spare = slots - group.need;
            if spare < 0 {
                return None;
            }
            if (spare as usize) < group.phases.len() {
                let mut offsets: Vec<i64> = group.phases.iter().map(|p| (p - end).rem_euclid(turn)).collect();
                offsets.sort_unstable();
                limit = limit.min(offsets[spare as usize]);
            }
        }
        // The last start within the limit.
        let reach = starts.iter().map(|s| (s - end).rem_euclid(turn)).filter(|&g| g <= limit).max();
        best = best.max(reach);
    }
    best
}
