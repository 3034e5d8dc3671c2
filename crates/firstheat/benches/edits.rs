//! Times of the whole way: text to design, request to last byte of the page, peak memory.
//!
//! `cargo bench -p firstheat`. Prints figures and their ratio to a general-purpose reference taken
//! in the same run: `serde_json` reading a text of the same length, and the server sending a plain
//! file. Asserts nothing: these machines are noisy.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const CABIN: &str = include_str!("../../../jobs/cabin.toml");
const SCHOOLHOUSE: &str = include_str!("../../../jobs/schoolhouse.toml");
const RUNS: usize = 31;

fn main() {
    let library = job::Library::built_in();
    let reference = median(|| {
        let text = json_of(CABIN.len());
        let start = Instant::now();
        let _ = serde_json::from_str::<serde_json::Value>(&text);
        start.elapsed()
    });
    println!("reference: serde_json reads {} bytes in {}", CABIN.len(), ms(reference));
    let tell = |what: &str, time: Duration| {
        println!("{what}: {} ({:.0} × reference)", ms(time), ratio(time, reference));
    };
    tell("text to Job", median(|| timed(|| job::read(CABIN, &library))));
    tell(
        "text to Design, cold",
        median(|| {
            let mut memo = design::Memo::new();
            timed(|| design_of(CABIN, &library, &mut memo))
        }),
    );
    let mut memo = design::Memo::new();
    design_of(CABIN, &library, &mut memo);
    let mut edit = 0;
    tell(
        "text to Design, after one outline edit",
        median(|| {
            edit += 1;
            let moved = outline_edit(edit);
            timed(|| design_of(&moved, &library, &mut memo))
        }),
    );
    build_ups(&library);
    page();
}

/// What it costs that the floors of a house are solved in section and in time: the same design
/// with them known and unknown. Budget: 25 ms cold, 5 ms after an edit of one outline.
fn build_ups(library: &job::Library) {
    let run = |memo: &mut design::Memo, text: &str| {
        let job = job::read(text, library).0;
        timed(|| design::design(&job, memo))
    };
    let mut memo = design::Memo::new();
    run(&mut memo, SCHOOLHOUSE);
    let cold = median(|| {
        memo.forget_floors();
        let unknown = run(&mut memo, SCHOOLHOUSE);
        unknown.saturating_sub(run(&mut memo, SCHOOLHOUSE))
    });
    let mut edit = 0;
    let edited = median(|| {
        edit += 1;
        let text = schoolhouse_edit(edit);
        let first = run(&mut memo, &text);
        memo.forget_loops();
        first.saturating_sub(run(&mut memo, &text))
    });
    println!(
        "floors of the schoolhouse in section and in time: {} cold, {} after one outline edit",
        ms(cold),
        ms(edited)
    );
}

/// The lower bath a sixteenth of an inch longer or so each time.
fn schoolhouse_edit(number: usize) -> String {
    let inches = 3.0 + 0.0625 * (number % 40) as f64;
    let outline = format!("E 12'{inches}, N 10', W 12'{inches}, S 10'");
    SCHOOLHOUSE.replacen("E 12'3, N 10', W 12'3, S 10'", &outline, 1)
}

fn design_of(text: &str, library: &job::Library, memo: &mut design::Memo) -> design::Design {
    design::design(&job::read(text, library).0, memo)
}

/// The north bedroom a sixteenth of an inch longer or so each time: a new outline.
fn outline_edit(number: usize) -> String {
    let inches = 7.5 + 0.0625 * (number % 40) as f64;
    let outline = format!("E 12'7 1/2, N 10'{inches}, W 12'7 1/2, S 10'{inches}");
    CABIN.replacen("E 12'7 1/2, N 10'7 1/2, W 12'7 1/2, S 10'7 1/2", &outline, 1)
}

/// Fifty edits of different kinds, as a person makes them.
fn edits() -> Vec<String> {
    let mut texts = Vec::new();
    for n in 0..10 {
        texts.push(outline_edit(n + 1));
        texts.push(CABIN.replacen("indoor = 70", &format!("indoor = {}", 66 + n), 1));
        texts.push(CABIN.replacen(
            "finish = \"tile\"",
            ["finish = \"vinyl\"", "finish = \"tile\""][n % 2],
            1,
        ));
        texts.push(CABIN.replacen("glycol = 35", &format!("glycol = {}", 26 + n), 1));
        // A slip of the finger: a quote that is not closed.
        texts.push(CABIN.replacen("wall = \"outside_wall\"", &format!("wall = \"outside{n}"), 1));
    }
    texts
}

fn page() {
    let server = Server::start();
    let plain = median(|| server.get("/assets/page.css"));
    println!("reference: the server sends a plain file in {}", ms(plain));
    let mut times: Vec<Duration> = edits().iter().map(|text| server.post(text)).collect();
    times.sort();
    let middle = times[times.len() / 2];
    println!(
        "request to last byte of the page, {} edits: median {}, most {} (median {:.0} × reference)",
        times.len(),
        ms(middle),
        ms(times[times.len() - 1]),
        ratio(middle, plain)
    );
    match server.peak_memory() {
        Some(peak) => println!("peak memory of the server after them: {peak}"),
        None => println!("peak memory of the server: not told by this system"),
    }
}

/// The program serving its example on a free port.
struct Server {
    child: Child,
    address: String,
}

impl Server {
    fn start() -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_firstheat"))
            .args(["serve", "--addr", "127.0.0.1:0"])
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut line = Vec::new();
        let mut out = child.stdout.take().expect("its output is ours");
        let mut byte = [0];
        while !line.ends_with(b"/\n") && out.read(&mut byte).is_ok_and(|read| read == 1) {
            line.push(byte[0]);
        }
        let line = String::from_utf8_lossy(&line).into_owned();
        let address = line.split("http://").nth(1).unwrap_or("").trim_end_matches(['/', '\n']);
        Server { child, address: address.to_owned() }
    }

    fn get(&self, path: &str) -> Duration {
        self.exchange(&format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
            self.address
        ))
    }

    /// Sends an edit as the page's script does, and waits for the last byte.
    fn post(&self, text: &str) -> Duration {
        let body = format!("part=1&text={}", encoded(text));
        self.exchange(&format!(
            "POST /design HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {1}\r\n\r\n{body}",
            self.address,
            body.len()
        ))
    }

    fn exchange(&self, request: &str) -> Duration {
        let start = Instant::now();
        let mut stream = TcpStream::connect(&self.address).expect("the server listens");
        stream.write_all(request.as_bytes()).expect("the request goes out");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("the answer comes");
        assert!(answer.starts_with(b"HTTP/1.1 200"), "{}", String::from_utf8_lossy(&answer));
        start.elapsed()
    }

    fn peak_memory(&self) -> Option<String> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
        Some(line.trim_start_matches("VmHWM:").trim().to_owned())
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn encoded(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() {
            out.push(byte as char);
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

/// A JSON text of about that length.
fn json_of(length: usize) -> String {
    let rows: Vec<String> = (0..length / 40)
        .map(|n| format!("{{\"key{n}\": [1.5, \"E 12'7, N 10'\", true]}}"))
        .collect();
    format!("[{}]", rows.join(","))
}

fn timed<T>(work: impl FnOnce() -> T) -> Duration {
    let start = Instant::now();
    std::hint::black_box(work());
    start.elapsed()
}

fn median(mut once: impl FnMut() -> Duration) -> Duration {
    once();
    let mut times: Vec<Duration> = (0..RUNS).map(|_| once()).collect();
    times.sort();
    times[RUNS / 2]
}

fn ratio(time: Duration, reference: Duration) -> f64 {
    time.as_secs_f64() / reference.as_secs_f64()
}

fn ms(time: Duration) -> String {
    format!("{:.2} ms", time.as_secs_f64() * 1000.0)
}
