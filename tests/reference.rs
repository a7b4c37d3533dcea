//! `jobs/README.md` follows the tables that the program itself follows, and its examples are run.
//!
//! After a change of a table, `CLOTHWRIGHT_REFRESH=1 cargo test --test reference` writes its second half
//! anew.

use std::fmt::Write;
use std::fs;
use std::path::PathBuf;

use clothwright::diag::{CODES, Diags};
use clothwright::job::defaults;
use clothwright::parse::spec::{Count, FILE, Field, SHARED, Spec};
use clothwright::parse::table;
use clothwright::source::Sources;
use clothwright::units::{Length, LengthFormat, Unit, UnitSystem, read_length};
use clothwright::{job, parse, report};

const MARK: &str = "<!-- The rest is written by `CLOTHWRIGHT_REFRESH=1 cargo test --test reference`. -->\n";

fn path() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("jobs/README.md")
}

fn readme(name: &str) -> String {
    fs::read_to_string(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(name)).expect("the file is there")
}

fn fields(out: &mut String, fields: &[Field], shown: impl Fn(&Field) -> String) {
    for field in fields {
        let must = if field.required { "; must be there" } else { "" };
        let _ = writeln!(out, "  * {} {}: {}{must}", shown(field), field.kind.words(), field.doc);
    }
}

/// Rows that take the same values and properties, each with its line, and then those once. One value
/// is said in the line itself; several values and the properties are listed.
fn nodes(out: &mut String, rows: &[&Spec]) {
    for spec in rows {
        let count = match spec.count {
            Count::One => " Must be there.",
            Count::Some => " One or more.",
            Count::Maybe => "",
            Count::Any => " Any number.",
        };
        let one = match spec.args {
            [one] if one.required => format!(" *{}*", one.kind.words()),
            [one] => format!(" *[{}]*", one.kind.words()),
            _ => String::new(),
        };
        let _ = writeln!(out, "* `{}`{one}: {}{count}", spec.name, spec.doc);
    }
    let Some(spec) = rows.last() else { return };
    if spec.args.len() > 1 {
        fields(out, spec.args, |field| format!("*{}*,", field.name));
    }
    fields(out, spec.props, |field| format!("`{}=`", field.name));
}

fn alike(one: &Spec, other: &Spec) -> bool {
    let names = |fields: &[Field]| fields.iter().map(|field| field.name).collect::<Vec<_>>();
    names(one.args) == names(other.args) && names(one.props) == names(other.props)
}

fn section(out: &mut String, parent: &str) {
    let rows: Vec<&Spec> = table::within(parent).collect();
    if rows.is_empty() {
        return;
    }
    let title =
        if parent == FILE { "In the job file itself".to_owned() } else { format!("In `{parent} {{ }}`") };
    let _ = writeln!(out, "### {title}\n");
    for group in rows.chunk_by(|one, other| alike(one, other)) {
        nodes(out, group);
    }
    out.push('\n');
}

/// The second half of the reference, from the tables.
fn written() -> String {
    let mut out = String::from(
        "\n## Every line\n\nA line stands once at most in its place, unless it says otherwise, and may be left out, unless it \
         says that it must be there. So may a property.\n\n",
    );
    section(&mut out, FILE);
    let shared: Vec<String> = table::within(SHARED).map(|spec| format!("`{}`", spec.name)).collect();
    let _ = writeln!(out, "A file that is included holds only {}.\n", shared.join(", "));
    let mut done = vec![FILE];
    for spec in table::TABLE {
        if !done.contains(&spec.name) {
            done.push(spec.name);
            section(&mut out, spec.name);
        }
    }
    out.push_str("## What is assumed\n\nWhat the file does not say is filled in, and the sheets list it as an assumption with its source.\n\n");
    out.push_str("| assumed | in inches | in millimetres | source |\n|---|---|---|---|\n");
    let inches = LengthFormat { system: UnitSystem::Inches, step: Length::inch_64ths(1) };
    let mm = LengthFormat { system: UnitSystem::Millimetres, step: Length::mm(1) };
    for default in defaults::ALL {
        let text = default.text.replace("{}", "…");
        let (inches, mm) = (inches.print(default.inches), mm.print(default.metric));
        let _ = writeln!(out, "| {text} | {inches} | {mm} | {} |", default.source);
    }
    out.push_str("\n## What can be wrong\n\nEach problem has a code, which does not change.\n\n| code | is told of |\n|---|---|\n");
    for (code, meaning) in CODES {
        let _ = writeln!(out, "| `{code}` | {meaning} |");
    }
    out
}

#[test]
fn the_reference_follows_the_tables() {
    let text = readme("jobs/README.md");
    let (by_hand, rest) = text.split_once(MARK).expect("the mark is there");
    let written = written();
    if std::env::var_os("CLOTHWRIGHT_REFRESH").is_some() {
        fs::write(path(), format!("{by_hand}{MARK}{written}")).expect("it can be written");
        return;
    }
    assert!(rest == written, "jobs/README.md is behind the tables: see the head of this file");
}

/// The code between fences that are marked as job files.
fn examples(text: &str) -> Vec<&str> {
    let starts = text.split("```kdl\n").skip(1);
    starts.map(|part| part.split("```").next().unwrap_or_default()).collect()
}

#[test]
fn every_example_is_a_job_without_a_fault() {
    let mut count = 0;
    for name in ["jobs/README.md", "README.md"] {
        let text = readme(name);
        for example in examples(&text) {
            let mut sources = Sources::default();
            let file = sources.add(name, example);
            let mut diags = Diags::default();
            let parsed = parse::parse(example, file, &mut diags);
            let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
            assert!(job.is_some(), "{name}: {}", report::short(&sources, &diags.sorted()));
            count += 1;
        }
    }
    assert!(count >= 3, "only {count} examples were found");
}

#[test]
fn every_length_in_the_reference_is_what_it_says() {
    let text = readme("jobs/README.md");
    let (_, after) = text.split_once("| written | is |\n|---|---|\n").expect("the table of lengths is there");
    let rows = after.lines().take_while(|line| line.starts_with('|'));
    let mut count = 0;
    for row in rows {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").map(str::trim).collect();
        let [written, is] = cells.as_slice() else { panic!("{row}") };
        let (written, bare) = match written.split_once(" after `units ") {
            Some((written, unit)) => (written, Unit::from_word(unit.trim_matches('`'))),
            None => (*written, None),
        };
        let value = written.trim_matches('`').trim_matches('"').replace("\\\"", "\"");
        let quoted_inch = written.ends_with("\\\"\"`") && !value.ends_with('"');
        let value = if quoted_inch { value.trim_end_matches('\\').to_owned() + "\"" } else { value };
        assert_eq!(read_length(&value, bare), read_length(is, None), "{row}");
        count += 1;
    }
    assert!(count > 10);
    let (_, refused) = text.split_once("Refused: ").expect("the refused lengths are there");
    let refused = refused.split("\n\n").next().unwrap_or_default();
    let mut count = 0;
    for quoted in refused.split("`\"").skip(1) {
        let value = quoted.split("\"`").next().unwrap_or_default();
        assert!(read_length(value, Some(Unit::Inch)).is_err(), "{value} is not refused");
        count += 1;
    }
    assert!(count > 5);
}
