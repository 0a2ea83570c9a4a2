//! Random lives of two logs: entries in any order and about any day, taken back, done again, ended, unended.
//! Never a check of one state's meaning: the rules' own tests have those.
//! Invariant: a state for every life, no entry lost, and a register made again from its acts is the same.

use super::{Yard, asked};
use proptest::prelude::*;
use serde_json::{Value, json};
use shadeyard_backend::book::{Change, Intent, Plan};
use shadeyard_backend::logs::rows;
use shadeyard_backend::logs::rules::follows::{Follows, Kind, On, follows};
use shadeyard_backend::logs::rules::{Facts, State};
use shadeyard_backend::settings::rows::here;

#[derive(Debug, Clone)]
enum Step {
    Look { log: usize, seen: &'static str },
    Pick { log: usize, ago: i64 },
    Soak { log: usize, part: &'static str, ago: i64 },
    End { log: usize, why: &'static str, ago: i64 },
    Unend { log: usize },
    Lay { log: usize, laid: Option<&'static str> },
    Undo,
    UndoAgain { which: usize },
    Days { days: i64 },
}

fn step() -> impl Strategy<Value = Step> {
    let log = 0..2_usize;
    let seen = prop::sample::select(vec!["nothing", "pin", "button", "cupped", "flat"]);
    let why = prop::sample::select(vec!["spent", "lost", "discarded", "given", "sold", "lent", "stolen"]);
    let laid =
        prop::sample::select(vec![None, Some("XXXX"), Some("2024"), Some("2025-21"), Some("2026-03-10")]);
    let part = prop::sample::select(vec!["in", "out"]);
    prop_oneof![
        4 => (log.clone(), seen).prop_map(|(log, seen)| Step::Look { log, seen }),
        3 => (log.clone(), 0..40_i64).prop_map(|(log, ago)| Step::Pick { log, ago }),
        4 => (log.clone(), part, 0..10_i64).prop_map(|(log, part, ago)| Step::Soak { log, part, ago }),
        2 => (log.clone(), why, 0..5_i64).prop_map(|(log, why, ago)| Step::End { log, why, ago }),
        2 => log.clone().prop_map(|log| Step::Unend { log }),
        1 => (log, laid).prop_map(|(log, laid)| Step::Lay { log, laid }),
        2 => Just(Step::Undo),
        1 => (0..30_usize).prop_map(|which| Step::UndoAgain { which }),
        3 => (0..60_i64).prop_map(|days| Step::Days { days }),
    ]
}

/// The yard, and what must be in it: all entries ever written, void or not.
struct World {
    yard: Yard,
    logs: Vec<String>,
    acts: Vec<String>,
    written: i64,
    days: i64,
}

const START: &str = "2026-04-01T10:00:00+02:00";

impl World {
    fn new() -> Self {
        let yard = Yard::at(START);
        let logs = vec![yard.log("1", json!({"laid": "2024-04-10"})), yard.log("2", json!({"laid": null}))];
        Self { yard, logs, acts: Vec::new(), written: 0, days: 0 }
    }

    fn day(&self, ago: i64) -> String {
        (chrono::NaiveDate::from_ymd_opt(2026, 4, 1).expect("a day")
            + chrono::Duration::days(self.days - ago))
        .to_string()
    }

    /// Does it; what is refused is refused with a word and changes nothing.
    fn act(&mut self, name: &str, request: Value, entries: i64) -> Result<(), TestCaseError> {
        let before = self.pages();
        match self.yard.attempt(name, asked(request)) {
            Ok(done) => {
                self.written += entries;
                self.acts.push(done["act"].as_str().unwrap_or_default().to_owned());
            }
            Err(error) => {
                let reply = error.reply();
                prop_assert!(reply["code"] != "bug" && reply["code"] != "damaged", "{reply}");
                prop_assert_eq!(before, self.pages());
            }
        }
        Ok(())
    }

    /// A soak as the tank's commands write it, when the table lets it follow.
    fn soak(&mut self, log: &str, part: &str, day: &str) -> Result<(), TestCaseError> {
        let kind = if part == "in" { Kind::SoakIn } else { Kind::SoakOut };
        let book = self.yard.book();
        let day: chrono::NaiveDate = day.parse().expect("a day");
        let fits = book.read(|conn| {
            let here = here(conn, book.moment())?;
            let facts = rows::one(conn, log, here)?.facts;
            Ok(follows(kind, &facts, here.on(day)))
        });
        // A log whose adding was taken back is no longer there to be soaked.
        if !matches!(fits, Ok(Follows::Fits | Follows::Asks(_))) {
            return Ok(());
        }
        let request = super::uuid();
        let done = book.act(Intent { name: "soak", request: &request, draft: None }, |_| {
            let moment = book.moment();
            let row = json!({"log": log, "day": day, "at": moment.ms, "zone": moment.zone(), "part": part});
            Ok(Plan::new(vec![Change::put("soak", &book.new_id(), row)], json!({})))
        });
        self.acts.push(done.expect("a soak is written").act);
        self.written += 1;
        Ok(())
    }

    fn take(&mut self, step: &Step) -> Result<(), TestCaseError> {
        let log = |n: &usize| self.logs[*n].clone();
        match step {
            Step::Look { log: n, seen } => {
                let ask = json!({"log": log(n), "seen": seen, "photos": [], "note": ""});
                self.act("look_add", ask, 1)
            }
            Step::Pick { log: n, ago } => {
                let ask = json!({"log": log(n), "day": self.day(*ago), "grams": 100, "note": ""});
                self.act("picking_add", ask, 1)
            }
            Step::Soak { log: n, part, ago } => {
                let (log, day) = (log(n), self.day(*ago));
                self.soak(&log, part, &day)
            }
            Step::End { log: n, why, ago } => {
                let ask = json!({"log": log(n), "why": why, "day": self.day(*ago), "note": ""});
                self.act("log_end", ask, 1)
            }
            Step::Unend { log: n } => {
                let ask = json!({"log": log(n)});
                self.act("log_unend", ask, 0)
            }
            Step::Lay { log: n, laid } => {
                let fields = super::fields(["1", "2"][*n], json!({"laid": laid}));
                let ask = json!({"log": log(n), "fields": fields});
                self.act("log_edit", ask, 0)
            }
            Step::Undo => self.act("undo", json!({"act": null}), 0),
            Step::UndoAgain { which } => match self.acts.get(*which) {
                Some(act) => {
                    let ask = json!({"act": act});
                    self.act("undo", ask, 0)
                }
                None => Ok(()),
            },
            Step::Days { days } => {
                self.days += days;
                self.yard.now(&format!("{}T10:00:00+02:00", self.day(0)));
                Ok(())
            }
        }
    }

    fn pages(&self) -> Vec<Result<Value, String>> {
        let page = |log: &String| {
            let page = self.yard.attempt("log_show", json!({"log": log}));
            page.map_err(|e| e.reply().to_string())
        };
        self.logs.iter().map(page).collect()
    }

    fn check(&self) -> Result<(), TestCaseError> {
        let book = self.yard.book();
        let count = book.read(|conn| {
            Ok(conn.query_row("SELECT count(*) FROM entry WHERE kind <> 'forecast'", [], |r| {
                r.get::<_, i64>(0)
            })?)
        });
        prop_assert_eq!(count.expect("a count"), self.written, "an entry was lost");
        for page in self.pages().into_iter().flatten() {
            let state = page["row"]["state"].as_str().and_then(State::of);
            prop_assert!(state.is_some(), "no state: {}", page["row"]);
            let ends =
                page["entries"].as_array().into_iter().flatten().filter(|e| e["what"]["kind"] == "ending");
            prop_assert_eq!(ends.count() > 0, state.is_some_and(State::is_ended), "{}", page["row"]);
        }
        Ok(())
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, max_shrink_iters: 200, ..ProptestConfig::default() })]

    #[test]
    fn every_life_has_a_state_loses_no_entry_and_replays_alike(steps in prop::collection::vec(step(), 1..40)) {
        let mut world = World::new();
        for step in &steps {
            world.take(step)?;
            world.check()?;
        }
        let before = world.pages();
        world.yard.book().rebuild().expect("it is made again from its acts");
        prop_assert_eq!(&before, &world.pages());
        world.check()?;
        world.yard.restart();
        prop_assert_eq!(&before, &world.pages());
    }

    #[test]
    fn every_set_of_facts_has_a_state_and_every_entry_an_answer(
        laid in prop::option::of(prop::sample::select(vec!["XXXX", "2024", "2026-03", "2026-03-10", "2026-21"])),
        days in prop::collection::vec(prop::option::of(0..800_i64), 6),
        seen in prop::option::of(0..11_usize), after: bool, ended in prop::option::of(0..7_usize), southern: bool,
    ) {
        use shadeyard_backend::logs::rules::{Why, state};
        use shadeyard_backend::looks::rules::Stage;
        use shadeyard_backend::measure::Rough;
        let today = chrono::NaiveDate::from_ymd_opt(2026, 6, 1).expect("a day");
        let day = |n: usize| days[n].map(|ago| today - chrono::Duration::days(ago));
        let facts = Facts {
            laid: laid.and_then(|text| Rough::parse(text).ok()),
            seen: seen.and_then(|n| Stage::ALL.get(n).copied()).zip(day(0)), seen_after_picking: after, picked: day(1),
            first_fruit: day(2), soaked_in: day(3).map(|d| (d, 0)), soaked_out: day(4).map(|d| (d, 0)),
            ended: ended.and_then(|n| Why::ALL.get(n).copied()), ended_day: day(5), ..Facts::default()
        };
        let found = state(&facts, today, southern);
        prop_assert_eq!(found.is_ended(), facts.ended.is_some());
        prop_assert_eq!(found, state(&facts, today, southern));
        for kind in Kind::ALL {
            let on = On { day: today, today, southern, soak_months: None };
            let answer = follows(*kind, &facts, on);
            prop_assert!(answer != Follows::Asks(Vec::new()), "{:?} {:?}", kind, facts);
        }
        let ends = On { day: today, today, southern, soak_months: None };
        prop_assert_eq!(follows(Kind::Unending, &facts, ends) == Follows::Fits, facts.ended.is_some());
        prop_assert_eq!(found == State::Soaking, follows(Kind::SoakOut, &facts, ends) == Follows::Fits);
    }
}
