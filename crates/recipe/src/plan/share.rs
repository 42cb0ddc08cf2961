//! What several tasks share: ovens, cold shelves, pans.

use super::ask::{Ask, Begun};
use super::model::{Model, What, rounds, state, waits};
use super::pans;
use super::stores::{brings_heat, holds, wanted};
use super::task::{Place, Task};
use numeric::schedule::{
    Activity, ActivityId, Choice, Edge, Give, Length, Need, Point, Resource, ResourceId,
};

impl Model {
    /// With several ovens each bake and its heating choose one.
    pub(super) fn share_ovens(&mut self, ask: &Ask) {
        if self.ovens.len() < 2 {
            return;
        }
        let mut states: Vec<i32> = Vec::new();
        for (j, job) in ask.jobs.iter().enumerate() {
            let mut copies: Vec<Option<Vec<ActivityId>>> = vec![None; job.tasks.list.len()];
            for (i, task) in job.tasks.done() {
                if task.wait.is_none_or(|w| w.place != Place::Oven) {
                    continue;
                }
                let Some(main) = self.pieces[j][i].wait else {
                    continue;
                };
                let (_, racks) = rounds(task, ask.kitchen.racks);
                let (low, high) = waits(ask, j, i);
                let state = state(&mut states, &job.tasks, j, i);
                let mine: Vec<ActivityId> = self
                    .ovens
                    .clone()
                    .into_iter()
                    .map(|oven| {
                        let mut a = Activity::new(Length {
                            least: low,
                            most: high.max(low),
                        });
                        a.optional = true;
                        a.needs.push(Need {
                            resource: oven,
                            amount: racks,
                            state: Some(state),
                            brings: brings_heat(&job.tasks, i),
                        });
                        let copy = self.problem.activity(a);
                        for edge in [Edge::Start, Edge::End] {
                            let at = |activity| Point { activity, edge };
                            let what = What::Inside(i);
                            self.lag(j, what, at(main), at(copy), Some(0), Some(0));
                        }
                        if task.optional.is_some() {
                            self.problem.follow(copy, main);
                        }
                        copy
                    })
                    .collect();
                let least = usize::from(task.optional.is_none());
                self.problem.choice(Choice {
                    among: mine.clone(),
                    least,
                    most: 1,
                });
                copies[i] = Some(mine);
            }
            for (i, task) in job.tasks.done() {
                for &before in &task.after {
                    let same = |b: &Task| {
                        b.what == "preheat" || b.wait.is_some_and(|w| w.place == Place::Oven)
                    };
                    if let (Some(a), Some(b)) = (&copies[before], &copies[i])
                        && same(&job.tasks.list[before])
                    {
                        for (x, y) in a.iter().zip(b) {
                            self.problem.follow(*x, *y);
                        }
                    }
                }
            }
        }
    }

    /// What waits for another part takes a shelf, where there may be too few of them.
    pub(super) fn keep_cold(&mut self, ask: &Ask) {
        let kitchen = &ask.kitchen;
        let short = |place, has| wanted(ask, place) > has;
        let fridge = short(Place::Fridge, kitchen.fridge);
        let freezer = short(Place::Freezer, kitchen.freezer);
        for (j, job) in ask.jobs.iter().enumerate() {
            for h in holds(&job.tasks) {
                let (is_short, resource) = match h.place {
                    Place::Freezer => (freezer, self.freezer),
                    _ => (fridge, self.fridge),
                };
                let (a, b) = (self.pieces[j][h.before], self.pieces[j][h.after]);
                let (true, None, Some(end), Some(start)) =
                    (is_short, ask.begun(j, h.after), a.end(), b.start())
                else {
                    continue;
                };
                let kept = self.stretch(resource, 1);
                let what = What::Order(h.before, h.after);
                self.lag(j, what, end, Point::start(kept), Some(0), Some(h.out));
                self.lag(j, what, Point::end(kept), start, Some(0), Some(0));
            }
        }
    }

    /// A pan is taken from where it is filled to where it is turned out, where there may be too few.
    pub(super) fn share_pans(&mut self, ask: &Ask) {
        for set in pans::shared(ask) {
            let of = |&(j, u): &(usize, usize)| &ask.jobs[j].tasks.pans[u];
            if set.users.iter().map(|at| of(at).count).sum::<u32>() <= set.has {
                continue;
            }
            let resource = self.problem.resource(Resource::new(set.has));
            for at in &set.users {
                let (j, used) = (at.0, of(at));
                let (a, b) = (self.pieces[j][used.from], self.pieces[j][used.to]);
                let out = if used.turned_out {
                    b.work.map(Point::end).or_else(|| b.start())
                } else {
                    b.end()
                };
                let over = |b: &Begun| if used.turned_out { b.work_end } else { b.end };
                let empty = ask.begun(j, used.to).is_some_and(|b| over(b) <= ask.now);
                if let (Some(start), Some(out), false) = (a.start(), out, empty) {
                    let full = self.stretch(resource, used.count);
                    let what = What::Inside(used.from);
                    self.lag(j, what, start, Point::start(full), Some(0), Some(0));
                    self.lag(j, what, Point::end(full), out, Some(0), Some(0));
                }
            }
        }
    }

    /// A stretch of any length that takes some of a resource.
    fn stretch(&mut self, resource: ResourceId, amount: u32) -> ActivityId {
        let span = self.problem.span;
        let most = span.to - span.from;
        let mut a = Activity::new(Length { least: 0, most });
        a.give = Give::Never;
        a.needs.push(Need {
            resource,
            amount,
            state: None,
            brings: false,
        });
        self.problem.activity(a)
    }
}
