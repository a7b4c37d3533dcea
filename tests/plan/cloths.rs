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
