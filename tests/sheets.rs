//! Every sheet of every demo job, and of one with the longest names, on every paper, read from the display list: nothing hangs outside
//! the frame, no two texts collide, no letter is too small, nothing is listed twice or left out,
//! and every number in an index and every link is true.

use std::sync::LazyLock;

use clothwright::diag::Diags;
use clothwright::geom::{Point, Rect};
use clothwright::job::model::{AsBuilt, BuiltNote, BuiltPiece, BuiltSeam, Job, Paper, Revision};
use clothwright::plan::model::{PieceKind, Plan};
use clothwright::sheet::mark::moved;
use clothwright::sheet::model::{Face, Mark, Reader, Sheet, SheetSet, Text};
use clothwright::sheet::{compose, paper, text};
use clothwright::source::Sources;
use clothwright::units::Length;
use clothwright::{font, job, parse, plan};

const JOBS: [&str; 6] = [
    "tern-inn-parlour",
    "feature-wall",
    "metric-attic-study",
    "sluice-house-landing",
    "plover-house-stair",
    "otter-lodge-study",
];
const PAPERS: [Paper; 5] = [Paper::Letter, Paper::Tabloid, Paper::ArchB, Paper::A4, Paper::A3];

fn checked(name: &str) -> Job {
    let path = format!("{}/jobs/{name}.kdl", env!("CARGO_MANIFEST_DIR"));
    let source = std::fs::read_to_string(path).expect("the demo job is there");
    let file = Sources::default().add(name, source.as_str());
    let mut diags = Diags::default();
    let parsed = parse::parse(&source, file, &mut diags).expect("a sound file");
    job::check(&parsed, &mut diags).expect("a sound job").0
}

/// A job with every name as long and as wide as the check lets through, and many revisions.
fn wordy() -> Job {
    let mut job = checked("tern-inn-parlour");
    let wide = |count: usize| "W".repeat(count);
    let facts = &mut job.facts;
    facts.number = wide(16);
    for field in
        [&mut facts.title, &mut facts.place, &mut facts.installer, &mut facts.workroom, &mut facts.designer]
    {
        *field = wide(40);
    }
    facts.designer = format!("{} {}", wide(30), "23456789");
    let revision = |n: u8| Revision {
        index: format!("A{}", char::from(b'A' + n)),
        date: "2026-12-31".into(),
        text: wide(60),
    };
    facts.revisions = (0..26).map(revision).collect();
    facts.notes = vec!["a note of many words ".repeat(300), wide(1_000)];
    job.cloths[0].name = wide(40);
    for trim in [&mut job.trims.corner, &mut job.trims.opening, &mut job.trims.top, &mut job.trims.bottom] {
        trim.name = wide(30);
    }
    let room = &mut job.rooms[0];
    room.name = wide(30);
    for (n, corner) in room.corners.iter_mut().enumerate() {
        corner.name = format!("W{n}");
    }
    for (n, wall) in room.walls.iter_mut().enumerate() {
        wall.label = format!("WWW{n}");
        wall.name = wide(30);
    }
    let note = |wall: usize, at: Option<Point>| BuiltNote { room: 0, wall, at, text: wide(120) };
    let on = Point::new(Length::mm(300), Length::mm(900));
    job.as_built = Some(AsBuilt {
        date: "2026-12-31".into(),
        seams: vec![BuiltSeam { label: "WWW0A-WWW0B".into(), x: Length::mm(1_000), why: wide(120) }],
        pieces: vec![BuiltPiece { label: "WWW1A".into(), recut: true, lot: wide(16), why: wide(120) }],
        notes: vec![note(0, Some(on)), note(0, Some(on)), note(1, None)],
    });
    job
}

/// A job's plan and its sets on one paper.
struct Composed {
    plan: Plan,
    paper: Paper,
    sets: Vec<SheetSet>,
}

/// Every demo job and the wordy one on every paper.
static COMPOSED: LazyLock<Vec<Composed>> = LazyLock::new(|| {
    let jobs = JOBS.into_iter().map(checked).chain([wordy()]);
    let plans = jobs.map(|job| plan::make(job).expect("a plan"));
    let all = plans.flat_map(|plan| {
        PAPERS.map(|paper| {
            let sets = compose(&plan, Some(paper), &Reader::ALL).expect("sheets");
            Composed { plan: plan.clone(), paper, sets }
        })
    });
    all.collect()
});

/// Calls `check` for every set of every job on every paper.
fn every_set(check: impl Fn(&Plan, Paper, &SheetSet)) {
    for Composed { plan, paper, sets } in COMPOSED.iter() {
        for set in sets {
            check(plan, *paper, set);
        }
    }
}

/// All texts of a list of marks, in their places on the sheet.
fn texts(marks: &[Mark]) -> Vec<Text> {
    let mut all = Vec::new();
    for mark in marks {
        match mark {
            Mark::Text(text) => all.push(text.clone()),
            Mark::Clip { marks, .. } => all.extend(texts(marks)),
            Mark::Group(group) => all.extend(texts(&group.marks)),
            Mark::Stamp { marks, places } => {
                let stamped = places.iter().flat_map(|place| texts(&moved(marks.clone(), place.x, place.y)));
                all.extend(stamped);
            }
            Mark::Stroke { .. } | Mark::Fill { .. } | Mark::Tiles { .. } | Mark::Link { .. } => {}
        }
    }
    all
}

/// All links of a list of marks: where they are and where they lead.
fn links(marks: &[Mark]) -> Vec<(Rect, String)> {
    let mut all = Vec::new();
    for mark in marks {
        match mark {
            Mark::Link { area, to } => all.push((*area, to.clone())),
            Mark::Clip { marks, .. } => all.extend(links(marks)),
            Mark::Group(group) => all.extend(links(&group.marks)),
            Mark::Stamp { .. }
            | Mark::Tiles { .. }
            | Mark::Stroke { .. }
            | Mark::Fill { .. }
            | Mark::Text(_) => {}
        }
    }
    all
}

/// The strong numbers under the heads `head` of the sheets whose key begins with `key`, in the
/// order of reading: sheet by sheet, column by column, downwards.
fn numbers_under(set: &SheetSet, key: &str, head: &str) -> Vec<usize> {
    let mut numbers = Vec::new();
    for sheet in set.sheets.iter().filter(|sheet| sheet.key.starts_with(key)) {
        let strong: Vec<Text> =
            texts(&sheet.marks).into_iter().filter(|t| t.face == Face::SemiBold).collect();
        let edge = |text: &Text| text::area(text).x1;
        let mut heads: Vec<(Length, Length)> =
            strong.iter().filter(|text| text.text == head).map(|text| (edge(text), text.at.y)).collect();
        heads.sort_unstable();
        // Heads over one another are those of several tables in one column of the sheet.
        for tables in heads.chunk_by_mut(|one, next| next.0 - one.0 < Length::mm(20)) {
            tables.sort_unstable_by_key(|head| head.1);
            for (i, &(at, top)) in tables.iter().enumerate() {
                let end = tables.get(i + 1).map_or(sheet.height, |next| next.1);
                // Figures are placed by their own widths, which are rounded to the nanometre.
                let below = strong.iter().filter(|text| {
                    (edge(text) - at).abs() < Length::nanometres(10) && top < text.at.y && text.at.y < end
                });
                let mut column: Vec<(Length, usize)> =
                    below.filter_map(|text| Some((text.at.y, text.text.parse().ok()?))).collect();
                column.sort_unstable();
                numbers.extend(column.into_iter().map(|(_, number)| number));
            }
        }
    }
    numbers
}

fn sheet_name(set: &SheetSet, sheet: &Sheet) -> String {
    format!("{} {}", set.title, sheet.key)
}

#[test]
fn every_text_lies_inside_the_frame_and_is_large_enough() {
    every_set(|_, paper, set| {
        let frame = paper::frame(paper);
        for sheet in &set.sheets {
            for text in texts(&sheet.marks) {
                let at = format!("{}: {:?}", sheet_name(set, sheet), text.text);
                assert!(frame.contains(&text::area(&text)), "outside on {paper:?} {at}");
                let face = font::face(text.face);
                let capital = i64::from(face.capital_height().expect("a capital height"));
                let height = text.size.nm() * capital / i64::from(face.units_per_em());
                assert!(height >= 2_500_000, "capitals of {height} nm, {at}");
            }
        }
    });
}

#[test]
fn no_two_texts_overlap() {
    every_set(|_, paper, set| {
        let mut collisions = Vec::new();
        for sheet in set.sheets.iter() {
            let texts: Vec<(Rect, Text)> =
                texts(&sheet.marks).into_iter().map(|text| (text::area(&text), text)).collect();
            for (i, (area, text)) in texts.iter().enumerate() {
                for (_, other) in texts[i + 1..].iter().filter(|(other, _)| area.overlaps(other)) {
                    collisions.push(format!("{}: {:?} and {:?}", sheet.key, text.text, other.text));
                }
            }
        }
        assert!(collisions.is_empty(), "{} on {paper:?}: {collisions:#?}", set.title);
    });
}

#[test]
fn every_link_leads_to_a_sheet_and_keys_are_unique() {
    every_set(|_, _, set| {
        let mut keys: Vec<&str> = set.sheets.iter().map(|sheet| sheet.key.as_str()).collect();
        for sheet in &set.sheets {
            for (_, to) in links(&sheet.marks) {
                assert!(keys.contains(&to.as_str()), "{} leads to {to}", sheet_name(set, sheet));
            }
        }
        keys.sort_unstable();
        assert!(keys.windows(2).all(|pair| pair[0] != pair[1]), "{keys:?}");
    });
}

#[test]
fn the_index_names_every_sheet_by_its_number() {
    every_set(|_, _, set| {
        let mut told = vec![false; set.sheets.len()];
        for sheet in set.sheets.iter().filter(|sheet| sheet.key.starts_with("cover")) {
            told[set.sheets.iter().position(|other| other.key == sheet.key).expect("itself")] = true;
            let texts = texts(&sheet.marks);
            for (area, to) in links(&sheet.marks) {
                let text =
                    texts.iter().find(|text| text::area(text) == area).expect("a link lies on its text");
                let Ok(numbers) =
                    text.text.split('–').map(str::parse::<usize>).collect::<Result<Vec<_>, _>>()
                else {
                    continue;
                };
                let (first, last) = (numbers[0], numbers[numbers.len() - 1]);
                assert_eq!(set.sheets[first - 1].key, to, "{}", set.title);
                for number in first..=last {
                    assert!(!told[number - 1], "{} tells sheet {number} twice", set.title);
                    told[number - 1] = true;
                }
            }
        }
        assert!(told.iter().all(|&told| told), "{}: {told:?}", set.title);
    });
}

#[test]
fn the_title_block_numbers_every_sheet() {
    every_set(|_, _, set| {
        let count = set.sheets.len();
        for (i, sheet) in set.sheets.iter().enumerate() {
            let number = format!("{} of {count}", i + 1);
            let told = texts(&sheet.marks).iter().filter(|text| text.text == number).count();
            assert_eq!(told, 1, "{}", sheet_name(set, sheet));
        }
    });
}

#[test]
fn every_step_stands_once_in_the_checklist() {
    every_set(|plan, paper, set| {
        let told = numbers_under(set, "checklist", "Step");
        let steps: Vec<usize> = plan.steps.iter().map(|step| step.number).collect();
        match set.reader {
            Reader::Crew => assert_eq!(told, steps, "{} on {paper:?}", set.title),
            Reader::Workroom | Reader::Approval | Reader::Costs | Reader::Record => {
                assert!(told.is_empty());
            }
        }
    });
}

#[test]
fn every_cut_stands_once_in_the_cut_list_in_cutting_order() {
    every_set(|plan, paper, set| {
        let told = numbers_under(set, "cut-list", "No.");
        let mut cuts: Vec<(usize, usize)> = plan.pieces.iter().map(|p| (p.cloth, p.cut.number)).collect();
        cuts.sort_unstable();
        let cuts: Vec<usize> = cuts.into_iter().map(|(_, number)| number).collect();
        match set.reader {
            Reader::Workroom | Reader::Record => assert_eq!(told, cuts, "{} on {paper:?}", set.title),
            Reader::Crew | Reader::Approval | Reader::Costs => assert!(told.is_empty()),
        }
    });
}

#[test]
fn every_cut_stands_once_on_a_bolt_map() {
    every_set(|plan, paper, set| {
        for cloth in 0..plan.cloths.len() {
            let first = format!("bolt-map-{}", cloth + 1);
            let mut told: Vec<usize> = Vec::new();
            let ours =
                |key: &str| key == first || key.strip_prefix(&first).is_some_and(|k| k.starts_with('-'));
            for sheet in set.sheets.iter().filter(|sheet| ours(&sheet.key)) {
                let strong = texts(&sheet.marks).into_iter().filter(|text| text.face == Face::SemiBold);
                told.extend(strong.filter_map(|text| text.text.parse::<usize>().ok()));
            }
            told.sort_unstable();
            let cuts = plan.pieces.iter().filter(|piece| piece.cloth == cloth);
            let mut cuts: Vec<usize> = cuts.map(|piece| piece.cut.number).collect();
            cuts.sort_unstable();
            match set.reader {
                Reader::Workroom | Reader::Record => assert_eq!(told, cuts, "{} on {paper:?}", set.title),
                Reader::Crew | Reader::Approval | Reader::Costs => assert!(told.is_empty()),
            }
        }
    });
}

#[test]
fn every_sewn_piece_has_one_label_and_every_panel_one_sewing_section() {
    every_set(|plan, paper, set| {
        let told = |prefix: &str, wanted: &dyn Fn(&Text) -> bool| {
            let sheets = set.sheets.iter().filter(|sheet| sheet.key.starts_with(prefix));
            sheets.flat_map(|sheet| texts(&sheet.marks)).filter(|text| wanted(text)).count()
        };
        let workroom = usize::from(set.reader == Reader::Workroom);
        for piece in plan.pieces.iter().filter(|p| matches!(p.kind, PieceKind::Drop | PieceKind::PartDrop)) {
            let own = |text: &Text| text.text == piece.label && text.size > Length::mm(9);
            assert_eq!(told("labels", &own), workroom, "{} on {paper:?}: {}", set.title, piece.label);
        }
        let panels =
            plan.rooms.iter().flat_map(|room| &room.walls).filter(|wall| wall.panel.is_some()).count();
        let heads = told("sewing", &|text| text.text.starts_with("Panel of wall "));
        assert_eq!(heads, panels * workroom, "{} on {paper:?}", set.title);
    });
}

#[test]
fn cautions_defer_to_those_who_decide_wherever_they_are_told() {
    every_set(|plan, _, set| {
        for key in ["cautions", "checklist"].into_iter().filter(|_| set.reader == Reader::Crew) {
            let sheets = set.sheets.iter().filter(|sheet| sheet.key.starts_with(key));
            let words: Vec<String> =
                sheets.flat_map(|sheet| texts(&sheet.marks)).map(|text| text.text).collect();
            let told = words.join(" ").contains("local codes and licensed practice decide");
            assert_eq!(told, !plan.cautions.is_empty(), "{}: {key}", set.title);
        }
    });
}

#[test]
fn no_reader_gets_what_is_not_theirs() {
    every_set(|_, _, set| {
        let all: Vec<Text> = set.sheets.iter().flat_map(|sheet| texts(&sheet.marks)).collect();
        let says = |words: &str| all.iter().any(|text| text.text.contains(words));
        assert_eq!(says("Everything to buy"), set.reader == Reader::Workroom, "{}", set.title);
        assert_eq!(says("Materials to bring"), set.reader == Reader::Crew, "{}", set.title);
        assert_eq!(says("Walk round"), set.reader == Reader::Crew, "{}", set.title);
        assert_eq!(says("Revise and resubmit"), set.reader == Reader::Approval, "{}", set.title);
        assert!(set.reader != Reader::Approval || !says("taple"), "staples in {}", set.title);
    });
}
