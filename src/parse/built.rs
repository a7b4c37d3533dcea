//! The rows of the language for what was really done.

use super::spec::{Count, FILE, Kind, Spec, may, must};

pub(super) const AS_BUILT: Spec = Spec {
    name: "as-built",
    within: &[FILE],
    count: Count::Maybe,
    args: &[may("date", Kind::Date, "the day of the last entry")],
    props: &[],
    doc: "What was really done, where that is not what was planned. With it, a record set is drawn for whoever \
          repairs the room later; the other sets stay as planned.",
};

pub(super) const SEAM: Spec = Spec {
    name: "seam",
    within: &["as-built"],
    count: Count::Any,
    args: &[
        must("seam", Kind::Label, "its label, as on the sheets: the two strips, such as \"1A-1B\""),
        may("why", Kind::Text, "why it stands there"),
    ],
    props: &[must("at", Kind::Length, "where it stands, from the wall's left end")],
    doc: "A seam that stands at another place than planned, between the seams beside it.",
};

pub(super) const PIECE: Spec = Spec {
    name: "piece",
    within: &["as-built"],
    count: Count::Any,
    args: &[
        must("piece", Kind::Label, "its label, as on the cut list"),
        may("why", Kind::Text, "why it was made otherwise"),
    ],
    props: &[
        may("recut", Kind::Flag, "it was cut a second time"),
        may("lot", Kind::Label, "the dye lot that it is from"),
    ],
    doc: "A piece that was cut again, or from another dye lot.",
};

pub(super) const NOTE: Spec = Spec {
    name: "note",
    within: &["as-built"],
    count: Count::Any,
    args: &[must("text", Kind::Text, "the text")],
    props: &[
        must("wall", Kind::Label, "the wall that it is about"),
        may("room", Kind::Label, "its room, when there are several"),
        may("from-left", Kind::Length, "from the wall's left end to the place that it is about"),
        may("above-floor", Kind::Length, "and from the floor up to it"),
    ],
    doc: "What whoever repairs the room must know, shown beside its wall; at its place where both measures are given.",
};
