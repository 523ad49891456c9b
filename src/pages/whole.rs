//! A whole answer, head and body, in a file that lies in memory: the kernel sends it from there,
//! where bytes of ours would have to be copied first.

use std::fs::File;
use std::io::{self, Write};
use std::os::fd::AsFd;

use axum::http::HeaderMap;
use jiff::Timestamp;
use jiff::fmt::rfc2822::DateTimePrinter;

use crate::error::Cause;

/// A 200 answer of HTTP/1.1 as it goes over the wire.
#[derive(Debug)]
pub(crate) struct Whole {
    file: File,
    length: u64,
}

impl Whole {
    /// Writes the answer down as of `now`: an answer tells its date (RFC 9110, 6.6.1).
    pub(super) fn new(headers: &HeaderMap, body: &[u8], now: Timestamp) -> Result<Self, Cause> {
        let date = DateTimePrinter::new().timestamp_to_rfc9110_string(&now)?;
        let mut head = b"HTTP/1.1 200 OK\r\n".to_vec();
        for (name, value) in headers {
            head.extend([name.as_str().as_bytes(), b": ", value.as_bytes(), b"\r\n"].concat());
        }
        write!(
            head,
            "content-length: {}\r\ndate: {date}\r\n\r\n",
            body.len()
        )?;
        let mut file = file_in_memory()?;
        file.write_all(&head)?;
        file.write_all(body)?;
        Ok(Self {
            length: (head.len() + body.len()) as u64,
            file,
        })
    }

    /// How long it is, in bytes.
    pub(crate) const fn length(&self) -> u64 {
        self.length
    }

    /// Gives the kernel what follows `sent` for a connection, and moves `sent` past what it took.
    ///
    /// # Errors
    /// Those of sendfile: `WouldBlock` when the connection can take no more for now.
    pub(crate) fn send(&self, connection: impl AsFd, sent: &mut u64) -> io::Result<()> {
        let left = usize::try_from(self.length - *sent).unwrap_or(usize::MAX);
        send_file(connection, &self.file, sent, left)
    }
}

#[cfg(target_os = "linux")]
fn file_in_memory() -> io::Result<File> {
    use rustix::fs::{MemfdFlags, memfd_create};
    Ok(memfd_create("page", MemfdFlags::CLOEXEC)?.into())
}

#[cfg(target_os = "linux")]
fn send_file(to: impl AsFd, file: &File, sent: &mut u64, left: usize) -> io::Result<()> {
    match rustix::fs::sendfile(to, file, Some(sent), left)? {
        0 => Err(io::ErrorKind::UnexpectedEof.into()),
        _ => Ok(()),
    }
}

/// Elsewhere all pages go out by hyper.
#[cfg(not(target_os = "linux"))]
fn file_in_memory() -> io::Result<File> {
    Err(io::ErrorKind::Unsupported.into())
}

#[cfg(not(target_os = "linux"))]
fn send_file(_: impl AsFd, _: &File, _: &mut u64, _: usize) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use std::io::Read;
    use std::os::unix::net::UnixStream;

    use axum::http::{HeaderValue, header};

    use super::*;

    #[test]
    fn an_answer_goes_out_with_its_length_and_its_date() {
        let headers = HeaderMap::from_iter([(header::VARY, HeaderValue::from_static("cookie"))]);
        // The example of RFC 9110, 5.6.7.
        let now = "1994-11-06T08:49:37Z".parse().unwrap();
        let whole = Whole::new(&headers, b"Seed tin", now).unwrap();
        let (near, mut far) = UnixStream::pair().unwrap();
        let mut sent = 0;
        while sent < whole.length() {
            whole.send(&near, &mut sent).unwrap();
        }
        drop(near);
        let mut text = String::new();
        far.read_to_string(&mut text).unwrap();
        let head = "HTTP/1.1 200 OK\r\nvary: cookie\r\ncontent-length: 8";
        let date = "date: Sun, 06 Nov 1994 08:49:37 GMT";
        assert_eq!(text, format!("{head}\r\n{date}\r\n\r\nSeed tin"));
    }
}
