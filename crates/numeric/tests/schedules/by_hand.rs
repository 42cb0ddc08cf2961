//! Small schedules whose answers anybody can work out.

use numeric::schedule::{
    Activity, ActivityId, Avoid, Bound, Calendar, Changeover, Choice, Give, Given, Goal, Kept, Lag,
    Length, Limits, Need, Placed, Problem, Resource, ResourceId, Rule, Side, Solution, Span, Taken,
    Term, Trouble, solve, way_out,
};

fn day() -> Problem {
    Problem::new(Span { from: 0, to: 2880 })
}

fn lasting(minutes: i32) -> Activity {
    Activity::new(Length::fixed(minutes))
}

fn holding(minutes: i32, resource: ResourceId, state: Option<usize>) -> Activity {
    let mut activity = lasting(minutes);
    activity.needs.push(Need {
        resource,
        amount: 1,
        state,
        brings: false,
    });
    activity
}

fn solved(problem: &Problem) -> Solution {
    let solution = solve(problem, &Limits::default()).expect("a schedule");
    assert!(solution.proven());
    assert!(problem.fits(&solution.placed));
    assert_eq!(problem.broken(&solution.placed), []);
    solution
}

fn start(solution: &Solution, activity: ActivityId) -> i32 {
    solution.of(activity).expect("it is there").start
}

#[test]
fn hands_on_work_waits_for_the_morning_and_a_rise_runs_through_the_night() {
    let mut p = day();
    // 22:00 to 07:00.
    let night = p.calendar(Calendar {
        closed: vec![Span {
            from: 1320,
            to: 1860,
        }],
        give: Give::At(1),
    });
    let mut mix = lasting(20);
    mix.start.earliest = Some(1280);
    mix.avoids.push(Avoid {
        calendar: night,
        kept: Kept::Whole,
    });
    let mix = p.activity(mix);
    let rise = p.activity(Activity::new(Length {
        least: 480,
        most: 960,
    }));
    let mut shape = lasting(15);
    shape.avoids.push(Avoid {
        calendar: night,
        kept: Kept::Whole,
    });
    let shape = p.activity(shape);
    p.lag(Lag::after(mix, rise, 0, Some(0)));
    p.lag(Lag::after(rise, shape, 0, Some(0)));
    p.goal(Goal::soonest());
    let solution = solved(&p);
    assert_eq!(start(&solution, mix), 1280);
    assert_eq!(start(&solution, shape), 1860);
    let rise = solution.of(rise).expect("it is there");
    assert_eq!((rise.start, rise.end), (1300, 1860));
}

/// What has no length takes nothing, also of what there is none of.
#[test]
fn a_stretch_of_no_length_needs_no_shelf() {
    let mut p = day();
    let shelf = p.resource(Resource::new(0));
    let (one, two) = (p.activity(lasting(10)), p.activity(lasting(10)));
    let mut kept = Activity::new(Length {
        least: 0,
        most: 600,
    });
    kept.needs.push(Need {
        resource: shelf,
        amount: 1,
        state: None,
        brings: false,
    });
    let kept = p.activity(kept);
    p.lag(Lag::after(one, kept, 0, Some(60)));
    p.lag(Lag::after(kept, two, 0, Some(0)));
    p.goal(Goal {
        terms: vec![(1, Term::Start(one)), (-1, Term::Start(two))],
    });
    let solution = solved(&p);
    assert_eq!(start(&solution, two) - start(&solution, one), 70);
}

/// From 200 to 180 °C takes 15 minutes, but not where what is put in brings the oven there itself.
#[test]
fn what_brings_a_state_about_waits_for_no_change() {
    for (brings, second) in [(false, 55), (true, 40)] {
        let mut p = day();
        let mut oven = Resource::new(1);
        oven.changeover = Changeover::Same(15);
        let oven = p.resource(oven);
        let first = p.activity(holding(40, oven, Some(0)));
        let mut next = holding(30, oven, Some(1));
        next.needs[0].brings = brings;
        let next = p.activity(next);
        p.lag(Lag::after(first, next, 0, None));
        p.goal(Goal::soonest());
        assert_eq!(start(&solved(&p), next), second);
    }
}

#[test]
fn an_oven_takes_two_tins_at_one_temperature_and_changes_between_two() {
    let bakes = |states: [usize; 2]| {
        let mut p = day();
        let mut oven = Resource::new(2);
        oven.changeover = Changeover::Table(vec![vec![0, 10], vec![25, 0]]);
        let oven = p.resource(oven);
        let a = p.activity(holding(30, oven, Some(states[0])));
        let b = p.activity(holding(40, oven, Some(states[1])));
        p.goal(Goal::soonest());
        let solution = solved(&p);
        (
            solution.goals[0].value,
            start(&solution, a),
            start(&solution, b),
        )
    };
    assert_eq!(bakes([0, 0]), (40, 0, 0));
    // Warming up takes 10, cooling down 25: the cooler bake goes first.
    assert_eq!(bakes([0, 1]), (80, 0, 40));
    assert_eq!(bakes([1, 0]), (80, 50, 0));
}

#[test]
fn what_is_spoken_for_is_kept_clear_and_shelves_fill_up() {
    let mut p = day();
    let mut shelf = Resource::new(3);
    shelf.taken.push(Taken {
        span: Span { from: 0, to: 100 },
        amount: 2,
    });
    let shelf = p.resource(shelf);
    for _ in 0..2 {
        let mut cold = Activity::new(Length {
            least: 60,
            most: 90,
        });
        cold.needs.push(Need {
            resource: shelf,
            amount: 1,
            state: None,
            brings: false,
        });
        p.activity(cold);
    }
    p.goal(Goal::soonest());
    // One beside what is there, the other after it: 60 and 60, or at 100.
    assert_eq!(solved(&p).goals[0].value, 120);
}

#[test]
fn a_step_is_left_out_only_where_keeping_it_costs_more() {
    let with = |serve: i32| {
        let mut p = day();
        let mix = p.activity(lasting(10));
        let mut rest = lasting(30);
        rest.optional = true;
        let rest = p.activity(rest);
        let mut bake = lasting(40);
        bake.end.latest = Some(serve);
        let bake = p.activity(bake);
        p.lag(Lag::after(mix, bake, 0, None));
        p.lag(Lag::after(mix, rest, 0, None));
        p.lag(Lag::after(rest, bake, 0, None));
        p.goal(Goal {
            terms: vec![(1, Term::Skipped(rest))],
        });
        p.goal(Goal::latest_start());
        let solution = solved(&p);
        (solution.of(rest).is_some(), start(&solution, mix))
    };
    assert_eq!(with(100), (true, 20));
    assert_eq!(with(79), (false, 29));
}

#[test]
fn one_of_two_ways_is_chosen_and_what_it_needs_comes_with_it() {
    let mut p = day();
    let optional = |minutes| {
        let mut activity = lasting(minutes);
        activity.optional = true;
        activity
    };
    let warm = p.activity(optional(60));
    let cold = p.activity(optional(600));
    let tin = p.activity(optional(5));
    let bake = p.activity(lasting(30));
    for way in [warm, cold] {
        p.lag(Lag::after(way, bake, 0, Some(0)));
    }
    p.choice(Choice {
        among: vec![warm, cold],
        least: 1,
        most: 1,
    });
    p.follow(warm, tin);
    p.goal(Goal::soonest());
    let solution = solved(&p);
    assert!(solution.of(warm).is_some() && solution.of(tin).is_some());
    assert_eq!(solution.of(cold), None);
    assert_eq!(solution.goals[0].value, 90);
}

#[test]
fn goals_count_what_they_say() {
    let mut p = day();
    let a = p.activity(lasting(10));
    let b = p.activity(Activity::new(Length {
        least: 20,
        most: 60,
    }));
    let lag = p.lag(Lag::after(a, b, 5, Some(100)));
    let placed = [(0, 10), (40, 75)].map(|(start, end)| Some(Placed { start, end }));
    for (term, value) in [
        (Term::FirstStart, 0),
        (Term::LastEnd, 75),
        (Term::Start(b), 40),
        (Term::End(a), 10),
        (Term::Skipped(a), 0),
        (Term::LagOver(lag, 20), 10),
        (Term::LagOver(lag, 50), 0),
        (Term::LongerThan(b, 30), 5),
        (Term::ShorterThan(b, 60), 25),
        (Term::EndsBefore(b, 80), 5),
        (Term::EndsAfter(b, 70), 5),
        (Term::StartsBefore(b, 45), 5),
        (Term::StartsAfter(b, 30), 10),
    ] {
        let goal = Goal {
            terms: vec![(3, term)],
        };
        assert_eq!(p.value(&goal, &placed), 3 * value, "{term:?}");
    }
}

#[test]
fn a_clash_names_its_rules_and_no_others_and_says_by_how_much() {
    let mut p = day();
    let hands = p.resource(Resource::new(1));
    let mut first = holding(30, hands, None);
    first.start.earliest = Some(100);
    let first = p.activity(first);
    let mut last = holding(40, hands, None);
    last.end.latest = Some(200);
    let last = p.activity(last);
    let wait = p.lag(Lag::after(first, last, 60, None));
    // Has no part in it.
    let aside = p.activity(holding(10, hands, None));
    p.lag(Lag::after(aside, last, 0, None));
    let Err(Trouble::Impossible(why)) = solve(&p, &Limits::default()) else {
        panic!("130 minutes do not fit into 100");
    };
    assert!(why.clash_proven);
    assert_eq!(
        why.clash,
        [
            Rule::Lag(wait, Side::Least),
            Rule::Start(first, Side::Least),
            Rule::End(last, Side::Most),
        ]
    );
    let relaxed = why.relaxed.expect("a way out");
    assert_eq!((relaxed.price.value, relaxed.price.bound), (30, 30));
    // Asked what the end alone would have to give.
    p.activities[first.0].give = Give::Never;
    let alone = way_out(&p, &Limits::default()).expect("it makes sense");
    let given = alone.relaxed.expect("a way out").given;
    let what = Bound::Rule(Rule::End(last, Side::Most));
    assert_eq!(given, [Given { what, by: 30 }]);
    // And nothing can be had where nothing gives way.
    p.activities[last.0].give = Give::Never;
    let none = way_out(&p, &Limits::default()).expect("it makes sense");
    assert_eq!(none.relaxed, None);
}

#[test]
fn quiet_hours_give_way_once_for_all_who_need_them() {
    let mut p = day();
    let night = p.calendar(Calendar {
        closed: vec![Span {
            from: 1320,
            to: 1860,
        }],
        give: Give::At(1),
    });
    for _ in 0..3 {
        let mut work = lasting(30);
        work.give = Give::Never;
        work.start.earliest = Some(1310);
        work.end.latest = Some(1400);
        work.avoids.push(Avoid {
            calendar: night,
            kept: Kept::Whole,
        });
        p.activity(work);
    }
    let Err(Trouble::Impossible(why)) = solve(&p, &Limits::default()) else {
        panic!("at night");
    };
    let relaxed = why.relaxed.expect("a way out");
    // All three at once, from 22:10 less ten minutes on: 20 minutes of the night.
    assert_eq!(relaxed.price.value, 20);
    assert_eq!(relaxed.given.len(), 1);
    assert_eq!(relaxed.given[0].what, Bound::ClosedFrom(night, 0));
}

#[test]
fn one_more_pair_of_hands_may_be_the_way_out() {
    let mut p = day();
    let mut hands = Resource::new(1);
    hands.give = Give::At(10);
    let hands = p.resource(hands);
    for _ in 0..2 {
        let mut work = holding(60, hands, None);
        work.end.latest = Some(60);
        work.give = Give::At(1);
        p.activity(work);
    }
    let Err(Trouble::Impossible(why)) = solve(&p, &Limits::default()) else {
        panic!("two hours in one");
    };
    let relaxed = why.relaxed.expect("a way out");
    let what = Bound::Rule(Rule::Capacity(hands));
    assert_eq!(relaxed.given, [Given { what, by: 1 }]);
}

#[test]
fn the_limit_gives_the_best_found_with_a_bound_that_holds() {
    let hard = super::instances(super::PROJECTS);
    let hard = hard
        .iter()
        .find(|i| i.id == "progen-22")
        .expect("the hardest");
    let optimum = hard.optimum.as_ref().expect("proven")[0];
    let few = Limits {
        steps: 120,
        explaining: 120,
        ..Limits::default()
    };
    let found = solve(&hard.problem, &few).expect("a schedule");
    assert_eq!(hard.problem.broken(&found.placed), []);
    let reached = found.goals[0];
    assert!(!reached.proven());
    assert!(
        reached.bound <= optimum && optimum <= reached.value,
        "{reached:?}"
    );
    // Nothing at all can be said within one step.
    let none = Limits {
        steps: 1,
        explaining: 1,
        ..Limits::default()
    };
    assert!(matches!(
        solve(&hard.problem, &none),
        Err(Trouble::Undecided { .. })
    ));
}

#[test]
fn equal_questions_have_equal_answers() {
    for instance in super::instances(super::DAYS).iter().take(5) {
        let ask = || solve(&instance.problem, &Limits::default());
        assert_eq!(ask(), ask());
    }
}

#[test]
fn nonsense_is_refused_with_its_place() {
    let refused = |change: &dyn Fn(&mut Problem)| {
        let mut p = day();
        p.activity(lasting(10));
        change(&mut p);
        match solve(&p, &Limits::default()) {
            Err(Trouble::Malformed { place, wrong }) => format!("{place}: {wrong}"),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(
        refused(&|p| p.activities[0].length.least = 20),
        "activities[0].length: 20 to 10 minutes; give 0 ≤ least ≤ most ≤ 10000000"
    );
    assert!(refused(&|p| p.span.to = 0).starts_with("span: 0 to 0"));
    assert!(
        refused(&|p| {
            p.lag(Lag::after(ActivityId(0), ActivityId(7), 0, None));
        })
        .starts_with("lags[0]: activity 7 of 1")
    );
    assert!(
        refused(&|p| {
            p.goal(Goal {
                terms: vec![(-1, Term::EndsAfter(ActivityId(0), 5))],
            });
        })
        .starts_with("goals[0].terms[0]: a weight of -1")
    );
}
