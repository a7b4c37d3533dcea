//! A [`crate::job::model::Job`] to a [`model::Plan`]: ribbon, lattice, pieces, bolt, and the rest.

pub mod battens;
pub mod batting;
pub mod bolt;
pub mod cautions;
mod choice;
pub(crate) mod claims;
pub mod compare;
pub mod corners;
pub mod costs;
mod cut_out_strips;
mod cut_outs;
mod edges;
mod field;
mod hang;
mod hanging;
pub mod lattice;
pub mod model;
mod no_seam;
pub mod options;
pub mod outline;
mod panels;
pub mod pieced;
pub(crate) mod plates;
mod plumb;
pub mod purchases;
mod railroad;
pub mod record;
mod registration;
pub(crate) mod ribbon;
mod rooms;
mod samples;
mod seam_rules;
mod seams;
pub mod staples;
mod starts;
pub mod steps;
mod strips;
mod taping;
pub mod trim;
pub mod words;

use crate::diag::Diag;
use crate::job::Places;
use crate::job::model::{Job, SurveyCheck};
use crate::job::survey;
use model::{ClothPlan, Piece, Plan, RoomPlan, WallRef, Way};

/// Why no plan can be made of a valid job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanFault {
    /// A stable code in words, such as `no-place-for-a-seam`.
    pub code: &'static str,
    /// One sentence in the words of the trade, naming the rule.
    pub message: String,
    /// The wall it concerns, so that the caller can show its place in the file.
    pub wall: Option<WallRef>,
    /// What would make it possible.
    pub help: String,
}

impl PlanFault {
    /// The same for the reader of the job file, at the wall's place in it; an order that cannot be is
    /// shown at the wishes that name the wall, where there are any.
    pub fn diag(self, places: &Places) -> Diag {
        let wall = self.wall.map_or(places.job(), |at| places.wall(at.room, at.wall));
        let asked = self.wall.filter(|_| self.code == "order-impossible");
        let mut wishes = asked.into_iter().flat_map(|at| places.wishes(at.room, at.wall));
        let diag = Diag::error(self.code, wishes.next().unwrap_or(wall), self.message).help(self.help);
        wishes.fold(diag, |diag, wish| diag.also(wish, "this wish names the wall too"))
    }
}

/// The cloth of a job on its walls and on its bolts.
struct Spread {
    rooms: Vec<RoomPlan>,
    pieces: Vec<Piece>,
    cloths: Vec<bolt::LaidOut>,
    watch: Vec<String>,
}

/// The cloth of a job on its walls, before it is cut.
struct OnWalls {
    rooms: Vec<RoomPlan>,
    pieces: Vec<Piece>,
    watch: Vec<String>,
}

/// Spreads the cloths of a job, each of whose patterns has its place, and each hanging the way that
/// `ways` says.
fn spread(job: &Job, ways: &[Way]) -> Result<Spread, PlanFault> {
    let OnWalls { rooms, mut pieces, mut watch } = on_walls(job, ways)?;
    let cloths = bolt::cut(job, &rooms, &mut pieces, &mut watch)?;
    number_through(job.cloths.len(), &mut pieces);
    Ok(Spread { rooms, pieces, cloths, watch })
}

/// Lets the numbers of cuts run on from cloth to cloth: cuts of several cloths lie on one table, and no two of them
/// may bear the same number.
fn number_through(cloths: usize, pieces: &mut [Piece]) {
    let mut before = 0;
    for cloth in 0..cloths {
        let mut count = 0;
        for piece in pieces.iter_mut().filter(|piece| piece.cloth == cloth) {
            piece.cut.number += before;
            count += 1;
        }
        before += count;
    }
}

/// The same up to the bolt: seams chosen, every piece with its place on its wall.
fn on_walls(job: &Job, ways: &[Way]) -> Result<OnWalls, PlanFault> {
    let mut pieces = Vec::new();
    let mut watch = Vec::new();
    let mut rooms: Vec<RoomPlan> = Vec::new();
    for index in 0..job.rooms.len() {
        let draft = rooms::draft(job, index, ways[job.rooms[index].cloth])?;
        let (chosen, told) = choice::choose(job, index, &draft);
        watch.extend(told);
        let mut room = rooms::plan(job, index, draft, &chosen, &mut pieces, &mut watch);
        let runs = rooms.iter().map(|r| r.trim.len()).sum::<usize>();
        trim::run(job, index, runs + 1, &mut room, &mut pieces);
        rooms.push(room);
    }
    samples::add(job, &mut pieces);
    Ok(OnWalls { rooms, pieces, watch })
}

/// Plans a job.
///
/// # Errors
/// A [`PlanFault`] when a rule cannot be kept.
pub fn make(job: Job) -> Result<Plan, PlanFault> {
    let hung = hanging::ways(&job)?;
    let ways: Vec<Way> = hung.iter().map(|hung| hung.way).collect();
    let (settled, tried) = registration::settle(&job, &ways)?;
    let Spread { mut rooms, pieces, cloths, watch: told } = spread(&settled, &ways)?;
    drop(settled);
    let cloths = cloths.into_iter().zip(&job.cloths).zip(hung);
    let cloths: Vec<ClothPlan> = cloths
        .map(|((laid, cloth), hung)| ClothPlan { compared: hung.compared, ..laid.judged(cloth, &pieces) })
        .collect();
    for (room, tried) in rooms.iter_mut().zip(tried) {
        if let Some(tried) = tried {
            let why = &mut room.registration.why;
            *why = format!("where the room takes least cloth, of {tried} places tried: {why}");
        }
    }
    let mut watch = hanging::watch(&job, &ways);
    watch.extend(told);
    let mill_watch = claims::watch(&job, &cloths);
    let mut work_watch = Vec::new();
    bolt::watch(&job, &cloths, &pieces, &mut watch, &mut work_watch);
    for (index, room) in rooms.iter_mut().enumerate() {
        batting::lay(&job, index, room);
        work_watch.extend(batting::watch(&job, index, room));
        watch.extend(plates::watch(&job, index, room));
        battens::fix(&job, index, room);
        staples::drive(&job, index, room);
        corners::treat(&job, index, room);
    }
    let mut assumptions = job.assumptions.clone();
    assumptions.push(rooms::assumption(&job));
    assumptions.push(bolt::assumption(&job));
    let survey = survey::checks(&job);
    work_watch.extend(survey.iter().filter(|check| check.fails()).map(|check| survey_watch(&job, check)));
    let mut plan = Plan {
        cut_outs: cut_outs::cut_outs(&job, &rooms, &pieces),
        job,
        rooms,
        pieces,
        cloths,
        options: Vec::new(),
        opening_trials: Vec::new(),
        purchases: Vec::new(),
        costs: None,
        tools: Vec::new(),
        steps: Vec::new(),
        days: 0,
        batten_stock: Vec::new(),
        survey,
        cautions: Vec::new(),
        watch,
        work_watch,
        mill_watch,
        assumptions,
        built: Vec::new(),
        change: None,
    };
    plan.batten_stock = battens::stock(&plan);
    plan.purchases = purchases::purchases(&plan);
    plan.tools = purchases::tools(&plan);
    plan.cautions = cautions::cautions(&plan);
    plan.steps = steps::steps(&plan)?;
    plan.days = steps::days(&plan);
    plan.costs = costs::costs(&plan);
    plan.built = record::entries(&plan);
    let watch = steps::watch(&plan);
    plan.work_watch.extend(watch);
    Ok(plan)
}

/// What a reader must know of a survey that does not agree with itself.
fn survey_watch(job: &Job, check: &SurveyCheck) -> String {
    let room =
        if job.rooms.len() > 1 { format!(" of {}", words::room_of(job, check.room)) } else { String::new() };
    format!("The survey{room} is to be checked before cloth is cut: {}.", check.text)
}
