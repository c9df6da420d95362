//! Typed text brought to one plain form before it is read.
//!
//! Phones turn quotes into typographic ones and put no-break spaces behind numbers; pasted text brings its own
//! minus. None of that changes what was meant, so it is levelled here, once.

/// Returns the text with plain spaces, quotes, minus and fractions, trimmed; case is kept (MPa is not mPa).
pub(super) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{2018}' | '\u{2019}' | '\u{201B}' | '\u{2032}' | '\u{02B9}' | '\u{02BC}' | '\u{00B4}'
            | '`' => {
                out.push('\'');
            }
            '\u{201C}' | '\u{201D}' | '\u{201E}' | '\u{201F}' | '\u{2033}' | '\u{02BA}' => out.push('"'),
            '\u{2212}' | '\u{2010}'..='\u{2015}' | '\u{FE63}' | '\u{FF0D}' => out.push('-'),
            '\u{2044}' | '\u{2215}' => out.push('/'),
            '\u{200B}' | '\u{2060}' | '\u{FEFF}' => {}
            _ if letter.is_whitespace() => out.push(' '),
            _ => match vulgar(letter) {
                Some(fraction) => {
                    out.push(' ');
                    out.push_str(fraction);
                }
                None => out.push(letter),
            },
        }
    }
    // Two foot marks in a row are how some keyboards write the inch mark.
    out.replace("''", "\"").trim().to_owned()
}

fn vulgar(letter: char) -> Option<&'static str> {
    Some(match letter {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅒' => "1/10",
        _ => return None,
    })
}
