//! How many rounds or oblongs lie on a sheet or in a pan, and how large so many can be.

use std::f64::consts::PI;

/// Middles of pieces, mm, from a corner or from the middle of a round.
pub type Places = Vec<(f64, f64)>;

/// How pieces lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rows {
    /// One behind the other.
    Square,
    /// Every other row moved by half a piece.
    Staggered,
    /// In rings.
    Rings,
    /// In one ring round a tube.
    RoundTube,
}

impl Rows {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Square => "in straight rows",
            Self::Staggered => "in staggered rows",
            Self::Rings => "in rings",
            Self::RoundTube => "in a ring round the tube",
        }
    }
}

const HALF_ROOT_3: f64 = 0.866_025_403_784_438_6;
/// Room given so that what fits exactly is not lost to rounding, mm.
const HAIR: f64 = 1e-6;

/// Oblongs `a` × `b` with a gap between, in straight rows on a sheet.
///
/// # Returns
/// The middles of as many as fit, laid one way or the other, whichever takes more.
#[must_use]
pub fn oblongs(length: f64, width: f64, a: f64, b: f64, gap: f64) -> (Places, bool) {
    let lay = |a: f64, b: f64| {
        let along = ((length + gap + HAIR) / (a + gap)).floor().max(0.0) as usize;
        let across = ((width + gap + HAIR) / (b + gap)).floor().max(0.0) as usize;
        let mut out = Vec::with_capacity(along * across);
        for j in 0..across {
            for i in 0..along {
                out.push((
                    a / 2.0 + i as f64 * (a + gap),
                    b / 2.0 + j as f64 * (b + gap),
                ));
            }
        }
        out
    };
    let (one, other) = (lay(a, b), lay(b, a));
    if other.len() > one.len() {
        (other, true)
    } else {
        (one, false)
    }
}

/// Circles with a gap between, in straight or staggered rows, whichever takes more.
#[must_use]
pub fn circles(length: f64, width: f64, across: f64, gap: f64) -> (Places, Rows) {
    let square = oblongs(length, width, across, across, gap).0;
    let along = staggered(length, width, across, gap);
    let turned: Places = staggered(width, length, across, gap)
        .into_iter()
        .map(|(x, y)| (y, x))
        .collect();
    let best = if turned.len() > along.len() {
        turned
    } else {
        along
    };
    if best.len() > square.len() {
        (best, Rows::Staggered)
    } else {
        (square, Rows::Square)
    }
}

/// Circles in rows along the first side, every other row moved by half a step.
fn staggered(length: f64, width: f64, across: f64, gap: f64) -> Places {
    let step = across + gap;
    let mut out = Vec::new();
    let mut y = across / 2.0;
    let mut odd = false;
    while y + across / 2.0 <= width + HAIR {
        let mut x = across / 2.0 + if odd { step / 2.0 } else { 0.0 };
        while x + across / 2.0 <= length + HAIR {
            out.push((x, y));
            x += step;
        }
        y += step * HALF_ROOT_3;
        odd = !odd;
    }
    out
}

/// The largest circles, so many, that lie in an oblong in straight or staggered rows.
///
/// # Returns
/// Their diameter, how they lie, and their middles at that diameter, spread evenly.
#[must_use]
pub fn largest_in_oblong(n: u32, length: f64, width: f64) -> (f64, Rows, Places) {
    let n = n.clamp(1, 200) as usize;
    let mut best = (0.0, Rows::Square, Vec::new());
    for rows in 1..=n {
        let columns = n.div_ceil(rows);
        if rows > 1 && (rows - 1) * columns >= n {
            continue;
        }
        let d = (length / columns as f64).min(width / rows as f64);
        if d > best.0 + HAIR {
            best = (d, Rows::Square, grid(n, columns, rows, length, width));
        }
    }
    for turned in [false, true] {
        let (long, wide) = if turned {
            (width, length)
        } else {
            (length, width)
        };
        for rows in 2..=n {
            for first in 1..=n {
                // Rows of `first` and, between them, as many or one fewer.
                for fewer in [false, true] {
                    let (even, odd) = (rows.div_ceil(2), rows / 2);
                    let second = if fewer {
                        first.saturating_sub(1)
                    } else {
                        first
                    };
                    if even * first + odd * second < n || second == 0 {
                        continue;
                    }
                    let by_length = if fewer {
                        long / first as f64
                    } else {
                        long / (first as f64 + 0.5)
                    };
                    let by_width = wide / (1.0 + HALF_ROOT_3 * (rows - 1) as f64);
                    let d = by_length.min(by_width);
                    if d > best.0 + HAIR {
                        let mut places = Vec::new();
                        let rise = (wide - d) / (rows - 1) as f64;
                        let step = if fewer {
                            if first > 1 {
                                (long - d) / (first - 1) as f64
                            } else {
                                0.0
                            }
                        } else {
                            (long - d) / (first as f64 - 0.5)
                        };
                        for r in 0..rows {
                            let (count, shift) = if r % 2 == 0 {
                                (first, 0.0)
                            } else {
                                (second, step / 2.0)
                            };
                            for c in 0..count {
                                if places.len() < n {
                                    let (x, y) = (
                                        d / 2.0 + shift + step * c as f64,
                                        d / 2.0 + rise * r as f64,
                                    );
                                    places.push(if turned { (y, x) } else { (x, y) });
                                }
                            }
                        }
                        best = (d, Rows::Staggered, places);
                    }
                }
            }
        }
    }
    best
}

fn grid(n: usize, columns: usize, rows: usize, length: f64, width: f64) -> Places {
    let (sx, sy) = (length / columns as f64, width / rows as f64);
    (0..n)
        .map(|i| {
            (
                sx * (0.5 + (i % columns) as f64),
                sy * (0.5 + (i / columns) as f64),
            )
        })
        .collect()
}

/// The largest circles, so many, in one ring between two circles: as wide as the channel between them, or
/// as the chord from one middle to the next, 2 R sin(π / n).
///
/// # Returns
/// Their diameter, and their middles from the middle of the ring.
#[must_use]
pub fn largest_round_tube(count: u32, (channel, radius): (f64, f64)) -> (f64, Places) {
    let part = std::f64::consts::TAU / f64::from(count.max(1));
    let chord = if count < 2 {
        channel
    } else {
        2.0 * radius * (part / 2.0).sin()
    };
    let at = |i: u32| {
        let (sin, cos) = (part * f64::from(i)).sin_cos();
        (radius * sin, radius * cos)
    };
    (chord.min(channel), (0..count).map(at).collect())
}

/// The largest circles, so many, that lie in a round in rings, as a baker lays them: an outer ring
/// at the rim, and within it a smaller round filled the same way.
///
/// # Formula
/// A ring of k needs R / r = 1 + 1 / sin(π / k); what is inside it lies in a round of R − 2 r.
///
/// # Returns
/// Their diameter, and their middles from the round's middle. Up to 20 circles it is within 5 % of
/// the densest known (Kravitz 1967); see the tests.
#[must_use]
pub fn largest_in_round(n: u32, across: f64) -> (f64, Places) {
    let n = n.clamp(1, 400) as usize;
    let (ratios, outer) = rings(n);
    let r = across / 2.0 / ratios[n];
    let mut places = Vec::with_capacity(n);
    let mut left = n;
    let mut room = across / 2.0;
    while left > 0 {
        let k = outer[left];
        if k == 1 {
            places.push((0.0, 0.0));
        } else {
            for i in 0..k {
                let a = 2.0 * PI * i as f64 / k as f64 - PI / 2.0;
                places.push(((room - r) * a.cos(), (room - r) * a.sin()));
            }
        }
        left -= k;
        room -= 2.0 * r;
    }
    (2.0 * r, places)
}

/// For every count to `n`: the round's radius over a circle's, and how many lie at the rim.
fn rings(n: usize) -> (Vec<f64>, Vec<usize>) {
    let (mut ratio, mut outer) = (vec![0.0; n + 1], vec![0; n + 1]);
    for m in 1..=n {
        let (mut best, mut at) = (f64::INFINITY, 1);
        for k in 1..=m {
            let rim = if k == 1 {
                1.0
            } else {
                1.0 + 1.0 / (PI / k as f64).sin()
            };
            let needs = match m - k {
                0 => rim,
                // A single one at the rim leaves no round for others.
                _ if k == 1 => continue,
                inside => rim.max(ratio[inside] + 2.0),
            };
            if needs < best - 1e-12 {
                (best, at) = (needs, k);
            }
        }
        ratio[m] = best;
        outer[m] = at;
    }
    (ratio, outer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Radius of the largest of n equal circles in a round of radius 1. Kravitz, 'Packing
    /// cylinders into cylindrical containers', Math. Mag. 40 (1967) 65–71, as quoted in a solver
    /// vendor's sample model (seen): the last ones 'best known'.
    const KRAVITZ: [f64; 20] = [
        1.0,
        0.5,
        0.464_101_6,
        0.414_213_5,
        0.370_190_8,
        1.0 / 3.0,
        1.0 / 3.0,
        0.302_593_4,
        0.276_768_5,
        0.262_22,
        0.254_854_7,
        0.248_2,
        0.236_068,
        0.231_05,
        0.221_172_5,
        0.216_66,
        0.208_66,
        0.205_604_6,
        0.205_604_6,
        0.195_22,
    ];

    #[test]
    fn rings_are_no_denser_than_the_densest_known_and_near_it() {
        for (i, best) in KRAVITZ.iter().enumerate() {
            let (d, places) = largest_in_round(i as u32 + 1, 2.0);
            assert_eq!(places.len(), i + 1);
            assert!(d / 2.0 <= best + 5e-6, "{}: {d}", i + 1);
            assert!(d / 2.0 >= 0.95 * best, "{}: {} of {best}", i + 1, d / 2.0);
            if i < 9 || i == 12 {
                assert!((d / 2.0 - best).abs() < 2e-6, "{}: {d}", i + 1);
            }
        }
    }

    /// The most circles of area 1 in a square of area n: OEIS A337020, n = 2 to 39, read on
    /// oeis.org. No packing in rows may hold more; where straight rows are the best known it holds
    /// as many.
    #[test]
    fn rows_hold_no_more_than_the_densest_known() {
        const MOST: [usize; 38] = [
            1, 1, 2, 3, 4, 4, 5, 5, 6, 8, 9, 9, 9, 10, 11, 12, 13, 13, 15, 16, 16, 16, 18, 18, 20,
            20, 21, 22, 22, 24, 25, 25, 25, 27, 27, 28, 30, 30,
        ];
        let d = 2.0 / PI.sqrt();
        let mut same = 0;
        for (i, most) in MOST.iter().enumerate() {
            let side = ((i + 2) as f64).sqrt();
            let (places, _) = circles(side, side, d, 0.0);
            assert!(places.len() <= *most, "area {}: {}", i + 2, places.len());
            assert!(
                i < 7 || places.len() * 100 >= most * 65,
                "area {}: {}",
                i + 2,
                places.len()
            );
            same += usize::from(places.len() == *most);
        }
        assert!(same >= 8, "{same} of 38 as many as the best");
    }

    /// OEIS A084616: 39 circles of diameter 1 lie in a square of area 38, and need 37.76050335;
    /// 30 need 29.74921576. Rows that hold as many need at least that.
    #[test]
    fn largest_in_a_square_is_no_larger_than_known() {
        for (n, area) in [(30, 29.749_215_76_f64), (39, 37.760_503_35)] {
            let (d, _, places) = largest_in_oblong(n, area.sqrt(), area.sqrt());
            assert_eq!(places.len(), n as usize);
            assert!(d <= 1.0 + 1e-6, "{n}: {d}");
            assert!(d > 0.9, "{n}: {d}");
        }
    }

    fn apart(places: &Places) -> f64 {
        let mut least = f64::INFINITY;
        for (i, a) in places.iter().enumerate() {
            for b in &places[..i] {
                least = least.min((a.0 - b.0).hypot(a.1 - b.1));
            }
        }
        least
    }

    proptest! {
        /// Nothing lies on another or over the edge.
        #[test]
        fn pieces_lie_beside_one_another(
            length in 50.0..600.0f64, width in 50.0..600.0f64, d in 15.0..120.0f64, n in 1u32..40,
        ) {
            let (places, _) = circles(length, width, d, 2.0);
            prop_assert!(apart(&places) >= d + 2.0 - 1e-6);
            for (x, y) in &places {
                prop_assert!(x + d / 2.0 <= length + 1e-5 && y + d / 2.0 <= width + 1e-5);
            }
            let (most, _, places) = largest_in_oblong(n, length, width);
            prop_assert_eq!(places.len(), n as usize);
            prop_assert!(apart(&places) >= most - 1e-6);
            for (x, y) in &places {
                prop_assert!(*x >= most / 2.0 - 1e-6 && x + most / 2.0 <= length + 1e-6);
                prop_assert!(*y >= most / 2.0 - 1e-6 && y + most / 2.0 <= width + 1e-6);
            }
            let (most, places) = largest_in_round(n, length);
            prop_assert!(apart(&places) >= most - 1e-6);
            for (x, y) in &places {
                prop_assert!(x.hypot(*y) + most / 2.0 <= length / 2.0 + 1e-6);
            }
        }
    }
}
