//! Reading lengths as people write them, exactly.
//!
//! `9ft 1/2in`, `9' 0 1/2"`, `108 1/2in`, `9′ 0½″`, `1-1/2 in`, `2.75 m`, `1375mm`, `54` (in a declared
//! unit). Whatever has two readings is refused and both are named; whatever is not a whole number
//! of nanometres is refused.

use super::tokens::{Token, clipped, small, tokens};
use super::{Angle, Length};

/// A unit of length that a job file can use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// 36 inches.
    Yard,
    /// 12 inches.
    Foot,
    /// Exactly 25.4 mm.
    Inch,
    /// 1000 mm.
    Metre,
    /// 10 mm.
    Centimetre,
    /// A thousandth of a metre.
    Millimetre,
}

impl Unit {
    /// The words for a declared unit, as a job file writes them.
    pub const WORDS: [&'static str; 6] = ["in", "ft", "yd", "mm", "cm", "m"];

    /// The unit of one of the words, or of a longer spelling or sign of it.
    pub fn from_word(word: &str) -> Option<Unit> {
        Some(match word.to_lowercase().as_str() {
            "in" | "inch" | "inches" => Unit::Inch,
            "ft" | "foot" | "feet" => Unit::Foot,
            "yd" | "yds" | "yard" | "yards" => Unit::Yard,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Unit::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
            _ => return None,
        })
    }

    /// The short word.
    pub const fn word(self) -> &'static str {
        match self {
            Unit::Yard => "yd",
            Unit::Foot => "ft",
            Unit::Inch => "in",
            Unit::Metre => "m",
            Unit::Centimetre => "cm",
            Unit::Millimetre => "mm",
        }
    }

    /// One of it.
    pub const fn length(self) -> Length {
        match self {
            Unit::Yard => Length::yards(1),
            Unit::Foot => Length::feet(1),
            Unit::Inch => Length::inches(1),
            Unit::Metre => Length::mm(1000),
            Unit::Centimetre => Length::mm(10),
            Unit::Millimetre => Length::mm(1),
        }
    }

    /// Whether it belongs to the metric system.
    pub const fn metric(self) -> bool {
        matches!(self, Unit::Metre | Unit::Centimetre | Unit::Millimetre)
    }
}

/// Why a text is not a length: a stable code, one sentence, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadFault {
    /// A stable code in words, such as `length-ambiguous`.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub help: String,
}

/// A fault of that code.
pub fn fault(code: &'static str, message: impl Into<String>, help: impl Into<String>) -> ReadFault {
    ReadFault { code, message: message.into(), help: help.into() }
}

/// A fault of a text that is no length.
pub fn unreadable(message: impl Into<String>) -> ReadFault {
    fault("length-unreadable", message, "write a length such as \"9ft 1/2in\", \"108 1/2in\" or \"2750mm\"")
}

/// The longest length that is read at all; what is plausible is judged later.
const LIMIT: Length = Length::mm(10_000_000);

/// Reads a length. `bare` is the unit of a figure that has none; `None` refuses such a figure.
///
/// ```
/// use clothwright::units::{Length, Unit, read_length};
/// assert_eq!(read_length("9' 0 1/2\"", None), Ok(Length::inch_64ths(108 * 64 + 32)));
/// assert_eq!(read_length("2.75 m", None), Ok(Length::mm(2750)));
/// assert_eq!(read_length("54", Some(Unit::Inch)), Ok(Length::inches(54)));
/// assert!(read_length("9' 6", None).is_err());
/// ```
///
/// # Errors
/// A [`ReadFault`] with one of the codes `length-unreadable`, `length-ambiguous`, `length-inexact`,
/// `length-without-unit` and `length-too-large`.
pub fn read_length(text: &str, bare: Option<Unit>) -> Result<Length, ReadFault> {
    let (negative, tokens) = tokens(text)?;
    let parts = parts(text, &tokens)?;
    let parts = with_units(text, &parts, bare)?;
    in_order(text, &parts)?;
    let mut total: i128 = 0;
    for (figure, unit) in &parts {
        total += nanometres(text, figure, *unit)?;
    }
    if total > i128::from(LIMIT.nm()) {
        return Err(fault(
            "length-too-large",
            format!("{text} is longer than 10 km"),
            "check the figure and its unit",
        ));
    }
    let nm = total as i64;
    Ok(Length::nanometres(if negative { -nm } else { nm }))
}

/// A figure: a whole part, a decimal part as digits, and a fraction.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Figure {
    whole: i128,
    decimals: String,
    fraction: Option<(i128, i128)>,
}

impl Figure {
    fn is_whole(&self) -> bool {
        self.decimals.is_empty() && self.fraction.is_none()
    }

    /// As it would be typed.
    fn typed(&self) -> String {
        match (&self.fraction, self.decimals.as_str()) {
            (Some((n, d)), _) if self.whole == 0 => format!("{n}/{d}"),
            (Some((n, d)), _) => format!("{} {n}/{d}", self.whole),
            (None, "") => self.whole.to_string(),
            (None, decimals) => format!("{}.{decimals}", self.whole),
        }
    }
}

/// Gathers tokens into figures with perhaps a unit each.
fn parts(text: &str, tokens: &[Token]) -> Result<Vec<(Figure, Option<Unit>)>, ReadFault> {
    let mut parts = Vec::new();
    let mut rest = tokens;
    loop {
        while let [Token::Space, more @ ..] = rest {
            rest = more;
        }
        if rest.is_empty() {
            break;
        }
        // `9'-6"`: the dash that drawings put between feet and inches.
        if let ([Token::Dash, more @ ..], Some((_, Some(Unit::Foot)))) = (rest, parts.last()) {
            rest = more;
            continue;
        }
        let (figure, more) = figure(text, rest)?;
        rest = more;
        while let [Token::Space, more @ ..] = rest {
            rest = more;
        }
        let unit = match rest {
            [Token::Unit(unit), more @ ..] => {
                rest = more;
                Some(*unit)
            }
            _ => None,
        };
        parts.push((figure, unit));
    }
    if parts.is_empty() { Err(unreadable("there is no figure here")) } else { Ok(parts) }
}

fn figure<'t>(text: &str, tokens: &'t [Token]) -> Result<(Figure, &'t [Token]), ReadFault> {
    Ok(match tokens {
        [Token::Number(whole, decimals), Token::Fraction(n, d), rest @ ..]
        | [Token::Number(whole, decimals), Token::Space | Token::Dash, Token::Fraction(n, d), rest @ ..] => {
            if !decimals.is_empty() {
                return Err(unreadable("a figure has either decimals or a fraction"));
            }
            (Figure { whole: *whole, decimals: String::new(), fraction: Some((*n, *d)) }, rest)
        }
        [Token::Number(whole, decimals), rest @ ..] => {
            (Figure { whole: *whole, decimals: decimals.clone(), fraction: None }, rest)
        }
        [Token::Fraction(n, d), rest @ ..] => {
            (Figure { whole: 0, decimals: String::new(), fraction: Some((*n, *d)) }, rest)
        }
        [Token::Unit(unit), ..] => {
            return Err(unreadable(format!("{} has no figure before it", unit.word())));
        }
        _ => {
            return Err(fault(
                "length-ambiguous",
                format!("the dash in {text} may join feet and inches or name a range"),
                "write units, such as \"9ft 6in\", and one length only",
            ));
        }
    })
}

/// Gives every figure its unit.
fn with_units<'p>(
    text: &str,
    parts: &'p [(Figure, Option<Unit>)],
    bare: Option<Unit>,
) -> Result<Vec<(&'p Figure, Unit)>, ReadFault> {
    if let [(figure, None)] = parts {
        let unit = bare.ok_or_else(|| {
            let figure = figure.typed();
            fault(
                "length-without-unit",
                format!("{figure} has no unit, and the file declares none"),
                format!(
                    "write \"{figure}in\" or \"{figure}mm\", or start the file with units in or units mm"
                ),
            )
        })?;
        return Ok(vec![(figure, unit)]);
    }
    let mut out: Vec<(&Figure, Unit)> = Vec::new();
    for (figure, unit) in parts {
        let Some(unit) = unit else {
            let typed = figure.typed();
            let mixed = figure.whole > 0 && figure.fraction.is_some();
            let (one, other) = match out.last() {
                // `9ft 6 1/2`: nobody writes feet and a half behind feet.
                Some((before, Unit::Foot)) if mixed => {
                    return Err(fault(
                        "length-ambiguous",
                        format!("{typed} has no unit in {}", clipped(text)),
                        format!("write \"{}ft {typed}in\"", before.typed()),
                    ));
                }
                Some((before, Unit::Foot)) => {
                    let before = before.typed();
                    let joint = if figure.is_whole() { "." } else { " " };
                    (format!("{before}ft {typed}in"), format!("{before}{joint}{typed}ft"))
                }
                _ => (format!("{typed}in"), format!("{typed}mm")),
            };
            return Err(fault(
                "length-ambiguous",
                format!("{typed} has no unit in {}: it may be {one} or {other}", clipped(text)),
                format!("write \"{one}\" or \"{other}\""),
            ));
        };
        out.push((figure, *unit));
    }
    Ok(out)
}

/// Larger units first, one system, and only the last figure broken.
fn in_order(text: &str, parts: &[(&Figure, Unit)]) -> Result<(), ReadFault> {
    for pair in parts.windows(2) {
        let ((figure, unit), (next, smaller)) = (&pair[0], &pair[1]);
        if unit.metric() != smaller.metric() {
            return Err(unreadable(format!("{} and {} belong to two systems", unit.word(), smaller.word())));
        }
        if unit.length() <= smaller.length() {
            return Err(unreadable(format!(
                "{} cannot stand before {}: larger units come first",
                unit.word(),
                smaller.word()
            )));
        }
        if !figure.is_whole() {
            return Err(unreadable(format!("only the last figure of {} may be broken", clipped(text))));
        }
        let ratio = i128::from(unit.length().nm() / smaller.length().nm());
        if next.whole >= ratio {
            let carried = figure.whole + next.whole / ratio;
            let left = Figure { whole: next.whole % ratio, ..(*next).clone() }.typed();
            let (u, s) = (unit.word(), smaller.word());
            return Err(fault(
                "length-ambiguous",
                format!(
                    "{} {s} is more than a whole {u}: it may be {carried} {u} {left} {s}, or a slip",
                    next.typed()
                ),
                format!("write \"{carried}{u} {left}{s}\" if that is meant"),
            ));
        }
    }
    Ok(())
}

fn nanometres(text: &str, figure: &Figure, unit: Unit) -> Result<i128, ReadFault> {
    let one = i128::from(unit.length().nm());
    let mut nm = figure.whole * one;
    if !figure.decimals.is_empty() {
        let decimals = figure.decimals.trim_end_matches('0');
        let places = 10i128.checked_pow(decimals.len().min(38) as u32).filter(|_| decimals.len() <= 12);
        let exact = places.filter(|p| (small(text, decimals).unwrap_or(1) * one) % p == 0);
        let Some(places) = exact else {
            return Err(fault(
                "length-inexact",
                format!("{} {} is finer than a nanometre", clipped(&figure.typed()), unit.word()),
                "give fewer decimals, or a fraction down to 1/64",
            ));
        };
        nm += small(text, decimals)? * one / places;
    }
    if let Some((n, d)) = figure.fraction {
        if unit.metric() {
            return Err(fault(
                "length-inexact",
                format!("fractions are for feet and inches, not for {}", unit.word()),
                "write decimals, such as \"2.5cm\"",
            ));
        }
        if ![2, 4, 8, 16, 32, 64].contains(&d) {
            return Err(fault(
                "length-inexact",
                format!("{n}/{d} is on no tape: fractions are halves down to 64ths"),
                nearest_64th(n, d),
            ));
        }
        nm += n * one / d;
    }
    Ok(nm)
}

fn nearest_64th(n: i128, d: i128) -> String {
    let (mut up, mut down) = ((n * 128 + d) / (2 * d), 64);
    if up == 0 || up == 64 {
        return "round it to a whole figure".to_owned();
    }
    while up % 2 == 0 {
        up /= 2;
        down /= 2;
    }
    format!("the nearest is {up}/{down}")
}

/// Reads an angle in degrees: `90`, `87.5`, `90°`, `135 deg`; exact to a microdegree.
///
/// # Errors
/// A [`ReadFault`] with the code `angle-unreadable`.
pub fn read_angle(text: &str) -> Result<Angle, ReadFault> {
    let bare = text.trim().trim_end_matches('°').trim_end_matches("deg").trim_end();
    let (whole, decimals) = bare.split_once('.').unwrap_or((bare, "0"));
    let digits =
        |s: &str, most: usize| !s.is_empty() && s.len() <= most && s.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole, 3) || !digits(decimals, 6) {
        return Err(fault(
            "angle-unreadable",
            format!("{} is not an angle", clipped(text)),
            "write degrees, such as 90 or \"87.5\"",
        ));
    }
    let number = |s: &str| s.bytes().fold(0i64, |n, b| n * 10 + i64::from(b - b'0'));
    Ok(Angle::microdegrees(number(whole) * 1_000_000 + number(&format!("{decimals:0<6}"))))
}
