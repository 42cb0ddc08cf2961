//! A reworked recipe at a size: the arithmetic of batches.

use larder::Larder;
use proptest::prelude::*;
use quantity::household::ERROR;
use quantity::{Locale, Mass, Spread};
use recipe::household::{Drawer, Scale};
use recipe::rework::Rework;
use recipe::sheet::{PartUse, Sheet, Worked, work};
use recipe::size::pan::OwnPan;
use recipe::size::{
    Ask, Batch, BatchComponent, Have, Pans, PartSize, Pieces, SizeError, Target, size,
};
use std::sync::LazyLock;

fn larder() -> &'static Larder {
    static LARDER: LazyLock<Larder> =
        LazyLock::new(|| Larder::built_in().expect("the built-in tables"));
    &LARDER
}

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

/// H03: a whole-grain baking class page: 450 g of dough in a tin of 8 × 3.5 × 3 in, 84 cubic
/// inches; in one of 9 × 4 × 4 in, 144 cubic inches, 771.4 g (the page rounds to 770), × 1.714.
#[test]
fn from_one_tin_to_another_by_volume() {
    let w = worked("Loaf\n\n250 g bread flour\n195 g water\n5 g salt\n4 g instant yeast\n");
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let batch = sized(
        &w,
        Target::FromPan {
            from: Pans {
                fill: Some(0.6),
                ..pans("loaf 8x3.5x3 in")
            },
            to: Pans {
                fill: Some(0.6),
                ..pans("pullman_9x4x4")
            },
            keep_depth: false,
        },
    );
    near(batch.factor, 1.714, 0.0005);
    near(450.0 * batch.factor, 771.4, 0.5);
}

/// By the area where the depth is kept: a 9 × 9 in and a 13 × 9 in tin, 81 and 117 square inches.
#[test]
fn from_one_tin_to_another_as_deep() {
    let w = worked(CAKE);
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let ask = Target::FromPan {
        from: pans("square_9x2"),
        to: pans("rect_13x9x2"),
        keep_depth: true,
    };
    let batch = sized(&w, ask);
    near(batch.factor, 117.0 / 81.0, 1e-9);
    let change = batch.pans.expect("pans").depth_change.expect("measures");
    near(change, 1.0, 1e-9);
}

const CAKE: &str = "Tea cake\n\nServes 8 to 10\n\n200 g plain flour\n180 g butter\n180 g sugar\n3 large eggs\n8 g baking powder\n60 g milk\n";

/// R16.4: a depth half as much again takes 1.5^1.4 = 1.76 times the time, at 10 °C less.
#[test]
fn a_deeper_batter_is_warned_about() {
    let w = worked(CAKE);
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let ask = Target::FromPan {
        from: pans("round 23x4 cm"),
        to: pans("round 23x6 cm"),
        keep_depth: false,
    };
    let batch = sized(&w, ask);
    near(batch.factor, 1.5, 1e-9);
    let depth = batch.cautions.iter().find(|c| c.code == "depth");
    let depth = depth.expect("a caution");
    assert!(depth.text.contains("about 1.8 times"), "{}", depth.text);
    assert_eq!(depth.source, "common practice, no source");
}

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

/// Worked by hand: what the oven takes is taken of dough, filling and crumbs together, as they are weighed
/// out of it; of an icing that goes on afterwards nothing.
#[test]
fn the_oven_takes_of_all_that_is_in_the_pan() {
    let text = "Stollen\n\nMakes 1 loaf\n\nDough:\n500 g bread flour\n250 g whole milk\n100 g butter\n7 g yeast\n\nFilling:\n250 g marzipan\n\nIcing:\n100 g icing sugar\n20 g water\n\n1. Mix the dough, let it rise for 1 hour.\n2. Roll it out, spread with the filling and roll it up. Bake for 45 minutes at 180 C.\n3. Stir the icing and brush the loaf with it.\n";
    let w = worked(text);
    let batch = sized(&w, Ask::times(1.0));
    let pieces = batch.pieces.expect("one loaf");
    let whole = pieces.whole.expect("with its parts");
    let grams = |name: &str| makes(part(&batch, name));
    let (dough, filling, icing) = (grams("dough"), grams("filling"), grams("icing"));
    near(whole.raw.likely().as_grams(), dough + filling + icing, 1e-6);
    let style = w.rework.components[0].style.expect("a style").style;
    let loss = style
        .range("bake_loss")
        .expect("a loss")
        .value
        .likely()
        .get()
        / 100.0;
    let baked = whole.baked.expect("a loss is known").likely().as_grams();
    near(baked, (dough + filling) * (1.0 - loss) + icing, 1e-6);
}

/// How full a pan is and how deep are one statement: of upright sides the same share, by hand 55 % of 75 mm
/// are 41 mm; round a tube too. Shape has the same height.
#[test]
fn how_full_and_how_deep_agree() {
    use recipe::shape::{Kind, ShapeAsk, dough_of};
    let w = worked(
        "Cake\n\n300 g plain flour\n225 g butter\n300 g sugar\n4 eggs\n2 tsp baking powder\n\nMix and bake.\n",
    );
    for (words, deep) in [
        ("round 23x7.5 cm", 75.0),
        ("bundt 10x3.5", 88.9),
        ("9x13 in", 50.8),
        ("pie 9x1.25", 31.75),
    ] {
        let pans = Pans {
            pan: words.to_owned(),
            water: None,
            count: 1,
            fill: None,
        };
        let batch = sized(&w, Target::Pan(pans));
        let p = batch.pans.clone().expect("a pan");
        let (fill, depth) = (p.fill.likely().get(), p.depth.expect("measures"));
        if words.starts_with("pie") {
            assert!(depth / deep > fill, "{words}: {depth} {fill}");
        } else {
            near(depth / deep, fill, 1e-3);
        }
        // Of a tube Shape has no measures.
        if !words.starts_with("bundt") {
            let dough = dough_of(&w.rework, &batch, 0, Kind::Fit);
            let ask = ShapeAsk::new(Kind::Fit).with("pan", words);
            let shaped = ask.shaped(&dough).expect("a fit");
            let high = shaped.measure("high").expect("a height").value;
            near(high.likely().get(), depth, 0.02 * depth);
        }
    }
}

/// Twelve muffins into a tin of six large ones are six, each a sixth of what goes in less 2 % in the bowl, by
/// hand; and pieces of another weight are as many as were asked for.
#[test]
fn a_tin_of_hollows_makes_as_many_pieces() {
    let w = worked(
        "Muffins\n\nMakes 12 muffins\n\n280 g plain flour\n3 tsp baking powder\n150 g caster sugar\n2 large eggs\n240 ml buttermilk\n120 g butter\n\nMix and bake in a muffin tin.\n",
    );
    let pans = Pans {
        pan: "muffin_jumbo".to_owned(),
        water: None,
        count: 1,
        fill: None,
    };
    let batch = sized(&w, Target::Pan(pans));
    let pieces = batch.pieces.expect("six");
    near(pieces.count, 6.0, 1e-9);
    near(
        pieces.each.as_grams(),
        makes(&batch.components[0]) / 6.0 / 1.02,
        1e-6,
    );
    assert_eq!(batch.count, Some((6.0, 6.0)));
    let pieces = Pieces {
        count: Some(20.0),
        each: Some(50.0),
        baked: false,
    };
    let batch = sized(&w, Target::Pieces(pieces));
    assert_eq!(batch.count, Some((20.0, 20.0)));
    let tin = recipe::size::pan::find("muffin tin of 6", &[])
        .expect_err("two of them")
        .to_string();
    assert!(
        tin.contains("large muffin tin of 6, 3 × 1.5 in or"),
        "{tin}"
    );
}

/// A pastry for a larger tin, by hand (28 ÷ 23)² × 3 ÷ 2.5 of what the method's own is lined with; without one
/// it is asked for.
#[test]
fn a_pastry_goes_from_the_tin_of_its_method() {
    let text = "Tart\n\nPastry:\n200 g plain flour\n100 g butter\n50 g water\n\nFilling:\n300 g apples\n\n1. Rub the butter into the flour, bind with the water and line a 23 x 2.5 cm tart tin.\n2. Fill with the apples and bake for 40 minutes.\n";
    let pans = Pans {
        pan: "tart 28x3 cm".to_owned(),
        water: None,
        count: 1,
        fill: None,
    };
    let of = |text: &str| worked(text);
    let batch = sized(&of(text), Target::Pan(pans.clone()));
    near(batch.factor, (28.0f64 / 23.0).powi(2) * 3.0 / 2.5, 0.03);
    let alone = text.replace("\nFilling:\n300 g apples\n", "");
    let alone = sized(&of(&alone), Target::Pan(pans.clone()));
    assert!(alone.pans.is_none(), "how full it is says nothing");
    let error = refused(
        &of(&text.replace("a 23 x 2.5 cm tart tin", "a tart tin")),
        Target::Pan(pans),
    );
    assert!(matches!(error, SizeError::Lined { .. }), "{error}");
}

/// Trial F: 1.3 kg went into a tart tin of about a litre without a word, 'between 0.756 and 0.756'. By hand:
/// π × 10² × 2.5 cm³ = 785 mL, of which 90 % is 707 mL; (20 ÷ 23)² = 0.756.
#[test]
fn a_case_with_more_in_it_than_its_tin_holds_is_warned_about() {
    let text = "Pear tart\n\nSweet pastry:\n200 g plain flour\n100 g butter\n60 g icing sugar\n1 egg yolk\n\nFrangipane:\n125 g butter\n125 g caster sugar\n2 eggs\n125 g ground almonds\n25 g plain flour\n\nFruit:\n400 g pears\n\n1. Rub the butter into the flour and sugar, bind with the yolk, chill for 30 minutes and line a 23cm (9-inch) loose-bottomed tart tin with the sweet pastry. Bake blind at 200 °C for 15 minutes.\n2. Cream the butter and sugar for the frangipane, beat in the eggs and fold in the almonds.\n3. Spread the frangipane in the case, press in the pears and bake at 180 °C for 40 minutes.\n";
    let batch = sized(
        &worked(text),
        Target::Pan(Pans::read("20 cm tart tin", &[]).expect("a pan")),
    );
    near(batch.factor, (20.0f64 / 23.0).powi(2), 1e-3);
    assert!(
        batch.sums[0].ends_with("23 × 2.5 cm: its depth is assumed"),
        "{:?}",
        batch.sums
    );
    assert_eq!(batch.range, None, "equal ends are one figure");
    let pans = batch.pans.expect("the tin");
    let parts = batch.components.iter().map(|c| c.makes.likely().as_grams());
    near(pans.grams.as_grams(), parts.sum(), 1e-6);
    assert!(pans.fill.likely().get() > 1.0, "{:?}", pans.fill);
    let full = batch.cautions.iter().find(|c| c.code == "overfull");
    let words = &full.expect("too full").text;
    assert!(
        words.contains("more than 2.5 cm, type it too, as 'loose-bottomed tart tin 20x3.5 cm'"),
        "{words}"
    );
    let deep =
        |across| Pans::read(&format!("loose-bottomed tart tin {across}x5 cm"), &[]).expect("a pan");
    let deep = sized(
        &worked(text),
        Target::FromPan {
            from: deep(23),
            to: deep(20),
            keep_depth: false,
        },
    );
    let words: Vec<&str> = deep.cautions.iter().map(|c| c.code).collect();
    assert!(
        !words.contains(&"overfull") && !words.contains(&"shallow"),
        "{words:?}"
    );
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
    assert_eq!(typed("40x30cm 6mm"), with);
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

/// Butter cake, 0.82 g/mL, half to six tenths of a pan charted at 8 cups: 1,893 mL × 0.55 × 0.82.
#[test]
fn a_pan_takes_its_volume_times_fill_times_density() {
    let w = worked(CAKE);
    let batch = sized(&w, Target::Pan(Pans::of("round_9x2", &[]).expect("a pan")));
    near(makes(&batch.components[0]), 1893.0 * 0.55 * 0.82, 0.1);
    let pans = batch.pans.as_ref().expect("pans");
    near(pans.fill.likely().get(), 0.55, 1e-9);
    // Depth: 55 % of 2 inches; a tin charted to hold less than its measures is filled as much higher.
    near(pans.depth.expect("measures"), 0.55 * 50.8, 0.01);
    let two = sized(
        &w,
        Target::Pan(Pans {
            count: 2,
            ..Pans::of("round_9x2", &[]).expect("a pan")
        }),
    );
    near(two.factor, 2.0 * batch.factor, 1e-9);
}

/// A tin measured with water, and yeast dough at 0.525 g to the mL of it.
#[test]
fn an_own_tin_by_its_water() {
    let own = [OwnPan {
        name: "the blue tin".to_owned(),
        water: Some(1440.0),
    }];
    let w = worked("Loaf\n\n500 g bread flour\n350 g water\n10 g salt\n7 g instant yeast\n");
    let ask = Ask::from(Target::Pan(Pans::of("The blue tin", &own).expect("own")));
    let batch = sized(&w, ask.clone());
    near(makes(&batch.components[0]), 1440.0 / 0.9982 * 0.525, 0.01);
    // It is kept with the ask: the kitchen may forget the tin.
    let json = serde_json::to_string(&ask).expect("JSON");
    let again: Ask = serde_json::from_str(&json).expect("an ask");
    assert_eq!(sized(&w, again).factor, batch.factor);
}

#[test]
fn what_is_at_hand_limits_by_what_runs_out_first() {
    let have = |list: &[(&str, f64)]| {
        Target::Have(
            list.iter()
                .map(|(what, grams)| Have {
                    what: (*what).to_owned(),
                    grams: *grams,
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

/// A large egg of the UK is heavier than one of the US: three of them are three, whatever they weigh.
#[test]
fn eggs_that_are_counted_are_counted_so() {
    let text =
        "Plain cake\n\n200 g plain flour\n200 g caster sugar\n3 large eggs\n\nBeat and bake.\n";
    for locale in [Locale::Uk, Locale::Us] {
        let sheet = Sheet::new(text, locale);
        let w = work(&sheet, &[], larder(), &[]).expect("worked");
        let batch = sized(&w, Ask::times(1.0));
        let eggs: Vec<f64> = batch.eggs.iter().map(|e| e.count).collect();
        assert_eq!(eggs.len(), 1);
        assert!((eggs[0] - 3.0).abs() < 1e-9, "{locale:?}: {eggs:?}");
        assert!(batch.whole_eggs.is_none());
    }
}

/// One statement of eggs: those of a batch are said as on their line, as large as the recipe's. 2.92 eggs
/// are three, by hand 0.08 of one too many; 3 large eggs of the UK are 3.9 of them at × 1.3, not 4 medium.
#[test]
fn eggs_are_said_one_way() {
    let text =
        "Plain cake\n\n200 g plain flour\n200 g caster sugar\n3 large eggs\n\nBeat and bake.\n";
    for (locale, times) in [
        (Locale::Us, 0.975),
        (Locale::Uk, 1.3),
        (Locale::Uk, 0.8),
        (Locale::Au, 1.05),
        (Locale::Us, 1.3),
    ] {
        let w = work(&Sheet::new(text, locale), &[], larder(), &[]).expect("worked");
        let batch = sized(&w, Ask::times(times));
        let [eggs] = batch.eggs.as_slice() else {
            panic!("{:?}", batch.eggs);
        };
        near(eggs.count, 3.0 * times, 1e-9);
        let line = batch.components[0]
            .lines
            .iter()
            .find(|l| l.food == Some(eggs.food));
        let drawer = recipe::household::Drawer::from(locale);
        let told = batch.household(&w.rework, 0, line.expect("eggs"), larder(), &drawer);
        assert_eq!(told, Some(eggs.household()), "{locale:?}");
        if times < 1.0 && locale == Locale::Us {
            assert_eq!(eggs.household().words, "3 large eggs");
            near(eggs.household().error, 3.0 / (3.0 * times) - 1.0, 1e-9);
            assert!(eggs.is_whole() && batch.whole_eggs.is_none());
        }
        assert!(eggs.household().words.contains("large egg"));
        assert_eq!(
            eggs.is_whole(),
            !eggs.household().words.contains("beaten"),
            "{times}"
        );
    }
}

#[test]
fn eggs_for_brushing_are_counted_and_need_not_be_whole() {
    let text = "Rolls\n\n500 g bread flour\n240 g milk\n2 large eggs\n7 g instant yeast\n1 large egg, for brushing\n\nMix, rise and bake.\n";
    let batch = sized(&worked(text), Target::Times(1.5));
    let eggs: Vec<(f64, Option<&str>)> = batch.eggs.iter().map(|e| (e.count, e.beside)).collect();
    let [(dough, None), (wash, Some("for brushing"))] = eggs[..] else {
        panic!("{eggs:?}");
    };
    near(dough, 3.0, 1e-9);
    near(wash, 1.5, 1e-9);
    assert!(batch.whole_eggs.is_none(), "the dough's are whole");
}

#[test]
fn whole_eggs_and_what_they_cost() {
    let ask = Ask::times(1.3);
    let batch = sized(buns(), ask.clone());
    near(batch.eggs[0].count, 2.6, 1e-9);
    let whole = batch.whole_eggs.expect("a size near");
    near(whole.factor, 1.5, 1e-9);
    near(whole.off, 1.5 / 1.3 - 1.0, 1e-9);
    let moved = sized(
        buns(),
        Ask {
            whole_eggs: true,
            ..ask
        },
    );
    near(moved.factor, 1.5, 1e-9);
    near(moved.moved.expect("moved"), 1.5 / 1.3 - 1.0, 1e-9);
    assert!(moved.eggs[0].is_whole());
    let twice = sized(buns(), Ask::times(2.0));
    assert_eq!(twice.whole_eggs, None);
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
    let said = half.household(&w.rework, 0, line, larder(), &drawer);
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

#[test]
fn a_pan_that_is_too_full_is_warned_about() {
    let ask = Target::Pan(Pans {
        fill: Some(0.95),
        ..Pans::of("round_9x2", &[]).expect("a pan")
    });
    let batch = sized(&worked(CAKE), ask);
    assert!(batch.cautions.iter().any(|c| c.code == "overfull"));
}

/// Trial E: '2 x 20' to '2 x 23' was × 1.15, and '2 x 23 cm sandwich tin' a tin 2 cm across. By area
/// 23² ÷ 20² = 1.3225; each tin has half of the batch.
#[test]
fn a_count_before_a_pan_counts_pans() {
    let read = |words: &str| Pans::read(words, &[]).expect(words);
    for (from, to, factor) in [
        ("2 x 20 cm sandwich tin", "2 x 23 cm sandwich tin", 1.3225),
        (
            "two 20 cm sandwich tins",
            "a pair of 23 cm sandwich tins",
            1.3225,
        ),
        ("20 cm sandwich tin", "2 x 20 cm sandwich tin", 2.0),
        ("2 20 cm sandwich tins", "23 cm sandwich tin", 1.3225 / 2.0),
    ] {
        for keep_depth in [false, true] {
            let (from, to) = (read(from), read(to));
            let batch = sized(
                &worked(CAKE),
                Target::FromPan {
                    from,
                    to,
                    keep_depth,
                },
            );
            near(batch.factor, factor, 1e-6);
        }
    }
    let pans = |words| {
        let batch = sized(&worked(CAKE), Target::Pan(read(words)));
        batch.pans.expect("pans")
    };
    let (one, two) = (pans("23 cm sandwich tin"), pans("2 x 23 cm sandwich tin"));
    near(two.each().as_grams(), one.grams.as_grams(), 1e-6);
    near(two.depth.expect("deep"), one.depth.expect("deep"), 1e-6);
    near(two.fill.likely().get(), one.fill.likely().get(), 1e-9);
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

/// 2 whole eggs and 2 yolks: of n eggs a half is taken apart, however many there are.
#[test]
fn eggs_are_shared_out_however_many_there_are() {
    let w = worked("Custard\n\n200 g whole milk\n2 large eggs\n2 large egg yolks\n50 g sugar\n");
    let egg = larder().by_key("egg").expect("egg");
    let one = larder()
        .measure(egg, "large", larder::State::Usual)
        .expect("a large egg");
    for (eggs, times) in [
        (2.0, 0.5),
        (3.0, 0.5),
        (7.0, 1.5),
        (50.0, 12.5),
        (1200.0, 300.0),
    ] {
        let batch = sized(
            &w,
            Target::Have(vec![Have {
                what: "egg".to_owned(),
                grams: eggs * one.grams.likely().as_grams(),
            }]),
        );
        near(batch.factor, times, 1e-9 * times);
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

const ROLLS: &str = "Walnut Rolls\nMakes 12\n\nDough\n4 1/2 cups bread flour\n1 cup milk\n100 g butter\n2 eggs\n80 g sugar\n7 g instant yeast\n6 g salt\n\nWalnut filling\n200 g walnuts\n120 g brown sugar\n100 g butter\n\nGlaze\n150 g icing sugar\n30 g milk\n\nMethod\n1. Knead the dough for 8 minutes and let it rise for 1 hour.\n2. Mix the filling.\n3. Roll the dough out, spread with the filling, roll up, cut into 12 and set them in a 9x13-inch pan.\n4. Bake for 25 minutes at 190 °C.\n5. Whisk the glaze and drizzle it over the rolls.\n";

/// Volumes worked by hand: the sum of grams over density of what is baked in the pan, by the density of
/// enriched dough (1.12) and of fillings (1.10), over the 3,312 mL that the pan is charted at.
#[test]
fn the_filling_goes_into_the_pan_with_the_dough() {
    let w = worked(ROLLS);
    assert_eq!(
        w.rework.panful(0).parts,
        [0, 1],
        "the glaze is poured over the bake"
    );
    let (dough, filling) = (w.rework.components[0].makes, w.rework.components[1].makes);
    let (dough, filling) = (dough.likely().as_grams(), filling.likely().as_grams());
    let own = sized(&w, Target::Pan(Pans::of("9x13", &[]).expect("a pan")));
    near(own.factor, 1.0, 1e-12);
    let pans = own.pans.as_ref().expect("pans");
    near(pans.grams.as_grams(), dough + filling, 1e-9);
    near(
        pans.fill.likely().get(),
        (dough / 1.12 + filling / 1.10) / 3312.0,
        1e-6,
    );
    // The same on the Shape page.
    let known = recipe::shape::batch_says(&w.rework, &own, 0, recipe::shape::Kind::Roll);
    assert_eq!(known["filling"].text, format!("{filling:.0} g"));
    let fit = recipe::shape::dough_of(&w.rework, &own, 0, recipe::shape::Kind::Fit)
        .grams
        .expect("weighed");
    near(fit.likely().as_grams(), dough + filling, 1e-9);
    // Another pan, 1,893 mL, takes 0.525 g of all of it to the mL.
    let other = sized(&w, Target::Pan(Pans::of("square_8x2", &[]).expect("a pan")));
    near(other.factor, 1893.0 * 0.525 / (dough + filling), 1e-6);
    let two = sized(
        &w,
        Target::Pan(Pans {
            count: 2,
            ..Pans::of("9x13", &[]).expect("a pan")
        }),
    );
    near(two.factor, 2.0, 1e-12);
    // The dough alone is the dough alone.
    let ask = Ask {
        only: true,
        ..Target::Pan(Pans::of("9x13", &[]).expect("a pan")).into()
    };
    let only = size(&w.rework, &ask, larder()).expect("sized");
    near(
        only.pans.expect("pans").grams.as_grams(),
        only.factor * dough,
        1e-6,
    );
}

/// What makes more than the original and more than suits is made smaller for the recipe's own pan, and
/// the note says the same.
#[test]
fn a_conversion_that_overfills_its_own_pan_is_made_smaller() {
    let text = "Loaf\n\n700 g bread flour\n420 g water\n10 g salt\n7 g instant yeast\n\nMethod\n1. Knead for 10 minutes, shape and set in a 9x5x3 inch loaf pan.\n2. Let rise for 1 hour and bake for 40 minutes at 200 °C.\n";
    let w = worked(text);
    let (was, is) = (
        700.0 + 420.0 + 10.0 + 7.0,
        w.rework.components[0].makes.likely().as_grams(),
    );
    let own = sized(&w, Target::Pan(Pans::of("loaf_9x5x3", &[]).expect("a pan")));
    near(own.factor, was / is, 1e-9);
    let note = w.rework.components[0]
        .method_notes
        .iter()
        .find(|n| n.rule == "more in the pan");
    let note = &note.expect("it makes more").text;
    assert!(
        note.contains(&format!("or make × {:.2}", was / is)),
        "{note}"
    );
    assert!(note.contains("at any size"), "{note}");
}

#[test]
fn what_goes_on_after_the_bake_is_not_in_the_pan() {
    let cake = |steps: &str| {
        let text = format!(
            "Cake\n\nCake\n225 g flour\n225 g sugar\n225 g butter\n4 eggs\n10 g baking powder\n\nCrumb topping\n60 g flour\n40 g sugar\n40 g butter\n\nFilling\n200 g jam\n\nMethod\n{steps}"
        );
        worked(&text).rework.panful(0).parts.clone()
    };
    let after = "1. Pour the batter into a 23 cm round tin, scatter with the crumb topping and bake for 30 minutes.\n2. Cool, split and spread with the filling.\n";
    assert_eq!(cake(after), [0, 1]);
    // No step names either: crumbs are baked on, a cake is filled when it is cold.
    assert_eq!(cake("1. Bake for 30 minutes.\n"), [0, 1]);
}

const CHEESECAKE: &str = "Cheesecake\n\nServes 10\n\nFor the base:\n200 g digestive biscuits\n85 g butter, melted\n\nFilling:\n680 g cream cheese\n150 g sugar\n16 g plain flour\n3 eggs\n115 g sour cream\n\nFruit:\n450 g plums\n25 g sugar\n\nCrumbs:\n95 g plain flour\n70 g brown sugar\n57 g butter\n\nDirections\nMix biscuits and butter, press into the bottom of a 9-inch springform pan and bake 10 minutes at 325°F.\nRub the crumb ingredients together.\nToss plums with sugar.\nBeat cream cheese and sugar, beat in flour, then eggs and sour cream.\nPour over the base, lay on the plums, scatter with the crumbs.\nBake 60-65 minutes until the edge is set.\n";

/// A filling fills its tin with the base, the fruit and the crumbs: its own tin is × 1, and another
/// goes by what the two hold, never by the filling alone.
#[test]
fn a_cheesecake_fills_its_tin_with_all_its_parts() {
    let w = worked(CHEESECAKE);
    let filling = w.rework.components.iter().position(|c| c.name == "filling");
    let panful = w.rework.panful(filling.expect("a filling"));
    assert_eq!(panful.parts.len(), 4, "{panful:?}");
    assert!(panful.set);
    assert!(panful.own().is_some(), "{panful:?}");
    let at = |pan: &str| {
        sized(
            &w,
            Target::Pan(Pans {
                pan: pan.to_owned(),
                water: None,
                count: 1,
                fill: None,
            }),
        )
        .factor
    };
    near(at("springform 9x2.5"), 1.0, 1e-9);
    let small = at("20x6.5 cm springform");
    assert!((0.6..0.9).contains(&small), "{small}");
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

/// A part of which nothing is made goes into no pan: it is refused.
#[test]
fn none_of_a_part_fills_no_pan() {
    let ask = Ask {
        target: Target::Pan(Pans {
            pan: "loaf 9x5".to_owned(),
            water: None,
            count: 1,
            fill: None,
        }),
        part: Some("crumbs".to_owned()),
        only: true,
        parts: [("crumbs".to_owned(), PartSize::Enough)].into(),
        ..Ask::default()
    };
    assert!(size(&buns().rework, &ask, larder()).is_err());
}
