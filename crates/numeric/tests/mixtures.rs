//! Mixtures against SciPy, HiGHS, the Pearson square and trying every choice.

use numeric::mixture::{Ask, Blend, Cap, Goal, Limit, Mixture};

/// The same numbers as in `mixtures/solve.py`: a linear congruential generator of 64 bits
/// (multiplier and increment from Knuth, from memory).
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        let (a, c) = (6_364_136_223_846_793_005, 1_442_695_040_888_963_407);
        self.0 = self.0.wrapping_mul(a).wrapping_add(c);
        (self.0 >> 11) as f64 / 2.0_f64.powi(53)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    fn many(&mut self, n: usize, low: f64, high: f64) -> Vec<f64> {
        (0..n).map(|_| self.between(low, high)).collect()
    }
}

fn problem(seed: u64, linear: bool) -> Mixture {
    let mut random = Random(seed);
    let n = 3 + (10.0 * random.next()) as usize;
    let rows = if linear {
        0
    } else {
        2 + (5.0 * random.next()) as usize
    };
    let properties = (0..rows).map(|_| random.many(n, -1.0, 1.0)).collect();
    let targets = random.many(rows, -1.0, 1.0);
    let cost = random.many(n, 0.0, 0.2);
    let low = random.many(n, 0.0, 0.07);
    let high = random.many(n, 0.3, 0.8);
    let mut caps = Vec::new();
    for _ in 0..2 {
        let row = (0..n)
            .map(|_| f64::from(u8::from(random.next() < 0.5)))
            .collect();
        let at_most = random.between(0.3, 0.6);
        caps.push(Cap { row, at_most });
    }
    Mixture {
        properties,
        targets,
        cost,
        low,
        high,
        caps,
        goal: Goal::Nearest,
    }
}

/// Whether a share lies on a limit.
fn on(share: f64, limit: f64) -> bool {
    (share - limit).abs() < 1e-6
}

/// Source: SciPy 1.17.1, SLSQP for the 200 quadratic ones, HiGHS for the 60 linear ones; see
/// `mixtures/solve.py`, which wrote the table.
#[test]
fn optimum_and_limits_agree_with_scipy() {
    let mut solved = [0, 0];
    for row in include_str!("mixtures/scipy.tsv").lines().skip(1) {
        let cells: Vec<&str> = row.split('\t').collect();
        let seed = cells[1].parse().unwrap();
        let m = problem(seed, cells[0] == "linear");
        let all: Vec<usize> = (0..m.len()).collect();
        let found = m.of_parts(&all).unwrap();
        if cells[3] == "none" {
            assert_eq!(found, None, "{row}");
            assert!(!m.clash(&all).unwrap().is_empty(), "{row}");
            continue;
        }
        let found = found.unwrap_or_else(|| panic!("no blend for {row}"));
        let value: f64 = cells[2].parse().unwrap();
        assert!((found.value - value).abs() < 1e-8, "{row}: {}", found.value);
        assert!(m.keeps_limits(&found), "{row}");
        for (p, share) in cells[3].split(' ').enumerate() {
            let theirs: f64 = share.parse().unwrap();
            assert!((found.share(p) - theirs).abs() < 1e-6, "{row}: {found:?}");
            assert_eq!(on(found.share(p), m.low[p]), on(theirs, m.low[p]), "{row}");
            assert_eq!(
                on(found.share(p), m.high[p]),
                on(theirs, m.high[p]),
                "{row}"
            );
        }
        solved[usize::from(cells[0] == "linear")] += 1;
    }
    assert_eq!(solved, [156, 45]);
}

fn plain(properties: Vec<Vec<f64>>, targets: Vec<f64>) -> Mixture {
    let n = properties[0].len();
    Mixture {
        properties,
        targets,
        cost: vec![0.0; n],
        low: vec![0.0; n],
        high: vec![1.0; n],
        caps: Vec::new(),
        goal: Goal::Nearest,
    }
}

/// Source: University of Guelph, dairy education pages, standardization problems, examples 2
/// and 1; and a guide for small dairies (3.9 % and skim to 2.6 %).
#[test]
fn two_parts_agree_with_the_pearson_square() {
    for (rich, poor, wanted, parts) in [
        (35.0, 4.0, 10.0, (6.0, 25.0)),
        (40.0, 0.0, 32.0, (32.0, 8.0)),
        (3.9, 0.0, 2.6, (2.6, 1.3)),
    ] {
        let blend = plain(vec![vec![rich, poor]], vec![wanted])
            .of_parts(&[0, 1])
            .unwrap()
            .unwrap();
        let share = parts.0 / (parts.0 + parts.1);
        assert!((blend.share(0) - share).abs() < 1e-7, "{blend:?}");
        assert!(blend.value < 1e-12);
    }
    // A target outside both: the nearer one alone, and that is not the target.
    let m = plain(vec![vec![4.0, 10.0]], vec![12.0]);
    let blend = m.of_parts(&[0, 1]).unwrap().unwrap();
    assert!((blend.share(1) - 1.0).abs() < 1e-7);
    assert!((m.distance(&blend) - 2.0).abs() < 1e-6);
}

/// Every set of at most `most` of `n` parts that holds all of `must`.
fn choices(n: usize, most: usize, must: &[usize]) -> Vec<Vec<usize>> {
    (1_u32..1 << n)
        .filter(|s| s.count_ones() as usize <= most)
        .map(|s| (0..n).filter(|p| s >> p & 1 == 1).collect::<Vec<_>>())
        .filter(|s| must.iter().all(|p| s.contains(p)))
        .collect()
}

fn differ(a: &Blend, b: &Blend) -> usize {
    let new = |a: &Blend, b: &Blend| a.parts.iter().filter(|p| !b.parts.contains(p)).count();
    new(a, b).max(new(b, a))
}

/// Source: every choice solved on its own.
#[test]
fn the_search_finds_what_trying_every_choice_finds() {
    let mut found_any = 0;
    for seed in 1..=60 {
        let mut m = problem(seed, false);
        let n = m.len();
        let mut random = Random(seed + 1000);
        m.low = random.many(n, 0.02, 0.15);
        if seed % 3 == 0 {
            let nearest = m
                .best(&Ask {
                    most: n,
                    count: 1,
                    apart: 1,
                    must: vec![],
                })
                .unwrap();
            let Some(nearest) = nearest.first() else {
                continue;
            };
            let within = m.distance(nearest) + random.between(0.05, 0.6);
            m.goal = Goal::Cheapest { within };
        }
        let must: Vec<usize> = if seed % 4 == 0 { vec![1] } else { vec![] };
        let ask = Ask {
            most: 2 + seed as usize % 3,
            count: 3,
            apart: 1 + seed as usize % 2,
            must,
        };
        let found = m.best(&ask).unwrap();
        let mut each: Vec<Blend> = choices(n, ask.most, &ask.must)
            .iter()
            .filter_map(|s| m.of_parts(s).unwrap())
            .collect();
        each.sort_by(|a, b| a.value.total_cmp(&b.value));
        let mut chosen: Vec<&Blend> = Vec::new();
        for blend in &each {
            if chosen.len() < 3 && chosen.iter().all(|c| differ(c, blend) >= ask.apart) {
                chosen.push(blend);
            }
        }
        assert_eq!(found.len(), chosen.len(), "seed {seed}");
        for (ours, theirs) in found.iter().zip(chosen) {
            assert!(m.keeps_limits(ours), "seed {seed}: {ours:?}");
            assert!(
                (ours.value - theirs.value).abs() < 1e-7,
                "seed {seed}: {ours:?} against {theirs:?}"
            );
            found_any += 1;
        }
    }
    assert!(found_any > 100, "only {found_any}");
}

/// Source: arithmetic.
#[test]
fn what_clashes_is_named_and_nothing_else() {
    // Ceilings of 0.3, 0.3 and 0.3 cannot make 1.
    let mut m = plain(vec![vec![1.0, 2.0, 3.0]], vec![2.0]);
    m.high = vec![0.3; 3];
    assert_eq!(
        m.clash(&[]).unwrap(),
        [Limit::High(0), Limit::High(1), Limit::High(2)]
    );
    // One part must be 0.5 at least, and a cap over it and another says 0.4.
    let mut m = plain(vec![vec![1.0, 2.0, 3.0]], vec![2.0]);
    m.low[0] = 0.5;
    m.caps = vec![
        Cap {
            row: vec![1.0, 1.0, 0.0],
            at_most: 0.4,
        },
        Cap {
            row: vec![0.0, 1.0, 1.0],
            at_most: 0.9,
        },
    ];
    assert_eq!(m.clash(&[0]).unwrap(), [Limit::Low(0), Limit::Cap(0)]);
    assert_eq!(m.clash(&[]).unwrap(), []);
    // Nearer than can be.
    let mut m = plain(vec![vec![4.0, 10.0]], vec![12.0]);
    m.goal = Goal::Cheapest { within: 1.5 };
    assert_eq!(m.clash(&[]).unwrap(), [Limit::Within]);
}

/// Source: the definition of a price: what the goal gains for a little more room.
#[test]
fn a_price_is_what_a_little_room_gains() {
    let m = problem(1, false);
    let all: Vec<usize> = (0..m.len()).collect();
    let blend = m.of_parts(&all).unwrap().unwrap();
    assert!(blend.binds.len() >= 2, "{blend:?}");
    for bind in &blend.binds {
        let room = 1e-4;
        let mut wider = m.clone();
        match bind.limit {
            Limit::Low(p) => wider.low[p] -= room,
            Limit::High(p) => wider.high[p] += room,
            Limit::Cap(c) => wider.caps[c].at_most += room,
            Limit::Within => unreachable!("the nearest is asked for"),
        }
        if wider.low.iter().any(|l| *l < 0.0) {
            continue;
        }
        let gain = blend.value - wider.of_parts(&all).unwrap().unwrap().value;
        assert!((gain / room - bind.price).abs() < 1e-3, "{bind:?}: {gain}");
    }
}

#[test]
fn figures_that_cannot_be_are_refused() {
    let good = problem(1, false);
    assert!(good.of_parts(&[]).is_err());
    for spoil in [
        |m: &mut Mixture| m.cost[0] = f64::NAN,
        |m: &mut Mixture| m.high.push(1.0),
        |m: &mut Mixture| m.low[0] = -0.1,
        |m: &mut Mixture| m.caps[0].at_most = f64::INFINITY,
        |m: &mut Mixture| m.targets.clear(),
    ] {
        let mut bad = good.clone();
        spoil(&mut bad);
        assert!(bad.of_parts(&[0]).is_err());
    }
}
