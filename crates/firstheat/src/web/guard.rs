//! Who may ask, and what a browser may do with an answer.

use super::state::Server;
use super::{BODY_MOST, page};
use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_LENGTH, CONTENT_SECURITY_POLICY, HOST, ORIGIN, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;
use std::net::IpAddr;
use std::sync::Arc;

/// Nothing but our own files, and no page around ours.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' \
     data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Turns away foreign hosts and pages, and sets the policy on every answer.
pub(crate) async fn guard(
    State(server): State<Arc<Server>>,
    request: Request,
    next: Next,
) -> Response {
    let refusal = refusal(request.headers(), request.method(), server.open_to_network);
    let mut response = match refusal {
        Some(why) => page::error(StatusCode::FORBIDDEN, "Not from here", why),
        // Said at once, not when the whole of it has come.
        None if announced(request.headers()) > BODY_MOST => page::too_large(),
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (REFERRER_POLICY, "same-origin"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}

/// How long the body will be, by what the request says.
fn announced(headers: &HeaderMap) -> usize {
    let length = headers.get(CONTENT_LENGTH).and_then(|value| value.to_str().ok());
    length.and_then(|text| text.parse().ok()).unwrap_or(0)
}

/// Why a request is turned away.
///
/// A name that someone else's name server leads to this machine would let any page on the web
/// read the job (rebinding), so only loopback names and, if the network is let in, bare addresses
/// are hosts. Forms must come from a page of the same host.
fn refusal(headers: &HeaderMap, method: &Method, open_to_network: bool) -> Option<&'static str> {
    let text = |name: HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
    let Some(host) = text(HOST) else { return Some("The request names no host.") };
    if !known_host(host, open_to_network) {
        return Some("These pages answer only under the address that was printed at the start.");
    }
    if *method == Method::GET || *method == Method::HEAD {
        return None;
    }
    let foreign = text(ORIGIN).is_some_and(|origin| origin != format!("http://{host}"));
    let site = text(HeaderName::from_static("sec-fetch-site"));
    let other = site.is_some_and(|site| !matches!(site, "same-origin" | "none"));
    (foreign || other).then_some("This was sent by a page that is not part of firstheat.")
}

fn known_host(host: &str, open_to_network: bool) -> bool {
    let name = match host.strip_prefix('[') {
        Some(rest) => rest.split(']').next().unwrap_or_default(),
        None => host.rsplit_once(':').map_or(host, |(name, _)| name),
    };
    if name.eq_ignore_ascii_case("localhost") {
        return true;
    }
    name.parse::<IpAddr>().is_ok_and(|address| address.is_loopback() || open_to_network)
}
