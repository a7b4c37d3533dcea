//! Reading lengths as people write them, exactly.
//!
//! `9ft 1/2in`, `9' 0 1/2"`, `108 1/2in`, `9′ 0½″`, `1-1/2 in`, `2.75 m`, `1375mm`, `54` (in a declared
//! unit). Whatever has two readings is refused and both are named; whatever is not a whole number
//! of nanometres is refused.

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

fn fault(code: &'static str, message: impl Into<String>, help: impl Into<String>) -> ReadFault {
    ReadFault { code, message: message.into(), help: help.into() }
}

fn unreadable(message: impl Into<String>) -> ReadFault {
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

#[derive(Clone, Debug, PartialEq, Eq)]
enum Token {
    /// Digits with perhaps decimals.
    Number(i128, String),
    Fraction(i128, i128),
    Unit(Unit),
    Dash,
    Space,
}

/// Cuts the text into tokens, and tells whether a minus sign stood before them.
fn tokens(text: &str) -> Result<(bool, Vec<Token>), ReadFault> {
    let chars: Vec<char> = text.trim_matches(is_space).chars().collect();
    let (negative, mut i) = match chars.first() {
        None => return Err(unreadable("there is no length here")),
        Some('-' | '−') => (true, 1),
        Some('+') => (false, 1),
        Some(_) => (false, 0),
    };
    let mut found = Vec::new();
    while let Some(&c) = chars.get(i) {
        if is_space(c) {
            found.push(Token::Space);
            i += 1;
        } else if c.is_ascii_digit() || c == '.' {
            i = number(text, &chars, i, &mut found)?;
        } else if let Some(value) = small_figure(c, RAISED) {
            i = raised_fraction(&chars, i, value, &mut found)?;
        } else if let Some((n, d)) = fraction_sign(c) {
            found.push(Token::Fraction(n, d));
            i += 1;
        } else if matches!(c, '\'' | '′' | '’') {
            let doubled = chars.get(i + 1) == Some(&c);
            found.push(Token::Unit(if doubled { Unit::Inch } else { Unit::Foot }));
            i += if doubled { 2 } else { 1 };
        } else if matches!(c, '"' | '″' | '”') {
            found.push(Token::Unit(Unit::Inch));
            i += 1;
        } else if matches!(c, '-' | '–' | '‑') {
            found.push(Token::Dash);
            i += 1;
        } else if c == ',' {
            return Err(comma(text));
        } else if c.is_alphabetic() {
            let word: String = chars[i..].iter().take_while(|c| c.is_alphabetic()).collect();
            i += word.chars().count();
            let unit = Unit::from_word(&word).ok_or_else(|| {
                let message = format!("{} is not a unit of length", clipped(&word));
                fault(
                    "length-unreadable",
                    message,
                    "the units are ft, in, yd, mm, cm and m; ' stands for feet and \" for inches",
                )
            })?;
            found.push(Token::Unit(unit));
            // An abbreviation may carry its full stop: `9 ft. 6 in.`
            if chars.get(i) == Some(&'.') && !chars.get(i + 1).is_some_and(char::is_ascii_digit) {
                i += 1;
            }
        } else {
            return Err(unreadable(format!("{} has no place in a length", shown(c))));
        }
    }
    Ok((negative, found))
}

/// A character as a message shows it: itself, or its code when it cannot be seen.
fn shown(c: char) -> String {
    if c.is_control() { format!("the character U+{:04X}", c as u32) } else { format!("“{c}”") }
}

fn is_space(c: char) -> bool {
    c.is_whitespace()
}

fn comma(text: &str) -> ReadFault {
    fault(
        "length-ambiguous",
        format!("the comma in {text} may part thousands or decimals"),
        format!(
            "write {} for thousands, or {} for decimals",
            text.trim().replace(',', ""),
            text.trim().replace(',', ".")
        ),
    )
}

/// Reads `12`, `12.5`, `.5` or `1/2` from `chars[i]`; returns the place after it.
fn number(text: &str, chars: &[char], start: usize, found: &mut Vec<Token>) -> Result<usize, ReadFault> {
    let mut i = start;
    let digits = |i: &mut usize| {
        let from = *i;
        while chars.get(*i).is_some_and(char::is_ascii_digit) {
            *i += 1;
        }
        chars[from..*i].iter().collect::<String>()
    };
    let whole = digits(&mut i);
    let mut decimals = String::new();
    if chars.get(i) == Some(&'.') {
        i += 1;
        decimals = digits(&mut i);
        if decimals.is_empty() {
            return Err(unreadable("a decimal point needs figures after it"));
        }
    } else if matches!(chars.get(i), Some('/' | '⁄')) {
        i += 1;
        let below = digits(&mut i);
        let (n, d) = (small(text, &whole)?, small(text, &below)?);
        if below.is_empty() || d == 0 {
            return Err(unreadable("a fraction needs a figure under its bar"));
        }
        let after_whole = matches!(found.as_slice(), [.., Token::Number(..), Token::Space | Token::Dash]);
        if n >= d && whole.len() > 1 && !after_whole {
            let (first, rest) = whole.split_at(whole.len() - below.len().min(whole.len() - 1));
            return Err(fault(
                "length-ambiguous",
                format!("{whole}/{below} may be {first} {rest}/{below} or the fraction {}/{d}", n),
                format!(
                    "write \"{first} {rest}/{below}\" with a space, or a whole number and a fraction less than one"
                ),
            ));
        }
        if n >= d {
            return Err(unreadable(format!("{n}/{d} is not less than one")));
        }
        found.push(Token::Fraction(n, d));
        return Ok(i);
    }
    found.push(Token::Number(small(text, &whole)?, decimals));
    Ok(i)
}

/// At most twelve digits, so that no product can overflow.
fn small(text: &str, digits: &str) -> Result<i128, ReadFault> {
    if digits.len() > 12 {
        return Err(fault(
            "length-too-large",
            format!("{} has too many figures", clipped(text)),
            "check the figure and its unit",
        ));
    }
    Ok(digits.bytes().fold(0, |n, b| n * 10 + i128::from(b - b'0')))
}

/// The first characters of a text that may be long.
fn clipped(text: &str) -> String {
    match text.char_indices().nth(24) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_owned(),
    }
}

const RAISED: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const LOWERED: &str = "₀₁₂₃₄₅₆₇₈₉";

fn small_figure(c: char, figures: &str) -> Option<i128> {
    figures.chars().position(|f| f == c).map(|n| n as i128)
}

/// `⁵⁄₁₆`, as sheets print it.
fn raised_fraction(
    chars: &[char],
    start: usize,
    first: i128,
    found: &mut Vec<Token>,
) -> Result<usize, ReadFault> {
    let mut i = start + 1;
    let (mut n, mut d) = (first, 0);
    while let Some(figure) = chars.get(i).and_then(|&c| small_figure(c, RAISED)).filter(|_| n < 1000) {
        n = n * 10 + figure;
        i += 1;
    }
    if !matches!(chars.get(i), Some('⁄' | '/')) {
        return Err(unreadable("raised figures need a fraction bar after them"));
    }
    i += 1;
    while let Some(figure) = chars.get(i).and_then(|&c| small_figure(c, LOWERED)).filter(|_| d < 1000) {
        d = d * 10 + figure;
        i += 1;
    }
    if d == 0 || n >= d {
        return Err(unreadable("the fraction is not less than one"));
    }
    found.push(Token::Fraction(n, d));
    Ok(i)
}

fn fraction_sign(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        _ => return None,
    })
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
            let (one, other) = match out.last() {
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
