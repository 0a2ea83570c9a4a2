//! Tonight's round as an iCalendar file (RFC 5545).
//! Never a clock: the hours come in. Never a rule of the trade.
//! Invariant: lines end in CRLF and none is longer than 75 octets; what is cut goes on behind a blank.

use chrono::{DateTime, FixedOffset, Utc};

/// Most octets in a line, its end not counted (RFC 5545, 3.1).
const OCTETS: usize = 75;

/// One thing in a calendar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event<'a> {
    /// Names it, so that a second file of the same evening changes it and adds none.
    pub uid: &'a str,
    /// When the file was made.
    pub made: DateTime<Utc>,
    /// When it begins.
    pub start: DateTime<FixedOffset>,
    /// How long it takes, minutes.
    pub minutes: i64,
    /// What it is called.
    pub title: &'a str,
    /// What else is to be said.
    pub text: &'a str,
    /// Where; may be empty.
    pub place: &'a str,
}

/// The file of one event, with a reminder a quarter of an hour before.
pub fn calendar(event: &Event<'_>) -> String {
    let utc = |at: DateTime<Utc>| at.format("%Y%m%dT%H%M%SZ").to_string();
    let start = event.start.with_timezone(&Utc);
    let mut lines = vec![
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".to_owned(),
        "PRODID:-//Shadeyard//Rounds//EN".to_owned(),
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{}", escaped(event.uid)),
        format!("DTSTAMP:{}", utc(event.made)),
        format!("DTSTART:{}", utc(start)),
        format!("DURATION:PT{}M", event.minutes),
        format!("SUMMARY:{}", escaped(event.title)),
        format!("DESCRIPTION:{}", escaped(event.text)),
    ];
    if !event.place.is_empty() {
        lines.push(format!("LOCATION:{}", escaped(event.place)));
    }
    lines.extend(["BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:-PT15M"].map(str::to_owned));
    lines.push(format!("DESCRIPTION:{}", escaped(event.title)));
    lines.extend(["END:VALARM", "END:VEVENT", "END:VCALENDAR"].map(str::to_owned));
    lines.iter().map(|line| folded(line)).collect()
}

/// A text value: backslash, comma, semicolon and line ends by their escapes (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | ',' | ';' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// A line with its end, cut between letters at 75 octets.
fn folded(line: &str) -> String {
    let (mut out, mut width) = (String::with_capacity(line.len() + 8), 0);
    for c in line.chars() {
        if width + c.len_utf8() > OCTETS {
            out.push_str("\r\n ");
            width = 1;
        }
        out.push(c);
        width += c.len_utf8();
    }
    out.push_str("\r\n");
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn event<'a>(title: &'a str, text: &'a str) -> Event<'a> {
        let start = DateTime::parse_from_rfc3339("2026-10-03T21:15:00+02:00").unwrap_or_default();
        let made = start.with_timezone(&Utc);
        Event { uid: "night-2026-10-03@shadeyard", made, start, minutes: 30, title, text, place: "" }
    }

    #[test]
    fn an_event_says_its_hour_in_utc_and_escapes_its_text() {
        let file = calendar(&event("Night round", "Ditch, then hemlocks;\nlamp"));
        assert!(file.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"));
        assert!(file.contains("\r\nDTSTART:20261003T191500Z\r\nDURATION:PT30M\r\n"), "{file}");
        assert!(file.contains("DESCRIPTION:Ditch\\, then hemlocks\\;\\nlamp\r\n"), "{file}");
        assert!(file.ends_with("END:VEVENT\r\nEND:VCALENDAR\r\n"));
    }

    proptest! {
        #[test]
        fn no_line_is_too_long_and_unfolding_gives_the_text_back(text in "\\PC{0,300}") {
            let file = calendar(&event(&text, "x"));
            prop_assert!(file.split("\r\n").all(|line| line.len() <= OCTETS));
            let whole = file.replace("\r\n ", "");
            let expected = format!("SUMMARY:{}\r\n", escaped(&text));
            prop_assert!(whole.contains(&expected), "{}", file);
        }
    }
}
