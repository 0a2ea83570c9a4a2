//! Review in the window: the demo yard's answer read on a phone in winter, and an empty yard's.
//! Never how a figure is worked out. Invariant: the answer stands above the fold at 390 × 844.

use chrono::NaiveDate;
use serde_json::json;

use super::driver::Window;
use super::yards::{EVENING, Yard};

/// A winter evening by the stove.
const WINTER: &str = "2026-11-25T19:00:00+01:00";

fn demo() -> Yard {
    let yard = Yard::empty();
    let until = NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day");
    shadeyard_demo::build(yard.folder(), until).expect("the demo yard is laid");
    yard
}

#[test]
fn a_grower_reads_which_wood_did_best_and_prints_the_season() {
    let yard = demo();
    let window = Window::open("review_winter", yard.folder(), WINTER);
    window.click("#tab-review");
    window.wait_for("#groups-table");
    window.wait_words("Sugar maple");
    window.picture("1-answer");
    let fold = "const box = document.querySelector('.plot .plot-dot').getBoundingClientRect(); return box.bottom < innerHeight && box.top > 0";
    assert_eq!(window.script(fold, vec![]), json!(true), "the first dot is seen without a scroll");
    // A long choice in a narrow field once reached past it: no box was too wide, and the screen scrolled across.
    let across = "return [...document.querySelectorAll('*')].filter(el => el.scrollWidth > el.clientWidth + 1 && !el.closest('.wide') \
        && ['auto', 'scroll'].includes(getComputedStyle(el).overflowX)).map(el => el.tagName + '.' + el.className)";
    assert_eq!(window.script(across, vec![]), json!([]), "it scrolls across");
    let page = window.page();
    assert!(!page.contains("NaN") && !page.contains("undefined") && !page.contains("null"), "{page}");
    window.script("document.querySelector('#groups-table').scrollIntoView()", vec![]);
    window.picture("2-table");
    window.script("document.querySelectorAll('details').forEach(d => d.open = true)", vec![]);
    window.picture("3-where-from");
    for (n, (by, measure)) in [
        ("wood", "soonest"),
        ("strain", "log_year"),
        ("spot", "damage"),
        ("thickness", "litre"),
        ("wood", "dry_kg"),
    ]
    .into_iter()
    .enumerate()
    {
        window.choose("#by", by);
        window.choose("#measure", measure);
        window.wait_until(
            "the question",
            &format!(
                "return location.hash.includes('measure={measure}') && location.hash.includes('by={by}')"
            ),
        );
        window.script("document.querySelector('#screen').scrollTo(0, 0)", vec![]);
        window.picture(&format!("4-{n}-{by}-{measure}"));
    }
    window.script("location.hash = '#/review/season?year=2026'", vec![]);
    window.wait_screen("The season 2026");
    window.picture("5-season");
    window.script("document.querySelector('#year-title').scrollIntoView()", vec![]);
    window.picture("6-year");
    window.click("#save-pdf");
    let file = window.downloads().join("season-2026.pdf");
    window
        .wait_so("the report among the downloads", || std::fs::metadata(&file).is_ok_and(|m| m.len() > 2000));
    let kept = super::driver::pictures("review_winter").join("season-2026.pdf");
    std::fs::copy(&file, kept).expect("kept beside the pictures");
}

/// The drawing of the answer beside plain shapes of the same number, written as one string, in turn: where the page
/// adds work of its own to a dot, it shows as a ratio on any machine. What a frame holds is measured, not tested.
#[test]
fn the_picture_costs_little_more_than_its_shapes() {
    let yard = demo();
    let window = Window::open("review_frame", yard.folder(), WINTER);
    window.click("#tab-review");
    window.wait_for("#groups-table");
    let draw = "const done = arguments[arguments.length - 1];
        Promise.all([import('/vendor/lit-html/lit-html.js'), import('/review/picture.js'), import('/api/call.js')])
          .then(async ([{ render }, { picture }, { call }]) => {
            const view = await call('review_ask', { question: { by: 'wood', measure: 'log_year' } });
            const put = (how) => {
              const div = document.createElement('div');
              document.querySelector('#screen').append(div);
              const began = performance.now();
              how(div);
              div.getBoundingClientRect();
              const took = performance.now() - began;
              const shapes = div.querySelectorAll('svg *').length;
              div.remove();
              return { took, shapes };
            };
            const own = [], plain = [];
            let shapes = 0;
            for (let i = 0; i < 15; i += 1) {
              const drawn = put((div) => render(picture(view), div));
              shapes = drawn.shapes;
              const dots = Array.from({ length: shapes }, (_, n) => `<circle class='plot-log' cx='${n % 90}%' cy='${n % 30}em' r='0.4em' />`);
              own.push(drawn.took);
              plain.push(put((div) => { div.innerHTML = `<svg class='plot' width='100%' height='32em'>${dots.join('')}</svg>`; }).took);
            }
            done([Math.min(...own), Math.min(...plain), shapes]);
          })";
    let seen = window.script_later(draw, vec![]);
    let [own, plain, shapes] = [0, 1, 2].map(|at| seen[at].as_f64().expect("a figure"));
    println!(
        "{shapes} shapes drawn and laid out in {own:.1} ms, plain ones in {plain:.1} ms: {:.1} x",
        own / plain
    );
    assert!((40.0..2_000.0).contains(&shapes), "{shapes} shapes");
    assert!(own <= 8.0 * plain.max(2.0), "{own} ms for {shapes} shapes, plain ones {plain} ms");
}

#[test]
fn an_empty_yard_says_what_is_missing() {
    let yard = Yard::empty();
    let window = Window::open("review_empty", yard.folder(), EVENING);
    window.click("#tab-review");
    window.wait_words("There are no logs to compare yet.");
    window.picture("1-empty");
    window.script("location.hash = '#/review/season'", vec![]);
    window.wait_words("Nothing was picked.");
    window.picture("2-season");
}
