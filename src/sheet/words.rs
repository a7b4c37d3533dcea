//! The words that the sheets use for the kinds of thing in a plan, and how its lengths are written.

use crate::job::model::{Opening, SoldIn};
use crate::plan::model::{
    Amount, EdgeFinish, Piece, PieceKind, Plan, Purchase, StapleKind, StapleLine, WallPlan, WallRef, Way,
};
pub(crate) use crate::plan::words::{
    alike, capital, corner_kind, counted, hours, in_room, list, nap, opening_kind, sold, sold_apart,
    sold_whole, stage, way, way_up,
};
use crate::units::Length;

/// A length as the job wishes it printed.
pub fn length(plan: &Plan, length: Length) -> String {
    plan.job.print.format.print(length)
}

/// A length along cloth or within it, where nobody thinks in feet: inches, or millimetres.
pub fn cloth_length(plan: &Plan, length: Length) -> String {
    crate::plan::words::cloth_length(&plan.job, length)
}

/// Words as a sentence: a capital first, a full stop last.
pub fn sentence(words: &str) -> String {
    let stopped = words.ends_with(['.', '!', '?']);
    format!("{}{}", capital(words), if stopped { "" } else { "." })
}

/// How much, as it is sold: `57 yd 15″`, `10.36 m`, `4462`.
pub fn amount(amount: Amount) -> String {
    match amount {
        Amount::Length(length, sold_in) => sold(length, sold_in),
        Amount::Count(count) => count.to_string(),
    }
}

/// What is left of a purchase: what is bought less the need as it is told, which is rounded up.
pub fn left(purchase: &Purchase) -> String {
    match purchase.left() {
        Amount::Length(length, sold_in) => sold_whole(length, sold_in),
        count @ Amount::Count(_) => amount(count),
    }
}

/// `3 yards`, `1 metre`.
pub fn goods_units(sold_in: SoldIn, count: i64) -> String {
    let unit = match sold_in {
        SoldIn::Yard => "yard",
        SoldIn::Metre => "metre",
    };
    counted(count, unit)
}

/// A wall as it is called on lists: its label and name, and the room where there are several.
pub fn wall(plan: &Plan, at: WallRef) -> String {
    let room = &plan.job.rooms[at.room];
    let wall = &room.walls[at.wall];
    let name = match wall.name.as_str() {
        "" => wall.label.clone(),
        name => format!("{} {name}", wall.label),
    };
    if plan.job.rooms.len() > 1 { format!("{}, {name}", room.name) } else { name }
}

/// A wall by its label and name, in a sentence or, with a capital, at its head: "wall 6 pier", "wall 6 pier in the
/// landing" where there are several rooms.
pub fn named_wall(plan: &Plan, at: WallRef) -> String {
    let wall = &plan.job.rooms[at.room].walls[at.wall];
    let name = if wall.name.is_empty() { String::new() } else { format!(" {}", wall.name) };
    format!("wall {}{name}{}", wall.label, in_room(plan, at.room))
}

/// A wall by its label, and the room where there are several.
pub fn wall_label(plan: &Plan, at: WallRef) -> String {
    let room = &plan.job.rooms[at.room];
    let label = &room.walls[at.wall].label;
    if plan.job.rooms.len() > 1 { format!("{}, {label}", room.name) } else { label.clone() }
}

/// "Bolt 2", with its dye lot where that is known.
pub fn bolt(plan: &Plan, cloth: usize, bolt: usize) -> String {
    let planned = plan.cloths[cloth].bolts.get(bolt);
    let lot = planned.and_then(|planned| planned.lot(&plan.job.cloths[cloth]));
    let number = planned.map_or(bolt + 1, |planned| planned.number(bolt));
    format!("Bolt {number}{}", lot.map_or(String::new(), |lot| format!(", dye lot {lot}")))
}

/// How wide a cloth is: "54″ wide"; where bolts that there are were measured differently, of each of
/// them in their order: "53¾″ and 54″ wide".
pub fn widths(plan: &Plan, cloth: usize) -> String {
    let cloth = &plan.job.cloths[cloth];
    let said = cloth.label.map_or(cloth.width, |label| label.width);
    let found: Vec<Length> = cloth.on_hand.iter().map(|bolt| bolt.measured.width.unwrap_or(said)).collect();
    if found.windows(2).all(|pair| pair[0] == pair[1]) {
        return format!("{} wide", cloth_length(plan, cloth.width));
    }
    let widths: Vec<String> = found.iter().map(|width| cloth_length(plan, *width)).collect();
    format!("{} wide", list(&widths))
}

/// What kind of piece.
pub const fn piece_kind(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Drop => "drop",
        PieceKind::PartDrop => "part drop",
        PieceKind::Railroaded => "railroaded piece",
        PieceKind::OpeningPiece => "opening piece",
        PieceKind::UprightStrip => "upright strip",
        PieceKind::LevelStrip => "level strip",
        PieceKind::Sample => "sample",
    }
}

/// Where the first motif centre lies on a cut, in words that the cutter can measure; `None` where none does.
pub fn motif(plan: &Plan, piece: &Piece) -> Option<String> {
    let motif = piece.cut.motif.filter(|motif| motif.off(&piece.cut) == Length::ZERO)?;
    let (along, across) = (cloth_length(plan, motif.along), cloth_length(plan, motif.across));
    Some(match plan.way(piece.cloth) {
        Way::Upright => format!("motif {along} down, {across} in"),
        Way::Railroaded => format!("motif {along} along, {across} up"),
    })
}

/// How a place further along the bolt lies from a motif.
pub const fn past(way: Way) -> &'static str {
    match way {
        Way::Upright => "below",
        Way::Railroaded => "past",
    }
}

/// The heads of the columns that tell where on a cut its first motif centre lies.
pub const fn motif_heads(way: Way) -> [&'static str; 2] {
    match way {
        Way::Upright => ["Motif below top", "Motif from left"],
        Way::Railroaded => ["Motif from left end", "Motif above foot"],
    }
}

/// The same under those heads: "any" for a piece that needs no match, a dash where the bolt has no motif; with a
/// star the place of one beside the piece, negative above its top or left of its edge.
pub fn motif_cells(plan: &Plan, piece: &Piece) -> [String; 2] {
    match (piece.matched, piece.cut.motif) {
        (false, _) => ["any".to_owned(), "any".to_owned()],
        (true, None) => ["–".to_owned(), "–".to_owned()],
        (true, Some(motif)) => {
            let star = if motif.off(&piece.cut) > Length::ZERO { "*" } else { "" };
            [motif.along, motif.across].map(|length| format!("{}{star}", cloth_length(plan, length)))
        }
    }
}

/// What the star and the words of [`motif_cells`] mean, as far as these pieces have them.
pub fn motif_signs(way: Way, pieces: &[&Piece]) -> String {
    let off = |piece: &&Piece| piece.cut.motif.is_some_and(|motif| motif.off(&piece.cut) > Length::ZERO);
    let mut signs = String::new();
    if pieces.iter().any(off) {
        let minus = match way {
            Way::Upright => "above the top or left of the edge",
            Way::Railroaded => "before the left end or under the foot",
        };
        signs += &format!(" *: none lies on it; the nearest on the cloth beside it, with a minus {minus}.");
    }
    if pieces.iter().any(|piece| piece.matched && piece.cut.motif.is_none()) {
        signs += " A dash: the bolt has none near.";
    }
    if pieces.iter().any(|piece| !piece.matched) {
        signs += " Any: it needs no match and may be cut anywhere in the pattern.";
    }
    signs
}

/// What becomes of an end of a panel, at the corner of that name.
pub fn edge_finish(finish: EdgeFinish, corner: &str) -> String {
    match finish {
        EdgeFinish::Pulled => format!("pulled into corner {corner}"),
        EdgeFinish::Ended => format!("ends at {corner}"),
        EdgeFinish::Wrapped => format!("carried round corner {corner}"),
        EdgeFinish::Folded => format!("folded under at corner {corner}"),
    }
}

/// The same in one word, for a drawing.
pub const fn edge_word(finish: EdgeFinish) -> &'static str {
    match finish {
        EdgeFinish::Pulled => "pulled",
        EdgeFinish::Ended => "ends",
        EdgeFinish::Wrapped => "wrapped",
        EdgeFinish::Folded => "folded",
    }
}

/// The head of an opening: "round head, springing at 6′ 8″"; `None` for a square one. The springing is
/// told above `datum`, as heights are on the elevation.
pub fn head(plan: &Plan, opening: &Opening, datum: Length) -> Option<String> {
    let hole = opening.clear_hole();
    let springing = length(plan, hole.springing() - datum);
    match hole.rise {
        Length::ZERO => None,
        rise if rise == hole.rect.width() / 2 => Some(format!("round head, springing at {springing}")),
        rise => Some(format!("segment head, rise {}, springing at {springing}", length(plan, rise))),
    }
}

/// The labels of a wall's lines of staples, in their order: `s1`, `s2` for those that hold cloth, nothing for
/// those of the batting.
pub fn staple_labels(wall: &WallPlan) -> Vec<String> {
    let mut count = 0;
    let label = |line: &StapleLine| {
        if matches!(line.kind, StapleKind::BattingEdge | StapleKind::BattingButt) {
            return String::new();
        }
        count += 1;
        format!("s{count}")
    };
    wall.staples.iter().map(label).collect()
}
