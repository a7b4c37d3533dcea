//! Shared files: shop standards and cloths that many jobs include.
//!
//! The file that is nearest to the job has the last word: what it says is kept, and an included
//! file adds what it leaves out. The rooms of the program hold no files themselves; a [`Shelf`] hands
//! them over.

use super::model::{Node, ParsedJob};
use super::spec::{Count, FILE, SHARED};
use crate::diag::{Diag, Diags};
use crate::source::{FileId, Sources, Span};

/// Where included files come from.
pub trait Shelf {
    /// The bytes of the file at `path`, which is relative to the job file's folder, with `/` between
    /// its parts and without `.`; it starts with `..` where it leads out of that folder. Of a file
    /// with more than `most` bytes, one more than those.
    ///
    /// # Errors
    /// A [`FetchFault`] that says why it cannot be had.
    fn fetch(&self, path: &str, most: usize) -> Result<Vec<u8>, FetchFault>;
}

/// Why an included file cannot be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FetchFault {
    /// There is no such file.
    Missing,
    /// It lies outside the job file's folder.
    Outside,
    /// It cannot be read, for this reason.
    Unreadable(String),
}

/// How many files one job may include, and how deep.
const MOST_FILES: usize = 64;

/// Reads a job file and all that it includes.
///
/// Every problem goes to `diags`; what could be read is returned. `None` when the job file's text is
/// not KDL at all.
pub fn with_shared(
    sources: &mut Sources,
    file: FileId,
    shelf: &dyn Shelf,
    diags: &mut Diags,
) -> Option<ParsedJob> {
    let source = sources.get(file)?.clone();
    let mut job = super::one(&source.text, file, FILE, diags)?;
    let folder = source.name.rfind('/').map_or("", |at| &source.name[..=at]).to_owned();
    let own = source.name[folder.len()..].to_owned();
    // A file that includes nothing was asked for its own cloth when it was read.
    let shares = includes(&job).next().is_some();
    let mut reader = Reader { folder, shelf, sources, diags, read: vec![own.clone()] };
    reader.pictures(&mut job, &own);
    reader.include(&mut job, &own, std::slice::from_ref(&own));
    let cloths = job.nodes.iter().any(|node| node.spec.name == "cloth");
    if shares && !cloths && !job.partial {
        super::walk::missing(
            super::table::find(FILE, "cloth")?,
            FILE,
            Span { file, start: 0, end: 0 },
            diags,
        );
    }
    Some(job)
}

/// The lines of a file that include others.
pub fn includes(job: &ParsedJob) -> impl Iterator<Item = &Node> {
    job.nodes.iter().filter(|node| node.spec.name == "include")
}

/// Reads what a job names.
pub struct Reader<'r> {
    /// The job file's folder as messages show it, with its last slash.
    folder: String,
    shelf: &'r dyn Shelf,
    sources: &'r mut Sources,
    diags: &'r mut Diags,
    /// Paths that have been read.
    read: Vec<String>,
}

impl Reader<'_> {
    /// Adds to `job`, read from `path`, what the files that it includes say. `open` are the files
    /// that led here.
    fn include(&mut self, job: &mut ParsedJob, path: &str, open: &[String]) {
        let lines: Vec<(String, Span)> = includes(job)
            .filter_map(|node| node.arg::<String>(0).ok().map(|path| (path.value, path.span)))
            .collect();
        for (wish, span) in lines {
            let Some(target) = joined(path, &wish) else {
                self.tell(
                    "include-outside",
                    span,
                    format!("{wish} is not a path beside this file"),
                    "write it from this file's own folder, with / between its parts",
                );
                job.partial = true;
                continue;
            };
            if open.contains(&target) {
                self.tell(
                    "include-loop",
                    span,
                    if target == path {
                        format!("{wish} is this file itself")
                    } else {
                        format!("{wish} includes this file in its turn")
                    },
                    "take the line out",
                );
                continue;
            }
            // A file that two others include is read once.
            if self.read.contains(&target) {
                continue;
            }
            if self.read.len() > MOST_FILES {
                self.tell(
                    "include-unreadable",
                    span,
                    format!("more than {MOST_FILES} files are included"),
                    "gather them into fewer",
                );
                job.partial = true;
                return;
            }
            self.read.push(target.clone());
            match self.fetch(&target, &wish, span) {
                Some(mut shared) => {
                    self.pictures(&mut shared, &target);
                    let mut open = open.to_vec();
                    open.push(target.clone());
                    self.include(&mut shared, &target, &open);
                    merge(job, shared);
                }
                None => job.partial = true,
            }
        }
    }

    fn fetch(&mut self, target: &str, wish: &str, span: Span) -> Option<ParsedJob> {
        let codes = ["include-missing", "include-outside", "include-unreadable"];
        let bytes = self.bytes(target, super::MOST_BYTES, wish, span, codes)?;
        let name = format!("{}{target}", self.folder);
        let file = super::text(&name, &bytes, self.sources, self.diags)?;
        let text = self.sources.get(file)?.text.clone();
        super::one(&text, file, SHARED, self.diags)
    }

    /// The bytes of a file; why they cannot be had is told with one of `codes`, for a file that is
    /// missing, outside or unreadable.
    pub(super) fn bytes(
        &mut self,
        target: &str,
        most: usize,
        wish: &str,
        span: Span,
        codes: [&'static str; 3],
    ) -> Option<Vec<u8>> {
        let fault = match self.shelf.fetch(target, most) {
            Ok(bytes) => return Some(bytes),
            Err(fault) => fault,
        };
        let (code, message, help) = match fault {
            FetchFault::Missing => (
                codes[0],
                format!("there is no file {wish}"),
                "the path starts at this file's folder: check it",
            ),
            FetchFault::Outside => (
                codes[1],
                format!("{wish} lies outside the job's folder"),
                "move the file into the job's folder or one in it, or allow its folder: --shared FOLDER",
            ),
            FetchFault::Unreadable(why) => {
                (codes[2], format!("{wish} cannot be read: {why}"), "mend the file, or take this line out")
            }
        };
        self.tell(code, span, message, help);
        None
    }

    pub(super) fn tell(&mut self, code: &'static str, span: Span, message: String, help: &str) {
        self.diags.push(Diag::error(code, span, message).help(help));
    }
}

/// The path of `wish` as written in the file at `from`; `None` for a path that is not relative.
pub fn joined(from: &str, wish: &str) -> Option<String> {
    if wish.is_empty() || wish.starts_with('/') || wish.contains(['\\', ':']) {
        return None;
    }
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in wish.split('/') {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}

/// Adds to `job` what `shared` says and `job` does not.
fn merge(job: &mut ParsedJob, shared: ParsedJob) {
    job.partial |= shared.partial;
    job.figures.extend(shared.figures);
    job.pictures.extend(shared.pictures);
    for node in shared.nodes {
        let name = node.spec.name;
        let place = |node: &Node| node.arg::<&'static str>(0).ok().map(|word| word.value);
        let same = job.nodes.iter_mut().find(|own| match name {
            "house" | "rates" | "batting" | "prices" => own.spec.name == name,
            "trim" => own.spec.name == name && place(own) == place(&node),
            _ => false,
        });
        match (name, same) {
            ("units" | "include", _) | ("trim", Some(_)) => {}
            (_, None) => job.nodes.push(node),
            (_, Some(own)) => complete(own, node),
        }
    }
}

/// Adds the lines and properties that `own` lacks.
fn complete(own: &mut Node, shared: Node) {
    own.partial |= shared.partial;
    for (key, value) in shared.props {
        if !own.props.iter().any(|(own, _)| *own == key) {
            own.props.push((key, value));
        }
    }
    for child in shared.children {
        if !own.children.iter().any(|line| says_the_same(line, &child)) {
            own.children.push(child);
        }
    }
}

/// Whether two lines answer one question: lines of one name, or, where a name may stand again and
/// again, those that begin with the same word and are `of=` the same.
fn says_the_same(one: &Node, other: &Node) -> bool {
    let first = |node: &Node| node.arg::<&'static str>(0).ok().map(|word| word.value);
    let of = |node: &Node| node.prop::<String>("of").ok().map(|name| name.value);
    one.spec.name == other.spec.name
        && (one.spec.count != Count::Any || (first(one), of(one)) == (first(other), of(other)))
}
