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

/// Sections that are set in the same number of columns.
#[derive(Clone, Debug)]
pub struct Run {
    /// The slabs of each section.
    pub sections: Vec<Vec<Slab>>,
    /// How many columns a page has.
    pub columns: usize,
}

/// What is set in one column of one run.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Index of the run.
    pub run: usize,
    /// Index of the column.
    pub column: usize,
    /// The marks, from the column's left edge and the top of the page.
    pub marks: Vec<Mark>,
}

/// How high columns are: those of the page that a run starts on, and all others.
#[derive(Clone, Copy, Debug)]
struct Heights {
    first: Length,
    rest: Length,
    columns: usize,
}

impl Heights {
    fn even(height: Length, columns: usize) -> Self {
        Heights { first: height, rest: height, columns }
    }

    fn at(self, column: usize) -> Length {
        if column < self.columns { self.first } else { self.rest }
    }
}

/// Pours runs into pages of `height`, one below the other with `space` between.
///
/// A section stays whole where that costs no page. A run starts a new page when less than half of
/// the page is left and it does not fit there. When its last page would be less than a third full,
/// its pages are evened out; the columns of its last page always are.
pub fn pour(runs: Vec<Run>, height: Length, space: Length) -> Vec<Vec<Placed>> {
    let mut pages: Vec<Vec<Placed>> = Vec::new();
    let mut free = height;
    for (run, Run { sections, columns }) in runs.into_iter().enumerate() {
        let whole: Vec<usize> = sections.iter().map(Vec::len).filter(|&size| size > 0).collect();
        let slabs: Vec<Slab> = sections.into_iter().flatten().collect();
        if slabs.is_empty() {
            continue;
        }
        let here = Heights { first: free, rest: height, columns };
        let fits = fill(&slabs, &bonds(&slabs), here).len() <= columns;
        let fresh = pages.is_empty() || !(fits || free * 2 >= height);
        let heights = if fresh { Heights::even(height, columns) } else { here };
        for (i, page) in cut(&slabs, &whole, heights).into_iter().enumerate() {
            let top = if i == 0 { height - heights.first } else { Length::ZERO };
            let deepest = page.iter().map(|&(from, to)| extent(&slabs[from..to])).max().unwrap_or_default();
            free = height - top - deepest - space;
            let set = page.into_iter().enumerate().map(|(column, (from, to))| Placed {
                run,
                column,
                marks: moved(stacked(&slabs[from..to]), Length::ZERO, top),
            });
            match pages.last_mut() {
                Some(last) if i == 0 && !fresh => last.extend(set),
                _ => pages.push(set.collect()),
            }
        }
    }
    pages
}

/// A column of slabs: half-open.
type Column = (usize, usize);

/// The columns of each page of a run.
fn cut(slabs: &[Slab], whole: &[usize], heights: Heights) -> Vec<Vec<Column>> {
    let columns = heights.columns;
    let loose = bonds(slabs);
    let pages = |groups: &[usize], heights| fill(slabs, groups, heights).len().div_ceil(columns);
    let least = pages(&loose, heights);
    let groups = if pages(whole, heights) <= least { whole } else { &loose };
    let mut filled = fill(slabs, groups, heights);
    if least > 1 && heights.first == heights.rest {
        let last = &filled[(least - 1) * columns..];
        let used: Length = last.iter().map(|&(from, to)| extent(&slabs[from..to])).sum();
        if used * 3 < heights.rest * columns as i64 {
            let fits = |h| pages(groups, Heights::even(h, columns)) <= least;
            filled = fill(slabs, groups, Heights::even(least_height(heights.rest, fits), columns));
        }
    }
    let mut result: Vec<Vec<Column>> = filled.chunks(columns).map(<[Column]>::to_vec).collect();
    let height = if result.len() == 1 { heights.first } else { heights.rest };
    if let Some(last) = result.last_mut() {
        *last = balanced(slabs, groups, last, height, columns);
    }
    result
}

/// The columns of one page made as short as they can be.
fn balanced(
    slabs: &[Slab],
    groups: &[usize],
    page: &[Column],
    height: Length,
    columns: usize,
) -> Vec<Column> {
    let (Some(first), Some(last)) = (page.first(), page.last()) else { return page.to_vec() };
    let (from, to) = (first.0, last.1);
    let mut inner = Vec::new();
    let mut at = 0;
    for &size in groups {
        let (start, end) = (at.max(from), (at + size).min(to));
        if start < end {
            inner.push(end - start);
        }
        at += size;
    }
    let part = &slabs[from..to];
    let fits = |h| fill(part, &inner, Heights::even(h, columns)).len() <= columns;
    let least = least_height(height, fits);
    fill(part, &inner, Heights::even(least, columns)).into_iter().map(|(a, b)| (a + from, b + from)).collect()
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

/// The sizes of the groups of slabs that are bound together.
fn bonds(slabs: &[Slab]) -> Vec<usize> {
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

/// Fills columns from the top and returns the slabs of each.
///
/// A group taller than a column is parted at its slabs' own bonds, and where even those are too
/// tall, between any two slabs.
fn fill(slabs: &[Slab], groups: &[usize], heights: Heights) -> Vec<Column> {
    let mut columns = Vec::new();
    let (mut start, mut at) = (0, 0);
    for &size in groups {
        let end = at + size;
        if extent(&slabs[start..end]) > heights.at(columns.len())
            && at > start
            && extent(&slabs[at..end]) <= heights.at(columns.len() + 1)
        {
            columns.push((start, at));
            start = at;
        }
        if extent(&slabs[start..end]) > heights.at(columns.len()) {
            part(slabs, &mut columns, &mut start, (at, end), heights);
        }
        at = end;
    }
    columns.push((start, slabs.len()));
    columns.retain(|&(from, to)| from < to);
    columns
}

/// Parts the group `(at, end)`, in the column that began at `start`.
fn part(slabs: &[Slab], columns: &mut Vec<Column>, start: &mut usize, (at, end): Column, heights: Heights) {
    let mut from = at;
    while from < end {
        let bond = (from..end).find(|&i| !slabs[i].keep).map_or(end, |i| i + 1);
        if extent(&slabs[*start..bond]) > heights.at(columns.len()) && from > *start {
            columns.push((*start, from));
            *start = from;
        }
        for i in from..bond {
            if extent(&slabs[*start..=i]) > heights.at(columns.len()) && i > *start {
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

    fn even(height: i64) -> Heights {
        Heights::even(Length::mm(height), 1)
    }

    /// How many columns each page has.
    fn poured(runs: Vec<(Vec<Vec<Slab>>, usize)>, height: i64) -> Vec<usize> {
        let runs = runs.into_iter().map(|(sections, columns)| Run { sections, columns }).collect();
        pour(runs, Length::mm(height), Length::mm(5)).iter().map(Vec::len).collect()
    }

    #[test]
    fn columns_are_filled_and_the_last_page_evened() {
        let part = slabs(10, 10);
        assert_eq!(fill(&part, &bonds(&part), even(40)), [(0, 4), (4, 8), (8, 10)]);
        assert_eq!(poured(vec![(vec![part.clone()], 2)], 40), [2, 2]);
        let page = [(0, 8), (8, 10)];
        assert_eq!(balanced(&part, &bonds(&part), &page, Length::mm(80), 2), [(0, 5), (5, 10)]);
        let pages = cut(&slabs(11, 10), &[11], Heights::even(Length::mm(100), 1));
        assert_eq!(pages, [[(0, 6)], [(6, 11)]]);
    }

    #[test]
    fn bound_slabs_go_together_and_a_group_too_tall_is_parted() {
        let mut part = slabs(6, 10);
        part[3].keep = true;
        assert_eq!(fill(&part, &bonds(&part), even(40)), [(0, 3), (3, 6)]);
        for slab in &mut part {
            slab.keep = true;
        }
        assert_eq!(fill(&part, &bonds(&part), even(40)), [(0, 4), (4, 6)]);
    }

    #[test]
    fn a_section_stays_whole_where_that_costs_no_page() {
        let part = slabs(6, 10);
        assert_eq!(cut(&part, &[3, 3], even(50)), [[(0, 3)], [(3, 6)]]);
        assert_eq!(cut(&part, &[3, 3], even(60)), [[(0, 6)]]);
    }

    #[test]
    fn a_run_follows_on_the_page_where_it_fits() {
        let run = |count: usize| (vec![slabs(count, 10)], 1);
        assert_eq!(poured(vec![run(3), run(3)], 70), [2]);
        assert_eq!(poured(vec![run(5), run(5)], 70), [1, 1]);
        assert_eq!(poured(vec![run(2), run(6)], 70), [2, 1]);
    }

    #[test]
    fn nothing_makes_no_page() {
        assert!(poured(Vec::new(), 50).is_empty());
    }
}
