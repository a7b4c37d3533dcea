//! The sheets made of text and tables.

pub mod approval;
pub mod assumptions;
pub mod cautions;
pub mod checklist;
pub mod cover;
pub mod cut_list;
pub mod order;
pub mod schedules;
pub mod sign_off;
