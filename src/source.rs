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

    /// The value changed by `f`, at the same place.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned { value: f(self.value), span: self.span }
    }
}
