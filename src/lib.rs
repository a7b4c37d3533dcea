//! Cutting plans and sheets for rooms upholstered in pattern-matched cloth.
//!
//! Text goes in at the top and falls through five rooms to paper; every arrow points down.
//!
//! ```text
//! job text -- parse --> ParsedJob -- check --> Job -- plan --> Plan -- compose --> SheetSet -- export --> PDF, SVG
//!                 |                    |                        +-------------------- export --> CSV, JSON
//!                 +------- Diags ------+
//! ```
//!
//! The five stages of one job:
//!
//! ```
//! use clothwright::diag::Diags;
//! use clothwright::sheet::model::Reader;
//! use clothwright::source::Sources;
//! use clothwright::{export, job, parse, plan, sheet};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let text = r#"
//!     units in
//!     job "J-001" title="Headboard wall"
//!     cloth "oat linen" { width 54; }
//!     room "bedroom" {
//!         corner A free
//!         wall 1 { width "11ft 4in"; height "8ft 1/2in"; }
//!         corner B free
//!     }
//! "#;
//!
//! // Text to nodes, each with its place in the file.
//! let mut sources = Sources::default();
//! let file = sources.add("headboard.kdl", text);
//! let mut diags = Diags::default();
//! let parsed = parse::parse(text, file, &mut diags).ok_or("not a job file")?;
//!
//! // Nodes to a job that is proven, with every default filled in and listed.
//! let (job, _places) = job::check(&parsed, &mut diags).ok_or("the job has problems")?;
//! assert!(!job.assumptions.is_empty());
//!
//! // The job to a plan: every piece of cloth, where it hangs and where it is cut.
//! let plan = plan::make(job).map_err(|fault| fault.message)?;
//! assert_eq!(plan.cloths[0].widths, 3);
//!
//! // The plan to sheets for a reader: marks at fixed places on paper.
//! let sets = sheet::compose(&plan, None, &[Reader::Crew]).map_err(|fault| fault.message)?;
//!
//! // The sheets to files.
//! let pdf = export::pdf::write(&sets[0])?;
//! assert!(pdf.starts_with(b"%PDF-"));
//! assert_eq!(export::svg::write(&sets[0])?.len(), sets[0].sheets.len());
//! # Ok(())
//! # }
//! ```
//!
//! [`binder`] makes all files of a run and writes them all or nothing; [`report`] shows what
//! [`diag`] holds. Lengths are whole nanometres everywhere: see [`units`].

pub mod binder;
pub mod diag;
pub mod export;
pub mod font;
pub mod geom;
pub mod job;
pub mod money;
pub mod page;
pub mod parse;
pub mod picture;
pub mod plan;
pub mod report;
pub mod share;
pub mod sheet;
pub mod source;
pub mod units;
pub mod unseen;
