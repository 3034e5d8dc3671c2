//! What the form of the page sends.

use super::page;
use axum::Form;
use axum::extract::rejection::FormRejection;
use axum::extract::{FromRequest, Request};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use quantity::System;
use serde::Deserialize;

/// The fields of the page's form.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Fields {
    /// The text as it stands.
    pub(crate) text: String,
    /// The last text whose results were shown, where scripts do not keep them.
    pub(crate) good: String,
    /// The text before the last mend, to be taken back.
    pub(crate) before: String,
    /// Which units are shown first: `us`, `si`, or as the job says.
    pub(crate) units: String,
    /// Which mend was touched: key of the text, finding, mend.
    pub(crate) mend: String,
    /// Key of the text on disk when the page was made.
    pub(crate) disk: String,
    /// Whether to write over a file that changed on disk.
    pub(crate) over: String,
    /// Whether only the changed parts of the page are wanted.
    pub(crate) part: String,
}

impl Fields {
    pub(crate) fn wants_parts(&self) -> bool {
        self.part == "1"
    }
}

/// The units that were asked for, if any.
pub(crate) fn units(word: &str) -> Option<System> {
    match word {
        "us" => Some(System::Us),
        "si" => Some(System::Si),
        _ => None,
    }
}

/// A form whose texts have plain line ends, whatever the browser made of them.
pub(crate) struct JobForm(pub(crate) Fields);

impl<S: Send + Sync> FromRequest<S> for JobForm {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        let Form(mut fields) =
            Form::<Fields>::from_request(request, state).await.map_err(refused)?;
        for text in [&mut fields.text, &mut fields.good, &mut fields.before] {
            if text.contains('\r') {
                *text = text.replace("\r\n", "\n").replace('\r', "\n");
            }
        }
        Ok(JobForm(fields))
    }
}

fn refused(rejection: FormRejection) -> Response {
    let status = rejection.into_response().status();
    if status == StatusCode::PAYLOAD_TOO_LARGE {
        page::too_large()
    } else {
        let why = "The form could not be read. Nothing was changed: go back and try again.";
        page::error(StatusCode::BAD_REQUEST, "Not understood", why)
    }
}
