//! Growth against published values: checks E01–E08 of the project's own list, sources beside each.

use numeric::growth::{Cardinal, Stay, along, until};

/// S. cerevisiae: best 32.3, highest 45.4 °C (Salvadó et al. 2011, Appl Environ Microbiol
/// 77:2292–2302, seen); the lowest 2.0 °C is assumed within their 1.3–4.3 °C of the genus.
fn yeast(min: f64) -> Cardinal {
    Cardinal::new(min, 32.3, 45.4).expect("ordered")
}

/// E01–E03: documentation page of a growth package that uses this model on macroalgae (seen).
#[test]
fn e01_e02_e03_a_published_implementation() {
    let c = Cardinal::new(5.0, 20.0, 30.0).expect("ordered");
    for (t, rate) in [
        (22.0, 0.963_333_3),
        (6.0, 0.02),
        (7.0, 0.072_156_86),
        (10.0, 0.333_333_3),
        (15.0, 0.8),
        (25.0, 0.761_904_8),
        (29.0, 0.196_923_1),
    ] {
        assert!((c.rate(t) - rate).abs() < 1e-6, "{t}: {}", c.rate(t));
    }
    for (t, rate) in [(5.0, 0.0), (20.0, 1.0), (30.0, 0.0), (1.0, 0.0)] {
        assert_eq!(c.rate(t), rate, "{t}");
    }
}

/// E05: derived by hand from E04.
#[test]
fn e05_yeast() {
    for (t, rate) in [
        (4.0, 0.0107),
        (10.0, 0.1531),
        (15.0, 0.3624),
        (20.0, 0.6071),
        (25.0, 0.8344),
        (30.0, 0.9806),
        (35.0, 0.9687),
        (38.0, 0.8473),
        (40.0, 0.7044),
    ] {
        let got = yeast(2.0).rate(t);
        assert!((got - rate).abs() < 5e-5, "{t}: {got}");
    }
}

/// E06: 60 min at 30 °C take 74.2 min at 24 °C, 96.9 at 20, 115.8 at 18.
#[test]
fn e06_an_hour_at_30_elsewhere() {
    let c = yeast(2.0);
    for (t, minutes) in [(24.0, 74.2), (20.0, 96.9), (18.0, 115.8)] {
        let last = Stay {
            hours: 10.0,
            around: t,
            lag: 0.0,
        };
        let hours = until(&c, t, &[], &last, c.rate(30.0)).expect("sound");
        let got = 60.0 * hours.expect("enough time");
        assert!((got - minutes).abs() < 0.1, "{t}: {got}");
    }
}

/// E07: 63 to 80 °F is ×1.9067, 80 to 97 °F ×1.0445, where the folk rule says 2 and 2.
#[test]
fn e07_the_folk_rule_fails_when_warm() {
    let c = yeast(2.0);
    let at = |f: f64| c.rate((f - 32.0) / 1.8);
    assert!((at(80.0) / at(63.0) - 1.9067).abs() < 1e-3);
    assert!((at(97.0) / at(80.0) - 1.0445).abs() < 1e-3);
}

/// E08: from 1.3 to 2.8 °C for the lowest temperature, the fridge is 47 to 198 times slower than
/// 25 °C.
#[test]
fn e08_a_fridge_is_not_known() {
    for (min, ratio) in [(1.3, 47.0), (2.0, 78.0), (2.8, 198.0)] {
        let c = yeast(min);
        let got = c.rate(25.0) / c.rate(4.0);
        assert!((got / ratio - 1.0).abs() < 0.02, "{min}: {got}");
    }
}

/// The integral over a lagging body against `scipy.integrate.quad` 1.x (adaptive Gauss–Kronrod,
/// run 2026-11-29): 26 °C dough, 12 h at 4 °C with a lag of 1.6 h, then 2 h at 28 °C with 1.2 h.
#[test]
fn a_lagging_body_against_quadrature() {
    let c = yeast(2.0);
    let stays = [
        Stay {
            hours: 12.0,
            around: 4.0,
            lag: 1.6,
        },
        Stay {
            hours: 2.0,
            around: 28.0,
            lag: 1.2,
        },
    ];
    let grown = along(&c, 26.0, &stays).expect("sound");
    assert!(
        (grown.stays[0].0 - 1.169_657_790_616).abs() < 1e-6,
        "{grown:?}"
    );
    assert!(
        (grown.stays[1].0 - 0.889_959_897_488).abs() < 1e-6,
        "{grown:?}"
    );
    // Newton's law by hand: 4 + 22 e^(−7.5).
    assert!((grown.stays[0].1 - (4.0 + 22.0 * (-7.5_f64).exp())).abs() < 1e-12);
}

#[test]
fn refuses_what_has_no_meaning() {
    for (a, b, c) in [
        (5.0, 4.0, 30.0),
        (5.0, 20.0, 20.0),
        (5.0, 12.0, 30.0),
        (f64::NAN, 20.0, 30.0),
    ] {
        assert!(Cardinal::new(a, b, c).is_err(), "{a} {b} {c}");
    }
    let c = yeast(2.0);
    let stay = |hours, around, lag| Stay { hours, around, lag };
    assert!(along(&c, 20.0, &[]).is_err());
    for s in [
        stay(-1.0, 20.0, 0.0),
        stay(1.0, f64::NAN, 0.0),
        stay(1.0, 20.0, -1.0),
        stay(1e9, 20.0, 0.0),
    ] {
        assert!(along(&c, 20.0, &[s]).is_err(), "{s:?}");
    }
    let cold = stay(24.0, 1.0, 0.0);
    assert_eq!(until(&c, 20.0, &[], &cold, 0.5), Ok(None));
    assert_eq!(
        until(&c, 20.0, &[stay(2.0, 30.0, 0.0)], &cold, 0.5),
        Ok(Some(0.0))
    );
}
