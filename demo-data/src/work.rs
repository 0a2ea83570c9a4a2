//! The yard's work beside fruit: weather read from an invented station, weighings, waterings, soaks, a sample disc.
//! Never a look, a picking or a round: `seasons` has those, and nothing here moves one of them.
//! Invariant: it adds steps between those that are planned and takes no chance from them.

use crate::calendar::{Calendar, local};
use crate::growth;
use crate::inputs::Inputs;
use crate::seasons::{Deed, Step};
use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, NaiveTime};
use std::fmt::Write as _;

/// Months in which this grower forces logs.
const FORCING: std::ops::RangeInclusive<u32> = 5..=9;
/// Sample logs of the fourth season's laying, their first weight in grams, and what they lose in a dry week.
const SAMPLES: [(&str, i64, i64); 2] = [("59", 11_400, 90), ("60", 9_800, 60)];
/// Wide-range logs that are soaked, by loads.
const LOADS: [(&str, [&str; 3]); 2] = [("s4-05-28", ["11", "18", "23"]), ("s4-07-02", ["13", "29", "34"])];
/// Spots watered in the fourth summer, and when.
const WATERED: [(&str, &str); 3] =
    [("s4-07-06", "Gate shade"), ("s4-07-06", "Wall end"), ("s4-07-27", "Gate shade")];
/// The invented station: its id says that it is none.
const STATION: &str = "XX000NOWHER";
/// Days of weather that were read.
const DAYS: u64 = 500;

/// The planned steps with the yard's work between them, in order of time.
pub fn with_work(inputs: &Inputs, until: NaiveDate, mut steps: Vec<Step>) -> Vec<Step> {
    let calendar = Calendar::ending(until);
    let first = steps.first().map(|step| step.at);
    let mut more = Vec::new();
    weighings(inputs, &calendar, until, &mut more);
    for (day, spot) in WATERED {
        at(&calendar, day, "19:30", Deed::Water { spot: spot.to_owned() }, &mut more);
    }
    for (day, tags) in LOADS {
        let logs: Vec<usize> = tags.iter().filter_map(|tag| place(inputs, tag)).collect();
        let Some(into) = calendar.day(day).filter(|into| forced(*into)) else { continue };
        soak(into, &logs, &mut more);
    }
    at(
        &calendar,
        "s4-04-12",
        "10:20",
        Deed::Disc { tag: "59".to_owned(), wet_g: 480, dry_g: 269 },
        &mut more,
    );
    more.retain(|step| step.at.date_naive() < until && first.is_none_or(|first| step.at > first));
    steps.extend(more);
    steps.sort_by_key(|step| step.at);
    // The station's file is brought home on the last evening.
    if let Some(last) = steps.last().map(|step| step.at) {
        let text = station(inputs, &calendar, until);
        steps.push(Step { at: last + chrono::TimeDelta::minutes(30), deed: Deed::Weather { text } });
    }
    steps
}

fn forced(day: NaiveDate) -> bool {
    FORCING.contains(&day.month())
}

fn place(inputs: &Inputs, tag: &str) -> Option<usize> {
    inputs.logs.iter().position(|line| line.tag == tag)
}

fn when(day: NaiveDate, time: &str) -> Option<DateTime<FixedOffset>> {
    local(day, NaiveTime::parse_from_str(time, "%H:%M").ok()?)
}

fn at(calendar: &Calendar, day: &str, time: &str, deed: Deed, more: &mut Vec<Step>) {
    if let Some(at) = calendar.day(day).and_then(|day| when(day, time)) {
        more.push(Step { at, deed });
    }
}

/// In one evening, out the next.
fn soak(into: NaiveDate, logs: &[usize], more: &mut Vec<Step>) {
    let next = into.checked_add_days(Days::new(1)).unwrap_or(into);
    if let (Some(in_at), Some(out_at)) = (when(into, "18:00"), when(next, "17:30")) {
        more.push(Step { at: in_at, deed: Deed::Soak { logs: logs.to_vec(), into: true } });
        more.push(Step { at: out_at, deed: Deed::Soak { logs: logs.to_vec(), into: false } });
    }
}

/// Each sample log when it is laid, and weekly from then on until October.
fn weighings(inputs: &Inputs, calendar: &Calendar, until: NaiveDate, more: &mut Vec<Step>) {
    for (tag, first, loss) in SAMPLES {
        let Some(log) = place(inputs, tag) else { continue };
        let line = &inputs.logs[log];
        let laid = if line.lay_later.is_empty() { &line.laid } else { &line.lay_later };
        let Some(laid) = calendar.day(laid) else { continue };
        let mut grams = first;
        for day in laid.iter_days().step_by(7).take_while(|day| *day < until && day.month() < 11) {
            if let Some(at) = when(day, "09:50") {
                more.push(Step { at, deed: Deed::Weigh { log, grams } });
            }
            let (_, wet) = growth::weather(inputs, calendar, day);
            grams += if wet > 0.55 { loss / 2 } else { -loss };
            grams = grams.clamp(first * 85 / 100, first);
        }
    }
}

/// The days' weather as tenths: low, high and rain, by the same figures that the logs grow by.
pub fn day(inputs: &Inputs, calendar: &Calendar, day: NaiveDate) -> (i64, i64, i64) {
    let (mean, wet) = growth::weather(inputs, calendar, day);
    let mean = (mean * 10.0).round() as i64;
    let spread = if wet > 0.5 { 35 } else { 60 };
    let falls = wet > 0.5 && day.num_days_from_ce() % 2 == 0;
    let rain = if falls { ((wet - 0.5) * 360.0).round() as i64 } else { 0 };
    (mean - spread, mean + spread, rain)
}

/// The station's file in the wide layout of GHCN-Daily.
fn station(inputs: &Inputs, calendar: &Calendar, until: NaiveDate) -> String {
    let mut text =
        String::from("STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES\n");
    let from = until.checked_sub_days(Days::new(DAYS)).unwrap_or(until);
    for date in from.iter_days().take_while(|date| *date < until) {
        let (low, high, rain) = day(inputs, calendar, date);
        let _ = writeln!(text, "{STATION},{date},{rain},\",,Z\",{high},\",,Z\",{low},\",,Z\"");
    }
    text
}
