//! Texts cut where there is no room for all of them.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// At most so wide, counted as a terminal shows it (Unicode standard annex 11); the rest is given as `…`.
pub(super) fn cut(text: &str, most: usize) -> String {
    if text.width() <= most {
        return text.to_string();
    }
    let mut short = String::new();
    for c in text.chars() {
        if short.width() + c.width().unwrap_or(0) + 1 > most {
            break;
        }
        short.push(c);
    }
    short + "…"
}

#[cfg(test)]
mod tests {
    use super::cut;

    #[test]
    fn texts_are_cut_by_what_they_show_not_by_letters() {
        assert_eq!(cut("清掃員の名前", 5), "清掃…");
        assert_eq!(cut("Ana", 5), "Ana");
    }
}
