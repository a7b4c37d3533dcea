//! The plan as `plan.json`: everything that someone needs to check it without this program.
//!
//! All lengths are whole nanometres. The fields and the laws they obey are told in DEVELOPERS.md;
//! a field keeps its name and meaning as long as `version` stays the same.

use serde::Serialize;

use crate::geom::{Point, Rect};
use crate::job::model::{
    Assumption, Cloth, Corner, CornerKind, Direction, Job, Label, Lattice, Nap, OnHand, Opening,
    OpeningCloth, Sample, Shrinkage, SurveyCheck, Wall,
};
use crate::plan::model::{
    Bolt, Change, ClothPlan, CornerPlan, CutOut, CutOutStrip, HandRule, Kill, OpeningTrial, Panel, Piece,
    Plan, Purchase, Registration, RoomOptions, RoomPlan, Step, Trial, WallPlan, Way,
};
use crate::units::Length;

/// The text of `plan.json`, ending in a line break. The same plan gives the same bytes.
pub fn plan(plan: &Plan) -> String {
    let job = &plan.job;
    let file = File {
        format: "clothwright-plan",
        version: 1,
        unit: "nm",
        step: job.print.format.step,
        number: &job.facts.number,
        title: &job.facts.title,
        allowances: allowances(job),
        cloths: (0..plan.cloths.len())
            .map(|i| cloth_file(&job.cloths[i], &plan.cloths[i], plan.way(i)))
            .collect(),
        rooms: (0..plan.rooms.len()).map(|i| room(plan, i)).collect(),
        pieces: &plan.pieces,
        cut_outs: &plan.cut_outs,
        cut_out_strips: plan.rooms.iter().flat_map(|r| &r.trim).flat_map(|t| &t.cut_out_strips).collect(),
        options: &plan.options,
        opening_trials: &plan.opening_trials,
        purchases: &plan.purchases,
        steps: &plan.steps,
        survey: &plan.survey,
        watch: &plan.watch,
        work_watch: &plan.work_watch,
        mill_watch: &plan.mill_watch,
        assumptions: &plan.assumptions,
    };
    // Serializing plain structs with text keys into memory has no way to fail.
    let mut text = serde_json::to_string_pretty(&file).unwrap_or_default();
    text.push('\n');
    text
}

/// The text of `change.json`, ending in a line break. It tells no price.
pub fn change(change: &Change, job: &Job) -> String {
    let (number, title) = (job.facts.number.as_str(), job.facts.title.as_str());
    let same = change.is_empty();
    let file =
        ChangeFile { format: "clothwright-change", version: 1, unit: "nm", number, title, same, change };
    let mut text = serde_json::to_string_pretty(&file).unwrap_or_default();
    text.push('\n');
    text
}

#[derive(Serialize)]
struct ChangeFile<'a> {
    format: &'static str,
    version: u32,
    unit: &'static str,
    number: &'a str,
    title: &'a str,
    same: bool,
    #[serde(flatten)]
    change: &'a Change,
}

#[derive(Serialize)]
struct File<'a> {
    format: &'static str,
    version: u32,
    unit: &'static str,
    step: Length,
    number: &'a str,
    title: &'a str,
    allowances: Allowances,
    cloths: Vec<ClothFile<'a>>,
    rooms: Vec<RoomFile<'a>>,
    pieces: &'a [Piece],
    cut_outs: &'a [CutOut],
    cut_out_strips: Vec<&'a CutOutStrip>,
    options: &'a [RoomOptions],
    opening_trials: &'a [OpeningTrial],
    purchases: &'a [Purchase],
    steps: &'a [Step],
    survey: &'a [SurveyCheck],
    watch: &'a [String],
    work_watch: &'a [String],
    mill_watch: &'a [String],
    assumptions: &'a [Assumption],
}

#[derive(Serialize)]
struct Allowances {
    seam: Length,
    top: Length,
    bottom: Length,
    pull: Length,
    wrap: Length,
    fold: Length,
    smallest_sliver: Length,
}

fn allowances(job: &Job) -> Allowances {
    let house = &job.house;
    Allowances {
        seam: house.seam_allowance,
        top: house.top_allowance,
        bottom: house.bottom_allowance,
        pull: house.pull_allowance,
        wrap: house.wrap_allowance,
        fold: house.fold_allowance,
        smallest_sliver: house.smallest_sliver,
    }
}

#[derive(Serialize)]
struct ClothFile<'a> {
    name: &'a str,
    width: Length,
    selvage: Length,
    left_match: Length,
    match_width: Length,
    pattern: Option<Lattice>,
    label: Option<Label>,
    way: Way,
    direction: Direction,
    nap: Nap,
    bolt_length: Length,
    bolts: &'a [Bolt],
    used: Length,
    phase_allowance: Length,
    spare: Length,
    shrinkage: Shrinkage,
    shrinks: Length,
    on_hand: &'a [OnHand],
    samples: &'a [Sample],
    sold_in: Length,
    order_units: i64,
    order: Length,
    bound: Length,
    widths: usize,
    without_samples: Length,
    drops_alone: Length,
    hand_rules: &'a [HandRule],
    round_flaws: Length,
    use_thousandths: i64,
    compared: &'a [Trial],
}

fn cloth_file<'a>(cloth: &'a Cloth, cut: &'a ClothPlan, way: Way) -> ClothFile<'a> {
    ClothFile {
        name: &cloth.name,
        width: cloth.width,
        selvage: cloth.selvage,
        left_match: cloth.left_match,
        match_width: cloth.match_width,
        pattern: cloth.pattern,
        label: cloth.label,
        way,
        direction: cloth.direction,
        nap: cloth.nap,
        bolt_length: cloth.bolt_length,
        bolts: &cut.bolts,
        used: cut.used,
        phase_allowance: cut.phase_allowance,
        spare: cut.spare,
        shrinkage: cloth.shrinkage,
        shrinks: cut.shrinks,
        on_hand: &cloth.on_hand,
        samples: &cloth.samples,
        sold_in: cloth.sold_in.length(),
        order_units: cut.order_units,
        order: cut.order,
        bound: cut.bound,
        widths: cut.widths,
        without_samples: cut.without_samples,
        drops_alone: cut.drops_alone,
        hand_rules: &cut.hand_rules,
        round_flaws: cut.round_flaws,
        use_thousandths: cut.use_thousandths,
        compared: &cut.compared,
    }
}

#[derive(Serialize)]
struct RoomFile<'a> {
    name: &'a str,
    cloth: usize,
    closed: bool,
    ribbon: &'a [usize],
    length: Length,
    registration: &'a Registration,
    kill: Option<&'a Kill>,
    corners: Vec<CornerFile>,
    walls: Vec<WallFile<'a>>,
}

#[derive(Serialize)]
struct CornerFile {
    name: String,
    kind: CornerKind,
    x: Length,
    consumed: Length,
}

#[derive(Serialize)]
struct WallFile<'a> {
    label: &'a str,
    clothed: bool,
    x: Length,
    width: Length,
    lean: Length,
    field: &'a [Point],
    openings: Vec<OpeningFile<'a>>,
    no_seam: &'a [(Length, Length)],
    panel: Option<&'a Panel>,
}

#[derive(Serialize)]
struct OpeningFile<'a> {
    label: &'a str,
    outer: Rect,
    rise: Length,
    pieced: bool,
}

fn room(plan: &Plan, index: usize) -> RoomFile<'_> {
    let (room, planned): (_, &RoomPlan) = (&plan.job.rooms[index], &plan.rooms[index]);
    let corner = |(corner, place): (&Corner, &CornerPlan)| CornerFile {
        name: corner.name.clone(),
        kind: corner.kind,
        x: place.x,
        consumed: place.consumed,
    };
    RoomFile {
        name: &room.name,
        cloth: room.cloth,
        closed: room.closed,
        ribbon: &planned.ribbon,
        length: planned.length,
        registration: &planned.registration,
        kill: planned.kill.as_ref(),
        corners: room.corners.iter().zip(&planned.corners).map(corner).collect(),
        walls: room.walls.iter().zip(&planned.walls).map(|(wall, place)| wall_file(wall, place)).collect(),
    }
}

fn wall_file<'a>(wall: &'a Wall, place: &'a WallPlan) -> WallFile<'a> {
    let opening = |o: &'a Opening| OpeningFile {
        label: &o.label,
        outer: o.outer,
        rise: o.head.outer_rise,
        pieced: o.cloth == OpeningCloth::Pieced,
    };
    WallFile {
        label: &wall.label,
        clothed: wall.clothed,
        x: place.x,
        width: wall.width,
        lean: wall.lean(),
        field: &place.field,
        openings: wall.openings.iter().map(opening).collect(),
        no_seam: &wall.no_seam,
        panel: place.panel.as_ref(),
    }
}
