//! Field by field access to the records, so that the fold, the comparison and the account of origin
//! are written once for all of them.

use crate::record::PullEnd;
use decay::{Setting, Shelter};
use demand::{Role, Steepness, UseClass};
use evidence::Seen;
use hardware::{Kind, Material, Resin};
use jiff::civil::Date;
use rock::{FieldGrade, RockType, Soundness, Wetness};
use units::{Force, Length, Stress, Temperature, Torque};

/// A value that a field can hold.
pub(crate) trait Value {
    /// False for numbers that say nothing (NaN, infinite). They count as not stated, in memory as in a
    /// file, where such numbers cannot be written at all.
    fn says_something(&self) -> bool {
        true
    }
}

macro_rules! always { ($($t:ty),+ $(,)?) => { $( impl Value for $t {} )+ } }
macro_rules! finite { ($($t:ty),+ $(,)?) => { $( impl Value for $t {
    fn says_something(&self) -> bool { self.is_finite() }
} )+ } }
always!(String, Date, bool, i16, u16, u32, Vec<Seen>, PullEnd);
always!(Setting, Shelter, Role, Steepness, UseClass, Kind, Material, Resin, FieldGrade, RockType);
always!(Soundness, Wetness);
finite!(f64, Length, Force, Stress, Torque);
impl Value for Temperature {
    fn says_something(&self) -> bool {
        self.as_celsius().is_finite()
    }
}

/// A record of optional fields, numbered in the order of the struct. Numbers that are NaN or infinite
/// say nothing.
pub trait Record: Clone + Default + PartialEq {
    /// Names of the fields as in the struct and in stored JSON.
    const FIELDS: &'static [&'static str];

    /// Whether field `field` says something.
    fn states(&self, field: usize) -> bool;

    /// Copies every field that `from` states and for which `wins(field)` is true.
    fn take(&mut self, from: &Self, wins: impl FnMut(usize) -> bool);

    /// Forgets field `field`.
    fn clear(&mut self, field: usize);

    /// True if no field holds a number that says nothing.
    fn says_everything(&self) -> bool;

    /// Names of the fields that hold a number that says nothing.
    fn empty_numbers(&self) -> Vec<&'static str>;

    /// Drops every field that says nothing.
    fn keep_sayings(&mut self);

    /// Drops every field that says nothing, or the same as `known`.
    fn keep_news(&mut self, known: &Self);

    /// Number of the field with this name.
    fn field(name: &str) -> Option<usize> {
        Self::FIELDS.iter().position(|field| *field == name)
    }

    /// True if no field says anything.
    fn is_blank(&self) -> bool {
        (0..Self::FIELDS.len()).all(|field| !self.states(field))
    }
}

macro_rules! record {
    ($(#[$doc:meta])* $name:ident { $( $(#[$field_doc:meta])* $field:ident : $type:ty ),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
        #[serde(default)]
        #[allow(missing_docs)]
        pub struct $name {
            $( $(#[$field_doc])* #[serde(skip_serializing_if = "Option::is_none")] pub $field: Option<$type>, )+
        }

        impl $crate::field::Record for $name {
            const FIELDS: &'static [&'static str] = &[$(stringify!($field)),+];

            fn states(&self, field: usize) -> bool {
                let mut at = 0;
                $(
                    if at == field {
                        return $crate::field::says(&self.$field);
                    }
                    at += 1;
                )+
                let _ = at;
                false
            }

            fn take(&mut self, from: &Self, mut wins: impl FnMut(usize) -> bool) {
                let mut at = 0;
                $(
                    if $crate::field::says(&from.$field) && wins(at) {
                        self.$field.clone_from(&from.$field);
                    }
                    at += 1;
                )+
                let _ = at;
            }

            fn clear(&mut self, field: usize) {
                let mut at = 0;
                $(
                    if at == field {
                        self.$field = None;
                    }
                    at += 1;
                )+
                let _ = at;
            }

            fn says_everything(&self) -> bool {
                $( (self.$field.is_none() || $crate::field::says(&self.$field)) )&&+
            }

            fn empty_numbers(&self) -> Vec<&'static str> {
                let mut names = Vec::new();
                $( if self.$field.is_some() && !$crate::field::says(&self.$field) {
                    names.push(stringify!($field));
                } )+
                names
            }

            fn keep_sayings(&mut self) {
                $( if !$crate::field::says(&self.$field) { self.$field = None; } )+
            }

            fn keep_news(&mut self, known: &Self) {
                $(
                    if !$crate::field::says(&self.$field) || self.$field == known.$field {
                        self.$field = None;
                    }
                )+
            }
        }
    };
}
pub(crate) use record;

pub(crate) fn says<T: Value>(field: &Option<T>) -> bool {
    field.as_ref().is_some_and(Value::says_something)
}
