//! Light by hour and depth, and how far each finish is seen.

#[cfg(feature = "cli")]
mod pictures;

use super::Readable;
use crate::present::columns::{Cell, Kind, column, raw, read, spreadsheet};
use crate::present::document::{Document, On};
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words::two_digits;
use crate::scenario::day;
use crate::statistics::estimate::Estimate;
use crate::study::light::{FinishSeen, Hour, Light, Ways};

impl Readable for Light {
    fn document(&self, view: &View) -> Document {
        let mut out = Document::new(view.head(), headline(view, self));
        out.text(sun_line(view, self)).only(On::Terminal);
        out.figure("light").figure("finishes");
        out.table("Light by hour and depth, in lux (middle of the plausible worlds):", hours(view, self));
        out.only(On::Terminal);
        out.table(who_looks(view, self), finishes(view, self)).only(On::Terminal);
        out.text(up_or_level(self)).only(On::Terminal);
        out
    }

    /// Lux by hour and depth.
    fn spreadsheet(&self, _view: &View) -> Table {
        let at = |h: &Hour| -> Vec<(Hour, f64, f64)> {
            self.depths_m.iter().zip(&h.lux).map(|(depth, lux)| (h.clone(), *depth, *lux)).collect()
        };
        let rows: Vec<(Hour, f64, f64)> = self.hours.iter().flat_map(at).collect();
        let columns = [
            raw("time", |(h, ..): &(Hour, f64, f64)| h.clock.clone()),
            raw("unix_s", |(h, ..): &(Hour, f64, f64)| h.unix_s),
            raw("sun_elevation_deg", |(h, ..): &(Hour, f64, f64)| h.sun.elevation_deg),
            raw("depth_m", |(_, depth, _): &(Hour, f64, f64)| *depth),
            raw("lux", |(.., lux): &(Hour, f64, f64)| *lux),
        ];
        spreadsheet(&columns, &rows)
    }

    /// Light by hour and depth, and the finishes.
    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }
}

fn headline(view: &View, light: &Light) -> String {
    let mut order: Vec<&FinishSeen> = light.finishes.iter().collect();
    order.sort_by(|a, b| b.middle.up.total_cmp(&a.middle.up));
    let [first, .., last] = order.as_slice() else { return String::new() };
    format!(
        "From below, {} is seen furthest, from {}; {} least far, from {}.",
        first.name,
        view.units.length(first.middle.up),
        last.name,
        view.units.length(last.middle.up)
    )
}

fn sun_line(view: &View, light: &Light) -> String {
    let clock = |t: Option<f64>| t.map_or("none".into(), |s| day::clock(view.scenario, s));
    format!(
        "First light {}, sunrise {}, sunset {}, dark {}. Now {} lux on the water, {} just below; it fades by K = {} \
         per metre of depth and contrast by c = {} per metre of sight (daylight eye).",
        clock(light.times.civil_dawn_s),
        clock(light.times.sunrise_s),
        clock(light.times.sunset_s),
        clock(light.times.civil_dusk_s),
        two_digits(light.surface_lux),
        two_digits(light.below_surface_lux),
        two_digits(light.k_per_m),
        two_digits(light.c_per_m),
    )
}

/// Which bait is looked at, and from where.
fn who_looks(view: &View, light: &Light) -> String {
    let u = view.units;
    let (fish, bait) = (u.length(view.prepared.fish_depth_m), u.length(light.bait.depth_m));
    let [own, other] = match view.prepared.fish_depth_m >= light.bait.depth_m {
        true => ["up", "down"],
        false => ["down", "up"],
    };
    format!(
        "How far each finish is seen on {} running at {bait}: looking {own} by a fish at {fish}, level and looking \
         {other} by one at {bait} (middle, and nine in ten plausible worlds):",
        light.bait.name
    )
}

/// Whether height or side shows a finish better here.
fn up_or_level(light: &Light) -> String {
    let of = light.finishes.len();
    let found = match light.finishes.iter().filter(|f| f.middle.up > f.middle.level).count() {
        0 => "Here every finish is seen further level than from below.".to_owned(),
        n if n == of => "Here every finish is seen further from below than level.".to_owned(),
        n => format!("Here {n} of {of} finishes are seen further from below than level."),
    };
    format!(
        "{found} Contrast fades by c less K per metre looking up, by c level, by c plus K looking down; how bright a \
         finish stands before the water behind it differs too."
    )
}

/// Every second depth is shown: the rest is in the machine output.
const SHOWN: usize = 2;

/// Rows of the printed table: every half hour.
const TABLE_STEP_S: f64 = 1800.0;

fn hours(view: &View, light: &Light) -> Table {
    let mut columns = vec![
        column("", "time", Kind::Text, |h: &Hour| h.clock.clone()),
        column("", "sun °", Kind::Whole, |h: &Hour| h.sun.elevation_deg),
        column("", "surface", Kind::Lux, |h: &Hour| h.surface_lux),
    ];
    for (i, depth_m) in light.depths_m.iter().enumerate().step_by(SHOWN) {
        columns
            .push(column("", view.units.length(*depth_m), Kind::Lux, move |h: &Hour| h.lux.get(i).copied()));
    }
    let rows: Vec<Hour> = light.hours.iter().filter(|h| h.unix_s % TABLE_STEP_S == 0.0).cloned().collect();
    read(&columns, &rows, view.units)
}

fn finishes(view: &View, light: &Light) -> Table {
    let seen = |heading: &str, way: fn(&Ways<f64>) -> f64, range: fn(&Ways<[f64; 2]>) -> [f64; 2]| {
        column("", heading, Kind::Length, move |f: &FinishSeen| {
            let [low, high] = range(&f.range);
            Cell::Estimate(Estimate { point: way(&f.middle), low, high, simulation_se: 0.0 })
        })
    };
    let columns = [
        column("", "finish", Kind::Text, |f: &FinishSeen| f.name.clone()),
        seen("looking up", |w| w.up, |w| w.up),
        seen("level", |w| w.level, |w| w.level),
        seen("looking down", |w| w.down, |w| w.down),
    ];
    read(&columns, &light.finishes, view.units)
}
