//! Components of other recipes, and of recipes that those take in.

use crate::harness::House;
use crate::settle::press_at;

const CURD: &str = "Lemon curd\n\n100 g lemon juice\n100 g sugar\n2 eggs\n50 g butter\n\nMethod\nWhisk all over a low heat.\n";
const CREAM: &str =
    "Curd cream\n\n120 g lemon curd\n200 g heavy cream\n\nMethod\nFold the lemon curd in.\n";
const CAKE: &str = "Layer cake\n\nSponge\n150 g flour\n150 g sugar\n3 eggs\n\nTo assemble\nthe sponge\n250 g curd cream\n\nMethod\nMix the sponge and bake at 350 F for 25 minutes. Fill.\n";

/// The draft's number, as the page's forms have it.
fn rev(house: &House, recipe: u32) -> String {
    let page = house.get(&format!("/recipe/{recipe}/versions")).text();
    let behind = page.split("name=\"rev\" value=\"").nth(1);
    let number = behind.and_then(|b| b.split('"').next());
    number.expect("a draft's number").to_owned()
}

fn save(house: &House, recipe: u32) {
    let rev = rev(house, recipe);
    let answer = house.post(
        &format!("/recipe/{recipe}/save"),
        &[
            ("why", "first"),
            ("who", "Ida"),
            ("rev", &rev),
            ("leaf", "versions"),
        ],
    );
    assert_eq!(answer.status, 303, "{}", answer.text());
}

/// Takes a recipe in, by its title on the list.
fn take_in(house: &House, recipe: u32, title: &str) -> (u16, String) {
    let page = house.get(&format!("/recipe/{recipe}/read")).text();
    let before = page.split(&format!("\">{title}, version")).next();
    let uid = before.and_then(|b| b.rsplit("value=\"").next());
    let uid = uid.expect("it is on the list").to_owned();
    let answer = house.post(
        &format!("/recipe/{recipe}/part"),
        &[("part", &uid), ("leaf", "read")],
    );
    (answer.status, answer.text())
}

#[test]
fn a_recipe_made_of_others_is_taken_in_whole_and_none_into_itself() {
    let house = House::open();
    let (curd, cream, cake) = (house.recipe(CURD), house.recipe(CREAM), house.recipe(CAKE));
    save(&house, curd);
    assert_eq!(take_in(&house, cream, "Lemon curd").0, 303);
    save(&house, cream);
    assert_eq!(take_in(&house, cake, "Curd cream").0, 303);
    for leaf in ["weigh", "rework", "size", "plan", "card.html"] {
        let page = house.get(&format!("/recipe/{cake}/{leaf}"));
        let text = page.text().to_lowercase();
        assert_eq!(page.status, 200, "{leaf}");
        assert!(text.contains("lemon curd"), "{leaf}");
        // A plan has steps alone.
        assert!(leaf == "plan" || text.contains("lemon juice"), "{leaf}");
    }
    // The curd is in the cream already; and the cake's version makes a longer way round.
    save(&house, cake);
    for (into, title, through) in [
        (curd, "Curd cream", ""),
        (curd, "Layer cake", ", through &#39;Curd cream&#39;"),
    ] {
        let (status, text) = take_in(&house, into, title);
        assert_eq!(status, 422, "{title}");
        let text = text.replace("'", "&#39;");
        let said = format!(
            "&#39;{title}&#39;, version 1, takes in &#39;Lemon curd&#39; itself{through}: nothing is made of itself"
        );
        assert!(text.contains(&said), "{text}");
    }
    house.must_be_sound();
}

const MUFFINS: &str = "Plum muffins\n\n2 cups flour\n1 cup sugar\n1 egg\n1 cup milk\n1/3 cup packed brown sugar\n2 tablespoons flour\n1 tablespoon butter\n100 g lemon curd\n\nMethod\nMix the flour, sugar, egg and milk. Spoon into a muffin tin.\nMix the brown sugar and 2 tablespoons flour, cut in the butter. Scatter the topping over.\nBake at 375 F for 20 minutes. Simmer 1/4 cup water with the lemon curd and serve.\n";

/// What is asked of a recipe's own text is answered with one click where it takes in another, too.
#[test]
fn questions_keep_their_buttons_where_another_recipe_is_taken_in() {
    let house = House::open();
    let (curd, muffins) = (house.recipe(CURD), house.recipe(MUFFINS));
    save(&house, curd);
    assert_eq!(take_in(&house, muffins, "Lemon curd").0, 303);
    let page = || house.get(&format!("/recipe/{muffins}/read")).text();
    for words in [
        "Make them a part: topping",
        "Put 1/4 cup water among the ingredients",
    ] {
        press(&house, muffins, &page(), words);
        assert!(!page().contains(words), "{words}");
    }
    let read = page();
    assert!(read.contains("<h3 class=\"part\">Topping</h3>"));
    assert!(read.contains("<li>1/4 cup water</li>"));
    house.must_be_sound();
}

/// Presses a button of the Read page, as it is without scripts.
fn press(house: &House, recipe: u32, page: &str, words: &str) {
    press_at(house, recipe, page, words, &rev(house, recipe));
}
