//! Bringing in a spreadsheet, and handing out a photo: files across the window's edge.
//!
//! Never here: every cell that can be wrong (tested without a window). Invariant: a file with a bad row changes
//! nothing.

use serde_json::{Value, json};

use super::checks::{axe, no_sideways_scroll};
use super::driver::Window;
use super::yards::{EVENING, Yard, photo};

const BAD: &str = "Log No.;Tree species;Diameter (cm);Date inoculated;Where;Weather\n\
    20;Red oak;12,5;3/5/2024;Ditch;rain\n\
    21;Sugar maple;11;32/13/2024;Ditch;sun\n\
    22;plastic;9;4/5/2024;Gate;\n";
const GOOD: &str = "Log No.;Tree species;Diameter (cm);Date inoculated;Where;Weather\n\
    20;Red oak;12,5;3/5/2024;Ditch;rain\n\
    21;Sugar maple;11;3/5/2024;Ditch;sun\n";

#[test]
fn a_sheet_with_a_bad_row_is_refused_by_its_row_and_the_mended_one_comes_in() {
    let yard = Yard::of_seven();
    let files = tempfile::tempdir().expect("a folder");
    let window = Window::open("bring_in", yard.folder(), EVENING);
    let logs = || window.ask("yard_list", json!({"search": ""}))["total"].clone();
    window.click("#tab-yard");
    window.click("#bring-in");
    window.wait_screen("Bring in a spreadsheet");
    for (name, bytes) in [("picture.csv", "\u{0}\u{1}"), ("bad.csv", BAD)] {
        std::fs::write(files.path().join(name), bytes).expect("a file");
        window.give_file("#sheet", &files.path().join(name));
        window.wait_words(if name == "bad.csv" { "3 rows and 6 columns" } else { "This file is no CSV" });
    }
    assert_eq!(window.value("#column-0"), "tag");
    assert_eq!(window.value("#column-1"), "wood");
    assert_eq!(window.value("#column-5"), "", "what nobody knows is left out");
    window.choose("#column-4", "spot");
    window.picture("1-columns");
    window.click("#try");
    window.wait_words("No column says the mushroom.");
    window.click("[data-field=mushroom] .chip[data-value=shiitake]");
    window.click("#try");
    window.wait_words("2 rows cannot be taken in, one is good. Nothing was written.");
    assert!(
        window.text("#refused [data-row='3']").contains("“32/13/2024” is not a date"),
        "{}",
        window.text("#refused")
    );
    assert!(
        window.text("#refused [data-row='4']").contains("“plastic” is not known here"),
        "{}",
        window.text("#refused")
    );
    window.picture("2-refused");
    axe(&window, "refused rows");
    assert_eq!((window.count("#take"), logs()), (0, json!(7)), "nothing was written and nothing can be");
    std::fs::write(files.path().join("good.csv"), GOOD).expect("a file");
    window.give_file("#sheet", &files.path().join("good.csv"));
    window.wait_words("2 rows and 6 columns");
    window.choose("#column-4", "spot");
    window.click("[data-field=mushroom] .chip[data-value=shiitake]");
    window.click("#try");
    window.wait_words("All good: 2 logs. Nothing is written yet.");
    window.picture("3-good");
    axe(&window, "good rows");
    window.resize(320, 700);
    no_sideways_scroll(&window, "bring-in with good rows");
    window.click("#take");
    window.wait_screen("Yard");
    window.wait_words("2 logs taken in from a spreadsheet.");
    assert_eq!(logs(), 9);
    window.open_log("20");
    window.wait_words("12.5 cm thick");
    window.wait_words("3 May 2024");
    window.script("location.hash = '#/acts'", vec![]);
    window.click("[data-act-name=csv_take] [data-undo]");
    window.wait_words("Taken back");
    assert_eq!(logs(), 7, "one undo takes all of it back");
}

#[test]
fn pickings_of_a_sheet_come_onto_the_logs_with_their_tags() {
    let yard = Yard::of_seven();
    let files = tempfile::tempdir().expect("a folder");
    let file = files.path().join("pickings.csv");
    std::fs::write(&file, "tag,day,weight,caps\n1,2026-09-20,1.5,12\n9,2026-09-20,2,4\n").expect("a file");
    let window = Window::open("bring_in_pickings", yard.folder(), EVENING);
    window.script("location.hash = '#/bring-in'", vec![]);
    window.give_file("#sheet", &file);
    window.wait_words("2 rows and 4 columns");
    window.click("[data-field=weights] .chip[data-value=lb]");
    window.click("#try");
    window.wait_words("No log in the yard carries the tag “9”.");
    window.picture("1-no-such-log");
    std::fs::write(&file, "tag,day,weight,caps\n1,2026-09-20,1.5,12\n").expect("a file");
    window.give_file("#sheet", &file);
    window.wait_words("1 row and 4 columns");
    window.click("[data-field=weights] .chip[data-value=lb]");
    window.click("#try");
    window.click("#take");
    window.wait_words("1 picking taken in from a spreadsheet.");
    let log = window.ask("yard_list", json!({"search": "1"}))["logs"][0].clone();
    assert_eq!(
        (&log["tag"], &log["grams"]),
        (&json!("1"), &json!(680)),
        "1.5 lb, by the 1959 agreement 680.39 g"
    );
}

#[test]
fn a_photo_is_handed_out_whole_and_without_its_place() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder");
    let window = Window::open("hand_out", yard.folder(), EVENING);
    window.open_log("4");
    window.click("#look");
    window.give_file("#photo", &photo(shots.path(), "four.jpg", 50));
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=nothing]");
    window.click("#save");
    window.click(".photo-thumb");
    window.click("#share");
    window.wait_words("look in the downloads folder");
    window.picture("1-handed-out");
    let hash = window.script("return location.hash.split('/').pop()", vec![]);
    let meant = window.ask("photo_share", json!({"hash": hash}));
    let name = meant["name"].as_str().expect("a name");
    let file = window.downloads().join(name);
    window.wait_so("the file among the downloads", || file.is_file());
    let bytes = std::fs::read(&file).expect("the copy");
    let shared = base64::Engine::decode(&base64::engine::general_purpose::STANDARD, text(&meant["base64"]))
        .expect("bytes");
    assert!(bytes == shared, "byte by byte what the backend gave");
    assert!(window.text("#share-said").contains(name));
}

fn text(value: &Value) -> &str {
    value.as_str().expect("text")
}
