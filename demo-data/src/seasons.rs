//! Four seasons as one grower kept them: which day brought which entry.
//! Never a call into the register: `keeping` writes what is planned here.
//! Invariant: the plan is in order of time and stops the evening before `until`.

use crate::calendar::{Calendar, local};
use crate::chance::Chance;
use crate::growth::{self, Flush};
use crate::inputs::{Inputs, LogLine};
use crate::rounds;
use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, NaiveTime, TimeDelta};
use shadeyard_backend::error::{Error, Result};
use std::ops::RangeInclusive;

/// Month and day between which nobody comes by.
const HOLIDAY: RangeInclusive<(u32, u32)> = (8, 3)..=(8, 24);

/// One thing the grower enters, and when.
#[derive(Debug, Clone)]
pub struct Step {
    /// Now, as the device shows it.
    pub at: DateTime<FixedOffset>,
    /// What is entered.
    pub deed: Deed,
}

/// What is entered. `log` is a place in `logs.csv`, from 0.
#[derive(Debug, Clone)]
pub enum Deed {
    /// A log comes into the register.
    Enter { log: usize },
    /// A waiting log gets its spawn.
    Lay { log: usize },
    /// A look, with the seeds of its pictures.
    Look { log: usize, seen: &'static str, note: String, pictures: Vec<u64> },
    /// A picking; `slip` enters it with a nought too many first and takes that back.
    Pick { log: usize, picked: Picked, note: String, slip: bool },
    /// A log's end.
    End { log: usize, why: String },
    /// Logs go into the tank, or come out.
    Soak { logs: Vec<usize>, into: bool },
    /// A log is weighed.
    Weigh { log: usize, grams: i64 },
    /// A whole spot is watered.
    Water { spot: String },
    /// A batch of wood gets its sample disc, and a log is said to be of it.
    Disc { tag: String, wet_g: i64, dry_g: i64 },
    /// A station's file is taken in.
    Weather { text: String },
    /// A night round.
    Round { stops: Vec<Stop>, broken_off: bool },
    /// A line of `upkeep.csv`, by its place there.
    Upkeep { line: usize },
}

/// What came off a log.
#[derive(Debug, Clone, Default)]
pub struct Picked {
    pub grams: Option<i64>,
    pub caps: Option<i64>,
    pub damaged_pct: Option<i64>,
    pub by: Option<&'static str>,
}

/// One log the lamp was held to; logs not named were clean.
#[derive(Debug, Clone)]
pub struct Stop {
    pub log: usize,
    pub slugs: i64,
    pub damage: &'static str,
    pub skipped: bool,
}

/// One log's life as far as the grower can meet it.
pub struct Life<'a> {
    pub line: &'a LogLine,
    pub flushes: Vec<Flush>,
    /// Share of each flush still on the log.
    rest: Vec<f64>,
    added: NaiveDate,
    laid: Option<NaiveDate>,
    end: Option<(NaiveDate, String)>,
}

impl Life<'_> {
    /// Whether it is in the yard, with spawn in it.
    pub fn stands(&self, day: NaiveDate) -> bool {
        self.laid.is_some_and(|laid| laid <= day)
            && self.added <= day
            && self.end.as_ref().is_none_or(|(end, _)| day < *end)
    }

    /// The flush on it and its stage.
    pub fn fruit(&self, day: NaiveDate) -> Option<(usize, &'static str)> {
        self.flushes.iter().zip(&self.rest).enumerate().find_map(|(n, (flush, rest))| {
            let stage = flush.stage(&self.line.mushroom, day)?;
            (*rest > 0.05).then_some((n, stage))
        })
    }
}

/// The grower on the way through the years.
pub struct Grower<'a> {
    pub inputs: &'a Inputs,
    pub calendar: Calendar,
    pub lives: Vec<Life<'a>>,
    pub chance: Chance,
    now: Option<DateTime<FixedOffset>>,
    steps: Vec<Step>,
    weighed: usize,
}

/// Plans all entries up to the day before `until`.
///
/// # Errors
/// `Bug` when an input's date can't be read.
pub fn plan(inputs: &Inputs, until: NaiveDate) -> Result<Vec<Step>> {
    let calendar = Calendar::ending(until);
    let mut lives = inputs
        .logs
        .iter()
        .enumerate()
        .map(|(log, line)| life(inputs, &calendar, log, line))
        .collect::<Result<Vec<_>>>()?;
    late_pins(&mut lives, until);
    let chance = Chance::named(46, "grower");
    let mut grower = Grower { inputs, calendar, lives, chance, now: None, steps: Vec::new(), weighed: 0 };
    let mut next_visit = None;
    for day in calendar.days() {
        grower.comings_and_goings(day)?;
        let last = day.succ_opt() == Some(until);
        let away = HOLIDAY.contains(&(day.month(), day.day()));
        if last || (!away && next_visit.is_none_or(|visit| visit <= day)) {
            grower.visit(day, last)?;
            next_visit = day.checked_add_days(Days::new(grower.days_to_next(day)));
        }
    }
    let mut steps = grower.steps;
    steps.extend(upkeep(inputs, calendar, until)?);
    // What came to the same moment stays in its order.
    steps.sort_by_key(|step| step.at);
    Ok(steps)
}

/// What was done for spots and logs: before the day's other work, by no chance at all.
fn upkeep(inputs: &Inputs, calendar: Calendar, until: NaiveDate) -> Result<Vec<Step>> {
    let mut steps = Vec::new();
    for (line, upkeep) in inputs.upkeep.iter().enumerate() {
        let unreadable = || Error::Bug(format!("upkeep.csv: {}", upkeep.day));
        let day = calendar.day(&upkeep.day).ok_or_else(unreadable)?;
        let time = NaiveTime::from_hms_opt(8, 30, 0).ok_or_else(unreadable)?;
        let at = local(day, time).ok_or_else(unreadable)?;
        let at = at.checked_add_signed(TimeDelta::seconds(line as i64)).ok_or_else(unreadable)?;
        if day < until {
            steps.push(Step { at, deed: Deed::Upkeep { line } });
        }
    }
    Ok(steps)
}

fn life<'a>(inputs: &Inputs, calendar: &Calendar, log: usize, line: &'a LogLine) -> Result<Life<'a>> {
    let unreadable = |text: &str| Error::Bug(format!("logs.csv: {text}"));
    let added = calendar.day(&line.added).ok_or_else(|| unreadable(&line.added))?;
    let end = match line.ending.split_once(' ') {
        Some((why, day)) => Some((calendar.day(day).ok_or_else(|| unreadable(day))?, why.to_owned())),
        None => None,
    };
    let laid = if line.lay_later.is_empty() {
        Some(added).filter(|_| !line.laid.is_empty())
    } else {
        calendar.day(&line.lay_later)
    };
    let flushes = growth::flushes(inputs, calendar, log, line);
    let rest = flushes.iter().map(|_| 1.0).collect();
    Ok(Life { line, flushes, rest, added, laid, end })
}

/// Three logs pin in the last week whatever the season, so that there is something to see on any
/// day the yard is opened: the one thing here that follows from no table.
fn late_pins(lives: &mut [Life<'_>], until: NaiveDate) {
    let ready = lives.iter_mut().filter(|life| {
        let Some(day) = until.pred_opt() else { return false };
        let fruited = life.flushes.first().is_some_and(|flush| (day - flush.pins).num_days() > 200);
        let free = life.flushes.iter().all(|flush| (day - flush.pins).num_days().abs() > 40);
        life.line.mushroom == "shiitake" && life.stands(day) && fruited && free
    });
    for (life, before) in ready.step_by(3).zip([3, 6, 7]) {
        if let Some(pins) = until.checked_sub_days(Days::new(before)) {
            life.flushes.push(Flush { pins, grams: 160.0, pace: 1.0 });
            life.rest.push(1.0);
        }
    }
}

impl Grower<'_> {
    fn comings_and_goings(&mut self, day: NaiveDate) -> Result<()> {
        self.clock(day, "09:10")?;
        for log in 0..self.lives.len() {
            let Some(life) = self.lives.get(log) else { continue };
            let lays = !life.line.lay_later.is_empty() && life.laid == Some(day);
            let ends = life.end.clone().filter(|(end, _)| *end == day);
            if life.added == day {
                self.enter(Deed::Enter { log });
            }
            if lays {
                self.enter(Deed::Lay { log });
            }
            if let Some((_, why)) = ends {
                self.enter(Deed::End { log, why });
            }
        }
        Ok(())
    }

    fn visit(&mut self, day: NaiveDate, last: bool) -> Result<()> {
        self.clock(day, "16:40")?;
        for log in 0..self.lives.len() {
            let Some(life) = self.lives.get(log).filter(|life| life.stands(day)) else { continue };
            if let Some((flush, stage)) = life.fruit(day) {
                self.meet(log, flush, stage, last);
            }
        }
        self.nothing_looks(day);
        let round = rounds::plan(self, day);
        if let Some((at, deed)) = round {
            self.clock(day, &at)?;
            self.enter(deed);
        }
        Ok(())
    }

    /// A fruiting log: looked at, and picked when it is time, unless something was quicker.
    fn meet(&mut self, log: usize, flush: usize, stage: &'static str, last: bool) {
        if !last && matches!(stage, "button" | "short_spines") && self.chance.happens(0.05) {
            return self.find_eaten(log, flush);
        }
        let (notice, pick) = match stage {
            "pin" | "knob" => (0.65, 0.0),
            "button" | "short_spines" => (0.75, 0.03),
            "cupped" | "long_spines" => (0.75, 0.72),
            "opening" => (0.70, 0.93),
            "flat" | "yellowing" => (0.75, 0.95),
            _ => (0.9, 0.6),
        };
        if last || self.chance.happens(notice) {
            let note = self.note("fruit", 0.12);
            self.enter(Deed::Look { log, seen: stage, note, pictures: Vec::new() });
        }
        if !last && self.chance.happens(pick) {
            self.pick(log, flush, stage);
        }
    }

    fn find_eaten(&mut self, log: usize, flush: usize) {
        if let Some(rest) = self.lives.get_mut(log).and_then(|life| life.rest.get_mut(flush)) {
            *rest = 0.0;
        }
        let note = "eaten down to the bark".to_owned();
        self.enter(Deed::Look { log, seen: "nothing", note, pictures: Vec::new() });
    }

    fn pick(&mut self, log: usize, flush: usize, stage: &'static str) {
        let part = if self.chance.happens(0.25) { 0.6 } else { 1.0 };
        let Some(life) = self.lives.get_mut(log) else { return };
        let (Some(rest), Some(found)) = (life.rest.get_mut(flush), life.flushes.get(flush)) else { return };
        let grown = match stage {
            "button" | "short_spines" => 0.6,
            "cupped" | "long_spines" => 0.95,
            _ => 1.08,
        };
        let grams = found.grams * *rest * part * grown;
        *rest -= *rest * part;
        let shiitake = life.line.mushroom == "shiitake";
        let picked = self.weigh(grams, shiitake, stage);
        let note = self.note("picking", 0.08);
        self.weighed += usize::from(picked.grams.is_some());
        let slip = picked.grams.is_some() && matches!(self.weighed, 50 | 120 | 190);
        self.enter(Deed::Pick { log, picked, note, slip });
    }

    /// What the grower writes down of it: to five grams, and not every time.
    fn weigh(&mut self, grams: f64, shiitake: bool, stage: &str) -> Picked {
        let chance = &mut self.chance;
        let weighed = ((grams * chance.factor(0.04) / 5.0).round() as i64 * 5).max(5);
        let each = if shiitake { 17.0 * chance.factor(0.2) } else { 240.0 * chance.factor(0.3) };
        let caps = ((grams / each).round() as i64).max(1);
        let (damaged_pct, by) = match chance.unit() {
            x if x < 0.22 || stage == "upturned" => (chance.whole(1, 8) * 5, Some("slugs")),
            x if x < 0.28 => (chance.whole(1, 3) * 5, Some("insects")),
            x if x < 0.31 => (chance.whole(2, 8) * 5, Some("squirrels")),
            x if x < 0.33 => (chance.whole(1, 4) * 5, None),
            _ => (0, None),
        };
        Picked {
            grams: (!chance.happens(0.11)).then_some(weighed),
            caps: (!chance.happens(0.15)).then_some(caps),
            damaged_pct: (damaged_pct > 0 || chance.happens(0.5)).then_some(damaged_pct),
            by,
        }
    }

    /// Logs without fruit that were looked at all the same.
    fn nothing_looks(&mut self, day: NaiveDate) {
        let looks = self.inputs.months.get(day.month0() as usize).map_or(0, |month| month.nothing_looks);
        let idle: Vec<usize> = (0..self.lives.len())
            .filter(|log| {
                self.lives.get(*log).is_some_and(|life| life.stands(day) && life.fruit(day).is_none())
            })
            .collect();
        for _ in 0..looks {
            let pick = self.chance.whole(0, idle.len() as i64 - 1);
            if let Some(log) = usize::try_from(pick).ok().and_then(|pick| idle.get(pick)) {
                let note = self.note("nothing", 0.25);
                self.enter(Deed::Look { log: *log, seen: "nothing", note, pictures: Vec::new() });
            }
        }
    }

    fn note(&mut self, about: &str, share: f64) -> String {
        if !self.chance.happens(share) {
            return String::new();
        }
        let fitting: Vec<&str> = self
            .inputs
            .notes
            .iter()
            .filter(|note| note.about == about)
            .map(|note| note.text.as_str())
            .collect();
        let pick = self.chance.whole(0, fitting.len() as i64 - 1);
        usize::try_from(pick)
            .ok()
            .and_then(|pick| fitting.get(pick))
            .map_or_else(String::new, |text| (*text).to_owned())
    }

    /// Sooner when something is about to be ripe.
    fn days_to_next(&mut self, day: NaiveDate) -> u64 {
        let usual = self.inputs.months.get(day.month0() as usize).map_or(5, |month| month.visit_every);
        let swelling = self.lives.iter().filter(|life| life.stands(day) && life.fruit(day).is_some()).count();
        let days = if swelling > 0 { usual.min(5) } else { usual };
        (days + self.chance.whole(-1, 1)).max(2) as u64
    }

    /// Goes to a time of day, never back.
    fn clock(&mut self, day: NaiveDate, time: &str) -> Result<()> {
        let unreadable = || Error::Bug(format!("no time: {day} {time}"));
        let time = NaiveTime::parse_from_str(time, "%H:%M").map_err(|_| unreadable())?;
        let at = local(day, time).ok_or_else(unreadable)?;
        self.now = Some(self.now.map_or(at, |now| now.max(at)));
        Ok(())
    }

    fn enter(&mut self, deed: Deed) {
        if let Some(at) = self.now {
            self.now = at.checked_add_signed(TimeDelta::seconds(self.chance.whole(40, 150)));
            self.steps.push(Step { at, deed });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn until() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
    }

    #[test]
    fn the_plan_only_goes_forward_and_stops_before_the_last_day() {
        let steps = plan(&Inputs::read().unwrap(), until()).unwrap();
        assert!(steps.windows(2).all(|two| two[0].at <= two[1].at));
        assert!(steps.iter().all(|step| step.at.date_naive() < until()));
    }

    #[test]
    fn about_nine_flushes_in_ten_are_picked() {
        let inputs = Inputs::read().unwrap();
        let steps = plan(&inputs, until()).unwrap();
        let calendar = Calendar::ending(until());
        let (mut all, mut picked) = (0, 0);
        for (log, line) in inputs.logs.iter().enumerate() {
            let life = life(&inputs, &calendar, log, line).unwrap();
            let gone_by = |flush: &Flush| (until() - flush.pins).num_days() > 45;
            for flush in life.flushes.iter().filter(|f| gone_by(f) && life.stands(f.pins)) {
                let of_it = |step: &&Step| (0..45).contains(&(step.at.date_naive() - flush.pins).num_days());
                let taken = |step: &Step| matches!(&step.deed, Deed::Pick { log: of, .. } if *of == log);
                all += 1;
                picked += i32::from(steps.iter().filter(of_it).any(taken));
            }
        }
        assert!((85..=95).contains(&(picked * 100 / all)), "{picked} of {all}");
    }
}
