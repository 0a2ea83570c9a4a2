//! Care: backups, the way back, registers that are newer or damaged, and the report.
//! Never the big faults: those have a harness of their own.
//! Invariant: what is compared are whole dumps and whole files, not samples.

mod backups;
mod closed;
mod report;
mod restoring;

use crate::journeys::{Yard, asked, jpeg, text, uuid};
use serde_json::{Value, json};
use std::path::Path;

/// A yard with logs, pickings, a round and two photos.
fn filled() -> Yard {
    let yard = Yard::new();
    fill(&yard);
    yard
}

fn fill(yard: &Yard) {
    let place = json!({"place": "Hazel bank", "lat": 47.5, "lon": 9.5, "night_after_min": 90});
    yard.act("settings_set", place);
    let one = yard.log("A1", json!({"wood": "red-oak", "spot": "Beech hedge", "note": "mossy side up"}));
    let two = yard.log("A2", json!({"wood": "beech", "strain": "Nightcap", "strain_class": "cold"}));
    for (log, shade) in [(&one, 40), (&two, 90)] {
        let photo = yard.keep_photo(jpeg(64, 48, shade)).unwrap();
        let look = json!({"log": log, "seen": "cupped", "photos": [photo["hash"]], "note": "after rain"});
        yard.act("look_add", look);
        yard.act("picking_add", picking(log, 120));
    }
    yard.act("log_edit", {
        let fields = &yard.call("log_show", json!({"log": one}))["fields"];
        let mut fields = fields.clone();
        fields["tag"] = json!("A1b");
        json!({"log": one, "fields": fields})
    });
    yard.call("draft_set", json!({"key": "log:new", "value": "half a thought"}));
}

fn picking(log: &str, grams: i64) -> Value {
    json!({"log": log, "day": null, "grams": grams, "caps": null, "damaged_pct": null, "by": null, "note": ""})
}

/// Waits for a job; returns its last view.
fn ended(yard: &Yard, started: &Value) -> Value {
    for _ in 0..6000 {
        let view = yard.call("job_show", json!({"job": started["job"]}));
        if view["state"] != "running" {
            return view;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("the job does not end: {started}");
}

/// A backup that must come out well; returns its name.
fn backup(yard: &Yard) -> String {
    let view = ended(yard, &yard.call("backup_now", json!({})));
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([])), "{view}");
    text(&view["result"])
}

/// A restore that must come out well.
fn restore(yard: &Yard, from: &str, name: &str) {
    let view = ended(yard, &yard.call("restore_do", asked(json!({"name": name, "from": from}))));
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([])), "{view}");
    assert_eq!(view["result"], json!(name));
}

fn choose(yard: &Yard, folder: &Path) {
    yard.call("backup_folder", json!({"folder": folder.to_str().unwrap()}));
}

/// Everything in the register but what is this device's own.
fn dump(yard: &Yard) -> Vec<String> {
    let all = yard.book().read(|conn| {
        let tables: Vec<String> = conn
            // The index of words is made of what `searched` holds.
            .prepare(
                "SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'search'
                 AND name NOT LIKE 'search\\_%' ESCAPE '\\' ORDER BY name",
            )?
            .query_map([], |r| r.get(0))?
            .collect::<Result<_, _>>()?;
        let mut lines = Vec::new();
        for table in tables {
            let own = if table == "meta" { "WHERE k <> 'device' AND k NOT LIKE 'device.%'" } else { "" };
            let mut list = conn.prepare(&format!("SELECT * FROM \"{table}\" {own} ORDER BY 1"))?;
            let width = list.column_count();
            let rows = list.query_map([], |r| {
                let cells: Vec<rusqlite::types::Value> =
                    (0..width).map(|i| r.get(i)).collect::<Result<_, _>>()?;
                Ok(format!("{table} {cells:?}"))
            })?;
            let mut found = rows.collect::<Result<Vec<String>, _>>()?;
            found.sort();
            lines.extend(found);
        }
        Ok(lines)
    });
    all.unwrap()
}

/// Paths and bytes of all files in a folder and those inside it.
fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    for file in std::fs::read_dir(folder).into_iter().flatten() {
        let path = file.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.push((path.display().to_string(), std::fs::read(&path).unwrap()));
        }
    }
    found.sort();
    found
}
