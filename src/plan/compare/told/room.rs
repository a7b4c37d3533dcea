//! What a job says otherwise in words, and where its patterns then stand.

use super::super::super::model::{Difference, JobPart, Pair, Value};
use super::super::super::words;
use super::{Row, Told, came, name};
use crate::units::Length;

impl Told<'_> {
    pub(super) fn differences(&self, wanted: impl Fn(JobPart) -> bool) -> Vec<Row> {
        let all = self.change.job.iter().filter(|difference| wanted(difference.part));
        all.map(|difference| self.difference(difference)).collect()
    }

    pub(super) fn difference(&self, difference: &Difference) -> Row {
        let Difference { part, name: called, what, value } = difference;
        if *part == JobPart::Assumption {
            let by = if value.now.is_some() { "assumed now" } else { "assumed no more" };
            return Row { assumed: true, ..Row::of(by, "").by(what.trim_end_matches('.')) };
        }
        if matches!(what.as_str(), "label" | "letter" | "name") && *part != JobPart::Trim && !called.same() {
            return Row::of(&called.was, "").by(format!("is now {}", called.now));
        }
        let whole = matches!(part, JobPart::Job | JobPart::Prices);
        let of = if whole { String::new() } else { name(called.as_ref().map(String::as_str)) };
        let row = Row::of(of, what);
        let (Some(was), Some(now)) = (&value.was, &value.now) else {
            let words =
                |side: &Option<Value>| side.as_ref().map_or(String::new(), |value| value.words(self.format));
            return row.pair(value.as_ref().map(words)).by(came(value.as_ref()));
        };
        match was.grown_to(now) {
            // What has grown evenly is told by one of its measures.
            Some(by) => {
                let by = self.more(by, ["more", "less"]);
                row.pair(Pair::new(&was.brief(), &now.brief()).words(self.format)).by(by)
            }
            None => row.pair(Pair::new(was, now).words(self.format)),
        }
    }

    /// "3″ right and 1½″ up".
    pub(super) fn way(&self, right: Length, up: Length) -> String {
        let parts = [self.more(right, ["right", "left"]), self.more(up, ["up", "down"])];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" and ")
    }

    pub(super) fn pattern(&self) -> Vec<Row> {
        // Walls whose pattern makes the same move are told together.
        let mut moves: Vec<(String, Vec<String>)> = Vec::new();
        for shift in &self.change.pattern {
            let way = self.way(shift.right, shift.up);
            let wall = shift.wall.now.name.clone();
            match moves.iter_mut().find(|(other, _)| *other == way) {
                Some((_, walls)) => walls.push(wall),
                None => moves.push((way, vec![wall])),
            }
        }
        let mut rows: Vec<Row> = moves
            .into_iter()
            .map(|(way, walls)| Row::of(words::list(&walls), "").by(format!("moves {way}")))
            .collect();
        for kill in &self.change.kills {
            let words = |side: Option<(String, Length, Length)>| match side {
                None => "nowhere".to_owned(),
                Some((corner, across, up)) => {
                    let miss = [(across, "across"), (up, "up")];
                    let miss = miss.iter().filter(|(miss, _)| *miss != Length::ZERO);
                    let miss: Vec<String> =
                        miss.map(|(miss, way)| format!("{} {way}", self.print(miss.abs()))).collect();
                    format!("corner {corner}, {}", miss.join(" and "))
                }
            };
            let room = if self.job.rooms.len() > 1 { kill.room.now.clone() } else { String::new() };
            rows.push(Row::of(room, "does not meet").pair(kill.kill.clone().map(words)));
        }
        rows
    }
}
