//! Figures that are times: soonest to fruit, longest alive, longest without a competitor.
//! Never an amount: `rates` has those.
//! Invariant: a log that has not met its event yet counts up to the end of its watch, neither dropped nor 0.
//!
//! Each group's figure is Kaplan and Meier's median, its interval read off the log-log one of the curve.
//! Who is ahead is asked of how often the event comes, seen against expected as in the log-rank test,
//! partially pooled: so two logs that happened to fruit early do not outrun twenty.

use super::compare::{Group, Worked, left_out};
use super::life::{Life, YEAR};
use super::logrank::log_rank;
use super::pooling::Posterior;
use super::question::{GroupBy, Measure, Question};
use super::reply::{Aside, Differ, Dot, GroupRow, Untold};
use super::saying;
use super::survival::{Interval, Span, Survival, Z_90};
use super::yields::fit_events;

/// A log that came this old without a picking typed in may have fruited before: half a year.
const MAY_HAVE_FRUITED: f64 = 0.5;

/// Works the rows out.
pub fn work(ask: &Question, groups: &[Group<'_>]) -> Worked {
    let mut asides = Vec::new();
    let spans: Vec<Vec<(&Life, Span)>> = groups
        .iter()
        .map(|group| {
            let mut spans = Vec::new();
            for life in &group.lives {
                match span(ask, life) {
                    Ok(span) => spans.push((*life, span)),
                    Err(why) => asides.push(why),
                }
            }
            spans
        })
        .collect();
    let bare: Vec<Vec<Span>> = spans.iter().map(|g| g.iter().map(|(_, s)| *s).collect()).collect();
    let test = log_rank(&bare);
    let fit = test.as_ref().and_then(|t| posterior(&t.observed, &t.expected));
    let at: Vec<usize> = fit.as_ref().map_or_else(|| (0..groups.len()).collect(), |(_, at)| at.clone());
    let posterior = fit.map(|(p, _)| p);
    let events = bare.iter().flatten().filter(|s| s.event).count();
    let mut rows: Vec<GroupRow> = groups
        .iter()
        .zip(&spans)
        .zip(&at)
        .map(|((group, spans), at)| {
            row(ask.measure, group, spans, (events > 0).then_some(posterior.as_ref()), *at)
        })
        .collect();
    let logs = bare.iter().map(Vec::len).sum::<usize>().max(1) as f64;
    // One more log brings as many events as a log did so far; the variance of a log rate is 1 over them.
    let one_log = logs / (events.max(1) as f64);
    let (answer, beats) =
        saying::say(&mut rows, &at, posterior.as_ref(), ask.measure.more_is_better(), one_log);
    Worked {
        rows,
        answer: Some(answer),
        beats,
        left_out: left_out(asides.into_iter()),
        differ: test.map(|t| Differ {
            form: "log_rank".to_owned(),
            value: t.chi2,
            df: t.df,
            df_within: None,
            p: t.p,
        }),
        between: posterior.map(|p| p.spreads().0),
        adjusted: Vec::new(),
        litres: None,
    }
}

/// The pooled rates, and where each group stands in them; groups nobody expected anything of stand at
/// the common rate, in a place of their own.
fn posterior(observed: &[f64], expected: &[f64]) -> Option<(Posterior, Vec<usize>)> {
    let expected: Vec<f64> = expected.iter().map(|e| e.max(1e-6)).collect();
    Some((fit_events(observed, &expected)?, (0..observed.len()).collect()))
}

/// What a log says of the time asked for, in years from laying.
pub fn span(ask: &Question, life: &Life) -> Result<Span, Aside> {
    if !life.is_laid {
        return Err(Aside::NotLaid);
    }
    if life.doubtful && matches!(ask.by, GroupBy::Strain | GroupBy::Class) {
        return Err(Aside::Doubtful);
    }
    let (entry, end) = life.ages().ok_or(Aside::Undated)?;
    let laid = life.laid_mid().ok_or(Aside::Undated)?;
    let age = |day: i32| f64::from(day - laid) / YEAR;
    let span = match ask.measure {
        Measure::Soonest => {
            if entry > MAY_HAVE_FRUITED {
                return Err(Aside::CameLate);
            }
            let first = life.fruit.or_else(|| life.picks.first().map(|p| p.day));
            Span { entry: 0.0, exit: first.map_or(end, age), event: first.is_some() }
        }
        Measure::Longest => Span { entry, exit: end, event: life.died },
        _ => {
            let met = life.competitor.or_else(|| life.lost.then_some(life.end));
            Span { entry, exit: met.map_or(end, age), event: met.is_some() }
        }
    };
    if span.counts() { Ok(span) } else { Err(Aside::SpawnRun) }
}

fn row(
    measure: Measure,
    group: &Group<'_>,
    spans: &[(&Life, Span)],
    posterior: Option<Option<&Posterior>>,
    at: usize,
) -> GroupRow {
    let why = if posterior.is_none() && !spans.is_empty() {
        Some(Untold::NothingSeen)
    } else {
        group.untold(spans.len(), 0)
    };
    let mut row = group.row(measure, why);
    let bare: Vec<Span> = spans.iter().map(|(_, s)| *s).collect();
    let curve = Survival::of(&bare, Interval::LogLog, Z_90);
    let median = curve.median();
    row.used = spans.len() as u32;
    (row.mean, row.low, row.high) = (median.at, median.low, median.high);
    row.plain = median.at;
    row.pull = posterior.flatten().map(|p| p.pull(at));
    row.dots = spans
        .iter()
        .map(|(life, span)| Dot { log: life.id.clone(), value: span.exit, weight: 1.0, open: !span.event })
        .collect();
    row.from = row
        .from
        .clone()
        .of_logs(i64::from(row.used))
        .with("events", curve.events as i64)
        .with("still_open", (curve.n - curve.events) as i64);
    row.curve = curve.steps;
    row
}
