//! Railroaded cloth: the bolt's length runs along the walls.

use clothwright::export::json;
use clothwright::job::model::*;
use clothwright::plan;
use clothwright::plan::model::{PieceKind, Plan, Way};
use clothwright::sheet::model::Reader;
use clothwright::units::Length;
use serde_json::Value;

use crate::checker::problems;
use crate::cloths::{planned, text, written};
use crate::generate::random_job;
use crate::rooms::*;

/// Goods 118 in wide, which are railroaded (published figure, trade notes section 4).
fn wide(pattern: Option<Lattice>, hang: ClothHang) -> Cloth {
    Cloth { width: inch(118), match_width: inch(116), hang, direction: Direction::Either, ..cloth(pattern) }
}

fn sound(job: Job) -> Plan {
    let plan = plan::make(job).expect("a plan");
    let found = problems(&json::plan(&plan));
    assert!(found.is_empty(), "{found:#?}");
    plan
}

/// Derived by hand. Four walls of 156, 144, 156 and 144 in, 108 in high, allowances 2 in at top and
/// bottom and 1 in at each end. Railroaded: 112 of 118 in across, and 158 + 146 + 158 + 146 = 608 in
/// along. Upright, every wall needs two widths, so 159 + 147 + 159 + 147 = 612 in of width with a
/// seam allowance of 1/2 in on each side of a seam: more than 5 widths, so at least 6 drops of 112.
#[test]
fn wide_goods_round_a_room_by_hand() {
    let plan = sound(rectangle(wide(None, ClothHang::Least)));
    assert_eq!(plan.way(0), Way::Railroaded);
    let cut = &plan.cloths[0];
    assert_eq!((cut.used, cut.bound, cut.drops_alone), (inch(608), inch(608), inch(608)));
    let [upright, railroaded] = &cut.compared[..] else { panic!("{:?}", cut.compared) };
    assert_eq!((railroaded.used, railroaded.seams), (inch(608), 0));
    assert_eq!((upright.used, upright.seams), (inch(672), 4));
    assert!(plan.pieces.iter().all(|piece| piece.kind == PieceKind::Railroaded));
    assert!(plan.rooms[0].walls.iter().all(|w| w.panel.as_ref().is_some_and(|p| p.seams.is_empty())));
    // Told to run upright, the same room is planned so, and the comparison is still made.
    let upright = sound(rectangle(wide(None, ClothHang::Upright)));
    assert_eq!((upright.way(0), upright.cloths[0].used), (Way::Upright, inch(672)));
    assert_eq!(upright.cloths[0].compared, cut.compared);
}

/// Derived by hand. Two walls of 100 and 77 in, V 25 in, straight, ends of 1 in. The cuts begin at -1
/// and 99 on the ribbon and are 102 and 79 in long. After the first (its end at 101) the second
/// may begin 23 in later, 204 in together; after the second (178) the first may begin 21 in later,
/// at a place congruent to -1: 79 + 21 + 102 = 202 in, the less. The corner consumes the 23 in.
#[test]
fn the_gap_along_the_bolt_by_hand() {
    let pattern = lattice(inch(29), inch(25), inch(0));
    let walls = vec![wall("1", inch(100), inch(80)), wall("2", inch(77), inch(80))];
    let room = room(walls, &[None, Some(90), None], AcrossWish::MotifCentred(0));
    let plan = sound(job(wide(pattern, ClothHang::Railroaded), vec![room]));
    assert_eq!(plan.cloths[0].used, inch(202));
    assert_eq!(plan.cloths[0].bound, inch(202));
    assert_eq!(plan.rooms[0].corners[1].consumed, inch(23));
    // A motif stands on the middle of wall 1, 12 in below its top, where 29 in of repeat are not whole; the panel
    // is hung by the next below it.
    let motif = plan.rooms[0].walls[0].hang_motif.expect("a motif in sight");
    assert_eq!((motif.x, motif.y), (inch(50), inch(80 - 12 - 29)));
}

/// Round a closed room the pattern meets when the walls come to a whole number of V, whatever the drop.
#[test]
fn the_kill_point_depends_on_the_repeat_along_the_bolt() {
    // 156 + 144 + 156 + 144 = 600 = 24 * 25, and not a whole number of 29.
    let pattern = lattice(inch(29), inch(25), inch(25) / 2);
    let plan = sound(rectangle(wide(pattern, ClothHang::Railroaded)));
    assert!(plan.rooms[0].kill.is_none());
    // 600 = 23 * 26 + 2.
    let pattern = lattice(inch(29), inch(26), inch(13));
    let plan = sound(rectangle(wide(pattern, ClothHang::Railroaded)));
    let kill = plan.rooms[0].kill.as_ref().expect("a miss");
    assert_eq!((kill.miss_across, kill.miss_up), (-inch(2), inch(0)));
}

/// A base welt runs along the bolt: one strip for each wall, however long; a welt in a corner lies
/// across it.
#[test]
fn strips_for_trim_swap_their_ways() {
    let mut job = rectangle(wide(lattice(inch(29), inch(25), inch(0)), ClothHang::Railroaded));
    job.trims.corner = welt(true);
    job.trims.bottom = welt(true);
    let plan = sound(job);
    let of = |kind| plan.pieces.iter().filter(move |p| p.kind == kind);
    assert_eq!(of(PieceKind::LevelStrip).count(), 4);
    assert!(of(PieceKind::LevelStrip).all(|p| p.cut.length > p.cut.width && p.cut.length >= inch(148)));
    assert!(of(PieceKind::UprightStrip).count() >= 4);
    assert!(of(PieceKind::UprightStrip).all(|p| p.cut.width > p.cut.length));
    let csv = clothwright::export::csv::write(&plan).expect("a cut list");
    let csv = String::from_utf8(csv).expect("text");
    let level = csv.lines().find(|line| line.contains("trim strip up the bolt")).expect("a level strip");
    assert!(level.contains("T5"), "{level}");
}

/// The remedy of the error is true: the start of the pattern that it asks for can be planned.
#[test]
fn a_wall_too_high_at_its_level_is_told_what_would_do() {
    let pattern = lattice(inch(58), inch(25), inch(0));
    let job = |below| {
        let mut job = feature_wall(wide(pattern, ClothHang::Railroaded), inch(120), inch(100));
        job.rooms[0].registration.below_crown = below;
        job
    };
    // 104 in must lie on 118 in: 14 in to spare for a pattern that comes back every 58 in.
    let mut refused = 0;
    for below in 0..58 {
        let Err(fault) = plan::make(job(inch(below))) else { continue };
        refused += 1;
        assert_eq!(fault.code, "too-high-to-railroad");
        let wanted = fault.help.split("below-crown=\"").nth(1).and_then(|rest| rest.split('"').next());
        let wanted = wanted.unwrap_or_else(|| panic!("no remedy in {}", fault.help));
        let unit = clothwright::units::Unit::Inch;
        let below =
            clothwright::units::read_length(wanted, Some(unit)).unwrap_or_else(|e| panic!("{wanted}: {e:?}"));
        assert!(plan::make(job(below)).is_ok(), "{} does not help", fault.help);
    }
    // 14 in and both ends: 15 of 58 starts on whole inches are possible.
    assert_eq!(refused, 58 - 15);
}

#[test]
fn cloth_too_narrow_to_railroad_is_refused_or_hung_upright() {
    let narrow = |hang| Cloth { hang, direction: Direction::Either, ..cloth(None) };
    let fault = plan::make(rectangle(narrow(ClothHang::Railroaded))).expect_err("54 in for 108");
    assert_eq!(fault.code, "too-high-to-railroad");
    // 108 in show, and 2 in lie beyond at top and bottom.
    assert!(fault.message.contains("9′ 4″") && fault.help.contains("at least 9′ 4″ wide"), "{fault:?}");
    let plan = sound(rectangle(narrow(ClothHang::Least)));
    assert_eq!(plan.way(0), Way::Upright);
    assert!(plan.cloths[0].compared[1].why_not.contains("railroaded"));
}

#[test]
fn a_wall_longer_than_a_bolt_is_refused() {
    let short = Cloth { bolt_length: Length::yards(4), ..wide(None, ClothHang::Railroaded) };
    let fault = plan::make(rectangle(short)).expect_err("158 in from a bolt of 144");
    assert_eq!(fault.code, "no-bolt-long-enough");
    assert!(fault.help.contains("joined along its wall"), "{fault:?}");
}

/// Generated rooms, railroaded on goods wide enough for any of them.
pub fn generated(seed: u64) -> Job {
    let mut job = random_job(seed);
    let cloth = &mut job.cloths[0];
    cloth.width = inch(220);
    (cloth.hang, cloth.direction) = (ClothHang::Railroaded, Direction::Either);
    cloth.bolt_length = Length::yards(120);
    job
}

#[test]
fn generated_rooms_railroaded_pass_the_checker() {
    for seed in 0..120 {
        let plan = plan::make(generated(seed)).unwrap_or_else(|fault| panic!("room {seed}: {fault:?}"));
        let found = problems(&json::plan(&plan));
        assert!(found.is_empty(), "room {seed}: {found:#?}");
        let seams = plan.rooms.iter().flat_map(|r| &r.walls).filter_map(|w| w.panel.as_ref());
        let pieced = |o: &Opening| o.cloth == OpeningCloth::Pieced;
        let joints =
            plan.job.rooms.iter().flat_map(|r| &r.walls).flat_map(|w| &w.openings).filter(|o| pieced(o));
        assert!(seams.map(|p| p.seams.len()).sum::<usize>() <= joints.count() * 2, "room {seed}");
    }
}

/// Least is never more than either way.
#[test]
fn least_takes_the_shorter_way() {
    let mut railroaded = 0;
    for seed in 0..24 {
        let mut job = generated(seed);
        job.cloths[0].hang = ClothHang::Least;
        let plan = plan::make(job).unwrap_or_else(|fault| panic!("room {seed}: {fault:?}"));
        let cut = &plan.cloths[0];
        for trial in cut.compared.iter().filter(|t| t.why_not.is_empty()) {
            let v = plan.job.cloths[0].pattern.map_or(Length::ZERO, |l| l.vertical);
            // Both ways take one bolt here, so both add one repeat.
            assert_eq!(cut.phase_allowance, v, "room {seed}");
            assert!(cut.used <= trial.used, "room {seed}: {cut:?}");
        }
        railroaded += usize::from(plan.way(0) == Way::Railroaded);
    }
    assert!(railroaded > 0, "never railroaded");
}

/// The checker must see damage to a railroaded plan too.
#[test]
fn the_checker_finds_damage_to_a_railroaded_plan() {
    let pattern = lattice(inch(29), inch(26), inch(13));
    let plan = sound(rectangle(wide(pattern, ClothHang::Railroaded)));
    let right: Value = serde_json::from_str(&json::plan(&plan)).expect("JSON");
    for path in [
        "/pieces/1/cut/v",
        "/pieces/1/cut/u",
        "/pieces/1/cut/width",
        "/pieces/1/cut/length",
        "/pieces/1/column",
        "/pieces/1/phase",
        "/pieces/1/face/0",
        "/rooms/0/registration/x0",
        "/rooms/0/registration/y0",
        "/rooms/0/registration/match_line",
        "/rooms/0/kill/miss_across",
        "/cloths/0/compared/1/used",
    ] {
        let mut wrong = right.clone();
        let place = wrong.pointer_mut(path).unwrap_or_else(|| panic!("no {path}"));
        *place = (place.as_i64().expect("a whole number") + 1).into();
        assert!(!problems(&wrong.to_string()).is_empty(), "one more at {path} passes the checker");
    }
    let mut wrong = right.clone();
    *wrong.pointer_mut("/cloths/0/way").expect("a way") = "upright".into();
    assert!(!problems(&wrong.to_string()).is_empty());
}

#[test]
fn the_sheets_tell_which_way_the_cloth_hangs() {
    let plan = planned(&text("in", "width 118\nmatch free\ndirection either\nhang least"));
    let workroom = written(&plan, Reader::Workroom);
    for words in [
        "Upright or railroaded",
        "Railroaded: this plan",
        "railroaded piece",
        "wide, railroaded",
        "left edge at the foot of the walls",
    ] {
        assert!(workroom.contains(words), "{words} is not in {workroom}");
    }
    assert!(written(&plan, Reader::Crew).contains("1 railroaded piece"));
    assert!(written(&plan, Reader::Approval).contains("its length runs along the wall"));
}

/// A nap runs along the wall when the cloth does.
#[test]
fn a_railroaded_nap_runs_sideways() {
    let plan = planned(&text("mm", "width 2800\nmatch free\ndirection one-way nap=down\nhang railroaded"));
    assert!(plan.cloths[0].compared.is_empty(), "a one-way cloth has no other way");
    assert!(plan.watch.iter().any(|w| w.contains("runs to the right on every wall")), "{:?}", plan.watch);
}

/// Derived by hand: along the walls the pattern repeats by V, 25 in, so what is centred between two motifs
/// stands half of it, 12 1/2 in, from what is centred on one. Shifted along the walls, all cuts shift alike, so
/// every such start takes as much; shifted up, the cloth's width decides whether it can be.
#[test]
fn starts_of_railroaded_cloth_by_hand() {
    let pattern = lattice(inch(29), inch(25), inch(0));
    let mut plan = sound(rectangle(wide(pattern, ClothHang::Railroaded)));
    plan::options::offer(&mut plan);
    let [offered] = &plan.options[..] else { panic!("{} rooms", plan.options.len()) };
    let start = |name: &str| {
        let named =
            |option: &&plan::model::RegistrationOption| option.names.iter().any(|n| n.starts_with(name));
        offered.options.iter().find(named).unwrap_or_else(|| panic!("{name}"))
    };
    let (motif, between) = (start("motif on the middle"), start("line between motifs on the middle"));
    let apart = between.registration.x0 - motif.registration.x0;
    assert_eq!((apart - sixty_fourths(25 * 32)).rem_euclid(inch(25)), Length::ZERO);
    assert_eq!(motif.used, plan.cloths[0].used);
    assert_eq!(between.used, motif.used);
    let tried =
        offered.options.iter().flat_map(|o| &o.names).chain(offered.impossible.iter().map(|(n, _)| n));
    assert!(tried.into_iter().any(|name| name.starts_with("motif whole at the crown")), "{offered:?}");
}
