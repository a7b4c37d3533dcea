//! Where a value was written: files, byte spans and spanned values.

use std::sync::Arc;

/// A number for one of the files of a run, in the order they were read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A file as it was read.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// The name to show in messages, as the user gave it.
    pub name: String,
    /// The whole text, byte for byte.
    pub text: Arc<str>,
}

/// The files of one run.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
}

impl Sources {
    /// Adds a file and returns its number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<Arc<str>>) -> FileId {
        self.files.push(SourceFile { name: name.into(), text: text.into() });
        FileId(self.files.len() as u32 - 1)
    }

    /// The file of that number, if this run read it.
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }
}

/// A half-open range of bytes in one file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// A value and the place where it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Its place.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// A value at a place.
    pub const fn new(value: T, span: Span) -> Self {
        Spanned { value, span }
    }
}

/// A place as people count: from 1, columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// The line.
    pub line: usize,
    /// The character on its line.
    pub column: usize,
}

impl SourceFile {
    /// The position of a byte; a byte within a character counts as that character, one past the
    /// end as the end. Lines end with LF, CRLF or CR; a byte order mark has no column.
    pub fn position(&self, byte: usize) -> Position {
        let mut byte = byte.min(self.text.len());
        while !self.text.is_char_boundary(byte) {
            byte -= 1;
        }
        let before = &self.text[..byte];
        let bytes = before.as_bytes();
        let ends_line = |at: usize| match bytes[at] {
            b'\n' => true,
            b'\r' => self.text.as_bytes().get(at + 1) != Some(&b'\n'),
            _ => false,
        };
        let ends = || (0..bytes.len()).filter(|&at| ends_line(at));
        let start = ends().next_back().map_or(0, |at| at + 1);
        let column = before[start..].chars().filter(|&c| c != '\u{feff}').count() + 1;
        Position { line: ends().count() + 1, column }
    }
}
