//! Licence expressions in SPDX form, read far enough to say whether we may use what is under them.
//!
//! Never here: where an expression comes from. Invariant: an expression that cannot be read is not allowed.

/// Licences a part of this app may be under.
const ALLOWED: [&str; 16] = [
    "0BSD",
    "Apache-2.0",
    "BSD-1-Clause",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "CDLA-Permissive-2.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "OFL-1.1",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Whether some choice the expression leaves is made of allowed licences only.
pub fn allowed(expression: &str) -> bool {
    // The old form `A/B` means a choice.
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let tokens: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let fine = any(&tokens, &mut at);
    at == tokens.len() && fine == Some(true)
}

fn any(tokens: &[&str], at: &mut usize) -> Option<bool> {
    let mut fine = all(tokens, at)?;
    while tokens.get(*at) == Some(&"OR") {
        *at += 1;
        fine |= all(tokens, at)?;
    }
    Some(fine)
}

fn all(tokens: &[&str], at: &mut usize) -> Option<bool> {
    let mut fine = one(tokens, at)?;
    while tokens.get(*at) == Some(&"AND") {
        *at += 1;
        fine &= one(tokens, at)?;
    }
    Some(fine)
}

fn one(tokens: &[&str], at: &mut usize) -> Option<bool> {
    let token = *tokens.get(*at)?;
    *at += 1;
    if token == "(" {
        let fine = any(tokens, at)?;
        let closed = tokens.get(*at) == Some(&")");
        *at += 1;
        return closed.then_some(fine);
    }
    // An exception only ever gives more room.
    if tokens.get(*at) == Some(&"WITH") {
        *at += 2;
    }
    Some(ALLOWED.contains(&token))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_needs_one_allowed_licence_and_a_sum_needs_all() {
        assert!(allowed("MIT"));
        assert!(allowed("GPL-3.0 OR MIT"));
        assert!(!allowed("GPL-3.0 AND MIT"));
        assert!(allowed("(GPL-2.0 OR Apache-2.0) AND MIT"));
        assert!(allowed("Apache-2.0 WITH LLVM-exception"));
        assert!(allowed("Unlicense/GPL-3.0"));
    }

    #[test]
    fn what_cannot_be_read_is_not_allowed() {
        for text in ["", "AGPL-3.0-only", "(MIT", "MIT OR", "MIT Apache-2.0", "SEE LICENSE IN x"] {
            assert!(!allowed(text), "{text}");
        }
    }
}
