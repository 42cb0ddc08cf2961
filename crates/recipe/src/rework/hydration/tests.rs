use super::{Basis, Expectation, HydrationError, Model, Part, Spread, WheatOriginal, expect};
use crate::rework::hydration::table::TABLE;

const STYLES: [&str; 16] = [
    "lean_bread",
    "enriched_dough",
    "laminated",
    "pizza_flatbread",
    "pasta",
    "choux",
    "butter_cake",
    "sponge_cake",
    "muffin_quick_bread",
    "drop_cookie",
    "rolled_cookie",
    "pie_pastry",
    "pancake_crepe",
    "roux_sauce",
    "crumb_streusel",
    "cracker",
];

const RICE: Part<'static> = Part {
    key: "white_rice_flour",
    percent: 100.0,
    absorption: 0.8,
};
const CORN: Part<'static> = Part {
    key: "corn_flour",
    percent: 100.0,
    absorption: 1.2,
};
const PSYLLIUM: Part<'static> = Part {
    key: "psyllium_husk",
    percent: 5.0,
    absorption: 5.4,
};

fn plain(style: &str) -> Result<Expectation, HydrationError> {
    expect(style, &[RICE], &[], None)
}

fn original(likely: f64, consistency: f64) -> WheatOriginal {
    WheatOriginal {
        hydration: Spread {
            low: likely,
            likely,
            high: likely,
        },
        consistency,
    }
}

#[track_caller]
fn in_order(found: &Expectation) {
    let Spread { low, likely, high } = found.hydration;
    assert!(0.0 < low && low < likely && likely < high, "{found:?}");
}

#[test]
fn every_style_has_figures_in_order() -> Result<(), HydrationError> {
    for style in STYLES {
        in_order(&plain(style)?);
        in_order(&expect(style, &[RICE], &[], Some(&original(60.0, 1.0)))?);
    }
    assert_eq!(Model::shipped()?.styles.len(), STYLES.len());
    Ok(())
}

#[test]
fn thirstier_flour_and_psyllium_ask_for_water_in_bread_but_not_in_cookies()
-> Result<(), HydrationError> {
    let likely = |style, flour: Part<'static>, binders: &[Part<'static>]| {
        Ok::<f64, HydrationError>(expect(style, &[flour], binders, None)?.hydration.likely)
    };
    assert!(likely("lean_bread", CORN, &[])? > likely("lean_bread", RICE, &[])?);
    assert!(likely("lean_bread", RICE, &[PSYLLIUM])? > likely("lean_bread", RICE, &[])?);
    assert_eq!(
        likely("drop_cookie", CORN, &[])?,
        likely("drop_cookie", RICE, &[])?
    );
    Ok(())
}

#[test]
fn hydration_moves_in_step_with_absorption() -> Result<(), HydrationError> {
    let (rice, corn) = (
        plain("lean_bread")?,
        expect("lean_bread", &[CORN], &[], None)?,
    );
    let wetter = corn.hydration.likely / rice.hydration.likely;
    assert!((wetter - corn.absorption / rice.absorption).abs() < 1e-12);
    Ok(())
}

#[test]
fn a_flour_outside_the_fit_counts_as_listed() -> Result<(), HydrationError> {
    let fonio = Part {
        key: "fonio_flour",
        percent: 100.0,
        absorption: 0.9,
    };
    assert_eq!(expect("lean_bread", &[fonio], &[], None)?.absorption, 0.9);
    assert_ne!(plain("lean_bread")?.absorption, RICE.absorption);
    Ok(())
}

#[test]
fn laminated_is_borrowed_and_wider_than_its_lenders() -> Result<(), HydrationError> {
    let width = |e: &Expectation| (e.hydration.high / e.hydration.low).ln();
    let found = plain("laminated")?;
    assert_eq!((found.basis, found.formulas), (Basis::Borrowed, 0));
    for lender in ["lean_bread", "enriched_dough", "pizza_flatbread"] {
        assert!(width(&found) > width(&plain(lender)?));
    }
    Ok(())
}

#[test]
fn an_original_inside_the_styles_range_is_drawn_a_little_towards_it() -> Result<(), HydrationError>
{
    let style = plain("muffin_quick_bread")?.hydration;
    let found = expect(
        "muffin_quick_bread",
        &[RICE],
        &[],
        Some(&original(60.0, 1.0)),
    )?;
    assert_eq!(found.basis, Basis::OriginalHydration);
    assert!(60.0 < found.hydration.likely && found.hydration.likely < style.likely);
    assert!(found.hydration.likely - 60.0 < style.likely - found.hydration.likely);
    Ok(())
}

#[test]
fn an_original_far_outside_ends_at_the_end_of_the_range() -> Result<(), HydrationError> {
    let style = plain("sponge_cake")?.hydration;
    let found = expect("sponge_cake", &[RICE], &[], Some(&original(20.0, 0.3)))?;
    assert!((found.hydration.likely - style.low).abs() < 1e-9);
    Ok(())
}

#[test]
fn a_dough_keeps_the_originals_consistency_times_the_styles_factor() -> Result<(), HydrationError> {
    let usual = Model::shipped()?.styles["lean_bread"]
        .wheat_consistency
        .unwrap_or(f64::NAN);
    let middle = plain("lean_bread")?.hydration.likely;
    let same = expect("lean_bread", &[RICE], &[], Some(&original(66.0, usual)))?;
    assert_eq!(same.basis, Basis::OriginalConsistency);
    assert!((same.hydration.likely - middle).abs() < 1e-9);
    let wetter = expect(
        "lean_bread",
        &[RICE],
        &[],
        Some(&original(72.0, usual * 1.1)),
    )?;
    assert!(wetter.hydration.likely > middle && wetter.hydration.likely < middle * 1.1);
    Ok(())
}

#[test]
fn a_vague_original_widens_the_interval() -> Result<(), HydrationError> {
    let sure = expect("pancake_crepe", &[RICE], &[], Some(&original(180.0, 3.0)))?.hydration;
    let vague = WheatOriginal {
        hydration: Spread {
            low: 130.0,
            likely: 180.0,
            high: 240.0,
        },
        consistency: 3.0,
    };
    let vague = expect("pancake_crepe", &[RICE], &[], Some(&vague))?.hydration;
    assert_eq!(sure.likely, vague.likely);
    assert!(vague.low < sure.low && vague.high > sure.high);
    Ok(())
}

#[test]
fn the_order_of_flours_does_not_matter() -> Result<(), HydrationError> {
    let part = |key, percent| Part {
        key,
        percent,
        absorption: 1.0,
    };
    let (a, b) = (part("buckwheat_flour", 40.0), part("tapioca_starch", 60.0));
    let one = expect(
        "pizza_flatbread",
        &[a.clone(), b.clone()],
        &[PSYLLIUM],
        None,
    )?;
    let other = expect("pizza_flatbread", &[b, a], &[PSYLLIUM], None)?;
    assert!((one.hydration.likely - other.hydration.likely).abs() < 1e-9);
    Ok(())
}

#[test]
fn says_what_is_wrong() {
    let part = |percent, absorption| Part {
        key: "oat_flour",
        percent,
        absorption,
    };
    let message = |style, flours: &[Part<'_>], original: Option<&WheatOriginal>| {
        expect(style, flours, &[], original).map_or_else(|e| e.to_string(), |_| String::new())
    };
    assert_eq!(
        message("scone", &[RICE], None),
        "style 'scone' is not known; give one of the style keys"
    );
    assert_eq!(
        message("pasta", &[], None),
        "there is no flour in it; give at least one flour or starch"
    );
    assert_eq!(
        message("pasta", &[part(80.0, 1.0)], None),
        "flours and starches add up to 80.0 %; give shares that make 100"
    );
    assert_eq!(
        message("pasta", &[part(100.0, f64::NAN)], None),
        "the absorption of oat_flour is NaN; give a finite figure in range"
    );
    assert_eq!(
        message("pasta", &[RICE], Some(&original(0.0, 1.0))),
        "the original's low hydration is 0; give a finite figure in range"
    );
    let crossed = WheatOriginal {
        hydration: Spread {
            low: 70.0,
            likely: 60.0,
            high: 80.0,
        },
        consistency: 1.0,
    };
    assert!(message("pasta", &[RICE], Some(&crossed)).contains("out of order"));
}

#[test]
fn a_damaged_table_names_its_line() {
    let found =
        |table: &str| Model::parse(table).map_or_else(|e| e.to_string(), |_| "read".to_owned());
    assert_eq!(found(TABLE), "read");
    assert_eq!(
        found("quantity\tkey\tvalue\nlevel\tchoux\twet"),
        "hydration model, line 2: the value is no number"
    );
    assert_eq!(
        found("quantity\tkey\tvalue\nlevel\tchoux\t290"),
        "hydration model, line 0: no row for spread choux"
    );
    let twice = format!("{TABLE}level\tchoux\t300\tagain\n");
    assert!(found(&twice).ends_with("given twice"));
}
