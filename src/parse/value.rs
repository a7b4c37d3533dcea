//! One value of the file, read as the kind that its row asks for.

use kdl::{KdlEntry, KdlValue};

use super::model::Value;
use super::spec::{Field, Kind};
use super::walk::nearest;
use crate::money::Money;
use crate::share::Share;
use crate::units::{ReadFault, Unit, read_angle, read_length};

/// Reads an entry's value; why it cannot be read is returned.
pub fn read(entry: &KdlEntry, field: &Field, bare: Option<Unit>) -> Result<Value, ReadFault> {
    kind(&Written::of(entry), field, bare)
}

/// Reads a value whose slip has been told, as if it stood in quotes.
pub fn mended(text: &str, field: &Field, bare: Option<Unit>) -> Result<Value, ReadFault> {
    let text = match text {
        "true" => "yes",
        "false" => "no",
        // `"9' 6""`: the last quote is the text's, the one before it the inches'.
        text if text.len() > 3 && text.starts_with('"') && text.ends_with("\"\"") => &text[1..text.len() - 1],
        text if text.starts_with(['"', '“', '”', '„', '\'']) => {
            text.trim_matches(['"', '“', '”', '„', '\''])
        }
        text => text,
    };
    kind(&Written::Text(text), field, bare)
}

/// A value as the file writes it.
enum Written<'e> {
    Text(&'e str),
    /// A number, by its own characters: nothing passes through a float.
    Number(String),
    Flag(bool),
    /// `#null`, `#inf`, `#nan`.
    Keyword(String),
}

impl<'e> Written<'e> {
    fn of(entry: &'e KdlEntry) -> Self {
        let repr = || entry.format().map_or_else(|| entry.value().to_string(), |f| f.value_repr.clone());
        match entry.value() {
            KdlValue::String(text) => Written::Text(text),
            KdlValue::Bool(flag) => Written::Flag(*flag),
            KdlValue::Null => Written::Keyword("#null".to_owned()),
            KdlValue::Integer(_) | KdlValue::Float(_) => {
                let repr = repr();
                if repr.starts_with('#') || repr.starts_with("-#") {
                    Written::Keyword(repr)
                } else {
                    Written::Number(repr.replace('_', ""))
                }
            }
        }
    }

    fn shown(&self) -> String {
        match self {
            Written::Text(text) if text.chars().count() > 40 => {
                format!("\"{}…\"", text.chars().take(40).collect::<String>())
            }
            Written::Text(text) => format!("\"{text}\""),
            Written::Number(text) | Written::Keyword(text) => text.clone(),
            Written::Flag(flag) => format!("#{flag}"),
        }
    }
}

fn kind(written: &Written, field: &Field, bare: Option<Unit>) -> Result<Value, ReadFault> {
    let wrong = || ReadFault {
        code: "wrong-kind",
        message: format!("{} is not {}", written.shown(), field.kind.words()),
        help: format!("write {}: {}", field.example(), field.doc),
    };
    match (field.kind, written) {
        (Kind::Length, Written::Text(text)) => read_length(text, bare).map(Value::Length),
        (Kind::Length, Written::Number(text)) => number_as_length(text, bare).map(Value::Length),
        (Kind::Text, Written::Text(text)) => Ok(Value::Text((*text).to_owned())),
        (Kind::Label, Written::Text(text)) => Ok(Value::Text((*text).to_owned())),
        (Kind::Label, Written::Number(text)) => Ok(Value::Text(text.clone())),
        (Kind::Count, Written::Number(text)) => text.parse().map(Value::Count).map_err(|_| wrong()),
        (Kind::Word(words), Written::Text(text)) => {
            words.iter().find(|word| *word == text).map(|word| Value::Word(word)).ok_or_else(|| {
                // `units inches`: another spelling of one of the words.
                let unit = Unit::from_word(text).map(Unit::word).filter(|unit| words.contains(unit));
                let near = unit.or_else(|| nearest(text, words.iter().copied()));
                ReadFault {
                    code: "unknown-word",
                    message: format!("{} is not one of its words", written.shown()),
                    help: near.map_or_else(
                        || format!("write {}", field.kind.words()),
                        |word| format!("write {word} (the words are {})", field.kind.words()),
                    ),
                }
            })
        }
        (Kind::Date, Written::Text(text)) => date(text).ok_or_else(wrong).map(Value::Date),
        (Kind::Angle, Written::Text(text)) => read_angle(text).map(Value::Angle),
        (Kind::Angle, Written::Number(text)) => read_angle(text).map(Value::Angle),
        (Kind::Fraction, Written::Text(text)) => fraction(text).ok_or_else(wrong),
        (Kind::Fraction, Written::Number(text)) if text == "0" => Ok(Value::Fraction(0, 1)),
        (Kind::Share, Written::Text(text)) => Share::read(text).map(Value::Share).ok_or_else(wrong),
        (Kind::Flag, Written::Text("yes")) | (Kind::Flag, Written::Flag(true)) => Ok(Value::Flag(true)),
        (Kind::Flag, Written::Text("no")) | (Kind::Flag, Written::Flag(false)) => Ok(Value::Flag(false)),
        (Kind::Money, Written::Text(text)) => Money::read(text).map(Value::Money).ok_or_else(wrong),
        (Kind::Money, Written::Number(text)) => Money::read(text).map(Value::Money).ok_or_else(wrong),
        _ => Err(wrong()),
    }
}

fn number_as_length(text: &str, bare: Option<Unit>) -> Result<crate::units::Length, ReadFault> {
    if text.bytes().any(|b| b.is_ascii_alphabetic()) {
        return Err(ReadFault {
            code: "length-unreadable",
            message: format!("{text} is not written as a person writes a length"),
            help: "write plain figures, such as 108.5".to_owned(),
        });
    }
    read_length(text, bare)
}

/// A calendar date of the years 1900 to 2999, such as `2026-03-31`; `None` when there is no such
/// day.
pub fn date(text: &str) -> Option<String> {
    let parts: Vec<&str> = text.split('-').collect();
    let [y, m, d] = parts.as_slice() else { return None };
    if (y.len(), m.len(), d.len()) != (4, 2, 2) || !text.bytes().all(|b| b.is_ascii_digit() || b == b'-') {
        return None;
    }
    let (year, month, day): (u32, u32, u32) = (y.parse().ok()?, m.parse().ok()?, d.parse().ok()?);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        1..=12 => 31,
        _ => return None,
    };
    ((1900..3000).contains(&year) && (1..=days).contains(&day)).then(|| text.to_owned())
}

/// A fraction from 0 to less than 1, in lowest terms, with a denominator up to 64.
fn fraction(text: &str) -> Option<Value> {
    match text.trim() {
        "straight" | "0" => return Some(Value::Fraction(0, 1)),
        "half" | "½" => return Some(Value::Fraction(1, 2)),
        _ => {}
    }
    let (n, d) = text.split_once('/')?;
    let (n, d): (u32, u32) = (n.trim().parse().ok()?, d.trim().parse().ok()?);
    if d == 0 || d > 64 || n >= d {
        return None;
    }
    let common = (1..=d).rev().find(|c| n % c == 0 && d % c == 0).unwrap_or(1);
    Some(Value::Fraction(n / common, d / common))
}
