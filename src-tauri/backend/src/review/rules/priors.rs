//! Every figure that Review assumes before it has seen the yard, with its reason. Nowhere else.
//! Never a figure that could be counted from the record instead.
//! Invariant: each is weak: some twenty logs of the yard's own outweigh it.

use crate::where_from::Mark;

/// How far groups may lie apart: the half-Cauchy scale of the standard deviation between groups, on
/// the log scale. Half its weight lies below 0.5, groups that differ by a factor of 1.65; its long
/// tail lets oak give five times what cherry does (HortTechnology 6(4), 1996). A prior that reaches
/// down to 0 lets groups be alike; one without a point at 0 keeps three groups from being called so.
pub const BETWEEN_SCALE: f64 = 0.5;

/// How much one log of a group differs from the next in what it gives: the variance of the factor,
/// apart from what its flushes add. 0.2² after the invented yard's and common practice: logs cut from
/// one tree and laid on one day give within a fifth of each other. Chosen; the scale is estimated.
pub const LOG_VARIANCE: f64 = 0.04;

/// What the luck of the flushes adds to that in one log-year: two flushes a year whose weights differ
/// by half make 0.5²/2. So a log watched for long weighs more than one that has just begun. Chosen.
pub const FLUSH_VARIANCE_YEAR: f64 = 0.125;

/// How surely those two variances are known beforehand, in logs' worth: two. Chosen, so that two
/// logs that happen to agree are not taken for a law.
pub const SPREAD_DF: f64 = 2.0;

/// Variation of one picking's weight about its log's mean: a standard deviation of 0.6 of it. It
/// widens what rests on pickings nobody weighed. Chosen: rain-wet and small pickings lie that far apart.
pub const PICKING_CV: f64 = 0.6;

/// How far covariates may move a log, as standard deviations on the log scale. Mushrooms: a factor of
/// e either way. Strains: a third, as sellers' classes promise no more. Method: two thirds. Thickness:
/// a power of its litres around [`SIZE_POWER`]. Chosen; rank-deficient designs stay wide, not wrong.
pub const MUSHROOM_SD: f64 = 1.0;
/// See [`MUSHROOM_SD`].
pub const STRAIN_SD: f64 = 0.3;
/// See [`MUSHROOM_SD`].
pub const METHOD_SD: f64 = 0.5;
/// See [`MUSHROOM_SD`].
pub const SIZE_SD: f64 = 0.5;
/// Yield grows with litres to about this power: thicker logs give more, though less per litre.
/// Between 0, all the same, and 1, in proportion. Chosen.
pub const SIZE_POWER: f64 = 0.7;

/// Shares of a shiitake log's yield in half-years from laying, the spawn run in front: 1/6, 1/3, 1/3,
/// 1/6 in years counted from the first fruit (University of Maryland RES-11; Bruhn et al. 2009), the
/// first fruit 10 months after laying, within the 6–18 of FOR-85. The yard's own pickings overrule it.
pub const SHIITAKE_HALVES: [f64; 10] = [0.0, 0.028, 0.083, 0.111, 0.167, 0.167, 0.167, 0.139, 0.083, 0.055];

/// The same for Hericium: 10, 20, 30, 28 and 12 per cent from the first fruit, 14 months after
/// laying; peaks in years three and four of five (Agroforestry Systems 89:549, 2015).
pub const HERICIUM_HALVES: [f64; 13] =
    [0.0, 0.0, 0.033, 0.05, 0.083, 0.1, 0.133, 0.15, 0.143, 0.14, 0.087, 0.06, 0.021];

/// How many log-years of the yard's own the shares above weigh in each half-year. Chosen.
pub const PROFILE_LOG_YEARS: f64 = 2.0;

/// Fewest logs behind a figure that may be called the answer. Two logs have a spread that nobody knows.
pub const FEWEST_LOGS: usize = 3;

/// From this probability on a group is said to have done best.
pub const SURE: f64 = 0.9;

/// No forecast of more logs than this: past it the difference is not worth chasing.
pub const MOST_NEEDED: u32 = 200;

/// Draws for the probabilities of being best: their own error is then below 0.008.
pub const DRAWS: usize = 4000;

/// Where each assumption comes from, for the screen: key, value in words' unit, mark, source.
pub fn all() -> Vec<(&'static str, f64, Mark, &'static str)> {
    vec![
        ("between_scale", BETWEEN_SCALE, Mark::Chosen, "HortTechnology 6(4), 1996 for the widest gap"),
        ("log_variance", LOG_VARIANCE, Mark::Chosen, ""),
        ("flush_variance_year", FLUSH_VARIANCE_YEAR, Mark::Chosen, ""),
        ("picking_cv", PICKING_CV, Mark::Chosen, ""),
        ("size_power", SIZE_POWER, Mark::Chosen, ""),
        (
            "profile_shiitake",
            PROFILE_LOG_YEARS,
            Mark::Published,
            "University of Maryland RES-11; Bruhn, Mihail & Pickens 2009; University of Kentucky FOR-85",
        ),
        ("profile_hericium", PROFILE_LOG_YEARS, Mark::Published, "Agroforestry Systems 89:549, 2015"),
    ]
}
