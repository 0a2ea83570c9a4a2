//! The demo yard's statistics against scipy, lifelines and statsmodels, run beside (`peer/peer.py`).
//! Never a figure kept from an earlier run.
//! Invariant: where no Python has the pinned libraries, the test says so and holds nothing.

use chrono::NaiveDate;
use serde_json::{Value, json};
use shadeyard_backend::book::Clock;
use shadeyard_backend::commands;
use shadeyard_backend::review::rows;
use shadeyard_backend::review::rules::anova::anova;
use shadeyard_backend::review::rules::compare::compare;
use shadeyard_backend::review::rules::life::Life;
use shadeyard_backend::review::rules::logrank::log_rank;
use shadeyard_backend::review::rules::pooling::{Posterior, Rows};
use shadeyard_backend::review::rules::question::{GroupBy, Measure, Question};
use shadeyard_backend::review::rules::survival::{Interval, Span, Survival, Z_90};
use shadeyard_backend::review::rules::times::span;
use shadeyard_backend::strains::rules::Mushroom;
use std::collections::BTreeMap;
use std::io::Write;
use std::process::{Command, Stdio};

fn question(measure: Measure) -> Question {
    Question {
        by: GroupBy::Wood,
        measure,
        mushroom: Some(Mushroom::Shiitake),
        from: None,
        to: None,
        spot: None,
    }
}

/// The demo yard's logs.
fn lives() -> Vec<Life> {
    let folder = tempfile::tempdir().expect("a folder");
    let until = NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day");
    shadeyard_demo::build(folder.path(), until).expect("the demo yard");
    let book = commands::open(folder.path(), Clock::fixed("2026-11-25T12:00:00+01:00").expect("noon"))
        .expect("opens");
    let here = shadeyard_backend::logs::rows::Here { today: until, southern: false, us: false };
    book.read(|conn| rows::lives(conn, here)).expect("its logs")
}

/// Each wood's logs' own grams for a log-year, and their spans to the first fruit.
fn sets(lives: &[Life]) -> (Vec<Vec<f64>>, Vec<Vec<Span>>) {
    let found = compare(&question(Measure::LogYear), lives);
    let groups = found.rows.iter().map(|r| r.dots.iter().map(|d| d.value).collect()).collect();
    let mut spans: BTreeMap<String, Vec<Span>> = BTreeMap::new();
    for life in lives.iter().filter(|l| question(Measure::Soonest).asks(l)) {
        if let (Some(wood), Ok(span)) = (&life.wood, span(&question(Measure::Soonest), life)) {
            spans.entry(wood.clone()).or_default().push(span);
        }
    }
    (groups, spans.into_values().collect())
}

/// What the peer says; `None` without it.
fn peer(ask: &Value) -> Option<Value> {
    let python = std::env::var_os("SHADEYARD_PYTHON")?;
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/outside/peer/peer.py");
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the Python that SHADEYARD_PYTHON names");
    child.stdin.take().expect("a way in").write_all(ask.to_string().as_bytes()).expect("asked");
    let out = child.wait_with_output().expect("an answer");
    assert!(out.status.success(), "peer.py ended with {}", out.status);
    Some(serde_json::from_slice(&out.stdout).expect("JSON"))
}

fn near(found: f64, said: &Value, share: f64, what: &str) {
    let said = said.as_f64().unwrap_or_else(|| panic!("{what}: {said}"));
    assert!((found - said).abs() <= share * said.abs().max(1e-6), "{what}: {found}, the peer {said}");
}

#[test]
fn the_demo_yards_figures_are_the_peers() {
    if std::env::var_os("SHADEYARD_PYTHON").is_none() {
        println!("skipped: SHADEYARD_PYTHON names no Python with tests/outside/peer/requirements.txt");
        return;
    }
    let (groups, spans) = sets(&lives());
    let rows: Vec<Vec<Value>> = spans
        .iter()
        .map(|g| g.iter().map(|s| json!([s.entry, s.exit, u8::from(s.event)])).collect())
        .collect();
    let said = peer(&json!({"groups": groups, "spans": rows})).expect("asked");
    let ours = anova(&groups).expect("an analysis");
    near(ours.f, &said["anova"]["f"], 1e-9, "F");
    near(ours.p, &said["anova"]["p"], 1e-7, "its p");
    let test = log_rank(&spans).expect("a test");
    near(test.chi2, &said["log_rank"]["chi2"], 1e-8, "χ²");
    near(test.p, &said["log_rank"]["p"], 1e-6, "its p");
    for (j, group) in spans.iter().enumerate() {
        let curve = Survival::of(group, Interval::LogLog, Z_90);
        let points = said["curves"][j].as_array().expect("a curve");
        assert_eq!(curve.steps.len(), points.len(), "as many steps");
        // Step by step: a time that went through JSON may come back a last digit off, and the curve asked for
        // its share at such a time would stand a step before (0.25 for 0, on one wood of the demo yard).
        for (step, point) in curve.steps.iter().zip(points) {
            near(step.at, &point[0], 1e-12, "a time");
            near(step.share, &point[1], 1e-9, "a share");
        }
        median(&curve, &said["medians"][j]);
    }
    mixed(&groups, &said["mixed"]);
}

/// The median is where the share is a half or less for the first time. Where it is a half until the next step,
/// we take the middle of that rest; the peer takes its beginning, or its end when its product of fractions came out
/// a last digit over a half.
fn median(curve: &Survival, said: &Value) {
    let Some(ours) = curve.median().at else { return assert_eq!(said, &Value::Null) };
    let peer = said.as_f64().unwrap_or_else(|| panic!("{ours}, the peer {said}"));
    let is = |at: f64| (peer - at).abs() < 1e-12;
    let rest = curve.steps.iter().position(|s| (s.share - 0.5).abs() < 1e-12);
    match rest.and_then(|i| Some((curve.steps[i].at, curve.steps.get(i + 1)?.at))) {
        Some((from, to)) => {
            assert!(is(from) || is(to), "the peer's {peer} begins or ends the rest from {from} to {to}");
            assert!(
                (ours - f64::midpoint(from, to)).abs() < 1e-12,
                "{ours} is the middle of {from} and {to}"
            );
        }
        None => assert!(is(ours), "{ours}, the peer {peer}"),
    }
}

/// Given the peer's own ratio of the spreads (REML), groups' means agree with its predictions.
fn mixed(groups: &[Vec<f64>], said: &Value) {
    let full: Vec<&Vec<f64>> = groups.iter().filter(|g| !g.is_empty()).collect();
    let of: Vec<usize> = full.iter().enumerate().flat_map(|(j, g)| vec![j; g.len()]).collect();
    let z: Vec<f64> = full.iter().flat_map(|g| g.iter().copied()).collect();
    let w = vec![1.0; z.len()];
    let rows = Rows { groups: full.len(), of: &of, z: &z, w: &w, x: &[], ridge: &[] };
    let lambda = said["lambda"].as_f64().expect("λ");
    let means = Posterior::given(&rows, lambda).expect("a fit").means();
    for (mean, peer) in means.iter().zip(said["means"].as_array().expect("means")) {
        near(*mean, peer, 1e-6, "a pooled mean");
    }
}
