//! One request over plain HTTP, as it is written, and its answer.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    head: String,
    pub body: Vec<u8>,
}

impl Answer {
    /// A header's value.
    pub fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().skip(1).find_map(|l| {
            let (n, v) = l.split_once(':')?;
            n.eq_ignore_ascii_case(name).then(|| v.trim())
        })
    }
    /// The body as text.
    pub fn text(&self) -> String {
        plain(&String::from_utf8_lossy(&self.body))
    }
}

/// Words in which any space is as good as another: that a figure and its unit stay together has its own test.
pub fn plain(words: &str) -> String {
    words.replace('\u{a0}', " ")
}

/// Sends a request to `host:port` and waits for the whole answer. `headers` are lines with their
/// line ends; length and closing are put in here.
pub fn send(
    to: &str,
    method: &str,
    path: &str,
    headers: &str,
    body: &[u8],
    within: Duration,
) -> std::io::Result<Answer> {
    let mut stream = TcpStream::connect(to)?;
    stream.set_read_timeout(Some(within))?;
    stream.set_nodelay(true)?;
    let mut request = format!(
        "{method} {path} HTTP/1.1\r\n{headers}Content-Length: {}\r\nConnection: close\r\n\r\n",
        body.len()
    )
    .into_bytes();
    request.extend_from_slice(body);
    stream.write_all(&request)?;
    let mut got = Vec::new();
    let mut chunk = [0; 1 << 16];
    loop {
        if let Some(answer) = whole(&got) {
            return Ok(answer);
        }
        match stream.read(&mut chunk)? {
            0 => break,
            n => got.extend_from_slice(&chunk[..n]),
        }
    }
    let (head, body) = split(&got)
        .ok_or_else(|| std::io::Error::other(format!("{method} {path}: the answer has no head")))?;
    Ok(answer(head, body))
}

fn split(got: &[u8]) -> Option<(&[u8], &[u8])> {
    let at = got.windows(4).position(|w| w == b"\r\n\r\n")?;
    Some((&got[..at], &got[at + 4..]))
}

fn answer(head: &[u8], body: &[u8]) -> Answer {
    let head = String::from_utf8_lossy(head).into_owned();
    let status = head
        .split_whitespace()
        .nth(1)
        .and_then(|s| s.parse().ok())
        .unwrap_or(0);
    Answer {
        status,
        head,
        body: body.to_vec(),
    }
}

/// The answer, once as much of it has come as its length says.
fn whole(got: &[u8]) -> Option<Answer> {
    let (head, body) = split(got)?;
    let answer = answer(head, body);
    let length: usize = answer.header("content-length")?.parse().ok()?;
    (body.len() >= length).then_some(answer)
}

/// Fields as a form sends them.
pub fn encode(fields: &[(&str, &str)]) -> String {
    let part = |s: &str| -> String {
        s.bytes()
            .map(|b| match b {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => {
                    (b as char).to_string()
                }
                b => format!("%{b:02X}"),
            })
            .collect()
    };
    fields
        .iter()
        .map(|(k, v)| format!("{}={}", part(k), part(v)))
        .collect::<Vec<_>>()
        .join("&")
}
