//! The one place that asks what time it is, and the hybrid stamps made from it.
//! Never a date of the trade.
//! Invariant: the stamps a register makes only grow, whatever the wall clock does.

use crate::error::{Error, Result};
use chrono::{DateTime, FixedOffset, NaiveDate, SecondsFormat, Utc};
use std::sync::Arc;
use std::sync::atomic::{AtomicI32, AtomicI64, Ordering};

/// Where the time comes from: the device, or a test.
#[derive(Debug, Clone)]
pub struct Clock(Source);

#[derive(Debug, Clone)]
enum Source {
    Wall,
    Fixed(Arc<Hand>),
    Running(Moment, std::time::Instant),
}

#[derive(Debug)]
struct Hand {
    ms: AtomicI64,
    offset_min: AtomicI32,
}

/// An instant with the offset that local clocks showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Milliseconds since 1970 UTC.
    pub ms: i64,
    /// Minutes east of UTC.
    pub offset_min: i32,
}

impl Clock {
    /// The device's own clock and zone.
    pub fn wall() -> Self {
        Self(Source::Wall)
    }

    /// A clock that stands at `rfc3339` until it is `set`.
    ///
    /// # Errors
    /// `Invalid` when the text is not an RFC 3339 instant.
    pub fn fixed(rfc3339: &str) -> Result<Self> {
        let moment = Moment::parse(rfc3339)?;
        Ok(Self(Source::Fixed(Arc::new(Hand {
            ms: AtomicI64::new(moment.ms),
            offset_min: AtomicI32::new(moment.offset_min),
        }))))
    }

    /// A clock that starts at `rfc3339` and runs on.
    ///
    /// # Errors
    /// `Invalid` when the text is not an RFC 3339 instant.
    #[allow(clippy::disallowed_methods, reason = "only book/clock asks the time")]
    pub fn running_from(rfc3339: &str) -> Result<Self> {
        Ok(Self(Source::Running(Moment::parse(rfc3339)?, std::time::Instant::now())))
    }

    /// Moves a fixed clock; the others stay as they are.
    ///
    /// # Errors
    /// `Invalid` when the text is not an RFC 3339 instant.
    pub fn set(&self, rfc3339: &str) -> Result<()> {
        let moment = Moment::parse(rfc3339)?;
        if let Source::Fixed(hand) = &self.0 {
            hand.ms.store(moment.ms, Ordering::SeqCst);
            hand.offset_min.store(moment.offset_min, Ordering::SeqCst);
        }
        Ok(())
    }

    /// Now.
    #[allow(clippy::disallowed_methods, reason = "only book/clock asks the time")]
    pub fn moment(&self) -> Moment {
        match &self.0 {
            Source::Wall => {
                let now = chrono::Local::now();
                Moment { ms: now.timestamp_millis(), offset_min: now.offset().local_minus_utc() / 60 }
            }
            Source::Fixed(hand) => Moment {
                ms: hand.ms.load(Ordering::SeqCst),
                offset_min: hand.offset_min.load(Ordering::SeqCst),
            },
            Source::Running(start, since) => Moment {
                ms: start.ms + i64::try_from(since.elapsed().as_millis()).unwrap_or(0),
                offset_min: start.offset_min,
            },
        }
    }
}

impl Moment {
    /// Reads an RFC 3339 instant.
    ///
    /// # Errors
    /// `Invalid` when the text is not one.
    pub fn parse(rfc3339: &str) -> Result<Self> {
        let time = DateTime::parse_from_rfc3339(rfc3339).map_err(|_| Error::invalid("at", "not_a_date"))?;
        Ok(Self { ms: time.timestamp_millis(), offset_min: time.offset().local_minus_utc() / 60 })
    }

    /// The instant with its local offset; 1970 for times no calendar holds.
    pub fn local(&self) -> DateTime<FixedOffset> {
        let utc = DateTime::<Utc>::from_timestamp_millis(self.ms).unwrap_or_default();
        match FixedOffset::east_opt(self.offset_min * 60) {
            Some(offset) => utc.with_timezone(&offset),
            None => utc.fixed_offset(),
        }
    }

    /// The local day.
    pub fn day(&self) -> NaiveDate {
        self.local().date_naive()
    }

    /// Noon of a local day by this moment's offset, milliseconds since 1970.
    pub fn noon_of(&self, day: NaiveDate) -> i64 {
        const DAY_MS: i64 = 24 * 3_600_000;
        let days = (day - NaiveDate::default()).num_days();
        days * DAY_MS + DAY_MS / 2 - i64::from(self.offset_min) * 60_000
    }

    /// RFC 3339 with the local offset, to the second.
    pub fn rfc3339(&self) -> String {
        self.local().to_rfc3339_opts(SecondsFormat::Secs, false)
    }

    /// The local offset as text, e.g. `+01:00`.
    pub fn zone(&self) -> String {
        self.local().offset().to_string()
    }

    /// The instant `ms` with an offset written as by [`Moment::zone`]; UTC when it can't be read.
    pub fn from_parts(ms: i64, zone: &str) -> Self {
        let offset = zone.parse::<FixedOffset>().map_or(0, |o| o.local_minus_utc() / 60);
        Self { ms, offset_min: offset }
    }
}

/// A hybrid logical stamp (Kulkarni et al. 2014, "Logical Physical Clocks"): milliseconds and a
/// counter, written as 16 hexadecimal digits so that text order is time order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Stamp(u64);

const COUNTER_BITS: u32 = 16;

impl Stamp {
    /// The next stamp after `self` at wall time `ms`: never smaller or equal, even when the wall
    /// clock went back.
    #[must_use]
    pub fn next(self, ms: i64) -> Self {
        let wall = u64::try_from(ms).unwrap_or(0) << COUNTER_BITS;
        Self(wall.max(self.0 + 1))
    }

    /// The wall-clock part, milliseconds since 1970.
    pub fn ms(self) -> i64 {
        i64::try_from(self.0 >> COUNTER_BITS).unwrap_or(i64::MAX)
    }

    /// Reads what [`Stamp`]'s `Display` wrote; `None` for anything else.
    pub fn parse(text: &str) -> Option<Self> {
        if text.len() != 16 || !text.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b)) {
            return None;
        }
        u64::from_str_radix(text, 16).ok().map(Self)
    }
}

impl std::fmt::Display for Stamp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn stamps_grow_whatever_the_wall_clock_does(walls in prop::collection::vec(0_i64..1 << 44, 1..200)) {
            let mut last = Stamp::default();
            for wall in walls {
                let next = last.next(wall);
                prop_assert!(next > last);
                prop_assert!(next.to_string() > last.to_string(), "text order is time order");
                prop_assert!(next.ms() >= wall);
                prop_assert_eq!(Stamp::parse(&next.to_string()), Some(next));
                last = next;
            }
        }
    }

    #[test]
    fn a_moment_keeps_the_local_day_and_offset() -> Result<()> {
        let moment = Moment::parse("2026-03-01T00:30:00+02:00")?;
        assert_eq!(moment.day().to_string(), "2026-03-01");
        assert_eq!(moment.zone(), "+02:00");
        assert_eq!(Moment::from_parts(moment.ms, &moment.zone()), moment);
        assert_eq!(moment.rfc3339(), "2026-03-01T00:30:00+02:00");
        Ok(())
    }
}
