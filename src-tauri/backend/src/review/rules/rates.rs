//! Figures that are amounts: grams for a year, a litre, a kilogram, a soak, a life; damage for grams.
//! Never a time: `times` has those.
//! Invariant: a log counts by what it could have given while it was watched, and a young one by nothing.

use super::anova::anova;
use super::compare::{Group, Worked, left_out};
use super::covariates::{Covariates, covariates};
use super::life::{Life, Pick};
use super::pooling::Posterior;
use super::profile::Profile;
use super::question::{GroupBy, Measure, Question};
use super::reply::{Aside, Differ, Dot, GroupRow, Untold};
use super::yields::{Amount, fit};
use super::{priors, saying};
use crate::strains::rules::Mushroom;
use std::collections::BTreeMap;

/// Days after a soak whose pickings are its answer: pins a few days after, picking within one to two
/// weeks (common practice), and a week more in the cold.
pub const SOAK_DAYS: i32 = 28;
/// The least share of a life, or years, that a log which gave something counts for.
const LEAST: f64 = 0.02;

/// A log's amount and the bare division behind its dot.
struct Counted<'a> {
    life: &'a Life,
    gave: f64,
    exposure: f64,
    plain: f64,
    variance: f64,
    open: bool,
}

/// What every log of a question is measured against.
struct Yard {
    usual: BTreeMap<Mushroom, f64>,
    profiles: BTreeMap<bool, Profile>,
    /// Years that stand for a whole life, so that an average log's exposure is its years.
    years: BTreeMap<bool, f64>,
}

/// Works the rows out.
pub fn work(ask: &Question, groups: &[Group<'_>]) -> Worked {
    let yard = Yard::of(groups);
    let mut asides = Vec::new();
    let mut weightless = vec![0; groups.len()];
    let counted: Vec<Vec<Counted<'_>>> = groups
        .iter()
        .enumerate()
        .map(|(j, group)| {
            group
                .lives
                .iter()
                .filter_map(|life| match yard.counted(ask, life) {
                    Ok(counted) => Some(counted),
                    Err(why) => {
                        weightless[j] += usize::from(why == Aside::NoWeights);
                        asides.push(why);
                        None
                    }
                })
                .collect()
        })
        .collect();
    let logs: Vec<&Life> = counted.iter().flatten().map(|c| c.life).collect();
    let beside = covariates(ask, &logs);
    let common =
        if ask.measure == Measure::Damage || ask.measure == Measure::Soak { 0.0 } else { shared(&logs) };
    let posterior = fitted(&counted, &beside, groups.len()).map(|p| p.widened(common));
    let mut rows: Vec<GroupRow> = groups
        .iter()
        .zip(&counted)
        .enumerate()
        .map(|(j, (group, counted))| row(ask.measure, group, counted, posterior.as_ref(), j, weightless[j]))
        .collect();
    let at: Vec<usize> = (0..groups.len()).collect();
    let (between, sigma) = posterior.as_ref().map_or((0.0, 1.0), Posterior::spreads);
    let mean_variance = mean(counted.iter().flatten().map(|c| c.variance)).unwrap_or(1.0) * sigma * sigma;
    let (answer, beats) =
        saying::say(&mut rows, &at, posterior.as_ref(), ask.measure.more_is_better(), mean_variance);
    Worked {
        rows,
        answer: Some(answer),
        beats,
        left_out: left_out(asides.into_iter()),
        differ: differ(&counted),
        between: posterior.map(|_| between),
        adjusted: beside.names,
        litres: beside.litres,
    }
}

/// The variance that all figures share because the shares of the years are learnt from the same pickings:
/// about that of the mean of all logs, twice, as the late years rest on fewer of them.
fn shared(logs: &[&Life]) -> f64 {
    let years: f64 = logs.iter().filter_map(|l| l.ages()).map(|(a, b)| b - a).sum();
    2.0 * (priors::LOG_VARIANCE + priors::FLUSH_VARIANCE_YEAR) / years.max(1.0)
}

fn fitted(counted: &[Vec<Counted<'_>>], beside: &Covariates, groups: usize) -> Option<Posterior> {
    let amounts: Vec<Amount> = counted
        .iter()
        .enumerate()
        .flat_map(|(group, logs)| logs.iter().map(move |c| (group, c)))
        .zip(&beside.size)
        .map(|((group, c), size)| Amount {
            group,
            gave: c.gave,
            exposure: c.exposure * size,
            variance: c.variance,
        })
        .collect();
    fit(&amounts, groups, &beside.x, &beside.ridge)
}

fn row(
    measure: Measure,
    group: &Group<'_>,
    counted: &[Counted<'_>],
    posterior: Option<&Posterior>,
    j: usize,
    weightless: usize,
) -> GroupRow {
    let mut why = group.untold(counted.len(), weightless);
    if why.is_none() && posterior.is_none() {
        why = Some(Untold::NothingSeen);
    }
    let mut row = group.row(measure, why);
    row.used = counted.len() as u32;
    let (gave, plain) = counted.iter().fold((0.0, 0.0), |(g, e), c| (g + c.gave, e + c.plain));
    row.plain = (plain > 0.0).then(|| gave / plain);
    let top = counted.iter().map(|c| 1.0 / c.variance).fold(0.0, f64::max);
    row.dots = counted
        .iter()
        .map(|c| Dot {
            log: c.life.id.clone(),
            value: c.gave / c.exposure,
            weight: 1.0 / c.variance / top,
            open: c.open,
        })
        .collect();
    if let Some(posterior) = posterior.filter(|_| !counted.is_empty()) {
        row.mean = Some(posterior.quantile(j, 0.5).exp());
        row.low = Some(posterior.quantile(j, 0.05).exp());
        row.high = Some(posterior.quantile(j, 0.95).exp());
        row.pull = Some(posterior.pull(j));
    }
    row.from = row
        .from
        .clone()
        .of_logs(i64::from(row.used))
        .with("gave_g", (gave * 10.0).round() / 10.0)
        .with(
            if measure == Measure::LogYear { "log_years" } else { "stood_for" },
            (plain * 100.0).round() / 100.0,
        )
        .with("pickings", i64::from(row.pickings))
        .with("unweighed", i64::from(row.unweighed));
    row
}

/// The one-way analysis of the logs' own figures, so that it can be done again by hand.
fn differ(counted: &[Vec<Counted<'_>>]) -> Option<Differ> {
    let values: Vec<Vec<f64>> =
        counted.iter().map(|logs| logs.iter().map(|c| c.gave / c.exposure).collect()).collect();
    anova(&values).filter(|a| a.f.is_finite()).map(|a| Differ {
        form: "anova".to_owned(),
        value: a.f,
        df: a.df_between,
        df_within: Some(a.df_within),
        p: a.p,
    })
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (n, sum) = values.fold((0.0, 0.0), |(n, sum), v| (n + 1.0, sum + v));
    (n > 0.0).then(|| sum / n)
}

impl Yard {
    fn of(groups: &[Group<'_>]) -> Self {
        let mut picked: BTreeMap<Mushroom, (f64, f64)> = BTreeMap::new();
        for life in groups.iter().flat_map(|g| &g.lives) {
            let sum = picked.entry(life.mushroom).or_default();
            sum.0 += life.grams() as f64;
            sum.1 += (life.picks.len() - life.unweighed()) as f64;
        }
        let usual: BTreeMap<Mushroom, f64> =
            picked.into_iter().filter(|(_, (_, n))| *n > 0.0).map(|(m, (g, n))| (m, g / n)).collect();
        let mut yard = Self { usual, profiles: BTreeMap::new(), years: BTreeMap::new() };
        for hericium in [false, true] {
            let (mut lives, mut at) = (Vec::new(), Vec::new());
            for (j, group) in groups.iter().enumerate() {
                let own = group.lives.iter().filter(|l| l.mushroom.is_hericium() == hericium && l.is_laid);
                own.for_each(|l| {
                    lives.push(*l);
                    at.push(j);
                });
            }
            let usual = mean(yard.usual.iter().filter(|(m, _)| m.is_hericium() == hericium).map(|(_, g)| *g));
            let profile = Profile::of(&lives, &at, usual, hericium);
            let (mut years, mut shares) = (0.0, 0.0);
            for (from, to) in lives.iter().filter_map(|l| l.ages()) {
                years += to - from;
                shares += profile.until(to) - profile.until(from);
            }
            yard.years.insert(hericium, if shares > 0.0 { years / shares } else { 1.0 });
            yard.profiles.insert(hericium, profile);
        }
        yard
    }

    /// The share of a life that fell on the log's watch; a life that is over was one.
    fn share(&self, life: &Life, whole: bool) -> Option<f64> {
        let (from, to) = life.ages()?;
        let profile = self.profiles.get(&life.mushroom.is_hericium())?;
        let until = if whole && life.died { 1.0 } else { profile.until(to) };
        Some(until - profile.until(from))
    }

    fn counted<'a>(&self, ask: &Question, life: &'a Life) -> Result<Counted<'a>, Aside> {
        if !life.is_laid {
            return Err(Aside::NotLaid);
        }
        if life.doubtful && matches!(ask.by, GroupBy::Strain | GroupBy::Class) {
            return Err(Aside::Doubtful);
        }
        let usual = self.usual.get(&life.mushroom).copied();
        let all = |of: &dyn Fn(&Pick) -> bool| life.yielded(usual, of).ok_or(Aside::NoWeights);
        match ask.measure {
            Measure::Damage => damage(life),
            Measure::Soak => self.soaked(life, usual),
            measure => {
                let (gave, guess) = all(&|_| true)?;
                self.aged(measure, life, gave, guess)
            }
        }
    }

    fn aged<'a>(
        &self,
        measure: Measure,
        life: &'a Life,
        gave: f64,
        guess: f64,
    ) -> Result<Counted<'a>, Aside> {
        let per_year = measure == Measure::LogYear;
        let share = self.share(life, !per_year).ok_or(Aside::Undated)?;
        let share = if gave > 0.0 { share.max(LEAST) } else { share };
        if share <= 1e-6 || life.in_spawn_run() {
            return Err(if life.ages().is_some_and(|(from, _)| from > 1.0) {
                Aside::CameLate
            } else {
                Aside::SpawnRun
            });
        }
        let whole = self.years.get(&life.mushroom.is_hericium()).copied().unwrap_or(1.0);
        let years = share * whole;
        let size = match measure {
            Measure::Litre => life.litres.ok_or(Aside::Unmeasured)?,
            // Grams of fresh mushroom for a kilogram of dry wood, over 10: per cent.
            Measure::DryKg => life.dry_kg.ok_or(Aside::Unmeasured)? * 10.0,
            _ => 1.0,
        };
        let (from, to) = life.ages().ok_or(Aside::Undated)?;
        let exposure = if per_year { years } else { share * size };
        let plain = if per_year { to - from } else { size };
        let variance = priors::LOG_VARIANCE + priors::FLUSH_VARIANCE_YEAR / years.max(LEAST) + guess;
        Ok(Counted { life, gave, exposure, plain: plain.max(LEAST), variance, open: !life.died })
    }

    fn soaked<'a>(&self, life: &'a Life, usual: Option<f64>) -> Result<Counted<'a>, Aside> {
        let soaks = life.soaks.len() as f64;
        if soaks == 0.0 {
            return Err(Aside::NotSoaked);
        }
        let answers = |pick: &Pick| life.soaks.iter().any(|day| (0..=SOAK_DAYS).contains(&(pick.day - day)));
        let (gave, guess) = life.yielded(usual, answers).ok_or(Aside::NoWeights)?;
        // One soak is one flush: half of what a year of two flushes leaves to luck, twice over.
        let variance = priors::LOG_VARIANCE + 2.0 * priors::FLUSH_VARIANCE_YEAR / soaks + guess;
        Ok(Counted { life, gave, exposure: soaks, plain: soaks, variance, open: !life.ended })
    }
}

/// Grams damaged of a hundred grams that were judged.
fn damage(life: &Life) -> Result<Counted<'_>, Aside> {
    let judged: Vec<(f64, f64)> = life
        .picks
        .iter()
        .filter_map(|p| Some((p.grams? as f64, p.damaged_pct? as f64)))
        .filter(|(grams, _)| *grams > 0.0)
        .collect();
    let grams: f64 = judged.iter().map(|(g, _)| g).sum();
    if judged.is_empty() {
        return Err(Aside::NotJudged);
    }
    let gave = judged.iter().map(|(g, pct)| g * pct).sum();
    let variance = 0.25 + 1.0 / judged.len() as f64;
    Ok(Counted { life, gave, exposure: grams, plain: grams, variance, open: !life.ended })
}
