//! How soon the server answers and how much memory it holds at rest:
//! `cargo bench --bench server`. Prints one line for each; asserts nothing.

#![expect(clippy::print_stdout, reason = "a bench reports on the terminal")]

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const RUNS: usize = 7;
const PATIENCE: Duration = Duration::from_secs(10);

fn main() {
    let data = tempfile::tempdir().expect("a temporary folder");
    // The first start makes the database; the others find it on a warm disk.
    let mut starts = Vec::new();
    let mut memory = 0;
    for run in 0..=RUNS {
        let (start, kib) = one_start(data.path());
        if run == 0 {
            println!("first start (makes the database): {start:.1?}");
        } else {
            starts.push(start);
            memory = memory.max(kib);
        }
    }
    starts.sort_unstable();
    println!(
        "start to first page, median of {RUNS}: {:.1?}",
        starts[RUNS / 2]
    );
    println!(
        "memory at rest (VmRSS, largest of {RUNS}): {:.1} MB",
        memory as f64 / 1024.0
    );
}

/// Time from spawn to the first page, and VmRSS in KiB half a second later.
fn one_start(data: &std::path::Path) -> (Duration, u64) {
    let address = free_address();
    let begin = Instant::now();
    let mut server = Command::new(env!("CARGO_BIN_EXE_tablefold"))
        .args(["serve", "--data"])
        .arg(data)
        .args(["--listen", &address.to_string()])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the server starts");
    let answered = wait_for_page(address, begin);
    std::thread::sleep(Duration::from_millis(500));
    let kib = resident_kib(&server);
    stop(&mut server);
    (answered.expect("the server answers within 10 s"), kib)
}

fn free_address() -> SocketAddr {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a free port");
    listener.local_addr().expect("an address")
}

fn wait_for_page(address: SocketAddr, begin: Instant) -> Option<Duration> {
    while begin.elapsed() < PATIENCE {
        if let Ok(mut stream) = TcpStream::connect(address) {
            let request = "GET /sign-in HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n";
            let mut answer = String::new();
            if stream.write_all(request.as_bytes()).is_ok()
                && stream.read_to_string(&mut answer).is_ok()
                && answer.starts_with("HTTP/1.1 ")
            {
                return Some(begin.elapsed());
            }
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    None
}

fn resident_kib(server: &Child) -> u64 {
    let status =
        std::fs::read_to_string(format!("/proc/{}/status", server.id())).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    let kib = line.and_then(|line| line.split_whitespace().next());
    kib.and_then(|kib| kib.parse().ok()).unwrap_or(0)
}

fn stop(server: &mut Child) {
    server.kill().ok();
    server.wait().ok();
}
