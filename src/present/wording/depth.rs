//! Running depths: the table, the paths, and what tackle reaches a wanted depth.

#[cfg(feature = "cli")]
mod pictures;

use super::Readable;
use crate::bait::reach::Reach;
use crate::present::columns::{Cell, Kind, column, read};
use crate::present::document::Document;
use crate::present::table::{Column, Table};
use crate::present::view::View;
use crate::study::depth::{BaitPath, Depths, Options};

impl Readable for Depths {
    fn document(&self, view: &View) -> Document {
        let columns = [
            column("bait", "bait", Kind::Text, |b: &BaitPath| b.name.clone()),
            column("", "greatest depth", Kind::Length, |b: &BaitPath| b.max_depth_m),
            column("", "range", Kind::Length, |b: &BaitPath| {
                Cell::Range(b.max_depth_range_m.0, b.max_depth_range_m.1)
            }),
            column("", "cast", Kind::Length, |b: &BaitPath| b.cast_m),
            column("", "line reeled in there", Kind::Length, |b: &BaitPath| b.reeled_to_max_m),
            column("", "of the retrieve within a foot (0.3 m)", Kind::Percent, |b: &BaitPath| {
                b.share_near_max
            }),
        ];
        let mut out = Document::new(view.head(), headline(view, self));
        out.figure("depth");
        out.plain_table("Greatest running depth on this tackle", read(&columns, &self.baits, view.units));
        if let (Some(depth_m), Some(options)) = (self.wanted_depth_m, &self.options) {
            let depth = view.units.length(depth_m);
            out.table(
                format!("What takes a bait to {depth}, one change at a time, everything else as it is:"),
                options_table(view, options),
            );
        }
        out.text(
            "The path is an arch: a bait runs near its greatest depth only for the share of the retrieve given. The \
             range is tuning and drag together (nine in ten baits). Speed hardly changes the depth; a higher rod tip, \
             a shorter cast and thicker line cost depth.",
        );
        out
    }

    /// Depths by line reeled in.
    fn spreadsheet(&self, _view: &View) -> Table {
        let mut table = Table::new(["bait", "reeled_m", "depth_m"].map(Column::text).to_vec());
        for b in &self.baits {
            for [reeled, depth] in &b.path {
                table.push([b.name.clone(), reeled.to_string(), depth.to_string()]);
            }
        }
        table
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }
}

/// The finding: how deep the deepest runs.
fn headline(view: &View, depths: &Depths) -> String {
    let Some(deepest) = depths.baits.iter().max_by(|a, b| a.max_depth_m.total_cmp(&b.max_depth_m)) else {
        return "The box is empty.".into();
    };
    let u = view.units;
    let gap = depths.fish_depth_m - deepest.max_depth_m;
    let place = match gap {
        above if above > 0.05 => format!("{} above the fish", u.length(gap)),
        below if below < -0.05 => format!("{} below the fish", u.length(-gap)),
        _ => "at the depth of the fish".into(),
    };
    format!(
        "The deepest, {}, runs to {} ({} to {}) on this tackle, {place}.",
        deepest.name,
        u.length(deepest.max_depth_m),
        u.length(deepest.max_depth_range_m.0),
        u.length(deepest.max_depth_range_m.1),
    )
}

fn options_table(view: &View, options: &[Options]) -> Table {
    let u = view.units;
    let say = move |reach: &Reach, write: &dyn Fn(f64) -> String| match *reach {
        Reach::At(value) => write(value),
        Reach::TooDeepForIt { deepest_m } => format!("no: {} at most", u.length(deepest_m)),
        Reach::TooShallowForIt { shallowest_m } => format!("no: {} at least", u.length(shallowest_m)),
    };
    let length = move |m: f64| u.length(m);
    let columns = [
        column("", "bait", Kind::Text, |o: &Options| o.bait.clone()),
        column("", "now", Kind::Text, |o: &Options| u.length(o.now_m)),
        column("", "line diameter", Kind::Text, |o: &Options| say(&o.diameter, &|v| u.short_length(v))),
        column("", "cast", Kind::Text, |o: &Options| say(&o.cast, &length)),
        column("", "rod tip", Kind::Text, |o: &Options| say(&o.rod_tip, &length)),
        column("", "other line, same diameter", Kind::Text, |o: &Options| {
            let one = |(name, depth): &(String, f64)| format!("{name} {}", u.length(*depth));
            o.other_lines_m.iter().map(one).collect::<Vec<_>>().join(", ")
        }),
    ];
    read(&columns, options, u)
}
