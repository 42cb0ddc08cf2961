//! `unwheat heat`.

use super::{Failure, json, read_bytes};
use crate::show;
use clap::{Args, Subcommand};
use larder::Larder;
use quantity::Locale;
use recipe::heat::{AskError, Figures, Given, HeatField, HeatNotes, Place, given};
use recipe::leaven::Altitude;
use recipe::rework::style::Style;
use recipe::sheet::{Sheet, work};
use std::path::PathBuf;

/// Estimate bakes, proofs and the water of a dough; what pans and ovens do
#[derive(Debug, Args)]
#[command(
    after_help = "Every time is an estimate with a range: a probe ends a bake, the volume ends a proof.\n\nExample:\n  unwheat heat bake --known-pan 23x13x7cm --known-oven 175C \\\n    --known-time 60 --pan 20x10x6cm"
)]
pub struct Heat {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// From one known bake to another pan, depth or oven
    Bake(Box<Bake>),
    /// From one known proof along another temperature history
    Proof(Box<Proof>),
    /// The water of a dough: how warm, or how much ice
    Dough(Box<Dough>),
    /// What pans, ovens and heights do, with sources
    Facts(Facts),
}

/// What all but the facts take.
#[derive(Debug, Args)]
struct Of {
    /// A recipe to take figures from; standard input for '-', none without it
    file: Option<PathBuf>,
    /// The component meant; what the method bakes last without it
    #[arg(long, value_name = "NAME")]
    part: Option<String>,
    /// The style, for core temperature, density and volume: lean_bread, butter_cake …
    #[arg(long, value_name = "STYLE", value_parser = style)]
    style: Option<Style>,
    /// Metres above the sea, from 0 to 6000
    #[arg(long, value_name = "METRES", allow_hyphen_values = true, value_parser = altitude, default_value = "0")]
    altitude: f64,
    /// The oven moves its air
    #[arg(long)]
    fan: bool,
    /// Whose cups and spoons the recipe means: us, metric, uk or au
    #[arg(long, default_value = "us", value_name = "LOCALE")]
    locale: Locale,
    /// Print JSON (docs/json.md) in place of the text
    #[arg(long)]
    json: bool,
}

fn style(given: &str) -> Result<Style, String> {
    Style::named(given).ok_or_else(|| {
        let all: Vec<&str> = Style::all().map(Style::key).collect();
        format!("no style is called '{given}': write {}", all.join(", "))
    })
}

fn altitude(given: &str) -> Result<f64, String> {
    Altitude::read(given).map(|a| a.metres)
}

/// A parser that takes a field's words as they are, once they can be read.
macro_rules! typed {
    ($name:ident, $field:ident) => {
        fn $name(given: &str) -> Result<String, String> {
            HeatField::$field
                .check(given)
                .map(|()| given.to_owned())
                .map_err(|e| e.to_string())
        }
    };
}
typed!(pan, Pan);
typed!(oven, Oven);
typed!(time, KnownTime);
typed!(weight, KnownDough);
typed!(degrees, Room);
typed!(stays, Stays);
typed!(friction, Friction);
typed!(measured, Measured);

/// From one known bake to another pan, depth or oven
#[derive(Debug, Args)]
#[command(
    after_help = "Pans: length x width x depth, 'round' with across x depth, the two sides of a known pan (9x13in), or a key of 'unwheat size --pans'; 'dark', 'glass' or 'silicone' beside them, and 'with a lid'; 'ring tin 24x8 cm, tube 6 cm'; '8 cm ball' without a pan. Ovens: 175C, 350F, 'gas 4', 'fan 160C'. With a recipe, its oven, time (a tenth to a quarter longer, as usual without gluten), pan and weight stand in for what is not given.\n\nExamples:\n  unwheat heat bake --known-pan 23x13x7cm --known-oven 175C \\\n    --known-time 60 --pan 20x10x6cm\n  unwheat heat bake --known-pan 9x2in --known-oven 350F --known-time 30-35 \\\n    --pan 'round 8x3in dark' --style butter_cake\n  unwheat heat bake examples/lemon-yoghurt-cake.txt \\\n    --known-pan 'round 20x7cm' --pan 'round 15x7cm'"
)]
struct Bake {
    #[command(flatten)]
    of: Of,
    /// The pan of the known bake: 23x13x7cm, 9x2in
    #[arg(long, allow_hyphen_values = true, value_name = "PAN", value_parser = pan)]
    known_pan: Option<String>,
    /// Its oven: 175C, 350F, 'gas 4', 'fan 160C'
    #[arg(long, allow_hyphen_values = true, value_name = "OVEN", value_parser = oven)]
    known_oven: Option<String>,
    /// How long it took: 60, 55-60, '1 h 10 min'
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", value_parser = time)]
    known_time: Option<String>,
    /// Dough or batter in it: 900g, 2lb
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true, value_parser = weight)]
    known_dough: Option<String>,
    /// The new pan; the known one without it
    #[arg(long, allow_hyphen_values = true, value_name = "PAN", value_parser = pan)]
    pan: Option<String>,
    /// The new oven; the known one without it
    #[arg(long, allow_hyphen_values = true, value_name = "OVEN", value_parser = oven)]
    oven: Option<String>,
    /// Dough in the new pan; as much as in the known one without it
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true, value_parser = weight)]
    dough: Option<String>,
    /// A core temperature of your own
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    core: Option<String>,
    /// The dough when it goes in; 26C without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    start: Option<String>,
}

/// From one known proof along another temperature history
#[derive(Debug, Args)]
#[command(
    after_help = "No time in the fridge is worked out: what is known of yeast near 4 °C does not carry it.\n\nExamples:\n  unwheat heat proof --known-time 75 --known-at 27C --stays 22C\n  unwheat heat proof --known-time 75 --known-at 27C \\\n    --stays '1 h at 22C, 12 h at 4C, then 27C'\n  unwheat heat proof examples/apricot-almond-buns.txt \\\n    --stays '30 min at 22C, overnight at 4C, then 26C'"
)]
struct Proof {
    #[command(flatten)]
    of: Of,
    /// How long the known proof took to its volume: 75, 60-75
    #[arg(long, allow_hyphen_values = true, value_name = "TIME", value_parser = time)]
    known_time: Option<String>,
    /// The dough's temperature in it; 26C without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    known_at: Option<String>,
    /// Where the dough stands: '1 h at 22C, 12 h at 4C, then 27C'
    #[arg(long, allow_hyphen_values = true, value_name = "HISTORY", value_parser = stays)]
    stays: Option<String>,
    /// The dough after mixing; 26C without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    dough: Option<String>,
    /// Dough that proofs in one piece, for how slowly it warms and cools
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true, value_parser = weight)]
    piece: Option<String>,
}

/// The water of a dough: how warm, or how much ice
#[derive(Debug, Args)]
#[command(
    after_help = "By the bakers' rule (three temperatures, four with a preferment) and by heat balance. Friction is a difference: 9F is 5C.\n\nExamples:\n  unwheat heat dough --flour 500g --water 450g --wanted 26C --room 21C\n  unwheat heat dough --flour 500g --water 450g --room 90F --flour-at 88F \\\n    --tap 75F --friction 20F\n  unwheat heat dough examples/apricot-almond-buns.txt --room 19C \\\n    --other-at 5C"
)]
struct Dough {
    #[command(flatten)]
    of: Of,
    /// Flour and starch
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true, value_parser = weight)]
    flour: Option<String>,
    /// Water, or the liquid that is warmed
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true, value_parser = weight)]
    water: Option<String>,
    /// What else goes in: eggs, fat, sugar
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true, value_parser = weight)]
    other: Option<String>,
    /// The dough after mixing; 26C without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    wanted: Option<String>,
    /// The room; 21C without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    room: Option<String>,
    /// The flour; as the room without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    flour_at: Option<String>,
    /// What else goes in; as the room without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    other_at: Option<String>,
    /// A preferment: makes it the rule of four
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    preferment: Option<String>,
    /// Cold water from the tap; 12C without it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    tap: Option<String>,
    /// Friction of the rule, a difference: 6C, 10F
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true, value_parser = friction)]
    friction: Option<String>,
    /// Friction from a dough of before: itself, room, flour, water
    #[arg(long, allow_hyphen_values = true, value_name = "FOUR", value_parser = measured, conflicts_with = "friction")]
    measured: Option<String>,
}

/// What pans, ovens and heights do, with sources
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  unwheat heat facts\n  unwheat heat facts --oven fan --pan dark --altitude 1609"
)]
struct Facts {
    /// Only what counts for an oven: still, fan or gas
    #[arg(long, allow_hyphen_values = true, value_name = "OVEN", value_parser = ["still", "fan", "gas"])]
    oven: Option<String>,
    /// Only what counts for a pan: light, dark, glass or silicone
    #[arg(long, allow_hyphen_values = true, value_name = "PAN", value_parser = ["light", "dark", "glass", "silicone"])]
    pan: Option<String>,
    /// Metres above the sea: pressure, boiling point, core, corrections
    #[arg(long, value_name = "METRES", allow_hyphen_values = true, value_parser = altitude)]
    altitude: Option<f64>,
    /// Whose degrees are read: us (°F first), metric, uk or au
    #[arg(long, default_value = "us", value_name = "LOCALE")]
    locale: Locale,
    /// Print JSON (docs/json.md) in place of the text
    #[arg(long)]
    json: bool,
}

fn notes(all: &[(HeatField, &Option<String>)]) -> HeatNotes {
    all.iter()
        .filter_map(|(f, words)| Some((f.key().to_owned(), Option::clone(words)?)))
        .collect()
}

/// Options that give a figure, by command.
fn option(field: HeatField, command: &str) -> String {
    let name = match (command, field) {
        ("bake", HeatField::KnownPan) => "--known-pan",
        ("bake", HeatField::KnownOven) => "--known-oven",
        ("bake" | "proof", HeatField::KnownTime | HeatField::ProofTime) => "--known-time",
        ("dough", HeatField::FlourMass) => "--flour",
        ("dough", HeatField::WaterMass) => "--water",
        _ => return format!("{}, as in {}", field.words(), field.example()),
    };
    format!("{name} '{}'", field.example())
}

impl Of {
    fn name(&self) -> String {
        match &self.file {
            Some(p) if p.as_os_str() != "-" => p.display().to_string(),
            Some(_) => "standard input".to_owned(),
            None => "heat".to_owned(),
        }
    }

    /// What is wrong on the first line, what to do on the second.
    fn wrong(&self, what: String) -> Failure {
        let what = match what.rsplit_once(": ") {
            Some((wrong, instead)) if !what.contains('\n') => format!("{wrong}\n  {instead}"),
            _ => what,
        };
        Failure::Other {
            path: self.name(),
            what,
        }
    }

    /// What the recipe says; nothing without a recipe.
    fn given(&self, larder: &Larder) -> Result<Option<Given>, Failure> {
        let Some(file) = &self.file else {
            return Ok(None);
        };
        let bytes = read_bytes(Some(file)).map_err(|error| Failure::File {
            path: self.name(),
            error,
        })?;
        let text = String::from_utf8_lossy(&bytes);
        let sheet = Sheet::new(text, self.locale);
        let worked = work(&sheet, &[], larder, &[]).map_err(|e| self.wrong(e.to_string()))?;
        let found = given(&worked.rework, &worked.batch, larder, self.part.as_deref());
        match found {
            Some(g) => Ok(Some(g.with_work(&recipe::plan::tasks(
                &worked,
                &sheet,
                worked.batch.factor,
            )))),
            None => {
                let names: Vec<&str> = worked
                    .rework
                    .components
                    .iter()
                    .map(|c| c.name.as_str())
                    .filter(|n| !n.is_empty())
                    .collect();
                Err(self.wrong(match &self.part {
                    Some(p) => format!(
                        "no component is called '{p}'\n  name one of: {}",
                        names.join(", ")
                    ),
                    None => "nothing in it is baked in an oven\n  name the component with --part, or leave the recipe out".to_owned(),
                }))
            }
        }
    }

    fn figures<'a>(
        &self,
        notes: &'a HeatNotes,
        given: Option<&'a Given>,
        shown: Locale,
    ) -> Figures<'a> {
        Figures {
            notes,
            given,
            place: Place {
                metres: self.altitude,
                fan: self.fan,
                // What programs read stays in °C.
                fahrenheit: shown == Locale::Us && !self.json,
            },
            style: self.style,
            pans: &[],
        }
    }

    /// The country in whose scale the answer is: that of the degrees typed, where all are in one.
    fn shown(&self, typed: &[&Option<String>]) -> Locale {
        let all = || typed.iter().filter_map(|t| t.as_deref());
        let (c, f) = (
            all().any(|t| in_scale(t, 'C')),
            all().any(|t| in_scale(t, 'F')),
        );
        match (c, f, self.locale) {
            (true, false, Locale::Us) => Locale::Metric,
            (false, true, _) => Locale::Us,
            _ => self.locale,
        }
    }

    fn unasked(&self, e: &AskError, command: &str, given: Option<&Given>) -> Failure {
        let pan = given.and_then(|g| g.pan_words.as_deref());
        self.wrong(match (e, pan) {
            (AskError::Missing(fields), Some(pan)) if fields[..] == [HeatField::KnownPan] => {
                format!("the recipe names its pan, '{pan}', but not its measures\n  give them with --known-pan, as in --known-pan 'round 9x2in'")
            }
            _ => match e {
            AskError::Missing(fields) => {
                let all: Vec<String> = fields.iter().map(|f| option(*f, command)).collect();
                format!("not enough is known\n  give also {}", all.join(" and "))
            }
            AskError::ByColour(_) | AskError::Wrong { .. } => e.to_string(),
            },
        })
    }
}

/// Whether words have degrees of a scale: '26C', '26 °c'.
fn in_scale(words: &str, scale: char) -> bool {
    words.char_indices().any(|(at, c)| {
        let before = words[..at].trim_end_matches(['°', ' ']);
        let behind = words[at + c.len_utf8()..].chars().next();
        c.eq_ignore_ascii_case(&scale)
            && before.ends_with(|b: char| b.is_ascii_digit())
            && !behind.is_some_and(char::is_alphanumeric)
    })
}

impl Heat {
    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        match self.what {
            What::Bake(c) => c.run(larder),
            What::Proof(c) => c.run(larder),
            What::Dough(c) => c.run(larder),
            What::Facts(c) => Ok(c.run()),
        }
    }
}

impl Bake {
    fn run(&self, larder: &Larder) -> Result<String, Failure> {
        use HeatField as F;
        let given = self.of.given(larder)?;
        let notes = notes(&[
            (F::KnownPan, &self.known_pan),
            (F::KnownOven, &self.known_oven),
            (F::KnownTime, &self.known_time),
            (F::KnownDough, &self.known_dough),
            (F::Pan, &self.pan),
            (F::Oven, &self.oven),
            (F::PanDough, &self.dough),
            (F::Core, &self.core),
            (F::Start, &self.start),
        ]);
        let shown = self.of.locale;
        let figures = self.of.figures(&notes, given.as_ref(), shown);
        let Some(ask) = figures
            .bake()
            .map_err(|e| self.of.unasked(&e, "bake", given.as_ref()))?
        else {
            return Err(self.of.wrong(
                "no other bake is asked about\n  give --pan '20x10x6 cm', --oven 170C or --dough 650g"
                    .to_owned(),
            ));
        };
        let baked = recipe::heat::bake(&ask).map_err(|e| self.of.wrong(e.to_string()))?;
        Ok(if self.of.json {
            json(&show::json::heat::bake(&figures, &ask, &baked))
        } else {
            show::heat::bake(&figures, &ask, &baked, shown, &show::Style::of_terminal())
        })
    }
}

impl Proof {
    fn run(&self, larder: &Larder) -> Result<String, Failure> {
        use HeatField as F;
        let given = self.of.given(larder)?;
        let notes = notes(&[
            (F::ProofTime, &self.known_time),
            (F::ProofAt, &self.known_at),
            (F::Stays, &self.stays),
            (F::DoughWanted, &self.dough),
            (F::ProofPiece, &self.piece),
        ]);
        let shown = self.of.shown(&[&self.known_at, &self.stays, &self.dough]);
        let figures = self.of.figures(&notes, given.as_ref(), shown);
        let Some(ask) = figures
            .proof()
            .map_err(|e| self.of.unasked(&e, "proof", given.as_ref()))?
        else {
            return Err(self.of.wrong(
                "no history is asked about\n  give --stays '1 h at 22C, 12 h at 4C, then 27C'"
                    .to_owned(),
            ));
        };
        let proofed = recipe::heat::proof(&ask).map_err(|e| self.of.wrong(e.to_string()))?;
        Ok(if self.of.json {
            json(&show::json::heat::proof(&figures, &ask, &proofed))
        } else {
            show::heat::proof(&figures, &proofed, shown, &show::Style::of_terminal())
        })
    }
}

impl Dough {
    fn run(&self, larder: &Larder) -> Result<String, Failure> {
        use HeatField as F;
        let given = self.of.given(larder)?;
        let notes = notes(&[
            (F::FlourMass, &self.flour),
            (F::WaterMass, &self.water),
            (F::OtherMass, &self.other),
            (F::DoughWanted, &self.wanted),
            (F::Room, &self.room),
            (F::Flour, &self.flour_at),
            (F::Other, &self.other_at),
            (F::Preferment, &self.preferment),
            (F::Tap, &self.tap),
            (F::Friction, &self.friction),
            (F::Measured, &self.measured),
        ]);
        let shown = self.of.shown(&[
            &self.wanted,
            &self.room,
            &self.flour_at,
            &self.other_at,
            &self.preferment,
            &self.tap,
            &self.friction,
            &self.measured,
        ]);
        let figures = self.of.figures(&notes, given.as_ref(), shown);
        let ask = figures
            .dough()
            .map_err(|e| self.of.unasked(&e, "dough", given.as_ref()))?;
        let dough = recipe::heat::dough(&ask).map_err(|e| self.of.wrong(e.to_string()))?;
        Ok(if self.of.json {
            json(&show::json::heat::dough(&figures, &dough))
        } else {
            show::heat::dough(&figures, &ask, &dough, shown, &show::Style::of_terminal())
        })
    }
}

impl Facts {
    fn run(&self) -> String {
        use recipe::heat::{facts, offered};
        let some = self.oven.is_some() || self.pan.is_some() || self.altitude.is_some();
        let pans: Vec<&str> = self.pan.as_deref().into_iter().collect();
        let all: Vec<_> = if some {
            offered(
                self.oven.as_deref().unwrap_or(""),
                &pans,
                self.altitude.unwrap_or(0.0),
            )
        } else {
            facts().iter().collect()
        };
        let height = self.altitude.and_then(|m| Altitude::of(m).ok());
        if self.json {
            json(&show::json::heat::facts(&all, height.as_ref()))
        } else {
            show::heat::facts(
                &all,
                height.as_ref(),
                self.locale,
                &show::Style::of_terminal(),
            )
        }
    }
}
