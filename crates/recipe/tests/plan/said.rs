//! What a method says is planned: nothing of it is left out for want of room or because it is said again.

use super::{Locale, Sheet, Tasks, of};

fn plan(text: &str) -> Tasks {
    of(&Sheet::new(text, Locale::Uk), 1.0)
}

/// Names and usual waits, min, of the tasks of a step.
fn told(t: &Tasks, step: usize) -> Vec<(String, f64)> {
    let mine = t.list.iter().filter(|t| t.step == Some(step));
    let wait = |t: &recipe::plan::Task| t.wait.map_or(0.0, |w| w.span.usual);
    mine.map(|t| (t.name.to_lowercase(), wait(t))).collect()
}

#[test]
fn folds_at_intervals_are_each_behind_their_wait() {
    let t = plan(
        "Slipper loaves\n\nDough\n400 g bread flour\n320 g water\n1 tsp instant yeast\n2 tsp salt\n\n1. Mix the flour, water, salt and yeast. Fold four times at 30-minute intervals. Cover and refrigerate overnight.\n2. Bake at 230 °C for 25 minutes.\n",
    );
    let told = told(&t, 1);
    // Two hours: four times half an hour.
    let waits = told.iter().filter(|t| t.1 == 30.0).count();
    let folds = told.iter().filter(|t| t.0.starts_with("fold: ")).count();
    assert_eq!((waits, folds), (4, 4), "{told:?}");
}

#[test]
fn a_wash_is_told_behind_much_other_work_and_a_second_one_too() {
    let t = plan(
        "Fig rusks\nMakes 30\n\nDough\n280 g plain flour\n200 g sugar\n2 tsp baking powder\n3 eggs\n150 g dried figs\n100 g hazelnuts\n\nEgg wash: 1 egg white, 1 tsp water\n\n1. Combine the flour, sugar and baking powder. Beat the eggs and stir in. Fold in the hazelnuts and figs. Shape into two logs. Brush with egg wash.\n2. Bake at 170 °C for 30 minutes.\n",
    );
    assert!(
        told(&t, 1).iter().any(|t| t.0.contains("brush egg wash")),
        "{:?}",
        told(&t, 1)
    );
    let t = plan(
        "Quince tart\n\nPastry\n200 g plain flour\n100 g butter\n\nGlaze\n2 tbsp quince jelly\n\n1. Rub in the butter, line a tin and bake at 180 °C for 40 minutes.\n2. Warm the jelly and brush over the tart while hot. Cool, then brush again.\n",
    );
    let names: Vec<_> = told(&t, 2).into_iter().map(|t| t.0).collect();
    assert!(names.iter().any(|n| n == "brush again"), "{names:?}");
}

#[test]
fn what_cools_before_something_is_poured_in_and_chills_after_it_does_both() {
    let t = plan(
        "Rabbit pie\n\nCrust\n500 g plain flour\n150 g lard\n200 ml water\n\nFilling\n800 g rabbit, minced\n\n1. Heat the lard and water, mix into the flour. Line a tin, fill and cover. Bake at 180 °C for 90 minutes.\n2. Cool completely, pour in the stock and chill overnight.\n",
    );
    let whats: Vec<_> = t
        .list
        .iter()
        .filter(|t| t.step == Some(2))
        .map(|t| t.what)
        .collect();
    assert!(
        whats.contains(&"cool") && whats.contains(&"chill"),
        "{whats:?}"
    );
}

#[test]
fn make_the_pastry_and_chill_is_made_first() {
    let t = plan(
        "Chard tart\n\nPastry: 200 g plain flour, 100 g butter, 3 tbsp cold water\n\nFilling\n300 g chard\n3 eggs\n200 ml cream\n\n1. Make the pastry and chill for an hour.\n2. Line a 24 cm tin and blind bake at 200 °C for 20 minutes.\n3. Whisk the eggs and cream with the chard and pour in. Bake at 170 °C for 35 minutes.\n",
    );
    let chill = t
        .list
        .iter()
        .position(|t| t.what == "chill")
        .expect("it chills");
    let mix = t
        .list
        .iter()
        .position(|t| t.what == "mix")
        .expect("it is mixed");
    assert!(super::comes_after(&t, chill, mix));
}
