//! Shopping and cost: prices noted in a baker's words, the cost of a recipe, one list for several.

use crate::harness::{House, browser, example};
use serde_json::json;

/// Notes a pack's price on a food's page, as its form does.
fn price(house: &House, key: &str, pack: &str, amount: &str) {
    price_and(house, key, pack, amount, &[]);
}

/// The same, with more fields of the form.
fn price_and(house: &House, key: &str, pack: &str, amount: &str, more: &[(&str, &str)]) {
    let page = house.get(&format!("/larder/{key}")).text();
    let base = page
        .split("name=\"base\" value=\"")
        .nth(1)
        .and_then(|r| r.split('"').next())
        .unwrap_or_default()
        .to_owned();
    let fields = [
        ("base", base.as_str()),
        ("price.pack_grams", pack),
        ("price.amount", amount),
        ("price.currency", "GBP"),
        ("price.date", "2026-11-20"),
        ("who", "Maud Ferris"),
        ("why", "shop prices"),
    ];
    let answer = house.post(&format!("/larder/{key}"), &[&fields[..], more].concat());
    assert_eq!(answer.status, 303, "{key}: {}", answer.text());
}

/// All prices of a recipe are noted where they are missed, and one stays there.
#[test]
fn prices_are_noted_on_the_shop_page_itself() {
    let house = House::open();
    let id = house.recipe(CAKE);
    let to = format!("/recipe/{id}/prices");
    let shop = format!("/recipe/{id}/shop");
    let money = [("currency", "GBP"), ("date", "2026-11-20")];
    let page = house.get(&shop).text();
    assert!(page.contains("4 without a price"), "{page}");
    // A price without a pack: told, and what was typed stays.
    let bad = [
        ("pack.egg.amount", "3.00"),
        ("pack.table_salt.pack_grams", "1 kg"),
    ];
    let answer = house.post(&to, &[&bad[..], &money[..]].concat());
    assert_eq!(answer.status, 422);
    let told = answer.text();
    assert!(told.contains("Write what the pack holds") && told.contains("value=\"3.00\""));
    assert!(told.contains("Write what the pack costs"), "{told}");
    let empty = house.post(&to, &money);
    assert_eq!(empty.status, 422);
    assert!(empty.text().contains("Nothing is written yet"));
    let good = [
        ("pack.egg.pack_grams", "12 eggs"),
        ("pack.egg.amount", "3.00"),
        ("pack.caster_sugar.pack_grams", "1 kg"),
        ("pack.caster_sugar.amount", "£1.30"),
    ];
    let answer = house.post(&to, &[&good[..], &money[..]].concat());
    assert_eq!(answer.status, 303, "{}", answer.text());
    assert_eq!(answer.header("location"), Some(&*format!("{shop}#cost")));
    let page = house.get(&shop).text();
    // 4 of 12 eggs at 3.00 are 1.00, 200 of 1000 g at 1.30 are 0.26.
    assert!(page.contains("The batch: at least 1.26 GBP"), "{page}");
    assert!(page.contains("2 without a price"), "{page}");
    // From here to a food's own page, and back.
    let food = format!("/larder/egg?back={shop}");
    assert!(page.contains(&format!("{food}#bought")), "{page}");
    let one = house.get(&food).text();
    assert!(one.contains(&format!("<a href=\"{shop}\">Back to where you were")));
    assert!(one.contains(&format!("name=\"back\" value=\"{shop}\"")));
    house.must_be_sound();
}

const CAKE: &str = "Plain cake\n\nMakes 10 slices\n\nIngredients\n200 g caster sugar\n4 eggs\n250 g white rice flour\nsalt, to taste\n\nMethod\n1. Mix and bake in a cake tin at 180 C for 40 minutes.\n";

#[test]
fn a_price_in_words_comes_to_the_cost_and_the_list() {
    let house = House::open();
    let id = house.recipe(CAKE);
    let before = house.get(&format!("/recipe/{id}/shop")).text();
    assert!(
        before.contains("No price is known of anything in it"),
        "{before}"
    );
    price(&house, "egg", "12 eggs", "3.00");
    price(&house, "caster_sugar", "1 kg", "1.30");
    let page = house.get(&format!("/recipe/{id}/shop")).text();
    // 4 of 12 eggs and 200 of 1000 g: 1.00 and 0.26. Flour and salt have no price: a floor.
    assert!(page.contains("The batch: at least 1.26 GBP"), "{page}");
    assert!(page.contains("A piece, of 10"), "{page}");
    assert!(
        page.contains(">white rice flour</a> <small>no price</small>"),
        "{page}"
    );
    assert_eq!(page.matches("Not in the sum").count(), 1, "{page}");
    let list = house.get(&format!("/shop?r={id}&n.{id}=4")).text();
    assert!(list.contains("2 × 12 eggs"), "{list}");
    assert!(list.contains("buy labelled gluten-free"), "{list}");
    assert!(list.contains("salt, to taste"), "{list}");
    let csv = house.get(&format!("/shop/list.csv?r={id}")).text();
    assert!(csv.starts_with("section,food,needed_g"), "{csv}");
    assert!(
        csv.lines().any(|l| l.contains("1 × 12 eggs,3.00,GBP")),
        "{csv}"
    );
    // The command takes the kitchen's prices.
    let ran = std::process::Command::new(env!("CARGO_BIN_EXE_unwheat"))
        .args([
            "shop",
            "examples/lemon-yoghurt-cake.txt",
            "--json",
            "--kitchen",
        ])
        .arg(house.kitchen())
        .current_dir(crate::harness::root())
        .output()
        .expect("the command runs");
    let said = String::from_utf8_lossy(&ran.stdout);
    assert!(said.contains("\"pack\": \"12 eggs\""), "{said}");
    let text = house.get(&format!("/shop/list.txt?r={id}")).text();
    assert!(text.contains("☐ egg: 1 × 12 eggs"), "{text}");
}

const CREPES: &str = "Sorrel crepes\n\nMakes 8\n\nIngredients\n200 g plain flour\n30 g butter or olive oil\n3 eggs\n300 ml milk\n1 bunch sorrel\n\nMethod\n1. Whisk, rest 30 minutes and fry in a pan.\n";

#[test]
fn the_page_says_what_the_command_says() {
    let house = House::open();
    let id = house.recipe(CREPES);
    price_and(
        &house,
        "egg",
        "12 eggs",
        "3.00",
        &[
            ("packs.0.pack_grams", "6 eggs"),
            ("packs.0.amount", "1.80"),
            ("packs.0.currency", "GBP"),
            ("packs.0.date", "2026-11-20"),
            ("stock.grams", "2 eggs"),
            ("stock.date", "2026-01-05"),
        ],
    );
    price(&house, "unsalted_butter", "250 g", "2.50");
    price(&house, "olive_oil", "500 g", "5.00");
    let page = house.get(&format!("/recipe/{id}/shop")).text();
    for said in [
        "Of several packs the one noted first counts here: egg by 12 eggs at 3.00 GBP.",
        "'30 g butter or olive oil': counted is unsalted butter 30 g, 0.30 GBP. In its place: olive oil 30 g, 0.30 GBP.",
        "or olive oil 30 g",
        "look, smell and read its date",
    ] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let list = house.get(&format!("/shop?r={id}&n.{id}=2")).text();
    assert!(
        list.contains("'1 bunch sorrel' × 2 has no weight"),
        "{list}"
    );
    assert!(list.contains("look, smell and read its date"), "{list}");
    let text = house.get(&format!("/shop/list.txt?r={id}&n.{id}=2")).text();
    assert!(text.contains("needed '1 bunch sorrel' × 2"), "{text}");
}

#[test]
fn a_recipe_in_the_bin_is_said_to_be_there() {
    let house = House::open();
    let id = house.recipe("Syrup\n\n500 g white sugar\n250 g water\n");
    let page = || house.get(&format!("/shop?r={id}")).text();
    assert!(!page().contains("is in the bin"));
    assert_eq!(house.post(&format!("/recipe/{id}/bin"), &[]).status, 303);
    assert!(page().contains("Syrup is in the bin"));
    house.must_be_sound();
}

#[test]
fn what_cannot_be_is_told_and_nothing_is_lost() {
    let house = House::open();
    let id = house.recipe(CAKE);
    let page = house.get(&format!("/shop?r={id}&n.{id}=many")).text();
    assert!(page.contains("is no number of times"), "{page}");
    let page = house.get("/shop?r=4711").text();
    assert!(page.contains("is not in this kitchen"), "{page}");
    assert_eq!(house.get("/shop/list.csv?r=4711").status, 422);
    // A pack that cannot be read keeps the form as it was typed.
    let answer = house.post(
        "/larder/egg",
        &[
            ("base", "0"),
            ("price.pack_grams", "3 bags"),
            ("price.amount", "2"),
            ("who", "x"),
            ("why", "y"),
        ],
    );
    assert_eq!(answer.status, 422);
    assert!(answer.text().contains("3 bags"), "{}", answer.text());
    let answer = house.post("/shop/blends", &[("grams.plain", "-3"), ("back", "/shop")]);
    assert_eq!(answer.status, 422);
}

#[test]
fn a_blend_mixed_beforehand_is_taken_first() {
    let house = House::open();
    let id = house.recipe("Scones\n\nIngredients\n400 g plain flour\n100 g butter\n150 g milk\n2 tsp baking powder\n\nMethod\n1. Rub in, roll out, bake at 220 C for 12 minutes.\n");
    let path = format!("/shop?r={id}");
    let page = house.get(&path).text();
    let key = page
        .split("name=\"grams.")
        .nth(1)
        .and_then(|r| r.split('"').next())
        .expect("a blend on the list")
        .to_owned();
    assert!(page.contains("Mix 400 g of the"), "{page}");
    let field = format!("grams.{key}");
    let answer = house.post("/shop/blends", &[(&field, "400"), ("back", &path)]);
    assert_eq!(answer.header("location"), Some(path.as_str()));
    let page = house.get(&path).text();
    assert!(page.contains("is there: 400 g of it"), "{page}");
    // Its flours are not bought then.
    assert!(!page.contains("rice flour</strong>"), "{page}");
    // Counted wrong: what stood before comes back.
    let what = format!("{key} blend, mixed: nothing → 400 g");
    assert!(page.contains(&format!("Changed last: {what}.")), "{page}");
    let undo = [("what", what.as_str()), ("back", path.as_str())];
    let answer = house.post("/kitchen/undo", &undo);
    assert_eq!(answer.header("location"), Some(path.as_str()));
    let page = house.get(&path).text();
    assert!(page.contains("Mix 400 g of the"), "{page}");
    house.must_be_sound();
}

#[test]
fn ticks_stay_in_the_browser() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        w.go(&format!("/shop?r={id}"));
        w.see("To pay:");
        let ticked = |w: &crate::harness::Window| {
            w.js(
                "return [...document.querySelectorAll('input[name=got]')].filter((b) => b.checked).map((b) => b.value);",
                json!([]),
            )
        };
        assert_eq!(ticked(w), json!([]));
        w.js(
            "document.querySelector('input[name=got][value=egg]').click();",
            json!([]),
        );
        w.reload();
        w.until("the tick is there again", |w| {
            (ticked(w) == json!(["egg"])).then_some(())
        });
        // Another list has ticks of its own.
        w.go(&format!("/shop?r={id}&n.{id}=2"));
        assert_eq!(ticked(w), json!([]));
        w.go(&format!("/shop?r={id}"));
        w.press("Take all ticks off");
        assert_eq!(ticked(w), json!([]));
        assert_eq!(w.axe(), Vec::<String>::new());
        for width in [1280, 820, 390] {
            w.narrow(width);
            assert_eq!(w.overhang(), None, "{width}");
        }
        w.narrow(1280);
        w.go(&format!("/recipe/{id}/shop"));
        w.see("What it costs");
        assert_eq!(w.axe(), Vec::<String>::new());
    });
}

#[test]
fn recipes_are_picked_without_scripts() {
    browser(|house, w| {
        let first = house.recipe(&example("sunday-pancakes.txt"));
        let second = house.recipe(CAKE);
        w.scripts(false);
        w.go("/shop");
        w.see("What will you bake?");
        for id in [first, second] {
            w.js(
                "document.querySelector('input[name=r][value=\"' + arguments[0] + '\"]').click();",
                json!([id.to_string()]),
            );
        }
        w.press("Make the list");
        w.see("To buy");
        w.see("buttermilk");
        w.js(
            "document.querySelector('input[name=got][value=egg]').click();",
            json!([]),
        );
        w.press("Keep the ticks in the address");
        w.see("To buy");
        let kept = w.js(
            "return document.querySelector('input[name=got][value=egg]').checked;",
            json!([]),
        );
        assert_eq!(kept, json!(true));
    });
}
