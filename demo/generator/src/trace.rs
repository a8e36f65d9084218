//! Load-cell files of two loggers, with what real cells add: drift of the zero, noise, a spike now and then.

use crate::File;
use crate::dice::Dice;
use crate::pulls::{End, Pull};
use std::fmt::Write as _;

/// Seconds a proof load is held.
const HOLD: f64 = 45.0;
const LBF: f64 = 4.448_221_615_260_5e-3;
const KGF: f64 = 9.806_65e-3;

/// Name of a pull's trace file.
pub(crate) fn name(pull: &Pull) -> String {
    let logger = if pull.number.is_multiple_of(2) { "B" } else { "A" };
    format!("{}_{logger}{:03}.csv", pull.on.strftime("%Y%m%d"), pull.number)
}

/// The trace of one pull, by the logger that was along that day.
pub(crate) fn file(pull: &Pull) -> File {
    let mut dice = Dice::stream(1000 + pull.number as u64);
    let held = pull.end == End::ProofHeld;
    // Long holds are logged more slowly, so that the files stay small.
    let step = if held { 0.1 } else { 0.02 };
    let samples = samples(pull, step, &mut dice);
    let text = if pull.number.is_multiple_of(2) {
        semicolons(pull, &samples, &mut dice)
    } else {
        commas(pull, step, &samples)
    };
    File::new(format!("input/traces/{}", name(pull)), text)
}

/// Time in seconds and load in kN.
fn samples(pull: &Pull, step: f64, dice: &mut Dice) -> Vec<(f64, f64)> {
    let rate = dice.between(1.8, 3.2);
    let rise = (pull.peak / rate).clamp(1.5, 9.0);
    let lead = dice.between(0.6, 1.2);
    let zero = dice.between(-0.12, 0.12);
    let drift = dice.between(-0.002, 0.002);
    let noise = dice.between(0.01, 0.03);
    let held = pull.end == End::ProofHeld;
    let end = if held { lead + rise + HOLD + 2.5 } else { lead + rise + 1.5 };
    let count = (end / step) as usize;
    let spike = dice.chance(0.2).then(|| dice.whole(count as i64 / 4, count as i64 * 3 / 4) as usize);
    let (asked_at, dip) = (dice.between(0.45, 0.8), dice.between(0.03, 0.12));
    let sag = dice.between(0.01, 0.03);
    (0..count)
        .map(|index| {
            let time = index as f64 * step;
            let since = time - lead;
            let load = if since < 0.0 {
                0.0
            } else if since < rise {
                let share = since / rise;
                // A wedge takes up its slip on the way.
                let slip = if pull.end == End::PulledOut && share > asked_at {
                    1.0 - dip * (1.0 - share) / (1.0 - asked_at)
                } else {
                    1.0
                };
                pull.peak * share * slip
            } else {
                after(pull, since - rise, sag)
            };
            let stray = if spike == Some(index) { 3.0 + pull.peak } else { 0.0 };
            (time, load + zero + drift * time + noise * dice.normal() + stray)
        })
        .collect()
}

/// Load so many seconds after the peak.
fn after(pull: &Pull, since: f64, sag: f64) -> f64 {
    match pull.end {
        // A hand pump loses a little oil and is topped up every twelve seconds.
        End::ProofHeld if since < HOLD => pull.peak * (1.0 - sag * (since % 12.0) / 12.0).max(0.97),
        End::ProofHeld => pull.peak * (1.0 - (since - HOLD) / 0.8).max(0.0),
        End::Stopped => pull.peak * (1.0 - since / 0.8).max(0.0),
        End::SteelBroke | End::HangerBroke => 0.0,
        End::Cone => pull.peak * 0.25 * (1.0 - since / 0.4).max(0.0),
        End::BondFailed => pull.peak * (0.35 - 0.1 * since).max(0.0),
        End::PulledOut => pull.peak * (0.9 - 0.35 * since).max(0.0),
    }
}

fn commas(pull: &Pull, step: f64, samples: &[(f64, f64)]) -> String {
    let mut text = format!(
        "# load cell log, unit A\n# date {}\n# rate {} Hz\n# zero taken before rigging\ntime (s),force (kN)\n",
        pull.on,
        (1.0 / step).round()
    );
    for (time, load) in samples {
        let _ = writeln!(text, "{time:.2},{load:.3}");
    }
    text
}

fn semicolons(pull: &Pull, samples: &[(f64, f64)], dice: &mut Dice) -> String {
    let (unit, size) = if dice.chance(0.6) { ("lbf", LBF) } else { ("kgf", KGF) };
    let mut text = format!("Logger;B\r\nTest;{}\r\nt [ms];load [{unit}]\r\n", pull.number);
    for (time, load) in samples {
        let row = format!("{:.0};{:.1}\r\n", time * 1000.0, load / size).replace('.', ",");
        text.push_str(&row);
    }
    text
}
