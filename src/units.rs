//! Physical quantities as people write them, and back: SI inside, angler's units at the edge.
//!
//! [`parse`] reads `"15 ft"`, `"4.6 m"`, `"3 1/2 in"`, `"58 F"`, `"8 lb"`, `"10 mph"`; a [`UnitSystem`]
//! writes numbers the way an angler of either habit says them. A quantity without its unit is refused:
//! fifteen feet and fifteen metres are different fish.

pub mod show;

pub use show::{UnitSystem, significant};

/// A kind of quantity; says which units are allowed and in which unit the number is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Dimension {
    /// Kept in metres.
    Length,
    /// Kept in degrees Celsius (the one exception to SI, as everywhere in limnology).
    Temperature,
    /// Kept in metres per second.
    Speed,
    /// Kept in newtons; line strength in pounds or kilograms means pounds-force or kilograms-force.
    Force,
    /// Kept in kilograms.
    Mass,
    /// Kept in square metres.
    Area,
    /// Kept in degrees.
    Angle,
    /// Kept in nephelometric turbidity units.
    Turbidity,
    /// Fish per hectare.
    FishDensity,
}

/// One unit: `kept = (written - zero) * up / down`. Numerator and denominator are whole numbers
/// wherever possible, so that a conversion is rounded as few times as can be.
struct Unit {
    spellings: &'static [&'static str],
    zero: f64,
    up: f64,
    down: f64,
}

const fn unit(spellings: &'static [&'static str], up: f64, down: f64) -> Unit {
    Unit { spellings, zero: 0.0, up, down }
}

// Exact factors: international foot 0.3048 m, inch 0.0254 m, mile 1609.344 m, nautical mile 1852 m,
// avoirdupois pound 0.45359237 kg and standard gravity 9.80665 m/s2 (NIST Special Publication 811,
// 2008, appendix B; the figures are exact by definition). Acre: 4046.8564224 m2 (international).
const LENGTHS: &[Unit] = &[
    unit(&["m", "metre", "metres", "meter", "meters"], 1.0, 1.0),
    unit(&["cm"], 1.0, 100.0),
    unit(&["mm"], 1.0, 1000.0),
    unit(&["ft", "foot", "feet", "'"], 3048.0, 10_000.0),
    unit(&["in", "inch", "inches", "\""], 254.0, 10_000.0),
    unit(&["yd", "yard", "yards"], 9144.0, 10_000.0),
];
const TEMPERATURES: &[Unit] = &[
    unit(&["C", "°C", "deg C"], 1.0, 1.0),
    Unit { spellings: &["F", "°F", "deg F"], zero: 32.0, up: 5.0, down: 9.0 },
    Unit { spellings: &["K"], zero: 273.15, up: 1.0, down: 1.0 },
];
const SPEEDS: &[Unit] = &[
    unit(&["m/s"], 1.0, 1.0),
    unit(&["cm/s"], 1.0, 100.0),
    unit(&["km/h", "kph"], 1000.0, 3600.0),
    unit(&["mph", "mi/h"], 1_609.344, 3600.0),
    unit(&["ft/s"], 3048.0, 10_000.0),
    unit(&["in/s"], 254.0, 10_000.0),
    unit(&["kn", "knot", "knots"], 1852.0, 3600.0),
];
const FORCES: &[Unit] = &[
    unit(&["N", "newton", "newtons"], 1.0, 1.0),
    unit(&["lb", "lbs", "lbf", "pound", "pounds"], 4.448_221_615_260_5, 1.0),
    unit(&["kg", "kgf"], 9.806_65, 1.0),
    unit(&["gf"], 9.806_65, 1000.0),
];
const MASSES: &[Unit] = &[
    unit(&["g", "gram", "grams"], 1.0, 1000.0),
    unit(&["kg"], 1.0, 1.0),
    unit(&["oz", "ounce", "ounces"], 0.453_592_37, 16.0),
    unit(&["lb", "lbs", "pound", "pounds"], 0.453_592_37, 1.0),
];
const AREAS: &[Unit] = &[
    unit(&["cm2", "cm²", "sq cm"], 1.0, 10_000.0),
    unit(&["mm2", "mm²", "sq mm"], 1.0, 1e6),
    unit(&["m2", "m²", "sq m"], 1.0, 1.0),
    unit(&["in2", "in²", "sq in"], 64_516.0, 1e8),
];
const ANGLES: &[Unit] = &[unit(&["deg", "°", "degrees", "degree"], 1.0, 1.0)];
const TURBIDITIES: &[Unit] = &[unit(&["NTU"], 1.0, 1.0)];
const FISH_DENSITIES: &[Unit] = &[
    unit(&["per ha", "/ha", "per hectare"], 1.0, 1.0),
    unit(&["per acre", "/acre", "/ac"], 10_000.0, 4_046.856_422_4),
];

impl Dimension {
    /// The unit it is kept in, as the end of a key for programs.
    pub fn key(self) -> &'static str {
        match self {
            Self::Length => "m",
            Self::Temperature => "c",
            Self::Speed => "m_s",
            Self::Force => "n",
            Self::Mass => "kg",
            Self::Area => "m2",
            Self::Angle => "deg",
            Self::Turbidity => "ntu",
            Self::FishDensity => "per_ha",
        }
    }

    /// Every kind of quantity.
    pub const ALL: [Dimension; 9] = [
        Dimension::Length,
        Dimension::Temperature,
        Dimension::Speed,
        Dimension::Force,
        Dimension::Mass,
        Dimension::Area,
        Dimension::Angle,
        Dimension::Turbidity,
        Dimension::FishDensity,
    ];

    fn units(self) -> &'static [Unit] {
        match self {
            Dimension::Length => LENGTHS,
            Dimension::Temperature => TEMPERATURES,
            Dimension::Speed => SPEEDS,
            Dimension::Force => FORCES,
            Dimension::Mass => MASSES,
            Dimension::Area => AREAS,
            Dimension::Angle => ANGLES,
            Dimension::Turbidity => TURBIDITIES,
            Dimension::FishDensity => FISH_DENSITIES,
        }
    }

    /// The name of the quantity with its article, as in "a length".
    pub fn name(self) -> &'static str {
        match self {
            Dimension::Length => "a length",
            Dimension::Temperature => "a temperature",
            Dimension::Speed => "a speed",
            Dimension::Force => "a force",
            Dimension::Mass => "a mass",
            Dimension::Area => "an area",
            Dimension::Angle => "an angle",
            Dimension::Turbidity => "a turbidity",
            Dimension::FishDensity => "a number of fish per area",
        }
    }

    /// The preferred spelling of every allowed unit: the first is the one numbers are kept in, or (for
    /// mass and area) the one people use at this scale.
    pub fn unit_names(self) -> Vec<&'static str> {
        self.units().iter().filter_map(|unit| unit.spellings.first().copied()).collect()
    }

    /// One properly written quantity of this kind.
    pub fn example(self) -> &'static str {
        match self {
            Dimension::Length => "15 ft",
            Dimension::Temperature => "58 F",
            Dimension::Speed => "0.8 m/s",
            Dimension::Force => "8 lb",
            Dimension::Mass => "12 g",
            Dimension::Area => "1.9 cm2",
            Dimension::Angle => "56 deg",
            Dimension::Turbidity => "4 NTU",
            Dimension::FishDensity => "30 per ha",
        }
    }

    /// The kept number written with a unit so that [`parse`] gives back the same number to the last few
    /// bits ("0.0032 m", "13 C").
    ///
    /// ```
    /// use callup::units::{Dimension, parse};
    /// let text = Dimension::Length.write(4.572);
    /// assert_eq!(text, "4.572 m");
    /// assert_eq!(parse(&text, Dimension::Length), Ok(4.572));
    /// ```
    pub fn write(self, kept: f64) -> String {
        match self {
            Dimension::Mass => format!("{kept} kg"),
            Dimension::Area => format!("{kept} m2"),
            _ => format!("{kept} {}", self.unit_names().first().copied().unwrap_or_default()),
        }
    }

    fn find(self, name: &str) -> Option<&'static Unit> {
        let same = |spelling: &&str| *spelling == name;
        let alike = |spelling: &&str| spelling.to_lowercase() == name.to_lowercase();
        self.units()
            .iter()
            .find(|unit| unit.spellings.iter().any(same))
            .or_else(|| self.units().iter().find(|unit| unit.spellings.iter().any(alike)))
    }
}

/// Why a written quantity was refused; the text says what to write instead.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}; {}", self.what(), self.help())]
pub struct UnitError {
    /// What kind of quantity was wanted.
    pub dimension: Dimension,
    /// What is wrong with it.
    pub fault: UnitFault,
}

/// The ways in which a written quantity can be wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum UnitFault {
    /// Nothing, or nothing that begins with a number; holds what was written.
    NoNumber(String),
    /// A decimal or thousands comma; holds the number as written.
    Comma(String),
    /// Infinite, too large for a double, or divided by zero; holds the number as written.
    NotFinite(String),
    /// A bare number; holds the number as written.
    NoUnit(String),
    /// A unit of another kind of quantity; holds the unit and that kind.
    WrongUnit(String, Dimension),
    /// No unit this program knows; holds the unit as written.
    UnknownUnit(String),
}

impl UnitError {
    /// What is wrong, in a few words.
    pub fn what(&self) -> String {
        let wanted = self.dimension.name();
        match &self.fault {
            UnitFault::NoNumber(text) if text.is_empty() => format!("empty, where {wanted} is wanted"),
            UnitFault::NoNumber(text) => format!("`{text}` does not begin with a number"),
            UnitFault::Comma(text) => format!("`{text}` has a comma in its number"),
            UnitFault::NotFinite(text) => format!("`{text}` is not a finite number"),
            UnitFault::NoUnit(text) => format!("`{text}` has no unit"),
            UnitFault::WrongUnit(unit, other) => {
                format!("`{unit}` measures {}, but {wanted} is wanted", other.name())
            }
            UnitFault::UnknownUnit(unit) => format!("`{unit}` is not a unit of {}", bare(wanted)),
        }
    }

    /// What to write instead, for a quantity of which `example` ("0.28 mm") is a usual value: a number without a
    /// unit is offered with the example's unit first.
    pub fn help_like(&self, example: &str) -> String {
        let unit = example.trim_matches('"').trim_start_matches(|c: char| !c.is_alphabetic());
        match &self.fault {
            UnitFault::NoUnit(text) if !unit.is_empty() && !common(self.dimension).contains(&unit) => {
                format!("write \"{text} {unit}\" or {}", self.help().trim_start_matches("write "))
            }
            _ => self.help(),
        }
    }

    /// What to write instead.
    pub fn help(&self) -> String {
        let names = self.dimension.unit_names();
        let allowed = match names.as_slice() {
            [only] => format!("use the unit {only}"),
            _ => format!("use one of the units {}", names.join(", ")),
        };
        match &self.fault {
            UnitFault::Comma(text) => {
                let point = text.replace(',', ".");
                format!(
                    "write a decimal point and no thousands mark: \"{point} {}\"",
                    names.first().unwrap_or(&"")
                )
            }
            UnitFault::NoUnit(text) => {
                let offers: Vec<_> =
                    common(self.dimension).iter().map(|unit| format!("\"{text} {unit}\"")).collect();
                format!("write {}; {allowed}", offers.join(" or "))
            }
            _ => format!("{allowed}, for example \"{}\"", self.dimension.example()),
        }
    }
}

/// The one or two units most people would have meant.
fn common(dimension: Dimension) -> &'static [&'static str] {
    match dimension {
        Dimension::Length => &["m", "ft"],
        Dimension::Temperature => &["C", "F"],
        Dimension::Speed => &["m/s", "mph"],
        Dimension::Force => &["lb", "kg"],
        Dimension::Mass => &["g", "oz"],
        Dimension::Area => &["cm2"],
        Dimension::Angle => &["deg"],
        Dimension::Turbidity => &["NTU"],
        Dimension::FishDensity => &["per ha", "per acre"],
    }
}

fn bare(name: &str) -> &str {
    name.split_once(' ').map_or(name, |(_, noun)| noun)
}

/// Reads a quantity written as number and unit, and gives it in the unit the dimension is kept in.
///
/// The number may be a decimal ("4.6 m"), have an exponent ("1e-3 m") or a fraction ("3 1/2 in",
/// "1/2 oz"). Spellings of units are compared first as written, then without regard to case.
///
/// # Errors
/// A missing, wrong or unknown unit, a decimal comma, no number, or one that is not finite.
///
/// ```
/// use callup::units::{Dimension, parse};
/// // 15 international feet are 4.572 m exactly; 8 lbf = 35.585772922084 N (NIST SP 811).
/// assert_eq!(parse("15 ft", Dimension::Length), Ok(4.572));
/// assert_eq!(parse("8 lb", Dimension::Force), Ok(35.585772922084));
/// assert_eq!(parse("50 F", Dimension::Temperature), Ok(10.0));
/// let wrong = parse("15 lb", Dimension::Length).unwrap_err();
/// assert!(wrong.to_string().contains("ft"));
/// ```
pub fn parse(text: &str, dimension: Dimension) -> Result<f64, UnitError> {
    let fail = |fault| Err(UnitError { dimension, fault });
    // A minus sign and a no-break space as word processors write them.
    let text = text.replace('\u{2212}', "-").replace(['\u{a0}', '\u{202f}'], " ");
    let text = text.trim();
    let (written, rest) = split_number(text);
    if !written.contains(|c: char| c.is_ascii_digit()) {
        return fail(UnitFault::NoNumber(text.to_string()));
    }
    if written.contains(',') {
        return fail(UnitFault::Comma(written.to_string()));
    }
    let Some(number) = number(written) else {
        return fail(UnitFault::NoNumber(text.to_string()));
    };
    if !number.is_finite() {
        return fail(UnitFault::NotFinite(written.to_string()));
    }
    let name = rest.trim();
    if name.is_empty() {
        return fail(UnitFault::NoUnit(written.to_string()));
    }
    match dimension.find(name) {
        Some(unit) => {
            let kept = (number - unit.zero) * unit.up / unit.down;
            if kept.is_finite() { Ok(kept) } else { fail(UnitFault::NotFinite(written.to_string())) }
        }
        None => match Dimension::ALL.into_iter().find(|other| other.find(name).is_some()) {
            Some(other) => fail(UnitFault::WrongUnit(name.to_string(), other)),
            None => fail(UnitFault::UnknownUnit(name.to_string())),
        },
    }
}

/// Cuts a text after its leading number (with exponent, or a fraction after a space or by itself).
fn split_number(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    while let Some(byte) = bytes.get(end) {
        let exponent = matches!(byte, b'e' | b'E')
            && end > 0
            && (digit(end + 1) || (matches!(bytes.get(end + 1), Some(b'+' | b'-')) && digit(end + 2)));
        // A sign stands only at the front or in an exponent; a slash only between digits.
        let sign = matches!(byte, b'+' | b'-')
            && (end == 0 || bytes.get(end - 1).is_some_and(|before| matches!(before, b'e' | b'E')));
        let slash = *byte == b'/' && end > 0 && digit(end - 1) && digit(end + 1);
        let space = *byte == b' ' && end > 0 && digit(end - 1) && fraction_follows(&bytes[end + 1..]);
        if !(byte.is_ascii_digit() || matches!(byte, b'.' | b',') || exponent || sign || slash || space) {
            break;
        }
        end += 1;
    }
    text.split_at(end)
}

fn fraction_follows(bytes: &[u8]) -> bool {
    let digits = bytes.iter().take_while(|byte| byte.is_ascii_digit()).count();
    digits > 0 && bytes.get(digits) == Some(&b'/') && bytes.get(digits + 1).is_some_and(u8::is_ascii_digit)
}

/// The value of "4.6", "1e-3", "1/2" or "3 1/2"; none when the text is not one of these.
fn number(text: &str) -> Option<f64> {
    let Some((head, denominator)) = text.split_once('/') else { return text.parse().ok() };
    let (whole, numerator) = head.rsplit_once(' ').unwrap_or(("0", head));
    let negative = head.starts_with('-');
    let whole: f64 = whole.parse().ok()?;
    let part = numerator.parse::<f64>().ok()?.abs() / denominator.parse::<f64>().ok()?;
    Some(if negative { -(whole.abs() + part) } else { whole + part })
}
