//! Our label's link and its code, requirement by requirement of an identification link (`reference/code.json`).
//!
//! The titles are those of the standard's contents list. Its text was not at hand: the limits are from memory or from public
//! descriptions of the standard, as each line below says.

use proptest::prelude::*;
use tagcode::sheet::{Dpi, Mm, Plate, Shape};
use tagcode::{DrawError, Effort, Strength, link};

use crate::facts::{group, named};
use crate::view::{LINK, seen, texts};

const FACTS: &str = include_str!("../../reference/code.json");
const HOST: &str = "id.marrowby.example";

/// Tags as utilities write them, with a few that need escaping.
const TAGS: [&str; 7] = ["LT-2041", "lt-2041", "12-FC-135A", "FY.2034_A~2", "TL WASH 4012", "LT-1/2", "FÜ-1"];
/// The first of them have nothing that a link must escape.
const PLAIN: usize = 4;

fn links() -> Vec<String> {
    TAGS.iter().map(|tag| link(HOST, tag).unwrap()).collect()
}

fn label() -> Plate {
    Plate::fit(LINK, "LT-2041", (Mm(99.1), Mm(67.7)), Dpi::of(300).unwrap(), Mm(90.0)).unwrap()
}

/// The characters of the standard's table A.1, as a public generator of such codes by members of its committee lists them.
fn listed(letter: char) -> bool {
    letter.is_ascii_alphanumeric() || "!#$&'()*+:;@[]_,-./=?~".contains(letter)
}

#[test]
fn a_label_meets_every_requirement_that_is_known_of() {
    let entry = &group(FACTS, "identification_link", 1)[0];
    for requirement in named(entry, "expected", "requirements").as_array().unwrap() {
        meets(requirement.as_str().unwrap());
    }
}

fn meets(requirement: &str) {
    match requirement {
        // Another tag or another utility's host is another link.
        "ILS-1 global uniqueness" => {
            let mut all = links();
            all.extend(TAGS.iter().map(|tag| link("id.cold-ash.example", tag).unwrap()));
            all.sort();
            assert!(all.windows(2).all(|pair| pair[0] != pair[1]), "{all:?}");
        }
        "ILS-2 link to information" => {
            assert!(links().iter().all(|link| link.starts_with(&format!("https://{HOST}/"))));
        }
        // The tag can be read back from it: it is another instrument's only where the tag is.
        "ILS-3 no reuse" => {
            let tags: Vec<String> = links().iter().map(|link| tag_of(link)).collect();
            assert_eq!(tags, TAGS);
        }
        // From memory of the standard: at most 255.
        "ILS-5 string length" => {
            let long = |letters| link(HOST, &"X".repeat(letters));
            let longest = (1..255).filter_map(|letters| long(letters).ok()).map(|link| link.len()).max();
            assert!(longest.is_some_and(|longest| (50..=255).contains(&longest)), "{longest:?}");
            assert_eq!(long(255), Err(DrawError::TooLong));
        }
        "ILS-6 URL syntax" => links().iter().for_each(|link| assert!(is_link(link), "{link}")),
        "ILS-7 allowed characters" => {
            let foreign = |link: &String| link.chars().find(|letter| !listed(*letter));
            let found: Vec<Option<char>> = links().iter().map(foreign).collect();
            assert_eq!(found[..PLAIN], [None; PLAIN]);
            // RFC 3986 asks for the percent sign; the list has it not.
            assert_eq!(found[PLAIN..], [Some('%'); TAGS.len() - PLAIN]);
        }
        // From the same generator: none in scheme and host.
        "ILS-8 upper/lower case" => {
            let whole = link("ID.Marrowby.EXAMPLE", "LT-2041").unwrap();
            assert_eq!(whole, LINK, "scheme and host are small, and the tag is as it is");
        }
        // Which ones is not known here; that `/i/..` is another place is (RFC 3986, 5.2.4).
        "ILS-9 no special character combinations" => {
            assert!(matches!(link(HOST, ".."), Err(DrawError::Dots { .. })));
            assert!(links().iter().all(|link| !link[8..].contains("//") && !link.contains("/.")));
        }
        "ILS-4 no altering" | "2D-2 content is the IL string only" | "2D-3 symbology" => {
            assert_eq!(texts(&seen(&label().picture(), Effort::Frame)), [LINK]);
        }
        // Read off the published table of sizes: at least 0.25 mm.
        "2D-4 module size" => {
            let near = Plate::fit(LINK, "LT-2041", (Mm(15.2), Mm(15.2)), Dpi::of(1200).unwrap(), Mm(1.0));
            assert!(near.unwrap().module() >= Mm(0.25));
        }
        // Four modules (ISO/IEC 18004), the lower right corner left to the mark of the frame.
        "2D-5 quiet zone" => quiet(&label()),
        // From a public description of the standard's forerunner: Q where there is room, and never less than M.
        "2D-6 error correction" => {
            for distance in 1..60 {
                let place = (Mm(99.1), Mm(67.7));
                let fitted =
                    Plate::fit(LINK, "T", place, Dpi::of(600).unwrap(), Mm(f64::from(distance) * 10.0));
                assert!(fitted.is_err() || fitted.is_ok_and(|plate| plate.strength() >= Strength::Medium));
            }
            assert_eq!(label().strength(), Strength::High);
        }
        other => unreachable!("nothing is known of {other}"),
    }
}

/// The last part of a link with its escaped bytes put back.
fn tag_of(link: &str) -> String {
    let mut pieces = link.rsplit('/').next().unwrap().split('%');
    let mut bytes = pieces.next().unwrap().as_bytes().to_vec();
    for piece in pieces {
        bytes.push(u8::from_str_radix(&piece[..2], 16).unwrap());
        bytes.extend(&piece.as_bytes()[2..]);
    }
    String::from_utf8(bytes).unwrap()
}

/// Scheme, host and path of RFC 3986, section 3, with percent signs only before two digits of base 16.
fn is_link(link: &str) -> bool {
    let Some((host, path)) = link.strip_prefix("https://").and_then(|rest| rest.split_once('/')) else {
        return false;
    };
    let unreserved = |letter: char| letter.is_ascii_alphanumeric() || "-._~".contains(letter);
    let mut pieces = path.split('%');
    let plain = |piece: &str| piece.chars().all(|letter| unreserved(letter) || letter == '/');
    host.chars().all(unreserved)
        && pieces.next().is_some_and(plain)
        && pieces.all(|piece| {
            piece.len() >= 2 && piece.is_char_boundary(2) && {
                let (digits, rest) = piece.split_at(2);
                digits.chars().all(|digit| digit.is_ascii_hexdigit()) && plain(rest)
            }
        })
}

/// No line of the frame comes nearer to the code than four modules.
fn quiet(label: &Plate) {
    let dots = |mm: Mm| label.dpi().within(mm);
    let module = dots(label.module());
    let blocks = label.shapes().into_iter().filter_map(|shape| match shape {
        Shape::Block { x, y, width, height } => Some((x, y, x + width, y + height)),
        Shape::Corner { .. } => None,
    });
    let blocks: Vec<_> = blocks.collect();
    // The four lines come first; the code's blocks are within them, the tag's beyond.
    let (left, top) = (blocks[0].0 + module, blocks[0].3);
    let (right, lower) = (blocks[3].0, blocks[1].1);
    let code: Vec<_> = blocks
        .iter()
        .filter(|block| block.0 >= left && block.2 <= right && block.1 >= top && block.3 <= lower)
        .collect();
    let near = [
        code.iter().map(|block| block.0).min().unwrap() - left,
        code.iter().map(|block| block.1).min().unwrap() - top,
        right - code.iter().map(|block| block.2).max().unwrap(),
        lower - code.iter().map(|block| block.3).max().unwrap(),
    ];
    assert_eq!(near, [4 * module; 4]);
}

proptest! {
    /// Whatever a tag is, its link is one, and no other tag has it.
    #[test]
    fn every_tag_has_a_link_of_its_own(one in "\\PC{1,12}", other in "\\PC{1,12}") {
        if let (Ok(first), Ok(second)) = (link(HOST, &one), link(HOST, &other)) {
            prop_assert!(is_link(&first), "{first}");
            prop_assert_eq!(first == second, one.trim() == other.trim());
        }
    }
}
