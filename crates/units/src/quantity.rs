//! The newtypes and their arithmetic.

use serde::{Deserialize, Serialize};
use std::ops::{Add, Div, Mul, Sub};

/// What every scalar quantity can do: give and take its SI value.
///
/// Units: the SI unit named by the implementing type. Any finite `f64` is accepted; range checks
/// belong to the model that uses the quantity.
pub trait Quantity: Copy {
    /// The quantity from its SI value.
    fn from_si(value: f64) -> Self;
    /// The SI value.
    fn si(self) -> f64;
    /// The SI unit's symbol.
    const SI_UNIT: &'static str;
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $( $ctor:ident / $getter:ident = $factor:expr, $unit_doc:literal );+ $(;)?) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl Quantity for $name {
            fn from_si(value: f64) -> Self { Self(value) }
            fn si(self) -> f64 { self.0 }
            const SI_UNIT: &'static str = $unit;
        }

        impl $name {
            $(
                #[doc = concat!("From a value in ", $unit_doc, ".")]
                pub const fn $ctor(value: f64) -> Self { Self(value * $factor) }
                #[doc = concat!("The value in ", $unit_doc, ".")]
                pub const fn $getter(self) -> f64 { self.0 / $factor }
            )+
            /// The smaller of two; a NaN loses.
            pub const fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
            /// The larger of two; a NaN loses.
            pub const fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            /// True when the value is neither infinite nor NaN.
            pub const fn is_finite(self) -> bool { self.0.is_finite() }
        }

        impl Add for $name { type Output = Self; fn add(self, o: Self) -> Self { Self(self.0 + o.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, o: Self) -> Self { Self(self.0 - o.0) } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, k: f64) -> Self { Self(self.0 * k) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, k: f64) -> Self { Self(self.0 / k) } }
        impl Div for $name { type Output = f64; fn div(self, o: Self) -> f64 { self.0 / o.0 } }
    };
}

quantity! {
    /// A length, stored in metres.
    Length, "m",
    m / as_m = 1.0, "metres";
    mm / as_mm = 1e-3, "millimetres";
    um / as_um = 1e-6, "micrometres";
    inch / as_inch = 0.0254, "inches (25.4 mm exactly)";
    foot / as_foot = 0.3048, "feet (304.8 mm exactly)";
}
quantity! {
    /// A force, stored in newtons.
    Force, "N",
    n / as_n = 1.0, "newtons";
    kn / as_kn = 1e3, "kilonewtons";
    lbf / as_lbf = 4.448_221_615_260_5, "pounds-force (4.4482216152605 N exactly)";
    kgf / as_kgf = 9.806_65, "kilograms-force (9.80665 N exactly)";
}
quantity! {
    /// A stress or pressure, stored in pascals.
    Stress, "Pa",
    pa / as_pa = 1.0, "pascals";
    mpa / as_mpa = 1e6, "megapascals (N/mm2)";
    psi / as_psi = 6_894.757_293_168_361, "pounds-force per square inch";
}
quantity! {
    /// A torque, stored in newton-metres.
    Torque, "N.m",
    nm / as_nm = 1.0, "newton-metres";
    ft_lbf / as_ft_lbf = 1.355_817_948_331_400_4, "foot-pounds-force";
    in_lbf / as_in_lbf = 1.355_817_948_331_400_4 / 12.0, "inch-pounds-force";
}
quantity! {
    /// A mass, stored in kilograms.
    Mass, "kg",
    kg / as_kg = 1.0, "kilograms";
    lb / as_lb = 0.453_592_37, "pounds (0.45359237 kg exactly)";
}
quantity! {
    /// A plane angle, stored in radians.
    Angle, "rad",
    rad / as_rad = 1.0, "radians";
    deg / as_deg = std::f64::consts::PI / 180.0, "degrees";
}
quantity! {
    /// A pure number: a factor, a share, a utilisation.
    Ratio, "1",
    of / get = 1.0, "one";
    percent / as_percent = 0.01, "per cent";
}

/// A temperature, stored in degrees Celsius (the corrosion standards' own variable).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Temperature(f64);

impl Temperature {
    /// From degrees Celsius.
    pub const fn celsius(value: f64) -> Self {
        Self(value)
    }
    /// In degrees Celsius.
    pub const fn as_celsius(self) -> f64 {
        self.0
    }
    /// From degrees Fahrenheit.
    pub const fn fahrenheit(value: f64) -> Self {
        Self((value - 32.0) / 1.8)
    }
    /// In degrees Fahrenheit.
    pub const fn as_fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
}
