//! What a phone may say on a connection, and what comes back.

use std::fmt::{Debug, Formatter};
use std::io::{BufRead, BufReader, ErrorKind, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use tempfile::TempDir;

use crate::serve::tablefold;

/// A demo that runs, and the way to its step cards.
struct Hall {
    process: Child,
    at: String,
    path: String,
    _folder: TempDir,
}

impl Hall {
    fn open() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut process = tablefold(&["serve", "--demo", "--listen", "127.0.0.1:0"])
            .env("TMPDIR", folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let lines = BufReader::new(process.stdout.take().unwrap()).lines();
        let words: Vec<String> = lines
            .map(|line| line.unwrap().rsplit(' ').next().unwrap().to_owned())
            .take(3)
            .collect();
        Self {
            process,
            at: words[0].strip_prefix("http://").unwrap().to_owned(),
            path: words[2].strip_prefix(&words[0]).unwrap().to_owned(),
            _folder: folder,
        }
    }

    fn phone(&self) -> Phone {
        let stream = TcpStream::connect(&self.at).unwrap();
        stream
            .set_read_timeout(Some(Duration::from_secs(20)))
            .unwrap();
        Phone(BufReader::new(stream))
    }

    /// The page, which is in memory from then on.
    fn page(&self) -> Answer {
        let mut phone = self.phone();
        phone.say(&plain(&self.path));
        phone.hear(true)
    }

    fn stop(&mut self) {
        let told = Command::new("kill")
            .arg(self.process.id().to_string())
            .status();
        assert!(told.unwrap().success());
        assert!(self.process.wait().unwrap().success());
    }
}

impl Drop for Hall {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

struct Phone(BufReader<TcpStream>);

#[derive(PartialEq, Eq)]
struct Answer {
    status: String,
    /// Without those that differ from answer to answer.
    headers: Vec<String>,
    body: Vec<u8>,
}

impl Debug for Answer {
    fn fmt(&self, out: &mut Formatter<'_>) -> std::fmt::Result {
        let (status, length) = (&self.status, self.body.len());
        write!(out, "{status}, {length} bytes, {:#?}", self.headers)
    }
}

impl Phone {
    fn say(&mut self, text: &str) {
        self.0.get_mut().write_all(text.as_bytes()).unwrap();
    }

    fn hear(&mut self, has_body: bool) -> Answer {
        let mut lines = Vec::new();
        loop {
            let mut line = String::new();
            self.0.read_line(&mut line).unwrap();
            if line.trim_end().is_empty() {
                break;
            }
            lines.push(line.trim_end().to_owned());
        }
        let status = lines.remove(0);
        let of = |name: &str| lines.iter().find_map(|line| line.strip_prefix(name));
        assert!(
            of("date: ").is_some_and(|date| date.ends_with(" GMT")),
            "{lines:?}"
        );
        let length = of("content-length: ").filter(|_| has_body);
        let mut body = vec![0; length.map_or(0, |text| text.parse().unwrap())];
        self.0.read_exact(&mut body).unwrap();
        let passing = ["x-request-id: ", "date: "];
        lines.retain(|line| !passing.iter().any(|name| line.starts_with(name)));
        lines.sort_unstable();
        Answer {
            status,
            headers: lines,
            body,
        }
    }

    fn is_cut_off(&mut self) -> bool {
        match self.0.read(&mut [0]) {
            Ok(length) => length == 0,
            Err(error) => error.kind() == ErrorKind::ConnectionReset,
        }
    }
}

fn get(path: &str, more: &str) -> String {
    format!("GET {path} HTTP/1.1\r\nHost: hall\r\n{more}\r\n")
}

fn plain(path: &str) -> String {
    get(path, "Accept-Encoding: br\r\n")
}

#[test]
fn a_page_is_the_same_from_its_route_from_hyper_and_straight_from_memory() {
    let hall = Hall::open();
    let from_route = hall.page();
    assert_eq!(from_route.status, "HTTP/1.1 200 OK");
    let mut phone = hall.phone();
    for _ in 0..3 {
        phone.say(&plain(&hall.path));
        assert_eq!(phone.hear(true), from_route);
    }
    // From here on it is hyper that answers.
    phone.say(&get("/robots.txt", ""));
    assert_eq!(phone.hear(true).status, "HTTP/1.1 200 OK");
    for _ in 0..3 {
        phone.say(&plain(&hall.path));
        assert_eq!(phone.hear(true), from_route);
    }
}

#[test]
fn however_a_page_is_asked_for_it_is_the_page_that_was_asked_for() {
    let hall = Hall::open();
    let brotli = hall.page();
    let path = &hall.path;
    let etag = brotli
        .headers
        .iter()
        .find_map(|line| line.strip_prefix("etag: "))
        .unwrap();
    let br = "Accept-Encoding: br\r\n";
    let same = [
        plain(path),
        get(path, &format!("{br}Connection: keep-alive\r\n")),
        get(path, &format!("{br}Cookie: other=1\r\n")),
        get(
            path,
            &format!("accept-encoding: gzip\r\n{br}If-None-Match: \"other\"\r\n"),
        ),
        get(
            path,
            &format!("{br}Content-Length: 3\r\n\r\nbox").replace("\r\nbox\r\n", "\r\nbox"),
        ),
        get(path, &format!("{br}X-Long: {}\r\n", "x".repeat(6000))),
    ];
    for request in same {
        let mut phone = hall.phone();
        for _ in 0..2 {
            phone.say(&request);
            assert_eq!(phone.hear(true), brotli, "{request}");
        }
    }
    let others = [
        (
            get(path, &format!("{br}If-None-Match: {etag}\r\n")),
            "304 Not Modified",
        ),
        (get(path, &format!("{br}Cookie: view=p\r\n")), "200 OK"),
        (get(&format!("{path}?print=large"), br), "200 OK"),
        (get(path, "Accept-Encoding: gzip\r\n"), "200 OK"),
        (get(path, ""), "200 OK"),
    ];
    for (request, status) in others {
        let mut phone = hall.phone();
        phone.say(&request);
        let first = phone.hear(true);
        assert_eq!(first.status, format!("HTTP/1.1 {status}"), "{request}");
        assert!(first.body != brotli.body, "{request}");
        phone.say(&request);
        assert_eq!(phone.hear(true), first, "{request}");
    }
    let refused = [
        (get(&format!("{path}x"), ""), "404 Not Found"),
        (get(path, "").replacen("GET", "POST", 1), "403 Forbidden"),
    ];
    let mut phone = hall.phone();
    for (request, status) in refused {
        phone.say(&request);
        assert_eq!(phone.hear(true).status, format!("HTTP/1.1 {status}"));
    }
    let mut phone = hall.phone();
    phone.say(&plain(path).replacen("GET", "HEAD", 1));
    let head = phone.hear(false);
    assert_eq!((head.headers, head.body.len()), (brotli.headers, 0));
}

#[test]
fn requests_that_come_together_or_in_pieces_are_answered_one_by_one() {
    let hall = Hall::open();
    let page = hall.page();
    let request = plain(&hall.path);
    let mut phone = hall.phone();
    phone.say(&request.repeat(3));
    for _ in 0..3 {
        assert_eq!(phone.hear(true), page);
    }
    for cut in [1, 20, request.len() - 1] {
        let mut phone = hall.phone();
        let (first, second) = request.split_at(cut);
        phone.say(first);
        sleep(Duration::from_millis(50));
        phone.say(second);
        assert_eq!(phone.hear(true), page, "{cut}");
    }
    // A body that nobody reads: then the connection ends (RFC 9112, 9.6).
    let mut phone = hall.phone();
    let head = "Accept-Encoding: br\r\nContent-Length: 3\r\n";
    phone.say(&get(&hall.path, head));
    assert!(phone.hear(true).body == page.body);
    assert!(phone.is_cut_off());
}

#[test]
fn who_says_it_is_the_last_request_is_cut_off_after_it() {
    let hall = Hall::open();
    let page = hall.page();
    let last = [
        get(&hall.path, "Accept-Encoding: br\r\nConnection: close\r\n"),
        plain(&hall.path).replace("HTTP/1.1", "HTTP/1.0"),
    ];
    for request in last {
        let mut phone = hall.phone();
        phone.say(&request);
        let answer = phone.hear(true);
        assert!(answer.body == page.body, "{request}");
        assert!(phone.is_cut_off(), "{request}");
    }
}

/// More than the buffers between the two hold (Linux: tcp_wmem and tcp_rmem, 4 and 6 MB at most).
#[test]
fn a_phone_that_reads_slowly_gets_every_byte() {
    const TIMES: usize = 100;
    let hall = Hall::open();
    hall.page();
    let request = get(&hall.path, "");
    let mut phone = hall.phone();
    phone.say(&request);
    let page = phone.hear(true);
    assert!(page.body.len() * TIMES > 12_000_000);
    for _ in 0..TIMES {
        phone.say(&request);
        sleep(Duration::from_millis(2));
    }
    for _ in 0..TIMES {
        assert_eq!(phone.hear(true), page);
    }
}

#[test]
fn the_end_of_the_server_is_the_end_of_each_connection() {
    let mut hall = Hall::open();
    let page = hall.page();
    let mut straight = hall.phone();
    straight.say(&plain(&hall.path));
    assert_eq!(straight.hear(true), page);
    let mut by_hyper = hall.phone();
    by_hyper.say(&get("/robots.txt", ""));
    by_hyper.hear(true);
    let mut silent = hall.phone();
    hall.stop();
    for phone in [&mut straight, &mut by_hyper, &mut silent] {
        assert!(phone.is_cut_off());
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_low_limit_of_open_files_is_raised_as_far_as_it_may_be() {
    let folder = tempfile::tempdir().unwrap();
    let mut process = Command::new("sh")
        .env("TMPDIR", folder.path())
        .args([
            "-c",
            "ulimit -Sn 64 && exec \"$0\" serve --demo --listen 127.0.0.1:0",
        ])
        .arg(env!("CARGO_BIN_EXE_tablefold"))
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut first = String::new();
    let output = process.stdout.take().unwrap();
    BufReader::new(output).read_line(&mut first).unwrap();
    let limits = std::fs::read_to_string(format!("/proc/{}/limits", process.id())).unwrap();
    process.kill().unwrap();
    process.wait().unwrap();
    let files = limits
        .lines()
        .find_map(|line| line.strip_prefix("Max open files"));
    let files: Vec<_> = files.unwrap().split_whitespace().collect();
    assert_eq!(files[0], files[1], "{limits}");
    assert_ne!(files[0], "64", "{limits}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_page_in_memory_is_sent_from_a_file_that_the_kernel_reads() {
    let hall = Hall::open();
    let files = || {
        let open = std::fs::read_dir(format!("/proc/{}/fd", hall.process.id())).unwrap();
        let names = open.filter_map(|file| std::fs::read_link(file.unwrap().path()).ok());
        let is_page = |name: &std::path::PathBuf| name.to_string_lossy().contains("memfd:page");
        names.filter(is_page).count()
    };
    let page = hall.page();
    assert_eq!(files(), 0, "made when somebody asks again");
    let mut phone = hall.phone();
    phone.say(&plain(&hall.path));
    assert_eq!(phone.hear(true), page);
    assert_eq!(files(), 1);
}
