//! From KDL's tree to the typed tree, row by row of the table.

use std::collections::BTreeSet;

use kdl::{KdlDocument, KdlEntry, KdlNode};

use super::model::{Node, Value};
use super::spec::{self, Count, FILE, Field, Kind, SHARED, Spec};
use super::{hints, table, value};
use crate::diag::{Diag, Diags, MOST_TOLD};
use crate::source::{FileId, Span, Spanned};
use crate::units::{ReadFault, Unit};

/// The most lines that one parent may hold: far beyond any room.
const MOST_NODES: usize = 2000;

/// The most values and properties on one line.
const MOST_ENTRIES: usize = 32;

/// Reads a document's nodes.
pub struct Walk<'d> {
    /// The file's own text.
    pub text: &'d str,
    /// Values that were mended, as byte ranges: they are read from the text, without a word more.
    pub values: &'d [(usize, usize)],
    /// Lines that could not be read, as byte ranges.
    pub blanked: &'d [(usize, usize)],
    /// Whether it is not known for sure what stands in what: then nothing is known to be missing,
    /// doubled or in the wrong place.
    pub unnested: bool,
    /// The file that is read.
    pub file: FileId,
    /// The unit of figures without one.
    pub bare: Bare,
    /// The places of lengths written as bare figures.
    pub figures: BTreeSet<Span>,
    /// Figures that lack a unit.
    pub unitless: Vec<(Span, ReadFault)>,
    /// Where problems go.
    pub diags: &'d mut Diags,
}

impl Walk<'_> {
    /// Reads the nodes of `doc`, which stand in the parent named `parent`; `at` is the place to
    /// point to when something is missing. Also tells whether a line could not be used.
    pub fn nodes(&mut self, doc: Option<&KdlDocument>, parent: &str, at: Span) -> (Vec<Node>, bool) {
        let mut nodes: Vec<Node> = Vec::new();
        let mut unknown = self.lacks_lines(doc, parent);
        let all = doc.map(KdlDocument::nodes).unwrap_or_default();
        let most = all.len().min(MOST_NODES);
        if let Some(beyond) = all.get(MOST_NODES) {
            unknown = true;
            let message = format!("{} lines stand here; at most {MOST_NODES} are read", all.len());
            let help = "one file holds one job: check for lines copied over and over";
            self.diags.push(Diag::error("too-many", self.name_span(beyond), message).help(help));
        }
        for node in &all[..most] {
            let name = self.name_span(node);
            let unread = self.blanked.iter().any(|&(start, end)| (start..end).contains(&name.start));
            if unread || self.mended(name).is_some() {
                // What stood here could not be read, which has been told.
                unknown = true;
                continue;
            }
            match self.spec(node, parent, &all[..most]) {
                Some(spec) => nodes.push(self.node(node, spec)),
                None => unknown = true,
            }
        }
        for spec in table::within(parent) {
            self.count(spec, parent, &nodes, at, unknown);
        }
        unknown |= nodes.iter().any(|node| node.partial);
        (nodes, unknown)
    }

    /// Whether a line inside this document could not be read, so that nothing is known to be missing.
    fn lacks_lines(&self, doc: Option<&KdlDocument>, parent: &str) -> bool {
        let Some(doc) = doc else { return self.unnested };
        let span = doc.span();
        let (start, end) = if matches!(parent, FILE | SHARED) {
            (0, self.text.len())
        } else {
            (span.offset(), span.offset() + span.len())
        };
        self.unnested || self.blanked.iter().any(|&(from, to)| start < to && from < end)
    }

    fn mended(&self, span: Span) -> Option<(usize, usize)> {
        let at = self.values.binary_search_by_key(&span.start, |&(start, _)| start);
        at.ok().map(|at| self.values[at])
    }

    /// Reads a value; `what` names it in messages.
    fn value(&mut self, entry: &KdlEntry, field: &Field, span: Span, what: &str) -> Spanned<Value> {
        if let Some((start, end)) = self.mended(span) {
            let original = Span { start, end, ..span };
            let value = value::mended(&self.text[start..end], field, self.bare.unit());
            let value = value.unwrap_or_else(|fault| {
                // Not a length without its quotes, but something else that is none of what is asked.
                if fault.code != "length-without-unit" {
                    let message = format!("{what}: {}", fault.message);
                    let diag = Diag::error(fault.code, original, message).help(fault.help);
                    self.diags.better("unquoted-length", diag);
                }
                Value::Unreadable
            });
            return Spanned::new(value, original);
        }
        let value = value::read(entry, field, self.bare.unit()).unwrap_or_else(|fault| {
            if fault.code == "length-without-unit" {
                // One cause, one message: the first is told when all have been counted.
                self.unitless.push((span, fault));
            } else {
                let message = format!("{what}: {}", fault.message);
                self.diags.push(Diag::error(fault.code, span, message).help(fault.help));
            }
            Value::Unreadable
        });
        if matches!(value, Value::Length(_)) && !matches!(entry.value(), kdl::KdlValue::String(_)) {
            self.figures.insert(span);
        }
        Spanned::new(value, span)
    }

    /// Tells the figures that lack a unit, at the first of them.
    pub fn finish(&mut self) {
        let Some((span, fault)) = self.unitless.first() else { return };
        if self.bare == Bare::Broken {
            return;
        }
        let message = match self.unitless.len() {
            1 => fault.message.clone(),
            count => format!("{}; {} more figures are like it", fault.message, count - 1),
        };
        self.diags.push(Diag::error(fault.code, *span, message).help(fault.help.clone()));
    }

    fn span(&self, span: miette::SourceSpan) -> Span {
        Span { file: self.file, start: span.offset(), end: span.offset() + span.len() }
    }

    fn name_span(&self, node: &KdlNode) -> Span {
        self.span(node.name().span())
    }

    /// The nearest real name; not sought any more when too much is wrong for it to be read.
    fn nearest<'c>(&self, word: &str, candidates: impl Iterator<Item = &'c str>) -> Option<&'c str> {
        (self.diags.len() < 10 * MOST_TOLD).then(|| nearest(word, candidates)).flatten()
    }

    /// The row of a node; an unknown name is told, and read as the nearest real one.
    fn spec(&mut self, node: &KdlNode, parent: &str, siblings: &[KdlNode]) -> Option<&'static Spec> {
        let name = node.name().value();
        let span = self.name_span(node);
        if let Some(joined) = hints::joined(node, parent) {
            let diag = Diag::error("unknown-node", span, format!("{} is one word", joined.replace('-', " ")));
            self.diags.push(diag.help(format!("write {joined}, with a dash")));
            return None;
        }
        if let Some(spec) = table::find(parent, name) {
            return Some(spec);
        }
        if let Some(spec) = table::find(parent, name.trim_end_matches(':')) {
            let diag = Diag::error("unknown-node", span, format!("{} has a colon after it", spec.name));
            self.diags.push(diag.help(format!("write {} without it", spec.name)));
            return Some(spec);
        }
        let place = spec::place(parent);
        if let Some(help) = hints::swapped(node, parent) {
            let message = format!("there is no {} in {place}", clip(name));
            self.diags.push(Diag::error("unknown-node", span, message).help(help));
            return None;
        }
        if let Some(elsewhere) = table::TABLE.iter().find(|spec| spec.name == name) {
            if self.unnested {
                return None;
            }
            let homes = elsewhere.within.iter().filter(|home| **home != SHARED);
            let homes: Vec<String> = homes.map(|home| spec::place(home)).collect();
            let message = format!("{name} does not stand in {place}");
            self.diags.push(
                Diag::error("misplaced-node", span, message)
                    .help(format!("move it into {}", homes.join(" or "))),
            );
            return None;
        }
        let near = self.nearest(name, table::within(parent).map(|spec| spec.name));
        let diag = Diag::error("unknown-node", span, format!("there is no {} in {place}", clip(name)));
        let known: Vec<&str> = table::within(parent).map(|spec| spec.name).collect();
        let help = match near {
            Some(near) => format!("write {near}"),
            None if known.is_empty() => format!("{parent} holds no other lines"),
            None => format!("{place} holds {}", known.join(", ")),
        };
        self.diags.push(diag.help(help));
        let spec = near.and_then(|near| table::find(parent, near))?;
        // A line that may stand only once, and does, is not also meant by the misspelt one.
        let single = matches!(spec.count, Count::One | Count::Maybe);
        let there = siblings.iter().any(|sibling| sibling.name().value() == spec.name);
        (!(single && there)).then_some(spec)
    }

    fn node(&mut self, node: &KdlNode, spec: &'static Spec) -> Node {
        let name = self.name_span(node);
        let mut head = name;
        let mut args = Vec::new();
        let mut props: Vec<(&'static str, _)> = Vec::new();
        let mut first: Vec<(&'static str, Span)> = Vec::new();
        let (mut misspelt, mut over) = (false, false);
        // The value before, by its number, and its row.
        let mut last: Option<(usize, &'static Field)> = None;
        if let Some(beyond) = node.entries().get(MOST_ENTRIES) {
            misspelt = true;
            let message =
                format!("{} has {} values; at most {MOST_ENTRIES} are read", spec.name, node.entries().len());
            let span = self.span(beyond.span());
            self.diags.push(Diag::error("too-many", span, message).help(format!("write {}", spec.usage())));
        }
        let entries = &node.entries()[..node.entries().len().min(MOST_ENTRIES)];
        let mut at = 0;
        while let Some(entry) = entries.get(at) {
            let rest = &entries[at..];
            at += 1;
            let whole = self.span(entry.span());
            head.end = head.end.max(whole.end);
            let span = self.value_span(entry);
            misspelt |= self.swallowed(span);
            let Some(key) = entry.name() else {
                if let Some(field) = hints::property(spec, rest) {
                    let value = self.value_span(&rest[1]);
                    let typed = &self.text[value.start..value.end];
                    self.diags.push(hints::missing_equals(field, span, typed));
                    first.push((field.name, span));
                    props.push((field.name, self.value(&rest[1], field, value, field.name)));
                    at += 1;
                    continue;
                }
                if let Some(field) = hints::parted(spec, rest) {
                    let message = format!("{} is one word", field.name.replace('-', " "));
                    let diag = Diag::error("unknown-property", span, message);
                    self.diags.push(diag.help(format!("write {}=, with a dash", field.name)));
                    let value = self.value_span(&rest[1]);
                    first.push((field.name, span));
                    props.push((field.name, self.value(&rest[1], field, value, field.name)));
                    at += 1;
                    continue;
                }
                match spec.args.get(args.len()) {
                    Some(field) => {
                        let what = match spec.args {
                            [_] => spec.name.to_owned(),
                            _ => format!("{} {}", spec.name, field.name),
                        };
                        args.push(self.value(entry, field, span, &what));
                        last = Some((at - 1, field));
                    }
                    None if self.mended(span).is_some() => misspelt = true,
                    None if over => {}
                    None => {
                        over = true;
                        self.too_many(spec, entries, at - 1, last);
                    }
                }
                continue;
            };
            let key_span = self.span(key.span());
            let Some(field) = self.field(spec, key.value(), key_span) else {
                misspelt = true;
                continue;
            };
            last = Some((at - 1, field));
            if let Some((_, before)) = first.iter().find(|(name, _)| *name == field.name) {
                let diag =
                    Diag::error("repeated-property", key_span, format!("{} is given twice", field.name));
                self.diags.push(diag.also(*before, "first here").help("keep one of them"));
                continue;
            }
            first.push((field.name, key_span));
            props.push((field.name, self.value(entry, field, span, field.name)));
        }
        if hints::label_left_out(spec, entries) {
            misspelt = true;
            let label = spec.args[0];
            let message = format!("{} lacks its {} before its name", spec.name, label.name);
            let typed = &self.text[args[0].span.start..args[0].span.end];
            let help = format!("write {} {} {typed}", spec.name, if spec.name == "wall" { "1" } else { "A" });
            self.diags.push(Diag::error("missing-value", args[0].span, message).help(help));
            args[0].value = Value::Unreadable;
        }
        self.required(spec, &args.len(), &first, head, misspelt);
        let (children, partial) = self.nodes(node.children(), spec.name, name);
        Node { spec, name, head, args, props, children, partial: partial || misspelt }
    }

    /// The place of an entry's value: kdl gives none, but it is the last bytes of the entry.
    fn value_span(&self, entry: &KdlEntry) -> Span {
        let whole = self.span(entry.span());
        let length = entry.format().map_or(0, |format| format.value_repr.len());
        let start = whole.end.saturating_sub(length).max(whole.start);
        Span { start: if length == 0 { whole.start } else { start }, ..whole }
    }

    /// Whether a value that was mended has swallowed properties, so that none is known to be missing.
    fn swallowed(&self, span: Span) -> bool {
        self.mended(span).is_some_and(|(start, end)| self.text[start..end].contains('='))
    }

    /// Tells a value for which there is no place: the entry number `at`, behind `last`.
    fn too_many(
        &mut self,
        spec: &Spec,
        entries: &[KdlEntry],
        at: usize,
        last: Option<(usize, &'static Field)>,
    ) {
        let span = self.value_span(&entries[at]);
        if let Some((first, field)) = last.filter(|(first, _)| first + 1 == at)
            && let Some((text, count)) = hints::unquoted_text(Some(field), &entries[first..])
        {
            let start = self.value_span(&entries[first]).start;
            let end = self.value_span(&entries[first + count - 1]).end;
            let message = "text of several words stands without quotes";
            let help = format!("write \"{}\"", clip(&text));
            self.diags.push(Diag::error("unquoted-text", Span { start, end, ..span }, message).help(help));
            return;
        }
        let message = format!("{} has a value too many", spec.name);
        let unit = entries[at].value().as_string().and_then(Unit::from_word);
        let before = last.filter(|(first, field)| first + 1 == at && field.kind == Kind::Length);
        let figure = before.map(|(first, _)| self.value_span(&entries[first]));
        let help = match (unit, figure.map(|span| &self.text[span.start..span.end])) {
            (Some(unit), Some(figure)) => {
                format!("write \"{}{}\" in quotes", figure.trim_matches('"'), unit.word())
            }
            _ => format!("write {}", spec.usage()),
        };
        self.diags.push(Diag::error("extra-value", span, message).help(help));
    }

    /// The row of a property; an unknown name is told, and read as the nearest real one.
    fn field(&mut self, spec: &Spec, key: &str, span: Span) -> Option<&'static Field> {
        let fields: &'static [Field] = spec.props;
        if let Some(field) = fields.iter().find(|field| field.name == key) {
            return Some(field);
        }
        let near = self.nearest(key, fields.iter().map(|field| field.name));
        let known: Vec<&str> = fields.iter().map(|field| field.name).collect();
        let help = match near {
            Some(near) => format!("write {near}="),
            None if table::find(spec.name, key).is_some() => {
                format!("write it as a line of its own inside {} {{ }}", spec.name)
            }
            None if known.is_empty() => format!("write {}", spec.usage()),
            None => format!("{} takes {}", spec.name, known.join(", ")),
        };
        let message = format!("{} has no {}", spec.name, clip(key));
        self.diags.push(Diag::error("unknown-property", span, message).help(help));
        near.and_then(|near| fields.iter().find(|field| field.name == near))
    }

    fn required(
        &mut self,
        spec: &Spec,
        args: &usize,
        props: &[(&'static str, Span)],
        head: Span,
        misspelt: bool,
    ) {
        let lacking = spec.args.iter().skip(*args).filter(|field| field.required);
        for field in lacking {
            let doc = Some(field.doc).filter(|doc| doc.strip_prefix("the ") != Some(field.name));
            let doc = doc.map_or(String::new(), |doc| format!(": {doc}"));
            let message = format!("{} lacks its {}{doc}", spec.name, field.name);
            let help = format!("write {}", spec.shortest());
            self.diags.push(Diag::error("missing-value", head, message).help(help));
        }
        if misspelt {
            return;
        }
        for field in spec.props.iter().filter(|field| field.required) {
            if !props.iter().any(|(name, _)| *name == field.name) {
                let message = format!("{} lacks {}: {}", spec.name, field.name, field.doc);
                let help = format!("add {}={}", field.name, field.example());
                self.diags.push(Diag::error("missing-property", head, message).help(help));
            }
        }
    }

    fn count(&mut self, spec: &'static Spec, parent: &str, nodes: &[Node], at: Span, unknown: bool) {
        let mut these = nodes.iter().filter(|node| std::ptr::eq(node.spec, spec));
        let first = these.next();
        // What a shared file could give is asked for when all of them are read.
        let elsewhere = parent == SHARED
            || (spec.within.contains(&SHARED) && nodes.iter().any(|node| node.spec.name == "include"));
        if first.is_none() && matches!(spec.count, Count::One | Count::Some) && !unknown && !elsewhere {
            missing(spec, parent, at, self.diags);
        }
        if let (Some(first), Count::One | Count::Maybe) = (first, spec.count) {
            for again in these.filter(|_| !self.unnested) {
                let message = format!("{} is given twice", spec.name);
                self.diags.push(
                    Diag::error("repeated-node", again.name, message)
                        .also(first.name, "first here")
                        .help("keep one of them"),
                );
            }
        }
    }
}

/// Tells that a line is not there.
pub fn missing(spec: &Spec, parent: &str, at: Span, diags: &mut Diags) {
    let place = if parent == FILE { "the file" } else { parent };
    let help = format!("add a line: {}", spec.shortest());
    diags.push(Diag::error("missing-node", at, format!("{place} has no {}", spec.name)).help(help));
}

/// The unit of figures without one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bare {
    /// The declared unit.
    Unit(Unit),
    /// None is declared.
    Undeclared,
    /// One is declared, and could not be read; that is told.
    Broken,
}

impl Bare {
    fn unit(self) -> Option<Unit> {
        match self {
            Bare::Unit(unit) => Some(unit),
            Bare::Undeclared | Bare::Broken => None,
        }
    }
}

/// The candidate that a misspelt word most likely means.
pub fn nearest<'c>(word: &str, candidates: impl Iterator<Item = &'c str>) -> Option<&'c str> {
    if word.len() > 64 {
        return None;
    }
    let lower = word.to_lowercase().replace('_', "-");
    candidates
        .map(|candidate| (strsim::damerau_levenshtein(&lower, candidate), candidate))
        .filter(|(distance, candidate)| match candidate.len() {
            0..3 => *distance == 0,
            length => *distance <= (length / 3).max(1),
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// A word as messages show it: its first characters.
pub fn clip(name: &str) -> String {
    match name.char_indices().nth(40) {
        Some((at, _)) => format!("{}…", &name[..at]),
        None => name.to_owned(),
    }
}
