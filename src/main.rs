//! Arguments, files and exit code: the only place with effects, together with the binder's
//! writing.

mod cli;
mod compare;
mod console;
mod edit;
mod jobfile;
mod progress;
mod run;
mod shelf;
mod signals;
mod summary;
mod survey;

use std::process::ExitCode;

fn main() -> ExitCode {
    run::run(&cli::Config::from_command_line())
}
