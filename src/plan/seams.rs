//! Where the seams of one wall may fall, and which choice is best.
//!
//! A patterned cloth leaves few choices: the match lines of a wall stand a match width apart, and
//! the first can stand on any of the m horizontal repeats within one match width. Plain cloth is
//! free, so a handful of sensible places is tried. What each place is worth by the rules for seams
//! is told in [`super::seam_rules`].

use std::cmp::Ordering;

use super::edges::{edge, least_allowance};
use super::lattice::Laid;
use super::model::{PanelEdge, Way};
use super::seam_rules::{Broken, broken_rules};
use crate::job::model::{Job, Room, Side, Wall};
use crate::units::Length;

/// One choice of seams for a wall, in wall coordinates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// The seams, left to right.
    pub seams: Vec<Length>,
    /// Left end of what the first strip covers: 0, or beyond the wall when a seam must stand in
    /// the lean of the corner.
    pub start: Length,
    /// Right end of what the last strip covers.
    pub end: Length,
    /// The left end of the panel.
    pub left: PanelEdge,
    /// The right end of the panel.
    pub right: PanelEdge,
    /// A match line of the choice, from which all others stand whole match widths away; the height
    /// of one when the cloth is railroaded.
    pub match_line: Length,
    /// What is wrong with it, and what it is worth.
    pub score: Score,
}

/// What a choice of seams is worth; the least is best, field by field in this order.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Score {
    /// Hard rules broken: no plan is made with such a choice.
    pub forbidden: usize,
    /// Rules broken, hard ones and those that are only preferred to be kept.
    pub broken: usize,
    /// Allowance missing at the ends of the panel.
    pub short: Length,
    /// How many strips.
    pub strips: usize,
    /// Length of seam in sight.
    pub in_sight: Length,
    /// Difference between the widths of the first and the last strip.
    pub lopsided: Length,
}

/// All choices for wall `wall` whose left end stands at `at` on the ribbon, best first.
/// Empty when no cut of the cloth can cover it.
pub fn layouts(job: &Job, room: &Room, wall: usize, at: Length, laid: &Laid) -> Vec<Layout> {
    if laid.way == Way::Railroaded {
        return vec![seamless(job, room, wall, laid)];
    }
    let mut found: Vec<Layout> = Vec::new();
    for line in first_lines(job, room, wall, at, laid) {
        for seams in seam_sets(room, wall, line, laid.cloth.match_width) {
            if let Some(layout) = fit(job, room, wall, at, laid, line, seams)
                && !found.iter().any(|l| l.seams == layout.seams)
            {
                found.push(layout);
            }
        }
    }
    // A stable sort: equal choices stay in the order they were tried.
    found.sort_by(|a, b| a.score.cmp(&b.score).then(Ordering::Equal));
    found
}

/// The only choice for railroaded cloth, whose length covers the wall from end to end. Whether the
/// cloth is wide enough for the wall's height is not judged here.
fn seamless(job: &Job, room: &Room, wall: usize, laid: &Laid) -> Layout {
    let width = room.walls[wall].width;
    Layout {
        seams: Vec::new(),
        start: Length::ZERO,
        end: width,
        left: edge(&job.house, room, wall, Side::Left),
        right: edge(&job.house, room, wall, Side::Right),
        match_line: laid.match_line,
        score: Score { strips: 1, ..Score::default() },
    }
}

/// A match line for each possible start, in wall coordinates.
fn first_lines(job: &Job, room: &Room, wall: usize, at: Length, laid: &Laid) -> Vec<Length> {
    let cloth = laid.cloth;
    let registered = (laid.match_line - at).rem_euclid(cloth.match_width);
    if let Some(lattice) = &cloth.pattern {
        let starts = cloth.match_width.div_floor(lattice.horizontal).max(1);
        return (0..starts).map(|k| registered + lattice.horizontal * k).collect();
    }
    let place = &room.walls[wall];
    let (width, seam, sliver) = (place.width, job.house.seam_allowance, job.house.smallest_sliver);
    let reach = |side| {
        let pulled = edge(&job.house, room, wall, side).allowance.max(place.lean() + cloth.selvage);
        cloth.width - pulled - seam.max(cloth.selvage)
    };
    let middle = width / 2;
    let mut lines = vec![
        registered,
        middle,
        middle - cloth.match_width / 2,
        reach(Side::Left),
        width - reach(Side::Right),
    ];
    for opening in &place.openings {
        let (x0, x1) = (opening.outer.x0, opening.outer.x1);
        lines.extend([x0 - sliver, x1 + sliver, (x0 + x1) / 2, x0 + seam * 2, x1 - seam * 2]);
    }
    for fixing in &place.fixings {
        lines.extend([fixing.rect.x0 - seam, fixing.rect.x1 + seam]);
    }
    lines.extend(place.no_seam.iter().flat_map(|&(from, to)| [from, to]));
    lines
}

/// The sets of seams that one match line allows: every match line within the wall; the first, the
/// last or both left out; or one more in the lean of a corner.
fn seam_sets(room: &Room, wall: usize, line: Length, step: Length) -> Vec<Vec<Length>> {
    let place = &room.walls[wall];
    let (width, lean) = (place.width, place.lean());
    let first = (Length::ZERO - line).div_floor(step) + 1;
    let inner: Vec<Length> = (first..).map(|k| line + step * k).take_while(|&s| s < width).collect();
    let before = line + step * (first - 1);
    let after = inner.last().map_or(before, |&s| s) + step;
    let mut sets = Vec::new();
    let starts = [Some(0), (!inner.is_empty()).then_some(1), (before >= -lean).then_some(0)];
    for (i, skip) in starts.iter().enumerate() {
        let Some(skip) = *skip else { continue };
        let rest = &inner[skip..];
        let mut set: Vec<Length> = if i == 2 { vec![before] } else { Vec::new() };
        set.extend_from_slice(rest);
        sets.push(set.clone());
        if !rest.is_empty() {
            sets.push(set[..set.len() - 1].to_vec());
        }
        if after <= width + lean {
            set.push(after);
            sets.push(set);
        }
    }
    sets
}

/// One end of a strip: the cloth wanted beyond its net width, the least that will do, and how much
/// of it may show.
#[derive(Clone, Copy)]
struct End {
    wanted: Length,
    least: Length,
    shows: Length,
}

/// The layout of these seams, if every strip can be cut.
fn fit(
    job: &Job,
    room: &Room,
    wall: usize,
    at: Length,
    laid: &Laid,
    match_line: Length,
    seams: Vec<Length>,
) -> Option<Layout> {
    let place = &room.walls[wall];
    let (house, lean) = (&job.house, place.lean());
    let mut left = edge(house, room, wall, Side::Left);
    let mut right = edge(house, room, wall, Side::Right);
    let end_of =
        |e: &PanelEdge| End { wanted: e.allowance, least: least_allowance(house, lean, e), shows: lean };
    let seam = End { wanted: house.seam_allowance, least: house.seam_allowance, shows: Length::ZERO };
    let start = seams.first().map_or(Length::ZERO, |&s| if s <= Length::ZERO { -lean } else { Length::ZERO });
    let end = seams
        .last()
        .map_or(place.width, |&s| if s >= place.width { place.width + lean } else { place.width });
    let mut bounds = vec![start];
    bounds.extend_from_slice(&seams);
    bounds.push(end);
    let mut short = Length::ZERO;
    let last = bounds.len() - 2;
    for (i, pair) in bounds.windows(2).enumerate() {
        if pair[0] >= pair[1] {
            return None;
        }
        let ends = (if i == 0 { end_of(&left) } else { seam }, if i == last { end_of(&right) } else { seam });
        let (got_left, got_right) = room_for(laid, (at + pair[0], at + pair[1]), ends)?;
        if i == 0 {
            short += left.allowance - got_left;
            left.allowance = got_left;
        }
        if i == last {
            short += right.allowance - got_right;
            right.allowance = got_right;
        }
    }
    let broken: Vec<Broken> = seams.iter().flat_map(|&s| broken_rules(job, place, s)).collect();
    let forbidden = broken.iter().filter(|b| b.forbidden(&job.house)).count();
    let in_sight = seams.iter().flat_map(|&s| in_sight(place, s)).map(|(a, b)| b - a).sum();
    let lopsided = match (seams.first(), seams.last()) {
        (Some(&a), Some(&b)) => (a - (place.width - b)).abs(),
        _ => Length::ZERO,
    };
    let score = Score { forbidden, broken: broken.len(), short, strips: seams.len() + 1, in_sight, lopsided };
    Some(Layout { seams, start, end, left, right, match_line, score })
}

/// The allowances that a strip covering `net` on the ribbon can have: what is wanted at both ends
/// if a place across the cloth gives it, else the most that one place gives.
fn room_for(laid: &Laid, net: (Length, Length), ends: (End, End)) -> Option<(Length, Length)> {
    let cloth = laid.cloth;
    let Some(lattice) = &cloth.pattern else {
        // At each end the cloth goes on for the allowance, and the selvage keeps off what shows.
        let beyond = |end: End| end.wanted.max(end.shows + cloth.selvage);
        let needed = beyond(ends.0) + (net.1 - net.0) + beyond(ends.1);
        return (needed <= cloth.width).then_some((ends.0.wanted, ends.1.wanted));
    };
    // The cloth of column c lies on the ribbon from `edge0 + c*H` to `cloth.width` beyond.
    let edge0 = laid.match_line - cloth.left_match;
    let need_right = net.1 + ends.1.least.max(ends.1.shows + cloth.selvage);
    let need_left = net.0 - ends.0.least.max(ends.0.shows + cloth.selvage);
    let first = (need_right - cloth.width - edge0).div_ceil(lattice.horizontal);
    let last = (need_left - edge0).div_floor(lattice.horizontal);
    let room = |c: i64| {
        let from = edge0 + lattice.horizontal * c;
        let left = ends.0.wanted.min(net.0 - from);
        let right = ends.1.wanted.min(from + cloth.width - net.1);
        (left, right)
    };
    (first..=last).map(room).max_by_key(|&(l, r)| l + r)
}

/// The nearest corner or casing beside a seam at `x`; an opening that it crosses is not beside it.
pub fn clearance(wall: &Wall, x: Length) -> Length {
    let corner = x.abs().min((wall.width - x).abs());
    let beside = wall.openings.iter().filter(|o| x <= o.outer.x0 || o.outer.x1 <= x);
    beside.map(|o| (x - o.outer.x0).abs().min((x - o.outer.x1).abs())).fold(corner, Length::min)
}

/// The parts of a seam at `x` that no opening hides, from below.
pub fn in_sight(wall: &Wall, x: Length) -> Vec<(Length, Length)> {
    let (bottom, top) = (wall.field_bottom().most_at(x), wall.field_top().least_at(x));
    let mut hidden: Vec<(Length, Length)> = wall
        .openings
        .iter()
        .filter(|o| o.outer.x0 <= x && x <= o.outer.x1)
        .map(|o| (o.outer.y0, o.hole().top_at(x)))
        .collect();
    hidden.sort();
    let mut from = bottom;
    let mut parts = Vec::new();
    for (low, high) in hidden {
        if low > from {
            parts.push((from, low.min(top)));
        }
        from = from.max(high);
    }
    if from < top {
        parts.push((from, top));
    }
    parts.retain(|(low, high)| low < high);
    parts
}
