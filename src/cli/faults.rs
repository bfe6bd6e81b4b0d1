//! Diagnostics on the terminal, with the source line shown.

use crate::scenario::Diagnostic;
use crate::scenario::Severity;
use crate::scenario::diagnostic::printable;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

/// Renders diagnostics one after the other.
pub(super) fn render(faults: &[Diagnostic], source: &str, color: bool) -> String {
    let renderer = if color { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for fault in faults {
        out.push_str(&one(fault, source, &renderer));
        out.push_str("\n\n");
    }
    out
}

fn one(fault: &Diagnostic, file_source: &str, renderer: &Renderer) -> String {
    let level = match fault.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    // Same length in bytes, so the spans still fit.
    let source = printable(fault.source(file_source));
    let file = printable(&fault.file);
    let mut group = Group::with_title(level.primary_title(fault.title.as_str()));
    if let Some(span) = fault.span.clone().filter(|s| s.end <= source.len() && s.start <= s.end) {
        let annotation = AnnotationKind::Primary.span(span).label(fault.label.as_str());
        group = group.element(Snippet::source(source.as_str()).path(file.as_str()).annotation(annotation));
    } else {
        group = group.element(Origin::path(file.as_str()));
    }
    if !fault.help.is_empty() {
        group = group.element(Level::HELP.message(fault.help.as_str()));
    }
    renderer.render(&[group]).to_string()
}
