//! What stands in for what is left out: `data/substitutes.tsv`.

use super::role::Role;
use crate::LeftOut;
use crate::data::rows;
use std::sync::LazyLock;

/// How much of a substitute.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Much {
    /// Grams to a gram of what is replaced.
    ToGram(f64),
    /// Percent of the flour phase.
    OfFlour(f64),
}

/// One way to do without.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Way {
    /// There is no good substitute.
    None,
    /// It is left out, and nothing comes in its place.
    Omit,
    /// Foods by larder key.
    Foods(Vec<(&'static str, Much)>),
}

/// A row of the table.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) what: LeftOut,
    pub(super) foods: Vec<&'static str>,
    /// What the food does here; empty for anything.
    pub(super) roles: Vec<Role>,
    pub(super) way: Way,
    /// Grams of water on top to a gram.
    pub(super) water: f64,
    pub(super) note: &'static str,
    pub(super) source: &'static str,
}

static TABLE: LazyLock<Vec<Row>> = LazyLock::new(|| {
    rows(include_str!("../../../data/substitutes.tsv"))
        .filter_map(|r| {
            Some(Row {
                what: LeftOut::from_word(r.get("what"))?,
                foods: r.get("food").split(' ').collect(),
                roles: r
                    .get("role")
                    .split(' ')
                    .filter_map(Role::from_word)
                    .collect(),
                way: way(r.get("to"))?,
                water: r.get("water").parse().unwrap_or(0.0),
                note: r.get("note"),
                source: r.get("source"),
            })
        })
        .collect()
});

fn way(cell: &'static str) -> Option<Way> {
    Some(match cell {
        "" => Way::None,
        "-" => Way::Omit,
        foods => Way::Foods(
            foods
                .split(", ")
                .map(|part| {
                    let (key, much) = part.rsplit_once(' ')?;
                    let much = match much.strip_suffix('%') {
                        Some(percent) => Much::OfFlour(percent.parse().ok()?),
                        None => Much::ToGram(much.parse().ok()?),
                    };
                    Some((key, much))
                })
                .collect::<Option<_>>()?,
        ),
    })
}

/// The ways to do without, in the table's order.
pub(super) fn ways(what: LeftOut, food: &str, role: Role) -> impl Iterator<Item = &'static Row> {
    TABLE.iter().filter(move |r| {
        r.what == what && r.foods.contains(&food) && (r.roles.is_empty() || r.roles.contains(&role))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Holds;
    use larder::Larder;

    #[test]
    fn every_row_is_read_and_names_foods_of_the_larder() {
        let larder = Larder::built_in().unwrap();
        let cells = rows(include_str!("../../../data/substitutes.tsv"));
        let mut count = 0;
        for r in cells {
            count += 1;
            assert!(!r.get("note").is_empty() && !r.get("source").is_empty());
            assert!(
                matches!(r.get("status"), "seen" | "from memory" | "common practice"),
                "{}",
                r.get("food")
            );
            for role in r.get("role").split(' ').filter(|w| *w != "any") {
                assert!(Role::from_word(role).is_some(), "{role}");
            }
        }
        assert_eq!(TABLE.len(), count, "a row could not be read");
        for row in TABLE.iter() {
            for key in &row.foods {
                let food = larder.by_key(key);
                assert!(food.is_some(), "{key}");
                let holds = row.what.in_food(food.unwrap(), &larder);
                assert_ne!(holds, Holds::No, "{key} holds no {}", row.what);
            }
            if let Way::Foods(foods) = &row.way {
                for (key, much) in foods {
                    let food = larder.by_key(key);
                    assert!(food.is_some(), "{key}");
                    let holds = row.what.in_food(food.unwrap(), &larder);
                    assert_ne!(
                        holds,
                        Holds::Yes,
                        "{key} for {:?} holds {}",
                        row.foods,
                        row.what
                    );
                    let (Much::ToGram(n) | Much::OfFlour(n)) = much;
                    assert!(*n > 0.0);
                }
            }
        }
    }

    /// Every food that surely holds milk, egg, nuts, peanut or soy and is used as such has a row,
    /// if only one that says that there is no way.
    #[test]
    fn plain_milk_egg_and_nut_foods_have_a_row() {
        use larder::Function as F;
        let larder = Larder::built_in().unwrap();
        let mut without = Vec::new();
        for what in [LeftOut::Dairy, LeftOut::Egg, LeftOut::TreeNuts] {
            for id in larder.ids() {
                let food = larder.food(id);
                let plain = matches!(food.function(), F::Egg | F::Dairy | F::NutFlour | F::Nut)
                    || food.does(F::Dairy);
                // What holds gluten is replaced before.
                if plain
                    && food.gluten != larder::Gluten::Contains
                    && what.in_food(id, &larder) == Holds::Yes
                    && !TABLE
                        .iter()
                        .any(|r| r.what == what && r.foods.contains(&food.key.as_str()))
                {
                    without.push(format!("{} {}", what.word(), food.key));
                }
            }
        }
        assert!(without.is_empty(), "{without:?}");
    }
}
