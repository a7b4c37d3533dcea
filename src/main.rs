//! Arguments, files and exit code: the only place with effects, together with the binder's
//! writing.

mod cli;
mod jobfile;
mod run;
mod shelf;
mod summary;

use std::process::ExitCode;

fn main() -> ExitCode {
    run::run(&cli::Config::from_command_line())
}
