//! The rows of the language for bolts that there are, and for what has been cut from them.

use super::fields::A_LENGTH;
use super::spec::{Count, Field, Kind, Spec, may, must};

pub(super) const ON_HAND: Spec = Spec {
    name: "on-hand",
    within: &["cloth"],
    count: Count::Any,
    args: A_LENGTH,
    props: &[
        must("lot", Kind::Label, "its dye lot"),
        may(
            "first-motif",
            Kind::Length,
            "from its start to the first centre of a motif in the column next to the left match line; with it, \
             places on the bolt are told from its start, and no repeat is lost for an unknown one",
        ),
    ],
    doc: "A bolt that there is, or that is on its way. With any, the plan is cut from these alone, nothing is \
          ordered, and no wall is cut from two dye lots.",
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
