//! A day opened: its recipes worked, its plan made anew or, once it is under way, as it was.

use crate::day::clock::{Clock, DAY, Night};
use crate::day::{self};
use crate::web::app::{App, Unsolved, locale};
use crate::web::bench::batch_sheet::MARK;
use crate::web::bench::{Bench, twins_of};
use crate::web::fault::Fault;
use crate::web::kitchen::{night, planned_with};
use crate::web::recipe::{Parts, open, work_with};
use quantity::degrees_in;
use recipe::plan::{Ask, Begun, Impossible, Plan, Tasks, kept, plan, tasks};
use recipe::sheet::{Sheet, Worked};
use std::collections::BTreeSet;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, PoisonError};
use store::{Answer, Day, DayRecipe, DayRow, HeldStep, Row, Settings};

/// How far a day is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Nothing has begun.
    Ahead,
    /// Its first step has begun, its last is not over; or steps of it have no time yet.
    UnderWay,
    /// All of it is over.
    Over,
}

/// A recipe of the day that can be planned.
pub struct Made {
    /// Its place in the day.
    pub place: usize,
    /// Its row.
    pub row: Row,
    /// Times the recipe, all told.
    pub factor: f64,
    /// Its batch at the bench, once it was started there.
    pub bench: Option<Bench>,
}

impl Made {
    /// Steps that are done at the bench, or come before one that is: keys of the plan.
    pub fn done(&self) -> BTreeSet<String> {
        let Some(b) = &self.bench else {
            return BTreeSet::new();
        };
        let passed = b.plan.passed(|k| b.ticked(k));
        let done = b.plan.tasks.iter().zip(passed).filter(|(_, done)| *done);
        let keys = done.filter_map(|(t, _)| t.item.strip_prefix(MARK));
        keys.map(str::to_owned).collect()
    }

    /// Steps that can be done next by what is ticked at the bench; nothing where it is not there.
    pub fn open(&self) -> Option<BTreeSet<String>> {
        let b = self.bench.as_ref().filter(|b| b.batch.finished.is_none())?;
        let next = b.plan.next(|k| b.ticked(k)).into_iter();
        let keys = next.filter_map(|i| b.plan.tasks[i].item.strip_prefix(MARK));
        Some(keys.map(str::to_owned).collect())
    }
}

/// A day opened.
pub struct Planned {
    /// As it is kept.
    pub row: DayRow,
    /// The kitchen's settings.
    pub settings: Arc<Settings>,
    /// The clock.
    pub clock: Clock,
    /// The recipes that are planned, in the order of the plan's batches.
    pub made: Vec<Made>,
    /// What is asked.
    pub ask: Ask,
    /// The plan; none where there is nothing to plan.
    pub plan: Option<Result<Plan, Box<Impossible>>>,
    /// How far it is.
    pub stage: Stage,
    /// What cannot be planned, and why.
    pub troubles: Vec<String>,
}

/// The tasks of a recipe of a day, and times the recipe all told.
fn tasks_of(app: &App, r: &DayRecipe) -> Result<Result<(Row, Tasks, f64), String>, Fault> {
    let Some(row) = app.kitchen.by_uid(&r.recipe)? else {
        return Ok(Err(
            "A recipe of this day is not in this kitchen.".to_owned()
        ));
    };
    let o = open(app, row.id)?;
    let of = |w: &Worked, sheet: &Sheet| {
        let ask = o.draft.sheet.size.clone().unwrap_or_default();
        let sized = w.batch_at(&ask, &o.pantry.larder);
        let factor = sized
            .map_err(|e| format!("{}: {e}. Change the size on its Size page.", o.title()))?
            .factor
            * r.times;
        let mut tasks = tasks(w, sheet, factor);
        // As lists have it.
        o.title().clone_into(&mut tasks.title);
        Ok((tasks, factor))
    };
    let unread = |e: &recipe::sheet::SheetError| format!("{}: {e}", o.title());
    let made = match r.version {
        None => match o.worked() {
            Ok(w) => of(w, &o.draft.sheet),
            Err(e) => Err(unread(e)),
        },
        Some(v) => {
            let sheet = app.kitchen.version(row.id, v)?.sheet;
            let parts = Parts::of(app, &sheet)?.sheets;
            match &work_with(&o.pantry, &o.settings, &sheet, &parts) {
                Ok(w) => of(w, &sheet),
                Err(e) => Err(unread(e)),
            }
        }
    };
    Ok(made.map(|(tasks, factor)| (row, tasks, factor)))
}

/// What a day asks, with the recipes that can be planned.
struct Asked {
    clock: Clock,
    settings: Arc<Settings>,
    made: Vec<Made>,
    ask: Ask,
    troubles: Vec<String>,
}

fn asked(app: &App, id: i64, day: &Day) -> Result<Asked, Fault> {
    let batches = app.kitchen.batches_of_day(id)?;
    let clock = Clock::at(app.now());
    let settings = app.settings()?;
    let (mut made, mut jobs, mut troubles) = (Vec::new(), Vec::new(), Vec::new());
    let mut time = |text: Option<&String>| {
        let minute = clock.kept(text?);
        if minute.is_none() {
            troubles.push(format!(
                "'{}' is no time to be ready at.",
                text.map_or("", |t| t)
            ));
        }
        minute
    };
    let serve = time(day.serve.as_ref());
    let own: Vec<Option<i32>> = day.recipes.iter().map(|r| time(r.serve.as_ref())).collect();
    for (place, r) in day.recipes.iter().enumerate() {
        match tasks_of(app, r)? {
            Ok((row, mut tasks, factor)) => {
                if row.binned.is_some() {
                    troubles.push(format!("{} is in the bin.", row.title));
                }
                // Two of one recipe are told apart.
                let twin = day.recipes[..place]
                    .iter()
                    .filter(|o| o.recipe == r.recipe)
                    .count();
                if twin > 0 {
                    tasks.title = format!("{} ({})", tasks.title, twin + 1);
                }
                let of_it = batches.iter().filter(|b| b.recipe == row.id);
                let twins = twins_of(day, &r.recipe, of_it);
                let mine = twins.into_iter().find(|(at, _)| *at == place);
                let mine = mine.and_then(|(_, batch)| batch.cloned());
                let bench = mine.map(Bench::of).transpose()?;
                made.push(Made {
                    place,
                    row,
                    factor,
                    bench,
                });
                jobs.push((tasks, own[place].or(serve)));
            }
            Err(why) => troubles.push(why),
        }
    }
    let quiet = match &day.quiet {
        Some(text) => Night::read(text).unwrap_or_else(|why| {
            troubles.push(why);
            night(&settings)
        }),
        None => night(&settings),
    };
    let ask = day::ask(&clock, jobs, planned_with(&settings), quiet);
    Ok(Asked {
        clock,
        settings,
        made,
        ask,
        troubles,
    })
}

fn answer(question: String, plan: &Plan) -> Answer {
    Answer {
        question,
        unproven_by: plan.unproven_by,
    }
}

impl Asked {
    /// A mark of all that a plan rests on, but for the present minute.
    fn question(&self, day: &Day) -> String {
        let tasks: Vec<&Tasks> = self.ask.jobs.iter().map(|j| &j.tasks).collect();
        let times: Vec<_> = day.recipes.iter().map(|r| &r.serve).collect();
        let rests = (tasks, &day.serve, times, &self.ask.kitchen, &self.ask.quiet);
        let mut hash = DefaultHasher::new();
        format!("{} {rests:?}", env!("CARGO_PKG_VERSION")).hash(&mut hash);
        format!("{:016x}", hash.finish())
    }

    /// The steps that the day holds, on the clock: those that there still are.
    fn held(&self, day: &Day) -> Vec<Begun> {
        let found = day.held.iter().filter_map(|h| {
            let job = self
                .made
                .iter()
                .position(|m| m.place == h.recipe as usize)?;
            let list = &self.ask.jobs[job].tasks.list;
            let task = list.iter().position(|t| t.key == h.step && !t.left_out)?;
            Some(Begun {
                job,
                task,
                start: self.clock.kept(&h.start)?,
                work_end: self.clock.kept(&h.work_end)?,
                end: self.clock.kept(&h.end)?,
            })
        });
        found.collect()
    }

    /// Steps that are to be done and are not held: batch and task.
    fn missing(&self, held: &[Begun]) -> Vec<(usize, usize)> {
        let jobs = self.ask.jobs.iter().enumerate();
        let all = jobs.flat_map(|(j, job)| {
            // What may be left out and is not held is left out.
            let must = job.tasks.done().filter(|(_, t)| t.optional.is_none());
            must.map(move |(i, _)| (j, i))
        });
        let there = |at: &(usize, usize)| held.iter().any(|b| (b.job, b.task) == *at);
        all.filter(|at| !there(at)).collect()
    }

    fn to_hold(&self, plan: &Plan) -> Vec<HeldStep> {
        let rows = plan.rows.iter().map(|r| HeldStep {
            recipe: self.made[r.job].place as u32,
            step: self.ask.jobs[r.job].tasks.list[r.task].key.clone(),
            start: self.clock.field(r.start),
            work_end: self.clock.field(r.work_end),
            end: self.clock.field(r.end),
            by: Some(self.clock.field(r.start + r.slack)),
        });
        rows.collect()
    }
}

/// Tries to plan a day; why it cannot be is not asked for again until a minute is over.
fn solved(app: &App, id: i64, ask: &Ask, question: &str) -> Result<Plan, Box<Impossible>> {
    let held = || app.unsolved.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(s) = held().get(&id)
        && s.question == question
        // The minutes of the answer are of the same day.
        && s.now <= ask.now
        && app.now() - s.at <= 60
    {
        return Err(s.why.clone());
    }
    let found = plan(ask);
    let mut held = held();
    held.remove(&id);
    if let Err(why) = &found {
        let unsolved = Unsolved {
            question: question.to_owned(),
            now: ask.now,
            at: app.now(),
            why: why.clone(),
        };
        held.insert(id, unsolved);
    }
    found
}

/// Opens a day. Until its first step begins the plan follows recipes and kitchen; from then on it
/// stays as it was.
pub fn planned(app: &App, mut row: DayRow) -> Result<Planned, Fault> {
    let mut asked = asked(app, row.id, &row.day)?;
    let held = asked.held(&row.day);
    let now = asked.clock.now();
    let first = held.iter().map(|b| b.start).min();
    let last = held.iter().map(|b| b.end).max();
    // Steps that a change could not be planned with may still be to come.
    let open = !asked.missing(&held).is_empty();
    let over = |last: i32| last <= now && !(open && last > now - DAY);
    let stage = match (first, last) {
        (Some(_), Some(last)) if over(last) => Stage::Over,
        (Some(first), _) if first <= now => Stage::UnderWay,
        _ => Stage::Ahead,
    };
    let question = asked.question(&row.day);
    let answers = row.day.answers.as_ref();
    let answers = answers.filter(|a| a.question == question && !open && !held.is_empty());
    let plan = if asked.made.is_empty() {
        None
    } else if stage == Stage::Ahead
        && let Some(answer) = answers
    {
        let mut plan = kept(&asked.ask, &held);
        plan.unproven_by = answer.unproven_by;
        plan.proven = answer.unproven_by == 0;
        Some(Ok(plan))
    } else if stage == Stage::Ahead {
        let found = solved(app, row.id, &asked.ask, &question);
        if let Ok(plan) = &found {
            row.day.held = asked.to_hold(plan);
            row.day.answers = Some(answer(question, plan));
            let (held, answers) = (&row.day.held, row.day.answers.clone());
            app.kitchen.hold_day(row.id, row.rev, held, answers)?;
            if plan.start <= now {
                // It begins at once: it is under way.
                return planned(app, row);
            }
        }
        Some(found)
    } else {
        asked
            .ask
            .begin(held.iter().filter(|b| b.start <= now).copied().collect());
        let plan = kept(&asked.ask, &held);
        let missing = asked.missing(&held);
        for &(j, i) in &missing {
            let tasks = &asked.ask.jobs[j].tasks;
            asked.troubles.push(format!(
                "'{}' of {} has no time: the recipe has changed since this was planned, or what was asked last cannot be. Plan the rest from now.",
                tasks.list[i].title(),
                tasks.title
            ));
        }
        // Nothing but what is begun is held: say why.
        if stage == Stage::UnderWay
            && !missing.is_empty()
            && held.iter().all(|b| b.start <= now)
            && let Err(why) = solved(app, row.id, &asked.ask, &format!("{question} {held:?}"))
        {
            let words = day::words::impossible(&why, &asked.ask, &asked.clock);
            let home = locale(&asked.settings);
            let words = words.iter().map(|w| degrees_in(w, home));
            asked.troubles.extend(words);
        }
        Some(Ok(plan))
    };
    Ok(Planned {
        row,
        settings: asked.settings,
        clock: asked.clock,
        made: asked.made,
        ask: asked.ask,
        plan,
        stage,
        troubles: asked.troubles,
    })
}

/// Plans a day from now, and puts the times into it. What is begun stays where it is.
///
/// # Arguments
/// * `begun` — whether a step that the day holds is begun, by the recipe's place and the step's
///   key.
pub fn from_now(
    app: &App,
    row: &DayRow,
    day: &mut Day,
    begun: &dyn Fn(&HeldStep, i32) -> bool,
) -> Result<Planned, Fault> {
    let mut asked = asked(app, row.id, day)?;
    let now = asked.clock.now();
    let clock = asked.clock;
    let kept = Day {
        held: day
            .held
            .iter()
            .filter(|h| clock.kept(&h.start).is_some_and(|start| begun(h, start)))
            .cloned()
            .collect(),
        ..day.clone()
    };
    let mut held = asked.held(&kept);
    for b in &mut held {
        // Begun sooner than planned: it is begun now.
        let early = (b.start - now).max(0);
        (b.start, b.work_end, b.end) = (b.start - early, b.work_end - early, b.end - early);
    }
    let begun = !held.is_empty();
    asked.ask.begin(held);
    let found = (!asked.made.is_empty()).then(|| plan(&asked.ask));
    day.answers = None;
    day.held = match &found {
        Some(Ok(plan)) => {
            let question = asked.question(day);
            day.answers = (!begun).then(|| answer(question, plan));
            asked.to_hold(plan)
        }
        // What is begun is not forgotten because the rest cannot be.
        _ => kept.held,
    };
    Ok(Planned {
        row: DayRow {
            day: day.clone(),
            ..row.clone()
        },
        settings: asked.settings,
        clock,
        made: asked.made,
        ask: asked.ask,
        plan: found,
        stage: Stage::Ahead,
        troubles: asked.troubles,
    })
}
