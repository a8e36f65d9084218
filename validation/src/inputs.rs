//! The inputs of one case.

use std::cell::RefCell;
use std::collections::BTreeSet;
use toml::{Table, Value};

/// Why a computation gave no value.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The case lacks an input.
    #[error("the input '{0}' is missing; add it to the case")]
    Missing(String),
    /// An input has the wrong form.
    #[error("the input '{name}' should be {wanted} but is {found}")]
    Form {
        /// Name of the input.
        name: String,
        /// What the computation wanted.
        wanted: &'static str,
        /// What the case holds.
        found: String,
    },
    /// An input has a value that the computation does not know.
    #[error("the input '{name}' is '{found}'; known are: {known}")]
    Choice {
        /// Name of the input.
        name: String,
        /// What the case holds.
        found: String,
        /// Values that would do.
        known: String,
    },
    /// The case gives inputs that the computation never read.
    #[error("the computation does not use the input(s) {0}; remove them or name another quantity")]
    Unused(String),
    /// The model refused the inputs.
    #[error("the model refused the inputs: {0}")]
    Model(String),
}

impl Error {
    /// Wraps what a model said.
    pub fn model(error: impl std::fmt::Display) -> Self {
        Self::Model(error.to_string())
    }
}

/// The inputs of one case, with a note of which were read.
#[derive(Debug)]
pub struct Inputs {
    values: Table,
    read: RefCell<BTreeSet<String>>,
}

impl Inputs {
    /// Inputs from a table of a case file.
    pub fn new(values: Table) -> Self {
        Self { values, read: RefCell::default() }
    }

    fn get(&self, name: &str) -> Option<&Value> {
        self.read.borrow_mut().insert(name.to_owned());
        self.values.get(name)
    }

    fn wanted(&self, name: &str) -> Result<&Value, Error> {
        self.get(name).ok_or_else(|| Error::Missing(name.to_owned()))
    }

    /// A number (unit as named in the input). Errors: missing, not a finite number.
    pub fn number(&self, name: &str) -> Result<f64, Error> {
        as_number(name, self.wanted(name)?)
    }

    /// A number, or `None` where the case leaves it out. Errors: not a finite number.
    pub fn optional_number(&self, name: &str) -> Result<Option<f64>, Error> {
        self.get(name).map(|v| as_number(name, v)).transpose()
    }

    /// A whole number of at least zero. Errors: missing, negative, not whole.
    pub fn whole(&self, name: &str) -> Result<u64, Error> {
        let value = self.wanted(name)?;
        value
            .as_integer()
            .and_then(|i| u64::try_from(i).ok())
            .ok_or_else(|| form(name, "a whole number", value))
    }

    /// A list of numbers. Errors: missing, not a list, an entry that is not a finite number.
    pub fn numbers(&self, name: &str) -> Result<Vec<f64>, Error> {
        let value = self.wanted(name)?;
        let list = value.as_array().ok_or_else(|| form(name, "a list of numbers", value))?;
        list.iter().map(|v| as_number(name, v)).collect()
    }

    /// A word or sentence. Errors: missing, not text.
    pub fn text(&self, name: &str) -> Result<&str, Error> {
        let value = self.wanted(name)?;
        value.as_str().ok_or_else(|| form(name, "text", value))
    }

    /// True or false. Errors: missing, neither.
    pub fn flag(&self, name: &str) -> Result<bool, Error> {
        let value = self.wanted(name)?;
        value.as_bool().ok_or_else(|| form(name, "true or false", value))
    }

    /// One of several named values. Errors: missing, not text, not among them.
    pub fn choice<T: Clone>(&self, name: &str, known: &[(&str, T)]) -> Result<T, Error> {
        let found = self.text(name)?;
        known.iter().find(|(word, _)| *word == found).map(|(_, value)| value.clone()).ok_or_else(|| {
            Error::Choice {
                name: name.to_owned(),
                found: found.to_owned(),
                known: known.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", "),
            }
        })
    }

    /// The number `index` of a computation that returns several, or an error that says how many there are.
    pub fn pick(&self, name: &str, values: &[f64]) -> Result<f64, Error> {
        let index = self.whole(name)?;
        usize::try_from(index).ok().and_then(|i| values.get(i)).copied().ok_or_else(|| Error::Choice {
            name: name.to_owned(),
            found: index.to_string(),
            known: format!("0 to {}", values.len().saturating_sub(1)),
        })
    }

    /// An error if the case holds an input that was never read: such a case would claim something
    /// that was not tested.
    pub(crate) fn all_read(&self) -> Result<(), Error> {
        let read = self.read.borrow();
        let unused: Vec<String> =
            self.values.keys().filter(|k| !read.contains(*k)).map(|k| format!("'{k}'")).collect();
        if unused.is_empty() { Ok(()) } else { Err(Error::Unused(unused.join(", "))) }
    }

    /// The inputs as one line, in alphabetical order, long lists shortened.
    pub fn line(&self) -> String {
        self.values.iter().map(|(k, v)| format!("{k} = {}", plain(v))).collect::<Vec<_>>().join(", ")
    }
}

/// Longer lists are shown by their length and ends.
const LONG: usize = 12;

fn plain(value: &Value) -> String {
    match value {
        Value::String(s) => s.clone(),
        Value::Integer(i) => i.to_string(),
        Value::Float(f) => f.to_string(),
        Value::Array(a) if a.len() > LONG => {
            format!("{} values from {} to {}", a.len(), plain(&a[0]), plain(&a[a.len() - 1]))
        }
        Value::Array(a) => a.iter().map(plain).collect::<Vec<_>>().join(" "),
        other => other.to_string(),
    }
}

fn form(name: &str, wanted: &'static str, found: &Value) -> Error {
    Error::Form { name: name.to_owned(), wanted, found: format!("{} ({})", plain(found), found.type_str()) }
}

fn as_number(name: &str, value: &Value) -> Result<f64, Error> {
    match value {
        Value::Float(f) if f.is_finite() => Ok(*f),
        Value::Integer(i) => Ok(*i as f64),
        other => Err(form(name, "a finite number", other)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inputs(text: &str) -> Inputs {
        Inputs::new(text.parse().unwrap())
    }

    #[test]
    fn getters_say_what_is_wrong() {
        let i = inputs("a = 1\nb = 2.5\nc = 'x'\nd = [1, 2.5]\ne = nan\nf = true");
        assert_eq!(i.number("a"), Ok(1.0));
        assert_eq!(i.number("b"), Ok(2.5));
        assert_eq!(i.numbers("d"), Ok(vec![1.0, 2.5]));
        assert_eq!(i.flag("f"), Ok(true));
        assert_eq!(i.choice("c", &[("x", 7), ("y", 8)]), Ok(7));
        assert_eq!(i.optional_number("nowhere"), Ok(None));
        assert_eq!(i.number("nowhere"), Err(Error::Missing("nowhere".into())));
        assert!(matches!(i.number("c"), Err(Error::Form { .. })));
        assert!(matches!(i.number("e"), Err(Error::Form { .. })));
        assert!(matches!(i.whole("b"), Err(Error::Form { .. })));
        assert!(matches!(i.choice("c", &[("z", 7)]), Err(Error::Choice { .. })));
    }

    #[test]
    fn an_input_that_is_not_read_is_an_error() {
        let i = inputs("a = 1\nb = 2");
        i.number("a").unwrap();
        assert_eq!(i.all_read(), Err(Error::Unused("'b'".into())));
        i.number("b").unwrap();
        assert_eq!(i.all_read(), Ok(()));
    }
}
