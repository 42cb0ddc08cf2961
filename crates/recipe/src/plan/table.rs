//! How long a step takes where nobody says: the table of practice.

use super::task::{Place, Span, Wait};
use crate::data::{Cells, rows};
use crate::recipe::Activity;
use quantity::{Spread, Time};
use std::sync::LazyLock;

/// A row of the table.
#[derive(Debug, Clone)]
pub struct Usual {
    /// Its key: an activity, or `weigh`, `hydrate`, `paste`, `take_out`, `other` …
    pub key: &'static str,
    /// Minutes at work.
    pub hands: Span,
    /// Whether the work grows with the size of the batch.
    pub grows: bool,
    /// Minutes unattended; `None` where it is all work.
    pub wait: Option<Wait>,
    /// Most minutes that what it makes may stand before the next step.
    pub stands: f64,
    /// What leaving it out costs, where it can be left out.
    pub skip: Option<&'static str>,
    /// Where the figures come from.
    pub source: &'static str,
}

static TABLE: LazyLock<Vec<Usual>> = LazyLock::new(|| {
    rows(include_str!("../../data/step_times.tsv"))
        .map(|r| usual(&r))
        .collect()
});

fn usual(r: &Cells) -> Usual {
    let span = |of: &str| Span {
        least: r.number(&format!("{of}_least")),
        usual: r.number(&format!("{of}_usual")),
        most: r.number(&format!("{of}_most")),
    };
    let wait = span("wait");
    Usual {
        key: r.get("key"),
        hands: span("hands"),
        grows: r.get("with") == "size",
        wait: Place::from_key(r.get("place")).map(|place| Wait {
            span: wait,
            may: r.get("kind") == "may",
            place,
            oven: None,
        }),
        stands: r.number("stands"),
        skip: Some(r.get("skip")).filter(|s| *s != "-"),
        source: r.get("source"),
    }
}

/// The row of a key; that of `other` where there is none.
#[must_use]
pub fn of(key: &str) -> &'static Usual {
    let row = TABLE.iter().find(|u| u.key == key);
    row.or_else(|| TABLE.iter().find(|u| u.key == "other"))
        .expect("the table has a row for other work")
}

/// The wait of a row; none where it is all work.
pub(crate) fn usual_wait(key: &str) -> Option<Spread<Time>> {
    let span = of(key).wait?.span;
    let time = Time::minutes;
    Some(Spread::new(
        time(span.least),
        time(span.usual),
        time(span.most),
    ))
}

/// The key of an activity.
#[must_use]
pub fn key(a: Activity) -> &'static str {
    match a {
        Activity::Knead => "knead",
        Activity::Mix => "mix",
        Activity::Whip => "whip",
        Activity::Cream => "cream",
        Activity::RubIn => "rub_in",
        Activity::Fold => "fold",
        Activity::Rest => "rest",
        Activity::Rise => "rise",
        Activity::KnockBack => "knock_back",
        Activity::Chill => "chill",
        Activity::Freeze => "freeze",
        Activity::Roll => "roll",
        Activity::Shape => "shape",
        Activity::Preheat => "preheat",
        Activity::Bake => "bake",
        Activity::Fry => "fry",
        Activity::Boil => "boil",
        Activity::Melt => "melt",
        Activity::Cool => "cool",
        Activity::Dust => "dust",
        Activity::Grease => "grease",
        Activity::Brush => "brush",
        Activity::Windowpane => "windowpane",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_sound_and_says_where_it_comes_from() {
        for u in TABLE.iter() {
            let spans = [Some(u.hands), u.wait.map(|w| w.span)];
            for s in spans.into_iter().flatten() {
                assert!(
                    0.0 <= s.least && s.least <= s.usual && s.usual <= s.most,
                    "{}: {s:?}",
                    u.key
                );
            }
            assert!(u.stands >= 0.0, "{}", u.key);
            assert!(!u.source.is_empty(), "{}", u.key);
        }
        for r in rows(include_str!("../../data/step_times.tsv")) {
            let status = r.get("status");
            assert!(
                ["common practice", "published"].contains(&status),
                "{status}"
            );
        }
    }

    #[test]
    fn every_activity_has_a_row_of_its_own() {
        use Activity as A;
        for a in [
            A::Knead,
            A::Mix,
            A::Whip,
            A::Cream,
            A::RubIn,
            A::Fold,
            A::Rest,
            A::Rise,
            A::KnockBack,
            A::Chill,
            A::Freeze,
            A::Roll,
            A::Shape,
            A::Preheat,
            A::Bake,
            A::Fry,
            A::Boil,
            A::Melt,
            A::Cool,
            A::Dust,
            A::Grease,
            A::Brush,
            A::Windowpane,
        ] {
            assert_eq!(of(key(a)).key, key(a));
        }
        assert_eq!(of("nonsense").key, "other");
    }
}
