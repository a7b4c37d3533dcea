//! Several small drawings on a sheet: in rows, as many to a row and a sheet as fit.

use super::drawing::Drawing;
use super::mark::moved;
use crate::geom::Rect;
use crate::units::Length;

/// White between two drawings.
const APART: Length = Length::mm(12);

/// A drawing about its own origin; drawings of a row stand with their origins on one level.
pub struct Item {
    /// The drawing.
    pub drawing: Drawing,
    /// The paper that it takes.
    pub extent: Rect,
}

impl Item {
    /// A drawing, measured.
    pub fn new(drawing: Drawing) -> Self {
        let extent = drawing.extent();
        Item { drawing, extent }
    }

    /// Whether it fits an area by itself.
    pub fn fits(&self, area: Rect) -> bool {
        self.extent.width() <= area.width() && self.extent.height() <= area.height()
    }
}

/// The drawings of one sheet as one.
pub struct Page {
    /// The drawing.
    pub drawing: Drawing,
    /// Which of the drawings it holds.
    pub members: Vec<usize>,
}

type Row<'a> = Vec<(usize, &'a Item)>;

/// The sheets of `items`, in order, with at most `most` on a sheet.
pub fn pages(items: &[Item], area: Rect, most: usize) -> Vec<Page> {
    let mut pages = Vec::new();
    let mut page: Vec<Row> = Vec::new();
    for (n, item) in items.iter().enumerate() {
        let full = page.iter().map(Vec::len).sum::<usize>() >= most;
        let beside = page.last().is_some_and(|row| {
            let taller: Row = row.iter().copied().chain([(n, item)]).collect();
            row_width(&taller) <= area.width()
                && page_height(&page) - row_height(row) + row_height(&taller) <= area.height()
        });
        let below = page_height(&page) + APART + item.extent.height() <= area.height();
        if !page.is_empty() && (full || !(beside || below)) {
            pages.push(laid(std::mem::take(&mut page)));
        }
        match page.last_mut() {
            Some(row) if beside => row.push((n, item)),
            _ => page.push(vec![(n, item)]),
        }
    }
    if !page.is_empty() {
        pages.push(laid(page));
    }
    pages
}

fn row_width(row: &[(usize, &Item)]) -> Length {
    row.iter().map(|(_, item)| item.extent.width()).sum::<Length>() + APART * (row.len() as i64 - 1)
}

fn above(row: &[(usize, &Item)]) -> Length {
    row.iter().map(|(_, item)| -item.extent.y0).max().unwrap_or_default()
}

fn row_height(row: &[(usize, &Item)]) -> Length {
    above(row) + row.iter().map(|(_, item)| item.extent.y1).max().unwrap_or_default()
}

fn page_height(rows: &[Row]) -> Length {
    rows.iter().map(|row| row_height(row)).sum::<Length>() + APART * (rows.len() as i64 - 1).max(0)
}

/// The rows one below the other, each centred.
fn laid(rows: Vec<Row>) -> Page {
    let mut page = Page { drawing: Drawing::default(), members: Vec::new() };
    let widest = rows.iter().map(|row| row_width(row)).max().unwrap_or_default();
    let mut y = Length::ZERO;
    for row in rows {
        let mut x = (widest - row_width(&row)) / 2;
        let level = y + above(&row);
        for (n, Item { drawing, extent }) in &row {
            page.drawing.marks.extend(moved(drawing.marks.clone(), x - extent.x0, level));
            page.drawing.signs.extend(&drawing.signs);
            page.members.push(*n);
            x += extent.width() + APART;
        }
        y += row_height(&row) + APART;
    }
    page
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::extent;
    use crate::sheet::mark::outline;
    use crate::sheet::model::{Layer, Mark};
    use crate::sheet::pen;

    fn item(width: i64, height: i64) -> Item {
        let mut drawing = Drawing::default();
        let rect = Rect::new(Length::ZERO, -Length::mm(height), Length::mm(width), Length::ZERO);
        drawing.group(Layer::Room, "", "", vec![outline(rect, pen::DETAIL)]);
        Item::new(drawing)
    }

    #[test]
    fn drawings_stay_in_the_area_apart_from_each_other() {
        let area = Rect::new(Length::ZERO, Length::ZERO, Length::mm(150), Length::mm(100));
        let items: Vec<Item> =
            [(60, 40), (70, 20), (10, 30), (100, 90), (5, 5), (5, 99)].map(|(w, h)| item(w, h)).into();
        let pages = pages(&items, area, 3);
        let members: Vec<usize> = pages.iter().flat_map(|page| page.members.clone()).collect();
        assert_eq!(members, [0, 1, 2, 3, 4, 5]);
        for page in &pages {
            assert!(page.members.len() <= 3);
            let extent = page.drawing.extent();
            assert!(extent.width() <= area.width() && extent.height() <= area.height(), "{extent:?}");
            let boxes: Vec<Rect> = page
                .drawing
                .marks
                .iter()
                .filter_map(|m: &Mark| extent::of(std::slice::from_ref(m)))
                .collect();
            for (i, a) in boxes.iter().enumerate() {
                assert!(boxes[i + 1..].iter().all(|b| !a.grown(Length::mm(5)).overlaps(b)));
            }
        }
    }
}
