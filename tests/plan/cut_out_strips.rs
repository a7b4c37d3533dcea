//! Strips for trim from what openings give back.

use std::collections::BTreeMap;

use clothwright::geom::Rect;
use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::*;
use clothwright::units::Length;

use crate::generate::random_job;
use crate::rooms::*;

fn from_cut_outs(matched: bool) -> Trim {
    Trim { from_cut_outs: true, ..welt(matched) }
}

fn all(plan: &Plan) -> Vec<&CutOutStrip> {
    plan.rooms.iter().flat_map(|r| &r.trim).flat_map(|t| &t.cut_out_strips).collect()
}

/// One wall of 100 by 96 in in plain cloth 52 in between matches, its seam at 50; a window stands clear of the
/// seam, from 56 to 92 in and from 30 to 78 in, with its casing: 36 by 48 in.
fn windowed() -> Job {
    let mut job = feature_wall(cloth(None), inch(100), inch(96));
    let hole = Rect::new(inch(56), inch(30), inch(92), inch(78));
    let window = opening("W1", OpeningKind::Window, hole, OpeningCloth::CoveredThrough);
    job.rooms[0].walls[0].openings.push(window);
    job
}

#[test]
fn what_fits_comes_from_the_cut_out() {
    let mut job = windowed();
    job.trims.opening = from_cut_outs(false);
    job.trims.corner = from_cut_outs(false);
    let plan = make(job).expect("a plan");
    // Round the window two strips of 48 and two of 36 in, each with 2 x 2 in for its ends. 52 in are more than
    // the 48 in of the cut-out, and 40 in more than its 36 in across: nothing comes from it.
    assert_eq!(all(&plan).len(), 0);
    // Without an allowance for ends they fit: two uprights beside one another, 1-1/2 in wide each, then two
    // level ones of 36 in. A level one is as wide as the cut-out, so where an upright stands it finds no place.
    let mut job = windowed();
    job.trims.opening = from_cut_outs(false);
    job.trims.corner = from_cut_outs(false);
    job.house.trim_end = Length::ZERO;
    let plan = make(job).expect("a plan");
    let taken: Vec<(PieceKind, Length, Length)> = all(&plan)
        .iter()
        .map(|s| (s.kind, s.place.x0 - s.cut_out.usable.x0, s.cut_out.usable.y1 - s.place.y1))
        .collect();
    let upright = PieceKind::UprightStrip;
    assert_eq!(taken, [(upright, inch(0), inch(0)), (upright, inch(3) / 2, inch(0))]);
    // The corner strips are 96 in long and stay on the bolt, with the level ones.
    let left: usize = plan.rooms[0].trim.iter().map(|t| t.strips.len()).sum();
    assert_eq!(left, 2 + 2);
}

/// The panel is hung and its opening cut free before the strips can be sewn, and they are fitted after that.
#[test]
fn the_order_of_work_follows() {
    let mut job = windowed();
    job.trims.opening = from_cut_outs(false);
    job.house.trim_end = Length::ZERO;
    let plan = make(job).expect("a plan");
    let number = |words: &str| plan.steps.iter().find(|s| s.text.contains(words)).map(|s| s.number);
    let (open, sew) = (number("cut the cloth free"), number("Cut strips from the cut-outs"));
    let fit = number("round W1, 14′ 0″");
    assert!(open.is_some() && open < sew && sew < fit, "{open:?} {sew:?} {fit:?}");
    let mut job = windowed();
    job.trims.opening = welt(false);
    let plan = make(job).expect("a plan");
    assert!(plan.steps.iter().all(|s| !s.text.contains("Cut strips from the cut-outs")));
}

/// In every room: a strip is as large as it must be, lies on cloth that an opening gives back, has the right
/// part of the pattern, and no two share cloth. None is lost between cut-outs and bolt.
#[test]
fn strips_from_cut_outs_keep_the_law() {
    let mut taken = 0;
    for seed in 0..24 {
        // Every third room is railroaded.
        let railroaded = seed % 3 == 2;
        let mut job = if railroaded { crate::railroaded::generated(seed) } else { random_job(seed) };
        job.trims.opening = welt(true);
        job.trims.bottom = welt(!seed.is_multiple_of(3));
        job.house.trim_end = inch(1) / 2;
        let Ok(plain) = make(job.clone()) else { continue };
        job.trims.opening.from_cut_outs = true;
        job.trims.bottom.from_cut_outs = true;
        let plan = make(job).expect("what can be cut from bolts alone");
        let counted = |plan: &Plan| {
            let runs = plan.rooms.iter().flat_map(|r| &r.trim);
            runs.map(|t| (t.label.clone(), t.strips.len() + t.cut_out_strips.len(), t.joins))
                .collect::<Vec<_>>()
        };
        assert_eq!(counted(&plain), counted(&plan), "room {seed}");
        let mut places: BTreeMap<(PieceId, usize), Vec<Rect>> = BTreeMap::new();
        for strip in all(&plan) {
            let (place, gross) = (&strip.place, &strip.gross);
            assert_eq!((place.width(), place.height()), (gross.width(), gross.height()), "room {seed}");
            assert!(strip.cut_out.usable.contains(place), "room {seed}");
            assert!(plan.cut_outs.contains(&strip.cut_out), "room {seed}");
            let others = places.entry((strip.cut_out.piece, strip.cut_out.opening)).or_default();
            assert!(others.iter().all(|other| !other.overlaps(place)), "room {seed}");
            others.push(*place);
            if let Some(pattern) = plan.job.cloths[0].pattern.filter(|_| strip.matched) {
                let (right, up) = (place.x0 - gross.x0, place.y0 - gross.y0);
                // Railroaded, up the wall lies across the cloth, and to the left towards the bolt's start.
                let (across, up) = if railroaded { (up, -right) } else { (right, up) };
                assert_eq!(across.rem_euclid(pattern.horizontal), Length::ZERO, "room {seed}");
                let fall = pattern.drop * across.div_floor(pattern.horizontal);
                assert_eq!((up + fall).rem_euclid(pattern.vertical), Length::ZERO, "room {seed}");
            }
            taken += 1;
        }
    }
    assert!(taken > 8, "only {taken} strips found a place");
}
