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
    child: RefCell<Option<Child>>,
}

impl House {
    /// Starts one over a new kitchen.
    pub fn open() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let mut house = Self {
            folder,
            host: String::new(),
            child: RefCell::new(None),
        };
        house.host = house.start("0");
        house
    }

    fn log(&self) -> PathBuf {
        self.folder.path().join("log")
    }

    fn start(&self, port: &str) -> String {
        let log = File::options()
            .create(true)
            .append(true)
            .open(self.log())
            .expect("a log");
        let mut child = Command::new(env!("CARGO_BIN_EXE_unwheat"))
            .arg("--kitchen")
            .arg(self.folder.path().join("kitchen"))
            .args(["--port", port, "--no-browser"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(log)
            .spawn()
            .expect("the workbench starts");
        let out = child.stdout.take().expect("standard output is a pipe");
        let mut lines = BufReader::new(out).lines();
        let first = lines.next().and_then(Result::ok).unwrap_or_default();
        std::thread::spawn(move || lines.for_each(drop));
        *self.child.borrow_mut() = Some(child);
        let Some((_, host)) = first.split_once("http://") else {
            let log = std::fs::read_to_string(self.log()).unwrap_or_default();
            panic!("the workbench says where it is, not '{first}'; its log: {log}");
        };
        host.trim().to_owned()
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
        assert_eq!(self.start(port), self.host);
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

    /// Asks for a page.
    pub fn get(&self, path: &str) -> Answer {
        self.send("GET", path, &format!("Host: {}\r\n", self.host), b"")
    }

    /// Sends a form as its own page would.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let seal = self.seal();
        let mut all = vec![("seal", seal.as_str())];
        all.extend_from_slice(fields);
        let headers = format!(
            "Host: {0}\r\nOrigin: http://{0}\r\nContent-Type: application/x-www-form-urlencoded\r\n",
            self.host
        );
        self.send("POST", path, &headers, encode(&all).as_bytes())
    }

    /// Sends a request as written.
    pub fn send(&self, method: &str, path: &str, headers: &str, body: &[u8]) -> Answer {
        send(&self.host, method, path, headers, body, PATIENCE)
            .unwrap_or_else(|e| panic!("{method} {path}: {e}"))
    }

    /// Puts a recipe in and gives its number.
    pub fn recipe(&self, text: &str) -> u32 {
        let answer = self.post("/recipes", &[("text", text), ("locale", "us")]);
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
