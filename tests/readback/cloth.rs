//! The bolt map, the cut list and the labels against the plan's cuts.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::printed::millimetres;
use crate::svg::bounds;
use crate::work::rows;
use crate::written::{Binder, mm};

/// Two points in a file that are one.
const SAME: f64 = 0.004;

fn pieces(binder: &Binder, cloth: usize) -> impl Iterator<Item = &Value> {
    binder.list("pieces").iter().filter(move |piece| piece["cloth"] == cloth)
}

/// Every cut stands once on the maps of its cloth, in its size; and the cuts of a row of the map all
/// stand where one and the same place of the bolt's first cut puts them.
pub fn every_cut_is_on_one_bolt_map(binder: &Binder) {
    for cloth in 0..binder.list("cloths").len() {
        let key = format!("-bolt-map-{}", cloth + 1);
        let mut drawn: BTreeMap<u64, usize> = BTreeMap::new();
        for sheet in binder.of("workroom").filter(|sheet| sheet.file.contains(&key)) {
            let scale = sheet.scale().expect("a map has a scale");
            let mut lines: Vec<(f64, f64)> = Vec::new();
            for group in &sheet.groups {
                let Some(number) = group.id.strip_prefix("cut-").and_then(|n| n.parse().ok()) else {
                    continue;
                };
                *drawn.entry(number).or_default() += 1;
                let cut = pieces(binder, cloth).map(|piece| &piece["cut"]);
                let cut = cut.into_iter().find(|cut| cut["number"] == number).expect("a cut of the plan");
                let [x0, y0, x1, y1] = bounds(&group.paths[0]);
                let at = |what: &str| format!("{}: cut {number}: {what}", sheet.name);
                assert!((x1 - x0 - mm(&cut["length"]) / scale).abs() < SAME, "{}", at("length"));
                assert!((y1 - y0 - mm(&cut["width"]) / scale).abs() < SAME, "{}", at("width"));
                let start = (x0 - mm(&cut["v"]) / scale, y1 + mm(&cut["u"]) / scale);
                match lines.iter().find(|line| (line.1 - start.1).abs() < SAME) {
                    Some(line) => assert!((line.0 - start.0).abs() < SAME, "{}", at("place on the bolt")),
                    None => lines.push(start),
                }
            }
            let bands = sheet.texts.iter().filter(|text| text.words.starts_with("Bolt ")).count();
            let bands = bands - sheet.texts.iter().filter(|text| text.words.starts_with("Bolt map")).count();
            assert_eq!(lines.len(), bands, "{}: rows of the map", sheet.name);
        }
        let planned: BTreeMap<u64, usize> = pieces(binder, cloth)
            .map(|piece| (piece["cut"]["number"].as_u64().expect("a number"), 1))
            .collect();
        assert_eq!(drawn, planned, "{}: cuts on the map of cloth {cloth}", binder.name);
    }
}

/// Every piece has one row in the cut list, with its label, size and place.
pub fn every_cut_is_in_one_row_of_the_cut_list(binder: &Binder) {
    let mut listed: Vec<String> = Vec::new();
    for sheet in binder.of("workroom").filter(|sheet| sheet.file.contains("-cut-list")) {
        for row in rows(sheet, "No.") {
            let label = row.cell("Piece");
            let piece = binder.list("pieces").iter().find(|piece| piece["label"] == label);
            let piece = piece.unwrap_or_else(|| panic!("{}: no piece {label}", sheet.name));
            let cut = &piece["cut"];
            assert_eq!(row.number, cut["number"], "{}: {label}", sheet.name);
            for (head, planned) in [("Length", "length"), ("Width", "width"), ("start", "v"), ("edge", "u")] {
                let printed = millimetres(&row.cell(head));
                let printed = printed.unwrap_or_else(|| panic!("{}: {label}: {head}", sheet.name));
                let apart = (printed - mm(&cut[planned])).abs();
                assert!(apart <= 25.4 / 16.0, "{}: {label}: {head} is {printed} mm", sheet.name);
            }
            listed.push(label);
        }
    }
    let mut planned: Vec<&str> =
        binder.list("pieces").iter().map(|piece| piece["label"].as_str().expect("a label")).collect();
    listed.sort();
    planned.sort();
    assert_eq!(listed, planned, "{}: rows of the cut list", binder.name);
}

/// Every piece that is sewn into a panel, and every sample, has one label to pin on.
pub fn every_drop_has_one_label(binder: &Binder) {
    let sheets: Vec<_> = binder.of("workroom").filter(|sheet| sheet.file.contains("-labels")).collect();
    let words = || sheets.iter().flat_map(|sheet| &sheet.texts).map(|text| text.words.as_str());
    for piece in binder.list("pieces") {
        let pinned = ["drop", "part-drop", "railroaded", "opening-piece", "sample"];
        let pinned = pinned.map(Value::from).contains(&piece["kind"]);
        let number = format!("cut {}", piece["cut"]["number"]);
        let label = piece["label"].as_str().expect("a label");
        let found = words().filter(|&w| w == label).count();
        assert_eq!(found, usize::from(pinned), "{}: labels {label}", binder.name);
        assert!(!pinned || words().any(|w| w == number), "{}: {number} of {label}", binder.name);
    }
}

/// Every panel has one place on the sewing sheets, where it is drawn from the face, and from the back too where it
/// is sewn of several strips, and all its seams are named.
pub fn every_panel_is_sewn_once(binder: &Binder) {
    let sheets: Vec<_> = binder.of("workroom").filter(|sheet| sheet.file.contains("-sewing")).collect();
    let words = |start: &str| {
        let texts = sheets.iter().flat_map(|sheet| &sheet.texts);
        texts.filter(|text| text.words.starts_with(start)).count()
    };
    let told: String =
        sheets.iter().flat_map(|sheet| &sheet.texts).map(|text| format!("{} ", text.words)).collect();
    let walls = binder.list("rooms").iter().flat_map(|room| room["walls"].as_array().expect("walls"));
    let panels: Vec<&Value> = walls.map(|wall| &wall["panel"]).filter(|panel| panel.is_object()).collect();
    for sheet in &sheets {
        let count = |start: &str| sheet.texts.iter().filter(|text| text.words.starts_with(start)).count();
        let (named, drawn) = (count("Panel of wall "), count("From the face"));
        assert_eq!(named, drawn, "{}: a panel is drawn under its name", sheet.name);
    }
    let strips = |panel: &&&Value| panel["strips"].as_array().is_some_and(|strips| strips.len() > 1);
    let sewn = panels.iter().filter(strips).count();
    for (start, count) in
        [("Panel of wall ", panels.len()), ("From the face", panels.len()), ("From the back", sewn)]
    {
        assert_eq!(words(start), count, "{}: “{start}”", binder.name);
    }
    for seam in panels.iter().flat_map(|panel| panel["seams"].as_array().expect("seams")) {
        let label = seam["label"].as_str().expect("a label");
        assert!(told.contains(label), "{}: seam {label} is not on a sewing sheet", binder.name);
    }
}
