//! What a text does on the stove or keeps, and no oven or wait of the plan.

use super::{of, sheet};
use recipe::plan::{Place, Tasks};

fn plan(text: &str) -> Tasks {
    of(&sheet(text), 1.0)
}

/// By hand: batter with egg stands 4 hours at least, 10 in the middle of the night aimed at, in the fridge; a minute a
/// side is on the griddle and no oven is heated.
#[test]
fn a_griddle_heats_no_oven_and_a_night_aimed_at_is_one_wait() {
    let t = plan(
        "Girdle cakes\nServes 4\n\n200 g plain flour\n300 ml milk\n1 egg\n20 g butter\n\n1. Whisk the flour, milk and egg to a batter. Let stand at least 4 hours, preferably overnight.\n2. Drop spoonfuls on a hot buttered griddle; bake 1 minute a side.\n",
    );
    let oven = |t: &&recipe::plan::Task| t.what == "bake" || t.what == "preheat";
    assert!(!t.list.iter().any(|t| oven(&t)));
    let waits: Vec<_> = t
        .list
        .iter()
        .filter(|t| t.step == Some(1))
        .filter_map(|t| t.wait.map(|w| (w.place, w.span.least, w.span.usual)))
        .collect();
    assert_eq!(waits, [(Place::Fridge, 240.0, 600.0)]);
}

/// By hand: 25 minutes over a low heat are a wait on the stove; the cake that improves for two days waits for none.
#[test]
fn what_softens_is_on_the_stove_and_what_improves_is_done() {
    let t = plan(
        "Leek tart\nServes 6\n\nPastry\n200 g plain flour\n100 g butter\n\nFilling\n500 g leeks\n30 g butter\n100 g cheese\n\n1. Rub the butter into the flour and chill for 30 minutes.\n2. Soften the leeks over a low heat in the butter, about 25 minutes.\n3. Roll out the pastry, line a tin, fill with the leeks and half of the cheese. Bake at 190 °C for 35 minutes.\n4. Sprinkle with the rest and brown under the grill for 3 minutes.\n5. The tart improves for two days.\n",
    );
    let named: Vec<_> = t
        .list
        .iter()
        .filter(|t| t.step == Some(2))
        .filter_map(|t| Some((t.name.as_str(), t.wait?.place, t.wait?.span.usual)))
        .collect();
    assert!(
        matches!(named[..], [(name, Place::Stove, 25.0)] if name.starts_with("Soften")),
        "{named:?}"
    );
    let grill = t.list.iter().filter(|t| t.step == Some(4));
    let grill: Vec<_> = grill.map(|t| (t.wait.is_some(), t.hands.usual)).collect();
    assert_eq!(grill, [(false, 3.0)]);
    let days = |t: &recipe::plan::Task| t.wait.is_some_and(|w| w.span.usual > 1440.0);
    assert!(!t.list.iter().any(days));
}

/// 'Fry' would be another pan.
#[test]
fn the_griddle_of_the_clause_before_names_the_step() {
    let t = plan(
        "Girdle cakes\nMakes 12\n\n250 g plain flour\n2 tsp baking powder\n150 ml milk\n1 egg\n\n1. Mix the flour, powder, milk and egg to a soft batter.\n2. Drop on a hot buttered griddle; bake 2 minutes a side.\n",
    );
    let fry = t.list.iter().find(|x| x.what == "fry");
    let name = fry.map(|x| x.name.as_str());
    assert!(
        name.is_some_and(|n| n.contains("on the griddle")),
        "{name:?}"
    );
}
