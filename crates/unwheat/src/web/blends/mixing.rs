//! A batch of a blend in grams that a scale shows and that add up.

/// Weights in steps of the scale that add up exactly to the batch.
///
/// Each share is rounded down, and the steps that are missing go to those that lost most; among
/// equals to the first. No weight is a whole step off.
///
/// # Arguments
/// * `shares` — of the whole, whatever they add up to; what is no number or below 0 counts as 0.
/// * `steps` — the batch in steps of the scale.
///
/// # Returns
/// Steps for each share; all 0 where no share is above 0.
pub fn split(shares: &[f64], steps: u64) -> Vec<u64> {
    let share = |s: &f64| if s.is_finite() && *s > 0.0 { *s } else { 0.0 };
    let whole: f64 = shares.iter().map(share).sum();
    if whole <= 0.0 || !whole.is_finite() {
        return vec![0; shares.len()];
    }
    let exact: Vec<f64> = shares
        .iter()
        .map(|s| share(s) / whole * steps as f64)
        .collect();
    let mut out: Vec<u64> = exact.iter().map(|e| e.floor() as u64).collect();
    let lost = |i: usize, out: &[u64]| exact[i] - out[i] as f64;
    loop {
        let sum: u64 = out.iter().sum();
        if sum == steps {
            return out;
        }
        // Rounding of the figures themselves can put the sum above the batch, by a step at most.
        let over = sum > steps;
        let choose = (0..out.len()).filter(|&i| exact[i] > 0.0 && (!over || out[i] > 0));
        let at = if over {
            choose.min_by(|&a, &b| lost(a, &out).total_cmp(&lost(b, &out)))
        } else {
            choose.max_by(|&a, &b| lost(a, &out).total_cmp(&lost(b, &out)).then(b.cmp(&a)))
        };
        match at {
            Some(i) if over => out[i] -= 1,
            Some(i) => out[i] += 1,
            None => return out,
        }
    }
}

/// A weight in steps of the scale as words: '300', '12.5'.
pub fn grams(steps: u64, step: f64) -> String {
    let value = steps as f64 * step;
    let places = (0..4)
        .find(|p| {
            let scale = 10f64.powi(*p);
            ((step * scale).round() / scale - step).abs() < 1e-9
        })
        .unwrap_or(3) as usize;
    format!("{value:.places$}")
}

/// A step that a scale can show.
pub fn step(asked: f64) -> f64 {
    if asked.is_finite() && (0.001..=100.0).contains(&asked) {
        asked
    } else {
        1.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thirds_add_up() {
        assert_eq!(split(&[1.0, 1.0, 1.0], 100), [34, 33, 33]);
        assert_eq!(
            split(&[35.0, 20.0, 20.0, 15.0, 10.0], 2000),
            [700, 400, 400, 300, 200]
        );
        assert_eq!(split(&[33.4, 33.3, 33.3], 10), [4, 3, 3]);
        assert_eq!(split(&[50.0, 0.0, 50.0], 3), [2, 0, 1]);
        assert_eq!(split(&[], 5), Vec::<u64>::new());
        assert_eq!(split(&[0.0, f64::NAN], 5), [0, 0]);
    }

    /// A plain generator of numbers, so that the test is the same every time.
    fn next(state: &mut u64) -> u64 {
        *state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        *state >> 33
    }

    #[test]
    fn any_shares_add_up_and_none_is_a_step_off() {
        let mut state = 7;
        for _ in 0..20_000 {
            let n = 1 + next(&mut state) % 8;
            let shares: Vec<f64> = (0..n)
                .map(|_| (next(&mut state) % 100_000) as f64 / 997.0)
                .collect();
            let whole: f64 = shares.iter().sum();
            let steps = next(&mut state) % 1_000_000;
            let parts = split(&shares, steps);
            if whole <= 0.0 {
                continue;
            }
            assert_eq!(parts.iter().sum::<u64>(), steps, "{shares:?} {steps}");
            for (p, s) in parts.iter().zip(&shares) {
                let exact = s / whole * steps as f64;
                assert!((*p as f64 - exact).abs() < 1.0 + 1e-6, "{shares:?} {steps}");
                assert!(*s > 0.0 || *p == 0);
            }
        }
    }

    #[test]
    fn grams_as_the_scale_shows_them() {
        assert_eq!(grams(300, 1.0), "300");
        assert_eq!(grams(123, 0.1), "12.3");
        assert_eq!(grams(25, 0.5), "12.5");
        assert_eq!(grams(40, 5.0), "200");
        assert_eq!(grams(7, 0.01), "0.07");
        assert_eq!(step(f64::NAN), 1.0);
        assert_eq!(step(0.1), 0.1);
    }
}
