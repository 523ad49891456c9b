//! `tablefold serve`: opens the database, prints the way in, answers until it is told to stop.

use std::fmt::Display;
use std::net::SocketAddr;
use std::os::unix::fs::DirBuilderExt;
use std::path::{Path, PathBuf};

use clap::Args;
use tokio::net::TcpListener;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tracing_subscriber::EnvFilter;

use super::{CommandError, connections, demo, say};
use crate::accounts;
use crate::app::{self, App};
use crate::config::{BaseUrl, Config};
use crate::error::Cause;
use crate::store::{OpenError, Store};
use crate::workshop::Currency;

const OTHER_FOLDER: &str = "Type a folder that you can write to.";

/// Options of `serve`; each has an environment variable of the same name.
#[derive(Debug, Args)]
pub(super) struct ServeOptions {
    /// Use a temporary database, deleted at the end, whatever --data says
    #[arg(long)]
    demo: bool,
    /// Folder of the database; made if it is missing
    #[arg(
        long,
        value_name = "DIR",
        env = "TABLEFOLD_DATA",
        default_value = "tablefold-data"
    )]
    data: PathBuf,
    /// Address and port to listen on; 0.0.0.0:8080 lets phones in the hall reach it
    #[arg(
        long,
        value_name = "ADDR",
        env = "TABLEFOLD_LISTEN",
        default_value = "127.0.0.1:8080"
    )]
    listen: String,
    /// Address that visitors type, if it differs: http://192.168.1.20:8080, https://class.example
    #[arg(long, value_name = "URL", env = "TABLEFOLD_BASE_URL")]
    base_url: Option<String>,
    /// Currency of all prices, by its ISO 4217 code: EUR, GBP, JPY. Without one, prices are plain
    /// numbers. Choose it before you type prices: they are kept in its smallest unit
    #[arg(long, value_name = "CODE", env = "TABLEFOLD_CURRENCY")]
    currency: Option<String>,
}

/// Serves until a signal comes.
///
/// # Errors
/// When an option does not work.
pub(super) fn run(options: ServeOptions) -> Result<(), CommandError> {
    let filter = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new("info"));
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .init();
    tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(|error| CommandError(format!("the server cannot start: {error}")))?
        .block_on(serve(options))
}

async fn serve(options: ServeOptions) -> Result<(), CommandError> {
    let base_url = options.base_url.as_deref().map(BaseUrl::read).transpose();
    let base_url = base_url.map_err(|error| CommandError(format!("--base-url: {error}")))?;
    let currency = options
        .currency
        .as_deref()
        .filter(|code| !code.trim().is_empty());
    let currency = currency.map(Currency::read).transpose();
    let currency = currency.map_err(|error| CommandError(format!("--currency: {error}")))?;
    // Before anything that has to be cleared away at the end.
    let stop = StopSignal::watch()?;
    connections::make_room();
    let listener = listen(&options.listen).await?;
    let at = listener
        .local_addr()
        .map_err(|error| CommandError(format!("--listen: no local address: {error}")))?;
    let store = open(&options).await?;
    let config = Config {
        base_url: base_url.unwrap_or_else(|| BaseUrl::of_listener(at)),
        demo: options.demo,
        currency: currency.unwrap_or_default(),
    };
    let app = App::new(config, store);
    welcome(&app)
        .await
        .map_err(|error| CommandError(format!("the database does not work: {error}")))?;
    connections::answer(listener, &app::service(app.clone()), stop.come()).await;
    app.store().close().await;
    Ok(())
}

async fn listen(text: &str) -> Result<TcpListener, CommandError> {
    let quoted = crate::forms::quoted_part(text);
    let at: SocketAddr = text.trim().parse().map_err(|_| {
        CommandError(format!(
            "--listen: \"{quoted}\" is not an address with a port. Type one like 127.0.0.1:8080 or 0.0.0.0:8080."
        ))
    })?;
    TcpListener::bind(at).await.map_err(|error| {
        let why = match error.kind() {
            std::io::ErrorKind::AddrInUse => "is in use by another program".to_owned(),
            std::io::ErrorKind::PermissionDenied => "is not open to this user".to_owned(),
            _ => format!("cannot be listened on ({error})"),
        };
        CommandError(format!(
            "--listen: \"{quoted}\" {why}. Type another port, like 127.0.0.1:8081."
        ))
    })
}

async fn open(options: &ServeOptions) -> Result<Store, CommandError> {
    if options.demo {
        return Store::temporary().await.map_err(|error| {
            CommandError(format!(
                "--demo: {error}. Set TMPDIR to a folder that you can write to."
            ))
        });
    }
    let data: &Path = &options.data;
    let refuse = |error: &dyn Display, instead: &str| {
        CommandError(format!(
            "--data: \"{}\" cannot be used: {error}. {instead}",
            data.display()
        ))
    };
    // What attendees told the instructor is nobody else's on this machine.
    let made = std::fs::DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(data);
    made.map_err(|error| refuse(&error, OTHER_FOLDER))?;
    Store::open(data).await.map_err(|error| match error {
        OpenError::Migration(_) => refuse(
            &error,
            "A newer Tablefold may have used this folder: start that one, or type another folder.",
        ),
        _ => refuse(&error, OTHER_FOLDER),
    })
}

/// Says where the pages are, and how to get in where no password is known yet.
async fn welcome(app: &App) -> Result<(), Cause> {
    let base = &app.config().base_url;
    say(&format!("Tablefold is at {base}"));
    if app.config().demo {
        let links = demo::fill(app).await?;
        let link = accounts::make_sign_in_link(app).await?;
        say(&format!(
            "Sign in to the demo, once, within 24 hours: {link}"
        ));
        say(&format!(
            "Step cards as attendees see them: {}",
            links.attendees
        ));
        say(&format!("Lists as the host sees them: {}", links.host));
        say("All of it is deleted when you stop the server with Ctrl-C.");
    } else if let Some(link) = accounts::make_setup_link(app).await? {
        say(&format!(
            "Choose your name and password, once, within 24 hours: {link}"
        ));
    }
    Ok(())
}

/// Ctrl-C, or what service managers send.
struct StopSignal {
    interrupt: Signal,
    terminate: Signal,
}

impl StopSignal {
    fn watch() -> Result<Self, CommandError> {
        let refuse = |error| CommandError(format!("signals cannot be watched: {error}"));
        Ok(Self {
            interrupt: signal(SignalKind::interrupt()).map_err(refuse)?,
            terminate: signal(SignalKind::terminate()).map_err(refuse)?,
        })
    }

    async fn come(mut self) {
        tokio::select! {
            _ = self.interrupt.recv() => {}
            _ = self.terminate.recv() => {}
        }
    }
}
