//! Running the program, and asking its pages as a browser does.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Output, Stdio};
use std::time::Duration;

const PROGRAM: &str = env!("CARGO_BIN_EXE_firstheat");

pub(crate) const CABIN: &str = include_str!("../../../../jobs/cabin.toml");

/// The example job on disk.
pub(crate) fn cabin() -> String {
    concat!(env!("CARGO_MANIFEST_DIR"), "/../../jobs/cabin.toml").to_owned()
}

pub(crate) fn run(words: &[&str]) -> Output {
    Command::new(PROGRAM).args(words).output().expect("the program runs")
}

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// An own folder for a test, empty.
pub(crate) fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).expect("a folder");
    path
}

/// A running server; it ends with the test.
pub(crate) struct Pages {
    child: Child,
    pub(crate) host: String,
}

impl Drop for Pages {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What a server answered.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: String,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        let lines = self.head.lines().filter_map(|line| line.split_once(": "));
        lines
            .into_iter()
            .find(|(known, _)| known.eq_ignore_ascii_case(name))
            .map(|(_, value)| value)
    }
}

impl Pages {
    pub(crate) fn of(job: Option<&str>) -> Self {
        let mut words = vec!["serve", "--addr", "127.0.0.1:0"];
        words.extend(job);
        let mut child = Command::new(PROGRAM)
            .args(words)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let mut line = String::new();
        let out = child.stdout.as_mut().expect("its output");
        BufReader::new(out).read_line(&mut line).expect("the address");
        let host = line.split("http://").nth(1).expect("an address").trim().trim_end_matches('/');
        Pages { host: host.to_owned(), child }
    }

    /// Sends a request as it stands.
    pub(crate) fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = TcpStream::connect(&self.host).expect("a connection");
        stream.set_read_timeout(Some(Duration::from_secs(20))).expect("a limit");
        // A server that refuses early may close before all is sent.
        let _ = stream.write_all(request);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let answer = text(&answer);
        let (head, body) = answer.split_once("\r\n\r\n").unwrap_or((&answer, ""));
        let status = head.split(' ').nth(1).and_then(|word| word.parse().ok()).unwrap_or(0);
        Answer { status, head: head.to_owned(), body: body.to_owned() }
    }

    pub(crate) fn get(&self, path: &str) -> Answer {
        self.get_as(path, &self.host)
    }

    pub(crate) fn get_as(&self, path: &str, host: &str) -> Answer {
        let request = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n");
        self.raw(request.as_bytes())
    }

    pub(crate) fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_from(path, fields, &format!("http://{}", self.host))
    }

    pub(crate) fn post_from(&self, path: &str, fields: &[(&str, &str)], origin: &str) -> Answer {
        let body: Vec<String> =
            fields.iter().map(|(name, value)| format!("{name}={}", encoded(value))).collect();
        let body = body.join("&");
        let request = format!(
            "POST {path} HTTP/1.1\r\nHost: {}\r\nOrigin: {origin}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            self.host,
            body.len()
        );
        self.raw(request.as_bytes())
    }
}

fn encoded(value: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~".contains(&byte);
    value
        .bytes()
        .map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") })
        .collect()
}
