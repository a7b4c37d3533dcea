//! Samples: pieces that no wall needs, cut from the same bolt.

use clothwright::export::json;
use clothwright::job::model::{Job, Sample};
use clothwright::plan;
use clothwright::plan::model::{Piece, PieceKind, Plan};
use clothwright::units::Length;

use crate::checker;
use crate::generate::{Random, random_job};
use crate::rooms::*;

fn sample(width: Length, length: Length, motif: bool) -> Sample {
    Sample { label: String::new(), purpose: "the fire test".into(), width, length, motif }
}

fn with(mut job: Job, samples: Vec<Sample>) -> Plan {
    job.cloths[0].samples = samples;
    for (sample, number) in job.cloths[0].samples.iter_mut().zip(1..) {
        sample.label = format!("Sample {number}");
    }
    let plan = plan::make(job).expect("a plan");
    let found = checker::problems(&json::plan(&plan));
    assert!(found.is_empty(), "{found:#?}");
    plan
}

fn samples(plan: &Plan) -> impl Iterator<Item = &Piece> {
    plan.pieces.iter().filter(|piece| piece.kind == PieceKind::Sample)
}

/// Plain cloth, worked by hand: a wall of 144 in takes one width of 52 and two of 46, which are cut less than 50 of
/// 54 in wide and leave more than 2 in, so a small
/// sample takes no cloth; one of the whole width takes its own length and not a nanometre more.
#[test]
fn a_sample_takes_what_is_left_or_its_own_length() {
    let job = rectangle(cloth(None));
    let alone = with(job.clone(), Vec::new());
    let small = with(job.clone(), vec![sample(inch(2), inch(90), false)]);
    assert_eq!(small.cloths[0].used, alone.cloths[0].used);
    let whole = with(job, vec![sample(inch(54), inch(31), false)]);
    assert_eq!(whole.cloths[0].used, alone.cloths[0].used + inch(31));
    assert_eq!(whole.cloths[0].bound, whole.cloths[0].used);
    assert_eq!(whole.cloths[0].without_samples, alone.cloths[0].used);
    assert_eq!(whole.cloths[0].drops_alone, alone.cloths[0].drops_alone);
}

/// Cloth 54 in wide, its left match line 1 in from the edge and a repeat of 26 in: motifs stand 14 and 40 in
/// from the left edge, so a sample 20 in wide about one begins 4 or 30 in from it.
#[test]
fn a_motif_stands_in_the_middle() {
    let job = rectangle(cloth(lattice(inch(26), inch(25), Length::nanometres(317_500_000))));
    let plan = with(job, vec![sample(inch(20), inch(24), true); 3]);
    let places: Vec<Length> = samples(&plan).map(|piece| piece.cut.u).collect();
    assert_eq!(places.len(), 3);
    assert!(places.iter().all(|u| [inch(4), inch(30)].contains(u)), "{places:?}");
}

/// Over generated rooms every sample is cut as it is asked for, which the checker tells from the bolt, and
/// where both plans are proved least it never makes the other pieces take less.
#[test]
fn samples_of_generated_rooms() {
    let mut random = Random::new(4);
    let (mut planned, mut proved) = (0, 0);
    for seed in 0..60 {
        let job = random_job(seed);
        let cloth = &job.cloths[0];
        let widest = cloth.width - cloth.selvage * 2;
        let asked: Vec<Sample> = (0..random.between(1, 5))
            .map(|_| {
                let mut part = |whole: Length| Length::nanometres(whole.nm() / 100 * random.between(10, 45));
                let (width, length) = (part(widest), part(Length::yards(2)));
                sample(width, length, false)
            })
            .collect();
        let asked = asked.into_iter().map(|one| {
            let motif = cloth.pattern.is_some_and(|pattern| one.width <= pattern.horizontal);
            Sample { motif, ..one }
        });
        let asked: Vec<Sample> = asked.collect();
        let Ok(alone) = plan::make(job.clone()) else { continue };
        let plan = with(job, asked);
        planned += 1;
        let (cut, before) = (&plan.cloths[0], &alone.cloths[0]);
        if before.bound == before.used && cut.bolts.len() == before.bolts.len() {
            proved += 1;
            assert!(cut.used >= before.used, "room {seed}");
        }
    }
    assert!(planned > 40 && proved > 20, "{planned} planned, {proved} proved");
}

/// Worked by hand: three samples of 20 by 30 in on plain cloth 54 in wide. Two lie side by side and three do not,
/// so they take two lays of 30 in, and that is proved.
#[test]
fn samples_alone_are_proved() {
    let mut job = rectangle(cloth(None));
    job.rooms[0].walls.truncate(1);
    job.rooms[0].corners = corners(&[None, None]);
    job.rooms[0].closed = false;
    let mut velvet = cloth(None);
    velvet.name = "velvet".into();
    velvet.samples = (1..=3)
        .map(|n| Sample { label: format!("Sample {n}"), ..sample(inch(20), inch(30), false) })
        .collect();
    job.cloths.push(velvet);
    let plan = plan::make(job).expect("a plan");
    let found = checker::problems(&json::plan(&plan));
    assert!(found.is_empty(), "{found:#?}");
    let cut = &plan.cloths[1];
    assert_eq!((cut.used, cut.bound), (inch(60), inch(60)));
}
