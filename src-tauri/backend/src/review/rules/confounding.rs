//! What cannot be told apart because it was never mixed: all beech carries Hericium, nothing else does.
//! Never a figure.
//! Invariant: groups are tied to a covariate exactly when the two-way design of both has not full rank.
//!
//! Logs join their group to their level of the covariate. Groups that such joins connect can be compared
//! with the covariate taken out, others cannot: the rank that is missing is the number of separate
//! nets, less one.

use super::life::Life;
use super::question::{GroupBy, group_of};
use serde::Serialize;
use std::borrow::Cow;
use std::collections::BTreeMap;
use ts_rs::TS;

/// Groups that cannot be told from a covariate.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Tied {
    /// The covariate.
    pub with: GroupBy,
    /// Names of the groups in a net of their own.
    pub groups: Vec<String>,
    /// Names of the only levels that they met, and that no other group did.
    pub only: Vec<String>,
}

/// What may stand behind a difference between groups told apart by `by`.
fn covariates(by: GroupBy) -> &'static [GroupBy] {
    match by {
        GroupBy::Wood => &[
            GroupBy::Mushroom,
            GroupBy::Strain,
            GroupBy::Method,
            GroupBy::Spawn,
            GroupBy::Spot,
            GroupBy::LaidYear,
        ],
        GroupBy::Strain | GroupBy::Class => {
            &[GroupBy::Wood, GroupBy::Method, GroupBy::Spawn, GroupBy::Spot, GroupBy::LaidYear]
        }
        GroupBy::Mushroom => {
            &[GroupBy::Wood, GroupBy::Method, GroupBy::Spawn, GroupBy::Spot, GroupBy::LaidYear]
        }
        GroupBy::Spot | GroupBy::Thickness => {
            &[GroupBy::Wood, GroupBy::Mushroom, GroupBy::Strain, GroupBy::Method, GroupBy::LaidYear]
        }
        GroupBy::LaidMonth | GroupBy::LaidYear => {
            &[GroupBy::Wood, GroupBy::Mushroom, GroupBy::Strain, GroupBy::Method, GroupBy::Spot]
        }
        _ => &[GroupBy::Wood, GroupBy::Mushroom, GroupBy::Strain, GroupBy::Spot, GroupBy::LaidYear],
    }
}

/// All ties of these groups (their keys and names) among the logs that were compared. The net with
/// most logs is the one that the others are told from.
pub fn ties(by: GroupBy, lives: &[&Life], groups: &[(String, String)]) -> Vec<Tied> {
    let at: BTreeMap<&str, usize> =
        groups.iter().enumerate().map(|(i, (key, _))| (key.as_str(), i)).collect();
    let group = |life: &Life| at.get(&*group_of(by, life)?.0).copied();
    let grouped: Vec<(usize, &Life)> = lives.iter().filter_map(|l| Some((group(l)?, *l))).collect();
    covariates(by).iter().flat_map(|with| ties_with(*with, &grouped, groups)).collect()
}

fn ties_with(with: GroupBy, lives: &[(usize, &Life)], groups: &[(String, String)]) -> Vec<Tied> {
    let mut levels: BTreeMap<Cow<'_, str>, (usize, Cow<'_, str>)> = BTreeMap::new();
    let mut nets = Nets::of(groups.len());
    let mut logs = vec![0_usize; groups.len()];
    let mut met = vec![false; groups.len()];
    for (group, life) in lives {
        let (group, Some((key, name))) = (*group, group_of(with, life)) else { continue };
        let next = groups.len() + levels.len();
        let level = levels.entry(key).or_insert((next, name)).0;
        nets.grow(level + 1);
        nets.join(group, level);
        logs[group] += 1;
        met[group] = true;
    }
    let mut sizes: BTreeMap<usize, usize> = BTreeMap::new();
    for j in (0..groups.len()).filter(|j| met[*j]) {
        *sizes.entry(nets.top(j)).or_default() += logs[j];
    }
    let Some(main) = sizes.iter().max_by_key(|(_, n)| **n).map(|(net, _)| *net) else { return Vec::new() };
    let others: Vec<usize> = sizes.into_keys().filter(|net| *net != main).collect();
    others
        .into_iter()
        .map(|net| Tied {
            with,
            groups: (0..groups.len())
                .filter(|j| met[*j] && nets.top(*j) == net)
                .map(|j| groups[j].1.clone())
                .collect(),
            only: levels
                .values()
                .filter(|(i, _)| nets.top(*i) == net)
                .map(|(_, name)| name.to_string())
                .collect(),
        })
        .collect()
}

/// Disjoint nets.
struct Nets(Vec<usize>);

impl Nets {
    fn of(n: usize) -> Self {
        Self((0..n).collect())
    }

    fn grow(&mut self, n: usize) {
        self.0.extend(self.0.len()..n.max(self.0.len()));
    }

    fn top(&self, mut i: usize) -> usize {
        while self.0[i] != i {
            i = self.0[i];
        }
        i
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.top(a), self.top(b));
        self.0[a.max(b)] = a.min(b);
    }
}
