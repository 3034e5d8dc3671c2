//! The pages: a job's text on one side, what follows from it on the other.

mod blocks;
mod changes;
mod disk;
mod editor;
mod explain;
mod files;
mod finish;
mod floors;
mod form;
mod guard;
mod page;
mod state;
mod work;

pub(crate) use page::print_page;

use crate::commands::{Done, FINE, UNUSABLE};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};
use state::Server;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use tokio::net::TcpListener;

/// The largest body of a request: the largest text, and a little for the other fields.
const BODY_MOST: usize = job::TEXT_MOST + (64 << 10);

/// Where the pages are if nobody asks for another place.
const USUAL: SocketAddr = SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), 8321);

/// Serves the pages until the process ends.
pub(crate) fn serve(
    job: Option<PathBuf>,
    asked: Option<SocketAddr>,
    open_to_network: bool,
) -> Done {
    let addr = asked.unwrap_or(USUAL);
    if !addr.ip().is_loopback() && !open_to_network {
        return unusable(&format!(
            "{addr} can be reached from other machines; anyone there could read and change the \
             job. Give --open-to-network if that is meant."
        ));
    }
    let server = match Server::new(job, open_to_network) {
        Ok(server) => Arc::new(server),
        Err(message) => return unusable(&message),
    };
    let runtime = match tokio::runtime::Builder::new_multi_thread().enable_all().build() {
        Ok(runtime) => runtime,
        Err(error) => return unusable(&format!("the pages cannot start: {error}")),
    };
    let done = runtime.block_on(listen(server, addr, asked.is_none()));
    // A design still in work must not hold the process.
    runtime.shutdown_background();
    done
}

fn unusable(message: &str) -> Done {
    Done { out: String::new(), err: format!("firstheat: {message}\n"), code: UNUSABLE }
}

/// Serves at an address; if nobody asked for it and it is taken, at a free port beside it.
async fn listen(server: Arc<Server>, addr: SocketAddr, or_free: bool) -> Done {
    let mut bound = TcpListener::bind(addr).await;
    if bound.is_err() && or_free {
        bound = TcpListener::bind(SocketAddr::new(addr.ip(), 0)).await;
    }
    let listener = match bound {
        Ok(listener) => listener,
        Err(error) => {
            return unusable(&format!(
                "{addr} cannot be opened: {error}; give another port with --addr 127.0.0.1:0"
            ));
        }
    };
    let bound = listener.local_addr().unwrap_or(addr);
    announce(&server, bound);
    let served = axum::serve(listener, router(server)).with_graceful_shutdown(stopped());
    match served.await {
        Ok(()) => Done { out: String::new(), err: String::new(), code: FINE },
        Err(error) => unusable(&format!("the pages stopped: {error}")),
    }
}

/// Prints where the pages are, at once, since the process goes on.
fn announce(server: &Server, bound: SocketAddr) {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    let _ = writeln!(out, "{} is open at http://{bound}/", server.name());
    let _ = writeln!(out, "stop with Ctrl-C");
    let _ = out.flush();
    if !bound.ip().is_loopback() {
        let _ = writeln!(
            std::io::stderr().lock(),
            "warning: every machine that reaches {bound} can read and change this job; there is no \
             password and nothing is encrypted"
        );
    }
}

async fn stopped() {
    let _ = tokio::signal::ctrl_c().await;
}

fn router(server: Arc<Server>) -> Router {
    Router::new()
        .route("/", get(page::opening))
        .route("/design", post(work::design))
        .route("/mend", post(work::mend))
        .route("/undo", post(work::undo))
        .route("/save", post(disk::save))
        .route("/download", post(disk::download))
        .route("/explain", get(explain::explain))
        .route("/floors", get(floors::floors))
        .route("/finish", get(finish::finish))
        .route("/sheet", get(files::sheet))
        .route("/files/{name}", get(files::file))
        .route("/assets/{name}", get(files::asset))
        .fallback(page::missing)
        .method_not_allowed_fallback(page::wrong_method)
        .layer(DefaultBodyLimit::max(BODY_MOST))
        .layer(middleware::from_fn_with_state(server.clone(), guard::guard))
        .with_state(server)
}
