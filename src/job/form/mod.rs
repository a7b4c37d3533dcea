//! The form to survey with: what a job file asks for, in its own order and words, blank or with what a
//! file says already.
//!
//! It is read off the language table, so that a new line of the language is on the form too.

mod lists;

use super::facts;
use super::model::{Facts, Paper};
use crate::parse::spec::{Count, FILE, Kind, Spec};
use crate::parse::table::{TABLE, find, within};
use crate::parse::{Node, ParsedJob, Value};
use crate::units::{Length, LengthFormat, UnitSystem};
pub use lists::List;

/// The most walls that a form is made for.
pub const MOST_WALLS: usize = 200;

/// A form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// What the title block says; blank fields are written in by hand.
    pub facts: Facts,
    /// The paper that the file wishes, if it does.
    pub paper: Option<Paper>,
    /// Its parts in the order of the file.
    pub parts: Vec<Part>,
}

/// The lines of one thing: the job, a cloth, a room, a wall with the corner at its left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What stands over it, such as "Wall 3 right alcove".
    pub heading: String,
    /// The room that it belongs to; empty for the job and the cloths.
    pub under: String,
    /// The lines that stand once.
    pub lines: Vec<Line>,
    /// The lines that stand any number of times.
    pub lists: Vec<List>,
}

impl Part {
    /// Every value of its lines and lists.
    pub fn values(&self) -> impl Iterator<Item = &Filled> {
        let lines = self.lines.iter().flat_map(|line| &line.values);
        lines.chain(self.lists.iter().flat_map(|list| &list.rows).flatten())
    }
}

/// A line of the job file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its name.
    pub name: &'static str,
    /// Its values; none for a line that is only there or not.
    pub values: Vec<Filled>,
    /// Whether it is there; always false on a blank form.
    pub there: bool,
}

/// A value of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filled {
    /// What it is called: a property as it is written, with its equals sign, or what a value after the
    /// line's name is.
    pub caption: String,
    /// What the file says, as it is printed; empty when it says nothing.
    pub value: String,
    /// Whether it must be there and is not.
    pub missing: bool,
}

/// The words that a value may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// The line, and the value's caption.
    pub value: String,
    /// The words.
    pub words: String,
}

/// The words of every value of a survey that is chosen from words.
pub fn choices() -> Vec<Choice> {
    let surveyed = ["job", "cloth", "room", "corner", "wall"];
    let own = |spec: &&Spec| {
        surveyed.contains(&spec.name) || spec.within.iter().any(|parent| surveyed.contains(parent))
    };
    let mut all: Vec<Choice> = Vec::new();
    for spec in TABLE.iter().filter(own) {
        for (fields, sign) in [(spec.args, ""), (spec.props, "=")] {
            for field in fields.iter().filter(|field| matches!(field.kind, Kind::Word(_))) {
                // A line with one value of its own name is told by that name.
                let caption = format!("{}{sign}", field.name);
                let value = if field.name == spec.name {
                    caption.clone()
                } else {
                    format!("{} {caption}", spec.name)
                };
                let words = field.kind.words();
                // Openings share their properties: told once, by the property alone.
                let shared = all.iter_mut().find(|choice| {
                    choice.words == words
                        && (choice.value == caption || choice.value.ends_with(&format!(" {caption}")))
                });
                match shared {
                    Some(known) => known.value = caption,
                    None => all.push(Choice { value, words }),
                }
            }
        }
    }
    all
}

/// A blank form for a room of so many walls.
pub fn blank(walls: usize) -> Form {
    let mut parts = vec![job(None, None), cloth(None, None), room(None, None)];
    for wall in 0..walls {
        parts.extend([corner(None, None, ""), self::wall(None, None, wall + 1, "")]);
    }
    parts.push(Part {
        heading: "Last corner, unless the last wall meets the first".to_owned(),
        ..corner(None, None, "")
    });
    Form { facts: blank_facts(), paper: None, parts: joined(parts) }
}

/// A form with what a job file says; what must be there and is not is marked.
pub fn of(parsed: &ParsedJob) -> Form {
    let all = |name: &'static str| parsed.nodes.iter().filter(move |node| node.spec.name == name);
    let job_node = all("job").next();
    let (format, _) = facts::format(parsed, job_node);
    let print = Some(format.exact());
    let mut parts = vec![job(job_node, print)];
    parts.extend(all("cloth").map(|node| cloth(Some(node), print)));
    for node in all("room") {
        let name = text(node, 0);
        parts.push(room(Some(node), print));
        let mut count = 0;
        for child in &node.children {
            match child.spec.name {
                "corner" => parts.push(corner(Some(child), print, &name)),
                "wall" => {
                    count += 1;
                    let mut wall = wall(Some(child), print, count, &name);
                    // A room's height is for walls that give none.
                    if child.child("height").or_else(|| node.child("height")).is_none() {
                        let height = wall.lines.iter_mut().find(|line| line.name == "height");
                        let first = height.and_then(|line| line.values.first_mut());
                        first.into_iter().for_each(|filled| filled.missing = true);
                    }
                    parts.push(wall);
                }
                _ => {}
            }
        }
    }
    let paper = job_node.and_then(|job| job.child_arg::<&'static str>("paper").ok());
    let paper = paper.and_then(|word| facts::paper(word.value));
    let mut facts = blank_facts();
    if let Some(job) = job_node {
        facts.number = text(job, 0);
        facts.title = job.prop::<String>("title").ok().map_or_else(String::new, |title| title.value);
        let line = |name| job.child_arg::<String>(name).ok().map_or_else(String::new, |text| text.value);
        (facts.place, facts.installer) = (line("place"), line("installer"));
        (facts.workroom, facts.designer) = (line("workroom"), line("designer"));
        facts.date = line("date");
    }
    Form { facts, paper, parts: joined(parts) }
}

/// A corner and the wall that follows it are one part.
fn joined(parts: Vec<Part>) -> Vec<Part> {
    let mut out: Vec<Part> = Vec::new();
    for part in parts {
        match out.last_mut() {
            Some(before) if part.heading.starts_with("Wall") && before.heading.starts_with("Corner") => {
                before.heading = format!("{}, {}", before.heading, part.heading.replacen("Wall", "wall", 1));
                before.lines.extend(part.lines);
                before.lists.extend(part.lists);
            }
            _ => out.push(part),
        }
    }
    out
}

fn blank_facts() -> Facts {
    Facts {
        number: String::new(),
        title: String::new(),
        place: String::new(),
        installer: String::new(),
        workroom: String::new(),
        designer: String::new(),
        date: String::new(),
        revisions: Vec::new(),
        notes: Vec::new(),
        sets: Vec::new(),
    }
}

fn job(node: Option<&Node>, print: Option<LengthFormat>) -> Part {
    let lines =
        with_children("job", FILE, node, print, |spec| !matches!(spec.name, "revision" | "note" | "set"));
    part("Job", "", lines, Vec::new())
}

fn cloth(node: Option<&Node>, print: Option<LengthFormat>) -> Part {
    let heading = node.map_or("Cloth".to_owned(), |node| format!("Cloth {}", text(node, 0)));
    let lines = with_children("cloth", FILE, node, print, |spec| spec.count != Count::Any);
    part(&heading, "", lines, Vec::new())
}

fn room(node: Option<&Node>, print: Option<LengthFormat>) -> Part {
    let name = node.map(|node| text(node, 0)).unwrap_or_default();
    let own = |spec: &Spec| !matches!(spec.name, "corner" | "wall") && spec.count != Count::Any;
    let lines = with_children("room", FILE, node, print, own);
    part(format!("Room {name}").trim_end(), &name, lines, Vec::new())
}

fn corner(node: Option<&Node>, print: Option<LengthFormat>, room: &str) -> Part {
    let heading = format!("Corner {}", node.map(|node| text(node, 0)).unwrap_or_default());
    part(heading.trim_end(), room, with_children("corner", "room", node, print, |_| true), Vec::new())
}

fn wall(node: Option<&Node>, print: Option<LengthFormat>, number: usize, room: &str) -> Part {
    let label = node.map_or(number.to_string(), |node| text(node, 0));
    let name = node.map(|node| text(node, 1)).unwrap_or_default();
    let lines = with_children("wall", "room", node, print, |spec| spec.count != Count::Any);
    part(format!("Wall {label} {name}").trim_end(), room, lines, lists::of_wall(node, print))
}

fn part(heading: &str, under: &str, lines: Vec<Line>, lists: Vec<List>) -> Part {
    Part { heading: heading.to_owned(), under: under.to_owned(), lines, lists }
}

/// The values of a line, and of the lines in it that stand once.
fn with_children(
    name: &str,
    parent: &str,
    node: Option<&Node>,
    print: Option<LengthFormat>,
    wanted: impl Fn(&Spec) -> bool,
) -> Vec<Line> {
    let Some(spec) = find(parent, name) else { return Vec::new() };
    let filled = print.is_some();
    let mut lines = vec![line(spec, node, print, filled)];
    for spec in within(spec.name).filter(|spec| wanted(spec)) {
        let child = node.and_then(|node| node.child(spec.name));
        let needed = filled && (child.is_some() || spec.count == Count::One);
        lines.push(line(spec, child, print, needed));
    }
    lines
}

/// One line; `needed` tells that what must be in it is missed where it is not.
fn line(spec: &'static Spec, node: Option<&Node>, print: Option<LengthFormat>, needed: bool) -> Line {
    let args = spec.args.iter().enumerate();
    let args = args.map(|(i, field)| (field, ":", node.and_then(|node| node.args.get(i))));
    let props = spec.props.iter().map(|field| {
        let given = node.and_then(|node| node.props.iter().find(|(name, _)| *name == field.name));
        (field, "=", given.map(|(_, value)| value))
    });
    let all = args.chain(props).filter(|(field, _, _)| field.kind != Kind::Money);
    let mut values: Vec<Filled> = all
        .map(|(field, sign, given)| {
            let value = given.map_or_else(String::new, |given| shown(&given.value, print));
            let missing = needed && field.required && value.is_empty();
            Filled { caption: format!("{}{sign}", field.name), value, missing }
        })
        .collect();
    // A line that must be there, such as a width, is missed as a whole when nothing is given in it.
    if needed && spec.count == Count::One && values.iter().all(|filled| filled.value.is_empty()) {
        values.iter_mut().take(1).for_each(|filled| filled.missing = true);
    }
    Line { name: spec.name, values, there: node.is_some() }
}

/// A value as the sheets print it.
fn shown(value: &Value, print: Option<LengthFormat>) -> String {
    let print = print.unwrap_or(LengthFormat { system: UnitSystem::Inches, step: Length::inch_64ths(1) });
    match value {
        Value::Length(length) => print.print(*length),
        Value::Count(count) => count.to_string(),
        Value::Text(text) | Value::Date(text) => text.clone(),
        Value::Word(word) => (*word).to_owned(),
        Value::Angle(angle) => angle.words(),
        Value::Fraction(part, whole) => format!("{part}/{whole}"),
        Value::Share(share) => share.print(),
        Value::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
        // The form goes to the crew, who are told no prices.
        Value::Money(_) | Value::Unreadable => String::new(),
    }
}

/// An argument that is a text; empty where there is none.
fn text(node: &Node, index: usize) -> String {
    node.arg::<String>(index).ok().map_or_else(String::new, |text| text.value)
}
