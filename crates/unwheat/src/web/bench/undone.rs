//! What is not done yet of a batch that is about to be finished.

use super::Bench;
use super::batch_sheet::{BatchSheet, Task, grams, minutes};
use crate::web::recipe::component_name;
use maud::{Markup, html};

/// What is not ticked, and what of the plan's waits cannot have passed.
pub struct Undone {
    /// Lines not ticked, with their grams; a blend is one line.
    pub lines: Vec<String>,
    /// Steps not ticked and not before one that is.
    pub steps: Vec<String>,
    /// Least minutes of rest and oven that the plan has, and those of them that have not passed.
    pub waits: Option<(f64, f64)>,
}

impl Undone {
    /// Of a batch at a moment, Unix seconds.
    pub fn of(b: &Bench, now: i64) -> Self {
        let sheet = &b.plan;
        let lines = sheet.components.iter().flat_map(|c| &c.lines);
        let passed = sheet.passed(|k| b.is_done(k));
        // The lines themselves say what is not weighed.
        let steps = sheet.tasks.iter().zip(passed);
        let steps = steps.filter(|(t, passed)| !passed && t.what != "weigh");
        #[expect(clippy::cast_precision_loss, reason = "seconds of a batch")]
        let since = (now - b.batch.started).max(0) as f64 / 60.0;
        let waits = waits(sheet);
        Self {
            lines: lines
                .filter(|l| !b.is_done(&l.item))
                .map(|l| match l.grams {
                    Some(g) => format!("{} {}\u{a0}g", component_name(&l.name), grams(g)),
                    None => component_name(&l.name),
                })
                .collect(),
            steps: steps.map(|(t, _)| t.name.clone()).collect(),
            // Least times are rough: a tenth of them is no news.
            waits: (waits - since > waits * 0.1).then_some((waits, waits - since)),
        }
    }

    /// Whether there is something to say.
    pub fn any(&self) -> bool {
        !self.lines.is_empty() || !self.steps.is_empty() || self.waits.is_some()
    }

    /// All of it, a sentence each.
    pub fn told(&self) -> Markup {
        let ticked = |list: &[String], one: &str| match list {
            [] => None,
            [only] => Some(format!("One {one} is not ticked: {only}.")),
            all => Some(format!(
                "{} {one}s are not ticked: {}.",
                all.len(),
                all.join("; ")
            )),
        };
        html! {
            @if let Some(words) = ticked(&self.lines, "line") { p { (words) } }
            @if let Some(words) = ticked(&self.steps, "step") { p { (words) } }
            @if let Some((all, left)) = self.waits {
                p { "The plan has at least " span.n { (minutes(all)) } " of rest and oven, from the first step to the end of the bake; "
                    @if left > all - 1.0 { "the batch was begun just now." }
                    @else { span.n { (minutes(left.ceil())) } " of it cannot have passed since the batch was begun." } }
            }
        }
    }
}

/// Least minutes that the steps up to the last bake wait, one after the other; those of all steps
/// where nothing is baked. What may be left out and what cools at the end is not counted.
fn waits(sheet: &BatchSheet) -> f64 {
    let list = &sheet.tasks;
    let bakes = |t: &&Task| t.what == "bake";
    let baked = list.iter().any(|t| bakes(&t));
    let mut known = vec![None; list.len()];
    (0..list.len())
        .filter(|&i| !baked || bakes(&&list[i]))
        .map(|i| waits_to(list, i, &mut known))
        .fold(0.0, f64::max)
}

/// Least minutes from the first step to the end of this one.
fn waits_to(list: &[Task], i: usize, known: &mut [Option<f64>]) -> f64 {
    if let Some(m) = known[i] {
        return m;
    }
    // A step that came after itself would never end.
    known[i] = Some(0.0);
    let t = &list[i];
    let own = t.least.filter(|_| t.optional.is_none()).unwrap_or(0.0);
    let before = (0..list.len()).filter(|&a| t.after.contains(&list[a].item));
    let before = before.map(|a| waits_to(list, a, known)).fold(0.0, f64::max);
    known[i] = Some(before + own);
    before + own
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::bench::batch_sheet::{Line, Part};

    fn task(name: &str, what: &str, least: Option<f64>, after: &[&str]) -> Task {
        Task {
            item: name.to_owned(),
            name: name.to_owned(),
            what: what.to_owned(),
            least,
            after: after.iter().map(|a| (*a).to_owned()).collect(),
            ..Task::default()
        }
    }

    /// What is said of an overnight dough so many minutes after it was begun.
    fn told(ticked: &[&str], since: i64) -> String {
        told_of(ticked.iter().map(|i| (*i, None)).collect(), since)
    }

    /// As `told`, with what the scale showed.
    fn told_of(marks: Vec<(&str, Option<f64>)>, since: i64) -> String {
        let line = |item: &str, g| Line {
            item: item.to_owned(),
            name: item.to_owned(),
            grams: g,
            ..Line::default()
        };
        let mark = |(item, actual): (&str, Option<f64>)| store::Mark {
            item: item.to_owned(),
            ticked: actual.is_none(),
            actual,
            at: 0,
        };
        let b = Bench {
            batch: store::Batch {
                marks: marks.into_iter().map(mark).collect(),
                ..store::Batch::default()
            },
            plan: BatchSheet {
                components: vec![Part {
                    lines: vec![
                        line("psyllium", Some(12.0)),
                        line("salt", Some(6.5)),
                        line("oil", None),
                    ],
                    ..Part::default()
                }],
                tasks: vec![
                    task("Weigh out", "weigh", None, &[]),
                    task("Soak", "hydrate", Some(30.0), &["Weigh out"]),
                    task("Rise", "rise", Some(480.0), &["Soak"]),
                    task("Heat the oven", "preheat", Some(20.0), &["Soak"]),
                    task("Bake", "bake", Some(30.0), &["Rise", "Heat the oven"]),
                    task("Cool", "cool_loaf", Some(180.0), &["Bake"]),
                ],
                ..BatchSheet::default()
            },
            before: None,
        };
        let html = Undone::of(&b, since * 60).told().into_string();
        let html = html
            .replace("<span class=\"n\">", "")
            .replace("</span>", "");
        html.replace("</p><p>", " | ")
            .replace("<p>", "")
            .replace("</p>", "")
    }

    #[test]
    fn what_is_not_done_is_said_by_name_and_hours() {
        let plan = "The plan has at least 9 h of rest and oven, from the first step to the end of the bake; ";
        assert_eq!(
            told(&["salt"], 0),
            format!(
                "2 lines are not ticked: Psyllium 12\u{a0}g; Oil. | 5 steps are not ticked: Soak; Rise; Heat the oven; Bake; Cool. | {plan}the batch was begun just now."
            )
        );
        let all = ["psyllium", "salt", "oil", "Rise"];
        assert_eq!(
            told(&all, 120),
            format!(
                "3 steps are not ticked: Heat the oven; Bake; Cool. | {plan}7 h of it cannot have passed since the batch was begun."
            )
        );
        // Ticked to the end and long enough ago nothing is said; what is before a done step is done.
        let all = ["psyllium", "salt", "oil", "Cool"];
        assert_eq!(told(&all, 500), "");
        let weighed = vec![
            ("psyllium", Some(12.5)),
            ("salt", None),
            ("oil", None),
            ("Cool", None),
        ];
        assert_eq!(told_of(weighed, 500), "");
    }
}
