//! `unwheat shape`: one command for each shape, its options from the shape's own fields.

use super::{Failure, Input, json};
use crate::show;
use crate::web::picture::shape_file;
use clap::{Arg, ArgAction, ArgMatches, Args, FromArgMatches, Subcommand};
use larder::Larder;
use quantity::{Locale, lengths_in};
use recipe::density;
use recipe::rework::style::Style;
use recipe::shape::typed::sides;
use recipe::shape::{Dough, Kind, Said, ShapeAsk, ShapeError};
use recipe::size::part_named;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// Shape a dough: sheets, rolls, plaits, rounds, rings, cut-outs, tins, layers
#[derive(Debug, Args)]
#[command(
    after_help = "Lengths in cm, mm or in; weights in g, kg, oz or lb. What a figure rests on is said with it.\n\nExamples:\n  unwheat shape sheet --dough 600g --sheet 40x30cm\n  unwheat shape roll --dough 900g --sheet 45x35cm --filling 250g --slices 12\n  unwheat shape roll --help"
)]
pub struct Shape {
    #[command(subcommand)]
    asked: Asked,
}

/// A shape with what is said of it.
#[derive(Debug)]
struct Asked {
    kind: Kind,
    ask: ShapeAsk,
    style: Option<Style>,
    recipe: Option<PathBuf>,
    part: Option<String>,
    times: f64,
    locale: Locale,
    json: bool,
    svg: Option<PathBuf>,
}

/// Shapes whose length and width may be given as one.
fn has_sheet(kind: Kind) -> bool {
    kind.field("length").is_some() && kind.field("width").is_some()
}

fn style_of(key: &str) -> Result<Style, String> {
    Style::from_key(key).ok_or_else(|| {
        let all: Vec<&str> = Style::all().map(Style::key).collect();
        format!(
            "no style is called '{key}': the styles are {}",
            all.join(", ")
        )
    })
}

fn times_of(text: &str) -> Result<f64, String> {
    quantity::figure(text)
        .filter(|n| (recipe::size::LEAST..=recipe::size::MOST).contains(n))
        .ok_or_else(|| {
            format!("'{text}' is not how many times the recipe: give a figure above 0, like 1.5")
        })
}

fn words(e: &ShapeError) -> String {
    format!("{}; {}", e.what, e.mend)
}

/// The command of one shape.
fn command(kind: Kind) -> clap::Command {
    let mut out = clap::Command::new(kind.key()).about(kind.about());
    for f in kind.fields() {
        out = out.arg(
            Arg::new(f.key)
                .long(f.key)
                .value_name("FIGURE")
                .allow_hyphen_values(true)
                .help(format!("{}: {}", f.name, f.hint))
                .value_parser(move |text: &str| -> Result<String, String> {
                    f.check(text)
                        .map(|()| text.to_owned())
                        .map_err(|e| words(&e))
                }),
        );
    }
    if has_sheet(kind) {
        out = out.arg(
            Arg::new("sheet")
                .long("sheet")
                .value_name("LENGTHxWIDTH")
                .allow_hyphen_values(true)
                .conflicts_with_all(["length", "width"])
                .help("Length and width at once: 40x30cm")
                .value_parser(|text: &str| -> Result<String, String> {
                    match sides(text, 10.0) {
                        Ok(s) if s.len() == 2 => Ok(text.to_owned()),
                        Ok(_) => Err("give two sides: 40x30cm".to_owned()),
                        Err(e) => Err(words(&e)),
                    }
                }),
        );
    }
    if kind.field("dough").is_some() {
        out = out
            .arg(
                Arg::new("recipe")
                    .long("recipe")
                    .value_name("FILE")
                    .conflicts_with("dough")
                    .help(
                        "Take the weight, style and figures of the gluten-free version of a recipe",
                    )
                    .value_parser(clap::value_parser!(PathBuf)),
            )
            .arg(
                Arg::new("part")
                    .long("part")
                    .value_name("NAME")
                    .requires("recipe")
                    .help("Which component of the recipe"),
            )
            .arg(
                Arg::new("times")
                    .long("times")
                    .value_name("FACTOR")
                    .requires("recipe")
                    .help("How many times the recipe; 1 without it")
                    .value_parser(times_of),
            )
            .arg(
                Arg::new("style")
                    .long("style")
                    .value_name("KEY")
                    .help("The kind of dough, for its density: enriched_dough")
                    .value_parser(style_of),
            );
    }
    out.arg(
        Arg::new("locale")
            .long("locale")
            .value_name("LOCALE")
            .help("Whose lengths are told, and whose cups a recipe means: us, metric, uk or au; us without it")
            .value_parser(|t: &str| t.parse::<Locale>().map_err(|e| e.to_string())),
    )
    .arg(
        Arg::new("svg")
            .long("svg")
            .value_name("FILE")
            .help("Write the drawings, to scale, as an SVG file")
            .value_parser(clap::value_parser!(PathBuf)),
    )
    .arg(
        Arg::new("json")
            .long("json")
            .action(ArgAction::SetTrue)
            .help("Print JSON (docs/json.md) in place of words"),
    )
}

impl FromArgMatches for Asked {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let Some((kind, m)) = matches
            .subcommand()
            .and_then(|(name, m)| Some((Kind::from_key(name)?, m)))
        else {
            return Err(clap::Error::new(clap::error::ErrorKind::MissingSubcommand));
        };
        let mut ask = ShapeAsk::new(kind);
        for f in kind.fields() {
            if let Some(text) = m.get_one::<String>(f.key) {
                ask = ask.with(f.key, text);
            }
        }
        if has_sheet(kind)
            && let Some(text) = m.get_one::<String>("sheet")
            && let Ok(both) = sides(text, 10.0)
            && let [length, width] = both[..]
        {
            ask = ask
                .with("length", &format!("{} mm", length.as_millimetres()))
                .with("width", &format!("{} mm", width.as_millimetres()));
        }
        // Options that a shape does not have are not known to its command.
        let dough = kind.field("dough").is_some();
        Ok(Self {
            kind,
            ask,
            style: dough.then(|| m.get_one("style").copied()).flatten(),
            recipe: dough.then(|| m.get_one("recipe").cloned()).flatten(),
            part: dough.then(|| m.get_one("part").cloned()).flatten(),
            times: dough
                .then(|| m.get_one("times").copied())
                .flatten()
                .unwrap_or(1.0),
            locale: m.get_one("locale").copied().unwrap_or(Locale::Us),
            json: m.get_flag("json"),
            svg: m.get_one("svg").cloned(),
        })
    }
    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

impl Subcommand for Asked {
    fn augment_subcommands(cmd: clap::Command) -> clap::Command {
        cmd.subcommands(Kind::ALL.map(command))
            .subcommand_required(true)
    }
    fn augment_subcommands_for_update(cmd: clap::Command) -> clap::Command {
        Self::augment_subcommands(cmd)
    }
    fn has_subcommand(name: &str) -> bool {
        Kind::from_key(name).is_some()
    }
}

/// What a recipe gives a shape.
struct Given {
    /// What the component makes, gluten-free.
    dough: Dough,
    style: Option<Style>,
    /// Of what the weight is, in words.
    from: String,
    /// What its method and the batch say of the fields that are not typed.
    known: BTreeMap<&'static str, Said>,
}

impl Given {
    /// Of what the weight and the figures are.
    fn words(&self, kind: Kind, with_known: bool) -> String {
        let said = self.known.iter().filter(|_| with_known).map(|(key, said)| {
            let label = kind.field(key).map_or(*key, |f| f.name).to_lowercase();
            let pan = recipe::size::pan::by_key(&said.text);
            let text = pan.map_or_else(|| said.text.clone(), recipe::size::pan::Pan::called);
            match said.step {
                Some(n) => format!("{label} {text} (step {n})"),
                None => format!("{label} {text}"),
            }
        });
        let said: Vec<String> = said.collect();
        if said.is_empty() {
            self.from.clone()
        } else {
            format!("{}; as it says, {}", self.from, said.join(", "))
        }
    }
}

/// What a component of a recipe makes, gluten-free, its style, and what its method says of the shape.
fn of_recipe(asked: &Asked, larder: &Larder) -> Result<Given, Failure> {
    let input = Input {
        file: asked.recipe.clone(),
        locale: asked.locale,
        json: false,
    };
    let other = |what: String| Failure::Other {
        path: input.name(),
        what,
    };
    let formula = input.formula(larder)?;
    let rework = recipe::rework::rework(formula, larder, &recipe::rework::Options::default());
    let batch = recipe::size::size(&rework, &recipe::size::Ask::times(asked.times), larder)
        .map_err(|e| other(e.to_string()))?;
    let names = || -> String {
        let all: Vec<&str> = batch.components.iter().map(|c| c.name.as_str()).collect();
        all.join(", ")
    };
    let recipe = &rework.formula.recipe;
    let mut shaped_so = (0..batch.components.len()).filter(|c| {
        let all = recipe::shape::offers(recipe, *c);
        all.iter().any(|o| o.kind == asked.kind)
    });
    let one = shaped_so.next().filter(|_| shaped_so.next().is_none());
    let at = match &asked.part {
        None if batch.components.len() == 1 => 0,
        // The one part that the method shapes so.
        None if one.is_some() => one.unwrap_or(0),
        None => {
            return Err(other(format!(
                "the recipe has several parts\n  say which with --part: {}",
                names()
            )));
        }
        Some(part) => part_named(&rework, part).map_err(|e| other(e.to_string()))?,
    };
    let dough = recipe::shape::dough_of(&rework, &batch, at, asked.kind);
    if dough.grams.is_none() {
        return Err(other(match &rework.panful(at).rest_in {
            Some(pan) if asked.kind == Kind::Fit => format!(
                "another pan, '{pan}', takes a part of it, so how much goes into this one is not known\n  give what goes into one pan with --dough"
            ),
            _ => "some of its lines cannot be weighed, so the dough's weight is not known\n  see 'unwheat weigh', or give the weight with --dough".to_owned(),
        }));
    }
    let c = &batch.components[at];
    let name = match (asked.kind, c.name.as_str()) {
        (_, "") => "the recipe".to_owned(),
        (Kind::Fit, _) => rework.panful(at).words(&rework),
        (_, name) => name.to_owned(),
    };
    let of = recipe::shape::one_of(&rework, &batch, at, asked.kind);
    let of = of.map_or(String::new(), |of| format!(", {of}"));
    let mut known = recipe::shape::known(&rework, &batch, recipe, at, asked.kind);
    known.retain(|key, _| asked.ask.says(key).is_none());
    Ok(Given {
        dough,
        style: rework.components[at].style.map(|s| s.style),
        from: format!("{name}{of}, gluten-free, as the recipe makes it"),
        known,
    })
}

impl Shape {
    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        let asked = self.asked;
        let given = match asked.recipe {
            Some(_) => Some(of_recipe(&asked, larder)?),
            None => None,
        };
        let guessed = given.as_ref().and_then(|g| g.style);
        let dense = density::of_style(asked.style.or(guessed));
        let dough = match &given {
            Some(given) if asked.style.is_none() => given.dough.clone(),
            given => Dough::new(given.as_ref().and_then(|g| g.dough.grams), dense.value),
        };
        let path = format!("shape {}", asked.kind.key());
        // Where what the method says does not go with what is typed, the typed stands alone.
        let whole = given
            .as_ref()
            .map(|g| asked.ask.over(&g.known).shaped(&dough));
        let whole = whole.and_then(Result::ok);
        let from = given.map(|g| g.words(asked.kind, whole.is_some()));
        let shaped = whole.map_or_else(|| asked.ask.shaped(&dough), Ok);
        let shaped = shaped.map_err(|e| Failure::Other {
            path: path.clone(),
            what: match e.field {
                Some(f) => format!("{} (--{f})", lengths_in(&e.to_string(), asked.locale)),
                None => lengths_in(&e.to_string(), asked.locale),
            },
        })?;
        if let Some(file) = &asked.svg {
            std::fs::write(
                file,
                shape_file(&show::shape::told_in(&shaped, asked.locale).drawings),
            )
            .map_err(|error| Failure::File {
                path: file.display().to_string(),
                error,
            })?;
        }
        let seen = show::shape::Seen {
            shaped: &shaped,
            grams: dough.grams,
            from: from.as_deref(),
            density: (asked.ask.says("density").is_none() && asked.kind.field("density").is_some())
                .then_some(&dense),
            locale: asked.locale,
        };
        Ok(if asked.json {
            json(&show::shape::data(&seen))
        } else {
            show::shape::words(&seen, &show::Style::of_terminal())
        })
    }
}
