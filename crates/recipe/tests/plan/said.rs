//! What a method says is planned: nothing of it is left out for want of room or because it is said again.

use super::{Locale, Place, Sheet, Tasks, comes_after, of};

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
        told(&t, 1)
            .iter()
            .any(|t| t.0.contains("brush with egg wash")),
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

#[test]
fn what_dries_in_an_oven_that_is_off_and_what_stews_in_one_is_no_bake_made_longer() {
    let t = plan(
        "Cheese puffs\n\n75 g plain flour\n60 g butter\n125 ml water\n2 eggs\n\n1. Boil the water and butter, beat in the flour, cool 5 minutes, beat in the eggs and pipe.\n2. Bake at 200 °C for 25 minutes. Pierce each and return to the turned-off oven for 10 minutes.\n",
    );
    let dry = t
        .list
        .iter()
        .find(|t| t.wait.is_some_and(|w| w.span.usual == 10.0));
    let dry = dry.expect("it dries");
    let wait = dry.wait.expect("a wait");
    assert_eq!(
        (dry.what, wait.place, wait.oven),
        ("rest", recipe::plan::Place::Oven, None)
    );
    let t = plan(
        "Venison hand pies\n\nPastry\n400 g plain flour\n200 g butter\n\nFilling\n500 g venison, diced\n1 tbsp plain flour\n400 ml stock\n\n1. Toss the venison in the flour, add the stock, cover and cook in the oven at 160 °C for 2 hours. Cool, then chill overnight.\n2. Rub the butter into the flour. Roll, cut rounds, fill, fold and crimp. Bake at 200 °C for 30 minutes.\n",
    );
    let stew = t
        .list
        .iter()
        .find(|t| t.what == "bake" && t.step == Some(1))
        .expect("it cooks");
    assert_eq!(
        stew.wait.map(|w| (w.span.least, w.span.most)),
        Some((120.0, 120.0))
    );
}

/// An oven whose door is ajar is off or cooling (common practice, no source).
#[test]
fn what_is_left_in_an_oven_with_its_door_ajar_is_baked_no_longer() {
    let t = plan(
        "Bay cheesecake\n\nFilling\n600 g soft cheese\n150 g sugar\n3 eggs\n\n1. Beat all and fill a tin.\n2. Bake at 160 °C for 45 minutes. Leave in the oven with the door ajar for 1 hour.\n",
    );
    let two = t.list.iter().filter(|t| t.step == Some(2));
    let two = two.filter_map(|t| t.wait.map(|w| (t.what, w.place, w.oven, w.span.usual)));
    let two: Vec<_> = two.take(2).collect();
    use recipe::plan::Place::Oven;
    assert_eq!(
        two,
        [
            ("bake", Oven, Some(160.0), 45.0),
            ("rest", Oven, None, 60.0)
        ]
    );
}

#[test]
fn two_bakes_of_one_batter_say_which_is_which() {
    let t = plan(
        "Lime loaf\n\n225 g butter\n225 g sugar\n4 eggs\n225 g self-raising flour\n\n1. Heat the oven to 180 °C. Beat everything together and spoon into a loaf tin and six muffin cases.\n2. Bake the loaf for 45-50 minutes and the muffins for 20 minutes.\n",
    );
    let names: Vec<_> = t
        .list
        .iter()
        .filter(|t| t.what == "bake")
        .map(|t| t.name.as_str())
        .collect();
    assert_eq!(names, ["Bake loaf", "Bake muffins"]);
}

#[test]
fn a_wait_past_a_limit_that_the_method_asks_for_is_told_as_its_own() {
    let custard = Sheet::new(
        "Set custard\n\n3 eggs\n300 ml whole milk\n50 g sugar\n\n1. Whisk the eggs, milk and sugar. Leave at room temperature for 3 hours.\n2. Bake at 150 °C for 40 minutes.\n",
        Locale::Uk,
    );
    let a = super::days::ask(&[custard], Some(3 * 1440));
    let (_, words) = super::days::why(&a);
    assert!(
        words.contains("from the 3 h that the method itself asks for to "),
        "{words}"
    );
}

/// The longest that a method names stands, by its own words; a night without one lasts up to 18 hours in the fridge
/// (common practice, no source).
#[test]
fn a_night_is_no_longer_than_the_method_says() {
    for (chill, most) in [
        ("refrigerate overnight, up to 16 hours", 16.0),
        ("refrigerate overnight or up to 12 hours", 12.0),
        ("refrigerate for at least 8 hours and up to 14 hours", 14.0),
        ("refrigerate overnight, 8 to 14 hours", 14.0),
        ("let rise in the fridge overnight, up to 16 hours", 16.0),
        ("refrigerate overnight", 18.0),
        ("refrigerate for at least 8 hours", 18.0),
    ] {
        let t = plan(&format!(
            "Fennel bread\n\nDough\n500 g bread flour\n350 g water\n5 g instant yeast\n10 g salt\n\n1. Mix everything and {chill}.\n2. Shape, let rise 1 hour. Bake at 220 °C for 35 minutes.\n"
        ));
        let cold = t.list.iter().filter_map(|t| t.wait);
        let cold: Vec<_> = cold
            .filter(|w| w.place == recipe::plan::Place::Fridge)
            .collect();
        assert_eq!(cold.len(), 1, "{chill}");
        assert!(
            (cold[0].span.most - most * 60.0).abs() < 0.5,
            "{chill}: {:?}",
            cold[0]
        );
    }
}

/// By hand: 2 h in the oven and the work behind it are more than the 2 h that egg and milk have out of the fridge.
#[test]
fn a_cheesecake_left_in_its_oven_comes_out_within_its_two_hours() {
    let t = plan(
        "Bay cheesecake\n\nFilling\n600 g soft cheese\n150 g sugar\n3 eggs\n\nTopping\n150 g soured cream\n1 tbsp sugar\n\n1. Beat all for the filling and fill a tin.\n2. Bake at 110 °C for 45 minutes. Leave in the oven with the door ajar for 2 hours.\n3. Mix the topping and spread over. Chill overnight.\n",
    );
    assert!(t.breaches.iter().all(|b| b.told), "{:?}", t.breaches);
    let rest = t.list.iter().find(|t| t.what == "rest").expect("a rest");
    let wait = rest.wait.expect("a wait").span.most;
    assert!((60.0..120.0).contains(&wait), "{wait}");
    assert!(
        rest.notes.iter().any(|n| n.contains("2 hours in all")),
        "{:?}",
        rest.notes
    );
}

#[test]
fn what_is_divided_is_said_and_not_what_goes_on_it() {
    let t = plan(
        "Plum muffins\nMakes 12\n\nStreusel\n60 g flour\n40 g butter\n\nMuffins\n270 g plain flour\n200 g sugar\n2 eggs\n\n1. Rub the butter into the flour for the streusel.\n2. Whisk the flour, sugar and eggs. Divide the batter among the cups and top with the streusel. Bake at 200 °C for 20 minutes.\n",
    );
    let told = told(&t, 2);
    assert!(
        told.iter().any(|t| t.0.contains("divide batter")),
        "{told:?}"
    );
    assert!(
        !told.iter().any(|t| t.0.contains("divide streusel")),
        "{told:?}"
    );
}

/// What ends a method is in its plan: the chocolate sets before it is cut, and the slice is cut before it is dipped.
/// The bake was served with its icing wet.
#[test]
fn an_icing_is_left_to_set_and_the_bake_is_cut() {
    let end = |last: &str| {
        let t = super::of(
            &super::sheet(&format!(
                "Mint slice\n\n200 g plain flour\n100 g butter\n80 g sugar\n200 g dark chocolate\n\n1. Rub the butter into the flour, stir in the sugar and press into a tin. Bake at 180 °C for 20 minutes and cool for 1 hour.\n2. Melt the chocolate and spread on top. {last}\n"
            )),
            1.0,
        );
        let names = t.list.iter().map(|t| t.name.clone());
        names
            .skip_while(|n| !n.starts_with("Melt"))
            .filter(|n| n != "Heat the oven")
            .collect::<Vec<_>>()
    };
    let melt = || end("").remove(0);
    let set = |more: &[&str]| {
        let all = [melt(), "Leave to set".to_owned()].into_iter();
        all.chain(more.iter().map(|n| (*n).to_owned()))
            .collect::<Vec<_>>()
    };
    assert_eq!(
        end("Leave to set, then cut into 16 squares."),
        set(&["Cut into 16 squares"])
    );
    assert_eq!(end("Allow to set."), set(&[]));
    // Its time has the wait already, and what may be is none.
    let timed = end("Leave to set for 40 minutes. They can be chilled for up to 2 days.");
    assert_eq!(timed.len(), 2, "{timed:?}");
    assert!(!timed.contains(&"Leave to set".to_owned()), "{timed:?}");
    assert_eq!(
        end("Bring to the table when the chocolate has set."),
        [melt()]
    );
}

/// What is frozen is thawed in the fridge for its night, 8–12 h, and baked as long as the others: no oven is hot
/// meanwhile. 20 min baked a tenth to a quarter longer are 22–25.
#[test]
fn frozen_rolls_thaw_in_the_fridge_and_are_baked_as_above() {
    let t = plan(
        "Seeded rolls\nMakes 12\n\n450 g bread flour\n6 g instant yeast\n290 g water\n8 g salt\n\n1. Mix all. Let rise 1 hour. Shape into 12 balls. Freeze 6.\n2. Bake the others at 200 °C for 20 minutes.\n3. To bake the frozen rolls, thaw overnight in the fridge and bake as above.\n",
    );
    let last: Vec<_> = t.list.iter().filter(|t| t.step == Some(3)).collect();
    let waits = |n: usize| last[n].wait.expect("a wait");
    assert_eq!((last[0].name.as_str(), last[0].what), ("Thaw", "chill"));
    let thaw = waits(0);
    assert_eq!((thaw.place, thaw.span.least), (Place::Fridge, 480.0));
    assert_eq!(last[1].what, "bake");
    let bake = waits(1);
    assert_eq!((bake.span.least, bake.span.most), (22.0, 25.0));
    assert_eq!(bake.oven, Some(200.0));
    let hot = t.list.iter().filter_map(|t| t.wait);
    let longest = hot
        .filter(|w| w.place == Place::Oven)
        .map(|w| w.span.most)
        .fold(0.0, f64::max);
    assert!(longest <= 30.0, "{longest}");
}

/// Raw meat at the heat of an oven is in an oven, whatever the verb, and never in the room; 2 h are 120 min.
#[test]
fn a_braise_at_an_oven_heat_is_in_the_oven() {
    for verb in [
        "braise",
        "stew",
        "casserole",
        "cook",
        "poach",
        "simmer",
        "cook in the oven",
    ] {
        let t = plan(&format!(
            "Shin pie\nServes 6\n\nFilling\n900 g beef, diced\n400 ml beef stock\n\nPastry\n240 g plain flour\n120 g butter\n3 tbsp water\n\n1. Brown the beef, pour in the stock and {verb} at 160 °C for 2 hours. Cool completely.\n2. Rub the butter into the flour, add the water; rest 30 minutes in the fridge.\n3. Fill a dish, cover with the pastry. Bake at 200 °C for 40 minutes.\n"
        ));
        let long = t
            .list
            .iter()
            .filter(|t| t.step == Some(1) && t.wait.is_some_and(|w| w.span.usual == 120.0));
        let long: Vec<_> = long.map(|t| (t.what, t.wait.expect("a wait"))).collect();
        assert_eq!(long.len(), 1, "{verb}");
        let (what, wait) = long[0];
        // The pastry is not made yet.
        let of = t.list.iter().find(|t| t.step == Some(1)).map(|t| &*t.of);
        assert_eq!(of, Some("filling"), "{verb}");
        assert_eq!(
            (what, wait.place, wait.oven),
            ("bake", Place::Oven, Some(160.0)),
            "{verb}"
        );
        let stove = t.list.iter().find(|t| t.what == "boil");
        assert!(stove.is_none(), "{verb}: {stove:?}");
    }
}
/// The waits of all rises, least and most.
fn rises(t: &Tasks) -> Vec<(f64, f64)> {
    let rises = t.list.iter().filter(|t| t.what == "rise");
    let waits = rises.filter_map(|t| t.wait);
    waits.map(|w| (w.span.least, w.span.most)).collect()
}

/// By hand: a dough that is to rise once has not risen in the 20 minutes of its second rise; it takes the hour of
/// the first, looked at from half of it on. A second rise that is the longer one stays as it is.
#[test]
fn the_one_rise_that_is_left_takes_the_longer_time() {
    let buns = |first: &str, second: &str| {
        plan(&format!(
            "Plain rolls\nMakes 12\n\n500 g bread flour\n7 g instant yeast\n10 g salt\n330 g water\n\n1. Mix and knead. Let rise for {first}.\n2. Shape into 12 rolls. Let rise for {second}.\n3. Bake at 220 °C for 20 minutes.\n"
        ))
    };
    assert_eq!(rises(&buns("1 hour", "20 minutes")), [(30.0, 60.0)]);
    assert_eq!(rises(&buns("40 minutes", "1 hour")), [(30.0, 60.0)]);
    // 'Let rise for 1 hour. Shape, rise for 20 minutes more' in one step.
    let one = plan(
        "Plain rolls\nMakes 12\n\n500 g bread flour\n7 g instant yeast\n10 g salt\n330 g water\n\n1. Mix. Let rise for 1 hour. Shape into 12 rolls and let rise for 20 minutes more.\n2. Bake at 220 °C for 20 minutes.\n",
    );
    assert_eq!(rises(&one), [(30.0, 60.0)]);
}

/// By hand: 10 rings, 3 at a time, are 4 panfuls of twice a minute: 8 minutes. Two batches of 12 minutes are 24,
/// and 20 fritters 3 at a time 7 panfuls of 2 minutes: 14.
#[test]
fn what_is_cooked_in_panfuls_takes_the_time_of_all() {
    let work = |makes: &str, said: &str, what: &str, factor: f64| {
        let text = format!(
            "Rings\n{makes}\n\n600 g strong flour\n360 g water\n10 g salt\n5 g dried yeast\n\n1. Mix. Rise 1 hour. Shape 10 rings.\n2. {said}\n"
        );
        let t = of(&Sheet::new(text, Locale::Uk), factor);
        let found = t.list.iter().find(|t| t.what == what).expect(what);
        (found.hands.least, found.hands.most)
    };
    let at_a_time = "Boil the rings 1 minute each side, 3 at a time.";
    assert_eq!(work("Makes 10", at_a_time, "boil", 1.0), (8.0, 8.0));
    // 20 rings are 7 panfuls.
    assert_eq!(work("Makes 10", at_a_time, "boil", 2.0), (14.0, 14.0));
    let batches = "Steam in two batches for 12 minutes each.";
    assert_eq!(work("Makes 10", batches, "boil", 1.0), (24.0, 24.0));
    let fried = "Fry three at a time for 1 minute on each side.";
    assert_eq!(work("Makes 20", fried, "fry", 1.0), (14.0, 14.0));
    // One panful: a minute, and the usual 4–10 minutes of beating behind it; not 10 panfuls.
    let choux = "Boil for 1 minute, then beat in the eggs one at a time.";
    assert_eq!(work("Makes 10", choux, "boil", 1.0), (5.0, 11.0));
    // How many pieces four servings are, nobody knows.
    assert_ne!(work("Serves 4", fried, "fry", 1.0), (4.0, 4.0));
}

/// By hand: 'three times' are three folds, whatever the rise behind them takes; a dough without gluten needs none.
#[test]
fn folds_are_as_many_as_their_times_say() {
    for said in [
        "Fold the dough every 30 minutes, three times, then leave to rise for 1 hour.",
        "Fold the dough every 30 minutes, three times, over the next 1 1/2 hours, then leave to rise for another hour.",
        "Fold the dough every 30 minutes over the next 1 1/2 hours.",
    ] {
        let text = format!(
            "Slow loaf\n\n500 g bread flour\n10 g salt\n3 g dried yeast\n400 g water\n\n1. Mix everything.\n2. {said}\n3. Shape. Prove for 1 hour. Bake at 230 °C for 40 minutes.\n"
        );
        let t = plan(&text);
        let folds: Vec<_> = t.list.iter().filter(|t| t.what == "fold").collect();
        let names: Vec<&str> = folds.iter().map(|t| t.name.as_str()).collect();
        assert_eq!(
            names,
            ["Fold: 1 of 3", "Fold: 2 of 3", "Fold: 3 of 3"],
            "{said}"
        );
        assert!(folds.iter().all(|t| t.optional.is_some()), "{said}");
    }
}

/// Days of rest are for the taste: they stay where nothing spoils, and are a night in the fridge with egg.
#[test]
fn days_of_rest_are_kept_or_a_night_in_the_fridge() {
    let rest = |last: &str| {
        let t = plan(&format!(
            "Spice biscuits\nMakes 40\n\n250 g plain flour\n100 g honey\n80 g sugar\n5 g baking soda\n{last}\n\n1. Mix to a dough. Leave to rest in a cool place for 3 days.\n2. Roll out 5 mm thick. Cut. Bake at 180 °C for 12 minutes.\n"
        ));
        let rest = t.list.iter().find(|t| t.what == "rest").expect("a rest");
        let wait = rest.wait.expect("a wait");
        (wait.place, wait.span.least, wait.span.most)
    };
    let (place, least, _) = rest("50 g water");
    assert_eq!((place, least), (recipe::plan::Place::Bench, 3.0 * 1440.0));
    let (place, least, most) = rest("1 egg");
    assert_eq!(
        (place, least, most),
        (recipe::plan::Place::Fridge, 480.0, 1080.0)
    );
}

/// The names of a step's tasks and of the next one's, in the order they are listed.
fn names(text: &str) -> Vec<String> {
    plan(text).list.into_iter().map(|t| t.name).collect()
}

const TOPS: &str = "Cheese tops\n\n200 g plain flour\n2 tsp baking powder\n100 g cheddar\n120 ml milk\n1 egg, beaten\n\n1. Mix the flour, baking powder and half the cheddar with the milk. Cut into rounds. Brush with the egg.\n2. Bake at 200C for 15 minutes. Sprinkle with the remaining cheddar and brown under the grill for 3 minutes.\n3. Cut the buns in half and serve.\n";

/// The grill and what is cut were not told; a wash is what one brushes with, not what is brushed.
#[test]
fn browning_under_the_grill_and_what_is_cut_are_told() {
    let all = names(TOPS);
    for name in ["brush with egg", "brown under the grill", "Cut the buns"] {
        assert!(all.iter().any(|n| n.ends_with(name)), "{name}: {all:?}");
    }
    let t = plan(TOPS);
    let grill = t
        .list
        .iter()
        .find(|t| t.name.contains("grill"))
        .expect("a grill");
    assert_eq!(grill.hands.usual, 3.0, "the minutes are the method's");
    // Brown sugar browns nothing.
    let sugar = names(
        "Flat cake\n\n200 g plain flour\n100 g butter\n80 g brown sugar\n\n1. Mix the flour, butter and brown sugar. Bake at 180 °C for 30 minutes.\n",
    );
    assert!(sugar.iter().all(|n| !n.contains("rown")), "{sugar:?}");
}

/// What is laid on was lost, and of two things poured the second.
#[test]
fn what_is_laid_and_each_thing_poured_is_told() {
    let plums = names(
        "Plum squares\n\nPastry\n300 g plain flour\n150 g butter\n80 ml water\n\nTopping\n12 plums\n\n1. Rub the butter into the flour, add the water. Chill 30 minutes.\n2. Roll out and cut into 12 squares. Lay the plums on the squares.\n3. Bake at 200 °C for 20 minutes.\n",
    );
    assert!(plums.iter().any(|n| n.ends_with("lay plums")), "{plums:?}");
    let pudding = names(
        "Toffee pudding\n\nBatter\n200 g plain flour\n100 g butter\n2 eggs\n\nToffee sauce\n100 g butter\n150 g brown sugar\n\n1. Cream the butter, beat in the eggs, fold in the flour.\n2. Simmer the butter and sugar for 3 minutes.\n3. Pour the toffee sauce into the dish, pour the batter on top. Bake at 180 °C for 35 minutes.\n",
    );
    let pours = |n: &String| n.to_lowercase().contains("pour toffee sauce, pour batter");
    assert!(pudding.iter().any(pours), "{pudding:?}");
}

/// 'Simmer for 3 minutes, pour' was three minutes for both.
#[test]
fn the_minutes_of_a_pan_are_not_those_of_what_is_done_behind_it() {
    let t = plan(
        "Sauce cake\n\nCake\n200 g plain flour\n200 g butter\n4 eggs\n\nSauce\n100 g butter\n150 g sugar\n\n1. Cream the butter, beat in the eggs, fold in the flour. Bake at 180 °C for 35 minutes.\n2. Simmer the butter and sugar for 3 minutes, pour the sauce over the cake.\n",
    );
    let simmer = t
        .list
        .iter()
        .position(|t| t.name.starts_with("Simmer"))
        .expect("it simmers");
    assert!(
        !t.list[simmer].name.contains("pour"),
        "{}",
        t.list[simmer].name
    );
    assert_eq!(t.list[simmer].hands.usual, 3.0);
    let pour = t
        .list
        .iter()
        .position(|t| t.name.starts_with("Pour"))
        .expect("it is poured");
    assert!(comes_after(&t, pour, simmer));
}

/// The second heat of one bake stands with the bake, in the method's own words.
#[test]
fn the_heat_of_the_last_half_hour_is_said_with_the_bake() {
    let t = plan(
        "Ginger Cake\nServes 8\n\n200 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour.\n2. Put in a 20 cm tin. Bake in a moderate oven for 1 1/2 hours. Reduce to a slow oven for the last half hour.\n",
    );
    let bakes: Vec<_> = t.list.iter().filter(|x| x.what == "bake").collect();
    let [bake] = bakes[..] else {
        panic!("one bake, not {bakes:?}");
    };
    let said = "Reduce to a slow oven for the last half hour";
    assert!(bake.notes.iter().any(|n| n.contains(said)), "{bake:?}");
}

/// Fruit that is soaked overnight waits by that name; an oven that is switched off cools what was baked in it; how
/// long it keeps is no wait.
#[test]
fn a_soak_and_an_oven_switched_off_are_waits_of_their_own_names() {
    let t = plan(
        "Tea Loaf\nServes 10\n\n300 g raisins\n250 ml black tea\n250 g self-raising flour\n150 g brown sugar\n1 egg\n\n1. Soak the raisins in the tea overnight.\n2. Stir in the flour, sugar and egg. Spoon into a 900 g loaf tin and bake at 160 C for 1 hour 15 minutes.\n3. Leave in the oven, switched off, door ajar, 1 hour. It improves for two days. Keeps for five days in a tin and is better on the second.\n",
    );
    let waits = |n| {
        let all = told(&t, n).into_iter();
        all.filter(|(_, wait)| *wait > 0.0).collect::<Vec<_>>()
    };
    let soak = waits(1);
    assert!(soak.len() == 1 && soak[0].0 == "soak", "{soak:?}");
    assert_eq!(waits(3), [("cool in the oven".to_owned(), 60.0)]);
}
