//! Every command's request is held to its shape: no stray field, no other type, no panic.
//! Never what a good request does.
//! Invariant: the list of commands is the backend's own, so a new command is held to it too.

use crate::journeys::{Yard, asked, fields};
use serde_json::{Value, json};
use shadeyard_backend::commands::{self, NAMES};

fn acts(yard: &Yard) -> usize {
    yard.call("act_list", json!({"limit": 100}))["acts"].as_array().map_or(0, Vec::len)
}

#[test]
fn a_field_that_no_command_knows_is_refused_by_every_one_of_them() {
    let yard = Yard::new();
    for name in NAMES {
        let reply = yard.refused(name, json!({"surprise": 1}));
        assert_eq!(
            (&reply["code"], &reply["field"]),
            (&json!("invalid"), &json!("request")),
            "{name}: {reply}"
        );
        let word = reply["detail"]["word"].as_str().unwrap_or_default();
        assert!(word.contains("surprise"), "{name} refuses the field itself, not another's absence: {reply}");
    }
    let mut log = fields("1", json!({}));
    log["surprise"] = json!(1);
    let reply = yard.refused("log_add", asked(json!({"fields": log})));
    assert!(reply["detail"]["word"].as_str().is_some_and(|word| word.contains("surprise")), "{reply}");
    assert_eq!(acts(&yard), 0);
}

#[test]
fn a_request_of_another_kind_is_refused_and_breaks_nothing() {
    let yard = Yard::new();
    let deep = (0..100).fold(json!(1), |inside, _| json!([inside]));
    for name in NAMES {
        for request in [json!([]), json!("x"), json!(1), json!(true), json!([[], {}]), deep.clone()] {
            let outcome = yard.attempt(name, request.clone());
            // An empty list reads as a request without fields.
            assert!(outcome.is_err() || request == json!([]), "{name} took {request}");
        }
    }
    assert_eq!(acts(&yard), 0);
}

#[test]
fn raw_bytes_are_taken_for_a_photo_only() {
    let yard = Yard::new();
    for name in NAMES.iter().filter(|name| **name != "photo_keep") {
        let outcome = commands::dispatch(yard.book(), name, Value::Null, Some(vec![1, 2, 3]));
        assert_eq!(outcome.map_err(|e| e.reply()["code"].clone()), Err(json!("invalid")), "{name}");
    }
}
