//! What a log says: what changed, what did not, odds before and after.

#[cfg(feature = "cli")]
mod pictures;

use super::Readable;
use crate::models::{Parameter, Spread};
use crate::present::columns::{Cell, Kind, column, raw, read, spreadsheet};
use crate::present::document::{Document, On};
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::statistics::estimate::Estimate;
use crate::study::learn::changes::Change;
use crate::study::learn::check::{Aspect, Check};
use crate::study::learn::overlay::Loss;
use crate::study::learn::{BeforeAfter, Learnt, Told};

/// Columns of a terminal from which all is told of what moved.
const WIDE: usize = 90;

impl Readable for Told {
    fn document(&self, view: &View) -> Document {
        let l = &self.learnt;
        let counted = format!(
            "{}: {}, {}, {:.0} casts, {}",
            self.origin.log,
            words::count(self.log.rows.len(), "row", "rows"),
            words::count(l.days, "day", "days"),
            l.casts,
            words::count(l.strikes as usize, "strike", "strikes"),
        );
        let mut out = Document::new(std::iter::once(counted).chain(form(self)), headline(l));
        out.figure("learnt");
        let wide = view.width >= WIDE;
        if !l.changed.is_empty() {
            out.plain_table("What moved", changes(l, wide, view));
        }
        out.texts(limits(l, wide)).figure("odds-before-after");
        out.paragraphs(["Today's odds, for one pass near such a fish".to_owned()]).only(On::Terminal);
        out.texts(view.head()).only(On::Terminal);
        out.plain_table("Today's odds, before the log and after it", odds(l, view));
        out.texts(notes(view, self));
        out
    }

    /// One line for each quantity.
    fn spreadsheet(&self, _view: &View) -> Table {
        type Row<'a> = (&'a str, &'a str, &'a str, [f64; 3], [f64; 3], Option<f64>);
        let l = &self.learnt;
        let ends = |e: &Estimate| [e.low, e.point, e.high];
        let level = (ends(&l.level.before), ends(&l.level.after));
        let mut rows: Vec<Row> = vec![("log", "strikes", "per 100 casts", level.0, level.1, None)];
        let bait = |b: &'_ BeforeAfter| (ends(&b.before), ends(&b.after));
        rows.extend(l.baits.iter().map(|b| ("bait", &*b.name, "per 100 passes", bait(b).0, bait(b).1, None)));
        let unknown = |c: &'_ Change| (c.before(), c.after, Some(c.contraction));
        rows.extend(l.changed.iter().map(|c| {
            let (before, after, told) = unknown(c);
            ("unknown", &*c.parameter.name, &*c.parameter.unit, before, after, told)
        }));
        let columns = [
            raw("kind", |r: &Row| r.0),
            raw("name", |r: &Row| r.1),
            raw("unit", |r: &Row| r.2),
            raw("before_low", |r: &Row| r.3[0]),
            raw("before_middle", |r: &Row| r.3[1]),
            raw("before_high", |r: &Row| r.3[2]),
            raw("after_low", |r: &Row| r.4[0]),
            raw("after_middle", |r: &Row| r.4[1]),
            raw("after_high", |r: &Row| r.4[2]),
            raw("contraction", |r: &Row| Cell::from(r.5)),
        ];
        spreadsheet(&columns, &rows)
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }
}

/// How the file was read.
fn form(told: &Told) -> Vec<String> {
    let mut lines = Vec::new();
    if !told.log.ignored.is_empty() {
        let names: Vec<&str> = told.log.ignored.iter().map(|i| i.0.as_str()).collect();
        lines.push(format!("Columns ignored: {}.", names.join(", ")));
    }
    if !told.log.left_open.is_empty() {
        let open = told
            .log
            .left_open
            .iter()
            .map(|(path, n)| format!("{path} in {}", words::count(*n, "row", "rows")));
        let open: Vec<String> = open.collect();
        lines.push(format!("Empty cells, for which the scenario's value was taken: {}.", open.join(", ")));
    }
    if !told.log.varied.contains(&"when.time") {
        lines.push("The log gives no time: the scenario's clock time was taken for all rows.".into());
    }
    lines
}

/// The finding.
fn headline(l: &Learnt) -> String {
    if l.casts <= 0.0 {
        return "There is not one cast in this log: everything stays as it was.".into();
    }
    let (b, a) = (&l.level.before, &l.level.after);
    let level = format!(
        "Casts like these end in a strike {} times in 100 ({} to {}); before the log it could have been anything from {} to {}.",
        words::per_100(a.point),
        words::number_per_100(a.low),
        words::number_per_100(a.high),
        words::number_per_100(b.low),
        words::number_per_100(b.high),
    );
    let of = l.changed.len() + l.silent;
    match l.changed.as_slice() {
        [] => format!(
            "{level} No single unknown moved by more than the luck of the draws: this log is too small to tell them apart."
        ),
        [only] => format!("{level} Of {of} unknowns it moves one: {}.", only.parameter.means),
        [first, ..] => format!(
            "{level} Of {of} unknowns it moves {}, most of all {}.",
            l.changed.len(),
            first.parameter.means
        ),
    }
}

/// A value with its unit.
fn value(p: &Parameter, x: f64) -> String {
    let unit = if p.unit == "1" { String::new() } else { format!(" {}", p.unit) };
    format!("{}{unit}", number(x))
}

/// Two digits, but no whole number cut to tens: decibels would lose their meaning.
fn number(x: f64) -> String {
    if (100.0..1e6).contains(&x.abs()) { format!("{x:.0}") } else { words::two_digits(x) }
}

fn range(p: &Parameter, [low, middle, high]: [f64; 3]) -> String {
    match p.spread {
        Spread::Choice => format!("{:.0} in 10 worlds", 10.0 * middle),
        _ => format!("{} ({} to {})", value(p, middle), number(low), number(high)),
    }
}

/// "lower", "higher", "narrower".
fn way(c: &Change) -> &'static str {
    /// Half of its own standard deviation: less is told by the narrowing alone.
    const MOVED: f64 = 0.25;
    match c.shift {
        s if s > MOVED => "higher",
        s if s < -MOVED => "lower",
        _ => "narrower",
    }
}

/// What moved; a narrow terminal leaves out way, share and grade, where they would break the names to pieces.
fn changes(l: &Learnt, wide: bool, view: &View) -> Table {
    let mut columns = vec![
        column("", "what moved", Kind::Text, |c: &Change| c.parameter.means.clone()),
        column("", "before", Kind::Text, |c: &Change| range(&c.parameter, c.before())),
        column("", "after", Kind::Text, |c: &Change| range(&c.parameter, c.after)),
    ];
    if wide {
        columns.extend([
            column("", "way", Kind::Text, |c: &Change| way(c)),
            column("", "told", Kind::Percent, |c: &Change| c.contraction.max(0.0)),
            column("", "grade", Kind::Text, |c: &Change| c.parameter.grade.name()),
        ]);
    }
    read(&columns, &l.changed, view.units)
}

/// What the log does not say.
fn limits(l: &Learnt, wide: bool) -> Vec<String> {
    let mut out = Vec::new();
    if l.casts <= 0.0 {
        return out;
    }
    if !l.changed.is_empty() {
        let told = if wide { "Told: how much of the old variance the log took away. " } else { "" };
        out.push(format!("{told}Middle values, nine chances in ten in brackets."));
    }
    for tie in &l.tied {
        let how = if tie.correlation.0 < 0.0 {
            "the one may be higher if the other is lower"
        } else {
            "both may be higher, or both lower"
        };
        out.push(format!(
            "Known together better than each by itself: {}; and {}: {how}.",
            tie.means[0], tie.means[1]
        ));
    }
    let free = l.per_cast.spread != Spread::Fixed;
    let basis = if free {
        "The log does not say which casts passed near a fish, so few fish and unwilling fish look the same to it: it is \
         mostly the product that it fixes. Passes per cast are taken to be the same on average in all rows. If you know \
         them (sonar, a fish in sight), state them with --passes-per-cast, and the log says more about the fish."
            .to_owned()
    } else if l.from_density {
        "Passes per cast were worked out from the density of fish given.".to_owned()
    } else {
        format!(
            "Passes near a fish per cast were taken as stated: {}.",
            words::two_digits(l.per_cast.default)
        )
    };
    out.push(basis);
    if l.alike > 0.0 {
        out.push(
            "Fish differ for good and a few casts in a row pass the same one (practice.casts_at_one_fish), so casts of a \
             day are alike and say less than as many casts on different days."
                .to_owned(),
        );
    }
    let mut silent = format!(
        "On {} of the {} unknowns the log is silent: it takes less than {:.0} % of their variance away, or no more than the \
         luck of the draws would.",
        l.silent,
        l.silent + l.changed.len(),
        100.0 * l.least_told
    );
    if !l.silent_drivers.is_empty() {
        let named: Vec<&str> = l.silent_drivers.iter().map(|d| d.means.as_str()).collect();
        silent.push_str(&format!(
            " Among these are some that today's odds rest on most: {}.",
            named.join("; ")
        ));
    }
    out.push(silent);
    out.extend(fits(&l.checks));
    out
}

/// Whether the model could have made this log.
fn fits(checks: &[Check]) -> Vec<String> {
    let what = |c: &Check| match c.aspect {
        Aspect::Strikes => "the number of strikes",
        Aspect::Days => "how unevenly they fell on days",
        Aspect::Baits => "how unevenly they fell on baits",
    };
    let ends = |[low, _, high]: [f64; 3]| format!("{low:.0} to {high:.0}");
    let odd =
        |of: &dyn Fn(&Check) -> bool| -> Vec<&str> { checks.iter().filter(|c| of(c)).map(what).collect() };
    let mut out = Vec::new();
    let Some(strikes) = checks.iter().find(|c| c.aspect == Aspect::Strikes) else { return out };
    let misfits = odd(&Check::misfit);
    let made = format!("{:.0} strikes where it gives {}", strikes.seen, ends(strikes.after));
    out.push(if misfits.is_empty() {
        format!("The model, having learnt, could well have made this log: {made}; days and baits no more uneven than its own.")
    } else {
        format!(
            "The model does not fit this log well: it would hardly give {} ({made}). Something that varied is not in the \
             log, or the model lacks it; take what it says with care.",
            words::list(&misfits)
        )
    });
    let conflicts = odd(&Check::conflict);
    out.push(if conflicts.is_empty() {
        format!("It does not contradict what was held plausible before ({} strikes).", ends(strikes.before))
    } else {
        format!(
            "It contradicts what was held plausible before, in {}: that gave {} strikes. Check the log and the scenario \
             for slips; if they are right, it is the assumptions that were wrong.",
            words::list(&conflicts),
            ends(strikes.before)
        )
    });
    out
}

fn odds(l: &Learnt, view: &View) -> Table {
    let columns = [
        column("", "bait", Kind::Text, |b: &&BeforeAfter| b.name.clone()),
        column("", "strikes in 100 before", Kind::Odds, |b: &&BeforeAfter| b.before),
        column("", "strikes in 100 after", Kind::Odds, |b: &&BeforeAfter| b.after),
    ];
    read(&columns, &by_after(&l.baits), view.units)
}

/// Most strikes first.
fn by_after(baits: &[BeforeAfter]) -> Vec<&BeforeAfter> {
    let mut all: Vec<&BeforeAfter> = baits.iter().collect();
    all.sort_by(|a, b| b.after.point.total_cmp(&a.after.point));
    all
}

fn notes(view: &View, told: &Told) -> Vec<String> {
    let l = &told.learnt;
    let luck = l.baits.iter().map(|b| b.after.simulation_se).fold(0.0, f64::max);
    let mut notes = vec![format!(
        "The ranges are what nobody knows about fish: nine in ten plausible worlds lie within. The luck of this simulation \
         adds {} to a middle value at most (one standard error).",
        words::luck(luck)
    )];
    let f = &l.fit;
    let placed = match (f.worlds.len() - f.plain, f.adapted) {
        (0, _) => String::new(),
        (_, false) => format!(" and {} placed where the log points", f.worlds.len() - f.plain),
        (_, true) => format!(" and {} placed where the log points, in two goes", f.worlds.len() - f.plain),
    };
    notes.push(format!(
        "{} plain worlds{placed}, {} passes each, seed {}; weighted by the log they are worth {:.0}. k-hat {:.2}: {} (the \
         limit is {:.2}).",
        f.plain,
        view.budget.passes,
        view.budget.seed,
        f.effective,
        f.k_hat,
        if f.k_hat < 0.5 { "the weights can be trusted" } else { "the weights can just be trusted" },
        f.k_limit
    ));
    if let Some(loss) = &told.loss {
        notes.push(lost(l, loss));
    }
    notes
}

/// What an assumption file loses.
fn lost(l: &Learnt, loss: &Loss) -> String {
    let (a, f) = (&l.level.after, &loss.level);
    let said = |e: &Estimate| words::short_range(e.point, e.low, e.high);
    let apart =
        l.baits.iter().zip(&loss.baits).map(|(b, f)| (b.after.point - f.point).abs()).fold(0.0, f64::max);
    format!(
        "The assumption file holds each unknown by itself; what the log knows only of several together is lost. Strikes in \
         100 casts like these: {} by the file, {} by the log itself. The middle odds of today's baits differ by {} in 100 \
         passes at most.",
        said(f),
        said(a),
        if apart < 0.75 { "less than 1".to_owned() } else { format!("{apart:.0}") }
    )
}
