//! Who states a fact, when, on which device.

use register::{Body, Clock, Fact, Stamp, Subject};
use uuid::Uuid;

/// Writes facts: gives each its identity, author and time.
pub struct Pen {
    author: String,
    clock: Clock,
    wall_millis: i64,
}

impl Pen {
    /// A pen that goes on after the latest stamp of the register. `now_millis` is the wall clock in
    /// milliseconds since 1970 UTC.
    pub fn new(author: String, device: String, latest: Option<&Stamp>, now_millis: i64) -> Self {
        Self { author, clock: Clock::resume(device, latest), wall_millis: now_millis }
    }

    /// A fact with the given origin.
    pub fn write(&mut self, origin: String, subject: Subject, body: Body) -> Fact {
        Fact {
            id: Uuid::now_v7(),
            author: self.author.clone(),
            stamp: self.clock.tick(u64::try_from(self.wall_millis).unwrap_or(0)),
            wall_millis: self.wall_millis,
            origin: Some(origin),
            subject,
            body,
        }
    }
}
