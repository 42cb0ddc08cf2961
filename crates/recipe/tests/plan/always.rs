//! What holds of every plan, looked at anew in recipes of many ways to write one: nothing here knows how the planner
//! orders steps. The rules are those of any kitchen: common practice, no source.

use super::days::{NINE, ask, holds};
use super::{Locale, Sheet, sheet};
use larder::Larder;
use recipe::plan::{Place, Task, Tasks, plan, tasks};
use recipe::sheet::{Worked, work};

macro_rules! recipes {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("always/", $name, ".txt")))),*]
    };
}

const RECIPES: [(&str, &str); 32] = recipes![
    "au-anzac",
    "au-caramel-slice",
    "au-damper",
    "au-lamington-roll",
    "au-passionfruit",
    "au-silverbeet-pie",
    "odd-baba",
    "odd-cantucci",
    "odd-cheese-twists",
    "odd-custard-doughnuts",
    "odd-frozen-tart",
    "odd-ginger-hot-cold",
    "odd-lamb-pies",
    "odd-meringue-pie",
    "odd-swiss-ice-roll",
    "odd-syrup-cake",
    "odd-tea-loaf",
    "odd-twice-souffle",
    "uk-bakewell",
    "uk-chelsea-ring",
    "uk-coffee-layer",
    "uk-cottage-loaf",
    "uk-leek-pie",
    "uk-lemon-drizzle",
    "uk-plum-crumble",
    "us-blueberry-buckle",
    "us-dinner-rolls",
    "us-key-lime-pie",
    "us-lasagna-rolls",
    "us-monkey-bread",
    "us-pumpkin-bars",
    "us-whoopie",
];

/// A recipe's tasks, and what the checks ask of them.
struct Look {
    name: &'static str,
    w: Worked,
    t: Tasks,
    /// By task, whether each other comes before it, however many between.
    before: Vec<Vec<bool>>,
    wrong: Vec<String>,
}

/// Small letters, without a plural's 's'.
fn plain(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let all = lower.split(|c: char| !c.is_alphabetic());
    let one = |w: &str| match w.strip_suffix('s') {
        Some(one) if w.len() > 3 && !w.ends_with("ss") => one.to_owned(),
        _ => w.to_owned(),
    };
    all.filter(|w| !w.is_empty()).map(one).collect()
}

impl Look {
    fn at(name: &'static str, text: &str) -> Self {
        let sheet = Sheet::new(
            text,
            if name.starts_with("us") {
                Locale::Us
            } else {
                Locale::Uk
            },
        );
        let larder = Larder::built_in().expect("the built-in tables");
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let t = tasks(&w, &sheet, 1.0);
        let n = t.list.len();
        let mut before = vec![vec![false; n]; n];
        for _ in 0..n {
            for i in 0..n {
                for &a in &t.list[i].after {
                    before[i][a] = true;
                    let theirs = before[a].clone();
                    for (mine, theirs) in before[i].iter_mut().zip(theirs) {
                        *mine |= theirs;
                    }
                }
            }
        }
        let wrong = Vec::new();
        Self {
            name,
            w,
            t,
            before,
            wrong,
        }
    }

    fn say(&mut self, words: String) {
        self.wrong.push(format!("{}: {words}", self.name));
    }

    fn called(&self, i: usize) -> String {
        let t = &self.t.list[i];
        format!("'{} ({})' of step {:?}", t.name, t.of, t.step)
    }

    fn all(&self, mine: impl Fn(&Task) -> bool) -> Vec<usize> {
        let list = self.t.list.iter().enumerate();
        list.filter(|(_, t)| mine(t)).map(|(i, _)| i).collect()
    }

    /// A part's foods by one word each that no other part has in a food or its name.
    fn foods(&self, c: usize) -> Vec<String> {
        let parts = &self.w.formula.recipe.components;
        let names = |c: usize| -> Vec<String> {
            let lines = parts[c].lines.iter();
            let items = lines.flat_map(|l| l.items.iter().map(|i| l.words(&i.name)));
            items
                .map(|n| n.split([',', '(']).next().unwrap_or(n).to_owned())
                .collect()
        };
        let others: Vec<String> = (0..parts.len())
            .filter(|o| *o != c)
            .flat_map(|o| names(o).into_iter().chain([parts[o].name.clone()]))
            .flat_map(|n| plain(&n))
            .collect();
        let last = |n: &String| plain(n).pop();
        let mut mine: Vec<String> = names(c).iter().filter_map(last).collect();
        mine.retain(|w| w.len() > 2 && w != "water" && !others.contains(w));
        mine
    }

    /// Each food is weighed before the work that names it.
    fn weighed_before_used(&mut self) {
        for c in 0..self.w.rework.components.len() {
            let weigh = self.all(|t| t.component == c && t.what == "weigh");
            let [weigh] = weigh[..] else { continue };
            for food in self.foods(c) {
                for i in self.all(|t| t.step.is_some() && plain(&t.name).contains(&food)) {
                    if !self.before[i][weigh] {
                        self.say(format!("{} before its {food} is weighed", self.called(i)));
                    }
                }
            }
        }
    }

    /// What makes a part is done before a later step takes it by its name.
    fn made_before_taken(&mut self) {
        let parts = self.w.formula.recipe.components.clone();
        for (c, part) in parts.iter().enumerate() {
            let Some(name) = plain(&part.name).pop() else {
                continue;
            };
            for (&step, says) in &self.t.says.clone() {
                // 'While the filling cools', 'for the filling' take none.
                let lower = says.to_lowercase();
                let said: Vec<String> = lower
                    .split(['.', ';', ','])
                    .filter(|s| !s.trim_start().starts_with("whil") && !s.contains("for the"))
                    .flat_map(plain)
                    .collect();
                let made = self.all(|t| t.component == c && t.step.is_none_or(|s| s < step));
                let takes = self.all(|t| t.step == Some(step) && t.component != c);
                let own = self.all(|t| t.step == Some(step) && t.component == c);
                let (Some(&made), false, true) = (
                    made.last(),
                    takes.is_empty() || !said.contains(&name),
                    own.is_empty(),
                ) else {
                    continue;
                };
                // What comes behind the step itself: put in by the planner.
                if takes.iter().any(|&i| self.before[made][i]) {
                    continue;
                }
                if !takes.iter().any(|&i| self.before[i][made]) {
                    self.say(format!(
                        "step {step} takes the {name} before {}",
                        self.called(made)
                    ));
                }
            }
        }
    }

    /// The oven is hot before each bake, and as hot as that.
    fn heated_before_baked(&mut self) {
        let oven = |t: &Task| t.wait.filter(|w| w.place == Place::Oven);
        for i in self.all(|t| t.what == "bake" && oven(t).is_some()) {
            let before = self.all(|t| t.what == "preheat" || oven(t).is_some());
            let at = oven(&self.t.list[i]).and_then(|w| w.oven);
            let hot = before.iter().filter(|&&b| self.before[i][b]);
            let heats: Vec<usize> = hot.copied().collect();
            let as_hot = |b: &usize| {
                let t = &self.t.list[*b];
                t.what == "bake" || oven(t).and_then(|w| w.oven) == at
            };
            if !heats.iter().any(as_hot) {
                self.say(format!(
                    "no oven at {at:?} is heated for {}",
                    self.called(i)
                ));
            }
        }
    }

    /// Each step is there, and no work of it twice.
    fn once_each(&mut self) {
        for (&step, says) in &self.t.says.clone() {
            let mine = self.all(|t| t.step == Some(step));
            let parts = self.w.rework.components.iter();
            let gone = parts
                .flat_map(|c| &c.method_notes)
                .any(|n| n.leaves_out == Some(step));
            if mine.is_empty() && !gone {
                self.say(format!("nothing is left of step {step}: {says}"));
            }
            let said = plain(says);
            let mut names: Vec<String> = mine
                .iter()
                .flat_map(|&i| {
                    self.t.list[i]
                        .name
                        .to_lowercase()
                        .split(", ")
                        .map(str::to_owned)
                        .collect::<Vec<_>>()
                })
                .collect();
            names.sort();
            for pair in names.windows(2) {
                let verb = plain(&pair[0]).into_iter().next().unwrap_or_default();
                let often = said.iter().filter(|w| w.starts_with(&verb)).count();
                if pair[0] == pair[1] && often < 2 {
                    self.say(format!("'{}' twice in step {step}: {says}", pair[0]));
                }
            }
        }
        // What a step mixes is not mixed by nobody's step as well.
        for i in self.all(|t| t.step.is_none() && t.what == "mix") {
            let name = plain(&self.t.list[i].of).pop().unwrap_or_default();
            let makes = ["mix", "stir", "beat", "whisk", "combine", "rub", "whip"];
            let mut steps = self.t.says.values();
            let told = steps.any(|s| {
                s.to_lowercase().split(['.', ';']).map(plain).any(|s| {
                    s.iter().any(|w| makes.contains(&w.as_str()))
                        && s.windows(2)
                            .any(|w| (w[0] == "the" || w[0] == "for") && w[1] == name)
                })
            });
            if told {
                self.say(format!("{} though a step mixes it", self.called(i)));
            }
        }
    }

    /// What cools was hot.
    fn hot_before_cooled(&mut self) {
        let words = [
            "cook", "fry", "heat", "melt", "simmer", "boil", "toast", "warm", "scald",
        ];
        let says = self.t.says.clone();
        let heats = |t: &Task| {
            matches!(t.what, "bake" | "boil" | "fry" | "melt")
                || plain(&t.name).iter().any(|w| words.contains(&w.as_str()))
                || t.step.is_some_and(|s| says[&s].contains("simmering water"))
        };
        let hot = self.all(heats);
        for i in self.all(|t| t.what.starts_with("cool")) {
            if !hot.iter().any(|&h| self.before[i][h]) {
                self.say(format!("{} was never hot", self.called(i)));
            }
        }
    }

    /// A part's steps keep the order of the text, and nothing waits for itself.
    fn in_order(&mut self) {
        for i in 0..self.t.list.len() {
            if self.before[i][i] {
                self.say(format!("{} waits for itself", self.called(i)));
            }
            for j in 0..self.t.list.len() {
                let (a, b) = (&self.t.list[i], &self.t.list[j]);
                let turned = a.step.zip(b.step).is_some_and(|(a, b)| a < b);
                if a.component == b.component && turned && self.before[i][j] {
                    self.say(format!("{} after {}", self.called(i), self.called(j)));
                }
            }
        }
    }

    /// No part is made for nothing: it comes to another, or another to it.
    fn comes_together(&mut self) {
        let parts = self.w.rework.components.len();
        for c in 0..parts {
            let mine = self.all(|t| t.component == c);
            let theirs = self.all(|t| t.component != c);
            let meets = |&i: &usize| {
                theirs
                    .iter()
                    .any(|&o| self.before[i][o] || self.before[o][i])
            };
            if parts > 1 && !mine.is_empty() && !mine.iter().any(meets) {
                self.say(format!("the {} comes to nothing", self.t.list[mine[0]].of));
            }
        }
    }
}

#[test]
fn every_plan_is_one_that_can_be_worked() {
    let mut wrong = Vec::new();
    for (name, text) in RECIPES {
        let mut look = Look::at(name, text);
        look.weighed_before_used();
        look.made_before_taken();
        look.heated_before_baked();
        look.once_each();
        look.hot_before_cooled();
        look.in_order();
        look.comes_together();
        wrong.append(&mut look.wrong);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// In time too, hands, oven and hours warm among it.
#[test]
fn every_plan_keeps_its_order_in_time() {
    for (name, text) in RECIPES {
        let ask = ask(&[sheet(text)], Some(3 * 1440 + NINE + 600));
        let p = plan(&ask);
        assert!(p.is_ok(), "{name}: {:?}", p.err());
        if let Ok(p) = p {
            holds(&ask, &p);
        }
    }
}
