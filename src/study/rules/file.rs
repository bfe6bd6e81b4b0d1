//! Rule files: TOML as people write it, to rules, with every fault found in one go.

use super::{CONDITIONS, Claim, Condition, Literature, Rule, Side, Test};
use crate::scenario::diagnostic::{Diagnostic, visible};
use crate::scenario::document::{Document, Entry, Node, TOP, Value, entry};
use crate::scenario::reader::{Reader, Table};
use crate::scenario::schema::{Key, Kind, between, key, keys};
use crate::scenario::{Catalogue, Setting, paths};
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::axis::{Axis, AxisError, Wish};
use crate::study::overrides::Override;
use std::ops::Range;

/// The keys of a rule. Fewer points say little of a condition, more take too long.
static KEYS: &[Key] = keys! {
    "file.rule": Kind::Other, "", "a rule", optional;
    "rule.id": Kind::Id, "\"short-name\"", "short name";
    "rule.says": Kind::Sentence, "\"what the rule says, in plain words\"", "claim in words";
    "rule.bait": Kind::Sentence, "\"110 mm, standard lip, silent\"", "bait to try it with";
    "rule.side_a": Kind::Other, "{ bait.finish = \"mirror\" }", "side that should do better", optional;
    "rule.side_b": Kind::Other, "{ bait.finish = \"pearl\" }", "other side", optional;
    "rule.direction": Kind::Other, "\"falls\"", "how the odds go as the quantity grows", optional;
    "rule.over": Kind::Other, "\"fish.depth=2m..6m:5\"", "quantity that grows", optional;
    "rule.always": Kind::Other, "{ sky.cloud = 0.9 }", "what holds on both sides", optional;
    "rule.conditions": Kind::Other, "[\"water.secchi=2m..6m\"]", "where it is claimed", optional;
    "rule.gain_over": Kind::Other, "{ water.temperature = \"24 C\" }", "what the gain is compared with", optional;
    "rule.points": between(8.0, 512.0), "64", "number of conditions tried", optional;
    "rule.delta": between(0.01, 50.0), "1", "smallest difference that counts", optional;
    "rule.claim": Kind::Choice(&["a", "same"]), "\"same\"", "which side is said to do better, or neither", optional;
    "rule.literature": Kind::Choice(Literature::LABELS), "\"untested\"", "word on what the literature says";
    "rule.source": Kind::Sentence, "\"authors and year\"", "where it was written", optional;
};
const SIDES_HELP: &str = "write side_a = { ... } and side_b = { ... } with what differs, as in side_a = { bait.finish = \
    \"mirror\" }, or direction = \"falls\" with over = \"fish.depth=2m..6m:5\"";

/// Reads the rules of a file.
///
/// # Errors
/// Every fault found, in the order of the file.
pub fn read(source: &str, file: &str, catalogue: &Catalogue) -> Result<Vec<Rule>, Vec<Diagnostic>> {
    let (document, errors) = Document::parse(source);
    let mut reader = Reader::new(file);
    let settings = paths(catalogue);
    reader.table(KEYS, "file", &document.root, &TOP, catalogue);
    let mut rules: Vec<Rule> = Vec::new();
    for (entries, at) in reader.list(&document.root, "rule") {
        let table = reader.table(KEYS, "rule", entries, at, catalogue);
        rules.extend(reader.rule(&table, &settings));
    }
    if rules.is_empty() && reader.faults.is_empty() && errors.is_empty() {
        let help = "begin from the embedded ones: callup rules --template > my-rules.toml";
        reader.fault(0..0, "there is no rule in this file", "", help);
    }
    for (i, rule) in rules.iter().enumerate() {
        if rules[..i].iter().any(|r| r.id == rule.id) {
            let title = format!("two rules are called `{}`", visible(&rule.id));
            reader.fault(&rule.at, title, "the second", "give it an id of its own");
        }
    }
    let faults = reader.finish(&errors, source);
    if faults.is_empty() { Ok(rules) } else { Err(faults) }
}

impl Reader<'_> {
    fn rule(&mut self, table: &Table, settings: &[Setting]) -> Option<Rule> {
        let before = self.faults.len();
        let mut always = self.puts(table.entries, "always").unwrap_or_default();
        let bait = table.text("bait");
        always.extend(bait.map(|name| Override {
            path: "box.use".into(),
            value: listed(name.value),
            at: name.at.range.clone(),
        }));
        let test = self.test(table, settings);
        let conditions = self.conditions(table, settings);
        let gain_over = self.gain_over(table.entries);
        let literature = table.text("literature").and_then(|word| Literature::from_label(word.value));
        let rule = Rule {
            id: table.owned("id"),
            says: table.owned("says"),
            claim: if table.owned("claim") == "same" { Claim::Same } else { Claim::More },
            points: table.number("points").map_or(CONDITIONS, |n| n.value as usize),
            smallest_difference: table.number("delta").map_or(SMALLEST_DIFFERENCE, |n| n.value),
            source: table.owned("source"),
            at: table.at.range.clone(),
            test: test?,
            always,
            conditions,
            gain_over,
            literature: literature.unwrap_or(Literature::Untested),
        };
        self.contradictions(&rule);
        (self.faults.len() == before).then_some(rule)
    }

    fn test(&mut self, table: &Table, settings: &[Setting]) -> Option<Test> {
        let (sides, along) = (["side_a", "side_b"].map(|k| table.entry(k)), table.entry("direction"));
        match (sides, along) {
            ([Some(_), Some(_)], None) => {
                let (a, b) = (self.side(table.entries, "side_a"), self.side(table.entries, "side_b"));
                let (a, b) = (a?, b?);
                let plain = |s: &Side| {
                    let mut all: Vec<_> = s.puts.iter().map(|p| (p.path.clone(), p.value.clone())).collect();
                    all.sort();
                    all
                };
                if plain(&a) == plain(&b) {
                    let at = sides[1].map_or(table.at, |e| &e.value.at);
                    let help = "write at side_b what is different there";
                    self.fault(at, "the two sides are the same", "nothing differs from side_a", help);
                    return None;
                }
                Some(Test::Sides { a, b })
            }
            ([None, None], Some(direction)) => self.direction(table, direction, settings),
            ([None, None], None) => {
                self.fault(
                    table.at,
                    "this rule compares nothing",
                    "lacks side_a and side_b, or direction and over",
                    SIDES_HELP,
                );
                None
            }
            ([Some(_), None] | [None, Some(_)], None) => {
                let missing = if sides[0].is_none() { "side_a" } else { "side_b" };
                self.fault(table.at, format!("this rule lacks {missing}"), "one side only", SIDES_HELP);
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
        let mut puts = self.puts(table, key)?;
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

    fn direction(&mut self, table: &Table, direction: &Entry, settings: &[Setting]) -> Option<Test> {
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
        let Some(over) = table.entry("over") else {
            let help = "write over = \"fish.depth=2m..6m:5\"";
            self.fault(&direction.key_at.range, "a direction along nothing", "lacks over", help);
            return None;
        };
        let axis = self.axis(&over.value, Wish { steps: 5, logarithmic: false }, settings)?;
        if axis.is_words() {
            let help = "write a range of numbers, as in fish.depth=2m..6m:5, or compare two sides";
            self.fault(&over.value.at.range, "words neither rise nor fall", "no quantity", help);
            return None;
        }
        Some(Test::Direction { axis, falls, at: over.value.at.range.clone() })
    }

    fn conditions(&mut self, table: &Table, settings: &[Setting]) -> Vec<Condition> {
        let Some(all) = table.entry("conditions") else {
            let help = "write conditions = [\"water.secchi=2m..6m\", \"fish.pressure=all\"]: where the rule is claimed";
            self.fault(table.at, "this rule is claimed nowhere", "lacks conditions", help);
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
            .filter_map(|item| {
                Some(Condition { axis: self.axis(item, wish, settings)?, at: item.at.range.clone() })
            })
            .collect()
    }

    fn gain_over(&mut self, table: &[Entry]) -> Vec<Override> {
        let Some(all) = entry(table, "gain_over") else { return Vec::new() };
        let puts = self.puts(table, "gain_over");
        if puts.as_ref().is_some_and(Vec::is_empty) {
            let help = "write gain_over = { water.temperature = \"24 C\" }: where the gain is compared with";
            self.fault(&all.value.at.range, "the gain is compared with nothing", "an empty table", help);
        }
        puts.unwrap_or_default()
    }

    fn axis(&mut self, node: &Node, wish: Wish, settings: &[Setting]) -> Option<Axis> {
        let at = &node.at;
        let Value::Text(text) = &node.value else {
            self.kind(at, "a range", "a text, as in \"water.secchi=2m..6m\"", &node.value);
            return None;
        };
        match Axis::parse(text, wish, settings) {
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
}

/// A bait as the only one of a box: a list keeps the commas of its name together.
fn listed(name: &str) -> String {
    format!("[{}]", toml::Value::String(name.to_owned()))
}
