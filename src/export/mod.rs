//! Sheets and plans to bytes: one file format per file.
