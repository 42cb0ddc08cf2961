//! Conduction against series solutions, the melting front against its similarity solution, heat
//! kept against heat that came in, and finer grids against coarser ones.

use numeric::heat::{Body, Face, Faces, Fineness, Front, Material, Run, Shape, Until, heat};
use std::f64::consts::PI;

const PLAIN: Material = Material {
    conductivity: 0.4,
    capacity: 1.0e6,
    front: None,
};

/// Roots of ζ tan ζ = Bi and of ζ J₁(ζ)/J₀(ζ) = Bi for Bi 0.1, 1, 5 and 10: `scipy.optimize.brentq`
/// on `scipy.special.j0`, `j1`, run 2026-11-29.
const ROOTS: [(f64, [f64; 6], [f64; 6]); 4] = [
    (
        0.1,
        [
            0.311_052_848,
            3.173_097_177,
            6.299_059_36,
            9.435_375_976,
            12.574_323_161,
            15.714_326_802,
        ],
        [
            0.441_681_783,
            3.857_709_905,
            7.029_825_234,
            10.183_292_565,
            13.331_195_11,
            16.476_700_271,
        ],
    ),
    (
        1.0,
        [
            0.860_333_589,
            3.425_618_459,
            6.437_298_179,
            9.529_334_405,
            12.645_287_224,
            15.771_284_875,
        ],
        [
            1.255_783_712,
            4.079_477_711,
            7.155_799_175,
            10.270_985_362,
            13.398_397_486,
            16.531_158_933,
        ],
    ),
    (
        5.0,
        [
            1.313_837_716,
            4.033_567_79,
            6.909_595_795,
            9.892_752_565,
            12.935_221_28,
            16.010_658_597,
        ],
        [
            1.989_814_715,
            4.713_142_287,
            7.617_707_705,
            10.622_300_303,
            13.678_558_163,
            16.762_983_71,
        ],
    ),
    (
        10.0,
        [
            1.428_870_011,
            4.305_801_413,
            7.228_109_772,
            10.200_262_588,
            13.214_185_684,
            16.259_361_226,
        ],
        [
            2.179_496_597,
            5.033_211_976,
            7.956_883_417,
            10.936_330_199,
            13.958_030_445,
            17.009_878_21,
        ],
    ),
];

/// Bessel's integral, J_n(z) = 1/π ∫₀^π cos(nθ − z sin θ) dθ, by the midpoint rule, which is exact
/// to rounding for a periodic function.
fn bessel(n: f64, z: f64) -> f64 {
    let points = 400;
    let sum: f64 = (0..points)
        .map(|i| {
            let a = PI * (f64::from(i) + 0.5) / f64::from(points);
            (n * a - z * a.sin()).cos()
        })
        .sum();
    sum / f64::from(points)
}

/// What is left of the difference in the middle of a slab (half depth 1) at a Fourier number.
fn slab(bi: usize, fo: f64) -> f64 {
    let term = |z: &f64| 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()) * (-z * z * fo).exp();
    ROOTS[bi].1.iter().map(term).sum()
}

/// The same for a long cylinder of radius 1.
fn cylinder(bi: usize, fo: f64) -> f64 {
    let term = |z: &f64| {
        let (j0, j1) = (bessel(0.0, *z), bessel(1.0, *z));
        2.0 / z * j1 / (j0 * j0 + j1 * j1) * (-z * z * fo).exp()
    };
    ROOTS[bi].2.iter().map(term).sum()
}

fn film(bi: f64, half: f64) -> Face {
    Face::Film {
        conductance: bi * PLAIN.conductivity / half,
        around: 200.0,
    }
}

fn body(shape: Shape, faces: Faces) -> Body {
    Body {
        shape,
        material: PLAIN,
        faces,
        start: 20.0,
    }
}

fn fine(seconds: f64) -> Fineness {
    Fineness {
        across: 24,
        down: 31,
        grading: 1.0,
        first_step: seconds / 1_500.0,
        longest_step: seconds / 300.0,
    }
}

fn run(b: &Body, f: &Fineness, seconds: f64) -> Run {
    heat(b, f, Until::Time(seconds)).expect("sound figures")
}

/// The share of the difference left in the middle.
fn left(r: &Run) -> f64 {
    (200.0 - r.core[r.core.len() - 1]) / 180.0
}

/// Within half a percent of the whole difference, and of the temperature's rise where that is
/// more than a twentieth.
fn near(what: &str, got: f64, want: f64) {
    assert!((got - want).abs() < 0.005, "{what}: {got} and {want}");
    let (rise, whole) = (1.0 - got, 1.0 - want);
    if whole > 0.3 {
        assert!(
            (rise / whole - 1.0).abs() < 0.005,
            "{what}: {rise} and {whole}"
        );
    }
}

/// F01, F02: first roots and coefficients of heat-transfer tables (from memory), against the roots
/// used here.
#[test]
fn f01_f02_first_roots() {
    assert!((ROOTS[1].1[0] - 0.860_334).abs() < 1e-5);
    assert!((ROOTS[1].2[0] - 1.255_784).abs() < 1e-5);
    assert!((ROOTS[0].1[0] - 0.311_053).abs() < 1e-5);
    let z = ROOTS[1].1[0];
    assert!((4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()) - 1.119_132).abs() < 1e-5);
    let z = ROOTS[1].2[0];
    let (j0, j1) = (bessel(0.0, z), bessel(1.0, z));
    assert!((2.0 / z * j1 / (j0 * j0 + j1 * j1) - 1.207_092).abs() < 1e-5);
}

#[test]
fn a_slab_against_the_series() {
    let half = 0.02;
    for (i, (bi, ..)) in ROOTS.iter().enumerate() {
        for fo in [0.2, 0.5, 1.0, 2.0] {
            let seconds = fo * half * half * PLAIN.capacity / PLAIN.conductivity;
            let side = film(*bi, half);
            let b = body(
                Shape::Slab { depth: 2.0 * half },
                Faces {
                    bottom: side,
                    top: side,
                    side: Face::Closed,
                },
            );
            near(
                &format!("Bi {bi} Fo {fo}"),
                left(&run(&b, &fine(seconds), seconds)),
                slab(i, fo),
            );
        }
    }
}

/// Two more, of figures that stand in no table here: a slab of Bi 2.3 at Fo 0.37, 0.747600, and a long cylinder of Bi
/// 3.7 at Fo 0.28, 0.541075. Eight and six terms of the series, their roots by halving, Bessel's integral by the
/// midpoint rule: written apart from this program, in Python.
#[test]
fn a_slab_and_a_cylinder_worked_elsewhere() {
    let half = 0.03;
    let seconds = |fo: f64| fo * half * half * PLAIN.capacity / PLAIN.conductivity;
    let side = film(2.3, half);
    let slab = body(
        Shape::Slab { depth: 2.0 * half },
        Faces {
            bottom: side,
            top: side,
            side: Face::Closed,
        },
    );
    let long = body(
        Shape::Cylinder {
            radius: half,
            depth: 0.05,
        },
        Faces {
            bottom: Face::Closed,
            top: Face::Closed,
            side: film(3.7, half),
        },
    );
    for (what, b, fo, want) in [
        ("slab", slab, 0.37, 0.747_600),
        ("cylinder", long, 0.28, 0.541_075),
    ] {
        let t = seconds(fo);
        near(what, left(&run(&b, &fine(t), t)), want);
    }
}

/// F05: held faces, 4/π exp(−π² Fo/4) is 0.37078 at Fo 0.5; the full series is 0.7723 at 0.2
/// (Food Process Engineering and Technology, eq. 3.42, seen).
#[test]
fn f05_held_faces() {
    for (fo, want) in [(0.2, 0.7723), (0.5, 0.370_78)] {
        let half = 0.02;
        let seconds = fo * half * half * PLAIN.capacity / PLAIN.conductivity;
        let held = Face::Held(200.0);
        let b = body(
            Shape::Slab { depth: 2.0 * half },
            Faces {
                bottom: held,
                top: held,
                side: Face::Closed,
            },
        );
        near(
            &format!("Fo {fo}"),
            left(&run(&b, &fine(seconds), seconds)),
            want,
        );
    }
}

#[test]
fn a_long_cylinder_against_the_series() {
    let radius = 0.02;
    for (i, (bi, ..)) in ROOTS.iter().enumerate() {
        for fo in [0.2, 0.5, 1.0] {
            let seconds = fo * radius * radius * PLAIN.capacity / PLAIN.conductivity;
            let b = body(
                Shape::Cylinder {
                    radius,
                    depth: 0.05,
                },
                Faces {
                    bottom: Face::Closed,
                    top: Face::Closed,
                    side: film(*bi, radius),
                },
            );
            near(
                &format!("Bi {bi} Fo {fo}"),
                left(&run(&b, &fine(seconds), seconds)),
                cylinder(i, fo),
            );
        }
    }
}

/// A finite cylinder is the product of a slab and a long cylinder; a box that of three slabs.
#[test]
fn a_finite_cylinder_and_a_box_by_products() {
    let half = 0.02;
    for (i, fo) in [(1, 0.3), (2, 0.2), (3, 0.3), (3, 0.6)] {
        let bi = ROOTS[i].0;
        let seconds = fo * half * half * PLAIN.capacity / PLAIN.conductivity;
        let all = film(bi, half);
        let faces = Faces {
            bottom: all,
            top: all,
            side: all,
        };
        let round = body(
            Shape::Cylinder {
                radius: half,
                depth: 2.0 * half,
            },
            faces,
        );
        near(
            &format!("cylinder {bi} {fo}"),
            left(&run(&round, &fine(seconds), seconds)),
            slab(i, fo) * cylinder(i, fo),
        );
        let cube = body(
            Shape::Block {
                length: 2.0 * half,
                width: 2.0 * half,
                depth: 2.0 * half,
            },
            faces,
        );
        let coarse = Fineness {
            across: 14,
            down: 29,
            ..fine(seconds)
        };
        near(
            &format!("box {bi} {fo}"),
            left(&run(&cube, &coarse, seconds)),
            slab(i, fo).powi(3),
        );
        // Twice as long: half the Biot number and a quarter of the Fourier number on that axis
        // would need other roots; held closed it drops out.
        let open = Faces {
            side: Face::Closed,
            ..faces
        };
        let b = body(
            Shape::Block {
                length: 0.1,
                width: 0.07,
                depth: 2.0 * half,
            },
            open,
        );
        near(
            &format!("closed {bi} {fo}"),
            left(&run(&b, &coarse, seconds)),
            slab(i, fo),
        );
    }
}

/// F03 and F04: an egg in boiling water, as a ball. F03: Çengel, Heat and Mass Transfer, "Boiling
/// eggs" (from memory): 862.6 s by the first term, 865 s printed. F04: problem seen on a
/// question-and-answer page, 1105.9 s by the first term.
#[test]
fn f03_f04_eggs() {
    for (diameter, start, goal, around, h, k, alpha, seconds) in [
        (0.05, 5.0, 70.0, 95.0, 1200.0, 0.627, 0.151e-6, 862.6),
        (0.055, 4.3, 74.0, 100.0, 800.0, 0.607, 0.146e-6, 1105.9),
    ] {
        let side = Face::Film {
            conductance: h,
            around,
        };
        let b = Body {
            shape: Shape::Ball {
                radius: diameter / 2.0,
            },
            material: Material {
                conductivity: k,
                capacity: k / alpha,
                front: None,
            },
            faces: Faces {
                bottom: Face::Closed,
                top: Face::Closed,
                side,
            },
            start,
        };
        let f = Fineness {
            across: 60,
            grading: 1.0,
            first_step: 0.5,
            longest_step: 2.0,
            down: 3,
        };
        let got = heat(
            &b,
            &f,
            Until::Core {
                celsius: goal,
                at_most: 3000.0,
            },
        )
        .expect("sound")
        .reached
        .expect("it gets there");
        assert!((got / seconds - 1.0).abs() < 0.01, "{got} and {seconds}");
    }
}

/// Neumann's similarity solution of a melting front in half a space (Carslaw and Jaeger,
/// Conduction of Heat in Solids, 1959, §11.2, from memory): the front is at 2 λ √(α_d t). λ from
/// `scipy.optimize.brentq` on its equation, run 2026-11-29.
#[test]
fn the_front_against_neumann() {
    for (kd, kw, cd, cw, latent, hot, boiling, start, lambda) in [
        (
            0.2,
            0.4,
            0.6e6,
            1.2e6,
            3.0e8,
            180.0,
            100.0,
            25.0,
            0.194_048_115_5,
        ),
        (
            0.15,
            0.5,
            0.5e6,
            1.5e6,
            6.0e8,
            220.0,
            94.7,
            30.0,
            0.175_838_678_9,
        ),
    ] {
        let depth = 0.06;
        let b = Body {
            shape: Shape::Slab { depth },
            material: Material {
                conductivity: kw,
                capacity: cw,
                front: Some(Front {
                    boiling,
                    latent,
                    dry_conductivity: kd,
                    dry_capacity: cd,
                }),
            },
            faces: Faces {
                bottom: Face::Held(hot),
                top: Face::Closed,
                side: Face::Closed,
            },
            start,
        };
        let f = Fineness {
            across: 2,
            down: 401,
            grading: 1.0,
            first_step: 0.5,
            longest_step: 2.0,
        };
        for seconds in [300.0, 900.0] {
            let r = run(&b, &f, seconds);
            let front = 2.0 * lambda * (kd / cd * seconds).sqrt();
            let got = r.dried * depth;
            assert!(
                (got / front - 1.0).abs() < 0.015,
                "{seconds}: {got} and {front}"
            );
            assert!((r.came_in / r.kept - 1.0).abs() < 1e-9, "{r:?}");
        }
    }
}

fn loaf(fineness: f64) -> (Body, Fineness) {
    let air = |h| Face::Film {
        conductance: h,
        around: 180.0,
    };
    let body = Body {
        shape: Shape::Block {
            length: 0.22,
            width: 0.11,
            depth: 0.07,
        },
        material: Material {
            conductivity: 0.6,
            capacity: 1.5e6,
            front: Some(Front {
                boiling: 100.0,
                latent: 4.0e8,
                dry_conductivity: 0.2,
                dry_capacity: 0.6e6,
            }),
        },
        faces: Faces {
            bottom: air(18.0),
            top: air(22.0),
            side: air(18.0),
        },
        start: 27.0,
    };
    let usual = Fineness::default();
    let times = |n: usize| (n as f64 * fineness).round() as usize;
    let f = Fineness {
        across: times(usual.across),
        down: times(usual.down),
        grading: usual.grading.powf(1.0 / fineness),
        first_step: usual.first_step / fineness,
        longest_step: usual.longest_step / fineness,
    };
    (body, f)
}

/// What came through the faces is in the body, warm crumb, boiled water and crust together.
#[test]
fn heat_is_conserved_in_a_bake() {
    let (b, f) = loaf(1.0);
    let r = run(&b, &f, 3600.0);
    assert!(r.kept > 1e5, "{r:?}");
    assert!(
        (r.came_in / r.kept - 1.0).abs() < 1e-9,
        "{} {}",
        r.came_in,
        r.kept
    );
    assert!((0.05..0.5).contains(&r.dried), "{}", r.dried);
    let core = r.core[r.core.len() - 1];
    assert!(
        (60.0..100.0).contains(&core),
        "the wet core stays below boiling: {core}"
    );
}

/// The time to a core of 95 °C comes together as grid and step are refined, and the usual fineness
/// is within 2 % of the finest.
#[test]
fn finer_grids_agree() {
    let time = |fineness: f64| {
        let (b, f) = loaf(fineness);
        heat(
            &b,
            &f,
            Until::Core {
                celsius: 95.0,
                at_most: 10_000.0,
            },
        )
        .expect("sound")
        .reached
        .expect("it gets there")
    };
    let (a, b, c) = (time(1.0), time(1.7), time(2.7));
    assert!((a - c).abs() / c < 0.02, "{a} {b} {c}");
    assert!((b - c).abs() < (a - c).abs(), "{a} {b} {c}");
}

/// Conductivity and films twice as large: everything takes half the time, boiling too. The fit of
/// `recipe::heat` rests on it.
#[test]
fn heat_twice_as_fast_takes_half_the_time() {
    let (slow, f) = loaf(1.0);
    let mut fast = slow;
    fast.material.conductivity *= 2.0;
    if let Some(front) = &mut fast.material.front {
        front.dry_conductivity *= 2.0;
    }
    for face in [
        &mut fast.faces.bottom,
        &mut fast.faces.top,
        &mut fast.faces.side,
    ] {
        if let Face::Film { conductance, .. } = face {
            *conductance *= 2.0;
        }
    }
    let half = Fineness {
        first_step: f.first_step / 2.0,
        longest_step: f.longest_step / 2.0,
        ..f
    };
    let time = |b: &Body, f: &Fineness| {
        heat(
            b,
            f,
            Until::Core {
                celsius: 95.0,
                at_most: 20_000.0,
            },
        )
        .expect("sound")
        .reached
        .expect("it gets there")
    };
    assert!((time(&slow, &f) / time(&fast, &half) - 2.0).abs() < 1e-3);
}

#[test]
fn what_has_no_meaning_is_refused() {
    let (good, f) = loaf(1.0);
    let bad = |change: &dyn Fn(&mut Body)| {
        let mut b = good;
        change(&mut b);
        assert!(heat(&b, &f, Until::Time(60.0)).is_err(), "{b:?}");
    };
    bad(&|b| b.shape = Shape::Slab { depth: 0.0 });
    bad(&|b| {
        b.shape = Shape::Cylinder {
            radius: -1.0,
            depth: 0.1,
        }
    });
    bad(&|b| b.shape = Shape::Ball { radius: f64::NAN });
    bad(&|b| b.material.capacity = 0.0);
    bad(&|b| b.material.conductivity = f64::INFINITY);
    bad(&|b| b.start = f64::NAN);
    bad(&|b| b.start = 120.0);
    bad(&|b| {
        b.faces.top = Face::Film {
            conductance: -1.0,
            around: 180.0,
        }
    });
    let none = Fineness { down: 0, ..f };
    assert!(heat(&good, &none, Until::Time(60.0)).is_err());
    assert!(heat(&good, &f, Until::Time(0.0)).is_err());
    assert!(heat(&good, &f, Until::Time(f64::NAN)).is_err());
    let never = heat(
        &good,
        &f,
        Until::Core {
            celsius: 99.9,
            at_most: 600.0,
        },
    )
    .expect("sound");
    assert_eq!(never.reached, None);
}

/// A ring of 30 and 80 mm, both walls held: Carslaw and Jaeger, Conduction of Heat in Solids, 13.4
/// (from memory), v = π Σ J₀(aα) U₀(rα) e^(−κα²t) ÷ (J₀(aα) + J₀(bα)); its greatest value over r, 30
/// roots by `scipy.optimize.brentq`, SciPy 1.17.1, run 2026-11-29 with κ = 1e-7 m²/s.
#[test]
fn a_long_ring_against_the_series() {
    for (seconds, want) in [
        (1_000.0, 0.852_114),
        (2_000.0, 0.590_086),
        (4_000.0, 0.273_721),
    ] {
        let seconds = seconds * 1e-7 * PLAIN.capacity / PLAIN.conductivity;
        let b = body(
            Shape::Ring {
                hole: 0.03,
                radius: 0.08,
                depth: 0.05,
            },
            Faces {
                bottom: Face::Closed,
                top: Face::Closed,
                side: Face::Held(200.0),
            },
        );
        let got = run(&b, &fine(seconds), seconds);
        near(&format!("{seconds} s"), left(&got), want);
        assert!(
            (got.came_in / got.kept - 1.0).abs() < 1e-6,
            "what came in is in it"
        );
    }
}
