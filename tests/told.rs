//! What a crew and a workroom are told on the sheets of every demo job, against the plan: what to wait for, how panels
//! are sewn, and where every cut and lay lies.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use clothwright::diag::Diags;
use clothwright::job::model::{Job, Paper};
use clothwright::plan::model::{PieceKind, Plan, Stage};
use clothwright::sheet::compose;
use clothwright::sheet::model::{Mark, Reader, Sheet, SheetSet};
use clothwright::source::Sources;
use clothwright::units::Length;
use clothwright::{job, parse, plan};

fn checked(name: &str) -> Job {
    let path = format!("{}/{name}.kdl", env!("CARGO_MANIFEST_DIR"));
    let source = std::fs::read_to_string(path).expect("the job is there");
    let file = Sources::default().add(name, source.as_str());
    let mut diags = Diags::default();
    let parsed = parse::parse(&source, file, &mut diags).expect("a sound file");
    job::check(&parsed, &mut diags).expect("a sound job").0
}

/// Jobs with one cloth and two, with bolts on hand, a stair, a corridor; and one whose survey does not close.
static PLANS: LazyLock<Vec<Plan>> = LazyLock::new(|| {
    let names = [
        "jobs/sluice-house-landing",
        "jobs/plover-house-stair",
        "jobs/otter-lodge-study",
        "jobs/metric-attic-study",
        "tests/rooms/corridor",
    ];
    let mut jobs: Vec<Job> = names.into_iter().map(checked).collect();
    let mut crooked = checked("jobs/otter-lodge-study");
    crooked.rooms[0].walls[2].width += Length::inches(30);
    crooked.cloths[0].on_hand.clear();
    jobs.push(crooked);
    jobs.into_iter().map(|job| plan::make(job).expect("a plan")).collect()
});

fn sets(plan: &Plan, reader: Reader) -> Vec<SheetSet> {
    let papers = [Paper::Letter, Paper::A3];
    papers.iter().flat_map(|&paper| compose(plan, Some(paper), &[reader]).expect("sheets")).collect()
}

/// All texts of a list of marks, with the titles of the groups that they stand in.
fn texts(marks: &[Mark], within: &str, found: &mut Vec<(String, String)>) {
    for mark in marks {
        match mark {
            Mark::Text(text) => found.push((within.to_owned(), text.text.clone())),
            Mark::Clip { marks, .. } => texts(marks, within, found),
            Mark::Group(group) => texts(&group.marks, &group.title, found),
            _ => {}
        }
    }
}

fn told(sheet: &Sheet) -> Vec<(String, String)> {
    let mut found = Vec::new();
    texts(&sheet.marks, "", &mut found);
    found
}

fn is_held_by_survey(plan: &Plan) -> bool {
    plan.survey.iter().any(|check| check.fails())
}

#[test]
fn the_jobs_hold_for_the_survey_for_the_mill_and_not_at_all() {
    let survey = PLANS.iter().filter(|plan| is_held_by_survey(plan)).count();
    let claims = |plan: &&Plan| {
        plan.job.cloths.iter().flat_map(|cloth| &cloth.on_hand).any(|bolt| !bolt.claims.is_empty())
    };
    assert!(survey >= 1);
    assert!(PLANS.iter().filter(claims).count() >= 1);
    assert!(PLANS.iter().filter(|plan| !is_held_by_survey(plan) && !claims(plan)).count() >= 1);
}

#[test]
fn sheets_to_cut_by_say_over_them_what_to_wait_for() {
    for plan in PLANS.iter() {
        let mill =
            plan.job.cloths.iter().flat_map(|cloth| &cloth.on_hand).any(|bolt| !bolt.claims.is_empty());
        let hold = match (is_held_by_survey(plan), mill) {
            (true, _) => Some("HOLD: measure again"),
            (false, true) => Some("HOLD: ask the mill"),
            (false, false) => None,
        };
        for set in sets(plan, Reader::Workroom) {
            let to_cut = |sheet: &&Sheet| {
                sheet.key.starts_with("bolt-map") || told(sheet).iter().any(|(_, words)| words == "Lay")
            };
            let sheets: Vec<&Sheet> = set.sheets.iter().filter(to_cut).collect();
            assert!(sheets.len() >= 2, "{}: a map and a list", plan.job.facts.number);
            for sheet in sheets {
                let words = told(sheet);
                let held = words.iter().find(|(_, words)| words.contains("HOLD"));
                match hold {
                    None => assert_eq!(held, None, "{} {}", plan.job.facts.number, sheet.key),
                    Some(hold) => {
                        let held = held.map_or("", |(_, words)| words);
                        assert!(held.contains(hold), "{} {}: {held}", plan.job.facts.number, sheet.key);
                    }
                }
            }
        }
    }
}

#[test]
fn a_hold_has_a_step_before_anything_is_cut() {
    for plan in PLANS.iter() {
        let step = |start: &str| plan.steps.iter().position(|step| step.text.contains(start));
        let cut = step("Look over the whole length").expect("a step of cutting");
        let measure = step("Hold: measure again");
        assert_eq!(measure.is_some(), is_held_by_survey(plan), "{}", plan.job.facts.number);
        assert!(measure.is_none_or(|measure| measure < cut && plan.steps[measure].day == 0));
        assert!(step("Hold: wait for the mill").is_none_or(|answer| answer < cut));
    }
}

/// What others do comes first, and no cable is searched for where another room is dead already.
#[test]
fn what_comes_before_the_crew_comes_first_and_the_search_before_the_power_goes() {
    for plan in PLANS.iter() {
        let number = &plan.job.facts.number;
        assert!(plan.steps.is_sorted_by_key(|step| step.day != 0), "{number}");
        assert!(plan.steps.iter().all(|step| (step.day == 0) == (step.stage == Stage::Before)), "{number}");
        let searches = || plan.steps.iter().filter(|step| step.text.starts_with("With the power still on"));
        let last = searches().map(|step| (step.number, step.start + step.minutes)).max();
        for off in plan.steps.iter().filter(|step| step.text.starts_with("Switch the power off")) {
            assert!(last.is_none_or(|(number, end)| number < off.number && end <= off.start), "{number}");
        }
    }
}

#[test]
fn a_begun_cloth_says_how_much_is_still_to_be_cut() {
    let begun = |plan: &&Plan| plan.pieces.iter().any(|piece| piece.cut.made.is_some());
    let plan = PLANS.iter().find(begun).expect("the lodge is begun");
    // Bolt 1 is cut to 440 3/4 in and used to 23 yd; all 18 yd 10 in of bolt 2 are to come.
    let to_come = plan.cloths[0].used - Length::inch_64ths(440 * 64 + 48);
    let step = plan.steps.iter().find(|step| step.text.contains("Look over")).expect("a step of cutting");
    // Told in whole inches, rounded up.
    let inches = to_come.div_ceil(Length::inches(1));
    let (yards, inches) = (inches / 36, inches % 36);
    let inches = if inches == 0 { String::new() } else { format!(" {inches}″") };
    let said = step.text.split("they take ").nth(1).expect("what they take");
    assert!(said.starts_with(&format!("{yards} yd{inches} more")), "{said}, and {to_come:?} are to come");
}

#[test]
fn the_sewing_sheets_say_which_tops_and_feet_are_level() {
    for plan in PLANS.iter() {
        let print = |length: Length| plan.job.print.format.print(length);
        let is_level = |a: Length, b: Length| print((a - b).abs()) == print(Length::ZERO);
        let mut level = 0;
        for panel in plan.rooms.iter().flat_map(|room| &room.walls).filter_map(|wall| wall.panel.as_ref()) {
            let piece = |label: &str| plan.pieces.iter().find(|piece| piece.label == label).expect("a piece");
            let joined = panel.joined();
            let pairs = joined.iter().map(|(a, b)| (piece(&a.label), piece(&b.label)));
            let pairs: Vec<_> = pairs
                .filter(|(a, b)| [a.kind, b.kind].iter().all(|&kind| kind != PieceKind::OpeningPiece))
                .collect();
            let both = |(a, b): &(&_, &_)| -> bool {
                let (a, b): (&clothwright::plan::model::Piece, &clothwright::plan::model::Piece) = (a, b);
                is_level(a.gross.y1, b.gross.y1) && is_level(a.gross.y0, b.gross.y0)
            };
            level += usize::from(!pairs.is_empty() && pairs.iter().all(both));
        }
        for set in sets(plan, Reader::Workroom) {
            let sewing = set.sheets.iter().filter(|sheet| sheet.key.starts_with("sewing"));
            let words: Vec<String> = sewing.flat_map(told).map(|(_, words)| words).collect();
            let found = words.join(" ").matches("Tops and feet are level.").count();
            assert_eq!(found, level, "{}", plan.job.facts.number);
        }
    }
}

#[test]
fn no_two_cuts_of_a_job_bear_one_number_and_every_drop_is_named_on_a_map() {
    for plan in PLANS.iter() {
        let numbers: BTreeSet<usize> = plan.pieces.iter().map(|piece| piece.cut.number).collect();
        assert_eq!(numbers, (1..=plan.pieces.len()).collect(), "{}", plan.job.facts.number);
        for set in sets(plan, Reader::Workroom) {
            let maps = set.sheets.iter().filter(|sheet| sheet.key.starts_with("bolt-map"));
            let words: BTreeSet<String> = maps.flat_map(told).map(|(_, words)| words).collect();
            for piece in plan.pieces.iter().filter(|piece| piece.kind <= PieceKind::OpeningPiece) {
                let cut = format!("{}, cut", piece.label);
                let named = words.contains(&piece.label) || words.contains(&cut);
                assert!(named, "{}: {} on the bolt map", plan.job.facts.number, piece.label);
            }
        }
    }
}

#[test]
fn every_lay_is_numbered_on_the_map() {
    for plan in PLANS.iter() {
        let lays =
            plan.cloths.iter().flat_map(|cloth| &cloth.bolts).map(|bolt| bolt.lays.len()).sum::<usize>();
        for set in sets(plan, Reader::Workroom) {
            let maps = set.sheets.iter().filter(|sheet| sheet.key.starts_with("bolt-map"));
            let told = maps.flat_map(told).filter(|(within, _)| within == "numbers of the lays");
            let counted = told.map(|(_, words)| {
                let words = words.trim_start_matches("lays ").trim_start_matches("lay ").to_owned();
                let (from, to) = words.split_once('–').unwrap_or((&words, &words));
                let number = |figure: &str| figure.parse::<usize>().expect("the number of a lay");
                number(to) + 1 - number(from)
            });
            assert_eq!(counted.sum::<usize>(), lays, "{}", plan.job.facts.number);
        }
    }
}
