//! How long a schedule takes: 40 steps of three recipes on one day, and the same when it cannot be.
//!
//! `cargo bench -p numeric --bench schedules`. Aim on one core of an ordinary machine: 300 ms.
//! Measured once on 2026-11-29, release, on two cores that ten other builds shared: the day that can
//! be 0.14 s (631 steps, two goals proven). The one that cannot be is not within the aim: about 15 s
//! to the proven cheapest way out there, several seconds of processor time; see `Limits::explaining`.

use divan::{Bencher, black_box};
use numeric::schedule::{
    Activity, ActivityId, Avoid, Calendar, Changeover, Give, Goal, Kept, Lag, Length, Limits, Need,
    Problem, Resource, Span, Term, solve, way_out,
};

fn main() {
    divan::main();
}

/// A stage: hands on, then a wait of at least and at most so long before the next; whether the
/// mixer is needed; a bake at the end of the wait, minutes and which temperature.
type Stage = (i32, i32, i32, bool, Option<(i32, usize)>);

/// Three recipes of ten stages with a bake or a cold wait each here and there: 40 steps.
const RECIPES: [&[Stage]; 3] = [
    &[
        (10, 480, 960, true, None),
        (15, 30, 60, true, None),
        (10, 20, 40, false, None),
        (10, 45, 75, false, None),
        (5, 0, 10, false, Some((35, 0))),
        (5, 10, 15, false, None),
        (10, 60, 240, false, None),
        (15, 0, 30, true, None),
        (10, 15, 120, false, None),
        (10, 0, 0, false, None),
    ],
    &[
        (20, 60, 1440, true, None),
        (15, 20, 60, false, None),
        (10, 0, 15, false, Some((20, 1))),
        (5, 5, 10, false, None),
        (15, 0, 60, true, None),
        (10, 0, 15, false, Some((45, 2))),
        (5, 60, 600, false, None),
        (15, 30, 120, false, None),
        (10, 0, 20, false, None),
        (5, 0, 0, false, None),
    ],
    &[
        (10, 10, 30, true, None),
        (10, 30, 90, false, None),
        (15, 0, 10, false, Some((12, 1))),
        (10, 0, 5, false, Some((12, 1))),
        (10, 0, 5, false, Some((12, 1))),
        (10, 30, 720, false, None),
        (15, 0, 30, true, None),
        (10, 20, 90, false, None),
        (10, 0, 0, false, Some((15, 0))),
        (5, 0, 0, false, None),
    ],
];

fn day(serve: i32) -> Problem {
    let mut day = Problem::new(Span {
        from: 0,
        to: 3 * 1440,
    });
    day.sooner = Give::At(1);
    let hands = day.resource(Resource::new(1));
    let mixer = day.resource(Resource::new(1));
    let mut oven = Resource::new(2);
    oven.changeover = Changeover::Same(15);
    let oven = day.resource(oven);
    let quiet = day.calendar(Calendar {
        closed: (-1..3)
            .map(|d| Span {
                from: d * 1440 + 1320,
                to: d * 1440 + 1860,
            })
            .collect(),
        give: Give::At(1),
    });
    let need = |resource, state| Need {
        resource,
        amount: 1,
        state,
        brings: false,
    };
    let mut waits = Vec::new();
    for recipe in RECIPES {
        let mut last: Option<(ActivityId, i32, i32)> = None;
        let join = |day: &mut Problem, last: Option<(ActivityId, i32, i32)>, next| {
            last.map(|(before, least, most)| {
                (day.lag(Lag::after(before, next, least, Some(most))), least)
            })
        };
        for (minutes, least, most, mixing, bake) in recipe {
            let mut step = Activity::new(Length::fixed(*minutes));
            step.needs.push(need(hands, None));
            if *mixing {
                step.needs.push(need(mixer, None));
            }
            step.avoids.push(Avoid {
                calendar: quiet,
                kept: Kept::Whole,
            });
            let step = day.activity(step);
            waits.extend(join(&mut day, last, step));
            last = Some((step, *least, (*most).max(30)));
            if let Some((minutes, temperature)) = bake {
                let mut bake = Activity::new(Length::fixed(*minutes));
                bake.needs.push(need(oven, Some(*temperature)));
                bake.avoids.push(Avoid {
                    calendar: quiet,
                    kept: Kept::Whole,
                });
                let bake = day.activity(bake);
                waits.extend(join(&mut day, last, bake));
                last = Some((bake, 0, 60));
            }
        }
        if let Some((last, ..)) = last {
            day.activities[last.0].end.latest = Some(serve);
        }
    }
    day.goal(Goal::latest_start());
    day.goal(Goal {
        terms: waits
            .iter()
            .map(|(lag, least)| (1, Term::LagOver(*lag, *least)))
            .collect(),
    });
    day
}

/// A day that can be, to a proven optimum of two goals.
#[divan::bench]
fn forty_steps(bencher: Bencher) {
    let day = day(2 * 1440 + 1080);
    assert!(day.activities.len() >= 35);
    let solution = solve(&day, &Limits::default()).expect("a day that can be");
    assert!(solution.proven(), "{:?}", solution.goals);
    bencher.bench(|| solve(black_box(&day), &Limits::default()));
}

/// A day that cannot be: which rules clash, and the cheapest way out.
#[divan::bench]
fn forty_steps_that_cannot_be(bencher: Bencher) {
    let day = day(700);
    assert!(solve(&day, &Limits::default()).is_err());
    bencher.bench(|| solve(black_box(&day), &Limits::default()));
}

/// The cheapest way out alone.
#[divan::bench]
fn way_out_of_it(bencher: Bencher) {
    let day = day(700);
    bencher.bench(|| way_out(black_box(&day), &Limits::default()));
}
