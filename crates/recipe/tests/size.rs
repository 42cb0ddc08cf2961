//! A reworked recipe at a size: the arithmetic of batches.

mod common;
#[path = "size/egg.rs"]
mod egg;
#[path = "size/over.rs"]
mod over;
#[path = "size/pan.rs"]
mod pan;
#[path = "size/piece.rs"]
mod piece;
#[path = "size/shape.rs"]
mod shape;

use common::larder;
use proptest::prelude::*;
use quantity::household::ERROR;
use quantity::{Locale, Mass, Spread};
use recipe::household::{Drawer, Scale};
use recipe::rework::Rework;
use recipe::sheet::{PartUse, Sheet, Worked, work};
use recipe::size::{
    Ask, Batch, BatchComponent, Have, Pans, PartSize, Pieces, SizeError, Target, size,
};
use std::sync::LazyLock;

fn worked(text: &str) -> Worked {
    let sheet = Sheet::new(text, Locale::Us);
    work(&sheet, &[], larder(), &[]).expect("worked")
}

fn buns() -> &'static Worked {
    static BUNS_WORKED: LazyLock<Worked> = LazyLock::new(|| worked(BUNS));
    &BUNS_WORKED
}

#[track_caller]
fn sized(w: &Worked, ask: impl Into<Ask>) -> Batch {
    size(&w.rework, &ask.into(), larder()).expect("a batch")
}

#[track_caller]
fn refused(w: &Worked, ask: impl Into<Ask>) -> SizeError {
    size(&w.rework, &ask.into(), larder()).expect_err("cannot be had")
}

#[track_caller]
fn part<'b>(batch: &'b Batch, name: &str) -> &'b BatchComponent {
    let found = batch.components.iter().find(|c| c.name == name);
    found.expect(name)
}

fn makes(c: &BatchComponent) -> f64 {
    c.makes.likely().as_grams()
}

#[track_caller]
fn near(got: f64, want: f64, off: f64) {
    assert!((got - want).abs() <= off, "{got} is not {want} ± {off}");
}

const BUNS: &str = "Filled buns\n\nMakes 12 buns\n\nFor the dough:\n500 g bread flour\n240 g whole milk\n2 large eggs\n80 g unsalted butter\n7 g instant yeast\n8 g salt\n\nFor the crumbs:\n100 g plain flour\n50 g butter\n50 g sugar\n\nFor the filling:\n200 g cream cheese\n60 g sugar\n100 g of the crumbs\n";

fn grams(batch: &Batch) -> Vec<f64> {
    let lines = batch.components.iter().flat_map(|c| &c.lines);
    lines
        .filter_map(|l| Some(l.grams?.likely().as_grams()))
        .collect()
}

#[test]
fn without_an_ask_a_batch_is_the_rework_itself() {
    let w = buns();
    assert!(w.batch.is_plain() && w.batch.cautions.is_empty());
    for (c, r) in w.batch.components.iter().zip(&w.rework.components) {
        assert_eq!(
            (c.factor, c.makes, c.used, c.left),
            (1.0, r.makes, r.used, r.left)
        );
        for line in &c.lines {
            assert_eq!(line.grams, r.lines[line.at].grams, "{}", line.name);
        }
    }
}

/// Scaling is multiplication: × 2 then × 3 is × 6.
#[test]
fn scaling_composes() {
    let six = sized(buns(), Ask::times(6.0));
    let two = sized(buns(), Ask::times(2.0));
    for (a, b) in grams(&six).iter().zip(grams(&two)) {
        near(*a, 3.0 * b, 1e-9);
    }
}

#[test]
fn what_is_made_is_used_or_left() {
    let batch = sized(buns(), Ask::times(2.5));
    let crumbs = part(&batch, "crumbs");
    let (used, left) = (crumbs.used.expect("used"), crumbs.left.expect("left"));
    assert_eq!(used.likely(), Mass::grams(250.0));
    near(
        (used.likely() + left.likely()).as_grams(),
        makes(crumbs),
        1e-9,
    );
    let keeping = crumbs.keeping.expect("how the rest keeps");
    assert!(keeping.text.contains("freeze"), "{}", keeping.text);
}

/// A rework of one component whose lines weigh what a published formula says, in percent of 100 g
/// of flour; the first `flours` of them are the flour.
fn formula(percents: &[f64], flours: usize) -> Rework {
    let lines: String = (0..percents.len())
        .map(|i| {
            format!(
                "{} g {}\n",
                10 + i,
                ["rice flour", "water", "salt", "sugar", "yeast", "milk"][i]
            )
        })
        .collect();
    let mut rework = worked(&format!("Loaf\n\n{lines}")).rework;
    let c = &mut rework.components[0];
    let one = c.lines[0].clone();
    let grams = |g: f64| Spread::exact(Mass::grams(g));
    c.lines = percents
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let mut line = one.clone();
            line.key = format!("line {i}");
            line.grams = Some(grams(*p));
            line
        })
        .collect();
    c.makes = grams(percents.iter().sum());
    c.reworked.flour = grams(percents[..flours].iter().sum());
    rework
}

fn line_grams(rework: &Rework, target: Target) -> (Vec<f64>, f64) {
    let batch = size(rework, &target.into(), larder()).expect("a batch");
    (grams(&batch), makes(&batch.components[0]))
}

/// B06: a public baker's-percentage tutorial, part 3, example 1, answers: flours 50 + 20 + 30 %,
/// water 70 %, yeast 1.5 %, salt 2 % make 173.5 %; in 1,400 g of dough the flours are 403.5, 161.4
/// and 242.1 g (806.9, printed 807), water 564.8, yeast 12.1, salt 16.1.
#[test]
fn a_dough_weight_gives_every_line_by_the_sum_of_percents() {
    let rework = formula(&[50.0, 20.0, 30.0, 70.0, 1.5, 2.0], 3);
    let (lines, dough) = line_grams(&rework, Target::Makes(1400.0));
    near(dough, 1400.0, 1e-9);
    for (got, want) in lines.iter().zip([403.5, 161.4, 242.1, 564.8, 12.1, 16.1]) {
        near(*got, want, 0.1);
    }
    near(lines[..3].iter().sum(), 806.9, 0.05);
    // The same from the flour.
    let (lines, dough) = line_grams(&rework, Target::Flour(806.916_426_512_968));
    near(dough, 1400.0, 1e-6);
    near(lines[3], 564.8, 0.1);
}

/// B07, the same tutorial, example 2: 163 % in all, of which milk 10 %; 50 g of milk make 815 g of
/// dough from 500 g of flour.
#[test]
fn a_line_gives_the_dough() {
    let rework = formula(&[100.0, 10.0, 53.0], 1);
    let target = Target::Line {
        line: "line 1".to_owned(),
        grams: 50.0,
    };
    let (lines, dough) = line_grams(&rework, target);
    near(lines[0], 500.0, 1e-9);
    near(dough, 815.0, 1e-9);
}

/// B08, a bakers' math slide set: 40 lb of flour with salt 1.75, sugar 2, yeast 0.375 and water
/// 58 %: 162.125 % in all, salt 0.70 lb = 11.2 oz.
#[test]
fn a_flour_weight_gives_the_salt() {
    let rework = formula(&[100.0, 1.75, 2.0, 0.375, 58.0], 1);
    let flour = Mass::pounds(40.0).as_grams();
    let (lines, dough) = line_grams(&rework, Target::Flour(flour));
    near(lines[1], Mass::ounces(11.2).as_grams(), 1e-6);
    near(dough / flour, 1.62125, 1e-9);
}

const CAKE: &str = "Tea cake\n\nServes 8 to 10\n\n200 g plain flour\n180 g butter\n180 g sugar\n3 large eggs\n8 g baking powder\n60 g milk\n";

/// H04: 600 g at 1.10 g/mL on 30 × 40 cm are 4.545 mm thick, and the reverse.
#[test]
fn a_sheet_by_its_measures() {
    let w = worked("Sugar paste\n\n500 g white sugar\n100 g water\n");
    let ask = Target::Sheet {
        long: 40.0,
        wide: 30.0,
        thick: 600.0 / (1.10 * 40.0 * 30.0) * 10.0,
        typed: String::new(),
    };
    let batch = sized(&w, ask);
    near(makes(&batch.components[0]), 600.0, 1e-6);
    near(batch.factor, 1.0, 1e-9);
}

/// Worked by hand: 800 g of dough are taken for 10 knots, 800 ÷ 10 ÷ 1.02 = 78.4 g of it in each, and
/// with 160 g of the rest a knot weighs 96 g; 394 g of dough are left over.
#[test]
fn pieces_of_a_dough_that_another_part_takes() {
    let part = Sheet::new(
        include_str!("../../unwheat/demo/soft-dough.txt"),
        Locale::Uk,
    );
    let mut knots = Sheet::new(
        include_str!("../../unwheat/demo/chive-knots.txt"),
        Locale::Uk,
    );
    knots.parts.push(PartUse {
        recipe: "soft".to_owned(),
        version: 1,
        title: "House soft dough".to_owned(),
    });
    let w = work(&knots, &[part.into()], larder(), &[]).expect("worked");
    let batch = sized(&w, Ask::times(1.0));
    let pieces = batch.pieces.expect("ten of them");
    near(pieces.count, 10.0, 1e-9);
    near(pieces.each.as_grams(), 800.0 / 10.0 / 1.02, 0.01);
    let whole = pieces.whole.expect("with cheese and chives");
    near(whole.raw.likely().as_grams(), 96.0, 0.1);
    // Twelve at 80 g of dough: 979 g of it.
    let ask = Target::Pieces(Pieces {
        count: Some(12.0),
        each: Some(80.0),
        baked: false,
    });
    let batch = sized(&w, ask);
    near(batch.pieces.expect("twelve").count, 12.0, 1e-9);
    near(batch.factor, 12.0 * 80.0 * 1.02 / 800.0, 1e-6);
}

/// What is left of raw meat or fish, or of what nobody knows, does not keep a week.
#[test]
fn what_spoils_or_is_not_known_is_not_said_to_keep() {
    let kept = |line: &str| {
        let text = format!(
            "Tart\n\nFor the filling:\n{line}\n50 g onion\n\nFor the dough:\n200 g flour\n100 g butter\n100 g filling\n"
        );
        let w = worked(&text);
        let batch = sized(&w, Ask::times(2.0));
        let filling = batch.components.iter().find(|c| c.name == "filling");
        let keeping = filling.expect("a filling").keeping;
        keeping.expect("something is left").text
    };
    for line in ["300 g salmon", "300 g minced beef"] {
        assert!(kept(line).starts_with("With meat or fish"), "{line}");
    }
    assert!(kept("300 g zabble paste").starts_with("Not everything in it is known"));
    assert!(kept("300 g cream cheese").starts_with("With egg or milk"));
    assert!(kept("300 g apple").contains("within a week"));
}

/// A line without a weight is said at the recipe's own size too: the whole is weighed without it.
#[test]
fn a_line_without_a_weight_is_always_said() {
    let w = worked("Cake\n\n200 g flour\nsome zabble sugar\n");
    let batch = sized(&w, Ask::times(1.0));
    let said = batch.cautions.iter().any(|c| c.code == "unweighed");
    assert!(said, "{:?}", batch.cautions);
}

#[test]
fn a_sheet_is_typed_with_or_without_a_comma() {
    let sheet = Ask::from(Target::Sheet {
        long: 1.0,
        wide: 1.0,
        thick: 5.0,
        typed: String::new(),
    });
    let typed = |words: &str| {
        let ask = sheet.typed(words, larder(), Locale::Us, &[]);
        ask.expect("a sheet").expect("an ask").target
    };
    let with = typed("40 x 30 cm, 6 mm");
    for words in [
        "40x30cm 6mm",
        "40 x 30 cm at 6 mm",
        "40 x 30 cm, 6 mm thick",
    ] {
        assert_eq!(typed(words), with, "{words}");
    }
    assert_eq!(typed("40 x 30 cm 6 mm"), with);
    assert!(sheet.typed("40", larder(), Locale::Us, &[]).is_err());
}

/// R18.2: 12 pieces of 60 g need 12 × 60 × 1.02 = 734.4 g; of 60 g baked, at the style's loss,
/// 12 × 60 ÷ (1 − loss) × 1.02.
#[test]
fn pieces_need_what_they_weigh_and_what_stays_behind() {
    let pieces = |baked| {
        Target::Pieces(Pieces {
            count: Some(12.0),
            each: Some(60.0),
            baked,
        })
    };
    let batch = sized(buns(), pieces(false));
    near(makes(part(&batch, "dough")), 734.4, 1e-6);
    let found = batch.pieces.expect("pieces");
    assert_eq!((found.count, found.each), (12.0, Mass::grams(60.0)));
    near(found.over.as_grams(), 0.0, 1e-6);
    let baked = sized(buns(), pieces(true));
    let style = buns().rework.components[0].style.expect("a style").style;
    let loss = style
        .range("bake_loss")
        .expect("a loss")
        .value
        .likely()
        .get();
    near(
        makes(part(&baked, "dough")),
        734.4 / (1.0 - loss / 100.0),
        1e-6,
    );
    near(
        baked
            .pieces
            .expect("pieces")
            .baked
            .expect("a loss")
            .likely()
            .as_grams(),
        60.0,
        1e-6,
    );
    // By the recipe's own count.
    let eighteen = sized(
        buns(),
        Target::Pieces(Pieces {
            count: Some(18.0),
            ..Pieces::default()
        }),
    );
    near(eighteen.factor, 1.5, 1e-12);
}

#[test]
fn as_many_pieces_as_there_is_dough_for() {
    let each = |g| {
        Target::Pieces(Pieces {
            each: Some(g),
            ..Pieces::default()
        })
    };
    let batch = sized(buns(), each(70.0));
    let dough = makes(part(&batch, "dough"));
    let found = batch.pieces.expect("pieces");
    assert_eq!(batch.factor, 1.0);
    assert_eq!(found.count, (dough / 71.4).floor());
    assert!(found.over.as_grams() < 71.4);
    let error = refused(buns(), each(5000.0));
    assert!(matches!(error, SizeError::PieceTooHeavy { .. }));
    assert!(error.to_string().contains("more than all of the dough"));
}

#[test]
fn servings_by_what_the_recipe_serves() {
    let batch = sized(&worked(CAKE), Target::Servings(18.0));
    near(batch.factor, 2.0, 1e-12);
    let (low, high) = batch.range.expect("8 to 10 is a range");
    near(low, 1.8, 1e-12);
    near(high, 2.25, 1e-12);
    let error = refused(
        &worked("Loaf\n\n500 g flour\n300 g water\n"),
        Target::Servings(4.0),
    );
    assert!(error.to_string().contains("does not say how many servings"));
}

#[test]
fn what_is_at_hand_limits_by_what_runs_out_first() {
    let have = |list: &[(&str, f64)]| {
        Target::Have(
            list.iter()
                .map(|(what, grams)| Have {
                    what: (*what).to_owned(),
                    grams: *grams,
                    count: None,
                })
                .collect(),
        )
    };
    let used = |batch: &Batch, name: &str| -> f64 {
        let lines = batch.components.iter().flat_map(|c| &c.lines);
        lines
            .filter(|l| l.name.contains(name))
            .filter_map(|l| Some(l.grams?.likely().as_grams()))
            .sum()
    };
    // Sugar stands in two components: both count.
    let batch = sized(buns(), have(&[("sugar", 55.0)]));
    near(used(&batch, "sugar"), 55.0, 1e-9);
    near(batch.factor, 0.5, 1e-9);
    let both = sized(buns(), have(&[("sugar", 330.0), ("cream cheese", 300.0)]));
    near(used(&both, "cream cheese"), 300.0, 1e-9);
    near(both.factor, 1.5, 1e-9);
    let limits: Vec<&str> = both
        .at_hand
        .iter()
        .filter(|h| h.limits)
        .map(|h| h.name.as_str())
        .collect();
    assert_eq!(limits, ["cream cheese"]);
    let error = refused(buns(), have(&[("chocolate", 100.0)])).to_string();
    assert!(error.contains("nothing called 'chocolate'"), "{error}");
    assert!(error.contains("cream cheese"), "{error}");
    let error = refused(buns(), have(&[("butter", -3.0)])).to_string();
    assert!(error.contains("-3 is no weight at hand"), "{error}");
}

/// A flour of the blend is at hand too.
#[test]
fn a_flour_of_the_blend_may_limit() {
    let w = buns();
    let blend = w.rework.components[0].blend.as_ref().expect("a blend");
    let (food, _) = blend.parts[0];
    let ask = Target::Have(vec![Have {
        what: larder().food(food).key.clone(),
        grams: 50.0,
        count: None,
    }]);
    let batch = sized(w, ask);
    let grams: f64 = w
        .rework
        .components
        .iter()
        .zip(&batch.components)
        .filter_map(|(r, b)| {
            let blend = r.blend.as_ref()?;
            let share = blend.parts.iter().find(|p| p.0 == food)?.1;
            let all: f64 = blend.parts.iter().map(|p| p.1).sum();
            let line = r.lines.iter().find(|l| l.blend)?;
            Some(line.grams?.likely().as_grams() * share / all * b.factor)
        })
        .sum();
    near(grams, 50.0, 1e-9);
}

#[test]
fn exactly_enough_leaves_nothing() {
    let ask = Ask {
        parts: [("crumbs".to_owned(), PartSize::Enough)].into(),
        ..Ask::times(2.0)
    };
    let batch = sized(buns(), ask);
    let crumbs = part(&batch, "crumbs");
    near(makes(crumbs), 200.0, 1e-9);
    near(crumbs.left.expect("used").likely().as_grams(), 0.0, 1e-9);
    assert_eq!(crumbs.keeping, None);
    assert_eq!(part(&batch, "dough").factor, 2.0);
    let unused = Ask {
        parts: [("dough".to_owned(), PartSize::Enough)].into(),
        ..Ask::default()
    };
    assert!(matches!(refused(buns(), unused), SizeError::Unused { .. }));
}

/// Half of it from a full batch of crumbs; too small a one is refused with both weights.
#[test]
fn one_component_in_an_amount_of_its_own() {
    let half = |times| Ask {
        parts: [("crumbs".to_owned(), PartSize::Times(times))].into(),
        ..Ask::times(0.5)
    };
    let batch = sized(buns(), half(1.0));
    let crumbs = part(&batch, "crumbs");
    near(crumbs.used.expect("used").likely().as_grams(), 50.0, 1e-9);
    near(
        crumbs.left.expect("left").likely().as_grams(),
        makes(crumbs) - 50.0,
        1e-9,
    );
    let error = refused(buns(), half(0.1)).to_string();
    assert!(error.contains("but 50 g of it is used"), "{error}");
}

#[test]
fn one_component_alone_with_what_goes_into_it() {
    let ask = Ask {
        target: Target::Makes(720.0),
        part: Some("filling".to_owned()),
        only: true,
        ..Ask::default()
    };
    let batch = sized(buns(), ask);
    near(makes(part(&batch, "filling")), 720.0, 1e-9);
    assert_eq!(part(&batch, "dough").factor, 0.0);
    let crumbs = part(&batch, "crumbs");
    near(makes(crumbs), 200.0, 1e-6);
    let unknown = Ask {
        part: Some("glaze".to_owned()),
        ..Ask::default()
    };
    let error = refused(buns(), unknown).to_string();
    assert!(error.contains("'dough', 'crumbs', 'filling'"), "{error}");
}

#[test]
fn rounding_is_said_and_is_never_to_nothing() {
    let w = worked(BUNS);
    let coarse = Scale {
        step: 5.0,
        fine: None,
    };
    for times in [0.01, 0.07, 0.5, 1.0, 3.3] {
        let batch = sized(&w, Ask::times(times));
        for c in &batch.components {
            for scale in [Scale::default(), coarse] {
                for (line, on) in c.lines.iter().zip(c.on(&scale, larder())) {
                    let Some(exact) = line.grams.map(|g| g.likely().as_grams()) else {
                        continue;
                    };
                    assert!(on.words().is_some(), "{} {exact}", line.name);
                    assert_ne!(on.grams, Some(0.0), "{} {exact}", line.name);
                    if let Some(shown) = on.grams {
                        near(on.off, shown - exact, 1e-12);
                        let flour = c.flour.likely().as_grams();
                        if let Some(off) = on.off_percent {
                            near(off, 100.0 * (shown - exact) / flour, 1e-9);
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn household_measures_are_of_the_batch() {
    let w = worked("Cake\n\n2 cups sugar\n250 g plain flour\n120 g water\n");
    let half = sized(&w, Ask::times(0.5));
    let drawer = Drawer::from(Locale::Us);
    let line = half.components[0]
        .lines
        .iter()
        .find(|l| l.name.contains("sugar"))
        .expect("sugar");
    let said = half.household(&w.rework, 0, line, larder(), drawer);
    let said = said.expect("a measure");
    assert_eq!(said.words, "1 cup");
    assert!(said.error.abs() <= ERROR);
}

#[test]
fn what_cannot_be_had_is_explained() {
    for factor in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9, 1e-9] {
        let error = refused(buns(), Ask::times(factor));
        assert!(matches!(error, SizeError::Factor { .. }), "{factor}");
    }
    let sheet = |thick| Target::Sheet {
        long: 40.0,
        wide: 30.0,
        thick,
        typed: String::new(),
    };
    let said = |target: Target| refused(buns(), target).to_string();
    assert!(said(sheet(0.4)).contains("0.5 mm is the thinnest"));
    assert!(said(sheet(0.0)).contains("0 is no thickness: write one such as 5 mm"));
    assert!(said(sheet(f64::NAN)).contains("NaN is no thickness"));
    assert!(said(Target::Flour(-1.0)).contains("-1 is no weight of flour"));
    assert!(said(Target::Makes(0.0)).contains("0 is no weight"));
    let pan = |fill, count| {
        Target::Pan(Pans {
            fill,
            count,
            ..Pans::of("round_9x2", &[]).expect("a pan")
        })
    };
    assert!(said(pan(Some(1.2), 1)).contains("is more than it holds"));
    assert!(said(pan(None, 0)).contains("0 is no number of pans"));
    let nothing = Target::Pan(Pans {
        pan: "round 9x0".to_owned(),
        water: None,
        count: 1,
        fill: None,
        full: false,
    });
    assert!(said(nothing).contains("a pan of depth 0 holds nothing"));
    let line = Target::Line {
        line: "saffron".to_owned(),
        grams: 1.0,
    };
    assert!(said(line).contains("nothing called 'saffron'"));
    let pastry = worked("Shortcrust pastry\n\n250 g plain flour\n125 g butter\n60 g water\n");
    let ask = Target::Pan(Pans::of("tart_23x2.5cm", &[]).expect("a pan"));
    let error = refused(&pastry, ask).to_string();
    assert!(error.contains("lined with pastry"), "{error}");
}

/// A size that cannot be had leaves the rest of the sheet worked, and says so.
#[test]
fn a_sheet_with_an_impossible_size_is_worked_all_the_same() {
    let mut sheet = Sheet::new(BUNS, Locale::Us);
    sheet.size = Some(Ask::times(-2.0));
    let w = work(&sheet, &[], larder(), &[]).expect("worked");
    assert_eq!(w.batch.factor, 1.0);
    let words = w.size_refused.expect("refused").to_string();
    assert!(words.contains("ask for × 0.01 to × 1000"), "{words}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Mass is conserved: the lines of a component add up to what it makes, at any size; and a
    /// figure read off a batch, asked for, gives the same batch.
    #[test]
    fn figures_of_a_batch_ask_for_it_again(times in 0.02..40.0f64, which in 0usize..3) {
        let w = buns();
        let batch = sized(w, Ask::times(times));
        for c in &batch.components {
            let sum: f64 = c.lines.iter().filter(|l| l.in_formula)
                .filter_map(|l| Some(l.grams?.likely().as_grams())).sum();
            prop_assert!((sum / makes(c) - 1.0).abs() < 1e-9, "{}", c.name);
        }
        let c = &batch.components[which];
        let line = c.lines.iter().find(|l| l.grams.is_some()).expect("a weighed line");
        let mut targets = vec![
            Target::Makes(makes(c)),
            Target::Line { line: line.key.clone(), grams: line.grams.expect("grams").likely().as_grams() },
        ];
        if c.flour.likely().as_grams() > 0.0 {
            targets.push(Target::Flour(c.flour.likely().as_grams()));
        }
        for target in targets {
            let again = sized(w, Ask { part: Some(c.name.clone()), ..target.into() });
            prop_assert!((again.factor / times - 1.0).abs() < 1e-9, "{}", again.asked);
        }
    }

    /// The nearest whole eggs, against every count tried one by one.
    #[test]
    fn whole_eggs_are_the_nearest(times in 0.3..20.0f64) {
        let w = buns();
        let batch = sized(w, Ask::times(times));
        // Two eggs in the recipe: whole at every half.
        let best = (1..80).map(|n| f64::from(n) / 2.0)
            .min_by(|a, b| (a - times).abs().total_cmp(&(b - times).abs())).expect("some");
        match batch.whole_eggs {
            Some(whole) => prop_assert!((whole.factor - best).abs() < 1e-9 || ((whole.factor - times).abs() - (best - times).abs()).abs() < 1e-9),
            None => prop_assert!((times - best).abs() <= 0.0501),
        }
    }
}

#[test]
fn half_a_piece_and_a_pan_as_deep_as_an_oven_are_explained() {
    let w = buns();
    let pieces = |count| {
        Target::Pieces(Pieces {
            count: Some(count),
            each: Some(60.0),
            baked: false,
        })
    };
    let e = refused(w, pieces(0.5)).to_string();
    assert_eq!(
        e,
        "0.5 is no number of pieces: write one such as 12, and 1 at least"
    );
    assert!(Ask::from(pieces(0.5)).check().is_err() && Ask::from(pieces(1.0)).check().is_ok());
    for words in ["round 23x45 cm", "loaf 23x13x17 in"] {
        let e = Pans::of(words, &[]).expect_err(words).to_string();
        assert!(e.contains("cm deep stands in no oven"), "{e}");
        assert!(recipe::heat::Pan::read(words).is_err());
    }
    for words in ["round 23x40 cm", "23x60x5 cm", "loaf 23x13x7 cm"] {
        assert!(Pans::of(words, &[]).is_ok(), "{words}");
    }
}

/// What is typed in inches comes back in inches, 12 × 18 × 2.54² cm² of it.
#[test]
fn a_sheet_in_inches_comes_back_in_inches() {
    let sheet = Target::sheet("12x18 in", "1/4 in").expect("a sheet");
    assert_eq!(sheet.to_string(), "a sheet of 12x18 in, 1/4 in thick");
    let Target::Sheet {
        long, wide, thick, ..
    } = sheet
    else {
        panic!("a sheet");
    };
    near(long * wide, 216.0 * 2.54 * 2.54, 1e-9);
    near(thick, 6.35, 1e-9);
    let metric = Target::sheet("40x30", "5").expect("a sheet");
    assert_eq!(metric.to_string(), "a sheet of 40 × 30 cm, 5 mm thick");
    // As older sheets have it.
    let old = r#"{"sheet":{"long":40.0,"wide":30.0,"thick":5.0}}"#;
    assert_eq!(
        serde_json::from_str::<Target>(old).expect("a sheet"),
        metric
    );
    assert_eq!(serde_json::to_string(&metric).expect("JSON"), old);
}

/// What is left of a pastry that takes in a meat filling keeps as meat does, and unknown things are
/// never said to keep for days beside egg.
#[test]
fn what_is_left_keeps_no_longer_than_the_worst_of_it() {
    let keeps = |text: &str| {
        let batch = sized(&worked(text), Ask::default());
        let parcels = part(&batch, "parcels");
        parcels.keeping.expect("something is left").text
    };
    let meat = keeps(
        "Parcels\n\nFor the filling:\n400 g pork sausages\n100 g onion\n\nFor the parcels:\n300 g plain flour\n150 g butter\n500 g of the filling\n\nFor the tray:\n200 g of the parcels\n50 g butter\n",
    );
    assert!(meat.contains("With meat or fish"), "{meat}");
    let unknown = keeps(
        "Parcels\n\nFor the parcels:\n300 g plain flour\n150 g butter\n2 eggs\n100 g quorbel\n\nFor the tray:\n200 g of the parcels\n50 g butter\n",
    );
    assert!(
        unknown.contains("Not everything in it is known"),
        "{unknown}"
    );
}
