//! [`crate::parse`]'s tree to a proven [`model::Job`]: the trade's rules and the house defaults.

mod backs;
mod built;
mod cloths;
mod corners;
mod ctx;
pub mod defaults;
mod doubts;
mod facts;
pub mod form;
mod hanging;
mod house;
mod legs;
pub mod model;
mod openings;
mod places;
mod prices;
mod rates;
mod received;
mod registration;
mod rooms;
mod samples;
mod sanding;
mod services;
mod square;
mod stretches;
pub mod survey;
mod walls;
mod welts;

use crate::diag::{Diag, Diags};
use crate::parse::{Node, ParsedJob};
use crate::units::Length;
use ctx::Ctx;
use model::{Job, Room, SurveyLimits};
pub use places::Places;
pub(crate) use registration::whole_at;

/// Judges a parsed job by the rules of the trade and fills in the house defaults.
///
/// Every problem goes to `diags`; `None` when any of them, or any told before, is an error.
pub fn check(parsed: &ParsedJob, diags: &mut Diags) -> Option<(Job, Places)> {
    let find = |name: &str| parsed.nodes.iter().filter(|node| node.spec.name == name).collect::<Vec<&Node>>();
    let job = find("job").first().copied();
    let (format, metric) = facts::format(parsed, job);
    let mut ctx = Ctx::new(parsed, diags, format, metric);
    let facts = job.and_then(|job| facts::facts(&mut ctx, job, find("house").first().copied()));
    let print = job.and_then(|job| facts::print_wish(&mut ctx, job));
    let batting = house::batting(&mut ctx, parsed);
    let loft = batting.as_ref().map_or(Length::ZERO, |batting| batting.loft);
    let house = house::house(&mut ctx, parsed, loft);
    let rates = rates::rates(&mut ctx, parsed);
    let seam = house.as_ref().map(|house| house.seam_allowance);
    let nodes = find("cloth");
    unique(&mut ctx, &nodes, "repeated-cloth", "cloth");
    let cloths: Vec<_> =
        nodes.iter().map(|node| (node.arg(0).ok(), cloths::cloth(&mut ctx, node, seam))).collect();
    let trims = house::trims(&mut ctx, parsed);
    let sold: Vec<_> = cloths.iter().map(|(_, cloth)| cloth.clone()).collect();
    let prices = prices::prices(&mut ctx, parsed, &sold, trims.as_ref());
    let nodes = find("room");
    unique(&mut ctx, &nodes, "repeated-room", "room");
    let mut rooms: Vec<_> =
        nodes.iter().map(|node| rooms::room(&mut ctx, node, &cloths, parsed.partial)).collect();
    backs::resolve(&mut ctx, &nodes, &mut rooms);
    if let Some(house) = &house {
        survey(&mut ctx, find("house").first().copied(), &house.survey, &rooms);
    }
    if let Some(job) = job {
        sanding::judge(&mut ctx, job, rooms.iter().flatten().map(|surveyed| &surveyed.room));
    }
    if !ctx.diags.has_errors() {
        unused_cloths(&mut ctx, &rooms, &find("cloth"));
    }
    let surveyed: Option<Vec<rooms::Surveyed>> = rooms.into_iter().collect();
    let sound = surveyed.is_some() && !ctx.diags.has_errors();
    let (rooms, places): (Vec<Room>, Vec<_>) =
        surveyed.into_iter().flatten().map(|surveyed| (surveyed.room, surveyed.places)).unzip();
    // Entries name rooms and walls, so they are only judged when all of these are sound.
    let (as_built, built) =
        if sound { built::as_built(&mut ctx, parsed, &rooms) } else { Default::default() };
    let assumptions = ctx.assumed();
    if !sound || diags.has_errors() {
        return None;
    }
    let places = Places { job: job?.head, rooms: places, built };
    let job = Job {
        facts: facts?,
        print: print?,
        cloths: samples::numbered(cloths.into_iter().map(|(_, cloth)| cloth).collect::<Option<_>>()?),
        batting: batting?,
        trims: trims?,
        house: house?,
        rates: rates?,
        prices: prices?,
        rooms,
        as_built,
        assumptions,
    };
    received::known(&job, &find("cloth"), diags);
    if diags.has_errors() { None } else { Some((job, places)) }
}

/// Checks the survey of every room that is sound, and of walls that rooms share once all are.
fn survey(ctx: &mut Ctx, house: Option<&Node>, limits: &SurveyLimits, rooms: &[Option<rooms::Surveyed>]) {
    let format = ctx.format;
    for (index, surveyed) in rooms.iter().enumerate() {
        let Some(rooms::Surveyed { room, places }) = surveyed else { continue };
        survey::tell(ctx, house, room, places, &survey::of_room(room, index, limits, format));
    }
    let Some(sound) = rooms.iter().map(Option::as_ref).collect::<Option<Vec<_>>>() else { return };
    let all: Vec<Room> = sound.iter().map(|surveyed| surveyed.room.clone()).collect();
    for check in survey::between_rooms(&all, limits, format) {
        let rooms::Surveyed { room, places } = sound[check.room];
        survey::tell(ctx, house, room, places, std::slice::from_ref(&check));
    }
}

/// Tells cloths that no room uses.
fn unused_cloths(ctx: &mut Ctx, rooms: &[Option<rooms::Surveyed>], cloths: &[&Node]) {
    let Some(used) = rooms.iter().map(|room| Some(room.as_ref()?.room.cloth)).collect::<Option<Vec<_>>>()
    else {
        return;
    };
    let idle = |(i, cloth): &(usize, &&Node)| !used.contains(i) && cloth.child("sample").is_none();
    for (_, cloth) in cloths.iter().enumerate().filter(idle) {
        let diag = Diag::warning("unused-cloth", cloth.head, "no room uses this cloth, and none is ordered");
        ctx.diags.push(diag.help("name it in a room with cloth=, or take it out"));
    }
}

/// Tells names that two nodes of a kind share.
fn unique(ctx: &mut Ctx, nodes: &[&Node], code: &'static str, what: &str) {
    for (i, node) in nodes.iter().enumerate() {
        let Some(name) = node.arg::<String>(0).ok() else { continue };
        let before = nodes[..i].iter().filter_map(|node| node.arg::<String>(0).ok());
        if let Some(before) = before.into_iter().find(|before| before.value == name.value) {
            ctx.diags.push(
                Diag::error(code, name.span, format!("{what} {} is there already", name.value))
                    .also(before.span, "here")
                    .help("give it another name"),
            );
        }
    }
}
