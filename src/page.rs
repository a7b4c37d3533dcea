//! A page for a terminal: a head, and paragraphs with a label before them.

/// The width of the labels at the left.
const LABEL: usize = 10;

/// A page being written.
#[derive(Clone, Debug)]
pub struct Page {
    text: String,
    width: Option<usize>,
}

impl Page {
    /// A page whose lines are broken at a width, or left whole.
    pub const fn new(width: Option<usize>) -> Self {
        Page { text: String::new(), width }
    }

    /// A line by itself, and an empty one after it.
    pub fn head(&mut self, line: &str) {
        self.text.push_str(&plain(line));
        self.text.push_str("\n\n");
    }

    /// An empty line.
    pub fn space(&mut self) {
        self.text.push('\n');
    }

    /// A paragraph behind its label, which may be empty.
    pub fn fact(&mut self, label: &str, text: &str) {
        let first = format!("{label:<LABEL$}");
        let text = plain(text);
        match self.width {
            None => self.text.push_str(&format!("{first}{text}")),
            Some(width) => {
                let indent = " ".repeat(LABEL);
                let options = textwrap::Options::new(width).initial_indent(&first).subsequent_indent(&indent);
                self.text.push_str(&textwrap::fill(&text, options));
            }
        }
        self.text.push('\n');
    }

    /// What was written.
    pub fn text(self) -> String {
        self.text
    }
}

/// What a job file says must not move the cursor or change the colours of a terminal.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).collect()
}
