//! The typed tree: the border between the room that reads and the room that judges.

use std::collections::{BTreeMap, BTreeSet};

use super::spec::Spec;
use crate::money::Money;
use crate::picture::Picture;
use crate::share::Share;
use crate::source::{Span, Spanned};
use crate::units::{Angle, Length};

/// A job file, read: every node is known, every value has its kind.
#[derive(Clone, Debug, Default)]
pub struct ParsedJob {
    /// The nodes of the file, in its order.
    pub nodes: Vec<Node>,
    /// Whether some line could not be used; that has been told.
    pub partial: bool,
    /// The places of lengths written as bare figures, in the unit that the file declares.
    pub figures: BTreeSet<Span>,
    /// The pictures that the file names, by the places of their paths.
    pub pictures: BTreeMap<Span, Picture>,
}

/// A node of the language table as it stands in the file.
#[derive(Clone, Debug)]
pub struct Node {
    /// Its row in the table.
    pub spec: &'static Spec,
    /// Its name, as a place.
    pub name: Span,
    /// From its name to the end of its line's values; children are not part of it.
    pub head: Span,
    /// Its arguments, in order.
    pub args: Vec<Spanned<Value>>,
    /// Its properties, in the order of the file.
    pub props: Vec<(&'static str, Spanned<Value>)>,
    /// Its children, in order.
    pub children: Vec<Node>,
    /// Whether a line in it, or in one of its children, could not be used. That has been told, and
    /// what seems to be missing may stand in that line.
    pub partial: bool,
}

/// A value of a known kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A whole number from 0.
    Count(u32),
    /// Text, or a label.
    Text(String),
    /// One of the words of its row.
    Word(&'static str),
    /// A date, ISO 8601, proven to exist.
    Date(String),
    /// An angle.
    Angle(Angle),
    /// A proper fraction in lowest terms, numerator and denominator; 0/1 is none.
    Fraction(u32, u32),
    /// Yes or no.
    Flag(bool),
    /// A share in per cent.
    Share(Share),
    /// An amount of money.
    Money(Money),
    /// Something else stood here; that has been told.
    Unreadable,
}

/// What a row's value turned out to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given<T> {
    /// Nothing was written.
    Absent,
    /// What was written could not be read, and that has been told.
    Bad,
    /// This was written.
    Is(T),
}

impl<T> Given<T> {
    /// The value, or `default` where nothing was written; `None` where it could not be read.
    pub fn or(self, default: impl FnOnce() -> T) -> Option<T> {
        match self {
            Given::Absent => Some(default()),
            Given::Bad => None,
            Given::Is(value) => Some(value),
        }
    }

    /// The value if there is a readable one.
    pub fn ok(self) -> Option<T> {
        match self {
            Given::Is(value) => Some(value),
            Given::Absent | Given::Bad => None,
        }
    }

    /// Whether nothing was written.
    pub fn is_absent(&self) -> bool {
        matches!(self, Given::Absent)
    }
}

/// Types that a [`Value`] can be taken as.
pub trait FromValue: Sized {
    /// The value, if it is of this kind.
    fn from_value(value: &Value) -> Option<Self>;
}

macro_rules! from_value {
    ($($kind:ident => $type:ty),* $(,)?) => {$(
        impl FromValue for $type {
            fn from_value(value: &Value) -> Option<Self> {
                match value {
                    Value::$kind(inner) => Some(inner.clone()),
                    _ => None,
                }
            }
        }
    )*};
}

from_value!(Length => Length, Count => u32, Word => &'static str, Angle => Angle, Flag => bool, Money => Money, Share => Share);

impl FromValue for String {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Text(text) | Value::Date(text) => Some(text.clone()),
            _ => None,
        }
    }
}

impl FromValue for (u32, u32) {
    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Fraction(n, d) => Some((*n, *d)),
            _ => None,
        }
    }
}

impl Node {
    /// The argument number `index`, from 0.
    pub fn arg<T: FromValue>(&self, index: usize) -> Given<Spanned<T>> {
        given(self.args.get(index))
    }

    /// The property of that name.
    pub fn prop<T: FromValue>(&self, name: &str) -> Given<Spanned<T>> {
        given(self.props.iter().find(|(key, _)| *key == name).map(|(_, value)| value))
    }

    /// The first child of that name.
    pub fn child(&self, name: &str) -> Option<&Node> {
        self.children.iter().find(|node| node.spec.name == name)
    }

    /// The first argument of the first child of that name.
    pub fn child_arg<T: FromValue>(&self, name: &str) -> Given<Spanned<T>> {
        self.child(name).map_or(Given::Absent, |node| node.arg(0))
    }
}

fn given<T: FromValue>(value: Option<&Spanned<Value>>) -> Given<Spanned<T>> {
    match value {
        None => Given::Absent,
        Some(spanned) => match T::from_value(&spanned.value) {
            Some(inner) => Given::Is(Spanned::new(inner, spanned.span)),
            None => Given::Bad,
        },
    }
}
