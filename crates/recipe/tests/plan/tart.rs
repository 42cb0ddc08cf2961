//! A tart in a case that is baked blind, and what goes on it warm.

use super::days::{ask, holds};
use super::{at, comes_after, of, sheet};
use recipe::plan::{Basis, StepChange, Tasks, plan};
use recipe::sheet::{Change, Sheet};

/// Written for this test.
const TART: &str = "Plum and hazelnut tart\nServes 8\n\nFor the pastry\n200 g plain flour\n100 g cold unsalted butter\n60 g icing sugar\n1 egg yolk\n1 tbsp cold water\n\nFor the frangipane\n125 g butter, softened\n125 g caster sugar\n2 medium eggs\n125 g ground hazelnuts\n25 g plain flour\n1 tsp brandy\n\nFor the fruit\n400 g damsons, halved and stoned\n1 tbsp demerara sugar\n\nFor the glaze\n3 tbsp apricot jam\n1 tbsp water\n\nRub the butter into the flour. Stir in the icing sugar, the yolk and water. Chill for 30 minutes.\nRoll out and line a 23cm tart tin. Chill for 20 minutes.\nHeat the oven to 200C/gas 6. Line the case with paper and baking beans and bake blind for 15 minutes. Remove the beans and bake 5 minutes more.\nCream the butter and sugar, beat in the eggs, then fold in the hazelnuts, flour and brandy.\nSpread in the case, press in the damsons and scatter over the demerara. Turn the oven down to 180C/gas 4 and bake for 35-40 minutes.\nWarm the jam with the water and brush over the tart while warm.\n";

#[track_caller]
fn step(t: &Tasks, number: usize, what: &str) -> usize {
    let found = t
        .list
        .iter()
        .rposition(|x| x.step == Some(number) && x.what == what);
    assert!(found.is_some(), "no {what} in step {number}: {:#?}", t.list);
    found.unwrap_or_default()
}

/// Worked by hand: the glaze is for the tart, not for its empty case; the eggs of the filling wait for no
/// pastry.
#[test]
fn a_tart_baked_blind_can_be_planned() {
    for text in [TART.to_owned(), TART.replace(" while warm", "")] {
        let s = sheet(&text);
        let t = of(&s, 1.0);
        let glaze = step(&t, 6, "brush");
        let (case, tart) = (step(&t, 3, "take_out"), step(&t, 5, "take_out"));
        assert!(comes_after(&t, glaze, tart));
        assert!(!t.list[glaze].soon.contains(&case), "{:?}", t.list[glaze]);
        assert_eq!(
            t.list[glaze].soon.contains(&tart),
            text.contains("while warm")
        );
        // The frangipane's flour is not the pastry's.
        let (weigh, rub) = (at(&t, "frangipane:weigh"), at(&t, "pastry:rub_in"));
        assert!(!comes_after(&t, rub, weigh));
        let day = ask(&[s], Some(1440 + 16 * 60));
        let p = plan(&day).unwrap_or_else(|e| panic!("{e:?}"));
        holds(&day, &p);
    }
}

/// Worked by hand: 35–40 min become 39–50 though the step names the fruit, on Rework, in the plan and in
/// Heat; the fruit goes in as it is, behind the case's own bake.
#[test]
fn the_bake_of_what_fruit_is_pressed_into_takes_longer() {
    let s = sheet(TART);
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let w = recipe::sheet::work(&s, &[], &larder, &[]).expect("a recipe");
    let notes = w.rework.components.iter().flat_map(|c| &c.method_notes);
    let mut notes = notes.filter(|n| n.rule == "bake longer" && n.step == Some(5));
    assert!(notes.any(|n| n.text.contains("allow 39–50 minutes")));
    let heat = recipe::heat::given(&w.rework, &w.batch, &larder, None).and_then(|g| g.time);
    let heat = heat.map(|t| (t.low().as_minutes(), t.high().as_minutes()));
    assert_eq!(heat, Some((39.0, 50.0)));
    let t = of(&s, 1.0);
    let bake = &t.list[at(&t, "frangipane:bake")];
    let span = bake.wait.map(|w| (w.span.least, w.span.most));
    assert_eq!(
        (span, bake.wait_basis),
        (Some((39.0, 50.0)), Basis::Reworked)
    );
    let fruit = at(&t, "fruit:weigh");
    assert!(t.task("fruit:mix").is_none());
    assert!(comes_after(&t, step(&t, 5, "other"), fruit));
    assert!(!comes_after(&t, step(&t, 3, "bake"), fruit));
    // Both bakes of the case are of the case alone.
    assert!(!t.list[step(&t, 3, "bake")].cooks && bake.cooks);
}

#[test]
fn steps_are_called_by_what_they_do_and_to_what() {
    let t = of(&sheet(TART), 1.0);
    let named = |n: usize, what: &str| t.list[step(&t, n, what)].title();
    assert_eq!(named(2, "roll"), "Roll, line tin (pastry)");
    assert_eq!(named(3, "grease"), "Line case (pastry)");
    assert_eq!(named(5, "bake"), "Bake (frangipane)");
}

/// Worked by hand: the loaves cool, not their syrup, and not before it is on.
#[test]
fn loaves_cool_once_their_syrup_is_on() {
    let loaves = "Seed loaves\nMakes 2 loaves\n\nFor the dough\n500 g bread flour\n7 g instant yeast\n250 ml milk\n2 eggs\n100 g butter\n\nEgg wash\n1 egg\n1 tbsp milk\n\nSyrup\n100 g sugar\n80 ml water\n1 tbsp honey\n\n1. Mix the dough and knead for 8 minutes. Shape into two loaves and let rise 1 hour.\n2. Brush with the egg wash and bake at 180 C for 35 minutes.\n3. Boil the sugar, water and honey for 3 minutes. Brush over the hot loaves. Cool in the tins 20 minutes, then turn out on a rack.\n";
    let t = of(&sheet(loaves), 1.0);
    let all: Vec<String> = t.list.iter().map(recipe::plan::Task::title).collect();
    assert!(
        all.contains(&"Brush with egg wash (dough)".to_owned()),
        "{all:?}"
    );
    assert!(
        all.contains(&"Cool before cutting (dough)".to_owned()),
        "{all:?}"
    );
    assert!(!all.contains(&"Cool (syrup)".to_owned()), "{all:?}");
    let (cool, on) = (at(&t, "dough:cool"), at(&t, "syrup:brush"));
    assert!(comes_after(&t, cool, on));
    assert!(comes_after(&t, on, at(&t, "dough:bake")));
    // It is ready then: it boils while they bake.
    let boil = at(&t, "syrup:boil");
    assert!(comes_after(&t, on, boil) && !comes_after(&t, boil, at(&t, "dough:bake")));
}

/// The page says 30 minutes; the hours beyond are ours.
#[test]
fn the_longest_of_a_cold_wait_is_said_to_be_a_guess() {
    let mut s = sheet(TART);
    let chill = |s: &Sheet| {
        let t = of(s, 1.0);
        let t = &t.list[at(&t, "pastry:chill")];
        let w = t.wait.expect("a wait").span;
        (w.least, w.most, t.wait_rests())
    };
    let (least, most, rests) = chill(&s);
    assert!(least == 30.0 && most % 30.0 == 0.0 && most > 60.0, "{most}");
    assert_eq!(rests, "shortest said, longest a guess");
    let change = Change::SetStep {
        step: "pastry:chill".to_owned(),
        words: None,
        to: StepChange::Most(Some(90.0)),
    };
    s.change(&change).expect("a change");
    assert_eq!(chill(&s).2, "own");
}

/// A case baked without its beans for a while is in the oven for both times.
#[test]
fn a_bake_without_the_beans_is_counted() {
    let mut s = sheet(TART);
    s.method = Some("Roll out and line the tin. Bake blind at 200 C for 18 minutes, then 6 without the beans.\n\nSpread in the frangipane, press in the damsons and bake at 180 C for 45 minutes.".to_owned());
    let t = of(&s, 1.0);
    let bakes = t.list.iter().filter(|t| t.what == "bake");
    let spans: Vec<f64> = bakes.filter_map(|t| Some(t.wait?.span.usual)).collect();
    assert_eq!(spans, [18.0, 6.0, 45.0], "{:#?}", t.list);
}

/// A step that waits for nothing gets a longest wait: it may still go on at once.
#[test]
fn a_longest_wait_is_no_shortest() {
    let mut s: Sheet = sheet(TART);
    let key = "frangipane:cream";
    assert!(of(&s, 1.0).list[at(&of(&s, 1.0), key)].wait.is_none());
    let mut waits = |to: StepChange| {
        let (step, words) = (key.to_owned(), None);
        s.change(&Change::SetStep { step, words, to })
            .expect("a change");
        let t = of(&s, 1.0);
        let w = t.list[at(&t, key)].wait.map(|w| w.span);
        w.map(|w| (w.least, w.most))
    };
    assert_eq!(waits(StepChange::Most(Some(45.0))), Some((0.0, 45.0)));
    assert_eq!(waits(StepChange::Least(Some(10.0))), Some((10.0, 45.0)));
    assert_eq!(waits(StepChange::Most(None)), Some((10.0, 10.0)));
}

/// A case baked blind and filled in one step bakes longer; its custard does not.
#[test]
fn a_blind_bake_in_the_step_of_a_custard_is_its_own() {
    let tart = |bake: &str| {
        let text = format!(
            "Nutmeg Tart\nServes 8\n\nPastry\n200 g plain flour\n100 g butter\n1 egg yolk\n\nCustard filling\n500 ml double cream\n8 egg yolks\n80 g caster sugar\n\nMethod\n1. Rub the butter into the flour, add the yolk and bring together. Chill for 30 minutes. Roll out and line a 23 cm tart tin.\n2. For the custard filling, whisk the cream, yolks and sugar.\n3. {bake}\n"
        );
        let t = of(&sheet(&text), 1.0);
        let bakes = t.list.iter().filter(|x| x.what == "bake");
        let spans = bakes.filter_map(|b| b.wait.map(|w| (w.span.least, w.span.most)));
        spans.collect::<Vec<_>>()
    };
    // A tenth to a quarter longer.
    assert_eq!(
        tart(
            "Bake the pastry case blind at 180 °C for 20 minutes, then fill and bake at 150 °C for 30 minutes, until just set with a wobble."
        ),
        [(22.0, 25.0), (30.0, 30.0)]
    );
    // One custard in two ovens.
    assert_eq!(
        tart(
            "Fill the pastry case and bake at 180 °C for 10 minutes, then at 150 °C bake for 20 minutes, until just set with a wobble."
        ),
        [(10.0, 10.0), (20.0, 20.0)]
    );
}

/// Worked by hand: the loaf under a paste is what bakes and cools, and the paste is mixed once.
#[test]
fn a_loaf_cools_that_a_paste_is_brushed_on() {
    for (n, step) in [
        "Mix the rice flour, oil, sugar and water to a paste and leave for 15 minutes. Brush thickly over the loaf and bake at 220 °C for 35 minutes. Cool on a rack.",
        "For the topping, whisk everything to a paste. Stand 15 minutes, then spread over the loaf. Bake at 220 °C for 35 minutes.",
    ]
    .into_iter()
    .enumerate()
    {
        let t = of(
            &sheet(&format!(
                "Spotted loaf\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n320 g water\n\nTopping\n90 g rice flour\n1 tbsp sesame oil\n1 tsp sugar\n90 g warm water\n\n1. Mix everything for the dough and knead for 10 minutes.\n2. Shape into a loaf and let rise for 45 minutes.\n3. {step}\n"
            )),
            1.0,
        );
        let bake = at(&t, "dough:bake");
        let cool = t.list.iter().position(|t| t.what.starts_with("cool"));
        let cool = cool.expect("it cools");
        assert!(comes_after(&t, cool, bake), "{n}");
        // A tenth to a quarter longer, as any loaf of the rework.
        assert_eq!(t.list[bake].wait.map(|w| w.span.least), Some(39.0), "{n}");
        let weigh = at(&t, "topping:weigh");
        assert!(comes_after(&t, bake, weigh), "{n}");
        assert!(t.task("topping:mix").is_none(), "{n}: {:?}", t.list);
    }
}

/// A larger tart is one tart on one rack, as it is at × 1; two of them are two.
#[test]
fn a_larger_tart_takes_one_rack() {
    for (pan, racks) in [("11 inch tart pan", 1), ("2 x 9 inch tart pan", 2)] {
        let mut s = sheet(TART);
        let pans = recipe::size::Pans::read(pan, &[]).expect("a pan");
        s.size = Some(recipe::size::Target::Pan(pans).into());
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let w = recipe::sheet::work(&s, &[], &larder, &[]).expect("a recipe");
        let t = recipe::plan::tasks(&w, &s, w.batch.factor);
        for task in t.list.iter().filter(|t| t.what != "preheat") {
            let stands = task.wait.is_some_and(|w| {
                use recipe::plan::Place::{Freezer, Fridge, Oven};
                matches!(w.place, Oven | Fridge | Freezer)
            });
            assert!(!stands || task.racks == racks, "{pan}: {task:?}");
        }
    }
}

/// Three bakes of one case are told apart by their names.
#[test]
fn bakes_of_one_case_are_called_by_what_they_are() {
    let quiche = "Chard quiche\nServes 6\n\nPastry\n190 g plain flour\n110 g cold butter\n1 egg yolk\n2 tbsp water\n\nFilling\n300 g chard, cooked\n3 eggs\n240 ml cream\n\nRub the butter into the flour. Stir in the yolk and water. Chill for 30 minutes.\nRoll out and line a 23 cm tart tin. Line with paper and beans and bake blind at 200 °C for 15 minutes; take out the beans and bake 8 minutes more.\nWhisk the eggs and cream. Scatter the chard over the base, pour on the custard and bake at 180 °C for 35 minutes.\n";
    let t = of(&sheet(quiche), 1.0);
    let bakes = t.list.iter().filter(|x| x.what == "bake");
    let mut names: Vec<&str> = bakes.clone().map(|x| x.name.as_str()).collect();
    assert_eq!(names[..2], ["Bake blind", "Bake blind, uncovered"]);
    let titles: Vec<String> = bakes.map(|x| x.title()).collect();
    names = titles.iter().map(String::as_str).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), titles.len(), "{titles:?}");
}

/// A case under baking beans is baked blind though the word is not said: no filling is in it yet.
#[test]
fn a_case_under_beans_is_baked_blind() {
    let text = "Onion tart\n\nPastry\n200 g plain flour\n100 g butter\n40 ml water\n\nFilling\n3 onions\n3 eggs\n200 ml cream\n\n1. Rub the butter into the flour and add the water. Roll out, line a tin, cover with paper and baking beans and bake at 200 °C for 15 minutes. Remove the beans and paper and bake for 5 minutes more.\n2. Fry the onions for 10 minutes. Beat in the eggs and cream and pour into the case.\n3. Bake at 180 °C for 30 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let bakes = t.list.iter().filter(|t| t.what == "bake");
    let bakes: Vec<(&str, bool)> = bakes.map(|t| (t.name.as_str(), t.cooks)).collect();
    assert_eq!(bakes.len(), 3, "{bakes:?}");
    assert_eq!(bakes[0], ("Bake blind", false));
    assert_eq!(bakes[1], ("Bake blind, uncovered", false));
    assert!(bakes[2].1, "{bakes:?}");
}

/// 'Bake until hot. Serve warm' is of the rolls that this step bakes, not of the onion fried for their filling.
/// Written for this test.
#[test]
fn what_is_served_warm_is_what_its_step_bakes() {
    let s = sheet(
        "Leek rolls\nServes 4\n\nPastry\n250 g plain flour\n200 g cold butter\n120 ml cold water\n\nFilling\n400 g minced pork\n1 onion, chopped\n50 g breadcrumbs\n\nTo finish\n1 egg, beaten\nsesame seeds\n\n1. Rub the butter into the flour, add the water. Chill for 30 minutes.\n2. Meanwhile, fry the onion for 8 minutes, cool, then mix with everything else for the filling.\n3. Heat the oven to 200C. Roll out the pastry, lay the filling down the middle, brush one edge with egg and fold over. Chill for 30 minutes.\n4. Brush with egg, scatter over the seeds and bake for 25 minutes until golden. Serve warm.\n",
    );
    let day = ask(&[s], Some(1440 + 16 * 60));
    let p = plan(&day).unwrap_or_else(|e| panic!("{e:?}"));
    holds(&day, &p);
}
