//! Several rooms in one job.

use clothwright::export::json;
use clothwright::plan;

use crate::checker;
use crate::rooms::*;

/// Rooms of one cloth are cut from one bolt while it lasts, take no more than they would each by
/// itself with a start of the pattern each, and share the one allowance for it.
#[test]
fn rooms_of_one_cloth_share_a_bolt() {
    let mut one = chimney_breast(cloth(lattice(inch(26), inch(25), inch(0))));
    one.cloths[0].bolt_length = clothwright::units::Length::yards(300);
    let mut two = one.clone();
    let mut second = two.rooms[0].clone();
    second.name = "Second room".into();
    two.rooms.push(second);
    let alone = plan::make(one).expect("a plan");
    let both = plan::make(two).expect("a plan");
    let (alone, cut) = (&alone.cloths[0], &both.cloths[0]);
    assert_eq!((both.cloths.len(), cut.bolts.len()), (1, 1));
    let rooms_on_bolt = [0, 1].map(|room| {
        both.pieces
            .iter()
            .any(|piece| piece.wall().is_some_and(|wall| wall.room == room) && piece.cut.bolt == 0)
    });
    assert_eq!(rooms_on_bolt, [true, true]);
    assert!(cut.used + cut.phase_allowance <= (alone.used + alone.phase_allowance) * 2);
    assert_eq!(cut.phase_allowance, alone.phase_allowance);
    let found = checker::problems(&json::plan(&both));
    assert!(found.is_empty(), "{found:#?}");
}

/// The order of work of many rooms is that of each: no step waits for one of another room but for
/// the cutting and the welt, which serve all.
#[test]
fn rooms_do_not_wait_for_one_another() {
    let mut job = rectangle(cloth(None));
    let room = job.rooms[0].clone();
    for number in 2..=4 {
        let mut next = room.clone();
        next.name = format!("Room {number}");
        job.rooms.push(next);
    }
    let plan = plan::make(job).expect("a plan");
    let mut bound = 0;
    for step in &plan.steps {
        for after in &step.after {
            let before = &plan.steps[after - 1];
            if let (Some(one), Some(other)) = (step.wall, before.wall) {
                assert_eq!(one.room, other.room, "step {} waits for step {after}", step.number);
                bound += 1;
            }
        }
    }
    assert!(bound > 12, "only {bound} steps of walls wait for others");
}

/// What is cut for walls of one label in several rooms has labels of its own; where no other room has
/// a wall of that label, the wall's label is enough.
#[test]
fn walls_of_one_label_in_two_rooms_are_told_apart() {
    let mut job = rectangle(cloth(None));
    let mut second = job.rooms[0].clone();
    second.name = "Second room".into();
    second.walls[0].label = "9".into();
    job.rooms.push(second);
    let plan = plan::make(job).expect("a plan");
    let batting = plan.rooms.iter().flat_map(|room| &room.walls).flat_map(|wall| &wall.batting);
    let mut labels: Vec<&str> = plan.pieces.iter().map(|piece| piece.label.as_str()).collect();
    labels.extend(batting.map(|piece| piece.label.as_str()));
    let count = labels.len();
    labels.sort_unstable();
    labels.dedup();
    assert_eq!(labels.len(), count, "{labels:?}");
    assert!(labels.contains(&"R1-2A") && labels.contains(&"R2-2A"), "{labels:?}");
    assert!(labels.contains(&"1A") && labels.contains(&"9A"), "{labels:?}");
}
