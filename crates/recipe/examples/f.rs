//! x
use larder::Larder;
use recipe::formulate::*;
use recipe::rework::style::Style;
fn main() {
    let l = Larder::built_in().unwrap();
    println!(
        "{}",
        usual(&l)
            .iter()
            .map(|c| format!("{} {}-{}", l.food(c.food).key, c.low, c.high))
            .collect::<Vec<_>>()
            .join(", ")
    );
    for s in Style::all() {
        let t = std::time::Instant::now();
        let mut a = Ask::new(Aim::Style(s), &l);
        a.most = std::env::args().nth(1).map_or(4, |x| x.parse().unwrap());
        match formulate(&a, &l) {
            Ok(o) => {
                println!(
                    "== {} {:?} target {:?}",
                    s.key(),
                    t.elapsed(),
                    o.target.middle.0
                );
                for b in o.blends {
                    println!(
                        "  {:.2} {} | {}",
                        b.distance,
                        b.parts
                            .iter()
                            .map(|(f, p)| format!("{} {p}", l.food(*f).key))
                            .collect::<Vec<_>>()
                            .join(", "),
                        b.bounds
                            .iter()
                            .map(|b| format!("{} [{:.3}]", b.limit.words(&l), b.price))
                            .collect::<Vec<_>>()
                            .join("; ")
                    );
                }
            }
            Err(e) => println!("== {} {e}", s.key()),
        }
    }
}
