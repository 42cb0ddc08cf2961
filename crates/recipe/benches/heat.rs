//! How long heat takes to work out: an hour in the oven, a bake asked about, a proof.
//!
//! `cargo bench -p recipe --bench heat`. Aim on one core of an ordinary machine: 20 ms for an hour
//! in the oven.

use divan::{Bencher, black_box};
use numeric::heat::{Body, Face, Faces, Fineness, Front, Material, Shape, Until, heat};
use quantity::{Mass, Spread, Temperature, Time};
use recipe::heat::{Bake, KnownProof, Pan, Proof, bake, legs, proof};
use recipe::rework::style::Style;

fn main() {
    divan::main();
}

fn body(shape: Shape) -> Body {
    let air = |h| Face::Film {
        conductance: h,
        around: 180.0,
    };
    Body {
        shape,
        material: Material {
            conductivity: 0.43,
            capacity: 9.4e5,
            front: Some(Front {
                boiling: 100.0,
                latent: 2.6e8,
                dry_conductivity: 0.15,
                dry_capacity: 3.8e5,
            }),
        },
        faces: Faces {
            bottom: air(15.0),
            top: air(20.0),
            side: air(15.0),
        },
        start: 26.0,
    }
}

/// An hour of a loaf in its tin, a block with six faces.
#[divan::bench]
fn hour_of_a_loaf(bencher: Bencher<'_, '_>) {
    let loaf = body(Shape::Block {
        length: 0.23,
        width: 0.13,
        depth: 0.07,
    });
    bencher.bench_local(|| heat(black_box(&loaf), &Fineness::default(), Until::Time(3600.0)));
}

/// An hour of a cake in a round tin.
#[divan::bench]
fn hour_of_a_round_cake(bencher: Bencher<'_, '_>) {
    let cake = body(Shape::Cylinder {
        radius: 0.115,
        depth: 0.05,
    });
    bencher.bench_local(|| heat(black_box(&cake), &Fineness::default(), Until::Time(3600.0)));
}

/// A bake asked about, whole: the known bake and the new one with every film and make.
#[divan::bench]
fn bake_in_another_pan(bencher: Bencher<'_, '_>) {
    let pan = |words: &str| Pan::read(words).expect("a pan");
    let ask = Bake {
        known_pan: pan("23x13x7 cm"),
        known_oven: Temperature::celsius(175.0),
        known_time: Spread::exact(Time::minutes(60.0)),
        known_dough: None,
        pan: pan("20x10x6 cm dark"),
        oven: Temperature::celsius(180.0),
        dough: None,
        start: Temperature::celsius(26.0),
        style: Style::from_key("lean_bread"),
        core: None,
        sets: false,
        meat: false,
        body: recipe::shape::Dough::of_style(Style::from_key("lean_bread"), None),
        pans: 1,
        metres: 0.0,
        fan: false,
    };
    bencher.bench_local(|| bake(black_box(&ask)));
}

/// A proof over a night in the fridge.
#[divan::bench]
fn proof_overnight(bencher: Bencher<'_, '_>) {
    let ask = Proof {
        known: KnownProof {
            time: Spread::exact(Time::minutes(75.0)),
            at: Temperature::celsius(27.0),
        },
        dough: Temperature::celsius(26.0),
        weight: Mass::grams(900.0),
        legs: legs("1 h at 22 C, 12 h at 4 C, then 27 C").expect("a history"),
        style: Style::from_key("lean_bread"),
        perishable: Some(true),
        work: None,
    };
    bencher.bench_local(|| proof(black_box(&ask)));
}
