//! The order of work.
//!
//! `drafts` say what is to be done and `rules` what must come before what; `order` solves
//! that into one list. Nothing here is a fixed text: a room without boxes has no step for plates.

mod drafts;
mod hanging;
mod order;
mod rules;
mod schedule;
mod sentences;
mod times;
mod welt_and_trim;

use super::PlanFault;
use super::model::{Plan, Stage, Step, WallRef};
use schedule::{Day, Task};

/// The steps of a plan whose every other part is made, cautions included.
///
/// # Errors
/// `order-impossible` when two steps would each have to come before the other, as when a wall is
/// wished to be hung after one that folds over it; the fault names two of the steps.
pub fn steps(plan: &Plan) -> Result<Vec<Step>, PlanFault> {
    let drafts = drafts::drafts(plan);
    let keys: Vec<Key> = drafts.iter().map(|d| d.key).collect();
    let befores = rules::befores(plan, &keys);
    let sorted = order::solve(&keys, &befores).map_err(|(a, b)| fault(plan, &drafts, a, b))?;
    let needed = order::reduced(&sorted, &befores);
    let mut number = vec![0; drafts.len()];
    for (i, draft) in sorted.iter().enumerate() {
        number[*draft] = i + 1;
    }
    let mut needs: Vec<Vec<usize>> = vec![Vec::new(); drafts.len()];
    for (first, then) in &needed {
        needs[*then].push(number[*first]);
    }
    needs.iter_mut().for_each(|after| after.sort_unstable());
    let tasks: Vec<Task> = sorted
        .iter()
        .map(|draft| {
            let people = drafts[*draft].people;
            let key = drafts[*draft].key;
            let (minutes, hold) = times::minutes(plan, key, people);
            // Nobody leaves a panel on its tacks, or a fold or a run of trim half glued.
            let whole = matches!(key, Key::Hang(_) | Key::Corner(..) | Key::Trim(..));
            let needs = needs[*draft].iter().map(|n| n - 1).collect();
            Task { people, minutes, hold, whole, needs }
        })
        .collect();
    let day = Day { work: day_of(plan), meal: i64::from(plan.job.rates.meal_minutes) };
    let starts = schedule::starts(&tasks, plan.job.house.crew, day);
    let step = |(i, draft): (usize, &usize)| {
        let (task, start) = (&tasks[i], starts[i]);
        let done = &drafts[*draft];
        let here = |code: &&&str| **code != "stairwell" || over_stair(plan, done.key);
        let raised = |code: &&str| plan.cautions.iter().position(|c| c.code == *code);
        Step {
            number: i + 1,
            stage: done.stage,
            room: rules::room_of(done.key),
            wall: done.wall,
            text: done.text.clone(),
            cautions: done.cautions.iter().filter(here).filter_map(raised).collect(),
            after: needs[*draft].clone(),
            people: task.people,
            minutes: task.minutes,
            hold: task.hold,
            start,
            day: if done.key.before_the_crew() { 0 } else { start / day_of(plan) + 1 },
        }
    };
    Ok(sorted.iter().enumerate().map(step).collect())
}

/// The last working day of a step, from 1: that on which it starts unless it goes on over an evening.
pub fn last_day(plan: &Plan, step: &Step) -> i64 {
    ((step.start + step.minutes - 1).div_euclid(day_of(plan)) + 1).max(step.day)
}

/// Working days from the first step to the end of the last, a begun day counted whole.
pub fn days(plan: &Plan) -> i64 {
    let end = plan.steps.iter().map(|s| s.start + s.minutes).max().unwrap_or(0);
    (end + day_of(plan) - 1) / day_of(plan)
}

/// What the crew must know about its own size, in sentences.
pub fn watch(plan: &Plan) -> Vec<String> {
    let crew = plan.job.house.crew;
    let more: Vec<&Step> = plan.steps.iter().filter(|s| s.people > crew).collect();
    let Some(most) = more.iter().map(|s| s.people).max() else { return Vec::new() };
    let hung = more.iter().filter(|s| s.stage == Stage::Hang).count();
    vec![format!(
        "{} of the {} steps want {most} people, {hung} of them to hang panels, and the crew is {crew}: get help for \
         those, or allow more time.",
        more.len(),
        plan.steps.len()
    )]
}

fn day_of(plan: &Plan) -> i64 {
    i64::from(plan.job.rates.day_minutes.max(1))
}

fn fault(plan: &Plan, drafts: &[Draft], a: usize, b: usize) -> PlanFault {
    let named = |i: usize| match drafts[i].wall {
        Some(at) => format!("{} ({})", drafts[i].name, super::words::wall(plan, at)),
        None => drafts[i].name.to_owned(),
    };
    PlanFault {
        code: "order-impossible",
        message: format!(
            "the order of work goes round in a circle: “{}” and “{}” would each have to come before the other",
            named(a),
            named(b)
        ),
        wall: drafts[a].wall.or(drafts[b].wall),
        help: "at an outside corner the wall that wraps is hung before the wall that folds: let the corner wrap \
               the other way, or take a wish for the order away"
            .to_owned(),
    }
}

/// What a step is about; each key stands for at most one step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum Key {
    Measure(usize),
    Tests(usize),
    FireData(usize),
    Power(usize),
    Clear(usize),
    Find(usize),
    Extend(usize),
    Battens(WallRef),
    Mark(usize),
    Batting(WallRef),
    Answer(usize),
    Cut(usize),
    Sew(WallRef),
    SewWelt,
    SewCutOuts(usize),
    Hang(WallRef),
    Open(WallRef, usize),
    Boxes(WallRef),
    Corner(usize, usize),
    Trim(usize, usize),
    Plates(usize),
    Clean(usize),
    Walk(usize),
}

impl Key {
    /// Whether it is done, or waited for, by others than the crew.
    fn before_the_crew(self) -> bool {
        matches!(self, Key::Measure(_) | Key::Tests(_) | Key::FireData(_) | Key::Answer(_))
    }
}

/// Whether a step is work at the walls of a room in which a stair runs: a wall that stands across the flight, or on
/// its landing, is worked at from the same platform.
fn over_stair(plan: &Plan, key: Key) -> bool {
    match key {
        Key::Battens(WallRef { room, .. })
        | Key::Batting(WallRef { room, .. })
        | Key::Hang(WallRef { room, .. })
        | Key::Trim(room, _) => plan.job.rooms[room].walls.iter().any(super::cautions::climbs),
        _ => false,
    }
}

/// A step before it has a number.
struct Draft {
    key: Key,
    stage: Stage,
    wall: Option<WallRef>,
    /// A few words that name it in a fault.
    name: &'static str,
    text: String,
    /// Codes of the cautions to read before it, if the job raises them.
    cautions: &'static [&'static str],
    people: u32,
}
