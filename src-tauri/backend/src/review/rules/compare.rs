//! A question answered: which logs it is about, what they amount to, and the reply around the figures.
//! Never the register or the clock: lives and the day come in.
//! Invariant: every log that is asked about is counted in exactly one row.

use super::confounding;
use super::life::Life;
use super::odd::{odd, without};
use super::question::{GroupBy, Measure, Question, group_of};
use super::reply::{Answer, Compared, GroupRow, LeftOut, Untold};
use super::{priors, rates, times};
use crate::beside::beside;
use crate::where_from::{Mark, WhereFrom};
use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};

/// One group on the way to its row.
#[derive(Debug)]
pub struct Group<'a> {
    /// Its key; `None` for logs of a kind nobody named.
    pub key: Option<String>,
    /// Its name.
    pub name: Option<String>,
    /// Its logs.
    pub lives: Vec<&'a Life>,
}

/// What one way of working out figures gives.
#[derive(Debug, Default)]
pub struct Worked {
    /// Rows in order.
    pub rows: Vec<GroupRow>,
    /// The answer.
    pub answer: Option<Answer>,
    /// Pair by pair.
    pub beats: Vec<Vec<f64>>,
    /// Logs left out.
    pub left_out: Vec<LeftOut>,
    /// Whether groups differ.
    pub differ: Option<super::reply::Differ>,
    /// Spread between groups.
    pub between: Option<f64>,
    /// What was adjusted for.
    pub adjusted: Vec<String>,
    /// Litres of the log that figures speak of.
    pub litres: Option<f64>,
}

/// The reply to a question about these logs.
pub fn compare(ask: &Question, lives: &[Life]) -> Compared {
    let asked: Vec<&Life> = lives.iter().filter(|l| ask.asks(l)).collect();
    let groups = groups(ask.by, &asked);
    let odd_and_tied = || {
        let odd = if ask.measure.is_time() { Vec::new() } else { odd(&asked) };
        let laid: Vec<&Life> = asked.iter().copied().filter(|l| l.is_laid).collect();
        (odd, confounding::ties(ask.by, &laid, &named(&groups)))
    };
    // What stopped in a thread is not silently nothing: it is tried here once more.
    let ((odd, mut tied), worked) =
        beside(odd_and_tied, || work(ask, &groups)).unwrap_or_else(|_| (odd_and_tied(), work(ask, &groups)));
    let places: HashMap<&str, usize> =
        worked.rows.iter().enumerate().filter_map(|(i, row)| Some((row.name.as_deref()?, i))).collect();
    tied.iter_mut().for_each(|t| t.groups.sort_by_key(|name| places.get(name.as_str())));
    let without_odd = (!odd.is_empty()).then(|| {
        let lives = without(lives, &odd);
        let asked: Vec<&Life> = lives.iter().filter(|l| ask.asks(l)).collect();
        work(ask, &self::groups(ask.by, &asked)).answer
    });
    Compared {
        tied,
        answer: worked.answer.unwrap_or_else(|| Answer::bare(super::reply::Verdict::NoLogs)),
        rows: worked.rows,
        beats: worked.beats,
        odd,
        without_odd: without_odd.flatten(),
        left_out: worked.left_out,
        differ: worked.differ,
        between: worked.between,
        adjusted: worked.adjusted,
        litres: worked.litres,
    }
}

fn work(ask: &Question, groups: &[Group<'_>]) -> Worked {
    if ask.measure.is_time() { times::work(ask, groups) } else { rates::work(ask, groups) }
}

/// Keys and names, where there are any.
fn named(groups: &[Group<'_>]) -> Vec<(String, String)> {
    groups.iter().filter_map(|g| g.key.clone().zip(g.name.clone())).collect()
}

/// The groups of these logs, by key, the unnamed last.
fn groups<'a>(by: GroupBy, lives: &[&'a Life]) -> Vec<Group<'a>> {
    let mut named: BTreeMap<Cow<'a, str>, (Cow<'a, str>, Vec<&'a Life>)> = BTreeMap::new();
    let mut unnamed = Vec::new();
    for life in lives {
        match group_of(by, life) {
            Some((key, name)) => named.entry(key).or_insert((name, Vec::new())).1.push(life),
            None => unnamed.push(*life),
        }
    }
    let mut groups: Vec<Group<'a>> = named
        .into_iter()
        .map(|(key, (name, lives))| Group { key: Some(key.into()), name: Some(name.into()), lives })
        .collect();
    if !unnamed.is_empty() {
        groups.push(Group { key: None, name: None, lives: unnamed });
    }
    groups
}

impl Group<'_> {
    /// The row before any figure: counts, and why it can't be told yet.
    pub fn row(&self, measure: Measure, why: Option<Untold>) -> GroupRow {
        let count = |of: &dyn Fn(&Life) -> bool| self.lives.iter().filter(|l| of(l)).count() as u32;
        let why = if self.key.is_none() { Some(Untold::Unnamed) } else { why };
        GroupRow {
            key: self.key.clone(),
            name: self.name.clone(),
            logs: self.lives.len() as u32,
            used: 0,
            fruited: count(&Life::has_fruited),
            spawn_run: count(&Life::in_spawn_run),
            ended: count(&|l| l.ended),
            log_years: super::anova::sum(self.lives.iter().filter_map(|l| l.ages()).map(|(a, b)| b - a)),
            grams: self.lives.iter().map(|l| l.grams()).sum(),
            pickings: self.lives.iter().map(|l| l.picks.len() as u32).sum(),
            unweighed: self.lives.iter().map(|l| l.unweighed() as u32).sum(),
            plain: None,
            mean: None,
            low: None,
            high: None,
            best: None,
            pull: None,
            tell: why.is_none(),
            why,
            dots: Vec::new(),
            curve: Vec::new(),
            from: WhereFrom::new(&format!("review_{}", measure.word()), Mark::Own, ""),
        }
    }

    /// Why so few logs can't be told.
    pub fn untold(&self, used: usize, weightless: usize) -> Option<Untold> {
        if used >= priors::FEWEST_LOGS {
            None
        } else if weightless > 0 && used + weightless >= priors::FEWEST_LOGS {
            Some(Untold::NoWeights)
        } else if used == 0 && self.lives.iter().any(|l| l.in_spawn_run()) {
            Some(Untold::TooYoung)
        } else {
            Some(Untold::FewLogs)
        }
    }
}

/// How many logs are left out, by why.
pub fn left_out(asides: impl Iterator<Item = super::reply::Aside>) -> Vec<LeftOut> {
    let mut counts = BTreeMap::new();
    for why in asides {
        *counts.entry(why).or_insert(0_u32) += 1;
    }
    counts.into_iter().map(|(why, logs)| LeftOut { why, logs }).collect()
}
