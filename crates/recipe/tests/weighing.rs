//! `checks/weighing.tsv`: household weights, units and water of formulas against what others
//! published.

mod common;

use common::larder;
use quantity::{Hold, Locale, Mass, Spread, Unit};
use recipe::read::Reader;
use recipe::rework::Balance;
use recipe::{DoubtCode, weigh};
use std::str::FromStr;

const TABLE: &str = include_str!("../../../checks/weighing.tsv");

/// A row of the table.
#[derive(Debug)]
struct Row<'a> {
    id: &'a str,
    input: &'a str,
    locale: Locale,
    expected: f64,
    unit: &'a str,
    /// `None` where only the range must hold the value.
    tolerance: Option<f64>,
}

fn table() -> Vec<Row<'static>> {
    let mut lines = TABLE.lines().filter(|l| !l.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap_or_default().split('\t').collect();
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split('\t').collect();
            assert_eq!(cells.len(), header.len(), "{line}");
            let at = |column: &str| -> &'static str {
                let place = header.iter().position(|h| *h == column);
                cells[place.expect("a column of the table")]
            };
            let number = |cell: &str| -> f64 { cell.parse().expect("a number") };
            let expected = number(at("expected"));
            for column in ["source", "status", "tolerance_reason", "retrieved"] {
                assert!(!at(column).is_empty(), "{line}: {column} is empty");
            }
            Row {
                id: at("id"),
                input: at("input"),
                locale: Locale::from_str(at("locale")).expect("a locale"),
                expected,
                unit: at("unit"),
                tolerance: match at("tolerance") {
                    "range" => None,
                    cell => Some(match cell.strip_suffix('%') {
                        Some(share) => number(share) / 100.0 * expected,
                        None => number(cell),
                    }),
                },
            }
        })
        .collect()
}

/// Grams of a line, all its items together.
fn grams(line: &str, locale: Locale) -> Option<f64> {
    let read = Reader::new(larder(), locale).line(line);
    let (weighed, _) = weigh::line(&read, larder(), locale);
    let all: Option<Vec<Spread<Mass>>> = weighed.iter().map(|w| w.grams).collect();
    all.filter(|all| !all.is_empty())
        .map(|all| all.iter().map(|g| g.likely().as_grams()).sum())
}

/// A formula written on one line, lines parted by ';'.
fn formula(text: &str, locale: Locale) -> weigh::Formula {
    let text = format!("Check\n\nIngredients\n{}\n", text.replace("; ", "\n"));
    let recipe = recipe::read::recipe(&text, &Reader::new(larder(), locale)).expect("a recipe");
    weigh::formula(recipe, larder(), locale).expect("a formula")
}

/// The same formula as foods and grams.
fn balance(text: &str, locale: Locale) -> Balance {
    let lines: Vec<_> = formula(text, locale)
        .components
        .iter()
        .flat_map(|c| &c.items)
        .filter_map(|w| Some((w.food?, w.grams?)))
        .collect();
    Balance::of(&lines, larder())
}

/// What the library says of a row.
fn found(row: &Row<'_>) -> Option<f64> {
    let component = || formula(row.input, row.locale).components.into_iter().next();
    match row.unit {
        "g" => grams(row.input, row.locale),
        "mL" | "g each" => match Unit::from_code(row.input)?.hold(row.locale) {
            Hold::Volume(v) if row.unit == "mL" => Some(v.likely().as_millilitres()),
            Hold::Mass(m) if row.unit == "g each" => Some(m.as_grams()),
            _ => None,
        },
        "g water per 100 g" => {
            let food = larder().find(row.input, row.locale)?.food;
            larder().composition(food).water
        }
        "g water" => Some(component()?.water.likely().as_grams()),
        "% hydration" => {
            let weighed = component()?.hydration?.likely().get();
            // The balance that a rework starts from must say the same.
            let other = balance(row.input, row.locale).hydration?.likely().get();
            assert!(
                (weighed - other).abs() < 1e-6,
                "{}: {weighed}, {other}",
                row.id
            );
            Some(weighed)
        }
        // Per 100 g of flour, so percent is grams.
        "g as dry yeast" => Some(balance(row.input, row.locale).yeast),
        _ => None,
    }
}

#[test]
fn published_weights_come_out() {
    let mut wrong = Vec::new();
    for row in table() {
        // 'range' is looked at in its own test.
        let Some(tolerance) = row.tolerance else {
            continue;
        };
        match found(&row) {
            Some(got) if (got - row.expected).abs() <= tolerance => {}
            got => wrong.push(format!(
                "{}: {} ({}) is {got:?}, not {} {} ± {:.3}",
                row.id,
                row.input,
                row.locale.key(),
                row.expected,
                row.unit,
                tolerance
            )),
        }
    }
    assert!(
        wrong.is_empty(),
        "{} rows:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// The table is as large as it says, and no row stands twice.
#[test]
fn the_table_is_whole() {
    let rows = table();
    let usda = rows.iter().filter(|r| r.id.starts_with("sr28_")).count();
    assert!(usda >= 60, "{usda} household weights of the USDA");
    let mut ids: Vec<&str> = rows.iter().map(|r| r.id).collect();
    ids.sort_unstable();
    let all = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), all, "an id stands twice");
}

/// A weight from a cup or a piece says how sure it is: its range holds the published figure.
#[test]
fn the_range_holds_the_published_weight() {
    for row in table().iter().filter(|r| r.id.starts_with("sr28_")) {
        let read = Reader::new(larder(), row.locale).line(row.input);
        let (weighed, _) = weigh::line(&read, larder(), row.locale);
        let Some(g) = weighed.first().and_then(|w| w.grams) else {
            continue;
        };
        let (low, high) = (g.low().as_grams(), g.high().as_grams());
        assert!(
            low - 0.06 - 0.005 * low <= row.expected && row.expected <= high * 1.005 + 0.06,
            "{}: {} g is not in {low}–{high}",
            row.input,
            row.expected
        );
    }
}

/// Worked by hand: boiled potato is 77.5 % water (USDA SR28 11367), so 200 g bring 155 g; with 120 g of
/// water that is 275 g over 500 g of flour.
#[test]
fn the_water_of_mash_counts() {
    let text =
        "Bread\n\n500 g strong flour\n200 g mashed potato\n120 g water\n\nMethod\n1. Knead.\n";
    let hydration = formula(text, Locale::Uk).components[0].hydration;
    let got = hydration.expect("flour").likely().get();
    assert!((got - 55.0).abs() < 0.1, "{got}");
}

#[test]
fn gnocchi_get_no_water() {
    for line in ["1 kg floury potatoes", "1 kg mashed potato"] {
        let text = format!(
            "Gnocchi\n\n{line}\n250 g plain flour\n1 egg\n\nMethod\n1. Boil the potatoes, peel and mash. Mix in flour and egg.\n2. Roll into ropes, cut and boil.\n"
        );
        let options = recipe::rework::Options::default();
        let all = recipe::rework::rework(formula(&text, Locale::Uk), larder(), &options);
        let water = |l: &&recipe::rework::ReworkedLine| l.name == "water";
        let lines = &all.components[0].lines;
        assert!(lines.iter().any(|l| l.blend), "{line}: {lines:#?}");
        assert!(!lines.iter().any(|l| water(&l)), "{line}: {lines:#?}");
    }
}

/// A verb rests on the vegetable that its sentence names, or the last one before it.
#[test]
fn what_is_mashed_is_named_with_it() {
    let rests = |step: &str| {
        let text = format!(
            "Patties\n\n800 g potatoes\n250 g plain flour\n100 g butter\n1 orange\n80 ml water\n\nMethod\n1. {step}\n2. Bake at 200 C for 40 minutes.\n"
        );
        let options = recipe::rework::Options::default();
        let all = recipe::rework::rework(formula(&text, Locale::Uk), larder(), &options);
        let style = all.components[0].style.expect("a style").style;
        style.key() == "potato_dough"
    };
    for step in [
        "Boil the potatoes. Drain and mash until smooth. Stir in the flour.",
        "Grate the potatoes and stir in the flour.",
        "Press the potatoes through a ricer, add the flour.",
    ] {
        assert!(rests(step), "{step}");
    }
    for step in [
        "Grate the butter into the flour. Dice the potatoes.",
        "Grate the orange zest over the diced potatoes.",
        "Dice the potatoes. Heat the oven; stand the tin on a grate of iron by the butter.",
        "Add the water. Dice the potatoes and serve with rice.",
    ] {
        assert!(!rests(step), "{step}");
    }
}

/// As much above the rim as below it: about twice a level spoon, and the range knows that hands differ
/// (common practice, no source).
#[test]
fn a_heaped_spoon_is_about_two_level_ones() {
    for food in ["plain flour", "cocoa", "caster sugar"] {
        let of = |how: &str| {
            let text = format!("1 {how} tbsp {food}");
            formula(&text, Locale::Uk).components[0].items[0]
                .grams
                .expect("grams")
        };
        let (level, heaped) = (of("level"), of("heaped"));
        let times = heaped.likely().as_grams() / level.likely().as_grams();
        assert!((1.8..=2.2).contains(&times), "{food}: {times}");
        assert!(
            heaped.high().as_grams() > 2.0 * level.high().as_grams(),
            "{food}"
        );
        assert!(heaped.low().as_grams() > level.low().as_grams(), "{food}");
    }
}

/// What brackets say in two parts is one amount said again: 286 g of milk is 286 g, and 1 cup with 3 tbsp of 244 g and
/// 15.25 g (SR28 01077) is 290 g.
#[test]
fn a_twin_in_two_parts_is_one_amount() {
    for (line, grams) in [
        ("286 g (1 cup plus 3 tablespoons) whole milk", 286.0),
        ("286 g (1 cup + 3 tablespoons) whole milk", 286.0),
        ("whole milk (1 cup plus 3 tablespoons)", 289.75),
        ("1 cup plus 3 tablespoons (286 g) whole milk", 286.0),
    ] {
        let f = formula(line, Locale::Us);
        let got = f.components[0].items[0]
            .grams
            .expect(line)
            .likely()
            .as_grams();
        assert!((got / grams - 1.0).abs() < 0.01, "{line}: {got}");
        let doubts = &f.recipe.components[0].lines[0].doubts;
        assert_eq!(doubts, &[], "{line}");
    }
}

/// What comes off a bake of the recipe is that bake's: not bought buns of wheat, and unweighed until its grams are
/// said. 'The buns' of '50 g of the buns' are those made here too.
#[test]
fn what_comes_off_a_bake_is_of_that_bake() {
    let of = |line: &str| {
        let text = format!(
            "For the buns\n300 g strong white flour\n180 ml milk\n40 g butter\n\nFor the filling\n300 ml double cream\n{line}\n\nMethod\n1. Knead and bake.\n"
        );
        let f = formula(&text, Locale::Uk);
        let item = f.components[1].items[1].clone();
        let mut doubts = f.recipe.components[1].lines[1].doubts.iter();
        let asked = doubts.any(|d| d.code == recipe::DoubtCode::NoAmount);
        (
            item.component,
            item.food,
            item.grams.map(|g| g.likely().as_grams()),
            asked,
        )
    };
    for line in [
        "Crumbs from the buns",
        "the cut-off tops of the buns",
        "Trimmings of the buns above",
    ] {
        assert_eq!(of(line), (Some(0), None, None, true), "{line}");
    }
    let weighed = "50 g crumbs from the buns";
    assert_eq!(of(weighed), (Some(0), None, Some(50.0), false));
    for line in ["50 g of the buns, crumbled", "50 g of the buns"] {
        assert_eq!(of(line), (Some(0), None, Some(50.0), false), "{line}");
    }
    // Bread of no part here is bought.
    for line in [
        "50 g crumbs from the loaf",
        "50 g white breadcrumbs",
        "seeds for tops of the buns",
    ] {
        assert_eq!(of(line).0, None, "{line}");
    }
}

/// Cheddar is 37.0 % water (SR28 01009 as the larder has it): 30 g hold 11 g, which the hydration of a crumb does
/// not count, and says so.
#[test]
fn water_that_is_not_counted_is_named() {
    let text = |cheese: &str| format!("Streusel\n\n30 g plain flour\n25 g butter\n{cheese}");
    let words = |cheese: &str| {
        let reader = Reader::new(larder(), Locale::Uk);
        let read = recipe::read::recipe(&text(cheese), &reader).expect("a recipe");
        let formula = weigh::formula(read, larder(), Locale::Uk).expect("a formula");
        formula.components[0].water_words(larder())
    };
    let said = words("30 g cheddar\n");
    assert!(
        said.ends_with("water not counted: 11 g in cheddar"),
        "{said}"
    );
    assert!(words("").starts_with("all water counted"));
}

/// 85 g of unsalted butter hold 17.94 % water (SR28 01145), 15.25 g, and 81.11 % fat, 68.94 g, of which none is lost.
/// As brown butter of 96.5 % fat and 2 % water they are 71.4 g with 1.43 g of water: 13.82 g, 6.1 % of 225 g of flour,
/// boil off.
#[test]
fn browned_butter_brings_no_water() {
    let weighed = |butter: &str, method: &str| {
        let text = format!(
            "Cake\n\n225 g plain flour\n{butter}\n150 g sugar\n2 eggs\n120 ml milk\n\nMethod\n1. {method}\n2. Beat in the sugar, eggs and milk, fold in the flour and bake at 180 C for 40 minutes.\n"
        );
        let reader = Reader::new(larder(), Locale::Uk);
        let read = recipe::read::recipe(&text, &reader).expect("a recipe");
        weigh::formula(read, larder(), Locale::Uk).expect("a formula")
    };
    let figures = |butter: &str, method: &str| {
        let formula = weighed(butter, method);
        let part = &formula.components[0];
        let words = part.water_words(larder());
        let wet = part.hydration.expect("flour").likely().get();
        let done = recipe::rework::rework(formula, larder(), &recipe::rework::Options::default());
        let c = &done.components[0];
        let before = c.original.hydration.expect("flour").likely().get();
        assert!((before - wet).abs() < 1e-9, "Weigh {wet}, Rework {before}");
        (wet, c.original.fat, words, c.water_left_out(larder()))
    };
    let (raw, fat, words, none) = figures("85 g unsalted butter", "Melt the butter.");
    assert!(words.starts_with("all water counted") && none.is_none());
    for (butter, method) in [
        (
            "85 g unsalted butter",
            "Brown the butter in a small pan and cool it.",
        ),
        (
            "85 g unsalted butter, browned and cooled",
            "Take the butter.",
        ),
    ] {
        let (wet, brown_fat, words, said) = figures(butter, method);
        let less = 100.0 * 13.82 / 225.0;
        assert!((raw - wet - less).abs() < 0.01, "{raw} − {wet} is {less}");
        assert!((brown_fat - fat).abs() < 1e-9, "{brown_fat} is {fat}");
        let told = "14 g of the butter, which boils off as it browns (water of butter: USDA SR28";
        assert!(words.contains(told), "{words}");
        assert!(said.expect("said").contains(told));
    }
    let fried = figures(
        "85 g unsalted butter",
        "Melt butter, fry the eggs until brown.",
    );
    assert!((fried.0 - raw).abs() < 1e-9);
    // Of half of it nobody knows how much water is left: it counts as it is listed.
    let half = figures("85 g unsalted butter", "Brown half of the butter.");
    assert!((half.0 - raw).abs() < 1e-9);
}

/// Plums are 6 % stones, apples 10 % core, bananas 36 % skin, butternut 16 % skin and seeds (SR28 refuse).
#[test]
fn a_weight_with_its_peeling_behind_it_is_a_range() {
    let read = |text: &str| {
        let line = Reader::new(larder(), Locale::Us).line(text);
        let (all, doubts) = weigh::line(&line, larder(), Locale::Us);
        let grams = all[0].grams.expect(text);
        let asked = doubts.iter().any(|d| d.code == DoubtCode::WeightAsBought);
        let g = |m: Mass| m.as_grams().round();
        (g(grams.low()), g(grams.likely()), asked)
    };
    for (text, low, likely) in [
        ("680 g plums, pitted", 639.0, 680.0),
        ("500 g plums (about 8), stoned and quartered", 470.0, 500.0),
        ("400 g apples, peeled and cored", 360.0, 400.0),
        ("500 g bananas, peeled", 320.0, 500.0),
        ("600 g butternut squash, peeled and cubed", 504.0, 600.0),
    ] {
        assert_eq!(read(text), (low, likely, true), "{text}");
    }
    for text in [
        "680 g pitted plums",
        "500 g plums, pitted weight",
        "400 g apples (weighed after peeling), peeled and cored",
        "500 g strawberries, hulled",
        "400 g apples, chopped",
        "500 g figs, peeled",
    ] {
        let (low, likely, asked) = read(text);
        assert!(!asked && (low - likely).abs() < 1e-9, "{text}");
    }
}
