//! What a job says of each of its parts, as lists of facts that can be compared.
//!
//! Every struct of the job is taken apart here field by field, without `..`: a field that is added to a
//! job does not compile until it is said here how a change of it is told.

pub mod built;
pub mod goods;
pub mod house;
pub mod job;
pub mod room;
pub mod wall;

use super::super::model::{Difference, JobPart, Pair, Value};
use crate::share::Share;
use crate::units::{Angle, Length};

/// One thing that a job says of one of its parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// What is told of the part, such as "width". Several facts may tell the same.
    pub what: String,
    /// What it is.
    pub value: Value,
    /// What the value means, where that is more than its words: two facts are the same when it is.
    meaning: Option<String>,
}

/// A list of facts being made.
#[derive(Clone, Debug, Default)]
pub struct Facts(pub Vec<Fact>);

impl Facts {
    /// Adds a fact.
    pub fn add(&mut self, what: impl Into<String>, value: impl Into<Value>) {
        self.0.push(Fact { what: what.into(), value: value.into(), meaning: None });
    }

    /// Adds a fact whose words name something that may be called otherwise in the other issue.
    pub fn add_meaning(
        &mut self,
        what: impl Into<String>,
        value: impl Into<Value>,
        meaning: impl Into<String>,
    ) {
        self.0.push(Fact { what: what.into(), value: value.into(), meaning: Some(meaning.into()) });
    }

    /// Adds a text, unless it is empty.
    pub fn add_text(&mut self, what: &str, text: &str) {
        if !text.is_empty() {
            self.add(what, text);
        }
    }

    /// Adds a length, unless it is zero.
    pub fn add_some(&mut self, what: &str, length: Length) {
        if length != Length::ZERO {
            self.add(what, length);
        }
    }

    /// Adds whether something is so.
    pub fn add_whether(&mut self, what: &str, is: bool) {
        self.add(what, if is { "yes" } else { "no" });
    }
}

impl From<Length> for Value {
    fn from(length: Length) -> Value {
        Value::Length(length)
    }
}

impl From<Angle> for Value {
    fn from(angle: Angle) -> Value {
        Value::Angle(angle)
    }
}

impl From<u32> for Value {
    fn from(count: u32) -> Value {
        Value::Count(count.into())
    }
}

impl From<&str> for Value {
    fn from(words: &str) -> Value {
        Value::Words(words.to_owned())
    }
}

impl From<String> for Value {
    fn from(words: String) -> Value {
        Value::Words(words)
    }
}

impl From<Share> for Value {
    fn from(share: Share) -> Value {
        Value::Words(share.print())
    }
}

impl Fact {
    fn same(&self, other: &Fact) -> bool {
        self.what == other.what
            && match (&self.meaning, &other.meaning) {
                (None, None) => self.value == other.value,
                (was, now) => was == now,
            }
    }
}

/// How many of two lists of facts are the same, in thousandths of the longer one.
pub fn likeness(was: &[Fact], now: &[Fact]) -> i64 {
    let longer = was.len().max(now.len()).max(1) as i64;
    let mut left: Vec<&Fact> = now.iter().collect();
    let mut same = 0;
    for fact in was {
        if let Some(at) = left.iter().position(|other| fact.same(other)) {
            left.remove(at);
            same += 1;
        }
    }
    same * 1000 / longer
}

/// What is said otherwise of a part that is called `name`.
pub fn differences(part: JobPart, name: &Pair<String>, was: &[Fact], now: &[Fact]) -> Vec<Difference> {
    let mut left: Vec<&Fact> = now.iter().collect();
    let mut gone: Vec<&Fact> = Vec::new();
    for fact in was {
        match left.iter().position(|other| fact.same(other)) {
            Some(at) => drop(left.remove(at)),
            None => gone.push(fact),
        }
    }
    let mut told = Vec::new();
    let difference =
        |what: &str, value| Difference { part, name: name.clone(), what: what.to_owned(), value };
    for fact in gone {
        let now =
            left.iter().position(|other| other.what == fact.what).map(|at| left.remove(at).value.clone());
        told.push(difference(&fact.what, Pair::new(Some(fact.value.clone()), now)));
    }
    told.extend(
        left.into_iter().map(|fact| difference(&fact.what, Pair::new(None, Some(fact.value.clone())))),
    );
    told
}

/// A part that only one of the issues has.
pub fn came_or_went(part: JobPart, name: Pair<String>, value: Pair<Option<Value>>) -> Difference {
    Difference { part, name, what: String::new(), value }
}
