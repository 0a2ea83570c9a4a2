//! A spreadsheet comes in: looked at, tried, taken; what can't be read is named and nothing is written.
//! The units are those of the international yard and pound agreement, 1959; all else is common practice.

use super::{Yard, asked, text};
use base64::Engine;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::{Value, json};

const LOGS: &str = "Log;Tree;Diameter (cm);Length (cm);Felled;Mushroom;Strain;Inoculated;Place;Notes\r
A1;Red oak;12,5;100;2024-02;Shiitake;Grey Gate;15.03.2024;Ditch;\"first row; by the \"\"gate\"\"\"\r
A2;sugar-maple;14;1 m;winter 2023;Lion's mane;;spring 2024;Under the hemlocks;\r
A3;White Oak;11.0;95,5;?;shiitake;grey gate;2024;ditch;=not a formula\r
";

fn logs(text: &str) -> Value {
    json!({"text": text, "what": "logs", "dates": "dmy", "lengths": "cm", "weights": "g", "mushroom": null,
        "columns": {"tag": 0, "wood": 1, "d1": 2, "length": 3, "felled": 4, "mushroom": 5, "strain": 6,
            "laid": 7, "spot": 8, "note": 9}})
}

fn pickings(text: &str) -> Value {
    json!({"text": text, "what": "pickings", "dates": "mdy", "lengths": "mm", "weights": "oz",
        "columns": {"tag": 0, "day": 1, "weight": 2, "caps": 3, "by": 4}})
}

fn total(yard: &Yard) -> Value {
    yard.call("yard_list", json!({"search": ""}))["total"].clone()
}

fn found(tried: &Value, row: u64) -> Vec<(&Value, &Value)> {
    let all = tried["refused"].as_array().unwrap().iter();
    all.filter(|r| r["row"] == row).map(|r| (&r["column"], &r["detail"])).collect()
}

#[test]
fn a_sheet_of_logs_is_looked_at_tried_mended_and_taken_as_one_act() {
    let yard = Yard::new();
    let look = yard.call("csv_look", json!({"text": LOGS}));
    assert_eq!((&look["delimiter"], &look["rows"]), (&json!("semicolon"), &json!(3)));
    assert_eq!(look["sample"][0][9], "first row; by the \"gate\"");
    let mut ask = logs(LOGS);
    assert_eq!(look["guess"], ask["columns"], "the headers say it all");

    let tried = yard.call("csv_try", ask.clone());
    assert_eq!((&tried["good"], &tried["bad"]), (&json!(2), &json!(1)));
    let refused = &tried["refused"][0];
    assert_eq!(
        (&refused["row"], &refused["column"], &refused["why"], &refused["text"]),
        (&json!(3), &json!(3), &json!("number"), &json!("1 m"))
    );
    let whole = yard.refused("csv_take", asked(ask.clone()));
    assert_eq!(whole["detail"]["why"], "rows_refused");
    assert_eq!((&whole["detail"]["bad"], &whole["detail"]["first"]["row"]), (&json!(1), &json!(3)));
    assert_eq!(total(&yard), 0, "all or nothing");

    ask["text"] = json!(LOGS.replace("1 m", "100"));
    let done = yard.act("csv_take", ask);
    assert_eq!((&done["said"]["what"], &done["said"]["n"]), (&json!("logs"), &json!(3)));
    let list = yard.call("yard_list", json!({"search": ""}));
    let row = |n: usize| &list["logs"][n];
    assert_eq!((&row(0)["wood"], &row(0)["d_mm"]), (&json!("red-oak"), &json!([125])));
    assert_eq!((&row(0)["laid"], &row(1)["laid"]), (&json!("2024-03-15"), &json!("2024-21")));
    assert_eq!((&row(1)["mushroom"], &row(2)["length_mm"]), (&json!("erinaceus"), &json!(955)));
    assert_eq!(row(0)["spot_id"], row(2)["spot_id"], "one spot, whatever the case of its letters");
    let form = yard.call("log_form", json!({}));
    assert_eq!(form["strains"].as_array().unwrap().len(), 1, "and one strain");
    assert_eq!(form["spots"].as_array().unwrap().len(), 2);
    let third = yard.call("log_show", json!({"log": row(2)["id"]}))["fields"].clone();
    assert_eq!((&third["felled"], &third["note"]), (&json!("XXXX"), &json!("=not a formula")));

    yard.act("undo", json!({"act": done["act"]}));
    assert_eq!(total(&yard), 0, "and one undo takes it back");
}

#[test]
fn every_refused_cell_is_named_with_its_row_column_and_reason() {
    let yard = Yard::new();
    let sheet = "tag,wood,d,l,felled,mushroom,strain,laid,spot,note\n\
        1,plastic,\"1,250\",9000,2027,Hericium,,5/6/23,,\n\
        \n\
        ,oak,12,100,2024,shiitake,,2023,,\n\
        3,,12,100,,,,2026-10-04,,\n\
        4,,12,100,,shiitake,,,,,\n\
        5,,12,100,,shiitake,,,,,shifted\n";
    let tried = yard.call("csv_try", logs(sheet));
    assert_eq!((&tried["good"], &tried["bad"]), (&json!(1), &json!(4)));
    let mut reasons: Vec<(u64, i64, String)> = tried["refused"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| (r["row"].as_u64().unwrap(), r["column"].as_i64().unwrap_or(-1), text(&r["why"])))
        .collect();
    reasons.sort();
    let expected = [
        (2, 1, "unknown_word"),
        (2, 2, "thousands"),
        (2, 3, "range"),
        (2, 5, "unknown_word"),
        (2, 7, "two_digit_year"),
        (4, 0, "empty"),
        (4, 1, "unknown_word"),
        (5, 5, "empty"),
        (7, -1, "too_many_cells"),
    ];
    let reasons: Vec<(u64, i64, &str)> = reasons.iter().map(|(r, c, w)| (*r, *c, w.as_str())).collect();
    assert_eq!(reasons, expected);
    assert_eq!(found(&tried, 2)[2].1, &json!({"min": 50, "max": 5000, "unit": "mm"}));
}

#[test]
fn what_a_form_would_refuse_is_refused_in_a_sheet_too() {
    let yard = Yard::new();
    let row = |cells: &str| format!("tag,wood,d,l,felled,mushroom,strain,laid,spot,note\n{cells}\n");
    for (cells, column, why) in [
        (",,,,,shiitake,,,,", 0, "empty"),
        ("a tag much too long for any label,,,,,shiitake,,,,", 0, "too_long"),
        ("1,,0.5,,,shiitake,,,,", 2, "range"),
        ("1,,,,2027,shiitake,,,,", 4, "future"),
        ("1,,,,2026-05-01,shiitake,,2026-04-30,,", 7, "order"),
    ] {
        let tried = yard.call("csv_try", logs(&row(cells)));
        let refused = &tried["refused"][0];
        assert_eq!((&refused["column"], &refused["why"]), (&json!(column), &json!(why)), "{cells}");
    }
}

#[test]
fn pickings_find_the_one_log_that_bears_their_tag() {
    let yard = Yard::new();
    let log = yard.log("7", json!({"laid": "2024-04-01"}));
    yard.log("8", json!({}));
    yard.log("8", json!({}));
    let ended = yard.log("9", json!({}));
    yard.act("log_end", json!({"log": ended, "why": "spent", "note": ""}));
    let sheet = "log\tdate\tweight\tcaps\tby\n\
        7\t9/30/2026\t8\t12\tslugs\n\
        7\t9/30/2026\t\t\t\n\
        8\t9/30/2026\t8\t\t\n\
        77\t9/30/2026\t8\t\t\n\
        9\t9/30/2025\t8\t\t\n\
        7\t3/31/2024\t8\t\t\n\
        7\tSeptember 2026\t8\t\t\n\
        7\t9/30/2026\t0\t2.5\tdragons\n";
    let tried = yard.call("csv_try", pickings(sheet));
    assert_eq!((&tried["good"], &tried["bad"]), (&json!(3), &json!(5)));
    assert_eq!((&tried["sample"][0]["grams"], &tried["sample"][1]["grams"]), (&json!(227), &Value::Null));
    let whys: Vec<String> = tried["refused"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| format!("{} {} {}", r["row"], r["column"], text(&r["why"])))
        .collect();
    assert_eq!(
        whys,
        [
            "4 0 several_logs",
            "5 0 no_log",
            "7 1 order",
            "8 1 not_a_day",
            "9 2 range",
            "9 3 whole",
            "9 4 unknown_word",
        ]
    );
    let good: Vec<&str> =
        sheet.lines().enumerate().filter(|(n, _)| [0, 1, 2, 5].contains(n)).map(|(_, l)| l).collect();
    let done = yard.act("csv_take", pickings(&good.join("\n")));
    assert_eq!(done["said"]["n"], 3);
    let row = &yard.call("log_show", json!({"log": log}))["row"];
    assert_eq!(["pickings", "grams", "unweighed"].map(|k| row[k].as_i64().unwrap()), [2, 227, 1]);
    let row = &yard.call("log_show", json!({"log": ended}))["row"];
    assert_eq!(row["pickings"], 1, "a picking of former years belongs to the log that has ended since");
}

#[test]
fn a_double_tap_takes_a_sheet_once_and_a_second_time_is_warned_of() {
    let yard = Yard::new();
    let ask = asked(logs(&LOGS.replace("1 m", "100")));
    let first = yard.call("csv_take", ask.clone());
    let again = yard.call("csv_take", ask.clone());
    assert_eq!((&first["again"], &again["again"], total(&yard)), (&json!(false), &json!(true), json!(3)));
    let mut tried = ask;
    tried.as_object_mut().unwrap().remove("request");
    assert_eq!(yard.call("csv_try", tried)["same_tag"], 3);
}

#[test]
fn what_is_no_sheet_or_cannot_be_matched_is_refused_with_its_reason() {
    let yard = Yard::new();
    let why = |ask: Value| yard.refused("csv_look", ask)["detail"]["why"].clone();
    assert_eq!(why(json!({})), "empty_file");
    assert_eq!(why(json!({"text": "tag,note\n"})), "no_rows");
    assert_eq!(why(json!({"text": "tag\n\u{0}\n"})), "not_text");
    assert_eq!(why(json!({"base64": "no base 64"})), "not_text");
    assert_eq!(why(json!({"text": "tag,note\n1,\"open\n"})), "quotes");
    assert_eq!(why(json!({"text": "x".repeat(5_000_001)})), "too_big_bytes");
    let columns = |columns: Value| {
        let mut ask = logs(LOGS);
        ask["columns"] = columns;
        let refused = yard.refused("csv_try", ask);
        (refused["field"].clone(), refused["detail"]["why"].clone())
    };
    let on = |why: &str| (json!("columns"), json!(why));
    assert_eq!(columns(json!({"wood": 0, "mushroom": 5})), on("empty"));
    assert_eq!(columns(json!({"tag": 0})), on("empty"));
    assert_eq!(columns(json!({"tag": 0, "mushroom": 10})), on("unknown_word"));
    assert_eq!(columns(json!({"tag": 0, "mushroom": 0})), on("twice"));
    assert_eq!(columns(json!({"tag": 0, "mushroom": 5, "weight": 3})), on("unknown_word"));
    assert_eq!(columns(json!({"tag": 0, "dragon": 5})).0, "request");
}

#[test]
fn old_spellings_are_read_and_said() {
    let yard = Yard::new();
    let western: Vec<u8> = "tag;spot\n1;B\u{E4}chle\n".chars().map(|c| u8::try_from(c).unwrap()).collect();
    let base64 = base64::engine::general_purpose::STANDARD.encode(western);
    let look = yard.call("csv_look", json!({"base64": base64}));
    assert_eq!((&look["letters"], &look["sample"][0][1]), (&json!("windows-1252"), &json!("Bächle")));
    let take = json!({"base64": base64, "what": "logs", "columns": {"tag": 0, "spot": 1}, "dates": "ymd", "lengths": "mm",
        "weights": "g", "mushroom": "shiitake"});
    yard.act("csv_take", take);
    assert_eq!(yard.call("yard_list", json!({"search": ""}))["logs"][0]["spot"], "Bächle");
}

#[test]
fn twenty_thousand_pickings_come_in_as_one_act() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"laid": "2020"}));
    let rows: String = (0..20_000).map(|n| format!("1,9/{}/2025,{},,\n", n % 30 + 1, n % 40 + 1)).collect();
    let done = yard.act("csv_take", pickings(&format!("tag,day,weight,caps,by\n{rows}")));
    assert_eq!(done["said"]["n"], 20_000);
    assert_eq!(yard.call("log_show", json!({"log": log}))["row"]["pickings"], 20_000);
}

#[test]
fn five_thousand_logs_come_in_as_one_act_and_go_in_one_undo() {
    let yard = Yard::new();
    let row = |n: usize| {
        format!("{n};red-oak;{};100;2024;shiitake;S{};2024-04;Row {};\n", 8 + n % 10, n % 7, n % 30)
    };
    let sheet: String = (1..=5_000).map(row).collect();
    let header = LOGS.lines().next().unwrap();
    let done = yard.act("csv_take", logs(&format!("{header}\n{sheet}")));
    assert_eq!((&done["said"]["n"], total(&yard)), (&json!(5_000), json!(5_000)));
    assert_eq!(yard.call("log_form", json!({}))["spots"].as_array().unwrap().len(), 30);
    yard.act("undo", json!({"act": done["act"]}));
    assert_eq!(total(&yard), 0);
}

/// What is done to a good file's bytes.
#[derive(Debug, Clone)]
enum Harm {
    Byte(usize, u8),
    Cut(usize),
    Twice(usize, usize),
    Insert(usize, &'static [u8]),
}

fn harm() -> impl Strategy<Value = Harm> {
    let at = 0_usize..600;
    let marks: [&[u8]; 12] = [
        b"\"",
        b";",
        b",",
        b"\t",
        b"\r",
        b"\n\n",
        b"\0",
        b"\xFF\xFE",
        b"\xEF\xBB\xBF",
        b"9999999999999",
        b"-",
        b"\xC3",
    ];
    prop_oneof![
        (at.clone(), any::<u8>()).prop_map(|(at, byte)| Harm::Byte(at, byte)),
        at.clone().prop_map(Harm::Cut),
        (at.clone(), 1_usize..80).prop_map(|(at, length)| Harm::Twice(at, length)),
        (at, prop::sample::select(marks.to_vec())).prop_map(|(at, mark)| Harm::Insert(at, mark)),
    ]
}

fn harmed(good: &str, harms: &[Harm]) -> Vec<u8> {
    let mut bytes = good.as_bytes().to_vec();
    for harm in harms {
        let long = bytes.len().max(1);
        let within = |at: usize| at % long;
        match *harm {
            Harm::Byte(at, byte) => bytes.get_mut(within(at)).into_iter().for_each(|b| *b = byte),
            Harm::Cut(at) => bytes.truncate(within(at)),
            Harm::Twice(at, length) => {
                let from = within(at);
                let part = bytes[from..(from + length).min(bytes.len())].to_vec();
                bytes.splice(from..from, part);
            }
            Harm::Insert(at, mark) => {
                let from = within(at);
                bytes.splice(from..from, mark.iter().copied());
            }
        }
    }
    bytes
}

/// Two thousand good files, each harmed: what comes in comes in whole, what does not says why.
#[test]
fn a_harmed_file_is_refused_clearly_or_taken_whole_and_nothing_in_between() {
    let yard = Yard::new();
    yard.log("7", json!({"laid": "2024-04-01"}));
    let cases = std::env::var("PROVE_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(2_000);
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let seed = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let good_logs = LOGS.replace("1 m", "100");
    let good_pickings = "tag,day,weight,caps,by\n7,9/30/2026,8,12,slugs\n7,10/1/2026,\"2,5\",,\n";
    let cases = (any::<bool>(), prop::collection::vec(harm(), 1..4));
    let mut taken = 0;
    let outcome = TestRunner::new_with_rng(config, seed).run(&cases, |(of_logs, harms)| {
        let good = if of_logs { good_logs.as_str() } else { good_pickings };
        let bytes = harmed(good, &harms);
        let mut ask = if of_logs { logs("") } else { pickings("") };
        ask["text"] = Value::Null;
        ask["base64"] = json!(base64::engine::general_purpose::STANDARD.encode(bytes));
        let before = yard.call("act_list", json!({"limit": 1}))["acts"][0]["act"].clone();
        let tried = yard.attempt("csv_try", ask.clone());
        match (tried, yard.attempt("csv_take", asked(ask))) {
            (Ok(tried), Ok(done)) => {
                prop_assert_eq!(&tried["bad"], &json!(0));
                prop_assert_eq!(&tried["good"], &done["said"]["n"]);
                yard.act("undo", json!({"act": done["act"]}));
            }
            (tried, Err(error)) => {
                let reply = error.reply();
                prop_assert_eq!(&reply["code"], "invalid", "{}", reply);
                prop_assert!(reply["detail"]["why"].is_string());
                prop_assert!(tried.is_err() || tried.is_ok_and(|t| t["bad"] != 0));
                prop_assert_eq!(&yard.call("act_list", json!({"limit": 1}))["acts"][0]["act"], &before);
            }
            (Err(error), Ok(done)) => prop_assert!(false, "{} but {}", error.reply(), done),
        }
        Ok(())
    });
    outcome.unwrap();
    taken += yard.call("act_list", json!({"limit": 9}))["acts"].as_array().unwrap().len();
    assert!(taken > 1, "some harm leaves a good file");
    assert_eq!(total(&yard), 1, "and all of it was taken back");
}
