//! Reading one cell that holds a word of the trade: a wood, a mushroom, a method.
//! Never a number or a date, and never a seller's name.
//! Invariant: what can mean two things is refused; a refusal is an `Invalid` on field `cell`.

use super::cells::CELL;
use crate::error::{Error, Result};
use crate::logs::rules::{Method, Spawn};
use crate::pickings::rules::By;
use crate::strains::rules::{Mushroom, StrainClass};
use crate::woods::rules as woods;
use serde_json::json;

/// A wood, by its id, its common or its scientific name; `own` are the grower's, as id and names.
///
/// # Errors
/// `unknown_word`.
pub fn wood(text: &str, own: &[(String, String, String)]) -> Result<String> {
    let plain = plain(text);
    let is = |name: &str| self::plain(name) == plain;
    let found = woods::woods().iter().find(|w| is(&w.id) || is(&w.name) || is(&w.scientific));
    let own =
        || own.iter().find(|(_, name, scientific)| is(name) || (!scientific.is_empty() && is(scientific)));
    found.map(|w| w.id.clone()).or_else(|| own().map(|w| w.0.clone())).ok_or_else(|| unknown(text))
}

/// A mushroom, by its id, its common or its scientific name (common practice, no source).
///
/// # Errors
/// `unknown_word`; `hericium` alone is two of them.
pub fn mushroom(text: &str) -> Result<Mushroom> {
    match plain(text).as_str() {
        "shiitake" | "lentinula edodes" | "lentinula" => Ok(Mushroom::Shiitake),
        "erinaceus" | "hericium erinaceus" | "h. erinaceus" | "lion's mane" | "lions mane" => {
            Ok(Mushroom::Erinaceus)
        }
        "americanum"
        | "hericium americanum"
        | "h. americanum"
        | "bear's head tooth"
        | "bear's head"
        | "bears head" => Ok(Mushroom::Americanum),
        _ => Err(unknown(text)),
    }
}

/// A strain's class.
///
/// # Errors
/// `unknown_word`.
pub fn class(text: &str) -> Result<StrainClass> {
    match plain(text).as_str() {
        "cold" | "cw" | "cold weather" => Ok(StrainClass::Cold),
        "warm" | "ww" | "warm weather" => Ok(StrainClass::Warm),
        "wide" | "wr" | "wide range" => Ok(StrainClass::Wide),
        _ => Err(unknown(text)),
    }
}

/// The form of spawn.
///
/// # Errors
/// `unknown_word`.
pub fn spawn(text: &str) -> Result<Spawn> {
    match plain(text).as_str() {
        "plug" | "plugs" | "dowel" | "dowels" => Ok(Spawn::Plug),
        "sawdust" => Ok(Spawn::Sawdust),
        _ => Err(unknown(text)),
    }
}

/// How it was brought in.
///
/// # Errors
/// `unknown_word`.
pub fn method(text: &str) -> Result<Method> {
    match plain(text).as_str() {
        "drilled" | "drill" | "drill and fill" => Ok(Method::Drilled),
        "totem" | "totems" => Ok(Method::Totem),
        _ => Err(unknown(text)),
    }
}

/// What damaged the caps.
///
/// # Errors
/// `unknown_word`.
pub fn by(text: &str) -> Result<By> {
    let plain = plain(text);
    let one = |by: &&By| by.word() == plain || by.word().trim_end_matches('s') == plain;
    By::ALL.iter().find(one).copied().ok_or_else(|| unknown(text))
}

fn unknown(text: &str) -> Error {
    Error::invalid_with(CELL, "unknown_word", json!({"word": text}))
}

/// Lower case, one blank for hyphens and blanks, the straight apostrophe.
fn plain(text: &str) -> String {
    let text = text.to_lowercase().replace('’', "'").replace(['-', '_'], " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_known_by_id_and_name_whatever_their_case() {
        for text in ["sugar-maple", "Sugar Maple", "ACER SACCHARUM"] {
            assert_eq!(wood(text, &[]).unwrap(), "sugar-maple");
        }
        for text in ["Lion’s mane", "lions-mane", "Hericium erinaceus", "erinaceus"] {
            assert_eq!(mushroom(text).unwrap(), Mushroom::Erinaceus);
        }
        assert_eq!(mushroom("Shiitake").unwrap(), Mushroom::Shiitake);
        assert_eq!(by("slug").unwrap(), By::Slugs);
        assert_eq!(class("wide-range").unwrap(), StrainClass::Wide);
        assert_eq!(method("Drill and fill").unwrap(), Method::Drilled);
        assert_eq!(spawn("Plugs").unwrap(), Spawn::Plug);
    }

    #[test]
    fn a_word_that_means_two_things_or_nothing_is_refused() {
        let why = |refused: Result<String>| refused.map_err(|e| e.reply()["detail"]["why"].clone());
        assert_eq!(why(mushroom("Hericium").map(|m| m.word().to_owned())), Err(json!("unknown_word")));
        assert_eq!(why(wood("plastic", &[])), Err(json!("unknown_word")));
        let own = [("id-1".to_owned(), "Plum".to_owned(), String::new())];
        assert_eq!(wood(" plum ", &own).unwrap(), "id-1");
    }
}
