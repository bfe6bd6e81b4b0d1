//! The rules: each takes one file and gives what breaks them.

use super::source::Source;
use std::fmt;

/// The layers, lowest first; those on one line are strangers to each other.
pub const LAYERS: [&str; 15] = [
    "labels",
    "units",
    "maths",
    "random",
    "statistics",
    "water",
    "bait",
    "fish",
    "models",
    "scenario",
    "world",
    "engine",
    "study",
    "present",
    "web",
];
const COMMAND_LINE: &str = "cli";
const STRANGERS: [&str; 3] = ["water", "bait", "fish"];
/// The module of the page: a program of its own, which exports functions and answers on standard output.
const MODULE: &str = "web/abi.rs";

/// A breach of a rule.
#[derive(Debug)]
pub struct Finding {
    file: String,
    line: usize,
    what: String,
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "src/{}:{}: {}", self.file, self.line, self.what)
    }
}

fn finding(source: &Source, at: usize, what: String) -> Finding {
    Finding { file: source.file.clone(), line: source.line(at), what }
}

/// Place of a module in the order, the strangers all in the same.
fn height(module: &str) -> Option<usize> {
    if module == COMMAND_LINE {
        return Some(LAYERS.len());
    }
    let module = if STRANGERS.contains(&module) { STRANGERS[0] } else { module };
    LAYERS.iter().position(|l| *l == module)
}

/// Modules at the top of the crate that a file names, with the places.
fn used(source: &Source) -> Vec<(usize, String)> {
    let mut all = Vec::new();
    for at in source.words("crate") {
        let (_, after) = source.around(at, "crate");
        all.extend(heads(after).into_iter().map(|head| (at, head)));
    }
    let depth = source.module().len();
    for at in source.words("super") {
        let (before, _) = source.around(at, "super");
        if before.ends_with("super::") {
            continue;
        }
        let mut rest = &source.code[at..];
        let mut ups = 0;
        while let Some(after) = rest.strip_prefix("super") {
            ups += 1;
            match after.strip_prefix("::").filter(|a| a.starts_with("super")) {
                Some(next) => rest = next,
                None => {
                    rest = after;
                    break;
                }
            }
        }
        if ups == depth {
            all.extend(heads(rest).into_iter().map(|head| (at, head)));
        }
    }
    all
}

/// The first names behind `::`, one or a list in braces.
fn heads(after: &str) -> Vec<String> {
    let Some(after) = after.strip_prefix("::") else { return Vec::new() };
    let word = |text: &str| -> String {
        text.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
    };
    if !after.starts_with('{') {
        return vec![word(after)];
    }
    let (mut depth, mut names) = (0, Vec::new());
    for (i, c) in after.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            break;
        }
        if depth == 1 && matches!(c, '{' | ',') {
            names.push(word(&after[i + 1..]));
        }
    }
    names.retain(|n| !n.is_empty());
    names
}

/// A module uses only those before it.
pub fn layers(source: &Source) -> Vec<Finding> {
    let top = source.top();
    if top == "main" {
        let others = source.words("callup").filter_map(|at| {
            let heads = heads(source.around(at, "callup").1);
            heads.into_iter().find(|h| h != COMMAND_LINE).map(|h| (at, h))
        });
        return others.map(|(at, h)| finding(source, at, format!("main uses {h}, not only cli"))).collect();
    }
    if top == "lib" {
        return Vec::new();
    }
    let Some(own) = height(top) else {
        return vec![finding(source, 0, format!("{top} has no place in the order of the layers"))];
    };
    used(source)
        .into_iter()
        .filter(|(_, other)| other != top && height(other).is_none_or(|h| h >= own))
        .map(|(at, other)| finding(source, at, format!("{top} uses {other}, which is not before it")))
        .collect()
}

/// Only the command line prints, reads files, the environment or the clock, or ends the process.
pub fn side_effects(source: &Source) -> Vec<Finding> {
    if [COMMAND_LINE, "main"].contains(&source.top()) || source.file == MODULE {
        return Vec::new();
    }
    let mut all = Vec::new();
    let mut add = |at, what: &str| all.push(finding(source, at, format!("{what} below the command line")));
    for name in ["println", "eprintln", "print", "eprint", "dbg"] {
        for at in source.words(name).filter(|&at| source.around(at, name).1.starts_with('!')) {
            add(at, name);
        }
    }
    for at in source.words("std") {
        for head in heads(source.around(at, "std").1) {
            if ["env", "fs", "net", "process"].contains(&head.as_str()) {
                add(at, &format!("std::{head}"));
            }
        }
    }
    for name in ["SystemTime", "Instant", "stdout", "stderr", "stdin"] {
        source.words(name).for_each(|at| add(at, name));
    }
    all
}

const TRANSCENDENTAL: [&str; 25] = [
    "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10", "powf", "powi", "sin", "cos", "tan",
    "sin_cos", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "asinh", "acosh", "atanh", "cbrt",
];

/// The platform's own transcendental functions differ in the last bit from one platform to the next.
pub fn transcendentals(source: &Source) -> Vec<Finding> {
    if ["statistics", "present", COMMAND_LINE, "main"].contains(&source.top()) {
        return Vec::new();
    }
    let of = |name: &'static str| {
        source.words(name).filter_map(move |at| {
            let (before, after) = source.around(at, name);
            let method = before.ends_with('.') && after.starts_with('(');
            let path = before.ends_with("f64::") || before.ends_with("f32::");
            (method || path).then(|| finding(source, at, format!("the platform's {name}; use crate::maths")))
        })
    };
    TRANSCENDENTAL.into_iter().chain(["hypot"]).flat_map(of).collect()
}

/// Nothing that input might reach may panic.
pub fn panics(source: &Source) -> Vec<Finding> {
    let methods = ["unwrap", "expect", "unwrap_err", "expect_err"].into_iter().flat_map(|name| {
        source.words(name).filter_map(move |at| {
            let (before, after) = source.around(at, name);
            (before.ends_with('.') && after.starts_with('(')).then_some((at, name))
        })
    });
    let macros = ["panic", "todo", "unimplemented", "unreachable"].into_iter().flat_map(|name| {
        source
            .words(name)
            .filter_map(move |at| source.around(at, name).1.starts_with('!').then_some((at, name)))
    });
    // Giving a function its plain name is the only thing that the module's exports need it for.
    let export = |at| source.file == MODULE && source.around(at, "unsafe").1.starts_with("(no_mangle)");
    let blocks = source.words("unsafe").filter(|&at| !export(at)).map(|at| (at, "unsafe"));
    methods
        .chain(macros)
        .chain(blocks)
        .map(|(at, name)| finding(source, at, format!("{name} outside tests")))
        .collect()
}
