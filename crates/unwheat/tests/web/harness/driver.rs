//! Chromium and its driver: found, started once for all tests, gone when the tests end.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::OnceLock;

/// A running chromedriver.
#[derive(Debug)]
pub struct Driver {
    /// Its address, `host:port`.
    pub address: String,
    /// The browser.
    pub chromium: PathBuf,
    // Held open: the shell around the driver ends it when this pipe closes.
    _life: Child,
}

/// The driver, started the first time. `None` where there is no browser.
pub fn running() -> Option<&'static Driver> {
    static DRIVER: OnceLock<Option<Driver>> = OnceLock::new();
    DRIVER.get_or_init(start).as_ref()
}

fn find(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .flat_map(|d| names.iter().map(move |n| d.join(n)))
        .find(|p| p.is_file())
}

fn start() -> Option<Driver> {
    let chromium = find(&["chromium", "chromium-browser", "google-chrome"]);
    let driver = find(&["chromedriver"]);
    let (Some(chromium), Some(driver)) = (chromium, driver) else {
        let words = "browser tests need chromium and chromium-driver: left out";
        assert!(
            std::env::var("UNWHEAT_BROWSER").as_deref() != Ok("must"),
            "{words}, but UNWHEAT_BROWSER=must"
        );
        // Straight to standard error: what a passing test prints is not shown.
        let _ = writeln!(std::io::stderr(), "{words}");
        return None;
    };
    // The driver must not outlive the tests, however they end: the shell waits for the pipe that
    // this process holds, then stops it.
    let mut life = Command::new("sh")
        .args([
            "-c",
            "\"$0\" --port=0 & d=$!; cat >/dev/null; kill $d; wait $d",
        ])
        .arg(&driver)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("a shell starts");
    let out = life.stdout.take().expect("standard output is a pipe");
    let mut lines = BufReader::new(out).lines();
    let port = lines
        .by_ref()
        .map_while(Result::ok)
        .find_map(|l| {
            let rest = l
                .split("started successfully on port ")
                .nth(1)?
                .trim_end_matches('.');
            rest.trim().parse::<u16>().ok()
        })
        .expect("chromedriver says its port");
    std::thread::spawn(move || lines.for_each(drop));
    Some(Driver {
        address: format!("127.0.0.1:{port}"),
        chromium,
        _life: life,
    })
}
