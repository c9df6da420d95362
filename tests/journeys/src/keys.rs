//! The keys of the app's number pad, by the text each puts in.

/// Longest first: ` mm` must not be taken for ` m` and a stray `m`.
const KEYS: [(&str, &str); 30] = [
    (" 1/8", "eighth"),
    (" 1/4", "quarter"),
    (" 3/8", "three-eighths"),
    (" 1/2", "half"),
    (" 5/8", "five-eighths"),
    (" 3/4", "three-quarters"),
    (" 7/8", "seven-eighths"),
    (" °C", "degc"),
    (" °F", "degf"),
    (" mm", "mm"),
    (" m", "m"),
    ("' ", "ft"),
    ("'", "ft"),
    ("\"", "in"),
    ("0", "0"),
    ("1", "1"),
    ("2", "2"),
    ("3", "3"),
    ("4", "4"),
    ("5", "5"),
    ("6", "6"),
    ("7", "7"),
    ("8", "8"),
    ("9", "9"),
    (".", "."),
    ("/", "slash"),
    (" ", "space"),
    ("+", "sign"),
    ("-", "sign"),
    ("\u{2212}", "sign"),
];

/// Returns the keys to press for a text, or the rest that no key puts in.
pub(crate) fn presses(text: &str) -> Result<Vec<&'static str>, String> {
    // The sign key turns the whole number over, so it comes last wherever it was written.
    let (negative, mut rest) = text.strip_prefix('-').map_or((false, text), |rest| (true, rest));
    let mut pressed = Vec::new();
    while !rest.is_empty() {
        let key = KEYS.iter().find(|(puts_in, _)| rest.starts_with(puts_in));
        let (puts_in, name) = key.ok_or_else(|| rest.to_owned())?;
        pressed.push(*name);
        rest = rest.strip_prefix(puts_in).unwrap_or_default();
    }
    pressed.extend(negative.then_some("sign"));
    Ok(pressed)
}

#[cfg(test)]
mod tests {
    use super::presses;

    #[test]
    fn lengths_and_numbers_are_pressed_as_they_are_written() {
        assert_eq!(presses("22' 7 1/2\"").unwrap(), ["2", "2", "ft", "7", "half", "in"]);
        assert_eq!(presses("6880 mm").unwrap(), ["6", "8", "8", "0", "mm"]);
        assert_eq!(presses("6.88 m").unwrap(), ["6", ".", "8", "8", "m"]);
        assert_eq!(presses("-31.1").unwrap(), ["3", "1", ".", "1", "sign"]);
    }

    #[test]
    fn what_no_key_puts_in_is_told() {
        assert_eq!(presses("12,5").unwrap_err(), ",5");
    }
}
