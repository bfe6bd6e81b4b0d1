//! Numbers as they are said to people: few digits, the reader's own units.
//!
//! Depths and distances get one decimal, everything else two significant digits: no quantity in an
//! answer is known better. A number that is not finite is written "unknown".

/// Which units answers are given in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum UnitSystem {
    /// Metres, millimetres, degrees Celsius, newtons.
    #[default]
    Metric,
    /// Feet, inches, degrees Fahrenheit, pounds, miles per hour.
    Us,
}

impl UnitSystem {
    /// The system called "us" or "metric", if it is one of these.
    pub fn from_label(label: &str) -> Option<UnitSystem> {
        match label.trim().to_lowercase().as_str() {
            "metric" => Some(UnitSystem::Metric),
            "us" => Some(UnitSystem::Us),
            _ => None,
        }
    }

    /// A depth or distance as a number and its unit (m or ft), for axes and tables.
    pub fn length_value(self, metres: f64) -> (f64, &'static str) {
        match self {
            UnitSystem::Metric => (metres, "m"),
            UnitSystem::Us => (metres / 0.3048, "ft"),
        }
    }

    /// The size of a bait or the diameter of a line as a number and its unit (mm or in).
    pub fn short_length_value(self, metres: f64) -> (f64, &'static str) {
        match self {
            UnitSystem::Metric => (metres * 1000.0, "mm"),
            UnitSystem::Us => (metres / 0.0254, "in"),
        }
    }

    /// A temperature as a number and its unit (C or F).
    pub fn temperature_value(self, celsius: f64) -> (f64, &'static str) {
        match self {
            UnitSystem::Metric => (celsius, "C"),
            UnitSystem::Us => (celsius * 9.0 / 5.0 + 32.0, "F"),
        }
    }

    /// A speed as a number and its unit (m/s or mph).
    pub fn speed_value(self, metres_per_second: f64) -> (f64, &'static str) {
        match self {
            UnitSystem::Metric => (metres_per_second, "m/s"),
            UnitSystem::Us => (metres_per_second * 3600.0 / 1_609.344, "mph"),
        }
    }

    /// A force as a number and its unit (N or lb).
    pub fn force_value(self, newtons: f64) -> (f64, &'static str) {
        match self {
            UnitSystem::Metric => (newtons, "N"),
            UnitSystem::Us => (newtons / 4.448_221_615_260_5, "lb"),
        }
    }

    /// A depth or distance with one decimal ("4.6 m", "15.0 ft"), none from a hundred up.
    ///
    /// ```
    /// use callup::units::UnitSystem;
    /// assert_eq!(UnitSystem::Us.length(4.572), "15.0 ft");
    /// assert_eq!(UnitSystem::Metric.length(4.572), "4.6 m");
    /// ```
    pub fn length(self, metres: f64) -> String {
        let (value, unit) = self.length_value(metres);
        let decimals = if value.abs() < 99.95 { 1 } else { 0 };
        with_unit(value, fixed(value, decimals), unit)
    }

    /// The size of a bait ("90 mm", "3.5 in") or the diameter of a line ("0.28 mm", "0.011 in").
    pub fn short_length(self, metres: f64) -> String {
        let (value, unit) = self.short_length_value(metres);
        let text = match self {
            UnitSystem::Metric if value.abs() >= 9.95 => fixed(value, 0),
            _ if value.abs() >= 9.95 => fixed(value, 1),
            _ => significant(value, 2),
        };
        with_unit(value, text, unit)
    }

    /// A water temperature, to the whole degree ("13 C", "55 F").
    pub fn temperature(self, celsius: f64) -> String {
        let (value, unit) = self.temperature_value(celsius);
        with_unit(value, fixed(value, 0), unit)
    }

    /// A speed with two significant digits ("0.80 m/s", "1.8 mph").
    pub fn speed(self, metres_per_second: f64) -> String {
        let (value, unit) = self.speed_value(metres_per_second);
        with_unit(value, significant(value, 2), unit)
    }

    /// A force with two significant digits ("44 N", "10 lb").
    pub fn force(self, newtons: f64) -> String {
        let (value, unit) = self.force_value(newtons);
        with_unit(value, significant(value, 2), unit)
    }
}

fn with_unit(value: f64, text: String, unit: &str) -> String {
    if value.is_finite() { format!("{text} {unit}") } else { text }
}

/// A fixed number of decimals, without a negative zero.
fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "unknown".to_string();
    }
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(positive) if positive.chars().all(|c| matches!(c, '0' | '.')) => positive.to_string(),
        _ => text,
    }
}

/// A number rounded to so many significant digits and written without an exponent: 2 digits of
/// 1234 are "1200", of 0.0996 are "0.10".
///
/// ```
/// use callup::units::significant;
/// assert_eq!(significant(1234.0, 2), "1200");
/// assert_eq!(significant(0.0996, 2), "0.10");
/// ```
pub fn significant(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "unknown".to_string();
    }
    let digits = digits.clamp(1, 17);
    // The formatter rounds correctly in decimal, and tells the exponent after rounding.
    let rounded = format!("{value:.*e}", digits - 1);
    let exponent: i32 =
        rounded.split_once('e').and_then(|(_, exponent)| exponent.parse().ok()).unwrap_or_default();
    let decimals = i32::try_from(digits).unwrap_or(17) - 1 - exponent;
    fixed(rounded.parse().unwrap_or(value), usize::try_from(decimals).unwrap_or_default())
}
