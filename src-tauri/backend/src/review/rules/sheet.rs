//! The very logs that an answer used, as CSV: one line a log, with its figure and what it stands on.
//! Never another figure than the answer's.
//! Invariant: a cell that a spreadsheet would take for a formula is guarded by an apostrophe.

use super::life::Life;
use super::question::{Question, date, group_of};
use super::reply::Compared;
use std::collections::HashMap;

const HEAD: &str = "log,tag,group,used,figure,weight,still_open,wood,mushroom,strain,class,method,spawn,spot,\
laid_first,laid_last,watched_from,watched_to,ended,years_watched,first_fruit,pickings,unweighed,grams,soaks,litres,\
thick_mm,dry_kg";

/// The sheet: RFC 4180, lines end in CRLF, days are ISO 8601, an empty cell is not known.
pub fn sheet(ask: &Question, lives: &[Life], compared: &Compared) -> String {
    let dots: HashMap<&str, _> =
        compared.rows.iter().flat_map(|r| &r.dots).map(|d| (d.log.as_str(), d)).collect();
    let mut text = format!("{HEAD}\r\n");
    for life in lives.iter().filter(|l| ask.asks(l)) {
        let dot = dots.get(life.id.as_str());
        let group = group_of(ask.by, life).map(|(_, name)| name);
        let day = |day: Option<i32>| day.and_then(date).map_or(String::new(), |d| d.to_string());
        let number = |n: Option<f64>| n.map_or(String::new(), |n| format!("{}", (n * 1e4).round() / 1e4));
        let text_of = |t: Option<&str>| t.map_or(String::new(), guarded);
        let yes = |b: bool| if b { "1" } else { "0" }.to_owned();
        let cells = [
            life.id.clone(),
            guarded(&life.tag),
            text_of(group.as_deref()),
            yes(dot.is_some()),
            number(dot.map(|d| d.value)),
            number(dot.map(|d| d.weight)),
            dot.map_or(String::new(), |d| yes(d.open)),
            text_of(life.wood_name.as_deref()),
            life.mushroom.word().to_owned(),
            text_of(life.strain.as_deref()),
            life.class.map_or("", |c| c.word()).to_owned(),
            life.method.map_or("", |m| m.word()).to_owned(),
            life.spawn.map_or("", |s| s.word()).to_owned(),
            text_of(life.spot.as_deref()),
            day(life.laid.map(|l| l.0)),
            day(life.laid.map(|l| l.1)),
            day(life.watched.or(life.laid_mid())),
            day(Some(life.end)),
            yes(life.ended),
            number(life.ages().map(|(a, b)| b - a)),
            day(life.fruit),
            life.picks.len().to_string(),
            life.unweighed().to_string(),
            life.grams().to_string(),
            life.soaks.len().to_string(),
            number(life.litres),
            number(life.thick_mm),
            number(life.dry_kg),
        ];
        text.push_str(&cells.join(","));
        text.push_str("\r\n");
    }
    text
}

/// A text as a cell: guarded against being run, quoted where it must be.
pub fn guarded(text: &str) -> String {
    let run = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if run { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_is_never_run_as_a_formula() {
        for (text, cell) in [
            ("=1+1", "'=1+1"),
            ("+49", "'+49"),
            ("-a", "'-a"),
            ("@x", "'@x"),
            ("\tx", "'\tx"),
            ("\rx", "\"'\rx\""),
            ("a, b", "\"a, b\""),
            ("6\" log", "\"6\"\" log\""),
            ("plain", "plain"),
        ] {
            assert_eq!(guarded(text), cell);
        }
    }
}
