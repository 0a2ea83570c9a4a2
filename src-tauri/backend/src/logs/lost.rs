//! A log without its tag: which of the register's logs it can be, by what is seen on it.
//! Never reads the register; never decides: the grower does, by the pictures.
//! Invariant: what nobody wrote down of a log never rules it out.

use crate::words::words;

/// A log dries and its ends are cut: a measure of today may differ from the one written down by this, mm.
/// (Our own choice: a centimetre and a half.)
pub const TOLERANCE_MM: i64 = 15;

words! {
    /// How one thing asked fits a log.
    pub enum Fits {
        /// It is as asked.
        Yes = "yes",
        /// Nobody wrote it down.
        Open = "open",
        /// It was not asked.
        NotAsked = "not_asked",
        /// It is not as asked, and may have changed since.
        No = "no",
    }
}

/// What is seen on the log in hand.
#[derive(Debug, Clone, Default)]
pub struct Seen {
    /// The spot where it lies.
    pub spot: Option<String>,
    /// Its wood.
    pub wood: Option<String>,
    /// Its thickness, mm.
    pub thick_mm: Option<i64>,
}

/// What the register knows of a log.
#[derive(Debug, Clone, Default)]
pub struct Known<'a> {
    /// Its spot.
    pub spot: Option<&'a str>,
    /// Its wood.
    pub wood: Option<&'a str>,
    /// Its diameters, mm.
    pub d_mm: &'a [i64],
}

/// How a log fits what is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct Fit {
    /// The spot; a log may have been moved without a word.
    pub spot: Fits,
    /// The wood.
    pub wood: Fits,
    /// The thickness, within [`TOLERANCE_MM`] of what was measured.
    pub thick: Fits,
}

impl Fit {
    /// What fits best comes first: the smaller, the better.
    pub fn order(self) -> (u8, u8) {
        let all = [self.wood, self.thick, self.spot];
        let count = |which| all.iter().filter(|f| **f == which).count() as u8;
        (count(Fits::No), 3 - count(Fits::Yes))
    }
}

/// How a log fits; `None` when it cannot be it: another wood, or a thickness that does not change so far.
pub fn fit(seen: &Seen, known: &Known<'_>) -> Option<Fit> {
    let wood = same(seen.wood.as_deref(), known.wood);
    let thick = thick(seen.thick_mm, known.d_mm);
    let spot = same(seen.spot.as_deref(), known.spot);
    (wood != Fits::No && thick != Fits::No).then_some(Fit { spot, wood, thick })
}

fn same(seen: Option<&str>, known: Option<&str>) -> Fits {
    match (seen, known) {
        (None, _) => Fits::NotAsked,
        (Some(_), None) => Fits::Open,
        (Some(a), Some(b)) if a == b => Fits::Yes,
        _ => Fits::No,
    }
}

fn thick(seen: Option<i64>, known: &[i64]) -> Fits {
    let Some(seen) = seen else { return Fits::NotAsked };
    let (Some(thin), Some(wide)) = (known.iter().min(), known.iter().max()) else { return Fits::Open };
    if (thin - TOLERANCE_MM..=wide + TOLERANCE_MM).contains(&seen) { Fits::Yes } else { Fits::No }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_nobody_wrote_down_rules_nothing_out() {
        let seen = Seen { spot: Some("s".into()), wood: Some("red-oak".into()), thick_mm: Some(120) };
        let fit = fit(&seen, &Known::default()).unwrap();
        assert_eq!((fit.spot, fit.wood, fit.thick), (Fits::Open, Fits::Open, Fits::Open));
    }

    #[test]
    fn another_wood_or_thickness_is_another_log_and_another_spot_may_be_this_one() {
        let seen = Seen { spot: Some("s".into()), wood: Some("red-oak".into()), thick_mm: Some(120) };
        let known = |spot, wood, d_mm| Known { spot: Some(spot), wood: Some(wood), d_mm };
        assert!(fit(&seen, &known("s", "beech", &[120])).is_none());
        assert!(fit(&seen, &known("s", "red-oak", &[90, 104])).is_none());
        assert_eq!(fit(&seen, &known("s", "red-oak", &[90, 105])).map(|f| f.thick), Some(Fits::Yes));
        let (here, moved) =
            (fit(&seen, &known("s", "red-oak", &[120])), fit(&seen, &known("t", "red-oak", &[120])));
        assert!(here.unwrap().order() < moved.unwrap().order());
    }
}
