//! The register's versions: what is written down, what is shipped, and what opens.
//! Never a change to a frozen fixture.
//! Invariant: every shipped version, filled, opens today with all it held.

use shadeyard_backend::book::{Clock, fresh_schema};
use shadeyard_backend::commands;
use std::path::Path;

/// SQL without comments, with single blanks: two texts that mean the same are then the same.
fn plain(sql: &str) -> Vec<String> {
    let text: String = sql.lines().map(|l| l.split("--").next().unwrap_or("")).collect::<Vec<_>>().join(" ");
    text.split(';')
        .map(|s| s.split_whitespace().collect::<Vec<_>>().join(" ").replace(" ,", ","))
        .filter(|s| !s.is_empty())
        .collect()
}

#[test]
fn the_commented_schema_is_the_real_one() {
    let real = plain(&fresh_schema().unwrap());
    let written = plain(include_str!("../../src-tauri/backend/src/book/schema.sql"));
    assert_eq!(written, real);
}

/// A copy of the frozen register of a version, in a folder of its own.
fn frozen(version: u32) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("migrations/version-{version}.sqlite"));
    std::fs::copy(from, folder.path().join("register.sqlite")).unwrap();
    folder
}

#[test]
fn the_filled_register_of_every_version_opens_with_all_it_held() {
    // What a version did not have yet is empty in it.
    let third = [
        "wood",
        "batch",
        "lot",
        "weather",
        "put_off",
        "soak",
        "weighing",
        "watering",
        "move",
        "condition",
        "tending",
    ];
    let five = ["basket", "flush", "sighting", "forecast", "log_course"];
    let later = [&third[..], &["measure"], &five].concat();
    opens_with_all_it_held(1, &[&["apart"], &later[..]].concat(), "\"1\" \"resting\" 420 1");
    opens_with_all_it_held(2, &later, "\"1\" \"resting\" 420 1");
    opens_with_all_it_held(6, &[], "\"1\" \"resting\" 420 2");
    opens_with_all_it_held(7, &[], "\"1\" \"resting\" 420 2");
    opens_with_all_it_held(8, &[], "\"1\" \"resting\" 420 2");
    opens_with_all_it_held(9, &[], "\"1\" \"resting\" 420 2");
}

/// Version 1: three logs and one that an other made, each in another state; looks, pickings with and
/// without a weight, an open round with a check, an ending, photos, settings, a draft, an act taken
/// back. Version 2: the same, and two pickings of log 1 that were said to be two.
fn opens_with_all_it_held(version: u32, later: &[&str], first: &str) {
    let folder = frozen(version);
    let book = commands::open(folder.path(), Clock::fixed("2026-10-05T12:00:00+02:00").unwrap()).unwrap();
    let call = |name: &str, ask: serde_json::Value| commands::dispatch(&book, name, ask, None).unwrap();
    let settings = call("settings_show", serde_json::json!({}));
    assert_eq!(settings["logs"], 4);
    assert_eq!(settings["place"], "the old orchard");
    let yard = call("yard_list", serde_json::json!({"search": ""}));
    let told: Vec<String> = yard["logs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|l| format!("{} {} {} {}", l["tag"], l["state"], l["grams"], l["unweighed"]))
        .collect();
    assert_eq!(told, [first, "\"2\" \"spent\" 0 0", "\"3\" \"waiting\" 0 0", "\"L1\" \"fruiting\" 0 0"]);
    let acts = call("act_list", serde_json::json!({"limit": 99}));
    assert!(acts["acts"].as_array().unwrap().iter().any(|a| a["name"] == "undo"));
    assert!(!call("chores_show", serde_json::json!({}))["round"].is_null());
    // And every table of that version holds something.
    let empty = book.read(|conn| {
        let tables: Vec<String> = conn
            .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")?
            .query_map([], |r| r.get(0))?
            .collect::<Result<_, _>>()?;
        let mut empty = Vec::new();
        for table in tables {
            let rows: i64 = conn.query_row(&format!("SELECT count(*) FROM \"{table}\""), [], |r| r.get(0))?;
            if rows == 0 {
                empty.push(table);
            }
        }
        Ok(empty)
    });
    assert_eq!(empty.unwrap(), later, "version {version}");
    book.rebuild().unwrap();
    assert_eq!(
        call("yard_list", serde_json::json!({"search": ""})),
        yard,
        "its acts alone give the same yard"
    );
}

/// A damaged register of before version 8 could show no log: its facts lacked the column that says where one lies.
#[test]
fn a_damaged_register_of_an_older_version_is_read_with_its_logs_and_not_touched() {
    let folder = frozen(7);
    let path = folder.path().join("register.sqlite");
    let conn = rusqlite::Connection::open(&path).unwrap();
    let sql = "SELECT rootpage, (SELECT page_size FROM pragma_page_size) FROM sqlite_schema WHERE name = 'entry_act'";
    let (page, size): (u32, u32) = conn.query_row(sql, [], |r| Ok((r.get(0)?, r.get(1)?))).unwrap();
    let laid: String = conn
        .query_row("SELECT p.name FROM log l JOIN spot p ON p.id = l.spot ORDER BY l.tag LIMIT 1", [], |r| {
            r.get(0)
        })
        .unwrap();
    drop(conn);
    let (page, size) = (page as usize, size as usize);
    let mut bytes = std::fs::read(&path).unwrap();
    bytes[(page - 1) * size..page * size].fill(0xA5);
    std::fs::write(&path, &bytes).unwrap();
    let book = commands::open(folder.path(), Clock::fixed("2026-10-05T12:00:00+02:00").unwrap()).unwrap();
    let care = commands::dispatch(&book, "care_show", serde_json::json!({}), None).unwrap();
    // It is looked at before it is brought to a newer version.
    assert_eq!(care["reading_only"], "damaged");
    let yard = commands::dispatch(&book, "yard_list", serde_json::json!({"search": ""}), None).unwrap();
    let logs = yard["logs"].as_array().unwrap();
    assert_eq!(logs.len(), 4);
    assert!(logs.iter().any(|log| log["spot"] == laid.as_str()), "{laid}: {logs:?}");
    drop(book);
    assert_eq!(std::fs::read(&path).unwrap(), bytes);
    assert!(
        std::fs::read_dir(folder.path()).unwrap().all(|f| !f
            .unwrap()
            .file_name()
            .to_string_lossy()
            .starts_with("reading-"))
    );
}

#[test]
fn a_newer_register_is_opened_for_reading_only_and_not_touched() {
    let folder = frozen(1);
    let path = folder.path().join("register.sqlite");
    let conn = rusqlite::Connection::open(&path).unwrap();
    conn.pragma_update(None, "user_version", 9999).unwrap();
    drop(conn);
    let before = std::fs::read(&path).unwrap();
    let book = commands::open(folder.path(), Clock::wall()).unwrap();
    let draft = serde_json::json!({"key": "log:new", "value": "x"});
    let refused = commands::dispatch(&book, "draft_set", draft, None).unwrap_err().reply();
    assert_eq!((&refused["code"], &refused["detail"]["found"]), (&"too_new".into(), &9999.into()));
    drop(book);
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_file_that_is_no_register_is_refused_and_not_touched() {
    for bytes in [b"Dear diary, log 37 pins.".repeat(60), vec![0; 8192]] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("register.sqlite");
        std::fs::write(&path, &bytes).unwrap();
        let refused = commands::open(folder.path(), Clock::wall()).map(|_| ()).unwrap_err().reply();
        assert_eq!(refused["code"], "damaged");
        assert_eq!(std::fs::read(&path).unwrap(), bytes);
    }
}

#[test]
fn an_act_that_an_older_version_only_kept_counts_once_it_is_understood() {
    let folder = frozen(1);
    let path = folder.path().join("register.sqlite");
    let conn = rusqlite::Connection::open(&path).unwrap();
    let body = serde_json::json!({"said": {}, "changes": [
        {"set": {"kind": "apart", "id": "a+b", "name": "one", "value": "a"}}]});
    let unknown = serde_json::json!({"said": {}, "changes": [
        {"set": {"kind": "song", "id": "x", "name": "title", "value": "a"}}]});
    for (seq, body) in [(1, &body), (2, &unknown)] {
        conn.execute(
            "INSERT INTO act(device, seq, stamp, at, zone, name, body, applied)
             VALUES ('00000000-0000-7000-8000-000000000001', ?1, '019e0000000000ff', 0, '+00:00', 'later', ?2, 0)",
            rusqlite::params![seq, body.to_string()],
        )
        .unwrap();
    }
    drop(conn);
    let clock = Clock::fixed("2026-10-05T12:00:00+02:00").unwrap();
    for _ in 0..2 {
        let book = commands::open(folder.path(), clock.clone()).unwrap();
        let found: (String, i64) = book
            .read(|conn| {
                let applied =
                    conn.query_row("SELECT count(*) FROM act WHERE applied = 0", [], |r| r.get(0))?;
                Ok((conn.query_row("SELECT one FROM apart WHERE id = 'a+b'", [], |r| r.get(0))?, applied))
            })
            .unwrap();
        assert_eq!(found, ("a".into(), 1), "the other one is still kept");
    }
}

/// The frozen version 2, opened, and something in every table that came since. `FREEZE=write` keeps it as
/// `version-N.sqlite` of the newest version, once before that ships.
#[test]
#[allow(clippy::too_many_lines, reason = "an act a table")]
fn something_of_every_table_can_be_written_into_an_old_register() {
    use serde_json::{Value, json};
    use shadeyard_backend::book::{Change, Intent, Plan};
    let folder = frozen(2);
    let book = commands::open(folder.path(), Clock::fixed("2026-10-05T12:00:00+02:00").unwrap()).unwrap();
    let act = |name: &str, mut ask: Value| {
        ask["request"] = json!(crate::journeys::uuid().replacen('0', "1", 1));
        commands::dispatch(&book, name, ask, None).unwrap_or_else(|e| panic!("{name}: {}", e.reply()))
    };
    let yard = commands::dispatch(&book, "yard_list", json!({"search": ""}), None).unwrap();
    let log = yard["logs"][0]["id"].clone();
    act(
        "wood_set",
        json!({"wood": null, "fields": {"name": "plum", "scientific": "", "conifer": false, "shiitake": 2,
        "hericium": null, "density_kg_m3": 900, "moisture_pct": 40, "note": ""}}),
    );
    act(
        "batch_set",
        json!({"batch": null, "draft": null, "fields": {"name": "storm oak", "wood": "red-oak",
        "felled": "2026-08", "source": "", "disc_wet_g": 480, "disc_dry_g": 269, "doubtful": true, "note": ""}}),
    );
    act(
        "lot_set",
        json!({"lot": null, "fields": {"name": "bag", "strain": null, "form": "sawdust", "source": "",
        "received": "2026-03", "kept": null, "doubtful": false, "note": ""}}),
    );
    act(
        "weather_set",
        json!({"day": "2026-10-04", "min_dc": 31, "max_dc": 120, "rain_tenths": 45, "wind_tenths": null}),
    );
    act("chore_put_off", json!({"key": "backup", "until": "2026-10-09"}));
    act(
        "soak_in",
        json!({"logs": [log], "weights": [], "water_dc": 80, "ago_min": 600, "day": null, "note": "",
        "sure": true, "draft": null}),
    );
    act(
        "soak_out",
        json!({"logs": [log], "weights": [{"log": log, "grams": 12000}], "ago_min": 10, "day": null,
        "note": "", "sure": true, "draft": null}),
    );
    act(
        "weigh_add",
        json!({"weights": [{"log": log, "grams": 11900}], "day": null, "note": "", "sure": true,
        "draft": null}),
    );
    act(
        "water_add",
        json!({"logs": [log], "spot": null, "litres_tenths": 20, "day": null, "note": "", "draft": null}),
    );
    act("tend_add", json!({"logs": [log], "what": "turn", "day": null, "note": ""}));
    act(
        "condition_add",
        json!({"log": log, "bark": "loose", "cracks": null, "wax": null, "pecked": null,
        "competitor": null, "extent": null, "day": null, "photos": [], "note": ""}),
    );
    let spot = act(
        "spot_save",
        json!({"spot": null, "fields": {"name": "under the fir", "shade": null, "ground": null,
        "water": null, "rain": "some", "winter_sun": null, "heated": null, "note": ""}}),
    )["said"]["spot"]
        .clone();
    act("log_move", json!({"logs": [log], "spot": spot, "why": "plain", "day": null, "note": ""}));
    act("look_add", json!({"log": log, "seen": "pin", "photos": [], "note": "", "draft": null}));
    act(
        "sighting_add",
        json!({"log": log, "spot": null, "what": "slugs", "when": "now", "n": 3, "extent": null,
        "hid": [], "did": [], "photos": [], "note": ""}),
    );
    let round = act("round_start", json!({"kind": "picking"}))["said"]["round"].clone();
    act(
        "pick_take",
        json!({"round": round, "log": log, "seen": "cupped", "grams": null, "basket": true, "caps": 4,
        "damaged_pct": 10, "by": "slugs", "quality": "good", "photos": []}),
    );
    let request = crate::journeys::uuid().replacen('0', "1", 1);
    book.act(Intent { name: "cap_add", request: &request, draft: None }, |conn| {
        let (picking, hash): (String, String) = conn.query_row(
            "SELECT (SELECT entry FROM picking LIMIT 1), (SELECT hash FROM photo LIMIT 1)",
            [],
            |r| Ok((r.get(0)?, r.get(1)?)),
        )?;
        let row = json!({"log": log, "day": "2026-10-05", "at": 1, "zone": "+02:00", "photo": hash, "cap": 1,
            "width_tenths": 300, "low_tenths": 290, "high_tenths": 310});
        Ok(Plan::new(
            vec![Change::put("measure", &book.new_id(), row), Change::set("flush", &picking, "how", "split")],
            json!({}),
        ))
    })
    .unwrap();
    for table in
        ["wood", "batch", "lot", "weather", "put_off", "basket", "measure", "flush", "forecast", "sighting"]
    {
        let sql = format!("SELECT count(*) FROM {table}");
        let rows: i64 = book.read(|conn| Ok(conn.query_row(&sql, [], |r| r.get(0))?)).unwrap();
        assert!(rows > 0, "{table}");
    }
    drop(book);
    if std::env::var_os("FREEZE").is_none_or(|how| how != "write") {
        return;
    }
    let conn = rusqlite::Connection::open(folder.path().join("register.sqlite")).unwrap();
    let version: i64 = conn.query_row("PRAGMA user_version", [], |r| r.get(0)).unwrap();
    let to = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("migrations/version-{version}.sqlite"));
    conn.execute("VACUUM INTO ?1", [to.display().to_string()]).unwrap();
}
