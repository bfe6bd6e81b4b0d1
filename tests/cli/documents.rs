//! The documents: what they link to is there.

use std::path::Path;

/// Targets of Markdown links and images, and of `src` and `href` in it; code left out.
fn links(text: &str) -> Vec<String> {
    let mut prose = String::new();
    let mut fenced = false;
    for line in text.lines() {
        if line.trim_start().starts_with("```") {
            fenced = !fenced;
        } else if !fenced {
            // Spans of code hold no links.
            prose.extend(line.split('`').step_by(2));
            prose.push('\n');
        }
    }
    let between = |open: &str, close: char| -> Vec<String> {
        prose
            .match_indices(open)
            .filter_map(|(at, _)| prose[at + open.len()..].split_once(close))
            .map(|(target, _)| target.split_whitespace().next().unwrap_or_default().to_owned())
            .collect()
    };
    [between("](", ')'), between("src=\"", '"'), between("href=\"", '"')].concat()
}

/// Relative targets that do not exist, seen from the folder of the document.
fn broken(text: &str, folder: &Path) -> Vec<String> {
    links(text)
        .into_iter()
        .filter(|l| !l.contains("://") && !l.starts_with('#') && !l.starts_with("mailto:"))
        .filter(|l| {
            let file = l.split('#').next().unwrap_or_default();
            file.is_empty() || !folder.join(file).exists()
        })
        .collect()
}

#[test]
fn every_relative_link_leads_to_a_file() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for name in ["README.md", "DEVELOPERS.md", "CONTRIBUTING.md", "CHANGELOG.md", "plots/README.md"] {
        let path = root.join(name);
        // A document that is not written yet has no broken links.
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        let folder = path.parent().expect("folder");
        assert_eq!(broken(&text, folder), [""; 0], "in {name}");
    }
}

#[test]
fn the_citation_is_of_this_version() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("CITATION.cff");
    let text = std::fs::read_to_string(path).expect("citation");
    let version = text.lines().find_map(|l| l.strip_prefix("version: "));
    assert_eq!(version, Some(env!("CARGO_PKG_VERSION")));
}

#[test]
fn a_link_to_nowhere_is_found() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = "[a](src/lib.rs) ![b](plots/none.png) [c](https://example.org/x) [d](#part) [e](src/lib.rs#L1)\n\
                `[f](none)`\n```\n[g](none)\n```\n<img src=\"none.svg\"> [h](none.md \"title\")";
    assert_eq!(broken(text, root), ["plots/none.png", "none.md", "none.svg"]);
}
