//! Answers to doubts: each takes its doubt away, the likely one first.

use super::{EXAMPLES, MORE, change, grams, key, larder, line, of, place, verdict, worked};
use quantity::Locale;
use recipe::sheet::{Change, Sheet, Worked, answers, answers_rework, answers_whole, item_of, work};
use recipe::{Doubt, DoubtCode};

/// Every doubt of every line, with its place.
pub(super) fn doubts(w: &Worked) -> Vec<(usize, usize, Doubt)> {
    let mut all = w.formula.doubts.clone();
    for (c, component) in w.formula.recipe.components.iter().enumerate() {
        for (l, line) in component.lines.iter().enumerate() {
            all.extend(line.doubts.iter().map(|d| (c, l, d.clone())));
        }
    }
    all
}

/// Every answer to every doubt of a sheet's lines takes that doubt away. Returns how many.
fn answered(sheet: &Sheet) -> usize {
    let w = worked(sheet);
    let mut n = 0;
    for (c, l, doubt) in doubts(&w) {
        let recipe = &w.formula.recipe;
        let given = answers(&doubt, recipe, c, l, larder(), sheet.locale());
        let nothing =
            |c: &Change| matches!(c, Change::ReadAs { text: Some(t), .. } if t.is_empty());
        assert!(!nothing(&given.first().expect("an answer").change));
        let accepted = match doubt.code {
            DoubtCode::AsideByMethod => given.first(),
            _ => given
                .iter()
                .rfind(|a| given.len() != 2 || !nothing(&a.change)),
        };
        assert!(accepted.is_some_and(|a| matches!(a.change, Change::Accept { .. })));
        let accepts = given
            .iter()
            .filter(|a| matches!(a.change, Change::Accept { .. }));
        assert_eq!(accepts.count(), 1);
        for answer in &given {
            let mut after = sheet.clone();
            change(&mut after, answer.change.clone());
            let now = worked(&after);
            assert!(now.stale.is_empty());
            let text = &recipe.components[c].lines[l].text;
            assert!(
                !doubts(&now)
                    .iter()
                    .any(|(dc, dl, d)| (*dc, *dl, d.code) == (c, l, doubt.code)),
                "{text}: {doubt:?} stands after {answer:?}"
            );
            n += 1;
        }
    }
    n
}

/// One amount for two foods is asked about once, and one click halves it: 15 g of each of 30 g.
#[test]
fn one_amount_for_two_is_halved_with_one_answer() {
    for (line, both) in [
        ("30 g chopped fresh dill & parsley, packed", [15.0, 15.0]),
        ("50 g butter and sugar", [25.0, 25.0]),
    ] {
        let mut sheet = of(&["200 g plain flour", line]);
        let w = worked(&sheet);
        let (c, l) = place(&w.formula.recipe, line);
        let found: Vec<_> = doubts(&w)
            .into_iter()
            .filter(|d| (d.0, d.1) == (c, l))
            .collect();
        let [(_, _, doubt)] = found.as_slice() else {
            panic!("{line}: {found:?}");
        };
        assert_eq!(doubt.code, DoubtCode::SharedAmount);
        let given = answers(doubt, &w.formula.recipe, c, l, larder(), sheet.locale());
        assert_eq!(given[0].words, "half each");
        change(&mut sheet, given[0].change.clone());
        let w = worked(&sheet);
        let items = w.formula.components[c].items.iter().filter(|i| i.line == l);
        let grams: Vec<f64> = items
            .filter_map(|i| i.grams)
            .map(|g| g.likely().as_grams())
            .collect();
        assert_eq!(grams, both, "{line}");
        assert!(!doubts(&w).iter().any(|d| (d.0, d.1) == (c, l)), "{line}");
    }
    // Two of which each has its amount are asked about as before.
    assert!(!offered("30 g dill and 20 g parsley", DoubtCode::TwoOnLine).is_empty());
}

/// The words of the answers to a doubt of a line.
fn offered(line: &str, code: DoubtCode) -> Vec<String> {
    let sheet = of(&["200 g plain flour", line]);
    let w = worked(&sheet);
    let (c, l) = place(&w.formula.recipe, line);
    let found = doubts(&w);
    let doubt = found
        .iter()
        .find(|d| (d.0, d.1, d.2.code) == (c, l, code))
        .ok_or_else(|| format!("{line}: {found:?}"))
        .expect("the doubt");
    answers(&doubt.2, &w.formula.recipe, c, l, larder(), Locale::Us)
        .into_iter()
        .map(|a| a.words)
        .collect()
}

/// Lines with a doubt of every kind that a line can have.
const DOUBTFUL: [&str; 44] = [
    "3 zylops of quux",
    "100 g quux",
    "quux",
    "2 cups vegan butter",
    "1 cup vegan cream cheese, whipped",
    "200 g shortening, zesty frobnicated",
    "1 cup flower",
    "1 cup buttr",
    "100 g brley",
    "2 tbsp salt or pepper",
    "1 cup butter or margarine",
    "1 cup dark or milk chocolate chips",
    "8 oz milk",
    "8-10 oz water",
    "1/2 oz. vanilla extract plus 2 oz milk",
    "2 T SUGAR",
    "1 1/2 T BUTTER",
    "250 milk",
    "2 flour",
    "1 baking powder",
    "3 butter",
    "1 teacup milk",
    "2 wineglasses of sherry",
    "1 saltspoon salt",
    "butter the size of an egg",
    "a knob of butter",
    "a handful of walnuts",
    "2 bunches parsley",
    "a glug of olive oil",
    "1 heaped cup flour",
    "1 scant tsp salt",
    "1 can chopped tomatoes",
    "2 packets jelly",
    "2 (14 g) packets yeast",
    "2 packets (14 g) yeast",
    "1 cup (300 g) plain flour",
    "120 g / 1 cup sugar",
    "500 g (1 lb 8 oz) bread flour",
    "5-4 cups plain flour",
    "3 to 2 tbsp honey",
    "-2 cups sugar",
    "salt and pepper to taste",
    "75 g of the crumbs",
    "2 cpus sugar and 1 tsp salt, optional, for dusting",
];

#[test]
fn every_answer_takes_its_doubt_away() {
    let mut n = 0;
    for text in EXAMPLES.into_iter().chain(MORE) {
        n += answered(&Sheet::new(text, Locale::Us));
    }
    let tables = [
        include_str!("../../../../cases/lines/known.tsv"),
        include_str!("../../../../cases/lines/unseen.tsv"),
    ];
    for row in tables.iter().flat_map(|t| t.lines().skip(1)) {
        let mut cells = row.split('\t');
        let (Some(text), Some(locale)) = (cells.next(), cells.next()) else {
            continue;
        };
        let mut sheet = of(&["200 g sugar", text]);
        sheet.locale = locale.to_owned();
        if work(&sheet, &[], larder(), &[]).is_ok() {
            n += answered(&sheet);
        }
    }
    for line in DOUBTFUL {
        n += answered(&of(&["200 g sugar", line]));
    }
    assert!(n > 250, "{n} answers");
}

#[test]
fn answers_are_those_a_baker_would_give() {
    use DoubtCode as D;
    let is = |line: &str, code, expected: &[&str]| {
        assert_eq!(offered(line, code), expected, "{line}");
    };
    is(
        "8 oz milk",
        D::OunceOfLiquid,
        &["8 oz by weight, 227 g", "8 fl oz", "take it as read"],
    );
    is(
        "2 T SUGAR",
        D::SpoonLetter,
        &["2 tablespoons", "2 teaspoons", "take it as read"],
    );
    is(
        "butter or margarine, 50 g",
        D::Alternative,
        &["unsalted butter", "margarine", "take it as read"],
    );
    is(
        "3 to 2 cups milk",
        D::BackwardRange,
        &["2 to 3 cups", "take it as read"],
    );
    is(
        "tea towel",
        D::NoAmount,
        &["leave it unweighed", "it is no ingredient"],
    );
    is(
        "a little milk",
        D::LooseMeasure,
        &["as 1 tbsp, 15 g", "as 1 tsp, 5 g", "leave it unweighed"],
    );
    // Not the egg before it.
    is(
        "1 egg, beaten with a splash of milk",
        D::LooseMeasure,
        &["as 1 tbsp, 15 g", "as 1 tsp, 5 g", "leave it unweighed"],
    );
    is(
        "250 milk",
        D::MissingUnit,
        &["250 ml", "250 g", "leave it unweighed"],
    );
    is(
        "1 cup (300 g) plain flour",
        D::TwinDisagrees,
        &["go by 300 g", "go by 1 cup", "take it as read"],
    );
    // 6 % of 680 g are stones.
    is(
        "680 g plums, pitted",
        D::WeightAsBought,
        &[
            "as bought: 639 g without stones",
            "as prepared: 680 g without stones",
            "leave it open",
        ],
    );
}

#[test]
fn doubts_about_the_whole_are_answered() {
    let text = "Cake\n\nIngredients\n1 cup caster sugar\n2 tbsp icing sugar\n200 g plain flour\n\nMethod\n1. Bake at gas mark 4.\n2. Bake at 180 for 20 minutes.\n";
    let sheet = Sheet::new(text, Locale::Us);
    let w = worked(&sheet);
    assert!(!w.formula.recipe.doubts.is_empty());
    let steps = w.formula.recipe.steps.iter().flat_map(|s| &s.doubts);
    for doubt in w.formula.recipe.doubts.iter().chain(steps) {
        for answer in answers_whole(doubt, &w.formula.recipe, Locale::Us) {
            let mut after = sheet.clone();
            change(&mut after, answer.change.clone());
            let now = worked(&after).formula.recipe;
            let steps = now.steps.iter().flat_map(|s| &s.doubts);
            let mut open = now.doubts.iter().chain(steps);
            assert!(!open.any(|d| d.code == doubt.code), "{answer:?}");
            let accepts = matches!(answer.change, Change::AcceptWhole { .. });
            assert_eq!(accepts, now.settled.iter().any(|d| d.code == doubt.code));
        }
    }
    let first = &answers_whole(&w.formula.recipe.doubts[0], &w.formula.recipe, Locale::Us)[0];
    assert_eq!(first.words, "read it in British measures");
}

#[test]
fn doubts_of_the_rework_are_answered() {
    let sheet = of(&[
        "200 g plain flour",
        "200 g butter",
        "300 g water",
        "100 g couscous",
    ]);
    let w = worked(&sheet);
    for component in &w.rework.components {
        for doubt in &component.doubts {
            for answer in answers_rework(doubt, component) {
                let mut after = sheet.clone();
                change(&mut after, answer.change.clone());
                let now = worked(&after);
                let mut open = now.rework.components.iter().flat_map(|c| &c.doubts);
                assert!(!open.any(|d| d.code == doubt.code), "{answer:?}");
            }
        }
    }
}

/// A filling's question has an answer that says it is one; it comes first where it is likely.
#[test]
fn it_is_only_a_filling() {
    let text = "Walnut rolls\n\nFor the dough:\n500 g bread flour\n7 g yeast\n250 g water\n\n\
        For the filling:\n150 g walnuts\n80 g sugar\n1 tbsp plain flour\n60 g butter\n";
    let sheet = Sheet::new(text, Locale::Us);
    let w = worked(&sheet);
    let filling = &w.rework.components[1];
    let doubt = filling
        .doubts
        .iter()
        .find(|d| d.code == DoubtCode::StyleUnsure);
    let offered = answers_rework(doubt.expect("a question"), filling);
    assert_eq!(offered[0].words, "only a filling, topping or glaze");
    // So it is where its ratios are nearest to a crumb, unless it is called one too.
    let asked = Doubt::new(DoubtCode::StyleUnsure, "which?");
    for (name, first) in [
        ("Filling", true),
        ("Nut topping", true),
        ("Glaze", true),
        ("Crumb", false),
        ("Streusel", false),
    ] {
        let mut c = filling.clone();
        name.clone_into(&mut c.name);
        let crumb = recipe::rework::style::Style::from_key("crumb_streusel").expect("a style");
        if let Some(choice) = &mut c.style {
            choice.style = crumb;
        }
        let words = answers_rework(&asked, &c)[0].words.clone();
        assert_eq!(words == "only a filling, topping or glaze", first, "{name}");
    }
    let mut after = sheet.clone();
    change(&mut after, offered[0].change.clone());
    let w = worked(&after);
    let filling = &w.rework.components[1];
    assert_eq!(filling.style.expect("a style").style.key(), "filling");
    assert!(filling.doubts.is_empty() && !filling.is_dough());
    // A dough's question has it too, but not first.
    let dough = &w.rework.components[0];
    let asked = Doubt::new(DoubtCode::StyleUnsure, "which?");
    let words: Vec<String> = answers_rework(&asked, dough)
        .into_iter()
        .map(|a| a.words)
        .collect();
    assert_eq!(words[0], dough.style.expect("a style").style.name());
    assert!(
        words
            .iter()
            .any(|w| w == "only a filling, topping or glaze")
    );
}

/// Half a kilo of flour with one line more.
fn for_half_a_kilo(line: &str) -> Sheet {
    of(&["500 g plain flour", "250 g butter", "200 g sugar", line])
}

/// The most of 114 published formulas is 222 % of the flour in egg, 4 % in salt
/// (crates/evidence/data/formulas).
#[test]
fn an_amount_that_cannot_be_is_asked_about_first_and_never_changed() {
    for (line, kilos, meant) in [
        (
            "502 eggs",
            "25100 g of egg for 500 g",
            &["5 eggs", "2 eggs"][..],
        ),
        ("90 g salt", "90 g of table salt", &["9 g salt"]),
        (
            "100 tbsp baking powder",
            "baking powder",
            &["1 tbsp baking powder"],
        ),
        ("2 cups salt", "table salt", &[]),
        (
            "250 g fresh yeast",
            "fresh yeast",
            &["25 g fresh yeast", "20 g fresh yeast"],
        ),
    ] {
        let sheet = for_half_a_kilo(line);
        let w = worked(&sheet);
        let (c, l, doubt) = &w.formula.doubts[0];
        assert_eq!(doubt.code, DoubtCode::UnlikelyAmount, "{line}");
        assert!(doubt.message.contains(kilos), "{}", doubt.message);
        let given = answers(doubt, &w.formula.recipe, *c, *l, larder(), Locale::Us);
        let words: Vec<&str> = given.iter().map(|a| a.words.as_str()).collect();
        assert_eq!(words, [meant, &["it is meant so"]].concat(), "{line}");
        // It is weighed as it stands.
        assert!(grams(&w, line).is_some_and(|g| g >= 90.0), "{line}");
        assert!(answered(&sheet) > meant.len());
    }
}

#[test]
fn what_may_be_meant_is_no_slip() {
    for text in EXAMPLES.into_iter().chain(MORE) {
        let w = worked(&Sheet::new(text.to_owned(), Locale::Us));
        let slip = |d: &&(usize, usize, Doubt)| d.2.code == DoubtCode::UnlikelyAmount;
        assert_eq!(w.formula.doubts.iter().find(slip), None);
    }
    for lines in [
        // A roulade, a custard, a clafoutis, a lemon curd, a gravy, a brioche, a filling.
        &["60 g plain flour", "6 eggs", "150 g sugar"][..],
        &[
            "20 g cornflour",
            "500 ml milk",
            "8 egg yolks",
            "120 g sugar",
            "1/4 tsp salt",
        ],
        &[
            "60 g plain flour",
            "500 ml milk",
            "3 eggs",
            "100 g sugar",
            "500 g cherries",
        ],
        &[
            "30 g cornflour",
            "300 g sugar",
            "200 ml lemon juice",
            "4 eggs",
            "100 g butter",
        ],
        &[
            "30 g plain flour",
            "30 g butter",
            "500 ml stock",
            "1 tsp salt",
        ],
        &[
            "250 g bread flour",
            "4 eggs",
            "250 g butter",
            "5 g salt",
            "20 g fresh yeast",
        ],
        // What goes between the layers of a roll.
        &[
            "15 g plain flour",
            "85 g soft butter",
            "150 g brown sugar",
            "1 tbsp cinnamon",
        ],
    ] {
        let w = worked(&of(lines));
        let found = doubts(&w);
        let slip = |d: &&(usize, usize, Doubt)| d.2.code == DoubtCode::UnlikelyAmount;
        assert_eq!(found.iter().find(slip), None, "{lines:?}");
    }
}

/// Salt and yeast of spoons for grams: one slip does not hide the other.
#[test]
fn two_slips_are_both_asked_about() {
    let w = worked(&of(&[
        "500 g bread flour",
        "300 g water",
        "150 g salt",
        "100 g dried yeast",
    ]));
    let slips = doubts(&w)
        .into_iter()
        .filter(|d| d.2.code == DoubtCode::UnlikelyAmount);
    assert_eq!(slips.count(), 2);
}

/// Worked by hand: of these methods the first five only brush with the egg, the others put it in.
#[test]
fn an_egg_that_is_only_brushed_on_is_none_of_the_dough() {
    let pie = |method: &str| {
        let text = format!(
            "Leek pie\n\nFilling\n3 leeks\n30 g butter\n\nCrust\n300 g plain flour\n150 g cold butter\n80 g water\n1 egg, beaten\n\nMethod\n1. Cook the leeks in the butter. Cool.\n2. {method}\n3. Bake at 200 C for 40 minutes.\n"
        );
        Sheet::new(text, Locale::Uk)
    };
    let line = "1 egg, beaten";
    let aside = |w: &Worked| {
        let (c, l) = place(&w.formula.recipe, line);
        let item = w.formula.components[c].items.iter().find(|i| i.line == l);
        !item.expect("its weight").in_formula
    };
    for method in [
        "Rub the butter into the flour, add the water, roll out, crimp, brush with egg, cut vents.",
        "Make the pastry and roll it out. Glaze the top with beaten egg.",
        "Rub in the butter, bind with the water. Beat the egg with a pinch of salt and brush over.",
        "Rub in, bind, roll, lay it over and brush with the egg wash; bake.",
        "Make the pastry. Whisk the egg, brush it over the lid.",
    ] {
        let sheet = pie(method);
        let w = worked(&sheet);
        assert!(aside(&w), "{method}");
        assert!(answered(&sheet) > 0);
        // One click puts it back.
        let (c, l, doubt) = doubts(&w)
            .into_iter()
            .find(|d| d.2.code == DoubtCode::AsideByMethod)
            .expect("a doubt");
        let given = answers(&doubt, &w.formula.recipe, c, l, larder(), Locale::Uk);
        let words: Vec<&str> = given.iter().map(|a| a.words.as_str()).collect();
        assert_eq!(
            words,
            ["keep it out of the formula", "it goes into the dough"],
            "as the method says comes first"
        );
        let mut after = sheet.clone();
        change(&mut after, given[1].change.clone());
        assert!(!aside(&worked(&after)), "{method}");
    }
    for method in [
        "Rub the butter into the flour, add the egg and water, roll out. Brush with milk.",
        "Mix all the ingredients for the crust. Brush with beaten egg.",
        "Rub in the butter, bind with most of the egg, roll, brush with the rest of the egg.",
        "Rub in the butter, bind with the water, roll out.",
        "Beat the egg with the water and stir into the flour.",
        "Rub in the butter, stir in the egg and brush the tin with butter.",
        "Put it all in a bowl, mix to a dough. Brush with beaten egg.",
        "Mix the egg with the flour and brush the top with milk.",
    ] {
        assert!(!aside(&worked(&pie(method))), "{method}");
    }
    let brushed = "Rub in the butter, bind with the water, roll, brush with egg.";
    let other = |eggs: &str| {
        let sheet = pie(brushed);
        worked(&Sheet::new(sheet.text.replace(line, eggs), Locale::Uk))
    };
    let free = |w: &Worked| {
        let all = w.formula.components.iter().flat_map(|c| &c.items);
        all.filter(|i| !i.in_formula).count()
    };
    assert_eq!(free(&other("2 eggs")), 0);
    assert_eq!(free(&other("1 egg yolk, beaten with 1 tbsp milk")), 2);
    assert_eq!(free(&other("1 egg and 50 g sour cream")), 0);
}

/// 502 eggs in what has hardly any flour: 25.1 kg beside 1 kg of all else; a dozen eggs in butter are an omelette.
#[test]
fn eggs_that_bury_the_rest_are_asked_about() {
    let of = |eggs: &str| {
        let text = format!(
            "Cheesecake\n\n600 g cream cheese\n150 g caster sugar\n{eggs}\n200 ml sour cream\n30 g plain flour\n\nBeat and bake for 45 minutes at 160 C.\n"
        );
        let w = work(&Sheet::new(&text, Locale::Uk), &[], larder(), &[]).expect("worked");
        let all = w.formula.doubts.iter().map(|d| &d.2);
        let slips: Vec<String> = all
            .filter(|d| d.code == DoubtCode::UnlikelyAmount)
            .map(|d| d.message.clone())
            .collect();
        slips.join("; ")
    };
    assert!(
        of("502 eggs").contains("cannot be meant: is it 5 or 2?"),
        "{}",
        of("502 eggs")
    );
    assert_eq!(of("3 eggs"), "");
    assert_eq!(of("12 eggs"), "");
}

#[test]
fn water_read_anew_is_still_boiled_in_and_one_click_puts_it_back() {
    let text = "Salt rings\n\n500 g strong flour\n280 g water\n7 g yeast\n2 litres watr\n\nMethod\n1. Knead, rise and shape.\n2. Boil each for 30 seconds.\n3. Bake at 220 C for 15 minutes.\n";
    let mut sheet = Sheet::new(text, Locale::Uk);
    let hydration = |s: &Sheet| {
        let part = &worked(s).formula.components[0];
        part.hydration.expect("a dough").likely().get()
    };
    let line = key(&sheet, "2 litres watr");
    let read_as = |words: &str| Change::ReadAs {
        line: line.clone(),
        text: Some(words.to_owned()),
    };
    change(&mut sheet, read_as("2 litres water"));
    assert!((hydration(&sheet) - 56.0).abs() < 1.0);
    change(&mut sheet, read_as("2 litres water, for the dough"));
    assert!((hydration(&sheet) - 456.0).abs() < 1.0);
}

/// The food a baker names goes to the ingredient that is asked about, not to the line's first; what the words
/// say of gluten stays.
#[test]
fn a_food_said_is_of_the_ingredient_asked_about() {
    let mut sheet = of(&["200 g plain flour", "100 g quux fat and 2 tbsp malt syrup"]);
    let at = key(&sheet, "quux");
    let before = worked(&sheet);
    let foods = |w: &Worked| {
        let items = line(w, "quux").items.iter();
        let named = items.map(|i| i.food.as_ref().map(|m| larder().food(m.food).key.clone()));
        named.collect::<Vec<_>>()
    };
    assert_eq!(foods(&before).len(), 2);
    let second = Change::Food {
        line: at.clone(),
        place: 1,
        food: Some("honey".to_owned()),
    };
    let back = second.inverse(&sheet);
    change(&mut sheet, second);
    let w = worked(&sheet);
    assert_eq!(foods(&w)[0], foods(&before)[0]);
    assert_eq!(foods(&w)[1].as_deref(), Some("honey"));
    assert!(verdict(&w, "quux") <= verdict(&before, "quux"));
    assert!(!w.screening.can_say_gluten_free);
    // Kept and read again, it is the same; taken back, it is gone.
    let kept = serde_json::to_string(&sheet).expect("json");
    assert_eq!(
        serde_json::from_str::<Sheet>(&kept).expect("a sheet"),
        sheet
    );
    for c in back {
        change(&mut sheet, c);
    }
    assert_eq!(foods(&worked(&sheet)), foods(&before));
}

/// Of two ingredients that nobody knows on one line each is answered by itself.
#[test]
fn the_question_about_a_second_ingredient_closes() {
    let mut sheet = of(&["200 g plain flour", "100 g raisins and 100 ml moonwater"]);
    let w = worked(&sheet);
    let read = line(&w, "raisins");
    let doubt = read.doubts.iter().find(|d| item_of(d, read) == 1);
    let code = doubt.expect("a question about the second").code;
    let first = read.items[0].food.as_ref().map(|m| m.food);
    let at = key(&sheet, "raisins");
    change(
        &mut sheet,
        Change::Food {
            line: at,
            place: 1,
            food: Some("orange_juice".to_owned()),
        },
    );
    let w = worked(&sheet);
    let read = line(&w, "raisins");
    assert_eq!(read.items[0].food.as_ref().map(|m| m.food), first);
    assert!(
        !read.doubts.iter().any(|d| d.code == code),
        "{:?}",
        read.doubts
    );
}
