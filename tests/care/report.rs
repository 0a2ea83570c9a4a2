//! The report for whoever looks after the program.
//! Never anything of the grower's in it.
//! Invariant: each planted word stands somewhere in the register.

use super::*;

#[test]
fn the_report_has_none_of_the_growers_words() {
    let yard = filled();
    backup(&yard);
    // Trouble, too, is told without naming the photo.
    let (path, _) = files(&yard.folder.path().join("blobs")).remove(0);
    std::fs::remove_file(&path).unwrap();
    ended(&yard, &yard.call("register_check", json!({})));
    let report = text(&yard.call("details_copy", json!({}))["text"]);
    let hash = Path::new(&path).file_name().unwrap().to_str().unwrap().to_owned();
    let folder = yard.folder.path().to_str().unwrap().to_owned();
    let care = yard.call("care_show", json!({}));
    let planted = [
        "A1",
        "A2",
        "Hazel",
        "bank",
        "Beech",
        "hedge",
        "mossy",
        "Nightcap",
        "after rain",
        "half a thought",
        "47.5",
        "9.5",
        "red-oak",
        "register-2026",
        "before-",
    ];
    for word in
        planted.map(str::to_owned).into_iter().chain([hash, folder, text(&care["devices"][0]["device"])])
    {
        assert!(!report.to_lowercase().contains(&word.to_lowercase()), "{word} stands in\n{report}");
    }
    let expected = ["acts: 8, not understood 0", "logs: 2", "entries: 4", "missing 1", "writing: yes"];
    for line in expected {
        assert!(report.contains(line), "{line} is missing in\n{report}");
    }
}

#[test]
fn care_shows_where_the_bytes_are_and_who_writes() {
    let yard = filled();
    backup(&yard);
    let hash = text(&yard.call("yard_list", json!({"search": "A2"}))["logs"][0]["photo"]);
    shadeyard_backend::commands::photo(yard.book(), &format!("{hash}.small")).unwrap();
    let care = yard.call("care_show", json!({}));
    let storage = &care["storage"];
    for bytes in ["register_bytes", "photo_bytes", "made_bytes", "backups_bytes"] {
        assert!(storage[bytes].as_i64().unwrap() > 0, "{bytes} in {storage}");
    }
    assert_eq!((&storage["photos"], &storage["snapshots_bytes"]), (&json!(2), &json!(0)));
    let device = &care["devices"][0];
    assert_eq!(
        (&device["acts"], &device["mine"], &device["ahead"]),
        (&json!(8), &json!(true), &json!(false))
    );
    assert_eq!(
        (&care["device"], &care["unsent"], &care["reading_only"]),
        (&device["short"], &json!(null), &json!(null))
    );
    yard.now("2026-10-01T18:30:00+02:00");
    assert_eq!(
        yard.call("care_show", json!({}))["devices"][0]["ahead"],
        json!(true),
        "a clock that went back"
    );
}
