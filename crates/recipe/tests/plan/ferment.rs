//! What rises or ripens before powder or soda goes in, and what is no rest of a dough.

use super::{of, sheet};
use recipe::plan::Tasks;

fn waits(text: &str) -> (Vec<(&'static str, f64)>, Tasks) {
    let t = of(&sheet(text), 1.0);
    let all = t
        .list
        .iter()
        .filter_map(|t| Some((t.what, t.wait?.span.least)));
    let all = all.filter(|(what, _)| *what == "rest").collect();
    (all, t)
}

/// By hand: three days are 4320 minutes; the powder goes in behind them, in the same step, so it loses nothing.
#[test]
fn a_batter_ferments_before_its_powder_goes_in() {
    let (all, t) = waits(
        "Flatbreads\n\nMakes 6\n\n300 g wholemeal flour\n450 ml water\n1/2 tsp salt\n1/2 tsp baking powder\n\n1. Mix the flour and water to a thin batter and leave at room temperature for 3 days. Stir in the salt and baking powder.\n2. Pour a ladle of batter in a hot pan and cook for 2 minutes.\n",
    );
    assert_eq!(all, [("rest", 4320.0)], "{:?}", t.list);
}

/// By hand: the hour is the yeast's where the soda comes behind it; with the soda, or the powder in
/// its place, in from the start its gas goes, so it is half an hour at most.
#[test]
fn an_hour_of_yeast_stays_where_soda_comes_behind_it() {
    let of = |mixed: &str, then: &str| {
        waits(&format!(
            "Pancakes\n\nMakes 10\n\n225 g plain flour\n1 tsp dried yeast\n1 tsp sugar\n300 ml warm water\n1/2 tsp salt\n1/2 tsp bicarbonate of soda\n\n1. Mix the flour, yeast, {mixed}sugar, salt and warm water to a batter. Cover and leave to stand for 1 hour.{then}\n2. Fry in a hot pan for 3 minutes a side.\n"
        ))
        .0
    };
    let behind = of("", " Dissolve the soda in a little water and stir it in.");
    assert_eq!(behind, [("rest", 60.0)]);
    let first = of("soda, ", "");
    assert!(first[0].1 <= 30.0, "{first:?}");
}

/// Yeast that foams in its water, and a pudding that stands when it is cooked, are no rests of the dough: neither is
/// lengthened, and neither stands for the rest that the dough is to have.
#[test]
fn foaming_yeast_and_a_cooked_pudding_are_no_rest_of_the_dough() {
    let (all, t) = waits(
        "Rolls\n\nMakes 8\n\n500 g strong white flour\n7 g dried yeast\n300 ml warm water\n1 tsp salt\n\n1. Stir the yeast into the warm water, leave 5 minutes until foamy. Add everything else and knead for 10 minutes.\n2. Leave to rise for 1 hour. Shape into 8 rolls. Leave to rise for 45 minutes.\n3. Bake at 220 °C for 20 minutes.\n",
    );
    assert_eq!(all[0], ("rest", 5.0), "{:?}", t.list);
    assert!(all.len() == 2 && all[1].1 >= 10.0, "{all:?}");
    let (all, t) = waits(
        "Syrup pudding\n\nServes 6\n\n175 g self-raising flour\n100 g butter\n100 g sugar\n2 eggs\n2 tbsp milk\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour and milk.\n2. Put the batter into a basin and steam for 1 1/2 hours. Leave to stand for 10 minutes, then turn out.\n",
    );
    let place = |what: &str| t.list.iter().position(|t| t.what == what);
    assert!(place("rest") < place("boil"), "{:?}", t.list);
    assert_eq!(all.last(), Some(&("rest", 10.0)));
}
