//! [`crate::parse`]'s tree to a proven [`model::Job`]: the trade's rules and the house defaults.

pub mod model;
