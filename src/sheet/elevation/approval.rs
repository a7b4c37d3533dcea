//! The notes beside the elevations of the approval set.

use super::cloth::is_pictured;
use super::notes::{beyond_corner, kill_words, print};
use super::repeat;
use super::view::View;
use crate::job::model::{Cloth, CornerKind};
use crate::plan::model::Way;
use crate::sheet::column::{Columns, Row, Section};
use crate::sheet::words;
use crate::units::Length;

/// What a picture of the cloth is, and is not.
const PICTURED: &str = "Shown by a picture of one repeat, in place and to scale. Colours are not binding.";

/// A seam, how far from the left corner, and how long in sight.
const SEAM: Columns = Columns { first: Length::mm(15), last: Length::mm(20) };

/// The notes for walls that stand on one sheet.
pub fn sections(views: &[View]) -> Vec<Section> {
    let mut sections = vec![pattern(views), seams(views)];
    sections.retain(|section| !section.rows.is_empty());
    sections
}

/// The cloth, and where its pattern fails to meet or shows an edge that is out of level.
fn pattern(views: &[View]) -> Section {
    let mut section = Section::new("Cloth and pattern");
    let Some(first) = views.first() else { return section };
    let cloth: &Cloth = &first.plan.job.cloths[first.room().cloth];
    section.pair("Cloth", cloth.name.as_str());
    match &cloth.pattern {
        Some(lattice) => {
            let drop = if lattice.drop == Length::ZERO {
                "straight match".to_owned()
            } else if lattice.drop * 2 == lattice.vertical {
                "half drop".to_owned()
            } else {
                format!("drop {}", print(first, lattice.drop))
            };
            let (across, up) = (print(first, lattice.horizontal), print(first, lattice.vertical));
            section.pair("Repeat", format!("{across} across the cloth, {up} along it; {drop}"));
        }
        None => section.pair("Repeat", "none: free match"),
    }
    let way = first.room_plan().registration.way;
    if way == Way::Railroaded {
        section.pair("Hangs", "railroaded: its length runs along the wall");
    }
    if let Some(runs) = words::nap(cloth, way) {
        section.pair("Nap", format!("runs {runs}"));
    }
    for view in views.iter().filter(|view| !view.places_motif) {
        if let Some(motif) = repeat::motif(view) {
            section.text(format!(
                "Wall {}: the centre of the framed motif stands {} from corner {} and {} above {}.",
                view.wall().label,
                print(view, motif.x),
                view.left_corner().name,
                print(view, motif.y - view.datum()),
                view.datum_words()
            ));
        }
    }
    if is_pictured(first) {
        section.text(PICTURED);
    }
    if let Some(words) = views.iter().find_map(kill_words) {
        section.text(words);
    }
    let out_of_level: Vec<String> = views
        .iter()
        .filter(|view| view.wall_plan().run_off_top > Length::ZERO)
        .map(|view| format!("{} on wall {}", print(view, view.wall_plan().run_off_top), view.wall().label))
        .collect();
    if !out_of_level.is_empty() {
        section.text(format!("Ceiling out of level, as the pattern shows: {}.", out_of_level.join(", ")));
    }
    section
}

/// Every seam in sight, told plainly.
fn seams(views: &[View]) -> Section {
    let mut section = Section::new("Seams in sight");
    let mut beyond = Vec::new();
    for view in views {
        let Some(panel) = &view.wall_plan().panel else { continue };
        for seam in panel.seams.iter().filter(|seam| view.shows_seam(seam.x)) {
            let seen: Length = seam.in_sight.iter().map(|&(low, high)| high - low).sum();
            let figures = match beyond_corner(view, seam) {
                Some(words) => {
                    beyond.push((seam.label.as_str(), words));
                    [String::new(), print(view, seen)]
                }
                None => [print(view, seam.x), print(view, seen)],
            };
            let [from, seen] = figures;
            section.rows.push(Row::Cells(SEAM, vec![seam.label.clone(), from, seen]));
        }
    }
    if !section.rows.is_empty() {
        let head = ["Seam", "from left", "in sight"].map(str::to_owned);
        section.rows.insert(0, Row::Cells(SEAM, head.into()));
    }
    for (label, words) in beyond {
        section.text(format!("{label}: {words}."));
    }
    if section.rows.is_empty() {
        section.text("None: one width of cloth covers each wall.");
    }
    for view in views {
        for &(from, to) in &view.wall().no_seam {
            section.text(format!(
                "Wall {}: no seam from {} to {}, as wished.",
                view.wall().label,
                print(view, from),
                print(view, to)
            ));
        }
    }
    let mut told: Vec<&str> = Vec::new();
    for corner in views.iter().flat_map(|view| [view.left_corner(), view.right_corner()]) {
        if corner.kind == CornerKind::Outside && !told.contains(&corner.name.as_str()) {
            told.push(&corner.name);
            section.text(format!("Outside corner {}: a folded edge lies along it, as a seam.", corner.name));
        }
    }
    section
}
