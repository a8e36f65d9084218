//! The hybrid logical clock of one device.
//!
//! Device clocks are wrong: by seconds, by a time zone, by years after a flat battery. A stamp therefore
//! is an order, never a date to be shown (for that a fact has its wall time, and a record its own dates).
//! Two rules follow:
//!
//! 1. What a device states after it has seen a fact comes after that fact, whatever either clock says.
//!    So [`Clock::observe`] follows every stamp it sees, also one from days ahead, and a device whose
//!    clock stands in the past still corrects what it has seen. Ahead-running clocks push the order
//!    forward but do not break it: after the clock is set right, the counter goes on from there.
//! 2. Only a stamp beyond the year 2200 is refused, since following it could use the clock up.
//!
//! Source of the method: hybrid logical clocks (Kulkarni, Demirbas, Madappa, Avva, Leone 2014; from
//! memory), without their bound on drift, which would give up rule 1.

use crate::fact::Stamp;

/// Latest time that a stamp may carry: the end of the year 2200, in milliseconds since 1970 UTC.
pub const LATEST_MILLIS: u64 = 7_289_654_399_999;

/// A stamp that cannot be followed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "device `{device}` stamps its facts later than the year 2200; set its clock before it takes part again."
)]
pub struct FarFuture {
    /// The device that made it.
    pub device: String,
}

/// Gives stamps that never run backwards and come after every stamp observed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clock {
    device: String,
    millis: u64,
    counter: u32,
}

impl Clock {
    /// The clock of a device that goes on after `latest`, the latest stamp of the register it works on
    /// ([`State::latest`](crate::State::latest)).
    pub fn resume(device: impl Into<String>, latest: Option<&Stamp>) -> Self {
        let mut clock = Self { device: device.into(), millis: 0, counter: 0 };
        if let Some(stamp) = latest {
            clock.follow(stamp.millis.min(LATEST_MILLIS), stamp.counter);
        }
        clock
    }

    /// The next stamp. `now_millis` is the device's wall clock in milliseconds since 1970 UTC; if it
    /// stands still, runs backwards or says a time after 2200, the counter goes on instead.
    pub fn tick(&mut self, now_millis: u64) -> Stamp {
        if now_millis > self.millis && now_millis <= LATEST_MILLIS {
            self.millis = now_millis;
            self.counter = 0;
        } else if let Some(next) = self.counter.checked_add(1) {
            self.counter = next;
        } else {
            self.millis += 1;
            self.counter = 0;
        }
        Stamp { millis: self.millis, counter: self.counter, device: self.device.clone() }
    }

    /// Takes note of another device's stamp, so that what is stated next comes after it.
    ///
    /// # Errors
    /// A stamp later than 2200; the clock stays as it was.
    pub fn observe(&mut self, stamp: &Stamp) -> Result<(), FarFuture> {
        if stamp.millis > LATEST_MILLIS {
            return Err(FarFuture { device: stamp.device.clone() });
        }
        self.follow(stamp.millis, stamp.counter);
        Ok(())
    }

    fn follow(&mut self, millis: u64, counter: u32) {
        if (millis, counter) > (self.millis, self.counter) {
            self.millis = millis;
            self.counter = counter;
        }
    }
}

/// How many whole days a stamp runs ahead of this device's wall clock; 0 where it does not. More than
/// one day means that one of the two clocks wants setting.
pub fn days_ahead(stamp: &Stamp, now_millis: u64) -> u64 {
    stamp.millis.saturating_sub(now_millis) / 86_400_000
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DAY: u64 = 86_400_000;

    #[test]
    fn a_correction_wins_over_a_clock_days_ahead() {
        let now = 1_764_000_000_000;
        let mut fast = Clock::resume("fast", None);
        let mut right = Clock::resume("right", None);
        let wrong_fact = fast.tick(now + 9 * DAY);
        right.observe(&wrong_fact).unwrap();
        let correction = right.tick(now + 1);
        assert!(correction > wrong_fact);
        assert_eq!(days_ahead(&wrong_fact, now), 9);
        assert_eq!(days_ahead(&wrong_fact, now + 20 * DAY), 0);
    }

    #[test]
    fn a_clock_in_the_past_still_corrects_what_it_has_seen() {
        let seen = Clock::resume("right", None).tick(1_764_000_000_000);
        let mut past = Clock::resume("past", Some(&seen));
        assert!(past.tick(1_500_000_000_000) > seen);
    }

    #[test]
    fn far_future_is_refused() {
        let stamp = Stamp { millis: u64::MAX, counter: 0, device: "broken".into() };
        let mut clock = Clock::resume("right", None);
        assert_eq!(clock.observe(&stamp), Err(FarFuture { device: "broken".into() }));
        assert_eq!(clock.tick(5).millis, 5);
        assert_eq!(clock.tick(u64::MAX).millis, 5);
        let mut full = Clock { device: "d".into(), millis: 5, counter: u32::MAX };
        assert_eq!((full.tick(1).millis, full.counter), (6, 0));
    }

    #[test]
    fn latest_is_the_end_of_2200() {
        let end = jiff::Timestamp::from_millisecond(LATEST_MILLIS as i64).unwrap();
        assert_eq!(end.to_string(), "2200-12-31T23:59:59.999Z");
    }

    proptest! {
        #[test]
        fn stamps_rise_whatever_the_wall_clock(times in proptest::collection::vec(0u64..LATEST_MILLIS * 2, 2..50)) {
            let mut clock = Clock::resume("d", None);
            let stamps: Vec<Stamp> = times.into_iter().map(|now| clock.tick(now)).collect();
            prop_assert!(stamps.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }
}
