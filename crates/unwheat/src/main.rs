//! The only binary: the command line and the workbench. It reads files, asks the domain
//! crates, and shows what they say.

mod cli;
mod day;
mod show;
mod web;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
