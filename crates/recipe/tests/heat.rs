//! Heat of whole recipes: what bakes in which pan, and what is refused.

#[path = "heat/batch.rs"]
mod batch;

use larder::Larder;
use quantity::{Locale, Mass};
use recipe::heat::{
    AskError, Baked, Figures, Given, HeatField, HeatNotes, Place, Water, bake, dough, given,
};
use recipe::rework::style::Style;
use recipe::sheet::{Sheet, work};

/// Written for this test.
const TART: &str = "Leek Tart\nServes 6\n\nPastry:\n1 1/4 cups all-purpose flour\n1/2 tsp salt\n1 stick cold butter\n3 tbsp water\n\nCustard:\n1 cup heavy cream\n1/2 cup milk\n3 eggs\n1 lb leeks, sliced\n\nMethod:\n1. Rub the butter into the flour, add the water, chill 30 minutes.\n2. Line a 9 inch tart tin. Blind bake 15 minutes at 400F.\n3. Fill and bake at 350F for 35 min until just set.\n";
const CAKE: &str = "Plain Layers\nServes 12\n\n3 cups cake flour\n1 tbsp baking powder\n2 sticks butter\n2 cups sugar\n4 eggs\n1 1/4 cups buttermilk\n\nMethod\n1. Heat the oven to 350F. Grease two 9-inch round cake pans.\n2. Cream butter and sugar, beat in the eggs, fold in the rest.\n3. Divide between the pans and bake for 30 to 35 minutes.\n";
const BUNS: &str = "Milk Buns\nMakes 12\n\n4 cups bread flour\n1 1/4 cups milk\n2 tsp instant yeast\n1 tsp salt\n1 egg\n4 tbsp butter\n\nMethod\n1. Mix 8 minutes, let rise 1 hour.\n2. Shape, set in a 9x13 inch pan, bake 25 minutes at 375F.\n";

fn read(text: &str, part: Option<&str>) -> Given {
    let larder = Larder::built_in().expect("the built-in tables");
    let sheet = Sheet::new(text, Locale::Us);
    let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
    given(&w.rework, &w.batch, &larder, part).expect("it is baked")
}

fn notes(says: &[(HeatField, &str)]) -> HeatNotes {
    says.iter()
        .map(|(f, w)| (f.key().to_owned(), (*w).to_owned()))
        .collect()
}

/// What is typed and what is given, in a kitchen of no other kind.
fn plain<'a>(notes: &'a HeatNotes, given: &'a Given) -> Figures<'a> {
    Figures {
        notes,
        given: Some(given),
        place: Place::default(),
        style: None,
        pans: &[],
    }
}

fn baked(g: Option<&Given>, says: &[(HeatField, &str)]) -> Result<Baked, String> {
    of_style(None, g, says)
}

fn of_style(
    style: Option<Style>,
    g: Option<&Given>,
    says: &[(HeatField, &str)],
) -> Result<Baked, String> {
    let n = notes(says);
    let figures = Figures {
        notes: &n,
        given: g,
        place: Place::default(),
        style,
        pans: &[],
    };
    let ask = figures.bake().map_err(|e: AskError| e.to_string())?;
    bake(&ask.expect("a new pan is asked about")).map_err(|e| e.to_string())
}

fn says(b: &Baked, what: &str) -> bool {
    b.advice.iter().any(|a| a.words.contains(what))
}

/// A quiche with bacon has to be as hot as a dish of meat: 165 °F, foodsafety.gov, casseroles (copies
/// seen).
#[test]
fn a_custard_with_meat_is_hotter() {
    let text = TART.replace("1 lb leeks", "1 lb bacon");
    assert_ne!(text, TART);
    let g = read(&text, None);
    assert!(g.sets && g.meat);
    let says_pans = [
        (HeatField::KnownPan, "round 9x1in"),
        (HeatField::Pan, "round 10x1in"),
    ];
    let b = baked(Some(&g), &says_pans).expect("a bake");
    assert!((b.target.celsius[0] - 73.9).abs() < 0.05);
    assert!(says(&b, "74 °C (165 °F)") && !says(&b, "71 °C"));
    // 165 °F is 73.9 °C: 73 would be below it. 82 °C is 179.6 °F, 74 °C 165.2 °F.
    assert_eq!(b.target.words(), "74–82 °C (165–180 °F)");
    assert!(!read(TART, None).meat);
}

/// Finding 12. 71 °C (160 °F) for egg dishes: FDA and USDA table of key temperatures (seen).
#[test]
fn a_custard_is_no_crumb() {
    for part in [None, Some("custard")] {
        let g = read(TART, part);
        assert!(
            g.sets && g.name.eq_ignore_ascii_case("custard"),
            "{}",
            g.name
        );
        let b = baked(
            Some(&g),
            &[
                (HeatField::KnownPan, "round 9x1in"),
                (HeatField::Pan, "round 10x1in"),
            ],
        )
        .expect("a bake");
        assert!((b.target.celsius[0] - 71.1).abs() < 0.05 && b.target.celsius[2] <= 85.0);
        assert!(says(&b, "71 °C (160 °F)") && says(&b, "trembling"));
        assert!(!says(&b, "gummy"), "{:?}", b.advice);
    }
    let pastry = read(TART, Some("pastry"));
    assert!(!pastry.sets);
    // 1 lb of leeks, cream, milk and eggs are above 900 g; the pastry is counted with them.
    assert!(read(TART, None).makes.as_grams() > pastry.makes.as_grams() + 900.0);
}

/// Worked by hand from the text: the last bake is of the filling in its springform, with the base under it
/// and the crumbs on it; not of the crumbs, whose tray is no pan of it. It weighs what Size has in the tin.
#[test]
fn a_cheesecake_is_what_is_in_its_tin() {
    const CHEESECAKE: &str = "Plum Cheesecake\nServes 12\n\nCrumbs:\n900 g plain flour\n500 g butter\n300 g sugar\n\nBase:\n200 g digestive biscuits, crushed\n80 g butter, melted\n\nFilling:\n600 g cream cheese\n150 g sugar\n3 eggs\n\nMethod\n1. Rub the crumbs together and bake them on a 40 x 30 x 2 cm tray for 15 minutes at 180 C.\n2. Press the base into a 23 cm springform and bake for 10 minutes.\n3. Whisk the filling and pour it over the base. Scatter over the crumbs. Bake at 150 C for 50 minutes.\n";
    let larder = Larder::built_in().expect("the built-in tables");
    let mut sheet = Sheet::new(CHEESECAKE, Locale::Uk);
    sheet.size = Some(recipe::size::Ask {
        part: Some("filling".to_owned()),
        ..recipe::size::Ask::from(recipe::size::Target::Pan(recipe::size::Pans {
            pan: "springform 23 x 6.5 cm".to_owned(),
            water: None,
            count: 1,
            fill: None,
            full: false,
        }))
    });
    let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
    let g = given(&w.rework, &w.batch, &larder, None).expect("it is baked");
    assert_eq!(g.name, "filling");
    assert_eq!(g.what, "filling, crumbs and base");
    assert!(g.sets && g.perishable == Some(true));
    assert_eq!(g.written.expect("a bake").likely().as_minutes(), 50.0);
    let pan = g.pan.clone().expect("its tin");
    assert!(pan.read.starts_with("springform"), "{}", pan.read);
    assert!(g.pan_assumed.is_some());
    let filled = w.batch.pans.as_ref().expect("a pan was asked for");
    assert!((g.makes.as_grams() - filled.grams.as_grams()).abs() < 1e-6);
    assert_eq!(g.what, filled.what);
    let crumbs = given(&w.rework, &w.batch, &larder, Some("crumbs")).expect("they are baked");
    assert_eq!(crumbs.what, "crumbs");
    // Biscuits baked for its base are no dough that takes the filling in.
    let g = read(
        include_str!("../../../examples/ginger-crumb-cheesecake.txt"),
        None,
    );
    assert_eq!(g.what, "filling and base");
    assert!(
        g.pan
            .is_some_and(|p| p.read.starts_with("springform, 9 × 2.5 in"))
    );
}

/// Worked by hand: a sweet pastry is a case whatever its style, a batter spread in it is baked with it and the
/// fruit pressed in; an apple pie is its apples and its pastry.
#[test]
fn a_tart_is_its_case_and_all_that_is_in_it() {
    const TART: &str = "Plum Tart\nServes 8\n\nFor the pastry:\n200 g plain flour\n100 g butter\n50 g icing sugar\n1 egg yolk\n\nFor the frangipane:\n125 g butter\n125 g caster sugar\n2 eggs\n125 g ground almonds\n20 g plain flour\n\nFor the top:\n400 g plums, halved\n\n1. Rub the butter into the flour and sugar, bind with the yolk and chill for 30 minutes.\n2. Line a 23 cm tart tin and bake blind for 15 minutes at 190 C.\n3. Cream the butter and sugar for the frangipane, beat in the eggs and almonds.\n4. Spread the frangipane in the case, press in the plums and bake at 170 C for 40 minutes.\n";
    let g = read(TART, None);
    assert_eq!(g.name, "frangipane");
    assert_eq!(g.what, "frangipane, pastry and top");
    assert_eq!(g.written.expect("a bake").likely().as_minutes(), 40.0);
    assert!(g.pan.expect("its tin").read.contains("tart tin"));
    const PIE: &str = "Apple Pie\n\nPastry:\n300 g plain flour\n150 g butter\n60 g water\n\nFilling:\n900 g apples, sliced\n100 g sugar\n\n1. Rub the butter into the flour, bind with the water, roll out and line a 9 inch pie dish.\n2. Fill with the apples, cover with pastry and bake for 45 minutes at 190 C.\n";
    let g = read(PIE, None);
    assert_eq!(
        (g.name.as_str(), g.what.as_str()),
        ("pastry", "filling and pastry")
    );
    assert!(
        !g.sets && g.makes.as_grams() > 1400.0,
        "{}",
        g.makes.as_grams()
    );
}

/// Worked by hand: a roll goes into its tin with its filling, and what is mixed and rises is the dough.
#[test]
fn a_filled_dough_is_baked_with_its_filling() {
    const ROLLS: &str = "Date Rolls\nMakes 12\n\nDough:\n500 g bread flour\n300 g water\n7 g yeast\n8 g salt\n\nFilling:\n300 g dates\n100 g butter\n1 egg\n\nMethod\n1. Mix the dough, let it rise for 1 hour.\n2. Roll out, spread with the filling, roll up, cut into 12 and set in a 33 x 23 x 5 cm tin.\n3. Let rise for 40 minutes. Bake for 25 minutes at 190 C.\n";
    let g = read(ROLLS, None);
    assert_eq!(
        (g.name.as_str(), g.what.as_str()),
        ("dough", "dough and filling")
    );
    let filling = g.makes.as_grams() - g.dough.as_grams();
    assert!(
        (440.0..470.0).contains(&filling),
        "dates, butter, an egg: {filling}"
    );
    assert_eq!(g.perishable, Some(true), "the egg is in the filling");
}

/// Finding 11.
#[test]
fn a_batter_is_shared_over_the_pans_the_method_names() {
    let g = read(CAKE, None);
    assert_eq!(g.pans, 2);
    // 9 inches across says no depth: the usual one is taken, and said to be.
    assert!(
        g.pan_assumed.is_some() && g.pan_words.is_some(),
        "{:?}",
        g.pan
    );
    assert!(g.makes > Mass::grams(1000.0));
    let pans = [(HeatField::KnownPan, "9x2in"), (HeatField::Pan, "9x3in")];
    let b = baked(Some(&g), &pans).expect("a bake");
    let each = g.makes.as_grams() / 2.0;
    assert!(
        says(&b, &format!("2 pans: {each:.0} g in each")),
        "{:?}",
        b.advice
    );
    // The same batter as wide and as deep takes as long.
    let (known, new) = b.depths;
    assert!((new / known - 1.0).abs() < 0.01, "{known} {new}");
    assert!(b.time.likely().as_minutes() < 50.0, "{:?}", b.time);
}

/// Finding 20.
#[test]
fn what_cannot_be_is_asked_about() {
    let known = [
        (HeatField::KnownPan, "23x13x7cm"),
        (HeatField::KnownOven, "180C"),
        (HeatField::KnownTime, "60"),
    ];
    let with = |more: (HeatField, &'static str)| {
        let all: Vec<_> = known.into_iter().chain([more]).collect();
        baked(None, &all)
    };
    let e = with((HeatField::PanDough, "9 kg")).expect_err("nine kilograms");
    assert!(e.contains("do not go into one loaf tin"), "{e}");
    let hot = [
        (HeatField::KnownPan, "23x13x7cm"),
        (HeatField::KnownOven, "350C"),
        (HeatField::KnownTime, "60"),
        (HeatField::Pan, "20x10x6cm"),
    ];
    let e = baked(None, &hot).expect_err("an oven in F");
    assert!(e.contains("350 °F (177 °C)"), "{e}");
    let full: Vec<_> = known
        .into_iter()
        .chain([(HeatField::PanDough, "1.9 kg")])
        .collect();
    let over = of_style(Style::from_key("lean_bread"), None, &full).expect("a full pan");
    assert!(
        over.advice[0].words.contains("It overflows: proofed"),
        "{:?}",
        over.advice
    );
}

/// A butter cake of 0.82 g/mL that rises to 1.5 times its height, in a tin of 15 × 15 × 5 cm, 1,125 mL by its
/// measures: 800 g are 976 mL, 43 mm high and 65 mm baked, 15 mm above the rim; 400 g come to 33 mm. The page of
/// shapes said so, this one nothing.
#[test]
fn a_batter_that_comes_above_the_rim_is_told_as_on_the_page_of_shapes() {
    let with = |grams: &'static str| {
        let known = [
            (HeatField::KnownPan, "23x23x5cm"),
            (HeatField::KnownOven, "180C"),
            (HeatField::KnownTime, "40"),
            (HeatField::Pan, "15x15x5cm"),
            (HeatField::PanDough, grams),
        ];
        of_style(Style::from_key("butter_cake"), None, &known).expect("a bake")
    };
    let told = with("800 g");
    assert!(
        says(&told, "It may run over: in the oven it comes about"),
        "{:?}",
        told.advice
    );
    let low = with("400 g");
    assert!(!says(&low, "rim"), "{:?}", low.advice);
}

/// Worked by hand: some 1,720 g for a tin of 1,893 mL that no one calls deeper; by a batter of 0.82 g/mL that does not
/// go in, but the recipe bakes it there. In a tin of 13 × 9 in, 3,312 mL, it has room, and a batch for that tin is as
/// full as the recipe's own.
#[test]
fn what_the_recipe_bakes_in_its_tin_goes_into_it() {
    const PLUMS: &str = "Plum Cake\n\nMakes one 8-inch square cake\n\n200 g plain flour\n170 g sugar\n150 g butter\n3 large eggs\n80 g milk\n2 tsp baking powder\n950 g plums, sliced\n\n1. Heat the oven to 350F. Butter an 8-inch square pan.\n2. Cream butter and sugar, beat in the eggs, flour, baking powder and milk. Fold in the plums.\n3. Spread in the pan and bake 60 minutes.\n";
    let once = read(PLUMS, None);
    let grams = once.once.as_grams();
    assert!((1650.0..1893.0).contains(&grams), "{grams}");
    baked(Some(&once), &[(HeatField::Pan, "13x9x2in")]).expect("a known bake in another tin");
    let larder = Larder::built_in().expect("the built-in tables");
    let mut sheet = Sheet::new(PLUMS, Locale::Us);
    sheet.size = Some(recipe::size::Ask {
        target: recipe::size::Target::Pan(recipe::size::Pans::of("13x9x2in", &[]).expect("a pan")),
        ..recipe::size::Ask::times(1.0)
    });
    let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
    let sized = given(&w.rework, &w.batch, &larder, None).expect("it is baked");
    let n = notes(&[]);
    let figures = plain(&n, &sized);
    let dough = figures
        .value(HeatField::PanDough)
        .expect("all of the batch");
    assert_eq!(dough.words, format!("{:.0} g", sized.makes.as_grams()));
    let ask = figures.bake().expect("read").expect("the pan of the size");
    bake(&ask).expect("a bake in the pan of the size");
    // So much of no dough goes into a loaf tin.
    let heavy = [
        (HeatField::KnownPan, "23x13x7cm"),
        (HeatField::KnownOven, "180C"),
        (HeatField::KnownTime, "60"),
        (HeatField::KnownDough, "9 kg"),
        (HeatField::Pan, "20x10x6cm"),
    ];
    let e = baked(None, &heavy).expect_err("nine kilograms");
    assert!(e.contains("do not go into one loaf tin"), "{e}");
}

/// 1,416 g of a 13 × 9 in pan stand about 5.1 cm deep in an 8 × 8 in one, 117/64 of what they stood in the
/// first, worked by hand: the weight stays, typed or not.
#[test]
fn the_known_weight_stays_where_none_is_typed() {
    let known = [
        (HeatField::KnownPan, "13x9x2in"),
        (HeatField::KnownOven, "350F"),
        (HeatField::KnownTime, "24-33"),
        (HeatField::KnownDough, "1416 g"),
    ];
    let with = |more: &[(HeatField, &'static str)]| {
        let all: Vec<_> = known.iter().chain(more).copied().collect();
        baked(None, &all).expect("a bake")
    };
    let kept = with(&[(HeatField::Pan, "8x8x2 in, dark")]);
    let typed = with(&[
        (HeatField::Pan, "8x8x2 in, dark"),
        (HeatField::PanDough, "1416 g"),
    ]);
    assert_eq!(kept.time, typed.time);
    let deeper = kept.depths.1 / kept.depths.0;
    assert!((deeper - 117.0 / 64.0).abs() < 0.01, "{deeper}");
    // What does not go in is not put in: a hollow of a muffin tin is as full as the pan was.
    let all: Vec<_> = known
        .into_iter()
        .chain([(HeatField::Pan, "muffin_std")])
        .collect();
    let n = notes(&all);
    let figures = Figures {
        notes: &n,
        given: None,
        place: Place::default(),
        style: None,
        pans: &[],
    };
    let v = figures.value(HeatField::PanDough).expect("a weight");
    assert!(v.from().contains("1416 g do not go into this one"), "{v:?}");
    let ask = figures.bake().expect("figures").expect("asked");
    let b = bake(&ask).expect("a bake");
    let full = |depth: f64, pan: &recipe::heat::Pan| depth / pan.depth;
    let (was, is) = (full(b.depths.0, &ask.known_pan), full(b.depths.1, &ask.pan));
    assert!((is / was - 1.0).abs() < 0.03, "{was} {is}");
}

/// Finding 8: one tin, typed two ways, takes as long.
#[test]
fn one_tin_takes_one_time() {
    let all = [
        (HeatField::KnownPan, "9x5in"),
        (HeatField::KnownOven, "350F"),
        (HeatField::KnownTime, "60"),
        (HeatField::Pan, "23x13x7.6cm"),
    ];
    let b = baked(None, &all).expect("a bake");
    assert!(
        (b.time.likely().as_minutes() - 60.0).abs() < 1.0,
        "{:?}",
        b.time
    );
}

/// Finding 18.
#[test]
fn no_ice_goes_into_milk() {
    let g = read(BUNS, None);
    assert!(!g.liquid_is_water && g.water.as_grams() > 250.0);
    for (room, wanted) in [("35 C", "26 C"), ("30 C", "26 C")] {
        let n = notes(&[
            (HeatField::Room, room),
            (HeatField::Tap, "28 C"),
            (HeatField::DoughWanted, wanted),
        ]);
        let figures = plain(&n, &g);
        let d = dough(&figures.dough().expect("figures")).expect("a dough");
        assert!(
            matches!(d.water, Water::Chilled(_) | Water::TooCold),
            "{room}: {:?}",
            d.water
        );
        assert!(
            d.advice
                .iter()
                .any(|a| a.words.contains("liquid is no water"))
        );
    }
}

/// What is said to be the recipe's is in it: the depth of a tin and the longer time are ours, and said
/// to be; 22–26 minutes a tenth to a quarter longer are 24.2 to 32.5.
#[test]
fn what_is_from_the_recipe_is_in_it() {
    const LAYERS: &str = "Layer cake\n\n350 g plain flour\n225 g butter\n350 g sugar\n4 eggs\n240 g sour cream\n2 1/2 tsp baking powder\n\nHeat the oven to 375°F. Butter and flour two 8-inch round cake pans. Mix all. Divide between the pans and bake 22 to 26 minutes.\n";
    let g = read(LAYERS, None);
    assert_eq!(g.pans, 2);
    let n = notes(&[]);
    let figures = plain(&n, &g);
    let value = |f| figures.value(f).unwrap_or_else(|| panic!("{f:?}"));
    let pan = value(HeatField::KnownPan);
    assert_eq!(pan.shown(), "round tin, 8 × 2 in (20 × 5 cm)");
    assert_eq!(
        pan.from(),
        "from the recipe, but its depth is assumed (such tins are 1 to 3 in deep)"
    );
    let time = value(HeatField::KnownTime);
    assert_eq!(time.words, "24–33 min");
    assert!(
        time.from().starts_with("ours: the recipe's 22–26 min"),
        "{time:?}"
    );
    let each = value(HeatField::KnownDough);
    assert!(each.from().ends_with("in each of 2 pans"), "{each:?}");
    assert_eq!(each.words, format!("{:.0} g", g.once.as_grams() / 2.0));
}

/// Worked by hand from the text: the dough rises 1 hour and bakes at 220 °C; the 12 hours are the
/// poolish's and the 100 °C the meringue's.
#[test]
fn each_part_has_its_own_rise_and_oven() {
    const LOAF: &str = "Poolish loaf\n\nMeringue:\n3 egg whites\n150 g sugar\n\nPoolish:\n100 g bread flour\n100 g water\n1 g yeast\n\nDough:\n400 g bread flour\n220 g water\n5 g yeast\n8 g salt\n201 g poolish\n\nMethod\n1. Let the poolish rise for 12 hours.\n2. Mix the dough and let it rise for 1 hour. Bake at 220 C for 35 minutes in a 23x13x7 cm loaf tin.\n3. Bake the meringue at 100 C for 90 minutes.\n";
    let g = read(LOAF, Some("dough"));
    assert_eq!(g.rise.expect("a rise").likely().as_minutes(), 60.0);
    assert_eq!(g.written.expect("a bake").likely().as_minutes(), 35.0);
    assert!((g.oven.expect("an oven").as_celsius() - 220.0).abs() < 0.1);
    assert_eq!(g.stages, 1);
}

/// A fan oven that is turned down is not the still one of before: 160 °C fan is 180 °C. By hand: 10 minutes at 220 °C
/// (200 °C fan) and 40 at 180 °C are one bake at (10 × 220 + 40 × 180) ÷ 50 = 188 °C.
#[test]
fn a_fan_oven_that_is_turned_down_counts() {
    const LOAF: &str = "Loaf\n\n500 g bread flour\n350 g water\n7 g yeast\n\n1. Bake at 200 C fan for 10 minutes in a 23x13x7 cm loaf tin.\n2. Lower the oven to 160 C fan and bake for 40 minutes.\n";
    let g = read(LOAF, None);
    assert!((g.oven.expect("an oven").as_celsius() - 188.0).abs() < 0.1);
    assert_eq!(g.stages, 1);
    let b = baked(Some(&g), &[(HeatField::Pan, "20x10x6 cm")]).expect("a bake");
    assert!(b.time.likely().as_minutes() > 0.0);
    let said = |g: &Given, what: &str| {
        let n = notes(&[]);
        let all = plain(&n, g).remarks(false);
        all.iter().any(|a| a.words.contains(what))
    };
    assert!(said(&g, "taken as one bake") && !said(&g, "bakes 2 times"));
    // A second tin is another bake.
    let two = LOAF.replace("Lower the oven to", "Bake the second tin at");
    let g = read(&two.replace(" and bake for", " for"), None);
    assert_eq!(g.stages, 2);
    assert!(said(&g, "bakes 2 times"));
}

/// Grams that lack a line, and foods nobody knows, are not taken for the whole and for harmless.
#[test]
fn what_is_not_known_is_not_offered() {
    const LOAF: &str = "Loaf\n\n500 g bread flour\n300 g water\n7 g yeast\nsome zabble milk drink\n\n1. Let it rise for 1 hour. Bake at 200 C for 40 minutes in a 23x13x7 cm loaf tin.\n";
    let g = read(LOAF, None);
    assert_eq!(g.unweighed, 1);
    assert_eq!(g.perishable, None);
    let n = notes(&[]);
    let figures = plain(&n, &g);
    for field in [
        HeatField::KnownDough,
        HeatField::FlourMass,
        HeatField::WaterMass,
    ] {
        assert_eq!(figures.value(field), None, "{field:?}");
    }
    let piece = figures.value(HeatField::ProofPiece).expect("a usual one");
    assert_eq!(piece.words, "900 g");
    // Milk in a part of it is milk in it.
    const SOAKED: &str = "Loaf\n\nPaste:\n50 g bread flour\n200 g milk\n\nDough:\n450 g bread flour\n150 g water\n7 g yeast\n250 g paste\n\n1. Mix the dough and let it rise for 1 hour. Bake at 200 C for 40 minutes.\n";
    assert_eq!(read(SOAKED, Some("dough")).perishable, Some(true));
}

/// The recipe's own pan and time are for all that the recipe puts in, also where the batch makes only some of
/// it: a line without a weight there leaves the known dough unknown.
#[test]
fn what_the_batch_leaves_out_counts_in_the_known_bake() {
    const CAKE: &str = "Crumble cake\n\nCake:\n300 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n2 tsp baking powder\n\nCrumble:\n100 g plain flour\n60 g butter\n60 g sugar\nsome zabble\n\n1. Mix the cake. Rub the crumble together and scatter over. Bake at 180 C for 40 minutes in a 20x20x7.5 cm tin.\n";
    let larder = Larder::built_in().expect("the built-in tables");
    for (text, known) in [
        (CAKE.to_owned(), false),
        (CAKE.replace("some zabble\n", ""), true),
    ] {
        let mut sheet = Sheet::new(&text, Locale::Us);
        sheet.size = Some(recipe::size::Ask {
            part: Some("cake".to_owned()),
            only: true,
            ..recipe::size::Ask::times(1.0)
        });
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let g = given(&w.rework, &w.batch, &larder, None).expect("it is baked");
        assert_eq!((g.what.as_str(), g.unweighed), ("cake", 0));
        assert_eq!(g.once_unweighed, usize::from(!known));
        let n = notes(&[]);
        let dough = plain(&n, &g).value(HeatField::KnownDough);
        assert_eq!(dough.is_some(), known, "{dough:?}");
    }
}

/// Worked by hand: 10 min at 220 °C and 25 min at 180 °C are 35 min at (10 × 220 + 25 × 180) ÷ 35 =
/// 191.4 °C; a second tray and another tin are no second stage.
#[test]
fn a_bake_in_two_stages_is_one() {
    let loaf = |bake: &str| {
        read(
            &format!(
                "Loaf\n\n500 g bread flour\n350 g water\n7 g yeast\n\n1. Heat the oven to 220 C. {bake}\n"
            ),
            None,
        )
    };
    for bake in [
        "Bake at 220 C for 10 minutes, then lower to 180 C and bake for 25 minutes.",
        "Bake for 10 minutes. Reduce the oven to 180 C and bake for 25 minutes more.",
        "Bake for 10 minutes.\n2. Reduce the oven to 180 C, cover with foil and bake for 25 minutes more.",
    ] {
        let g = loaf(bake);
        assert_eq!(g.written.expect("a bake").likely().as_minutes(), 35.0);
        assert!((g.oven.expect("an oven").as_celsius() - 6700.0 / 35.0).abs() < 0.1);
        assert_eq!(g.stages, 1, "{bake}");
        let staged = g.staged().expect("two stages");
        assert_eq!(
            staged,
            "10 min at 220 °C (425 °F), then 25 min at 180 °C (350 °F)"
        );
    }
    for bake in [
        "Bake for 12 minutes. Then bake the second tray for 14 minutes.",
        "Bake for 12 minutes in a bun tin or for 14 minutes in a loaf tin.",
        "Bake for 12 minutes.\n2. Then bake the second tray for 14 minutes.",
        "Bake the case blind for 12 minutes.\n2. Pour in the custard, lower the oven to 160 C and bake for 14 minutes.",
        "Bake for 12 minutes. Cool.\n2. Reduce the oven to 160 C, slice and bake for 14 minutes more.",
        "Bake the base for 12 minutes.\n2. Lower the oven to 160 C, add the topping and bake for 14 minutes.",
    ] {
        let g = loaf(bake);
        assert_eq!(
            g.written.expect("a bake").likely().as_minutes(),
            14.0,
            "{bake}"
        );
        assert_eq!((g.stages, g.staged()), (2, None), "{bake}");
    }
}

/// What the Size page makes alone is what heat is asked of.
#[test]
fn a_part_made_alone_is_the_one_that_is_baked() {
    const TWO: &str = "Crumble cake\n\nCake:\n300 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n2 tsp baking powder\n\nCrumble:\n100 g plain flour\n60 g butter\n60 g sugar\n\nIcing:\n100 g icing sugar\n20 g water\n\n1. Mix the cake. Bake at 180 C for 40 minutes in a 20x20x5 cm tin.\n";
    let larder = Larder::built_in().expect("the built-in tables");
    let mut sheet = Sheet::new(TWO, Locale::Us);
    let mut baked = |part: Option<&str>| {
        sheet.size = part.map(|p| recipe::size::Ask {
            part: Some(p.to_owned()),
            only: true,
            ..recipe::size::Ask::times(2.0)
        });
        let w = work(&sheet, &[], &larder, &[]).expect("a recipe");
        given(&w.rework, &w.batch, &larder, None).map(|g| (g.what, g.makes.as_grams().round()))
    };
    // 100 + 60 + 60 g of crumble go on the whole one.
    let whole = baked(None).expect("the cake");
    assert_eq!(whole.0, "cake and crumble");
    assert_eq!(
        baked(Some("cake")),
        Some(("cake".to_owned(), 2.0 * (whole.1 - 220.0)))
    );
    assert_eq!(baked(Some("crumble")).expect("baked").0, "crumble");
    assert_eq!(
        baked(Some("icing")),
        None,
        "nothing of it goes into the oven"
    );
}

/// A recorded bake (`checks/bread_core.tsv`, its source there): fitted at the time its core stood at
/// 88 °C, the curve of the model is within 10 °C of what was recorded before, 4 °C on the mean. It is
/// late in the third minute: this bread lagged by one minute, not by the middle two.
#[test]
fn a_recorded_core_follows_the_model() {
    let recorded: Vec<(f64, f64)> = include_str!("../../../checks/bread_core.tsv")
        .lines()
        .filter(|l| l.starts_with(|c: char| c.is_ascii_digit()))
        .map(|l| {
            let (m, c) = l.split_once('\t').expect("two columns");
            (m.parse().expect("minutes"), c.parse().expect("degrees"))
        })
        .collect();
    let says = [
        (HeatField::KnownPan, "round 7.2x3.5 cm"),
        (HeatField::KnownOven, "190 C"),
        (HeatField::KnownTime, "8 min"),
        (HeatField::Core, "88 C"),
        (HeatField::Start, "23.7 C"),
        (HeatField::Pan, "round 7.2x3.5 cm"),
    ];
    let b = of_style(Style::from_key("lean_bread"), None, &says).expect("a bake");
    let curve = &b.known_curve.points;
    let at = |minute: f64| {
        let i = curve
            .partition_point(|p| p.0 < minute)
            .clamp(1, curve.len() - 1);
        let (a, c) = (curve[i - 1], curve[i]);
        a.1 + (minute - a.0) / (c.0 - a.0) * (c.1 - a.1)
    };
    let off: Vec<f64> = recorded
        .iter()
        .filter(|r| r.0 <= 8.0)
        .map(|(m, c)| (at(*m) - c).abs())
        .collect();
    assert_eq!(off.len(), 9);
    let furthest = off.iter().copied().fold(0.0, f64::max);
    let mean = off.iter().sum::<f64>() / 9.0;
    assert!(furthest < 10.0 && mean < 4.0, "{off:?}");
    // Heat gets in faster than the middle films have it, within what a known bake is taken for.
    assert!((1.0..2.0).contains(&b.speed), "{}", b.speed);
}

/// The butter that is folded in was in Size's weight, not in Heat's nor in that of the sheet
/// rolled out.
#[test]
fn butter_that_is_folded_in_is_in_the_pan() {
    let text = "Folded Snails\nMakes 12\n\nFor the dough\n500 g bread flour\n60 g sugar\n7 g instant yeast\n9 g salt\n250 g milk\n1 egg\n\nFor the lamination\n170 g cold butter\n\nFor the pastry cream\n300 g milk\n3 egg yolks\n60 g sugar\n25 g cornflour\n\nMethod\n1. Knead the dough for 8 minutes, let rise 1 hour, then chill 2 hours.\n2. Make the pastry cream: heat the milk, whisk yolks, sugar and cornflour, cook 2 minutes.\n3. Roll the dough to 20 x 40 cm, lock in the butter and give three single folds, chilling 30 minutes between each.\n4. Roll to 30 x 40 cm, spread with the cream, roll up and cut into 12. Set on a 33 x 23 x 5 cm tin.\n5. Rise 1 hour. Bake at 190 C for 25 minutes.\n";
    let larder = Larder::built_in().expect("the built-in tables");
    let w = work(&Sheet::new(text, Locale::Metric), &[], &larder, &[]).expect("a recipe");
    let g = given(&w.rework, &w.batch, &larder, None).expect("it is baked");
    let parts = w.batch.components.iter();
    let all: f64 = parts.map(|c| c.makes.likely().as_grams()).sum();
    assert!(
        (g.makes.as_grams() - all).abs() < 0.5,
        "{} of {all}",
        g.makes.as_grams()
    );
    let rolled = recipe::shape::dough_of(&w.rework, &w.batch, 0, recipe::shape::Kind::Roll);
    let grams = rolled.grams.expect("weighed").likely().as_grams();
    let dough = w.batch.components[0].makes.likely().as_grams();
    assert!(
        (grams - dough - 170.0).abs() < 0.5,
        "{grams}, the dough alone {dough}"
    );
    // Nothing folds a butter that is spread.
    let plain = text.replace(
        ", lock in the butter and give three single folds, chilling 30 minutes between each",
        "",
    );
    let w = work(&Sheet::new(&plain, Locale::Metric), &[], &larder, &[]).expect("a recipe");
    let rolled = recipe::shape::dough_of(&w.rework, &w.batch, 0, recipe::shape::Kind::Roll);
    let alone = w.batch.components[0].makes.likely().as_grams();
    assert!((rolled.grams.expect("weighed").likely().as_grams() - alone).abs() < 0.5);
}

/// A custard in its case bakes no longer than the method says, on each page; the blind bake of the case
/// does. A cake that is 'just set' is no custard.
#[test]
fn a_custard_in_a_case_bakes_no_longer_than_before() {
    const TART: &str = "Nutmeg Tart\nServes 8\n\nPastry\n200 g plain flour\n100 g butter\n1 egg yolk\n\nCustard\n500 ml double cream\n8 egg yolks\n80 g caster sugar\n\nMethod\n1. Rub the butter into the flour, bring together with the yolk. Chill for 1 hour.\n2. Roll out and line a 23 cm tart tin. Bake blind at 190 °C for 20 minutes.\n3. Warm the cream, whisk with the yolks and sugar. Pour into the case.\n4. Bake at 140 °C for 40 minutes until just set.\n";
    let g = read(TART, None);
    let minutes = g
        .time
        .map(|t| (t.low().as_minutes(), t.high().as_minutes()));
    assert!(g.custard);
    assert_eq!(minutes, Some((40.0, 40.0)));
    let larder = Larder::built_in().expect("the built-in tables");
    let of = |text: &str| {
        let sheet = recipe::sheet::Sheet::new(text, Locale::Uk);
        recipe::sheet::work(&sheet, &[], &larder, &[]).expect("a recipe")
    };
    let bakes = |text: &str| -> Vec<bool> {
        let all = recipe::rework::timing::bakes(&of(text).formula.recipe);
        all.iter().map(|b| b.reworked.is_some()).collect()
    };
    assert_eq!(bakes(TART), [true, false]);
    let w = of(TART);
    let notes: Vec<&str> = w
        .rework
        .components
        .iter()
        .flat_map(|c| &c.method_notes)
        .filter(|n| n.step == Some(4))
        .map(|n| n.rule)
        .collect();
    assert!(
        notes.contains(&"bake as before") && !notes.contains(&"bake longer"),
        "{notes:?}"
    );
    let brownies = "Brownies\n\n200 g butter\n200 g dark chocolate\n250 g sugar\n3 eggs\n120 g plain flour\n\n1. Melt the butter and chocolate, stir in the sugar, eggs and flour.\n2. Bake in a 20 cm square tin at 180 °C for 25 minutes until just set.\n";
    assert_eq!(bakes(brownies), [true]);
}

/// Worked by hand: crackers on a sheet have no middle to probe and no pan to measure; in a tin, or with a
/// core of the baker's own, the figures that are needed are asked for.
#[test]
fn what_is_done_by_its_colour_needs_no_pan() {
    let text = "Seed crackers\nMakes 30 crackers\n200 g plain flour\n60 ml olive oil\n80 ml water\n5 g salt\n\nMix, roll out to 2 mm, cut into squares and bake at 180C for 15-18 minutes until crisp.\n";
    let g = read(text, None);
    let said = baked(Some(&g), &[(HeatField::Oven, "160C")]).expect_err("no answer");
    assert!(said.contains("by its colour and crispness"), "{said}");
    let own = [(HeatField::Oven, "160C"), (HeatField::Core, "97C")];
    let said = baked(Some(&g), &own).expect_err("no answer");
    assert!(said.starts_with("still needed"), "{said}");
    let tin = text.replace("and bake", "lay in a greased cake tin and bake");
    let said = baked(Some(&read(&tin, None)), &[(HeatField::Oven, "160C")]).expect_err("no answer");
    assert!(said.starts_with("still needed"), "{said}");
}

/// Worked by hand: two loaves, each in a tin, are two tins of half the dough; slices are in no tin each.
#[test]
fn a_tin_for_each_loaf_is_as_many_tins() {
    let text = |makes: &str, put: &str| {
        format!(
            "Plain loaves\n{makes}\n\n500 g bread flour\n300 g water\n7 g instant yeast\n8 g salt\n\nMix, let rise 1 hour and divide in half. {put}\nLet rise 45 minutes. Bake at 350°F for 35 minutes.\n"
        )
    };
    let each = "Place each in a greased 9 x 5 inch loaf pan.";
    for (makes, put, pans) in [
        ("Makes 2 loaves", each, 2),
        ("Makes 2 plaits, 16 slices", each, 2),
        (
            "Makes 2 loaves",
            "Place in a greased 9 x 5 inch loaf pan.",
            1,
        ),
        ("Serves 4", each, 1),
        ("Makes 16 slices", each, 1),
    ] {
        assert_eq!(read(&text(makes, put), None).pans, pans, "{makes}: {put}");
    }
}

/// 400 g of flour, butter and sugar pressed into 600 cm² at 1.2 g/mL stand 6 mm deep: they are done by their colour, as
/// on a sheet, and are no tin full to its rim. With 1.6 kg they are 22 mm deep and bake by their middle.
#[test]
fn thin_fingers_are_done_by_their_colour() {
    const FINGERS: &str = "Butter Fingers\n\nMakes 20 fingers\n\n200 g plain flour\n130 g butter\n70 g caster sugar\n\nPress into a 20 x 30 cm tin, bake at 160C for 35 minutes. Cut into 20 fingers.\n";
    let n = notes(&[(HeatField::Pan, "20x20x5cm")]);
    let told = plain(&n, &read(FINGERS, None)).bake().expect_err("no time");
    assert!(matches!(told, AskError::ByColour(_)), "{told:?}");
    let thick = FINGERS
        .replace("200 g", "800 g")
        .replace("130 g", "520 g")
        .replace("70 g", "280 g");
    let g = read(&thick, None);
    let ask = plain(&n, &g).bake().expect("read").expect("a new pan");
    let known = ask.known_dough.expect("what the recipe makes").as_grams();
    assert!((1590.0..1640.0).contains(&known), "{known}");
}

/// A loaf tin two thirds full and the rest in muffin cases: the 1 kg that the recipe makes is in neither, and the 55
/// minutes are those of the larger tin, whichever is named first.
#[test]
fn what_two_tins_share_is_not_all_in_one() {
    const SHARED: &str = "Almond Loaf\n\n300 g plain flour\n200 g sugar\n200 g butter\n4 eggs\n3 tsp baking powder\n100 g milk\n\n1. Beat the butter and sugar, beat in the rest.\n2. FILL.\n3. Bake the loaf at 180C for 55 minutes and the muffins for 20 minutes.\n";
    let n = notes(&[(HeatField::Pan, "round 18x5 cm")]);
    for fill in [
        "Fill a 9x5 inch loaf tin two thirds with the batter, and spoon the rest into a 12-hole muffin tin",
        "Half fill a 12-hole muffin tin, and pour the rest of the batter into a 9x5 inch loaf tin",
    ] {
        let g = read(&SHARED.replace("FILL", fill), None);
        let figures = plain(&n, &g);
        assert_eq!(figures.value(HeatField::KnownDough), None, "{fill}");
        let pan = figures.value(HeatField::KnownPan).expect("a pan").shown();
        assert!(pan.starts_with("loaf tin"), "{pan}");
        let told = figures.remarks(false);
        assert!(
            told.iter().any(|a| a.words.contains("muffin tin")),
            "{told:?}"
        );
    }
    let one = SHARED.replace("FILL", "Pour into a greased 9x5 inch loaf tin");
    let g = read(&one, None);
    assert!(plain(&n, &g).value(HeatField::KnownDough).is_some());
}
