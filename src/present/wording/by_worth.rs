//! What to find out first: the assumptions by what knowing them would be worth over several waters.

#[cfg(feature = "cli")]
mod pictures;

use super::assumptions::{number, range};
use super::{About, Readable};
use crate::models::{Grade, Parameter};
use crate::present::columns::{Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::study::why::by_worth::{ByWorth, Described};
use crate::study::why::waters::{Measured, Unknown, Waters};

/// Unknowns shown unless all are asked for.
const SHOWN: usize = 15;
/// Nineteen runs in twenty lie within so many standard errors: there are dozens of scrambles over all waters.
const REACH: f64 = 1.96;

/// Per cent under which nothing is written out.
const FINEST: f64 = 0.01;

/// An unknown with its rank.
type Ranked<'a> = (usize, &'a Unknown, &'a Described);

impl ByWorth {
    fn ranked(&self) -> Vec<Ranked<'_>> {
        self.unknowns.iter().enumerate().map(|(k, (u, said))| (k + 1, u, said)).collect()
    }
}

impl Readable for ByWorth {
    fn document(&self, view: &View) -> Document {
        let found = &self.found;
        let ranked = self.ranked();
        let shown = if self.all { ranked.len() } else { SHOWN.min(ranked.len()) };
        let head = format!("What to find out first, over {}.", waters(found));
        let mut out = Document::new([head], headline(self)).without_cautions();
        let columns = [
            column("", "", Kind::Right, |r: &Ranked| r.0.to_string()),
            column("", "what nobody knows", Kind::Text, |r: &Ranked| r.2.means.clone()),
            column("", "known by", Kind::Text, |r: &Ranked| r.2.grade.name()),
            column("", "odds (%)", Kind::Right, |r: &Ranked| percent(r.1.share)),
            column("", "±", Kind::Right, |r: &Ranked| give_or_take(r.1.share)),
            column("", "worth (%)", Kind::Right, |r: &Ranked| percent(r.1.worth)),
            column("", "±", Kind::Right, |r: &Ranked| give_or_take(r.1.worth)),
            column("", "waters", Kind::Right, |r: &Ranked| r.1.waters.to_string()),
        ];
        out.figure("by-worth");
        out.plain_table(
            "The unknowns, best worth finding out first",
            read(&columns, &ranked[..shown], view.units),
        );
        out.text(notes(found));
        for (rank, unknown, said) in &ranked[..shown] {
            let of = said.members.len();
            let value = said.parameter.as_ref().map_or(format!("{of} assumptions"), value);
            let (name, grade) = (&said.name, said.grade.name());
            let mut one = Document::default();
            one.text(format!("Source: {}.", said.source.trim_end_matches('.')));
            one.text(format!("Experiment: {}", said.experiment));
            out.folded(format!("{rank}. {name}: {value}, {grade}{}", most_in(found, unknown)), one);
        }
        let more = match ranked.len() - shown {
            0 => String::new(),
            rest => format!("{rest} more: --all. "),
        };
        out.paragraphs([format!("{more}{}", run_line(view))]);
        out
    }

    fn spreadsheet(&self, _view: &View) -> Table {
        let columns = [
            raw("rank", |r: &Ranked| r.0 as f64),
            raw("name", |r: &Ranked| r.2.name.clone()),
            raw("means", |r: &Ranked| r.2.means.clone()),
            raw("grade", |r: &Ranked| r.2.grade.name()),
            raw("total_share", |r: &Ranked| r.1.share.mean),
            raw("total_share_se", |r: &Ranked| r.1.share.se),
            raw("total_share_stands_out", |r: &Ranked| r.1.share.stands_out),
            raw("worth_of_strikes", |r: &Ranked| r.1.worth.mean),
            raw("worth_of_strikes_se", |r: &Ranked| r.1.worth.se),
            raw("worth_of_strikes_stands_out", |r: &Ranked| r.1.worth.stands_out),
            raw("waters", |r: &Ranked| r.1.waters as f64),
            raw("most_in", |r: &Ranked| self.found.waters.get(r.1.most_in).map(|w| w.name.clone())),
            raw("most_share", |r: &Ranked| r.1.most),
            raw("source", |r: &Ranked| r.2.source.clone()),
            raw("experiment", |r: &Ranked| r.2.experiment.clone()),
        ];
        spreadsheet(&columns, &self.ranked())
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }

    fn about(&self) -> About {
        About::Run
    }

    fn rests_on(&self) -> String {
        format!("{} of {} waters", self.found.waters.len(), self.found.asked)
    }
}

fn value(p: &Parameter) -> String {
    let unit = if p.unit == "1" { String::new() } else { format!(" {}", p.unit) };
    format!("{} ({}){unit}", number(p.default), range(p))
}

/// A share in per cent, "·" where it is not told from luck.
fn percent(m: Measured) -> String {
    match 100.0 * m.mean {
        _ if !m.stands_out => "·".into(),
        p if p < FINEST => format!("<{FINEST}"),
        p => words::two_digits(p),
    }
}

fn give_or_take(m: Measured) -> String {
    match 100.0 * REACH * m.se {
        p if p < FINEST => format!("<{FINEST}"),
        p => words::two_digits(p),
    }
}

/// Where an unknown has most of a hand.
fn most_in(found: &Waters, unknown: &Unknown) -> String {
    let most = Measured { mean: unknown.most, ..unknown.share };
    let water = found.waters.get(unknown.most_in).filter(|_| most.stands_out);
    water.map_or(String::new(), |w| format!("; most in {} ({} % of the odds)", w.name, percent(most)))
}

fn waters(found: &Waters) -> String {
    words::count(found.waters.len(), "invented water", "invented waters")
}

fn run_line(view: &View) -> String {
    let b = view.budget;
    format!("In each water {} worlds of {} passes, seed {}.", 2 * b.worlds, b.passes, b.seed)
}

/// The finding.
fn headline(answer: &ByWorth) -> String {
    const NAMED: usize = 3;
    let told: Vec<&(Unknown, Described)> =
        answer.unknowns.iter().filter(|(u, _)| u.share.stands_out || u.worth.stands_out).collect();
    if told.is_empty() {
        return "Nothing stands out of the luck of the simulation; give more --worlds.".into();
    }
    let first = told.iter().take(NAMED).map(|(u, said)| {
        let narrows = format!("a hand in {} % of the spread of the odds", percent(u.share));
        let betters = format!("{} % more strikes by choosing with it", percent(u.worth));
        let gives = [(u.share, narrows), (u.worth, betters)];
        let gives: Vec<String> =
            gives.into_iter().filter(|(m, _)| m.stands_out).map(|(_, said)| said).collect();
        format!("{} ({}; {})", said.means, said.grade.name(), gives.join(", "))
    });
    let guesses = told.iter().take(SHOWN).filter(|(_, said)| said.grade == Grade::Guess).count();
    format!(
        "Most worth finding out: {}. Of the first {}, {guesses} are guesses today. Knowing everything would add {} % to the \
         strikes of the bait chosen.",
        first.collect::<Vec<_>>().join("; then "),
        told.len().min(SHOWN),
        words::two_digits(100.0 * answer.found.evpi())
    )
}

fn notes(found: &Waters) -> String {
    format!(
        "\"Odds\": in how many per cent of the spread of the odds of the best bait an unknown has a hand (total index), \
         mean over the waters, 0 where it moves nothing; unknowns work together, so the shares add up to more than 100, \
         and the luck of the passes takes {} %. \"Worth\": how many per cent more strikes a choice of bait that knew it \
         would draw. The order is by the sum of that share and of its part in the worth of knowing everything. \"±\" is the luck of the simulation, nineteen runs in twenty; \"·\" is not told from it. \"Waters\": in \
         how many it moves anything.",
        percent(Measured { mean: found.floor, se: 0.0, stands_out: true })
    )
}
