//! What a row of the language table says.

/// A kind of node: the row of the table that drives reading, messages and the reference.
#[derive(Debug)]
pub struct Spec {
    /// Its name.
    pub name: &'static str,
    /// The nodes it may stand in; [`FILE`] is the file itself.
    pub within: &'static [&'static str],
    /// How many may stand in one parent.
    pub count: Count,
    /// Its arguments, in order.
    pub args: &'static [Field],
    /// Its properties.
    pub props: &'static [Field],
    /// One line on what it says.
    pub doc: &'static str,
}

/// The parent of a node that stands in the file itself.
pub const FILE: &str = "";

/// The parent of a node that stands in a file that others include; nothing has to stand there.
pub const SHARED: &str = "shared";

/// A parent in words.
pub fn place(parent: &str) -> String {
    match parent {
        FILE => "the job file itself".to_owned(),
        SHARED => "a file that is included".to_owned(),
        parent => format!("{parent} {{ }}"),
    }
}

/// How many nodes of a kind may stand in one parent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Count {
    /// Exactly one.
    One,
    /// None or one.
    Maybe,
    /// At least one.
    Some,
    /// Any number.
    Any,
}

/// An argument or a property.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its name; an argument's name is only for messages and the reference.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// Whether it must be there.
    pub required: bool,
    /// A few words on what it says.
    pub doc: &'static str,
}

/// What a value must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A length, `"9ft 1/2in"` or a bare number in the declared unit.
    Length,
    /// A whole number from 0.
    Count,
    /// Free text.
    Text,
    /// A short label: text or a bare number.
    Label,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A date, `"2026-03-31"`.
    Date,
    /// An angle in degrees.
    Angle,
    /// A proper fraction: `"1/2"`, or the words `half` and `straight`.
    Fraction,
    /// A share in per cent, `"2.5%"`.
    Share,
    /// `yes` or `no`.
    Flag,
    /// An amount of money, `84.50`, in a currency told elsewhere.
    Money,
}

impl Kind {
    /// The kind in words, for messages and the reference.
    pub fn words(self) -> String {
        match self {
            Kind::Length => "a length".to_owned(),
            Kind::Count => "a whole number".to_owned(),
            Kind::Text => "text in quotes".to_owned(),
            Kind::Label => "a short label".to_owned(),
            Kind::Word(words) => match words {
                [one] => (*one).to_owned(),
                [most @ .., last] => format!("{} or {last}", most.join(", ")),
                [] => String::new(),
            },
            Kind::Date => "a date such as \"2026-03-31\"".to_owned(),
            Kind::Angle => "an angle in degrees".to_owned(),
            Kind::Fraction => "a fraction such as \"1/3\", or straight or half".to_owned(),
            Kind::Share => "a share such as \"2.5%\"".to_owned(),
            Kind::Flag => "yes or no".to_owned(),
            Kind::Money => "an amount such as 84.50".to_owned(),
        }
    }
}

impl Field {
    /// A value as one would type it.
    pub fn example(&self) -> String {
        match (self.kind, self.name) {
            (Kind::Length, "casing" | "length" | "projection") => "\"4 1/2in\"".to_owned(),
            (Kind::Length, "horizontal" | "vertical" | "shift") => "\"25 1/2in\"".to_owned(),
            (Kind::Length, "loft" | "gap" | "cord") => "\"1/2in\"".to_owned(),
            (Kind::Length, _) => "\"3ft 2in\"".to_owned(),
            (Kind::Count, "year") => "1921".to_owned(),
            (Kind::Count, _) => "2".to_owned(),
            (Kind::Text, name) => format!("\"{name}\""),
            (Kind::Label, name) => name.to_uppercase(),
            (Kind::Word(words), _) => words.join("|"),
            (Kind::Date, _) => "\"2026-03-31\"".to_owned(),
            (Kind::Angle, _) => "87.5".to_owned(),
            (Kind::Fraction, _) => "half".to_owned(),
            (Kind::Share, _) => "\"2.5%\"".to_owned(),
            (Kind::Flag, _) => "yes".to_owned(),
            (Kind::Money, _) => "84.50".to_owned(),
        }
    }
}

impl Spec {
    /// A value of one of its fields as one would type it here.
    fn example(&self, field: &Field) -> String {
        match (self.name, self.within, field.kind) {
            ("width", ["cloth"], Kind::Length) => "\"54in\"".to_owned(),
            ("width", _, Kind::Length) => "\"12ft 3in\"".to_owned(),
            ("height", _, Kind::Length) => "\"8ft 11in\"".to_owned(),
            ("bolt", _, Kind::Length) => "\"60yd\"".to_owned(),
            _ => field.example(),
        }
    }

    /// The whole line, with what may be left out in brackets.
    pub fn usage(&self) -> String {
        let brackets = |field: &Field, shown: String| match field.required {
            true => format!(" {shown}"),
            false => format!(" [{shown}]"),
        };
        let args = self.args.iter().map(|field| brackets(field, self.example(field)));
        let props =
            self.props.iter().map(|field| brackets(field, format!("{}={}", field.name, self.example(field))));
        format!("{}{}", self.name, args.chain(props).collect::<String>())
    }

    /// The shortest line that says something.
    pub fn shortest(&self) -> String {
        let needs = self.args.iter().chain(self.props).any(|field| field.required);
        let args = self.args.iter().take_while(|field| field.required || !needs);
        let args = args.map(|field| format!(" {}", self.example(field)));
        let props = self.props.iter().filter(|field| field.required);
        let props = props.map(|field| format!(" {}={}", field.name, self.example(field)));
        format!("{}{}", self.name, args.chain(props).collect::<String>())
    }
}

/// A required argument or property.
pub const fn must(name: &'static str, kind: Kind, doc: &'static str) -> Field {
    Field { name, kind, required: true, doc }
}

/// An argument or property that may be left out.
pub const fn may(name: &'static str, kind: Kind, doc: &'static str) -> Field {
    Field { name, kind, required: false, doc }
}
