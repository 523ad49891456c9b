//! Pages that are in memory, straight from there. hyper has each page copied into the kernel, which
//! takes longer than everything else that it does for an answer.
//!
//! Only a plain GET that came in one piece is answered here: the first request that is anything
//! else goes to hyper, with all that follows it.

use std::io;
use std::pin::pin;
use std::sync::Arc;

use axum::http::{HeaderMap, HeaderValue, header};
use httparse::{EMPTY_HEADER, Header, Request, Status};
use tokio::io::{AsyncReadExt, Interest};
use tokio::net::TcpStream;
use tokio::sync::watch;
use tokio::time::{Instant, sleep};

use super::connections::SILENCE;
use crate::pages::published::AtOnce;
use crate::pages::whole::Whole;

/// A longer head is for hyper to read.
const LONGEST_HEAD: usize = 4096;
const MOST_HEADERS: usize = 48;

/// Answers for as long as it can, and returns the first request that it leaves to others.
///
/// # Errors
/// When the phone has left or says nothing for long, or the server stops.
pub(super) async fn answer(
    stream: &mut TcpStream,
    service: &AtOnce,
    mut stop: watch::Receiver<()>,
) -> io::Result<Vec<u8>> {
    let mut stop = pin!(stop.changed());
    let mut silence = pin!(sleep(SILENCE));
    let mut quiet = true;
    let mut buffer = [0; LONGEST_HEAD];
    loop {
        let length = tokio::select! {
            biased;
            read = stream.read(&mut buffer) => read?,
            _ = &mut stop => return Err(io::ErrorKind::ConnectionAborted.into()),
            () = &mut silence => {
                if quiet {
                    return Err(io::ErrorKind::TimedOut.into());
                }
                // Set anew here and not by each request, which costs as much as reading one.
                silence.as_mut().reset(Instant::now() + SILENCE);
                quiet = true;
                continue;
            }
        };
        if length == 0 {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        quiet = false;
        let request = &buffer[..length];
        match ready(service, request) {
            Some(whole) => send(stream, &whole).await?,
            None => return Ok(request.to_vec()),
        }
    }
}

fn ready(service: &AtOnce, read: &[u8]) -> Option<Arc<Whole>> {
    let mut headers = [EMPTY_HEADER; MOST_HEADERS];
    let mut request = Request::new(&mut headers);
    let is_all = request.parse(read).ok()? == Status::Complete(read.len());
    let plain = is_all && request.version == Some(1) && request.method == Some("GET");
    let path = request.path.filter(|_| plain)?;
    service.whole(path, &said(request.headers)?)
}

/// The headers that matter to a page in memory; nothing if one asks for more than that page.
fn said(headers: &[Header<'_>]) -> Option<HeaderMap> {
    let mut said = HeaderMap::new();
    for header in headers {
        let is = |name: &header::HeaderName| header.name.eq_ignore_ascii_case(name.as_str());
        let keep = [header::ACCEPT_ENCODING, header::COOKIE];
        if let Some(name) = keep.into_iter().find(is) {
            said.append(name, HeaderValue::from_bytes(header.value).ok()?);
        }
        let stays = header.value.eq_ignore_ascii_case(b"keep-alive");
        let more = [
            header::CONTENT_LENGTH,
            header::TRANSFER_ENCODING,
            header::EXPECT,
            header::IF_NONE_MATCH,
        ];
        if more.iter().any(is) || is(&header::CONNECTION) && !stays {
            return None;
        }
    }
    Some(said)
}

async fn send(stream: &TcpStream, whole: &Whole) -> io::Result<()> {
    let mut sent = 0;
    while sent < whole.length() {
        let taken = stream.try_io(Interest::WRITABLE, || whole.send(stream, &mut sent));
        match taken {
            Err(full) if full.kind() == io::ErrorKind::WouldBlock => {
                stream.writable().await?;
            }
            taken => taken?,
        }
    }
    Ok(())
}
