//! Rough dates against the published date format.
//! Never our own choice of season months: `measure` tests that.
//! Invariant: the format's examples are read or refused, never read as something else.

use shadeyard_backend::measure::Rough;

fn span(text: &str) -> Option<(String, String)> {
    let (first, last) = Rough::parse(text).ok()?.span(false)?;
    Some((first.to_string(), last.to_string()))
}

/// Source: Extended Date/Time Format specification, Library of Congress, 4 February 2019 (ISO 8601-2):
/// its examples of level 0 dates, read in copies.
#[test]
fn a_day_a_month_and_a_year_mean_what_the_format_says() {
    assert_eq!(span("1985-04-12"), Some(("1985-04-12".into(), "1985-04-12".into())));
    assert_eq!(span("1985-04"), Some(("1985-04-01".into(), "1985-04-30".into())));
    assert_eq!(span("1985"), Some(("1985-01-01".into(), "1985-12-31".into())));
}

/// Source: the same, level 1: 21 to 24 in place of the month are spring, summer, autumn, winter;
/// its example is 2001-21, spring 2001. Which months those are it leaves open.
#[test]
fn the_seasons_follow_each_other_as_the_format_numbers_them() {
    assert_eq!(span("2001-21"), Some(("2001-03-01".into(), "2001-05-31".into())));
    let starts: Vec<_> = (21..=24).filter_map(|n| span(&format!("2001-{n}"))).collect();
    assert_eq!(starts.len(), 4);
    assert!(starts.windows(2).all(|pair| pair[0].1 < pair[1].0));
    assert_eq!(span("2001-20"), None);
    assert_eq!(span("2001-25"), None, "level 2 hemispheres are not ours to read");
}

/// Source: the same: upper-case X stands for an unspecified digit (lower-case u in the 2012 draft).
#[test]
fn an_unspecified_year_is_unknown_and_not_a_year() {
    assert!(Rough::parse("XXXX").is_ok_and(|date| date.is_unknown()));
    assert!(Rough::parse("uuuu").is_err());
}

/// Source: the same: times, intervals, `?`, `~`, `%`, part-unspecified, negative and long years, and
/// ISO 8601's basic format, which it forbids. The register has no use for them and must not guess.
#[test]
fn what_the_format_allows_beyond_our_subset_is_refused_not_guessed() {
    let beyond = [
        "1985-04-12T23:20:30",
        "1964/2008",
        "1984?",
        "2004-06~",
        "2004-06-11%",
        "201X",
        "2004-XX",
        "1985-04-XX",
        "-1985",
        "Y170000002",
        "1985-04/..",
        "19850412",
    ];
    for text in beyond {
        assert!(Rough::parse(text).is_err(), "{text}");
    }
}
