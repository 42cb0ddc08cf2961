//! Problems from the files that `checks/schedule.py` writes; the fields are explained there.

use numeric::schedule::{
    Activity, ActivityId, Avoid, Calendar, CalendarId, Changeover, Choice, Edge, Give, Goal, Kept,
    Lag, LagId, Length, Need, Point, Problem, Resource, ResourceId, Span, Taken, Term, Window,
};
use serde_json::Value;

/// A problem and what another solver proved of it.
pub struct Instance {
    pub id: String,
    pub problem: Problem,
    /// The least of each goal, given those before it.
    pub optimum: Option<Vec<i64>>,
    /// The price of the cheapest way out.
    pub price: Option<i64>,
}

/// All instances of a file of `checks/`.
pub fn instances(text: &str) -> Vec<Instance> {
    let all: Value = serde_json::from_str(text).expect("JSON");
    list(&all["instances"]).iter().map(instance).collect()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn int(value: &Value) -> i32 {
    i32::try_from(value.as_i64().expect("a whole number")).expect("minutes")
}

fn maybe(value: &Value) -> Option<i32> {
    (!value.is_null()).then(|| int(value))
}

fn index(value: &Value) -> usize {
    usize::try_from(int(value)).expect("an index")
}

fn amount(value: &Value) -> u32 {
    u32::try_from(int(value)).expect("an amount")
}

fn give(value: &Value, otherwise: u32) -> Give {
    match value.as_i64().map_or(otherwise, |_| amount(value)) {
        0 => Give::Never,
        price => Give::At(price),
    }
}

fn span(value: &Value) -> Span {
    Span {
        from: int(&value[0]),
        to: int(&value[1]),
    }
}

fn window(value: &Value) -> Window {
    Window {
        earliest: maybe(&value[0]),
        latest: maybe(&value[1]),
    }
}

fn point(activity: &Value, edge: &Value) -> Point {
    Point {
        activity: ActivityId(index(activity)),
        edge: if edge == "s" { Edge::Start } else { Edge::End },
    }
}

fn instance(value: &Value) -> Instance {
    let mut problem = Problem::new(span(&value["span"]));
    problem.sooner = give(&value["span_give"][0], 0);
    problem.later = give(&value["span_give"][1], 0);
    for resource in list(&value["resources"]) {
        let change = &resource["change"];
        problem.resource(Resource {
            capacity: amount(&resource["capacity"]),
            changeover: match change.as_array() {
                Some(rows) => Changeover::Table(
                    rows.iter()
                        .map(|r| list(r).iter().map(int).collect())
                        .collect(),
                ),
                None => Changeover::Same(maybe(change).unwrap_or(0)),
            },
            taken: list(&resource["taken"])
                .iter()
                .map(|t| Taken {
                    span: span(t),
                    amount: amount(&t[2]),
                })
                .collect(),
            give: give(&resource["give"], 0),
        });
    }
    for calendar in list(&value["calendars"]) {
        problem.calendar(Calendar {
            closed: list(&calendar["closed"]).iter().map(span).collect(),
            give: give(&calendar["give"], 0),
        });
    }
    for activity in list(&value["activities"]) {
        problem.activity(Activity {
            length: Length {
                least: int(&activity["len"][0]),
                most: int(&activity["len"][1]),
            },
            start: window(&activity["start"]),
            end: window(&activity["end"]),
            give: give(&activity["give"], 1),
            needs: list(&activity["needs"])
                .iter()
                .map(|n| Need {
                    resource: ResourceId(index(&n[0])),
                    amount: amount(&n[1]),
                    state: (!n[2].is_null()).then(|| index(&n[2])),
                    brings: n[3] == true,
                })
                .collect(),
            avoids: list(&activity["avoids"])
                .iter()
                .map(|a| Avoid {
                    calendar: CalendarId(index(&a[0])),
                    kept: match a[1].as_str() {
                        Some("whole") => Kept::Whole,
                        Some("start") => Kept::Start,
                        _ => Kept::End,
                    },
                })
                .collect(),
            optional: activity["optional"] == true,
        });
    }
    for lag in list(&value["lags"]) {
        problem.lag(Lag {
            from: point(&lag[0], &lag[1]),
            to: point(&lag[2], &lag[3]),
            least: maybe(&lag[4]),
            most: maybe(&lag[5]),
            give: give(&lag[6], 0),
        });
    }
    for choice in list(&value["choices"]) {
        problem.choice(Choice {
            among: list(&choice[0])
                .iter()
                .map(|a| ActivityId(index(a)))
                .collect(),
            least: index(&choice[1]),
            most: index(&choice[2]),
        });
    }
    for follow in list(&value["follows"]) {
        problem.follow(ActivityId(index(&follow[0])), ActivityId(index(&follow[1])));
    }
    for goal in list(&value["goals"]) {
        problem.goal(Goal {
            terms: list(goal).iter().map(|t| (int(&t[0]), term(t))).collect(),
        });
    }
    Instance {
        id: value["id"].as_str().expect("an id").to_owned(),
        problem,
        optimum: value["optimum"]
            .as_array()
            .map(|all| all.iter().filter_map(Value::as_i64).collect()),
        price: value["price"].as_i64(),
    }
}

fn term(value: &Value) -> Term {
    let activity = || ActivityId(index(&value[2]));
    let minute = || int(&value[3]);
    match value[1].as_str().expect("the kind of a term") {
        "first_start" => Term::FirstStart,
        "last_end" => Term::LastEnd,
        "start" => Term::Start(activity()),
        "end" => Term::End(activity()),
        "skipped" => Term::Skipped(activity()),
        "lag_over" => Term::LagOver(LagId(index(&value[2])), minute()),
        "longer_than" => Term::LongerThan(activity(), minute()),
        "shorter_than" => Term::ShorterThan(activity(), minute()),
        "ends_before" => Term::EndsBefore(activity(), minute()),
        "ends_after" => Term::EndsAfter(activity(), minute()),
        "starts_before" => Term::StartsBefore(activity(), minute()),
        "starts_after" => Term::StartsAfter(activity(), minute()),
        other => unreachable!("no term {other}"),
    }
}
