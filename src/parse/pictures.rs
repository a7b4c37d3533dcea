//! The pictures that cloths name: fetched, decoded, and kept by the place of their path.

use super::model::{Node, ParsedJob};
use super::shared::{Reader, joined};
use crate::picture::{self, Picture};
use crate::source::Span;

/// The lines of a file that name pictures.
pub fn lines(job: &ParsedJob) -> impl Iterator<Item = &Node> {
    let cloths = job.nodes.iter().filter(|node| node.spec.name == "cloth");
    cloths.filter_map(|cloth| cloth.child("picture"))
}

impl Reader<'_> {
    /// Adds to `job`, read from `path`, the pictures that its own lines name.
    pub(super) fn pictures(&mut self, job: &mut ParsedJob, path: &str) {
        let named: Vec<(String, Span)> =
            lines(job).filter_map(|node| node.arg(0).ok()).map(|path| (path.value, path.span)).collect();
        for (wish, span) in named {
            if let Some(picture) = self.picture(path, &wish, span) {
                job.pictures.insert(span, picture);
            }
        }
    }

    fn picture(&mut self, path: &str, wish: &str, span: Span) -> Option<Picture> {
        let Some(target) = joined(path, wish) else {
            let help = "write it from this file's own folder, with / between its parts";
            self.tell("picture-outside", span, format!("{wish} is not a path beside this file"), help);
            return None;
        };
        let codes = ["picture-missing", "picture-outside", "picture-unreadable"];
        let bytes = self.bytes(&target, picture::MOST_BYTES, wish, span, codes)?;
        let picture = Picture::read(&bytes);
        if let Err(fault) = &picture {
            let help = "save one repeat of the pattern as a PNG of at most 2000 pixels each way";
            self.tell("picture-unreadable", span, format!("{wish} cannot be used: {fault}"), help);
        }
        picture.ok()
    }
}
