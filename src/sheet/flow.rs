//! Pouring slices of paper into columns and pages: nothing that belongs together is torn apart,
//! table heads are repeated, and no page is left nearly empty.

use std::rc::Rc;

use super::mark::moved;
use super::model::Mark;
use crate::units::Length;

/// A slice of a column that is never split. Its marks are placed from its own top left corner.
#[derive(Clone, Debug)]
pub struct Slab {
    /// How much of the column it takes.
    pub height: Length,
    /// White space above it, dropped at the top of a column.
    pub before: Length,
    /// The marks.
    pub marks: Vec<Mark>,
    /// Whether it stays in one column with the slab that follows.
    pub keep: bool,
    /// What is drawn above it when it starts a column: the head of its table.
    pub head: Option<Rc<Head>>,
}

impl Slab {
    /// A slab without marks' context: no white space, no head, free to part from the next.
    pub fn new(height: Length, marks: Vec<Mark>) -> Self {
        Slab { height, before: Length::ZERO, marks, keep: false, head: None }
    }
}

/// What is repeated at the top of a column.
#[derive(Clone, Debug)]
pub struct Head {
    /// How much of the column it takes.
    pub height: Length,
    /// The marks, from its top left corner.
    pub marks: Vec<Mark>,
}

/// A page: the marks of its columns, each from its own column's top left corner.
pub type Page = Vec<Vec<Mark>>;

/// Pours sections into pages of `columns` columns of `height`.
///
/// A section stays whole where that costs no page. When the last page would be less than a third
/// full, the pages are evened out; the columns of the last page always are.
pub fn pour(sections: Vec<Vec<Slab>>, height: Length, columns: usize) -> Vec<Page> {
    let whole: Vec<usize> = sections.iter().map(Vec::len).collect();
    let slabs: Vec<Slab> = sections.into_iter().flatten().collect();
    if slabs.is_empty() {
        return Vec::new();
    }
    let loose = groups(&slabs, &[]);
    let firm = groups(&slabs, &whole);
    let pages = |groups: &[usize], height| fill(&slabs, groups, height).len().div_ceil(columns);
    let least = pages(&loose, height);
    let groups = if pages(&firm, height) <= least { firm } else { loose };
    let mut cut = fill(&slabs, &groups, height);
    if least > 1 {
        let last = &cut[(least - 1) * columns..];
        let filled: Length = last.iter().map(|&(from, to)| extent(&slabs[from..to])).sum();
        if filled * 3 < height * columns as i64 {
            let even = least_height(height, |h| pages(&groups, h) <= least);
            cut = fill(&slabs, &groups, even);
        }
    }
    let mut result: Vec<Vec<(usize, usize)>> = cut.chunks(columns).map(<[_]>::to_vec).collect();
    if let Some(last) = result.last_mut() {
        *last = balanced(&slabs, &groups, last, height, columns);
    }
    result.into_iter().map(|page| page.into_iter().map(|(a, b)| stacked(&slabs[a..b])).collect()).collect()
}

/// The columns of one page made as short as they can be.
fn balanced(
    slabs: &[Slab],
    groups: &[usize],
    page: &[(usize, usize)],
    height: Length,
    columns: usize,
) -> Vec<(usize, usize)> {
    let (Some(first), Some(last)) = (page.first(), page.last()) else { return page.to_vec() };
    let (from, to) = (first.0, last.1);
    let mut inner = Vec::new();
    let mut at = 0;
    for &size in groups {
        if (from..to).contains(&at) {
            inner.push(size.min(to - at));
        } else if at < from && at + size > from {
            inner.push((at + size).min(to) - from);
        }
        at += size;
    }
    let part = &slabs[from..to];
    let least = least_height(height, |h| fill(part, &inner, h).len() <= columns);
    fill(part, &inner, least).into_iter().map(|(a, b)| (a + from, b + from)).collect()
}

/// The least height, to a tenth of a millimetre, for which `fits` holds; `height` if none less.
fn least_height(height: Length, fits: impl Fn(Length) -> bool) -> Length {
    let step = Length::micrometres(100);
    let (mut low, mut high) = (0, height.div_ceil(step));
    while low + 1 < high {
        let middle = (low + high) / 2;
        if fits(step * middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    (step * high).min(height)
}

/// The sizes of the runs of slabs that stay together; `whole` lists runs that also should.
fn groups(slabs: &[Slab], whole: &[usize]) -> Vec<usize> {
    if !whole.is_empty() {
        return whole.iter().copied().filter(|&size| size > 0).collect();
    }
    let mut groups = Vec::new();
    let mut size = 0;
    for slab in slabs {
        size += 1;
        if !slab.keep {
            groups.push(size);
            size = 0;
        }
    }
    if size > 0 {
        groups.push(size);
    }
    groups
}

/// Fills columns of `height` from the top and returns the slabs of each, as half-open ranges.
///
/// A group taller than a column is parted at its slabs' own bonds, and where even those are too
/// tall, between any two slabs.
fn fill(slabs: &[Slab], groups: &[usize], height: Length) -> Vec<(usize, usize)> {
    let mut columns = Vec::new();
    let (mut start, mut at) = (0, 0);
    for &size in groups {
        let end = at + size;
        if extent(&slabs[start..end]) > height && at > start && extent(&slabs[at..end]) <= height {
            columns.push((start, at));
            start = at;
        }
        if extent(&slabs[start..end]) > height {
            parted(slabs, &mut columns, &mut start, at, end, height);
        }
        at = end;
    }
    columns.push((start, slabs.len()));
    columns.retain(|&(from, to)| from < to);
    columns
}

/// Parts the group `at..end`, in the column that began at `start`.
fn parted(
    slabs: &[Slab],
    columns: &mut Vec<(usize, usize)>,
    start: &mut usize,
    at: usize,
    end: usize,
    height: Length,
) {
    let mut from = at;
    while from < end {
        let bond = (from..end).find(|&i| !slabs[i].keep).map_or(end, |i| i + 1);
        if extent(&slabs[*start..bond]) > height && from > *start {
            columns.push((*start, from));
            *start = from;
        }
        for i in from..bond {
            if extent(&slabs[*start..=i]) > height && i > *start {
                columns.push((*start, i));
                *start = i;
            }
        }
        from = bond;
    }
}

/// The height of slabs stacked as one column.
fn extent(slabs: &[Slab]) -> Length {
    let Some(first) = slabs.first() else { return Length::ZERO };
    let head = first.head.as_ref().map_or(Length::ZERO, |head| head.height);
    slabs.iter().map(|slab| slab.height + slab.before).sum::<Length>() - first.before + head
}

/// The marks of slabs stacked as one column.
fn stacked(slabs: &[Slab]) -> Vec<Mark> {
    let mut y = Length::ZERO;
    let mut marks = Vec::new();
    for (i, slab) in slabs.iter().enumerate() {
        if i > 0 {
            y += slab.before;
        } else if let Some(head) = &slab.head {
            marks.extend(moved(head.marks.clone(), Length::ZERO, y));
            y += head.height;
        }
        marks.extend(moved(slab.marks.clone(), Length::ZERO, y));
        y += slab.height;
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slabs(count: usize, height: i64) -> Vec<Slab> {
        (0..count).map(|_| Slab::new(Length::mm(height), Vec::new())).collect()
    }

    fn cut(sections: Vec<Vec<Slab>>, height: i64, columns: usize) -> Vec<usize> {
        pour(sections, Length::mm(height), columns).iter().map(Vec::len).collect()
    }

    #[test]
    fn columns_are_filled_and_the_last_page_evened() {
        let part = slabs(10, 10);
        let ranges = fill(&part, &groups(&part, &[]), Length::mm(40));
        assert_eq!(ranges, [(0, 4), (4, 8), (8, 10)]);
        assert_eq!(cut(vec![slabs(10, 10)], 40, 2), [2, 2]);
        assert_eq!(
            balanced(&part, &groups(&part, &[]), &[(0, 8), (8, 10)], Length::mm(80), 2),
            [(0, 5), (5, 10)]
        );
    }

    #[test]
    fn kept_slabs_go_together_and_a_group_too_tall_is_parted() {
        let mut part = slabs(6, 10);
        part[3].keep = true;
        assert_eq!(fill(&part, &groups(&part, &[]), Length::mm(40)), [(0, 3), (3, 6)]);
        for slab in &mut part {
            slab.keep = true;
        }
        assert_eq!(fill(&part, &groups(&part, &[]), Length::mm(40)), [(0, 4), (4, 6)]);
    }

    #[test]
    fn a_section_stays_whole_where_that_costs_no_page() {
        let pages = pour(vec![slabs(3, 10), slabs(3, 10)], Length::mm(50), 1);
        assert_eq!(pages.len(), 2);
        let part = [slabs(3, 10), slabs(3, 10)].concat();
        assert_eq!(fill(&part, &groups(&part, &[3, 3]), Length::mm(50)), [(0, 3), (3, 6)]);
    }

    #[test]
    fn nothing_makes_no_page() {
        assert!(pour(Vec::new(), Length::mm(50), 1).is_empty());
    }
}
