//! A [`crate::plan::model::Plan`] to [`model::SheetSet`]s: paper, pens, text, scales, tables.

pub mod model;
