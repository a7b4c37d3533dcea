//! Cutting plans and sheets for rooms upholstered in pattern-matched cloth.
//!
//! Text goes in at the top and falls through five rooms to paper; every arrow points down.
//!
//! ```text
//! job text -- parse --> ParsedJob -- check --> Job -- plan --> Plan -- compose --> SheetSet -- export --> PDF, SVG
//!                 |                    |                        +-------------------- export --> CSV, JSON
//!                 +------- Diags ------+
//! ```

pub mod binder;
pub mod diag;
pub mod export;
pub mod font;
pub mod geom;
pub mod job;
pub mod parse;
pub mod plan;
pub mod report;
pub mod sheet;
pub mod source;
pub mod units;
