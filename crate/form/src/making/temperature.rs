//! Temperatures, always told in both scales, because they are mistaken for each
//! other.

use std::fmt;

/// A temperature.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature {
    celsius: f64,
}

impl Temperature {
    /// From degrees Celsius.
    pub const fn celsius(celsius: f64) -> Self {
        Self { celsius }
    }

    /// From degrees Fahrenheit.
    pub const fn fahrenheit(fahrenheit: f64) -> Self {
        Self::celsius((fahrenheit - 32.0) / 1.8)
    }

    /// In degrees Celsius.
    pub fn in_celsius(self) -> f64 {
        self.celsius
    }

    /// In degrees Fahrenheit.
    pub fn in_fahrenheit(self) -> f64 {
        self.celsius * 1.8 + 32.0
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (celsius, fahrenheit) = (self.celsius, self.in_fahrenheit());
        write!(formatter, "{celsius:.0} °C ({fahrenheit:.0} °F)")
    }
}

/// Superplastic forming of Ti-6Al-4V, from and to, as published: round numbers in degrees
/// Fahrenheit (abstracts of ASM AeroMat 2005 and 2012).
pub const SUPERPLASTIC: (Temperature, Temperature) = (
    Temperature::fahrenheit(1650.0),
    Temperature::fahrenheit(1700.0),
);

/// Beside every superplastic forming temperature of titanium.
pub const TITANIUM_SCALES: &str = "Superplastic forming of Ti-6Al-4V is published at 899 to 927 °C (1650 to 1700 °F). A figure of 900 °F (482 °C) that is heard in the trade is another process: check which scale is meant.";

/// Beside every hot process with titanium.
pub const TITANIUM_HOT: &str = "Hot titanium takes up oxygen, nitrogen and hydrogen and turns brittle: shield it until it is below about 427 °C (800 °F).";
