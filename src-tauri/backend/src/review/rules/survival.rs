//! Kaplan–Meier: the share that has not met an event yet, with Greenwood's error and intervals.
//! Never a log: spans of time in, steps out.
//! Invariant: a span that ends without an event counts at risk up to its end and is no event.
//!
//! Ties: events come before those who leave on the same day, and those who enter late are at risk
//! from just after their entry. Intervals are log-log by default (Kalbfleisch & Prentice): they stay
//! between 0 and 1.

use serde::Serialize;
use ts_rs::TS;

/// The normal quantile of a two-sided 90 % interval.
pub const Z_90: f64 = 1.644_853_626_951_472_7;

/// One watched span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// When the watch began: 0, or later.
    pub entry: f64,
    /// When it ended.
    pub exit: f64,
    /// Whether it ended with the event.
    pub event: bool,
}

impl Span {
    /// A span watched from the beginning.
    pub fn new(exit: f64, event: bool) -> Self {
        Self { entry: 0.0, exit, event }
    }

    /// Whether it can be counted: it lasts, and its ends are numbers.
    pub fn counts(&self) -> bool {
        self.entry.is_finite() && self.exit.is_finite() && self.entry >= 0.0 && self.exit > self.entry
    }
}

/// Which interval.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Interval {
    /// On log(−log S).
    LogLog,
    /// S ± z·error, cut off at 0 and 1.
    Plain,
}

/// The curve right after a time at which an event happened.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, TS)]
#[ts(rename = "CurveStep")]
pub struct Step {
    /// When.
    pub at: f64,
    /// At risk just before.
    pub at_risk: u32,
    /// Events then.
    pub events: u32,
    /// Share still without the event.
    pub share: f64,
    /// Greenwood's standard error.
    pub error: f64,
    /// Lower end of the 90 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// A curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Survival {
    /// Its steps, oldest first.
    pub steps: Vec<Step>,
    /// Spans counted.
    pub n: usize,
    /// Events.
    pub events: usize,
}

/// A time with its interval; an end that the curve does not reach is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Median {
    /// When half have met the event; `None`: not reached.
    pub at: Option<f64>,
    /// Lower end of the 90 % interval.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

impl Survival {
    /// The curve of these spans; those that cannot be counted are left out. Intervals at `z`.
    pub fn of(spans: &[Span], interval: Interval, z: f64) -> Self {
        let spans: Vec<Span> = spans.iter().copied().filter(Span::counts).collect();
        let mut exits = spans.clone();
        exits.sort_by(|a, b| a.exit.total_cmp(&b.exit));
        let mut entries: Vec<f64> = spans.iter().map(|s| s.entry).collect();
        entries.sort_by(f64::total_cmp);
        let (mut steps, mut share, mut greenwood) = (Vec::new(), 1.0_f64, 0.0_f64);
        let (mut gone, mut come) = (0, 0);
        while let Some(first) = exits.get(gone) {
            let at = first.exit;
            let here = exits[gone..].iter().take_while(|s| s.exit == at).count();
            let events = exits[gone..gone + here].iter().filter(|s| s.event).count();
            while entries.get(come).is_some_and(|e| *e < at) {
                come += 1;
            }
            let at_risk = come - gone;
            gone += here;
            if events == 0 {
                continue;
            }
            let (n, d) = (at_risk as f64, events as f64);
            share *= (n - d) / n;
            greenwood += if at_risk > events { d / (n * (n - d)) } else { 0.0 };
            let error = share * greenwood.sqrt();
            let (low, high) = ends(share, greenwood, interval, z);
            steps.push(Step { at, at_risk: at_risk as u32, events: events as u32, share, error, low, high });
        }
        let events = spans.iter().filter(|s| s.event).count();
        Self { steps, n: spans.len(), events }
    }

    /// Share still without the event after `at`.
    pub fn share_at(&self, at: f64) -> f64 {
        self.steps.iter().take_while(|s| s.at <= at).last().map_or(1.0, |s| s.share)
    }

    /// The median; where the curve rests on a half, the middle of that rest, as is the custom.
    pub fn median(&self) -> Median {
        let reach = |of: fn(&Step) -> f64| self.steps.iter().find(|s| of(s) <= 0.5 + 1e-12).map(|s| s.at);
        let at = self.steps.iter().position(|s| s.share <= 0.5 + 1e-12).map(|i| {
            let step = self.steps[i];
            match self.steps.get(i + 1) {
                Some(next) if (step.share - 0.5).abs() <= 1e-12 => f64::midpoint(step.at, next.at),
                _ => step.at,
            }
        });
        Median { at, low: reach(|s| s.low), high: reach(|s| s.high) }
    }
}

fn ends(share: f64, greenwood: f64, interval: Interval, z: f64) -> (f64, f64) {
    if share <= 0.0 {
        return (0.0, 0.0);
    }
    match interval {
        Interval::Plain => {
            let half = z * share * greenwood.sqrt();
            ((share - half).max(0.0), (share + half).min(1.0))
        }
        Interval::LogLog if share >= 1.0 => (1.0, 1.0),
        Interval::LogLog => {
            let half = z * greenwood.sqrt() / share.ln();
            (share.powf((-half).exp()), share.powf(half.exp()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_left_are_at_risk_to_their_end_and_the_late_from_their_entry() {
        let spans = [
            Span::new(2.0, true),
            Span::new(2.0, false),
            Span { entry: 2.0, exit: 5.0, event: true },
            Span::new(5.0, false),
            Span::new(7.0, true),
            Span::new(0.0, true),
            Span::new(f64::NAN, true),
        ];
        let curve = Survival::of(&spans, Interval::LogLog, Z_90);
        let seen: Vec<_> = curve.steps.iter().map(|s| (s.at, s.at_risk, s.events)).collect();
        assert_eq!(seen, [(2.0, 4, 1), (5.0, 3, 1), (7.0, 1, 1)]);
        assert!((curve.share_at(6.0) - 0.5).abs() < 1e-15 && curve.share_at(1.0) == 1.0);
        assert_eq!((curve.n, curve.events, curve.median().at), (5, 3, Some(6.0)));
    }

    #[test]
    fn nobody_and_nothing_yet_are_flat() {
        assert!(Survival::of(&[], Interval::Plain, Z_90).steps.is_empty());
        let none = Survival::of(&[Span::new(3.0, false), Span::new(4.0, false)], Interval::LogLog, Z_90);
        assert_eq!((none.median().at, none.median().low, none.share_at(9.0)), (None, None, 1.0));
    }

    #[test]
    fn intervals_hold_the_share_and_stay_within_nothing_and_all() {
        let spans: Vec<Span> = (1..30).map(|i| Span::new(f64::from(i % 9 + 1), i % 3 != 0)).collect();
        for interval in [Interval::LogLog, Interval::Plain] {
            for s in Survival::of(&spans, interval, Z_90).steps {
                assert!(0.0 <= s.low && s.low <= s.share && s.share <= s.high && s.high <= 1.0, "{s:?}");
            }
        }
    }
}
