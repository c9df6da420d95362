//! Who counts as one asker: a single address of version 4, the usual block of 64 bits of version 6.

use std::net::IpAddr;

/// Returns the name of the household that an address belongs to.
pub(crate) fn household(from: Option<IpAddr>) -> String {
    match from.map(|from| from.to_canonical()) {
        None => "unknown".into(),
        Some(IpAddr::V4(from)) => from.to_string(),
        Some(IpAddr::V6(from)) => {
            let [a, b, c, d, ..] = from.segments();
            format!("{a:x}:{b:x}:{c:x}:{d:x}")
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::version_4("192.0.2.7", "192.0.2.7")]
    #[case::version_4_within_6("::ffff:192.0.2.7", "192.0.2.7")]
    #[case::version_6("2001:db8:1:2:3:4:5:6", "2001:db8:1:2")]
    fn an_address_belongs_to_its_household(#[case] address: &str, #[case] name: &str) {
        assert_eq!(household(address.parse().ok()), name);
    }

    #[test]
    fn who_shows_no_address_is_one_household() {
        assert_eq!(household(None), "unknown");
    }
}
