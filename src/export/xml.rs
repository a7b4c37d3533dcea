//! XML text, put together as it is written: a tree of nodes would hold a sheet a second time, in many
//! times the memory.

/// XML elements that follow one another, growing at their end.
pub struct Xml {
    text: String,
    open: Vec<Open>,
}

/// An element that has not ended.
struct Open {
    name: &'static str,
    /// Whether its start tag has ended, because it holds something.
    holds: bool,
}

/// What an attribute can say: it puts itself at the end of a text, escaped.
pub trait Value {
    /// Puts the value at the end of `text`.
    fn put(&self, text: &mut String);
}

impl Value for &str {
    fn put(&self, text: &mut String) {
        put_escaped(self, true, text);
    }
}

impl<F: Fn(&mut String)> Value for F {
    fn put(&self, text: &mut String) {
        self(text);
    }
}

impl Xml {
    /// Elements, none yet, that will have about so many bytes.
    pub fn of_about(bytes: usize) -> Xml {
        Xml { text: String::with_capacity(bytes), open: Vec::new() }
    }

    /// Begins an element within the one that is open, on a line of its own.
    pub fn begin(&mut self, name: &'static str) -> &mut Xml {
        self.end_tag();
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push('<');
        self.text.push_str(name);
        self.open.push(Open { name, holds: false });
        self
    }

    /// Gives the element that was just begun an attribute.
    pub fn set(&mut self, name: &str, value: impl Value) -> &mut Xml {
        self.text.push(' ');
        self.text.push_str(name);
        self.text.push_str("=\"");
        value.put(&mut self.text);
        self.text.push('"');
        self
    }

    /// Text in the open element, without blanks round it.
    pub fn text(&mut self, text: &str) -> &mut Xml {
        self.end_tag();
        put_escaped(text, false, &mut self.text);
        self
    }

    /// Text in the open element, on lines of its own.
    pub fn lines(&mut self, text: &str) -> &mut Xml {
        self.end_tag();
        self.text.push('\n');
        put_escaped(text, false, &mut self.text);
        self.text.push('\n');
        self
    }

    /// Ends the open element right behind what it holds.
    pub fn end(&mut self) {
        let Some(open) = self.open.pop() else { return };
        if open.holds {
            self.text.push_str("</");
            self.text.push_str(open.name);
            self.text.push('>');
        } else {
            self.text.push_str("/>");
        }
    }

    /// Ends the open element of elements, on a line of its own if it holds any.
    pub fn end_of_elements(&mut self) {
        if self.open.last().is_some_and(|open| open.holds) {
            self.text.push('\n');
        }
        self.end();
    }

    /// All elements.
    pub fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.end_of_elements();
        }
        self.text
    }

    fn end_tag(&mut self) {
        if let Some(open) = self.open.last_mut()
            && !std::mem::replace(&mut open.holds, true)
        {
            self.text.push('>');
        }
    }
}

/// Text for an element.
pub fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    put_escaped(text, false, &mut escaped);
    escaped
}

/// Text without the characters that XML 1.0 forbids, not escaped.
pub fn safe(text: &str) -> String {
    text.chars().filter(|c| !c.is_control() && !matches!(c, '\u{fffe}'..='\u{ffff}')).collect()
}

/// Puts text at the end of another, without the characters that XML 1.0 forbids. Quotes need escaping in
/// attributes alone.
fn put_escaped(text: &str, quotes: bool, into: &mut String) {
    let mut from = 0;
    for (at, character) in text.char_indices() {
        let instead = match character {
            '&' => "&amp;",
            '<' => "&lt;",
            '>' => "&gt;",
            '"' if quotes => "&quot;",
            '\'' if quotes => "&apos;",
            '\u{fffe}'..='\u{ffff}' => "",
            _ if character.is_control() => "",
            _ => continue,
        };
        into.push_str(&text[from..at]);
        into.push_str(instead);
        from = at + character.len_utf8();
    }
    into.push_str(&text[from..]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn elements_end_where_they_should_and_text_is_escaped() {
        let mut xml = Xml::of_about(0);
        xml.begin("svg").set("say", "\"it's\" < & >");
        xml.begin("g").end_of_elements();
        xml.begin("g").begin("title").text("<a\u{7}&b> \"it's\"\u{ffff}").end();
        xml.begin("rect").set("x", |text: &mut String| text.push('7')).end();
        xml.end_of_elements();
        xml.begin("text").lines("1 < 2").end();
        let expected = [
            "<svg say=\"&quot;it&apos;s&quot; &lt; &amp; &gt;\">",
            "<g/>",
            "<g>",
            "<title>&lt;a&amp;b&gt; \"it's\"</title>",
            "<rect x=\"7\"/>",
            "</g>",
            "<text>",
            "1 &lt; 2",
            "</text>",
            "</svg>",
        ];
        assert_eq!(xml.finish(), expected.join("\n"));
    }
}
