//! Connections: taken, answered, and given time to finish at the end.
//!
//! hyper's own HTTP/1, one step below `axum::serve`: that one takes a tenth more time for an
//! answer that is in memory, and waits for ever for a request that does not come.

use std::future::Future;
use std::io::{Cursor, Error, ErrorKind};
use std::pin::pin;
use std::time::Duration;

use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::{GracefulShutdown, Watcher};
use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
use tokio::io::AsyncReadExt;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;

use super::straight;
use crate::pages::published::AtOnce;

/// How long answers that are under way may take after the signal to stop.
const GRACE: Duration = Duration::from_secs(10);

/// How long a phone may say nothing before it has to connect anew; up to twice as long where it
/// was answered straight.
pub(super) const SILENCE: Duration = Duration::from_secs(60);

/// How long to wait when the machine has no room for another connection.
const NO_ROOM: Duration = Duration::from_secs(1);

/// Room for a hall: each phone holds up to six connections, and many systems start a program with
/// a limit of 1 024 files of all kinds, which it may raise.
pub(super) fn make_room() {
    let limits = getrlimit(Resource::Nofile);
    let raised = Rlimit {
        current: limits.maximum,
        ..limits
    };
    // Where it is not allowed, the limit stays as it was.
    let _ = setrlimit(Resource::Nofile, raised);
}

/// Answers until `stop` comes.
pub(super) async fn answer(
    listener: TcpListener,
    service: &AtOnce,
    stop: impl Future<Output = ()>,
) {
    let open = GracefulShutdown::new();
    let (stopping, stopped) = watch::channel(());
    let mut stop = pin!(stop);
    loop {
        tokio::select! {
            taken = listener.accept() => match taken {
                Ok((stream, _)) => {
                    let end = (stopped.clone(), open.watcher());
                    tokio::spawn(converse(stream, service.clone(), end));
                }
                Err(error) => refused(error).await,
            },
            () = &mut stop => break,
        }
    }
    drop((listener, stopping));
    // Whoever takes longer is cut off.
    let _ = tokio::time::timeout(GRACE, open.shutdown()).await;
}

async fn converse(
    mut stream: TcpStream,
    service: AtOnce,
    (stop, watcher): (watch::Receiver<()>, Watcher),
) {
    // The end of a page need not wait until its beginning has arrived.
    let _ = stream.set_nodelay(true);
    give_up_on_who_does_not_read(&stream);
    // A phone that goes out of reach is no fault of ours.
    let Ok(read) = straight::answer(&mut stream, &service, stop).await else {
        return;
    };
    let (reader, writer) = stream.into_split();
    let stream = tokio::io::join(Cursor::new(read).chain(reader), writer);
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(SILENCE)
        .serve_connection(TokioIo::new(stream), service);
    let _ = watcher.watch(connection).await;
}

/// Nor need a page be held for ever for a phone that takes no more of it.
#[cfg(target_os = "linux")]
fn give_up_on_who_does_not_read(stream: &TcpStream) {
    let patience = u32::try_from(SILENCE.as_millis()).unwrap_or(u32::MAX);
    let _ = rustix::net::sockopt::set_tcp_user_timeout(stream, patience);
}

#[cfg(not(target_os = "linux"))]
fn give_up_on_who_does_not_read(_: &TcpStream) {}

/// A visitor who left again is no news; a machine without room for another file is.
async fn refused(error: Error) {
    let left = [
        ErrorKind::ConnectionRefused,
        ErrorKind::ConnectionAborted,
        ErrorKind::ConnectionReset,
    ];
    if !left.contains(&error.kind()) {
        tracing::error!(%error, "no connection can be taken");
        tokio::time::sleep(NO_ROOM).await;
    }
}
