//! Files that nobody would write in earnest are answered with little work and memory, and shortly.

#[path = "common/bounds.rs"]
mod bounds;

use bounds::{Bounds, within};
use clothwright::diag::{Diags, MOST_TOLD};
use clothwright::report::{self, Look};
use clothwright::source::Sources;
use clothwright::{job, parse};

/// What all files of one test may take together, in a build without optimisation. What never ends takes more.
const BOUNDS: Bounds = Bounds { seconds: 60, megabytes: 2_000 };

/// What is told of a text; never nothing, never more than the cap.
fn told(what: &str, text: &str) -> Vec<String> {
    // Told before: what is said last when the bounds are passed is what passed them.
    eprintln!("{what}");
    let mut sources = Sources::default();
    let file = sources.add("job.kdl", text);
    let mut diags = Diags::default();
    let parsed = parse::parse(text, file, &mut diags);
    let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
    let told = diags.sorted();
    let human = report::human(&sources, &told, Look { width: 80, colour: false });
    let short = report::short(&sources, &told);
    assert!(job.is_none() && !told.is_empty() && told.len() <= MOST_TOLD + 1, "{what}");
    assert!(human.len() < 1_000_000 && short.len() < 200_000, "{what}: {} {}", human.len(), short.len());
    short.lines().map(str::to_owned).collect()
}

/// The text repeated up to the largest size that is read, or part of it in a slow build.
fn largest(text: &str) -> String {
    let most = if cfg!(debug_assertions) { 100_000 } else { 299_000 };
    text.repeat(most / text.len())
}

const HEAD: &str = "units in\njob J title=\"t\"\ncloth \"c\" {\n    width 54\n}\n";

#[test]
fn braces() {
    within(BOUNDS, "braces", the_braces);
}

fn the_braces() {
    told("many open braces", &"{".repeat(100_000_000));
    told("the most open braces", &largest("{"));
    told("deep nesting", &format!("{}{}", "a {\n".repeat(100_000), "}\n".repeat(100_000)));
    told("closing braces", &largest("}"));
    told("pairs on one line", &largest("a{};"));
    told("pairs on many lines", &largest("a {\n}\n"));
    told("open braces at one depth", &largest("  a {\n"));
}

#[test]
fn texts() {
    within(BOUNDS, "texts", the_texts);
}

fn the_texts() {
    told("a long text", &format!("{HEAD}room \"{}\"", "x".repeat(10_000_000)));
    told("the most text", &format!("{HEAD}room \"{}\"", "x".repeat(290_000)));
    told("quotes", &largest("\""));
    told("quotes on lines", &largest("a \"\n"));
    told("raw quotes", &largest("#\""));
    told("hashes", &largest("#"));
    told("open remarks", &largest("/*"));
    told("slashes", &largest("/"));
    told("backslashes", &largest("\\"));
    told("curly quotes", &largest("a “b\n"));
}

#[test]
fn words() {
    within(BOUNDS, "words", the_words);
}

fn the_words() {
    told("unknown lines", &largest("crwon 3\n"));
    told("misplaced lines", &largest("crown 3\n"));
    told("glued figures", &largest("a 1mm\n"));
    told("glued figures on one line", &largest("a 1mm;"));
    told("one long figure", &"9".repeat(290_000));
    told(
        "one long length",
        &format!("{HEAD}house {{ crew 1\n seam-allowance \"{}\"\n}}", "9".repeat(290_000)),
    );
    told("one long word", &"a".repeat(290_000));
    told("properties", &format!("{HEAD}batting {}", largest("loft=1 ")));
    told("values", &format!("{HEAD}batting {}", largest("1 ")));
    told("equals", &largest("a ="));
    told("types", &largest("(a)b (c)1\n"));
    told("open types", &largest("(a\n"));
    told("control characters", &largest("a \u{7}\n"));
    told("keywords for names", &largest("#true\n"));
    told("taken out", &largest("/- "));
    told("adjacent texts", &largest("\"\""));
    told("braces without names", &largest("{}\n"));
    told("open brackets", &largest("a ("));
    told("equals in a row", &largest("a=a "));
    told("bare keywords", &largest("a true\n"));
}

#[test]
fn rooms() {
    within(BOUNDS, "rooms", the_rooms);
}

fn the_rooms() {
    let wall = "corner A inside\nwall 1 {\n width 100\n height 96\n}\n";
    told("walls", &format!("{HEAD}room \"r\" {{\n{}}}\n", largest(wall)));
    told("rooms", &format!("{HEAD}{}", largest("room \"r\" {\n corner A free\n}\n")));
    told("cloths", &format!("{HEAD}{}", largest("cloth \"c\" {\n width 54\n}\n")));
    let boxes = "box from-left=50 above-floor=40\n".repeat(1999);
    let room = format!(
        "{HEAD}room \"r\" {{\ncorner A free\nwall 1 {{\nwidth 100\nheight 96\n{boxes}}}\ncorner B free\n}}\n"
    );
    told("boxes in one place", &room);
    let crowded: String = (0..1999)
        .map(|i| {
            format!(
                "box from-left=\"{}.{:03}in\" above-floor={} width=\"1/2in\" height=\"1/2in\"\n",
                1 + i % 90,
                i % 1000,
                1 + i / 90
            )
        })
        .collect();
    told("boxes everywhere", &room.replace(&boxes, &crowded));
}
