//! The plan's sentences: names of walls, counts, lists, lengths as they are sold.

use super::model::{Plan, Purpose, Stage, WallRef, Way};
use crate::job::model::{Cloth, CornerKind, Direction, FixingKind, Job, Nap, OpeningKind, SoldIn, Wall};
use crate::units::{Length, LengthFormat, UnitSystem};

/// "wall 3", with the room's name when there are several rooms.
pub(crate) fn wall(plan: &Plan, at: WallRef) -> String {
    wall_of(&plan.job, at)
}

/// The same while there is no plan yet.
pub(crate) fn wall_of(job: &Job, at: WallRef) -> String {
    let label = &job.rooms[at.room].walls[at.wall].label;
    let room = if job.rooms.len() > 1 { format!(" in {}", room_of(job, at.room)) } else { String::new() };
    format!("wall {label}{room}")
}

/// What a piece of `cloth` is cut for: "wall 3", "the sample for the fire test".
pub(crate) fn purpose_of(job: &Job, cloth: &Cloth, purpose: Purpose) -> String {
    match purpose {
        Purpose::Wall(wall) => wall_of(job, wall),
        Purpose::Sample(at) => match cloth.samples.get(at) {
            Some(asked) => format!("the {}", sample(&asked.purpose)),
            None => "a sample".to_owned(),
        },
    }
}

/// "sample for the fire test".
pub(crate) fn sample(purpose: &str) -> String {
    if purpose.is_empty() { "sample".to_owned() } else { format!("sample for {purpose}") }
}

/// "wall 3", "walls 1, 3 and 4", or "every wall" when they are all that have cloth.
pub(crate) fn walls(plan: &Plan, some: &[WallRef]) -> String {
    let clothed = plan.job.rooms.iter().flat_map(|r| &r.walls).filter(|w| w.clothed).count();
    let one_room = plan.job.rooms.len() == 1;
    match some {
        [only] => wall(plan, *only),
        _ if some.len() == clothed => "every wall".to_owned(),
        _ if one_room => {
            let label = |at: &WallRef| plan.job.rooms[at.room].walls[at.wall].label.as_str();
            format!("walls {}", list(&some.iter().map(label).collect::<Vec<_>>()))
        }
        _ => list(&some.iter().map(|at| wall(plan, *at)).collect::<Vec<_>>()),
    }
}

/// A length of a room or of cloth, in the job's own print.
pub(crate) fn print(job: &Job, length: Length) -> String {
    job.print.format.print(length)
}

/// A small thing, such as a cord or a staple's leg, printed finer than a tape shows.
pub(crate) fn fine(job: &Job, length: Length) -> String {
    job.print.format.exact().print(length)
}

/// A length along cloth or within it, where nobody thinks in feet: inches, or millimetres.
pub(crate) fn cloth_length(job: &Job, length: Length) -> String {
    let format = job.print.format;
    let system = match format.system {
        UnitSystem::FeetInches | UnitSystem::Inches => UnitSystem::Inches,
        UnitSystem::Millimetres => UnitSystem::Millimetres,
    };
    LengthFormat { system, ..format }.print(length)
}

/// A round figure in the job's own units: `inches` or, in a metric job, `metric`.
pub(crate) fn by_system(job: &Job, inches: Length, metric: Length) -> Length {
    match job.print.format.system {
        UnitSystem::Millimetres => metric,
        UnitSystem::FeetInches | UnitSystem::Inches => inches,
    }
}

/// Words that begin a sentence.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// "the parlour"; a name that has its own article, or begins with a capital, is left as it is.
pub(crate) fn room(plan: &Plan, room: usize) -> String {
    room_of(&plan.job, room)
}

/// The same while there is no plan yet.
pub(crate) fn room_of(job: &Job, room: usize) -> String {
    let name = &job.rooms[room].name;
    let bare = name.chars().next().is_some_and(char::is_lowercase) && !name.starts_with("the ");
    if bare { format!("the {name}") } else { name.clone() }
}

/// " in the parlour" when there are several rooms, to end the name of what belongs to one.
pub(crate) fn in_room(plan: &Plan, at: usize) -> String {
    if plan.job.rooms.len() > 1 { format!(" in {}", room(plan, at)) } else { String::new() }
}

/// "1 seam", "2 seams".
pub fn counted(count: i64, noun: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{ending}")
}

/// Labels with what is told of them, neighbours of which the same is told taken together: "1a–1k".
pub(crate) fn alike<T: PartialEq>(each: impl IntoIterator<Item = (String, T)>) -> Vec<(String, T)> {
    let mut found: Vec<(Vec<String>, T)> = Vec::new();
    for (label, told) in each {
        match found.last_mut() {
            Some((labels, same)) if *same == told => labels.push(label),
            _ => found.push((vec![label], told)),
        }
    }
    let named = |labels: Vec<String>| match labels.as_slice() {
        [first, _, .., last] => format!("{first}–{last}"),
        few => few.join(", "),
    };
    found.into_iter().map(|(labels, told)| (named(labels), told)).collect()
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// A length of cloth or trim in what it is sold in: "118 yd 4″" to the nearest inch above, "10.36 m"
/// to the nearest centimetre above; "118 yd" and "10 m" when it is whole.
pub fn sold(length: Length, unit: SoldIn) -> String {
    match unit {
        SoldIn::Yard => {
            let inches = length.div_ceil(Length::inches(1));
            match (inches / 36, inches % 36) {
                (0, inches) => format!("{inches}″"),
                (yards, 0) => format!("{yards} yd"),
                (yards, inches) => format!("{yards} yd {inches}″"),
            }
        }
        SoldIn::Metre => {
            let centimetres = length.div_ceil(Length::mm(10));
            match (centimetres / 100, centimetres % 100) {
                (metres, 0) => format!("{metres} m"),
                (metres, rest) => format!("{metres}.{rest:02} m"),
            }
        }
    }
}

/// What is left of cloth, in what it is sold in: the same to the nearest inch or centimetre below.
pub(crate) fn sold_whole(length: Length, unit: SoldIn) -> String {
    let step = sold_step(unit);
    sold(step * length.div_floor(step), unit)
}

/// The difference of two lengths as [`sold`] prints them, so that it closes with what stands beside it: the second
/// less the first.
pub(crate) fn sold_apart(first: Length, second: Length, unit: SoldIn) -> Length {
    let step = sold_step(unit);
    step * (second.div_ceil(step) - first.div_ceil(step))
}

/// The step that lengths are told in as they are sold.
fn sold_step(unit: SoldIn) -> Length {
    match unit {
        SoldIn::Yard => Length::inches(1),
        SoldIn::Metre => Length::mm(10),
    }
}

/// How the pieces of a one-way cloth must hang: "the same way up, the nap running down". Nothing for
/// a cloth that may be turned.
pub(crate) fn way_up(cloth: &Cloth, way: Way) -> Option<String> {
    if cloth.direction == Direction::Either {
        return None;
    }
    let nap = nap(cloth, way).map_or(String::new(), |runs| format!(", the nap running {runs}"));
    Some(format!("the same way up{nap}"))
}

/// "upright" or "railroaded".
pub const fn way(way: Way) -> &'static str {
    match way {
        Way::Upright => "upright",
        Way::Railroaded => "railroaded",
    }
}

/// Which way the nap of a cloth runs on the wall: "down"; when it has one.
pub(crate) fn nap(cloth: &Cloth, way: Way) -> Option<&'static str> {
    match (cloth.nap, way) {
        (Nap::None, _) => None,
        (Nap::Down, Way::Upright) => Some("down"),
        (Nap::Up, Way::Upright) => Some("up"),
        (Nap::Down, Way::Railroaded) => Some("to the right"),
        (Nap::Up, Way::Railroaded) => Some("to the left"),
    }
}

/// What a unit is called: "yard" or "metre".
pub(crate) fn unit(sold_in: SoldIn) -> &'static str {
    match sold_in {
        SoldIn::Yard => "yard",
        SoldIn::Metre => "metre",
    }
}

/// What kind of corner.
pub(crate) const fn corner_kind(kind: CornerKind) -> &'static str {
    match kind {
        CornerKind::Inside => "inside",
        CornerKind::Outside => "outside",
        CornerKind::FreeEnd => "free end",
    }
}

/// What kind of opening.
pub(crate) const fn opening_kind(kind: OpeningKind) -> &'static str {
    match kind {
        OpeningKind::Door => "door",
        OpeningKind::Window => "window",
        OpeningKind::Archway => "archway",
        OpeningKind::Niche => "niche",
        OpeningKind::Fireplace => "fireplace",
        OpeningKind::Mantel => "mantel",
        OpeningKind::BuiltIn => "built-in",
    }
}

/// A part of the work.
pub(crate) const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Before => "Before the crew comes",
        Stage::Prepare => "Prepare the room",
        Stage::Batting => "Batting",
        Stage::Sew => "Cut and sew",
        Stage::Hang => "Hang and staple",
        Stage::Open => "Cut the openings free",
        Stage::Corners => "Outside corners",
        Stage::Trim => "Trim",
        Stage::Finish => "Finish",
    }
}

/// What kind of box or fitting.
pub(crate) const fn fixing_kind(kind: FixingKind) -> &'static str {
    match kind {
        FixingKind::Switch => "switch",
        FixingKind::Box => "box",
        FixingKind::Sconce => "sconce",
        FixingKind::Vent => "vent",
        FixingKind::Thermostat => "thermostat",
    }
}

/// `3 h 05 min`, `35 min`.
pub(crate) fn hours(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, minutes) => format!("{hours} h {minutes:02} min"),
    }
}

/// A height above the datum, in words: "5′ 9½″ above the datum", or from the wall's own lowest floor and from the
/// datum, where heights on the wall are told from that floor.
pub(crate) fn above(job: &Job, wall: &Wall, height: Length) -> String {
    let datum = format!(
        "{} {} the datum",
        print(job, height.abs()),
        if height < Length::ZERO { "below" } else { "above" }
    );
    match wall.heights_from() {
        Length::ZERO => datum,
        floor => format!("{} above that wall's floor, {datum}", print(job, height - floor)),
    }
}

/// Where the level datum of a room lies that heights are counted from: "the level of the floor at corner A".
pub fn datum(plan: &Plan, room: usize) -> String {
    let shape = &plan.job.rooms[room];
    let Some(first) = plan.rooms[room].ribbon.first() else { return "the level datum".to_owned() };
    let corner = &shape.corners[*first].name;
    let print = |length| print(&plan.job, length);
    match shape.walls[*first].floor.at(Length::ZERO) {
        Length::ZERO => format!("the level of the floor at corner {corner}"),
        up if up > Length::ZERO => format!("a level {} below the floor at corner {corner}", print(up)),
        down => format!("a level {} above the floor at corner {corner}", print(-down)),
    }
}
