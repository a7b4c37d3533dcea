//! The lines of a wall that stand any number of times, as tables: a row for each, and rows to fill in.

use super::{Filled, shown};
use crate::parse::Node;
use crate::parse::spec::{Count, Spec};
use crate::parse::table::within;
use crate::units::LengthFormat;

/// A table of lines that have the same properties.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct List {
    /// The names that its lines can have.
    pub names: Vec<&'static str>,
    /// What stands in its columns after the line's name; properties as in the job file.
    pub columns: Vec<&'static str>,
    /// What a file says already: a line's name, then its values.
    pub rows: Vec<Vec<Filled>>,
    /// How many rows are to be filled in.
    pub blank: usize,
}

/// Kinds of line that are listed together: those that differ in a property or two.
struct Group {
    /// A property that these have, and no labelled line of a group before.
    told_by: &'static str,
    blank: usize,
}

/// Boxes are told by their height above the floor, openings by their own height.
const GROUPS: [Group; 2] =
    [Group { told_by: "above-floor", blank: 6 }, Group { told_by: "height", blank: 4 }];
/// Rows for whatever else a wall may have.
const OTHER_BLANK: usize = 1;

/// The lists of a wall, in the order of the language table.
pub fn of_wall(node: Option<&Node>, print: Option<LengthFormat>) -> Vec<List> {
    let mut lists: Vec<(usize, List)> = Vec::new();
    for spec in within("wall").filter(|spec| spec.count == Count::Any) {
        let has = |name: &str| spec.props.iter().any(|field| field.name == name);
        let labelled = spec.args.iter().any(|field| field.name == "label");
        let group = GROUPS.iter().position(|group| labelled && has(group.told_by)).unwrap_or(GROUPS.len());
        let alike = lists
            .iter_mut()
            .find(|(known, list)| *known == group && (group < GROUPS.len() || list.columns == columns(spec)));
        match alike {
            Some((_, list)) => {
                list.names.push(spec.name);
                let more: Vec<&str> =
                    columns(spec).into_iter().filter(|name| !list.columns.contains(name)).collect();
                list.columns.extend(more);
            }
            None => {
                let blank = GROUPS.get(group).map_or(OTHER_BLANK, |group| group.blank);
                let (names, columns) = (vec![spec.name], columns(spec));
                lists.push((group, List { names, columns, rows: Vec::new(), blank }));
            }
        }
    }
    for (_, list) in &mut lists {
        let lines = node.iter().flat_map(|node| &node.children);
        let these = lines.filter(|line| list.names.contains(&line.spec.name));
        list.rows = these.map(|line| row(line, &list.columns, print)).collect();
    }
    lists.into_iter().map(|(_, list)| list).collect()
}

/// The names of a line's arguments and properties.
fn columns(spec: &Spec) -> Vec<&'static str> {
    spec.args.iter().chain(spec.props).map(|field| field.name).collect()
}

fn row(line: &Node, columns: &[&'static str], print: Option<LengthFormat>) -> Vec<Filled> {
    let filled = |column: &&'static str| {
        let argument = line.spec.args.iter().position(|field| field.name == *column);
        let value = match argument {
            Some(index) => line.args.get(index),
            None => line.props.iter().find(|(name, _)| name == column).map(|(_, value)| value),
        };
        let mut fields = line.spec.args.iter().chain(line.spec.props);
        let required = fields.any(|field| field.name == *column && field.required);
        let value = value.map_or_else(String::new, |value| shown(&value.value, print));
        Filled { caption: (*column).to_owned(), missing: required && value.is_empty(), value }
    };
    let name = Filled { caption: "Line".to_owned(), value: line.spec.name.to_owned(), missing: false };
    std::iter::once(name).chain(columns.iter().map(filled)).collect()
}
