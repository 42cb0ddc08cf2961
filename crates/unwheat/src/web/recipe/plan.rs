//! The Plan page: every step in time, the figures it rests on, a calendar file.

use super::card::left_to_page;
use super::read::says;
use super::size::of_size;
use super::{Leaf, Open, around, change_to, fields, head, main, open};
use crate::day::clock::Clock;
use crate::day::ics::Calendar;
use crate::day::{self, words};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::kitchen::{night, oven_words, planned_with};
use crate::web::page::{self, back_to};
use crate::web::picture::timeline;
use crate::web::post::{Post, figure};
use crate::web::timed;
use axum::extract::{Path, RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};
use quantity::{Locale, Temperature, degrees_in};
use recipe::plan::{
    AddedStep, Ask, Impossible, OwnStep, Place, Plan, StepChange, Task, Tasks, plan, tasks,
};
use recipe::sheet::{Change, Worked, step_words};

/// A plan or why there is none, for a serving time as typed.
struct Found {
    clock: Clock,
    ask: Ask,
    plan: Result<Plan, Box<Impossible>>,
    /// The serving time that is asked for; nothing for as soon as may be.
    serve: Option<i32>,
    /// What is wrong with what was typed.
    trouble: Option<String>,
    /// The serving time that was typed over just now, as it was kept.
    before: Option<String>,
}

impl Found {
    /// The serving time that was typed over, as it was kept and in words; nothing where it is that of now.
    fn before(&self) -> Option<(&str, String)> {
        let kept = self.before.as_deref()?;
        let minute = self.clock.kept(kept);
        let words = match minute {
            Some(m) => self.clock.words(m),
            None if kept.is_empty() => "as soon as may be".to_owned(),
            None => return None,
        };
        (minute != self.serve).then_some((kept, words))
    }
}

/// The batch that the size asks for, in time.
fn find(app: &App, o: &Open, w: &Worked, asked: Option<&str>) -> Result<Found, Fault> {
    let clock = Clock::at(app.now());
    let typed = match asked {
        Some(asked) => Some(asked.to_owned()),
        None => app.kitchen.serving(o.row.id)?,
    };
    let mut trouble = None;
    let serve = match typed.as_deref() {
        Some("") => None,
        Some(text) => clock.read(text).map_or_else(
            |e| {
                trouble = Some(e);
                None
            },
            Some,
        ),
        None => Some(usual(&clock)),
    };
    let ask = day::ask(
        &clock,
        vec![(batch(o, w), serve)],
        planned_with(&o.settings),
        night(&o.settings),
    );
    let plan = plan(&ask);
    Ok(Found {
        clock,
        ask,
        plan,
        serve,
        trouble,
        before: None,
    })
}

/// The minute it is to be ready at, where a time was kept that is still to come.
pub fn serving(app: &App, recipe: i64, clock: &Clock) -> Result<Option<i32>, Fault> {
    let kept = app.kitchen.serving(recipe)?;
    let minute = kept.and_then(|text| clock.kept(&text));
    Ok(minute.filter(|m| *m > clock.now()))
}

/// The tasks of the recipe at the size that is asked for.
pub fn batch(o: &Open, w: &Worked) -> Tasks {
    let sheet = &o.draft.sheet;
    let mut tasks = tasks(w, sheet, w.batch.factor);
    if tasks.title.is_empty() {
        o.title().clone_into(&mut tasks.title);
    }
    tasks
}

/// Where nobody has said: at four in the afternoon, a day and more from now.
fn usual(clock: &Clock) -> i32 {
    const FOUR: i32 = 16 * 60;
    let day = crate::day::clock::DAY;
    if clock.now() < FOUR {
        FOUR + day
    } else {
        FOUR + 2 * day
    }
}

/// The page, with what is asked in the address.
pub async fn page(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    RawQuery(query): RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let query = query.unwrap_or_default();
        let asked = |key: &str| {
            let mut pairs = form_urlencoded::parse(query.as_bytes());
            pairs.find(|(name, _)| name == key).map(|(_, v)| v)
        };
        let (serve, before) = (asked("serve"), asked("before"));
        let o = open(app, id)?;
        let main = match o.worked() {
            // A question only: nothing is kept of it.
            Ok(w) if serve.is_some() || before.is_some() => {
                let mut found = find(app, &o, w, serve.as_deref().map(str::trim))?;
                found.before = before.map(std::borrow::Cow::into_owned);
                html! { (head(app, &o, Leaf::Plan)) (shown_with(app, &o, &found)) }
            }
            _ => main(app, &o, Leaf::Plan)?,
        };
        around(app, &o, Leaf::Plan, &main)
    })
    .await
}

/// Keeps the serving time that is asked for.
pub async fn serve(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let clock = Clock::at(app.now());
        let kept = match post.some("serve") {
            None => String::new(),
            Some(text) => match clock.read(text) {
                Ok(m) => clock.field(m),
                Err(_) => {
                    let text: String = form_urlencoded::byte_serialize(text.as_bytes()).collect();
                    return Ok(back_to(&format!("/recipe/{id}/plan?serve={text}")));
                }
            },
        };
        let before = match app.kitchen.serving(id)? {
            Some(before) => before,
            None => clock.field(usual(&clock)),
        };
        app.kitchen.put_serving(id, &kept)?;
        if before == kept {
            return Ok(back_to(&format!("/recipe/{id}/plan")));
        }
        let before: String = form_urlencoded::byte_serialize(before.as_bytes()).collect();
        Ok(back_to(&format!("/recipe/{id}/plan?before={before}")))
    })
    .await
}

/// The calendar file.
pub async fn calendar(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let Ok(w) = o.worked() else {
            return Err(Fault::bad(
                "the recipe cannot be read: mend it on its Read page",
            ));
        };
        let found = find(app, &o, w, None)?;
        let Ok(plan) = &found.plan else {
            let body = html! { (head(app, &o, Leaf::Plan)) (shown_with(app, &o, &found)) };
            return around(app, &o, Leaf::Plan, &body);
        };
        let of = |_: usize| format!("recipe-{}", o.row.id);
        let calendar = Calendar {
            ask: &found.ask,
            plan,
            clock: &found.clock,
            name: o.title(),
            of: &of,
            locale: o.home(),
            oven: &|t| oven_words(&o.settings, t),
        };
        Ok(timed::calendar(app, &calendar, "plan.ics"))
    })
    .await
}

/// The page's main part.
pub fn body(app: &App, o: &Open, w: &Worked) -> Result<Markup, Fault> {
    Ok(shown_with(app, o, &find(app, o, w, None)?))
}

fn shown_with(app: &App, o: &Open, found: &Found) -> Markup {
    let tasks = &found.ask.jobs[0].tasks;
    let serve_at = format!("/recipe/{}/serve", o.row.id);
    html! {
        section.sheet aria-labelledby="when" {
            h2 #when { "When" }
            (of_size(o))
            form.row method="post" action=(serve_at) {
                (page::seal(app))
                div {
                    label for="serve" { "Ready at" }
                    input #serve type="datetime-local" name="serve" value=[found.serve.map(|m| found.clock.field(m))] required data-needed="Say when it is to be ready: a day and an hour.";
                }
                button.do { "Plan backwards" }
            }
            @if let Some((kept, words)) = found.before() {
                form #before method="post" action=(serve_at) {
                    (page::seal(app))
                    p role="status" { "Before it was " (words) ". " button.small name="serve" value=(kept) { "Back to that" } }
                }
            }
            div.row {
                form method="post" action=(serve_at) {
                    (page::seal(app))
                    button name="serve" value="" { "As soon as may be" }
                }
                a.button href={ "/days?add=" (o.row.id) @if let Some(m) = found.serve { "&serve=" (found.clock.field(m)) } "#new" } { "Plan it with other recipes" }
            }
            p.hint {
                "Quiet hours " (o.settings.quiet) ", " (o.settings.hands) " at work, " (o.settings.ovens) " oven with " (o.settings.oven_racks) " racks: "
                a href="/kitchen#settings" { "change them" } ". Times are those of the kitchen clock."
            }
            @if let Some(t) = &found.trouble { p.trouble role="alert" { (t) } }
            @match &found.plan {
                Ok(plan) => {
                    p #answer {
                        strong { "Begin " (found.clock.words(plan.start)) } ", ready " (found.clock.words(plan.end)) "."
                        @if plan.proven { @if found.serve.is_some() { " It cannot begin later." } @else { " It cannot be ready sooner." } }
                        " " a.button.small href={ "/recipe/" (o.row.id) "/plan.ics" } download="plan.ics" { "Calendar file with alarms" }
                    }
                    (cautions(&found.ask, plan, o.home()))
                }
                Err(why) => {
                    div.trouble #answer role="alert" {
                        @for s in words::impossible(why, &found.ask, &found.clock) { p { (degrees_in(&s, o.home())) } }
                        (to_change(why, &found.ask, &|_, field| format!("#{field}")))
                    }
                }
            }
        }
        @if let Ok(plan) = &found.plan {
            (shown(found, plan, o.home(), &|t| oven_words(&o.settings, t)))
        }
        (steps(app, o, tasks))
    }
}

/// What stands warm for longer than it should, before all else that is said of a plan.
pub fn cautions(ask: &Ask, plan: &Plan, home: Locale) -> Markup {
    let all = words::cautions(ask, plan);
    html! {
        @if !all.is_empty() {
            div.trouble.cautions { @for words in &all { p { (degrees_in(words, home)) } } }
        }
    }
}

/// The picture and the table of a plan.
fn shown(found: &Found, plan: &Plan, home: Locale, oven: words::OwnOven<'_>) -> Markup {
    let (ask, clock) = (&found.ask, &found.clock);
    let bars = timed::bars(ask, plan);
    let mut day = String::new();
    html! {
        section.sheet aria-labelledby="timeline" {
            h2 #timeline { "The day" }
            div.spread.even {
                div {
                    (timeline("plan", &bars, &[], Some(clock.now()), &|m| clock.hour(m)))
                    p.hint { (timed::STROKES) }
                }
                div {
                    table.ledger.stack {
                        caption.unseen { "The steps in time" }
                        thead { tr { th scope="col" { "Begin" } th scope="col" { "Until" } th scope="col" { "Step" } th scope="col" { "May begin" } th scope="col" { "Held by" } } }
                        tbody {
                            @for r in &plan.rows {
                                @let today = clock.day(r.start);
                                @if today != day {
                                    tr.sum { th colspan="5" scope="rowgroup" { (today) } }
                                    ({ day = today; "" })
                                }
                                @let task = &ask.jobs[r.job].tasks.list[r.task];
                                tr {
                                    td.f data-h="begin" { (clock.hour(r.start)) }
                                    td.f data-h="until" { (clock.hour(r.end)) }
                                    td.full { strong { (words::title(ask, r)) } @if task.guessed() { " " span.tag { "guess" } } br; small { (degrees_in(&words::figures(task, oven), home)) } }
                                    td data-h="may begin" { (words::may_begin(clock, r)) }
                                    td data-h="held by" { small { (words::held(ask, r)) } }
                                }
                            }
                        }
                    }
                }
            }
            ul { @for line in words::below(ask, plan, clock) { li { (degrees_in(&line, home)) } } }
        }
    }
}

/// Links to the fields of the steps that a plan fails by.
///
/// `place`: where a field of a batch's step is changed.
pub fn to_change(why: &Impossible, ask: &Ask, place: &dyn Fn(usize, &str) -> String) -> Markup {
    let all = why.to_change(ask);
    html! {
        @if !all.is_empty() {
            p { "Change: " @for (n, (j, i, what)) in all.iter().enumerate() {
                @let tasks = &ask.jobs[*j].tasks;
                @let task = &tasks.list[*i];
                @if n > 0 { ", " }
                a href=(place(*j, &field(&task.key, what.what()))) {
                    (match what {
                        StepChange::Hands(_) => "work",
                        StepChange::Racks(_) => "shelves or racks",
                        StepChange::Most(_) => "longest wait",
                        _ => "shortest wait",
                    })
                    " of '" (task.title()) "'"
                    @if ask.jobs.len() > 1 { " in " (tasks.title) }
                }
            } "." }
        }
    }
}

/// An id for a step's field.
pub fn field(step: &str, what: &str) -> String {
    let plain: String = step
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '_' })
        .collect();
    format!("step-{plain}-{what}")
}

/// An oven's heat as typed: with a unit, a gas mark or 'fan'; a bare figure is in the degrees that the
/// page shows.
fn oven(value: &str, locale: Locale) -> Result<Option<f64>, Fault> {
    let text = value.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let unit = if locale == Locale::Us { "°F" } else { "°C" };
    let bare = quantity::figure(text).is_some();
    let text = if bare {
        format!("{text} {unit}")
    } else {
        text.to_owned()
    };
    let heat = recipe::heat::oven_temperature(&text).map_err(|e| Fault::bad(e.to_string()))?;
    Ok(Some(heat.as_celsius()))
}

/// Puts a field's value into a change of a step.
pub fn fill(to: &mut StepChange, value: &str, locale: Locale) -> Result<(), Fault> {
    let words = || Some(value.trim().to_owned()).filter(|w| !w.is_empty());
    match to {
        StepChange::Hands(m) | StepChange::Least(m) | StepChange::Most(m) => {
            *m = figure(value, "minutes")?;
        }
        StepChange::Oven(t) => *t = oven(value, locale)?,
        StepChange::Racks(n) => {
            *n = match words() {
                None => None,
                Some(text) => Some(text.parse().map_err(|_| {
                    Fault::bad(format!("'{text}' is no number of racks: write it like 2"))
                })?),
            };
        }
        StepChange::Place(p) => *p = words(),
        StepChange::Optional(t) => *t = words(),
        StepChange::LeftOut(yes) => *yes = value == "yes",
        StepChange::Added(Some(a)) => value.trim().clone_into(&mut a.name),
        StepChange::Added(None) => {}
    }
    Ok(())
}

/// The steps with their figures, to change.
fn steps(app: &App, o: &Open, tasks: &Tasks) -> Markup {
    html! {
        section.sheet aria-labelledby="steps" {
            h2 #steps { "The steps and their minutes" }
            p.hint {
                @if tasks.own_method { "Read from your own method." } @else { "Read from the method, as reworked." }
                " Minutes that it does not say are guesses of common practice, without a source: put your own in. An empty field goes back to what follows."
            }
            @if tasks.own_method { (left_to_page(&tasks.left_to_page)) }
            @for key in &tasks.idle { (idle(app, o, key)) }
            table.ledger.stack {
                caption.unseen { "Minutes of each step" }
                thead { tr { th scope="col" { "Step" } th.f scope="col" { "Work, min" } th.f scope="col" { "Shortest wait, min" } th.f scope="col" { "Longest wait, min" } th scope="col" { "Rests on" } th scope="col" { "Left out" } } }
                tbody { @for t in &tasks.list { (row(app, o, tasks, t)) } }
            }
            (add(app, o, tasks))
        }
    }
}

/// What was decided of a step that the method does not have any more, with a button that drops it.
fn idle(app: &App, o: &Open, key: &str) -> Markup {
    let sheet = &o.draft.sheet;
    let own = sheet.steps.iter().find(|s| s.step == key);
    let added = own.and_then(|s| s.added.as_ref());
    let said = own.and_then(|s| s.words.as_deref());
    let drop = Change::SetStep {
        step: key.to_owned(),
        words: None,
        to: StepChange::Added(None),
    };
    html! {
        form.state.between method="post" action=(change_to(o)) data-live data-k=(field(key, "idle")) {
            (fields(app, o, Leaf::Plan))
            p {
                @match added {
                    Some(a) => { "Your step '" (a.name) "' is not planned" }
                    None => { "What you decided for " (step_words(key)) " is not used" }
                }
                @match said {
                    Some(words) => { ": the method no longer says '" (words) "'. It counts again if that comes back." }
                    None => { ": the method has no such step now." }
                }
            }
            button.small name="change" value=(serde_json::to_string(&drop).unwrap_or_default()) { "Drop it" span.unseen { ": " (step_words(key)) } }
        }
    }
}

fn row(app: &App, o: &Open, tasks: &Tasks, t: &Task) -> Markup {
    let own = tasks.own(&o.draft.sheet, &t.key);
    let shown = |m: f64| span_minutes(halves(m));
    let wait = t.wait.map(|w| w.span);
    html! {
        tr {
            td.full {
                strong { (t.title()) }
                @if let Some(n) = t.step { " " small { "step " (n) } }
                @if let Some(was) = &t.was { br; small { "in the original: " (was) } }
                (more(app, o, t, own))
            }
            td.f data-h="work, min" { (minutes(app, o, t, StepChange::Hands(None), own.and_then(|s| s.hands), Some(shown(t.hands.usual)), "Minutes of work")) }
            td.f data-h="shortest wait" { (minutes(app, o, t, StepChange::Least(None), own.and_then(|s| s.least), wait.map(|s| shown(s.least)), "Shortest wait")) }
            td.f data-h="longest wait" { (minutes(app, o, t, StepChange::Most(None), own.and_then(|s| s.most), wait.map(|s| shown(s.most)), "Longest wait")) }
            td data-h="rests on" {
                small {
                    "work: " (t.hands_basis.word())
                    @if let Some(w) = t.wait { "; " (degrees_in(&words::waits(t, w, &|t| oven_words(&o.settings, t)), o.home())) ": " (t.wait_rests()) }
                    @if let Some(cost) = &t.optional { "; may be left out, which costs " (cost) }
                }
            }
            td data-h="left out" {
                @let change = Change::SetStep { step: t.key.clone(), words: None, to: StepChange::LeftOut(!t.left_out) };
                @let added = own.is_some_and(|s| s.added.is_some());
                @let change = if added { Change::SetStep { step: t.key.clone(), words: None, to: StepChange::Added(None) } } else { change };
                form method="post" action=(change_to(o)) data-live data-k=(field(&t.key, "left_out")) {
                    (fields(app, o, Leaf::Plan))
                    button.small.plain id=(field(&t.key, "left_out")) name="change" value=(serde_json::to_string(&change).unwrap_or_default())
                        aria-label={ @if added { "Take out " } @else if t.left_out { "Put back " } @else { "Leave out " } (t.title()) } {
                        @if added { "Take out" } @else if t.left_out { "Put back" } @else { "Leave out" }
                    }
                }
            }
        }
    }
}

/// Where a step waits, how hot, on how many racks, and what leaving it out costs.
fn more(app: &App, o: &Open, t: &Task, own: Option<&OwnStep>) -> Markup {
    let says_so = |to: &StepChange| Change::SetStep {
        step: t.key.clone(),
        words: None,
        to: to.clone(),
    };
    let form = |to: &StepChange, label: &str, field_of: &dyn Fn(&str) -> Markup| {
        let id = field(&t.key, to.what());
        html! {
            form method="post" action=(change_to(o)) data-live data-k=(id) {
                (fields(app, o, Leaf::Plan))
                (says(&says_so(to)))
                label for=(id) { (label) span.unseen { ": " (t.title()) } }
                (field_of(&id))
            }
        }
    };
    let place = t.wait.map(|w| w.place);
    let own_place = own.and_then(|s| s.place.clone());
    let in_f = o.home() == Locale::Us;
    let shown = |t: f64| recipe::heat::degrees_words(t, in_f);
    let oven = own.and_then(|s| s.oven).map(shown);
    let dial = |t| recipe::heat::oven_words(Temperature::celsius(t), in_f);
    let oven_now = t.wait.and_then(|w| w.oven).map(dial);
    let racks = own.and_then(|s| s.racks);
    let cost = own.and_then(|s| s.optional.clone());
    html! {
        details data-k=(field(&t.key, "more")) {
            summary { "Place and more" span.unseen { ": " (t.title()) } }
            (form(&StepChange::Place(None), "Where it waits", &|id| html! {
                select id=(id) name="value" {
                    option value="" selected[own_place.is_none()] { "as it follows" @if let Some(p) = place.filter(|_| own_place.is_none()) { ": " (p) } }
                    @for p in Place::ALL { option value=(p.key()) selected[own_place.as_deref() == Some(p.key())] { (p) } }
                }
            }))
            @if place == Some(Place::Oven) {
                (form(&StepChange::Oven(None), "Oven, on a still oven's dial", &|id| html! {
                    input.f id=(id) name="value" value=[oven.as_ref()] placeholder=[oven_now.as_ref()] maxlength="20" data-typed;
                }))
            }
            @if place.is_some_and(|p| !p.is_open()) && t.what != "preheat" {
                (form(&StepChange::Racks(None), if place == Some(Place::Oven) { "Racks" } else { "Shelves" }, &|id| html! {
                    input.f id=(id) name="value" value=[racks] placeholder=(t.racks) inputmode="numeric" maxlength="3" data-typed;
                }))
            }
            (form(&StepChange::Optional(None), "May be left out: what that costs", &|id| html! {
                input id=(id) name="value" value=[cost.as_ref()] placeholder="not to be left out" maxlength="200" autocomplete="off" data-typed data-empties;
            }))
        }
    }
}

fn minutes(
    app: &App,
    o: &Open,
    t: &Task,
    to: StepChange,
    own: Option<f64>,
    now: Option<String>,
    label: &str,
) -> Markup {
    let id = field(&t.key, to.what());
    let change = Change::SetStep {
        step: t.key.clone(),
        words: None,
        to,
    };
    html! {
        form method="post" action=(change_to(o)) data-live data-k=(id) {
            (fields(app, o, Leaf::Plan))
            (says(&change))
            input.f id=(id) name="value" value=[own.map(span_minutes)] placeholder=[now] inputmode="decimal" data-typed aria-label={ (label) ": " (t.title()) };
        }
    }
}

/// Minutes to the half: what is guessed or reckoned is no surer.
fn halves(m: f64) -> f64 {
    let half = (m * 2.0).round() / 2.0;
    if m > 0.0 { half.max(0.5) } else { half }
}

/// Minutes in the fewest digits.
fn span_minutes(m: f64) -> String {
    let text = format!("{m:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A step of the baker's own.
fn add(app: &App, o: &Open, tasks: &Tasks) -> Markup {
    let taken = |n: &usize| {
        let key = format!("own:{n}");
        o.draft.sheet.steps.iter().all(|s| s.step != key)
    };
    let next = (1..).find(taken).unwrap_or(1);
    html! {
        @let change = Change::SetStep {
            step: format!("own:{next}"),
            words: None,
            to: StepChange::Added(Some(AddedStep { name: String::new(), after: String::new() })),
        };
        form.row method="post" action=(change_to(o)) {
            (fields(app, o, Leaf::Plan))
            (says(&change))
            div {
                label for="own-name" { "A step of your own" }
                input #own-name name="value" maxlength="200" autocomplete="off" required data-needed="Name the step in a few words.";
            }
            div {
                label for="own-after" { "after" }
                select #own-after name="after" {
                    @for t in &tasks.list { option value=(t.key) { (t.title()) } }
                }
            }
            button { "Put it in" }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Five lines at three quarters of a minute each are weighed in four minutes, not in 3.75.
    #[test]
    fn minutes_are_shown_to_the_half() {
        let shown = |m: f64| span_minutes(halves(m));
        for (minutes, words) in [
            (3.75, "4"),
            (22.5, "22.5"),
            (0.2, "0.5"),
            (0.0, "0"),
            (90.0, "90"),
        ] {
            assert_eq!(shown(minutes), words);
        }
        // What the baker typed stays.
        assert_eq!(span_minutes(3.75), "3.75");
    }
}
