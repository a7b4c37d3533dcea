//! What two issues of a job say otherwise, in the order of a job file.

use super::super::model::{Difference, JobPart, Pair, Value, WallRef};
use super::super::words;
use super::facts::{self, Fact, Facts, came_or_went, differences};
use super::matching::{Ids, Inside, Matching, OnWall};
use crate::job::model::{Fixing, Job, Opening, Wall};

/// Everything that is said otherwise, but the prices.
pub fn told(jobs: Pair<&Job>, matching: &Matching, ids: &Pair<Ids>) -> Vec<Difference> {
    // Taken apart field by field, so that a part that is added to a job is compared too.
    let of = |job: &Job| {
        let Job {
            facts,
            print,
            cloths: _,
            batting,
            trims,
            house,
            rates,
            prices: _,
            rooms: _,
            as_built: _,
            assumptions: _,
        } = job;
        let crate::job::model::Trims { corner, opening, top, bottom } = trims;
        vec![
            (JobPart::Job, "job", facts::job::facts(facts, print)),
            (JobPart::Batting, "batting", facts::goods::batting(batting)),
            (JobPart::Trim, "trim in corners", facts::goods::trim(corner)),
            (JobPart::Trim, "trim at openings", facts::goods::trim(opening)),
            (JobPart::Trim, "trim at the top", facts::goods::trim(top)),
            (JobPart::Trim, "trim at the bottom", facts::goods::trim(bottom)),
            (JobPart::House, "house", facts::house::house(house)),
            (JobPart::Rates, "rates", facts::house::rates(rates)),
        ]
    };
    let mut told = Vec::new();
    for ((part, name, was), (_, _, now)) in of(jobs.was).into_iter().zip(of(jobs.now)) {
        let name = Pair::new(name.to_owned(), name.to_owned());
        told.extend(differences(part, &name, &was, &now));
        if part == JobPart::Job {
            told.extend(cloths(jobs, matching));
        }
    }
    told.extend(rooms(jobs, matching, ids));
    let name = "as built".to_owned();
    let built =
        Pair::new(facts::built::as_built(jobs.was, &ids.was), facts::built::as_built(jobs.now, &ids.now));
    told.extend(differences(JobPart::AsBuilt, &Pair::new(name.clone(), name), &built.was, &built.now));
    told.extend(assumptions(jobs));
    told
}

/// What the price lists say otherwise.
pub fn prices(jobs: Pair<&Job>) -> Vec<Difference> {
    let facts = jobs.map(|job| facts::house::prices(job.prices.as_ref(), &job.cloths));
    let name = "prices".to_owned();
    differences(JobPart::Prices, &Pair::new(name.clone(), name), &facts.was, &facts.now)
}

fn cloths(jobs: Pair<&Job>, matching: &Matching) -> Vec<Difference> {
    let mut told = Vec::new();
    for pair in &matching.cloths {
        let was = pair.was.map(|index| &jobs.was.cloths[index]);
        let now = pair.now.map(|index| &jobs.now.cloths[index]);
        let name = Pair::new(was, now).map(|cloth| cloth.map_or(String::new(), |cloth| cloth.name.clone()));
        match (was, now) {
            (Some(was), Some(now)) => {
                let called = named(facts::goods::cloth(was), &was.name, &now.name, "name");
                let now = named(facts::goods::cloth(now), &now.name, &was.name, "name");
                told.extend(differences(JobPart::Cloth, &name, &called, &now));
            }
            (was, now) => {
                let width = Pair::new(was, now).map(|cloth| cloth.map(|cloth| Value::Length(cloth.width)));
                told.push(came_or_went(JobPart::Cloth, name, width));
            }
        }
    }
    told
}

/// Facts with a name first, where the other issue has another.
fn named(facts: Vec<Fact>, name: &str, other: &str, what: &str) -> Vec<Fact> {
    let mut all = Facts::default();
    if name != other {
        all.add(what, name);
    }
    all.0.extend(facts);
    all.0
}

fn rooms(jobs: Pair<&Job>, matching: &Matching, ids: &Pair<Ids>) -> Vec<Difference> {
    let mut told = Vec::new();
    let order = |side: fn(&Pair<Option<usize>>) -> Option<usize>, job: &Job| {
        let both = matching.rooms.iter().filter(|(pair, _)| pair.was.is_some() && pair.now.is_some());
        let mut order: Vec<(usize, usize)> =
            both.enumerate().filter_map(|(n, (pair, _))| Some((side(pair)?, n))).collect();
        order.sort();
        let mut facts = Facts::default();
        let names: Vec<&str> = order.iter().map(|(room, _)| job.rooms[*room].name.as_str()).collect();
        let meaning: Vec<String> = order.iter().map(|(_, n)| n.to_string()).collect();
        facts.add_meaning("order of the rooms", names.join(", "), meaning.join(" "));
        facts.0
    };
    let job = "job".to_owned();
    let (was, now) = (order(|pair| pair.was, jobs.was), order(|pair| pair.now, jobs.now));
    told.extend(differences(JobPart::Job, &Pair::new(job.clone(), job), &was, &now));
    for (pair, inside) in &matching.rooms {
        let name = Pair::new(
            pair.was.map_or(String::new(), |room| words::room_of(jobs.was, room)),
            pair.now.map_or(String::new(), |room| words::room_of(jobs.now, room)),
        );
        match (pair.was, pair.now, inside) {
            (Some(was), Some(now), Some(inside)) => {
                let called = |ids: &Ids, job: &Job, room: usize, other: &str| {
                    named(facts::room::room(job, room, ids), &job.rooms[room].name, other, "name")
                };
                let facts = Pair::new(
                    called(&ids.was, jobs.was, was, &jobs.now.rooms[now].name),
                    called(&ids.now, jobs.now, now, &jobs.was.rooms[was].name),
                );
                told.extend(differences(JobPart::Room, &name, &facts.was, &facts.now));
                told.extend(corners(jobs, Pair::new(was, now), inside));
                told.extend(walls(jobs, Pair::new(was, now), inside, ids));
            }
            _ => {
                let count = |job: &Job, room: usize| {
                    Value::Words(words::counted(job.rooms[room].walls.len() as i64, "wall"))
                };
                let value = Pair::new(
                    pair.was.map(|room| count(jobs.was, room)),
                    pair.now.map(|room| count(jobs.now, room)),
                );
                told.push(came_or_went(JobPart::Room, name, value));
            }
        }
    }
    told
}

/// " in the parlour", where a job has several rooms.
fn in_room(job: &Job, room: usize) -> String {
    if job.rooms.len() > 1 { format!(" in {}", words::room_of(job, room)) } else { String::new() }
}

fn corners(jobs: Pair<&Job>, rooms: Pair<usize>, inside: &Inside) -> Vec<Difference> {
    let mut told = Vec::new();
    for pair in &inside.corners {
        let was = pair.was.map(|at| &jobs.was.rooms[rooms.was].corners[at]);
        let now = pair.now.map(|at| &jobs.now.rooms[rooms.now].corners[at]);
        let name = Pair::new(
            was.map_or(String::new(), |corner| {
                format!("corner {}{}", corner.name, in_room(jobs.was, rooms.was))
            }),
            now.map_or(String::new(), |corner| {
                format!("corner {}{}", corner.name, in_room(jobs.now, rooms.now))
            }),
        );
        match (was, now) {
            (Some(was), Some(now)) => {
                let facts = Pair::new(
                    named(facts::room::corner(was), &was.name, &now.name, "letter"),
                    named(facts::room::corner(now), &now.name, &was.name, "letter"),
                );
                told.extend(differences(JobPart::Corner, &name, &facts.was, &facts.now));
            }
            (was, now) => {
                let kind = Pair::new(was, now)
                    .map(|corner| corner.map(|corner| words::corner_kind(corner.kind).into()));
                told.push(came_or_went(JobPart::Corner, name, kind));
            }
        }
    }
    told
}

fn walls(jobs: Pair<&Job>, rooms: Pair<usize>, inside: &Inside, ids: &Pair<Ids>) -> Vec<Difference> {
    let mut told = Vec::new();
    for (pair, on_wall) in &inside.walls {
        let was = pair.was.map(|wall| &jobs.was.rooms[rooms.was].walls[wall]);
        let now = pair.now.map(|wall| &jobs.now.rooms[rooms.now].walls[wall]);
        let called = |job, room, wall: Option<usize>| {
            wall.map_or(String::new(), |wall| words::wall_of(job, WallRef { room, wall }))
        };
        let name = Pair::new(called(jobs.was, rooms.was, pair.was), called(jobs.now, rooms.now, pair.now));
        match (was, now) {
            (Some(was), Some(now)) => {
                let all = |wall: &Wall, other: &Wall, job: &Job, ids: &Ids| {
                    let mut all = named(facts::wall::wall(wall), &wall.label, &other.label, "label");
                    if wall.name != other.name && !wall.name.is_empty() {
                        let mut name = Facts::default();
                        name.add("name", wall.name.as_str());
                        all.extend(name.0);
                    }
                    all.extend(facts::room::back(job, wall, ids));
                    all
                };
                let facts = Pair::new(all(was, now, jobs.was, &ids.was), all(now, was, jobs.now, &ids.now));
                told.extend(differences(JobPart::Wall, &name, &facts.was, &facts.now));
                told.extend(openings(Pair::new(was, now), on_wall, &name));
                told.extend(fixings(Pair::new(was, now), on_wall, &name));
            }
            (was, now) => {
                let width = Pair::new(was, now).map(|wall| wall.map(|wall| Value::Length(wall.width)));
                told.push(came_or_went(JobPart::Wall, name, width));
            }
        }
    }
    told
}

/// "wall 3, window W1", in either issue.
fn on(walls: &Pair<String>, thing: Pair<Option<String>>) -> Pair<String> {
    let name =
        |wall: &str, thing: Option<String>| thing.map_or(String::new(), |thing| format!("{wall}, {thing}"));
    Pair::new(name(&walls.was, thing.was), name(&walls.now, thing.now))
}

fn openings(walls: Pair<&Wall>, on_wall: &OnWall, wall: &Pair<String>) -> Vec<Difference> {
    let mut told = Vec::new();
    for pair in &on_wall.openings {
        let was = pair.was.map(|at| &walls.was.openings[at]);
        let now = pair.now.map(|at| &walls.now.openings[at]);
        let called = |opening: Option<&Opening>| {
            opening.map(|opening| format!("{} {}", words::opening_kind(opening.kind), opening.label))
        };
        let name = on(wall, Pair::new(called(was), called(now)));
        match (was, now) {
            (Some(was), Some(now)) => {
                let facts = Pair::new(
                    named(facts::wall::opening(was, walls.was), &was.label, &now.label, "label"),
                    named(facts::wall::opening(now, walls.now), &now.label, &was.label, "label"),
                );
                told.extend(differences(JobPart::Opening, &name, &facts.was, &facts.now));
            }
            (was, now) => {
                let value = Pair::new(was, now)
                    .map(|opening| opening.map(|opening| Value::Stretch(opening.clear.x0, opening.clear.x1)));
                told.push(came_or_went(JobPart::Opening, name, value));
            }
        }
    }
    told
}

fn fixings(walls: Pair<&Wall>, on_wall: &OnWall, wall: &Pair<String>) -> Vec<Difference> {
    let mut told = Vec::new();
    for pair in &on_wall.fixings {
        let was = pair.was.map(|at| &walls.was.fixings[at]);
        let now = pair.now.map(|at| &walls.now.fixings[at]);
        let called = |fixing: Option<&Fixing>| {
            fixing.map(|fixing| format!("{} {}", words::fixing_kind(fixing.kind), fixing.label))
        };
        let name = on(wall, Pair::new(called(was), called(now)));
        match (was, now) {
            (Some(was), Some(now)) => {
                let facts = Pair::new(
                    named(facts::wall::fixing(was, walls.was), &was.label, &now.label, "label"),
                    named(facts::wall::fixing(now, walls.now), &now.label, &was.label, "label"),
                );
                told.extend(differences(JobPart::Fixing, &name, &facts.was, &facts.now));
            }
            (was, now) => {
                let value =
                    Pair::new(was, now).map(|fixing| fixing.map(|fixing| Value::Length(fixing.centre().x)));
                told.push(came_or_went(JobPart::Fixing, name, value));
            }
        }
    }
    told
}

/// What is assumed in one issue only.
fn assumptions(jobs: Pair<&Job>) -> Vec<Difference> {
    let texts = jobs.map(|job| {
        let mut facts = Facts::default();
        for assumption in &job.assumptions {
            facts.add(assumption.text.as_str(), assumption.source.as_str());
        }
        facts.0
    });
    let name = "assumed".to_owned();
    differences(JobPart::Assumption, &Pair::new(name.clone(), name), &texts.was, &texts.now)
}
