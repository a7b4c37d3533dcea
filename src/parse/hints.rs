//! Slips that KDL takes for something else: words in the wrong order, a missing `=`, text without
//! its quotes. Each is recognised by what the words around it are, and told with the line mended.

use kdl::{KdlEntry, KdlNode, KdlValue};

use super::spec::{Field, Kind, Spec};
use super::table;
use crate::diag::Diag;
use crate::source::Span;

/// How a value stands in the file.
fn written(entry: &KdlEntry) -> &str {
    entry.format().map_or("", |format| format.value_repr.as_str())
}

/// A word without quotes that stands as a value of its own.
fn bare_word(entry: &KdlEntry) -> Option<&str> {
    let bare = entry.name().is_none() && !written(entry).starts_with(['"', '#']);
    entry.value().as_string().filter(|_| bare)
}

/// For a line whose first two words are a name of its parent's, as in `match width 52`: that name.
pub fn joined(node: &KdlNode, parent: &str) -> Option<&'static str> {
    let word = bare_word(node.entries().first()?)?;
    table::find(parent, &format!("{}-{word}", node.name().value())).map(|spec| spec.name)
}

/// For a line whose first word is none of its parent's and whose second is, as in `letter paper`: the
/// remedy.
pub fn swapped(node: &KdlNode, parent: &str) -> Option<String> {
    let name = node.name();
    let word = bare_word(node.entries().first()?)?;
    table::find(parent, word)?;
    let shown = name.repr().filter(|repr| repr.starts_with('"')).unwrap_or(name.value());
    Some(format!("the name comes first: write {word} {shown}"))
}

/// For a word among the values of a line: the property that it names, when a value without a name of
/// its own follows it.
pub fn property<'s>(spec: &'s Spec, entries: &[KdlEntry]) -> Option<&'s Field> {
    let [word, value, ..] = entries else { return None };
    let word = bare_word(word)?;
    let field = spec.props.iter().find(|field| field.name == word)?;
    value.name().is_none().then_some(field)
}

/// Tells that a property lacks its `=`.
pub fn missing_equals(field: &Field, span: Span, value: &str) -> Diag {
    Diag::error("missing-equals", span, format!("{} has no = before its value", field.name))
        .help(format!("write {}={value}, without blanks", field.name))
}

/// For a word among the values and the property behind it: the property that both name, as in
/// `roll width=48`.
pub fn parted<'s>(spec: &'s Spec, entries: &[KdlEntry]) -> Option<&'s Field> {
    let [word, property, ..] = entries else { return None };
    let joined = format!("{}-{}", bare_word(word)?, property.name()?.value());
    spec.props.iter().find(|field| field.name == joined)
}

/// For a word too many: the text that it and the words beside it make, when the word before it was
/// read as text; `entries` start at the word before. Also how many entries the text takes.
pub fn unquoted_text(field: Option<&Field>, entries: &[KdlEntry]) -> Option<(String, usize)> {
    let first = entries.first()?;
    let text = matches!(field?.kind, Kind::Text | Kind::Label);
    if !text || written(first).starts_with(['"', '#']) {
        return None;
    }
    let start = match first.value() {
        KdlValue::String(text) => text.clone(),
        _ => return None,
    };
    let words: Vec<&str> = entries[1..].iter().map_while(bare_word).collect();
    (!words.is_empty()).then(|| (format!("{start} {}", words.join(" ")), words.len() + 1))
}

/// For a label that is a name in quotes with no label before it, as in `wall "door wall"`.
pub fn label_left_out(spec: &Spec, entries: &[KdlEntry]) -> bool {
    let [Field { kind: Kind::Label, .. }, Field { kind: Kind::Text, .. }, ..] = spec.args else {
        return false;
    };
    let mut values = entries.iter().filter(|entry| entry.name().is_none());
    let (Some(only), None) = (values.next(), values.next()) else { return false };
    written(only).starts_with('"') && only.value().as_string().is_some_and(|text| text.contains(' '))
}
