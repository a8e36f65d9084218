//! Load traces.

use crate::{Computation, Error, Inputs, computation};
use evidence::trace::{Cfc, Coefficients, Settings, Trace, peak_loss, read};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("cfc_coefficient", |i| {
            let c = Coefficients::new(class(i)?, 1.0 / i.number("rate_hz")?)
                .ok_or_else(|| Error::model("sampled too slowly for this class"))?;
            i.choice("wanted", &[("a0", c.a0), ("a1", c.a1), ("a2", c.a2), ("b1", c.b1), ("b2", c.b2)])
        }),
        computation("half_sine_peak", |i| {
            let reading = read(&half_sine(i)?, &Settings { class: class(i)?, ..Settings::default() })
                .map_err(Error::model)?;
            i.choice(
                "wanted",
                &[("peak in kN", reading.peak.as_kn()), ("time of the peak in s", reading.peak_time_s)],
            )
        }),
        computation("peak_loss_between_samples", |i| {
            Ok(peak_loss(i.number("rate_hz")?, i.number("pulse_ms")? / 1000.0))
        }),
    ]
}

fn class(i: &Inputs) -> Result<Cfc, Error> {
    let known = [Cfc::Cfc60, Cfc::Cfc180, Cfc::Cfc600, Cfc::Cfc1000];
    let number = i.number("class")?;
    known
        .into_iter()
        .find(|c| c.number() == number)
        .ok_or_else(|| Error::model("known classes are 60, 180, 600 and 1000"))
}

/// A half-sine pulse that starts at `start_ms` and is followed by as much quiet.
fn half_sine(i: &Inputs) -> Result<Trace, Error> {
    let (rate, pulse) = (i.number("rate_hz")?, i.number("pulse_ms")? / 1000.0);
    let (start, height) = (i.number("start_ms")? / 1000.0, i.number("height_kn")? * 1000.0);
    let rows = ((2.0 * start + pulse) * rate).round().clamp(0.0, 1e6) as usize + 1;
    let time: Vec<f64> = (0..rows).map(|k| k as f64 / rate).collect();
    let force = time
        .iter()
        .map(|t| {
            let phase = (t - start) / pulse;
            if (0.0..=1.0).contains(&phase) { height * (std::f64::consts::PI * phase).sin() } else { 0.0 }
        })
        .collect();
    Trace::new(time, force, None).map_err(Error::model)
}
