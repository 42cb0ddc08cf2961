//! The workbench as a browser meets it: the built program, over HTTP on this machine.
//!
//! `cargo bench -p unwheat` builds a kitchen of 10,000 recipes with 20 versions each once, in the
//! system's folder for temporary files (a few minutes), and uses it again;
//! `UNWHEAT_BENCH_RECIPES=500` makes fewer. An edit is the whole answer to a changed figure: the
//! draft written, the recipe worked from text to rework, the page's main part as it is patched in.

use quantity::Locale;
use recipe::sheet::Sheet;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};
use store::{Kitchen, Query, Summary};

const VERSIONS: u32 = 20;
const TEXT: &str = include_str!("../../../examples/apricot-almond-buns.txt");

type Done<T> = Result<T, Box<dyn std::error::Error>>;

fn main() -> Done<()> {
    let recipes: u32 = std::env::var("UNWHEAT_BENCH_RECIPES")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(10_000);
    let folder = std::env::temp_dir().join(format!("unwheat-workbench-bench-{recipes}"));
    fill(&folder, recipes)?;
    let mut starts = Vec::new();
    for _ in 0..10 {
        let began = Instant::now();
        let bench = Bench::start(&folder)?;
        bench.get("/")?;
        starts.push(began.elapsed());
    }
    say("start to first page", starts);
    let bench = Bench::start(&folder)?;
    let mut first = Vec::new();
    let mut found = Vec::new();
    let mut pages = Vec::new();
    for n in 0..200 {
        first.push(timed(|| bench.get("/"))?);
        let words = ["almond+cru", "buns+42", "apricot", "saffron"][n % 4];
        found.push(timed(|| bench.get(&format!("/?words={words}")))?);
        let id = n * 37 % recipes as usize + 1;
        pages.push(timed(|| bench.get(&format!("/recipe/{id}/rework")))?);
    }
    say("first page", first);
    say("search, page and all", found);
    say("rework page", pages);
    let mut edits = Vec::new();
    for n in 0..1000 {
        let id = n * 7 % recipes as usize + 1;
        let page = bench.get(&format!("/recipe/{id}/rework"))?;
        let rev = page
            .split("data-rev=\"")
            .nth(1)
            .and_then(|p| p.split('"').next())
            .unwrap_or("0")
            .to_owned();
        let form = form_urlencoded::Serializer::new(String::new())
            .append_pair("seal", &bench.seal)
            .append_pair("rev", &rev)
            .append_pair("leaf", "rework")
            .append_pair(
                "change",
                r#"{"field":"pin","component":"dough","line":"whole_milk","grams":null}"#,
            )
            // Another figure each time: what is there already is no edit.
            .append_pair(
                "value",
                &format!("{}", 300 + rev.parse::<u64>().unwrap_or(0) % 90),
            )
            .finish();
        let path = format!("/recipe/{id}/change");
        edits.push(timed(|| bench.post(&path, &form))?);
    }
    say("edit, live answer and all", edits);
    Ok(())
}

/// Builds what is missing of the kitchen.
fn fill(folder: &Path, recipes: u32) -> Done<()> {
    let kitchen = Kitchen::open(folder)?;
    let there = kitchen.list(&Query::default())?.total;
    let began = Instant::now();
    for n in there..recipes {
        let title = format!("Apricot Almond Crumb Buns {n}");
        let mut sheet = Sheet::new(TEXT, Locale::Us);
        sheet.title = Some(title.clone());
        let summary = Summary {
            title,
            stage: "rework".to_owned(),
            styles: vec!["enriched_dough".to_owned()],
            to_check: n % 4,
            components: vec!["dough".to_owned(), "crumb topping".to_owned()],
            words: "whole milk instant yeast all-purpose flour dried apricots honey almond extract"
                .to_owned(),
        };
        let at = 1_700_000_000 + i64::from(n);
        let id = kitchen.add_recipe(&format!("{n:032x}"), TEXT, &sheet, &summary, "bench", at)?;
        let mut rev = kitchen.draft(id)?.rev;
        for v in 0..VERSIONS {
            sheet.title = Some(format!("{} {v}", summary.title));
            rev = kitchen.put_draft(id, rev, &sheet, "title", "title", true, &summary, at)?;
            let figures = serde_json::json!({ "components": [{ "name": "dough", "lines": [["whole_milk", "whole milk", 377.0 + f64::from(v)]] }] });
            kitchen.save_version(id, rev, "bench", "another", &figures, "bench", at)?;
        }
    }
    if there < recipes {
        println!("built in {:.0} s", began.elapsed().as_secs_f64());
    }
    let bytes = std::fs::metadata(folder.join("kitchen.db")).map_or(0, |m| m.len());
    println!(
        "{recipes} recipes, {VERSIONS} versions each: {} MB",
        bytes >> 20
    );
    Ok(())
}

fn timed<T>(work: impl FnOnce() -> Done<T>) -> Done<Duration> {
    let began = Instant::now();
    work()?;
    Ok(began.elapsed())
}

fn say(what: &str, mut took: Vec<Duration>) {
    took.sort_unstable();
    let at = |share: f64| {
        let place = (took.len() as f64 * share) as usize;
        took[place.min(took.len() - 1)].as_secs_f64() * 1000.0
    };
    println!(
        "{what:<30} p50 {:>7.2} ms   p99 {:>7.2} ms   n {}",
        at(0.5),
        at(0.99),
        took.len()
    );
}

/// A running workbench.
struct Bench {
    child: Child,
    host: String,
    seal: String,
    // Read from as long as it runs.
    _out: BufReader<ChildStdout>,
}

impl Bench {
    fn start(folder: &Path) -> Done<Self> {
        let mut child = Command::new(env!("CARGO_BIN_EXE_unwheat"))
            .args(["--port", "0", "--no-browser", "--kitchen"])
            .arg(folder)
            .stdout(Stdio::piped())
            .spawn()?;
        let mut out = BufReader::new(child.stdout.take().ok_or("no output")?);
        let mut line = String::new();
        out.read_line(&mut line)?;
        let host = line
            .trim()
            .rsplit_once("http://")
            .ok_or("no address in the first line")?
            .1
            .to_owned();
        let seal = std::fs::read_to_string(folder.join("seal"))?
            .trim()
            .to_owned();
        Ok(Self {
            child,
            host,
            seal,
            _out: out,
        })
    }

    fn ask(&self, request: &str) -> Done<String> {
        let mut stream = TcpStream::connect(&self.host)?;
        stream.write_all(request.as_bytes())?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer)?;
        let status = answer.split(' ').nth(1).unwrap_or("");
        if status != "200" {
            return Err(format!("{}: {answer:.300}", request.lines().next().unwrap_or("")).into());
        }
        Ok(answer)
    }

    fn get(&self, path: &str) -> Done<String> {
        self.ask(&format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
            self.host
        ))
    }

    fn post(&self, path: &str, form: &str) -> Done<String> {
        self.ask(&format!(
            "POST {path} HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nx-live: 1\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: {1}\r\nConnection: close\r\n\r\n{form}",
            self.host,
            form.len()
        ))
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
