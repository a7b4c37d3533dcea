//! Pouring slices of paper into columns and pages: nothing that belongs together is torn apart,
//! table heads are repeated, and no page is left nearly empty.

use std::rc::Rc;

use super::mark::moved;
use super::model::Mark;
use crate::units::Length;

/// How a slab goes with the one that follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bond {
    /// A column may end here.
    Free,
    /// They belong in one column, unless what belongs together is taller than a column.
    Near,
    /// They are lines of one row, or a row and what warns of it: parted only when these alone are taller than a
    /// column.
    Firm,
}

/// A slice of a column that is never split. Its marks are placed from its own top left corner.
#[derive(Clone, Debug)]
pub struct Slab {
    /// How much of the column it takes.
    pub height: Length,
    /// White space above it, dropped at the top of a column.
    pub before: Length,
    /// The marks.
    pub marks: Vec<Mark>,
    /// How it goes with the slab that follows.
    pub bond: Bond,
    /// What is drawn above it when it starts a column: the head of its table.
    pub head: Option<Rc<Head>>,
}

impl Slab {
    /// A slab without white space or head, free to part from the next.
    pub fn new(height: Length, marks: Vec<Mark>) -> Self {
        Slab { height, before: Length::ZERO, marks, bond: Bond::Free, head: None }
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
/// its last two pages are evened out, unless what follows then takes a page more; the columns of its last page always
/// are.
pub fn pour(runs: &[Run], height: Length, space: Length) -> Vec<Vec<Placed>> {
    let evened = poured(runs, height, space, |_| true);
    if runs.len() < 2 || evened.len() < 2 {
        return evened;
    }
    let filled = poured(runs, height, space, |run| run + 1 == runs.len());
    if filled.len() < evened.len() { filled } else { evened }
}

/// The same, with the last two pages of a run evened out only where it `may_even` them.
fn poured(runs: &[Run], height: Length, space: Length, may_even: impl Fn(usize) -> bool) -> Vec<Vec<Placed>> {
    let mut pages: Vec<Vec<Placed>> = Vec::new();
    let mut free = height;
    for (run, Run { sections, columns }) in runs.iter().enumerate() {
        let columns = *columns;
        let whole: Vec<usize> = sections.iter().map(Vec::len).filter(|&size| size > 0).collect();
        let slabs: Vec<Slab> = sections.iter().flatten().cloned().collect();
        if slabs.is_empty() {
            continue;
        }
        let here = Heights { first: free, rest: height, columns };
        let fits = fill(&slabs, &groups(&slabs, Bond::Near), here).len() <= columns;
        let fresh = pages.is_empty() || !(fits || free * 2 >= height);
        let heights = if fresh { Heights::even(height, columns) } else { here };
        for (i, page) in cut(&slabs, &whole, heights, may_even(run)).into_iter().enumerate() {
            let top = if i == 0 { height - heights.first } else { Length::ZERO };
            let deepest = page.iter().map(|&(from, to)| extent(&slabs[from..to])).max().unwrap_or_default();
            free = height - top - deepest - space;
            let held = page.into_iter().enumerate().filter(|&(_, (from, to))| from < to);
            let set = held.map(|(column, (from, to))| Placed {
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

/// The columns of each page of a run, whose last two pages may be evened out.
fn cut(slabs: &[Slab], whole: &[usize], heights: Heights, may_even: bool) -> Vec<Vec<Column>> {
    let columns = heights.columns;
    let loose = groups(slabs, Bond::Near);
    let pages = |groups: &[usize], heights| fill(slabs, groups, heights).len().div_ceil(columns);
    let least = pages(&loose, heights).min(pages(whole, heights));
    // In the order of preference: the first that leaves no page nearly empty, or else the fullest.
    let mut ways: Vec<(&[usize], Vec<Column>)> = Vec::new();
    for groups in [whole, &loose] {
        if pages(groups, heights) == least {
            let filled = fill(slabs, groups, heights);
            let evened = last_two_evened(slabs, groups, &filled, heights);
            ways.push((groups, filled));
            ways.extend(evened.filter(|_| may_even).map(|filled| (groups, filled)));
        }
    }
    let emptiest = |way: &[Column]| -> Length {
        let page = |page: &[Column]| page.iter().map(|&(a, b)| extent(&slabs[a..b])).sum();
        way.chunks(columns).map(page).min().unwrap_or_default()
    };
    let enough = heights.rest * columns as i64 / 3;
    let good = ways.iter().position(|(_, way)| least == 1 || emptiest(way) >= enough);
    let fullest = (0..ways.len()).rev().max_by_key(|&i| emptiest(&ways[i].1));
    let (groups, filled) = match good.or(fullest) {
        Some(chosen) => ways.swap_remove(chosen),
        None => return Vec::new(),
    };
    let mut result: Vec<Vec<Column>> = filled.chunks(columns).map(<[Column]>::to_vec).collect();
    let height = if result.len() == 1 { heights.first } else { heights.rest };
    if let Some(last) = result.last_mut() {
        *last = balanced(slabs, groups, last, height, columns);
    }
    result
}

/// The columns of all pages with those of the last two pages made as short as they can be; `None` where
/// there are no two pages of full height.
fn last_two_evened(
    slabs: &[Slab],
    sizes: &[usize],
    filled: &[Column],
    heights: Heights,
) -> Option<Vec<Column>> {
    let Heights { first, rest, columns } = heights;
    let pages = filled.len().div_ceil(columns);
    let before = pages.checked_sub(2).filter(|&before| before > 0 || first == rest)? * columns;
    let from = filled.get(before)?.0;
    let part = slabs.get(from..)?;
    let inner = sizes_within(sizes, from, slabs.len());
    let bound = groups(part, Bond::Near);
    let fits = |h| {
        !tears(part, &bound, rest, h) && fill(part, &inner, Heights::even(h, columns)).len() <= columns * 2
    };
    let even = Heights::even(least_height(rest, fits), columns);
    let last = fill(part, &inner, even).into_iter().map(|(a, b)| (a + from, b + from));
    Some(filled[..before].iter().copied().chain(last).collect())
}

/// What groups of these sizes have between two slabs: half-open.
fn sizes_within(sizes: &[usize], from: usize, to: usize) -> Vec<usize> {
    let mut at = 0;
    let within = sizes.iter().map(|&size| {
        let (start, end) = (at.max(from), (at + size).min(to));
        at += size;
        end.saturating_sub(start)
    });
    within.filter(|&size| size > 0).collect()
}

/// The columns of one page made as short as they can be without tearing one of several groups.
fn balanced(slabs: &[Slab], sizes: &[usize], page: &[Column], height: Length, columns: usize) -> Vec<Column> {
    let (Some(first), Some(last)) = (page.first(), page.last()) else { return page.to_vec() };
    let (from, to) = (first.0, last.1);
    let inner = sizes_within(sizes, from, to);
    let part = &slabs[from..to];
    // Of one group that takes the whole page, only what is bound within it stays together.
    let kept = if inner.len() > 1 { inner.clone() } else { groups(part, Bond::Near) };
    let fits =
        |h| !tears(part, &kept, height, h) && fill(part, &inner, Heights::even(h, columns)).len() <= columns;
    let least = least_height(height, fits);
    let filled = fill(part, &inner, Heights::even(least, columns));
    if filled.len() > columns {
        return page.to_vec();
    }
    filled.into_iter().map(|(a, b)| (a + from, b + from)).collect()
}

/// Whether columns of height `h` tear a group that columns of the full `height` hold whole.
fn tears(slabs: &[Slab], groups: &[usize], height: Length, h: Length) -> bool {
    let mut at = 0;
    groups.iter().any(|&size| {
        at += size;
        let group = extent(&slabs[at - size..at]);
        group <= height && group > h
    })
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

/// The sizes of the groups of slabs that go together by bonds of at least `bond`.
fn groups(slabs: &[Slab], bond: Bond) -> Vec<usize> {
    slabs.split_inclusive(|slab| slab.bond < bond).map(<[Slab]>::len).collect()
}

/// Fills columns from the top and returns the slabs of each; a column too short for what comes next
/// stays empty.
///
/// A group taller than a column is parted where its slabs go together least.
fn fill(slabs: &[Slab], groups: &[usize], heights: Heights) -> Vec<Column> {
    let mut filling = Filling { slabs, heights, columns: Vec::new(), start: 0 };
    filling.place(0, groups, Bond::Near);
    if filling.start < slabs.len() {
        filling.columns.push((filling.start, slabs.len()));
    }
    filling.columns
}

/// Columns being filled.
struct Filling<'a> {
    slabs: &'a [Slab],
    heights: Heights,
    columns: Vec<Column>,
    /// The first slab of the open column.
    start: usize,
}

impl Filling<'_> {
    /// The height of the open column.
    fn height(&self) -> Length {
        self.heights.at(self.columns.len())
    }

    /// Places groups whose first slab is `at`; those taller than a column by their parts, which go
    /// together by `bond`.
    fn place(&mut self, mut at: usize, sizes: &[usize], bond: Bond) {
        for &size in sizes {
            let end = at + size;
            let alone = extent(&self.slabs[at..end]);
            let too_tall = |filling: &Self| extent(&filling.slabs[filling.start..end]) > filling.height();
            // A later column helps when this one is begun, or shorter than those of the next page.
            while too_tall(self)
                && (at > self.start || self.height() < self.heights.rest)
                && (size == 1 || alone <= self.heights.rest)
            {
                self.columns.push((self.start, at));
                self.start = at;
            }
            if too_tall(self) && size > 1 {
                let part = &self.slabs[at..end];
                match bond {
                    Bond::Near => self.place(at, &groups(part, Bond::Near), Bond::Firm),
                    Bond::Firm => self.place(at, &groups(part, Bond::Firm), Bond::Free),
                    Bond::Free => self.place(at, &vec![1; size], Bond::Free),
                }
            }
            at = end;
        }
    }
}

/// The height of slabs stacked as one column.
pub fn extent(slabs: &[Slab]) -> Length {
    let Some(first) = slabs.first() else { return Length::ZERO };
    let head = first.head.as_ref().map_or(Length::ZERO, |head| head.height);
    slabs.iter().map(|slab| slab.height + slab.before).sum::<Length>() - first.before + head
}

/// The marks of slabs stacked as one column.
pub fn stacked(slabs: &[Slab]) -> Vec<Mark> {
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
        let runs: Vec<Run> = runs.into_iter().map(|(sections, columns)| Run { sections, columns }).collect();
        pour(&runs, Length::mm(height), Length::mm(5)).iter().map(Vec::len).collect()
    }

    #[test]
    fn columns_are_filled_and_the_last_page_evened() {
        let part = slabs(10, 10);
        assert_eq!(fill(&part, &groups(&part, Bond::Near), even(40)), [(0, 4), (4, 8), (8, 10)]);
        assert_eq!(poured(vec![(vec![part.clone()], 2)], 40), [2, 2]);
        let page = [(0, 8), (8, 10)];
        assert_eq!(balanced(&part, &groups(&part, Bond::Near), &page, Length::mm(80), 2), [(0, 5), (5, 10)]);
        let pages = cut(&slabs(11, 10), &[11], Heights::even(Length::mm(100), 1), true);
        assert_eq!(pages, [[(0, 6)], [(6, 11)]]);
        let pages = cut(&slabs(31, 10), &[31], even(100), true);
        assert_eq!(pages, [[(0, 10)], [(10, 20)], [(20, 26)], [(26, 31)]]);
    }

    #[test]
    fn bound_slabs_go_together_and_a_group_too_tall_is_parted() {
        let mut part = slabs(6, 10);
        part[3].bond = Bond::Near;
        assert_eq!(fill(&part, &groups(&part, Bond::Near), even(40)), [(0, 3), (3, 6)]);
        for slab in &mut part {
            slab.bond = Bond::Near;
        }
        assert_eq!(fill(&part, &groups(&part, Bond::Near), even(40)), [(0, 4), (4, 6)]);
        part[3].bond = Bond::Firm;
        assert_eq!(fill(&part, &groups(&part, Bond::Near), even(40)), [(0, 3), (3, 6)]);
    }

    #[test]
    fn a_section_stays_whole_where_that_costs_no_page() {
        let part = slabs(6, 10);
        assert_eq!(cut(&part, &[3, 3], even(50), true), [[(0, 3)], [(3, 6)]]);
        assert_eq!(cut(&part, &[3, 3], even(60), true), [[(0, 6)]]);
    }

    #[test]
    fn a_run_follows_on_the_page_where_it_fits() {
        let run = |count: usize| (vec![slabs(count, 10)], 1);
        assert_eq!(poured(vec![run(3), run(3)], 70), [2]);
        assert_eq!(poured(vec![run(5), run(5)], 70), [1, 1]);
        assert_eq!(poured(vec![run(2), run(6)], 70), [2, 1]);
    }

    #[test]
    fn what_does_not_fit_under_another_run_goes_to_the_next_page() {
        let tall = (vec![slabs(1, 50), slabs(1, 20), slabs(1, 20)], 2);
        assert_eq!(poured(vec![(vec![slabs(2, 10)], 1), tall], 60), [1, 2]);
        let heights = Heights { first: Length::mm(30), rest: Length::mm(60), columns: 2 };
        assert_eq!(fill(&slabs(2, 50), &[1, 1], heights), [(0, 0), (0, 0), (0, 1), (1, 2)]);
    }

    #[test]
    fn a_page_is_not_evened_out_where_what_follows_then_takes_one_more() {
        let run = |count: usize| (vec![slabs(count, 10)], 1);
        assert_eq!(poured(vec![run(11), run(8)], 100), [1, 2]);
        assert_eq!(poured(vec![run(11), run(10)], 100), [1, 1, 1]);
    }

    #[test]
    fn nothing_makes_no_page() {
        assert!(poured(Vec::new(), 50).is_empty());
    }
}
