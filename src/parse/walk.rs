//! From KDL's tree to the typed tree, row by row of the table.

use kdl::{KdlDocument, KdlEntry, KdlNode};

use super::model::Node;
use super::spec::{Count, FILE, Field, Spec};
use super::{table, value};
use crate::diag::{Diag, Diags};
use crate::source::{FileId, Span};
use crate::units::Unit;

/// Reads a document's nodes.
pub struct Walk<'d> {
    /// The file that is read.
    pub file: FileId,
    /// The unit of figures without one.
    pub bare: Option<Unit>,
    /// Where problems go.
    pub diags: &'d mut Diags,
}

impl Walk<'_> {
    /// Reads the nodes of `doc`, which stand in the parent named `parent`; `at` is the place to
    /// point to when something is missing.
    pub fn nodes(&mut self, doc: Option<&KdlDocument>, parent: &str, at: Span) -> Vec<Node> {
        let mut nodes: Vec<Node> = Vec::new();
        let mut unknown = false;
        for node in doc.map(KdlDocument::nodes).unwrap_or_default() {
            match self.spec(node, parent) {
                Some(spec) => nodes.push(self.node(node, spec)),
                None => unknown = true,
            }
        }
        for spec in table::within(parent) {
            self.count(spec, parent, &nodes, at, unknown);
        }
        nodes
    }

    fn span(&self, span: miette::SourceSpan) -> Span {
        Span { file: self.file, start: span.offset(), end: span.offset() + span.len() }
    }

    fn name_span(&self, node: &KdlNode) -> Span {
        self.span(node.name().span())
    }

    /// The row of a node; an unknown name is told, and read as the nearest real one.
    fn spec(&mut self, node: &KdlNode, parent: &str) -> Option<&'static Spec> {
        let name = node.name().value();
        if let Some(spec) = table::find(parent, name) {
            return Some(spec);
        }
        let place = if parent == FILE { "the file itself".to_owned() } else { format!("{parent} {{ }}") };
        let span = self.name_span(node);
        if let Some(elsewhere) = table::TABLE.iter().find(|spec| spec.name == name) {
            let homes: Vec<String> = elsewhere
                .within
                .iter()
                .map(
                    |home| if *home == FILE { "the file itself".to_owned() } else { format!("{home} {{ }}") },
                )
                .collect();
            let message = format!("{name} does not stand in {place}");
            self.diags.push(
                Diag::error("misplaced-node", span, message)
                    .help(format!("move it into {}", homes.join(" or "))),
            );
            return None;
        }
        let near = nearest(name, table::within(parent).map(|spec| spec.name));
        let diag = Diag::error("unknown-node", span, format!("there is no {} in {place}", clip(name)));
        let known: Vec<&str> = table::within(parent).map(|spec| spec.name).collect();
        let help = match near {
            Some(near) => format!("write {near}"),
            None if known.is_empty() => format!("{parent} holds no other lines"),
            None => format!("{place} holds {}", known.join(", ")),
        };
        self.diags.push(diag.help(help));
        near.and_then(|near| table::find(parent, near))
    }

    fn node(&mut self, node: &KdlNode, spec: &'static Spec) -> Node {
        let name = self.name_span(node);
        let mut head = name;
        let mut args = Vec::new();
        let mut props: Vec<(&'static str, _)> = Vec::new();
        let mut first: Vec<(&'static str, Span)> = Vec::new();
        let mut misspelt = false;
        for entry in node.entries() {
            let whole = self.span(entry.span());
            head.end = head.end.max(whole.end);
            let span = self.value_span(entry);
            let Some(key) = entry.name() else {
                match spec.args.get(args.len()) {
                    Some(field) => args.push(value::read(entry, field, span, self.bare, self.diags)),
                    None => self.too_many(spec, span),
                }
                continue;
            };
            let key_span = self.span(key.span());
            let Some(field) = self.field(spec, key.value(), key_span) else {
                misspelt = true;
                continue;
            };
            if let Some((_, before)) = first.iter().find(|(name, _)| *name == field.name) {
                let diag =
                    Diag::error("repeated-property", key_span, format!("{} is given twice", field.name));
                self.diags.push(diag.also(*before, "first here").help("keep one of them"));
                continue;
            }
            first.push((field.name, key_span));
            props.push((field.name, value::read(entry, field, span, self.bare, self.diags)));
        }
        self.required(spec, &args.len(), &first, head, misspelt);
        let children = self.nodes(node.children(), spec.name, name);
        Node { spec, name, head, args, props, children }
    }

    /// The place of an entry's value: kdl gives none, but it is the last bytes of the entry.
    fn value_span(&self, entry: &KdlEntry) -> Span {
        let whole = self.span(entry.span());
        let length = entry.format().map_or(0, |format| format.value_repr.len());
        let start = whole.end.saturating_sub(length).max(whole.start);
        Span { start: if length == 0 { whole.start } else { start }, ..whole }
    }

    fn too_many(&mut self, spec: &Spec, span: Span) {
        let usage = usage(spec);
        let message = format!("{} has a value too many", spec.name);
        self.diags.push(Diag::error("extra-value", span, message).help(format!("write {usage}")));
    }

    /// The row of a property; an unknown name is told, and read as the nearest real one.
    fn field(&mut self, spec: &Spec, key: &str, span: Span) -> Option<&'static Field> {
        let fields: &'static [Field] = spec.props;
        if let Some(field) = fields.iter().find(|field| field.name == key) {
            return Some(field);
        }
        let near = nearest(key, fields.iter().map(|field| field.name));
        let known: Vec<&str> = fields.iter().map(|field| field.name).collect();
        let help = match near {
            Some(near) => format!("write {near}="),
            None if table::find(spec.name, key).is_some() => {
                format!("write it as a line of its own inside {} {{ }}", spec.name)
            }
            None if known.is_empty() => format!("write {}", usage(spec)),
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
            let message = format!("{} lacks its {}: {}", spec.name, field.name, field.doc);
            self.diags
                .push(Diag::error("missing-value", head, message).help(format!("write {}", usage(spec))));
        }
        if misspelt {
            return;
        }
        for field in spec.props.iter().filter(|field| field.required) {
            if !props.iter().any(|(name, _)| *name == field.name) {
                let message = format!("{} lacks {}: {}", spec.name, field.name, field.doc);
                let help = format!("add {}={}", field.name, example(field));
                self.diags.push(Diag::error("missing-property", head, message).help(help));
            }
        }
    }

    fn count(&mut self, spec: &'static Spec, parent: &str, nodes: &[Node], at: Span, unknown: bool) {
        let mut these = nodes.iter().filter(|node| std::ptr::eq(node.spec, spec));
        let first = these.next();
        if first.is_none() && matches!(spec.count, Count::One | Count::Some) && !unknown {
            let place = if parent == FILE { "the file" } else { parent };
            let message = format!("{place} has no {}", spec.name);
            self.diags
                .push(Diag::error("missing-node", at, message).help(format!("add a line: {}", usage(spec))));
        }
        if let (Some(first), Count::One | Count::Maybe) = (first, spec.count) {
            for again in these {
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

/// A row as one would type it.
pub fn usage(spec: &Spec) -> String {
    let args = spec.args.iter().map(|field| match field.required {
        true => format!(" {}", example(field)),
        false => format!(" [{}]", example(field)),
    });
    let props = spec.props.iter().map(|field| match field.required {
        true => format!(" {}={}", field.name, example(field)),
        false => format!(" [{}={}]", field.name, example(field)),
    });
    format!("{}{}", spec.name, args.chain(props).collect::<String>())
}

fn example(field: &Field) -> String {
    use super::spec::Kind;
    match field.kind {
        Kind::Length => "\"9ft 1/2in\"".to_owned(),
        Kind::Count => "2".to_owned(),
        Kind::Text => format!("\"{}\"", field.name),
        Kind::Label => field.name.to_uppercase(),
        Kind::Word(words) => words.join("|"),
        Kind::Date => "\"2026-03-31\"".to_owned(),
        Kind::Angle => "90".to_owned(),
        Kind::Fraction => "half".to_owned(),
        Kind::Flag => "yes".to_owned(),
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
        .filter(|(distance, candidate)| *distance <= (candidate.len() / 3).max(1))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

fn clip(name: &str) -> String {
    match name.char_indices().nth(40) {
        Some((at, _)) => format!("{}…", &name[..at]),
        None => name.to_owned(),
    }
}
