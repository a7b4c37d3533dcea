//! The language of cloth, from the job file to the plan and on to the sheets.

use clothwright::diag::{Diags, Severity};
use clothwright::job::model::{Direction, Nap};
use clothwright::plan::model::Plan;
use clothwright::sheet;
use clothwright::sheet::model::{Mark, Reader};
use clothwright::source::FileId;
use clothwright::{job, parse, plan};

/// A room of one wall, 10 ft by 8 ft, whose cloth is described by `cloth`.
pub fn text(units: &str, cloth: &str) -> String {
    format!(
        "units {units}\n\
         job T-1 title=\"Cloths\"\n\
         cloth \"moss\" {{\n{cloth}\n}}\n\
         room \"study\" {{\n\
         corner A free\n\
         wall 1 {{\nwidth \"10ft\"\nheight \"8ft\"\n}}\n\
         corner B free\n\
         }}\n"
    )
}

/// The job of a file without errors.
pub fn checked(text: &str) -> job::model::Job {
    let mut diags = Diags::default();
    let parsed = parse::parse(text, FileId(0), &mut diags).expect("a job file");
    let job = job::check(&parsed, &mut diags);
    let errors: Vec<_> = diags.sorted().into_iter().filter(|d| d.severity == Severity::Error).collect();
    job.unwrap_or_else(|| panic!("{errors:?}")).0
}

/// The plan of a file without errors.
pub fn planned(text: &str) -> Plan {
    plan::make(checked(text)).expect("a plan")
}

/// Everything written on the sheets of one reader, a blank between two texts.
pub fn written(plan: &Plan, reader: Reader) -> String {
    fn collect(marks: &[Mark], into: &mut String) {
        for mark in marks {
            match mark {
                Mark::Text(text) => *into += &format!("{} ", text.text),
                Mark::Group(group) => collect(&group.marks, into),
                Mark::Clip { marks, .. } | Mark::Stamp { marks, .. } => collect(marks, into),
                _ => {}
            }
        }
    }
    let mut all = String::new();
    for set in sheet::compose(plan, None, &[reader]).expect("sheets") {
        set.sheets.iter().for_each(|sheet| collect(&sheet.marks, &mut all));
    }
    all
}

#[test]
fn a_nap_is_told_to_everyone_who_handles_the_cloth() {
    let plan = planned(&text("in", "width 54\nmatch free\ndirection one-way nap=down"));
    let cloth = &plan.job.cloths[0];
    assert_eq!((cloth.direction, cloth.nap), (Direction::OneWay, Nap::Down));
    assert!(plan.watch.iter().any(|w| w.contains("has a nap, which runs down on every wall")));
    let workroom = written(&plan, Reader::Workroom);
    assert!(workroom.contains("the same way up, the nap running down"), "{workroom}");
    assert!(workroom.contains("wide, nap down"), "no label tells the nap: {workroom}");
    assert!(written(&plan, Reader::Crew).contains("the nap running down"));
    assert!(written(&plan, Reader::Approval).contains("runs down"));
}

#[test]
fn a_cloth_that_may_be_turned_is_not_told_to_hang_one_way() {
    let plan = planned(&text("mm", "width 1400\nmatch free\ndirection either"));
    assert_eq!((plan.job.cloths[0].direction, plan.job.cloths[0].nap), (Direction::Either, Nap::None));
    assert!(!written(&plan, Reader::Workroom).contains("the same way up"));
    assert!(written(&plan, Reader::Workroom).contains("may be turned"));
}

/// What the file leaves out is an assumption; what it says is none.
#[test]
fn silence_about_match_and_direction_is_an_assumption() {
    let told = |cloth: &str, words: &str| {
        let job = checked(&text("in", cloth));
        job.assumptions.iter().any(|a| a.text.contains(words))
    };
    assert!(told("width 54", "is plain: its match is free"));
    assert!(told("width 54", "hang the same way up"));
    assert!(!told("width 54\nmatch free", "match is free"));
    assert!(!told("width 54\ndirection one-way", "hang the same way up"));
}

/// Derived by hand. One wall of 120 in, two drops of 96 + 4 in of plain cloth 54 in wide would be 200 in:
/// three are needed, as 120 in and 2 in at each end with two seams do not lie on two widths. 300 in,
/// one after the other; 3 % lost leaves 0.97: 300 / 0.97 = 309.278 in, 9 yd where 300 in are 9 yd too;
/// with a spare of 20 in 320 / 0.97 = 329.897 in, 10 yd where 320 in are 9 yd.
#[test]
fn relaxed_cloth_is_ordered_by_what_is_delivered() {
    let cloth =
        |more: &str| text("in", &format!("width 54\nselvage \"1/2in\"\nmatch free\nspare 20\n{more}"));
    let inch = clothwright::units::Length::inches;
    let made = |more: &str| planned(&format!("{}trim corner none\ntrim bottom none\n", cloth(more)));
    let plain = made("");
    let relaxed = made("shrinkage along=\"3%\" across=\"1%\"");
    let (before, after) = (&plain.cloths[0], &relaxed.cloths[0]);
    assert_eq!((before.used, after.used), (inch(300), inch(300)), "the plan is of relaxed cloth");
    assert_eq!((before.order_units, after.order_units), (9, 10));
    // 320 in is 8 128 000 000 nm; /0.97 rounded up is 8 379 381 444.
    assert_eq!(after.shrinks.nm(), 8_379_381_444 - 8_128_000_000);
    assert_eq!(before.shrinks.nm(), 0);
    let found = crate::checker::problems(&clothwright::export::json::plan(&relaxed));
    assert!(found.is_empty(), "{found:?}");
    let workroom = written(&relaxed, Reader::Workroom);
    assert!(workroom.contains("Lost when the cloth is relaxed, 3 % of its length"), "{workroom}");
    assert!(workroom.contains("which has lost 3 % along and 1 % across"), "{workroom}");
    // 54 / 0.99 = 54.545, rounded up to sixteenths.
    assert!(
        workroom.contains("at least 54 9⁄16″ wide as delivered") || workroom.contains("54⁹⁄₁₆″"),
        "{workroom}"
    );
    let crew = written(&relaxed, Reader::Crew);
    assert!(crew.contains("Relax “moss”"), "{crew}");
}

/// A bolt is given as it is delivered, and holds less once relaxed.
#[test]
fn a_bolt_shrinks_too() {
    let job = checked(&text("in", "width 54\nmatch free\nbolt \"10yd\"\nshrinkage along=\"10%\""));
    assert_eq!(job.cloths[0].bolt_length, clothwright::units::Length::yards(9));
}

/// A job of the room with four walls of 13 and 12 ft from bolts of these yards and lots.
fn from_bolts(bolts: &[(i64, &str)]) -> job::model::Job {
    let cloth = crate::rooms::cloth(crate::rooms::lattice(
        crate::rooms::inch(26),
        crate::rooms::inch(25),
        crate::rooms::inch(0),
    ));
    let mut job = crate::rooms::rectangle(cloth);
    let bolt =
        |&(yards, lot): &(i64, &str)| job::model::OnHand::new(clothwright::units::Length::yards(yards), lot);
    job.cloths[0].on_hand = bolts.iter().map(bolt).collect();
    job.cloths[0].bolt_length = job.cloths[0].on_hand.iter().map(|b| b.length).max().expect("a bolt");
    job
}

/// Derived by hand. Each wall of 108 in takes drops of 112 in, which start 125 in apart: three or four of
/// them are 362 or 487 in, and 25 in more for the start. So a wall of four wants 512 in of a lot, 14 yd 8 in.
#[test]
fn no_wall_is_cut_from_two_dye_lots() {
    let sound = |bolts: &[(i64, &str)]| {
        let plan = plan::make(from_bolts(bolts)).expect("a plan");
        let found = crate::checker::problems(&clothwright::export::json::plan(&plan));
        assert!(found.is_empty(), "{found:#?}");
        plan
    };
    // One lot that does for all is taken, and the other left alone.
    let plan = sound(&[(15, "A"), (60, "B"), (15, "A")]);
    assert_eq!(plan.cloths[0].bolts.iter().map(|b| b.on_hand).collect::<Vec<_>>(), [Some(1)]);
    assert_eq!(
        (plan.cloths[0].order_units, plan.purchases.iter().any(|p| p.item.starts_with("Cloth"))),
        (0, false)
    );
    // Otherwise each wall comes from one lot, and the watch list says from which.
    let plan = sound(&[(30, "A"), (30, "B")]);
    assert!(plan.watch.iter().any(|w| w.contains("comes from 2 dye lots: lot A for")), "{:?}", plan.watch);
    let workroom = written(&plan, Reader::Workroom);
    assert!(workroom.contains("Bolt 1, dye lot A") && workroom.contains("Bolt 2, dye lot B"), "{workroom}");
    assert!(workroom.contains("each lot by itself"), "{workroom}");
    // Bolts of one lot share a wall where none holds it whole.
    let plan = sound(&[(11, "A"), (11, "A"), (11, "A"), (11, "A"), (11, "A"), (11, "A"), (11, "A")]);
    assert!(plan.cloths[0].bolts.len() > 4);
    // As much cloth in lots that are each too short for a wall: refused, with what would do.
    let fault =
        plan::make(from_bolts(&[(8, "A"), (8, "B"), (8, "C"), (8, "D"), (8, "E"), (8, "F"), (8, "G")]))
            .expect_err("no lot holds a wall");
    assert_eq!(fault.code, "cloth-on-hand-too-short");
    assert!(fault.wall.is_some() && fault.help.contains("another bolt of at least"), "{fault:?}");
}

/// The checker must see a wall cut from two lots, and a bolt that is overdrawn.
#[test]
fn the_checker_finds_mixed_lots() {
    let plan = plan::make(from_bolts(&[(30, "A"), (30, "B")])).expect("a plan");
    let right: serde_json::Value =
        serde_json::from_str(&clothwright::export::json::plan(&plan)).expect("JSON");
    let wrong = |path: &str, value: serde_json::Value| {
        let mut wrong = right.clone();
        *wrong.pointer_mut(path).unwrap_or_else(|| panic!("no {path}")) = value;
        !crate::checker::problems(&wrong.to_string()).is_empty()
    };
    assert!(wrong("/cloths/0/on_hand/0/length", 1.into()));
    assert!(wrong("/cloths/0/order_units", 1.into()));
    let bolt = right["pieces"][0]["cut"]["bolt"].as_u64().expect("a bolt");
    assert!(wrong("/pieces/0/cut/bolt", (1 - bolt).into()));
}
