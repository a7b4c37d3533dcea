//! A change in words, topic by topic: what the terminal and the change sheet both print.

mod amounts;
mod cloth;
mod room;

use super::super::model::{Change, JobPart, Pair, WallName};
use super::super::words;
use crate::job::model::{Job, SetWish};
use crate::units::{Length, LengthFormat};

/// What a change is told of, in the order in which it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Topic {
    /// The cloth used and ordered.
    Cloth,
    /// The cuts already made: which are lost, and what is still to be cut.
    Cuts,
    /// What it all costs: for the contractor alone.
    Costs,
    /// The hours and days.
    Work,
    /// The rooms as they are measured, and where their patterns start.
    Room,
    /// Cloths, batting, trims, house and title block.
    Job,
    /// Where the pattern stands.
    Pattern,
    /// The seams.
    Seams,
    /// The pieces.
    Pieces,
    /// The finished lengths of trim.
    Trim,
    /// What to buy.
    Buy,
    /// What to watch.
    Watch,
    /// The sheets.
    Sheets,
}

impl Topic {
    /// All topics, in order.
    pub const ALL: [Topic; 13] = [
        Topic::Cloth,
        Topic::Cuts,
        Topic::Costs,
        Topic::Work,
        Topic::Room,
        Topic::Job,
        Topic::Pattern,
        Topic::Seams,
        Topic::Pieces,
        Topic::Trim,
        Topic::Buy,
        Topic::Watch,
        Topic::Sheets,
    ];

    /// Its name.
    pub const fn word(self) -> &'static str {
        match self {
            Topic::Cloth => "Cloth",
            Topic::Cuts => "Cuts",
            Topic::Costs => "Costs",
            Topic::Work => "Work",
            Topic::Room => "Room",
            Topic::Job => "Job",
            Topic::Pattern => "Pattern",
            Topic::Seams => "Seams",
            Topic::Pieces => "Pieces",
            Topic::Trim => "Trim",
            Topic::Buy => "Buy",
            Topic::Watch => "Watch",
            Topic::Sheets => "Sheets",
        }
    }

    /// Whether a set tells of it: prices are for the contractor, and the designer is spared what only the
    /// work asks for.
    pub const fn is_for(self, set: SetWish) -> bool {
        match (self, set) {
            (Topic::Costs, SetWish::Costs) => true,
            (Topic::Costs, _) => false,
            (
                Topic::Cuts | Topic::Work | Topic::Pieces | Topic::Trim | Topic::Buy | Topic::Watch,
                SetWish::Approval,
            ) => false,
            (Topic::Pattern | Topic::Seams | Topic::Pieces, SetWish::Costs) => false,
            _ => true,
        }
    }
}

/// One change, told.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// What it belongs to, such as a wall; may be empty.
    pub of: String,
    /// What has changed; may be empty when that is all of what it belongs to.
    pub what: String,
    /// What it was; empty where it was not, or where only the change is told.
    pub was: String,
    /// What it is; empty where it is no more, or where only the change is told.
    pub now: String,
    /// By how much, or that it is new or gone; may be empty.
    pub by: String,
    /// Whether it tells of a value that is assumed because the file does not say it.
    pub assumed: bool,
}

impl Row {
    /// What has changed, with what it belongs to.
    pub fn name(&self) -> String {
        match (self.of.as_str(), self.what.as_str()) {
            ("", what) => what.to_owned(),
            (of, "") => of.to_owned(),
            (of, what) => format!("{of}, {what}"),
        }
    }

    /// A row of something that belongs to something else.
    fn of(of: impl Into<String>, what: impl Into<String>) -> Row {
        Row { of: of.into(), what: what.into(), ..Row::default() }
    }

    fn pair(self, pair: Pair<String>) -> Row {
        Row { was: pair.was, now: pair.now, ..self }
    }

    /// Whether it tells that something is as it was.
    pub fn is_as_before(&self) -> bool {
        self.by.is_empty() && self.was == self.now
    }

    fn by(self, by: impl Into<String>) -> Row {
        Row { by: by.into(), ..self }
    }

    /// The change as a sentence without its full stop.
    pub fn sentence(&self) -> String {
        let (name, Row { was, now, by, .. }) = (self.name(), self);
        let by_words = if by.is_empty() { String::new() } else { format!(" ({by})") };
        match (was.as_str(), now.as_str()) {
            ("", "") => format!("{name}: {by}"),
            (_, "") => format!("{name}: {by}, was {was}"),
            ("", _) => format!("{name}: {by}, {now}"),
            (_, now) if self.is_as_before() => format!("{name}: {now}, as before"),
            (was, now) if was == now => format!("{name}: {by}"),
            _ => format!("{name}: {now}, was {was}{by_words}"),
        }
    }
}

/// What a set is told of a topic, whether or not that [`Topic::is_for`] it; `job` is the new issue.
pub fn rows(change: &Change, job: &Job, topic: Topic, set: SetWish) -> Vec<Row> {
    let told = Told { change, job, format: &job.print.format };
    match topic {
        Topic::Cloth => change.cloths.iter().flat_map(amounts::cloth).collect(),
        Topic::Cuts => change.cuts.iter().flat_map(amounts::cuts).collect(),
        Topic::Costs => told.costs(),
        Topic::Work => told.work(),
        Topic::Room => told.differences(is_room),
        Topic::Job => told.differences(|part| !is_room(part) && is_for(part, set)),
        Topic::Pattern => told.pattern(),
        Topic::Seams => told.seams(),
        Topic::Pieces => told.pieces(),
        Topic::Trim => told.trim(),
        Topic::Buy => told.buy(),
        Topic::Watch => told.watch(),
        Topic::Sheets => told.sheets(set),
    }
}

const fn is_room(part: JobPart) -> bool {
    matches!(part, JobPart::Room | JobPart::Corner | JobPart::Wall | JobPart::Opening | JobPart::Fixing)
}

/// Whether a set tells what is said of a part: the designer is spared spacings and rates.
fn is_for(part: JobPart, set: SetWish) -> bool {
    let inner = matches!(part, JobPart::Batting | JobPart::House | JobPart::Rates | JobPart::Assumption);
    !(set == SetWish::Approval && inner)
}

/// A change being told.
struct Told<'a> {
    change: &'a Change,
    job: &'a Job,
    format: &'a LengthFormat,
}

/// A name in both issues: told twice only where it is another.
fn name(pair: Pair<&str>) -> String {
    match (pair.was, pair.now) {
        (was, "") => was.to_owned(),
        ("", now) => now.to_owned(),
        (was, now) if was == now => now.to_owned(),
        (was, now) => format!("{now} (was {was})"),
    }
}

/// A wall by its new name, unless it is gone.
fn wall(pair: &Pair<Option<WallName>>) -> &str {
    pair.now.as_ref().or(pair.was.as_ref()).map_or("", |wall| wall.name.as_str())
}

/// "new", "gone" or nothing.
fn came<T>(pair: Pair<&Option<T>>) -> &'static str {
    match (pair.was.is_some(), pair.now.is_some()) {
        (false, true) => "new",
        (true, false) => "gone",
        _ => "",
    }
}

/// "2 more", "3 yards fewer".
fn counted_by(pair: Pair<i64>, unit: &str) -> String {
    let by = pair.now - pair.was;
    let amount = if unit.is_empty() { by.abs().to_string() } else { words::counted(by.abs(), unit) };
    match by {
        0 => String::new(),
        1.. => format!("{amount} more"),
        _ => format!("{amount} fewer"),
    }
}

impl Told<'_> {
    fn print(&self, length: Length) -> String {
        self.format.print(length)
    }

    /// "3″ longer", with a length that is printed as finely as it needs; nothing where nothing differs.
    fn more(&self, by: Length, [more, less]: [&str; 2]) -> String {
        let fine = by.round_to(self.format.step) == Length::ZERO;
        let amount = if fine { self.format.exact().print(by.abs()) } else { self.print(by.abs()) };
        match by {
            Length::ZERO => String::new(),
            by if by > Length::ZERO => format!("{amount} {more}"),
            _ => format!("{amount} {less}"),
        }
    }

    fn watch(&self) -> Vec<Row> {
        let row = |by: &str, sentence: &String| Row::of(by, "").by(sentence.trim_end_matches('.'));
        let now = self.change.watch.now.iter().map(|sentence| row("new", sentence));
        now.chain(self.change.watch.was.iter().map(|sentence| row("no more", sentence))).collect()
    }

    fn sheets(&self, set: SetWish) -> Vec<Row> {
        let own = self.change.sheets.iter().filter(|sheet| sheet.set == set);
        let rows = own.map(|sheet| {
            let titles = sheet.title.as_ref().map(String::as_str);
            let by = match (titles.was, titles.now) {
                ("", _) => "new",
                (_, "") => "gone",
                _ => "changed",
            };
            Row::of("", name(titles)).by(by)
        });
        rows.collect()
    }
}
