//! Scales and ticks.

/// A linear map from data to the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    from: f64,
    to: f64,
    start: f64,
    end: f64,
}

impl Scale {
    /// Maps `from..to` to `start..end`. An empty or unreadable data range becomes one of width 1.
    pub fn new(from: f64, to: f64, start: f64, end: f64) -> Self {
        let from = if from.is_finite() { from } else { 0.0 };
        let to = if to.is_finite() && to > from { to } else { from + 1.0 };
        Self { from, to, start, end }
    }

    /// Position of a value; values off the scale lie off the picture's plot.
    pub fn at(self, v: f64) -> f64 {
        self.start + (v - self.from) / (self.to - self.from) * (self.end - self.start)
    }

    /// Position of a value, held to the ends of the scale; what cannot be read lies at the start.
    pub fn held(self, v: f64) -> f64 {
        if v.is_nan() { self.start } else { self.at(v.clamp(self.from, self.to)) }
    }

    /// True where the value lies on the scale.
    pub fn has(self, v: f64) -> bool {
        (self.from..=self.to).contains(&v)
    }

    /// Upper end of the data range.
    pub fn top(self) -> f64 {
        self.to
    }

    /// Ticks at steps of 1, 2 or 5 times a power of ten, about `want` of them, with their labels.
    pub fn ticks(self, want: usize) -> Vec<(f64, String)> {
        let span = self.to - self.from;
        let step = nice_step(span / want.max(1) as f64);
        if !step.is_finite() || step <= 0.0 {
            return Vec::new();
        }
        let decimals = if step < 1.0 { (-step.log10().floor()).clamp(0.0, 6.0) as usize } else { 0 };
        let first = (self.from / step).ceil();
        (0..=2 * want.max(1))
            .map(|i| (first + i as f64) * step)
            .take_while(|v| *v <= self.to + step * 1e-9)
            .map(|v| (v, label(v, decimals)))
            .collect()
    }
}

fn label(v: f64, decimals: usize) -> String {
    if v.abs() >= 1e6 {
        format!("{v:.0e}")
    } else if decimals == 0 {
        crate::format::thousands(v)
    } else {
        format!("{v:.decimals$}")
    }
}

/// The smallest of 1, 2, 5 times a power of ten that is not below `raw`.
pub fn nice_step(raw: f64) -> f64 {
    if !raw.is_finite() || raw <= 0.0 {
        return 1.0;
    }
    let power = 10f64.powf(raw.log10().floor());
    let factor = raw / power;
    let nice = [1.0, 2.0, 5.0].into_iter().find(|n| factor <= n * (1.0 + 1e-9)).unwrap_or(10.0);
    nice * power
}

/// Moves labels of height `gap` along a line so that none overlaps its neighbour, each as near to its
/// wish as the others allow and all within `low..high` if there is room. The order is kept.
pub fn spread(wishes: &[f64], gap: f64, low: f64, high: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wishes.len()).collect();
    order.sort_by(|a, b| wishes[*a].total_cmp(&wishes[*b]));
    let mut out = vec![0.0; wishes.len()];
    let mut floor = low;
    for i in &order {
        out[*i] = wishes[*i].max(floor);
        floor = out[*i] + gap;
    }
    let mut ceiling = high;
    for i in order.iter().rev() {
        if out[*i] > ceiling {
            out[*i] = ceiling;
        }
        ceiling = out[*i] - gap;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        let s = Scale::new(0.0, 47.0, 0.0, 1.0);
        let labels: Vec<String> = s.ticks(6).into_iter().map(|(_, l)| l).collect();
        assert_eq!(labels, ["0", "10", "20", "30", "40"]);
        let s = Scale::new(0.0, 0.7, 0.0, 1.0);
        assert_eq!(s.ticks(5).last().map(|t| t.1.clone()), Some("0.6".to_owned()));
        assert!(Scale::new(0.0, 1e300, 0.0, 1.0).ticks(6).len() <= 12);
    }

    #[test]
    fn spread_labels_do_not_overlap() {
        let out = spread(&[10.0, 11.0, 9.0, 50.0], 5.0, 0.0, 52.0);
        let mut sorted = out.clone();
        sorted.sort_by(f64::total_cmp);
        assert!(sorted.windows(2).all(|w| w[1] - w[0] >= 5.0 - 1e-9), "{out:?}");
        assert!(sorted[0] >= 0.0 && sorted[3] <= 52.0);
    }
}
