//! The real program on a free port and an empty folder.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;

use tablefold::store::Store;
use tempfile::TempDir;

/// A running server; stops when dropped.
pub(crate) struct Server {
    process: Child,
    /// Where it is.
    pub(crate) base: String,
    /// The one-time link that it printed.
    pub(crate) link: String,
    /// The demo's link for attendees; empty without a demo.
    pub(crate) attendees: String,
    /// The demo's link for the host; empty without a demo.
    pub(crate) host: String,
    _folder: TempDir,
}

impl Server {
    /// Starts `tablefold serve` with an empty database.
    pub(crate) fn with_empty_database() -> Self {
        Self::start(&[], 2, tempfile::tempdir().unwrap())
    }

    /// Starts `tablefold serve` with what `fill` puts into the database; nobody has set it up.
    pub(crate) async fn filled<T>(fill: impl AsyncFnOnce(&Store) -> T) -> (Self, T) {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().join("data");
        std::fs::create_dir(&data).unwrap();
        let store = Store::open(&data).await.unwrap();
        let filled = fill(&store).await;
        store.close().await;
        (Self::start(&[], 2, folder), filled)
    }

    /// Starts `tablefold serve --demo`.
    pub(crate) fn demo() -> Self {
        Self::start(&["--demo"], 4, tempfile::tempdir().unwrap())
    }

    fn start(options: &[&str], addresses: usize, folder: TempDir) -> Self {
        let data = folder.path().join("data");
        let mut process = Command::new(env!("CARGO_BIN_EXE_tablefold"))
            .args(["serve", "--listen", "127.0.0.1:0", "--data"])
            .arg(&data)
            .args(options)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let output = process.stdout.take().unwrap();
        let (send, receive) = mpsc::channel();
        std::thread::spawn(move || {
            for line in BufReader::new(output).lines().map_while(Result::ok) {
                let _ = send.send(line);
            }
        });
        let next_address = || {
            let line = receive.recv_timeout(Duration::from_secs(60)).unwrap();
            line[line.find("http").unwrap()..].to_owned()
        };
        let mut printed: Vec<String> = (0..addresses).map(|_| next_address()).collect();
        printed.resize(4, String::new());
        let [base, link, attendees, host] = printed.try_into().unwrap();
        Self {
            process,
            base,
            link,
            attendees,
            host,
            _folder: folder,
        }
    }
}

impl Server {
    /// An address of this server as `hall.example`, plain http: browsers neither trust it nor
    /// send Sec-Fetch headers to it.
    pub(crate) fn in_the_hall(&self, url: &str) -> String {
        url.replace("127.0.0.1", "hall.example")
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
