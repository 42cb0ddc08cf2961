//! Starting the binary.

use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What a run left behind.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
    /// The command, for messages.
    pub what: String,
}

/// The folder of the workspace: where a person stands who follows the README.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .expect("the crate lies two folders down")
        .to_owned()
}

/// Runs the binary from the workspace's folder with this on standard input.
pub fn with_input(arguments: &[&str], input: &[u8]) -> Ran {
    run(arguments, input, &[])
}

/// Runs the binary with nothing on standard input.
pub fn unwheat(arguments: &[&str]) -> Ran {
    run(arguments, b"", &[])
}

/// Runs the binary with settings of the environment.
pub fn run(arguments: &[&str], input: &[u8], settings: &[(&str, &str)]) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_unwheat"))
        .args(arguments)
        .envs(settings.iter().copied())
        .current_dir(root())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the binary starts");
    let mut stdin = child.stdin.take().expect("standard input is a pipe");
    let input = input.to_vec();
    // A program that refuses its arguments closes the pipe unread: that is no failure.
    let writer = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().expect("the binary ends");
    writer.join().expect("the writer ends");
    let ran = Ran {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).expect("UTF-8 on standard output"),
        err: String::from_utf8(output.stderr).expect("UTF-8 on standard error"),
        what: arguments.join(" "),
    };
    assert!(
        !ran.err.contains("panicked"),
        "{}: a panic:\n{}",
        ran.what,
        ran.err
    );
    ran
}

impl Ran {
    /// What was printed, after a run that succeeded and said nothing on standard error.
    #[track_caller]
    pub fn done(self) -> String {
        assert_eq!(self.code, 0, "{}: {}", self.what, self.err);
        assert_eq!(self.err, "", "{}", self.what);
        self.out
    }
    /// The same, as JSON.
    #[track_caller]
    pub fn json(self) -> Value {
        let what = self.what.clone();
        let parsed = serde_json::from_str(&self.done());
        assert!(parsed.is_ok(), "{what}: {parsed:?}");
        parsed.unwrap_or_default()
    }
    /// What was said of an input that cannot be worked with: exit code 1, nothing on standard
    /// output, what is wrong in one line, what to do in a second.
    #[track_caller]
    pub fn refused(self) -> String {
        assert_eq!(self.code, 1, "{}: {}{}", self.what, self.out, self.err);
        assert_eq!(self.out, "", "{}", self.what);
        let lines: Vec<&str> = self.err.lines().collect();
        assert_eq!(lines.len(), 2, "{}: {}", self.what, self.err);
        assert!(lines[0].starts_with("unwheat: "), "{}", self.err);
        assert!(
            lines[1].starts_with("  ") && lines[1].trim().len() > 10,
            "{}: no word of what to do: {}",
            self.what,
            self.err
        );
        self.err
    }
    /// What was said of wrong usage: exit code 2, nothing on standard output.
    #[track_caller]
    pub fn misused(self) -> String {
        assert_eq!(self.code, 2, "{}: {}{}", self.what, self.out, self.err);
        assert_eq!(self.out, "", "{}", self.what);
        assert!(!self.err.trim().is_empty(), "{}", self.what);
        self.err
    }
}

/// Whether a message names a line and a column, both from 1.
pub fn names_a_place(message: &str) -> bool {
    let number = |after: &str| -> Option<usize> {
        let rest = &message[message.find(after)? + after.len()..];
        let end = rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(rest.len());
        rest[..end].parse().ok()
    };
    number("line ").is_some_and(|n| n > 0) && number("column ").is_some_and(|n| n > 0)
}

/// The files of a folder of the workspace, by name, as paths from the workspace's folder.
pub fn files(folder: &str) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(root().join(folder))
        .expect("the folder is there")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .map(|name| format!("{folder}/{name}"))
        .filter(|path| root().join(path).is_file())
        .collect();
    names.sort();
    assert!(!names.is_empty(), "{folder} is empty");
    names
}

/// The example recipes.
pub fn examples() -> Vec<String> {
    let mut all = files("examples");
    all.retain(|f| f.ends_with(".txt"));
    all
}

/// The locale an example was written in.
pub fn locale_of(example: &str) -> &'static str {
    match example {
        e if e.contains("leek") => "au",
        e if ["cheesecake", "lemon", "stout"]
            .iter()
            .any(|w| e.contains(w)) =>
        {
            "uk"
        }
        _ => "us",
    }
}
