//! One diagnostic: what is wrong or doubtful in a job file, where, and what to do about it.

use crate::source::Span;

mod codes;
pub use codes::CODES;

/// How much a diagnostic matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// No plan can be made.
    Error,
    /// A plan is made, and the reader is told.
    Warning,
}

/// A marked place with a few words about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// What is there, short; may be empty.
    pub text: String,
}

/// A problem. Its renderers are in [`crate::report`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diag {
    /// A stable code in words, such as `opening-outside-wall`.
    pub code: &'static str,
    /// Error or warning.
    pub severity: Severity,
    /// One sentence in the words of the trade.
    pub message: String,
    /// The places, the first being the main one.
    pub labels: Vec<Label>,
    /// A remedy that can be typed.
    pub help: Option<String>,
}

impl Diag {
    /// An error at a place.
    pub fn error(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        let labels = vec![Label { span, text: String::new() }];
        Diag { code, severity: Severity::Error, message: message.into(), labels, help: None }
    }

    /// A warning at a place.
    pub fn warning(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Diag { severity: Severity::Warning, ..Diag::error(code, span, message) }
    }

    /// Words at the main place.
    pub fn label(mut self, text: impl Into<String>) -> Self {
        if let Some(label) = self.labels.first_mut() {
            label.text = text.into();
        }
        self
    }

    /// A second place, with words.
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// A remedy that can be typed.
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(text.into());
        self
    }
}

/// How many problems are told one by one.
pub const MOST_TOLD: usize = 100;

/// How many problems are kept at all.
const MOST_KEPT: usize = 20_000;

/// The problems of one run.
#[derive(Clone, Debug, Default)]
pub struct Diags {
    items: Vec<Diag>,
    /// Errors beyond [`MOST_KEPT`].
    dropped: usize,
}

impl Diags {
    /// Adds a problem. One of a great many is only counted.
    pub fn push(&mut self, diag: Diag) {
        if self.items.len() < MOST_KEPT {
            self.items.push(diag);
        } else {
            self.dropped += 1;
        }
    }

    /// Adds all problems of `others`.
    pub fn extend(&mut self, others: Diags) {
        others.items.into_iter().for_each(|diag| self.push(diag));
        self.dropped += others.dropped;
    }

    /// Tells `diag` instead of the problem of that code at its place, or not at all if there is none:
    /// the same cause, better understood.
    pub fn better(&mut self, code: &str, diag: Diag) {
        let place = |diag: &Diag| diag.labels.first().map(|label| (label.span.file, label.span.start));
        let wanted = place(&diag);
        if let Some(item) = self.items.iter_mut().find(|item| item.code == code && place(item) == wanted) {
            *item = diag;
        }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.items.len() + self.dropped
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }

    /// Whether any is an error.
    pub fn has_errors(&self) -> bool {
        self.items.iter().any(|d| d.severity == Severity::Error)
    }

    /// The problems in the order of their places, errors before warnings at one place; at most
    /// [`MOST_TOLD`], and then one more that counts the rest.
    pub fn sorted(mut self) -> Vec<Diag> {
        let place = |diag: &Diag| diag.labels.first().map(|label| label.span);
        self.items.sort_by(|a, b| (place(a), a.severity, a.code).cmp(&(place(b), b.severity, b.code)));
        let rest = self.items.split_off(self.items.len().min(MOST_TOLD));
        if let Some(first) = rest.first() {
            let severity = rest.iter().map(|diag| diag.severity).min().unwrap_or(Severity::Error);
            self.items.push(Diag {
                code: "more-problems",
                severity,
                message: format!("{} more problems follow from here on", rest.len() + self.dropped),
                labels: first.labels.iter().take(1).cloned().collect(),
                help: Some("mend those above first".to_owned()),
            });
        }
        self.items
    }
}
