//! Where one step tells of several parts or of a night. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};
use recipe::plan::{Place, Tasks};

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
