//! Where one step tells of several parts or of a night. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};
use recipe::plan::{Basis, Place, Tasks};

fn part<'a>(t: &'a Tasks, key: &str) -> &'a str {
    &t.list[at(t, key)].of
}

/// The glaze that a step mixes behind the bake is not what is left to sit and baked.
#[test]
fn what_stands_before_a_glaze_is_of_the_dough() {
    let text = "Nutmeg Knots\n\nFor the dough\n500 g bread flour\n7 g fast-action yeast\n300 ml milk\n1 egg\n\nFor the glaze\n100 g icing sugar\n2 tbsp milk\n\nMix the dough, cover and leave to rise 1 hour. Shape into balls, cover and refrigerate overnight.\nIn the morning let it sit at room temperature 1 hour. Bake at 190C for 20 minutes. Mix the glaze and drizzle over.\n";
    let t = of(&sheet(text), 1.0);
    let sits = at(&t, "dough:rest");
    assert_eq!(t.list[sits].wait.map(|w| w.span.usual), Some(60.0));
    assert!(comes_after(&t, sits, at(&t, "dough:chill")));
    assert!(comes_after(&t, at(&t, "dough:bake"), sits));
    // A glaze that is boiled for the bake stays a glaze.
    let text = text.replace("Mix the glaze and drizzle over.", "").replace("In the", "For the glaze, boil the icing sugar and milk for 2 minutes. Leave the glaze to cool for 30 minutes.\nIn the");
    let t = of(&sheet(&text), 1.0);
    assert_eq!(part(&t, "glaze:boil"), "glaze");
}

/// What is brushed on 'as soon as they come out' is no work beside the bake.
#[test]
fn a_syrup_is_brushed_on_behind_the_bake() {
    let text = "Syrup Buns\n\nFor the dough\n500 g bread flour\n7 g fast-action yeast\n300 ml milk\n1 egg\n\nFor the syrup\n100 g sugar\n100 ml water\n\nMix the dough, cover and leave to rise 1 hour. Shape into 12 buns and prove 45 minutes.\nBake at 190C for 20 minutes. Meanwhile, boil the sugar and water for 2 minutes. Brush on the syrup as soon as they come out.\n";
    let t = of(&sheet(text), 1.0);
    let what = |what: &str| t.list.iter().position(|x| x.what == what);
    let (bake, boil) = (what("bake").expect("a bake"), what("boil").expect("a boil"));
    let brush = what("brush").expect("a brush");
    assert!(comes_after(&t, brush, bake) && comes_after(&t, brush, boil));
    assert!(comes_after(&t, brush, what("take_out").expect("taken out")));
    assert!(!comes_after(&t, boil, bake));
    assert_eq!(t.list[boil].hands.usual, 2.0);
}

/// What is soaked 'the night before' waits a night, and nothing before it.
#[test]
fn the_night_before_is_a_night() {
    let of_said = |said: &str| {
        let text = format!(
            "Tea Loaf\n\n350 g mixed dried fruit\n250 ml hot tea\n225 g self-raising flour\n125 g sugar\n1 egg\n\n{said}\nNext day, heat the oven to 170C and line a 2lb loaf tin.\nStir the sugar, egg and flour into the fruit. Spoon into the tin.\nBake for 1 hour.\n"
        );
        of(&sheet(&text), 1.0)
    };
    for said in [
        "The night before, soak the fruit in the tea, covered, at room temperature.",
        "Soak the fruit in the tea overnight.",
    ] {
        let t = of_said(said);
        let of_first: Vec<_> = t.list.iter().filter(|x| x.step == Some(1)).collect();
        let (last, before) = of_first.split_last().expect("a step");
        let wait = last.wait.expect("a wait");
        assert!(
            wait.span.least >= 480.0 && wait.place == Place::Bench,
            "{said}"
        );
        assert!(before.iter().all(|x| x.wait.is_none()), "{said}");
    }
    // A time that is said stands.
    let t = of_said("The night before, soak the fruit in the tea for 3 hours.");
    let wait = t
        .list
        .iter()
        .find(|x| x.step == Some(1) && x.wait.is_some());
    assert_eq!(wait.and_then(|x| x.wait).map(|w| w.span.usual), Some(180.0));
}

/// The syrup of a dough that has a night is boiled on the day it is baked.
#[test]
fn a_syrup_beside_the_bake_is_not_of_the_day_before() {
    let text = |waits: &str| {
        format!(
            "Hazel Twist\n\n530 g plain flour\n7 g fast-action yeast\n120 ml milk\n3 eggs\n100 g caster sugar\n160 ml water\n240 g sugar\n\nMix the dough. Cover and leave {waits}.\nShape and put in two 2lb tins. Prove 1 1/2 hours.\nBake at 190C for 30 minutes. Meanwhile, boil the water and sugar for 2 min. Brush on the syrup as soon as they come out.\n"
        )
    };
    let begins_with = |waits: &str| {
        let t = of(&sheet(&text(waits)), 1.0);
        let boil = t.list.iter().find(|x| x.what == "boil").expect("a boil");
        boil.after.iter().any(|&a| t.list[a].what == "weigh")
    };
    assert!(!begins_with("in the fridge overnight"));
    assert!(begins_with("to rise for 30 minutes"));
}

/// Yeast extract raises nothing: the toad is baked, not its gravy.
#[test]
fn a_gravy_with_yeast_extract_is_no_dough() {
    let text = |last: &str| {
        format!(
            "Sausage Batter\n\n12 sausages\n140 g plain flour\n2 eggs\n175 ml milk\n\nGravy\n2 onions\n1 tbsp flour\n500 ml stock\n{last}\n\nHeat oven to 220C. Put the sausages in a 20 x 30cm roasting tin and roast for 15 mins.\nMeanwhile, whisk the flour with the eggs and milk to a smooth batter.\nPour the batter into the hot tin and bake for 40 mins.\nFor the gravy, soften the onions for 20 mins, stir in the flour, then the stock.\n"
        )
    };
    let t = of(&sheet(&text("1 tsp yeast extract")), 1.0);
    assert!(t.list.iter().all(|x| x.what != "bake" || x.of != "gravy"));
    let heats = t.list.iter().filter(|x| x.what == "preheat").count();
    assert_eq!(heats, 1);
}

/// A meringue that cools inside keeps the oven; one that is taken out does not.
#[test]
fn what_cools_inside_keeps_the_oven() {
    let place = |said: &str| {
        let text = format!(
            "Meringue Round\n\n4 egg whites\n220 g caster sugar\n2 tsp cornflour\n1 tsp white vinegar\n\nWhisk the egg whites to soft peaks, then whisk in the sugar, cornflour and vinegar. Shape into a 20cm round on a lined tray.\n{said}\n"
        );
        let t = of(&sheet(&text), 1.0);
        let cool = t.list.iter().find(|x| x.what == "cool").expect("cooled");
        cool.wait.map(|w| w.place)
    };
    assert_eq!(
        place(
            "Bake at 120 °C for 1 hr 30 min, then turn off oven and leave to cool inside with the door ajar."
        ),
        Some(Place::Oven)
    );
    assert_eq!(
        place(
            "Bake at 120 °C for 1 hr 30 min, turn the oven off, take it out of the oven and cool."
        ),
        Some(Place::Bench)
    );
}

/// 'At least 30 minutes, or overnight': from 30 minutes on, and with egg and milk in the fridge.
#[test]
fn a_rest_to_a_night_stays_as_long() {
    let rest = |said: &str| {
        let text = format!(
            "Batter Puddings\nMakes 12\n\n140 g plain flour\n4 eggs\n200 ml milk\n\nBeat the flour and eggs until smooth, gradually add milk. {said}\nHeat oven to 230C. Pour into a 12-hole muffin tin and bake for 20-25 mins.\n"
        );
        let t = of(&sheet(&text), 1.0);
        let rest = t.list.iter().find(|x| x.what == "rest").expect("a rest");
        rest.wait.expect("a wait")
    };
    for said in [
        "Rest the batter for at least 30 minutes, or overnight in the fridge.",
        "Rest the batter for at least 30 minutes, or overnight.",
    ] {
        let wait = rest(said);
        assert_eq!(
            (wait.span.least, wait.place),
            (30.0, Place::Fridge),
            "{said}"
        );
        assert!(wait.span.most >= 480.0, "{said}");
    }
    assert_eq!(rest("Rest the batter for 20 minutes.").place, Place::Bench);
}

/// By hand: two hours at 30 minutes each are four folds, each behind its wait.
#[test]
fn folds_every_half_hour_are_as_many_as_the_hours_hold() {
    for said in [
        "Fold every 30 minutes for 2 hours.",
        "Over the next 2 hours, stretch and fold the dough every half hour.",
        "Fold the dough every half an hour for two hours.",
        "Bulk ferment for 2 hours, with a stretch and fold every 30 minutes.",
    ] {
        let t = of(
            &sheet(&format!(
                "Slow loaf\n\n500 g bread flour\n10 g salt\n3 g dried yeast\n400 g water\n\n1. Mix everything and leave for 20 minutes.\n2. {said}\n3. Shape. Prove for 1 hour. Bake at 230 °C for 40 minutes.\n"
            )),
            1.0,
        );
        let folds = t.list.iter().filter(|t| t.what == "fold");
        let names: Vec<&str> = folds.map(|t| t.name.as_str()).collect();
        let four = [
            "Fold: 1 of 4",
            "Fold: 2 of 4",
            "Fold: 3 of 4",
            "Fold: 4 of 4",
        ];
        assert_eq!(names, four, "{said}");
        let rests = t
            .list
            .iter()
            .filter_map(|t| t.wait.filter(|_| t.what == "rest"));
        let rests: Vec<f64> = rests.map(|w| w.span.least).collect();
        assert_eq!(rests, [20.0, 30.0, 30.0, 30.0, 30.0], "{said}");
    }
    // Once is once.
    let once = "Slow loaf\n\n500 g bread flour\n400 g water\n\n1. Mix. Fold after 30 minutes.\n2. Bake at 230 °C for 40 minutes.\n";
    let t = of(&sheet(once), 1.0);
    assert!(t.list.iter().all(|t| !t.name.contains("1 of ")));
}

/// What is thawed overnight is thawed before the egg is taken, and its nights in the fridge are called so.
#[test]
fn pastry_thaws_in_the_fridge_before_the_egg_is_taken() {
    let pie = "Spinach pie\n\n270 g filo pastry\n400 g spinach\n200 g feta\n2 eggs\n80 g butter\n\n1. Thaw the filo overnight in the fridge. Bring to room temperature for 1 hour.\n2. Wilt the spinach, cool, squeeze and mix with the feta and eggs.\n3. Brush the filo with butter and layer in a tin with the filling.\n4. Bake at 180 °C for 40 minutes.\n";
    let t = of(&sheet(pie), 1.0);
    let thaw = t.list.iter().find(|t| t.name == "Thaw").expect("it thaws");
    let wait = thaw.wait.expect("a wait");
    assert_eq!(wait.place, Place::Fridge);
    assert!(wait.may && wait.span.least == 480.0 && wait.span.most > 480.0);
    assert_eq!(t.breaches, []);
    // The egg is weighed in the morning.
    let (weigh, thaw) = (
        at(&t, ":weigh"),
        t.list.iter().position(|t| t.name == "Thaw"),
    );
    assert!(comes_after(&t, weigh, thaw.expect("it thaws")));
}

/// 'Chill for up to 24 hours' on the way may take that long, and need not be.
#[test]
fn what_is_chilled_for_up_to_a_day_need_not_be() {
    let of_end = |end: &str| {
        let t = of(
            &sheet(&format!(
                "Set creams\n\n400 ml double cream\n100 ml milk\n60 g sugar\n2 leaves gelatine\n\n1. Warm the cream, milk and sugar, stir in the gelatine. Pour into 4 moulds and chill for 4 hours.\n2. {end}\n"
            )),
            1.0,
        );
        let last = t.list.iter().rfind(|t| t.what == "chill").expect("a chill");
        let span = last.wait.expect("a wait").span;
        (span.least, last.optional.is_some())
    };
    let way = of_end("Turn out and chill for up to 24 hours. Serve cold.");
    assert_eq!(way, (0.0, true));
    for end in [
        "They can be chilled for up to 24 hours. Serve cold.",
        "Store in the fridge for up to 24 hours. Serve cold.",
    ] {
        assert_eq!(of_end(end), (240.0, false), "{end}");
    }
}

/// Worked by hand: 1 minute is said of the cheese alone; the sugar and the cream take the usual 4–10 minutes of mixing
/// besides. Without them the minute is for all of it.
#[test]
fn a_time_said_of_the_first_beating_is_not_that_of_the_whole() {
    let frosting = |rest: &str| {
        let text = format!(
            "Cream cheese frosting\n\n225 g cream cheese\n100 g icing sugar\n250 ml double cream\n\nMethod\n1. Beat the cream cheese until creamy, about 1 minute.{rest}\n"
        );
        let t = of(&sheet(&text), 1.0);
        let mix = t.list.iter().find(|t| t.step == Some(1));
        let mix = mix.expect("it is beaten");
        ((mix.hands.least, mix.hands.most), mix.hands_basis)
    };
    let rest =
        " Beat in the sugar a quarter cup at a time. Pour in the cream and beat until spreadable.";
    assert_eq!(frosting(rest), ((5.0, 11.0), Basis::Guess));
    assert_eq!(frosting(""), ((1.0, 1.0), Basis::Said));
}

/// Worked by hand: the batter is baked, not the sauce it is poured on.
#[test]
fn a_batter_poured_on_a_sauce_is_what_is_baked() {
    let text = "Date pudding\n\n175 g dates, chopped\n85 g butter\n140 g sugar\n2 eggs\n175 g self-raising flour\n\nToffee sauce\n225 g sugar\n100 g butter\n300 ml double cream\n\nMethod\n1. Simmer the sugar, butter and cream for the sauce for 3 minutes. Pour half of it into a dish.\n2. Heat the oven to 180 °C. Cream the butter and sugar, beat in the eggs, fold in the flour and dates.\n3. Pour the batter on top of the toffee sauce. Bake about 30 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let bake = t
        .list
        .iter()
        .find(|t| t.what == "bake")
        .expect("it is baked");
    assert_ne!(bake.of, "toffee sauce");
    let sauce = t
        .list
        .iter()
        .position(|t| t.of == "toffee sauce" && t.step == Some(1));
    let baked = t
        .list
        .iter()
        .position(|t| t.what == "bake")
        .unwrap_or_default();
    assert!(comes_after(&t, baked, sauce.expect("it is simmered")));
}
