//! The language of job files: one row for each kind of node.
//!
//! The reader, the messages and the reference in `jobs/README.md` all follow this table.

use super::fields::*;
use super::spec::{Count, FILE, Kind, SHARED, Spec, may, must};
use super::{bolts, built};
use crate::units::Unit;

/// Every kind of node, parents before children.
pub static TABLE: &[Spec] = &[
    line(
        "units",
        &[FILE, SHARED],
        &[must("unit", Kind::Word(&Unit::WORDS), "the unit")],
        "The unit of every figure in this file that has none.",
    ),
    Spec {
        count: Count::Any,
        ..line(
            "include",
            &[FILE, SHARED],
            &[must("path", Kind::Text, "its path, from this file's folder")],
            "A file of shop standards or cloths. What this file says itself is kept; the included file \
             adds what is not said here.",
        )
    },
    // The job.
    Spec {
        name: "job",
        within: &[FILE],
        count: Count::One,
        args: &[must("number", Kind::Label, "the job's number, at most 16 characters")],
        props: &[must("title", Kind::Text, "the job's title, at most 40 characters")],
        doc: "What the title block says.",
    },
    line("place", &["job"], A_TEXT, "Where the work is."),
    line("installer", &["job", "house"], A_TEXT, "Who hangs the cloth and owns the drawings."),
    line("workroom", &["job", "house"], A_TEXT, "Who cuts and sews."),
    line("designer", &["job"], A_TEXT, "Who approves."),
    line("date", &["job"], &[must("date", Kind::Date, "year, month and day")], "The date of issue."),
    Spec {
        name: "revision",
        within: &["job"],
        count: Count::Any,
        args: &[must("index", Kind::Label, "one or two letters"), must("text", Kind::Text, "what changed")],
        props: &[may("date", Kind::Date, "its date")],
        doc: "A row of the revision table, oldest first.",
    },
    Spec { count: Count::Any, ..line("note", &["job"], A_TEXT, "A note for the cover.") },
    Spec {
        count: Count::Any,
        ..line(
            "set",
            &["job"],
            &[must("reader", SETS, "whose")],
            "A set of sheets to draw when the command line names none; all of them where no line stands.",
        )
    },
    line("paper", &["job"], &[must("size", PAPERS, "the size")], "The sheet size."),
    Spec {
        props: &[may("to", Kind::Length, "the step that printed lengths are rounded to")],
        ..line("print", &["job"], &[must("system", SYSTEMS, "the system")], "How lengths are printed.")
    },
    // The cloth.
    Spec {
        count: Count::Some,
        ..line("cloth", &[FILE, SHARED], A_NAME, "A cloth; a room names it when there are several.")
    },
    Spec { count: Count::One, ..line("width", &["cloth"], A_LENGTH, "The whole width, selvages included.") },
    line("selvage", &["cloth"], A_LENGTH, "The selvage at each edge, which never shows."),
    line("match-width", &["cloth"], A_LENGTH, "Between the match lines: what one width covers."),
    line("left-match", &["cloth"], A_LENGTH, "From the left edge to the left match line."),
    Spec {
        name: "repeat",
        within: &["cloth"],
        count: Count::Maybe,
        args: &[],
        props: &[
            may("horizontal", Kind::Length, "the horizontal repeat"),
            may("across", Kind::Count, "or how many repeats the match width holds"),
            must("vertical", Kind::Length, "the vertical repeat"),
            may("drop", Kind::Fraction, "the drop for each horizontal repeat, in vertical repeats"),
            may("shift", Kind::Length, "or the drop as a length, as labels give it"),
        ],
        doc: "The pattern; plain cloth has none.",
    },
    line(
        "match",
        &["cloth"],
        &[must("match", FREE, "free: widths meet anywhere")],
        "The cloth is plain, or its pattern need not meet: instead of repeat.",
    ),
    Spec {
        props: &[may("nap", NAPS, "which way the pile strokes smooth, as the cloth hangs upright")],
        ..line(
            "direction",
            &["cloth"],
            &[must("direction", DIRECTIONS, "either may be turned any way; one-way has a top")],
            "Whether all pieces must hang the same way up.",
        )
    },
    line(
        "hang",
        &["cloth"],
        &[must("way", HANGS, "which way; least takes less cloth, if it may be turned")],
        "Which way it hangs: upright, its length up the walls, or railroaded, its length along them, its left \
         edge below. The repeat is given across and along the bolt either way.",
    ),
    Spec {
        name: "shrinkage",
        within: &["cloth"],
        count: Count::Maybe,
        args: &[],
        props: &[may("along", Kind::Share, "of its length"), may("across", Kind::Share, "of its width")],
        doc: "What the cloth loses when it is relaxed before it is cut. Width, match lines and repeat are given \
              as they are then; bolts as they are delivered.",
    },
    line("sold-in", &["cloth"], &[must("unit", SOLD_IN, "the unit")], "What it is sold in."),
    line("spare", &["cloth"], A_LENGTH, "Extra length to order beyond the plan."),
    line("bolt", &["cloth"], A_LENGTH, "The longest piece that the supplier delivers."),
    bolts::ON_HAND,
    bolts::CUT,
    bolts::FLAW,
    bolts::MOST_POINTS,
    bolts::SAMPLE,
    line("metallic", &["cloth"], &[], "Metal is woven into it or printed on it."),
    line("fire-class", &["cloth"], A_TEXT, "The fire class and test that the maker states."),
    line(
        "picture",
        &["cloth"],
        &[must("path", Kind::Text, "the path of a PNG file, from this file's folder")],
        "One repeat of the pattern as it hangs upright, from match line to match line, with the motif in the middle; \
         the designer's elevations show it.",
    ),
    // Batting and trim.
    Spec {
        name: "batting",
        within: &[FILE, SHARED],
        count: Count::Maybe,
        args: &[],
        props: &[
            may("loft", Kind::Length, "its thickness"),
            may("roll-width", Kind::Length, "the width of the roll"),
            may("roll-length", Kind::Length, "the length of the roll"),
            may("gap", Kind::Length, "the space left to crown, base and casings"),
            may("carry", Kind::Length, "how far it is carried past an outside corner"),
            may(
                "hang",
                Kind::Word(&["upright", "lying", "least"]),
                "which way it hangs; least takes less of the roll",
            ),
            may("foamed", Kind::Flag, "it is foamed plastic"),
            may("fire-class", Kind::Text, "the fire class and test that the maker states"),
        ],
        doc: "The batting under the cloth.",
    },
    Spec {
        name: "trim",
        within: &[FILE, SHARED],
        count: Count::Any,
        args: &[must("place", PLACES, "where"), must("kind", TRIMS, "what")],
        props: &[
            may("name", Kind::Text, "what it is called in this job"),
            may("strip", Kind::Length, "the width of the strip cut from the cloth for a welt"),
            may("cord", Kind::Length, "the diameter of the cord in a welt"),
            may("matched", Kind::Flag, "whether a strip's pattern meets that of its wall"),
            may("unbroken", Kind::Flag, "one length round the room"),
            may(
                "from-cut-outs",
                Kind::Flag,
                "a welt's strips come from what openings give back, where they can",
            ),
            may("sold-in", SOLD_IN, "what trim or cord is sold in"),
            may("roll", Kind::Length, "the length of a roll, where trim or cord is sold by the roll"),
        ],
        doc: "What covers the staples at one kind of edge.",
    },
    // The house.
    line("house", &[FILE, SHARED], &[], "Allowances and spacings that differ from the house defaults."),
    allowance("seam-allowance", "Cloth beyond a match line at each seam."),
    allowance("top-allowance", "Cloth beyond the field at the top."),
    allowance("bottom-allowance", "Cloth beyond the field at the bottom."),
    allowance("pull-allowance", "Cloth beyond the wall at an inside corner or a free end."),
    allowance("wrap-allowance", "Cloth carried round an outside corner."),
    allowance("fold-allowance", "Cloth turned under at the fold of an outside corner."),
    allowance("smallest-sliver", "The narrowest bit of cloth between a seam and a corner or casing."),
    Spec {
        name: "seam-rules",
        within: &["house"],
        count: Count::Maybe,
        args: &[],
        props: &[
            may("box", FIRMNESS, "a seam through a box"),
            may("sliver", FIRMNESS, "a seam nearer a corner or a casing than the smallest sliver"),
        ],
        doc: "How firmly the rules for seams are kept: with never, or else no plan is made; with avoid, where \
              the match leaves such a place, and it is said where not.",
    },
    allowance("edge-staples", "Spacing of cloth staples along edges."),
    allowance("wrap-staples", "Spacing of cloth staples along the wrap of an outside corner."),
    allowance("tack-staples", "Spacing of temporary tacks."),
    allowance("batting-edge-staples", "Spacing of batting staples at edges."),
    allowance("batting-butt-staples", "Spacing of batting staples along a butt joint."),
    allowance("staple-leg", "The staple leg on every wall."),
    allowance("joint-clearance", "The least distance from a batting joint to a seam of the cloth."),
    allowance("smallest-batting", "The narrowest piece of batting at the end of a wall."),
    allowance("trim-end", "Added at each end and each joint of a trim run."),
    allowance("hem-tape-roll", "The length of a roll of paper-backed hem tape."),
    allowance("tube-bead", "The bead that one tube of adhesive lays."),
    allowance("batten-length", "The length that battens are sold in."),
    allowance("batten-width", "The face width of a batten."),
    allowance("batten-thickness", "The thickness of a batten, out from the wall."),
    line("staple-waste", &["house"], A_COUNT, "Staples bought beyond the count, in hundredths of it."),
    line(
        "stapler-psi",
        &["house"],
        A_COUNT,
        "Air pressure at the stapler in pounds per square inch; 0 without air.",
    ),
    line("staples-per-box", &["house"], A_COUNT, "Staples in a box."),
    allowance("batten-screws", "The greatest distance between the screws of a batten."),
    allowance("screw-length", "How long the screws of a batten are."),
    line("screws-per-box", &["house"], A_COUNT, "Screws in a box."),
    Spec {
        name: "survey-limits",
        within: &["house"],
        count: Count::Maybe,
        args: &[],
        props: SURVEY_LIMITS,
        doc: "How far measures that ought to agree may differ before the survey is doubted.",
    },
    line("thread-times", &["house"], A_COUNT, "Lengths of thread that one length of seam takes."),
    allowance("thread-spool", "The thread on a spool."),
    line(
        "trim-order",
        &["house"],
        &[must("order", Kind::Word(&["upright-first", "level-first"]), "what is fitted first")],
        "Whether trim in corners and round openings is fitted before trim at top and bottom.",
    ),
    line("crew", &["house"], A_COUNT, "How many people."),
    // The rates.
    line("rates", &[FILE, SHARED], &[], "How fast one person works, where it differs from the estimates."),
    rate("staples-per-hour", A_COUNT, "Staples driven in cloth in an hour."),
    rate("batting-per-hour", A_LENGTH, "Batting hung in an hour, off the roll."),
    rate("battens-per-hour", A_LENGTH, "Battens fixed in an hour."),
    rate("seam-per-hour", A_LENGTH, "Seam sewn to the match and pressed in an hour."),
    rate("welt-per-hour", A_LENGTH, "Welt sewn in an hour."),
    rate("trim-per-hour", A_LENGTH, "Trim glued in an hour."),
    rate("cut-minutes", A_COUNT, "Minutes to cut and label a piece of cloth."),
    rate("opening-minutes", A_COUNT, "Minutes to cut an opening free."),
    rate("box-minutes", A_COUNT, "Minutes for one round of work on a box."),
    rate("fold-minutes", A_COUNT, "Minutes to crease, tape and glue an outside corner."),
    rate("hold-minutes", A_COUNT, "Minutes that a glued fold is left alone."),
    rate("step-minutes", A_COUNT, "Minutes for a step that has no rate of its own."),
    rate("day-minutes", A_COUNT, "Working minutes in a day."),
    rate(
        "meal-minutes",
        A_COUNT,
        "Minutes for a meal in the middle of a day, in which glue goes on holding.",
    ),
    // The prices.
    Spec {
        name: "prices",
        within: &[FILE, SHARED],
        count: Count::Maybe,
        args: &[must("currency", Kind::Text, "the currency as it is to be printed")],
        props: &[],
        doc: "What things cost. With it the binder has a cost sheet of its own for the contractor; no other \
              sheet tells a price.",
    },
    Spec {
        name: "price",
        within: &["prices"],
        count: Count::Any,
        args: &[
            must("what", PRICED, "what"),
            must(
                "amount",
                Kind::Money,
                "for one as it is sold: a yard, a roll, a box, an hour of one person",
            ),
        ],
        props: &[may("of", Kind::Text, "the name of the cloth or the trim; for all of them when left out")],
        doc: "The price of one thing.",
    },
    // The room.
    Spec {
        name: "room",
        within: &[FILE],
        count: Count::Some,
        args: A_NAME,
        props: &[may("cloth", Kind::Label, "the name of its cloth, when the file has several")],
        doc: "A room: corners and walls by turns, left to right as seen from inside. A run that starts \
              with a corner and ends with a wall is closed: its last wall meets its first corner.",
    },
    line("year", &["room"], &[must("year", Kind::Count, "four figures")], "The year the building was built."),
    line("public", &["room"], &[], "The public enters this room."),
    Spec {
        name: "hang",
        within: &["room"],
        count: Count::Any,
        args: &[must("wall", Kind::Label, "the wall that is hung first")],
        props: &[must("before", Kind::Label, "the wall that is hung after it")],
        doc: "A wish for the order of work. At an outside corner the wall that wraps comes first in any case.",
    },
    line("textured", &["room"], &[], "A wall or the ceiling carries sprayed or trowelled texture."),
    Spec {
        name: "pattern",
        within: &["room"],
        count: Count::Maybe,
        args: &[],
        props: &[
            may("motif-on", Kind::Label, "the wall that has a motif on its middle"),
            may("seam-on", Kind::Label, "or the wall that has a seam on its middle"),
            may("motif-at", Kind::Label, "or the opening that has a motif on its middle"),
            may("from-corner", Kind::Label, "or the corner where a match line stands"),
            may("line-on", Kind::Label, "or the wall that has a match line at a place of its own"),
            may("from-left", Kind::Length, "that place, from the wall's left end"),
            may("least-cloth", Kind::Flag, "or wherever the room takes the least cloth"),
            may(
                "below-crown",
                Kind::Length,
                "from the highest point of the field down to the first motif's centre",
            ),
            may("whole-on", Kind::Label, "or the wall whose crown cuts no motif: its top motif is whole"),
        ],
        doc: "Where the pattern starts.",
    },
    line(
        "kill-corner",
        &["room"],
        &[must("corner", Kind::Label, "the corner")],
        "The corner where the pattern may fail to meet.",
    ),
    line("casing", &["room"], A_LENGTH, "The casing of every door and window that gives none."),
    Spec {
        name: "corner",
        within: &["room"],
        count: Count::Some,
        args: &[must("name", Kind::Label, "its letter"), must("kind", CORNERS, "what it is")],
        props: &[
            may("angle", Kind::Angle, "between the walls, measured inside the room"),
            may("metal-bead", Kind::Flag, "a metal bead that turns staples"),
            may("wraps", SIDES, "at an outside corner, the side whose panel is carried round"),
        ],
        doc: "Where two walls meet, or where the run ends.",
    },
    Spec {
        name: "wall",
        within: &["room"],
        count: Count::Some,
        args: &[
            must("label", Kind::Label, "its label on the sheets"),
            may("name", Kind::Text, "what it is called"),
        ],
        props: &[
            may("bare", Kind::Flag, "no cloth goes on it"),
            may("substrate", SUBSTRATES, "what it is made of"),
        ],
        doc: "A wall, seen from inside the room.",
    },
    line(
        "substrate",
        &["room"],
        &[must("substrate", SUBSTRATES, "what")],
        "What every wall is made of that does not say.",
    ),
    Spec {
        name: "width",
        within: &["wall"],
        count: Count::One,
        args: &[may("length", Kind::Length, "the width, when it is the same at every height")],
        props: &[
            may("top", Kind::Length, "at the top"),
            may("middle", Kind::Length, "at mid height"),
            may("bottom", Kind::Length, "at the bottom"),
        ],
        doc: "The width of the wall.",
    },
    Spec {
        name: "diagonal",
        within: &["wall"],
        count: Count::Maybe,
        args: &[],
        props: &[
            may("rising", Kind::Length, "from the bottom left to the top right"),
            may("falling", Kind::Length, "from the top left to the bottom right"),
        ],
        doc: "The diagonals from floor to ceiling, which tell whether the wall is square.",
    },
    Spec {
        name: "height",
        within: &["room", "wall"],
        count: Count::Maybe,
        args: &[may("length", Kind::Length, "the height, when it is the same everywhere")],
        props: LEVELS,
        doc: "The height from floor to ceiling, mouldings included; a room's is for walls that give none.",
    },
    Spec {
        name: "floor",
        within: &["wall"],
        count: Count::Maybe,
        args: &[],
        props: &[
            may("left", Kind::Length, "at the left end"),
            may("middle", Kind::Length, "in the middle"),
            may("right", Kind::Length, "at the right end"),
            may(
                "stair",
                Kind::Flag,
                "a stair runs along the wall: the measures are of its pitch or its string",
            ),
        ],
        doc: "How far the floor lies above the level datum.",
    },
    edge(
        "dado",
        "The top of a dado or wainscot, from the floor up: the cloth begins on it. 0 for none on this wall.",
    ),
    edge(
        "rail",
        "The underside of a picture rail or frieze, from the floor up: the cloth ends under it. 0 for none on this wall.",
    ),
    raised(
        "soffit",
        SOFFIT,
        "A box-down or a beam under the ceiling: over that stretch the wall ends lower.",
    ),
    raised(
        "platform",
        PLATFORM,
        "A platform or a step on the floor: over that stretch the wall begins higher.",
    ),
    Spec {
        name: "at",
        within: &["height", "floor", "dado", "rail"],
        count: Count::Any,
        args: &[
            must("distance", Kind::Length, "from the wall's left end"),
            must("height", Kind::Length, "the measure there"),
        ],
        props: &[],
        doc: "A measure at one distance, for slopes and steps.",
    },
    moulding("crown", "The moulding at the top."),
    moulding("base", "The moulding at the bottom."),
    opening("door", TO_FLOOR, "A door; cased at both sides and over."),
    opening("archway", TO_FLOOR, "An opening without a door."),
    opening("fireplace", TO_FLOOR, "A fireplace; its casing is the surround."),
    opening("window", ABOVE_FLOOR, "A window; cased all round."),
    opening("mantel", SQUARE_ABOVE_FLOOR, "A mantel shelf; sill is its underside."),
    opening("niche", ANY_SILL, "A recess."),
    opening("built-in", SQUARE_ANY_SILL, "A bookcase or a cupboard."),
    fixing("switch", "A light switch."),
    fixing("box", "A socket outlet or another box."),
    fixing("sconce", "A wall light."),
    fixing("vent", "A vent or a grille."),
    fixing("thermostat", "A thermostat."),
    service("pipe", "A pipe that is known to run behind the wall, from end to end of it."),
    service("cable", "A cable that is known to run behind the wall, from end to end of it."),
    Spec {
        name: "no-seam",
        within: &["wall"],
        count: Count::Any,
        args: &[],
        props: STRETCH,
        doc: "A stretch in which no seam may stand; if the pattern cannot start so, no plan is made.",
    },
    Spec {
        name: "back-of",
        within: &["wall"],
        count: Count::Maybe,
        args: &[must("wall", Kind::Label, "the label of the wall there")],
        props: &[must("room", Kind::Label, "the room")],
        doc: "This wall is the other side of that wall and as wide, which checks the survey.",
    },
    // What was really done.
    built::AS_BUILT,
    built::SEAM,
    built::PIECE,
    built::NOTE,
];

/// The row for a node of that name in that parent.
pub fn find(parent: &str, name: &str) -> Option<&'static Spec> {
    within(parent).find(|spec| spec.name == name)
}

/// The rows that may stand in a parent, in the table's order.
pub fn within(parent: &str) -> impl Iterator<Item = &'static Spec> + '_ {
    TABLE.iter().filter(move |spec| spec.within.contains(&parent))
}
