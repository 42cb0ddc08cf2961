//! Limits that clash, in words: what stands, waits or comes too late, by how much, and what to do about it.

use super::ask::{Ask, Minute};
use super::explain::{Limited, Short};
use super::order::reaches;
use super::own::minutes_words;
use super::stands::{shorten_words, shorter};
use super::step::capital;
use super::task::Place;
use super::tasks::Tasks;
use super::warm::{Limit, WARM_WALL};

/// Limits that clash, a sentence for all, and one for each way out.
///
/// # Inputs
/// - `kept`: it is said already to keep it cold until it is eaten.
/// - `task`: a batch's task as it is called.
/// - `clock`: a minute as people say it.
pub(super) fn sentences(
    ask: &Ask,
    (list, kept): (&[Short], bool),
    task: &dyn Fn(usize, usize) -> String,
    clock: &dyn Fn(Minute) -> String,
) -> Vec<String> {
    // What no task ends is eaten.
    let eaten = |s: &Short| match s.what {
        Limited::Warm(i) if limit(&ask.jobs[s.job].tasks, i).is_some_and(|l| l.to.is_none()) => {
            Short {
                what: Limited::Eaten(i),
                ..*s
            }
        }
        _ => *s,
    };
    let list: Vec<Short> = list.iter().map(eaten).collect();
    let all: Vec<String> = list.iter().map(|s| one(ask, s, task)).collect();
    let mut out = match all.as_slice() {
        [] => return Vec::new(),
        [only] => vec![format!("As it is, {only}.")],
        _ => vec![format!(
            "As it is, {}: all of these together.",
            all.join("; ")
        )],
    };
    for s in &list {
        let way = capital(&way_out(ask, (s, kept), task, clock));
        if !way.is_empty() && !out.contains(&way) {
            out.push(way);
        }
    }
    out
}

fn one(ask: &Ask, s: &Short, task: &dyn Fn(usize, usize) -> String) -> String {
    let by = minutes_words(f64::from(s.by));
    match s.what {
        Limited::Wait(i) => format!(
            "{} would have to wait {by} longer than it may",
            task(s.job, i)
        ),
        Limited::Gap(a, b) => format!(
            "{} would come {by} later after {} than it may",
            task(s.job, b),
            task(s.job, a)
        ),
        Limited::Warm(i) => format!(
            "{} would stand above 5 °C {by} longer from {} on than it may{}",
            what_spoils(ask, s.job, i),
            task(s.job, i),
            in_all(&ask.jobs[s.job].tasks, i)
        ),
        Limited::Eaten(i) => format!(
            "{} would stand above 5 °C {by} longer from {} until it is eaten than it may{}",
            what_spoils(ask, s.job, i),
            task(s.job, i),
            in_all(&ask.jobs[s.job].tasks, i)
        ),
        Limited::Ready(i) => format!("{} would be over {by} too late", task(s.job, i)),
    }
}

/// The limit that a task begins, if it begins one.
fn limit(tasks: &Tasks, from: usize) -> Option<&Limit> {
    tasks.limits.iter().find(|l| l.from == from)
}

/// What holds a limit's egg or milk, by its part and its foods: 'the filling (double cream, eggs)'.
fn what_spoils(ask: &Ask, j: usize, from: usize) -> String {
    let tasks = &ask.jobs[j].tasks;
    let Some(c) = limit(tasks, from).map(|l| l.leg.0) else {
        return "what spoils".to_owned();
    };
    let of = tasks.list.iter().find(|t| t.component == c);
    let part = match of.map_or("", |t| t.of.as_str()) {
        "" => "what spoils".to_owned(),
        of => format!("'{of}'"),
    };
    match tasks.spoils.get(&c) {
        Some(foods) => format!("{part} ({foods})"),
        None => part,
    }
}

/// How long it may in all, for what is not baked or fried through.
fn in_all(tasks: &Tasks, from: usize) -> String {
    let leg = limit(tasks, from).map(|l| l.leg);
    let walls = tasks.limits.iter().filter(|l| Some(l.leg) == leg);
    let walls: i64 = walls.map(|l| l.wall).sum();
    let most = if walls as f64 > WARM_WALL / 2.0 { 4 } else { 2 };
    format!(
        ": {most} h in all for what holds egg or milk, work included (your local rules come first)"
    )
}

/// What would make room.
fn way_out(
    ask: &Ask,
    (s, kept): (&Short, bool),
    task: &dyn Fn(usize, usize) -> String,
    clock: &dyn Fn(Minute) -> String,
) -> String {
    let tasks = &ask.jobs[s.job].tasks;
    match s.what {
        Limited::Wait(i) => format!(
            "if it does no harm, give {} a longest wait of your own.",
            task(s.job, i)
        ),
        Limited::Gap(a, b) if tasks.list[b].soon.contains(&a) => format!(
            "make what goes on before {}, to be warmed again if it sets, or take 'while still warm' out of {} if it may go on cold.",
            task(s.job, a),
            task(s.job, b)
        ),
        Limited::Gap(a, b) => format!(
            "write into the method how it is kept between {} and {}, such as 'cover and chill'{}.",
            task(s.job, a),
            task(s.job, b),
            behind(ask, s.job, (a, Some(b)), task)
        ),
        Limited::Warm(i) => {
            let to = limit(tasks, i).and_then(|l| l.to);
            let mut ways = shortened(ask, s, (i, to), task);
            ways.push(format!(
                "put it into the fridge in between, with a step of its own in the method ('cover and chill'){}",
                behind(ask, s.job, (i, to), task)
            ));
            format!("{}.", ways.join(", or "))
        }
        Limited::Eaten(i) => {
            let mut ways = shortened(ask, s, (i, None), task);
            // What is to come is made as late as can be already.
            let soon = ask.jobs[s.job].serve.map(|t| t - s.by);
            let begun = ask.begun.iter().any(|b| b.job == s.job);
            if let Some(at) = soon.filter(|t| begun && *t > ask.now) {
                ways.push(format!("serve it by {} if it is ready then", clock(at)));
            }
            if !kept {
                ways.push("put it into the fridge until it is eaten, with a step of its own in the method ('chill until served')".to_owned());
            }
            match ways.join(", or ") {
                none if none.is_empty() => none,
                ways => format!("{ways}."),
            }
        }
        Limited::Ready(_) => "serve it later, or leave out a step that may be left out.".to_owned(),
    }
}

/// A wait in the room between two tasks that would have to be shorter, where that alone is enough.
fn shortened(
    ask: &Ask,
    s: &Short,
    (from, to): (usize, Option<usize>),
    task: &dyn Fn(usize, usize) -> String,
) -> Vec<String> {
    let list = &ask.jobs[s.job].tasks.list;
    let after = limit(&ask.jobs[s.job].tasks, from).is_some_and(|l| l.after);
    let inside = |t: usize| {
        let begins = t == from && !after || t != from && reaches(list, from, t);
        begins && to.is_none_or(|to| t != to && reaches(list, t, to))
    };
    let room = |t: usize| {
        let wait = list[t].wait.filter(|w| w.place == Place::Bench);
        wait.map(|w| (t, w.span.least))
    };
    let open = |t: &usize| {
        let t_of = &list[*t];
        t_of.what != "hydrate" && !t_of.left_out && ask.begun(s.job, *t).is_none()
    };
    let waits = (0..list.len()).filter(open).filter(|&t| inside(t));
    let waits: Vec<(usize, f64)> = waits.filter_map(room).collect();
    match shorter(&waits, f64::from(s.by)).as_slice() {
        [] | [_, _, _, ..] => Vec::new(),
        ways => vec![shorten_words(list, ways, &|t| task(s.job, t))],
    }
}

/// The longest step of another part between two tasks, where one waits for it: often it need not.
fn behind(
    ask: &Ask,
    j: usize,
    (from, to): (usize, Option<usize>),
    task: &dyn Fn(usize, usize) -> String,
) -> String {
    let list = &ask.jobs[j].tasks.list;
    let other = |&t: &usize| {
        let t_of = &list[t];
        let between = reaches(list, from, t) && to.is_none_or(|to| reaches(list, t, to));
        let apart = t_of.component != list[from].component && !t_of.left_out;
        between && apart && t != from && Some(t) != to
    };
    let length = |t: usize| list[t].hands.usual + list[t].wait.map_or(0.0, |w| w.span.least);
    let longest = (0..list.len()).filter(other);
    let longest = longest.max_by(|&a, &b| length(a).total_cmp(&length(b)));
    longest.map_or_else(String::new, |t| {
        format!(
            "; or, where it need not wait for {}, write the work on each part as a step of its own",
            task(j, t)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Job, Kitchen, plan, tasks};
    use crate::sheet::{Sheet, work};
    use larder::Larder;
    use quantity::Locale;

    /// Worked by hand: from the end of mixing to the oven a rise of an hour does not fit into 30 minutes. It is said
    /// of which food, and a fridge, a shorter rise or an earlier meal would do.
    #[test]
    fn what_stands_too_long_is_named_with_a_way_out() {
        let text = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n2 eggs\n230 g milk\n\n1. Mix and knead for 8 minutes.\n2. Shape into 12 rolls. Let rise for 1 hour.\n3. Bake at 170 °C for 20 minutes.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let sheet = Sheet::new(text, Locale::Metric);
        let worked = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let of = |to_bake: bool| {
            let mut tasks = tasks(&worked, &sheet, 1.0);
            let at = |what| tasks.list.iter().position(|t| t.what == what);
            let (mix, bake) = (at("mix").expect("a mix"), at("bake").expect("a bake"));
            let to = Some(bake).filter(|_| to_bake);
            tasks.limits = vec![Limit::of(mix, true, to, 20)];
            Ask {
                jobs: vec![Job {
                    tasks,
                    serve: Some(1440),
                }],
                kitchen: Kitchen::default(),
                quiet: Vec::new(),
                now: 0,
                begun: Vec::new(),
            }
        };
        for (ask, eaten) in [(of(true), false), (of(false), true)] {
            let why = plan(&ask).expect_err("no plan");
            let said = why.sentences(&ask, &|m| m.to_string()).join(" ");
            assert!(
                said.contains("(egg, whole milk) would stand above 5 °C"),
                "{said}"
            );
            assert!(said.contains("the fridge"), "{said}");
            assert_eq!(said.contains("until it is eaten"), eaten, "{said}");
        }
    }
}
