//! Where the clock of egg and milk begins, and what is said of a wait's longest.

use super::{at, of, sheet};
use recipe::plan::Tasks;

fn key<'a>(t: &'a Tasks, stem: &str) -> &'a recipe::plan::Task {
    &t.list[at(t, stem)]
}

/// Fruit soaks, and a dough of flour and syrup rests, before the eggs are out of the fridge.
#[test]
fn hours_before_the_egg_is_taken_do_not_count() {
    let flan = "Plum flan\n\n450 g plums, halved\n3 tbsp brandy\n60 g flour\n3 eggs\n60 g caster sugar\n300 ml milk\n\n1. Soak the plums in the brandy for 3 hours. Butter a dish.\n2. Whisk eggs and sugar, then flour, then milk. Stand 20 min.\n3. Pour the batter over the plums. Bake at 180 °C for 40 min.\n";
    let cakes = "Moon cakes\n\n150 g cake flour\n90 g golden syrup\n35 g peanut oil\n400 g red bean paste\n1 egg yolk, beaten, to brush on\n\n1. Mix syrup and oil; stir in flour. Rest 3 hours.\n2. Wrap the paste in the dough.\n3. Bake at 180 °C for 5 minutes, brush with yolk, bake 12 minutes more.\n";
    for text in [flan, cakes] {
        let t = of(&sheet(text), 1.0);
        assert!(t.breaches.is_empty(), "{:?}", t.breaches);
    }
    for text in [
        flan.replace(
            "Soak the plums in the brandy",
            "Beat the eggs with the plums. Stand",
        ),
        flan.replace(
            "Soak the plums in the brandy",
            "Mix all the ingredients. Stand",
        ),
        cakes.replace("Mix syrup", "Mix the yolk, syrup"),
        cakes.replace("Mix syrup and oil; stir in flour.", "Make the dough."),
    ] {
        let t = of(&sheet(&text), 1.0);
        assert!(!t.breaches.is_empty(), "{text}");
    }
}

#[test]
fn a_longest_wait_is_said_only_where_the_method_says_it() {
    let chill = |step: &str| {
        let t = of(
            &sheet(&format!(
                "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix the dough.\n2. {step}\n"
            )),
            1.0,
        );
        key(&t, ":chill").wait_rests()
    };
    assert_eq!(
        chill("Refrigerate overnight, 8 to 14 hours. Bake at 200 °C for 20 minutes."),
        "said"
    );
    assert_eq!(
        chill("Refrigerate overnight. Bake at 200 °C for 20 minutes."),
        "shortest said, longest a guess"
    );
    let cake = "Tray cake\n\n200 g flour\n200 g sugar\n100 g oil\n150 g water\n8 g baking powder\n\n1. Mix all. Bake at 180 °C for 30 minutes.\n2. Cool in the tin for 20 minutes.\n";
    assert_eq!(
        key(&of(&sheet(cake), 1.0), ":cool").wait_rests(),
        "shortest said, longest a guess"
    );
}

/// A glaze of sugar and a spoon of milk keeps once it is mixed; the milk in its jug does not: it is weighed
/// out when the bread is cold, not the evening before.
#[test]
fn the_milk_of_a_glaze_is_weighed_for_its_mixing() {
    let buns = |end: &str, mixed: &str| {
        let t = of(
            &sheet(&format!(
                "Aniseed loaves\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n330 g water\n\nGlaze\n160 g icing sugar\n35 g milk\n\n1. Mix everything for the dough. Let rise for 1 hour.\n2. Shape into 2 loaves and bake at 200 °C for 35 minutes.\n3. {end}\n"
            )),
            1.0,
        );
        let weigh = at(&t, "glaze:weigh");
        let limit = t.limits.iter().find(|l| l.from == weigh);
        let limit = limit.expect("a limit from the weighing");
        assert_eq!((limit.after, limit.most), (true, 120), "{end}");
        assert_eq!(limit.to, Some(at(&t, mixed)), "{end}");
        // Nothing that cools comes between.
        let cool = t.list.iter().position(|t| t.what == "cool");
        let cool = cool.expect("it cools");
        assert!(!super::comes_after(&t, cool, weigh), "{end}");
    };
    buns(
        "Cool in the tins for 15 minutes, turn out on a rack. Whisk the glaze and drizzle over when cool.",
        "glaze:mix",
    );
    buns(
        "Cool on a rack. Mix the icing sugar with the milk and drizzle over the loaves.",
        "glaze:mix",
    );
    buns(
        "Cool on a rack. Drizzle the loaves with the glaze.",
        "glaze:other",
    );
}

/// The hours of egg and milk are summed at slow work. The waits leave room for that; where
/// they cannot, the plan says so. By hand, of `step_times.tsv` and the recipe's own 10 minutes of mixing:
/// wetting the binder 3, mixing 10, setting to rest 2, shaping 20, to rise 3, into the oven 3.
#[test]
fn warm_hours_are_those_of_a_slow_baker() {
    const SLOW: f64 = 3.0 + 10.0 + 2.0 + 20.0 + 3.0 + 3.0;
    let rolls = |rise: &str| {
        of(
            &sheet(&format!(
                "Milk rolls\n\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n330 g milk\n\n1. Mix everything to a dough for 5 to 10 minutes.\n2. Shape into 12 rolls. Let rise for {rise}.\n3. Bake at 200 °C for 20 minutes.\n"
            )),
            1.0,
        )
    };
    let (short, long) = (rolls("75 minutes"), rolls("140 minutes"));
    for t in [&short, &long] {
        let warm = t.warm.iter().find(|w| w.heated).expect("it is warm");
        assert!((warm.work - SLOW).abs() < 1e-9, "{}", warm.work);
        // Its rise leaves room for that.
        let rise = t.list[at(t, ":rise")].wait.expect("a wait").span;
        let room = 120.0 - SLOW - 10.0;
        assert!(rise.most <= room.max(rise.least), "{rise:?} {room}");
    }
    let told = |t: &Tasks| {
        let mut notes = t.list.iter().flat_map(|t| &t.notes);
        notes.any(|n| n.contains("At slow work"))
    };
    assert!(!told(&short) && told(&long));
    assert_eq!(long.breaches, []);
}

/// Worked by hand: a brownie is 12 % flour (85 of 713 g), a clafoutis 6 % (60 of 970 g), a batter with sausages 12 %.
/// What stays moist, and what has meat in it, stands two hours when it is baked; a brownie does not spoil so.
#[test]
fn what_stays_moist_or_holds_meat_stands_two_hours_when_baked() {
    let baked = |lines: &str| {
        let text = format!(
            "Bake\n\n{lines}\n\n1. Mix everything. Pour into a tin.\n2. Bake at 180 °C for 30 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        let bake = at(&t, ":bake");
        t.limits
            .iter()
            .any(|l| l.from == bake && l.after && l.to.is_none())
    };
    let brownie =
        "85 g plain flour\n200 g butter\n200 g dark chocolate\n78 g egg\n150 g caster sugar";
    assert!(!baked(brownie));
    assert!(baked(
        "60 g plain flour\n450 g cherries\n150 g egg\n60 g sugar\n250 g milk"
    ));
    assert!(baked(
        "140 g plain flour\n200 g egg\n200 g milk\n600 g pork sausages"
    ));
}

/// A rise of 30 to 40 minutes is looked at from half of its shortest, 15 minutes, and is usually three quarters of 35,
/// 26. Where two hours are short it is no shorter than that: a quarter of an hour makes dense rolls.
#[test]
fn a_short_rise_is_not_cut_to_a_quarter_of_an_hour() {
    let rolls = |rest: &str| {
        let text = format!(
            "Milk rolls\n\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n330 g milk\n\n1. Mix everything to a dough for 5 to 10 minutes. Rest for {rest} minutes.\n2. Shape into 12 rolls. Let rise for 30 to 40 minutes.\n3. Bake at 200 °C for 20 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        t.list[at(&t, ":rise")].wait.expect("a rise").span
    };
    assert_eq!(rolls("10").least, 15.0);
    let short = rolls("60");
    assert!((26.0..=27.0).contains(&short.least), "{short:?}");
}
