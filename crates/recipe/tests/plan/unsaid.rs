//! Parts that the baker's own method does not speak of.

use super::{at, comes_after, of, sheet};
use recipe::plan::Tasks;
use recipe::sheet::Change;

const WREATH: &str = "Cardamom wreath\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n60 g sugar\n7 g salt\n250 g milk\n1 egg\n60 g butter\n\nFilling\n80 g hazelnuts, ground\n60 g brown sugar\n90 g cream\n\nEgg wash\n1 egg\n1 tbsp milk\n\nCrumbs\n50 g flour\n30 g sugar\n30 g butter\n\nSyrup\n50 g sugar\n50 g water\n\nTopping\n40 g pumpkin seeds\n20 g honey\n\nMethod\n1. Mix everything for the dough and knead for 8 minutes. Let rise for 1 hour.\n2. For the filling, stir the hazelnuts, sugar and cream to a paste.\n3. For the crumbs, rub the butter into the flour and sugar.\n4. Roll out the dough, spread with the filling, roll up and shape into a wreath. Let rise for 45 minutes.\n5. Brush the dough with the egg wash, scatter over the crumbs and bake at 190 °C for 30 minutes.\n6. Boil the sugar and water for the syrup for 2 minutes. Brush the syrup over the hot wreath.\n";

fn own(method: &str) -> Tasks {
    let mut s = sheet(WREATH);
    let text = Some(method.to_owned());
    s.change(&Change::Method { text }).expect("a method");
    of(&s, 1.0)
}

fn unsaid(t: &Tasks) -> Vec<&str> {
    let said = |n: &String| n.contains("Your method does not say where");
    let all = t.list.iter().filter(|t| t.notes.iter().any(said));
    all.map(|t| t.of.as_str()).collect()
}

/// Worked by hand: each part comes where the page has it, and each is told.
#[test]
fn a_part_that_an_own_method_leaves_out_is_made_as_the_page_has_it() {
    let t = own(
        "Mix the dough for 5 minutes.\nShape it into a wreath.\nLet rise for 40 minutes.\nBake at 190 °C for 30 minutes.\nCool on a rack.",
    );
    let mut parts = unsaid(&t);
    parts.sort_unstable();
    assert_eq!(parts, ["crumbs", "egg wash", "filling", "syrup", "topping"]);
    assert_eq!(t.unsaid.len(), 5);
    let first = |part: &str| t.list.iter().find(|t| t.of == part).expect("a task");
    assert_eq!(
        first("egg wash").notes,
        ["Your method does not say where the egg wash goes: write a step for it."]
    );
    let (shape, bake) = (at(&t, "dough:shape"), at(&t, "dough:bake"));
    for (later, earlier) in [
        (shape, "filling:mix"),
        (bake, "egg wash:mix"),
        (bake, "crumbs:rub_in"),
        (bake, "topping:mix"),
    ] {
        assert!(comes_after(&t, later, at(&t, earlier)), "{earlier}");
    }
    assert!(!comes_after(&t, shape, at(&t, "egg wash:mix")));
    let boil = at(&t, "syrup:boil");
    assert!(comes_after(&t, boil, bake), "{:?}", t.list);
    // Steps of another method have no number in this.
    assert_eq!(t.list[boil].step, None);
    assert_eq!(t.list.iter().filter(|t| t.what == "bake").count(), 1);
    // The egg of the wash is baked within two hours: nothing is to be eaten raw.
    let wash = t.list[at(&t, "egg wash:mix")].component;
    assert!(
        t.warm.iter().any(|w| w.component == wash && w.heated),
        "{:?}",
        t.warm
    );
}

/// 'Glaze when cool' is no egg wash: raw egg does not go on a baked bread.
#[test]
fn what_glazes_a_cold_bake_is_no_egg_wash() {
    for parted in ["\n", " "] {
        let t = own(&format!(
            "Mix the dough for 5 minutes. Fill it.\nLet rise for 40 minutes. Scatter over the crumbs and seeds.\nBake at 190 °C for 30 minutes.{parted}Glaze when cool."
        ));
        // It is the syrup's, in the step of the bake too.
        assert_eq!(unsaid(&t), ["egg wash"]);
        let bake = at(&t, "dough:bake");
        let wash = at(&t, "egg wash:mix");
        assert!(comes_after(&t, bake, wash), "{:?}", t.list);
        let glaze = t.list.iter().rposition(|t| t.name.contains("glaze"));
        let glaze = glaze.expect("glazed");
        assert!(comes_after(&t, glaze, bake), "{:?}", t.list);
    }
}

/// The page brushes the wash on before the bake; the butter that an own method brushes on behind it is no such
/// place.
#[test]
fn a_wash_does_not_go_where_a_baked_bread_is_brushed() {
    let t = own(
        "Mix the dough for 5 minutes. Fill it.\nLet rise for 40 minutes. Scatter over the crumbs and seeds.\nBake at 190 °C for 30 minutes.\nBrush the dough with melted butter when cool. Serve with the syrup.",
    );
    assert_eq!(unsaid(&t), ["egg wash"]);
    let (bake, wash) = (at(&t, "dough:bake"), at(&t, "egg wash:mix"));
    assert!(comes_after(&t, bake, wash), "{:?}", t.list);
}

/// What a step takes, fills or names in any words is not left out.
#[test]
fn what_an_own_method_speaks_of_is_not_called_left_out() {
    let t = own(
        "Mix the dough for 5 minutes.\nRoll out, fill and shape.\nLet rise for 40 minutes. Brush the wreath. Top it with the seeds and the crumbs.\nBake at 190 °C for 30 minutes.\nPour the syrup over.",
    );
    assert!(
        unsaid(&t).is_empty() && t.unsaid.is_empty(),
        "{:?}",
        unsaid(&t)
    );
    assert!(unsaid(&of(&sheet(WREATH), 1.0)).is_empty());
}

/// Worked by hand: with a filling that spoils, what is glazed when cool is glazed behind the cooling, which ends
/// in the fridge.
#[test]
fn what_is_glazed_when_cool_waits_for_the_fridge() {
    for parted in ["\n", " "] {
        let t = own(&format!(
            "Mix the dough for 5 minutes.\nFill and shape.\nLet rise for 40 minutes. Brush with egg wash, scatter over the crumbs and seeds.\nBake at 190 °C for 30 minutes.{parted}Brush with the syrup when cool."
        ));
        let place = |says: &str| {
            let at = t.list.iter().rposition(|t| t.name.contains(says));
            at.unwrap_or_else(|| panic!("{says}: {:?}", t.list))
        };
        let chill = place("Go on cooling in the fridge");
        assert!(comes_after(&t, chill, at(&t, "dough:bake")));
        assert!(comes_after(&t, place("syrup"), chill), "{:?}", t.list);
        assert_eq!(t.breaches, []);
    }
}

const PLAIT: &str = "Honey plait\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n280 g water\n30 g butter\n\nNut filling\n200 g walnuts\n50 g butter\n2 tbsp honey\n\nTo finish\n1 egg\n1 tbsp milk\n\nSyrup\n75 g caster sugar\n75 ml water\n\nMethod\n1. Mix the dough and knead for 8 minutes. Chill overnight.\n2. For the filling, mix all the ingredients.\n3. Roll out, spread with the filling and plait. Brush with the egg wash and bake at 190 °C for 30 minutes.\n4. Meanwhile, boil the sugar and water for 3 minutes. Brush over the hot plait.\n";

/// A baker's few words: the order is that of the text, and of what is there to be worked with.
#[test]
fn an_own_method_of_few_words_is_worked_in_its_order() {
    let own = |method: &str| {
        let mut s = sheet(PLAIT);
        let text = Some(method.to_owned());
        s.change(&Change::Method { text }).expect("a method");
        of(&s, 1.0)
    };
    let t = own(
        "Make the dough and chill it overnight.\nRoll, fill and plait it.\nBake at 190 °C for 33 minutes.\nBoil the syrup and brush it on the hot plait.",
    );
    let (bake, boil) = (at(&t, "dough:bake"), at(&t, "syrup:boil"));
    let brush = at(&t, "syrup:brush");
    assert!(comes_after(&t, at(&t, "dough:roll"), at(&t, "dough:mix")));
    assert!(comes_after(
        &t,
        at(&t, "dough:roll"),
        at(&t, "nut filling:mix")
    ));
    assert!(comes_after(&t, brush, bake) && comes_after(&t, brush, boil));
    assert!(!comes_after(&t, boil, bake));
    // The syrup is no egg wash: that goes on before the bake, and the baker is told that no step says so.
    let egg = at(&t, "to finish:weigh");
    assert!(comes_after(&t, bake, egg));
    assert_eq!(unsaid(&t), ["to finish"]);

    let t = own(
        "Make the dough and chill it overnight.\nMix the nut filling.\nRoll out, fill and plait. Brush with the egg wash.\nBake for 35 minutes at 190 °C.\nMeanwhile boil the syrup.\nBrush twice. Cool.",
    );
    let twice = t.list.iter().position(|x| x.name == "Brush twice");
    let twice = twice.expect("it is brushed twice");
    let (bake, boil) = (at(&t, "dough:bake"), at(&t, "syrup:boil"));
    assert!(comes_after(&t, twice, bake) && comes_after(&t, twice, boil));
    assert!(!comes_after(&t, boil, bake) && !comes_after(&t, bake, boil));
}

/// Worked by hand: a batter that is only told to be made is mixed, and what is strewn over its fruit comes behind.
#[test]
fn a_batter_that_is_only_told_to_be_made_is_mixed() {
    let mut s = sheet(
        "Plum streusel cake\n\nStreusel\n60 g plain flour\n40 g butter\n40 g sugar\n\nCake\n200 g plain flour\n2 tsp baking powder\n120 g butter\n120 g sugar\n2 eggs\n300 g plums\n\nMethod\n1. For the streusel, rub the butter into the flour and sugar.\n2. Cream the butter and sugar, beat in the eggs and fold in the flour and baking powder. Spread in a tin, lay on the plums.\n3. Scatter over the streusel and bake at 180 °C for 45 minutes.\n",
    );
    let text = "Make the batter and spread it in the tin.\nMix the streusel and scatter over the plums.\nBake at 180 °C for 45 minutes.";
    let text = Some(text.to_owned());
    s.change(&Change::Method { text }).expect("a method");
    let t = of(&s, 1.0);
    let (mix, streusel) = (at(&t, "cake:mix"), at(&t, "streusel:mix"));
    assert!(comes_after(&t, streusel, mix));
    assert!(comes_after(&t, at(&t, "cake:bake"), streusel));
}

/// By the methods' own words: what they mix, boil or take line by line is not mixed once more.
#[test]
fn nothing_is_mixed_twice() {
    let bake = "Bake at 180 °C for 30 minutes.";
    for text in [
        format!(
            "Fig pavlova\n\nMeringue\n4 egg whites\n220 g caster sugar\n1 tbsp cornflour\n2 tbsp milk powder\n\nTopping\n300 ml cream\n\n1. Line a baking tray, whip the egg whites and sugar, spread on the tray. {bake}\n2. Whip the cream and spread over the meringue.\n"
        ),
        format!(
            "Rye cake\n\nCake\n200 g butter\n200 g sugar\n3 eggs\n200 g plain flour\n\nSyrup\n100 g sugar\n100 ml orange juice\n\n1. Beat the butter, sugar, eggs and flour. {bake}\n2. Boil the syrup for 3 minutes and pour over the hot cake.\n"
        ),
        format!(
            "Aniseed knots\n\nDough\n500 g bread flour\n250 g milk\n7 g instant yeast\n\nTo finish\n1 egg\n30 g pearl sugar\n\n1. Mix the dough and let rise for 1 hour. Shape.\n2. Brush with egg and sprinkle with pearl sugar. {bake}\n"
        ),
    ] {
        let t = super::of(&super::sheet(&text), 1.0);
        let bare = t
            .list
            .iter()
            .filter(|t| t.name == "Mix" && t.step.is_none());
        assert_eq!(
            bare.count(),
            0,
            "{text}: {:?}",
            t.list.iter().map(|t| &t.name).collect::<Vec<_>>()
        );
    }
}
