//! Where values go along a dimension line: one row above another, never one over the other.

use crate::units::Length;

/// A value that wants a place along a line.
#[derive(Clone, Copy, Debug)]
pub struct Want {
    /// The point along the line that the value belongs to.
    pub at: Length,
    /// How much of the line the value takes.
    pub width: Length,
    /// Where it starts when it stands in the row next to the line; `None` when it does not fit there.
    pub home: Option<Length>,
}

/// The place that a value was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// The row, from 0 next to the line.
    pub row: usize,
    /// Where the value starts along the line.
    pub start: Length,
}

/// White kept between two values of one row.
const APART: Length = Length::micrometres(1_600);

/// Gives every value a place within `bounds` (low and high end along the line).
///
/// Values with a home keep it. The others go to the first further row with free room near their
/// point: they are moved along by no more than their own width, else they take the next row.
/// A value wider than the bounds starts at the low end.
pub fn place(wants: &[Want], bounds: (Length, Length)) -> Vec<Slot> {
    let mut rows: Vec<Vec<(Length, Length)>> = vec![Vec::new()];
    for want in wants {
        if let Some(start) = want.home {
            rows[0].push((start, start + want.width));
        }
    }
    let mut slots = Vec::with_capacity(wants.len());
    for want in wants {
        let slot = match want.home {
            Some(start) => Slot { row: 0, start },
            None => further_row(want, bounds, &mut rows),
        };
        slots.push(slot);
    }
    slots
}

/// The first row beyond 0 with room for `want`, which is then taken.
fn further_row(want: &Want, bounds: (Length, Length), rows: &mut Vec<Vec<(Length, Length)>>) -> Slot {
    let latest = bounds.1 - want.width;
    let clamp = |start: Length| start.min(latest).max(bounds.0);
    let ideal = clamp(want.at - want.width / 2);
    let mut row = 1;
    loop {
        if rows.len() <= row {
            rows.push(Vec::new());
        }
        let taken = &rows[row];
        let free = |start: Length| {
            taken.iter().all(|&(lo, hi)| start + want.width + APART <= lo || hi + APART <= start)
        };
        let beside = taken.iter().flat_map(|&(lo, hi)| [hi + APART, lo - APART - want.width]);
        let best = std::iter::once(ideal)
            .chain(beside)
            .filter(|&start| clamp(start) == start && free(start))
            .filter(|&start| (start - ideal).abs() <= want.width)
            .min_by_key(|&start| ((start - ideal).abs(), start));
        if let Some(start) = best {
            rows[row].push((start, start + want.width));
            return Slot { row, start };
        }
        row += 1;
    }
}

/// Gives every value a place in one row within `bounds`, in the order of their points and as near to them as can be,
/// so that lines from the points to the values never cross; `None` when the row is too short.
pub fn in_one_row(wants: &[Want], bounds: (Length, Length)) -> Option<Vec<Slot>> {
    // What the values before each take; without it, values side by side all want one and the same place.
    let mut before = Vec::with_capacity(wants.len());
    let mut taken = Length::ZERO;
    for want in wants {
        before.push(taken);
        taken += want.width + APART;
    }
    if taken - APART > bounds.1 - bounds.0 {
        return None;
    }
    // Values that would overlap stand side by side about the mean of their wishes.
    let mut groups: Vec<(Length, i64)> = Vec::new();
    for (want, &before) in wants.iter().zip(&before) {
        let mut group = (want.at - want.width / 2 - before, 1);
        while let Some(&(sum, count)) = groups.last()
            && sum.scale(1, count) > group.0.scale(1, group.1)
        {
            groups.pop();
            group = (group.0 + sum, group.1 + count);
        }
        groups.push(group);
    }
    let latest = bounds.1 - (taken - APART);
    let places = groups.iter().flat_map(|&(sum, count)| (0..count).map(move |_| sum.scale(1, count)));
    let starts = places.zip(before).map(|(place, before)| place.min(latest).max(bounds.0) + before);
    Some(starts.map(|start| Slot { row: 0, start }).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn crowded(count: i64, width: i64) -> Vec<Want> {
        (0..count).map(|n| Want { at: Length::mm(10 + n), width: Length::mm(width), home: None }).collect()
    }

    #[test]
    fn crowded_values_never_overlap_and_never_hang_outside() {
        let bounds = (Length::mm(8), Length::mm(60));
        for (count, width) in [(1, 12), (9, 12), (30, 20), (4, 52)] {
            let wants = crowded(count, width);
            let slots = place(&wants, bounds);
            for (i, a) in slots.iter().enumerate() {
                assert!(a.start >= bounds.0 && a.start + wants[i].width <= bounds.1);
                for (j, b) in slots.iter().enumerate().skip(i + 1) {
                    let apart = a.start + wants[i].width <= b.start || b.start + wants[j].width <= a.start;
                    assert!(a.row != b.row || apart, "{a:?} {b:?}");
                }
            }
        }
    }

    #[test]
    fn values_in_one_row_keep_their_order_and_stand_apart() {
        let bounds = (Length::ZERO, Length::mm(100));
        for (count, width) in [(1, 12), (9, 9), (2, 40), (5, 18)] {
            let wants = crowded(count, width);
            let slots = in_one_row(&wants, bounds).expect("room for all");
            for (slot, want) in slots.iter().zip(&wants) {
                assert!(slot.start >= bounds.0 && slot.start + want.width <= bounds.1);
            }
            assert!(slots.windows(2).all(|pair| pair[0].start + Length::mm(width) + APART <= pair[1].start));
        }
        assert_eq!(in_one_row(&crowded(6, 18), bounds), None);
        let lonely = in_one_row(&crowded(1, 4), bounds).expect("room");
        assert_eq!(lonely[0].start, Length::mm(8));
    }

    #[test]
    fn a_value_with_a_home_keeps_it() {
        let home = Want { at: Length::mm(30), width: Length::mm(10), home: Some(Length::mm(25)) };
        let narrow = Want { at: Length::mm(36), width: Length::mm(10), home: None };
        let slots = place(&[home, narrow], (Length::ZERO, Length::mm(100)));
        assert_eq!(slots[0], Slot { row: 0, start: Length::mm(25) });
        assert_eq!(slots[1], Slot { row: 1, start: Length::mm(31) });
    }
}
