//! The rows of the language for bolts that there are, and for what has been cut from them.

use super::fields::{A_COUNT, A_LENGTH};
use super::spec::{Count, Field, Kind, Spec, may, must};

pub(super) const ON_HAND: Spec = Spec {
    name: "on-hand",
    within: &["cloth"],
    count: Count::Any,
    args: A_LENGTH,
    props: &[
        must("lot", Kind::Label, "its dye lot"),
        may(
            "labelled",
            Kind::Length,
            "its length as its label says, where the mill is to make good what lacks",
        ),
        may("width", Kind::Length, "its whole width as measured; the narrowest bolt decides for all"),
        may("horizontal", Kind::Length, "its horizontal repeat as measured"),
        may("vertical", Kind::Length, "its vertical repeat as measured"),
        may(
            "first-motif",
            Kind::Length,
            "from its start to the first centre of a motif in the column next to the left match line; with it, \
             places on the bolt are told from its start, and no repeat is lost for an unknown one",
        ),
    ],
    doc: "A bolt that there is, or that is on its way. With any, the plan is cut from these alone, nothing is \
          ordered, and no wall is cut from two dye lots. The plan follows what was measured, not the label; bolts \
          whose repeats do not go together are refused.",
};

const FROM_START: Field = must("from-start", Kind::Length, "from the bolt's start to its near end");
const FROM_LEFT: Field =
    may("from-left", Kind::Length, "from the left edge of the cloth; at that edge when left out");

pub(super) const CUT: Spec = Spec {
    name: "cut",
    within: &["on-hand"],
    count: Count::Any,
    args: &[must("piece", Kind::Label, "its label, as on the cut list")],
    props: &[
        FROM_START,
        FROM_LEFT,
        must("length", Kind::Length, "along the bolt"),
        may("width", Kind::Length, "across it; the whole width when left out"),
        may("spoiled", Kind::Flag, "it is of no use any more"),
    ],
    doc: "A piece that is cut already. It stays as it is: it serves the piece of its label wherever that still lies \
          within it, and is told as cut in vain where not. Patterned cloth needs the bolt's first-motif=.",
};

pub(super) const FLAW: Spec = Spec {
    name: "flaw",
    within: &["on-hand"],
    count: Count::Any,
    args: &[may("what", Kind::Text, "what it is")],
    props: &[
        FROM_START,
        must("length", Kind::Length, "along the bolt"),
        may("from-left", Kind::Length, "from the left edge of the cloth to its near side"),
        may("width", Kind::Length, "across; without both of these it goes right across"),
        may("hole", Kind::Flag, "it is a hole or a tear, which counts 2 points up to an inch and 4 beyond"),
        may("points", Kind::Count, "from 1 to 4, where it is not to be counted by its size"),
        may("accepted", Kind::Flag, "it is cut over as if it were not there; it still counts"),
    ],
    doc: "A flaw found on inspection, of the bolt as delivered. Every cut keeps clear of it with all its allowances; \
          within a selvage it is only counted. Patterned cloth needs the bolt's first-motif=.",
};

pub(super) const MOST_POINTS: Spec = Spec {
    name: "most-points",
    within: &["cloth"],
    count: Count::Maybe,
    args: A_COUNT,
    props: &[],
    doc: "The most points in 100 square yards with which a bolt is accepted: by the four-point count, a flaw up to \
          3 in counts 1, up to 6 in 2, up to 9 in 3, beyond that 4, and no yard more than 4.",
};

pub(super) const SAMPLE: Spec = Spec {
    name: "sample",
    within: &["cloth"],
    count: Count::Any,
    args: &[may("for", Kind::Text, "whom or what it is for")],
    props: &[
        must("length", Kind::Length, "along the bolt, as it is cut"),
        may("width", Kind::Length, "across it; the whole width when left out"),
        may("motif", Kind::Flag, "the centre of a motif stands in its middle"),
        may("count", Kind::Count, "how many, alike; one when left out"),
    ],
    doc: "A sample that is cut from the bolt with the pieces of the walls: for approval, for a fire test, to keep for \
          repairs. It shares widths with them wherever it finds room; an edge of one without a motif may be the selvage.",
};
