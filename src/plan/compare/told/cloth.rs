//! The seams and the pieces that change, in words.

use super::super::super::model::{PieceChange, PieceFacts, PieceKind};
use super::super::super::words;
use super::{Row, Told, came, name, wall};
use crate::units::Length;

impl Told<'_> {
    pub(super) fn seams(&self) -> Vec<Row> {
        let rows = self.change.seams.iter().map(|seam| {
            let by = match (seam.x.was, seam.x.now) {
                (Some(was), Some(now)) => self.way(now - was, Length::ZERO),
                _ => came(seam.x.as_ref()).to_owned(),
            };
            let place = seam.x.map(|x| x.map_or(String::new(), |x| self.print(x)));
            let label = name(seam.label.as_ref().map(String::as_str));
            Row::of(wall(&seam.wall), format!("seam {label}")).pair(place).by(by)
        });
        rows.collect()
    }

    pub(super) fn pieces(&self) -> Vec<Row> {
        let is_strip = |kind| matches!(kind, PieceKind::UprightStrip | PieceKind::LevelStrip);
        let kind = |change: &PieceChange| {
            change.piece.now.as_ref().or(change.piece.was.as_ref()).map(|piece| piece.kind)
        };
        let (strips, sewn): (Vec<&PieceChange>, Vec<&PieceChange>) =
            self.change.pieces.iter().partition(|change| kind(change).is_some_and(is_strip));
        sewn.into_iter().map(|change| self.piece(change)).chain(strips_row(&strips)).collect()
    }

    fn piece(&self, change: &PieceChange) -> Row {
        let both = change.piece.as_ref().map(Option::as_ref);
        let size = |piece: &PieceFacts| {
            let [width, length] =
                [piece.width, piece.length].map(|length| words::cloth_length(self.job, length));
            format!("{width} × {length}")
        };
        let by = match (both.was, both.now) {
            (Some(was), Some(now)) => self.piece_by(was, now),
            _ => came(change.piece.as_ref()).to_owned(),
        };
        let label = name(both.map(|piece| piece.map_or("", |piece| piece.label.as_str())));
        let size = both.map(|piece| piece.map_or(String::new(), size));
        Row::of(wall(&change.wall), label).pair(size).by(by)
    }

    fn piece_by(&self, was: &PieceFacts, now: &PieceFacts) -> String {
        let mut parts = vec![
            self.more(now.length - was.length, ["longer", "shorter"]),
            self.more(now.width - was.width, ["wider", "narrower"]),
        ];
        if was.start != now.start {
            parts.push("another start in the pattern".to_owned());
        }
        match now.kind {
            kind if kind == was.kind => {}
            PieceKind::Drop => parts.push("now a whole width".to_owned()),
            PieceKind::PartDrop => parts.push("now a part width".to_owned()),
            _ => parts.push("of another kind".to_owned()),
        }
        parts.retain(|part| !part.is_empty());
        parts.join(", ")
    }
}

/// Strips for trim are many and small: how many change is told.
fn strips_row(strips: &[&PieceChange]) -> Option<Row> {
    let count = |wanted: &str| strips.iter().filter(|change| came(change.piece.as_ref()) == wanted).count();
    let parts = [(count("new"), "new"), (count("gone"), "gone"), (count(""), "cut otherwise")];
    let parts = parts.iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}"));
    let parts: Vec<String> = parts.collect();
    (!parts.is_empty()).then(|| Row::of("strips for trim", "").by(parts.join(", ")))
}
