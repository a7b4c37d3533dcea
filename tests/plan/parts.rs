//! Batting, staples, corners, trim and purchases of rooms small enough to work out by hand.
//! All arithmetic in the comments is ours, from the rules of the trade as the code states them.

use clothwright::geom::{Point, Profile, Rect};
use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::*;
use clothwright::units::Length;

use crate::rooms::*;

fn eighths(n: i64) -> Length {
    sixty_fourths(n * 8)
}

fn cut_lengths(plan: &Plan, wall: usize) -> Vec<(&str, Length)> {
    plan.rooms[0].walls[wall].batting.iter().map(|b| (b.label.as_str(), b.cut_length)).collect()
}

fn spans(plan: &Plan, wall: usize) -> Vec<(Length, Length)> {
    plan.rooms[0].walls[wall].batting.iter().map(|b| (b.rect.x0, b.rect.x1)).collect()
}

/// (length, count) of the lines of one kind, in their order.
fn lines(plan: &Plan, wall: usize, kind: StapleKind) -> Vec<(Length, i64)> {
    let lines = plan.rooms[0].walls[wall].staples.iter().filter(|l| l.kind == kind);
    lines.map(|l| (l.length, l.count)).collect()
}

fn bought<'a>(plan: &'a Plan, item: &str) -> &'a Purchase {
    plan.purchases.iter().find(|p| p.item.contains(item)).expect(item)
}

fn runs(plan: &Plan, place: TrimPlace) -> Vec<(&str, Length)> {
    let runs = plan.rooms[0].trim.iter().filter(|t| t.place == place);
    runs.map(|t| (t.what.as_str(), t.length)).collect()
}

/// 13 ft by 12 ft by 9 ft, base 6 in, crown 4 in: a field 98 in high round 600 in, plain cloth 52 in
/// between matches, batting 48 in wide kept 1/8 in from base and crown.
pub fn square() -> Job {
    let mut job = moulded(rectangle(cloth(None)));
    job.trims.corner = welt(true);
    job.trims.bottom = welt(true);
    job.trims.top = braid(true);
    job
}

#[test]
fn square_room_batting() {
    let plan = make(square()).expect("a plan");
    // Wall 1 is 156 in: three widths of cloth with seams at 52 and 104. Joints at 48 and 96 stand 4
    // and 8 in from them, more than the 3 in asked; 144 leaves 12 in. Each is 98 - 2/8 in long.
    let joints = [0, 48, 96, 144, 156].map(inch);
    let expected: Vec<_> = joints.windows(2).map(|j| (j[0], j[1])).collect();
    assert_eq!(spans(&plan, 0), expected);
    let long = eighths(98 * 8 - 2);
    assert_eq!(cut_lengths(&plan, 0), [("1a", long), ("1b", long), ("1c", long), ("1d", long)]);
    // Each joint is 97 3/4 in at 4 in: 25 spaces, 26 staples.
    assert_eq!(lines(&plan, 0, StapleKind::BattingButt), [(long, 26); 3]);
    // Top and bottom 156 in at 8 in: 20 spaces, 21 staples; the sides 97 3/4 in: 13 spaces, 14.
    let edges = lines(&plan, 0, StapleKind::BattingEdge);
    assert_eq!(edges, [(inch(156), 21), (inch(156), 21), (long, 14), (long, 14)]);
}

/// By hand: a window from 50 to 80 in, its gap from 49 7/8 to 80 1/8. The first joint of [`square_room_batting`], at 48,
/// would leave a sliver of 1 7/8 in before it, and moves to where 6 in are left. The next roll then ends at 91 7/8,
/// clear of everything.
#[test]
fn no_sliver_of_batting_is_left_beside_a_casing() {
    let mut job = square();
    let window = Rect::new(inch(50), inch(30), inch(80), inch(70));
    let opening = opening("W1", OpeningKind::Window, window, OpeningCloth::CoveredThrough);
    job.rooms[0].walls[0].openings.push(opening);
    let plan = make(job).expect("a plan");
    let joints: Vec<Length> = spans(&plan, 0).iter().map(|span| span.1).take(2).collect();
    assert_eq!(joints, [eighths(43 * 8 + 7), eighths(91 * 8 + 7)]);
}

#[test]
fn square_room_staples() {
    let plan = make(square()).expect("a plan");
    // At 1 in: 156 spaces and one more; 98 and one more. Tacks at 12 in: 13 and one more.
    assert_eq!(lines(&plan, 0, StapleKind::Top), [(inch(156), 157)]);
    assert_eq!(lines(&plan, 0, StapleKind::Bottom), [(inch(156), 157)]);
    assert_eq!(lines(&plan, 0, StapleKind::Side), [(inch(98), 99), (inch(98), 99)]);
    assert_eq!(lines(&plan, 0, StapleKind::Tack), [(inch(156), 14)]);
    assert_eq!(lines(&plan, 0, StapleKind::Wrap), []);
    assert_eq!(lines(&plan, 0, StapleKind::Casing), []);
}

#[test]
fn square_room_trim_and_purchases() {
    let plan = make(square()).expect("a plan");
    let corners = runs(&plan, TrimPlace::Corner);
    assert_eq!(
        corners,
        ["A", "B", "C", "D"].map(|c| format!("corner {c}")).each_ref().map(|c| (c.as_str(), inch(98)))
    );
    // Round the room once: 2 x (156 + 144) = 600 in, in one closed piece.
    assert_eq!(runs(&plan, TrimPlace::Top), [("crown, whole room, starting at corner A", inch(600))]);
    let bottom: Length = runs(&plan, TrimPlace::Bottom).iter().map(|r| r.1).sum();
    assert_eq!(bottom, inch(600));
    // 600 + 2 x 2 in at the joint = 604 in = 16 yd 28 in: 17 yd.
    let bought_braid = bought(&plan, "Braid");
    assert_eq!(
        (bought_braid.count, bought_braid.left()),
        (17, Amount::Length(inch(17 * 36 - 604), SoldIn::Yard))
    );
    assert!(bought_braid.reason.contains("one piece of 16 yd 28″"), "{}", bought_braid.reason);
    // Staples, two walls of each length. Cloth: 157 x 2 + 99 x 2 + 14 = 526 on a long wall, and 145 x 2 +
    // 99 x 2 + 13 = 501 on a short one: 2054. Batting, long wall: 2 x 21 + 2 x 14 + 3 x 26 = 148. Short wall,
    // 144 in: top and bottom 18 spaces each, 2 x 19 + 2 x 14 + joints of 26.
    let joints: usize = (0..4).map(|w| lines(&plan, w, StapleKind::BattingButt).len()).sum();
    let batting = 2 * (2 * 21 + 2 * 14) + 2 * (2 * 19 + 2 * 14) + 26 * joints as i64;
    let staples = bought(&plan, "Staples");
    assert_eq!(staples.need, Amount::Count(2054 + batting));
    assert!(staples.reason.starts_with(&format!("2054 in cloth and {batting}")), "{}", staples.reason);
    // (2054 + 558) x 1.1 is under 5000: one box. No outside corner: no hem tape.
    assert_eq!((staples.count, staples.left()), (1, Amount::Count(5000 - 2054 - batting)));
    assert!(plan.purchases.iter().all(|p| !p.item.contains("hem tape")));
}

/// Trim sold by the roll: runs are not pieced from two rolls where one holds them.
#[test]
fn trim_by_the_roll() {
    let mut job = square();
    job.trims.top = Trim { each: Length::yards(10), ..braid(false) };
    let plan = make(job).expect("a plan");
    // Four runs, 156 + 4, 144 + 4, 156 + 4 and 144 + 4 in, from rolls of 360: two of 160 leave 40, two of 148
    // leave 64. By length alone 616 in are two rolls too.
    let rolls = bought(&plan, "Braid, roll of 10 yd");
    assert_eq!((rolls.count, rolls.unit.as_str()), (2, "roll"));
    assert_eq!(rolls.left(), Amount::Length(inch(720 - 616), SoldIn::Yard));
    let mut job = square();
    job.trims.top = Trim { each: Length::yards(8), ..braid(false) };
    // From rolls of 288 in: one run each, for 160 + 148 is more. By length alone it would be three.
    assert_eq!(bought(&make(job).expect("a plan"), "Braid, roll").count, 4);
}

#[test]
fn rows_are_open_beside_a_known_pipe_and_a_box() {
    let mut job = breast();
    // A pipe 20 in up along the breast, and a box that the base cuts, from 2 to 4 in along it.
    let (from, to) = (Point::new(inch(0), inch(20)), Point::new(inch(60), inch(20)));
    job.rooms[0].walls[2].services.push(Service { kind: ServiceKind::Pipe, from, to });
    let rect = Rect::new(inch(2), inch(5), inch(4), inch(9));
    job.rooms[0].walls[2].fixings.push(Fixing { label: "X9".into(), kind: FixingKind::Box, rect });
    let plan = make(job).expect("a plan");
    // From 6 to 44 in up the fireplace's side, without 16 to 24: 10 in, and 20 up, 40 over, 20 down, and 10.
    assert_eq!(lines(&plan, 2, StapleKind::Casing), [(inch(10), 11), (inch(80), 81), (inch(10), 11)]);
    // The first 10 in of the base without what lies within 4 in of the box: 8 to 10 in; and those right of F1.
    let bottom = [(inch(2), 3), (inch(10), 11)];
    assert_eq!(lines(&plan, 2, StapleKind::Bottom), bottom);
    let rows = plan.rooms[0].walls[2].staples.iter().filter(|l| l.kind == StapleKind::Casing);
    let places: Vec<&str> = rows.map(|l| l.place.as_str()).collect();
    assert_eq!(
        places,
        [
            "round F1, as far as the pipe",
            "round F1, on from the pipe to the pipe again",
            "round F1, on from the pipe"
        ]
    );
}

/// The breast of [`chimney_breast`], with mouldings: walls 2, 3 and 4 meet at outside corners C and D.
pub fn breast() -> Job {
    let mut job = moulded(chimney_breast(cloth(None)));
    job.trims.opening = welt(true);
    job.trims.top = braid(false);
    job
}

#[test]
fn chimney_breast_batting_goes_round() {
    let plan = make(breast()).expect("a plan");
    // Walls 2, 3 and 4 are one chain of 18 + 60 + 18 in. Wall 3 is 60 in with its seam in the middle, at 30:
    // 48 along the chain. The first roll would end there, so its joint moves 3 in back, to 45: it is
    // carried 27 in round corner C. The next would end at 93 and leave 3 in; the last piece is at
    // least 6 in wide, so the joint is at 90: 72 along wall 3, carried 12 in round corner D.
    assert_eq!(spans(&plan, 1), [(inch(0), inch(18 + 27))]);
    assert_eq!(spans(&plan, 2), [(inch(27), inch(72))]);
    assert_eq!(spans(&plan, 3), [(inch(12), inch(18))]);
    // The joint on wall 3 is stapled there, above the fireplace: 104 - 44 - 2/8 in at 4 in.
    assert_eq!(lines(&plan, 2, StapleKind::BattingButt), [(eighths(60 * 8 - 2), 16)]);
}

#[test]
fn chimney_breast_staples_corners_and_trim() {
    let plan = make(breast()).expect("a plan");
    // The fireplace stands from 10 to 50 in and up to 44 in; the base is 6 in high. Bottom: 10 in each side.
    assert_eq!(lines(&plan, 2, StapleKind::Bottom), [(inch(10), 11), (inch(10), 11)]);
    // Its casing: 38 up, 40 over, 38 down = 116 in.
    assert_eq!(lines(&plan, 2, StapleKind::Casing), [(inch(116), 117)]);
    // The window is closed: 2 x (42 + 54) = 192 in, as many staples as spaces.
    assert_eq!(lines(&plan, 5, StapleKind::Casing), [(inch(192), 192)]);
    // The wrap at C belongs to wall 2, 98 in at 3 in: 33 spaces, 34 staples; wall 3 wraps at D.
    assert_eq!(lines(&plan, 1, StapleKind::Wrap), [(inch(98), 34)]);
    assert_eq!(lines(&plan, 2, StapleKind::Wrap), [(inch(98), 34)]);
    assert_eq!(lines(&plan, 3, StapleKind::Wrap), []);
    // Two folds of 98 in: 196 in of tape is one roll of 360 in.
    let tape: Length = plan.rooms[0].corners.iter().map(|c| c.hem_tape).sum();
    assert_eq!(tape, inch(196));
    assert_eq!(bought(&plan, "hem tape").count, 1);
    // No base across the fireplace or the door: 536 in round less 40 less 38.
    let bottom: Length = runs(&plan, TrimPlace::Bottom).iter().map(|r| r.1).sum();
    assert_eq!(bottom, inch(48 + 18 + 60 + 18 + 48 + 144 + 156 + 144 - 40 - 38));
    // Door 78 + 38 + 78 = 194 in above the base.
    assert_eq!(
        runs(&plan, TrimPlace::Opening),
        [("round F1", inch(116)), ("round W1", inch(192)), ("round D1", inch(194))]
    );
    // Corner welt in the six inside corners; none on the arrises.
    assert_eq!(runs(&plan, TrimPlace::Corner).len(), 6);
    // The panel that wraps is hung before the panel that folds.
    let hang = |wall: usize| {
        let hung = |s: &&Step| s.stage == Stage::Hang && s.wall == Some(WallRef { room: 0, wall });
        plan.steps.iter().find(hung).map(|s| s.number)
    };
    assert!(hang(1) < hang(2) && hang(2) < hang(3), "{:?} {:?} {:?}", hang(1), hang(2), hang(3));
}

#[test]
fn a_metal_bead_takes_no_staples() {
    let mut job = breast();
    job.rooms[0].corners[2].metal_bead = true;
    let plan = make(job).expect("a plan");
    assert_eq!(lines(&plan, 1, StapleKind::Wrap), []);
    // Twice 98 in: the wrap is glued as well as the fold.
    assert_eq!(plan.rooms[0].corners[2].adhesive, inch(196));
    assert!(plan.rooms[0].corners[2].treatment.iter().any(|t| t.contains("Do not staple")));
}

/// One wall 96 in wide, 60 in high at its left end and 132 in at its right: the edge runs 96 along and
/// 72 up, so it is 120 in long (the sides are as 3, 4 and 5).
pub fn raked() -> Job {
    let mut job = feature_wall(cloth(None), inch(96), inch(132));
    let ends = vec![Point::new(inch(0), inch(60)), Point::new(inch(96), inch(132))];
    job.rooms[0].walls[0].ceiling = Profile::new(ends).expect("two places");
    job.trims.top = braid(false);
    job
}

#[test]
fn raked_wall() {
    let plan = make(raked()).expect("a plan");
    assert_eq!(lines(&plan, 0, StapleKind::Top), [(inch(120), 121)]);
    assert_eq!(lines(&plan, 0, StapleKind::Bottom), [(inch(96), 97)]);
    // Free ends: 60 and 132 in.
    assert_eq!(lines(&plan, 0, StapleKind::Side), [(inch(60), 61), (inch(132), 133)]);
    assert_eq!(runs(&plan, TrimPlace::Top), [("top edge, wall 1", inch(120))]);
    // The batting starts 1/8 in from the free end. Each piece is as long as the edge is high at the
    // piece's higher side, less 1/8 in at top and bottom; the edge climbs 3/4 in for each inch.
    for piece in &plan.rooms[0].walls[0].batting {
        let high = inch(60) + piece.rect.x1.scale(3, 4);
        assert_eq!(piece.cut_length, high - eighths(2));
    }
    let spans = spans(&plan, 0);
    assert_eq!((spans[0].0, spans[spans.len() - 1].1), (eighths(1), eighths(96 * 8 - 1)));
}

/// A wall of masonry, 100 by 96 in, with batting wide enough to need no joint.
fn masonry() -> Job {
    let mut job = feature_wall(cloth(None), inch(100), inch(96));
    job.rooms[0].walls[0].substrate = Substrate::Masonry;
    job.batting.roll_width = inch(120);
    job
}

#[test]
fn battens_by_hand() {
    let plan = make(masonry()).expect("a plan");
    // Top and bottom over the whole width; the sides between them: 96 - 2 x 1 1/2 in.
    let battens = &plan.rooms[0].walls[0].battens;
    let lengths: Vec<(&str, Length)> = battens.iter().map(|b| (b.place.as_str(), b.length)).collect();
    let (long, side) = (inch(100), inch(93));
    assert_eq!(lengths, [("top", long), ("bottom", long), ("left side", side), ("right side", side)]);
    // From 8 ft lengths: the long ones are 96 + 4. Four lengths for 96, 96, 93, 93 with 0, 0, 3, 3 left; a
    // fifth for the two of 4, with 88 left.
    let stock: Vec<(usize, Length)> = plan.batten_stock.iter().map(|s| (s.cuts.len(), s.rest)).collect();
    assert_eq!(stock, [(1, inch(0)), (1, inch(0)), (1, inch(3)), (1, inch(3)), (2, inch(88))]);
    assert_eq!(bought(&plan, "Battens").count, 5);
    // Screws at 16 in: 96 and 93 in take 6 spaces and so 7 each, 4 in takes 2: 4 x 7 + 2 x 2 = 32, from one
    // box of 100.
    let screws = bought(&plan, "Screws");
    assert_eq!((screws.need, screws.count, screws.left()), (Amount::Count(32), 1, Amount::Count(68)));
    // Of 5 x 96 in bought the battens take 2 x 100 + 2 x 93: 94 in are left.
    let left = bought(&plan, "Battens").left();
    assert_eq!(left, Amount::Length(inch(94), SoldIn::Yard));
    // A batten is wood: the short leg.
    assert!(plan.rooms[0].walls[0].staples.iter().all(|l| l.leg == plan.job.house.legs.wood));
}

#[test]
fn battens_round_a_door_and_behind_joints() {
    let mut job = masonry();
    job.batting.roll_width = inch(48);
    let door = Rect::new(inch(30), Length::ZERO, inch(66), inch(80));
    job.rooms[0].walls[0].openings.push(opening("D1", OpeningKind::Door, door, OpeningCloth::CoveredThrough));
    let plan = make(job).expect("a plan");
    let of = |place: &str| -> Vec<Length> {
        let battens = plan.rooms[0].walls[0].battens.iter().filter(|b| b.place == place);
        battens.map(|b| b.length).collect()
    };
    // Middle lines run 3/4 in outside the casing: up from 3/4 to 80 3/4 in, over 36 + 1 1/2 in, down.
    assert_eq!(of("round D1"), [inch(80), sixty_fourths(75 * 32), inch(80)]);
    // The bottom stops at the middle lines of the uprights: 30 - 3/4 and 34 - 3/4 in.
    assert_eq!(of("bottom"), [sixty_fourths(117 * 16), sixty_fourths(133 * 16)]);
    // One upright behind each joint.
    let joints = plan.rooms[0].walls[0].batting_joints.len();
    assert!(joints > 0);
    assert_eq!(of("behind a joint of batting").len(), joints);
}

/// Where the roll is narrower than what seams want clear, a joint is too close, and the plan says so.
#[test]
fn a_joint_that_cannot_keep_clear_is_told() {
    let mut job = feature_wall(cloth(None), inch(150), inch(96));
    job.batting.roll_width = inch(8);
    job.house.joint_clearance = inch(12);
    let plan = make(job).expect("a plan");
    assert!(plan.work_watch.iter().any(|w| w.contains("batting joint")), "{:?}", plan.work_watch);
    assert!(!make(raked()).expect("a plan").work_watch.iter().any(|w| w.contains("batting joint")));
}

/// A bookcase from wall to wall leaves no field under its top: batting, staples and trim stop at it.
#[test]
fn a_bookcase_up_to_the_crown_cuts_every_edge() {
    let mut job = feature_wall(cloth(None), inch(144), inch(96));
    let case = Rect::new(inch(48), Length::ZERO, inch(98), inch(96));
    job.rooms[0].walls[0].openings.push(opening(
        "B1",
        OpeningKind::BuiltIn,
        case,
        OpeningCloth::CoveredThrough,
    ));
    job.trims.bottom = welt(false);
    job.trims.opening = welt(false);
    let plan = make(job).expect("a plan");
    // 48 in left of it and 46 in right of it.
    for kind in [StapleKind::Top, StapleKind::Bottom] {
        assert_eq!(lines(&plan, 0, kind), [(inch(48), 49), (inch(46), 47)]);
    }
    // Its casing is two open lines up the wall; nothing goes over it.
    assert_eq!(lines(&plan, 0, StapleKind::Casing), [(inch(96), 97), (inch(96), 97)]);
    assert_eq!(runs(&plan, TrimPlace::Opening), [("B1, left side", inch(96)), ("B1, right side", inch(96))]);
    let over = |b: &&BattingPiece| inch(48) < b.rect.x0 && b.rect.x1 < inch(98);
    assert_eq!(plan.rooms[0].walls[0].batting.iter().filter(over).count(), 0);
}

/// Times by the rates of the test house, on the square room.
#[test]
fn times_by_hand() {
    let plan = make(square()).expect("a plan");
    let step = |stage: Stage, wall: usize| {
        let of = |s: &&Step| s.stage == stage && s.wall == Some(WallRef { room: 0, wall });
        plan.steps.iter().find(of).map(|s| (s.minutes, s.people))
    };
    // Wall 1: 526 staples in cloth at 240 an hour are 131.5 minutes, for two people 66.
    assert_eq!(step(Stage::Hang, 0), Some((66, 2)));
    // Four pieces of 97 3/4 in = 391 in, at 12 yd = 432 in an hour: 54.3 minutes.
    assert_eq!(step(Stage::Batting, 0), Some((55, 1)));
    // Nobody does two things at once: minutes of all people fit into the crew's days.
    let work: i64 = plan.steps.iter().map(|s| s.minutes * i64::from(s.people)).sum();
    assert!(plan.days * 420 * 2 >= work);
    let late = plan.steps.iter().map(|s| s.start + s.minutes).max();
    assert_eq!(late.map(|end| (end + 419) / 420), Some(plan.days));
}

/// The square room again, with the roll along the walls.
#[test]
fn lying_batting_by_hand() {
    let mut job = square();
    job.batting.hang = BattingHang::Lying;
    let plan = make(job.clone()).expect("a plan");
    // 97 3/4 in high: a course of 48, and one of 48 would leave 1 3/4 in, less than the smallest 6, so the
    // second ends 6 in below the top: 43 3/4 in; then 6. Each runs the whole wall.
    let courses: Vec<(Length, Length)> =
        plan.rooms[0].walls[0].batting.iter().map(|b| (b.cut_width, b.cut_length)).collect();
    assert_eq!(courses, [(inch(48), inch(156)), (eighths(350), inch(156)), (inch(6), inch(156))]);
    // Two level joints of 156 in at 4 in: 39 spaces, 40 staples.
    assert_eq!(lines(&plan, 0, StapleKind::BattingButt), [(inch(156), 40), (inch(156), 40)]);
    // Off the roll: lying, 156 + 156 + 156, of which the course of 6 in does not fit beside one of 43 3/4 in
    // (4 1/4 in are left): 468 in. Upright, four of 97 3/4 in: 391 in. The least is upright.
    job.batting.hang = BattingHang::Least;
    let least = make(job).expect("a plan");
    assert_eq!(least.rooms[0].walls[0].batting.len(), 4);
    assert!(least.rooms[0].walls[0].batting.iter().all(|b| b.cut_length == eighths(98 * 8 - 2)));
}

/// A course goes on over and beside a door that does not take its whole height.
#[test]
fn a_lying_course_stops_at_a_door_that_takes_its_height() {
    let mut job = feature_wall(cloth(None), inch(144), inch(96));
    let door = Rect::new(inch(48), Length::ZERO, inch(84), inch(80));
    job.rooms[0].walls[0].openings.push(opening("D1", OpeningKind::Door, door, OpeningCloth::CoveredThrough));
    job.batting.hang = BattingHang::Lying;
    let plan = make(job).expect("a plan");
    // The first course, from 1/8 to 48 1/8 in, stops 1/8 in from the door on both sides; the second, up to
    // 95 7/8 in, passes over it.
    let e = |n: i64| eighths(n);
    let expected = [(e(1), e(383)), (e(673), e(1151)), (e(1), e(1151))];
    assert_eq!(spans(&plan, 0), expected);
}

/// A wish for the order of hanging is kept; one against a wrap is an error that names the two steps.
#[test]
fn wishes_for_the_order() {
    let hung = |plan: &Plan, wall: usize| {
        let of = |s: &&Step| s.stage == Stage::Hang && s.wall == Some(WallRef { room: 0, wall });
        plan.steps.iter().find(of).map(|s| s.number)
    };
    let plain = make(breast()).expect("a plan");
    assert!(hung(&plain, 5) < hung(&plain, 6));
    let mut job = breast();
    job.rooms[0].hang_order = vec![(6, 5)];
    let wished = make(job).expect("a plan");
    assert!(hung(&wished, 6) < hung(&wished, 5));
    let mut job = breast();
    job.rooms[0].hang_order = vec![(2, 1)];
    let fault = make(job).expect_err("wall 2 wraps round the corner that wall 3 folds at");
    assert_eq!(fault.code, "order-impossible");
    assert!(fault.message.contains("wall 2") && fault.message.contains("wall 3"), "{}", fault.message);
}

/// Trim in the order that the job says.
#[test]
fn trim_order() {
    let first = |level_first: bool| {
        let mut job = square();
        job.house.level_trim_first = level_first;
        let plan = make(job).expect("a plan");
        plan.steps.iter().find(|s| s.stage == Stage::Trim).map(|s| s.text.clone())
    };
    assert!(first(false).is_some_and(|t| t.contains("corner")));
    assert!(first(true).is_some_and(|t| t.contains("base")));
}

/// A wrap that is glued must hold before the next wall folds over it; help is asked for where the crew is
/// too small.
#[test]
fn glue_holds_and_help_is_asked_for() {
    let mut job = breast();
    job.rooms[0].corners[2].metal_bead = true;
    job.house.crew = 1;
    let plan = make(job).expect("a plan");
    let hang = |wall: usize| {
        let of = |s: &&Step| s.stage == Stage::Hang && s.wall == Some(WallRef { room: 0, wall });
        plan.steps.iter().find(of).expect("every wall is hung")
    };
    assert_eq!(hang(1).hold, 30);
    assert!(hang(2).start >= hang(1).start + hang(1).minutes + 30);
    assert_eq!(hang(0).hold, 0);
    assert!(plan.work_watch.iter().any(|w| w.contains("get help")), "{:?}", plan.work_watch);
    assert!(!make(breast()).expect("a plan").work_watch.iter().any(|w| w.contains("get help")));
}
