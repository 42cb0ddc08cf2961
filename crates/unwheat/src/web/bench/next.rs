//! What is next at the bench, and the hours of a batch that is to be ready at a time.

use super::Bench;
use super::batch_sheet::{BatchSheet, MARK, Task, minutes, timed};
use crate::day::clock::Clock;
use crate::day::{self, words};
use crate::web::app::{App, locale};
use crate::web::fault::Fault;
use crate::web::kitchen::{night, planned_with};
use crate::web::recipe::component_name;
use maud::{Markup, html};
use quantity::degrees_in;
use recipe::plan::{Tasks, plan};
use std::collections::BTreeMap;
use store::Settings;

/// Plans a batch for a time, and puts its hours into its sheet. Where there is no such plan the sheet
/// says why, and has no hours.
///
/// # Arguments
/// * `tasks` — of the batch, at its size.
/// * `now` — Unix seconds.
/// * `serve` — the minute of the clock it is to be ready at.
pub fn hours(made: &mut BatchSheet, tasks: Tasks, settings: &Settings, now: i64, serve: i32) {
    let clock = Clock::at(now);
    let (kitchen, night) = (planned_with(settings), night(settings));
    let ask = day::ask(&clock, vec![(tasks, Some(serve))], kitchen, night);
    made.serve = Some(clock.unix(serve));
    match plan(&ask) {
        Ok(found) => timed(made, &ask.jobs[0].tasks, &found, &clock),
        Err(why) => {
            let home = made.measures.as_deref().and_then(|m| m.parse().ok());
            let home = home.unwrap_or_else(|| locale(settings));
            let words = words::impossible(&why, &ask, &clock);
            made.unplanned = words.iter().map(|w| degrees_in(w, home)).collect();
        }
    }
}

/// The hours of a batch of a day are those the day holds now, which may have been planned anew since
/// it began: with the other recipes, their oven and the same hands.
pub fn of_day(app: &App, batch: &store::Batch, made: &mut BatchSheet) -> Result<(), Fault> {
    let Some(uid) = &batch.day else { return Ok(()) };
    let Some(row) = app.kitchen.day_by_uid(uid)? else {
        return Ok(());
    };
    let recipe = app.kitchen.row(batch.recipe)?.uid;
    let begun = app.kitchen.batches_of_day(row.id)?;
    let twins = begun.iter().filter(|b| b.recipe == batch.recipe);
    let places = twins_of(&row.day, &recipe, twins);
    let mine = |b: &&store::Batch| b.id == batch.id;
    if let Some((place, _)) = places.iter().find(|(_, b)| b.as_ref().is_some_and(mine)) {
        held(made, &row.day, *place, &Clock::at(app.now()));
    }
    Ok(())
}

/// The places of a recipe on a day, each with its batch.
///
/// # Arguments
/// * `batches` — of that recipe and that day, in the order they were begun.
///
/// A batch says which it is of; those begun before that was kept go by order, to the places that no
/// other batch is of.
pub fn twins_of<'b>(
    day: &store::Day,
    recipe: &str,
    batches: impl IntoIterator<Item = &'b store::Batch>,
) -> Vec<(usize, Option<&'b store::Batch>)> {
    let key = |b: &&store::Batch| {
        b.plan
            .get("of_day")
            .is_some_and(serde_json::Value::is_string)
    };
    let (named, unnamed): (Vec<_>, Vec<_>) = batches.into_iter().partition(key);
    let mut unnamed = unnamed.into_iter();
    let places = day.recipes.iter().enumerate();
    places
        .filter(|(_, r)| r.recipe == recipe)
        .map(|(place, r)| {
            let here = |b: &&&store::Batch| b.plan["of_day"] == *r.key;
            let batch = named.iter().find(here).copied();
            (place, batch.or_else(|| unnamed.next()))
        })
        .collect()
}

/// Puts the times that a day holds for the recipe at a place into a batch.
pub fn held(made: &mut BatchSheet, day: &store::Day, place: usize, clock: &Clock) {
    let at = |text: &str| clock.kept(text).map(|m| clock.unix(m));
    let own = day.recipes.get(place).and_then(|r| r.serve.as_ref());
    if let Some(serve) = own.or(day.serve.as_ref()).and_then(|text| at(text)) {
        made.serve = Some(serve);
    }
    let mine = |h: &&store::HeldStep| usize::try_from(h.recipe).is_ok_and(|r| r == place);
    let times = day.held.iter().filter(mine).filter_map(|h| {
        let item = format!("{MARK}{}", h.step);
        let begin = at(&h.start)?;
        let by = h.by.as_deref().and_then(at).unwrap_or(begin);
        Some((item, (begin, by, at(&h.end)?)))
    });
    let times: BTreeMap<String, (i64, i64, i64)> = times.collect();
    if times.is_empty() {
        return;
    }
    made.unplanned.clear();
    for t in &mut made.tasks {
        let held = times.get(&t.item);
        t.begin = held.map(|h| h.0);
        t.by = held.map(|h| h.1);
        t.end = held.map(|h| h.2);
    }
    made.settle();
}

/// A moment as the kitchen's clock shows it: the hour, with its day where that is not today.
pub fn hour(at: i64, now: i64) -> String {
    let (at, now) = (Clock::at(at), Clock::at(now));
    let m = at.now();
    if at.day(m) == now.day(now.now()) {
        at.hour(m)
    } else {
        at.words(m)
    }
}

/// Minutes that a step is behind its time.
fn late(t: &Task, now: i64) -> i64 {
    t.by.map_or(0, |by| (now - by) / 60).max(0)
}

/// What is next: every step that can be, the first of them large. Which of them can be is drawn
/// anew by the scripts at each tick.
pub fn show(b: &Bench, now: i64) -> Markup {
    let sheet = &b.plan;
    let can = sheet.next(|k| b.is_done(k));
    let order = sheet.longest_first();
    let first = order.iter().copied().find(|i| can.contains(i));
    let several = sheet.components.len() > 1;
    html! {
        @if !sheet.tasks.is_empty() {
            section.to-do-next aria-labelledby="next-h" {
                h2 #next-h { "What is next" }
                @if let Some(serve) = sheet.serve {
                    @if sheet.unplanned.is_empty() { p.serve { "To be ready at " strong.n { (hour(serve, now)) } "." } }
                    @else { div.trouble { p { "There is no plan for " (hour(serve, now)) ":" } @for s in &sheet.unplanned { p { (s) } } } }
                }
                ol #next {
                    @for (i, t) in order.iter().map(|&i| (i, &sheet.tasks[i])) {
                        li data-next=(t.item) data-after=(t.after.join("\n")) data-behind=[&t.behind] data-of=(t.component) data-weigh[t.what == "weigh"] data-by=[t.by] hidden[!can.contains(&i)] .first[first == Some(i)] {
                            a.big href={ "?part=" (t.component + 1) "#" (anchor(i, t)) } data-to=(t.component) {
                                strong { (t.name) }
                                @if several { " " span.of { (sheet.components.get(t.component).map_or(String::new(), |c| component_name(&c.name))) } }
                                " " small { (figures(t)) }
                            }
                            @if let (Some(begin), Some(by), Some(serve)) = (t.begin, t.by, sheet.serve) {
                                p.when {
                                    @if begin < by { "At " span.n { (hour(begin, now)) } "; start" } @else { "Start" }
                                    " by " span.n { (hour(by, now)) } span.to-serve { " to serve at " span.n { (hour(serve, now)) } } "."
                                    " " strong.late { @if late(t, now) > 0 { (late(t, now)) " min late." } } }
                            }
                        }
                        @if first == Some(i) { li #also hidden[can.len() < 2] { "Also can begin:" } }
                    }
                }
                p #all-done hidden[!can.is_empty()] { "Every step is done." }
            }
        }
    }
}

/// Where a step is found: itself, or the lines of its component where it is the weighing of them.
fn anchor(i: usize, t: &Task) -> String {
    if t.what == "weigh" {
        format!("part-{}", t.component)
    } else {
        format!("s{i}")
    }
}

/// Minutes and heat of a step in words, what is a guess called so.
pub fn figures(t: &Task) -> String {
    let guess = |rests: Option<&str>| {
        if rests == Some("guess") {
            ", a guess"
        } else {
            ""
        }
    };
    let mut parts = Vec::new();
    if t.hands > 0.0 {
        let rests = guess(Some(&t.hands_rests));
        parts.push(format!("work {}{rests}", minutes(t.hands)));
    }
    if let (Some(least), Some(most)) = (t.least, t.most) {
        let span = match (most > least * 1.001, t.may) {
            (false, _) => minutes(least),
            (true, true) if least < 0.1 => format!("up to {}", minutes(most)),
            (true, false) => format!("{} to {}", minutes(least), minutes(most)),
            (true, true) => format!("at least {}, up to {}", minutes(least), minutes(most)),
        };
        let place = match t.place.as_deref() {
            Some("fridge") => " in the fridge",
            Some("freezer") => " in the freezer",
            Some("stove") => " on the stove",
            Some("oven") => " in the oven",
            _ => " in the room",
        };
        let rests = guess(t.wait_rests.as_deref());
        parts.push(format!("{span}{place}{rests}"));
    }
    parts.join("; then ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::bench::batch_sheet::Part;

    /// Names of what can be done next when these are ticked.
    fn told(sheet: &BatchSheet, done: &[&str]) -> String {
        let next = sheet.next(|k| done.contains(&k));
        let names: Vec<&str> = next.iter().map(|&i| sheet.tasks[i].name.as_str()).collect();
        names.join(", ")
    }

    #[test]
    fn what_is_next_follows_the_order_and_forgives_a_forgotten_tick() {
        let task = |name: &str, after: &[&str]| Task {
            item: name.to_owned(),
            name: name.to_owned(),
            after: after.iter().map(|a| (*a).to_owned()).collect(),
            ..Task::default()
        };
        let mut sheet = BatchSheet {
            components: vec![Part::default()],
            tasks: vec![
                task("weigh", &[]),
                task("mix", &["weigh"]),
                task("filling", &[]),
                task("shape", &["mix", "filling"]),
                task("oven", &["mix"]),
                task("bake", &["shape", "oven"]),
            ],
            ..BatchSheet::default()
        };
        for (done, want) in [
            (&[][..], "weigh, filling"),
            (&["weigh"], "mix, filling"),
            (&["mix"], "filling, oven"),
            (&["mix", "filling"], "shape, oven"),
            // What comes before a step that is done is done.
            (&["shape"], "oven"),
            (&["bake"], ""),
        ] {
            assert_eq!(told(&sheet, done), want, "{done:?}");
        }
        // A component whose lines are all ticked is weighed.
        sheet.tasks[0].what = "weigh".to_owned();
        let line = |item: &str| super::super::batch_sheet::Line {
            item: item.to_owned(),
            ..Default::default()
        };
        sheet.components[0].lines = vec![line("0:a"), line("0:b")];
        assert_eq!(told(&sheet, &["0:a"]), "weigh, filling");
        assert_eq!(told(&sheet, &["0:a", "0:b"]), "mix, filling");
    }

    /// Worked by hand: behind the dough's weighing stand 10 + 60 + 30 minutes, behind the oven's heat 20 + 30, behind the
    /// icing's 5; the dough is offered first. With hours their order is that of the plan.
    #[test]
    fn without_hours_what_the_batch_waits_for_longest_is_offered_first() {
        let task = |name: &str, after: &[&str], hands: f64, wait: f64| Task {
            item: name.to_owned(),
            name: name.to_owned(),
            after: after.iter().map(|a| (*a).to_owned()).collect(),
            hands,
            least: Some(wait),
            most: Some(wait),
            ..Task::default()
        };
        let mut sheet = BatchSheet {
            components: vec![Part::default()],
            tasks: vec![
                task("weigh icing", &[], 2.0, 0.0),
                task("weigh dough", &[], 4.0, 0.0),
                task("mix", &["weigh dough"], 10.0, 60.0),
                Task {
                    what: "preheat".to_owned(),
                    ..task("oven", &["weigh dough"], 1.0, 20.0)
                },
                task("bake", &["mix", "oven"], 0.0, 30.0),
                task("ice", &["bake", "weigh icing"], 5.0, 0.0),
            ],
            ..BatchSheet::default()
        };
        let names = |sheet: &BatchSheet| -> Vec<String> {
            let order = sheet.longest_first().into_iter();
            order.map(|i| sheet.tasks[i].name.clone()).collect()
        };
        assert_eq!(
            names(&sheet),
            ["weigh dough", "mix", "oven", "bake", "weigh icing", "ice"]
        );
        // A filling that is boiled is put to cool before the dough is begun.
        sheet.tasks.extend([
            task("boil", &[], 60.0, 60.0),
            task("cool", &["boil"], 3.0, 45.0),
        ]);
        assert_eq!(names(&sheet)[..3], ["boil", "cool", "weigh dough"]);
        sheet.tasks.truncate(6);
        for t in &mut sheet.tasks {
            t.begin = Some(0);
        }
        assert_eq!(names(&sheet)[0], "weigh icing");
    }

    /// With hours, a part is offered when the plan begins it, not with the first; it may be done before.
    #[test]
    fn a_part_is_offered_when_the_plan_begins_it() {
        let task = |name: &str, after: &[&str], begin: i64, end: i64| Task {
            item: name.to_owned(),
            name: name.to_owned(),
            after: after.iter().map(|a| (*a).to_owned()).collect(),
            begin: Some(begin),
            end: Some(end),
            ..Task::default()
        };
        let mut sheet = BatchSheet {
            components: vec![Part::default()],
            tasks: vec![
                task("weigh dough", &[], 0, 10),
                task("mix", &["weigh dough"], 10, 20),
                task("rise", &["mix"], 20, 80),
                task("weigh wash", &[], 70, 75),
                task("brush", &["rise", "weigh wash"], 80, 85),
            ],
            ..BatchSheet::default()
        };
        sheet.settle();
        for (done, want) in [
            (&[][..], "weigh dough"),
            (&["weigh dough"], "mix"),
            (&["mix"], "rise, weigh wash"),
            // Done all the same, it passes nothing but itself.
            (&["weigh wash"], "weigh dough"),
            (&["rise", "weigh wash"], "brush"),
        ] {
            assert_eq!(told(&sheet, done), want, "{done:?}");
        }
        // Weighed out the evening before, so of no minutes: each is offered, none waits for itself.
        sheet.tasks = vec![
            task("weigh dough", &[], 10, 10),
            task("weigh wash", &[], 10, 10),
            task("mix", &["weigh dough"], 10, 20),
            Task {
                what: "preheat".to_owned(),
                ..task("oven", &["mix"], 20, 20)
            },
            task("bake", &["mix", "weigh wash", "oven"], 20, 50),
        ];
        sheet.settle();
        for (done, want) in [
            (&[][..], "weigh dough"),
            (&["weigh dough"], "weigh wash, mix"),
            (&["weigh wash", "mix"], "oven"),
            (&["weigh wash", "oven"], "bake"),
        ] {
            assert_eq!(told(&sheet, done), want, "{done:?}");
        }
    }

    /// A filling that is mixed three hours before it is wanted stands in the fridge, as the plan has it.
    #[test]
    fn what_is_kept_for_hours_says_where() {
        let is = |what: &str, name: &str, after: &[&str], from: i64, to: i64| Task {
            item: name.to_owned(),
            what: what.to_owned(),
            after: after.iter().map(|a| (*a).to_owned()).collect(),
            begin: Some(from * 60),
            end: Some(to * 60),
            ..Task::default()
        };
        let all = [
            is("weigh", "weigh filling", &[], 0, 10),
            is("mix", "mix filling", &["weigh filling"], 100, 110),
            is("preheat", "oven", &["mix filling"], 120, 150),
            is("fill", "fill", &["mix filling", "oven"], 290, 300),
            is("bake", "bake", &["fill"], 310, 340),
            is("cool", "cool", &["bake"], 340, 400),
            is("brush", "glaze", &["cool"], 520, 525),
        ];
        let told: Vec<_> = all.iter().filter_map(|t| t.kept(&all)).collect();
        assert_eq!(
            told,
            [
                "Keep it covered in the fridge for 3 h, until it is wanted.",
                "Keep it covered for 2 h, until it is wanted.",
            ]
        );
    }

    #[test]
    fn twins_keep_their_batches_whatever_is_begun_first_or_taken_off() {
        let recipe = |key: &str| store::DayRecipe {
            key: key.to_owned(),
            recipe: "r".to_owned(),
            version: None,
            times: 1.0,
            serve: None,
        };
        let batch = |of_day: Option<&str>| store::Batch {
            plan: of_day.map_or(
                serde_json::json!({}),
                |k| serde_json::json!({ "of_day": k }),
            ),
            ..store::Batch::default()
        };
        let told = |keys: &[&str], begun: &[Option<&str>]| {
            let day = store::Day {
                recipes: keys.iter().map(|k| recipe(k)).collect(),
                ..store::Day::default()
            };
            let begun: Vec<_> = begun.iter().map(|b| batch(*b)).collect();
            let at = |b: &store::Batch| begun.iter().position(|x| std::ptr::eq(x, b));
            let all = twins_of(&day, "r", &begun);
            all.into_iter()
                .map(|(_, b)| b.and_then(at))
                .collect::<Vec<_>>()
        };
        // The second is begun first; then the first is taken off the day.
        assert_eq!(told(&["a", "b"], &[Some("b")]), [None, Some(0)]);
        assert_eq!(told(&["b"], &[Some("b"), Some("a")]), [Some(0)]);
        assert_eq!(
            told(&["a", "b"], &[Some("b"), Some("a")]),
            [Some(1), Some(0)]
        );
        // Begun before that was kept: by order, beside what is named.
        assert_eq!(told(&["", ""], &[None]), [Some(0), None]);
        assert_eq!(
            told(&["a", "b", "c"], &[None, Some("a")]),
            [Some(1), Some(0), None]
        );
    }

    #[test]
    fn a_day_says_when_its_batch_is_to_begin() {
        let clock = Clock::civil(jiff::civil::date(2026, 11, 29).at(9, 0, 0, 0));
        let step = |recipe: u32, step: &str, start: &str, end: &str| store::HeldStep {
            recipe,
            step: step.to_owned(),
            start: format!("2026-11-29T{start}"),
            work_end: format!("2026-11-29T{start}"),
            end: format!("2026-11-29T{end}"),
            by: (step == "dough:bake").then(|| "2026-11-29T12:20".to_owned()),
        };
        let recipe = |serve: Option<&str>| store::DayRecipe {
            key: "one".to_owned(),
            recipe: "r".to_owned(),
            version: None,
            times: 1.0,
            serve: serve.map(str::to_owned),
        };
        let day = store::Day {
            serve: Some("2026-11-29T16:00".to_owned()),
            recipes: vec![recipe(None), recipe(Some("2026-11-29T17:30"))],
            held: vec![
                step(0, "dough:mix", "10:00", "10:10"),
                step(1, "dough:bake", "12:00", "13:00"),
                step(1, "dough:mix", "11:00", "11:10"),
            ],
            ..store::Day::default()
        };
        let task = |what: &str| Task {
            item: format!("step:dough:{what}"),
            name: what.to_owned(),
            ..Task::default()
        };
        let mut made = BatchSheet {
            tasks: vec![task("mix"), task("bake")],
            unplanned: vec!["Too late.".to_owned()],
            ..BatchSheet::default()
        };
        held(&mut made, &day, 1, &clock);
        let hours = |at: Option<i64>| at.map(|at| hour(at, clock.unix(clock.now())));
        assert_eq!(hours(made.serve).as_deref(), Some("17:30"));
        assert_eq!(hours(made.tasks[0].begin).as_deref(), Some("11:00"));
        assert_eq!(hours(made.tasks[1].end).as_deref(), Some("13:00"));
        // One that may begin later says so; of the other nothing is known but its time.
        assert_eq!(hours(made.tasks[0].by).as_deref(), Some("11:00"));
        assert_eq!(hours(made.tasks[1].by).as_deref(), Some("12:20"));
        assert!(made.unplanned.is_empty());
        // What holds no times yet keeps those of the batch.
        held(
            &mut made,
            &store::Day {
                held: Vec::new(),
                ..day
            },
            0,
            &clock,
        );
        assert_eq!(hours(made.serve).as_deref(), Some("16:00"));
        assert_eq!(hours(made.tasks[0].begin).as_deref(), Some("11:00"));
    }

    #[test]
    fn figures_say_what_is_a_guess() {
        let rise = Task {
            hands: 2.0,
            hands_rests: "guess".to_owned(),
            least: Some(45.0),
            most: Some(90.0),
            wait_rests: Some("reworked".to_owned()),
            place: Some("bench".to_owned()),
            ..Task::default()
        };
        assert_eq!(
            figures(&rise),
            "work 2 min, a guess; then 45 min to 1 h 30 min in the room"
        );
        let chill = Task {
            hands: 0.0,
            may: true,
            most: Some(1440.0),
            place: Some("fridge".to_owned()),
            ..rise
        };
        assert_eq!(figures(&chill), "at least 45 min, up to 24 h in the fridge");
        let due = Task {
            by: Some(1000),
            ..Task::default()
        };
        assert_eq!((late(&due, 900), late(&due, 1000 + 12 * 60)), (0, 12));
    }

    #[test]
    fn why_there_is_no_plan_is_said_in_the_degrees_of_the_recipe() {
        let custard = "Custard\n\n500 g milk\n4 eggs\n\n1. Whisk. Leave to stand for 5 hours.\n2. Bake at 150 °C for 40 minutes.\n";
        let larder = larder::Larder::built_in().expect("the tables");
        let sheet = recipe::sheet::Sheet::new(custard, quantity::Locale::Us);
        let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("a recipe");
        let told = |measures: &str| {
            let mut made = BatchSheet {
                measures: Some(measures.to_owned()),
                ..BatchSheet::default()
            };
            let tasks = recipe::plan::tasks(&w, &sheet, 1.0);
            hours(&mut made, tasks, &Settings::default(), 0, 2880);
            made.unplanned.join(" ")
        };
        let (us, uk) = (told("us"), told("uk"));
        assert!(us.contains("41 °F / 5 °C"), "{us}");
        assert!(uk.contains("above 5 °C") && !uk.contains("°F"), "{uk}");
    }
}
