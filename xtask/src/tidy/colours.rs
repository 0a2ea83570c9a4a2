//! Raw colours stand in one file, so that both lights can be checked in one place.
//!
//! Never here: which colours. Invariant: outside `ui/styles/tokens.css` a colour is a token.

use super::tree::{Breach, File, Tree, without_comments};

const TOKENS: &str = "ui/styles/tokens.css";

/// Functions that make a colour from numbers.
const FUNCTIONS: [&str; 10] =
    ["rgb(", "rgba(", "hsl(", "hsla(", "hwb(", "lab(", "lch(", "oklab(", "oklch(", "color("];

/// Raw colours outside the tokens.
pub fn colours(tree: &Tree) -> Vec<Breach> {
    let styles = tree.pages(&[".css"]).filter(|file| file.path != TOKENS).flat_map(in_styles);
    let pages = tree.pages(&[".js", ".html", ".svg"]).flat_map(in_pages);
    styles.chain(pages).collect()
}

/// In a style sheet only values count: `#bed` is also a fine id, and `tan` a fine class.
fn in_styles(file: &File) -> Vec<Breach> {
    let code = without_comments(&file.text, true);
    let mut breaches = Vec::new();
    let mut from = 0;
    for (end, mark) in code.char_indices().filter(|(_, c)| matches!(c, '{' | '}' | ';')) {
        let piece = &code[from..end];
        if mark != '{'
            && let Some(colon) = piece.find(':')
        {
            let value = &piece[colon + 1..];
            breaches.extend(in_value(value).map(|raw| file.breach(from + colon + 1, says(&raw))));
        }
        from = end + 1;
    }
    breaches
}

fn in_value(value: &str) -> Option<String> {
    if let Some(function) = FUNCTIONS.iter().find(|name| called(value, name)) {
        return Some((*function).to_owned());
    }
    if let Some(hex) = value.match_indices('#').find_map(|(at, _)| hex(&value[at..])) {
        return Some(hex);
    }
    let words = value.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_'));
    words.map(str::to_ascii_lowercase).find(|word| NAMED.contains(&word.as_str()))
}

/// In a page a colour is text in quotes, or the value of an attribute that paints.
fn in_pages(file: &File) -> Vec<Breach> {
    let code = without_comments(&file.text, false);
    let mut breaches = Vec::new();
    for (at, _) in code.match_indices('#') {
        let quoted = code[..at].ends_with(['\'', '"', '`', ' ', ':', '=']);
        if let Some(hex) = hex(&code[at..]).filter(|_| quoted && !code[..at].ends_with("this.")) {
            breaches.push(file.breach(at, says(&hex)));
        }
    }
    for name in FUNCTIONS.iter().filter(|name| **name != "color(" && called(&code, name)) {
        breaches.push(file.breach(code.find(name).unwrap_or(0), says(name)));
    }
    for paint in ["fill=", "stroke=", "color=", "stop-color="] {
        for (at, _) in code.match_indices(paint) {
            let word: String = code[at + paint.len()..]
                .trim_start_matches(['"', '\''])
                .chars()
                .take_while(char::is_ascii_alphabetic)
                .collect();
            if NAMED.contains(&word.to_ascii_lowercase().as_str()) {
                breaches.push(file.breach(at, says(&word)));
            }
        }
    }
    breaches
}

/// `#` with 3, 4, 6 or 8 hex digits and nothing more.
fn hex(text: &str) -> Option<String> {
    let word: String =
        text.chars().skip(1).take_while(|c| c.is_alphanumeric() || *c == '-' || *c == '_').collect();
    let digits = word.chars().all(|c| c.is_ascii_hexdigit());
    (digits && matches!(word.len(), 3 | 4 | 6 | 8)).then(|| format!("#{word}"))
}

fn called(text: &str, function: &str) -> bool {
    text.match_indices(function).any(|(at, _)| {
        let before = text[..at].chars().next_back().unwrap_or(' ');
        !(before.is_alphanumeric() || before == '-' || before == '_' || before == '.')
    })
}

fn says(raw: &str) -> String {
    format!("'{raw}': raw colours stand in {TOKENS} only, use a token")
}

/// The named colours of CSS Color Level 4.
const NAMED: [&str; 148] = [
    "aliceblue",
    "antiquewhite",
    "aqua",
    "aquamarine",
    "azure",
    "beige",
    "bisque",
    "black",
    "blanchedalmond",
    "blue",
    "blueviolet",
    "brown",
    "burlywood",
    "cadetblue",
    "chartreuse",
    "chocolate",
    "coral",
    "cornflowerblue",
    "cornsilk",
    "crimson",
    "cyan",
    "darkblue",
    "darkcyan",
    "darkgoldenrod",
    "darkgray",
    "darkgreen",
    "darkgrey",
    "darkkhaki",
    "darkmagenta",
    "darkolivegreen",
    "darkorange",
    "darkorchid",
    "darkred",
    "darksalmon",
    "darkseagreen",
    "darkslateblue",
    "darkslategray",
    "darkslategrey",
    "darkturquoise",
    "darkviolet",
    "deeppink",
    "deepskyblue",
    "dimgray",
    "dimgrey",
    "dodgerblue",
    "firebrick",
    "floralwhite",
    "forestgreen",
    "fuchsia",
    "gainsboro",
    "ghostwhite",
    "gold",
    "goldenrod",
    "gray",
    "green",
    "greenyellow",
    "grey",
    "honeydew",
    "hotpink",
    "indianred",
    "indigo",
    "ivory",
    "khaki",
    "lavender",
    "lavenderblush",
    "lawngreen",
    "lemonchiffon",
    "lightblue",
    "lightcoral",
    "lightcyan",
    "lightgoldenrodyellow",
    "lightgray",
    "lightgreen",
    "lightgrey",
    "lightpink",
    "lightsalmon",
    "lightseagreen",
    "lightskyblue",
    "lightslategray",
    "lightslategrey",
    "lightsteelblue",
    "lightyellow",
    "lime",
    "limegreen",
    "linen",
    "magenta",
    "maroon",
    "mediumaquamarine",
    "mediumblue",
    "mediumorchid",
    "mediumpurple",
    "mediumseagreen",
    "mediumslateblue",
    "mediumspringgreen",
    "mediumturquoise",
    "mediumvioletred",
    "midnightblue",
    "mintcream",
    "mistyrose",
    "moccasin",
    "navajowhite",
    "navy",
    "oldlace",
    "olive",
    "olivedrab",
    "orange",
    "orangered",
    "orchid",
    "palegoldenrod",
    "palegreen",
    "paleturquoise",
    "palevioletred",
    "papayawhip",
    "peachpuff",
    "peru",
    "pink",
    "plum",
    "powderblue",
    "purple",
    "rebeccapurple",
    "red",
    "rosybrown",
    "royalblue",
    "saddlebrown",
    "salmon",
    "sandybrown",
    "seagreen",
    "seashell",
    "sienna",
    "silver",
    "skyblue",
    "slateblue",
    "slategray",
    "slategrey",
    "snow",
    "springgreen",
    "steelblue",
    "tan",
    "teal",
    "thistle",
    "tomato",
    "turquoise",
    "violet",
    "wheat",
    "white",
    "whitesmoke",
    "yellow",
    "yellowgreen",
];

#[cfg(test)]
mod tests {
    use super::*;

    fn caught(path: &str, text: &str) -> usize {
        colours(&Tree::of(&[(path, text)])).len()
    }

    #[test]
    fn a_raw_colour_in_a_style_sheet_is_caught() {
        assert_eq!(caught("ui/yard/style.css", "a { color: #a1b2c3; border: 1px solid Red }"), 2);
        assert_eq!(caught("ui/yard/style.css", "a { color: rgb(1 2 3); fill: oklch(50% 0 0) }"), 2);
    }

    #[test]
    fn tokens_ids_classes_and_comments_are_no_colours() {
        assert_eq!(caught(TOKENS, ":root { --ink: #111 }"), 0);
        let text =
            "/* red */ #bed .tan:hover { color: var(--red); background: url(\"#fff\"); fill: currentColor }";
        assert_eq!(caught("ui/yard/style.css", text), 0);
    }

    #[test]
    fn a_raw_colour_in_a_page_is_caught() {
        assert_eq!(caught("ui/yard/parts.js", "svg`<path fill=\"red\"/><path stroke='#123456'/>`"), 2);
        assert_eq!(caught("ui/yard/parts.js", "pen.fillStyle = 'rgba(0,0,0,1)'"), 1);
        assert_eq!(caught("ui/yard/parts.js", "go('#/log/' + id); this.#add = 1; // #fff"), 0);
    }
}
