//! Tables read back: rows by their number, cells by the head of their column; and the checklist.

use crate::svg::{Sheet, Text};
use crate::written::Binder;

/// Two places in a file that are one.
const SAME: f64 = 0.02;

/// A row of a table.
pub struct Row<'a> {
    pub number: u64,
    /// The heads of the table, left to right, on their last line.
    heads: Vec<&'a Text>,
    /// The first line of every cell, left to right.
    line: Vec<&'a Text>,
}

impl Row<'_> {
    /// The first line of the cell under the head that ends in `head`; a cell lies under the head that it
    /// overlaps or that begins where it begins.
    pub fn cell(&self, head: &str) -> String {
        let at = self.heads.iter().position(|text| text.words.ends_with(head));
        let head = self.heads[at.unwrap_or_else(|| panic!("no head “{head}”"))];
        let next = self.heads.get(at.unwrap_or_default() + 1);
        let meets = |text: &&&Text| {
            let starts = (text.start.0 - head.start.0).abs() < SAME;
            let over = text.area[0] < head.area[2] && text.area[2] > head.area[0];
            starts || over && next.is_none_or(|next| (text.start.0 - next.start.0).abs() > SAME)
        };
        self.line.iter().find(meets).map_or(String::new(), |text| text.words.clone())
    }
}

/// The rows of the tables on a sheet whose first head is `first`, which stands over whole numbers.
pub fn rows<'a>(sheet: &'a Sheet, first: &str) -> Vec<Row<'a>> {
    let mut rows = Vec::new();
    let mut heads: Vec<&Text> = sheet.texts.iter().filter(|text| text.words == first).collect();
    heads.sort_by(|a, b| a.start.0.total_cmp(&b.start.0).then(a.start.1.total_cmp(&b.start.1)));
    let numbers = |head: &Text| -> Vec<(u64, &'a Text)> {
        let edge = |text: &Text| (text.area[2] - head.area[2]).abs() < 0.1;
        let below = |text: &Text| edge(text) && text.start.1 > head.start.1 + 1.0;
        let next = heads.iter().filter(|other| below(other)).map(|other| other.start.1);
        let end = next.fold(f64::INFINITY, f64::min);
        let own = sheet.texts.iter().filter(|text| below(text) && text.start.1 < end - 1.0);
        own.filter_map(|text| Some((text.words.parse().ok()?, text))).collect()
    };
    for head in &heads {
        // At a height where another table stands beside it, the table ends where that one begins.
        let across = |y: f64| -> Vec<&Text> {
            let stands_at = |other: &Text| {
                let last = numbers(other).last().map_or(other.start.1, |(_, text)| text.start.1);
                other.area[0] > head.area[2] + 1.0 && other.start.1 - 1.0 <= y && y <= last + 1.0
            };
            let beside = heads.iter().filter(|other| stands_at(other)).map(|other| other.area[0]);
            let end = beside.fold(f64::INFINITY, f64::min) - 1.0;
            let on_line = |text: &&Text| {
                (text.start.1 - y).abs() < SAME && text.area[0] > head.area[0] - 5.0 && text.area[2] < end
            };
            let mut line: Vec<&Text> = sheet.texts.iter().filter(on_line).collect();
            line.sort_by(|a, b| a.start.0.total_cmp(&b.start.0));
            line
        };
        for (number, text) in numbers(head) {
            rows.push(Row { number, heads: across(head.start.1), line: across(text.start.1) });
        }
    }
    rows
}

/// Every step of the plan has one row in the checklist, in order, and every word of it is there.
pub fn every_step_is_in_the_checklist_once(binder: &Binder) {
    let mut listed = Vec::new();
    let mut words = String::new();
    for sheet in binder.of("crew").filter(|sheet| sheet.file.contains("-checklist")) {
        listed.extend(rows(sheet, "Step").iter().map(|row| row.number));
        for text in &sheet.texts {
            words.push_str(&text.words);
            words.push(' ');
        }
    }
    let steps = binder.list("steps");
    let planned: Vec<u64> = steps.iter().map(|step| step["number"].as_u64().expect("a number")).collect();
    assert_eq!(listed, planned, "{}: steps of the checklist", binder.name);
    for step in steps {
        let text = step["text"].as_str().expect("words");
        let missing = text.split_whitespace().find(|word| !words.contains(word));
        assert_eq!(missing, None, "{}: a word of “{text}” is not on the checklist", binder.name);
    }
}
