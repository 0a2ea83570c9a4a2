//! What differs between logs beside the question, made into columns.
//! Never the group that is asked about, nor what follows from it.
//! Invariant: every column has the mean 0 over the logs compared, so figures speak of an average log.

use super::life::Life;
use super::priors;
use super::question::{GroupBy, Question, group_of};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Most levels of one covariate that get a column; the rarest go without.
const MOST_LEVELS: usize = 16;

/// Columns, row by row.
#[derive(Debug, Clone, Default)]
pub struct Covariates {
    /// Values, `ridge.len()` a log.
    pub x: Vec<f64>,
    /// How far each may move a log beforehand.
    pub ridge: Vec<f64>,
    /// What was taken out, by its word.
    pub names: Vec<String>,
    /// Each log's size as a factor on its exposure; 1 where size does not matter or is not known.
    pub size: Vec<f64>,
    /// The size of the average log, litres.
    pub litres: Option<f64>,
}

/// The columns for these logs.
pub fn covariates(ask: &Question, lives: &[&Life]) -> Covariates {
    let mut columns: Vec<Vec<f64>> = Vec::new();
    let mut made = Covariates { size: vec![1.0; lives.len()], ..Covariates::default() };
    for (with, sd) in beside(ask.by) {
        let levels = levels(with, lives);
        if levels.is_empty() {
            continue;
        }
        made.names.push(with.word().to_owned());
        for column in levels {
            columns.push(column);
            made.ridge.push(sd);
        }
    }
    if let Some(power) = ask.measure.size_power().filter(|_| ask.by != GroupBy::Thickness)
        && let Some((litres, column)) = size(lives)
    {
        made.litres = Some(litres);
        made.size = column.iter().map(|x| (power * x).exp()).collect();
        made.names.push("size".to_owned());
        columns.push(column);
        made.ridge.push(priors::SIZE_SD);
    }
    made.x = (0..lives.len()).flat_map(|i| columns.iter().map(move |c| c[i])).collect();
    made
}

fn beside(by: GroupBy) -> Vec<(GroupBy, f64)> {
    let all = [
        (GroupBy::Mushroom, priors::MUSHROOM_SD),
        (GroupBy::Strain, priors::STRAIN_SD),
        (GroupBy::Method, priors::METHOD_SD),
    ];
    let follows = |with: GroupBy| match by {
        GroupBy::Strain | GroupBy::Class => matches!(with, GroupBy::Strain | GroupBy::Mushroom),
        GroupBy::Mushroom => matches!(with, GroupBy::Mushroom | GroupBy::Strain),
        other => other == with,
    };
    let wood = !matches!(by, GroupBy::Wood | GroupBy::WoodSource);
    let mut some: Vec<(GroupBy, f64)> = all.into_iter().filter(|(with, _)| !follows(*with)).collect();
    if wood {
        some.push((GroupBy::Wood, priors::BETWEEN_SCALE));
    }
    some
}

/// A centred column for each level; none when all logs that are known are of one.
fn levels(with: GroupBy, lives: &[&Life]) -> Vec<Vec<f64>> {
    let of: Vec<Option<Cow<'_, str>>> = lives.iter().map(|l| group_of(with, l).map(|(key, _)| key)).collect();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for key in of.iter().flatten() {
        *counts.entry(key).or_default() += 1;
    }
    if counts.len() < 2 {
        return Vec::new();
    }
    let known: usize = counts.values().sum();
    let mut levels: Vec<(&str, usize)> = counts.into_iter().collect();
    levels.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
    levels.truncate(MOST_LEVELS);
    let column = |(key, n): (&str, usize)| {
        let share = n as f64 / known as f64;
        let value =
            |o: &Option<Cow<'_, str>>| o.as_ref().map_or(0.0, |k| f64::from(u8::from(k == key)) - share);
        of.iter().map(value).collect()
    };
    levels.into_iter().map(column).collect()
}

/// Logarithms of litres about their mean, and the litres of that mean; unknown ones stand at it.
fn size(lives: &[&Life]) -> Option<(f64, Vec<f64>)> {
    let logs: Vec<Option<f64>> = lives.iter().map(|l| l.litres.filter(|v| *v > 0.0).map(f64::ln)).collect();
    let known: Vec<f64> = logs.iter().flatten().copied().collect();
    if known.is_empty() {
        return None;
    }
    let mean = super::anova::sum(known.iter().copied()) / known.len() as f64;
    Some((mean.exp(), logs.into_iter().map(|x| x.map_or(0.0, |x| x - mean)).collect()))
}
