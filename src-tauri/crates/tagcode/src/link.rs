//! The text of our own labels: an identification link on the utility's own host.
//!
//! In the manner of IEC 61406-1, as public descriptions of it go (its contents list names the requirements ILS-1 to ILS-9,
//! a generator of such codes by members of its committee checks most of them; the standard's text was not at hand): an
//! ordinary link (RFC 3986) of at most 255 characters that names one instrument for ever, on a host that its owner keeps,
//! scheme and host in small letters. The phone only compares it; it never opens it.
//!
//! Those descriptions list the characters that may stand in it, and all are there that a link needs for a tag of letters,
//! digits and `-._~`. What a tag has besides, a space or an umlaut, is escaped as RFC 3986 says. The percent sign of that
//! is not in the list: such a link is a good link, and may be no identification link.

use crate::DrawError;

/// The longest link that a label takes: longer ones make modules too small to read at arm's length. An identification
/// link may have 255 characters.
const LONGEST: usize = 100;

/// Returns the link that a tag's label carries, on a host that the utility keeps.
///
/// ```
/// assert_eq!(tagcode::link("id.marrowby.example", "LT-2041")?, "https://id.marrowby.example/i/LT-2041");
/// # Ok::<(), tagcode::DrawError>(())
/// ```
///
/// # Errors
///
/// [`DrawError`] for a host that is none, for a tag that is empty or of dots alone, and for a link too long for a label.
pub fn link(host: &str, tag: &str) -> Result<String, DrawError> {
    let tag = tag.trim();
    if tag.is_empty() {
        return Err(DrawError::Empty);
    }
    if !is_host(host) {
        return Err(DrawError::Host { host: crate::safe_text(host) });
    }
    // What is read takes `/i/..` for another place than it names (RFC 3986, 5.2.4), escaped or not.
    if tag.bytes().all(|byte| byte == b'.') {
        return Err(DrawError::Dots { tag: tag.to_owned() });
    }
    let mut link = format!("https://{}/i/", host.to_ascii_lowercase());
    tag.bytes().for_each(|byte| push_escaped(&mut link, byte));
    if link.len() > LONGEST { Err(DrawError::TooLong) } else { Ok(link) }
}

/// Names of letters, digits and hyphens with dots between them (RFC 1123, section 2.1).
fn is_host(host: &str) -> bool {
    let is_label = |label: &str| {
        (1..=63).contains(&label.len())
            && !label.starts_with('-')
            && !label.ends_with('-')
            && label.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
    };
    host.len() <= 253 && host.contains('.') && host.split('.').all(is_label)
}

/// What RFC 3986 calls unreserved stands for itself; every other byte is escaped.
fn push_escaped(link: &mut String, byte: u8) {
    if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~') {
        link.push(char::from(byte));
    } else {
        link.push_str(&format!("%{byte:02X}"));
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::link;
    use crate::DrawError;

    #[rstest]
    #[case::plain("LT-2041", "https://id.marrowby.example/i/LT-2041")]
    #[case::space("TL WASH 4012", "https://id.marrowby.example/i/TL%20WASH%204012")]
    #[case::slash("LT-1/2", "https://id.marrowby.example/i/LT-1%2F2")]
    #[case::letters("FÜ-1", "https://id.marrowby.example/i/F%C3%9C-1")]
    fn a_tag_becomes_a_link(#[case] tag: &str, #[case] expected: &str) {
        assert_eq!(link("id.marrowby.example", tag).unwrap(), expected);
    }

    #[test]
    fn a_host_stands_in_small_letters_and_a_tag_as_it_is() {
        assert_eq!(link("ID.Marrowby.Example", "Lt-2041").unwrap(), "https://id.marrowby.example/i/Lt-2041");
    }

    #[rstest]
    #[case::this_place(".")]
    #[case::the_place_above("..")]
    #[case::more("...")]
    fn a_tag_that_would_lead_elsewhere_is_refused(#[case] tag: &str) {
        assert_eq!(link("id.example", tag), Err(DrawError::Dots { tag: tag.to_owned() }));
    }

    #[rstest]
    #[case::with_a_path("id.example/x")]
    #[case::with_a_scheme("https://id.example")]
    #[case::with_a_user("me@id.example")]
    #[case::with_a_port("id.example:80")]
    #[case::one_name("localhost")]
    #[case::empty("")]
    #[case::hyphen_first("-id.example")]
    fn what_is_no_host_is_refused(#[case] host: &str) {
        assert!(matches!(link(host, "LT-1"), Err(DrawError::Host { .. })));
    }

    #[test]
    fn an_empty_tag_and_a_long_one_are_refused() {
        assert_eq!(link("id.example", " "), Err(DrawError::Empty));
        assert_eq!(link("id.example", &"X".repeat(90)), Err(DrawError::TooLong));
    }
}
