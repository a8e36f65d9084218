//! Load traces: force against time, as a load cell writes it.

mod cfc;
mod reading;

pub use cfc::{Cfc, Coefficients};
pub use reading::{End, Note, Reading, Settings, Stiffness, creep_m_per_decade, peak_loss, read};

/// Why a trace cannot be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TraceError {
    /// The columns differ in length.
    #[error("the trace has {times} times but {others} values of {column}; every row needs both")]
    Ragged {
        /// Number of times.
        times: usize,
        /// Which column differs.
        column: &'static str,
        /// Its number of values.
        others: usize,
    },
    /// Too few rows.
    #[error("the trace has {rows} rows; at least {need} are needed")]
    TooShort {
        /// Rows there are.
        rows: usize,
        /// Rows it takes.
        need: usize,
    },
    /// A number that is not finite.
    #[error("row {row} of the trace has {value} as its {column}; it must be a finite number")]
    NotFinite {
        /// Row, from 1.
        row: usize,
        /// Which column.
        column: &'static str,
        /// The value.
        value: f64,
    },
    /// Time stands still or goes back.
    #[error("the time does not go up from row {row} to row {} of the trace", row + 1)]
    TimeNotRising {
        /// The earlier row, from 1.
        row: usize,
    },
    /// Numbers too large to compute with.
    #[error("the trace holds {column} values up to {value:e}; that is no load test")]
    Absurd {
        /// Which column.
        column: &'static str,
        /// Greatest size.
        value: f64,
    },
    /// No load above the zero line, or a greater one below it.
    #[error(
        "the trace shows no load above its zero line; if pulls were written as negative forces, turn the sign round"
    )]
    NoLoad,
}

/// Force against time, with displacement where it was measured. Pulls count positive.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    time_s: Vec<f64>,
    force_n: Vec<f64>,
    displacement_m: Option<Vec<f64>>,
}

impl Trace {
    /// Fewest rows of a trace.
    pub const FEWEST: usize = 5;

    /// From columns of equal length: times in s, strictly rising; forces in N; displacements in m.
    ///
    /// Errors: unequal lengths, fewer than 5 rows, a number that is not finite or larger than 1e12, time
    /// that does not rise.
    pub fn new(
        time_s: Vec<f64>,
        force_n: Vec<f64>,
        displacement_m: Option<Vec<f64>>,
    ) -> Result<Self, TraceError> {
        let times = time_s.len();
        let columns =
            [("time", Some(&time_s)), ("force", Some(&force_n)), ("displacement", displacement_m.as_ref())];
        for (column, values) in columns {
            let Some(values) = values else { continue };
            if values.len() != times {
                return Err(TraceError::Ragged { times, column, others: values.len() });
            }
            if let Some(row) = values.iter().position(|v| !v.is_finite()) {
                return Err(TraceError::NotFinite { row: row + 1, column, value: values[row] });
            }
            let greatest = values.iter().fold(0.0_f64, |g, v| g.max(v.abs()));
            if greatest > 1e12 {
                return Err(TraceError::Absurd { column, value: greatest });
            }
        }
        if times < Self::FEWEST {
            return Err(TraceError::TooShort { rows: times, need: Self::FEWEST });
        }
        if let Some(row) = time_s.windows(2).position(|w| w[1] <= w[0]) {
            return Err(TraceError::TimeNotRising { row: row + 1 });
        }
        Ok(Self { time_s, force_n, displacement_m })
    }

    /// Times in s.
    pub fn time_s(&self) -> &[f64] {
        &self.time_s
    }

    /// Forces in N, as recorded.
    pub fn force_n(&self) -> &[f64] {
        &self.force_n
    }

    /// Displacements in m, where measured.
    pub fn displacement_m(&self) -> Option<&[f64]> {
        self.displacement_m.as_deref()
    }

    /// Median step of time in s, > 0.
    pub fn step_s(&self) -> f64 {
        let mut steps: Vec<f64> = self.time_s.windows(2).map(|w| w[1] - w[0]).collect();
        median(&mut steps)
    }
}

/// Median of a list that may be reordered; 0 for an empty one.
fn median(values: &mut [f64]) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    values.sort_unstable_by(f64::total_cmp);
    let half = values.len() / 2;
    if values.len() % 2 == 1 { values[half] } else { 0.5 * (values[half - 1] + values[half]) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_traces_are_refused_with_row_and_column() {
        let t = || vec![0.0, 1.0, 2.0, 3.0, 4.0];
        assert!(Trace::new(t(), vec![0.0; 5], None).is_ok());
        assert!(matches!(
            Trace::new(t(), vec![0.0; 4], None),
            Err(TraceError::Ragged { column: "force", .. })
        ));
        assert!(matches!(Trace::new(vec![], vec![], None), Err(TraceError::TooShort { rows: 0, .. })));
        let nan = Trace::new(t(), vec![0.0, f64::NAN, 0.0, 0.0, 0.0], None);
        assert!(matches!(nan, Err(TraceError::NotFinite { row: 2, column: "force", .. })));
        let back = Trace::new(vec![0.0, 1.0, 1.0, 3.0, 4.0], vec![0.0; 5], None);
        assert_eq!(back, Err(TraceError::TimeNotRising { row: 2 }));
        let gap = Trace::new(t(), vec![0.0; 5], Some(vec![0.0, 0.0, 0.0, f64::INFINITY, 0.0]));
        assert!(matches!(gap, Err(TraceError::NotFinite { row: 4, column: "displacement", .. })));
        assert!(matches!(Trace::new(t(), vec![1e300; 5], None), Err(TraceError::Absurd { .. })));
    }
}
