//! What a trace says: peak, stiffness, how it ended.

use super::cfc::{Cfc, Coefficients};
use super::{Trace, TraceError, median};
use crate::statistics::fit_line;
use serde::{Deserialize, Serialize};
use units::Force;

/// How a trace is to be read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Filter class; used where the sampling is fast enough for it.
    pub class: Cfc,
    /// Stiffness of the rig itself in N/m, where known, to take its give out of the stiffness.
    pub rig_stiffness_n_per_m: Option<f64>,
}

impl Default for Settings {
    /// Class 60 and a rig of unknown give.
    fn default() -> Self {
        Self { class: Cfc::Cfc60, rig_stiffness_n_per_m: None }
    }
}

/// Load against displacement on the way up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// N/m, with the give of the rig taken out where that is known.
    pub n_per_m: f64,
    /// Share of the variance that the straight line explains.
    pub r_squared: f64,
    /// True where the line is straight enough (0.98) to be called a stiffness.
    pub straight: bool,
}

/// A guess at how a trace ended. A person decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// The load was held and then let off, or let off gently.
    LetOff,
    /// More than half of the load was gone within a moment.
    Broke,
    /// The load fell in steps, or dropped a little and then sank, as when a bolt is drawn out.
    Gave,
    /// The record stops with the load still on.
    StillLoaded,
}

/// Something to know about a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Note {
    /// The record starts under load or the sensor was not zeroed: the zero is more than 5 % of the peak.
    LargeZero,
    /// Too few rows before the load came on to find a zero: none was taken off.
    NoZero,
    /// Sampled too slowly for the filter: the peak is the highest sample.
    NotFiltered,
    /// The true peak may be higher than the reading by more than 1 %.
    SampledTooSlowly,
    /// Times are uneven: the trace was brought to an even step first.
    UnevenTime,
    /// Single samples far from both neighbours, on a load that was there before and after, were taken for
    /// faults of the sensor and replaced. The raw peak still holds them.
    SpikeSetAside,
    /// After the load came off the sensor did not return to zero within 2 % of the peak.
    ZeroDrifted,
}

/// What a trace says.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Force of the sensor without load, taken off all forces.
    pub zero: Force,
    /// Highest load: filtered and refined by a parabola through three points where the sampling was fast
    /// enough for the filter, else the highest sample that is no spike.
    pub peak: Force,
    /// Standard deviation of the sensor's noise before the load came on; `None` without a zero. The
    /// highest of many noisy samples reads too high by about three times this.
    pub noise: Option<Force>,
    /// Highest single sample, less the zero, spikes included.
    pub raw_peak: Force,
    /// Time of the highest load, in the trace's time.
    pub peak_time_s: f64,
    /// Samples per second (from the median step).
    pub rate_hz: f64,
    /// Filter used, if any.
    pub filter: Option<Cfc>,
    /// Share of the peak that may have been missed between samples, 0..1.
    pub possible_loss: f64,
    /// Mean rate of loading from 20 to 60 % of the peak, N/s; `None` where the rise has no two samples there.
    pub loading_rate_n_per_s: Option<f64>,
    /// Stiffness from 20 to 60 % of the peak, where displacement was measured and the rise has samples.
    pub stiffness: Option<Stiffness>,
    /// Displacement at the peak less that at the start, in m.
    pub displacement_at_peak_m: Option<f64>,
    /// Seconds during which the load stayed above 90 % of the peak.
    pub held_s: f64,
    /// Median load while it stayed above 90 % of the peak, where that was 10 s or more: the load that was
    /// held. Less touched by noise than the peak.
    pub held_load: Option<Force>,
    /// Growth of the displacement while the load was held, in m per tenfold time; `None` without a
    /// displacement or a hold.
    pub creep_m_per_decade: Option<f64>,
    /// Displacement that stayed when the load had come off, in m; `None` without a displacement or where the
    /// record ends under load.
    pub residual_displacement_m: Option<f64>,
    /// How it seems to have ended.
    pub end: End,
    /// What to know about it.
    pub notes: Vec<Note>,
}

/// Greatest share of the peak of a half-sine pulse of duration `pulse_s` that falls between samples taken
/// at `rate_hz`: `1 - cos(pi / (2 rate pulse))`, and 1 where there is less than one sample per pulse.
///
/// Source: geometry; the worst case is a peak midway between two samples.
pub fn peak_loss(rate_hz: f64, pulse_s: f64) -> f64 {
    let samples = rate_hz * pulse_s;
    if samples.is_nan() || samples <= 1.0 {
        return 1.0;
    }
    1.0 - (std::f64::consts::FRAC_PI_2 / samples).cos()
}

/// Length of the record before the load that the zero is taken from. Source: judgement.
const ZERO_WINDOW_S: f64 = 0.5;
/// Load comes on: share of the greatest rise above the start. Source: judgement.
const ONSET: f64 = 0.05;
/// Steps may differ by this share before the times count as uneven. Source: judgement.
const UNEVEN: f64 = 0.01;
/// A load kept up for this long counts as held. Source: judgement.
const HOLD_S: f64 = 10.0;
/// Loss of more than half of the load within this time is a break. Source: judgement.
const BREAK_S: f64 = 0.1;

/// Reads a trace.
///
/// Zero: median of the first 0.5 s, or of what lies before the load comes on. Spikes: samples farther from
/// the median of the five around them than 5 % of the peak and nine times their median deviation; left in
/// where hardly any load is left without them, because then they may be a short blow. Filter: SAE J211 class, both
/// ways, where the rate is at least ten times the class. Peak: highest filtered value, parabola through it
/// and its neighbours. Stiffness: least squares from 20 to 60 % of the peak on the way up;
/// `1/k = 1/k_measured - 1/k_rig`. Errors: no load above zero, or a
/// greater one below it. Sources: SAE J211-1 (filter); limits judgement.
pub fn read(trace: &Trace, settings: &Settings) -> Result<Reading, TraceError> {
    let mut notes = Vec::new();
    let (time, mut force, displacement) = even(trace, &mut notes);
    let step = trace.step_s();
    let (zero, noise) = zero(&time, &force, &mut notes);
    for f in &mut force {
        *f -= zero;
    }
    if set_spikes_aside(&mut force) {
        notes.push(Note::SpikeSetAside);
    }
    let greatest = force[highest(&force)];
    let lowest = force.iter().fold(0.0_f64, |l, f| l.min(*f));
    if greatest <= -lowest {
        return Err(TraceError::NoLoad);
    }
    // the highest sample of the record itself, not of an evened copy
    let raw_peak = trace.force_n().iter().fold(f64::NEG_INFINITY, |g, f| g.max(*f)) - zero;
    if zero.abs() > 0.05 * greatest {
        notes.push(Note::LargeZero);
    }
    let (smooth, filter) = match Coefficients::new(settings.class, step) {
        Some(c) => {
            // at least 10 ms of padding, and long enough for the filter to settle
            let padding = (0.01_f64.max(1.0 / settings.class.number()) / step).ceil() as usize;
            (c.forward_backward(&force, padding), Some(settings.class))
        }
        None => {
            notes.push(Note::NotFiltered);
            (force.clone(), None)
        }
    };
    let top = highest(&smooth);
    let (shift, peak) = if filter.is_some() { parabola(&smooth, top) } else { (0.0, smooth[top]) };
    let peak_time_s = time[top] + shift * step;

    let pulse = 1.5 * above(&time, &smooth, top, 0.5 * peak);
    let before = top.saturating_sub(1);
    let rise = ((smooth[top] - smooth[before]) / peak).clamp(0.0, 1.0);
    // a half-sine loses its crest; a steady pull that breaks loses up to one step of its rise
    let broke = end_of(&time, &smooth, top, peak);
    let crest = peak_loss(1.0 / step, pulse);
    let possible_loss = if broke == End::Broke { crest.max(rise) } else { crest };
    if possible_loss > 0.01 {
        notes.push(Note::SampledTooSlowly);
    }

    let from = smooth[..=top].iter().rposition(|f| *f < 0.2 * peak).map_or(0, |i| i + 1);
    let to = from + smooth[from..=top].iter().position(|f| *f > 0.6 * peak).unwrap_or(top - from);
    let part = from..to.max(from);
    let loading_rate_n_per_s = fit_line(&time[part.clone()], &smooth[part.clone()]).ok().map(|l| l.slope);
    let stiffness = displacement
        .as_ref()
        .filter(|_| part.len() >= 3)
        .and_then(|d| fit_line(&d[part.clone()], &smooth[part.clone()]).ok())
        .and_then(|line| stiffness(line.slope, line.r_squared, settings.rig_stiffness_n_per_m));
    let displacement_at_peak_m = displacement.as_ref().map(|d| d[top] - d[0]);
    let held_s = above(&time, &smooth, top, 0.9 * peak);
    let rest = let_off_rest(&smooth, top, peak);
    if rest.is_some_and(|rest| rest.abs() > 0.02 * peak) {
        notes.push(Note::ZeroDrifted);
    }
    let hold = span_above(&smooth, top, 0.9 * peak);
    let held = held_s >= HOLD_S;
    let creep_m_per_decade = displacement
        .as_ref()
        .filter(|_| held)
        .and_then(|d| creep_m_per_decade(&time[hold.clone()], &d[hold.clone()]));
    let residual_displacement_m =
        displacement.as_ref().filter(|_| rest.is_some()).map(|d| d[d.len() - 1] - d[0]);
    Ok(Reading {
        zero: Force::n(zero),
        peak: Force::n(peak),
        noise: noise.map(Force::n),
        raw_peak: Force::n(raw_peak),
        peak_time_s,
        rate_hz: 1.0 / step,
        filter,
        possible_loss,
        loading_rate_n_per_s,
        stiffness,
        displacement_at_peak_m,
        held_s,
        held_load: held.then(|| Force::n(median(&mut smooth[hold].to_vec()))),
        creep_m_per_decade,
        residual_displacement_m,
        end: broke,
        notes,
    })
}

type Columns = (Vec<f64>, Vec<f64>, Option<Vec<f64>>);

/// The trace with an even step: itself, or a linear interpolation where its steps differ.
fn even(trace: &Trace, notes: &mut Vec<Note>) -> Columns {
    let (time, force) = (trace.time_s(), trace.force_n());
    let step = trace.step_s();
    let uneven = time.windows(2).any(|w| (w[1] - w[0] - step).abs() > UNEVEN * step);
    let span = time[time.len() - 1] - time[0];
    let count = (span / step).round() as usize + 1;
    // a record with long gaps is not blown up: it keeps its own rows
    if !uneven || count > 4 * time.len() {
        if uneven {
            notes.push(Note::UnevenTime);
        }
        return (time.to_vec(), force.to_vec(), trace.displacement_m().map(<[f64]>::to_vec));
    }
    notes.push(Note::UnevenTime);
    let grid: Vec<f64> = (0..count).map(|i| time[0] + i as f64 * step).collect();
    let at = |values: &[f64]| {
        let mut k = 0;
        grid.iter()
            .map(|t| {
                while k + 2 < time.len() && time[k + 1] < *t {
                    k += 1;
                }
                let share = ((t - time[k]) / (time[k + 1] - time[k])).clamp(0.0, 1.0);
                values[k] + share * (values[k + 1] - values[k])
            })
            .collect::<Vec<f64>>()
    };
    let (force, displacement) = (at(force), trace.displacement_m().map(at));
    (grid, force, displacement)
}

/// Zero and the standard deviation of the noise about it.
fn zero(time: &[f64], force: &[f64], notes: &mut Vec<Note>) -> (f64, Option<f64>) {
    let start = force[0];
    let rise = force.iter().fold(0.0_f64, |g, f| g.max((f - start).abs()));
    let quiet = force.iter().position(|f| (f - start).abs() > ONSET * rise).unwrap_or(force.len());
    let window = time.iter().take_while(|t| **t - time[0] <= ZERO_WINDOW_S).count().min(quiet);
    if window < 3 {
        notes.push(Note::NoZero);
        return (0.0, None);
    }
    let zero = median(&mut force[..window].to_vec());
    let mut off: Vec<f64> = force[..window].iter().map(|f| (f - zero).abs()).collect();
    (zero, Some(MAD_TO_SD * median(&mut off)))
}

/// Median absolute deviation to standard deviation, normal distribution.
const MAD_TO_SD: f64 = 1.4826;
/// Without its spikes a trace must still reach this share of what it reached with them. Source: judgement.
const LEFT_WITHOUT_SPIKES: f64 = 0.25;

/// Replaces lone samples far from those around them by the median of five; true if there were any.
/// Source: Hampel identifier (from memory); limits judgement.
fn set_spikes_aside(force: &mut [f64]) -> bool {
    let n = force.len();
    let around: Vec<(f64, f64)> = (0..n)
        .map(|i| {
            let mut window = force[i.saturating_sub(2)..(i + 3).min(n)].to_vec();
            let middle = median(&mut window);
            for w in &mut window {
                *w = (*w - middle).abs();
            }
            (middle, MAD_TO_SD * median(&mut window))
        })
        .collect();
    let steady = around.iter().fold(0.0_f64, |g, a| g.max(a.0));
    let is_spike = |f: f64, (middle, sd): (f64, f64)| (f - middle).abs() > (0.05 * steady).max(6.0 * sd);
    let clean: Vec<f64> =
        force.iter().zip(&around).map(|(f, a)| if is_spike(*f, *a) { a.0 } else { *f }).collect();
    let (with, without) = (force[highest(force)], clean[highest(&clean)]);
    if clean == force || without < LEFT_WITHOUT_SPIKES * with {
        return false;
    }
    force.copy_from_slice(&clean);
    true
}

fn highest(values: &[f64]) -> usize {
    let mut best = 0;
    for (i, v) in values.iter().enumerate() {
        if *v > values[best] {
            best = i;
        }
    }
    best
}

/// Crest of the parabola through a highest value and its neighbours: shift in steps and height.
fn parabola(values: &[f64], top: usize) -> (f64, f64) {
    let here = values[top];
    if top == 0 || top + 1 >= values.len() {
        return (0.0, here);
    }
    let (left, right) = (values[top - 1], values[top + 1]);
    let bend = left - 2.0 * here + right;
    if bend >= 0.0 {
        return (0.0, here);
    }
    let shift = (0.5 * (left - right) / bend).clamp(-0.5, 0.5);
    // a break right after the peak is a corner, not a crest: then the parabola must not add to it
    if right < 0.5 * here || left < 0.5 * here {
        return (0.0, here);
    }
    (shift, here - 0.25 * (left - right) * shift)
}

/// Seconds around the peak during which the load stays above a level, ends interpolated.
fn above(time: &[f64], values: &[f64], top: usize, level: f64) -> f64 {
    let crossing = |out: usize, inside: usize| {
        let (a, b) = (values[out], values[inside]);
        let share = if b > a { ((level - a) / (b - a)).clamp(0.0, 1.0) } else { 0.0 };
        time[out] + share * (time[inside] - time[out])
    };
    let first = values[..=top].iter().rposition(|v| *v < level).map_or(time[0], |i| crossing(i, i + 1));
    let last = values[top..]
        .iter()
        .position(|v| *v < level)
        .map_or(time[time.len() - 1], |i| crossing(top + i, top + i - 1));
    (last - first).max(0.0)
}

/// Places of the values next to the peak that stay above a level.
fn span_above(values: &[f64], top: usize, level: f64) -> std::ops::Range<usize> {
    let from = values[..=top].iter().rposition(|v| *v < level).map_or(0, |i| i + 1);
    let to = values[top..].iter().position(|v| *v < level).map_or(values.len(), |i| top + i);
    from..to
}

/// Growth of a displacement under a steady load, in m per tenfold time: slope c of
/// `d = d_1 + c log10(t / t_1)`, t counted from the step before the first of these samples.
///
/// `None` with fewer than four samples. Source: logarithmic creep, as in hold stages of anchor tests
/// (from memory).
pub fn creep_m_per_decade(time_s: &[f64], displacement_m: &[f64]) -> Option<f64> {
    if time_s.len() < 4 || time_s.len() != displacement_m.len() {
        return None;
    }
    let start = time_s[0] - (time_s[1] - time_s[0]);
    let decades: Vec<f64> = time_s.iter().map(|t| (t - start).log10()).collect();
    fit_line(&decades, displacement_m).ok().map(|line| line.slope)
}

fn end_of(time: &[f64], force: &[f64], top: usize, peak: f64) -> End {
    let last = force.len() - 1;
    let after = &force[top..];
    let Some(below) = after.iter().position(|f| *f < 0.5 * peak).map(|i| top + i) else {
        let rest = force[last];
        return if rest > 0.8 * peak { End::StillLoaded } else { End::Gave };
    };
    let high = force[top..below].iter().rposition(|f| *f > 0.85 * peak).map_or(top, |i| top + i);
    if time[below] - time[high] <= BREAK_S || below - high <= 1 {
        return End::Broke;
    }
    // a bolt that is drawn out drops a little at once and then sinks more slowly; a pump that is let off
    // sinks evenly
    let crest = force[top..below].iter().rposition(|f| *f > 0.97 * peak).map_or(top, |i| top + i);
    let soon = time[crest..=below].iter().take_while(|t| **t - time[crest] <= BREAK_S).count() - 1;
    let (drop, span) = (force[crest] - force[crest + soon], time[crest + soon] - time[crest]);
    let rest =
        (force[crest + soon] - force[below]) / (time[below] - time[crest + soon]).max(f64::MIN_POSITIVE);
    if soon > 0 && drop > 0.05 * peak && drop / span > 2.0 * rest {
        return End::Gave;
    }
    // a rise of more than a tenth on the way down is a sawtooth
    let mut lowest = f64::INFINITY;
    for f in &force[high..=below] {
        lowest = lowest.min(*f);
        if *f > lowest + 0.1 * peak {
            return End::Gave;
        }
    }
    End::LetOff
}

/// Median of the last tenth of the record where the load has come off, else `None`.
fn let_off_rest(force: &[f64], top: usize, peak: f64) -> Option<f64> {
    let tail = force.len() - (force.len() / 10).max(3).min(force.len());
    if tail <= top {
        return None;
    }
    let rest = median(&mut force[tail..].to_vec());
    (rest.abs() < 0.2 * peak).then_some(rest)
}

fn stiffness(slope: f64, r_squared: f64, rig: Option<f64>) -> Option<Stiffness> {
    let n_per_m = match rig {
        Some(rig) if rig > 0.0 => 1.0 / (1.0 / slope - 1.0 / rig),
        _ => slope,
    };
    (n_per_m.is_finite() && n_per_m > 0.0).then_some(Stiffness {
        n_per_m,
        r_squared,
        straight: r_squared >= 0.98,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn creep_under_a_steady_load_is_its_slope_over_log_time() {
        let time: Vec<f64> = (1..=600).map(f64::from).collect();
        let moved: Vec<f64> = time.iter().map(|t| 0.12e-3 + 0.015e-3 * t.log10()).collect();
        assert!((creep_m_per_decade(&time, &moved).unwrap() - 0.015e-3).abs() < 1e-15);
        assert_eq!(creep_m_per_decade(&time[..3], &moved[..3]), None);
        // a pull that is held and let off: the made-up anchor springs back
        let trace = pull(8_000.0, 0.0, |t| if t < 60.0 { 7_950.0 } else { 0.0 }, 65.0);
        let r = read(&trace, &Settings::default()).unwrap();
        assert!(r.creep_m_per_decade.unwrap().abs() < 1e-5);
        assert_eq!(r.residual_displacement_m, Some(0.0));
    }

    #[test]
    fn a_spike_on_a_carried_load_is_set_aside_and_told() {
        let clean = pull(9_000.0, 40.0, |t| if t < 5.0 { 8_900.0 } else { 0.0 }, 8.0);
        let mut force = clean.force_n().to_vec();
        force[300] += 14_000.0;
        let trace = Trace::new(clean.time_s().to_vec(), force, None).unwrap();
        let r = read(&trace, &Settings::default()).unwrap();
        assert!((r.peak.as_n() - 9_000.0).abs() < 1.0 && r.notes.contains(&Note::SpikeSetAside), "{r:?}");
        assert!(r.raw_peak.as_n() > 14_000.0);
        let untouched = read(&clean, &Settings::default()).unwrap();
        assert!(!untouched.notes.contains(&Note::SpikeSetAside));
    }

    /// A slow pull at 50 Hz: 1 s of zero, a straight rise in 10 s, then what `after` says.
    fn pull(peak: f64, offset: f64, after: impl Fn(f64) -> f64, seconds: f64) -> Trace {
        let time: Vec<f64> = (0..((11.0 + seconds) * 50.0) as usize).map(|i| i as f64 / 50.0).collect();
        let force: Vec<f64> = time
            .iter()
            .map(|t| {
                offset
                    + if *t < 1.0 {
                        0.0
                    } else if *t <= 11.0 {
                        peak * (t - 1.0) / 10.0
                    } else {
                        after(t - 11.0)
                    }
            })
            .collect();
        // 20 kN/mm on the way up
        let displacement = force.iter().map(|f| (f - offset) / 20e6).collect();
        Trace::new(time, force, Some(displacement)).unwrap()
    }

    #[test]
    fn a_pull_that_breaks() {
        let trace = pull(18_000.0, 120.0, |_| 0.0, 2.0);
        let r = read(&trace, &Settings::default()).unwrap();
        assert!((r.zero.as_n() - 120.0).abs() < 1e-9);
        assert!((r.peak.as_n() - 18_000.0).abs() < 1.0, "{:?}", r.peak);
        assert_eq!((r.end, r.filter), (End::Broke, None));
        assert!(r.notes.contains(&Note::NotFiltered) && !r.notes.contains(&Note::SampledTooSlowly));
        let k = r.stiffness.unwrap();
        assert!((k.n_per_m / 20e6 - 1.0).abs() < 1e-6 && k.straight);
        assert!((r.loading_rate_n_per_s.unwrap() / 1800.0 - 1.0).abs() < 1e-6);
        // one step of the rise may have been missed
        assert!((r.possible_loss - 36.0 / 18_000.0).abs() < 1e-3);
    }

    #[test]
    fn the_give_of_the_rig_is_taken_out() {
        let settings = Settings { rig_stiffness_n_per_m: Some(60e6), ..Settings::default() };
        let k = read(&pull(18_000.0, 0.0, |_| 0.0, 2.0), &settings).unwrap().stiffness.unwrap();
        assert!((k.n_per_m / 30e6 - 1.0).abs() < 1e-6, "1/20 - 1/60 = 1/30: {}", k.n_per_m);
    }

    #[test]
    fn ends_are_told_apart() {
        let end = |after: fn(f64) -> f64, seconds| {
            let r = read(&pull(10_000.0, 0.0, after, seconds), &Settings::default()).unwrap();
            (r.end, r.held_s, r.held_load)
        };
        let (held, seconds, load) =
            end(|t| if t < 30.0 { 9_900.0 } else { (9_900.0 - 5_000.0 * (t - 30.0)).max(0.0) }, 35.0);
        assert_eq!(held, End::LetOff);
        assert!((load.unwrap().as_n() - 9_900.0).abs() < 1e-6);
        assert!((seconds - 31.0).abs() < 0.3, "{seconds}");
        assert_eq!(end(|_| 9_800.0, 20.0).0, End::StillLoaded);
        // drawn out: a tenth at once, then slowly
        assert_eq!(end(|t| (9_000.0 - 3_500.0 * t).max(0.0), 4.0).0, End::Gave);
        assert_eq!(end(|t| (10_000.0 - 12_500.0 * t).max(0.0), 4.0).0, End::LetOff);
        let saw = |t: f64| 10_000.0 * (1.0 - t / 12.0) - 3_000.0 * (t % 1.0);
        assert_eq!(end(saw, 10.0).0, End::Gave);
    }

    #[test]
    fn a_reversed_or_empty_trace_is_an_error() {
        let time: Vec<f64> = (0..100).map(|i| f64::from(i) / 50.0).collect();
        let fall = time.iter().map(|t| -100.0 * t * t).collect();
        assert_eq!(
            read(&Trace::new(time.clone(), fall, None).unwrap(), &Settings::default()),
            Err(TraceError::NoLoad)
        );
        let flat = Trace::new(time, vec![3.0; 100], None).unwrap();
        assert_eq!(read(&flat, &Settings::default()), Err(TraceError::NoLoad));
    }

    #[test]
    fn a_fast_pulse_sampled_slowly_is_pointed_out() {
        let time: Vec<f64> = (0..300).map(|i| f64::from(i) / 100.0).collect();
        let pulse = |t: &f64| {
            if (1.0..1.02).contains(t) {
                8_000.0 * ((t - 1.0) / 0.02 * std::f64::consts::PI).sin()
            } else {
                0.0
            }
        };
        let force = time.iter().map(pulse).collect();
        let r = read(&Trace::new(time, force, None).unwrap(), &Settings::default()).unwrap();
        assert!(r.notes.contains(&Note::SampledTooSlowly) && r.possible_loss > 0.1, "{r:?}");
    }

    proptest! {
        #[test]
        fn any_numbers_are_read_or_refused(
            rows in proptest::collection::vec((0.0..2.0_f64, -1e6..1e6_f64, -1.0..1.0_f64), 0..80),
            with_displacement in any::<bool>(),
        ) {
            let mut t = 0.0;
            let time: Vec<f64> = rows.iter().map(|r| { t += r.0 * r.0; t }).collect();
            let force: Vec<f64> = rows.iter().map(|r| r.1).collect();
            let displacement = with_displacement.then(|| rows.iter().map(|r| r.2).collect());
            let reading = Trace::new(time, force, displacement).and_then(|t| read(&t, &Settings::default()));
            if let Ok(r) = reading {
                prop_assert!(r.peak.is_finite() && r.raw_peak.as_n() > 0.0);
                prop_assert!((0.0..=1.0).contains(&r.possible_loss) && r.held_s >= 0.0);
            }
        }

        #[test]
        fn zero_and_scale_of_the_sensor_do_not_matter(
            peak in 1_000.0..40_000.0_f64,
            offset in -500.0..500.0_f64,
            scale in 0.2..5.0_f64,
        ) {
            let base = read(&pull(peak, 0.0, |_| 0.0, 2.0), &Settings::default()).unwrap();
            let other = read(&pull(peak * scale, offset, |_| 0.0, 2.0), &Settings::default()).unwrap();
            prop_assert!((other.peak.as_n() / (base.peak.as_n() * scale) - 1.0).abs() < 1e-6);
            prop_assert!((other.peak_time_s - base.peak_time_s).abs() < 1e-9);
            prop_assert_eq!(other.end, base.end);
        }
    }
}
