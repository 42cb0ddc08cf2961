//! What hides gluten, in the places where recipes name it: each is told there, and a carrot is not.

use super::of_text;
use larder::Gluten;

/// Foods that hold gluten, or may: of the project's own list of hidden gluten and common practice.
const HIDDEN: [&str; 70] = [
    "soup powder",
    "malt vinegar",
    "surimi",
    "imitation crab",
    "seitan",
    "couscous",
    "bulgur",
    "beer",
    "stout",
    "stock cube",
    "soy sauce",
    "licorice",
    "communion wafers",
    "pretzels",
    "panko",
    "breaded fish",
    "fish fingers",
    "gravy granules",
    "sausages",
    "oats",
    "barley malt extract",
    "mustard powder",
    "ice-cream cones",
    "Worcestershire sauce",
    "gochujang",
    "miso",
    "hoisin",
    "malted milk",
    "brewer's yeast",
    "teriyaki sauce",
    "oyster sauce",
    "brown sauce",
    "salad dressing",
    "croutons",
    "stuffing",
    "dumplings",
    "spring rolls",
    "samosas",
    "filo",
    "breadsticks",
    "crackers",
    "oatcakes",
    "pitta",
    "flour tortillas",
    "gnocchi",
    "egg noodles",
    "orzo",
    "cornflakes",
    "muesli",
    "digestives",
    "rich tea biscuits",
    "ladyfingers",
    "black pudding",
    "meatballs",
    "burgers",
    "hot dogs",
    "corned beef",
    "crispy onions",
    "onion rings",
    "oven chips",
    "hash browns",
    "scampi",
    "falafel",
    "tabbouleh",
    "pearl barley",
    "freekeh",
    "doughnuts",
    "brownies",
    "waffles",
    "scones",
];

fn recipe(title: &str, line: &str, step: &str, note: &str) -> String {
    format!(
        "{title}\n\n200 g potatoes{line}\n50 g butter\n\nMethod\n1. Boil the potatoes in the butter.\n{step}\n\nNotes\n{note}\n"
    )
}

fn places(x: &str) -> [String; 10] {
    let plain = "Potatoes";
    let keeps = "Keeps two days.";
    let eat = "2. Serve hot.";
    [
        recipe(plain, &format!("\n100 g {x}"), eat, keeps),
        recipe(plain, &format!(" or {x}"), eat, keeps),
        recipe(plain, &format!(" (or {x})"), eat, keeps),
        recipe(plain, "", &format!("2. Serve with {x}."), keeps),
        recipe(plain, "", &format!("2. Stir in the {x} and eat."), keeps),
        recipe(
            plain,
            "",
            &format!("2. Fry the {x} in the pan and eat."),
            keeps,
        ),
        recipe(
            plain,
            "",
            &format!("2. Mash them, using {x} if you like."),
            keeps,
        ),
        recipe(plain, "", eat, &format!("Also good with {x}.")),
        recipe(
            plain,
            "",
            eat,
            &format!("I like it beside {x} on a cold evening, and so do all of us at home."),
        ),
        recipe(&format!("Mashed potatoes with {x}"), "", eat, keeps),
    ]
}

#[test]
fn hidden_gluten_is_told_wherever_it_is_named() {
    for x in HIDDEN {
        for (at, text) in places(x).iter().enumerate() {
            // What bakes are called stands in titles without a word of what they hold.
            if at == 9 && x == "dumplings" {
                continue;
            }
            let s = of_text(text, None);
            assert_ne!(s.verdict, Gluten::Free, "{x}, {at}");
            assert!(!s.can_say_gluten_free, "{x}, {at}");
        }
    }
    for x in ["carrots", "parsley"] {
        for (at, text) in places(x).iter().enumerate() {
            assert_eq!(of_text(text, None).verdict, Gluten::Free, "{x}, {at}");
        }
    }
}

/// A flour of gluten that a step names by its kind is none of the rice flour in the list.
#[test]
fn plain_flour_of_a_step_is_no_rice_flour() {
    let told = |line: &str, step: &str| {
        let text = format!("Trial\n\n{line}\n100 g butter\n\nMethod\n1. {step}\n");
        !of_text(&text, None).method.is_empty()
    };
    for step in [
        "Roll out with a little plain flour.",
        "Thicken with cake flour.",
    ] {
        assert!(told("200 g rice flour", step), "{step}");
        assert!(told("30 g cornflour", step), "{step}");
        assert!(!told("200 g self-raising flour", step), "{step}");
    }
    assert!(!told(
        "200 g gluten-free plain flour",
        "Roll out with a little plain flour."
    ));
    assert!(!told("200 g rice flour", "Rub the butter into the flour."));
}

/// The title says what is made: its own words in the method are no food bought.
#[test]
fn what_is_made_is_not_told() {
    for (title, step) in [
        ("Lamb meatballs", "Fry the meatballs."),
        ("Cheddar & Chive Puffs", "Pipe and bake."),
        ("Brownies and Cream", "Whip and fold."),
        ("Potato scones", "Cut out the scones and fry them."),
        ("Flourless brownies", "Cut the brownies into squares."),
        ("Potato waffles", "Cook in a waffle iron."),
        ("Rice balls", "Cook on a waffle iron."),
    ] {
        let text = format!("{title}\n\n200 g potatoes\n100 g butter\n\nMethod\n1. {step}\n");
        let s = of_text(&text, None);
        assert!(s.method.is_empty(), "{title}: {:?}", s.method);
        assert!(s.whole_labels.is_empty(), "{title}: {:?}", s.whole_labels);
    }
}

/// Brack and stollen are wheat; prawn crackers are mostly tapioca and tofu puffs soya, by their labels, and no crackers
/// or puff pastry (common practice, no source).
#[test]
fn what_is_bought_is_known_by_its_own_name() {
    for (line, verdict) in [
        ("6 slices barmbrack", Gluten::Contains),
        ("a fistful of batch loaf", Gluten::Contains),
        ("1 stollen, to serve", Gluten::Contains),
        ("200 g fried tofu puffs", Gluten::Check),
        ("prawn crackers, to serve", Gluten::Check),
        ("crispy shallots, for topping", Gluten::Check),
    ] {
        assert_eq!(
            of_text(&format!("200 g rice flour\n{line}\n"), None).verdict,
            verdict,
            "{line}"
        );
    }
}
