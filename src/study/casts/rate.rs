//! A rate as people write it: "7%", "7 in 100", "7/100", "0.07".

/// Why a text is no rate; the text ends with what to write instead.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RateError {
    /// A number without saying of how many.
    #[error("{0} of how many? write {0}% or \"{0} in 100\"")]
    OfHowMany(String),
    /// Not between 0 and 1.
    #[error("a rate lies between 0 and 100 in 100, both excluded; write one like \"7 in 100\", not {0}")]
    OutOfRange(String),
}

/// The rate that a text gives; none where it is not written like one (then it may be the name of a bait).
///
/// ```
/// use callup::study::casts::rate;
/// for text in ["7%", "7 %", "7 in 100", "7/100", "0.07", "14 in 200"] {
///     let rate = rate(text).expect("a rate").expect("possible");
///     assert!((rate - 0.07).abs() < 1e-15, "{text}");
/// }
/// assert!(rate("90 mm, deep lip").is_none() && rate("7").expect("a number").is_err());
/// ```
pub fn rate(text: &str) -> Option<Result<f64, RateError>> {
    let text = text.trim();
    let number = |t: &str| t.trim().parse::<f64>().ok();
    let of = |split: Option<(&str, &str)>| {
        let (part, whole) = split?;
        Some((number(part)?, number(whole)?))
    };
    let value = if let Some(percent) = text.strip_suffix('%') {
        number(percent)? / 100.0
    } else if let Some((part, whole)) = of(text.split_once(" in ")).or_else(|| of(text.split_once('/'))) {
        part / whole
    } else {
        let plain = number(text)?;
        if plain >= 1.0 {
            return Some(Err(RateError::OfHowMany(text.to_owned())));
        }
        plain
    };
    Some(if value > 0.0 && value < 1.0 { Ok(value) } else { Err(RateError::OutOfRange(text.to_owned())) })
}
