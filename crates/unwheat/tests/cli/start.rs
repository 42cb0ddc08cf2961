//! Starting the workbench.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

fn start(folder: &std::path::Path, port: u16) -> Child {
    Command::new(env!("CARGO_BIN_EXE_unwheat"))
        .args(["--no-browser", "--port", &port.to_string(), "--kitchen"])
        .arg(folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

fn answers(port: u16) -> bool {
    let Ok(mut stream) = TcpStream::connect(("127.0.0.1", port)) else {
        return false;
    };
    let ask = format!("GET / HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n");
    let mut answer = String::new();
    stream.write_all(ask.as_bytes()).is_ok()
        && stream.read_to_string(&mut answer).is_ok()
        && answer.starts_with("HTTP/1.1 200")
}

/// Started from a menu, nobody reads what it says.
#[test]
fn it_serves_though_nobody_listens() {
    let folder = tempfile::tempdir().expect("a folder");
    let free = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = free.local_addr().expect("its number").port();
    drop(free);
    let mut child = start(folder.path(), port);
    drop(child.stdout.take());
    drop(child.stderr.take());
    let began = Instant::now();
    while !answers(port) && began.elapsed() < Duration::from_secs(30) {
        std::thread::sleep(Duration::from_millis(50));
    }
    let served = answers(port);
    let _ = child.kill();
    let _ = child.wait();
    assert!(served);
}

#[test]
fn a_taken_port_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let taken = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("its number").port();
    let out = start(folder.path(), port)
        .wait_with_output()
        .expect("it ends");
    let said = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(said.contains(&format!("http://127.0.0.1:{port}")), "{said}");
    assert!(said.contains("--port"), "{said}");
}
