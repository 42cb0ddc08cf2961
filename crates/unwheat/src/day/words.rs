//! A plan in words: the title of a task, what holds it, the whole as text of 80 columns.

use super::clock::{CHANGED, Clock, DAY};
use crate::show::Style;
use crate::show::table::{Side, WIDTH, paragraph, table, wrap};
use quantity::{Locale, degrees_in};
use recipe::plan::{
    Ask, FRIDGE_WORDS, Held, Impossible, Place, Plan, Row, Task, Tasks, WARM_WORDS, Wait,
    changes_heat, kept_in, minutes_words, span_words, uncounted_pans,
};

/// A task with its component, and its recipe where there are several.
pub fn title(ask: &Ask, row: &Row) -> String {
    named(ask, row.job, row.task)
}

/// The same, by place.
pub fn named(ask: &Ask, job: usize, task: usize) -> String {
    let tasks = &ask.jobs[job].tasks;
    let title = tasks.list[task].title();
    if ask.jobs.len() > 1 && !tasks.title.is_empty() {
        format!("{}: {title}", tasks.title)
    } else {
        title
    }
}

/// Minutes in words.
pub fn minutes(m: i32) -> String {
    minutes_words(f64::from(m))
}

/// How long it is to a minute or since, in words: from two days on in days.
pub fn away(m: i32) -> String {
    if m < 2 * DAY {
        return minutes(m);
    }
    format!("{} days", (m + DAY / 2) / DAY)
}

/// What a still oven's temperature, °C, is in the kitchen's own oven: 'in your fan oven 160 °C'. Nothing
/// where it is the same there, or no oven is known.
pub type OwnOven<'a> = &'a dyn Fn(f64) -> Option<String>;

/// No oven is known.
pub const ANY_OVEN: OwnOven<'static> = &|_| None;

/// What a task's figures are and rest on: `2 min, then 33–44 min in the oven at 180 °C (in your fan oven
/// 160 °C)`.
pub fn figures(task: &Task, oven: OwnOven<'_>) -> String {
    let mut parts = Vec::new();
    if task.hands.most > 0.0 {
        parts.push(format!("work {}", span_words(task.hands)));
    }
    parts.extend(task.wait.map(|w| waits(task, w, oven)));
    parts.join(", then ")
}

/// A wait: how long, where, and on how many racks where it takes several.
pub fn waits(task: &Task, w: Wait, oven: OwnOven<'_>) -> String {
    let place = match (w.place, w.oven) {
        (Place::Oven, Some(t)) => {
            let own = oven(t).map_or(String::new(), |words| format!(" ({words})"));
            format!("in the oven at {t:.0} °C{own}")
        }
        (p, _) => p.to_string(),
    };
    let racks = match (w.place, task.racks) {
        (p, n) if p.is_open() || n < 2 => String::new(),
        (Place::Oven, n) => format!(", {n} racks"),
        (_, n) => format!(", {n} shelves"),
    };
    format!("{} {place}{racks}", span_words(w.span))
}

/// Where a task waits: `in the fridge`.
pub fn place(ask: &Ask, row: &Row) -> String {
    let task = &ask.jobs[row.job].tasks.list[row.task];
    task.wait.map_or(String::new(), |w| w.place.to_string())
}

fn ask_title(ask: &Ask, job: usize, task: usize) -> String {
    ask.jobs[job].tasks.list[task].title()
}

/// What keeps a task from beginning later.
pub fn held(ask: &Ask, row: &Row) -> String {
    let name = |t: usize| format!("'{}'", ask.jobs[row.job].tasks.list[t].title());
    // Of the same recipe its name is not said again.
    let named = |ask, j: usize, t: usize| {
        if j == row.job {
            ask_title(ask, j, t)
        } else {
            named(ask, j, t)
        }
    };
    match row.held {
        Held::Serving => "the serving time".to_owned(),
        Held::Before(t) => format!("{} after it", name(t)),
        Held::After(t) => format!("{} before it may not stand", name(t)),
        Held::Hands(j, t) => format!("hands wanted for '{}'", named(ask, j, t)),
        Held::Mixer(j, t) => format!("mixer wanted for '{}'", named(ask, j, t)),
        Held::Oven(j, t) => format!("oven wanted for '{}'", named(ask, j, t)),
        Held::Cold(j, t) => format!("cold shelf wanted for '{}'", named(ask, j, t)),
        Held::Pan(j, t) => format!("pan wanted for '{}'", named(ask, j, t)),
        Held::Quiet => "quiet hours".to_owned(),
        Held::Warm => "egg or milk not to stand warm".to_owned(),
        Held::Nothing => "nothing".to_owned(),
        Held::Begun => "begun".to_owned(),
    }
}

/// How early and how late a task may begin, the others staying where they are.
pub fn may_begin(clock: &Clock, row: &Row) -> String {
    let (from, to) = (row.start - row.lead, row.start + row.slack);
    let hour = |m: i32| clock.beside(m, row.start);
    if row.held == Held::Begun {
        "begun".to_owned()
    } else if from == to {
        "only then".to_owned()
    } else {
        format!("{}–{}", hour(from), hour(to))
    }
}

/// What the column of when a task may begin means.
pub const MAY_BEGIN: &str =
    "May begin: from when to when a step could begin, all the others staying where they are.";

/// A task in full: its figures, what to know, what it rests on. The text of a calendar's event.
pub fn described(ask: &Ask, plan: &Plan, clock: &Clock, row: &Row, oven: OwnOven<'_>) -> String {
    let tasks = &ask.jobs[row.job].tasks;
    let task = &tasks.list[row.task];
    let mut out = vec![format!("{}.", figures(task, oven))];
    if row.work_end > row.start && row.end > row.work_end {
        out.push(format!(
            "Work to {}, wait to {}.",
            clock.beside(row.work_end, row.start),
            clock.beside(row.end, row.start)
        ));
    }
    if let Some(step) = task.step {
        let whose = if tasks.own_method {
            "your method"
        } else {
            "the method"
        };
        out.push(format!("Step {step} of {whose}."));
    }
    let cautions = recipe::plan::cautions(ask, plan).into_iter();
    let mine = cautions.filter(|c| c.job == row.job && c.tasks.contains(&row.task));
    out.extend(mine.map(|c| c.words));
    out.extend(task.notes.iter().cloned());
    out.extend(kept(ask, row));
    if row.slack > 0 {
        out.push(format!(
            "Begin by {} at the latest.",
            clock.beside(row.start + row.slack, row.start)
        ));
    }
    if task.guessed() {
        out.push("Some of these minutes are a guess: common practice, no source.".to_owned());
    }
    if plan
        .rows
        .iter()
        .all(|r| r.job != row.job || r.end <= row.end)
    {
        out.push("Ready.".to_owned());
    }
    out.join("\n")
}

/// How what a task makes is kept until the next takes it, where that is long.
pub fn kept(ask: &Ask, row: &Row) -> Option<String> {
    kept_for(kept_in(&ask.jobs[row.job].tasks.list[row.task])?, row.kept?)
}

/// How something is kept at a place for so many minutes; nothing for less than an hour.
pub fn kept_for(place: Place, long: i32) -> Option<String> {
    let how = match place {
        Place::Bench => String::new(),
        place => format!(" {place}"),
    };
    (long >= 60).then(|| {
        format!(
            "Keep it covered{how} for {}, until it is wanted.",
            minutes(long)
        )
    })
}

/// What stands above 5 °C in a plan for longer than it should, and what to do about it.
pub fn cautions(ask: &Ask, plan: &Plan) -> Vec<String> {
    let all = recipe::plan::cautions(ask, plan).into_iter();
    all.map(|c| c.words).collect()
}

/// The caution that goes with a plan that has a cold or warm limit in it.
pub fn caution(ask: &Ask) -> Option<String> {
    let limited = ask.jobs.iter().any(|j| !j.tasks.limits.is_empty());
    limited.then(|| format!("What holds egg or milk: {WARM_WORDS}. {FRIDGE_WORDS}. Usual advice."))
}

/// What a plan counts no hours for, in sentences: meat and fish, and what the larder does not know.
pub fn uncounted(ask: &Ask) -> Vec<String> {
    let names = |of: &dyn Fn(&Tasks) -> &Vec<String>| {
        let mut out: Vec<&str> = Vec::new();
        for name in ask.jobs.iter().flat_map(|j| of(&j.tasks)) {
            if !out.contains(&name.as_str()) {
                out.push(name);
            }
        }
        out.join(", ")
    };
    let mut out = Vec::new();
    let (meat, unknown) = (names(&|t| &t.meat), names(&|t| &t.unknown));
    if !meat.is_empty() {
        out.push(format!(
            "Hours out of the fridge are not counted here for: {meat}. Keep them at 5 °C or below, two hours out of it at most (1 hour above 32 °C), and go by your local rules."
        ));
    }
    if !unknown.is_empty() {
        out.push(format!(
            "Not known to the larder, so hours out of the fridge are not counted for: {unknown}."
        ));
    }
    out
}

/// A plan as text: a table of 80 columns and a picture of the time.
pub fn text(ask: &Ask, plan: &Plan, clock: &Clock, style: &Style, locale: Locale) -> String {
    let mut out = String::new();
    let titles: Vec<&str> = ask
        .jobs
        .iter()
        .map(|j| match j.tasks.title.as_str() {
            "" => "The recipe",
            t => t,
        })
        .collect();
    for line in wrap(&titles.join(" · "), WIDTH) {
        out.push_str(&format!("{}\n", style.heading(&line)));
    }
    let ready: Vec<String> = plan
        .ready
        .iter()
        .enumerate()
        .map(|(j, m)| {
            if ask.jobs.len() > 1 {
                format!("{} ready {}", titles[j], clock.words(*m))
            } else {
                format!("ready {}", clock.words(*m))
            }
        })
        .collect();
    out.push_str(&paragraph(
        "",
        &format!("Begin {}; {}.", clock.words(plan.start), ready.join("; ")),
    ));
    for words in cautions(ask, plan) {
        out.push_str(&style.mark(&paragraph("", &degrees_in(&words, locale))));
    }
    out.push_str(&super::next::text(ask, plan, clock, style, locale));
    let mut day = None;
    let mut rows: Vec<Vec<String>> = Vec::new();
    let head = ["begin", "until", "what", "may begin", "held by"];
    let sides = [Side::Left, Side::Left, Side::Left, Side::Left, Side::Left];
    let widths = [5, 5, 32, 11, 19];
    let put = |out: &mut String, rows: &mut Vec<Vec<String>>| {
        if !rows.is_empty() {
            out.push_str(&table(&head, &sides, &widths, rows));
            rows.clear();
        }
    };
    for row in &plan.rows {
        let today = clock.day(row.start);
        if day.as_ref() != Some(&today) {
            put(&mut out, &mut rows);
            out.push_str(&format!("\n{}\n", style.heading(&today)));
            day = Some(today);
        }
        let task = &ask.jobs[row.job].tasks.list[row.task];
        let mark = if task.guessed() { " ?" } else { "" };
        rows.push(vec![
            clock.hour(row.start),
            clock.hour(row.end),
            format!(
                "{}{mark}: {}",
                title(ask, row),
                degrees_in(&figures(task, ANY_OVEN), locale)
            ),
            may_begin(clock, row),
            held(ask, row),
        ]);
    }
    put(&mut out, &mut rows);
    out.push('\n');
    out.push_str(&picture(ask, plan, clock));
    out.push('\n');
    for line in below(ask, plan, clock) {
        out.push_str(&paragraph("  ", &degrees_in(&line, locale)));
    }
    out
}

/// What is to know below a plan.
pub fn below(ask: &Ask, plan: &Plan, clock: &Clock) -> Vec<String> {
    let mut out = Vec::new();
    for (j, t) in &plan.skipped {
        let task = &ask.jobs[*j].tasks.list[*t];
        out.push(format!(
            "Left out so that there is time: '{}'. It costs {}.",
            named(ask, *j, *t),
            task.optional.as_deref().unwrap_or("what the method says")
        ));
    }
    out.push(MAY_BEGIN.to_owned());
    for (j, t, minutes) in &plan.over {
        out.push(format!(
            "'{}' has stood {} longer than it should. Where egg or milk is in it, 24 hours in the cold is the most: begin that part anew.",
            named(ask, *j, *t),
            self::minutes(*minutes)
        ));
    }
    for row in &plan.rows {
        let task = &ask.jobs[row.job].tasks.list[row.task];
        if let Some(cost) = &task.optional {
            let title = title(ask, row);
            out.push(format!("{title}: it may be left out, which costs {cost}."));
        }
    }
    for row in &plan.rows {
        if let Some(words) = kept(ask, row) {
            out.push(format!("{}: {words}", title(ask, row)));
        }
    }
    for row in &plan.rows {
        let task = &ask.jobs[row.job].tasks.list[row.task];
        for note in &task.notes {
            let line = format!("{}: {note}", title(ask, row));
            if !out.contains(&line) {
                out.push(line);
            }
        }
    }
    for job in &ask.jobs {
        let several = ask.jobs.len() > 1 && !job.tasks.title.is_empty();
        out.extend(job.tasks.gluten.iter().map(|g| {
            if several {
                format!("{}: {g}", job.tasks.title)
            } else {
                g.clone()
            }
        }));
    }
    if changes_heat(ask) {
        out.push(format!(
            "Between bakes at different temperatures the oven gets {} (common practice, no source; yours may be slower).",
            minutes(ask.kitchen.oven_change as i32)
        ));
    }
    let pans = uncounted_pans(ask);
    if !pans.is_empty() {
        out.push(format!(
            "Taken to be there for every batch that wants one: {}. Say how many there are, and batches wait for each other's.",
            pans.join(", ")
        ));
    }
    out.extend(caution(ask));
    out.extend(uncounted(ask));
    if ask
        .jobs
        .iter()
        .any(|j| j.tasks.done().any(|(_, t)| t.guessed()))
    {
        out.push("What is marked a guess, or ‘?’, rests on common practice, no source. Work is planned at its usual length; a rise or a bake at its longest, and done sooner is ready sooner.".to_owned());
    }
    if !plan.proven {
        out.push(format!(
            "The best plan found within the work allowed; a better one could gain {} at most.",
            minutes(plan.unproven_by)
        ));
    }
    if clock.changes(plan.start, plan.end) {
        out.push(CHANGED.to_owned());
    }
    out
}

/// Why there is no plan, in sentences.
pub fn impossible(why: &Impossible, ask: &Ask, clock: &Clock) -> Vec<String> {
    why.sentences(ask, &|m| clock.words(m))
}

/// Bars over the hours, one for each task: `█` work, `─` wait; those of several recipes recipe by recipe, each under
/// its name.
fn picture(ask: &Ask, plan: &Plan, clock: &Clock) -> String {
    const NAME: usize = 28;
    const BARS: usize = WIDTH - NAME - 1;
    let span = (plan.end - plan.start).max(1);
    let column = |m: i32| {
        ((i64::from(m - plan.start) * BARS as i64) / i64::from(span)).clamp(0, BARS as i64) as usize
    };
    let mut out = String::new();
    let (from, to) = (clock.hour(plan.start), clock.hour(plan.end));
    let gap = BARS.saturating_sub(from.len() + to.len());
    out.push_str(&format!(
        "{}{from}{}{to}\n",
        " ".repeat(NAME + 1),
        " ".repeat(gap)
    ));
    let several = ask.jobs.len() > 1;
    let mut rows: Vec<&Row> = plan.rows.iter().collect();
    if several {
        rows.sort_by_key(|r| (r.job, r.start, r.end));
    }
    let mut of = None;
    for row in rows {
        let tasks = &ask.jobs[row.job].tasks;
        if several && of.replace(row.job) != Some(row.job) && !tasks.title.is_empty() {
            let head = wrap(&tasks.title, WIDTH);
            out.push_str(&format!("{}\n", head.join("\n")));
        }
        let mut bar = vec![' '; BARS];
        let (a, b, c) = (column(row.start), column(row.work_end), column(row.end));
        for x in bar.iter_mut().take(c.max(b)).skip(b) {
            *x = '─';
        }
        for x in bar
            .iter_mut()
            .take(b.max(a + 1).min(BARS))
            .skip(a.min(BARS - 1))
        {
            *x = if row.work_end > row.start {
                '█'
            } else {
                '─'
            };
        }
        let named = tasks.list[row.task].title();
        let under = if several { "  " } else { "" };
        let first = wrap(&named, NAME - under.len()).into_iter().next();
        let name = format!("{under}{}", first.unwrap_or_default());
        let line: String = bar.into_iter().collect();
        let pad = NAME.saturating_sub(unicode_width::UnicodeWidthStr::width(name.as_str()));
        out.push_str(format!("{name}{} {line}", " ".repeat(pad)).trim_end());
        out.push('\n');
    }
    out.push_str("█ work  ─ wait\n");
    out
}
