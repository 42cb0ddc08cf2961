//! Settling doubts, one click each.

use crate::harness::{House, Window, browser, example, key};
use serde_json::json;

fn questions(w: &Window) -> Vec<String> {
    let got = w.js(
        "return [...document.querySelectorAll('ul.doubts > li')].map((q) => q.dataset.k);",
        json!([]),
    );
    got.as_array()
        .into_iter()
        .flatten()
        .filter_map(|v| v.as_str().map(str::to_owned))
        .collect()
}

/// 'Take it as read' says what was read, with its weight: 1¾ cups of 245 g, USDA's cup of buttermilk, are
/// 429 g. What the method itself answers stands first, as a button.
#[test]
fn a_question_says_how_the_line_was_read_and_the_likely_answer_is_a_button() {
    let house = House::open();
    let id = house.recipe(&example("sunday-pancakes.txt"));
    let page = house.get(&format!("/recipe/{id}/read")).text();
    let read = page.split("As read: <strong>").nth(1).expect("as read");
    let read = read.split("</strong>").next().expect("its words");
    assert_eq!(read, "1 3/4 cups · 420 ml buttermilk, 429 g");
    let id = house.recipe("Jam sponge\n\n200 g plain flour\n200 g butter\n200 g sugar\n4 eggs\n100 g raspberry jam\n\nMethod\n1. Beat the butter, sugar and eggs, fold in the flour.\n2. Bake at 180 C for 25 minutes. Cool.\n3. Sandwich with the jam.\n");
    let page = house.get(&format!("/recipe/{id}/read")).text();
    let asked = page.split("goes on after the bake").nth(1).expect("asked");
    let asked = asked.split("</li>").next().expect("the question");
    let buttons: Vec<&str> = asked.split("<button ").skip(1).collect();
    assert!(buttons[0].contains("Keep it out of the formula") && !buttons[0].contains("plain"));
    assert!(buttons[1].contains("It goes into the dough"));
}

#[test]
fn an_answer_takes_its_question_away_and_opening_it_again_brings_it_back() {
    browser(|house, w| {
        let id = house.recipe(&example("mushroom-stout-sauce.txt"));
        w.go(&format!("/recipe/{id}/read"));
        let asked = questions(w);
        assert!(asked.len() >= 2, "{asked:?}");
        let mut left = asked.clone();
        while let Some(first) = left.first().cloned() {
            w.and_follows("an answer", |w| w.press_in("To settle", ""));
            let now = questions(w);
            assert!(!now.contains(&first), "{first} is still asked");
            assert!(
                now.len() < left.len(),
                "an answer raised questions: {left:?} to {now:?}"
            );
            left = now;
        }
        w.gone("To settle");
        w.press("Settled and remarks");
        let settled = w.js(
            "return document.querySelectorAll('.settled li').length;",
            json!([]),
        );
        assert!(settled.as_i64() >= Some(1), "something is settled");
        w.and_follows("opening it again", |w| w.press("Open it again"));
        w.see("To settle");
        let back = questions(w);
        assert_eq!(back.len(), 1, "{back:?}");
        assert!(asked.contains(&back[0]), "{back:?} of {asked:?}");
        w.reload();
        assert_eq!(questions(w), back, "it stays open");
    });
}

#[test]
fn focus_goes_on_to_the_next_question() {
    browser(|house, w| {
        let id = house.recipe(&example("mushroom-stout-sauce.txt"));
        w.go(&format!("/recipe/{id}/read"));
        let mut left = questions(w);
        while left.len() > 1 {
            w.and_follows("an answer", |w| w.press_in("To settle", ""));
            w.holds(
                "the focus on the next question",
                "document.activeElement.matches('ul.doubts > li:first-child button')",
            );
            left = questions(w);
        }
        w.and_follows("the last answer", |w| w.press_in("To settle", ""));
        // Nothing left to settle: the focus is still somewhere in the page.
        w.holds(
            "the focus in the page",
            "document.activeElement !== document.body && document.activeElement.closest('main')",
        );
    });
}

/// A label that was read counts at once in the list of recipes.
#[test]
fn a_label_read_counts_in_the_list() {
    let house = House::open();
    let id = house.recipe("Scones\n\n250 g rice flour\n2 tsp baking powder\n50 g butter\n150 ml milk\n\nRub in, mix and bake at 220 C for 12 minutes.\n");
    let to_check = || {
        let page = house.get("/").text();
        let row = page
            .split(&format!("/recipe/{id}/"))
            .last()
            .unwrap_or("")
            .to_owned();
        row.split("tag warn\">")
            .nth(1)
            .and_then(|t| t.split('<').next()?.parse::<u32>().ok())
            .unwrap_or(0)
    };
    let before = to_check();
    assert!(before > 0);
    let said = |kind: &str| {
        let fields = [("note", "Tern, tub"), ("kind", kind), ("back", "/")];
        house.post("/larder/baking_powder/label", &fields).status
    };
    // A label that says neither is noted and settles nothing.
    assert_eq!(said("neither"), 303);
    assert_eq!(to_check(), before);
    let screen = house.get(&format!("/recipe/{id}/screen")).text();
    let noted = "neither gluten-free nor gluten named (Tern, tub)";
    let ours = screen.split("id=\"theirs\"").next().unwrap_or("");
    assert_eq!(ours.matches(noted).count(), 1, "said once");
    // A grain that is ticked is no word of a gluten-free label.
    let both = [
        ("note", "Tern"),
        ("kind", "labelled"),
        ("grain", "wheat"),
        ("back", "/"),
    ];
    assert_eq!(house.post("/larder/baking_powder/label", &both).status, 422);
    assert_eq!(said("labelled"), 303);
    assert_eq!(to_check(), before - 1);
    let screen = || house.get(&format!("/recipe/{id}/screen")).text();
    assert!(screen().contains("label says gluten-free<"));
    house.must_be_sound();
}

/// Whoever has said what a label says goes on from its line.
#[test]
fn a_label_read_brings_back_to_its_line() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        w.go(&format!("/recipe/{id}/screen"));
        w.js(
            "document.querySelector('main td details').open = true;",
            json!([]),
        );
        w.fill("Brand and pack", "Tern, tub");
        w.choose_one("It says gluten-free");
        w.press("Keep what it says");
        w.see("label says gluten-free");
        w.holds(
            "the focus on the line",
            "document.activeElement.matches('tr') && document.activeElement.textContent.includes('Tern, tub')",
        );
    });
}

/// The Enter key says nothing of a label; what is said is told, and taken back there and then.
#[test]
fn a_label_is_never_recorded_by_the_enter_key_and_is_taken_back_at_once() {
    browser(|house, w| {
        let id =
            house.recipe("Cinnamon butter\n\n100 g butter\n1 tbsp ground cinnamon\n\nBeat it.\n");
        w.go(&format!("/recipe/{id}/screen"));
        w.press("I have read it: label of ground cinnamon");
        w.fill("Brand and pack", "Tern, jar");
        w.key(&[], key::ENTER);
        w.holds(
            "the question asked",
            "document.activeElement.matches('input[name=kind]')",
        );
        let kept = || house.get("/larder/cinnamon").text();
        assert!(!kept().contains("Tern, jar"), "Enter recorded a label");
        w.choose_one("It names gluten, or traces of it");
        w.choose_one("wheat");
        w.press("Keep what it says");
        w.see("contains gluten");
        w.see("Kept in the Larder, for every recipe with ground cinnamon.");
        w.see("wheat (named on the label of ground cinnamon)");
        assert!(kept().contains("Tern, jar; names wheat"));
        let card = house.get(&format!("/recipe/{id}/card.html")).text();
        assert!(card.contains("wheat (named on the label of ground cinnamon)"));
        assert!(card.contains("ground cinnamon (<strong>wheat</strong>)"));
        w.press("Take it back: label of ground cinnamon");
        w.gone("named on the label of");
        w.see("I have read it");
        assert!(kept().contains("label taken back"));
        // A form from before that was sent again takes nothing else back.
        let late = [("seen", "1"), ("back", "/")];
        assert_eq!(house.post("/larder/cinnamon/label/back", &late).status, 422);
    });
}

/// One food by two names is one label.
#[test]
fn one_food_by_two_names_is_one_label() {
    let house = House::open();
    let id = house.recipe("Cake\n\nFor the filling:\n200 g cream cheese\n1 tsp vanilla\n\nFor the cake:\n200 g plain flour\n100 g sugar\n2 eggs\n2 tsp vanilla extract\n\n1. Mix and bake at 180 C for 30 minutes.\n");
    let page = house.get(&format!("/recipe/{id}/screen")).text();
    assert_eq!(page.matches("id=\"note-vanilla_extract\"").count(), 1);
    let ours = page.split("id=\"theirs\"").next().unwrap_or("");
    assert_eq!(
        ours.matches("sugar, caramel or malt may be added").count(),
        1
    );
    assert!(ours.contains("vanilla, vanilla extract"));
    house.must_be_sound();
}

/// Nobody has read the label of what a line only asks for.
#[test]
fn a_label_asked_for_is_not_a_label_read() {
    let house = House::open();
    let id = house.recipe("Dip\n\n100 g plain flour\n2 tbsp soy sauce\n100 ml water\n\nStir.\n");
    let page = house.get(&format!("/recipe/{id}/screen")).text();
    assert!(page.contains("to buy labelled<"));
    assert!(!page.contains("label says gluten-free<"));
    house.must_be_sound();
}

/// Figures that leave a line out say so beside them.
/// What the larder does not know has no label to read in it: it is put there first, and back again.
#[test]
fn an_unknown_food_leads_from_the_screen_to_the_larder_and_back() {
    let house = House::open();
    let id = house.recipe("Cake\n\n250 g plain flour\n3 eggs\n1 tbsp soy sauce caramel\n");
    let page = house.get(&format!("/recipe/{id}/screen")).text();
    assert!(page.contains("take it to hold gluten until its label says otherwise"));
    let way = format!("/larder/new?name=soy+sauce+caramel&amp;back=%2Frecipe%2F{id}%2Fscreen");
    assert!(page.contains(&way), "{page}");
    let form = house.get(&way.replace("&amp;", "&")).text();
    assert!(form.contains("value=\"soy sauce caramel\""), "{form}");
    house.must_be_sound();
}

#[test]
fn an_unweighed_line_is_told_beside_the_figures() {
    let house = House::open();
    let id = house
        .recipe("Slab\n\n250 g plain flour\na wodge of butter\n100 ml milk\n\nMix and bake.\n");
    let page = house.get(&format!("/recipe/{id}/rework")).text();
    assert!(page.contains("1 line is not weighed, and in none of the figures here."));
    house.must_be_sound();
}

/// The yolk of '2 eggs + 1 yolk' is weighed by itself, says so, and the weight is taken back; the
/// words beside are those a baker would use.
#[test]
fn each_ingredient_of_a_line_has_its_own_weight() {
    let house = House::open();
    let text = "Curd cookies\n\n200 g flour\n2 eggs + 1 yolk\nzest and juice of 1 lemon\n2 cups sugar\nCream, mix, drop on a sheet, bake at Gas 6 for 12 minutes\n";
    let id = house.recipe(text);
    let page = || house.get(&format!("/recipe/{id}/weigh")).text();
    let first = page();
    for food in ["egg", "egg yolk", "lemon zest", "lemon juice"] {
        let label = format!("aria-label=\"Grams of {food}\"");
        assert!(first.contains(&label), "{food} has no field");
    }
    assert!(first.contains("by the cup or spoon"));
    assert!(!first.contains("household weight") && !first.contains("docs/"));
    let change = r#"{"field":"grams","line":{"component":"","text":"2 eggs + 1 yolk","nth":0},"place":1,"grams":21.0}"#;
    let fields = [("rev", "1"), ("leaf", "weigh"), ("change", change)];
    assert_eq!(
        house.post(&format!("/recipe/{id}/change"), &fields).status,
        303
    );
    let weighed = page();
    assert!(weighed.contains("value=\"21\"") && weighed.contains("weighed by you"));
    assert!(weighed.contains("second weight of 2 eggs + 1 yolk"));
    let back = [("leaf", "weigh"), ("way", "undo")];
    assert_eq!(house.post(&format!("/recipe/{id}/undo"), &back).status, 303);
    assert!(!page().contains("value=\"21\""));
    // The line under the list is its method, and the oven is the one people set.
    let rework = house.get(&format!("/recipe/{id}/rework")).text();
    assert!(rework.contains("200 °C") && !rework.contains("205 °C"));
    assert!(!rework.contains("docs/"));
    house.must_be_sound();
}

/// A line behind the ingredients that may be a step is asked about, and one click makes it one.
#[test]
fn what_may_be_a_step_is_asked_about() {
    let house = House::open();
    let id = house
        .recipe("Drops\n\n1 cup butter\n2 cups flour\nGrandmother would always cream, and beat\n");
    let page = || house.get(&format!("/recipe/{id}/read")).text();
    press(&house, id, &page(), "It is part of the method");
    let read = page();
    assert!(!read.contains("It is part of the method"));
    assert!(read.contains("<h3 class=\"part\">Method</h3>"));
    house.must_be_sound();
}

/// Lines that the method makes by themselves are asked about, and one click writes a heading above them.
#[test]
fn what_is_made_by_itself_is_asked_about() {
    let house = House::open();
    let id = house.recipe(
        "Plum muffins\n\n2 cups flour\n1 cup sugar\n1 egg\n1 cup milk\n1/3 cup packed brown sugar\n2 tablespoons flour\n1 tablespoon butter\n\nMethod\nMix the flour, sugar, egg and milk. Spoon into a muffin tin.\nMix the brown sugar and 2 tablespoons flour, cut in the butter. Scatter the topping over.\nBake at 375 F for 20 minutes.\n",
    );
    let page = || house.get(&format!("/recipe/{id}/read")).text();
    press(&house, id, &page(), "Make them a part: topping");
    let read = page();
    assert!(!read.contains("Make them a part"));
    assert!(read.contains("<h3 class=\"part\">Topping</h3>"));
    house.must_be_sound();
}

/// A saved page is worked on as text, so its question has the same button: a page put in place of the text, too.
#[test]
fn parts_of_a_saved_page_are_made_with_one_click() {
    let house = House::open();
    let lines = "\"2 cups flour\",\"1 cup sugar\",\"1 egg\",\"1 cup milk\",\"1/3 cup packed brown sugar\",\"2 tablespoons flour\",\"1 tablespoon butter\"";
    let steps = "\"Mix the flour, sugar, egg and milk. Spoon into a muffin tin.\",\"Mix the brown sugar and 2 tablespoons flour, cut in the butter. Scatter the topping over.\",\"Bake at 375 F for 20 minutes.\"";
    let saved = format!(
        "<!DOCTYPE html><html><head><script type=\"application/ld+json\">{{\"@type\":\"Recipe\",\"name\":\"Plum muffins\",\"recipeIngredient\":[{lines}],\"recipeInstructions\":[{steps}]}}</script></head><body></body></html>"
    );
    let came = house.recipe(&saved);
    let put = house.recipe("Plum muffins\n\n2 cups flour\n\nMethod\nBake.\n");
    let text = [
        ("rev", "1"),
        ("leaf", "read"),
        ("change", "{\"field\":\"text\",\"text\":\"\"}"),
        ("value", &*saved),
    ];
    let answer = house.post(&format!("/recipe/{put}/change"), &text);
    assert_eq!(answer.status, 303, "{}", answer.text());
    for (id, rev) in [(came, "1"), (put, "2")] {
        let page = || house.get(&format!("/recipe/{id}/read")).text();
        press_at(&house, id, &page(), "Make them a part: topping", rev);
        let read = page();
        assert!(!read.contains("Make them a part"));
        assert!(read.contains("<h3 class=\"part\">Topping</h3>"));
    }
    house.must_be_sound();
}

/// Presses a button of the Read page, as it is without scripts.
fn press(house: &House, recipe: u32, page: &str, words: &str) {
    press_at(house, recipe, page, words, "1");
}

/// The same, of a draft in a known state.
pub fn press_at(house: &House, recipe: u32, page: &str, words: &str, rev: &str) {
    assert!(page.contains(words), "no '{words}'");
    let before = page.split(words).next().unwrap_or("");
    let change = before.rsplit("value=\"").next().unwrap_or("");
    let change = change.split('"').next().unwrap_or("");
    let change = change.replace("&quot;", "\"");
    let fields = [("rev", rev), ("leaf", "read"), ("change", &*change)];
    let answer = house.post(&format!("/recipe/{recipe}/change"), &fields);
    assert_eq!(answer.status, 303);
}

/// What only the method names is put on a line of the part that the step is about.
#[test]
fn an_amount_of_the_method_becomes_a_line() {
    let house = House::open();
    let id = house.recipe(
        "Bars\n\nFor the filling:\n200 g pitted dates\n\nFor the base:\n200 g plain flour\n100 g butter\n\nMethod\n1. For the filling, simmer the dates with 1/4 cup water.\n2. Rub the butter into the flour, press into a tin and bake for 20 minutes at 180 C.\n",
    );
    let page = || house.get(&format!("/recipe/{id}/read")).text();
    press(
        &house,
        id,
        &page(),
        "Put 1/4 cup water among the ingredients of the filling",
    );
    let read = page();
    assert!(!read.contains("stands on no line"));
    let weighed = house.get(&format!("/recipe/{id}/weigh")).text();
    let filling = weighed.find("1/4 cup water").expect("a line");
    assert!(filling < weighed.find("plain flour").expect("the base"));
    house.must_be_sound();
}

/// A label that was read and says neither is no longer one to read: what it leaves open is said.
#[test]
fn a_label_read_in_vain_is_read() {
    let house = House::open();
    let id = house.recipe_in("Butter cake\n\nServes 8\n\n225 g plain flour\n225 g butter\n225 g caster sugar\n4 large eggs\n10 g baking powder\n60 g whole milk\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour and powder.\n2. Bake at 180 C for 35 minutes in a 20 x 5 cm round tin.\n", "uk");
    let saved = house.post(
        &format!("/recipe/{id}/save"),
        &[("why", "first"), ("rev", "1"), ("who", "Maud Ferris")],
    );
    assert_eq!(saved.status, 303, "{}", saved.text());
    let at = format!("/recipe/{id}/screen");
    let page = || house.get(&at).text();
    assert!(page().contains("to be read before you bake"), "{}", page());
    let mut keys = 0;
    while let Some(key) = page()
        .split("<form method=\"post\" action=\"/larder/")
        .filter_map(|f| f.split_once("/label\"").map(|(k, _)| k.to_owned()))
        .nth(keys)
    {
        keys += 1;
        let said = [("note", "Tern"), ("kind", "neither"), ("back", at.as_str())];
        assert_eq!(
            house.post(&format!("/larder/{key}/label"), &said).status,
            303
        );
    }
    assert!(keys > 0);
    let now = page();
    assert!(!now.contains("to be read before you bake"), "{now}");
    assert!(
        now.contains("leave it open: ask the maker")
            || now.contains("leaves it open: ask the maker"),
        "{now}"
    );
    house.must_be_sound();
}

/// What may be a food or the heading of the lines below it is made a heading with one click, which is undone.
#[test]
fn a_line_that_may_be_a_heading_is_made_one() {
    let text = "Chicken bake\n\n500 g chicken thighs\nWhite sauce\n200 g rice pasta\n50 g cheddar\n\nMethod\nBake at 200 °C for 40 minutes.\n";
    let part = "<h3 class=\"part\">White sauce</h3>";
    let house = House::open();
    let id = house.recipe(text);
    let page = || house.get(&format!("/recipe/{id}/read")).text();
    assert!(!page().contains(part));
    press(&house, id, &page(), "It is a heading of what follows");
    assert!(page().contains(part) && page().contains("White sauce:"));
    let back = [("leaf", "read"), ("way", "undo")];
    assert_eq!(house.post(&format!("/recipe/{id}/undo"), &back).status, 303);
    assert!(!page().contains(part) && page().contains("It is a heading of what follows"));
    house.must_be_sound();
    browser(|house, w| {
        let id = house.recipe(text);
        w.go(&format!("/recipe/{id}/read"));
        assert_eq!(w.axe(), Vec::<String>::new());
        w.and_follows("the heading", |w| {
            w.press("It is a heading of what follows");
        });
        w.gone("It is a heading of what follows");
        w.see("White sauce:");
        assert_eq!(w.axe(), Vec::<String>::new());
        w.and_follows("undo", |w| w.press("Undo:"));
        w.see("It is a heading of what follows");
    });
}
