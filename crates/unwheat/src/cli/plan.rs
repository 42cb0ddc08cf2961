//! `unwheat plan`.

use super::choices::times_of;
use super::{Failure, json, read_bytes};
use crate::day::clock::{Clock, Night};
use crate::day::ics::Calendar;
use crate::day::{self, words};
use crate::show;
use clap::Args;
use larder::Larder;
use quantity::{Locale, figure};
use recipe::plan::{Ask, Begun, Kitchen, Plan as Planned, StepChange, Tasks, plan, tasks};
use recipe::sheet::{Change, ChangeError, Sheet, work};
use std::path::PathBuf;

/// Plan a batch: every step in time, backwards from serving
#[derive(Debug, Args)]
#[command(
    after_help = "Steps come from the method, as reworked; minutes it does not say are guesses of common practice and marked '?'. Nobody works in quiet hours; a wait may run through them.\nTimes are those of the kitchen clock.\n\nExamples:\n  unwheat plan examples/lemon-yoghurt-cake.txt --from-now --locale uk\n  unwheat plan buns.txt cake.txt --serve '2026-11-30 16:00' --times 2,1 --ics day.ics\n  unwheat plan buns.txt --serve 16:00 --step 'dough:rise longest=60'\n  unwheat plan buns.txt --serve 16:00 --begun 'dough:rise=09:10'"
)]
pub struct Plan {
    /// The recipes of the day: text files or saved web pages
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// When all of it is to be ready: '2026-11-30 09:00', or 09:00 for the next one
    #[arg(
        long,
        value_name = "TIME",
        conflicts_with = "from_now",
        required_unless_present = "from_now"
    )]
    serve: Option<String>,
    /// Ready as soon as may be, beginning now
    #[arg(long)]
    from_now: bool,
    /// Plan as if it were this time, in place of this machine's clock
    #[arg(long, value_name = "TIME")]
    now: Option<String>,
    /// Quiet hours, in which nobody works; 'none' for none
    #[arg(long, value_name = "HOURS", default_value = "22:00-07:00", value_parser = Night::read)]
    quiet: Night,
    /// How many times each recipe is made: one number for all, or one for each with commas
    #[arg(
        long,
        value_name = "N,N",
        value_delimiter = ',',
        default_value = "1",
        allow_negative_numbers = true
    )]
    times: Vec<String>,
    /// A figure of your own for a step: 'STEP WHAT=VALUE'. STEP is its key in the JSON, such as
    /// dough:rise; WHAT is work, shortest, longest (minutes), oven (°C) or racks, or 'out' alone to
    /// leave the step out; may be repeated
    #[arg(long, value_name = "STEP WHAT=VALUE")]
    step: Vec<String>,
    /// A step that is begun: 'STEP=TIME' with its key and when its work began, or its key alone once
    /// it is done; what comes before it counts as done. In a day of several recipes '2/STEP' is that
    /// of the second; may be repeated
    #[arg(long, value_name = "STEP=TIME")]
    begun: Vec<String>,
    /// Pairs of hands
    #[arg(long, value_name = "N", default_value_t = 1)]
    hands: u32,
    /// Ovens
    #[arg(long, value_name = "N", default_value_t = 1)]
    ovens: u32,
    /// Racks in each oven
    #[arg(long, value_name = "N", default_value_t = 2)]
    oven_racks: u32,
    /// Mixers
    #[arg(long, value_name = "N", default_value_t = 1)]
    mixers: u32,
    /// Free shelves in the fridge
    #[arg(long, value_name = "N", default_value_t = 2)]
    fridge_shelves: u32,
    /// Free shelves in the freezer
    #[arg(long, value_name = "N", default_value_t = 1)]
    freezer_shelves: u32,
    /// Minutes an oven takes from one temperature to another (15: common practice, no source)
    #[arg(long, value_name = "MINUTES", default_value_t = 15)]
    oven_change: u32,
    /// A pan there is, several as '2 x 20 cm sandwich tin'; may be repeated. Batches that want the
    /// same one follow each other; of pans that are not named there is one for every batch
    #[arg(long, value_name = "PAN")]
    pan: Vec<String>,
    /// Write the plan as a calendar file with alarms (iCalendar, RFC 5545)
    #[arg(long, value_name = "FILE")]
    ics: Option<PathBuf>,
    /// Whose cups and spoons the text means: us, metric, uk or au
    #[arg(long, default_value = "us", value_name = "LOCALE")]
    locale: Locale,
    /// Print JSON (docs/json.md) in place of the table
    #[arg(long)]
    json: bool,
}

/// Most recipes of a day.
const MOST: usize = 12;

fn wrong(path: impl Into<String>, what: impl Into<String>) -> Failure {
    Failure::Other {
        path: path.into(),
        what: what.into(),
    }
}

/// A step's key in full: the one part of a recipe may have no name, and 'rise' is ':rise'.
fn whole_key(key: &str) -> String {
    let key = key.trim();
    let bare = if key.contains(':') { "" } else { ":" };
    format!("{bare}{key}")
}

/// That no step has this key, with those there are.
fn no_step<'a>(key: &str, of: impl Iterator<Item = &'a Tasks>) -> String {
    let keys: Vec<&str> = of.flat_map(|t| &t.list).map(|t| t.key.as_str()).collect();
    format!(
        "no step is called '{}'\n  there are: {}",
        key.trim_start_matches(':'),
        keys.join(", ")
    )
}

/// A step that is begun, from 'STEP=TIME', or done, from its key alone.
fn begun(words: &str, ask: &Ask, clock: &Clock) -> Result<Begun, String> {
    let (step, time) = match words.split_once('=') {
        Some((step, time)) => (step, Some(time)),
        None => (words, None),
    };
    let (which, step) = match step.split_once('/') {
        Some((which, step)) => (which.trim().parse::<usize>().ok(), step),
        None => (None, step),
    };
    let key = whole_key(step);
    let mut mine = Vec::new();
    for (job, j) in ask.jobs.iter().enumerate() {
        let task = j
            .tasks
            .list
            .iter()
            .position(|t| t.key == key && !t.left_out);
        mine.extend(task.map(|t| (job, t)));
    }
    let (job, task) = match (which, &*mine) {
        (_, []) => return Err(no_step(&key, ask.jobs.iter().map(|j| &j.tasks))),
        (None, [one]) => *one,
        (None, _) => {
            return Err(format!(
                "'{step}' is a step of several recipes\n  say of which, such as '{}/{step}'",
                mine[0].0 + 1
            ));
        }
        (Some(n), _) => *mine.iter().find(|m| m.0 + 1 == n).ok_or_else(|| {
            format!(
                "recipe {n} has no step '{step}'\n  recipes are counted as they are given, from 1"
            )
        })?,
    };
    let Some(time) = time else {
        let now = ask.now;
        return Ok(Begun {
            job,
            task,
            start: now,
            work_end: now,
            end: now,
        });
    };
    let start = clock.since(time)?;
    let (work_end, end) = ask.jobs[job].tasks.list[task].begun_at(start);
    Ok(Begun {
        job,
        task,
        start,
        work_end,
        end,
    })
}

impl Plan {
    fn clock(&self) -> Result<Clock, Failure> {
        let machine = Clock::at(jiff::Timestamp::now().as_second());
        let Some(text) = &self.now else {
            return Ok(machine);
        };
        let read = jiff::civil::DateTime::strptime("%Y-%m-%d %H:%M", text.replace('T', " "));
        read.map(Clock::civil).map_err(|_| {
            wrong(
                "--now",
                format!("'{text}' is no time\n  write it as in 2026-11-29 08:00"),
            )
        })
    }

    fn kitchen(&self) -> Result<Kitchen, Failure> {
        let kitchen = Kitchen {
            hands: self.hands,
            ovens: self.ovens,
            racks: self.oven_racks,
            mixers: self.mixers,
            fridge: self.fridge_shelves,
            freezer: self.freezer_shelves,
            oven_change: self.oven_change,
            pans: Vec::new(),
        };
        let kitchen = kitchen
            .with_pans(self.pan.iter().map(String::as_str))
            .map_err(|what| wrong("--pan", what))?;
        if let Some(pan) = kitchen.pans.iter().find(|p| !p.says_its_kind()) {
            let name = &pan.name;
            return Err(wrong(
                "--pan",
                format!("'{name}' names no kind of pan\n  write one like '2 x 20 cm sandwich tin'"),
            ));
        }
        kitchen.check().map_err(|what| wrong("the kitchen", what))?;
        Ok(kitchen)
    }

    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        let clock = self.clock()?;
        let kitchen = self.kitchen()?;
        if self.files.len() > MOST {
            return Err(wrong(
                "plan",
                format!(
                    "{} recipes are too many for one day\n  plan at most {MOST}",
                    self.files.len()
                ),
            ));
        }
        let serve = match &self.serve {
            Some(text) => Some(clock.read(text).map_err(|what| wrong("--serve", what))?),
            None => None,
        };
        let mut jobs = Vec::new();
        let times = times_of(&self.times, self.files.len());
        let own = self.own_steps()?;
        for (file, times) in self.files.iter().zip(times) {
            jobs.push((self.tasks(file, times, &own, larder)?, serve));
        }
        let known = |key: &String| jobs.iter().any(|(t, _)| t.task(key).is_some());
        for (key, _) in &own {
            if !known(key) {
                return Err(wrong("--step", no_step(key, jobs.iter().map(|(t, _)| t))));
            }
        }
        let mut ask = day::ask(&clock, jobs, kitchen, self.quiet);
        let begun = self.begun.iter().map(|words| begun(words, &ask, &clock));
        let begun = begun.collect::<Result<Vec<_>, _>>();
        ask.begin(begun.map_err(|what| wrong("--begun", what))?);
        match plan(&ask) {
            Ok(found) => self.shown(&ask, &found, &clock),
            Err(why) => {
                let mut lines = words::impossible(&why, &ask, &clock);
                for line in &mut lines {
                    *line = quantity::degrees_in(line, self.locale);
                }
                let first = lines.remove(0);
                let wide = show::table::WIDTH;
                let first = show::table::wrap(&first, wide - "unwheat: no plan: ".len());
                let rest = lines.iter().flat_map(|l| show::table::wrap(l, wide - 2));
                let all: Vec<String> = first.into_iter().chain(rest).collect();
                Err(wrong("no plan", all.join("\n  ")))
            }
        }
    }

    /// The figures of steps that are given: the step's key, and what it becomes.
    fn own_steps(&self) -> Result<Vec<(String, StepChange)>, Failure> {
        let read = |words: &String| {
            let (left, value) = match words.rsplit_once('=') {
                Some((left, value)) => (left.trim(), value.trim()),
                None => (words.trim(), ""),
            };
            let (key, what) = left.rsplit_once(' ')?;
            let minutes = || figure(value).filter(|n| n.is_finite() && *n >= 0.0);
            let to = match what {
                "work" => StepChange::Hands(Some(minutes()?)),
                "shortest" => StepChange::Least(Some(minutes()?)),
                "longest" => StepChange::Most(Some(minutes()?)),
                "oven" => StepChange::Oven(Some(minutes()?)),
                "racks" => StepChange::Racks(Some(value.parse().ok()?)),
                "out" if value.is_empty() => StepChange::LeftOut(true),
                _ => return None,
            };
            Some((whole_key(key), to))
        };
        let all = self.step.iter().map(|words| {
            read(words).ok_or_else(|| {
                wrong(
                    "--step",
                    format!(
                        "'{words}' is not understood\n  write such as 'dough:rise longest=60', with work, shortest, longest, oven or racks; or 'dough:rise out'"
                    ),
                )
            })
        });
        all.collect()
    }

    fn tasks(
        &self,
        file: &PathBuf,
        times: f64,
        own: &[(String, StepChange)],
        larder: &Larder,
    ) -> Result<Tasks, Failure> {
        let path = file.display().to_string();
        let bytes = read_bytes(Some(file)).map_err(|error| Failure::File {
            path: path.clone(),
            error,
        })?;
        let mut sheet = Sheet::new(String::from_utf8_lossy(&bytes), self.locale);
        for (step, to) in own.iter().cloned() {
            let change = Change::SetStep {
                step,
                words: None,
                to,
            };
            let wrong = |e: ChangeError| wrong("--step", e.to_string());
            sheet.change(&change).map_err(wrong)?;
        }
        let worked = work(&sheet, &[], larder, &[]).map_err(|e| wrong(&path, e.to_string()))?;
        let mut tasks = tasks(&worked, &sheet, times);
        tasks.title = card::quiet(&tasks.title);
        if tasks.title.is_empty() {
            tasks.title = file
                .file_stem()
                .map_or_else(String::new, |s| s.to_string_lossy().into());
        }
        Ok(tasks)
    }

    fn shown(&self, ask: &Ask, found: &Planned, clock: &Clock) -> Result<String, Failure> {
        let mut out = if self.json {
            json(&show::json::plan(ask, found, clock))
        } else {
            words::text(ask, found, clock, &show::Style::of_terminal(), self.locale)
        };
        if let Some(path) = &self.ics {
            let of = |j: usize| ask.jobs[j].tasks.title.clone();
            let calendar = Calendar {
                ask,
                plan: found,
                clock,
                name: "Baking",
                of: &of,
                locale: self.locale,
                oven: words::ANY_OVEN,
            };
            let text = calendar.text(jiff::Timestamp::now());
            std::fs::write(path, text).map_err(|error| Failure::File {
                path: path.display().to_string(),
                error,
            })?;
            if !self.json {
                out.push_str(&format!("\nCalendar written to {}.\n", path.display()));
            }
        }
        Ok(out)
    }
}
