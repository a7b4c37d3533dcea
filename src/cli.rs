//! The command line: words to a checked [`Config`].

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clothwright::binder::{Format, Wish};
use clothwright::job::form;
use clothwright::job::model::Paper;
use clothwright::parse;
use clothwright::sheet::model::Reader;

/// What a run is to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Config {
    /// Write a binder.
    Draw {
        /// The job file; `-` is standard input.
        file: PathBuf,
        /// The folder.
        out: PathBuf,
        /// What goes in.
        wish: Wish,
        /// Another date of issue than the job's, ISO 8601.
        date: Option<String>,
        /// Folders that shared files may come from, besides the job's own.
        shared: Vec<PathBuf>,
        /// How problems are told.
        report: Report,
    },
    /// Only tell problems.
    Check {
        /// The job files; `-` is standard input.
        files: Vec<PathBuf>,
        /// Folders that shared files may come from, besides the jobs' own.
        shared: Vec<PathBuf>,
        /// How problems are told.
        report: Report,
    },
    /// Tell what changed from one issue of a job to another.
    Compare {
        /// The old job file; `-` is standard input.
        old: PathBuf,
        /// The new job file; `-` is standard input, unless the old one is.
        new: PathBuf,
        /// The folder for the new issue's binder; none when only the report is wanted.
        out: Option<PathBuf>,
        /// What goes in it.
        wish: Wish,
        /// Another date of issue than the new job's, ISO 8601.
        date: Option<String>,
        /// Whether the report is told as JSON.
        json: bool,
        /// Folders that shared files may come from, besides the jobs' own.
        shared: Vec<PathBuf>,
        /// How problems are told.
        report: Report,
    },
    /// Write a form to survey with.
    Survey {
        /// What is on it.
        form: SurveyOf,
        /// The PDF file.
        out: PathBuf,
        /// Another paper than the job asks for.
        paper: Option<Paper>,
        /// Folders that shared files may come from, besides the job's own.
        shared: Vec<PathBuf>,
        /// How problems are told.
        report: Report,
    },
    /// Write a job file to start from.
    New {
        /// The file, which is not there yet; `-` is standard output.
        file: PathBuf,
    },
    /// Rewrite the spacing of job files.
    Tidy {
        /// The files; `-` is standard input, then written to standard output.
        files: Vec<PathBuf>,
        /// Only tell which are not tidy.
        only_check: bool,
        /// How problems are told.
        report: Report,
    },
}

/// What a form to survey with is made for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SurveyOf {
    /// A room of so many walls.
    Walls(usize),
    /// A job file; `-` is standard input.
    File(PathBuf),
}

/// How problems are told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Report {
    /// With the place in the file drawn.
    #[default]
    Human,
    /// One line each.
    Short,
    /// As JSON, for other programs.
    Json,
}

impl Config {
    /// Reads the command line. Ends the program when it is wrong (exit code 2) or asks for help.
    pub fn from_command_line() -> Config {
        match Line::parse().command {
            Command::Draw(Draw { file, out, set, paper, format, date, shared, report }) => {
                let wish = wish(&set, &format, paper);
                Config::Draw { file, out, wish, date, shared, report }
            }
            Command::Check(Check { files, shared, report }) => Config::Check { files, shared, report },
            Command::Compare(Compare { old, new, out, set, paper, format, date, json, shared, report }) => {
                let wish = wish(&set, &format, paper);
                Config::Compare { old, new, out, wish, date, json, shared, report }
            }
            Command::Survey(Survey { file, walls, out, paper, shared, report }) => {
                // The command line is only sound with one of the two.
                let form = file.map_or(SurveyOf::Walls(walls.unwrap_or(1)), SurveyOf::File);
                Config::Survey { form, out, paper: paper.map(Size::paper), shared, report }
            }
            Command::New(New { file }) => Config::New { file },
            Command::Tidy(Tidy { files, check, report }) => Config::Tidy { files, only_check: check, report },
        }
    }
}

/// What goes in a binder.
fn wish(set: &[Set], format: &[Kind], paper: Option<Size>) -> Wish {
    Wish {
        readers: chosen(set, Set::reader, Vec::new()),
        formats: chosen(format, Kind::format, Format::ALL.to_vec()),
        paper: paper.map(Size::paper),
    }
}

/// The chosen values in their own order and each once; `otherwise` when none is chosen.
fn chosen<W: Copy, V: Ord>(words: &[W], value: impl Fn(W) -> V, otherwise: Vec<V>) -> Vec<V> {
    let mut values: Vec<V> = words.iter().map(|word| value(*word)).collect();
    values.sort();
    values.dedup();
    if values.is_empty() { otherwise } else { values }
}

/// Cutting plans and sheets for rooms upholstered in pattern-matched cloth.
#[derive(Debug, Parser)]
#[command(version, arg_required_else_help = true, max_term_width = 100)]
struct Line {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Plan a job and write its binder: PDF and SVG sheets, cut list, plan.
    Draw(Draw),
    /// Only report problems; write nothing.
    Check(Check),
    /// Tell what changed from one issue of a job to the next: room, plan, cloth and sheets.
    Compare(Compare),
    /// Write a form to survey with, in the order of a job file.
    Survey(Survey),
    /// Write a job file with remarks, to start from.
    New(New),
    /// Put the spacing of job files in order, and change nothing else.
    Tidy(Tidy),
}

#[derive(Debug, Args)]
struct Draw {
    /// The job file, or - to read it from standard input.
    file: PathBuf,
    /// The folder to write into; made if it is not there.
    #[arg(long, value_name = "FOLDER")]
    out: PathBuf,
    /// Only the sheets of this reader; may be given again [default: the job's, or all].
    #[arg(long, value_name = "READER")]
    set: Vec<Set>,
    /// Another paper than the job asks for.
    #[arg(long)]
    paper: Option<Size>,
    /// Only files of this kind; may be given again [default: all].
    #[arg(long, value_name = "KIND")]
    format: Vec<Kind>,
    /// Another date of issue than the job gives.
    #[arg(long, value_name = "YEAR-MONTH-DAY", value_parser = date)]
    date: Option<String>,
    /// Also take shared files from this folder and the folders in it; may be given again.
    #[arg(long, value_name = "FOLDER")]
    shared: Vec<PathBuf>,
    /// How problems are told.
    #[arg(long, value_name = "STYLE", default_value = "human")]
    report: Report,
}

#[derive(Debug, Args)]
struct Check {
    /// The job files, or - to read one from standard input.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Also take shared files from this folder and the folders in it; may be given again.
    #[arg(long, value_name = "FOLDER")]
    shared: Vec<PathBuf>,
    /// How problems are told.
    #[arg(long, value_name = "STYLE", default_value = "human")]
    report: Report,
}

#[derive(Debug, Args)]
struct Compare {
    /// The job file of the old issue, or - to read it from standard input.
    old: PathBuf,
    /// The job file of the new issue, or - to read it from standard input.
    new: PathBuf,
    /// Also write the new issue's binder into this folder, with clouds round what changed and change sheets.
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Only the sheets of this reader; may be given again [default: the new job's, or all].
    #[arg(long, value_name = "READER")]
    set: Vec<Set>,
    /// Another paper than the jobs ask for.
    #[arg(long)]
    paper: Option<Size>,
    /// Only files of this kind; may be given again [default: all].
    #[arg(long, value_name = "KIND", requires = "out")]
    format: Vec<Kind>,
    /// Another date of issue than the new job gives.
    #[arg(long, value_name = "YEAR-MONTH-DAY", value_parser = date)]
    date: Option<String>,
    /// Tell the report as JSON.
    #[arg(long)]
    json: bool,
    /// Also take shared files from this folder and the folders in it; may be given again.
    #[arg(long, value_name = "FOLDER")]
    shared: Vec<PathBuf>,
    /// How problems are told.
    #[arg(long, value_name = "STYLE", default_value = "human")]
    report: Report,
}

#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("of").required(true).args(["file", "walls"]))]
struct Survey {
    /// A job file whose measures are filled in, and those missing marked; or - for standard input.
    file: Option<PathBuf>,
    /// A blank form for a room of so many walls, instead of a job file.
    #[arg(long, value_name = "NUMBER", value_parser = walls)]
    walls: Option<usize>,
    /// The PDF file to write.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Another paper than the job asks for [default: the job's, or letter].
    #[arg(long)]
    paper: Option<Size>,
    /// Also take shared files from this folder and the folders in it; may be given again.
    #[arg(long, value_name = "FOLDER")]
    shared: Vec<PathBuf>,
    /// How problems are told.
    #[arg(long, value_name = "STYLE", default_value = "human")]
    report: Report,
}

#[derive(Debug, Args)]
struct New {
    /// The file to write, which is not there yet; or - for standard output.
    file: PathBuf,
}

#[derive(Debug, Args)]
struct Tidy {
    /// The job files; or - to read one from standard input and write it to standard output.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Write nothing; only tell which files are not tidy, with exit code 1 if any is not.
    #[arg(long)]
    check: bool,
    /// How problems are told.
    #[arg(long, value_name = "STYLE", default_value = "human")]
    report: Report,
}

fn walls(text: &str) -> Result<usize, String> {
    let most = form::MOST_WALLS;
    text.parse().ok().filter(|walls| (1..=most).contains(walls)).ok_or(format!("give from 1 to {most} walls"))
}

fn date(text: &str) -> Result<String, &'static str> {
    parse::date(text).ok_or("there is no such day; write it as 2026-03-31")
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Set {
    Crew,
    Workroom,
    Approval,
    Costs,
    Record,
}

impl Set {
    fn reader(self) -> Reader {
        match self {
            Set::Crew => Reader::Crew,
            Set::Workroom => Reader::Workroom,
            Set::Approval => Reader::Approval,
            Set::Costs => Reader::Costs,
            Set::Record => Reader::Record,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Size {
    Letter,
    Tabloid,
    ArchB,
    A4,
    A3,
}

impl Size {
    fn paper(self) -> Paper {
        match self {
            Size::Letter => Paper::Letter,
            Size::Tabloid => Paper::Tabloid,
            Size::ArchB => Paper::ArchB,
            Size::A4 => Paper::A4,
            Size::A3 => Paper::A3,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Kind {
    Pdf,
    Svg,
    Csv,
    Json,
}

impl Kind {
    fn format(self) -> Format {
        match self {
            Kind::Pdf => Format::Pdf,
            Kind::Svg => Format::Svg,
            Kind::Csv => Format::Csv,
            Kind::Json => Format::Json,
        }
    }
}
