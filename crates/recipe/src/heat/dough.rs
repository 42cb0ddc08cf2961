//! How warm the water of a dough has to be.
//!
//! Two ways, both printed. The bakers' rule, for equal masses:
//!
//! `T_water = n T_dough − (T_room + T_flour + friction [+ T_preferment])`, n = 3, or 4 with a
//! preferment (seen: trade columns and handouts, checks C01–C05). Friction is a difference times n.
//!
//! The heat balance, for the masses there are (project rule R10.2):
//!
//! `T_water = [(m_f c_f + m_w c_w + m_o c_o)(T_dough − ΔT) − m_f c_f T_f − m_o c_o T_o] / (m_w c_w)`
//!
//! with `c_f` 1.8 and `c_w` 4.18 kJ/kg K (flour from memory), `o` what else goes in, and `ΔT` the
//! warming by mixing, 1–3 °C for the short mixing of a gluten-free dough (from memory). Ice at 0 °C
//! takes 334 kJ/kg to melt: of water `W` at `T_tap`, `W c_w (T_tap − T_water) / (334 + c_w T_tap)`
//! is ice.

use super::{Advice, HeatError, PRACTICE, wrong};
use quantity::{Mass, Spread, Temperature};

/// kJ/kg K.
const FLOUR: f64 = 1.8;
const WATER: f64 = 4.18;
/// kJ/kg.
const MELTING: f64 = 334.0;
/// Warming by mixing, K: low, likely, high.
const MIXING: [f64; 3] = [1.0, 2.0, 3.0];
/// Warmer water is refused, °C (project rule R10.3).
pub const HOTTEST_WATER: f64 = 45.0;
/// Colder needs ice, °C.
const COLDEST: f64 = 2.0;
/// As cold as a liquid of a cold fridge is, °C.
const CHILLED: f64 = 3.0;
/// More wetness than this, % of flour, and the rule's equal masses do not hold.
const EQUAL: f64 = 80.0;

/// How much mixing warms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Friction {
    /// Not known: the usual 1–3 °C, and for the rule three times its middle.
    Usual,
    /// The bakers' figure, a difference times n, K.
    Factor(f64),
    /// From a dough of before: its temperature after mixing, and its room, flour, water and
    /// preferment.
    Measured {
        /// The dough after mixing.
        dough: Temperature,
        /// The room then.
        room: Temperature,
        /// Its flour.
        flour: Temperature,
        /// Its water.
        water: Temperature,
    },
}

/// A dough to work out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DoughAsk {
    /// The dough wanted after mixing.
    pub wanted: Temperature,
    /// The room.
    pub room: Temperature,
    /// The flour.
    pub flour: Temperature,
    /// A preferment, where there is one.
    pub preferment: Option<Temperature>,
    /// Friction.
    pub friction: Friction,
    /// Grams of flour and of water, for the balance.
    pub flour_mass: Mass,
    /// Water that can be warmed or cooled.
    pub water_mass: Mass,
    /// What else goes in: grams, water in it by share (0–1), temperature.
    pub other: Option<(Mass, f64, Temperature)>,
    /// Cold water from the tap.
    pub tap: Temperature,
    /// The liquid is milk or another that no ice goes into: it is chilled.
    pub chilled: bool,
}

/// Water as it has to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Water {
    /// So warm, °C.
    At(f64),
    /// Colder than the tap: grams of ice and of tap water.
    Iced {
        /// The temperature that is meant, °C.
        at: f64,
        /// g.
        ice: f64,
        /// g.
        tap: f64,
    },
    /// A liquid that is no water, chilled to this, °C.
    Chilled(f64),
    /// Colder than a liquid is chilled, or melting ice alone can make it.
    TooCold,
    /// Hotter than 45 °C: refused.
    TooHot,
}

/// What can be had instead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coldest {
    /// The dough with water of 45 °C, or with ice alone, °C.
    pub dough: f64,
}

/// What follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Dough {
    /// By the rule, °C.
    pub rule: f64,
    /// n of the rule.
    pub n: usize,
    /// Friction in the rule, K.
    pub friction: f64,
    /// By the balance, °C: low, likely, high over the warming by mixing.
    pub balance: Spread<Temperature>,
    /// Warming by mixing in the balance, K: low, likely, high.
    pub mixing: [f64; 3],
    /// What to do, by the balance.
    pub water: Water,
    /// Where the water cannot be had: the nearest dough.
    pub instead: Option<Coldest>,
    /// Water over flour, %.
    pub wetness: f64,
    /// The liquid is no water.
    pub chilled: bool,
    /// What to mind.
    pub advice: Vec<Advice>,
}

/// Works the water out.
///
/// # Errors
/// [`HeatError`]: a dough outside 0–40 °C, other temperatures outside −30 to 60 °C, no flour or
/// no water.
///
/// # Example
/// ```
/// use quantity::{Mass, Temperature};
/// use recipe::heat::{DoughAsk, Friction, dough};
/// // C06: 100 g of flour at 20 °C and 100 g of water for a dough of 26 °C.
/// let c = Temperature::celsius;
/// let out = dough(&DoughAsk {
///     wanted: c(26.0), room: c(22.0), flour: c(20.0), preferment: None,
///     friction: Friction::Factor(6.0),
///     flour_mass: Mass::grams(100.0), water_mass: Mass::grams(100.0), other: None, tap: c(12.0), chilled: false,
/// })?;
/// assert!((out.rule - 30.0).abs() < 1e-9);
/// assert!((out.balance.likely().as_celsius() - 25.72).abs() < 0.01);
/// # Ok::<(), recipe::heat::HeatError>(())
/// ```
pub fn dough(a: &DoughAsk) -> Result<Dough, HeatError> {
    check(a)?;
    let n = if a.preferment.is_some() { 4 } else { 3 };
    let times = n as f64;
    let (wanted, room, flour) = (
        a.wanted.as_celsius(),
        a.room.as_celsius(),
        a.flour.as_celsius(),
    );
    let friction = friction(a.friction, times);
    let preferment = a.preferment.map_or(0.0, Temperature::as_celsius);
    let rule = times * wanted - (room + flour + friction + preferment);
    let mixing = match a.friction {
        Friction::Usual => MIXING,
        Friction::Factor(_) | Friction::Measured { .. } => [friction / times; 3],
    };
    let kg = |m: Mass| m.as_grams() / 1000.0;
    let (mf, mw) = (kg(a.flour_mass) * FLOUR, kg(a.water_mass) * WATER);
    let (mo, to) = a.other.map_or((0.0, 0.0), |(m, water, t)| {
        (
            kg(m) * (WATER * water + FLOUR * (1.0 - water)),
            t.as_celsius(),
        )
    });
    let all = mf + mw + mo;
    let water_for = |rise: f64| (all * (wanted - rise) - mf * flour - mo * to) / mw;
    let dough_with = |water: f64| (mf * flour + mo * to + mw * water) / all + mixing[1];
    let balance = Spread::new(
        Temperature::celsius(water_for(mixing[2])),
        Temperature::celsius(water_for(mixing[1])),
        Temperature::celsius(water_for(mixing[0])),
    );
    let need = balance.likely().as_celsius();
    let tap = a.tap.as_celsius();
    let grams = a.water_mass.as_grams();
    let melting = MELTING / WATER;
    let (water, instead) = if need > HOTTEST_WATER {
        (Water::TooHot, Some(dough_with(HOTTEST_WATER)))
    } else if a.chilled && need < CHILLED {
        (Water::TooCold, Some(dough_with(CHILLED)))
    } else if a.chilled && need < tap {
        (Water::Chilled(need), None)
    } else if need < tap {
        let share = (tap - need) / (melting + tap);
        if share > 1.0 {
            (Water::TooCold, Some(dough_with(-melting)))
        } else {
            let ice = grams * share;
            (
                Water::Iced {
                    at: need,
                    ice,
                    tap: grams - ice,
                },
                None,
            )
        }
    } else {
        (Water::At(need), None)
    };
    let wetness = 100.0 * grams / a.flour_mass.as_grams();
    let mut out = Dough {
        rule,
        n,
        friction,
        balance,
        mixing,
        water,
        instead: instead.map(|dough| Coldest { dough }),
        wetness,
        chilled: a.chilled,
        advice: Vec::new(),
    };
    out.advice = advice(a, &out);
    Ok(out)
}

/// Friction in the rule of `times` temperatures, K.
fn friction(f: Friction, times: f64) -> f64 {
    match f {
        Friction::Usual => times * MIXING[1],
        Friction::Factor(k) => k,
        Friction::Measured {
            dough,
            room,
            flour,
            water,
        } => {
            let sum = [room, flour, water].map(Temperature::as_celsius);
            (3.0 * dough.as_celsius() - sum.iter().sum::<f64>()) * times / 3.0
        }
    }
}

fn check(a: &DoughAsk) -> Result<(), HeatError> {
    let wanted = a.wanted.as_celsius();
    if !(0.0..=40.0).contains(&wanted) {
        return wrong(format!(
            "a dough of {wanted:.0} °C: write 0–40 °C; gluten-free doughs are usually mixed to 24–28 °C"
        ));
    }
    let mut temperatures = vec![
        ("the room", a.room),
        ("the flour", a.flour),
        ("the tap", a.tap),
    ];
    temperatures.extend(a.preferment.map(|t| ("the preferment", t)));
    temperatures.extend(a.other.map(|(_, _, t)| ("what else goes in", t)));
    for (what, t) in temperatures {
        if !(-30.0..=60.0).contains(&t.as_celsius()) {
            return wrong(format!(
                "{what} at {:.0} °C: write from −30 °C to 60 °C",
                t.as_celsius()
            ));
        }
    }
    if a.tap.as_celsius() < 0.0 {
        return wrong("tap water below 0 °C is ice: write what comes from the tap");
    }
    for (what, m) in [("flour", a.flour_mass), ("water", a.water_mass)] {
        if m.as_grams() < 1.0 {
            return wrong(format!("no {what}: write its grams, 1 or more"));
        }
    }
    let k = friction(a.friction, 3.0);
    if !(-15.0..=60.0).contains(&k) {
        return wrong(format!(
            "a friction of {k:.0} °C: mixing gives 0 to 60; look at the four temperatures of the measured dough"
        ));
    }
    Ok(())
}

fn advice(a: &DoughAsk, out: &Dough) -> Vec<Advice> {
    let mut all = Vec::new();
    let apart = (out.rule - out.balance.likely().as_celsius()).abs();
    if apart >= 2.0 {
        let why = if out.wetness > EQUAL || a.other.is_some() {
            "the rule takes all parts to be of one mass, which this dough is not"
        } else {
            "the rule takes flour and water to be of one mass"
        };
        let take = if a.preferment.is_some() {
            ""
        } else {
            ". Take the balance"
        };
        all.push(Advice::new(
            format!("The two differ by {apart:.0} °C: {why}{take}"),
            "heat balance, derived",
        ));
    }
    if a.preferment.is_some() {
        all.push(Advice::new(
            "The balance leaves the temperature of the preferment out: what is weighed above counts its flour and water as flour at its own temperature and water that can be warmed. Give flour and water without it, and its grams and temperature with the eggs, fat and the rest; then take the balance",
            "heat balance, derived",
        ));
    }
    match out.water {
        Water::TooHot => all.push(Advice::new(
            format!(
                "Water above {HOTTEST_WATER:.0} °C is not for yeast, which is dead at 60 °C. Warm the flour or the room, or take a dough of {:.0} °C and a longer proof",
                out.instead.map_or(0.0, |c| c.dough)
            ),
            "home-baking table (seen): yeast destroyed at 60 °C; the limit: common practice",
        )),
        Water::TooCold if a.chilled => all.push(Advice::new(
            "The recipe's liquid is no water: ice would thin the dough, and from the fridge it is 3 °C at best. Chill the flour, or mix for less long",
            "heat balance",
        )),
        Water::Chilled(_) => all.push(Advice::new(
            "The recipe's liquid is no water: chill it in the fridge, no ice into it. It is counted as water; milk takes 6 % less heat",
            "milk 3.93 kJ/kg K at 4.18 of water (from memory)",
        )),
        Water::TooCold => all.push(Advice::new(
            "Ice in place of all the water is not cold enough: chill the flour, or mix for less long",
            "heat balance",
        )),
        Water::Iced { ice, .. } if ice > 0.5 * a.water_mass.as_grams() => all.push(Advice::new(
            "More than half the water is ice, which may not melt in a short mix: chill the flour as well",
            PRACTICE,
        )),
        Water::Iced { at, .. } if at >= COLDEST => all.push(Advice::new(
            "Water from the fridge does as well, if it is as cold. Crush ice and weigh it as water; see that none is left in the dough",
            PRACTICE,
        )),
        Water::Iced { .. } => all.push(Advice::new(
            "Crush the ice and weigh it as water; see that none is left in the dough",
            PRACTICE,
        )),
        Water::At(_) => {}
    }
    if matches!(a.friction, Friction::Usual) {
        all.push(Advice::new(
            "Mixing is taken to warm the dough by 1–3 °C. Measure one dough, and put in its four temperatures for your mixer's own",
            "from memory",
        ));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn f(t: f64) -> Temperature {
        Temperature::fahrenheit(t)
    }

    fn ask(ddt: Temperature, flour: Temperature, room: Temperature, friction_f: f64) -> DoughAsk {
        DoughAsk {
            wanted: ddt,
            room,
            flour,
            preferment: None,
            friction: Friction::Factor(friction_f * 5.0 / 9.0),
            flour_mass: Mass::grams(500.0),
            water_mass: Mass::grams(400.0),
            other: None,
            tap: f(55.0),
            chilled: false,
        }
    }

    /// 500 g flour at 20 °C, 400 g water, dough 26 °C: the rule's fourth temperature is in no balance, so that is not to be
    /// taken until the preferment stands among the rest.
    #[test]
    fn a_preferment_is_said_to_be_left_out_of_the_balance() {
        let c = Temperature::celsius;
        let mut a = ask(c(26.0), c(20.0), c(21.0), 10.0);
        a.friction = Friction::Usual;
        let told = |a: &DoughAsk| {
            let all = dough(a).expect("a dough").advice;
            all.into_iter()
                .map(|a| a.words)
                .collect::<Vec<_>>()
                .join(" ")
        };
        assert!(told(&a).contains("Take the balance"));
        let before = dough(&a).expect("a dough").balance;
        a.preferment = Some(c(5.0));
        let said = told(&a);
        assert!(
            said.contains("leaves the temperature of the preferment out"),
            "{said}"
        );
        assert!(!said.contains("Take the balance"), "{said}");
        assert_eq!(dough(&a).expect("a dough").balance, before);
    }

    /// C01 pizza trade column, June 2018; C02 baking-institute handout; C03 how-to text, 2 °F a
    /// minute for 8 minutes; C04 a question-and-answer thread; C07 arithmetic of C01's formula. °F.
    #[test]
    fn c01_to_c04_and_c07_the_rule() {
        for (ddt, flour, room, friction, water) in [
            (80.0, 65.0, 75.0, 35.0, 65.0),
            (75.0, 65.0, 65.0, 8.0, 87.0),
            (78.0, 60.0, 70.0, 16.0, 88.0),
            (78.0, 72.0, 72.0, 0.0, 90.0),
            (75.0, 65.0, 70.0, 10.0, 80.0),
            (75.0, 60.0, 65.0, 10.0, 90.0),
            (78.0, 70.0, 72.0, 10.0, 82.0),
            (80.0, 68.0, 70.0, 10.0, 92.0),
            (80.0, 65.0, 68.0, 10.0, 97.0),
        ] {
            let out = dough(&ask(f(ddt), f(flour), f(room), friction)).expect("a dough");
            let got = Temperature::celsius(out.rule).as_fahrenheit();
            assert!((got - water).abs() < 1e-9, "{got} {water}");
        }
    }

    /// C05: friction from C01's dough, 3·80 − (65+75+65) = 35 °F.
    #[test]
    fn c05_friction_from_a_measured_dough() {
        let mut a = ask(f(80.0), f(65.0), f(75.0), 0.0);
        a.friction = Friction::Measured {
            dough: f(80.0),
            room: f(75.0),
            flour: f(65.0),
            water: f(65.0),
        };
        let out = dough(&a).expect("a dough");
        assert!(
            (out.friction - 35.0 * 5.0 / 9.0).abs() < 1e-9,
            "{}",
            out.friction
        );
        assert!((Temperature::celsius(out.rule).as_fahrenheit() - 65.0).abs() < 1e-9);
    }

    /// A preferment makes it the rule of four: 4·24 − (22 + 20 + 8 + 21) = 25.
    #[test]
    fn the_rule_of_four() {
        let c = Temperature::celsius;
        let mut a = ask(c(24.0), c(20.0), c(22.0), 0.0);
        a.preferment = Some(c(21.0));
        a.friction = Friction::Usual;
        let out = dough(&a).expect("a dough");
        assert_eq!(out.n, 4);
        assert!((out.rule - 25.0).abs() < 1e-9, "{}", out.rule);
    }

    /// By hand: the heat of ice, tap water and flour after mixing is that of the dough.
    #[test]
    fn ice_balances() {
        let c = Temperature::celsius;
        let mut a = ask(c(20.0), c(28.0), c(30.0), 0.0);
        a.friction = Friction::Usual;
        a.tap = c(22.0);
        let out = dough(&a).expect("a dough");
        let Water::Iced { at, ice, tap } = out.water else {
            panic!("{:?}", out.water);
        };
        assert!((ice + tap - 400.0).abs() < 1e-9 && at < 22.0);
        let before = 500.0 * 1.8 * 28.0 + tap * 4.18 * 22.0 - ice * 334.0;
        let after = (500.0 * 1.8 + 400.0 * 4.18) * (20.0 - 2.0);
        assert!((before / after - 1.0).abs() < 1e-9, "{before} {after}");
    }

    #[test]
    fn what_else_goes_in_counts() {
        let c = Temperature::celsius;
        let mut a = ask(c(26.0), c(20.0), c(20.0), 0.0);
        a.friction = Friction::Usual;
        let without = dough(&a).expect("a dough").balance.likely().as_celsius();
        a.other = Some((Mass::grams(150.0), 0.76, c(4.0)));
        let with = dough(&a).expect("a dough").balance.likely().as_celsius();
        // 150 g of egg at 4 °C: (0.15 (0.76·4.18 + 0.24·1.8)) (24 − 4) / (0.4·4.18) more.
        let more = 0.15 * (0.76 * 4.18 + 0.24 * 1.8) * 20.0 / (0.4 * 4.18);
        assert!(
            (with - without - more).abs() < 1e-9,
            "{with} {without} {more}"
        );
    }

    #[test]
    fn hot_water_is_refused_and_ice_has_its_limit() {
        let c = Temperature::celsius;
        let mut a = ask(c(30.0), c(5.0), c(10.0), 0.0);
        a.water_mass = Mass::grams(200.0);
        let out = dough(&a).expect("a dough");
        assert_eq!(out.water, Water::TooHot);
        assert!(out.instead.is_some_and(|i| i.dough < 30.0));
        a = ask(c(5.0), c(40.0), c(40.0), 54.0);
        a.water_mass = Mass::grams(100.0);
        assert_eq!(dough(&a).expect("a dough").water, Water::TooCold);
    }

    #[test]
    fn impossible_doughs_are_explained() {
        let c = Temperature::celsius;
        let mut a = ask(c(60.0), c(20.0), c(20.0), 0.0);
        assert!(dough(&a).is_err());
        a.wanted = c(26.0);
        a.flour_mass = Mass::grams(0.0);
        assert!(
            dough(&a)
                .expect_err("no flour")
                .to_string()
                .contains("flour")
        );
        a.flour_mass = Mass::grams(500.0);
        a.friction = Friction::Factor(500.0);
        assert!(dough(&a).is_err());
    }
}
