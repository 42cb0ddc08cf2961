//! The command line: one file per command. Exit code 0 done, 1 the input cannot be worked with,
//! 2 wrong usage.

mod blend;
mod choices;
mod evidence;
mod heat;
mod hydration;
mod leaven;
mod plan;
mod read;
mod rework;
mod screen;
mod shape;
mod shop;
mod size;
mod weigh;

use crate::web;
use clap::{Args, Parser, Subcommand};
use larder::Larder;
use quantity::Locale;
use recipe::read::{ReadError, Reader};
use recipe::weigh::{Formula, WeighError};
use std::io::{Read, Write};
use std::path::PathBuf;
use std::process::ExitCode;

/// From an ordinary wheat recipe to a weighed, screened, gluten-free one.
///
/// Without a command, starts the workbench: pages on this machine where the whole job is done.
#[derive(Debug, Parser)]
#[command(
    name = "unwheat",
    version,
    max_term_width = 80,
    args_conflicts_with_subcommands = true,
    after_help = "A rework is a starting point for a test bake. Nothing here says a food is fit for a person with coeliac disease: that depends on your ingredients and your kitchen."
)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    start: Start,
}

/// Without a command: how the workbench is started.
#[derive(Debug, Args)]
struct Start {
    /// The folder that keeps the kitchen; the user's data folder when left out
    #[arg(long, value_name = "FOLDER")]
    kitchen: Option<PathBuf>,
    /// The port of the workbench; any free one for 0
    #[arg(long, value_name = "PORT", default_value_t = 7420)]
    port: u16,
    /// Open the workbench to the home network, behind a passphrase
    #[arg(long)]
    share: bool,
    /// Do not open a browser
    #[arg(long)]
    no_browser: bool,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Read a recipe: components, lines, method, and what is doubtful
    Read(read::Read),
    /// Weigh every line, with its basis and range
    Weigh(weigh::Weigh),
    /// Find what carries gluten, hidden sources too, and allergens
    Screen(screen::Screen),
    /// Make the gluten-free version: amounts, changes, method notes
    Rework(Box<rework::Rework>),
    /// Size the gluten-free version: a factor, pieces, a pan, a sheet, what is at hand
    Size(Box<size::Size>),
    /// List what to buy for some recipes, and say what each costs
    Shop(shop::Shop),
    /// Formulate a blend: the flours and shares that come closest to a style
    Blend(Box<blend::Blend>),
    /// Balance soda and acid, swap leaveners, correct for altitude
    Leaven(leaven::Leaven),
    /// Shape a dough: sheets, rolls, plaits, rounds, rings, cut-outs, tins, layers
    Shape(Box<shape::Shape>),
    /// Estimate bakes, proofs and the water of a dough; what pans and ovens do
    Heat(heat::Heat),
    /// Plan a batch: every step in time, backwards from serving
    Plan(Box<plan::Plan>),
    /// Check the hydration model against a gluten-free formula
    Hydration(hydration::Hydration),
    /// Say how far the figures can be trusted, style by style
    Evidence(evidence::Evidence),
}

/// What every command on a recipe takes.
#[derive(Debug, Args)]
struct Input {
    /// The recipe: a text file or a saved web page; standard input without it, or for '-'
    file: Option<PathBuf>,
    /// Whose cups and spoons the text means: us, metric, uk or au
    #[arg(long, default_value = "us", value_name = "LOCALE")]
    locale: Locale,
    /// Print JSON (docs/json.md) in place of the table
    #[arg(long)]
    json: bool,
}

/// An input that cannot be worked with: said on standard error, exit code 1.
#[derive(Debug)]
enum Failure {
    /// A file cannot be read or written.
    File { path: String, error: std::io::Error },
    /// The recipe cannot be read.
    Read { path: String, error: ReadError },
    /// The recipe cannot be weighed.
    Weigh { path: String, error: WeighError },
    /// Anything else, with what to do on the second line.
    Other { path: String, what: String },
    /// The workbench does not start.
    Start(String),
    /// The built-in tables are damaged.
    Tables(larder::TableError),
}

impl std::fmt::Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::File { path, error } => {
                write!(
                    f,
                    "{path}: {}\n  give the path of a file that can be opened",
                    io_words(error)
                )
            }
            Self::Read { path, error } => write!(f, "{path}: {error}"),
            Self::Weigh { path, error } => write!(f, "{path}: {error}"),
            Self::Other { path, what } => write!(f, "{path}: {what}"),
            Self::Start(words) => f.write_str(words),
            Self::Tables(e) => write!(f, "{e}\n  this build is damaged: build it again"),
        }
    }
}

/// An input or output error in plain words.
fn io_words(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "this file may not be opened".to_owned(),
        std::io::ErrorKind::IsADirectory => "this is a folder".to_owned(),
        _ => error.to_string(),
    }
}

impl Input {
    fn name(&self) -> String {
        match &self.file {
            Some(p) if p.as_os_str() != "-" => p.display().to_string(),
            _ => "standard input".to_owned(),
        }
    }

    /// The bytes given.
    fn bytes(&self) -> Result<Vec<u8>, Failure> {
        read_bytes(self.file.as_ref()).map_err(|error| Failure::File {
            path: self.name(),
            error,
        })
    }

    fn recipe(&self, larder: &Larder) -> Result<recipe::Recipe, Failure> {
        let reader = Reader::new(larder, self.locale);
        recipe::read::bytes(&self.bytes()?, &reader).map_err(|error| Failure::Read {
            path: self.name(),
            error,
        })
    }

    fn formula(&self, larder: &Larder) -> Result<Formula, Failure> {
        recipe::weigh::formula(self.recipe(larder)?, larder, self.locale).map_err(|error| {
            Failure::Weigh {
                path: self.name(),
                error,
            }
        })
    }
}

/// A file's bytes, or standard input's. More than the largest page allowed is not read.
fn read_bytes(file: Option<&PathBuf>) -> std::io::Result<Vec<u8>> {
    let most = recipe::read::MOST_PAGE_BYTES as u64 + 1;
    let mut bytes = Vec::new();
    match file.filter(|p| p.as_os_str() != "-") {
        Some(path) => std::fs::File::open(path)?
            .take(most)
            .read_to_end(&mut bytes)?,
        None => std::io::stdin().lock().take(most).read_to_end(&mut bytes)?,
    };
    Ok(bytes)
}

/// Serves the workbench until it is stopped.
fn work_bench(start: Start, larder: Larder) -> Result<String, Failure> {
    let start = web::Start {
        kitchen: start.kitchen,
        port: start.port,
        share: start.share,
        stay: start.no_browser,
    };
    web::serve(&start, larder)
        .map(|()| String::new())
        .map_err(|e| Failure::Start(e.to_string()))
}

/// Runs the command line.
pub fn run() -> ExitCode {
    let cli = Cli::parse();
    let done = Larder::built_in()
        .map_err(Failure::Tables)
        .and_then(|larder| match cli.command {
            None => work_bench(cli.start, larder),
            Some(Command::Read(c)) => c.run(larder),
            Some(Command::Weigh(c)) => c.run(larder),
            Some(Command::Screen(c)) => c.run(larder),
            Some(Command::Rework(c)) => c.run(larder),
            Some(Command::Size(c)) => c.run(larder),
            Some(Command::Shop(c)) => c.run(larder),
            Some(Command::Blend(c)) => c.run(&larder),
            Some(Command::Leaven(c)) => c.run(&larder),
            Some(Command::Shape(c)) => c.run(&larder),
            Some(Command::Heat(c)) => c.run(&larder),
            Some(Command::Plan(c)) => c.run(&larder),
            Some(Command::Hydration(c)) => c.run(&larder),
            Some(Command::Evidence(c)) => Ok(c.run()),
        });
    match done {
        Ok(text) => print(&text),
        Err(failure) => {
            eprintln!("unwheat: {failure}");
            ExitCode::from(1)
        }
    }
}

/// Prints everything at once; a reader that closes early ('| head') is no failure.
fn print(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) if e.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("unwheat: the output could not be written: {e}");
            ExitCode::from(1)
        }
    }
}

/// JSON, pretty, with a line end.
fn json(value: &impl serde::Serialize) -> String {
    // Serialising our own plain structs cannot fail.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
