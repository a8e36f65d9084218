//! Why a written quantity could not be read.

use thiserror::Error;

/// Why a written quantity could not be read. Each message is one sentence for the person who wrote it.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ParseError {
    /// Nothing was written.
    #[error("there is no value")]
    Empty,
    /// No number stands where one is needed.
    #[error("\"{text}\" cannot be read as a {quantity}")]
    NotANumber {
        /// What was written.
        text: String,
        /// The quantity that was wanted.
        quantity: &'static str,
    },
    /// A fraction that no rule or drill carries.
    #[error("\"{text}\" is not a fraction of an inch in use (halves down to sixty-fourths)")]
    BadFraction {
        /// What was written.
        text: String,
    },
    /// The unit is not one of the quantity.
    #[error("\"{unit}\" in \"{text}\" is not a unit of {quantity}; write for example {example}")]
    UnknownUnit {
        /// What was written.
        text: String,
        /// The part taken for the unit.
        unit: String,
        /// The quantity that was wanted.
        quantity: &'static str,
        /// A way to write it.
        example: &'static str,
    },
    /// A number without a unit where no unit was stated.
    #[error("\"{text}\" has no unit; write for example {example}")]
    MissingUnit {
        /// What was written.
        text: String,
        /// A way to write it.
        example: &'static str,
    },
    /// Two readings are equally possible.
    #[error("\"{text}\" can be read as {first} or as {second}; write which one is meant")]
    Ambiguous {
        /// What was written.
        text: String,
        /// One reading.
        first: String,
        /// The other reading.
        second: String,
    },
    /// The value cannot be true.
    #[error("\"{text}\" is outside what a {quantity} can be ({least} to {most})")]
    OutOfRange {
        /// What was written.
        text: String,
        /// The quantity that was wanted.
        quantity: &'static str,
        /// Smallest value taken.
        least: &'static str,
        /// Largest value taken.
        most: &'static str,
    },
}
