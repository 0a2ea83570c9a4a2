//! A station's file in the published layouts of GHCN-Daily. The values are invented, the columns are not.
//! Never a real station: its id says that it is none.
//! Invariant: what the layout says is missing or failed its check is not weather.

use shadeyard_backend::weather::rules::Day;
use shadeyard_backend::weather::rules::ghcn::{BadLine, FileUnits, Found, Layout, read};

const DLY: &str = include_str!("reference/invented.dly");

fn found(text: &str, units: FileUnits) -> Found {
    read(text, units).expect("a layout that is known")
}

fn day<'a>(found: &'a Found, day: &str) -> &'a Day {
    found.days.iter().find(|d| d.day.to_string() == day).unwrap_or_else(|| panic!("no {day} in {found:?}"))
}

/// Source: NOAA, GHCN-Daily readme: ID in columns 1–11, YEAR 12–15, MONTH 16–17, ELEMENT 18–21, VALUE1 22–26, MFLAG1
/// 27, QFLAG1 28, SFLAG1 29, then 30 more of eight columns each: 269 in all.
#[test]
fn the_columns_are_where_the_readme_has_them() {
    for line in DLY.lines() {
        assert_eq!(line.len(), 269);
        assert_eq!((&line[0..11], &line[11..15], &line[15..17]), ("XX000INVENT", "2026", "02"));
    }
    let first = DLY.lines().next().expect("a line");
    assert_eq!((&first[17..21], &first[21..26], &first[29..34]), ("TMAX", "   31", "   32"));
    assert_eq!(&first[21 + 30 * 8..21 + 30 * 8 + 5], "-9999", "February has no 31st");
}

/// Source: the same: PRCP in tenths of mm, TMAX and TMIN in tenths of °C, AWND in tenths of m/s; −9999 is missing; a
/// value with a quality flag failed a check; T is a trace, P missing and presumed nothing.
#[test]
fn units_flags_and_missing_values_are_read_as_the_readme_says() {
    let found = found(DLY, FileUnits::Tenths);
    assert_eq!((found.layout, found.station.as_str(), found.days.len()), (Layout::Dly, "XX000INVENT", 28));
    let first = day(&found, "2026-02-01");
    assert_eq!((first.max_dc, first.min_dc, first.rain_tenths), (Some(31), Some(-49), Some(0)));
    assert_eq!(first.wind_tenths, Some(90), "2.5 m/s are 9 km/h");
    assert_eq!(day(&found, "2026-02-03").rain_tenths, Some(127));
    assert_eq!(day(&found, "2026-02-04").rain_tenths, Some(0), "a trace");
    assert_eq!(day(&found, "2026-02-05").rain_tenths, None, "it failed a check");
    assert_eq!(day(&found, "2026-02-06").rain_tenths, None, "presumed, not measured");
    assert_eq!((found.flagged, found.left_out.len(), found.impossible.len()), (1, 0, 0));
}

/// Source: the by-station CSV of GHCN-Daily (readme-by_station): ID, YYYYMMDD, element, value, three flags, hour.
#[test]
fn the_long_csv_says_the_same() {
    let text = "XX000INVENT,20260201,TMAX,31,,,Z,\nXX000INVENT,20260201,TMIN,-49,,,Z,\nXX000INVENT,20260203,PRCP,127,,,Z,0700\n\
                XX000INVENT,20260205,PRCP,9999,,G,Z,\nXX000INVENT,20260230,PRCP,10,,,Z,\nXX000INVENT,20260203,PRCP,127,,,Z,0700\n\
                XX000INVENT,20260203,PRCP,90,,,Z,0700\nXX000INVENT,2026";
    let found = found(text, FileUnits::Tenths);
    assert_eq!(found.layout, Layout::Long);
    assert_eq!(day(&found, "2026-02-01").min_dc, Some(-49));
    assert_eq!(day(&found, "2026-02-03").rain_tenths, Some(127), "the first one stands");
    assert_eq!((found.flagged, found.twice), (1, 1));
    let why: Vec<BadLine> = found.left_out.iter().map(|l| l.why).collect();
    assert_eq!(why, [BadLine::NoSuchDay, BadLine::SaysOtherwise, BadLine::CutShort]);
}

/// Source: the access CSV of GHCN-Daily: a row a day, a column an element, its flags as ELEMENT_ATTRIBUTES.
#[test]
fn the_wide_csv_says_the_same_whatever_its_units() {
    let head = "\"STATION\",\"DATE\",\"LATITUDE\",\"PRCP\",\"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n";
    let tenths = format!(
        "{head}\"XX000INVENT\",\"2026-02-01\",\"0\",\"127\",\",,Z\",\"31\",\",,Z\",\"-49\",\",,Z\"\n\
         \"XX000INVENT\",\"2026-02-30\",\"0\",\"0\",\",,Z\",\"31\",\",,Z\",\"-49\",\",,Z\"\n\
         \"XX000INVENT\",\"2026-02-02\",\"0\",\"50\",\",G,Z\",\"\",\"\",\"-49\",\",,Z\"\n"
    );
    let from_tenths = found(&tenths, FileUnits::Tenths);
    assert_eq!(from_tenths.layout, Layout::Wide);
    assert_eq!(from_tenths.left_out.iter().map(|l| l.why).collect::<Vec<_>>(), [BadLine::NoSuchDay]);
    assert_eq!(day(&from_tenths, "2026-02-02").rain_tenths, None);
    let metric = format!("{head}XX000INVENT,2026-02-01,0,12.7,\",,Z\",3.1,\",,Z\",-4.9,\",,Z\"\n");
    let us = format!("{head}XX000INVENT,2026-02-01,0,0.50,\",,Z\",37.6,\",,Z\",23.2,\",,Z\"\n");
    for (text, units) in [(metric.as_str(), FileUnits::Metric), (us.as_str(), FileUnits::Us)] {
        let found = found(text, units);
        assert!(day(&found, "2026-02-01").says_as(day(&from_tenths, "2026-02-01")), "{units:?} {found:?}");
        assert!(found.decimals > 0, "a file of tenths has none");
    }
}

/// Source: by hand. 64 °F read as tenths is 6.4 °C and passes; 640 tenths of °C cannot be. A file in whole °F is found
/// out by its impossible days, one in °C by its decimal points.
#[test]
fn wrong_units_are_found_by_what_earth_can_have() {
    let text = "XX000INVENT,20260701,TMAX,310,,,Z,\nXX000INVENT,20260701,TMIN,190,,,Z,\n";
    assert!(found(text, FileUnits::Tenths).impossible.is_empty());
    assert_eq!(found(text, FileUnits::Metric).impossible.len(), 1);
    assert_eq!(found(text, FileUnits::Us).impossible.len(), 1);
}

#[test]
fn lines_cut_short_are_named_and_the_rest_is_read() {
    let cut = &DLY[..DLY.len() - 100];
    let found = found(cut, FileUnits::Tenths);
    assert_eq!(found.left_out.iter().map(|l| (l.line, l.why)).collect::<Vec<_>>(), [(5, BadLine::CutShort)]);
    assert_eq!(found.days.len(), 28);
    let trimmed: String = DLY.lines().map(|line| format!("{}\r\n", line.trim_end())).collect();
    assert_eq!(self::found(&trimmed, FileUnits::Tenths).days.len(), 28, "an editor took the blanks off");
    assert_eq!(read("just a letter\nto a friend", FileUnits::Tenths), None);
    assert_eq!(read("", FileUnits::Tenths), None);
}

/// A .dly line for February whose 30th holds a value: no calendar has that day.
#[test]
fn the_thirtieth_of_february_is_left_out_and_said() {
    let mut line = DLY.lines().next().expect("a line").to_owned();
    line.replace_range(21 + 29 * 8..21 + 29 * 8 + 5, "   99");
    let found = found(&line, FileUnits::Tenths);
    assert_eq!(found.days.len(), 28);
    assert_eq!(
        found.left_out.first().map(|l| (l.why, l.what.as_str())),
        Some((BadLine::NoSuchDay, "2026-02-30"))
    );
}
