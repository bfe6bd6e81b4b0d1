//! What can be wrong with the numbers handed to this module.

/// Why a statistic could not be computed; the text ends with what to do next.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Error {
    /// A number outside the range where the method has a meaning.
    #[error("{what} is {value}; give a value {range}")]
    OutOfRange {
        /// The quantity.
        what: &'static str,
        /// What was given.
        value: f64,
        /// The range, as words that follow "a value".
        range: &'static str,
    },
    /// Fewer values than the method needs.
    #[error("{what}: {got} given; give at least {need}")]
    TooFew {
        /// The quantity.
        what: &'static str,
        /// How many were given.
        got: usize,
        /// How many are needed.
        need: usize,
    },
    /// More work than can be done in reasonable time.
    #[error("{what}: {got} is more than the {most} that can be done exactly; {instead}")]
    TooMuch {
        /// The quantity.
        what: &'static str,
        /// What was asked.
        got: usize,
        /// The limit.
        most: usize,
        /// What to do instead.
        instead: &'static str,
    },
    /// Two inputs that must match in length do not.
    #[error("{what}: length {got} where {expected} is needed; make them match")]
    Mismatch {
        /// The quantity.
        what: &'static str,
        /// Its length.
        got: usize,
        /// The length needed.
        expected: usize,
    },
    /// A value is infinite or not a number.
    #[error("{what} holds a value that is not a finite number; remove it or give its cause")]
    NotFinite {
        /// The quantity.
        what: &'static str,
    },
}

impl Error {
    /// `value` itself where it lies strictly between `low` and `high`, else the error.
    pub(super) fn open_range(
        what: &'static str,
        value: f64,
        (low, high): (f64, f64),
        range: &'static str,
    ) -> Result<f64, Error> {
        if value > low && value < high { Ok(value) } else { Err(Error::OutOfRange { what, value, range }) }
    }

    /// A probability strictly between 0 and 1.
    pub(super) fn probability(what: &'static str, value: f64) -> Result<f64, Error> {
        Error::open_range(what, value, (0.0, 1.0), "between 0 and 1, both excluded")
    }

    /// A number above 0.
    pub(super) fn positive(what: &'static str, value: f64) -> Result<f64, Error> {
        Error::open_range(what, value, (0.0, f64::INFINITY), "above 0 and finite")
    }

    /// At least `need` values.
    pub(super) fn at_least(what: &'static str, got: usize, need: usize) -> Result<(), Error> {
        if got >= need { Ok(()) } else { Err(Error::TooFew { what, got, need }) }
    }

    /// A length that must match another.
    pub(super) fn same_length(what: &'static str, got: usize, expected: usize) -> Result<(), Error> {
        if got == expected { Ok(()) } else { Err(Error::Mismatch { what, got, expected }) }
    }

    /// Only finite values.
    pub(super) fn all_finite<'a>(
        what: &'static str,
        values: impl IntoIterator<Item = &'a f64>,
    ) -> Result<(), Error> {
        if values.into_iter().all(|v| v.is_finite()) { Ok(()) } else { Err(Error::NotFinite { what }) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_text_says_what_to_do() {
        let e = Error::probability("confidence", 1.2).unwrap_err();
        assert_eq!(e.to_string(), "confidence is 1.2; give a value between 0 and 1, both excluded");
        assert!(Error::probability("confidence", f64::NAN).is_err());
        assert!(Error::all_finite("x", &[1.0, f64::INFINITY]).is_err());
    }
}
