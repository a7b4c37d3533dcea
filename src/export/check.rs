//! What a display list must keep for the file formats to show it whole.

use std::collections::BTreeSet;

use crate::font;
use crate::geom::{Point, Rect};
use crate::sheet::model::{Ink, Mark, Path, Pen, Seg, Sheet, SheetSet, Text};
use crate::units::Length;

use super::ExportFault;

/// The largest sheet and the farthest place: 14,400 points, the limit of ISO 32000-1, annex C.
const FARTHEST: Length = Length::inches(200);

/// Checks every sheet of a set.
///
/// # Errors
/// The first fault found, in the order of the sheets.
pub fn set(set: &SheetSet) -> Result<(), ExportFault> {
    if set.sheets.is_empty() {
        return Err(ExportFault::of(&set.title, "the set has no sheets"));
    }
    let mut keys = BTreeSet::new();
    for sheet in &set.sheets {
        if !keys.insert(sheet.key.as_str()) {
            return Err(ExportFault::of(&sheet.key, "two sheets of the set have this key"));
        }
    }
    for sheet in &set.sheets {
        let mut checker = Checker { keys: &keys, ids: BTreeSet::new() };
        checker.sheet(sheet).map_err(|message| ExportFault::of(&sheet.key, message))?;
    }
    Ok(())
}

struct Checker<'a> {
    keys: &'a BTreeSet<&'a str>,
    ids: BTreeSet<&'a str>,
}

impl<'a> Checker<'a> {
    fn sheet(&mut self, sheet: &'a Sheet) -> Result<(), String> {
        for (side, length) in [("width", sheet.width), ("height", sheet.height)] {
            if length <= Length::ZERO || length > FARTHEST {
                return Err(format!("the paper's {side} of {length} is not between 0 and 200 in"));
            }
        }
        self.marks(&sheet.marks)
    }

    fn marks(&mut self, marks: &'a [Mark]) -> Result<(), String> {
        marks.iter().try_for_each(|mark| self.mark(mark))
    }

    fn mark(&mut self, mark: &'a Mark) -> Result<(), String> {
        match mark {
            Mark::Stroke { pen, path } => {
                pen_holds(pen)?;
                path_holds(path)
            }
            Mark::Fill { ink, path } => {
                ink_holds(*ink)?;
                path_holds(path)
            }
            Mark::Text(text) => text_holds(text),
            Mark::Clip { path, marks } => {
                path_holds(path)?;
                self.marks(marks)
            }
            Mark::Stamp { marks, places } => {
                places.iter().try_for_each(|place| near(*place))?;
                self.marks(marks)
            }
            Mark::Tiles { width, height, places, .. } => {
                if *width <= Length::ZERO || *height <= Length::ZERO {
                    return Err("a picture without size".into());
                }
                places.iter().try_for_each(|place| near(*place))
            }
            Mark::Link { area, to } => self.link(area, to),
            Mark::Group(group) => {
                if !group.id.is_empty() && !self.ids.insert(group.id.as_str()) {
                    return Err(format!("two groups have the id {:?}", group.id));
                }
                self.marks(&group.marks)
            }
        }
    }

    fn link(&self, area: &Rect, to: &str) -> Result<(), String> {
        near(Point::new(area.x0, area.y0))?;
        near(Point::new(area.x1, area.y1))?;
        if self.keys.contains(to) {
            Ok(())
        } else {
            Err(format!("a link leads to {to:?}, which is no sheet of the set"))
        }
    }
}

fn near(point: Point) -> Result<(), String> {
    if point.x.abs() > FARTHEST || point.y.abs() > FARTHEST {
        return Err(format!("a mark stands at ({}, {}), far off the paper", point.x, point.y));
    }
    Ok(())
}

fn ink_holds(ink: Ink) -> Result<(), String> {
    if ink.0 > 100 { Err(format!("an ink of {} percent", ink.0)) } else { Ok(()) }
}

fn pen_holds(pen: &Pen) -> Result<(), String> {
    ink_holds(pen.ink)?;
    if pen.width <= Length::ZERO {
        return Err("a pen without width".into());
    }
    let negative = pen.dash.iter().any(|part| *part < Length::ZERO);
    let nothing = !pen.dash.is_empty() && pen.dash.iter().all(|part| *part == Length::ZERO);
    if negative || nothing { Err("a pen whose dashes have no length".into()) } else { Ok(()) }
}

fn path_holds(path: &Path) -> Result<(), String> {
    if !path.0.first().is_none_or(|first| matches!(first, Seg::Move(_))) {
        return Err("a path that starts with no place".into());
    }
    let mut after_close = false;
    for seg in &path.0 {
        match seg {
            Seg::Move(_) => after_close = false,
            _ if after_close => return Err("a ring that goes on after it was closed".into()),
            Seg::Close => after_close = true,
            Seg::Line(_) | Seg::Cubic(..) => {}
        }
        points(seg).into_iter().flatten().try_for_each(near)?;
    }
    Ok(())
}

/// The places that a segment names.
pub fn points(seg: &Seg) -> [Option<Point>; 3] {
    match *seg {
        Seg::Move(p) | Seg::Line(p) => [Some(p), None, None],
        Seg::Cubic(a, b, c) => [Some(a), Some(b), Some(c)],
        Seg::Close => [None; 3],
    }
}

fn text_holds(text: &Text) -> Result<(), String> {
    near(text.at)?;
    ink_holds(text.ink)?;
    if text.size <= Length::ZERO || text.size > FARTHEST || text.width < Length::ZERO {
        return Err(format!("the text {:?} has no size", text.text));
    }
    match text.text.chars().find(|c| font::glyph(text.face, *c).is_none()) {
        Some(missing) => Err(format!("the font has no character {missing:?}, in {:?}", text.text)),
        None => Ok(()),
    }
}
