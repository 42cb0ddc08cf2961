//! Small problems of every kind against trying every schedule there is.

use numeric::schedule::{
    Activity, ActivityId, Avoid, Calendar, Changeover, Edge, Give, Goal, Kept, Lag, Length, Limits,
    Need, Placed, Point, Problem, Resource, Span, Term, Trouble, solve,
};
use proptest::prelude::*;

const END: i32 = 9;

/// Length, longest beyond it, optional, amount, state, kept out of the calendar.
type Drawn = (i32, i32, bool, u32, Option<usize>, Option<u8>);

fn activity() -> impl Strategy<Value = Drawn> {
    (
        0..4_i32,
        0..2_i32,
        any::<bool>(),
        0..3_u32,
        proptest::option::of(0..2_usize),
        proptest::option::of(0..3_u8),
    )
}

/// From, whether its end; to, whether its end; least; how much more at most.
type Bond = (usize, bool, usize, bool, Option<i32>, Option<i32>);

fn bond() -> impl Strategy<Value = Bond> {
    (
        0..3_usize,
        any::<bool>(),
        0..3_usize,
        any::<bool>(),
        proptest::option::of(-2..4_i32),
        proptest::option::of(0..4_i32),
    )
}

fn term() -> impl Strategy<Value = (i32, Term)> {
    (0..9_u8, 0..3_usize, 0..9_i32, -3..4_i32).prop_map(|(kind, a, mark, weight)| {
        let a = ActivityId(a);
        let up = weight.abs();
        match kind {
            0 => (weight, Term::FirstStart),
            1 => (weight, Term::LastEnd),
            2 => (weight, Term::Start(a)),
            3 => (weight, Term::End(a)),
            4 => (weight, Term::Skipped(a)),
            5 => (up, Term::LongerThan(a, mark / 2)),
            6 => (up, Term::ShorterThan(a, mark / 2)),
            7 => (up, Term::EndsBefore(a, mark)),
            _ => (up, Term::StartsAfter(a, mark)),
        }
    })
}

fn problem() -> impl Strategy<Value = Problem> {
    (
        proptest::collection::vec(activity(), 3),
        proptest::collection::vec(bond(), 0..3),
        proptest::collection::vec(proptest::collection::vec(term(), 1..3), 0..3),
        0..3_i32,
        (0..7_i32, 1..3_i32),
    )
        .prop_map(|(drawn, bonds, goals, change, (from, long))| {
            let mut p = Problem::new(Span { from: 0, to: END });
            let mut shared = Resource::new(2);
            shared.changeover = Changeover::Same(change);
            let shared = p.resource(shared);
            let calendar = p.calendar(Calendar {
                closed: vec![Span {
                    from,
                    to: from + long,
                }],
                give: Give::Never,
            });
            for (at, (least, more, optional, amount, state, kept)) in drawn.into_iter().enumerate()
            {
                let mut a = Activity::new(Length {
                    least,
                    most: least + more,
                });
                // One is always there, so that a first and a last are.
                a.optional = optional && at > 0;
                a.needs.push(Need {
                    resource: shared,
                    amount,
                    state,
                    brings: at % 3 == 2,
                });
                a.avoids.extend(kept.map(|k| Avoid {
                    calendar,
                    kept: [Kept::Whole, Kept::Start, Kept::End][usize::from(k)],
                }));
                p.activity(a);
            }
            for (f, fe, t, te, least, more) in bonds {
                let edge = |end| if end { Edge::End } else { Edge::Start };
                let point = |a, end| Point {
                    activity: ActivityId(a),
                    edge: edge(end),
                };
                p.lag(Lag {
                    from: point(f, fe),
                    to: point(t, te),
                    least,
                    most: more.map(|m| least.unwrap_or(0) + m),
                    give: Give::Never,
                });
            }
            p.goals = goals.into_iter().map(|terms| Goal { terms }).collect();
            p
        })
}

/// Every way to place an activity.
fn ways(activity: &Activity) -> Vec<Option<Placed>> {
    let mut ways = if activity.optional {
        vec![None]
    } else {
        vec![]
    };
    for length in activity.length.least..=activity.length.most {
        ways.extend((0..=END - length).map(|start| {
            Some(Placed {
                start,
                end: start + length,
            })
        }));
    }
    ways
}

/// The best goals of all schedules, one after the other; `None`: no schedule keeps every rule.
fn best(p: &Problem) -> Option<Vec<i64>> {
    let [a, b, c] = [0, 1, 2].map(|i| ways(&p.activities[i]));
    let mut best: Option<Vec<i64>> = None;
    for x in &a {
        for y in &b {
            for z in &c {
                let placed = [*x, *y, *z];
                if p.broken(&placed).is_empty() {
                    let values = p.goals.iter().map(|g| p.value(g, &placed)).collect();
                    best = Some(match best.take() {
                        Some(known) => known.min(values),
                        None => values,
                    });
                }
            }
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_better_than_the_answer(p in problem()) {
        let expected = best(&p);
        match solve(&p, &Limits::default()) {
            Ok(found) => {
                prop_assert!(p.fits(&found.placed));
                prop_assert_eq!(p.broken(&found.placed), vec![]);
                prop_assert!(found.proven(), "{:?}", found.goals);
                let values: Vec<i64> = found.goals.iter().map(|g| g.value).collect();
                prop_assert_eq!(Some(values), expected);
            }
            Err(Trouble::Impossible(_)) => prop_assert_eq!(expected, None),
            Err(other) => prop_assert!(false, "{}", other),
        }
    }
}
