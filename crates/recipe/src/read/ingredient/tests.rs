mod abroad;
mod added;
mod choices;
mod commas;
mod measured;
mod varieties;

use super::Reader;
use crate::line::{Line, LineKind, Purpose, Role};
use crate::{DoubtCode, weigh};
use larder::Larder;
use quantity::Locale;
use std::sync::OnceLock;

fn larder() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

fn line(text: &str) -> Line {
    Reader::new(larder(), Locale::Us).line(text)
}

/// The foods of the items.
fn foods(line: &Line) -> Vec<&str> {
    line.items
        .iter()
        .map(|i| {
            i.food
                .as_ref()
                .map_or("", |m| larder().food(m.food).key.as_str())
        })
        .collect()
}

fn others(line: &Line) -> Vec<&str> {
    let ids = line.items.iter().flat_map(|i| &i.alternatives);
    ids.map(|f| larder().food(*f).key.as_str()).collect()
}

#[test]
fn a_food_without_an_amount_behind_a_semicolon_is_an_item() {
    let l = line("1 egg, beaten; sesame seeds");
    assert_eq!(foods(&l), ["egg", "sesame_seed"]);
    assert!(l.items[1].amounts.is_empty());
    assert_eq!(foods(&line("1 egg; beaten")), ["egg"]);
    let l = line("2 tbsp rolled oats, 1 tbsp honey; pumpkin seeds; salt");
    assert_eq!(
        foods(&l),
        ["rolled_oats", "honey", "pumpkin_seed", "table_salt"]
    );
}

#[test]
fn a_white_or_yolk_beside_eggs_is_counted_as_one() {
    for text in [
        "3 eggs plus the leftover white",
        "3 eggs, plus the reserved white",
        "3 eggs and the remaining white",
        "3 eggs plus an extra white",
    ] {
        let l = line(text);
        let white = l.items[0].amounts.iter().find(|a| a.of.is_some());
        let of = white
            .and_then(|a| a.of)
            .map(|f| larder().food(f).key.as_str());
        assert_eq!(of, Some("egg_white"), "{text}: {l:?}");
        assert!(
            white.is_some_and(|a| a.low == 1.0 && a.role == Role::Plus),
            "{text}"
        );
    }
    assert_eq!(
        foods(&line("2 egg yolks and the reserved syrup")),
        ["egg_yolk"]
    );
}

#[test]
fn an_extra_does_not_set_the_purpose() {
    for text in [
        "175g (6oz) butter, softened, plus a little for the tins",
        "4 cups all-purpose flour, plus more for the counter",
        "2 tbsp flour, plus extra for dusting",
        "50 g butter, and a little more for greasing",
    ] {
        let l = line(text);
        assert_eq!(l.items[0].purpose, Purpose::Formula, "{text}");
        assert!(!l.items[0].amounts.is_empty(), "{text}");
        assert!(!l.doubts(DoubtCode::NoAmount), "{text}");
        assert!(!l.doubts(DoubtCode::NotInFormula), "{text}");
    }
    assert_eq!(
        line("50 g butter, for greasing").items[0].purpose,
        Purpose::Pan
    );
    assert_eq!(
        line("flour, plus more for the counter").items[0].purpose,
        Purpose::Dusting
    );
    assert_eq!(
        line("butter, plus a knob for the tin").items[0].purpose,
        Purpose::Pan
    );
}

#[test]
fn one_doubt_for_one_unmeasured_line() {
    let codes = |t: &str| line(t).doubts.iter().map(|d| d.code).collect::<Vec<_>>();
    assert_eq!(codes("Butter, for greasing"), [DoubtCode::NotInFormula]);
    assert_eq!(
        codes("flour, plus more for the counter"),
        [DoubtCode::NotInFormula]
    );
    assert_eq!(codes("pepper to taste"), [DoubtCode::ToTaste]);
    assert_eq!(
        codes("salt and pepper to taste"),
        [DoubtCode::ToTaste, DoubtCode::ToTaste]
    );
}

#[test]
fn mixed_with_another_makes_two_items() {
    let l = line("1 large egg beaten with 1 tablespoon milk, for the egg wash");
    assert_eq!(foods(&l), ["egg", "whole_milk"]);
    assert!(l.items.iter().all(|i| i.purpose == Purpose::Brushing));
    let l = line("1 tsp baking soda dissolved in 2 tbsp hot water");
    assert_eq!(foods(&l), ["baking_soda", "water"]);
    assert!(l.items.iter().all(|i| i.purpose == Purpose::Formula));
    assert_eq!(foods(&line("2 eggs, beaten with a fork")), ["egg"]);
}

#[test]
fn a_stated_weight_settles_a_loose_measure() {
    let l = line("a good knob of butter, about 1 oz");
    assert!(!l.doubts(DoubtCode::LooseMeasure) && !l.doubts(DoubtCode::LooseFilling));
    assert!(line("a good knob of butter").doubts(DoubtCode::LooseMeasure));
    let (weighed, _) = weigh::line(&l, larder(), Locale::Us);
    let grams = weighed[0].grams.expect("weighed").likely().as_grams();
    assert!((grams - 28.35).abs() < 0.1, "{grams}");
}

#[test]
fn typed_in_one_line() {
    let l = line(
        "so u need 3 v ripe bananas, 225g self raising flour, a splash of milk + handful of walnuts if u like",
    );
    assert_eq!(
        foods(&l),
        ["banana", "self_raising_flour", "whole_milk", "walnut"]
    );
    assert_eq!(line("You will need a 20 cm tin").kind, LineKind::Note);
}

#[test]
fn plain_descriptions_leave_no_doubt() {
    for text in [
        "150g vintage cheddar",
        "½ lb flat mushrooms, sliced",
        "½ teaspoonful made mustard",
        "2 tsp carbonate of soda",
        "3 v ripe bananas",
        "150 g extra-mature cheddar",
        "200 g corn-fed chicken breast",
        "100 g European-style butter",
        "2 tbsp thick-cut orange marmalade",
    ] {
        assert!(!line(text).doubts(DoubtCode::NamePartlyKnown), "{text}");
    }
    assert!(line("100 g chicken-style pieces of chicken").doubts(DoubtCode::NamePartlyKnown));
}

#[test]
fn signs_of_any_script_are_read() {
    for text in [
        "\u{200b}\u{468}?; 350°F",
        "İ or ẞ plus 1 ½ (ﬀ) no ǅ",
        "1 cup ẞ, or 2 cups É plus",
        "é beaten with 1 tbsp é",
    ] {
        let l = line(text);
        assert!(l.items.iter().all(|i| text.get(i.name.clone()).is_some()));
        assert!(
            l.items
                .iter()
                .flat_map(|i| &i.amounts)
                .all(|a| a.role == Role::Main || text.get(a.span.clone()).is_some())
        );
    }
}

#[test]
fn a_wash_is_brushed_on() {
    for text in [
        "1 egg yolk + 1 tbsp milk, for the glaze",
        "1 egg yolk plus 1 tbsp milk, to glaze",
        "1 egg and 1 tbsp milk, to glaze",
        "1 egg and a little milk, for the glaze",
    ] {
        let l = line(text);
        assert_eq!(l.items.len(), 2, "{text}");
        assert_eq!(foods(&l)[1], "whole_milk", "{text}");
        assert!(
            l.items.iter().all(|i| i.purpose == Purpose::Brushing),
            "{text}"
        );
    }
    let purpose = |t: &str| line(t).items[0].purpose;
    assert_eq!(purpose("1 egg, beaten, for the glaze"), Purpose::Brushing);
    assert_eq!(purpose("50 g icing sugar, for the glaze"), Purpose::Formula);
    assert_eq!(purpose("3 eggs + 1 yolk"), Purpose::Formula);
}

#[test]
fn one_packet_has_the_words_span() {
    let text = "7 g sachet fast-action yeast";
    let l = line(text);
    let packet = &l.items[0].amounts[0];
    assert_eq!(&text[packet.span.clone()], "sachet");
    assert_eq!(packet.low, 1.0);
}

#[test]
fn a_slip_in_a_unit_is_read_with_a_doubt() {
    for (text, unit) in [
        ("2 cupps flour", "cup"),
        ("1 tablespon sugar", "tbsp"),
        ("1/2 teasppon salt", "tsp"),
        ("200 gramms flour", "g"),
        ("3 tbps milk", "tbsp"),
        ("8 onces flour", "oz"),
    ] {
        let l = line(text);
        let amount = &l.items[0].amounts[0];
        assert_eq!(amount.unit.map(quantity::Unit::code), Some(unit), "{text}");
        let said = l.doubts.iter().any(|d| d.message.contains("is read as"));
        assert!(l.doubts(DoubtCode::NotRead) && said, "{text}");
        assert!(!l.doubts(DoubtCode::NamePartlyKnown), "{text}");
    }
    for text in [
        "2 pinto beans",
        "1 lite beer",
        "2 cubes stock",
        "200 grms flour",
    ] {
        assert!(!line(text).doubts(DoubtCode::NotRead), "{text}");
    }
}

#[test]
fn a_little_is_no_number() {
    let grams = |l: &Line| -> Vec<bool> {
        let (weighed, _) = weigh::line(l, larder(), Locale::Us);
        weighed.iter().map(|w| w.grams.is_some()).collect()
    };
    for (text, food) in [
        ("a little beer", "beer"),
        ("a little milk", "whole_milk"),
        ("• a bit of butter", "unsalted_butter"),
        ("a tiny bit of salt", "table_salt"),
        ("some milk", "whole_milk"),
        ("a touch of vanilla extract", "vanilla_extract"),
        ("a few eggs", "egg"),
        ("a few raisins", "raisins"),
        ("a splash of beer", "beer"),
        ("a handful of walnuts", "walnut"),
    ] {
        let l = line(text);
        assert_eq!(foods(&l), [food], "{text}");
        assert!(l.doubts(DoubtCode::LooseMeasure), "{text}: {:?}", l.doubts);
        assert!(!l.doubts(DoubtCode::NoAmount), "{text}");
        assert_eq!(grams(&l), [false], "{text}");
    }
    assert!(line("a little salt to taste").doubts(DoubtCode::ToTaste));
    // What is counted stays counted, and a stated amount stated.
    for text in [
        "an egg",
        "a beer",
        "a couple of eggs",
        "a few sprigs of thyme",
        "some 200 g sugar",
    ] {
        let l = line(text);
        assert!(!l.doubts(DoubtCode::LooseMeasure), "{text}");
        assert_eq!(grams(&l), [true], "{text}");
    }
    let syrup = line("a little of the syrup");
    let share = syrup.items[0].reference.as_ref().map(|r| r.share);
    assert_eq!(share, Some(crate::line::Share::Amount));
}

#[test]
fn sentences_are_notes() {
    for text in [
        "three days and is better on the second",
        "This keeps well in a tin for three days and is better on the second",
        "Keeps for a week",
        "2-3 hours",
        "The crumb is closer when the flour is old",
        "It is nicest with butter",
    ] {
        assert_eq!(line(text).kind, LineKind::Note, "{text}");
    }
    for text in [
        "2 days old bread",
        "3 day-old croissants",
        "1 hour-proved dough",
        "Flour will do, about 200 g of it",
        "This much butter, 50 g",
        "2 eggs, whichever are fresher",
        "butter that is soft enough to spread",
        "Salt, a pinch of it is plenty for this",
        "100 g chocolate, which is best dark",
    ] {
        assert_eq!(line(text).kind, LineKind::Ingredient, "{text}");
    }
}

#[test]
fn what_is_melted_with_an_amount_of_another_is_two_foods() {
    let l = line("40g butter, melted with 3 tbs hot water");
    assert_eq!(foods(&l), ["unsalted_butter", "water"]);
    assert_eq!(l.items[1].amounts[0].middle(), 3.0);
    assert_eq!(
        foods(&line("30 g butter, melted with the sugar")),
        ["unsalted_butter"]
    );
}

/// Every food with its amount, whichever signs join them.
#[test]
fn three_foods_on_a_line_all_stand() {
    const FOODS: [(&str, &str); 12] = [
        ("100 g sugar", "white_sugar"),
        ("2 eggs", "egg"),
        ("1 egg", "egg"),
        ("100 g butter", "unsalted_butter"),
        ("1 onion", "onion"),
        ("8 potatoes", "potato"),
        ("250 g ricotta", "ricotta"),
        ("2 tbsp parmesan", "parmesan"),
        ("1 tsp salt", "table_salt"),
        ("2 tbsp milk", "whole_milk"),
        ("1 zucchini", "zucchini"),
        ("8 shrimp", "prawns"),
    ];
    let mut wrong = Vec::new();
    for (i, a) in FOODS.iter().enumerate() {
        for (j, b) in FOODS.iter().enumerate() {
            for (k, c) in FOODS.iter().enumerate() {
                if i == j || j == k || i == k || a.1 == b.1 || b.1 == c.1 || a.1 == c.1 {
                    continue;
                }
                for (first, last) in [
                    (", ", " and "),
                    (", ", ", and "),
                    (", ", ", "),
                    ("; ", " & "),
                ] {
                    let text = format!("{}{first}{}{last}{}", a.0, b.0, c.0);
                    let l = line(&text);
                    let amounts = l.items.iter().all(|x| x.amounts.len() == 1);
                    if foods(&l) != [a.1, b.1, c.1] || !amounts {
                        wrong.push(format!("{text}: {:?}", foods(&l)));
                    }
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong: {:#?}",
        wrong.len(),
        &wrong[..wrong.len().min(60)]
    );
}

#[test]
fn one_food_told_of_twice_is_one() {
    for text in [
        "3 onions, 2 sliced and 1 chopped",
        "1 tin tomatoes, 400 g & chopped",
        "60 ml half & half",
    ] {
        assert_eq!(
            line(text).items.len(),
            1,
            "{text}: {:?}",
            foods(&line(text))
        );
    }
}

#[test]
fn for_boiling_is_for_the_whole_bath() {
    for text in [
        "10 c. water + 2/3 c. baking soda (for boiling)",
        "10 cups water plus 2/3 cup baking soda, for boiling",
        "2 l water and 60 g baking soda, for boiling",
        "2 litres water, 1 tbsp salt, 2 tbsp honey, for the poaching",
    ] {
        let l = line(text);
        assert!(
            l.items.iter().all(|i| i.purpose == Purpose::Pan),
            "{text}: {:?}",
            foods(&l)
        );
    }
    for text in [
        "300 g water, 1 tsp salt, 2 l water for boiling",
        "500 g flour and 2 l water, for boiling",
        "300 g water + 5 g salt",
    ] {
        assert_eq!(line(text).items[0].purpose, Purpose::Formula, "{text}");
    }
}

#[test]
fn bought_foods_that_hold_gluten_are_known() {
    for (text, food) in [
        ("100 g tempura bits", "tempura_bits"),
        ("a handful of tenkasu", "tempura_bits"),
        ("tonkatsu sauce, to serve", "tonkatsu_sauce"),
        ("2 tbsp okonomi sauce", "okonomi_sauce"),
        ("3 tbsp tartar sauce", "tartare_sauce"),
        ("2 slices black pudding", "black_pudding"),
        ("450 g haggis", "haggis"),
        ("12 wontons", "filled_dumplings"),
        ("12 wonton wrappers", "wonton_wrappers"),
        ("20 frozen gyoza", "filled_dumplings"),
        ("200 g spätzle", "spaetzle"),
        ("8 fish fingers", "fish_fingers"),
        ("300 g breaded chicken nuggets", "chicken_nuggets"),
        ("300 g chicken", "chicken"),
        ("200 ml shandy", "shandy"),
        ("1 tbsp bonito flakes", "bonito_flakes"),
        ("500 ml dashi", "dashi"),
        ("2 tbsp mirin", "mirin"),
        ("1 pack gelatin dessert mix", "jelly_dessert"),
        ("2 tsp gelatin", "gelatine"),
        ("1 qt cookies-and-cream ice cream", "biscuit_ice_cream"),
        ("1 qt vanilla ice cream", "ice_cream"),
        ("1 cup rice jasmine", "white_rice"),
        (
            "3/4 cup (1 1/2 sticks) butter, browned and cooled",
            "unsalted_butter",
        ),
        ("100 g browned butter", "brown_butter"),
    ] {
        let l = line(text);
        let key = foods(&l).first().copied().unwrap_or("");
        assert!(
            key == food || food == "chicken" && key.starts_with("chicken"),
            "{text}: {key}"
        );
    }
    assert_eq!(foods(&line("1 cup rice foobles")), [""]);
    assert_eq!(
        foods(&line("Lemon juice + confectioners' sugar")),
        ["lemon_juice", "icing_sugar"]
    );
    let l = line("tartare sauce and lemon wedges, to serve");
    assert_eq!(foods(&l), ["tartare_sauce", "lemon"]);
    assert!(l.items.iter().all(|i| i.purpose == Purpose::Serving));
}

#[test]
fn optional_is_no_part_of_the_name() {
    for text in [
        "1 tbsp quixo liqueur (optional)",
        "1 tbsp quixo liqueur, optional",
        "1 tbsp quixo liqueur",
    ] {
        let l = line(text);
        assert_eq!(&text[l.items[0].name.clone()], "quixo liqueur", "{text}");
        assert_eq!(l.items[0].optional, text.contains("optional"), "{text}");
    }
}

/// Both parts of a fruit are weighed, and a list of ground spices is ground to its end.
#[test]
fn both_parts_and_every_spice_are_read() {
    for (text, want) in [
        (
            "1 lemon, zest and juice",
            ["lemon_zest", "lemon_juice"].as_slice(),
        ),
        (
            "2 limes (juice and finely grated zest)",
            &["lime_zest", "lime_juice"],
        ),
        ("1 lemon, juiced", &["lemon_juice"]),
        (
            "½ tsp each ground cinnamon, ginger and cloves",
            &["cinnamon", "ginger_ground", "cloves"],
        ),
    ] {
        let read = line(text);
        assert_eq!(foods(&read), want, "{text}");
        assert!(
            read.items.iter().all(|i| i.amounts[0].unit.is_some()),
            "{text}"
        );
    }
    let halves: Vec<f64> = line("1 lemon, juice and zest of half")
        .items
        .iter()
        .map(|i| i.amounts[0].middle())
        .collect();
    assert_eq!(
        foods(&line("1 lemon, juice and zest of half")),
        ["lemon_zest", "lemon_juice"]
    );
    assert_eq!(halves, [0.5, 1.0]);
    // What else a piece names stays outside of its food, where it is screened.
    for (text, food) in [
        ("50 g each walnuts with semolina, raisins", "walnuts"),
        (
            "50 g each walnuts (rolled in wheat flour), raisins",
            "walnuts",
        ),
        (
            "50 g each ground ginger with semolina, cloves",
            "ground ginger",
        ),
        (
            "½ tsp each ground cloves, ginger (with wheat flour)",
            "ground cloves",
        ),
        ("50 g each chocolate with hazelnuts, raisins", "chocolate"),
    ] {
        let read = line(text);
        let spans = read.items.iter().filter_map(|i| i.food.as_ref());
        let named: Vec<&str> = spans.map(|m| &text[m.span.clone()]).collect();
        assert_eq!((named.len(), named[0]), (2, food), "{text}");
        let all = named.concat();
        assert!(
            !all.contains("with") && !all.contains("rolled"),
            "{text}: {named:?}"
        );
    }
}

#[test]
fn a_long_name_of_a_part_is_a_heading() {
    let reader = Reader::new(larder(), Locale::Us);
    let part = reader.heading("For the marzipan and candied blood-orange filling", false);
    assert_eq!(
        part.as_deref(),
        Some("marzipan and candied blood-orange filling")
    );
    // A long line that names no part is none.
    let none = reader.heading("For the best of all results use really good butter", false);
    assert_eq!(none, None);
}

#[test]
fn a_count_is_shared_out_between_its_purposes() {
    let shares = |text: &str| -> Vec<(f64, Purpose)> {
        let l = line(text);
        let of = |i: &crate::line::Item| (i.amounts.first().map_or(0.0, |a| a.low), i.purpose);
        assert!(
            foods(&l).iter().all(|f| *f == "egg"),
            "{text}: {:?}",
            foods(&l)
        );
        l.items.iter().map(of).collect()
    };
    let coated = [(4.0, Purpose::Formula), (2.0, Purpose::Dusting)];
    assert_eq!(shares("6 eggs: 4 to boil, 2 beaten for coating"), coated);
    assert_eq!(shares("6 eggs (4 to boil, 2 beaten for coating)"), coated);
    assert_eq!(
        shares("3 eggs, 2 for the dough and 1 beaten to glaze"),
        [(2.0, Purpose::Formula), (1.0, Purpose::Brushing)]
    );
    // What does not add up, or is one count, stays one.
    for text in [
        "6 eggs: 4 to boil, 3 beaten for coating",
        "6 eggs, 2 of them beaten",
        "6 eggs, beaten",
    ] {
        assert_eq!(line(text).items[0].amounts[0].low, 6.0, "{text}");
    }
}

#[test]
fn the_mark_of_a_list_is_no_word_of_a_line() {
    for text in [
        "- 500 g plums",
        "  • 500 g plums ",
        "▢ 500 g plums",
        "500 g plums",
    ] {
        assert_eq!(line(text).bare(), "500 g plums", "{text}");
    }
    assert_eq!(line("- ½ tsp salt").bare(), "½ tsp salt");
}

/// A sugar mixed with spice for coating is set aside whole; the sugar of a dough beside another, its flour beside
/// what dusts, is not.
#[test]
fn what_is_mixed_for_coating_is_set_aside_together() {
    let purposes = |t: &str| -> Vec<Purpose> { line(t).items.iter().map(|i| i.purpose).collect() };
    for text in [
        "100g caster sugar and 2 tsp cinnamon, for coating",
        "100g caster sugar and 2 tsp cinnamon for dusting",
    ] {
        assert_eq!(purposes(text), [Purpose::Dusting; 2], "{text}");
    }
    assert_eq!(
        purposes("50 g sugar and 1 tsp cinnamon, for sprinkling"),
        [Purpose::Serving; 2]
    );
    for text in [
        "75 g caster sugar and 1 tbsp icing sugar, for dusting",
        "450 g flour and 1 tbsp semolina, for dusting",
    ] {
        assert_eq!(
            purposes(text),
            [Purpose::Formula, Purpose::Dusting],
            "{text}"
        );
    }
}

/// Barley malt is sold as a syrup and as a flour: asked about, taken for the syrup meanwhile, which nothing turns into a
/// flour. Said whole it is either.
#[test]
fn barley_malt_is_asked_about() {
    let food = |t: &str| {
        let l = line(t);
        let is = l.items[0].food.as_ref().expect("a food").food;
        (larder().food(is).key.clone(), l.doubts(DoubtCode::NameTie))
    };
    for (text, key, asked) in [
        ("2 tbsp barley malt", "malt_syrup", true),
        ("2 tbsp barley malt syrup", "malt_syrup", false),
        ("1 tsp barley malt flour", "malted_barley_flour", false),
    ] {
        assert_eq!(food(text), (key.to_owned(), asked), "{text}");
    }
}
