//! What makes a plan impossible, by asking again with one thing out of account. Nothing is tidied up in
//! the answers, and what no number of hands and ovens would mend is not asked of each of them.

use super::ask::{Ask, Kitchen, Minute};
use super::explain::{Impossible, Short};
use super::model::{Model, Without, model};
use super::pans;
use super::solve::times;
use super::stores::wanted;
use super::task::Place;
use numeric::schedule::{self, Bound, Give, Limits, Problem, Relaxed, Rule, Solution, Trouble};

/// Steps of the search for all questions of one explanation together.
const ALL: u64 = 40_000;
/// Steps for one of them.
const ONE: u64 = 15_000;

/// What makes it impossible: the reason first, then the ways out, what helps soonest first.
pub(super) fn clash(ask: &Ask) -> Impossible {
    Asking::new(ask, ALL).all()
}

/// The questions, and the work that is left for them.
struct Asking<'a> {
    ask: &'a Ask,
    left: u64,
    /// A question was left open.
    cut: bool,
}

/// Neither quiet hours nor now.
const ANYTIME: Without = Without {
    quiet: true,
    now: true,
    ..Without::WALLS
};

impl<'a> Asking<'a> {
    const fn new(ask: &'a Ask, left: u64) -> Self {
        Self {
            ask,
            left,
            cut: false,
        }
    }

    fn all(&mut self) -> Impossible {
        let ask = self.ask;
        let mut out = Impossible::default();
        if let Some(all) = self.placed(ANYTIME) {
            let first = all.iter().min_by_key(|(.., (s, w, _))| (*s, *w));
            out.begin = first.map(|(j, i, (s, ..))| (*j, *i, *s));
            for (j, i, (s, w, _)) in &all {
                if ask.quiet.iter().any(|q| q.shared(*s, *w) > 0) {
                    out.quiet.push((*j, *i, *s, *w));
                }
            }
            out.quiet.sort_by_key(|q| q.2);
        }
        let plenty = Without {
            plenty: true,
            ..Without::WALLS
        };
        let plenty = self.can_be(ask, plenty);
        if plenty {
            out.one_more = self.one_more_pan();
            out.pan = out.one_more.is_some();
        }
        if out.begin.is_none() && !out.pan {
            out.short = self.clashing(ANYTIME);
        }
        out.quiet_minutes = self.quiet_minutes();
        let soon = Without {
            serving: true,
            ..Without::WALLS
        };
        if let Some(all) = self.placed(soon) {
            let late = ask.jobs.iter().enumerate().filter_map(|(j, job)| {
                let mine = all.iter().filter(|(x, ..)| *x == j);
                let ready = mine.map(|(.., t)| t.2).max()?;
                job.serve.filter(|s| ready > *s).map(|_| (j, ready))
            });
            out.earliest = late.max_by_key(|(_, t)| *t);
        }
        let eaten = |l: &super::warm::Limit| l.to.is_none();
        if ask.jobs.iter().any(|j| j.tasks.limits.iter().any(eaten)) {
            let cold = Without {
                eaten: true,
                ..Without::WALLS
            };
            out.keep_cold = self.can_be(ask, cold);
        }
        if plenty && !out.pan {
            out.one_more = self.one_more();
        }
        out.cut = self.cut;
        out
    }

    /// The fewest limits found that would have to be longer for a plan: of one batch by itself where that
    /// is impossible, else of all together.
    fn clashing(&mut self, without: Without) -> Vec<Short> {
        let ask = self.ask;
        let served = ask.jobs.iter().all(|j| j.serve.is_some());
        for job in 0..ask.jobs.len() {
            let mut alone = ask.clone();
            alone.jobs = vec![ask.jobs[job].clone()];
            alone.begun.retain(|b| b.job == job);
            alone.begun.iter_mut().for_each(|b| b.job = 0);
            let any = Without {
                serving: true,
                ..without
            };
            // Whether there is a plan is soon known; what would make one takes far longer.
            let asked = [Some(any), served.then_some(without)];
            let cannot = asked
                .into_iter()
                .flatten()
                .find(|w| self.cannot_be(&alone, *w));
            let mut short = cannot.map_or_else(Vec::new, |w| self.too_short(&alone, w));
            if !short.is_empty() {
                short.iter_mut().for_each(|s| s.job = job);
                return short;
            }
        }
        if ask.jobs.len() > 1 {
            self.too_short(ask, without)
        } else {
            Vec::new()
        }
    }

    /// The fewest limits found that would have to be longer; none where nothing is too short.
    fn too_short(&mut self, ask: &Ask, without: Without) -> Vec<Short> {
        let mut model = model(ask, without);
        model.loosen(ask);
        if without.serving && ask.begun.is_empty() {
            model.pin(ask.now);
        }
        let Some(mut few) = self.given(&model.problem) else {
            return Vec::new();
        };
        // Fewer of them by more minutes are said more easily, where they are enough.
        while few.len() > 1 {
            let fewer = (0..few.len()).find_map(|n| {
                let mut kept = few.clone();
                kept.remove(n);
                self.given(&only(&model, &kept))
            });
            let Some(fewer) = fewer else { break };
            few = fewer;
        }
        // And by no more than they need.
        few = self.given(&only(&model, &few)).unwrap_or(few);
        few.iter()
            .filter_map(|(rule, by)| {
                let (job, what) = model.limited(*rule)?;
                Some(Short { job, what, by: *by })
            })
            .collect()
    }

    /// The rules that give way in the cheapest way out, with their minutes.
    fn given(&mut self, problem: &Problem) -> Option<Vec<(Rule, Minute)>> {
        let rule = |g: &schedule::Given| match g.what {
            Bound::Rule(rule) => Some((rule, g.by)),
            _ => None,
        };
        let way = self.way_out(problem)?;
        Some(way.given.iter().filter_map(rule).collect())
    }

    /// The least minutes of quiet hours to give up, where that alone helps.
    fn quiet_minutes(&mut self) -> Option<Minute> {
        let model = model(self.ask, Without::WALLS);
        model.quiet?;
        let way = self.way_out(&model.problem)?;
        let minutes: Minute = way.given.iter().map(|g| g.by).sum();
        Some(minutes).filter(|m| *m > 0)
    }

    /// The pan of which one more would make it possible: it is soonest borrowed.
    fn one_more_pan(&mut self) -> Option<String> {
        let ask = self.ask;
        for set in pans::shared(ask) {
            let pans = &ask.kitchen.pans;
            let at = pans
                .iter()
                .position(|p| set.name.split(" or ").any(|n| n == p.name));
            if let Some(at) = at.filter(|_| set.users.len() > 1)
                && self.helps(&|k| k.pans[at].count += 1)
            {
                return Some(set.name);
            }
        }
        None
    }

    /// What else one more of would make it possible, or one more of two things.
    fn one_more(&mut self) -> Option<String> {
        let ask = self.ask;
        let short = |place, has| wanted(ask, place) > has;
        let kitchen = &ask.kitchen;
        let mixed = ask
            .jobs
            .iter()
            .any(|j| j.tasks.done().any(|(_, t)| t.mixer));
        type More = fn(&mut Kitchen);
        let all: [(&str, bool, More); 5] = [
            ("pair of hands", true, |k| k.hands += 1),
            ("oven", true, |k| k.ovens += 1),
            ("mixer", mixed, |k| k.mixers += 1),
            ("fridge shelf", short(Place::Fridge, kitchen.fridge), |k| {
                k.fridge += 1
            }),
            (
                "freezer shelf",
                short(Place::Freezer, kitchen.freezer),
                |k| k.freezer += 1,
            ),
        ];
        let all: Vec<_> = all.iter().filter(|(_, may, _)| *may).collect();
        for (what, _, more) in &all {
            if self.helps(more) {
                return Some((*what).to_owned());
            }
        }
        for (n, (what, _, more)) in all.iter().enumerate() {
            for (other, _, also) in &all[n + 1..] {
                if self.helps(&|k| {
                    more(k);
                    also(k);
                }) {
                    return Some(format!("{what} and one more {other}"));
                }
            }
        }
        None
    }

    /// Whether there is a plan in a kitchen with something more.
    fn helps(&mut self, change: &dyn Fn(&mut Kitchen)) -> bool {
        let mut more = self.ask.clone();
        change(&mut more.kitchen);
        self.can_be(&more, Without::WALLS)
    }

    /// Whether there is a plan when something is out of account.
    fn can_be(&mut self, ask: &Ask, without: Without) -> bool {
        let mut model = model(ask, without);
        model.problem.goals.clear();
        self.solve(&model.problem, ONE).is_some()
    }

    /// Whether there is none for certain: an answer that the work allowed ran out before is no reason.
    fn cannot_be(&mut self, ask: &Ask, without: Without) -> bool {
        let cut = std::mem::take(&mut self.cut);
        let none = !self.can_be(ask, without);
        let undecided = std::mem::replace(&mut self.cut, cut);
        self.cut |= undecided;
        none && !undecided
    }

    /// Every task that is done, where it lies when something is out of account; `None` where it is
    /// impossible all the same.
    fn placed(&mut self, without: Without) -> Option<Vec<At>> {
        let model = model(self.ask, without);
        let solution = self.solve(&model.problem, ALL / 2)?;
        let times = times(&model, &solution.placed);
        let jobs = times.into_iter().enumerate();
        Some(
            jobs.flat_map(|(j, job)| {
                let tasks = job.into_iter().enumerate();
                tasks.filter_map(move |(i, t)| Some((j, i, t?)))
            })
            .collect(),
        )
    }

    /// A schedule, if there is one.
    fn solve(&mut self, problem: &Problem, most: u64) -> Option<Solution> {
        let steps = most.min(self.left);
        let answer = schedule::solve(
            problem,
            &Limits {
                steps,
                last: steps,
                explaining: 0,
            },
        );
        let taken = match &answer {
            Ok(solution) => {
                self.cut |= !solution.proven();
                solution.steps
            }
            Err(Trouble::Impossible(why)) => why.steps,
            Err(Trouble::Undecided { steps }) => {
                self.cut = true;
                *steps
            }
            Err(Trouble::Malformed { .. }) => 0,
        };
        self.left = self.left.saturating_sub(taken);
        answer.ok()
    }

    /// The cheapest way out that was found, if any was.
    fn way_out(&mut self, problem: &Problem) -> Option<Relaxed> {
        let explaining = ONE.min(self.left);
        let limits = Limits {
            explaining,
            ..Limits::default()
        };
        let way = schedule::way_out(problem, &limits).ok()?;
        self.left = self.left.saturating_sub(way.steps);
        let proven = way
            .relaxed
            .as_ref()
            .map_or(way.steps < explaining, |r| r.price.proven());
        self.cut |= !proven;
        way.relaxed
    }
}

/// The problem of a model in which nothing but these rules gives way.
fn only(model: &Model, rules: &[(Rule, Minute)]) -> Problem {
    let mut problem = model.problem.clone();
    let kept = |rule: &dyn Fn(&Rule) -> bool| rules.iter().any(|(r, _)| rule(r));
    for (n, lag) in problem.lags.iter_mut().enumerate() {
        if !kept(&|r| matches!(r, Rule::Lag(id, _) if id.0 == n)) {
            lag.give = Give::Never;
        }
    }
    for (n, a) in problem.activities.iter_mut().enumerate() {
        if !kept(&|r| matches!(r, Rule::Start(id, _) | Rule::End(id, _) if id.0 == n)) {
            a.give = Give::Never;
        }
    }
    problem
}

/// Batch, task, and its start, end of work and end.
type At = (usize, usize, (Minute, Minute, Minute));

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Job, Limit, tasks};
    use crate::sheet::{Sheet, work};
    use larder::Larder;
    use quantity::Locale;

    /// So many batches of rolls, each at a heat of its own, all to be eaten 2 minutes after they are cool.
    fn rolls(batches: usize) -> Ask {
        let text = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix and knead for 8 minutes.\n2. Shape into 12 rolls. Let rise for 1 hour.\n3. Bake at 170 °C for 20 minutes.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let jobs = (0..batches).map(|n| {
            let text = text.replace("170 °C", &format!("{} °C", 170 + 15 * n));
            let sheet = Sheet::new(text, Locale::Us);
            let worked = work(&sheet, &[], &larder, &[]).expect("a recipe");
            let mut tasks = tasks(&worked, &sheet, 1.0);
            let from = tasks.list.iter().position(|t| t.what == "bake");
            tasks.limits = vec![Limit::of(from.expect("a bake"), true, None, 47)];
            Job {
                tasks,
                serve: Some(1440 + 16 * 60),
            }
        });
        Ask {
            jobs: jobs.collect(),
            kitchen: Kitchen::default(),
            quiet: Vec::new(),
            now: 0,
            begun: Vec::new(),
        }
    }

    /// Proven by CP-SAT at 5 a minute: `2-rolls-fresh` to `4-rolls-fresh` of `checks/schedule_together.json`.
    #[test]
    fn batches_that_clash_give_way_by_the_least_minutes_another_solver_proved() {
        for (batches, price) in [(2, 275), (3, 825), (4, 1650)] {
            let why = clash(&rolls(batches));
            let minutes: Minute = why.short.iter().map(|s| s.by).sum();
            assert_eq!(minutes * 5, price, "{batches}: {:?}", why.short);
            assert!(!why.cut, "{batches}");
        }
    }

    /// Work is counted over all questions, and what was not asked is told.
    #[test]
    fn all_questions_share_one_budget_and_say_when_it_ran_out() {
        let ask = rolls(4);
        for left in [50, 1_000, 4_000] {
            let mut asking = Asking::new(&ask, left);
            let why = asking.all();
            assert_eq!(asking.left, 0);
            assert!(why.cut && why.one_more.is_none(), "{left}: {why:?}");
            let said = why.sentences(&ask, &|m| m.to_string()).join(" ");
            assert!(said.contains("Not everything was tried"), "{said}");
        }
    }

    /// What could not be tried is not called impossible.
    #[test]
    fn what_is_undecided_is_not_what_makes_it_impossible() {
        let one = rolls(1);
        let mut asking = Asking::new(&one, 0);
        assert!(!asking.cannot_be(&one, Without::WALLS) && asking.cut);
        let (two, mut asking) = (rolls(2), Asking::new(&one, ALL));
        assert!(asking.cannot_be(&two, Without::WALLS) && !asking.cut);
        assert!(!asking.cannot_be(&one, Without::WALLS));
    }
}
