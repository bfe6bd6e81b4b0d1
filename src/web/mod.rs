//! The simulator as the live page asks it: a request in JSON, an answer in JSON.
//!
//! The page runs the very library that the program runs, compiled to WebAssembly; this module stands where the
//! command line stands. `abi.rs` hands texts in and out, [`request`] is what may be view, [`pair`] finds the two
//! baits compared, [`odds`], [`stage`] and [`sweep`] answer, [`said`] puts answers into words. The documents inside
//! an answer are those of `callup odds --json` and `callup sweep --json`, made by the same code.

pub mod odds;
pub mod pair;
pub mod request;
pub mod said;
pub mod stage;
pub mod start;
pub mod sweep;

use crate::models::{Models, ModelsError};
use crate::scenario::{Catalogue, Diagnostic};
use request::{Ask, Request};
use serde_json::{Value, json};
use std::sync::LazyLock;

static MODELS: LazyLock<Result<(Models, Catalogue), ModelsError>> = LazyLock::new(|| {
    Models::embedded().map(|models| {
        let catalogue = Catalogue::of(&models);
        (models, catalogue)
    })
});

/// Why there is no answer.
#[derive(Debug)]
pub enum Refused {
    /// The request itself is none.
    Request(String),
    /// The scenario has faults; the text is that of its file.
    Faults(Vec<Diagnostic>, String),
    /// It cannot be worked out.
    Other(String),
}

impl Refused {
    fn json(&self) -> Value {
        match self {
            Self::Request(text) | Self::Other(text) => json!({ "error": text }),
            Self::Faults(all, source) => {
                let shown: Vec<Value> = all.iter().map(|d| fault(d, source)).collect();
                json!({ "faults": shown })
            }
        }
    }
}

/// A fault or a doubt, as data and as text.
fn fault(d: &Diagnostic, source: &str) -> Value {
    let place = d.line_column(source).filter(|_| d.set.is_none());
    json!({
        "severity": d.severity,
        "title": d.title,
        "label": d.label,
        "help": d.help,
        "set": d.set,
        "line": place.map(|p| p.0),
        "column": place.map(|p| p.1),
        "text": d.render_plain(source),
    })
}

/// Answers one request. Never fails: what cannot be answered is told in the answer, as `error` or `faults`.
///
/// ```
/// let answer = callup::web::answer(r#"{"ask": "start"}"#);
/// assert!(answer.contains("main-lake-point"));
/// assert!(callup::web::answer("nonsense").contains("error"));
/// ```
pub fn answer(text: &str) -> String {
    let result = answered(text).unwrap_or_else(|refused| refused.json());
    serde_json::to_string(&result).unwrap_or_else(|e| format!("{{\"error\":{:?}}}", e.to_string()))
}

fn answered(text: &str) -> Result<Value, Refused> {
    let (models, catalogue) = MODELS.as_ref().map_err(|e| Refused::Other(e.to_string()))?;
    let request: Request =
        serde_json::from_str(text).map_err(|e| Refused::Request(format!("this is no request: {e}")))?;
    match request.ask {
        Ask::Start => Ok(start::start(catalogue)),
        Ask::Read => start::read(&request, models, catalogue),
        Ask::Odds => odds::odds(&request, models, catalogue),
        Ask::Sweep => sweep::sweep(&request, models, catalogue),
    }
}
