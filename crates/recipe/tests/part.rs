//! Recipes that take in recipes that take in others.

use larder::Larder;
use quantity::Locale;
use recipe::DoubtCode;
use recipe::sheet::{Change, LineKey, Part, PartUse, Sheet, SheetError, Worked, work};
use std::sync::LazyLock;

static LARDER: LazyLock<Larder> =
    LazyLock::new(|| Larder::built_in().expect("the built-in tables"));

const CURD: &str = "Lemon curd\n\n100 g lemon juice\n100 g sugar\n2 eggs\n50 g butter\n\nMethod\n1. Whisk all over a low heat until thick.\n2. Cool.\n";
const CREAM: &str = "Curd cream\n\n120 g lemon curd\n200 g whipping cream\n\nMethod\n1. Whip the cream.\n2. Fold the lemon curd into the cream.\n";
const CAKE: &str = "Layer cake\n\nSponge\n150 g plain flour\n150 g sugar\n150 g butter\n3 eggs\n\nTo assemble\nthe sponge\n250 g curd cream\n\nMethod\n1. Mix the sponge. Bake at 180 C for 25 minutes.\n2. Fill with the curd cream.\n";

fn sheet(text: &str, parts: &[(&str, &str)]) -> Sheet {
    let mut sheet = Sheet::new(text, Locale::Uk);
    sheet.parts = parts
        .iter()
        .map(|(uid, title)| PartUse {
            recipe: (*uid).to_owned(),
            version: 1,
            title: (*title).to_owned(),
        })
        .collect();
    sheet
}

fn worked(sheet: &Sheet, parts: &[Part]) -> Result<Worked, SheetError> {
    work(sheet, parts, &LARDER, &[])
}

fn cream() -> Part {
    Part {
        sheet: sheet(CREAM, &[("curd", "Lemon curd")]),
        parts: vec![sheet(CURD, &[]).into()],
    }
}

fn grams(w: &Worked, component: &str, line: &str) -> f64 {
    let c = w.rework.components.iter().find(|c| c.name == component);
    let lines = c.map_or(&[][..], |c| &c.lines);
    let line = lines.iter().find(|l| l.name.contains(line));
    let found = line.and_then(|l| l.grams);
    found.expect("a line with a weight").likely().as_grams()
}

/// What a question about the own text is answered from: the cake's two parts and two steps, numbered as there, none
/// of the four steps and two parts of the cream and the curd.
#[test]
fn a_recipe_stands_alone_without_what_it_takes_in() {
    let cake = sheet(CAKE, &[("cream", "Curd cream")]);
    let whole = worked(&cake, &[cream()]).expect("works").formula.recipe;
    assert_eq!((whole.components.len(), whole.steps.len()), (4, 6));
    let alone = whole.alone();
    let names: Vec<&str> = alone.components.iter().map(|c| &*c.name).collect();
    assert_eq!(names, ["sponge", "to assemble"]);
    let steps = alone.steps.iter().map(|s| (s.number, s.text.as_str()));
    assert_eq!(
        steps.collect::<Vec<_>>(),
        [
            (1, "Mix the sponge. Bake at 180 C for 25 minutes."),
            (2, "Fill with the curd cream.")
        ]
    );
    assert_eq!(alone.step_label(2), "2");
}

/// Worked by hand: 250 g of a cream that makes 320 g leave 70 g; its 120 g of the curd that makes
/// 350 g (two medium eggs are 100 g, USDA SR28 01123) leave 230 g.
#[test]
fn a_part_brings_what_it_takes_in() {
    let cake = sheet(CAKE, &[("cream", "Curd cream")]);
    let w = worked(&cake, &[cream()]).expect("works");
    let names: Vec<&str> = w.rework.components.iter().map(|c| &*c.name).collect();
    assert_eq!(names, ["sponge", "to assemble", "curd cream", "lemon curd"]);
    let left = |name: &str| {
        let c = w.rework.components.iter().find(|c| c.name == name);
        let left = c.and_then(|c| c.left).expect("something is left");
        left.likely().as_grams().round()
    };
    assert_eq!((left("curd cream"), left("lemon curd")), (70.0, 230.0));
    // What is made first stands first, and each step is numbered in its own method.
    let recipe = &w.formula.recipe;
    let steps: Vec<(usize, Option<&str>)> = recipe
        .steps
        .iter()
        .map(|s| recipe.step_in_method(s.number))
        .collect();
    let (curd, whipped) = (Some("Lemon curd"), Some("Curd cream"));
    assert_eq!(
        steps,
        [
            (1, curd),
            (2, curd),
            (1, whipped),
            (2, whipped),
            (1, None),
            (2, None)
        ]
    );
    // What the cream's method does to the curd is the cream's.
    let of = |step: usize| {
        recipe.steps[step]
            .component
            .map(|c| &*recipe.components[c].name)
    };
    assert_eq!((of(0), of(3)), (Some("lemon curd"), Some("curd cream")));
}

/// A part's decisions on what it takes in go along; this recipe's own stand over them.
#[test]
fn decisions_are_carried_at_every_level() {
    let weighed = |component: &str, text: &str, grams: f64| Change::Grams {
        line: LineKey {
            component: component.to_owned(),
            text: text.to_owned(),
            nth: 0,
        },
        place: 0,
        grams: Some(grams),
    };
    let mut inner = cream();
    let change = weighed("lemon curd", "2 eggs", 90.0);
    inner.sheet.change(&change).expect("a change");
    let mut cake = sheet(CAKE, &[("cream", "Curd cream")]);
    let w = worked(&cake, &[inner.clone()]).expect("works");
    assert_eq!(grams(&w, "lemon curd", "egg"), 90.0);
    cake.change(&weighed("lemon curd", "2 eggs", 95.0))
        .expect("a change");
    let w = worked(&cake, &[inner]).expect("works");
    assert_eq!(grams(&w, "lemon curd", "egg"), 95.0);
    assert!(w.stale.is_empty());
}

/// The same curd in two parts is made twice: each keeps its own, whatever it is called.
#[test]
fn each_part_uses_its_own() {
    let text = CAKE.replace("250 g curd cream", "250 g curd cream\n50 g lemon curd");
    let cake = sheet(&text, &[("curd", "Lemon curd"), ("cream", "Curd cream")]);
    let doubled = CURD.replace("100 g sugar", "120 g sugar");
    let w = worked(&cake, &[sheet(&doubled, &[]).into(), cream()]).expect("works");
    assert_eq!(grams(&w, "lemon curd", "sugar"), 120.0);
    assert_eq!(grams(&w, "lemon curd 2", "sugar"), 100.0);
    assert_eq!(grams(&w, "curd cream", "curd"), 120.0);
    let used = |name: &str| {
        let c = w.rework.components.iter().find(|c| c.name == name);
        c.and_then(|c| c.used)
            .expect("used")
            .likely()
            .as_grams()
            .round()
    };
    assert_eq!((used("lemon curd"), used("lemon curd 2")), (50.0, 120.0));
}

#[test]
fn what_is_missing_or_made_of_itself_is_said() {
    let cake = sheet(CAKE, &[("cream", "Curd cream")]);
    let bare = Part {
        parts: Vec::new(),
        ..cream()
    };
    let said = worked(&cake, &[bare]).expect_err("a part is missing");
    assert!(
        said.to_string()
            .contains("'Lemon curd', version 1: it is no longer in the kitchen")
    );
    let mut ring = cream();
    ring.parts[0].sheet.parts = vec![PartUse {
        recipe: "cream".to_owned(),
        version: 1,
        title: "Curd cream".to_owned(),
    }];
    let said = worked(&cake, &[ring]).expect_err("a ring");
    assert!(
        matches!(&said, SheetError::PartRing { title } if title == "Curd cream"),
        "{said:?}"
    );
    let mut broken = cream();
    broken.parts[0].sheet.text = String::new();
    let said = worked(&cake, &[broken]).expect_err("a part without text");
    assert!(
        matches!(&said, SheetError::Part { title, .. } if title == "Lemon curd"),
        "{said:?}"
    );
}

/// A line that names a part is that part: nobody is asked what food it may be.
#[test]
fn a_line_that_names_a_part_asks_nothing() {
    for (text, grams) in [
        (
            "Filled rolls\n\n250 g house bun dough\n80 g cheddar\n",
            250.0,
        ),
        (
            "Filled rolls\n\nall of the house bun dough\n80 g cheddar\n",
            800.0,
        ),
        (
            "Filled rolls\n\n80 g cheddar and 250 g house bun dough\n",
            250.0,
        ),
    ] {
        let rolls = sheet(text, &[("dough", "House bun dough")]);
        let dough = sheet("House bun dough\n\n500 g plain flour\n300 g water\n", &[]);
        let alone = worked(&sheet(text, &[]), &[]).expect("works");
        let w = worked(&rolls, &[dough.into()]).expect("works");
        let own = &w.formula.components[0];
        let used = own.items.iter().find(|i| i.component == Some(1));
        let weight = used.and_then(|i| i.grams).expect("it is used").likely();
        assert!((weight.as_grams() - grams).abs() < 1e-6, "{text}");
        let asked = |w: &Worked| {
            let lines = w.formula.recipe.components[0].lines.iter();
            lines
                .flat_map(|l| &l.doubts)
                .chain(w.formula.doubts.iter().map(|d| &d.2))
                .filter(|d| d.code != DoubtCode::TwoOnLine)
                .count()
        };
        assert_eq!(asked(&w), 0, "{text}");
        assert!(
            asked(&alone) > 0,
            "without the part it is asked about: {text}"
        );
    }
}

const CASE: &str = "Base Shortcrust\n\nFor the shortcrust\n250 g plain flour\n125 g cold butter\n50 g water\n\nMethod\n1. Rub in the butter, bring together with the water. Chill 30 minutes.\n";

/// A quantity of what is taken in is all that it makes, 250 + 125 + 50 g; half of one is half.
#[test]
fn a_quantity_of_a_part_is_all_it_makes() {
    let tart = |amount: &str| {
        let text = format!(
            "Plum tart\n\n{amount} shortcrust\n500 g plums, halved\n50 g sugar\n\nMethod\n1. Line a 23 cm tart tin with the shortcrust. Fill with plums and sugar and bake 40 minutes at 190 C.\n"
        );
        let w = worked(
            &sheet(&text, &[("case", "Base Shortcrust")]),
            &[sheet(CASE, &[]).into()],
        );
        w.expect("works")
    };
    for (amount, want) in [
        ("1 quantity", 1.0),
        ("½ quantity", 0.5),
        ("2 batches", 2.0),
        ("1 recipe", 1.0),
    ] {
        let w = tart(amount);
        let all = w.formula.components.iter().find(|c| c.name == "shortcrust");
        let all = all.expect("the part").makes.likely().as_grams();
        assert!((all - 425.0).abs() < 1.0, "{all}");
        let line = w.formula.components[0]
            .items
            .iter()
            .find(|i| i.component.is_some());
        let got = line
            .and_then(|i| i.grams)
            .expect(amount)
            .likely()
            .as_grams();
        assert!((got - want * all).abs() < 1.0, "{amount}: {got}");
        let first = &w.formula.recipe.components[0].lines[0];
        assert!(
            !first.found(DoubtCode::LooseMeasure),
            "{amount}: {:?}",
            first.doubts
        );
    }
    // A knob of it is not all of it.
    let w = tart("1 knob");
    let line = w.formula.components[0]
        .items
        .iter()
        .find(|i| i.component.is_some());
    assert!(line.is_none_or(|i| i.grams.is_none()));
    assert!(w.formula.recipe.components[0].lines[0].found(DoubtCode::LooseMeasure));
}
