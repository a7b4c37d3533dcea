//! The house defaults: every figure used when a job file is silent, and where it comes from.
//!
//! Sources are tagged as the trade notes tag them: published, "common practice, no source", or
//! "from memory, not checked". A job in metric units gets the metric figure, which is the
//! customary round one rather than a conversion.

use crate::units::Length;

/// A default length.
#[derive(Debug)]
pub struct Default {
    /// The figure for a job in feet and inches.
    pub inches: Length,
    /// The figure for a metric job.
    pub metric: Length,
    /// The assumption, with `{}` for the figure.
    pub text: &'static str,
    /// Where the figure comes from.
    pub source: &'static str,
}

/// Common practice of the trade.
pub const COMMON: &str = "common practice, no source";
/// A figure remembered, not looked up.
pub const MEMORY: &str = "from memory, not checked";

const fn row(inch_64ths: i64, mm: i64, text: &'static str, source: &'static str) -> Default {
    Default { inches: Length::inch_64ths(inch_64ths), metric: Length::mm(mm), text, source }
}

/// [`crate::job::model::House::seam_allowance`].
pub static SEAM: Default =
    row(32, 12, "Seam allowance {}.", "published in sewing guides of the trade: 1/2 in");
/// [`crate::job::model::House::top_allowance`].
pub static TOP: Default = row(128, 50, "{} of cloth beyond the field at the top, to pull and trim.", COMMON);
/// [`crate::job::model::House::bottom_allowance`].
pub static BOTTOM: Default =
    row(128, 50, "{} of cloth beyond the field at the bottom, to pull and trim.", COMMON);
/// [`crate::job::model::House::pull_allowance`].
pub static PULL: Default =
    row(128, 50, "{} of cloth beyond the wall at inside corners and free ends, to pull and trim.", COMMON);
/// [`crate::job::model::House::wrap_allowance`].
pub static WRAP: Default = row(192, 75, "{} of cloth carried round outside corners.", COMMON);
/// [`crate::job::model::House::fold_allowance`].
pub static FOLD: Default = row(64, 25, "{} of cloth turned under at the fold of outside corners.", COMMON);
/// [`crate::job::model::House::smallest_sliver`].
pub static SLIVER: Default =
    row(128, 50, "No bit of cloth narrower than {} between a seam and a corner or casing.", COMMON);
/// [`crate::job::model::House::edge_staples`].
pub static EDGE_STAPLES: Default =
    row(64, 25, "Cloth staples every {} along edges.", "published spacings run from 1 to 4 in; the closest");
/// [`crate::job::model::House::wrap_staples`].
pub static WRAP_STAPLES: Default =
    row(192, 75, "Cloth staples every {} along the wrap of outside corners.", COMMON);
/// [`crate::job::model::House::tack_staples`].
pub static TACKS: Default = row(768, 300, "Temporary tacks every {}.", COMMON);
/// [`crate::job::model::House::batting_edge_staples`].
pub static BATTING_EDGE: Default = row(384, 150, "Batting staples every {} at edges.", COMMON);
/// [`crate::job::model::House::batting_butt_staples`].
pub static BATTING_BUTT: Default = row(192, 75, "Batting staples every {} along butt joints.", COMMON);
/// [`crate::job::model::House::joint_clearance`].
pub static JOINT_CLEARANCE: Default =
    row(192, 75, "Batting joints stay {} clear of the cloth's seams.", COMMON);
/// [`crate::job::model::Batting::loft`].
pub static LOFT: Default =
    row(32, 12, "Batting {} thick.", "common practice, no source; published lofts run from 1/4 to 1 in");
/// [`crate::job::model::Batting::roll_width`].
pub static ROLL_WIDTH: Default = row(48 * 64, 1200, "Batting comes {} wide.", MEMORY);
/// [`crate::job::model::Batting::roll_length`].
pub static ROLL_LENGTH: Default = row(20 * 36 * 64, 20_000, "A roll of batting is {} long.", MEMORY);
/// [`crate::job::model::Batting::gap`].
pub static GAP: Default = row(
    8,
    3,
    "Batting stops {} short of crown, base and casings.",
    "common practice, no source; one guide says 1 in",
);
/// [`crate::job::model::Cloth::selvage`].
pub static SELVAGE: Default = row(32, 12, "Selvage {} at each edge of the cloth.", MEMORY);
/// [`crate::job::model::Cloth::bolt_length`].
pub static BOLT: Default = row(60 * 36 * 64, 50_000, "The supplier delivers pieces of up to {}.", MEMORY);
/// The width and height of switches and boxes: a single device box.
pub static BOX_WIDTH: Default = row(128, 50, "Switch and socket boxes are {} wide.", MEMORY);
/// See [`BOX_WIDTH`].
pub static BOX_HEIGHT: Default = row(192, 75, "Switch and socket boxes are {} high.", MEMORY);
/// The width and height of the box behind a wall light.
pub static SCONCE_BOX: Default = row(256, 100, "Boxes behind sconces are {} across.", MEMORY);
/// The width of a vent.
pub static VENT_WIDTH: Default = row(640, 250, "Vents are {} wide.", MEMORY);
/// The height of a vent.
pub static VENT_HEIGHT: Default = row(384, 150, "Vents are {} high.", MEMORY);
/// The projection of a base.
pub static BASE_PROJECTION: Default = row(40, 16, "Base stands {} out from the wall.", MEMORY);
/// [`crate::job::model::Batting::carry`].
pub static CARRY: Default = row(256, 100, "Batting is carried {} past outside corners.", COMMON);
/// [`crate::job::model::Trim::cord`].
pub static CORD: Default =
    row(10, 4, "Cord for welts is {} thick.", "published: a 5/32 in cord in a 1-1/2 in strip");
/// [`crate::job::model::House::smallest_batting`].
pub static SMALLEST_BATTING: Default =
    row(384, 150, "No piece of batting at the end of a wall is narrower than {}.", COMMON);
/// [`crate::job::model::House::trim_end`].
pub static TRIM_END: Default = row(
    128,
    50,
    "{} is added at each end of a run of trim and at each mitre, or as much as the match leaves of a strip across the \
     cloth; where strips are joined, a seam allowance.",
    COMMON,
);
/// [`crate::job::model::House::hem_tape_roll`].
pub static HEM_TAPE: Default = row(10 * 36 * 64, 10_000, "Hem tape comes in rolls of {}.", MEMORY);
/// [`crate::job::model::House::tube_bead`].
pub static TUBE_BEAD: Default = row(
    30 * 12 * 64,
    9_000,
    "A tube of adhesive lays a bead of {}.",
    "derived: 10 fl oz, 18 cu in, in a bead 1/4 in across",
);
/// [`crate::job::model::House::batten_length`].
pub static BATTEN_LENGTH: Default = row(8 * 12 * 64, 2400, "Battens are sold in lengths of {}.", COMMON);
/// [`crate::job::model::House::batten_width`].
pub static BATTEN_WIDTH: Default = row(96, 38, "Battens are {} wide.", COMMON);
/// [`crate::job::model::House::batten_thickness`].
pub static BATTEN_THICKNESS: Default = row(48, 19, "Battens are {} thick.", COMMON);
/// [`crate::job::model::House::batten_screws`].
pub static BATTEN_SCREWS: Default = row(16 * 64, 400, "Battens have a screw at least every {}.", COMMON);
/// [`crate::job::model::House::screw_length`].
pub static SCREW_LENGTH: Default = row(128, 50, "Screws for battens are {} long.", COMMON);
/// [`crate::job::model::House::thread_spool`].
pub static SPOOL: Default = row(300 * 36 * 64, 300_000, "A spool holds {} of thread.", MEMORY);

/// [`crate::job::model::SurveyLimits::closing`].
pub static CLOSING: Default = row(128, 50, "A room may fail to close by {}.", COMMON);
/// [`crate::job::model::SurveyLimits::widths`].
pub static WIDTHS: Default = row(192, 75, "The widths of one wall may differ by {}.", COMMON);
/// [`crate::job::model::SurveyLimits::heights`].
pub static HEIGHTS: Default = row(192, 75, "A middle height may be {} out of line with the ends.", COMMON);
/// [`crate::job::model::SurveyLimits::corner`].
pub static CORNER_HEIGHTS: Default =
    row(48, 20, "The heights of two walls at their corner may differ by {}.", COMMON);
/// [`crate::job::model::SurveyLimits::both_ends`].
pub static BOTH_ENDS: Default =
    row(32, 12, "What is taped from both ends may miss the wall's width by {}.", COMMON);
/// [`crate::job::model::SurveyLimits::back`].
pub static BACK: Default = row(64, 25, "The two sides of one wall may differ in width by {}.", COMMON);

/// All of them, in the order of the reference.
pub static ALL: &[&Default] = &[
    &SEAM,
    &TOP,
    &BOTTOM,
    &PULL,
    &WRAP,
    &FOLD,
    &SLIVER,
    &EDGE_STAPLES,
    &WRAP_STAPLES,
    &TACKS,
    &BATTING_EDGE,
    &BATTING_BUTT,
    &JOINT_CLEARANCE,
    &LOFT,
    &ROLL_WIDTH,
    &ROLL_LENGTH,
    &GAP,
    &SELVAGE,
    &BOLT,
    &BOX_WIDTH,
    &BOX_HEIGHT,
    &SCONCE_BOX,
    &VENT_WIDTH,
    &VENT_HEIGHT,
    &BASE_PROJECTION,
    &CARRY,
    &CORD,
    &SMALLEST_BATTING,
    &TRIM_END,
    &HEM_TAPE,
    &TUBE_BEAD,
    &BATTEN_LENGTH,
    &BATTEN_WIDTH,
    &BATTEN_THICKNESS,
    &BATTEN_SCREWS,
    &SCREW_LENGTH,
    &SPOOL,
    &CLOSING,
    &WIDTHS,
    &HEIGHTS,
    &CORNER_HEIGHTS,
    &BOTH_ENDS,
    &BACK,
];
