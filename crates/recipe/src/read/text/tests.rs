use super::{Reader, count_in, recipe, says_yield};
use crate::DoubtCode;
use crate::recipe::{FactKind, Recipe};
use larder::Larder;
use quantity::Locale;
use std::sync::OnceLock;

mod heads;

pub(super) fn read(text: &str) -> Recipe {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    let larder = LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"));
    recipe(text, &Reader::new(larder, Locale::Us)).expect("reads")
}

/// Names of the components.
pub(super) fn parts(recipe: &Recipe) -> Vec<&str> {
    recipe.components.iter().map(|c| c.name.as_str()).collect()
}

pub(super) fn lines(recipe: &Recipe) -> Vec<&str> {
    let all = recipe.components.iter().flat_map(|c| &c.lines);
    all.map(|l| l.text.as_str()).collect()
}

#[test]
fn a_food_s_name_can_be_a_heading() {
    let r =
        read("# Tart\n\n## Ginger biscuits\n\n- 200 g flour\n\n**Peanut butter**\n100 g nuts\n");
    assert_eq!(parts(&r), ["ginger biscuits", "peanut butter"]);
    let r = read("TART\n\nSHORTCRUST PASTRY\n225 g plain flour\n\nLEEK FILLING\n3 leeks\n");
    assert_eq!(parts(&r), ["shortcrust pastry", "leek filling"]);
    let r = read(
        "Cake\n\n200 g flour\n\nGinger biscuits\n\n100 g sugar\n50 g butter\n\nTo fill\n100 g jam\n",
    );
    assert_eq!(parts(&r), ["", "ginger biscuits", "to fill"]);
}

#[test]
fn an_ingredient_without_amount_is_no_heading() {
    let r = read("Bread\n\nIngredients\n\nSalt\n500 g flour\n\nOlive oil\n350 g water\n");
    assert_eq!(parts(&r), [""]);
    let r = read("PIE\n\nSALT\n2 EGGS\n200 G FLOUR\n");
    assert_eq!(parts(&r), [""]);
    let r = read("Pie\n\n200 g flour\n\nShortcrust pastry\n\n2 eggs\n\n100 g sugar\n");
    assert_eq!(parts(&r), [""]);
}

#[test]
fn broken_lines_are_joined() {
    let r = read(
        "Bread\n\nIngredients\n\n300 g wholemeal flour, plus a spoon\n   or two for the top\n1 1/2 teaspoons bicarbonate of soda, pressed through a tea\n   strainer so that there are no lumps\n60 g mixed seeds (sunflower, pumpkin and linseed), of which\n   10 g are kept back\n400 ml buttermilk, or 200 ml plain yoghurt let down with\n   200 ml milk\n1 tbsp honey\n",
    );
    assert_eq!(lines(&r).len(), 5, "{:#?}", lines(&r));
    let r = read(
        "Bread\n\n1 cup sugar (white or\nbrown, packed)\n1 egg,\nbeaten\n250 g flour,\n100 g butter,\nplain yoghurt\nmilk\n",
    );
    assert_eq!(
        lines(&r),
        [
            "1 cup sugar (white or brown, packed)",
            "1 egg, beaten",
            "250 g flour,",
            "100 g butter,",
            "plain yoghurt",
            "milk"
        ]
    );
}

#[test]
fn a_line_that_opens_with_a_verb_is_method() {
    let r = read(
        "Loaf\n3 bananas, 225g flour\nmash bananas then mix in the butter n 2 eggs, fold in flour. 2lb loaf tin lined, 180 abt 50 mins\n",
    );
    assert_eq!((lines(&r).len(), r.steps.len()), (1, 1));
    let r = read(
        "Loaf\n\n200 g flour\n100 g sugar\n\nWhisk 3 eggs with 50 g sugar until pale.\n2lb loaf tin lined. 180 for 50 minutes.\n",
    );
    assert_eq!((lines(&r).len(), r.steps.len()), (2, 2));
    let r =
        read("Loaf\n\n200 g flour\njuice of 1 lemon\noil for frying\nbutter, for the loaf tin\n");
    assert_eq!((lines(&r).len(), r.steps.len()), (4, 0));
}

#[test]
fn times_credit_and_yield_are_taken_from_the_head() {
    let r = read(
        "Pancakes\n\nPrep: 10 min | Rest: 10 min | Cook: 15 min\n*by Wilf Amory*\n12 pancakes\n\n200 g flour\n",
    );
    let minutes = |t: Option<quantity::Time>| t.map(quantity::Time::as_minutes);
    assert_eq!(minutes(r.times.prep), Some(10.0));
    assert_eq!(minutes(r.times.cook), Some(15.0));
    assert_eq!(minutes(r.times.total), Some(35.0));
    assert_eq!(r.source.author.as_deref(), Some("Wilf Amory"));
    assert_eq!(r.makes.and_then(|m| m.count), Some((12.0, 12.0)));
    let r = read(
        "Buns\nFrom the Harrow Lane test kitchen, Maud Ferris's weekend book\nCuts into 12 slices\n200 g flour\n",
    );
    assert!(
        r.source
            .publisher
            .is_some_and(|p| p.contains("Harrow Lane"))
    );
    assert_eq!(
        r.makes.map(|m| m.text).as_deref(),
        Some("Cuts into 12 slices")
    );
    let r = read(
        "Tart\n*Ines Okoro for the Harrow Lane test kitchen. Best cold. Cuts into 8 slices.*\n200 g flour\n",
    );
    assert_eq!(r.source.author.as_deref(), Some("Ines Okoro"));
    assert_eq!(r.makes.and_then(|m| m.count), Some((8.0, 8.0)));
    assert!(r.notes.iter().all(|n| !n.contains('*')), "{:?}", r.notes);
    let r = read(
        "Sauce\n\nA loaf for the week. Makes\none round loaf of about 900 g.\n\n200 g flour\n",
    );
    assert_eq!(r.makes.and_then(|m| m.count), Some((1.0, 1.0)));
}

#[test]
fn a_second_yield_is_a_remark() {
    let r = read("Rolls\nServes 4\n\n200 g flour\n\nFor 6 people\n100 g sugar\n");
    assert_eq!(r.makes.and_then(|m| m.count), Some((4.0, 4.0)));
    assert_eq!(r.notes, ["For 6 people"]);
}

#[test]
fn a_size_is_no_number_of_servings() {
    for (text, count) in [
        ("9-inch cake", None),
        ("one 9-inch cake", Some((1.0, 1.0))),
        ("a 20 cm tart", None),
        ("about 900 g", None),
        ("2 dozen", Some((24.0, 24.0))),
        ("a dozen rolls", Some((12.0, 12.0))),
        ("Serves 4–6", Some((4.0, 6.0))),
        ("Serves 4 to 6", Some((4.0, 6.0))),
        ("Enough for four", Some((4.0, 4.0))),
        ("12", Some((12.0, 12.0))),
        ("Yield: about 12 pancakes", Some((12.0, 12.0))),
        ("two 9 x 13 inch pans", Some((2.0, 2.0))),
        ("", None),
    ] {
        assert_eq!(count_in(text), count, "{text}");
    }
}

#[test]
fn a_bare_yield_survives_printing() {
    let mut r = read("Rolls\n\n200 g flour\n");
    r.makes = Some(crate::recipe::Yield {
        text: "12 rolls".to_owned(),
        count: Some((12.0, 12.0)),
    });
    let again = read(&r.to_text());
    assert_eq!(again.makes.and_then(|m| m.count), Some((12.0, 12.0)));
    assert_eq!(again.components[0].lines.len(), 1);
}

#[test]
fn heads_of_any_script_are_read() {
    for text in [
        "İ\nby ẞ\n1 cup flour",
        "ẞ of\nİİ\n1 cup flour\nſet 1 é\n",
        "T\nＡdapted from\n2 é\n1 g salt",
    ] {
        let _ = read(text);
    }
}

#[test]
fn made_things_alone_on_a_line_are_headings() {
    let r = read(
        "Lasagne\n\nPasta\n400g flour\n4 eggs\n\nBéchamel\n75g butter\n75g plain flour\n1 litre milk\n\nCrème pâtissière\n500 ml milk\n6 egg yolks\n",
    );
    assert_eq!(parts(&r), ["pasta", "béchamel", "crème pâtissière"]);
    let r = read(
        "Croissants\n\nDough\n500 g flour\n40 g butter\nButter block\n280 g cold butter\n\nPoolish\n100 g flour\n",
    );
    assert_eq!(parts(&r), ["dough", "butter block", "poolish"]);
    // What a shop sells is a heading only before a list of its own.
    for text in [
        "Bake\n\n500 g mince\n\nPasta\n2 eggs\n\n100 g cheese\n",
        "Bake\n\n500 g mince\nPasta\n2 eggs\n100 g cheese\n",
        "Bake\n\n500 g mince\nPasta\nsalt\n",
    ] {
        assert_eq!(parts(&read(text)), [""], "{text}");
    }
}

#[test]
fn steps_numbered_without_a_dot_are_steps() {
    let r = read(
        "Crumble\n\n800g rhubarb\n2 ginger nut biscuits, crushed\n\n1 Heat oven to 200C.\n2 Toss the rhubarb with sugar.\n3 Using a knife, rub the butter into the flour.\n4 Eggs go in last.\n",
    );
    assert_eq!((lines(&r).len(), r.steps.len()), (2, 4), "{r:#?}");
    assert_eq!(r.steps[0].text, "Heat oven to 200C.");
    assert_eq!(r.steps[3].text, "Eggs go in last.");
    let r = read("Bread\n\n200 g flour\n\nMethod\n1 Mix it all\nuntil smooth.\n2 Bake it\n");
    assert_eq!(r.steps.len(), 2);
    assert_eq!(r.steps[0].text, "Mix it all until smooth.");
    // Amounts of food are none.
    let r = read("Pie\n\n200 g flour\n1 Whisk\n2 Roast chickens\n1 cream cheese\n1 wrap, torn\n");
    assert_eq!(r.steps.len(), 0);
}

#[test]
fn a_title_can_hold_a_number() {
    let r = read("Choux buns with pastry cream (about 20)\n\n125 ml water\n110 g butter\n");
    assert_eq!(
        r.title.as_deref(),
        Some("Choux buns with pastry cream (about 20)")
    );
    assert_eq!(r.makes.and_then(|m| m.count), Some((20.0, 20.0)));
    assert_eq!(r.components[0].lines.len(), 2);
    for text in [
        "500 g flour\n300 g water\n",
        "Flour 500 g\nWater 300 g\n",
        "juice of 1 lemon\n2 eggs\n",
    ] {
        let r = read(text);
        assert_eq!((r.title, r.components[0].lines.len()), (None, 2), "{text}");
    }
}

#[test]
fn the_ovens_heat_above_the_method_is_a_step() {
    let heat = |r: &Recipe| {
        let facts = r.steps.iter().flat_map(|s| &s.facts);
        facts
            .filter(|f| matches!(f.kind, FactKind::Temperature { .. }))
            .count()
    };
    let r = read(
        "Scones\n\n8 oz flour\n2 oz marg\n\nOven 425 deg F, Gas 7\nRub fat into flour and salt. Bake 12 mins.\n",
    );
    assert_eq!((r.steps.len(), r.notes.len()), (2, 0), "{r:#?}");
    assert!(heat(&r) > 0);
    let r = read(
        "Scones\n\n8 oz flour\n2 eggs\n\nOven 220C\n\nRub the fat into the flour with\nyour fingers.\n",
    );
    assert_eq!(r.steps.len(), 2, "{r:#?}");
    let r = read("Cake\n\nOven: 180C\n\n200 g flour\n2 eggs\n\nMethod\nMix. Bake 20 minutes.\n");
    assert_eq!((r.steps.len(), heat(&r)), (2, 1));
    assert_eq!(lines(&r).len(), 2);
}

#[test]
fn british_words_with_american_measures_are_a_doubt() {
    let unsure = |text: &str| {
        let r = read(text);
        let doubt = r
            .doubts
            .into_iter()
            .find(|d| d.code == DoubtCode::LocaleUnsure);
        doubt.map(|d| d.message)
    };
    let uk = unsure("Cake\n\n1 cup plain flour\n50 g caster sugar\n").expect("British");
    assert!(uk.contains("looks British"), "{uk}");
    let au = unsure("Cake\n\n2 tbsp thickened cream\n50 g caster sugar\n").expect("Australian");
    assert!(au.contains("looks Australian"), "{au}");
    assert_eq!(unsure("Cake\n\n1 cup flour\n50 g caster sugar\n"), None);
    assert_eq!(
        unsure("Cake\n\n200 g plain flour\n50 g caster sugar\n"),
        None
    );
    assert!(unsure("Pie\n\n1 pint milk\n4 fl oz cream\n\nBake at Gas 4.\n").is_some());
    // Cornflour is another food there.
    let tart = "Tart\n\n200 g plums\n1 tbsp cornflour\n2 c sugar\n\nBake at ";
    assert!(unsure(&format!("{tart}190C.\n")).is_some());
    assert_eq!(unsure(&format!("{tart}375F (190C).\n")), None);
    assert_eq!(unsure(&format!("{tart}375 degrees.\n")), None);
}

/// An old amount that opens with a word which is also a verb swallowed the lines behind it.
#[test]
fn butter_the_size_of_an_egg_is_a_line() {
    let r = read(
        "Honey cake\n\n8 oz flour\nbutter the size of an egg\n2 eggs\n1 tsp baking powder\n\nButter the tin. Beat all and bake.\n",
    );
    let lines: Vec<&str> = r.components[0]
        .lines
        .iter()
        .map(|l| l.text.as_str())
        .collect();
    assert_eq!(
        lines,
        [
            "8 oz flour",
            "butter the size of an egg",
            "2 eggs",
            "1 tsp baking powder"
        ]
    );
    assert_eq!(r.steps.len(), 1);
}

#[test]
fn a_remark_beside_the_list_is_a_note() {
    let said = "This keeps well in a tin for three days and is better on the second";
    let broken = "This keeps well in a tin for\nthree days and is better on the second";
    for text in [
        format!("Gingerbread\n\n200 g flour\n2 eggs\n\n{broken}\n\nMethod\nMix it all.\n"),
        format!("Gingerbread\n\n200 g flour\n2 eggs\n{broken}\n"),
        format!("Gingerbread\n\n200 g flour\n2 eggs\n\nMethod\nMix it all.\n\n{broken}\n"),
        format!("Gingerbread\n\n200 g flour\n2 eggs\n\nMix it all.\n\n{said}\n"),
    ] {
        let r = read(&text);
        assert_eq!(lines(&r), ["200 g flour", "2 eggs"], "{text}");
        assert_eq!(r.notes, [said], "{text}");
        assert_eq!(r.makes, None, "{text}");
        assert!(r.steps.len() <= 1, "{text}");
    }
    let r = read(
        "Gingerbread\n\n200 g flour\n2 eggs\n\nthree days and is better on the second\n\nMix it all.\n",
    );
    assert_eq!(lines(&r), ["200 g flour", "2 eggs"]);
    let r = read(
        "Gingerbread\n\n200 g flour\n\nMethod\n1. Mix it all.\n\nKeeps three days.\nFreezes well.\n",
    );
    assert_eq!((r.steps.len(), r.notes.len()), (1, 1));
    assert_eq!(r.notes, ["Keeps three days. Freezes well."]);
    // A word before the colon says so; the method goes on behind it.
    let r = read(
        "Gingerbread\n\n200 g flour\n\nMethod\n1. Mix it all.\nTip: malted flour is good too.\n2. Bake it for 20 minutes.\n\nNotes: They keep 2 days.\n",
    );
    assert_eq!(r.steps.len(), 2);
    let notes = ["Tip: malted flour is good too.", "Notes: They keep 2 days."];
    assert_eq!(r.notes, notes);
    let r = read(
        "Loaf\n\n200 g flour\n\nMethod\nMix it all.\nNote: let the dough rise for 2 hours at 24 C.\n20 minutes before the end heat the oven.\nBake for 15 minutes at 220 C.\n",
    );
    assert_eq!((r.steps.len(), r.notes.len()), (4, 0));
    // A step may speak of the dough.
    let r = read("Bread\n\n200 g flour\n\nMethod\nMix it all.\n\nThis will take ten minutes.\n");
    assert_eq!((r.steps.len(), r.notes.len()), (2, 0));
}

#[test]
fn a_yield_looks_like_one() {
    for text in [
        "Makes 12 rolls",
        "Makes about a dozen",
        "Makes one large loaf",
        "Makes a small loaf",
        "Makes enough for two 20 cm tins",
        "Serves 4–6",
        "Serves: a family",
        "Yield: one 9-inch cake",
        "Yields 12",
        "Enough for four",
        "For 6 people",
        "Servings 4",
    ] {
        assert!(says_yield(text), "{text}");
    }
    for text in [
        "Makes the most of three ripe bananas",
        "Makes a lovely change from bread",
        "Serves as a pudding or with coffee for 4 days",
        "Portions freeze for three months",
        "For three days",
    ] {
        assert!(!says_yield(text), "{text}");
    }
}

#[test]
fn a_part_of_a_dish_right_under_a_line_is_a_heading() {
    let text = "Pot\n\nBase\n100 g flour\n50 g butter\nMousse\n200 g dark chocolate\n3 eggs\nJelly\n100 g sugar\n200 ml orange juice\nLemon curd mousse\n100 g sugar\nSauce\n100 g sugar\n";
    let r = read(text);
    assert_eq!(parts(&r)[..3], ["base", "mousse", "jelly"]);
    assert!(parts(&r).contains(&"sauce"));
    let r = read("Pot\n\nMousse\n200 g dark chocolate\n\nParfait\n100 g cream\n\nMethod\nMix.\n");
    assert_eq!(parts(&r), ["mousse", "parfait"]);
    // What is bought, or stands where amounts are left out, is none.
    let r = read("Pot\n\n100 g flour\nSalt\n50 g sugar\nButter\n2 eggs\n3 tbsp milk\n");
    assert_eq!((parts(&r), lines(&r).len()), (vec![""], 6));
    let r = read("Trifle\n\n100 g sponge\nSherry\nJelly\n200 ml milk\n2 eggs\n");
    assert_eq!((parts(&r), lines(&r).len()), (vec![""], 5));
    let r = read("Trifle\n\n100 g sponge\nJelly\n200 ml milk\nSherry\n");
    assert_eq!((parts(&r), lines(&r).len()), (vec![""], 4));
    // The last line of a list heads nothing.
    let r = read("Pie\n\n200 g flour\n100 g sugar\nCream\n\nMethod\nMix it all.\n");
    assert_eq!(lines(&r), ["200 g flour", "100 g sugar", "Cream"]);
    assert!(r.notes.is_empty(), "{:?}", r.notes);
    let cream = &r.components[0].lines[2];
    assert_eq!(
        (cream.clean.as_str(), cream.kind),
        ("Cream", crate::LineKind::Ingredient)
    );
}

#[test]
fn who_wrote_it_and_where_is_credit() {
    for (line, author, publisher, count) in [
        (
            "Tobin Vale, 'Tea at Four'",
            Some("Tobin Vale"),
            "'Tea at Four'",
            None,
        ),
        (
            "Harrow Lane test kitchen, card 4",
            None,
            "Harrow Lane test kitchen, card 4",
            None,
        ),
        (
            "Card 4, Harrow Lane test kitchen",
            None,
            "Card 4, Harrow Lane test kitchen",
            None,
        ),
        (
            "Maud Ferris, from 'The Long Table'. Makes 12.",
            Some("Maud Ferris"),
            "'The Long Table'",
            Some((12.0, 12.0)),
        ),
        (
            "“Bread and Butter” by Ines Okoro; serves 4",
            Some("Ines Okoro"),
            "“Bread and Butter”",
            Some((4.0, 4.0)),
        ),
        (
            "Wilf Amory, ‘Rye for Everyone’, page 12",
            Some("Wilf Amory"),
            "‘Rye for Everyone’, page 12",
            None,
        ),
        (
            "From \"The Sunday Tin\" by Maud Ferris, p. 112",
            Some("Maud Ferris"),
            "\"The Sunday Tin\", p. 112",
            None,
        ),
        (
            "Adapted from ‘Crumb’ by Ines Okoro",
            Some("Ines Okoro"),
            "‘Crumb’",
            None,
        ),
    ] {
        for gap in ["", "\n"] {
            let r = read(&format!("Tea loaf\n{gap}{line}\n200 g flour\n2 eggs\n"));
            assert_eq!(lines(&r), ["200 g flour", "2 eggs"], "{line}");
            assert_eq!(r.source.author.as_deref(), author, "{line}");
            assert_eq!(r.source.publisher.as_deref(), Some(publisher), "{line}");
            assert_eq!(r.makes.and_then(|m| m.count), count, "{line}");
            assert!(r.notes.is_empty(), "{line}: {:?}", r.notes);
        }
    }
    let r = read("Tea loaf\n\nPlain Flour, 'strong', 200 g\nGround Ginger, page 4\n2 eggs\n");
    assert_eq!((lines(&r).len(), r.source.author), (3, None));
}

#[test]
fn an_amount_on_a_line_too_long_is_asked_about() {
    let long = format!("100 g plain flour {}", "lorem ipsum ".repeat(160));
    for text in [
        format!("Loaf\n\n{long}\n200 g sugar\n"),
        format!("Loaf\n\nIngredients\n200 g sugar\n{long}\n2 eggs\n"),
        format!("Loaf\n\n200 g sugar\n• {long}.\n"),
    ] {
        let r = read(&text);
        let asked = r.doubts.iter().filter(|d| d.code == DoubtCode::NotRead);
        let asked: Vec<_> = asked.map(|d| d.message.as_str()).collect();
        assert_eq!(asked.len(), 1, "{text}");
        assert!(asked[0].contains("'100 g plain flour"), "{asked:?}");
        assert_eq!(r.notes.len(), 1);
        assert!(lines(&r).iter().all(|l| l.len() < 50));
    }
    let prose = "A long tale of a loaf and of those who ate it. ".repeat(20);
    let r = read(&format!("Loaf\n\n{prose}\n\n200 g sugar\n"));
    assert!(r.doubts.is_empty());
}

/// Steps right under the last ingredient, in as many words as cooks have for them.
#[test]
fn a_method_without_a_blank_line_above_it_is_read_as_one() {
    for method in [
        "Cream, mix, drop on a sheet, bake at 375 F for 12 minutes",
        "Cream, mix, drop on a sheet, bake at 375 F for 12 minutes.",
        "cream, mix, chill, then bake",
        "then bake at 375 F for 12 minutes",
        "Bake for 12 minutes",
        "Bake 12 min",
        "Bake 350",
        "Mix well",
        "Moderate oven, 20 minutes",
        "375 F for 10-12 minutes",
        "375°F, 12 min",
        "12 minutes at 190 C",
        "Gas 5, 15 minutes",
        "Two trays, 180 °C, 12 minutes",
        "Roll thin; cut; bake at 350 F",
        "Drop by spoonfuls, 375 F 10 min",
        "Everything into a bowl, then into the oven at 180 C for 25 min",
        "Eggs and sugar whisked, flour in, bake at 350 F 40 minutes",
        "Cream fat and sugar, beat in eggs, 180C 20 mins",
        "Spoon into cases: 200 C, 15 minutes",
        "Butter a sheet and bake",
        "Whisk",
        "Knead",
        "Line a tin with paper",
        "Oil a tin",
        "Flour the bench and roll",
        "Sieve flour",
        "Zest the lemons.",
        "Cream fat & sugar; add egg.",
        "First, cream the butter and sugar.",
        "Using a mixer, cream butter.",
        "With the mixer on low, add sugar.",
        "To make the dough, mix everything.",
        "The night before, mix the sponge",
        "Day 1: mix the sponge",
    ] {
        let r = read(&format!(
            "Drops\n\n1 cup butter\n2 cups flour\n1 tsp vanilla\n{method}\n"
        ));
        let steps: Vec<&str> = r.steps.iter().map(|s| s.text.as_str()).collect();
        assert_eq!(
            steps,
            [method],
            "notes {:?}, lines {:?}",
            r.notes,
            lines(&r)
        );
        assert_eq!((lines(&r).len(), r.notes.len()), (3, 0), "{method}");
    }
}

/// A '1.' behind a list without numbers begins the method, whatever words follow it.
#[test]
fn a_numbered_line_behind_a_bare_list_is_a_step() {
    for step in ["Egg whites first.", "Sponge, overnight", "Zest lemons"] {
        for (parts, last) in [(1, "salt"), (2, "salt"), (1, "1 egg"), (2, "50 g sugar")] {
            let list = ["Dough\n2 cups flour\n", "Filling\n1 cup sugar\n"][..parts].join("\n");
            for mark in ['.', ')'] {
                let r = read(&format!(
                    "Drops\n\n{list}{last}\n1{mark} {step}\n2{mark} Bake.\n"
                ));
                assert_eq!(r.steps.len(), 2, "{step} {parts} {last}: {:?}", lines(&r));
                assert_eq!(r.components.len(), parts);
            }
        }
    }
    // A list with numbers goes on, and so does a measured line.
    for list in ["1. 2 cups flour\n2. 1 egg\n", "2 cups flour\n1. 1 egg\n"] {
        let r = read(&format!("Drops\n\n{list}"));
        assert_eq!((lines(&r).len(), r.steps.len()), (2, 0), "{list}");
    }
}

#[test]
fn ingredients_that_tell_of_heat_or_time_stay_ingredients() {
    for line in [
        "1 cup warm water (110 F)",
        "2 cups crumbs, toasted at 350 F for 10 minutes",
        "Butter, left out for 1 hour",
        "Butter, leave out 1 hour",
        "Breadcrumbs toasted at 350 F for 10 minutes",
        "Potatoes, peel and grate",
        "Walnuts, toast and chop",
        "Cream",
        "Water, 300 g, warm to 40 °C",
        "Flour to dust",
        "Flour for the bench and for the rolling pin",
        "Sugar on top",
        "Zest of a lemon",
        "Stoned dates",
        "Sifted flour",
        "Cream",
        "To serve: whipped cream",
        "For brushing, melted butter",
        "Whipped cream",
        "Grated zest of 1 lemon",
        "3 eggs, beat well, rest 10 minutes",
        "Mashed potatoes",
    ] {
        let r = read(&format!("Drops\n\n1 cup butter\n2 cups flour\n{line}\n"));
        assert_eq!(
            (lines(&r).len(), r.steps.len()),
            (3, 0),
            "{line}: {:?}",
            r.notes
        );
    }
}

#[test]
fn a_line_behind_the_ingredients_that_may_be_a_step_is_asked_about() {
    let text = "Drops\n\n1 cup butter\n2 cups flour\nGrandmother would always cream, and beat\n";
    let r = read(text);
    let asked: Vec<_> = r.doubts.iter().map(|d| d.code).collect();
    assert_eq!(
        asked,
        [DoubtCode::MaybeMethod],
        "{:?} {:?}",
        r.notes,
        r.steps
    );
    let span = r.doubts[0].span.clone().expect("its place in the text");
    assert_eq!(&text[span], "Grandmother would always cream, and beat");
    // With the word above it, it is a step.
    let r = read(&text.replace("Grandmother", "Method\nGrandmother"));
    assert_eq!((r.steps.len(), r.doubts.len()), (1, 0));
    // What tells nothing is set aside without a question.
    let r = read("Drops\n\n1 cup butter\n2 cups flour\nFrom a tin in the attic, much loved\n");
    assert!(r.doubts.is_empty(), "{:?}", r.doubts);
}

/// Under the list, without a blank line between.
#[test]
fn a_step_may_say_who_does_it() {
    for line in [
        "You start by creaming the butter and sugar until pale.",
        "First, cream the butter.",
        "First you cream the butter with the sugar.",
        "To make the dough, mix the butter with the flour.",
        "You will then rub the butter into the flour.",
        "We first melt the butter.",
        "I like to start with the butter, beaten for 5 minutes.",
        "Begin by beating the butter.",
    ] {
        let r = read(&format!("Drops\n\n1 cup butter\n2 cups flour\n{line}\n"));
        let steps: Vec<&str> = r.steps.iter().map(|s| s.text.as_str()).collect();
        assert_eq!((steps, r.notes.len()), (vec![line], 0), "{:?}", r.notes);
        assert_eq!(lines(&r).len(), 2);
    }
    // What is only told of is asked about, what is no doing is not.
    for (line, asked) in [
        ("Creaming the butter and sugar comes first.", 1),
        ("I cream the butter with the sugar.", 1),
        ("You may leave out the nuts, says my aunt.", 0),
        ("I had these at a fair, you would love them.", 0),
        ("You need a good oven.", 0),
    ] {
        let r = read(&format!("Drops\n\n1 cup butter\n2 cups flour\n{line}\n"));
        assert_eq!((lines(&r).len(), r.steps.len()), (2, 0), "{line}");
        let codes: Vec<_> = r.doubts.iter().map(|d| d.code).collect();
        assert_eq!(codes, vec![DoubtCode::MaybeMethod; asked], "{line}");
    }
}

/// A number in a title is none of an ingredient.
#[test]
fn a_title_may_begin_with_a_number() {
    for (text, title) in [
        (
            "Two Crumb Pear Slice\nMakes 16 bars\n\n200 g flour\n",
            Some("Two Crumb Pear Slice"),
        ),
        (
            "Three Cheese Potato Bake\n\n200 g flour\n100 g cheddar\n",
            Some("Three Cheese Potato Bake"),
        ),
        (
            "Two-day country loaf\n\nMakes 1 loaf\n\n200 g flour\n",
            Some("Two-day country loaf"),
        ),
        (
            "2-ingredient bread rolls\nMakes 4\n\n200 g flour\n",
            Some("2-ingredient bread rolls"),
        ),
        ("Twenty-four eggs\n\n200 g flour\n", None),
        ("One-half lemon\n\n200 g flour\n", None),
        ("2-3 eggs\nMakes 4\n\n200 g flour\n", None),
        ("2 large eggs\n200 g flour\n", None),
        ("One Cup Brown Sugar\n\n200 g flour\n", None),
        ("3 Ripe Bananas\n200 g flour\n", None),
    ] {
        let r = read(text);
        assert_eq!(r.title.as_deref(), title, "{text}");
    }
}

#[test]
fn a_count_and_its_servings_are_a_yield() {
    for line in [
        "1 (9-inch) pie, 8 servings",
        "2 loaves; 24 slices",
        "1 large loaf",
    ] {
        let r = read(&format!("Plain pie\n{line}\n\n200 g flour\n2 eggs\n"));
        assert_eq!(lines(&r), ["200 g flour", "2 eggs"], "{line}");
        assert_eq!(r.makes.map(|m| m.text).as_deref(), Some(line));
    }
    let r = read("Plain pie\n\n1 tart apple\n1 cake, crumbled\n200 g flour\n");
    assert_eq!(lines(&r).len(), 3);
}

#[test]
fn a_tin_on_a_line_of_its_own_is_no_food() {
    for tin in [
        "20 x 30cm traybake tin",
        "You will need a 23cm springform tin",
        "9-inch round cake pan",
    ] {
        let r = read(&format!(
            "Slices\nMakes 16\n{tin}\n\n225 g flour\n125 g butter\n\nRub in. Bake at 190C for 15 minutes.\n"
        ));
        assert_eq!(lines(&r), ["225 g flour", "125 g butter"], "{tin}");
        assert_eq!(r.notes, [tin]);
    }
    let r = read("Tart\n\n1 sheet puff pastry, 23 x 30cm\n1 9-inch pie crust\n2 eggs\n");
    assert_eq!(lines(&r).len(), 3);
}

#[test]
fn bread_under_the_title_of_what_holds_no_flour_goes_in() {
    for (bread, goes_in) in [
        ("One white baguette", true),
        ("One stale loaf", true),
        ("8 crackers", true),
        ("1 loaf", false),
        ("12 buns", false),
    ] {
        let text = |flour: &str| {
            format!(
                "Supper bake\n\n{bread}\n\n{flour}300 ml milk\n3 eggs\n\nMix and bake at 180C for 30 minutes.\n"
            )
        };
        let r = read(&text(""));
        assert_eq!(r.makes.is_none(), goes_in, "{bread}");
        assert_eq!(lines(&r).contains(&bread), goes_in, "{bread}");
        assert!(
            read(&text("200 g plain flour\n")).makes.is_some(),
            "{bread}"
        );
    }
}

#[test]
fn what_is_served_beside_is_a_part_where_its_list_follows() {
    let text = "Plum tart\n\nPastry\n200 g plain flour\n100 g butter\n\nCustard, to serve\n300 ml milk\n4 egg yolks\n\nMethod\nMix and bake.\n";
    let r = read(text);
    assert_eq!(r.components.len(), 2);
    assert_eq!(r.components[1].name, "custard");
    let last = read(&text.replace("to serve\n300 ml milk\n4 egg yolks", "to serve"));
    assert_eq!(last.components.len(), 1);
    assert_eq!(last.components[0].lines.len(), 3);
}
