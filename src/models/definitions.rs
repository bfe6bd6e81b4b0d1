//! Entries that are not `[[parameter]]` tables, listed as parameters too: looks and tints, which are drawn, and
//! definitions, which are not.

use super::files::Models;
use super::parameter::{Grade, Group, Parameter, Spread};
use crate::water::spectrum;

impl Models {
    /// Gives each tint's, finish's and prey's ranges a parameter of its own, so that they are drawn too.
    pub(super) fn with_catalogue_parameters(mut self) -> Self {
        let mut extra = Vec::new();
        for t in &self.tints {
            let entry = (&t.name, &t.grade, &t.source, "models/water.toml");
            let means = format!("K times Secchi depth in {} water", t.name);
            extra.push(range(
                format!("tint.{}.gamma_k", t.name),
                means,
                t.gamma_k,
                10.0,
                Group::Optics,
                entry,
            ));
        }
        let looks = self.finishes.iter().map(|f| {
            (
                "finish",
                &f.name,
                [f.diffuse_green, f.diffuse_red, f.specular, f.transmittance],
                f.grade,
                &f.source,
                "models/finishes.toml",
            )
        });
        let prey = self.forages.iter().map(|f| {
            (
                "forage",
                &f.name,
                [f.diffuse_green, f.diffuse_red, f.specular, f.transmittance],
                f.grade,
                &f.source,
                "models/forage.toml",
            )
        });
        for (kind, name, shares, grade, source, file) in looks.chain(prey) {
            for (share, values) in SHARES.iter().zip(shares) {
                let means = format!("{} of {} {kind}", share.1, name);
                let entry = (name, &grade, source, file);
                extra.push(range(
                    format!("{kind}.{name}.{}", share.0),
                    means,
                    values,
                    1.0,
                    Group::Optics,
                    entry,
                ));
            }
        }
        extra.extend(self.definitions());
        for p in extra {
            if !self.parameters.iter().any(|q| q.name == p.name) {
                self.parameters.push(p);
            }
        }
        self
    }

    /// What the files define and no world draws, so that it is listed with the rest: lines, bodies, recipes, dates.
    fn definitions(&self) -> Vec<Parameter> {
        let mut all = Vec::new();
        let mut define =
            |name: String, means: &str, values: [f64; 3], unit: &str, group, (grade, source, file)| {
                let entry = (&name.clone(), grade, source, file);
                let drawn = range(name, means.to_owned(), values, f64::INFINITY, group, entry);
                all.push(Parameter {
                    spread: Spread::Fixed,
                    least: f64::NEG_INFINITY,
                    unit: unit.into(),
                    ..drawn
                });
            };
        let same = |v: f64| [v; 3];
        for l in &self.lines {
            let of = (&l.grade, &l.source, "models/lines.toml");
            define(
                format!("line.{}.strength", l.name),
                "breaking stress on the gross section",
                l.strength_pa,
                "Pa",
                Group::Mechanics,
                of,
            );
            define(
                format!("line.{}.density", l.name),
                "density",
                l.density_kg_m3,
                "kg/m3",
                Group::Mechanics,
                of,
            );
        }
        let s = &self.shape;
        let of = (&s.grade, &s.source, "models/baits.toml");
        for (name, means, value, unit) in [
            ("height_at_100mm", "height of a body 100 mm long", s.height_at_100mm_m, "m"),
            ("width_at_100mm", "width of a body 100 mm long", s.width_at_100mm_m, "m"),
            ("girth_power", "power of length with which height and width grow", s.girth_power, "1"),
            (
                "three_trebles_from",
                "length from which a bait has three treble hooks",
                s.three_trebles_from_m,
                "m",
            ),
            (
                "standard_lip_area_share",
                "area of a standard lip over length squared",
                s.standard_lip_area_share,
                "1",
            ),
            (
                "standard_lip_incidence",
                "angle of a standard lip to the flow",
                s.standard_lip_incidence_deg,
                "deg",
            ),
            ("deep_lip_area_share", "area of a deep lip over length squared", s.deep_lip_area_share, "1"),
            ("deep_lip_incidence", "angle of a deep lip to the flow", s.deep_lip_incidence_deg, "deg"),
            ("neutral_in", "density of the water in which a bait hangs still", s.neutral_in_kg_m3, "kg/m3"),
        ] {
            define(format!("shape.{name}"), means, same(value), unit, Group::Mechanics, of);
        }
        for t in &self.tints {
            let of = (&t.turbidity_grade, &t.turbidity_source, "models/water.toml");
            for (name, means, value) in [
                ("secchi_at_1_ntu", "ln of the Secchi depth in m at 1 NTU", t.turbidity_law[0]),
                ("secchi_by_ntu", "slope of ln Secchi depth by ln NTU", t.turbidity_law[1]),
            ] {
                define(format!("tint.{}.{name}", t.name), means, same(value), "1", Group::Optics, of);
            }
            let of = (&t.recipe_grade, &t.recipe_source, "models/water.toml");
            for (name, means, value, unit) in [
                ("dissolved_440", "absorption of dissolved matter at 440 nm", t.dissolved_440, "1/m"),
                ("slope", "fall of that absorption with wavelength", t.slope_per_nm, "1/nm"),
                ("chlorophyll", "chlorophyll", t.chlorophyll, "mg/m3"),
                ("particles_440", "absorption of other particles at 440 nm", t.particles_440, "1/m"),
                (
                    "particles_slope",
                    "fall of that absorption with wavelength",
                    t.particles_slope_per_nm,
                    "1/nm",
                ),
                ("scattering_550", "scattering at 550 nm", t.scattering_550, "1/m"),
                (
                    "scattering_power",
                    "power with which scattering falls with wavelength",
                    t.scattering_power,
                    "1",
                ),
            ] {
                define(format!("tint.{}.{name}", t.name), means, same(value), unit, Group::Optics, of);
            }
        }
        for f in &self.forages {
            let of = (&f.grade, &f.source, "models/forage.toml");
            define(
                format!("forage.{}.height_share", f.name),
                "height over length",
                same(f.height_share),
                "1",
                Group::Optics,
                of,
            );
            define(
                format!("forage.{}.width_share", f.name),
                "width over length",
                same(f.width_share),
                "1",
                Group::Optics,
                of,
            );
        }
        let source = "Pope & Fry 1997, Appl. Opt. 36:8710-8723, doi:10.1364/AO.36.008710".to_owned();
        for (i, absorption) in spectrum::PURE_WATER_PER_M.into_iter().enumerate() {
            let name = format!("pure_water.{:.0}nm", spectrum::wavelength_nm(i));
            let of = (&Grade::Measured, &source, "models/pure_water.in");
            define(name, "absorption of pure water", same(absorption), "1/m", Group::Optics, of);
        }
        let c = &self.calendar;
        let of = (&c.grade, &c.source, "models/season.toml");
        for (name, means, value, unit) in [
            ("coldest_day", "day of the year on which water is coldest, north", c.coldest_day, "day"),
            ("warmest_day", "day of the year on which water is warmest, north", c.warmest_day, "day"),
            (
                "spawn_peak_days_per_degree",
                "how much later the spawn peaks per degree of latitude",
                c.spawn_peak_days_per_degree,
                "day/deg",
            ),
            (
                "spawn_peak_at_equator",
                "day of the peak that the line gives at the equator",
                c.spawn_peak_at_equator,
                "day",
            ),
            ("post_spawn_days", "how long the weeks after the spawn last", c.post_spawn_days, "day"),
        ] {
            define(format!("season.{name}"), means, same(value), unit, Group::Phase, of);
        }
        for (species, bands) in ["largemouth", "smallmouth"].iter().zip(&self.bands) {
            let file =
                if *species == "largemouth" { "models/largemouth.toml" } else { "models/smallmouth.toml" };
            let of = (&bands.grade, &bands.source, file);
            for (phase, [low, high]) in [
                ("winter", bands.winter),
                ("prespawn", bands.prespawn),
                ("spawn", bands.spawn),
                ("postspawn", bands.postspawn),
                ("summer", bands.summer),
                ("fall", bands.fall),
            ] {
                define(
                    format!("{species}.band.{phase}.from"),
                    "water temperature from which the phase is met",
                    same(low),
                    "C",
                    Group::Phase,
                    of,
                );
                define(
                    format!("{species}.band.{phase}.to"),
                    "water temperature up to which the phase is met",
                    same(high),
                    "C",
                    Group::Phase,
                    of,
                );
            }
        }
        all
    }
}

/// Names and meanings of the shares of light that make a look.
pub(crate) const SHARES: [(&str, &str); 4] = [
    ("diffuse_green", "scattered share of green light"),
    ("diffuse_red", "scattered share of red light"),
    ("specular", "mirrored share of light"),
    ("transmittance", "share of light let through"),
];

fn range(
    name: String,
    means: String,
    [low, default, high]: [f64; 3],
    most: f64,
    group: Group,
    (_, grade, source, file): (&String, &Grade, &String, &str),
) -> Parameter {
    Parameter {
        name,
        means,
        low,
        default,
        high,
        spread: Spread::Normal,
        least: 0.0,
        most,
        unit: "1".into(),
        grade: *grade,
        group,
        product: None,
        alternative: false,
        lowers: false,
        source: source.clone(),
        file: file.into(),
    }
}
