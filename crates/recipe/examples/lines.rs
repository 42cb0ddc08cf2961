//! x
#[path = "../../evidence/src/lines.rs"] mod lines;
fn main(){ let larder=larder::Larder::built_in().unwrap();
 let quiet = std::env::args().nth(2).is_some();
 let t=std::fs::read_to_string(std::env::args().nth(1).unwrap()).unwrap();
 let cs=lines::cases(&t).unwrap();
 let s=lines::score(&cs,&larder,|c,m| if !quiet {println!("{} [{}]\n   A {:?}\n   I {:?}",c.text,c.locale.key(),m.amount,m.ingredient)});
 println!("{s:?}"); }
