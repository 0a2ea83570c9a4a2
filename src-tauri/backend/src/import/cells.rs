//! Reading one cell: numbers with their unit, and rough dates.
//! Never a guess: what can mean two things is refused, with the reason.
//! Invariant: a cell that was read means the same to whoever wrote it.
//!
//! Every refusal is an `Invalid` on field `cell`: the row and column are the caller's to say.

use super::rules::{DateOrder, LengthUnit, WeightUnit};
use crate::error::{Error, Result};
use crate::measure::Rough;
use chrono::NaiveDate;

pub(super) const CELL: &str = "cell";
/// More digits than any log or picking needs, and few enough to be exact in a double.
const MAX_DIGITS: usize = 12;

fn refused(why: &'static str) -> Error {
    Error::invalid(CELL, why)
}

/// A length in whole millimetres.
///
/// # Errors
/// `number`, `thousands`.
pub fn length(text: &str, unit: LengthUnit) -> Result<i64> {
    whole(number(bare(text, &[unit.word()]))? * unit.mm())
}

/// A weight in whole grams.
///
/// # Errors
/// `number`, `thousands`.
pub fn weight(text: &str, unit: WeightUnit) -> Result<i64> {
    let names: &[&str] = if unit == WeightUnit::Lb { &["lbs", "lb"] } else { &[unit.word()] };
    whole(number(bare(text, names))? * unit.grams())
}

/// A count of things, or of hundredths.
///
/// # Errors
/// `number`, `thousands`; `whole` for a part of one.
pub fn count(text: &str) -> Result<i64> {
    let found = number(bare(text, &["%"]))?;
    if found.fract() == 0.0 { whole(found) } else { Err(refused("whole")) }
}

/// The text without the unit that was asked for; another unit stays and is no number.
fn bare<'a>(text: &'a str, units: &[&str]) -> &'a str {
    let unit = units.iter().find(|unit| {
        text.len()
            .checked_sub(unit.len())
            .and_then(|at| text.get(at..))
            .is_some_and(|end| end.eq_ignore_ascii_case(unit))
    });
    unit.map_or(text, |unit| text[..text.len() - unit.len()].trim_end())
}

fn whole(value: f64) -> Result<i64> {
    // Twelve digits times a thousand lie far inside an i64.
    #[allow(clippy::cast_possible_truncation, reason = "bounded by the number of digits")]
    Ok(value.round() as i64)
}

/// `1,5` and `1.5` alike. `1,500` and `1.500` can be one and a half or fifteen hundred.
fn number(text: &str) -> Result<f64> {
    let (sign, text) = text.strip_prefix('-').map_or((1.0, text), |rest| (-1.0, rest));
    let marks = |c: char| matches!(c, '.' | ',' | ' ' | '\'' | '’' | '\u{A0}' | '\u{2009}' | '\u{202F}');
    if text.is_empty() || !text.chars().all(|c| c.is_ascii_digit() || marks(c)) {
        return Err(refused("number"));
    }
    let parts: Vec<&str> = text.split(marks).collect();
    if parts.iter().any(|part| part.is_empty()) || text.len() > MAX_DIGITS + 1 {
        return Err(refused("number"));
    }
    let plain = match parts.as_slice() {
        [whole] => (*whole).to_owned(),
        [whole, part]
            if text.contains(['.', ','])
                && !(part.len() == 3 && (1..=3).contains(&whole.len()) && *whole != "0") =>
        {
            format!("{whole}.{part}")
        }
        _ => return Err(refused("thousands")),
    };
    plain.parse::<f64>().map(|n| sign * n).map_err(|_| refused("number"))
}

/// A date as roughly as it was written.
///
/// # Errors
/// `not_a_date`, `two_digit_year`, `range` for the year.
pub fn rough(text: &str, order: DateOrder) -> Result<Rough> {
    let text = text.trim().to_lowercase();
    if ["?", "unknown", "xxxx"].contains(&text.as_str()) {
        return Ok(Rough::unknown());
    }
    let parse = |text: &str| Rough::parse(text).map_err(|bad| bad.at(CELL));
    let text = without_hour(&text);
    if text.len() >= 4 && parse(text).is_ok() {
        return parse(text);
    }
    let parts: Vec<&str> = text.split([' ', ',', '/', '.', '-']).filter(|part| !part.is_empty()).collect();
    if let Some(season) = season(&parts) {
        return parse(&season);
    }
    let (year, month, day) = in_order(&parts, order)?;
    match day {
        Some(day) => parse(&format!("{year}-{month:0>2}-{day:0>2}")),
        None => parse(&format!("{year}-{month:0>2}")),
    }
}

/// A day known as such: a picking happened on one.
///
/// # Errors
/// As [`rough`]; `not_a_day` for a rough one.
pub fn day(text: &str, order: DateOrder) -> Result<NaiveDate> {
    rough(text, order)?.as_str().parse().map_err(|_| refused("not_a_day"))
}

/// Spreadsheets add midnight to a day; which hour it was is not asked.
fn without_hour(text: &str) -> &str {
    let Some((day, hour)) = text.split_once([' ', 't']) else { return text };
    let is_hour = hour.contains(':') && hour.chars().all(|c| c.is_ascii_digit() || ":.+z".contains(c));
    if is_hour { day } else { text }
}

/// `spring 2021`, `2021, autumn`: as EDTF numbers them.
fn season(parts: &[&str]) -> Option<String> {
    const SEASONS: [(&str, u8); 5] =
        [("spring", 21), ("summer", 22), ("autumn", 23), ("fall", 23), ("winter", 24)];
    let of = |word: &str| SEASONS.iter().find(|(name, _)| *name == word).map(|(_, number)| *number);
    let [a, b] = parts else { return None };
    match (of(a), of(b)) {
        (Some(season), None) if b.len() == 4 => Some(format!("{b}-{season}")),
        (None, Some(season)) if a.len() == 4 => Some(format!("{a}-{season}")),
        _ => None,
    }
}

type Parts<'a> = (&'a str, String, Option<&'a str>);

/// Year, month and day, where there is one, out of parts in the order that was asked for. A month's
/// name needs no order, nor do a month and a year of four digits.
fn in_order<'a>(parts: &[&'a str], order: DateOrder) -> Result<Parts<'a>> {
    let named = parts.iter().find_map(|part| month_named(part).map(|month| (*part, month)));
    let digits: Vec<&str> = match named {
        Some((name, _)) => parts.iter().copied().filter(|part| *part != name).collect(),
        None => parts.to_vec(),
    };
    let all_digits = digits.iter().all(|p| p.len() <= 4 && p.bytes().all(|b| b.is_ascii_digit()));
    let (year, month, day) = match (digits.as_slice(), named, order) {
        (_, _, _) if !all_digits => return Err(refused("not_a_date")),
        ([year], Some((_, month)), _) => (*year, month, None),
        ([day, year], Some((_, month)), _) if day.len() < 3 => (*year, month, Some(*day)),
        ([year, day], Some((_, month)), _) => (*year, month, Some(*day)),
        ([year, month], None, _) if year.len() == 4 => (*year, (*month).to_owned(), None),
        ([month, year], None, _) if year.len() == 4 => (*year, (*month).to_owned(), None),
        ([year, month, day], None, DateOrder::Ymd)
        | ([day, month, year], None, DateOrder::Dmy)
        | ([month, day, year], None, DateOrder::Mdy) => (*year, (*month).to_owned(), Some(*day)),
        _ => return Err(refused("not_a_date")),
    };
    match year.len() {
        4 => Ok((year, month, day)),
        // Nobody writes a year with three digits, and two leave the century open.
        2 => Err(refused("two_digit_year")),
        _ => Err(refused("not_a_date")),
    }
}

fn month_named(text: &str) -> Option<String> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let at = MONTHS.iter().position(|name| text.len() >= 3 && name.starts_with(text))?;
    Some((at + 1).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn why<T: std::fmt::Debug>(outcome: Result<T>) -> String {
        match outcome {
            Ok(value) => format!("{value:?}"),
            Err(error) => error.reply()["detail"]["why"].as_str().unwrap_or_default().to_owned(),
        }
    }

    #[test]
    fn a_comma_and_a_point_are_one_decimal_mark_and_never_thousands() {
        let mm = |text| why(length(text, LengthUnit::Cm));
        for (text, expected) in [
            ("12", "120"),
            ("12,5", "125"),
            ("12.5", "125"),
            ("12.5 cm", "125"),
            ("12CM", "120"),
            ("0,125", "1"),
            ("1000.250", "10003"),
            ("-3", "-30"),
            ("1,250", "thousands"),
            ("1.250", "thousands"),
            ("1,250.5", "thousands"),
            ("1 250", "thousands"),
            ("1.2.3", "thousands"),
            ("", "number"),
            ("12 in", "number"),
            ("twelve", "number"),
            ("1e3", "number"),
            (".5", "number"),
            ("5,", "number"),
            ("12345678901234567890", "number"),
            ("NaN", "number"),
            ("١٢", "number"),
        ] {
            assert_eq!(mm(text), expected, "{text}");
        }
        assert_eq!(why(count("4")), "4");
        assert_eq!(why(count("20 %")), "20");
        assert_eq!(why(count("4.5")), "whole");
    }

    /// Inch, ounce and pound: the international yard and pound agreement of 1959.
    #[test]
    fn units_are_turned_into_whole_millimetres_and_grams() {
        assert_eq!(why(length("6", LengthUnit::In)), "152");
        assert_eq!(why(length("40", LengthUnit::In)), "1016");
        assert_eq!(why(weight("1,2", WeightUnit::Kg)), "1200");
        assert_eq!(why(weight("8 oz", WeightUnit::Oz)), "227");
        assert_eq!(why(weight("2.5 lbs", WeightUnit::Lb)), "1134");
    }

    #[test]
    fn a_date_is_read_in_the_order_asked_for_and_no_rougher_or_finer_than_it_stands() {
        for (text, order, expected) in [
            ("2021-05-03", DateOrder::Dmy, "2021-05-03"),
            ("2021-05-03 00:00:00", DateOrder::Mdy, "2021-05-03"),
            ("3/5/2021", DateOrder::Dmy, "2021-05-03"),
            ("3/5/2021", DateOrder::Mdy, "2021-03-05"),
            ("03.05.2021", DateOrder::Dmy, "2021-05-03"),
            ("2021/5/3", DateOrder::Ymd, "2021-05-03"),
            ("3 May 2021", DateOrder::Mdy, "2021-05-03"),
            ("May 3, 2021", DateOrder::Ymd, "2021-05-03"),
            ("Sept 2021", DateOrder::Ymd, "2021-09"),
            ("2021", DateOrder::Dmy, "2021"),
            ("2021-05", DateOrder::Dmy, "2021-05"),
            ("5/2021", DateOrder::Ymd, "2021-05"),
            ("Spring 2021", DateOrder::Dmy, "2021-21"),
            ("2021, fall", DateOrder::Dmy, "2021-23"),
            ("winter 2021", DateOrder::Dmy, "2021-24"),
            ("unknown", DateOrder::Dmy, "XXXX"),
        ] {
            assert_eq!(rough(text, order).unwrap().as_str(), expected, "{text}");
        }
        for (text, order, expected) in [
            ("13/25/2021", DateOrder::Dmy, "not_a_date"),
            ("5/25/2021", DateOrder::Dmy, "not_a_date"),
            ("30.02.2021", DateOrder::Dmy, "not_a_date"),
            ("3/5/21", DateOrder::Dmy, "two_digit_year"),
            ("May 21", DateOrder::Dmy, "two_digit_year"),
            ("44319", DateOrder::Dmy, "not_a_date"),
            ("next spring", DateOrder::Dmy, "not_a_date"),
            ("3/5/1821", DateOrder::Dmy, "range"),
            ("", DateOrder::Dmy, "not_a_date"),
        ] {
            assert_eq!(why(rough(text, order)), expected, "{text}");
        }
        assert_eq!(why(day("3/5/2021", DateOrder::Dmy)), "2021-05-03");
        assert_eq!(why(day("May 2021", DateOrder::Dmy)), "not_a_day");
    }

    proptest! {
        #[test]
        fn any_cell_is_read_or_refused(text in "\\PC{0,20}|[0-9., /-]{0,14}") {
            for order in DateOrder::ALL {
                if let Ok(found) = rough(&text, *order) {
                    prop_assert_eq!(Rough::parse(found.as_str()), Ok(found));
                }
            }
            let _either = (length(&text, LengthUnit::In), weight(&text, WeightUnit::Lb), count(&text));
        }
    }
}
