//! Sentences of our own, each with what must be read from it.

mod heats;

use super::*;
use proptest::prelude::*;
use quantity::{Length, Temperature, Time};

fn round(x: f64) -> f64 {
    (x * 10.0).round() / 10.0
}

fn range(low: f64, likely: f64, high: f64) -> String {
    let (low, likely, high) = (round(low), round(likely), round(high));
    if low == high {
        format!("{likely}")
    } else {
        format!("{low}/{likely}/{high}")
    }
}

/// A fact in a few letters: `oven 180`, `20/22.5/25 min bake`, `pan 9-inch tin [228.6]`.
fn short(kind: &FactKind) -> String {
    match kind {
        FactKind::Temperature { value: v, of } => {
            let of = match of {
                Heat::Oven => "oven",
                Heat::FanOven => "fan",
                Heat::Core => "core",
                Heat::Other => "other",
            };
            let c = Temperature::as_celsius;
            format!("{of} {}", range(c(v.low()), c(v.likely()), c(v.high())))
        }
        FactKind::Duration { value: v, doing } => {
            let m = Time::as_minutes;
            let doing = doing.map_or("?", Activity::word);
            format!(
                "{} min {doing}",
                range(m(v.low()), m(v.likely()), m(v.high()))
            )
        }
        FactKind::Doing(a) => a.word().to_owned(),
        FactKind::Pan { words, sizes } => {
            let sizes: Vec<_> = sizes
                .iter()
                .map(|s| round(s.as_millimetres()).to_string())
                .collect();
            format!("pan {words} [{}]", sizes.join(" "))
        }
        FactKind::Thickness(v) => {
            let m = Length::as_millimetres;
            format!("thick {}", range(m(v.low()), m(v.likely()), m(v.high())))
        }
        FactKind::RiseTo(x) => format!("rise to {x}"),
    }
}

fn read(text: &str) -> String {
    let facts: Vec<_> = step(1, text, None)
        .facts
        .iter()
        .map(|f| short(&f.kind))
        .collect();
    facts.join("; ")
}

fn check(table: &[(&str, &str)]) {
    let wrong: Vec<_> = table
        .iter()
        .map(|(text, want)| (text, want, read(text)))
        .filter(|(_, want, got)| *want != got)
        .map(|(text, want, got)| format!("{text}\n  want {want}\n  got  {got}"))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {} wrong:\n{}",
        wrong.len(),
        table.len(),
        wrong.join("\n")
    );
}

#[test]
fn temperatures() {
    check(&[
        ("Preheat the oven to 350°F.", "heat the oven; oven 176.7"),
        ("Preheat oven to 350 F", "heat the oven; oven 176.7"),
        (
            "Heat the oven to 350 degrees F.",
            "heat the oven; oven 176.7",
        ),
        (
            "Pre-heat the oven to 350F/180C/gas 4.",
            "heat the oven; oven 176.7",
        ),
        (
            "Heat the oven to 200°C (180°C fan, gas mark 6).",
            "heat the oven; oven 200; fan 180",
        ),
        (
            "Preheat the oven to 160°C fan/180°C.",
            "heat the oven; fan 160; oven 180",
        ),
        (
            "Set the oven at 180 C fan and bake until brown.",
            "fan 180; bake",
        ),
        (
            "Preheat the oven to 200C/fan 180C/gas 6.",
            "heat the oven; oven 200; fan 180",
        ),
        ("Preheat the fan oven to 170°C.", "heat the oven; fan 170"),
        (
            "Bake at gas mark 4 for 20 minutes.",
            "oven 176.7; 20 min bake",
        ),
        ("Bake at gas 4-5.", "bake; oven 176.7/183.6/190.6"),
        (
            "Preheat the oven to gas mark 4/180C.",
            "heat the oven; oven 176.7",
        ),
        (
            "Preheat the oven to gas mark ½.",
            "heat the oven; oven 121.1",
        ),
        ("Bake at 350°F (200°C).", "bake; oven 176.7; oven 200"),
        ("Preheat the oven to 350/180.", "heat the oven; oven 176.7"),
        ("Preheat the oven to 350.", "heat the oven; oven 176.7"),
        ("Oven: 180 ºC, then 160 ºC.", "oven 180; oven 160"),
        (
            "Bake at 180°C until the centre reads 96 °C.",
            "bake; oven 180; core 96",
        ),
        (
            "Bake to an internal temperature of 205°F, about 35 minutes.",
            "core 96.1; 35 min bake",
        ),
        ("Bake 60 minutes to 205°F.", "60 min bake; core 96.1"),
        (
            "Bake at 350°F for 55 to 65 minutes to 205°F.",
            "oven 176.7; 55/60/65 min bake; core 96.1",
        ),
        (
            "Bake for 20 minutes, then reduce to 100°C.",
            "20 min bake; oven 100",
        ),
        ("Bake in an oven turned down to 100°C.", "bake; oven 100"),
        (
            "It is done when it reaches 96–98 °C in the middle.",
            "core 96/97/98",
        ),
        (
            "Bake until a thermometer reads 205 degrees.",
            "bake; core 96.1",
        ),
        (
            "Stir the yeast into lukewarm water (110°F).",
            "mix; other 43.3",
        ),
        ("Warm the milk to 38-40 °C.", "other 38/39/40"),
        (
            "Dough temperature should be 24°C to 26°C.",
            "other 24/25/26",
        ),
        ("Boil the syrup to 118°C.", "boil; other 118"),
        ("Heat slowly until the butter has melted.", "boil"),
        ("Heat the butter until it foams.", "fry"),
        // A braise at the heat of an oven is in the oven; 2.5 h = 150 min.
        ("Braise at 160°C for 2 1/2 hours.", "oven 160; 150 min bake"),
        (
            "Fry the beef, pour in the milk and simmer at 160 °C (140 °C fan) for 2 hours.",
            "fry; oven 160; fan 140; 120 min bake",
        ),
        (
            "Cook in the oven for 20 minutes at 200°C.",
            "20 min bake; oven 200",
        ),
        (
            "Cook the sugar to 160°C, 10 minutes.",
            "other 160; 10 min boil",
        ),
        ("Braise for 2 hours.", "120 min boil"),
        (
            "Fry at 175 °C for 2 minutes a side.",
            "other 175; 2 min fry",
        ),
        ("Reduce the oven from 220°C to 180°C.", "oven 220; oven 180"),
        (
            "Bake at 375-400°F for 20 min.",
            "oven 190.6/197.5/204.4; 20 min bake",
        ),
        ("Freeze at -18 °C.", "freeze; other -18"),
        ("Sift 2 c flour with 1 c sugar.", ""),
        ("Preheat the oven to 200⁰C.", "heat the oven; oven 200"),
        ("Preheat the oven to 250/120C.", "heat the oven; oven 121.1"),
        ("Oven 220C fan, 25 minutes.", "fan 220; 25 min bake"),
        ("Chill for 1 hour (up to 2 days).", "60/1470/2880 min chill"),
        ("Preheat to 230 ℃.", "heat the oven; oven 230"),
    ]);
}

#[test]
fn scale_doubts() {
    for (text, want, doubts) in [
        ("Bake at 200 degrees.", "bake; oven 200", 1),
        ("Bake at 275 degrees.", "bake; oven 135", 1),
        ("Bake at 350 degrees.", "bake; oven 176.7", 0),
        ("Bake at 170 degrees.", "bake; oven 170", 0),
        (
            "Bake at 450°F, then lower to 250 degrees.",
            "bake; oven 232.2; oven 121.1",
            0,
        ),
        ("Preheat the oven to 180°C.", "heat the oven; oven 180", 0),
    ] {
        let step = step(1, text, None);
        assert_eq!(read(text), want, "{text}");
        assert_eq!(step.doubts.len(), doubts, "{text}");
        assert!(
            step.doubts
                .iter()
                .all(|d| d.code == DoubtCode::TemperatureScale && d.span.is_some())
        );
    }
}

#[test]
fn times() {
    check(&[
        ("Knead for 10 minutes.", "10 min knead"),
        (
            "Knead 8–10 mins by hand or 5 min. in a mixer.",
            "8/9/10 min knead; 5 min knead",
        ),
        ("Bake for 20 to 25 minutes.", "20/22.5/25 min bake"),
        // No oven is hot for a night but a low one.
        (
            "To bake the frozen rolls, thaw overnight in the fridge and bake as above.",
            "480/600/720 min chill; bake",
        ),
        (
            "Bake for 25 minutes at 180°C, wrap overnight.",
            "25 min bake; oven 180; 480/600/720 min rest",
        ),
        ("Bake at 90°C, overnight.", "oven 90; 480/600/720 min bake"),
        ("Bake for 1 hour 20 minutes.", "80 min bake"),
        ("Bake for 1 hr and 10 min.", "70 min bake"),
        ("Bake 1h20, turning once.", "80 min bake"),
        ("Prove for 1½ hours.", "90 min rise"),
        ("Prove for 1 1/2 hours.", "90 min rise"),
        ("Prove for 1-1/2 hours.", "90 min rise"),
        ("Let rise for one and a half hours.", "90 min rise"),
        ("Let rise an hour and a half.", "90 min rise"),
        ("Let it rise for an hour or two.", "60/90/120 min rise"),
        ("Rest for half an hour.", "30 min rest"),
        ("Rest for three quarters of an hour.", "45 min rest"),
        ("Simmer for a few minutes.", "2/3/5 min boil"),
        ("Chill overnight.", "480/600/720 min chill"),
        (
            "Chill for at least 4 hours or overnight.",
            "240/480/720 min chill",
        ),
        ("Chill overnight (10–12 hours).", "600/660/720 min chill"),
        ("Proof for 45 minutes to 1 hour.", "45/52.5/60 min rise"),
        (
            "Chill for 30 minutes and up to 2 days.",
            "30/1455/2880 min chill",
        ),
        ("Ferment for 2 days.", "2880 min rise"),
        ("Whip the cream for 30 seconds.", "0.5 min whip"),
        ("Knead for another 5 minutes.", "5 min knead"),
        ("Frost it and chill another hour.", "60 min chill"),
        (
            "Pierce and return to the turned-off oven for 10 minutes.",
            "10 min rest",
        ),
        (
            "Bake for 25 minutes. Leave in the oven with the door ajar for 2 hours.",
            "25 min bake; 120 min rest",
        ),
        (
            "Turn off the oven. Leave the cake in the oven for 1 hour.",
            "60 min rest",
        ),
        (
            "Leave in the oven, without opening the door, for 30 minutes.",
            "30 min bake",
        ),
        (
            "Stand in a roasting tin and bake for 20 minutes.",
            "pan roasting tin []; 20 min bake",
        ),
        ("Stand the dishes in a tin, then chill.", "chill"),
        ("Leave to stand in the tin for 5 minutes.", "5 min rest"),
        ("Bake 10 to 15 more minutes.", "10/12.5/15 min bake"),
        ("Bake for twenty-five minutes.", "25 min bake"),
        ("Bake between 20 and 25 minutes.", "20/22.5/25 min bake"),
        ("Give it a 20-minute rest.", "20 min rest"),
        (
            "After 10 minutes of kneading the dough is smooth.",
            "10 min knead",
        ),
        ("Melt in the microwave in 30-second bursts.", "melt"),
        ("Fold every 30 minutes for 2 hours.", "120 min fold"),
    ]);
}

#[test]
fn what_a_time_is_for() {
    check(&[
        (
            "Mix, then knead for 10 minutes and leave to rise for 1 hour.",
            "mix; 10 min knead; 60 min rise",
        ),
        (
            "Cover and leave in a warm place for 1 hour, until doubled in size.",
            "60 min rise; rise to 2",
        ),
        ("Leave for 1 hour to prove.", "60 min rise"),
        (
            "Cover and set aside for 15 minutes, then shape.",
            "15 min rest; shape",
        ),
        ("Wrap and place in the fridge for 2 hours.", "120 min chill"),
        (
            "Leave in the refrigerator overnight.",
            "480/600/720 min chill",
        ),
        (
            "Let the dough rise in the fridge for 8 hours.",
            "chill; 480 min rise",
        ),
        (
            "Remove from the fridge and rest for 20 minutes.",
            "20 min rest",
        ),
        ("Put into the hot oven for 30 minutes.", "30 min bake"),
        ("Cook, stirring constantly, for 5 minutes.", "5 min boil"),
        ("Let stand 10 minutes before slicing.", "10 min rest"),
        ("For 10 minutes, knead the dough.", "10 min knead"),
        ("Cool in the tin for 5 minutes.", "5 min cool"),
        (
            "Bake for 30–35 mins, covering with foil after 20 mins if it browns too fast.",
            "30/32.5/35 min bake",
        ),
        (
            "Bake for 40 minutes, turning the tray after about 15 minutes and uncovering it for the last 10 minutes.",
            "40 min bake",
        ),
        (
            "Bake for 20 minutes at 220 °C, then at 180 °C for the last 10 minutes.",
            "20 min bake; oven 220; oven 180; 10 min bake",
        ),
        ("Stretch each ball to a circle.", "shape"),
        (
            "Stretch and fold the dough. Rest 20 minutes.",
            "fold; 20 min rest",
        ),
        ("Leave to get completely cold.", "cool"),
        ("Let it go cold, then slice.", "cool"),
        ("Set aside until cold.", "cool"),
        ("Stir in the cold water. Leave in a cold place.", "mix"),
        ("Chill until cold.", "chill"),
        ("Glaze: sift the icing sugar.", ""),
        (
            "Bake 5 minutes at 425°F, then reduce to 350°F and bake 15 more.",
            "5 min bake; oven 218.3; oven 176.7; 15 min bake",
        ),
        (
            "Bake blind for 18 minutes, then 6 without the beans.",
            "18 min bake; 6 min bake",
        ),
        ("Bake 12 more.", "bake"),
        ("Bake 5 minutes, then turn 3 more tins.", "5 min bake"),
        (
            "Bake for 15 minutes, then lower to 180°C for another 20 minutes.",
            "15 min bake; oven 180; 20 min bake",
        ),
        (
            "Once the dough has been kneaded for 8 minutes, cover it.",
            "8 min knead",
        ),
        ("Add the rest of the flour and mix.", "mix"),
        ("Grease a baking sheet.", "grease; pan baking sheet []"),
        ("Add the baking powder and mixing water.", ""),
        ("Beat the egg whites to stiff peaks.", "whip"),
        ("Beat the butter and sugar until fluffy.", "cream"),
        ("Cream the butter. Pour in the double cream.", "cream"),
        ("Rub in the butter, then cut in the lard.", "rub in"),
        ("Melt over low heat.", "melt"),
        ("Knead. Knead again.", "knead"),
        ("If it springs back in 2 seconds, bake.", "0 min ?; bake"),
    ]);
}

#[test]
fn what_is_forbidden_is_no_order() {
    check(&[
        ("Do not knead it.", ""),
        ("Don't knead or roll the dough.", ""),
        ("Don’t knead.", ""),
        ("Bring together without kneading.", ""),
        ("There is no need to knead.", ""),
        ("It needs no kneading; shape it.", "shape"),
        ("A no-knead loaf.", ""),
        ("Never let it boil.", ""),
        ("Do not bake for more than 20 minutes.", "20 min bake"),
        ("Do not stop stirring; simmer for 5 minutes.", "5 min boil"),
        ("Do not rush, and knead for 5 minutes.", "5 min knead"),
    ]);
}

#[test]
fn flour_on_the_bench() {
    check(&[
        ("Dust the bench with flour.", "dust"),
        (
            "Dust a board, a pin and your hands with a little flour.",
            "dust",
        ),
        ("Dust the tray.", "dust"),
        ("Lightly flour the work surface.", "dust"),
        ("Flour the board.", "dust"),
        ("Roll the dough on a floured counter.", "roll; dust"),
        ("Turn out on to a lightly floured work surface.", "dust"),
        ("Sprinkle the counter with flour.", "dust"),
        ("Sprinkle some flour over the worktop.", "dust"),
        (
            "Grease and flour a 20 cm cake tin.",
            "grease; dust; pan 20 cm cake tin [200]",
        ),
        ("Dust the loaf with flour.", "dust"),
        (
            "Grease and flour two loaf tins.",
            "grease; dust; pan two loaf tins []",
        ),
        ("Dust the bench with rice flour.", ""),
        ("Dust the top with icing sugar.", ""),
        ("Dust with cocoa to serve.", ""),
        ("Dust in the flour and stir.", "mix"),
        ("Dust the flour over the onions.", ""),
        ("Stir in the flour.", "mix"),
        ("Sift the flour with the soda.", ""),
    ]);
}

#[test]
fn rubbing_and_frying() {
    check(&[
        ("Rub the pan with a little butter.", "grease"),
        ("Rub it with oil.", "grease"),
        ("Rub the fat into the flour.", "rub in"),
        ("Rub together with your fingers.", "rub in"),
        ("Rub the flour and the cold butter together.", "rub in"),
        (
            "Set a skillet over a low heat. Cook for 2 minutes, then flip.",
            "pan skillet []; 2 min fry",
        ),
        (
            "Melt the butter in a pan. Cook the onions for 10 minutes.",
            "melt; 10 min fry",
        ),
        (
            "Melt the butter. Add the milk and cook for 5 minutes.",
            "melt; 5 min boil",
        ),
        ("Heat the oil in a pan.", "fry"),
        ("Heat the milk.", "boil"),
        ("Cook the rice for 12 minutes.", "12 min boil"),
    ]);
}

/// 'The rest' is what remains; a rest has a time, or nothing that is put in bit by bit before it.
#[test]
fn what_remains_is_no_rest() {
    check(&[
        (
            "Beat the cheese; add yolks one at a time, then rest.",
            "mix",
        ),
        ("Rub butter into the flour, stir in rest.", "rub in; mix"),
        ("Stir rest. Pour in.", "mix"),
        ("Mix to a dough, then rest.", "mix; rest"),
        ("Add the water, then rest for 20 minutes.", "20 min rest"),
        ("Knead and rest.", "knead; rest"),
    ]);
}

#[test]
fn an_oven_is_set_by_what_is_heated_in_it() {
    check(&[
        (
            "Set a cast-iron pan in the oven and heat to 425.",
            "heat the oven; oven 218.3",
        ),
        (
            "Heat the lard in a skillet at 425°. Pour in. Bake 25 min.",
            "boil; pan skillet []; oven 218.3; 25 min bake",
        ),
        ("Warm the milk in the oven and heat the oil to 350.", "fry"),
    ]);
}

#[test]
fn oven_words() {
    check(&[
        (
            "Bake in a moderate oven for an hour.",
            "oven 165/180/195; 60 min bake",
        ),
        ("Bake in a hot oven.", "bake; oven 205/225/240"),
        ("Bake in a very hot oven.", "bake; oven 230/240/260"),
        ("Bake in a moderately hot oven.", "bake; oven 185/195/210"),
        ("Dry them in a very cool oven.", "oven 100/115/130"),
        ("Leave in a slow oven.", "oven 130/145/160"),
        ("Put them into the hot oven.", ""),
        ("Bake in a moderate oven, 180 °C.", "bake; oven 180"),
        ("Bake in a hot oven (gas mark 7).", "bake; oven 218.3"),
        ("Cook over a moderate heat.", "boil"),
    ]);
    let doubts = step(1, "Bake in a slow oven.", None).doubts;
    assert_eq!(doubts.len(), 1);
    assert_eq!(doubts[0].code, DoubtCode::TemperatureScale);
}

#[test]
fn pans() {
    check(&[
        (
            "Grease a 23 cm round tin.",
            "grease; pan 23 cm round tin [230]",
        ),
        (
            "Line a 9-inch springform.",
            "grease; pan 9-inch springform [228.6]",
        ),
        (
            "Pour into a 9 x 13 inch pan.",
            "pan 9 x 13 inch pan [330.2 228.6]",
        ),
        (
            "Use a 9x5x3-inch loaf pan.",
            "pan 9x5x3-inch loaf pan [228.6 127 76.2]",
        ),
        ("Fill a 12-cup muffin tin.", "pan 12-cup muffin tin []"),
        ("Use a 20cm square tin.", "pan 20cm square tin [200]"),
        ("Spread on a half sheet pan.", "pan half sheet pan []"),
        (
            "Divide between two 8-inch cake pans.",
            "shape; pan two 8-inch cake pans [203.2]",
        ),
        ("Tip into a 900 g loaf tin.", "pan 900 g loaf tin []"),
        ("Tip into a 900g/2lb loaf tin.", "pan 900g/2lb loaf tin []"),
        (
            "Use a 23 cm (9-inch) springform tin.",
            "pan 23 cm (9-inch) springform tin [230]",
        ),
        (
            "Use a 9\" round cake tin.",
            "pan 9\" round cake tin [228.6]",
        ),
        (
            "Use a 13- by 9-inch baking dish.",
            "pan 13- by 9-inch baking dish [330.2 228.6]",
        ),
        ("Use a deep cake tin (20 cm).", "pan cake tin (20 cm) [200]"),
        ("Pour it into the pan.", ""),
        ("Add a tin of tomatoes.", ""),
        ("Use a Swiss roll tin.", "pan Swiss roll tin []"),
    ]);
}

#[test]
fn thicknesses_and_rises() {
    check(&[
        ("Roll out to 5 mm.", "roll; thick 5"),
        ("Roll out the dough 1/4 inch thick.", "roll; thick 6.4"),
        ("Roll the pastry 3mm thick.", "roll; thick 3"),
        ("Roll to a thickness of 3–4 mm.", "roll; thick 3/3.5/4"),
        ("Roll out to about ¼ in (6 mm) thick.", "roll; thick 6.4"),
        ("Roll out to a 30 cm circle.", "roll"),
        ("Roll out to a 20 x 30 cm rectangle.", "roll"),
        ("Let rise until doubled.", "rise; rise to 2"),
        ("Leave until puffy, about 40 minutes.", "40 min rise"),
        ("Cover and leave for 40 minutes until puffy.", "40 min rise"),
        ("Let the rolls puff up for 30 minutes.", "30 min rise"),
        ("Let it puff up.", "rise"),
        ("Cover and leave until puffed.", "rise"),
        (
            "Bake for 20 minutes until puffed and golden.",
            "20 min bake",
        ),
        ("Roll out the puff pastry.", "roll"),
        (
            "Sprinkle the gelatine over the water and leave for 5 minutes until puffy.",
            "5 min rest",
        ),
        (
            "Let rise until double in size, about 1 hour.",
            "rise to 2; 60 min rise",
        ),
        (
            "It should grow by about a third.",
            "rise to 1.3333333333333333",
        ),
        ("Prove until tripled in volume.", "rise; rise to 3"),
        ("Prove until grown by half.", "rise; rise to 1.5"),
        ("Let it rise until increased by 50%.", "rise; rise to 1.5"),
        ("Let rise to 1.5 times its volume.", "rise; rise to 1.5"),
        ("Simmer until reduced by half.", "boil"),
        ("Whip the double cream.", "whip"),
        (
            "Knead until it passes the windowpane test.",
            "knead; windowpane",
        ),
        ("Stretch a piece: you want a window pane.", "windowpane"),
        ("Knock back the dough and shape it.", "knock back; shape"),
        ("Punch the dough down.", "knock back"),
    ]);
}

#[test]
fn spans_show_the_words() {
    let text = "Heat the oven to 180 °C – bake 20–25 minutes in a 23 cm round tin.";
    let words: Vec<_> = step(1, text, None)
        .facts
        .iter()
        .map(|f| text[f.span.clone()].to_owned())
        .collect();
    assert_eq!(
        words,
        ["Heat", "180 °C", "20–25 minutes", "23 cm round tin"]
    );
}

fn sound(text: &str) {
    let step = step(1, text, None);
    for f in &step.facts {
        assert!(text.get(f.span.clone()).is_some(), "{text:?} {f:?}");
        let ordered = match &f.kind {
            FactKind::Temperature { value: v, .. } => {
                v.low() <= v.likely() && v.likely() <= v.high()
            }
            FactKind::Duration { value: v, .. } => v.low() <= v.likely() && v.likely() <= v.high(),
            FactKind::Thickness(v) => v.low() <= v.likely() && v.likely() <= v.high(),
            FactKind::RiseTo(x) => x.is_finite(),
            FactKind::Pan { .. } | FactKind::Doing(_) => true,
        };
        assert!(ordered, "{text:?} {f:?}");
    }
    for d in &step.doubts {
        assert!(
            d.span.clone().is_none_or(|s| text.get(s).is_some()),
            "{text:?} {d:?}"
        );
    }
}

proptest! {
    #[test]
    fn any_text_is_read_soundly(text in "\\PC*") {
        sound(&text);
    }

    /// Words of methods in any order, so that the readers are reached.
    #[test]
    fn any_words_are_read_soundly(parts in prop::collection::vec(prop::sample::select(vec![
        "bake", "knead", "leave", "350", "180", "1e300", "1/0", "½", "1 1/2", "-", "–", "to", "or", "°F", "°C", "C",
        "fan", "gas", "mark", "4", "/", "(", ")", ",", ".", "minutes", "hour", "overnight", "a", "half", "an", "and",
        "up", "x", "inch", "cm", "in", "pan", "loaf", "springform", "thick", "roll", "doubled", "by", "50%", "⁰",
        "the", "oven", "fridge", "of", "few", "from", "degrees", "centre", "ºF", "é", "\n", "99999999999999999999",
        "window", "pane", "times", "size", "200⁰", "0", "\u{301}", "between", "twenty",
    ]), 0..40), glue in prop::sample::select(vec!["", " "])) {
        sound(&parts.join(glue));
    }
}

#[test]
#[ignore = "a measure, not a check"]
#[allow(
    clippy::disallowed_methods,
    reason = "a measure needs a clock; it is no part of the crate"
)]
fn speed() {
    let text = "Preheat the oven to 350°F/180°C/gas 4 and grease a 9 x 13 inch baking pan. Knead the dough for \
                10 minutes, then leave to rise for 1½ hours, until doubled in size. Bake for 20–25 minutes.";
    let start = std::time::Instant::now();
    let facts: usize = (0..100_000).map(|_| step(1, text, None).facts.len()).sum();
    let one = start.elapsed() / 100_000;
    let long = "leave 1 min cook ".repeat(20_000);
    let start = std::time::Instant::now();
    let more = step(1, &long, None).facts.len();
    println!(
        "{one:?} a step of {} bytes, {facts} facts; {:?} for {more} facts",
        text.len(),
        start.elapsed()
    );
}

/// What is left of a batter is baked, not rested, and 'a second one' is no second.
#[test]
fn what_is_left_is_no_rest_and_one_more_no_second() {
    assert_eq!(
        read("Bake the rest at 160 °C for 40 minutes."),
        "oven 160; 40 min bake"
    );
    assert_eq!(
        read("Bake a second one at 160 °C for 40 minutes."),
        "oven 160; 40 min bake"
    );
    assert_eq!(read("Stir in the rest for 2 minutes."), "2 min mix");
    assert_eq!(read("Let rest 40 minutes."), "40 min rest");
    assert_eq!(
        read("Let rise for a second time, 40 minutes."),
        "40 min rise"
    );
    assert_eq!(read("Blend for a second."), "0 min mix");
}

/// A bare degree takes the scale that all others of the method are written in; where both are, it is asked about.
#[test]
fn a_bare_degree_is_on_the_scale_of_its_method() {
    let celsius = |before: &str, bare: &str| {
        let mut steps = vec![step(1, before, None), step(2, bare, None)];
        of_one_method(&mut steps);
        let heat = steps[1].facts.iter().find_map(|f| match f.kind {
            FactKind::Temperature { value, .. } => Some(value.likely().as_celsius().round()),
            _ => None,
        });
        (heat, steps[1].doubts.len())
    };
    let warm = "Keep warm in a 200° oven.";
    // (200 − 32) × 5/9 = 93.
    assert_eq!(celsius("Heat the griddle to 375°F.", warm), (Some(93.0), 0));
    assert_eq!(
        celsius("Bake at 180 °C for 10 minutes.", warm),
        (Some(200.0), 0)
    );
    let (heat, asked) = celsius("Bake at 350°F (180°C) for 10 minutes.", warm);
    assert_eq!((heat, asked), (Some(200.0), 1));
    assert_eq!(celsius("Mix.", warm).1, 1);
}
