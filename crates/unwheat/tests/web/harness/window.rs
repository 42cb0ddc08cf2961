//! One browser window, driven by what is seen in it. Every wait ends, with a picture and a word
//! of what was waited for.

use super::driver::Driver;
use super::http::{plain, send};
use super::{House, root};
use serde_json::{Value, json};
use std::path::PathBuf;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// How long anything on a page may take before the test gives up.
const PATIENCE: Duration = Duration::from_secs(20);
/// How long one command of the driver may take.
const COMMAND: Duration = Duration::from_secs(150);
const FIND: &str = include_str!("find.js");
const AXE: &str = include_str!("../../vendor/axe/axe.min.js");
/// The key under which WebDriver names an element.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// Keys by their WebDriver code points.
pub mod key {
    pub const TAB: char = '\u{E004}';
    pub const ENTER: char = '\u{E007}';
    pub const SHIFT: char = '\u{E008}';
    pub const CONTROL: char = '\u{E009}';
    pub const SPACE: char = ' ';
    pub const LEFT: char = '\u{E012}';
    pub const BACKSPACE: char = '\u{E003}';
}

/// Light or dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Theme {
    Light,
    Dark,
}

impl Theme {
    pub fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }
}

/// An element on the page.
#[derive(Debug, Clone)]
pub struct Element(String);

/// A browser window.
pub struct Window {
    driver: &'static Driver,
    session: String,
    host: String,
    _profile: TempDir,
    said: Vec<String>,
}

impl Window {
    /// Opens a new browser with nothing remembered.
    pub fn open(driver: &'static Driver, house: &House) -> Self {
        let profile = tempfile::tempdir().expect("a folder");
        let arguments = [
            "--headless".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-gpu".to_owned(),
            "--no-first-run".to_owned(),
            "--disable-background-networking".to_owned(),
            "--disable-component-update".to_owned(),
            "--disable-sync".to_owned(),
            "--disable-dev-shm-usage".to_owned(),
            "--hide-scrollbars".to_owned(),
            "--window-size=1280,900".to_owned(),
            format!("--user-data-dir={}", profile.path().display()),
        ];
        let mut window = Self {
            driver,
            session: String::new(),
            host: house.host.clone(),
            _profile: profile,
            said: Vec::new(),
        };
        let got = window.command(
            "POST",
            "",
            json!({ "capabilities": { "alwaysMatch": {
                "browserName": "chrome",
                "pageLoadStrategy": "normal",
                "timeouts": { "script": 120_000, "pageLoad": 30_000, "implicit": 0 },
                "goog:loggingPrefs": { "browser": "ALL" },
                "goog:chromeOptions": { "binary": driver.chromium, "args": arguments },
            } } }),
        );
        let got = got.unwrap_or_else(|e| panic!("Chromium starts: {e}"));
        window.session = got["sessionId"].as_str().expect("a session").to_owned();
        window.narrow(1280);
        window
    }

    fn command(&self, method: &str, what: &str, body: Value) -> Result<Value, String> {
        let path = if self.session.is_empty() {
            "/session".to_owned()
        } else {
            format!("/session/{}{what}", self.session)
        };
        let body = if method == "POST" {
            body.to_string()
        } else {
            String::new()
        };
        let headers = format!(
            "Host: {}\r\nContent-Type: application/json\r\n",
            self.driver.address
        );
        let answer = send(
            &self.driver.address,
            method,
            &path,
            &headers,
            body.as_bytes(),
            COMMAND,
        )
        .map_err(|e| format!("{what}: the driver does not answer: {e}"))?;
        let mut got: Value = serde_json::from_slice(&answer.body).map_err(|e| e.to_string())?;
        let value = got["value"].take();
        if answer.status == 200 {
            Ok(value)
        } else {
            let first = |k: &str| -> String {
                let text = value[k].as_str().unwrap_or_default();
                text.lines().next().unwrap_or_default().to_owned()
            };
            Err(format!("{what}: {}: {}", first("error"), first("message")))
        }
    }

    #[track_caller]
    fn must(&self, what: &str, body: Value) -> Value {
        self.command("POST", what, body)
            .unwrap_or_else(|e| panic!("{e}"))
    }

    /// A command of the browser's own protocol.
    #[track_caller]
    pub fn cdp(&self, command: &str, parameters: Value) -> Value {
        self.must(
            "/goog/cdp/execute",
            json!({ "cmd": command, "params": parameters }),
        )
    }

    // Where we are.

    /// Goes to a path of the workbench.
    #[track_caller]
    pub fn go(&mut self, path: &str) {
        self.note();
        let url = format!("http://{}{path}", self.host);
        self.must("/url", json!({ "url": url }));
    }

    /// Goes to paths of another workbench from now on.
    pub fn visit(&mut self, host: &str) {
        host.clone_into(&mut self.host);
    }

    /// Loads the page again.
    #[track_caller]
    pub fn reload(&mut self) {
        self.note();
        self.must("/refresh", json!({}));
    }

    /// The path of the page.
    pub fn path(&self) -> String {
        let url = self.command("GET", "/url", Value::Null).unwrap_or_default();
        let url = url.as_str().unwrap_or_default();
        url.split(&self.host).nth(1).unwrap_or(url).to_owned()
    }

    /// Runs a script in the page. It comes from the driver, not the page, so the page's policy
    /// does not stand in its way.
    #[track_caller]
    pub fn js(&self, script: &str, arguments: Value) -> Value {
        self.must(
            "/execute/sync",
            json!({ "script": script, "args": arguments }),
        )
    }

    /// The same, for a script that calls back.
    #[track_caller]
    pub fn js_later(&self, script: &str, arguments: Value) -> Value {
        self.must(
            "/execute/async",
            json!({ "script": script, "args": arguments }),
        )
    }

    /// Opens a second window in the same browser, and goes there. Gives this one and that one.
    pub fn second(&mut self) -> (String, String) {
        let first = self.command("GET", "/window", Value::Null);
        let first = first
            .expect("a window")
            .as_str()
            .expect("a name")
            .to_owned();
        let new = self.must("/window/new", json!({ "type": "window" }));
        let second = new["handle"].as_str().expect("a name").to_owned();
        self.turn_to(&second);
        (first, second)
    }

    /// Looks at another window.
    pub fn turn_to(&mut self, window: &str) {
        self.note();
        self.must("/window", json!({ "handle": window }));
    }

    // Waiting.

    /// Waits until something is there.
    #[track_caller]
    pub fn until<T>(&self, what: &str, mut is: impl FnMut(&Self) -> Option<T>) -> T {
        let began = Instant::now();
        loop {
            if let Some(got) = is(self) {
                return got;
            }
            if began.elapsed() > PATIENCE {
                self.give_up(what);
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    #[track_caller]
    fn give_up(&self, what: &str) -> ! {
        let picture = self.picture("failed");
        let text = self.text();
        let short: String = text.chars().take(1500).collect();
        panic!(
            "waited {} s for {what}\n  at {}\n  picture: {}\n  the page says: {short}",
            PATIENCE.as_secs(),
            self.path(),
            picture.display()
        );
    }

    /// Waits until a script gives something true.
    #[track_caller]
    pub fn holds(&self, what: &str, script: &str) {
        self.until(what, |w| {
            let got = w.command(
                "POST",
                "/execute/sync",
                json!({ "script": format!("return !!({script});"), "args": [] }),
            );
            (got == Ok(Value::Bool(true))).then_some(())
        });
    }

    /// The visible words of the page.
    pub fn text(&self) -> String {
        let got = self.command(
            "POST",
            "/execute/sync",
            json!({ "script": "return document.body?.innerText ?? '';", "args": [] }),
        );
        plain(got.unwrap_or_default().as_str().unwrap_or_default())
    }

    /// Waits until words are seen.
    #[track_caller]
    pub fn see(&self, words: &str) {
        self.until(&format!("the words '{words}'"), |w| {
            w.text().contains(words).then_some(())
        });
    }

    /// Waits until words are no longer seen.
    #[track_caller]
    pub fn gone(&self, words: &str) {
        self.until(&format!("the words '{words}' to go"), |w| {
            (!w.text().contains(words)).then_some(())
        });
    }

    /// Waits until the page is at a path that ends so; a place within the page only counts where
    /// one is named.
    #[track_caller]
    pub fn arrive(&self, end: &str) {
        self.until(&format!("the page {end}"), |w| {
            let path = w.path();
            let page = path.split('#').next().unwrap_or_default();
            let at = if end.contains('#') { &path } else { page };
            (at.ends_with(end) && w.is_loaded()).then_some(())
        });
    }

    fn is_loaded(&self) -> bool {
        self.command(
            "POST",
            "/execute/sync",
            json!({ "script": "return document.readyState === 'complete';", "args": [] }),
        ) == Ok(Value::Bool(true))
    }

    // Finding and doing.

    /// Something visible by kind and name, at once; `kind` may be a selector.
    pub fn find(&self, kind: &str, name: &str, within: Option<&str>) -> Option<Element> {
        let got = self
            .command(
                "POST",
                "/execute/sync",
                json!({ "script": FIND, "args": [kind, name, within] }),
            )
            .ok()?;
        Some(Element(got.get(ELEMENT)?.as_str()?.to_owned()))
    }

    fn as_argument(e: &Element) -> Value {
        json!({ ELEMENT: e.0 })
    }

    #[track_caller]
    fn do_with(&self, kind: &str, name: &str, within: Option<&str>, action: &str) {
        let began = Instant::now();
        let mut last = format!("no visible {kind} is called '{name}'");
        loop {
            if let Some(e) = self.find(kind, name, within) {
                match self.command("POST", &format!("/element/{}/{action}", e.0), json!({})) {
                    Ok(_) => return,
                    // The page was patched between finding and doing.
                    Err(e) => last = e,
                }
            }
            if began.elapsed() > PATIENCE {
                self.give_up(&format!("{action} of {kind} '{name}': {last}"));
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Clicks what is called so: a button, link or the head of something to open.
    #[track_caller]
    pub fn press(&self, name: &str) {
        self.do_with("press", name, None, "click");
    }

    /// The same, in the section under a heading.
    #[track_caller]
    pub fn press_in(&self, heading: &str, name: &str) {
        self.do_with("press", name, Some(heading), "click");
    }

    /// Taps a part of something with the pointer: no more than a finger does.
    #[track_caller]
    pub fn tap(&self, kind: &str, name: &str, part: &str) {
        self.until(&format!("a tap on {part} of '{name}'"), |w| {
            let e = w.find(kind, name, None)?;
            let script = json!({
                "script": "return arguments[0].querySelector(arguments[1]);",
                "args": [Self::as_argument(&e), part],
            });
            let got = w.command("POST", "/execute/sync", script).ok()?;
            let id = got.get(ELEMENT)?.as_str()?;
            w.command("POST", &format!("/element/{id}/click"), json!({}))
                .ok()
        });
    }

    /// Puts the cursor into a field.
    #[track_caller]
    pub fn enter(&self, field: &str) {
        self.do_with("field", field, None, "click");
    }

    /// Clicks a button of a choice, or a box to tick, by its words.
    #[track_caller]
    pub fn choose_one(&self, words: &str) {
        self.do_with(
            "input[type=radio], input[type=checkbox]",
            words,
            None,
            "click",
        );
    }

    /// Writes into a field in place of what stands there.
    #[track_caller]
    pub fn fill(&self, field: &str, words: &str) {
        self.enter(field);
        self.key(&[key::CONTROL], 'a');
        if words.is_empty() {
            self.key(&[], key::BACKSPACE);
        } else if words.chars().count() > 60 {
            // As a paste comes in: all at once.
            self.cdp("Input.insertText", json!({ "text": words }));
        } else {
            self.write(words);
        }
    }

    /// Chooses in a list by the words seen.
    #[track_caller]
    pub fn choose(&self, field: &str, option: &str) {
        self.until(&format!("'{option}' on offer in '{field}'"), |w| {
            let e = w.find("field", field, None)?;
            let script = json!({
                "script": "return [...arguments[0].options].find((o) => o.textContent.includes(arguments[1])) ?? null;",
                "args": [Self::as_argument(&e), option],
            });
            // The page may be patched or left between finding and choosing: then again.
            let got = w.command("POST", "/execute/sync", script).ok()?;
            let id = got.get(ELEMENT)?.as_str()?;
            w.command("POST", &format!("/element/{id}/click"), json!({}))
                .ok()
        });
    }

    /// Chooses a file for a field, as the file dialogue would.
    #[track_caller]
    pub fn attach(&self, field: &str, file: &std::path::Path) {
        self.until(&format!("the field '{field}' to take a file"), |w| {
            let e = w.find("field", field, None)?;
            let name = json!({ "text": file.display().to_string() });
            w.command("POST", &format!("/element/{}/value", e.0), name)
                .ok()
        });
    }

    /// What stands in a field.
    #[track_caller]
    pub fn value(&self, field: &str) -> String {
        self.until(&format!("the field '{field}'"), |w| {
            let e = w.find("field", field, None)?;
            let script =
                json!({ "script": "return arguments[0].value;", "args": [Self::as_argument(&e)] });
            // The page may be patched between finding and looking: then again.
            let got = w.command("POST", "/execute/sync", script).ok()?;
            got.as_str().map(str::to_owned)
        })
    }

    /// Strikes one key, others held, wherever the focus is.
    #[track_caller]
    pub fn key(&self, held: &[char], struck: char) {
        let down = |c: &char| json!({ "type": "keyDown", "value": c.to_string() });
        let up = |c: &char| json!({ "type": "keyUp", "value": c.to_string() });
        let actions: Vec<Value> = held
            .iter()
            .map(down)
            .chain([down(&struck), up(&struck)])
            .chain(held.iter().rev().map(up))
            .collect();
        self.must(
            "/actions",
            json!({ "actions": [{ "type": "key", "id": "keys", "actions": actions }] }),
        );
    }

    /// Types on the keyboard, wherever the focus is.
    #[track_caller]
    pub fn write(&self, words: &str) {
        let actions: Vec<Value> = words
            .chars()
            .flat_map(|c| {
                [
                    json!({ "type": "keyDown", "value": c.to_string() }),
                    json!({ "type": "keyUp", "value": c.to_string() }),
                ]
            })
            .collect();
        self.must(
            "/actions",
            json!({ "actions": [{ "type": "key", "id": "keys", "actions": actions }] }),
        );
    }

    /// The state of the draft that the page shows.
    pub fn rev(&self) -> i64 {
        let got = self.js(
            "return Number(document.querySelector('[data-rev]')?.dataset.rev ?? -1);",
            json!([]),
        );
        got.as_i64().unwrap_or(-1)
    }

    /// Does something and waits until the page shows a newer state of the draft.
    #[track_caller]
    pub fn and_follows(&self, what: &str, act: impl FnOnce(&Self)) {
        let was = self.rev();
        act(self);
        self.until(&format!("what follows from {what}"), |w| {
            (w.is_loaded() && w.rev() != was && w.rev() >= 0).then_some(())
        });
    }

    // How it looks.

    /// Makes the window so many pixels wide.
    pub fn narrow(&self, width: u32) {
        self.size(width, 900, 1);
    }

    /// Size and scale: 200 % zoom on a 1280 px window is 640 px at scale 2.
    pub fn size(&self, width: u32, height: u32, scale: u32) {
        self.cdp(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": scale, "mobile": false }),
        );
    }

    /// What the system prefers; and no motion, so that no colour is looked at halfway to its next.
    pub fn theme(&self, theme: Theme) {
        let wants = |name: &str, value: &str| json!({ "name": name, "value": value });
        self.cdp(
            "Emulation.setEmulatedMedia",
            json!({ "features": [
                wants("prefers-color-scheme", theme.word()),
                wants("prefers-reduced-motion", "reduce"),
            ] }),
        );
    }

    /// Turns the page's scripts off, or on again, from the next page on.
    pub fn scripts(&self, on: bool) {
        self.cdp(
            "Emulation.setScriptExecutionDisabled",
            json!({ "value": !on }),
        );
    }

    /// A picture of the whole page, kept under target/screens.
    pub fn picture(&self, name: &str) -> PathBuf {
        let folder = screens();
        let thread = std::thread::current();
        let test = thread.name().unwrap_or("test").replace("::", "-");
        let path = if name == "failed" {
            folder.join(format!("failed-{test}.png"))
        } else {
            folder.join(format!("{name}.png"))
        };
        let got = self.cdp(
            "Page.captureScreenshot",
            json!({ "format": "png", "captureBeyondViewport": true, "optimizeForSpeed": true }),
        );
        let bytes = base64(got["data"].as_str().unwrap_or_default());
        std::fs::write(&path, bytes).expect("the picture is kept");
        path
    }

    /// Prints the page; the bytes of the PDF.
    #[track_caller]
    pub fn print(&self) -> Vec<u8> {
        let got = self.must("/print", json!({}));
        base64(got.as_str().unwrap_or_default())
    }

    /// What axe finds on the page: nothing, or each thing on a line of its own.
    #[track_caller]
    pub fn axe(&self) -> Vec<String> {
        self.js(&format!("{AXE}; return !!window.axe;"), json!([]));
        let found = self.js_later(
            r#"const done = arguments[arguments.length - 1];
            axe.run(document, { resultTypes: ["violations"], runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], rules: { "label-content-name-mismatch": { enabled: true } } }).then(
              (r) => done(r.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${v.help}: ${n.html.slice(0, 160)} (${n.any.concat(n.all, n.none).map((c) => c.message).join("; ").slice(0, 200)})`))),
              (e) => done(["axe: " + e]));"#,
            json!([]),
        );
        found
            .as_array()
            .expect("a list")
            .iter()
            .map(|v| v.as_str().unwrap_or_default().to_owned())
            .collect()
    }

    /// Fails unless the page fits its window's width.
    pub fn overhang(&self) -> Option<String> {
        let got = self.js(
            r#"const wide = document.scrollingElement.scrollWidth, seen = innerWidth;
            if (wide <= seen) return null;
            const out = [...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > seen + 0.5 && e.checkVisibility());
            return `${wide} px in a window of ${seen}: ` + out.slice(-3).map((e) => e.outerHTML.slice(0, 120)).join(" | ");"#,
            json!([]),
        );
        got.as_str().map(str::to_owned)
    }

    /// Buttons and fields that stand nearer than 4 px to one another, and sheets, tables and rows that
    /// stand so near to what is above them; folded parts unfolded.
    pub fn touching(&self) -> Vec<String> {
        let got = self.js(
            r#"const folded = [...document.querySelectorAll("details:not([open])")];
            for (const d of folded) d.open = true;
            const all = [...document.querySelectorAll("main :is(button, a.button, input:not([type=hidden], [type=checkbox], [type=radio]), select, textarea)")]
              .filter((e) => e.checkVisibility() && !e.matches("td > form > input")).map((e) => [e, e.getBoundingClientRect()]);
            const out = [];
            const name = (e) => e.outerHTML.slice(0, 80);
            all.forEach(([e, a], i) => all.slice(i + 1).forEach(([f, b]) => {
              const aside = Math.max(a.left, b.left) - Math.min(a.right, b.right), below = Math.max(a.top, b.top) - Math.min(a.bottom, b.bottom);
              if (aside < 4 && below < 4) out.push(`${name(e)} touches ${name(f)}`);
            }));
            for (const e of document.querySelectorAll("main :is(.sheet, .ledger, .row:not(section))")) {
              const before = e.previousElementSibling;
              if (!before?.matches(":not(label)") || !before.checkVisibility() || !e.checkVisibility()) continue;
              const a = before.getBoundingClientRect(), b = e.getBoundingClientRect();
              if (a.height > 1 && a.right > b.left && b.right > a.left && Math.abs(b.top - a.bottom) < 4) out.push(`${name(e)} touches ${name(before)} above it`);
            }
            for (const d of folded) d.open = false;
            return out;"#,
            json!([]),
        );
        let found = got.as_array().into_iter().flatten();
        found
            .filter_map(|v| v.as_str().map(str::to_owned))
            .collect()
    }

    /// The focused element in words, and whether its focus is seen and nothing lies over it.
    pub fn focus(&self) -> (String, bool) {
        let got = self.js(
            r#"const e = document.activeElement;
            if (!e || e === document.body) return ["the page", true];
            // What is focused within shows that itself.
            if (e.matches("iframe")) return [`iframe ${e.title}`, true];
            const s = getComputedStyle(e);
            const ring = (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) > 0) || s.boxShadow !== "none";
            const r = e.getBoundingClientRect();
            const over = document.elementFromPoint(r.left + Math.min(r.width / 2, 20), r.top + Math.min(r.height / 2, 20));
            // Under a bar that stays in place, or out of the window, it is not seen.
            const seen = ring && (!over || e.contains(over) || over.contains(e) || over.closest("label")?.control === e);
            const name = e.getAttribute("aria-label") || [...(e.labels ?? [])].map((l) => l.textContent).join(" ") || e.textContent || e.name || e.id;
            return [`${e.tagName.toLowerCase()} ${name.replace(/\s+/g, " ").trim().slice(0, 80)}`, seen];"#,
            json!([]),
        );
        (
            got[0].as_str().unwrap_or_default().to_owned(),
            got[1].as_bool().unwrap_or(false),
        )
    }

    /// Keeps what the console said before the page goes.
    fn note(&mut self) {
        let log = self.command("POST", "/se/log", json!({ "type": "browser" }));
        for entry in log.unwrap_or_default().as_array().into_iter().flatten() {
            let text = entry["message"].as_str().unwrap_or_default();
            if entry["level"] == "SEVERE" {
                self.said.push(text.to_owned());
            }
        }
    }

    /// What the console complained of so far; it is then forgotten.
    pub fn complaints(&mut self) -> Vec<String> {
        self.note();
        std::mem::take(&mut self.said)
    }

    /// The console says nothing of faults: no script stumbled, nothing was kept out by the policy.
    /// Answers that say no (a bad figure, a conflict) are no faults.
    #[track_caller]
    pub fn must_be_quiet(&mut self) {
        let faults: Vec<String> = self
            .complaints()
            .into_iter()
            .filter(|t| !t.contains("the server responded with a status of 4"))
            // REFUSED or RESET: the workbench was stopped.
            .filter(|t| !t.contains("net::ERR_CONNECTION_RE"))
            .collect();
        assert!(faults.is_empty(), "the console: {faults:#?}");
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        if !self.session.is_empty() {
            let _ = self.command("DELETE", "", Value::Null);
        }
    }
}

/// Where pictures are kept.
pub fn screens() -> PathBuf {
    // target/debug/unwheat, wherever target is.
    let binary = PathBuf::from(env!("CARGO_BIN_EXE_unwheat"));
    let target = binary
        .ancestors()
        .nth(2)
        .map_or_else(|| root().join("target"), std::path::Path::to_owned);
    let folder = target.join("screens");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    folder
}

fn base64(text: &str) -> Vec<u8> {
    let mut out = Vec::with_capacity(text.len() / 4 * 3);
    let (mut bits, mut held) = (0_u32, 0);
    for b in text.bytes() {
        let v = match b {
            b'A'..=b'Z' => b - b'A',
            b'a'..=b'z' => b - b'a' + 26,
            b'0'..=b'9' => b - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => continue,
        };
        bits = bits << 6 | u32::from(v);
        held += 6;
        if held >= 8 {
            held -= 8;
            out.push((bits >> held) as u8);
        }
    }
    out
}
