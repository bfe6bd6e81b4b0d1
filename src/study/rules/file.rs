//! Rule files: TOML as people write it, to rules, with every fault found in one go.

use super::{CONDITIONS, Claim, Condition, Literature, Rule, Side, Test};
use crate::scenario::check::syntax;
use crate::scenario::diagnostic::{Diagnostic, visible};
use crate::scenario::document::{Document, Entry, Node, Value, entry};
use crate::scenario::{Catalogue, paths};
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::axis::{Axis, AxisError, Wish};
use crate::study::reader::{Put, Reader};
use std::ops::Range;

/// The keys of a rule.
const KEYS: &[&str] = &[
    "id",
    "says",
    "bait",
    "side_a",
    "side_b",
    "direction",
    "over",
    "always",
    "conditions",
    "gain_over",
    "points",
    "delta",
    "claim",
    "literature",
    "source",
];
/// Fewer points say little of a condition, more take too long.
const POINTS: (usize, usize) = (8, 512);
const SIDES_HELP: &str = "write side_a = { ... } and side_b = { ... } with what differs, as in side_a = { bait.finish = \
    \"mirror\" }, or direction = \"falls\" with over = \"fish.depth=2m..6m:5\"";

/// Reads the rules of a file.
///
/// # Errors
/// Every fault found, in the order of the file.
pub fn read(source: &str, file: &str, catalogue: &Catalogue) -> Result<Vec<Rule>, Vec<Diagnostic>> {
    let (document, errors) = Document::parse(source);
    let mut reader = Reader { file, what: "rule", settings: paths(catalogue), faults: Vec::new() };
    let mut rules: Vec<Rule> = Vec::new();
    for top in &document.root {
        match (&*top.key, &top.value.value) {
            ("rule", Value::List(items)) => {
                for item in items {
                    match &item.value {
                        Value::Table(table) => rules.extend(reader.rule(table, &item.at.range)),
                        other => reader.kind(&item.at.range, "a rule", "a table, as in [[rule]]", other),
                    }
                }
            }
            ("rule", _) => {
                let help = "write [[rule]], in two pairs of brackets, above each rule";
                reader.fault(&top.key_at.range, "rules stand in a list", "this is one table", help);
            }
            (key, _) => {
                let title = format!("a rule file has no `{}`", visible(key));
                reader.fault(&top.key_at.range, title, "not known here", "write rules, each under [[rule]]");
            }
        }
    }
    if rules.is_empty() && reader.faults.is_empty() && errors.is_empty() {
        let help = "begin from the embedded ones: callup rules --template > my-rules.toml";
        reader.fault(&(0..0), "there is no rule in this file", "", help);
    }
    for (i, rule) in rules.iter().enumerate() {
        if rules[..i].iter().any(|r| r.id == rule.id) {
            let title = format!("two rules are called `{}`", visible(&rule.id));
            reader.fault(&rule.at, title, "the second", "give it an id of its own");
        }
    }
    let mut faults = reader.faults;
    syntax::drop_consequences(&mut faults, &errors, source);
    faults.extend(errors.iter().map(|e| syntax::diagnostic(e, source, file)));
    faults.sort_by_key(|f| f.span.as_ref().map_or(0, |s| s.start));
    if faults.is_empty() { Ok(rules) } else { Err(faults) }
}

impl Reader<'_> {
    fn rule(&mut self, table: &[Entry], at: &Range<usize>) -> Option<Rule> {
        let before = self.faults.len();
        self.unknown(table, KEYS);
        let id = self.id(table, at);
        let says = self.needed(table, "says", at, "says = \"what the rule says, in plain words\"");
        let bait = self.needed(
            table,
            "bait",
            at,
            "bait = \"110 mm, standard lip, silent\", the bait to try it with",
        );
        let mut always = self.table(table, "always").unwrap_or_default();
        let bait_at = entry(table, "bait").map_or(at.clone(), |e| e.value.at.range.clone());
        always.extend(bait.map(|name| Put { path: "box.use".into(), value: listed(&name), at: bait_at }));
        let test = self.test(table, at);
        let conditions = self.conditions(table, at);
        let gain_over = self.gain_over(table);
        let literature = self.literature(table, at);
        let rule = Rule {
            id: id.unwrap_or_default(),
            says: says.unwrap_or_default(),
            claim: self.claim(table),
            points: self
                .number(table, "points", (POINTS.0 as f64, POINTS.1 as f64))
                .map_or(CONDITIONS, |n| n as usize),
            smallest_difference: self.number(table, "delta", (0.01, 50.0)).unwrap_or(SMALLEST_DIFFERENCE),
            source: self.text(table, "source").unwrap_or_default(),
            at: at.clone(),
            test: test?,
            always,
            conditions,
            gain_over,
            literature: literature.unwrap_or(Literature::Untested),
        };
        self.contradictions(&rule);
        (self.faults.len() == before).then_some(rule)
    }

    fn test(&mut self, table: &[Entry], at: &Range<usize>) -> Option<Test> {
        let (sides, along) = (["side_a", "side_b"].map(|k| entry(table, k)), entry(table, "direction"));
        match (sides, along) {
            ([Some(_), Some(_)], None) => {
                let (a, b) = (self.side(table, "side_a"), self.side(table, "side_b"));
                let (a, b) = (a?, b?);
                let plain = |s: &Side| {
                    let mut all: Vec<_> = s.puts.iter().map(|p| (p.path.clone(), p.value.clone())).collect();
                    all.sort();
                    all
                };
                if plain(&a) == plain(&b) {
                    let range = entry(table, "side_b").map_or(at.clone(), |e| e.value.at.range.clone());
                    let help = "write at side_b what is different there";
                    self.fault(&range, "the two sides are the same", "nothing differs from side_a", help);
                    return None;
                }
                Some(Test::Sides { a, b })
            }
            ([None, None], Some(direction)) => self.direction(table, direction),
            ([None, None], None) => {
                self.fault(
                    at,
                    "this rule compares nothing",
                    "lacks side_a and side_b, or direction and over",
                    SIDES_HELP,
                );
                None
            }
            ([Some(_), None] | [None, Some(_)], None) => {
                let missing = if sides[0].is_none() { "side_a" } else { "side_b" };
                self.fault(at, format!("this rule lacks {missing}"), "one side only", SIDES_HELP);
                None
            }
            (_, Some(direction)) => {
                let help = "keep the two sides, or direction with over, and take the other away";
                self.fault(
                    &direction.key_at.range,
                    "a rule has either two sides or a direction",
                    "both",
                    help,
                );
                None
            }
        }
    }

    fn side(&mut self, table: &[Entry], key: &str) -> Option<Side> {
        let mut puts = self.table(table, key)?;
        // A bait of its own is the whole box.
        let mut name = None;
        puts.retain_mut(|p| match &*p.path {
            "name" => {
                name = Some(p.value.clone());
                false
            }
            "bait" => {
                (p.path, p.value) = ("box.use".into(), listed(&p.value));
                true
            }
            _ => true,
        });
        let said = || puts.iter().map(|p| format!("{} {}", p.path, p.value)).collect::<Vec<_>>().join(", ");
        Some(Side { name: name.unwrap_or_else(said), puts })
    }

    fn direction(&mut self, table: &[Entry], direction: &Entry) -> Option<Test> {
        let falls = match &direction.value.value {
            Value::Text(word) if word == "falls" => true,
            Value::Text(word) if word == "rises" => false,
            _ => {
                let help = "write direction = \"falls\" or direction = \"rises\": how the odds go as the quantity grows";
                self.fault(
                    &direction.value.at.range,
                    "this is no direction",
                    "not falls and not rises",
                    help,
                );
                return None;
            }
        };
        let Some(over) = entry(table, "over") else {
            let help = "write over = \"fish.depth=2m..6m:5\"";
            self.fault(&direction.key_at.range, "a direction along nothing", "lacks over", help);
            return None;
        };
        let axis = self.axis(&over.value, Wish { steps: 5, logarithmic: false })?;
        if axis.is_words() {
            let help = "write a range of numbers, as in fish.depth=2m..6m:5, or compare two sides";
            self.fault(&over.value.at.range, "words neither rise nor fall", "no quantity", help);
            return None;
        }
        Some(Test::Direction { axis, falls, at: over.value.at.range.clone() })
    }

    fn conditions(&mut self, table: &[Entry], at: &Range<usize>) -> Vec<Condition> {
        let Some(all) = entry(table, "conditions") else {
            let help = "write conditions = [\"water.secchi=2m..6m\", \"fish.pressure=all\"]: where the rule is claimed";
            self.fault(at, "this rule is claimed nowhere", "lacks conditions", help);
            return Vec::new();
        };
        let Value::List(items) = &all.value.value else {
            self.kind(&all.value.at.range, "the conditions", "a list of texts in [ ]", &all.value.value);
            return Vec::new();
        };
        if items.is_empty() {
            let help = "write at least one, as in conditions = [\"water.secchi=2m..6m\"]";
            self.fault(&all.value.at.range, "this rule is claimed nowhere", "an empty list", help);
        }
        let wish = Wish { steps: 2, logarithmic: false };
        items
            .iter()
            .filter_map(|item| Some(Condition { axis: self.axis(item, wish)?, at: item.at.range.clone() }))
            .collect()
    }

    fn gain_over(&mut self, table: &[Entry]) -> Vec<Put> {
        let Some(all) = entry(table, "gain_over") else { return Vec::new() };
        let puts = self.table(table, "gain_over");
        if puts.as_ref().is_some_and(Vec::is_empty) {
            let help = "write gain_over = { water.temperature = \"24 C\" }: where the gain is compared with";
            self.fault(&all.value.at.range, "the gain is compared with nothing", "an empty table", help);
        }
        puts.unwrap_or_default()
    }

    fn axis(&mut self, node: &Node, wish: Wish) -> Option<Axis> {
        let at = &node.at.range;
        let Value::Text(text) = &node.value else {
            self.kind(at, "a range", "a text, as in \"water.secchi=2m..6m\"", &node.value);
            return None;
        };
        match Axis::parse(text, wish, &self.settings) {
            Ok(axis) => Some(axis),
            Err(e) => {
                let help = match &e {
                    AxisError::NoRange { path, example, .. } => format!("write \"{path}={example}\""),
                    AxisError::OneValue { .. } | AxisError::NotSweepable { .. } => {
                        "give two values or more, or put one value into always = { ... }".into()
                    }
                    other => other.help(),
                };
                self.fault(at, e.to_string(), "", help);
                None
            }
        }
    }

    /// One value cannot be settled and vary, or be settled twice.
    fn contradictions(&mut self, rule: &Rule) {
        let along = match &rule.test {
            Test::Direction { axis, at, .. } => vec![(axis.path.to_owned(), at.clone())],
            Test::Sides { .. } => Vec::new(),
        };
        let mut settled: Vec<(String, Range<usize>)> =
            rule.puts().map(|p| (p.path.clone(), p.at.clone())).collect();
        for (path, at) in &along {
            if rule.puts().any(|p| &p.path == path) {
                let help = "take it out of always, or let the rule run over something else";
                self.fault(at, format!("{path} is settled and varied"), "settled in this rule too", help);
            }
        }
        settled.extend(along);
        for (i, condition) in rule.conditions.iter().enumerate() {
            let path = condition.axis.path;
            if settled.iter().any(|(p, _)| p == path) {
                let title = format!("the conditions contradict the rule: {path} is settled by it");
                let help = "take the condition away, or take the value out of always and the sides";
                self.fault(&condition.at, title, "varied here, settled elsewhere in the rule", help);
            }
            if rule.conditions[..i].iter().any(|c| c.axis.path == path) {
                let title = format!("two conditions on {path}");
                let help = "keep one; a set may name several values, with commas";
                self.fault(&condition.at, title, "the second", help);
            }
        }
        for put in &rule.gain_over {
            let varied = match &rule.test {
                Test::Sides { a, b } => a.puts.iter().chain(&b.puts).any(|p| p.path == put.path),
                Test::Direction { axis, .. } => axis.path == put.path,
            };
            if varied {
                let title = format!("{} makes the sides, and gain_over makes it the same on both", put.path);
                let help =
                    "put into gain_over where the gain is compared with, as in water.temperature = \"24 C\"";
                self.fault(&put.at, title, "what the sides differ in", help);
            }
        }
        for put in &rule.always {
            let Test::Sides { a, b } = &rule.test else { continue };
            // The bait of the rule gives way to a side's own.
            if put.path != "box.use" && a.puts.iter().chain(&b.puts).any(|p| p.path == put.path) {
                let title = format!("{} is always one thing and another on a side", put.path);
                self.fault(
                    &put.at,
                    title,
                    "a side says otherwise",
                    "take it out of always, or out of the side",
                );
            }
        }
    }

    fn claim(&mut self, table: &[Entry]) -> Claim {
        match self.word(table, "claim", &["a", "same"]).as_deref() {
            Some("same") => Claim::Same,
            _ => Claim::More,
        }
    }

    fn literature(&mut self, table: &[Entry], at: &Range<usize>) -> Option<Literature> {
        if entry(table, "literature").is_none() {
            let help = "write literature = \"untested\", \"mixed\" or \"supported\", and the source";
            self.fault(at, "this rule does not say what the literature says", "lacks literature", help);
            return None;
        }
        let word = self.word(table, "literature", Literature::LABELS)?;
        [Literature::Supported, Literature::Mixed, Literature::Untested]
            .into_iter()
            .find(|l| l.label() == word)
    }
}

/// A bait as the only one of a box: a list keeps the commas of its name together.
fn listed(name: &str) -> String {
    format!("[{}]", toml::Value::String(name.to_owned()))
}
