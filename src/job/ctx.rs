//! What every part of the check shares: where problems go, what has been assumed, how lengths print.

use std::collections::{BTreeMap, BTreeSet};

use super::defaults;
use super::facts::declared;
use super::model::Assumption;
use crate::diag::{Diag, Diags};
use crate::parse::{Given, ParsedJob};
use crate::picture::Picture;
use crate::source::{Span, Spanned};
use crate::units::{Length, LengthFormat, Unit, UnitSystem};

/// The state of one check.
pub struct Ctx<'d> {
    /// Where problems go.
    pub diags: &'d mut Diags,
    /// How lengths are printed.
    pub format: LengthFormat,
    /// Whether the job's customary figures are metric.
    pub metric: bool,
    /// The unit that the file declares.
    unit: Option<Unit>,
    figures: &'d BTreeSet<Span>,
    pictures: &'d BTreeMap<Span, Picture>,
    assumed: Vec<Assumption>,
}

/// A range of plausible lengths, both ends allowed.
#[derive(Clone, Copy, Debug)]
pub struct Range {
    /// The least.
    pub least: Length,
    /// The most.
    pub most: Length,
}

/// A range from and to sixty-fourths of an inch.
pub const fn inches(least_64ths: i64, most_inches: i64) -> Range {
    Range { least: Length::inch_64ths(least_64ths), most: Length::inches(most_inches) }
}

impl<'d> Ctx<'d> {
    /// A check that has assumed nothing yet.
    pub fn new(parsed: &'d ParsedJob, diags: &'d mut Diags, format: LengthFormat, metric: bool) -> Self {
        let (figures, pictures) = (&parsed.figures, &parsed.pictures);
        Ctx { diags, format, metric, unit: declared(parsed), figures, pictures, assumed: Vec::new() }
    }

    /// Everything assumed, each once, in the order it was first needed.
    pub fn assumed(self) -> Vec<Assumption> {
        self.assumed
    }

    /// The picture whose path stands at `span`; `None` when it could not be had, which has been told.
    pub fn picture(&self, span: Span) -> Option<Picture> {
        self.pictures.get(&span).cloned()
    }

    /// A length as messages print it: as it was taken, not rounded as on sheets.
    pub fn show(&self, length: Length) -> String {
        self.format.exact().print(length)
    }

    /// A measure of cloth, which is given in inches without feet, or in millimetres.
    pub fn show_cloth(&self, length: Length) -> String {
        let system = if self.metric { UnitSystem::Millimetres } else { UnitSystem::Inches };
        LengthFormat { system, ..self.format }.exact().print(length)
    }

    /// A length as goods on a roll are sold: whole yards or metres where it comes to so many.
    fn show_goods(&self, length: Length) -> String {
        let (unit, word) = if self.metric { (Length::mm(1000), "m") } else { (Length::yards(1), "yd") };
        if length >= unit * 5 && length.rem_euclid(unit) == Length::ZERO {
            format!("{} {word}", length.div_floor(unit))
        } else {
            self.show(length)
        }
    }

    /// Lists an assumption once.
    pub fn note(&mut self, text: impl Into<String>, source: impl Into<String>) {
        let assumption = Assumption { text: text.into(), source: source.into() };
        if !self.assumed.contains(&assumption) {
            self.assumed.push(assumption);
        }
    }

    /// The figure of a house default.
    pub fn figure(&self, default: &defaults::Default) -> Length {
        if self.metric { default.metric } else { default.inches }
    }

    /// A house default, listed as an assumption.
    pub fn assume(&mut self, default: &defaults::Default) -> Length {
        let length = self.figure(default);
        let text = default.text.replace("{}", &self.show_goods(length));
        self.note(text, default.source);
        length
    }

    /// The given length, proven in range, or the default.
    pub fn length_or(
        &mut self,
        given: Given<Spanned<Length>>,
        what: &str,
        range: Range,
        default: &defaults::Default,
    ) -> Option<Length> {
        match given {
            Given::Absent => Some(self.assume(default)),
            Given::Bad => None,
            Given::Is(length) => self.ranged(length, what, range),
        }
    }

    /// The length if it is in range; told otherwise.
    pub fn ranged(&mut self, length: Spanned<Length>, what: &str, range: Range) -> Option<Length> {
        let Spanned { value, span } = length;
        if (range.least..=range.most).contains(&value) {
            return Some(value);
        }
        let diag = if value < Length::ZERO {
            Diag::error("negative-length", span, format!("{what} is negative"))
                .help("give the measure as the tape shows it, without a sign")
        } else if value == Length::ZERO {
            Diag::error("zero-length", span, format!("{what} is nothing"))
                .help("give the measure, or leave the line out")
        } else {
            let (shown, least, most) = (self.show(value), self.show(range.least), self.show(range.most));
            let bound =
                if value > range.most { format!("more than {most}") } else { format!("less than {least}") };
            Diag::error("absurd-length", span, format!("{what} is {shown}, {bound}"))
                .help(self.unit_help(length, range))
        };
        self.diags.push(diag);
        None
    }

    /// The remedy for a length out of range: another unit, if the figure would then be in range.
    fn unit_help(&self, length: Spanned<Length>, range: Range) -> String {
        let (least, most) = (self.show(range.least), self.show(range.most));
        let value = length.value;
        let (as_other, unit, word) = match self.unit {
            Some(Unit::Inch) => (value.scale(10, 254), "millimetres", "mm"),
            Some(Unit::Millimetre) => (value.scale(254, 10), "inches", "in"),
            _ => (Length::ZERO, "", ""),
        };
        let figure = self.figures.contains(&length.span);
        if figure && (range.least..=range.most).contains(&as_other) && as_other != Length::ZERO {
            return format!(
                "if the figure is in {unit}, write it in quotes with {word} after it; here it must be from {least} to {most}"
            );
        }
        format!("check the figure and its unit: it must be from {least} to {most}")
    }

    /// Tells an error with a remedy.
    pub fn error(
        &mut self,
        code: &'static str,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.diags.push(Diag::error(code, span, message).help(help));
    }
}
