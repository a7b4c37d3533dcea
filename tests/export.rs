//! The written files, read back by other libraries.

mod common;

use std::collections::BTreeMap;

use clothwright::export::{ExportFault, csv, pdf, svg};
use clothwright::sheet;
use clothwright::sheet::model::{Anchor, Face, Group, Ink, Layer, Mark, Reader, SheetSet};
use clothwright::units::Length;
use common::{FULL, boxed, pdf_pictures, plan_of, sample_set, svg_picture, text};

/// The most that the mean grey of a square may differ, of 255. Letters and lines that the two
/// renderers smooth each in its way come to 31; dashes come to 58, since one of the renderers
/// begins the dashes of a ring at another place.
const UNLIKE: u32 = 64;

/// Pixels a point: 144 an inch.
const SCALE: f32 = 2.0;

#[test]
fn pdf_and_svg_show_the_same() {
    let set = sample_set();
    let pictures = pdf_pictures(&pdf::write(&set).unwrap(), SCALE);
    let files = svg::write(&set).unwrap();
    assert_eq!((pictures.len(), files.len()), (2, 2));
    for (picture, file) in pictures.iter().zip(&files) {
        let other = svg_picture(&file.text, SCALE, picture);
        assert!(picture.grey.iter().any(|grey| *grey < 64), "the sheet is not blank");
        let unlike = picture.difference(&other);
        assert!(unlike <= UNLIKE, "{}: squares differ by up to {unlike}", file.name);
    }
}

#[test]
fn the_sheets_of_a_real_room_are_the_same_in_both() {
    let plan = plan_of("jobs/tern-inn-parlour.kdl");
    for set in sheet::compose(&plan, None, &Reader::ALL).unwrap() {
        let pictures = pdf_pictures(&pdf::write(&set).unwrap(), SCALE);
        let files = svg::write(&set).unwrap();
        assert_eq!(pictures.len(), files.len());
        // Two of each kind: two elevations, two parts of a list.
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        for (picture, (file, sheet)) in pictures.iter().zip(files.iter().zip(&set.sheets)) {
            let kind = sheet.key.trim_end_matches(|c: char| c.is_ascii_digit() || c == '-');
            let count = seen.entry(kind.to_owned()).or_default();
            *count += 1;
            if *count > 2 {
                continue;
            }
            let unlike = picture.difference(&svg_picture(&file.text, SCALE, picture));
            assert!(unlike <= UNLIKE, "{}: squares differ by up to {unlike}", file.name);
        }
    }
}

#[test]
fn a_missing_mark_would_be_noticed() {
    let set = sample_set();
    let mut less = set.clone();
    less.sheets[0].marks.retain(|mark| !matches!(mark, Mark::Text(text) if text.text == "in the middle"));
    let picture = &pdf_pictures(&pdf::write(&set).unwrap(), SCALE)[0];
    let other = svg_picture(&svg::write(&less).unwrap()[0].text, SCALE, picture);
    assert!(picture.difference(&other) > UNLIKE);
}

#[test]
fn text_comes_back_out_of_the_pdf() {
    let bytes = pdf::write(&sample_set()).unwrap();
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    assert_eq!(pages, [1, 2]);
    let first = document.extract_text(&[1]).unwrap();
    for words in ["Wall 3: 9′ 0½″ × 108⅜″, 5⁄₁₆ & <up>", "in the middle", "read from the right"]
    {
        assert!(first.contains(words), "{words:?} is not in {first:?}");
    }
    assert!(document.extract_text(&[2]).unwrap().contains("Cut list"));
}

#[test]
fn the_pdf_says_what_it_is() {
    let bytes = pdf::write(&sample_set()).unwrap();
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let info =
        document.trailer.get(b"Info").and_then(|id| document.get_dictionary(id.as_reference()?)).unwrap();
    let title = lopdf::decode_text_string(info.get(b"Title").unwrap()).unwrap();
    assert_eq!(title, "Tern Inn (parlour) – workroom");
    // The date of issue, and nothing from the clock.
    assert_eq!(info.get(b"CreationDate").unwrap().as_str().unwrap(), b"D:20260302");
    assert!(info.get(b"ModDate").is_err());
    let undated = pdf::write(&SheetSet { date: String::new(), ..sample_set() }).unwrap();
    assert!(!undated.windows(12).any(|bytes| bytes == b"CreationDate"));

    let toc: Vec<(usize, String)> =
        document.get_toc().unwrap().toc.into_iter().map(|entry| (entry.level, entry.title)).collect();
    assert_eq!(toc, [(1, "Parlour".into()), (2, "Wall 3".into()), (1, "Cut list".into())]);

    let layers = document.catalog().unwrap().get(b"OCProperties").unwrap().as_dict().unwrap();
    let order = layers.get(b"D").unwrap().as_dict().unwrap().get(b"Order").unwrap().as_array().unwrap();
    let names: Vec<&[u8]> = order
        .iter()
        .map(|id| {
            document
                .get_dictionary(id.as_reference().unwrap())
                .unwrap()
                .get(b"Name")
                .unwrap()
                .as_str()
                .unwrap()
        })
        .collect();
    assert_eq!(names, Layer::ALL.map(|layer| layer.name().as_bytes()));

    let page = document.get_pages()[&1];
    let links = document.get_page_annotations(page).unwrap();
    let target = links[0].get(b"Dest").unwrap().as_array().unwrap()[0].as_reference().unwrap();
    assert_eq!(target, document.get_pages()[&2]);
}

#[test]
fn the_font_is_cut_down_and_embedded() {
    let bytes = pdf::write(&sample_set()).unwrap();
    assert!(bytes.len() < 30_000, "{} bytes", bytes.len());
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let descriptors: Vec<&lopdf::Dictionary> = document
        .objects
        .values()
        .filter_map(|object| object.as_dict().ok())
        .filter(|dictionary| dictionary.has_type(b"FontDescriptor"))
        .collect();
    assert_eq!(descriptors.len(), 2);
    for descriptor in descriptors {
        let name = descriptor.get(b"FontName").unwrap().as_name().unwrap();
        assert!(name[..6].iter().all(u8::is_ascii_uppercase) && name[6] == b'+');
        let program =
            document.get_object(descriptor.get(b"FontFile2").unwrap().as_reference().unwrap()).unwrap();
        let program = program.as_stream().unwrap().decompressed_content().unwrap();
        assert!(ttf_parser::Face::parse(&program, 0).is_ok_and(|face| face.number_of_glyphs() < 60));
    }
}

#[test]
fn a_second_document_has_the_same_bytes() {
    let set = sample_set();
    assert_eq!(pdf::write(&set).unwrap(), pdf::write(&set).unwrap());
    assert_eq!(svg::write(&set).unwrap(), svg::write(&set).unwrap());
    let mut other = set.clone();
    other.sheets[1].title.push('s');
    let id = |set: &SheetSet| {
        let document = lopdf::Document::load_mem(&pdf::write(set).unwrap()).unwrap();
        document.trailer.get(b"ID").unwrap().clone()
    };
    assert_eq!(id(&set), id(&set));
    assert_ne!(id(&set), id(&other));
}

#[test]
fn the_font_in_an_svg_maps_its_characters() {
    use base64::Engine;
    let file = svg::write(&sample_set()).unwrap().remove(0);
    let fonts: Vec<&str> =
        file.text.split("font/ttf;base64,").skip(1).map(|rest| rest.split(')').next().unwrap()).collect();
    assert_eq!(fonts.len(), 2, "two weights");
    for (font, character, not) in [(fonts[0], 'm', 'W'), (fonts[1], '⅜', 'm')] {
        let bytes = base64::engine::general_purpose::STANDARD.decode(font).unwrap();
        let face = ttf_parser::Face::parse(&bytes, 0).unwrap();
        assert!(face.glyph_index(character).is_some_and(|glyph| face.glyph_bounding_box(glyph).is_some()));
        assert!(face.glyph_index(not).is_none());
        assert!(face.tables().os2.is_some() && !face.names().is_empty());
    }
}

#[test]
fn an_svg_is_named_described_and_free_of_scripts() {
    let mut set = sample_set();
    set.sheets[0].key = "../../Elevation <Ståhl's> \"3\"".into();
    set.sheets[0].title = "Wall 3 & <script>".into();
    let file = svg::write(&set).unwrap().remove(0);
    assert_eq!(file.name, "workroom-01-elevation-st-hl-s-3.svg");
    assert!(!file.text.contains("<script"));
    assert!(file.text.contains("Wall 3 &amp; &lt;script&gt;"));
    assert!(file.text.contains("What Wall 3 shows."));
    for wanted in ["id=\"strip-3B\"", "textLength=", "workroom-02-cut-list.svg", "width=\"210mm\""] {
        assert!(file.text.contains(wanted), "{wanted}");
    }
}

#[test]
fn the_cut_list_holds_every_piece_once_in_cutting_order() {
    let mut plan = plan_of("jobs/tern-inn-parlour.kdl");
    plan.job.facts.number = "=1+1".into();
    plan.job.rooms[0].walls[0].label = "@SUM(A1)".into();
    let bytes = csv::write(&plan).unwrap();
    assert!(bytes.starts_with("\u{feff}job,cut,".as_bytes()) && bytes.ends_with(b"\r\n"));

    let mut file = ::csv::Reader::from_reader(&bytes[..]);
    let head: Vec<String> = file.headers().unwrap().iter().map(str::to_owned).collect();
    let rows: Vec<::csv::StringRecord> = file.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), plan.pieces.len());
    for (index, row) in rows.iter().enumerate() {
        let cell = |name: &str| &row[head.iter().position(|head| head == name).unwrap()];
        assert_eq!(cell("cut"), (index + 1).to_string());
        assert_eq!(cell("job"), "'=1+1", "no formula");
        assert!(cell("wall") != "@SUM(A1)", "no formula");
        let piece = plan.pieces.iter().find(|piece| piece.label == cell("piece")).unwrap();
        assert_eq!(piece.cut.number, index + 1);
        assert_eq!(cell("length nm"), piece.cut.length.nm().to_string());
        assert_eq!(cell("from bolt start nm"), piece.cut.v.nm().to_string());
        assert_eq!(cell("length"), plan.job.print.format.print(piece.cut.length));
        let below = if piece.matched { piece.phase.nm().to_string() } else { String::new() };
        assert_eq!(cell("start past motif nm"), below);
    }
}

fn fault(change: impl Fn(&mut SheetSet)) -> ExportFault {
    let mut set = sample_set();
    change(&mut set);
    let from_pdf = pdf::write(&set).unwrap_err();
    assert_eq!(from_pdf, svg::write(&set).unwrap_err());
    from_pdf
}

#[test]
fn what_a_file_would_lose_is_refused() {
    let second = |set: &mut SheetSet, mark: Mark| set.sheets[1].marks.push(mark);
    let group =
        |id: &str| Mark::Group(Group { layer: Layer::Room, id: id.into(), title: "".into(), marks: vec![] });

    let lacks = fault(|set| second(set, Mark::Text(text("布", 1, 1, Face::Regular, Anchor::Start, false))));
    assert_eq!(lacks.sheet, "cut-list");
    assert!(lacks.message.contains("no character '布'"), "{lacks}");

    let nowhere = fault(|set| set.sheets[1].key = "other".into());
    assert!(nowhere.message.contains("no sheet of the set"), "{nowhere}");

    let twice = fault(|set| (0..2).for_each(|_| second(set, group("a"))));
    assert!(twice.message.contains("the id \"a\""), "{twice}");

    let far = fault(|set| second(set, Mark::Stroke { pen: FULL, path: boxed(0, 0, 6_000, 1) }));
    assert!(far.message.contains("far off the paper"), "{far}");

    let thin = fault(|set| {
        let pen = clothwright::sheet::model::Pen { width: Length::ZERO, ..FULL };
        second(set, Mark::Stroke { pen, path: boxed(0, 0, 1, 1) });
    });
    assert!(thin.message.contains("pen without width"), "{thin}");

    let dark = fault(|set| second(set, Mark::Fill { ink: Ink(101), path: boxed(0, 0, 1, 1) }));
    assert!(dark.message.contains("101 percent"), "{dark}");

    let empty = fault(|set| set.sheets.clear());
    assert!(empty.message.contains("no sheets"), "{empty}");
}
