//! The built program, serving a kitchen of its own in a folder that goes with it.

use super::http::{Answer, encode, send};
use std::cell::RefCell;
use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;

const PATIENCE: Duration = Duration::from_secs(20);

/// A running workbench.
pub struct House {
    folder: TempDir,
    /// `127.0.0.1:port`.
    pub host: String,
    /// What it said when it started.
    pub said: Vec<String>,
    child: RefCell<Option<Child>>,
}

impl House {
    /// Makes a recipe so many times.
    pub fn size(&self, recipe: u32, times: &str) -> Answer {
        let change = serde_json::json!({ "field": "size", "ask": { "target": { "times": 0.0 } } });
        self.post(
            &format!("/recipe/{recipe}/change"),
            &[
                ("change", &change.to_string()),
                ("value", times),
                ("over", "1"),
                ("leaf", "size"),
            ],
        )
    }

    /// Starts one over a new kitchen.
    pub fn open() -> Self {
        Self::open_with(&[]).unwrap_or_else(|log| panic!("the workbench does not start: {log}"))
    }

    /// Starts one with more said on the command line; what it said when it does not start.
    pub fn open_with(more: &[&str]) -> Result<Self, String> {
        let folder = tempfile::tempdir().expect("a folder");
        let mut house = Self {
            folder,
            host: String::new(),
            said: Vec::new(),
            child: RefCell::new(None),
        };
        house.said = house.start("0", more)?;
        let first = house.said.first().and_then(|l| l.split_once("http://"));
        house.host = first.map_or_else(String::new, |f| f.1.trim().to_owned());
        Ok(house)
    }

    fn log(&self) -> PathBuf {
        self.folder.path().join("log")
    }

    /// What it says up to its last line.
    fn start(&self, port: &str, more: &[&str]) -> Result<Vec<String>, String> {
        let log = File::options()
            .create(true)
            .append(true)
            .open(self.log())
            .expect("a log");
        let mut child = Command::new(env!("CARGO_BIN_EXE_unwheat"))
            .arg("--kitchen")
            .arg(self.folder.path().join("kitchen"))
            .args(["--port", port, "--no-browser"])
            .args(more)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(log)
            .spawn()
            .expect("the workbench starts");
        let out = child.stdout.take().expect("standard output is a pipe");
        let mut lines = BufReader::new(out).lines();
        let mut said = Vec::new();
        for line in lines.by_ref().map_while(Result::ok) {
            let last = line.starts_with("Stop it");
            said.push(line);
            if last {
                std::thread::spawn(move || lines.for_each(drop));
                *self.child.borrow_mut() = Some(child);
                return Ok(said);
            }
        }
        let _ = child.wait();
        Err(std::fs::read_to_string(self.log()).unwrap_or_default())
    }

    /// Stops it as a failing machine would.
    pub fn stop(&self) {
        if let Some(mut child) = self.child.borrow_mut().take() {
            let _ = child.kill();
            let _ = child.wait();
        }
    }

    /// Starts it again where it was, over the same kitchen.
    pub fn start_again(&self) {
        let port = self.host.rsplit(':').next().unwrap_or_default();
        let said = self.start(port, &[]);
        assert!(
            said.is_ok_and(|s| s[0].ends_with(&self.host)),
            "it starts where it was"
        );
    }

    /// The kitchen's folder.
    pub fn kitchen(&self) -> PathBuf {
        self.folder.path().join("kitchen")
    }

    /// The seal of its forms.
    pub fn seal(&self) -> String {
        std::fs::read_to_string(self.kitchen().join("seal"))
            .expect("the seal")
            .trim()
            .to_owned()
    }

    /// Asks for a page; one that looks again by itself is waited for, as a browser does.
    pub fn get(&self, path: &str) -> Answer {
        loop {
            let answer = self.get_at(&self.host, path);
            if answer.header("refresh").is_none() {
                return answer;
            }
        }
    }

    /// Asks for a page of the demo kitchen beside it, by its `127.0.0.1:port`.
    pub fn get_at(&self, host: &str, path: &str) -> Answer {
        send(
            host,
            "GET",
            path,
            &format!("Host: {host}\r\n"),
            b"",
            PATIENCE,
        )
        .unwrap_or_else(|e| panic!("GET {host}{path}: {e}"))
    }

    /// Opens the demo kitchen beside it; gives its `127.0.0.1:port`.
    pub fn demo(&self) -> String {
        let answer = self.get("/demo");
        let to = answer.header("location").unwrap_or_default();
        to.strip_prefix("http://")
            .and_then(|t| t.strip_suffix('/'))
            .unwrap_or_else(|| panic!("the demo opens: {} {}", answer.status, answer.text()))
            .to_owned()
    }

    /// Sends a form as its own page would.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let seal = self.seal();
        let mut all = vec![("seal", seal.as_str())];
        let begun = self.begun(path);
        all.extend(begun.as_deref().map(|b| ("begun", b)));
        all.extend_from_slice(fields);
        let headers = format!(
            "Host: {0}\r\nOrigin: http://{0}\r\nContent-Type: application/x-www-form-urlencoded\r\n",
            self.host
        );
        self.send("POST", path, &headers, encode(&all).as_bytes())
    }

    /// When the batch of a form of the bench was begun, as the bench's pages say it.
    fn begun(&self, path: &str) -> Option<String> {
        let id = path.strip_prefix("/bench/")?.split('/').next()?;
        let state = self.get(&format!("/bench/{id}/state")).text();
        let state: serde_json::Value = serde_json::from_str(&state).ok()?;
        Some(state["begun"].to_string())
    }

    /// Sends a request as written.
    pub fn send(&self, method: &str, path: &str, headers: &str, body: &[u8]) -> Answer {
        send(&self.host, method, path, headers, body, PATIENCE)
            .unwrap_or_else(|e| panic!("{method} {path}: {e}"))
    }

    /// Puts a recipe in and gives its number.
    pub fn recipe(&self, text: &str) -> u32 {
        self.recipe_in(text, "us")
    }

    /// The same in the measures of another country.
    pub fn recipe_in(&self, text: &str, locale: &str) -> u32 {
        let answer = self.post("/recipes", &[("text", text), ("locale", locale)]);
        let to = answer.header("location").unwrap_or_default();
        to.split('/')
            .nth(2)
            .and_then(|n| n.parse().ok())
            .unwrap_or_else(|| panic!("a recipe is read: {} {}", answer.status, answer.text()))
    }

    /// Nothing has panicked, and nothing inside went wrong unseen.
    pub fn must_be_sound(&self) {
        let log = std::fs::read_to_string(self.log()).unwrap_or_default();
        assert_eq!(log, "", "the workbench wrote to its log");
    }
}

impl Drop for House {
    fn drop(&mut self) {
        self.stop();
    }
}
