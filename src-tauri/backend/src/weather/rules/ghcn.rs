//! Reads a station's days from GHCN-Daily text: the fixed columns of a `.dly` file, or one of the two CSV layouts.
//! Never a guess: a line that cannot be read is named with its reason, and impossible values ask for the unit.
//! Invariant: a value that failed the source's own quality check is left out and counted.
//!
//! Layout (NOAA, GHCN-Daily readme): `.dly` has the station in columns 1–11, year 12–15, month 16–17, element
//! 18–21, then 31 times a value of 5 columns and three flags. PRCP in tenths of mm, TMAX and TMIN in tenths of °C,
//! AWND in tenths of m/s, −9999 missing. By-station CSV: station, day, element, value, three flags, hour. The wide
//! CSV has a row a day with a column an element and its flags as `ELEMENT_ATTRIBUTES`. Wide files are also handed
//! out in °C and mm, or °F and inches: their units are asked for when the values cannot be tenths.

use super::Day;
use crate::words::words;
use chrono::NaiveDate;
use std::collections::BTreeMap;

words! {
    /// What a file's figures are in.
    pub enum FileUnits {
        /// Tenths of °C, of mm and of m/s, as the archive keeps them.
        Tenths = "tenths",
        /// °C, mm and m/s.
        Metric = "metric",
        /// °F, inches and miles an hour.
        Us = "us",
    }
}

words! {
    /// How the file is laid out.
    pub enum Layout {
        /// Fixed columns, a line a month and element.
        Dly = "dly",
        /// CSV, a line a day and element.
        Long = "long",
        /// CSV, a line a day.
        Wide = "wide",
    }
}

words! {
    /// Why a line was left out.
    pub enum BadLine {
        /// It ends before its last column.
        CutShort = "cut_short",
        /// It names no day that a calendar has.
        NoSuchDay = "no_such_day",
        /// A figure is no number.
        NotANumber = "not_a_number",
        /// Its station is not that of the lines before.
        OtherStation = "other_station",
        /// The same day and element stood before with another value.
        SaysOtherwise = "says_otherwise",
    }
}

/// A line that was left out.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct LineLeftOut {
    /// Counted from 1.
    pub line: usize,
    /// Why.
    pub why: BadLine,
    /// The day or the piece of text, to find it by.
    pub what: String,
}

/// What a file says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// How it is laid out.
    pub layout: Layout,
    /// The station's id.
    pub station: String,
    /// Days by day.
    pub days: Vec<Day>,
    /// Lines that were left out.
    pub left_out: Vec<LineLeftOut>,
    /// Values left out as they failed the source's quality check.
    pub flagged: usize,
    /// Values that stood twice and alike.
    pub twice: usize,
    /// Days with values Earth's weather cannot have, in these units.
    pub impossible: Vec<NaiveDate>,
    /// Figures with a decimal point: they are no tenths.
    pub decimals: usize,
}

/// Columns of a `.dly` line, from 0: where the first value starts, and how wide one with its flags is.
const FIRST: usize = 21;
const WIDE: usize = 8;
const DLY_COLUMNS: usize = FIRST + 31 * WIDE;
const MISSING: &str = "-9999";

/// Reads a file's text; `None` when it is in none of the layouts.
pub fn read(text: &str, units: FileUnits) -> Option<Found> {
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().find(|line| !line.trim().is_empty())?;
    let mut reading = Reading::new(units);
    let layout = layout(first)?;
    match layout {
        Layout::Dly => text.lines().enumerate().for_each(|(n, line)| reading.dly(n + 1, line)),
        Layout::Long => text.lines().enumerate().for_each(|(n, line)| reading.long(n + 1, line)),
        Layout::Wide => reading.wide(text),
    }
    Some(reading.found(layout))
}

fn layout(first: &str) -> Option<Layout> {
    let upper = first.to_ascii_uppercase();
    if upper.contains("STATION") && upper.contains("DATE") {
        return Some(Layout::Wide);
    }
    let cells: Vec<&str> = first.split(',').collect();
    if cells.len() >= 4 && cells[1].trim().len() == 8 && cells[1].trim().bytes().all(|b| b.is_ascii_digit()) {
        return Some(Layout::Long);
    }
    let fixed =
        first.is_ascii() && first.get(11..17).is_some_and(|ym| ym.bytes().all(|b| b.is_ascii_digit()));
    fixed.then_some(Layout::Dly)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Element {
    Rain,
    Max,
    Min,
    Wind,
}

impl Element {
    fn of(name: &str) -> Option<Self> {
        match name.trim() {
            "PRCP" => Some(Self::Rain),
            "TMAX" => Some(Self::Max),
            "TMIN" => Some(Self::Min),
            "AWND" => Some(Self::Wind),
            _ => None,
        }
    }
}

struct Reading {
    units: FileUnits,
    station: String,
    values: BTreeMap<(NaiveDate, Element), i64>,
    left_out: Vec<LineLeftOut>,
    flagged: usize,
    twice: usize,
    decimals: usize,
}

impl Reading {
    fn new(units: FileUnits) -> Self {
        let (station, values, left_out) = (String::new(), BTreeMap::new(), Vec::new());
        Self { units, station, values, left_out, flagged: 0, twice: 0, decimals: 0 }
    }

    fn leave(&mut self, line: usize, why: BadLine, what: &str) {
        self.left_out.push(LineLeftOut { line, why, what: what.trim().chars().take(40).collect() });
    }

    fn at_station(&mut self, line: usize, station: &str) -> bool {
        let station = station.trim().trim_matches('"');
        if self.station.is_empty() {
            station.clone_into(&mut self.station);
        }
        let same = self.station == station;
        if !same {
            self.leave(line, BadLine::OtherStation, station);
        }
        same
    }

    fn dly(&mut self, n: usize, line: &str) {
        if line.trim().is_empty() {
            return;
        }
        // Only the last value's flags can be blanks that an editor took off.
        if !line.is_ascii() || line.len() + 3 < DLY_COLUMNS {
            return self.leave(n, BadLine::CutShort, line);
        }
        let line = format!("{line:<DLY_COLUMNS$}");
        let Some(element) = Element::of(&line[17..21]) else { return };
        if !self.at_station(n, &line[..11]) {
            return;
        }
        let (Ok(year), Ok(month)) = (line[11..15].parse::<i32>(), line[15..17].parse::<u32>()) else {
            return self.leave(n, BadLine::NoSuchDay, &line[11..17]);
        };
        for slot in 0..31_usize {
            let at = FIRST + slot * WIDE;
            let value = line[at..at + 5].trim();
            if value == MISSING || value.is_empty() {
                continue;
            }
            let date = u32::try_from(slot + 1).ok().and_then(|d| NaiveDate::from_ymd_opt(year, month, d));
            let Some(date) = date else {
                self.leave(n, BadLine::NoSuchDay, &format!("{year}-{month:02}-{:02}", slot + 1));
                continue;
            };
            self.value(n, (date, element), value, &line[at + 5..at + 6], &line[at + 6..at + 7]);
        }
    }

    fn long(&mut self, n: usize, line: &str) {
        if line.trim().is_empty() {
            return;
        }
        let cells: Vec<&str> = line.split(',').map(str::trim).collect();
        if cells.len() < 7 {
            return self.leave(n, BadLine::CutShort, line);
        }
        let Some(element) = Element::of(cells[2]) else { return };
        if !self.at_station(n, cells[0]) {
            return;
        }
        let Ok(date) = NaiveDate::parse_from_str(cells[1], "%Y%m%d") else {
            return self.leave(n, BadLine::NoSuchDay, cells[1]);
        };
        self.value(n, (date, element), cells[3], cells[4], cells[5]);
    }

    fn wide(&mut self, text: &str) {
        let mut reader =
            csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
        let Ok(heads) = reader.headers().cloned() else { return };
        let column = |name: &str| heads.iter().position(|head| head.eq_ignore_ascii_case(name));
        let (Some(station), Some(date)) = (column("STATION"), column("DATE")) else { return };
        let elements: Vec<(Element, usize, Option<usize>)> = ["PRCP", "TMAX", "TMIN", "AWND"]
            .into_iter()
            .filter_map(|name| {
                Some((Element::of(name)?, column(name)?, column(&format!("{name}_ATTRIBUTES"))))
            })
            .collect();
        for (n, row) in reader.records().enumerate() {
            let Ok(row) = row else {
                self.leave(n + 2, BadLine::CutShort, "");
                continue;
            };
            if row.len() < heads.len() {
                self.leave(n + 2, BadLine::CutShort, row.get(date).unwrap_or_default());
                continue;
            }
            let cell = |at: usize| row.get(at).unwrap_or_default();
            if !self.at_station(n + 2, cell(station)) {
                continue;
            }
            let Ok(day) = cell(date).get(..10).unwrap_or_default().parse::<NaiveDate>() else {
                self.leave(n + 2, BadLine::NoSuchDay, cell(date));
                continue;
            };
            for (element, at, flags) in &elements {
                let value = cell(*at);
                if value.is_empty() || value == MISSING {
                    continue;
                }
                let mut flags = flags.map_or("", cell).split(',');
                let (measured, quality) =
                    (flags.next().unwrap_or_default(), flags.next().unwrap_or_default());
                self.value(n + 2, (day, *element), value, measured, quality);
            }
        }
    }

    /// One value with its measurement and quality flags.
    fn value(&mut self, n: usize, at: (NaiveDate, Element), text: &str, measured: &str, quality: &str) {
        if text == MISSING || text.is_empty() {
            return;
        }
        if !quality.trim().is_empty() {
            self.flagged += 1;
            return;
        }
        // P: missing, presumed nothing fell. That is not a measurement.
        if measured.trim() == "P" {
            return;
        }
        self.decimals += usize::from(text.contains('.'));
        let Some(value) = tenths(text, at.1, self.units) else {
            return self.leave(n, BadLine::NotANumber, text);
        };
        match self.values.get(&at) {
            Some(before) if *before == value => self.twice += 1,
            Some(_) => self.leave(n, BadLine::SaysOtherwise, &at.0.to_string()),
            None => {
                self.values.insert(at, value);
            }
        }
    }

    fn found(self, layout: Layout) -> Found {
        let mut days: BTreeMap<NaiveDate, Day> = BTreeMap::new();
        for ((date, element), value) in self.values {
            let day = days.entry(date).or_insert_with(|| Day::blank(date, &self.station));
            match element {
                Element::Rain => day.rain_tenths = Some(value),
                Element::Max => day.max_dc = Some(value),
                Element::Min => day.min_dc = Some(value),
                Element::Wind => day.wind_tenths = Some(value),
            }
        }
        let days: Vec<Day> = days.into_values().collect();
        let impossible = days.iter().filter(|d| !d.impossible().is_empty()).map(|d| d.day).collect();
        Found {
            layout,
            station: self.station,
            days,
            left_out: self.left_out,
            flagged: self.flagged,
            twice: self.twice,
            impossible,
            decimals: self.decimals,
        }
    }
}

/// A figure as the register keeps it: tenths of °C, of mm, of km/h.
fn tenths(text: &str, element: Element, units: FileUnits) -> Option<i64> {
    let value: f64 = text.trim().parse().ok().filter(|v: &f64| v.is_finite() && v.abs() < 1e6)?;
    let tenths = match (units, element) {
        (FileUnits::Tenths, Element::Wind) => value * 3.6,
        (FileUnits::Tenths, _) => value,
        (FileUnits::Metric, Element::Wind) => value * 36.0,
        (FileUnits::Metric, _) => value * 10.0,
        (FileUnits::Us, Element::Rain) => value * 254.0,
        (FileUnits::Us, Element::Wind) => value * 16.093_44,
        (FileUnits::Us, Element::Max | Element::Min) => (value - 32.0) / 1.8 * 10.0,
    };
    #[allow(clippy::cast_possible_truncation, reason = "bounded above: less than a million")]
    Some(tenths.round() as i64)
}
