//! How long each step takes, by the job's rates.

use super::Key;
use super::rules::cut_out_strips;
use super::welt_and_trim::strip_length;
use crate::job::model::{FixingKind, Rates};
use crate::plan::corners::glued_wraps;
use crate::plan::model::{Plan, StapleKind, WallPlan, WallRef};
use crate::units::Length;

/// Minutes on the clock for `people` people, and minutes that what is done is then left alone.
pub(super) fn minutes(plan: &Plan, key: Key, people: u32) -> (i64, i64) {
    let rates = &plan.job.rates;
    let people = i64::from(people.max(1));
    let (alone, hold) = match key {
        // Others do these, or are waited for.
        Key::Measure(_) | Key::Tests(_) | Key::FireData(_) | Key::Answer(_) => return (0, 0),
        Key::Power(_) | Key::Find(_) | Key::Mark(_) | Key::Clean(_) | Key::Walk(_) => {
            // These take as long, however many look on.
            return (i64::from(rates.step_minutes), 0);
        }
        Key::Clear(room) => (i64::from(rates.step_minutes) + boxes(plan, room, None, |_| true), 0),
        Key::Plates(room) => (boxes(plan, room, None, |_| true), 0),
        Key::Extend(room) => (boxes(plan, room, None, FixingKind::electrical), 0),
        Key::Boxes(at) => (boxes(plan, at.room, Some(at.wall), |_| true), 0),
        Key::Battens(at) => {
            let length = wall_plan(plan, at).battens.iter().map(|b| b.length).sum();
            (at_rate(length, rates.battens_per_hour), 0)
        }
        Key::Batting(at) => {
            // A wall that batting is carried on to has only its staples.
            let length = wall_plan(plan, at).batting.iter().map(|b| b.cut_length).sum();
            let stapling = per_hour(staples(plan, at, true), i64::from(rates.staples_per_hour));
            (at_rate(length, rates.batting_per_hour).max(stapling), 0)
        }
        Key::Cut(cloth) => {
            let pieces = plan.pieces.iter().filter(|p| p.cloth == cloth && p.cut.made.is_none()).count();
            (pieces as i64 * i64::from(rates.cut_minutes), 0)
        }
        Key::Sew(at) => (sewing(plan, rates, at), 0),
        Key::SewWelt => (at_rate(strip_length(plan), rates.welt_per_hour), 0),
        Key::SewCutOuts(room) => {
            let strips = cut_out_strips(plan, room);
            let (count, length) = strips.fold((0, Length::ZERO), |(n, l), s| (n + 1, l + s.cut_length()));
            (count * i64::from(rates.cut_minutes) + at_rate(length, rates.welt_per_hour), 0)
        }
        Key::Hang(at) => {
            // A wrap that is glued, not stapled, must hold before the next wall folds over it.
            let hold = if glued_wraps(plan, at) > Length::ZERO { i64::from(rates.hold_minutes) } else { 0 };
            (per_hour(staples(plan, at, false), i64::from(rates.staples_per_hour)), hold)
        }
        Key::Open(..) => (i64::from(rates.opening_minutes), 0),
        Key::Corner(..) => (i64::from(rates.fold_minutes), i64::from(rates.hold_minutes)),
        Key::Trim(room, trim) => {
            // One fits and one holds: two are no faster than one.
            return (at_rate(plan.rooms[room].trim[trim].length, rates.trim_per_hour), 0);
        }
    };
    (whole(alone, people), hold)
}

fn wall_plan(plan: &Plan, at: WallRef) -> &WallPlan {
    &plan.rooms[at.room].walls[at.wall]
}

/// Staples on a wall, in batting or in cloth.
fn staples(plan: &Plan, at: WallRef, batting: bool) -> i64 {
    let of_batting = |kind| matches!(kind, StapleKind::BattingEdge | StapleKind::BattingButt);
    let lines = wall_plan(plan, at).staples.iter().filter(|l| of_batting(l.kind) == batting);
    lines.map(|l| l.count).sum()
}

/// Minutes for one round of work on each box of the clothed walls of a room, or of one of them.
fn boxes(plan: &Plan, room: usize, only: Option<usize>, test: impl Fn(FixingKind) -> bool) -> i64 {
    let walls = plan.job.rooms[room].walls.iter().enumerate();
    let walls = walls.filter(|(i, w)| w.clothed && only.is_none_or(|only| *i == only));
    let fixings = walls.flat_map(|(_, w)| w.fixings_in_field()).filter(|f| test(f.kind)).count();
    fixings as i64 * i64::from(plan.job.rates.box_minutes)
}

/// The seams of a panel, each as long as its strips are cut; a panel of one piece is only marked.
fn sewing(plan: &Plan, rates: &Rates, at: WallRef) -> i64 {
    let Some(panel) = &wall_plan(plan, at).panel else { return 0 };
    let length: Length = panel.seams.iter().map(|s| s.y1 - s.y0).sum();
    at_rate(length, rates.seam_per_hour).max(i64::from(rates.cut_minutes))
}

/// Minutes for a length at so much an hour, begun minutes counted whole.
fn at_rate(length: Length, an_hour: Length) -> i64 {
    (length * 60).div_ceil(an_hour)
}

fn per_hour(count: i64, an_hour: i64) -> i64 {
    whole(count * 60, an_hour.max(1))
}

fn whole(count: i64, by: i64) -> i64 {
    (count + by - 1) / by
}
