//! Renderers of diagnostics: for a person at a terminal, one line each for editors, and JSON.
//!
//! A renderer is a function of the sources and the diagnostics; whoever prints chooses the width
//! and whether the terminal has colours. What cannot be seen in a job's text ([`crate::unseen`]) never reaches
//! the terminal, which might obey it; JSON has it, as it is in the file.

use std::fmt::{self, Write};

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceSpan};
use serde_json::{Value, json};

use crate::diag::{Diag, Label, Severity};
use crate::source::{Position, SourceFile, Sources, Span};
use crate::unseen::{covered, written};

/// How the report for a person looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The terminal's width in columns.
    pub width: usize,
    /// Whether colours may be used: a terminal, and no `NO_COLOR`.
    pub colour: bool,
}

/// The report for a person: each problem with the lines of the file that it is about.
pub fn human(sources: &Sources, diags: &[Diag], look: Look) -> String {
    let theme = if look.colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme).with_width(look.width.max(30)).with_links(false);
    let mut out = String::new();
    for diag in diags {
        let shown = Shown::of(sources, diag);
        if on_long_line(sources, diag) || handler.render_report(&mut out, &shown).is_err() {
            out.push_str(&line(sources, diag));
        }
        out.push('\n');
    }
    out
}

/// The bytes of a line that is too long to be shown.
const LONG_LINE: usize = 1000;

/// Whether a place lies on a line too long to be shown around it.
fn on_long_line(sources: &Sources, diag: &Diag) -> bool {
    diag.labels.iter().any(|label| {
        let Some(file) = sources.get(label.span.file) else { return false };
        let bytes = file.text.as_bytes();
        let at = label.span.start.min(bytes.len());
        let before = bytes[..at].iter().rev().take(LONG_LINE).take_while(|&&b| b != b'\n').count();
        before + bytes[at..].iter().take(LONG_LINE).take_while(|&&b| b != b'\n').count() >= LONG_LINE
    })
}

/// One line for each problem: `file:line:column: error[code]: message; help`.
pub fn short(sources: &Sources, diags: &[Diag]) -> String {
    diags.iter().map(|diag| line(sources, diag)).collect()
}

fn line(sources: &Sources, diag: &Diag) -> String {
    let mut out = String::new();
    if let Some((file, position)) = diag.labels.first().and_then(|label| place(sources, label.span)) {
        let _ = write!(out, "{}:{}:{}: ", file.name, position.line, position.column);
    }
    let _ = write!(out, "{}[{}]: {}", word(diag.severity), diag.code, diag.message);
    if let Some(help) = &diag.help {
        let _ = write!(out, "; {help}");
    }
    format!("{}\n", written(&out.replace(['\n', '\r'], " ")))
}

/// A JSON array with one object for each problem: `code`, `severity`, `message`, `help` (or null)
/// and `labels`, each with `file`, `text`, and `start` and `end` as `byte`, `line` and `column`.
pub fn json(sources: &Sources, diags: &[Diag]) -> String {
    let label = |label: &Label| {
        let file = sources.get(label.span.file)?;
        let point = |byte: usize| {
            let Position { line, column } = file.position(byte);
            json!({ "byte": byte, "line": line, "column": column })
        };
        Some(json!({
            "file": file.name,
            "text": label.text,
            "start": point(label.span.start),
            "end": point(label.span.end),
        }))
    };
    let items: Vec<Value> = diags
        .iter()
        .map(|diag| {
            json!({
                "code": diag.code,
                "severity": word(diag.severity),
                "message": diag.message,
                "help": diag.help,
                "labels": diag.labels.iter().filter_map(label).collect::<Vec<_>>(),
            })
        })
        .collect();
    format!("{:#}\n", Value::Array(items))
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

fn place(sources: &Sources, span: Span) -> Option<(&SourceFile, Position)> {
    let file = sources.get(span.file)?;
    Some((file, file.position(span.start)))
}

/// A problem as miette wants it: one file, and labels that can be seen.
#[derive(Debug)]
struct Shown<'d> {
    diag: &'d Diag,
    source: Option<NamedSource<String>>,
    labels: Vec<LabeledSpan>,
    help: Option<String>,
}

impl<'d> Shown<'d> {
    fn of(sources: &Sources, diag: &'d Diag) -> Self {
        let main = diag.labels.first().map(|label| label.span.file);
        let file = main.and_then(|id| sources.get(id));
        let mut labels = Vec::new();
        let mut help = diag.help.clone();
        for label in &diag.labels {
            match file {
                Some(file) if Some(label.span.file) == main => labels.push(LabeledSpan::new_with_span(
                    (!label.text.is_empty()).then(|| written(&label.text).into_owned()),
                    visible(&file.text, label.span),
                )),
                // A place in another file is told in words.
                _ => {
                    if let Some((file, at)) = place(sources, label.span) {
                        let told = format!("{}:{}:{}: {}", file.name, at.line, at.column, label.text);
                        help = Some(help.map_or(told.clone(), |help| format!("{help}\n{told}")));
                    }
                }
            }
        }
        let source = file.map(|file| NamedSource::new(written(&file.name), covered(&file.text).into_owned()));
        // Lines of help stay lines.
        let help = help.map(|help| help.lines().map(written).collect::<Vec<_>>().join("\n"));
        Shown { diag, source, labels, help }
    }
}

/// The span, moved so that miette shows it: it drops a label of no length at the end of a file,
/// and one past the end.
fn visible(text: &str, span: Span) -> SourceSpan {
    let boundary = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let mut start = boundary(span.start.min(text.len()));
    let mut end = boundary(span.end.min(text.len()).max(start));
    if start == end {
        match text[start..].chars().next() {
            Some(c) if c != '\n' && c != '\r' => end = start + c.len_utf8(),
            _ => start = text[..start].trim_end().char_indices().next_back().map_or(start, |(at, _)| at),
        }
        if start == end || end < start {
            end = text[start..].chars().next().map_or(start, |c| start + c.len_utf8());
        }
    }
    SourceSpan::from(start..end)
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&written(&self.diag.message))
    }
}

impl std::error::Error for Shown<'_> {}

impl miette::Diagnostic for Shown<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.diag.code))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.diag.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        self.source.as_ref().map(|source| source as &dyn miette::SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }
}
